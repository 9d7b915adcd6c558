#ifndef PADSIDE_TIGHTNESS_H
#define PADSIDE_TIGHTNESS_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/clock.h>
#include <padside/base/status.h>
#include <padside/calc/refrigerant.h>

/*
 * Is it tight, is it dry, how much goes in: nitrogen test, evacuation, weighing
 * in, recovery cylinders.
 *
 * Units: psig, °F, microns of mercury absolute, minutes, oz, lb, ft.
 * Failures everywhere: NOT_A_NUMBER, and what is said at each function; outputs
 * are NAN then.
 */

/* ---- Nitrogen ---- */

/*
 * Pressure, psig, that a closed amount of nitrogen at `psig` and `from_f` has at
 * `to_f` (-60 to 250 °F): P2 = (P1 + 14.7) T2 / T1 − 14.7 in degrees Rankine.
 * Source: physics, the gas law at constant volume.  Failures: OUT_OF_RANGE;
 * NOT_POSITIVE for a pressure at or under full vacuum.
 */
enum status tightness_pressure_at(double psig, double from_f, double to_f, double *at_psig);

enum tightness {
	TIGHTNESS_UNDECIDED, /* too short, or too near the instruments' error */
	TIGHTNESS_TIGHT,     /* it holds (and is dry, of a vacuum) */
	TIGHTNESS_MOIST,     /* a vacuum rises and levels off: water boils off */
	TIGHTNESS_LEAKING    /* it does not hold */
};

/* A nitrogen test: pressure and gas temperature at its beginning and end. */
struct nitrogen_test {
	double start_psig, start_f; /* when it was closed off */
	double end_psig, end_f;     /* at the last look */
	double minutes;             /* between them */
	double plus_minus_psi;      /* of a difference of two such readings, 95 % */
};

/*
 * Least time of a nitrogen test, minutes: Rheem P16 installation instructions, p. 34 (15 minutes).
 */
#define TIGHTNESS_NITROGEN_MINUTES 15.0

/* The same for A2L line sets: Trane 5TTR5018, section 8, p. 8 (60 minutes, no drop). */
#define TIGHTNESS_NITROGEN_A2L_MINUTES 60.0

/*
 * More than most low sides are stamped for, psig: 235 to 250 is common, few bear 450 (common
 * practice).
 */
#define TIGHTNESS_LOW_SIDE_PSIG 250.0

/*
 * What the test shows: *drop_psi is what was lost once the temperature is taken
 * out (negative: gained).  Leaking when that is more than the plus/minus, tight
 * when it is not and the test lasted at least `least_minutes`.
 * Failures: those of tightness_pressure_at(); NEGATIVE for the time or the ±.
 */
enum status tightness_judge_nitrogen(const struct nitrogen_test *test, double least_minutes,
                                     double *drop_psi, enum tightness *tightness);

/* ---- Vacuum ---- */

/* One look at the gauge after the pump was closed off. */
struct vacuum_point {
	double minutes; /* since any start, in order */
	double microns; /* absolute, above 0 */
};

/*
 * Where it must stay, microns, and for how long, minutes: Rheem P16, p. 34 (500
 * for 15 minutes); Lennox HSXA19, p. 15 (500).
 */
#define TIGHTNESS_MICRONS 500.0
#define TIGHTNESS_VACUUM_MINUTES 15.0

/* Of the gauge, as a share of what it shows, 95 %: common practice. */
#define TIGHTNESS_GAUGE_SHARE 0.1

/*
 * Tells a decay apart: under the limit to the end of the time: tight.  Over it
 * and still rising about as fast at the end as at the beginning: a leak, since
 * air comes in at a steady rate.  Over it and levelled off: wet, since water
 * boils off up to its vapour pressure.  Anything between, fewer than three
 * looks or less than 10 minutes: undecided.  Source of the two shapes:
 * Johnson Controls YC4, p. 31; the shares by which they are told are common
 * practice.  Failures: LOG_EMPTY, LOG_ORDER, NOT_POSITIVE.
 */
enum status tightness_judge_vacuum(const struct vacuum_point *points, size_t count,
                                   enum tightness *tightness);

/* ---- Weighing in ---- */

/*
 * The whole charge by weight, oz: nameplate + what the maker adds for each foot
 * of line set over the length that the nameplate covers (a shorter one takes
 * nothing off).  Failures: NEGATIVE; NOT_POSITIVE for the nameplate.
 */
enum status tightness_weigh_in(double factory_oz, double line_ft, double precharged_ft,
                               double oz_per_ft, double *total_oz);

/* ---- Recovery cylinders ---- */

/* Share of its water capacity that a cylinder may be filled to with liquid. */
#define TIGHTNESS_FILL_SHARE 0.8

/*
 * Pounds of a refrigerant that a recovery cylinder may hold: 0.8 · water
 * capacity (lb) · its density over that of water, both at 77 °F.  0.8 alone
 * overfills with R-32 and R-454B, which are lighter than water.
 * Source: rule of wholesalers and certification exams, second-hand; CoolProp 8.0.0 for
 * the refrigerants, 62.24 lb/ft³ for water.  Failures: NOT_POSITIVE.
 */
enum status tightness_cylinder_allowed(enum refrigerant refrigerant, double water_capacity_lb,
                                       double *allowed_lb);

/*
 * Pounds that still go in, from tare and weight (0 or more): negative when it is
 * over full.  Failures also: NEGATIVE.
 */
enum status tightness_cylinder_room(enum refrigerant refrigerant, double water_capacity_lb,
                                    double tare_lb, double weight_lb, double *room_lb);

/*
 * Whether a cylinder's pressure test is in date: 5 years from `tested`, to the
 * day (a unit maker's GSZ16 instructions, p. 3).  False when either time is not known.
 */
bool tightness_cylinder_in_date(wall_time tested, wall_time now);

#endif
