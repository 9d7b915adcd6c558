/* The band: the ruler's cells, the scale, and the words behind it. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/base/band.h>
#include <padside/base/glyph.h>

Suite *band_suite(void);

static void draws(const struct band *band, int width, const char *expected)
{
	struct text text;

	text_init(&text);
	band_draw(band, width, false, &text);
	ck_assert_str_eq(text_get(&text), expected);
	text_done(&text);
}

static void says(const struct band *band, int decimals, const char *expected)
{
	struct text text;

	text_init(&text);
	band_add_words(band, decimals, false, &text);
	ck_assert_str_eq(text_get(&text), expected);
	text_done(&text);
}

/* Half of 45 to 100 is no round number: "73 ±28" would move both ends. */
START_TEST(a_stretch_is_said_as_it_is_rounder)
{
	struct band band = { .low = 45, .high = 100 };

	says(&band, 0, "expected 45 to 100");
	band.low = 5;
	band.high = 18;
	says(&band, 1, "expected 5 to 18");
	band.low = -6;
	band.high = 6;
	says(&band, 1, "expected 0 ±6");
	band.low = 19.7;
	band.high = 25.7;
	says(&band, 1, "expected 22.7 ±3");
}
END_TEST

START_TEST(superheat_of_the_design)
{
	struct band band = { .value = 21, .has_value = true, .plus_minus = 1.4, .low = 3, .high = 13 };

	draws(&band, 15, "├───▐███▌───◆─┤");
	says(&band, 0, "expected 8 ±5: high");
	struct text text;
	text_init(&text);
	band_draw(&band, 15, true, &text);
	text_add_char(&text, ' ');
	band_add_words(&band, 0, true, &text);
	ck_assert_str_eq(text_get(&text), "|---[###]---O-| expected 8 +-5: high");
	text_done(&text);
}
END_TEST

START_TEST(given_scale_is_kept)
{
	struct band band = { .low = 2, .high = 5, .scale_low = 0, .scale_high = 10 };

	draws(&band, 12, "├──███─────┤");
	band.low = 2.5, band.high = 5.5;
	draws(&band, 12, "├──▐██▌────┤");
	band.has_value = true, band.value = 0;
	draws(&band, 12, "├◆─▐██▌────┤");
	band.value = 10;
	draws(&band, 12, "├──▐██▌───◆┤");
	band.value = 4.2, band.plus_minus = 1.8;
	draws(&band, 12, "├──◇◇◆◇────┤");
	band.low = band.high = 7;
	band.has_value = false;
	draws(&band, 12, "├───────▌──┤");
}
END_TEST

START_TEST(open_stretches_reach_the_end)
{
	struct band band = { .low = -INFINITY, .high = 5, .scale_low = 0, .scale_high = 10 };

	draws(&band, 12, "├█████─────┤");
	says(&band, 0, "expected at most 5");
	band.low = 5, band.high = INFINITY;
	draws(&band, 12, "├─────█████┤");
	band.has_value = true, band.value = 20;
	says(&band, 1, "expected at least 5: good");
}
END_TEST

START_TEST(an_assumed_stretch_says_so)
{
	struct band band = { .value = 9, .has_value = true, .low = 4, .high = 16, .is_assumed = true };

	says(&band, 0, "assumed 10 ±6: good");
	band.plus_minus = 8;
	says(&band, 0, "assumed 10 ±6: ambiguous");
}
END_TEST

START_TEST(beyond_the_ruler_is_an_arrow)
{
	struct band band = { .value = 500, .has_value = true, .low = 3, .high = 13 };

	draws(&band, 22, "├──────████████──────▶");
	band.value = -500;
	draws(&band, 22, "◀──────████████──────┤");
	says(&band, 0, "expected 8 ±5: low");
}
END_TEST

START_TEST(nothing_expected_or_nothing_taken)
{
	struct band band = { .value = 5, .has_value = true, .low = 1, .high = 0 };

	draws(&band, 9, "├───◆───┤");
	says(&band, 0, "");
	ck_assert_int_eq(band_judge(&band), BAND_UNKNOWN);
	band = (struct band){ .low = NAN, .high = NAN, .value = NAN, .has_value = true };
	draws(&band, 9, "├───────┤");
	ck_assert_int_eq(band_judge(&band), BAND_UNKNOWN);
}
END_TEST

/* The interval counts, on both sides of a limit: inside the band near its end too. */
START_TEST(an_interval_across_a_limit_is_ambiguous)
{
	static const struct {
		double value, plus_minus;
		enum band_verdict verdict;
	} cases[] = {
		{ 3, 0, BAND_INSIDE }, { 13, 0, BAND_INSIDE }, { 13.1, 0, BAND_HIGH },
		{ 14, 1.4, BAND_AMBIGUOUS }, { 15, 1.4, BAND_HIGH },
		{ 2, 1.4, BAND_AMBIGUOUS }, { 1, 1.4, BAND_LOW },
		{ 12, 1.4, BAND_AMBIGUOUS }, { 4, 1.4, BAND_AMBIGUOUS }, { 8, 1.4, BAND_INSIDE },
		{ 8, 6, BAND_AMBIGUOUS }, { 11.6, 1.4, BAND_INSIDE },
	};

	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct band band = { .value = cases[i].value, .has_value = true,
		                     .plus_minus = cases[i].plus_minus, .low = 3, .high = 13 };
		ck_assert_int_eq(band_judge(&band), cases[i].verdict);
	}
}
END_TEST

START_TEST(a_wide_spread_fills_the_ruler)
{
	struct band band = { .value = 8, .has_value = true, .plus_minus = 30, .low = 3, .high = 13 };

	draws(&band, 15, "├◇◇◇◇◇◇◆◇◇◇◇◇◇┤");
}
END_TEST

/* Whatever the numbers: the width is right and a reading is seen. */
START_TEST(the_reading_is_always_in_sight)
{
	static const double numbers[] = {
		-INFINITY, -1e300, -40, -1e-9, 0, 1e-300, 0.5, 8, 1e9, 1e300, INFINITY, NAN,
	};
	enum { COUNT = sizeof numbers / sizeof *numbers };
	struct band_cell cells[BAND_WIDTH_MOST];

	for (int n = 0; n < COUNT * COUNT * COUNT; n++) {
		struct band band = {
			.value = numbers[n % COUNT], .has_value = true,
			.low = numbers[n / COUNT % COUNT], .high = numbers[n / COUNT / COUNT],
			.plus_minus = fabs(numbers[(n * 7) % COUNT]),
		};
		int seen = 0;
		ck_assert_int_eq(band_cells(&band, n % 40, cells),
		                 n % 40 < BAND_WIDTH_LEAST ? BAND_WIDTH_LEAST : n % 40);
		for (int i = 0; i < BAND_WIDTH_LEAST || i < n % 40; i++) {
			seen += cells[i].part == BAND_MARK || cells[i].part == BAND_BEYOND;
			ck_assert_int_eq(glyph_columns(cells[i].character, false), 1);
			ck_assert_int_eq(glyph_columns(cells[i].character, true), 1);
		}
		ck_assert_int_eq(seen, isfinite(band.value) ? 1 : 0);
	}
}
END_TEST

Suite *band_suite(void)
{
	Suite *suite = suite_create("band");
	TCase *tests = tcase_create("band");

	tcase_add_test(tests, superheat_of_the_design);
	tcase_add_test(tests, an_assumed_stretch_says_so);
	tcase_add_test(tests, given_scale_is_kept);
	tcase_add_test(tests, open_stretches_reach_the_end);
	tcase_add_test(tests, beyond_the_ruler_is_an_arrow);
	tcase_add_test(tests, nothing_expected_or_nothing_taken);
	tcase_add_test(tests, an_interval_across_a_limit_is_ambiguous);
	tcase_add_test(tests, a_wide_spread_fills_the_ruler);
	tcase_add_test(tests, the_reading_is_always_in_sight);
	tcase_add_test(tests, a_stretch_is_said_as_it_is_rounder);
	suite_add_tcase(suite, tests);
	return suite;
}
