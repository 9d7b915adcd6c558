/*
 * Run capacitors: measured off the circuit or under load, and looked at.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include "diagnose/density.h"

/* The states of one capacitor. */
struct capacitor {
	enum state good, drifting, weak, failed;
};

static const struct capacitor of_compressor = {
	STATE_CAPACITOR_GOOD, STATE_CAPACITOR_DRIFTING, STATE_CAPACITOR_WEAK, STATE_CAPACITOR_FAILED,
};
static const struct capacitor of_fan = {
	STATE_FAN_CAPACITOR_GOOD, STATE_FAN_CAPACITOR_DRIFTING, STATE_FAN_CAPACITOR_WEAK,
	STATE_FAN_CAPACITOR_FAILED,
};
static const struct capacitor of_blower = {
	STATE_BLOWER_CAPACITOR_GOOD, STATE_BLOWER_CAPACITOR_DRIFTING, STATE_BLOWER_CAPACITOR_WEAK,
	STATE_BLOWER_CAPACITOR_FAILED,
};

double view_capacitor_tolerance(const struct view *view)
{
	double tolerance = view_number(view, READING_CAPACITOR_TOLERANCE);

	return isnan(tolerance) ? 6 : tolerance;
}

/*
 * Deviation from the rating, %, against the tolerance on the can.  Weak still
 * turns its motor, failed does not: between a fifth and a half of the
 * capacitance lost either may be, and what the motor does decides.  Above its
 * rating a capacitor is another part or another rating, not a weak one.
 */
static void say_deviation(struct clue *clue, const struct capacitor *capacitor, double deviation,
                          double sd, double tolerance)
{
	double weak = 0.6 * density_even(deviation, fmin(-25, -2 * tolerance), -tolerance, sd) +
	              0.4 * density_even(deviation, fmin(-50, -2 * tolerance), -tolerance, sd);
	double failed = 0.65 * density_even(deviation, -100, -20, sd) +
	                0.35 * 2 * density_normal(deviation, -100, hypot(3, sd));
	double good = density_normal(deviation, -0.08 * tolerance, hypot(0.33 * tolerance, sd)) +
	              0.03 * density_even(deviation, 0, 200, sd);

	CLUE_SAY(clue, { capacitor->good, good },
	         { capacitor->drifting, density_even(deviation, -tolerance, -0.5 * tolerance, sd) },
	         { capacitor->weak, weak }, { capacitor->failed, failed });
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

static void collect_compressor_capacitor(const struct view *view, struct clues *clues)
{
	static const struct answer looks[] = {
		{ READING_CAPACITOR_CONDITION, CHOICE_CAPACITOR_SOUND, {
			{ OTHERS(CAPACITOR), 0.97 }, { STATE_CAPACITOR_DRIFTING, 0.80 },
			{ STATE_CAPACITOR_WEAK, 0.72 }, { STATE_CAPACITOR_FAILED, 0.45 } } },
		{ READING_CAPACITOR_CONDITION, CHOICE_CAPACITOR_SWOLLEN, {
			{ OTHERS(CAPACITOR), 0.02 }, { STATE_CAPACITOR_DRIFTING, 0.15 },
			{ STATE_CAPACITOR_WEAK, 0.22 }, { STATE_CAPACITOR_FAILED, 0.42 } } },
		{ READING_CAPACITOR_CONDITION, CHOICE_CAPACITOR_LEAKING, {
			{ OTHERS(CAPACITOR), 0.01 }, { STATE_CAPACITOR_DRIFTING, 0.05 },
			{ STATE_CAPACITOR_WEAK, 0.06 }, { STATE_CAPACITOR_FAILED, 0.13 } } },
	};
	double deviation, sd;
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_CAPACITOR,
	                                     FIGURE_COMPRESSOR_CAPACITOR_DEVIATION);

	if (clue) {
		clue_expect(clue, 0);
		say_deviation(clue, &of_compressor, clue->value, clue_meter_sd(clue, 0.3),
		              view_capacitor_tolerance(view));
	} else if ((clue = add_loaded_capacitance(view, clues, &deviation, &sd)) != NULL) {
		say_deviation(clue, &of_compressor, deviation, sd, view_capacitor_tolerance(view));
	}
	clues_from_answers(view, clues, CLUE_ROWS(looks));
}

void clues_of_capacitors(const struct view *view, struct clues *clues)
{
	double rated = view_number(view, READING_BLOWER_CAPACITOR_RATED);

	if (view_applies(view, CONDITION_CAPACITOR_RUN))
		collect_compressor_capacitor(view, clues);
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_FAN_CAPACITOR,
	                                     FIGURE_FAN_CAPACITOR_DEVIATION);
	if (clue) {
		clue_expect(clue, 0);
		say_deviation(clue, &of_fan, clue->value, clue_meter_sd(clue, 0.3),
		              view_capacitor_tolerance(view));
	}
	clue = rated > 0 ? clue_from_reading(view, clues, VARIABLE_BLOWER_CAPACITOR,
	                                     READING_BLOWER_CAPACITANCE) : NULL;
	if (clue) {
		clue_expect(clue, rated);
		say_deviation(clue, &of_blower, 100 * (clue->value / rated - 1),
		              100 * clue_meter_sd(clue, 0.003 * rated) / rated,
		              view_capacitor_tolerance(view));
	}
}
