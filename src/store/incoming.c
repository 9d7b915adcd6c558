/*
 * Entries of another book, put in with one statement.
 *
 * To SQLite they are a table, `incoming`, whose rows come one by one from a
 * function.  So one INSERT takes them all, and stays where it is in the two
 * indices of the trail: that costs half of an INSERT for each.
 */
#include "store/trail.h"

#include <stdlib.h>

/* What is being taken. */
struct incoming {
	trail_next_fn *next;   /* tells the next one */
	void *context;         /* theirs */
	struct entry entry;    /* the row */
	int64_t technician;    /* of it, in this book */
	uint32_t sum;          /* of it */
	bool at_end;           /* there are no more */
	enum status status;    /* why not, where something failed */
	struct error *error;   /* says it */
};

/* The table: it knows the book that it is in. */
struct incoming_table {
	sqlite3_vtab base;     /* SQLite's part, first */
	struct store *store;   /* the book */
};

enum { THING, FIELD, STAMP, BOOK, NUMBER, TECHNICIAN, OLD, NEW, AT, SUM };

static int connect(sqlite3 *db, void *store, int count, const char *const *words,
                   sqlite3_vtab **result, char **message)
{
	struct incoming_table *table = calloc(1, sizeof *table);

	(void)count;
	(void)words;
	(void)message;
	if (!table)
		return SQLITE_NOMEM;
	table->store = store;
	*result = &table->base;
	return sqlite3_declare_vtab(db, "CREATE TABLE incoming (thing, field, stamp, book, number, "
	                            "technician, old, new, at, sum)");
}

static int disconnect(sqlite3_vtab *table)
{
	free(table);
	return SQLITE_OK;
}

static int plan(sqlite3_vtab *table, sqlite3_index_info *info)
{
	(void)table;
	info->estimatedCost = 1;
	return SQLITE_OK;
}

static int open_cursor(sqlite3_vtab *table, sqlite3_vtab_cursor **cursor)
{
	(void)table;
	*cursor = calloc(1, sizeof **cursor);
	return *cursor ? SQLITE_OK : SQLITE_NOMEM;
}

static int close_cursor(sqlite3_vtab_cursor *cursor)
{
	free(cursor);
	return SQLITE_OK;
}

static struct store *store_of(sqlite3_vtab_cursor *cursor)
{
	return ((struct incoming_table *)cursor->pVtab)->store;
}

/* A failure ends the rows; incoming_take() tells it, and the transaction is undone. */
static int next_row(sqlite3_vtab_cursor *cursor)
{
	struct store *store = store_of(cursor);
	struct incoming *incoming = store->incoming;

	incoming->status = incoming->next(incoming->context, &incoming->entry, &incoming->sum,
	                                  &incoming->at_end, incoming->error);
	if (incoming->status == STATUS_OK && !incoming->at_end)
		incoming->status = trail_technician(store, incoming->entry.technician,
		                                    &incoming->technician, incoming->error);
	if (incoming->status == STATUS_OK && !incoming->at_end)
		incoming->status = trail_add_up(store, incoming->entry.book, incoming->sum,
		                                incoming->error);
	incoming->at_end = incoming->at_end || incoming->status != STATUS_OK;
	return SQLITE_OK;
}

static int first_row(sqlite3_vtab_cursor *cursor, int number, const char *name, int count,
                     sqlite3_value **values)
{
	(void)number;
	(void)name;
	(void)count;
	(void)values;
	return next_row(cursor);
}

static int is_at_end(sqlite3_vtab_cursor *cursor)
{
	return store_of(cursor)->incoming->at_end;
}

static void answer_text(sqlite3_context *answer, const char *text)
{
	if (text)
		sqlite3_result_text(answer, text, -1, SQLITE_STATIC);
}

static int column(sqlite3_vtab_cursor *cursor, sqlite3_context *answer, int number)
{
	const struct incoming *incoming = store_of(cursor)->incoming;
	const struct entry *entry = &incoming->entry;
	const int64_t numbers[] = {
		[THING] = entry->thing, [FIELD] = entry->field, [STAMP] = entry->stamp,
		[BOOK] = entry->book, [NUMBER] = entry->number, [TECHNICIAN] = incoming->technician,
		[AT] = entry->at, [SUM] = (int32_t)incoming->sum,
	};

	if (number == OLD || number == NEW)
		answer_text(answer, number == OLD ? entry->old : entry->new);
	else if (number != AT || entry->at != WALL_TIME_NONE)
		sqlite3_result_int64(answer, numbers[number]);
	return SQLITE_OK;
}

static int row_number(sqlite3_vtab_cursor *cursor, sqlite3_int64 *number)
{
	*number = store_of(cursor)->incoming->entry.number;
	return SQLITE_OK;
}

int incoming_make(struct store *store)
{
	static const sqlite3_module module = {
		.xConnect = connect, .xDisconnect = disconnect, .xDestroy = disconnect, .xBestIndex = plan,
		.xOpen = open_cursor, .xClose = close_cursor, .xFilter = first_row, .xNext = next_row,
		.xEof = is_at_end, .xColumn = column, .xRowid = row_number,
	};

	return sqlite3_create_module_v2(store->db, "incoming", &module, store, NULL);
}

enum status incoming_take(struct store *store, trail_next_fn *next, void *context,
                          struct error *error)
{
	static const char sql[] =
		"INSERT INTO entry (thing, field, stamp, book, number, technician, old, new, at, sum) "
		"SELECT thing, field, stamp, book, number, technician, old, new, at, sum FROM incoming";
	struct incoming incoming = { .next = next, .context = context, .error = error };
	struct error why;

	store->incoming = &incoming;
	enum status status = book_run(store, &why, sql, "");
	store->incoming = NULL;
	if (incoming.status != STATUS_OK)
		return incoming.status;
	if (status != STATUS_OK)
		*error = why;
	return status;
}
