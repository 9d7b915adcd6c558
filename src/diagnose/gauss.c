/*
 * Cholesky, forward substitution, Student's t.  Sizes are small and fixed.
 */
#include "diagnose/gauss.h"

#include <math.h>

bool gauss_split(int n, double matrix[GAUSS_SIZE][GAUSS_SIZE])
{
	for (int j = 0; j < n; j++) {
		double pivot = matrix[j][j];
		for (int k = 0; k < j; k++)
			pivot -= matrix[j][k] * matrix[j][k];
		if (!(pivot > 0))
			return false;
		pivot = sqrt(pivot);
		matrix[j][j] = pivot;
		for (int i = j + 1; i < n; i++) {
			double sum = matrix[i][j];
			for (int k = 0; k < j; k++)
				sum -= matrix[i][k] * matrix[j][k];
			matrix[i][j] = sum / pivot;
		}
	}
	return true;
}

void gauss_solve(int n, double lower[GAUSS_SIZE][GAUSS_SIZE], double *b)
{
	for (int i = 0; i < n; i++) {
		for (int k = 0; k < i; k++)
			b[i] -= lower[i][k] * b[k];
		b[i] /= lower[i][i];
	}
}

double gauss_log_density(int n, double lower[GAUSS_SIZE][GAUSS_SIZE], const double *z,
                         double freedom)
{
	double square = 0, determinant = 1;

	for (int i = 0; i < n; i++) {
		square += z[i] * z[i];
		determinant *= lower[i][i];
	}
	return -log(determinant) - 0.5 * (freedom + n) * log1p(square / freedom);
}

double gauss_t_constant(int n, double freedom)
{
	const double pi = 3.14159265358979323846;

	return lgamma(0.5 * (freedom + n)) - lgamma(0.5 * freedom) - 0.5 * n * log(freedom * pi);
}
