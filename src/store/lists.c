/*
 * The lists of a call in the book.  A line keeps its place: new ones come
 * after the last.
 */
#include "store/parts.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

static const char id_of_call[] = "SELECT id FROM call WHERE uid = ?1";

enum status call_find_id(struct store *store, const struct uid *uid, int64_t *id,
                         struct error *error)
{
	return book_find_id(store, id_of_call, uid->text, id, error);
}

enum status call_lines_spoil(struct store *store, int64_t call, struct error *error)
{
	static const char sql[] =
		"UPDATE call SET lines_sum = ?2, found_line = '', done_line = '' WHERE id = ?1";

	return book_run(store, error, sql, "ii", call, (int64_t)STALE_SUM);
}

/* ---- Putting and removing ---- */

static enum thing_kind kind_of(enum call_list list)
{
	return (enum thing_kind)((int)THING_LISTS + (int)list);
}

/* Sets the columns that are others now. */
static enum status set_columns(struct store *store, const struct thing *thing, const void *line,
                               struct error *error)
{
	const struct shape *shape = &store->shapes[thing->kind];
	char text[MEMBER_TEXT_SIZE];
	enum status status = STATUS_OK;
	bool changed;
	int field;

	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		if (shape->columns[i].kind == COLUMN_POSITION)
			continue;
		shape_format(&shape->columns[i], line, text, sizeof text);
		status = field_of_column(store, thing->kind, i, *text != '\0', &field, error);
		/* What was never said needs no entry to be nothing. */
		if (status == STATUS_OK && field)
			status = trail_set(store, thing, field, text, WALL_TIME_NONE, &changed, error);
	}
	return status;
}

/* The place behind the last line of the list; one that was made outside of it needs no table. */
static enum status next_position(struct store *store, const struct thing *thing,
                                 int64_t *position, struct error *error)
{
	static const char *const sql[CALL_LIST_COUNT] = {
#define LAST(table) "SELECT max(position) FROM " table " WHERE call = ?1"
		[LIST_CHARGE] = LAST("charge_entry"), [LIST_WORK] = LAST("work_line"),
		[LIST_OFFERS] = LAST("offer"), [LIST_WATCH] = LAST("watch_item"),
		[LIST_JUDGEMENTS] = LAST("judgement"), [LIST_TIGHTNESS] = LAST("tightness"),
		[LIST_CYLINDERS] = LAST("cylinder"),
#undef LAST
	};
	sqlite3_stmt *row = book_query(store, sql[thing->kind - THING_LISTS], "i", thing->call);

	*position = 1;
	if (book_next(store, row)) {
		*position = sqlite3_column_int64(row, 0) + 1;
		book_stop(row);
	}
	return book_outcome(store, error);
}

enum status line_insert(struct store *store, enum call_list list, int64_t call, int64_t position,
                        const void *line, struct error *error)
{
	const struct uid *uid = line;
	const struct shape *shape = &store->shapes[kind_of(list)];
	char text[MEMBER_TEXT_SIZE];
	struct thing thing;
	int field;
	enum status status = thing_make(store, (int)kind_of(list), uid, call, &thing, error);

	if (status == STATUS_EXISTS)
		return error_set(error, status, "the book has the line %s already; nothing was stored",
		                 uid->text);
	if (status == STATUS_OK && position == 0)
		status = next_position(store, &thing, &position, error);
	for (int i = 0; i < shape->count && status == STATUS_OK; i++) {
		shape_format(&shape->columns[i], line, text, sizeof text);
		if (shape->columns[i].kind == COLUMN_POSITION)
			snprintf(text, sizeof text, "%lld", (long long)position);
		if (!*text)
			continue;
		status = field_of_column(store, thing.kind, i, true, &field, error);
		if (status == STATUS_OK)
			status = trail_write(store, &thing, field, NULL, text, WALL_TIME_NONE, error);
	}
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

static enum status mark_removed(struct store *store, const struct thing *thing, bool removed,
                                struct error *error)
{
	bool changed;
	int field;
	enum status status = field_of_mark(store, MARK_REMOVED, removed, &field, error);

	return status == STATUS_OK && field ? trail_set(store, thing, field, removed ? "1" : NULL,
	                                                WALL_TIME_NONE, &changed, error)
	                                    : status;
}

static enum status put_line(struct store *store, enum call_list list, const struct uid *call,
                            const void *line, struct error *error)
{
	struct error why;
	struct thing thing;
	int64_t id;
	enum status status = call_find_id(store, call, &id, error);

	if (status != STATUS_OK)
		return status;
	status = thing_find(store, line, &thing, &why);
	if (status == STATUS_NOT_FOUND)
		return line_insert(store, list, id, 0, line, error);
	if (status != STATUS_OK) {
		*error = why;
		return status;
	}
	if (thing.kind != kind_of(list) || thing.call != id)
		return error_set(error, STATUS_EXISTS,
		                 "the book has the line %s already, in another place; nothing was stored",
		                 thing.uid.text);
	/* A line that comes back is not a removed one any more. */
	status = mark_removed(store, &thing, false, error);
	if (status == STATUS_OK)
		status = set_columns(store, &thing, line, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

enum status store_list_put(struct store *store, const struct uid *call, enum call_list list,
                           const void *line, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, put_line(store, list, call, line, error), error);
}

static enum status remove_line(struct store *store, enum call_list list, const struct uid *uid,
                               struct error *error)
{
	static const char sql[] = "SELECT 1 FROM removed WHERE thing = ?1";
	struct thing thing;
	enum status status = thing_find(store, uid, &thing, error);

	if (status != STATUS_OK)
		return status;
	sqlite3_stmt *row = book_query(store, sql, "i", thing.id);
	bool gone = book_next(store, row);
	book_stop(row);
	if (gone || thing.kind != kind_of(list))
		return book_error(store, STATUS_NOT_FOUND, error);
	status = mark_removed(store, &thing, true, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

enum status store_list_remove(struct store *store, enum call_list list, const struct uid *uid,
                              struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, remove_line(store, list, uid, error), error);
}

static enum status close_item(struct store *store, const struct uid *item, wall_time closed_at,
                              struct error *error)
{
	const enum thing_kind kind = kind_of(LIST_WATCH);
	char text[CLOCK_TEXT_SIZE];
	struct thing thing;
	bool changed;
	int field, column = 0;
	enum status status = thing_find(store, item, &thing, error);

	if (status != STATUS_OK)
		return status;
	if (thing.kind != kind)
		return book_error(store, STATUS_NOT_FOUND, error);
	while (strcmp(store->shapes[kind].columns[column].name, "closed_at") != 0)
		column++;
	clock_format(closed_at, text, sizeof text);
	status = field_of_column(store, kind, column, true, &field, error);
	if (status == STATUS_OK)
		status = trail_set(store, &thing, field, text, WALL_TIME_NONE, &changed, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

enum status store_watch_close(struct store *store, const struct uid *item, wall_time closed_at,
                              struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, close_item(store, item, closed_at, error), error);
}

/* ---- Loading ---- */

static const char *select_list(struct store *store, enum call_list list)
{
	enum made made = (enum made)(MADE_LISTS + (int)list);
	const struct shape *shape = &store->shapes[kind_of(list)];
	struct text sql;

	if (store->made[made])
		return store->made[made];
	text_init(&sql);
	text_add(&sql, "SELECT thing.uid");
	shape_add_columns(shape, &sql);
	text_add_format(&sql, " FROM %s JOIN thing ON thing.id = %s.id WHERE %s.call = ?1 "
	                "ORDER BY position, thing.uid", shape->table, shape->table, shape->table);
	return book_keep_sql(store, made, &sql);
}

/* The readings of a line of the charge log were taken when it was written. */
static void date_readings(struct charge_entry *entry)
{
	for (int i = 0; i < CHARGE_READING_COUNT; i++)
		if (entry->values[i].state == VALUE_TAKEN)
			entry->values[i].taken_at = entry->at;
}

enum status list_load(struct store *store, int64_t id, enum call_list list, struct call *call,
                      struct error *error)
{
	sqlite3_stmt *row = book_query(store, select_list(store, list), "i", id);

	while (book_next(store, row)) {
		void *line = call_list_add(call, list);
		if (!line) {
			book_stop(row);
			return book_error(store, STATUS_NO_MEMORY, error);
		}
		*(struct uid *)line = row_uid(row, 0);
		shape_read(&store->shapes[kind_of(list)], row, 1, line);
		if (list == LIST_CHARGE)
			date_readings(line);
		call_list_place(call, list, call_list_count(call, list) - 1);
	}
	return book_outcome(store, error);
}

enum status lists_load(struct store *store, int64_t id, struct call *call, struct error *error)
{
	enum status status = STATUS_OK;

	for (int list = 0; list < CALL_LIST_COUNT && status == STATUS_OK; list++)
		status = list_load(store, id, (enum call_list)list, call, error);
	return status;
}
