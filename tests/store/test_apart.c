/*
 * Books that were written in apart: what is asked, what counts, what of a copied file becomes.
 * Random histories by the hundred are in test_trail.c; a few of them stand here, since this is
 * run whenever the store is changed.
 */
#include <check.h>
#include <sqlite3.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/store/store.h>

#include "support/calls.h"
#include "support/books.h"
#include "support/scratch.h"

Suite *apart_suite(void);

enum { BOOKS = BOOKS_THAT_MEET };

static struct error error;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static struct call start(void)
{
	struct call call;

	books_open(BOOKS);
	call_init(&call);
	snprintf(call.customer.name, sizeof call.customer.name, "Ada");
	call_add_work(&call)->unit_price = 100;
	assert_ok(store_call_create(books[0], &call, &error));
	books_calls[books_call_count++] = call.uid;
	books_merged(1, 0);
	books_merged(2, 0);
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

/* How many changes of a field the book's file has; `value` is that with the greatest checksum. */
static int entries_of(int book, const char *field, char *value, size_t size)
{
	static const char sql[] = "SELECT count(*), new, max(sum) FROM entry "
		"JOIN field ON field.id = entry.field WHERE name = ?1";
	sqlite3 *db;
	sqlite3_stmt *row;

	ck_assert_int_eq(sqlite3_open(books_paths[book], &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &row, NULL), SQLITE_OK);
	sqlite3_bind_text(row, 1, field, -1, SQLITE_STATIC);
	ck_assert_int_eq(sqlite3_step(row), SQLITE_ROW);
	int count = sqlite3_column_int(row, 0);
	snprintf(value, size, "%s", (const char *)sqlite3_column_text(row, 1));
	sqlite3_finalize(row);
	sqlite3_close(db);
	return count;
}

START_TEST(edits_of_different_fields_never_fight)
{
	struct call call = start(), after = call;
	struct store_question question;

	set_summary(0, &call.uid, "cools again");
	snprintf(after.office_note, sizeof after.office_note, "call back");
	assert_ok(store_call_change(books[1], &call, &after, &error));
	books_merged(0, 1);
	books_merged(1, 0);
	ck_assert_str_eq(summary(1, &call.uid), "cools again");
	ck_assert_uint_eq(questions(0, &call.uid, &question), 0);
	books_merged(2, 1);
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

START_TEST(two_edits_of_one_field_are_one_question_until_answered)
{
	struct call call = start();
	struct store_question question;

	set_summary(0, &call.uid, "ours");
	books_now += 60;
	set_summary(1, &call.uid, "theirs");
	books_now += 60;
	set_summary(1, &call.uid, "theirs, later");
	books_merged(0, 1);
	books_merged(1, 0);
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
	books_merged(1, 0);
	books_merged(2, 1);
	books_merged(0, 2);
	ck_assert_str_eq(summary(2, &call.uid), "ours");
	for (int i = 0; i < BOOKS; i++)
		ck_assert_uint_eq(questions(i, &call.uid, &question), 0);
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

START_TEST(what_is_kept_as_it_is_is_answered_too)
{
	struct call call = start();
	struct store_question question;

	set_summary(0, &call.uid, "ours");
	set_summary(1, &call.uid, "theirs");
	books_merged(0, 1);
	ck_assert_uint_eq(questions(0, &call.uid, &question), 1);
	assert_ok(store_question_answer(books[0], &question, true, &error));
	books_merged(1, 0);
	ck_assert_uint_eq(questions(1, &call.uid, &question), 0);
	ck_assert_str_eq(summary(0, &call.uid), summary(1, &call.uid));
	books_merged(2, 0);
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

START_TEST(the_same_edit_twice_is_no_question)
{
	struct call call = start();
	struct store_question question;

	set_summary(0, &call.uid, "the same");
	set_summary(1, &call.uid, "the same");
	books_merged(0, 1);
	ck_assert_uint_eq(questions(0, &call.uid, &question), 0);
	call_done(&call);
	books_close();
}
END_TEST

START_TEST(a_line_taken_out_here_and_changed_there_is_asked)
{
	struct call call = start();
	struct store_question question;
	struct work_line line = call.work[0];

	assert_ok(store_list_remove(books[0], LIST_WORK, &line.uid, &error));
	books_now += 60;
	line.unit_price = 250;
	assert_ok(store_list_put(books[1], &call.uid, LIST_WORK, &line, &error));
	books_merged(0, 1);
	books_merged(1, 0);
	books_merged(2, 1);
	for (int i = 0; i < BOOKS; i++) {
		ck_assert_uint_eq(questions(i, &call.uid, &question), 1);
		ck_assert(question.is_removal);
		ck_assert(!question.is_out);
	}
	books_assert_same();
	/* "Turn it round": out it goes, everywhere. */
	assert_ok(store_question_answer(books[2], &question, false, &error));
	books_merged(0, 2);
	books_merged(1, 2);
	ck_assert_uint_eq(questions(1, &call.uid, &question), 0);
	assert_ok(store_call_load(books[1], call.uid.text, &call, &error));
	ck_assert_uint_eq(call.work_count, 0);
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

/* A truck whose clock is a day ahead: whoever has seen its changes can change them at once. */
START_TEST(a_clock_that_was_wrong_for_a_day_pins_nothing)
{
	struct call call = start();
	struct store_question question;

	books_now += 86400;
	set_summary(1, &call.uid, "from tomorrow");
	books_now -= 86400;
	books_merged(0, 1);
	ck_assert_str_eq(summary(0, &call.uid), "from tomorrow");
	books_now += 60;
	set_summary(0, &call.uid, "today, and later");
	books_merged(1, 0);
	ck_assert_str_eq(summary(1, &call.uid), "today, and later");
	ck_assert_uint_eq(questions(1, &call.uid, &question), 0);
	/* Its own clock put right, too. */
	set_summary(1, &call.uid, "put right");
	books_merged(0, 1);
	ck_assert_str_eq(summary(0, &call.uid), "put right");
	/* Who had not seen it is asked, not overruled unseen. */
	set_summary(2, &call.uid, "had not seen it");
	books_merged(2, 0);
	ck_assert_uint_eq(questions(2, &call.uid, &question), 1);
	call_done(&call);
	books_close();
}
END_TEST

/* A book restored from a copy goes on under another id: no number is used twice. */
START_TEST(a_restored_copy_is_another_book)
{
	struct call call = start();
	char copy[128];

	snprintf(copy, sizeof copy, "%s.copy", books_paths[0]);
	assert_ok(store_backup(books[0], copy, &error));
	set_summary(0, &call.uid, "lost with the laptop, but merged before");
	books_merged(1, 0);
	store_close(books[0]);
	scratch_copy(copy, books_paths[0]);
	assert_ok(store_open(books_paths[0], STORE_EXISTING, &books_clock, &books[0], &error));
	struct call after = call;
	snprintf(after.office_note, sizeof after.office_note, "written after the restore");
	assert_ok(store_call_change(books[0], &call, &after, &error));
	books_merged(1, 0);
	books_merged(0, 1);
	books_merged(2, 1);
	ck_assert_str_eq(summary(0, &call.uid), "lost with the laptop, but merged before");
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

/* A book copied as a file, and both copies written in under one id: nothing is lost. */
START_TEST(a_copied_file_that_went_on_is_noticed)
{
	struct call call = start();
	struct call after = call;

	store_close(books[0]);
	store_close(books[2]);
	scratch_copy(books_paths[0], books_paths[2]);
	assert_ok(store_open(books_paths[0], STORE_EXISTING, &books_clock, &books[0], &error));
	assert_ok(store_open(books_paths[2], STORE_EXISTING, &books_clock, &books[2], &error));
	books_now += 10;
	set_summary(0, &call.uid, "in the one");
	books_now += 10;
	snprintf(after.office_note, sizeof after.office_note, "in the other");
	assert_ok(store_call_change(books[2], &call, &after, &error));
	books_merged(1, 0);
	books_merged(1, 2);
	books_merged(0, 1);
	books_merged(2, 1);
	for (int i = 0; i < BOOKS; i++)
		ck_assert_str_eq(summary(i, &call.uid), "in the one");
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

/* The last number of the longer trail is the same in both others; the shorter one comes as well. */
START_TEST(of_a_copied_file_the_shorter_trail_reaches_a_third_book)
{
	struct call call = start();
	struct call after = call;

	books_copy_file(0, 2);
	books_now += 10;
	set_summary(0, &call.uid, "the shorter trail");
	books_now += 10;
	snprintf(after.office_note, sizeof after.office_note, "the longer one");
	snprintf(after.access_note, sizeof after.access_note, "by one change");
	assert_ok(store_call_change(books[2], &call, &after, &error));
	books_merged(1, 2);
	books_merged(2, 0);
	ck_assert_str_eq(summary(2, &call.uid), "the shorter trail");
	books_merged(1, 2);
	ck_assert_str_eq(summary(1, &call.uid), "the shorter trail");
	books_merged(0, 1);
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

/* A copied file, and in both copies one field written with one number and one stamp. */
START_TEST(a_stamp_used_again_for_one_field_comes_to_one_value_everywhere)
{
	/* Who meets whom, in turn: into, from. */
	static const int orders[][8] = {
		{ 1, 0, 1, 2, 0, 1, 2, 1 }, { 1, 2, 1, 0, 0, 1, 2, 1 }, { 0, 2, 2, 0, 1, 2, 1, 0 },
	};
	struct call call = start();

	store_close(books[0]);
	store_close(books[2]);
	scratch_copy(books_paths[0], books_paths[2]);
	assert_ok(store_open(books_paths[0], STORE_EXISTING, &books_clock, &books[0], &error));
	assert_ok(store_open(books_paths[2], STORE_EXISTING, &books_clock, &books[2], &error));
	set_summary(0, &call.uid, "in the one");
	set_summary(2, &call.uid, "in the other");
	for (int i = 0; i < 8; i += 2)
		books_merged(orders[_i][i], orders[_i][i + 1]);
	books_assert_same();
	/* Both are kept, and everywhere the same one counts. */
	for (int i = 0; i < BOOKS; i++) {
		char value[40];
		ck_assert_int_eq(entries_of(i, "summary", value, sizeof value), 2);
		ck_assert_str_eq(summary(i, &call.uid), value);
	}
	call_done(&call);
	books_close();
}
END_TEST

/* What each wrote, who, and when; and where it belongs. */
START_TEST(a_question_says_who_wrote_what_and_when)
{
	struct call call = start();
	struct store_question *list, question;
	struct work_line line = call.work[0];
	size_t count;

	assert_ok(store_setting_set(books[0], "technician", "Ann", &error));
	assert_ok(store_setting_set(books[1], "technician", "Ben", &error));
	books_now += 60;
	set_summary(0, &call.uid, "ours");
	line.unit_price = 200;
	assert_ok(store_list_put(books[0], &call.uid, LIST_WORK, &line, &error));
	books_now += 60;
	set_summary(1, &call.uid, "theirs");
	line.unit_price = 300;
	assert_ok(store_list_put(books[1], &call.uid, LIST_WORK, &line, &error));
	struct call after = call;
	snprintf(after.customer.phone, sizeof after.customer.phone, "555-0101");
	assert_ok(store_call_change(books[0], &call, &after, &error));
	snprintf(after.customer.phone, sizeof after.customer.phone, "555-0102");
	assert_ok(store_call_change(books[1], &call, &after, &error));
	books_merged(0, 1);
	for (int all = 0; all < 2; all++) {
		assert_ok(store_questions(books[0], all ? NULL : &call.uid, &list, &count, &error));
		ck_assert_uint_eq(count, 3);
		ck_assert_str_eq(list[0].what, "customer");
		ck_assert_str_eq(list[0].field, "phone");
		ck_assert(uid_is_none(&list[0].call));
		ck_assert_str_eq(list[0].thing.text, call.customer.uid.text);
		ck_assert_str_eq(list[1].what, "call");
		ck_assert_str_eq(list[1].field, "summary");
		ck_assert_str_eq(list[1].thing.text, call.uid.text);
		ck_assert_str_eq(list[1].call.text, call.uid.text);
		ck_assert_str_eq(list[1].now.text, "theirs");
		ck_assert_str_eq(list[1].now.by, "Ben");
		ck_assert_int_eq(list[1].now.at, books_now);
		ck_assert_str_eq(list[1].other.text, "ours");
		ck_assert_str_eq(list[1].other.by, "Ann");
		ck_assert_int_eq(list[1].other.at, books_now - 60);
		ck_assert_str_eq(list[2].what, "work");
		ck_assert_str_eq(list[2].field, "unit_price");
		ck_assert_str_eq(list[2].thing.text, line.uid.text);
		ck_assert_str_eq(list[2].call.text, call.uid.text);
		ck_assert_str_eq(list[2].now.text, "300");
		ck_assert_str_eq(list[2].other.text, "200");
		ck_assert(!list[2].is_removal && !list[2].is_out);
		question = list[2];
		free(list);
	}
	/* Of another call nothing is asked. */
	struct uid nobody = uid_new();
	ck_assert_uint_eq(questions(0, &nobody, &question), 0);
	question.thing = nobody;
	ck_assert_int_eq(store_question_answer(books[0], &question, true, &error), STATUS_NOT_FOUND);
	question.thing = call.uid;
	snprintf(question.field, sizeof question.field, "no such field");
	ck_assert_int_eq(store_question_answer(books[0], &question, true, &error), STATUS_NOT_FOUND);
	call_done(&call);
	books_close();
}
END_TEST

/* Both ways of answering where a line was taken out, and of a reading. */
START_TEST(a_line_that_stays_is_answered_and_stays)
{
	struct call call = start();
	struct store_question question;
	struct work_line line = call.work[0];

	line.unit_price = 250;
	assert_ok(store_list_put(books[1], &call.uid, LIST_WORK, &line, &error));
	books_now += 60;
	assert_ok(store_list_remove(books[0], LIST_WORK, &line.uid, &error));
	books_merged(0, 1);
	ck_assert_uint_eq(questions(0, &call.uid, &question), 1);
	ck_assert(question.is_removal);
	ck_assert(question.is_out);
	/* "It stays as it is": out. */
	assert_ok(store_question_answer(books[0], &question, true, &error));
	ck_assert_uint_eq(questions(0, &call.uid, &question), 0);
	assert_ok(store_call_load(books[0], call.uid.text, &call, &error));
	ck_assert_uint_eq(call.work_count, 0);
	call_done(&call);
	books_close();
}
END_TEST

static void set_reading(int book, const struct uid *call, const char *typed)
{
	struct value value;

	assert_ok(reading_parse(READING_OUTDOOR_DB, typed, UNITS_US, &value, &error));
	value.taken_at = books_now;
	assert_ok(store_value_set(books[book], call, STAGE_AS_FOUND, READING_OUTDOOR_DB, &value, &error));
}

static const struct value *outdoor(int book, struct call *call)
{
	assert_ok(store_call_load(books[book], call->uid.text, call, &error));
	return visit_value(&call->visit, STAGE_AS_FOUND, READING_OUTDOOR_DB);
}

START_TEST(a_reading_that_is_chosen_was_taken_when_it_was_chosen)
{
	struct call call = start();
	struct store_question question;

	set_reading(0, &call.uid, "95");
	books_now += 60;
	set_reading(1, &call.uid, "96");
	books_merged(0, 1);
	ck_assert_uint_eq(questions(0, &call.uid, &question), 1);
	ck_assert_str_eq(question.field, "as_found.outdoor_db");
	books_now += 60;
	assert_ok(store_question_answer(books[0], &question, false, &error));
	ck_assert_double_eq(outdoor(0, &call)->number, 95);
	ck_assert_int_eq(outdoor(0, &call)->taken_at, books_now);
	/* Nothing was taken never. */
	set_reading(1, &call.uid, "");
	set_reading(2, &call.uid, "97");
	books_merged(2, 1);
	ck_assert_uint_eq(questions(2, &call.uid, &question), 1);
	assert_ok(store_question_answer(books[2], &question, *question.now.text == '\0', &error));
	ck_assert_int_eq(outdoor(2, &call)->state, VALUE_NOT_TAKEN);
	ck_assert_int_eq(outdoor(2, &call)->taken_at, WALL_TIME_NONE);
	call_done(&call);
	books_close();
}
END_TEST

/* Of many values those that somebody wrote in knowledge of are not asked, however many there are. */
START_TEST(of_many_values_the_last_of_each_is_asked)
{
	struct call call = start();
	struct store_question question;
	char text[32];

	set_summary(0, &call.uid, "ours");
	for (int i = 0; i < 13; i++) {
		books_now += 1;
		snprintf(text, sizeof text, "theirs %d", i);
		set_summary(1, &call.uid, text);
	}
	books_merged(0, 1);
	ck_assert_uint_eq(questions(0, &call.uid, &question), 1);
	ck_assert_str_eq(question.now.text, "theirs 12");
	ck_assert_str_eq(question.other.text, "ours");
	call_done(&call);
	books_close();
}
END_TEST

static void assert_customer(int book, const struct uid *uid, const char *name)
{
	struct call call;

	call_init(&call);
	assert_ok(store_call_load(books[book], uid->text, &call, &error));
	ck_assert_str_eq(call.customer.name, name);
	call_done(&call);
}

/* Ada into Bob here, Bob into Ada there; or a circle of three: one of them stands for all, everywhere. */
START_TEST(joins_both_ways_come_to_one_everywhere)
{
	static const char *const names[] = { "Ada", "Bob", "Cid" };
	struct call calls[3];
	int people = 2 + _i / 2;

	books_open(BOOKS);
	for (int i = 0; i < people; i++) {
		call_init(&calls[i]);
		/* The id of the first is the least, or the greatest. */
		snprintf(calls[i].customer.uid.text, UID_SIZE, "018064fd-0000-7000-8000-00000000000%d",
		         _i % 2 ? 9 - i : i);
		snprintf(calls[i].customer.name, sizeof calls[i].customer.name, "%s", names[i]);
		assert_ok(store_call_record(books[0], &calls[i], &error));
		books_calls[books_call_count++] = calls[i].uid;
	}
	books_merged(1, 0);
	books_merged(2, 0);
	for (int i = 0; i < people; i++)
		assert_ok(store_join(books[i], STORE_CUSTOMER, &calls[i].customer.uid,
		                     &calls[(i + 1) % people].customer.uid, &error));
	for (int round = 0; round < 2; round++)
		for (int i = 0; i < BOOKS; i++) {
			books_merged((i + 1) % BOOKS, i);
			books_merged((i + 2) % BOOKS, i);
		}
	for (int book = 0; book < BOOKS; book++)
		for (int i = 0; i < people; i++)
			assert_customer(book, &calls[i].uid, names[_i % 2 ? people - 1 : 0]);
	books_assert_same();
	for (int i = 0; i < people; i++)
		call_done(&calls[i]);
	books_close();
}
END_TEST

/* Technicians take turns in what comes: each entry stays whose it was. */
START_TEST(every_entry_stays_whose_it_was)
{
	static const char *const who[] = { "Ann", "Ben", "", "Ann" };
	struct call call = start();
	struct store_entry *list;
	size_t count, found = 0;
	char text[32];

	for (int i = 0; i < 8; i++) {
		books_now += 60;
		snprintf(text, sizeof text, "number %d", i);
		assert_ok(store_setting_set(books[i % 2], "technician", who[i % 4], &error));
		set_summary(i % 2, &call.uid, text);
		books_merged(!(i % 2), i % 2);
	}
	books_merged(2, 0);
	assert_ok(store_call_trail(books[2], &call.uid, &list, &count, &error));
	for (size_t i = 0; i < count; i++)
		if (strcmp(list[i].field, "summary") == 0) {
			snprintf(text, sizeof text, "number %zu", 7 - found);
			ck_assert_str_eq(list[i].after, text);
			ck_assert_str_eq(list[i].by, who[(7 - found) % 4]);
			ck_assert_int_eq(list[i].at, books_now - 60 * (wall_time)found);
			found++;
		}
	ck_assert_uint_eq(found, 8);
	free(list);
	books_assert_same();
	call_done(&call);
	books_close();
}
END_TEST

static void assert_report(struct merge_report report, const int wanted[8], const char *when)
{
	const int got[] = { report.customers, report.sites, report.systems, report.calls, report.readings,
	                    report.lines, report.removed, report.changes };

	for (int i = 0; i < 8; i++)
		ck_assert_msg(got[i] == wanted[i], "%s: %d is %d", when, i, got[i]);
}

/* New ones by kind, readings, lines changed or brought in, lines taken out, changes. */
START_TEST(a_merge_says_what_it_brought)
{
	struct call call = start();
	struct charge_entry entry = { .uid = uid_new(), .at = books_now, .added_oz = 3 };
	struct call after = call;

	assert_report(books_merged(1, 0), (int[8]){ 0 }, "nothing");
	/* A reading twice is one that was changed; a line and the header are lines. */
	set_reading(1, &call.uid, "95");
	set_reading(1, &call.uid, "96");
	assert_ok(store_list_put(books[1], &call.uid, LIST_CHARGE, &entry, &error));
	snprintf(after.summary, sizeof after.summary, "cools again");
	assert_ok(store_call_change(books[1], &call, &after, &error));
	/* The entry has a place, a time and an amount. */
	assert_report(books_merged(0, 1), (int[]){ 0, 0, 0, 0, 1, 2, 0, 6 }, "a reading, a line, the header");
	/* Taken out there: once, here and where it never was. */
	assert_ok(store_list_remove(books[1], LIST_CHARGE, &entry.uid, &error));
	assert_report(books_merged(0, 1), (int[]){ 0, 0, 0, 0, 0, 0, 1, 1 }, "a line taken out");
	assert_report(books_merged(2, 1), (int[]){ 0, 0, 0, 0, 1, 1, 0, 7 }, "a line that came and went");
	/* Brought back there. */
	assert_ok(store_list_put(books[1], &call.uid, LIST_CHARGE, &entry, &error));
	assert_report(books_merged(0, 1), (int[]){ 0, 0, 0, 0, 0, 1, 0, 1 }, "a line brought back");
	/* A reading that was written later here is not changed by what comes. */
	set_reading(1, &call.uid, "97");
	books_now += 60;
	set_reading(0, &call.uid, "98");
	assert_report(books_merged(0, 1), (int[]){ 0, 0, 0, 0, 0, 0, 0, 1 }, "an earlier reading");
	/* Another site and unit of the same customer. */
	struct call next;
	call_init(&next);
	next.customer.uid = call.customer.uid;
	snprintf(next.site.address, sizeof next.site.address, "12 Oak Street");
	assert_ok(store_call_record(books[1], &next, &error));
	set_reading(1, &next.uid, "90");
	struct merge_report report = books_merged(0, 1);
	ck_assert_int_eq(report.customers, 0);
	ck_assert_int_eq(report.sites, 1);
	ck_assert_int_eq(report.systems, 1);
	ck_assert_int_eq(report.calls, 1);
	ck_assert_int_eq(report.readings, 1);
	/* A call taken out there. */
	assert_ok(store_take_out(books[1], &next.uid, &error));
	assert_report(books_merged(0, 1), (int[]){ 0, 0, 0, 0, 0, 0, 1, 1 }, "a call taken out");
	assert_report(books_merged(0, 1), (int[8]){ 0 }, "nothing again");
	call_done(&next);
	call_done(&call);
	books_close();
}
END_TEST

/* The two lines for lists: of a call that is new here as they were there, else to be worked out again. */
START_TEST(lines_for_lists_come_with_a_new_call_alone)
{
	char found[40], done[40];
	struct call call = start(), next;
	struct uid *stale;
	size_t count;
	bool stand;

	call_init(&next);
	assert_ok(store_call_record(books[1], &next, &error));
	assert_ok(store_call_save_lines(books[1], &next.uid, "found there", "done there", &error));
	set_summary(1, &call.uid, "changed there");
	books_merged(0, 1);
	assert_ok(store_call_lines(books[0], &next.uid, found, sizeof found, done, sizeof done, &stand, &error));
	ck_assert(stand);
	ck_assert_str_eq(found, "found there");
	ck_assert_str_eq(done, "done there");
	assert_ok(store_stale_calls(books[0], 10, &stale, &count, &error));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(stale[0].text, call.uid.text);
	free(stale);
	/* A line of a call is a reason too. */
	struct work_line line = { .uid = uid_new(), .quantity = 1000 };
	assert_ok(store_list_put(books[1], &next.uid, LIST_WORK, &line, &error));
	books_merged(0, 1);
	assert_ok(store_stale_calls(books[0], 10, &stale, &count, &error));
	ck_assert_uint_eq(count, 2);
	free(stale);
	assert_ok(store_stale_calls(books[0], 1, &stale, &count, &error));
	ck_assert_uint_eq(count, 1);
	free(stale);
	assert_ok(store_call_save_lines(books[0], &next.uid, "again", "", &error));
	assert_ok(store_call_save_lines(books[0], &call.uid, "again", "", &error));
	assert_ok(store_stale_calls(books[0], 10, &stale, &count, &error));
	ck_assert_uint_eq(count, 0);
	free(stale);
	call_done(&next);
	call_done(&call);
	books_close();
}
END_TEST

START_TEST(a_few_histories_come_to_the_same_content)
{
	for (int i = 0; i < 10; i++)
		books_live((uint64_t)i + 2000001, i % 2 == 1);
}
END_TEST

Suite *apart_suite(void)
{
	Suite *suite = suite_create("apart");
	TCase *tests = tcase_create("apart");

	tcase_set_timeout(tests, 60);
	tcase_add_checked_fixture(tests, books_set_up, books_tear_down);
	tcase_add_test(tests, edits_of_different_fields_never_fight);
	tcase_add_test(tests, two_edits_of_one_field_are_one_question_until_answered);
	tcase_add_test(tests, what_is_kept_as_it_is_is_answered_too);
	tcase_add_test(tests, the_same_edit_twice_is_no_question);
	tcase_add_test(tests, a_line_taken_out_here_and_changed_there_is_asked);
	tcase_add_test(tests, a_clock_that_was_wrong_for_a_day_pins_nothing);
	tcase_add_test(tests, a_restored_copy_is_another_book);
	tcase_add_test(tests, a_copied_file_that_went_on_is_noticed);
	tcase_add_loop_test(tests, a_stamp_used_again_for_one_field_comes_to_one_value_everywhere, 0, 3);
	tcase_add_test(tests, of_a_copied_file_the_shorter_trail_reaches_a_third_book);
	tcase_add_test(tests, a_question_says_who_wrote_what_and_when);
	tcase_add_test(tests, a_line_that_stays_is_answered_and_stays);
	tcase_add_test(tests, a_reading_that_is_chosen_was_taken_when_it_was_chosen);
	tcase_add_test(tests, of_many_values_the_last_of_each_is_asked);
	tcase_add_loop_test(tests, joins_both_ways_come_to_one_everywhere, 0, 4);
	tcase_add_test(tests, every_entry_stays_whose_it_was);
	tcase_add_test(tests, a_merge_says_what_it_brought);
	tcase_add_test(tests, lines_for_lists_come_with_a_new_call_alone);
	tcase_add_test(tests, a_few_histories_come_to_the_same_content);
	suite_add_tcase(suite, tests);
	return suite;
}
