#ifndef PADSIDE_LEDGER_H
#define PADSIDE_LEDGER_H

#include <stddef.h>

#include <padside/base/error.h>
#include <padside/store/store.h>

/*
 * The refrigerant ledger of a book: what a record keeper has to be able to
 * show.  Each movement with its day, call and technician; totals by year, by unit and by cylinder,
 * each by refrigerant; and for each unit what was added in a year beyond what was recovered, as a
 * share of its charge.
 *
 * Which units need which records is a matter of the place's law (in the
 * United States 40 CFR 82 Subpart F and 40 CFR 84 Subpart C); the ledger only
 * adds up.
 */

enum { LEDGER_KINDS = LEDGER_BY_CYLINDER + 1 };

struct ledger {
	struct ledger_line *lines[LEDGER_KINDS]; /* by enum ledger_by; owned */
	size_t counts[LEDGER_KINDS];             /* of them */
	struct moved_line *moves;                /* each, oldest first; owned */
	size_t move_count;                       /* of them */
	struct made_up_line *made_up;            /* by customer and year; owned */
	size_t made_up_count;                    /* of them */
};

/* Makes it empty; frees it. */
void ledger_init(struct ledger *ledger);
void ledger_done(struct ledger *ledger);

/* Adds up the book; on failure the ledger is empty. */
enum status ledger_load(struct store *store, struct ledger *ledger, struct error *error);

/*
 * What the line set holds beyond the factory charge, oz; NAN when its length or the
 * maker's rate is not known.
 */
double ledger_line_set(const struct made_up_line *line);

/*
 * What was added in the year beyond what was recovered, in per cent of the factory
 * charge and, where it is known, that of the line set; NAN when the factory charge is
 * not known.  A unit that loses nothing has 0.
 */
double ledger_share(const struct made_up_line *line);

/*
 * "leak found, leak tested or evacuated": what was done on the calls of the line; "" for neither.
 */
const char *ledger_marks(const struct made_up_line *line);

/* The firm's own number of its call, or the beginning of the call's id, as the report has it. */
const char *ledger_call_number(const struct moved_line *line, char number[NAME_SIZE]);

/* "year", "system", "cylinder": stable words. */
const char *ledger_by_key(enum ledger_by by);

#endif
