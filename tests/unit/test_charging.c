/* The charge log of a call bound to the charge calculations. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/model/charging.h>

Suite *charging_suite(void);

static struct call call;
static wall_time start;

static void put_value(struct value *value, enum reading reading, const char *typed, wall_time at)
{
	struct error error;

	ck_assert_msg(reading_parse(reading, typed, UNITS_US, value, &error) == STATUS_OK, "%s", error.text);
	value->taken_at = at;
}

static void put(enum reading reading, const char *typed)
{
	struct value value;

	put_value(&value, reading, typed, start);
	visit_set(&call.visit, STAGE_AS_FOUND, reading, &value);
}

/* A 3-ton R-410A orifice machine, 94 oz, at 88 °F and 63 °F wet bulb: target near 8 °F. */
static void setup(void)
{
	ck_assert(clock_parse("2026-07-14T09:40", &start));
	call_init(&call);
	put(READING_REFRIGERANT, "R-410A");
	put(READING_METERING, "fixed");
	put(READING_NOMINAL_CAPACITY, "3");
	put(READING_FACTORY_CHARGE, "94");
	put(READING_OUTDOOR_DB, "88");
	put(READING_RETURN_DB, "77");
	put(READING_RETURN_WB, "63");
	put(READING_SUCTION_PRESSURE, "108.5");
	put(READING_SUCTION_LINE_TEMP, "56.5");
}

static void teardown(void)
{
	call_done(&call);
}

START_TEST(a_single_reading_has_not_settled)
{
	struct charging charging;

	charging_work_out(&call, STAGE_AS_FOUND, &charging);
	ck_assert(charging.possible);
	ck_assert_int_eq(charging.advice.verdict, CHARGE_WAIT);
}
END_TEST

/* RA3.2: readings count after 15 minutes of steady running. */
START_TEST(fifteen_steady_minutes_settle_it)
{
	struct charging charging;

	put(READING_RUNNING_MINUTES, "20");
	charging_work_out(&call, STAGE_AS_FOUND, &charging);
	ck_assert_int_eq(charging.advice.verdict, CHARGE_ADD);
	ck_assert_double_eq_tol(charging.now_f, 21.1, 0.2);
	ck_assert_double_eq_tol(charging.target_f, 8, 0.5);
	/* Small steps: at most 8 % of the charge at once. */
	ck_assert(charging.advice.move_oz > 0 && charging.advice.move_oz <= 0.08 * 94 + 0.5);
	ck_assert_ptr_nonnull(strstr(charging.words, "add "));
}
END_TEST

START_TEST(a_blocked_filter_comes_before_the_charge)
{
	struct charging charging;

	put(READING_RUNNING_MINUTES, "20");
	put(READING_FILTER_CONDITION, "blocked");
	charging_work_out(&call, STAGE_AS_FOUND, &charging);
	ck_assert_int_eq(charging.advice.verdict, CHARGE_FIX_AIRFLOW);
}
END_TEST

START_TEST(the_log_is_followed)
{
	struct charging charging;
	struct charge_entry *entry = call_add_charge(&call);

	entry->at = start + 60;
	entry->added_oz = 3;
	put_value(&entry->values[CHARGE_SUCTION_PRESSURE], READING_SUCTION_PRESSURE, "108.5", start + 60);
	put_value(&entry->values[CHARGE_SUCTION_LINE_TEMP], READING_SUCTION_LINE_TEMP, "56.5", start + 60);
	entry = call_add_charge(&call);
	entry->at = start + 120;
	charging_work_out(&call, STAGE_AS_FOUND, &charging);
	/* A minute after three ounces went in nothing can be said. */
	ck_assert_int_eq(charging.advice.verdict, CHARGE_WAIT);
	ck_assert(charging.advice.wait_minutes > 5);
}
END_TEST

START_TEST(steady_minutes_after_the_last_entry_settle_it)
{
	struct charging charging;
	struct charge_entry *entry = call_add_charge(&call);

	entry->at = start - 20 * 60;
	entry->added_oz = 3;
	put(READING_RUNNING_MINUTES, "18");
	charging_work_out(&call, STAGE_AS_FOUND, &charging);
	ck_assert_int_eq(charging.advice.verdict, CHARGE_ADD);
	/* Five minutes after it they do not. */
	entry->at = start - 5 * 60;
	charging_work_out(&call, STAGE_AS_FOUND, &charging);
	ck_assert_int_eq(charging.advice.verdict, CHARGE_WAIT);
}
END_TEST

START_TEST(without_weather_there_is_no_target)
{
	struct charging charging;
	struct value none = { .state = VALUE_NOT_TAKEN };

	visit_set(&call.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB, &none);
	charging_work_out(&call, STAGE_AS_FOUND, &charging);
	ck_assert(!charging.possible);
	ck_assert_ptr_nonnull(strstr(charging.words, "no target"));
}
END_TEST

Suite *charging_suite(void)
{
	Suite *suite = suite_create("charging");
	TCase *tests = tcase_create("charging");

	tcase_add_checked_fixture(tests, setup, teardown);
	tcase_add_test(tests, a_single_reading_has_not_settled);
	tcase_add_test(tests, fifteen_steady_minutes_settle_it);
	tcase_add_test(tests, a_blocked_filter_comes_before_the_charge);
	tcase_add_test(tests, the_log_is_followed);
	tcase_add_test(tests, steady_minutes_after_the_last_entry_settle_it);
	tcase_add_test(tests, without_weather_there_is_no_target);
	suite_add_tcase(suite, tests);
	return suite;
}
