#ifndef TUI_FRAME_H
#define TUI_FRAME_H

#include <padside/app/session.h>

#include "tui/canvas.h"
#include "tui/requests.h"
#include "tui/workbook.h"

/* The lines around the steps of a call. */

/*
 * Whose call it is, and the power state of the unit.  Answers the column where
 * that begins: nothing may stand over it.
 */
int frame_draw_title(const struct session *session, struct canvas *canvas, struct area area);

/* The rows that the route takes on a page of that size. */
int frame_route_rows(int rows, int columns);

/*
 * The steps, each with its key and marked · untouched, ~ begun, ✓ complete; the present one
 * reversed.  Where there is one short row only the present one is named.  A step can be clicked
 * in `clicked`: it is named -1 and below.
 */
void frame_draw_route(const struct session *session, struct canvas *canvas, struct area area,
                      enum step step, struct workbook *clicked);

/*
 * The keys that work in a place, in as many rows as the area has: first those of `first`
 * (PLACE_COUNT: none), then the place's own, then those of the places around it.
 */
void frame_draw_keys(struct canvas *canvas, struct area area, enum request_place first,
                     enum request_place place, bool on_call);

/* The leading suspicion with its probability, and the reading to take next. */
void frame_draw_so_far(const struct session *session, struct canvas *canvas, struct area area);

#endif
