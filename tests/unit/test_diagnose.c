/*
 * The diagnosis as a whole: one call through it, the circuit's faults, masks,
 * contradictions, what to measure next.
 *
 * Signs of the circuit's faults: Rossi & Braun 1997 (HVAC&R Research 3(1)),
 * Breuker & Braun 1998 (HVAC&R Research 4(3-4)), Kim, Yoon, Payne & Domanski
 * 2008 (NIST SP 1087); from memory of those tables.
 */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/report/wording.h>

#include "diagnose/circuit.h"
#include "support/circuit_rows.h"
#include "support/judged.h"

Suite *diagnose_suite(void);

/* ---- Signs ---- */

/*
 * What the sources allow: "+" up, "-" down, "0" little, more than one where they
 * differ.  Suction, superheat, condensing, subcooling, capacity.
 */
struct signs {
	enum fault fault;
	const char *orifice[5], *valve[5];
};

static const struct signs published[] = {
	{ FAULT_UNDERCHARGE, { "-", "+", "-", "-", "-" }, { "-", "+", "-", "-", "-" } },
	/* A valve lets through what the coil asks for: suction hardly rises (heat balance). */
	{ FAULT_OVERCHARGE, { "+", "-", "+", "+", "0" }, { "0+", "0", "+", "+", "0-" } },
	{ FAULT_LOW_INDOOR_AIRFLOW, { "-", "-", "-", "0+", "0" }, { "-", "0", "-", "0+", "0" } },
	{ FAULT_LOW_OUTDOOR_AIRFLOW, { "+", "-", "+", "-0", "-" }, { "+", "0", "+", "0", "-" } },
	{ FAULT_LIQUID_RESTRICTION, { "-", "+", "-", "+", "-" }, { "-", "+", "-", "+", "-" } },
	{ FAULT_METERING_OVERFEED, { "+", "-", "0+", "-", "0" }, { "+", "-", "0+", "-", "0" } },
	{ FAULT_NONCONDENSABLES, { "+", "-", "+", "+", "-" }, { "0+", "0", "+", "+", "-" } },
	{ FAULT_COMPRESSOR_INEFFICIENT, { "+", "-", "-", "-", "-" }, { "+", "0", "-", "-", "-" } },
	/* Common practice: the mirror of too little, with more heat for the condenser. */
	{ FAULT_HIGH_INDOOR_AIRFLOW, { "+", "+", "0+", "0-", "0+" }, { "+", "0", "0+", "0-", "0+" } },
};

static char sign_of(double x)
{
	/* Less than this, °F or %, is "little". */
	return x > 1.4 ? '+' : x < -1.4 ? '-' : '0';
}

/*
 * Where a balance of mass or energy asks for another sign than the sources have,
 * on the first-principles units that the table is made from.
 */
static const struct {
	enum fault fault;
	bool has_valve;
	int column;
	const char *why;
} argued[] = {
	{ FAULT_OVERCHARGE, false, 4, "superheat lost is coil surface won" },
	{ FAULT_NONCONDENSABLES, false, 4, "superheat lost is coil surface won" },
	{ FAULT_LOW_INDOOR_AIRFLOW, false, 4, "total capacity, not capacity at the same airflow" },
	{ FAULT_LOW_INDOOR_AIRFLOW, true, 4, "total capacity, not capacity at the same airflow" },
	{ FAULT_LOW_INDOOR_AIRFLOW, false, 3, "a flooding evaporator holds liquid of the condenser" },
	{ FAULT_LOW_OUTDOOR_AIRFLOW, true, 3, "the same charge further above the outdoor air" },
	{ FAULT_LIQUID_RESTRICTION, true, 3, "the valve opens; little liquid is held back" },
	{ FAULT_METERING_OVERFEED, false, 2, "a flooded coil gives the condenser less heat" },
	{ FAULT_METERING_OVERFEED, true, 2, "a flooded coil gives the condenser less heat" },
	{ FAULT_METERING_OVERFEED, false, 4, "liquid that comes back has cooled nothing" },
	{ FAULT_METERING_OVERFEED, true, 4, "liquid that comes back has cooled nothing" },
};

static bool is_argued(enum fault fault, bool has_valve, int column)
{
	for (size_t i = 0; i < sizeof argued / sizeof *argued; i++)
		if (argued[i].fault == fault && argued[i].has_valve == has_valve &&
		    argued[i].column == column)
			return true;
	return false;
}

/* "Little" is as wrong for a sign as the other sign is. */
static void check_signs(enum fault fault, bool has_valve, const char *const *signs)
{
	static const enum coordinate columns[] = { COORDINATE_SUCTION, COORDINATE_SUPERHEAT,
	                                           COORDINATE_CONDENSING, COORDINATE_SUBCOOLING };
	const int severe = 2;

	for (int i = 0; i < 5; i++) {
		double shift = i < 4 ? circuit_shift(fault, has_valve, severe, columns[i])
		                     : -100 * circuit_capacity_loss(fault, has_valve, severe);
		ck_assert(isfinite(shift));
		if (!is_argued(fault, has_valve, i))
			ck_assert_msg(strchr(signs[i], sign_of(shift)), "%s, valve %d, column %d: %g where %s is "
			              "published", fault_info(fault)->key, has_valve, i, shift, signs[i]);
	}
}

START_TEST(the_table_follows_the_published_signs)
{
	check_signs(published[_i].fault, false, published[_i].orifice);
	check_signs(published[_i].fault, true, published[_i].valve);
}
END_TEST

/* ---- Circuits ---- */

struct circuit_row {
	const char *system;
	struct circuit_case given;
	enum fault fault; /* FAULT_NONE: nothing to act on */
};

#define ORIFICE "metering=fixed_orifice, seer=11, nominal_capacity=3"
#define VALVE "metering=txv, seer=11, nominal_capacity=3, target_subcooling=10"

static const struct circuit_row circuits[] = {
	/* outdoor, return, wet bulb; suction, superheat; condensing, subcooling; split */
	{ ORIFICE, { 95, 80, 67, 45, 12, 115, 10, 18.5 }, FAULT_NONE },
	{ ORIFICE, { 88, 76, 63, 41, 9, 108, 10, 19 }, FAULT_NONE },
	{ ORIFICE, { 95, 80, 67, 33, 38, 108, 1, 13 }, FAULT_UNDERCHARGE },
	{ ORIFICE, { 95, 80, 67, 49, 0, 121, 20, 17.5 }, FAULT_OVERCHARGE },
	{ ORIFICE, { 95, 80, 67, 47, 5, 134, 9, 16.5 }, FAULT_LOW_OUTDOOR_AIRFLOW },
	{ ORIFICE, { 95, 80, 67, 39, 2, 113.5, 9, 27 }, FAULT_LOW_INDOOR_AIRFLOW },
	{ ORIFICE, { 95, 80, 67, 30, 36, 109, 16, 13 }, FAULT_LIQUID_RESTRICTION },
	{ ORIFICE, { 95, 80, 67, 56, 1, 109, 4, 14 }, FAULT_COMPRESSOR_INEFFICIENT },
	{ ORIFICE, { 95, 80, 67, 49, -0.5, 116, 2, 20 }, FAULT_METERING_OVERFEED },
	{ VALVE, { 95, 80, 67, 45, 10, 115, 10, 18.5 }, FAULT_NONE },
	{ VALVE, { 95, 80, 67, 33, 28, 106, 0, 12 }, FAULT_UNDERCHARGE },
	{ VALVE, { 95, 80, 67, 46, 10, 125, 23, 18 }, FAULT_OVERCHARGE },
	{ VALVE, { 95, 80, 67, 46, 10, 135, 10, 16.5 }, FAULT_LOW_OUTDOOR_AIRFLOW },
	{ VALVE, { 95, 80, 67, 35, 9, 112, 11, 24.5 }, FAULT_LOW_INDOOR_AIRFLOW },
	{ VALVE, { 95, 80, 67, 30, 30, 109, 18, 12.5 }, FAULT_LIQUID_RESTRICTION },
	{ VALVE, { 95, 80, 67, 57, 9, 107, 9, 12 }, FAULT_COMPRESSOR_INEFFICIENT },
	{ VALVE, { 95, 80, 67, 52, 0, 116, 5, 17 }, FAULT_METERING_OVERFEED },
};

START_TEST(every_circuit_fault_is_named)
{
	const struct circuit_row *row = &circuits[_i];
	struct judged judged;

	judge_circuit(&judged, row->system, &row->given);
	if (row->fault == FAULT_NONE) {
		ck_assert_double_gt(judged.diagnosis.healthy, 0.5);
		for (int i = 0; i < judged.diagnosis.finding_count; i++)
			ck_assert_int_ne(judged.diagnosis.findings[i].level, LEVEL_ACT);
		return;
	}
	ck_assert_int_eq(judged_first(&judged), row->fault);
	ck_assert_double_gt(judged_probability(&judged, row->fault), 0.5);
	ck_assert_int_eq(judged.diagnosis.findings[0].level, LEVEL_ACT);
}
END_TEST

/*
 * The same signs through the whole diagnosis: one reading of a typical case
 * turned to the other side of a sound machine's speaks less for its fault.  (The
 * fault need not get less probable: the readings taken together may by then
 * speak against its rivals even more.)
 */
static const struct {
	size_t healthy;     /* row of `circuits`: the machine when sound */
	size_t faulty;      /* and with the fault */
	const char *signs;  /* suction, superheat, condensing, subcooling, split; ' ' is not asked */
} mirrored[] = {
	{ 0, 2, "-+---" }, { 0, 3, "+-++ " }, { 0, 4, "+-+- " }, { 0, 5, "--- +" },
	{ 0, 6, "-+-+-" }, { 0, 7, "+----" }, { 0, 8, "+- - " },
	{ 9, 10, "-+---" }, { 9, 11, "+ ++ " }, { 9, 12, "+ +  " }, { 9, 13, "- - +" },
	{ 9, 14, "-+-+-" }, { 9, 15, "+ ---" }, { 9, 16, "+-+- " },
};

/* The readings that a sign is about, in its order. */
static double *moved_reading(struct circuit_case *given, int index)
{
	double *readings[] = { &given->suction, &given->superheat, &given->condensing,
	                       &given->subcooling, &given->split };

	return readings[index];
}

static const enum figure moved_figures[] = {
	FIGURE_EVAPORATOR_UNDER_RETURN, FIGURE_SUPERHEAT, FIGURE_CONDENSER_OVER_OUTDOOR,
	FIGURE_SUBCOOLING, FIGURE_TEMPERATURE_SPLIT,
};

START_TEST(a_reading_turned_the_other_way_speaks_against_the_fault)
{
	const struct circuit_row *row = &circuits[mirrored[_i].faulty];
	struct circuit_case sound = circuits[mirrored[_i].healthy].given, given = row->given;
	struct judged judged, turned;

	judge_circuit(&judged, row->system, &row->given);
	for (int i = 0; i < 5; i++) {
		double from = *moved_reading(&sound, i), to = *moved_reading(&given, i);
		if (mirrored[_i].signs[i] == ' ')
			continue;
		ck_assert_int_eq(mirrored[_i].signs[i], to > from ? '+' : '-');
		given = row->given;
		*moved_reading(&given, i) = fmax(2 * from - to, i == 1 ? 0 : -INFINITY);
		judge_circuit(&turned, row->system, &given);
		/* Not listed any more says it as well; a tenth is nothing said. */
		double now = judged_lean(&judged, row->fault, moved_figures[i], READING_NONE);
		double then = judged_lean(&turned, row->fault, moved_figures[i], READING_NONE);
		ck_assert_msg(isnan(then) || then < now + 0.1, "figure %d: %g, turned %g", i, now, then);
	}
}
END_TEST

START_TEST(hot_dry_weather_leaves_an_orifice_machine_without_superheat)
{
	/* The table has a dash at 95 °F and 58 °F wet bulb: 0 to 5 °F is all there is. */
	struct circuit_case given = { 95, 78, 58, 41, 2, 115, 10, 24 };
	struct judged judged;

	judge_circuit(&judged, ORIFICE, &given);
	ck_assert_double_lt(judged_probability(&judged, FAULT_OVERCHARGE), 0.3);
	ck_assert_double_lt(judged_probability(&judged, FAULT_METERING_OVERFEED), 0.3);
}
END_TEST

START_TEST(two_faults_that_disguise_each_other_are_a_pair)
{
	/* A dirty condenser holds head pressure up, missing charge takes subcooling away. */
	struct circuit_case given = { 95, 80, 67, 38, 27, 128, 1, 13 };
	struct judged judged;

	judge_circuit(&judged, ORIFICE, &given);
	ck_assert_double_gt(judged_probability(&judged, FAULT_UNDERCHARGE), 0.5);
	ck_assert_double_gt(judged_probability(&judged, FAULT_LOW_OUTDOOR_AIRFLOW), 0.5);
}
END_TEST

START_TEST(a_reading_not_taken_neither_helps_nor_hurts)
{
	struct circuit_case given = { 95, 80, 67, 33, 38, 108, 1, 13 };
	struct judged judged, without;

	judge_circuit(&judged, ORIFICE, &given);
	without = judged;
	without.visit.values[STAGE_AS_FOUND][READING_SUPPLY_DB].state = VALUE_NOT_TAKEN;
	judge_more(&without, STAGE_AS_FOUND, "");
	ck_assert_int_eq(judged_first(&without), FAULT_UNDERCHARGE);
	ck_assert(isnan(judged_lean(&without, FAULT_UNDERCHARGE, FIGURE_TEMPERATURE_SPLIT, 0)));
	/* One gauge and no clamp: less is known, and it shows. */
	judge(&judged, STAGE_AS_FOUND, "refrigerant=R-410A, " ORIFICE ", compressor_state=runs, "
	      "outdoor_db=95, return_db=80, return_wb=67, suction_pressure=118");
	ck_assert_double_lt(judged_probability(&judged, FAULT_UNDERCHARGE), 0.5);
}
END_TEST

START_TEST(a_residual_inside_the_noise_leans_nowhere)
{
	struct circuit_case given = { 95, 80, 67, 44.5, 13, 115.5, 9.5, 18 };
	struct judged judged;

	judge_circuit(&judged, ORIFICE, &given);
	for (int i = 0; i < judged.diagnosis.finding_count; i++) {
		const struct finding *finding = &judged.diagnosis.findings[i];
		ck_assert_int_eq(finding->level, LEVEL_NOTE);
		for (int k = 0; k < finding->evidence_count; k++)
			ck_assert_double_lt(finding->evidence[k].leans, 0.35);
	}
}
END_TEST

START_TEST(a_machine_at_rest_tells_nothing_about_its_circuit)
{
	struct judged judged;

	/* Pressures equal at rest, whatever the charge. */
	judge(&judged, STAGE_AS_FOUND, "refrigerant=R-410A, metering=txv, compressor_state=silent, "
	      "outdoor_db=90, return_db=80, return_wb=67, suction_pressure=250, liquid_pressure=252, "
	      "suction_line_temp=82, liquid_line_temp=90, line_voltage=0, rated_voltage=230");
	ck_assert_double_eq(judged_probability(&judged, FAULT_UNDERCHARGE), 0);
	ck_assert_double_eq(judged_probability(&judged, FAULT_COMPRESSOR_INEFFICIENT), 0);
	ck_assert_int_eq(judged_first(&judged), FAULT_NO_LINE_POWER);
}
END_TEST

START_TEST(an_outdoor_fan_that_stands_masks_the_circuit)
{
	struct circuit_case given = { 95, 80, 67, 50, 3, 150, 10, 14 };
	struct judged judged;

	judge_circuit(&judged, VALVE ", fan_state=silent, rated_voltage=230, line_voltage=235, "
	              "control_voltage=26", &given);
	ck_assert_double_eq(judged_probability(&judged, FAULT_OVERCHARGE), 0);
	ck_assert(judged_first(&judged) == FAULT_FAN_MOTOR_FAILED ||
	          judged_first(&judged) == FAULT_FAN_CAPACITOR_FAILED);
}
END_TEST

/* What stands is the fault; too little air is what comes of it. */
START_TEST(a_blower_that_stands_is_the_blower)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "compressor_state=runs, fan_state=runs, blower_state=silent");
	ck_assert(judged_first(&judged) == FAULT_BLOWER_MOTOR_FAILED ||
	          judged_first(&judged) == FAULT_BLOWER_CAPACITOR_FAILED);
	ck_assert_double_lt(judged.diagnosis.healthy, 0.2);
}
END_TEST

START_TEST(nothing_known_explains_these_readings)
{
	/* Low suction without superheat, high head without subcooling, cold air. */
	struct circuit_case given = { 95, 80, 67, 8, 55, 148, 38, 40 };
	struct judged judged;

	judge_circuit(&judged, VALVE, &given);
	ck_assert_double_gt(judged.diagnosis.unexplained, 0.5);
	ck_assert_double_lt(judged.diagnosis.healthy, 0.05);
}
END_TEST

/*
 * A textbook's machine in design weather: Whitman, Johnson & Tomczyk,
 * Refrigeration and Air Conditioning Technology, typical operating conditions
 * and the units on troubleshooting.  Pressures and temperatures from memory.
 */
#define TEXTBOOK "refrigerant=R-22, metering=fixed_orifice, seer=9, nominal_capacity=3, " \
	"compressor_state=runs, fan_state=runs, outdoor_db=95, return_db=80, return_wb=67, "

static const struct {
	const char *readings;
	enum fault fault; /* FAULT_NONE: typical operation */
} textbook[] = {
	{ TEXTBOOK "suction_pressure=68.5, suction_line_temp=51, liquid_pressure=278, "
	  "liquid_line_temp=114", FAULT_NONE },
	{ TEXTBOOK "suction_pressure=45, suction_line_temp=70, liquid_pressure=205, "
	  "liquid_line_temp=100, supply_db=68", FAULT_UNDERCHARGE },
	{ TEXTBOOK "suction_pressure=76, suction_line_temp=45, liquid_pressure=318, "
	  "liquid_line_temp=107, supply_db=62", FAULT_OVERCHARGE },
	{ TEXTBOOK "suction_pressure=76, suction_line_temp=50, liquid_pressure=350, "
	  "liquid_line_temp=134, supply_db=64", FAULT_LOW_OUTDOOR_AIRFLOW },
	{ TEXTBOOK "suction_pressure=53, suction_line_temp=31, liquid_pressure=240, "
	  "liquid_line_temp=105, supply_db=53", FAULT_LOW_INDOOR_AIRFLOW },
	/* The cause was seen: it comes before what it brings about. */
	{ TEXTBOOK "suction_pressure=53, suction_line_temp=31, liquid_pressure=240, "
	  "liquid_line_temp=105, supply_db=53, filter_condition=blocked", FAULT_FILTER_BLOCKED },
	{ TEXTBOOK "suction_pressure=92, suction_line_temp=57, liquid_pressure=232, "
	  "liquid_line_temp=104, supply_db=67", FAULT_COMPRESSOR_INEFFICIENT },
	{ TEXTBOOK "suction_pressure=38, suction_line_temp=72, liquid_pressure=228, "
	  "liquid_line_temp=95, drier_in_temp=95, drier_out_temp=83, supply_db=69",
	  FAULT_LIQUID_RESTRICTION },
};

START_TEST(textbook_cases_come_out_right)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, textbook[_i].readings);
	if (textbook[_i].fault != FAULT_NONE) {
		ck_assert_int_eq(judged_first(&judged), textbook[_i].fault);
		ck_assert_int_eq(judged.diagnosis.findings[0].level, LEVEL_ACT);
		return;
	}
	for (int i = 0; i < judged.diagnosis.finding_count; i++)
		ck_assert_int_ne(judged.diagnosis.findings[i].level, LEVEL_ACT);
}
END_TEST

/* ---- Anything that can be typed ---- */

/* A small generator, so that a failure comes back. */
static unsigned next_random(unsigned *state)
{
	*state = *state * 1664525u + 1013904223u;
	return *state >> 8;
}

static void put_random(struct visit *visit, enum reading reading, unsigned *state)
{
	const struct reading_info *info = reading_info(reading);
	struct value value = { .state = VALUE_TAKEN, .taken_at = WALL_TIME_NONE };
	struct range range = next_random(state) % 4 ? info->plausible : info->hard;
	unsigned draw = next_random(state);

	if (info->kind == KIND_TEXT || info->kind == KIND_DATE)
		return;
	if (info->kind == KIND_CHOICE)
		value.choice = (enum choice)((int)choice_first(info->choices) +
		                             (int)(draw % (unsigned)choice_count(info->choices)));
	else if (info->kind == KIND_YES_NO)
		value.number = draw % 2;
	else if (info->kind == KIND_RESISTANCE && draw % 5 == 0)
		value.state = VALUE_OVER_LIMIT;
	else
		value.number = range.low + (range.high - range.low) * (draw % 1000) / 1000;
	visit_set(visit, STAGE_AS_FOUND, reading, &value);
}

START_TEST(whatever_is_typed_the_answer_is_a_probability)
{
	static struct judged judged;
	unsigned state = 7 + (unsigned)_i;

	visit_init(&judged.visit);
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (next_random(&state) % 3)
			put_random(&judged.visit, (enum reading)i, &state);
	judge_more(&judged, STAGE_AS_FOUND, "");
	double last = 1;
	for (int i = 0; i < judged.diagnosis.finding_count; i++) {
		const struct finding *finding = &judged.diagnosis.findings[i];
		ck_assert_double_ge(finding->probability, 0);
		ck_assert_double_le(finding->probability, last + 1e-12);
		last = finding->probability;
		ck_assert_int_gt(finding->evidence_count, 0);
		for (int k = 0; k < finding->evidence_count; k++)
			ck_assert(isfinite(finding->evidence[k].leans));
	}
	ck_assert(judged.diagnosis.healthy >= 0 && judged.diagnosis.healthy <= 1);
	ck_assert(judged.diagnosis.unexplained >= 0 && judged.diagnosis.unexplained <= 1);
	for (int i = 0; i < judged.diagnosis.next_check_count; i++)
		ck_assert(isfinite(judged.diagnosis.next_checks[i].gain));
}
END_TEST

/* ---- Contradictions ---- */

static const struct {
	const char *readings, *words;
} contradictions[] = {
	{ "refrigerant=R-410A, compressor_state=runs, suction_pressure=130, suction_line_temp=36",
	  "superheat below zero" },
	{ "compressor_state=runs, return_db=72, supply_db=80", "supply air cannot be warmer" },
	{ "compressor_state=runs, suction_pressure=300, liquid_pressure=140", "suction pressure above" },
	{ "return_db=70, return_wb=75", "return wet bulb above" },
	{ "compressor_state=silent, common_amps=9", "silent compressor" },
	{ "compressor_state=runs, common_amps=0", "running compressor" },
	{ "refrigerant=R-22, compressor_state=runs, outdoor_db=95, liquid_pressure=120, "
	  "suction_pressure=60", "condensing temperature below outdoor" },
};

START_TEST(readings_that_contradict_each_other_are_named)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, contradictions[_i].readings);
	ck_assert_int_ge(judged.diagnosis.contradiction_count, 1);
	char words[WORDING_SIZE];
	wording_contradiction(&judged.diagnosis.contradictions[0], UNITS_US, words, sizeof words);
	ck_assert_ptr_nonnull(strstr(words, contradictions[_i].words));
}
END_TEST

START_TEST(errors_of_the_meter_are_no_contradiction)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "refrigerant=R-410A, compressor_state=runs, suction_pressure=130, "
	      "suction_line_temp=45.0, return_db=75, return_wb=75.6");
	ck_assert_int_eq(judged.diagnosis.contradiction_count, 0);
}
END_TEST

/* ---- What to measure next ---- */

START_TEST(an_empty_call_begins_with_looking)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "");
	ck_assert_int_eq(judged.diagnosis.finding_count, 0);
	ck_assert_int_eq(judged.diagnosis.next_check_count, MOST_NEXT_CHECKS);
	ck_assert_int_eq(judged.diagnosis.next_checks[0].reading, READING_COMPRESSOR_STATE);
}
END_TEST

static bool is_next(const struct judged *judged, enum reading reading)
{
	for (int i = 0; i < judged->diagnosis.next_check_count; i++)
		if (judged->diagnosis.next_checks[i].reading == reading)
			return true;
	return false;
}

START_TEST(a_humming_compressor_asks_for_its_capacitor)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "compressor_motor=psc, compressor_state=hums, line_voltage=236, "
	      "rated_voltage=230, control_voltage=26, fan_state=runs");
	ck_assert(is_next(&judged, READING_COMPRESSOR_CAPACITANCE));
	judge_more(&judged, STAGE_AS_FOUND, "compressor_capacitance=44.8, compressor_capacitor_rated=45");
	ck_assert(!is_next(&judged, READING_COMPRESSOR_CAPACITANCE));
}
END_TEST

START_TEST(low_suction_asks_for_what_tells_charge_from_airflow)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "refrigerant=R-410A, " VALVE ", compressor_state=runs, "
	      "fan_state=runs, outdoor_db=90, return_db=77, return_wb=64, suction_pressure=92, "
	      "common_amps=9, starting_seconds=0.4, line_voltage=236, rated_voltage=230");
	bool good = false;
	for (int i = 0; i < judged.diagnosis.next_check_count; i++) {
		enum step step = reading_info(judged.diagnosis.next_checks[i].reading)->step;
		good = good || step == STEP_REFRIGERANT || step == STEP_AIR;
		char why[WORDING_SIZE];
		wording_next_check(&judged.diagnosis.next_checks[i], why, sizeof why);
		ck_assert_int_gt((int)strlen(why), 10);
		ck_assert_double_gt(judged.diagnosis.next_checks[i].gain, 0);
	}
	ck_assert(good);
}
END_TEST

/* ---- One call ---- */

#define STORY "refrigerant=R-410A, metering=fixed_orifice, compressor_motor=psc, " \
	"nominal_capacity=3, rated_voltage=230, compressor_rla=14.1, compressor_lra=73, " \
	"fan_motor_fla=1.3, compressor_capacitor_rated=45, "

START_TEST(a_call_from_humming_to_cooling)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, STORY "line_voltage=238, control_voltage=26, "
	      "compressor_capacitance=27, compressor_state=hums, starting_amps=71, starting_seconds=5, "
	      "common_run_resistance=0.8, common_start_resistance=3.2, start_run_resistance=4.0, "
	      "compressor_ground_resistance=500");
	ck_assert_int_eq(judged_first(&judged), FAULT_COMPRESSOR_CAPACITOR_FAILED);
	ck_assert_double_gt(judged_probability(&judged, FAULT_COMPRESSOR_CAPACITOR_FAILED), 0.9);
	ck_assert_double_lt(judged_probability(&judged, FAULT_LOCKED_ROTOR), 0.1);

	/* 119.6 psig is 41 °F: superheat 21 where the table has about 8; subcooling 2. */
	judge_more(&judged, STAGE_AS_FOUND, "outdoor_db=88, return_db=76, return_wb=63, "
	           "suction_pressure=108, suction_line_temp=57, liquid_pressure=285, "
	           "liquid_line_temp=90, fan_amps=1.5");
	ck_assert_double_gt(judged_probability(&judged, FAULT_UNDERCHARGE), 0.7);
	ck_assert_int_eq(judged_finding(&judged, FAULT_UNDERCHARGE)->level, LEVEL_ACT);
	ck_assert_double_gt(judged_lean(&judged, FAULT_UNDERCHARGE, FIGURE_SUPERHEAT, 0), 0.5);
	ck_assert_int_ge(judged_finding(&judged, FAULT_FAN_MOTOR_OVERLOADED)->level, LEVEL_WATCH);

	judge(&judged, STAGE_AS_LEFT, STORY "compressor_capacitance=45.1, compressor_state=runs, "
	      "outdoor_db=88, return_db=76, return_wb=63, suction_pressure=118, suction_line_temp=49, "
	      "liquid_pressure=330, liquid_line_temp=93, supply_db=57");
	ck_assert_double_gt(judged.diagnosis.healthy, 0.6);
	for (int i = 0; i < judged.diagnosis.finding_count; i++)
		ck_assert_int_ne(judged.diagnosis.findings[i].level, LEVEL_ACT);
}
END_TEST

START_TEST(the_ranking_says_how_it_moved)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "compressor_motor=psc, compressor_capacitor_rated=45, "
	      "compressor_state=hums");
	judged.visit.values[STAGE_AS_FOUND][READING_COMPRESSOR_STATE].taken_at = 1000;
	double before = judged_probability(&judged, FAULT_COMPRESSOR_CAPACITOR_FAILED);
	judge_more(&judged, STAGE_AS_FOUND, "compressor_capacitance=6");
	judged.visit.values[STAGE_AS_FOUND][READING_COMPRESSOR_CAPACITANCE].taken_at = 1200;
	judge_more(&judged, STAGE_AS_FOUND, "");
	const struct finding *finding = judged_finding(&judged, FAULT_COMPRESSOR_CAPACITOR_FAILED);
	ck_assert_double_eq_tol(finding->probability_before, before, 1e-9);
	ck_assert_double_gt(finding->probability, before);
}
END_TEST

/* The air alone makes a restriction possible: of what the refrigerant shows nothing was read yet. */
START_TEST(what_was_thought_of_the_refrigerant_before_it_was_read_is_not_told)
{
	static const enum reading circuit[] = {
		READING_SUCTION_PRESSURE, READING_SUCTION_LINE_TEMP, READING_LIQUID_PRESSURE,
		READING_LIQUID_LINE_TEMP,
	};
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "refrigerant=R-410A, metering=txv, nominal_capacity=3, "
	      "compressor_state=runs, running_minutes=20, outdoor_db=88, return_db=76, return_wb=63, "
	      "supply_db=68, suction_pressure=85, suction_line_temp=70, liquid_pressure=300, "
	      "liquid_line_temp=80");
	struct value *values = judged.visit.values[STAGE_AS_FOUND];
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		values[i].taken_at = values[i].state == VALUE_TAKEN ? 1000 : WALL_TIME_NONE;
	for (size_t i = 0; i < sizeof circuit / sizeof *circuit; i++)
		values[circuit[i]].taken_at = 1200;
	judge_more(&judged, STAGE_AS_FOUND, "");
	ck_assert_double_eq(judged_finding(&judged, FAULT_LIQUID_RESTRICTION)->probability_before, 0);
	/* With one of them it moved by the others. */
	values[READING_SUCTION_PRESSURE].taken_at = 1000;
	judge_more(&judged, STAGE_AS_FOUND, "");
	ck_assert_double_gt(judged_finding(&judged, FAULT_LIQUID_RESTRICTION)->probability_before, 0);
}
END_TEST

Suite *diagnose_suite(void)
{
	Suite *suite = suite_create("diagnose");
	TCase *tests = tcase_create("diagnose");

	tcase_add_loop_test(tests, the_table_follows_the_published_signs, 0,
	                    sizeof published / sizeof *published);
	tcase_add_loop_test(tests, every_circuit_fault_is_named, 0, sizeof circuits / sizeof *circuits);
	tcase_add_loop_test(tests, a_reading_turned_the_other_way_speaks_against_the_fault, 0,
	                    sizeof mirrored / sizeof *mirrored);
	tcase_add_test(tests, hot_dry_weather_leaves_an_orifice_machine_without_superheat);
	tcase_add_test(tests, two_faults_that_disguise_each_other_are_a_pair);
	tcase_add_test(tests, a_reading_not_taken_neither_helps_nor_hurts);
	tcase_add_test(tests, a_residual_inside_the_noise_leans_nowhere);
	tcase_add_test(tests, a_machine_at_rest_tells_nothing_about_its_circuit);
	tcase_add_test(tests, an_outdoor_fan_that_stands_masks_the_circuit);
	tcase_add_test(tests, a_blower_that_stands_is_the_blower);
	tcase_add_test(tests, nothing_known_explains_these_readings);
	tcase_add_loop_test(tests, textbook_cases_come_out_right, 0,
	                    sizeof textbook / sizeof *textbook);
	tcase_add_loop_test(tests, whatever_is_typed_the_answer_is_a_probability, 0, 60);
	tcase_add_loop_test(tests, readings_that_contradict_each_other_are_named, 0,
	                    sizeof contradictions / sizeof *contradictions);
	tcase_add_test(tests, errors_of_the_meter_are_no_contradiction);
	tcase_add_test(tests, an_empty_call_begins_with_looking);
	tcase_add_test(tests, a_humming_compressor_asks_for_its_capacitor);
	tcase_add_test(tests, low_suction_asks_for_what_tells_charge_from_airflow);
	tcase_add_test(tests, a_call_from_humming_to_cooling);
	tcase_add_test(tests, the_ranking_says_how_it_moved);
	tcase_add_test(tests, what_was_thought_of_the_refrigerant_before_it_was_read_is_not_told);
	suite_add_tcase(suite, tests);
	return suite;
}
