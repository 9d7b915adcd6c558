#ifndef SUPPORT_LISTED_H
#define SUPPORT_LISTED_H

#include <padside/store/store.h>

/* What a book lists, for tests: each fails the test where the book cannot be read. */

/* Fails with what is wrong, if anything is; `when` is said before it. */
void listed_sound(struct store *store, const char *when);

/* The first thing that is wrong; "" nothing.  Stays until the next call. */
const char *listed_flaw(struct store *store);

/* How many calls a filter lists; *first is the first of them where it is not NULL. */
int listed_calls(struct store *store, const struct call_filter *filter, struct call_line *first);

/* How many customers a text finds; *last is the last of them where it is not NULL. */
int listed_customers(struct store *store, const char *text, struct customer_line *last);

/* How many changes of a call's readings its trail has. */
int listed_changes(struct store *store, const struct uid *call);

#endif
