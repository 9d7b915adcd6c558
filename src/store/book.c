/*
 * The open book: opening and bringing up to date, transactions, statements
 * kept once prepared, and SQLite's answers as sentences.
 */
#include "store/book.h"

#include <assert.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <padside/base/beside.h>
#include <padside/base/gather.h>
#include <padside/base/schema.h>
#include <padside/base/text.h>

#include "store/parts.h"
#include "store/trail.h"

/* Says in the file's header that it is a book of padside: "pads". */
static const int application_id = 0x70616473;

/* How long to wait for another program that writes in the book. */
static const int patience_ms = 3000;

struct answer {
	int code;           /* SQLite's, primary or extended */
	enum status status; /* ours */
};

/* Extended codes stand before the primary code that they belong to. */
static const struct answer answers[] = {
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

static int bind_time(sqlite3_stmt *statement, int index, wall_time time)
{
	char text[CLOCK_TEXT_SIZE];

	if (time == WALL_TIME_NONE)
		return sqlite3_bind_null(statement, index);
	clock_format(time, text, sizeof text);
	return bind_text(statement, index, text, SQLITE_TRANSIENT);
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
		case 'd':
			code = sqlite3_bind_double(statement, i, va_arg(values, double));
			break;
		case 'm':
			code = bind_seconds(statement, i, va_arg(values, wall_time));
			break;
		case 't':
			code = bind_time(statement, i, va_arg(values, wall_time));
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

/* ---- Transactions ---- */

static const char begin_writing[] = "BEGIN IMMEDIATE";
static const char commit[] = "COMMIT";
static const char rollback[] = "ROLLBACK";

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

enum status book_look(struct store *store, struct error *error)
{
	int64_t version = store->version;
	enum status status = store_version(store, &version, error);

	if (status == STATUS_OK && version != store->version) {
		fields_forget(store);
		store->version = version;
	}
	return status;
}

enum status store_begin(struct store *store, struct error *error)
{
	if (store->depth == 0) {
		enum status status = store->read_only ? book_error(store, STATUS_READ_ONLY, error)
		                                      : book_run(store, error, begin_writing, "");
		if (status == STATUS_OK)
			status = book_look(store, error);
		if (status != STATUS_OK) {
			struct error ignored;
			if (!sqlite3_get_autocommit(store->db))
				book_run(store, &ignored, rollback, "");
			return status;
		}
		store->outcome = STATUS_OK;
		store->lost = 0;
	}
	store->depth++;
	return STATUS_OK;
}

/* What is worked out and written last: who is found by what, and where the trail ends. */
static enum status finish(struct store *store, struct error *error)
{
	enum status status = people_finish(store, error);

	return status == STATUS_OK ? trail_finish(store, error) : status;
}

static void forget(struct store *store)
{
	store->trail.is_begun = store->trail.is_named = false;
	store->dirty_customers.count = store->dirty_systems.count = 0;
	store->dirty_customers.failed = store->dirty_systems.failed = false;
	fields_forget(store);
}

enum status store_end(struct store *store, enum status status, struct error *error)
{
	struct error ignored;

	assert(store->depth > 0);
	if (status != STATUS_OK && store->outcome == STATUS_OK)
		store->outcome = status;
	if (store->depth > 1) {
		store->depth--;
		return status;
	}
	if (store->outcome != STATUS_OK && status == STATUS_OK)
		book_error(store, store->outcome, error);
	if (store->outcome == STATUS_OK)
		store->outcome = finish(store, error);
	/* A failure that was missed on the way. */
	if (store->outcome == STATUS_OK && store->lost)
		store->outcome = book_refuse(store->path, store->lost, error);
	store->depth = 0;
	store->lost = 0;
	if (store->outcome == STATUS_OK)
		store->outcome = book_run(store, error, commit, "");
	/* A failure inside may have ended the transaction already. */
	if (!sqlite3_get_autocommit(store->db))
		book_run(store, &ignored, rollback, "");
	if (store->outcome != STATUS_OK)
		forget(store);
	return store->outcome;
}

/* ---- Opening ---- */

static enum status read_number(struct store *store, const char *sql, int *number,
                               struct error *error)
{
	sqlite3_stmt *row = book_query(store, sql, "");

	if (!book_next(store, row))
		return book_outcome(store, error);
	*number = sqlite3_column_int(row, 0);
	book_stop(row);
	return STATUS_OK;
}

static int newest_migration(void)
{
	int newest = 0;

	for (const struct schema_migration *m = schema_migrations; m->number; m++)
		newest = m->number;
	return newest;
}

/*
 * The version of the book's schema; 0 for an empty file.  Refuses what is no
 * book, or one from a newer program.
 */
static enum status read_version(struct store *store, int *version, struct error *error)
{
	int mark = 0, tables = 0;
	enum status status = read_number(store, "PRAGMA user_version", version, error);

	if (status == STATUS_OK)
		status = read_number(store, "PRAGMA application_id", &mark, error);
	if (status == STATUS_OK)
		status = read_number(store, "SELECT count(*) FROM sqlite_schema", &tables, error);
	if (status != STATUS_OK)
		return status;
	if (mark != application_id && (tables > 0 || *version > 0))
		return book_error(store, STATUS_NOT_A_BOOK, error);
	if (*version > newest_migration())
		return book_error(store, STATUS_NEWER, error);
	return STATUS_OK;
}

/*
 * Runs one migration.  The trail is made in the tables as they are today: what
 * follows that one runs with it, as one change, and *done says how far it went.
 */
static enum status run_migration(struct store *store, const struct schema_migration *migration,
                                 int *done, struct error *error)
{
	enum status status = book_script(store, migration->sql, error);

	*done = migration->number;
	if (migration->number != TRAIL_MIGRATION)
		return status;
	for (const struct schema_migration *m = migration + 1; m->number && status == STATUS_OK; m++) {
		status = book_script(store, m->sql, error);
		*done = m->number;
	}
	return status == STATUS_OK ? convert_to_trail(store, error) : status;
}

static enum status apply(struct store *store, const struct schema_migration *migration,
                         struct error *error)
{
	char marks[96];
	int version, done = 0;
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	/* Another program may have done it since we looked, or the one before did it too. */
	status = read_version(store, &version, error);
	if (status == STATUS_OK && version < migration->number) {
		status = run_migration(store, migration, &done, error);
		snprintf(marks, sizeof marks, "PRAGMA user_version = %d; PRAGMA application_id = %d", done,
		         application_id);
		if (status == STATUS_OK)
			status = book_script(store, marks, error);
	}
	return store_end(store, status, error);
}

/*
 * Copies a book of an earlier program beside it, before it is changed:
 * BOOK.schema-2, where 2 is the schema that it had.  A copy that is there already was
 * made of a book that could not be changed then, or of another one: it stays.
 */
static enum status keep_old_copy(struct store *store, int version, struct error *error)
{
	enum status status = STATUS_EXISTS;
	struct text path;

	for (int i = 0; i < 10 && status == STATUS_EXISTS; i++) {
		text_init(&path);
		text_add_format(&path, "%s.schema-%d", store->path, version);
		if (i > 0)
			text_add_format(&path, ".%d", i);
		status = path.failed ? book_error(store, STATUS_NO_MEMORY, error)
		                     : book_copy(store, text_get(&path), false, error);
		text_done(&path);
	}
	return status;
}

static enum status bring_up_to_date(struct store *store, struct error *error)
{
	int version;
	enum status status = read_version(store, &version, error);

	if (status != STATUS_OK || version == newest_migration())
		return status;
	if (store->read_only)
		return error_set(error, STATUS_READ_ONLY, version == 0
		                 ? "%s is empty, no book yet; nothing was changed"
		                 : "the book %s is from an older padside and can only be read; nothing was "
		                   "changed; make it writable and open it once", store->path);
	if (version > 0 && *store->path)
		status = keep_old_copy(store, version, error);
	for (const struct schema_migration *m = schema_migrations; m->number; m++)
		if (m->number > version && status == STATUS_OK)
			status = apply(store, m, error);
	return status;
}

/* The path as a URI, so that a book can be opened where nothing may be written. */
static char *make_uri(const char *path, const char *query)
{
	struct text uri;

	text_init(&uri);
	text_add(&uri, *path == '/' ? "file://" : "file:");
	for (const char *at = path; *at; at++)
		if (strchr("%?#", *at))
			text_add_format(&uri, "%%%02x", (unsigned)(unsigned char)*at);
		else
			text_add_char(&uri, *at);
	text_add(&uri, query);
	if (uri.failed)
		text_done(&uri);
	return uri.bytes;
}

static void disconnect(struct store *store)
{
	for (int i = 0; i < STATEMENT_SLOTS; i++)
		sqlite3_finalize(store->kept[i].statement);
	memset(store->kept, 0, sizeof store->kept);
	sqlite3_close(store->db);
	store->db = NULL;
	free(store->uri);
	store->uri = NULL;
}

/* Opens the file and touches it, so that what is wrong with it is known. */
static int try_connect(struct store *store, int flags, const char *query)
{
	store->uri = flags & SQLITE_OPEN_MEMORY ? strdup(":memory:") : make_uri(store->path, query);
	if (!store->uri)
		return SQLITE_NOMEM;
	int code = sqlite3_open_v2(store->uri, &store->db, flags | SQLITE_OPEN_URI |
	                           SQLITE_OPEN_EXRESCODE | SQLITE_OPEN_NOMUTEX, NULL);
	if (code != SQLITE_OK)
		return store->db ? code : SQLITE_NOMEM;
	sqlite3_busy_timeout(store->db, patience_ms);
	sqlite3_db_config(store->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
	sqlite3_db_config(store->db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
	sqlite3_db_config(store->db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
	store->read_only = sqlite3_db_readonly(store->db, "main") == 1;
	code = incoming_make(store);
	if (code != SQLITE_OK)
		return code;
	return sqlite3_exec(store->db, "PRAGMA schema_version", NULL, NULL, NULL);
}

/* Whether the file has changes beside it that are not in it yet. */
static bool has_unmerged_changes(const char *path)
{
	struct text beside;
	struct stat found;

	text_init(&beside);
	text_add_format(&beside, "%s-wal", path);
	bool has = stat(text_get(&beside), &found) == 0 && found.st_size > 0;
	text_done(&beside);
	return has;
}

static enum status connect_book(struct store *store, enum store_mode mode, struct error *error)
{
	static const int flags[] = {
		[STORE_CREATE] = SQLITE_OPEN_READWRITE, [STORE_EXISTING] = SQLITE_OPEN_READWRITE,
		[STORE_READ_ONLY] = SQLITE_OPEN_READONLY,
		[STORE_MEMORY] = SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_MEMORY,
	};
	int code = try_connect(store, flags[mode], mode == STORE_READ_ONLY ? "?mode=ro" : "");

	/* In a folder that cannot be written, a book at rest can still be read. */
	if (((code & 0xff) == SQLITE_CANTOPEN || (code & 0xff) == SQLITE_READONLY) &&
	    mode != STORE_MEMORY && !has_unmerged_changes(store->path)) {
		disconnect(store);
		code = try_connect(store, SQLITE_OPEN_READONLY, "?mode=ro&immutable=1");
	}
	return code == SQLITE_OK ? STATUS_OK : book_refuse(store->path, code, error);
}

/* A call must survive a cut of power the moment after it was shown as kept. */
static const char ways_of_working[] =
	"PRAGMA foreign_keys = ON;"
	"PRAGMA synchronous = FULL;"
	"PRAGMA recursive_triggers = ON;"
	"PRAGMA cell_size_check = ON;" /* a damaged page is an error, not an empty list */
	"PRAGMA temp_store = MEMORY;";

static uint32_t big_endian(const unsigned char *at)
{
	return (uint32_t)at[0] << 24 | (uint32_t)at[1] << 16 | (uint32_t)at[2] << 8 | at[3];
}

/*
 * Looks at a file's first bytes, before SQLite may touch it (a journal beside
 * a foreign file would be played back): the magic, the mark and the version of
 * a book (SQLite's "Database File Format", 1.3).  While changes lie beside the
 * file, its header may be an old one: then only SQLite can tell.
 */
static enum status look_at_file(struct store *store, struct error *error)
{
	unsigned char header[100];
	FILE *file = fopen(store->path, "rbe");

	/* What cannot be opened so, SQLite says better. */
	if (!file)
		return STATUS_OK;
	size_t length = fread(header, 1, sizeof header, file);
	fclose(file);
	if (length == 0)
		return error_set(error, STATUS_NOT_A_BOOK, "%s is empty, no book; nothing was changed; name another "
		                 "file, or remove it to begin a new book", store->path);
	if (length < sizeof header || memcmp(header, "SQLite format 3", 16) != 0)
		return book_error(store, STATUS_NOT_A_BOOK, error);
	if (has_unmerged_changes(store->path))
		return STATUS_OK;
	if (big_endian(header + 68) != (uint32_t)application_id || big_endian(header + 60) == 0)
		return book_error(store, STATUS_NOT_A_BOOK, error);
	if (big_endian(header + 60) > (uint32_t)newest_migration())
		return book_error(store, STATUS_NEWER, error);
	return STATUS_OK;
}

/* Builds an empty book in a file that was just made. */
static enum status build(struct store *store, const char *part, struct error *error)
{
	struct store fresh = { .path = (char *)(uintptr_t)part, .clock = store->clock,
	                       .shapes = store->shapes, .kinds = store->kinds };
	int code = try_connect(&fresh, SQLITE_OPEN_READWRITE, "");
	enum status status = code == SQLITE_OK ? STATUS_OK : book_refuse(store->path, code, error);

	/* No journal beside it: while it is built, nobody needs it. */
	if (status == STATUS_OK)
		status = book_script(&fresh, "PRAGMA journal_mode = MEMORY", error);
	if (status == STATUS_OK)
		status = book_script(&fresh, ways_of_working, error);
	if (status == STATUS_OK)
		status = bring_up_to_date(&fresh, error);
	fields_forget(&fresh);
	disconnect(&fresh);
	free(fresh.dirty_customers.ids);
	free(fresh.dirty_systems.ids);
	return status;
}

static bool is_there(const char *path)
{
	struct stat found;

	return stat(path, &found) == 0;
}

/*
 * Makes a new book, beside and then under its name, so that at the name there
 * is never half a book.  Of several programs that make it at once one does,
 * and the others take what it made.
 */
static enum status make_book(struct store *store, struct error *error)
{
	struct beside beside;
	enum status status = STATUS_BUSY;

	for (int waited = 0; status == STATUS_BUSY && waited < patience_ms; waited += 20) {
		status = beside_begin(&beside, store->path, 0600, error);
		if (status == STATUS_BUSY)
			sqlite3_sleep(20);
		if (status == STATUS_BUSY && is_there(store->path))
			return STATUS_OK;
	}
	if (status != STATUS_OK)
		return status;
	if (is_there(store->path)) {
		beside_drop(&beside);
		return STATUS_OK;
	}
	status = build(store, beside.part, error);
	if (status != STATUS_OK) {
		beside_drop(&beside);
		return status;
	}
	status = beside_end(&beside, false, error);
	return status == STATUS_EXISTS ? STATUS_OK : status;
}

/* The file is there: opens it, if it is a book. */
static enum status open_file(struct store *store, enum store_mode mode, struct error *error)
{
	int version;
	enum status status = look_at_file(store, error);

	if (status == STATUS_OK)
		status = connect_book(store, mode, error);
	if (status == STATUS_OK)
		status = book_script(store, ways_of_working, error);
	if (status == STATUS_OK)
		status = read_version(store, &version, error);
	if (status == STATUS_OK && version == 0)
		status = book_error(store, STATUS_NOT_A_BOOK, error);
	if (status != STATUS_OK)
		return status;
	if (mode != STORE_READ_ONLY)
		place_restrict(store->path);
	if (!store->read_only)
		status = book_script(store, "PRAGMA journal_mode = WAL", error);
	return status == STATUS_OK ? bring_up_to_date(store, error) : status;
}

static enum status open_book(struct store *store, enum store_mode mode, struct error *error)
{
	enum status status = STATUS_OK;

	if (mode == STORE_MEMORY) {
		status = connect_book(store, mode, error);
		if (status == STATUS_OK)
			status = book_script(store, ways_of_working, error);
		return status == STATUS_OK ? bring_up_to_date(store, error) : status;
	}
	/* SQLite takes "" for a book that is thrown away in the end. */
	if (!*store->path || place_is_no_file(store->path))
		return book_error(store, STATUS_CANNOT_OPEN, error);
	if (mode == STORE_CREATE && !is_there(store->path)) {
		status = place_make_folders(store->path, error);
		if (status == STATUS_OK)
			status = make_book(store, error);
	}
	if (status == STATUS_OK)
		status = open_file(store, mode, error);
	return status == STATUS_OK ? unread_look_again(store, error) : status;
}

enum status store_open(const char *path, enum store_mode mode, const struct clock *clock,
                       struct store **store, struct error *error)
{
	struct store *opened = calloc(1, sizeof *opened);

	*store = NULL;
	if (mode == STORE_MEMORY)
		path = "";
	if (!opened || !(opened->path = strdup(path))) {
		free(opened);
		return book_refuse(path, SQLITE_NOMEM, error);
	}
	opened->clock = *clock;
	opened->kinds = THING_KIND_COUNT;
	opened->shapes = calloc(THING_KIND_COUNT, sizeof *opened->shapes);
	enum status status = opened->shapes && shapes_make(opened->shapes)
		? open_book(opened, mode, error) : book_refuse(path, SQLITE_NOMEM, error);
	if (status != STATUS_OK) {
		store_close(opened);
		return status;
	}
	*store = opened;
	return STATUS_OK;
}

void store_close(struct store *store)
{
	if (!store)
		return;
	disconnect(store);
	for (int i = 0; i < MADE_COUNT; i++)
		free(store->made[i]);
	if (store->shapes) {
		fields_forget(store);
		shapes_free(store->shapes);
	}
	free(store->shapes);
	free(store->dirty_customers.ids);
	free(store->dirty_systems.ids);
	free(store->path);
	free(store);
}

const char *store_path(const struct store *store)
{
	return store->path;
}

void store_set_patience(struct store *store, int milliseconds)
{
	sqlite3_busy_timeout(store->db, milliseconds);
}

bool store_is_read_only(const struct store *store)
{
	return store->read_only;
}
