/* What a session sees of another program on the book, and what the book's lists see of it. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/session.h>
#include <padside/app/session_find.h>
#include <padside/base/text.h>

#include "support/listed.h"
#include "support/scratch.h"

Suite *other_program_suite(void);

static char folder[SCRATCH_SIZE];
static char path[96];
static wall_time now;
static struct error error;
static struct store *books[2];
static struct session *desks[2];

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

static void set_up(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/book.db", folder);
	ck_assert(clock_parse("2026-07-14T08:05", &now));
	for (int i = 0; i < 2; i++) {
		assert_ok(store_open(path, STORE_CREATE, &test_clock, &books[i], &error));
		assert_ok(session_new(books[i], &test_clock, UNITS_US, &desks[i], &error));
	}
	assert_ok(session_start(desks[0], NULL, NULL, NULL, &error));
	assert_ok(session_open(desks[1], session_call(desks[0])->uid.text, &error));
}

static void tear_down(void)
{
	for (int i = 0; i < 2; i++) {
		session_free(desks[i]);
		store_close(books[i]);
	}
	scratch_remove(folder);
}

static void assert_refreshed(bool wanted)
{
	bool changed = !wanted;

	assert_ok(session_refresh(desks[0], &changed, &error));
	ck_assert_int_eq(changed, wanted);
	assert_ok(session_refresh(desks[0], &changed, &error));
	ck_assert(!changed);
}

static void other_types(enum stage stage, enum reading reading, const char *typed)
{
	assert_ok(session_type(desks[1], stage, reading, typed, &error));
}

START_TEST(whatever_another_changes_of_the_call_is_seen_once)
{
	struct work_line line = { .description = "Run capacitor", .quantity = 1000 };

	assert_refreshed(false);
	other_types(STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	assert_refreshed(true);
	other_types(STAGE_AS_LEFT, READING_SUCTION_PRESSURE, "121");
	assert_refreshed(true);
	other_types(STAGE_AS_FOUND, READING_REFRIGERANT, "R-32");
	assert_refreshed(true);
	other_types(STAGE_AS_FOUND, READING_MODEL, "M-1");
	assert_refreshed(true);
	other_types(STAGE_AS_LEFT, READING_SUCTION_PRESSURE, "");
	assert_refreshed(true);
	/* The same again, at another time. */
	now += 60;
	other_types(STAGE_AS_FOUND, READING_LEFT_LOCKED, "yes");
	assert_refreshed(true);
	now += 60;
	other_types(STAGE_AS_FOUND, READING_LEFT_LOCKED, "yes");
	assert_refreshed(true);
	for (int i = 0; i < FIELD_COUNT; i++)
		if (field_info((enum field)i)->is_text) {
			assert_ok(session_type_field(desks[1], (enum field)i, "words", &error));
			assert_refreshed(true);
		}
	assert_ok(session_put_work(desks[1], &line, &error));
	assert_refreshed(true);
	line = session_call(desks[1])->work[0];
	line.unit_price = 100;
	assert_ok(session_put_work(desks[1], &line, &error));
	assert_refreshed(true);
	assert_ok(session_remove_work(desks[1], 0, &error));
	assert_refreshed(true);
	assert_ok(session_close_call(desks[1], true, &error));
	assert_refreshed(true);
}
END_TEST

/* Another call is no change of this one. */
START_TEST(what_another_does_elsewhere_changes_nothing_here)
{
	assert_ok(session_start(desks[1], NULL, NULL, NULL, &error));
	assert_refreshed(false);
	other_types(STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	assert_refreshed(false);
	session_leave(desks[0]);
	other_types(STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "119");
	assert_refreshed(false);
}
END_TEST

START_TEST(that_another_wrote_is_told_once)
{
	/* The first look only remembers. */
	ck_assert(!session_other_wrote(desks[0]));
	ck_assert(!session_other_wrote(desks[0]));
	other_types(STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	ck_assert(session_other_wrote(desks[0]));
	ck_assert(!session_other_wrote(desks[0]));
}
END_TEST

START_TEST(a_call_that_another_moved_is_another_customers)
{
	struct uid call = session_call(desks[1])->uid;

	assert_ok(session_type_field(desks[1], FIELD_CUSTOMER_NAME, "Ada", &error));
	assert_ok(session_start(desks[1], NULL, NULL, NULL, &error));
	assert_ok(session_type_field(desks[1], FIELD_CUSTOMER_NAME, "Ada", &error));
	struct uid unit = session_call(desks[1])->system.uid;
	assert_refreshed(true);
	/* By its words the call is the same. */
	assert_ok(session_open(desks[1], call.text, &error));
	assert_ok(session_move_call(desks[1], NULL, &unit, &error));
	assert_refreshed(true);
	ck_assert_str_eq(session_call(desks[0])->system.uid.text, unit.text);
}
END_TEST

START_TEST(a_call_that_another_took_out_is_told_with_every_key)
{
	static const char says[] = "this call was taken out by another program; nothing was kept here; "
		"leave it, and bring it back from the opening page";
	const struct uid call = session_call(desks[1])->uid;

	session_leave(desks[1]);
	assert_ok(session_take_out(desks[1], &call, &error));
	ck_assert_int_eq(session_refresh(desks[0], NULL, &error), STATUS_NOT_FOUND);
	ck_assert_str_eq(error.text, says);
	ck_assert_int_eq(session_type(desks[0], STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118", &error),
	                 STATUS_NOT_FOUND);
	ck_assert_str_eq(error.text, says);
	ck_assert_int_eq(session_type_field(desks[0], FIELD_PHONE, "1", &error), STATUS_NOT_FOUND);
	assert_ok(session_bring_back(desks[1], &call, &error));
	assert_ok(session_type(desks[0], STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118", &error));
}
END_TEST

/* What another noted on the unit, or dealt with, is open here, or no more. */
START_TEST(open_items_of_the_unit_follow_the_book)
{
	struct watch_item item = { .text = "weigh the charge", .noted_at = now,
	                           .closed_at = WALL_TIME_NONE };
	const struct call *call = session_call(desks[0]);
	const struct uid customer = call->customer.uid, site = call->site.uid, unit = call->system.uid;

	assert_ok(session_start(desks[1], &customer, &site, &unit, &error));
	ck_assert_uint_eq(session_open_items(desks[0]), 0);
	assert_ok(session_put_watch(desks[1], &item, &error));
	assert_refreshed(false);
	ck_assert_uint_eq(session_open_items(desks[0]), 1);
	ck_assert_str_eq(session_open_item(desks[0], 0)->text, "weigh the charge");
	assert_ok(session_close_item(desks[0], 0, &error));
	ck_assert_uint_eq(session_open_items(desks[0]), 0);
	assert_ok(session_refresh(desks[1], NULL, &error));
	ck_assert_int_eq(session_call(desks[1])->watch[0].closed_at, now);
}
END_TEST

static void assert_listed(const char *found, const char *done)
{
	const struct call_filter filter = { .since = WALL_TIME_NONE };
	struct call_line line;

	ck_assert_int_eq(listed_calls(books[1], &filter, &line), 1);
	ck_assert_str_eq(line.found_line, found);
	ck_assert_str_eq(line.done_line, done);
}

/* The two lines for lists are kept with the change that makes them others. */
START_TEST(the_lines_for_lists_follow_each_change)
{
	struct work_line line = { .kind = WORK_PART, .description = "Run capacitor", .quantity = 1000,
	                          .unit_price = 3450 };
	char what[SESSION_UNDONE_SIZE];

	assert_listed("", "");
	assert_ok(session_type(desks[0], STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITOR_RATED, "45",
	                       &error));
	assert_ok(session_type(desks[0], STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE, "2", &error));
	assert_listed("run capacitor failed", "");
	assert_ok(session_put_work(desks[0], &line, &error));
	assert_listed("run capacitor failed", "Run capacitor");
	assert_ok(session_undo(desks[0], what, sizeof what, &error));
	assert_listed("run capacitor failed", "");
	assert_ok(session_undo(desks[0], what, sizeof what, &error));
	assert_listed("", "");
	assert_ok(session_redo(desks[0], what, sizeof what, &error));
	assert_listed("run capacitor failed", "");
	/* A judgement is a change of what the readings mean. */
	struct judgement judgement = { .fault = "compressor_capacitor_failed",
	                               .verdict = JUDGEMENT_RULED_OUT, .why = "another can", .at = now };
	assert_ok(session_put(desks[0], LIST_JUDGEMENTS, &judgement, &error));
	assert_listed("", "");
}
END_TEST

START_TEST(two_customers_that_are_joined_are_one_until_they_part)
{
	struct uid ada, other;

	assert_ok(session_type_field(desks[0], FIELD_CUSTOMER_NAME, "Ada", &error));
	ada = session_call(desks[0])->customer.uid;
	assert_ok(session_start(desks[1], NULL, NULL, NULL, &error));
	assert_ok(session_type_field(desks[1], FIELD_CUSTOMER_NAME, "Ada B.", &error));
	other = session_call(desks[1])->customer.uid;
	assert_ok(session_join(desks[1], STORE_CUSTOMER, &other, &ada, &error));
	ck_assert_str_eq(session_call(desks[1])->customer.uid.text, ada.text);
	ck_assert_str_eq(session_field(desks[1], FIELD_CUSTOMER_NAME), "Ada");
	assert_ok(session_part_again(desks[1], &other, &error));
	ck_assert_str_eq(session_call(desks[1])->customer.uid.text, other.text);
	ck_assert_str_eq(session_field(desks[1], FIELD_CUSTOMER_NAME), "Ada B.");
	/* What cannot be joined leaves the call as it was. */
	ck_assert_int_ne(session_join(desks[1], STORE_CUSTOMER, &other, &other, &error), STATUS_OK);
	ck_assert_str_eq(session_call(desks[1])->customer.uid.text, other.text);
}
END_TEST

Suite *other_program_suite(void)
{
	Suite *suite = suite_create("other_program");
	TCase *tests = tcase_create("other_program");

	tcase_set_timeout(tests, 60);
	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, whatever_another_changes_of_the_call_is_seen_once);
	tcase_add_test(tests, what_another_does_elsewhere_changes_nothing_here);
	tcase_add_test(tests, that_another_wrote_is_told_once);
	tcase_add_test(tests, a_call_that_another_moved_is_another_customers);
	tcase_add_test(tests, a_call_that_another_took_out_is_told_with_every_key);
	tcase_add_test(tests, open_items_of_the_unit_follow_the_book);
	tcase_add_test(tests, the_lines_for_lists_follow_each_change);
	tcase_add_test(tests, two_customers_that_are_joined_are_one_until_they_part);
	suite_add_tcase(suite, tests);
	return suite;
}
