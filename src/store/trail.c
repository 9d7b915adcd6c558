/*
 * Entries of the trail: how they are stamped, numbered, summed and written.
 *
 * The stamp is a hybrid logical clock (S. Kulkarni and others, "Logical
 * Physical Clocks", 2014): the wall's milliseconds where they are later than
 * every stamp in the book, else one more than the latest.  So a change comes
 * after all that its author could see, whatever the clock does; a clock that
 * was a day ahead is followed by counting on, and whoever has seen its changes
 * can change them again at once.
 */
#include "store/trail.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

/* ---- Things ---- */

enum thing_kind kind_of_number(const struct store *store, int64_t number)
{
	return number >= 0 && number < store->kinds ? (enum thing_kind)number : THING_NEWER;
}

void thing_read(const struct store *store, sqlite3_stmt *row, struct thing *thing)
{
	thing->id = sqlite3_column_int64(row, 0);
	thing->uid = row_uid(row, 1);
	thing->number = sqlite3_column_int(row, 2);
	thing->call = sqlite3_column_int64(row, 3);
	thing->kind = kind_of_number(store, thing->number);
	thing->seed = thing_seed(thing->number, thing->uid.text,
	                         thing->call ? row_text(row, 4) : NULL);
}

static enum status thing_from_row(struct store *store, sqlite3_stmt *row, struct thing *thing,
                                  struct error *error)
{
	if (!book_next(store, row)) {
		enum status status = book_outcome(store, error);
		return status == STATUS_OK ? book_error(store, STATUS_NOT_FOUND, error) : status;
	}
	thing_read(store, row, thing);
	book_stop(row);
	return STATUS_OK;
}

enum status thing_find(struct store *store, const struct uid *uid, struct thing *thing,
                       struct error *error)
{
	static const char sql[] = THING_COLUMNS " WHERE thing.uid = ?1";

	return thing_from_row(store, book_query(store, sql, "s", uid->text), thing, error);
}

enum status thing_load(struct store *store, int64_t id, struct thing *thing, struct error *error)
{
	static const char sql[] = THING_COLUMNS " WHERE thing.id = ?1";

	return thing_from_row(store, book_query(store, sql, "i", id), thing, error);
}

/* A new row; the seed is filled in by whoever knows it. */
static enum status insert_thing(struct store *store, int kind, const struct uid *uid, int64_t call,
                                struct thing *thing, struct error *error)
{
	static const char sql[] = "INSERT INTO thing (uid, kind, call) VALUES (?1, ?2, nullif(?3, 0))";
	enum status status = book_run(store, error, sql, "sii", uid->text, (int64_t)kind, call);

	if (status == STATUS_OK)
		*thing = (struct thing){ .id = sqlite3_last_insert_rowid(store->db),
		                         .kind = kind_of_number(store, kind), .number = kind, .call = call,
		                         .uid = *uid };
	return status;
}

enum status thing_make(struct store *store, int kind, const struct uid *uid,
                       int64_t call, struct thing *thing, struct error *error)
{
	static const char uid_of[] = "SELECT uid FROM thing WHERE id = ?1";
	struct uid parent = { .text = "" };
	enum status status = insert_thing(store, kind, uid, call, thing, error);

	if (status != STATUS_OK)
		return status;
	if (call) {
		sqlite3_stmt *row = book_query(store, uid_of, "i", call);
		if (book_next(store, row)) {
			parent = row_uid(row, 0);
			book_stop(row);
		}
	}
	thing->seed = thing_seed(kind, uid->text, call ? parent.text : NULL);
	return book_outcome(store, error);
}

enum status thing_copy(struct store *store, const struct thing *theirs, int64_t call,
                       struct thing *thing, struct error *error)
{
	enum status status = insert_thing(store, theirs->number, &theirs->uid, call, thing, error);

	if (status == STATUS_OK)
		thing->seed = theirs->seed;
	return status;
}

/* ---- This book, its numbers and stamps ---- */

/* 48 random bits: the last group of a new uid. */
static int64_t random_book(void)
{
	struct uid uid = uid_new();

	return (int64_t)strtoll(uid.text + 24, NULL, 16);
}

static enum status make_own(struct store *store, struct error *error)
{
	static const char sql[] = "INSERT INTO book (id, number, stamp) VALUES (?1, 0, 0)";
	static const char own[] = "INSERT INTO own (book, sum) VALUES (?1, ?2)";
	int64_t book = store->trail.book = random_book();
	enum status status = book_run(store, error, sql, "i", book);

	store->trail.number = 0;
	return status == STATUS_OK ? book_run(store, error, own, "ii", book, book_sum(book)) : status;
}

enum status technician_find(struct store *store, const char *name, int64_t *id,
                            struct error *error)
{
	static const char find[] = "SELECT id FROM technician WHERE name = ?1";
	static const char make[] = "INSERT INTO technician (name) VALUES (?1)";
	struct error why;
	enum status status = book_find_id(store, find, name, id, &why);

	if (status == STATUS_NOT_FOUND) {
		status = book_run(store, error, make, "s", name);
		*id = sqlite3_last_insert_rowid(store->db);
	} else if (status != STATUS_OK) {
		*error = why;
	}
	return status;
}

enum status trail_technician(struct store *store, const char *name, int64_t *id,
                             struct error *error)
{
	struct trail *trail = &store->trail;
	enum status status = STATUS_OK;

	if (!trail->is_named || strcmp(name, trail->named) != 0) {
		status = technician_find(store, name, &trail->named_id, error);
		trail->is_named = status == STATUS_OK && text_copy(trail->named, sizeof trail->named, name);
	}
	*id = trail->named_id;
	return status;
}

bool technician_name(struct store *store, int64_t id, struct named *named)
{
	static const char sql[] = "SELECT name FROM technician WHERE id = ?1";

	if (named->known && named->id == id)
		return true;
	sqlite3_stmt *row = book_query(store, sql, "i", id);
	*named = (struct named){ .id = id, .known = book_next(store, row) };
	if (named->known)
		row_copy(row, 0, named->name, sizeof named->name);
	book_stop(row);
	return named->known;
}

void entry_read(struct store *store, sqlite3_stmt *row, struct named *named, struct entry *entry,
                uint32_t *sum)
{
	technician_name(store, sqlite3_column_int64(row, 4), named);
	*entry = (struct entry){
		.thing = sqlite3_column_int64(row, 0), .field = sqlite3_column_int(row, 1),
		.stamp = sqlite3_column_int64(row, 2), .book = sqlite3_column_int64(row, 9),
		.number = sqlite3_column_int64(row, 3), .technician = named->name,
		.old = (const char *)sqlite3_column_text(row, 5),
		.new = (const char *)sqlite3_column_text(row, 6), .at = WALL_TIME_NONE,
	};
	if (sqlite3_column_type(row, 7) != SQLITE_NULL)
		entry->at = sqlite3_column_int64(row, 7);
	*sum = (uint32_t)sqlite3_column_int64(row, 8);
}

static const char own_sql[] = "SELECT id, number FROM own JOIN book ON book.id = own.book";

/* Reads, once a transaction, where this book's trail ends. */
enum status trail_begin(struct store *store, struct error *error)
{
	static const char latest[] = "SELECT max(stamp) FROM book";
	struct trail *trail = &store->trail;
	enum status status = STATUS_OK;

	if (trail->is_begun)
		return STATUS_OK;
	sqlite3_stmt *row = book_query(store, own_sql, "");
	bool found = book_next(store, row);
	if (found) {
		trail->book = sqlite3_column_int64(row, 0);
		trail->number = sqlite3_column_int64(row, 1);
		book_stop(row);
	} else {
		status = book_outcome(store, error);
	}
	if (!found && status == STATUS_OK)
		status = make_own(store, error);
	trail->stamp = 0;
	if (status == STATUS_OK && book_next(store, row = book_query(store, latest, ""))) {
		trail->stamp = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	if (status == STATUS_OK)
		status = store_setting_get(store, "technician", trail->technician,
		                           sizeof trail->technician, error);
	trail->is_begun = status == STATUS_OK;
	return status;
}

enum status trail_own(struct store *store, int64_t *book, int64_t *number, struct error *error)
{
	sqlite3_stmt *row = book_query(store, own_sql, "");

	*book = *number = 0;
	if (book_next(store, row)) {
		*book = sqlite3_column_int64(row, 0);
		*number = sqlite3_column_int64(row, 1);
		book_stop(row);
	}
	return book_outcome(store, error);
}

static int64_t next_stamp(struct store *store)
{
	int64_t wall = clock_utc_milliseconds(&store->clock) << 16;

	store->trail.stamp = wall > store->trail.stamp ? wall : store->trail.stamp + 1;
	return store->trail.stamp;
}

enum status trail_note(struct store *store, int64_t book, int64_t number, int64_t stamp,
                       struct error *error)
{
	static const char sql[] =
		"INSERT INTO book (id, number, stamp) VALUES (?1, ?2, ?3) ON CONFLICT (id) DO UPDATE SET "
		"number = max(number, excluded.number), stamp = max(stamp, excluded.stamp)";

	if (stamp > store->trail.stamp)
		store->trail.stamp = stamp;
	return book_run(store, error, sql, "iii", book, number, stamp);
}

enum status trail_add_up(struct store *store, int64_t book, uint32_t sum, struct error *error)
{
	struct trail *trail = &store->trail;
	size_t i = trail->added_count;

	/* Most entries are of the same book as the entry before. */
	while (i > 0 && trail->added[i - 1].book != book)
		i--;
	if (i == 0) {
		struct added *more = realloc(trail->added, (trail->added_count + 1) * sizeof *more);
		if (!more)
			return book_error(store, STATUS_NO_MEMORY, error);
		trail->added = more;
		i = ++trail->added_count;
		trail->added[i - 1] = (struct added){ .book = book };
	}
	trail->added[i - 1].sum += (int32_t)sum;
	return STATUS_OK;
}

enum status trail_sum_up(struct store *store, struct error *error)
{
	static const char sql[] = "UPDATE book SET digest = digest + ?2 WHERE id = ?1";
	struct trail *trail = &store->trail;
	enum status status = STATUS_OK;

	for (size_t i = 0; i < trail->added_count && status == STATUS_OK; i++)
		status = book_run(store, error, sql, "ii", trail->added[i].book, trail->added[i].sum);
	trail->added_count = 0;
	return status;
}

enum status trail_finish(struct store *store, struct error *error)
{
	struct trail *trail = &store->trail;
	enum status status = trail_sum_up(store, error);

	trail->is_named = false;
	if (!trail->is_begun || status != STATUS_OK)
		return status;
	trail->is_begun = false;
	return trail_note(store, trail->book, trail->number, trail->stamp, error);
}

/* ---- Writing ---- */

#define ENTRY_VALUES \
	"INTO entry (thing, field, stamp, book, number, technician, old, new, at, sum) " \
	"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)"

static enum status put_entry(struct store *store, const char *sql, const struct entry *entry,
                             uint32_t sum, struct error *error)
{
	int64_t technician;
	enum status status = trail_technician(store, entry->technician, &technician, error);

	if (status != STATUS_OK)
		return status;
	return book_run(store, error, sql, "iiiiiinnmi", entry->thing, (int64_t)entry->field,
	                entry->stamp, entry->book, entry->number, technician, entry->old, entry->new,
	                entry->at, (int64_t)(int32_t)sum);
}

enum status trail_insert(struct store *store, const struct entry *entry, uint32_t sum,
                         struct error *error)
{
	static const char sql[] = "INSERT " ENTRY_VALUES;
	enum status status = put_entry(store, sql, entry, sum, error);

	return status == STATUS_OK ? trail_add_up(store, entry->book, sum, error) : status;
}

enum status trail_take(struct store *store, const struct entry *entry, uint32_t sum,
                       bool *is_new, struct error *error)
{
	static const char sql[] = "INSERT OR IGNORE " ENTRY_VALUES;
	enum status status = put_entry(store, sql, entry, sum, error);

	*is_new = status == STATUS_OK && sqlite3_changes(store->db) > 0;
	return *is_new ? trail_add_up(store, entry->book, sum, error) : status;
}

enum status trail_write(struct store *store, const struct thing *thing, int field,
                        const char *old, const char *new, wall_time at, struct error *error)
{
	static const char no_question[] = "DELETE FROM question WHERE thing = ?1 AND field = ?2";
	enum status status = trail_begin(store, error);

	if (status != STATUS_OK)
		return status;
	const struct field_meaning *meaning = field_meaning(store, field);
	struct entry entry = {
		.thing = thing->id, .field = field, .stamp = next_stamp(store), .book = store->trail.book,
		.number = ++store->trail.number, .technician = store->trail.technician, .old = old,
		.new = new, .at = at,
	};
	status = trail_insert(store, &entry,
	                      entry_sum(thing->seed, meaning ? meaning->seed : 0, &entry), error);
	/* Whoever writes here has seen all that is here. */
	if (status == STATUS_OK)
		status = book_run(store, error, no_question, "ii", thing->id, (int64_t)field);
	return status;
}

enum status trail_set(struct store *store, const struct thing *thing, int field, const char *new,
                      wall_time at, bool *changed, struct error *error)
{
	static const char sql[] =
		"SELECT new, at FROM entry WHERE thing = ?1 AND field = ?2 "
		"ORDER BY " TRAIL_LATEST " LIMIT 1";
	char old[MEMBER_TEXT_SIZE];
	bool has_old = false;
	wall_time old_at = WALL_TIME_NONE;

	*changed = false;
	if (new && !*new)
		new = NULL;
	sqlite3_stmt *row = book_query(store, sql, "ii", thing->id, (int64_t)field);
	if (book_next(store, row)) {
		has_old = sqlite3_column_type(row, 0) != SQLITE_NULL;
		row_copy(row, 0, old, sizeof old);
		if (sqlite3_column_type(row, 1) != SQLITE_NULL)
			old_at = sqlite3_column_int64(row, 1);
		book_stop(row);
	}
	if (store->code != SQLITE_OK)
		return book_outcome(store, error);
	if (has_old == (new != NULL) && (!new || (strcmp(old, new) == 0 && old_at == at)))
		return STATUS_OK;
	*changed = true;
	return trail_write(store, thing, field, has_old ? old : NULL, new, at, error);
}

enum status trail_get(struct store *store, int64_t thing, int field, char *text, size_t size,
                      struct error *error)
{
	static const char sql[] =
		"SELECT new FROM entry WHERE thing = ?1 AND field = ?2 "
		"ORDER BY " TRAIL_LATEST " LIMIT 1";
	sqlite3_stmt *row = book_query(store, sql, "ii", thing, (int64_t)field);

	*text = '\0';
	if (book_next(store, row)) {
		row_copy(row, 0, text, size);
		book_stop(row);
	}
	return book_outcome(store, error);
}

bool trail_knew(struct store *store, int64_t book, int64_t number, int64_t stamp,
                int64_t other_book, int64_t other_number, int64_t other_stamp)
{
	static const char sql[] =
		"SELECT upto FROM met WHERE book = ?1 AND other = ?2 AND number <= ?3 "
		"ORDER BY number DESC LIMIT 1";

	if (book == other_book)
		return book == 0 ? stamp > other_stamp : number > other_number;
	/* What was there before there was a trail, all have seen. */
	if (other_book == 0 || book == 0)
		return other_book == 0;
	sqlite3_stmt *row = book_query(store, sql, "iii", book, other_book, number);
	if (!book_next(store, row))
		return false;
	bool knew = sqlite3_column_int64(row, 0) >= other_number;
	book_stop(row);
	return knew;
}
