/*
 * What was seen of a circuit: readings and figures in the measure in which
 * they are compared, each with its instrument's error.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include <padside/calc/barometer.h>
#include <padside/calc/refrigerant.h>

#include "diagnose/density.h"

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

	if (in->status == STATUS_OK && out->status == STATUS_OK)
		see(circuit, SEEN_ENTHALPY, in->value - out->value, hypot(in->plus_minus, out->plus_minus));
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
		[SEEN_AIRFLOW] = 4, [SEEN_ENTHALPY] = 0.5, [SEEN_DRIER] = 0.6, [SEEN_BEND] = 0.7,
		[SEEN_STANDING] = 0.8, [SEEN_LEAVING] = 0.7, [SEEN_OUTDOOR] = 0.5, [SEEN_RETURN] = 0.5,
		[SEEN_WET_BULB] = 0.5,
	};

	memcpy(circuit->sd, usual, sizeof usual);
}

static bool find_refrigerant(const struct view *view, enum refrigerant *refrigerant)
{
	enum choice choice = view_choice(view, READING_REFRIGERANT);

	return choice != CHOICE_NONE && refrigerant_from_name(choice_key(choice), refrigerant);
}

static double absolute(const struct view *view, double gauge)
{
	double altitude = view_number(view, READING_ALTITUDE), air;

	if (barometric_pressure_psia(isnan(altitude) ? 0 : altitude, &air) != STATUS_OK)
		return NAN;
	return gauge + air;
}

double circuit_half_glide(const struct view *view)
{
	enum refrigerant refrigerant;
	double psia = absolute(view, view_number(view, READING_LIQUID_PRESSURE)), dew, bubble;

	if (isnan(psia) || !find_refrigerant(view, &refrigerant) ||
	    refrigerant_dew_temp(refrigerant, psia, &dew) != STATUS_OK ||
	    refrigerant_bubble_temp(refrigerant, psia, &bubble) != STATUS_OK)
		return 0;
	return 0.5 * (dew - bubble);
}

/* A return bend half-way through condensing: less half the glide it would be the bubble point. */
static void see_bend(const struct view *view, struct circuit *circuit)
{
	double bend = view_number(view, READING_CONDENSER_BEND_TEMP);

	see(circuit, SEEN_BEND, bend - circuit_half_glide(view),
	    reading_accuracy(READING_CONDENSER_BEND_TEMP, bend));
}

/* At rest and as warm as its air, a sound circuit stands at the saturation of that air. */
static void see_standing(const struct view *view, struct circuit *circuit)
{
	double pressure = view_number(view, READING_STANDING_PRESSURE);
	double temp = view_number(view, READING_STANDING_TEMP), dew, more;
	double error = reading_accuracy(READING_STANDING_PRESSURE, pressure);
	enum refrigerant refrigerant;

	if (isnan(pressure) || isnan(temp) || !find_refrigerant(view, &refrigerant) ||
	    refrigerant_dew_temp(refrigerant, absolute(view, pressure), &dew) != STATUS_OK ||
	    refrigerant_dew_temp(refrigerant, absolute(view, pressure + error), &more) != STATUS_OK)
		return;
	see(circuit, SEEN_STANDING, dew - temp,
	    hypot(more - dew, reading_accuracy(READING_STANDING_TEMP, temp)));
}

/* The suction line comes last: where it may be flooded, it is judged apart. */
static void list_rows(struct circuit *circuit)
{
	for (int i = 0; i <= CIRCUIT_SEEN; i++) {
		int seen = i < CIRCUIT_SEEN ? i : SEEN_SUCTION_LINE;
		if (!circuit->taken[seen] || (i == SEEN_SUCTION_LINE))
			continue;
		circuit->row_of[seen] = circuit->taken_count;
		circuit->rows[circuit->taken_count++] = seen;
	}
}

/* Amps by themselves are about the motor: they say something of a circuit that is read as well. */
static void forget_lone_amps(struct circuit *circuit)
{
	for (int i = 0; i < CIRCUIT_SEEN; i++)
		if (circuit->taken[i] && i != SEEN_AMPS)
			return;
	circuit->taken[SEEN_AMPS] = false;
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
	see_bend(view, circuit);
	see_standing(view, circuit);
	see_reading(view, circuit, SEEN_LEAVING, READING_CONDENSER_LEAVING_DB);
	if (amps->status == STATUS_OK && !inverter)
		see_share(circuit, SEEN_AMPS, amps->value / 100, amps->plus_minus / 100);
	if (air->status == STATUS_OK && tons > 0)
		see_share(circuit, SEEN_AIRFLOW, air->value / (400 * tons), air->plus_minus / (400 * tons));
	see_enthalpy(view, circuit);
	forget_lone_amps(circuit);
	list_rows(circuit);
	for (int w = 0; w < 3; w++)
		circuit->taken[SEEN_OUTDOOR + w] = circuit->weather.taken[w];
}

/*
 * On an iced coil no reading holds, and on an inverter none without the speed:
 * superheat and subcooling move with it.  No verdict is better than a wrong one.
 */
static bool can_be_judged(const struct view *view)
{
	bool inverter = view_choice(view, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER;

	return !view_answers(view, READING_COIL_CONDITION, CHOICE_COIL_ICED) &&
	       (!inverter || view_number(view, READING_CAPACITY_PERCENT) >= 85);
}

/* Whether readings were taken on a unit whose fan and compressor ran. */
static bool circuit_ran(const struct view *view)
{
	enum choice fan = view_choice(view, READING_FAN_STATE);

	return can_be_judged(view) && visit_circuit_ran(view->visit, view->stage) &&
	       (fan == CHOICE_NONE || fan == CHOICE_MOTOR_STATE_RUNS ||
	        view_choice(view, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_HUMS ||
	        view_choice(view, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_SILENT);
}

/* The table was made in usual weather; beyond it, it is less sure. */
static double weather_doubt(const struct weather *weather)
{
	double beyond = fmax(0, 57 - weather->wet_bulb_f) + fmax(0, weather->wet_bulb_f - 74) +
	                0.5 * fmax(0, 65 - weather->outdoor_f) +
	                0.5 * fmax(0, weather->outdoor_f - 110);

	return 1 + 0.05 * fmin(beyond, 20);
}

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
	double limit = view_number(view, READING_STATIC_LIMIT);

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (view_choice(view, rows[i].reading) == rows[i].choice)
			add_air_clue(circuit, FIGURE_NONE, rows[i].reading, (double)rows[i].choice, 0,
			             rows[i].no, rows[i].yes);
	if (total->status == STATUS_OK) {
		/* Against what this blower is made for; the usual rating point is 0.5 in. w.c. */
		double pressure = isnan(limit) ? total->value : total->value * 0.5 / limit;
		double usual = density_tailed(pressure, 0.5, 0.15);
		add_air_clue(circuit, FIGURE_TOTAL_EXTERNAL_STATIC, READING_NONE, total->value,
		             total->plus_minus, usual,
		             0.5 * usual + 0.5 * density_tailed(pressure, 0.8, 0.2));
	}
	if (!isnan(drop)) {
		double usual = density_tailed(drop, 0.14, 0.06);
		add_air_clue(circuit, FIGURE_NONE, READING_FILTER_DROP, drop,
		             reading_accuracy(READING_FILTER_DROP, drop), usual,
		             0.6 * usual + 0.4 * density_tailed(drop, 0.4, 0.15));
	}
}

void circuit_see(const struct view *view, struct circuit *circuit)
{
	enum choice metering = view_choice(view, READING_METERING);
	double minutes = view_number(view, READING_RUNNING_MINUTES);
	bool inverter = view_choice(view, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER;

	memset(circuit, 0, offsetof(struct circuit, scenes));
	circuit->ran = circuit_ran(view);
	expected_weather(view, &circuit->weather);
	for (int kind = 0; kind < 2; kind++)
		expected_machine(view, kind == 1, &circuit->machines[kind]);
	circuit->share[1] = metering == CHOICE_NONE ? 0.6 : metering_is_valve(metering) ? 1 : 0;
	circuit->share[0] = 1 - circuit->share[1];
	/* 15 minutes of steady running before readings count (RA3.2). */
	circuit->spread_scale = (minutes < 15 ? 1 + 0.06 * (15 - minutes) : 1) *
	                        (inverter ? 1.5 : 1) * weather_doubt(&circuit->weather.value);
	set_usual_errors(circuit);
	if (circuit->ran)
		see_all(view, circuit);
	collect_air_clues(view, circuit);
}
