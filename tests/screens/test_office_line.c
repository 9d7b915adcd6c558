/* The office from the workbook, with a command that stands in for the program. */
#include <check.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include <padside/store/sync.h>

#include "support/desk.h"
#include "support/scratch.h"
#include "support/skip.h"

Suite *office_line_suite(void);

static char folder[SCRATCH_SIZE], path[96], program[128], asked[128];
static struct desk desk;
static struct error error;

/* A command that notes how it was called, and does what is written here. */
static void stand_in(const char *does)
{
	FILE *file = fopen(program, "w");

	ck_assert_ptr_nonnull(file);
	fprintf(file, "#!/bin/sh\necho \"$*\" >>'%s'\n%s\n", asked, does);
	fclose(file);
	ck_assert_int_eq(chmod(program, 0755), 0);
	workbook_set_program(desk.workbook, program);
}

static void at_the_book(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/book.db", folder);
	snprintf(program, sizeof program, "%s/program", folder);
	snprintf(asked, sizeof asked, "%s/asked", folder);
	desk_open_book(&desk, path);
	ck_assert(store_setting_set(desk.store, "sync", "postgresql://truck@office/firm", &error) ==
	          STATUS_OK);
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter Ctrl+B");
}

static void put_away(void)
{
	desk_close(&desk);
	scratch_remove(folder);
}

/* Ticks as the terminal would, until the page shows the words. */
static void tick_until(const char *words)
{
	const struct timespec moment = { .tv_nsec = 20 * 1000 * 1000 };

	for (int i = 0; i < 500 && !desk_shows(&desk, words); i++) {
		ck_assert_int_le(workbook_wait(desk.workbook), 15 * 60 * 1000);
		nanosleep(&moment, NULL);
		workbook_tick(desk.workbook);
	}
	ck_assert_msg(desk_shows(&desk, words), "no \"%s\"", words);
}

static int times_asked(void)
{
	char line[256];
	int count = 0;
	FILE *file = fopen(asked, "r");

	while (file && fgets(line, sizeof line, file)) {
		char expected[160];
		snprintf(expected, sizeof expected, "--book %s sync\n", path);
		ck_assert_str_eq(line, expected);
		count++;
	}
	if (file)
		fclose(file);
	return count;
}

START_TEST(a_quiet_line_says_what_is_to_be_sent)
{
	if (!sync_is_built()) {
		ck_assert(!desk_shows(&desk, "to send"));
		desk_keys(&desk, "Alt+e");
		ck_assert(desk_shows(&desk, "built without libpq and cannot meet"));
		return;
	}
	ck_assert(desk_shows(&desk, "to send; office never met"));
	ck_assert(store_setting_set(desk.store, "sync", "", &error) == STATUS_OK);
	ck_assert(!desk_shows(&desk, "to send"));
	desk_keys(&desk, "Alt+e");
	ck_assert(desk_shows(&desk, "No office is named"));
}
END_TEST

/* No key waits: the office takes its time, the call goes on. */
START_TEST(one_key_meets_the_office_beside_the_work)
{
	if (!sync_is_built()) {
		skip_test("meeting the office", "this padside was built without libpq");
		return;
	}
	stand_in("sleep 1; echo 'sent 12 changes, fetched 3; new here: 0 customers, 1 calls'");
	desk_keys(&desk, "Alt+e");
	ck_assert(desk_shows(&desk, "Meeting the office"));
	ck_assert(desk_shows(&desk, "meeting the office"));
	desk_keys(&desk, "Enter F8");
	desk_write(&desk, "suction pressure", "118");
	desk_keys(&desk, "Alt+e");
	tick_until("The office was met: sent 12 changes, fetched 3");
	ck_assert_int_eq(times_asked(), 1);
}
END_TEST

START_TEST(a_meeting_that_fails_says_why)
{
	if (!sync_is_built()) {
		skip_test("meeting the office", "this padside was built without libpq");
		return;
	}
	stand_in("echo 'padside: the office was not reached' >&2; exit 1");
	desk_keys(&desk, "Alt+e");
	tick_until("The office was not met: the office was not reached");
	ck_assert(desk_shows(&desk, "office not reached 08:05"));
}
END_TEST

/* By itself: at the start, and again when there is something to send; quietly. */
START_TEST(the_office_is_met_by_itself)
{
	if (!sync_is_built()) {
		skip_test("meeting the office", "this padside was built without libpq");
		return;
	}
	stand_in("echo 'padside: no network' >&2; exit 1");
	ck_assert_int_eq(workbook_wait(desk.workbook), 0);
	workbook_tick(desk.workbook);
	tick_until("office not reached 08:05");
	ck_assert(!desk_shows(&desk, "no network"));
	ck_assert_int_eq(times_asked(), 1);
	workbook_tick(desk.workbook);
	ck_assert_int_eq(times_asked(), 1);
	desk_wait(&desk, 6);
	workbook_tick(desk.workbook);
	tick_until("office not reached 08:11");
	ck_assert_int_eq(times_asked(), 2);
}
END_TEST

Suite *office_line_suite(void)
{
	Suite *suite = suite_create("office_line");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, at_the_book, put_away);
	tcase_add_test(keys, a_quiet_line_says_what_is_to_be_sent);
	tcase_add_test(keys, one_key_meets_the_office_beside_the_work);
	tcase_add_test(keys, a_meeting_that_fails_says_why);
	tcase_add_test(keys, the_office_is_met_by_itself);
	suite_add_tcase(suite, keys);
	return suite;
}
