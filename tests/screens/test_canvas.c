/* The canvas: clipping, widths, stand-ins, and what the dumps say. */
#include <check.h>
#include <limits.h>
#include <string.h>

#include "support/canvas_dump.h"
#include "support/golden.h"
#include "tui/canvas.h"

Suite *canvas_suite(void);

static void looks_like(const struct canvas *canvas, const char *expected)
{
	struct text text;

	text_init(&text);
	canvas_dump(canvas, &text);
	ck_assert_str_eq(text_get(&text), expected);
	text_done(&text);
}

START_TEST(text_is_cut_at_the_edge_of_its_area)
{
	struct canvas *canvas = canvas_new(3, 12, false);
	struct area area = area_part(canvas_area(canvas), 1, 2, 1, 6);

	ck_assert_int_eq(canvas_put(canvas, area, 0, 0, INK_PLAIN, "superheat"), 6);
	ck_assert_int_eq(canvas_put(canvas, area, 1, 0, INK_PLAIN, "below"), 0);
	ck_assert_int_eq(canvas_put(canvas, area, -1, 0, INK_PLAIN, "above"), 0);
	looks_like(canvas, "\n  super…\n\n");
	ck_assert_int_eq(canvas_put(canvas, area, 0, 0, INK_PLAIN, "exact!"), 6);
	looks_like(canvas, "\n  exact!\n\n");
	ck_assert_int_eq(canvas_put(canvas, area, 0, -2, INK_PLAIN, "abcd"), 2);
	looks_like(canvas, "\n  cdact!\n\n");
	canvas_free(canvas);
}
END_TEST

START_TEST(wide_characters_own_two_cells)
{
	struct canvas *canvas = canvas_new(1, 6, false);
	struct area area = canvas_area(canvas);

	ck_assert_int_eq(canvas_put(canvas, area, 0, 0, INK_PLAIN, "漢字x"), 5);
	ck_assert_uint_eq(canvas_at(canvas, 0, 1)->width, 0);
	canvas_put(canvas, area, 0, 1, INK_PLAIN, "-");
	looks_like(canvas, " -字x\n");
	canvas_put(canvas, area, 0, 2, INK_PLAIN, "=");
	looks_like(canvas, " -= x\n");
	canvas_clear(canvas);
	canvas_put(canvas, area_columns(area, 0, 4), 0, 0, INK_PLAIN, "漢字漢");
	looks_like(canvas, "漢…\n");
	canvas_clear(canvas);
	canvas_put(canvas, area, 0, -1, INK_PLAIN, "漢字");
	looks_like(canvas, " 字\n");
	canvas_free(canvas);
}
END_TEST

START_TEST(combining_marks_stay_with_their_letter)
{
	struct canvas *canvas = canvas_new(1, 6, false);

	ck_assert_int_eq(canvas_put(canvas, canvas_area(canvas), 0, 0, INK_PLAIN, "\u0301Jose\u0301"), 4);
	looks_like(canvas, "Jose\u0301\n");
	canvas_free(canvas);
}
END_TEST

START_TEST(padding_and_right_alignment)
{
	struct canvas *canvas = canvas_new(4, 10, false);
	struct area area = canvas_area(canvas);

	canvas_fill(canvas, area, INK_PLAIN, '.');
	ck_assert_int_eq(canvas_put_padded(canvas, area, 0, 1, 5, INK_PLAIN, "ab"), 6);
	ck_assert_int_eq(canvas_put_right(canvas, area, 1, 1, 5, INK_PLAIN, "21.0"), 6);
	ck_assert_int_eq(canvas_put_right(canvas, area, 2, 7, 5, INK_PLAIN, "12345"), 10);
	ck_assert_int_eq(canvas_put_padded(canvas, area, 3, 1, 0, INK_PLAIN, "no"), 1);
	looks_like(canvas, ".ab   ....\n. 21.0....\n.......12…\n..........\n");
	canvas_free(canvas);
}
END_TEST

START_TEST(wraps_and_counts_lines_without_room)
{
	struct canvas *canvas = canvas_new(2, 14, false);
	const char *words = "measure the return wet bulb at the filter";

	ck_assert_int_eq(canvas_wrap(canvas, canvas_area(canvas), 0, 2, INK_MARGIN, words), 4);
	ck_assert_int_eq(canvas_wrap_count(canvas, 12, words), 4);
	looks_like(canvas, "  measure the\n  return wet …\n");
	canvas_free(canvas);
}
END_TEST

/* The advice on the charge ended in the middle of its sentence, and nothing told that it went on. */
START_TEST(what_has_no_room_below_is_told_by_a_mark)
{
	struct canvas *canvas = canvas_new(3, 12, false), *plain = canvas_new(1, 12, true);
	struct area area = area_rows(canvas_area(canvas), 0, 2);

	canvas_wrap(canvas, area, 0, 1, INK_MARGIN, "read again; how much");
	looks_like(canvas, " read again;\n how much\n\n");
	canvas_wrap(canvas, area, 1, 1, INK_MARGIN, "wait a while, then read");
	looks_like(canvas, " read again;\n wait a …\n\n");
	/* A full line gives its last letter for it. */
	canvas_clear(canvas);
	canvas_wrap(canvas, area, 1, 1, INK_MARGIN, "read again; how");
	looks_like(canvas, "\n read again…\n\n");
	/* What ends a text is no more of it, and what begins above is not cut below. */
	canvas_clear(canvas);
	canvas_wrap(canvas, area, -1, 1, INK_MARGIN, "one two six ten now you");
	looks_like(canvas, " ten now you\n\n\n");
	canvas_wrap(plain, canvas_area(plain), 0, 1, INK_MARGIN, "wait a while, then read");
	looks_like(plain, " wait a >\n");
	canvas_free(canvas);
	canvas_free(plain);
}
END_TEST

START_TEST(a_terminal_never_sees_an_escape)
{
	struct canvas *canvas = canvas_new(1, 20, false);

	canvas_put(canvas, canvas_area(canvas), 0, 0, INK_PLAIN, "\x1b]0;x\x07\u202eReto\xc2\x9b");
	looks_like(canvas, "�]0;x��Reto�\n");
	canvas_free(canvas);
}
END_TEST

/*
 * The glyphs of the console fonts of Debian 12 (console-setup-linux 1.221: Lat15-Fixed16 and
 * -VGA16, Uni2-Fixed16, Uni1-VGA16): all have °, ±, µ, é and lines; none has ticks or diamonds,
 * and Lat15 has no omega.
 */
START_TEST(a_console_has_stand_ins_for_what_its_fonts_lack)
{
	struct canvas *canvas = canvas_new(2, 30, false);
	struct text text;

	canvas_use_console(canvas);
	ck_assert_int_eq(canvas_width_of(canvas, "0.8 Ω ✓ ◆"), 11);
	canvas_put(canvas, canvas_area(canvas), 0, 0, INK_PLAIN, "0.8 ±0.1 MΩ ✓ é µ ° ├▐█◆◇─┤ ⣶");
	canvas_put_padded(canvas, canvas_area(canvas), 1, 0, 6, INK_PLAIN, "12.5 kΩ");
	text_init(&text);
	canvas_dump(canvas, &text);
	ck_assert_ptr_nonnull(strstr(text_get(&text), "0.8 ±0.1 Mohm * é µ ° ├[█Oo─┤"));
	ck_assert_ptr_nonnull(strstr(text_get(&text), "12.5 …"));
	ck_assert_ptr_null(strstr(text_get(&text), "Ω"));
	text_done(&text);
	canvas_free(canvas);
}
END_TEST

START_TEST(plain_canvas_holds_ascii_only)
{
	struct canvas *canvas = canvas_new(3, 16, true);
	struct area area = canvas_area(canvas);

	ck_assert_int_eq(canvas_width_of(canvas, "±1.4 °F"), 7);
	ck_assert_int_eq(canvas_put(canvas, area, 0, 0, INK_PLAIN, "±1.4 °F"), 7);
	canvas_put_right(canvas, area, 0, 8, 8, INK_PLAIN, "470 Ω");
	canvas_rule(canvas, area, 1, 0, 99, INK_RULE);
	canvas_put(canvas, area, 2, 0, INK_PLAIN, "a long line is cut");
	looks_like(canvas, "+-1.4 F  470 ohm\n----------------\na long line is >\n");
	canvas_free(canvas);
}
END_TEST

START_TEST(areas_stay_inside_each_other)
{
	struct area area = { 2, 3, 10, 20 };
	struct area part = area_part(area, 8, 15, 99, 99);

	ck_assert_int_eq(part.row, 10);
	ck_assert_int_eq(part.column, 18);
	ck_assert_int_eq(part.rows, 2);
	ck_assert_int_eq(part.columns, 5);
	part = area_part(area, -2, -3, 4, 5);
	ck_assert_int_eq(part.row, 2);
	ck_assert_int_eq(part.rows, 2);
	ck_assert_int_eq(part.columns, 2);
	part = area_part(area, INT_MAX, INT_MIN, INT_MAX, INT_MAX);
	ck_assert_int_eq(part.rows, 0);
}
END_TEST

START_TEST(inks_are_drawn_as_a_second_layer)
{
	struct canvas *canvas = canvas_new(5, 40, false);
	struct area area = canvas_area(canvas);
	int column = canvas_put(canvas, area, 0, 0, INK_TITLE, "Refrigerant");

	canvas_format(canvas, area, 0, column + 1, INK_FAINT, "step %d of %d", 7, 10);
	canvas_rule(canvas, area, 1, 0, 40, INK_RULE);
	canvas_put(canvas, area, 2, 0, INK_PLAIN, "suction pressure");
	canvas_put_right(canvas, area, 2, 18, 8, INK_FIELD_ACTIVE | STYLE_UNDERLINE, "118 psig");
	canvas_put(canvas, area, 2, 28, INK_KEPT, "✓ 10:42");
	canvas_put_padded(canvas, area, 3, 0, 40, INK_PLAIN | STYLE_REVERSE, "chosen");
	canvas_put(canvas, area, 4, 0, INK_BAD | STYLE_REVERSE, "high");
	canvas_put(canvas, area, 4, 0, INK_WATCH, "hi");
	canvas_set_cursor(canvas, area, 2, 25);
	golden_check("canvas-inks", canvas);
	canvas_free(canvas);
}
END_TEST

/* Of all that is one column wide, what a text console is not asked to draw, and nothing else. */
START_TEST(a_console_draws_what_its_fonts_have)
{
	static const char expected[] = "Ω▀▁▄▌▐▸▾◆◇○◐⚠✓✗⠀⣿";
	struct canvas *console = canvas_new(1, 8, false), *other = canvas_new(1, 8, false);
	struct text replaced, drawn;

	text_init(&replaced);
	text_init(&drawn);
	canvas_use_console(console);
	for (unsigned character = 0xa0; character < 0x2a00; character++) {
		if (text_character_columns(character) != 1)
			continue;
		text_clear(&drawn);
		text_add_character(&drawn, character);
		canvas_put(console, canvas_area(console), 0, 0, INK_PLAIN, text_get(&drawn));
		canvas_put(other, canvas_area(other), 0, 0, INK_PLAIN, text_get(&drawn));
		bool is_replaced = canvas_at(console, 0, 0)->character != canvas_at(other, 0, 0)->character;
		/* Of the dots of plots the first and the last stand for all between. */
		if (character > 0x2800 && character < 0x28ff)
			ck_assert_msg(is_replaced, "%x", character);
		else if (is_replaced)
			text_add_character(&replaced, character);
	}
	ck_assert_str_eq(text_get(&replaced), expected);
	text_done(&replaced);
	text_done(&drawn);
	canvas_free(console);
	canvas_free(other);
}
END_TEST

Suite *canvas_suite(void)
{
	Suite *suite = suite_create("canvas");
	TCase *tests = tcase_create("canvas");

	tcase_add_test(tests, text_is_cut_at_the_edge_of_its_area);
	tcase_add_test(tests, a_console_draws_what_its_fonts_have);
	tcase_add_test(tests, wide_characters_own_two_cells);
	tcase_add_test(tests, combining_marks_stay_with_their_letter);
	tcase_add_test(tests, padding_and_right_alignment);
	tcase_add_test(tests, wraps_and_counts_lines_without_room);
	tcase_add_test(tests, what_has_no_room_below_is_told_by_a_mark);
	tcase_add_test(tests, a_terminal_never_sees_an_escape);
	tcase_add_test(tests, plain_canvas_holds_ascii_only);
	tcase_add_test(tests, a_console_has_stand_ins_for_what_its_fonts_lack);
	tcase_add_test(tests, areas_stay_inside_each_other);
	tcase_add_test(tests, inks_are_drawn_as_a_second_layer);
	suite_add_tcase(suite, tests);
	return suite;
}
