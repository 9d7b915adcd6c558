#ifndef TUI_RULER_H
#define TUI_RULER_H

#include <padside/base/band.h>

#include "tui/canvas.h"

/* The band on the screen: the cells of band.h in ink. */

/* The ink that goes with a verdict; the word goes with it too, always. */
unsigned ruler_ink(enum band_verdict verdict);

/* Draws a ruler of `width` columns and returns the column behind it. */
int ruler_draw(struct canvas *canvas, struct area area, int row, int column, int width,
               const struct band *band);

/* The same standing upright, low at the bottom, in `height` rows of one column from `row` on. */
void ruler_draw_upright(struct canvas *canvas, struct area area, int row, int column, int height,
                        const struct band *band);

/*
 * As ruler_draw, followed by the words of band_add_words() with `decimals`, the
 * verdict in its ink.
 */
int ruler_draw_with_words(struct canvas *canvas, struct area area, int row, int column,
                          int width, const struct band *band, int decimals);

#endif
