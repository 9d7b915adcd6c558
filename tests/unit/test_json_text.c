/* Writing JSON: RFC 8259, sections 6 and 7. */
#include <check.h>
#include <math.h>

#include <padside/base/json_text.h>

Suite *json_text_suite(void);

START_TEST(strings_are_escaped)
{
	struct text text;

	text_init(&text);
	json_add_string(&text, "a\"b\\c\nd\x01\x7f °F \xff");
	ck_assert_str_eq(text_get(&text), "\"a\\\"b\\\\c\\nd\\u0001\\u007f °F \xef\xbf\xbd\"");
	text_done(&text);
}
END_TEST

START_TEST(members_are_separated)
{
	struct text text;
	bool first = true;

	text_init(&text);
	json_add_name(&text, "a", &first);
	json_add_number(&text, 0.1);
	json_add_name(&text, "b", &first);
	json_add_number(&text, NAN);
	json_add_name(&text, "c", &first);
	json_add_rounded(&text, 200.0 / 3);
	ck_assert_str_eq(text_get(&text), "\"a\": 0.1, \"b\": null, \"c\": 66.66666667");
	text_done(&text);
}
END_TEST

Suite *json_text_suite(void)
{
	Suite *suite = suite_create("json_text");
	TCase *tests = tcase_create("json_text");

	tcase_add_test(tests, strings_are_escaped);
	tcase_add_test(tests, members_are_separated);
	suite_add_tcase(suite, tests);
	return suite;
}
