/*
 * The circuit: explanations against readings.
 *
 * Every explanation says where each reading should lie: the healthy machine's
 * value in today's weather, moved as the fault moves it (faults.def) at some
 * severity.  Readings are then compared all at once, as one joint
 * distribution whose spread has three parts: the instruments, what is not
 * known about the weather, and how machines and faults differ.  The last two
 * are shared between readings, so a suction gauge that reads low is not
 * counted once as low suction and again as high superheat.  A reading that
 * was not taken is left out of the distribution and so neither helps nor
 * hurts.
 *
 * Working in the readings themselves instead of in the figures is what keeps
 * the errors apart: superheat and subcooling are differences of readings, and
 * what they share is already in the arithmetic.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>

/* Degrees of freedom of the joint distribution: a normal one with honest tails. */
static const double freedom = 8;

/* Severities that are summed over, and how often each is met; coarser for each of a pair. */
struct severity_share {
	double severity, share;
};

static const struct severity_share single_severities[] = {
	{ 0.25, 0.18 }, { 0.5, 0.28 }, { 0.85, 0.27 }, { 1.3, 0.17 }, { 1.9, 0.1 },
};
static const struct severity_share pair_severities[] = {
	{ 0.35, 0.35 }, { 0.8, 0.4 }, { 1.4, 0.25 },
};

/* Pairs that occur together and disguise each other. */
static const enum fault pairs[][2] = {
	{ FAULT_UNDERCHARGE, FAULT_LOW_OUTDOOR_AIRFLOW },
	{ FAULT_UNDERCHARGE, FAULT_LOW_INDOOR_AIRFLOW },
	{ FAULT_OVERCHARGE, FAULT_LOW_INDOOR_AIRFLOW },
	{ FAULT_OVERCHARGE, FAULT_LOW_OUTDOOR_AIRFLOW },
	{ FAULT_LOW_INDOOR_AIRFLOW, FAULT_LOW_OUTDOOR_AIRFLOW },
};

/* Neglect comes in company: pairs are more frequent than by chance. */
static const double company = 2.5;

/* Prior of "something that this table does not hold". */
static const double unknown_prior = 0.012;

bool hypothesis_has(const struct hypothesis *hypothesis, enum fault fault)
{
	return hypothesis->first == fault || hypothesis->second == fault;
}

static void add_hypothesis(struct circuit *circuit, struct hypothesis hypothesis, double prior)
{
	if (circuit->count == MOST_HYPOTHESES || prior <= 0)
		return;
	hypothesis.prior = prior;
	circuit->list[circuit->count++] = hypothesis;
}

/* Whether the circuit shows a fault at all: its row moves something. */
static bool is_circuit_fault(enum fault fault)
{
	const struct movements *by = &fault_info(fault)->valve;

	for (int i = 0; i < MOVED_COUNT; i++)
		if (by->early[i] != 0)
			return true;
	return false;
}

static void list_pairs(struct circuit *circuit, int kind, double scale)
{
	enum { LEVELS = sizeof pair_severities / sizeof *pair_severities };

	for (size_t p = 0; p < sizeof pairs / sizeof *pairs; p++) {
		double prior = company * scale * scale * fault_info(pairs[p][0])->prior *
		               fault_info(pairs[p][1])->prior * circuit->share[kind];
		for (int a = 0; a < LEVELS; a++)
			for (int b = 0; b < LEVELS; b++)
				add_hypothesis(circuit, (struct hypothesis){
					.first = pairs[p][0], .second = pairs[p][1], .kind = kind,
					.severity = { pair_severities[a].severity, pair_severities[b].severity },
				}, prior * pair_severities[a].share * pair_severities[b].share);
	}
}

static void list_hypotheses(struct circuit *circuit, int kind, double scale)
{
	enum { LEVELS = sizeof single_severities / sizeof *single_severities };
	double share = circuit->share[kind], faults = 0;

	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++)
		faults += is_circuit_fault((enum fault)f) ? scale * fault_info((enum fault)f)->prior : 0;
	add_hypothesis(circuit, (struct hypothesis){ .kind = kind },
	               share * (1 - faults - unknown_prior));
	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++) {
		if (!is_circuit_fault((enum fault)f))
			continue;
		bool both = circuit_movements((enum fault)f, kind == 1)->mild_superheat != 0;
		for (int s = 0; s < LEVELS * (both ? 2 : 1); s++)
			add_hypothesis(circuit, (struct hypothesis){
				.first = (enum fault)f, .kind = kind, .mild = s >= LEVELS,
				.severity = { single_severities[s % LEVELS].severity },
			}, scale * fault_info((enum fault)f)->prior * single_severities[s % LEVELS].share *
			   share / (both ? 2 : 1));
	}
	list_pairs(circuit, kind, scale);
	add_hypothesis(circuit, (struct hypothesis){ .first = FAULT_COUNT, .kind = kind },
	               share * unknown_prior);
}

static double log_likelihood(const struct circuit *circuit, struct hypothesis *hypothesis)
{
	double mean[SEEN_COUNT], left[SEEN_COUNT], covariance[GAUSS_SIZE][GAUSS_SIZE];
	int n = circuit->taken_count;

	if (n == 0)
		return 0;
	circuit_explain(circuit, hypothesis, circuit->rows, n, mean, covariance);
	circuit_keep_shown(circuit, mean, covariance, hypothesis);
	for (int i = 0; i < n; i++)
		left[i] = circuit->value[circuit->rows[i]] - mean[circuit->rows[i]];
	if (!gauss_split(n, covariance))
		return 0;
	gauss_solve(n, covariance, left);
	return gauss_log_density(n, covariance, left, freedom);
}

static double air_log_ratio(const struct circuit *circuit)
{
	double sum = 0;

	for (int i = 0; i < circuit->air_clues.count; i++)
		sum += log(circuit->air_clues.list[i].likelihood[1] /
		           circuit->air_clues.list[i].likelihood[0]);
	return sum;
}

static void weigh(struct circuit *circuit)
{
	double best = -INFINITY, sum = 0, air = air_log_ratio(circuit);

	for (int i = 0; i < circuit->count; i++) {
		struct hypothesis *hypothesis = &circuit->list[i];
		double log_posterior = log(hypothesis->prior) +
			log_likelihood(circuit, hypothesis);
		if (hypothesis_has(hypothesis, FAULT_LOW_INDOOR_AIRFLOW))
			log_posterior += air;
		hypothesis->posterior = log_posterior;
		best = fmax(best, log_posterior);
	}
	for (int i = 0; i < circuit->count; i++) {
		circuit->list[i].posterior = exp(circuit->list[i].posterior - best);
		sum += circuit->list[i].posterior;
	}
	for (int i = 0; i < circuit->count; i++)
		circuit->list[i].posterior /= sum;
}

static void add_up(struct circuit *circuit)
{
	for (int i = 0; i < circuit->count; i++) {
		const struct hypothesis *hypothesis = &circuit->list[i];
		double prior = hypothesis->prior;
		if (hypothesis->first == FAULT_NONE) {
			circuit->sound += hypothesis->posterior;
		} else if (hypothesis->first == FAULT_COUNT) {
			circuit->unknown += hypothesis->posterior;
		} else {
			circuit->fault[hypothesis->first] += hypothesis->posterior;
			circuit->prior[hypothesis->first] += prior;
			circuit->severity[hypothesis->first] += hypothesis->posterior * hypothesis->severity[0];
		}
		if (hypothesis->second != FAULT_NONE) {
			circuit->fault[hypothesis->second] += hypothesis->posterior;
			circuit->prior[hypothesis->second] += prior;
			circuit->severity[hypothesis->second] += hypothesis->posterior * hypothesis->severity[1];
		}
	}
	for (int f = 0; f < FAULT_COUNT; f++)
		if (circuit->fault[f] > 0)
			circuit->severity[f] /= circuit->fault[f];
}

void circuit_judge(const struct view *view, bool sound_again, struct circuit *circuit)
{
	circuit_see(view, circuit);
	for (int kind = 0; kind < 2; kind++) {
		if (circuit->share[kind] <= 0)
			continue;
		circuit_set_scene(circuit, kind);
		list_hypotheses(circuit, kind, sound_again ? 0.3 : 1);
	}
	weigh(circuit);
	add_up(circuit);
}
