/*
 * What the book's trail says of the open call: questions of a merge, changes
 * one by one.
 */
#include <stdlib.h>

#include "app/session_parts.h"

/* ---- Questions ---- */

enum status session_load_questions(struct session *session, struct error *error)
{
	free(session->questions);
	return store_questions(session->store, &session->call.uid, &session->questions,
	                       &session->question_count, error);
}

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

	return status == STATUS_OK ? session_read_again(session, error) : status;
}

/* ---- Changes ---- */

enum status session_changes(struct session *session, struct store_entry **list, size_t *count,
                            struct error *error)
{
	return store_call_trail(session->store, &session->call.uid, list, count, error);
}

enum status session_take_back(struct session *session, const struct store_entry *entry,
                              struct error *error)
{
	enum status status = store_field_turn(session->store, &entry->thing, entry->field, entry->after,
	                                      entry->before, error);

	return status == STATUS_OK ? session_read_again(session, error) : status;
}
