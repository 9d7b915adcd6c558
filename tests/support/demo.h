#ifndef TESTS_DEMO_H
#define TESTS_DEMO_H

#include <padside/store/store.h>

/*
 * The demo's calls (demo/book.ndjson) in a book in memory; fails the test
 * that asks where one of them cannot be stored.
 */
struct store *demo_open(void);

/* Puts them into a book that is open already. */
void demo_fill(struct store *store);

/* The only customer whose name, phone or address has `text`. */
struct customer demo_customer(struct store *store, const char *text);

/* The only machine of that customer whose name is `name`. */
struct system_line *demo_system(struct store *store, const struct customer *customer,
                                const char *name);

#endif
