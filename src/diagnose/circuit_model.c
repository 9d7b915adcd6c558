/*
 * The model of a circuit: where every reading would lie under an explanation,
 * and how widely.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <string.h>

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
	slopes->by[SEEN_DISCHARGE][MOVED_SUPERHEAT] = gas.by_superheat *
	                                              (superheat_slope + flooding_slope);
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

const struct movements *circuit_movements(enum fault fault, bool has_valve)
{
	return has_valve ? &fault_info(fault)->valve : &fault_info(fault)->orifice;
}

/* Adds a fault's movement, and the square of its spread. */
static void move(enum fault fault, double severity, bool mild, bool has_valve, double *moved,
                 double *variance)
{
	const struct movements *by = circuit_movements(fault, has_valve);

	for (int i = 0; i < MOVED_COUNT; i++) {
		double shift = by->early[i] * severity + by->late[i] * fmax(severity - FAULT_KNEE, 0);
		if (mild && i == MOVED_SUPERHEAT)
			shift = by->mild_superheat * severity;
		moved[i] += shift;
		variance[i] += fault_spread[i] * fault_spread[i] * shift * shift;
	}
}


void circuit_set_scene(struct circuit *circuit, int kind)
{
	static const double nothing[MOVED_COUNT] = { 0 };
	const struct weather *spread = &circuit->weather.spread;
	const double steps[3] = { spread->outdoor_f, spread->return_f, spread->wet_bulb_f };
	double base[SEEN_COUNT], shifted[SEEN_COUNT];
	const struct machine *machine = &circuit->machines[kind];
	struct scene *scene = &circuit->scenes[kind];

	predict(machine, &circuit->healthy[kind], &circuit->weather.value, nothing, base, NULL);
	for (int w = 0; w < 3; w++) {
		struct weather other = circuit->weather.value;
		struct healthy healthy;
		*(w == 0 ? &other.outdoor_f : w == 1 ? &other.return_f : &other.wet_bulb_f) += steps[w];
		expected_healthy(machine, &other, &healthy);
		predict(machine, &healthy, &other, nothing, shifted, NULL);
		for (int i = 0; i < SEEN_COUNT; i++)
			scene->by_weather[i][w] = shifted[i] - base[i];
	}
	for (int i = 0; i < MOVED_COUNT; i++)
		scene->variance[i] = machine_spread[kind][i] * machine_spread[kind][i];
	scene->variance[MOVED_CONDENSER] = pow(machine->condenser_spread_f, 2);
	scene->variance[MOVED_SUBCOOLING] = pow(machine->subcooling_spread_f, 2);
	/* How far a flooded machine is from showing superheat nobody charts. */
	double flooded = 0.4 * fmax(-circuit->healthy[kind].superheat_f, 0);
	scene->variance[MOVED_SUPERHEAT] += flooded * flooded;
	for (int i = 0; i < MOVED_COUNT; i++)
		scene->variance[i] *= circuit->spread_scale * circuit->spread_scale;
}

void circuit_explain(const struct circuit *circuit, const struct hypothesis *hypothesis,
                     const int *rows, int n, double *mean,
                     double covariance[GAUSS_SIZE][GAUSS_SIZE])
{
	enum { WAYS = MOVED_COUNT + 5 };
	const struct machine *machine = &circuit->machines[hypothesis->kind];
	const struct scene *scene = &circuit->scenes[hypothesis->kind];
	bool has_valve = machine->has_valve;
	double moved[MOVED_COUNT] = { 0 }, spread[MOVED_COUNT], ways[SEEN_COUNT][WAYS];
	const struct movements *charge = circuit_movements(FAULT_UNDERCHARGE, has_valve);
	const struct movements *airflow = circuit_movements(FAULT_LOW_INDOOR_AIRFLOW, has_valve);
	struct slopes slopes;

	memcpy(spread, scene->variance, sizeof spread);
	if (hypothesis->first == FAULT_COUNT) {
		for (int i = 0; i < MOVED_COUNT; i++)
			spread[i] += unknown_spread[i] * unknown_spread[i];
	} else if (hypothesis->first != FAULT_NONE) {
		move(hypothesis->first, hypothesis->severity[0], hypothesis->mild, has_valve, moved, spread);
		if (hypothesis->second != FAULT_NONE)
			move(hypothesis->second, hypothesis->severity[1], false, has_valve, moved, spread);
	}
	for (int k = 0; k < MOVED_COUNT; k++)
		spread[k] = sqrt(spread[k]);
	predict(machine, &circuit->healthy[hypothesis->kind], &circuit->weather.value, moved, mean,
	        &slopes);

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
