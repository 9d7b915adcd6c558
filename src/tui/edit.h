#ifndef TUI_EDIT_H
#define TUI_EDIT_H

#include <stdbool.h>
#include <stddef.h>

#include "tui/canvas.h"
#include "tui/key.h"

/* The line editor: one line of text under the cursor; its keys are those of PLACE_WRITING. */

enum { EDIT_SIZE = 2048 };

struct edit {
	char text[EDIT_SIZE];   /* whole UTF-8 characters, NUL-terminated */
	size_t length;          /* bytes of it */
	size_t cursor;          /* byte before which the cursor stands */
	size_t limit;           /* most bytes it may have */
	size_t scroll;          /* first byte shown when the field is too narrow */
	char before[EDIT_SIZE]; /* the text before the last change */
	size_t before_cursor;   /* and its cursor */
	bool typing;            /* the last change was typing: more of it joins in */
};

enum edit_answer {
	EDIT_IGNORED, /* not a key for an editor: the screen's own */
	EDIT_MOVED,   /* taken; the text is the same */
	EDIT_CHANGED, /* taken; the text is another */
	EDIT_FULL,    /* the text has no room for it; nothing happened */
};

/* An empty line of at most `limit` bytes (held to EDIT_SIZE - 1). */
void edit_init(struct edit *edit, size_t limit);

/*
 * Puts another text into it, cut to the limit and without characters that
 * cannot be shown; the cursor goes to its end; nothing is left to take back.
 */
void edit_set(struct edit *edit, const char *text);

/* The text; borrowed until the next change. */
const char *edit_get(const struct edit *edit);

/* What a key does to it. */
enum edit_answer edit_key(struct edit *edit, struct key key);

/* Takes back the last change; false when there is none. */
bool edit_undo(struct edit *edit);

/*
 * Draws it in exactly `width` columns, scrolled so that the cursor is in
 * sight, "…" where there is more, and sets the canvas's cursor.
 */
void edit_draw(struct edit *edit, struct canvas *canvas, struct area area, int row, int column,
               int width, unsigned style);

#endif
