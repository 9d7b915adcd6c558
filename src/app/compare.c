/*
 * What changed between two visits, or between as found and as left.
 *
 * A change counts as real when it is larger than both meters together could
 * be off: the two plus/minus added by squares.
 */
#include <padside/app/history.h>

#include <math.h>

static struct value number_value(double number)
{
	return (struct value){ .state = VALUE_TAKEN, .number = number, .taken_at = WALL_TIME_NONE };
}

static bool compare_figure(const struct figure_set *before, const struct figure_set *after,
                           enum figure figure, struct history_change *change)
{
	const struct figure_value *a = &before->values[figure], *b = &after->values[figure];

	if (a->status != STATUS_OK || b->status != STATUS_OK)
		return false;
	*change = (struct history_change){ .figure = figure, .before = number_value(a->value),
		.after = number_value(b->value), .change = b->value - a->value,
		.plus_minus = hypot(a->plus_minus, b->plus_minus) };
	change->is_real = fabs(change->change) > change->plus_minus;
	return true;
}

static bool is_compared(const struct reading_info *info)
{
	return info->scope == SCOPE_CALL && (info->kind == KIND_NUMBER ||
	       info->kind == KIND_RESISTANCE || info->kind == KIND_CHOICE);
}

static bool compare_reading(const struct value *a, const struct value *b, enum reading reading,
                            struct history_change *change)
{
	const struct reading_info *info = reading_info(reading);

	if (!is_compared(info) || a->state == VALUE_NOT_TAKEN || b->state == VALUE_NOT_TAKEN)
		return false;
	*change = (struct history_change){ .reading = reading, .before = *a, .after = *b,
		.change = NAN, .plus_minus = NAN };
	if (a->state != b->state) {
		change->is_real = true;
	} else if (info->kind == KIND_CHOICE) {
		change->is_real = a->choice != b->choice;
	} else if (a->state == VALUE_TAKEN) {
		change->change = b->number - a->number;
		change->plus_minus = hypot(reading_accuracy(reading, a->number),
		                           reading_accuracy(reading, b->number));
		change->is_real = fabs(change->change) > change->plus_minus;
	}
	return true;
}

size_t history_compare(const struct visit *before, enum stage before_stage,
                       const struct visit *after, enum stage after_stage,
                       struct history_change *changes)
{
	struct figure_set before_set, after_set;
	size_t count = 0;

	figures_evaluate(before, before_stage, &before_set);
	figures_evaluate(after, after_stage, &after_set);
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		count += compare_figure(&before_set, &after_set, (enum figure)i, &changes[count]);
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		count += compare_reading(visit_value(before, before_stage, (enum reading)i),
		                         visit_value(after, after_stage, (enum reading)i),
		                         (enum reading)i, &changes[count]);
	return count;
}
