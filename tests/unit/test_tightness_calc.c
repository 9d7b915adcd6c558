/* Nitrogen, vacuum, weight: against physics and published numbers. */
#include <check.h>
#include <math.h>

#include <padside/calc/tightness.h>

Suite *tightness_calc_suite(void);

/* By calculation from the gas law: 3.1 psi for 10 °F at 150 psig, 8.8 at 450, 10.7 at 550 (70 °F). */
static const struct {
	double psig, per_ten_f;
} swings[] = { { 150, 3.1 }, { 450, 8.8 }, { 550, 10.7 } };

START_TEST(nitrogen_follows_the_temperature)
{
	double at;

	ck_assert_int_eq(tightness_pressure_at(swings[_i].psig, 70, 80, &at), STATUS_OK);
	ck_assert_double_eq_tol(at - swings[_i].psig, swings[_i].per_ten_f, 0.05);
	ck_assert_int_eq(tightness_pressure_at(at, 80, 70, &at), STATUS_OK);
	ck_assert_double_eq_tol(at, swings[_i].psig, 1e-9);
	/* From a perfect vacuum upwards, also below the air around: 10 psig gain 0.47 psi for 10 °F. */
	ck_assert_int_eq(tightness_pressure_at(10, 70, 80, &at), STATUS_OK);
	ck_assert_double_eq_tol(at, 10.47, 0.01);
	ck_assert_int_eq(tightness_pressure_at(-10, 70, 80, &at), STATUS_OK);
	ck_assert_double_eq_tol(at, -9.91, 0.01);
	ck_assert_int_eq(tightness_pressure_at(-14.69, 70, 80, &at), STATUS_OK);
	ck_assert_int_eq(tightness_pressure_at(-14.7, 70, 80, &at), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(tightness_pressure_at(-15, 70, 80, &at), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(tightness_pressure_at(150, 70, 250, &at), STATUS_OK);
	ck_assert_int_eq(tightness_pressure_at(150, 70, 250.1, &at), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(tightness_pressure_at(150, -60, 70, &at), STATUS_OK);
	ck_assert_int_eq(tightness_pressure_at(150, -60.1, 70, &at), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(tightness_pressure_at(150, 70, 800, &at), STATUS_OUT_OF_RANGE);
	ck_assert(isnan(at));
}
END_TEST

START_TEST(a_colder_evening_is_no_leak)
{
	struct nitrogen_test test = {
		.start_psig = 450, .start_f = 90, .end_psig = 434, .end_f = 71, .minutes = 60,
		.plus_minus_psi = 3,
	};
	enum tightness tightness;
	double drop;

	/* 19 °F colder: 16.1 psi by the gas law, 16 were lost. */
	ck_assert_int_eq(tightness_judge_nitrogen(&test, TIGHTNESS_NITROGEN_A2L_MINUTES, &drop, &tightness),
	                 STATUS_OK);
	ck_assert_double_eq_tol(drop, -0.06, 0.05);
	ck_assert_int_eq(tightness, TIGHTNESS_TIGHT);
	/* The same without the colder evening leaks. */
	test.end_f = 90;
	ck_assert_int_eq(tightness_judge_nitrogen(&test, 60, &drop, &tightness), STATUS_OK);
	ck_assert_double_eq_tol(drop, 16, 1e-9);
	ck_assert_int_eq(tightness, TIGHTNESS_LEAKING);
	/* Ten minutes without a drop prove nothing yet. */
	test.end_psig = 450;
	test.minutes = 10;
	ck_assert_int_eq(tightness_judge_nitrogen(&test, TIGHTNESS_NITROGEN_MINUTES, &drop, &tightness),
	                 STATUS_OK);
	ck_assert_int_eq(tightness, TIGHTNESS_UNDECIDED);
	/* Read at once: no time has passed, and that is no failure. */
	test.minutes = 0;
	ck_assert_int_eq(tightness_judge_nitrogen(&test, 15, &drop, &tightness), STATUS_OK);
	ck_assert_int_eq(tightness, TIGHTNESS_UNDECIDED);
	/* Gauges that are never off are allowed, those that are off by less than nothing are not. */
	test.plus_minus_psi = 0;
	ck_assert_int_eq(tightness_judge_nitrogen(&test, 15, &drop, &tightness), STATUS_OK);
	test.plus_minus_psi = -0.1;
	ck_assert_int_eq(tightness_judge_nitrogen(&test, 15, &drop, &tightness), STATUS_NEGATIVE);
	test.plus_minus_psi = 0;
	test.minutes = -1;
	ck_assert_int_eq(tightness_judge_nitrogen(&test, 15, &drop, &tightness), STATUS_NEGATIVE);
}
END_TEST

enum { MOST_POINTS = 16 };

static enum tightness judge(const struct vacuum_point *points, size_t count)
{
	enum tightness tightness;

	ck_assert_int_eq(tightness_judge_vacuum(points, count, &tightness), STATUS_OK);
	return tightness;
}

/* Physics: air through a hole comes in at a steady rate; a look every two minutes. */
START_TEST(a_steady_rise_is_a_leak)
{
	struct vacuum_point points[MOST_POINTS];

	for (int rate = 40; rate <= 640; rate *= 2) {
		for (int i = 0; i < 11; i++)
			points[i] = (struct vacuum_point){ 2 * i, 400 + rate * 2 * i };
		ck_assert_msg(judge(points, 11) == TIGHTNESS_LEAKING, "%d microns a minute", rate);
	}
	/* When the first look was taken makes no difference, and the shape is looked at in thirds of the time. */
	for (int i = 0; i < 11; i++)
		points[i] = (struct vacuum_point){ 600 + 2 * i, 19000 - 18650 * exp(-i) };
	ck_assert_int_eq(judge(points, 11), TIGHTNESS_MOIST);
	for (int i = 0; i < 11; i++)
		points[i] = (struct vacuum_point){ 600 + 2 * i, 400 + 80 * i };
	ck_assert_int_eq(judge(points, 11), TIGHTNESS_LEAKING);
	/* Three looks in ten minutes are the fewest that tell it. */
	const struct vacuum_point few[] = { { 0, 400 }, { 5, 800 }, { 10, 1200 } };
	ck_assert_int_eq(judge(few, 3), TIGHTNESS_LEAKING);
	ck_assert_int_eq(judge(few, 2), TIGHTNESS_UNDECIDED);
}
END_TEST

/* Physics: water boils off towards its vapour pressure, 19,000 microns at 70 °F, or a part of it. */
START_TEST(a_rise_that_levels_off_is_water)
{
	struct vacuum_point points[MOST_POINTS];
	static const double levels[] = { 1500, 4000, 19000 }, minutes[] = { 2, 4 };

	for (size_t l = 0; l < sizeof levels / sizeof *levels; l++)
		for (size_t m = 0; m < sizeof minutes / sizeof *minutes; m++) {
			for (int i = 0; i < 11; i++)
				points[i] = (struct vacuum_point){
					2 * i, levels[l] - (levels[l] - 350) * exp(-2 * i / minutes[m]) };
			ck_assert_msg(judge(points, 11) == TIGHTNESS_MOIST, "%g microns, %g minutes", levels[l],
			              minutes[m]);
		}
}
END_TEST

START_TEST(a_dry_tight_system_holds)
{
	const struct vacuum_point holds[] = { { 0, 280 }, { 5, 340 }, { 15, 410 } };
	const struct vacuum_point short_look[] = { { 0, 280 }, { 5, 340 }, { 10, 360 } };
	const struct vacuum_point two[] = { { 0, 300 }, { 12, 2600 } };

	/* Rheem P16, p. 34: at most 500 microns for 15 minutes. */
	ck_assert_int_eq(judge(holds, 3), TIGHTNESS_TIGHT);
	ck_assert_int_eq(judge(short_look, 3), TIGHTNESS_UNDECIDED);
	/* Every look counts, the first and the last too: at 500 it holds, above it does not. */
	for (int i = 0; i < 3; i++) {
		struct vacuum_point points[] = { { 0, 400 }, { 7, 400 }, { 15, 400 } };
		points[i].microns = 500;
		ck_assert_int_eq(judge(points, 3), TIGHTNESS_TIGHT);
		points[i].microns = 501;
		ck_assert_int_ne(judge(points, 3), TIGHTNESS_TIGHT);
	}
	/* Two looks have no shape. */
	ck_assert_int_eq(judge(two, 2), TIGHTNESS_UNDECIDED);
}
END_TEST

START_TEST(between_leak_and_water_nothing_is_claimed)
{
	const struct vacuum_point points[] = { { 0, 300 }, { 5, 1300 }, { 10, 2050 }, { 15, 2500 } };
	const struct vacuum_point never_low[] = { { 0, 900 }, { 10, 930 }, { 20, 940 } };

	ck_assert_int_eq(judge(points, 4), TIGHTNESS_UNDECIDED);
	ck_assert_int_eq(judge(never_low, 3), TIGHTNESS_UNDECIDED);
}
END_TEST

/* The first third counts as it was read, whatever the last looks show: a steady rise is a leak. */
START_TEST(the_first_third_is_read_between_its_own_looks)
{
	const struct vacuum_point points[] = {
		{ 0, 300 }, { 10, 1500 }, { 20, 2700 }, { 28, 3700 }, { 30, 3750 },
	};

	ck_assert_int_eq(judge(points, 5), TIGHTNESS_LEAKING);
}
END_TEST

/* A tenth of 1,000 microns is what the gauge may be off: a rise of just that is none. */
START_TEST(a_rise_as_large_as_the_doubt_of_the_gauge_claims_nothing)
{
	struct vacuum_point points[] = { { 0, 900 }, { 5, 950 }, { 10, 1000 } };

	ck_assert_double_eq(TIGHTNESS_GAUGE_SHARE * 1000, 100);
	ck_assert_int_eq(judge(points, 3), TIGHTNESS_UNDECIDED);
	points[0].microns = 890;
	points[1].microns = 945;
	ck_assert_int_eq(judge(points, 3), TIGHTNESS_LEAKING);
}
END_TEST

START_TEST(bad_vacuum_logs_are_refused)
{
	const struct vacuum_point backwards[] = { { 5, 300 }, { 0, 400 } }, none[] = { { 0, 0 } };
	enum tightness tightness;

	ck_assert_int_eq(tightness_judge_vacuum(backwards, 2, &tightness), STATUS_LOG_ORDER);
	ck_assert_int_eq(tightness_judge_vacuum(none, 1, &tightness), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(tightness_judge_vacuum(NULL, 0, &tightness), STATUS_LOG_EMPTY);
	ck_assert_int_eq(tightness, TIGHTNESS_UNDECIDED);
}
END_TEST

/* By hand: 15 ft precharged, 40 ft of 3/8 in. at 0.60 oz/ft (a maker's R-410A value). */
START_TEST(the_charge_by_weight)
{
	double ounces;

	ck_assert_int_eq(tightness_weigh_in(98, 40, 15, 0.6, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, 113, 1e-9);
	ck_assert_int_eq(tightness_weigh_in(98, 10, 15, 0.6, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, 98, 1e-9);
	ck_assert_int_eq(tightness_weigh_in(0, 40, 15, 0.6, &ounces), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(tightness_weigh_in(98, -1, 15, 0.6, &ounces), STATUS_NEGATIVE);
	ck_assert_int_eq(tightness_weigh_in(98, 40, -1, 0.6, &ounces), STATUS_NEGATIVE);
	ck_assert_int_eq(tightness_weigh_in(98, 40, 15, -0.1, &ounces), STATUS_NEGATIVE);
	ck_assert(isnan(ounces));
	/* A line of no length, all of it precharged by none, at no weight: nothing is added. */
	ck_assert_int_eq(tightness_weigh_in(98, 0, 0, 0, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, 98, 1e-9);
	for (int i = 0; i < 4; i++) {
		const double known[] = { 98, 40, 15, 0.6 };
		double asked[4];
		for (int j = 0; j < 4; j++)
			asked[j] = j == i ? NAN : known[j];
		ck_assert_int_eq(tightness_weigh_in(asked[0], asked[1], asked[2], asked[3], &ounces),
		                 STATUS_NOT_A_NUMBER);
		ck_assert(isnan(ounces));
	}
}
END_TEST

/* 0.8 x water capacity x specific gravity at 77 °F, worked out beside the program from CoolProp. */
static const struct {
	enum refrigerant refrigerant;
	double gravity, of_26_2, of_47_7;
} cylinders[] = {
	{ REFRIGERANT_R22, 1.194, 25.0, 45.6 }, { REFRIGERANT_R410A, 1.062, 22.3, 40.5 },
	{ REFRIGERANT_R32, 0.964, 20.2, 36.8 }, { REFRIGERANT_R454B, 0.989, 20.7, 37.7 },
	{ REFRIGERANT_R407C, 1.141, 23.9, 43.5 }, { REFRIGERANT_R134A, 1.210, 25.4, 46.2 },
	{ REFRIGERANT_R404A, 1.047, 21.9, 40.0 },
};

START_TEST(a_cylinder_is_filled_to_four_fifths)
{
	double allowed, room;

	ck_assert_int_eq(tightness_cylinder_allowed(cylinders[_i].refrigerant, 26.2, &allowed), STATUS_OK);
	ck_assert_double_eq_tol(allowed, cylinders[_i].of_26_2, 0.06);
	ck_assert_double_eq_tol(allowed / (0.8 * 26.2), cylinders[_i].gravity, 0.002);
	ck_assert_int_eq(tightness_cylinder_allowed(cylinders[_i].refrigerant, 47.7, &allowed), STATUS_OK);
	ck_assert_double_eq_tol(allowed, cylinders[_i].of_47_7, 0.06);
	ck_assert_int_eq(tightness_cylinder_room(cylinders[_i].refrigerant, 47.7, 27, 60, &room), STATUS_OK);
	ck_assert_double_eq_tol(room, 27 + allowed - 60, 1e-9);
	ck_assert_int_eq(tightness_cylinder_allowed(cylinders[_i].refrigerant, NAN, &allowed),
	                 STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(tightness_cylinder_allowed(cylinders[_i].refrigerant, 0, &allowed),
	                 STATUS_NOT_POSITIVE);
	ck_assert(isnan(allowed));
}
END_TEST

START_TEST(a_cylinder_is_tested_every_five_years)
{
	wall_time tested, last_day, day_after;

	ck_assert(clock_parse("2021-06-03", &tested) && clock_parse("2026-06-03", &last_day) &&
	          clock_parse("2026-06-04", &day_after));
	ck_assert(tightness_cylinder_in_date(tested, last_day));
	ck_assert(!tightness_cylinder_in_date(tested, day_after));
	ck_assert(!tightness_cylinder_in_date(WALL_TIME_NONE, last_day));
}
END_TEST

Suite *tightness_calc_suite(void)
{
	Suite *suite = suite_create("tightness calc");
	TCase *tests = tcase_create("tightness");

	tcase_add_loop_test(tests, nitrogen_follows_the_temperature, 0, sizeof swings / sizeof *swings);
	tcase_add_test(tests, a_colder_evening_is_no_leak);
	tcase_add_test(tests, a_steady_rise_is_a_leak);
	tcase_add_test(tests, a_rise_that_levels_off_is_water);
	tcase_add_test(tests, a_dry_tight_system_holds);
	tcase_add_test(tests, between_leak_and_water_nothing_is_claimed);
	tcase_add_test(tests, the_first_third_is_read_between_its_own_looks);
	tcase_add_test(tests, a_rise_as_large_as_the_doubt_of_the_gauge_claims_nothing);
	tcase_add_test(tests, bad_vacuum_logs_are_refused);
	tcase_add_test(tests, the_charge_by_weight);
	tcase_add_loop_test(tests, a_cylinder_is_filled_to_four_fifths, 0,
	                    sizeof cylinders / sizeof *cylinders);
	tcase_add_test(tests, a_cylinder_is_tested_every_five_years);
	suite_add_tcase(suite, tests);
	return suite;
}
