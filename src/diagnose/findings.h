#ifndef DIAGNOSE_FINDINGS_H
#define DIAGNOSE_FINDINGS_H

#include "diagnose/circuit.h"
#include "diagnose/network.h"

/* From beliefs to findings: probability, level, evidence. */
void findings_write(const struct view *view, const struct clues *clues,
                    const struct beliefs *beliefs, const struct circuit *circuit,
                    struct diagnosis *diagnosis);

#endif
