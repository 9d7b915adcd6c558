#ifndef SUPPORT_BESIDE_H
#define SUPPORT_BESIDE_H

#include <sqlite3.h>

#include "support/desk.h"
#include "support/scratch.h"

/* Another program on the book of a workbook. */
struct beside {
	char folder[SCRATCH_SIZE]; /* with the book in it */
	char path[96];             /* of the book */
	struct store *store;       /* the other program's own */
	struct session *session;   /* and what it has open */
};

/* Opens the workbook on a new book in a folder of its own. */
void beside_open(struct beside *beside, struct desk *desk);

/* The other program opens the call that the workbook has open. */
void beside_join(struct beside *beside, struct desk *desk);

/* Both end, the folder goes. */
void beside_close(struct beside *beside, struct desk *desk);

/* A program that writes for long: it holds the book's write lock until it is let go. */
sqlite3 *beside_lock(const char *path);
void beside_unlock(sqlite3 *db);

#endif
