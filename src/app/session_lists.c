/*
 * The lists of the open call: all are kept, taken out and taken back by the
 * same functions.
 */
#include <string.h>

#include <padside/model/call_parts.h>

#include "app/session_parts.h"

/* Within a change: puts an element, which has its uid, into the book and the draft. */
static enum status put(struct session *session, enum call_list list, const void *element,
                       struct error *error)
{
	struct call *call = &session->draft;
	size_t at = call_list_find(call, list, element);

	if (at == call_list_count(call, list) && !call_list_add(call, list))
		return error_set(error, STATUS_NO_MEMORY,
		                 "there is no memory left; nothing was changed; "
		                 "close other programs");
	memcpy(call_list_at(call, list, at), element, call_list_size(list));
	call_list_place(call, list, at);
	return store_list_put(session->store, &call->uid, list, element, error);
}

static enum status keep(struct session *session, enum call_list list, const void *element,
                        struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	return session_end(session, put(session, list, element, error), error);
}

static enum status take_out(struct session *session, enum call_list list, const struct uid *uid,
                            struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	status = store_list_remove(session->store, list, uid, error);
	if (status == STATUS_OK)
		call_list_remove(&session->draft, list, call_list_find(&session->draft, list, uid));
	return session_end(session, status, error);
}

/* Refuses what the book could not give back: too long, outside the limits. */
static enum status check(enum call_list list, const void *element, struct error *error)
{
	const struct call_part_info *part = call_part_info(call_part_of_list(list));
	char exact[MEMBER_TEXT_SIZE];
	union element scratch;

	call_element_init(list, &scratch);
	for (const struct call_member *member = part->members; member->key; member++) {
		call_member_format(member, element, exact, sizeof exact);
		if (!call_member_parse(member, &scratch, exact))
			return error_set(error, STATUS_OUT_OF_RANGE,
			                 "%s: the %s is too large or too small; nothing was changed",
			                 part->word, member->key);
	}
	return STATUS_OK;
}

/* The element as the call has it; false when it has none of that uid. */
static bool copy_element(const struct session *session, enum call_list list, const struct uid *uid,
                         union element *copy)
{
	const void *there = call_list_at(&session->call, list,
	                                 call_list_find(&session->call, list, uid));

	if (there)
		memcpy(copy, there, call_list_size(list));
	return there != NULL;
}

enum status session_put(struct session *session, enum call_list list, const void *given,
                        struct error *error)
{
	struct change change = { .kind = CHANGE_LIST_PUT, .list = list };
	union element base;
	enum status status = check(list, given, error);

	/* `given` may lie in the call, which is read again where another program wrote. */
	memcpy(&change.after.element, given, call_list_size(list));
	bool has_base = copy_element(session, list, given, &base);
	if (status == STATUS_OK)
		status = session_refresh(session, NULL, error);
	if (status != STATUS_OK)
		return status;
	struct uid *uid = (struct uid *)(void *)&change.after.element;
	if (uid_is_none(uid))
		*uid = uid_new();
	change.uid = *uid;
	if (!copy_element(session, list, uid, &change.before.element))
		change.kind = CHANGE_LIST_ADD;
	else if (has_base)
		session_follow_element(list, &base, &change.before.element, &change.after.element);
	status = keep(session, list, &change.after.element, error);
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
}

enum status session_remove(struct session *session, enum call_list list, size_t index,
                           struct error *error)
{
	struct change change = { .kind = CHANGE_LIST_OUT, .list = list };
	const struct uid *uid = call_list_at(&session->call, list, index);

	change.uid = *uid;
	memcpy(&change.before.element, uid, call_list_size(list));
	enum status status = take_out(session, list, &change.uid, error);
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
}

static enum status refuse(enum call_list list, struct error *error)
{
	return error_set(error, STATUS_REFUSED,
	                 "%s was changed elsewhere since; nothing was taken back",
	                 call_part_info(call_part_of_list(list))->word);
}

/* What the change touched must still be as it was kept; the rest stays as it is now. */
static enum status turn_back(struct session *session, const struct change *change, const void *now,
                             struct error *error)
{
	union element expected = change->after.element, target = change->before.element;

	session_follow_element(change->list, &change->before.element, now, &expected);
	if (!session_is_same_element(change->list, now, &expected))
		return refuse(change->list, error);
	session_follow_element(change->list, &change->after.element, now, &target);
	return keep(session, change->list, &target, error);
}

/* Into the list again, at the place that the book kept for it. */
static enum status bring_back(struct session *session, const struct change *change,
                              struct error *error)
{
	enum status status = keep(session, change->list, &change->before.element, error);

	return status == STATUS_OK ? session_read_again(session, error) : status;
}

enum status session_undo_list(struct session *session, const struct change *change,
                              struct error *error)
{
	const void *now = call_list_at(&session->call, change->list,
	                               call_list_find(&session->call, change->list, &change->uid));

	switch (change->kind) {
	case CHANGE_LIST_OUT:
		return now ? refuse(change->list, error) : bring_back(session, change, error);
	case CHANGE_LIST_ADD:
		if (!now || !session_is_same_element(change->list, now, &change->after.element))
			return refuse(change->list, error);
		return take_out(session, change->list, &change->uid, error);
	default:
		return now ? turn_back(session, change, now, error) : refuse(change->list, error);
	}
}

/* ---- By name ---- */

enum status session_put_charge(struct session *session, const struct charge_entry *entry,
                               struct error *error)
{
	return session_put(session, LIST_CHARGE, entry, error);
}

enum status session_put_work(struct session *session, const struct work_line *line,
                             struct error *error)
{
	return session_put(session, LIST_WORK, line, error);
}

enum status session_put_offer(struct session *session, const struct offer *offer,
                              struct error *error)
{
	return session_put(session, LIST_OFFERS, offer, error);
}

enum status session_put_watch(struct session *session, const struct watch_item *item,
                              struct error *error)
{
	return session_put(session, LIST_WATCH, item, error);
}

enum status session_remove_charge(struct session *session, size_t index, struct error *error)
{
	return session_remove(session, LIST_CHARGE, index, error);
}

enum status session_remove_work(struct session *session, size_t index, struct error *error)
{
	return session_remove(session, LIST_WORK, index, error);
}

enum status session_remove_offer(struct session *session, size_t index, struct error *error)
{
	return session_remove(session, LIST_OFFERS, index, error);
}

enum status session_remove_watch(struct session *session, size_t index, struct error *error)
{
	return session_remove(session, LIST_WATCH, index, error);
}
