/*
 * Bringing in another book or what the office has, and working out again what
 * lists show of the calls that changed.
 */
#include <padside/app/merge.h>

#include <stdlib.h>

#include <padside/app/summary_line.h>

static enum status refresh(struct store *store, const struct uid *uid, struct call *call,
                           struct error *error)
{
	enum status status = store_call_load(store, uid->text, call, error);

	return status == STATUS_OK ? summary_line_keep(store, call, error) : status;
}

/* After a first fill of a whole firm the newest are enough: the rest follow meeting by meeting. */
enum { MOST_REFRESHED = 300 };

/* What is not worked out now is when the call is next changed. */
static void refresh_stale(struct store *store)
{
	struct uid *calls = NULL;
	size_t count = 0;
	struct call call;
	struct error ignored;

	if (store_stale_calls(store, MOST_REFRESHED, &calls, &count, &ignored) != STATUS_OK)
		return;
	call_init(&call);
	for (size_t i = 0; i < count; i++)
		if (refresh(store, &calls[i], &call, &ignored) != STATUS_OK)
			break;
	call_done(&call);
	free(calls);
}

enum status merge_book(struct store *store, const char *other, struct merge_report *report,
                       struct error *error)
{
	enum status status = store_merge(store, other, report, error);

	if (status == STATUS_OK)
		refresh_stale(store);
	return status;
}

enum status merge_office(struct store *store, const char *address, const char *firm,
                         sync_step_fn *step, void *context, struct sync_report *report,
                         struct error *error)
{
	enum status status = store_sync(store, address, firm, step, context, report, error);

	/* What came before the connection broke is here. */
	if (report->fetched > 0)
		refresh_stale(store);
	return status;
}

enum status merge_fetch(struct store *store, const char *address, const char *firm,
                        const struct uid *customer, struct sync_report *report,
                        struct error *error)
{
	enum status status = store_sync_fetch(store, address, firm, customer, NULL, NULL, report,
	                                      error);

	if (report->fetched > 0)
		refresh_stale(store);
	return status;
}
