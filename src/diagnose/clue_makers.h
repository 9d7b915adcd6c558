#ifndef DIAGNOSE_CLUE_MAKERS_H
#define DIAGNOSE_CLUE_MAKERS_H

#include "diagnose/clues.h"

/*
 * What the files that make clues share (clues_*.c): each takes one part of
 * the unit and adds what its readings say.
 */

/* How often a lead slips off or the wrong pair is written down. */
#define clue_slip 0.004

/* A clue from a figure; NULL when the figure was not evaluated or the list is full. */
struct clue *clue_from_figure(const struct view *view, struct clues *clues,
                              enum variable variable, enum figure figure);

/* A clue from a reading; NULL when it was not taken or the list is full. */
struct clue *clue_from_reading(const struct view *view, struct clues *clues,
                               enum variable variable, enum reading reading);

/* What a sound unit shows. */
void clue_expect(struct clue *clue, double expected);

/* One standard deviation of the meter, `least` at least. */
double clue_meter_sd(const struct clue *clue, double least);

/*
 * What a clue says of the states of its part: how likely the value is in each.
 * OTHERS() stands first: the sound state, and every one that the row does not name.
 */
struct says {
	enum state state;  /* of the clue's variable */
	double likelihood; /* of the value in it, above 0 */
};

#define OTHERS(variable) STATE_##variable##_FIRST

/* Fills the clue; asserts that every state is the variable's, and OTHERS() the first. */
void clue_say(struct clue *clue, const struct says *says, size_t count);

/* CLUE_SAY(clue, { OTHERS(DUCT), good }, { STATE_DUCT_HIGH, high }); NULL: no clue. */
#define CLUE_SAY(clue, ...) \
	clue_say(clue, (const struct says[]){ __VA_ARGS__ }, \
	         sizeof (const struct says[]){ __VA_ARGS__ } / sizeof(struct says))

/* No supply, whatever hangs on it, with one likelihood. */
#define NO_SUPPLY(likelihood) \
	{ STATE_SUPPLY_NONE, likelihood }, { STATE_SUPPLY_NONE_TO_ALL, likelihood }

enum { MOST_SAYS = 12 };

/* What an answer (a choice, or CHOICE_ANSWER_YES and _NO) says; a likelihood of 0 ends the list. */
struct answer {
	enum reading reading;        /* the question */
	enum choice choice;          /* the answer */
	struct says says[MOST_SAYS]; /* how often it is given in each state */
};

/* A clue for every answer of the table that was given. */
void clues_from_answers(const struct view *view, struct clues *clues,
                        const struct answer *answers, size_t count);

#define CLUE_ROWS(table) table, sizeof table / sizeof *table

/* The parts. */
void clues_of_control(const struct view *view, struct clues *clues);
void clues_of_supply(const struct view *view, struct clues *clues);
void clues_of_capacitors(const struct view *view, struct clues *clues);
void clues_of_windings(const struct view *view, struct clues *clues);
void clues_of_motors(const struct view *view, struct clues *clues);
void clues_of_blower(const struct view *view, struct clues *clues);
void clues_of_air(const struct view *view, struct clues *clues);

#endif
