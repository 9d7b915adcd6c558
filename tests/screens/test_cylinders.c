/*
 * The page of the cylinders by keys, and what it says.
 *
 * Sources: the rule of wholesalers and certification exams, second-hand: 80 %
 * of the water capacity times the density of the liquid at 77 °F (47.7 lb hold
 * 40.5 lb of R-410A, 36.8 lb of R-32 by CoolProp 8.0.0); a unit maker's GSZ16
 * instructions, p. 3: pressure test every 5 years.
 */
#include <check.h>
#include <string.h>

#include <padside/app/papers.h>

#include "support/desk.h"

Suite *cylinders_suite(void);

static struct desk desk;

static void on_the_page(void)
{
	desk_open(&desk);
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_keys(&desk, "Alt+g");
}

static void put_away(void)
{
	desk_close(&desk);
}

static const struct cylinder *cylinder(size_t index)
{
	ck_assert_uint_lt(index, desk_call(&desk)->cylinder_count);
	return &desk_call(&desk)->cylinders[index];
}

START_TEST(a_cylinder_is_written_and_says_how_much_more_goes_in)
{
	desk_keys(&desk, "'N-7' Enter Enter '47.7' Enter '27' Enter '55' Enter '05/24' Enter");
	ck_assert_str_eq(cylinder(0)->name, "N-7");
	ck_assert_int_eq(cylinder(0)->refrigerant, CHOICE_REFRIGERANT_R410A);
	ck_assert_double_eq(cylinder(0)->tare_lb, 27);
	ck_assert(desk_shows(&desk, "2024-05-01"));
	ck_assert(desk_shows(&desk, "At most 67.5 lb on the scale"));
	ck_assert(desk_shows(&desk, "12.5 lb more may go in"));
	desk_keys(&desk, "'to the reclaimer' Enter");
	ck_assert_str_eq(cylinder(0)->went_to, "to the reclaimer");
}
END_TEST

/* 6 kg were weighed in from it, and its line said that nothing came out. */
START_TEST(what_was_weighed_in_came_out_of_it)
{
	desk_keys(&desk, "'C-9' Enter Enter '47.7' Enter '27' Enter '55' Enter");
	ck_assert(!desk_shows(&desk, "came out"));
	desk_keys(&desk, "Alt+v Ctrl+N 'w' Enter Enter '96' Enter 'C-9' Enter Alt+g");
	ck_assert(desk_shows(&desk, "On this call 0.0 lb went in, 6.0 lb"));
}
END_TEST

/* 0.8 of the water capacity alone would let 38.2 lb of R-32 in. */
START_TEST(a_light_refrigerant_fills_it_sooner)
{
	desk_keys(&desk, "'N-8' Enter 'R-32' Enter '47.7' Enter '27' Enter '64.5' Enter");
	ck_assert(desk_shows(&desk, "At most 63.8 lb on the scale"));
	ck_assert(desk_shows(&desk, "over full by 0.7 lb: take some out now"));
}
END_TEST

START_TEST(a_pressure_test_past_its_time_is_said)
{
	desk_keys(&desk, "'N-9' Enter Right Right Right Right '2021-07' Enter");
	ck_assert(desk_shows(&desk, "more than five years old"));
	desk_keys(&desk, "Left '2021-08' Enter");
	ck_assert(!desk_shows(&desk, "more than five years old"));
	desk_keys(&desk, "Left 'soon' Enter");
	ck_assert(desk_shows(&desk, "type the month as it is stamped"));
	desk_keys(&desk, "Esc");
}
END_TEST

/* The scale is in kilograms, not in grams. */
START_TEST(weights_in_si_are_kilograms)
{
	desk_keys(&desk, "Ctrl+T 'N-7' Enter Enter '21.6' Enter '27 lb' Enter '24.9' Enter");
	ck_assert_double_eq_tol(cylinder(0)->water_capacity_lb, 47.62, 0.01);
	ck_assert_double_eq(cylinder(0)->tare_lb, 27);
	ck_assert(desk_shows(&desk, "kg more may go in"));
	ck_assert(!desk_shows(&desk, " lb"));
	ck_assert(!desk_shows(&desk, "°F"));
	desk_keys(&desk, "Left '-3' Enter");
	ck_assert(desk_shows(&desk, "takes 0 to 1361 kg"));
	desk_keys(&desk, "Esc");
}
END_TEST

START_TEST(what_the_charge_log_moved_stands_beside_it)
{
	desk_keys(&desk, "'N-7' Enter F12 Enter '48' Enter 'N-7' Enter Alt+g");
	ck_assert_double_eq(desk_call(&desk)->charge[0].recovered_oz, 48);
	desk_keys(&desk, "Up");
	ck_assert(desk_shows(&desk, "On this call 3.0 lb"));
}
END_TEST

START_TEST(a_cylinder_taken_out_comes_back)
{
	desk_keys(&desk, "'N-7' Enter Ctrl+X");
	ck_assert_uint_eq(desk_call(&desk)->cylinder_count, 0);
	desk_keys(&desk, "Ctrl+_");
	ck_assert_str_eq(cylinder(0)->name, "N-7");
	desk_keys(&desk, "Ctrl+N 'N-8' Enter Esc");
	ck_assert_str_eq(cylinder(1)->name, "N-8");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_SYSTEM);
}
END_TEST

START_TEST(the_office_reads_where_the_gas_went)
{
	const struct paper_choice choice = { .format = PAPER_MARKDOWN, .reader = PAPER_OFFICE,
	                                     .units = UNITS_US };
	struct error error = { .text = "" };
	struct text text;

	desk_keys(&desk, "'N-7' Enter Enter '47.7' Enter '27' Enter '55' Enter '06/21' Enter "
	          "'back into the unit' Enter");
	text_init(&text);
	ck_assert_msg(papers_write(desk.store, desk_call(&desk), &choice, &text, &error) == STATUS_OK,
	              "%s", error.text);
	ck_assert_ptr_nonnull(strstr(text_get(&text), "back into the unit"));
	ck_assert_ptr_nonnull(strstr(text_get(&text), "12.5"));
	ck_assert_ptr_nonnull(strstr(text_get(&text), "past"));
	text_done(&text);
}
END_TEST

START_TEST(the_page_at_both_sizes)
{
	desk_keys(&desk, "'N-7' Enter Enter '47.7' Enter '27' Enter '55' Enter '05/21' Enter "
	          "'to the reclaimer' Enter 'N-8' Enter Up");
	desk_look(&desk, "cylinders", false);
}
END_TEST

Suite *cylinders_suite(void)
{
	Suite *suite = suite_create("cylinders");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, on_the_page, put_away);
	tcase_add_test(keys, a_cylinder_is_written_and_says_how_much_more_goes_in);
	tcase_add_test(keys, a_light_refrigerant_fills_it_sooner);
	tcase_add_test(keys, what_was_weighed_in_came_out_of_it);
	tcase_add_test(keys, a_pressure_test_past_its_time_is_said);
	tcase_add_test(keys, weights_in_si_are_kilograms);
	tcase_add_test(keys, what_the_charge_log_moved_stands_beside_it);
	tcase_add_test(keys, a_cylinder_taken_out_comes_back);
	tcase_add_test(keys, the_office_reads_where_the_gas_went);
	tcase_add_test(keys, the_page_at_both_sizes);
	suite_add_tcase(suite, keys);
	return suite;
}
