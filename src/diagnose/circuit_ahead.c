/*
 * What another reading would tell: its values under the leading explanations,
 * given what was read, and how far they would part them.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <string.h>

#include "diagnose/density.h"

enum { MOST_LEADERS = 8, GRID = 16 };

/* What everything not yet taken would show under one explanation, given what was. */
struct outlook {
	const struct hypothesis *hypothesis; /* the explanation */
	double probability;                  /* among the leaders */
	int answer;                          /* the same for explanations that name the same faults */
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

static int pick_leaders(const struct circuit *circuit, struct outlook *leaders)
{
	const struct hypothesis *best[MOST_LEADERS];
	int count = 0;
	double sum = 0;

	for (int h = 0; h < circuit->count; h++) {
		const struct hypothesis *hypothesis = &circuit->list[h];
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
	for (int i = 0; i < count; i++) {
		leaders[i].hypothesis = best[i];
		leaders[i].probability = best[i]->posterior / sum;
	}
	number_answers(leaders, count);
	return count;
}

/* Rows: what was taken first, then the `open` ones that were not. */
static void look_ahead(const struct circuit *circuit, const int *rows, int open,
                       struct outlook *outlook)
{
	double mean[SEEN_COUNT], left[SEEN_COUNT], covariance[GAUSS_SIZE][GAUSS_SIZE];
	int n = circuit->taken_count;

	circuit_explain(circuit, outlook->hypothesis, rows, n + open, mean, covariance);
	for (int i = 0; i < n; i++)
		left[i] = circuit->value[rows[i]] - mean[rows[i]];
	bool split = n > 0 && gauss_split(n, covariance);
	if (split)
		gauss_solve(n, covariance, left);
	for (int r = n; r < n + open; r++) {
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

/* Bits between the answer and the reading, summed over a grid of its values. */
static double information(const struct outlook *outlooks, int count, int seen)
{
	double low = INFINITY, high = -INFINITY, bits = 0;

	for (int i = 0; i < count; i++) {
		low = fmin(low, outlooks[i].mean[seen] - 3 * outlooks[i].sd[seen]);
		high = fmax(high, outlooks[i].mean[seen] + 3 * outlooks[i].sd[seen]);
	}
	double step = (high - low) / GRID;
	for (int g = 0; g < GRID; g++) {
		double joint[MOST_LEADERS] = { 0 }, share[MOST_LEADERS] = { 0 }, all = 0;
		for (int i = 0; i < count; i++) {
			double p = outlooks[i].probability *
			           density_normal(low + (g + 0.5) * step, outlooks[i].mean[seen],
			                          outlooks[i].sd[seen]);
			joint[outlooks[i].answer] += p;
			share[outlooks[i].answer] += outlooks[i].probability;
			all += p;
		}
		for (int i = 0; i < count; i++)
			if (joint[i] > 1e-9 * all && joint[i] > 0)
				bits += step * joint[i] * log2(joint[i] / (share[i] * all));
	}
	return fmax(bits, 0);
}

void circuit_gains(const struct circuit *circuit, double *gains)
{
	struct outlook leaders[MOST_LEADERS];
	int rows[SEEN_COUNT], n = circuit->taken_count, open = 0;

	memset(gains, 0, SEEN_COUNT * sizeof *gains);
	if (!circuit->ran)
		return;
	memcpy(rows, circuit->rows, sizeof rows);
	for (int i = 0; i < SEEN_COUNT; i++)
		if (!circuit->taken[i])
			rows[n + open++] = i;
	int count = pick_leaders(circuit, leaders);
	for (int i = 0; i < count; i++)
		look_ahead(circuit, rows, open, &leaders[i]);
	for (int i = n; i < n + open; i++)
		gains[rows[i]] = information(leaders, count, rows[i]);
}
