/* The workbook beside another program on the same book, by keys. */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "support/beside.h"

Suite *two_at_once_suite(void);

static char unkept[128];
static struct desk desk;
static struct error error;

/* The other program on the same call. */
static struct beside other;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void two_on_a_call(void)
{
	beside_open(&other, &desk);
	snprintf(unkept, sizeof unkept, "%s.unkept", other.path);
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
	beside_join(&other, &desk);
}

static void put_away(void)
{
	beside_close(&other, &desk);
}

/* The program ends as it does on a terminal, and is started again. */
static void start_again(void)
{
	if (session_is_spool_due(desk.session))
		assert_ok(session_spool(desk.session, &error));
	desk_close(&desk);
	desk_open_book(&desk, other.path);
}

static const struct value *found(enum reading reading)
{
	return visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND, reading);
}

static void other_types(enum reading reading, const char *typed)
{
	assert_ok(session_type(other.session, STAGE_AS_FOUND, reading, typed, &error));
}

/* ---- What the other one writes ---- */

START_TEST(what_another_program_writes_shows_without_a_key)
{
	desk_keys(&desk, "F8");
	ck_assert(!desk_shows(&desk, "118.0 psig"));
	other_types(READING_SUCTION_PRESSURE, "118");
	workbook_tick(desk.workbook);
	ck_assert(desk_shows(&desk, "118.0 psig"));
	ck_assert(desk_shows(&desk, "Another program changed this call"));
}
END_TEST

/*
 * A mended bug: files change before what was written can be read, and nothing
 * changes when it can; so one looks again, soon, then later, then no more.
 */
START_TEST(after_a_writing_one_looks_again_for_a_while)
{
	int looks = 0;

	workbook_set_watched(desk.workbook);
	ck_assert_int_eq(workbook_wait(desk.workbook), -1);
	workbook_note_writing(desk.workbook);
	workbook_tick(desk.workbook);
	ck_assert_int_gt(workbook_wait(desk.workbook), 0);
	ck_assert_int_le(workbook_wait(desk.workbook), 50);
	other_types(READING_SUCTION_PRESSURE, "118");
	workbook_tick(desk.workbook);
	ck_assert(desk_shows(&desk, "Another program changed this call"));
	for (; workbook_wait(desk.workbook) > 0 && looks < 20; looks++)
		workbook_tick(desk.workbook);
	ck_assert_int_lt(looks, 10);
	ck_assert_int_eq(workbook_wait(desk.workbook), -1);
}
END_TEST

/* Twice as long each time, three seconds at the end: so slow is no drive. */
START_TEST(the_looks_after_a_writing_come_later_and_later)
{
	workbook_set_watched(desk.workbook);
	workbook_note_writing(desk.workbook);
	ck_assert_int_eq(workbook_wait(desk.workbook), 12);
	for (int ms = 24; ms <= 3072; ms *= 2) {
		workbook_tick(desk.workbook);
		ck_assert_int_eq(workbook_wait(desk.workbook), ms);
	}
	workbook_tick(desk.workbook);
	ck_assert_int_eq(workbook_wait(desk.workbook), -1);
}
END_TEST

/* What counts down on the page is drawn again; where nothing tells of a writing one looks. */
START_TEST(one_waits_until_something_changes_by_itself)
{
	ck_assert_int_eq(workbook_wait(desk.workbook), 2000);
	workbook_set_watched(desk.workbook);
	ck_assert_int_eq(workbook_wait(desk.workbook), -1);
	desk_keys(&desk, "F12 '3' Enter");
	ck_assert_int_eq(workbook_wait(desk.workbook), 10000);
	desk_keys(&desk, "Ctrl+S");
	ck_assert_int_eq(workbook_wait(desk.workbook), 1000);
	desk_keys(&desk, "Ctrl+S");
	ck_assert_int_eq(workbook_wait(desk.workbook), 10000);
	desk_keys(&desk, "Ctrl+B");
	ck_assert_int_eq(workbook_wait(desk.workbook), -1);
}
END_TEST

/* Before a key does anything: its own value is written beside the other one's. */
START_TEST(a_key_sees_what_another_program_wrote)
{
	desk_keys(&desk, "F8");
	other_types(READING_SUCTION_PRESSURE, "118");
	desk_write(&desk, "suction line temperature", "52");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	ck_assert_double_eq(found(READING_SUCTION_LINE_TEMP)->number, 52);
	assert_ok(session_refresh(other.session, NULL, &error));
	ck_assert(visit_has(&session_call(other.session)->visit, STAGE_AS_FOUND, READING_SUCTION_LINE_TEMP));
}
END_TEST

START_TEST(what_is_being_written_stays_while_the_page_changes)
{
	desk_keys(&desk, "F8");
	desk_go(&desk, "suction line temperature");
	desk_keys(&desk, "'5'");
	other_types(READING_SUCTION_PRESSURE, "118");
	workbook_tick(desk.workbook);
	desk_keys(&desk, "'2' Enter");
	ck_assert_double_eq(found(READING_SUCTION_LINE_TEMP)->number, 52);
	ck_assert(desk_shows(&desk, "118.0 psig"));
}
END_TEST

START_TEST(undo_leaves_what_another_program_changed)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	assert_ok(session_refresh(other.session, NULL, &error));
	other_types(READING_SUCTION_PRESSURE, "60");
	desk_keys(&desk, "Ctrl+_");
	ck_assert(desk_shows(&desk, "changed elsewhere since"));
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 60);
}
END_TEST

START_TEST(a_new_call_of_another_program_comes_into_the_list)
{
	desk_keys(&desk, "Ctrl+B");
	workbook_tick(desk.workbook);
	assert_ok(session_start(other.session, NULL, NULL, NULL, &error));
	assert_ok(session_type_field(other.session, FIELD_CUSTOMER_NAME, "Otto Brandt", &error));
	workbook_tick(desk.workbook);
	ck_assert(desk_shows(&desk, "Otto Brandt"));
}
END_TEST

/* ---- While another program holds the book ---- */

START_TEST(what_cannot_be_kept_yet_is_marked_and_kept_later)
{
	sqlite3 *db = beside_lock(other.path);

	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_keys(&desk, "Down Down");
	ck_assert(desk_shows(&desk, "118 ! waits"));
	ck_assert(desk_shows(&desk, "Not kept yet: suction pressure \"118\""));
	ck_assert_int_eq(found(READING_SUCTION_PRESSURE)->state, VALUE_NOT_TAKEN);
	ck_assert_int_le(workbook_wait(desk.workbook), 1000);
	workbook_tick(desk.workbook);
	ck_assert_int_eq(found(READING_SUCTION_PRESSURE)->state, VALUE_NOT_TAKEN);
	ck_assert_int_eq(access(unkept, F_OK), 0);
	beside_unlock(db);
	workbook_tick(desk.workbook);
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	ck_assert(desk_shows(&desk, "Kept now"));
	ck_assert(!desk_shows(&desk, "Not kept yet"));
	workbook_tick(desk.workbook);
	ck_assert_int_ne(access(unkept, F_OK), 0);
}
END_TEST

/* A new line of a list: its fields come together in one line. */
START_TEST(a_line_that_has_to_wait_becomes_one_line)
{
	sqlite3 *db = beside_lock(other.path);

	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter");
	ck_assert(desk_shows(&desk, "Run capacitor"));
	desk_keys(&desk, "'2' Enter");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 0);
	workbook_tick(desk.workbook);
	beside_unlock(db);
	workbook_tick(desk.workbook);
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "Run capacitor");
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 2000);
	ck_assert_uint_eq(session_pending_count(desk.session), 0);
}
END_TEST

/* Opening, moving, leaving: with all the patience there is, who waited would be late by seconds. */
START_TEST(nobody_waits_for_the_other_program)
{
	sqlite3 *db = beside_lock(other.path);
	struct timespec before, after;

	store_set_patience(desk.store, 5000);
	clock_gettime(CLOCK_MONOTONIC, &before);
	desk_keys(&desk, "F8 Down Down F12 F10 Ctrl+P F2 Alt+c Esc Ctrl+O Esc Ctrl+B Enter F9 Ctrl+B");
	workbook_draw(desk.workbook);
	workbook_tick(desk.workbook);
	clock_gettime(CLOCK_MONOTONIC, &after);
	ck_assert_int_lt(after.tv_sec - before.tv_sec, 4);
	beside_unlock(db);
}
END_TEST

/* A call that cannot be begun or opened is told, and the one on the desk stays: it was closed, and its sheet fell. */
START_TEST(a_call_that_the_book_cannot_give_now_is_refused)
{
	const struct uid nowhere = { .text = "01900000-0000-7000-8000-000000000000" };
	const struct uid open = desk_call(&desk)->uid;
	sqlite3 *db = beside_lock(other.path);

	desk_keys(&desk, "F8");
	workbook_start_call(desk.workbook, NULL, NULL, NULL);
	ck_assert(desk_shows(&desk, "another program"));
	ck_assert_str_eq(desk_call(&desk)->uid.text, open.text);
	beside_unlock(db);
	workbook_open_call(desk.workbook, &nowhere);
	ck_assert(desk_shows(&desk, "no such entry"));
	ck_assert_str_eq(desk_call(&desk)->uid.text, open.text);
	desk_write(&desk, "suction pressure", "118");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
}
END_TEST

/* ---- The program ends ---- */

START_TEST(what_was_refused_is_there_at_the_next_start)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "11888");
	desk_keys(&desk, "Ctrl+Q Ctrl+Q");
	ck_assert(workbook_is_over(desk.workbook));
	start_again();
	/* The call is open at the sheet of the reading. */
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_REFRIGERANT);
	ck_assert(desk_shows(&desk, "Not kept when the program ended: suction pressure \"11888\""));
	ck_assert(desk_shows(&desk, "11888 ! not kept"));
	desk_keys(&desk, "Left Backspace Backspace Enter");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	start_again();
	ck_assert(!desk_shows(&desk, "Not kept"));
}
END_TEST

/* The program began on the old call every day, as long as its text stood there. */
START_TEST(a_text_of_an_earlier_call_is_told_in_the_book)
{
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "1.1");
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "11888");
	desk_keys(&desk, "Ctrl+B Ctrl+B");
	desk_wait(&desk, 5);
	desk_keys(&desk, "Ctrl+N 'Otto Brandt' Enter Ctrl+Q");
	start_again();
	ck_assert_ptr_null(session_call(desk.session));
	ck_assert(desk_shows(&desk, "2 texts of an earlier call are not kept, as suction pressure \"11888\""));
	/* Of the newest call it is gone to, and all are told. */
	desk_keys(&desk, "Enter F9");
	desk_write(&desk, "return dry bulb", "7x");
	desk_write(&desk, "supply dry bulb", "5x");
	desk_keys(&desk, "Ctrl+Q Ctrl+Q");
	start_again();
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Otto Brandt");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_AIR);
	ck_assert(desk_shows(&desk, "2 texts are not kept: F9"));
}
END_TEST

/* SIGHUP, SIGTERM and a closed terminal come as one key. */
START_TEST(what_was_being_written_is_there_when_the_terminal_went)
{
	sqlite3 *db = beside_lock(other.path);

	desk_keys(&desk, "F8");
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "'118'");
	workbook_press(desk.workbook, key_press(PRESS_CLOSE));
	ck_assert(workbook_is_over(desk.workbook));
	start_again();
	beside_unlock(db);
	ck_assert(desk_shows(&desk, "118 ! not kept"));
	/* It is looked at before it is kept. */
	workbook_tick(desk.workbook);
	ck_assert_int_eq(found(READING_SUCTION_PRESSURE)->state, VALUE_NOT_TAKEN);
	desk_keys(&desk, "Left Enter");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
}
END_TEST

START_TEST(a_line_of_a_list_is_there_at_the_next_start)
{
	sqlite3 *db = beside_lock(other.path);

	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter Ctrl+Q Ctrl+Q");
	start_again();
	beside_unlock(db);
	ck_assert(desk_shows(&desk, "Not kept when the program ended: what \"Run capacitor\""));
	desk_keys(&desk, "F12 Tab");
	ck_assert(desk_shows(&desk, "Run capacitor"));
	desk_keys(&desk, "Left Enter");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "Run capacitor");
	ck_assert_uint_eq(session_pending_count(desk.session), 0);
}
END_TEST

START_TEST(what_has_to_wait_stands_there_when_the_call_is_opened_again)
{
	sqlite3 *db = beside_lock(other.path);

	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_keys(&desk, "Ctrl+B");
	ck_assert(desk_shows(&desk, "Ctrl+B again leaves the call"));
	desk_keys(&desk, "Ctrl+B Enter F8");
	ck_assert(desk_shows(&desk, "118 ! waits"));
	beside_unlock(db);
	workbook_tick(desk.workbook);
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
}
END_TEST

Suite *two_at_once_suite(void)
{
	Suite *suite = suite_create("two_at_once");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, two_on_a_call, put_away);
	tcase_add_test(keys, what_another_program_writes_shows_without_a_key);
	tcase_add_test(keys, after_a_writing_one_looks_again_for_a_while);
	tcase_add_test(keys, the_looks_after_a_writing_come_later_and_later);
	tcase_add_test(keys, one_waits_until_something_changes_by_itself);
	tcase_add_test(keys, a_key_sees_what_another_program_wrote);
	tcase_add_test(keys, what_is_being_written_stays_while_the_page_changes);
	tcase_add_test(keys, undo_leaves_what_another_program_changed);
	tcase_add_test(keys, a_new_call_of_another_program_comes_into_the_list);
	tcase_add_test(keys, what_cannot_be_kept_yet_is_marked_and_kept_later);
	tcase_add_test(keys, a_line_that_has_to_wait_becomes_one_line);
	tcase_add_test(keys, nobody_waits_for_the_other_program);
	tcase_add_test(keys, a_call_that_the_book_cannot_give_now_is_refused);
	tcase_add_test(keys, what_was_refused_is_there_at_the_next_start);
	tcase_add_test(keys, a_text_of_an_earlier_call_is_told_in_the_book);
	tcase_add_test(keys, what_was_being_written_is_there_when_the_terminal_went);
	tcase_add_test(keys, a_line_of_a_list_is_there_at_the_next_start);
	tcase_add_test(keys, what_has_to_wait_stands_there_when_the_call_is_opened_again);
	suite_add_tcase(suite, keys);
	return suite;
}
