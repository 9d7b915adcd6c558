#ifndef PADSIDE_CALL_JSON_H
#define PADSIDE_CALL_JSON_H

#include <stddef.h>

#include <padside/diagnose/past.h>
#include <padside/model/call.h>
#include <padside/base/error.h>
#include <padside/base/json.h>
#include <padside/base/text.h>

/*
 * A call as JSON: what `record` and `assess` take and what `export` gives.
 *
 * Sections: customer, site, system, call, as_found, as_left, charge_log, work,
 * choices, watch, judgement, tightness, cylinder, billing, taken_at.  A bare
 * number is in the canonical unit of its reading, a string is read like
 * something typed ("4.5 °C", "OL", "yes"), null is not taken.  Money is "12.50"
 * or 12.50, exactly.
 */

enum call_json_use {
	CALL_JSON_RECORD, /* will be stored: it must say whose call it is (customer) */
	CALL_JSON_ASSESS  /* every part may be missing */
};

/*
 * Reads one call into `call`, which must have been initialised and is emptied
 * first.  An unknown member, a wrong type, or a value outside the hard limits
 * is refused with the member's path; `call` is empty then.
 */
enum status call_json_read(struct json_reader *reader, const char *text, size_t length,
                               enum call_json_use use, struct call *call, struct error *error);

/* Earlier visits of the same unit, oldest first: what `assess` takes beside the call. */
struct earlier {
	struct visit visits[MOST_PAST_VISITS]; /* their readings, as found and as left */
	wall_time opened_at[MOST_PAST_VISITS]; /* WALL_TIME_NONE: not said */
	bool refit[MOST_PAST_VISITS];          /* compressor, coil, refrigerant or metering changed */
	int count;                             /* of them; only the last ones are kept */
};

/*
 * The same for `assess`: also takes "earlier": [{"opened_at", "as_found",
 * "as_left", "refit"}].
 */
enum status call_json_read_earlier(struct json_reader *reader, const char *text, size_t length,
                                   struct call *call, struct earlier *earlier,
                                   struct error *error);

/* The unit's past from its earlier visits, with the nameplate of the call. */
void earlier_past(const struct earlier *earlier, const struct call *call, struct past *past);

/*
 * Appends the whole call, ended by a line end.  Members stand in a fixed
 * order, numbers are exact, what is empty is left out, so that reading and
 * writing it again gives the same bytes.
 */
void call_json_write(const struct call *call, struct text *text);

/*
 * Appends the JSON Schema (2020-12) of a call, ended by a line end: what
 * call_json_read() takes and call_json_write() writes, "earlier", and as
 * #/$defs/answer what `assess` answers.  schema/call.schema.json
 * is a copy.
 */
void call_json_write_schema(struct text *text);

#endif
