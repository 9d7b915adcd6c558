/* Reading JSON: the grammar against SQLite's own reader, and what is refused. */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/json.h>
#include <padside/base/text.h>

Suite *json_suite(void);

static enum status write_item(const struct json_item *item, void *context, struct error *error)
{
	static const char marks[] = { 'o', 'a', 'e', 's', 'n', 't', 'f', '-' };

	(void)error;
	text_add_format(context, "%d%c%s=%s;", item->depth, marks[item->type], item->path, item->text);
	return STATUS_OK;
}

/* What a document reads as, or its error. */
static const char *read_as(const char *document, size_t length)
{
	static struct text seen;
	struct error error;
	struct json_reader *reader = json_reader_new();

	text_clear(&seen);
	if (json_read(reader, document, length, write_item, &seen, &error) != STATUS_OK) {
		text_clear(&seen);
		text_add(&seen, error.text);
	}
	json_reader_free(reader);
	return text_get(&seen);
}

static const char *read_text(const char *document)
{
	return read_as(document, strlen(document));
}

START_TEST(items_come_in_order_with_their_paths)
{
	ck_assert_str_eq(read_text(" {\"a\": {\"b\": [1, {\"c\": \"x\"}, []]}, \"d\": null}"),
	                 "0o=;1oa=;2aa.b=;3na.b[0]=1;3oa.b[1]=;4sa.b[1].c=x;3ea.b[1]=;3aa.b[2]=;"
	                 "3ea.b[2]=;2ea.b=;1ea=;1-d=;0e=;");
}
END_TEST

START_TEST(numbers_come_as_written)
{
	ck_assert_str_eq(read_text("[-0.10, 1e5, 12345678901234567890]"),
	                 "0a=;1n[0]=-0.10;1n[1]=1e5;1n[2]=12345678901234567890;0e=;");
	/* What lies behind the text is not looked at. */
	ck_assert_str_eq(read_as("1234", 2), "0n=12;");
	ck_assert_str_eq(read_as("1.54", 3), "0n=1.5;");
	ck_assert_str_eq(read_as("1e54", 3), "0n=1e5;");
}
END_TEST

START_TEST(strings_are_unescaped)
{
	ck_assert_str_eq(read_text("\"\\\"\\\\\\/\\n\\u00b5\\ud83d\\udd27é\""),
	                 "0s=\"\\/\n\xc2\xb5\xf0\x9f\x94\xa7\xc3\xa9;");
}
END_TEST

START_TEST(what_is_refused_says_where)
{
	static const struct {
		const char *document, *says;
	} rows[] = {
		{ "", "it ends before it is complete (line 1, column 1)" },
		{ "{\"a\": {\"b\": 1", "a: it ends before" },
		{ "{\"a\": 1,\n \"a\": 2}", "a: this member is given twice (line 2, column 5)" },
		{ "{\"a\": tru}", "a: this is not a JSON value" },
		{ "[1 2]", "a comma is missing" },
		{ "[1,]", "not a JSON value" },
		{ "{,}", "name of a member" },
		{ "[01]", "comma" },
		{ "[1.]", "not a JSON value" },
		{ "[\"\\x\"]", "this escape is not part of JSON" },
		{ "[\"\\ud800\"]", "half of a character" },
		{ "[\"\\udc00\"]", "half of a character" },
		{ "[\"\\u0000\"]", "U+0000" },
		{ "[\"a\tb\"]", "control character" },
		{ "[\"\xff\"]", "not UTF-8" },
		{ "[\"abc", "in the middle of a string" },
		{ "{} {}", "something follows" },
		{ "[[[[[[[[[1]]]]]]]]]", "nested too deeply" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		ck_assert_msg(strstr(read_text(rows[i].document), rows[i].says) != NULL, "%s: %s",
		              rows[i].document, read_text(rows[i].document));
}
END_TEST

START_TEST(a_hundred_megabytes_of_nesting_are_refused_at_once)
{
	size_t length = 100 << 20;
	char *document = malloc(length);

	ck_assert_ptr_nonnull(document);
	memset(document, '[', length);
	ck_assert_ptr_nonnull(strstr(read_as(document, length), "at most 4 MB"));
	ck_assert_ptr_nonnull(strstr(read_as(document, JSON_SIZE_MOST), "nested too deeply"));
	free(document);
}
END_TEST

static bool sqlite_takes(sqlite3_stmt *statement, const char *document)
{
	sqlite3_reset(statement);
	sqlite3_bind_text(statement, 1, document, -1, SQLITE_STATIC);
	ck_assert_int_eq(sqlite3_step(statement), SQLITE_ROW);
	return sqlite3_column_int(statement, 0) != 0;
}

/*
 * Every document that is one byte away from a good one is taken if and only if
 * the json_valid() of SQLite takes it.  Bytes are such that the rules where we
 * are stricter (see json.h) are not met.
 */
START_TEST(one_byte_off_is_judged_as_sqlite_does)
{
	static const char good[] = "{\"k\":[-1.5e+3,0,true,false,null],\"s\":\"a\\nb\",\"o\":{}}";
	static const char bytes[] = "{}[]:,\"\\-+.0e1tfn x";
	char document[sizeof good + 1];
	struct text ignored;
	struct error error;
	sqlite3 *db;
	sqlite3_stmt *statement;
	struct json_reader *reader = json_reader_new();
	int taken = 0;

	text_init(&ignored);
	ck_assert_int_eq(sqlite3_open(":memory:", &db), SQLITE_OK);
	ck_assert_int_eq(sqlite3_prepare_v2(db, "SELECT json_valid(?1)", -1, &statement, NULL), SQLITE_OK);
	for (size_t at = 0; at + 1 < sizeof good; at++)
		for (size_t i = 0; i < 2 * sizeof bytes - 1; i++) {
			/* The last change of a place is to leave the byte out, the others put or replace one. */
			size_t skip = i >= sizeof bytes - 1 || bytes[i] == '\0';
			size_t put = i < 2 * (sizeof bytes - 1);
			memcpy(document, good, at);
			if (put)
				document[at] = bytes[i % (sizeof bytes - 1)];
			memcpy(document + at + put, good + at + skip, sizeof good - at - skip);
			text_clear(&ignored);
			bool ours = json_read(reader, document, strlen(document), write_item, &ignored,
			                      &error) == STATUS_OK;
			ck_assert_msg(ours == sqlite_takes(statement, document), "%s", document);
			taken += ours;
		}
	ck_assert_int_gt(taken, 50);
	text_done(&ignored);
	json_reader_free(reader);
	sqlite3_finalize(statement);
	sqlite3_close(db);
}
END_TEST

Suite *json_suite(void)
{
	Suite *suite = suite_create("json");
	TCase *tests = tcase_create("json");

	tcase_add_test(tests, items_come_in_order_with_their_paths);
	tcase_add_test(tests, numbers_come_as_written);
	tcase_add_test(tests, strings_are_unescaped);
	tcase_add_test(tests, what_is_refused_says_where);
	tcase_add_test(tests, a_hundred_megabytes_of_nesting_are_refused_at_once);
	tcase_add_test(tests, one_byte_off_is_judged_as_sqlite_does);
	suite_add_tcase(suite, tests);
	return suite;
}
