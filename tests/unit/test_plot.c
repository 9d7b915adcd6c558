/* Plots: what is drawn where, and that nothing bursts its size. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/base/glyph.h>
#include <padside/base/plot.h>

#include "support/golden.h"

Suite *plot_suite(void);

static wall_time day(const char *date)
{
	wall_time time;

	ck_assert(clock_parse(date, &time));
	return time;
}

/* An invented run capacitor rated 45 µF over five visits. */
static struct plot drifting_capacitor(struct plot_point points[5])
{
	static const char *const dates[] = {
		"2026-06-03", "2022-05-11", "2023-07-02", "2024-05-28", "2025-06-19",
	};
	static const double values[] = { 41.6, 45.2, 44.7, 43.9, 43.0 };

	for (int i = 0; i < 5; i++)
		points[i] = (struct plot_point){ day(dates[i]), values[i] };
	return (struct plot){
		.points = points, .count = 5, .has_limit = true, .limit = 42.3,
		.limit_name = "least 42.3", .rows = 10, .columns = 72,
	};
}

START_TEST(capacitor_over_the_years)
{
	struct plot_point points[5];
	struct plot plot = drifting_capacitor(points);
	struct text text;

	text_init(&text);
	ck_assert(plot_draw(&plot, &text));
	text_add(&text, "\nplain:\n");
	plot.plain = true;
	ck_assert(plot_draw(&plot, &text));
	golden_check_text("screens/golden", "plot-capacitor.txt", text_get(&text));
	text_done(&text);
}
END_TEST

START_TEST(one_visit_stands_in_the_middle)
{
	struct plot_point point = { day("2026-06-03"), 8 };
	struct plot plot = { .points = &point, .count = 1, .rows = 4, .columns = 24, .plain = true };
	struct text text;

	text_init(&text);
	ck_assert(plot_draw(&plot, &text));
	ck_assert_str_eq(text_get(&text),
	                 "9 |\n"
	                 "8 |          o\n"
	                 "7 |\n"
	                 "        2026-06-03\n");
	text_done(&text);
}
END_TEST

START_TEST(nothing_to_draw)
{
	struct plot_point points[] = { { day("2026-06-03"), NAN }, { WALL_TIME_NONE, 4 } };
	struct plot plot = { .points = points, .count = 2, .rows = 9, .columns = 40 };
	struct text text;

	text_init(&text);
	ck_assert(!plot_draw(&plot, &text));
	plot.count = 0;
	ck_assert(!plot_draw(&plot, &text));
	ck_assert_uint_eq(text.length, 0);
	text_done(&text);
}
END_TEST

static void fits(const struct plot *plot, const char *text)
{
	int rows = plot->rows < PLOT_ROWS_LEAST ? PLOT_ROWS_LEAST : plot->rows;
	int columns = plot->columns < PLOT_COLUMNS_LEAST ? PLOT_COLUMNS_LEAST : plot->columns;
	char line[2048];
	int count = 0;

	for (; *text; count++) {
		size_t length = strcspn(text, "\n");
		ck_assert_uint_lt(length, sizeof line);
		memcpy(line, text, length);
		line[length] = '\0';
		ck_assert_int_le(glyph_string_columns(line, plot->plain), columns);
		text += length + 1;
	}
	ck_assert_int_eq(count, rows);
}

/* Extreme numbers and times, in every small size. */
START_TEST(any_numbers_stay_inside)
{
	static const double numbers[] = { 0, -40, 1e-12, 3.3, 1e8, -1e300, 1e300, INFINITY };
	static const wall_time times[] = { 0, INT64_MAX, INT64_MIN + 1, 1767225600 };
	struct text text;

	text_init(&text);
	for (int n = 0; n < 8 * 8 * 4; n++) {
		struct plot_point points[] = {
			{ times[n % 4], numbers[n % 8] }, { times[n / 3 % 4], numbers[n / 8 % 8] },
			{ 1767225600, 3 },
		};
		struct plot plot = {
			.points = points, .count = 3, .rows = n % 12, .columns = 10 + n % 50,
			.has_limit = n % 2, .limit = numbers[n / 5 % 8], .plain = n % 3 == 0,
		};
		text_clear(&text);
		ck_assert(plot_draw(&plot, &text));
		fits(&plot, text_get(&text));
	}
	text_done(&text);
}
END_TEST

Suite *plot_suite(void)
{
	Suite *suite = suite_create("plot");
	TCase *tests = tcase_create("plot");

	tcase_add_test(tests, capacitor_over_the_years);
	tcase_add_test(tests, one_visit_stands_in_the_middle);
	tcase_add_test(tests, nothing_to_draw);
	tcase_add_test(tests, any_numbers_stay_inside);
	suite_add_tcase(suite, tests);
	return suite;
}
