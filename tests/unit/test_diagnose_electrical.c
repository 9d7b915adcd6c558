/*
 * The electrical side of the diagnosis: every logical pattern, and what is a
 * matter of degree.
 *
 * Sources: which pairs read over limit, trade textbooks on hermetic motor
 * terminal identification; insulation, compressor makers' bulletins; supply voltage and unbalance,
 * NEMA MG 1; capacitor classes, IEC 60252-1; winding ratios, a published
 * service procedure for single-phase compressor windings; the rest common
 * practice of the trade.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>

#include "support/judged.h"

Suite *diagnose_electrical_suite(void);

#define PLATE "compressor_motor=psc, rated_voltage=230, compressor_rla=14, compressor_lra=73, " \
	"fan_motor_fla=1.3, compressor_capacitor_rated=45, fan_capacitor_rated=5, "
#define FED "line_voltage=236, control_voltage=26, load_side_voltage=235, "
#define SOUND "common_run_resistance=0.9, common_start_resistance=3.6, start_run_resistance=4.5, "

#define THREE "compressor_motor=three_phase, rated_voltage=230, compressor_rla=14, compressor_lra=93, "

/* What must come first, how surely, and with which level. */
struct pattern {
	const char *readings;
	enum fault fault;
	double at_least;
	enum level level;
};

static const struct pattern patterns[] = {
	/* Open windings: both OL readings share the open winding. */
	{ PLATE "common_run_resistance=OL, common_start_resistance=3.6, start_run_resistance=OL",
	  FAULT_WINDING_OPEN_RUN, 0.9, LEVEL_ACT },
	{ PLATE "common_run_resistance=0.9, common_start_resistance=OL, start_run_resistance=OL",
	  FAULT_WINDING_OPEN_START, 0.9, LEVEL_ACT },
	/* OL from common to both, start–run reads: hot shell, the overload; cold for hours, common. */
	{ PLATE FED "common_run_resistance=OL, common_start_resistance=OL, start_run_resistance=4.5, "
	  "shell_temp=190, outdoor_db=90, compressor_state=silent, common_amps=0",
	  FAULT_OVERLOAD_OPEN, 0.9, LEVEL_ACT },
	{ PLATE FED "common_run_resistance=OL, common_start_resistance=OL, start_run_resistance=4.5, "
	  "shell_temp=84, outdoor_db=82, compressor_state=silent, common_amps=0",
	  FAULT_WINDING_OPEN_COMMON, 0.6, LEVEL_ACT },
	/* Ground: below a compressor maker's floor of 0.5 MΩ, and the breaker tells the same. */
	{ PLATE SOUND "compressor_ground_resistance=0.02, breaker_tripped=yes",
	  FAULT_WINDING_GROUNDED, 0.95, LEVEL_ACT },
	/* Above the floor and low: run it warm and test again; never condemned on one reading. */
	{ PLATE SOUND "compressor_ground_resistance=6", FAULT_INSULATION_WEAK, 0.7, LEVEL_WATCH },
	{ PLATE SOUND "compressor_ground_resistance=0.6", FAULT_INSULATION_WEAK, 0.7, LEVEL_WATCH },
	{ PLATE "fan_ground_resistance=0.1, breaker_tripped=yes", FAULT_FAN_MOTOR_GROUNDED, 0.9,
	  LEVEL_ACT },
	/* Burnt lead: voltage behind the contactor, no current in common, sound windings. */
	{ PLATE FED SOUND "compressor_state=silent, common_amps=0, compressor_capacitance=44.6, "
	  "compressor_ground_resistance=500", FAULT_COMPRESSOR_LEAD_OPEN, 0.8, LEVEL_ACT },
	{ PLATE "compressor_state=silent, terminal_condition=burnt", FAULT_COMPRESSOR_LEAD_OPEN, 0.8,
	  LEVEL_ACT },
	/* It hums and draws locked-rotor current: capacitor, voltage, then the rotor. */
	{ PLATE FED SOUND "compressor_state=hums, compressor_capacitance=44.8, starting_amps=70, "
	  "starting_seconds=5, line_voltage_starting=222", FAULT_LOCKED_ROTOR, 0.8, LEVEL_ACT },
	{ PLATE FED SOUND "compressor_state=hums, compressor_capacitance=8, starting_amps=70, "
	  "starting_seconds=5", FAULT_COMPRESSOR_CAPACITOR_FAILED, 0.95, LEVEL_ACT },
	{ PLATE "line_voltage=196, line_voltage_starting=158, compressor_state=hums, "
	  "compressor_capacitance=44.8", FAULT_LOW_LINE_VOLTAGE, 0.9, LEVEL_ACT },
	/* Capacitors: beyond the tolerance on the can; below half it no longer turns the motor. */
	{ PLATE "compressor_state=runs, compressor_capacitance=39.5", FAULT_COMPRESSOR_CAPACITOR_WEAK,
	  0.9, LEVEL_ACT },
	{ PLATE "compressor_capacitance=2", FAULT_COMPRESSOR_CAPACITOR_FAILED, 0.95, LEVEL_ACT },
	{ PLATE "fan_state=hums, fan_capacitance=0.4", FAULT_FAN_CAPACITOR_FAILED, 0.95, LEVEL_ACT },
	{ PLATE "fan_state=runs, fan_capacitance=4.1", FAULT_FAN_CAPACITOR_WEAK, 0.9, LEVEL_ACT },
	/* Supply and control. */
	{ PLATE "line_voltage=0.4, compressor_state=silent, fan_state=silent, breaker_tripped=no",
	  FAULT_NO_LINE_POWER, 0.8, LEVEL_ACT },
	{ PLATE "line_voltage=0.4, compressor_state=silent, fan_state=silent, "
	  "compressor_ground_resistance=500, fan_ground_resistance=OL", FAULT_NO_LINE_POWER, 0.95,
	  LEVEL_ACT },
	{ PLATE "line_voltage=238, control_voltage=0.1, compressor_state=silent, fan_state=silent",
	  FAULT_NO_CONTROL_VOLTAGE, 0.95, LEVEL_ACT },
	{ PLATE "line_voltage=238, control_voltage=26, contactor_coil_resistance=OL, "
	  "load_side_voltage=0, compressor_state=silent, fan_state=silent", FAULT_CONTACTOR_COIL_OPEN,
	  0.95, LEVEL_ACT },
	{ PLATE "line_voltage=262", FAULT_HIGH_LINE_VOLTAGE, 0.8, LEVEL_ACT },
	{ "compressor_motor=three_phase, rated_voltage=460, line_voltage_ab=462, line_voltage_bc=448, "
	  "line_voltage_ca=425", FAULT_VOLTAGE_UNBALANCE, 0.9, LEVEL_ACT },
	/* Contacts: over 0.5 V drop, replace. */
	{ PLATE "compressor_state=runs, contactor_drop=1.4, contactor_condition=burnt",
	  FAULT_CONTACTOR_CONTACTS_WORN, 0.95, LEVEL_ACT },
	{ PLATE "compressor_state=runs, contactor_condition=pitted", FAULT_CONTACTOR_CONTACTS_WORN, 0.5,
	  LEVEL_WATCH },
	/* Fan and blower. */
	{ PLATE FED "compressor_state=runs, fan_state=silent, fan_capacitance=5.0",
	  FAULT_FAN_MOTOR_FAILED, 0.7, LEVEL_ACT },
	{ PLATE "fan_state=runs, fan_amps=1.65, fan_capacitance=5", FAULT_FAN_MOTOR_OVERLOADED, 0.9,
	  LEVEL_ACT },
	{ PLATE "blower_motor_fla=4, blower_amps=5.2", FAULT_BLOWER_MOTOR_OVERLOADED, 0.9, LEVEL_ACT },
	{ PLATE "terminal_condition=corroded, compressor_state=runs", FAULT_COMPRESSOR_LEAD_OPEN, 0.5,
	  LEVEL_WATCH },
};

START_TEST(every_pattern_is_named)
{
	const struct pattern *pattern = &patterns[_i];
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, pattern->readings);
	ck_assert_int_eq(judged_first(&judged), pattern->fault);
	ck_assert_double_ge(judged_probability(&judged, pattern->fault), pattern->at_least);
	ck_assert_int_eq(judged_finding(&judged, pattern->fault)->level, pattern->level);
	ck_assert_int_gt(judged.diagnosis.findings[0].evidence_count, 0);
	ck_assert_double_gt(judged.diagnosis.findings[0].evidence[0].leans, 0);
}
END_TEST

#define HUMS SOUND "compressor_state=hums, fan_state=runs, "
#define OHMS_SHORTED "common_run_resistance=0.9, common_start_resistance=2.4, " \
	"start_run_resistance=3.3, "
#define RATED_OHMS "run_winding_rated=0.9, start_winding_rated=3.6, "

/*
 * States that look alike, each with the readings that tell it from its
 * neighbours: it stands first, the next is at most `next`.
 */
static const struct {
	const char *readings;
	enum fault fault;
	double at_least, next;
} neighbours[] = {
	/* It hums or starts badly: capacitor, rotor, supply, connection, winding, tightness. */
	{ PLATE FED HUMS "compressor_capacitance=30, starting_amps=70, starting_seconds=5, "
	  "line_voltage_starting=224", FAULT_COMPRESSOR_CAPACITOR_FAILED, 0.9, 0.1 },
	{ PLATE FED SOUND "compressor_state=runs, compressor_capacitance=38, starting_seconds=1.5",
	  FAULT_COMPRESSOR_CAPACITOR_WEAK, 0.9, 0.1 },
	{ PLATE FED HUMS "compressor_capacitance=45, starting_amps=72, starting_seconds=5, "
	  "line_voltage_starting=224", FAULT_LOCKED_ROTOR, 0.85, 0.1 },
	{ PLATE HUMS "line_voltage=196, compressor_capacitance=45, starting_amps=58, "
	  "starting_seconds=5, line_voltage_starting=182", FAULT_LOW_LINE_VOLTAGE, 0.9, 0.3 },
	{ PLATE FED HUMS "compressor_capacitance=45, starting_amps=45, starting_seconds=5, "
	  "line_voltage_starting=150", FAULT_SUPPLY_CONNECTION_BAD, 0.9, 0.3 },
	{ PLATE FED "common_run_resistance=0.9, common_start_resistance=OL, start_run_resistance=OL, "
	  "compressor_state=hums, compressor_capacitance=45, starting_amps=70",
	  FAULT_WINDING_OPEN_START, 0.9, 0.1 },
	{ PLATE FED SOUND "compressor_state=runs, compressor_capacitance=45, common_amps=19, "
	  "starting_seconds=2, line_voltage_starting=226", FAULT_COMPRESSOR_TIGHT, 0.5, 0.4 },
	{ PLATE FED SOUND "compressor_state=cycles, compressor_capacitance=45, common_amps=19, "
	  "starting_seconds=2, line_voltage_starting=226", FAULT_COMPRESSOR_TIGHT, 0.35, 0.35 },
	/* It stands while the fan runs, or nothing runs: pole, lead, overload. */
	{ PLATE "line_voltage=238, control_voltage=26, load_side_voltage=118, contactor_pulled_in=yes, "
	  "compressor_state=silent, fan_state=silent", FAULT_CONTACTOR_POLE_OPEN, 0.9, 0.1 },
	{ PLATE FED "compressor_state=silent, fan_state=runs, common_amps=0, compressor_capacitance=45, "
	  SOUND, FAULT_COMPRESSOR_LEAD_OPEN, 0.8, 0.1 },
	{ PLATE FED "compressor_state=silent, fan_state=runs, common_amps=0, shell_temp=195, "
	  "outdoor_db=92, common_run_resistance=OL, common_start_resistance=OL, "
	  "start_run_resistance=4.5", FAULT_OVERLOAD_OPEN, 0.9, 0.1 },
	/* Three phases: one lost, standing and turning; unequal. */
	{ THREE "line_voltage_ab=238, line_voltage_bc=119, line_voltage_ca=119, compressor_state=hums",
	  FAULT_PHASE_LOST, 0.9, 0.2 },
	{ THREE "line_voltage_ab=238, line_voltage_bc=230, line_voltage_ca=229, compressor_state=runs, "
	  "amps_a=22, amps_b=22, amps_c=0", FAULT_PHASE_LOST, 0.9, 0.35 },
	{ THREE "line_voltage_ab=240, line_voltage_bc=232, line_voltage_ca=224, compressor_state=runs, "
	  "amps_a=14, amps_b=11, amps_c=10", FAULT_VOLTAGE_UNBALANCE, 0.9, 0.35 },
	{ THREE "line_voltage_ab=238, line_voltage_bc=237, line_voltage_ca=238, compressor_state=hums, "
	  "amps_a=70, amps_b=70, amps_c=0, winding_ab=0.8, winding_bc=OL, winding_ca=OL",
	  FAULT_WINDING_OPEN_PHASE, 0.8, 0.25 },
	/* A start winding a third short of what its maker states, at a known temperature. */
	{ PLATE RATED_OHMS OHMS_SHORTED "winding_temp=80", FAULT_WINDING_SHORTED, 0.9, 0.1 },
	{ PLATE RATED_OHMS FED OHMS_SHORTED "winding_temp=80, compressor_state=hums, "
	  "compressor_capacitance=45, starting_amps=80", FAULT_WINDING_SHORTED, 0.9, 0.1 },
};

START_TEST(a_state_is_told_from_its_neighbours)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, neighbours[_i].readings);
	ck_assert_int_eq(judged_first(&judged), neighbours[_i].fault);
	ck_assert_double_ge(judged_probability(&judged, neighbours[_i].fault), neighbours[_i].at_least);
	if (judged.diagnosis.finding_count > 1)
		ck_assert_double_le(judged.diagnosis.findings[1].probability, neighbours[_i].next);
}
END_TEST

/* Without the maker's resistances the same ohms are those of another sound motor. */
START_TEST(a_shorted_winding_is_ambiguous_without_its_rated_resistance)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE FED OHMS_SHORTED "compressor_state=hums, "
	      "compressor_capacitance=45, starting_amps=80");
	ck_assert_double_lt(judged_probability(&judged, FAULT_WINDING_SHORTED), 0.3);
	ck_assert_double_lt(judged.diagnosis.findings[0].probability, 0.9);
}
END_TEST

START_TEST(all_pairs_open_is_both_windings)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE "common_run_resistance=OL, common_start_resistance=OL, "
	      "start_run_resistance=OL, compressor_state=silent");
	ck_assert_double_ge(judged_probability(&judged, FAULT_WINDING_OPEN_RUN), 0.5);
	ck_assert_double_ge(judged_probability(&judged, FAULT_WINDING_OPEN_START), 0.5);
}
END_TEST

START_TEST(what_trips_the_breaker_is_blamed_for_the_dead_line)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE "line_voltage=0, breaker_tripped=yes, "
	      "compressor_state=silent, fan_state=silent, compressor_ground_resistance=0.01");
	ck_assert_int_eq(judged_first(&judged), FAULT_WINDING_GROUNDED);
	ck_assert_double_lt(judged_probability(&judged, FAULT_NO_LINE_POWER), 0.2);
}
END_TEST

/* Common practice: a breaker that was found tripped asks for the shells, though the line is on again by now. */
START_TEST(a_breaker_that_was_reset_still_asks_for_the_shells)
{
	struct judged judged;
	double grounded[2], fan[2];

	for (int tripped = 0; tripped < 2; tripped++) {
		judge(&judged, STAGE_AS_FOUND, tripped
		      ? PLATE "line_voltage=240, compressor_state=silent, breaker_tripped=yes"
		      : PLATE "line_voltage=240, compressor_state=silent, breaker_tripped=no");
		grounded[tripped] = judged_probability(&judged, FAULT_WINDING_GROUNDED);
		fan[tripped] = judged_probability(&judged, FAULT_FAN_MOTOR_GROUNDED);
	}
	ck_assert_double_gt(grounded[1], 3 * grounded[0] + 0.02);
	ck_assert_double_gt(fan[1], 3 * fan[0] + 0.01);
}
END_TEST

START_TEST(unmarked_terminals_tell_the_ratio_too)
{
	struct judged judged;

	/* 0.33 Ω run, 4.0 Ω start: the ratio of 12 of the published procedure. */
	judge(&judged, STAGE_AS_FOUND, PLATE "compressor_state=hums, compressor_capacitance=45, "
	      "terminal_12=4.33, terminal_23=4.0, terminal_31=0.33");
	ck_assert_double_gt(judged_lean(&judged, FAULT_WINDING_SHORTED, 0, READING_TERMINAL_31), 0.2);
	judge(&judged, STAGE_AS_FOUND, PLATE "terminal_12=OL, terminal_23=OL, terminal_31=0.9");
	double open = judged_probability(&judged, FAULT_WINDING_OPEN_RUN) +
	              judged_probability(&judged, FAULT_WINDING_OPEN_START) +
	              judged_probability(&judged, FAULT_WINDING_OPEN_COMMON) +
	              judged_probability(&judged, FAULT_OVERLOAD_OPEN);
	ck_assert_double_gt(open, 0.9);
}
END_TEST

/* Two pairs that are read and one that is not tell nothing; nor do unmarked ones beside the marked. */
START_TEST(unmarked_pairs_count_where_all_three_are_read_and_none_is_marked)
{
	static struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE "terminal_12=OL, terminal_23=OL, terminal_31=0.9");
	ck_assert_int_gt(judged.diagnosis.finding_count, 0);
	judge(&judged, STAGE_AS_FOUND, PLATE "terminal_12=OL, terminal_23=OL");
	ck_assert_int_eq(judged.diagnosis.finding_count, 0);
	/* Marked, one pair reads open: so it is the winding, not whatever the others would be. */
	judge(&judged, STAGE_AS_FOUND, PLATE "common_run_resistance=OL, common_start_resistance=2.4");
	double alone = judged_probability(&judged, FAULT_WINDING_OPEN_RUN);
	judge(&judged, STAGE_AS_FOUND, PLATE "terminal_12=1, terminal_23=3, terminal_31=4, "
	      "common_run_resistance=OL, common_start_resistance=2.4");
	ck_assert_double_gt(alone, 0.3);
	ck_assert_double_eq_tol(judged_probability(&judged, FAULT_WINDING_OPEN_RUN), alone, 1e-9);
}
END_TEST

START_TEST(a_three_phase_overload_opens_every_pair)
{
	struct judged judged;

	/* The internal protector of a star winding stands at the star point: trade textbooks. */
	judge(&judged, STAGE_AS_FOUND, "compressor_motor=three_phase, common_run_resistance=OL, "
	      "common_start_resistance=OL, start_run_resistance=OL, shell_temp=200");
	ck_assert_int_eq(judged_first(&judged), FAULT_OVERLOAD_OPEN);
}
END_TEST

START_TEST(winding_ratios_of_makers_and_of_the_published_procedure)
{
	struct judged good, maker, high;

	/* 3.0/0.5 Ω is good; 4.0/0.33 Ω is partly shorted: the published procedure. */
	judge(&good, STAGE_AS_FOUND, PLATE "compressor_state=hums, compressor_capacitance=45, "
	      "common_run_resistance=0.5, common_start_resistance=3.0, start_run_resistance=3.5");
	judge(&high, STAGE_AS_FOUND, PLATE "compressor_state=hums, compressor_capacitance=45, "
	      "common_run_resistance=0.33, common_start_resistance=4.0, start_run_resistance=4.33");
	/* 0.94/2.01 Ω is sound in a maker's table (FRCC.PC.002.A5). */
	judge(&maker, STAGE_AS_FOUND, PLATE "compressor_state=hums, compressor_capacitance=45, "
	      "common_run_resistance=0.94, common_start_resistance=2.01, start_run_resistance=2.95");
	double usual = judged_probability(&good, FAULT_WINDING_SHORTED);
	ck_assert_double_gt(judged_probability(&high, FAULT_WINDING_SHORTED), usual + 0.05);
	ck_assert_double_lt(judged_probability(&maker, FAULT_WINDING_SHORTED), usual + 0.05);
	ck_assert_double_gt(judged_lean(&high, FAULT_WINDING_SHORTED, FIGURE_START_RUN_RATIO, 0), 0.1);
	/* The maker's own resistances say more than a rule of thumb. */
	judge_more(&maker, STAGE_AS_FOUND, "start_winding_rated=3.2, run_winding_rated=0.94, "
	           "winding_temp=80");
	ck_assert_int_eq(judged_first(&maker), FAULT_WINDING_SHORTED);
	ck_assert_double_ge(judged_probability(&maker, FAULT_WINDING_SHORTED), 0.9);
}
END_TEST

START_TEST(a_sound_capacitor_clears_itself)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE "compressor_state=hums");
	double before = judged_probability(&judged, FAULT_COMPRESSOR_CAPACITOR_FAILED);
	ck_assert_double_gt(before, 0.3);
	ck_assert_double_lt(before, 0.95);
	judge_more(&judged, STAGE_AS_FOUND, "compressor_capacitance=45.2");
	ck_assert_double_lt(judged_probability(&judged, FAULT_COMPRESSOR_CAPACITOR_FAILED), 0.02);
	ck_assert_double_gt(judged_probability(&judged, FAULT_LOCKED_ROTOR), 0.25);
}
END_TEST

START_TEST(a_failed_capacitor_takes_the_blame_from_the_rotor)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE "compressor_state=hums, compressor_capacitance=27");
	ck_assert_double_ge(judged_probability(&judged, FAULT_COMPRESSOR_CAPACITOR_FAILED), 0.8);
	ck_assert_double_lt(judged_probability(&judged, FAULT_LOCKED_ROTOR), 0.1);
}
END_TEST

START_TEST(at_the_edge_of_a_tolerance_nothing_is_certain)
{
	struct judged judged;
	double last = 0;
	static const char *const readings[] = { "44.6", "43.2", "42.3", "41.4", "40.0" };

	/* 45 µF ± 6 %, meter ± 2 %: from sound to weak without a step. */
	for (size_t i = 0; i < sizeof readings / sizeof *readings; i++) {
		char text[512];
		snprintf(text, sizeof text, PLATE "compressor_state=runs, compressor_capacitance=%s",
		         readings[i]);
		judge(&judged, STAGE_AS_FOUND, text);
		double now = judged_probability(&judged, FAULT_COMPRESSOR_CAPACITOR_WEAK);
		ck_assert_double_ge(now, last);
		ck_assert_double_lt(now - last, 0.75);
		last = now;
	}
	ck_assert_double_gt(last, 0.95);
}
END_TEST

START_TEST(a_drifting_capacitor_is_watched)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE "compressor_state=runs, compressor_capacitance=42.6");
	const struct finding *finding = judged_finding(&judged, FAULT_COMPRESSOR_CAPACITOR_WEAK);
	ck_assert_ptr_nonnull(finding);
	ck_assert_int_eq(finding->level, LEVEL_WATCH);
}
END_TEST

START_TEST(a_capacitor_under_load_is_measured_by_its_current)
{
	struct judged judged;

	/* 2652.6 A / V at 60 Hz: 4 A at 350 V is 30 µF on a 45 µF rating. */
	judge(&judged, STAGE_AS_FOUND, PLATE "compressor_state=runs, start_amps=4, "
	      "compressor_capacitor_volts=350");
	ck_assert_int_eq(judged_first(&judged), FAULT_COMPRESSOR_CAPACITOR_WEAK);
}
END_TEST

START_TEST(a_three_phase_machine_has_no_run_capacitor)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "compressor_motor=three_phase, compressor_state=hums");
	ck_assert_double_eq(judged_probability(&judged, FAULT_COMPRESSOR_CAPACITOR_FAILED), 0);
}
END_TEST

START_TEST(a_sound_electrical_side_is_said_to_be_sound)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, PLATE FED SOUND "compressor_capacitance=44.8, fan_capacitance=5, "
	      "contactor_condition=clean, contactor_drop=0.1, terminal_condition=sound, "
	      "compressor_ground_resistance=600, compressor_state=runs, fan_state=runs, fan_amps=1.0, "
	      "common_amps=10.4, starting_seconds=0.4");
	for (int i = 0; i < judged.diagnosis.finding_count; i++)
		ck_assert_int_ne(judged.diagnosis.findings[i].level, LEVEL_ACT);
	ck_assert_double_gt(judged.diagnosis.healthy, 0.4);
}
END_TEST

Suite *diagnose_electrical_suite(void)
{
	Suite *suite = suite_create("diagnose_electrical");
	TCase *tests = tcase_create("diagnose_electrical");

	tcase_add_loop_test(tests, every_pattern_is_named, 0, sizeof patterns / sizeof *patterns);
	tcase_add_loop_test(tests, a_state_is_told_from_its_neighbours, 0,
	                    sizeof neighbours / sizeof *neighbours);
	tcase_add_test(tests, a_shorted_winding_is_ambiguous_without_its_rated_resistance);
	tcase_add_test(tests, all_pairs_open_is_both_windings);
	tcase_add_test(tests, what_trips_the_breaker_is_blamed_for_the_dead_line);
	tcase_add_test(tests, a_breaker_that_was_reset_still_asks_for_the_shells);
	tcase_add_test(tests, unmarked_terminals_tell_the_ratio_too);
	tcase_add_test(tests, a_three_phase_overload_opens_every_pair);
	tcase_add_test(tests, winding_ratios_of_makers_and_of_the_published_procedure);
	tcase_add_test(tests, a_sound_capacitor_clears_itself);
	tcase_add_test(tests, a_failed_capacitor_takes_the_blame_from_the_rotor);
	tcase_add_test(tests, at_the_edge_of_a_tolerance_nothing_is_certain);
	tcase_add_test(tests, unmarked_pairs_count_where_all_three_are_read_and_none_is_marked);
	tcase_add_test(tests, a_drifting_capacitor_is_watched);
	tcase_add_test(tests, a_capacitor_under_load_is_measured_by_its_current);
	tcase_add_test(tests, a_three_phase_machine_has_no_run_capacitor);
	tcase_add_test(tests, a_sound_electrical_side_is_said_to_be_sound);
	suite_add_tcase(suite, tests);
	return suite;
}
