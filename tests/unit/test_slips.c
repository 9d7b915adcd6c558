/*
 * What is asked about beside another value.  Common practice: a run capacitor at a tenth of its
 * mark is mostly a slip of the decimal point; residential units hold 2 to 4 lb a ton.
 */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/model/slips.h>
#include <padside/report/wording.h>

#include "support/judged.h"

/* Each was kept as the fraction: 0.4 psig, 0.5 V, 0.50 ohm, 0.9 A, with all that followed of it. */
START_TEST(with_a_stroke_two_readings_are_told)
{
	static const struct {
		enum reading reading;
		const char *typed;
	} two[] = {
		{ READING_SUCTION_PRESSURE, "150/410" },   { READING_LIQUID_PRESSURE, "150/410" },
		{ READING_LINE_VOLTAGE, "120/240" },       { READING_COMMON_RUN_RESISTANCE, "1/2" },
		{ READING_COMMON_AMPS, "12/13" },          { READING_LINE_VOLTAGE, "120 / 240 V" },
		{ READING_SUCTION_PRESSURE, "118.5/410" }, { READING_RETURN_DB, "64/76" },
	};
	struct error error = { .text = "" };
	struct value value;

	for (size_t i = 0; i < sizeof two / sizeof *two; i++) {
		ck_assert_int_eq(reading_parse(two[i].reading, two[i].typed, UNITS_US, &value, &error),
		                 STATUS_NOT_A_NUMBER);
		ck_assert_msg(strstr(error.text, " is two values; type that of "), "%s", error.text);
	}
}
END_TEST

/* The commonest text of a plate (common practice): it was called out of 90 to 700 V. */
START_TEST(a_plate_of_two_voltages_asks_for_the_supply)
{
	struct error error = { .text = "" };
	struct value value;

	ck_assert_int_eq(reading_parse(READING_RATED_VOLTAGE, "208/230", UNITS_US, &value, &error),
	                 STATUS_NOT_A_NUMBER);
	ck_assert_str_eq(error.text, "\"208/230\" is two values; type the voltage of the supply here");
}
END_TEST

Suite *slips_suite(void);

static const struct {
	const char *readings; /* what stands on the call */
	enum reading typed;   /* and which of it was typed now */
	const char *asked;    /* words of the question; NULL: none */
} rows[] = {
	{ "compressor_capacitor_rated=45, compressor_capacitance=4.1", READING_COMPRESSOR_CAPACITANCE,
	  "4.1 µF is about a tenth of the 45.0 µF" },
	{ "compressor_capacitor_rated=4.5, compressor_capacitance=44", READING_COMPRESSOR_CAPACITOR_RATED,
	  "ten times the" },
	{ "compressor_capacitor_rated=45, compressor_capacitance=27", READING_COMPRESSOR_CAPACITANCE, NULL },
	{ "compressor_capacitor_rated=45, compressor_capacitance=0.4", READING_COMPRESSOR_CAPACITANCE, NULL },
	{ "compressor_capacitance=4.1", READING_COMPRESSOR_CAPACITANCE, NULL },
	{ "fan_capacitor_rated=5, fan_capacitance=49", READING_FAN_CAPACITANCE, "ten times the" },
	{ "compressor_rla=14.1, common_amps=118", READING_COMMON_AMPS, "ten times the" },
	{ "compressor_rla=14.1, common_amps=70", READING_COMMON_AMPS, NULL },
	{ "nominal_capacity=3, factory_charge=6", READING_FACTORY_CHARGE, "Type the unit behind" },
	{ "nominal_capacity=3, factory_charge=6", READING_NOMINAL_CAPACITY, "Type the unit behind" },
	{ "factory_charge=6", READING_FACTORY_CHARGE, "a charge of 6.0 oz? Usual are 2 to 4 lb a ton. "
	  "Type the unit behind the number: 6 lb 8 oz." },
	{ "nominal_capacity=3, factory_charge=104", READING_FACTORY_CHARGE, NULL },
	/* NEC 440.22 and the nameplate: the largest device is a limit. */
	{ "max_overcurrent=40, breaker_installed=50", READING_BREAKER_INSTALLED,
	  "50 A is larger than the 40 A that the nameplate allows" },
	{ "max_overcurrent=40, breaker_installed=50", READING_MAX_OVERCURRENT, "licensed electrician" },
	{ "max_overcurrent=40, breaker_installed=40", READING_BREAKER_INSTALLED, NULL },
	{ "breaker_installed=50", READING_BREAKER_INSTALLED, NULL },
	/* Physics: in star and in delta one pair reads at most the sum of the other two. */
	{ "compressor_motor=three_phase, winding_ab=0.27, winding_bc=0.27, winding_ca=2.70", READING_WINDING_CA,
	  "2.70 Ω is more than the other two together: decimal point or a bad contact?" },
	{ "compressor_motor=three_phase, winding_ab=2.70, winding_bc=0.27, winding_ca=0.27", READING_WINDING_BC,
	  "2.70 Ω is more than the other two together" },
	{ "compressor_motor=three_phase, winding_ab=0.27, winding_bc=2.70, winding_ca=0.27", READING_WINDING_AB,
	  "2.70 Ω is more than the other two together" },
	{ "compressor_motor=three_phase, winding_ab=0.27, winding_bc=0.27, winding_ca=0.54", READING_WINDING_CA,
	  NULL },
	{ "compressor_motor=three_phase, winding_ab=2.7, winding_bc=2.7, winding_ca=4.1", READING_WINDING_CA, NULL },
	{ "compressor_motor=three_phase, winding_ab=0.27, winding_ca=2.70", READING_WINDING_CA, NULL },
	{ "compressor_motor=three_phase, winding_ab=0.27, winding_bc=OL, winding_ca=OL", READING_WINDING_CA, NULL },
	/* 500 V suits 208 to 600 V motors (a chiller maker); twice the rated voltage (a trade school). */
	{ "rated_voltage=208, insulation_test_volts=1000", READING_INSULATION_TEST_VOLTS,
	  "500 V is usual; above about twice the rated voltage the test may harm" },
	{ "rated_voltage=460, insulation_test_volts=1000", READING_RATED_VOLTAGE, "tested at 1000 V?" },
	{ "insulation_test_volts=1000", READING_INSULATION_TEST_VOLTS, "500 V is usual" },
	{ "rated_voltage=208, insulation_test_volts=500", READING_INSULATION_TEST_VOLTS, NULL },
	{ "rated_voltage=575, insulation_test_volts=1000", READING_INSULATION_TEST_VOLTS, NULL },
	{ "insulation_test_volts=9", READING_INSULATION_TEST_VOLTS, NULL },
	{ "nominal_capacity=3, factory_charge=640", READING_FACTORY_CHARGE, "Type the unit behind" },
};

static bool ask(const struct visit *visit, enum reading typed, enum unit_system units, char *question,
                size_t size)
{
	struct slip slip;

	if (!slip_find(visit, STAGE_AS_FOUND, typed, &slip))
		return false;
	wording_slip(visit, STAGE_AS_FOUND, &slip, units, question, size);
	return true;
}

/* 2 lb a ton are 907 g for 3.517 kW (NIST SP 811). */
START_TEST(a_charge_is_asked_about_in_the_readers_units)
{
	static struct judged judged;
	char question[200] = "";

	judge(&judged, STAGE_AS_FOUND, "nominal_capacity=3, factory_charge=6");
	ck_assert(ask(&judged.visit, READING_FACTORY_CHARGE, UNITS_SI, question, sizeof question));
	ck_assert_str_eq(question, "a charge of 170 g? Usual are 0.26 to 0.52 kg a kW. Type the unit "
	                 "behind the number: 2.9 kg.");
}
END_TEST

START_TEST(a_likely_slip_is_asked_about)
{
	static struct judged judged;
	char question[200] = "";

	judge(&judged, STAGE_AS_FOUND, rows[_i].readings);
	bool asks = ask(&judged.visit, rows[_i].typed, UNITS_US, question, sizeof question);
	ck_assert_msg(asks == (rows[_i].asked != NULL), "%s: \"%s\"", rows[_i].readings, question);
	if (asks)
		ck_assert_msg(strstr(question, rows[_i].asked), "%s: \"%s\"", rows[_i].readings, question);
}
END_TEST

/*
 * Between which shares of its rating a reading lies, and so a tenth and ten times of it, at both
 * ends: cans lose up to a third and gain a tenth; compressors draw 0.8 to 1.1 of RLA at a usual load,
 * other motors 0.6 to 1.1 of FLA (common practice).
 */
static const struct {
	const char *rated, *measured; /* key and rating; key */
	double low, high;             /* shares */
} pairs[] = {
	{ "compressor_capacitor_rated", "compressor_capacitance", 0.7, 1.15 },
	{ "fan_capacitor_rated", "fan_capacitance", 0.7, 1.15 },
	{ "blower_capacitor_rated", "blower_capacitance", 0.7, 1.15 },
	{ "compressor_rla", "common_amps", 0.8, 1.1 }, { "fan_motor_fla", "fan_amps", 0.6, 1.1 },
	{ "blower_motor_fla", "blower_amps", 0.6, 1.1 },
};

static bool asks_at(int pair, double share)
{
	static struct judged judged;
	char readings[160], question[200];

	snprintf(readings, sizeof readings, "%s=5, %s=%.4f", pairs[pair].rated, pairs[pair].measured,
	         5 * share);
	judge(&judged, STAGE_AS_FOUND, readings);
	return ask(&judged.visit, reading_from_key(pairs[pair].measured), UNITS_US, question,
	           sizeof question);
}

START_TEST(a_slip_is_a_tenth_or_ten_times_of_what_is_usual)
{
	for (int power = -1; power <= 1; power += 2) {
		double times = power < 0 ? 0.1 : 10;
		ck_assert_msg(asks_at(_i, times * (pairs[_i].low + 0.02)), "%s", pairs[_i].measured);
		ck_assert_msg(asks_at(_i, times * (pairs[_i].high - 0.02)), "%s", pairs[_i].measured);
		ck_assert_msg(!asks_at(_i, times * (pairs[_i].low - 0.02)), "%s", pairs[_i].measured);
		ck_assert_msg(!asks_at(_i, times * (pairs[_i].high + 0.02)), "%s", pairs[_i].measured);
	}
	ck_assert(!asks_at(_i, pairs[_i].low) && !asks_at(_i, 1) && !asks_at(_i, pairs[_i].high));
}
END_TEST

/* A can is marked 45/5; it was kept as 9.0 µF. */
START_TEST(two_values_are_no_fraction)
{
	struct error error = { .text = "" };
	struct value value;

	ck_assert_int_eq(reading_parse(READING_COMPRESSOR_CAPACITOR_RATED, "45/5", UNITS_US, &value,
	                               &error), STATUS_NOT_A_NUMBER);
	ck_assert(strstr(error.text, "is two values; type that of run capacitor, rated here"));
	ck_assert_int_eq(reading_parse(READING_RETURN_DB, "76/64", UNITS_US, &value, &error),
	                 STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(reading_parse(READING_LIQUID_LINE_OD, "3/8", UNITS_US, &value, &error),
	                 STATUS_OK);
}
END_TEST

Suite *slips_suite(void)
{
	Suite *suite = suite_create("slips");
	TCase *asked = tcase_create("asked");

	tcase_add_test(asked, a_charge_is_asked_about_in_the_readers_units);
	tcase_add_loop_test(asked, a_likely_slip_is_asked_about, 0, (int)(sizeof rows / sizeof *rows));
	tcase_add_loop_test(asked, a_slip_is_a_tenth_or_ten_times_of_what_is_usual, 0,
	                    (int)(sizeof pairs / sizeof *pairs));
	tcase_add_test(asked, two_values_are_no_fraction);
	tcase_add_test(asked, with_a_stroke_two_readings_are_told);
	tcase_add_test(asked, a_plate_of_two_voltages_asks_for_the_supply);
	suite_add_tcase(suite, asked);
	return suite;
}
