#ifndef DIAGNOSE_NEXT_CHECK_H
#define DIAGNOSE_NEXT_CHECK_H

#include "diagnose/circuit.h"
#include "diagnose/network.h"

/* Fills the next checks of `diagnosis`, whose findings must be there. */
void next_check_choose(const struct view *view, const struct beliefs *beliefs,
                       const struct circuit *circuit, struct diagnosis *diagnosis);

/*
 * Puts the reading that a contradiction names first, to be taken again, before the checks chosen.
 */
void next_check_again(const struct view *view, struct diagnosis *diagnosis);

/*
 * Where the breaker was found tripped, and no tester has shown a winding grounded or all of them
 * good, both shells are read first, with the power off, whatever else was read: it is not reset on
 * a unit whose windings may be grounded (common practice; OSHA 29 CFR 1910.334(b)(2)).
 */
void next_check_before_reset(const struct view *view, struct diagnosis *diagnosis);

/* Whether the reading alone tells for sure whether a part has the fault, by its row of checks. */
bool next_check_settles(enum reading reading, enum fault fault);

/*
 * The technician confirmed the fault: nothing is asked any more to tell it from others, and what
 * brought it about is asked for, where it stands in neither stage.
 */
void next_check_settle(const struct visit *visit, enum fault fault, struct diagnosis *diagnosis);

#endif
