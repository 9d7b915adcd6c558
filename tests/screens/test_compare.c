/* As found, as left and the last visit side by side; and what is refused when the call is left. */
#include <check.h>
#include <string.h>

#include "support/desk.h"

Suite *compare_suite(void);

static struct desk desk;

static void on_a_call(void)
{
	desk_open(&desk);
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter F3");
	desk_write(&desk, "compressor motor", "psc");
	desk_write(&desk, "run capacitor", "45");
}

static void put_away(void)
{
	desk_close(&desk);
}

/* The first row of the page on which words stand; -1 for none. */
static int row_of(const char *words)
{
	const struct canvas *canvas = workbook_draw(desk.workbook);
	struct text row;
	int found = -1;

	text_init(&row);
	for (int i = 0; i < canvas_rows(canvas) && found < 0; i++) {
		text_clear(&row);
		for (int j = 0; j < canvas_columns(canvas); j++)
			if (canvas_at(canvas, i, j)->character)
				text_add_character(&row, canvas_at(canvas, i, j)->character);
		if (strstr(text_get(&row), words))
			found = i;
	}
	text_done(&row);
	return found;
}

START_TEST(what_is_out_of_place_stands_first)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "238");
	desk_write(&desk, "run capacitor", "44.9");
	desk_go(&desk, "line voltage");
	desk_keys(&desk, "Right '239' Enter");
	desk_go(&desk, "run capacitor");
	desk_keys(&desk, "'30' Enter Alt+c");
	ck_assert(desk_shows(&desk, "as found"));
	ck_assert(desk_shows(&desk, "as left"));
	ck_assert_int_ge(row_of("run capacitor deviation"), 0);
	ck_assert_int_lt(row_of("run capacitor deviation"), row_of("line voltage"));
	ck_assert(desk_shows(&desk, "↓ 14.9"));
	/* There is nothing to type into: letters hide no line. */
	desk_keys(&desk, "'zzz'");
	ck_assert_int_ge(row_of("run capacitor deviation"), 0);
	/* One volt is within the meter. */

	ck_assert(desk_shows(&desk, "239.0 V     ="));
}
END_TEST

START_TEST(the_last_visit_stands_beside_them)
{
	struct error error;

	desk_keys(&desk, "F5");
	desk_write(&desk, "run capacitor", "44.8");
	const struct uid unit = desk_call(&desk)->system.uid;
	desk_wait(&desk, 24 * 60);
	ck_assert(session_start(desk.session, NULL, NULL, &unit, &error) == STATUS_OK);
	desk_keys(&desk, "F2 F5");
	desk_write(&desk, "run capacitor", "31");
	desk_keys(&desk, "Alt+c");
	ck_assert(desk_shows(&desk, "2026-07-14"));
	ck_assert(desk_shows(&desk, "44.8 µF"));
	ck_assert(desk_shows(&desk, "↓ 13.8"));
	desk_keys(&desk, "Esc");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_ELECTRICAL);
}
END_TEST

START_TEST(one_value_alone_compares_nothing)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "238");
	desk_keys(&desk, "Alt+c");
	ck_assert(desk_shows(&desk, "Nothing was read twice yet"));
}
END_TEST

/* ---- A customer whom the book knows ---- */

/* Any way of writing the number finds them. */
START_TEST(a_known_number_offers_the_customer)
{
	desk_keys(&desk, "F2 Home Down '555-0142' Enter Ctrl+B");
	desk_keys(&desk, "Ctrl+N Down '(555) 0142' Enter");
	ck_assert(desk_shows(&desk, "The book knows Mara Quill"));
	desk_keys(&desk, "Alt+k");
	ck_assert(desk_shows(&desk, "Addresses and units"));
	ck_assert(desk_shows(&desk, "Mara Quill"));
}
END_TEST

START_TEST(a_known_name_offers_the_customer_and_an_unknown_one_does_not)
{
	desk_keys(&desk, "Ctrl+B Ctrl+N 'Otto Brandt' Enter");
	ck_assert(!desk_shows(&desk, "The book knows"));
	desk_keys(&desk, "Alt+k");
	ck_assert(desk_shows(&desk, "no other customer"));
	desk_keys(&desk, "Home 'mara quill' Enter");
	ck_assert(desk_shows(&desk, "The book knows Mara Quill"));
}
END_TEST

/* ---- What is refused is not lost ---- */

static void with_a_refused_value(void)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "11888");
	ck_assert(desk_shows(&desk, "11888"));
}

START_TEST(leaving_the_call_says_what_is_not_kept)
{
	with_a_refused_value();
	desk_keys(&desk, "Ctrl+B");
	ck_assert(desk_shows(&desk, "Not kept: suction pressure \"11888\""));
	ck_assert_ptr_nonnull(session_call(desk.session));
	desk_keys(&desk, "Ctrl+B");
	ck_assert_ptr_null(session_call(desk.session));
	/* It stands there again, and nothing of it went anywhere else. */
	desk_keys(&desk, "Enter F8");
	ck_assert(desk_shows(&desk, "11888"));
	ck_assert_str_eq(desk_call(&desk)->office_note, "");
}
END_TEST

START_TEST(ending_says_it_once)
{
	with_a_refused_value();
	desk_keys(&desk, "Ctrl+Q");
	ck_assert(!workbook_is_over(desk.workbook));
	desk_keys(&desk, "Ctrl+Q");
	ck_assert(workbook_is_over(desk.workbook));
	ck_assert_str_eq(session_pending_at(desk.session, 0)->text, "11888");
}
END_TEST

/* Nobody can be asked when the terminal goes: what is being written is kept, or held. */
START_TEST(a_vanished_terminal_loses_nothing)
{
	with_a_refused_value();
	desk_keys(&desk, "Down '52'");
	workbook_press(desk.workbook, key_press(PRESS_CLOSE));
	ck_assert(workbook_is_over(desk.workbook));
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_SUCTION_LINE_TEMP));
	ck_assert_str_eq(session_pending_at(desk.session, 0)->text, "11888");
}
END_TEST

/* A refused text is replaced by the next character, or edited by an edit key; nothing is glued on. */
START_TEST(a_refused_text_is_replaced_or_edited)
{
	with_a_refused_value();
	desk_keys(&desk, "'118' Enter");
	ck_assert_double_eq(visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND,
	                                READING_SUCTION_PRESSURE)->number, 118);
	desk_write(&desk, "suction pressure", "1199");
	desk_keys(&desk, "Left Del Enter");
	ck_assert_double_eq(visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND,
	                                READING_SUCTION_PRESSURE)->number, 119);
}
END_TEST

Suite *compare_suite(void)
{
	Suite *suite = suite_create("compare");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, on_a_call, put_away);
	tcase_add_test(keys, what_is_out_of_place_stands_first);
	tcase_add_test(keys, the_last_visit_stands_beside_them);
	tcase_add_test(keys, one_value_alone_compares_nothing);
	tcase_add_test(keys, a_known_number_offers_the_customer);
	tcase_add_test(keys, a_known_name_offers_the_customer_and_an_unknown_one_does_not);
	tcase_add_test(keys, leaving_the_call_says_what_is_not_kept);
	tcase_add_test(keys, ending_says_it_once);
	tcase_add_test(keys, a_vanished_terminal_loses_nothing);
	tcase_add_test(keys, a_refused_text_is_replaced_or_edited);
	suite_add_tcase(suite, keys);
	return suite;
}
