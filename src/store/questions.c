/*
 * Fields that two books changed without knowing of each other: what each
 * wrote, and the answer, which is one more entry of the trail.
 */
#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

/* One of the last values of a field: no entry was written in knowledge of it. */
struct head {
	int64_t stamp, book, number; /* of its entry */
	char value[MEMBER_TEXT_SIZE]; /* "" nothing */
	char by[NAME_SIZE];          /* the technician */
	bool known;                  /* a later entry was written in knowledge of it */
};

enum { MOST_HEADS = 16 };

static enum status read_heads(struct store *store, int64_t thing, int field, struct head *heads,
                              int *count, struct error *error)
{
	static const char sql[] =
		"SELECT stamp, book, number, new, technician.name FROM entry JOIN technician "
		"ON technician.id = entry.technician WHERE thing = ?1 AND field = ?2 "
		"ORDER BY " TRAIL_LATEST " LIMIT 16";
	sqlite3_stmt *row = book_query(store, sql, "ii", thing, (int64_t)field);

	*count = 0;
	while (*count < MOST_HEADS && book_next(store, row)) {
		struct head *head = &heads[(*count)++];
		head->stamp = sqlite3_column_int64(row, 0);
		head->book = sqlite3_column_int64(row, 1);
		head->number = sqlite3_column_int64(row, 2);
		row_copy(row, 3, head->value, sizeof head->value);
		row_copy(row, 4, head->by, sizeof head->by);
		head->known = false;
	}
	book_stop(row);
	for (int i = 0; i < *count; i++)
		for (int j = 0; j < i; j++)
			heads[i].known = heads[i].known ||
				trail_knew(store, heads[j].book, heads[j].number, heads[j].stamp, heads[i].book,
				           heads[i].number, heads[i].stamp);
	return book_outcome(store, error);
}

static void fill_value(struct store *store, const struct head *head, struct store_value *value)
{
	text_copy(value->text, sizeof value->text, head->value);
	text_copy(value->by, sizeof value->by, head->by);
	value->at = head->book == 0 ? (head->stamp >> 16) / 1000
	                            : clock_wall_of(&store->clock, head->stamp >> 16);
}

static enum status note_removal(struct store *store, const struct thing *thing,
                                struct store_question *question, struct error *error)
{
	static const char sql[] = "SELECT 1 FROM removed WHERE thing = ?1";
	sqlite3_stmt *row = book_query(store, sql, "i", thing->id);

	question->is_out = book_next(store, row);
	book_stop(row);
	return book_outcome(store, error);
}

static enum status fill_question(struct store *store, const struct thing *thing, int field,
                                 struct store_question *question, struct error *error)
{
	const struct field_meaning *meaning = field_meaning(store, field);
	struct head *heads = calloc(MOST_HEADS, sizeof *heads);
	int count = 0, other = 1;

	if (!heads)
		return book_error(store, STATUS_NO_MEMORY, error);
	*question = (struct store_question){ .thing = thing->uid };
	text_copy(question->what, sizeof question->what, thing_word(thing->kind));
	text_copy(question->field, sizeof question->field, meaning ? meaning->name : "");
	question->is_removal = meaning && meaning->mark == MARK_REMOVED;
	enum status status = note_removal(store, thing, question, error);
	if (status == STATUS_OK)
		status = read_heads(store, thing->id, field, heads, &count, error);
	while (other < count && (heads[other].known || strcmp(heads[other].value, heads[0].value) == 0))
		other++;
	if (status == STATUS_OK && count > 0)
		fill_value(store, &heads[0], &question->now);
	if (status == STATUS_OK && other < count)
		fill_value(store, &heads[other], &question->other);
	free(heads);
	return status;
}

/* The call that a thing is, or is a line of. */
static enum status note_call(struct store *store, const struct thing *thing,
                             struct store_question *question, struct error *error)
{
	struct thing call = *thing;
	enum status status = kind_is_line(thing->kind) ? thing_load(store, thing->call, &call, error)
	                                               : STATUS_OK;

	if (status == STATUS_OK && call.kind == THING_CALL)
		question->call = call.uid;
	return status;
}

static enum status add_question(struct store *store, sqlite3_stmt *row,
                                struct store_question **list, size_t *count, struct error *error)
{
	struct store_question *more = realloc(*list, (*count + 1) * sizeof *more);
	struct thing thing;

	if (!more)
		return book_error(store, STATUS_NO_MEMORY, error);
	*list = more;
	enum status status = thing_load(store, sqlite3_column_int64(row, 0), &thing, error);
	if (status == STATUS_OK)
		status = fill_question(store, &thing, sqlite3_column_int(row, 1), &more[*count], error);
	if (status == STATUS_OK)
		status = note_call(store, &thing, &more[(*count)++], error);
	return status;
}

enum status store_questions(struct store *store, const struct uid *call,
                            struct store_question **questions, size_t *count,
                            struct error *error)
{
	/* Few are open at a time: the table is walked, each thing looked up by its id. */
	static const char of_call[] =
		"SELECT question.thing, question.field FROM question CROSS JOIN thing "
		"ON thing.id = question.thing CROSS JOIN call ON call.uid = ?1 WHERE thing.call = call.id "
		"OR thing.id IN (call.id, call.customer, call.site, call.system) ORDER BY "
		"question.thing, question.field";
	static const char of_all[] = "SELECT thing, field FROM question ORDER BY thing, field";
	enum status status = book_look(store, error);
	sqlite3_stmt *row = NULL;

	*questions = NULL;
	*count = 0;
	if (status == STATUS_OK)
		row = call ? book_query(store, of_call, "s", call->text) : book_query(store, of_all, "");
	while (status == STATUS_OK && book_next(store, row))
		status = add_question(store, row, questions, count, error);
	book_stop(row);
	if (status == STATUS_OK)
		status = book_outcome(store, error);
	if (status != STATUS_OK) {
		free(*questions);
		*questions = NULL;
		*count = 0;
	}
	return status;
}

static enum status answer(struct store *store, const struct store_question *question,
                          bool keep_now, struct error *error)
{
	const struct store_value *chosen = keep_now ? &question->now : &question->other;
	char there[MEMBER_TEXT_SIZE];
	struct thing thing;
	int field;
	enum status status = thing_find(store, &question->thing, &thing, error);

	if (status == STATUS_OK)
		status = field_find(store, question->field, false, false, &field, error);
	if (status == STATUS_OK && field == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	if (status == STATUS_OK)
		status = trail_get(store, thing.id, field, there, sizeof there, error);
	if (status != STATUS_OK)
		return status;
	/* A removal is answered by taking out, or by bringing back. */
	const char *value = chosen->text;
	if (question->is_removal)
		value = keep_now == question->is_out ? "1" : "";
	wall_time at = field_meaning(store, field)->reading != READING_NONE ? book_now(store)
	                                                                   : WALL_TIME_NONE;
	status = trail_write(store, &thing, field, *there ? there : NULL, *value ? value : NULL,
	                     *value ? at : WALL_TIME_NONE, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

enum status store_question_answer(struct store *store, const struct store_question *question,
                                  bool keep_now, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, answer(store, question, keep_now, error), error);
}
