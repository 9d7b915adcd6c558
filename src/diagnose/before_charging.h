#ifndef DIAGNOSE_BEFORE_CHARGING_H
#define DIAGNOSE_BEFORE_CHARGING_H

#include <padside/diagnose/assessment.h>

/*
 * Adds to the findings of the arrival the charge that the log shows before any was
 * moved, where it was moved then and nothing was found of it on arrival; something
 * was read as left.
 */
void before_charging_add(const struct assessment_input *input, struct assessment *assessment);

/*
 * Charge that the technician confirmed, that was moved as that asks for and reads good as left,
 * is gone: its first readings were written over, or stand nowhere.  After the judgements.
 */
void before_charging_follow(const struct assessment_input *input, struct assessment *assessment);

#endif
