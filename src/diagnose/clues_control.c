/*
 * The control chain in the order of the wire, and the contactor at its end.
 *
 * One break is looked for at a time.  What is dead behind a break is dead in
 * the same way whichever it is; so most readings tell the chain from the rest,
 * and a switch, a fuse or a transformer is told by its own.  Shares are common
 * practice.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include "diagnose/density.h"

/* Every break before the contactor coil, with one likelihood. */
#define CHAIN_OPEN(likelihood) \
	{ STATE_CONTROL_NO_CALL, likelihood }, { STATE_CONTROL_TRANSFORMER, likelihood }, \
	{ STATE_CONTROL_FUSE, likelihood }, { STATE_CONTROL_FLOAT, likelihood }, \
	{ STATE_CONTROL_HIGH_PRESSURE, likelihood }, { STATE_CONTROL_LOW_PRESSURE, likelihood }, \
	{ STATE_CONTROL_NONE, likelihood }

static const struct answer answers[] = {
	/*
	 * The thermostat has no power behind a dead transformer, an open fuse or some float switches.
	 */
	{ READING_CALL_FOR_COOLING, CHOICE_ANSWER_YES, {
		{ OTHERS(CONTROL), 0.97 }, { STATE_CONTROL_NO_CALL, 0.02 },
		{ STATE_CONTROL_TRANSFORMER, 0.3 }, { STATE_CONTROL_FUSE, 0.35 },
		{ STATE_CONTROL_FLOAT, 0.7 }, { STATE_CONTROL_NONE, 0.8 },
		{ STATE_CONTROL_WELDED, 0.3 } } },
	{ READING_INDOOR_CALL, CHOICE_ANSWER_YES, {
		{ OTHERS(CONTROL), 0.97 }, { STATE_CONTROL_NO_CALL, 0.02 },
		{ STATE_CONTROL_TRANSFORMER, 0.02 }, { STATE_CONTROL_FUSE, 0.03 },
		{ STATE_CONTROL_FLOAT, 0.5 }, { STATE_CONTROL_NONE, 0.6 },
		{ STATE_CONTROL_WELDED, 0.3 } } },
	{ READING_CONTROL_FUSE, CHOICE_FUSE_SOUND, {
		{ OTHERS(CONTROL), 0.99 }, { STATE_CONTROL_FUSE, 0.004 } } },
	{ READING_CONTROL_FUSE, CHOICE_FUSE_OPEN, {
		{ OTHERS(CONTROL), 0.004 }, { STATE_CONTROL_FUSE, 0.99 } } },
	{ READING_FLOAT_SWITCH, CHOICE_SWITCH_CLOSED, {
		{ OTHERS(CONTROL), 0.99 }, { STATE_CONTROL_FLOAT, 0.004 } } },
	{ READING_FLOAT_SWITCH, CHOICE_SWITCH_OPEN, {
		{ OTHERS(CONTROL), 0.004 }, { STATE_CONTROL_FLOAT, 0.99 } } },
	{ READING_HIGH_PRESSURE_SWITCH, CHOICE_SWITCH_CLOSED, {
		{ OTHERS(CONTROL), 0.99 }, { STATE_CONTROL_HIGH_PRESSURE, 0.01 } } },
	{ READING_HIGH_PRESSURE_SWITCH, CHOICE_SWITCH_OPEN, {
		{ OTHERS(CONTROL), 0.004 }, { STATE_CONTROL_HIGH_PRESSURE, 0.99 } } },
	{ READING_LOW_PRESSURE_SWITCH, CHOICE_SWITCH_CLOSED, {
		{ OTHERS(CONTROL), 0.99 }, { STATE_CONTROL_LOW_PRESSURE, 0.01 } } },
	{ READING_LOW_PRESSURE_SWITCH, CHOICE_SWITCH_OPEN, {
		{ OTHERS(CONTROL), 0.004 }, { STATE_CONTROL_LOW_PRESSURE, 0.99 } } },
	{ READING_CONTACTOR_PULLED_IN, CHOICE_ANSWER_YES, {
		{ OTHERS(CONTROL), 0.99 }, CHAIN_OPEN(0.004), { STATE_CONTROL_COIL_OPEN, 0.004 },
		{ STATE_CONTROL_STUCK_OPEN, 0.004 } } },
	{ READING_CONTACTOR_PULLED_IN, CHOICE_ANSWER_NO, {
		{ OTHERS(CONTROL), 0.01 }, CHAIN_OPEN(0.98), { STATE_CONTROL_COIL_OPEN, 0.98 },
		{ STATE_CONTROL_STUCK_OPEN, 0.98 }, { STATE_CONTROL_POLE_OPEN, 0.02 },
		{ STATE_CONTROL_WELDED, 0.05 } } },
};

/* Whether the outdoor unit is seen to run, or its contactor to be closed. */
bool view_is_fed(const struct view *view)
{
	return view_choice(view, READING_COMPRESSOR_STATE) == CHOICE_COMPRESSOR_STATE_RUNS ||
	       view_answers(view, READING_CONTACTOR_PULLED_IN, CHOICE_ANSWER_YES) ||
	       view_number(view, READING_LOAD_SIDE_VOLTAGE) > 150;
}

/*
 * The call at the indoor unit is Y and G.  Beside an outdoor unit that runs Y is there: what a
 * silent blower lacks is G, or the board that passes it on (common practice).
 */
static void collect_lost_call(const struct view *view, struct clues *clues)
{
	static const struct answer of_all[] = {
		{ READING_INDOOR_CALL, CHOICE_ANSWER_NO, {
			{ OTHERS(CONTROL), 0.03 }, { STATE_CONTROL_NO_CALL, 0.98 },
			{ STATE_CONTROL_TRANSFORMER, 0.98 }, { STATE_CONTROL_FUSE, 0.97 },
			{ STATE_CONTROL_FLOAT, 0.5 }, { STATE_CONTROL_NONE, 0.4 },
			{ STATE_CONTROL_WELDED, 0.7 } } },
	};
	static const struct answer of_blower[] = {
		{ READING_INDOOR_CALL, CHOICE_ANSWER_NO, {
			{ OTHERS(BLOWER_FEED), 0.03 }, { STATE_BLOWER_FEED_OPEN, 0.6 },
			{ STATE_BLOWER_FEED_NO_CALL, 0.7 } } },
		/* What the board gets it may still not pass on. */
		{ READING_INDOOR_CALL, CHOICE_ANSWER_YES, {
			{ OTHERS(BLOWER_FEED), 0.97 }, { STATE_BLOWER_FEED_OPEN, 0.4 },
			{ STATE_BLOWER_FEED_NO_CALL, 0.3 } } },
	};

	if (view_is_fed(view) && view_answers(view, READING_BLOWER_STATE, CHOICE_MOTOR_STATE_SILENT))
		clues_from_answers(view, clues, CLUE_ROWS(of_blower));
	else
		clues_from_answers(view, clues, CLUE_ROWS(of_all));
}

/* No call, and yet it runs: hardly anything but contacts that are welded. */
static void collect_no_call(const struct view *view, struct clues *clues)
{
	if (!view_answers(view, READING_CALL_FOR_COOLING, CHOICE_ANSWER_NO))
		return;
	double sound = view_is_fed(view) ? 0.0005 : 0.03;
	CLUE_SAY(clue_from_reading(view, clues, VARIABLE_CONTROL, READING_CALL_FOR_COOLING),
	         { OTHERS(CONTROL), sound }, { STATE_CONTROL_NO_CALL, 0.98 },
	         { STATE_CONTROL_TRANSFORMER, 0.7 }, { STATE_CONTROL_FUSE, 0.65 },
	         { STATE_CONTROL_FLOAT, 0.3 }, { STATE_CONTROL_NONE, 0.2 },
	         { STATE_CONTROL_WELDED, 0.7 });
}

/*
 * Ice grows while the outdoor unit is called and too little air moves: a blower
 * that stands beside it most often stood then already.  The float switch may
 * have opened over the meltwater since.
 */
static void collect_ice(const struct view *view, struct clues *clues)
{
	if (!view_answers(view, READING_COIL_CONDITION, CHOICE_COIL_ICED) ||
	    !view_answers(view, READING_BLOWER_STATE, CHOICE_MOTOR_STATE_SILENT))
		return;
	CLUE_SAY(clue_from_reading(view, clues, VARIABLE_CONTROL, READING_COIL_CONDITION),
	         { OTHERS(CONTROL), 0.3 }, { STATE_CONTROL_NO_CALL, 0.1 },
	         { STATE_CONTROL_TRANSFORMER, 0.05 }, { STATE_CONTROL_FUSE, 0.05 },
	         { STATE_CONTROL_FLOAT, 0.1 }, { STATE_CONTROL_HIGH_PRESSURE, 0.1 },
	         { STATE_CONTROL_NONE, 0.05 });
}

/*
 * A code says that the electronics have power and found something; which part stands in the
 * maker's table.  Shares are common practice.
 */
static void collect_code(const struct view *view, struct clues *clues)
{
	if (!view_applies(view, CONDITION_ELECTRONICS) || !visit_shows_code(view->visit, view->stage))
		return;
	CLUE_SAY(clue_from_reading(view, clues, VARIABLE_CONTROL, READING_BOARD_CODE),
	         { OTHERS(CONTROL), 0.05 }, { STATE_CONTROL_NO_CALL, 0.02 },
	         { STATE_CONTROL_COMMUNICATION, 0.5 }, { STATE_CONTROL_HELD_OFF, 0.95 },
	         { STATE_CONTROL_DRIVE, 0.4 }, { STATE_CONTROL_HIGH_PRESSURE, 0.3 },
	         { STATE_CONTROL_LOW_PRESSURE, 0.3 }, { STATE_CONTROL_FLOAT, 0.2 });
	CLUE_SAY(clue_from_reading(view, clues, VARIABLE_SUPPLY, READING_BOARD_CODE),
	         { OTHERS(SUPPLY), 0.5 }, { STATE_SUPPLY_NONE_TO_ALL, 0.05 });
}

static void collect_transformer(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONTROL,
	                                      READING_TRANSFORMER_PRIMARY);
	bool no_primary = clue && clue->value < 80;

	/* A dead primary is the supply of the indoor unit, not the transformer. */
	CLUE_SAY(clue, { OTHERS(CONTROL), no_primary ? clue_slip : 1 },
	         { STATE_CONTROL_TRANSFORMER, no_primary ? 0.02 : 1 },
	         { STATE_CONTROL_NONE, no_primary ? 0.3 : 0.7 });
	clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_TRANSFORMER_SECONDARY);
	if (!clue)
		return;
	double v = clue->value, sd = clue_meter_sd(clue, 0.2);
	double good = 0.7 * density_normal(v, 25.5, 1.8) + 0.3 * density_even(v, 20, 30, sd);
	double none = 1.5 * density_normal(v, 0, 1.2) + 0.25 * density_even(v, 0, 19, sd);
	CLUE_SAY(clue, { OTHERS(CONTROL), good },
	         { STATE_CONTROL_TRANSFORMER, no_primary ? 0.02 * none : none + 1e-4 * good },
	         { STATE_CONTROL_NONE, no_primary ? none : 0.8 * good + 0.2 * none });
	clue_expect(clue, 25);
}

static void collect_coil(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_CONTROL_VOLTAGE);

	if (clue) {
		double v = clue->value, sd = clue_meter_sd(clue, 0.2);
		double good = 0.7 * density_normal(v, 25.5, 1.8) + 0.3 * density_even(v, 20, 29, sd);
		double none = 1.5 * density_normal(v, 0, 1.2) + 0.25 * density_even(v, 0, 20, sd);
		CLUE_SAY(clue, { OTHERS(CONTROL), good }, CHAIN_OPEN(none),
		         { STATE_CONTROL_WELDED, 0.97 * none + 0.03 * good });
		clue_expect(clue, 25);
	}
	clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_CONTACTOR_COIL_RESISTANCE);
	bool open = clue && (clue->over_limit || clue->value > 1000);
	CLUE_SAY(clue, { OTHERS(CONTROL), open ? clue_slip : 1 - clue_slip },
	         { STATE_CONTROL_COIL_OPEN, open ? 0.97 : 0.03 });
}

/*
 * Voltage behind the contactor as a share of that before it, or of the rating
 * where the line side was not read.  Half of it, or none with the contactor
 * in, is a pole that does not conduct: most single-phase contactors break one
 * line only, and the other finds its way back through a motor.
 */
static void collect_load_side(const struct view *view, struct clues *clues)
{
	double line, load = view_number(view, READING_LOAD_SIDE_VOLTAGE);
	enum reading reading;
	bool line_read = view_line_volts(view, &line, &reading);

	if (!line_read)
		line = view_number(view, READING_RATED_VOLTAGE);
	if (isnan(load) || isnan(line) || line < 50)
		return;
	double share = load / line;
	double closed = density_normal(share, 1, 0.05) + 0.05 * density_even(share, 0.75, 1.1, 0.02);
	double none = 1.6 * density_normal(share, 0, 0.05);
	double half = density_even(share, 0.25, 0.75, 0.03);
	double dead = none + 0.02 * half + clue_slip * closed;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_LOAD_SIDE_VOLTAGE);
	/* Where the line side was not read, a dead supply may be all. */
	double good = closed + (line_read ? 0.01 : 0.08) * none;
	CLUE_SAY(clue, { OTHERS(CONTROL), good }, CHAIN_OPEN(dead),
	         { STATE_CONTROL_COIL_OPEN, dead }, { STATE_CONTROL_STUCK_OPEN, dead },
	         { STATE_CONTROL_POLE_OPEN, 0.5 * none + 0.5 * half + clue_slip * closed });
	if (clue)
		clue_expect(clue, line);
	if (!line_read)
		CLUE_SAY(clue_from_reading(view, clues, VARIABLE_SUPPLY, READING_LOAD_SIDE_VOLTAGE),
		         { OTHERS(SUPPLY), closed + 0.2 * none }, NO_SUPPLY(none + 1e-6));
}

/* What is seen says of the contacts. */
static const struct answer looks[] = {
	{ READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_CLEAN, {
		{ OTHERS(CONTACTS), 0.93 }, { STATE_CONTACTS_PITTED, 0.10 },
		{ STATE_CONTACTS_WORN, 0.10 } } },
	{ READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_PITTED, {
		{ OTHERS(CONTACTS), 0.03 }, { STATE_CONTACTS_PITTED, 0.80 },
		{ STATE_CONTACTS_WORN, 0.30 } } },
	{ READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_BURNT, {
		{ OTHERS(CONTACTS), 0.005 }, { STATE_CONTACTS_PITTED, 0.02 },
		{ STATE_CONTACTS_WORN, 0.45 } } },
	{ READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_FOULED, {
		{ OTHERS(CONTACTS), 0.02 }, { STATE_CONTACTS_PITTED, 0.06 },
		{ STATE_CONTACTS_WORN, 0.15 } } },
};

/* Dirt and insects hold a contactor open; so do burnt contacts. */
static const struct answer holds[] = {
	{ READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_FOULED, {
		{ OTHERS(CONTROL), 0.03 }, { STATE_CONTROL_STUCK_OPEN, 0.35 },
		{ STATE_CONTROL_POLE_OPEN, 0.2 } } },
	{ READING_CONTACTOR_CONDITION, CHOICE_CONTACTS_BURNT, {
		{ OTHERS(CONTROL), 0.05 }, { STATE_CONTROL_POLE_OPEN, 0.5 },
		{ STATE_CONTROL_WELDED, 0.6 } } },
};

static void collect_contacts(const struct view *view, struct clues *clues)
{
	double line, load = view_number(view, READING_LOAD_SIDE_VOLTAGE);
	enum reading reading;
	bool line_read = view_line_volts(view, &line, &reading);
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONTACTS, READING_CONTACTOR_DROP);

	if (clue) {
		/* Over 0.5 V: replace. */
		double v = clue->value, sd = clue_meter_sd(clue, 0.02);
		double good = 2 * density_normal(v, 0, hypot(0.16, sd));
		double pitted = 0.5 * good + 0.5 * density_even(v, 0.2, 0.5, sd);
		double worn = 0.6 * density_even(v, 0.5, 3, sd) + 0.3 * density_even(v, 0.5, 60, sd) +
		              0.1 * pitted;
		CLUE_SAY(clue, { OTHERS(CONTACTS), good }, { STATE_CONTACTS_PITTED, pitted },
		         { STATE_CONTACTS_WORN, worn });
		clue_expect(clue, 0.1);
	}
	/* Between three quarters and all of the line the contacts drop what is missing. */
	if (line_read && load > 0.75 * line) {
		double share = load / line, closed = density_normal(share, 1, 0.025);
		clue = clue_from_reading(view, clues, VARIABLE_CONTACTS, READING_LOAD_SIDE_VOLTAGE);
		CLUE_SAY(clue, { OTHERS(CONTACTS), closed },
		         { STATE_CONTACTS_WORN, 0.8 * closed + 0.2 * density_even(share, 0.7, 0.97,
		                                                                  0.01) });
		if (clue)
			clue_expect(clue, line);
	}
	clues_from_answers(view, clues, CLUE_ROWS(looks));
	clues_from_answers(view, clues, CLUE_ROWS(holds));
}

void clues_of_control(const struct view *view, struct clues *clues)
{
	clues_from_answers(view, clues, CLUE_ROWS(answers));
	collect_lost_call(view, clues);
	collect_no_call(view, clues);
	collect_ice(view, clues);
	collect_code(view, clues);
	collect_transformer(view, clues);
	collect_coil(view, clues);
	collect_load_side(view, clues);
	collect_contacts(view, clues);
}
