/*
 * Numbers, times and ids as they are typed and written: the edges that a
 * hand reaches.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/clock.h>
#include <padside/base/number.h>
#include <padside/base/uid.h>

Suite *typed_suite(void);

/* ---- Numbers ---- */

static const struct {
	const char *typed;
	double value;
	const char *rest;
} numbers[] = {
	{ "007", 7, "" },              { "+4", 4, "" },
	{ "12.", 12, "" },             { "1,5", 1.5, "" },            { "1,50", 1.5, "" },
	{ "1,234,567", 1234567, "" },  { "1,234.5", 1234.5, "" },     { "12,345", 12345, "" },
	{ "1234,567", 1234.567, "" },  { "0,125", 0.125, "" },          { "3/4", 3, "/4" },
	{ "2 3/8 in", 2.375, "in" },   { "-1 1/2", -1.5, "" },        { "1-5/8", 1.625, "" },
	{ "2 45/5", 2, "45/5" },       { "5e-3", 0.005, "" },         { "1E2 V", 100, "V" },
	{ "6 lb 8 oz", 6, "lb 8 oz" }, { "1.2.3", 1.2, ".3" },        { "1 2", 1, "2" },
	{ "8-", 8, "-" },              { "3/", 3, "/" },              { "3/0", 3, "/0" },
};

START_TEST(a_number_is_taken_as_far_as_it_goes)
{
	const char *rest = NULL;
	double value = NAN;

	if (!number_parse(numbers[_i].typed, &value, &rest))
		ck_abort_msg("%s is no number", numbers[_i].typed);
	ck_assert_msg(fabs(value - numbers[_i].value) < 1e-12, "%s is read as %g", numbers[_i].typed,
	              value);
	ck_assert_str_eq(rest, numbers[_i].rest);
}
END_TEST

/* In inches a fraction is a number: copper is sold by them (ASTM B280). */
START_TEST(a_fraction_of_an_inch_is_taken)
{
	static const struct {
		const char *typed;
		double value;
		const char *rest;
	} inches[] = {
		{ "3/4", 0.75, "" },      { "3/4\"", 0.75, "\"" },  { "-1/2", -0.5, "" },
		{ "1 1/8 in", 1.125, "in" }, { "3/", 3, "/" },     { "3/0", 3, "/0" },
	};
	const char *rest = NULL;
	double value = NAN;

	ck_assert(number_parse_inches(inches[_i].typed, &value, &rest));
	ck_assert_double_eq_tol(value, inches[_i].value, 1e-12);
	ck_assert_str_eq(rest, inches[_i].rest);
}
END_TEST

/* Rounded half away from zero, as on a till; no minus before nothing. */
static const struct {
	double value;
	int decimals;
	const char *written;
} written[] = {
	{ 0.5, 0, "1" },      { 1.5, 0, "2" },       { 2.5, 0, "3" },        { -2.5, 0, "-3" },
	{ 1.25, 1, "1.3" },   { 2.675, 1, "2.7" },   { -0.04, 1, "0.0" },    { 1234567, 0, "1234567" },
	{ 99.95, 1, "100.0" }, { 0, 3, "0.000" },    { 12.3456, 4, "12.3456" },
};

START_TEST(a_number_is_written_with_its_decimals)
{
	char out[NUMBER_SIZE];

	number_format(written[_i].value, written[_i].decimals, out, sizeof out);
	ck_assert_str_eq(out, written[_i].written);
}
END_TEST

/* ---- Times ---- */

/* Days since 1970 by the calendar: 2000 was a leap year, 1900 and 2100 are none. */
static const struct {
	const char *typed;
	wall_time time;
} times[] = {
	{ "1970-01-01", 0 },                          { "1970-01-01T00:00:01", 1 },
	{ "1969-12-31T23:59:59", -1 },                { "2000-02-29", 951782400 },
	{ "2000-03-01", 951868800 },                  { "2026-07-14T08:05", 1784016300 },
	{ "2026-12-31T23:59:59", 1798761599 },        { "2100-03-01", 4107542400 },
};

START_TEST(a_time_is_the_seconds_that_the_calendar_says)
{
	char out[CLOCK_TEXT_SIZE];
	wall_time time = WALL_TIME_NONE, again;

	ck_assert(clock_parse(times[_i].typed, &time));
	ck_assert_int_eq(time, times[_i].time);
	clock_format(time, out, sizeof out);
	ck_assert(clock_parse(out, &again));
	ck_assert_int_eq(again, time);
	ck_assert_int_eq(strncmp(out, times[_i].typed, 10), 0);
}
END_TEST

static const char *const no_times[] = {
	"2100-02-29", "1900-02-29", "2026-02-29", "2026-04-31", "2026-13-01", "2026-00-10",
	"2026-01-00", "2026-01-32", "2026-07-14T24:00", "2026-07-14T23:60", "2026-07-14T08:05:60",
	"2026-07-14T", "2026-07-14T8:05", "26-07-14", "2026/07/14", "2026-07-14 08:05x", "", "08:05",
};

START_TEST(what_no_calendar_has_is_no_time)
{
	wall_time time = 7;

	ck_assert_msg(!clock_parse(no_times[_i], &time), "%s", no_times[_i]);
	ck_assert_int_eq(time, 7);
}
END_TEST

START_TEST(parts_of_a_time_are_written)
{
	char out[CLOCK_TEXT_SIZE];
	wall_time time;

	ck_assert(clock_parse("2026-01-02T03:04:05", &time));
	clock_format_date(time, out, sizeof out);
	ck_assert_str_eq(out, "2026-01-02");
	clock_format_month(time, out, sizeof out);
	ck_assert_str_eq(out, "January 2026");
	ck_assert(clock_parse("2026-12-02", &time));
	clock_format_month(time, out, sizeof out);
	ck_assert_str_eq(out, "December 2026");
	clock_format(WALL_TIME_NONE, out, sizeof out);
	ck_assert_str_eq(out, "");
	clock_format_date(WALL_TIME_NONE, out, sizeof out);
	ck_assert_str_eq(out, "");
}
END_TEST

/* ---- Ids ---- */

/* RFC 9562: version 7, variant 10, the milliseconds first. */
static const struct {
	const char *text;
	bool is_valid;
} ids[] = {
	{ "019f45e4-0800-74fa-b3da-168e1ae1f477", true },
	{ "019f45e4-0800-74fa-b3da-168e1ae1f47", false },
	{ "019f45e4-0800-74fa-b3da-168e1ae1f4777", false },
	{ "019f45e4-0800-74fa-b3da-168e1ae1f47g", false },
	{ "019f45e40800-74fa-b3da-168e1ae1f4-77", false },
	{ "019f45e4-080-074fa-b3da-168e1ae1f477", false },
	{ "019f45e4-0800-74fab-3da-168e1ae1f477", false },
	{ "019f45e4-0800-74fa-b3d-a168e1ae1f477", false },
	{ "", false },
};

START_TEST(an_id_has_its_form)
{
	ck_assert_int_eq(uid_is_valid(ids[_i].text), ids[_i].is_valid);
}
END_TEST

START_TEST(a_new_id_says_its_version_and_its_time)
{
	struct uid uid = uid_new(), none = { .text = "" };
	unsigned long long milliseconds = 0;

	ck_assert_int_eq(uid.text[14], '7');
	ck_assert_ptr_nonnull(strchr("89ab", uid.text[19]));
	for (int i = 0; i < 13; i++)
		if (uid.text[i] != '-') {
			unsigned digit = 0;
			ck_assert_int_eq(sscanf((char[]){ uid.text[i], '\0' }, "%x", &digit), 1);
			milliseconds = milliseconds * 16 + digit;
		}
	/* Between 2025 and 2100. */
	ck_assert(milliseconds > 1735689600000ull && milliseconds < 4102444800000ull);
	ck_assert(uid_is_none(&none) && !uid_is_none(&uid));
}
END_TEST

Suite *typed_suite(void)
{
	Suite *suite = suite_create("typed");
	TCase *tests = tcase_create("typed");

	tcase_add_loop_test(tests, a_number_is_taken_as_far_as_it_goes, 0,
	                    sizeof numbers / sizeof *numbers);
	tcase_add_loop_test(tests, a_fraction_of_an_inch_is_taken, 0, 6);
	tcase_add_loop_test(tests, a_number_is_written_with_its_decimals, 0,
	                    sizeof written / sizeof *written);
	tcase_add_loop_test(tests, a_time_is_the_seconds_that_the_calendar_says, 0,
	                    sizeof times / sizeof *times);
	tcase_add_loop_test(tests, what_no_calendar_has_is_no_time, 0,
	                    sizeof no_times / sizeof *no_times);
	tcase_add_test(tests, parts_of_a_time_are_written);
	tcase_add_loop_test(tests, an_id_has_its_form, 0, sizeof ids / sizeof *ids);
	tcase_add_test(tests, a_new_id_says_its_version_and_its_time);
	suite_add_tcase(suite, tests);
	return suite;
}
