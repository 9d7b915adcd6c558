/*
 * Run capacitors: measured off the circuit or under load, and looked at.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include "diagnose/density.h"

/* Deviation from the rating, %, against the tolerance on the can. */
static void capacitor_likelihoods(double deviation, double sd, double tolerance, double *likelihood)
{
	likelihood[0] = density_normal(deviation, -0.08 * tolerance, hypot(0.33 * tolerance, sd));
	likelihood[1] = density_even(deviation, -tolerance, -0.5 * tolerance, sd);
	/*
	 * Weak still turns its motor, failed does not: between a fifth and a half
	 * of the capacitance lost either may be, and what the motor does decides.
	 */
	likelihood[2] = 0.6 * density_even(deviation, fmin(-25, -2 * tolerance), -tolerance, sd) +
	                0.4 * density_even(deviation, fmin(-50, -2 * tolerance), -tolerance, sd);
	likelihood[3] = 0.65 * density_even(deviation, -100, -20, sd) +
	                0.35 * 2 * density_normal(deviation, -100, hypot(3, sd));
	/* Above its tolerance: the wrong part or a failing one. */
	likelihood[2] += 0.03 * density_even(deviation, tolerance, 60, sd);
}

static double tolerance_of(const struct view *view)
{
	double tolerance = view_number(view, READING_CAPACITOR_TOLERANCE);

	return isnan(tolerance) ? 6 : tolerance;
}

/* The capacitance that the start current shows, as a deviation. */
static struct clue *add_loaded_capacitance(const struct view *view, struct clues *clues,
                                           double *deviation, double *sd)
{
	double rated = view_number(view, READING_COMPRESSOR_CAPACITOR_RATED);
	struct clue *clue = isnan(rated) ? NULL
		: clue_from_figure(view, clues, VARIABLE_CAPACITOR, FIGURE_CAPACITANCE_UNDER_LOAD);

	if (!clue)
		return NULL;
	*deviation = 100 * (clue->value / rated - 1);
	*sd = hypot(100 * density_sd(clue->plus_minus) / rated, 1);
	clue_expect(clue, rated);
	return clue;
}

void clues_of_capacitors(const struct view *view, struct clues *clues)
{
	static const struct choice_shares looks[] = {
		{ CHOICE_CAPACITOR_SOUND,   { 0.97, 0.80, 0.72, 0.45 } },
		{ CHOICE_CAPACITOR_SWOLLEN, { 0.02, 0.15, 0.22, 0.42 } },
		{ CHOICE_CAPACITOR_LEAKING, { 0.01, 0.05, 0.06, 0.13 } },
	};
	double tolerance = tolerance_of(view), deviation, sd;

	if (view_applies(view, CONDITION_CAPACITOR_RUN)) {
		struct clue *clue = clue_from_figure(view, clues, VARIABLE_CAPACITOR,
		                               FIGURE_COMPRESSOR_CAPACITOR_DEVIATION);
		if (clue) {
			clue_expect(clue, 0);
			capacitor_likelihoods(clue->value, clue_meter_sd(clue, 0.3), tolerance, clue->likelihood);
		} else if ((clue = add_loaded_capacitance(view, clues, &deviation, &sd)) != NULL) {
			capacitor_likelihoods(deviation, sd, tolerance, clue->likelihood);
		}
		clue_from_choice(view, clues, VARIABLE_CAPACITOR, READING_CAPACITOR_CONDITION, CLUE_ROWS(looks));
	}
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_FAN_CAPACITOR,
	                               FIGURE_FAN_CAPACITOR_DEVIATION);
	if (clue) {
		clue_expect(clue, 0);
		capacitor_likelihoods(clue->value, clue_meter_sd(clue, 0.3), tolerance, clue->likelihood);
	}
}
