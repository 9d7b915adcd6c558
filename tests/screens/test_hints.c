/* At 80 by 24 a hint takes one row, so that both rows of keys stand below it, on every field. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/quantities.h>

#include "support/canvas_dump.h"
#include "support/desk.h"

Suite *hints_suite(void);

static struct desk desk;

static void put_away(void)
{
	desk_close(&desk);
}

/* A row of the page as it stands. */
static void take_row(int row, char *out, size_t size)
{
	const struct canvas *canvas = workbook_draw(desk.workbook);
	struct text text;

	text_init(&text);
	for (int i = 0; i < canvas_columns(canvas); i++)
		if (canvas_at(canvas, row, i)->character)
			text_add_character(&text, canvas_at(canvas, row, i)->character);
	text_copy(out, size, text_get(&text));
	text_done(&text);
}

/* Two rows of keys begin below the row of the hint: 20 within the frame of a call, else 21. */
static int count_long(const char *where, int hint_row)
{
	char hint[400], below[400];

	take_row(hint_row + 1, below, sizeof below);
	if (strncmp(below, " F1 help", 8) == 0)
		return 0;
	take_row(hint_row, hint, sizeof hint);
	fprintf(stderr, "%s: %s / %s\n", where, hint, below);
	return 1;
}

/* What stands on the page, with its inks: they show the cursor. */
static void dump(struct text *text)
{
	text_clear(text);
	canvas_dump(workbook_draw(desk.workbook), text);
	canvas_dump_ink(workbook_draw(desk.workbook), text);
}

/* Every field of a page, by Down until nothing moves. */
static int count_on_page(const char *way, int hint_row)
{
	enum { MOST_ROWS = 90 };
	struct text before, after;
	int count = 0;
	bool moves = true;

	text_init(&before);
	text_init(&after);
	desk_keys(&desk, way);
	for (int i = 0; i < MOST_ROWS && moves; i++) {
		count += count_long(way, hint_row);
		dump(&before);
		desk_keys(&desk, "Down");
		dump(&after);
		moves = strcmp(text_get(&before), text_get(&after)) != 0;
	}
	text_done(&before);
	text_done(&after);
	return count;
}

static const char *const pages[] = {
	"F2 Home", "F3 Home", "F4 Home", "F5 Home", "F6 Home", "F7 Home", "F8 Home", "F9 Home", "F10",
	"F11 Home", "F12 Home", "F12 Tab", "F12 Tab", "Ctrl+P Home", "Alt+c", "Alt+v", "Alt+g", "Alt+l",
	"Alt+w", "Alt+q", "Ctrl+O", "F10 'p'", "Ctrl+G",
};

static int count_on_all(void)
{
	int count = 0;

	for (size_t i = 0; i < sizeof pages / sizeof *pages; i++)
		count += count_on_page(pages[i], strcmp(pages[i], "Ctrl+G") == 0 ? 21 : 20);
	return count;
}

/* Also the rows that are folded away. */
START_TEST(every_field_of_a_new_call_leaves_two_rows_of_keys)
{
	desk_open_on_call(&desk);
	desk_keys(&desk, "F3 Alt+m F5 Alt+m F6 Alt+m F7 Alt+m F8 Alt+m F9 Alt+m F2 Alt+m");
	ck_assert_int_eq(count_on_all(), 0);
}
END_TEST

START_TEST(every_field_of_a_whole_call_leaves_two_rows_of_keys)
{
	desk_open_demo(&desk);
	desk_keys(&desk, "Enter");
	ck_assert_int_eq(count_on_all(), 0);
}
END_TEST

/* The book, a customer and a unit, what was taken out. */
START_TEST(every_page_of_the_book_leaves_two_rows_of_keys)
{
	static const char *const ways[] = { "Ctrl+B", "Tab", "Enter", "Down", "Down", "Ctrl+G" };
	int count = 0;

	desk_open_demo(&desk);
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		desk_keys(&desk, ways[i]);
		count += count_long(ways[i], 21);
	}
	ck_assert_int_eq(count, 0);
}
END_TEST

/* Readings of every unit, whatever applies to it: their first sentence fits one row. */
START_TEST(the_first_sentence_of_a_reading_fits_a_row)
{
	char help[QUANTITIES_SIZE], first[QUANTITIES_SIZE];

	for (int units = 0; units < UNIT_SYSTEM_COUNT; units++) {
		quantities_write(reading_info((enum reading)_i)->help, (enum unit_system)units, help,
		                 sizeof help);
		const char *end = strstr(help, ". ");
		snprintf(first, sizeof first, "%.*s", end ? (int)(end - help) + 1 : (int)strlen(help), help);
		/* Behind it the mark that there is more. */
		ck_assert_msg(text_columns(first) <= (end ? 77 : 79), "%s: %d", help, text_columns(first));
	}
}
END_TEST

/* What had no room stands in the help: the rest of it, and every word that the field takes. */
START_TEST(the_help_tells_what_the_hint_had_no_room_for)
{
	desk_open_on_call(&desk);
	desk_keys(&desk, "F3");
	desk_go(&desk, "static pressure limit");
	ck_assert(!desk_shows(&desk, "the usual rating point"));
	desk_keys(&desk, "F1");
	ck_assert(desk_shows(&desk, "the usual rating point"));
	desk_keys(&desk, "Esc");
	desk_go(&desk, "refrigerant");
	ck_assert(!desk_shows(&desk, "R-454B"));
	desk_keys(&desk, "F1");
	ck_assert(desk_shows(&desk, "One of "));
	ck_assert(desk_shows(&desk, "R-454B"));
	desk_keys(&desk, "Esc Ctrl+P");
	desk_go(&desk, "written as");
	desk_keys(&desk, "F1");
	ck_assert(desk_shows(&desk, "One of text, markdown, html, csv, pdf, json."));
	/* Not the field of a page that one has left. */
	desk_keys(&desk, "Esc F10 F1");
	ck_assert(!desk_shows(&desk, "One of "));
}
END_TEST

Suite *hints_suite(void)
{
	Suite *suite = suite_create("hints");
	TCase *rows = tcase_create("rows"), *table = tcase_create("table");

	tcase_set_timeout(rows, 300);
	tcase_add_checked_fixture(rows, NULL, put_away);
	tcase_add_test(rows, every_field_of_a_new_call_leaves_two_rows_of_keys);
	tcase_add_test(rows, every_field_of_a_whole_call_leaves_two_rows_of_keys);
	tcase_add_test(rows, every_page_of_the_book_leaves_two_rows_of_keys);
	tcase_add_test(rows, the_help_tells_what_the_hint_had_no_room_for);
	suite_add_tcase(suite, rows);
	tcase_add_loop_test(table, the_first_sentence_of_a_reading_fits_a_row, READING_NONE + 1,
	                    READING_COUNT);
	suite_add_tcase(suite, table);
	return suite;
}
