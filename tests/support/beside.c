#include "support/beside.h"

#include <check.h>
#include <stdio.h>

static wall_time tell_time(void *context)
{
	return ((struct desk *)context)->now;
}

void beside_open(struct beside *beside, struct desk *desk)
{
	scratch_make(beside->folder);
	snprintf(beside->path, sizeof beside->path, "%s/book.db", beside->folder);
	desk_open_book(desk, beside->path);
}

void beside_join(struct beside *beside, struct desk *desk)
{
	const struct clock clock = { .now = tell_time, .context = desk };
	struct error error;

	ck_assert(store_open(beside->path, STORE_EXISTING, &clock, &beside->store, &error) == STATUS_OK);
	ck_assert(session_new(beside->store, &clock, UNITS_US, &beside->session, &error) == STATUS_OK);
	ck_assert(session_open(beside->session, desk_call(desk)->uid.text, &error) == STATUS_OK);
}

void beside_close(struct beside *beside, struct desk *desk)
{
	session_free(beside->session);
	store_close(beside->store);
	desk_close(desk);
	scratch_remove(beside->folder);
}

sqlite3 *beside_lock(const char *path)
{
	sqlite3 *db;

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
	return db;
}

void beside_unlock(sqlite3 *db)
{
	sqlite3_exec(db, "ROLLBACK", NULL, NULL, NULL);
	sqlite3_close(db);
}
