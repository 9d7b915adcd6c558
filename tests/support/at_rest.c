/*
 * Whether a book is left as whoever asked it found it.
 */
#include "support/at_rest.h"

#include <check.h>
#include <sqlite3.h>

#include "store/book.h"

void at_rest(struct store *store)
{
	for (sqlite3_stmt *row = sqlite3_next_stmt(store->db, NULL); row;
	     row = sqlite3_next_stmt(store->db, row))
		ck_assert_msg(!sqlite3_stmt_busy(row), "this was not ended: %s", sqlite3_sql(row));
	ck_assert_int_eq(store->depth, 0);
	ck_assert_int_ne(sqlite3_get_autocommit(store->db), 0);
}
