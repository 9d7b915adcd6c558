#ifndef TUI_CLOSED_H
#define TUI_CLOSED_H

#include "tui/workbook.h"

/* What is changed only by who says so, asked once each time the call is opened. */

enum closed_about {
	CLOSED_ABOUT_CALL,        /* a closed call */
	CLOSED_ABOUT_NAME,        /* the customer or the address of a call that has readings */
	CLOSED_ABOUT_REFRIGERANT, /* the refrigerant of a call that moved some */
	CLOSED_ABOUT_COUNT
};

enum closed_question {
	CLOSED_QUIET, /* nothing is asked */
	CLOSED_ASKED, /* and not answered */
	CLOSED_TYPED  /* more was typed behind the question: of a name a yes only ends that */
};

/* Keys that wait for the answer: as many as the longest text has. */
enum { CLOSED_MOST_KEYS = NOTE_SIZE };

/* Whether that may be changed in the open call; where it is not known it is asked. */
bool closed_may(struct workbook *workbook, enum closed_about about);

/* Whether the open call may be changed at all. */
bool closed_may_change(struct workbook *workbook);

/* Takes a key, as workbook_press() does. */
typedef enum request closed_press_fn(struct workbook *workbook, struct key key);

/*
 * Before anything else: what the key behind a question is, an answer or text that waits
 * for one; REQUEST_NONE where nothing is asked or the key is for the page.  Behind a yes
 * the keys that waited are pressed again by `press`.
 */
enum request closed_answer(struct workbook *workbook, struct key key, closed_press_fn *press);

/* Whether the key asks for a change that has to wait for the answer. */
bool closed_asks(struct workbook *workbook, enum request request, struct key key);

#endif
