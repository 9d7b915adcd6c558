/*
 * Clues: one reading or figure, one part of the machine, and how likely the
 * value is in each state of that part.
 *
 * Where physics is logical (which pairs read OL) the likelihoods are near 0
 * and 1, the rest being slips of hand and meter; where it is a matter of
 * degree they are densities, widened by the instrument's own error, so that a
 * value at the edge of a tolerance leans a little and no more.  The numbers
 * are common practice unless a source stands beside them.
 */
#include "diagnose/clues.h"

#include <math.h>
#include <string.h>

#include <padside/electrical.h>

#include "diagnose/density.h"

/* How often a lead slips off or the wrong pair is written down. */
static const double slip = 0.004;

/* ---- What is read ---- */

double view_figure(const struct view *view, enum figure figure)
{
	const struct figure_value *value = &view->set->values[figure];

	return value->status == STATUS_OK ? value->value : NAN;
}

double view_number(const struct view *view, enum reading reading)
{
	double number;

	visit_number(view->visit, view->stage, reading, &number);
	return number;
}

enum choice view_choice(const struct view *view, enum reading reading)
{
	return visit_choice(view->visit, view->stage, reading);
}

bool view_over_limit(const struct view *view, enum reading reading)
{
	return visit_value(view->visit, view->stage, reading)->state == VALUE_OVER_LIMIT;
}

bool view_applies(const struct view *view, enum condition condition)
{
	return visit_condition_holds(view->visit, view->stage, condition);
}

/* ---- Making clues ---- */

static struct clue *add(struct clues *clues, enum variable variable)
{
	static const struct clue empty = { .expected = NAN, .value = NAN };

	if (clues->count == MOST_CLUES)
		return NULL;
	struct clue *clue = &clues->list[clues->count++];
	*clue = empty;
	clue->variable = variable;
	return clue;
}

/* A clue from a figure; NULL when the figure was not evaluated. */
static struct clue *add_figure(const struct view *view, struct clues *clues,
                               enum variable variable, enum figure figure)
{
	const struct figure_value *value = &view->set->values[figure];

	if (value->status != STATUS_OK)
		return NULL;
	struct clue *clue = add(clues, variable);
	if (clue) {
		clue->figure = figure;
		clue->value = value->value;
		clue->plus_minus = value->plus_minus;
	}
	return clue;
}

/* A clue from a reading; NULL when it was not taken. */
static struct clue *add_reading(const struct view *view, struct clues *clues,
                                enum variable variable, enum reading reading)
{
	const struct value *value = visit_value(view->visit, view->stage, reading);

	if (value->state == VALUE_NOT_TAKEN)
		return NULL;
	struct clue *clue = add(clues, variable);
	if (!clue)
		return NULL;
	clue->reading = reading;
	clue->over_limit = value->state == VALUE_OVER_LIMIT;
	if (clue->over_limit)
		return clue;
	if (reading_info(reading)->kind == KIND_CHOICE) {
		clue->value = (double)value->choice;
	} else {
		clue->value = value->number;
		clue->plus_minus = reading_accuracy(reading, value->number);
	}
	return clue;
}

static void expect(struct clue *clue, double expected)
{
	clue->has_expected = true;
	clue->expected = expected;
}

/* The spread of the meter, never quite nothing. */
static double meter_sd(const struct clue *clue, double least)
{
	return fmax(density_sd(clue->plus_minus), least);
}

static void set_likelihoods(struct clue *clue, const double *likelihood)
{
	memcpy(clue->likelihood, likelihood,
	       (size_t)variable_states(clue->variable) * sizeof *likelihood);
}

/* Clues from a choice: one row of shares a state. */
struct choice_shares {
	enum choice choice;
	double share[MOST_STATES];
};

static void add_choice(const struct view *view, struct clues *clues, enum variable variable,
                       enum reading reading, const struct choice_shares *rows, size_t count)
{
	enum choice choice = view_choice(view, reading);

	for (size_t i = 0; i < count; i++) {
		if (choice == CHOICE_NONE || rows[i].choice != choice)
			continue;
		struct clue *clue = add_reading(view, clues, variable, reading);
		if (clue)
			set_likelihoods(clue, rows[i].share);
	}
}

#define ROWS(table) table, sizeof table / sizeof *table

/* ---- Supply and control ---- */

/* Line voltage as a share of the rating: within ±10 % (NEMA MG 1). */
static void voltage_likelihoods(double share, double sd, double *likelihood)
{
	likelihood[0] = 0.7 * density_normal(share, 1.0, hypot(0.03, sd)) +
	                0.3 * density_even(share, 0.9, 1.1, sd);
	likelihood[1] = density_normal(share, 0, 0.04) * 1.6 + 0.1 * density_even(share, 0, 0.6, sd);
	likelihood[2] = density_even(share, 0.6, 0.9, sd);
	likelihood[3] = density_even(share, 1.1, 1.35, sd);
	likelihood[4] = likelihood[0];
}

static void collect_line_voltage(const struct view *view, struct clues *clues)
{
	double rated = view_number(view, READING_RATED_VOLTAGE);
	struct clue *clue = add_figure(view, clues, VARIABLE_SUPPLY, FIGURE_VOLTAGE_DEVIATION);

	if (clue) {
		expect(clue, 0);
		voltage_likelihoods(1 + clue->value / 100, meter_sd(clue, 0.4) / 100, clue->likelihood);
		return;
	}
	/* No rating: 208/230 V machines take 197 to 253 V (AHRI 210/240, from memory). */
	enum reading reading = view_applies(view, CONDITION_THREE_PHASE) ? READING_LINE_VOLTAGE_AB
	                                                                 : READING_LINE_VOLTAGE;
	clue = isnan(rated) ? add_reading(view, clues, VARIABLE_SUPPLY, reading) : NULL;
	if (!clue)
		return;
	double nominal = clue->value > 300 ? 460 : clue->value < 219 ? 215 : 230;
	voltage_likelihoods(clue->value / nominal, 0.01, clue->likelihood);
}

static void collect_unbalance(const struct view *view, struct clues *clues)
{
	struct clue *clue = add_figure(view, clues, VARIABLE_SUPPLY, FIGURE_VOLTAGE_UNBALANCE);

	if (!clue)
		return;
	/* 1 % is the recommended limit, over 5 % do not run (NEMA MG 1-14.36). */
	double sd = meter_sd(clue, 0.1);
	double good = 2 * density_normal(clue->value, 0, hypot(0.7, sd));
	double bad = 0.7 * density_even(clue->value, 2, 7, sd) +
	             0.3 * density_even(clue->value, 2, 60, sd);
	set_likelihoods(clue, (double[]){ good, good, good, good, bad });
	expect(clue, 0);
}

static void collect_sag(const struct view *view, struct clues *clues)
{
	struct clue *clue = add_figure(view, clues, VARIABLE_SUPPLY, FIGURE_STARTING_SAG);

	if (!clue)
		return;
	double sd = meter_sd(clue, 0.5);
	double good = density_tailed(clue->value, 6, hypot(3.5, sd));
	double low = 0.6 * density_even(clue->value, 11, 40, sd) + 0.4 * good;
	set_likelihoods(clue, (double[]){ good, good, low, good, good });
	expect(clue, 6);
}

/*
 * Voltage behind the contactor against the rating, where the line side was not
 * read: none may be no supply or no call; else it is what the supply gives.
 */
static void add_load_side_alone(const struct view *view, struct clues *clues, double share)
{
	double by_supply[MOST_STATES], any = 0;
	double none = 1.6 * density_normal(share, 0, 0.05);
	struct clue *clue = add_reading(view, clues, VARIABLE_SUPPLY, READING_LOAD_SIDE_VOLTAGE);

	if (!clue)
		return;
	voltage_likelihoods(share, 0.006, by_supply);
	for (int s = 0; s < variable_states(VARIABLE_SUPPLY); s++)
		clue->likelihood[s] = 0.9 * by_supply[s] + 0.1 * none;
	any = 0.85 * by_supply[0] + 0.05 * by_supply[1] + 0.1 * by_supply[2];
	clue = add_reading(view, clues, VARIABLE_CONTROL, READING_LOAD_SIDE_VOLTAGE);
	if (clue)
		set_likelihoods(clue, (double[]){ any, none + slip * any, none + slip * any });
}

/* Voltage behind the contactor against the voltage before it. */
static void collect_load_side(const struct view *view, struct clues *clues)
{
	double line = view_number(view, READING_LINE_VOLTAGE);
	double load = view_number(view, READING_LOAD_SIDE_VOLTAGE);
	double rated = view_number(view, READING_RATED_VOLTAGE);

	if (isnan(line))
		line = view_number(view, READING_LINE_VOLTAGE_AB);
	if (isnan(load) || (isnan(line) && isnan(rated)) || line < 50)
		return;
	if (isnan(line)) {
		add_load_side_alone(view, clues, load / rated);
		return;
	}
	double share = load / line;
	double closed = density_normal(share, 1, 0.025);
	double open = density_normal(share, 0, 0.05) * 1.6 + 0.1 * density_even(share, 0, 0.7, 0.02);
	struct clue *clue = add_reading(view, clues, VARIABLE_CONTROL, READING_LOAD_SIDE_VOLTAGE);
	if (clue) {
		set_likelihoods(clue, (double[]){ closed + 0.01 * open, open + slip * closed,
		                                  open + slip * closed });
		expect(clue, line);
	}
	clue = add_reading(view, clues, VARIABLE_CONTACTS, READING_LOAD_SIDE_VOLTAGE);
	if (clue) {
		double either = closed + open;
		double worn = 0.8 * either + 0.2 * density_even(share, 0.1, 0.97, 0.01);
		set_likelihoods(clue, (double[]){ either, either, worn });
		expect(clue, line);
	}
}

static void collect_control(const struct view *view, struct clues *clues)
{
	struct clue *clue = add_reading(view, clues, VARIABLE_CONTROL, READING_CONTROL_VOLTAGE);

	if (clue) {
		double v = clue->value, sd = meter_sd(clue, 0.2);
		double good = 0.7 * density_normal(v, 25.5, 1.8) + 0.3 * density_even(v, 20, 29, sd);
		double none = 0.75 * 2 * density_normal(v, 0, 1.2) + 0.25 * density_even(v, 0, 20, sd);
		set_likelihoods(clue, (double[]){ good, none, good });
		expect(clue, 25);
	}
	clue = add_reading(view, clues, VARIABLE_CONTROL, READING_CONTACTOR_COIL_RESISTANCE);
	if (clue) {
		double open = clue->over_limit || clue->value > 1000 ? 1 : 0;
		double good = open > 0 ? slip : 1 - slip, bad = open > 0 ? 0.97 : 0.03;
		set_likelihoods(clue, (double[]){ good, good, bad });
	}
}

static void collect_contacts(const struct view *view, struct clues *clues)
{
	static const struct choice_shares looks[] = {
		{ CHOICE_CONTACTS_CLEAN,  { 0.93, 0.10, 0.10 } },
		{ CHOICE_CONTACTS_PITTED, { 0.03, 0.80, 0.30 } },
		{ CHOICE_CONTACTS_BURNT,  { 0.005, 0.02, 0.45 } },
		{ CHOICE_CONTACTS_FOULED, { 0.02, 0.06, 0.15 } },
	};
	struct clue *clue = add_reading(view, clues, VARIABLE_CONTACTS, READING_CONTACTOR_DROP);

	if (clue) {
		/* Over 0.5 V: replace. */
		double v = clue->value, sd = meter_sd(clue, 0.02);
		double good = 2 * density_normal(v, 0, hypot(0.16, sd));
		double pitted = 0.5 * good + 0.5 * density_even(v, 0.2, 0.5, sd);
		double worn = 0.6 * density_even(v, 0.5, 3, sd) + 0.3 * density_even(v, 0.5, 60, sd) +
		              0.1 * pitted;
		set_likelihoods(clue, (double[]){ good, pitted, worn });
		expect(clue, 0.1);
	}
	add_choice(view, clues, VARIABLE_CONTACTS, READING_CONTACTOR_CONDITION, ROWS(looks));
}

static void collect_leads(const struct view *view, struct clues *clues)
{
	static const struct choice_shares looks[] = {
		{ CHOICE_TERMINALS_SOUND,    { 0.95, 0.05, 0.15 } },
		{ CHOICE_TERMINALS_LOOSE,    { 0.02, 0.40, 0.10 } },
		{ CHOICE_TERMINALS_CORRODED, { 0.025, 0.50, 0.05 } },
		{ CHOICE_TERMINALS_BURNT,    { 0.003, 0.045, 0.40 } },
		{ CHOICE_TERMINALS_BROKEN,   { 0.002, 0.005, 0.30 } },
	};

	add_choice(view, clues, VARIABLE_LEADS, READING_TERMINAL_CONDITION, ROWS(looks));
}

/* A breaker that tripped: the supply is off, and the network asks what tripped it. */
static void collect_breaker(const struct view *view, struct clues *clues)
{
	static const double tripped[] = { 0.03, 0.45, 0.04, 0.03, 0.05 };
	struct clue *clue = add_reading(view, clues, VARIABLE_SUPPLY, READING_BREAKER_TRIPPED);

	for (int s = 0; clue && s < variable_states(VARIABLE_SUPPLY); s++)
		clue->likelihood[s] = clue->value != 0 ? tripped[s] : 1 - tripped[s];
	/* One that holds says that nothing behind it is grounded. */
	if (!clue || clue->value != 0)
		return;
	clue = add_reading(view, clues, VARIABLE_INSULATION, READING_BREAKER_TRIPPED);
	if (clue)
		set_likelihoods(clue, (double[]){ 0.97, 0.97, 0.95, 0.3 });
	clue = add_reading(view, clues, VARIABLE_FAN_INSULATION, READING_BREAKER_TRIPPED);
	if (clue)
		set_likelihoods(clue, (double[]){ 0.97, 0.3 });
}

/* ---- Capacitors ---- */

/* Deviation from the rating, %, against the tolerance on the can. */
static void capacitor_likelihoods(double deviation, double sd, double tolerance, double *likelihood)
{
	likelihood[0] = density_normal(deviation, -0.08 * tolerance, hypot(0.33 * tolerance, sd));
	likelihood[1] = density_even(deviation, -tolerance, -0.5 * tolerance, sd);
	/*
	 * Weak still turns its motor, failed does not: between a fifth and a half
	 * of the capacitance lost either may be, and what the motor does decides.
	 */
	likelihood[2] = 0.6 * density_even(deviation, fmin(-25, -2 * tolerance), -tolerance, sd) +
	                0.4 * density_even(deviation, fmin(-50, -2 * tolerance), -tolerance, sd);
	likelihood[3] = 0.65 * density_even(deviation, -100, -20, sd) +
	                0.35 * 2 * density_normal(deviation, -100, hypot(3, sd));
	/* Above its tolerance: the wrong part or a failing one. */
	likelihood[2] += 0.03 * density_even(deviation, tolerance, 60, sd);
}

static double tolerance_of(const struct view *view)
{
	double tolerance = view_number(view, READING_CAPACITOR_TOLERANCE);

	return isnan(tolerance) ? 6 : tolerance;
}

/* The capacitance that the start current shows, as a deviation. */
static struct clue *add_loaded_capacitance(const struct view *view, struct clues *clues,
                                           double *deviation, double *sd)
{
	double rated = view_number(view, READING_COMPRESSOR_CAPACITOR_RATED);
	struct clue *clue = isnan(rated) ? NULL
		: add_figure(view, clues, VARIABLE_CAPACITOR, FIGURE_CAPACITANCE_UNDER_LOAD);

	if (!clue)
		return NULL;
	*deviation = 100 * (clue->value / rated - 1);
	*sd = hypot(100 * density_sd(clue->plus_minus) / rated, 1);
	expect(clue, rated);
	return clue;
}

static void collect_capacitors(const struct view *view, struct clues *clues)
{
	static const struct choice_shares looks[] = {
		{ CHOICE_CAPACITOR_SOUND,   { 0.97, 0.80, 0.72, 0.45 } },
		{ CHOICE_CAPACITOR_SWOLLEN, { 0.02, 0.15, 0.22, 0.42 } },
		{ CHOICE_CAPACITOR_LEAKING, { 0.01, 0.05, 0.06, 0.13 } },
	};
	double tolerance = tolerance_of(view), deviation, sd;

	if (view_applies(view, CONDITION_CAPACITOR_RUN)) {
		struct clue *clue = add_figure(view, clues, VARIABLE_CAPACITOR,
		                               FIGURE_COMPRESSOR_CAPACITOR_DEVIATION);
		if (clue) {
			expect(clue, 0);
			capacitor_likelihoods(clue->value, meter_sd(clue, 0.3), tolerance, clue->likelihood);
		} else if ((clue = add_loaded_capacitance(view, clues, &deviation, &sd)) != NULL) {
			capacitor_likelihoods(deviation, sd, tolerance, clue->likelihood);
		}
		add_choice(view, clues, VARIABLE_CAPACITOR, READING_CAPACITOR_CONDITION, ROWS(looks));
	}
	struct clue *clue = add_figure(view, clues, VARIABLE_FAN_CAPACITOR,
	                               FIGURE_FAN_CAPACITOR_DEVIATION);
	if (clue) {
		expect(clue, 0);
		capacitor_likelihoods(clue->value, meter_sd(clue, 0.3), tolerance, clue->likelihood);
	}
}

/* ---- Windings ---- */

/*
 * Which pairs read over limit in each state of the compressor.  Source: trade
 * textbooks, hermetic motor terminal identification: the winding that both OL
 * readings share is open; OL from common to both with start–run still reading
 * is the overload or the common lead inside.  A three-phase overload opens
 * one line or the star point: two pairs read OL, or every pair.
 */
enum pair { PAIR_COMMON_RUN = 1, PAIR_COMMON_START = 2, PAIR_START_RUN = 4 };

static const int open_pairs[] = {
	[STATE_COMPRESSOR_SOUND - STATE_COMPRESSOR_SOUND] = 0,
	[STATE_COMPRESSOR_RUN_OPEN - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_RUN | PAIR_START_RUN,
	[STATE_COMPRESSOR_START_OPEN - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_START | PAIR_START_RUN,
	[STATE_COMPRESSOR_COMMON_OPEN - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_RUN | PAIR_COMMON_START,
	[STATE_COMPRESSOR_SEVERAL_OPEN - STATE_COMPRESSOR_SOUND] =
		PAIR_COMMON_RUN | PAIR_COMMON_START | PAIR_START_RUN,
	[STATE_COMPRESSOR_OVERLOAD - STATE_COMPRESSOR_SOUND] = PAIR_COMMON_RUN | PAIR_COMMON_START,
	[STATE_COMPRESSOR_SHORTED - STATE_COMPRESSOR_SOUND] = 0,
	[STATE_COMPRESSOR_LOCKED - STATE_COMPRESSOR_SOUND] = 0,
};

static void collect_pair(const struct view *view, struct clues *clues, enum reading reading,
                         enum pair pair)
{
	struct clue *clue = add_reading(view, clues, VARIABLE_COMPRESSOR, reading);
	bool three_phase = view_applies(view, CONDITION_THREE_PHASE);

	if (!clue)
		return;
	/* Meters without a wide range show kilohms of leakage over an open winding. */
	bool over = clue->over_limit || clue->value > 2000;
	for (int s = 0; s < variable_states(VARIABLE_COMPRESSOR); s++) {
		bool open = (open_pairs[s] & (int)pair) != 0;
		clue->likelihood[s] = open == over ? 1 - slip : slip;
		if (three_phase && pair == PAIR_START_RUN &&
		    s == STATE_COMPRESSOR_OVERLOAD - STATE_COMPRESSOR_SOUND)
			clue->likelihood[s] = 0.5;
	}
}

/* Unmarked terminals: how many pairs read OL tells that something is open, not what. */
static void collect_unmarked(const struct view *view, struct clues *clues)
{
	static const enum reading pairs[] = { READING_TERMINAL_12, READING_TERMINAL_23,
	                                      READING_TERMINAL_31 };
	/* Rows: OL on none, one, two, all of the three pairs; columns: states. */
	static const double shares[4][8] = {
		{ 0.99,  0.002, 0.002, 0.002, 0.001, 0.002, 0.99,  0.99 },
		{ 0.006, 0.01,  0.01,  0.01,  0.004, 0.01,  0.006, 0.006 },
		{ 0.002, 0.98,  0.98,  0.98,  0.01,  0.98,  0.002, 0.002 },
		{ 0.002, 0.008, 0.008, 0.008, 0.985, 0.008, 0.002, 0.002 },
	};
	int open = 0;

	if (visit_has(view->visit, view->stage, READING_COMMON_RUN_RESISTANCE))
		return;
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
		if (!visit_has(view->visit, view->stage, pairs[i]))
			return;
		open += view_over_limit(view, pairs[i]);
	}
	enum reading shown = pairs[0];
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
		if (view_over_limit(view, pairs[i]))
			shown = pairs[i];
	struct clue *clue = add_reading(view, clues, VARIABLE_COMPRESSOR, shown);
	if (clue)
		set_likelihoods(clue, shares[open]);
}

/* All states but one look sound. */
static void only_shorted(struct clue *clue, double sound, double shorted)
{
	for (int s = 0; s < variable_states(VARIABLE_COMPRESSOR); s++)
		clue->likelihood[s] = sound;
	clue->likelihood[STATE_COMPRESSOR_SHORTED - STATE_COMPRESSOR_SOUND] = shorted;
}

/* 3 to 6 usual; newer compressors run outside it, hence the tails. */
static void judge_ratio(struct clue *clue, double ratio, double sd)
{
	double x = log(ratio);
	double sound = density_tailed(x, log(4.24), hypot(0.19, sd));

	only_shorted(clue, sound, 0.2 * sound + 0.4 * density_even(x, log(0.8), log(3), sd + 0.02) +
	                          0.4 * density_even(x, log(6), log(20), sd + 0.02));
}

static void collect_winding_values(const struct view *view, struct clues *clues)
{
	struct clue *clue = add_figure(view, clues, VARIABLE_COMPRESSOR, FIGURE_WINDING_SUM_ERROR);

	if (clue) {
		double sum = view_number(view, READING_START_RUN_RESISTANCE);
		double sd = fmax(hypot(density_sd(clue->plus_minus), 0.01 * sum), 0.02);
		double sound = density_tailed(clue->value, 0, sd);
		only_shorted(clue, sound,
		             0.5 * sound + 0.5 * density_even(clue->value, -0.5 * sum, 0.5 * sum, sd));
		expect(clue, 0);
	}
	clue = add_figure(view, clues, VARIABLE_COMPRESSOR, FIGURE_START_RUN_RATIO);
	if (clue && clue->value > 0) {
		judge_ratio(clue, clue->value, density_sd(clue->plus_minus) / clue->value);
		expect(clue, 4.2);
	}
}

/* Unmarked terminals: the two smaller readings are run and start. */
static void collect_unmarked_ratio(const struct view *view, struct clues *clues)
{
	double ab = view_number(view, READING_TERMINAL_12), bc = view_number(view, READING_TERMINAL_23);
	double ca = view_number(view, READING_TERMINAL_31);
	double least = fmin(ab, fmin(bc, ca)), most = fmax(ab, fmax(bc, ca));

	if (isnan(ab) || isnan(bc) || isnan(ca) || !(least > 0) ||
	    !view_applies(view, CONDITION_SINGLE_PHASE) ||
	    visit_has(view->visit, view->stage, READING_COMMON_RUN_RESISTANCE))
		return;
	enum reading run = least == ab ? READING_TERMINAL_12
	                 : least == bc ? READING_TERMINAL_23 : READING_TERMINAL_31;
	struct clue *clue = add_reading(view, clues, VARIABLE_COMPRESSOR, run);
	if (clue)
		judge_ratio(clue, (ab + bc + ca - least - most) / least,
		            density_sd(clue->plus_minus) / least);
}

/* A winding against the maker's resistance, at the same temperature. */
static void collect_rated_winding(const struct view *view, struct clues *clues,
                                  enum reading measured, enum reading rated)
{
	/* Makers give it at 77 °F. */
	const double rated_at_f = 77;
	double ohm = view_number(view, measured), wanted = view_number(view, rated);
	double temp = view_number(view, READING_WINDING_TEMP), same;
	double doubt = isnan(temp) ? 0.09 : 0.03;

	if (isnan(temp))
		temp = view_number(view, READING_SHELL_TEMP);
	if (isnan(temp))
		temp = 90;
	if (isnan(ohm) || isnan(wanted) ||
	    electrical_resistance_at(ohm, temp, rated_at_f, &same) != STATUS_OK)
		return;
	struct clue *clue = add_reading(view, clues, VARIABLE_COMPRESSOR, measured);
	if (!clue)
		return;
	double share = same / wanted;
	double sd = hypot(density_sd(clue->plus_minus) / wanted, doubt);
	double sound = density_tailed(share, 1, sd);
	only_shorted(clue, sound, 0.3 * sound + 0.7 * density_even(share, 0.1, 0.93, sd));
	expect(clue, wanted * ohm / same);
}

/* A hot shell holds the overload open; with a cold one it should have closed. */
static void collect_shell(const struct view *view, struct clues *clues)
{
	double outdoor = view_number(view, READING_OUTDOOR_DB);
	struct clue *clue = add_reading(view, clues, VARIABLE_COMPRESSOR, READING_SHELL_TEMP);

	if (!clue)
		return;
	double edge = isnan(outdoor) ? 122 : fmax(outdoor + 28, 115);
	double hot = density_below(clue->value, edge, 8);
	double overload = 0.97 * hot + 0.03 * (1 - hot);
	double open = 0.12 * hot + 0.88 * (1 - hot);
	set_likelihoods(clue, (double[]){ 0.5, open, open, open, open, overload, 0.5, 0.5 });
}

/* Decades of insulation: grounded below 1 MΩ (IEEE 43: kV + 1), good over 100. */
static void collect_insulation(const struct view *view, struct clues *clues)
{
	struct clue *clue = add_reading(view, clues, VARIABLE_INSULATION,
	                                READING_COMPRESSOR_GROUND_RESISTANCE);

	if (clue && clue->over_limit) {
		set_likelihoods(clue, (double[]){ 0.5, 0.002, 0.001, 0.001 });
	} else if (clue) {
		double x = log10(fmax(clue->value, 1e-4)), sd = 0.05;
		double good = 0.5 * density_even(x, 2, 5, sd);
		set_likelihoods(clue, (double[]){ good, density_even(x, 1.3, 2, sd),
		                                  density_even(x, 0, 1.3, sd),
		                                  density_even(x, -4.1, 0, sd) });
	}
	clue = add_reading(view, clues, VARIABLE_FAN_INSULATION, READING_FAN_GROUND_RESISTANCE);
	if (clue && clue->over_limit) {
		set_likelihoods(clue, (double[]){ 0.5, 0.001 });
	} else if (clue) {
		double x = log10(fmax(clue->value, 1e-4)), sd = 0.05;
		set_likelihoods(clue, (double[]){ 0.45 * density_even(x, 1, 5, sd) +
		                                  0.05 * density_even(x, 0, 1, sd),
		                                  density_even(x, -4.1, 0, sd) });
	}
}

static void collect_windings(const struct view *view, struct clues *clues)
{
	collect_pair(view, clues, READING_COMMON_RUN_RESISTANCE, PAIR_COMMON_RUN);
	collect_pair(view, clues, READING_COMMON_START_RESISTANCE, PAIR_COMMON_START);
	collect_pair(view, clues, READING_START_RUN_RESISTANCE, PAIR_START_RUN);
	collect_unmarked(view, clues);
	collect_winding_values(view, clues);
	collect_unmarked_ratio(view, clues);
	collect_rated_winding(view, clues, READING_COMMON_RUN_RESISTANCE, READING_RUN_WINDING_RATED);
	collect_rated_winding(view, clues, READING_COMMON_START_RESISTANCE,
	                      READING_START_WINDING_RATED);
	collect_shell(view, clues);
	collect_insulation(view, clues);
}

/* ---- What the compressor does ---- */

enum { STATES_OF_COMPRESSOR = 4, BUCKETS = 5 };

/* Shares of runs, hums, silent, cycles by condition, in the order of states.def. */
static const double does[MOST_STATES][STATES_OF_COMPRESSOR] = {
	{ 0.955, 0.003, 0.002, 0.04 },  /* sound */
	{ 0.004, 0.006, 0.98,  0.01 },  /* dead */
	{ 0.25,  0.20,  0.20,  0.35 },  /* grounded, and the breaker still holds */
	{ 0.003, 0.55,  0.30,  0.147 }, /* run winding open */
	{ 0.003, 0.60,  0.147, 0.25 },  /* start winding open */
	{ 0.002, 0.008, 0.87,  0.12 },  /* open inside */
	{ 0.20,  0.30,  0.25,  0.25 },  /* shorted */
	{ 0.002, 0.698, 0.10,  0.20 },  /* locked */
	{ 0.06,  0.67,  0.05,  0.22 },  /* capacitor failed */
	{ 0.72,  0.10,  0.03,  0.15 },  /* capacitor weak */
	{ 0.60,  0.15,  0.05,  0.20 },  /* low voltage */
	{ 0.80,  0.06,  0.06,  0.08 },  /* worn contacts */
};

/* Current in common as a share of RLA: none, little, usual, over, locked. */
static const double draws[STATES_OF_COMPRESSOR][BUCKETS] = {
	{ 0.005, 0.02, 0.945, 0.025, 0.005 }, /* runs */
	{ 0.05,  0.10, 0.12,  0.08,  0.65 },  /* hums */
	{ 0.96,  0.02, 0.01,  0.005, 0.005 }, /* silent */
	{ 0.25,  0.05, 0.30,  0.10,  0.30 },  /* cycles */
};

static int bucket_of(double share)
{
	return share < 0.04 ? 0 : share < 0.33 ? 1 : share < 1.15 ? 2 : share < 1.9 ? 3 : 4;
}

/* The current that a condition draws while doing something. */
static double draw(int condition, int what, int bucket)
{
	/* An open run winding leaves only the start winding to draw through its capacitor. */
	static const double start_winding_alone[BUCKETS] = { 0.05, 0.6, 0.25, 0.05, 0.05 };
	/* Fed and with a closed path, a silent motor draws nothing only between two trips. */
	static const double between_trips[BUCKETS] = { 0.35, 0.15, 0.2, 0.1, 0.2 };
	/* A motor in trouble runs heavy. */
	static const double heavy[BUCKETS] = { 0.005, 0.02, 0.705, 0.24, 0.03 };

	switch ((enum state)(STATE_CONDITION_SOUND + condition)) {
	case STATE_CONDITION_SOUND:
	case STATE_CONDITION_DEAD:
	case STATE_CONDITION_INSIDE_OPEN:
		return draws[what][bucket];
	case STATE_CONDITION_RUN_OPEN:
		return what == 1 ? start_winding_alone[bucket]
		     : what == 2 ? between_trips[bucket] : draws[what][bucket];
	case STATE_CONDITION_SHORTED:
	case STATE_CONDITION_LOW_VOLTAGE:
	case STATE_CONDITION_CAPACITOR_WEAK:
	case STATE_CONDITION_CAPACITOR_FAILED:
		if (what == 0)
			return heavy[bucket];
		/* fall through */
	default:
		return what == 2 ? between_trips[bucket] : draws[what][bucket];
	}
}

/* The same, whatever it does where that was not seen (CHOICE_NONE). */
static double draw_share(int condition, enum choice state, int bucket)
{
	double sum = 0, whole = 0;

	for (int what = 0; what < STATES_OF_COMPRESSOR; what++) {
		if (state != CHOICE_NONE && what != (int)state - (int)CHOICE_COMPRESSOR_STATE_RUNS)
			continue;
		sum += does[condition][what] * draw(condition, what, bucket);
		whole += does[condition][what];
	}
	return sum / whole;
}

/* What the outdoor fan does, by its condition in the order of states.def. */
static const struct choice_shares fan_does[] = {
	{ CHOICE_MOTOR_STATE_RUNS,   { 0.996, 0.01, 0.35, 0.03, 0.07, 0.85, 0.92 } },
	{ CHOICE_MOTOR_STATE_HUMS,   { 0.002, 0.01, 0.25, 0.37, 0.66, 0.10, 0.05 } },
	{ CHOICE_MOTOR_STATE_SILENT, { 0.002, 0.98, 0.40, 0.60, 0.27, 0.05, 0.03 } },
};

/* Shares of starts that last longer than about 1.5 s, by condition. */
static const double is_long_start[MOST_STATES] = {
	0.01, 0.3, 0.4, 0.5, 0.9, 0.3, 0.4, 0.95, 0.85, 0.25, 0.45, 0.1,
};

int clues_outcomes(enum reading reading, enum choice compressor_state, int condition,
                   double *shares)
{
	switch (reading) {
	case READING_COMPRESSOR_STATE:
		memcpy(shares, does[condition], sizeof does[condition]);
		return STATES_OF_COMPRESSOR;
	case READING_FAN_STATE:
		for (size_t i = 0; i < sizeof fan_does / sizeof *fan_does; i++)
			shares[i] = fan_does[i].share[condition];
		return sizeof fan_does / sizeof *fan_does;
	case READING_STARTING_SECONDS:
		shares[0] = is_long_start[condition];
		shares[1] = 1 - is_long_start[condition];
		return 2;
	case READING_COMMON_AMPS:
		for (int bucket = 0; bucket < BUCKETS; bucket++)
			shares[bucket] = draw_share(condition, compressor_state, bucket);
		return BUCKETS;
	default:
		return 0;
	}
}

static void collect_state_and_amps(const struct view *view, struct clues *clues)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);
	double share = view_figure(view, FIGURE_RLA_SHARE) / 100;
	double amps = view_number(view, READING_COMMON_AMPS);
	int conditions = variable_states(VARIABLE_CONDITION);

	if (state != CHOICE_NONE) {
		struct clue *clue = add_reading(view, clues, VARIABLE_CONDITION, READING_COMPRESSOR_STATE);
		for (int c = 0; clue && c < conditions; c++)
			clue->likelihood[c] = does[c][state - CHOICE_COMPRESSOR_STATE_RUNS];
	}
	if (isnan(share) && !isnan(amps) && amps < 0.3)
		share = 0; /* no current is no current, whatever the nameplate says */
	if (isnan(share))
		return;
	struct clue *clue = isnan(amps) ? add_figure(view, clues, VARIABLE_CONDITION, FIGURE_RLA_SHARE)
		: add_reading(view, clues, VARIABLE_CONDITION, READING_COMMON_AMPS);
	for (int c = 0; clue && c < conditions; c++)
		clue->likelihood[c] = draw_share(c, state, bucket_of(share));
}

static void collect_start(const struct view *view, struct clues *clues)
{
	/* Shares of starts that draw little. */
	static const double is_little[MOST_STATES] = { 0.3, 0.95, 0.3, 0.9, 0.06, 0.95, 0.1, 0.03, 0.05,
	                                               0.2, 0.3, 0.3 };
	int conditions = variable_states(VARIABLE_CONDITION);
	struct clue *clue = add_reading(view, clues, VARIABLE_CONDITION, READING_STARTING_SECONDS);

	if (clue) {
		double longer = density_below(clue->value, 1.5, hypot(0.35, density_sd(clue->plus_minus)));
		for (int c = 0; c < conditions; c++)
			clue->likelihood[c] = longer * is_long_start[c] + (1 - longer) * (1 - is_long_start[c]);
		expect(clue, 0.5);
	}
	clue = add_figure(view, clues, VARIABLE_CONDITION, FIGURE_START_CURRENT_SHARE_OF_LRA);
	if (clue) {
		double little = 1 - density_below(clue->value, 45, 10);
		for (int c = 0; c < conditions; c++)
			clue->likelihood[c] = little * is_little[c] + (1 - little) * (1 - is_little[c]);
	}
}

/* ---- Fans and duct ---- */

static void motor_load_likelihoods(double percent, double sd, double *likelihood)
{
	likelihood[0] = density_normal(percent, 80, hypot(10, sd));
	likelihood[1] = density_even(percent, 99, 110, sd);
	likelihood[2] = 0.8 * density_even(percent, 107, 150, sd) +
	                0.2 * density_even(percent, 107, 260, sd);
}

static void collect_fans(const struct view *view, struct clues *clues)
{
	struct clue *clue;

	add_choice(view, clues, VARIABLE_FAN_CONDITION, READING_FAN_STATE, ROWS(fan_does));
	clue = add_reading(view, clues, VARIABLE_FAN_MOTOR, READING_FAN_WINDING_RESISTANCE);
	if (clue) {
		bool over = clue->over_limit || clue->value > 5000;
		set_likelihoods(clue, over ? (double[]){ slip, slip, slip, 0.5 }
		                           : (double[]){ 1 - slip, 1 - slip, 1 - slip, 0.5 });
	}
	double share = view_figure(view, FIGURE_FAN_FLA_SHARE);
	if (share > 8) { /* a fan that stands draws nothing: its state says so already */
		clue = add_figure(view, clues, VARIABLE_FAN_MOTOR, FIGURE_FAN_FLA_SHARE);
		if (clue) {
			double sd = meter_sd(clue, 1);
			motor_load_likelihoods(share, sd, clue->likelihood);
			clue->likelihood[3] = 0.5 * clue->likelihood[0] + 0.5 * density_even(share, 90, 300, sd);
			expect(clue, 80);
		}
	}
	clue = add_figure(view, clues, VARIABLE_BLOWER, FIGURE_BLOWER_FLA_SHARE);
	if (clue) {
		motor_load_likelihoods(clue->value, meter_sd(clue, 1), clue->likelihood);
		/* Blowers are often run below their rating: low current is no fault. */
		clue->likelihood[0] = 0.6 * clue->likelihood[0] +
		                      0.4 * density_even(clue->value, 25, 98, 3);
		expect(clue, 75);
	}
}

static void collect_duct(const struct view *view, struct clues *clues)
{
	struct clue *clue = add_figure(view, clues, VARIABLE_DUCT, FIGURE_TOTAL_EXTERNAL_STATIC);

	if (clue) {
		/* 0.5 in. w.c. is the usual rating point. */
		double x = clue->value, sd = meter_sd(clue, 0.01);
		double good = 0.6 * density_normal(x, 0.42, hypot(0.1, sd)) +
		              0.4 * density_even(x, 0.08, 0.52, sd);
		set_likelihoods(clue, (double[]){ good, density_even(x, 0.5, 0.68, sd),
		                                  0.8 * density_even(x, 0.62, 1.1, sd) +
		                                  0.2 * density_even(x, 0.62, 2.5, sd) });
		expect(clue, 0.45);
	}
}

/*
 * Cool, dry return air: a condition.  Below about 59 °F wet bulb an orifice
 * machine has no target superheat in warm weather (RA3.2's 5 °F floor).
 */
static void collect_load(const struct view *view, struct clues *clues)
{
	double dry = view_number(view, READING_RETURN_DB);
	struct clue *clue = add_figure(view, clues, VARIABLE_LOAD, FIGURE_RETURN_WB);

	if (!clue)
		return;
	double sd = hypot(meter_sd(clue, 0.3), 1.0);
	double usual = 0.8 * density_normal(clue->value, 64, 3.5) + 0.2 * density_even(clue->value, 55, 78, sd);
	double low = density_even(clue->value, 44, 57.5, sd);
	/* A cool room with a low wet bulb is low load twice over. */
	if (!isnan(dry)) {
		usual *= density_tailed(dry, 77, 4);
		low *= density_tailed(dry, 69, 4);
	}
	set_likelihoods(clue, (double[]){ usual, low });
	expect(clue, 63);
}

void clues_collect(const struct view *view, struct clues *clues)
{
	static void (*const collectors[])(const struct view *, struct clues *) = {
		collect_line_voltage, collect_unbalance, collect_sag, collect_load_side, collect_control,
		collect_contacts, collect_leads, collect_breaker, collect_capacitors, collect_windings,
		collect_state_and_amps, collect_start, collect_fans, collect_duct, collect_load,
	};

	clues->count = 0;
	for (size_t i = 0; i < sizeof collectors / sizeof *collectors; i++)
		collectors[i](view, clues);
}
