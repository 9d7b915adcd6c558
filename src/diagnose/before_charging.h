#ifndef DIAGNOSE_BEFORE_CHARGING_H
#define DIAGNOSE_BEFORE_CHARGING_H

#include <padside/diagnose/assessment.h>

/*
 * Adds to the findings of the arrival the charge that the log shows before any was
 * moved, where it was moved then and nothing was found of it on arrival; something
 * was read as left.
 */
void before_charging_add(const struct assessment_input *input, struct assessment *assessment);

#endif
