#ifndef DIAGNOSE_CONTRADICTIONS_H
#define DIAGNOSE_CONTRADICTIONS_H

#include "diagnose/clues.h"

/* Fills the contradictions of `diagnosis`: readings that cannot both be right. */
void contradictions_find(const struct view *view, struct diagnosis *diagnosis);

#endif
