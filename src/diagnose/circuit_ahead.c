/*
 * What another reading would be worth: its values under the leading
 * explanations, given what was read, and how far they would change what is
 * done.
 *
 * What can be done is to repair one of the leading faults, or nothing.  A wrong
 * repair costs 1; leaving a fault costs what it takes of the capacity or
 * efficiency, 1 for a fifth.  What a reading is worth is the expected cost of
 * the best thing to do without it less that with it.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <string.h>

#include "diagnose/density.h"

enum { MOST_LEADERS = 12, GRID = 20 };

/* The share of capacity that makes leaving a fault as bad as a wrong repair. */
static const double grave_loss = 0.2;

/* Repairing one fault of two, and what information is worth that changes nothing yet, a bit. */
static const double half_done = 0.35, worth_of_a_bit = 0.04;

/* A fault at least this probable is open. */
static const double open_from = 0.07;

/* A leader with less than this share changes nothing that is done. */
static const double counts_from = 0.001;

/* What everything not yet taken would show under one explanation, given what was. */
struct outlook {
	const struct hypothesis *hypothesis; /* the explanation */
	double probability;                  /* among the leaders */
	int answer;                          /* the same for explanations that name the same faults */
	double left_cost;                    /* of doing nothing about it */
	double mean[SEEN_COUNT], sd[SEEN_COUNT]; /* of each reading */
};

/* Two explanations that name the same faults are one answer. */
static void number_answers(struct outlook *leaders, int count)
{
	for (int i = 0; i < count; i++) {
		leaders[i].answer = i;
		for (int k = i - 1; k >= 0; k--)
			if (leaders[i].hypothesis->first == leaders[k].hypothesis->first &&
			    leaders[i].hypothesis->second == leaders[k].hypothesis->second)
				leaders[i].answer = leaders[k].answer;
	}
}

static double cost_of_leaving(const struct hypothesis *hypothesis)
{
	double cost = 0;

	for (int i = 0; i < 2; i++) {
		const struct circuit_class *class = &circuit_classes[hypothesis->kind][hypothesis->row[i]];
		if (hypothesis->row[i] > 0)
			cost += fmax(0, fmax(class->capacity_loss, class->efficiency_loss));
	}
	return fmin(cost / grave_loss, 1);
}

static int pick_leaders(const struct circuit *circuit, struct outlook *leaders)
{
	const struct hypothesis *best[MOST_LEADERS];
	int count = 0;
	double sum = 0;

	for (int h = 0; h < circuit->count; h++) {
		const struct hypothesis *hypothesis = &circuit->list[h];
		/* Nothing can be foreseen of what is unknown. */
		if (hypothesis->first == FAULT_COUNT)
			continue;
		int at = count < MOST_LEADERS ? count++ : MOST_LEADERS;
		while (at > 0 && best[at - 1]->posterior < hypothesis->posterior) {
			if (at < MOST_LEADERS)
				best[at] = best[at - 1];
			at--;
		}
		if (at < MOST_LEADERS)
			best[at] = hypothesis;
	}
	for (int i = 0; i < count; i++)
		sum += best[i]->posterior;
	while (count > 1 && best[count - 1]->posterior < counts_from * sum)
		sum -= best[--count]->posterior;
	for (int i = 0; i < count; i++) {
		leaders[i].hypothesis = best[i];
		leaders[i].probability = best[i]->posterior / fmax(sum, 1e-12);
		leaders[i].left_cost = cost_of_leaving(best[i]);
	}
	number_answers(leaders, count);
	return count;
}

/* Rows of the outline: what was taken first, then what was not. */
static void look_ahead(const struct circuit *circuit, struct outline *outline,
                       struct outlook *outlook)
{
	double mean[SEEN_COUNT + 1], left[SEEN_COUNT], covariance[GAUSS_SIZE][GAUSS_SIZE];
	int n = circuit->taken_count;
	const int *rows = outline->rows;

	circuit_explain(circuit, outline, outlook->hypothesis, mean, covariance);
	for (int i = 0; i < n; i++)
		left[i] = circuit->value[rows[i]] - mean[rows[i]];
	bool split = n > 0 && gauss_split(n, covariance);
	if (split)
		gauss_solve(n, covariance, left);
	for (int r = n; r < outline->count; r++) {
		double variance = covariance[r][r];
		outlook->mean[rows[r]] = mean[rows[r]];
		if (split)
			gauss_solve(n, covariance, covariance[r]);
		for (int i = 0; split && i < n; i++) {
			outlook->mean[rows[r]] += covariance[r][i] * left[i];
			variance -= covariance[r][i] * covariance[r][i];
		}
		outlook->sd[rows[r]] = sqrt(fmax(variance, 1e-4));
	}
}

/* The leaders that are of one kind of unit. */
static void look_ahead_on(const struct circuit *circuit, int kind, const int *rows, int n,
                          struct outlook *leaders, int count)
{
	struct outline outline;
	bool outlined = false;

	for (int i = 0; i < count; i++) {
		if (leaders[i].hypothesis->kind != kind)
			continue;
		if (!outlined)
			circuit_outline(circuit, kind, rows, n, &outline);
		outlined = true;
		look_ahead(circuit, &outline, &leaders[i]);
	}
}

/* Cost of doing what answer `act` asks where `outlook` is so. */
static double cost_of(const struct outlook *act, const struct outlook *so)
{
	enum fault does = act->hypothesis->first;

	if (act->answer == so->answer)
		return 0;
	if (does == FAULT_NONE)
		return so->left_cost;
	if (hypothesis_has(so->hypothesis, does) ||
	    (act->hypothesis->second != FAULT_NONE &&
	     hypothesis_has(so->hypothesis, act->hypothesis->second)))
		return half_done;
	return 1;
}

/* What can be done, and what each of it costs under each leader. */
struct deeds {
	double cost[MOST_LEADERS][MOST_LEADERS];
	int count;
};

static void list_deeds(const struct outlook *leaders, int count, struct deeds *deeds)
{
	deeds->count = 0;
	for (int a = 0; a < count; a++) {
		if (leaders[a].answer != a)
			continue;
		for (int i = 0; i < count; i++)
			deeds->cost[deeds->count][i] = cost_of(&leaders[a], &leaders[i]);
		deeds->count++;
	}
}

/* The least expected cost over what can be done, `weight` of each leader. */
static double least_cost(const struct deeds *deeds, int count, const double *weight)
{
	double best = INFINITY;

	for (int a = 0; a < deeds->count; a++) {
		double cost = 0;
		for (int i = 0; i < count && cost < best; i++)
			cost += weight[i] * deeds->cost[a][i];
		best = cost < best ? cost : best;
	}
	return best;
}

static double worth(const struct outlook *leaders, const struct deeds *deeds, int count, int seen)
{
	double low = INFINITY, high = -INFINITY, bits = 0, after = 0, now[MOST_LEADERS];
	double share[MOST_LEADERS] = { 0 };

	for (int i = 0; i < count; i++) {
		low = fmin(low, leaders[i].mean[seen] - 3 * leaders[i].sd[seen]);
		high = fmax(high, leaders[i].mean[seen] + 3 * leaders[i].sd[seen]);
		now[i] = leaders[i].probability;
		share[leaders[i].answer] += leaders[i].probability;
	}
	double step = (high - low) / GRID;
	for (int g = 0; g < GRID; g++) {
		double joint[MOST_LEADERS], answer[MOST_LEADERS] = { 0 }, all = 0;
		for (int i = 0; i < count; i++) {
			joint[i] = step * now[i] * density_normal(low + (g + 0.5) * step,
			                                          leaders[i].mean[seen], leaders[i].sd[seen]);
			answer[leaders[i].answer] += joint[i];
			all += joint[i];
		}
		after += least_cost(deeds, count, joint);
		for (int i = 0; i < count; i++)
			if (answer[i] > 1e-9 * all && answer[i] > 0)
				bits += answer[i] * log2(answer[i] / (share[i] * all));
	}
	double before = least_cost(deeds, count, now);
	/* The grid loses a little of each distribution: never count that as a gain. */
	return fmax(before * 0.99 - after, 0) + worth_of_a_bit * fmax(bits, 0);
}

/* Air in the circuit and too much refrigerant look alike but for these two. */
static void put_deciding_first(const struct circuit *circuit, double *gains)
{
	double most = 0;

	if (circuit->fault[FAULT_NONCONDENSABLES] < open_from ||
	    circuit->fault[FAULT_OVERCHARGE] < open_from || circuit->taken[SEEN_BEND] ||
	    circuit->taken[SEEN_STANDING])
		return;
	for (int i = 0; i < SEEN_COUNT; i++)
		most = fmax(most, gains[i]);
	gains[SEEN_BEND] = fmax(gains[SEEN_BEND], 1.5 * most);
	gains[SEEN_STANDING] = fmax(gains[SEEN_STANDING], 1.4 * most);
}

void circuit_gains(const struct circuit *circuit, double *gains)
{
	struct outlook leaders[MOST_LEADERS];
	struct deeds deeds;
	int rows[SEEN_COUNT], n = circuit->taken_count, open = 0;

	memset(gains, 0, SEEN_COUNT * sizeof *gains);
	if (!circuit->ran)
		return;
	memcpy(rows, circuit->rows, sizeof rows);
	for (int i = 0; i < SEEN_COUNT; i++)
		if (!circuit->taken[i])
			rows[n + open++] = i;
	int count = pick_leaders(circuit, leaders);
	for (int kind = 0; kind < CIRCUIT_KINDS; kind++)
		look_ahead_on(circuit, kind, rows, n + open, leaders, count);
	list_deeds(leaders, count, &deeds);
	for (int i = n; i < n + open; i++)
		gains[rows[i]] = worth(leaders, &deeds, count, rows[i]);
	/* A supply wet bulb by itself is no enthalpy drop. */
	if (!circuit->taken[SEEN_SUPPLY] || !circuit->taken[SEEN_RETURN] ||
	    !circuit->taken[SEEN_WET_BULB])
		gains[SEEN_ENTHALPY] = 0;
	put_deciding_first(circuit, gains);
}
