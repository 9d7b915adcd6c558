/* Numbers as typed, units, the clock, ids. */
#include <check.h>
#include <inttypes.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/clock.h>
#include <padside/base/error.h>
#include <padside/base/number.h>
#include <padside/base/uid.h>
#include <padside/base/units.h>

Suite *base_suite(void);

static const struct {
	const char *typed;
	double value;
	const char *rest;
} numbers[] = {
	{ "12", 12, "" },           { " -3.5 ", -3.5, "" },      { ".5", 0.5, "" },
	{ "3,5 bar", 3.5, "bar" },  { "1,200", 1200, "" },       { "12,000.5", 12000.5, "" },
	{ "7/8", 7, "/8" },         { "1 1/8", 1.125, "" },      { "1-1/8\"", 1.125, "\"" },
	{ "230v", 230, "v" },       { "1e3", 1000, "" },         { "4.1 bar", 4.1, "bar" },
	{ "-1/2", -1, "/2" },       { "5 ft", 5, "ft" },         { "0.0", 0, "" },
};

START_TEST(number_is_read_as_typed)
{
	const char *rest = NULL;
	double value = NAN;

	ck_assert(number_parse(numbers[_i].typed, &value, &rest));
	ck_assert_double_eq_tol(value, numbers[_i].value, 1e-12);
	ck_assert_str_eq(rest, numbers[_i].rest);
}
END_TEST

/* Found by random typing: it was kept as a negative zero and read back as zero. */
START_TEST(minus_zero_is_zero)
{
	const char *rest;
	double value = NAN;

	ck_assert(number_parse("-0.0", &value, &rest));
	ck_assert(value == 0 && !signbit(value));
}
END_TEST

START_TEST(what_is_no_number_is_refused)
{
	static const char *const typed[] = { "", "OL", ".", "-", "abc", "/8", "nan", "inf" };
	const char *rest = NULL;
	double value = 7;

	for (size_t i = 0; i < sizeof typed / sizeof *typed; i++)
		ck_assert(!number_parse(typed[i], &value, &rest));
	ck_assert_double_eq(value, 7);
	/* Read as 1 with "/0" left over, which no unit accepts. */
	ck_assert(number_parse("1/0", &value, &rest));
	ck_assert_str_eq(rest, "/0");
}
END_TEST

START_TEST(exact_numbers_read_back)
{
	static const double values[] = { 0, 0.1, 59.466, 1.0 / 3, 1e-300, -123456.789, 2.5e15 };
	char out[NUMBER_SIZE];

	for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
		const char *rest;
		double back;
		number_format_exact(values[i], out, sizeof out);
		ck_assert(number_parse(out, &back, &rest));
		ck_assert_double_eq(back, values[i]);
		ck_assert(number_parse_exact(out, &back));
		ck_assert_double_eq(back, values[i]);
	}
	number_format(-0.04, 1, out, sizeof out);
	ck_assert_str_eq(out, "0.0");
	number_format(2.675, 1, out, sizeof out);
	ck_assert_str_eq(out, "2.7");
}
END_TEST

/* The C library's strtod() is the measure: the same double, whatever the digits. */
START_TEST(exact_decimals_are_read_as_the_library_reads_them)
{
	uint64_t bits = 1;
	char text[NUMBER_SIZE];

	for (int i = 0; i < 200000; i++) {
		double value = 0;
		bits = bits * 6364136223846793005u + 1442695040888963407u;
		uint64_t digits = (bits >> 11) >> (i % 50);
		snprintf(text, sizeof text, "%s%" PRIu64, i % 3 ? "" : "-", digits);
		size_t length = strlen(text), point = length - (size_t)i % length;
		memmove(text + point + 1, text + point, length - point + 1);
		text[point] = '.';
		ck_assert_msg(number_parse_exact(text, &value), "%s", text);
		ck_assert_msg(value == strtod(text, NULL), "%s: %.17g", text, value);
	}
}
END_TEST

START_TEST(what_is_not_all_a_number_is_not_exact)
{
	static const char *const texts[] = { "", "-", ".", "-.", "1.2.3", "12x", "1 ", "nan", "inf",
		"1e999", "--1", "OL" };
	double value = 7;

	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		ck_assert_msg(!number_parse_exact(texts[i], &value), "%s", texts[i]);
	ck_assert_double_eq(value, 7);
}
END_TEST

/* NIST SP 811 (2008), appendix B.8 and B.9. */
static const struct {
	double value;
	enum unit from, to;
	double expected, tolerance;
} conversions[] = {
	{ 212, UNIT_F, UNIT_C, 100, 1e-9 },
	{ 0, UNIT_C, UNIT_F, 32, 1e-9 },
	{ 100, UNIT_PSIG, UNIT_KPA, 689.4757, 1e-3 },
	{ 1, UNIT_BAR, UNIT_PSIG, 14.503774, 1e-5 },
	{ 1, UNIT_TON, UNIT_KW_COLD, 3.516853, 1e-5 },
	{ 1, UNIT_OZ, UNIT_GRAM, 28.34952, 1e-4 },
	{ 400, UNIT_CFM, UNIT_LITER_S, 188.779, 1e-2 },
	{ 0.5, UNIT_IN_WC, UNIT_PA, 124.5445, 1e-2 },
	{ 1, UNIT_BTU_LB, UNIT_KJ_KG, 2.326 - 7.686 * 2.326, 1e-3 },
};

START_TEST(units_convert)
{
	double got = unit_convert(conversions[_i].value, conversions[_i].from, conversions[_i].to);

	ck_assert_double_eq_tol(got, conversions[_i].expected, conversions[_i].tolerance);
}
END_TEST

START_TEST(units_are_found_as_typed)
{
	enum unit unit;

	ck_assert(unit_from_text("bar", UNIT_PSIG, &unit) && unit == UNIT_BAR);
	ck_assert(unit_from_text("C", UNIT_F, &unit) && unit == UNIT_C);
	ck_assert(unit_from_text("mfd", UNIT_MICROFARAD, &unit) && unit == UNIT_MICROFARAD);
	ck_assert(unit_from_text("M", UNIT_OHM, &unit) && unit == UNIT_MEGOHM_AS_OHM);
	ck_assert(unit_from_text("k", UNIT_OHM, &unit) && unit == UNIT_KILOHM);
	ck_assert(!unit_from_text("bar", UNIT_F, &unit));
	ck_assert(!unit_from_text("", UNIT_F, &unit));
}
END_TEST

START_TEST(times_read_back)
{
	static const char *const texts[] = {
		"2026-06-03T09:12:00", "1999-12-31T23:59:59", "2024-02-29T00:00:00",
	};
	char out[CLOCK_TEXT_SIZE];
	wall_time time = 0;

	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		ck_assert(clock_parse(texts[i], &time));
		clock_format(time, out, sizeof out);
		ck_assert_str_eq(out, texts[i]);
	}
	ck_assert(clock_parse("1970-01-02", &time));
	ck_assert_int_eq(time, 86400);
	ck_assert(clock_parse("2026-06-03 09:12", &time));
	clock_format_month(time, out, sizeof out);
	ck_assert_str_eq(out, "June 2026");
	ck_assert(!clock_parse("2026-02-30", &time));
	ck_assert(!clock_parse("2026-06-03T25:00", &time));
	ck_assert(!clock_parse("2026-06-03T09:12Z", &time));
	ck_assert(!clock_parse("yesterday", &time));
}
END_TEST

START_TEST(ids_are_valid_and_differ)
{
	struct uid a = uid_new(), b = uid_new();

	ck_assert(uid_is_valid(a.text));
	ck_assert_int_eq(a.text[14], '7');
	ck_assert_str_ne(a.text, b.text);
	/* In the order they were made, also thousands within a millisecond. */
	for (int i = 0; i < 20000; i++) {
		b = uid_new();
		ck_assert_str_lt(a.text, b.text);
		a = b;
	}
	ck_assert(uid_is_valid(a.text));
	ck_assert(!uid_is_valid("not an id"));
}
END_TEST

/* Some 300 letters of two bytes, on an even and on an odd place: no half of one is left. */
START_TEST(a_sentence_that_is_too_long_is_cut_at_a_whole_letter)
{
	static char long_words[2 * sizeof(struct error) + 2];
	struct error error;

	for (size_t i = 0; i + 2 < sizeof long_words; i += 2)
		memcpy(long_words + i, "ä", 2);
	for (int ahead = 0; ahead < 2; ahead++) {
		ck_assert_int_eq(error_set(&error, STATUS_BAD_INPUT, "%s%s", ahead ? "x" : "", long_words),
		                 STATUS_BAD_INPUT);
		size_t length = strlen(error.text);
		ck_assert_uint_ge(length, sizeof error.text - 2);
		ck_assert_uint_eq(length % 2, (size_t)ahead);
		ck_assert_int_eq(memcmp(error.text + length - 2, "ä", 2), 0);
	}
}
END_TEST

Suite *base_suite(void)
{
	Suite *suite = suite_create("base");
	TCase *tests = tcase_create("base");

	tcase_add_test(tests, a_sentence_that_is_too_long_is_cut_at_a_whole_letter);
	tcase_add_loop_test(tests, number_is_read_as_typed, 0, sizeof numbers / sizeof *numbers);
	tcase_add_test(tests, minus_zero_is_zero);
	tcase_add_test(tests, what_is_no_number_is_refused);
	tcase_add_test(tests, exact_numbers_read_back);
	tcase_add_test(tests, exact_decimals_are_read_as_the_library_reads_them);
	tcase_add_test(tests, what_is_not_all_a_number_is_not_exact);
	tcase_add_loop_test(tests, units_convert, 0, sizeof conversions / sizeof *conversions);
	tcase_add_test(tests, units_are_found_as_typed);
	tcase_add_test(tests, times_read_back);
	tcase_add_test(tests, ids_are_valid_and_differ);
	suite_add_tcase(suite, tests);
	return suite;
}
