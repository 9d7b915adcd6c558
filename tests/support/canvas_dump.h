#ifndef SUPPORT_CANVAS_DUMP_H
#define SUPPORT_CANVAS_DUMP_H

#include "tui/canvas.h"

/*
 * What stands on a canvas, as text to compare and to read.
 */

/* The drawn text, a line each row, blanks at line ends left off. */
void canvas_dump(const struct canvas *canvas, struct text *text);

/*
 * The inks as one letter a cell (ink.def; a blank for a plain blank cell; a
 * capital, or '#' for plain, where reversed), underlined cells as a second
 * map when there are any, and a line that says where the cursor is.
 */
void canvas_dump_ink(const struct canvas *canvas, struct text *text);

#endif
