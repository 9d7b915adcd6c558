/*
 * Supply: volts at rest and while starting, three phases, leads, breaker.
 */
#include "diagnose/clue_makers.h"

#include <math.h>

#include "diagnose/density.h"

enum { PHASES = 3 };

static const enum reading line_pairs[PHASES] = {
	READING_LINE_VOLTAGE_AB, READING_LINE_VOLTAGE_BC, READING_LINE_VOLTAGE_CA,
};
static const enum reading line_amps[PHASES] = { READING_AMPS_A, READING_AMPS_B, READING_AMPS_C };

/* The least and the most of three readings; false unless all were taken. */
static bool read_phases(const struct view *view, const enum reading *readings, double *least,
                        double *most, enum reading *lowest, enum reading *highest)
{
	*least = INFINITY;
	*most = -INFINITY;
	*lowest = *highest = readings[0];
	for (int i = 0; i < PHASES; i++) {
		double number = view_number(view, readings[i]);
		if (isnan(number))
			return false;
		if (number < *least) {
			*least = number;
			*lowest = readings[i];
		}
		if (number > *most) {
			*most = number;
			*highest = readings[i];
		}
	}
	return true;
}

bool view_line_volts(const struct view *view, double *volts, enum reading *reading)
{
	double least;
	enum reading lowest;

	if (read_phases(view, line_pairs, &least, volts, &lowest, reading))
		return true;
	*reading = READING_LINE_VOLTAGE;
	*volts = view_number(view, *reading);
	if (isnan(*volts)) {
		*reading = READING_LINE_VOLTAGE_AB;
		*volts = view_number(view, *reading);
	}
	return !isnan(*volts);
}

/* The rating; without one the nearest usual one. */
double view_rated_volts(const struct view *view, double volts)
{
	double rated = view_number(view, READING_RATED_VOLTAGE);

	if (!isnan(rated))
		return rated;
	return volts > 300 ? 460 : volts < 219 && volts > 100 ? 215 : 230;
}

/* A maker's limit as a share of the rating; `usual` where none was read. */
static double limit_share(const struct view *view, enum reading limit, double rated, double usual)
{
	double volts = view_number(view, limit);

	return isnan(volts) ? usual : volts / rated;
}

double view_least_volts_share(const struct view *view, double rated)
{
	return limit_share(view, READING_VOLTAGE_LOW, rated, 0.9);
}

double view_most_volts_share(const struct view *view, double rated)
{
	return limit_share(view, READING_VOLTAGE_HIGH, rated, 1.1);
}

/* Line voltage as a share of the rating: the maker's range, else ±10 % (NEMA MG 1). */
static void collect_line_voltage(const struct view *view, struct clues *clues)
{
	double volts;
	enum reading reading;

	if (!view_line_volts(view, &volts, &reading))
		return;
	double rated = view_rated_volts(view, volts), share = volts / rated;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_SUPPLY, reading);
	double sd = clue ? clue_meter_sd(clue, 0.004 * rated) / rated : 0.01;
	double least = view_least_volts_share(view, rated);
	double most = view_most_volts_share(view, rated);
	double good = 0.7 * density_normal(share, 1.0, hypot(0.03, sd)) +
	              0.3 * density_even(share, least, most, sd);
	double none = density_normal(share, 0, 0.04) * 1.6 + 0.1 * density_even(share, 0, 0.6, sd);
	CLUE_SAY(clue, { OTHERS(SUPPLY), good }, NO_SUPPLY(none),
	         { STATE_SUPPLY_LOW, density_even(share, least - 0.3, least, sd) },
	         { STATE_SUPPLY_HIGH, density_even(share, most, most + 0.25, sd) });
	if (clue)
		clue_expect(clue, rated);
}

/*
 * 1 % is the recommended limit, over 5 % do not run (NEMA MG 1-14.36).  A lost
 * leg reads half against the live ones at rest; turning, the motor feeds it
 * nearly full, so that a small unbalance does not clear it.
 */
static void collect_unbalance(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_SUPPLY, FIGURE_VOLTAGE_UNBALANCE);

	if (!clue)
		return;
	double sd = clue_meter_sd(clue, 0.1);
	double good = 2 * density_normal(clue->value, 0, hypot(0.7, sd));
	CLUE_SAY(clue, { OTHERS(SUPPLY), good },
	         { STATE_SUPPLY_UNBALANCED, 0.9 * density_even(clue->value, 2, 9, sd) +
	                                    0.1 * density_even(clue->value, 2, 18, sd) },
	         { STATE_SUPPLY_PHASE_LOST, 0.96 * density_even(clue->value, 15, 100, sd) +
	                                    0.04 * density_even(clue->value, 1, 15, sd) });
	clue_expect(clue, 0);
}

/*
 * One leg without current beside two with: the line is open.  3 % of volts is 20 to 30 % of amps.
 */
static void collect_phase_amps(const struct view *view, struct clues *clues)
{
	double least, most;
	enum reading lowest, highest;

	if (!read_phases(view, line_amps, &least, &most, &lowest, &highest) || most < 1)
		return;
	double share = least / most;
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_SUPPLY, lowest);
	CLUE_SAY(clue, { OTHERS(SUPPLY), 0.97 * density_tailed(share, 0.98, 0.04) + 0.003 },
	         { STATE_SUPPLY_UNBALANCED, density_even(share, 0.5, 0.95, 0.02) + 0.003 },
	         { STATE_SUPPLY_PHASE_LOST, 2 * density_normal(share, 0, 0.04) + 1e-6 });
	if (clue)
		clue_expect(clue, most);
}

/*
 * Right at rest and far down while starting: something between panel and unit
 * gives way.  At rest is the line, or what is behind the closed contactor; where
 * neither was read, the rating, and then a weak supply explains it as well.
 */
static void collect_sag(const struct view *view, struct clues *clues)
{
	double rest, starting = view_number(view, READING_LINE_VOLTAGE_STARTING);
	enum reading reading;
	bool is_known = view_line_volts(view, &rest, &reading);

	if (isnan(starting))
		return;
	if (!is_known && view_number(view, READING_LOAD_SIDE_VOLTAGE) > 150) {
		rest = view_number(view, READING_LOAD_SIDE_VOLTAGE);
		is_known = true;
	}
	if (!is_known)
		rest = view_number(view, READING_RATED_VOLTAGE);
	if (isnan(rest) || rest < 50)
		return;
	double sag = 100 * (1 - starting / rest);
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_SUPPLY,
	                                      READING_LINE_VOLTAGE_STARTING);
	double sd = clue ? 100 * clue_meter_sd(clue, 0.005 * rest) / rest : 1;
	double good = density_normal(sag, 6, hypot(is_known ? 3.5 : 5, sd)) + 2e-4;
	double deep = density_even(sag, 11, 45, sd);
	CLUE_SAY(clue, { OTHERS(SUPPLY), good }, { STATE_SUPPLY_LOW, 0.6 * deep + 0.4 * good },
	         { STATE_SUPPLY_BAD_CONNECTION, 0.95 * deep + 0.05 * good });
	if (clue)
		clue_expect(clue, 0.94 * rest);
}

/*
 * A three-phase scroll that turns backwards makes no pressure difference and
 * draws far below its table.  Source: scroll makers' application guides.
 */
static void collect_rotation(const struct view *view, struct clues *clues)
{
	const double atmosphere = 14.7;
	double suction = view_number(view, READING_SUCTION_PRESSURE);
	double liquid = view_number(view, READING_LIQUID_PRESSURE);

	if (!view_has_three_phases(view) || isnan(suction) || isnan(liquid) ||
	    view_choice(view, READING_COMPRESSOR_STATE) != CHOICE_COMPRESSOR_STATE_RUNS)
		return;
	double ratio = (liquid + atmosphere) / fmax(suction + atmosphere, 1);
	struct clue *clue = clue_from_reading(view, clues, VARIABLE_SUPPLY, READING_LIQUID_PRESSURE);
	/* One in a hundred is a compressor that turns the right way and does not pump. */
	CLUE_SAY(clue, { OTHERS(SUPPLY), density_normal(ratio, 2.9, 0.6) + 0.012 },
	         { STATE_SUPPLY_REVERSED, 2 * density_normal(ratio, 1, 0.18) + 1e-6 });
}

static void collect_leads(const struct view *view, struct clues *clues)
{
	static const struct answer looks[] = {
		{ READING_TERMINAL_CONDITION, CHOICE_TERMINALS_SOUND, {
			{ OTHERS(LEADS), 0.95 }, { STATE_LEADS_AGEING, 0.05 }, { STATE_LEADS_OPEN, 0.15 } } },
		{ READING_TERMINAL_CONDITION, CHOICE_TERMINALS_LOOSE, {
			{ OTHERS(LEADS), 0.02 }, { STATE_LEADS_AGEING, 0.40 }, { STATE_LEADS_OPEN, 0.10 } } },
		{ READING_TERMINAL_CONDITION, CHOICE_TERMINALS_CORRODED, {
			{ OTHERS(LEADS), 0.025 }, { STATE_LEADS_AGEING, 0.50 }, { STATE_LEADS_OPEN, 0.05 } } },
		{ READING_TERMINAL_CONDITION, CHOICE_TERMINALS_BURNT, {
			{ OTHERS(LEADS), 0.003 }, { STATE_LEADS_AGEING, 0.045 },
			{ STATE_LEADS_OPEN, 0.40 } } },
		{ READING_TERMINAL_CONDITION, CHOICE_TERMINALS_BROKEN, {
			{ OTHERS(LEADS), 0.002 }, { STATE_LEADS_AGEING, 0.005 },
			{ STATE_LEADS_OPEN, 0.30 } } },
	};

	clues_from_answers(view, clues, CLUE_ROWS(looks));
}

/* A breaker that tripped: the supply is off, and the network asks what tripped it. */
static void collect_breaker(const struct view *view, struct clues *clues)
{
	static const struct answer answers[] = {
		{ READING_BREAKER_TRIPPED, CHOICE_ANSWER_YES, {
			{ OTHERS(SUPPLY), 0.03 }, NO_SUPPLY(0.45), { STATE_SUPPLY_LOW, 0.04 },
			{ STATE_SUPPLY_UNBALANCED, 0.05 }, { STATE_SUPPLY_PHASE_LOST, 0.1 } } },
		{ READING_BREAKER_TRIPPED, CHOICE_ANSWER_NO, {
			{ OTHERS(SUPPLY), 0.97 }, NO_SUPPLY(0.55) } },
		/* One that holds says that nothing behind it is grounded. */
		{ READING_BREAKER_TRIPPED, CHOICE_ANSWER_NO, {
			{ OTHERS(INSULATION), 0.97 }, { STATE_INSULATION_GROUNDED, 0.3 } } },
		{ READING_BREAKER_TRIPPED, CHOICE_ANSWER_NO, {
			{ OTHERS(FAN_INSULATION), 0.97 }, { STATE_FAN_INSULATION_GROUNDED, 0.3 } } },
	};
	/* Found tripped, with the line on again by now: what tripped it is still asked. */
	static const struct answer reset[] = {
		{ READING_BREAKER_TRIPPED, CHOICE_ANSWER_YES, {
			{ OTHERS(INSULATION), 0.05 }, { STATE_INSULATION_WEAK, 0.08 },
			{ STATE_INSULATION_DRIVEN_WEAK, 0.08 }, { STATE_INSULATION_GROUNDED, 0.6 } } },
		{ READING_BREAKER_TRIPPED, CHOICE_ANSWER_YES, {
			{ OTHERS(FAN_INSULATION), 0.05 }, { STATE_FAN_INSULATION_GROUNDED, 0.6 } } },
	};
	double volts;
	enum reading reading;

	clues_from_answers(view, clues, CLUE_ROWS(answers));
	/* Where one motor reads grounded, that is what tripped it. */
	if (view_line_volts(view, &volts, &reading) && volts > 150 && !view_is_off_by_ground(view))
		clues_from_answers(view, clues, CLUE_ROWS(reset));
}

void clues_of_supply(const struct view *view, struct clues *clues)
{
	collect_line_voltage(view, clues);
	collect_unbalance(view, clues);
	collect_phase_amps(view, clues);
	collect_sag(view, clues);
	collect_rotation(view, clues);
	collect_leads(view, clues);
	collect_breaker(view, clues);
}
