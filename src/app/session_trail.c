/*
 * What the book's trail says of the open call: questions of a merge, changes
 * one by one.
 */
#include <stdlib.h>

#include <padside/app/trail_words.h>
#include <padside/base/text.h>

#include "app/session_parts.h"

/* ---- Questions ---- */

size_t session_question_count(const struct session *session)
{
	return session->question_count;
}

const struct store_question *session_question_at(const struct session *session, size_t index)
{
	return index < session->question_count ? &session->questions[index] : NULL;
}

enum status session_answer(struct session *session, size_t index, bool keep_now,
                           struct error *error)
{
	enum status status = store_question_answer(session->store, &session->questions[index], keep_now,
	                                           error);

	return status == STATUS_OK ? session_look_again(session, error) : status;
}

/* ---- Changes ---- */

enum status session_changes(struct session *session, struct store_entry **list, size_t *count,
                            struct error *error)
{
	enum status status = store_call_trail(session->store, &session->call.uid, list, count, error);

	if (status == STATUS_OK)
		session_join_acceptances(*list, count);
	return status;
}

enum status session_turn_field(struct session *session, const struct uid *thing, const char *field,
                               const char *from, const char *to, struct error *error)
{
	enum status status = store_field_turn(session->store, thing, field, from, to, error);

	return status == STATUS_OK ? session_look_again(session, error) : status;
}

enum status session_take_back(struct session *session, const struct store_entry *entry,
                              struct error *error)
{
	struct change change = { .kind = CHANGE_ENTRY, .uid = entry->thing };
	char words[TRAIL_LABEL_SIZE];

	if (session_is_acceptance(entry))
		return session_take_acceptance_back(session, entry, error);
	enum status status = session_turn_field(session, &entry->thing, entry->field, entry->after,
	                                        entry->before, error);

	if (status != STATUS_OK)
		return status;
	/* It can be taken back in turn. */
	trail_words_field(entry->what, entry->field, words, sizeof words);
	text_copy(change.words, sizeof change.words, words);
	text_copy(change.name, sizeof change.name, entry->field);
	text_copy(change.before.text, sizeof change.before.text, entry->after);
	text_copy(change.after.text, sizeof change.after.text, entry->before);
	*session_push_change(session) = change;
	return STATUS_OK;
}
