#ifndef DIAGNOSE_NEXT_CHECK_H
#define DIAGNOSE_NEXT_CHECK_H

#include "diagnose/circuit.h"
#include "diagnose/network.h"

/* Fills the next checks of `diagnosis`, whose findings must be there. */
void next_check_choose(const struct view *view, const struct beliefs *beliefs,
                       const struct circuit *circuit, struct diagnosis *diagnosis);

/* Puts the reading that a contradiction names first, to be taken again, before the checks chosen. */
void next_check_again(const struct view *view, struct diagnosis *diagnosis);

#endif
