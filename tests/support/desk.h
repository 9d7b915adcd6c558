#ifndef TESTS_DESK_H
#define TESTS_DESK_H

#include <padside/app/session.h>

#include "tui/workbook.h"

/*
 * A workbook on a book in memory, without a terminal, at a time that stands
 * still until it is moved.
 */
struct desk {
	struct store *store;       /* in memory */
	struct session *session;   /* on it */
	struct workbook *workbook; /* 80 by 24 */
	wall_time now;             /* the time */
	int64_t steady;            /* seconds since it was opened; setting the clock leaves them */
	int pressed;               /* keys so far */
	enum request done;         /* what the last key or click carried out */
};

/* With the demo's price list in the book and no call; 2026-07-14 08:05. */
void desk_open(struct desk *desk);

/* On a book in a file, made where it is not there. */
void desk_open_book(struct desk *desk, const char *path);

/* As desk_open(), on a new call for Mara Quill. */
void desk_open_on_call(struct desk *desk);

/* With the demo's calls in the book and no price; 2026-07-10 09:12. */
void desk_open_demo(struct desk *desk);
void desk_close(struct desk *desk);

/*
 * Presses keys: names as help writes them ("F5", "Ctrl+N"), and text between
 * single quotes, all separated by spaces.
 */
void desk_keys(struct desk *desk, const char *script);

/* On a sheet: goes to the row whose label begins so; and writes in it, and Enter. */
void desk_go(struct desk *desk, const char *label);
void desk_write(struct desk *desk, const char *label, const char *text);

/* The same as a hand does it: from where the cursor is, down to the row. */
void desk_down(struct desk *desk, const char *label, const char *text);

/* Clicks the first cell of words on the page. */
void desk_click(struct desk *desk, const char *words);

/* Lets minutes pass. */
void desk_wait(struct desk *desk, int minutes);

/* Whether the page, drawn now, has `words` in one of its rows. */
bool desk_shows(struct desk *desk, const char *words);

/*
 * Compares the page at 80×24 and at 120×40 with the golden files NAME-80 and
 * NAME-120; the so-far line only where asked for, so that a better judgement
 * does not change every page.
 */
void desk_look(struct desk *desk, const char *name, bool with_so_far);

/* The open call; fails the test where there is none. */
const struct call *desk_call(const struct desk *desk);

#endif
