/*
 * The network: supply and control feed both motors; contacts and leads feed
 * the compressor, whose own windings, capacitor and insulation decide what it
 * then does.  A silent compressor has one cause or another: what explains it
 * takes the blame from the rest.
 *
 *   supply, control ──┬── fan capacitor, fan motor, fan insulation → fan does
 *                     └── contacts, leads, windings, capacitor, insulation
 *                                                        → compressor does
 *   blower, duct, load: each by itself
 *
 * The parts are few, so every combination is summed; no approximation.  The
 * compressor sees only what kind of feed it gets, which keeps the sums short.
 */
#include "diagnose/network.h"

#include <string.h>

/* States by their number within the variable. */
#define AT(variable, id) ((int)STATE_##variable##_##id - (int)FIRST_##variable)

enum {
	FIRST_SUPPLY = STATE_SUPPLY_GOOD, FIRST_CONTROL = STATE_CONTROL_GOOD,
	FIRST_CONTACTS = STATE_CONTACTS_GOOD, FIRST_LEADS = STATE_LEADS_SOUND,
	FIRST_COMPRESSOR = STATE_COMPRESSOR_SOUND, FIRST_CAPACITOR = STATE_CAPACITOR_GOOD,
	FIRST_INSULATION = STATE_INSULATION_GOOD, FIRST_FAN_CAPACITOR = STATE_FAN_CAPACITOR_GOOD,
	FIRST_FAN_MOTOR = STATE_FAN_MOTOR_GOOD, FIRST_FAN_INSULATION = STATE_FAN_INSULATION_GOOD
};

/* What reaches the compressor's leads. */
enum feed { FEED_GOOD, FEED_NO_LINE, FEED_NO_CALL, FEED_LOW, FEED_WORN, FEED_COUNT };

/* The parts that hang on a feed, each a digit of a combination. */
static const enum variable compressor_parts[] = {
	VARIABLE_LEADS, VARIABLE_COMPRESSOR, VARIABLE_CAPACITOR, VARIABLE_INSULATION,
};
static const enum variable fan_parts[] = {
	VARIABLE_FAN_CAPACITOR, VARIABLE_FAN_MOTOR, VARIABLE_FAN_INSULATION,
};

enum { PARTS_OF_COMPRESSOR = 4, PARTS_OF_FAN = 3, MOST_PARTS = 4 };

/* A motor with its parts. */
struct motor {
	const enum variable *parts; /* what can be wrong with it */
	int count;                  /* of them */
	int (*condition)(enum feed feed, const int *digits); /* what it then is */
	double (*trips)(enum feed feed, const int *digits);  /* how the supply fits that */
	enum variable shows;        /* the variable of that condition */
};

/* Sums over the combinations of a motor, for one feed. */
struct motor_sums {
	double total;                /* likelihood of all its clues */
	double weight[STATE_COUNT];  /* the share of it in which a state holds */
};

/* ---- Conditions ---- */

static bool is_dead(enum feed feed)
{
	return feed == FEED_NO_LINE || feed == FEED_NO_CALL;
}

static int compressor_condition(enum feed feed, const int *digits)
{
	static const enum state by_winding[] = {
		[STATE_COMPRESSOR_RUN_OPEN - STATE_COMPRESSOR_SOUND] = STATE_CONDITION_RUN_OPEN,
		[STATE_COMPRESSOR_START_OPEN - STATE_COMPRESSOR_SOUND] = STATE_CONDITION_START_OPEN,
		[STATE_COMPRESSOR_COMMON_OPEN - STATE_COMPRESSOR_SOUND] = STATE_CONDITION_INSIDE_OPEN,
		[STATE_COMPRESSOR_SEVERAL_OPEN - STATE_COMPRESSOR_SOUND] = STATE_CONDITION_INSIDE_OPEN,
		[STATE_COMPRESSOR_OVERLOAD - STATE_COMPRESSOR_SOUND] = STATE_CONDITION_INSIDE_OPEN,
		[STATE_COMPRESSOR_SHORTED - STATE_COMPRESSOR_SOUND] = STATE_CONDITION_SHORTED,
		[STATE_COMPRESSOR_LOCKED - STATE_COMPRESSOR_SOUND] = STATE_CONDITION_LOCKED,
	};
	enum state shown = STATE_CONDITION_SOUND;

	if (is_dead(feed) || digits[0] == AT(LEADS, OPEN))
		shown = STATE_CONDITION_DEAD;
	else if (digits[3] == AT(INSULATION, GROUNDED))
		shown = STATE_CONDITION_GROUNDED;
	else if (digits[1] != AT(COMPRESSOR, SOUND))
		shown = by_winding[digits[1]];
	else if (digits[2] == AT(CAPACITOR, FAILED))
		shown = STATE_CONDITION_CAPACITOR_FAILED;
	else if (digits[2] == AT(CAPACITOR, WEAK))
		shown = STATE_CONDITION_CAPACITOR_WEAK;
	else if (feed == FEED_LOW)
		shown = STATE_CONDITION_LOW_VOLTAGE;
	else if (feed == FEED_WORN)
		shown = STATE_CONDITION_WORN_CONTACTS;
	return (int)shown - (int)STATE_CONDITION_SOUND;
}

static int fan_condition(enum feed feed, const int *digits)
{
	enum state shown = STATE_FAN_CONDITION_SOUND;

	if (is_dead(feed))
		shown = STATE_FAN_CONDITION_DEAD;
	else if (digits[2] == AT(FAN_INSULATION, GROUNDED))
		shown = STATE_FAN_CONDITION_GROUNDED;
	else if (digits[1] == AT(FAN_MOTOR, FAILED))
		shown = STATE_FAN_CONDITION_FAILED;
	else if (digits[0] == AT(FAN_CAPACITOR, FAILED))
		shown = STATE_FAN_CONDITION_CAPACITOR_FAILED;
	else if (digits[0] == AT(FAN_CAPACITOR, WEAK))
		shown = STATE_FAN_CONDITION_CAPACITOR_WEAK;
	else if (digits[1] == AT(FAN_MOTOR, OVERLOADED))
		shown = STATE_FAN_CONDITION_OVERLOADED;
	return (int)shown - (int)STATE_FAN_CONDITION_SOUND;
}

/*
 * Parts that trip the breaker leave no line power: about twenty times as often
 * as it fails by itself, and it seldom holds.
 */
static double trip(enum feed feed, double share)
{
	const double base = 0.03; /* prior of no supply, faults.def */

	return feed == FEED_NO_LINE ? share / base : (1 - share) / (1 - base);
}

/* Of the times that the line is dead beside a grounded part, so often that part did it. */
static const double share_of_trips_explained = 0.95;

static double compressor_trips(enum feed feed, const int *digits)
{
	if (digits[3] == AT(INSULATION, GROUNDED))
		return trip(feed, 0.6);
	return digits[1] == AT(COMPRESSOR, SHORTED) ? trip(feed, 0.15) : 1;
}

static double fan_trips(enum feed feed, const int *digits)
{
	return digits[2] == AT(FAN_INSULATION, GROUNDED) ? trip(feed, 0.6) : 1;
}

static const struct motor compressor = {
	.parts = compressor_parts, .count = PARTS_OF_COMPRESSOR,
	.condition = compressor_condition, .trips = compressor_trips,
	.shows = VARIABLE_CONDITION,
};
static const struct motor fan = {
	.parts = fan_parts, .count = PARTS_OF_FAN,
	.condition = fan_condition, .trips = fan_trips, .shows = VARIABLE_FAN_CONDITION,
};

enum state network_condition_of(enum state state)
{
	enum variable variable = state_info(state)->variable;
	int digit = (int)state - (int)variable_first(variable), digits[MOST_PARTS] = { 0 };
	enum feed feed = FEED_GOOD;

	if (variable == VARIABLE_CONTROL && digit > 0)
		feed = FEED_NO_CALL;
	else if (state == STATE_SUPPLY_NONE)
		feed = FEED_NO_LINE;
	else if (state == STATE_SUPPLY_LOW)
		feed = FEED_LOW;
	else if (state == STATE_CONTACTS_WORN)
		feed = FEED_WORN;
	for (int i = 0; i < PARTS_OF_FAN; i++) {
		if (fan_parts[i] != variable)
			continue;
		digits[i] = digit;
		return (enum state)(STATE_FAN_CONDITION_SOUND + fan_condition(feed, digits));
	}
	for (int i = 0; i < PARTS_OF_COMPRESSOR; i++)
		if (compressor_parts[i] == variable)
			digits[i] = digit;
	return (enum state)(STATE_CONDITION_SOUND + compressor_condition(feed, digits));
}

/* ---- Priors and clues ---- */

static bool can_have(const struct view *view, enum state state)
{
	enum variable variable = state_info(state)->variable;

	if (variable == VARIABLE_CAPACITOR)
		return view_applies(view, CONDITION_CAPACITOR_RUN);
	if (state == STATE_SUPPLY_UNBALANCED)
		return view_applies(view, CONDITION_THREE_PHASE);
	return true;
}

static void set_priors(const struct view *view, bool sound_again, double *prior)
{
	/* After the work most of what was wrong is mended. */
	double scale = sound_again ? 0.3 : 1;

	for (int v = 0; v < VARIABLE_COUNT; v++) {
		int first = (int)variable_first((enum variable)v);
		double faults = 0;
		for (int i = 1; i < variable_states((enum variable)v); i++) {
			const struct state_info *info = state_info((enum state)(first + i));
			bool possible = info->fault != FAULT_NONE && can_have(view, (enum state)(first + i));
			prior[first + i] = possible ? scale * info->weight * fault_info(info->fault)->prior : 0;
			faults += prior[first + i];
		}
		prior[first] = 1 - faults;
	}
}

static void multiply_clues(const struct clues *clues, double *weight)
{
	for (int c = 0; c < clues->count; c++) {
		const struct clue *clue = &clues->list[c];
		int first = (int)variable_first(clue->variable);
		double most = 0;
		for (int i = 0; i < variable_states(clue->variable); i++)
			most = clue->likelihood[i] > most ? clue->likelihood[i] : most;
		/* Scaled against underflow; a value that no state explains says nothing. */
		for (int i = 0; most > 0 && i < variable_states(clue->variable); i++)
			weight[first + i] *= clue->likelihood[i] / most + 1e-12;
	}
}

/* ---- Sums ---- */

/*
 * States that make no difference to what a motor does are summed as one and
 * parted again afterwards by their weights.
 */
static const struct {
	enum state state, with;
} merged[] = {
	{ STATE_LEADS_AGEING, STATE_LEADS_SOUND },
	{ STATE_CAPACITOR_DRIFTING, STATE_CAPACITOR_GOOD },
	{ STATE_INSULATION_FALLING, STATE_INSULATION_GOOD },
	{ STATE_INSULATION_WEAK, STATE_INSULATION_GOOD },
	{ STATE_FAN_CAPACITOR_DRIFTING, STATE_FAN_CAPACITOR_GOOD },
	{ STATE_FAN_MOTOR_CLIMBING, STATE_FAN_MOTOR_GOOD },
};

enum { MERGED = sizeof merged / sizeof *merged };

static void merge(double *weight)
{
	for (int i = 0; i < MERGED; i++) {
		weight[merged[i].with] += weight[merged[i].state];
		weight[merged[i].state] = 0;
	}
}

/* `sums` of merged weights back to those of each state; `weight` is not merged. */
static void part(const double *weight, const double *merged_weight, double *sums)
{
	for (int i = MERGED - 1; i >= 0; i--)
		if (merged_weight[merged[i].with] > 0)
			sums[merged[i].state] = sums[merged[i].with] * weight[merged[i].state] /
			                        merged_weight[merged[i].with];
	for (int i = 0; i < MERGED; i++)
		sums[merged[i].with] -= sums[merged[i].state];
}

/* The states of a part that can be, by their numbers; returns how many. */
static int list_possible(enum variable variable, const double *weight, int *numbers)
{
	int first = (int)variable_first(variable), count = 0;

	for (int i = 0; i < variable_states(variable); i++)
		if (weight[first + i] > 0)
			numbers[count++] = i;
	return count;
}

/* Sums over the combinations of merged states. */
static void sum_combinations(const struct motor *motor, enum feed feed, const double *weight,
                             struct motor_sums *sums)
{
	int numbers[MOST_PARTS][MOST_STATES], counts[MOST_PARTS], first[MOST_PARTS];
	int at[MOST_PARTS] = { 0 }, digits[MOST_PARTS], i;
	int shows = (int)variable_first(motor->shows);

	for (i = 0; i < motor->count; i++) {
		first[i] = (int)variable_first(motor->parts[i]);
		counts[i] = list_possible(motor->parts[i], weight, numbers[i]);
		digits[i] = numbers[i][0];
	}
	do {
		int shown = shows + motor->condition(feed, digits);
		double product = weight[shown] * motor->trips(feed, digits);
		for (i = 0; i < motor->count; i++)
			product *= weight[first[i] + digits[i]];
		sums->total += product;
		sums->weight[shown] += product;
		for (i = 0; i < motor->count; i++)
			sums->weight[first[i] + digits[i]] += product;
		for (i = 0; i < motor->count; i++) {
			at[i] = at[i] + 1 == counts[i] ? 0 : at[i] + 1;
			digits[i] = numbers[i][at[i]];
			if (at[i] > 0)
				break;
		}
	} while (i < motor->count);
}

static void sum_motor(const struct motor *motor, enum feed feed, const double *weight,
                      struct motor_sums *sums)
{
	double together[STATE_COUNT];

	memset(sums, 0, sizeof *sums);
	memcpy(together, weight, sizeof together);
	merge(together);
	sum_combinations(motor, feed, together, sums);
	part(weight, together, sums->weight);
}

static void add_scaled(const struct motor_sums *sums, double scale, double *posterior)
{
	for (int s = 0; s < STATE_COUNT; s++)
		posterior[s] += scale * sums->weight[s];
}

static enum feed feed_of(int supply, int control, int contacts)
{
	if (supply == AT(SUPPLY, NONE))
		return FEED_NO_LINE;
	if (control != AT(CONTROL, GOOD))
		return FEED_NO_CALL;
	if (supply == AT(SUPPLY, LOW))
		return FEED_LOW;
	return contacts == AT(CONTACTS, WORN) ? FEED_WORN : FEED_GOOD;
}

/*
 * A dead line that a grounded part explains is that part's doing: the supply
 * itself is taken as good.
 */
static void blame_what_tripped(const struct motor_sums *dead_compressor,
                               const struct motor_sums *dead_fan, double *posterior)
{
	if (dead_compressor->total <= 0 || dead_fan->total <= 0)
		return;
	double compressor_grounded = dead_compressor->weight[STATE_INSULATION_GROUNDED] /
	                             dead_compressor->total;
	double fan_grounded = dead_fan->weight[STATE_FAN_INSULATION_GROUNDED] / dead_fan->total;
	double explained = share_of_trips_explained *
	                   (1 - (1 - compressor_grounded) * (1 - fan_grounded)) *
	                   posterior[STATE_SUPPLY_NONE];

	posterior[STATE_SUPPLY_NONE] -= explained;
	posterior[STATE_SUPPLY_GOOD] += explained;
}

static void judge_motors(const double *weight, double *posterior)
{
	struct motor_sums compressors[FEED_COUNT], fans[FEED_COUNT];
	double by_feed[FEED_COUNT] = { 0 };

	for (int feed = 0; feed < FEED_COUNT; feed++) {
		sum_motor(&compressor, (enum feed)feed, weight, &compressors[feed]);
		sum_motor(&fan, (enum feed)feed, weight, &fans[feed]);
	}
	for (int s = 0; s < variable_states(VARIABLE_SUPPLY); s++)
		for (int c = 0; c < variable_states(VARIABLE_CONTROL); c++)
			for (int k = 0; k < variable_states(VARIABLE_CONTACTS); k++) {
				enum feed feed = feed_of(s, c, k);
				double own = weight[STATE_SUPPLY_GOOD + s] * weight[STATE_CONTROL_GOOD + c] *
				             weight[STATE_CONTACTS_GOOD + k];
				double joint = own * compressors[feed].total * fans[feed].total;
				posterior[STATE_SUPPLY_GOOD + s] += joint;
				posterior[STATE_CONTROL_GOOD + c] += joint;
				posterior[STATE_CONTACTS_GOOD + k] += joint;
				by_feed[feed] += own;
			}
	blame_what_tripped(&compressors[FEED_NO_LINE], &fans[FEED_NO_LINE], posterior);
	for (int feed = 0; feed < FEED_COUNT; feed++) {
		add_scaled(&compressors[feed], by_feed[feed] * fans[feed].total, posterior);
		add_scaled(&fans[feed], by_feed[feed] * compressors[feed].total, posterior);
	}
}

static void normalise(double *posterior)
{
	for (int v = 0; v < VARIABLE_COUNT; v++) {
		int first = (int)variable_first((enum variable)v), count = variable_states((enum variable)v);
		double sum = 0;
		for (int i = 0; i < count; i++)
			sum += posterior[first + i];
		for (int i = 0; i < count; i++)
			posterior[first + i] = sum > 0 ? posterior[first + i] / sum : i == 0;
	}
}

/* Every variable's distribution, from its weights; `condition` weights are 1 or clues. */
static void judge(const double *weight, double *posterior)
{
	static const enum variable alone[] = { VARIABLE_BLOWER, VARIABLE_DUCT, VARIABLE_LOAD };

	memset(posterior, 0, STATE_COUNT * sizeof *posterior);
	judge_motors(weight, posterior);
	for (size_t i = 0; i < sizeof alone / sizeof *alone; i++)
		for (int s = 0; s < variable_states(alone[i]); s++)
			posterior[(int)variable_first(alone[i]) + s] = weight[(int)variable_first(alone[i]) + s];
	normalise(posterior);
}

void network_judge(const struct view *view, const struct clues *clues, bool sound_again,
                   struct beliefs *beliefs)
{
	double weight[STATE_COUNT];

	set_priors(view, sound_again, beliefs->prior);
	/* What a motor does has no prior of its own. */
	for (int s = STATE_CONDITION_SOUND; s < STATE_COUNT; s++)
		beliefs->prior[s] = 1;
	memcpy(weight, beliefs->prior, sizeof weight);
	judge(weight, beliefs->posterior);
	for (int s = STATE_CONDITION_SOUND; s < STATE_COUNT; s++)
		beliefs->prior[s] = beliefs->posterior[s];
	multiply_clues(clues, weight);
	judge(weight, beliefs->posterior);
}
