#ifndef PADSIDE_CHARGE_H
#define PADSIDE_CHARGE_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/status.h>

/*
 * Refrigerant charge: what a line set holds, and how much more to move.
 *
 * A fixed orifice is charged by superheat, which falls as refrigerant is
 * added; a valve by subcooling, which rises.  How much, in °F for each ounce,
 * differs from unit to unit.  So the answer starts from a guess by the
 * factory charge and is corrected by what this unit did when refrigerant
 * was moved: a conjugate normal estimate of one slope.
 */

/*
 * Liquid that a line holds, oz: inside area · length · density.
 *   outside_in      ACR tube, 1/4 to 1-3/8 in. (within 0.01), else TUBE_SIZE
 *   length_ft       0 or more
 *   density_lb_ft3  of the liquid at line temperature, above 0
 * Source: ASTM B280, annealed coils (ACR soft), for the bore
 * (engineeringtoolbox.com, d_1084, second-hand).  Failures also:
 * NOT_A_NUMBER, NEGATIVE, NOT_POSITIVE; *ounces is NAN then.
 */
enum status charge_line_set_liquid(double outside_in, double length_ft, double density_lb_ft3,
                                   double *ounces);

enum charge_mode {
	CHARGE_BY_SUPERHEAT,  /* fixed orifice, capillary */
	CHARGE_BY_SUBCOOLING  /* TXV, EXV */
};

struct charge_machine {
	enum charge_mode mode;    /* what is watched */
	double factory_charge_oz; /* with the line set's; NAN when unknown */
	double capacity_ton;      /* nominal, above 0; used when the charge is unknown */
	bool airflow_sound;       /* false when airflow figures are off: nothing is moved then */
};

/*
 * One line of the charge log.  The reading is what stood just before the
 * refrigerant moved at the same time: the unit has not answered yet.
 */
struct charge_step {
	double minutes;      /* clock, from any start, in order */
	double added_oz;     /* moved at that time: negative recovered, 0 none */
	double response_f;   /* superheat or subcooling, °F; NAN when not read */
	double plus_minus_f; /* of it, from the instruments (95 %), °F, 0 or more */
	double target_f;     /* for it at that time, °F; NAN when there is none */
};

/* A system has settled when its last readings stay this close for this long. */
#define CHARGE_SETTLED_F 1.0
#define CHARGE_SETTLED_MINUTES 5.0

/*
 * Readings count after so long of steady running, after a start and after refrigerant moved
 * (RA3.2).
 */
#define CHARGE_WAIT_MINUTES 15.0

/* Near enough to stop: well inside RA3.2's ±5 °F superheat and ±3 °F subcooling. */
#define CHARGE_TOLERANCE_F 2.0

/* Largest single move, share of the factory charge: common practice, "small steps". */
#define CHARGE_LARGEST_MOVE 0.08

/* Factory charge taken when it is unknown, oz per ton (common practice: 2 to 3 lb a ton). */
#define CHARGE_OZ_PER_TON 40.0

/*
 * The guess before anything is known: how much the reading moves for an ounce
 * added, °F/oz (negative for superheat), and its standard deviation.
 * 1.0 °F of superheat or 0.5 °F of subcooling for 1 % of the charge, give or
 * take half: common practice.  No published value is known, so the spread is
 * wide: units between half and twice that are usual, and the log of the
 * call itself soon outweighs it.
 * Failures: NOT_A_NUMBER, NOT_POSITIVE; both NAN then.
 */
enum status charge_usual_answer(const struct charge_machine *machine, double *slope_f_oz,
                                double *spread_f_oz);

/*
 * All that has to move, oz (negative: recover), by that guess alone, for a
 * reading and its target, °F.  A first figure, never a single step: see
 * charge_advise.
 */
enum status charge_usual_move(const struct charge_machine *machine, double response_f,
                              double target_f, double *ounces);

/*
 * The same from how far the reading is off (reading minus target, °F) and the
 * 95 % plus/minus of that (0 or more), with the total's own 95 % plus/minus:
 * what the meters may be off, and that of 20 units 19 answer with half to
 * twice the usual.  charge_advise() uses the same with what the log has shown.
 * Failures also: NEGATIVE.
 */
enum status charge_usual_range(const struct charge_machine *machine, double error_f,
                               double plus_minus_f, double *total_oz, double *plus_minus_oz);

/* The guess corrected by the log: how this unit answers, °F/oz, and the standard deviation. */
enum status charge_learned_answer(const struct charge_machine *machine,
                                  const struct charge_step *steps, size_t count,
                                  double *slope_f_oz, double *spread_f_oz);

enum charge_verdict {
	CHARGE_HOLD,        /* at the target: leave it */
	CHARGE_ADD,         /* add `move_oz`, then wait */
	CHARGE_RECOVER,     /* recover `-move_oz`, then wait */
	CHARGE_WAIT,        /* not settled yet: read again in `wait_minutes` */
	CHARGE_FIX_AIRFLOW, /* airflow first: readings mean nothing before */
	CHARGE_NO_ANSWER,   /* it does not answer as refrigerant should make it: another fault */
	CHARGE_VERDICT_COUNT
};

struct charge_advice {
	enum charge_verdict verdict; /* what to do */
	double move_oz;        /* the next step, oz; negative recovers; 0 unless told to move */
	double total_oz;       /* all that is likely still to move, oz, signed like it */
	double total_plus_minus_oz; /* of it, 95 %: the meters and how units differ */
	double after_low_f;    /* where the reading should stand after the step, °F … */
	double after_high_f;   /* … at most */
	double wait_minutes;   /* until the next reading */
	double slope_f_oz;     /* the answer used, °F/oz */
	double spread_f_oz;    /* its standard deviation */
	bool may_overshoot;    /* moving the total at once could pass the target */
	bool has_overshot;     /* the last move did pass it */
	bool is_off_scale;     /* the reading stands at its end (no superheat, no subcooling):
	                          more is off than it shows */
	bool is_much;          /* over 30 % of the charge was moved in all: weigh it in instead */
};

/*
 * What to do next.  Steps are small: never more than CHARGE_LARGEST_MOVE, and
 * never so much that a unit that answers two deviations more strongly than
 * thought would pass the target by over 1.5 °F (2.5 °F when off scale).  In
 * doubt it stays short when adding, since adding is quicker than recovering.
 * Rounded down to half ounces, the least step.
 * The caller sees to 15 minutes of steady running before the first reading (RA3.2).
 * Failures: LOG_EMPTY, LOG_ORDER, NOT_A_NUMBER, NEGATIVE, NOT_POSITIVE;
 * numbers NAN then, and the verdict CHARGE_WAIT.
 */
enum status charge_advise(const struct charge_machine *machine, const struct charge_step *steps,
                          size_t count, struct charge_advice *advice);

#endif
