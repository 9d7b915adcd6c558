#ifndef DIAGNOSE_CLUE_MAKERS_H
#define DIAGNOSE_CLUE_MAKERS_H

#include "diagnose/clues.h"

/*
 * What the files that make clues share (clues_*.c): each takes one part of
 * the machine and adds what its readings say.
 */

/* How often a lead slips off or the wrong pair is written down. */
#define clue_slip 0.004

/* A clue from a figure; NULL when the figure was not evaluated or the list is full. */
struct clue *clue_from_figure(const struct view *view, struct clues *clues,
                              enum variable variable, enum figure figure);

/* A clue from a reading; NULL when it was not taken or the list is full. */
struct clue *clue_from_reading(const struct view *view, struct clues *clues,
                               enum variable variable, enum reading reading);

/* What a sound machine shows. */
void clue_expect(struct clue *clue, double expected);

/* One standard deviation of the meter, `least` at least. */
double clue_meter_sd(const struct clue *clue, double least);

/* Likelihoods, one a state of the clue's variable. */
void clue_set(struct clue *clue, const double *likelihood);

/* Clues from a choice: for each choice its share of calls in each state. */
struct choice_shares {
	enum choice choice;        /* what is seen */
	double share[MOST_STATES]; /* how often, by state */
};

void clue_from_choice(const struct view *view, struct clues *clues, enum variable variable,
                      enum reading reading, const struct choice_shares *rows, size_t count);

#define CLUE_ROWS(table) table, sizeof table / sizeof *table

/* The parts. */
void clues_of_supply(const struct view *view, struct clues *clues);
void clues_of_capacitors(const struct view *view, struct clues *clues);
void clues_of_windings(const struct view *view, struct clues *clues);
void clues_of_motors(const struct view *view, struct clues *clues);
void clues_of_air(const struct view *view, struct clues *clues);

#endif
