/* Writing JSON: RFC 8259, sections 6 and 7. */
#include <check.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>

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

static void check_rounded(double number)
{
	struct text text;
	char plain[40];

	text_init(&text);
	json_add_rounded(&text, number);
	snprintf(plain, sizeof plain, "%.10g", number + 0.0);
	ck_assert_str_eq(text_get(&text), plain);
	text_done(&text);
}

/* The C library's "%.10g" is what is meant, however it is written. */
START_TEST(ten_digits_are_those_of_the_library)
{
	static const double odd[] = {
		0, -0.0, 1, -1, 10, 0.1, 0.001, 0.0009999999999, 0.01, 0.09999999999999999, 0.99999999995,
		0.99999999994999, 9.9999999995, 99999999.995, 999999999, 999999999.4, 999999999.95, 1e9, 1e10,
		12345678.905, 0.12345678905, 1.5e-7, 1e300, -200.0 / 3, 1.00000000005, 2.5, 5e-324,
	};
	uint64_t state = 88172645463325252u; /* xorshift64 */

	for (size_t i = 0; i < sizeof odd / sizeof *odd; i++) {
		check_rounded(odd[i]);
		check_rounded(-odd[i]);
	}
	for (int i = 0; i < 200000; i++) {
		state ^= state << 13;
		state ^= state >> 7;
		state ^= state << 17;
		double share = (double)(state >> 11) / 9007199254740992.0;
		check_rounded((share - 0.5) * pow(10, i % 18 - 5));
		/* Next to a half behind the tenth digit. */
		check_rounded((floor(share * 1e10) + 0.5) / pow(10, i % 13));
	}
}
END_TEST

Suite *json_text_suite(void)
{
	Suite *suite = suite_create("json_text");
	TCase *tests = tcase_create("json_text");

	tcase_add_test(tests, strings_are_escaped);
	tcase_add_test(tests, members_are_separated);
	tcase_add_test(tests, ten_digits_are_those_of_the_library);
	suite_add_tcase(suite, tests);
	return suite;
}
