/* Barometric pressure and gauge pressures. */
#include <check.h>
#include <math.h>

#include <padside/calc/barometer.h>

Suite *barometer_suite(void);

/*
 * ASHRAE Handbook, Fundamentals, chapter "Psychrometrics", table "Standard
 * Atmospheric Data for Altitudes to 30,000 ft" (psia to three decimals): from
 * memory.
 */
START_TEST(pressure_is_the_standard_atmosphere)
{
	static const struct {
		double altitude_ft, pressure_psia;
	} rows[] = {
		{ -1000, 15.236 }, { -500, 14.966 }, { 0, 14.696 },    { 500, 14.430 },
		{ 1000, 14.175 },  { 2000, 13.664 }, { 3000, 13.173 }, { 4000, 12.682 },
		{ 5000, 12.230 },  { 6000, 11.778 }, { 7000, 11.341 }, { 8000, 10.914 },
		{ 9000, 10.506 },  { 10000, 10.108 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double pressure_psia;

		ck_assert_int_eq(barometric_pressure_psia(rows[i].altitude_ft, &pressure_psia),
		                 STATUS_OK);
		ck_assert_double_eq_tol(pressure_psia, rows[i].pressure_psia, 0.012);
	}
}
END_TEST

START_TEST(gauge_and_absolute_differ_by_the_barometer)
{
	double value;

	ck_assert_int_eq(absolute_pressure_psia(118, 0, &value), STATUS_OK);
	ck_assert_double_eq_tol(value, 132.696, 1e-9);
	ck_assert_int_eq(absolute_pressure_psia(118, 5000, &value), STATUS_OK);
	ck_assert_double_eq_tol(value, 130.23, 0.01);
	ck_assert_int_eq(gauge_pressure_psig(value, 5000, &value), STATUS_OK);
	ck_assert_double_eq_tol(value, 118, 1e-12);
}
END_TEST

START_TEST(impossible_pressures_are_refused)
{
	static const struct {
		double pressure, altitude_ft;
		enum status absolute, gauge;
	} rows[] = {
		{ -14.7, 0, STATUS_NOT_POSITIVE, STATUS_NOT_POSITIVE },
		{ -12.5, 5000, STATUS_NOT_POSITIVE, STATUS_NOT_POSITIVE },
		{ 0, 0, STATUS_OK, STATUS_NOT_POSITIVE },
		{ NAN, 0, STATUS_NOT_A_NUMBER, STATUS_NOT_A_NUMBER },
		{ 100, NAN, STATUS_NOT_A_NUMBER, STATUS_NOT_A_NUMBER },
		{ 100, 15001, STATUS_OUT_OF_RANGE, STATUS_OUT_OF_RANGE },
		{ 100, -1501, STATUS_OUT_OF_RANGE, STATUS_OUT_OF_RANGE },
		{ 100, INFINITY, STATUS_OUT_OF_RANGE, STATUS_OUT_OF_RANGE },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double absolute = 0.0, gauge = 0.0;

		ck_assert_int_eq(absolute_pressure_psia(rows[i].pressure, rows[i].altitude_ft, &absolute),
		                 rows[i].absolute);
		ck_assert_int_eq(isnan(absolute) != 0, rows[i].absolute != STATUS_OK);
		ck_assert_int_eq(gauge_pressure_psig(rows[i].pressure, rows[i].altitude_ft, &gauge),
		                 rows[i].gauge);
		ck_assert_int_eq(isnan(gauge) != 0, rows[i].gauge != STATUS_OK);
	}
}
END_TEST

/* From 1,500 ft below the sea to 15,000 ft above it, both ends with it. */
START_TEST(the_heights_end_where_they_are_said_to)
{
	double psia, at_sea;

	/* Nothing is left of the air at the barometer's own pressure below it. */
	ck_assert_int_eq(barometric_pressure_psia(0, &at_sea), STATUS_OK);
	ck_assert_int_eq(absolute_pressure_psia(-at_sea, 0, &psia), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(absolute_pressure_psia(-at_sea + 0.001, 0, &psia), STATUS_OK);

	ck_assert_int_eq(barometric_pressure_psia(-1500, &psia), STATUS_OK);
	ck_assert_int_eq(barometric_pressure_psia(15000, &psia), STATUS_OK);
	ck_assert_int_eq(barometric_pressure_psia(-1500.1, &psia), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(barometric_pressure_psia(15000.1, &psia), STATUS_OUT_OF_RANGE);
}
END_TEST

Suite *barometer_suite(void)
{
	Suite *suite = suite_create("barometer");
	TCase *tcase = tcase_create("barometer");

	tcase_add_test(tcase, pressure_is_the_standard_atmosphere);
	tcase_add_test(tcase, gauge_and_absolute_differ_by_the_barometer);
	tcase_add_test(tcase, impossible_pressures_are_refused);
	tcase_add_test(tcase, the_heights_end_where_they_are_said_to);
	suite_add_tcase(suite, tcase);
	return suite;
}
