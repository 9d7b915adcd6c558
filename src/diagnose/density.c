/*
 * A few densities; see the header.
 */
#include "diagnose/density.h"

#include <math.h>

double density_normal(double x, double mean, double sd)
{
	const double root_two_pi = 2.5066282746310002;
	double z = (x - mean) / sd;

	return exp(-0.5 * z * z) / (sd * root_two_pi);
}

double density_below(double x, double mean, double sd)
{
	const double root_two = 1.4142135623730951;

	return 0.5 * erfc(-(x - mean) / (sd * root_two));
}

double density_even(double x, double low, double high, double sd)
{
	return (density_below(x, low, sd) - density_below(x, high, sd)) / (high - low);
}

double density_tailed(double x, double mean, double sd)
{
	/* Gamma(3) / (sqrt(5 pi) Gamma(5/2)) */
	const double scale = 0.3796066898224944;
	double z = (x - mean) / sd;
	double base = 1 + z * z / 5;

	return scale / (sd * base * base * base);
}

double density_sd(double plus_minus)
{
	return plus_minus / 1.96;
}
