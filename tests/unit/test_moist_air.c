/*
 * Moist air against psychrolib 2.5.0 on a grid (reference/vectors), against
 * rows of the ASHRAE handbook's tables, and against bad readings.
 */
#include <check.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include <padside/calc/moist_air.h>

Suite *moist_air_suite(void);

#define SEA_LEVEL MOIST_AIR_SEA_LEVEL_PSIA
#define TOLERANCE 0.001 /* °F and % RH; ten times tighter than is asked for */

static const struct moist_air_row {
	double psia, dry_bulb, humidity, wet_bulb, dew_point, ratio, enthalpy, volume, density;
} grid[] = {
#include "reference/vectors/moist_air.inc"
};

static void check_row(const struct moist_air_row *row, enum status status,
                      const struct moist_air *air)
{
	ck_assert_msg(status == STATUS_OK, "%g °F %g %% %g psia: %s", row->dry_bulb,
	              row->humidity, row->psia, status_sentence(status));
	ck_assert_double_eq_tol(air->dry_bulb_f, row->dry_bulb, TOLERANCE);
	ck_assert_double_eq_tol(air->wet_bulb_f, row->wet_bulb, TOLERANCE);
	ck_assert_double_eq_tol(air->dew_point_f, row->dew_point, TOLERANCE);
	ck_assert_double_eq_tol(air->relative_humidity, row->humidity, TOLERANCE);
	ck_assert_double_eq_tol(air->humidity_ratio, row->ratio, 2e-5 * row->ratio + 1e-9);
	ck_assert_double_eq_tol(air->enthalpy_btu_lb, row->enthalpy, 1e-3);
	ck_assert_double_eq_tol(air->specific_volume_ft3_lb, row->volume, 1e-4);
	ck_assert_double_eq_tol(air->density_lb_ft3, row->density, 1e-6);
	ck_assert_double_eq(air->pressure_psia, row->psia);
}

START_TEST(relative_humidity_agrees_with_the_reference_library)
{
	struct moist_air air;

	for (size_t i = 0; i < sizeof grid / sizeof *grid; i++)
		check_row(&grid[i], moist_air_from_relative_humidity(grid[i].dry_bulb,
		          grid[i].humidity, grid[i].psia, &air), &air);
}
END_TEST

START_TEST(dew_point_agrees_with_the_reference_library)
{
	struct moist_air air;

	for (size_t i = 0; i < sizeof grid / sizeof *grid; i++)
		check_row(&grid[i], moist_air_from_dew_point(grid[i].dry_bulb,
		          grid[i].dew_point, grid[i].psia, &air), &air);
}
END_TEST

/*
 * Over ice the wet-bulb equation does not quite close at saturation: 30 °F
 * and 30 °F give 99.990 % in the library too, so that its grid, made from
 * relative humidity, does not lead back there exactly.
 */
static bool is_closed(const struct moist_air_row *row)
{
	return row->dry_bulb > 32 || row->humidity < 100;
}

START_TEST(wet_bulb_agrees_with_the_reference_library)
{
	struct moist_air air;

	for (size_t i = 0; i < sizeof grid / sizeof *grid; i++) {
		enum status status = moist_air_from_wet_bulb(grid[i].dry_bulb,
			grid[i].wet_bulb, grid[i].psia, &air);
		if (grid[i].dry_bulb >= 20 && is_closed(&grid[i]))
			check_row(&grid[i], status, &air);
		ck_assert_int_eq(status, STATUS_OK);
		ck_assert_double_eq_tol(air.relative_humidity, grid[i].humidity, 0.01);
	}
}
END_TEST

START_TEST(the_other_pairs_agree_with_the_reference_library)
{
	struct moist_air air;

	for (size_t i = 0; i < sizeof grid / sizeof *grid; i++) {
		const struct moist_air_row *row = &grid[i];
		if (row->dry_bulb < 0 || !is_closed(row))
			continue;
		check_row(row, moist_air_from_wet_bulb_and_relative_humidity(row->wet_bulb,
		          row->humidity, row->psia, &air), &air);
		check_row(row, moist_air_from_wet_bulb_and_dew_point(row->wet_bulb,
		          fmin(row->dew_point, row->wet_bulb), row->psia, &air), &air);
		check_row(row, moist_air_from_dew_point_and_relative_humidity(row->dew_point,
		          row->humidity, row->psia, &air), &air);
		check_row(row, moist_air_from_humidity_ratio(row->dry_bulb,
		          row->ratio * (1 - 1e-6), row->psia, &air), &air);
	}
}
END_TEST

/*
 * ASHRAE Handbook—Fundamentals, Psychrometrics, table 3 "Thermodynamic
 * properties of water at saturation", psia [from memory].
 */
static const struct {
	double temp_f, psia;
} steam[] = {
	{ 32.018, 0.08866 }, { 40, 0.12172 }, { 50, 0.17813 }, { 60, 0.25639 },
	{ 70, 0.36328 }, { 80, 0.50744 }, { 100, 0.95044 }, { 120, 1.69477 },
};

START_TEST(saturation_agrees_with_the_handbook)
{
	double psia;

	ck_assert_int_eq(moist_air_saturation_pressure(steam[_i].temp_f, &psia), STATUS_OK);
	ck_assert_double_eq_tol(psia, steam[_i].psia, 0.0008 * steam[_i].psia);
}
END_TEST

/*
 * ASHRAE Handbook—Fundamentals, Psychrometrics, table 2 "Moist air at
 * standard atmospheric pressure", saturated [from memory].  The table is of
 * the real gas: the ideal-gas equations lie up to 0.7 % below its humidity
 * ratio, and 0.2 % beside its enthalpy from 50 °F up.
 */
static const struct {
	double temp_f, ratio, enthalpy, volume;
} saturated_air[] = {
	{ 40, 0.005216, 15.233, 12.695 }, { 50, 0.007661, 20.301, 12.999 },
	{ 60, 0.011087, 26.467, 13.329 }, { 70, 0.015832, 34.105, 13.688 },
	{ 80, 0.022340, 43.701, 14.096 }, { 90, 0.031203, 55.935, 14.565 },
};

START_TEST(saturated_air_agrees_with_the_handbook)
{
	struct moist_air air;

	ck_assert_int_eq(moist_air_from_relative_humidity(saturated_air[_i].temp_f, 100,
	                 SEA_LEVEL, &air), STATUS_OK);
	ck_assert_double_eq_tol(air.humidity_ratio, saturated_air[_i].ratio,
	                        0.007 * saturated_air[_i].ratio);
	ck_assert_double_eq_tol(air.enthalpy_btu_lb, saturated_air[_i].enthalpy,
	                        0.006 * saturated_air[_i].enthalpy);
	ck_assert_double_eq_tol(air.specific_volume_ft3_lb, saturated_air[_i].volume, 0.03);
	ck_assert_double_eq_tol(air.wet_bulb_f, saturated_air[_i].temp_f, 1e-6);
}
END_TEST

/*
 * ASHRAE Handbook—Fundamentals (2013), chapter 1, example 1: 100 °F dry bulb,
 * 65 °F wet bulb at 14.696 psia: W 0.00523, h 29.80, dew point 40, RH 13 %,
 * v 14.22, read there from the chart, which is of the real gas [from memory].
 */
START_TEST(the_worked_example_of_the_handbook_comes_out)
{
	struct moist_air air;

	ck_assert_int_eq(moist_air_from_wet_bulb(100, 65, SEA_LEVEL, &air), STATUS_OK);
	ck_assert_double_eq_tol(air.humidity_ratio, 0.00523, 0.00005);
	ck_assert_double_eq_tol(air.enthalpy_btu_lb, 29.80, 0.08);
	ck_assert_double_eq_tol(air.dew_point_f, 40, 0.3);
	ck_assert_double_eq_tol(air.relative_humidity, 13, 0.5);
	ck_assert_double_eq_tol(air.specific_volume_ft3_lb, 14.22, 0.01);
}
END_TEST

/*
 * At 32 °F the wick is wet (ASHRAE Handbook—Fundamentals, chapter 1, equations 33 and 35): 0.08865
 * psia of saturation, 0.0037746 saturated, (1075.208 x 0.0037746 - 0.240 x 8) / 1078.76 by hand.  Ice
 * would be 0.00219.
 */
START_TEST(at_freezing_the_wick_is_wet)
{
	struct moist_air air;

	ck_assert_int_eq(moist_air_from_wet_bulb(40, 32, SEA_LEVEL, &air), STATUS_OK);
	ck_assert_double_eq_tol(air.humidity_ratio, 0.0019823, 2e-6);
}
END_TEST

/* The rated return air of AHRI 210/240: 80/67 °F is 51 % RH, 31.4 Btu/lb [practice]. */
START_TEST(rated_return_air_comes_out)
{
	struct moist_air air;

	ck_assert_int_eq(moist_air_from_wet_bulb(80, 67, SEA_LEVEL, &air), STATUS_OK);
	ck_assert_double_eq_tol(air.relative_humidity, 51.1, 0.3);
	ck_assert_double_eq_tol(air.enthalpy_btu_lb, 31.45, 0.1);
}
END_TEST

START_TEST(saturation_at_an_enthalpy_is_the_inverse)
{
	struct moist_air air;
	double temp_f;

	for (double wanted = -10; wanted <= 110; wanted += 2.5) {
		ck_assert_int_eq(moist_air_from_relative_humidity(wanted, 100, 12.2, &air), STATUS_OK);
		ck_assert_int_eq(moist_air_saturated_at_enthalpy(air.enthalpy_btu_lb, 12.2, &temp_f),
		                 STATUS_OK);
		ck_assert_double_eq_tol(temp_f, wanted, 1e-5);
	}
	ck_assert_int_eq(moist_air_saturated_at_enthalpy(1e6, 12.2, &temp_f), STATUS_OUT_OF_RANGE);
	ck_assert(isnan(temp_f));
}
END_TEST

typedef enum status (*pair_function)(double, double, double, struct moist_air *);

static const struct {
	pair_function function;
	double first, second, psia;
	enum status status;
} bad[] = {
	{ moist_air_from_wet_bulb, 75, 75.1, SEA_LEVEL, STATUS_WET_BULB_ABOVE_DRY_BULB },
	{ moist_air_from_wet_bulb, 110, 40, SEA_LEVEL, STATUS_WET_BULB_TOO_LOW },
	{ moist_air_from_wet_bulb, NAN, 60, SEA_LEVEL, STATUS_NOT_A_NUMBER },
	{ moist_air_from_wet_bulb, 75, INFINITY, SEA_LEVEL, STATUS_NOT_A_NUMBER },
	{ moist_air_from_wet_bulb, 75, 60, -1, STATUS_OUT_OF_RANGE },
	{ moist_air_from_wet_bulb, 75, 60, 0, STATUS_OUT_OF_RANGE },
	{ moist_air_from_wet_bulb, 75, -120, SEA_LEVEL, STATUS_OUT_OF_RANGE },
	{ moist_air_from_relative_humidity, 75, 100.1, SEA_LEVEL, STATUS_HUMIDITY_RANGE },
	{ moist_air_from_relative_humidity, 75, -1, SEA_LEVEL, STATUS_HUMIDITY_RANGE },
	{ moist_air_from_relative_humidity, 200, 100, 10, STATUS_OUT_OF_RANGE },
	{ moist_air_from_relative_humidity, 1e9, 50, 14.7, STATUS_OUT_OF_RANGE },
	{ moist_air_from_dew_point, 60, 61, SEA_LEVEL, STATUS_DEW_POINT_ABOVE_DRY_BULB },
	{ moist_air_from_wet_bulb_and_dew_point, 60, 61, SEA_LEVEL,
	  STATUS_DEW_POINT_ABOVE_WET_BULB },
	/* Water boils at 170 °F under 6 psia; and what no wick shows. */
	{ moist_air_from_wet_bulb_and_dew_point, 190, 60, 6, STATUS_OUT_OF_RANGE },
	{ moist_air_from_wet_bulb_and_dew_point, 60, -120, SEA_LEVEL, STATUS_OUT_OF_RANGE },
	{ moist_air_from_wet_bulb_and_dew_point, 250, 60, SEA_LEVEL, STATUS_OUT_OF_RANGE },
	{ moist_air_from_dew_point_and_relative_humidity, 60, 0, SEA_LEVEL,
	  STATUS_HUMIDITY_RANGE },
	{ moist_air_from_humidity_ratio, 60, 0.05, SEA_LEVEL, STATUS_OUT_OF_RANGE },
	{ moist_air_from_humidity_ratio, 60, -0.001, SEA_LEVEL, STATUS_OUT_OF_RANGE },
};

START_TEST(bad_readings_are_refused)
{
	struct moist_air air = { .wet_bulb_f = 7 };

	ck_assert_int_eq(bad[_i].function(bad[_i].first, bad[_i].second, bad[_i].psia, &air),
	                 bad[_i].status);
	ck_assert(isnan(air.dry_bulb_f) && isnan(air.wet_bulb_f) && isnan(air.density_lb_ft3));
}
END_TEST

START_TEST(bone_dry_air_has_a_state)
{
	struct moist_air air;

	ck_assert_int_eq(moist_air_from_relative_humidity(75, 0, SEA_LEVEL, &air), STATUS_OK);
	ck_assert_double_eq(air.relative_humidity, 0);
	ck_assert(air.wet_bulb_f > 40 && air.wet_bulb_f < 50);
}
END_TEST

/* Wet bulb rises with humidity on either side of freezing; no search ends astray. */
START_TEST(wet_bulb_rises_with_humidity)
{
	struct moist_air air;

	for (double dry_bulb = -40; dry_bulb <= 150; dry_bulb += 1.7) {
		double before = -INFINITY;
		for (double humidity = 0; humidity <= 100; humidity += 0.5) {
			ck_assert_int_eq(moist_air_from_relative_humidity(dry_bulb, humidity,
			                 12.0, &air), STATUS_OK);
			ck_assert(air.wet_bulb_f <= dry_bulb && air.wet_bulb_f >= air.dew_point_f - 1e-6);
			if (air.wet_bulb_f < 31 || before > 33)
				ck_assert_double_gt(air.wet_bulb_f, before);
			before = air.wet_bulb_f;
		}
	}
}
END_TEST

Suite *moist_air_suite(void)
{
	Suite *suite = suite_create("moist_air");
	TCase *tests = tcase_create("moist_air");

	tcase_add_test(tests, relative_humidity_agrees_with_the_reference_library);
	tcase_add_test(tests, dew_point_agrees_with_the_reference_library);
	tcase_add_test(tests, wet_bulb_agrees_with_the_reference_library);
	tcase_add_test(tests, the_other_pairs_agree_with_the_reference_library);
	tcase_add_loop_test(tests, saturation_agrees_with_the_handbook, 0,
	                    sizeof steam / sizeof *steam);
	tcase_add_loop_test(tests, saturated_air_agrees_with_the_handbook, 0,
	                    sizeof saturated_air / sizeof *saturated_air);
	tcase_add_test(tests, the_worked_example_of_the_handbook_comes_out);
	tcase_add_test(tests, at_freezing_the_wick_is_wet);
	tcase_add_test(tests, rated_return_air_comes_out);
	tcase_add_test(tests, saturation_at_an_enthalpy_is_the_inverse);
	tcase_add_loop_test(tests, bad_readings_are_refused, 0, sizeof bad / sizeof *bad);
	tcase_add_test(tests, bone_dry_air_has_a_state);
	tcase_add_test(tests, wet_bulb_rises_with_humidity);
	suite_add_tcase(suite, tests);
	return suite;
}
