#ifndef TUI_STRIP_H
#define TUI_STRIP_H

#include "tui/canvas.h"
#include "tui/key.h"

/*
 * One of a few words, picked by its letter or with the arrows:
 *
 *	clean  (pitted)  burnt  fouled
 *
 * The letter of each word is underlined: the first one of the word that no
 * earlier word has taken, or a digit before the word when all are taken.
 */

enum { STRIP_MOST = 16, STRIP_NONE = -1 };

struct strip {
	const char *const *labels;     /* borrowed; UTF-8 */
	int count;                     /* of labels, at most STRIP_MOST */
	int chosen;                    /* the chosen one, or STRIP_NONE */
	unsigned letters[STRIP_MOST];  /* what picks each, lower case */
};

enum strip_answer {
	STRIP_IGNORED, /* not a key for this */
	STRIP_SAME,    /* taken; what is chosen stays */
	STRIP_CHANGED, /* another is chosen, or none */
};

/* Gives each label its letter; labels beyond STRIP_MOST are left out. */
void strip_init(struct strip *strip, const char *const *labels, int count, int chosen);

/*
 * A letter picks, Left and Right go round, Del and Backspace choose none.
 * Pasted text never picks.
 */
enum strip_answer strip_key(struct strip *strip, struct key key);

/*
 * Draws it from `row` and `column` on, further lines below each other when
 * they do not fit into the area's width; returns the rows used.
 */
int strip_draw(const struct strip *strip, struct canvas *canvas, struct area area, int row,
               int column, unsigned style);

#endif
