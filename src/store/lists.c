/*
 * The lists of a call, all by the same statements: a list is a table of the
 * book whose columns are the members of the list's part.
 *
 * A line keeps its place: new ones come after the last.  What is taken out
 * leaves its uid behind, so that another truck's book does not bring it back.
 */
#include "store/parts.h"

#include <padside/base/number.h>
#include <padside/base/text.h>
#include <padside/model/call_parts.h>

static const char *const tables[CALL_LIST_COUNT] = {
	[LIST_CHARGE] = "charge_entry", [LIST_WORK] = "work_line", [LIST_OFFERS] = "offer",
	[LIST_WATCH] = "watch_item", [LIST_JUDGEMENTS] = "judgement", [LIST_TIGHTNESS] = "tightness",
	[LIST_CYLINDERS] = "cylinder",
};

/* The parameters that come before a line's members: uid, call, time of the change. */
enum { FIRST_MEMBER = 4 };

/* ---- The statements of a list, made when they are first needed ---- */

static const struct call_member *members_of(enum call_list list)
{
	return call_part_info(call_part_of_list(list))->members;
}

/* Adds `form` once a member: %s is its column, %d its parameter. */
static void add_columns(struct text *sql, enum call_list list, const char *before, bool assign)
{
	int parameter = FIRST_MEMBER;

	for (const struct call_member *member = members_of(list); member->key; member++, parameter++)
		if (assign)
			text_add_format(sql, "%s\"%s\" = ?%d", before, member->key, parameter);
		else
			text_add_format(sql, "%s\"%s\"", before, member->key);
}

static void add_parameters(struct text *sql, enum call_list list)
{
	int parameter = FIRST_MEMBER;

	for (const struct call_member *member = members_of(list); member->key; member++)
		text_add_format(sql, ", ?%d", parameter++);
}

static void make_insert(struct text *sql, enum call_list list)
{
	text_add_format(sql, "INSERT INTO %s (uid, call, changed_at, position", tables[list]);
	add_columns(sql, list, ", ", false);
	text_add(sql, ") SELECT ?1, ?2, ?3, coalesce(max(position), 0) + 1");
	add_parameters(sql, list);
	text_add_format(sql, " FROM %s WHERE call = ?2", tables[list]);
}

static void make_change(struct text *sql, enum call_list list)
{
	text_add_format(sql, "UPDATE %s SET changed_at = iif(changed_at < ?3, ?3, "
	                "strftime('%%Y-%%m-%%dT%%H:%%M:%%S', changed_at, '+1 second'))", tables[list]);
	add_columns(sql, list, ", ", true);
	text_add(sql, " WHERE uid = ?1 AND call = ?2");
}

static void make_select(struct text *sql, enum call_list list)
{
	text_add(sql, "SELECT uid");
	add_columns(sql, list, ", ", false);
	text_add_format(sql, " FROM %s WHERE call = ?1 ORDER BY position, id", tables[list]);
}

/* A removal is never earlier than the last change of what it removes. */
static void make_remember(struct text *sql, enum call_list list)
{
	text_add_format(sql, "INSERT OR REPLACE INTO removed_line (uid, removed_at) "
	                "SELECT uid, max(changed_at, ?2) FROM %s WHERE uid = ?1", tables[list]);
}

static void make_remove(struct text *sql, enum call_list list)
{
	text_add_format(sql, "DELETE FROM %s WHERE uid = ?1", tables[list]);
}

static void (*const makers[LIST_STATEMENT_COUNT])(struct text *, enum call_list) = {
	[LIST_INSERT] = make_insert, [LIST_CHANGE] = make_change, [LIST_SELECT] = make_select,
	[LIST_REMEMBER] = make_remember, [LIST_REMOVE] = make_remove,
};

/* NULL, and the store's code says so, when memory ran out. */
static const char *statement(struct store *store, enum call_list list, enum list_statement which)
{
	char **sql = &store->list_sql[list][which];
	struct text text;

	if (*sql)
		return *sql;
	text_init(&text);
	makers[which](&text, list);
	if (text.failed) {
		text_done(&text);
		store->code = SQLITE_NOMEM;
		return NULL;
	}
	*sql = text.bytes;
	return *sql;
}

/* ---- Members as columns ---- */

/* What stands in the column of an empty member; NULL for NULL. */
static const char *empty_column(enum call_form form)
{
	switch (form) {
	case FORM_TEXT:
	case FORM_REFRIGERANT:
		return "";
	case FORM_TIME:
	case FORM_MEASURED:
		return NULL;
	default:
		return "0";
	}
}

void member_bind(sqlite3_stmt *row, int parameter, const struct call_member *member,
                 const void *part)
{
	char exact[MEMBER_TEXT_SIZE];

	call_member_format(member, part, exact, sizeof exact);
	const char *text = *exact ? exact : empty_column(member->form);
	if (text)
		sqlite3_bind_text(row, parameter, text, -1, SQLITE_TRANSIENT);
	else
		sqlite3_bind_null(row, parameter);
}

void member_from_row(sqlite3_stmt *row, int column, const struct call_member *member, void *part)
{
	char exact[NUMBER_SIZE] = "";
	const char *text = exact;

	if (sqlite3_column_type(row, column) == SQLITE_FLOAT)
		number_format_exact(sqlite3_column_double(row, column), exact, sizeof exact);
	else
		text = row_text(row, column);
	call_member_parse(member, part, text);
}

void members_from_row(sqlite3_stmt *row, int first, enum call_part part, void *target)
{
	for (const struct call_member *member = call_part_info(part)->members; member->key; member++)
		member_from_row(row, first++, member, target);
}

/* ---- Putting and removing ---- */

static enum status write_charge_readings(struct store *store, const struct charge_entry *entry,
                                         struct error *error)
{
	static const char clear[] =
		"DELETE FROM charge_reading WHERE entry = (SELECT id FROM charge_entry WHERE uid = ?1)";
	static const char put[] =
		"INSERT INTO charge_reading (entry, key, number) "
		"SELECT id, ?2, ?3 FROM charge_entry WHERE uid = ?1";
	enum status status = book_run(store, error, clear, "s", entry->uid.text);

	for (int i = 0; i < CHARGE_READING_COUNT && status == STATUS_OK; i++)
		if (entry->values[i].state == VALUE_TAKEN)
			status = book_run(store, error, put, "ssd", entry->uid.text,
			                  reading_info(charge_reading_id((enum charge_reading)i))->key,
			                  entry->values[i].number);
	return status;
}

/* Runs the insertion or the change of a line. */
static enum status write_line(struct store *store, enum call_list list, enum list_statement which,
                              int64_t call, const void *line, struct error *error)
{
	const char *sql = statement(store, list, which);
	int parameter = FIRST_MEMBER;

	if (!sql)
		return book_outcome(store, error);
	sqlite3_stmt *row = book_query(store, sql, "sit", ((const struct uid *)line)->text, call,
	                               book_now(store));
	for (const struct call_member *member = members_of(list); row && member->key; member++)
		member_bind(row, parameter++, member, line);
	while (book_next(store, row))
		continue;
	return book_outcome(store, error);
}

/* Adds a line; one that is in the book already, in whatever call, is refused. */
static enum status insert_line(struct store *store, enum call_list list, int64_t call,
                               const void *line, struct error *error)
{
	enum status status = write_line(store, list, LIST_INSERT, call, line, error);

	if (status == STATUS_EXISTS)
		error_set(error, status, "the book has the line %s already; nothing was stored",
		          ((const struct uid *)line)->text);
	if (status == STATUS_OK && list == LIST_CHARGE)
		status = write_charge_readings(store, line, error);
	return status;
}

static enum status put_line(struct store *store, enum call_list list, const struct uid *call,
                            const void *line, struct error *error)
{
	/* A line that comes back (undo) is not a removed one any more. */
	static const char not_removed[] = "DELETE FROM removed_line WHERE uid = ?1";
	int64_t id;
	enum status status = call_find_id(store, call, &id, error);

	if (status == STATUS_OK)
		status = book_run(store, error, not_removed, "s", ((const struct uid *)line)->text);
	if (status == STATUS_OK)
		status = write_line(store, list, LIST_CHANGE, id, line, error);
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		return insert_line(store, list, id, line, error);
	if (status == STATUS_OK && list == LIST_CHARGE)
		status = write_charge_readings(store, line, error);
	return status;
}

enum status store_list_put(struct store *store, const struct uid *call, enum call_list list,
                           const void *line, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, put_line(store, list, call, line, error), error);
}

enum status store_list_remove(struct store *store, enum call_list list, const struct uid *uid,
                              struct error *error)
{
	const char *remember = statement(store, list, LIST_REMEMBER);
	const char *remove = statement(store, list, LIST_REMOVE);

	if (!remember || !remove)
		return book_outcome(store, error);
	enum status status = store_begin(store, error);
	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, remember, "st", uid->text, book_now(store));
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	if (status == STATUS_OK)
		status = book_run(store, error, remove, "s", uid->text);
	return store_end(store, status, error);
}

enum status store_work_reorder(struct store *store, const struct work_line *lines, size_t count,
                               struct error *error)
{
	static const char sql[] =
		"UPDATE work_line SET position = ?2, changed_at = " CHANGED_AT("work_line", "?3")
		" WHERE uid = ?1 AND position <> ?2";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	for (size_t i = 0; i < count && status == STATUS_OK; i++)
		status = book_run(store, error, sql, "sit", lines[i].uid.text, (int64_t)i + 1,
		                  book_now(store));
	return store_end(store, status, error);
}

enum status store_watch_close(struct store *store, const struct uid *item, wall_time closed_at,
                              struct error *error)
{
	static const char sql[] =
		"UPDATE watch_item SET closed_at = ?2, changed_at = " CHANGED_AT("watch_item", "?3")
		" WHERE uid = ?1";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, sql, "stt", item->text, closed_at, book_now(store));
	if (status == STATUS_OK && sqlite3_changes(store->db) == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	return store_end(store, status, error);
}

enum status lists_insert(struct store *store, int64_t id, const struct call *call,
                         struct error *error)
{
	enum status status = STATUS_OK;

	for (int i = 0; i < CALL_LIST_COUNT; i++) {
		enum call_list list = (enum call_list)i;
		for (size_t j = 0; j < call_list_count(call, list) && status == STATUS_OK; j++)
			status = insert_line(store, list, id, call_list_at(call, list, j), error);
	}
	return status;
}

/* ---- Loading ---- */

static enum status load_charge_readings(struct store *store, struct charge_entry *entry,
                                        struct error *error)
{
	static const char sql[] =
		"SELECT key, number FROM charge_reading "
		"WHERE entry = (SELECT id FROM charge_entry WHERE uid = ?1)";
	sqlite3_stmt *row = book_query(store, sql, "s", entry->uid.text);

	while (book_next(store, row)) {
		enum reading reading = reading_from_key(row_text(row, 0));
		for (int i = 0; i < CHARGE_READING_COUNT; i++)
			if (charge_reading_id((enum charge_reading)i) == reading &&
			    value_from_number(reading, sqlite3_column_double(row, 1), &entry->values[i]))
				entry->values[i].taken_at = entry->at;
	}
	return book_outcome(store, error);
}

/* Into time order where the list is kept so. */
static enum status load_list(struct store *store, int64_t id, enum call_list list,
                             struct call *call, struct error *error)
{
	const char *sql = statement(store, list, LIST_SELECT);

	if (!sql)
		return book_outcome(store, error);
	sqlite3_stmt *row = book_query(store, sql, "i", id);
	while (book_next(store, row)) {
		void *line = call_list_add(call, list);
		if (!line) {
			book_stop(row);
			return book_error(store, STATUS_NO_MEMORY, error);
		}
		*(struct uid *)line = row_uid(row, 0);
		members_from_row(row, 1, call_part_of_list(list), line);
		if (list == LIST_CHARGE && load_charge_readings(store, line, error) != STATUS_OK) {
			book_stop(row);
			return error->status;
		}
		call_list_place(call, list, call_list_count(call, list) - 1);
	}
	return book_outcome(store, error);
}

enum status lists_load(struct store *store, int64_t id, struct call *call, struct error *error)
{
	enum status status = STATUS_OK;

	for (int list = 0; list < CALL_LIST_COUNT && status == STATUS_OK; list++)
		status = load_list(store, id, (enum call_list)list, call, error);
	return status;
}
