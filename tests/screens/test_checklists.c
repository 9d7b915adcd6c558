/*
 * The tune-up list of a visit by keys, and what of it the office report says.
 * What stands on a spring check is common practice.
 */
#include <check.h>
#include <string.h>

#include <padside/app/papers.h>
#include <padside/app/settings.h>
#include <padside/model/checklist.h>

#include "support/desk.h"

Suite *checklists_suite(void);

static struct desk desk;

static void on_a_call(void)
{
	desk_open(&desk);
	desk_keys(&desk, "Ctrl+N 'Dot Lind' Enter");
}

static void put_away(void)
{
	desk_close(&desk);
}

static void set_own_lists(const char *lines)
{
	struct error error = { .text = "" };

	ck_assert_msg(setting_put(desk.store, SETTING_CHECKLISTS, lines, &error) == STATUS_OK, "%s",
	              error.text);
}

static double found(enum reading reading)
{
	double number = 0;

	ck_assert(visit_number(&desk_call(&desk)->visit, STAGE_AS_FOUND, reading, &number) == STATUS_OK);
	return number;
}

START_TEST(a_list_is_chosen_and_kept_with_the_call)
{
	desk_keys(&desk, "Alt+l");
	ck_assert(desk_shows(&desk, "Tune-up lists"));
	ck_assert(desk_shows(&desk, "Spring check, rooftop unit"));
	desk_keys(&desk, "Down Enter");
	ck_assert(desk_shows(&desk, "Spring check, heat pump"));
	ck_assert(desk_shows(&desk, "missing"));
	ck_assert(strncmp(desk_call(&desk)->checklist, "Spring check, heat pump:", 24) == 0);
	desk_keys(&desk, "Ctrl+_");
	ck_assert(desk_shows(&desk, "Tune-up lists"));
	ck_assert_str_eq(desk_call(&desk)->checklist, "");
}
END_TEST

/* The first sheet says where the list is, and how far it is. */
START_TEST(the_call_says_what_the_list_misses)
{
	desk_write(&desk, "complaint", "Spring tune-up.");
	ck_assert(desk_shows(&desk, "Alt+l: the tune-up list of this visit"));
	set_own_lists("Short: outdoor_db; Drain flushed");
	desk_keys(&desk, "Alt+l Enter Esc");
	ck_assert(desk_shows(&desk, "Short: 2 of 2 missing. Alt+l"));
	desk_write(&desk, "outdoor", "88");
	ck_assert(desk_shows(&desk, "Short: 1 of 2 missing. Alt+l"));
}
END_TEST

START_TEST(a_list_is_taken_away)
{
	desk_keys(&desk, "Alt+l Enter Tab End Enter");
	ck_assert_str_eq(desk_call(&desk)->checklist, "");
	ck_assert(desk_shows(&desk, "Tune-up lists"));
}
END_TEST

/* One Enter a reading, on whatever sheet it stands; behind the last one the list again. */
START_TEST(enter_goes_from_one_missing_reading_to_the_next)
{
	set_own_lists("Short: outdoor_db; Drain flushed; suction_pressure; line_voltage");
	desk_keys(&desk, "Alt+l Enter");
	ck_assert(desk_shows(&desk, "4 of 4 missing"));
	desk_keys(&desk, "Enter '88' Enter '120' Enter '238' Enter");
	ck_assert_double_eq(found(READING_OUTDOOR_DB), 88);
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE), 120);
	ck_assert_double_eq(found(READING_LINE_VOLTAGE), 238);
	ck_assert(desk_shows(&desk, "1 of 4 missing"));
	ck_assert(desk_shows(&desk, "120.0 psig"));
}
END_TEST

START_TEST(a_reading_passed_over_stays_missing)
{
	set_own_lists("Short: outdoor_db; suction_pressure");
	desk_keys(&desk, "Alt+l Enter Enter Enter '120' Enter");
	ck_assert(desk_shows(&desk, "1 of 2 missing"));
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE), 120);
}
END_TEST

/* Whoever goes elsewhere is not called back. */
START_TEST(moving_away_leaves_the_list)
{
	set_own_lists("Short: line_voltage; suction_pressure");
	desk_keys(&desk, "Alt+l Enter Enter Down Up '238' Enter");
	ck_assert_double_eq(found(READING_LINE_VOLTAGE), 238);
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_ELECTRICAL);
	ck_assert(!desk_shows(&desk, "of 2 missing"));
}
END_TEST

START_TEST(a_task_is_ticked_and_unticked)
{
	set_own_lists("Short: Drain flushed; Gutter cleared");
	desk_keys(&desk, "Alt+l Enter Enter");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "Drain flushed");
	ck_assert(desk_shows(&desk, "1 of 2 missing"));
	desk_keys(&desk, "Space");
	ck_assert(desk_shows(&desk, "complete"));
	desk_keys(&desk, "Home Space");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "Gutter cleared");
}
END_TEST

/* The call keeps the list as it was chosen, whatever the firm's lists say later. */
START_TEST(a_list_changed_later_changes_no_call)
{
	set_own_lists("Short: outdoor_db");
	desk_keys(&desk, "Alt+l Enter Esc");
	set_own_lists("Short: outdoor_db; supply_db; Gutter cleared");
	desk_keys(&desk, "Alt+l");
	ck_assert(desk_shows(&desk, "1 of 1 missing"));
}
END_TEST

/* Another program's list without a name is shown as it is written, and cannot be taken. */
START_TEST(a_list_that_cannot_be_read_is_shown_as_it_is_written)
{
	struct error error;

	ck_assert_int_eq(store_setting_set(desk.store, "checklists", "no name before a colon\nShort: outdoor_db",
	                                   &error), STATUS_OK);
	desk_keys(&desk, "Alt+l");
	ck_assert(desk_shows(&desk, "no name before a colon"));
	ck_assert(desk_shows(&desk, "Short"));
	desk_keys(&desk, "Enter");
	ck_assert_str_eq(desk_call(&desk)->checklist, "");
	ck_assert(desk_shows(&desk, "the checklist needs a name of at most 63 letters"));
}
END_TEST

START_TEST(what_does_not_apply_is_not_missing)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "compressor motor", "psc");
	set_own_lists("Short: amps_a; outdoor_db");
	desk_keys(&desk, "Alt+l Enter");
	ck_assert(desk_shows(&desk, "1 of 2 missing"));
	ck_assert(desk_shows(&desk, "not of this unit"));
}
END_TEST

/* ---- The paper ---- */

static bool paper_says(enum paper_reader reader, const char *words)
{
	const struct paper_choice choice = { .format = PAPER_TEXT, .reader = reader,
	                                     .units = UNITS_US };
	struct error error = { .text = "" };
	struct text text;

	text_init(&text);
	ck_assert_msg(papers_write(desk.store, desk_call(&desk), &choice, &text, &error) == STATUS_OK,
	              "%s", error.text);
	bool says = strstr(text_get(&text), words) != NULL;
	text_done(&text);
	return says;
}

START_TEST(the_office_reads_what_is_missing)
{
	set_own_lists("Short: outdoor_db; Drain flushed; Gutter cleared");
	desk_keys(&desk, "Alt+l Enter Enter '88' Enter Enter");
	ck_assert(paper_says(PAPER_OFFICE, "Short: 1 of 3 missing."));
	ck_assert(paper_says(PAPER_OFFICE, "Gutter cleared"));
	ck_assert(!paper_says(PAPER_CUSTOMER, "missing"));
	ck_assert(!paper_says(PAPER_CUSTOMER, "Gutter cleared"));
	desk_keys(&desk, "Alt+l Enter");
	ck_assert(paper_says(PAPER_OFFICE, "Short: complete."));
}
END_TEST

/* A ticked task is told as work; the bill has no line of nothing. */
START_TEST(a_task_stands_under_the_work_and_not_on_the_bill)
{
	set_own_lists("Short: Drain flushed");
	desk_keys(&desk, "Alt+l Enter Enter F12 Tab 'Spring check' Enter '1' Enter '129' Enter");
	ck_assert(paper_says(PAPER_CUSTOMER, "Drain flushed"));
	ck_assert(paper_says(PAPER_CUSTOMER, "129.00"));
	ck_assert(!paper_says(PAPER_CUSTOMER, "  0.00"));
}
END_TEST

START_TEST(tasks_alone_make_no_bill)
{
	set_own_lists("Short: Drain flushed");
	desk_keys(&desk, "Alt+l Enter Enter");
	ck_assert(paper_says(PAPER_CUSTOMER, "Drain flushed"));
	ck_assert(!paper_says(PAPER_CUSTOMER, "What it costs"));
}
END_TEST

START_TEST(the_page_at_both_sizes)
{
	desk_keys(&desk, "F9 'cle' Enter F3 Alt+l Down Enter");
	desk_look(&desk, "checklist", false);
}
END_TEST

Suite *checklists_suite(void)
{
	Suite *suite = suite_create("checklists");
	TCase *keys = tcase_create("keys"), *paper = tcase_create("paper");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, on_a_call, put_away);
	tcase_add_test(keys, a_list_is_chosen_and_kept_with_the_call);
	tcase_add_test(keys, the_call_says_what_the_list_misses);
	tcase_add_test(keys, a_list_is_taken_away);
	tcase_add_test(keys, enter_goes_from_one_missing_reading_to_the_next);
	tcase_add_test(keys, a_reading_passed_over_stays_missing);
	tcase_add_test(keys, moving_away_leaves_the_list);
	tcase_add_test(keys, a_task_is_ticked_and_unticked);
	tcase_add_test(keys, a_list_changed_later_changes_no_call);
	tcase_add_test(keys, a_list_that_cannot_be_read_is_shown_as_it_is_written);
	tcase_add_test(keys, what_does_not_apply_is_not_missing);
	tcase_add_test(keys, the_page_at_both_sizes);
	suite_add_tcase(suite, keys);
	tcase_set_timeout(paper, 60);
	tcase_add_checked_fixture(paper, on_a_call, put_away);
	tcase_add_test(paper, the_office_reads_what_is_missing);
	tcase_add_test(paper, a_task_stands_under_the_work_and_not_on_the_bill);
	tcase_add_test(paper, tasks_alone_make_no_bill);
	suite_add_tcase(suite, paper);
	return suite;
}
