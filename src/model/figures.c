/*
 * From readings to figures: are the readings there, what do they give, and how
 * far may it be off.
 *
 * The functions themselves are in circuit_figures.c, air_figures.c and
 * electrical_figures.c; this file only knows how a figure is evaluated.
 */
#include <padside/model/figures.h>

#include <math.h>
#include <stdio.h>

#include <padside/base/text.h>
#include <padside/calc/uncertainty.h>

#include "model/inputs.h"
#include "model/shared_figures.h"

static const evaluate_function functions[FIGURE_COUNT] = {
#define FIGURE(id, ...) [FIGURE_##id] = evaluate_##id,
#include <padside/catalog/figures.def>
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

/*
 * The reading of a group to name when it is not there: one that applies, of the call before a
 * plate's.
 */
static enum reading find_blamed(const struct visit *visit, enum stage stage,
                                const enum reading *group)
{
	enum reading plate = READING_NONE;

	for (int i = 0; i < FIGURE_MOST_ALTERNATIVES && group[i] != READING_NONE; i++) {
		if (!visit_applies(visit, stage, group[i]))
			continue;
		if (reading_info(group[i])->scope == SCOPE_CALL)
			return group[i];
		plate = plate == READING_NONE ? group[i] : plate;
	}
	return plate != READING_NONE ? plate : group[0];
}

/* The readings of one figure as uncertainty_propagate() moves them. */
struct moved_inputs {
	struct inputs *inputs;                             /* scratch: numbers are moved in it */
	evaluate_function function;                        /* the figure */
	enum reading readings[UNCERTAINTY_INPUTS];         /* what is moved */
	struct uncertain_input uncertain[UNCERTAINTY_INPUTS]; /* as read, and how far it may be off */
	size_t count;                                      /* of them */
};

static enum status evaluate_moved(const double *numbers, void *context, double *value)
{
	struct moved_inputs *moved = context;

	for (size_t i = 0; i < moved->count; i++)
		moved->inputs->numbers[moved->readings[i]] = numbers[i];
	return moved->function(moved->inputs, value);
}

/*
 * Adds a reading once if it was taken with an instrument that can be off.
 * What its maker gives in percent lies the same way in all readings of one
 * instrument; the rest is each reading's own.
 */
static void add_moved(struct moved_inputs *moved, enum reading reading)
{
	if (!inputs_has(moved->inputs, reading) || moved->count == UNCERTAINTY_INPUTS)
		return;
	for (size_t i = 0; i < moved->count; i++)
		if (moved->readings[i] == reading)
			return;
	double number = moved->inputs->numbers[reading];
	struct accuracy accuracy = reading_accuracy_parts(reading, number);
	if (accuracy.absolute == 0 && accuracy.percent == 0)
		return;
	moved->readings[moved->count] = reading;
	moved->uncertain[moved->count++] = (struct uncertain_input){
		.value = number, .own = accuracy.absolute, .shared = accuracy.percent,
		.meter = (int)reading_info(reading)->instrument,
	};
}

static enum status evaluate_with_spread(struct inputs *inputs, enum figure figure, double *value,
                                        double *plus_minus)
{
	const struct figure_info *info = figure_info(figure);
	struct moved_inputs moved = { .inputs = inputs, .function = functions[figure] };

	*plus_minus = 0;
	if (info->is_word)
		return functions[figure](inputs, value);
	for (int i = 0; i < FIGURE_MOST_NEEDS; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES; j++)
			add_moved(&moved, info->needs[i][j]);
	for (int i = 0; i < FIGURE_MOST_USES; i++)
		add_moved(&moved, info->uses[i]);
	enum status status = uncertainty_propagate(evaluate_moved, &moved, moved.uncertain, moved.count,
	                                           value, plus_minus);
	for (size_t i = 0; i < moved.count; i++)
		inputs->numbers[moved.readings[i]] = moved.uncertain[i].value;
	if (status == STATUS_OK && figure == FIGURE_CHARGE_TO_MOVE)
		status = charge_to_move_spread(inputs, *value, plus_minus);
	return status;
}

enum status figure_void(const struct visit *visit, enum stage stage)
{
	if (visit_choice(visit, stage, READING_COIL_CONDITION) == CHOICE_COIL_ICED)
		return STATUS_ON_ICE;
	return visit_circuit_ran(visit, stage) ? STATUS_OK : STATUS_AT_REST;
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
	result.status = info->of_running ? figure_void(visit, stage) : STATUS_OK;
	if (result.status != STATUS_OK)
		return result;
	result.status = evaluate_with_spread(inputs, figure, &result.value, &result.plus_minus);
	if (result.status != STATUS_OK) {
		result.value = NAN;
		result.plus_minus = 0;
	}
	return result;
}

struct figure_value figure_evaluate(const struct visit *visit, enum stage stage,
                                    enum figure figure)
{
	struct inputs inputs;

	inputs_load(&inputs, visit, stage);
	return evaluate(visit, stage, &inputs, figure);
}

void figures_evaluate_some(const struct visit *visit, enum stage stage,
                           const bool wanted[FIGURE_COUNT], struct figure_set *set)
{
	static const struct figure_value not_asked = { .status = STATUS_MISSING, .value = NAN };
	struct inputs inputs;

	inputs_load(&inputs, visit, stage);
	set->values[FIGURE_NONE] = not_asked;
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		set->values[i] = !wanted || wanted[i] ? evaluate(visit, stage, &inputs, (enum figure)i)
		                                      : not_asked;
}

void figures_evaluate(const struct visit *visit, enum stage stage, struct figure_set *set)
{
	figures_evaluate_some(visit, stage, NULL, set);
}

bool figure_is_awaited(const struct figure_set *set, enum figure figure)
{
	enum status status = set->values[figure].status;

	return status == STATUS_ON_ICE || status == STATUS_AT_REST ||
	       (figure == FIGURE_TARGET_SUPERHEAT && status == STATUS_MISSING &&
	        set->values[FIGURE_SUPERHEAT].status == STATUS_OK);
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
