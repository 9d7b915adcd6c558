/*
 * A copy of the book as it is at one moment, made while it is in use.
 *
 * It is written beside and renamed when it is whole.  A copy that is used as a
 * book one day is another book from then on: it does not take the id along.
 */
#include "store/parts.h"

#include <errno.h>
#include <sys/stat.h>
#include <unistd.h>

#include <padside/base/beside.h>
#include <padside/base/text.h>

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

static int copy_into(sqlite3 *from, const char *path, bool is_another_book)
{
	sqlite3 *copy = NULL;
	int code = sqlite3_open_v2(path, &copy, SQLITE_OPEN_READWRITE | SQLITE_OPEN_EXRESCODE, NULL);

	if (code == SQLITE_OK)
		code = copy_pages(from, copy);
	/* No journal beside the copy: while it is made, nobody needs it. */
	if (code == SQLITE_OK && is_another_book)
		code = sqlite3_exec(copy, "PRAGMA journal_mode = MEMORY; DELETE FROM own;", NULL, NULL,
		                    NULL);
	int closed = sqlite3_close(copy);
	return code == SQLITE_OK ? closed : code;
}

enum status book_copy(struct store *store, const char *path, bool is_another_book,
                      struct error *error)
{
	struct beside beside;
	enum status status = beside_begin(&beside, path, 0600, error);

	if (status != STATUS_OK)
		return status;
	int code = copy_into(store->db, beside.part, is_another_book);
	if (code == SQLITE_OK)
		return beside_end(&beside, false, error);
	beside_drop(&beside);
	return book_refuse(path, code, error);
}

enum status store_backup(struct store *store, const char *path, struct error *error)
{
	struct stat found;

	/* Said before the work is done rather than after it. */
	if (lstat(path, &found) == 0)
		return error_set(error, STATUS_EXISTS,
		                 "%s is there already; nothing was written; choose another name", path);
	return book_copy(store, path, true, error);
}
