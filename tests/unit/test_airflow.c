/*
 * Air and heat against the trade's sea-level factors, hand calculations on
 * the handbook's equations, and a season's energy.
 */
#include <check.h>
#include <math.h>

#include <padside/calc/airflow.h>
#include <padside/calc/seasonal.h>

Suite *airflow_suite(void);

#define SEA_LEVEL MOIST_AIR_SEA_LEVEL_PSIA

static struct moist_air air_of(double dry_bulb_f, double humidity, double psia)
{
	struct moist_air air;

	ck_assert_int_eq(moist_air_from_relative_humidity(dry_bulb_f, humidity, psia, &air),
	                 STATUS_OK);
	return air;
}

/* Standard air of the trade, 0.075 lb/ft³ and 0.24 Btu/lb°F, is dry air of 70 °F: 1.08. */
START_TEST(sensible_factor_is_1_08_of_standard_air)
{
	struct moist_air air = air_of(70, 0, SEA_LEVEL);
	double out;

	ck_assert_int_eq(airflow_heat_factor(&air, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 1.08, 0.003);
	ck_assert_int_eq(airflow_sensible_heat(1000, &air, 20, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 21600, 60);
	ck_assert_int_eq(airflow_sensible_heat(1000, &air, -20, &out), STATUS_OK);
	ck_assert_double_lt(out, 0);
}
END_TEST

/*
 * The trade's total heat factor of 4.5 is 60 · 0.075; of real return air at
 * 80/67 °F a pound fills 13.84 ft³ (handbook chart), hence 4.34.
 */
START_TEST(total_factor_is_4_5_of_standard_air)
{
	struct moist_air warm = air_of(70, 0, SEA_LEVEL), cold = air_of(60, 0, SEA_LEVEL);
	double out;

	ck_assert_int_eq(airflow_total_heat(1000, &warm, &cold, &out), STATUS_OK);
	ck_assert_double_eq_tol(out / 1000 / 2.4, 4.5, 0.01);
	ck_assert_int_eq(moist_air_from_wet_bulb(80, 67, SEA_LEVEL, &warm), STATUS_OK);
	ck_assert_int_eq(moist_air_from_wet_bulb(59, 57, SEA_LEVEL, &cold), STATUS_OK);
	ck_assert_int_eq(airflow_total_heat(1200, &warm, &cold, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 60 * 1200 / 13.84
	                        * (warm.enthalpy_btu_lb - cold.enthalpy_btu_lb), 50);
}
END_TEST

/* Common practice tables give 0.83 of the sea-level factor at 5,000 ft (12.23 psia). */
START_TEST(factor_falls_with_altitude)
{
	struct moist_air low = air_of(70, 40, SEA_LEVEL), high = air_of(70, 40, 12.23);
	double at_sea, at_height;

	ck_assert_int_eq(airflow_heat_factor(&low, &at_sea), STATUS_OK);
	ck_assert_int_eq(airflow_heat_factor(&high, &at_height), STATUS_OK);
	ck_assert_double_eq_tol(at_height / at_sea, 0.83, 0.005);
}
END_TEST

/*
 * A 100,000 Btu/h furnace of 80 % gives 80,000; a rise of 60 °F at sea level
 * is 80,000 / (1.08 · 60) = 1235 cfm (the trade's formula; 10 kW of strips
 * and 20 °F, 1580 cfm).
 */
START_TEST(airflow_from_the_rise_of_a_heater)
{
	struct moist_air air = air_of(70, 0, SEA_LEVEL);
	double output, cfm;

	ck_assert_int_eq(airflow_heat_output_gas(100000, 80, &output), STATUS_OK);
	ck_assert_double_eq_tol(output, 80000, 1e-9);
	ck_assert_int_eq(airflow_from_heat_rise(output, 60, &air, &cfm), STATUS_OK);
	ck_assert_double_eq_tol(cfm, 1235, 4);
	ck_assert_int_eq(airflow_heat_output_electric(10, &output), STATUS_OK);
	ck_assert_double_eq_tol(output, 34121, 1);
	ck_assert_int_eq(airflow_from_heat_rise(output, 20, &air, &cfm), STATUS_OK);
	ck_assert_double_eq_tol(cfm, 1580, 5);
	ck_assert_int_eq(airflow_from_heat_rise(output, 0, &air, &cfm), STATUS_NOT_POSITIVE);
	ck_assert(isnan(cfm));
	ck_assert_int_eq(airflow_heat_output_gas(100000, 180, &output), STATUS_OUT_OF_RANGE);
	ck_assert(isnan(output));
}
END_TEST

START_TEST(airflow_from_capacity_is_the_inverse)
{
	struct moist_air entering = air_of(78, 50, 12.6), leaving = air_of(57, 90, 12.6);
	double btu_h, cfm, sensible, ratio;

	ck_assert_int_eq(airflow_total_heat(1130, &entering, &leaving, &btu_h), STATUS_OK);
	ck_assert_int_eq(airflow_from_capacity(btu_h, &entering, &leaving, &cfm), STATUS_OK);
	ck_assert_double_eq_tol(cfm, 1130, 1e-6);
	ck_assert_int_eq(airflow_sensible_ratio(&entering, &leaving, &ratio), STATUS_OK);
	ck_assert_int_eq(airflow_sensible_heat(1130, &entering, 21, &sensible), STATUS_OK);
	ck_assert_double_eq_tol(sensible / btu_h, ratio, 0.005);
	ck_assert(ratio > 0.6 && ratio < 0.9);
	ck_assert_int_eq(airflow_from_capacity(btu_h, &leaving, &entering, &cfm),
	                 STATUS_NOT_POSITIVE);
	ck_assert(isnan(cfm));
	ck_assert_int_eq(airflow_sensible_ratio(&leaving, &entering, &ratio), STATUS_NOT_POSITIVE);
	ck_assert(isnan(ratio));
}
END_TEST

START_TEST(static_pressures_add_however_they_are_signed)
{
	double out;

	ck_assert_int_eq(airflow_total_static(0.25, -0.31, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 0.56, 1e-12);
	ck_assert_int_eq(airflow_total_static(0.25, 0.31, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 0.56, 1e-12);
	ck_assert_int_eq(airflow_total_static(NAN, 0.31, &out), STATUS_NOT_A_NUMBER);
	ck_assert(isnan(out));
}
END_TEST

START_TEST(bad_air_and_flows_are_refused)
{
	struct moist_air good = air_of(75, 50, SEA_LEVEL), failed;
	double out;

	ck_assert_int_ne(moist_air_from_wet_bulb(60, 70, SEA_LEVEL, &failed), STATUS_OK);
	ck_assert_int_eq(airflow_total_heat(1000, &good, &failed, &out), STATUS_NOT_A_NUMBER);
	ck_assert(isnan(out));
	ck_assert_int_eq(airflow_sensible_heat(-1, &good, 20, &out), STATUS_NEGATIVE);
	ck_assert(isnan(out));
	ck_assert_int_eq(airflow_from_heat_rise(-1, 20, &good, &out), STATUS_NEGATIVE);
	ck_assert_int_eq(airflow_heat_output_electric(NAN, &out), STATUS_NOT_A_NUMBER);
	ck_assert(isnan(out));
}
END_TEST

/* A refusal names its reason, and the first that is wrong is named. */
START_TEST(a_refusal_of_air_names_its_reason)
{
	struct moist_air good = air_of(75, 50, SEA_LEVEL), cold = air_of(57, 90, SEA_LEVEL), bad;
	double out;

	ck_assert_int_ne(moist_air_from_wet_bulb(60, 70, SEA_LEVEL, &bad), STATUS_OK);
	ck_assert_int_eq(airflow_sensible_heat(1000, &good, NAN, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_sensible_heat(1000, &bad, 20, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_sensible_heat(NAN, &good, 20, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_sensible_heat(-1, &good, NAN, &out), STATUS_NEGATIVE);
	ck_assert_int_eq(airflow_sensible_heat(0, &good, 20, &out), STATUS_OK);
	ck_assert_double_eq(out, 0);
	ck_assert_int_eq(airflow_total_heat(-1, &good, &cold, &out), STATUS_NEGATIVE);
	ck_assert_int_eq(airflow_total_heat(1000, &bad, &cold, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_from_heat_rise(80000, NAN, &good, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_from_heat_rise(80000, -20, &good, &out), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(airflow_from_heat_rise(80000, 20, &bad, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_from_heat_rise(NAN, 20, &good, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_from_capacity(-1, &good, &cold, &out), STATUS_NEGATIVE);
	ck_assert_int_eq(airflow_from_capacity(36000, &good, &good, &out), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(airflow_from_capacity(36000, &bad, &cold, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_sensible_ratio(&good, &good, &out), STATUS_NOT_POSITIVE);
	ck_assert_int_eq(airflow_sensible_ratio(&good, &bad, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_heat_output_gas(100000, 100, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 100000, 1e-6);
	ck_assert_int_eq(airflow_heat_output_gas(100000, 100.5, &out), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(airflow_heat_output_gas(100000, -1, &out), STATUS_NEGATIVE);
	ck_assert_int_eq(airflow_heat_output_gas(100000, NAN, &out), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(airflow_heat_output_gas(-1, 80, &out), STATUS_NEGATIVE);
	ck_assert_int_eq(airflow_heat_output_electric(-1, &out), STATUS_NEGATIVE);
}
END_TEST

/* By hand, from the definition of SEER: 3 tons, 1,000 h, SEER 10: 3,600 kWh. */
/* By hand: 80 to 78 °F without a drop less of water is sensible heat alone, however little. */
START_TEST(little_heat_is_sensible_heat_too)
{
	struct moist_air entering, leaving;
	double ratio;

	ck_assert_int_eq(moist_air_from_humidity_ratio(80, 0.01, 14.696, &entering), STATUS_OK);
	ck_assert_int_eq(moist_air_from_humidity_ratio(78, 0.01, 14.696, &leaving), STATUS_OK);
	ck_assert_double_lt(entering.enthalpy_btu_lb - leaving.enthalpy_btu_lb, 1);
	ck_assert_int_eq(airflow_sensible_ratio(&entering, &leaving, &ratio), STATUS_OK);
	ck_assert_double_eq_tol(ratio, 1, 1e-9);
	ck_assert_int_eq(airflow_from_capacity(1000, &entering, &leaving, &ratio), STATUS_OK);
	ck_assert_int_eq(airflow_sensible_ratio(&entering, &entering, &ratio), STATUS_NOT_POSITIVE);
	ck_assert(isnan(ratio));
}
END_TEST

START_TEST(energy_of_a_season)
{
	double out;

	ck_assert_int_eq(seasonal_energy(3, 1000, 10, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 3600, 1e-9);
	ck_assert_int_eq(seasonal_energy(3, 1000, 0, &out), STATUS_NOT_POSITIVE);
	ck_assert(isnan(out));
	ck_assert_int_eq(seasonal_energy(3, -1, 10, &out), STATUS_NEGATIVE);
	ck_assert_int_eq(seasonal_energy(NAN, 1, 10, &out), STATUS_NOT_A_NUMBER);
}
END_TEST

Suite *airflow_suite(void)
{
	Suite *suite = suite_create("airflow");
	TCase *tests = tcase_create("airflow");

	tcase_add_test(tests, sensible_factor_is_1_08_of_standard_air);
	tcase_add_test(tests, total_factor_is_4_5_of_standard_air);
	tcase_add_test(tests, factor_falls_with_altitude);
	tcase_add_test(tests, airflow_from_the_rise_of_a_heater);
	tcase_add_test(tests, airflow_from_capacity_is_the_inverse);
	tcase_add_test(tests, static_pressures_add_however_they_are_signed);
	tcase_add_test(tests, bad_air_and_flows_are_refused);
	tcase_add_test(tests, a_refusal_of_air_names_its_reason);
	tcase_add_test(tests, little_heat_is_sensible_heat_too);
	tcase_add_test(tests, energy_of_a_season);
	suite_add_tcase(suite, tests);
	return suite;
}
