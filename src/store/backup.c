/*
 * A copy of the book as it is at one moment, made while it is in use.
 */
#include "store/parts.h"

#include <unistd.h>

/* How long to wait for another program before each try, and how often. */
static const int pause_ms = 50;
static const int most_tries = 100;

/* Copies page by page; SQLite begins again when somebody else writes. */
static int copy_pages(sqlite3 *from, sqlite3 *to)
{
	sqlite3_backup *backup = sqlite3_backup_init(to, "main", from, "main");
	int code = SQLITE_BUSY;

	if (!backup)
		return sqlite3_extended_errcode(to);
	for (int i = 0; i < most_tries && (code == SQLITE_BUSY || code == SQLITE_LOCKED); i++) {
		if (i > 0)
			sqlite3_sleep(pause_ms);
		code = sqlite3_backup_step(backup, -1);
	}
	int finished = sqlite3_backup_finish(backup);
	if (code == SQLITE_DONE)
		return finished;
	return finished == SQLITE_OK ? code : finished;
}

enum status store_backup(struct store *store, const char *path, struct error *error)
{
	sqlite3 *copy = NULL;
	bool made;
	enum status status = place_make_file(path, &made, error);

	if (status != STATUS_OK)
		return status;
	if (!made)
		return error_set(error, STATUS_EXISTS,
		                 "%s is there already; nothing was written; choose another name", path);
	int code = sqlite3_open_v2(path, &copy, SQLITE_OPEN_READWRITE | SQLITE_OPEN_EXRESCODE, NULL);
	if (code == SQLITE_OK)
		code = copy_pages(store->db, copy);
	int closed = sqlite3_close(copy);
	if (code == SQLITE_OK)
		code = closed;
	if (code == SQLITE_OK)
		return STATUS_OK;
	unlink(path);
	return book_refuse(path, code, error);
}
