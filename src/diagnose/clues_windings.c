/*
 * Windings: open pairs, ratio and sum, the maker's resistances, insulation.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include <padside/calc/electrical.h>

#include "diagnose/density.h"

/*
 * Which pairs read over limit in each state of the compressor.  Source: trade
 * textbooks, hermetic motor terminal identification: the winding that both OL
 * readings share is open; OL from common to both with start–run still reading
 * is the overload or the common lead inside.  A three-phase overload opens
 * one line or the star point: two pairs read OL, or every pair.
 */
enum pair { PAIR_COMMON_RUN = 1, PAIR_COMMON_START = 2, PAIR_START_RUN = 4 };

static const int open_pairs[] = {
	[STATE_COMPRESSOR_SOUND - STATE_COMPRESSOR_SOUND] = 0,
	[STATE_COMPRESSOR_RUN_OPEN - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_RUN | PAIR_START_RUN,
	[STATE_COMPRESSOR_START_OPEN - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_START | PAIR_START_RUN,
	[STATE_COMPRESSOR_COMMON_OPEN - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_RUN | PAIR_COMMON_START,
	[STATE_COMPRESSOR_SEVERAL_OPEN - STATE_COMPRESSOR_SOUND] =
		PAIR_COMMON_RUN | PAIR_COMMON_START | PAIR_START_RUN,
	[STATE_COMPRESSOR_OVERLOAD - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_RUN | PAIR_COMMON_START,
	[STATE_COMPRESSOR_SHORTED - STATE_COMPRESSOR_SOUND] = 0,
	[STATE_COMPRESSOR_LOCKED - STATE_COMPRESSOR_SOUND] = 0,
};

static void collect_pair(const struct view *view, struct clues *clues, enum reading reading,
                         enum pair pair)
{
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, reading);
	bool three_phase = view_applies(view, CONDITION_THREE_PHASE);

	if (!clue)
		return;
	/* Meters without a wide range show kilohms of leakage over an open winding. */
	bool over = clue->over_limit || clue->value > 2000;
	for (int s = 0; s < variable_states(VARIABLE_COMPRESSOR); s++) {
		bool open = (open_pairs[s] & (int)pair) != 0;
		clue->likelihood[s] = open == over ? 1 - clue_slip : clue_slip;
		if (three_phase && pair == PAIR_START_RUN &&
		    s == STATE_COMPRESSOR_OVERLOAD - STATE_COMPRESSOR_SOUND)
			clue->likelihood[s] = 0.5;
	}
}

/* Unmarked terminals: how many pairs read OL tells that something is open, not what. */
static void collect_unmarked(const struct view *view, struct clues *clues)
{
	static const enum reading pairs[] = { READING_TERMINAL_12, READING_TERMINAL_23,
	                                      READING_TERMINAL_31 };
	/* Rows: OL on none, one, two, all of the three pairs; columns: states. */
	static const double shares[4][8] = {
		{ 0.99,  0.002, 0.002, 0.002, 0.001, 0.002, 0.99,  0.99 },
		{ 0.006, 0.01,  0.01,  0.01,  0.004, 0.01,  0.006, 0.006 },
		{ 0.002, 0.98,  0.98,  0.98,  0.01,  0.98,  0.002, 0.002 },
		{ 0.002, 0.008, 0.008, 0.008, 0.985, 0.008, 0.002, 0.002 },
	};
	int open = 0;

	if (visit_has(view->visit, view->stage, READING_COMMON_RUN_RESISTANCE))
		return;
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
		if (!visit_has(view->visit, view->stage, pairs[i]))
			return;
		open += view_over_limit(view, pairs[i]);
	}
	enum reading shown = pairs[0];
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
		if (view_over_limit(view, pairs[i]))
			shown = pairs[i];
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, shown);
	if (clue)
		clue_set(clue, shares[open]);
}

/* All states but one look sound. */
static void only_shorted(struct clue *clue, double sound, double shorted)
{
	for (int s = 0; s < variable_states(VARIABLE_COMPRESSOR); s++)
		clue->likelihood[s] = sound;
	clue->likelihood[STATE_COMPRESSOR_SHORTED - STATE_COMPRESSOR_SOUND] = shorted;
}

/* 3 to 6 usual; newer compressors run outside it, hence the tails. */
static void judge_ratio(struct clue *clue, double ratio, double sd)
{
	double x = log(ratio);
	double sound = density_tailed(x, log(4.24), hypot(0.19, sd));

	only_shorted(clue, sound, 0.2 * sound + 0.4 * density_even(x, log(0.8), log(3), sd + 0.02) +
	                          0.4 * density_even(x, log(6), log(20), sd + 0.02));
}

static void collect_winding_values(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_COMPRESSOR, FIGURE_WINDING_SUM_ERROR);

	if (clue) {
		double sum = view_number(view, READING_START_RUN_RESISTANCE);
		double sd = fmax(hypot(density_sd(clue->plus_minus), 0.01 * sum), 0.02);
		double sound = density_tailed(clue->value, 0, sd);
		only_shorted(clue, sound,
		             0.5 * sound + 0.5 * density_even(clue->value, -0.5 * sum, 0.5 * sum, sd));
		clue_expect(clue, 0);
	}
	clue = clue_from_figure(view, clues, VARIABLE_COMPRESSOR, FIGURE_START_RUN_RATIO);
	if (clue && clue->value > 0) {
		judge_ratio(clue, clue->value, density_sd(clue->plus_minus) / clue->value);
		clue_expect(clue, 4.2);
	}
}

/* Unmarked terminals: the two smaller readings are run and start. */
static void collect_unmarked_ratio(const struct view *view, struct clues *clues)
{
	double ab = view_number(view, READING_TERMINAL_12), bc = view_number(view, READING_TERMINAL_23);
	double ca = view_number(view, READING_TERMINAL_31);
	double least = fmin(ab, fmin(bc, ca)), most = fmax(ab, fmax(bc, ca));

	if (isnan(ab) || isnan(bc) || isnan(ca) || !(least > 0) ||
	    !view_applies(view, CONDITION_SINGLE_PHASE) ||
	    visit_has(view->visit, view->stage, READING_COMMON_RUN_RESISTANCE))
		return;
	enum reading run = least == ab ? READING_TERMINAL_12
	                 : least == bc ? READING_TERMINAL_23 : READING_TERMINAL_31;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, run);
	if (clue)
		judge_ratio(clue, (ab + bc + ca - least - most) / least,
		            density_sd(clue->plus_minus) / least);
}

/* A winding against the maker's resistance, at the same temperature. */
static void collect_rated_winding(const struct view *view, struct clues *clues,
                                  enum reading measured, enum reading rated)
{
	/* Makers give it at 77 °F. */
	const double rated_at_f = 77;
	double ohm = view_number(view, measured), wanted = view_number(view, rated);
	double temp = view_number(view, READING_WINDING_TEMP), same;
	double doubt = isnan(temp) ? 0.09 : 0.03;

	if (isnan(temp))
		temp = view_number(view, READING_SHELL_TEMP);
	if (isnan(temp))
		temp = 90;
	if (isnan(ohm) || isnan(wanted) ||
	    electrical_resistance_at(ohm, temp, rated_at_f, &same) != STATUS_OK)
		return;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, measured);
	if (!clue)
		return;
	double share = same / wanted;
	double sd = hypot(density_sd(clue->plus_minus) / wanted, doubt);
	double sound = density_tailed(share, 1, sd);
	only_shorted(clue, sound, 0.3 * sound + 0.7 * density_even(share, 0.1, 0.93, sd));
	clue_expect(clue, wanted * ohm / same);
}

/* A hot shell holds the overload open; with a cold one it should have closed. */
static void collect_shell(const struct view *view, struct clues *clues)
{
	double outdoor = view_number(view, READING_OUTDOOR_DB);
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, READING_SHELL_TEMP);

	if (!clue)
		return;
	double edge = isnan(outdoor) ? 122 : fmax(outdoor + 28, 115);
	double hot = density_below(clue->value, edge, 8);
	double overload = 0.97 * hot + 0.03 * (1 - hot);
	double open = 0.12 * hot + 0.88 * (1 - hot);
	clue_set(clue, (double[]){ 0.5, open, open, open, open, overload, 0.5, 0.5 });
}

/* Decades of insulation: grounded below 1 MΩ (IEEE 43: kV + 1), good over 100. */
static void collect_insulation(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_INSULATION,
	                                READING_COMPRESSOR_GROUND_RESISTANCE);

	if (clue && clue->over_limit) {
		clue_set(clue, (double[]){ 0.5, 0.002, 0.001, 0.001 });
	} else if (clue) {
		double x = log10(fmax(clue->value, 1e-4)), sd = 0.05;
		double good = 0.5 * density_even(x, 2, 5, sd);
		clue_set(clue, (double[]){ good, density_even(x, 1.3, 2, sd),
		                                  density_even(x, 0, 1.3, sd),
		                                  density_even(x, -4.1, 0, sd) });
	}
	clue = clue_from_reading(view, clues, VARIABLE_FAN_INSULATION, READING_FAN_GROUND_RESISTANCE);
	if (clue && clue->over_limit) {
		clue_set(clue, (double[]){ 0.5, 0.001 });
	} else if (clue) {
		double x = log10(fmax(clue->value, 1e-4)), sd = 0.05;
		clue_set(clue, (double[]){ 0.45 * density_even(x, 1, 5, sd) +
		                                  0.05 * density_even(x, 0, 1, sd),
		                                  density_even(x, -4.1, 0, sd) });
	}
}

void clues_of_windings(const struct view *view, struct clues *clues)
{
	collect_pair(view, clues, READING_COMMON_RUN_RESISTANCE, PAIR_COMMON_RUN);
	collect_pair(view, clues, READING_COMMON_START_RESISTANCE, PAIR_COMMON_START);
	collect_pair(view, clues, READING_START_RUN_RESISTANCE, PAIR_START_RUN);
	collect_unmarked(view, clues);
	collect_winding_values(view, clues);
	collect_unmarked_ratio(view, clues);
	collect_rated_winding(view, clues, READING_COMMON_RUN_RESISTANCE, READING_RUN_WINDING_RATED);
	collect_rated_winding(view, clues, READING_COMMON_START_RESISTANCE,
	                      READING_START_WINDING_RATED);
	collect_shell(view, clues);
	collect_insulation(view, clues);
}
