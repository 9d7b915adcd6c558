/*
 * Colours can be read: every ink has a contrast of at least 4.5 to 1 on the
 * ground that it is meant for.
 *
 * Sources: the contrast ratio and relative luminance of WCAG 2.1 (success
 * criterion 1.4.3; "relative luminance"); the first 16 colours as xterm's
 * resource file XTerm-col.ad sets them; the other 240 by the cube and the
 * greys of xterm's 256colres.h.
 */
#include <check.h>
#include <math.h>

#include <padside/tui/theme.h>

#include "tui/canvas.h"

Suite *inks_suite(void);

enum {
	COLOR_DEFAULT = -1, COLOR_BLACK, COLOR_RED, COLOR_GREEN, COLOR_YELLOW, COLOR_BLUE, COLOR_MAGENTA,
	COLOR_CYAN, COLOR_WHITE
};

static const struct {
	const char *name;
	int light8, dark8, dark16, light256, dark256, both256;
} inks[] = {
#define INK(id, letter, light8, dark8, dark16, light256, dark256, both256, weight, plain) \
	{ #id, COLOR_##light8, COLOR_##dark8, dark16, light256, dark256, both256 },
#include "tui/ink.def"
#undef INK
};

static const unsigned named[16] = {
	0x000000, 0xcd0000, 0x00cd00, 0xcdcd00, 0x0000ee, 0xcd00cd, 0x00cdcd, 0xe5e5e5,
	0x7f7f7f, 0xff0000, 0x00ff00, 0xffff00, 0x5c5cff, 0xff00ff, 0x00ffff, 0xffffff,
};

static unsigned rgb(int number)
{
	static const unsigned steps[] = { 0, 95, 135, 175, 215, 255 };

	if (number < 16)
		return named[number];
	if (number >= 232)
		return (unsigned)(8 + 10 * (number - 232)) * 0x010101u;
	number -= 16;
	return steps[number / 36] << 16 | steps[number / 6 % 6] << 8 | steps[number % 6];
}

static double linear(unsigned byte)
{
	double share = byte / 255.0;

	return share <= 0.03928 ? share / 12.92 : pow((share + 0.055) / 1.055, 2.4);
}

static double luminance(unsigned colour)
{
	return 0.2126 * linear(colour >> 16 & 255) + 0.7152 * linear(colour >> 8 & 255) +
	       0.0722 * linear(colour & 255);
}

static double contrast(unsigned a, unsigned b)
{
	double high = fmax(luminance(a), luminance(b)), low = fmin(luminance(a), luminance(b));

	return (high + 0.05) / (low + 0.05);
}

static void holds(const char *ink, const char *column, int number, unsigned ground)
{
	if (number == COLOR_DEFAULT)
		return;
	double ratio = contrast(rgb(number), ground);
	ck_assert_msg(ratio >= 4.5, "%s, %s: colour %d on %06x has %.2f to 1", ink, column, number, ground,
	              ratio);
}

/* The formula itself: black on white has 21 to 1, cyan and green on white about 2. */
START_TEST(the_ratio_is_that_of_the_standard)
{
	ck_assert_double_eq_tol(contrast(0xffffff, 0x000000), 21, 1e-9);
	ck_assert_double_eq_tol(contrast(0x777777, 0xffffff), 4.48, 0.01);
	ck_assert_double_eq_tol(contrast(named[COLOR_CYAN], 0xffffff), 1.98, 0.01);
	ck_assert_double_eq_tol(contrast(named[COLOR_GREEN], 0xffffff), 2.16, 0.01);
}
END_TEST

START_TEST(every_ink_can_be_read_on_its_ground)
{
	const char *ink = inks[_i].name;

	holds(ink, "light, 8", inks[_i].light8, 0xffffff);
	holds(ink, "dark, 8", inks[_i].dark8, 0x000000);
	holds(ink, "dark, 16", inks[_i].dark16, 0x000000);
	holds(ink, "light, 256", inks[_i].light256, 0xffffff);
	holds(ink, "dark, 256", inks[_i].dark256, 0x000000);
	holds(ink, "both, 256", inks[_i].both256, 0xffffff);
	holds(ink, "both, 256", inks[_i].both256, 0x000000);
}
END_TEST

/* Grounds that people have instead of pure white and black. */
START_TEST(themes_can_be_read_on_softer_grounds_too)
{
	holds(inks[_i].name, "light, paper", inks[_i].light256, 0xfdf6e3);
	holds(inks[_i].name, "dark, slate", inks[_i].dark256, 0x1e1e1e);
}
END_TEST

/* The words of the setting `theme`; another one changes nothing. */
START_TEST(a_theme_has_one_word)
{
	static const struct {
		const char *word;
		enum tui_theme theme;
	} words[] = {
		{ "auto", TUI_THEME_AUTO }, { "light", TUI_THEME_LIGHT }, { "dark", TUI_THEME_DARK },
		{ "mono", TUI_THEME_MONO },
	};

	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		enum tui_theme theme = TUI_THEME_COUNT;
		ck_assert(tui_theme_from_key(words[i].word, &theme));
		ck_assert_int_eq(theme, words[i].theme);
	}
	enum tui_theme theme = TUI_THEME_DARK;
	ck_assert(!tui_theme_from_key("purple", &theme));
	ck_assert(!tui_theme_from_key("", &theme));
	ck_assert_int_eq(theme, TUI_THEME_DARK);
}
END_TEST

Suite *inks_suite(void)
{
	Suite *suite = suite_create("inks");
	TCase *colours = tcase_create("contrast");

	tcase_add_test(colours, the_ratio_is_that_of_the_standard);
	tcase_add_loop_test(colours, every_ink_can_be_read_on_its_ground, 0, INK_COUNT);
	tcase_add_loop_test(colours, themes_can_be_read_on_softer_grounds_too, 0, INK_COUNT);
	tcase_add_test(colours, a_theme_has_one_word);
	suite_add_tcase(suite, colours);
	return suite;
}
