#ifndef PADSIDE_JSON_TEXT_H
#define PADSIDE_JSON_TEXT_H

#include <stdbool.h>

#include <padside/base/text.h>

/*
 * Writing JSON (RFC 8259).  Small enough to stand on the string buffer alone;
 * reading is in json.h.
 */

/* Appends a string with quotes, escaped; broken UTF-8 becomes U+FFFD. */
void json_add_string(struct text *text, const char *string);

/* Appends a number with as few digits as read back the same; null if not finite. */
void json_add_number(struct text *text, double number);

/*
 * The same with at most ten significant digits: for what was worked out, where
 * more would only be noise.
 */
void json_add_rounded(struct text *text, double number);

/*
 * Appends the comma before a member or element unless it is the first of its
 * object or array, then "name": when `name` is not NULL.  *first is cleared.
 */
void json_add_name(struct text *text, const char *name, bool *first);

#endif
