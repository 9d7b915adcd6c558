/*
 * What was typed and is refused: one sign on every page, what still counts
 * beside it, and a word of it before the call is closed.
 */
#include <check.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support/desk.h"
#include "support/scratch.h"

Suite *unkept_suite(void);

static struct desk desk;

static void on_a_call(void)
{
	desk_open_on_call(&desk);
}

static void put_away(void)
{
	desk_close(&desk);
}

/* On the sheet of the lock-out it was "no", as an answer. */
START_TEST(a_refused_text_has_one_sign_on_every_page)
{
	desk_keys(&desk, "F4 'maybe' Enter Down");
	ck_assert(desk_shows(&desk, "maybe ! not kept"));
	desk_keys(&desk, "F2");
	desk_write(&desk, "planned for", "soon");
	desk_keys(&desk, "Down");
	ck_assert(desk_shows(&desk, "soon ! not kept"));
	desk_keys(&desk, "F11 'New motor' Enter 'cheap' Enter Down");
	ck_assert(desk_shows(&desk, "cheap ! not kept"));
	desk_keys(&desk, "F12 'much' Enter Right");
	ck_assert(desk_shows(&desk, "much !"));
	desk_keys(&desk, "Tab 'Labour' Enter 'two' Enter Right");
	ck_assert(desk_shows(&desk, "two !"));
	desk_keys(&desk, "Tab 'all' Enter Down");
	ck_assert(desk_shows(&desk, "all !"));
	desk_keys(&desk, "Alt+v 'soonest' Enter Down");
	ck_assert(desk_shows(&desk, "!"));
}
END_TEST

/* After the slip "1.1" the compressor that runs was out of sight. */
START_TEST(what_was_kept_still_counts_and_is_told)
{
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "runs");
	desk_go(&desk, "compressor");
	desk_keys(&desk, "'1.1' Enter");
	ck_assert(desk_shows(&desk, "; \"runs\" still counts"));
	ck_assert(desk_shows(&desk, "1.1 ! not kept"));
	desk_keys(&desk, "Down Up");
	ck_assert(desk_shows(&desk, "; \"runs\" still counts"));
	/* With room it stands in the row. */
	desk_keys(&desk, "F3");
	desk_write(&desk, "nominal capacity", "3");
	desk_write(&desk, "nominal capacity", "x");
	ck_assert(desk_shows(&desk, "x ! not kept, 3.0 counts"));
	/* Where nothing stood, nothing does. */
	desk_keys(&desk, "Down 'y' Enter");
	ck_assert(!desk_shows(&desk, "still counts"));
}
END_TEST

/* A tick over "undecided" read as accepted. */
START_TEST(no_tick_stands_over_an_option)
{
	desk_keys(&desk, "F11 'New motor' Enter");
	desk_wait(&desk, 1);
	desk_keys(&desk, "Down");
	ck_assert(!desk_shows(&desk, "1 ✓"));
}
END_TEST

/* The tick of a sheet told that all of it is in the book. */
START_TEST(no_tick_stands_over_a_text_that_is_not_kept)
{
	desk_keys(&desk, "F2");
	desk_write(&desk, "address", "7 Elm Street");
	desk_write(&desk, "complaint", "No cooling");
	ck_assert(desk_shows(&desk, "F2✓call"));
	desk_write(&desk, "altitude", "x");
	ck_assert(desk_shows(&desk, "F2~call"));
	desk_keys(&desk, "Esc");
	ck_assert(desk_shows(&desk, "F2✓call"));
}
END_TEST

/* A call was closed and its report written with five refused texts, without a word. */
START_TEST(closing_and_writing_tell_what_is_not_kept)
{
	char folder[SCRATCH_SIZE], home[512];

	ck_assert_ptr_nonnull(getcwd(home, sizeof home));
	scratch_make(folder);
	ck_assert_int_eq(chdir(folder), 0);
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "1.1");
	desk_keys(&desk, "F12 Tab Tab 'all' Enter Down");
	desk_keys(&desk, "Ctrl+P");
	desk_write(&desk, "this call is", "closed");
	ck_assert(desk_shows(&desk, "closed. Without what stands refused: 2 texts are not kept: F7, F12"));
	desk_write(&desk, "this call is", "open");
	desk_go(&desk, "into the file");
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "texts are not kept: F7, F12"));
	ck_assert_int_eq(chdir(home), 0);
	scratch_remove(folder);
}
END_TEST

static const struct {
	const char *keys; /* to the field */
	enum call_list list;
	size_t at, size; /* in the element, with the byte that ends it */
} longest[] = {
	{ "F12 Tab Ctrl+N", LIST_WORK, offsetof(struct work_line, description), LINE_SIZE },
	{ "F12 Tab Ctrl+N 'Hose' Enter Right Right Right", LIST_WORK, offsetof(struct work_line, note), LINE_SIZE },
	{ "F11 Ctrl+N", LIST_OFFERS, offsetof(struct offer, title), LINE_SIZE },
	{ "F11 Ctrl+N 'Hose' Enter Down Down Down Down Down Down", LIST_OFFERS, offsetof(struct offer, decided_by), NAME_SIZE },
	{ "F11 Ctrl+N 'Hose' Enter Down Down Down Down Down Down Down", LIST_OFFERS, offsetof(struct offer, note), LINE_SIZE },
	{ "F12 '3' Enter Right", LIST_CHARGE, offsetof(struct charge_entry, cylinder), CYLINDER_SIZE },
	{ "F12 '3' Enter End", LIST_CHARGE, offsetof(struct charge_entry, note), LINE_SIZE },
	{ "Alt+v 'v' Enter Enter '480' Enter", LIST_TIGHTNESS, offsetof(struct tightness_entry, note), LINE_SIZE },
};

/* Two hundred letters more than fit: those that do not fit are not taken, the others are kept. */
START_TEST(a_field_takes_as_much_as_it_keeps)
{
	char letters[400];

	memset(letters, 'x', sizeof letters);
	memcpy(letters + sizeof letters - 9, "' Enter", 8);
	letters[0] = '\'';
	desk_keys(&desk, longest[_i].keys);
	desk_keys(&desk, letters);
	const char *element = call_list_at(desk_call(&desk), longest[_i].list, 0);
	ck_assert_ptr_nonnull(element);
	ck_assert_uint_eq(strlen(element + longest[_i].at), longest[_i].size - 1);
}
END_TEST

Suite *unkept_suite(void)
{
	Suite *suite = suite_create("unkept");
	TCase *keys = tcase_create("keys");

	tcase_add_checked_fixture(keys, on_a_call, put_away);
	tcase_add_test(keys, a_refused_text_has_one_sign_on_every_page);
	tcase_add_test(keys, what_was_kept_still_counts_and_is_told);
	tcase_add_loop_test(keys, a_field_takes_as_much_as_it_keeps, 0,
	                    (int)(sizeof longest / sizeof *longest));
	tcase_add_test(keys, no_tick_stands_over_an_option);
	tcase_add_test(keys, no_tick_stands_over_a_text_that_is_not_kept);
	tcase_add_test(keys, closing_and_writing_tell_what_is_not_kept);
	suite_add_tcase(suite, keys);
	return suite;
}
