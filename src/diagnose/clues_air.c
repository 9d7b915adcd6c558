/*
 * Filter, indoor coil, drain, condenser, reversing valve, the ducts that the
 * blower works against, and the load that the house gives.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include "diagnose/density.h"

/* Usual drops at 400 cfm a ton, in. w.c.: filter 0.10 to 0.25, wet coil 0.20 to 0.30. */
static const double usual_filter = 0.10, usual_coil = 0.20;

static const struct answer looks[] = {
	{ READING_FILTER_CONDITION, CHOICE_FILTER_CLEAN, {
		{ OTHERS(FILTER), 0.75 }, { STATE_FILTER_LOADED, 0.05 },
		{ STATE_FILTER_BLOCKED, 0.01 } } },
	{ READING_FILTER_CONDITION, CHOICE_FILTER_LOADED, {
		{ OTHERS(FILTER), 0.24 }, { STATE_FILTER_LOADED, 0.9 },
		{ STATE_FILTER_BLOCKED, 0.1 } } },
	{ READING_FILTER_CONDITION, CHOICE_FILTER_BLOCKED, {
		{ OTHERS(FILTER), 0.005 }, { STATE_FILTER_LOADED, 0.05 },
		{ STATE_FILTER_BLOCKED, 0.89 } } },
	{ READING_COIL_CONDITION, CHOICE_COIL_CLEAN, {
		{ OTHERS(COIL), 0.97 }, { STATE_COIL_DIRTY, 0.05 }, { STATE_COIL_ICED, 0.02 } } },
	{ READING_COIL_CONDITION, CHOICE_COIL_DIRTY, {
		{ OTHERS(COIL), 0.03 }, { STATE_COIL_DIRTY, 0.94 }, { STATE_COIL_ICED, 0.03 } } },
	{ READING_COIL_CONDITION, CHOICE_COIL_ICED, {
		{ OTHERS(COIL), 0.001 }, { STATE_COIL_DIRTY, 0.01 }, { STATE_COIL_ICED, 0.95 } } },
	{ READING_DRAIN_CONDITION, CHOICE_DRAIN_FLOWS, {
		{ OTHERS(DRAIN), 0.97 }, { STATE_DRAIN_SLOW, 0.1 }, { STATE_DRAIN_BLOCKED, 0.01 } } },
	{ READING_DRAIN_CONDITION, CHOICE_DRAIN_SLOW, {
		{ OTHERS(DRAIN), 0.02 }, { STATE_DRAIN_SLOW, 0.85 }, { STATE_DRAIN_BLOCKED, 0.05 } } },
	{ READING_DRAIN_CONDITION, CHOICE_DRAIN_BLOCKED, {
		{ OTHERS(DRAIN), 0.005 }, { STATE_DRAIN_SLOW, 0.05 }, { STATE_DRAIN_BLOCKED, 0.94 } } },
	{ READING_CONDENSER_CONDITION, CHOICE_CONDENSER_CLEAN, {
		{ OTHERS(CONDENSER), 0.9 }, { STATE_CONDENSER_DIRTY, 0.1 },
		{ STATE_CONDENSER_BLOCKED, 0.02 } } },
	{ READING_CONDENSER_CONDITION, CHOICE_CONDENSER_DIRTY, {
		{ OTHERS(CONDENSER), 0.1 }, { STATE_CONDENSER_DIRTY, 0.87 },
		{ STATE_CONDENSER_BLOCKED, 0.08 } } },
	{ READING_CONDENSER_CONDITION, CHOICE_CONDENSER_BLOCKED, {
		{ OTHERS(CONDENSER), 0.002 }, { STATE_CONDENSER_DIRTY, 0.03 },
		{ STATE_CONDENSER_BLOCKED, 0.9 } } },
};

static void collect_drops(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_FILTER, READING_FILTER_DROP);

	if (clue) {
		double x = clue->value, sd = clue_meter_sd(clue, 0.01);
		CLUE_SAY(clue, { OTHERS(FILTER), density_tailed(x, 0.14, 0.06) },
		         { STATE_FILTER_LOADED, density_even(x, 0.18, 0.34, sd) },
		         { STATE_FILTER_BLOCKED, density_even(x, 0.3, 0.9, sd) + 1e-6 });
		clue_expect(clue, 0.14);
	}
	clue = clue_from_reading(view, clues, VARIABLE_COIL, READING_COIL_DROP);
	if (clue) {
		double x = clue->value, sd = clue_meter_sd(clue, 0.01);
		double high = density_even(x, 0.42, 1.2, sd) + 1e-6;
		CLUE_SAY(clue, { OTHERS(COIL), density_tailed(x, 0.24, 0.08) },
		         { STATE_COIL_DIRTY, high }, { STATE_COIL_ICED, high });
		clue_expect(clue, 0.25);
	}
}

/* in. w.c. */
static const double usual_limit = 0.5;

/*
 * 0.5 in. w.c. is the usual rating point; a maker's own limit wins.  What filter and coil were
 * measured to take beyond the usual is not the ducts'.
 */
static void collect_duct(const struct view *view, struct clues *clues)
{
	double filter = view_number(view, READING_FILTER_DROP);
	double coil = view_number(view, READING_COIL_DROP);
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_DUCT, FIGURE_TOTAL_EXTERNAL_STATIC);

	if (!clue)
		return;
	double limit = view_number(view, READING_STATIC_LIMIT);
	double share = isnan(limit) ? 1 : usual_limit / limit; /* of what this blower is made for */
	double x = clue->value, sd = clue_meter_sd(clue, 0.01) * share;
	if (!isnan(filter))
		x -= filter - usual_filter;
	if (!isnan(coil))
		x -= coil - usual_coil;
	x *= share;
	/* A filter seen blocked and not measured may take all that is too much. */
	bool blocked = isnan(filter) &&
	               view_answers(view, READING_FILTER_CONDITION, CHOICE_FILTER_BLOCKED);
	double high = 0.8 * density_even(x, 0.62, 1.1, sd) + 0.2 * density_even(x, 0.62, 2.5, sd);
	double good = 0.6 * density_normal(x, 0.42, hypot(0.1, sd)) +
	              0.4 * density_even(x, 0.08, 0.52, sd) + (blocked ? high : 0);
	CLUE_SAY(clue, { OTHERS(DUCT), good }, { STATE_DUCT_TIGHT, density_even(x, 0.5, 0.68, sd) },
	         { STATE_DUCT_HIGH, high });
	clue_expect(clue, 0.45 / share);
}

/*
 * Suction gas on its way through the valve warms by body heat only: over 3 °F
 * hot gas leaks in (common practice; a maker: nearly equal).
 */
static void collect_reversing_valve(const struct view *view, struct clues *clues)
{
	double in = view_number(view, READING_REVERSING_VALVE_IN_TEMP);
	struct clue *clue = isnan(in) ? NULL : clue_from_reading(view, clues, VARIABLE_REVERSING_VALVE,
	                                                         READING_REVERSING_VALVE_OUT_TEMP);

	if (!clue)
		return;
	double rise = clue->value - in;
	double error = hypot(clue->plus_minus, reading_accuracy(READING_REVERSING_VALVE_IN_TEMP, in));
	double sd = fmax(density_sd(error), 0.3);
	CLUE_SAY(clue, { OTHERS(REVERSING_VALVE), density_normal(rise, 0.8, hypot(1, sd)) + 1e-4 },
	         { STATE_REVERSING_VALVE_LEAKING, density_even(rise, 3, 30, sd) });
	clue_expect(clue, in);
}

/*
 * Cool, dry return air: a condition.  Below about 59 °F wet bulb an orifice
 * unit has no target superheat in warm weather (RA3.2's 5 °F floor).
 */
static void collect_load(const struct view *view, struct clues *clues)
{
	double dry = view_number(view, READING_RETURN_DB);
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_LOAD, FIGURE_RETURN_WB);

	if (!clue)
		return;
	double sd = hypot(clue_meter_sd(clue, 0.3), 1.0);
	double usual = 0.8 * density_normal(clue->value, 64, 3.5) +
	               0.2 * density_even(clue->value, 55, 78, sd);
	double low = density_even(clue->value, 44, 57.5, sd);
	/* A cool room with a low wet bulb is low load twice over. */
	if (!isnan(dry)) {
		usual *= density_tailed(dry, 77, 4);
		low *= density_tailed(dry, 69, 4);
	}
	CLUE_SAY(clue, { OTHERS(LOAD), usual }, { STATE_LOAD_LOW, low });
	clue_expect(clue, 63);
}

void clues_of_air(const struct view *view, struct clues *clues)
{
	clues_from_answers(view, clues, CLUE_ROWS(looks));
	collect_drops(view, clues);
	collect_duct(view, clues);
	collect_reversing_valve(view, clues);
	collect_load(view, clues);
}
