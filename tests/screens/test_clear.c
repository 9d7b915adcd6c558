/*
 * What a page says of itself: which list and which stage one is in, what has
 * not settled, what is dangerous before it is done, who judged and when.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "support/canvas_dump.h"
#include "support/desk.h"

Suite *clear_suite(void);

static struct desk desk;

static void on_a_call(void)
{
	desk_open_on_call(&desk);
}

static void put_away(void)
{
	desk_close(&desk);
}

/* ---- Power ---- */

/* The power state stands on every page of a call, also where nothing is recorded yet. */
START_TEST(the_power_state_stands_on_every_page)
{
	static const char *const pages[] = {
		"F2", "F3", "F4", "F5", "F6", "F7", "F8", "F9", "F10", "F11", "F12", "Ctrl+P", "Alt+c", "Alt+v",
		"Alt+g", "Alt+l", "Alt+w", "Ctrl+O", "Ctrl+G", "Esc F1",
	};

	for (size_t i = 0; i < sizeof pages / sizeof *pages; i++) {
		desk_keys(&desk, pages[i]);
		ck_assert_msg(desk_shows(&desk, " not recorded as safe"), "%s", pages[i]);
	}
	desk_keys(&desk, "Esc Ctrl+B");
	ck_assert(!desk_shows(&desk, "not recorded as safe"));
}
END_TEST

/* Common practice: resistance is read on a dead circuit; the warning comes before the meter. */
START_TEST(resistance_is_warned_of_before_it_is_written)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "240");
	desk_keys(&desk, "F6");
	desk_go(&desk, "common – run");
	ck_assert(desk_shows(&desk, "By the record: power on. Lock out"));
	desk_go(&desk, "windings to shell");
	ck_assert(desk_shows(&desk, "By the record: power on."));
	desk_wait(&desk, 1);
	desk_keys(&desk, "F4 Home Space Space Space Space Space Space F6");
	desk_go(&desk, "common – run");
	ck_assert(!desk_shows(&desk, "By what is written"));
}
END_TEST

/* A breaker that tripped is not closed again before the windings are tested (common practice). */
START_TEST(a_compressor_is_not_started_untested_without_a_word)
{
	static const char warning[] = "not tested to the shell";

	desk_keys(&desk, "F5");
	desk_write(&desk, "breaker found tripped", "y");
	desk_keys(&desk, "F2");
	desk_go(&desk, "compressor");
	desk_keys(&desk, "Right");
	ck_assert(desk_shows(&desk, "Windings to shell (F6) first"));
	desk_keys(&desk, "'r' Enter");
	ck_assert(desk_shows(&desk, warning));
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_LEFT, READING_COMPRESSOR_STATE),
	                 CHOICE_COMPRESSOR_STATE_RUNS);
	desk_keys(&desk, "Up 'h' Enter");
	ck_assert(!desk_shows(&desk, warning));
}
END_TEST

START_TEST(a_tested_compressor_starts_without_a_word)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "breaker found tripped", "y");
	desk_keys(&desk, "F6");
	desk_write(&desk, "windings to shell", "OL");
	desk_keys(&desk, "F2");
	desk_go(&desk, "compressor");
	desk_keys(&desk, "Right 'r' Enter");
	ck_assert(!desk_shows(&desk, "to the shell"));
}
END_TEST

/* ---- Settled or not ---- */

/* RA3.2: readings count after 15 minutes of steady running. */
START_TEST(readings_of_the_first_minutes_are_marked)
{
	desk_keys(&desk, "F2");
	desk_write(&desk, "compressor", "h");
	desk_keys(&desk, "F2");
	desk_go(&desk, "compressor");
	desk_keys(&desk, "Right 'r' Enter");
	desk_wait(&desk, 4);
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	ck_assert(desk_shows(&desk, "08:09*"));
	ck_assert(desk_shows(&desk, "* not settled: read again in 11 min"));
	desk_wait(&desk, 11);
	ck_assert(desk_shows(&desk, "* was not settled: read again"));
	desk_write(&desk, "suction pressure", "119");
	ck_assert(!desk_shows(&desk, "*"));
}
END_TEST

START_TEST(the_minutes_that_were_written_count)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "minutes running", "20");
	desk_write(&desk, "suction pressure", "118");
	ck_assert(!desk_shows(&desk, "*"));
	desk_write(&desk, "minutes running", "5");
	ck_assert(desk_shows(&desk, "* not settled: read again in 10 min"));
}
END_TEST

/* Common practice: what the refrigerant reads before work on it is as found, whatever was repaired. */
START_TEST(a_first_reading_of_the_refrigerant_belongs_to_as_found)
{
	static const char hint[] = "Nothing was done to the refrigerant yet: what it reads now is as found.";

	desk_keys(&desk, "F8");
	desk_go(&desk, "suction pressure");
	ck_assert(!desk_shows(&desk, hint));
	desk_keys(&desk, "Right");
	ck_assert(desk_shows(&desk, hint));
	desk_go(&desk, "minutes running");
	ck_assert(!desk_shows(&desk, hint));
	/* Read as found, what follows is as left. */
	desk_keys(&desk, "Left");
	desk_write(&desk, "suction pressure", "95");
	desk_go(&desk, "liquid pressure");
	desk_keys(&desk, "Right");
	ck_assert(!desk_shows(&desk, hint));
}
END_TEST

/* ---- Findings ---- */

/* What the work did not clear is open, and where one looks first. */
START_TEST(the_findings_open_where_something_is_open)
{
	desk_keys(&desk, "F9");
	desk_write(&desk, "filter", "b");
	desk_keys(&desk, "F10");
	ck_assert(desk_shows(&desk, "Findings, as found"));
	desk_keys(&desk, "F5 Right");
	desk_wait(&desk, 5);
	desk_write(&desk, "line voltage", "240");
	desk_keys(&desk, "F10");
	ck_assert(desk_shows(&desk, "Findings, as found") && desk_shows(&desk, "not tested again"));
	desk_keys(&desk, "Right");
	ck_assert(desk_shows(&desk, "Findings, as left") && desk_shows(&desk, "as found: 2 open, Left shows them"));
}
END_TEST

/* The leak's row was folded away while the next check split what the technician had settled. */
START_TEST(low_charge_that_is_confirmed_goes_on_to_where_the_leak_is)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_write(&desk, "metering device", "fixed orifice");
	desk_write(&desk, "nominal capacity", "3");
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "runs");
	desk_keys(&desk, "F8");
	desk_write(&desk, "outdoor dry bulb", "88");
	desk_write(&desk, "suction pressure", "110");
	desk_write(&desk, "suction line", "60");
	desk_write(&desk, "liquid pressure", "345");
	desk_write(&desk, "liquid line", "100");
	desk_keys(&desk, "F9");
	desk_write(&desk, "return dry bulb", "78");
	desk_keys(&desk, "F10");
	ck_assert(desk_shows(&desk, "low refrigerant charge or"));
	desk_keys(&desk, "'c'");
	ck_assert(!desk_shows(&desk, "low refrigerant charge or"));
	ck_assert(desk_shows(&desk, "1 leak found at"));
	desk_keys(&desk, "Ctrl+R");
	ck_assert(desk_shows(&desk, "Where the leak is, e.g. flare at the liquid valve."));
}
END_TEST

/* Makers of blower motors: power off 5 minutes before the module is unplugged, never live. */
START_TEST(a_blower_with_a_module_is_led_to_its_volts_with_the_caution)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "blower motor", "constant torque");
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "runs");
	desk_write(&desk, "blower", "silent");
	desk_keys(&desk, "F5");
	desk_write(&desk, "call at indoor unit", "y");
	desk_keys(&desk, "Ctrl+R");
	ck_assert(desk_shows(&desk, "Line volts at the motor's plug, door switch closed. Never unplug it live."));
	desk_keys(&desk, "F1");
	ck_assert(desk_shows(&desk, "its capacitors stay charged"));
}
END_TEST

START_TEST(a_judgement_says_who_and_when)
{
	desk_keys(&desk, "F9");
	desk_write(&desk, "filter", "b");
	desk_keys(&desk, "F10 'c'");
	ck_assert(desk_shows(&desk, "confirmed 08:05, no technician named"));
	desk_wait(&desk, 24 * 60);
	ck_assert(desk_shows(&desk, "confirmed 2026-07-14 08:05, no technician named"));
	desk_keys(&desk, "F2 Alt+m");
	desk_write(&desk, "technician", "Ann Reyes");
	desk_keys(&desk, "F10 'w'");
	ck_assert(desk_shows(&desk, "watched 08:05, by Ann Reyes"));
}
END_TEST

/* A narrow page turns a long sentence over, it never cuts it. */
START_TEST(a_narrow_page_tells_whole_sentences)
{
	workbook_resize(desk.workbook, 20, 60);
	desk_keys(&desk, "F10");
	ck_assert(desk_shows(&desk, "sound.") && !desk_shows(&desk, "to call the un…"));
	workbook_resize(desk.workbook, 40, 120);
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	ck_assert(desk_shows(&desk, "refrigerant was not taken"));
}
END_TEST

/* ---- Comparing, folding ---- */

/* Tons and rated amps do not change by the work: nothing of them is compared. */
START_TEST(the_nameplate_is_not_compared)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "nominal capacity", "3");
	desk_write(&desk, "factory charge", "104");
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "240");
	desk_keys(&desk, "F5 Right");
	desk_write(&desk, "line voltage", "238");
	desk_keys(&desk, "Alt+c");
	ck_assert(desk_shows(&desk, "line voltage"));
	ck_assert(!desk_shows(&desk, "SEER") && !desk_shows(&desk, "104"));
}
END_TEST

START_TEST(folded_rows_name_their_key_and_open_where_all_have_room)
{
	desk_keys(&desk, "F2 End");
	ck_assert(desk_shows(&desk, "10 more, Alt+m: "));
	workbook_resize(desk.workbook, 40, 120);
	ck_assert(!desk_shows(&desk, "more, Alt+m") && desk_shows(&desk, "licence"));
	workbook_resize(desk.workbook, 24, 80);
	ck_assert(desk_shows(&desk, "10 more, Alt+m: "));
}
END_TEST

/* The words stood in the help and behind it, and the keys had no room for Enter. */
START_TEST(a_hint_says_its_words_once)
{
	workbook_resize(desk.workbook, 24, 80);
	desk_keys(&desk, "F8 Home");
	ck_assert(desk_shows(&desk, "clean, dirty or blocked"));
	ck_assert(!desk_shows(&desk, "One of clean, dirty"));
	ck_assert(desk_shows(&desk, "Enter next"));
	/* Where the help does not name them they are told. */
	desk_keys(&desk, "F9 Home");
	ck_assert(desk_shows(&desk, "One of clean, loaded, blocked"));
}
END_TEST

/* A page that became smaller while a folded row was written in kept the text nowhere: it fell. */
START_TEST(a_row_being_written_in_stays_on_a_smaller_page)
{
	desk_keys(&desk, "F2");
	workbook_resize(desk.workbook, 40, 120);
	desk_shows(&desk, "licence");
	desk_keys(&desk, "End");
	desk_keys(&desk, "'4711'");
	workbook_resize(desk.workbook, 24, 80);
	desk_shows(&desk, "4711");
	desk_keys(&desk, "F3 F2");
	workbook_resize(desk.workbook, 40, 120);
	ck_assert(desk_shows(&desk, "4711"));
}
END_TEST

/* A value is never cut: what stands behind it makes room. */
START_TEST(a_long_value_has_its_unit)
{
	desk_keys(&desk, "F9");
	desk_write(&desk, "return static", "-0.21");
	desk_write(&desk, "supply static", "0.25");
	ck_assert(desk_shows(&desk, "0.46 ±0.01 in. w.c. "));
}
END_TEST

/* ---- Lists and logs ---- */

/* The heads of numbers stand over their ends, with the unit that is typed. */
START_TEST(the_heads_of_a_log_stand_over_its_columns)
{
	desk_keys(&desk, "Alt+g 'C1' Enter 'r-410' Enter '47.7' Enter '28' Enter '40' Enter");
	ck_assert(desk_shows(&desk, " cylinder   holds       WC lb  tare lb weight lb tested"));
	ck_assert(desk_shows(&desk, "✓C1         R-410A       47.7     28.0      40.0 "));
	desk_keys(&desk, "Ctrl+T");
	ck_assert(desk_shows(&desk, "WC kg  tare kg weight kg"));
	desk_keys(&desk, "Esc Alt+v");
	ck_assert(desk_shows(&desk, " press. kPa temp. °C  microns  weigh-in g"));
	desk_keys(&desk, "Ctrl+T");
	ck_assert(desk_shows(&desk, "press. psig temp. °F  microns weigh-in oz"));
	workbook_resize(desk.workbook, 20, 60);
	ck_assert(desk_shows(&desk, "weigh-in oz"));
}
END_TEST

/* kPa alone could be absolute: where circuit pressures stand it is said. */
START_TEST(gauge_pressures_are_called_so)
{
	desk_keys(&desk, "Ctrl+T F8");
	ck_assert(desk_shows(&desk, "Refrigerant, kPa gauge"));
	desk_keys(&desk, "F12");
	ck_assert(desk_shows(&desk, "kPa gauge"));
	desk_keys(&desk, "Ctrl+T F8");
	ck_assert(!desk_shows(&desk, "gauge"));
}
END_TEST

/* The list of changes calls a field as its page does, with the year where it is another one. */
START_TEST(changes_are_told_in_the_words_of_the_page)
{
	desk_keys(&desk, "F11 'New unit' Enter '8700' Enter Down '12' Enter '15' Enter '16' Enter Ctrl+P "
	          "'All is well' Enter Alt+w");
	ck_assert(desk_shows(&desk, "an option: lasts from, years") && desk_shows(&desk, "an option: SEER"));
	ck_assert(desk_shows(&desk, "in plain words") && !desk_shows(&desk, "years low"));
	ck_assert(desk_shows(&desk, " 07-14 08:05 "));
	desk_wait(&desk, 365 * 24 * 60);
	ck_assert(desk_shows(&desk, " 2026-07-14 08:05 "));
}
END_TEST

START_TEST(nothing_changed_in_two_books_has_no_count)
{
	desk_keys(&desk, "Alt+q");
	ck_assert(desk_shows(&desk, "Changed in two books") && !desk_shows(&desk, "(0)"));
	ck_assert(!desk_shows(&desk, "Ask who was there"));
}
END_TEST

START_TEST(esc_clears_what_the_book_was_searched_for)
{
	desk_keys(&desk, "Ctrl+B 'quill' Enter Ctrl+B");
	ck_assert(desk_shows(&desk, "Esc lists all again"));
	desk_keys(&desk, "Esc");
	ck_assert(!desk_shows(&desk, "quill") && !desk_shows(&desk, "Esc lists all"));
	ck_assert(desk_shows(&desk, "Mara Quill"));
}
END_TEST

START_TEST(help_says_what_can_be_done_with_what_was_taken_out)
{
	desk_keys(&desk, "Ctrl+B Alt+o");
	ck_assert(desk_shows(&desk, "Enter bring back"));
	desk_keys(&desk, "F1");
	ck_assert(desk_shows(&desk, "bring back what was taken out by mistake"));
}
END_TEST

/* A visit on which nothing was read compares nothing: it is not where one begins. */
START_TEST(the_history_opens_on_a_visit_that_was_read)
{
	struct desk demo;
	struct error error = { .text = "" };

	desk_open_demo(&demo);
	desk_keys(&demo, "Enter");
	const struct uid unit = desk_call(&demo)->system.uid;
	ck_assert(session_start(demo.session, NULL, NULL, &unit, &error) == STATUS_OK);
	desk_keys(&demo, "F2 Ctrl+O Tab");
	ck_assert(desk_shows(&demo, "superheat"));
	ck_assert(!desk_shows(&demo, "Nothing was read in both"));
	desk_close(&demo);
}
END_TEST

/* The page keys page what the leaf shows: here the readings and figures. */
START_TEST(the_figures_of_the_history_are_paged)
{
	struct desk demo;
	struct text before, after;

	desk_open_demo(&demo);
	desk_keys(&demo, "Enter Ctrl+O Home");
	text_init(&before);
	text_init(&after);
	canvas_dump(workbook_draw(demo.workbook), &before);
	desk_keys(&demo, "PgDn");
	canvas_dump(workbook_draw(demo.workbook), &after);
	ck_assert_str_ne(text_get(&before), text_get(&after));
	desk_keys(&demo, "PgUp");
	text_clear(&after);
	canvas_dump(workbook_draw(demo.workbook), &after);
	ck_assert_str_eq(text_get(&before), text_get(&after));
	text_done(&before);
	text_done(&after);
	desk_close(&demo);
}
END_TEST

Suite *clear_suite(void)
{
	Suite *suite = suite_create("clear");
	TCase *pages = tcase_create("pages");

	tcase_set_timeout(pages, 60);
	tcase_add_checked_fixture(pages, on_a_call, put_away);
	tcase_add_test(pages, the_power_state_stands_on_every_page);
	tcase_add_test(pages, resistance_is_warned_of_before_it_is_written);
	tcase_add_test(pages, a_compressor_is_not_started_untested_without_a_word);
	tcase_add_test(pages, a_tested_compressor_starts_without_a_word);
	tcase_add_test(pages, readings_of_the_first_minutes_are_marked);
	tcase_add_test(pages, the_minutes_that_were_written_count);
	tcase_add_test(pages, a_first_reading_of_the_refrigerant_belongs_to_as_found);
	tcase_add_test(pages, the_findings_open_where_something_is_open);
	tcase_add_test(pages, low_charge_that_is_confirmed_goes_on_to_where_the_leak_is);
	tcase_add_test(pages, a_blower_with_a_module_is_led_to_its_volts_with_the_caution);
	tcase_add_test(pages, a_judgement_says_who_and_when);
	tcase_add_test(pages, a_narrow_page_tells_whole_sentences);
	tcase_add_test(pages, the_nameplate_is_not_compared);
	tcase_add_test(pages, folded_rows_name_their_key_and_open_where_all_have_room);
	tcase_add_test(pages, a_hint_says_its_words_once);
	tcase_add_test(pages, a_row_being_written_in_stays_on_a_smaller_page);
	tcase_add_test(pages, a_long_value_has_its_unit);
	tcase_add_test(pages, the_heads_of_a_log_stand_over_its_columns);
	tcase_add_test(pages, gauge_pressures_are_called_so);
	tcase_add_test(pages, changes_are_told_in_the_words_of_the_page);
	tcase_add_test(pages, nothing_changed_in_two_books_has_no_count);
	tcase_add_test(pages, esc_clears_what_the_book_was_searched_for);
	tcase_add_test(pages, help_says_what_can_be_done_with_what_was_taken_out);
	tcase_add_test(pages, the_history_opens_on_a_visit_that_was_read);
	tcase_add_test(pages, the_figures_of_the_history_are_paged);
	suite_add_tcase(suite, pages);
	return suite;
}
