/*
 * Contradictions: each begins where what is impossible exceeds the error of both instruments, added
 * as squares (JCGM 100:2008, 5.1.2; errors of instruments.def), and the slack of its row.  The
 * physics is the textbook's: heat flows downhill, a coil does not cool below its refrigerant, the
 * wet bulb is not above the dry one, a series circuit adds up, phasors no more than their sizes.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "support/judged.h"

Suite *contradictions_suite(void);

static const struct {
	enum contradiction_id id;
	const char *given;   /* read as well */
	const char *reading; /* key of what is moved */
	double sound, absurd;
	double begins;       /* between them */
} rows[] = {
	{ CONTRADICTION_SUPERHEAT_NEGATIVE,
	  "refrigerant=R-410A, compressor_state=runs, suction_pressure=130, liquid_pressure=340",
	  "suction_line_temp", 50, 30, 42.75 },
	{ CONTRADICTION_SUBCOOLING_NEGATIVE,
	  "refrigerant=R-410A, compressor_state=runs, suction_pressure=130, liquid_pressure=340",
	  "liquid_line_temp", 90, 120, 107 },
	{ CONTRADICTION_SUPPLY_WARMER_THAN_RETURN, "compressor_state=runs, return_db=75",
	  "supply_db", 60, 90, 76.41 },
	{ CONTRADICTION_SUCTION_ABOVE_LIQUID, "compressor_state=runs, liquid_pressure=140",
	  "suction_pressure", 100, 200, 142.9 },
	{ CONTRADICTION_CONDENSING_BELOW_OUTDOOR,
	  "refrigerant=R-410A, compressor_state=runs, liquid_pressure=300, suction_pressure=130",
	  "outdoor_db", 80, 120, 99.2 },
	{ CONTRADICTION_LIQUID_BELOW_OUTDOOR, "compressor_state=runs, outdoor_db=95",
	  "liquid_line_temp", 100, 70, 89.59 },
	{ CONTRADICTION_SUCTION_ABOVE_RETURN,
	  "refrigerant=R-410A, compressor_state=runs, suction_pressure=200, liquid_pressure=400",
	  "return_db", 80, 50, 68.49 },
	{ CONTRADICTION_SUCTION_LINE_ABOVE_DISCHARGE, "compressor_state=runs, discharge_line_temp=100",
	  "suction_line_temp", 80, 130, 102.2 },
	{ CONTRADICTION_DISCHARGE_BELOW_CONDENSING,
	  "refrigerant=R-410A, compressor_state=runs, liquid_pressure=340, suction_pressure=130",
	  "discharge_line_temp", 150, 80, 100.4 },
	{ CONTRADICTION_SUPERHEAT_WITH_FLOODED_DISCHARGE,
	  "refrigerant=R-410A, compressor_state=runs, liquid_pressure=340, "
	  "suction_pressure=130, suction_line_temp=65",
	  "discharge_line_temp", 160, 108, 114.1 },
	{ CONTRADICTION_RETURN_WET_ABOVE_DRY, "return_db=70",
	  "return_wb", 60, 80, 71.41 },
	{ CONTRADICTION_SUPPLY_WET_ABOVE_DRY, "supply_db=58",
	  "supply_wb", 50, 70, 59.41 },
	{ CONTRADICTION_SUPPLY_WET_ABOVE_RETURN, "compressor_state=runs, return_db=76, return_wb=60",
	  "supply_wb", 50, 75, 62.41 },
	{ CONTRADICTION_WINDING_SUM_HIGH, "common_run_resistance=1, common_start_resistance=3",
	  "start_run_resistance", 4, 6, 4.772 },
	{ CONTRADICTION_WINDING_SUM_LOW, "common_run_resistance=1, common_start_resistance=3",
	  "start_run_resistance", 4, 2, 3.288 },
	{ CONTRADICTION_RUN_ABOVE_START, "common_start_resistance=3",
	  "common_run_resistance", 2, 5, 3.286 },
	{ CONTRADICTION_STARTING_ABOVE_LINE, "line_voltage=230",
	  "line_voltage_starting", 220, 260, 236.4 },
	{ CONTRADICTION_LOAD_ABOVE_LINE, "line_voltage=230",
	  "load_side_voltage", 220, 260, 234 },
	{ CONTRADICTION_RUNNING_PRESSURES_AT_REST, "compressor_state=hums, suction_pressure=118",
	  "liquid_pressure", 150, 350, 175 },
	{ CONTRADICTION_COMMON_AMPS_SILENT, "compressor_state=silent",
	  "common_amps", 0.1, 3, 0.6123 },
	{ CONTRADICTION_COMMON_AMPS_NONE, "compressor_state=runs",
	  "common_amps", 3, 0, 0.3921 },
	{ CONTRADICTION_COMMON_AMPS_ABOVE_SUM, "run_amps=10, start_amps=3",
	  "common_amps", 12, 18, 13.5 },
	{ CONTRADICTION_COMMON_AMPS_BELOW_LARGER, "run_amps=10, start_amps=3",
	  "common_amps", 11, 6, 9.256 },
	{ CONTRADICTION_START_AMPS_NONE,
	  "compressor_state=runs, compressor_capacitor_rated=45, compressor_capacitance=44",
	  "start_amps", 3, 0, 0.3921 },
	{ CONTRADICTION_START_AMPS_NONE,
	  "compressor_state=runs, compressor_capacitor_rated=45, start_amps=0",
	  "compressor_capacitance", 30, 45, 39.23 },
	{ CONTRADICTION_COMPRESSOR_CAPACITANCE_HIGH, "compressor_capacitor_rated=45",
	  "compressor_capacitance", 50, 80, 59.9 },
	{ CONTRADICTION_FAN_CAPACITANCE_HIGH, "fan_capacitor_rated=5",
	  "fan_capacitance", 5.5, 9, 6.735 },
	{ CONTRADICTION_FAN_AMPS_SILENT, "fan_state=silent",
	  "fan_amps", 0, 1, 0.2551 },
	{ CONTRADICTION_BLOWER_AMPS_SILENT, "blower_state=silent",
	  "blower_amps", 0, 1, 0.3571 },
	{ CONTRADICTION_FILTER_ABOVE_TOTAL, "return_static=-0.2, supply_static=0.1",
	  "filter_drop", 0.1, 0.5, 0.3433 },
};

static bool is_named(int row, double value)
{
	static struct judged judged;
	char readings[256];

	snprintf(readings, sizeof readings, "%s, %s=%.9g", rows[row].given, rows[row].reading, value);
	judge(&judged, STAGE_AS_FOUND, readings);
	for (int i = 0; i < judged.diagnosis.contradiction_count; i++)
		if (judged.diagnosis.contradictions[i].id == rows[row].id)
			return true;
	return false;
}

START_TEST(a_contradiction_begins_beyond_the_meters)
{
	double step = (rows[_i].absurd - rows[_i].sound) / 200;

	ck_assert(!is_named(_i, rows[_i].sound));
	ck_assert_msg(!is_named(_i, rows[_i].begins - step), "row %d: begins too soon", _i);
	ck_assert_msg(is_named(_i, rows[_i].begins + step), "row %d: begins too late", _i);
	ck_assert(is_named(_i, rows[_i].absurd));
}
END_TEST

START_TEST(every_contradiction_has_its_row)
{
	bool has_row[CONTRADICTION_COUNT] = { false };

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		has_row[rows[i].id] = true;
	for (int i = 0; i < CONTRADICTION_COUNT; i++)
		ck_assert_msg(has_row[i], "contradiction %d has no test", i);
}
END_TEST

/* What a contradiction needs to be seen first. */
static const char *const silent[] = {
	"compressor_state=silent, return_db=75, supply_db=90",
	"compressor_state=hums, suction_pressure=200, liquid_pressure=140",
	"compressor_kind=rotary, common_run_resistance=5, common_start_resistance=3",
	"compressor_state=runs, common_amps=3", "fan_state=runs, fan_amps=1",
	"fan_state=hums, fan_amps=1", "blower_state=runs, blower_amps=1",
	"compressor_state=silent, common_amps=0", "compressor_state=hums, common_amps=60",
};

START_TEST(a_unit_that_does_otherwise_contradicts_nothing)
{
	static struct judged judged;

	judge(&judged, STAGE_AS_FOUND, silent[_i]);
	ck_assert_int_eq(judged.diagnosis.contradiction_count, 0);
}
END_TEST

static bool speaks_of(const struct evidence *evidence, const struct contradiction *contradiction)
{
	for (int i = 0; i < contradiction->quoted_count && evidence->leans > 0; i++) {
		const struct quoted *quoted = &contradiction->quoted[i];
		if (quoted->figure != FIGURE_NONE ? evidence->figure == quoted->figure
		    : evidence->figure == FIGURE_NONE ? evidence->reading == quoted->reading
		    : figure_takes(evidence->figure, quoted->reading))
			return true;
	}
	return false;
}

/* How many pieces of a finding's evidence stand on it; `first`: the strongest does. */
static int count_of(const struct finding *finding, const struct contradiction *contradiction, bool *first)
{
	int count = 0;

	*first = false;
	for (int i = 0; i < finding->evidence_count; i++)
		if (speaks_of(&finding->evidence[i], contradiction)) {
			*first = *first || i == 0;
			count++;
		}
	return count;
}

/* Sure by what cannot be right: it is read again, and not acted on. */
START_TEST(what_stands_on_a_contradiction_is_not_acted_on)
{
	static struct judged judged;
	int held = 0, held_by_strongest = 0, held_leading = 0;
	char readings[256];

	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		snprintf(readings, sizeof readings, "%s, %s=%.9g", rows[row].given, rows[row].reading,
		         rows[row].absurd);
		judge(&judged, STAGE_AS_FOUND, readings);
		for (int c = 0; c < judged.diagnosis.contradiction_count; c++)
			for (int i = 0; i < judged.diagnosis.finding_count; i++) {
				const struct contradiction *contradiction = &judged.diagnosis.contradictions[c];
				const struct finding *finding = &judged.diagnosis.findings[i];
				bool first;
				int count = count_of(finding, contradiction, &first);
				if (contradiction->may_be_right || finding->basis != BASIS_INFERRED || count == 0)
					continue;
				ck_assert_msg(finding->level != LEVEL_ACT, "row %zu, %s", row,
				              fault_info(finding->fault)->key);
				if (finding->probability > 0.8) {
					held++;
					held_by_strongest += first && count == 1;
					held_leading += i == 0;
				}
			}
	}
	ck_assert_int_gt(held, 0);
	ck_assert_int_gt(held_by_strongest, 0);
	ck_assert_int_gt(held_leading, 0);
}
END_TEST

Suite *contradictions_suite(void)
{
	Suite *suite = suite_create("contradictions");
	TCase *tests = tcase_create("contradictions");

	tcase_add_loop_test(tests, a_contradiction_begins_beyond_the_meters, 0,
	                    sizeof rows / sizeof *rows);
	tcase_add_test(tests, every_contradiction_has_its_row);
	tcase_add_test(tests, what_stands_on_a_contradiction_is_not_acted_on);
	tcase_add_loop_test(tests, a_unit_that_does_otherwise_contradicts_nothing, 0,
	                    sizeof silent / sizeof *silent);
	suite_add_tcase(suite, tests);
	return suite;
}
