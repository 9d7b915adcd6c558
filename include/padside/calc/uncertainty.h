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

/* One reading that goes into a figure. */
struct uncertain_input {
	double value;  /* as read */
	double own;    /* ± of this reading alone: digits, contacts, where the probe sat; 95 % */
	double shared; /* ± of its meter, which lies the same way in all readings of one meter; 95 % */
	int meter;     /* readings with the same number were taken with one meter; 0: its own */
};

/*
 * Works out the figure and its plus/minus, 95 %.  Each input in turn is moved
 * by its own ±, both ways; the two answers' distances from the value are
 * combined by their root mean square, which is the usual central difference
 * where the figure is straight and stays large enough where it has a kink (unbalance
 * of equal voltages).  Where one way fails (a wet bulb at the dry bulb) the
 * other counts, and where both do, smaller moves scaled up.  What a meter
 * shares moves all its readings together: three voltages that are all 1 % high
 * have the unbalance they had.  Of one meter the two parts are added, as its
 * maker's ±(percent + digits) adds them; different meters by root sum of
 * squares: independent errors.  Source: JCGM 100:2008 (GUM), 5.1.2 and 5.2.2.
 *
 *   inputs  `count` of them, at most UNCERTAINTY_INPUTS (asserted); ± of 0 is
 *           exact, and must not be negative
 *
 * Failures: that of the figure itself; NOT_A_NUMBER or NEGATIVE for a ±;
 * NO_CONVERGENCE when an input allows no move at all.  With a failing
 * plus/minus the value is still given, else both are NAN.
 */
enum status uncertainty_propagate(uncertainty_function function, void *context,
                                  const struct uncertain_input *inputs, size_t count,
                                  double *value, double *plus_minus);

#endif
