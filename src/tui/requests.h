#ifndef TUI_REQUESTS_H
#define TUI_REQUESTS_H

#include <stdbool.h>

#include "tui/key.h"

/* What keys ask for: the table of requests.def. */

enum request {
	REQUEST_NONE,
#define REQUEST(id, ...) REQUEST_##id,
#include "tui/requests.def"
#undef REQUEST
	REQUEST_COUNT
};

/* Where a request can be made. */
enum request_place {
	PLACE_ANY, PLACE_CALL, PLACE_SHEET, PLACE_BOOK, PLACE_CUSTOMER, PLACE_HISTORY,
	PLACE_FINDINGS, PLACE_CHOICES, PLACE_WORK, PLACE_PAPER
};

struct request_info {
	enum request_place place; /* where it can be made */
	const char *key;          /* the key's name */
	const char *other;        /* a second one; "" for none */
	const char *help;         /* what it does */
};

const struct request_info *request_info(enum request request);

/* The request of a key in a place; those for ANY and, on a call, CALL as well. */
enum request request_from_key(struct key key, enum request_place place, bool on_call);

#endif
