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
	{ HEADER "part,A,\"\n\",1\n", STATUS_BAD_INPUT, "line 2: a description has" },
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
	"0x10", "$", "nan", "12.50 each", ",123", ",123.40",
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

/* A refusal in full: the line, what is wanted, and what stands there. */
static const struct {
	const char *bytes, *says;
} refusals[] = {
	{ "", "the file is empty; its first line must name the columns kind, code, description, "
	  "unit_price" },
	{ HEADER, "there is no price in the file; no price was changed" },
	{ "\nkind;code;description;unit_price\n", "line 2: there is no column \"kind\"; the first line must "
	  "name kind, code, description, unit_price, with commas between" },
	{ "kind,description,unit_price\n", "line 1: there is no column \"code\"; the first line must name "
	  "kind, code, description, unit_price, with commas between" },
	{ HEADER "part,A,b\n", "line 2: the column \"unit_price\" is missing; no price was changed" },
	{ HEADER "parts,B,b,1\n", "line 2: kind must be labour, part, refrigerant or fee, not \"parts\"; "
	  "no price was changed" },
	{ HEADER "part,,b,1\n", "line 2: a code has 1 to 31 letters, not \"\"; no price was changed" },
	{ HEADER "part,A, ,1\n", "line 2: a description has 1 to 159 letters, not \" \"; no price was "
	  "changed" },
	{ HEADER "part,A,b,-1\n", "line 2: unit_price must be a price like 12.50, not \"-1\"; no price was "
	  "changed" },
	{ HEADER "part,A,b,10000000.01\n", "line 2: unit_price must be a price like 12.50, not "
	  "\"10000000.01\"; no price was changed" },
	{ HEADER "part,B,b,1\npart,A,b,1\n\npart,b,c,3\n", "line 5: the code \"b\" stands on line 2 already; "
	  "no price was changed" },
};

START_TEST(a_refusal_is_told_in_full)
{
	struct price_list list;
	struct error error;

	price_list_init(&list);
	ck_assert_int_ne(prices_parse(refusals[_i].bytes, strlen(refusals[_i].bytes), &list, &error),
	                 STATUS_OK);
	ck_assert_str_eq(error.text, refusals[_i].says);
}
END_TEST

static enum status parse_one(const char *code, const char *description, const char *price,
                             struct price_list *list)
{
	struct error error;
	char bytes[512];

	snprintf(bytes, sizeof bytes, HEADER "part,%s,%s,%s\n", code, description, price);
	price_list_init(list);
	return prices_parse(bytes, strlen(bytes), list, &error);
}

/* A code has 31 letters, a description 159, and a price is ten million at most. */
START_TEST(an_item_is_taken_to_its_limits)
{
	char code[33], description[161];
	struct price_list list;

	memset(code, 'c', sizeof code);
	memset(description, 'd', sizeof description);
	code[31] = description[159] = '\0';
	ck_assert_int_eq(parse_one(code, description, "10000000", &list), STATUS_OK);
	ck_assert_str_eq(list.items[0].code, code);
	ck_assert_str_eq(list.items[0].description, description);
	ck_assert_int_eq(list.items[0].unit_price, 1000000000);
	price_list_done(&list);
	code[31] = 'c';
	code[32] = '\0';
	ck_assert_int_eq(parse_one(code, "d", "1", &list), STATUS_BAD_INPUT);
	description[159] = 'd';
	description[160] = '\0';
	ck_assert_int_eq(parse_one("c", description, "1", &list), STATUS_BAD_INPUT);
	ck_assert_int_eq(parse_one(" \tA b\t ", "  \"two\nlines\" ", "0", &list), STATUS_BAD_INPUT);
	ck_assert_int_eq(parse_one(" \tA b\t ", "\" two\nlines \"", "0", &list), STATUS_OK);
	ck_assert_str_eq(list.items[0].code, "A b");
	ck_assert_str_eq(list.items[0].description, "two lines");
	ck_assert_int_eq(list.items[0].kind, WORK_PART);
	price_list_done(&list);
}
END_TEST

START_TEST(a_long_list_is_read_to_its_end)
{
	static const size_t counts[] = { 63, 64, 65, 127, 128, 129, 500 };
	static char bytes[32768];

	for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
		struct price_list list;
		struct error error;
		size_t length = (size_t)snprintf(bytes, sizeof bytes, HEADER);
		for (size_t j = 0; j < counts[i]; j++)
			length += (size_t)snprintf(bytes + length, sizeof bytes - length, "fee,F%zu,Fee %zu,%zu\n", j, j,
			                           j);
		price_list_init(&list);
		ck_assert_int_eq(prices_parse(bytes, length, &list, &error), STATUS_OK);
		ck_assert_uint_eq(list.count, counts[i]);
		ck_assert_int_eq(list.items[counts[i] - 1].unit_price, 100 * (cents)(counts[i] - 1));
		ck_assert_int_eq(list.items[0].unit_price, 0);
		price_list_done(&list);
	}
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
	tcase_add_loop_test(tcase, a_refusal_is_told_in_full, 0,
	                    (int)(sizeof refusals / sizeof *refusals));
	tcase_add_test(tcase, an_item_is_taken_to_its_limits);
	tcase_add_test(tcase, a_long_list_is_read_to_its_end);
	suite_add_tcase(suite, tcase);
	return suite;
}
