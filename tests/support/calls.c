/*
 * Calls as tests write them.
 */
#include "support/calls.h"

struct charge_entry *call_add_charge(struct call *call)
{
	return call_list_add(call, LIST_CHARGE);
}

struct work_line *call_add_work(struct call *call)
{
	return call_list_add(call, LIST_WORK);
}

struct offer *call_add_offer(struct call *call)
{
	return call_list_add(call, LIST_OFFERS);
}

struct watch_item *call_add_watch(struct call *call)
{
	return call_list_add(call, LIST_WATCH);
}

enum status call_save_header(struct store *store, const struct call *call, struct error *error)
{
	struct call before;

	call_init(&before);
	enum status status = store_call_load(store, call->uid.text, &before, error);
	if (status == STATUS_OK)
		status = store_call_change(store, &before, call, error);
	call_done(&before);
	return status;
}
