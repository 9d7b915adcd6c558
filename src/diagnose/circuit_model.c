/*
 * The model of a circuit: where every reading would lie under an explanation,
 * and how widely.
 *
 * The table (circuit_table.h) is in coordinates in which units compare well:
 * superheat, subcooling, condensing over outdoor.  What is read is a sum of a
 * few of them, so that the error of one gauge is counted once, however many
 * figures it enters.
 */
#include "diagnose/circuit_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/*
 * The model is a model: another unit's healthy readings may lie so far from
 * the table's for no fault at all, one standard deviation.  1 to 2 °F where
 * physics fixes the reading, more where workmanship and nameplates come in.
 * RLA is a rating, not a usual load: 50 to 90 % of it is usual (common
 * practice), two deviations of the table's units and this doubt together.
 */
const double circuit_doubt[COORDINATE_COUNT] = {
	[COORDINATE_SUCTION] = 1.2, [COORDINATE_SUPERHEAT] = 2, [COORDINATE_CONDENSING] = 2.3,
	[COORDINATE_SUBCOOLING] = 1, [COORDINATE_DISCHARGE] = 9, [COORDINATE_SPLIT] = 1.3,
	[COORDINATE_AMPS] = 8, [COORDINATE_AIRFLOW] = 3, [COORDINATE_ENTHALPY] = 0.3,
	[COORDINATE_DRIER] = 0.4, [COORDINATE_BEND] = 0.7, [COORDINATE_STANDING] = 0.6,
	[COORDINATE_LEAVING] = 2.8,
};

/* How widely an unknown cause may scatter things, one standard deviation. */
static const double unknown_spread[COORDINATE_COUNT] = {
	[COORDINATE_SUCTION] = 12, [COORDINATE_SUPERHEAT] = 14, [COORDINATE_CONDENSING] = 14,
	[COORDINATE_SUBCOOLING] = 9, [COORDINATE_DISCHARGE] = 25, [COORDINATE_SPLIT] = 7,
	[COORDINATE_AMPS] = 20, [COORDINATE_AIRFLOW] = 30, [COORDINATE_ENTHALPY] = 3,
	[COORDINATE_DRIER] = 3, [COORDINATE_BEND] = 4, [COORDINATE_STANDING] = 6,
	[COORDINATE_LEAVING] = 8,
};

/*
 * And another unit's fault may move a reading by so much more or less than the
 * table's, as a share of the movement.
 */
static const double shift_doubt = 0.2;

/*
 * Two faults at once: how widely units lie about the sum of both shifts, as a
 * share of both covariances together.  Measured on the bench's pairs.
 */
static const double pair_share = 0.5;

static void add_term(struct row_sum *sum, enum coordinate coordinate, double factor)
{
	sum->coordinate[sum->count] = (int)coordinate;
	sum->factor[sum->count++] = factor;
}

static void sum_discharge(const struct machine *machine, struct row_sum *sum)
{
	const struct discharge *cycle = expected_discharge(machine->refrigerant);

	add_term(sum, COORDINATE_DISCHARGE, 1);
	add_term(sum, COORDINATE_CONDENSING, 1 + cycle->by_lift);
	add_term(sum, COORDINATE_SUCTION, -cycle->by_lift);
	add_term(sum, COORDINATE_SUPERHEAT, cycle->by_superheat);
	sum->air[0] = 1 + cycle->by_lift;
	sum->constant = cycle->at_70 - 70 * cycle->by_lift - 10 * cycle->by_superheat;
}

static void find_sum(const struct machine *machine, int row, struct row_sum *sum)
{
	static const enum coordinate alone[SEEN_COUNT] = {
		[SEEN_SUCTION] = COORDINATE_SUCTION, [SEEN_SUCTION_LINE] = COORDINATE_SUPERHEAT,
		[SEEN_LIQUID] = COORDINATE_CONDENSING, [SEEN_LIQUID_LINE] = COORDINATE_SUBCOOLING,
		[SEEN_SUPPLY] = COORDINATE_SPLIT, [SEEN_AMPS] = COORDINATE_AMPS,
		[SEEN_AIRFLOW] = COORDINATE_AIRFLOW, [SEEN_ENTHALPY] = COORDINATE_ENTHALPY,
		[SEEN_DRIER] = COORDINATE_DRIER, [SEEN_BEND] = COORDINATE_BEND,
		[SEEN_STANDING] = COORDINATE_STANDING, [SEEN_LEAVING] = COORDINATE_LEAVING,
	};

	memset(sum, 0, sizeof *sum);
	switch (row) {
	case ROW_SUPERHEAT:
		add_term(sum, COORDINATE_SUPERHEAT, 1);
		return;
	case SEEN_DISCHARGE:
		sum_discharge(machine, sum);
		return;
	case SEEN_OUTDOOR:
	case SEEN_RETURN:
	case SEEN_WET_BULB:
		sum->air[row - SEEN_OUTDOOR] = 1;
		return;
	default:
		break;
	}
	bool off = row == SEEN_LIQUID_LINE || row == SEEN_SUPPLY;
	add_term(sum, alone[row], off ? -1 : 1);
	if (row == SEEN_SUCTION_LINE)
		add_term(sum, COORDINATE_SUCTION, 1);
	if (row == SEEN_LIQUID_LINE || row == SEEN_BEND)
		add_term(sum, COORDINATE_CONDENSING, 1);
	sum->air[0] = row == SEEN_LIQUID || row == SEEN_LIQUID_LINE || row == SEEN_BEND ||
	              row == SEEN_LEAVING;
	sum->air[1] = row == SEEN_SUPPLY;
}

static double sum_up(const struct row_sum *sum, const struct weather *weather,
                     const double *coordinates)
{
	double value = sum->constant + sum->air[0] * weather->outdoor_f +
	               sum->air[1] * weather->return_f + sum->air[2] * weather->wet_bulb_f;

	for (int t = 0; t < sum->count; t++)
		value += sum->factor[t] * coordinates[sum->coordinate[t]];
	return value;
}

static double at(const double *lower, int i, int k)
{
	return (i > k ? lower[i * (i + 1) / 2 + k] : lower[k * (k + 1) / 2 + i]);
}

void circuit_across(const struct machine *machine, int row, const double *covariance,
                    double *across)
{
	struct row_sum sum;

	find_sum(machine, row, &sum);
	for (int k = 0; k < COORDINATE_COUNT; k++) {
		across[k] = 0;
		for (int t = 0; t < sum.count; t++)
			across[k] += sum.factor[t] * at(covariance, sum.coordinate[t], k);
	}
}

/* What is not known of weather and nameplate, in one row; one sd of each. */
static void sum_ways(const struct row_sum *sum, const struct outlook_source *source,
                     const struct weather *spread, double *ways)
{
	ways[0] = sum->air[0] * spread->outdoor_f;
	ways[1] = sum->air[1] * spread->return_f;
	ways[2] = sum->air[2] * spread->wet_bulb_f;
	ways[3] = ways[4] = 0;
	for (int t = 0; t < sum->count; t++)
		for (int w = 0; w < WAY_COUNT; w++)
			ways[w] += sum->factor[t] * source->ways[sum->coordinate[t]][w];
}

/* Covariance of sums of the coordinates whose own is `covariance`; lower half by row. */
static void project(const struct row_sum *sums, int n, const double *covariance, double *lower)
{
	for (int r = 0; r < n; r++)
		for (int c = 0; c <= r; c++) {
			const struct row_sum *a = &sums[r], *b = &sums[c];
			double sum = 0;
			for (int t = 0; t < a->count; t++)
				for (int u = 0; u < b->count; u++)
					sum += a->factor[t] * b->factor[u] *
					       at(covariance, a->coordinate[t], b->coordinate[u]);
			*lower++ = sum;
		}
}

/* Covariance that weather, nameplate and instruments bring; lower half by row. */
static void project_fixed(const struct outlook_source *source, const struct weather *spread,
                          const struct row_sum *sums, const int *rows, int n, double *lower)
{
	double ways[GAUSS_SIZE][WAY_COUNT];

	for (int r = 0; r < n; r++) {
		sum_ways(&sums[r], source, spread, ways[r]);
		for (int c = 0; c <= r; c++) {
			*lower = 0;
			for (int w = 0; w < WAY_COUNT; w++)
				*lower += ways[r][w] * ways[c][w];
			if (c == r && rows[r] != ROW_SUPERHEAT)
				*lower += source->sd[rows[r]] * source->sd[rows[r]];
			lower++;
		}
	}
}

void circuit_project(const struct outlook_source *source, const struct weather *spread,
                     const int *rows, int n, double *mean,
                     double covariance[GAUSS_SIZE][GAUSS_SIZE])
{
	struct row_sum sums[GAUSS_SIZE] = { { 0 } };
	double fixed[OUTLINE_LOWER], units[OUTLINE_LOWER];

	for (int r = 0; r < n; r++) {
		find_sum(source->machine, rows[r], &sums[r]);
		mean[rows[r]] = sum_up(&sums[r], source->weather, source->mean);
	}
	project(sums, n, source->covariance, units);
	project_fixed(source, spread, sums, rows, n, fixed);
	for (int r = 0, i = 0; r < n; r++)
		for (int c = 0; c <= r; c++, i++)
			covariance[r][c] = units[i] + fixed[i];
}

/* ---- The healthy unit ---- */

static double clamp(double x, double low, double high)
{
	return fmin(fmax(x, low), high);
}

void circuit_features(const struct machine *machine, const struct weather *weather, int kind,
                      double *features)
{
	double hot = (clamp(weather->outdoor_f, 55, 120) - 95) / 10;
	double moist = (clamp(expected_working_wet_bulb(weather), 48, 80) - 67) / 5;

	features[0] = 1;
	features[1] = hot;
	features[2] = moist;
	features[3] = (clamp(weather->return_f, 55, 95) - 78) / 5;
	features[4] = hot * hot;
	features[5] = moist * moist;
	features[6] = hot * moist;
	features[7] = (machine->condenser_f - 17.5) / 5;
	features[8] = machine->altitude_ft / 5000;
	features[9] = kind == 1 ? (machine->subcooling_f - 10) / 3 : 0;
}

static const double *refrigerant_offsets(const struct circuit_norm *norm, enum choice refrigerant)
{
	switch ((int)refrigerant) {
	case CHOICE_REFRIGERANT_R410A: return norm->offsets[CIRCUIT_R410A];
	case CHOICE_REFRIGERANT_R22: return norm->offsets[CIRCUIT_R22];
	case CHOICE_REFRIGERANT_R454B: return norm->offsets[CIRCUIT_R454B];
	case CHOICE_REFRIGERANT_R32: return norm->offsets[CIRCUIT_R32];
	case CHOICE_REFRIGERANT_R407C: return norm->offsets[CIRCUIT_R407C];
	default: return NULL;
	}
}

void circuit_norm_mean(const struct machine *machine, int kind, const double *features,
                       double *mean)
{
	const struct circuit_norm *norm = &circuit_norms[kind];
	const double *offsets = refrigerant_offsets(norm, machine->refrigerant);

	for (int i = 0; i < COORDINATE_COUNT; i++) {
		mean[i] = offsets ? offsets[i] : 0;
		for (int f = 0; f < CIRCUIT_FEATURES; f++)
			mean[i] += norm->base[i][f] * features[f];
	}
	if (kind == 0 && !isnan(machine->superheat_f))
		mean[COORDINATE_SUPERHEAT] = machine->superheat_f;
}

void circuit_set_ways(const struct machine *machine, const struct weather_known *weather, int kind,
                      const double *mean, double ways[COORDINATE_COUNT][WAY_COUNT])
{
	for (int w = 0; w < WAY_COUNT; w++) {
		struct weather other = weather->value;
		struct machine unlike = *machine;
		double features[CIRCUIT_FEATURES], moved[COORDINATE_COUNT];
		double *const knobs[WAY_COUNT] = { &other.outdoor_f, &other.return_f, &other.wet_bulb_f,
		                                   &unlike.condenser_f, &unlike.subcooling_f };
		const double steps[WAY_COUNT] = { weather->spread.outdoor_f, weather->spread.return_f,
		                                  weather->spread.wet_bulb_f, machine->condenser_spread_f,
		                                  machine->subcooling_spread_f };
		*knobs[w] += steps[w];
		circuit_features(&unlike, &other, kind, features);
		circuit_norm_mean(&unlike, kind, features, moved);
		for (int i = 0; i < COORDINATE_COUNT; i++)
			ways[i][w] = moved[i] - mean[i];
	}
}

void circuit_set_scene(struct circuit *circuit, int kind)
{
	struct scene *scene = &circuit->scenes[kind];
	const struct machine *machine = &circuit->machines[kind];
	double scale = circuit->spread_scale * circuit->spread_scale;

	circuit_features(machine, &circuit->weather.value, kind, scene->features);
	circuit_norm_mean(machine, kind, scene->features, scene->mean);
	circuit_set_ways(machine, &circuit->weather, kind, scene->mean, scene->ways);
	for (int c = 0; c < CIRCUIT_CLASSES; c++) {
		const double *from = circuit_classes[kind][c].covariance;
		for (int i = 0; i < LOWER_COUNT; i++)
			scene->covariance[c][i] = scale * from[i];
		for (int i = 0; i < COORDINATE_COUNT; i++) {
			scene->covariance[c][i * (i + 1) / 2 + i] +=
				(scale * circuit_doubt[i] * circuit_doubt[i]);
			scene->shift[c][i] = 0;
			for (int f = 0; f < SHIFT_FEATURES; f++)
				scene->shift[c][i] += circuit_classes[kind][c].shift[i][f] * scene->features[f];
		}
	}
}

/* ---- Explanations ---- */

void circuit_place(const struct circuit *circuit, const struct hypothesis *hypothesis,
                   double *coordinates)
{
	const struct scene *scene = &circuit->scenes[hypothesis->kind];

	for (int i = 0; i < COORDINATE_COUNT; i++)
		coordinates[i] = scene->mean[i] + scene->shift[hypothesis->row[0]][i] +
		                 scene->shift[hypothesis->row[1]][i];
}

static void list_common(struct outline *outline)
{
	outline->common_count = 0;
	for (int r = 0; r < outline->count; r++)
		for (int c = 0; c <= r; c++) {
			const struct row_sum *a = &outline->sums[r], *b = &outline->sums[c];
			for (int t = 0; t < a->count * b->count; t++) {
				int i = t / b->count, k = t % b->count;
				if (a->coordinate[i] != b->coordinate[k])
					continue;
				assert(outline->common_count < OUTLINE_LOWER);
				outline->common[outline->common_count++] = (struct common){
					r, c, a->coordinate[i], a->factor[i] * b->factor[k] };
			}
		}
}

void circuit_outline(const struct circuit *circuit, int kind, const int *rows, int n,
                     struct outline *outline)
{
	struct outlook_source source = {
		.ways = (const double (*)[WAY_COUNT])circuit->scenes[kind].ways, .sd = circuit->sd,
	};

	outline->kind = kind;
	outline->count = n;
	for (int r = 0; r < n; r++) {
		outline->rows[r] = rows[r];
		find_sum(&circuit->machines[kind], rows[r], &outline->sums[r]);
	}
	list_common(outline);
	project_fixed(&source, &circuit->weather.spread, outline->sums, rows, n, outline->fixed);
	memset(outline->has_class, 0, sizeof outline->has_class);
}

static const double *class_covariance(const struct circuit *circuit, struct outline *outline,
                                      int row)
{
	if (!outline->has_class[row])
		project(outline->sums, outline->count, circuit->scenes[outline->kind].covariance[row],
		        outline->of_class[row]);
	outline->has_class[row] = true;
	return outline->of_class[row];
}

/* The doubt of each coordinate about an explanation whose means lie at `coordinates`, squared. */
static void find_doubt(const struct scene *scene, const struct hypothesis *hypothesis,
                       const double *coordinates, double *square)
{
	for (int i = 0; i < COORDINATE_COUNT; i++) {
		double doubt = hypothesis->first == FAULT_COUNT
			? unknown_spread[i] : shift_doubt * (coordinates[i] - scene->mean[i]);
		square[i] = doubt * doubt;
	}
}

void circuit_explain(const struct circuit *circuit, struct outline *outline,
                     const struct hypothesis *hypothesis, double *mean,
                     double covariance[GAUSS_SIZE][GAUSS_SIZE])
{
	const struct scene *scene = &circuit->scenes[hypothesis->kind];
	bool pair = hypothesis->second != FAULT_NONE;
	const double *first = class_covariance(circuit, outline, hypothesis->row[0]);
	const double *second = class_covariance(circuit, outline, hypothesis->row[1]);
	double coordinates[COORDINATE_COUNT], square[COORDINATE_COUNT];

	circuit_place(circuit, hypothesis, coordinates);
	find_doubt(scene, hypothesis, coordinates, square);
	for (int r = 0, i = 0; r < outline->count; r++) {
		mean[outline->rows[r]] = sum_up(&outline->sums[r], &circuit->weather.value, coordinates);
		for (int c = 0; c <= r; c++, i++)
			covariance[r][c] = outline->fixed[i] +
			                   (pair ? pair_share * (first[i] + second[i]) : first[i]);
	}
	for (int i = 0; i < outline->common_count; i++) {
		const struct common *common = &outline->common[i];
		covariance[common->row][common->other] += common->factor * square[common->coordinate];
	}
}

bool hypothesis_has(const struct hypothesis *hypothesis, enum fault fault)
{
	return hypothesis->first == fault || hypothesis->second == fault;
}
