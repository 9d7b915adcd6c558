/*
 * What the leading explanations predict for each reading, in the unit in
 * which it is typed.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <string.h>

#include <padside/calc/barometer.h>
#include <padside/calc/refrigerant.h>

/* An explanation that names the same faults counts from this share of their probability. */
static const double least_share = 0.02;

/* Less probable than this is not worth a column; the sound unit always is. */
static const double least_probability = 0.03;

/* What is typed for each thing seen. */
static const struct {
	int seen;
	enum reading reading;
} typed[] = {
	{ SEEN_SUCTION, READING_SUCTION_PRESSURE }, { SEEN_LIQUID, READING_LIQUID_PRESSURE },
	{ SEEN_SUCTION_LINE, READING_SUCTION_LINE_TEMP },
	{ SEEN_LIQUID_LINE, READING_LIQUID_LINE_TEMP },
	{ SEEN_DISCHARGE, READING_DISCHARGE_LINE_TEMP }, { SEEN_DRIER, READING_DRIER_OUT_TEMP },
	{ SEEN_BEND, READING_CONDENSER_BEND_TEMP }, { SEEN_STANDING, READING_STANDING_PRESSURE },
	{ SEEN_LEAVING, READING_CONDENSER_LEAVING_DB }, { SEEN_SUPPLY, READING_SUPPLY_DB },
	{ SEEN_AMPS, READING_COMMON_AMPS }, { SEEN_AIRFLOW, READING_AIRFLOW },
};

enum { TYPED = sizeof typed / sizeof *typed };

/* One answer: explanations that name the same faults. */
struct same_faults {
	enum fault first, second;
	double probability;
};

static void keep_answer(struct same_faults *answers, int *count, struct same_faults answer)
{
	int at = *count < MOST_PREDICTIONS ? (*count)++ : MOST_PREDICTIONS;

	while (at > 0 && answers[at - 1].probability < answer.probability) {
		if (at < MOST_PREDICTIONS)
			answers[at] = answers[at - 1];
		at--;
	}
	if (at < MOST_PREDICTIONS)
		answers[at] = answer;
}

static bool is_of(const struct hypothesis *hypothesis, const struct same_faults *answer)
{
	return hypothesis->first == answer->first && hypothesis->second == answer->second;
}

/* Every answer there is, in the order of the explanations; what is unknown predicts nothing. */
static int add_up_answers(const struct circuit *circuit, struct same_faults *all)
{
	int count = 0, at = 0;

	for (int h = 0; h < circuit->count; h++) {
		const struct hypothesis *hypothesis = &circuit->list[h];
		if (hypothesis->first == FAULT_COUNT)
			continue;
		/* Severities of one answer stand together. */
		if (at == count || !is_of(hypothesis, &all[at]))
			for (at = 0; at < count && !is_of(hypothesis, &all[at]); at++)
				;
		if (at == count)
			all[count++] = (struct same_faults){ hypothesis->first, hypothesis->second, 0 };
		all[at].probability += hypothesis->posterior;
	}
	return count;
}

/* The sound unit is always among them, else the last gives it its place. */
static int list_answers(const struct circuit *circuit, struct same_faults *answers)
{
	const struct same_faults sound = { FAULT_NONE, FAULT_NONE, circuit->sound };
	struct same_faults all[MOST_HYPOTHESES];
	bool has_sound = false;
	int count = 0, all_count = add_up_answers(circuit, all);

	for (int i = 0; i < all_count; i++)
		if (all[i].probability >= least_probability)
			keep_answer(answers, &count, all[i]);
	for (int i = 0; i < count; i++)
		has_sound = has_sound || answers[i].first == FAULT_NONE;
	if (!has_sound) {
		count = count < MOST_PREDICTIONS ? count + 1 : count;
		answers[count - 1] = sound;
	}
	return count;
}

/* ---- From what is compared to what is typed ---- */

static double gauge(const struct view *view, enum status (*pressure)(enum refrigerant, double,
                                                                     double *), double temp_f)
{
	enum refrigerant refrigerant;
	double altitude = view_number(view, READING_ALTITUDE), psia, air;

	if (!refrigerant_from_name(choice_key(view_choice(view, READING_REFRIGERANT)), &refrigerant) ||
	    pressure(refrigerant, temp_f, &psia) != STATUS_OK ||
	    barometric_pressure_psia(isnan(altitude) ? 0 : altitude, &air) != STATUS_OK)
		return NAN;
	return psia - air;
}

double circuit_as_typed(const struct view *view, int seen, double value)
{
	switch (seen) {
	case SEEN_SUCTION:
		return gauge(view, refrigerant_dew_pressure, value);
	case SEEN_LIQUID:
		return gauge(view, refrigerant_bubble_pressure, value);
	case SEEN_STANDING:
		return gauge(view, refrigerant_dew_pressure,
		             value + view_number(view, READING_STANDING_TEMP));
	case SEEN_BEND:
		return value + circuit_half_glide(view);
	case SEEN_DRIER:
		return view_number(view, READING_DRIER_IN_TEMP) - value;
	case SEEN_AMPS:
		return exp(value / 100) * view_number(view, READING_COMPRESSOR_RLA);
	case SEEN_AIRFLOW:
		return exp(value / 100) * 400 * view_number(view, READING_NOMINAL_CAPACITY);
	default:
		return value;
	}
}

/* Mean and one sd of each thing taken under an answer, severities as they are believed. */
static void blend(const struct circuit *circuit, const struct same_faults *answer,
                  struct outline *outlines, double *mean, double *sd)
{
	double covariance[GAUSS_SIZE][GAUSS_SIZE], one[SEEN_COUNT + 1], weight = 0;
	double square[SEEN_COUNT] = { 0 };
	const int *rows = circuit->rows;
	int n = circuit->taken_count;

	memset(mean, 0, SEEN_COUNT * sizeof *mean);
	for (int h = 0; h < circuit->count; h++) {
		const struct hypothesis *hypothesis = &circuit->list[h];
		if (!is_of(hypothesis, answer) ||
		    hypothesis->posterior < least_share * answer->probability)
			continue;
		double share = fmax(hypothesis->posterior, 1e-30);
		circuit_explain(circuit, &outlines[hypothesis->kind], hypothesis, one, covariance);
		weight += share;
		for (int r = 0; r < n; r++) {
			mean[rows[r]] += share * one[rows[r]];
			square[rows[r]] += share * (covariance[r][r] + one[rows[r]] * one[rows[r]]);
		}
	}
	for (int r = 0; r < n; r++) {
		mean[rows[r]] /= weight;
		sd[rows[r]] = sqrt(fmax(square[rows[r]] / weight - mean[rows[r]] * mean[rows[r]], 1e-6));
	}
}

static void predict(const struct view *view, const struct circuit *circuit,
                    const struct same_faults *answer, struct outline *outlines,
                    struct prediction *prediction)
{
	double mean[SEEN_COUNT], sd[SEEN_COUNT];

	*prediction = (struct prediction){ .first = answer->first, .second = answer->second,
	                                   .probability = answer->probability };
	blend(circuit, answer, outlines, mean, sd);
	for (int i = 0; i < TYPED; i++) {
		int seen = typed[i].seen;
		double measured = view_number(view, typed[i].reading);
		if (!circuit->taken[seen] || isnan(measured))
			continue;
		/* A suction line gets no colder than what boils in it. */
		double value = seen == SEEN_SUCTION_LINE && circuit->taken[SEEN_SUCTION]
			? fmax(mean[seen], mean[SEEN_SUCTION]) : mean[seen];
		struct predicted predicted = {
			.reading = typed[i].reading, .measured = measured,
			.value = circuit_as_typed(view, seen, value),
			.agrees = fabs(circuit->value[seen] - value) <= 1.96 * sd[seen],
		};
		predicted.plus_minus = fabs(circuit_as_typed(view, seen, value + 1.96 * sd[seen]) -
		                            circuit_as_typed(view, seen, value - 1.96 * sd[seen])) / 2;
		if (!isnan(predicted.value) && !isnan(predicted.plus_minus))
			prediction->list[prediction->count++] = predicted;
	}
}

void circuit_predict(const struct view *view, const struct circuit *circuit,
                     struct predictions *predictions)
{
	struct same_faults answers[MOST_PREDICTIONS];
	struct outline outlines[CIRCUIT_KINDS];

	predictions->count = 0;
	if (!circuit->ran || circuit->taken_count == 0)
		return;
	predictions->count = list_answers(circuit, answers);
	for (int kind = 0; kind < CIRCUIT_KINDS; kind++)
		if (circuit->share[kind] > 0)
			circuit_outline(circuit, kind, circuit->rows, circuit->taken_count, &outlines[kind]);
	for (int i = 0; i < predictions->count; i++)
		predict(view, circuit, &answers[i], outlines, &predictions->list[i]);
}
