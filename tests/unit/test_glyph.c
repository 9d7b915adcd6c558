/* Safe characters, their ASCII stand-ins, and word wrap. */
#include <check.h>
#include <string.h>

#include <padside/base/glyph.h>
#include <padside/base/wrap.h>

Suite *glyph_suite(void);

static void shows(const char *string, bool plain, const char *expected)
{
	struct text text;

	text_init(&text);
	glyph_add_string(&text, string, plain);
	ck_assert_str_eq(text_get(&text), expected);
	if (plain)
		ck_assert_int_eq(glyph_string_columns(string, true), (int)strlen(expected));
	text_done(&text);
}

START_TEST(nothing_that_acts_gets_through)
{
	shows("\x1b[2J\x07" "a\tb\nc\x7f", false, "�[2J�a b c�");
	shows("\xc2\x9b" "31m", false, "�31m");         /* the 8-bit CSI */
	shows("a\u202e" "b\u2066" "c\u200b" "d\ufeff", false, "a�b�c�d�");
	shows("\xff\xfe", false, "��");
	for (unsigned c = 1; c < 0xa0; c++)
		if (c < 0x20 || c >= 0x7f)
			ck_assert(glyph_shown(c) == ' ' || glyph_shown(c) == 0xfffd);
}
END_TEST

/* Found by the drawing fuzz test: a surrogate got through as a character. */
START_TEST(surrogates_are_no_characters)
{
	ck_assert_uint_eq(glyph_shown(0xd800), 0xfffd);
	ck_assert_uint_eq(glyph_shown(0xdfff), 0xfffd);
	ck_assert_uint_eq(glyph_shown(0xe000), 0xe000);
}
END_TEST

/*
 * Bidi controls: UAX #9, revision 44, table 1.  No characters: the Unicode Standard 14.0, 23.7.
 * Tags and interlinear annotation: 23.9 and 23.8.  The joiners spell names (23.2) and are kept.
 */
START_TEST(what_steers_a_line_is_a_mark)
{
	static const unsigned acting[] = { 0x61c, 0x200e, 0x200f, 0x202a, 0x202b, 0x202c, 0x202d, 0x202e,
		0x2066, 0x2067, 0x2068, 0x2069, 0x2028, 0x2029, 0xfff9, 0xfffa, 0xfffb, 0xe0001, 0xe0020,
		0xe007f, 0xad, 0x200b, 0x2060, 0x2064, 0xfeff, 0x110000 };
	static const unsigned seen[] = { 0xa1, 0xac, 0xae, 0x600, 0x61b, 0x61d, 0x200c, 0x200d, 0x2010,
		0x2027, 0x2070, 0xd7ff, 0xe000, 0xfdcf, 0xfdf0, 0xfffc, 0x10000, 0x1f600, 0x2fffd };

	for (size_t i = 0; i < sizeof acting / sizeof *acting; i++)
		ck_assert_msg(glyph_shown(acting[i]) == 0xfffd, "U+%04X", acting[i]);
	for (size_t i = 0; i < sizeof seen / sizeof *seen; i++)
		ck_assert_msg(glyph_shown(seen[i]) == seen[i], "U+%04X", seen[i]);
	for (unsigned character = 0xfdd0; character <= 0xfdef; character++)
		ck_assert_uint_eq(glyph_shown(character), 0xfffd);
	for (unsigned plane = 0; plane <= 0x10; plane++)
		for (unsigned last = 0xfffe; last <= 0xffff; last++)
			ck_assert_uint_eq(glyph_shown(plane << 16 | last), 0xfffd);
}
END_TEST

START_TEST(plain_is_ascii)
{
	shows("21.0 ±1.4 °F", true, "21.0 +-1.4 F");
	shows("4.2 kΩ, 45 µF, 3 m³/h", true, "4.2 kohm, 45 uF, 3 m3/h");
	shows("├──▐███▌────◆─┤", true, "|--[###]----O-|");
	shows("José Müller 漢", true, "Jose Muller ?");
	shows("┌─┬┐└┴┘├┼┤│┃━═┄╴╶", true, "+-+++++|+|||==---");
	shows("←↑→↓−≈≠≤≥", true, "<^>v-~!=<=>=");
	shows("▀▁▄█▌▐░▒■", true, "#_##][.:#");
	shows("e\u0301", true, "e");
	/* The first and the last of the Latin letters with marks, and the one behind them. */
	shows("ÀÿĀ", true, "Ay?");
	/* From no dot to eight. */
	shows("⠀⠁⠃⠇⠏⠟⠿⡿⣿", true, " ..::####");
	for (unsigned c = 1; c < 0x30000; c++) {
		const char *ascii = glyph_plain(c);
		for (; ascii && *ascii; ascii++)
			ck_assert(*ascii >= 0x20 && *ascii < 0x7f);
	}
}
END_TEST

/* Joins the lines of `string` at that width with '|'. */
static void wraps(const char *string, int columns, const char *expected)
{
	struct wrap_line line;
	struct text text;
	const char *rest = string;
	int lines = 0;

	text_init(&text);
	while (wrap_next(&rest, columns, false, &line)) {
		text_add_bytes(&text, line.start, line.length);
		text_add_char(&text, '|');
		lines++;
	}
	ck_assert_str_eq(text_get(&text), expected);
	ck_assert_int_eq(wrap_count(string, columns, false), lines);
	text_done(&text);
}

/* A completed step was marked x, which is read as a no. */
START_TEST(a_tick_is_no_cross)
{
	ck_assert_str_ne(glyph_plain(0x2713), glyph_plain(0x2717));
	ck_assert_str_ne(glyph_plain(0x2713), "x");
}
END_TEST

START_TEST(wraps_at_spaces)
{
	wraps("", 10, "");
	wraps("one", 10, "one|");
	wraps("measure the wet bulb", 12, "measure the|wet bulb|");
	wraps("measure the wet bulb", 11, "measure the|wet bulb|");
	wraps("a  b   c", 3, "a|b|c|");
	wraps("ends in spaces   ", 14, "ends in spaces|");
}
END_TEST

START_TEST(wraps_long_words_and_line_ends)
{
	wraps("abcdefghij", 4, "abcd|efgh|ij|");
	wraps("ab cdefghij", 4, "ab|cdef|ghij|");
	wraps("    abcdefgh", 6, "    ab|cdefgh|");
	wraps("one\n\ntwo\n", 9, "one||two|");
	wraps("漢漢漢", 1, "漢|漢|漢|");
	wraps("漢漢漢", 5, "漢漢|漢|");
	wraps("at 21\u00a0°F now", 7, "at|21\u00a0°F|now|");
}
END_TEST

Suite *glyph_suite(void)
{
	Suite *suite = suite_create("glyph");
	TCase *tests = tcase_create("glyph");

	tcase_add_test(tests, nothing_that_acts_gets_through);
	tcase_add_test(tests, surrogates_are_no_characters);
	tcase_add_test(tests, what_steers_a_line_is_a_mark);
	tcase_add_test(tests, plain_is_ascii);
	tcase_add_test(tests, a_tick_is_no_cross);
	tcase_add_test(tests, wraps_at_spaces);
	tcase_add_test(tests, wraps_long_words_and_line_ends);
	suite_add_tcase(suite, tests);
	return suite;
}
