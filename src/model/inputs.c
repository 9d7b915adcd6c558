/*
 * Readings as plain numbers.
 */
#include "model/inputs.h"

#include <math.h>

void inputs_load(struct inputs *inputs, const struct visit *visit, enum stage stage)
{
	inputs->states[READING_NONE] = VALUE_NOT_TAKEN;
	inputs->numbers[READING_NONE] = NAN;
	inputs->choices[READING_NONE] = CHOICE_NONE;
	inputs->cooling_hours = visit->cooling_hours;
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct value *value = visit_value(visit, stage, (enum reading)i);
		inputs->states[i] = value->state;
		inputs->numbers[i] = value->state == VALUE_TAKEN ? value->number : NAN;
		inputs->choices[i] = value->state == VALUE_TAKEN ? value->choice : CHOICE_NONE;
	}
}

bool inputs_has(const struct inputs *inputs, enum reading reading)
{
	return inputs->states[reading] == VALUE_TAKEN;
}

double inputs_number_or(const struct inputs *inputs, enum reading reading, double fallback)
{
	return inputs_has(inputs, reading) ? inputs->numbers[reading] : fallback;
}
