#ifndef DIAGNOSE_DENSITY_H
#define DIAGNOSE_DENSITY_H

/*
 * How likely a value is: a few densities.  `sd` is a standard deviation and
 * must be above zero.
 */

/* Normal density. */
double density_normal(double x, double mean, double sd);

/* Share of the normal distribution below x. */
double density_below(double x, double mean, double sd);

/* Evenly between low and high, read with an instrument whose error is `sd`. */
double density_even(double x, double low, double high, double sd);

/* Student's t with 5 degrees of freedom: a normal with heavier tails. */
double density_tailed(double x, double mean, double sd);

/* The one standard deviation of a 95 % plus/minus. */
double density_sd(double plus_minus);

#endif
