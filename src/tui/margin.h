#ifndef TUI_MARGIN_H
#define TUI_MARGIN_H

#include <padside/app/session.h>

#include "tui/canvas.h"

/* The margin: what the readings of a step mean, worked out as they are entered. */

/* Which figures are in sight. */
struct margin_view {
	int top;             /* the first one */
	int count;           /* of all there are, as drawn last */
	int shown;           /* of those in sight, as drawn last */
	enum figure first;   /* the first in sight; FIGURE_NONE */
	enum figure pinned;  /* stays on top on every sheet; FIGURE_NONE */
};

/* The next ones (1) or those before (-1). */
void margin_scroll(struct margin_view *view, int direction);

/* Pins the first figure in sight, or lets the pinned one go. */
void margin_pin(struct margin_view *view);

/* The sheet on which a figure is worked out. */
enum step margin_step(enum figure figure);

/* What the visit before had, for the reading under the cursor. */
struct margin_last {
	const struct visit *visit; /* NULL: there is none */
	wall_time at;              /* when it was */
};

/*
 * Draws the figures of `step` for the readings of `stage`, the pinned one and
 * those that the reading `active` (READING_NONE for none) goes into first.
 */
void margin_draw(const struct session *session, struct canvas *canvas, struct area area,
                 enum step step, enum stage stage, enum reading active, struct margin_view *view,
                 const struct margin_last *last);

/*
 * Draws one figure as label, value, band and words from `row` on; returns the
 * rows it took: one in a wide area, two in a narrow one.
 */
int margin_draw_figure(const struct session *session, struct canvas *canvas, struct area area,
                       int row, enum stage stage, enum figure figure);

#endif
