/*
 * The table of requests: every row is a key that does something where the row
 * says, keys do not stand in each other's way, and each page shows its own.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/demo.h"
#include "support/desk.h"
#include "tui/edit.h"
#include "tui/list.h"
#include "tui/pager.h"

Suite *requests_suite(void);

/* How one gets to each place from a book with the demo's calls in it. */
static const char *const ways[PLACE_COUNT] = {
	[PLACE_ANY] = "Enter F5", [PLACE_CALL] = "Enter F10", [PLACE_FIELD] = "Enter F3",
	[PLACE_WORDS] = "Enter F8", [PLACE_YES_NO] = "Enter F4",
	[PLACE_ASKED] = "Enter Ctrl+P Down Down Down Down Down Space F5 '1'",
	[PLACE_REFUSED] = "Enter F5 'x' Enter", [PLACE_WRITING] = "Enter F5 '1'",
	[PLACE_LIST] = "", [PLACE_PAGER] = "F1", [PLACE_SHEET] = "Enter F5", [PLACE_COLUMNS] = "Enter F5",
	[PLACE_FOLD] = "Enter F5 End",
	[PLACE_BOOK] = "",
	[PLACE_CUSTOMER] = "Tab Enter", [PLACE_HISTORY] = "Enter Ctrl+O Tab",
	[PLACE_FINDINGS] = "Enter F10", [PLACE_CHOICES] = "Enter F11", [PLACE_WORK] = "Enter F12",
	[PLACE_PRICES] = "Enter F12 Tab 'capacitor'", [PLACE_PAPER] = "Enter Ctrl+P",
	[PLACE_FILE] = "Enter Ctrl+P Down Down Down Down",
	[PLACE_REPORT] = "Enter Ctrl+P Tab", [PLACE_LOG] = "Enter Alt+v", [PLACE_COMPARE] = "Enter Alt+c",
	[PLACE_RECORDS] = "", [PLACE_REMOVED] = "Alt+o",
	[PLACE_CHECKLIST] = "Enter Alt+l Enter",
	[PLACE_CHANGES] = "Enter Alt+w", [PLACE_QUESTIONS] = "Enter Alt+q",
	[PLACE_PREDICTIONS] = "Enter F10 'p'", [PLACE_GO] = "Enter Ctrl+G", [PLACE_HELP] = "F1",
};

/* Presses one key of a row where it belongs; whether it did something. */
static bool works(enum request request, const char *name)
{
	const struct request_info *info = request_info(request);
	struct desk desk;

	desk_open(&desk);
	demo_fill(desk.store);
	desk_keys(&desk, "Ctrl+N Ctrl+B");
	desk_keys(&desk, ways[info->place]);
	workbook_draw(desk.workbook);
	/* On an empty name behind the cursor there is nothing to do: give each key some text. */
	desk_keys(&desk, name);
	bool is_done = desk.done == request;
	desk_close(&desk);
	/* The report that one of the keys writes. */
	remove("padside-2026-07-14-call.txt");
	return is_done;
}

START_TEST(every_row_is_carried_out)
{
	enum request request = (enum request)_i;
	const struct request_info *info = request_info(request);

	ck_assert_msg(works(request, info->key), "%s does nothing: %s", info->key, info->help);
	if (*info->other)
		ck_assert_msg(works(request, info->other), "%s does nothing: %s", info->other, info->help);
}
END_TEST

/* The rows of the editor, the lists and the texts, in the files that have them. */
START_TEST(every_row_of_a_widget_is_taken)
{
	enum request request = (enum request)_i;
	struct edit edit;
	struct list list;
	struct pager pager;
	struct key key;

	ck_assert(key_from_name(request_info(request)->key, &key));
	edit_init(&edit, 100);
	edit_set(&edit, "two words");
	list_init(&list, false);
	list_set_count(&list, 3);
	pager_open(&pager, "a\nb\n");
	switch (request_info(request)->place) {
	case PLACE_WRITING:
		ck_assert(request == REQUEST_WRITE_KEEP || request == REQUEST_WRITE_DROP ||
		          edit_key(&edit, key) != EDIT_IGNORED);
		break;
	case PLACE_LIST:
		ck_assert_int_ne(list_key(&list, key), LIST_IGNORED);
		break;
	case PLACE_PAGER:
		ck_assert(pager_key(&pager, key));
		break;
	default:
		break;
	}
}
END_TEST

/* A key means one thing in a place. */
START_TEST(no_key_stands_twice_in_a_place)
{
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++)
		for (int j = i; j < REQUEST_COUNT; j++) {
			const struct request_info *a = request_info((enum request)i);
			const struct request_info *b = request_info((enum request)j);
			if (a->place != b->place)
				continue;
			ck_assert_msg(i == j || strcmp(a->key, b->key) != 0, "%s twice", a->key);
			ck_assert_msg(!*b->other || strcmp(a->key, b->other) != 0, "%s twice", a->key);
			ck_assert_msg(i == j || !*a->other || strcmp(a->other, b->key) != 0, "%s twice", b->key);
			ck_assert_msg(i == j || !*a->other || strcmp(a->other, b->other) != 0, "%s twice", a->other);
		}
}
END_TEST

/* Every page at 80×24 shows the first of its own keys with what it does. */
START_TEST(every_page_shows_its_keys)
{
	enum request_place place = (enum request_place)_i;
	struct desk desk;
	struct text words;

	desk_open(&desk);
	demo_fill(desk.store);
	desk_keys(&desk, "Ctrl+N Ctrl+B");
	desk_keys(&desk, ways[place]);
	text_init(&words);
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT && words.length == 0; i++)
		if (request_info((enum request)i)->place == place && *request_info((enum request)i)->word) {
			request_add_keys((enum request)i, false, " ", &words);
			text_add_format(&words, " %s", request_info((enum request)i)->word);
		}
	ck_assert_msg(desk_shows(&desk, text_get(&words)), "%s: no \"%s\"", request_place_title(place),
	              text_get(&words));
	ck_assert_msg(desk_shows(&desk, "F1 help"), "%s", request_place_title(place));
	text_done(&words);
	desk_close(&desk);
}
END_TEST

/* A key that an inner place took for itself stands on the line for that alone. */
START_TEST(no_page_shows_a_key_for_what_it_does_not_do)
{
	enum request_place here = (enum request_place)_i;
	enum request_place place = here;
	struct desk desk;
	struct text words;

	desk_open(&desk);
	demo_fill(desk.store);
	desk_keys(&desk, "Ctrl+N Ctrl+B");
	desk_keys(&desk, ways[here]);
	text_init(&words);
	for (; place < PLACE_COUNT; place = request_place_around(place))
		for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++) {
			const struct request_info *info = request_info((enum request)i);
			struct key key;
			ck_assert(key_from_name(info->key, &key));
			enum request asked = request_from_key(here, key);
			if (info->place != place || !*info->word ||
			    strcmp(info->word, request_info(asked)->word) == 0)
				continue;
			text_clear(&words);
			request_add_keys((enum request)i, false, " ", &words);
			text_add_format(&words, " %s", info->word);
			ck_assert_msg(!desk_shows(&desk, text_get(&words)), "%s: \"%s\"",
			              request_place_title(here), text_get(&words));
		}
	text_done(&words);
	desk_close(&desk);
}
END_TEST

/* A row with one value shows no keys of the columns, and none works there. */
START_TEST(a_row_with_one_value_has_no_keys_of_columns)
{
	struct desk desk;

	desk_open_on_call(&desk);
	desk_keys(&desk, "F3");
	ck_assert(desk_shows(&desk, "Enter next"));
	ck_assert(!desk_shows(&desk, "as found, as left") && !desk_shows(&desk, "= same"));
	desk_keys(&desk, "Right");
	ck_assert_int_eq(workbook_stage(desk.workbook), STAGE_AS_FOUND);
	desk_keys(&desk, "F5");
	ck_assert(desk_shows(&desk, "as found, as left") && desk_shows(&desk, "= same"));
	desk_keys(&desk, "Right");
	ck_assert_int_eq(workbook_stage(desk.workbook), STAGE_AS_LEFT);
	desk_close(&desk);
}
END_TEST

/* The step strip shows the key of every step, at 80×24 and at 120×40. */
START_TEST(the_steps_show_their_keys)
{
	struct desk desk;

	desk_open(&desk);
	desk_keys(&desk, "Ctrl+N");
	for (int wide = 0; wide < 2; wide++) {
		workbook_resize(desk.workbook, wide ? 40 : 24, wide ? 120 : 80);
		for (int i = 0; i < STEP_COUNT; i++) {
			char words[64];
			snprintf(words, sizeof words, "%s·%s",
			         request_info((enum request)(REQUEST_STEP_1 + i))->key,
			         step_info((enum step)i)->brief);
			ck_assert_msg(desk_shows(&desk, words), "no %s", words);
		}
	}
	desk_close(&desk);
}
END_TEST

Suite *requests_suite(void)
{
	Suite *suite = suite_create("requests");
	TCase *table = tcase_create("table");

	tcase_set_timeout(table, 60);
	tcase_add_loop_test(table, every_row_is_carried_out, REQUEST_NONE + 1, REQUEST_COUNT);
	tcase_add_loop_test(table, every_row_of_a_widget_is_taken, REQUEST_NONE + 1, REQUEST_COUNT);
	tcase_add_test(table, no_key_stands_twice_in_a_place);
	tcase_add_loop_test(table, every_page_shows_its_keys, 0, PLACE_COUNT);
	tcase_add_loop_test(table, no_page_shows_a_key_for_what_it_does_not_do, 0, PLACE_COUNT);
	tcase_add_test(table, a_row_with_one_value_has_no_keys_of_columns);
	tcase_add_test(table, the_steps_show_their_keys);
	suite_add_tcase(suite, table);
	return suite;
}
