/* Entries of the charge log and watch items: removed, taken back, in the book as in memory. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "support/desk.h"

Suite *taken_back_suite(void);

static struct desk desk;
static struct error error;

static void set_up(void)
{
	desk_open(&desk);
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
}

static void tear_down(void)
{
	desk_close(&desk);
}

/* Leaves the call and opens it again: what the book has is what stands there then. */
static const struct call *as_in_the_book(void)
{
	struct uid uid = desk_call(&desk)->uid;

	session_leave(desk.session);
	ck_assert_msg(session_open(desk.session, uid.text, &error) == STATUS_OK, "%s", error.text);
	return desk_call(&desk);
}

static void take_back(const char *wanted)
{
	char what[64];

	ck_assert_msg(session_undo(desk.session, what, sizeof what, &error) == STATUS_OK, "%s",
	              error.text);
	ck_assert_ptr_nonnull(strstr(what, wanted));
}

START_TEST(an_entry_of_the_charge_log_is_removed_and_comes_back)
{
	struct charge_entry entry = { .at = desk.now, .added_oz = 6, .recovered_oz = 1.5,
	                              .cylinder = "A-17", .note = "liquid, slowly" };

	for (int i = 0; i < 3; i++) {
		entry.uid = (struct uid){ .text = "" };
		entry.at = desk.now + 60 * 10 * i;
		entry.added_oz = 6 + i;
		ck_assert(session_put_charge(desk.session, &entry, &error) == STATUS_OK);
	}
	ck_assert(session_remove_charge(desk.session, 1, &error) == STATUS_OK);
	ck_assert_uint_eq(desk_call(&desk)->charge_count, 2);
	ck_assert_double_eq(desk_call(&desk)->charge[0].added_oz, 6);
	ck_assert_double_eq(desk_call(&desk)->charge[1].added_oz, 8);
	take_back("charge log");
	ck_assert_uint_eq(desk_call(&desk)->charge_count, 3);
	const struct charge_entry *back = &as_in_the_book()->charge[1];
	ck_assert_uint_eq(desk_call(&desk)->charge_count, 3);
	ck_assert_double_eq(back->added_oz, 7);
	ck_assert_double_eq(back->recovered_oz, 1.5);
	ck_assert_int_eq(back->at, desk.now + 60 * 10);
	ck_assert_str_eq(back->cylinder, "A-17");
	ck_assert_str_eq(back->note, "liquid, slowly");
	ck_assert(session_remove_charge(desk.session, 0, &error) == STATUS_OK);
	ck_assert_uint_eq(as_in_the_book()->charge_count, 2);
	ck_assert_double_eq(desk_call(&desk)->charge[0].added_oz, 7);
}
END_TEST

START_TEST(a_watch_item_is_removed_and_comes_back)
{
	struct watch_item item = { .fault = "fan_motor_overloaded", .noted_at = desk.now,
	                           .closed_at = WALL_TIME_NONE, .text = "fan draws too much" };

	ck_assert(session_put_watch(desk.session, &item, &error) == STATUS_OK);
	item.uid = (struct uid){ .text = "" };
	memcpy(item.text, "pad is sinking", sizeof "pad is sinking");
	ck_assert(session_put_watch(desk.session, &item, &error) == STATUS_OK);
	ck_assert(session_remove_watch(desk.session, 0, &error) == STATUS_OK);
	ck_assert_uint_eq(desk_call(&desk)->watch_count, 1);
	ck_assert_str_eq(desk_call(&desk)->watch[0].text, "pad is sinking");
	take_back("watch item");
	ck_assert_uint_eq(as_in_the_book()->watch_count, 2);
	bool has_first = false;
	for (size_t i = 0; i < 2; i++)
		has_first |= strcmp(desk_call(&desk)->watch[i].text, "fan draws too much") == 0 &&
		             strcmp(desk_call(&desk)->watch[i].fault, "fan_motor_overloaded") == 0;
	ck_assert(has_first);
	ck_assert(session_remove_watch(desk.session, 0, &error) == STATUS_OK);
	ck_assert(session_remove_watch(desk.session, 0, &error) == STATUS_OK);
	ck_assert_uint_eq(as_in_the_book()->watch_count, 0);
}
END_TEST

/* A watch item that was noted is taken back like anything else. */
START_TEST(a_noted_watch_item_is_taken_back)
{
	struct watch_item item = { .fault = "undercharge", .noted_at = desk.now,
	                           .closed_at = WALL_TIME_NONE, .text = "weigh the charge in autumn" };

	ck_assert(session_put_watch(desk.session, &item, &error) == STATUS_OK);
	take_back("watch item");
	ck_assert_uint_eq(desk_call(&desk)->watch_count, 0);
	ck_assert_uint_eq(as_in_the_book()->watch_count, 0);
}
END_TEST

/* A change that was taken back from the call's list can be made again like any other. */
START_TEST(what_was_taken_back_from_the_list_can_be_made_again)
{
	struct store_entry *list;
	size_t count, at = 0;

	ck_assert(session_type_field(desk.session, FIELD_PHONE, "555-0114", &error) == STATUS_OK);
	ck_assert(session_type_field(desk.session, FIELD_PHONE, "555-0199", &error) == STATUS_OK);
	ck_assert(session_changes(desk.session, &list, &count, &error) == STATUS_OK);
	while (at < count && strcmp(list[at].after, "555-0199") != 0)
		at++;
	ck_assert_uint_lt(at, count);
	ck_assert_msg(session_take_back(desk.session, &list[at], &error) == STATUS_OK, "%s", error.text);
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "555-0114");
	take_back("phone");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "555-0199");
	ck_assert_str_eq(as_in_the_book()->customer.phone, "555-0199");
	free(list);
}
END_TEST

/* The finding follows what the technician says of it, and says anew. */
static const struct finding *found(enum fault fault)
{
	const struct diagnosis *diagnosis = session_diagnosis(desk.session, STAGE_AS_FOUND);

	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			return &diagnosis->findings[i];
	ck_abort_msg("%s is not found", fault_info(fault)->key);
	return NULL;
}

START_TEST(a_judgement_that_is_changed_is_followed)
{
	struct judgement judgement = { .at = desk.now, .verdict = JUDGEMENT_CONFIRMED };

	memcpy(judgement.fault, "filter_blocked", sizeof "filter_blocked");
	ck_assert(session_type(desk.session, STAGE_AS_FOUND, READING_FILTER_CONDITION, "blocked",
	                       &error) == STATUS_OK);
	ck_assert(!found(FAULT_FILTER_BLOCKED)->is_judged);
	ck_assert(session_put(desk.session, LIST_JUDGEMENTS, &judgement, &error) == STATUS_OK);
	ck_assert(found(FAULT_FILTER_BLOCKED)->is_judged);
	ck_assert_int_eq(found(FAULT_FILTER_BLOCKED)->verdict, JUDGEMENT_CONFIRMED);
	ck_assert_int_eq(found(FAULT_FILTER_BLOCKED)->level, LEVEL_ACT);
	judgement = desk_call(&desk)->judgements[0];
	judgement.verdict = JUDGEMENT_WATCH;
	ck_assert(session_put(desk.session, LIST_JUDGEMENTS, &judgement, &error) == STATUS_OK);
	ck_assert_uint_eq(desk_call(&desk)->judgement_count, 1);
	ck_assert_int_eq(found(FAULT_FILTER_BLOCKED)->verdict, JUDGEMENT_WATCH);
	ck_assert_int_eq(found(FAULT_FILTER_BLOCKED)->level, LEVEL_WATCH);
	as_in_the_book();
	ck_assert_int_eq(found(FAULT_FILTER_BLOCKED)->verdict, JUDGEMENT_WATCH);
}
END_TEST

/* What earlier calls left open is of the unit: it goes with the call that is left. */
START_TEST(a_call_that_is_left_leaves_no_open_items)
{
	ck_assert_uint_eq(session_open_items(desk.session), 0);
	session_leave(desk.session);
	ck_assert_uint_eq(session_open_items(desk.session), 0);
	ck_assert_uint_eq(session_question_count(desk.session), 0);
}
END_TEST

Suite *taken_back_suite(void)
{
	Suite *suite = suite_create("taken_back");
	TCase *tests = tcase_create("taken back");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, an_entry_of_the_charge_log_is_removed_and_comes_back);
	tcase_add_test(tests, a_watch_item_is_removed_and_comes_back);
	tcase_add_test(tests, a_noted_watch_item_is_taken_back);
	tcase_add_test(tests, what_was_taken_back_from_the_list_can_be_made_again);
	tcase_add_test(tests, a_judgement_that_is_changed_is_followed);
	tcase_add_test(tests, a_call_that_is_left_leaves_no_open_items);
	suite_add_tcase(suite, tests);
	return suite;
}
