/*
 * From readings to figures: are the readings there, what do they give, and how
 * far may it be off.
 *
 * The functions themselves are in circuit_figures.c, air_figures.c and
 * electrical_figures.c; this file only knows how a figure is evaluated.
 */
#include <padside/figures.h>

#include <math.h>
#include <stdio.h>

#include <padside/text.h>

#include "model/inputs.h"

static const evaluate_function functions[FIGURE_COUNT] = {
#define FIGURE(id, ...) [FIGURE_##id] = evaluate_##id,
#include "catalog/figures.def"
#undef FIGURE
};

/* The first reading of a group that is there; READING_NONE and why when none is. */
static enum reading find_taken(const struct inputs *inputs, const struct figure_info *info,
                               const enum reading *group, enum status *why)
{
	*why = STATUS_MISSING;
	for (int i = 0; i < FIGURE_MOST_ALTERNATIVES && group[i] != READING_NONE; i++) {
		enum value_state state = inputs->states[group[i]];
		if (state == VALUE_TAKEN || (state == VALUE_OVER_LIMIT && info->takes_over_limit))
			return group[i];
		if (state == VALUE_OVER_LIMIT)
			*why = STATUS_OVER_LIMIT;
	}
	return READING_NONE;
}

/* The reading of a group to name when it is not there: one that applies. */
static enum reading find_blamed(const struct visit *visit, enum stage stage,
                                const enum reading *group)
{
	for (int i = 0; i < FIGURE_MOST_ALTERNATIVES && group[i] != READING_NONE; i++)
		if (visit_applies(visit, stage, group[i]))
			return group[i];
	return group[0];
}

/* Half the change of a figure when one reading moves by its accuracy each way. */
static double find_swing(struct inputs *inputs, evaluate_function function, enum reading reading,
                         double middle)
{
	double number = inputs->numbers[reading];
	double accuracy = reading_accuracy(reading, number);
	double above, below;

	if (accuracy == 0)
		return 0;
	inputs->numbers[reading] = number + accuracy;
	bool has_above = function(inputs, &above) == STATUS_OK;
	inputs->numbers[reading] = number - accuracy;
	bool has_below = function(inputs, &below) == STATUS_OK;
	inputs->numbers[reading] = number;
	if (has_above && has_below)
		return (above - below) / 2;
	/* At the end of a range only one side can be worked out. */
	return has_above ? above - middle : has_below ? middle - below : 0;
}

/* Root sum square of the swings of every reading that the figure looks at. */
static double find_plus_minus(struct inputs *inputs, enum figure figure, double middle)
{
	const struct figure_info *info = figure_info(figure);
	double sum = 0;

	for (int i = 0; i < FIGURE_MOST_NEEDS; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES; j++)
			if (inputs_has(inputs, info->needs[i][j])) {
				double swing = find_swing(inputs, functions[figure], info->needs[i][j], middle);
				sum += swing * swing;
			}
	for (int i = 0; i < FIGURE_MOST_USES; i++)
		if (inputs_has(inputs, info->uses[i])) {
			double swing = find_swing(inputs, functions[figure], info->uses[i], middle);
			sum += swing * swing;
		}
	return info->is_word ? 0 : sqrt(sum);
}

static struct figure_value evaluate(const struct visit *visit, enum stage stage,
                                    struct inputs *inputs, enum figure figure)
{
	const struct figure_info *info = figure_info(figure);
	struct figure_value result = { .value = NAN, .plus_minus = 0 };

	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++)
		if (find_taken(inputs, info, info->needs[i], &result.status) == READING_NONE) {
			result.blame = find_blamed(visit, stage, info->needs[i]);
			return result;
		}
	result.status = functions[figure](inputs, &result.value);
	if (result.status == STATUS_OK)
		result.plus_minus = find_plus_minus(inputs, figure, result.value);
	else
		result.value = NAN;
	return result;
}

struct figure_value figure_evaluate(const struct visit *visit, enum stage stage,
                                    enum figure figure)
{
	struct inputs inputs;

	inputs_load(&inputs, visit, stage);
	return evaluate(visit, stage, &inputs, figure);
}

void figures_evaluate(const struct visit *visit, enum stage stage, struct figure_set *set)
{
	struct inputs inputs;

	inputs_load(&inputs, visit, stage);
	set->values[FIGURE_NONE] = (struct figure_value){ .status = STATUS_MISSING, .value = NAN };
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		set->values[i] = evaluate(visit, stage, &inputs, (enum figure)i);
}

void figure_explain(const struct figure_value *value, char *out, size_t size)
{
	const char *label = value->blame == READING_NONE ? "" : reading_info(value->blame)->label;

	if (value->status == STATUS_OK)
		text_copy(out, size, "");
	else if (value->status == STATUS_MISSING && *label)
		snprintf(out, size, "%s was not taken", label);
	else if (value->status == STATUS_OVER_LIMIT && *label)
		snprintf(out, size, "%s is over limit (OL)", label);
	else
		text_copy(out, size, status_sentence(value->status));
}
