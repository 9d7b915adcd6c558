/* Tune-up lists: the built-in ones, a firm's own, and what is missing on a call. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/checklist.h>

#include "support/calls.h"

Suite *checklist_suite(void);

static struct checklist list;
static struct call call;
static struct error error;

static void set_up(void)
{
	call_init(&call);
}

static void tear_down(void)
{
	call_done(&call);
}

/* A task never looks like a key: a key that was mistyped would pass for one. */
START_TEST(every_built_in_list_can_be_read)
{
	ck_assert_int_ge(checklist_built_in_count(), 3);
	for (int i = 0; i < checklist_built_in_count(); i++) {
		ck_assert_int_eq(checklist_parse(checklist_built_in(i), &list, &error), STATUS_OK);
		ck_assert_int_ge(list.count, 20);
		for (int j = 0; j < list.count; j++) {
			ck_assert_msg(!strchr(list.items[j].task, '_'), "%s", list.items[j].task);
			ck_assert_str_ne(checklist_item_label(&list.items[j]), "");
		}
	}
}
END_TEST

START_TEST(a_firms_own_list_has_readings_and_tasks)
{
	ck_assert_int_eq(checklist_parse(" Autumn : outdoor_db;Gutter cleared ; ;", &list, &error),
	                 STATUS_OK);
	ck_assert_str_eq(list.name, "Autumn");
	ck_assert_int_eq(list.count, 2);
	ck_assert_int_eq(list.items[0].reading, READING_OUTDOOR_DB);
	ck_assert_str_eq(checklist_item_label(&list.items[1]), "Gutter cleared");
}
END_TEST

START_TEST(what_is_no_list_is_refused_with_a_sentence)
{
	static const char *const bad[] = { "", "Autumn", ": outdoor_db", "Autumn:", "Autumn: ; ;" };

	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		ck_assert_int_eq(checklist_parse(bad[i], &list, &error), STATUS_BAD_INPUT);
		ck_assert_ptr_nonnull(strstr(error.text, "Name: item; item"));
		ck_assert_int_eq(list.count, 0);
	}
}
END_TEST

START_TEST(a_list_that_is_too_long_is_refused)
{
	struct text line;
	char task[LINE_SIZE + 8] = "";

	text_init(&line);
	text_add(&line, "Long:");
	for (int i = 0; i <= CHECKLIST_MOST; i++)
		text_add_format(&line, " task %d;", i);
	ck_assert_int_eq(checklist_parse(text_get(&line), &list, &error), STATUS_BAD_INPUT);
	ck_assert_ptr_nonnull(strstr(error.text, "64 items"));
	text_clear(&line);
	memset(task, 'x', LINE_SIZE);
	text_add_format(&line, "Long: %s", task);
	ck_assert_int_eq(checklist_parse(text_get(&line), &list, &error), STATUS_BAD_INPUT);
	ck_assert_ptr_nonnull(strstr(error.text, "too long"));
	text_done(&line);
}
END_TEST

START_TEST(missing_is_what_was_neither_taken_nor_done)
{
	struct value value;

	ck_assert_int_eq(checklist_parse("Spring: outdoor_db; amps_a; Drain flushed", &list, &error),
	                 STATUS_OK);
	/* A single-phase unit has no amps of a leg. */
	ck_assert_int_eq(reading_parse(READING_COMPRESSOR_MOTOR, "psc", UNITS_US, &value, &error),
	                 STATUS_OK);
	visit_set(&call.visit, STAGE_AS_FOUND, READING_COMPRESSOR_MOTOR, &value);
	ck_assert_int_eq(checklist_judge(&list.items[1], &call), CHECKLIST_IDLE);
	ck_assert_int_eq(checklist_missing(&list, &call), 2);

	ck_assert_int_eq(reading_parse(READING_OUTDOOR_DB, "88", UNITS_US, &value, &error), STATUS_OK);
	visit_set(&call.visit, STAGE_AS_LEFT, READING_OUTDOOR_DB, &value);
	ck_assert_int_eq(checklist_judge(&list.items[0], &call), CHECKLIST_DONE);

	struct work_line *line = call_add_work(&call);
	ck_assert_ptr_nonnull(line);
	text_copy(line->description, sizeof line->description, "Drain flushed");
	ck_assert_int_eq(checklist_missing(&list, &call), 0);
}
END_TEST

START_TEST(a_call_has_a_line_or_the_name_of_a_built_in_list)
{
	ck_assert(!checklist_of_call(&call, &list));
	text_copy(call.checklist, sizeof call.checklist, "Own: outdoor_db; Gutter cleared");
	ck_assert(checklist_of_call(&call, &list));
	ck_assert_int_eq(list.count, 2);
	text_copy(call.checklist, sizeof call.checklist, "spring check, Heat Pump");
	ck_assert(checklist_of_call(&call, &list));
	ck_assert_int_gt(list.count, 20);
	for (int i = 0; i < checklist_built_in_count(); i++) {
		const char *line = checklist_built_in(i);
		snprintf(call.checklist, sizeof call.checklist, "%.*s", (int)strcspn(line, ":"), line);
		ck_assert_msg(checklist_of_call(&call, &list), "%s", call.checklist);
	}
	text_copy(call.checklist, sizeof call.checklist, "Moon check");
	ck_assert(!checklist_of_call(&call, &list));
	ck_assert_int_eq(list.count, 0);
}
END_TEST

/* Every list fits into a call, as it is chosen there. */
START_TEST(every_built_in_list_fits_into_a_call)
{
	for (int i = 0; i < checklist_built_in_count(); i++)
		ck_assert_uint_lt(strlen(checklist_built_in(i)), sizeof call.checklist);
}
END_TEST

Suite *checklist_suite(void)
{
	Suite *suite = suite_create("checklist");
	TCase *tcase = tcase_create("checklist");

	tcase_add_checked_fixture(tcase, set_up, tear_down);
	tcase_add_test(tcase, every_built_in_list_can_be_read);
	tcase_add_test(tcase, a_firms_own_list_has_readings_and_tasks);
	tcase_add_test(tcase, what_is_no_list_is_refused_with_a_sentence);
	tcase_add_test(tcase, a_list_that_is_too_long_is_refused);
	tcase_add_test(tcase, missing_is_what_was_neither_taken_nor_done);
	tcase_add_test(tcase, a_call_has_a_line_or_the_name_of_a_built_in_list);
	tcase_add_test(tcase, every_built_in_list_fits_into_a_call);
	suite_add_tcase(suite, tcase);
	return suite;
}
