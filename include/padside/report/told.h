#ifndef PADSIDE_TOLD_H
#define PADSIDE_TOLD_H

#include <stdbool.h>

#include <padside/diagnose/assessment.h>
#include <padside/model/call.h>

/*
 * What of the findings is worth telling: one rule for reports and lists of calls.
 */

/* From this probability on a finding is called likely. */
extern const double told_likely_from;

/* Whether the technician put a fault on the call's list of what to watch. */
bool told_is_listed(const struct call *call, enum fault fault);

/*
 * Whether a finding of a stage is only possible while all that speaks for it and can be judged is
 * within its range; false where the technician or a reading by itself says it.  What was
 * seen, a contact or a filter, has no range and counts as what it is.
 */
bool told_is_idle(const struct call *call, const struct assessment *assessment, enum stage stage,
                  const struct finding *finding);

/*
 * Whether all that was judged of a finding's evidence is outside its range and nothing speaks
 * against it: whatever its probability, more readings of the same kind will not make it less.
 */
bool told_is_gauged(const struct call *call, const struct assessment *assessment, enum stage stage,
                    const struct finding *finding);

/*
 * Whether the meters cannot tell of something of a finding's evidence on which side of its range it
 * is.
 */
bool told_is_near(const struct call *call, const struct assessment *assessment, enum stage stage,
                  const struct finding *finding);

/*
 * Whether something of a finding's evidence has a range and none of it is surely outside: a part
 * that is watched while it still is what it should be.
 */
bool told_is_within(const struct call *call, const struct assessment *assessment, enum stage stage,
                    const struct finding *finding);

#endif
