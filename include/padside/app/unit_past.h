#ifndef PADSIDE_UNIT_PAST_H
#define PADSIDE_UNIT_PAST_H

#include <padside/app/history.h>

/*
 * What a unit's past says, in three lines: how often and what for, what
 * drifts, and what is still open.  Sentences of the history's own units.
 */

enum { UNIT_PAST_LINES = 3, UNIT_PAST_SIZE = 320 };

void unit_past_write(const struct history *history, char lines[UNIT_PAST_LINES][UNIT_PAST_SIZE]);

#endif
