#ifndef TUI_CAUTIONS_H
#define TUI_CAUTIONS_H

#include "tui/workbook.h"

/* Draws the cautions of the step in sight, in at most `most` rows; returns the rows used. */
int cautions_draw(struct workbook *workbook, struct area area, int most);

#endif
