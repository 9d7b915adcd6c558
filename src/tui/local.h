#ifndef TUI_LOCAL_H
#define TUI_LOCAL_H

#include <stddef.h>

#include <padside/base/clock.h>

/*
 * A date as the technician's locale (LC_TIME) writes it, for the screen only:
 * files and papers never follow the locale.  ISO ("2026-07-14") where the
 * locale is "C" or writes more than 11 columns; "" for WALL_TIME_NONE.
 */
void local_date(wall_time time, char *out, size_t size);

#endif
