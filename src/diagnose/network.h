#ifndef DIAGNOSE_NETWORK_H
#define DIAGNOSE_NETWORK_H

#include "diagnose/clues.h"

/*
 * The electrical and mechanical side of the machine as a small network: what
 * state each part is in, given every clue at once.
 */

struct beliefs {
	double prior[STATE_COUNT];     /* before any reading */
	double posterior[STATE_COUNT]; /* given the clues; sums to 1 within a variable */
};

/* `sound_again`: the readings were taken after the work. */
void network_judge(const struct view *view, const struct clues *clues, bool sound_again,
                   struct beliefs *beliefs);

/*
 * What a compressor does (a state of VARIABLE_CONDITION, or of
 * VARIABLE_FAN_CONDITION) when this state is all that is wrong.
 */
enum state network_condition_of(enum state state);

#endif
