#ifndef PADSIDE_PLOT_H
#define PADSIDE_PLOT_H

#include <stdbool.h>

#include <padside/base/clock.h>
#include <padside/base/text.h>

/*
 * A reading over the visits, as lines of text: in braille (each cell 2 dots
 * wide and 4 high) or, plain, in ASCII.
 *
 *	45 ┤⣶⠄⢀
 *	   │   ⠈⠐⣶⡀
 *	40 ┤┄┄┄┄┄┄┄⠈⠐⢂┄┄┄┄┄┄┄┄┄ limit
 *	   │          ⠐⣶
 *	   2024-05-02    2026-06-03
 */

struct plot_point {
	wall_time at; /* when, in any order; left out outside of 1900 to 2999 */
	double value; /* what; left out when it is not finite */
};

struct plot {
	const struct plot_point *points; /* borrowed */
	int count;                       /* of points */
	bool has_limit;                  /* draws a line at `limit` */
	double limit;                    /* a rating, a target, a limit */
	const char *limit_name;          /* a word for it, put behind its line; or NULL */
	int rows, columns;               /* size of the whole drawing; held to
	                                    PLOT_ROWS_LEAST… and PLOT_COLUMNS_LEAST… */
	bool plain;                      /* ASCII only */
};

enum {
	PLOT_ROWS_LEAST = 3, PLOT_ROWS_MOST = 60,
	PLOT_COLUMNS_LEAST = 24, PLOT_COLUMNS_MOST = 240,
};

/*
 * Appends `rows` lines, each ended by a line end and none wider than
 * `columns`.  False, appending nothing, when no point has a finite value.
 */
bool plot_draw(const struct plot *plot, struct text *text);

/*
 * The values at the bottom and at the top edge of the field, which is all
 * rows but the last: for what is drawn beside it.  False as above.
 */
bool plot_find_scale(const struct plot *plot, double *bottom, double *top);

#endif
