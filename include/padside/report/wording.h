#ifndef PADSIDE_WORDING_H
#define PADSIDE_WORDING_H

#include <stddef.h>

#include <padside/base/units.h>
#include <padside/diagnose/diagnose.h>

/*
 * The one place that puts the facts of an assessment into words, in the
 * reader's units: screen, report and command line all use it.  Each writes one
 * clause without a full stop, cut at a whole character where `out` is too small.
 */

enum { WORDING_SIZE = 320 }; /* holds the longest clause */

/* "superheat: 21.0 °F, about 8.2 °F expected", or "compressor when called: hums". */
void wording_evidence(const struct evidence *evidence, enum unit_system units, char *out,
                      size_t size);

/* How much a piece of evidence weighs: "strong evidence for it", …, "neutral". */
const char *wording_strength(double leans);

/* "return wet bulb above dry bulb cannot be: … (return wet bulb 75.0 °F, return dry bulb 70.0 °F)". */
void wording_contradiction(const struct contradiction *contradiction, enum unit_system units,
                           char *out, size_t size);

/* What a next check answers: "whether the contactor is called", "low charge or a restriction". */
void wording_next_check(const struct next_check *check, char *out, size_t size);

#endif
