#ifndef PADSIDE_SUMMARY_LINE_H
#define PADSIDE_SUMMARY_LINE_H

#include <stddef.h>

#include <padside/model/call.h>
#include <padside/diagnose/assessment.h>
#include <padside/base/error.h>
#include <padside/store/store.h>

/*
 * What a list says of a call: one line of what was found, one of what was
 * done.  Worked out from the call, kept in the book so that lists are quick.
 */

/*
 * "run capacitor failed; low refrigerant charge; leak at valve core": what asked to be acted on, as
 * found, else what was likely and is good after the work; where a leak was found, and which
 * tightness test did not hold; else what is to be watched; else "in order" where that is the more
 * likely, all readings fit together and nothing is noted beside the findings; "" when nothing is
 * known.
 */
void summary_line_found(const struct call *call, const struct assessment *assessment, char *line,
                        size_t size);

/*
 * Parts that make another unit of it, labour, charged or not, other charged parts and refrigerant;
 * the first line of the work when there are none.
 */
void summary_line_done(const struct call *call, char *line, size_t size);

/* Works both out for a stored call and keeps them. */
enum status summary_line_keep(struct store *store, const struct call *call, struct error *error);

#endif
