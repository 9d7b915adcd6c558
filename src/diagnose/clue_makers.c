/*
 * Clues: one reading or figure, one part of the unit, and how likely the
 * value is in each state of that part.
 *
 * Where physics is logical (which pairs read OL) the likelihoods are near 0
 * and 1, the rest being slips of hand and meter; where it is a matter of
 * degree they are densities, widened by the instrument's own error, so that a
 * value at the edge of a tolerance leans a little and no more.  The numbers
 * are common practice unless a source stands beside them.
 */
#include "diagnose/clue_makers.h"

#include <assert.h>
#include <math.h>

#include "diagnose/density.h"

/* ---- What is read ---- */

double view_figure(const struct view *view, enum figure figure)
{
	const struct figure_value *value = &view->set->values[figure];

	return value->status == STATUS_OK ? value->value : NAN;
}

double view_number(const struct view *view, enum reading reading)
{
	double number;

	visit_number(view->visit, view->stage, reading, &number);
	return number;
}

enum choice view_choice(const struct view *view, enum reading reading)
{
	return visit_choice(view->visit, view->stage, reading);
}

bool view_over_limit(const struct view *view, enum reading reading)
{
	return visit_value(view->visit, view->stage, reading)->state == VALUE_OVER_LIMIT;
}

bool view_applies(const struct view *view, enum condition condition)
{
	return visit_condition_holds(view->visit, view->stage, condition);
}

bool view_has_three_windings(const struct view *view)
{
	return view_applies(view, CONDITION_THREE_WINDINGS) ||
	       visit_has(view->visit, view->stage, READING_WINDING_AB);
}

bool view_has_three_phases(const struct view *view)
{
	return view_applies(view, CONDITION_THREE_PHASE) ||
	       visit_has(view->visit, view->stage, READING_LINE_VOLTAGE_BC) ||
	       visit_has(view->visit, view->stage, READING_AMPS_B);
}

/* ---- Making clues ---- */

static struct clue *add(struct clues *clues, enum variable variable)
{
	static const struct clue empty = { .expected = NAN, .value = NAN };

	if (clues->count == MOST_CLUES)
		return NULL;
	struct clue *clue = &clues->list[clues->count++];
	*clue = empty;
	clue->variable = variable;
	return clue;
}

struct clue *clue_from_figure(const struct view *view, struct clues *clues,
                               enum variable variable, enum figure figure)
{
	const struct figure_value *value = &view->set->values[figure];

	if (value->status != STATUS_OK)
		return NULL;
	struct clue *clue = add(clues, variable);
	if (clue) {
		clue->figure = figure;
		clue->value = value->value;
		clue->plus_minus = value->plus_minus;
	}
	return clue;
}

struct clue *clue_from_reading(const struct view *view, struct clues *clues,
                                enum variable variable, enum reading reading)
{
	const struct value *value = visit_value(view->visit, view->stage, reading);

	if (value->state == VALUE_NOT_TAKEN)
		return NULL;
	struct clue *clue = add(clues, variable);
	if (!clue)
		return NULL;
	clue->reading = reading;
	clue->over_limit = value->state == VALUE_OVER_LIMIT;
	if (clue->over_limit)
		return clue;
	if (reading_info(reading)->kind == KIND_CHOICE) {
		clue->value = (double)value->choice;
	} else {
		clue->value = value->number;
		clue->plus_minus = reading_accuracy(reading, value->number);
	}
	return clue;
}

void clue_expect(struct clue *clue, double expected)
{
	clue->has_expected = true;
	clue->expected = expected;
}

double clue_meter_sd(const struct clue *clue, double least)
{
	return fmax(density_sd(clue->plus_minus), least);
}

void clue_say(struct clue *clue, const struct says *says, size_t count)
{
	if (!clue)
		return;
	int first = (int)variable_first(clue->variable), states = variable_states(clue->variable);

	assert(count > 0 && (int)says[0].state == first);
	for (int i = 0; i < states; i++)
		clue->likelihood[i] = says[0].likelihood;
	for (size_t i = 1; i < count; i++) {
		assert(state_info(says[i].state)->variable == clue->variable);
		clue->likelihood[(int)says[i].state - first] = says[i].likelihood;
	}
}

/* What was answered; CHOICE_NONE when nothing was. */
static enum choice answer_of(const struct view *view, enum reading reading)
{
	const struct value *value = visit_value(view->visit, view->stage, reading);

	if (value->state != VALUE_TAKEN)
		return CHOICE_NONE;
	if (reading_info(reading)->kind == KIND_YES_NO)
		return value->number != 0 ? CHOICE_ANSWER_YES : CHOICE_ANSWER_NO;
	return value->choice;
}

bool view_answers(const struct view *view, enum reading reading, enum choice choice)
{
	return choice != CHOICE_NONE && answer_of(view, reading) == choice;
}

/* How many states the row names; a likelihood of 0 among them would drop those behind it. */
static size_t count_says(const struct answer *answer)
{
	size_t said = 0;

	while (said < MOST_SAYS && answer->says[said].likelihood > 0)
		said++;
	for (size_t i = said; i < MOST_SAYS; i++)
		assert(answer->says[i].likelihood == 0 && (int)answer->says[i].state == 0);
	return said;
}

void clues_from_answers(const struct view *view, struct clues *clues,
                        const struct answer *answers, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const struct answer *answer = &answers[i];
		size_t said = count_says(answer);
		if (!view_answers(view, answer->reading, answer->choice))
			continue;
		clue_say(clue_from_reading(view, clues, state_info(answer->says[0].state)->variable,
		                           answer->reading), answer->says, said);
	}
}
