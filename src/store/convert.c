/*
 * A book of before the trail becomes one with a trail: each old row and each
 * old change of a reading becomes entries of book 0.
 *
 * Two trucks may convert books that they had brought together before.  So what
 * is the same in both must become the same entry: its stamp and number follow
 * from the old row alone, not from where and when it is converted.
 */
#include "store/parts.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

#include "store/trail.h"

/* The old tables have the names of the new ones, with this before. */
static const char before[] = "old_";

/* ---- Old entries ---- */

/* FNV-1a of 64 bits, without the sign. */
static int64_t hash(const char *uid, const char *field, int64_t stamp)
{
	char text[UID_SIZE + FIELD_NAME_SIZE + 32];
	uint64_t h = UINT64_C(0xcbf29ce484222325);

	snprintf(text, sizeof text, "%s %s %" PRId64, uid, field, stamp);
	for (const char *at = text; *at; at++)
		h = (h ^ (unsigned char)*at) * UINT64_C(0x100000001b3);
	return (int64_t)(h >> 1);
}

static enum status add_entry(struct store *store, const struct thing *thing, int field,
                             int64_t stamp, const char *old, const char *new, wall_time at,
                             struct error *error)
{
	const struct field_meaning *meaning = field_meaning(store, field);
	struct entry entry = {
		.thing = thing->id, .field = field, .stamp = stamp, .technician = "", .old = old,
		.new = new,
		.at = at, .number = hash(thing->uid.text, meaning->name, stamp),
	};

	if (stamp > store->trail.stamp)
		store->trail.stamp = stamp;
	return trail_insert(store, &entry, entry_sum(thing->seed, meaning->seed, &entry), error);
}

static int64_t stamp_of(const char *changed_at)
{
	wall_time time;

	return clock_parse(changed_at, &time) ? (time * 1000) << 16 : 1;
}

/* ---- Rows ---- */

static sqlite3_stmt *prepare(struct store *store, struct text *sql)
{
	sqlite3_stmt *row = NULL;

	store->code = sql->failed ? SQLITE_NOMEM
		: sqlite3_prepare_v2(store->db, text_get(sql), -1, &row, NULL);
	text_done(sql);
	return row;
}

/* Whether the old table had the column: what came after the trail it had not. */
static bool had_column(struct store *store, const char *table, const char *column)
{
	static const char sql[] = "SELECT 1 FROM pragma_table_info(?1) WHERE name = ?2";
	char name[64];

	snprintf(name, sizeof name, "%s%s", before, table);
	sqlite3_stmt *row = book_query(store, sql, "ss", name, column);
	bool had = book_next(store, row);
	if (had)
		book_stop(row);
	return had;
}

/* Uid, time of the last change, call; then the columns of the shape. */
static sqlite3_stmt *select_old(struct store *store, enum thing_kind kind)
{
	const struct shape *shape = &store->shapes[kind];
	struct text sql;

	text_init(&sql);
	text_add(&sql, "SELECT t.uid, t.changed_at, ");
	text_add(&sql, kind_is_line(kind) ? "(SELECT thing.id FROM old_call JOIN thing "
	         "ON thing.uid = old_call.uid WHERE old_call.id = t.call)" : "0");
	for (int i = 0; i < shape->count; i++) {
		const char *name = shape->columns[i].name;
		if (shape->columns[i].kind == COLUMN_REFERENCE)
			text_add_format(&sql, ", (SELECT uid FROM old_%s WHERE id = t.%s)", name, name);
		else if (shape->columns[i].kind == COLUMN_READING)
			text_add_format(&sql, ", (SELECT number FROM old_charge_reading WHERE entry = t.id "
			                "AND key = '%s')", name);
		else if (had_column(store, shape->table, name))
			text_add_format(&sql, ", t.\"%s\"", name);
		else
			text_add(&sql, ", ''");
	}
	text_add_format(&sql, " FROM %s%s AS t ORDER BY t.id", before, shape->table);
	return prepare(store, &sql);
}

/* A column as exact text; what the tables had for nothing is "". */
static const char *old_column(sqlite3_stmt *row, int at, const struct shape_column *column,
                              char *number, size_t size)
{
	const char *text = row_text(row, at), *empty = shape_empty(column);

	if (sqlite3_column_type(row, at) == SQLITE_FLOAT) {
		number_format_exact(sqlite3_column_double(row, at), number, size);
		text = number;
	}
	/* Words of a list are said, also the first; the price of 0 is none. */
	bool is_zero = empty && strcmp(empty, "0") == 0 && strcmp(text, "0") == 0;
	return is_zero && column->kind == COLUMN_MEMBER ? "" : text;
}

static enum status convert_row(struct store *store, enum thing_kind kind, sqlite3_stmt *row,
                               struct error *error)
{
	const struct shape *shape = &store->shapes[kind];
	struct uid uid = row_uid(row, 0);
	int64_t stamp = stamp_of(row_text(row, 1));
	char number[NUMBER_SIZE];
	struct thing thing;
	int field;
	enum status status = thing_make(store, (int)kind, &uid, sqlite3_column_int64(row, 2), &thing,
	                                error);

	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		const char *text = old_column(row, i + 3, &shape->columns[i], number, sizeof number);
		if (!*text && !(kind == THING_CUSTOMER && i == 0))
			continue;
		status = field_of_column(store, kind, i, true, &field, error);
		if (status == STATUS_OK)
			status = add_entry(store, &thing, field, stamp, NULL, *text ? text : NULL,
			                   WALL_TIME_NONE, error);
	}
	return status;
}

static enum status convert_rows(struct store *store, enum thing_kind kind, struct error *error)
{
	sqlite3_stmt *row = select_old(store, kind);
	enum status status = book_outcome(store, error);
	int code = SQLITE_ROW;

	while (status == STATUS_OK && (code = sqlite3_step(row)) == SQLITE_ROW)
		status = convert_row(store, kind, row, error);
	sqlite3_finalize(row);
	if (status == STATUS_OK && code != SQLITE_DONE)
		status = book_refuse(store->path, code, error);
	return status;
}

/* ---- Readings ---- */

/* Within a second, changes follow the bits of their ids that count on with time. */
static int64_t stamp_within(const char *changed_at, const char *uid)
{
	unsigned long long high = 0;
	unsigned low = 0;
	char digits[16] = "";

	for (int i = 0, n = 0; n < 12 && uid[i]; i++)
		if (uid[i] != '-')
			digits[n++] = uid[i];
	high = strtoull(digits, NULL, 16);
	if (strlen(uid) > 17)
		low = (unsigned)strtoul((char[]){ uid[15], uid[16], uid[17], '\0' }, NULL, 16);
	return stamp_of(changed_at) + ((int64_t)(high % 1000) << 16) + (low & 0xfff);
}

static enum status convert_change(struct store *store, sqlite3_stmt *row, struct thing *call,
                                  int64_t *last_field, int64_t *last_stamp, struct error *error)
{
	struct uid uid = row_uid(row, 0);
	char name[FIELD_NAME_SIZE];
	enum status status = STATUS_OK;
	int field;

	if (strcmp(call->uid.text, uid.text) != 0)
		status = thing_find(store, &uid, call, error);
	snprintf(name, sizeof name, "%s.%s", row_text(row, 1), row_text(row, 2));
	enum reading reading = reading_from_key(row_text(row, 2));
	bool is_number = reading != READING_NONE && value_is_number(reading);
	if (status == STATUS_OK)
		status = field_find(store, name, is_number, true, &field, error);
	if (status != STATUS_OK)
		return status;
	int64_t stamp = stamp_within(row_text(row, 5), row_text(row, 6));
	int64_t place = call->id * 100000 + field;
	if (place == *last_field && stamp <= *last_stamp)
		stamp = *last_stamp + 1;
	*last_field = place;
	*last_stamp = stamp;
	/* When a value that was changed again had been taken, nobody wrote down. */
	wall_time at = row_time(row, sqlite3_column_int(row, 7) ? 8 : 5);
	bool has_old = sqlite3_column_type(row, 3) != SQLITE_NULL;
	bool has_new = sqlite3_column_type(row, 4) != SQLITE_NULL;
	return add_entry(store, call, field, stamp, has_old ? row_text(row, 3) : NULL,
	                 has_new ? row_text(row, 4) : NULL, has_new ? at : WALL_TIME_NONE, error);
}

static enum status convert_changes(struct store *store, struct error *error)
{
	static const char sql[] =
		"SELECT old_call.uid, c.stage, c.key, c.old_value, c.new_value, c.changed_at, c.uid, "
		"lead(c.uid) OVER (PARTITION BY c.call, c.stage, c.key ORDER BY c.changed_at, c.uid) IS "
		"NULL, r.taken_at FROM old_reading_change AS c JOIN old_call ON old_call.id = c.call "
		"LEFT JOIN old_call_reading AS r ON r.call = c.call AND r.stage = c.stage AND r.key = "
		"c.key ORDER BY c.call, c.stage, c.key, c.changed_at, c.uid";
	sqlite3_stmt *row = book_query(store, sql, "");
	struct thing call = { .id = 0 };
	int64_t last_field = 0, last_stamp = 0;

	while (book_next(store, row))
		if (convert_change(store, row, &call, &last_field, &last_stamp, error) != STATUS_OK) {
			book_stop(row);
			return error->status;
		}
	return book_outcome(store, error);
}

/* ---- The rest ---- */

static enum status fold_all(struct store *store, struct error *error)
{
	static const char sql[] = "SELECT id FROM thing WHERE id > ?1 ORDER BY id LIMIT 1";
	struct thing thing = { .id = 0 };
	enum status status = STATUS_OK;

	for (;;) {
		sqlite3_stmt *row = book_query(store, sql, "i", thing.id);
		if (status != STATUS_OK || !book_next(store, row))
			return status == STATUS_OK ? book_outcome(store, error) : status;
		int64_t id = sqlite3_column_int64(row, 0);
		book_stop(row);
		status = thing_load(store, id, &thing, error);
		if (status == STATUS_OK)
			status = fold_thing(store, &thing, NULL, error);
	}
}

static enum status convert_lines(struct store *store, struct error *error)
{
	static const char sql[] = "SELECT uid, found_line, done_line FROM old_call";
	sqlite3_stmt *row = book_query(store, sql, "");

	while (book_next(store, row)) {
		struct uid uid = row_uid(row, 0);
		if (store_call_save_lines(store, &uid, row_text(row, 1), row_text(row, 2), error) !=
		    STATUS_OK) {
			book_stop(row);
			return error->status;
		}
	}
	return book_outcome(store, error);
}

static enum status convert_settings(struct store *store, struct error *error)
{
	static const char settings[] = "SELECT key, value FROM old_setting";
	static const char prices[] = "SELECT kind, code, description, unit_price FROM old_price_item";
	sqlite3_stmt *row = book_query(store, settings, "");

	while (book_next(store, row))
		if (store_setting_set(store, row_text(row, 0), row_text(row, 1), error) != STATUS_OK) {
			book_stop(row);
			return error->status;
		}
	row = store->code == SQLITE_OK ? book_query(store, prices, "") : NULL;
	while (book_next(store, row))
		if (price_insert(store, row_text(row, 0), row_text(row, 1), row_text(row, 2),
		                 sqlite3_column_int64(row, 3), error) != STATUS_OK) {
			book_stop(row);
			return error->status;
		}
	return book_outcome(store, error);
}

/* Children before the rows that they refer to. */
static const char drop_old[] =
	"DROP TABLE old_call_reading; DROP TABLE old_reading_change; DROP TABLE old_charge_reading;"
	"DROP TABLE old_charge_entry; DROP TABLE old_work_line; DROP TABLE old_offer;"
	"DROP TABLE old_watch_item; DROP TABLE old_judgement; DROP TABLE old_tightness;"
	"DROP TABLE old_cylinder; DROP TABLE old_call; DROP TABLE old_system; DROP TABLE old_site;"
	"DROP TABLE old_customer; DROP TABLE old_price_item; DROP TABLE old_setting;";

static void finalize_all(struct store *store)
{
	for (int i = 0; i < STATEMENT_SLOTS; i++) {
		sqlite3_finalize(store->kept[i].statement);
		store->kept[i] = (struct kept_statement){ .sql = NULL };
	}
}

enum status convert_to_trail(struct store *store, struct error *error)
{
	enum status status = STATUS_OK;

	for (int kind = THING_CUSTOMER; kind < THING_KIND_COUNT && status == STATUS_OK; kind++)
		status = convert_rows(store, (enum thing_kind)kind, error);
	if (status == STATUS_OK)
		status = convert_changes(store, error);
	if (status == STATUS_OK && store->trail.stamp > 0)
		status = trail_note(store, 0, 0, store->trail.stamp, error);
	if (status == STATUS_OK)
		status = fold_all(store, error);
	if (status == STATUS_OK)
		status = convert_lines(store, error);
	if (status == STATUS_OK)
		status = convert_settings(store, error);
	/* Statements that stand on the old tables would hold them. */
	finalize_all(store);
	return status == STATUS_OK ? book_script(store, drop_old, error) : status;
}
