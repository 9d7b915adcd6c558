/*
 * The lists of the open call.
 *
 * All lists are kept, taken out and taken back by the same functions.
 */
#include "app/session_parts.h"

#include <stdio.h>
#include <string.h>

#include <padside/model/call_parts.h>

static const char *word_of(enum call_list list)
{
	return call_part_info(call_part_of_list(list))->word;
}

/* Keeps an element that has its uid: in the book first, then in memory. */
static enum status keep(struct session *session, enum call_list list, const void *element,
                        struct error *error)
{
	struct call *call = &session->call;
	size_t at = call_list_find(call, list, element);
	enum status status = store_list_put(session->store, &call->uid, list, element, error);

	if (status != STATUS_OK)
		return status;
	if (at == call_list_count(call, list) && !call_list_add(call, list))
		return error_set(error, STATUS_NO_MEMORY, "it is kept in the book, but there is no memory left "
		                 "to show it; close other programs and open the call again");
	memcpy(call_list_at(call, list, at), element, call_list_size(list));
	call_list_place(call, list, at);
	session_keep_lines(session);
	return STATUS_OK;
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
			return error_set(error, STATUS_OUT_OF_RANGE, "%s: the %s is too large or too small; nothing "
			                 "was changed", part->word, member->key);
	}
	return STATUS_OK;
}

enum status session_put(struct session *session, enum call_list list, const void *given,
                        struct error *error)
{
	struct change change = { .kind = CHANGE_LIST_PUT, .list = list };
	union element element;
	enum status status = check(list, given, error);

	if (status != STATUS_OK)
		return status;
	memcpy(&element, given, call_list_size(list));
	struct uid *uid = (struct uid *)(void *)&element;
	if (uid_is_none(uid))
		*uid = uid_new();
	change.uid = *uid;
	const void *before = call_list_at(&session->call, list,
	                                  call_list_find(&session->call, list, uid));
	if (before)
		memcpy(&change.before.element, before, call_list_size(list));
	else
		change.kind = CHANGE_LIST_ADD;
	status = keep(session, list, &element, error);
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
	enum status status = store_list_remove(session->store, list, uid, error);
	if (status != STATUS_OK)
		return status;
	call_list_remove(&session->call, list, index);
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

	*(struct uid *)(void *)&element = fresh;
	enum status status = keep(session, change->list, &element, error);
	for (size_t i = 0; status == STATUS_OK && i < session->change_count; i++) {
		struct change *other = &session->changes[(session->change_first + i) % MOST_CHANGES];
		if (other->kind < CHANGE_LIST_PUT || strcmp(other->uid.text, change->uid.text) != 0)
			continue;
		other->uid = fresh;
		*(struct uid *)(void *)&other->before.element = fresh;
	}
	return status;
}

enum status session_undo_list(struct session *session, const struct change *change, char *what,
                              size_t size, struct error *error)
{
	snprintf(what, size, "%s", word_of(change->list));
	if (change->kind == CHANGE_LIST_PUT)
		return keep(session, change->list, &change->before.element, error);
	if (change->kind == CHANGE_LIST_OUT)
		return bring_back(session, change, error);
	enum status status = store_list_remove(session->store, change->list, &change->uid, error);
	if (status == STATUS_OK) {
		call_list_remove(&session->call, change->list,
		                 call_list_find(&session->call, change->list, &change->uid));
		session_keep_lines(session);
	}
	return status;
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
