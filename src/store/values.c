/*
 * Readings in the book: one row a value, one line in the trail for each
 * change.
 */
#include "store/parts.h"

#include <string.h>

#include <padside/base/text.h>

static const char site_stage[] = "site";
static const char system_stage[] = "system";

const char *value_stage_word(enum stage stage, enum reading reading)
{
	switch (reading_info(reading)->scope) {
	case SCOPE_SITE:
		return site_stage;
	case SCOPE_SYSTEM:
		return system_stage;
	default:
		return stage_key(stage);
	}
}

/* Where the readings of a stage word stand in a visit. */
static enum stage stage_of_word(const char *word)
{
	return strcmp(word, stage_key(STAGE_AS_LEFT)) == 0 ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}

static enum choice choice_from_word(enum choice_list list, const char *word)
{
	for (int i = 0; i < choice_count(list); i++) {
		enum choice choice = (enum choice)((int)choice_first(list) + i);
		if (strcmp(choice_key(choice), word) == 0)
			return choice;
	}
	return CHOICE_NONE;
}

/* The words that the book has for yes and no. */
static const char *const answers[] = { "no", "yes" };

/* What goes into the column `word`; NULL for a number and for over limit. */
static const char *word_of_value(enum reading reading, const struct value *value)
{
	if (value->state != VALUE_TAKEN)
		return NULL;
	switch (reading_info(reading)->kind) {
	case KIND_CHOICE:
		return choice_key(value->choice);
	case KIND_YES_NO:
		return answers[value->number != 0];
	case KIND_DATE:
	case KIND_TEXT:
		return value->text;
	default:
		return NULL;
	}
}

static bool fill_from_word(enum reading reading, const char *word, struct value *value)
{
	switch (reading_info(reading)->kind) {
	case KIND_CHOICE:
		value->choice = choice_from_word(reading_info(reading)->choices, word);
		return value->choice != CHOICE_NONE;
	case KIND_YES_NO:
		value->number = strcmp(word, answers[1]) == 0;
		return value->number != 0 || strcmp(word, answers[0]) == 0;
	case KIND_DATE:
	case KIND_TEXT:
		return text_copy(value->text, sizeof value->text, word);
	default:
		return false;
	}
}

bool value_from_number(enum reading reading, double number, struct value *value)
{
	enum reading_kind kind = reading_info(reading)->kind;
	struct error ignored;

	if (kind != KIND_NUMBER && kind != KIND_RESISTANCE)
		return false;
	value->state = VALUE_TAKEN;
	/* Limits may have become narrower since; what was kept stays, as doubtful. */
	if (reading_from_number(reading, number, UNITS_US, value, &ignored) != STATUS_OK) {
		value->number = number;
		value->doubtful = true;
	}
	return true;
}

bool value_from_row(sqlite3_stmt *row, int first, enum reading reading, struct value *value)
{
	struct value result = { .state = VALUE_TAKEN };
	bool known;

	if (strcmp(row_text(row, first), "over_limit") == 0) {
		result.state = VALUE_OVER_LIMIT;
		known = reading_info(reading)->kind == KIND_RESISTANCE;
	} else if (sqlite3_column_type(row, first + 1) != SQLITE_NULL) {
		known = value_from_number(reading, sqlite3_column_double(row, first + 1), &result);
	} else {
		known = fill_from_word(reading, row_text(row, first + 2), &result);
	}
	result.taken_at = row_time(row, first + 3);
	if (known)
		*value = result;
	return known;
}

/* Loads what `row` (stage, key, state, number, word, taken_at) answers. */
static enum status load_rows(struct store *store, sqlite3_stmt *row, struct visit *visit,
                             struct error *error)
{
	while (book_next(store, row)) {
		/* A key of a newer program stays in the book and is not shown. */
		enum reading reading = reading_from_key(row_text(row, 1));
		struct value value;
		if (reading != READING_NONE && value_from_row(row, 2, reading, &value))
			visit_set(visit, stage_of_word(row_text(row, 0)), reading, &value);
	}
	return book_outcome(store, error);
}

enum status values_load(struct store *store, int64_t call, struct visit *visit,
                        struct error *error)
{
	static const char sql[] =
		"SELECT stage, key, state, number, word, taken_at FROM call_reading WHERE call = ?1";

	return load_rows(store, book_query(store, sql, "i", call), visit, error);
}

enum status values_load_nameplate(struct store *store, int64_t call, struct visit *visit,
                                  struct error *error)
{
	static const char sql[] =
		"SELECT stage, key, state, number, word, taken_at FROM call_reading "
		"WHERE call = ?1 AND stage IN ('system', 'site')";

	return load_rows(store, book_query(store, sql, "i", call), visit, error);
}

/* ---- Writing ---- */

static enum status write_row(struct store *store, int64_t call, const char *stage,
                             enum reading reading, const struct value *value, struct error *error)
{
	static const char put_number[] =
		"INSERT OR REPLACE INTO call_reading (call, stage, key, state, number, taken_at) "
		"VALUES (?1, ?2, ?3, 'taken', ?4, ?5)";
	static const char put_word[] =
		"INSERT OR REPLACE INTO call_reading (call, stage, key, state, word, taken_at) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6)";
	static const char take_away[] =
		"DELETE FROM call_reading WHERE call = ?1 AND stage = ?2 AND key = ?3";
	const char *key = reading_info(reading)->key;
	const char *word = word_of_value(reading, value);

	if (value->state == VALUE_NOT_TAKEN)
		return book_run(store, error, take_away, "iss", call, stage, key);
	if (value->state == VALUE_TAKEN && !word)
		return book_run(store, error, put_number, "issdt", call, stage, key, value->number,
		                value->taken_at);
	return book_run(store, error, put_word, "isssnt", call, stage, key,
	                word ? "taken" : "over_limit", word, value->taken_at);
}

/*
 * Writes a change into the trail.  `last` is the time and uid of the reading's
 * last change, "" when it has none: the new one comes after it, also where the
 * clock was put back since.
 */
static enum status write_change(struct store *store, int64_t call, const char *stage,
                                enum reading reading, const struct value *old,
                                const struct value *new, const char *last, struct error *error)
{
	static const char sql[] =
		"INSERT INTO reading_change (uid, call, stage, key, old_value, new_value, changed_at) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, "
		"iif(?7 || ?1 > ?8, ?7, strftime('%Y-%m-%dT%H:%M:%S', substr(?8, 1, 19), '+1 second')))";
	char before[VALUE_TEXT_SIZE], after[VALUE_TEXT_SIZE];
	struct uid uid = uid_new();

	reading_format_exact(reading, old, before, sizeof before);
	reading_format_exact(reading, new, after, sizeof after);
	return book_run(store, error, sql, "sissnnts", uid.text, call, stage,
	                reading_info(reading)->key, old->state == VALUE_NOT_TAKEN ? NULL : before,
	                new->state == VALUE_NOT_TAKEN ? NULL : after, book_now(store), last);
}

static enum status read_last_change(struct store *store, int64_t call, const char *stage,
                                    enum reading reading, char *last, size_t size,
                                    struct error *error)
{
	static const char sql[] =
		"SELECT max(changed_at || uid) FROM reading_change "
		"WHERE call = ?1 AND stage = ?2 AND key = ?3";
	sqlite3_stmt *row = book_query(store, sql, "iss", call, stage, reading_info(reading)->key);

	if (book_next(store, row)) {
		row_copy(row, 0, last, size);
		book_stop(row);
	}
	return book_outcome(store, error);
}

static enum status read_one(struct store *store, int64_t call, const char *stage,
                            enum reading reading, struct value *value, struct error *error)
{
	static const char sql[] =
		"SELECT state, number, word, taken_at FROM call_reading "
		"WHERE call = ?1 AND stage = ?2 AND key = ?3";
	sqlite3_stmt *row = book_query(store, sql, "iss", call, stage, reading_info(reading)->key);

	*value = (struct value){ .taken_at = WALL_TIME_NONE };
	if (book_next(store, row)) {
		value_from_row(row, 0, reading, value);
		book_stop(row);
	}
	return book_outcome(store, error);
}

static bool is_same(const struct value *a, const struct value *b)
{
	return a->state == b->state && a->number == b->number && a->choice == b->choice &&
	       strcmp(a->text, b->text) == 0 && a->taken_at == b->taken_at;
}

static enum status change_value(struct store *store, int64_t call, const char *stage,
                                enum reading reading, const struct value *value,
                                struct error *error)
{
	char last[CLOCK_TEXT_SIZE + UID_SIZE] = "";
	struct value old;
	enum status status = read_one(store, call, stage, reading, &old, error);

	if (status != STATUS_OK || is_same(&old, value))
		return status;
	if (old.state == VALUE_NOT_TAKEN && value->state == VALUE_NOT_TAKEN)
		return STATUS_OK;
	status = read_last_change(store, call, stage, reading, last, sizeof last, error);
	if (status == STATUS_OK)
		status = write_row(store, call, stage, reading, value, error);
	if (status == STATUS_OK)
		status = write_change(store, call, stage, reading, &old, value, last, error);
	return status;
}

enum status values_insert(struct store *store, int64_t call, const struct visit *visit,
                          struct error *error)
{
	const struct value nothing = { .taken_at = WALL_TIME_NONE };
	enum status status = STATUS_OK;

	for (int i = 0; i < STAGE_COUNT * READING_COUNT && status == STATUS_OK; i++) {
		enum stage stage = (enum stage)(i / READING_COUNT);
		enum reading reading = (enum reading)(i % READING_COUNT);
		const struct value *value = &visit->values[stage][reading];
		if (reading == READING_NONE || value->state == VALUE_NOT_TAKEN)
			continue;
		const char *word = value_stage_word(stage, reading);
		status = write_row(store, call, word, reading, value, error);
		if (status == STATUS_OK)
			status = write_change(store, call, word, reading, &nothing, value, "", error);
	}
	return status;
}

/* Model and serial are what a customer can be found by. */
static enum status refresh_search(struct store *store, int64_t call, enum reading reading,
                                  struct error *error)
{
	static const char sql[] = "SELECT customer FROM call WHERE id = ?1";

	if (reading != READING_MODEL && reading != READING_SERIAL)
		return STATUS_OK;
	sqlite3_stmt *row = book_query(store, sql, "i", call);
	if (!book_next(store, row))
		return book_outcome(store, error);
	int64_t customer = sqlite3_column_int64(row, 0);
	book_stop(row);
	return people_refresh_search(store, customer, error);
}

enum status store_value_set(struct store *store, const struct uid *call, enum stage stage,
                            enum reading reading, const struct value *value, struct error *error)
{
	int64_t id;
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = call_find_id(store, call, &id, error);
	if (status == STATUS_OK)
		status = change_value(store, id, value_stage_word(stage, reading), reading, value, error);
	if (status == STATUS_OK)
		status = refresh_search(store, id, reading, error);
	return store_end(store, status, error);
}

enum status store_call_changes(struct store *store, const struct uid *call,
                               store_change_fn *each, void *context, struct error *error)
{
	static const char sql[] =
		"SELECT uid, stage, key, old_value, new_value, changed_at FROM reading_change "
		"WHERE call = (SELECT id FROM call WHERE uid = ?1) ORDER BY changed_at, uid";
	sqlite3_stmt *row = book_query(store, sql, "s", call->text);

	while (book_next(store, row)) {
		struct store_change change = {
			.uid = row_uid(row, 0), .changed_at = row_time(row, 5),
		};
		row_copy(row, 1, change.stage, sizeof change.stage);
		row_copy(row, 2, change.key, sizeof change.key);
		row_copy(row, 3, change.old_value, sizeof change.old_value);
		row_copy(row, 4, change.new_value, sizeof change.new_value);
		if (!each(&change, context)) {
			book_stop(row);
			break;
		}
	}
	return book_outcome(store, error);
}
