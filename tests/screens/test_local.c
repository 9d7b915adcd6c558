/* Dates on the screen: the locale's, or ISO. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "tui/local.h"

Suite *local_suite(void);

START_TEST(without_a_locale_dates_are_iso)
{
	char out[CLOCK_TEXT_SIZE];
	wall_time time;

	ck_assert_int_eq(setenv("LC_ALL", "C.UTF-8", 1), 0);
	ck_assert(clock_parse("2026-07-14T09:40", &time));
	local_date(time, out, sizeof out);
	ck_assert_str_eq(out, "2026-07-14");
	local_date(WALL_TIME_NONE, out, sizeof out);
	ck_assert_str_eq(out, "");
}
END_TEST

/* Where a locale with a date format of its own is installed, the screen uses it. */
START_TEST(a_locale_writes_its_own_dates)
{
	static const struct {
		const char *locale, *date;
	} places[] = { { "de_DE.UTF-8", "14.07.2026" }, { "en_US.UTF-8", "07/14/2026" } };
	char out[CLOCK_TEXT_SIZE];
	wall_time time;

	ck_assert(clock_parse("2026-07-14", &time));
	ck_assert_int_eq(setenv("LC_ALL", places[_i].locale, 1), 0);
	local_date(time, out, sizeof out);
	/* Not every machine has them all. */
	ck_assert_msg(strcmp(out, places[_i].date) == 0 || strcmp(out, "2026-07-14") == 0, "%s", out);
}
END_TEST

Suite *local_suite(void)
{
	Suite *suite = suite_create("local");
	TCase *tests = tcase_create("local");

	tcase_add_test(tests, without_a_locale_dates_are_iso);
	tcase_add_loop_test(tests, a_locale_writes_its_own_dates, 0, 2);
	suite_add_tcase(suite, tests);
	return suite;
}
