#ifndef STORE_TAKE_H
#define STORE_TAKE_H

#include "store/trail.h"

/* Entries of other books that arrive one by one, not in a book (take.c). */

struct arrival {
	const char *thing, *call; /* uids; call NULL: the thing is no line of one */
	int kind;                 /* number of the thing's kind */
	const char *field;        /* name */
	struct entry entry;       /* the rest; its thing and field are filled in */
	uint32_t sum;             /* its checksum */
};

/*
 * Takes those that this book does not have, checked as a merge checks them,
 * and works out the things they are about.  Inside a transaction; each batch
 * is whole.  `report` is added to; *taken is how many were new.
 */
enum status take_arrivals(struct store *store, struct arrival *arrivals, size_t count,
                          struct merge_report *report, int64_t *taken, struct error *error);

#endif
