/* Choices, work and paper by keys: what is kept, refused, taken back, written. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support/canvas_dump.h"
#include "support/desk.h"
#include "support/scratch.h"

Suite *pages_suite(void);

static struct desk desk;

static void on_a_call(void)
{
	desk_open_on_call(&desk);
}

static void put_away(void)
{
	desk_close(&desk);
}

/* ---- Choices ---- */

static const struct offer *offer(size_t index)
{
	ck_assert_uint_lt(index, desk_call(&desk)->offer_count);
	return &desk_call(&desk)->offers[index];
}

START_TEST(a_choice_begins_with_its_first_word)
{
	desk_keys(&desk, "F11 Enter Enter Down");
	ck_assert_uint_eq(desk_call(&desk)->offer_count, 0);
	desk_keys(&desk, "Home 'Clean the coil' Enter");
	ck_assert_uint_eq(desk_call(&desk)->offer_count, 1);
	ck_assert_str_eq(offer(0)->title, "Clean the coil");
}
END_TEST

/* It stopped at the note, above the hours and the rate: End goes to the last field everywhere. */
START_TEST(the_end_of_the_options_is_their_last_field)
{
	desk_keys(&desk, "F11 'Clean the coil' Enter End '16.5' Enter");
	ck_assert_double_eq_tol(desk_call(&desk)->billing.energy_rate, 16.5, 1e-9);
	ck_assert_str_eq(offer(0)->note, "");
	desk_keys(&desk, "Home '!' Enter End End");
	ck_assert(desk_shows(&desk, "cents"));
}
END_TEST

START_TEST(a_fixed_price_stays_fixed_until_it_has_a_range)
{
	desk_keys(&desk, "F11 Down '385' Enter");
	ck_assert_int_eq(offer(0)->price_low, 38500);
	ck_assert_int_eq(offer(0)->price_high, 38500);
	desk_keys(&desk, "Up '395' Enter");
	ck_assert_int_eq(offer(0)->price_high, 39500);
	desk_keys(&desk, "'420' Enter Up Up '400' Enter");
	ck_assert_int_eq(offer(0)->price_low, 40000);
	ck_assert_int_eq(offer(0)->price_high, 42000);
}
END_TEST

/* "from" 4,500 became 3,900 without a word when that was typed as "to". */
START_TEST(no_end_of_a_range_changes_the_other)
{
	desk_keys(&desk, "F11 Down '4500' Enter");
	ck_assert(desk_shows(&desk, "a fixed price: from and to are both 4,500.00"));
	desk_keys(&desk, "'3900' Enter");
	ck_assert(desk_shows(&desk, "price to would be below price from, which is 4,500.00"));
	ck_assert_int_eq(offer(0)->price_low, 450000);
	ck_assert_int_eq(offer(0)->price_high, 450000);
	desk_keys(&desk, "Esc '5200' Enter Up Up '6000' Enter");
	ck_assert(desk_shows(&desk, "price from would be above price to, which is 5,200.00"));
	ck_assert_int_eq(offer(0)->price_low, 450000);
	ck_assert_int_eq(offer(0)->price_high, 520000);
	desk_keys(&desk, "Esc Down Del");
	ck_assert_int_eq(offer(0)->price_low, 450000);
	ck_assert_int_eq(offer(0)->price_high, 450000);
	desk_keys(&desk, "Down '8' Enter '12' Enter Up Up '15' Enter");
	ck_assert(desk_shows(&desk, "lasts from, years would be above lasts to, which is 12"));
	ck_assert_double_eq(offer(0)->years_low, 8);
	ck_assert_double_eq(offer(0)->years_high, 12);
}
END_TEST

START_TEST(a_refused_amount_stays_in_its_line)
{
	desk_keys(&desk, "F11 Down '385' Enter '4o0' Enter");
	ck_assert(desk_shows(&desk, "4o0"));
	ck_assert(desk_shows(&desk, "type an amount like 12.50"));
	ck_assert_int_eq(offer(0)->price_high, 38500);
	desk_keys(&desk, "Esc Del");
	ck_assert(!desk_shows(&desk, "4o0"));
}
END_TEST

START_TEST(a_decision_is_kept_with_who_and_when)
{
	desk_keys(&desk, "F11 'New motor' Enter");
	desk_wait(&desk, 7);
	desk_go(&desk, "the customer");
	desk_keys(&desk, "'acc' Enter");
	ck_assert_int_eq(offer(0)->decision, DECISION_ACCEPTED);
	ck_assert_int_eq(offer(0)->decided_at, desk.now);
	ck_assert(desk_shows(&desk, "Kept as accepted, with no price typed. Who said so? Type the name."));
	desk_keys(&desk, "'Joe Quill' Enter");
	ck_assert_str_eq(offer(0)->decided_by, "Joe Quill");
	desk_keys(&desk, "Up Up Del");
	ck_assert_int_eq(offer(0)->decision, DECISION_NONE);
	ck_assert_int_eq(offer(0)->decided_at, WALL_TIME_NONE);
}
END_TEST

/* One of a few words, by its start, in any case; the thumb on Space accepts nothing. */
START_TEST(a_decision_is_typed)
{
	desk_keys(&desk, "F11 'New motor' Enter");
	desk_go(&desk, "the customer");
	desk_keys(&desk, "Space");
	ck_assert_int_eq(offer(0)->decision, DECISION_NONE);
	ck_assert_str_eq(offer(0)->decided_by, "");
	ck_assert(desk_shows(&desk, "the customer: type the word, or its first letter"));
	ck_assert(!desk_shows(&desk, "next word"));
	desk_keys(&desk, "'a' Enter Up 'u' Enter Up");
	ck_assert_int_eq(offer(0)->decision, DECISION_NONE);
	desk_keys(&desk, "'DEC' Enter Up");
	ck_assert_int_eq(offer(0)->decision, DECISION_DECLINED);
	desk_keys(&desk, "'x' Enter");
	ck_assert_int_eq(offer(0)->decision, DECISION_DECLINED);
	ck_assert(desk_shows(&desk, "one of undecided, accepted, declined"));
	desk_keys(&desk, "Esc Del");
	ck_assert_int_eq(offer(0)->decision, DECISION_NONE);
}
END_TEST

START_TEST(a_choice_taken_out_comes_back)
{
	desk_keys(&desk, "F11 'New motor' Enter Ctrl+N 'New machine' Enter Left Ctrl+X");
	ck_assert_uint_eq(desk_call(&desk)->offer_count, 1);
	ck_assert_str_eq(offer(0)->title, "New machine");
	desk_keys(&desk, "Ctrl+_");
	ck_assert_uint_eq(desk_call(&desk)->offer_count, 2);
	/* At its place, as the book has it when the call is opened again. */
	ck_assert_str_eq(offer(0)->title, "New motor");
	ck_assert(desk_shows(&desk, "taken back: an option"));
	desk_keys(&desk, "Ctrl+B Enter");
	ck_assert_str_eq(offer(0)->title, "New motor");
	ck_assert_str_eq(offer(1)->title, "New machine");
}
END_TEST

START_TEST(what_was_declined_earlier_stands_below)
{
	struct error error = { .text = "" };

	desk_keys(&desk, "F11 'New machine' Enter");
	desk_go(&desk, "the customer");
	desk_keys(&desk, "'d' Enter");
	ck_assert_int_eq(offer(0)->decision, DECISION_DECLINED);
	const struct uid customer = desk_call(&desk)->customer.uid, site = desk_call(&desk)->site.uid;
	const struct uid machine = desk_call(&desk)->system.uid;
	desk_wait(&desk, 24 * 60);
	ck_assert(session_start(desk.session, &customer, &site, &machine, &error) == STATUS_OK);
	desk_keys(&desk, "F2 F11");
	ck_assert_uint_eq(desk_call(&desk)->offer_count, 0);
	ck_assert(desk_shows(&desk, "declined earlier, 2026-07-14: New machine"));
}
END_TEST

/* ---- Work ---- */

static const struct work_line *line(size_t index)
{
	ck_assert_uint_lt(index, desk_call(&desk)->work_count);
	return &desk_call(&desk)->work[index];
}

START_TEST(a_price_is_found_while_typing)
{
	desk_keys(&desk, "F12 Tab 'capacitor 45'");
	ck_assert(desk_shows(&desk, "CAP-45"));
	desk_keys(&desk, "Down Enter '2' Enter");
	ck_assert_int_eq(line(0)->kind, WORK_PART);
	ck_assert_int_eq(line(0)->unit_price, 3450);
	ck_assert_int_eq(line(0)->quantity, 2000);
	ck_assert(desk_shows(&desk, "69.00"));
	ck_assert(!desk_shows(&desk, "CAP-45"));
}
END_TEST

/* What the line is counted in may stand behind the number; another unit is another thing. */
START_TEST(a_quantity_takes_its_unit)
{
	desk_keys(&desk, "F12 Tab 'Set the charge' Enter '1 h' Enter '110' Enter");
	ck_assert_int_eq(line(0)->quantity, 1000);
	desk_keys(&desk, "Left Left '1.5 hours' Enter");
	ck_assert_int_eq(line(0)->quantity, 1500);
	desk_keys(&desk, "Left '2 oz' Enter");
	ck_assert(desk_shows(&desk, "this line counts by the hour"));
	ck_assert_int_eq(line(0)->quantity, 1500);
	desk_keys(&desk, "Esc Ctrl+N Left 'p' Enter 'Filter' Enter '3 pcs' Enter");
	ck_assert_int_eq(line(1)->quantity, 3000);
}
END_TEST

/* Space never chooses anything that nobody asked for: it drops what was refused. */
START_TEST(space_on_a_refused_value_changes_nothing)
{
	desk_keys(&desk, "F12 Tab 'Filter' Enter '1' Enter '9' Enter 'often' Enter");
	ck_assert(desk_shows(&desk, "often"));
	ck_assert(desk_shows(&desk, "Not kept: charged or free"));
	desk_keys(&desk, "Space");
	ck_assert(!desk_shows(&desk, "often") && !line(0)->no_charge);
	desk_keys(&desk, "Space");
	ck_assert(line(0)->no_charge);
	desk_keys(&desk, "Left 'zz' Enter Space");
	ck_assert(!desk_shows(&desk, "zz"));
	ck_assert_int_eq(line(0)->unit_price, 900);
}
END_TEST

/* The heading of the list that the cursor is in is reversed. */
START_TEST(the_list_under_the_cursor_is_marked)
{
	static const char *const titles[] = { "Charge log", "Work", "Money" };

	desk_keys(&desk, "F12");
	for (int part = 0; part < 3; part++) {
		const struct canvas *canvas = workbook_draw(desk.workbook);
		for (int row = 1; row < canvas_rows(canvas); row++) {
			const struct canvas_cell *cell = canvas_at(canvas, row, 1);
			for (int i = 0; i < 3; i++)
				if (cell->character == (uint32_t)titles[i][0] && (cell->style & STYLE_INK) == INK_TITLE)
					ck_assert_int_eq((cell->style & STYLE_REVERSE) != 0, i == part);
		}
		desk_keys(&desk, "Tab");
	}
}
END_TEST

/* Every sum stands whole on the narrowest page. */
START_TEST(a_narrow_page_cuts_no_amount)
{
	desk_keys(&desk, "F12 Tab 'Set the charge' Enter '1' Enter '1326.90' Enter Ctrl+N 'Filter' Enter '1' "
	          "Enter '19' Enter 'free' Enter Tab '5' Enter '100' Enter '7.25' Enter");
	workbook_resize(desk.workbook, 20, 60);
	ck_assert(desk_shows(&desk, "to pay $1,251.94"));
	ck_assert(desk_shows(&desk, "work 1,326.90") && desk_shows(&desk, "tax 91.39"));
	ck_assert(desk_shows(&desk, "given free 19.00") && desk_shows(&desk, "paid already -100.00"));
	ck_assert(desk_shows(&desk, "tax on fees"));
	/* A column of the log that has no room gives way to the one under the cursor. */
	desk_keys(&desk, "Tab Right Right Right Right Right Right Right Right '71'");
	ck_assert(desk_shows(&desk, "71"));
}
END_TEST

/* Where lines are above or below, a mark says so. */
START_TEST(lines_out_of_sight_are_marked)
{
	desk_keys(&desk, "F12 Tab");
	ck_assert(!desk_shows(&desk, "↑"));
	for (int i = 0; i < 9; i++)
		desk_keys(&desk, "Ctrl+N 'Filter' Enter '1' Enter '19' Enter");
	desk_keys(&desk, "Tab");
	ck_assert(desk_shows(&desk, "↑"));
	desk_keys(&desk, "Shift+Tab Up Up Up Up Up Up Up Up Up");
	ck_assert(desk_shows(&desk, "↓"));
}
END_TEST

START_TEST(words_of_ones_own_are_kept_as_typed)
{
	desk_keys(&desk, "F12 Tab 'capacitor 45' Enter '1' Enter '10' Enter");
	ck_assert_str_eq(line(0)->description, "capacitor 45");
	ck_assert_int_eq(line(0)->kind, WORK_LABOUR);
	ck_assert_int_eq(line(0)->unit_price, 1000);
}
END_TEST

START_TEST(an_entry_of_the_log_is_of_now)
{
	desk_keys(&desk, "F12 '3 oz' Enter");
	ck_assert_uint_eq(desk_call(&desk)->charge_count, 1);
	ck_assert_int_eq(desk_call(&desk)->charge[0].at, desk.now);
	ck_assert_double_eq(desk_call(&desk)->charge[0].added_oz, 3);
	ck_assert(desk_shows(&desk, "08:05"));
}
END_TEST

/* An earlier time moves the entry up, and the cursor goes with it. */
START_TEST(the_cursor_follows_an_entry_that_moves)
{
	desk_keys(&desk, "F12 Left '9:30' Enter '2' Enter Ctrl+N Left '8:15' Enter '1' Enter");
	ck_assert_uint_eq(desk_call(&desk)->charge_count, 2);
	ck_assert_double_eq(desk_call(&desk)->charge[0].added_oz, 1);
	ck_assert_double_eq(desk_call(&desk)->charge[1].added_oz, 2);
	desk_keys(&desk, "'0.5' Enter");
	ck_assert_double_eq(desk_call(&desk)->charge[0].recovered_oz, 0.5);
}
END_TEST

START_TEST(grams_are_shown_and_typed_in_si)
{
	desk_keys(&desk, "Ctrl+T F12 '85' Enter");
	ck_assert_double_eq_tol(desk_call(&desk)->charge[0].added_oz, 85 / 28.349523125, 1e-9);
	ck_assert(desk_shows(&desk, "added 85 g"));
	desk_keys(&desk, "Ctrl+T");
	ck_assert(desk_shows(&desk, "added 3.0 oz"));
}
END_TEST

START_TEST(an_impossible_time_is_refused)
{
	desk_keys(&desk, "F12 Left '25:00' Enter");
	ck_assert(desk_shows(&desk, "type a time like 10:35"));
	ck_assert_uint_eq(desk_call(&desk)->charge_count, 0);
	desk_keys(&desk, "Esc");
}
END_TEST

START_TEST(the_money_adds_up_as_one_types)
{
	desk_keys(&desk, "F12 Tab 'Labour, one' Down Enter '2' Enter Tab");
	ck_assert(desk_shows(&desk, "$220.00"));
	desk_keys(&desk, "'10' Enter '50' Enter");
	ck_assert_int_eq(desk_call(&desk)->billing.discount, 10000);
	ck_assert(desk_shows(&desk, "$148.00"));
	desk_keys(&desk, "'101' Enter");
	ck_assert(desk_shows(&desk, "takes 0 to 100 %"));
	desk_keys(&desk, "Esc Ctrl+_");
	ck_assert(desk_shows(&desk, "$198.00"));
}
END_TEST

START_TEST(a_line_of_the_work_comes_back)
{
	desk_keys(&desk, "F12 Tab 'Clean coil' Enter Ctrl+X");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 0);
	desk_keys(&desk, "Ctrl+_");
	ck_assert_str_eq(line(0)->description, "Clean coil");
}
END_TEST

/* Amounts that no sum can hold are said, not shown wrong. */
START_TEST(amounts_too_large_are_said)
{
	desk_keys(&desk, "F12 Tab 'Gold' Enter '100000' Enter '1000000000' Enter");
	ck_assert(desk_shows(&desk, "too large"));
}
END_TEST

/* ---- Paper ---- */

static char home[256], folder[SCRATCH_SIZE];

static void in_a_folder(void)
{
	on_a_call();
	ck_assert_ptr_nonnull(getcwd(home, sizeof home));
	scratch_make(folder);
	ck_assert_int_eq(chdir(folder), 0);
}

static void out_of_the_folder(void)
{
	ck_assert_int_eq(chdir(home), 0);
	scratch_remove(folder);
	put_away();
}

static bool file_has(const char *name, const char *words)
{
	static char bytes[65536];
	FILE *file = fopen(name, "r");

	ck_assert_msg(file != NULL, "no file %s", name);
	bytes[fread(bytes, 1, sizeof bytes - 1, file)] = '\0';
	fclose(file);
	return strstr(bytes, words) != NULL;
}

START_TEST(the_paper_is_written_and_never_over_another)
{
	static const char name[] = "padside-2026-07-14-quill.txt";
	struct stat info;

	desk_keys(&desk, "Ctrl+P 'All is well.' Enter");
	desk_go(&desk, "into the file");
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "written: "));
	ck_assert_int_eq(stat(name, &info), 0);
	ck_assert_int_eq(info.st_mode & 0777, 0600);
	ck_assert(file_has(name, "All is well."));
	desk_keys(&desk, "Home 'All is better.' Enter");
	desk_go(&desk, "into the file");
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "is there already"));
	ck_assert(file_has(name, "All is well."));
	desk_keys(&desk, "Enter");
	ck_assert(file_has(name, "All is better."));
}
END_TEST

START_TEST(format_and_reader_are_chosen)
{
	desk_keys(&desk, "Ctrl+P Down 'Knows the gate code.' Enter");
	ck_assert(!desk_shows(&desk, "Office report"));
	desk_keys(&desk, "Space");
	ck_assert(desk_shows(&desk, "Office report"));
	desk_keys(&desk, "Down 'html' Enter");
	ck_assert(desk_shows(&desk, "padside-2026-07-14-quill-office.html"));
	desk_keys(&desk, "Enter");
	ck_assert(file_has("padside-2026-07-14-quill-office.html", "Knows the gate code."));
	desk_keys(&desk, "'mine.json' Enter Up 'json' Enter Enter");
	ck_assert(file_has("mine.json", "\"office_note\""));
}
END_TEST

START_TEST(a_place_that_is_not_there_is_said)
{
	desk_keys(&desk, "Ctrl+P");
	desk_go(&desk, "into the file");
	desk_keys(&desk, "'none/such.txt' Enter Enter");
	ck_assert(desk_shows(&desk, "none/such.txt could not be written"));
}
END_TEST

START_TEST(a_call_is_closed_and_opened_again)
{
	desk_keys(&desk, "Ctrl+P");
	desk_go(&desk, "this call is");
	desk_wait(&desk, 90);
	desk_keys(&desk, "Space");
	ck_assert_int_eq(desk_call(&desk)->closed_at, desk.now);
	ck_assert(desk_shows(&desk, "2026-07-14 09:35"));
	desk_keys(&desk, "Space");
	ck_assert_int_eq(desk_call(&desk)->closed_at, WALL_TIME_NONE);
}
END_TEST

START_TEST(the_paper_can_be_read_to_its_end)
{
	desk_keys(&desk, "Ctrl+P Tab");
	ck_assert(!desk_shows(&desk, "come before anything in this"));
	desk_keys(&desk, "End");
	ck_assert(desk_shows(&desk, "come before anything in this"));
	desk_keys(&desk, "Home Up");
	ck_assert(desk_shows(&desk, "Service report"));
	desk_keys(&desk, "'open' Enter");
	ck_assert_int_eq(desk_call(&desk)->closed_at, WALL_TIME_NONE);
}
END_TEST

/* A line of the report ends before the bar, as wide as the window is; the file keeps its 80. */
START_TEST(nothing_of_the_report_is_under_the_bar)
{
	static const int columns[] = { 60, 80, 120 };
	static const char words[] =
		"abcde abcde abcde abcde abcde abcde abcde abcde abcde abcde abcde abcde abcdeZ";

	workbook_resize(desk.workbook, 24, columns[_i]);
	desk_write(&desk, "complaint", words);
	desk_keys(&desk, "Ctrl+P Tab");
	ck_assert(desk_shows(&desk, "What you told us"));
	desk_keys(&desk, "Down Down Down Down");
	ck_assert(desk_shows(&desk, "abcdeZ"));
}
END_TEST

/* What is taken back is taken back on the paper in sight too. */
START_TEST(the_paper_follows_what_is_taken_back)
{
	desk_keys(&desk, "Ctrl+P 'First words.' Enter");
	ck_assert(desk_shows(&desk, "What we found"));
	desk_keys(&desk, "Ctrl+_ Tab");
	struct text text;
	text_init(&text);
	canvas_dump(workbook_draw(desk.workbook), &text);
	ck_assert_ptr_null(strstr(text_get(&text), "First words."));
	text_done(&text);
}
END_TEST

Suite *pages_suite(void)
{
	Suite *suite = suite_create("pages");
	TCase *pages = tcase_create("choices and work"), *paper = tcase_create("paper");

	tcase_set_timeout(pages, 30);
	tcase_add_checked_fixture(pages, on_a_call, put_away);
	tcase_add_test(pages, a_choice_begins_with_its_first_word);
	tcase_add_test(pages, the_end_of_the_options_is_their_last_field);
	tcase_add_test(pages, a_fixed_price_stays_fixed_until_it_has_a_range);
	tcase_add_test(pages, no_end_of_a_range_changes_the_other);
	tcase_add_test(pages, a_refused_amount_stays_in_its_line);
	tcase_add_test(pages, a_decision_is_kept_with_who_and_when);
	tcase_add_test(pages, a_decision_is_typed);
	tcase_add_test(pages, a_choice_taken_out_comes_back);
	tcase_add_test(pages, what_was_declined_earlier_stands_below);
	tcase_add_test(pages, a_price_is_found_while_typing);
	tcase_add_test(pages, words_of_ones_own_are_kept_as_typed);
	tcase_add_test(pages, a_quantity_takes_its_unit);
	tcase_add_test(pages, space_on_a_refused_value_changes_nothing);
	tcase_add_test(pages, the_list_under_the_cursor_is_marked);
	tcase_add_test(pages, a_narrow_page_cuts_no_amount);
	tcase_add_test(pages, lines_out_of_sight_are_marked);
	tcase_add_test(pages, an_entry_of_the_log_is_of_now);
	tcase_add_test(pages, the_cursor_follows_an_entry_that_moves);
	tcase_add_test(pages, grams_are_shown_and_typed_in_si);
	tcase_add_test(pages, an_impossible_time_is_refused);
	tcase_add_test(pages, the_money_adds_up_as_one_types);
	tcase_add_test(pages, a_line_of_the_work_comes_back);
	tcase_add_test(pages, amounts_too_large_are_said);
	suite_add_tcase(suite, pages);
	tcase_set_timeout(paper, 30);
	tcase_add_checked_fixture(paper, in_a_folder, out_of_the_folder);
	tcase_add_test(paper, the_paper_is_written_and_never_over_another);
	tcase_add_test(paper, format_and_reader_are_chosen);
	tcase_add_test(paper, a_place_that_is_not_there_is_said);
	tcase_add_test(paper, a_call_is_closed_and_opened_again);
	tcase_add_test(paper, the_paper_can_be_read_to_its_end);
	tcase_add_loop_test(paper, nothing_of_the_report_is_under_the_bar, 0, 3);
	tcase_add_test(paper, the_paper_follows_what_is_taken_back);
	suite_add_tcase(suite, paper);
	return suite;
}
