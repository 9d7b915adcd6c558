/* The paper of a call of the book, and the file it goes into. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <padside/app/papers.h>

#include "support/demo.h"
#include "support/listed.h"
#include "support/scratch.h"

Suite *papers_suite(void);

static struct store *store;
static struct call call;
static struct error error;
static char folder[SCRATCH_SIZE];
static char path[128];

/* The newest call of the only customer with `text`. */
static void load_newest(const char *text)
{
	struct customer customer = demo_customer(store, text);
	struct call_filter filter = { .since = WALL_TIME_NONE, .customer = customer.uid };
	struct call_line newest;

	ck_assert_int_gt(listed_calls(store, &filter, &newest), 0);
	ck_assert(store_call_load(store, newest.uid.text, &call, &error) == STATUS_OK);
}

static void setup(void)
{
	store = demo_open();
	call_init(&call);
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/paper.txt", folder);
}

static void teardown(void)
{
	unlink(path);
	ck_assert_int_eq(rmdir(folder), 0);
	call_done(&call);
	store_close(store);
}

static void write_paper(enum paper_format format, enum paper_reader reader, struct text *text)
{
	struct paper_choice choice = { .format = format, .reader = reader };

	text_init(text);
	ck_assert_msg(papers_write(store, &call, &choice, text, &error) == STATUS_OK, "%s", error.text);
}

START_TEST(what_the_book_knows_is_on_the_paper)
{
	struct text text;

	load_newest("Oduya");
	ck_assert(store_setting_set(store, "company", "Larkmere Cooling\n555-0100", &error) == STATUS_OK);
	write_paper(PAPER_TEXT, PAPER_CUSTOMER, &text);
	ck_assert_ptr_nonnull(strstr(text_get(&text), "Larkmere Cooling"));
	ck_assert_ptr_nonnull(strstr(text_get(&text), "555-0100"));
	ck_assert_ptr_nonnull(strstr(text_get(&text), "Maren Oduya"));
	ck_assert_ptr_nonnull(strstr(text_get(&text), "$385"));
	text_done(&text);
	write_paper(PAPER_TEXT, PAPER_OFFICE, &text);
	ck_assert_ptr_nonnull(strstr(text_get(&text), "Earlier visits"));
	text_done(&text);
}
END_TEST

/* A paper tells what was known that day: later visits do not change an old one. */
START_TEST(later_visits_are_not_on_the_paper)
{
	struct text before, after;
	struct call later;

	load_newest("Oduya");
	write_paper(PAPER_MARKDOWN, PAPER_OFFICE, &before);
	call_init(&later);
	later.customer.uid = call.customer.uid;
	later.site.uid = call.site.uid;
	later.system.uid = call.system.uid;
	later.opened_at = call.opened_at + 30 * 86400;
	ck_assert_msg(store_call_create(store, &later, &error) == STATUS_OK, "%s", error.text);
	struct watch_item item = { .text = "a later thing", .noted_at = later.opened_at,
	                           .closed_at = WALL_TIME_NONE, .uid = uid_new() };
	ck_assert(store_list_put(store, &later.uid, LIST_WATCH, &item, &error) == STATUS_OK);
	write_paper(PAPER_MARKDOWN, PAPER_OFFICE, &after);
	ck_assert_str_eq(text_get(&before), text_get(&after));
	call_done(&later);
	text_done(&before);
	text_done(&after);
}
END_TEST

START_TEST(every_format_can_be_written)
{
	struct text text;
	enum paper_format format;

	load_newest("Oduya");
	/* tests/cli/pdf.sh holds PDF: its libraries keep memory for themselves. */
	if (_i == PAPER_PDF)
		return;
	ck_assert(paper_format_from_key(paper_format_key((enum paper_format)_i), &format));
	ck_assert_int_eq((int)format, _i);
	write_paper(format, PAPER_OFFICE, &text);
	ck_assert_uint_gt(text.length, 500);
	ck_assert_int_eq(text_get(&text)[text.length - 1], '\n');
	text_done(&text);
}
END_TEST

static void read_back(char *bytes, size_t size)
{
	FILE *file = fopen(path, "r");

	ck_assert_ptr_nonnull(file);
	bytes[fread(bytes, 1, size - 1, file)] = '\0';
	fclose(file);
}

START_TEST(a_file_is_private_and_never_written_over)
{
	struct text first, second;
	struct stat info;
	char bytes[64];

	text_init(&first);
	text_init(&second);
	text_add(&first, "first\n");
	text_add(&second, "second\n");
	ck_assert_msg(papers_save(path, &first, false, &error) == STATUS_OK, "%s", error.text);
	ck_assert_int_eq(stat(path, &info), 0);
	ck_assert_int_eq(info.st_mode & 0777, 0600);
	ck_assert(papers_save(path, &second, false, &error) == STATUS_EXISTS);
	ck_assert_ptr_nonnull(strstr(error.text, path));
	read_back(bytes, sizeof bytes);
	ck_assert_str_eq(bytes, "first\n");
	ck_assert(papers_save(path, &second, true, &error) == STATUS_OK);
	read_back(bytes, sizeof bytes);
	ck_assert_str_eq(bytes, "second\n");
	text_done(&first);
	text_done(&second);
}
END_TEST

START_TEST(a_place_that_is_not_there_leaves_nothing)
{
	struct text text;

	text_init(&text);
	text_add(&text, "words\n");
	ck_assert(papers_save("/tmp/padside-no-such-folder/x.txt", &text, false, &error) == STATUS_CANNOT_OPEN);
	ck_assert(papers_save("/tmp/padside-no-such-folder/x.txt", &text, true, &error) == STATUS_CANNOT_OPEN);
	ck_assert(papers_save(folder, &text, true, &error) == STATUS_IO);
	text_done(&text);
}
END_TEST

Suite *papers_suite(void)
{
	Suite *suite = suite_create("papers");
	TCase *all = tcase_create("papers");

	tcase_add_checked_fixture(all, setup, teardown);
	tcase_add_test(all, what_the_book_knows_is_on_the_paper);
	tcase_add_test(all, later_visits_are_not_on_the_paper);
	tcase_add_loop_test(all, every_format_can_be_written, 0, PAPER_FORMAT_COUNT);
	tcase_add_test(all, a_file_is_private_and_never_written_over);
	tcase_add_test(all, a_place_that_is_not_there_leaves_nothing);
	suite_add_tcase(suite, all);
	return suite;
}
