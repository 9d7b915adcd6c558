/*
 * Windings: open pairs, ratio, the maker's resistances, insulation.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include <padside/calc/electrical.h>

#include "diagnose/density.h"

enum { PAIRS = 3 };

/* An open winding reads OL; meters without a wide range show kilohms of leakage over it. */
static bool reads_open(const struct view *view, enum reading reading)
{
	return view_over_limit(view, reading) || view_number(view, reading) > 2000;
}

/*
 * Single-phase: which pairs read over limit in each state.  Source: trade
 * textbooks, hermetic motor terminal identification: the winding that both OL
 * readings share is open; OL from common to both with start–run still reading
 * is the overload or the common lead inside.
 */
static void collect_marked(const struct view *view, struct clues *clues)
{
	static const struct {
		enum reading reading;
		enum state open[4]; /* in which it reads OL; STATE_COMPRESSOR_SOUND ends */
	} pairs[PAIRS] = {
		{ READING_COMMON_RUN_RESISTANCE, { STATE_COMPRESSOR_RUN_OPEN, STATE_COMPRESSOR_COMMON_OPEN,
		                                   STATE_COMPRESSOR_SEVERAL_OPEN,
		                                   STATE_COMPRESSOR_OVERLOAD } },
		{ READING_COMMON_START_RESISTANCE, { STATE_COMPRESSOR_START_OPEN,
		                                     STATE_COMPRESSOR_COMMON_OPEN,
		                                     STATE_COMPRESSOR_SEVERAL_OPEN,
		                                     STATE_COMPRESSOR_OVERLOAD } },
		{ READING_START_RUN_RESISTANCE, { STATE_COMPRESSOR_RUN_OPEN, STATE_COMPRESSOR_START_OPEN,
		                                  STATE_COMPRESSOR_SEVERAL_OPEN, STATE_COMPRESSOR_SOUND } },
	};

	for (int i = 0; i < PAIRS; i++) {
		struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, pairs[i].reading);
		bool over = reads_open(view, pairs[i].reading);
		double named = over ? 1 - clue_slip : clue_slip;
		struct says says[1 + 4] = { { OTHERS(COMPRESSOR), 1 - named } };
		size_t count = 1;
		for (int s = 0; s < 4 && pairs[i].open[s] != STATE_COMPRESSOR_SOUND; s++)
			says[count++] = (struct says){ pairs[i].open[s], named };
		clue_say(clue, says, count);
	}
}

/* How many of three pairs read OL; -1 unless all were taken.  `shown` is one of them. */
static int count_open(const struct view *view, const enum reading *pairs, enum reading *shown)
{
	int open = 0;

	*shown = pairs[0];
	for (int i = 0; i < PAIRS; i++)
		if (!visit_has(view->visit, view->stage, pairs[i]))
			return -1;
	for (int i = 0; i < PAIRS; i++)
		if (reads_open(view, pairs[i])) {
			*shown = pairs[i];
			open++;
		}
	return open;
}

/* Unmarked terminals: how many pairs read OL tells that something is open, not what. */
static void collect_unmarked(const struct view *view, struct clues *clues)
{
	static const enum reading pairs[PAIRS] = { READING_TERMINAL_12, READING_TERMINAL_23,
	                                           READING_TERMINAL_31 };
	/* By the number of pairs that read OL: sound, one winding or the overload, both windings. */
	static const double shares[PAIRS + 1][3] = {
		{ 0.99, 0.002, 0.001 }, { 0.006, 0.01, 0.004 }, { 0.002, 0.98, 0.01 },
		{ 0.002, 0.008, 0.985 },
	};
	enum reading shown;
	int open = count_open(view, pairs, &shown);

	if (open < 0 || visit_has(view->visit, view->stage, READING_COMMON_RUN_RESISTANCE))
		return;
	double sound = shares[open][0], one = shares[open][1], both = shares[open][2];
	CLUE_SAY(clue_from_reading(view, clues, VARIABLE_COMPRESSOR, shown),
	         { OTHERS(COMPRESSOR), sound }, { STATE_COMPRESSOR_RUN_OPEN, one },
	         { STATE_COMPRESSOR_START_OPEN, one }, { STATE_COMPRESSOR_COMMON_OPEN, one },
	         { STATE_COMPRESSOR_OVERLOAD, one }, { STATE_COMPRESSOR_SEVERAL_OPEN, both });
}

/* The three pairs of a three-phase or inverter compressor, however they were written down. */
static const enum reading *pairs_of_three(const struct view *view)
{
	static const enum reading lettered[PAIRS] = { READING_WINDING_AB, READING_WINDING_BC,
	                                              READING_WINDING_CA };
	static const enum reading marked[PAIRS] = { READING_COMMON_RUN_RESISTANCE,
	                                            READING_COMMON_START_RESISTANCE,
	                                            READING_START_RUN_RESISTANCE };

	return visit_has(view->visit, view->stage, READING_WINDING_AB) ? lettered : marked;
}

/*
 * Three windings: no start and no run.  A protector at the star point opens
 * every pair, one in a line two; so does an open winding of a star.  An open
 * winding of a delta opens none: its pair reads twice the others.
 */
static void collect_three(const struct view *view, struct clues *clues)
{
	/* By the number of pairs that read OL: sound, a winding open, the overload. */
	static const double shares[PAIRS + 1][3] = {
		{ 0.99, 0.14, 0.003 }, { 0.006, 0.01, 0.007 }, { 0.002, 0.80, 0.39 },
		{ 0.002, 0.05, 0.60 },
	};
	const enum reading *pairs = pairs_of_three(view);
	enum reading shown;
	int open = count_open(view, pairs, &shown);

	if (open < 0)
		return;
	double alike = shares[open][0], winding = shares[open][1], overload = shares[open][2];
	CLUE_SAY(clue_from_reading(view, clues, VARIABLE_COMPRESSOR, shown),
	         { OTHERS(COMPRESSOR), alike }, { STATE_COMPRESSOR_PHASE_OPEN, winding },
	         { STATE_COMPRESSOR_OVERLOAD, overload });
	if (open > 0)
		return;
	double a = view_number(view, pairs[0]), b = view_number(view, pairs[1]);
	double c = view_number(view, pairs[2]), least = fmin(a, fmin(b, c)), most = fmax(a, fmax(b, c));
	if (!(least > 0))
		return;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR,
	                                      most == a ? pairs[0] : most == b ? pairs[1] : pairs[2]);
	/* Alike within 5 %, common practice; a maker allows ±7 % on each. */
	double x = log(most / least), sd = clue ? density_sd(clue->plus_minus) / least : 0;
	double sound = density_normal(x, 0, hypot(0.05, sd)) + 1e-3;
	CLUE_SAY(clue, { OTHERS(COMPRESSOR), sound },
	         { STATE_COMPRESSOR_PHASE_OPEN, density_normal(x, log(2), hypot(0.1, sd)) + 1e-4 },
	         { STATE_COMPRESSOR_SHORTED, density_even(x, log(1.1), log(3),
	                                                  hypot(0.03, sd)) + 1e-4 });
	if (clue)
		clue_expect(clue, least);
}

/* All states but one look sound. */
static void only_shorted(struct clue *clue, double sound, double shorted)
{
	CLUE_SAY(clue, { OTHERS(COMPRESSOR), sound }, { STATE_COMPRESSOR_SHORTED, shorted });
}

/*
 * Sound single-phase motors have 2.1 to 4.8 in a maker's table, 2 to 6 usually.
 * Scrolls and rotaries reach below 2, rotaries below 1: a low ratio says
 * nothing there, and nothing where the kind is not known.
 */
static void judge_ratio(const struct view *view, struct clue *clue, double ratio, double sd)
{
	double x = log(ratio), broad = hypot(0.42, sd);
	bool reciprocating = view_choice(view, READING_COMPRESSOR_KIND) ==
	                     CHOICE_COMPRESSOR_KIND_RECIPROCATING;
	double sound = x < log(3.3) && !reciprocating ? density_normal(0, 0, broad)
	                                              : density_normal(x, log(3.3), broad) + 0.01;

	only_shorted(clue, sound, 0.5 * sound + 0.25 * density_even(x, log(0.6), log(2), sd + 0.03) +
	                          0.25 * density_even(x, log(6), log(20), sd + 0.03));
	clue_expect(clue, 3.3);
}

static void collect_ratio(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_COMPRESSOR, FIGURE_START_RUN_RATIO);

	if (clue && clue->value > 0)
		judge_ratio(view, clue, clue->value, density_sd(clue->plus_minus) / clue->value);
	else
		only_shorted(clue, 1, 1);
}

/* Unmarked terminals: the two smaller readings are run and start. */
static void collect_unmarked_ratio(const struct view *view, struct clues *clues)
{
	double ab = view_number(view, READING_TERMINAL_12), bc = view_number(view, READING_TERMINAL_23);
	double ca = view_number(view, READING_TERMINAL_31);
	double least = fmin(ab, fmin(bc, ca)), most = fmax(ab, fmax(bc, ca));

	if (isnan(ab) || isnan(bc) || isnan(ca) || !(least > 0) ||
	    visit_has(view->visit, view->stage, READING_COMMON_RUN_RESISTANCE))
		return;
	enum reading run = least == ab ? READING_TERMINAL_12
	                 : least == bc ? READING_TERMINAL_23 : READING_TERMINAL_31;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, run);
	if (clue)
		judge_ratio(view, clue, (ab + bc + ca - least - most) / least,
		            density_sd(clue->plus_minus) / least);
}

/* A winding against the maker's resistance, at the same temperature. */
/* How often one ohm reading is a slip: three that add up are none. */
static double ohm_slip(const struct view *view)
{
	double error = view_figure(view, FIGURE_WINDING_SUM_ERROR);
	double whole = view_number(view, READING_START_RUN_RESISTANCE);

	return fabs(error) <= 0.04 * whole + 0.2 ? 0.0001 : 0.001;
}

static void collect_rated_winding(const struct view *view, struct clues *clues,
                                  enum reading measured, enum reading rated)
{
	/* Makers give it at 77 °F, and ±7 % on it. */
	const double rated_at_f = 77;
	double ohm = view_number(view, measured), expected = view_number(view, rated);
	double temp = view_number(view, READING_WINDING_TEMP), same;
	double doubt = isnan(temp) ? 0.09 : 0.035;

	if (isnan(temp))
		temp = view_number(view, READING_SHELL_TEMP);
	if (isnan(temp))
		temp = 90;
	if (isnan(ohm) || isnan(expected) ||
	    electrical_resistance_at(ohm, temp, rated_at_f, &same) != STATUS_OK)
		return;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_COMPRESSOR, measured);
	if (!clue)
		return;
	double share = same / expected;
	double sd = hypot(density_sd(clue->plus_minus) / expected, doubt);
	double sound = density_normal(share, 1, sd) + ohm_slip(view);
	/* One of the two windings is shorted; the other reads as it should. */
	only_shorted(clue, sound, 0.5 * sound + 0.5 * density_even(share, 0.1, 0.92, sd));
	clue_expect(clue, expected * ohm / same);
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
	double open = 0.12 * hot + 0.88 * (1 - hot);
	CLUE_SAY(clue, { OTHERS(COMPRESSOR), 0.5 }, { STATE_COMPRESSOR_RUN_OPEN, open },
	         { STATE_COMPRESSOR_START_OPEN, open }, { STATE_COMPRESSOR_COMMON_OPEN, open },
	         { STATE_COMPRESSOR_SEVERAL_OPEN, open }, { STATE_COMPRESSOR_PHASE_OPEN, open },
	         { STATE_COMPRESSOR_OVERLOAD, 0.97 * hot + 0.03 * (1 - hot) });
}

/* ---- Insulation ---- */

double view_insulation_floor(const struct view *view)
{
	double floor = view_number(view, READING_INSULATION_FLOOR);

	if (!isnan(floor))
		return floor;
	return view_choice(view, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER
		? ELECTRICAL_INSULATION_FLOOR_INVERTER : ELECTRICAL_INSULATION_FLOOR;
}

bool view_insulation_proves(const struct view *view)
{
	double volts = view_number(view, READING_INSULATION_TEST_VOLTS);

	/* An ohmmeter's few volts cannot stress insulation. */
	return isnan(volts) || volts >= 50;
}

/*
 * Decades over the floor.  Low readings of a hermetic motor are common when it
 * is cold and lies in liquid and oil, on scrolls the more so; none condemns it
 * alone (a compressor maker's bulletin, AE4-1294, p. 1).  How far above the floor
 * readings spread is our own.  Under it the unit stays off (measured.c), and a
 * breaker that trips tells it grounded.
 */
static void collect_insulation(const struct view *view, struct clues *clues)
{
	struct clue *clue = NULL;
	bool scroll = view_choice(view, READING_COMPRESSOR_KIND) == CHOICE_COMPRESSOR_KIND_SCROLL;
	double floor = log10(view_insulation_floor(view)), sd = 0.05;
	double low_to = floor + (scroll ? 0.7 : 1.6);
	double megohm = view_number(view, READING_COMPRESSOR_GROUND_RESISTANCE);

	/* A low reading of an ohmmeter counts, a high one proves nothing. */
	if (view_insulation_proves(view) || log10(megohm) < low_to)
		clue = clue_from_reading(view, clues, VARIABLE_INSULATION,
		                         READING_COMPRESSOR_GROUND_RESISTANCE);
	if (clue && clue->over_limit) {
		CLUE_SAY(clue, { OTHERS(INSULATION), 0.5 }, { STATE_INSULATION_LOW, 0.002 },
		         { STATE_INSULATION_WEAK, 0.001 }, { STATE_INSULATION_DRIVEN_WEAK, 0.001 },
		         { STATE_INSULATION_GROUNDED, 0.001 });
	} else if (clue) {
		double x = log10(fmax(clue->value, 1e-4));
		CLUE_SAY(clue, { OTHERS(INSULATION), 0.5 * density_even(x, low_to, 5, sd) },
		         { STATE_INSULATION_LOW, density_even(x, floor, low_to, sd) },
		         { STATE_INSULATION_WEAK, density_even(x, floor - 1.6, floor, sd) },
		         { STATE_INSULATION_DRIVEN_WEAK, density_even(x, floor - 1.6, floor, sd) },
		         { STATE_INSULATION_GROUNDED, density_even(x, -4.1, floor, sd) });
	}
	/* An open motor is held to 1 MΩ: common practice. */
	clue = clue_from_reading(view, clues, VARIABLE_FAN_INSULATION, READING_FAN_GROUND_RESISTANCE);
	if (clue && clue->over_limit) {
		CLUE_SAY(clue, { OTHERS(FAN_INSULATION), 0.5 }, { STATE_FAN_INSULATION_GROUNDED, 0.001 });
	} else if (clue) {
		double x = log10(fmax(clue->value, 1e-4));
		CLUE_SAY(clue, { OTHERS(FAN_INSULATION), 0.45 * density_even(x, 0.7, 5, sd) +
		                                            0.05 * density_even(x, 0, 0.7, sd) },
		         { STATE_FAN_INSULATION_GROUNDED, density_even(x, -4.1, 0, sd) });
	}
}

bool view_is_off_by_ground(const struct view *view)
{
	/* As of an open motor whose breaker tripped: measured.c. */
	const double fan_floor = 0.4;
	double compressor = view_number(view, READING_COMPRESSOR_GROUND_RESISTANCE);
	double fan = view_number(view, READING_FAN_GROUND_RESISTANCE);

	return view_answers(view, READING_BREAKER_TRIPPED, CHOICE_ANSWER_YES) &&
	       (compressor < view_insulation_floor(view) || fan < fan_floor);
}

void clues_of_windings(const struct view *view, struct clues *clues)
{
	if (view_has_three_windings(view)) {
		collect_three(view, clues);
	} else {
		collect_marked(view, clues);
		collect_unmarked(view, clues);
		collect_ratio(view, clues);
		collect_unmarked_ratio(view, clues);
		collect_rated_winding(view, clues, READING_COMMON_RUN_RESISTANCE,
		                      READING_RUN_WINDING_RATED);
		collect_rated_winding(view, clues, READING_COMMON_START_RESISTANCE,
		                      READING_START_WINDING_RATED);
	}
	collect_shell(view, clues);
	collect_insulation(view, clues);
}
