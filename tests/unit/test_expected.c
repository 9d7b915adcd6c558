/*
 * Weather and nameplate as the circuit's table takes them: discharge temperatures
 * against CoolProp 8.0.0, condensing temperatures against makers' tables of printed
 * pressures and the trade's rule by SEER, the house's air against the psychrometric
 * equations; what else is usual is common practice, or our own and named so.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>

#include <padside/calc/moist_air.h>

#include "diagnose/expected.h"
#include "support/judged.h"

Suite *expected_suite(void);

static struct judged judged;

static struct view look(const char *readings)
{
	judge(&judged, STAGE_AS_FOUND, readings);
	return (struct view){ .visit = &judged.visit, .stage = STAGE_AS_FOUND, .set = &judged.set };
}

/* ---- Discharge ---- */

/* Evaporating, condensing, superheat, °F. */
static const struct cycle {
	double suction, condensing, superheat;
} cycles[] = { { 30, 125, 10 }, { 50, 95, 10 }, { 40, 110, 10 }, { 40, 110, 30 } };
enum { CYCLES = sizeof cycles / sizeof *cycles };

/*
 * CoolProp 8.0.0, °F: isentropic efficiency 0.70, 8 % of the work lost from shell and
 * line, 6 °F gained in the suction line.
 */
static const struct {
	enum choice refrigerant;
	double discharge_f[CYCLES];
} reference[] = {
	{ CHOICE_REFRIGERANT_R22, { 206.3, 142.4, 174.4, 196.0 } },
	{ CHOICE_REFRIGERANT_R410A, { 199.5, 138.9, 169.2, 191.0 } },
	{ CHOICE_REFRIGERANT_R32, { 242.9, 157.8, 200.1, 224.4 } },
	/* 68.9 % R-32 and 31.1 % R-1234yf by weight (ASHRAE 34), as CoolProp mixes them. */
	{ CHOICE_REFRIGERANT_R454B, { 216.7, 149.4, 183.1, 205.4 } },
	{ CHOICE_REFRIGERANT_R134A, { 167.1, 124.1, 145.8, 165.9 } },
	{ CHOICE_REFRIGERANT_R407C, { 186.0, 132.9, 159.6, 180.4 } },
	{ CHOICE_REFRIGERANT_R404A, { 162.5, 121.7, 142.2, 161.6 } },
	{ CHOICE_REFRIGERANT_R507A, { 161.5, 121.2, 141.4, 160.7 } },
	{ CHOICE_REFRIGERANT_R290, { 165.6, 123.5, 144.8, 164.3 } },
	{ CHOICE_REFRIGERANT_R1234YF, { 146.2, 113.8, 130.0, 149.5 } },
};
enum { REFERENCES = sizeof reference / sizeof *reference };

static double discharge(enum choice refrigerant, const struct cycle *cycle)
{
	const struct discharge *row = expected_discharge(refrigerant);

	return cycle->condensing + row->at_70 +
	       row->by_lift * (cycle->condensing - cycle->suction - 70) +
	       row->by_superheat * (cycle->superheat - 10);
}

START_TEST(discharge_is_as_hot_as_the_reference_says)
{
	ck_assert_int_eq(expected_discharge(reference[_i].refrigerant)->refrigerant,
	                 reference[_i].refrigerant);
	for (int c = 0; c < CYCLES; c++)
		ck_assert_double_eq_tol(discharge(reference[_i].refrigerant, &cycles[c]),
		                        reference[_i].discharge_f[c], 1.0);
}
END_TEST

/* A blend is no hotter than the one of its parts and no colder than the other (physics). */
START_TEST(a_blend_lies_between_its_parts)
{
	for (int c = 0; c < CYCLES; c++) {
		double blend = discharge(CHOICE_REFRIGERANT_R454B, &cycles[c]);
		ck_assert_double_lt(blend, discharge(CHOICE_REFRIGERANT_R32, &cycles[c]));
		ck_assert_double_gt(blend, discharge(CHOICE_REFRIGERANT_R1234YF, &cycles[c]));
	}
}
END_TEST

/* Where the refrigerant is not known, that of most units of these years. */
START_TEST(an_unknown_refrigerant_is_taken_for_r410a)
{
	ck_assert_int_eq(expected_discharge(CHOICE_NONE)->refrigerant, CHOICE_REFRIGERANT_R410A);
}
END_TEST

/* ---- The machine ---- */

/* Our own line: on its points, between them along it, and level beyond both ends. */
static const struct {
	const char *readings;
	double condenser_f, spread_f;
} by_seer[] = {
	{ "seer=6", 28, 0 }, { "seer=8", 28, 0 }, { "seer=9", 26.25, 0 }, { "seer=10", 24.5, 0 },
	{ "seer=11.5", 21.5, 0 }, { "seer=13", 18.5, 0 }, { "seer=14.5", 16.75, 0 },
	{ "seer=16", 15, 0 }, { "seer=17", 14, 0 }, { "seer=18", 13, 0 }, { "seer=24", 13, 0 },
	/* No nameplate: the middle of 10 to 25 °F of the units in use. */
	{ "", 19.5, 4 },
};

START_TEST(a_better_condenser_condenses_nearer_to_the_air)
{
	struct view view = look(by_seer[_i].readings);
	struct machine machine;

	expected_machine(&view, true, &machine);
	ck_assert_double_eq_tol(machine.condenser_f, by_seer[_i].condenser_f, 0.01);
	ck_assert_double_eq_tol(machine.condenser_spread_f, by_seer[_i].spread_f, 0.01);
}
END_TEST

/*
 * The trade's rule by SEER: 30, 25, 20, 15 °F, and 10 less or 5 more of it; a trade
 * school's page on approach temperatures.  Makers' printed pressures of 13 SEER units
 * (XC13 506636-01, p. 28; TSA*H4 506083-01, p. 18; LRP14AC, p. 23): splits 10 to 16 °F
 * at 95 °F outdoors, heat pumps 15 to 16, packages 14 to 21.
 */
static const struct {
	int seer;
	double lowest_f, highest_f;
} by_rule[] = {
	{ 6, 20, 35 }, { 8, 20, 35 }, { 9, 20, 35 }, { 10, 15, 35 }, { 11, 15, 30 }, { 12, 15, 30 },
	{ 13, 10, 21 }, { 14, 10, 25 }, { 15, 10, 25 }, { 16, 5, 20 }, { 18, 5, 20 }, { 20, 5, 20 },
	{ 26, 5, 20 },
};

START_TEST(the_line_by_seer_keeps_to_the_rule_of_the_trade)
{
	double before = 1e9;

	for (size_t i = 0; i < sizeof by_rule / sizeof *by_rule; i++) {
		char readings[32];
		struct machine machine;
		snprintf(readings, sizeof readings, "seer=%d", by_rule[i].seer);
		struct view view = look(readings);
		expected_machine(&view, true, &machine);
		ck_assert_double_ge(machine.condenser_f, by_rule[i].lowest_f);
		ck_assert_double_le(machine.condenser_f, by_rule[i].highest_f);
		ck_assert_double_le(machine.condenser_f, before);
		before = machine.condenser_f;
	}
}
END_TEST

START_TEST(the_nameplate_comes_before_what_is_usual)
{
	struct view view = look("refrigerant=R-22, target_subcooling=8, target_approach=5, "
	                        "target_superheat_chart=17, altitude=5000");
	struct machine machine;

	expected_machine(&view, false, &machine);
	ck_assert(!machine.has_valve);
	ck_assert_int_eq(machine.refrigerant, CHOICE_REFRIGERANT_R22);
	ck_assert_double_eq_tol(machine.subcooling_f, 8, 1e-9);
	ck_assert_double_eq_tol(machine.subcooling_spread_f, 0, 1e-9);
	ck_assert_double_eq_tol(machine.approach_f, 5, 1e-9);
	ck_assert_double_eq_tol(machine.superheat_f, 17, 1e-9);
	ck_assert_double_eq_tol(machine.altitude_ft, 5000, 1e-6);
	view = look("");
	expected_machine(&view, true, &machine);
	ck_assert(machine.has_valve);
	/* Nameplates say 8 to 14 °F, most of them 10 (common practice). */
	ck_assert_double_eq_tol(machine.subcooling_f, 10.5, 1);
	ck_assert_double_eq_tol(machine.subcooling_spread_f, 1.8, 0.4);
	ck_assert(isnan(machine.approach_f) && isnan(machine.superheat_f));
	/* Between the coast and the plains (common practice). */
	ck_assert_double_eq_tol(machine.altitude_ft, 700, 100);
}
END_TEST

/* ---- The weather ---- */

START_TEST(weather_that_was_read_is_as_sure_as_the_thermometer)
{
	struct view view = look("outdoor_db=101, return_db=74, return_wb=64");
	struct weather_known weather;

	expected_weather(&view, &weather);
	ck_assert(weather.taken[0] && weather.taken[1] && weather.taken[2]);
	ck_assert_double_eq_tol(weather.value.outdoor_f, 101, 1e-9);
	ck_assert_double_eq_tol(weather.value.return_f, 74, 1e-9);
	ck_assert_double_eq_tol(weather.value.wet_bulb_f, 64, 1e-9);
	/* 1 °F is 95 % of it: half a degree is one standard deviation. */
	ck_assert_double_eq_tol(weather.spread.outdoor_f, 0.5, 0.02);
	ck_assert_double_eq_tol(weather.spread.return_f, 0.5, 0.02);
	ck_assert_double_eq_tol(weather.spread.wet_bulb_f, 0.5, 0.02);
}
END_TEST

/* A house that is cooled is at 72 to 80 °F and about half saturated (common practice). */
START_TEST(weather_that_was_not_read_is_that_of_a_warm_day)
{
	struct view view = look("");
	struct weather_known weather;
	struct moist_air air;

	expected_weather(&view, &weather);
	ck_assert(!weather.taken[0] && !weather.taken[1] && !weather.taken[2]);
	ck_assert_double_eq_tol(weather.value.outdoor_f, 88, 3);
	ck_assert_double_eq_tol(weather.spread.outdoor_f, 9, 1.5);
	ck_assert_double_eq_tol(weather.value.return_f, 76, 2);
	ck_assert_double_eq_tol(weather.spread.return_f, 3.5, 0.5);
	ck_assert_double_eq_tol(weather.spread.wet_bulb_f, 3.5, 0.5);
	ck_assert_int_eq(moist_air_from_wet_bulb(weather.value.return_f, weather.value.wet_bulb_f,
	                                         MOIST_AIR_SEA_LEVEL_PSIA, &air), STATUS_OK);
	ck_assert_double_eq_tol(air.relative_humidity, 50, 6);
	/* In a house that is warmer, the wet bulb is too. */
	view = look("return_db=84");
	expected_weather(&view, &weather);
	ck_assert(weather.taken[1] && !weather.taken[2]);
	ck_assert_double_eq_tol(weather.value.wet_bulb_f, 84 - 13, 0.01);
}
END_TEST

/* A coil at 43.3 °F: 0.47 of the way to air of 80 °F is 60.5 °F. */
START_TEST(a_dry_coil_works_on_the_dry_bulb)
{
	static const struct {
		double wet_bulb_f, works_on_f, tolerance_f;
	} rows[] = {
		{ 40, 60.55, 0.06 }, { 75, 75, 0.08 }, { 67, 67.15, 0.02 },
		/* Where both lines meet: rounded, by one degree. */
		{ 60.55, 61.55, 0.01 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct weather weather = { .outdoor_f = 95, .return_f = 80,
		                           .wet_bulb_f = rows[i].wet_bulb_f };
		ck_assert_double_eq_tol(expected_working_wet_bulb(&weather), rows[i].works_on_f,
		                        rows[i].tolerance_f);
	}
}
END_TEST

Suite *expected_suite(void)
{
	Suite *suite = suite_create("expected");
	TCase *tests = tcase_create("expected");

	tcase_add_loop_test(tests, discharge_is_as_hot_as_the_reference_says, 0, REFERENCES);
	tcase_add_test(tests, a_blend_lies_between_its_parts);
	tcase_add_test(tests, an_unknown_refrigerant_is_taken_for_r410a);
	tcase_add_loop_test(tests, a_better_condenser_condenses_nearer_to_the_air, 0,
	                    (int)(sizeof by_seer / sizeof *by_seer));
	tcase_add_test(tests, the_line_by_seer_keeps_to_the_rule_of_the_trade);
	tcase_add_test(tests, the_nameplate_comes_before_what_is_usual);
	tcase_add_test(tests, weather_that_was_read_is_as_sure_as_the_thermometer);
	tcase_add_test(tests, weather_that_was_not_read_is_that_of_a_warm_day);
	tcase_add_test(tests, a_dry_coil_works_on_the_dry_bulb);
	suite_add_tcase(suite, tests);
	return suite;
}
