/*
 * The customer's acceptance: a name brings the time and the total that it
 * stands under.  One key gave it, so it is one change: taken back and made
 * again as one, and one line in the list of changes.
 */
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/money.h>

#include "app/session_parts.h"

static const char by_key[] = "accepted_by";

/* Fields that stand under the name. */
static const char *const under_name[] = { "accepted_at", "accepted_total" };

enum { UNDER_NAME = sizeof under_name / sizeof *under_name };

static struct acceptance acceptance_of(const struct call *call)
{
	struct acceptance acceptance = { .at = call->accepted_at, .total = call->accepted_total };

	text_copy(acceptance.by, sizeof acceptance.by, call->accepted_by);
	return acceptance;
}

static bool is_same(const struct acceptance *a, const struct acceptance *b)
{
	return strcmp(a->by, b->by) == 0 && a->at == b->at && a->total == b->total;
}

static enum status keep(struct session *session, const struct acceptance *acceptance,
                        struct error *error)
{
	struct call *draft = &session->draft;
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	text_copy(draft->accepted_by, sizeof draft->accepted_by, acceptance->by);
	draft->accepted_at = acceptance->at;
	draft->accepted_total = acceptance->total;
	status = store_call_change(session->store, &session->call, draft, error);
	return session_end(session, status, error);
}

enum status session_accept(struct session *session, const char *by, struct error *error)
{
	struct change change = { .kind = CHANGE_ACCEPTED };
	struct acceptance *given = &change.after.acceptance;
	struct money_total total;

	change.before.acceptance = acceptance_of(&session->call);
	text_copy(given->by, sizeof given->by, by);
	given->at = *by ? session_now(session) : WALL_TIME_NONE;
	if (*by && money_total(&session->call, &total) == STATUS_OK && total.total > 0)
		given->total = total.total;
	enum status status = keep(session, given, error);
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
}

enum status session_undo_acceptance(struct session *session, const struct change *change,
                                    struct error *error)
{
	const struct acceptance now = acceptance_of(&session->call);

	if (!is_same(&now, &change->after.acceptance))
		return error_set(error, STATUS_REFUSED,
		                 "the acceptance was changed elsewhere since; "
		                 "nothing was taken back");
	return keep(session, &change->before.acceptance, error);
}

/* ---- In the trail ---- */

bool session_is_acceptance(const struct store_entry *entry)
{
	return strcmp(entry->what, "call") == 0 && strcmp(entry->field, by_key) == 0;
}

static bool is_under_name(const struct store_entry *entry, const struct store_entry *name)
{
	bool is_field = false;

	for (int i = 0; i < UNDER_NAME; i++)
		is_field = is_field || strcmp(entry->field, under_name[i]) == 0;
	return is_field && entry->book == name->book &&
	       strcmp(entry->thing.text, name->thing.text) == 0;
}

/* How many entries before `index` are of the acceptance by this name: the list is newest first. */
static size_t count_under(const struct store_entry *list, size_t index,
                          const struct store_entry *name)
{
	size_t count = 0;

	while (count < UNDER_NAME && count < index && is_under_name(&list[index - count - 1], name))
		count++;
	return count;
}

void session_join_acceptances(struct store_entry *list, size_t *count)
{
	size_t kept = 0;

	for (size_t i = 0; i < *count; i++) {
		if (session_is_acceptance(&list[i]))
			kept -= count_under(list, kept, &list[i]);
		if (kept != i)
			list[kept] = list[i];
		kept++;
	}
	*count = kept;
}

static enum status turn(struct session *session, const struct store_entry *entry,
                        struct error *error)
{
	return store_field_turn(session->store, &entry->thing, entry->field, entry->after,
	                        entry->before, error);
}

/* The name and what stands under it, of the whole trail, in one commit. */
static enum status turn_all(struct session *session, const struct store_entry *name,
                            const struct store_entry *list, size_t count, struct error *error)
{
	enum status status = store_begin(session->store, error);
	size_t at = 0;

	if (status != STATUS_OK)
		return status;
	while (at < count && (list[at].stamp != name->stamp || list[at].book != name->book))
		at++;
	status = turn(session, name, error);
	for (size_t under = count_under(list, at, name); under > 0 && status == STATUS_OK; under--)
		status = turn(session, &list[at - under], error);
	return store_end(session->store, status, error);
}

enum status session_take_acceptance_back(struct session *session, const struct store_entry *name,
                                         struct error *error)
{
	struct change change = { .kind = CHANGE_ACCEPTED };
	struct store_entry *list;
	size_t count;
	enum status status = store_call_trail(session->store, &session->call.uid, &list, &count, error);

	if (status != STATUS_OK)
		return status;
	change.before.acceptance = acceptance_of(&session->call);
	status = turn_all(session, name, list, count, error);
	free(list);
	if (status == STATUS_OK)
		status = session_look_again(session, error);
	if (status != STATUS_OK)
		return status;
	change.after.acceptance = acceptance_of(&session->call);
	*session_push_change(session) = change;
	return STATUS_OK;
}
