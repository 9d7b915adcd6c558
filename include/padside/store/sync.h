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

/*
 * Called after each batch: `what` ("fetched", "sent"), how many changes of it
 * are done and how many there are about.  false stops: STATUS_STOPPED.
 */
typedef bool sync_step_fn(const char *what, int64_t done, int64_t all, void *context);

/*
 * Fetches the entries that the book lacks and folds them as a merge does, then
 * sends those that the server lacks.  Each batch is whole on both sides, so
 * that it can be broken off at any point and done again; each entry arrives
 * once.  The book is locked for others for one batch at a time, some tens of
 * milliseconds, and never while the network is waited for.  `firm` names the
 * firm's schema; NULL: as the database.  `report` says what was done also when
 * it failed on the way.
 */
enum status store_sync(struct store *store, const char *address, const char *firm,
                       sync_step_fn *step, void *context, struct sync_report *report,
                       struct error *error);

/*
 * What comes is said by the setting "carry": all that the firm's books have
 * (where it is not set), or "own": customers whom this book wrote about, those
 * of calls planned for its technician, and those fetched with
 * store_sync_fetch().  Of these everything comes, and what follows.
 */

/* A customer at the office. */
struct office_customer {
	struct uid uid;             /* who */
	char name[NAME_SIZE];       /* name */
	char phone[NAME_SIZE];      /* phone */
	char address[ADDRESS_SIZE]; /* of one of their sites */
	int calls;                  /* calls there */
	bool is_here;               /* this book has them too */
};

/*
 * Asks the office for customers of whom every word of `text` is a part of name,
 * phone, mail, an address, a model or a serial; at most `limit`.  The list is
 * the caller's (free).
 */
enum status store_sync_find(struct store *store, const char *address, const char *firm,
                            const char *text, int limit, struct office_customer **list,
                            size_t *count, struct error *error);

/* A meeting as store_sync(), after which a book that carries its own has this customer too. */
enum status store_sync_fetch(struct store *store, const char *address, const char *firm,
                             const struct uid *customer, sync_step_fn *step, void *context,
                             struct sync_report *report, struct error *error);

/* How a book stands to its office. */
struct sync_state {
	int64_t waiting;  /* changes of this book that the office does not have yet */
	wall_time met_at; /* when it last met the office to the end; WALL_TIME_NONE: never */
};

/* From the book alone, without asking the server; costs two small look-ups. */
enum status store_sync_state(struct store *store, struct sync_state *state, struct error *error);

/*
 * Lays out the firm's schema on a server, or brings it up to date; needs a role
 * that may create schemas and roles.  `applied` is how many migrations ran.
 */
enum status store_office_init(const char *address, const char *firm, int *applied,
                              struct error *error);

#endif
