/*
 * Random keys and random drawing: whatever comes, every invariant holds.
 * Meant above all for the sanitizer build.
 */
#include <check.h>
#include <stdint.h>
#include <string.h>

#include <padside/base/glyph.h>

#include "tui/edit.h"
#include "tui/list.h"
#include "tui/pager.h"
#include "tui/ruler.h"

#include "support/canvas_dump.h"

Suite *drawing_fuzz_suite(void);

/* xorshift64*: the same sequence on every machine. */
static uint64_t random_next(uint64_t *state)
{
	*state ^= *state >> 12;
	*state ^= *state << 25;
	*state ^= *state >> 27;
	return *state * 2685821657736338717ULL >> 16;
}

static int random_below(uint64_t *state, int limit)
{
	return (int)(random_next(state) % (uint64_t)limit);
}

static unsigned random_character(uint64_t *state)
{
	static const unsigned odd[] = {
		0, 0x1b, '\n', '\t', 0x7f, 0x9b, 0xa0, 0xb0, 0x301, 0x200b, 0x202e, 0x2066, 0x3a9,
		0x2588, 0x28ff, 0x6f22, 0xd800, 0xfeff, 0xfffd, 0xffff, 0x1f600, 0xe0041, 0x10ffff,
		0x110000, 0xffffffff,
	};

	if (random_below(state, 2))
		return (unsigned)(' ' + random_below(state, 95));
	return odd[random_below(state, sizeof odd / sizeof *odd)];
}

/* Bytes that are mostly UTF-8, never with a NUL inside. */
static void random_text(uint64_t *state, char *out, size_t size)
{
	struct text text;
	int count = random_below(state, 60);

	text_init(&text);
	for (int i = 0; i < count; i++) {
		unsigned character = random_character(state);
		if (random_below(state, 8) == 0)
			text_add_char(&text, (char)(1 + random_below(state, 255)));
		else if (character > 0 && character <= 0x10ffff)
			text_add_character(&text, character);
	}
	memset(out, 0, size);
	memcpy(out, text_get(&text), text.length < size ? text.length : size - 1);
	text_done(&text);
}

static struct key random_key(uint64_t *state)
{
	struct key key = {
		.press = (enum press)random_below(state, PRESS_CLOSE + 1),
		.character = random_character(state),
		.pasted = random_below(state, 4) == 0,
	};

	if (random_below(state, 2))
		key.press = PRESS_CHARACTER;
	if (key.press == PRESS_CTRL)
		key.character = (unsigned)('_' + random_below(state, 28));
	return key;
}

static bool is_sound(const struct canvas *canvas, int row, int column)
{
	const struct canvas_cell *cell = canvas_at(canvas, row, column);
	bool has_next = column + 1 < canvas_columns(canvas);

	if (cell->width == 0)
		return column > 0 && cell[-1].width == 2;
	if (cell->width == 2 && !(has_next && cell[1].width == 0))
		return false;
	if (canvas_is_plain(canvas) && cell->character >= 0x7f)
		return false;
	return glyph_shown(cell->character) == cell->character &&
	       text_character_columns(cell->character) == cell->width;
}

/* Every row is exactly as wide as its cells, and nothing in it acts. */
static void check_canvas(const struct canvas *canvas)
{
	bool sound = true;

	/* One assertion for all: each costs Check a message. */
	for (int row = 0; row < canvas_rows(canvas); row++)
		for (int column = 0; column < canvas_columns(canvas); column++)
			sound &= is_sound(canvas, row, column);
	ck_assert(sound);
}

static bool is_whole_utf8(const char *text)
{
	unsigned character;

	while ((character = text_next_character(&text)) != 0)
		if (character == 0xfffd)
			return false;
	return true;
}

static int random_place(uint64_t *state)
{
	static const int odd[] = { INT32_MIN, -1000, -1, 0, 1, 59, 199, 1000, INT32_MAX };

	if (random_below(state, 6) == 0)
		return odd[random_below(state, sizeof odd / sizeof *odd)];
	return random_below(state, 90) - 10;
}

static struct area random_area(uint64_t *state)
{
	return (struct area){ random_place(state), random_place(state), random_place(state),
	                      random_place(state) };
}

static void draw_something(uint64_t *state, struct canvas *canvas)
{
	struct area area = random_area(state);
	int row = random_place(state), column = random_place(state), width = random_place(state);
	unsigned style = (unsigned)random_below(state, 256);
	char string[160];

	random_text(state, string, sizeof string);
	switch (random_below(state, 10)) {
	case 0:
		canvas_put(canvas, area, row, column, style, string);
		break;
	case 1:
		canvas_put_padded(canvas, area, row, column, width, style, string);
		break;
	case 2:
		canvas_put_right(canvas, area, row, column, width, style, string);
		break;
	case 3:
		canvas_wrap(canvas, area, row, column, style, string);
		break;
	case 4:
		canvas_fill(canvas, area, style, random_character(state));
		break;
	case 5:
		canvas_rule(canvas, area, row, column, width, style);
		canvas_rule_down(canvas, area, row, column, width, style);
		break;
	case 6:
		canvas_put_right(canvas, area, row, column, width, style, string);
		break;
	case 7:
		canvas_set_cursor(canvas, area, row, column);
		break;
	case 8:
		canvas_format(canvas, area, row, column, style, "%d %s", width, string);
		break;
	default:
		canvas_put(canvas, area_part(area, row, column, width, width), 0, 0, style, string);
		break;
	}
}

START_TEST(random_drawing_stays_on_the_canvas)
{
	static const int sizes[][2] = { { 1, 1 }, { 1, 2 }, { 2, 1 }, { 5, 7 }, { 24, 80 },
	                                { 60, 200 } };
	uint64_t state = 20260603;
	struct text text;

	text_init(&text);
	for (int i = 0; i < 12; i++) {
		struct canvas *canvas = canvas_new(sizes[i / 2][0], sizes[i / 2][1], i % 2);
		ck_assert_ptr_nonnull(canvas);
		for (int step = 0; step < 500; step++) {
			draw_something(&state, canvas);
			if (step % 10 == 0)
				check_canvas(canvas);
		}
		text_clear(&text);
		canvas_dump(canvas, &text);
		canvas_dump_ink(canvas, &text);
		ck_assert(!text.failed);
		canvas_free(canvas);
	}
	text_done(&text);
}
END_TEST

START_TEST(random_keys_leave_a_sound_line)
{
	uint64_t state = 7;
	struct canvas *canvas = canvas_new(3, 40, false);
	struct edit edit;

	edit_init(&edit, 60);
	for (int i = 0; i < 20000; i++) {
		char pasted[160];
		if (i % 1000 == 0) {
			random_text(&state, pasted, sizeof pasted);
			edit_set(&edit, pasted);
		}
		edit_key(&edit, random_key(&state));
		ck_assert_uint_le(edit.length, edit.limit);
		ck_assert_uint_le(edit.cursor, edit.length);
		ck_assert_uint_eq(strlen(edit_get(&edit)), edit.length);
		ck_assert(is_whole_utf8(edit_get(&edit)));
		if (i % 4 == 0) {
			int width = random_below(&state, 30) - 2;
			edit_draw(&edit, canvas, canvas_area(canvas), 1, 5, width, INK_FIELD_ACTIVE);
			struct canvas_cursor cursor = canvas_get_cursor(canvas);
			ck_assert(width <= 0 || (cursor.visible && cursor.column >= 5));
			ck_assert(width <= 0 || cursor.column < 5 + width);
			check_canvas(canvas);
		}
	}
	canvas_free(canvas);
}
END_TEST

START_TEST(random_keys_in_widgets)
{
	uint64_t state = 99;
	char string[160];
	struct canvas *canvas = canvas_new(24, 80, false);
	struct list list;
	struct pager pager;

	random_text(&state, string, sizeof string);
	list_init(&list, true);
	pager_open(&pager, string);
	for (int i = 0; i < 5000; i++) {
		struct key key = random_key(&state);
		struct area area = random_area(&state);
		if (i % 50 == 0)
			list_set_count(&list, random_place(&state));
		list_key(&list, key);
		list_layout(&list, canvas, area);
		ck_assert_int_ge(list.top, 0);
		ck_assert(list.count == 0 || list.chosen < list.count);
		ck_assert_int_le(list_end(&list), list.count);
		pager_key(&pager, key);
		pager_draw(&pager, canvas, area, INK_PLAIN);
		struct band band = { .value = random_place(&state), .has_value = i % 2,
		                     .low = random_place(&state), .high = random_place(&state) };
		ruler_draw_with_words(canvas, area, 0, random_place(&state) % 1000,
		                      random_place(&state), &band, 1);
		if (i % 20 == 0)
			check_canvas(canvas);
	}
	canvas_free(canvas);
}
END_TEST

Suite *drawing_fuzz_suite(void)
{
	Suite *suite = suite_create("drawing_fuzz");
	TCase *tests = tcase_create("drawing_fuzz");

	tcase_set_timeout(tests, 60);
	tcase_add_test(tests, random_drawing_stays_on_the_canvas);
	tcase_add_test(tests, random_keys_leave_a_sound_line);
	tcase_add_test(tests, random_keys_in_widgets);
	suite_add_tcase(suite, tests);
	return suite;
}
