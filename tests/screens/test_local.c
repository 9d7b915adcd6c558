/* Dates on the screen: the locale's, or ISO. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include "support/scratch.h"
#include "support/skip.h"
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

/* As the GNU C library's locales write them. */
static const struct {
	const char *locale, *source, *date;
} places[] = {
	{ "de_DE.UTF-8", "de_DE", "14.07.2026" }, { "en_US.UTF-8", "en_US", "07/14/2026" },
};

/* Makes a locale in a folder of its own, so that nothing has to be installed for all. */
static bool make_locale(const char *folder, const char *source, const char *locale)
{
	char command[256];

	snprintf(command, sizeof command, "localedef -i %s -f UTF-8 %s/%s >%s/log 2>&1", source, folder,
	         locale, folder);
	return system(command) == 0 && setenv("LOCPATH", folder, 1) == 0;
}

START_TEST(a_locale_writes_its_own_dates)
{
	char out[CLOCK_TEXT_SIZE], folder[SCRATCH_SIZE];
	wall_time time;

	scratch_make(folder);
	if (!make_locale(folder, places[_i].source, places[_i].locale)) {
		skip_test("dates of a locale", "localedef cannot make one; see the package locales");
	} else {
		ck_assert(clock_parse("2026-07-14", &time));
		ck_assert_int_eq(setenv("LC_ALL", places[_i].locale, 1), 0);
		local_date(time, out, sizeof out);
		ck_assert_str_eq(out, places[_i].date);
	}
	scratch_remove(folder);
}
END_TEST

Suite *local_suite(void)
{
	Suite *suite = suite_create("local");
	TCase *tests = tcase_create("local");

	/* A locale is compiled for it, which takes its time on a busy machine. */
	tcase_set_timeout(tests, 60);
	tcase_add_test(tests, without_a_locale_dates_are_iso);
	tcase_add_loop_test(tests, a_locale_writes_its_own_dates, 0, sizeof places / sizeof *places);
	suite_add_tcase(suite, tests);
	return suite;
}
