/*
 * Taking back.  What is taken back must still be what was kept: what another
 * program changed since stays.
 */
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/call_parts.h>

#include "app/session_parts.h"

static enum status refuse(const char *what, struct error *error)
{
	return error_set(error, STATUS_REFUSED, "%s was changed elsewhere since; nothing was taken back",
	                 what);
}

static enum status undo_reading(struct session *session, const struct change *change,
                                struct error *error)
{
	const struct value *now = visit_value(&session->call.visit, change->stage, change->reading);

	if (!session_is_same_value(now, &change->after.value))
		return refuse(reading_info(change->reading)->label, error);
	return session_keep_value(session, change->stage, change->reading, &change->before.value, error);
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

static enum status undo_billing(struct session *session, const struct change *change,
                                struct error *error)
{
	if (!session_is_same_part(PART_BILLING, &session->call.billing, &change->after.element.billing) ||
	    !session_is_same_part(PART_TAX, &session->call.billing, &change->after.element.billing))
		return refuse("discount, taxes or deposit", error);
	return session_keep_billing(session, &change->before.element.billing, error);
}

static enum status undo(struct session *session, const struct change *change, char *what,
                        size_t size, struct error *error)
{
	switch (change->kind) {
	case CHANGE_FIELD:
		text_copy(what, size, field_info(change->field)->label);
		return undo_field(session, change, error);
	case CHANGE_READING:
		text_copy(what, size, reading_info(change->reading)->label);
		return undo_reading(session, change, error);
	case CHANGE_BILLING:
		text_copy(what, size, "discount, taxes, deposit");
		return undo_billing(session, change, error);
	case CHANGE_ITEM:
		text_copy(what, size, change->before.element.watch.text);
		return session_reopen_item(session, &change->before.element.watch.uid, error);
	case CHANGE_MOVED:
		text_copy(what, size, "the call's customer and unit");
		return session_undo_move(session, change, error);
	default:
		text_copy(what, size, call_part_info(call_part_of_list(change->list))->word);
		return session_undo_list(session, change, error);
	}
}

static const struct change *last_change(const struct session *session)
{
	size_t at = session->change_first + session->change_count - 1;

	return &session->changes[at % MOST_CHANGES];
}

enum status session_undo(struct session *session, char *what, size_t size, struct error *error)
{
	bool with_next = true;
	enum status status = session_refresh(session, NULL, error);

	if (status != STATUS_OK)
		return status;
	if (session->change_count == 0)
		return error_set(error, STATUS_NOT_FOUND, "there is nothing to take back on this call");
	while (with_next && session->change_count > 0 && status == STATUS_OK) {
		/* Taking it back may rewrite the ring. */
		const struct change change = *last_change(session);
		with_next = change.with_next;
		status = undo(session, &change, what, size, error);
		/* What cannot be taken back any more is no longer offered. */
		if (status == STATUS_OK || status == STATUS_REFUSED || status == STATUS_NOT_FOUND)
			session->change_count--;
	}
	return status;
}
