#ifndef PADSIDE_WORDING_H
#define PADSIDE_WORDING_H

#include <stddef.h>

#include <padside/base/units.h>
#include <padside/diagnose/diagnose.h>
#include <padside/model/charging.h>
#include <padside/model/slips.h>
#include <padside/model/tightness.h>

/*
 * The one place that puts the facts of an assessment into words, in the
 * reader's units: screen, report and command line all use it.  Each writes one
 * clause without a full stop, cut at a whole character where `out` is too small.
 */

enum { WORDING_SIZE = 320 }; /* holds the longest clause */

/* "superheat: 21.0 °F, about 8.2 °F expected", or "compressor when called: hums". */
void wording_evidence(const struct evidence *evidence, enum unit_system units, char *out,
                      size_t size);

/* On which side a piece of evidence stands: "for", "against", "neither". */
const char *wording_side(double leans);

/* How much a piece of evidence weighs: "strong evidence for it", …, "neutral". */
const char *wording_strength(double leans);

/* "measured"; "seen" where no number says it; "" for what is inferred.  Static. */
const char *wording_basis(const struct finding *finding);

/*
 * How a finding stands where that is no guess: "measured", "seen", "confirmed by A. Kern", "ruled
 * out by …", "set to watch by …"; "" for what the program infers.  `with_why`: with the
 * technician's reason, ": shell was hot", which the customer does not read.
 */
void wording_standing(const struct finding *finding, const struct call *call, bool with_why,
                      char *out, size_t size);

/*
 * "gone, measured again", or "seen again" where all that speaks for it is only looked at;
 * "still there", "not tested again"; "" for AFTER_WORK_NONE.  Static.
 */
const char *wording_after_work(const struct finding *finding);

/* What to do about a finding: what is not likely asks for readings, not for parts. */
void wording_to_do(const struct finding *finding, enum unit_system units, char *out, size_t size);

/*
 * Why the circuit was not judged: "the coil was iced", "the compressor did not run", "the condenser
 * fan did not run", "the compressor's speed was not read"; "" where nothing speaks against it.
 * Static.
 */
const char *wording_not_judged(const struct visit *visit, enum stage stage);

/*
 * "return wet bulb above dry bulb cannot be: … (return wet bulb 75.0 °F, return dry bulb 70.0 °F)".
 */
void wording_contradiction(const struct contradiction *contradiction, enum unit_system units,
                           char *out, size_t size);

/*
 * "cannot tell: …" where nothing known explains the readings of the circuit
 * (`unexplained` is more likely than not); "" otherwise.  Static.
 */
const char *wording_unexplained(const struct diagnosis *diagnosis);

/*
 * An explanation of the circuit: "low refrigerant charge", with its second fault, "a sound unit".
 */
void wording_explanation(const struct prediction *prediction, char *out, size_t size);

/*
 * What a reading should be under an explanation, in the reader's unit without its name: "121.3
 * ±6.1".
 */
void wording_predicted(const struct predicted *predicted, enum unit_system units, char *out,
                       size_t size);

/* "condensing over ambient 9.0 °F above this unit's own, 2 visits". */
void wording_own(const struct own_difference *own, enum unit_system units, char *out, size_t size);

/* The next step of setting the charge, or why there is no advice. */
void wording_charging(const struct charging *charging, enum unit_system units, char *out,
                      size_t size);

/*
 * "pressure test NOT held: the circuit leaks, down 30.0 ±1.8 psi in 15 min";
 * "" where no test was begun.
 */
void wording_nitrogen(const struct tightness_told *tightness, enum unit_system units, char *out,
                      size_t size);

/*
 * "vacuum NOT held: a leak, the rise is steady: lowest 400 microns, 2600 after 15 min; …"; ""
 * where none was drawn.
 */
void wording_vacuum(const struct tightness_told *tightness, char *out, size_t size);

/* How a test stands in a word: "held", "NOT held", "not finished", "not clear"; "".  Static. */
const char *wording_nitrogen_result(enum nitrogen_state state);
const char *wording_vacuum_result(enum vacuum_state state);

/* What a next check answers: "whether the contactor is called", "low charge or a restriction". */
void wording_next_check(const struct next_check *check, char *out, size_t size);

/* What is asked of a likely slip: "4.1 µF is about a tenth of the 45.0 µF on the plate: …?" */
void wording_slip(const struct visit *visit, enum stage stage, const struct slip *slip,
                  enum unit_system units, char *out, size_t size);

/*
 * "the unit and its lines hold 113.0 oz, and more is in now: read the scale again before it runs";
 * "" where no more is in.
 */
void wording_over_full(const struct call *call, enum unit_system units, char *out, size_t size);

#endif
