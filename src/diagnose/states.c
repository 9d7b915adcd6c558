/*
 * The parts of the unit and the states they can be in.
 */
#include "diagnose/clues.h"

#include <assert.h>

static const struct state_info states[STATE_COUNT] = {
#define VARIABLE(variable_, sound, role_) \
	[STATE_##variable_##_##sound] = { .variable = VARIABLE_##variable_ },
#define STATE(variable_, id, ...) \
	[STATE_##variable_##_##id] = { .variable = VARIABLE_##variable_, __VA_ARGS__ },
#include "diagnose/states.def"
#undef STATE
#undef VARIABLE
};

static const struct {
	enum state first; /* the sound state */
	enum role role;   /* what it is a part of */
} variables[VARIABLE_COUNT] = {
#define VARIABLE(variable_, sound, role_) \
	[VARIABLE_##variable_] = { STATE_##variable_##_##sound, ROLE_##role_ },
#define STATE(variable_, id, ...)
#include "diagnose/states.def"
#undef STATE
#undef VARIABLE
};

static const enum variable shown[MOTOR_COUNT] = {
	[MOTOR_COMPRESSOR] = VARIABLE_CONDITION,
	[MOTOR_FAN] = VARIABLE_FAN_CONDITION,
	[MOTOR_BLOWER] = VARIABLE_BLOWER_CONDITION,
};

const struct state_info *state_info(enum state state)
{
	assert(state >= 0 && state < STATE_COUNT);
	return &states[state];
}

enum state variable_first(enum variable variable)
{
	assert(variable < VARIABLE_COUNT);
	return variables[variable].first;
}

int variable_states(enum variable variable)
{
	int end = variable + 1 < VARIABLE_COUNT ? (int)variables[variable + 1].first
	                                        : (int)STATE_COUNT;

	return end - (int)variables[variable].first;
}

enum role variable_role(enum variable variable)
{
	assert(variable < VARIABLE_COUNT);
	return variables[variable].role;
}

enum variable motor_shown(enum motor motor)
{
	assert(motor < MOTOR_COUNT);
	return shown[motor];
}

enum state state_makes(enum state state, enum motor motor)
{
	const struct state_info *info = state_info(state);
	enum state makes = motor == MOTOR_COMPRESSOR ? info->compressor
	                 : motor == MOTOR_FAN ? info->fan : info->blower;

	/* Left out is the very first state of the table, which no motor shows. */
	return state_info(makes)->variable == shown[motor] ? makes : variables[shown[motor]].first;
}
