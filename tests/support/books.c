/*
 * Books written in at random.
 */
#include "support/at_rest.h"
#include "support/calls.h"
#include "support/books.h"
#include "support/listed.h"

#include <check.h>
#include <sqlite3.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/call_json.h>

#include "support/scratch.h"

struct store *books[BOOKS_MOST];
char books_paths[BOOKS_MOST][BOOKS_PATH_SIZE];
wall_time books_now;
struct uid books_calls[BOOKS_MOST_CALLS];
int books_call_count;

static char folder[SCRATCH_SIZE];
static char empty[BOOKS_PATH_SIZE];
static int books_count;
static struct error error;
static uint64_t state;
static uint64_t history;

static wall_time test_now(void *context)
{
	(void)context;
	return books_now;
}

const struct clock books_clock = { .now = test_now };

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

/* An empty book has no id yet: copies of it are books of their own. */
void books_set_up(void)
{
	struct store *store;

	scratch_make(folder);
	snprintf(empty, sizeof empty, "%s/empty.db", folder);
	assert_ok(store_open(empty, STORE_CREATE, &books_clock, &store, &error));
	store_close(store);
}

void books_tear_down(void)
{
	scratch_remove(folder);
}

void books_open(int count)
{
	books_count = count;
	ck_assert(clock_parse("2026-06-03T09:00", &books_now));
	books_call_count = 0;
	for (int i = 0; i < books_count; i++) {
		snprintf(books_paths[i], sizeof books_paths[i], "%s/%d.db", folder, i);
		scratch_copy(empty, books_paths[i]);
		assert_ok(store_open(books_paths[i], STORE_EXISTING, &books_clock, &books[i], &error));
	}
}

void books_close(void)
{
	for (int i = 0; i < books_count; i++) {
		at_rest(books[i]);
		store_close(books[i]);
	}
}

void books_begin(uint64_t number)
{
	state = history = number;
}

/* splitmix64, public domain. */
unsigned books_draw(unsigned below)
{
	uint64_t z = state += 0x9e3779b97f4a7c15U;

	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
	z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
	return (unsigned)((z ^ (z >> 31)) % below);
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

/* false: the book does not have it. */
static bool add_call(int book, const struct uid *uid, struct text *out)
{
	struct call call;

	call_init(&call);
	bool is_there = store_call_load(books[book], uid->text, &call, &error) == STATUS_OK;
	if (is_there)
		call_json_write(&call, out);
	else
		text_add_format(out, "%s is not there\n", uid->text);
	call_done(&call);
	add_questions(books[book], uid, out);
	return is_there;
}

static void add_content(int book, struct text *out)
{
	text_init(out);
	for (int i = 0; i < books_call_count; i++)
		add_call(book, &books_calls[i], out);
}

/* The trail itself, with names instead of this book's numbers; what books knew of each other apart. */
static void add_trail(int book, struct text *out)
{
	static const char sql[] =
		"SELECT thing.uid || ' ' || field.name || ' ' || stamp || ' ' || book || ' ' || number || ' ' || "
		"coalesce(old, '-') || ' ' || coalesce(new, '-') || ' ' || sum FROM entry "
		"JOIN thing ON thing.id = thing JOIN field ON field.id = field WHERE thing.kind > 0 ORDER BY 1";
	sqlite3 *db;
	sqlite3_stmt *row;

	text_init(out);
	ck_assert_int_eq(sqlite3_open(books_paths[book], &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &row, NULL), SQLITE_OK);
	while (sqlite3_step(row) == SQLITE_ROW)
		text_add_format(out, "%s\n", (const char *)sqlite3_column_text(row, 0));
	sqlite3_finalize(row);
	sqlite3_close(db);
}

static void assert_sound(int book)
{
	char when[40];

	snprintf(when, sizeof when, "history %llu", (unsigned long long)history);
	listed_sound(books[book], when);
}

/* The first line that differs: the whole is too long for a message. */
static void books_assert_same_text(const char *one, const char *other)
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

void books_assert_same(void)
{
	struct text first, other;

	for (int kind = 0; kind < 2; kind++)
		for (int i = 0; i < books_count; i++) {
			kind == 0 ? add_content(i, &other) : add_trail(i, &other);
			if (i == 0) {
				first = other;
				continue;
			}
			books_assert_same_text(text_get(&first), text_get(&other));
			text_done(&other);
			if (i == books_count - 1)
				text_done(&first);
		}
	for (int i = 0; i < books_count; i++)
		assert_sound(i);
}

int books_assert_carried(int book, int other)
{
	int carried = 0;

	for (int i = 0; i < books_call_count; i++) {
		struct text here, there;
		text_init(&here);
		text_init(&there);
		if (add_call(book, &books_calls[i], &here)) {
			add_call(other, &books_calls[i], &there);
			books_assert_same_text(text_get(&here), text_get(&there));
			carried++;
		}
		text_done(&here);
		text_done(&there);
	}
	assert_sound(book);
	return carried;
}

/* ---- One random change ---- */

static void new_call(int book)
{
	struct call call;

	if (books_call_count == BOOKS_MOST_CALLS)
		return;
	call_init(&call);
	snprintf(call.customer.name, sizeof call.customer.name, "customer %u", books_draw(10));
	if (books_call_count > 0 && books_draw(2)) {
		struct call known;
		call_init(&known);
		if (store_call_load(books[book], books_calls[books_draw((unsigned)books_call_count)].text, &known, &error) == STATUS_OK)
			call.system.uid = known.system.uid;
		call_done(&known);
	}
	call_add_work(&call)->unit_price = books_draw(1000);
	assert_ok(store_call_create(books[book], &call, &error));
	books_calls[books_call_count++] = call.uid;
	call_done(&call);
}

static void change_reading(int book, const struct uid *call)
{
	static const enum reading readings[] = {
		READING_SUCTION_PRESSURE, READING_COMMON_RUN_RESISTANCE, READING_SERIAL, READING_ALTITUDE,
	};
	enum reading reading = readings[books_draw(4)];
	struct value value = { .taken_at = WALL_TIME_NONE };
	char typed[16] = "";

	if (books_draw(5))
		snprintf(typed, sizeof typed, "%u", 1 + books_draw(4));
	assert_ok(reading_parse(reading, typed, UNITS_US, &value, &error));
	value.taken_at = books_now;
	assert_ok(store_value_set(books[book], call, (enum stage)books_draw(2), reading, &value, &error));
}

static void change_header(int book, const struct call *call)
{
	struct call after = *call;

	switch (books_draw(5)) {
	case 0:
		snprintf(after.summary, sizeof after.summary, "summary %u", books_draw(3));
		break;
	case 1:
		snprintf(after.customer.phone, sizeof after.customer.phone, "555-%u", books_draw(3));
		break;
	case 2:
		after.closed_at = books_draw(2) ? books_now : WALL_TIME_NONE;
		break;
	case 3:
		after.billing.tax[WORK_PART] = books_draw(3) * 1000;
		break;
	default:
		snprintf(after.site.address, sizeof after.site.address, "%u Oak Street", books_draw(3));
	}
	assert_ok(store_call_change(books[book], call, &after, &error));
}

static void change_line(int book, const struct call *call)
{
	struct work_line line = { .uid = uid_new(), .kind = WORK_PART, .quantity = 1000 };

	if (call->work_count > 0 && books_draw(3)) {
		line = call->work[books_draw((unsigned)call->work_count)];
		if (books_draw(3) == 0) {
			assert_ok(store_list_remove(books[book], LIST_WORK, &line.uid, &error));
			return;
		}
	}
	line.unit_price = books_draw(4) * 100;
	if (books_draw(2))
		snprintf(line.description, sizeof line.description, "part %u", books_draw(3));
	assert_ok(store_list_put(books[book], &call->uid, LIST_WORK, &line, &error));
}

void books_change(int book)
{
	struct call call;

	/* Clocks go on, go back, and are wrong by a day. */
	static const int64_t steps[] = { 0, 1, 60, 3600, -3600, 86400, -86400 };
	books_now += steps[books_draw(7)];
	if (books_call_count == 0 || books_draw(12) == 0) {
		new_call(book);
		return;
	}
	const struct uid *uid = &books_calls[books_draw((unsigned)books_call_count)];
	call_init(&call);
	if (store_call_load(books[book], uid->text, &call, &error) == STATUS_OK)
		switch (books_draw(3)) {
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

/* ---- Books that meet ---- */

struct merge_report books_merged(int into, int from)
{
	struct merge_report report;

	assert_ok(store_merge(books[into], books_paths[from], &report, &error));
	return report;
}

static void meet_all(void)
{
	/* Round and round: three rounds bring everything everywhere, whoever begins. */
	int first = (int)books_draw(BOOKS_THAT_MEET), way = 1 + (int)books_draw(2);

	for (int round = 0; round < 2; round++)
		for (int i = 0; i < BOOKS_THAT_MEET; i++)
			books_merged((first + i * way + way) % BOOKS_THAT_MEET, (first + i * way) % BOOKS_THAT_MEET);
}

/* Book `to` goes on as a copy of the file of `from`, under its id. */
void books_copy_file(int from, int to)
{
	store_close(books[from]);
	store_close(books[to]);
	scratch_copy(books_paths[from], books_paths[to]);
	assert_ok(store_open(books_paths[from], STORE_EXISTING, &books_clock, &books[from], &error));
	assert_ok(store_open(books_paths[to], STORE_EXISTING, &books_clock, &books[to], &error));
}

/*
 * A random history, with copies of files by hand or without: when all have met
 * they are the same, and once more is nothing.
 */
void books_live(uint64_t number, bool with_copies)
{
	static const struct merge_report nothing = { 0 };

	books_open(BOOKS_THAT_MEET);
	books_begin(number);
	for (unsigned j = 0, count = 10 + books_draw(40); j < count; j++) {
		if (books_draw(8) == 0) {
			int into = (int)books_draw(BOOKS_THAT_MEET);
			books_merged(into, (into + 1 + (int)books_draw(BOOKS_THAT_MEET - 1)) % BOOKS_THAT_MEET);
		} else if (with_copies && books_draw(10) == 0) {
			int from = (int)books_draw(BOOKS_THAT_MEET), to = (from + 1) % BOOKS_THAT_MEET;
			books_merged(from, to);
			books_copy_file(from, to);
		} else {
			books_change((int)books_draw(BOOKS_THAT_MEET));
		}
	}
	meet_all();
	books_assert_same();
	struct merge_report report = books_merged(0, 1 + (int)books_draw(BOOKS_THAT_MEET - 1));
	ck_assert_mem_eq(&report, &nothing, sizeof nothing);
	books_close();
}
