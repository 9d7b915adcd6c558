/* Comma-separated values, after RFC 4180 section 2. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/csv.h>

Suite *csv_suite(void);

/* Everything that was read, fields between [ and ], records ended by a bar and their line. */
static enum csv_step read_all(const char *bytes, size_t length, char *out, size_t size,
                              struct error *error)
{
	struct csv csv;
	struct text text;
	enum csv_step step;

	text_init(&text);
	csv_init(&csv, bytes, length);
	while ((step = csv_next(&csv, error)) == CSV_RECORD) {
		for (size_t i = 0; i < csv.count; i++)
			text_add_format(&text, "[%s]", csv_field(&csv, i));
		text_add_format(&text, "|%zu ", csv.line);
	}
	snprintf(out, size, "%s", text_get(&text));
	text_done(&text);
	csv_done(&csv);
	return step;
}

static const struct {
	const char *bytes;
	const char *expected;
} sound[] = {
	/* RFC 4180, section 2, rules 1 to 7, in its own examples. */
	{ "aaa,bbb,ccc\r\nzzz,yyy,www\r\n", "[aaa][bbb][ccc]|1 [zzz][yyy][www]|2 " },
	{ "aaa,bbb,ccc\r\nzzz,yyy,www", "[aaa][bbb][ccc]|1 [zzz][yyy][www]|2 " },
	{ "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,www", "[aaa][bbb][ccc]|1 [zzz][yyy][www]|2 " },
	{ "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,www", "[aaa][b\nbb][ccc]|1 [zzz][yyy][www]|3 " },
	{ "\"aaa\",\"b\"\"bb\",\"ccc\"", "[aaa][b\"bb][ccc]|1 " },
	/* What programs write besides. */
	{ "\xef\xbb\xbf" "a,b\n1,2\n", "[a][b]|1 [1][2]|2 " },
	{ "a,b\r1,2\r", "[a][b]|1 [1][2]|2 " },
	{ "a,\n,b\n\n\nc\n", "[a][]|1 [][b]|2 [c]|5 " },
	{ "\"\",\"a,b\",\"\"\"\"", "[][a,b][\"]|1 " },
	{ "caf\xc3\xa9,\xc2\xb5" "F\n", "[caf\xc3\xa9][\xc2\xb5" "F]|1 " },
	{ " a , b ", "[ a ][ b ]|1 " },
	{ "", "" },
	{ "\r\n\r\n", "" },
	{ "\xef\xbb\xbf", "" },
};

START_TEST(sound_files_are_read)
{
	struct error error;
	char out[256];

	ck_assert_int_eq(read_all(sound[_i].bytes, strlen(sound[_i].bytes), out, sizeof out, &error),
	                 CSV_END);
	ck_assert_str_eq(out, sound[_i].expected);
}
END_TEST

/* What stands in memory behind the end is not of the file, be it a line end. */
START_TEST(the_end_is_where_it_is_said_to_be)
{
	struct error error;
	char out[256];

	ck_assert_int_eq(read_all("a\n\nb\n", 2, out, sizeof out, &error), CSV_END);
	ck_assert_str_eq(out, "[a]|1 ");
	ck_assert_int_eq(read_all("\n\nb\n", 0, out, sizeof out, &error), CSV_END);
	ck_assert_str_eq(out, "");
}
END_TEST

static const struct {
	const char *bytes;
	size_t length;
	const char *begins;
} bad[] = {
	{ "a,b\n\"c,d\n", 9, "line 2: a quote is opened" },
	{ "a,b\nc,d\"e\n", 10, "line 2: a quote stands inside" },
	{ "a,b\n\n\"c\"d,e\n", 12, "line 3: something stands behind" },
	{ "a\n\"b\nc\",\xff\n", 10, "line 3: it is not plain UTF-8" },
	{ "a\0b\n", 4, "line 1: it is not plain UTF-8" },
	{ "a\nb\x1b[2J\n", 8, "line 2: it is not plain UTF-8" },
};

START_TEST(broken_files_are_refused_with_the_line)
{
	struct error error = { .status = STATUS_OK };
	char out[256];

	ck_assert_int_eq(read_all(bad[_i].bytes, bad[_i].length, out, sizeof out, &error), CSV_BROKEN);
	ck_assert_int_eq(error.status, STATUS_BAD_INPUT);
	ck_assert_msg(strncmp(error.text, bad[_i].begins, strlen(bad[_i].begins)) == 0, "%s",
	              error.text);
}
END_TEST

START_TEST(too_many_fields_are_refused)
{
	struct error error = { .status = STATUS_OK };
	char bytes[200], out[256];

	memset(bytes, ',', sizeof bytes);
	ck_assert_int_eq(read_all(bytes, sizeof bytes, out, sizeof out, &error), CSV_BROKEN);
	ck_assert_int_eq(read_all(bytes, CSV_MOST_FIELDS - 1, out, sizeof out, &error), CSV_END);
}
END_TEST

START_TEST(what_is_written_reads_back)
{
	static const char *const fields[] = { "a", "", "b,c", "d\"e", "f\ng", " h ", "-3.5", "\"" };
	struct text text;
	struct csv csv;
	struct error error;
	bool first = true;

	text_init(&text);
	for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
		csv_add_field(&text, fields[i], &first);
	csv_end_record(&text);
	csv_init(&csv, text_get(&text), text.length);
	ck_assert_int_eq(csv_next(&csv, &error), CSV_RECORD);
	ck_assert_uint_eq(csv.count, sizeof fields / sizeof *fields);
	for (size_t i = 0; i < csv.count; i++)
		ck_assert_str_eq(csv_field(&csv, i), fields[i]);
	csv_done(&csv);
	text_done(&text);
}
END_TEST

START_TEST(formulas_become_text)
{
	struct text text;
	bool first = true;

	text_init(&text);
	csv_add_field(&text, "=1+1", &first);
	csv_add_field(&text, "-2+3", &first);
	csv_add_field(&text, "@SUM(A1),\"x\"", &first);
	csv_add_field(&text, "+4.5", &first);
	csv_add_field(&text, "-6 to 6", &first);
	csv_add_field(&text, "＝1+1", &first);
	csv_add_field(&text, " =1+1", &first);
	csv_end_record(&text);
	ck_assert_str_eq(text_get(&text), "'=1+1,'-2+3,\"'@SUM(A1),\"\"x\"\"\",+4.5,"
	                 "-6 to 6,'＝1+1,' =1+1\r\n");
	text_done(&text);
}
END_TEST

Suite *csv_suite(void)
{
	Suite *suite = suite_create("csv");
	TCase *tcase = tcase_create("csv");

	tcase_add_loop_test(tcase, sound_files_are_read, 0, (int)(sizeof sound / sizeof *sound));
	tcase_add_test(tcase, the_end_is_where_it_is_said_to_be);
	tcase_add_loop_test(tcase, broken_files_are_refused_with_the_line, 0,
	                    (int)(sizeof bad / sizeof *bad));
	tcase_add_test(tcase, too_many_fields_are_refused);
	tcase_add_test(tcase, what_is_written_reads_back);
	tcase_add_test(tcase, formulas_become_text);
	suite_add_tcase(suite, tcase);
	return suite;
}
