#ifndef PADSIDE_SESSION_SAME_H
#define PADSIDE_SESSION_SAME_H

#include <padside/app/session.h>

/*
 * Values that need no typing, because the call holds them already: as left the
 * same as found, and pressures and temperatures of the charge log.  One that is
 * taken by itself is kept like a typed one, with the time of now; a whole sheet
 * is copied, and keeps the times at which it was read.
 */

enum same_source {
	SAME_NOTHING,    /* the call holds none */
	SAME_AS_FOUND,   /* the value as found */
	SAME_CHARGE_LOG, /* the newest entry of the charge log */
	SAME_SHEET       /* for the charge log: what the sheet holds */
};

/* What would be taken for a reading as left.  `value` is borrowed; NULL for SAME_NOTHING. */
enum same_source session_same(const struct session *session, enum reading reading,
                              const struct value **value);

/* Takes it; STATUS_MISSING where there is none. */
enum status session_take_same(struct session *session, enum reading reading, struct error *error);

/*
 * Copies every reading of a step that was read as found and not yet as left,
 * with the time at which it was read: nobody measured it again.  `count` says
 * how many, `held` how many were left alone, because a text that is not kept
 * stands there.  The answers of safety are never copied.  One change to take back.
 */
enum status session_take_all_same(struct session *session, enum step step, int *count, int *held,
                                  struct error *error);

/*
 * Fills the empty readings of an entry of the charge log with what the sheet
 * holds: as left where it was read, else as found.  Nothing is kept yet.
 */
int session_fill_charge(const struct session *session, struct charge_entry *entry);

/*
 * Writes the refrigerant that the charge log added as a line of the work, at
 * the price list's price for that refrigerant where it has one; a line written
 * so before gets the new amount.  It is counted in the unit of weight that the
 * description names, where it names none in the one on the scale.  `line` is
 * what was kept.
 */
enum status session_bill_refrigerant(struct session *session, struct work_line *line,
                                     struct error *error);

#endif
