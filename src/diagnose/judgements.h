#ifndef DIAGNOSE_JUDGEMENTS_H
#define DIAGNOSE_JUDGEMENTS_H

#include <padside/diagnose/diagnose.h>

/*
 * Lets the findings follow the judgements of the call: their levels and their
 * order; what was ruled out leaves its share to the other explanations.  `all`:
 * also adds what was confirmed or is to be watched and no reading shows.
 */
void judgements_follow(const struct call *call, bool all, struct diagnosis *diagnosis);

#endif
