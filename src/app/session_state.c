/*
 * What a session holds, and the one way to change it.
 *
 * A change is made on a copy of the call (the draft) while a transaction
 * writes it to the book; what it means is worked out from the copy, in the
 * same transaction go the two lines for lists.  Only when the book has it
 * whole, the copy becomes the call.  So memory never holds what the book does
 * not, and one change is one commit.
 */
#include <stdlib.h>
#include <string.h>

#include <padside/app/summary_line.h>
#include <padside/base/text.h>
#include <padside/model/call_parts.h>
#include <padside/model/money.h>

#include "app/session_parts.h"
#include "app/past_visits.h"

/* ---- What it works on ---- */

struct store *session_store(const struct session *session)
{
	return session->store;
}

const char *session_path(const struct session *session)
{
	return store_path(session->store);
}

enum unit_system session_units(const struct session *session)
{
	return session->units;
}

void session_set_units(struct session *session, enum unit_system units)
{
	session->units = units;
}

wall_time session_now(const struct session *session)
{
	return clock_now(&session->clock);
}

int64_t session_steady(const struct session *session)
{
	return clock_steady(&session->clock);
}

/* ---- What a call is about ---- */

enum status session_load_items(struct session *session, struct error *error)
{
	free(session->items);
	return past_watch_load(session->store, &session->call, &session->items, &session->item_count,
	                       error);
}

enum status session_load_questions(struct session *session, struct error *error)
{
	free(session->questions);
	return store_questions(session->store, &session->call.uid, &session->questions,
	                       &session->question_count, error);
}

static void work_out(const struct session *session, const struct call *call,
                     struct assessment *assessment)
{
	assessment_make(&(struct assessment_input){ .call = call, .past = &session->past,
	                                            .with_before = true }, assessment);
}

enum status session_enter(struct session *session, struct error *error)
{
	enum status status = session_load_items(session, error);

	if (status == STATUS_OK)
		status = session_load_questions(session, error);
	if (status == STATUS_OK)
		status = past_visits_load(session->store, &session->call, &session->past, error);
	if (status == STATUS_OK)
		status = store_version(session->store, &session->version, error);
	if (status == STATUS_OK)
		status = store_call_lines(session->store, &session->call.uid, session->found_line,
		                          sizeof session->found_line, session->done_line,
		                          sizeof session->done_line, &session->lines_stand, error);
	if (status != STATUS_OK) {
		session_leave(session);
		return status;
	}
	session->is_open = true;
	work_out(session, &session->call, &session->assessment);
	session_show_fields(session);
	return STATUS_OK;
}

void session_leave(struct session *session)
{
	call_done(&session->call);
	free(session->items);
	session->items = NULL;
	session->item_count = 0;
	free(session->questions);
	session->questions = NULL;
	session->question_count = 0;
	session->change_count = session->undone_count = 0;
	session->found_line[0] = session->done_line[0] = '\0';
	session->lines_stand = false;
	session->is_open = false;
}

/* ---- What another program wrote ---- */

/* Whether two calls are the same by all that a book holds of them. */
static bool is_same_call(const struct call *a, const struct call *b)
{
	for (int i = 0; i < CALL_PART_COUNT; i++) {
		const struct call_part_info *part = call_part_info((enum call_part)i);
		if (part->is_list) {
			if (call_list_count(a, part->list) != call_list_count(b, part->list))
				return false;
			for (size_t j = 0; j < call_list_count(a, part->list); j++)
				if (!session_is_same_element(part->list, call_list_at(a, part->list, j),
				                             call_list_at(b, part->list, j)))
					return false;
		} else if (!session_is_same_part((enum call_part)i, (const char *)a + part->offset,
		                                 (const char *)b + part->offset)) {
			return false;
		}
	}
	for (int i = 0; i < STAGE_COUNT * READING_COUNT; i++) {
		const struct value *one = &a->visit.values[i / READING_COUNT][i % READING_COUNT];
		const struct value *other = &b->visit.values[i / READING_COUNT][i % READING_COUNT];
		if (!session_is_same_value(one, other) || one->taken_at != other->taken_at)
			return false;
	}
	return true;
}

static enum status reload(struct session *session, bool *changed, struct error *error)
{
	struct call loaded;

	call_init(&loaded);
	enum status status = store_call_load(session->store, session->call.uid.text, &loaded, error);
	if (status == STATUS_NOT_FOUND)
		return error_set(error, status,
		                 "this call was taken out by another program; nothing was kept "
		                 "here; leave it, and bring it back from the opening page");
	if (status != STATUS_OK)
		return status;
	*changed = !is_same_call(&session->call, &loaded) ||
	           strcmp(session->call.customer.uid.text, loaded.customer.uid.text) != 0 ||
	           strcmp(session->call.system.uid.text, loaded.system.uid.text) != 0;
	if (!*changed) {
		size_t questions = session->question_count;
		call_done(&loaded);
		status = session_load_items(session, error);
		if (status == STATUS_OK)
			status = session_load_questions(session, error);
		*changed = questions != session->question_count;
		return status;
	}
	call_done(&session->call);
	session->call = loaded;
	return session_enter(session, error);
}

enum status session_refresh(struct session *session, bool *changed, struct error *error)
{
	int64_t version = session->version;
	bool ignored;

	if (!changed)
		changed = &ignored;
	*changed = false;
	if (!session->is_open)
		return STATUS_OK;
	enum status status = store_version(session->store, &version, error);
	if (status == STATUS_OK && version != session->version)
		status = reload(session, changed, error);
	if (status == STATUS_OK)
		session->version = version;
	return status;
}

enum status session_read_again(struct session *session, struct error *error)
{
	session->version = -1;
	return session_refresh(session, NULL, error);
}

bool session_other_wrote(struct session *session)
{
	int64_t seen = session->seen;
	struct error ignored;

	if (store_version(session->store, &session->seen, &ignored) != STATUS_OK)
		return false;
	return seen != 0 && seen != session->seen;
}

/* ---- Changing ---- */

enum status session_begin(struct session *session, struct error *error)
{
	enum status status = session_refresh(session, NULL, error);

	if (status != STATUS_OK)
		return status;
	if (!call_copy(&session->call, &session->draft))
		return error_set(error, STATUS_NO_MEMORY,
		                 "there is no memory left; nothing was changed; "
		                 "close other programs");
	status = store_begin(session->store, error);
	if (status != STATUS_OK)
		call_done(&session->draft);
	return status;
}

/* The two lines for lists, where they are others now. */
static enum status keep_lines(struct session *session, char *found, char *done,
                              struct error *error)
{
	summary_line_found(&session->draft, &session->next, found, LINE_SIZE);
	summary_line_done(&session->draft, done, LINE_SIZE);
	if (session->lines_stand && strcmp(found, session->found_line) == 0 &&
	    strcmp(done, session->done_line) == 0)
		return STATUS_OK;
	return store_call_save_lines(session->store, &session->draft.uid, found, done, error);
}

/* Whether two calls have the same readings and judgements. */
static bool is_assessed_alike(const struct call *a, const struct call *b)
{
	/* Where padding alone differs the assessment is made once more: no harm. */
	/* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison) */
	return memcmp(&a->visit, &b->visit, sizeof a->visit) == 0 &&
	       a->judgement_count == b->judgement_count &&
	       (a->judgement_count == 0 ||
	        memcmp(a->judgements, b->judgements, a->judgement_count * sizeof *a->judgements) == 0);
}

enum status session_end(struct session *session, enum status status, struct error *error)
{
	char found[LINE_SIZE], done[LINE_SIZE];

	if (status == STATUS_OK) {
		/* A text or a line of another list changes nothing of what the readings mean. */
		if (is_assessed_alike(&session->draft, &session->call))
			session->next = session->assessment;
		else
			work_out(session, &session->draft, &session->next);
		status = keep_lines(session, found, done, error);
	}
	status = store_end(session->store, status, error);
	if (status != STATUS_OK) {
		call_done(&session->draft);
		return status;
	}
	call_done(&session->call);
	session->call = session->draft;
	session->assessment = session->next;
	text_copy(session->found_line, sizeof session->found_line, found);
	text_copy(session->done_line, sizeof session->done_line, done);
	session->lines_stand = true;
	session_show_fields(session);
	return STATUS_OK;
}

enum status session_look_again(struct session *session, struct error *error)
{
	enum status status = session_read_again(session, error);

	if (status == STATUS_OK)
		status = session_begin(session, error);
	return status == STATUS_OK ? session_end(session, STATUS_OK, error) : status;
}

/* ---- What can be taken back ---- */

struct change *session_push_change(struct session *session)
{
	/* A new change: what was taken back cannot be made again. */
	session->undone_count = 0;
	if (session->change_count == MOST_CHANGES) {
		session->change_first = (session->change_first + 1) % MOST_CHANGES;
		session->change_count--;
	}
	size_t at = (session->change_first + session->change_count++) % MOST_CHANGES;
	return &session->changes[at];
}

/* ---- Whether two are the same ---- */

bool session_is_same_value(const struct value *a, const struct value *b)
{
	return a->state == b->state && a->choice == b->choice && strcmp(a->text, b->text) == 0 &&
	       (a->state != VALUE_TAKEN || !(a->number < b->number || a->number > b->number));
}

bool session_is_same_part(enum call_part part, const void *a, const void *b)
{
	char one[MEMBER_TEXT_SIZE], other[MEMBER_TEXT_SIZE];

	for (const struct call_member *member = call_part_info(part)->members; member->key; member++) {
		call_member_format(member, a, one, sizeof one);
		call_member_format(member, b, other, sizeof other);
		if (strcmp(one, other) != 0)
			return false;
	}
	return true;
}

bool session_is_same_element(enum call_list list, const void *a, const void *b)
{
	if (strcmp(((const struct uid *)a)->text, ((const struct uid *)b)->text) != 0 ||
	    !session_is_same_part(call_part_of_list(list), a, b))
		return false;
	for (int i = 0; list == LIST_CHARGE && i < CHARGE_READING_COUNT; i++)
		if (!session_is_same_value(&((const struct charge_entry *)a)->values[i],
		                           &((const struct charge_entry *)b)->values[i]))
			return false;
	return true;
}

/* ---- What another wrote beside ---- */

void session_follow_part(enum call_part part, const void *base, const void *now, void *given)
{
	char one[MEMBER_TEXT_SIZE], other[MEMBER_TEXT_SIZE];

	for (const struct call_member *member = call_part_info(part)->members; member->key; member++) {
		call_member_format(member, base, one, sizeof one);
		call_member_format(member, given, other, sizeof other);
		if (strcmp(one, other) != 0)
			continue;
		call_member_format(member, now, other, sizeof other);
		call_member_parse(member, given, other);
	}
}

void session_follow_element(enum call_list list, const void *base, const void *now, void *given)
{
	session_follow_part(call_part_of_list(list), base, now, given);
	for (int i = 0; list == LIST_CHARGE && i < CHARGE_READING_COUNT; i++)
		if (session_is_same_value(&((const struct charge_entry *)base)->values[i],
		                          &((struct charge_entry *)given)->values[i]))
			((struct charge_entry *)given)->values[i] =
				((const struct charge_entry *)now)->values[i];
}
