/*
 * The healthy machine against the same published procedure worked out apart
 * (reference/generate_coil.py), its rating point, and the trade's tables.
 */
#include <check.h>
#include <math.h>

#include <padside/calc/coil.h>

Suite *coil_suite(void);

#define SEA_LEVEL MOIST_AIR_SEA_LEVEL_PSIA

static const struct coil_row {
	double psia, dry_bulb, wet_bulb, outdoor, cfm_per_ton, sensible_ratio;
	double capacity_share, sensible, split, supply_wet_bulb;
} grid[] = {
#include "reference/vectors/coil.inc"
};

static struct coil_conditions conditions(double dry_bulb_f, double wet_bulb_f, double outdoor_f)
{
	struct coil_conditions machine = {
		.capacity_ton = 3, .airflow_cfm = 1200, .sensible_ratio = COIL_SENSIBLE_RATIO,
		.outdoor_f = outdoor_f,
	};

	ck_assert_int_eq(moist_air_from_wet_bulb(dry_bulb_f, wet_bulb_f, SEA_LEVEL,
	                 &machine.entering), STATUS_OK);
	return machine;
}

START_TEST(expectation_follows_the_published_procedure)
{
	for (size_t i = 0; i < sizeof grid / sizeof *grid; i++) {
		const struct coil_row *row = &grid[i];
		struct coil_conditions machine = {
			.capacity_ton = 2.5, .airflow_cfm = 2.5 * row->cfm_per_ton,
			.sensible_ratio = row->sensible_ratio, .outdoor_f = row->outdoor,
		};
		struct coil_expectation expected;

		ck_assert_int_eq(moist_air_from_wet_bulb(row->dry_bulb, row->wet_bulb, row->psia,
		                 &machine.entering), STATUS_OK);
		ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_OK);
		ck_assert_double_eq_tol(expected.capacity_btu_h / 30000, row->capacity_share, 0.0005);
		ck_assert_double_eq_tol(expected.sensible_ratio, row->sensible, 0.001);
		ck_assert_double_eq_tol(expected.split_f, row->split, 0.06);
		ck_assert_double_eq_tol(expected.supply.wet_bulb_f, row->supply_wet_bulb, 0.06);
	}
}
END_TEST

START_TEST(the_rating_point_gives_the_rating)
{
	struct coil_conditions machine = conditions(80, 67, 95);
	struct coil_expectation expected;

	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_OK);
	ck_assert_double_eq_tol(expected.capacity_btu_h, 36000, 20);
	ck_assert_double_eq_tol(expected.sensible_ratio, 0.75, 1e-3);
	ck_assert_double_eq_tol(expected.energy_share, 1, 2e-4);
	ck_assert_double_eq_tol(expected.sensible_btu_h,
	                        expected.capacity_btu_h * expected.sensible_ratio, 1e-6);
	ck_assert(!expected.is_dry);
	ck_assert(expected.bypass_factor > 0.05 && expected.bypass_factor < 0.3);
}
END_TEST

/* Every coil that the rating can be of comes out as it was rated. */
START_TEST(a_rated_share_comes_out_again)
{
	for (int percent = 65; percent <= 79; percent++) {
		struct coil_conditions machine = conditions(80, 67, 95);
		struct coil_expectation expected;
		machine.sensible_ratio = percent / 100.0;
		ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_OK);
		ck_assert_double_eq_tol(expected.sensible_ratio, machine.sensible_ratio, 1e-3);
	}
}
END_TEST

/* The usual share's rating stands as a number; the shares beside it are worked out. */
START_TEST(the_usual_share_lies_between_its_neighbours)
{
	struct coil_conditions machine = conditions(80, 67, 95);
	double splits[3];

	for (int i = 0; i < 3; i++) {
		struct coil_expectation expected;
		machine.sensible_ratio = COIL_SENSIBLE_RATIO + (i - 1) * 1e-7;
		ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_OK);
		splits[i] = expected.split_f;
	}
	ck_assert_double_gt(splits[1], splits[0]);
	ck_assert_double_gt(splits[2], splits[1]);
	ck_assert_double_eq_tol(splits[1], (splits[0] + splits[2]) / 2, 1e-6);
}
END_TEST

/* Common practice: 16 to 22 °F at 75 to 80 °F return and about 50 % RH. */
START_TEST(split_is_what_the_trade_expects)
{
	for (double dry_bulb = 75; dry_bulb <= 80; dry_bulb++)
		for (double outdoor = 90; outdoor <= 110; outdoor += 5) {
			struct coil_conditions machine = conditions(dry_bulb, dry_bulb - 5, outdoor);
			struct coil_expectation expected;

			ck_assert_int_eq(moist_air_from_relative_humidity(dry_bulb, 50, SEA_LEVEL,
			                 &machine.entering), STATUS_OK);
			ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_OK);
			ck_assert_msg(expected.split_f >= 16 && expected.split_f <= 22,
			              "%g °F, %g °F outdoors: %g", dry_bulb, outdoor, expected.split_f);
		}
}
END_TEST

/* Physics: drier return air and less flow give more split; heat outdoors less. */
START_TEST(split_moves_as_physics_says)
{
	struct coil_conditions usual = conditions(78, 65, 95), other;
	struct coil_expectation a, b;

	ck_assert_int_eq(coil_expect(&usual, &a), STATUS_OK);
	other = conditions(78, 61, 95);
	ck_assert_int_eq(coil_expect(&other, &b), STATUS_OK);
	ck_assert(b.split_f > a.split_f + 1 && b.capacity_btu_h < a.capacity_btu_h);
	other = conditions(78, 65, 110);
	ck_assert_int_eq(coil_expect(&other, &b), STATUS_OK);
	ck_assert(b.split_f < a.split_f - 0.5 && b.energy_share > a.energy_share);
	other = usual;
	other.airflow_cfm = 900;
	ck_assert_int_eq(coil_expect(&other, &b), STATUS_OK);
	ck_assert(b.split_f > a.split_f + 2 && b.capacity_btu_h < a.capacity_btu_h);
	/* Denver's air carries less, so that the same volume is cooled further. */
	other = usual;
	ck_assert_int_eq(moist_air_from_wet_bulb(78, 65, 12.1, &other.entering), STATUS_OK);
	ck_assert_int_eq(coil_expect(&other, &b), STATUS_OK);
	ck_assert(b.capacity_btu_h < 0.98 * a.capacity_btu_h);
	ck_assert(b.capacity_btu_h > 0.94 * a.capacity_btu_h);
}
END_TEST

START_TEST(a_dry_coil_works_on_temperature_alone)
{
	struct coil_conditions machine = conditions(80, 54, 95);
	struct coil_expectation expected;

	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_OK);
	ck_assert(expected.is_dry);
	ck_assert_double_eq(expected.sensible_ratio, 1);
	ck_assert_double_eq_tol(expected.supply.humidity_ratio, machine.entering.humidity_ratio,
	                        1e-9);
	ck_assert(expected.apparatus_dew_point_f > machine.entering.dew_point_f);
	/* A desert return below the curves' wet bulb still has an answer, for the coil is dry. */
	machine = conditions(80, 49, 95);
	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_OK);
	ck_assert(expected.is_dry);
}
END_TEST

START_TEST(conditions_outside_the_description_are_refused)
{
	struct coil_expectation expected;
	struct coil_conditions machine = conditions(80, 67, 40);

	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_WEATHER_RANGE);
	ck_assert(isnan(expected.split_f) && isnan(expected.supply.dry_bulb_f));
	machine = conditions(95, 82, 95);
	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_WEATHER_RANGE);
	machine = conditions(80, 67, 95);
	machine.airflow_cfm = 300;
	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_AIRFLOW_RANGE);
	machine.airflow_cfm = 0;
	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_NOT_POSITIVE);
	machine.airflow_cfm = NAN;
	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_NOT_A_NUMBER);
	machine = conditions(80, 67, 95);
	machine.sensible_ratio = 0.95;
	ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_NO_LATENT_ROOM);
	for (int i = 0; i < 5; i++) {
		machine = conditions(80, 67, 95);
		double *const given[] = {
			&machine.capacity_ton, &machine.airflow_cfm, &machine.outdoor_f, &machine.sensible_ratio,
			&machine.entering.specific_volume_ft3_lb,
		};
		*given[i] = NAN;
		ck_assert_int_eq(coil_expect(&machine, &expected), STATUS_NOT_A_NUMBER);
		ck_assert(isnan(expected.split_f));
	}
}
END_TEST

START_TEST(curves_keep_their_range)
{
	double share;

	ck_assert_int_eq(coil_capacity_share(67, 95, 1, &share), STATUS_OK);
	ck_assert_double_eq_tol(share, 1, 1e-4);
	ck_assert_int_eq(coil_energy_share(67, 95, 1, &share), STATUS_OK);
	ck_assert_double_eq_tol(share, 1, 2e-4);
	ck_assert_int_eq(coil_capacity_share(81, 95, 1, &share), STATUS_WEATHER_RANGE);
	ck_assert(isnan(share));
	ck_assert_int_eq(coil_capacity_share(67, 95, 2, &share), STATUS_AIRFLOW_RANGE);
	ck_assert_int_eq(coil_energy_share(NAN, 95, 1, &share), STATUS_NOT_A_NUMBER);
}
END_TEST

/* Entries of the maker's table (Lennox 14ACX, p. 26), and points between them. */
static const struct {
	double outdoor, wet_bulb;
	enum status status;
	double superheat;
} targets[] = {
	{ 40, 50, STATUS_OK, 15 }, { 115, 76, STATUS_OK, 24 }, { 95, 66, STATUS_OK, 10 },
	{ 85, 62, STATUS_OK, 8 }, { 75, 70, STATUS_OK, 28 }, { 110, 68, STATUS_OK, 6 },
	{ 60, 50, STATUS_OK, 7 }, { 115, 70, STATUS_OK, 8 }, { 40, 76, STATUS_OK, 51 },
	{ 97.5, 67, STATUS_OK, 11 }, { 88, 63, STATUS_OK, 8 },
	{ 65, 50, STATUS_TABLE_DASH, 0 }, { 85, 60, STATUS_TABLE_DASH, 0 },
	{ 93, 63, STATUS_TABLE_DASH, 0 }, { 115, 69, STATUS_TABLE_DASH, 0 },
	{ 39.9, 60, STATUS_OUT_OF_RANGE, 0 }, { 116, 70, STATUS_OUT_OF_RANGE, 0 },
	{ 80, 49, STATUS_OUT_OF_RANGE, 0 }, { 80, 76.5, STATUS_OUT_OF_RANGE, 0 },
	{ NAN, 60, STATUS_NOT_A_NUMBER, 0 },
};

START_TEST(target_superheat_is_the_table_s)
{
	double superheat;

	ck_assert_int_eq(coil_target_superheat(targets[_i].outdoor, targets[_i].wet_bulb,
	                 &superheat), targets[_i].status);
	if (targets[_i].status)
		ck_assert(isnan(superheat));
	else
		ck_assert_double_eq_tol(superheat, targets[_i].superheat, 1e-9);
}
END_TEST

/* The whole of that table: outdoors, then 50 to 76 °F wet bulb; a dash is no target. */
#define DASH (-1)

static const struct {
	double outdoor, superheats[14];
} printed[] = {
	{ 40, { 15, 18, 20, 23, 26, 29, 32, 34, 38, 41, 43, 46, 48, 51 } },
	{ 45, { 13, 16, 18, 21, 24, 27, 30, 33, 36, 39, 41, 44, 46, 49 } },
	{ 50, { 11, 14, 16, 19, 22, 25, 28, 31, 34, 37, 39, 42, 44, 47 } },
	{ 55, { 9, 12, 14, 17, 20, 23, 27, 30, 33, 36, 38, 40, 42, 44 } },
	{ 60, { 7, 10, 12, 15, 18, 21, 24, 27, 30, 33, 35, 38, 40, 43 } },
	{ 65, { DASH, 6, 10, 13, 16, 19, 21, 24, 27, 30, 33, 36, 38, 41 } },
	{ 70, { DASH, DASH, 7, 10, 13, 16, 19, 21, 24, 27, 30, 33, 36, 39 } },
	{ 75, { DASH, DASH, DASH, 6, 9, 12, 15, 18, 21, 24, 28, 31, 34, 37 } },
	{ 80, { DASH, DASH, DASH, DASH, 5, 8, 12, 15, 18, 21, 25, 28, 31, 35 } },
	{ 85, { DASH, DASH, DASH, DASH, DASH, DASH, 8, 11, 15, 19, 22, 26, 30, 33 } },
	{ 90, { DASH, DASH, DASH, DASH, DASH, DASH, 5, 9, 13, 16, 20, 24, 27, 31 } },
	{ 95, { DASH, DASH, DASH, DASH, DASH, DASH, DASH, 6, 10, 14, 18, 22, 25, 29 } },
	{ 100, { DASH, DASH, DASH, DASH, DASH, DASH, DASH, DASH, 8, 12, 16, 21, 24, 28 } },
	{ 105, { DASH, DASH, DASH, DASH, DASH, DASH, DASH, DASH, 5, 9, 13, 17, 22, 26 } },
	{ 110, { DASH, DASH, DASH, DASH, DASH, DASH, DASH, DASH, DASH, 6, 11, 15, 20, 25 } },
	{ 115, { DASH, DASH, DASH, DASH, DASH, DASH, DASH, DASH, DASH, DASH, 8, 14, 18, 24 } },
};

START_TEST(every_cell_of_the_table_is_as_printed)
{
	for (int i = 0; i < 14; i++) {
		double wanted = printed[_i].superheats[i], superheat = 0;
		enum status status = coil_target_superheat(printed[_i].outdoor, 50 + 2 * i, &superheat);
		ck_assert_msg(status == (wanted == DASH ? STATUS_TABLE_DASH : STATUS_OK), "%g °F, %d °F",
		              printed[_i].outdoor, 50 + 2 * i);
		if (status == STATUS_OK)
			ck_assert_double_eq(superheat, wanted);
		else
			ck_assert(isnan(superheat));
	}
}
END_TEST

/* Check value of common practice: 54 °F wet bulb and 59–60 °F outdoors call for about 12.6 °F. */
START_TEST(target_superheat_meets_the_check_value)
{
	double superheat;

	ck_assert_int_eq(coil_target_superheat(59.5, 54, &superheat), STATUS_OK);
	ck_assert_double_eq_tol(superheat, 12.6, 0.5);
}
END_TEST

/*
 * Common practice: (3 WB - 80 - DB) / 2 is within a few °F of the table, but
 * for a very humid return on the hottest days.
 */
START_TEST(target_superheat_is_near_the_rule_of_thumb)
{
	int points = 0;

	for (double outdoor = 55; outdoor <= 115; outdoor += 2.5)
		for (double wet_bulb = 50; wet_bulb <= 72; wet_bulb++) {
			double superheat, rule = (3 * wet_bulb - 80 - outdoor) / 2;

			if (coil_target_superheat(outdoor, wet_bulb, &superheat) != STATUS_OK)
				continue;
			points++;
			ck_assert_msg(fabs(superheat - rule) <= 3.5, "%g/%g: %g, rule %g", outdoor,
			              wet_bulb, superheat, rule);
			ck_assert_double_ge(superheat, 5);
		}
	ck_assert_int_gt(points, 200);
}
END_TEST

/* Common practice, by SEER and by airflow. */
START_TEST(usual_differences)
{
	static const struct { double seer, difference; } condensers[] = {
		{ 8, 30 }, { 10, 25 }, { 13, 20 }, { 14.3, 20 }, { 16, 15 }, { 22, 15 },
	};
	double out;

	for (size_t i = 0; i < sizeof condensers / sizeof *condensers; i++) {
		ck_assert_int_eq(coil_condenser_over_outdoor(condensers[i].seer, &out), STATUS_OK);
		ck_assert_double_eq(out, condensers[i].difference);
	}
	ck_assert_int_eq(coil_condenser_over_outdoor(0, &out), STATUS_OUT_OF_RANGE);
	ck_assert(isnan(out));
	ck_assert_int_eq(coil_evaporator_under_return(400, &out), STATUS_OK);
	ck_assert_double_eq(out, 35);
	ck_assert_int_eq(coil_evaporator_under_return(350, &out), STATUS_OK);
	ck_assert_double_eq(out, 40);
	ck_assert_int_eq(coil_evaporator_under_return(1000, &out), STATUS_OUT_OF_RANGE);
	ck_assert(isnan(out));
}
END_TEST

Suite *coil_suite(void)
{
	Suite *suite = suite_create("coil");
	TCase *tests = tcase_create("coil");

	tcase_add_test(tests, expectation_follows_the_published_procedure);
	tcase_add_test(tests, the_rating_point_gives_the_rating);
	tcase_add_test(tests, a_rated_share_comes_out_again);
	tcase_add_test(tests, the_usual_share_lies_between_its_neighbours);
	tcase_add_test(tests, split_is_what_the_trade_expects);
	tcase_add_test(tests, split_moves_as_physics_says);
	tcase_add_test(tests, a_dry_coil_works_on_temperature_alone);
	tcase_add_test(tests, conditions_outside_the_description_are_refused);
	tcase_add_test(tests, curves_keep_their_range);
	tcase_add_loop_test(tests, target_superheat_is_the_table_s, 0,
	                    sizeof targets / sizeof *targets);
	tcase_add_loop_test(tests, every_cell_of_the_table_is_as_printed, 0,
	                    sizeof printed / sizeof *printed);
	tcase_add_test(tests, target_superheat_meets_the_check_value);
	tcase_add_test(tests, target_superheat_is_near_the_rule_of_thumb);
	tcase_add_test(tests, usual_differences);
	suite_add_tcase(suite, tests);
	return suite;
}
