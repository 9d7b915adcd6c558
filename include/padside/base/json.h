#ifndef PADSIDE_JSON_H
#define PADSIDE_JSON_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/error.h>

/*
 * Reading JSON (RFC 8259) strictly, in one pass, item by item.
 *
 * What calls are exchanged in is small and flat, so everything larger is
 * refused before it costs anything: documents over JSON_SIZE_MOST bytes,
 * nesting over JSON_DEPTH_MOST, objects of more than JSON_MEMBERS_MOST
 * members.  Refused as well: two members of one name, broken UTF-8, U+0000 in
 * a string, anything behind the document.  Errors say the path of the member
 * and the line and column.  Writing is in json_text.h.
 */

enum {
	JSON_SIZE_MOST = 4 << 20, JSON_DEPTH_MOST = 8, JSON_MEMBERS_MOST = 512
};

enum json_type {
	JSON_OBJECT, JSON_ARRAY, /* begins; its members or elements follow, then */
	JSON_END,                /* it ends: path, key and depth are those of its begin */
	JSON_STRING, JSON_NUMBER, JSON_TRUE, JSON_FALSE, JSON_NULL
};

struct json_item {
	enum json_type type; /* what it is */
	int depth;           /* 0 for the document, 1 for its members, … */
	const char *path;    /* "charge_log[2].added"; "" for the document; safe to show */
	const char *key;     /* name of the member; "" for an element */
	size_t index;        /* from 0, within its object or array */
	const char *text;    /* a string's characters, a number as written; else "" */
};

/* Takes one item, valid during the call.  Another status than STATUS_OK ends the reading. */
typedef enum status json_item_fn(const struct json_item *item, void *context,
                                 struct error *error);

/* Memory that is used again for one document after the other. */
struct json_reader;

/* NULL when memory ran out. */
struct json_reader *json_reader_new(void);
void json_reader_free(struct json_reader *reader);

/*
 * Reads one document of `length` bytes.  STATUS_BAD_INPUT when it is not as
 * said above; else what `take` answered.
 */
enum status json_read(struct json_reader *reader, const char *text, size_t length,
                      json_item_fn *take, void *context, struct error *error);

#endif
