#ifndef DIAGNOSE_CLUES_H
#define DIAGNOSE_CLUES_H

#include <padside/diagnose/diagnose.h>

/*
 * Parts of the unit, the states they can be in, and clues: what one
 * reading or figure says about the state of one part.
 */

enum variable {
#define VARIABLE(variable, sound, role) VARIABLE_##variable,
#define STATE(variable, id, ...)
#include "diagnose/states.def"
#undef STATE
#undef VARIABLE
	VARIABLE_COUNT
};

/*
 * Every state of every variable; those of one variable stand together, the sound one first,
 * which has STATE_…_FIRST as a second name.
 */
enum state {
#define VARIABLE(variable, sound, role) \
	STATE_##variable##_##sound, STATE_##variable##_FIRST = STATE_##variable##_##sound,
#define STATE(variable, id, ...) STATE_##variable##_##id,
#include "diagnose/states.def"
#undef STATE
#undef VARIABLE
	STATE_COUNT
};

enum motor { MOTOR_COMPRESSOR, MOTOR_FAN, MOTOR_BLOWER, MOTOR_COUNT };

/* What a variable is a part of: see states.def. */
enum role { ROLE_FEED, ROLE_COMPRESSOR, ROLE_FAN, ROLE_BLOWER, ROLE_ALONE, ROLE_SHOWN };

enum { MOST_STATES = 16, MOST_CLUES = 80 };

/* Each state stands below its variable, and finds room where one is kept for each of its states. */
#define VARIABLE(variable, sound, role)
#define STATE(variable, id, ...) \
	_Static_assert((int)STATE_##variable##_##id > (int)STATE_##variable##_FIRST && \
	               (int)STATE_##variable##_##id < (int)STATE_##variable##_FIRST + \
	                                              (int)MOST_STATES, \
	               #variable " has more states than MOST_STATES, or one in another's place");
#include "diagnose/states.def"
#undef STATE
#undef VARIABLE

struct state_info {
	enum variable variable; /* whose state */
	enum fault fault;       /* what it means; FAULT_NONE for a sound one */
	enum fault within;      /* a wider fault, told until this one is known to be the one */
	enum fault also;        /* a second fault that it means as well */
	enum level level;       /* what it asks for */
	double weight;          /* of the fault's prior */
	double trips;           /* share of times that it trips the breaker */
	enum reading after;     /* inferred by what it is not: acted on once this is read; or NONE */
	enum condition only;    /* the units on which it can be */
	enum condition never;   /* and on which it cannot, whatever was read */
	enum reading shown_by[2]; /* any of these, taken, tells such a unit too */
	bool line_dead;         /* there is no supply behind the breaker */
	enum state compressor, fan, blower; /* what the motor does: use state_makes() */
};

const struct state_info *state_info(enum state state);

/* The states of a variable are first, first + 1, … first + count - 1; the first is sound. */
enum state variable_first(enum variable variable);
int variable_states(enum variable variable);
enum role variable_role(enum variable variable);

/* The variable of what a motor is seen to do. */
enum variable motor_shown(enum motor motor);

/* What a motor does (a state of its shown variable) when this state is all that is wrong. */
enum state state_makes(enum state state, enum motor motor);

/* Likelihood of what was read, by the number of the state within its variable. */
struct clue {
	enum variable variable; /* about which part */
	enum figure figure;     /* FIGURE_NONE when it is a reading */
	enum reading reading;   /* READING_NONE when it is a figure */
	bool over_limit;        /* the meter showed OL */
	double value;           /* as in struct evidence */
	double plus_minus;      /* 95 % of the instruments */
	bool has_expected;      /* `expected` says something */
	double expected;        /* of a sound unit */
	double likelihood[MOST_STATES]; /* of the value, in each state */
};

struct clues {
	struct clue list[MOST_CLUES]; /* in the order of the sheets */
	int count;                    /* of them */
};

/* What is judged: the readings of a stage and their figures. */
struct view {
	const struct visit *visit;    /* the readings */
	enum stage stage;             /* of this stage */
	const struct figure_set *set; /* and their figures */
};

/* A figure's or a reading's number; NAN when there is none. */
double view_figure(const struct view *view, enum figure figure);
double view_number(const struct view *view, enum reading reading);
enum choice view_choice(const struct view *view, enum reading reading);
bool view_answers(const struct view *view, enum reading reading, enum choice choice);
bool view_over_limit(const struct view *view, enum reading reading);
bool view_applies(const struct view *view, enum condition condition);

/* Line voltage: the highest pair of three phases, or the single one; false when not taken. */
bool view_line_volts(const struct view *view, double *volts, enum reading *reading);

/* The nameplate's rating; without one the nearest usual voltage. */
double view_rated_volts(const struct view *view, double volts);

/* The maker's range of line voltage as shares of the rating; 0.9 and 1.1 where it was not read. */
double view_least_volts_share(const struct view *view, double rated);
double view_most_volts_share(const struct view *view, double rated);

/* Tolerance on the can, %; 6 where it is not stated. */
double view_capacitor_tolerance(const struct view *view);

/* The least resistance from windings to shell, MΩ: the maker's, or 0.5, inverters 0.1. */
double view_insulation_floor(const struct view *view);

/* Whether the insulation was tested with volts enough to prove it sound. */
bool view_insulation_proves(const struct view *view);

/* Whether the compressor has three windings alike, by its kind or by what was read. */
bool view_has_three_windings(const struct view *view);

/* Whether the supply has three phases, by the nameplate or by what was read. */
bool view_has_three_phases(const struct view *view);

/* Line volts at a blower motor: from here on they are there, below that there are none. */
enum { BLOWER_VOLTS_FED = 90, BLOWER_VOLTS_NONE = 30 };

/* Whether the outdoor unit is seen to run, or its contactor to be closed. */
bool view_is_fed(const struct view *view);

/*
 * Whether the breaker was found tripped and a motor behind it reads grounded:
 * what was seen to be silent was so behind the breaker, whatever the line reads by now.
 */
bool view_is_off_by_ground(const struct view *view);

/* Reads everything electrical and mechanical; `clues` is emptied first. */
void clues_collect(const struct view *view, struct clues *clues);

enum { MOST_OUTCOMES = 6 };

/*
 * What a reading may show when the motor is in condition number `condition`:
 * fills the shares and returns how many there are; 0 for readings that are
 * about something else.  `compressor_state`, CHOICE_NONE when not seen, is
 * what the current is read beside.
 */
int clues_outcomes(enum reading reading, enum choice compressor_state, int condition,
                   double *shares);

#endif
