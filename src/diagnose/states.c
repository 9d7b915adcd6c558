/*
 * The parts of the machine and the states they can be in.
 */
#include "diagnose/clues.h"

#include <assert.h>

static const struct state_info states[STATE_COUNT] = {
#define STATE(variable_, id, fault_, level_, weight_) \
	[STATE_##variable_##_##id] = { .variable = VARIABLE_##variable_, .fault = FAULT_##fault_, \
		.level = LEVEL_##level_, .weight = weight_ },
#include "diagnose/states.def"
#undef STATE
};

static const enum state firsts[VARIABLE_COUNT] = {
	[VARIABLE_SUPPLY] = STATE_SUPPLY_GOOD,
	[VARIABLE_CONTROL] = STATE_CONTROL_GOOD,
	[VARIABLE_CONTACTS] = STATE_CONTACTS_GOOD,
	[VARIABLE_LEADS] = STATE_LEADS_SOUND,
	[VARIABLE_COMPRESSOR] = STATE_COMPRESSOR_SOUND,
	[VARIABLE_CAPACITOR] = STATE_CAPACITOR_GOOD,
	[VARIABLE_INSULATION] = STATE_INSULATION_GOOD,
	[VARIABLE_FAN_CAPACITOR] = STATE_FAN_CAPACITOR_GOOD,
	[VARIABLE_FAN_MOTOR] = STATE_FAN_MOTOR_GOOD,
	[VARIABLE_FAN_INSULATION] = STATE_FAN_INSULATION_GOOD,
	[VARIABLE_BLOWER] = STATE_BLOWER_GOOD,
	[VARIABLE_DUCT] = STATE_DUCT_GOOD,
	[VARIABLE_LOAD] = STATE_LOAD_USUAL,
	[VARIABLE_CONDITION] = STATE_CONDITION_SOUND,
	[VARIABLE_FAN_CONDITION] = STATE_FAN_CONDITION_SOUND,
};

const struct state_info *state_info(enum state state)
{
	assert(state >= 0 && state < STATE_COUNT);
	return &states[state];
}

enum state variable_first(enum variable variable)
{
	assert(variable < VARIABLE_COUNT);
	return firsts[variable];
}

int variable_states(enum variable variable)
{
	int end = variable + 1 < VARIABLE_COUNT ? (int)firsts[variable + 1] : (int)STATE_COUNT;

	return end - (int)firsts[variable];
}
