#ifndef DIAGNOSE_NETWORK_H
#define DIAGNOSE_NETWORK_H

#include "diagnose/clues.h"
#include "diagnose/measured.h"

/*
 * The electrical and mechanical side of the unit as a small network: what
 * state each part is in, given every clue at once.
 */

struct beliefs {
	double prior[STATE_COUNT];     /* before any reading */
	double posterior[STATE_COUNT]; /* given the clues; sums to 1 within a variable */
	struct measurements measured;  /* what readings state by themselves */
};

/* `sound_again`: the readings were taken after the work. */
void network_judge(const struct view *view, const struct clues *clues, bool sound_again,
                   struct beliefs *beliefs);

#endif
