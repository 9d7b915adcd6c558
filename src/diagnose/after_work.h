#ifndef DIAGNOSE_AFTER_WORK_H
#define DIAGNOSE_AFTER_WORK_H

#include <padside/diagnose/assessment.h>

/*
 * What became of a finding of the arrival, given both diagnoses and figures of
 * `assessment`; something was read as left.
 */
enum after_work after_work_of(const struct visit *visit, const struct assessment *assessment,
                              const struct finding *finding);

/* Takes out findings as left that rest on values copied from the arrival alone. */
void after_work_drop_copied(const struct visit *visit, struct diagnosis *left);

/*
 * What the technician confirmed, nothing as found shows and was read anew after that, as left
 * and good, is gone: the readings that showed it were written over.  Not a danger that keeps
 * the unit off.  After the judgements.
 */
void after_work_follow_confirmed(const struct call *call, struct assessment *assessment);

/*
 * Puts what would show whether a finding to act on is repaired, and was not
 * taken again, before the other next checks of the stage as left.
 */
void after_work_ask_again(const struct visit *visit, struct assessment *assessment);

#endif
