/*
 * Readings in the book: entries of the trail, the last of which counts.
 */
#include "store/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

/* ---- Reading: of each field the last entry counts ---- */

static struct value value_from_row(sqlite3_stmt *row, enum reading reading)
{
	struct value value = { .taken_at = WALL_TIME_NONE };
	struct error ignored;

	/* A value that only a newer program knows is shown as none: not as the one before it. */
	if (sqlite3_column_type(row, 1) != SQLITE_NULL &&
	    !value_from_text(reading, row_text(row, 1), &value, &ignored))
		value.state = VALUE_NOT_TAKEN;
	if (sqlite3_column_type(row, 2) != SQLITE_NULL)
		value.taken_at = sqlite3_column_int64(row, 2);
	return value;
}

static enum status load(struct store *store, int64_t call, bool only_nameplate,
                        struct visit *visit, struct error *error)
{
	static const char sql[] =
		"SELECT field, new, at FROM entry WHERE thing = ?1 "
		"ORDER BY field, " TRAIL_ORDER;
	sqlite3_stmt *row = book_query(store, sql, "i", call);

	while (book_next(store, row)) {
		/* A field of a newer program stays in the book and is not shown. */
		const struct field_meaning *meaning = field_meaning(store, sqlite3_column_int(row, 0));
		if (meaning && meaning->reading != READING_NONE &&
		    (!only_nameplate || reading_info(meaning->reading)->scope != SCOPE_CALL)) {
			struct value value = value_from_row(row, meaning->reading);
			visit_set(visit, meaning->stage, meaning->reading, &value);
		}
	}
	return book_outcome(store, error);
}

enum status values_load(struct store *store, int64_t call, struct visit *visit,
                        struct error *error)
{
	return load(store, call, false, visit, error);
}

enum status values_load_nameplate(struct store *store, int64_t call, struct visit *visit,
                                  struct error *error)
{
	return load(store, call, true, visit, error);
}

enum status values_load_one(struct store *store, int64_t call, enum reading reading,
                            struct value *value, struct error *error)
{
	static const char sql[] =
		"SELECT field, new, at FROM entry WHERE thing = ?1 AND field = ?2 "
		"ORDER BY " TRAIL_LATEST " LIMIT 1";
	int field;
	enum status status = field_of_reading(store, STAGE_AS_FOUND, reading, false, &field, error);

	*value = (struct value){ .taken_at = WALL_TIME_NONE };
	if (status != STATUS_OK || field == 0)
		return status;
	sqlite3_stmt *row = book_query(store, sql, "ii", call, (int64_t)field);
	if (book_next(store, row)) {
		*value = value_from_row(row, reading);
		book_stop(row);
	}
	return book_outcome(store, error);
}

/* ---- Writing ---- */

static void format_value(enum reading reading, const struct value *value, char *text, size_t size)
{
	if (value->state == VALUE_NOT_TAKEN)
		*text = '\0';
	else
		reading_format_exact(reading, value, text, size);
}

enum status values_insert(struct store *store, const struct thing *call, const struct visit *visit,
                          struct error *error)
{
	char text[VALUE_TEXT_SIZE];
	enum status status = STATUS_OK;
	int field;

	for (int i = 0; i < STAGE_COUNT * READING_COUNT && status == STATUS_OK; i++) {
		enum stage stage = (enum stage)(i / READING_COUNT);
		enum reading reading = (enum reading)(i % READING_COUNT);
		const struct value *value = &visit->values[stage][reading];
		if (reading == READING_NONE || value->state == VALUE_NOT_TAKEN)
			continue;
		format_value(reading, value, text, sizeof text);
		status = field_of_reading(store, stage, reading, true, &field, error);
		if (status == STATUS_OK)
			status = trail_write(store, call, field, NULL, text, value->taken_at, error);
	}
	return status;
}

/* Model and serial are what a customer can be found by. */
static enum status follow(struct store *store, int64_t call, enum reading reading,
                          struct error *error)
{
	static const char sql[] = "SELECT system FROM call WHERE id = ?1";

	if (reading != READING_MODEL && reading != READING_SERIAL)
		return STATUS_OK;
	sqlite3_stmt *row = book_query(store, sql, "i", call);
	if (book_next(store, row)) {
		people_dirty_system(store, sqlite3_column_int64(row, 0));
		book_stop(row);
	}
	return book_outcome(store, error);
}

static enum status change_value(struct store *store, const struct uid *call, enum stage stage,
                                enum reading reading, const struct value *value,
                                struct error *error)
{
	char text[VALUE_TEXT_SIZE];
	struct thing thing;
	bool changed;
	int field;
	enum status status = thing_find(store, call, &thing, error);

	if (status == STATUS_OK && thing.kind != THING_CALL)
		status = book_error(store, STATUS_NOT_FOUND, error);
	if (status == STATUS_OK)
		status = field_of_reading(store, stage, reading, true, &field, error);
	if (status != STATUS_OK)
		return status;
	format_value(reading, value, text, sizeof text);
	status = trail_set(store, &thing, field, text,
	                   value->state == VALUE_NOT_TAKEN ? WALL_TIME_NONE : value->taken_at, &changed,
	                   error);
	return status == STATUS_OK && changed ? follow(store, thing.id, reading, error) : status;
}

enum status store_value_set(struct store *store, const struct uid *call, enum stage stage,
                            enum reading reading, const struct value *value, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, change_value(store, call, stage, reading, value, error), error);
}
