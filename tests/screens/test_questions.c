/* What two books changed: told on the call's page, both values shown, one taken, by keys. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/canvas_dump.h"
#include "support/desk.h"
#include "support/scratch.h"

Suite *questions_suite(void);

static char folder[SCRATCH_SIZE], path[96], other_path[96];
static struct desk desk;
static struct error error;

static wall_time tell_time(void *context)
{
	return ((struct desk *)context)->now;
}

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

/* The other truck: takes this book in, if it meets it, and writes. */
static void other_truck(bool meets, void (*write)(struct session *session))
{
	const struct clock clock = { .now = tell_time, .context = &desk };
	struct merge_report report;
	struct session *session;
	struct store *store;

	assert_ok(store_open(other_path, STORE_CREATE, &clock, &store, &error));
	assert_ok(store_setting_set(store, "technician", "Bo Larsen", &error));
	if (meets)
		assert_ok(store_merge(store, path, &report, &error));
	assert_ok(session_new(store, &clock, UNITS_US, &session, &error));
	assert_ok(session_open(session, desk_call(&desk)->uid.text, &error));
	if (write)
		write(session);
	session_free(session);
	store_close(store);
}

static void take_in(void)
{
	struct merge_report report;

	assert_ok(store_merge(desk.store, other_path, &report, &error));
}

static void type_112(struct session *session)
{
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "112", &error));
}

static void take_out_line(struct session *session)
{
	assert_ok(session_remove_work(session, 0, &error));
}

static void on_a_call(void)
{
	scratch_make(folder);
	snprintf(path, sizeof path, "%s/book.db", folder);
	snprintf(other_path, sizeof other_path, "%s/other.db", folder);
	desk_open_book(&desk, path);
	assert_ok(store_setting_set(desk.store, "technician", "Ada Berg", &error));
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
}

static void put_away(void)
{
	desk_close(&desk);
	scratch_remove(folder);
}

static double suction(void)
{
	return visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE)->number;
}

/* This truck wrote 118 at 08:05, the other one 112 at 08:35, which counts. */
static void with_a_question(void)
{
	other_truck(true, NULL);
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_wait(&desk, 30);
	other_truck(false, type_112);
	take_in();
	/* Own writing is not another's: the call is opened anew, as after a merge. */
	desk_keys(&desk, "Ctrl+B Enter");
}

START_TEST(the_call_says_what_was_changed_in_two_books)
{
	desk_keys(&desk, "F2");
	ck_assert(!desk_shows(&desk, "question"));
	with_a_question();
	ck_assert(desk_shows(&desk, "1 question: suction pressure as found changed in two books. Alt+q"));
	desk_keys(&desk, "Alt+q");
	ck_assert(desk_shows(&desk, "Changed in two books (1)"));
	ck_assert(desk_shows(&desk, "118.0 psig"));
	ck_assert(desk_shows(&desk, "112.0 psig"));
	ck_assert(desk_shows(&desk, "2026-07-14 08:05  Ada Berg"));
	ck_assert(desk_shows(&desk, "2026-07-14 08:35  Bo Larsen"));
	ck_assert(desk_shows(&desk, "counts now"));
	desk_look(&desk, "questions", false);
}
END_TEST

START_TEST(the_other_value_is_taken_by_a_key)
{
	with_a_question();
	ck_assert_double_eq(suction(), 112);
	desk_keys(&desk, "Alt+q Down Enter");
	ck_assert_double_eq(suction(), 118);
	ck_assert(desk_shows(&desk, "No field of this call was changed in two books"));
	desk_keys(&desk, "Esc");
	ck_assert(!desk_shows(&desk, "1 question"));
}
END_TEST

START_TEST(the_value_that_counts_is_kept_by_a_key)
{
	with_a_question();
	desk_keys(&desk, "Alt+q Enter F2");
	ck_assert_double_eq(suction(), 112);
	ck_assert(!desk_shows(&desk, "1 question"));
}
END_TEST

/* One took a line out, the other one changed it. */
START_TEST(a_line_taken_out_and_changed_is_a_question)
{
	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter");
	other_truck(true, take_out_line);
	desk_keys(&desk, "'2' Enter");
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 2000);
	take_in();
	desk_keys(&desk, "Ctrl+B Enter Alt+q");
	ck_assert(desk_shows(&desk, "a line of the work: taken out"));
	ck_assert(desk_shows(&desk, "stays in"));
	size_t before = desk_call(&desk)->work_count;
	desk_keys(&desk, "Down Enter");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1 - before);
}
END_TEST

static const struct {
	enum reading reading;
	const char *label, *ours, *theirs;
} six[] = {
	{ READING_SUCTION_PRESSURE, "suction pressure as found", "118", "112" },
	{ READING_SUCTION_LINE_TEMP, "suction line temperature as found", "60", "61" },
	{ READING_LIQUID_PRESSURE, "liquid pressure as found", "340", "342" },
	{ READING_LIQUID_LINE_TEMP, "liquid line temperature as found", "97", "98" },
	{ READING_OUTDOOR_DB, "outdoor dry bulb as found", "95", "96" },
	{ READING_DISCHARGE_LINE_TEMP, "discharge line temp. as found", "180", "181" },
};

enum { SIX = sizeof six / sizeof *six, ROOM = 4 };

static void type_six(struct session *session)
{
	for (int i = 0; i < SIX; i++)
		assert_ok(session_type(session, STAGE_AS_FOUND, six[i].reading, six[i].theirs, &error));
}

/* How many of the six are in sight. */
static int count_shown(void)
{
	int count = 0;

	for (int i = 0; i < SIX; i++)
		count += desk_shows(&desk, six[i].label);
	return count;
}

/* On the smallest page four fit; the one under the cursor is always among them, and none is blank. */
START_TEST(many_questions_scroll_with_the_cursor)
{
	other_truck(true, NULL);
	desk_keys(&desk, "F8");
	for (int i = 0; i < SIX; i++)
		assert_ok(session_type(desk.session, STAGE_AS_FOUND, six[i].reading, six[i].ours, &error));
	desk_wait(&desk, 30);
	other_truck(false, type_six);
	take_in();
	desk_keys(&desk, "Ctrl+B Enter Alt+q");
	workbook_resize(desk.workbook, 20, 60);
	ck_assert(desk_shows(&desk, "Changed in two books (6)"));
	struct text before, now;
	text_init(&before);
	text_init(&now);
	for (int i = 0; i < 2 * SIX; i++) {
		ck_assert_int_eq(count_shown(), ROOM);
		text_clear(&now);
		canvas_dump(workbook_draw(desk.workbook), &now);
		/* As long as the cursor is on one of the first, they stay where they are. */
		if (i > 0 && i < 2 * ROOM)
			ck_assert_str_eq(text_get(&now), text_get(&before));
		else if (i > 0 && i % 2 == 0)
			ck_assert_str_ne(text_get(&now), text_get(&before));
		text_clear(&before);
		text_add(&before, text_get(&now));
		desk_keys(&desk, "Down");
	}
	text_done(&before);
	text_done(&now);
}
END_TEST

Suite *questions_suite(void)
{
	Suite *suite = suite_create("questions");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, on_a_call, put_away);
	tcase_add_test(keys, the_call_says_what_was_changed_in_two_books);
	tcase_add_test(keys, the_other_value_is_taken_by_a_key);
	tcase_add_test(keys, the_value_that_counts_is_kept_by_a_key);
	tcase_add_test(keys, a_line_taken_out_and_changed_is_a_question);
	tcase_add_test(keys, many_questions_scroll_with_the_cursor);
	suite_add_tcase(suite, keys);
	return suite;
}
