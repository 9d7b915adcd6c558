/*
 * The lists of the open call: charge log, work, choices, watch items.
 *
 * Each list is a row of a table, so that keeping, taking out and taking back
 * are written once.
 */
#include "app/session_parts.h"

#include <stdio.h>
#include <string.h>

struct list_row {
	const char *word; /* for one element */
	size_t size;      /* of one element, which begins with its uid */
	void *(*items)(struct call *call, size_t *count);
	void *(*add)(struct call *call);
	void (*take_out)(struct call *call, size_t index);
	enum status (*put)(struct store *store, const struct uid *call, const void *element,
	                   struct error *error);
	enum status (*remove)(struct store *store, const struct uid *element, struct error *error);
};

static void *charge_items(struct call *call, size_t *count)
{
	*count = call->charge_count;
	return call->charge;
}

static void *work_items(struct call *call, size_t *count)
{
	*count = call->work_count;
	return call->work;
}

static void *offer_items(struct call *call, size_t *count)
{
	*count = call->offer_count;
	return call->offers;
}

static void *watch_items(struct call *call, size_t *count)
{
	*count = call->watch_count;
	return call->watch;
}

static void *add_charge(struct call *call)
{
	return call_add_charge(call);
}

static void *add_work(struct call *call)
{
	return call_add_work(call);
}

static void *add_offer(struct call *call)
{
	return call_add_offer(call);
}

static void *add_watch(struct call *call)
{
	return call_add_watch(call);
}

static enum status put_charge(struct store *store, const struct uid *call, const void *element,
                              struct error *error)
{
	return store_charge_put(store, call, element, error);
}

static enum status put_work(struct store *store, const struct uid *call, const void *element,
                            struct error *error)
{
	return store_work_put(store, call, element, error);
}

static enum status put_offer(struct store *store, const struct uid *call, const void *element,
                             struct error *error)
{
	return store_offer_put(store, call, element, error);
}

static enum status put_watch(struct store *store, const struct uid *call, const void *element,
                             struct error *error)
{
	return store_watch_put(store, call, element, error);
}

static const struct list_row lists[CALL_LIST_COUNT] = {
	[LIST_CHARGE] = { "a line of the charge log", sizeof(struct charge_entry), charge_items,
	                  add_charge, call_remove_charge, put_charge, store_charge_remove },
	[LIST_WORK] = { "a line of the work", sizeof(struct work_line), work_items, add_work,
	                call_remove_work, put_work, store_work_remove },
	[LIST_OFFERS] = { "a choice", sizeof(struct offer), offer_items, add_offer,
	                  call_remove_offer, put_offer, store_offer_remove },
	[LIST_WATCH] = { "a watch item", sizeof(struct watch_item), watch_items, add_watch,
	                 call_remove_watch, put_watch, store_watch_remove },
};

static struct uid *uid_of(void *items, const struct list_row *row, size_t index)
{
	return (struct uid *)(void *)((char *)items + index * row->size);
}

/* Where the element stands: its index, or the number of elements when it is not there. */
static size_t place_of(struct session *session, const struct list_row *row, const struct uid *uid)
{
	size_t count, at = 0;
	void *items = row->items(&session->call, &count);

	while (at < count && strcmp(uid_of(items, row, at)->text, uid->text) != 0)
		at++;
	return at;
}

/* Moves the entry at `index` to where its time belongs; those without a time stand last. */
static void sort_charge(struct call *call, size_t index)
{
	struct charge_entry entry = call->charge[index];
	size_t to = 0;

	memmove(&call->charge[index], &call->charge[index + 1],
	        (call->charge_count - index - 1) * sizeof entry);
	while (to < call->charge_count - 1 &&
	       (entry.at == WALL_TIME_NONE || (call->charge[to].at != WALL_TIME_NONE &&
	                                       call->charge[to].at <= entry.at)))
		to++;
	memmove(&call->charge[to + 1], &call->charge[to], (call->charge_count - to - 1) * sizeof entry);
	call->charge[to] = entry;
}

/* Keeps an element that has its uid: in the book first, then in memory. */
static enum status keep(struct session *session, enum call_list list, const void *element,
                        struct error *error)
{
	const struct list_row *row = &lists[list];
	size_t count, at = place_of(session, row, element);
	enum status status = row->put(session->store, &session->call.uid, element, error);

	if (status != STATUS_OK)
		return status;
	row->items(&session->call, &count);
	if (at == count && !row->add(&session->call))
		return error_set(error, STATUS_NO_MEMORY, "it is kept in the book, but there is no memory left "
		                 "to show it; close other programs and open the call again");
	memcpy(uid_of(row->items(&session->call, &count), row, at), element, row->size);
	if (list == LIST_CHARGE)
		sort_charge(&session->call, at);
	session_keep_lines(session);
	return STATUS_OK;
}

static enum status put(struct session *session, enum call_list list, const void *given,
                       struct error *error)
{
	const struct list_row *row = &lists[list];
	struct change change = { .kind = CHANGE_LIST_PUT, .list = list };
	union element element;
	size_t count;

	memcpy(&element, given, row->size);
	struct uid *uid = uid_of(&element, row, 0);
	if (uid_is_none(uid))
		*uid = uid_new();
	change.uid = *uid;
	size_t at = place_of(session, row, uid);
	void *items = row->items(&session->call, &count);
	if (at == count)
		change.kind = CHANGE_LIST_ADD;
	else
		memcpy(&change.before.element, uid_of(items, row, at), row->size);
	enum status status = keep(session, list, &element, error);
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
}

static enum status take_out(struct session *session, enum call_list list, size_t index,
                            struct error *error)
{
	const struct list_row *row = &lists[list];
	struct change change = { .kind = CHANGE_LIST_OUT, .list = list };
	size_t count;
	struct uid *uid = uid_of(row->items(&session->call, &count), row, index);

	change.uid = *uid;
	memcpy(&change.before.element, uid, row->size);
	enum status status = row->remove(session->store, uid, error);
	if (status != STATUS_OK)
		return status;
	row->take_out(&session->call, index);
	*session_push_change(session) = change;
	session_keep_lines(session);
	return STATUS_OK;
}

/*
 * Brings an element back under a new uid: the book remembers those that were
 * taken out, so that another truck's book does not bring them back.  Earlier
 * changes of it are about the new one from now on.
 */
static enum status bring_back(struct session *session, const struct change *change,
                              struct error *error)
{
	union element element = change->before.element;
	struct uid fresh = uid_new();

	*uid_of(&element, &lists[change->list], 0) = fresh;
	enum status status = keep(session, change->list, &element, error);
	for (size_t i = 0; status == STATUS_OK && i < session->change_count; i++) {
		struct change *other = &session->changes[(session->change_first + i) % MOST_CHANGES];
		if (other->kind < CHANGE_LIST_PUT || strcmp(other->uid.text, change->uid.text) != 0)
			continue;
		other->uid = fresh;
		*uid_of(&other->before.element, &lists[change->list], 0) = fresh;
	}
	return status;
}

enum status session_undo_list(struct session *session, const struct change *change, char *what,
                              size_t size, struct error *error)
{
	const struct list_row *row = &lists[change->list];

	snprintf(what, size, "%s", row->word);
	if (change->kind == CHANGE_LIST_PUT)
		return keep(session, change->list, &change->before.element, error);
	if (change->kind == CHANGE_LIST_OUT)
		return bring_back(session, change, error);
	enum status status = row->remove(session->store, &change->uid, error);
	if (status == STATUS_OK) {
		row->take_out(&session->call, place_of(session, row, &change->uid));
		session_keep_lines(session);
	}
	return status;
}

/* ---- By name ---- */

enum status session_put_charge(struct session *session, const struct charge_entry *entry,
                               struct error *error)
{
	return put(session, LIST_CHARGE, entry, error);
}

enum status session_put_work(struct session *session, const struct work_line *line,
                             struct error *error)
{
	return put(session, LIST_WORK, line, error);
}

enum status session_put_offer(struct session *session, const struct offer *offer,
                              struct error *error)
{
	return put(session, LIST_OFFERS, offer, error);
}

enum status session_put_watch(struct session *session, const struct watch_item *item,
                              struct error *error)
{
	return put(session, LIST_WATCH, item, error);
}

enum status session_remove_charge(struct session *session, size_t index, struct error *error)
{
	return take_out(session, LIST_CHARGE, index, error);
}

enum status session_remove_work(struct session *session, size_t index, struct error *error)
{
	return take_out(session, LIST_WORK, index, error);
}

enum status session_remove_offer(struct session *session, size_t index, struct error *error)
{
	return take_out(session, LIST_OFFERS, index, error);
}

enum status session_remove_watch(struct session *session, size_t index, struct error *error)
{
	return take_out(session, LIST_WATCH, index, error);
}
