#ifndef TUI_MARGIN_H
#define TUI_MARGIN_H

#include <padside/app/session.h>

#include "tui/canvas.h"

/* The margin: what the readings of a step mean, worked out as they are entered. */

/*
 * Draws the figures of `step` for the readings of `stage`, those that the
 * reading `active` (READING_NONE for none) goes into first.
 */
void margin_draw(const struct session *session, struct canvas *canvas, struct area area,
                 enum step step, enum stage stage, enum reading active);

/*
 * Draws one figure as label, value, band and words from `row` on; returns the
 * rows it took: one in a wide area, two in a narrow one.
 */
int margin_draw_figure(const struct session *session, struct canvas *canvas, struct area area,
                       int row, enum stage stage, enum figure figure);

#endif
