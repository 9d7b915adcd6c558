/*
 * The densities and the linear algebra under the diagnosis, against the tables of the
 * normal distribution and of Student's t (Abramowitz and Stegun, Handbook of
 * Mathematical Functions, tables 26.1 and 26.10; digits by their closed forms) and
 * against matrices worked by hand.
 */
#include <check.h>
#include <math.h>

#include "diagnose/density.h"
#include "diagnose/gauss.h"

Suite *chances_suite(void);

#define PI 3.14159265358979323846

static const struct {
	double x, density, below;
} normal[] = {
	{ 0, 0.39894228040143, 0.5 }, { 1, 0.24197072451914, 0.84134474606854 },
	{ -1, 0.24197072451914, 0.15865525393146 }, { 2, 0.05399096651319, 0.97724986805182 },
	{ -2, 0.05399096651319, 0.02275013194818 }, { 3, 0.00443184841194, 0.99865010196837 },
};

START_TEST(the_normal_distribution_is_that_of_the_tables)
{
	double x = normal[_i].x;

	ck_assert_double_eq_tol(density_normal(x, 0, 1), normal[_i].density, 1e-12);
	ck_assert_double_eq_tol(density_below(x, 0, 1), normal[_i].below, 1e-12);
	/* Moved by its mean, and as wide as its deviation. */
	ck_assert_double_eq_tol(density_normal(40 + 2.5 * x, 40, 2.5), normal[_i].density / 2.5, 1e-12);
	ck_assert_double_eq_tol(density_below(40 + 2.5 * x, 40, 2.5), normal[_i].below, 1e-12);
}
END_TEST

/* Read with an error, the ends of an even stretch are blurred; all of it stays 1. */
START_TEST(an_even_stretch_is_blurred_by_the_instrument)
{
	double sum = 0;

	ck_assert_double_eq_tol(density_even(15, 10, 20, 0.1), 0.1, 1e-9);
	ck_assert_double_eq_tol(density_even(10, 10, 20, 0.1), 0.05, 1e-9);
	ck_assert_double_eq_tol(density_even(20, 10, 20, 0.1), 0.05, 1e-9);
	ck_assert_double_eq_tol(density_even(9.9, 10, 20, 0.1), 0.1 * 0.15865525393146, 1e-9);
	ck_assert_double_eq_tol(density_even(20.1, 10, 20, 0.1), 0.1 * 0.15865525393146, 1e-9);
	for (int i = 0; i < 4000; i++)
		sum += density_even(-5 + 0.01 * i, 10, 20, 2) * 0.01;
	ck_assert_double_eq_tol(sum, 1, 1e-6);
}
END_TEST

/* Student's t of 5: 8 / (3 π √5) (1 + t²/5)⁻³; 95 % lie within 2.571 (table 26.10). */
START_TEST(the_heavy_tails_are_those_of_students_t)
{
	double within = 0;

	for (int t = -3; t <= 3; t++)
		ck_assert_double_eq_tol(density_tailed(70 + 4.0 * t, 70, 4),
		                        8 / (3 * PI * sqrt(5)) / pow(1 + t * t / 5.0, 3) / 4, 1e-12);
	for (int i = 0; i < 51420; i++)
		within += density_tailed(-2.571 + 0.0001 * (i + 0.5), 0, 1) * 0.0001;
	ck_assert_double_eq_tol(within, 0.95, 1e-4);
	/* 95 % of a normal lie within 1.96 deviations. */
	ck_assert_double_eq_tol(density_sd(1.96), 1, 1e-12);
	ck_assert_double_eq_tol(2 * density_below(3, 0, density_sd(3)) - 1, 0.95, 1e-4);
}
END_TEST

/* A lower factor of whole numbers, times itself turned over. */
static const double factor[4][4] = {
	{ 2, 0, 0, 0 }, { 6, 1, 0, 0 }, { -8, 5, 3, 0 }, { 1, -2, 4, 7 },
};

static void multiply(double matrix[GAUSS_SIZE][GAUSS_SIZE])
{
	for (int i = 0; i < 4; i++)
		for (int j = 0; j < 4; j++) {
			matrix[i][j] = 0;
			for (int k = 0; k < 4; k++)
				matrix[i][j] += factor[i][k] * factor[j][k];
		}
}

START_TEST(a_positive_matrix_is_split_and_solved)
{
	double matrix[GAUSS_SIZE][GAUSS_SIZE], b[GAUSS_SIZE] = { 4, 13, -3, 19, 99 };
	static const double solved[] = { 2, 1, 8.0 / 3 };

	multiply(matrix);
	ck_assert(gauss_split(4, matrix));
	for (int i = 0; i < 4; i++)
		for (int j = 0; j <= i; j++)
			ck_assert_double_eq_tol(matrix[i][j], factor[i][j], 1e-12);
	gauss_solve(4, matrix, b);
	for (int i = 0; i < 3; i++)
		ck_assert_double_eq_tol(b[i], solved[i], 1e-12);
	ck_assert_double_eq_tol(b[3], (19 - 2 + 2 - 4 * solved[2]) / 7, 1e-12);
	/* What lies behind the leading rows is left alone. */
	ck_assert_double_eq(b[4], 99);
}
END_TEST

START_TEST(what_is_not_positive_is_refused)
{
	double twice[GAUSS_SIZE][GAUSS_SIZE] = { { 1, 1 }, { 1, 1 } };
	double below[GAUSS_SIZE][GAUSS_SIZE] = { { 1, 2 }, { 2, 3 } };
	double nothing[GAUSS_SIZE][GAUSS_SIZE] = { { NAN } };

	ck_assert(!gauss_split(2, twice));
	ck_assert(!gauss_split(2, below));
	ck_assert(!gauss_split(1, nothing));
	ck_assert(gauss_split(1, below));
}
END_TEST

/* In one dimension it is Student's t; in two with no lean, (1 + r²/ν)^-(ν+2)/2 / 2π. */
START_TEST(the_joint_density_is_students_t)
{
	double lower[GAUSS_SIZE][GAUSS_SIZE] = { { 4 }, { 0, 0.5 } };

	for (int t = -3; t <= 3; t++) {
		double z[] = { t, 0.7 };
		ck_assert_double_eq_tol(exp(gauss_log_density(1, lower, z, 5) + gauss_t_constant(1, 5)),
		                        density_tailed(4.0 * t, 0, 4), 1e-12);
		ck_assert_double_eq_tol(exp(gauss_log_density(2, lower, z, 3) + gauss_t_constant(2, 3)),
		                        pow(1 + (t * t + 0.49) / 3, -2.5) / (2 * PI) / (4 * 0.5), 1e-12);
	}
}
END_TEST

Suite *chances_suite(void)
{
	Suite *suite = suite_create("chances");
	TCase *tests = tcase_create("chances");

	tcase_add_loop_test(tests, the_normal_distribution_is_that_of_the_tables, 0,
	                    (int)(sizeof normal / sizeof *normal));
	tcase_add_test(tests, an_even_stretch_is_blurred_by_the_instrument);
	tcase_add_test(tests, the_heavy_tails_are_those_of_students_t);
	tcase_add_test(tests, a_positive_matrix_is_split_and_solved);
	tcase_add_test(tests, what_is_not_positive_is_refused);
	tcase_add_test(tests, the_joint_density_is_students_t);
	suite_add_tcase(suite, tests);
	return suite;
}
