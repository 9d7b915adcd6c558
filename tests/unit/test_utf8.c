/*
 * UTF-8: every character, and every kind of broken sequence; the Unicode
 * Standard 15.0, table 3-7 (well-formed byte sequences).  Columns against
 * what this machine's C library says.
 */
#include <check.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

#include <padside/base/text.h>

#include "support/skip.h"

Suite *utf8_suite(void);

static bool is_surrogate(unsigned character)
{
	return character >= 0xd800 && character <= 0xdfff;
}

/* The length of its sequence, by the table. */
static size_t length_of(unsigned character)
{
	return character <= 0x7f ? 1 : character <= 0x7ff ? 2 : character <= 0xffff ? 3 : 4;
}

START_TEST(every_character_is_written_and_read)
{
	struct text text;

	text_init(&text);
	for (unsigned character = 1; character <= 0x10ffff; character++) {
		if (is_surrogate(character))
			continue;
		text_clear(&text);
		text_add_character(&text, character);
		const char *cursor = text_get(&text);
		if (text.length != length_of(character) || text_next_character(&cursor) != character ||
		    *cursor != '\0')
			ck_abort_msg("U+%04X", character);
	}
	text_done(&text);
}
END_TEST

/* Table 3-7: what may follow a first byte as the second. */
static const struct {
	unsigned first, last;     /* first bytes */
	unsigned second_first, second_last;
	size_t length;
} table[] = {
	{ 0xc2, 0xdf, 0x80, 0xbf, 2 }, { 0xe0, 0xe0, 0xa0, 0xbf, 3 }, { 0xe1, 0xec, 0x80, 0xbf, 3 },
	{ 0xed, 0xed, 0x80, 0x9f, 3 }, { 0xee, 0xef, 0x80, 0xbf, 3 }, { 0xf0, 0xf0, 0x90, 0xbf, 4 },
	{ 0xf1, 0xf3, 0x80, 0xbf, 4 }, { 0xf4, 0xf4, 0x80, 0x8f, 4 },
};

static size_t well_formed(unsigned first, unsigned second)
{
	if (first < 0x80)
		return 1;
	for (size_t i = 0; i < sizeof table / sizeof *table; i++)
		if (first >= table[i].first && first <= table[i].last && second >= table[i].second_first &&
		    second <= table[i].second_last)
			return table[i].length;
	return 0;
}

START_TEST(broken_sequences_are_one_replacement_a_byte)
{
	for (unsigned first = 0x80; first <= 0xff; first++)
		for (unsigned second = 0x01; second <= 0xff; second++) {
			const char bytes[] = { (char)first, (char)second, (char)0x80, (char)0x80, 'x', '\0' };
			const char *cursor = bytes;
			size_t length = well_formed(first, second);
			unsigned character = text_next_character(&cursor);
			ck_assert_msg((size_t)(cursor - bytes) == (length ? length : 1), "%02x %02x", first, second);
			ck_assert_msg((character == 0xfffd) == (length == 0), "%02x %02x", first, second);
		}
}
END_TEST

/* Cut off at the end of the text: nothing is read behind it. */
START_TEST(a_text_cut_off_in_a_character_ends_there)
{
	static const char *const whole[] = { "\xc2\xb0", "\xe2\x82\xac", "\xf0\x9f\x98\x80" };

	for (size_t i = 0; i < 3; i++)
		for (size_t keep = 1; keep < strlen(whole[i]); keep++) {
			char bytes[8] = "ab";
			memcpy(bytes + 2, whole[i], keep);
			const char *cursor = bytes + 2;
			ck_assert_uint_eq(text_next_character(&cursor), 0xfffd);
			ck_assert_ptr_eq(cursor, bytes + 3);
			text_trim_broken_utf8(bytes);
			ck_assert_str_eq(bytes, "ab");
		}
	char kept[] = "ab\xe2\x82\xac";
	text_trim_broken_utf8(kept);
	ck_assert_str_eq(kept, "ab\xe2\x82\xac");
	/* No character has four bytes behind its first: they are taken away, and no letter before them. */
	char behind[] = "ab\x80\x80\x80\x80";
	text_trim_broken_utf8(behind);
	ck_assert_str_eq(behind, "ab");
}
END_TEST

START_TEST(case_is_ignored_in_ascii_alone)
{
	ck_assert(text_equal_ignoring_case("R-410a", "r-410A"));
	ck_assert(text_equal_ignoring_case("azAZ", "AZaz"));
	ck_assert(!text_equal_ignoring_case("@[`{", "`{@["));
	ck_assert(!text_equal_ignoring_case("ab", "abc"));
	ck_assert(!text_equal_ignoring_case("abc", "ab"));
	ck_assert(text_equal_ignoring_case("", ""));
}
END_TEST

/* Letters, signs and the scripts that customers' names are written in; marks over letters. */
static const struct {
	unsigned first, last;
} in_use[] = {
	{ 0x20, 0x7e }, { 0xa0, 0xac }, { 0xae, 0x482 }, { 0x48a, 0x52f }, { 0x5d0, 0x5ea },
	{ 0x621, 0x64a }, { 0xe01, 0xe30 }, { 0x1e00, 0x1fff }, { 0x2010, 0x2027 },
	{ 0x20a0, 0x20bf }, { 0x2100, 0x214f }, { 0x2190, 0x21ff }, { 0x2200, 0x22ff },
	{ 0x2500, 0x25fc }, { 0x3041, 0x3096 }, { 0x30a1, 0x30fa }, { 0x4e00, 0x9fff },
	{ 0xac00, 0xd7a3 }, { 0xff01, 0xff60 }, { 0x1f300, 0x1f320 },
};

START_TEST(columns_are_those_of_the_c_library)
{
	if (!setlocale(LC_CTYPE, "C.UTF-8") || wcwidth(0x4e00) != 2) {
		skip_test("columns of characters", "this C library has no table of widths");
		return;
	}
	for (unsigned character = in_use[_i].first; character <= in_use[_i].last; character++) {
		int wanted = wcwidth((wchar_t)character);
		if (wanted >= 0)
			ck_assert_msg(text_character_columns(character) == wanted, "U+%04X", character);
	}
}
END_TEST

/* Every one, where the C library's table is of the same version of Unicode (14.0) as ours. */
START_TEST(every_character_has_its_columns)
{
	const wchar_t of_14 = 0x1fae7, of_15 = 0x1fae8; /* bubbles; a shaking face */

	if (!setlocale(LC_CTYPE, "C.UTF-8") || wcwidth(of_14) != 2 || wcwidth(of_15) >= 0) {
		skip_test("columns of every character", "this C library has another version of Unicode");
		return;
	}
	for (unsigned character = 0xa0; character <= 0x10ffff; character++) {
		int wanted = wcwidth((wchar_t)character);
		if (wanted >= 0)
			ck_assert_msg(text_character_columns(character) == wanted, "U+%04X", character);
	}
}
END_TEST

Suite *utf8_suite(void)
{
	Suite *suite = suite_create("utf8");
	TCase *tests = tcase_create("utf8");

	tcase_set_timeout(tests, 60);
	tcase_add_test(tests, every_character_is_written_and_read);
	tcase_add_test(tests, broken_sequences_are_one_replacement_a_byte);
	tcase_add_test(tests, a_text_cut_off_in_a_character_ends_there);
	tcase_add_test(tests, case_is_ignored_in_ascii_alone);
	tcase_add_loop_test(tests, columns_are_those_of_the_c_library, 0,
	                    sizeof in_use / sizeof *in_use);
	tcase_add_test(tests, every_character_has_its_columns);
	suite_add_tcase(suite, tests);
	return suite;
}
