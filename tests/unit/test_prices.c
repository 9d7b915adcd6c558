/* The price list from CSV: read as a whole, or refused with the line. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/prices.h>

Suite *prices_suite(void);

static const char good[] =
	"\xef\xbb\xbf" "Code,unit_price,Description,KIND,shelf\r\n"
	"CAP-45,38.50,\"Run capacitor 45 \xc2\xb5" "F, 440 V\",part,A3\r\n"
	"LAB-1,\"1,250.00\",\"One day,\r\nfrom \"\"8 to 5\"\"\",labour,\r\n"
	",,,,\r\n"
	"r410,  $2.5 ,Refrigerant R-410A by the ounce,refrigerant\r\n"
	"FEE,0,Diagnosis,fee,";

START_TEST(a_list_is_read)
{
	struct price_list list;
	struct error error;

	price_list_init(&list);
	ck_assert_int_eq(prices_parse(good, sizeof good - 1, &list, &error), STATUS_OK);
	ck_assert_uint_eq(list.count, 4);
	ck_assert_str_eq(list.items[0].code, "CAP-45");
	ck_assert_str_eq(list.items[0].description, "Run capacitor 45 \xc2\xb5" "F, 440 V");
	ck_assert_int_eq(list.items[0].kind, WORK_PART);
	ck_assert_int_eq(list.items[0].unit_price, 3850);
	ck_assert_str_eq(list.items[1].description, "One day, from \"8 to 5\"");
	ck_assert_int_eq(list.items[1].unit_price, 125000);
	ck_assert_int_eq(list.items[2].kind, WORK_REFRIGERANT);
	ck_assert_int_eq(list.items[2].unit_price, 250);
	ck_assert_int_eq(list.items[3].unit_price, 0);
	price_list_done(&list);
}
END_TEST

#define HEADER "kind,code,description,unit_price\n"

static const struct {
	const char *bytes;
	enum status status;
	const char *begins;
} bad[] = {
	{ "", STATUS_BAD_INPUT, "the file is empty" },
	{ HEADER, STATUS_BAD_INPUT, "there is no price" },
	{ "kind;code;description;unit_price\n", STATUS_BAD_INPUT, "line 1: there is no column \"kind\"" },
	{ "kind,code,description\npart,A,b\n", STATUS_BAD_INPUT,
	  "line 1: there is no column \"unit_price\"" },
	{ HEADER "part,A,b,1\npart,B,b\n", STATUS_BAD_INPUT, "line 3: the column \"unit_price\"" },
	{ HEADER "part,A,b,1\nparts,B,b,1\n", STATUS_BAD_INPUT, "line 3: kind must be" },
	{ HEADER "part, ,b,1\n", STATUS_BAD_INPUT, "line 2: a code has" },
	{ HEADER "part,12345678901234567890123456789012,b,1\n", STATUS_BAD_INPUT, "line 2: a code has" },
	{ HEADER "part,A,,1\n", STATUS_BAD_INPUT, "line 2: a description has" },
	{ HEADER "part,A,b,1\n\"part\",\"B\",\"x\ny\",2\npart,a,c,3\n", STATUS_EXISTS,
	  "line 5: the code \"a\" stands on line 2 already" },
	{ HEADER "part,A,b,\"1\n", STATUS_BAD_INPUT, "line 2: a quote is opened" },
};

START_TEST(a_bad_list_is_refused_whole)
{
	struct price_list list;
	struct error error = { .status = STATUS_OK };

	price_list_init(&list);
	ck_assert_int_eq(prices_parse(bad[_i].bytes, strlen(bad[_i].bytes), &list, &error),
	                 bad[_i].status);
	ck_assert_int_eq(error.status, bad[_i].status);
	ck_assert_msg(strncmp(error.text, bad[_i].begins, strlen(bad[_i].begins)) == 0, "%s",
	              error.text);
	ck_assert_uint_eq(list.count, 0);
	ck_assert_ptr_null(list.items);
}
END_TEST

static const char *const bad_prices[] = {
	"", "-1", "12.345", "1,2345", "1.2.3", "abc", "1e3", "10000000.01", "99999999999999999999",
	"0x10", "$", "nan", "12.50 each",
};

START_TEST(a_bad_price_is_refused_with_its_line)
{
	struct price_list list;
	struct error error = { .status = STATUS_OK };
	char bytes[128];

	price_list_init(&list);
	snprintf(bytes, sizeof bytes, HEADER "part,A,b,1\npart,B,b,\"%s\"\n", bad_prices[_i]);
	ck_assert_int_eq(prices_parse(bytes, strlen(bytes), &list, &error), STATUS_BAD_INPUT);
	ck_assert_msg(strncmp(error.text, "line 3: unit_price must be", 26) == 0, "%s", error.text);
	ck_assert_uint_eq(list.count, 0);
}
END_TEST

Suite *prices_suite(void)
{
	Suite *suite = suite_create("prices");
	TCase *tcase = tcase_create("prices");

	tcase_add_test(tcase, a_list_is_read);
	tcase_add_loop_test(tcase, a_bad_list_is_refused_whole, 0, (int)(sizeof bad / sizeof *bad));
	tcase_add_loop_test(tcase, a_bad_price_is_refused_with_its_line, 0,
	                    (int)(sizeof bad_prices / sizeof *bad_prices));
	suite_add_tcase(suite, tcase);
	return suite;
}
