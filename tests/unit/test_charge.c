/*
 * Charge: hand calculations for the line set, and the charge log on simulated
 * machines that answer more weakly or strongly than the guess, slowly, and
 * with noise.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>

#include <padside/calc/charge.h>

Suite *charge_suite(void);

/*
 * By hand from ASTM B280: a 3/8 in. line of 0.032 wall has 0.0760 in² inside;
 * 50 ft of it hold 0.02639 ft³, at 62 lb/ft³ 1.636 lb or 26.2 oz.  Common
 * practice allows 0.6 oz/ft for such a line, here 0.52.
 */
static const struct {
	double outside, length, density, ounces;
} lines[] = {
	{ 0.375, 50, 62, 26.2 }, { 0.25, 10, 62, 1.953 }, { 0.5, 25, 70, 29.03 },
	{ 1.125, 1, 60, 5.51 }, { 0.3125, 0, 62, 0 }, { 0.88, 10, 60, 32.26 },
	/* ASTM B280, annealed coils: bore = outside less twice the wall, in. */
	{ 0.3125, 10, 62, 3.328 }, { 0.625, 10, 62, 16.67 }, { 0.75, 10, 62, 25.02 },
	{ 0.875, 10, 62, 33.34 }, { 1.375, 10, 62, 86.58 },
};

START_TEST(line_set_holds_what_its_volume_says)
{
	double ounces;

	ck_assert_int_eq(charge_line_set_liquid(lines[_i].outside, lines[_i].length,
	                 lines[_i].density, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, lines[_i].ounces, 0.003 * lines[_i].ounces + 1e-9);
}
END_TEST

START_TEST(line_set_refuses_what_is_no_tube)
{
	double ounces;

	ck_assert_int_eq(charge_line_set_liquid(0.45, 10, 62, &ounces), STATUS_TUBE_SIZE);
	ck_assert(isnan(ounces));
	ck_assert_int_eq(charge_line_set_liquid(0.375, -1, 62, &ounces), STATUS_NEGATIVE);
	ck_assert_int_eq(charge_line_set_liquid(0.375, 10, 0, &ounces), STATUS_NOT_POSITIVE);
	/* Vapour is light and no mistake; by hand: bore 0.311 in., 0.8 lb/ft3. */
	ck_assert_int_eq(charge_line_set_liquid(0.375, 10, 0.8, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, 0.07596 / 144 * 10 * 0.8 * 16, 1e-4);
	ck_assert_int_eq(charge_line_set_liquid(NAN, 10, 62, &ounces), STATUS_NOT_A_NUMBER);
	ck_assert(isnan(ounces));
}
END_TEST

/* --- A simulated machine -------------------------------------------------- */

enum { LOG_LENGTH = 400, MOST_MOVES = 4 };

/* Answers as first order: towards a place that the charge sets, with a time constant. */
struct simulation {
	struct charge_machine machine;
	double gain;      /* its answer as a multiple of the usual one */
	double minutes;   /* its time constant */
	double off;       /* charge less the right one, share of the factory charge */
	double target;    /* °F */
	double charge_oz; /* factory */
	double reading;   /* now, °F */
	unsigned noise;   /* state of the noise */
};

/*
 * Where the reading comes to rest; no machine shows less than none.  1 % of the
 * charge moves superheat by 1 °F and subcooling by half of it (common practice;
 * no published value is known), times the gain.
 */
static double rest_of(const struct simulation *simulation)
{
	double per_charge = simulation->machine.mode == CHARGE_BY_SUPERHEAT ? -100 : 50;

	return fmax(simulation->target + simulation->gain * per_charge * simulation->off, 0);
}

static double noise_of(struct simulation *simulation)
{
	simulation->noise = simulation->noise * 1103515245u + 12345u;
	return ((simulation->noise >> 16) % 1000 / 999.0 - 0.5) * 0.6;
}

static void run(struct simulation *simulation, double minutes)
{
	double rest = rest_of(simulation);

	simulation->reading = rest + (simulation->reading - rest) * exp(-minutes / simulation->minutes);
}

/* Follows the advice until told to hold; how many moves it took. */
static int follow(struct simulation *simulation, double *worst_pass)
{
	static struct charge_step log[LOG_LENGTH];
	double began = rest_of(simulation) - simulation->target, now = 15;
	int moves = 0;

	*worst_pass = 0;
	simulation->reading = rest_of(simulation);
	for (size_t count = 1; count < LOG_LENGTH; count++) {
		struct charge_step *step = &log[count - 1];
		struct charge_advice advice;
		double pass;

		*step = (struct charge_step){ now, 0, simulation->reading + noise_of(simulation), 1,
		                              simulation->target };
		step->response_f = fmax(step->response_f, 0);
		ck_assert_int_eq(charge_advise(&simulation->machine, log, count, &advice), STATUS_OK);
		if (advice.verdict == CHARGE_HOLD)
			return moves;
		if (advice.verdict != CHARGE_WAIT) {
			ck_assert(advice.verdict == CHARGE_ADD || advice.verdict == CHARGE_RECOVER);
			ck_assert_double_le(fabs(advice.move_oz), CHARGE_LARGEST_MOVE * simulation->charge_oz);
			step->added_oz = advice.move_oz;
			simulation->off += advice.move_oz / simulation->charge_oz;
			moves++;
			pass = (simulation->target - rest_of(simulation)) * (began > 0 ? 1 : -1);
			*worst_pass = fmax(*worst_pass, pass);
		}
		run(simulation, 2.5);
		now += 2.5;
	}
	ck_abort_msg("never at rest");
	return -1;
}

static const struct {
	enum charge_mode mode;
	double target;
} aims[] = {
	{ CHARGE_BY_SUPERHEAT, 8 }, { CHARGE_BY_SUPERHEAT, 15 }, { CHARGE_BY_SUPERHEAT, 45 },
	{ CHARGE_BY_SUBCOOLING, 8 }, { CHARGE_BY_SUBCOOLING, 10 }, { CHARGE_BY_SUBCOOLING, 22 },
};

static void check_one(size_t aim, double gain, double minutes, double off, double charge_oz,
                      bool is_charge_known)
{
	struct simulation simulation = {
		.machine = {
			.mode = aims[aim].mode, .factory_charge_oz = is_charge_known ? charge_oz : NAN,
			.capacity_ton = charge_oz / CHARGE_OZ_PER_TON, .airflow_sound = true,
		},
		.gain = gain, .minutes = minutes, .off = off, .target = aims[aim].target,
		.charge_oz = charge_oz, .noise = 7,
	};
	/* Off scale more is wrong than shows, which may cost one move more. */
	int most = MOST_MOVES + (rest_of(&simulation) < 1);
	double pass;
	int moves = follow(&simulation, &pass);
	double left = rest_of(&simulation) - simulation.target;

	ck_assert_msg(moves <= most && pass <= 3 && fabs(left) <= 3,
	              "aim %zu gain %g time constant %g off %g charge %g: %d moves, passed by %g, "
	              "%g left", aim, gain, minutes, off, charge_oz, moves, pass, left);
}

/* The promise: from ±20 % within four moves, never past the target by over 3 °F. */
START_TEST(simulated_machines_reach_their_target)
{
	static const double gains[] = { 0.5, 0.7, 1, 1.4, 2 };
	static const double minutes[] = { 1, 3, 6 };
	static const double offs[] = { -0.2, -0.1, -0.04, 0.04, 0.1, 0.2 };

	for (size_t g = 0; g < sizeof gains / sizeof *gains; g++)
		for (size_t m = 0; m < sizeof minutes / sizeof *minutes; m++)
			for (size_t o = 0; o < sizeof offs / sizeof *offs; o++) {
				check_one((size_t)_i, gains[g], minutes[m], offs[o], 60, true);
				check_one((size_t)_i, gains[g], minutes[m], offs[o], 190, false);
			}
}
END_TEST

/* --- The rules one by one ------------------------------------------------- */

static const struct charge_machine orifice = {
	.mode = CHARGE_BY_SUPERHEAT, .factory_charge_oz = 100, .capacity_ton = 3, .airflow_sound = true,
};

static struct charge_advice advice_for(const struct charge_machine *machine,
                                       const struct charge_step *steps, size_t count)
{
	struct charge_advice advice;

	ck_assert_int_eq(charge_advise(machine, steps, count, &advice), STATUS_OK);
	return advice;
}

/* The call that the first issue ends with: superheat 21 on a target of 8. */
START_TEST(low_charge_is_answered_with_a_small_step)
{
	const struct charge_step log[] = { { 15, 0, 21, 1.4, 8 }, { 20, 0, 21.2, 1.4, 8 } };
	struct charge_advice advice = advice_for(&orifice, log, 2);

	ck_assert_int_eq(advice.verdict, CHARGE_ADD);
	ck_assert(advice.move_oz >= 4 && advice.move_oz <= 8);
	ck_assert_double_eq_tol(advice.total_oz, 13.2, 1e-9);
	/* Machines answer with half to twice the usual: 6.6 to 26.4 oz even with perfect meters. */
	ck_assert(advice.total_oz - advice.total_plus_minus_oz < 6.6);
	ck_assert(advice.total_oz + advice.total_plus_minus_oz > 26.4);
	ck_assert(advice.may_overshoot);
	ck_assert_double_eq(advice.wait_minutes, CHARGE_WAIT_MINUTES);
	ck_assert_double_eq_tol((advice.after_low_f + advice.after_high_f) / 2,
	                        21.2 - advice.move_oz, 1e-9);
	ck_assert(advice.after_high_f - advice.after_low_f > 2 * 1.4);
}
END_TEST

START_TEST(one_reading_is_not_settled)
{
	const struct charge_step log[] = { { 15, 0, 21, 1.4, 8 } };
	struct charge_advice advice = advice_for(&orifice, log, 1);

	ck_assert_int_eq(advice.verdict, CHARGE_WAIT);
	ck_assert_double_eq(advice.wait_minutes, CHARGE_SETTLED_MINUTES);
	ck_assert_double_eq(advice.move_oz, 0);
}
END_TEST

/* Last readings within 1 °F over at least 5 minutes, since refrigerant last moved. */
static const struct {
	struct charge_step log[4];
	size_t count;
	bool is_settled;
} rests[] = {
	{ { { 0, 0, 20, 1, 8 }, { 5, 0, 20.9, 1, 8 } }, 2, true },
	{ { { 0, 0, 20, 1, 8 }, { 4.9, 0, 20.9, 1, 8 } }, 2, false },
	{ { { 0, 0, 20, 1, 8 }, { 5, 0, 21.1, 1, 8 } }, 2, false },
	{ { { 0, 0, 25, 1, 8 }, { 3, 0, 21, 1, 8 }, { 6, 0, 20.5, 1, 8 }, { 8, 0, 20.2, 1, 8 } },
	  4, true },
	{ { { 0, 0, 20, 1, 8 }, { 5, 0, 22, 1, 8 }, { 10, 0, 20, 1, 8 } }, 3, false },
	{ { { 0, 0, 20, 1, 8 }, { 5, 4, 20, 1, 8 } }, 2, false },
	{ { { 0, 0, 20, 1, 8 }, { 6, 4, 20, 1, 8 }, { 22, 0, 20.2, 1, 8 } }, 3, false },
	{ { { 0, 4, 20, 1, 8 }, { 11, 0, 17, 1, 8 }, { 16, 0, 17, 1, 8 } }, 3, true },
	{ { { 0, 0, 20, 1, 8 }, { 3, 0, NAN, 0, NAN }, { 6, 0, 20, 1, 8 } }, 3, true },
};

START_TEST(settled_is_told_from_moving)
{
	struct charge_advice advice = advice_for(&orifice, rests[_i].log, rests[_i].count);

	ck_assert_int_eq(advice.verdict != CHARGE_WAIT, rests[_i].is_settled);
}
END_TEST

START_TEST(nothing_is_added_where_airflow_is_off)
{
	const struct charge_step log[] = { { 15, 0, 21, 1.4, 8 }, { 20, 0, 21, 1.4, 8 } };
	struct charge_machine machine = orifice;

	machine.airflow_sound = false;
	for (int mode = 0; mode < 2; mode++) {
		machine.mode = mode ? CHARGE_BY_SUBCOOLING : CHARGE_BY_SUPERHEAT;
		struct charge_advice advice = advice_for(&machine, log, 2);
		ck_assert_int_eq(advice.verdict, CHARGE_FIX_AIRFLOW);
		ck_assert_double_eq(advice.move_oz, 0);
	}
}
END_TEST

START_TEST(the_answer_is_learned)
{
	/* 8 oz of 100 (8 %) brought 16 °F where 8 were to be expected. */
	const struct charge_step log[] = {
		{ 0, 0, 40, 1, 8 }, { 6, 8, 40, 1, 8 }, { 16, 0, 24.3, 1, 8 }, { 22, 0, 24, 1, 8 },
	};
	double usual, usual_spread, slope, spread;

	ck_assert_int_eq(charge_usual_answer(&orifice, &usual, &usual_spread), STATUS_OK);
	ck_assert_double_eq_tol(usual, -1, 1e-12);
	ck_assert_int_eq(charge_learned_answer(&orifice, log, 4, &slope, &spread), STATUS_OK);
	ck_assert_double_eq_tol(slope, -2, 0.08);
	ck_assert_double_lt(spread, usual_spread / 3);
	/* A change of the weather's target is no answer of the machine's. */
	const struct charge_step warmer[] = {
		{ 0, 0, 40, 1, 8 }, { 6, 8, 40, 1, 8 }, { 16, 0, 28, 1, 12 }, { 22, 0, 28, 1, 12 },
	};
	ck_assert_int_eq(charge_learned_answer(&orifice, warmer, 4, &slope, &spread), STATUS_OK);
	ck_assert_double_eq_tol(slope, -2, 0.08);
}
END_TEST

START_TEST(after_moving_one_waits)
{
	const struct charge_step log[] = {
		{ 0, 0, 21, 1, 8 }, { 6, 4, 21, 1, 8 }, { 8, 0, 21, 1, 8 },
	};
	struct charge_advice advice = advice_for(&orifice, log, 3);

	ck_assert_int_eq(advice.verdict, CHARGE_WAIT);
	ck_assert_double_eq_tol(advice.wait_minutes, 13, 1e-9);
	advice = advice_for(&orifice, log, 2);
	ck_assert_int_eq(advice.verdict, CHARGE_WAIT);
	ck_assert_double_eq_tol(advice.wait_minutes, 15, 1e-9);
	/* Long after it: two minutes of the same reading, three are left of the five. */
	const struct charge_step resting[] = {
		{ 0, 0, 21, 1, 8 }, { 6, 4, 21, 1, 8 }, { 18, 0, 19, 1, 8 }, { 20, 0, 19, 1, 8 },
	};
	advice = advice_for(&orifice, resting, 4);
	ck_assert_int_eq(advice.verdict, CHARGE_WAIT);
	ck_assert_double_eq_tol(advice.wait_minutes, 3, 1e-9);
}
END_TEST

/* Refrigerant went in and superheat rose: that is another fault, not the charge. */
START_TEST(the_wrong_answer_stops_the_charging)
{
	const struct charge_step log[] = {
		{ 0, 0, 25, 1, 8 }, { 6, 8, 25, 1, 8 }, { 16, 0, 29, 1, 8 }, { 22, 0, 29, 1, 8 },
	};
	struct charge_advice advice = advice_for(&orifice, log, 4);

	ck_assert_int_eq(advice.verdict, CHARGE_NO_ANSWER);
	ck_assert_double_eq(advice.move_oz, 0);
}
END_TEST

/*
 * 20 of 100 oz should move superheat by 20 °F, half to twice that on most machines (common
 * practice).  One that answers the right way with a twentieth of it has another fault; with a
 * fifth of it is a weak one, and charged on.
 */
START_TEST(hardly_an_answer_stops_the_charging_too)
{
	static const struct {
		double after_f;
		enum charge_verdict verdict;
	} rows[] = { { 39, CHARGE_NO_ANSWER }, { 40, CHARGE_NO_ANSWER }, { 36, CHARGE_ADD }, { 30, CHARGE_ADD } };

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const struct charge_step log[] = {
			{ 0, 0, 40, 0.2, 8 }, { 6, 20, 40, 0.2, 8 }, { 16, 0, rows[i].after_f, 0.2, 8 },
			{ 22, 0, rows[i].after_f, 0.2, 8 },
		};
		ck_assert_int_eq(advice_for(&orifice, log, 4).verdict, rows[i].verdict);
	}
}
END_TEST

START_TEST(overshoot_off_scale_and_much_are_said)
{
	const struct charge_step passed[] = {
		{ 0, 0, 25, 1, 12 }, { 6, 8, 25, 1, 12 }, { 16, 0, 8, 1, 12 }, { 22, 0, 8, 1, 12 },
	};
	struct charge_advice advice = advice_for(&orifice, passed, 4);
	ck_assert_int_eq(advice.verdict, CHARGE_RECOVER);
	ck_assert(advice.has_overshot && advice.move_oz < 0 && !advice.is_off_scale);

	const struct charge_step flooded[] = { { 0, 0, 0, 1, 12 }, { 6, 0, 0.4, 1, 12 } };
	advice = advice_for(&orifice, flooded, 2);
	ck_assert_int_eq(advice.verdict, CHARGE_RECOVER);
	ck_assert(advice.is_off_scale && !advice.has_overshot);
	/* At its end, and above a target that stands there too: nothing lies beyond the scale. */
	const struct charge_step low[] = { { 0, 0, 0.5, 1, 0.2 }, { 6, 0, 0.4, 1, 0.2 } };
	ck_assert(!advice_for(&orifice, low, 2).is_off_scale);

	const struct charge_step much[] = {
		{ 0, 16, 50, 1, 12 }, { 16, 16, 38, 1, 12 }, { 32, 0, 20, 1, 12 }, { 38, 0, 20, 1, 12 },
	};
	ck_assert(advice_for(&orifice, much, 4).is_much);
}
END_TEST

START_TEST(at_the_target_it_holds)
{
	const struct charge_step log[] = { { 0, 0, 9.5, 1, 8 }, { 6, 0, 9.6, 1, 8 } };
	struct charge_advice advice = advice_for(&orifice, log, 2);

	ck_assert_int_eq(advice.verdict, CHARGE_HOLD);
	ck_assert_double_eq(advice.move_oz, 0);
}
END_TEST

START_TEST(first_figure_of_the_charge_to_move)
{
	struct charge_machine machine = orifice;
	double ounces;

	ck_assert_int_eq(charge_usual_move(&machine, 21, 8, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, 13, 1e-9);
	machine.mode = CHARGE_BY_SUBCOOLING;
	ck_assert_int_eq(charge_usual_move(&machine, 15, 10, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, -10, 1e-9);
	machine.factory_charge_oz = NAN; /* 3 tons at 40 oz */
	ck_assert_int_eq(charge_usual_move(&machine, 15, 10, &ounces), STATUS_OK);
	ck_assert_double_eq_tol(ounces, -12, 1e-9);
	machine.capacity_ton = 0;
	ck_assert_int_eq(charge_usual_move(&machine, 15, 10, &ounces), STATUS_NOT_POSITIVE);
	ck_assert(isnan(ounces));
}
END_TEST

START_TEST(bad_logs_are_refused)
{
	const struct charge_step backwards[] = { { 10, 0, 20, 1, 8 }, { 5, 0, 20, 1, 8 } };
	const struct charge_step no_target[] = { { 10, 0, 20, 1, NAN } };
	const struct charge_step bad[] = { { 10, INFINITY, 20, 1, 8 } };
	struct charge_advice advice;

	ck_assert_int_eq(charge_advise(&orifice, backwards, 2, &advice), STATUS_LOG_ORDER);
	ck_assert(isnan(advice.move_oz) && isnan(advice.total_oz));
	ck_assert(!advice.may_overshoot && !advice.has_overshot && !advice.is_off_scale && !advice.is_much);
	ck_assert_int_eq(charge_advise(&orifice, no_target, 1, &advice), STATUS_LOG_EMPTY);
	ck_assert_int_eq(charge_advise(&orifice, NULL, 0, &advice), STATUS_LOG_EMPTY);
	ck_assert_int_eq(charge_advise(&orifice, bad, 1, &advice), STATUS_NOT_A_NUMBER);
}
END_TEST

/* A reading that stood at its target before the move did not pass it. */
START_TEST(leaving_the_target_is_no_overshoot)
{
	const struct charge_step at_target[] = {
		{ 0, 0, 8, 1, 8 }, { 6, 2, 8, 1, 8 }, { 16, 0, 4.9, 1, 8 }, { 22, 0, 4.9, 1, 8 },
	};
	const struct charge_step above[] = {
		{ 0, 0, 12, 1, 8 }, { 6, 8, 12, 1, 8 }, { 16, 0, 4.9, 1, 8 }, { 22, 0, 4.9, 1, 8 },
	};

	ck_assert(!advice_for(&orifice, at_target, 4).has_overshot);
	ck_assert(advice_for(&orifice, above, 4).has_overshot);
}
END_TEST

/*
 * Worked by hand from the rules of charge.h: 1.0 °F of superheat or 0.5 °F of subcooling for 1 %
 * of 100 oz, give or take half of it.  Two deviations more is the strong machine (2.0 or 1.0 °F an
 * ounce), the weak one answers with half.
 */
static const struct {
	const char *why;
	enum charge_mode mode;
	double reading, plus_minus, target;
	double move, total, total_plus_minus, after_spread; /* after_spread: half the range after */
	bool may_overshoot, is_off_scale;
} worked[] = {
	/* 14.6 / 0.5 - 13.2; the step is (13.2 + 1.5) / 2 in half ounces; after it 7 oz x 1 °F. */
	{ "low", CHARGE_BY_SUPERHEAT, 21.2, 1.4, 8, 7, 13.2, 16.0, 7.1386, true, false },
	/* No step is over 8 % of the charge. */
	{ "very low", CHARGE_BY_SUPERHEAT, 40, 1, 8, 8, 32, 34, 8.0623, true, false },
	/* 6 / 0.25 - 10; the step (5 + 1.5) / 1. */
	{ "too much", CHARGE_BY_SUBCOOLING, 15, 1, 10, -6.5, -10, 14, 3.4004, true, false },
	/* No superheat: 2.5 °F may be passed, (11.6 + 2.5) / 2. */
	{ "flooded", CHARGE_BY_SUPERHEAT, 0.4, 1, 12, -7, -11.6, 13.6, 7.0711, true, true },
	{ "nearly flooded", CHARGE_BY_SUPERHEAT, 1.1, 1, 12, -6, -10.9, 12.9, 6.0828, true, false },
	/* (2.4 + 1.5) / 2 in half ounces. */
	{ "a little low", CHARGE_BY_SUPERHEAT, 10.4, 0.1, 8, 1.5, 2.4, 2.6, 1.5033, true, false },
	/* Only the meters: the near end is farther when they are worse than the answer. */
	{ "at the target", CHARGE_BY_SUPERHEAT, 9, 3, 8, 0, 1, 7, 3, false, false },
};

START_TEST(a_step_is_as_long_as_worked_by_hand)
{
	struct charge_machine machine = orifice;
	double reading = worked[_i].reading, half = worked[_i].plus_minus;
	const struct charge_step log[] = { { 15, 0, reading, half, worked[_i].target },
	                                   { 20, 0, reading, half, worked[_i].target } };
	double slope = worked[_i].mode == CHARGE_BY_SUPERHEAT ? -1 : 0.5;

	machine.mode = worked[_i].mode;
	struct charge_advice advice = advice_for(&machine, log, 2);
	ck_assert_msg(fabs(advice.move_oz - worked[_i].move) < 1e-9, "%s: %g", worked[_i].why,
	              advice.move_oz);
	ck_assert_double_eq_tol(advice.total_oz, worked[_i].total, 1e-9);
	ck_assert_double_eq_tol(advice.total_plus_minus_oz, worked[_i].total_plus_minus, 1e-9);
	double after = reading + slope * worked[_i].move;
	ck_assert_double_eq_tol(advice.after_high_f, after + worked[_i].after_spread, 1e-3);
	ck_assert_double_eq_tol(advice.after_low_f, after - worked[_i].after_spread, 1e-3);
	ck_assert_int_eq(advice.may_overshoot, worked[_i].may_overshoot);
	ck_assert_int_eq(advice.is_off_scale, worked[_i].is_off_scale);
	ck_assert_double_eq_tol(advice.slope_f_oz, slope, 1e-12);
	ck_assert_double_eq_tol(advice.spread_f_oz, fabs(slope) / 2, 1e-12);
}
END_TEST

/* A charge guessed from the tonnage, 40 oz a ton, makes the answer less sure: 0.6 of it. */
START_TEST(a_guessed_charge_is_less_sure)
{
	struct charge_machine machine = orifice;
	double slope, spread;

	machine.factory_charge_oz = NAN;
	ck_assert_int_eq(charge_usual_answer(&machine, &slope, &spread), STATUS_OK);
	ck_assert_double_eq_tol(slope, -100 / 120.0, 1e-12);
	ck_assert_double_eq_tol(spread, 0.6 * 100 / 120, 1e-12);
}
END_TEST

/*
 * Bayes' rule for a normal prior and a normal observation (Gelman and others, Bayesian Data
 * Analysis, 3rd edition, equation 2.10): -1 ± 0.5 beforehand; 8 oz moved it by 16 °F.  No reading
 * repeats better than 0.35 °F, whatever the meter promises.
 */
START_TEST(the_answer_is_learned_by_bayes_rule)
{
	static const double plus_minus[] = { 0.2, 1.4 }, deviation[] = { 0.35, 0.7 };

	for (int i = 0; i < 2; i++) {
		const struct charge_step log[] = {
			{ 0, 0, 40, plus_minus[i], 8 }, { 6, 8, 40, plus_minus[i], 8 },
			{ 16, 0, 24, plus_minus[i], 8 }, { 22, 0, 24, plus_minus[i], 8 },
		};
		double weight = 64 / (2 * deviation[i] * deviation[i]), slope, spread;
		ck_assert_int_eq(charge_learned_answer(&orifice, log, 4, &slope, &spread), STATUS_OK);
		ck_assert_double_eq_tol(slope, (4 * -1 + weight * -2) / (4 + weight), 1e-9);
		ck_assert_double_eq_tol(spread, 1 / sqrt(4 + weight), 1e-9);
	}
	/* A quarter of the guess is the least that is believed. */
	const struct charge_step still[] = {
		{ 0, 0, 40, 0.2, 8 }, { 6, 8, 40, 0.2, 8 }, { 16, 0, 40, 0.2, 8 }, { 22, 0, 40, 0.2, 8 },
	};
	double slope, spread;
	ck_assert_int_eq(charge_learned_answer(&orifice, still, 4, &slope, &spread), STATUS_OK);
	ck_assert_double_eq_tol(slope, -0.25, 1e-12);
	/* A reading at the end of its scale teaches nothing. */
	const struct charge_step ended[] = {
		{ 0, 0, 12, 0.2, 8 }, { 6, 8, 12, 0.2, 8 }, { 16, 0, 0.9, 0.2, 8 }, { 22, 0, 0.9, 0.2, 8 },
	};
	ck_assert_int_eq(charge_learned_answer(&orifice, ended, 4, &slope, &spread), STATUS_OK);
	ck_assert_double_eq_tol(slope, -1, 1e-12);
	ck_assert_double_eq_tol(spread, 0.5, 1e-12);
}
END_TEST

/*
 * What is to be moved is known as well as the answer is: 19 of 20 machines answer within two
 * deviations of what their log taught, and the farther end goes to both sides.
 */
START_TEST(a_learned_answer_narrows_what_is_to_be_moved)
{
	const struct charge_step log[] = {
		{ 0, 0, 40, 1.4, 8 }, { 6, 8, 40, 1.4, 8 }, { 16, 0, 24, 1.4, 8 }, { 22, 0, 24, 1.4, 8 },
	};
	struct charge_advice advice = advice_for(&orifice, log, 4);
	double size = -advice.slope_f_oz, usual, usual_half;

	ck_assert_int_eq(charge_usual_range(&orifice, 16, 1.4, &usual, &usual_half), STATUS_OK);
	ck_assert_double_eq_tol(advice.total_oz, 16 / size, 1e-9);
	ck_assert_double_eq_tol(advice.total_plus_minus_oz,
	                        (16 + 1.4) / (size - 2 * advice.spread_f_oz) - 16 / size, 1e-9);
	ck_assert_double_lt(advice.total_plus_minus_oz, 0.3 * usual_half);
}
END_TEST

/*
 * A machine that answered as thought, 1 °F an ounce with good meters: what is lacking is 8 oz.
 * Adding stays a tenth short, 7.2 in half ounces; recovering takes all of it.
 */
START_TEST(adding_stays_a_tenth_short)
{
	for (int adds = 0; adds <= 1; adds++) {
		double target = adds ? 8 : 23.5;
		const struct charge_step log[] = {
			{ 0, 0, 24, 0.2, target }, { 6, 8, 24, 0.2, target }, { 16, 0, 16, 0.2, target },
			{ 22, 0, 16, 0.2, target },
		};
		struct charge_advice advice = advice_for(&orifice, log, 4);
		ck_assert_double_eq_tol(advice.slope_f_oz, -1, 1e-9);
		ck_assert_double_eq_tol(advice.total_oz, adds ? 8 : -7.5, 1e-9);
		ck_assert_double_eq_tol(advice.move_oz, adds ? 7 : -7.5, 1e-9);
	}
}
END_TEST

/* From 3 % of the charge on a wrong answer tells; over 30 % of it is a lot. */
START_TEST(little_moved_tells_nothing_and_much_is_weighed)
{
	static const double moved[] = { 2.9, 3.1, 30, 31 };

	for (int i = 0; i < 4; i++) {
		const struct charge_step log[] = {
			{ 0, 0, 25, 0.2, 8 }, { 6, moved[i], 25, 0.2, 8 }, { 16, 0, 27, 0.2, 8 },
			{ 22, 0, 27, 0.2, 8 },
		};
		struct charge_advice advice = advice_for(&orifice, log, 4);
		ck_assert_int_eq(advice.verdict, i == 0 ? CHARGE_ADD : CHARGE_NO_ANSWER);
		ck_assert_int_eq(advice.is_much, i == 3);
	}
	/* 8 oz that bring 1 °F with meters of 0.35 °F: an eighth of the usual answer is in reach. */
	const struct charge_step weak[] = {
		{ 0, 0, 25, 0.2, 8 }, { 6, 8, 25, 0.2, 8 }, { 16, 0, 24.8, 0.2, 8 }, { 22, 0, 24.8, 0.2, 8 },
	};
	ck_assert_int_eq(advice_for(&orifice, weak, 4).verdict, CHARGE_ADD);
	const struct charge_step none[] = {
		{ 0, 0, 25, 0.2, 8 }, { 6, 8, 25, 0.2, 8 }, { 16, 0, 25.2, 0.2, 8 }, { 22, 0, 25.2, 0.2, 8 },
	};
	ck_assert_int_eq(advice_for(&orifice, none, 4).verdict, CHARGE_NO_ANSWER);
}
END_TEST

/* A small machine: half an ounce short of the target is still short of it. */
START_TEST(less_than_an_ounce_is_added_not_recovered)
{
	struct charge_machine small = orifice;
	const struct charge_step log[] = { { 15, 0, 14, 0.1, 8 }, { 20, 0, 14, 0.1, 8 } };

	small.factory_charge_oz = 16;
	struct charge_advice advice = advice_for(&small, log, 2);
	ck_assert(advice.total_oz > 0 && advice.total_oz < 1);
	ck_assert_int_eq(advice.verdict, CHARGE_ADD);
	ck_assert(advice.move_oz > 0);
}
END_TEST

/* Where nothing was moved an ounce either way is no move: recovering counts as adding does. */
START_TEST(recovering_is_a_move_too)
{
	const struct charge_step log[] = {
		{ 0, 0, 4, 0.2, 12 }, { 6, -1, 4, 0.2, 12 }, { 8, 0, 4, 0.2, 12 },
	};
	struct charge_advice advice = advice_for(&orifice, log, 3);

	ck_assert_int_eq(advice.verdict, CHARGE_WAIT);
	ck_assert_double_eq_tol(advice.wait_minutes, 13, 1e-9);
	const struct charge_step one[] = {
		{ 0, 0, 20, 0.2, 12 }, { 6, 1, 20, 0.2, 12 }, { 8, 0, 20, 0.2, 12 },
	};
	ck_assert_int_eq(advice_for(&orifice, one, 3).verdict, CHARGE_WAIT);
}
END_TEST

/* The first figure with its range: the farther end goes to both sides. */
START_TEST(the_first_figure_has_a_range)
{
	double total, half;

	ck_assert_int_eq(charge_usual_range(&orifice, 13, 1.4, &total, &half), STATUS_OK);
	ck_assert_double_eq_tol(total, 13, 1e-9);
	ck_assert_double_eq_tol(half, 14.4 / 0.5 - 13, 1e-9);
	ck_assert_int_eq(charge_usual_range(&orifice, -13, 0, &total, &half), STATUS_OK);
	ck_assert_double_eq_tol(total, -13, 1e-9);
	ck_assert_double_eq_tol(half, 13, 1e-9);
	ck_assert_int_eq(charge_usual_range(&orifice, 13, -1, &total, &half), STATUS_NEGATIVE);
	ck_assert(isnan(total) && isnan(half));
	ck_assert_int_eq(charge_usual_range(&orifice, NAN, 1, &total, &half), STATUS_NOT_A_NUMBER);
	ck_assert(isnan(total));
}
END_TEST

Suite *charge_suite(void)
{
	Suite *suite = suite_create("charge");
	TCase *tests = tcase_create("charge");

	tcase_add_loop_test(tests, line_set_holds_what_its_volume_says, 0,
	                    sizeof lines / sizeof *lines);
	tcase_add_test(tests, line_set_refuses_what_is_no_tube);
	tcase_add_loop_test(tests, simulated_machines_reach_their_target, 0,
	                    sizeof aims / sizeof *aims);
	tcase_add_test(tests, low_charge_is_answered_with_a_small_step);
	tcase_add_test(tests, one_reading_is_not_settled);
	tcase_add_loop_test(tests, settled_is_told_from_moving, 0, sizeof rests / sizeof *rests);
	tcase_add_test(tests, nothing_is_added_where_airflow_is_off);
	tcase_add_test(tests, the_answer_is_learned);
	tcase_add_test(tests, after_moving_one_waits);
	tcase_add_test(tests, the_wrong_answer_stops_the_charging);
	tcase_add_test(tests, hardly_an_answer_stops_the_charging_too);
	tcase_add_test(tests, overshoot_off_scale_and_much_are_said);
	tcase_add_test(tests, at_the_target_it_holds);
	tcase_add_test(tests, first_figure_of_the_charge_to_move);
	tcase_add_test(tests, bad_logs_are_refused);
	tcase_add_test(tests, leaving_the_target_is_no_overshoot);
	tcase_add_loop_test(tests, a_step_is_as_long_as_worked_by_hand, 0,
	                    sizeof worked / sizeof *worked);
	tcase_add_test(tests, a_guessed_charge_is_less_sure);
	tcase_add_test(tests, the_answer_is_learned_by_bayes_rule);
	tcase_add_test(tests, little_moved_tells_nothing_and_much_is_weighed);
	tcase_add_test(tests, a_learned_answer_narrows_what_is_to_be_moved);
	tcase_add_test(tests, adding_stays_a_tenth_short);
	tcase_add_test(tests, recovering_is_a_move_too);
	tcase_add_test(tests, less_than_an_ounce_is_added_not_recovered);
	tcase_add_test(tests, the_first_figure_has_a_range);
	suite_add_tcase(suite, tests);
	return suite;
}
