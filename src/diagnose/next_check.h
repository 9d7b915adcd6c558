#ifndef DIAGNOSE_NEXT_CHECK_H
#define DIAGNOSE_NEXT_CHECK_H

#include "diagnose/circuit.h"
#include "diagnose/network.h"

/* Fills the next checks of `diagnosis`, whose findings must be there. */
void next_check_choose(const struct view *view, const struct beliefs *beliefs,
                       const struct circuit *circuit, struct diagnosis *diagnosis);

#endif
