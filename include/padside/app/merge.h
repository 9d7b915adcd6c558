#ifndef PADSIDE_MERGE_H
#define PADSIDE_MERGE_H

#include <padside/store/store.h>
#include <padside/store/sync.h>

/*
 * Brings everything of another book into this one, as store_merge(), and works
 * out again what lists show of the calls that both had changed.
 */
enum status merge_book(struct store *store, const char *other, struct merge_report *report,
                       struct error *error);

/* Meets the firm's office, as store_sync(), with the same afterwards. */
enum status merge_office(struct store *store, const char *address, const char *firm,
                         sync_step_fn *step, void *context, struct sync_report *report,
                         struct error *error);

/* Fetches a customer from the office, as store_sync_fetch(), with the same afterwards. */
enum status merge_fetch(struct store *store, const char *address, const char *firm,
                        const struct uid *customer, struct sync_report *report,
                        struct error *error);

#endif
