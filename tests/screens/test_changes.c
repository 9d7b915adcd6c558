/* Undo, redo and the list of changes, by keys, also beside another program. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/beside.h"

Suite *changes_suite(void);

static struct desk desk;
static struct error error;

/* The other program on the same call. */
static struct beside other;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void on_a_call(void)
{
	beside_open(&other, &desk);
	assert_ok(store_setting_set(desk.store, "technician", "Ada Berg", &error));
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
	beside_join(&other, &desk);
}

static void put_away(void)
{
	beside_close(&other, &desk);
}

static const struct value *found(enum reading reading)
{
	return visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND, reading);
}

static void assert_acceptance(const char *by, wall_time at, cents total)
{
	const struct call *call = desk_call(&desk);

	ck_assert_str_eq(call->accepted_by, by);
	ck_assert_int_eq(call->accepted_at, at);
	ck_assert_int_eq(call->accepted_total, total);
}

/* 118, then 119. */
static void with_two_changes(void)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_wait(&desk, 1);
	desk_write(&desk, "suction pressure", "119");
}

/* "taken back: supply dry bulb" left open in which column, which value, on which sheet. */
START_TEST(an_undo_tells_where_it_acted_and_what_stands_there)
{
	desk_keys(&desk, "F9");
	desk_write(&desk, "supply dry bulb", "58");
	desk_keys(&desk, "Right");
	desk_write(&desk, "supply dry bulb", "55");
	desk_keys(&desk, "F11 'New motor' Enter");
	desk_go(&desk, "the customer");
	desk_keys(&desk, "'a' Enter F4 Ctrl+_");
	ck_assert(desk_shows(&desk, "taken back: an option, New motor, decision (options): now none, was accepted"));
	desk_keys(&desk, "Ctrl+_");
	ck_assert(desk_shows(&desk, "taken back: an option, New motor (options): taken out"));
	desk_keys(&desk, "Ctrl+_");
	ck_assert(desk_shows(&desk, "taken back: supply dry bulb as left (air): now empty, was 55.0 °F"));
	desk_keys(&desk, "Ctrl+Y");
	ck_assert(desk_shows(&desk, "made again: supply dry bulb as left (air): now 55.0 °F, was empty"));
	desk_keys(&desk, "F2");
	desk_write(&desk, "complaint", "Smells");
	desk_keys(&desk, "F4 Ctrl+_");
	ck_assert(desk_shows(&desk, "taken back: complaint (call): now empty, was Smells"));
	/* One step of several says how many. */
	desk_keys(&desk, "F9 Left");
	desk_write(&desk, "return dry bulb", "75");
	desk_write(&desk, "return wet bulb", "63");
	desk_keys(&desk, "Ctrl+F F4 Ctrl+_");
	ck_assert(desk_shows(&desk, "taken back: return dry bulb as left (air): now empty, was 75.0 °F; and 1 more"));
}
END_TEST

/* The safety sheet has one column, and a text ends no sentence before its end. */
START_TEST(an_undo_names_no_column_that_the_sheet_has_not)
{
	desk_keys(&desk, "F4");
	desk_write(&desk, "left off, locked", "yes");
	desk_keys(&desk, "Ctrl+_");
	ck_assert(desk_shows(&desk, "taken back: left off, locked, tagged (safe): now empty, was yes"));
	desk_keys(&desk, "F11 'Replace the run capacitor.' Enter '285' Enter Ctrl+_");
	ck_assert(desk_shows(&desk, "taken back: an option, Replace the run capacitor, price"));
}
END_TEST

/* What an earlier run changed stands in the list alone. */
START_TEST(without_a_change_an_undo_names_the_list)
{
	with_two_changes();
	desk_keys(&desk, "Ctrl+_ Ctrl+_ Ctrl+_ Ctrl+_");
	ck_assert(desk_shows(&desk, "all that was changed since the call was opened is taken back; Alt+w lists"));
	desk_keys(&desk, "Ctrl+B Home Enter Ctrl+_");
	ck_assert(desk_shows(&desk, "nothing was changed since the call was opened; Alt+w lists all changes"));
}
END_TEST

START_TEST(what_was_taken_back_is_made_again)
{
	with_two_changes();
	desk_keys(&desk, "Ctrl+_ Ctrl+_");
	ck_assert_int_eq(found(READING_SUCTION_PRESSURE)->state, VALUE_NOT_TAKEN);
	desk_keys(&desk, "Ctrl+Y");
	ck_assert(desk_shows(&desk, "made again: suction pressure as found (charge): now 118.0 psig, was empty"));
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	desk_keys(&desk, "Alt+a");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 119);
	desk_keys(&desk, "Ctrl+Y");
	ck_assert(desk_shows(&desk, "nothing was taken back"));
	/* And back once more. */
	desk_keys(&desk, "Ctrl+_");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
}
END_TEST

START_TEST(a_new_change_ends_making_again)
{
	with_two_changes();
	desk_keys(&desk, "Ctrl+_");
	desk_write(&desk, "suction line temperature", "52");
	desk_keys(&desk, "Ctrl+Y");
	ck_assert(desk_shows(&desk, "nothing was taken back"));
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
}
END_TEST

/* A line that came goes and comes, one that was taken out comes and goes. */
START_TEST(lines_are_made_again)
{
	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter '2' Enter");
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 2000);
	desk_keys(&desk, "Ctrl+_ Ctrl+_");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 0);
	desk_keys(&desk, "Ctrl+Y Ctrl+Y");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 2000);
	desk_keys(&desk, "Ctrl+X");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 0);
	desk_keys(&desk, "Ctrl+_");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	desk_keys(&desk, "Ctrl+Y");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 0);
}
END_TEST

START_TEST(what_another_changed_since_is_not_made_again)
{
	with_two_changes();
	desk_keys(&desk, "Ctrl+_");
	assert_ok(session_refresh(other.session, NULL, &error));
	assert_ok(session_type(other.session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "60", &error));
	desk_keys(&desk, "Ctrl+Y");
	ck_assert(desk_shows(&desk, "changed elsewhere since"));
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 60);
}
END_TEST

/* Of a line only what was changed here is taken back; the other's field stays. */
START_TEST(undo_of_a_line_leaves_the_other_fields_alone)
{
	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter '2' Enter");
	assert_ok(session_refresh(other.session, NULL, &error));
	struct work_line line = session_call(other.session)->work[0];
	snprintf(line.note, sizeof line.note, "from the van");
	assert_ok(session_put_work(other.session, &line, &error));
	desk_keys(&desk, "Ctrl+_");
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 1000);
	ck_assert_str_eq(desk_call(&desk)->work[0].note, "from the van");
	desk_keys(&desk, "Ctrl+Y");
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 2000);
	ck_assert_str_eq(desk_call(&desk)->work[0].note, "from the van");
}
END_TEST

/* ---- The list ---- */

START_TEST(the_changes_are_listed_with_who_and_when)
{
	desk_go(&desk, "technician");
	desk_keys(&desk, "'Ada Berg' Enter");
	with_two_changes();
	desk_keys(&desk, "Alt+w");
	ck_assert(desk_shows(&desk, "07-14 08:06 suction pressure as found"));
	ck_assert(desk_shows(&desk, "118.0 psig → 119.0 psig"));
	ck_assert(desk_shows(&desk, "Ada Berg"));
	desk_look(&desk, "changes", false);
}
END_TEST

START_TEST(any_change_is_taken_back_from_the_list)
{
	with_two_changes();
	desk_write(&desk, "suction line temperature", "52");
	desk_keys(&desk, "Alt+w Down Enter");
	ck_assert(desk_shows(&desk, "taken back: suction pressure as found"));
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	ck_assert_double_eq(found(READING_SUCTION_LINE_TEMP)->number, 52);
	/* When it was read is when it was read. */
	ck_assert_int_eq(found(READING_SUCTION_PRESSURE)->taken_at, desk.now - 60);
	/* That is a change as well. */
	desk_keys(&desk, "Ctrl+_");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 119);
	desk_keys(&desk, "Ctrl+Y Esc");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_REFRIGERANT);
}
END_TEST

START_TEST(a_narrow_page_shows_the_values_whole)
{
	with_two_changes();
	desk_keys(&desk, "Alt+w");
	workbook_resize(desk.workbook, 20, 60);
	ck_assert(desk_shows(&desk, "118.0 psig → 119.0 psig"));
}
END_TEST

START_TEST(what_was_changed_again_since_stays)
{
	with_two_changes();
	desk_keys(&desk, "Alt+w Down Enter");
	ck_assert(desk_shows(&desk, "changed again since"));
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 119);
}
END_TEST

/* Another program's changes and those of an earlier day stand there too. */
START_TEST(a_change_of_another_program_is_taken_back)
{
	assert_ok(session_type_field(other.session, FIELD_COMPLAINT, "no cooling", &error));
	desk_keys(&desk, "Alt+w");
	ck_assert(desk_shows(&desk, "no cooling"));
	desk_keys(&desk, "Home Enter");
	ck_assert_str_eq(desk_call(&desk)->complaint, "");
}
END_TEST

/* A fault and a judgement of it stand in words, not by their ids. */
START_TEST(a_judgement_is_told_in_words)
{
	struct judgement judgement = { .verdict = JUDGEMENT_RULED_OUT };

	text_copy(judgement.fault, sizeof judgement.fault, "compressor_capacitor_weak");
	assert_ok(session_put(desk.session, LIST_JUDGEMENTS, &judgement, &error));
	desk_keys(&desk, "Alt+w");
	ck_assert_msg(desk_shows(&desk, "run capacitor weak"), "%s", "the fault by its label");
	ck_assert(desk_shows(&desk, "ruled out"));
	ck_assert(!desk_shows(&desk, "capacitor_weak"));
	ck_assert(!desk_shows(&desk, "ruled_out"));
}
END_TEST

/* One key accepted: one undo takes the name, the time and the total back, one redo brings them. */
START_TEST(an_acceptance_is_one_change)
{
	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter '1' Enter '95' Enter Ctrl+P");
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "'M. Quill' Enter Ctrl+_");
	ck_assert(desk_shows(&desk, "accepted by"));
	assert_acceptance("", WALL_TIME_NONE, 0);
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	desk_wait(&desk, 1);
	desk_keys(&desk, "Ctrl+Y");
	assert_acceptance("M. Quill", desk.now - 60, 9500);
	/* Nobody accepted is one change too. */
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "Del");
	assert_acceptance("", WALL_TIME_NONE, 0);
	desk_keys(&desk, "Ctrl+_");
	assert_acceptance("M. Quill", desk.now - 60, 9500);
}
END_TEST

START_TEST(an_acceptance_is_one_line_of_the_list)
{
	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter '1' Enter '95' Enter Ctrl+P");
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "'M. Quill' Enter Alt+w");
	ck_assert(desk_shows(&desk, "accepted by"));
	ck_assert(!desk_shows(&desk, "accepted at"));
	ck_assert(!desk_shows(&desk, "accepted total"));
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "taken back: accepted by"));
	assert_acceptance("", WALL_TIME_NONE, 0);
	ck_assert(desk_shows(&desk, "M. Quill → nothing"));
	ck_assert(!desk_shows(&desk, "accepted total"));
	desk_keys(&desk, "Ctrl+_");
	assert_acceptance("M. Quill", desk.now, 9500);
	desk_keys(&desk, "Ctrl+Y");
	assert_acceptance("", WALL_TIME_NONE, 0);
}
END_TEST

/* Another program accepted since: that acceptance stays whole. */
START_TEST(an_acceptance_of_another_program_is_not_taken_back)
{
	desk_keys(&desk, "F12 Tab 'Run capacitor' Enter '1' Enter '95' Enter Ctrl+P");
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "'M. Quill' Enter");
	assert_ok(session_refresh(other.session, NULL, &error));
	assert_ok(session_type_field(other.session, FIELD_ACCEPTED_BY, "B. Quill", &error));
	desk_keys(&desk, "Ctrl+_");
	ck_assert(desk_shows(&desk, "the acceptance was changed elsewhere since"));
	ck_assert_str_eq(desk_call(&desk)->accepted_by, "B. Quill");
	ck_assert_int_eq(desk_call(&desk)->accepted_total, 9500);
}
END_TEST

Suite *changes_suite(void)
{
	Suite *suite = suite_create("changes");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, on_a_call, put_away);
	tcase_add_test(keys, an_undo_tells_where_it_acted_and_what_stands_there);
	tcase_add_test(keys, an_undo_names_no_column_that_the_sheet_has_not);
	tcase_add_test(keys, without_a_change_an_undo_names_the_list);
	tcase_add_test(keys, what_was_taken_back_is_made_again);
	tcase_add_test(keys, a_new_change_ends_making_again);
	tcase_add_test(keys, lines_are_made_again);
	tcase_add_test(keys, what_another_changed_since_is_not_made_again);
	tcase_add_test(keys, undo_of_a_line_leaves_the_other_fields_alone);
	tcase_add_test(keys, the_changes_are_listed_with_who_and_when);
	tcase_add_test(keys, any_change_is_taken_back_from_the_list);
	tcase_add_test(keys, a_judgement_is_told_in_words);
	tcase_add_test(keys, a_narrow_page_shows_the_values_whole);
	tcase_add_test(keys, what_was_changed_again_since_stays);
	tcase_add_test(keys, a_change_of_another_program_is_taken_back);
	tcase_add_test(keys, an_acceptance_is_one_change);
	tcase_add_test(keys, an_acceptance_is_one_line_of_the_list);
	tcase_add_test(keys, an_acceptance_of_another_program_is_not_taken_back);
	suite_add_tcase(suite, keys);
	return suite;
}
