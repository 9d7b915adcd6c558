/*
 * Bringing in another book, and working out again what lists show of the calls
 * that both changed.
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

enum status merge_book(struct store *store, const char *other, struct merge_report *report,
                       struct error *error)
{
	struct uid *calls = NULL;
	size_t count = 0;
	struct call call;
	struct error ignored;
	enum status status = store_merge(store, other, report, error);

	/* What is not worked out now is when the call is next changed. */
	if (status != STATUS_OK || store_stale_calls(store, &calls, &count, &ignored) != STATUS_OK)
		return status;
	call_init(&call);
	for (size_t i = 0; i < count; i++)
		if (refresh(store, &calls[i], &call, &ignored) != STATUS_OK)
			break;
	call_done(&call);
	free(calls);
	return STATUS_OK;
}
