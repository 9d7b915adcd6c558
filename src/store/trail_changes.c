/*
 * The changes of one call, one by one, and turning a field back.
 */
#include "store/parts.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

/* A growing list of entries. */
struct entries {
	struct store_entry *list; /* owned */
	size_t count, room;       /* entries, places */
};

static struct store_entry *add_entry(struct entries *entries)
{
	if (entries->count == entries->room) {
		size_t room = entries->room ? 2 * entries->room : 64;
		struct store_entry *more = realloc(entries->list, room * sizeof *more);
		if (!more)
			return NULL;
		entries->list = more;
		entries->room = room;
	}
	return &entries->list[entries->count++];
}

/* What a person changed: not what follows from it, nor to what a thing refers. */
static bool is_shown(struct store *store, const struct thing *thing, int field)
{
	const struct field_meaning *meaning = field_meaning(store, field);
	int column = field_column(store, thing->kind, field);

	if (!meaning || meaning->mark == MARK_MET || meaning->mark == MARK_JOINED)
		return false;
	return column < 0 || (store->shapes[thing->kind].columns[column].kind != COLUMN_POSITION &&
	                      store->shapes[thing->kind].columns[column].kind != COLUMN_REFERENCE);
}

static void fill_entry(struct store *store, sqlite3_stmt *row, const struct thing *thing,
                       struct store_entry *entry)
{
	const struct field_meaning *meaning = field_meaning(store, sqlite3_column_int(row, 0));
	int64_t stamp = sqlite3_column_int64(row, 1);

	*entry = (struct store_entry){ .thing = thing->uid, .stamp = stamp };
	text_copy(entry->what, sizeof entry->what, thing_word(thing->kind));
	text_copy(entry->field, sizeof entry->field, meaning->name);
	entry->book = sqlite3_column_int64(row, 2);
	row_copy(row, 3, entry->before, sizeof entry->before);
	row_copy(row, 4, entry->after, sizeof entry->after);
	row_copy(row, 5, entry->by, sizeof entry->by);
	entry->at = entry->book == 0 ? (stamp >> 16) / 1000 : clock_wall_of(&store->clock, stamp >> 16);
}

/* Adds what was changed of a thing since a stamp. */
static enum status add_thing(struct store *store, int64_t id, int64_t since,
                             struct entries *entries, struct error *error)
{
	static const char sql[] =
		"SELECT field, stamp, book, old, new, technician.name FROM entry JOIN technician "
		"ON technician.id = entry.technician WHERE thing = ?1 AND stamp >= ?2";
	struct thing thing;
	enum status status = thing_load(store, id, &thing, error);

	if (status != STATUS_OK)
		return status;
	sqlite3_stmt *row = book_query(store, sql, "ii", id, since);
	while (book_next(store, row)) {
		if (!is_shown(store, &thing, sqlite3_column_int(row, 0)))
			continue;
		struct store_entry *entry = add_entry(entries);
		if (!entry) {
			book_stop(row);
			return book_error(store, STATUS_NO_MEMORY, error);
		}
		fill_entry(store, row, &thing, entry);
	}
	return book_outcome(store, error);
}

/* Ids of the lines of a list, those that were taken out too; the list is the caller's. */
static enum status find_lines(struct store *store, int64_t call, enum thing_kind kind,
                              int64_t **ids, size_t *count, struct error *error)
{
	sqlite3_stmt *row = book_query(store, store->shapes[kind].lines, "ii", call, (int64_t)kind);
	bool whole = true;
	while (whole && book_next(store, row)) {
		int64_t *more = realloc(*ids, (*count + 1) * sizeof *more);
		whole = more != NULL;
		if (!whole)
			break;
		*ids = more;
		more[(*count)++] = sqlite3_column_int64(row, 0);
	}
	if (!whole)
		book_stop(row);
	return whole ? book_outcome(store, error) : book_error(store, STATUS_NO_MEMORY, error);
}

static enum status add_lines(struct store *store, int64_t call, struct entries *entries,
                             struct error *error)
{
	enum status status = STATUS_OK;
	int64_t *ids = NULL;
	size_t count = 0;

	for (int kind = THING_LISTS; kind < THING_KIND_COUNT && status == STATUS_OK; kind++)
		status = find_lines(store, call, (enum thing_kind)kind, &ids, &count, error);
	for (size_t i = 0; i < count && status == STATUS_OK; i++)
		status = add_thing(store, ids[i], 0, entries, error);
	free(ids);
	return status;
}

/* Customer, site and system: what was written since the call began. */
static enum status add_people(struct store *store, int64_t call, struct entries *entries,
                              struct error *error)
{
	static const char sql[] =
		"SELECT customer, site, system, (SELECT min(stamp) FROM entry WHERE thing = ?1) FROM call "
		"WHERE id = ?1";
	int64_t ids[3] = { 0 }, since = 0;
	enum status status = STATUS_OK;
	sqlite3_stmt *row = book_query(store, sql, "i", call);

	if (book_next(store, row)) {
		for (int i = 0; i < 3; i++)
			ids[i] = sqlite3_column_int64(row, i);
		since = sqlite3_column_int64(row, 3);
		book_stop(row);
	}
	if (store->code != SQLITE_OK)
		return book_outcome(store, error);
	for (int i = 0; i < 3 && status == STATUS_OK; i++)
		if (ids[i] != 0)
			status = add_thing(store, ids[i], since, entries, error);
	return status;
}

static int compare(const void *a, const void *b)
{
	const struct store_entry *one = a, *other = b;

	if (one->stamp != other->stamp)
		return one->stamp < other->stamp ? 1 : -1;
	return (one->book < other->book) - (one->book > other->book);
}

enum status store_call_trail(struct store *store, const struct uid *call,
                             struct store_entry **list, size_t *count, struct error *error)
{
	struct entries entries = { .list = NULL };
	struct thing thing;
	enum status status = book_look(store, error);

	if (status == STATUS_OK)
		status = thing_find(store, call, &thing, error);
	if (status == STATUS_OK)
		status = add_thing(store, thing.id, 0, &entries, error);
	if (status == STATUS_OK)
		status = add_lines(store, thing.id, &entries, error);
	if (status == STATUS_OK)
		status = add_people(store, thing.id, &entries, error);
	if (status != STATUS_OK) {
		free(entries.list);
		entries = (struct entries){ .list = NULL };
	}
	if (entries.count > 0)
		qsort(entries.list, entries.count, sizeof *entries.list, compare);
	*list = entries.list;
	*count = entries.count;
	return status;
}

/* ---- Turning a field ---- */

/* When a reading was taken that once stood there; now where it never did. */
static wall_time taken_at(struct store *store, int64_t thing, int field, const char *value)
{
	static const char sql[] =
		"SELECT at FROM entry WHERE thing = ?1 AND field = ?2 AND new = ?3 AND at IS NOT NULL "
		"ORDER BY stamp DESC LIMIT 1";
	wall_time at = book_now(store);
	sqlite3_stmt *row = book_query(store, sql, "iis", thing, (int64_t)field, value);

	if (book_next(store, row)) {
		at = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	return at;
}

static enum status turn(struct store *store, const struct uid *uid, const char *name,
                        const char *from, const char *to, struct error *error)
{
	char there[MEMBER_TEXT_SIZE];
	struct thing thing;
	int field;
	enum status status = thing_find(store, uid, &thing, error);

	if (status == STATUS_OK)
		status = field_find(store, name, false, false, &field, error);
	if (status == STATUS_OK && field == 0)
		status = book_error(store, STATUS_NOT_FOUND, error);
	if (status == STATUS_OK)
		status = trail_get(store, thing.id, field, there, sizeof there, error);
	if (status != STATUS_OK)
		return status;
	if (strcmp(there, from) != 0)
		return error_set(error, STATUS_REFUSED,
		                 "this field was changed again since; "
		                 "nothing was taken back");
	bool is_timed = field_meaning(store, field)->reading != READING_NONE ||
	                field_is_charge_reading(store, field);
	wall_time at = is_timed && *to ? taken_at(store, thing.id, field, to) : WALL_TIME_NONE;
	status = trail_write(store, &thing, field, *there ? there : NULL, *to ? to : NULL, at, error);
	return status == STATUS_OK ? fold_thing(store, &thing, NULL, error) : status;
}

enum status store_field_turn(struct store *store, const struct uid *thing, const char *field,
                             const char *from, const char *to, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, turn(store, thing, field, from, to, error), error);
}
