/* A book that an earlier program wrote opens with nothing lost (tests/store/old/). */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <padside/app/call_json.h>
#include <padside/base/schema.h>
#include <padside/base/text.h>
#include <padside/store/store.h>

#include "support/golden.h"
#include "support/listed.h"
#include "support/scratch.h"

Suite *old_book_suite(void);

enum { OLD_CALLS = 4, OLD_CHANGES = 237 };

static char folder[SCRATCH_SIZE];
static char path[96];
static struct error error;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static char *read_file(const char *name)
{
	FILE *file = fopen(name, "r");
	char *bytes = calloc(1, 1 << 20);

	ck_assert_msg(file && bytes, "%s", name);
	ck_assert_uint_lt(fread(bytes, 1, (1 << 20) - 1, file), (1 << 20) - 1);
	fclose(file);
	return bytes;
}

static void run(sqlite3 *db, const char *sql)
{
	char *why = NULL;

	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, &why) == SQLITE_OK, "%s", why);
}

/* The book of that version: its schema, then the rows as that program wrote them. */
static void make_old_book(int version, const char *rows)
{
	char *sql = read_file(rows), marks[96];
	sqlite3 *db;

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	for (const struct schema_migration *m = schema_migrations; m->number && m->number <= version; m++)
		run(db, m->sql);
	run(db, "BEGIN");
	run(db, sql);
	run(db, "COMMIT");
	snprintf(marks, sizeof marks, "PRAGMA user_version = %d; PRAGMA application_id = %d", version,
	         0x70616473);
	run(db, marks);
	sqlite3_close(db);
	free(sql);
}

static void set_up(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/old.db", folder);
	make_old_book(2, "tests/store/old/book-2.sql");
}

static void tear_down(void)
{
	scratch_remove(folder);
}

/* Each document of the old program's export, as this program writes it, is what the book has. */
START_TEST(nothing_of_an_old_book_is_lost)
{
	struct json_reader *reader = json_reader_new();
	char *documents = read_file("tests/store/old/book-2.json"), *at = documents;
	struct store *store;
	struct text then, today;
	struct call call;
	int calls = 0;

	assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
	listed_sound(store, "");
	call_init(&call);
	text_init(&then);
	text_init(&today);
	while (*at) {
		char *end = strstr(at, "}}}\n");
		ck_assert_ptr_nonnull(end);
		end += 4;
		assert_ok(call_json_read(reader, at, (size_t)(end - at), CALL_JSON_RECORD, &call, &error));
		text_clear(&then);
		call_json_write(&call, &then);
		assert_ok(store_call_load(store, call.uid.text, &call, &error));
		text_clear(&today);
		call_json_write(&call, &today);
		ck_assert_str_eq(text_get(&today), text_get(&then));
		calls++;
		at = end;
	}
	ck_assert_int_eq(calls, OLD_CALLS);
	text_done(&then);
	text_done(&today);
	call_done(&call);
	store_close(store);
	free(documents);
	json_reader_free(reader);
}
END_TEST

START_TEST(the_trail_of_an_old_book_stays)
{
	const struct call_filter filter = { .since = WALL_TIME_NONE };
	struct store_listing listing;
	struct call_line line;
	struct store *store;
	int changes = 0;

	assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
	store_calls_open(store, &filter, &listing);
	while (store_calls_next(&listing, &line))
		changes += listed_changes(store, &line.uid);
	assert_ok(store_listing_close(&listing, &error));
	/* As many rows as reading_change has in book-2.sql. */
	ck_assert_int_eq(changes, OLD_CHANGES);
	store_close(store);
}
END_TEST

/* The copy is what the earlier program left, and it is made once. */
START_TEST(an_old_book_is_copied_beside_before_it_is_changed)
{
	char copy[sizeof path + 16];
	struct store *store;
	sqlite3 *db;
	sqlite3_stmt *row;

	assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
	store_close(store);
	snprintf(copy, sizeof copy, "%s.schema-2", path);
	ck_assert_int_eq(sqlite3_open_v2(copy, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, "SELECT count(*) FROM reading_change", -1, &row, NULL),
	                 SQLITE_OK);
	ck_assert_int_eq(sqlite3_step(row), SQLITE_ROW);
	ck_assert_int_eq(sqlite3_column_int(row, 0), OLD_CHANGES);
	sqlite3_finalize(row);
	sqlite3_close(db);
	assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
	store_close(store);
	snprintf(copy, sizeof copy, "%s.schema-2.1", path);
	ck_assert(access(copy, F_OK) != 0);
}
END_TEST

/* Whatever program made it: an empty book of every version before this one is brought up to date. */
START_TEST(a_book_of_every_version_is_brought_up_to_date)
{
	static const char nothing[] = "tests/store/old/empty.sql";
	int newest = 0;

	for (const struct schema_migration *m = schema_migrations; m->number; m++)
		newest = m->number;
	ck_assert_int_gt(newest, 10);
	for (int version = 1; version <= newest; version++) {
		char copy[sizeof path + 32], name[sizeof path];
		struct call call;
		struct store *store;
		snprintf(name, sizeof name, "%s", path);
		snprintf(path, sizeof path, "%s/v%d.db", folder, version);
		make_old_book(version, nothing);
		snprintf(copy, sizeof copy, "%s.schema-%d", path, version);
		assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
		ck_assert_int_eq(access(copy, F_OK) == 0, version < newest);
		listed_sound(store, path);
		call_init(&call);
		assert_ok(store_call_record(store, &call, &error));
		listed_sound(store, path);
		call_done(&call);
		store_close(store);
		snprintf(path, sizeof path, "%s", name);
	}
}
END_TEST

/* A copy that is there stays; the next gets a number behind its name, ten in all. */
START_TEST(copies_of_old_books_do_not_write_over_each_other)
{
	char copy[sizeof path + 32], words[300];
	struct store *store;

	for (int i = 0; i < 10; i++) {
		remove(path);
		make_old_book(2, "tests/store/old/book-2.sql");
		assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
		store_close(store);
		snprintf(copy, sizeof copy, i ? "%s.schema-2.%d" : "%s.schema-2", path, i);
		ck_assert_msg(access(copy, F_OK) == 0, "%s", copy);
		snprintf(copy, sizeof copy, "%s.schema-2.%d", path, i + 1);
		ck_assert_msg(access(copy, F_OK) != 0, "%s", copy);
	}
	remove(path);
	make_old_book(2, "tests/store/old/book-2.sql");
	ck_assert_int_eq(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error), STATUS_EXISTS);
	/* It was not changed, and is read by whoever only reads no more than before. */
	snprintf(words, sizeof words, "the book %s is from an older padside and can only be read; nothing was "
	         "changed; make it writable and open it once", path);
	ck_assert_int_eq(store_open(path, STORE_READ_ONLY, &clock_of_machine, &store, &error), STATUS_READ_ONLY);
	ck_assert_str_eq(error.text, words);
}
END_TEST

/* Two trucks convert books that they had brought together before: nothing is there twice. */
START_TEST(two_converted_books_are_the_same_trail)
{
	static const struct merge_report nothing = { 0 };
	struct merge_report report;
	char other[sizeof path + 8];
	struct store *store;

	snprintf(other, sizeof other, "%s.other", path);
	scratch_copy(path, other);
	assert_ok(store_open(other, STORE_EXISTING, &clock_of_machine, &store, &error));
	store_close(store);
	assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
	assert_ok(store_merge(store, other, &report, &error));
	ck_assert_mem_eq(&report, &nothing, sizeof nothing);
	store_close(store);
}
END_TEST

START_TEST(settings_and_prices_of_an_old_book_stay)
{
	struct store *store;
	char value[64];

	assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
	assert_ok(store_setting_get(store, "company", value, sizeof value, &error));
	ck_assert_str_eq(value, "Old Book Cooling");
	store_close(store);
}
END_TEST

/* ---- A row of each table, and what becomes of it ---- */

/* Who, which field, milliseconds and count of the stamp, number, old and new value, time: by line. */
static void add_entries(const char *book, struct text *out)
{
	static const char sql[] = "SELECT substr(uid, 35), name, stamp >> 16, stamp & 65535, book, number, "
		"coalesce(old, '-'), coalesce(new, '-'), coalesce(at, '-'), kind FROM entry JOIN thing ON "
		"thing.id = thing JOIN field ON field.id = field ORDER BY uid, stamp, name";
	sqlite3 *db;
	sqlite3_stmt *row;

	ck_assert_int_eq(sqlite3_open(book, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &row, NULL), SQLITE_OK);
	while (sqlite3_step(row) == SQLITE_ROW) {
		for (int i = 0; i < 10; i++)
			text_add_format(out, "%s%s", i ? " " : "", (const char *)sqlite3_column_text(row, i));
		text_add(out, "\n");
	}
	sqlite3_finalize(row);
	sqlite3_close(db);
}

/*
 * The golden lines were read against the rows of book-4.sql; the numbers are FNV-1a of 64 bits of
 * "uid field stamp", halved, and were worked out again by another program.
 */
START_TEST(each_row_of_an_old_book_becomes_its_entries)
{
	struct store *store;
	struct text text;
	struct call call;
	char found[80], done[80];
	bool stand;

	remove(path);
	make_old_book(4, "tests/store/old/book-4.sql");
	assert_ok(store_open(path, STORE_EXISTING, &clock_of_machine, &store, &error));
	listed_sound(store, "");
	text_init(&text);
	add_entries(path, &text);
	golden_check_text("store/old", "book-4.entries", text_get(&text));
	call_init(&call);
	assert_ok(store_call_load(store, "018064fd-0000-7000-8000-000000000031", &call, &error));
	const struct value *outdoor = visit_value(&call.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB);
	ck_assert_double_eq(outdoor->number, 96);
	wall_time taken;
	ck_assert(clock_parse("2026-06-01T08:10:00", &taken));
	ck_assert_int_eq(outdoor->taken_at, taken);
	ck_assert_int_eq(visit_value(&call.visit, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE)->state,
	                 VALUE_OVER_LIMIT);
	assert_ok(store_call_lines(store, &call.uid, found, sizeof found, done, sizeof done, &stand, &error));
	ck_assert(stand);
	ck_assert_str_eq(found, "weak capacitor");
	ck_assert_str_eq(done, "capacitor replaced");
	struct price_item *items;
	size_t count;
	assert_ok(store_prices_find(store, "", 0, &items, &count, &error));
	ck_assert_uint_eq(count, 1);
	ck_assert_int_eq(items[0].kind, WORK_PART);
	ck_assert_str_eq(items[0].code, "C45");
	ck_assert_str_eq(items[0].description, "capacitor 45");
	ck_assert_int_eq(items[0].unit_price, 3450);
	free(items);
	call_done(&call);
	text_done(&text);
	store_close(store);
}
END_TEST

Suite *old_book_suite(void)
{
	Suite *suite = suite_create("old_book");
	TCase *tests = tcase_create("old_book");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, nothing_of_an_old_book_is_lost);
	tcase_add_test(tests, the_trail_of_an_old_book_stays);
	tcase_add_test(tests, an_old_book_is_copied_beside_before_it_is_changed);
	tcase_add_test(tests, a_book_of_every_version_is_brought_up_to_date);
	tcase_add_test(tests, copies_of_old_books_do_not_write_over_each_other);
	tcase_add_test(tests, two_converted_books_are_the_same_trail);
	tcase_add_test(tests, each_row_of_an_old_book_becomes_its_entries);
	tcase_add_test(tests, settings_and_prices_of_an_old_book_stay);
	suite_add_tcase(suite, tests);
	return suite;
}
