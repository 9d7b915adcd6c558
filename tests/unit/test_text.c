/* The string buffer and UTF-8. */
#include <check.h>
#include <string.h>

#include <padside/base/text.h>

Suite *text_suite(void);

START_TEST(appends_and_grows)
{
	struct text text;

	text_init(&text);
	ck_assert_str_eq(text_get(&text), "");
	for (int i = 0; i < 100; i++)
		text_add_format(&text, "%d,", i);
	ck_assert_uint_eq(text.length, 10 * 2 + 90 * 3);
	ck_assert(strncmp(text_get(&text), "0,1,2,", 6) == 0);
	text_done(&text);
	ck_assert_str_eq(text_get(&text), "");
}
END_TEST

START_TEST(copy_cuts_at_a_whole_character)
{
	char small[4];

	ck_assert(!text_copy(small, sizeof small, "ab°F"));
	ck_assert_str_eq(small, "ab");
	ck_assert(text_copy(small, sizeof small, "°F"));
	ck_assert_str_eq(small, "°F");
}
END_TEST

START_TEST(broken_utf8_becomes_a_replacement)
{
	const char *cursor = "\xc3(\xed\xa0\x80";

	ck_assert_uint_eq(text_next_character(&cursor), 0xfffd);
	ck_assert_uint_eq(text_next_character(&cursor), '(');
	ck_assert_uint_eq(text_next_character(&cursor), 0xfffd);
}
END_TEST

START_TEST(columns_follow_the_terminal)
{
	ck_assert_int_eq(text_columns("72 °F ±1"), 8);
	ck_assert_int_eq(text_columns("e\xcc\x81"), 1);
	ck_assert_int_eq(text_columns("\xe6\xbc\xa2"), 2);
	/* What steers a terminal takes no place: both ends of both stretches, and what is beside them. */
	static const struct {
		unsigned character;
		int columns;
	} ends[] = { { 0x1f, 0 }, { 0x20, 1 }, { 0x7e, 1 }, { 0x7f, 0 }, { 0x9f, 0 }, { 0xa0, 1 } };
	for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
		ck_assert_int_eq(text_character_columns(ends[i].character), ends[i].columns);
}
END_TEST

Suite *text_suite(void)
{
	Suite *suite = suite_create("text");
	TCase *tests = tcase_create("text");

	tcase_add_test(tests, appends_and_grows);
	tcase_add_test(tests, copy_cuts_at_a_whole_character);
	tcase_add_test(tests, broken_utf8_becomes_a_replacement);
	tcase_add_test(tests, columns_follow_the_terminal);
	suite_add_tcase(suite, tests);
	return suite;
}
