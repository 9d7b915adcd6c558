#ifndef DIAGNOSE_GAUSS_H
#define DIAGNOSE_GAUSS_H

#include <stdbool.h>

/* The few pieces of linear algebra that a joint normal distribution takes. */

enum { GAUSS_SIZE = 18 };

/*
 * Splits the leading n × n block of a symmetric positive matrix into its lower
 * Cholesky factor, in place (the upper part is left alone).  False when the
 * matrix is not positive.
 */
bool gauss_split(int n, double matrix[GAUSS_SIZE][GAUSS_SIZE]);

/* Solves lower · x = b for the leading n rows, in place. */
void gauss_solve(int n, double lower[GAUSS_SIZE][GAUSS_SIZE], double *b);

/*
 * Log density of Student's t with `freedom` degrees of freedom over n values,
 * without gauss_t_constant(): `z` = lower⁻¹ (value - mean).
 */
double gauss_log_density(int n, double lower[GAUSS_SIZE][GAUSS_SIZE], const double *z,
                         double freedom);

/* The constant of that density: densities of different n can be added with it. */
double gauss_t_constant(int n, double freedom);

#endif
