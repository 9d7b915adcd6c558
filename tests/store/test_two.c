/* Two programs on one book: the session notices, keeps every field, waits for nobody, drops nothing. */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <padside/app/session.h>
#include <padside/app/session_same.h>
#include <padside/model/power.h>

#include "support/at_rest.h"
#include "support/beside.h"
#include "support/listed.h"

Suite *two_suite(void);

static char folder[SCRATCH_SIZE];
static char path[96];
static wall_time now;
static struct error error;
static struct store *books[2];
static struct session *desks[2];
static struct uid call;

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

static void open_desk(int i)
{
	assert_ok(store_open(path, STORE_CREATE, &test_clock, &books[i], &error));
	store_set_patience(books[i], 15);
	assert_ok(session_new(books[i], &test_clock, UNITS_US, &desks[i], &error));
}

static void close_desk(int i)
{
	session_free(desks[i]);
	at_rest(books[i]);
	store_close(books[i]);
}

static void set_up(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/book.db", folder);
	ck_assert(clock_parse("2026-06-03T09:12", &now));
	open_desk(0);
	open_desk(1);
	assert_ok(session_start(desks[0], NULL, NULL, NULL, &error));
	call = session_call(desks[0])->uid;
	assert_ok(session_open(desks[1], call.text, &error));
}

static void tear_down(void)
{
	close_desk(0);
	close_desk(1);
	scratch_remove(folder);
}

static void type(int desk, enum reading reading, const char *typed)
{
	assert_ok(session_type(desks[desk], STAGE_AS_FOUND, reading, typed, &error));
}

static double number(int desk, enum reading reading)
{
	double value = 0;

	assert_ok(visit_number(&session_call(desks[desk])->visit, STAGE_AS_FOUND, reading, &value));
	return value;
}

START_TEST(what_the_other_wrote_is_seen_when_it_is_looked_at)
{
	bool changed = true;

	assert_ok(session_refresh(desks[1], &changed, &error));
	ck_assert(!changed);
	type(0, READING_SUCTION_PRESSURE, "118");
	ck_assert(!visit_has(&session_call(desks[1])->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	assert_ok(session_refresh(desks[1], &changed, &error));
	ck_assert(changed);
	ck_assert_double_eq(number(1, READING_SUCTION_PRESSURE), 118);
	assert_ok(session_refresh(desks[1], &changed, &error));
	ck_assert(!changed);
}
END_TEST

/* A mended bug: the second workbook wrote its old texts over those of the first. */
START_TEST(two_on_one_call_keep_every_field)
{
	struct work_line line = { .kind = WORK_PART, .quantity = 1000, .unit_price = 3450 };
	struct billing billing = { .discount = 5000 };

	assert_ok(session_type_field(desks[0], FIELD_COMPLAINT, "no cooling", &error));
	assert_ok(session_type_field(desks[1], FIELD_SUMMARY, "cools again", &error));
	assert_ok(session_type_field(desks[0], FIELD_CUSTOMER_NAME, "Ada", &error));
	assert_ok(session_put_billing(desks[1], &billing, &error));
	assert_ok(session_put_work(desks[0], &line, &error));
	assert_ok(session_type_field(desks[1], FIELD_PHONE, "555-0100", &error));
	type(0, READING_SUCTION_PRESSURE, "118");
	assert_ok(session_close_call(desks[1], true, &error));
	for (int i = 0; i < 2; i++) {
		const struct call *seen = session_call(desks[i]);
		assert_ok(session_refresh(desks[i], NULL, &error));
		ck_assert_str_eq(seen->complaint, "no cooling");
		ck_assert_str_eq(seen->summary, "cools again");
		ck_assert_str_eq(seen->customer.name, "Ada");
		ck_assert_str_eq(seen->customer.phone, "555-0100");
		ck_assert_int_eq(seen->billing.discount, 5000);
		ck_assert_uint_eq(seen->work_count, 1);
		ck_assert_int_ne(seen->closed_at, WALL_TIME_NONE);
		ck_assert_double_eq(number(i, READING_SUCTION_PRESSURE), 118);
	}
}
END_TEST

/* "The same" is what the book says, not what was here before. */
START_TEST(a_value_that_another_changed_is_not_taken_for_the_same)
{
	type(0, READING_SUCTION_PRESSURE, "118");
	type(1, READING_SUCTION_PRESSURE, "60");
	type(0, READING_SUCTION_PRESSURE, "118");
	assert_ok(session_refresh(desks[1], NULL, &error));
	ck_assert_double_eq(number(1, READING_SUCTION_PRESSURE), 118);
}
END_TEST

START_TEST(what_another_changed_since_is_not_taken_back)
{
	char what[64];

	type(0, READING_SUCTION_PRESSURE, "118");
	type(1, READING_SUCTION_PRESSURE, "60");
	ck_assert(session_undo(desks[0], what, sizeof what, &error) == STATUS_REFUSED);
	ck_assert_ptr_nonnull(strstr(error.text, "changed elsewhere since"));
	ck_assert_double_eq(number(0, READING_SUCTION_PRESSURE), 60);
}
END_TEST

/* Two on one line of a list, and on the money: each keeps what the other did not touch. */
START_TEST(two_on_one_line_keep_both_fields)
{
	struct work_line line = { .kind = WORK_PART, .quantity = 1000, .unit_price = 3450 };

	snprintf(line.description, sizeof line.description, "capacitor");
	assert_ok(session_put_work(desks[0], &line, &error));
	assert_ok(session_refresh(desks[1], NULL, &error));
	struct work_line mine = session_call(desks[0])->work[0], other = session_call(desks[1])->work[0];
	struct billing discount = session_call(desks[0])->billing, deposit = discount;
	mine.quantity = 2000;
	assert_ok(session_put_work(desks[0], &mine, &error));
	snprintf(other.note, sizeof other.note, "from the van");
	assert_ok(session_put_work(desks[1], &other, &error));
	discount.discount = 5000;
	assert_ok(session_put_billing(desks[0], &discount, &error));
	deposit.deposit = 10000;
	assert_ok(session_put_billing(desks[1], &deposit, &error));
	for (int i = 0; i < 2; i++) {
		assert_ok(session_refresh(desks[i], NULL, &error));
		ck_assert_int_eq(session_call(desks[i])->work[0].quantity, 2000);
		ck_assert_str_eq(session_call(desks[i])->work[0].note, "from the van");
		ck_assert_int_eq(session_call(desks[i])->billing.discount, 5000);
		ck_assert_int_eq(session_call(desks[i])->billing.deposit, 10000);
	}
}
END_TEST

/* Another program that writes for long: reading, opening, leaving never ask for its lock. */
START_TEST(nothing_that_only_reads_waits_for_a_writer)
{
	sqlite3 *db = beside_lock(path);
	struct timespec before, after;

	/* With all the patience there is: who waited would be late by seconds. */
	store_set_patience(books[1], 5000);
	clock_gettime(CLOCK_MONOTONIC, &before);
	session_leave(desks[1]);
	assert_ok(session_open(desks[1], call.text, &error));
	assert_ok(session_refresh(desks[1], NULL, &error));
	clock_gettime(CLOCK_MONOTONIC, &after);
	ck_assert_int_lt(after.tv_sec - before.tv_sec, 4);
	beside_unlock(db);
}
END_TEST

START_TEST(what_cannot_be_kept_yet_is_held_and_tried_again)
{
	sqlite3 *db = beside_lock(path);

	ck_assert(session_type(desks[0], STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118", &error) ==
	          STATUS_BUSY);
	ck_assert_ptr_nonnull(strstr(error.text, "not kept yet"));
	ck_assert(session_type_field(desks[0], FIELD_COMPLAINT, "no cooling", &error) == STATUS_BUSY);
	ck_assert_uint_eq(session_pending_count(desks[0]), 2);
	ck_assert_str_eq(session_pending_at(desks[0], 0)->text, "118");
	/* Memory does not hold what the book does not. */
	ck_assert(!visit_has(&session_call(desks[0])->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	ck_assert(session_retry(desks[0], &error) == STATUS_BUSY);
	ck_assert_uint_eq(session_pending_count(desks[0]), 2);
	beside_unlock(db);
	assert_ok(session_retry(desks[0], &error));
	ck_assert_uint_eq(session_pending_count(desks[0]), 0);
	assert_ok(session_refresh(desks[1], NULL, &error));
	ck_assert_double_eq(number(1, READING_SUCTION_PRESSURE), 118);
	ck_assert_str_eq(session_field(desks[1], FIELD_COMPLAINT), "no cooling");
}
END_TEST

START_TEST(what_was_typed_last_is_what_is_held)
{
	sqlite3 *db = beside_lock(path);

	ck_assert(session_type(desks[0], STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118", &error) != STATUS_OK);
	ck_assert(session_type(desks[0], STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "120", &error) != STATUS_OK);
	ck_assert_uint_eq(session_pending_count(desks[0]), 1);
	beside_unlock(db);
	/* Typed and kept: nothing is held of it any more. */
	type(0, READING_SUCTION_PRESSURE, "121");
	ck_assert_uint_eq(session_pending_count(desks[0]), 0);
}
END_TEST

/* Places that differ in one thing only: what is held of one leaves the others alone. */
START_TEST(every_place_is_held_by_itself)
{
	const struct session_pending line = { .is_line = true, .what = "work", .label = "price",
	                                      .uid = { "a" }, .which = 1 };
	struct session_pending places[] = {
		{ .stage = STAGE_AS_FOUND, .reading = READING_SUCTION_PRESSURE },
		{ .stage = STAGE_AS_LEFT, .reading = READING_SUCTION_PRESSURE },
		{ .stage = STAGE_AS_FOUND, .reading = READING_LIQUID_PRESSURE },
		{ .is_field = true, .field = FIELD_COMPLAINT },
		{ .is_field = true, .field = FIELD_PHONE },
		{ .call = { "b" }, .is_field = true, .field = FIELD_PHONE },
		line, line, line, line, line,
	};
	enum { COUNT = sizeof places / sizeof *places };

	snprintf(places[7].what, sizeof places[7].what, "offer");
	snprintf(places[8].label, sizeof places[8].label, "quantity");
	snprintf(places[9].uid.text, sizeof places[9].uid.text, "b");
	places[10].which = 2;
	for (int round = 1; round <= 2; round++)
		for (int i = 0; i < COUNT; i++) {
			snprintf(places[i].text, sizeof places[i].text, "%d of %d", i, round);
			assert_ok(session_hold(desks[0], &places[i], &error));
		}
	ck_assert_uint_eq(session_pending_count(desks[0]), COUNT);
	for (int i = 0; i < COUNT; i++) {
		char text[32];
		const struct session_pending *held = session_pending_find(desks[0], &places[i]);
		snprintf(text, sizeof text, "%d of 2", i);
		ck_assert_ptr_nonnull(held);
		ck_assert_str_eq(held->text, text);
	}
	for (int i = 0; i < COUNT; i++) {
		session_pending_drop_place(desks[0], &places[i]);
		ck_assert_ptr_null(session_pending_find(desks[0], &places[i]));
		ck_assert_uint_eq(session_pending_count(desks[0]), (size_t)(COUNT - 1 - i));
	}
}
END_TEST

START_TEST(what_was_not_kept_is_there_at_the_next_start)
{
	struct session_pending unfinished = { .is_field = true, .field = FIELD_SUMMARY };
	sqlite3 *db = beside_lock(path);
	char beside[128];

	ck_assert(session_type(desks[0], STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "OL", &error) !=
	          STATUS_OK);
	snprintf(unfinished.text, sizeof unfinished.text, "half a sent\tence\\ of\n two lines");
	assert_ok(session_hold(desks[0], &unfinished, &error));
	assert_ok(session_spool(desks[0], &error));
	close_desk(0);
	beside_unlock(db);
	snprintf(beside, sizeof beside, "%s.unkept", path);
	ck_assert(access(beside, F_OK) == 0);
	open_desk(0);
	ck_assert_uint_eq(session_pending_count(desks[0]), 2);
	assert_ok(session_open(desks[0], call.text, &error));
	/* It is marked, and not tried without being looked at. */
	assert_ok(session_retry(desks[0], &error));
	const struct session_pending *held = session_pending_find(desks[0], &unfinished);
	ck_assert_ptr_nonnull(held);
	ck_assert(held->recovered);
	ck_assert_str_eq(held->text, unfinished.text);
	assert_ok(session_type_field(desks[0], FIELD_SUMMARY, "a whole sentence", &error));
	type(0, READING_COMMON_RUN_RESISTANCE, "OL");
	ck_assert_uint_eq(session_pending_count(desks[0]), 0);
	ck_assert(access(beside, F_OK) != 0);
}
END_TEST

/* Two programs share the file: neither drops what the other could not keep. */
START_TEST(what_two_could_not_keep_stands_in_one_file)
{
	sqlite3 *db = beside_lock(path);
	struct session_pending line = {
		.is_line = true, .what = "work", .uid = call, .label = "office note", .which = 5,
		.text = "from the van", .refused = true,
	};

	ck_assert(session_type_field(desks[0], FIELD_COMPLAINT, "no cooling", &error) != STATUS_OK);
	assert_ok(session_spool(desks[0], &error));
	assert_ok(session_hold(desks[1], &line, &error));
	line.uid = (struct uid){ "" };
	assert_ok(session_hold(desks[1], &line, &error));
	assert_ok(session_spool(desks[1], &error));
	beside_unlock(db);
	assert_ok(session_type_field(desks[0], FIELD_COMPLAINT, "no cooling", &error));
	close_desk(0);
	open_desk(0);
	ck_assert_uint_eq(session_pending_count(desks[0]), 2);
	assert_ok(session_open(desks[0], call.text, &error));
	ck_assert_str_eq(session_pending_find(desks[0], &line)->text, "from the van");
	line.uid = call;
	ck_assert_str_eq(session_pending_find(desks[0], &line)->text, "from the van");
}
END_TEST

START_TEST(a_file_of_unkept_texts_that_is_none_harms_nothing)
{
	char beside[128];
	FILE *file;

	snprintf(beside, sizeof beside, "%s.unkept", path);
	file = fopen(beside, "w");
	fputs("\n\t\t\t\nnonsense\n01890a5d-ac96-774b-bcce-b302099a8057\tfield\tNO_SUCH\tx\n\xff\xfe\t\\", file);
	fclose(file);
	close_desk(0);
	open_desk(0);
	ck_assert_uint_eq(session_pending_count(desks[0]), 0);
}
END_TEST

START_TEST(one_reading_kept_is_one_commit)
{
	sqlite3 *db;
	sqlite3_stmt *row;
	sqlite3_int64 versions[2];

	ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, "PRAGMA data_version", -1, &row, NULL), SQLITE_OK);
	type(0, READING_COMPRESSOR_CAPACITOR_RATED, "45");
	for (int i = 0; i < 2; i++) {
		/* A capacitor at 0 is found at once: the line for lists changes with it. */
		if (i == 1)
			type(0, READING_COMPRESSOR_CAPACITANCE, "2");
		sqlite3_reset(row);
		ck_assert_int_eq(sqlite3_step(row), SQLITE_ROW);
		versions[i] = sqlite3_column_int64(row, 0);
	}
	ck_assert_int_eq(versions[1] - versions[0], 1);
	sqlite3_finalize(row);
	sqlite3_close(db);
}
END_TEST

/* ---- Moving, joining, taking out ---- */

START_TEST(a_value_moves_to_another_column_or_reading)
{
	char what[64];

	type(0, READING_SUCTION_LINE_TEMP, "52.5");
	assert_ok(session_move_value(desks[0], STAGE_AS_FOUND, READING_SUCTION_LINE_TEMP, STAGE_AS_LEFT,
	                             READING_SUCTION_LINE_TEMP, &error));
	assert_ok(session_move_value(desks[0], STAGE_AS_LEFT, READING_SUCTION_LINE_TEMP, STAGE_AS_FOUND,
	                             READING_LIQUID_LINE_TEMP, &error));
	ck_assert_double_eq(number(0, READING_LIQUID_LINE_TEMP), 52.5);
	ck_assert(session_move_value(desks[0], STAGE_AS_FOUND, READING_LIQUID_LINE_TEMP, STAGE_AS_FOUND,
	                             READING_LINE_VOLTAGE, &error) == STATUS_REFUSED);
	/* Both halves are taken back together. */
	assert_ok(session_undo(desks[0], what, sizeof what, &error));
	ck_assert(!visit_has(&session_call(desks[0])->visit, STAGE_AS_FOUND, READING_LIQUID_LINE_TEMP));
	ck_assert(visit_has(&session_call(desks[0])->visit, STAGE_AS_LEFT, READING_SUCTION_LINE_TEMP));
}
END_TEST

START_TEST(as_left_is_filled_as_it_was_found)
{
	int filled, held;
	char what[64];

	type(0, READING_SUCTION_PRESSURE, "118");
	type(0, READING_OUTDOOR_DB, "95");
	type(0, READING_LINE_VOLTAGE, "238");
	assert_ok(session_type(desks[0], STAGE_AS_LEFT, READING_OUTDOOR_DB, "91", &error));
	assert_ok(session_take_all_same(desks[0], reading_info(READING_SUCTION_PRESSURE)->step, &filled,
	                                &held, &error));
	ck_assert_int_eq(filled, 1);
	const struct visit *visit = &session_call(desks[0])->visit;
	ck_assert(visit_has(visit, STAGE_AS_LEFT, READING_SUCTION_PRESSURE));
	ck_assert(!visit_has(visit, STAGE_AS_LEFT, READING_LINE_VOLTAGE));
	ck_assert_double_eq(visit_value(visit, STAGE_AS_LEFT, READING_OUTDOOR_DB)->number, 91);
	assert_ok(session_take_all_same(desks[0], STEP_ELECTRICAL, &filled, &held, &error));
	ck_assert_int_eq(filled, 1);
	assert_ok(session_undo(desks[0], what, sizeof what, &error));
	ck_assert(!visit_has(&session_call(desks[0])->visit, STAGE_AS_LEFT, READING_LINE_VOLTAGE));
}
END_TEST

/* A lock-out of the arrival was copied as left by one key, where no screen shows it. */
START_TEST(what_makes_the_unit_safe_is_not_copied)
{
	int count, held;

	type(0, READING_DISCONNECT_LOCKED, "yes");
	type(0, READING_SUCTION_PRESSURE, "118");
	assert_ok(session_take_all_same(desks[0], STEP_SAFETY, &count, &held, &error));
	ck_assert_int_eq(count, 0);
	ck_assert(!visit_has(&session_call(desks[0])->visit, STAGE_AS_LEFT, READING_DISCONNECT_LOCKED));
	ck_assert_int_eq(power_of_call(session_call(desks[0])).state, POWER_STATE_RUNNING);
}
END_TEST

static struct uid other_customer(struct uid *system)
{
	struct call other;
	struct uid customer;

	call_init(&other);
	snprintf(other.customer.name, sizeof other.customer.name, "Grace");
	snprintf(other.customer.phone, sizeof other.customer.phone, "(555) 010-0200");
	snprintf(other.site.address, sizeof other.site.address, "9 Elm Row");
	assert_ok(store_call_create(books[0], &other, &error));
	customer = other.customer.uid;
	if (system)
		*system = other.system.uid;
	call_done(&other);
	return customer;
}

START_TEST(a_call_moves_to_another_unit_and_back)
{
	struct uid system, customer = other_customer(&system);
	char what[64];

	assert_ok(session_type_field(desks[0], FIELD_CUSTOMER_NAME, "Ada", &error));
	struct uid ada = session_call(desks[0])->customer.uid;
	assert_ok(session_move_call(desks[0], NULL, &system, &error));
	ck_assert_str_eq(session_call(desks[0])->customer.uid.text, customer.text);
	ck_assert_str_eq(session_field(desks[0], FIELD_CUSTOMER_NAME), "Grace");
	ck_assert_str_eq(session_field(desks[0], FIELD_ADDRESS), "9 Elm Row");
	assert_ok(session_undo(desks[0], what, sizeof what, &error));
	ck_assert_str_eq(session_call(desks[0])->customer.uid.text, ada.text);
	ck_assert_str_eq(session_field(desks[0], FIELD_CUSTOMER_NAME), "Ada");
}
END_TEST

static int found(const char *text)
{
	return listed_customers(books[0], text, NULL);
}

START_TEST(two_records_of_one_customer_are_joined)
{
	struct uid grace = other_customer(NULL);

	assert_ok(session_type_field(desks[0], FIELD_CUSTOMER_NAME, "Grace H.", &error));
	assert_ok(session_type_field(desks[0], FIELD_EMAIL, "grace@example.com", &error));
	struct uid double_entry = session_call(desks[0])->customer.uid;
	ck_assert_int_eq(found("grace"), 2);
	assert_ok(session_join(desks[0], STORE_CUSTOMER, &double_entry, &grace, &error));
	ck_assert_int_eq(found("grace"), 1);
	ck_assert_str_eq(session_call(desks[0])->customer.uid.text, grace.text);
	ck_assert_str_eq(session_field(desks[0], FIELD_CUSTOMER_NAME), "Grace");
	/* What only the double said is not lost. */
	ck_assert_str_eq(session_field(desks[0], FIELD_EMAIL), "grace@example.com");
	ck_assert(store_join(books[0], STORE_CUSTOMER, &grace, &double_entry, &error) == STATUS_REFUSED);
	assert_ok(store_part_again(books[0], &double_entry, &error));
	ck_assert_int_eq(found("grace"), 2);
}
END_TEST

START_TEST(a_call_made_by_mistake_is_taken_out_and_comes_back)
{
	struct store_removed *removed;
	size_t count;

	assert_ok(session_type_field(desks[0], FIELD_COMPLAINT, "a mistake", &error));
	type(0, READING_SUCTION_PRESSURE, "118");
	ck_assert(session_take_out(desks[0], &session_call(desks[0])->customer.uid, &error) ==
	          STATUS_REFUSED);
	session_leave(desks[0]);
	assert_ok(session_take_out(desks[0], &call, &error));
	ck_assert(session_open(desks[0], call.text, &error) == STATUS_NOT_FOUND);
	/* Who has it open is told. */
	ck_assert(session_refresh(desks[1], NULL, &error) == STATUS_NOT_FOUND);
	ck_assert_ptr_nonnull(strstr(error.text, "taken out by another program"));
	assert_ok(store_removed(books[0], STORE_CALL, &removed, &count, &error));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(removed[0].words, "a mistake");
	ck_assert_int_eq(removed[0].opened_at, now);
	assert_ok(session_bring_back(desks[0], &removed[0].uid, &error));
	free(removed);
	assert_ok(session_open(desks[0], call.text, &error));
	ck_assert_double_eq(number(0, READING_SUCTION_PRESSURE), 118);
}
END_TEST

/* What the lists say of it is in no trail: it is worked out anew. */
START_TEST(a_call_that_comes_back_has_its_lines_in_the_lists_again)
{
	struct call_filter filter = { .since = WALL_TIME_NONE, .limit = 20 };
	struct work_line work;
	struct call_line line;

	call_element_init(LIST_WORK, &work);
	text_copy(work.description, sizeof work.description, "Replace the run capacitor");
	assert_ok(session_put(desks[0], LIST_WORK, &work, &error));
	type(0, READING_BREAKER_TRIPPED, "yes");
	ck_assert_int_eq(listed_calls(books[0], &filter, &line), 1);
	const struct call_line before = line;
	ck_assert_str_eq(before.done_line, "Replace the run capacitor");
	session_leave(desks[0]);
	assert_ok(session_take_out(desks[0], &call, &error));
	ck_assert_int_eq(listed_calls(books[0], &filter, &line), 0);
	assert_ok(session_bring_back(desks[0], &call, &error));
	ck_assert_int_eq(listed_calls(books[0], &filter, &line), 1);
	ck_assert_str_eq(line.done_line, before.done_line);
	ck_assert_str_eq(line.found_line, before.found_line);
	listed_sound(books[0], "brought back");
}
END_TEST

Suite *two_suite(void)
{
	Suite *suite = suite_create("two");
	TCase *tests = tcase_create("two");

	tcase_set_timeout(tests, 30);
	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, what_the_other_wrote_is_seen_when_it_is_looked_at);
	tcase_add_test(tests, two_on_one_call_keep_every_field);
	tcase_add_test(tests, a_value_that_another_changed_is_not_taken_for_the_same);
	tcase_add_test(tests, what_another_changed_since_is_not_taken_back);
	tcase_add_test(tests, two_on_one_line_keep_both_fields);
	tcase_add_test(tests, nothing_that_only_reads_waits_for_a_writer);
	tcase_add_test(tests, what_cannot_be_kept_yet_is_held_and_tried_again);
	tcase_add_test(tests, what_was_typed_last_is_what_is_held);
	tcase_add_test(tests, every_place_is_held_by_itself);
	tcase_add_test(tests, what_was_not_kept_is_there_at_the_next_start);
	tcase_add_test(tests, what_two_could_not_keep_stands_in_one_file);
	tcase_add_test(tests, a_file_of_unkept_texts_that_is_none_harms_nothing);
	tcase_add_test(tests, one_reading_kept_is_one_commit);
	tcase_add_test(tests, a_value_moves_to_another_column_or_reading);
	tcase_add_test(tests, as_left_is_filled_as_it_was_found);
	tcase_add_test(tests, what_makes_the_unit_safe_is_not_copied);
	tcase_add_test(tests, a_call_moves_to_another_unit_and_back);
	tcase_add_test(tests, two_records_of_one_customer_are_joined);
	tcase_add_test(tests, a_call_made_by_mistake_is_taken_out_and_comes_back);
	tcase_add_test(tests, a_call_that_comes_back_has_its_lines_in_the_lists_again);
	suite_add_tcase(suite, tests);
	return suite;
}
