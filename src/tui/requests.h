#ifndef TUI_REQUESTS_H
#define TUI_REQUESTS_H

#include <stdbool.h>

#include <padside/base/text.h>

#include "tui/key.h"

/* What keys ask for: the table of requests.def. */

enum request {
	REQUEST_NONE,
#define REQUEST(id, ...) REQUEST_##id,
#include "tui/requests.def"
#undef REQUEST
	REQUEST_COUNT,
	REQUEST_TYPE /* no row: a character to type */
};

/* Where a request can be made. */
enum request_place {
	PLACE_ANY,      /* everywhere */
	PLACE_CALL,     /* while a call is open */
	PLACE_FIELD,    /* on a field that can be written in */
	PLACE_WORDS,    /* on a field that says one of a few words */
	PLACE_YES_NO,   /* on a yes or no */
	PLACE_ASKED,    /* on a question of yes or no before something is changed */
	PLACE_REFUSED,  /* on a field with a refused text */
	PLACE_WRITING,  /* while something is written */
	PLACE_LIST,     /* in a list */
	PLACE_PAGER,    /* in a text to read */
	PLACE_RECORDS,  /* where calls, customers and units are listed */
	PLACE_SHEET,
	PLACE_COLUMNS,  /* on a row of a sheet that has a value as found and one as left */
	PLACE_FOLD,     /* on the line of the rows that are folded away */
	PLACE_BOOK, PLACE_CUSTOMER, PLACE_HISTORY, PLACE_FINDINGS, PLACE_CHOICES,
	PLACE_WORK,
	PLACE_PRICES,   /* the price list below a description being written */
	PLACE_PAPER,
	PLACE_FILE,     /* on the line that names the report's file */
	PLACE_REPORT,   /* the report as it is read */
	PLACE_LOG,       /* the log of tightness and vacuum, the cylinders of the call */
	PLACE_PREDICTIONS, /* readings beside what explanations predict */
	PLACE_REMOVED,   /* what was taken out of the book */
	PLACE_CHECKLIST, /* the tune-up list of the visit */
	PLACE_COMPARE,  /* as found, as left, last visit */
	PLACE_CHANGES,   /* what was changed of the call */
	PLACE_QUESTIONS, /* fields that two books changed */
	PLACE_GO,       /* the page that goes anywhere */
	PLACE_HELP,
	PLACE_COUNT
};

struct request_info {
	enum request_place place; /* where it can be made */
	const char *key;          /* the key's name */
	const char *other;        /* a second one; "" for none */
	const char *word;         /* on the line of keys; "" for none */
	const char *help;         /* what it does; "": goes with the row before it */
};

const struct request_info *request_info(enum request request);

/*
 * The request of a key in a place, or in the places that it stands in.  A
 * character that no row has is REQUEST_TYPE, and so is everything pasted.
 */
enum request request_from_key(enum request_place place, struct key key);

/* The row's first key. */
struct key request_key(enum request request);

/* Whether the row's first key asks for it there: an inner place may have taken the key. */
bool request_works(enum request request, enum request_place place);

/* The heading above a place's keys in the help and the manual. */
const char *request_place_title(enum request_place place);

/* The place that a place stands in; PLACE_COUNT for none. */
enum request_place request_place_around(enum request_place place);

/* Whether the row begins a line of help, alone or together with the rows behind it. */
bool request_begins_line(enum request request);

/* Adds the keys of a line of help: "Up, Down"; `others` adds the second keys. */
void request_add_keys(enum request request, bool others, const char *between, struct text *text);

#endif
