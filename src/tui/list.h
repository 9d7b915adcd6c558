#ifndef TUI_LIST_H
#define TUI_LIST_H

#include <stdbool.h>

#include "tui/canvas.h"
#include "tui/edit.h"
#include "tui/key.h"

/*
 * A list to pick from: which line is chosen, which lines are in sight, and
 * what was typed to narrow it down.  The lines themselves stay with the
 * owner, who may have a hundred thousand of them: the list only counts.
 *
 *	list_set_count(&list, found);
 *	struct area lines = list_layout(&list, canvas, area);
 *	for (int i = list.top; i < list_end(&list); i++)
 *		draw line i in row i - list.top of `lines`, in list_style(&list, i)
 */
struct list {
	int count;          /* lines there are */
	int chosen;         /* the chosen one; 0 when there is none */
	int top;            /* the first in sight */
	int rows;           /* in sight at once, as laid out last */
	bool filters;       /* typing narrows it down */
	struct edit filter; /* what was typed */
};

enum list_answer {
	LIST_IGNORED,  /* not a key for a list */
	LIST_MOVED,    /* taken */
	LIST_PICKED,   /* Enter on the chosen line */
	LIST_FILTERED, /* the filter is another: look again, then list_set_count() */
};

enum { LIST_FILTER_LIMIT = 200 };

/* An empty list. */
void list_init(struct list *list, bool filters);

/* Another number of lines; what is chosen stays chosen if it still can be. */
void list_set_count(struct list *list, int count);

/* Chooses a line, held to those there are. */
void list_choose(struct list *list, int index);

/* The chosen line; -1 when the list is empty. */
int list_chosen(const struct list *list);

/* What was typed to narrow it down; "" for nothing. */
const char *list_filter(const struct list *list);

/* Forgets it: all lines again, from the first. */
void list_clear_filter(struct list *list);

/* The keys of PLACE_LIST; with a filter also typing. */
enum list_answer list_key(struct list *list, struct key key);

/*
 * Fits the list into `area`, draws the position mark in its last column when
 * not everything is in sight, and returns the area for the lines.
 */
struct area list_layout(struct list *list, struct canvas *canvas, struct area area);

/* One behind the last line in sight. */
int list_end(const struct list *list);

/* The style for a line: `style`, or that of the chosen one. */
unsigned list_style(const struct list *list, int index, unsigned style);

/*
 * Draws in one column of `area` which part of `count` lines is in sight:
 * `rows` from `top` on.  For lists and long texts alike.
 */
void list_draw_position(struct canvas *canvas, struct area area, int count, int top, int rows);

/*
 * The same where a column is too much: an arrow at the first and the last row of
 * `area`, in `column`, where there are more of `count` lines above and below.
 */
void list_draw_more(struct canvas *canvas, struct area area, int column, int count, int top);

#endif
