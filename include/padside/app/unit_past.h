#ifndef PADSIDE_UNIT_PAST_H
#define PADSIDE_UNIT_PAST_H

#include <padside/app/history.h>

/*
 * What a unit's past says, in three lines: how often and what for, what
 * drifts, and what is still open.  `units` as those of the history.
 */

enum { UNIT_PAST_LINES = 3, UNIT_PAST_SIZE = 320 };

void unit_past_write(const struct history *history, enum unit_system units,
                     char lines[UNIT_PAST_LINES][UNIT_PAST_SIZE]);

#endif
