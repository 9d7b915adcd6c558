/* What is typed and not kept yet: how it is held, tried again, written beside the book and read. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <padside/app/session.h>
#include <padside/base/text.h>

#include "support/beside.h"

Suite *held_suite(void);

static const char a_call[] = "01890a5d-ac96-774b-bcce-b302099a8057";

static char folder[SCRATCH_SIZE];
static char path[96], spool[112];
static wall_time now;
static struct error error;
static struct store *store;
static struct session *session;

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

static void open_session(void)
{
	assert_ok(store_open(path, STORE_CREATE, &test_clock, &store, &error));
	assert_ok(session_new(store, &test_clock, UNITS_US, &session, &error));
}

static void close_session(void)
{
	session_free(session);
	store_close(store);
}

static void set_up(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/book.db", folder);
	snprintf(spool, sizeof spool, "%s.unkept", path);
	ck_assert(clock_parse("2026-06-03T09:12", &now));
	open_session();
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
}

static void tear_down(void)
{
	close_session();
	unlink(spool);
	scratch_remove(folder);
}

static void hold(struct session_pending held, const char *text)
{
	text_copy(held.text, sizeof held.text, text);
	assert_ok(session_hold(session, &held, &error));
}

static void assert_held(size_t index, const char *label, const char *text)
{
	const struct session_pending *held = session_pending_at(session, index);

	ck_assert_ptr_nonnull(held);
	ck_assert_str_eq(session_pending_label(held), label);
	ck_assert_str_eq(held->text, text);
}

static const struct session_pending suction = { .reading = READING_SUCTION_PRESSURE };
static const struct session_pending phone = { .is_field = true, .field = FIELD_PHONE };
static const struct session_pending line = { .is_line = true, .what = "work", .label = "price",
                                             .uid = { "01890a5d-ac96-774b-bcce-b302099a8001" },
                                             .which = 2 };

START_TEST(each_place_is_named_as_its_page_names_it)
{
	hold(suction, "118");
	hold(phone, "555-0114");
	hold(line, "95");
	ck_assert_uint_eq(session_pending_count(session), 3);
	assert_held(0, "suction pressure", "118");
	assert_held(1, "phone", "555-0114");
	assert_held(2, "price", "95");
	ck_assert_ptr_null(session_pending_at(session, 3));
	/* The open call's, where none is named. */
	ck_assert_str_eq(session_pending_at(session, 0)->call.text, session_call(session)->uid.text);
	session_pending_drop(session, 3);
	ck_assert_uint_eq(session_pending_count(session), 3);
	session_pending_drop(session, 1);
	ck_assert_uint_eq(session_pending_count(session), 2);
	assert_held(0, "suction pressure", "118");
	assert_held(1, "price", "95");
	session_pending_drop(session, 1);
	assert_held(0, "suction pressure", "118");
}
END_TEST

START_TEST(what_may_be_kept_later_is_what_only_has_to_wait)
{
	for (int status = 0; status < STATUS_COUNT; status++) {
		bool waits = status == STATUS_BUSY || status == STATUS_FULL || status == STATUS_IO ||
		             status == STATUS_NO_MEMORY || status == STATUS_CANNOT_OPEN;
		ck_assert_int_eq(session_may_keep_later((enum status)status), waits);
	}
}
END_TEST

/* What is refused, of another call, or of an earlier run does not wait to be tried. */
START_TEST(only_what_waits_is_tried_again)
{
	struct session_pending other = phone, refused = phone, recovered = phone;

	text_copy(other.call.text, UID_SIZE, a_call);
	refused.refused = true;
	recovered.recovered = true;
	ck_assert(!session_is_waiting(session));
	hold(other, "1");
	ck_assert(!session_is_waiting(session));
	hold(refused, "2");
	ck_assert(!session_is_waiting(session));
	hold(recovered, "3");
	ck_assert(!session_is_waiting(session));
	assert_ok(session_retry(session, &error));
	ck_assert_str_eq(session_field(session, FIELD_PHONE), "");
	hold(suction, "118");
	ck_assert(session_is_waiting(session));
	assert_ok(session_retry(session, &error));
	ck_assert(!session_is_waiting(session));
	ck_assert(visit_has(&session_call(session)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	ck_assert_uint_eq(session_pending_count(session), 2);
	session_leave(session);
	hold(suction, "118");
	ck_assert(!session_is_waiting(session));
}
END_TEST

/* One that is refused now stays to be corrected, the others are kept. */
START_TEST(what_is_refused_when_tried_again_stays)
{
	struct session_pending liquid = { .reading = READING_LIQUID_PRESSURE };

	hold(suction, "much");
	hold(liquid, "300");
	hold(line, "95");
	hold((struct session_pending){ .reading = READING_OUTDOOR_DB }, "warm");
	hold(phone, "555-0114");
	ck_assert_int_eq(session_retry(session, &error), STATUS_NOT_A_NUMBER);
	ck_assert_uint_eq(session_pending_count(session), 3);
	assert_held(0, "suction pressure", "much");
	assert_held(1, "price", "95");
	assert_held(2, "outdoor dry bulb", "warm");
	ck_assert(session_pending_at(session, 0)->refused);
	ck_assert(session_pending_at(session, 2)->refused);
	ck_assert_str_eq(session_pending_at(session, 0)->why,
	                 "\"much\" is not a number; suction pressure takes a number in psig");
	ck_assert(!session_pending_at(session, 1)->refused);
	ck_assert_str_eq(session_field(session, FIELD_PHONE), "555-0114");
	assert_ok(session_retry(session, &error));
	/* Typed right at last: it is held no more. */
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118", &error));
	ck_assert_uint_eq(session_pending_count(session), 2);
}
END_TEST

START_TEST(what_waits_for_another_program_is_told_and_why)
{
	sqlite3 *db = beside_lock(path);

	ck_assert_int_eq(session_type_field(session, FIELD_PHONE, "555-0114", &error), STATUS_BUSY);
	ck_assert_ptr_nonnull(strstr(error.text, "not kept yet, it is tried again: "));
	ck_assert_str_eq(error.text + strlen("not kept yet, it is tried again: "),
	                 session_pending_at(session, 0)->why);
	ck_assert_int_eq(session_type(session, STAGE_AS_LEFT, READING_SUCTION_PRESSURE, "118", &error),
	                 STATUS_BUSY);
	/* What is wrong by itself is refused at once, and not held. */
	ck_assert_int_eq(session_type(session, STAGE_AS_LEFT, READING_LIQUID_PRESSURE, "much", &error),
	                 STATUS_NOT_A_NUMBER);
	ck_assert_uint_eq(session_pending_count(session), 2);
	ck_assert_int_eq(session_retry(session, &error), STATUS_BUSY);
	ck_assert_uint_eq(session_pending_count(session), 2);
	beside_unlock(db);
	assert_ok(session_retry(session, &error));
	ck_assert_uint_eq(session_pending_count(session), 0);
}
END_TEST

/* ---- The file ---- */

static void assert_spool(const char *wanted)
{
	char bytes[2048] = "";
	FILE *file = fopen(spool, "r");

	ck_assert_ptr_nonnull(file);
	bytes[fread(bytes, 1, sizeof bytes - 1, file)] = '\0';
	fclose(file);
	ck_assert_str_eq(bytes, wanted);
}

START_TEST(each_is_a_line_of_the_file)
{
	struct session_pending held[] = { suction, phone, line, line };
	struct session_pending left = { .stage = STAGE_AS_LEFT, .reading = READING_SUCTION_PRESSURE };
	struct stat found;

	for (int i = 0; i < 4; i++)
		text_copy(held[i].call.text, UID_SIZE, a_call);
	text_copy(left.call.text, UID_SIZE, a_call);
	held[3].uid = (struct uid){ .text = "" };
	ck_assert(!session_is_spool_due(session));
	hold(held[0], "118");
	ck_assert(session_is_spool_due(session));
	hold(left, "121");
	hold(held[1], "a\tb\nc\\d");
	hold(held[2], "95");
	hold(held[3], "96");
	assert_ok(session_spool(session, &error));
	ck_assert(!session_is_spool_due(session));
	assert_spool("01890a5d-ac96-774b-bcce-b302099a8057\tas_found\tsuction_pressure\t118\n"
	             "01890a5d-ac96-774b-bcce-b302099a8057\tas_left\tsuction_pressure\t121\n"
	             "01890a5d-ac96-774b-bcce-b302099a8057\tfield\tPHONE\ta\\tb\\nc\\\\d\n"
	             "01890a5d-ac96-774b-bcce-b302099a8057\tline\twork|"
	             "01890a5d-ac96-774b-bcce-b302099a8001|2|price\t95\n"
	             "01890a5d-ac96-774b-bcce-b302099a8057\tline\twork||2|price\t96\n");
	ck_assert_int_eq(stat(spool, &found), 0);
	ck_assert_int_eq(found.st_mode & 0777, 0600);
	close_session();
	open_session();
	ck_assert_uint_eq(session_pending_count(session), 5);
	ck_assert(!session_is_spool_due(session));
	for (int i = 0; i < 5; i++)
		ck_assert(session_pending_at(session, (size_t)i)->recovered);
	assert_held(2, "phone", "a\tb\nc\\d");
	ck_assert_int_eq(session_pending_at(session, 1)->stage, STAGE_AS_LEFT);
	ck_assert_str_eq(session_pending_at(session, 3)->uid.text, line.uid.text);
	ck_assert_str_eq(session_pending_at(session, 4)->uid.text, "");
	ck_assert_int_eq(session_pending_at(session, 4)->which, 2);
	/* The last of them goes, and the file with it. */
	while (session_pending_count(session) > 0)
		session_pending_drop(session, 0);
	assert_ok(session_spool(session, &error));
	ck_assert_int_ne(access(spool, F_OK), 0);
}
END_TEST

static size_t count_read(const char *lines)
{
	FILE *file = fopen(spool, "w");

	fputs(lines, file);
	fclose(file);
	close_session();
	open_session();
	return session_pending_count(session);
}

#define CALL "01890a5d-ac96-774b-bcce-b302099a8057"

START_TEST(a_line_that_is_none_is_passed_over)
{
	static const char *const lines[] = {
		"", "\n", "\t\t\t\n", CALL "\n", CALL "\tfield\n", CALL "\tfield\tPHONE\n",
		CALL "\tfield\tphone\t1\n", CALL "\tfield\t\t1\n", CALL "\tas_found\tno_such\t1\n",
		"7\tfield\tPHONE\t1\n", "\tfield\tPHONE\t1\n", CALL "\tline\twork\t1\n",
		CALL "\tline\twork|x|price\t1\n", CALL "\tline\t||2|price\t1\n", CALL "\tline\twork||2\t1\n",
	};

	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
		ck_assert_msg(count_read(lines[i]) == 0, "%s", lines[i]);
	/* One of them takes none of the others along; the last needs no line end. */
	ck_assert_uint_eq(count_read("nonsense\n"
	                             CALL "\tfield\tPHONE\t1\n\n" CALL "\tfield\tEMAIL\t2"), 2);
	assert_held(0, "phone", "1");
	assert_held(1, "mail", "2");
	ck_assert_uint_eq(count_read(CALL "\tfield\tPHONE\ta\\nb\\tc\\\\d\\xe\\"), 1);
	assert_held(0, "phone", "a\nb\tc\\dxe\\");
	ck_assert_uint_eq(count_read(CALL "\tfield\tPHONE\t"), 1);
	assert_held(0, "phone", "");
}
END_TEST

START_TEST(a_file_that_cannot_be_written_is_told)
{
	hold(suction, "118");
	ck_assert_int_eq(mkdir(spool, 0700), 0);
	ck_assert_int_ne(session_spool(session, &error), STATUS_OK);
	ck_assert(session_is_spool_due(session));
	rmdir(spool);
	assert_ok(session_spool(session, &error));
	ck_assert(!session_is_spool_due(session));
}
END_TEST

/* A book in memory has no file beside it. */
START_TEST(a_book_in_memory_has_no_such_file)
{
	struct store *memory;
	struct session *alone;

	assert_ok(store_open("", STORE_MEMORY, &test_clock, &memory, &error));
	assert_ok(session_new(memory, &test_clock, UNITS_US, &alone, &error));
	assert_ok(session_hold(alone, &suction, &error));
	ck_assert(session_is_spool_due(alone));
	assert_ok(session_spool(alone, &error));
	ck_assert(!session_is_spool_due(alone));
	ck_assert_uint_eq(session_pending_count(alone), 1);
	session_free(alone);
	store_close(memory);
}
END_TEST

Suite *held_suite(void)
{
	Suite *suite = suite_create("held");
	TCase *tests = tcase_create("held");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, each_place_is_named_as_its_page_names_it);
	tcase_add_test(tests, what_may_be_kept_later_is_what_only_has_to_wait);
	tcase_add_test(tests, only_what_waits_is_tried_again);
	tcase_add_test(tests, what_is_refused_when_tried_again_stays);
	tcase_add_test(tests, what_waits_for_another_program_is_told_and_why);
	tcase_add_test(tests, each_is_a_line_of_the_file);
	tcase_add_test(tests, a_line_that_is_none_is_passed_over);
	tcase_add_test(tests, a_file_that_cannot_be_written_is_told);
	tcase_add_test(tests, a_book_in_memory_has_no_such_file);
	suite_add_tcase(suite, tests);
	return suite;
}
