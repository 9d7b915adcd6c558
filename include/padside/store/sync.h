#ifndef PADSIDE_SYNC_H
#define PADSIDE_SYNC_H

#include <stdbool.h>
#include <stdint.h>

#include <padside/store/store.h>

/*
 * Meeting the firm's office: a PostgreSQL server that keeps the trails of all
 * its books (schema/office/).  Every book stays complete and works without it.
 *
 * An address is a connection URI ("postgresql://truck7@office.example/larkmere")
 * or the name of a service of libpq's own configuration.  Passwords come only
 * from libpq's passfile or service file.  Unless the server is on this machine,
 * the connection is encrypted and the server's certificate is checked.
 */

/* Whether this program was built with libpq; where not, everything below fails with a sentence. */
bool sync_is_built(void);

struct sync_report {
	int64_t sent;              /* entries of this book that the server did not have */
	int64_t fetched;           /* entries of other books that came */
	struct merge_report merge; /* what they changed here */
	bool took_new_id;          /* an older copy of this book had been written in elsewhere */
};

/* Called as the work goes on; `all` is 0 where it is not known. */
typedef void sync_step_fn(const char *what, int64_t done, int64_t all, void *context);

/*
 * Fetches the entries that the book lacks and folds them as a merge does, then
 * sends those that the server lacks.  Each batch is whole on both sides, so
 * that it can be broken off at any point and done again; each entry arrives
 * once.  `firm` names the firm's schema; NULL: as the database.  `report` says
 * what was done also when it failed on the way.
 */
enum status store_sync(struct store *store, const char *address, const char *firm,
                       sync_step_fn *step, void *context, struct sync_report *report,
                       struct error *error);

/* How many entries of this book were written since it last met this address's server. */
enum status store_sync_waiting(struct store *store, int64_t *waiting, struct error *error);

/*
 * Lays out the firm's schema on a server, or brings it up to date; needs a role
 * that may create schemas and roles.  `applied` is how many migrations ran.
 */
enum status store_office_init(const char *address, const char *firm, int *applied,
                              struct error *error);

#endif
