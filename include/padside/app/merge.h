#ifndef PADSIDE_MERGE_H
#define PADSIDE_MERGE_H

#include <padside/store/store.h>

/*
 * Brings everything of another book into this one, as store_merge(), and works
 * out again what lists show of the calls that both had changed.
 */
enum status merge_book(struct store *store, const char *other, struct merge_report *report,
                       struct error *error);

#endif
