/*
 * What was typed and is not kept yet.  It stays here, what only has to wait is
 * tried again, and all of it lies in a small file beside the book
 * (session_unkept.c), so that it is there again at the next start.
 */
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "app/session_parts.h"

bool session_is_same_place(const struct session_pending *a, const struct session_pending *b)
{
	if (strcmp(a->call.text, b->call.text) != 0 || a->is_field != b->is_field ||
	    a->is_line != b->is_line)
		return false;
	if (a->is_line)
		return strcmp(a->what, b->what) == 0 && strcmp(a->uid.text, b->uid.text) == 0 &&
		       strcmp(a->label, b->label) == 0 && a->which == b->which;
	return a->is_field ? a->field == b->field : a->stage == b->stage && a->reading == b->reading;
}

static size_t find(const struct session *session, const struct session_pending *place)
{
	size_t at = 0;

	while (at < session->pending_count && !session_is_same_place(&session->pending[at], place))
		at++;
	return at;
}

static struct session_pending on_open_call(const struct session *session,
                                           const struct session_pending *place)
{
	struct session_pending here = *place;

	if (uid_is_none(&here.call))
		here.call = session->call.uid;
	return here;
}

size_t session_pending_count(const struct session *session)
{
	return session->pending_count;
}

const struct session_pending *session_pending_at(const struct session *session, size_t index)
{
	return index < session->pending_count ? &session->pending[index] : NULL;
}

const struct session_pending *session_pending_find(const struct session *session,
                                                   const struct session_pending *place)
{
	const struct session_pending here = on_open_call(session, place);

	return session_pending_at(session, find(session, &here));
}

const char *session_pending_label(const struct session_pending *pending)
{
	if (pending->is_line)
		return pending->label;
	return pending->is_field ? field_info(pending->field)->label
	                         : reading_info(pending->reading)->label;
}

void session_pending_drop(struct session *session, size_t index)
{
	if (index >= session->pending_count)
		return;
	memmove(&session->pending[index], &session->pending[index + 1],
	        (session->pending_count - index - 1) * sizeof *session->pending);
	session->pending_count--;
	session->spool_due = true;
}

void session_pending_drop_place(struct session *session, const struct session_pending *place)
{
	const struct session_pending here = on_open_call(session, place);

	session_pending_drop(session, find(session, &here));
}

/* Adds one to an owned array; false when memory ran out. */
static bool add(struct session_pending **list, size_t *count, const struct session_pending *pending)
{
	struct session_pending *more = realloc(*list, (*count + 1) * sizeof *more);

	if (!more)
		return false;
	*list = more;
	more[(*count)++] = *pending;
	return true;
}

static bool is_ours(const struct session *session, const struct session_pending *place)
{
	for (size_t i = 0; i < session->ours_count; i++)
		if (session_is_same_place(&session->ours[i], place))
			return true;
	return false;
}

enum status session_hold(struct session *session, const struct session_pending *given,
                         struct error *error)
{
	const struct session_pending pending = on_open_call(session, given);
	size_t at = find(session, &pending);

	if ((!is_ours(session, &pending) && !add(&session->ours, &session->ours_count, &pending)) ||
	    (at == session->pending_count &&
	     !add(&session->pending, &session->pending_count, &pending)))
		return error_set(error, STATUS_NO_MEMORY, "there is no memory left; close other programs");
	session->pending[at] = pending;
	session->spool_due = true;
	return STATUS_OK;
}

/* ---- Trying again ---- */

bool session_may_keep_later(enum status status)
{
	switch (status) {
	case STATUS_BUSY:
	case STATUS_FULL:
	case STATUS_IO:
	case STATUS_NO_MEMORY:
	case STATUS_CANNOT_OPEN:
		return true;
	default:
		return false;
	}
}

bool session_is_to_try(const struct session *session, const struct session_pending *pending)
{
	return session->is_open && !pending->recovered && !pending->refused &&
	       strcmp(pending->call.text, session->call.uid.text) == 0;
}

bool session_is_waiting(const struct session *session)
{
	for (size_t i = 0; i < session->pending_count; i++)
		if (session_is_to_try(session, &session->pending[i]))
			return true;
	return false;
}
