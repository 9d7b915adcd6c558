/* Calls, customers, units and values in the wrong place, put right by keys. */
#include <check.h>
#include <string.h>

#include <padside/app/session_find.h>

#include "support/desk.h"

Suite *records_suite(void);

static struct desk desk;

static void open_desk(void)
{
	desk_open(&desk);
}

static void put_away(void)
{
	desk_close(&desk);
}

/* Two customers, each with a call; the second is visited later and stands first. */
static void two_customers(void)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter Enter Enter '8 Orchard Row' Enter Ctrl+B");
	desk_wait(&desk, 60);
	desk_keys(&desk, "Ctrl+N 'M Quill' Enter '555-0199' Enter Ctrl+B");
}

static int count_customers(const char *text)
{
	struct customer_line lines[8];
	struct error error;
	int count;

	ck_assert(session_find_customers(desk.session, text, lines, 8, &count, &error) == STATUS_OK);
	return count;
}

static int count_calls(const char *text)
{
	struct call_line lines[8];
	struct error error;
	int count;

	ck_assert(session_find_calls(desk.session, text, lines, 8, &count, &error) == STATUS_OK);
	return count;
}

/* ---- Joining ---- */

START_TEST(two_records_of_one_customer_are_joined)
{
	two_customers();
	desk_keys(&desk, "Tab Alt+j");
	ck_assert(desk_shows(&desk, "Picked up: the customer M Quill"));
	desk_keys(&desk, "Down Enter");
	ck_assert(desk_shows(&desk, "Join M Quill into Mara Quill?"));
	ck_assert_int_eq(count_customers(""), 2);
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "joined: all of M Quill now belongs to Mara Quill"));
	ck_assert_int_eq(count_customers(""), 1);
	ck_assert_int_eq(count_calls("Mara"), 2);
	/* What the one that stays did not say. */
	ck_assert(desk_shows(&desk, "555-0199"));
	desk_keys(&desk, "Alt+y");
	ck_assert(desk_shows(&desk, "M Quill is separate again"));
	ck_assert_int_eq(count_customers(""), 2);
}
END_TEST

START_TEST(another_key_leaves_them_apart)
{
	two_customers();
	desk_keys(&desk, "Tab Alt+j Down Enter Up Down Enter");
	ck_assert_int_eq(count_customers(""), 2);
	desk_keys(&desk, "Alt+j");
	ck_assert(desk_shows(&desk, "left where it is"));
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "Addresses and units"));
	ck_assert_int_eq(count_customers(""), 2);
}
END_TEST

START_TEST(a_record_is_not_joined_with_itself)
{
	two_customers();
	desk_keys(&desk, "Tab Alt+j Enter");
	ck_assert(desk_shows(&desk, "cannot go there"));
	ck_assert_int_eq(count_customers(""), 2);
}
END_TEST

START_TEST(two_records_of_one_unit_are_joined)
{
	two_customers();
	desk_keys(&desk, "Tab End Enter Home Ctrl+N F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_keys(&desk, "Ctrl+B 'Mara' Enter");
	/* The address has two units: the second is the first's twin. */
	desk_keys(&desk, "Home Down Alt+j Down Enter");
	ck_assert(desk_shows(&desk, "Join"));
	ck_assert(desk_shows(&desk, "R-410A"));
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "joined: all of"));
	ck_assert(desk_shows(&desk, "2 visits"));
}
END_TEST

/* ---- Moving ---- */

START_TEST(a_call_moves_to_the_unit_where_it_belongs)
{
	two_customers();
	desk_keys(&desk, "Alt+j");
	ck_assert(desk_shows(&desk, "Picked up: the call M Quill"));
	desk_keys(&desk, "Tab Down Enter Enter");
	ck_assert(desk_shows(&desk, "the call now belongs to the unit 8 Orchard Row"));
	ck_assert_int_eq(count_calls("Mara"), 2);
	/* Whom no call is of any more goes, and can be brought back. */
	ck_assert_int_eq(count_customers(""), 1);
}
END_TEST

/* The half-begun call goes to whom the book knows, with everything that was typed. */
START_TEST(a_begun_call_goes_to_the_customer_whom_the_book_knows)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter '(555) 0142' Enter Enter '8 Orchard Row' Enter Ctrl+B");
	desk_wait(&desk, 24 * 60);
	desk_keys(&desk, "Ctrl+N 'Mara' Enter '555-0142' Enter 'mara@quill.example' Enter '9 Orchard Row' "
	          "Enter Enter 'hum' Enter '91' Enter F2");
	desk_go(&desk, "phone");
	desk_keys(&desk, "'5550142' Enter");
	ck_assert(desk_shows(&desk, "The book knows Mara Quill"));
	desk_keys(&desk, "Alt+k Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Mara Quill");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "(555) 0142");
	ck_assert_str_eq(desk_call(&desk)->customer.email, "mara@quill.example");
	ck_assert_str_eq(desk_call(&desk)->site.address, "8 Orchard Row");
	ck_assert_str_eq(desk_call(&desk)->complaint, "The outdoor unit hums and does not start.");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_OUTDOOR_DB));
	ck_assert_str_eq(desk_call(&desk)->office_note, "Typed on this call: customer Mara. Typed on this "
	                 "call: address 9 Orchard Row.");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_CALL);
	ck_assert_int_eq(count_customers(""), 1);
}
END_TEST

START_TEST(what_a_moved_call_was_typed_for_can_be_taken_back)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter '555-0142' Enter Ctrl+B");
	desk_wait(&desk, 24 * 60);
	desk_keys(&desk, "Ctrl+N Down '555-0142' Enter Alt+k Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Mara Quill");
	desk_keys(&desk, "Ctrl+_");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "555-0142");
	ck_assert_int_eq(count_customers("Mara"), 1);
}
END_TEST

/* ---- What is let go, asked and undone ---- */

/* A customer whose number the book has, and a closed call of another with the same number. */
static void a_closed_call_that_looks_known(void)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter '555-0142' Enter Ctrl+B");
	desk_wait(&desk, 60);
	desk_keys(&desk, "Ctrl+N 'Dana Whitlock' Enter '555-0142' Enter Ctrl+P");
	desk_go(&desk, "this call is");
	desk_keys(&desk, "'closed' Enter F2");
}

START_TEST(esc_drops_what_was_taken_along)
{
	a_closed_call_that_looks_known();
	desk_keys(&desk, "Alt+k");
	ck_assert(desk_shows(&desk, "Picked up: the call"));
	desk_keys(&desk, "Esc");
	ck_assert(desk_shows(&desk, "left where it is"));
	desk_keys(&desk, "Ctrl+B");
	ck_assert(!desk_shows(&desk, "Picked up"));
	desk_keys(&desk, "Alt+j");
	ck_assert(desk_shows(&desk, "Picked up"));
	desk_keys(&desk, "Esc");
	ck_assert(!desk_shows(&desk, "Picked up"));
}
END_TEST

/* The call that was gone away from is not taken along any more. */
START_TEST(who_leaves_the_call_drops_it)
{
	a_closed_call_that_looks_known();
	desk_keys(&desk, "Alt+k Ctrl+B");
	ck_assert(!desk_shows(&desk, "Picked up"));
}
END_TEST

START_TEST(a_closed_call_moves_only_when_asked_again)
{
	a_closed_call_that_looks_known();
	desk_keys(&desk, "Ctrl+B Down Alt+j Tab 'Mara' Enter Enter");
	ck_assert(desk_shows(&desk, "This call is closed. Enter again moves it"));
	ck_assert_int_eq(count_calls("Mara"), 1);
	desk_keys(&desk, "Enter");
	ck_assert_int_eq(count_calls("Mara"), 2);
	ck_assert_int_eq(count_customers("Whitlock"), 0);
}
END_TEST

START_TEST(a_moved_call_goes_back)
{
	a_closed_call_that_looks_known();
	desk_keys(&desk, "Ctrl+B Down Alt+j Tab 'Mara' Enter Enter Enter");
	ck_assert(desk_shows(&desk, "Alt+y"));
	desk_keys(&desk, "Alt+y");
	ck_assert(desk_shows(&desk, "the call is back where it was"));
	ck_assert_int_eq(count_calls("Mara"), 1);
	ck_assert_int_eq(count_customers("Whitlock"), 1);
	ck_assert_int_eq(count_calls("Whitlock"), 1);
}
END_TEST

/* ---- Taking out ---- */

START_TEST(a_call_is_taken_out_and_brought_back)
{
	two_customers();
	desk_keys(&desk, "Ctrl+X");
	ck_assert(desk_shows(&desk, "Take the call M Quill out?"));
	ck_assert_int_eq(count_calls(""), 2);
	desk_keys(&desk, "Ctrl+X");
	ck_assert(desk_shows(&desk, "taken out: the call M Quill"));
	ck_assert_int_eq(count_calls(""), 1);
	desk_keys(&desk, "Alt+o");
	ck_assert(desk_shows(&desk, "Taken out of the book"));
	ck_assert(desk_shows(&desk, "M Quill"));
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "brought back: the call M Quill"));
	ck_assert_int_eq(count_calls(""), 2);
	desk_keys(&desk, "Esc");
	ck_assert(desk_shows(&desk, "M Quill"));
}
END_TEST

/* Ctrl+B on a customer's page, while no call is open: once it ended the program by a crash. */
START_TEST(a_call_taken_along_comes_back_to_the_book)
{
	two_customers();
	desk_keys(&desk, "Alt+j Tab Down Enter Ctrl+B");
	ck_assert(desk_shows(&desk, "Picked up: the call M Quill"));
	desk_keys(&desk, "Esc");
	ck_assert(desk_shows(&desk, "left where it is"));
}
END_TEST

/* It is no more: nothing can come of it. */
START_TEST(what_is_taken_out_is_not_carried_on)
{
	two_customers();
	desk_keys(&desk, "Alt+j Ctrl+X");
	ck_assert(desk_shows(&desk, "Take the call M Quill out?"));
	desk_keys(&desk, "Ctrl+X Down");
	ck_assert(!desk_shows(&desk, "Picked up"));
	desk_keys(&desk, "Alt+j");
	ck_assert(desk_shows(&desk, "Picked up: the call Mara Quill"));
}
END_TEST

START_TEST(the_open_call_taken_out_leaves_the_desk)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter '555-0142' Enter Ctrl+B Tab Enter Down Down");
	desk_keys(&desk, "Ctrl+X Ctrl+X");
	ck_assert_int_eq(count_calls(""), 0);
	ck_assert_ptr_null(session_call(desk.session));
}
END_TEST

START_TEST(a_customer_with_calls_stays)
{
	two_customers();
	desk_keys(&desk, "Tab Ctrl+X Ctrl+X");
	ck_assert(desk_shows(&desk, "there are calls of this customer; nothing was taken out"));
	ck_assert_int_eq(count_customers(""), 2);
}
END_TEST

/* ---- A value ---- */

START_TEST(a_value_moves_to_another_reading)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter F8");
	desk_write(&desk, "liquid pressure", "118");
	desk_go(&desk, "liquid pressure");
	desk_keys(&desk, "Alt+x");
	ck_assert(desk_shows(&desk, "liquid pressure is picked up"));
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Alt+x");
	ck_assert(desk_shows(&desk, "moved from liquid pressure to suction pressure"));
	ck_assert_double_eq(visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND,
	                                READING_SUCTION_PRESSURE)->number, 118);
	ck_assert(!visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE));
	desk_keys(&desk, "Ctrl+_");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE));
}
END_TEST

START_TEST(a_value_moves_to_the_other_column)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter F8");
	desk_write(&desk, "suction pressure", "118");
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Alt+x Right Alt+x");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_LEFT, READING_SUCTION_PRESSURE));
	ck_assert(!visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
}
END_TEST

START_TEST(what_cannot_be_moved_is_said)
{
	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter Home Alt+x");
	ck_assert(desk_shows(&desk, "only a reading can be moved"));
	desk_keys(&desk, "F8");
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Alt+x");
	ck_assert(desk_shows(&desk, "there is nothing here to move"));
	desk_write(&desk, "suction pressure", "118");
	desk_write(&desk, "liquid pressure", "330");
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Alt+x");
	desk_go(&desk, "liquid pressure");
	desk_keys(&desk, "Alt+x");
	ck_assert_double_eq(visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND,
	                                READING_LIQUID_PRESSURE)->number, 330);
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Alt+x Alt+x");
	ck_assert(desk_shows(&desk, "left where it is"));
}
END_TEST

Suite *records_suite(void)
{
	Suite *suite = suite_create("records");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, open_desk, put_away);
	tcase_add_test(keys, two_records_of_one_customer_are_joined);
	tcase_add_test(keys, another_key_leaves_them_apart);
	tcase_add_test(keys, a_record_is_not_joined_with_itself);
	tcase_add_test(keys, two_records_of_one_unit_are_joined);
	tcase_add_test(keys, a_call_moves_to_the_unit_where_it_belongs);
	tcase_add_test(keys, a_begun_call_goes_to_the_customer_whom_the_book_knows);
	tcase_add_test(keys, what_a_moved_call_was_typed_for_can_be_taken_back);
	tcase_add_test(keys, esc_drops_what_was_taken_along);
	tcase_add_test(keys, who_leaves_the_call_drops_it);
	tcase_add_test(keys, a_closed_call_moves_only_when_asked_again);
	tcase_add_test(keys, a_moved_call_goes_back);
	tcase_add_test(keys, a_call_is_taken_out_and_brought_back);
	tcase_add_test(keys, a_call_taken_along_comes_back_to_the_book);
	tcase_add_test(keys, what_is_taken_out_is_not_carried_on);
	tcase_add_test(keys, the_open_call_taken_out_leaves_the_desk);
	tcase_add_test(keys, a_customer_with_calls_stays);
	tcase_add_test(keys, a_value_moves_to_another_reading);
	tcase_add_test(keys, a_value_moves_to_the_other_column);
	tcase_add_test(keys, what_cannot_be_moved_is_said);
	suite_add_tcase(suite, keys);
	return suite;
}
