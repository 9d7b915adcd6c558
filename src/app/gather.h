#ifndef APP_GATHER_H
#define APP_GATHER_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Gathers the rows of the store's listing functions into an array of the
 * caller's, who frees it.
 */
struct gather {
	void *items;     /* the array, NULL at first */
	size_t count;    /* of items in it */
	size_t size;     /* of one item */
	size_t most;     /* no more than these; 0: all */
	size_t capacity; /* items that fit */
	bool failed;     /* memory ran out */
};

/* Copies one item to the end; false, which ends a listing, when that was the last or failed. */
bool gather_add(struct gather *gather, const void *item);

#endif
