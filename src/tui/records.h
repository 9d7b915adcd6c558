#ifndef TUI_RECORDS_H
#define TUI_RECORDS_H

#include "tui/workbook.h"

/*
 * Calls, customers, addresses and units that are in the wrong place: a call is
 * moved to the unit where it belongs, two records of one are joined, what was
 * made by mistake is taken out.  One thing at a time is taken along from page
 * to page and put down on another one.
 */

enum record_kind {
	RECORD_NONE, /* nothing */
	RECORD_CALL, RECORD_CUSTOMER, RECORD_SITE, RECORD_SYSTEM
};

struct record {
	enum record_kind kind; /* what it is */
	struct uid uid;        /* which one */
	char words[LINE_SIZE]; /* how it is called */
};

/* Takes a record along, or drops what was taken along before. */
void record_take(struct workbook *workbook, const struct record *record);

/* Drops what was taken along; false when nothing was. */
bool record_drop(struct workbook *workbook);

/* Whether something is taken along, which then goes where Enter is pressed. */
bool record_is_taken(const struct workbook *workbook);

/* Whether a record of that kind is taken along, to be joined with another one. */
bool record_joins(const struct workbook *workbook, enum record_kind kind);

/*
 * Puts down what was taken along: a call goes to the unit, or to the customer;
 * a record of the same kind is joined into this one, after a question.  True
 * when something changed: look at the book anew.
 */
bool record_put(struct workbook *workbook, const struct record *onto);

/* Takes back what was joined or moved last. */
bool record_part(struct workbook *workbook);

/* Takes a record out, after a question; `request` is what asks for it.  True when it is out. */
bool record_take_out(struct workbook *workbook, const struct record *record, enum request request);

/* Says what is taken along, where nothing else is said; nothing when nothing is. */
void record_hint(struct workbook *workbook);

#endif
