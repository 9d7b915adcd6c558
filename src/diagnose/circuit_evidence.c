/*
 * Evidence from the circuit: what each figure alone says for or against a
 * fault.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>

#include "diagnose/density.h"

/* A figure as a difference of two things seen; -1: nothing is taken off. */
struct shown {
	enum figure figure;   /* or */
	enum reading reading; /* what the technician reads */
	int seen, less;       /* seen - less */
};

static const struct shown shown[SHOWN_COUNT] = {
	{ FIGURE_EVAPORATOR_UNDER_RETURN, READING_NONE, SEEN_SUCTION, -1 },
	{ FIGURE_SUPERHEAT, READING_NONE, SEEN_SUCTION_LINE, SEEN_SUCTION },
	{ FIGURE_CONDENSER_OVER_OUTDOOR, READING_NONE, SEEN_LIQUID, -1 },
	{ FIGURE_SUBCOOLING, READING_NONE, SEEN_LIQUID, SEEN_LIQUID_LINE },
	{ FIGURE_NONE, READING_DISCHARGE_LINE_TEMP, SEEN_DISCHARGE, -1 },
	{ FIGURE_TEMPERATURE_SPLIT, READING_NONE, SEEN_SUPPLY, -1 },
	{ FIGURE_RLA_SHARE, READING_NONE, SEEN_AMPS, -1 },
	{ FIGURE_AIRFLOW_ESTIMATE, READING_NONE, SEEN_AIRFLOW, -1 },
	{ FIGURE_SUPPLY_ENTHALPY, READING_NONE, SEEN_ENTHALPY, -1 },
	{ FIGURE_DRIER_DROP, READING_NONE, SEEN_DRIER, -1 },
	{ FIGURE_NONE, READING_CONDENSER_BEND_TEMP, SEEN_BEND, SEEN_LIQUID },
	{ FIGURE_NONE, READING_STANDING_PRESSURE, SEEN_STANDING, -1 },
	{ FIGURE_NONE, READING_CONDENSER_LEAVING_DB, SEEN_LEAVING, -1 },
};

static bool is_shown(const struct circuit *circuit, int i)
{
	return circuit->taken[shown[i].seen] && (shown[i].less < 0 || circuit->taken[shown[i].less]);
}

static double shown_value(const struct circuit *circuit, int i)
{
	return circuit->value[shown[i].seen] -
	       (shown[i].less < 0 ? 0 : circuit->value[shown[i].less]);
}

void circuit_keep_shown(const struct circuit *circuit, const double *mean,
                       double covariance[GAUSS_SIZE][GAUSS_SIZE], struct hypothesis *hypothesis)
{
	for (int i = 0; i < SHOWN_COUNT; i++) {
		if (!is_shown(circuit, i))
			continue;
		int a = circuit->row_of[shown[i].seen];
		double variance = covariance[a][a];
		hypothesis->shown_mean[i] = mean[shown[i].seen];
		if (shown[i].less >= 0) {
			int b = circuit->row_of[shown[i].less];
			hypothesis->shown_mean[i] -= mean[shown[i].less];
			variance += covariance[b][b] - 2 * (a > b ? covariance[a][b] : covariance[b][a]);
		}
		hypothesis->shown_sd[i] = sqrt(variance);
	}
}

/* A shown mean in the figure's own unit. */
static double shown_as_figure(const struct view *view, const struct circuit *circuit, int i,
                              double mean)
{
	double tons = view_number(view, READING_NOMINAL_CAPACITY);
	double entering = view_figure(view, FIGURE_RETURN_ENTHALPY);

	switch (shown[i].seen) {
	case SEEN_SUCTION:
	case SEEN_SUPPLY:
		return circuit->weather.value.return_f - mean;
	case SEEN_LIQUID:
		return shown[i].less < 0 ? mean - circuit->weather.value.outdoor_f : mean;
	case SEEN_AMPS:
		return 100 * exp(mean / 100);
	case SEEN_AIRFLOW:
		return 400 * tons * exp(mean / 100);
	case SEEN_ENTHALPY:
		return entering - mean;
	case SEEN_BEND:
		return mean + circuit->value[SEEN_LIQUID] + circuit_half_glide(view);
	case SEEN_STANDING:
		return circuit_as_typed(view, SEEN_STANDING, mean);
	default:
		return mean;
	}
}

/* What a sound unit shows; healthy explanations come first in each kind. */
static double shown_expected(const struct view *view, const struct circuit *circuit, int i)
{
	return shown_as_figure(view, circuit, i, circuit->list[0].shown_mean[i]);
}

/* How likely one shown value is with and without the fault, severities as believed. */
static double leaning(const struct circuit *circuit, int i, enum fault fault)
{
	double with = 0, without = 0, with_weight = 0, without_weight = 0;
	double value = shown_value(circuit, i);

	for (int h = 0; h < circuit->count; h++) {
		const struct hypothesis *hypothesis = &circuit->list[h];
		double density = density_tailed(value, hypothesis->shown_mean[i],
		                                hypothesis->shown_sd[i]);
		double weight = hypothesis->prior;
		if (hypothesis_has(hypothesis, fault)) {
			with += weight * density;
			with_weight += weight;
		} else {
			without += weight * density;
			without_weight += weight;
		}
	}
	if (with_weight <= 0 || without_weight <= 0)
		return 0;
	return log10((with / with_weight + 1e-12) / (without / without_weight + 1e-12));
}

void circuit_compare_own(struct circuit *circuit)
{
	const struct hypothesis *healthy = &circuit->list[0];

	circuit->own_count = 0;
	for (int i = 0; i < SHOWN_COUNT; i++) {
		if (!is_shown(circuit, i) || shown[i].seen == SEEN_STANDING)
			continue;
		double difference = shown_value(circuit, i) - healthy->shown_mean[i];
		double spread = 1.96 * healthy->shown_sd[i];
		bool turned = shown[i].seen == SEEN_SUCTION || shown[i].seen == SEEN_SUPPLY ||
		              shown[i].seen == SEEN_ENTHALPY;
		if (shown[i].seen == SEEN_AMPS || shown[i].seen == SEEN_AIRFLOW)
			continue;
		circuit->own[circuit->own_count++] = (struct own_difference){
			.figure = shown[i].figure, .reading = shown[i].reading,
			.difference = turned ? -difference : difference, .plus_minus = spread,
			.visits = circuit->past_visits,
		};
	}
}

/*
 * Whether what a sound unit shows may be told.  On an orifice superheat follows
 * weather and load: without both, or the unit's own chart, there is no target to
 * tell.  Any share of RLA from 50 to 100 % is some sound unit's, common practice.
 */
static bool has_expected(const struct view *view, const struct circuit *circuit, int i,
                         double value)
{
	bool is_valve = metering_is_valve(view_choice(view, READING_METERING));

	if (shown[i].figure == FIGURE_RLA_SHARE)
		return value < 50 || value > 100;
	return shown[i].figure != FIGURE_SUPERHEAT || is_valve ||
	       (circuit->weather.taken[0] && circuit->weather.taken[2]) ||
	       !isnan(view_number(view, READING_TARGET_SUPERHEAT_CHART));
}

int circuit_evidence(const struct view *view, const struct circuit *circuit, enum fault fault,
                     struct evidence *evidence, int most)
{
	int count = 0;

	for (int i = 0; i < SHOWN_COUNT && count < most; i++) {
		bool is_figure = shown[i].figure != FIGURE_NONE;
		double value = is_figure ? view_figure(view, shown[i].figure)
		                         : view_number(view, shown[i].reading);
		if (!circuit->ran || !is_shown(circuit, i) || isnan(value))
			continue;
		double expected = shown_expected(view, circuit, i);
		/* The model lets superheat run on below zero; a unit shows none there. */
		if (shown[i].figure == FIGURE_SUPERHEAT && expected < 0)
			expected = 0;
		evidence[count++] = (struct evidence){
			.figure = shown[i].figure, .reading = shown[i].reading, .value = value,
			.plus_minus = is_figure ? view->set->values[shown[i].figure].plus_minus
			                        : reading_accuracy(shown[i].reading, value),
			.has_expected = !isnan(expected) && has_expected(view, circuit, i, value),
			.expected = expected,
			.leans = leaning(circuit, i, fault),
		};
	}
	for (int i = 0; i < circuit->air_clues.count && count < most; i++) {
		const struct clue *clue = &circuit->air_clues.list[i];
		if (fault != FAULT_LOW_INDOOR_AIRFLOW)
			break;
		evidence[count++] = (struct evidence){
			.figure = clue->figure, .reading = clue->reading, .value = clue->value,
			.plus_minus = clue->plus_minus, .expected = NAN,
			.leans = log10(clue->likelihood[1] / clue->likelihood[0]),
		};
	}
	return count;
}
