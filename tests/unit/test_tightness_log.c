/* The tightness log of a call, entry by entry, and its cylinders. */
#include <check.h>
#include <math.h>

#include <padside/model/cylinder.h>
#include <padside/model/moved.h>
#include <padside/model/tightness.h>

Suite *tightness_log_suite(void);

static struct call call;
static wall_time start;

static void setup(void)
{
	call_init(&call);
	ck_assert(clock_parse("2026-07-14T09:00", &start));
}

static void teardown(void)
{
	call_done(&call);
}

static struct value number(double value)
{
	if (isnan(value))
		return (struct value){ .state = VALUE_NOT_TAKEN, .taken_at = WALL_TIME_NONE };
	return (struct value){ .state = VALUE_TAKEN, .number = value, .taken_at = start };
}

static void write_in(enum tightness_kind kind, int minutes, double pressure, double temperature,
                     double microns, double ounces)
{
	struct tightness_entry *entry = call_list_add(&call, LIST_TIGHTNESS);

	ck_assert_ptr_nonnull(entry);
	entry->kind = kind;
	entry->at = start + 60 * minutes;
	entry->pressure = number(pressure);
	entry->temperature = number(temperature);
	entry->microns = number(microns);
	entry->amount = number(ounces);
}

START_TEST(an_empty_log_shows_nothing)
{
	struct tightness_told shown;

	tightness_work_out(&call, &shown);
	ck_assert(!shown.has_nitrogen);
	ck_assert_int_eq(shown.nitrogen, NITROGEN_NONE);
	ck_assert_int_eq(shown.vacuum, VACUUM_NONE);
}
END_TEST

/* By the gas law 450 psig at 90 °F are 434 at 71 °F; the climb to it is no test. */
START_TEST(nitrogen_is_judged_from_its_highest_pressure)
{
	struct tightness_told shown;

	write_in(TIGHTNESS_NITROGEN, 0, 150, 90, NAN, NAN);
	write_in(TIGHTNESS_NITROGEN, 10, 450, 90, NAN, NAN);
	write_in(TIGHTNESS_NITROGEN, 30, 434, 71, NAN, NAN);
	tightness_work_out(&call, &shown);
	ck_assert(shown.has_nitrogen && shown.is_corrected);
	ck_assert_double_eq_tol(shown.lost_psi, -0.06, 0.05);
	ck_assert_int_eq(shown.nitrogen_minutes, 20);
	ck_assert_int_eq(shown.nitrogen, NITROGEN_HELD);
	/* Twenty minutes are too short for an A2L line set: Trane 5TTR5018, section 8. */
	struct value refrigerant = { .state = VALUE_TAKEN, .choice = CHOICE_REFRIGERANT_R454B };
	visit_set(&call.visit, STAGE_AS_FOUND, READING_REFRIGERANT, &refrigerant);
	tightness_work_out(&call, &shown);
	ck_assert_int_eq(shown.nitrogen, NITROGEN_WAITING);
}
END_TEST

START_TEST(without_temperatures_a_drop_is_a_drop)
{
	struct tightness_told shown;

	write_in(TIGHTNESS_NITROGEN, 0, 150, NAN, NAN, NAN);
	write_in(TIGHTNESS_NITROGEN, 15, 140, 60, NAN, NAN);
	tightness_work_out(&call, &shown);
	ck_assert(shown.has_nitrogen && !shown.is_corrected);
	ck_assert_double_eq_tol(shown.lost_psi, 10, 1e-9);
	ck_assert_int_eq(shown.nitrogen, NITROGEN_LEAKING);
}
END_TEST

/* Johnson Controls YC4, p. 31: a steady rise is a leak; the pumping down before does not count. */
START_TEST(a_vacuum_is_judged_from_its_lowest_reading)
{
	struct tightness_told shown;

	write_in(TIGHTNESS_VACUUM, 0, NAN, NAN, 12000, NAN);
	write_in(TIGHTNESS_VACUUM, 30, NAN, NAN, 350, NAN);
	for (int i = 1; i <= 6; i++)
		write_in(TIGHTNESS_VACUUM, 30 + 3 * i, NAN, NAN, 350 + 450 * i, NAN);
	tightness_work_out(&call, &shown);
	ck_assert_int_eq(shown.vacuum_minutes, 18);
	ck_assert_double_eq_tol(shown.newest, 3050, 1e-9);
	ck_assert_int_eq(shown.vacuum, VACUUM_LEAKING);
}
END_TEST

START_TEST(what_was_weighed_in_adds_up)
{
	struct moved moved;

	write_in(TIGHTNESS_WEIGH_IN, 60, NAN, NAN, NAN, 96);
	write_in(TIGHTNESS_WEIGH_IN, 70, NAN, NAN, NAN, 17);
	moved_work_out(&call, &moved);
	ck_assert_double_eq_tol(moved.added_oz, 113, 1e-9);
}
END_TEST

START_TEST(a_cylinder_says_what_still_goes_in)
{
	struct cylinder cylinder = {
		.refrigerant = CHOICE_REFRIGERANT_R410A, .water_capacity_lb = 47.7, .tare_lb = 27,
		.weight_lb = 60,
	};
	double room;

	/* 40.5 lb allowed of R-410A (0.8 x 47.7 x 1.062). */
	ck_assert_int_eq(cylinder_room(&cylinder, &room), STATUS_OK);
	ck_assert_double_eq_tol(room, 27 + 40.5 - 60, 0.06);
	cylinder.water_capacity_lb = 0;
	ck_assert_int_eq(cylinder_room(&cylinder, &room), STATUS_MISSING);
	ck_assert(isnan(room));
}
END_TEST

Suite *tightness_log_suite(void)
{
	Suite *suite = suite_create("tightness log");
	TCase *tests = tcase_create("tightness log");

	tcase_add_checked_fixture(tests, setup, teardown);
	tcase_add_test(tests, an_empty_log_shows_nothing);
	tcase_add_test(tests, nitrogen_is_judged_from_its_highest_pressure);
	tcase_add_test(tests, without_temperatures_a_drop_is_a_drop);
	tcase_add_test(tests, a_vacuum_is_judged_from_its_lowest_reading);
	tcase_add_test(tests, what_was_weighed_in_adds_up);
	tcase_add_test(tests, a_cylinder_says_what_still_goes_in);
	suite_add_tcase(suite, tests);
	return suite;
}
