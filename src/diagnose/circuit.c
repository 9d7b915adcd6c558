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
#include "diagnose/circuit.h"

#include <math.h>
#include <string.h>

#include "diagnose/density.h"
#include "diagnose/gauss.h"

enum { CIRCUIT_SEEN = SEEN_OUTDOOR };

/* Degrees of freedom of the joint distribution: a normal one with honest tails. */
static const double freedom = 8;

/* Severities that are summed over, and how often each is met. */
static const struct {
	double severity, share;
} single_severities[] = { { 0.25, 0.18 }, { 0.5, 0.28 }, { 0.85, 0.27 }, { 1.3, 0.17 }, { 1.9, 0.1 } },
  pair_severities[] = { { 0.35, 0.35 }, { 0.8, 0.4 }, { 1.4, 0.25 } };

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

/* How far sound machines differ, one standard deviation, in the order of `enum moved`. */
static const double machine_spread[2][MOVED_COUNT] = {
	{ 2.4, 2.8, 0, 0, 5, 9, 8, 13, 0.5 },
	{ 2.4, 2.6, 0, 0, 5, 9, 8, 13, 0.5 },
};

/* Correct charge and correct airflow are stretches too: as severities of the two faults. */
static const double charge_spread = 0.15, airflow_spread = 0.18;

/*
 * A fault's movements differ between machines by these shares of themselves.
 * Where a restriction sits decides whether the drier shows it at all; what
 * comes back as liquid decides the discharge.
 */
static const double fault_spread[MOVED_COUNT] = {
	0.3, 0.35, 0.3, 0.35, 0.35, 0.25, 0.6, 0.6, 1.0,
};

/* How much of the liquid that floods back reaches the compressor as cold, common practice. */
static const double flooded_share = 0.8;

/* How widely an unknown cause may scatter things. */
static const double unknown_spread[MOVED_COUNT] = { 12, 14, 14, 9, 25, 30, 20, 30, 3 };

/* ---- Means ---- */

/* x where it is above zero, rounded towards 0 below; its slope in *slope. */
static double stop_at_zero(double x, double width, double *slope)
{
	double e = exp(-fabs(x) / width);

	*slope = x > 0 ? 1 / (1 + e) : e / (1 + e);
	return fmax(x, 0) + width * log1p(e);
}

/* How the readings hang on what is moved, at one point. */
struct slopes {
	double by[CIRCUIT_SEEN][MOVED_COUNT];
};

/* The readings of a machine moved by `moved` from healthy, and the slopes there. */
static void predict(const struct machine *machine, const struct healthy *healthy,
                    const struct weather *weather, const double *moved, double *mean,
                    struct slopes *slopes)
{
	double superheat_slope, line_slope, subcooling_slope;
	double suction = healthy->suction_f + moved[MOVED_SUCTION];
	double unstopped = healthy->superheat_f + moved[MOVED_SUPERHEAT];
	double superheat = stop_at_zero(unstopped, 2, &superheat_slope);
	/* Superheat stops at zero, the liquid that then comes back cools the discharge on. */
	double flooding = flooded_share * (superheat - unstopped);
	/* The suction line gets no warmer than the air that warms it. */
	double room = stop_at_zero(weather->return_f + 2 - suction - superheat, 2, &line_slope);
	double line = weather->return_f + 2 - room;
	double condensing = healthy->condensing_f + moved[MOVED_CONDENSER];
	double subcooling = stop_at_zero(healthy->subcooling_f + moved[MOVED_SUBCOOLING], 1.5,
	                                 &subcooling_slope);
	double split = healthy->split_f *
	               exp(0.009 * moved[MOVED_CAPACITY] - 0.0055 * moved[MOVED_AIRFLOW]);
	struct discharge_slopes gas = expected_discharge_slopes(machine);
	/* Full-load share of RLA about 0.74 at 95 °F; the motor's load follows the lift. */
	double amps = -30 + 0.9 * (condensing - 95 - machine->condenser_f) + 0.4 * (suction - 45);
	double drop = 100 * exp((moved[MOVED_CAPACITY] - 0.8 * moved[MOVED_AIRFLOW]) / 100);

	double flooding_slope = flooded_share * (1 - superheat_slope);
	superheat_slope *= line_slope;
	mean[SEEN_SUCTION] = suction;
	mean[SEEN_SUCTION_LINE] = line;
	mean[SEEN_LIQUID] = condensing;
	mean[SEEN_LIQUID_LINE] = condensing - subcooling;
	mean[SEEN_DISCHARGE] = expected_discharge_f(machine, suction, condensing,
	                                            line - suction - flooding) +
	                       moved[MOVED_DISCHARGE];
	mean[SEEN_SUPPLY] = weather->return_f - split;
	mean[SEEN_AMPS] = amps + moved[MOVED_AMPS];
	mean[SEEN_AIRFLOW] = moved[MOVED_AIRFLOW];
	mean[SEEN_ENTHALPY] = drop - 100;
	mean[SEEN_DRIER] = 0.3 + moved[MOVED_DRIER];
	mean[SEEN_OUTDOOR] = weather->outdoor_f;
	mean[SEEN_RETURN] = weather->return_f;
	mean[SEEN_WET_BULB] = weather->wet_bulb_f;

	if (!slopes)
		return;
	memset(slopes, 0, sizeof *slopes);
	slopes->by[SEEN_SUCTION][MOVED_SUCTION] = 1;
	slopes->by[SEEN_SUCTION_LINE][MOVED_SUCTION] = line_slope;
	slopes->by[SEEN_SUCTION_LINE][MOVED_SUPERHEAT] = superheat_slope;
	slopes->by[SEEN_LIQUID][MOVED_CONDENSER] = 1;
	slopes->by[SEEN_LIQUID_LINE][MOVED_CONDENSER] = 1;
	slopes->by[SEEN_LIQUID_LINE][MOVED_SUBCOOLING] = -subcooling_slope;
	slopes->by[SEEN_DISCHARGE][MOVED_SUCTION] = gas.by_suction;
	slopes->by[SEEN_DISCHARGE][MOVED_CONDENSER] = gas.by_condensing;
	slopes->by[SEEN_DISCHARGE][MOVED_SUPERHEAT] = gas.by_superheat * (superheat_slope + flooding_slope);
	slopes->by[SEEN_DISCHARGE][MOVED_DISCHARGE] = 1;
	slopes->by[SEEN_SUPPLY][MOVED_CAPACITY] = -0.009 * split;
	slopes->by[SEEN_SUPPLY][MOVED_AIRFLOW] = 0.0055 * split;
	slopes->by[SEEN_AMPS][MOVED_CONDENSER] = 0.9;
	slopes->by[SEEN_AMPS][MOVED_SUCTION] = 0.4;
	slopes->by[SEEN_AMPS][MOVED_AMPS] = 1;
	slopes->by[SEEN_AIRFLOW][MOVED_AIRFLOW] = 1;
	slopes->by[SEEN_ENTHALPY][MOVED_CAPACITY] = drop / 100;
	slopes->by[SEEN_ENTHALPY][MOVED_AIRFLOW] = -0.8 * drop / 100;
	slopes->by[SEEN_DRIER][MOVED_DRIER] = 1;
}

static const struct movements *movements_of(enum fault fault, bool has_valve)
{
	return has_valve ? &fault_info(fault)->valve : &fault_info(fault)->orifice;
}

/* Adds a fault's movement, and the square of its spread. */
static void move(enum fault fault, double severity, bool has_valve, double *moved,
                 double *variance)
{
	const struct movements *by = movements_of(fault, has_valve);

	for (int i = 0; i < MOVED_COUNT; i++) {
		double shift = by->early[i] * severity + by->late[i] * fmax(severity - FAULT_KNEE, 0);
		moved[i] += shift;
		variance[i] += fault_spread[i] * fault_spread[i] * shift * shift;
	}
}

/* ---- Spreads ---- */

/* What one kind of machine brings to every explanation. */
struct scene {
	const struct circuit *circuit;      /* readings and weather */
	const struct machine *machine;      /* the machine */
	const struct healthy *healthy;      /* what it would show */
	double by_weather[SEEN_COUNT][3];   /* how the readings move with the weather, one sd each */
	double variance[MOVED_COUNT];       /* how machines differ */
};

static void set_scene(const struct circuit *circuit, int kind, struct scene *scene)
{
	static const double nothing[MOVED_COUNT] = { 0 };
	const struct weather *spread = &circuit->weather.spread;
	const double steps[3] = { spread->outdoor_f, spread->return_f, spread->wet_bulb_f };
	double base[SEEN_COUNT], shifted[SEEN_COUNT];

	scene->circuit = circuit;
	scene->machine = &circuit->machines[kind];
	scene->healthy = &circuit->healthy[kind];
	predict(scene->machine, scene->healthy, &circuit->weather.value, nothing, base, NULL);
	for (int w = 0; w < 3; w++) {
		struct weather other = circuit->weather.value;
		struct healthy healthy;
		*(w == 0 ? &other.outdoor_f : w == 1 ? &other.return_f : &other.wet_bulb_f) += steps[w];
		expected_healthy(scene->machine, &other, &healthy);
		predict(scene->machine, &healthy, &other, nothing, shifted, NULL);
		for (int i = 0; i < SEEN_COUNT; i++)
			scene->by_weather[i][w] = shifted[i] - base[i];
	}
	for (int i = 0; i < MOVED_COUNT; i++)
		scene->variance[i] = machine_spread[kind][i] * machine_spread[kind][i];
	scene->variance[MOVED_CONDENSER] = scene->machine->condenser_spread_f *
	                                   scene->machine->condenser_spread_f;
	scene->variance[MOVED_SUBCOOLING] = scene->machine->subcooling_spread_f *
	                                    scene->machine->subcooling_spread_f;
	/* How far a flooded machine is from showing superheat nobody charts. */
	double flooded = 0.4 * fmax(-scene->healthy->superheat_f, 0);
	scene->variance[MOVED_SUPERHEAT] += flooded * flooded;
	for (int i = 0; i < MOVED_COUNT; i++)
		scene->variance[i] *= circuit->spread_scale * circuit->spread_scale;
}

/*
 * Mean and covariance of the `n` things in `rows` under one explanation; the
 * means of all are in `mean`, the lower half of the covariance by row.
 */
static void explain(const struct scene *scene, const struct hypothesis *hypothesis,
                    const int *rows, int n, double *mean,
                    double covariance[GAUSS_SIZE][GAUSS_SIZE])
{
	enum { WAYS = MOVED_COUNT + 5 };
	const struct circuit *circuit = scene->circuit;
	bool has_valve = scene->machine->has_valve;
	double moved[MOVED_COUNT] = { 0 }, spread[MOVED_COUNT], ways[SEEN_COUNT][WAYS];
	const struct movements *charge = movements_of(FAULT_UNDERCHARGE, has_valve);
	const struct movements *airflow = movements_of(FAULT_LOW_INDOOR_AIRFLOW, has_valve);
	struct slopes slopes;

	memcpy(spread, scene->variance, sizeof spread);
	if (hypothesis->first == FAULT_COUNT) {
		for (int i = 0; i < MOVED_COUNT; i++)
			spread[i] += unknown_spread[i] * unknown_spread[i];
	} else if (hypothesis->first != FAULT_NONE) {
		move(hypothesis->first, hypothesis->severity[0], has_valve, moved, spread);
		if (hypothesis->second != FAULT_NONE)
			move(hypothesis->second, hypothesis->severity[1], has_valve, moved, spread);
	}
	for (int k = 0; k < MOVED_COUNT; k++)
		spread[k] = sqrt(spread[k]);
	predict(scene->machine, scene->healthy, &circuit->weather.value, moved, mean, &slopes);

	for (int r = 0; r < n; r++) {
		int i = rows[r];
		double by_charge = 0, by_airflow = 0;
		for (int k = 0; k < MOVED_COUNT; k++) {
			double slope = i < CIRCUIT_SEEN ? slopes.by[i][k] : 0;
			ways[r][k] = slope * spread[k];
			by_charge += slope * charge->early[k];
			by_airflow += slope * airflow->early[k];
		}
		ways[r][MOVED_COUNT] = by_charge * charge_spread;
		ways[r][MOVED_COUNT + 1] = by_airflow * airflow_spread;
		memcpy(&ways[r][MOVED_COUNT + 2], scene->by_weather[i], sizeof scene->by_weather[i]);
		for (int c = 0; c <= r; c++) {
			double sum = r == c ? circuit->sd[i] * circuit->sd[i] : 0;
			for (int k = 0; k < WAYS; k++)
				sum += ways[r][k] * ways[c][k];
			covariance[r][c] = sum;
		}
	}
}

/* ---- What is shown as evidence ---- */

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

static void keep_shown(const struct circuit *circuit, const double *mean,
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

/* What a sound machine shows, in the figure's own unit. */
static double shown_expected(const struct view *view, const struct circuit *circuit, int i)
{
	/* Healthy explanations come first in each kind. */
	double mean = circuit->list[0].shown_mean[i];
	double tons = view_number(view, READING_NOMINAL_CAPACITY);
	double entering = view_figure(view, FIGURE_RETURN_ENTHALPY);
	int kind = circuit->list[0].kind;

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
		return entering - circuit->healthy[kind].enthalpy_drop * (1 + mean / 100);
	default:
		return mean;
	}
}

/* ---- What was seen ---- */

static void see(struct circuit *circuit, enum seen seen, double value, double plus_minus)
{
	if (isnan(value))
		return;
	circuit->value[seen] = value;
	circuit->sd[seen] = fmax(density_sd(plus_minus), 1e-3);
	circuit->taken[seen] = true;
}

static void see_figure(const struct view *view, struct circuit *circuit, enum seen seen,
                       enum figure figure)
{
	see(circuit, seen, view_figure(view, figure), view->set->values[figure].plus_minus);
}

static void see_reading(const struct view *view, struct circuit *circuit, enum seen seen,
                        enum reading reading)
{
	double value = view_number(view, reading);

	if (!isnan(value))
		see(circuit, seen, value, reading_accuracy(reading, value));
}

/* Logarithm of a share, with the instrument's error in the same measure. */
static void see_share(struct circuit *circuit, enum seen seen, double share, double plus_minus)
{
	if (share > 0.02)
		see(circuit, seen, 100 * log(share), 100 * plus_minus / share);
}

static void see_enthalpy(const struct view *view, struct circuit *circuit)
{
	const struct figure_value *in = &view->set->values[FIGURE_RETURN_ENTHALPY];
	const struct figure_value *out = &view->set->values[FIGURE_SUPPLY_ENTHALPY];
	double expected = circuit->healthy[0].enthalpy_drop;

	if (in->status != STATUS_OK || out->status != STATUS_OK)
		return;
	see(circuit, SEEN_ENTHALPY, 100 * ((in->value - out->value) / expected - 1),
	    100 * hypot(in->plus_minus, out->plus_minus) / expected);
}

/*
 * What the instruments that were not used would be off by, so that the next
 * check reckons with it.  Pressures as temperatures, common practice.
 */
static void set_usual_errors(struct circuit *circuit)
{
	static const double usual[SEEN_COUNT] = {
		[SEEN_SUCTION] = 0.6, [SEEN_SUCTION_LINE] = 0.5, [SEEN_LIQUID] = 0.5,
		[SEEN_LIQUID_LINE] = 0.5, [SEEN_DISCHARGE] = 1, [SEEN_SUPPLY] = 0.5, [SEEN_AMPS] = 1.5,
		[SEEN_AIRFLOW] = 4, [SEEN_ENTHALPY] = 9, [SEEN_DRIER] = 0.4, [SEEN_OUTDOOR] = 0.5,
		[SEEN_RETURN] = 0.5, [SEEN_WET_BULB] = 0.5,
	};

	memcpy(circuit->sd, usual, sizeof usual);
}

static void see_all(const struct view *view, struct circuit *circuit)
{
	double tons = view_number(view, READING_NOMINAL_CAPACITY);
	const struct figure_value *amps = &view->set->values[FIGURE_RLA_SHARE];
	const struct figure_value *air = &view->set->values[FIGURE_AIRFLOW_ESTIMATE];
	bool inverter = view_choice(view, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER;

	see_figure(view, circuit, SEEN_SUCTION, FIGURE_SUCTION_SATURATION_TEMP);
	see_figure(view, circuit, SEEN_LIQUID, FIGURE_LIQUID_SATURATION_TEMP);
	see_reading(view, circuit, SEEN_SUCTION_LINE, READING_SUCTION_LINE_TEMP);
	see_reading(view, circuit, SEEN_LIQUID_LINE, READING_LIQUID_LINE_TEMP);
	see_reading(view, circuit, SEEN_DISCHARGE, READING_DISCHARGE_LINE_TEMP);
	see_reading(view, circuit, SEEN_SUPPLY, READING_SUPPLY_DB);
	see_figure(view, circuit, SEEN_DRIER, FIGURE_DRIER_DROP);
	if (amps->status == STATUS_OK && !inverter)
		see_share(circuit, SEEN_AMPS, amps->value / 100, amps->plus_minus / 100);
	if (air->status == STATUS_OK && tons > 0)
		see_share(circuit, SEEN_AIRFLOW, air->value / (400 * tons), air->plus_minus / (400 * tons));
	see_enthalpy(view, circuit);
	for (int i = 0; i < CIRCUIT_SEEN; i++) {
		circuit->row_of[i] = circuit->taken_count;
		if (circuit->taken[i])
			circuit->rows[circuit->taken_count++] = i;
	}
	for (int w = 0; w < 3; w++)
		circuit->taken[SEEN_OUTDOOR + w] = circuit->weather.taken[w];
}

/* Whether readings were taken on a machine whose fan and compressor ran. */
static bool circuit_ran(const struct view *view)
{
	enum choice fan = view_choice(view, READING_FAN_STATE);

	return visit_circuit_ran(view->visit, view->stage) &&
	       (fan == CHOICE_NONE || fan == CHOICE_MOTOR_STATE_RUNS ||
	        view_choice(view, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_HUMS ||
	        view_choice(view, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_SILENT);
}

/* The rules for a healthy machine stand in usual weather; beyond it they are less sure. */
static double weather_doubt(const struct weather *weather)
{
	double beyond = fmax(0, 57 - weather->wet_bulb_f) + fmax(0, weather->wet_bulb_f - 74) +
	                0.5 * fmax(0, 65 - weather->outdoor_f) +
	                0.5 * fmax(0, weather->outdoor_f - 110);

	return 1 + 0.05 * fmin(beyond, 20);
}

static void set_up(const struct view *view, struct circuit *circuit)
{
	enum choice metering = view_choice(view, READING_METERING);
	double minutes = view_number(view, READING_RUNNING_MINUTES);
	bool inverter = view_choice(view, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER;

	memset(circuit, 0, sizeof *circuit);
	circuit->ran = circuit_ran(view);
	expected_weather(view, &circuit->weather);
	for (int kind = 0; kind < 2; kind++) {
		expected_machine(view, kind == 1, &circuit->machines[kind]);
		expected_healthy(&circuit->machines[kind], &circuit->weather.value,
		                 &circuit->healthy[kind]);
	}
	bool valve = metering == CHOICE_METERING_TXV || metering == CHOICE_METERING_EXV;
	circuit->share[1] = metering == CHOICE_NONE ? 0.6 : valve ? 1 : 0;
	circuit->share[0] = 1 - circuit->share[1];
	/* 15 minutes of steady running before readings count (RA3.2). */
	circuit->spread_scale = (minutes < 15 ? 1 + 0.06 * (15 - minutes) : 1) *
	                        (inverter ? 1.5 : 1) * weather_doubt(&circuit->weather.value);
	set_usual_errors(circuit);
	if (circuit->ran)
		see_all(view, circuit);
}

/* ---- Filter, static, blower: about airflow alone ---- */

static void add_air_clue(struct circuit *circuit, enum figure figure, enum reading reading,
                         double value, double plus_minus, double no, double yes)
{
	struct clue *clue = &circuit->air_clues.list[circuit->air_clues.count++];

	*clue = (struct clue){
		.figure = figure, .reading = reading, .value = value, .plus_minus = plus_minus,
		.expected = NAN, .likelihood = { no, yes },
	};
}

static void collect_air_clues(const struct view *view, struct circuit *circuit)
{
	static const struct {
		enum reading reading;
		enum choice choice;
		double no, yes; /* share of calls without and with too little air */
	} rows[] = {
		{ READING_FILTER_CONDITION, CHOICE_FILTER_CLEAN, 0.62, 0.35 },
		{ READING_FILTER_CONDITION, CHOICE_FILTER_LOADED, 0.35, 0.35 },
		{ READING_FILTER_CONDITION, CHOICE_FILTER_BLOCKED, 0.03, 0.30 },
		{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS, 0.998, 0.90 },
		{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_HUMS, 0.0005, 0.04 },
		{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_SILENT, 0.0015, 0.06 },
	};
	const struct figure_value *total = &view->set->values[FIGURE_TOTAL_EXTERNAL_STATIC];
	double drop = view_number(view, READING_FILTER_DROP);

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (view_choice(view, rows[i].reading) == rows[i].choice)
			add_air_clue(circuit, FIGURE_NONE, rows[i].reading, (double)rows[i].choice, 0,
			             rows[i].no, rows[i].yes);
	if (total->status == STATUS_OK) {
		double usual = density_tailed(total->value, 0.5, 0.15);
		add_air_clue(circuit, FIGURE_TOTAL_EXTERNAL_STATIC, READING_NONE, total->value,
		             total->plus_minus, usual,
		             0.5 * usual + 0.5 * density_tailed(total->value, 0.8, 0.2));
	}
	if (!isnan(drop)) {
		double usual = density_tailed(drop, 0.14, 0.06);
		add_air_clue(circuit, FIGURE_NONE, READING_FILTER_DROP, drop,
		             reading_accuracy(READING_FILTER_DROP, drop), usual,
		             0.6 * usual + 0.4 * density_tailed(drop, 0.4, 0.15));
	}
}

/* ---- Explanations ---- */

static bool has_fault(const struct hypothesis *hypothesis, enum fault fault)
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
		for (int s = 0; s < LEVELS; s++)
			add_hypothesis(circuit, (struct hypothesis){
				.first = (enum fault)f, .kind = kind,
				.severity = { single_severities[s].severity },
			}, scale * fault_info((enum fault)f)->prior * single_severities[s].share * share);
	}
	list_pairs(circuit, kind, scale);
	add_hypothesis(circuit, (struct hypothesis){ .first = FAULT_COUNT, .kind = kind },
	               share * unknown_prior);
}

/* ---- Judging ---- */

static double log_likelihood(const struct circuit *circuit, const struct scene *scene,
                             struct hypothesis *hypothesis)
{
	double mean[SEEN_COUNT], left[SEEN_COUNT], covariance[GAUSS_SIZE][GAUSS_SIZE];
	int n = circuit->taken_count;

	explain(scene, hypothesis, circuit->rows, n, mean, covariance);
	keep_shown(circuit, mean, covariance, hypothesis);
	for (int i = 0; i < n; i++)
		left[i] = circuit->value[circuit->rows[i]] - mean[circuit->rows[i]];
	if (n == 0 || !gauss_split(n, covariance))
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
	struct scene scenes[2];
	double best = -INFINITY, sum = 0, air = air_log_ratio(circuit);

	for (int kind = 0; kind < 2; kind++)
		if (circuit->share[kind] > 0)
			set_scene(circuit, kind, &scenes[kind]);
	for (int i = 0; i < circuit->count; i++) {
		struct hypothesis *hypothesis = &circuit->list[i];
		double log_posterior = log(hypothesis->prior) +
			log_likelihood(circuit, &scenes[hypothesis->kind], hypothesis);
		if (has_fault(hypothesis, FAULT_LOW_INDOOR_AIRFLOW))
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
	set_up(view, circuit);
	collect_air_clues(view, circuit);
	for (int kind = 0; kind < 2; kind++)
		if (circuit->share[kind] > 0)
			list_hypotheses(circuit, kind, sound_again ? 0.3 : 1);
	weigh(circuit);
	add_up(circuit);
}

/* ---- Evidence ---- */

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
		if (has_fault(hypothesis, fault)) {
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
		evidence[count++] = (struct evidence){
			.figure = shown[i].figure, .reading = shown[i].reading, .value = value,
			.plus_minus = is_figure ? view->set->values[shown[i].figure].plus_minus
			                        : reading_accuracy(shown[i].reading, value),
			.has_expected = !isnan(expected), .expected = expected,
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

/* ---- What another reading would tell ---- */

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
static void look_ahead(const struct circuit *circuit, const struct scene *scene, const int *rows,
                       int open, struct outlook *outlook)
{
	double mean[SEEN_COUNT], left[SEEN_COUNT], covariance[GAUSS_SIZE][GAUSS_SIZE];
	int n = circuit->taken_count;

	explain(scene, outlook->hypothesis, rows, n + open, mean, covariance);
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
	struct scene scenes[2];
	int rows[SEEN_COUNT], n = circuit->taken_count, open = 0;

	memset(gains, 0, SEEN_COUNT * sizeof *gains);
	if (!circuit->ran)
		return;
	memcpy(rows, circuit->rows, sizeof rows);
	for (int i = 0; i < SEEN_COUNT; i++)
		if (!circuit->taken[i])
			rows[n + open++] = i;
	for (int kind = 0; kind < 2; kind++)
		if (circuit->share[kind] > 0)
			set_scene(circuit, kind, &scenes[kind]);
	int count = pick_leaders(circuit, leaders);
	for (int i = 0; i < count; i++)
		look_ahead(circuit, &scenes[leaders[i].hypothesis->kind], rows, open, &leaders[i]);
	for (int i = n; i < n + open; i++)
		gains[rows[i]] = information(leaders, count, rows[i]);
}
