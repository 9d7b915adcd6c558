/*
 * Measured: what needs no weighing.
 *
 * A row or a rule states a state only where the reading is beyond the limit by
 * more than the instrument's own error.  Where two readings state the opposite
 * of one state neither counts, and the clues weigh them.
 */
#include "diagnose/measured.h"

#include <math.h>
#include <string.h>

/* An answer that is the fault, or rules it out. */
static const struct {
	enum reading reading;
	enum choice choice;
	enum measured_state measured;
	enum state state;
} answers[] = {
	{ READING_CALL_FOR_COOLING, CHOICE_ANSWER_NO, MEASURED_FAULTY, STATE_CONTROL_NO_CALL },
	{ READING_CALL_FOR_COOLING, CHOICE_ANSWER_YES, MEASURED_SOUND, STATE_CONTROL_NO_CALL },
	{ READING_INDOOR_CALL, CHOICE_ANSWER_YES, MEASURED_SOUND, STATE_CONTROL_NO_CALL },
	{ READING_INDOOR_CALL, CHOICE_ANSWER_YES, MEASURED_SOUND, STATE_CONTROL_TRANSFORMER },
	{ READING_INDOOR_CALL, CHOICE_ANSWER_YES, MEASURED_SOUND, STATE_CONTROL_FUSE },
	{ READING_CONTROL_FUSE, CHOICE_FUSE_OPEN, MEASURED_FAULTY, STATE_CONTROL_FUSE },
	{ READING_CONTROL_FUSE, CHOICE_FUSE_SOUND, MEASURED_SOUND, STATE_CONTROL_FUSE },
	{ READING_CONTROL_FUSE, CHOICE_FUSE_NONE, MEASURED_SOUND, STATE_CONTROL_FUSE },
	{ READING_FLOAT_SWITCH, CHOICE_SWITCH_OPEN, MEASURED_FAULTY, STATE_CONTROL_FLOAT },
	{ READING_FLOAT_SWITCH, CHOICE_SWITCH_CLOSED, MEASURED_SOUND, STATE_CONTROL_FLOAT },
	{ READING_FLOAT_SWITCH, CHOICE_SWITCH_NONE, MEASURED_SOUND, STATE_CONTROL_FLOAT },
	{ READING_HIGH_PRESSURE_SWITCH, CHOICE_SWITCH_OPEN, MEASURED_FAULTY,
	  STATE_CONTROL_HIGH_PRESSURE },
	{ READING_HIGH_PRESSURE_SWITCH, CHOICE_SWITCH_CLOSED, MEASURED_SOUND,
	  STATE_CONTROL_HIGH_PRESSURE },
	{ READING_HIGH_PRESSURE_SWITCH, CHOICE_SWITCH_NONE, MEASURED_SOUND,
	  STATE_CONTROL_HIGH_PRESSURE },
	{ READING_LOW_PRESSURE_SWITCH, CHOICE_SWITCH_OPEN, MEASURED_FAULTY,
	  STATE_CONTROL_LOW_PRESSURE },
	{ READING_LOW_PRESSURE_SWITCH, CHOICE_SWITCH_CLOSED, MEASURED_SOUND,
	  STATE_CONTROL_LOW_PRESSURE },
	{ READING_LOW_PRESSURE_SWITCH, CHOICE_SWITCH_NONE, MEASURED_SOUND,
	  STATE_CONTROL_LOW_PRESSURE },
	{ READING_CONTACTOR_PULLED_IN, CHOICE_ANSWER_YES, MEASURED_SOUND, STATE_CONTROL_COIL_OPEN },
	{ READING_CONTACTOR_PULLED_IN, CHOICE_ANSWER_YES, MEASURED_SOUND, STATE_CONTROL_STUCK_OPEN },
	{ READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_BURNT, MEASURED_FAULTY, STATE_CONTACTS_WORN },
	{ READING_TERMINAL_CONDITION, CHOICE_TERMINALS_BROKEN, MEASURED_FAULTY, STATE_LEADS_OPEN },
	{ READING_FILTER_CONDITION, CHOICE_FILTER_BLOCKED, MEASURED_FAULTY, STATE_FILTER_BLOCKED },
	{ READING_FILTER_CONDITION, CHOICE_FILTER_LOADED, MEASURED_FAULTY, STATE_FILTER_LOADED },
	{ READING_FILTER_CONDITION, CHOICE_FILTER_CLEAN, MEASURED_SOUND, STATE_FILTER_BLOCKED },
	{ READING_COIL_CONDITION, CHOICE_COIL_ICED, MEASURED_FAULTY, STATE_COIL_ICED },
	{ READING_COIL_CONDITION, CHOICE_COIL_DIRTY, MEASURED_FAULTY, STATE_COIL_DIRTY },
	{ READING_COIL_CONDITION, CHOICE_COIL_CLEAN, MEASURED_SOUND, STATE_COIL_ICED },
	{ READING_COIL_CONDITION, CHOICE_COIL_CLEAN, MEASURED_SOUND, STATE_COIL_DIRTY },
	{ READING_DRAIN_CONDITION, CHOICE_DRAIN_BLOCKED, MEASURED_FAULTY, STATE_DRAIN_BLOCKED },
	{ READING_DRAIN_CONDITION, CHOICE_DRAIN_SLOW, MEASURED_FAULTY, STATE_DRAIN_SLOW },
	{ READING_DRAIN_CONDITION, CHOICE_DRAIN_FLOWS, MEASURED_SOUND, STATE_DRAIN_BLOCKED },
	{ READING_DRAIN_CONDITION, CHOICE_DRAIN_FLOWS, MEASURED_SOUND, STATE_DRAIN_SLOW },
	{ READING_CONDENSER_CONDITION, CHOICE_CONDENSER_BLOCKED, MEASURED_FAULTY,
	  STATE_CONDENSER_BLOCKED },
	{ READING_CONDENSER_CONDITION, CHOICE_CONDENSER_DIRTY, MEASURED_FAULTY,
	  STATE_CONDENSER_DIRTY },
	{ READING_CONDENSER_CONDITION, CHOICE_CONDENSER_CLEAN, MEASURED_SOUND,
	  STATE_CONDENSER_BLOCKED },
	{ READING_CONDENSER_CONDITION, CHOICE_CONDENSER_CLEAN, MEASURED_SOUND,
	  STATE_CONDENSER_DIRTY },
	{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS, MEASURED_SOUND, STATE_BLOWER_MOTOR_FAILED },
	{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS, MEASURED_SOUND, STATE_BLOWER_MOTOR_MODULE },
	{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS, MEASURED_SOUND, STATE_BLOWER_FEED_OPEN },
	{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS, MEASURED_SOUND, STATE_BLOWER_FEED_NO_VOLTS },
	{ READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS, MEASURED_SOUND, STATE_BLOWER_FEED_NO_CALL },
	{ READING_BLOWER_WINDINGS_ALIKE, CHOICE_ANSWER_NO, MEASURED_FAULTY, STATE_BLOWER_MOTOR_FAILED },
	{ READING_FAN_STATE, CHOICE_MOTOR_STATE_RUNS, MEASURED_SOUND, STATE_FAN_MOTOR_FAILED },
};

/* What a unit that runs cannot have: each stops it. */
static const enum state stops[] = {
	STATE_SUPPLY_NONE, STATE_SUPPLY_NONE_TO_ALL, STATE_CONTROL_NO_CALL, STATE_CONTROL_TRANSFORMER,
	STATE_CONTROL_FUSE, STATE_CONTROL_FLOAT, STATE_CONTROL_HIGH_PRESSURE,
	STATE_CONTROL_LOW_PRESSURE, STATE_CONTROL_NONE, STATE_CONTROL_COMMUNICATION,
	STATE_CONTROL_HELD_OFF, STATE_CONTROL_DRIVE, STATE_CONTROL_COIL_OPEN, STATE_CONTROL_STUCK_OPEN,
	STATE_CONTROL_POLE_OPEN, STATE_LEADS_OPEN,
};

/* Breaks before the contactor coil: none of them is there while its coil has voltage. */
static const enum state before_coil[] = {
	STATE_CONTROL_NO_CALL, STATE_CONTROL_TRANSFORMER, STATE_CONTROL_FUSE, STATE_CONTROL_FLOAT,
	STATE_CONTROL_HIGH_PRESSURE, STATE_CONTROL_LOW_PRESSURE, STATE_CONTROL_NONE,
};

#define COUNT(list) (sizeof(list) / sizeof *(list))

static void state_is(struct measurements *measurements, enum state state,
                     enum measured_state measured)
{
	enum measured_state *now = &measurements->of[state];

	if (*now == MEASURED_NOTHING)
		*now = measured;
	else if (*now != measured)
		*now = MEASURED_NOTHING;
}

/* What only follows from another reading: it never speaks against a measured fault. */
static void rule_out(struct measurements *measurements, const enum state *states, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (measurements->of[states[i]] == MEASURED_NOTHING)
			measurements->of[states[i]] = MEASURED_SOUND;
}

static double error_of(enum reading reading, double number)
{
	return isnan(number) ? 0 : reading_accuracy(reading, number);
}

/* ---- Supply ---- */

/* The maker's range of voltage; without one NEMA MG 1: within ±10 % of the rating. */
static void measure_line(const struct view *view, struct measurements *measurements)
{
	double volts;
	enum reading reading;

	if (!view_line_volts(view, &volts, &reading))
		return;
	double rated = view_rated_volts(view, volts), error = error_of(reading, volts) / rated;
	double share = volts / rated, least = view_least_volts_share(view, rated);
	double most = view_most_volts_share(view, rated);

	enum measured_state none = share < 0.1 ? MEASURED_FAULTY : MEASURED_SOUND;

	state_is(measurements, STATE_SUPPLY_NONE, none);
	state_is(measurements, STATE_SUPPLY_NONE_TO_ALL, none);
	if (share > 0.5 && share + error < least)
		state_is(measurements, STATE_SUPPLY_LOW, MEASURED_FAULTY);
	else if (share - error >= least)
		state_is(measurements, STATE_SUPPLY_LOW, MEASURED_SOUND);
	if (share - error > most)
		state_is(measurements, STATE_SUPPLY_HIGH, MEASURED_FAULTY);
	else if (share + error <= most)
		state_is(measurements, STATE_SUPPLY_HIGH, MEASURED_SOUND);
}

/*
 * Right at rest and more than 15 % down while starting: a sound supply falls
 * less than 10 %, common practice.
 */
static void measure_sag(const struct view *view, struct measurements *measurements)
{
	double sag = view_figure(view, FIGURE_STARTING_SAG);

	if (isnan(sag) || measurements->of[STATE_SUPPLY_LOW] != MEASURED_SOUND)
		return;
	double error = view->set->values[FIGURE_STARTING_SAG].plus_minus;
	if (sag - error > 15)
		state_is(measurements, STATE_SUPPLY_BAD_CONNECTION, MEASURED_FAULTY);
	else if (sag + error < 10)
		state_is(measurements, STATE_SUPPLY_BAD_CONNECTION, MEASURED_SOUND);
}

/*
 * A leg without current beside two that carry it is open.  Volts prove it at
 * rest only: the pair of live legs full, both pairs of the lost one far below.
 */
static void measure_phases(const struct view *view, struct measurements *measurements)
{
	double volts[3], amps[3];

	for (int i = 0; i < 3; i++) {
		volts[i] = view_number(view, (enum reading)((int)READING_LINE_VOLTAGE_AB + i));
		amps[i] = view_number(view, (enum reading)((int)READING_AMPS_A + i));
	}
	double most = fmax(amps[0], fmax(amps[1], amps[2]));
	double least = fmin(amps[0], fmin(amps[1], amps[2]));
	if (!isnan(amps[0] + amps[1] + amps[2]) && most > 1.5)
		state_is(measurements, STATE_SUPPLY_PHASE_LOST,
		         least < 0.08 * most ? MEASURED_FAULTY : MEASURED_SOUND);
	most = fmax(volts[0], fmax(volts[1], volts[2]));
	int far_below = 0;
	for (int i = 0; i < 3; i++)
		far_below += volts[i] < 0.7 * most;
	if (!isnan(volts[0] + volts[1] + volts[2]) && most > 150 && far_below == 2)
		state_is(measurements, STATE_SUPPLY_PHASE_LOST, MEASURED_FAULTY);
}

/* Beside a unit that runs the indoor board has power: what lacks is lost before the motor. */
static void measure_blower_feed(const struct view *view, struct measurements *measurements)
{
	double volts = view_number(view, READING_BLOWER_VOLTS);

	if (volts >= BLOWER_VOLTS_FED)
		state_is(measurements, STATE_BLOWER_FEED_NO_VOLTS, MEASURED_SOUND);
	else if (volts < BLOWER_VOLTS_NONE && view_is_fed(view))
		state_is(measurements, STATE_BLOWER_FEED_NO_VOLTS, MEASURED_FAULTY);
	if (view_answers(view, READING_BLOWER_CALL, CHOICE_ANSWER_YES))
		state_is(measurements, STATE_BLOWER_FEED_NO_CALL, MEASURED_SOUND);
	else if (view_answers(view, READING_BLOWER_CALL, CHOICE_ANSWER_NO) && view_is_fed(view) &&
	         view_answers(view, READING_BLOWER_STATE, CHOICE_MOTOR_STATE_SILENT))
		state_is(measurements, STATE_BLOWER_FEED_NO_CALL, MEASURED_FAULTY);
}

/* ---- Control ---- */

static void measure_control(const struct view *view, struct measurements *measurements)
{
	double primary = view_number(view, READING_TRANSFORMER_PRIMARY);
	double secondary = view_number(view, READING_TRANSFORMER_SECONDARY);
	double at_coil = view_number(view, READING_CONTROL_VOLTAGE);
	double coil = view_number(view, READING_CONTACTOR_COIL_RESISTANCE);
	double load = view_number(view, READING_LOAD_SIDE_VOLTAGE), line;
	bool pulled_in = view_answers(view, READING_CONTACTOR_PULLED_IN, CHOICE_ANSWER_YES);
	enum reading reading;

	if (secondary >= 18)
		state_is(measurements, STATE_CONTROL_TRANSFORMER, MEASURED_SOUND);
	else if (secondary < 5 && primary > 85)
		state_is(measurements, STATE_CONTROL_TRANSFORMER, MEASURED_FAULTY);
	if (at_coil >= 20)
		rule_out(measurements, before_coil, COUNT(before_coil));
	if (view_over_limit(view, READING_CONTACTOR_COIL_RESISTANCE) || coil > 10000)
		state_is(measurements, STATE_CONTROL_COIL_OPEN, MEASURED_FAULTY);
	else if (coil > 2 && coil < 1000)
		state_is(measurements, STATE_CONTROL_COIL_OPEN, MEASURED_SOUND);
	/* Fed and sound, and yet open. */
	if (at_coil >= 20 && coil > 2 && coil < 1000 &&
	    view_answers(view, READING_CONTACTOR_PULLED_IN, CHOICE_ANSWER_NO))
		state_is(measurements, STATE_CONTROL_STUCK_OPEN, MEASURED_FAULTY);
	/* Not fed, and yet closed. */
	if (at_coil < 5 && view_is_fed(view))
		state_is(measurements, STATE_CONTROL_WELDED, MEASURED_FAULTY);
	if (pulled_in && view_line_volts(view, &line, &reading) && line > 90 && load < 0.75 * line)
		state_is(measurements, STATE_CONTROL_POLE_OPEN, MEASURED_FAULTY);
	else if (view_line_volts(view, &line, &reading) && load > 0.9 * line)
		state_is(measurements, STATE_CONTROL_POLE_OPEN, MEASURED_SOUND);
	/* A thermostat behind a break has no power to call with; one that is off may stop a test. */
	if (measurements->of[STATE_CONTROL_TRANSFORMER] == MEASURED_FAULTY ||
	    measurements->of[STATE_CONTROL_FUSE] == MEASURED_FAULTY ||
	    measurements->of[STATE_CONTROL_FLOAT] == MEASURED_FAULTY || view_is_fed(view))
		measurements->of[STATE_CONTROL_NO_CALL] = MEASURED_NOTHING;
}

/*
 * Contacts that drop no more than half a volt under load carry it, pitted or
 * not: what is measured wins over what is seen.  Burnt ones are replaced all
 * the same.  Common practice.
 */
static void measure_contacts(const struct view *view, struct measurements *measurements)
{
	if (!(view_number(view, READING_CONTACTOR_DROP) <= 0.5) ||
	    view_answers(view, READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_BURNT))
		return;
	state_is(measurements, STATE_CONTACTS_PITTED, MEASURED_SOUND);
	state_is(measurements, STATE_CONTACTS_WORN, MEASURED_SOUND);
}

/* ---- Capacitors ---- */

/*
 * With a third of its mark lost a capacitor is called failed, with less weak: common practice.
 * It is a name by the number alone, the same before the work and after; both are replaced.
 */
static const double failed_at_most = 2.0 / 3;

static void measure_capacitor(const struct view *view, struct measurements *measurements,
                              enum reading measured, enum reading rated, enum state good)
{
	/* States in order: good, drifting, weak, failed. */
	enum state drifting = (enum state)((int)good + 1), weak = (enum state)((int)good + 2);
	enum state failed = (enum state)((int)good + 3);
	double value = view_number(view, measured), can = view_number(view, rated);

	if (isnan(value) || !(can > 0))
		return;
	double deviation = 100 * (value / can - 1), error = 100 * error_of(measured, value) / can;
	double tolerance = view_capacitor_tolerance(view);

	if (deviation + error < -tolerance) {
		bool is_failed = value <= failed_at_most * can;
		state_is(measurements, is_failed ? failed : weak, MEASURED_FAULTY);
		state_is(measurements, is_failed ? weak : failed, MEASURED_SOUND);
	} else if (deviation - error >= -tolerance) {
		state_is(measurements, weak, MEASURED_SOUND);
		state_is(measurements, failed, MEASURED_SOUND);
		if (deviation - error >= -0.5 * tolerance)
			state_is(measurements, drifting, MEASURED_SOUND);
	}
}

/* A can that swells or leaks is finished, whatever it still measures. */
static void look_at_can(const struct view *view, struct measurements *measurements)
{
	enum choice can = view_choice(view, READING_CAPACITOR_CONDITION);

	if (can != CHOICE_CAPACITOR_SWOLLEN && can != CHOICE_CAPACITOR_LEAKING)
		return;
	if (measurements->of[STATE_CAPACITOR_FAILED] == MEASURED_FAULTY)
		return;
	measurements->of[STATE_CAPACITOR_WEAK] = MEASURED_FAULTY;
	if (measurements->of[STATE_CAPACITOR_FAILED] != MEASURED_SOUND)
		measurements->of[STATE_CAPACITOR_FAILED] = MEASURED_FAULTY;
}

/* ---- Windings ---- */

/* A pair that reads a resistance clears every opening on its path. */
static void measure_marked(const struct view *view, struct measurements *measurements)
{
	bool cr = view_number(view, READING_COMMON_RUN_RESISTANCE) < 1000;
	bool cs = view_number(view, READING_COMMON_START_RESISTANCE) < 1000;
	bool sr = view_number(view, READING_START_RUN_RESISTANCE) < 1000;
	bool cr_open = view_over_limit(view, READING_COMMON_RUN_RESISTANCE);
	bool cs_open = view_over_limit(view, READING_COMMON_START_RESISTANCE);
	bool sr_open = view_over_limit(view, READING_START_RUN_RESISTANCE);

	if (cr || sr)
		state_is(measurements, STATE_COMPRESSOR_RUN_OPEN, MEASURED_SOUND);
	if (cs || sr)
		state_is(measurements, STATE_COMPRESSOR_START_OPEN, MEASURED_SOUND);
	if (cr || cs) {
		state_is(measurements, STATE_COMPRESSOR_COMMON_OPEN, MEASURED_SOUND);
		state_is(measurements, STATE_COMPRESSOR_OVERLOAD, MEASURED_SOUND);
	}
	if (cr || cs || sr)
		state_is(measurements, STATE_COMPRESSOR_SEVERAL_OPEN, MEASURED_SOUND);
	if (cr_open && cs && sr_open)
		state_is(measurements, STATE_COMPRESSOR_RUN_OPEN, MEASURED_FAULTY);
	if (cr && cs_open && sr_open)
		state_is(measurements, STATE_COMPRESSOR_START_OPEN, MEASURED_FAULTY);
	if (cr_open && cs_open && sr_open)
		state_is(measurements, STATE_COMPRESSOR_SEVERAL_OPEN, MEASURED_FAULTY);
}

static void measure_three(const struct view *view, struct measurements *measurements)
{
	double a = view_number(view, READING_WINDING_AB), b = view_number(view, READING_WINDING_BC);
	double c = view_number(view, READING_WINDING_CA);
	double least = fmin(a, fmin(b, c)), most = fmax(a, fmax(b, c));
	double error = error_of(READING_WINDING_AB, most);

	if (isnan(a + b + c) || !(most - least < 0.1 * most + 1.5 * error))
		return;
	state_is(measurements, STATE_COMPRESSOR_PHASE_OPEN, MEASURED_SOUND);
	state_is(measurements, STATE_COMPRESSOR_OVERLOAD, MEASURED_SOUND);
}

static void measure_insulation(const struct view *view, struct measurements *measurements)
{
	double megohm = view_number(view, READING_COMPRESSOR_GROUND_RESISTANCE);
	double floor = view_insulation_floor(view);
	double error = error_of(READING_COMPRESSOR_GROUND_RESISTANCE, megohm);
	bool over = view_over_limit(view, READING_COMPRESSOR_GROUND_RESISTANCE);
	bool tripped = view_answers(view, READING_BREAKER_TRIPPED, CHOICE_ANSWER_YES);
	bool runs = view_choice(view, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_RUNS;

	if ((over || megohm - error >= floor) && view_insulation_proves(view)) {
		state_is(measurements, STATE_INSULATION_WEAK, MEASURED_SOUND);
		state_is(measurements, STATE_INSULATION_DRIVEN_WEAK, MEASURED_SOUND);
		state_is(measurements, STATE_INSULATION_GROUNDED, MEASURED_SOUND);
	} else if (!runs && ((tripped && megohm + error < floor) || megohm < 0.2 * floor)) {
		state_is(measurements, STATE_INSULATION_GROUNDED, MEASURED_FAULTY);
	} else if (megohm < floor) {
		state_is(measurements, STATE_INSULATION_WEAK, MEASURED_FAULTY);
		state_is(measurements, STATE_INSULATION_DRIVEN_WEAK, MEASURED_FAULTY);
	}
	megohm = view_number(view, READING_FAN_GROUND_RESISTANCE);
	if (view_over_limit(view, READING_FAN_GROUND_RESISTANCE) || megohm > 1)
		state_is(measurements, STATE_FAN_INSULATION_GROUNDED, MEASURED_SOUND);
	else if (megohm < 0.05 || (tripped && megohm < 0.4))
		state_is(measurements, STATE_FAN_INSULATION_GROUNDED, MEASURED_FAULTY);
	if (view_over_limit(view, READING_FAN_WINDING_RESISTANCE))
		state_is(measurements, STATE_FAN_MOTOR_FAILED, MEASURED_FAULTY);
}

void measure_states(const struct view *view, struct measurements *measurements)
{
	memset(measurements, 0, sizeof *measurements);
	for (size_t i = 0; i < COUNT(answers); i++)
		if (view_answers(view, answers[i].reading, answers[i].choice))
			state_is(measurements, answers[i].state, answers[i].measured);
	measure_line(view, measurements);
	measure_sag(view, measurements);
	measure_phases(view, measurements);
	measure_blower_feed(view, measurements);
	measure_control(view, measurements);
	measure_contacts(view, measurements);
	measure_capacitor(view, measurements, READING_COMPRESSOR_CAPACITANCE,
	                  READING_COMPRESSOR_CAPACITOR_RATED, STATE_CAPACITOR_GOOD);
	measure_capacitor(view, measurements, READING_FAN_CAPACITANCE, READING_FAN_CAPACITOR_RATED,
	                  STATE_FAN_CAPACITOR_GOOD);
	measure_capacitor(view, measurements, READING_BLOWER_CAPACITANCE,
	                  READING_BLOWER_CAPACITOR_RATED, STATE_BLOWER_CAPACITOR_GOOD);
	look_at_can(view, measurements);
	if (view_has_three_windings(view))
		measure_three(view, measurements);
	else
		measure_marked(view, measurements);
	measure_insulation(view, measurements);
	if (view_choice(view, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_RUNS)
		rule_out(measurements, stops, COUNT(stops));
}
