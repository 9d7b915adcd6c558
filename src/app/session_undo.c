/*
 * Taking back, and making again.  What is taken back must still be what was
 * kept, and the other way round: what another program changed since stays.
 *
 * The ring keeps what was taken back behind what can be taken back, until
 * something new is written there.
 */
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/call_parts.h>

#include "app/session_parts.h"

static enum status refuse(const char *what, struct error *error)
{
	return error_set(error, STATUS_REFUSED,
	                 "%s was changed elsewhere since; nothing was taken back", what);
}

static enum status undo_reading(struct session *session, const struct change *change,
                                struct error *error)
{
	const struct value *now = visit_value(&session->call.visit, change->stage, change->reading);

	if (!session_is_same_value(now, &change->after.value))
		return refuse(reading_info(change->reading)->label, error);
	return session_keep_value(session, change->stage, change->reading, &change->before.value,
	                          error);
}

static enum status undo_field(struct session *session, const struct change *change,
                              struct error *error)
{
	char exact[MEMBER_TEXT_SIZE];

	session_format_field(&session->call, change->field, exact, sizeof exact);
	if (strcmp(exact, change->after.text) != 0)
		return refuse(field_info(change->field)->label, error);
	return session_keep_field(session, change->field, change->before.text, error);
}

/* What the change touched must still be as it was kept; the rest stays as it is now. */
static enum status undo_billing(struct session *session, const struct change *change,
                                struct error *error)
{
	static const enum call_part parts[] = { PART_BILLING, PART_TAX };
	const struct billing *now = &session->call.billing, *before = &change->before.element.billing;
	struct billing expected = change->after.element.billing, target = *before;

	for (int i = 0; i < 2; i++) {
		session_follow_part(parts[i], before, now, &expected);
		if (!session_is_same_part(parts[i], now, &expected))
			return refuse("discount, taxes or deposit", error);
		session_follow_part(parts[i], &change->after.element.billing, now, &target);
	}
	return session_keep_billing(session, &target, error);
}

static enum status undo(struct session *session, const struct change *change, char *what,
                        size_t size, struct error *error)
{
	session_tell_undone(session, change, what, size);
	switch (change->kind) {
	case CHANGE_FIELD:
		return undo_field(session, change, error);
	case CHANGE_READING:
		return undo_reading(session, change, error);
	case CHANGE_BILLING:
		return undo_billing(session, change, error);
	case CHANGE_ITEM:
		return session_reopen_item(session, &change->before.element.watch.uid, error);
	case CHANGE_ENTRY:
		return session_turn_field(session, &change->uid, change->name, change->after.text,
		                          change->before.text, error);
	case CHANGE_ACCEPTED:
		return session_undo_acceptance(session, change, error);
	case CHANGE_MOVED:
		return session_undo_move(session, change, error);
	default:
		return session_undo_list(session, change, error);
	}
}

/* Several were one step: the first is named, and how many there are. */
static void add_more(char *what, size_t size, int more)
{
	size_t length = strlen(what);

	if (more > 0)
		snprintf(what + length, size - length, "; and %d more", more);
}

static const struct change *change_at(const struct session *session, size_t index)
{
	return &session->changes[(session->change_first + index) % MOST_CHANGES];
}

enum status session_undo(struct session *session, char *what, size_t size, struct error *error)
{
	bool with_next = true;
	int more = -1;
	enum status status = session_refresh(session, NULL, error);

	if (status != STATUS_OK)
		return status;
	if (session->change_count == 0)
		return error_set(error, STATUS_NOT_FOUND, session->undone_count > 0
			? "all that was changed since the call was opened is taken back"
			: "nothing was changed since the call was opened");
	while (with_next && session->change_count > 0 && status == STATUS_OK) {
		/* Taking it back may rewrite the ring. */
		const struct change change = *change_at(session, session->change_count - 1);
		with_next = change.with_next;
		status = undo(session, &change, what, size, error);
		if (status == STATUS_OK) {
			more++;
			session->change_count--;
			session->undone_count++;
		} else if (status == STATUS_REFUSED || status == STATUS_NOT_FOUND) {
			/* What cannot be taken back any more is no longer offered. */
			session->change_count--;
			session->undone_count = 0;
		}
	}
	add_more(what, size, more);
	return status;
}

/* ---- Making again ---- */

/* Taking this back is making the change again. */
static struct change mirrored(const struct change *change)
{
	struct change mirror = *change;

	mirror.before = change->after;
	mirror.after = change->before;
	if (change->kind == CHANGE_LIST_ADD)
		mirror.kind = CHANGE_LIST_OUT;
	if (change->kind == CHANGE_LIST_OUT)
		mirror.kind = CHANGE_LIST_ADD;
	return mirror;
}

static enum status redo(struct session *session, const struct change *change, char *what,
                        size_t size, struct error *error)
{
	const struct change mirror = mirrored(change);

	if (change->kind != CHANGE_ITEM)
		return undo(session, &mirror, what, size, error);
	text_copy(what, size, change->before.element.watch.text);
	return session_shut_item(session, &change->before.element.watch.uid, error);
}

enum status session_redo(struct session *session, char *what, size_t size, struct error *error)
{
	enum status status = session_refresh(session, NULL, error);

	if (status != STATUS_OK)
		return status;
	if (session->undone_count == 0)
		return error_set(error, STATUS_NOT_FOUND,
		                 "nothing was taken back that could be made again; a new "
		                 "change ends that");
	do {
		const struct change change = *change_at(session, session->change_count);
		status = redo(session, &change, what, size, error);
		if (status == STATUS_OK) {
			session->change_count++;
			session->undone_count--;
		} else if (status == STATUS_REFUSED || status == STATUS_NOT_FOUND) {
			session->undone_count = 0;
		}
	} while (status == STATUS_OK && session->undone_count > 0 &&
	         change_at(session, session->change_count)->with_next);
	return status;
}
