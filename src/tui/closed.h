#ifndef TUI_CLOSED_H
#define TUI_CLOSED_H

#include "tui/workbook.h"

/* A closed call is changed only by who says so: asked once each time it is opened. */

enum closed_question {
	CLOSED_QUIET, /* nothing is asked */
	CLOSED_ASKED, /* Enter says yes */
	CLOSED_TYPED  /* more was typed behind the question: Enter ends that, and is no answer */
};

/* Whether the open call may be changed; where that is not known it is asked. */
bool closed_may_change(struct workbook *workbook);

/*
 * Before any other key: whether this one answers the question, or asks for a
 * change that has to wait for the answer.
 */
bool closed_takes_key(struct workbook *workbook, enum request request, struct key key);

#endif
