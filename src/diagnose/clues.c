/*
 * Clues: one reading or figure, one part of the machine, and how likely the
 * value is in each state of that part.
 *
 * Where physics is logical (which pairs read OL) the likelihoods are near 0
 * and 1, the rest being slips of hand and meter; where it is a matter of
 * degree they are densities, widened by the instrument's own error, so that a
 * value at the edge of a tolerance leans a little and no more.  The numbers
 * are common practice unless a source stands beside them.
 */
#include "diagnose/clue_makers.h"

#include <math.h>
#include <string.h>

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

void clue_set(struct clue *clue, const double *likelihood)
{
	memcpy(clue->likelihood, likelihood,
	       (size_t)variable_states(clue->variable) * sizeof *likelihood);
}

void clue_from_choice(const struct view *view, struct clues *clues, enum variable variable,
                       enum reading reading, const struct choice_shares *rows, size_t count)
{
	enum choice choice = view_choice(view, reading);

	for (size_t i = 0; i < count; i++) {
		if (choice == CHOICE_NONE || rows[i].choice != choice)
			continue;
		struct clue *clue = clue_from_reading(view, clues, variable, reading);
		if (clue)
			clue_set(clue, rows[i].share);
	}
}

#define CLUE_ROWS(table) table, sizeof table / sizeof *table

void clues_collect(const struct view *view, struct clues *clues)
{
	clues->count = 0;
	clues_of_supply(view, clues);
	clues_of_capacitors(view, clues);
	clues_of_windings(view, clues);
	clues_of_motors(view, clues);
	clues_of_air(view, clues);
}
