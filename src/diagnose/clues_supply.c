/*
 * Supply and control: line, call, contactor, leads, breaker.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include "diagnose/density.h"

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
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_SUPPLY, FIGURE_VOLTAGE_DEVIATION);

	if (clue) {
		clue_expect(clue, 0);
		voltage_likelihoods(1 + clue->value / 100, clue_meter_sd(clue, 0.4) / 100, clue->likelihood);
		return;
	}
	/* No rating: 208/230 V machines take 197 to 253 V (AHRI 210/240, from memory). */
	enum reading reading = view_applies(view, CONDITION_THREE_PHASE) ? READING_LINE_VOLTAGE_AB
	                                                                 : READING_LINE_VOLTAGE;
	clue = isnan(rated) ? clue_from_reading(view, clues, VARIABLE_SUPPLY, reading) : NULL;
	if (!clue)
		return;
	double nominal = clue->value > 300 ? 460 : clue->value < 219 ? 215 : 230;
	voltage_likelihoods(clue->value / nominal, 0.01, clue->likelihood);
}

static void collect_unbalance(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_SUPPLY, FIGURE_VOLTAGE_UNBALANCE);

	if (!clue)
		return;
	/* 1 % is the recommended limit, over 5 % do not run (NEMA MG 1-14.36). */
	double sd = clue_meter_sd(clue, 0.1);
	double good = 2 * density_normal(clue->value, 0, hypot(0.7, sd));
	double bad = 0.7 * density_even(clue->value, 2, 7, sd) +
	             0.3 * density_even(clue->value, 2, 60, sd);
	clue_set(clue, (double[]){ good, good, good, good, bad });
	clue_expect(clue, 0);
}

static void collect_sag(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_SUPPLY, FIGURE_STARTING_SAG);

	if (!clue)
		return;
	double sd = clue_meter_sd(clue, 0.5);
	double good = density_tailed(clue->value, 6, hypot(3.5, sd));
	double low = 0.6 * density_even(clue->value, 11, 40, sd) + 0.4 * good;
	clue_set(clue, (double[]){ good, good, low, good, good });
	clue_expect(clue, 6);
}

/*
 * Voltage behind the contactor against the rating, where the line side was not
 * read: none may be no supply or no call; else it is what the supply gives.
 */
static void add_load_side_alone(const struct view *view, struct clues *clues, double share)
{
	double by_supply[MOST_STATES], any = 0;
	double none = 1.6 * density_normal(share, 0, 0.05);
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_SUPPLY, READING_LOAD_SIDE_VOLTAGE);

	if (!clue)
		return;
	voltage_likelihoods(share, 0.006, by_supply);
	for (int s = 0; s < variable_states(VARIABLE_SUPPLY); s++)
		clue->likelihood[s] = 0.9 * by_supply[s] + 0.1 * none;
	any = 0.85 * by_supply[0] + 0.05 * by_supply[1] + 0.1 * by_supply[2];
	clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_LOAD_SIDE_VOLTAGE);
	if (clue)
		clue_set(clue, (double[]){ any, none + clue_slip * any, none + clue_slip * any });
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
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_LOAD_SIDE_VOLTAGE);
	if (clue) {
		clue_set(clue, (double[]){ closed + 0.01 * open, open + clue_slip * closed,
		                                  open + clue_slip * closed });
		clue_expect(clue, line);
	}
	clue = clue_from_reading(view, clues, VARIABLE_CONTACTS, READING_LOAD_SIDE_VOLTAGE);
	if (clue) {
		double either = closed + open;
		double worn = 0.8 * either + 0.2 * density_even(share, 0.1, 0.97, 0.01);
		clue_set(clue, (double[]){ either, either, worn });
		clue_expect(clue, line);
	}
}

static void collect_control(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_CONTROL_VOLTAGE);

	if (clue) {
		double v = clue->value, sd = clue_meter_sd(clue, 0.2);
		double good = 0.7 * density_normal(v, 25.5, 1.8) + 0.3 * density_even(v, 20, 29, sd);
		double none = 0.75 * 2 * density_normal(v, 0, 1.2) + 0.25 * density_even(v, 0, 20, sd);
		clue_set(clue, (double[]){ good, none, good });
		clue_expect(clue, 25);
	}
	clue = clue_from_reading(view, clues, VARIABLE_CONTROL, READING_CONTACTOR_COIL_RESISTANCE);
	if (clue) {
		double open = clue->over_limit || clue->value > 1000 ? 1 : 0;
		double good = open > 0 ? clue_slip : 1 - clue_slip, bad = open > 0 ? 0.97 : 0.03;
		clue_set(clue, (double[]){ good, good, bad });
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
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_CONTACTS, READING_CONTACTOR_DROP);

	if (clue) {
		/* Over 0.5 V: replace. */
		double v = clue->value, sd = clue_meter_sd(clue, 0.02);
		double good = 2 * density_normal(v, 0, hypot(0.16, sd));
		double pitted = 0.5 * good + 0.5 * density_even(v, 0.2, 0.5, sd);
		double worn = 0.6 * density_even(v, 0.5, 3, sd) + 0.3 * density_even(v, 0.5, 60, sd) +
		              0.1 * pitted;
		clue_set(clue, (double[]){ good, pitted, worn });
		clue_expect(clue, 0.1);
	}
	clue_from_choice(view, clues, VARIABLE_CONTACTS, READING_CONTACTOR_CONDITION, CLUE_ROWS(looks));
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

	clue_from_choice(view, clues, VARIABLE_LEADS, READING_TERMINAL_CONDITION, CLUE_ROWS(looks));
}

/* A breaker that tripped: the supply is off, and the network asks what tripped it. */
static void collect_breaker(const struct view *view, struct clues *clues)
{
	static const double tripped[] = { 0.03, 0.45, 0.04, 0.03, 0.05 };
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_SUPPLY, READING_BREAKER_TRIPPED);

	for (int s = 0; clue && s < variable_states(VARIABLE_SUPPLY); s++)
		clue->likelihood[s] = clue->value != 0 ? tripped[s] : 1 - tripped[s];
	/* One that holds says that nothing behind it is grounded. */
	if (!clue || clue->value != 0)
		return;
	clue = clue_from_reading(view, clues, VARIABLE_INSULATION, READING_BREAKER_TRIPPED);
	if (clue)
		clue_set(clue, (double[]){ 0.97, 0.97, 0.95, 0.3 });
	clue = clue_from_reading(view, clues, VARIABLE_FAN_INSULATION, READING_BREAKER_TRIPPED);
	if (clue)
		clue_set(clue, (double[]){ 0.97, 0.3 });
}

void clues_of_supply(const struct view *view, struct clues *clues)
{
	collect_line_voltage(view, clues);
	collect_unbalance(view, clues);
	collect_sag(view, clues);
	collect_load_side(view, clues);
	collect_control(view, clues);
	collect_contacts(view, clues);
	collect_leads(view, clues);
	collect_breaker(view, clues);
}
