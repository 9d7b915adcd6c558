/*
 * The unit's own past.
 *
 * Part of what sets a unit apart from its kind it takes along from visit to
 * visit (the table's `own`: suction, head and amps strongly, an orifice's
 * superheat hardly), and so does what the model has wrong about it.  Earlier
 * readings are therefore no second opinion on today's but news about that
 * part: it is estimated from them in their own weather, the healthy unit's
 * mean moves by it, and every distribution narrows by what is now known.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <string.h>

enum { N = COORDINATE_COUNT };

/* The share of the model's doubt, as variance, that stays with a unit. */
static const double doubt_stays = 0.75;

/* Makers set the approach to 1 °F; units of one model differ a little beyond it. */
static const double target_spread = 1.5;

/* What is known about the unit's own part: mean and covariance. */
struct own_part {
	double mean[N];
	double covariance[LOWER_COUNT];
};

static int place(int i, int k)
{
	return i > k ? i * (i + 1) / 2 + k : k * (k + 1) / 2 + i;
}

/* What differs between visits, on top of `own`: what is left of the healthy spread. */
static void add_visits_own(int kind, const double *own, double *covariance)
{
	const double *healthy = circuit_classes[kind][0].covariance;

	for (int i = 0; i < LOWER_COUNT; i++)
		covariance[i] = own[i] + healthy[i] - circuit_norms[kind].own[i];
	for (int i = 0; i < N; i++)
		covariance[place(i, i)] +=
			((1 - doubt_stays) * circuit_doubt[i] * circuit_doubt[i]);
}

/* The rows of an earlier visit; a flooded suction line says too little about superheat. */
static int past_rows(const struct past_visit *visit, int *rows)
{
	bool flooded = visit->taken[SEEN_SUCTION] && visit->taken[SEEN_SUCTION_LINE] &&
	               visit->value[SEEN_SUCTION_LINE] - visit->value[SEEN_SUCTION] < 3;
	int n = 0;

	for (int i = 0; i < CIRCUIT_SEEN; i++)
		if (visit->taken[i] && !(i == SEEN_SUCTION_LINE && flooded))
			rows[n++] = i;
	return n;
}

static void read_air(const struct past_visit *visit, struct weather_known *weather)
{
	weather->value = (struct weather){ visit->air[0], visit->air[1], visit->air[2] };
	weather->spread = (struct weather){ visit->air_sd[0], visit->air_sd[1], visit->air_sd[2] };
}

/* One visit more: the usual step of linear estimation, all its readings at once. */
static void learn_visit(const struct machine *machine, int kind, const struct past_visit *visit,
                        struct own_part *own)
{
	struct weather_known weather;
	double features[CIRCUIT_FEATURES], mean[N], ways[N][WAY_COUNT], read[SEEN_COUNT + 1];
	double left[GAUSS_SIZE], lower[GAUSS_SIZE][GAUSS_SIZE], across[GAUSS_SIZE][N];
	double covariance[LOWER_COUNT];
	int rows[SEEN_COUNT], n = past_rows(visit, rows);

	read_air(visit, &weather);
	circuit_features(machine, &weather.value, kind, features);
	circuit_norm_mean(machine, kind, features, mean);
	circuit_set_ways(machine, &weather, kind, mean, ways);
	for (int i = 0; i < N; i++)
		mean[i] += own->mean[i];
	add_visits_own(kind, own->covariance, covariance);
	struct outlook_source source = {
		.mean = mean, .covariance = covariance, .ways = (const double (*)[WAY_COUNT])ways,
		.sd = visit->sd, .weather = &weather.value, .machine = machine,
	};
	circuit_project(&source, &weather.spread, rows, n, read, lower);
	if (n == 0 || !gauss_split(n, lower))
		return;
	for (int r = 0; r < n; r++) {
		left[r] = visit->value[rows[r]] - read[rows[r]];
		circuit_across(machine, rows[r], own->covariance, across[r]);
	}
	gauss_solve(n, lower, left);
	for (int i = 0; i < N; i++) {
		double column[GAUSS_SIZE];
		for (int r = 0; r < n; r++)
			column[r] = across[r][i];
		gauss_solve(n, lower, column);
		for (int r = 0; r < n; r++) {
			across[r][i] = column[r];
			own->mean[i] += column[r] * left[r];
		}
	}
	for (int i = 0; i < N; i++)
		for (int k = 0; k <= i; k++)
			for (int r = 0; r < n; r++)
				own->covariance[place(i, k)] -= (across[r][i] * across[r][k]);
}

/* A maker's approach, as if a sound unit had shown it at the rated point. */
static void learn_target(const struct machine *machine, int kind, struct own_part *own)
{
	struct past_visit rated = { .air = { 95, 80, 67 }, .air_sd = { 0.1, 0.1, 0.1 } };

	if (isnan(machine->approach_f))
		return;
	rated.value[SEEN_LIQUID_LINE] = rated.air[0] + machine->approach_f;
	rated.sd[SEEN_LIQUID_LINE] = target_spread;
	rated.taken[SEEN_LIQUID_LINE] = true;
	learn_visit(machine, kind, &rated, own);
}

static void begin(const struct machine *machine, int kind, struct own_part *own)
{
	memset(own->mean, 0, sizeof own->mean);
	memcpy(own->covariance, circuit_norms[kind].own, sizeof own->covariance);
	for (int i = 0; i < N; i++)
		own->covariance[place(i, i)] +=
			(doubt_stays * circuit_doubt[i] * circuit_doubt[i]);
	learn_target(machine, kind, own);
}

static void unpack(const double *lower, double matrix[GAUSS_SIZE][GAUSS_SIZE])
{
	for (int i = 0; i < N; i++)
		for (int k = 0; k < N; k++)
			matrix[i][k] = lower[place(i, k)];
}

/* change × before = after, both lower Cholesky factors: `change` is lower too. */
static void find_change(double before[GAUSS_SIZE][GAUSS_SIZE], double after[GAUSS_SIZE][GAUSS_SIZE],
                        double change[N][N])
{
	for (int i = 0; i < N; i++)
		for (int k = N - 1; k >= 0; k--) {
			double sum = k <= i ? after[i][k] : 0;
			for (int j = k + 1; j <= i; j++)
				sum -= change[i][j] * before[j][k];
			change[i][k] = k <= i ? sum / before[k][k] : 0;
		}
}

/* change × covariance × changeᵀ. */
static void apply_change(double change[N][N], double *covariance)
{
	double half[N][N];

	for (int i = 0; i < N; i++)
		for (int k = 0; k < N; k++) {
			half[i][k] = 0;
			for (int j = 0; j <= i; j++)
				half[i][k] += change[i][j] * covariance[place(j, k)];
		}
	for (int i = 0; i < N; i++)
		for (int k = 0; k <= i; k++) {
			double sum = 0;
			for (int j = 0; j <= k; j++)
				sum += half[i][j] * change[k][j];
			covariance[place(i, k)] = sum;
		}
}

/*
 * The healthy mean moves by what is known of the unit.  What narrows the
 * healthy distribution from its kind's to this unit's narrows that of every
 * fault alike.
 */
static void narrow(struct circuit *circuit, int kind, const struct own_part *own)
{
	struct scene *scene = &circuit->scenes[kind];
	double scale = circuit->spread_scale * circuit->spread_scale;
	double before[GAUSS_SIZE][GAUSS_SIZE], after[GAUSS_SIZE][GAUSS_SIZE], change[N][N];
	double covariance[LOWER_COUNT];

	circuit_norm_mean(&circuit->machines[kind], kind, scene->features, scene->mean);
	for (int i = 0; i < N; i++)
		scene->mean[i] += own->mean[i];
	add_visits_own(kind, own->covariance, covariance);
	for (int i = 0; i < LOWER_COUNT; i++)
		covariance[i] *= scale;
	unpack(scene->covariance[0], before);
	unpack(covariance, after);
	if (!gauss_split(N, before) || !gauss_split(N, after))
		return;
	find_change(before, after, change);
	for (int c = 0; c < CIRCUIT_CLASSES; c++)
		apply_change(change, scene->covariance[c]);
}

/* Whether an earlier visit was to the same unit inside, as far as the plates tell. */
static bool is_same(const struct past_visit *visit, const struct machine *machine)
{
	return visit->refrigerant == CHOICE_NONE || machine->refrigerant == CHOICE_NONE ||
	       visit->refrigerant == machine->refrigerant;
}

void circuit_learn_target(struct circuit *circuit, int kind)
{
	struct own_part own;

	if (isnan(circuit->machines[kind].approach_f))
		return;
	begin(&circuit->machines[kind], kind, &own);
	narrow(circuit, kind, &own);
}

void circuit_learn(struct circuit *circuit, const struct past *past, int kind)
{
	const struct machine *machine = &circuit->machines[kind];
	struct own_part own;
	double share = 0;
	int visits = 0;

	begin(machine, kind, &own);
	for (int v = 0; v < past->count; v++) {
		const struct past_visit *visit = &past->visits[v];
		if (!is_same(visit, machine)) {
			/* A change of refrigerant is a change of the unit. */
			begin(machine, kind, &own);
			visits = 0;
			share = 0;
			continue;
		}
		learn_visit(machine, kind, visit, &own);
		share += visit->sound;
		visits++;
	}
	if (visits == 0 || !circuit->ran || circuit->taken_count == 0)
		return;
	circuit->past_visits = visits;
	circuit->past_share = share / visits;
	narrow(circuit, kind, &own);
}
