/* Lists, long texts and rulers, drawn on a canvas. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/canvas_dump.h"
#include "support/golden.h"
#include "tui/list.h"
#include "tui/pager.h"
#include "tui/ruler.h"

Suite *widgets_suite(void);

static struct key named(const char *name)
{
	struct key key;

	ck_assert_msg(key_from_name(name, &key), "no key %s", name);
	return key;
}

START_TEST(list_keeps_the_chosen_line_in_sight)
{
	struct canvas *canvas = canvas_new(5, 20, false);
	struct list list;

	list_init(&list, false);
	ck_assert_int_eq(list_chosen(&list), -1);
	ck_assert_int_eq(list_key(&list, named("Enter")), LIST_MOVED);
	list_set_count(&list, 100000);
	struct area lines = list_layout(&list, canvas, canvas_area(canvas));
	ck_assert_int_eq(lines.columns, 19);
	ck_assert_int_eq(list_key(&list, named("End")), LIST_MOVED);
	ck_assert_int_eq(list_chosen(&list), 99999);
	ck_assert_int_eq(list.top, 99995);
	ck_assert_int_eq(list_end(&list), 100000);
	list_key(&list, named("PgUp"));
	ck_assert_int_eq(list_chosen(&list), 99995);
	list_key(&list, named("Up"));
	ck_assert_int_eq(list.top, 99994);
	list_set_count(&list, 3);
	ck_assert_int_eq(list_chosen(&list), 2);
	ck_assert_int_eq(list.top, 0);
	ck_assert_int_eq(list_layout(&list, canvas, canvas_area(canvas)).columns, 20);
	ck_assert_int_eq(list_key(&list, named("Down")), LIST_MOVED);
	ck_assert_int_eq(list_chosen(&list), 2);
	ck_assert_int_eq(list_key(&list, named("Enter")), LIST_PICKED);
	ck_assert_int_eq(list_key(&list, named("a")), LIST_IGNORED);
	canvas_free(canvas);
}
END_TEST

START_TEST(typing_narrows_a_list_down)
{
	struct list list;

	list_init(&list, true);
	list_set_count(&list, 50);
	list_choose(&list, 30);
	ck_assert_int_eq(list_key(&list, named("H")), LIST_FILTERED);
	ck_assert_int_eq(list_chosen(&list), 0);
	ck_assert_int_eq(list_key(&list, named("Space")), LIST_FILTERED);
	ck_assert_str_eq(list_filter(&list), "H ");
	ck_assert_int_eq(list_key(&list, named("Home")), LIST_MOVED);
	ck_assert_int_eq(list_key(&list, named("Backspace")), LIST_MOVED);
	ck_assert_int_eq(list_key(&list, named("Del")), LIST_FILTERED);
	ck_assert_str_eq(list_filter(&list), " ");
	ck_assert_int_eq(list_key(&list, named("F1")), LIST_IGNORED);
}
END_TEST

START_TEST(long_text_scrolls_within_its_ends)
{
	struct canvas *canvas = canvas_new(3, 12, false);
	struct text text;
	struct pager pager;

	pager_open(&pager, "one\ntwo\n\nfour five six");
	pager_draw(&pager, canvas, canvas_area(canvas), INK_PLAIN);
	ck_assert_int_eq(pager.lines, 5);
	ck_assert(pager_key(&pager, named("Up")));
	ck_assert_int_eq(pager.top, 0);
	ck_assert(pager_key(&pager, named("End")));
	ck_assert_int_eq(pager.top, 2);
	ck_assert(!pager_key(&pager, named("Enter")));
	canvas_clear(canvas);
	pager_draw(&pager, canvas, canvas_area(canvas), INK_PLAIN);
	text_init(&text);
	canvas_dump(canvas, &text);
	ck_assert_str_eq(text_get(&text), "           │\nfour five  █\nsix        █\n");
	text_done(&text);
	ck_assert(pager_key(&pager, named("PgUp")));
	ck_assert_int_eq(pager.top, 0);
	canvas_free(canvas);
}
END_TEST

static void draw_list(struct canvas *canvas, struct area area)
{
	struct list list;

	list_init(&list, false);
	list_set_count(&list, 12);
	struct area lines = list_layout(&list, canvas, area);
	list_choose(&list, 7);
	list_layout(&list, canvas, area);
	for (int i = list.top; i < list_end(&list); i++) {
		char line[40];
		snprintf(line, sizeof line, "visit %d", i + 1);
		canvas_put_padded(canvas, lines, i - list.top, 0, lines.columns,
		                  list_style(&list, i, INK_PLAIN), line);
	}
}

static void draw_page(struct canvas *canvas)
{
	struct band superheat = { .value = 21, .has_value = true, .plus_minus = 1.4,
	                          .low = 3, .high = 13 };
	struct band good = { .value = 9, .has_value = true, .plus_minus = 2, .low = 3, .high = 13 };
	struct band open = { .low = 20, .high = 1.0 / 0.0 };
	struct area area = canvas_area(canvas);

	ruler_draw_with_words(canvas, area, 0, 0, 22, &superheat, 0);
	ruler_draw_with_words(canvas, area, 1, 0, 22, &good, 0);
	ruler_draw_with_words(canvas, area, 2, 0, 22, &open, 1);
	draw_list(canvas, area_part(area, 4, 0, 5, 20));
}

START_TEST(widgets_in_ink)
{
	struct canvas *canvas = canvas_new(9, 56, false);

	draw_page(canvas);
	golden_check("widgets", canvas);
	canvas_free(canvas);
}
END_TEST

START_TEST(widgets_in_plain)
{
	struct canvas *canvas = canvas_new(9, 56, true);

	draw_page(canvas);
	golden_check("widgets-plain", canvas);
	canvas_free(canvas);
}
END_TEST

/*
 * A ruler that stands is one that lies, turned by a quarter against the clock: each character by the
 * names of Unicode (horizontal and vertical, right and up, half blocks and triangles alike).
 */
START_TEST(a_standing_ruler_is_a_lying_one_turned)
{
	static const unsigned turned[][2] = {
		{ 0x2500, 0x2502 }, { 0x251c, 0x2534 }, { 0x2524, 0x252c }, { 0x258c, 0x2584 },
		{ 0x2590, 0x2580 }, { 0x25c0, 0x25bc }, { 0x25b6, 0x25b2 }, { 0x2588, 0x2588 },
		{ 0x25c6, 0x25c6 }, { 0x25c7, 0x25c7 },
	};
	enum { HEIGHT = 21 };
	bool seen[sizeof turned / sizeof *turned] = { false };

	/* From far below to far above what is expected, for half blocks at either edge. */
	for (int i = 0; i <= 400; i++) {
		struct band band = { .value = -60 + 0.4 * i, .has_value = true, .plus_minus = 1.5 + i % 3,
		                     .low = 8 + 0.13 * (i % 17), .high = 15 + 0.11 * (i % 13) };
		struct band_cell cells[BAND_WIDTH_MOST];
		struct canvas *canvas = canvas_new(HEIGHT, 1, false);
		int height = band_cells(&band, HEIGHT, cells);
		ruler_draw_upright(canvas, canvas_area(canvas), 0, 0, HEIGHT, &band);
		for (int row = 0; row < height; row++) {
			size_t at = 0;
			unsigned lying = cells[height - 1 - row].character;
			while (at < sizeof turned / sizeof *turned && turned[at][0] != lying)
				at++;
			ck_assert_msg(at < sizeof turned / sizeof *turned, "%x", lying);
			seen[at] = true;
			ck_assert_uint_eq(canvas_at(canvas, row, 0)->character, turned[at][1]);
		}
		canvas_free(canvas);
	}
	for (size_t i = 0; i < sizeof turned / sizeof *turned; i++)
		ck_assert_msg(seen[i], "%x was never drawn", turned[i][0]);
}
END_TEST

Suite *widgets_suite(void)
{
	Suite *suite = suite_create("widgets");
	TCase *tests = tcase_create("widgets");

	tcase_add_test(tests, list_keeps_the_chosen_line_in_sight);
	tcase_add_test(tests, typing_narrows_a_list_down);
	tcase_add_test(tests, long_text_scrolls_within_its_ends);
	tcase_add_test(tests, widgets_in_ink);
	tcase_add_test(tests, widgets_in_plain);
	tcase_add_test(tests, a_standing_ruler_is_a_lying_one_turned);
	suite_add_tcase(suite, tests);
	return suite;
}
