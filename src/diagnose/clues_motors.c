/*
 * What compressor, fan and blower do, and what they draw.
 */
#include "diagnose/clue_makers.h"

#include <math.h>
#include <string.h>

#include "diagnose/density.h"

enum { STATES_OF_COMPRESSOR = 4, BUCKETS = 5 };

/* Shares of runs, hums, silent, cycles by condition, in the order of states.def. */
static const double does[MOST_STATES][STATES_OF_COMPRESSOR] = {
	{ 0.955, 0.003, 0.002, 0.04 },  /* sound */
	{ 0.004, 0.006, 0.98,  0.01 },  /* dead */
	{ 0.25,  0.20,  0.20,  0.35 },  /* grounded, and the breaker still holds */
	{ 0.003, 0.55,  0.30,  0.147 }, /* run winding open */
	{ 0.003, 0.60,  0.147, 0.25 },  /* start winding open */
	{ 0.002, 0.008, 0.87,  0.12 },  /* open inside */
	{ 0.20,  0.30,  0.25,  0.25 },  /* shorted */
	{ 0.002, 0.698, 0.10,  0.20 },  /* locked */
	{ 0.06,  0.67,  0.05,  0.22 },  /* capacitor failed */
	{ 0.72,  0.10,  0.03,  0.15 },  /* capacitor weak */
	{ 0.60,  0.15,  0.05,  0.20 },  /* low voltage */
	{ 0.80,  0.06,  0.06,  0.08 },  /* worn contacts */
};

/* Current in common as a share of RLA: none, little, usual, over, locked. */
static const double draws[STATES_OF_COMPRESSOR][BUCKETS] = {
	{ 0.005, 0.02, 0.945, 0.025, 0.005 }, /* runs */
	{ 0.05,  0.10, 0.12,  0.08,  0.65 },  /* hums */
	{ 0.96,  0.02, 0.01,  0.005, 0.005 }, /* silent */
	{ 0.25,  0.05, 0.30,  0.10,  0.30 },  /* cycles */
};

static int bucket_of(double share)
{
	return share < 0.04 ? 0 : share < 0.33 ? 1 : share < 1.15 ? 2 : share < 1.9 ? 3 : 4;
}

/* The current that a condition draws while doing something. */
static double draw(int condition, int what, int bucket)
{
	/* An open run winding leaves only the start winding to draw through its capacitor. */
	static const double start_winding_alone[BUCKETS] = { 0.05, 0.6, 0.25, 0.05, 0.05 };
	/* Fed and with a closed path, a silent motor draws nothing only between two trips. */
	static const double between_trips[BUCKETS] = { 0.35, 0.15, 0.2, 0.1, 0.2 };
	/* A motor in trouble runs heavy. */
	static const double heavy[BUCKETS] = { 0.005, 0.02, 0.705, 0.24, 0.03 };

	switch ((enum state)(STATE_CONDITION_SOUND + condition)) {
	case STATE_CONDITION_SOUND:
	case STATE_CONDITION_DEAD:
	case STATE_CONDITION_INSIDE_OPEN:
		return draws[what][bucket];
	case STATE_CONDITION_RUN_OPEN:
		return what == 1 ? start_winding_alone[bucket]
		     : what == 2 ? between_trips[bucket] : draws[what][bucket];
	case STATE_CONDITION_SHORTED:
	case STATE_CONDITION_LOW_VOLTAGE:
	case STATE_CONDITION_CAPACITOR_WEAK:
	case STATE_CONDITION_CAPACITOR_FAILED:
		if (what == 0)
			return heavy[bucket];
		/* fall through */
	default:
		return what == 2 ? between_trips[bucket] : draws[what][bucket];
	}
}

/* The same, whatever it does where that was not seen (CHOICE_NONE). */
static double draw_share(int condition, enum choice state, int bucket)
{
	double sum = 0, whole = 0;

	for (int what = 0; what < STATES_OF_COMPRESSOR; what++) {
		if (state != CHOICE_NONE && what != (int)state - (int)CHOICE_COMPRESSOR_STATE_RUNS)
			continue;
		sum += does[condition][what] * draw(condition, what, bucket);
		whole += does[condition][what];
	}
	return sum / whole;
}

/* What the outdoor fan does, by its condition in the order of states.def. */
static const struct choice_shares fan_does[] = {
	{ CHOICE_MOTOR_STATE_RUNS,   { 0.996, 0.01, 0.35, 0.03, 0.07, 0.85, 0.92 } },
	{ CHOICE_MOTOR_STATE_HUMS,   { 0.002, 0.01, 0.25, 0.37, 0.66, 0.10, 0.05 } },
	{ CHOICE_MOTOR_STATE_SILENT, { 0.002, 0.98, 0.40, 0.60, 0.27, 0.05, 0.03 } },
};

/* Shares of starts that last longer than about 1.5 s, by condition. */
static const double is_long_start[MOST_STATES] = {
	0.01, 0.3, 0.4, 0.5, 0.9, 0.3, 0.4, 0.95, 0.85, 0.25, 0.45, 0.1,
};

int clues_outcomes(enum reading reading, enum choice compressor_state, int condition,
                   double *shares)
{
	switch (reading) {
	case READING_COMPRESSOR_STATE:
		memcpy(shares, does[condition], sizeof does[condition]);
		return STATES_OF_COMPRESSOR;
	case READING_FAN_STATE:
		for (size_t i = 0; i < sizeof fan_does / sizeof *fan_does; i++)
			shares[i] = fan_does[i].share[condition];
		return sizeof fan_does / sizeof *fan_does;
	case READING_STARTING_SECONDS:
		shares[0] = is_long_start[condition];
		shares[1] = 1 - is_long_start[condition];
		return 2;
	case READING_COMMON_AMPS:
		for (int bucket = 0; bucket < BUCKETS; bucket++)
			shares[bucket] = draw_share(condition, compressor_state, bucket);
		return BUCKETS;
	default:
		return 0;
	}
}

static void collect_state_and_amps(const struct view *view, struct clues *clues)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);
	double share = view_figure(view, FIGURE_RLA_SHARE) / 100;
	double amps = view_number(view, READING_COMMON_AMPS);
	int conditions = variable_states(VARIABLE_CONDITION);

	if (state != CHOICE_NONE) {
		struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONDITION, READING_COMPRESSOR_STATE);
		for (int c = 0; clue && c < conditions; c++)
			clue->likelihood[c] = does[c][state - CHOICE_COMPRESSOR_STATE_RUNS];
	}
	if (isnan(share) && !isnan(amps) && amps < 0.3)
		share = 0; /* no current is no current, whatever the nameplate says */
	if (isnan(share))
		return;
	struct clue *clue = isnan(amps)
		? clue_from_figure(view, clues, VARIABLE_CONDITION, FIGURE_RLA_SHARE)
		: clue_from_reading(view, clues, VARIABLE_CONDITION, READING_COMMON_AMPS);
	for (int c = 0; clue && c < conditions; c++)
		clue->likelihood[c] = draw_share(c, state, bucket_of(share));
}

static void collect_start(const struct view *view, struct clues *clues)
{
	/* Shares of starts that draw little. */
	static const double is_little[MOST_STATES] = { 0.3, 0.95, 0.3, 0.9, 0.06, 0.95, 0.1, 0.03, 0.05,
	                                               0.2, 0.3, 0.3 };
	int conditions = variable_states(VARIABLE_CONDITION);
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONDITION, READING_STARTING_SECONDS);

	if (clue) {
		double longer = density_below(clue->value, 1.5, hypot(0.35, density_sd(clue->plus_minus)));
		for (int c = 0; c < conditions; c++)
			clue->likelihood[c] = longer * is_long_start[c] + (1 - longer) * (1 - is_long_start[c]);
		clue_expect(clue, 0.5);
	}
	clue = clue_from_figure(view, clues, VARIABLE_CONDITION, FIGURE_START_CURRENT_SHARE_OF_LRA);
	if (clue) {
		double little = 1 - density_below(clue->value, 45, 10);
		for (int c = 0; c < conditions; c++)
			clue->likelihood[c] = little * is_little[c] + (1 - little) * (1 - is_little[c]);
	}
}

/* ---- Fans and duct ---- */

static void motor_load_likelihoods(double percent, double sd, double *likelihood)
{
	likelihood[0] = density_normal(percent, 80, hypot(10, sd));
	likelihood[1] = density_even(percent, 99, 110, sd);
	likelihood[2] = 0.8 * density_even(percent, 107, 150, sd) +
	                0.2 * density_even(percent, 107, 260, sd);
}

static void collect_fans(const struct view *view, struct clues *clues)
{
	struct clue *clue;

	clue_from_choice(view, clues, VARIABLE_FAN_CONDITION, READING_FAN_STATE, CLUE_ROWS(fan_does));
	clue = clue_from_reading(view, clues, VARIABLE_FAN_MOTOR, READING_FAN_WINDING_RESISTANCE);
	if (clue) {
		bool over = clue->over_limit || clue->value > 5000;
		clue_set(clue, over ? (double[]){ clue_slip, clue_slip, clue_slip, 0.5 }
		                           : (double[]){ 1 - clue_slip, 1 - clue_slip, 1 - clue_slip, 0.5 });
	}
	double share = view_figure(view, FIGURE_FAN_FLA_SHARE);
	if (share > 8) { /* a fan that stands draws nothing: its state says so already */
		clue = clue_from_figure(view, clues, VARIABLE_FAN_MOTOR, FIGURE_FAN_FLA_SHARE);
		if (clue) {
			double sd = clue_meter_sd(clue, 1);
			motor_load_likelihoods(share, sd, clue->likelihood);
			clue->likelihood[3] = 0.5 * clue->likelihood[0] + 0.5 * density_even(share, 90, 300, sd);
			clue_expect(clue, 80);
		}
	}
	clue = clue_from_figure(view, clues, VARIABLE_BLOWER, FIGURE_BLOWER_FLA_SHARE);
	if (clue) {
		motor_load_likelihoods(clue->value, clue_meter_sd(clue, 1), clue->likelihood);
		/* Blowers are often run below their rating: low current is no fault. */
		clue->likelihood[0] = 0.6 * clue->likelihood[0] +
		                      0.4 * density_even(clue->value, 25, 98, 3);
		clue_expect(clue, 75);
	}
}

void clues_of_motors(const struct view *view, struct clues *clues)
{
	collect_state_and_amps(view, clues);
	collect_start(view, clues);
	collect_fans(view, clues);
}
