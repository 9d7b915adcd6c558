/*
 * Names of fields: in the book each is a small number, in the program what it
 * means.  Learnt once from the table `field`, forgotten when a transaction
 * failed or another program wrote.
 */
#include "store/trail.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/parts.h"

static const char *const marks[MARK_COUNT] = {
	[MARK_REMOVED] = "removed", [MARK_JOINED] = "joined", [MARK_MET] = "met",
};

/* Fills stage and reading from a name like "as_found.suction_pressure". */
static void understand_reading(struct field_meaning *meaning)
{
	const char *dot = strchr(meaning->name, '.');

	meaning->reading = dot ? reading_from_key(dot + 1) : READING_NONE;
	if (meaning->reading == READING_NONE)
		return;
	size_t length = (size_t)(dot - meaning->name);
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const char *word = value_stage_word((enum stage)stage, meaning->reading);
		meaning->stage = (enum stage)stage;
		if (strlen(word) == length && memcmp(word, meaning->name, length) == 0)
			return;
	}
	meaning->reading = READING_NONE;
}

/* Which column of each kind of thing the field is. */
static void learn_columns(struct store *store, int id, struct field_meaning *meaning)
{
	for (int kind = 0; kind < THING_KIND_COUNT; kind++) {
		meaning->columns[kind] = -1;
		for (int i = 0; i < store->shapes[kind].count; i++)
			if (strcmp(store->shapes[kind].columns[i].name, meaning->name) == 0) {
				store->shapes[kind].columns[i].field = id;
				meaning->columns[kind] = (signed char)i;
			}
	}
}

/* Takes in a row of the table. */
static bool learn(struct store *store, int id, const char *name)
{
	struct fields *fields = &store->fields;

	if (id < 1 || id > 100000)
		return true;
	if ((size_t)id >= fields->count) {
		size_t count = (size_t)id + 64;
		struct field_meaning *list = realloc(fields->list, count * sizeof *list);
		if (!list)
			return false;
		memset(list + fields->count, 0, (count - fields->count) * sizeof *list);
		fields->list = list;
		fields->count = count;
	}
	struct field_meaning *meaning = &fields->list[id];
	text_copy(meaning->name, sizeof meaning->name, name);
	meaning->seed = name_seed(name);
	understand_reading(meaning);
	if (meaning->reading != READING_NONE)
		fields->of_reading[meaning->stage][meaning->reading] = id;
	meaning->mark = MARK_COUNT;
	for (int mark = 0; mark < MARK_COUNT; mark++)
		if (strcmp(marks[mark], name) == 0) {
			meaning->mark = (enum mark)mark;
			fields->of_mark[mark] = id;
		}
	learn_columns(store, id, meaning);
	return true;
}

enum status fields_learn_removed(struct store *store, struct error *error)
{
	static const char sql[] = "SELECT 1 FROM removed LIMIT 1";
	sqlite3_stmt *row = book_query(store, sql, "");

	store->fields.has_removed = book_next(store, row);
	book_stop(row);
	return book_outcome(store, error);
}

enum status fields_learn_unread(struct store *store, struct error *error)
{
	/* A book of an earlier program is read before it has the table. */
	static const char table[] = "SELECT 1 FROM sqlite_schema WHERE name = 'unread'";
	static const char sql[] = "SELECT 1 FROM unread LIMIT 1";
	sqlite3_stmt *row = book_query(store, table, "");
	bool has_table = book_next(store, row);

	book_stop(row);
	row = has_table ? book_query(store, sql, "") : NULL;
	store->fields.has_unread = book_next(store, row);
	book_stop(row);
	return book_outcome(store, error);
}

static enum status learn_all(struct store *store, struct error *error)
{
	static const char sql[] = "SELECT id, name FROM field";

	if (store->fields.learnt)
		return STATUS_OK;
	sqlite3_stmt *row = book_query(store, sql, "");
	while (book_next(store, row))
		if (!learn(store, sqlite3_column_int(row, 0), row_text(row, 1))) {
			book_stop(row);
			return book_error(store, STATUS_NO_MEMORY, error);
		}
	store->fields.learnt = store->code == SQLITE_OK;
	enum status status = store->fields.learnt ? fields_learn_removed(store, error)
	                                          : book_outcome(store, error);
	return status == STATUS_OK ? fields_learn_unread(store, error) : status;
}

void fields_forget(struct store *store)
{
	struct fields *fields = &store->fields;

	free(fields->list);
	memset(fields, 0, sizeof *fields);
	for (int kind = 0; kind < THING_KIND_COUNT; kind++)
		for (int i = 0; i < store->shapes[kind].count; i++)
			store->shapes[kind].columns[i].field = 0;
}

static enum status make_field(struct store *store, const char *name, bool is_number, int *id,
                              struct error *error)
{
	static const char sql[] = "INSERT INTO field (name, is_number) VALUES (?1, ?2)";
	enum status status = book_run(store, error, sql, "si", name, (int64_t)is_number);

	if (status != STATUS_OK)
		return status;
	*id = (int)sqlite3_last_insert_rowid(store->db);
	return learn(store, *id, name) ? STATUS_OK : book_error(store, STATUS_NO_MEMORY, error);
}

enum status field_find(struct store *store, const char *name, bool is_number, bool make, int *id,
                       struct error *error)
{
	enum status status = learn_all(store, error);

	*id = 0;
	if (status != STATUS_OK)
		return status;
	for (size_t i = 1; i < store->fields.count && *id == 0; i++)
		if (strcmp(store->fields.list[i].name, name) == 0)
			*id = (int)i;
	return *id || !make ? STATUS_OK : make_field(store, name, is_number, id, error);
}

/* Whether a field of that name is a reading that is a number. */
static bool is_number_by_name(const struct store *store, const char *name)
{
	const struct shape *charge = &store->shapes[(int)THING_LISTS + (int)LIST_CHARGE];
	struct field_meaning meaning = { .reading = READING_NONE };

	text_copy(meaning.name, sizeof meaning.name, name);
	understand_reading(&meaning);
	if (meaning.reading != READING_NONE)
		return value_is_number(meaning.reading);
	for (int i = 0; i < charge->count; i++)
		if (charge->columns[i].kind == COLUMN_READING && strcmp(charge->columns[i].name, name) == 0)
			return true;
	return false;
}

enum status field_of_name(struct store *store, const char *name, int *id, struct error *error)
{
	enum status status = field_find(store, name, false, false, id, error);

	return status != STATUS_OK || *id ? status
		: make_field(store, name, is_number_by_name(store, name), id, error);
}

enum status field_update(struct store *store, int id, struct error *error)
{
	static const char sql[] = "UPDATE field SET is_number = ?2 WHERE id = ?1";
	const struct field_meaning *meaning = field_meaning(store, id);

	return meaning ? book_run(store, error, sql, "ii", (int64_t)id,
	                          (int64_t)is_number_by_name(store, meaning->name)) : STATUS_OK;
}

enum status field_of_column(struct store *store, enum thing_kind kind, int column, bool make,
                            int *id, struct error *error)
{
	enum status status = learn_all(store, error);
	struct shape_column *at = &store->shapes[kind].columns[column];

	if (status == STATUS_OK && at->field == 0 && make)
		return make_field(store, at->name, at->kind == COLUMN_READING, id, error);
	*id = at->field;
	return status;
}

enum status field_of_reading(struct store *store, enum stage stage, enum reading reading,
                             bool make, int *id, struct error *error)
{
	enum status status = learn_all(store, error);
	const struct reading_info *info = reading_info(reading);
	struct text name;

	if (info->scope != SCOPE_CALL)
		stage = STAGE_AS_FOUND;
	*id = status == STATUS_OK ? store->fields.of_reading[stage][reading] : 0;
	if (status != STATUS_OK || *id || !make)
		return status;
	text_init(&name);
	text_add_format(&name, "%s.%s", value_stage_word(stage, reading), info->key);
	status = make_field(store, text_get(&name), value_is_number(reading), id, error);
	text_done(&name);
	return status;
}

enum status field_of_mark(struct store *store, enum mark mark, bool make, int *id,
                          struct error *error)
{
	enum status status = learn_all(store, error);

	*id = status == STATUS_OK ? store->fields.of_mark[mark] : 0;
	if (status != STATUS_OK || *id || !make)
		return status;
	return make_field(store, marks[mark], false, id, error);
}

static bool is_known(const struct store *store, int id)
{
	return id >= 1 && (size_t)id < store->fields.count && *store->fields.list[id].name;
}

const struct field_meaning *field_meaning(struct store *store, int id)
{
	struct error ignored;

	if (!is_known(store, id) || !store->fields.learnt) {
		/* Another program may have made it meanwhile. */
		store->fields.learnt = false;
		if (learn_all(store, &ignored) != STATUS_OK || !is_known(store, id))
			return NULL;
	}
	return &store->fields.list[id];
}

bool field_is_charge_reading(struct store *store, int id)
{
	const enum thing_kind kind = (enum thing_kind)((int)THING_LISTS + (int)LIST_CHARGE);
	int column = field_column(store, kind, id);

	return column >= 0 && store->shapes[kind].columns[column].kind == COLUMN_READING;
}

int field_column(struct store *store, enum thing_kind kind, int id)
{
	return is_known(store, id) && kind < THING_KIND_COUNT ? store->fields.list[id].columns[kind]
	                                                      : -1;
}
