#ifndef PADSIDE_UNCERTAINTY_H
#define PADSIDE_UNCERTAINTY_H

#include <stddef.h>

#include <padside/base/status.h>

/*
 * How far a figure may be off because the instruments are.
 */

/* The figure: `inputs` in, one number out; as every calculation, a status and NAN on failure. */
typedef enum status (*uncertainty_function)(const double *inputs, void *context, double *out);

enum { UNCERTAINTY_INPUTS = 16 };

/*
 * Works out the figure and its plus/minus.  Each input in turn is moved by its
 * accuracy, both ways; the two answers' distances from the value are combined
 * by their root mean square, which is the usual central difference where the
 * figure is straight and stays honest where it has a kink (unbalance of equal
 * voltages).  Where one way fails (a wet bulb at the dry bulb) the other
 * counts, and where both do, smaller moves scaled up.  The inputs together by
 * root sum of squares: independent errors.  Source: JCGM 100:2008 (GUM), 5.1.2.
 *
 *   inputs, accuracies  `count` of each, at most UNCERTAINTY_INPUTS (asserted);
 *                       an accuracy of 0 is an exact input, and must not be negative
 *
 * Failures: that of the figure itself; NOT_A_NUMBER or NEGATIVE for an
 * accuracy; NO_CONVERGENCE when an input allows no move at all.  With a
 * failing plus/minus the value is still given, else both are NAN.
 */
enum status uncertainty_propagate(uncertainty_function function, void *context,
                                  const double *inputs, const double *accuracies, size_t count,
                                  double *value, double *plus_minus);

#endif
