/*
 * The circuit: explanations against readings.
 *
 * Every explanation says where each reading should lie: the healthy unit's
 * value in today's weather, moved as the fault moves it at some severity, and
 * how units of that kind scatter about it, all readings together.  Readings
 * are then compared all at once, as one joint distribution with heavy tails:
 * units, what is not known about weather and nameplate, the model's own doubt,
 * the instruments.  Head and subcooling vary together from unit to unit, so
 * the approach of the liquid to the outdoor air is known far better than
 * either; the joint distribution knows that.  A reading that was not taken is
 * left out of it and so neither helps nor hurts.
 *
 * Superheat stops at zero where liquid comes back.  The table therefore holds
 * what superheat would be if it ran on below zero, and a suction line about as
 * cold as its saturation temperature is read as "zero or anything below": the
 * share of the distribution below zero, given the other readings.
 *
 * This unit's earlier visits narrow the distribution (circuit_past.c).
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <string.h>

#include "diagnose/density.h"

/* Degrees of freedom of the joint distribution: a normal one with heavy tails. */
static const double freedom = 20;

/* Pairs that are weighed: each of these with each other, but for the charge with itself. */
static const enum fault paired[] = {
	FAULT_UNDERCHARGE, FAULT_OVERCHARGE, FAULT_LOW_INDOOR_AIRFLOW, FAULT_LOW_OUTDOOR_AIRFLOW,
	FAULT_LIQUID_RESTRICTION, FAULT_COMPRESSOR_INEFFICIENT, FAULT_NONCONDENSABLES,
};

enum { PAIRED = sizeof paired / sizeof *paired };

/* Severities of each of a pair, and their share: the light end hides behind the other fault. */
static const struct {
	int level;
	double share;
} pair_levels[] = { { 0, 0.45 }, { 1, 0.55 } };

enum { PAIR_LEVELS = sizeof pair_levels / sizeof *pair_levels };

/* Faults of poor maintenance occur together: pairs are a little more frequent than by chance. */
static const double company = 2.2;

/*
 * The priors are shares of all complaints.  Where gauges are on a unit that
 * runs, what stops units is out of the question and the circuit's share larger.
 */
static const double running = 1.15;

/* Prior of "something that this table does not hold". */
static const double unknown_prior = 0.012;

/* Superheat read below this may be a flooded suction line, °F. */
static const double may_flood_f = 6;

/* ---- Which explanations there are ---- */

static void add_hypothesis(struct circuit *circuit, struct hypothesis hypothesis, double prior)
{
	if (circuit->count == MOST_HYPOTHESES || prior <= 0)
		return;
	hypothesis.prior = prior;
	circuit->list[circuit->count++] = hypothesis;
}

/* A row of the table; a restriction before the drier's end where a drop over it was read. */
static int find_row(const struct circuit *circuit, int kind, enum fault fault, int level)
{
	bool drop = circuit->taken[SEEN_DRIER] && circuit->value[SEEN_DRIER] > 2;
	int found = 0;

	for (int c = 1; c < CIRCUIT_CLASSES; c++) {
		const struct circuit_class *class = &circuit_classes[kind][c];
		bool better = found == 0 || (drop == (class->shift[COORDINATE_DRIER][0] > 1));
		if (class->fault == fault && class->level == level && better)
			found = c;
	}
	return found;
}

/* `rows` of each of the paired, by severity. */
static void list_pair(struct circuit *circuit, int kind, int a, int b,
                      int rows[PAIRED][PAIR_LEVELS], double prior)
{
	for (int i = 0; i < PAIR_LEVELS; i++)
		for (int k = 0; k < PAIR_LEVELS; k++)
			add_hypothesis(circuit, (struct hypothesis){
				.first = paired[a], .second = paired[b], .kind = kind,
				.row = { rows[a][i], rows[b][k] },
			}, prior * pair_levels[i].share * pair_levels[k].share);
}

/* A charge is not both too small and too large. */
static bool is_pair(int a, int b)
{
	return paired[a] != FAULT_UNDERCHARGE || paired[b] != FAULT_OVERCHARGE;
}

static double pair_prior(int a, int b, double scale)
{
	return company * scale * scale * fault_info(paired[a])->prior * fault_info(paired[b])->prior;
}

static void list_pairs(struct circuit *circuit, int kind, double scale)
{
	int rows[PAIRED][PAIR_LEVELS];

	for (int a = 0; a < PAIRED; a++)
		for (int i = 0; i < PAIR_LEVELS; i++)
			rows[a][i] = find_row(circuit, kind, paired[a], pair_levels[i].level);
	for (int a = 0; a < PAIRED; a++)
		for (int b = a + 1; b < PAIRED; b++)
			if (is_pair(a, b))
				list_pair(circuit, kind, a, b, rows,
				          circuit->share[kind] * pair_prior(a, b, scale));
}

static void list_hypotheses(struct circuit *circuit, int kind, double scale)
{
	double share = circuit->share[kind], faults = 0;

	for (int c = 1; c < CIRCUIT_CLASSES; c++) {
		const struct circuit_class *class = &circuit_classes[kind][c];
		faults += scale * fault_info(class->fault)->prior * class->share;
	}
	add_hypothesis(circuit, (struct hypothesis){ .kind = kind },
	               share * (1 - faults - unknown_prior));
	for (int c = 1; c < CIRCUIT_CLASSES; c++) {
		const struct circuit_class *class = &circuit_classes[kind][c];
		add_hypothesis(circuit, (struct hypothesis){ .first = class->fault, .row = { c },
		                                             .kind = kind },
		               share * scale * fault_info(class->fault)->prior * class->share);
	}
	list_pairs(circuit, kind, scale);
	add_hypothesis(circuit, (struct hypothesis){ .first = FAULT_COUNT, .kind = kind },
	               share * unknown_prior);
}

/* ---- How well each fits ---- */

/* log(exp(a) + exp(b)). */
static double log_sum(double a, double b)
{
	return fmax(a, b) + log1p(exp(-fabs(a - b)));
}

/* What all densities of one call share. */
struct comparison {
	struct outline outline; /* of the rows, superheat itself behind them where a line was read */
	int count;              /* of what was read */
	bool has_superheat;     /* both the suction line and its pressure were */
	double constant;        /* of a density over all of them */
	double constant_but_one; /* and without the line */
};

static void prepare(const struct circuit *circuit, int kind, struct comparison *comparison)
{
	int n = circuit->taken_count, rows[SEEN_COUNT + 1];

	comparison->count = n;
	comparison->has_superheat = circuit->taken[SEEN_SUCTION_LINE] && circuit->taken[SEEN_SUCTION];
	memcpy(rows, circuit->rows, (size_t)n * sizeof *rows);
	rows[n] = ROW_SUPERHEAT;
	circuit_outline(circuit, kind, rows, comparison->has_superheat ? n + 1 : n,
	                &comparison->outline);
	comparison->constant = gauss_t_constant(n, freedom);
	comparison->constant_but_one = gauss_t_constant(n - 1, freedom);
}

/*
 * A cold suction line, last of the rows, with superheat itself in the row
 * behind them: `dry` is the log density if superheat is what was read.
 */
static double flooded_or_dry(const struct circuit *circuit, const struct comparison *comparison,
                             const double *left, double superheat_mean,
                             double covariance[GAUSS_SIZE][GAUSS_SIZE], double dry)
{
	double read = circuit->value[SEEN_SUCTION_LINE] - circuit->value[SEEN_SUCTION];
	double error = hypot(circuit->sd[SEEN_SUCTION_LINE], circuit->sd[SEEN_SUCTION]);
	double mean = superheat_mean, variance = 0, square = 0;
	int n = comparison->count;

	if (read > may_flood_f)
		return dry;
	for (int i = 0; i < n - 1; i++) {
		mean += covariance[n][i] * left[i];
		square += left[i] * left[i];
	}
	for (int i = n - 1; i <= n; i++)
		variance += covariance[n][i] * covariance[n][i];
	variance *= (freedom + square) / (freedom + n - 1);
	double flooded = gauss_log_density(n - 1, covariance, left, freedom) +
	                 comparison->constant_but_one +
	                 log(density_below(0, mean, sqrt(variance)) + 1e-12) +
	                 log(density_normal(read, 0, error) + 1e-300);
	return log_sum(flooded, dry + log(density_below(0, -read, error) + 1e-12));
}

static double log_likelihood(const struct circuit *circuit, struct comparison *comparison,
                             struct hypothesis *hypothesis)
{
	double mean[SEEN_COUNT + 1], left[SEEN_COUNT + 1], covariance[GAUSS_SIZE][GAUSS_SIZE];
	int n = comparison->count;

	if (n == 0)
		return 0;
	circuit_explain(circuit, &comparison->outline, hypothesis, mean, covariance);
	circuit_keep_shown(circuit, mean, covariance, hypothesis);
	for (int i = 0; i < n; i++)
		left[i] = circuit->value[circuit->rows[i]] - mean[circuit->rows[i]];
	if (!gauss_split(comparison->outline.count, covariance))
		return -INFINITY;
	gauss_solve(n, covariance, left);
	double dry = gauss_log_density(n, covariance, left, freedom) + comparison->constant;
	return comparison->has_superheat
		? flooded_or_dry(circuit, comparison, left, mean[ROW_SUPERHEAT], covariance, dry) : dry;
}

/* Every explanation's log likelihood; those of one kind of unit stand together. */
static void compare_all(struct circuit *circuit, double *log_likelihoods)
{
	struct comparison comparison;
	int kind = -1;

	for (int i = 0; i < circuit->count; i++) {
		if (circuit->list[i].kind != kind)
			prepare(circuit, kind = circuit->list[i].kind, &comparison);
		log_likelihoods[i] = log_likelihood(circuit, &comparison, &circuit->list[i]);
	}
}

static double air_log_ratio(const struct circuit *circuit)
{
	double sum = 0;

	for (int i = 0; i < circuit->air_clues.count; i++)
		sum += log(circuit->air_clues.list[i].likelihood[1] /
		           circuit->air_clues.list[i].likelihood[0]);
	return sum;
}

/* As units of its kind show it, and, as far as its past is believed, as this unit does. */
static void compare(struct circuit *circuit, const struct past *past)
{
	static const double never = -700;
	double usual[MOST_HYPOTHESES], own[MOST_HYPOTHESES];

	compare_all(circuit, usual);
	for (int i = 0; i < circuit->count; i++)
		circuit->list[i].posterior = usual[i];
	for (int kind = 0; past && kind < 2; kind++)
		if (circuit->share[kind] > 0)
			circuit_learn(circuit, past, kind);
	if (circuit->past_visits == 0)
		return;
	compare_all(circuit, own);
	for (int i = 0; i < circuit->count; i++)
		circuit->list[i].posterior = log_sum(
			fmax(log(circuit->past_share) + own[i], never),
			fmax(log(1 - circuit->past_share) + usual[i], never));
	circuit_compare_own(circuit);
}

static void weigh(struct circuit *circuit)
{
	double best = -INFINITY, sum = 0, air = air_log_ratio(circuit);

	for (int i = 0; i < circuit->count; i++) {
		struct hypothesis *hypothesis = &circuit->list[i];
		hypothesis->posterior += log(hypothesis->prior);
		if (hypothesis_has(hypothesis, FAULT_LOW_INDOOR_AIRFLOW))
			hypothesis->posterior += air;
		best = fmax(best, hypothesis->posterior);
	}
	for (int i = 0; i < circuit->count; i++) {
		circuit->list[i].posterior = exp(circuit->list[i].posterior - best);
		sum += circuit->list[i].posterior;
	}
	for (int i = 0; i < circuit->count; i++)
		circuit->list[i].posterior /= sum;
}

/*
 * What a class costs: capacity or efficiency, and as much as either where it
 * takes the superheat that keeps liquid out of the compressor.
 */
static double class_cost(const struct circuit_class *class)
{
	const double flooding_f = -6, harm = 0.05;
	double cost = fmax(class->capacity_loss, class->efficiency_loss);

	return fmax(cost, class->shift[COORDINATE_SUPERHEAT][0] < flooding_f ? harm : 0);
}

static void count_fault(struct circuit *circuit, const struct hypothesis *hypothesis, int nth)
{
	const struct circuit_class *class = &circuit_classes[hypothesis->kind][hypothesis->row[nth]];
	enum fault fault = nth == 0 ? hypothesis->first : hypothesis->second;

	circuit->fault[fault] += hypothesis->posterior;
	circuit->prior[fault] += hypothesis->prior;
	circuit->cost[fault] += hypothesis->posterior * class_cost(class);
}

static void add_up(struct circuit *circuit)
{
	for (int i = 0; i < circuit->count; i++) {
		const struct hypothesis *hypothesis = &circuit->list[i];
		if (hypothesis->first == FAULT_NONE)
			circuit->sound += hypothesis->posterior;
		else if (hypothesis->first == FAULT_COUNT)
			circuit->unknown += hypothesis->posterior;
		else
			count_fault(circuit, hypothesis, 0);
		if (hypothesis->second != FAULT_NONE)
			count_fault(circuit, hypothesis, 1);
	}
	for (int f = 0; f < FAULT_COUNT; f++)
		if (circuit->fault[f] > 0)
			circuit->cost[f] /= circuit->fault[f];
}

void circuit_judge(const struct view *view, const struct past *past, bool sound_again,
                   struct circuit *circuit)
{
	circuit_see(view, circuit);
	bool gauges = circuit->taken[SEEN_SUCTION] || circuit->taken[SEEN_LIQUID];
	for (int kind = 0; kind < 2; kind++) {
		if (circuit->share[kind] <= 0)
			continue;
		circuit_set_scene(circuit, kind);
		circuit_learn_target(circuit, kind);
		list_hypotheses(circuit, kind, sound_again ? 0.3 : gauges ? running : 1);
	}
	compare(circuit, past);
	weigh(circuit);
	add_up(circuit);
}
