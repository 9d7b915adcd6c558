#ifndef DIAGNOSE_CLUES_H
#define DIAGNOSE_CLUES_H

#include <padside/diagnose/diagnose.h>

/*
 * Parts of the machine, the states they can be in, and clues: what one
 * reading or figure says about the state of one part.
 */

enum variable {
	VARIABLE_SUPPLY, VARIABLE_CONTROL, VARIABLE_CONTACTS, VARIABLE_LEADS,
	VARIABLE_COMPRESSOR, VARIABLE_CAPACITOR, VARIABLE_INSULATION,
	VARIABLE_FAN_CAPACITOR, VARIABLE_FAN_MOTOR, VARIABLE_FAN_INSULATION,
	VARIABLE_BLOWER, VARIABLE_DUCT, VARIABLE_LOAD,
	VARIABLE_CONDITION,     /* what the compressor does, by all that feeds it */
	VARIABLE_FAN_CONDITION, /* what the outdoor fan does */
	VARIABLE_COUNT
};

/* Every state of every variable; those of one variable stand together. */
enum state {
#define STATE(variable, id, fault, level, weight) STATE_##variable##_##id,
#include "diagnose/states.def"
#undef STATE
	STATE_COUNT
};

enum { MOST_STATES = 12, MOST_CLUES = 48 };

struct state_info {
	enum variable variable; /* whose state */
	enum fault fault;       /* what it means */
	enum level level;       /* what it asks for */
	double weight;          /* of the fault's prior */
};

const struct state_info *state_info(enum state state);

/* The states of a variable are first, first + 1, … first + count - 1. */
enum state variable_first(enum variable variable);
int variable_states(enum variable variable);

/* Likelihood of what was read, by the number of the state within its variable. */
struct clue {
	enum variable variable; /* about which part */
	enum figure figure;     /* FIGURE_NONE when it is a reading */
	enum reading reading;   /* READING_NONE when it is a figure */
	bool over_limit;        /* the meter showed OL */
	double value;           /* as in struct evidence */
	double plus_minus;      /* 95 % of the instruments */
	bool has_expected;      /* `expected` says something */
	double expected;        /* of a sound machine */
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
bool view_over_limit(const struct view *view, enum reading reading);
bool view_applies(const struct view *view, enum condition condition);

/* Reads everything electrical and mechanical; `clues` is emptied first. */
void clues_collect(const struct view *view, struct clues *clues);

enum { MOST_OUTCOMES = 5 };

/*
 * What a reading may show when the motor is in condition number `condition`:
 * fills the shares and returns how many there are; 0 for readings that are
 * about something else.  `compressor_state`, CHOICE_NONE when not seen, is
 * what the current is read beside.
 */
int clues_outcomes(enum reading reading, enum choice compressor_state, int condition,
                   double *shares);

#endif
