/* The line editor. */
#include <check.h>
#include <string.h>

#include "tui/edit.h"

#include "support/canvas_dump.h"

Suite *edit_suite(void);

/* Presses keys named in `keys`, separated by blanks ("Left" "Ctrl+W" "a"). */
static void press(struct edit *edit, const char *keys)
{
	char name[KEY_NAME_SIZE];
	struct key key;

	while (*keys) {
		size_t length = strcspn(keys, " ");
		ck_assert_uint_lt(length, sizeof name);
		memcpy(name, keys, length);
		name[length] = '\0';
		ck_assert_msg(key_from_name(name, &key), "no key %s", name);
		edit_key(edit, key);
		keys += length;
		keys += strspn(keys, " ");
	}
}

/* The text with '|' where the cursor is. */
static void holds(const struct edit *edit, const char *expected)
{
	char marked[EDIT_SIZE + 1];

	ck_assert_uint_eq(edit->length, strlen(edit_get(edit)));
	memcpy(marked, edit->text, edit->cursor);
	marked[edit->cursor] = '|';
	strncpy(marked + edit->cursor + 1, edit->text + edit->cursor,
	        sizeof marked - edit->cursor - 1);
	ck_assert_str_eq(marked, expected);
}

START_TEST(types_moves_and_deletes)
{
	struct edit edit;

	edit_init(&edit, 100);
	press(&edit, "1 1 8 Space p s i g");
	holds(&edit, "118 psig|");
	press(&edit, "Home Right Del Left 2 End Backspace");
	holds(&edit, "218 psi|");
	press(&edit, "Ctrl+Left");
	holds(&edit, "218 |psi");
	press(&edit, "Ctrl+Left Ctrl+Right");
	holds(&edit, "218| psi");
	press(&edit, "Ctrl+K");
	holds(&edit, "218|");
	press(&edit, "Left Ctrl+U");
	holds(&edit, "|8");
	press(&edit, "End Space a b Space Ctrl+W");
	holds(&edit, "8 |");
	press(&edit, "Ctrl+A Ctrl+D Ctrl+E Backspace Backspace Backspace");
	holds(&edit, "|");
}
END_TEST

START_TEST(letters_are_whole)
{
	struct edit edit;

	edit_init(&edit, 100);
	edit_set(&edit, "2\xc2\xb0 Jose\xcc\x81 \xe6\xbc\xa2");
	press(&edit, "Backspace Backspace");
	holds(&edit, "2\xc2\xb0 Jose\xcc\x81|");
	press(&edit, "Left");
	holds(&edit, "2\xc2\xb0 Jos|e\xcc\x81");
	press(&edit, "Del Home Right Del");
	holds(&edit, "2| Jos");
}
END_TEST

START_TEST(takes_back_the_last_change)
{
	struct edit edit;

	edit_init(&edit, 100);
	edit_set(&edit, "27 uF");
	ck_assert(!edit_undo(&edit));
	press(&edit, "Ctrl+W 4 5");
	holds(&edit, "27 45|");
	press(&edit, "Ctrl+_");
	holds(&edit, "27 |");
	press(&edit, "Ctrl+_");
	holds(&edit, "27 45|");
	press(&edit, "Ctrl+U Ctrl+_");
	holds(&edit, "27 45|");
	press(&edit, "a Left b Ctrl+_");
	holds(&edit, "27 45|a");
}
END_TEST

START_TEST(limit_and_harmless_text)
{
	struct edit edit;

	edit_init(&edit, 5);
	edit_set(&edit, "123\xc2\xb0" "F");
	holds(&edit, "123\xc2\xb0|");
	ck_assert_int_eq(edit_key(&edit, key_character('x')), EDIT_FULL);
	edit_init(&edit, 50);
	edit_set(&edit, "a\x1b[31mb\tc\xe2\x80\xae" "d\xff");
	holds(&edit, "a[31mb cd|");
	ck_assert_int_eq(edit_key(&edit, key_character(0x1b)), EDIT_MOVED);
	ck_assert_int_eq(edit_key(&edit, key_character(0x202e)), EDIT_MOVED);
	ck_assert_int_eq(edit_key(&edit, key_press(PRESS_TAB)), EDIT_IGNORED);
	ck_assert_int_eq(edit_key(&edit, key_ctrl('r')), EDIT_IGNORED);
	holds(&edit, "a[31mb cd|");
}
END_TEST

/* Draws it into ten columns between bars, and says where the cursor is. */
static void shows(struct edit *edit, struct canvas *canvas, const char *expected, int cursor)
{
	struct area area = canvas_area(canvas);
	struct text text;

	text_init(&text);
	canvas_clear(canvas);
	canvas_put(canvas, area, 0, 0, INK_PLAIN, "|");
	edit_draw(edit, canvas, area, 0, 1, 10, INK_FIELD_ACTIVE);
	canvas_put(canvas, area, 0, 11, INK_PLAIN, "|");
	canvas_dump(canvas, &text);
	ck_assert_str_eq(text_get(&text), expected);
	ck_assert(canvas_get_cursor(canvas).visible);
	ck_assert_int_eq(canvas_get_cursor(canvas).column, cursor);
	text_done(&text);
}

START_TEST(narrow_field_follows_the_cursor)
{
	struct canvas *canvas = canvas_new(1, 12, false);
	struct edit edit;

	edit_init(&edit, 100);
	shows(&edit, canvas, "|          |\n", 1);
	edit_set(&edit, "short");
	shows(&edit, canvas, "|short     |\n", 6);
	edit_set(&edit, "ninechars");
	shows(&edit, canvas, "|ninechars |\n", 10);
	edit_set(&edit, "the condenser coil is dirty");
	shows(&edit, canvas, "|…is dirty |\n", 10);
	press(&edit, "Ctrl+Left Left Left");
	shows(&edit, canvas, "|…is dirty |\n", 3);
	press(&edit, "Left Left Left");
	shows(&edit, canvas, "|…l is dir…|\n", 2);
	press(&edit, "Home");
	shows(&edit, canvas, "|the conde…|\n", 1);
	press(&edit, "End Ctrl+U");
	shows(&edit, canvas, "|          |\n", 1);
	canvas_free(canvas);
}
END_TEST

Suite *edit_suite(void)
{
	Suite *suite = suite_create("edit");
	TCase *tests = tcase_create("edit");

	tcase_add_test(tests, types_moves_and_deletes);
	tcase_add_test(tests, letters_are_whole);
	tcase_add_test(tests, takes_back_the_last_change);
	tcase_add_test(tests, limit_and_harmless_text);
	tcase_add_test(tests, narrow_field_follows_the_cursor);
	suite_add_tcase(suite, tests);
	return suite;
}
