#ifndef SUPPORT_CALLS_H
#define SUPPORT_CALLS_H

#include <padside/store/store.h>

/*
 * Calls as tests write them.
 */

/* Adds an empty line with an id of its own; the list may move, other pointers into it end. */
struct charge_entry *call_add_charge(struct call *call);
struct work_line *call_add_work(struct call *call);
struct offer *call_add_offer(struct call *call);
struct watch_item *call_add_watch(struct call *call);

/* Keeps what is another in `call` than in the book, of all that is no reading and in no list. */
enum status call_save_header(struct store *store, const struct call *call, struct error *error);

#endif
