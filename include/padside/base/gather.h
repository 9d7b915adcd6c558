#ifndef PADSIDE_GATHER_H
#define PADSIDE_GATHER_H

#include <stdbool.h>
#include <stddef.h>

/*
 * An array that grows by one item at a time; whoever gathers it frees it.
 */
struct gather {
	void *items;     /* the array, NULL at first */
	size_t count;    /* of items in it */
	size_t size;     /* of one item */
	size_t most;     /* no more than these; 0: all */
	size_t capacity; /* items that fit */
	bool failed;     /* memory ran out */
};

/* Adds one to the end, to be filled in; NULL when memory ran out.  Does not look at `most`. */
void *gather_more(struct gather *gather);

/* Copies one item to the end; false when that was the last one needed, or memory ran out. */
bool gather_add(struct gather *gather, const void *item);

#endif
