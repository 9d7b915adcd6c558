#ifndef STORE_OFFICE_H
#define STORE_OFFICE_H

#include <padside/store/sync.h>

/* The connection to the firm's office (office.c), for what meets there (sync.c). */

struct pg_conn;

struct office {
	struct pg_conn *connection; /* libpq's; NULL when closed */
	char firm[64];              /* the schema: letters that stand in SQL as they are */
};

/* Connects; `firm` NULL: named as the database.  office_close() also after a failure. */
enum status office_open(struct office *office, const char *address, const char *firm,
                        struct error *error);
void office_close(struct office *office);

/* Runs SQL that answers nothing that matters; `what` begins the sentence where it fails. */
enum status office_run(struct office *office, const char *sql, const char *what,
                       struct error *error);

/* The server's last complaint behind `what`, as one sentence. */
enum status office_refuse(const struct office *office, const char *what, struct error *error);

/* The sentence of a program without libpq. */
enum status office_not_built(struct error *error);

#endif
