/*
 * What a newer program wrote: entries of a kind of thing, a field or a value
 * that this one does not know.  The trail has them as they came, so that
 * whoever takes it from here gets them too; the fold passes them by; and the
 * first program that knows them works them out when it opens the book.
 */
#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include "store/trail.h"

/* The version of the program that last found out what it cannot read. */
static const char reader_key[] = "read by";

enum status unread_note(struct store *store, const struct entry *entry, struct error *error)
{
	static const char sql[] =
		"INSERT OR IGNORE INTO unread (thing, field, stamp, book) VALUES (?1, ?2, ?3, ?4)";
	enum status status = book_run(store, error, sql, "iiii", entry->thing, (int64_t)entry->field,
	                              entry->stamp, entry->book);

	store->fields.has_unread = true;
	return status == STATUS_OK ? store_setting_set(store, reader_key, PADSIDE_VERSION, error)
	                           : status;
}

/* Whether there are any, and another program than this one found them so. */
static enum status is_due(struct store *store, bool *due, struct error *error)
{
	char reader[32];
	enum status status = fields_learn_unread(store, error);

	*due = false;
	if (status != STATUS_OK || !store->fields.has_unread)
		return status;
	status = store_setting_get(store, reader_key, reader, sizeof reader, error);
	*due = status == STATUS_OK && strcmp(reader, PADSIDE_VERSION) != 0;
	return status;
}

/* Takes those entries of a thing off the list that this program can read. */
static enum status look_at_thing(struct store *store, struct checker *checker,
                                 const struct thing *thing, struct error *error)
{
	static const char sql[] =
		"SELECT field, stamp, book, number, technician.name, old, new, at, sum FROM unread "
		"JOIN entry USING (thing, field, stamp, book) JOIN technician "
		"ON technician.id = entry.technician WHERE thing = ?1";
	static const char drop[] =
		"DELETE FROM unread WHERE thing = ?1 AND field = ?2 AND stamp = ?3 AND book = ?4";
	sqlite3_stmt *row = book_query(store, sql, "i", thing->id);
	struct text wrong;
	enum status status = STATUS_OK;

	text_init(&wrong);
	while (status == STATUS_OK && book_next(store, row)) {
		struct entry entry = {
			.thing = thing->id, .field = sqlite3_column_int(row, 0),
			.stamp = sqlite3_column_int64(row, 1), .book = sqlite3_column_int64(row, 2),
			.number = sqlite3_column_int64(row, 3), .technician = row_text(row, 4),
			.old = (const char *)sqlite3_column_text(row, 5),
			.new = (const char *)sqlite3_column_text(row, 6), .at = WALL_TIME_NONE,
		};
		if (sqlite3_column_type(row, 7) != SQLITE_NULL)
			entry.at = sqlite3_column_int64(row, 7);
		if (!checker_look(checker, store, thing, &entry, (uint32_t)sqlite3_column_int64(row, 8),
		                  &wrong))
			continue;
		status = field_update(store, entry.field, error);
		if (status == STATUS_OK)
			status = book_run(store, error, drop, "iiii", thing->id, (int64_t)entry.field,
			                  entry.stamp, entry.book);
	}
	book_stop(row);
	text_done(&wrong);
	return status == STATUS_OK ? book_outcome(store, error) : status;
}

/* The things of the list; the ids are the caller's (free). */
static enum status list_things(struct store *store, int64_t **ids, size_t *count,
                               struct error *error)
{
	static const char how_many[] = "SELECT count(DISTINCT thing) FROM unread";
	static const char sql[] = "SELECT DISTINCT thing FROM unread";
	sqlite3_stmt *row = book_query(store, how_many, "");
	size_t room = book_next(store, row) ? (size_t)sqlite3_column_int64(row, 0) : 0;

	book_stop(row);
	*count = 0;
	*ids = calloc(room + 1, sizeof **ids);
	if (!*ids)
		return book_error(store, STATUS_NO_MEMORY, error);
	row = book_query(store, sql, "");
	while (*count < room && book_next(store, row))
		(*ids)[(*count)++] = sqlite3_column_int64(row, 0);
	book_stop(row);
	return book_outcome(store, error);
}

static enum status read_all(struct store *store, struct checker *checker, struct error *error)
{
	struct thing thing;
	int64_t *ids;
	size_t count;
	enum status status = list_things(store, &ids, &count, error);

	for (size_t i = 0; i < count && status == STATUS_OK; i++) {
		status = thing_load(store, ids[i], &thing, error);
		if (status == STATUS_OK)
			status = look_at_thing(store, checker, &thing, error);
		if (status == STATUS_OK)
			status = fold_thing(store, &thing, NULL, error);
		if (status == STATUS_OK)
			status = call_lines_spoil(store, thing.call ? thing.call : thing.id, error);
	}
	free(ids);
	return status == STATUS_OK ? store_setting_set(store, reader_key, PADSIDE_VERSION, error)
	                           : status;
}

enum status unread_look_again(struct store *store, struct error *error)
{
	bool due = false;
	enum status status = store->read_only ? STATUS_OK : is_due(store, &due, error);

	if (status != STATUS_OK || !due)
		return status;
	struct checker *checker = checker_new();
	status = checker ? store_begin(store, error) : book_error(store, STATUS_NO_MEMORY, error);
	if (status == STATUS_OK)
		status = store_end(store, read_all(store, checker, error), error);
	checker_free(checker);
	return status;
}
