#ifndef TUI_PAGER_H
#define TUI_PAGER_H

#include <stdbool.h>

#include "tui/canvas.h"
#include "tui/key.h"

/* A long text to read: wrapped, scrolled, with a mark of where one is. */
struct pager {
	bool is_set;      /* its lines are set already: cut, never wrapped */
	const char *text; /* borrowed from the owner, who keeps it unchanged */
	int top;          /* the first line in sight */
	int lines;        /* lines at the width drawn last */
	int rows;         /* lines in sight at once, as drawn last */
};

/* Begins a text at its top; `text` must outlive the pager's use of it. */
void pager_open(struct pager *pager, const char *text);

/* The keys of PLACE_PAGER; false for any other. */
bool pager_key(struct pager *pager, struct key key);

/* Draws the lines in sight into the area. */
void pager_draw(struct pager *pager, struct canvas *canvas, struct area area, unsigned style);

#endif
