#ifndef TUI_HISTORY_PAGE_H
#define TUI_HISTORY_PAGE_H

#include <padside/app/session_find.h>

#include "tui/list.h"
#include "tui/workbook.h"

/* The page of a unit's history, for the files that draw its two leaves. */

enum { HISTORY_NO_MARK = -1, HISTORY_WIDE_COLUMNS = 110, HISTORY_VALUE_COLUMNS = 16 };

struct history_screen {
	struct history history;      /* as loaded when the screen came into sight */
	enum unit_system units;      /* of its sentences */
	struct uid shown;            /* whose history was drawn last */
	bool on_visits;              /* the leaf of the visits is in sight */
	struct list series;          /* on history.series */
	struct list visits;          /* on history.visits, newest first */
	int mark;                    /* the visit to compare with; HISTORY_NO_MARK */
	enum stage stage;            /* of the earlier of two visits */
	struct history_change changes[HISTORY_MOST_CHANGES]; /* between the two, real ones first */
	int change_count;            /* of them */
	int change_top;              /* first in sight */
	int change_rows;             /* in sight at once, as drawn last */
};

/* The two sides of a comparison. */
struct sides {
	const struct past_call *before, *after; /* the same, or two visits in time order */
	enum stage before_stage, after_stage;     /* of each */
};

/* The two sides that are compared now; there are some once there is a visit. */
bool history_has_sides(const struct history_screen *screen);
struct sides history_sides(const struct history_screen *screen);

/* Scrolls what is compared, held to its ends. */
void history_read_on(struct history_screen *screen, int by);

/* `value`, not below `least` and not above `most`. */
int history_hold(int value, int least, int most);

/* Readings over time (history_series.c); visits compared (history_visits.c). */
void history_draw_series(struct workbook *workbook, struct history_screen *screen,
                         struct area area);
void history_draw_visits(struct workbook *workbook, struct history_screen *screen,
                         struct area area);

#endif
