/*
 * What is expected of a sound machine, for every figure and reading that has
 * an expectation, each against its source: California Title 24 RA3.2 for the
 * charge, NEMA MG 1 for the supply, a unit's own nameplate; where nothing is
 * published, common practice.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/judged.h"

Suite *expect_suite(void);

static const struct {
	const char *readings; /* as typed */
	enum figure figure;   /* the figure asked about */
	double low, high;     /* what is expected; NAN: nothing is known */
} figures[] = {
	/* RA3.2: ±5 °F of the target by weather (85 °F and 62 °F: 8), 4 to 25 °F with a valve. */
	{ "metering=fixed_orifice, outdoor_db=85, return_wb=62", FIGURE_SUPERHEAT, 3, 13 },
	{ "metering=fixed_orifice, outdoor_db=90, return_wb=62", FIGURE_SUPERHEAT, 0, 10 },
	{ "metering=txv", FIGURE_SUPERHEAT, 4, 25 },
	{ "metering=exv", FIGURE_SUPERHEAT, 4, 25 },
	/* A dash of the table: no target, so nothing is expected. */
	{ "metering=fixed_orifice, outdoor_db=110, return_wb=60", FIGURE_SUPERHEAT, NAN, NAN },
	{ "outdoor_db=110, return_wb=60", FIGURE_SUPERHEAT, NAN, NAN },
	{ "", FIGURE_SUPERHEAT, NAN, NAN },
	/* RA3.2: ±3 °F of the nameplate's subcooling; 10 °F assumed are only usual (common practice). */
	{ "metering=txv", FIGURE_SUBCOOLING, 4, 16 },
	{ "metering=txv, target_subcooling=10", FIGURE_SUBCOOLING, 7, 13 },
	{ "metering=fixed_orifice", FIGURE_SUBCOOLING, 5, 18 },
	/*
	 * Trade rule of 30, 25, 20, 15 °F by SEER as an upper guide, -10/+5: printed
	 * pressures of the 13 SEER class give 10 to 16 °F (Lennox XC13 506636-01, p. 28).
	 */
	{ "seer=9", FIGURE_CONDENSER_OVER_OUTDOOR, 20, 35 },
	{ "seer=11", FIGURE_CONDENSER_OVER_OUTDOOR, 15, 30 },
	{ "seer=14", FIGURE_CONDENSER_OVER_OUTDOOR, 10, 25 },
	{ "seer=18", FIGURE_CONDENSER_OVER_OUTDOOR, 5, 20 },
	{ "", FIGURE_CONDENSER_OVER_OUTDOOR, 10, 30 },
	/* Common practice: 35 ±5 °F at 400 cfm a ton, 40 ±5 at 350. */
	{ "", FIGURE_EVAPORATOR_UNDER_RETURN, 30, 40 },
	{ "nominal_capacity=3, airflow=1050", FIGURE_EVAPORATOR_UNDER_RETURN, 35, 45 },
	{ "nominal_capacity=3, airflow=1200", FIGURE_EVAPORATOR_UNDER_RETURN, 30, 40 },
	{ "nominal_capacity=3, airflow=600", FIGURE_EVAPORATOR_UNDER_RETURN, 30, 40 },
	/* A maker's own approach, within a degree either way (Armstrong 4SHP16LT, p. 16). */
	{ "target_approach=4", FIGURE_LIQUID_APPROACH, 3, 5 },
	{ "target_approach=7", FIGURE_LIQUID_APPROACH, 6, 8 },
	/* Common practice: over 3 °F across a drier is a restriction. */
	{ "", FIGURE_DRIER_DROP, -1, 3 },
	/* Common practice: 0.5 in. w.c. is the usual rating point. */
	{ "", FIGURE_TOTAL_EXTERNAL_STATIC, -INFINITY, 0.5 },
	/* The blower's own limit wins over the rating point; the maker's volts over NEMA MG 1. */
	{ "static_limit=0.8", FIGURE_TOTAL_EXTERNAL_STATIC, -INFINITY, 0.8 },
	{ "rated_voltage=230, voltage_low=197, voltage_high=253", FIGURE_VOLTAGE_DEVIATION,
	  -100 * 33.0 / 230, 10 },
	{ "rated_voltage=230, voltage_low=207", FIGURE_VOLTAGE_DEVIATION, -10, 10 },
	/* Common practice: 350 to 450 cfm a ton. */
	{ "nominal_capacity=3", FIGURE_AIRFLOW_ESTIMATE, 1050, 1350 },
	{ "", FIGURE_AIRFLOW_ESTIMATE, NAN, NAN },
	/* The tolerance on the can; 6 % where it says none (common practice). */
	{ "", FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, -6, 6 },
	{ "capacitor_tolerance=10", FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, -10, 10 },
	{ "capacitor_tolerance=5", FIGURE_FAN_CAPACITOR_DEVIATION, -5, 5 },
	{ "compressor_capacitor_rated=50", FIGURE_CAPACITANCE_UNDER_LOAD, 47, 53 },
	{ "compressor_capacitor_rated=50, capacitor_tolerance=10", FIGURE_CAPACITANCE_UNDER_LOAD, 45,
	  55 },
	{ "", FIGURE_CAPACITANCE_UNDER_LOAD, NAN, NAN },
	/* NEMA MG 1: ±10 % of the rated voltage; 1 % unbalance. */
	{ "", FIGURE_VOLTAGE_DEVIATION, -10, 10 },
	{ "", FIGURE_VOLTAGE_UNBALANCE, -INFINITY, 1 },
	/* Common practice: sag over 10 to 15 %; RLA 50 to 90 % usual; a fan 10 % over its plate. */
	{ "", FIGURE_STARTING_SAG, -INFINITY, 12 },
	{ "", FIGURE_RLA_SHARE, 45, 100 },
	{ "", FIGURE_FAN_FLA_SHARE, 40, 105 },
	/* Low amps are a sign on a PSC blower only. */
	{ "blower_motor_type=psc", FIGURE_BLOWER_FLA_SHARE, 40, 105 },
	{ "", FIGURE_BLOWER_FLA_SHARE, -INFINITY, 105 },
	/* 2 % of the meter and 0.3 Ω of leads that were not subtracted. */
	{ "start_run_resistance=3.6", FIGURE_WINDING_SUM_ERROR, -0.372, 0.372 },
	{ "start_run_resistance=OL", FIGURE_WINDING_SUM_ERROR, NAN, NAN },
	{ "run_winding_rated=0.5", FIGURE_RUN_WINDING_CORRECTED, 0.45, 0.55 },
	{ "", FIGURE_RUN_WINDING_CORRECTED, NAN, NAN },
	{ "start_winding_rated=3", FIGURE_START_WINDING_CORRECTED, 2.7, 3.3 },
	/* The nameplate's own value is measured by nothing else. */
	{ "min_circuit_ampacity=20", FIGURE_CIRCUIT_AMPACITY_NEEDED, NAN, NAN },
	{ "", FIGURE_CIRCUIT_AMPACITY_NEEDED, NAN, NAN },
	/* Emerson AE4-1294, p. 1: above the floor; an OL of a meter that was not noted is not judged. */
	{ "compressor_ground_resistance=200", FIGURE_INSULATION_GRADE, 2, 2 },
	{ "compressor_ground_resistance=OL", FIGURE_INSULATION_GRADE, NAN, NAN },
	{ "", FIGURE_INSULATION_GRADE, NAN, NAN },
	/* Common practice: the better the condenser, the less it warms its air. */
	{ "seer=11", FIGURE_CONDENSER_AIR_RISE, 20, 30 },
	{ "seer=12", FIGURE_CONDENSER_AIR_RISE, 15, 20 },
	{ "seer=16", FIGURE_CONDENSER_AIR_RISE, 8, 15 },
	{ "", FIGURE_CONDENSER_AIR_RISE, NAN, NAN },
	{ "seer=16, compressor_motor=inverter", FIGURE_CONDENSER_AIR_RISE, NAN, NAN },
	/* Common practice: pipe clamp and gauge agree to 3 °F, at rest to 2; a valve's body warms by 3. */
	{ "", FIGURE_CONDENSER_BEND_DIFFERENCE, -3, 3 },
	{ "", FIGURE_STANDING_EXCESS, -2, 2 },
	{ "", FIGURE_REVERSING_VALVE_DIFFERENCE, -1, 3 },
	/* Common practice: ducts take about 40 % of the total; a blower's capacitor is ±6 %. */
	{ "filter_drop=0.1, coil_drop=0.2", FIGURE_DUCT_STATIC, -INFINITY, 0.3 },
	/* What is still in it is not the ducts'. */
	{ "filter_drop=0.1", FIGURE_DUCT_STATIC, NAN, NAN },
	{ "coil_drop=0.2", FIGURE_DUCT_STATIC, NAN, NAN },
	{ "capacitor_tolerance=10", FIGURE_BLOWER_CAPACITOR_DEVIATION, -6, 6 },
	/* NEMA MG 1-14.36: at 1 % unbalance 0.985 of the rating; windings alike to 5 %, common practice. */
	{ "", FIGURE_UNBALANCE_DERATING, 98.5, INFINITY },
	{ "", FIGURE_WINDING_UNBALANCE, -INFINITY, 5 },
	{ "compressor_motor=inverter", FIGURE_RLA_SHARE, NAN, NAN },
	{ "blower_motor_type=constant_torque", FIGURE_BLOWER_FLA_SHARE, -INFINITY, 105 },
	/* Figures that only describe expect nothing. */
	{ "", FIGURE_SUCTION_SATURATION_TEMP, NAN, NAN },
	{ "", FIGURE_TOTAL_CAPACITY, NAN, NAN },
};

START_TEST(a_figure_is_held_to_its_source)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, figures[_i].readings);
	struct expectation wanted = figure_expect(&judged.visit, STAGE_AS_FOUND, &judged.set,
	                                          figures[_i].figure);
	ck_assert_int_eq(wanted.known, !isnan(figures[_i].low));
	if (!wanted.known)
		return;
	ck_assert(wanted.low == figures[_i].low || fabs(wanted.low - figures[_i].low) < 1e-9);
	ck_assert(wanted.high == figures[_i].high || fabs(wanted.high - figures[_i].high) < 1e-9);
	ck_assert_str_ne(wanted.source, "");
}
END_TEST

/* Without the figures at hand the few that are looked at are worked out: to the same. */
START_TEST(the_same_is_expected_without_the_figures)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, figures[_i].readings);
	struct expectation with = figure_expect(&judged.visit, STAGE_AS_FOUND, &judged.set,
	                                        figures[_i].figure);
	struct expectation alone = figure_expect(&judged.visit, STAGE_AS_FOUND, NULL, figures[_i].figure);
	ck_assert_int_eq(alone.known, with.known);
	ck_assert_int_eq(alone.is_assumed, with.is_assumed);
	ck_assert_str_eq(alone.source, with.source);
	ck_assert(!with.known || (alone.low == with.low && alone.high == with.high));
}
END_TEST

/* What stands in for a value of this unit that nobody read is said to be assumed. */
static const struct {
	const char *readings;
	enum figure figure;
	bool is_assumed;
} assumptions[] = {
	{ "metering=txv", FIGURE_SUBCOOLING, true },
	{ "metering=txv, target_subcooling=9", FIGURE_SUBCOOLING, false },
	{ "", FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, true },
	{ "capacitor_tolerance=5", FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, false },
	{ "compressor_capacitor_rated=50", FIGURE_CAPACITANCE_UNDER_LOAD, true },
	{ "compressor_capacitor_rated=50, capacitor_tolerance=5", FIGURE_CAPACITANCE_UNDER_LOAD, false },
	{ "", FIGURE_TOTAL_EXTERNAL_STATIC, true },
	{ "static_limit=0.5", FIGURE_TOTAL_EXTERNAL_STATIC, false },
	{ "compressor_ground_resistance=200", FIGURE_INSULATION_GRADE, true },
	{ "compressor_ground_resistance=200, insulation_floor=1", FIGURE_INSULATION_GRADE, false },
	{ "", FIGURE_CONDENSER_OVER_OUTDOOR, true },
	{ "seer=14", FIGURE_CONDENSER_OVER_OUTDOOR, false },
	{ "", FIGURE_EVAPORATOR_UNDER_RETURN, true },
	{ "nominal_capacity=3, airflow=1050", FIGURE_EVAPORATOR_UNDER_RETURN, false },
	{ "return_db=78, return_wb=65, outdoor_db=90", FIGURE_TEMPERATURE_SPLIT, true },
	{ "return_db=78, return_wb=65, outdoor_db=90, nominal_capacity=3, airflow=1200",
	  FIGURE_TEMPERATURE_SPLIT, false },
};

START_TEST(an_assumed_limit_is_marked)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, assumptions[_i].readings);
	struct expectation wanted = figure_expect(&judged.visit, STAGE_AS_FOUND, &judged.set,
	                                          assumptions[_i].figure);
	ck_assert(wanted.known);
	ck_assert_int_eq(wanted.is_assumed, assumptions[_i].is_assumed);
}
END_TEST

/* Whose limit it is stands beside it, and changes with what was read. */
static const struct {
	const char *readings;
	enum figure figure;
	const char *words; /* of the source */
} told[] = {
	{ "rated_voltage=230", FIGURE_VOLTAGE_DEVIATION, "NEMA MG 1" },
	{ "rated_voltage=230, voltage_low=207", FIGURE_VOLTAGE_DEVIATION, "maker" },
	{ "rated_voltage=230, voltage_high=260", FIGURE_VOLTAGE_DEVIATION, "maker" },
	{ "rated_voltage=230, voltage_low=207, voltage_high=260", FIGURE_VOLTAGE_DEVIATION, "maker" },
	{ "static_limit=0.8", FIGURE_TOTAL_EXTERNAL_STATIC, "maker" },
	{ "", FIGURE_TOTAL_EXTERNAL_STATIC, "usual" },
	{ "metering=txv, target_subcooling=10", FIGURE_SUBCOOLING, "maker's target" },
	{ "metering=txv", FIGURE_SUBCOOLING, "no maker's target" },
	{ "metering=fixed_orifice", FIGURE_SUBCOOLING, "with an orifice" },
	{ "metering=txv", FIGURE_SUPERHEAT, "valve" },
	{ "metering=fixed_orifice, outdoor_db=85, return_wb=62", FIGURE_SUPERHEAT, "around the target" },
	{ "compressor_ground_resistance=0.02", FIGURE_INSULATION_GRADE, "do not energise" },
	{ "compressor_ground_resistance=0.02, insulation_floor=1", FIGURE_INSULATION_GRADE, "do not energise" },
	{ "seer=14", FIGURE_CONDENSER_OVER_OUTDOOR, "by SEER" },
	{ "", FIGURE_CONDENSER_OVER_OUTDOOR, "SEER not read" },
	{ "nominal_capacity=3, airflow=1050", FIGURE_EVAPORATOR_UNDER_RETURN, "by airflow" },
	{ "", FIGURE_EVAPORATOR_UNDER_RETURN, "airflow not known" },
	{ "blower_motor_type=psc", FIGURE_BLOWER_FLA_SHARE, "PSC" },
	{ "capacitor_tolerance=5", FIGURE_FAN_CAPACITOR_DEVIATION, "on the can" },
	{ "", FIGURE_FAN_CAPACITOR_DEVIATION, "not read" },
	{ "compressor_ground_resistance=200, insulation_floor=1", FIGURE_INSULATION_GRADE, "maker's floor" },
	{ "compressor_ground_resistance=200", FIGURE_INSULATION_GRADE, "AE4-1294" },
	{ "compressor_kind=reciprocating, common_start_resistance=3, common_run_resistance=1",
	  FIGURE_START_RUN_RATIO, "a maker's table" },
	{ "compressor_kind=reciprocating, common_start_resistance=1, common_run_resistance=1",
	  FIGURE_START_RUN_RATIO, "a maker's table" },
	{ "compressor_kind=reciprocating, common_start_resistance=0.9, common_run_resistance=1",
	  FIGURE_START_RUN_RATIO, "exchanged" },
	{ "compressor_kind=reciprocating", FIGURE_START_RUN_RATIO, "a maker's table" },
};

START_TEST(a_limit_says_whose_it_is)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, told[_i].readings);
	struct expectation wanted = figure_expect(&judged.visit, STAGE_AS_FOUND, &judged.set,
	                                          told[_i].figure);
	ck_assert(wanted.known);
	ck_assert_msg(strstr(wanted.source, told[_i].words) != NULL, "%s: %s", told[_i].readings,
	              wanted.source);
}
END_TEST

/* On an inverter only a maker's value holds, and only from 90 % of the speed on. */
static const struct {
	const char *readings;
	enum figure figure;
	bool is_known;
} speeds[] = {
	{ "metering=txv", FIGURE_SUPERHEAT, false },
	{ "metering=txv", FIGURE_SUBCOOLING, false },
	{ "metering=exv, target_subcooling=10", FIGURE_SUBCOOLING, false },
	{ "metering=exv, target_subcooling=10, capacity_percent=89", FIGURE_SUBCOOLING, false },
	{ "metering=exv, target_subcooling=10, capacity_percent=90", FIGURE_SUBCOOLING, true },
	{ "metering=exv, capacity_percent=100", FIGURE_SUBCOOLING, false },
	{ "target_approach=4", FIGURE_LIQUID_APPROACH, false },
	{ "target_approach=4, capacity_percent=89", FIGURE_LIQUID_APPROACH, false },
	{ "target_approach=4, capacity_percent=90", FIGURE_LIQUID_APPROACH, true },
	{ "capacity_percent=100", FIGURE_LIQUID_APPROACH, false },
	{ "seer=18, capacity_percent=100", FIGURE_CONDENSER_OVER_OUTDOOR, false },
	{ "seer=18, capacity_percent=100", FIGURE_CONDENSER_AIR_RISE, false },
	{ "capacity_percent=100", FIGURE_EVAPORATOR_UNDER_RETURN, false },
	{ "return_db=78, return_wb=65, outdoor_db=90", FIGURE_TEMPERATURE_SPLIT, false },
	{ "capacity_percent=100", FIGURE_RLA_SHARE, false },
};

START_TEST(on_an_inverter_only_a_makers_value_holds)
{
	struct judged judged;
	char readings[160];

	snprintf(readings, sizeof readings, "compressor_motor=inverter, %s", speeds[_i].readings);
	judge(&judged, STAGE_AS_FOUND, readings);
	ck_assert_int_eq(figure_expect(&judged.visit, STAGE_AS_FOUND, &judged.set,
	                               speeds[_i].figure).known, speeds[_i].is_known);
}
END_TEST

/* SEER is 1/0.95 of SEER2 with ducts, and the same without (RESNET 71f, second-hand). */
static const struct {
	const char *readings;
	double low; /* of the condenser over outdoors, by the trade's rule */
} labels[] = {
	{ "seer2=15.1", 10 }, { "seer2=15.3", 5 }, { "seer2=15.3, system_kind=ductless", 10 },
	{ "seer2=15.9, system_kind=ductless", 10 }, { "seer2=16, system_kind=ductless", 5 },
	{ "seer=14, seer2=18", 10 },
};

START_TEST(seer2_is_brought_to_seer)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, labels[_i].readings);
	ck_assert_double_eq_tol(figure_expect(&judged.visit, STAGE_AS_FOUND, &judged.set,
	                                      FIGURE_CONDENSER_OVER_OUTDOOR).low, labels[_i].low, 1e-9);
}
END_TEST

/* The currents of a motor at rest, or that does not start, say nothing of one another. */
static const struct {
	const char *readings;
	bool is_known;
} currents[] = {
	{ "run_amps=3, start_amps=4", true }, { "compressor_state=runs, run_amps=3, start_amps=4", true },
	{ "compressor_state=hums, run_amps=3, start_amps=4", false },
	{ "compressor_state=silent, run_amps=3, start_amps=4", false },
	{ "run_amps=0, start_amps=0", false }, { "run_amps=0, start_amps=0.4", true },
	{ "start_amps=4", false },
};

START_TEST(currents_are_compared_where_they_flow)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, currents[_i].readings);
	ck_assert_int_eq(reading_expect(&judged.visit, STAGE_AS_FOUND, READING_COMMON_AMPS).known,
	                 currents[_i].is_known);
}
END_TEST

static const struct {
	const char *readings;
	enum figure figure;
	const char *words; /* what is taken for granted */
} granted[] = {
	{ "metering=txv", FIGURE_TARGET_SUBCOOLING, "usual target" },
	{ "metering=txv, target_subcooling=9", FIGURE_TARGET_SUBCOOLING, "" },
	{ "metering=txv, nominal_capacity=3", FIGURE_CHARGE_TO_MOVE, "usual target and charge" },
	{ "metering=fixed_orifice, factory_charge=104", FIGURE_CHARGE_TO_MOVE, "" },
	{ "compressor_rla=14", FIGURE_START_CURRENT_SHARE_OF_LRA, "usual LRA for the RLA" },
	{ "compressor_lra=73", FIGURE_START_CURRENT_SHARE_OF_LRA, "" },
	{ "airflow=1200", FIGURE_BLOWER_POWER, "usual blower power for the airflow" },
	{ "blower_amps=3, transformer_primary=236", FIGURE_BLOWER_POWER, "usual power factor" },
	{ "", FIGURE_EER, "usual power factor and blower power" },
	{ "unit_power=2.6", FIGURE_EER, "usual blower power" },
	{ "", FIGURE_EXPECTED_TEMPERATURE_SPLIT, "usual airflow" },
	{ "airflow=1200, nominal_capacity=3", FIGURE_EXPECTED_TEMPERATURE_SPLIT, "" },
	{ "", FIGURE_SEASONAL_ENERGY, "usual cooling hours" },
	{ "", FIGURE_SUPERHEAT, "" },
};

START_TEST(a_figure_says_what_it_takes_for_granted)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, granted[_i].readings);
	ck_assert_str_eq(figure_assumed(&judged.visit, STAGE_AS_FOUND, granted[_i].figure),
	                 granted[_i].words);
}
END_TEST

/* Sources are read in either system of units: they name none. */
START_TEST(a_source_names_no_unit_of_one_system)
{
	static const char *const units[] = { "°F", "psi", "cfm", "ton", "in. w.c.", "°C", "kPa" };
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, figures[_i].readings);
	struct expectation wanted = figure_expect(&judged.visit, STAGE_AS_FOUND, &judged.set,
	                                          figures[_i].figure);
	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		ck_assert_msg(!strstr(wanted.source, units[i]), "%s: %s", units[i], wanted.source);
}
END_TEST

/*
 * Common practice: 24 V controls work from 20 to 28 V, a transformer gives 21 to 29; contacts drop
 * at most 0.5 V; a crankcase heater takes 0.1 to 0.6 A (25 to 140 W at 240 V); a filter takes 0.10 to
 * 0.25 in. w.c., a wet coil 0.20 to 0.30; over 225 °F at the line oil breaks down.
 */
static const struct {
	enum reading reading;
	double low, high;
} readings[] = {
	{ READING_CONTROL_VOLTAGE, 20, 28 }, { READING_DISCHARGE_LINE_TEMP, 100, 225 },
	{ READING_TRANSFORMER_SECONDARY, 21, 29 }, { READING_CONTACTOR_DROP, -INFINITY, 0.5 },
	{ READING_CRANKCASE_HEATER_AMPS, 0.1, 0.6 }, { READING_FILTER_DROP, -INFINITY, 0.25 },
	{ READING_COIL_DROP, -INFINITY, 0.35 },
};

START_TEST(a_reading_is_held_to_common_practice)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "");
	struct expectation wanted = reading_expect(&judged.visit, STAGE_AS_FOUND, readings[_i].reading);
	ck_assert(wanted.known);
	ck_assert_double_eq(wanted.low, readings[_i].low);
	ck_assert_double_eq(wanted.high, readings[_i].high);
}
END_TEST

/* Physics of the capacitor motor: run and start currents are about 90° apart. */
START_TEST(the_common_current_follows_from_the_other_two)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "run_amps=3, start_amps=4");
	struct expectation wanted = reading_expect(&judged.visit, STAGE_AS_FOUND, READING_COMMON_AMPS);
	ck_assert(wanted.known);
	ck_assert_double_eq_tol(wanted.low, 4.5, 1e-9);
	ck_assert_double_eq_tol(wanted.high, 5.5, 1e-9);
	ck_assert(!reading_expect(&judged.visit, STAGE_AS_FOUND, READING_RUN_AMPS).known);
	judge(&judged, STAGE_AS_FOUND, "run_amps=3");
	ck_assert(!reading_expect(&judged.visit, STAGE_AS_FOUND, READING_COMMON_AMPS).known);
}
END_TEST

/* Where the interval of the reading crosses a limit the meters cannot tell: ambiguous. */
static const struct {
	double value, plus_minus;
	enum band_verdict verdict;
	const char *word;
} verdicts[] = {
	{ 4.1, 1, BAND_INSIDE, "good" },      { 11.9, 1, BAND_INSIDE, "good" },
	{ 3.5, 1, BAND_AMBIGUOUS, "ambiguous" }, { 2.1, 1, BAND_AMBIGUOUS, "ambiguous" },
	{ 1.9, 1, BAND_LOW, "low" },          { 12.5, 1, BAND_AMBIGUOUS, "ambiguous" },
	{ 13.9, 1, BAND_AMBIGUOUS, "ambiguous" }, { 14.1, 1, BAND_HIGH, "high" },
	{ 3, 0, BAND_INSIDE, "good" },        { NAN, 1, BAND_UNKNOWN, "" },
};

START_TEST(the_meter_s_error_decides_between_low_and_ambiguous)
{
	struct expectation wanted = { .known = true, .low = 3, .high = 13, .source = "" };
	struct expectation none = { .known = false };

	ck_assert_int_eq(expectation_judge(&wanted, verdicts[_i].value, verdicts[_i].plus_minus),
	                 verdicts[_i].verdict);
	ck_assert_str_eq(band_verdict_word(verdicts[_i].verdict), verdicts[_i].word);
	ck_assert_int_eq(expectation_judge(&none, verdicts[_i].value, 1), BAND_UNKNOWN);
}
END_TEST

Suite *expect_suite(void)
{
	Suite *suite = suite_create("expect");
	TCase *tests = tcase_create("expect");

	tcase_add_loop_test(tests, a_figure_is_held_to_its_source, 0, sizeof figures / sizeof *figures);
	tcase_add_loop_test(tests, the_same_is_expected_without_the_figures, 0,
	                    sizeof figures / sizeof *figures);
	tcase_add_loop_test(tests, an_assumed_limit_is_marked, 0,
	                    sizeof assumptions / sizeof *assumptions);
	tcase_add_loop_test(tests, a_limit_says_whose_it_is, 0, sizeof told / sizeof *told);
	tcase_add_loop_test(tests, on_an_inverter_only_a_makers_value_holds, 0,
	                    sizeof speeds / sizeof *speeds);
	tcase_add_loop_test(tests, seer2_is_brought_to_seer, 0, sizeof labels / sizeof *labels);
	tcase_add_loop_test(tests, currents_are_compared_where_they_flow, 0,
	                    sizeof currents / sizeof *currents);
	tcase_add_loop_test(tests, a_figure_says_what_it_takes_for_granted, 0,
	                    sizeof granted / sizeof *granted);
	tcase_add_loop_test(tests, a_source_names_no_unit_of_one_system, 0,
	                    sizeof figures / sizeof *figures);
	tcase_add_loop_test(tests, a_reading_is_held_to_common_practice, 0,
	                    sizeof readings / sizeof *readings);
	tcase_add_test(tests, the_common_current_follows_from_the_other_two);
	tcase_add_loop_test(tests, the_meter_s_error_decides_between_low_and_ambiguous, 0,
	                    sizeof verdicts / sizeof *verdicts);
	suite_add_tcase(suite, tests);
	return suite;
}
