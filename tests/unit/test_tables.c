/* The tables of figures and faults, and what is expected of a sound machine. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/catalog/faults.h>
#include <padside/model/figures.h>
#include <padside/base/text.h>

START_TEST(the_evaporator_is_expected_colder_with_less_air)
{
	struct visit visit;
	struct figure_set set = { 0 };
	struct value value;
	struct error error;

	visit_init(&visit);
	ck_assert(reading_parse(READING_NOMINAL_CAPACITY, "3", UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&visit, STAGE_AS_FOUND, READING_NOMINAL_CAPACITY, &value);
	set.values[FIGURE_AIRFLOW_ESTIMATE].status = STATUS_MISSING;
	struct expectation wanted = figure_expect(&visit, STAGE_AS_FOUND, &set,
	                                          FIGURE_EVAPORATOR_UNDER_RETURN);
	/* Common practice: 35 ±5 °F at 400 cfm a ton, 40 ±5 at 350. */
	ck_assert(wanted.low == 30 && wanted.high == 40);
	set.values[FIGURE_AIRFLOW_ESTIMATE] = (struct figure_value){ .status = STATUS_OK, .value = 1050 };
	wanted = figure_expect(&visit, STAGE_AS_FOUND, &set, FIGURE_EVAPORATOR_UNDER_RETURN);
	ck_assert_double_eq_tol(wanted.low, 35, 1e-9);
	ck_assert_double_eq_tol(wanted.high, 45, 1e-9);
}
END_TEST

Suite *tables_suite(void);

START_TEST(every_figure_row_is_whole)
{
	const struct figure_info *info = figure_info((enum figure)_i);

	ck_assert_int_eq(figure_from_key(info->key), _i);
	ck_assert_int_le(text_columns(info->label), 26);
	ck_assert(info->needs[0][0] != READING_NONE);
	ck_assert(info->formula && *info->formula && info->source && *info->source);
}
END_TEST

START_TEST(every_fault_row_is_whole)
{
	const struct fault_info *info = fault_info((enum fault)_i);

	ck_assert_int_eq(fault_from_key(info->key), _i);
	ck_assert_int_le(text_columns(info->label), 36);
	ck_assert(info->prior > 0 && info->prior < 0.5);
	ck_assert(info->advice[strlen(info->advice) - 1] == '.');
	ck_assert(info->meaning[strlen(info->meaning) - 1] == '.');
	ck_assert_ptr_nonnull(info->caution);
}
END_TEST

START_TEST(causes_of_a_fault_are_other_faults)
{
	const struct fault_info *info = fault_info((enum fault)_i);

	for (int i = 0; i < FAULT_MOST_CAUSES && info->causes[i] != FAULT_NONE; i++) {
		ck_assert_int_ne(info->causes[i], _i);
		/* Nothing is brought about by what it brings about. */
		const enum fault *back = fault_info(info->causes[i])->causes;
		for (int k = 0; k < FAULT_MOST_CAUSES; k++)
			ck_assert_int_ne(back[k], _i);
	}
}
END_TEST

/* Common practice: a switch that opened is reset by waiting; bridging it removes the protection. */
START_TEST(safety_switches_are_never_bridged)
{
	static const enum fault opened[] = {
		FAULT_FLOAT_SWITCH_OPEN, FAULT_HIGH_PRESSURE_SWITCH_OPEN, FAULT_LOW_PRESSURE_SWITCH_OPEN,
		FAULT_OVERLOAD_OPEN,
	};
	const struct fault_info *info = fault_info(opened[_i]);

	ck_assert_ptr_nonnull(strstr(info->caution, "Never bridge"));
	if (opened[_i] != FAULT_OVERLOAD_OPEN)
		ck_assert_int_ne(info->causes[0], FAULT_NONE);
}
END_TEST

START_TEST(grades_are_words)
{
	char out[32];

	ck_assert_str_eq(figure_word(FIGURE_INSULATION_GRADE, 0), "grounded");
	ck_assert_ptr_null(figure_word(FIGURE_SUPERHEAT, 3));
	figure_format(FIGURE_SUPERHEAT, 21, UNITS_US, VALUE_FORM_WITH_UNIT, out, sizeof out);
	ck_assert_str_eq(out, "21.0 °F");
	figure_format(FIGURE_SUPERHEAT, 18, UNITS_SI, VALUE_FORM_WITH_UNIT, out, sizeof out);
	ck_assert_str_eq(out, "10.0 K");
}
END_TEST

START_TEST(a_verdict_never_claims_more_than_the_meter)
{
	struct expectation wanted = { .known = true, .low = 3, .high = 13, .source = "" };

	ck_assert_int_eq(expectation_judge(&wanted, 8, 1.4), VERDICT_GOOD);
	ck_assert_int_eq(expectation_judge(&wanted, 14, 1.4), VERDICT_PERHAPS_HIGH);
	ck_assert_int_eq(expectation_judge(&wanted, 21, 1.4), VERDICT_HIGH);
	ck_assert_int_eq(expectation_judge(&wanted, 2, 1.4), VERDICT_PERHAPS_LOW);
	ck_assert_int_eq(expectation_judge(&wanted, NAN, 1.4), VERDICT_NONE);
}
END_TEST

START_TEST(a_capacitor_is_held_to_the_tolerance_on_its_can)
{
	struct visit visit;
	struct figure_set set = { 0 };
	struct value value;
	struct error error;

	visit_init(&visit);
	struct expectation wanted = figure_expect(&visit, STAGE_AS_FOUND, &set,
	                                          FIGURE_COMPRESSOR_CAPACITOR_DEVIATION);
	/* 6 % when the can does not say: common practice. */
	ck_assert(wanted.known && wanted.low == -6 && wanted.high == 6);
	ck_assert(reading_parse(READING_CAPACITOR_TOLERANCE, "5", UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&visit, STAGE_AS_FOUND, READING_CAPACITOR_TOLERANCE, &value);
	wanted = figure_expect(&visit, STAGE_AS_FOUND, &set, FIGURE_COMPRESSOR_CAPACITOR_DEVIATION);
	ck_assert(wanted.low == -5);
}
END_TEST

Suite *tables_suite(void)
{
	Suite *suite = suite_create("tables");
	TCase *tests = tcase_create("tables");

	tcase_add_loop_test(tests, every_figure_row_is_whole, 1, FIGURE_COUNT);
	tcase_add_loop_test(tests, every_fault_row_is_whole, 1, FAULT_COUNT);
	tcase_add_loop_test(tests, causes_of_a_fault_are_other_faults, 1, FAULT_COUNT);
	tcase_add_loop_test(tests, safety_switches_are_never_bridged, 0, 4);
	tcase_add_test(tests, grades_are_words);
	tcase_add_test(tests, a_verdict_never_claims_more_than_the_meter);
	tcase_add_test(tests, the_evaporator_is_expected_colder_with_less_air);
	tcase_add_test(tests, a_capacitor_is_held_to_the_tolerance_on_its_can);
	suite_add_tcase(suite, tests);
	return suite;
}
