/*
 * Propagation against the closed forms of the GUM (JCGM 100:2008, 5.1.2), and
 * where figures have kinks and edges.
 */
#include <check.h>
#include <math.h>

#include <padside/calc/electrical.h>
#include <padside/calc/moist_air.h>
#include <padside/calc/uncertainty.h>

Suite *uncertainty_suite(void);

/* Inputs of which each has a meter of its own. */
static enum status propagate(uncertainty_function function, void *context, const double *numbers,
                             const double *accuracies, size_t count, double *value,
                             double *plus_minus)
{
	struct uncertain_input inputs[UNCERTAINTY_INPUTS];

	for (size_t i = 0; i < count; i++)
		inputs[i] = (struct uncertain_input){ .value = numbers[i], .own = accuracies[i] };
	return uncertainty_propagate(function, context, inputs, count, value, plus_minus);
}

static enum status difference(const double *inputs, void *context, double *out)
{
	(void)context;
	*out = inputs[0] - inputs[1];
	return STATUS_OK;
}

/* For a difference the parts add as squares: ±0.9 and ±1.2 make ±1.5. */
START_TEST(independent_errors_add_as_squares)
{
	const double inputs[] = { 52, 40 }, accuracies[] = { 0.9, 1.2 };
	double value, plus_minus;

	ck_assert_int_eq(propagate(difference, NULL, inputs, accuracies, 2, &value,
	                 &plus_minus), STATUS_OK);
	ck_assert_double_eq_tol(value, 12, 1e-12);
	ck_assert_double_eq_tol(plus_minus, 1.5, 1e-12);
}
END_TEST

static enum status under_load(const double *inputs, void *context, double *out)
{
	return electrical_capacitance_under_load(inputs[0], inputs[1], *(double *)context, out);
}

/* For a quotient relative errors add as squares: 3 % and 4 % make 5 %. */
START_TEST(relative_errors_of_a_quotient_add_as_squares)
{
	const double inputs[] = { 4.3, 330 }, accuracies[] = { 0.03 * 4.3, 0.04 * 330 };
	double hertz = 60, value, plus_minus;

	ck_assert_int_eq(propagate(under_load, &hertz, inputs, accuracies, 2, &value,
	                 &plus_minus), STATUS_OK);
	ck_assert_double_eq_tol(plus_minus / value, 0.05, 0.0002);
}
END_TEST

static enum status unbalance(const double *inputs, void *context, double *out)
{
	(void)context;
	return electrical_unbalance(inputs[0], inputs[1], inputs[2], out);
}

/* Equal voltages stand at the bottom of a kink: a central difference alone would claim ±0. */
START_TEST(a_kink_does_not_hide_the_uncertainty)
{
	const double inputs[] = { 460, 460, 460 }, accuracies[] = { 4.6, 4.6, 4.6 };
	double value, plus_minus;

	ck_assert_int_eq(propagate(unbalance, NULL, inputs, accuracies, 3, &value,
	                 &plus_minus), STATUS_OK);
	ck_assert_double_eq_tol(value, 0, 1e-12);
	ck_assert(plus_minus > 0.8 && plus_minus < 1.6);
}
END_TEST

/*
 * Three voltages of one meter share its gain: 1 % on all of them leaves the
 * unbalance as it is; what differs is only each reading's own digits.
 */
START_TEST(one_meter_lies_the_same_way_three_times)
{
	struct uncertain_input inputs[] = {
		{ .value = 230, .own = 0.5, .shared = 2.30, .meter = 1 },
		{ .value = 220, .own = 0.5, .shared = 2.20, .meter = 1 },
		{ .value = 225, .own = 0.5, .shared = 2.25, .meter = 1 },
	};
	double value, with_one, with_three;

	ck_assert_int_eq(uncertainty_propagate(unbalance, NULL, inputs, 3, &value, &with_one), STATUS_OK);
	ck_assert_double_eq_tol(value, 2.222, 0.001);
	/* By hand: of 225 V mean, 0.5 V in one phase and in the mean make 0.15, 0.07 and 0.07 %. */
	ck_assert(with_one > 0.1 && with_one < 0.35);
	/* Behind a reading of another meter it is still one meter, not one for each reading. */
	const struct uncertain_input behind[] = {
		{ .value = 230, .own = 0.5, .meter = 2 },
		{ .value = 220, .own = 0.5, .shared = 2.20, .meter = 1 },
		{ .value = 220, .own = 0.5, .shared = 2.20, .meter = 1 },
	};
	const struct uncertain_input before[] = { behind[1], behind[2], behind[0] };
	double first, last;
	ck_assert_int_eq(uncertainty_propagate(unbalance, NULL, behind, 3, &value, &last), STATUS_OK);
	ck_assert_int_eq(uncertainty_propagate(unbalance, NULL, before, 3, &value, &first), STATUS_OK);
	ck_assert_double_eq_tol(first, last, 1e-9);
	for (int i = 0; i < 3; i++)
		inputs[i].meter = 0;
	ck_assert_int_eq(uncertainty_propagate(unbalance, NULL, inputs, 3, &value, &with_three), STATUS_OK);
	ck_assert(with_three > 4 * with_one);
}
END_TEST

/* One reading of one meter: percent and digits add, as its maker adds them. */
START_TEST(percent_and_digits_of_one_reading_add)
{
	const struct uncertain_input input = { .value = 238, .own = 0.5, .shared = 2.38, .meter = 1 };
	double zero = 0, value, plus_minus;

	const struct uncertain_input both[] = { input, { .value = zero } };
	ck_assert_int_eq(uncertainty_propagate(difference, NULL, both, 2, &value, &plus_minus), STATUS_OK);
	ck_assert_double_eq_tol(plus_minus, 2.88, 1e-9);
}
END_TEST

static enum status humidity(const double *inputs, void *context, double *out)
{
	struct moist_air air;
	enum status status = moist_air_from_wet_bulb(inputs[0], inputs[1], 14.696, &air);

	(void)context;
	*out = air.relative_humidity;
	return status;
}

/* In saturated air the wet bulb may only fall and the dry bulb only rise. */
START_TEST(an_edge_leaves_one_way)
{
	const double inputs[] = { 60, 60 }, accuracies[] = { 1, 1 };
	double value, plus_minus;

	ck_assert_int_eq(propagate(humidity, NULL, inputs, accuracies, 2, &value,
	                 &plus_minus), STATUS_OK);
	ck_assert_double_eq_tol(value, 100, 1e-6);
	/* One degree of depression at 60 °F is about 5.5 % RH (handbook chart). */
	ck_assert_double_eq_tol(plus_minus, hypot(5.5, 5.5), 1);
}
END_TEST

/* Answers only within half a unit of 10. */
static enum status narrow(const double *inputs, void *context, double *out)
{
	(void)context;
	*out = 3 * inputs[0];
	return fabs(inputs[0] - 10) <= 0.5 ? STATUS_OK : STATUS_OUT_OF_RANGE;
}

START_TEST(a_narrow_range_is_felt_by_smaller_moves)
{
	const double inputs[] = { 10 };
	double accuracy = 2, value, plus_minus;

	ck_assert_int_eq(propagate(narrow, NULL, inputs, &accuracy, 1, &value,
	                 &plus_minus), STATUS_OK);
	ck_assert_double_eq_tol(plus_minus, 6, 1e-9);
	accuracy = 1e6;
	ck_assert_int_eq(propagate(narrow, NULL, inputs, &accuracy, 1, &value,
	                 &plus_minus), STATUS_NO_CONVERGENCE);
	ck_assert_double_eq_tol(value, 30, 1e-9);
	ck_assert(isnan(plus_minus));
}
END_TEST

START_TEST(what_fails_says_so)
{
	const double inputs[] = { 20, 5 }, accuracies[] = { 1, -1 };
	double value, plus_minus;

	ck_assert_int_eq(propagate(narrow, NULL, inputs, accuracies, 1, &value,
	                 &plus_minus), STATUS_OUT_OF_RANGE);
	ck_assert(isnan(value) && isnan(plus_minus));
	ck_assert_int_eq(propagate(difference, NULL, inputs, accuracies, 2, &value,
	                 &plus_minus), STATUS_NEGATIVE);
	ck_assert(isnan(plus_minus));
}
END_TEST

/* An accuracy that is no number, or below 0, is refused wherever it stands. */
START_TEST(an_accuracy_that_is_none_is_refused)
{
	static const struct {
		double own, shared;
		enum status status;
	} rows[] = {
		{ NAN, 0.1, STATUS_NOT_A_NUMBER }, { 0.1, NAN, STATUS_NOT_A_NUMBER },
		{ INFINITY, 0, STATUS_NOT_A_NUMBER }, { -0.1, 0.1, STATUS_NEGATIVE },
		{ 0.1, -0.1, STATUS_NEGATIVE }, { 0, 0, STATUS_OK },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (size_t at = 0; at < 2; at++) {
			struct uncertain_input inputs[] = { { .value = 52, .own = 0.9 }, { .value = 40, .own = 1.2 } };
			double value, plus_minus;
			inputs[at].own = rows[i].own;
			inputs[at].shared = rows[i].shared;
			ck_assert_int_eq(uncertainty_propagate(difference, NULL, inputs, 2, &value, &plus_minus),
			                 rows[i].status);
		}
}
END_TEST

/* What stands behind the inputs is none of them. */
START_TEST(only_as_many_inputs_as_are_told_of_count)
{
	const struct uncertain_input inputs[] = {
		{ .value = 52, .own = 0.9 }, { .value = 40, .own = 1.2 }, { .value = NAN, .own = NAN },
		{ .value = 3, .own = -1 },
	};
	double value, plus_minus;

	ck_assert_int_eq(uncertainty_propagate(difference, NULL, inputs, 2, &value, &plus_minus),
	                 STATUS_OK);
	ck_assert_double_eq_tol(plus_minus, 1.5, 1e-12);
	ck_assert_int_eq(uncertainty_propagate(difference, NULL, inputs, 3, &value, &plus_minus),
	                 STATUS_NOT_A_NUMBER);
}
END_TEST

START_TEST(exact_inputs_give_no_uncertainty)
{
	const double inputs[] = { 20, 5 }, accuracies[] = { 0, 0 };
	double value, plus_minus;

	ck_assert_int_eq(propagate(difference, NULL, inputs, accuracies, 2, &value,
	                 &plus_minus), STATUS_OK);
	ck_assert_double_eq(plus_minus, 0);
}
END_TEST

Suite *uncertainty_suite(void)
{
	Suite *suite = suite_create("uncertainty");
	TCase *tests = tcase_create("uncertainty");

	tcase_add_test(tests, independent_errors_add_as_squares);
	tcase_add_test(tests, relative_errors_of_a_quotient_add_as_squares);
	tcase_add_test(tests, a_kink_does_not_hide_the_uncertainty);
	tcase_add_test(tests, one_meter_lies_the_same_way_three_times);
	tcase_add_test(tests, percent_and_digits_of_one_reading_add);
	tcase_add_test(tests, an_edge_leaves_one_way);
	tcase_add_test(tests, a_narrow_range_is_felt_by_smaller_moves);
	tcase_add_test(tests, what_fails_says_so);
	tcase_add_test(tests, an_accuracy_that_is_none_is_refused);
	tcase_add_test(tests, only_as_many_inputs_as_are_told_of_count);
	tcase_add_test(tests, exact_inputs_give_no_uncertainty);
	suite_add_tcase(suite, tests);
	return suite;
}
