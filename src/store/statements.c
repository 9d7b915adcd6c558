/*
 * SQL on the open book: statements kept once prepared, their rows, and
 * SQLite's answers as sentences.
 */
#include "store/book.h"

#include <assert.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/gather.h>
#include <padside/base/text.h>

struct sqlite_code {
	int code;           /* SQLite's, primary or extended */
	enum status status; /* ours */
};

/* Extended codes stand before the primary code that they belong to. */
static const struct sqlite_code answers[] = {
	{ SQLITE_IOERR_NOMEM, STATUS_NO_MEMORY },
	{ SQLITE_CONSTRAINT_UNIQUE, STATUS_EXISTS },
	{ SQLITE_CONSTRAINT_PRIMARYKEY, STATUS_EXISTS },
	{ SQLITE_FULL, STATUS_FULL },
	{ SQLITE_IOERR, STATUS_IO },
	{ SQLITE_READONLY, STATUS_READ_ONLY },
	{ SQLITE_PERM, STATUS_READ_ONLY },
	{ SQLITE_CORRUPT, STATUS_DAMAGED },
	{ SQLITE_NOTADB, STATUS_NOT_A_BOOK },
	{ SQLITE_CANTOPEN, STATUS_CANNOT_OPEN },
	{ SQLITE_AUTH, STATUS_CANNOT_OPEN },
	{ SQLITE_BUSY, STATUS_BUSY },
	{ SQLITE_LOCKED, STATUS_BUSY },
	{ SQLITE_PROTOCOL, STATUS_BUSY },
	{ SQLITE_NOMEM, STATUS_NO_MEMORY },
	{ SQLITE_CONSTRAINT, STATUS_REFUSED },
	{ SQLITE_TOOBIG, STATUS_REFUSED },
	{ SQLITE_MISMATCH, STATUS_REFUSED },
};

static enum status status_of_code(int code)
{
	for (size_t i = 0; i < sizeof answers / sizeof *answers; i++)
		if (answers[i].code == code || answers[i].code == (code & 0xff))
			return answers[i].status;
	return STATUS_UNEXPECTED;
}

static enum status report(const char *path, enum status status, struct error *error)
{
	return error_set(error, status, "%s%s: %s", *path ? "the book " : "the book", path,
	                 status_sentence(status));
}

enum status book_refuse(const char *path, int code, struct error *error)
{
	return report(path, status_of_code(code), error);
}

enum status book_error(const struct store *store, enum status status, struct error *error)
{
	return report(store->path, status, error);
}

/* ---- Statements ---- */

/*
 * A drive that fails or memory that runs out within a transaction loses it:
 * SQLite may have rolled it back already, and what ran after that would be
 * kept by itself.  So nothing runs in it any more, whoever missed the failure.
 */
static void note_lost(struct store *store)
{
	int primary = store->code & 0xff;

	if (store->depth > 0 && store->lost == 0 &&
	    (primary == SQLITE_IOERR || primary == SQLITE_FULL || primary == SQLITE_NOMEM ||
	     primary == SQLITE_CORRUPT || primary == SQLITE_CANTOPEN || primary == SQLITE_BUSY ||
	     (store->code != SQLITE_OK && sqlite3_get_autocommit(store->db))))
		store->lost = store->code;
}

static struct kept_statement *find_slot(struct store *store, const char *sql)
{
	size_t slot = ((uintptr_t)sql >> 3) % STATEMENT_SLOTS;
	int probes = 0;

	while (store->kept[slot].sql && store->kept[slot].sql != sql) {
		slot = (slot + 1) % STATEMENT_SLOTS;
		probes++;
		assert(probes < STATEMENT_SLOTS);
	}
	return &store->kept[slot];
}

static int bind_text(sqlite3_stmt *statement, int index, const char *text,
                     sqlite3_destructor_type lifetime)
{
	return sqlite3_bind_text(statement, index, text, -1, lifetime);
}

static int bind_seconds(sqlite3_stmt *statement, int index, wall_time time)
{
	if (time == WALL_TIME_NONE)
		return sqlite3_bind_null(statement, index);
	return sqlite3_bind_int64(statement, index, time);
}

static int bind_all(sqlite3_stmt *statement, sqlite3_destructor_type lifetime, const char *forms,
                    va_list values)
{
	int code = SQLITE_OK;

	for (int i = 1; *forms && code == SQLITE_OK; i++, forms++) {
		const char *text;
		switch (*forms) {
		case 'i':
			code = sqlite3_bind_int64(statement, i, va_arg(values, int64_t));
			break;
		case 'm':
			code = bind_seconds(statement, i, va_arg(values, wall_time));
			break;
		case 's':
			code = bind_text(statement, i, va_arg(values, const char *), lifetime);
			break;
		default:
			assert(*forms == 'n');
			text = va_arg(values, const char *);
			code = text ? bind_text(statement, i, text, lifetime) : sqlite3_bind_null(statement, i);
		}
	}
	return code;
}

/*
 * A text that had no memory was read as empty: what the caller makes of the row is worth nothing,
 * and the next question or the outcome says so.  One for all books: the program has one thread.
 */
static bool text_is_lost;

static void note_lost_text(struct store *store)
{
	if (text_is_lost)
		store->code = SQLITE_NOMEM;
	text_is_lost = false;
}

/* A query's texts are copied; those of what runs to its end at once need not be. */
static sqlite3_stmt *query_list(struct store *store, sqlite3_destructor_type lifetime,
                                const char *sql, const char *forms, va_list values)
{
	store->code = store->depth > 0 ? store->lost : SQLITE_OK;
	if (!sql)
		store->code = SQLITE_NOMEM;
	note_lost_text(store);
	if (store->code != SQLITE_OK)
		return NULL;
	struct kept_statement *kept = find_slot(store, sql);
	if (!kept->statement) {
		store->code = sqlite3_prepare_v3(store->db, sql, -1, SQLITE_PREPARE_PERSISTENT,
		                                 &kept->statement, NULL);
		note_lost(store);
		if (store->code != SQLITE_OK)
			return NULL;
		kept->sql = sql;
	}
	sqlite3_reset(kept->statement);
	store->code = bind_all(kept->statement, lifetime, forms, values);
	return kept->statement;
}

sqlite3_stmt *book_query(struct store *store, const char *sql, const char *forms, ...)
{
	va_list values;

	va_start(values, forms);
	sqlite3_stmt *row = query_list(store, SQLITE_TRANSIENT, sql, forms, values);
	va_end(values);
	return row;
}

const char *book_keep_sql(struct store *store, enum made made, struct text *sql)
{
	if (sql->failed)
		text_done(sql);
	else
		store->made[made] = sql->bytes;
	return store->made[made];
}

bool book_next(struct store *store, sqlite3_stmt *row)
{
	note_lost_text(store);
	if (!row || store->code != SQLITE_OK)
		return false;
	int code = sqlite3_step(row);
	if (code == SQLITE_ROW)
		return true;
	if (code != SQLITE_DONE)
		store->code = sqlite3_extended_errcode(store->db);
	sqlite3_reset(row);
	note_lost(store);
	return false;
}

void book_stop(sqlite3_stmt *row)
{
	if (row)
		sqlite3_reset(row);
}

enum status book_outcome(struct store *store, struct error *error)
{
	note_lost_text(store);
	if (store->code == SQLITE_OK)
		return STATUS_OK;
	return book_refuse(store->path, store->code, error);
}

enum status book_run(struct store *store, struct error *error, const char *sql,
                     const char *forms, ...)
{
	va_list values;

	va_start(values, forms);
	sqlite3_stmt *row = query_list(store, SQLITE_STATIC, sql, forms, values);
	va_end(values);
	while (book_next(store, row))
		continue;
	return book_outcome(store, error);
}

enum status book_script(struct store *store, const char *sql, struct error *error)
{
	store->code = store->depth > 0 ? store->lost : SQLITE_OK;
	if (store->code != SQLITE_OK)
		return book_outcome(store, error);
	store->code = sqlite3_exec(store->db, sql, NULL, NULL, NULL);
	if (store->code != SQLITE_OK)
		store->code = sqlite3_extended_errcode(store->db);
	note_lost(store);
	return book_outcome(store, error);
}

enum status book_find_id(struct store *store, const char *sql, const char *text, int64_t *id,
                         struct error *error)
{
	sqlite3_stmt *row = book_query(store, sql, "s", text);

	if (!book_next(store, row)) {
		enum status status = book_outcome(store, error);
		return status != STATUS_OK ? status : book_error(store, STATUS_NOT_FOUND, error);
	}
	*id = sqlite3_column_int64(row, 0);
	book_stop(row);
	return STATUS_OK;
}

enum status book_hand_over(struct store *store, sqlite3_stmt *row, enum status status,
                           struct gather *gather, void *list, size_t *count,
                           struct error *error)
{
	book_stop(row);
	if (status == STATUS_OK)
		status = gather->failed ? book_error(store, STATUS_NO_MEMORY, error)
		                        : book_outcome(store, error);
	if (status != STATUS_OK) {
		free(gather->items);
		gather->items = NULL;
		gather->count = 0;
	}
	memcpy(list, &gather->items, sizeof gather->items);
	*count = gather->count;
	return status;
}

/* ---- Columns ---- */

const char *row_text(sqlite3_stmt *row, int column)
{
	const unsigned char *text = sqlite3_column_text(row, column);

	if (!text && sqlite3_errcode(sqlite3_db_handle(row)) == SQLITE_NOMEM)
		text_is_lost = true;
	return text ? (const char *)text : "";
}

void row_copy(sqlite3_stmt *row, int column, char *out, size_t size)
{
	text_copy(out, size, row_text(row, column));
}

wall_time row_time(sqlite3_stmt *row, int column)
{
	wall_time time;

	return clock_parse(row_text(row, column), &time) ? time : WALL_TIME_NONE;
}

struct uid row_uid(sqlite3_stmt *row, int column)
{
	struct uid uid;

	row_copy(row, column, uid.text, sizeof uid.text);
	return uid;
}

wall_time book_now(const struct store *store)
{
	return clock_now(&store->clock);
}

void book_hold_much(struct store *store, bool much)
{
	struct error ignored;

	/* 32 MB; else what SQLite does by itself. */
	book_script(store, much ? "PRAGMA cache_size = -32768"
	                        : "PRAGMA cache_size = -2000; PRAGMA shrink_memory", &ignored);
}

enum status store_version(struct store *store, int64_t *version, struct error *error)
{
	static const char sql[] = "PRAGMA data_version";
	sqlite3_stmt *row = book_query(store, sql, "");

	if (book_next(store, row)) {
		*version = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	return book_outcome(store, error);
}
