/*
 * The table of parts and states, and the rows of clues about them.
 */
#include <check.h>
#include <math.h>
#include <string.h>

#include "diagnose/circuit.h"
#include "diagnose/clue_makers.h"
#include "diagnose/network.h"
#include "support/circuit_rows.h"
#include "support/judged.h"

Suite *states_suite(void);

START_TEST(states_of_a_part_stand_together)
{
	int seen = 0;

	for (int v = 0; v < VARIABLE_COUNT; v++) {
		enum state first = variable_first((enum variable)v);
		ck_assert_int_le(variable_states((enum variable)v), MOST_STATES);
		ck_assert_int_ge(variable_states((enum variable)v), 2);
		ck_assert_int_eq(state_info(first)->fault, FAULT_NONE);
		for (int i = 0; i < variable_states((enum variable)v); i++, seen++)
			ck_assert_int_eq(state_info((enum state)((int)first + i))->variable, v);
	}
	ck_assert_int_eq(seen, STATE_COUNT);
}
END_TEST

/* What is shown follows from the parts; every other state but the sound one means a fault. */
START_TEST(a_state_means_a_fault_with_a_prior)
{
	const struct state_info *info = state_info((enum state)_i);
	bool is_sound = variable_first(info->variable) == (enum state)_i;

	if (is_sound || variable_role(info->variable) == ROLE_SHOWN) {
		ck_assert_int_eq(info->fault, FAULT_NONE);
		return;
	}
	ck_assert_int_ne(info->fault, FAULT_NONE);
	ck_assert_double_gt(info->weight, 0);
	ck_assert_double_lt(info->weight * fault_info(info->fault)->prior, 0.25);
}
END_TEST

/* What a state makes a motor do is something that this motor is seen to do. */
/* What a motor is seen to do follows from the parts: it has no fault and no share of one. */
START_TEST(what_is_seen_has_no_weight_of_its_own)
{
	int seen = 0;

	for (int s = 0; s < STATE_COUNT; s++) {
		const struct state_info *info = state_info((enum state)s);
		if (variable_role(info->variable) != ROLE_SHOWN)
			continue;
		ck_assert_int_eq(info->fault, FAULT_NONE);
		ck_assert_double_eq(info->weight, 0);
		seen++;
	}
	ck_assert_int_gt(seen, 30);
}
END_TEST

START_TEST(a_state_makes_a_motor_do_what_it_can)
{
	for (int m = 0; m < MOTOR_COUNT; m++)
		ck_assert_int_eq(state_info(state_makes((enum state)_i, (enum motor)m))->variable,
		                 motor_shown((enum motor)m));
}
END_TEST

/* Every fault is the circuit's or a state's: none can never be found. */
START_TEST(every_fault_can_be_found)
{
	bool found = !isnan(circuit_shift((enum fault)_i, true, 1, COORDINATE_SUCTION));

	for (int s = 0; s < STATE_COUNT; s++)
		found = found || state_info((enum state)s)->fault == (enum fault)_i;
	ck_assert_msg(found, "%s", fault_info((enum fault)_i)->key);
}
END_TEST

/* What a motor is seen to do has a share for every outcome, and they sum to 1. */
START_TEST(shares_of_what_is_seen_sum_to_one)
{
	static const struct {
		enum reading reading;
		enum motor motor;
	} rows[] = {
		{ READING_COMPRESSOR_STATE, MOTOR_COMPRESSOR }, { READING_FAN_STATE, MOTOR_FAN },
		{ READING_BLOWER_STATE, MOTOR_BLOWER }, { READING_STARTING_SECONDS, MOTOR_COMPRESSOR },
		{ READING_COMMON_AMPS, MOTOR_COMPRESSOR },
	};
	double shares[MOST_OUTCOMES];

	for (int c = 0; c < variable_states(motor_shown(rows[_i].motor)); c++) {
		double sum = 0;
		int count = clues_outcomes(rows[_i].reading, CHOICE_NONE, c, shares);
		ck_assert_int_gt(count, 1);
		for (int o = 0; o < count; o++) {
			ck_assert_double_gt(shares[o], 0);
			sum += shares[o];
		}
		ck_assert_double_eq_tol(sum, 1, 1e-9);
	}
}
END_TEST

/* A state that a clue does not name is not told from the sound one. */
START_TEST(a_state_left_out_reads_as_sound)
{
	struct clue clue = { .variable = VARIABLE_SUPPLY };
	int first = (int)variable_first(VARIABLE_SUPPLY);

	CLUE_SAY(&clue, { STATE_SUPPLY_GOOD, 0.7 }, { STATE_SUPPLY_LOW, 0.2 });
	for (int i = 0; i < variable_states(VARIABLE_SUPPLY); i++)
		ck_assert_double_eq(clue.likelihood[i],
		                    first + i == (int)STATE_SUPPLY_LOW ? 0.2 : 0.7);
	CLUE_SAY((struct clue *)NULL, { STATE_SUPPLY_GOOD, 0.7 });
}
END_TEST

/* Every clue that a full call gives is explained by one of its states at least. */
START_TEST(every_clue_is_explained_by_a_state)
{
	struct judged judged;
	struct clues clues;

	judge(&judged, STAGE_AS_FOUND, "compressor_motor=psc, rated_voltage=230, compressor_rla=14, "
	      "compressor_capacitor_rated=45, fan_capacitor_rated=5, fan_motor_fla=1.3, "
	      "blower_motor_fla=4, blower_capacitor_rated=10, line_voltage=231, load_side_voltage=180, "
	      "control_voltage=24, contactor_coil_resistance=12, contactor_drop=0.3, "
	      "line_voltage_starting=205, call_for_cooling=yes, indoor_call=yes, float_switch=closed, "
	      "control_fuse=sound, transformer_primary=231, transformer_secondary=25, "
	      "high_pressure_switch=closed, low_pressure_switch=closed, contactor_pulled_in=yes, "
	      "compressor_capacitance=41, fan_capacitance=4.8, blower_capacitance=9.7, "
	      "common_run_resistance=0.9, common_start_resistance=3.4, start_run_resistance=4.3, "
	      "run_winding_rated=0.9, start_winding_rated=3.6, shell_temp=150, fan_amps=1.2, "
	      "compressor_ground_resistance=30, fan_ground_resistance=3, fan_winding_resistance=30, "
	      "compressor_state=runs, fan_state=runs, blower_state=runs, common_amps=12, "
	      "starting_seconds=0.8, blower_amps=3.1, filter_drop=0.2, coil_drop=0.3, "
	      "return_static=-0.3, supply_static=0.2, drain_condition=flows, coil_condition=clean, "
	      "return_db=76, return_wb=63, reversing_valve_in_temp=50, reversing_valve_out_temp=51");
	struct view view = { .visit = &judged.visit, .stage = STAGE_AS_FOUND, .set = &judged.set };
	clues_collect(&view, &clues);
	ck_assert_int_gt(clues.count, 30);
	ck_assert_int_lt(clues.count, MOST_CLUES);
	for (int c = 0; c < clues.count; c++) {
		double most = 0;
		for (int i = 0; i < variable_states(clues.list[c].variable); i++) {
			ck_assert_double_ge(clues.list[c].likelihood[i], 0);
			ck_assert_double_lt(clues.list[c].likelihood[i], 1e4);
			most = fmax(most, clues.list[c].likelihood[i]);
		}
		ck_assert_double_gt(most, 0);
	}
}
END_TEST

static double belief(const struct judged *judged, enum state state)
{
	struct view view = { .visit = &judged->visit, .stage = STAGE_AS_FOUND, .set = &judged->set };
	struct beliefs beliefs;
	struct clues clues;

	clues_collect(&view, &clues);
	network_judge(&view, &clues, false, &beliefs);
	for (int v = 0; v < VARIABLE_COUNT; v++) {
		double sum = 0;
		for (int i = 0; i < variable_states((enum variable)v); i++)
			sum += beliefs.posterior[(int)variable_first((enum variable)v) + i];
		ck_assert_double_eq_tol(sum, 1, 1e-9);
	}
	return beliefs.posterior[state];
}

/* An open float switch makes a blocked drain likely; a drain that flows takes that back. */
START_TEST(an_open_switch_leads_to_its_cause)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "compressor_state=silent");
	double before = belief(&judged, STATE_DRAIN_BLOCKED);
	judge_more(&judged, STAGE_AS_FOUND, "float_switch=open");
	double open = belief(&judged, STATE_DRAIN_BLOCKED);
	ck_assert_double_gt(open, 0.7);
	ck_assert_double_gt(open, 5 * before);
	judge_more(&judged, STAGE_AS_FOUND, "drain_condition=flows");
	ck_assert_double_lt(belief(&judged, STATE_DRAIN_BLOCKED), 1e-9);
}
END_TEST

/* And a blocked drain makes the float switch likely, before anyone looked at it. */
START_TEST(a_cause_that_was_seen_makes_its_effect_likelier)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "compressor_state=silent, fan_state=silent, control_voltage=0");
	double before = belief(&judged, STATE_CONTROL_FLOAT);
	judge_more(&judged, STAGE_AS_FOUND, "drain_condition=blocked");
	ck_assert_double_gt(belief(&judged, STATE_CONTROL_FLOAT), 3 * before);
}
END_TEST

/* What is measured sound is not found; what is measured faulty is all but certain. */
START_TEST(a_measurement_settles_its_state)
{
	struct judged judged;

	judge(&judged, STAGE_AS_FOUND, "line_voltage=238, control_voltage=26, load_side_voltage=0, "
	      "compressor_state=silent, fan_state=silent");
	ck_assert_double_gt(belief(&judged, STATE_CONTROL_COIL_OPEN), 0.2);
	judge_more(&judged, STAGE_AS_FOUND, "contactor_coil_resistance=12");
	ck_assert_double_eq(belief(&judged, STATE_CONTROL_COIL_OPEN), 0);
	judge_more(&judged, STAGE_AS_FOUND, "contactor_coil_resistance=OL");
	ck_assert_double_gt(belief(&judged, STATE_CONTROL_COIL_OPEN), 0.999);
}
END_TEST

Suite *states_suite(void)
{
	Suite *suite = suite_create("states");
	TCase *tests = tcase_create("states");

	tcase_add_test(tests, states_of_a_part_stand_together);
	tcase_add_loop_test(tests, a_state_means_a_fault_with_a_prior, 0, STATE_COUNT);
	tcase_add_test(tests, what_is_seen_has_no_weight_of_its_own);
	tcase_add_loop_test(tests, a_state_makes_a_motor_do_what_it_can, 0, STATE_COUNT);
	tcase_add_loop_test(tests, every_fault_can_be_found, FAULT_NONE + 1, FAULT_COUNT);
	tcase_add_loop_test(tests, shares_of_what_is_seen_sum_to_one, 0, 5);
	tcase_add_test(tests, a_state_left_out_reads_as_sound);
	tcase_add_test(tests, every_clue_is_explained_by_a_state);
	tcase_add_test(tests, an_open_switch_leads_to_its_cause);
	tcase_add_test(tests, a_cause_that_was_seen_makes_its_effect_likelier);
	tcase_add_test(tests, a_measurement_settles_its_state);
	suite_add_tcase(suite, tests);
	return suite;
}
