/*
 * How the book is asked: no statement walks through a table that grows, with
 * SQLite's own EXPLAIN QUERY PLAN for every statement that was prepared.
 */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/history.h>
#include <padside/app/ledger.h>
#include <padside/app/session.h>

#include "store/book.h"
#include "support/demo.h"
#include "support/listed.h"
#include "support/scratch.h"

Suite *plans_suite(void);

static char folder[SCRATCH_SIZE];
static char path[96];
static struct error error;
static struct store *store;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void set_up(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/book.db", folder);
	assert_ok(store_open(path, STORE_CREATE, &clock_of_machine, &store, &error));
}

static void tear_down(void)
{
	store_close(store);
	scratch_remove(folder);
}

/* Tables that grow with the years, and what may be walked through nevertheless. */
static const char *const growing[] = {
	"entry", "thing", "call", "customer", "site", "system", "charge_entry", "work_line", "offer",
	"watch_item", "judgement", "tightness", "cylinder", "customer_site", "removed", "met",
};

/*
 * A listing of everything is walked in the order of its index, line by line, or
 * up to its limit; a word of a search is walked in its own index.
 */
static bool is_a_walk(const char *detail, const char *sql)
{
	return strstr(detail, "USING") && (strstr(sql, "LIMIT") || strstr(sql, "ORDER BY opened_at DESC"));
}

/* Writes the first step of the plan that walks through a growing table; "" there is none. */
static void find_walk(sqlite3 *db, const char *sql, char *walk, size_t size)
{
	char explain[8192];
	sqlite3_stmt *row;

	*walk = '\0';
	snprintf(explain, sizeof explain, "EXPLAIN QUERY PLAN %s", sql);
	ck_assert_msg(sqlite3_prepare_v2(db, explain, -1, &row, NULL) == SQLITE_OK, "%s: %s", sql,
	              sqlite3_errmsg(db));
	while (sqlite3_step(row) == SQLITE_ROW) {
		const char *detail = (const char *)sqlite3_column_text(row, 3);
		for (size_t i = 0; i < sizeof growing / sizeof *growing; i++) {
			char scan[64];
			size_t length = (size_t)snprintf(scan, sizeof scan, "SCAN %s", growing[i]);
			bool is_scan = strncmp(detail, scan, length) == 0 &&
			               (detail[length] == '\0' || detail[length] == ' ');
			if (is_scan && !is_a_walk(detail, sql))
				snprintf(walk, size, "%s", detail);
		}
	}
	sqlite3_finalize(row);
}

static int check_statements(void)
{
	char walk[256];
	sqlite3 *db;
	int count = 0;

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	for (int i = 0; i < STATEMENT_SLOTS; i++)
		if (store->kept[i].statement) {
			find_walk(db, store->kept[i].sql, walk, sizeof walk);
			ck_assert_msg(!*walk, "%s\n%s", walk, store->kept[i].sql);
			count++;
		}
	/* A walk is noticed where there is one. */
	find_walk(db, "SELECT uid FROM call WHERE complaint = 'x'", walk, sizeof walk);
	ck_assert_str_eq(walk, "SCAN call");
	sqlite3_close(db);
	return count;
}

static void list_calls(struct call_filter filter)
{
	listed_calls(store, &filter, NULL);
}

static void work_on_a_call(struct session *session)
{
	struct work_line line = { .kind = WORK_PART, .quantity = 1000, .unit_price = 100 };
	struct charge_entry entry = { .at = WALL_TIME_NONE, .added_oz = 2 };
	struct watch_item item = { .noted_at = WALL_TIME_NONE, .closed_at = WALL_TIME_NONE };
	struct judgement judgement = { .at = WALL_TIME_NONE };
	struct store_removed *removed;
	struct store_question *questions;
	size_t count;
	char what[64];

	assert_ok(session_start(session, NULL, NULL, NULL, &error));
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SERIAL, "SN-1", &error));
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "60", &error));
	assert_ok(session_type_field(session, FIELD_CUSTOMER_NAME, "Ada", &error));
	assert_ok(session_type_field(session, FIELD_ADDRESS, "12 Oak Street", &error));
	assert_ok(session_type_field(session, FIELD_COMPLAINT, "no cooling", &error));
	assert_ok(session_put(session, LIST_WORK, &line, &error));
	assert_ok(session_put(session, LIST_CHARGE, &entry, &error));
	assert_ok(session_put(session, LIST_WATCH, &item, &error));
	assert_ok(session_put(session, LIST_JUDGEMENTS, &judgement, &error));
	assert_ok(session_remove(session, LIST_WORK, 0, &error));
	assert_ok(session_undo(session, what, sizeof what, &error));
	assert_ok(session_close_call(session, true, &error));
	struct uid uid = session_call(session)->uid;
	assert_ok(store_questions(store, &uid, &questions, &count, &error));
	free(questions);
	session_leave(session);
	assert_ok(session_open(session, uid.text, &error));
	session_leave(session);
	assert_ok(session_take_out(session, &uid, &error));
	assert_ok(store_removed(store, STORE_CALL, &removed, &count, &error));
	free(removed);
	assert_ok(session_bring_back(session, &uid, &error));
}

START_TEST(no_statement_of_a_working_day_walks_through_a_growing_table)
{
	struct session *session;
	struct call_line line = { .opened_at = WALL_TIME_NONE };
	struct customer_line found;
	struct call_filter filter = { .since = WALL_TIME_NONE, .limit = 20 };

	assert_ok(session_new(store, &clock_of_machine, UNITS_US, &session, &error));
	work_on_a_call(session);
	listed_calls(store, &filter, &line);
	listed_customers(store, "", &found);
	listed_customers(store, "ada", &found);
	struct uid customer = found.customer.uid;
	list_calls((struct call_filter){ .since = WALL_TIME_NONE, .limit = 20, .text = "ada" });
	list_calls((struct call_filter){ .since = WALL_TIME_NONE, .limit = 20, .open_only = true });
	list_calls((struct call_filter){ .since = WALL_TIME_NONE, .limit = 20, .by_state = true });
	list_calls((struct call_filter){ .since = WALL_TIME_NONE, .limit = 20, .customer = customer });
	list_calls((struct call_filter){ .since = WALL_TIME_NONE, .limit = 20, .system = line.system_uid });
	list_calls((struct call_filter){ .since = WALL_TIME_NONE });
	list_calls((struct call_filter){ .since = WALL_TIME_NONE, .open_only = true });
	struct history history;
	history_init(&history);
	assert_ok(history_load(store, &line.system_uid, HISTORY_EVERYTHING, UNITS_US, 0, &history, &error));
	history_done(&history);
	struct customer_page page;
	struct customer who = { .uid = customer };
	customer_page_init(&page);
	assert_ok(customer_page_load(store, &who, &page, &error));
	customer_page_done(&page);
	session_free(session);
	ck_assert_int_gt(check_statements(), 60);
}
END_TEST

/* Whole listings are not held and sorted before their first line. */
START_TEST(a_listing_of_all_calls_is_walked)
{
	list_calls((struct call_filter){ .since = WALL_TIME_NONE });
	sqlite3 *db;
	sqlite3_stmt *row;
	char explain[2048];
	int listings = 0;

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	for (int i = 0; i < STATEMENT_SLOTS; i++) {
		if (!store->kept[i].statement || !strstr(store->kept[i].sql, "found_line"))
			continue;
		listings++;
		snprintf(explain, sizeof explain, "EXPLAIN QUERY PLAN %s", store->kept[i].sql);
		ck_assert_int_eq(sqlite3_prepare_v2(db, explain, -1, &row, NULL), SQLITE_OK);
		while (sqlite3_step(row) == SQLITE_ROW)
			ck_assert_ptr_null(strstr((const char *)sqlite3_column_text(row, 3), "TEMP B-TREE"));
		sqlite3_finalize(row);
	}
	ck_assert_int_eq(listings, 1);
	sqlite3_close(db);
}
END_TEST

Suite *plans_suite(void)
{
	Suite *suite = suite_create("plans");
	TCase *tests = tcase_create("plans");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, no_statement_of_a_working_day_walks_through_a_growing_table);
	tcase_add_test(tests, a_listing_of_all_calls_is_walked);
	suite_add_tcase(suite, tests);
	return suite;
}
