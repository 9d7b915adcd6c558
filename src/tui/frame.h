#ifndef TUI_FRAME_H
#define TUI_FRAME_H

#include <padside/app/session.h>

#include "tui/canvas.h"

/* The lines around the steps of a call. */

/* Whose call it is, and whether the machine is recorded as made safe. */
void frame_draw_title(const struct session *session, struct canvas *canvas, struct area area,
                      enum step step);

/* The steps, each marked · untouched, ~ begun, ✓ complete; the present one reversed. */
void frame_draw_route(const struct session *session, struct canvas *canvas, struct area area,
                      enum step step);

/* The leading suspicion with its probability, and the reading that would tell most. */
void frame_draw_so_far(const struct session *session, struct canvas *canvas, struct area area);

#endif
