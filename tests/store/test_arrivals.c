/* Entries that arrive one by one, as the office sends them: in any order, twice, damaged, of tomorrow. */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/parts.h"
#include "store/take.h"
#include "support/books.h"
#include "support/calls.h"
#include "support/listed.h"

Suite *arrivals_suite(void);

enum { MOST = 2000 };

static struct error error;
static struct arrival arrivals[MOST];
static size_t arrival_count;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

/* ---- What a book would send ---- */

static char *owned[MOST * 6]; /* the texts of them */
static size_t owned_count;

static char *copy_of(sqlite3_stmt *row, int column)
{
	const char *text = (const char *)sqlite3_column_text(row, column);

	return text ? owned[owned_count++] = strdup(text) : NULL;
}

static void forget_arrivals(void)
{
	while (owned_count > 0)
		free(owned[--owned_count]);
	arrival_count = 0;
}

static void read_arrival(sqlite3_stmt *row, struct arrival *arrival)
{
	*arrival = (struct arrival){
		.thing = copy_of(row, 0), .call = copy_of(row, 1), .kind = sqlite3_column_int(row, 2),
		.field = copy_of(row, 3), .sum = (uint32_t)sqlite3_column_int64(row, 4),
		.entry = {
			.stamp = sqlite3_column_int64(row, 5), .book = sqlite3_column_int64(row, 6),
			.number = sqlite3_column_int64(row, 7), .technician = copy_of(row, 8), .old = copy_of(row, 9),
			.new = copy_of(row, 10),
			.at = sqlite3_column_type(row, 11) == SQLITE_NULL ? WALL_TIME_NONE : sqlite3_column_int64(row, 11),
		},
	};
}

static void read_arrivals(int book)
{
	static const char sql[] = "SELECT thing.uid, parent.uid, thing.kind, field.name, entry.sum, stamp, "
		"entry.book, number, technician.name, old, new, at FROM entry JOIN thing ON thing.id = entry.thing "
		"LEFT JOIN thing AS parent ON parent.id = thing.call JOIN field ON field.id = entry.field "
		"JOIN technician ON technician.id = entry.technician ORDER BY entry.book, number";
	sqlite3 *db;
	sqlite3_stmt *row;

	forget_arrivals();
	ck_assert_int_eq(sqlite3_open(books_paths[book], &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &row, NULL), SQLITE_OK);
	while (sqlite3_step(row) == SQLITE_ROW) {
		ck_assert_uint_lt(arrival_count, MOST);
		read_arrival(row, &arrivals[arrival_count++]);
	}
	sqlite3_finalize(row);
	sqlite3_close(db);
}

/* How many of them were new. */
static int64_t take(int book, struct arrival *from, size_t count, struct merge_report *report)
{
	int64_t taken;

	assert_ok(store_begin(books[book], &error));
	assert_ok(store_end(books[book], take_arrivals(books[book], from, count, report, &taken, &error), &error));
	return taken;
}

static void swap(size_t a, size_t b)
{
	struct arrival kept = arrivals[a];

	arrivals[a] = arrivals[b];
	arrivals[b] = kept;
}

/* Two books' random histories, known to the first. */
static void write_histories(uint64_t number)
{
	books_open(4);
	books_begin(number);
	for (int i = 0; i < 80; i++) {
		books_change(i % 2);
		if (i % 30 == 29)
			books_merged(1, 0);
	}
	books_merged(0, 1);
	books_merged(1, 0);
	read_arrivals(0);
}

/* One batch in any order: as written, backwards, shuffled; and batch by batch, as they were written. */
START_TEST(in_whatever_order_they_arrive_they_come_to_the_same)
{
	static const size_t sizes[] = { MOST, 7, 1 };
	struct merge_report report = { 0 };
	size_t size = _i < 3 ? sizes[_i] : MOST;
	int64_t taken = 0;

	write_histories(31 + (uint64_t)_i);
	if (_i == 3)
		for (size_t i = 0; i < arrival_count / 2; i++)
			swap(i, arrival_count - 1 - i);
	if (_i == 4)
		for (size_t i = 0; i < arrival_count; i++)
			swap(i, books_draw((unsigned)arrival_count));
	for (size_t at = 0; at < arrival_count; at += size)
		taken += take(2, &arrivals[at], arrival_count - at < size ? arrival_count - at : size, &report);
	ck_assert_int_eq(taken, (int64_t)arrival_count);
	/* Once more is nothing. */
	ck_assert_int_eq(take(2, arrivals, arrival_count, &report), 0);
	books_merged(3, 0);
	books_merged(0, 2);
	books_merged(1, 2);
	books_merged(2, 3);
	books_merged(0, 3);
	books_merged(1, 3);
	books_merged(3, 2);
	books_assert_same();
	books_close();
}
END_TEST

/* Whole books of before are counted as in a merge. */
START_TEST(what_arrived_is_counted_as_a_merge_counts_it)
{
	struct merge_report report = { 0 };
	int of_calls = 0;

	write_histories(61);
	struct merge_report merged = books_merged(3, 0);
	ck_assert_int_eq(take(2, arrivals, arrival_count, &report), (int64_t)arrival_count);
	ck_assert_int_eq(report.customers, merged.customers);
	ck_assert_int_eq(report.sites, merged.sites);
	ck_assert_int_eq(report.systems, merged.systems);
	ck_assert_int_eq(report.calls, merged.calls);
	ck_assert_int_eq(report.lines, merged.lines);
	ck_assert_int_eq(report.removed, merged.removed);
	for (int i = 0; i < books_call_count; i++)
		of_calls += strcmp(books_calls[i].text, "") != 0;
	ck_assert_int_eq(report.calls, of_calls);
	books_close();
}
END_TEST

/* ---- A few that have a name ---- */

static struct call call;
static struct work_line line;

static void start(int count)
{
	books_open(count);
	call_init(&call);
	snprintf(call.customer.name, sizeof call.customer.name, "Ada");
	assert_ok(store_call_record(books[0], &call, &error));
	line = (struct work_line){ .uid = uid_new(), .kind = WORK_PART, .quantity = 1000 };
	assert_ok(store_list_put(books[0], &call.uid, LIST_WORK, &line, &error));
	assert_ok(store_call_save_lines(books[0], &call.uid, "found", "done", &error));
	read_arrivals(0);
}

static int count_of(int book, const char *sql)
{
	sqlite3 *db;
	sqlite3_stmt *row;

	ck_assert_int_eq(sqlite3_open(books_paths[book], &db), SQLITE_OK);
	ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &row, NULL) == SQLITE_OK, "%s", sqlite3_errmsg(db));
	ck_assert_int_eq(sqlite3_step(row), SQLITE_ROW);
	int count = sqlite3_column_int(row, 0);
	sqlite3_finalize(row);
	sqlite3_close(db);
	return count;
}

static const char met_entries[] = "SELECT count(*) FROM entry JOIN field ON field.id = field WHERE name = 'met'";

START_TEST(what_arrived_is_known_once_for_each_book)
{
	struct merge_report report = { 0 };

	start(2);
	take(1, arrivals, arrival_count, &report);
	/* One entry says what this book knows now; what it wrote itself it need not know. */
	ck_assert_int_eq(count_of(1, met_entries), 1);
	take(1, arrivals, arrival_count, &report);
	ck_assert_int_eq(count_of(1, met_entries), 1);
	read_arrivals(1);
	take(1, arrivals, arrival_count, &report);
	ck_assert_int_eq(count_of(1, met_entries), 1);
	/* That another book knows of this one is no reason to write that one knows of it. */
	take(0, arrivals, arrival_count, &report);
	ck_assert_int_eq(count_of(0, met_entries), 1);
	listed_sound(books[0], "");
	listed_sound(books[1], "");
	call_done(&call);
	books_close();
}
END_TEST

/* The lines for lists of a call are worked out again, whether it or a line of it arrived. */
START_TEST(what_arrived_of_a_call_spoils_its_lines)
{
	struct merge_report report = { 0 };
	char found[20], done[20];
	bool stand;

	start(2);
	take(1, arrivals, arrival_count, &report);
	for (int part = 0; part < 3; part++) {
		assert_ok(store_call_save_lines(books[1], &call.uid, "found", "done", &error));
		struct call after = call;
		if (part == 0)
			line.unit_price = 100;
		snprintf(after.summary, sizeof after.summary, part == 1 ? "changed" : "%s", call.summary);
		snprintf(after.customer.phone, sizeof after.customer.phone, part == 2 ? "555" : "%s", call.customer.phone);
		assert_ok(store_list_put(books[0], &call.uid, LIST_WORK, &line, &error));
		assert_ok(store_call_change(books[0], &call, &after, &error));
		read_arrivals(0);
		ck_assert_int_eq(take(1, arrivals, arrival_count, &report), 1);
		assert_ok(store_call_lines(books[1], &call.uid, found, sizeof found, done, sizeof done, &stand, &error));
		/* A customer is no part of the call. */
		ck_assert_int_eq(stand, part == 2);
		ck_assert_str_eq(found, part == 2 ? "found" : "");
	}
	call_done(&call);
	books_close();
}
END_TEST

static void assert_refused(const char *words)
{
	struct merge_report report = { 0 };
	char sentence[320];
	int64_t taken;

	snprintf(sentence, sizeof sentence, "what the office sent is damaged: %s; nothing was taken from it; tell "
	         "the office", words);
	assert_ok(store_begin(books[1], &error));
	enum status status = take_arrivals(books[1], arrivals, arrival_count, &report, &taken, &error);
	ck_assert_int_eq(store_end(books[1], status, &error), STATUS_DAMAGED);
	ck_assert_str_eq(error.text, sentence);
	ck_assert_int_eq(count_of(1, "SELECT count(*) FROM thing"), 0);
}

START_TEST(one_that_is_none_is_refused_with_all_that_came_with_it)
{
	char words[160];

	start(2);
	/* The last is the line's: with a call. */
	struct arrival sound = arrivals[arrival_count - 1], *last = &arrivals[arrival_count - 1];
	ck_assert_ptr_nonnull(last->call);
	last->thing = "x";
	assert_refused("something in it has no id");
	*last = sound;
	last->call = "x";
	assert_refused("something in it has no id");
	*last = sound;
	last->sum++;
	snprintf(words, sizeof words, "work %s: %s is not as it was written: its checksum differs",
	         line.uid.text,
	         last->field);
	assert_refused(words);
	*last = sound;
	last->kind = 7;
	snprintf(words, sizeof words, "choices %s: %s is not as it was written: its checksum differs",
	         line.uid.text,
	         last->field);
	struct arrival first = arrivals[0];
	arrivals[0] = *last;
	arrival_count = 1;
	assert_refused(words);
	arrivals[0] = first;
	call_done(&call);
	books_close();
}
END_TEST

/* ---- Lines that were taken out before there was a trail ---- */

static void run_sql(int book, const char *sql)
{
	sqlite3 *db;

	ck_assert_int_eq(sqlite3_open(books_paths[book], &db), SQLITE_OK);
	ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s", sqlite3_errmsg(db));
	sqlite3_close(db);
}

static void note_taken_out(int book, wall_time at)
{
	char time[CLOCK_TEXT_SIZE], sql[160];

	clock_format(at, time, sizeof time);
	snprintf(sql, sizeof sql, "INSERT OR REPLACE INTO removed_line VALUES ('%s', '%s')", line.uid.text, time);
	run_sql(book, sql);
}

static size_t lines_of(int book)
{
	struct call back;

	call_init(&back);
	assert_ok(store_call_load(books[book], call.uid.text, &back, &error));
	size_t count = back.work_count;
	call_done(&back);
	return count;
}

/* Taken out in the second in which it was changed last, or later: it stays out. */
START_TEST(a_line_that_was_taken_out_before_stays_out)
{
	static const struct {
		int after, by;   /* seconds after its last change; which book had taken it out */
		bool by_arrival; /* it arrives; else the books are merged */
		size_t lines;
	} rows[] = {
		{ 0, 1, true, 0 }, { 60, 1, true, 0 }, { -1, 1, true, 1 }, { 0, 1, false, 0 }, { -1, 1, false, 1 },
		{ 0, 0, false, 0 }, { 60, 0, false, 0 }, { -1, 0, false, 1 },
	};
	struct merge_report report = { 0 };

	start(2);
	note_taken_out(rows[_i].by, books_now + rows[_i].after);
	/* The later of two counts. */
	if (!rows[_i].by_arrival)
		note_taken_out(!rows[_i].by, books_now - 3600);
	if (rows[_i].by_arrival)
		take(1, arrivals, arrival_count, &report);
	else
		report = books_merged(1, 0);
	ck_assert_uint_eq(lines_of(1), rows[_i].lines);
	ck_assert_int_eq(report.lines, (int)rows[_i].lines);
	listed_sound(books[1], "");
	call_done(&call);
	books_close();
}
END_TEST

/* ---- What a newer program wrote ---- */

/* An entry that nobody here could write. */
static void of_tomorrow(struct arrival *arrival, const char *thing, int kind, const char *field, const char *value,
                        int number)
{
	*arrival = (struct arrival){
		.thing = thing, .kind = kind, .field = field,
		.entry = { .stamp = (books_now + 60) * 1000 * 65536 + number, .book = 99, .number = number,
		           .technician = "Tomorrow", .new = value, .at = WALL_TIME_NONE },
	};
	arrival->sum = entry_sum(thing_seed(kind, thing, NULL), name_seed(field), &arrival->entry);
}

static const char unread[] = "SELECT count(*) FROM unread";

START_TEST(what_a_newer_program_wrote_is_kept_and_passed_on)
{
	struct merge_report report = { 0 };
	struct arrival tomorrow[4];
	struct uid thing = uid_new();
	struct call back;
	char reader[32];

	start(3);
	of_tomorrow(&tomorrow[0], thing.text, 31, "name", "a thing of tomorrow", 1);
	of_tomorrow(&tomorrow[1], call.uid.text, THING_CALL, "mood", "cheerful", 2);
	of_tomorrow(&tomorrow[2], call.uid.text, THING_CALL, "as_found.refrigerant", "r999x", 3);
	of_tomorrow(&tomorrow[3], call.uid.text, THING_CALL, "summary", "read today", 4);
	take(1, arrivals, arrival_count, &report);
	ck_assert_int_eq(count_of(1, unread), 0);
	ck_assert_int_eq(take(1, tomorrow, 4, &report), 4);
	ck_assert_int_eq(count_of(1, unread), 3);
	listed_sound(books[1], "with what it cannot read");
	call_init(&back);
	assert_ok(store_call_load(books[1], call.uid.text, &back, &error));
	ck_assert_str_eq(back.summary, "read today");
	assert_ok(store_setting_get(books[1], "read by", reader, sizeof reader, &error));
	ck_assert_str_eq(reader, PADSIDE_VERSION);
	books_merged(2, 1);
	ck_assert_int_eq(count_of(2, unread), 3);
	ck_assert_int_eq(count_of(2, "SELECT count(*) FROM entry WHERE book = 99"), 4);
	listed_sound(books[2], "passed on");
	/* Another program looks again, finds as little, and puts its name there. */
	assert_ok(store_setting_set(books[2], "read by", "0.0.1", &error));
	assert_ok(store_call_save_lines(books[2], &call.uid, "found", "done", &error));
	store_close(books[2]);
	assert_ok(store_open(books_paths[2], STORE_EXISTING, &books_clock, &books[2], &error));
	ck_assert_int_eq(count_of(2, unread), 3);
	assert_ok(store_setting_get(books[2], "read by", reader, sizeof reader, &error));
	ck_assert_str_eq(reader, PADSIDE_VERSION);
	ck_assert_int_eq(count_of(2, "SELECT count(*) FROM call WHERE lines_sum = -1"), 1);
	call_done(&back);
	call_done(&call);
	books_close();
}
END_TEST

/* What the program of today can read is read when it opens the book, and not before it is another. */
START_TEST(what_could_not_be_read_is_read_by_the_program_that_can)
{
	struct merge_report report = { 0 };
	struct call back;
	char sql[300];

	start(2);
	struct call after = call;
	snprintf(after.summary, sizeof after.summary, "cools again");
	assert_ok(store_call_change(books[0], &call, &after, &error));
	read_arrivals(0);
	take(1, arrivals, arrival_count, &report);
	/* As a program that did not know the field left it. */
	snprintf(sql, sizeof sql, "INSERT INTO unread SELECT thing, field, stamp, book FROM entry WHERE field = "
	         "(SELECT id FROM field WHERE name = 'summary'); UPDATE call SET summary = ''; "
	         "UPDATE field SET is_number = 1 WHERE name = 'summary'");
	run_sql(1, sql);
	assert_ok(store_setting_set(books[1], "read by", PADSIDE_VERSION, &error));
	call_init(&back);
	for (int opened = 0; opened < 3; opened++) {
		store_close(books[1]);
		assert_ok(store_open(books_paths[1], opened == 1 ? STORE_READ_ONLY : STORE_EXISTING, &books_clock, &books[1],
		                     &error));
		assert_ok(store_call_load(books[1], call.uid.text, &back, &error));
		ck_assert_str_eq(back.summary, opened == 2 ? "cools again" : "");
		ck_assert_int_eq(count_of(1, unread), opened == 2 ? 0 : 1);
		if (opened == 0)
			assert_ok(store_setting_set(books[1], "read by", "0.0.1", &error));
	}
	listed_sound(books[1], "read");
	call_done(&back);
	call_done(&call);
	books_close();
}
END_TEST

static void tear_down(void)
{
	forget_arrivals();
	books_tear_down();
}

Suite *arrivals_suite(void)
{
	Suite *suite = suite_create("arrivals");
	TCase *tests = tcase_create("arrivals");

	tcase_set_timeout(tests, 60);
	tcase_add_checked_fixture(tests, books_set_up, tear_down);
	tcase_add_loop_test(tests, in_whatever_order_they_arrive_they_come_to_the_same, 0, 5);
	tcase_add_test(tests, what_arrived_is_counted_as_a_merge_counts_it);
	tcase_add_test(tests, what_arrived_is_known_once_for_each_book);
	tcase_add_test(tests, what_arrived_of_a_call_spoils_its_lines);
	tcase_add_test(tests, one_that_is_none_is_refused_with_all_that_came_with_it);
	tcase_add_loop_test(tests, a_line_that_was_taken_out_before_stays_out, 0, 8);
	tcase_add_test(tests, what_a_newer_program_wrote_is_kept_and_passed_on);
	tcase_add_test(tests, what_could_not_be_read_is_read_by_the_program_that_can);
	suite_add_tcase(suite, tests);
	return suite;
}
