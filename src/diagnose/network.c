/*
 * The network: supply and control feed the motors; leads, windings, capacitor
 * and insulation decide what a motor then does.  A silent compressor has one
 * cause or another: what explains it takes the blame from the rest.
 *
 *   supply, control, contacts ──┬── parts of the compressor → what it does
 *                               ├── parts of the fan        → what it does
 *                               └── parts of the blower     → what it does
 *   filter, coil, drain, condenser, valve, duct, load: each by itself,
 *                               and some the cause of an open switch
 *
 * What each state makes a motor do stands in states.def.  The parts are few,
 * so every combination is summed; no approximation.  States that make no
 * difference to the motor are summed as one.
 */
#include "diagnose/network.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { MOST_PARTS = 4, MOST_FEEDS = 16, SOURCES = 3 };

/* What the parts of the motors did to the breaker. */
enum breaker { BREAKER_ANY /* whatever it was */, BREAKER_HELD /* none tripped it */, BREAKERS };

static const enum variable feeds[SOURCES] = { VARIABLE_SUPPLY, VARIABLE_CONTROL,
                                              VARIABLE_CONTACTS };

/* States of one part that make the motor do the same. */
struct group {
	int makes;     /* number of the condition */
	double trips;  /* share of times that the breaker trips */
	double weight; /* of all of them together */
	int states[MOST_STATES], count;
};

/* States of what feeds the motors that make all of them do the same. */
struct source {
	int makes[MOTOR_COUNT]; /* number of each motor's condition */
	bool line_dead;         /* there is no supply behind the breaker */
	double weight;          /* of all of them together */
	double joint;           /* likelihood of everything with one of them */
	int states[MOST_STATES], count;
};

/* A part of a motor as it is summed. */
struct part {
	struct group groups[MOST_STATES];
	int count;
};

/* One kind of feed, and the sums over all combinations of the motor's parts behind it. */
struct feed {
	int condition;   /* what the feed alone makes the motor do */
	bool line_dead;  /* there is no supply behind the breaker */
	double total[BREAKERS]; /* likelihood of all the motor's clues */
	double weight[BREAKERS][STATE_COUNT]; /* the share of it in which a state holds */
	double joint[BREAKERS]; /* likelihood of everything else with this feed */
};

struct motor_sums {
	struct part parts[MOST_PARTS];
	int part_count;
	struct feed feeds[MOST_FEEDS];
	int feed_count;
};

static int condition_number(enum state state, enum motor motor)
{
	return (int)state_makes(state, motor) - (int)variable_first(motor_shown(motor));
}

/* ---- Priors and clues ---- */

static bool can_have(const struct view *view, enum state state)
{
	const struct state_info *info = state_info(state);

	if (info->never != CONDITION_NONE && view_applies(view, info->never))
		return false;
	/* What was measured on it says what kind of unit it is. */
	for (size_t i = 0; i < sizeof info->shown_by / sizeof *info->shown_by; i++)
		if (info->shown_by[i] != READING_NONE &&
		    visit_has(view->visit, view->stage, info->shown_by[i]))
			return true;
	return view_applies(view, info->only);
}

static void set_priors(const struct view *view, bool sound_again, double *prior)
{
	/* After the work most of what was wrong is repaired. */
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

/* What was measured sound is out; what was measured faulty leaves next to nothing beside it. */
static void apply_measurements(const struct measurements *measured, double *weight)
{
	const double beside = 1e-9;

	for (int v = 0; v < VARIABLE_COUNT; v++) {
		int first = (int)variable_first((enum variable)v);
		int count = variable_states((enum variable)v);
		bool faulty = false;
		for (int i = first; i < first + count; i++) {
			faulty = faulty || (measured->of[i] == MEASURED_FAULTY && weight[i] > 0);
			if (measured->of[i] == MEASURED_SOUND)
				weight[i] = 0;
		}
		for (int i = first; faulty && i < first + count; i++)
			if (measured->of[i] != MEASURED_FAULTY)
				weight[i] *= beside;
	}
}

/* ---- Sums over one motor ---- */

static void add_to_group(struct part *part, int makes, double trips, int state, double weight)
{
	int at = 0;

	while (at < part->count &&
	       (part->groups[at].makes != makes || part->groups[at].trips != trips))
		at++;
	if (at == part->count)
		part->groups[part->count++] = (struct group){ .makes = makes, .trips = trips };
	struct group *group = &part->groups[at];
	group->weight += weight;
	group->states[group->count++] = state;
}

static void list_parts(enum motor motor, enum role role, const double *weight,
                       struct motor_sums *sums)
{
	sums->part_count = 0;
	for (int v = 0; v < VARIABLE_COUNT; v++) {
		if (variable_role((enum variable)v) != role)
			continue;
		assert(sums->part_count < MOST_PARTS);
		struct part *part = &sums->parts[sums->part_count++];
		int first = (int)variable_first((enum variable)v);
		part->count = 0;
		for (int s = first; s < first + variable_states((enum variable)v); s++)
			if (weight[s] > 0)
				add_to_group(part, condition_number((enum state)s, motor),
				             state_info((enum state)s)->trips, s, weight[s]);
	}
}

/* The weight of a group's sum, parted among its states. */
static void part_group(const struct group *group, const double *weight, double sum, double *out)
{
	for (int i = 0; group->weight > 0 && i < group->count; i++)
		out[group->states[i]] += sum * weight[group->states[i]] / group->weight;
}

/* One combination of the parts: `at` has the group of each. */
static void add_parts(const struct motor_sums *sums, const int *at, int shows, const double *weight,
                      struct feed *feed, double by_group[BREAKERS][MOST_PARTS][MOST_STATES])
{
	double likelihood[BREAKERS] = { 1, 1 };
	int condition = feed->condition;

	for (int i = 0; i < sums->part_count; i++) {
		const struct group *group = &sums->parts[i].groups[at[i]];
		condition = group->makes > condition ? group->makes : condition;
		likelihood[BREAKER_ANY] *= group->weight;
		likelihood[BREAKER_HELD] *= group->weight * (1 - group->trips);
	}
	for (int b = 0; b < BREAKERS; b++) {
		double product = likelihood[b] * weight[shows + condition];
		feed->total[b] += product;
		feed->weight[b][shows + condition] += product;
		for (int i = 0; i < sums->part_count; i++)
			by_group[b][i][at[i]] += product;
	}
}

static void sum_feed(const struct motor_sums *sums, int shows, const double *weight,
                     struct feed *feed)
{
	double by_group[BREAKERS][MOST_PARTS][MOST_STATES] = { { { 0 } } };
	int at[MOST_PARTS] = { 0 }, i;

	memset(feed->total, 0, sizeof feed->total);
	memset(feed->joint, 0, sizeof feed->joint);
	memset(feed->weight, 0, sizeof feed->weight);
	do {
		add_parts(sums, at, shows, weight, feed, by_group);
		for (i = 0; i < sums->part_count; i++) {
			at[i] = at[i] + 1 == sums->parts[i].count ? 0 : at[i] + 1;
			if (at[i] > 0)
				break;
		}
	} while (i < sums->part_count);
	for (int b = 0; b < BREAKERS; b++)
		for (i = 0; i < sums->part_count; i++)
			for (int g = 0; g < sums->parts[i].count; g++)
				part_group(&sums->parts[i].groups[g], weight, by_group[b][i][g], feed->weight[b]);
}

/* The feed of a motor behind these three sources, summed when it is first met. */
static struct feed *find_feed(struct motor_sums *sums, enum motor motor,
                              struct source *const *sources, const double *weight)
{
	int condition = 0, at = 0;
	bool line_dead = sources[0]->line_dead;

	for (int i = 0; i < SOURCES; i++)
		condition = sources[i]->makes[motor] > condition ? sources[i]->makes[motor] : condition;
	while (at < sums->feed_count && (sums->feeds[at].condition != condition ||
	                                 sums->feeds[at].line_dead != line_dead))
		at++;
	if (at == sums->feed_count) {
		assert(sums->feed_count < MOST_FEEDS);
		struct feed *feed = &sums->feeds[sums->feed_count++];
		feed->condition = condition;
		feed->line_dead = line_dead;
		sum_feed(sums, (int)variable_first(motor_shown(motor)), weight, feed);
	}
	return &sums->feeds[at];
}

/* ---- All motors together ---- */

static struct source source_of(enum state state)
{
	struct source source = { .line_dead = state_info(state)->line_dead };

	for (int m = 0; m < MOTOR_COUNT; m++)
		source.makes[m] = condition_number(state, (enum motor)m);
	return source;
}

static int list_sources(enum variable variable, const double *weight, struct source *list)
{
	int first = (int)variable_first(variable), count = 0, at;

	for (int s = first; s < first + variable_states(variable); s++) {
		struct source source = source_of((enum state)s);
		if (weight[s] <= 0)
			continue;
		for (at = 0; at < count; at++)
			if (list[at].line_dead == source.line_dead &&
			    memcmp(list[at].makes, source.makes, sizeof source.makes) == 0)
				break;
		if (at == count)
			list[count++] = source;
		list[at].weight += weight[s];
		list[at].states[list[at].count++] = s;
	}
	return count;
}

/*
 * How a line is dead: the supply failed by itself, which its prior in the
 * weights counts, or a part tripped the breaker.  Of both sums of the parts
 * the shares that make the likelihood of the line as it is.
 */
static void share_breakers(bool line_dead, double found_tripped, double *share, double *tripped)
{
	double base = fault_info(FAULT_NO_LINE_POWER)->prior;

	*tripped = line_dead ? found_tripped * (1 - base) / base : 0;
	share[BREAKER_ANY] = line_dead ? 1 + *tripped : 0;
	share[BREAKER_HELD] = line_dead ? -*tripped : 1;
}

/* Returns how much of it is a breaker that a part tripped. */
static double add_combination(struct motor_sums *motors, struct source *const *sources,
                              const double *weight, double found_tripped)
{
	double own = sources[0]->weight * sources[1]->weight * sources[2]->weight, joint = 0, tripped;
	double share[BREAKERS], product[BREAKERS] = { own, own };
	struct feed *behind[MOTOR_COUNT];

	share_breakers(sources[0]->line_dead, found_tripped, share, &tripped);
	for (int m = 0; m < MOTOR_COUNT; m++) {
		behind[m] = find_feed(&motors[m], (enum motor)m, sources, weight);
		for (int b = 0; b < BREAKERS; b++)
			product[b] *= behind[m]->total[b];
	}
	for (int b = 0; b < BREAKERS; b++) {
		joint += share[b] * product[b];
		for (int m = 0; m < MOTOR_COUNT; m++)
			if (behind[m]->total[b] > 0)
				behind[m]->joint[b] += share[b] * product[b] / behind[m]->total[b];
	}
	for (int i = 0; i < SOURCES; i++)
		sources[i]->joint += joint;
	return tripped * (product[BREAKER_ANY] - product[BREAKER_HELD]);
}

/* Returns how much of all the dead lines is a breaker that a part tripped. */
static double add_combinations(struct motor_sums *motors, const double *weight,
                               double found_tripped, double *posterior)
{
	struct source list[SOURCES][MOST_STATES];
	double tripped = 0;
	int count[SOURCES];

	for (int i = 0; i < SOURCES; i++)
		count[i] = list_sources(feeds[i], weight, list[i]);
	for (int s = 0; s < count[0]; s++)
		for (int c = 0; c < count[1]; c++)
			for (int k = 0; k < count[2]; k++)
				tripped += add_combination(motors,
					(struct source *const[]){ &list[0][s], &list[1][c], &list[2][k] }, weight,
					found_tripped);
	for (int i = 0; i < SOURCES; i++)
		for (int at = 0; at < count[i]; at++)
			for (int s = 0; s < list[i][at].count; s++)
				posterior[list[i][at].states[s]] +=
					list[i][at].joint * weight[list[i][at].states[s]] / list[i][at].weight;
	return tripped;
}

static void judge_motors(const double *weight, double found_tripped, double *posterior)
{
	static const enum role roles[MOTOR_COUNT] = {
		[MOTOR_COMPRESSOR] = ROLE_COMPRESSOR, [MOTOR_FAN] = ROLE_FAN, [MOTOR_BLOWER] = ROLE_BLOWER,
	};
	struct motor_sums motors[MOTOR_COUNT];

	for (int m = 0; m < MOTOR_COUNT; m++) {
		motors[m].feed_count = 0;
		list_parts((enum motor)m, roles[m], weight, &motors[m]);
	}
	double tripped = add_combinations(motors, weight, found_tripped, posterior);
	for (int m = 0; m < MOTOR_COUNT; m++)
		for (int f = 0; f < motors[m].feed_count; f++)
			for (int b = 0; b < BREAKERS; b++)
				for (int s = 0; s < STATE_COUNT; s++)
					posterior[s] += motors[m].feeds[f].joint[b] * motors[m].feeds[f].weight[b][s];
	/* What a part tripped is that part's doing: the supply itself is good. */
	posterior[weight[STATE_SUPPLY_NONE] > 0 ? STATE_SUPPLY_NONE : STATE_SUPPLY_NONE_TO_ALL] -=
		tripped;
	posterior[STATE_SUPPLY_GOOD] += tripped;
}

static void normalise(double *posterior)
{
	for (int v = 0; v < VARIABLE_COUNT; v++) {
		int first = (int)variable_first((enum variable)v);
		int count = variable_states((enum variable)v);
		double sum = 0;
		for (int i = 0; i < count; i++)
			sum += posterior[first + i];
		for (int i = 0; i < count; i++)
			posterior[first + i] = sum > 0 ? posterior[first + i] / sum : i == 0;
	}
}

/* Every variable's distribution, from its weights; weights of what is shown are 1 or clues. */
static void judge(const double *weight, double found_tripped, double *posterior)
{
	memset(posterior, 0, STATE_COUNT * sizeof *posterior);
	judge_motors(weight, found_tripped, posterior);
	for (int s = 0; s < STATE_COUNT; s++)
		if (variable_role(state_info((enum state)s)->variable) == ROLE_ALONE)
			posterior[s] = weight[s];
	normalise(posterior);
}

/* ---- What opens a switch ---- */

/*
 * An open switch is an effect.  `share`: of the times that it is open, so often
 * this is why.  Common practice.
 */
static const struct link {
	enum state effect, cause;
	double share;
} links[] = {
	{ STATE_CONTROL_FLOAT, STATE_DRAIN_BLOCKED, 0.75 },
	{ STATE_CONTROL_FLOAT, STATE_COIL_ICED, 0.08 },
	{ STATE_CONTROL_HIGH_PRESSURE, STATE_CONDENSER_BLOCKED, 0.3 },
	{ STATE_CONTROL_HIGH_PRESSURE, STATE_CONDENSER_DIRTY, 0.2 },
	{ STATE_CONTROL_LOW_PRESSURE, STATE_FILTER_BLOCKED, 0.15 },
	{ STATE_CONTROL_LOW_PRESSURE, STATE_COIL_ICED, 0.15 },
};

enum { LINKS = sizeof links / sizeof *links };

/* How often the cause is there without the effect. */
static double share_without(const struct link *link, const double *prior)
{
	double effect = prior[link->effect], cause = prior[link->cause];
	double without = (cause - link->share * effect) / (1 - effect);

	return without > 0.25 * cause ? without : 0.25 * cause;
}

/* What the cause's own clues say of it, as likelihoods with and without. */
static void cause_likelihoods(const struct link *link, const double *prior, const double *weight,
                              double *with, double *without)
{
	int first = (int)variable_first(state_info(link->cause)->variable);
	double rest = 0, rest_prior = 0;

	for (int i = first; i < first + variable_states(state_info(link->cause)->variable); i++)
		if (i != (int)link->cause) {
			rest += weight[i];
			rest_prior += prior[i];
		}
	*with = prior[link->cause] > 0 ? weight[link->cause] / prior[link->cause] : 0;
	*without = rest_prior > 0 ? rest / rest_prior : 0;
}

/* A cause that was seen makes its effect likelier; an effect makes its cause likelier. */
static void weigh_effects(const double *prior, const double *cause_weight, double *weight)
{
	for (int i = 0; i < LINKS; i++) {
		double with, without, base = share_without(&links[i], prior);
		cause_likelihoods(&links[i], prior, cause_weight, &with, &without);
		double there = links[i].share * with + (1 - links[i].share) * without;
		double absent = base * with + (1 - base) * without;
		if (absent > 0)
			weight[links[i].effect] *= there / absent;
	}
}

static void weigh_causes(const struct beliefs *beliefs, const double *weight, double *posterior)
{
	for (int i = 0; i < LINKS; i++) {
		double with, without, effect = beliefs->posterior[links[i].effect];
		double base = share_without(&links[i], beliefs->prior);
		cause_likelihoods(&links[i], beliefs->prior, weight, &with, &without);
		double prior = effect * links[i].share + (1 - effect) * base;
		double there = prior * with, all = there + (1 - prior) * without;
		enum variable variable = state_info(links[i].cause)->variable;
		int first = (int)variable_first(variable);
		double old = posterior[links[i].cause], now = all > 0 ? there / all : old;
		if (now <= old || old >= 1)
			continue;
		for (int s = first; s < first + variable_states(variable); s++)
			posterior[s] *= s == (int)links[i].cause ? now / fmax(old, 1e-12)
			                                         : (1 - now) / (1 - old);
	}
}

/*
 * How much likelier the breaker is found tripped where a part tripped it than where the supply
 * failed: 0.7 (some blow a fuse, some were reset before) against the 0.45 of clues_supply.c.
 */
static double likelier_found_tripped(const struct view *view)
{
	return view_answers(view, READING_BREAKER_TRIPPED, CHOICE_ANSWER_YES) ? 0.7 / 0.45 : 1;
}

void network_judge(const struct view *view, const struct clues *clues, bool sound_again,
                   struct beliefs *beliefs)
{
	double weight[STATE_COUNT], causes[STATE_COUNT];

	measure_states(view, &beliefs->measured);
	set_priors(view, sound_again, beliefs->prior);
	/* What a motor does has no prior of its own. */
	for (int s = STATE_CONDITION_SOUND; s < STATE_COUNT; s++)
		beliefs->prior[s] = 1;
	memcpy(weight, beliefs->prior, sizeof weight);
	judge(weight, 1, beliefs->posterior);
	for (int s = STATE_CONDITION_SOUND; s < STATE_COUNT; s++)
		beliefs->prior[s] = beliefs->posterior[s];
	multiply_clues(clues, weight);
	apply_measurements(&beliefs->measured, weight);
	memcpy(causes, weight, sizeof causes);
	weigh_effects(beliefs->prior, causes, weight);
	judge(weight, likelier_found_tripped(view), beliefs->posterior);
	weigh_causes(beliefs, causes, beliefs->posterior);
}
