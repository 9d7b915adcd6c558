/* Opening a book, making a new one, and bringing an older one up to date. */
#include "store/book.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <padside/base/beside.h>
#include <padside/base/schema.h>
#include <padside/base/text.h>

#include "store/parts.h"
#include "store/trail.h"

/* Says in the file's header that it is a book of padside: "pads". */
static const int application_id = 0x70616473;

/* How long to wait for another program that writes in the book. */
static const int patience_ms = 3000;

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
		return error_set(error, STATUS_READ_ONLY,
		                 "the book %s is from an older padside and can only be "
		                 "read; nothing was changed; make it writable and open it once",
		                 store->path);
	if (version > 0)
		status = keep_old_copy(store, version, error);
	/* What is in it already is passed over. */
	for (const struct schema_migration *m = schema_migrations; m->number && status == STATUS_OK;
	     m++)
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
		return error_set(error, STATUS_NOT_A_BOOK,
		                 "%s is empty, no book; nothing was changed; name another "
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
	free(fresh.trail.added);
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
	free(store->trail.added);
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
