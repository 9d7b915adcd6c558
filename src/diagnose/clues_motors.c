/*
 * What compressor, fan and blower do, and what they draw.
 */
#include "diagnose/clue_makers.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "diagnose/density.h"

enum { STATES_OF_COMPRESSOR = 4, STATES_OF_MOTOR = 3, BUCKETS = 6 };

/* Shares of what is seen of a compressor in one condition; common practice. */
struct compressor_shares {
	double does[STATES_OF_COMPRESSOR]; /* runs, hums, silent, cycles */
	double long_start;                 /* starts that last longer than about 1.5 s */
	double little_start;               /* starts that draw little */
};

#define WHEN(id) [STATE_CONDITION_##id - STATE_CONDITION_SOUND]

static const struct compressor_shares compressor[] = {
	WHEN(SOUND)            = { { 0.955, 0.003, 0.002, 0.04 }, 0.01, 0.3 },
	WHEN(WORN_CONTACTS)    = { { 0.80,  0.06,  0.06,  0.08 }, 0.1,  0.3 },
	WHEN(LOW_VOLTAGE)      = { { 0.60,  0.15,  0.05,  0.20 }, 0.45, 0.3 },
	WHEN(CAPACITOR_WEAK)   = { { 0.72,  0.10,  0.03,  0.15 }, 0.25, 0.2 },
	WHEN(TIGHT)            = { { 0.72,  0.08,  0.02,  0.18 }, 0.6,  0.06 },
	WHEN(REVERSED)         = { { 0.90,  0.01,  0.02,  0.07 }, 0.02, 0.4 },
	WHEN(CAPACITOR_FAILED) = { { 0.06,  0.67,  0.05,  0.22 }, 0.85, 0.05 },
	WHEN(LOCKED)           = { { 0.002, 0.698, 0.10,  0.20 }, 0.95, 0.03 },
	WHEN(ONE_LINE)         = { { 0.12,  0.53,  0.10,  0.25 }, 0.9,  0.05 },
	WHEN(SHORTED)          = { { 0.20,  0.30,  0.25,  0.25 }, 0.4,  0.1 },
	WHEN(START_OPEN)       = { { 0.003, 0.60,  0.147, 0.25 }, 0.9,  0.06 },
	WHEN(RUN_OPEN)         = { { 0.003, 0.55,  0.30,  0.147 }, 0.5, 0.9 },
	/* Open inside; grounded while the breaker still holds; dead. */
	WHEN(INSIDE_OPEN)      = { { 0.002, 0.008, 0.87,  0.12 }, 0.3,  0.95 },
	WHEN(GROUNDED)         = { { 0.25,  0.20,  0.20,  0.35 }, 0.4,  0.3 },
	WHEN(DEAD)             = { { 0.004, 0.006, 0.988, 0.002 }, 0.3,  0.95 },
};

enum { CONDITIONS = sizeof compressor / sizeof *compressor };

/* Current in common as a share of RLA: none, little, low, usual, over, locked. */
static const double draws[STATES_OF_COMPRESSOR][BUCKETS] = {
	{ 0.005, 0.02, 0.1134, 0.8316, 0.025, 0.005 }, /* runs */
	{ 0.05,  0.10, 0.0144, 0.1056, 0.08,  0.65 },  /* hums */
	{ 0.96,  0.02, 0.0012, 0.0088, 0.005, 0.005 }, /* silent */
	{ 0.25,  0.05, 0.036,  0.264,  0.10,  0.30 },  /* cycles */
};

/* What the outdoor fan and the blower do: runs, hums, silent. */
#define FAN_WHEN(id) [STATE_FAN_CONDITION_##id - STATE_FAN_CONDITION_SOUND]

static const double fan[][STATES_OF_MOTOR] = {
	FAN_WHEN(SOUND)            = { 0.996, 0.002, 0.002 },
	FAN_WHEN(OVERLOADED)       = { 0.92,  0.05,  0.03 },
	FAN_WHEN(PERHAPS_DEAD)     = { 0.45,  0.15,  0.40 },
	FAN_WHEN(CAPACITOR_WEAK)   = { 0.85,  0.10,  0.05 },
	FAN_WHEN(CAPACITOR_FAILED) = { 0.07,  0.66,  0.27 },
	FAN_WHEN(FAILED)           = { 0.03,  0.37,  0.60 },
	FAN_WHEN(GROUNDED)         = { 0.35,  0.25,  0.40 },
	FAN_WHEN(DEAD)             = { 0.01,  0.01,  0.98 },
};

#define BLOWER_WHEN(id) [STATE_BLOWER_CONDITION_##id - STATE_BLOWER_CONDITION_SOUND]

static const double blower[][STATES_OF_MOTOR] = {
	BLOWER_WHEN(SOUND)            = { 0.994, 0.003, 0.003 },
	BLOWER_WHEN(OVERLOADED)       = { 0.92,  0.04,  0.04 },
	BLOWER_WHEN(PERHAPS_DEAD)     = { 0.50,  0.005, 0.495 },
	BLOWER_WHEN(CAPACITOR_WEAK)   = { 0.85,  0.10,  0.05 },
	BLOWER_WHEN(CAPACITOR_FAILED) = { 0.08,  0.64,  0.28 },
	BLOWER_WHEN(FAILED)           = { 0.03,  0.32,  0.65 },
	BLOWER_WHEN(MODULE)           = { 0.03,  0.03,  0.94 },
	BLOWER_WHEN(DEAD)             = { 0.01,  0.005, 0.985 },
};

static int bucket_of(double share)
{
	return share < 0.04 ? 0 : share < 0.33 ? 1 : share < 0.55 ? 2 : share < 1.15 ? 3
	     : share < 1.9 ? 4 : 5;
}

/* The current that a condition draws while doing something. */
static double draw(int condition, int what, int bucket)
{
	/* An open run winding leaves only the start winding to draw through its capacitor. */
	static const double start_winding_alone[BUCKETS] = { 0.05, 0.6, 0.03, 0.22, 0.05, 0.05 };
	/* Fed and with a closed path, a silent motor draws nothing only between two trips. */
	static const double between_trips[BUCKETS] = { 0.35, 0.15, 0.024, 0.176, 0.1, 0.2 };
	/* A motor in trouble runs heavy. */
	static const double heavy[BUCKETS] = { 0.005, 0.02, 0.0846, 0.6204, 0.24, 0.03 };
	static const double tight[BUCKETS] = { 0.005, 0.01, 0.0342, 0.2508, 0.65, 0.05 };
	/* Between two trips of its overload nothing, else the same. */
	static const double tight_cycling[BUCKETS] = { 0.25, 0.02, 0.018, 0.132, 0.5, 0.08 };
	/*
	 * Backwards, a scroll pumps nothing and draws far below its table (scroll makers' guides);
	 * on two lines a motor takes 1.73 times its share.
	 */
	static const double backwards[BUCKETS] = { 0.005, 0.2, 0.717, 0.033, 0.04, 0.005 };
	static const double two_lines[BUCKETS] = { 0.03, 0.05, 0.0144, 0.1056, 0.7, 0.1 };

	switch ((enum state)((int)STATE_CONDITION_SOUND + condition)) {
	case STATE_CONDITION_SOUND:
	case STATE_CONDITION_DEAD:
	case STATE_CONDITION_INSIDE_OPEN:
		return draws[what][bucket];
	case STATE_CONDITION_RUN_OPEN:
		return what == 1 ? start_winding_alone[bucket]
		     : what == 2 ? between_trips[bucket] : draws[what][bucket];
	case STATE_CONDITION_TIGHT:
		return what == 0 ? tight[bucket] : what == 2 ? between_trips[bucket]
		     : what == 3 ? tight_cycling[bucket] : draws[what][bucket];
	case STATE_CONDITION_REVERSED:
		return what == 0 ? backwards[bucket] : draws[what][bucket];
	case STATE_CONDITION_ONE_LINE:
		return what == 0 ? two_lines[bucket]
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
		sum += compressor[condition].does[what] * draw(condition, what, bucket);
		whole += compressor[condition].does[what];
	}
	return sum / whole;
}

int clues_outcomes(enum reading reading, enum choice compressor_state, int condition,
                   double *shares)
{
	switch (reading) {
	case READING_COMPRESSOR_STATE:
		memcpy(shares, compressor[condition].does, sizeof compressor[condition].does);
		return STATES_OF_COMPRESSOR;
	case READING_FAN_STATE:
		memcpy(shares, fan[condition], sizeof fan[condition]);
		return STATES_OF_MOTOR;
	case READING_BLOWER_STATE:
		memcpy(shares, blower[condition], sizeof blower[condition]);
		return STATES_OF_MOTOR;
	case READING_STARTING_SECONDS:
		shares[0] = compressor[condition].long_start;
		shares[1] = 1 - compressor[condition].long_start;
		return 2;
	case READING_COMMON_AMPS:
		for (int bucket = 0; bucket < BUCKETS; bucket++)
			shares[bucket] = draw_share(condition, compressor_state, bucket);
		return BUCKETS;
	default:
		return 0;
	}
}

/* What a motor is seen to do. */
static void collect_seen(const struct view *view, struct clues *clues, enum motor motor,
                         enum reading reading, enum choice first)
{
	enum choice seen = view_choice(view, reading);
	enum variable shown = motor_shown(motor);
	bool is_silent = seen == CHOICE_COMPRESSOR_STATE_SILENT || seen == CHOICE_MOTOR_STATE_SILENT;

	/* Off behind a tripped breaker: that tells nothing of any other part. */
	if (is_silent && motor != MOTOR_BLOWER && view_is_off_by_ground(view))
		return;
	struct clue *clue = seen == CHOICE_NONE ? NULL : clue_from_reading(view, clues, shown, reading);
	double shares[MOST_OUTCOMES];

	for (int c = 0; clue && c < variable_states(shown); c++) {
		clues_outcomes(reading, CHOICE_NONE, c, shares);
		clue->likelihood[c] = shares[(int)seen - (int)first];
	}
}

static void collect_amps(const struct view *view, struct clues *clues)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);
	double share = view_figure(view, FIGURE_RLA_SHARE) / 100;
	double amps = view_number(view, READING_COMMON_AMPS);

	/* The table names every condition: an empty row would call it impossible. */
	static_assert((int)CONDITIONS == (int)STATE_FAN_CONDITION_SOUND - (int)STATE_CONDITION_SOUND,
	              "a row for each condition of the compressor");
	if (isnan(share) && !isnan(amps) && amps < 0.3)
		share = 0; /* no current is no current, whatever the nameplate says */
	if (isnan(share))
		return;
	struct clue *clue = isnan(amps)
		? clue_from_figure(view, clues, VARIABLE_CONDITION, FIGURE_RLA_SHARE)
		: clue_from_reading(view, clues, VARIABLE_CONDITION, READING_COMMON_AMPS);
	for (int c = 0; clue && c < CONDITIONS; c++)
		clue->likelihood[c] = draw_share(c, state, bucket_of(share));
}

static void collect_start(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONDITION,
	                                      READING_STARTING_SECONDS);

	if (clue) {
		double longer = density_below(clue->value, 1.5, hypot(0.35, density_sd(clue->plus_minus)));
		for (int c = 0; c < CONDITIONS; c++)
			clue->likelihood[c] = longer * compressor[c].long_start +
			                      (1 - longer) * (1 - compressor[c].long_start);
		clue_expect(clue, 0.5);
	}
	clue = clue_from_figure(view, clues, VARIABLE_CONDITION, FIGURE_START_CURRENT_SHARE_OF_LRA);
	if (clue) {
		double little = 1 - density_below(clue->value, 45, 10);
		for (int c = 0; c < CONDITIONS; c++)
			clue->likelihood[c] = little * compressor[c].little_start +
			                      (1 - little) * (1 - compressor[c].little_start);
	}
}

/* ---- Fans ---- */

/* Percent of full-load amps: usual, near the limit, over it. */
struct motor_load {
	double usual, climbing, over;
};

static struct motor_load judge_load(double percent, double sd)
{
	return (struct motor_load){
		.usual = density_normal(percent, 80, hypot(10, sd)),
		.climbing = density_even(percent, 99, 110, sd),
		.over = 0.8 * density_even(percent, 107, 150, sd) +
		        0.2 * density_even(percent, 107, 260, sd),
	};
}

static void collect_fan(const struct view *view, struct clues *clues)
{
	double share = view_figure(view, FIGURE_FAN_FLA_SHARE);
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_FAN_MOTOR,
	                                      READING_FAN_WINDING_RESISTANCE);
	bool over = clue && (clue->over_limit || clue->value > 5000);

	CLUE_SAY(clue, { OTHERS(FAN_MOTOR), over ? clue_slip : 1 - clue_slip },
	         { STATE_FAN_MOTOR_FAILED, 0.5 });
	/* A fan that stands draws nothing: its state says so already. */
	clue = share > 8 ? clue_from_figure(view, clues, VARIABLE_FAN_MOTOR, FIGURE_FAN_FLA_SHARE)
	                 : NULL;
	if (!clue)
		return;
	double sd = clue_meter_sd(clue, 1);
	struct motor_load load = judge_load(share, sd);
	CLUE_SAY(clue, { OTHERS(FAN_MOTOR), load.usual }, { STATE_FAN_MOTOR_CLIMBING, load.climbing },
	         { STATE_FAN_MOTOR_OVERLOADED, load.over },
	         { STATE_FAN_MOTOR_FAILED, 0.5 * load.usual + 0.5 * density_even(share, 90, 300, sd) });
	clue_expect(clue, 80);
}

/* A motor with a module, in the makers' order: line volts, call, wheel, module, windings. */
static void collect_module(const struct view *view, struct clues *clues)
{
	static const struct answer answers[] = {
		{ READING_BLOWER_WHEEL_FREE, CHOICE_ANSWER_YES, {
			{ OTHERS(BLOWER_MOTOR), 0.98 }, { STATE_BLOWER_MOTOR_FAILED, 0.5 },
			{ STATE_BLOWER_MOTOR_MODULE, 0.98 } } },
		{ READING_BLOWER_WHEEL_FREE, CHOICE_ANSWER_NO, {
			{ OTHERS(BLOWER_MOTOR), 0.02 }, { STATE_BLOWER_MOTOR_FAILED, 0.5 },
			{ STATE_BLOWER_MOTOR_MODULE, 0.02 } } },
		{ READING_BLOWER_WINDINGS_ALIKE, CHOICE_ANSWER_YES, {
			{ OTHERS(BLOWER_MOTOR), 0.98 }, { STATE_BLOWER_MOTOR_FAILED, 0.3 },
			{ STATE_BLOWER_MOTOR_MODULE, 0.98 } } },
		{ READING_BLOWER_WINDINGS_ALIKE, CHOICE_ANSWER_NO, {
			{ OTHERS(BLOWER_MOTOR), 0.02 }, { STATE_BLOWER_MOTOR_FAILED, 0.7 },
			{ STATE_BLOWER_MOTOR_MODULE, 0.02 } } },
	};
	static const struct answer call[] = {
		{ READING_BLOWER_CALL, CHOICE_ANSWER_YES, {
			{ OTHERS(BLOWER_FEED), 0.98 }, { STATE_BLOWER_FEED_NO_CALL, 0.01 } } },
		{ READING_BLOWER_CALL, CHOICE_ANSWER_NO, {
			{ OTHERS(BLOWER_FEED), 0.02 }, { STATE_BLOWER_FEED_NO_CALL, 0.99 } } },
	};
	double volts = view_number(view, READING_BLOWER_VOLTS);

	clues_from_answers(view, clues, CLUE_ROWS(answers));
	if (view_is_fed(view))
		clues_from_answers(view, clues, CLUE_ROWS(call));
	/* Where nothing runs, the indoor unit may be off as a whole. */
	if (volts >= BLOWER_VOLTS_FED || (volts < BLOWER_VOLTS_NONE && view_is_fed(view)))
		CLUE_SAY(clue_from_reading(view, clues, VARIABLE_BLOWER_FEED, READING_BLOWER_VOLTS),
		         { OTHERS(BLOWER_FEED), volts >= BLOWER_VOLTS_FED ? 0.99 : clue_slip },
		         { STATE_BLOWER_FEED_NO_VOLTS, volts >= BLOWER_VOLTS_FED ? clue_slip : 0.99 });
}

void clues_of_blower(const struct view *view, struct clues *clues)
{
	collect_module(view, clues);
	collect_seen(view, clues, MOTOR_BLOWER, READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS);
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_BLOWER_MOTOR,
	                                     FIGURE_BLOWER_FLA_SHARE);

	if (!clue || clue->value < 8)
		return;
	struct motor_load load = judge_load(clue->value, clue_meter_sd(clue, 1));
	/* Blowers are often run below their rating: low current is no fault. */
	CLUE_SAY(clue, { OTHERS(BLOWER_MOTOR), 0.6 * load.usual +
	                                          0.4 * density_even(clue->value, 25, 98, 3) },
	         { STATE_BLOWER_MOTOR_CLIMBING, load.climbing },
	         { STATE_BLOWER_MOTOR_OVERLOADED, load.over },
	         { STATE_BLOWER_MOTOR_FAILED, 0.35 * density_even(clue->value, 90, 300, 3) + 1e-4 });
	clue_expect(clue, 75);
}

void clues_of_motors(const struct view *view, struct clues *clues)
{
	collect_seen(view, clues, MOTOR_COMPRESSOR, READING_COMPRESSOR_STATE,
	             CHOICE_COMPRESSOR_STATE_RUNS);
	collect_amps(view, clues);
	collect_start(view, clues);
	collect_seen(view, clues, MOTOR_FAN, READING_FAN_STATE, CHOICE_MOTOR_STATE_RUNS);
	collect_fan(view, clues);
}
