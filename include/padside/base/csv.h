#ifndef PADSIDE_CSV_H
#define PADSIDE_CSV_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/error.h>
#include <padside/base/text.h>

/*
 * Reads comma-separated values as RFC 4180 has them: fields in double quotes
 * may hold commas, line ends and doubled quotes.  Lines end with CRLF, LF or
 * CR; a byte-order mark at the start is skipped; empty lines are skipped.
 * Anything else that is no RFC 4180, is no UTF-8 or holds a control character
 * other than tab and line end is refused with its line number.
 */

enum { CSV_MOST_FIELDS = 64 };

struct csv {
	const char *at;                /* what comes next; borrowed bytes */
	const char *end;               /* behind the last byte */
	size_t next_line;              /* number of the line that `at` is on */
	size_t line;                   /* number of the line on which the record begins */
	size_t count;                  /* fields of the record */
	size_t starts[CSV_MOST_FIELDS]; /* where each begins in `fields` */
	struct text fields;            /* the record, each field ended by a NUL */
};

enum csv_step {
	CSV_RECORD, /* there is a record */
	CSV_END,    /* there is none left */
	CSV_BROKEN  /* the error says where */
};

/* Begins with `length` bytes, which must stay as they are while reading. */
void csv_init(struct csv *csv, const char *bytes, size_t length);
void csv_done(struct csv *csv);

/* Goes to the next record.  Fills `error` (STATUS_BAD_INPUT, STATUS_NO_MEMORY) when broken. */
enum csv_step csv_next(struct csv *csv, struct error *error);

/* A field of the record, `index` below csv->count; borrowed until the next step. */
const char *csv_field(const struct csv *csv, size_t index);

/*
 * Appends one field of a record, with the comma before it unless it is the
 * *first, in quotes where they are needed.  A text that a spreadsheet would
 * compute ("=…", "+…", "-…", "@…", the wide forms of these, that is neither a
 * number nor a range such as "-6 to 6") gets an apostrophe in front.  A record
 * ends with csv_end_record(), CRLF.
 */
void csv_add_field(struct text *text, const char *field, bool *first);
void csv_end_record(struct text *text);

#endif
