/*
 * The trail: books that were written in apart come to the same content,
 * whatever the order in which they are brought together.
 *
 * What is asked of the union is what is asked of a state-based replicated data
 * type (M. Shapiro and others, "Conflict-free Replicated Data Types", 2011):
 * it commutes, associates, is idempotent.
 */
#include <check.h>
#include <sqlite3.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/store/store.h>

#include "support/scratch.h"

Suite *trail_suite(void);

enum { BOOKS = 3, MOST_CALLS = 8 };

static char folder[SCRATCH_SIZE];
static char empty[96];
static char paths[BOOKS][96];
static struct store *books[BOOKS];
static wall_time now;
static struct error error;
static struct uid calls[MOST_CALLS];
static int call_count;
static uint64_t state;
static uint64_t history;

static wall_time test_now(void *context)
{
	(void)context;
	return now;
}

static const struct clock test_clock = { .now = test_now };

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

/* An empty book has no id yet: copies of it are books of their own. */
static void set_up(void)
{
	struct store *store;

	scratch_make(folder);
	snprintf(empty, sizeof empty, "%s/empty.db", folder);
	assert_ok(store_open(empty, STORE_CREATE, &test_clock, &store, &error));
	store_close(store);
}

static void tear_down(void)
{
	scratch_remove(folder);
}

static void open_books(void)
{
	ck_assert(clock_parse("2026-06-03T09:00", &now));
	call_count = 0;
	for (int i = 0; i < BOOKS; i++) {
		snprintf(paths[i], sizeof paths[i], "%s/%d.db", folder, i);
		scratch_copy(empty, paths[i]);
		assert_ok(store_open(paths[i], STORE_EXISTING, &test_clock, &books[i], &error));
	}
}

static void close_books(void)
{
	for (int i = 0; i < BOOKS; i++)
		store_close(books[i]);
}

/* splitmix64, public domain. */
static unsigned draw(unsigned below)
{
	uint64_t z = state += 0x9e3779b97f4a7c15U;

	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
	z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
	return (unsigned)((z ^ (z >> 31)) % below);
}

static struct merge_report merged(int into, int from)
{
	struct merge_report report;

	assert_ok(store_merge(books[into], paths[from], &report, &error));
	return report;
}

/* ---- Content, as text that does not depend on the book ---- */

static void add_questions(struct store *store, const struct uid *call, struct text *out)
{
	struct store_question *questions;
	size_t count;

	assert_ok(store_questions(store, call, &questions, &count, &error));
	/* Ids of things differ from book to book, and so does the order. */
	for (size_t pass = 0; pass < count; pass++)
		for (size_t i = 0; i + 1 < count; i++) {
			char a[160], b[160];
			snprintf(a, sizeof a, "%s %s", questions[i].thing.text, questions[i].field);
			snprintf(b, sizeof b, "%s %s", questions[i + 1].thing.text, questions[i + 1].field);
			if (strcmp(a, b) > 0) {
				struct store_question swap = questions[i];
				questions[i] = questions[i + 1];
				questions[i + 1] = swap;
			}
		}
	for (size_t i = 0; i < count; i++)
		text_add_format(out, "? %s %s.%s: %s | %s%s\n", questions[i].thing.text, questions[i].what,
		                questions[i].field, questions[i].now.text, questions[i].other.text,
		                questions[i].is_out ? " out" : "");
	free(questions);
}

static void content(int book, struct text *out)
{
	text_init(out);
	for (int i = 0; i < call_count; i++) {
		struct call call;
		call_init(&call);
		if (store_call_load(books[book], calls[i].text, &call, &error) == STATUS_OK)
			call_json_write(&call, out);
		else
			text_add_format(out, "%s is not there\n", calls[i].text);
		call_done(&call);
		add_questions(books[book], &calls[i], out);
	}
}

/* The trail itself, with names instead of this book's numbers; what books knew of each other apart. */
static void trail(int book, struct text *out)
{
	static const char sql[] =
		"SELECT thing.uid || ' ' || field.name || ' ' || stamp || ' ' || book || ' ' || number || ' ' || "
		"coalesce(old, '-') || ' ' || coalesce(new, '-') || ' ' || sum FROM entry "
		"JOIN thing ON thing.id = thing JOIN field ON field.id = field WHERE thing.kind > 0 ORDER BY 1";
	sqlite3 *db;
	sqlite3_stmt *row;

	text_init(out);
	ck_assert_int_eq(sqlite3_open(paths[book], &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &row, NULL), SQLITE_OK);
	while (sqlite3_step(row) == SQLITE_ROW)
		text_add_format(out, "%s\n", (const char *)sqlite3_column_text(row, 0));
	sqlite3_finalize(row);
	sqlite3_close(db);
}

static bool refuse_sentence(const char *sentence, void *context)
{
	(void)context;
	ck_abort_msg("history %llu: %s", (unsigned long long)history, sentence);
	return false;
}

/* The first line that differs: the whole is too long for a message. */
static void assert_same_text(const char *one, const char *other)
{
	size_t at = 0, line = 0;

	while (one[at] && one[at] == other[at]) {
		at++;
		if (one[at - 1] == '\n')
			line = at;
	}
	ck_assert_msg(one[at] == other[at], "history %llu: \"%.300s\" and \"%.300s\"",
	              (unsigned long long)history, one + line, other + line);
}

static void assert_all_the_same(void)
{
	struct text first, other;

	for (int kind = 0; kind < 2; kind++)
		for (int i = 0; i < BOOKS; i++) {
			kind == 0 ? content(i, &other) : trail(i, &other);
			if (i == 0) {
				first = other;
				continue;
			}
			assert_same_text(text_get(&first), text_get(&other));
			text_done(&other);
			if (i == BOOKS - 1)
				text_done(&first);
		}
	for (int i = 0; i < BOOKS; i++)
		assert_ok(store_verify(books[i], refuse_sentence, NULL, &error));
}

/* ---- One random change ---- */

static void new_call(int book)
{
	struct call call;

	if (call_count == MOST_CALLS)
		return;
	call_init(&call);
	snprintf(call.customer.name, sizeof call.customer.name, "customer %u", draw(10));
	if (call_count > 0 && draw(2)) {
		struct call known;
		call_init(&known);
		if (store_call_load(books[book], calls[draw((unsigned)call_count)].text, &known, &error) == STATUS_OK)
			call.system.uid = known.system.uid;
		call_done(&known);
	}
	call_add_work(&call)->unit_price = draw(1000);
	assert_ok(store_call_create(books[book], &call, &error));
	calls[call_count++] = call.uid;
	call_done(&call);
}

static void change_reading(int book, const struct uid *call)
{
	static const enum reading readings[] = {
		READING_SUCTION_PRESSURE, READING_COMMON_RUN_RESISTANCE, READING_SERIAL, READING_ALTITUDE,
	};
	enum reading reading = readings[draw(4)];
	struct value value = { .taken_at = WALL_TIME_NONE };
	char typed[16] = "";

	if (draw(5))
		snprintf(typed, sizeof typed, "%u", 1 + draw(4));
	assert_ok(reading_parse(reading, typed, UNITS_US, &value, &error));
	value.taken_at = now;
	assert_ok(store_value_set(books[book], call, (enum stage)draw(2), reading, &value, &error));
}

static void change_header(int book, const struct call *call)
{
	struct call after = *call;

	switch (draw(5)) {
	case 0:
		snprintf(after.summary, sizeof after.summary, "summary %u", draw(3));
		break;
	case 1:
		snprintf(after.customer.phone, sizeof after.customer.phone, "555-%u", draw(3));
		break;
	case 2:
		after.closed_at = draw(2) ? now : WALL_TIME_NONE;
		break;
	case 3:
		after.billing.tax[WORK_PART] = draw(3) * 1000;
		break;
	default:
		snprintf(after.site.address, sizeof after.site.address, "%u Oak Street", draw(3));
	}
	assert_ok(store_call_change(books[book], call, &after, &error));
}

static void change_line(int book, const struct call *call)
{
	struct work_line line = { .uid = uid_new(), .kind = WORK_PART, .quantity = 1000 };

	if (call->work_count > 0 && draw(3)) {
		line = call->work[draw((unsigned)call->work_count)];
		if (draw(3) == 0) {
			assert_ok(store_list_remove(books[book], LIST_WORK, &line.uid, &error));
			return;
		}
	}
	line.unit_price = draw(4) * 100;
	if (draw(2))
		snprintf(line.description, sizeof line.description, "part %u", draw(3));
	assert_ok(store_list_put(books[book], &call->uid, LIST_WORK, &line, &error));
}

static void change(int book)
{
	struct call call;

	/* Clocks go on, go back, and are wrong by a day. */
	static const int64_t steps[] = { 0, 1, 60, 3600, -3600, 86400, -86400 };
	now += steps[draw(7)];
	if (call_count == 0 || draw(12) == 0) {
		new_call(book);
		return;
	}
	const struct uid *uid = &calls[draw((unsigned)call_count)];
	call_init(&call);
	if (store_call_load(books[book], uid->text, &call, &error) == STATUS_OK)
		switch (draw(3)) {
		case 0:
			change_reading(book, uid);
			break;
		case 1:
			change_header(book, &call);
			break;
		default:
			change_line(book, &call);
		}
	call_done(&call);
}

static void meet_all(void)
{
	/* Round and round: three rounds bring everything everywhere, whoever begins. */
	int first = (int)draw(BOOKS), way = 1 + (int)draw(2);

	for (int round = 0; round < 2; round++)
		for (int i = 0; i < BOOKS; i++)
			merged((first + i * way + way) % BOOKS, (first + i * way) % BOOKS);
}

enum { HISTORIES = 500, PARTS = 10 };

START_TEST(books_come_to_the_same_content_in_whatever_order_they_meet)
{
	static const struct merge_report nothing = { 0 };

	for (int i = 0; i < HISTORIES / PARTS; i++) {
		open_books();
		state = history = (uint64_t)(_i * HISTORIES / PARTS + i) + 1;
		for (unsigned j = 0, count = 10 + draw(40); j < count; j++) {
			if (draw(8) == 0) {
				int into = (int)draw(BOOKS);
				merged(into, (into + 1 + (int)draw(BOOKS - 1)) % BOOKS);
			} else {
				change((int)draw(BOOKS));
			}
		}
		meet_all();
		assert_all_the_same();
		/* Once more is nothing. */
		struct merge_report report = merged(0, 1 + (int)draw(BOOKS - 1));
		ck_assert_mem_eq(&report, &nothing, sizeof nothing);
		close_books();
	}
}
END_TEST

/* ---- Cases that have a name ---- */

static struct call start(void)
{
	struct call call;

	open_books();
	call_init(&call);
	snprintf(call.customer.name, sizeof call.customer.name, "Ada");
	call_add_work(&call)->unit_price = 100;
	assert_ok(store_call_create(books[0], &call, &error));
	calls[call_count++] = call.uid;
	merged(1, 0);
	merged(2, 0);
	return call;
}

static void set_summary(int book, const struct uid *uid, const char *summary)
{
	struct call call, after;

	call_init(&call);
	assert_ok(store_call_load(books[book], uid->text, &call, &error));
	after = call;
	snprintf(after.summary, sizeof after.summary, "%s", summary);
	assert_ok(store_call_change(books[book], &call, &after, &error));
	call_done(&call);
}

static const char *summary(int book, const struct uid *uid)
{
	static char text[NOTE_SIZE];
	struct call call;

	call_init(&call);
	assert_ok(store_call_load(books[book], uid->text, &call, &error));
	snprintf(text, sizeof text, "%s", call.summary);
	call_done(&call);
	return text;
}

static size_t questions(int book, const struct uid *call, struct store_question *first)
{
	struct store_question *list;
	size_t count;

	assert_ok(store_questions(books[book], call, &list, &count, &error));
	if (count > 0)
		*first = list[0];
	free(list);
	return count;
}

START_TEST(edits_of_different_fields_never_fight)
{
	struct call call = start(), after = call;
	struct store_question question;

	set_summary(0, &call.uid, "cools again");
	snprintf(after.office_note, sizeof after.office_note, "call back");
	assert_ok(store_call_change(books[1], &call, &after, &error));
	merged(0, 1);
	merged(1, 0);
	ck_assert_str_eq(summary(1, &call.uid), "cools again");
	ck_assert_uint_eq(questions(0, &call.uid, &question), 0);
	merged(2, 1);
	assert_all_the_same();
	call_done(&call);
	close_books();
}
END_TEST

START_TEST(two_edits_of_one_field_are_one_question_until_answered)
{
	struct call call = start();
	struct store_question question;

	set_summary(0, &call.uid, "ours");
	now += 60;
	set_summary(1, &call.uid, "theirs");
	now += 60;
	set_summary(1, &call.uid, "theirs, later");
	merged(0, 1);
	merged(1, 0);
	/* Both values are there, in both books, and the later one counts. */
	for (int i = 0; i < 2; i++) {
		ck_assert_str_eq(summary(i, &call.uid), "theirs, later");
		ck_assert_uint_eq(questions(i, &call.uid, &question), 1);
		ck_assert_str_eq(question.field, "summary");
		ck_assert_str_eq(question.now.text, "theirs, later");
		ck_assert_str_eq(question.other.text, "ours");
	}
	assert_ok(store_question_answer(books[0], &question, false, &error));
	ck_assert_str_eq(summary(0, &call.uid), "ours");
	ck_assert_uint_eq(questions(0, &call.uid, &question), 0);
	/* The answer travels, and nobody asks again. */
	merged(1, 0);
	merged(2, 1);
	merged(0, 2);
	ck_assert_str_eq(summary(2, &call.uid), "ours");
	for (int i = 0; i < BOOKS; i++)
		ck_assert_uint_eq(questions(i, &call.uid, &question), 0);
	assert_all_the_same();
	call_done(&call);
	close_books();
}
END_TEST

START_TEST(what_is_kept_as_it_is_is_answered_too)
{
	struct call call = start();
	struct store_question question;

	set_summary(0, &call.uid, "ours");
	set_summary(1, &call.uid, "theirs");
	merged(0, 1);
	ck_assert_uint_eq(questions(0, &call.uid, &question), 1);
	assert_ok(store_question_answer(books[0], &question, true, &error));
	merged(1, 0);
	ck_assert_uint_eq(questions(1, &call.uid, &question), 0);
	ck_assert_str_eq(summary(0, &call.uid), summary(1, &call.uid));
	merged(2, 0);
	assert_all_the_same();
	call_done(&call);
	close_books();
}
END_TEST

START_TEST(the_same_edit_twice_is_no_question)
{
	struct call call = start();
	struct store_question question;

	set_summary(0, &call.uid, "the same");
	set_summary(1, &call.uid, "the same");
	merged(0, 1);
	ck_assert_uint_eq(questions(0, &call.uid, &question), 0);
	call_done(&call);
	close_books();
}
END_TEST

START_TEST(a_line_taken_out_here_and_changed_there_is_asked)
{
	struct call call = start();
	struct store_question question;
	struct work_line line = call.work[0];

	assert_ok(store_list_remove(books[0], LIST_WORK, &line.uid, &error));
	now += 60;
	line.unit_price = 250;
	assert_ok(store_list_put(books[1], &call.uid, LIST_WORK, &line, &error));
	merged(0, 1);
	merged(1, 0);
	merged(2, 1);
	for (int i = 0; i < BOOKS; i++) {
		ck_assert_uint_eq(questions(i, &call.uid, &question), 1);
		ck_assert(question.is_removal);
		ck_assert(!question.is_out);
	}
	assert_all_the_same();
	/* "Turn it round": out it goes, everywhere. */
	assert_ok(store_question_answer(books[2], &question, false, &error));
	merged(0, 2);
	merged(1, 2);
	ck_assert_uint_eq(questions(1, &call.uid, &question), 0);
	assert_ok(store_call_load(books[1], call.uid.text, &call, &error));
	ck_assert_uint_eq(call.work_count, 0);
	assert_all_the_same();
	call_done(&call);
	close_books();
}
END_TEST

/* A truck whose clock is a day ahead: whoever has seen its changes can change them at once. */
START_TEST(a_clock_that_was_wrong_for_a_day_pins_nothing)
{
	struct call call = start();
	struct store_question question;

	now += 86400;
	set_summary(1, &call.uid, "from tomorrow");
	now -= 86400;
	merged(0, 1);
	ck_assert_str_eq(summary(0, &call.uid), "from tomorrow");
	now += 60;
	set_summary(0, &call.uid, "today, and later");
	merged(1, 0);
	ck_assert_str_eq(summary(1, &call.uid), "today, and later");
	ck_assert_uint_eq(questions(1, &call.uid, &question), 0);
	/* Its own clock put right, too. */
	set_summary(1, &call.uid, "put right");
	merged(0, 1);
	ck_assert_str_eq(summary(0, &call.uid), "put right");
	/* Who had not seen it is asked, not overruled unseen. */
	set_summary(2, &call.uid, "had not seen it");
	merged(2, 0);
	ck_assert_uint_eq(questions(2, &call.uid, &question), 1);
	call_done(&call);
	close_books();
}
END_TEST

/* A book restored from a copy goes on under another id: no number is used twice. */
START_TEST(a_restored_copy_is_another_book)
{
	struct call call = start();
	char copy[128];

	snprintf(copy, sizeof copy, "%s/copy.db", folder);
	assert_ok(store_backup(books[0], copy, &error));
	set_summary(0, &call.uid, "lost with the laptop, but merged before");
	merged(1, 0);
	store_close(books[0]);
	scratch_copy(copy, paths[0]);
	assert_ok(store_open(paths[0], STORE_EXISTING, &test_clock, &books[0], &error));
	struct call after = call;
	snprintf(after.office_note, sizeof after.office_note, "written after the restore");
	assert_ok(store_call_change(books[0], &call, &after, &error));
	merged(1, 0);
	merged(0, 1);
	merged(2, 1);
	ck_assert_str_eq(summary(0, &call.uid), "lost with the laptop, but merged before");
	assert_all_the_same();
	call_done(&call);
	close_books();
}
END_TEST

/* A book copied as a file, and both copies written in under one id: nothing is lost. */
START_TEST(a_copied_file_that_went_on_is_noticed)
{
	struct call call = start();
	struct call after = call;

	store_close(books[0]);
	store_close(books[2]);
	scratch_copy(paths[0], paths[2]);
	assert_ok(store_open(paths[0], STORE_EXISTING, &test_clock, &books[0], &error));
	assert_ok(store_open(paths[2], STORE_EXISTING, &test_clock, &books[2], &error));
	now += 10;
	set_summary(0, &call.uid, "in the one");
	now += 10;
	snprintf(after.office_note, sizeof after.office_note, "in the other");
	assert_ok(store_call_change(books[2], &call, &after, &error));
	merged(1, 0);
	merged(1, 2);
	merged(0, 1);
	merged(2, 1);
	for (int i = 0; i < BOOKS; i++)
		ck_assert_str_eq(summary(i, &call.uid), "in the one");
	assert_all_the_same();
	call_done(&call);
	close_books();
}
END_TEST

Suite *trail_suite(void)
{
	Suite *suite = suite_create("trail");
	TCase *tests = tcase_create("trail");

	tcase_set_timeout(tests, 120);
	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, edits_of_different_fields_never_fight);
	tcase_add_test(tests, two_edits_of_one_field_are_one_question_until_answered);
	tcase_add_test(tests, what_is_kept_as_it_is_is_answered_too);
	tcase_add_test(tests, the_same_edit_twice_is_no_question);
	tcase_add_test(tests, a_line_taken_out_here_and_changed_there_is_asked);
	tcase_add_test(tests, a_clock_that_was_wrong_for_a_day_pins_nothing);
	tcase_add_test(tests, a_restored_copy_is_another_book);
	tcase_add_test(tests, a_copied_file_that_went_on_is_noticed);
	tcase_add_loop_test(tests, books_come_to_the_same_content_in_whatever_order_they_meet, 0, PARTS);
	suite_add_tcase(suite, tests);
	return suite;
}
