/* The technician's own judgement of a finding, and the day and the people of a call, by keys. */
#include <check.h>
#include <string.h>

#include "support/desk.h"

Suite *judging_suite(void);

static struct desk desk;

/* A capacitor far below its rating: the first finding. */
static void with_a_finding(void)
{
	desk_open_on_call(&desk);
	desk_keys(&desk, "F3");
	desk_write(&desk, "compressor motor", "psc");
	desk_write(&desk, "run capacitor", "45");
	desk_keys(&desk, "F5");
	desk_write(&desk, "run capacitor", "27");
	desk_keys(&desk, "F10");
}

static void put_away(void)
{
	desk_close(&desk);
}

static const struct judgement *judgement(void)
{
	ck_assert_uint_eq(call_list_count(desk_call(&desk), LIST_JUDGEMENTS), 1);
	return call_list_at(desk_call(&desk), LIST_JUDGEMENTS, 0);
}

START_TEST(a_finding_is_confirmed_with_a_word_why)
{
	desk_keys(&desk, "c");
	ck_assert_int_eq(judgement()->verdict, JUDGEMENT_CONFIRMED);
	ck_assert_str_eq(judgement()->fault, "compressor_capacitor_failed");
	ck_assert_int_eq(judgement()->at, desk.now);
	ck_assert(desk_shows(&desk, "confirmed 08:05"));
	desk_keys(&desk, "Enter 'can swollen, x-ray not needed' Enter");
	ck_assert_str_eq(judgement()->why, "can swollen, x-ray not needed");
	ck_assert_int_eq(judgement()->verdict, JUDGEMENT_CONFIRMED);
	ck_assert(desk_shows(&desk, "can swollen, x-ray not needed"));
}
END_TEST

/* What is ruled out goes to the end of the list; the cursor and the word why go with it. */
START_TEST(the_cursor_stays_on_the_finding_judged)
{
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "hums");
	desk_keys(&desk, "F10 x Enter 'can is sound' Enter");
	ck_assert_str_eq(judgement()->fault, "compressor_capacitor_failed");
	ck_assert_str_eq(judgement()->why, "can is sound");
	ck_assert(desk_shows(&desk, "can is sound"));
}
END_TEST

START_TEST(the_same_key_takes_it_back)
{
	desk_keys(&desk, "x");
	ck_assert_int_eq(judgement()->verdict, JUDGEMENT_RULED_OUT);
	ck_assert(desk_shows(&desk, "ruled out"));
	desk_keys(&desk, "x");
	ck_assert_uint_eq(call_list_count(desk_call(&desk), LIST_JUDGEMENTS), 0);
	ck_assert(desk_shows(&desk, "judgement taken back"));
}
END_TEST

START_TEST(another_key_changes_the_one_judgement)
{
	desk_keys(&desk, "c x");
	ck_assert_int_eq(judgement()->verdict, JUDGEMENT_RULED_OUT);
	desk_keys(&desk, "Ctrl+_");
	ck_assert_int_eq(judgement()->verdict, JUDGEMENT_CONFIRMED);
}
END_TEST

/* Noting the same thing twice makes one item; taking it back takes the item along. */
START_TEST(a_watched_finding_is_one_item)
{
	desk_keys(&desk, "w");
	ck_assert_uint_eq(desk_call(&desk)->watch_count, 1);
	desk_keys(&desk, "c w");
	ck_assert_uint_eq(desk_call(&desk)->watch_count, 1);
	desk_keys(&desk, "w");
	ck_assert_uint_eq(desk_call(&desk)->watch_count, 0);
	ck_assert_uint_eq(call_list_count(desk_call(&desk), LIST_JUDGEMENTS), 0);
}
END_TEST

/* On the next visit it stands beside the field from which its figure is worked out, and the last value. */
START_TEST(a_watched_finding_stands_beside_its_field)
{
	struct error error = { .text = "" };

	desk_keys(&desk, "w");
	const struct uid unit = desk_call(&desk)->system.uid;
	desk_wait(&desk, 24 * 60);
	ck_assert(session_start(desk.session, NULL, NULL, &unit, &error) == STATUS_OK);
	desk_keys(&desk, "F2 F5");
	desk_go(&desk, "line voltage");
	ck_assert(!desk_shows(&desk, "watch: "));
	desk_go(&desk, "run capacitor");
	ck_assert(desk_shows(&desk, "watch: run capacitor failed"));
	ck_assert(desk_shows(&desk, "last visit, 2026-07-14: 27.0 µF"));
}
END_TEST

START_TEST(why_needs_a_judgement)
{
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "judge the finding first"));
}
END_TEST

/* Half a sentence is not lost when one goes to another page. */
START_TEST(why_is_kept_when_one_leaves)
{
	desk_keys(&desk, "c Enter 'seen' F5");
	ck_assert_str_eq(judgement()->why, "seen");
}
END_TEST

/* Nor when one clicks on another finding: it stays with the one that it was written for. */
START_TEST(why_is_kept_when_one_clicks_elsewhere)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "max. overcurrent device", "30");
	desk_write(&desk, "breaker or fuse fitted", "50");
	desk_keys(&desk, "F10 c Enter 'seen'");
	desk_click(&desk, "breaker or fuse fitted");
	ck_assert_str_eq(judgement()->fault, "compressor_capacitor_failed");
	ck_assert_str_eq(judgement()->why, "seen");
	desk_keys(&desk, "'x'");
	ck_assert_str_eq(judgement()->why, "seen");
}
END_TEST

/* The reason for one verdict is none for another. */
START_TEST(another_verdict_begins_without_a_reason)
{
	desk_keys(&desk, "c Enter 'can swollen' Enter x");
	ck_assert_int_eq(judgement()->verdict, JUDGEMENT_RULED_OUT);
	ck_assert_str_eq(judgement()->why, "");
	ck_assert(!desk_shows(&desk, "can swollen"));
}
END_TEST

START_TEST(the_field_says_who_reads_the_reason)
{
	desk_keys(&desk, "c Enter");
	ck_assert(desk_shows(&desk, "the office reads it, the customer does not"));
}
END_TEST

/* "0 %" beside what the technician confirmed said that it cannot be. */
START_TEST(what_no_reading_shows_has_no_percentage)
{
	desk_keys(&desk, "c F5");
	desk_go(&desk, "run capacitor");
	desk_keys(&desk, "Del F10 Home");
	ck_assert(desk_shows(&desk, "judged            act"));
	/* The new can reads good: it was so, and is over. */
	desk_keys(&desk, "F5");
	desk_go(&desk, "run capacitor");
	desk_keys(&desk, "'20' Enter F5");
	desk_go(&desk, "run capacitor");
	desk_keys(&desk, "Right '45' Enter F10 Left");
	ck_assert(desk_shows(&desk, "confirmed, gone"));
}
END_TEST

static void ground_a_winding(void)
{
	desk_keys(&desk, "F6");
	desk_write(&desk, "insulation test voltage", "500");
	desk_write(&desk, "windings to shell", "20k");
	desk_keys(&desk, "F5");
	desk_go(&desk, "run capacitor");
	desk_keys(&desk, "Del F10 Home");
}

/* A measured danger stands over one key; a reason takes it away (common practice). */
START_TEST(what_keeps_the_unit_off_is_ruled_out_with_a_reason_alone)
{
	ground_a_winding();
	desk_keys(&desk, "x");
	ck_assert(desk_shows(&desk, "winding grounded to the shell: ruled out once you write why"));
	const struct diagnosis *found = session_diagnosis(desk.session, STAGE_AS_FOUND);
	ck_assert_int_eq(found->findings[0].fault, FAULT_WINDING_GROUNDED);
	ck_assert_int_eq(found->findings[0].level, LEVEL_ACT);
	desk_keys(&desk, "Esc");
	ck_assert(desk_shows(&desk, "say why"));
	ck_assert(desk_shows(&desk, "it counts until you say why"));
	desk_keys(&desk, "Enter 'w' Enter");
	ck_assert(desk_shows(&desk, "too short: write 3 words why"));
	ck_assert_int_eq(session_diagnosis(desk.session, STAGE_AS_FOUND)->findings[0].level, LEVEL_ACT);
	desk_keys(&desk, "Enter 'a wet plug, dry 200 M' Enter");
	found = session_diagnosis(desk.session, STAGE_AS_FOUND);
	ck_assert_int_eq(found->findings[0].level, LEVEL_NOTE);
	ck_assert(desk_shows(&desk, "ruled out 08:05"));
}
END_TEST

/* Before the report is handed over it says what is still to be written down. */
START_TEST(the_report_asks_how_a_dangerous_unit_was_left)
{
	static const char question[] = "was it left off, locked and tagged? F4";

	ground_a_winding();
	desk_keys(&desk, "Ctrl+P");
	ck_assert(desk_shows(&desk, question));
	desk_keys(&desk, "F4");
	desk_write(&desk, "left off, locked", "yes");
	desk_keys(&desk, "Ctrl+P");
	ck_assert(!desk_shows(&desk, question));
	/* Power after that is not passed over. */
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "runs");
	desk_keys(&desk, "Ctrl+P");
	ck_assert(desk_shows(&desk, "power was seen after that: how was it left? F4"));
}
END_TEST

START_TEST(the_report_asks_for_the_line_of_a_repair)
{
	static const char question[] = "no line says what was done: F12";

	desk_keys(&desk, "Ctrl+P");
	ck_assert(!desk_shows(&desk, question));
	desk_keys(&desk, "F5");
	desk_go(&desk, "run capacitor");
	desk_keys(&desk, "Right '45' Enter Ctrl+P");
	ck_assert(desk_shows(&desk, question));
	desk_keys(&desk, "F12 Tab Ctrl+N 'Run capacitor' Enter '1' Enter '46' Enter Enter Ctrl+P");
	ck_assert(!desk_shows(&desk, question));
}
END_TEST

/* An option was accepted for $285 and billed nowhere. */
START_TEST(the_report_asks_for_the_line_of_an_accepted_option)
{
	static const char question[] = "accepted for more than the work is billed at: F12";

	desk_keys(&desk, "F11 'Run capacitor' Enter '285' Enter Ctrl+P");
	ck_assert(!desk_shows(&desk, question));
	desk_keys(&desk, "F11");
	desk_go(&desk, "the customer");
	desk_keys(&desk, "'a' Enter Ctrl+P");
	ck_assert(desk_shows(&desk, question));
	desk_keys(&desk, "F12 Tab Ctrl+N 'Run capacitor' Enter '1' Enter '285' Enter Enter Ctrl+P");
	ck_assert(!desk_shows(&desk, question));
}
END_TEST

/* The paper read "not decided yet" beside the bill of the same work. */
START_TEST(the_report_asks_for_the_decision_of_a_billed_option)
{
	static const char question[] = "has no decision, and its work is on the bill: F11";

	desk_keys(&desk, "F11 'Run capacitor' Enter '285' Enter");
	desk_keys(&desk, "F12 Tab Ctrl+N 'Run capacitor' Enter '1' Enter '285' Enter Enter Ctrl+P");
	ck_assert(desk_shows(&desk, question));
	desk_keys(&desk, "F11");
	desk_go(&desk, "the customer");
	desk_keys(&desk, "'a' Enter Ctrl+P");
	ck_assert(!desk_shows(&desk, question));
}
END_TEST

/* A line that nobody priced was a gift that nobody meant. */
START_TEST(the_report_asks_for_a_price)
{
	static const char question[] = "has no price and is not marked free: F12";

	desk_keys(&desk, "F12 Tab Ctrl+N 'Run capacitor' Enter");
	desk_keys(&desk, "Ctrl+P");
	ck_assert(desk_shows(&desk, question));
	desk_keys(&desk, "Ctrl+_ Ctrl+P");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 0);
	ck_assert(!desk_shows(&desk, question));
}
END_TEST

START_TEST(what_keeps_the_unit_off_is_not_watched_alone)
{
	ground_a_winding();
	desk_keys(&desk, "w");
	ck_assert(desk_shows(&desk, "watching is not enough: the unit stays off"));
	ck_assert_uint_eq(call_list_count(desk_call(&desk), LIST_JUDGEMENTS), 0);
	ck_assert_uint_eq(desk_call(&desk)->watch_count, 0);
}
END_TEST

START_TEST(the_day_and_the_people_are_written_on_the_call)
{
	desk_keys(&desk, "F2");
	ck_assert(!desk_shows(&desk, "authorised by   "));
	desk_write(&desk, "authorised by", "Mara Quill");
	desk_write(&desk, "authorised up to", "350");
	ck_assert_str_eq(desk_call(&desk)->authorised_by, "Mara Quill");
	ck_assert_int_eq(desk_call(&desk)->authorised_amount, 35000);
	desk_keys(&desk, "Ctrl+P");
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "'M. Quill' Enter");
	ck_assert_str_eq(desk_call(&desk)->accepted_by, "M. Quill");
	ck_assert_int_eq(desk_call(&desk)->accepted_at, desk.now);
}
END_TEST

/* Accepted at one total, worked on at another: the acceptance stays with the first. */
START_TEST(an_acceptance_keeps_its_total)
{
	desk_keys(&desk, "F2");
	desk_write(&desk, "authorised up to", "300");
	desk_keys(&desk, "F12 Tab Ctrl+N 'Diagnosis' Enter '1' Enter '95' Enter Enter Ctrl+P");
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "'M. Quill' Enter");
	ck_assert_int_eq(desk_call(&desk)->accepted_total, 9500);
	desk_keys(&desk, "F12");
	ck_assert(!desk_shows(&desk, "was accepted at"));
	ck_assert(!desk_shows(&desk, "over $300.00 authorised"));
	desk_keys(&desk, "Ctrl+N 'Repair' Enter '3' Enter '110' Enter");
	ck_assert_int_eq(desk_call(&desk)->accepted_total, 9500);
	ck_assert(desk_shows(&desk, "over $300.00 authorised: agree in writing"));
	desk_keys(&desk, "Tab");
	ck_assert(desk_shows(&desk, "was accepted at $95.00"));
}
END_TEST

/* What the office reads has a name of its own: the gate code stands in it. */
START_TEST(each_report_has_its_own_file)
{
	desk_keys(&desk, "Ctrl+P");
	desk_go(&desk, "report for");
	desk_keys(&desk, "'office' Enter");
	ck_assert(desk_shows(&desk, "-quill-office.txt"));
	desk_go(&desk, "report for");
	desk_keys(&desk, "'customer' Enter");
	ck_assert(!desk_shows(&desk, "-office.txt"));
	desk_go(&desk, "into the file");
	desk_keys(&desk, "'mine.txt' Enter");
	desk_go(&desk, "report for");
	desk_keys(&desk, "'office' Enter");
	ck_assert(desk_shows(&desk, "mine.txt"));
}
END_TEST

/* A price that was not typed is none, and the words stand before it without their full stop. */
START_TEST(an_option_without_a_price_has_none)
{
	desk_keys(&desk, "F11 'capo' Enter");
	ck_assert(desk_shows(&desk, "Replace the run capacitor: no price typed."));
	ck_assert(!desk_shows(&desk, "$0"));
}
END_TEST

/* A slip of the thumb does not take the customer's name away. */
START_TEST(a_space_leaves_the_name_and_the_number)
{
	desk_keys(&desk, "F2");
	desk_write(&desk, "phone", "555-0142");
	desk_go(&desk, "customer");
	desk_keys(&desk, "Space F3 F2");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Mara Quill");
	desk_go(&desk, "customer");
	desk_keys(&desk, "Space Enter");
	desk_keys(&desk, "Space Enter");
	ck_assert(desk_shows(&desk, "customer stays Mara Quill"));
	desk_keys(&desk, "Del");
	ck_assert(desk_shows(&desk, "customer stays Mara Quill"));
	desk_go(&desk, "phone");
	desk_keys(&desk, "Space F3 F2");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "555-0142");
	desk_go(&desk, "phone");
	desk_keys(&desk, "Del");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "");
}
END_TEST

/* Spaces alone are no reading, no amount and no words: what stood there stays. */
START_TEST(spaces_leave_a_reading_and_a_line)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Space Enter");
	ck_assert(desk_shows(&desk, "suction pressure stays 118"));
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	desk_keys(&desk, "F12 Tab Ctrl+N 'Diagnosis' Enter '1' Enter '95' Enter Enter Up");
	desk_keys(&desk, "Space F3");
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "Diagnosis");
	desk_keys(&desk, "F8");
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Del");
	ck_assert(!visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
}
END_TEST

START_TEST(a_number_without_digits_and_an_address_without_at_are_marked)
{
	desk_keys(&desk, "F2");
	desk_write(&desk, "phone", "Walter Pelz");
	ck_assert(desk_shows(&desk, "Kept, but there are no digits in it"));
	ck_assert(desk_shows(&desk, "Walter Pelz ?"));
	desk_write(&desk, "mail", "555 0142");
	ck_assert(desk_shows(&desk, "Kept, but there is no @ in it"));
	ck_assert(desk_shows(&desk, "555 0142 ?"));
	desk_write(&desk, "phone", "555 0142");
	desk_write(&desk, "mail", "walter@pelz.example");
	ck_assert(!desk_shows(&desk, " ?"));
}
END_TEST

/* "Changed now: type it again" was said where nothing had changed. */
START_TEST(a_new_name_waits_for_the_answer_and_is_put_in)
{
	desk_keys(&desk, "F2");
	desk_go(&desk, "customer");
	desk_keys(&desk, "'Roy Tate' Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Mara Quill");
	ck_assert(!desk_shows(&desk, "changed now"));
	desk_keys(&desk, "Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Roy Tate");
	ck_assert(!desk_shows(&desk, "type it again"));
}
END_TEST

/* Who meant a new call does not write its customer over the one whose readings these are. */
START_TEST(readings_keep_their_customer)
{
	desk_keys(&desk, "F2");
	desk_go(&desk, "customer");
	desk_keys(&desk, "Ctrl+N");
	ck_assert(desk_shows(&desk, "a new call starts from the book: Ctrl+B goes there"));
	desk_keys(&desk, "'Roy Tate' Enter");
	ck_assert(desk_shows(&desk, "The readings of this call are of this customer."));
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Mara Quill");
	desk_keys(&desk, "Esc");
	desk_go(&desk, "address");
	desk_keys(&desk, "'7 Elm Street' Enter");
	ck_assert_str_eq(desk_call(&desk)->site.address, "7 Elm Street");
	desk_go(&desk, "address");
	desk_keys(&desk, "Del");
	ck_assert(desk_shows(&desk, "The readings of this call are of this customer."));
	ck_assert_str_eq(desk_call(&desk)->site.address, "7 Elm Street");
	/* Asked once; a correction of a letter is not asked about. */
	desk_keys(&desk, "Enter Del");
	ck_assert_str_eq(desk_call(&desk)->site.address, "");
	desk_go(&desk, "customer");
	desk_keys(&desk, "'Roy Tate' Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Roy Tate");
}
END_TEST

START_TEST(what_was_moved_keeps_its_refrigerant)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_write(&desk, "refrigerant", "R-32");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_keys(&desk, "F12 Right '4' Enter F3");
	desk_go(&desk, "refrigerant");
	desk_keys(&desk, "Space");
	ck_assert(desk_shows(&desk, "The charge log is of this refrigerant."));
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_REFRIGERANT),
	                 CHOICE_REFRIGERANT_R410A);
	desk_keys(&desk, "Enter 'R-22' Enter");
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_REFRIGERANT),
	                 CHOICE_REFRIGERANT_R22);
}
END_TEST

START_TEST(a_letter_of_the_name_is_corrected_unasked)
{
	desk_keys(&desk, "F2");
	desk_go(&desk, "customer");
	desk_keys(&desk, "Backspace 'y' Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Mara Quily");
}
END_TEST

static void close_the_call(void)
{
	desk_keys(&desk, "F2");
	desk_write(&desk, "phone", "555-0142");
	desk_keys(&desk, "Ctrl+P");
	desk_go(&desk, "this call is");
	desk_keys(&desk, "'closed' Enter F2");
	desk_go(&desk, "phone");
}

/* Keys that were meant for another page do not change what was closed. */
START_TEST(a_closed_call_asks_before_it_is_changed)
{
	close_the_call();
	desk_keys(&desk, "'whit' F3 F2");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "555-0142");
	desk_go(&desk, "phone");
	desk_keys(&desk, "'5'");
	ck_assert(desk_shows(&desk, "This call is closed. Enter: change it anyway; Esc: leave it."));
	desk_keys(&desk, "Esc");
	ck_assert(!desk_shows(&desk, "This call is closed."));
	desk_keys(&desk, "Del");
	ck_assert(desk_shows(&desk, "This call is closed."));
	desk_keys(&desk, "Down F12 Tab 'x' Enter Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "555-0142");
}
END_TEST

/* Who said so once is not asked again, until the call is opened anew. */
START_TEST(a_closed_call_is_changed_when_asked)
{
	close_the_call();
	desk_keys(&desk, "'5'");
	ck_assert(desk_shows(&desk, "This call is closed."));
	desk_keys(&desk, "Enter");
	ck_assert(desk_shows(&desk, "type on; Enter keeps it"));
	desk_keys(&desk, "'55-0143' Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.phone, "555-0143");
	desk_keys(&desk, "F10 c");
	ck_assert(!desk_shows(&desk, "This call is closed."));
	desk_keys(&desk, "Ctrl+B Home Enter F2");
	desk_go(&desk, "phone");
	desk_keys(&desk, "'5'");
	ck_assert(desk_shows(&desk, "This call is closed."));
	desk_keys(&desk, "Esc F10 c");
	ck_assert(desk_shows(&desk, "This call is closed."));
	/* To open it again is not to change what it says. */
	desk_keys(&desk, "Esc Ctrl+P");
	desk_go(&desk, "this call is");
	desk_keys(&desk, "'open' Enter");
	ck_assert_int_eq(desk_call(&desk)->closed_at, WALL_TIME_NONE);
}
END_TEST

/* It was dropped twice: who typed on without a look left with the old value. */
START_TEST(what_was_typed_into_a_closed_call_is_put_in_after_one_yes)
{
	close_the_call();
	desk_keys(&desk, "F5");
	desk_go(&desk, "line voltage");
	desk_keys(&desk, "'244.7' Backspace '6' Enter");
	ck_assert(desk_shows(&desk, "this call is changed now; Ctrl+_ takes it back"));
	ck_assert_double_eq(visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND,
	                                READING_LINE_VOLTAGE)->number, 244.6);
}
END_TEST

/* Without a name nothing is accepted, and no total is. */
START_TEST(an_acceptance_taken_back_takes_its_total)
{
	desk_keys(&desk, "F12 Tab Ctrl+N 'Diagnosis' Enter '1' Enter '95' Enter Enter Ctrl+P");
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "'M. Quill' Enter");
	desk_go(&desk, "accepted by");
	desk_keys(&desk, "Del");
	ck_assert_int_eq(desk_call(&desk)->accepted_total, 0);
	ck_assert_int_eq(desk_call(&desk)->accepted_at, WALL_TIME_NONE);
}
END_TEST

Suite *judging_suite(void)
{
	Suite *suite = suite_create("judging");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, with_a_finding, put_away);
	tcase_add_test(keys, a_finding_is_confirmed_with_a_word_why);
	tcase_add_test(keys, the_cursor_stays_on_the_finding_judged);
	tcase_add_test(keys, the_same_key_takes_it_back);
	tcase_add_test(keys, another_key_changes_the_one_judgement);
	tcase_add_test(keys, a_watched_finding_is_one_item);
	tcase_add_test(keys, a_watched_finding_stands_beside_its_field);
	tcase_add_test(keys, why_needs_a_judgement);
	tcase_add_test(keys, why_is_kept_when_one_leaves);
	tcase_add_test(keys, why_is_kept_when_one_clicks_elsewhere);
	tcase_add_test(keys, another_verdict_begins_without_a_reason);
	tcase_add_test(keys, the_field_says_who_reads_the_reason);
	tcase_add_test(keys, what_no_reading_shows_has_no_percentage);
	tcase_add_test(keys, what_keeps_the_unit_off_is_ruled_out_with_a_reason_alone);
	tcase_add_test(keys, what_keeps_the_unit_off_is_not_watched_alone);
	tcase_add_test(keys, the_report_asks_how_a_dangerous_unit_was_left);
	tcase_add_test(keys, the_report_asks_for_the_line_of_a_repair);
	tcase_add_test(keys, the_report_asks_for_the_decision_of_a_billed_option);
	tcase_add_test(keys, the_report_asks_for_the_line_of_an_accepted_option);
	tcase_add_test(keys, the_report_asks_for_a_price);
	tcase_add_test(keys, the_day_and_the_people_are_written_on_the_call);
	tcase_add_test(keys, an_acceptance_keeps_its_total);
	tcase_add_test(keys, each_report_has_its_own_file);
	tcase_add_test(keys, an_option_without_a_price_has_none);
	tcase_add_test(keys, a_space_leaves_the_name_and_the_number);
	tcase_add_test(keys, spaces_leave_a_reading_and_a_line);
	tcase_add_test(keys, a_number_without_digits_and_an_address_without_at_are_marked);
	tcase_add_test(keys, readings_keep_their_customer);
	tcase_add_test(keys, a_new_name_waits_for_the_answer_and_is_put_in);
	tcase_add_test(keys, what_was_moved_keeps_its_refrigerant);
	tcase_add_test(keys, a_letter_of_the_name_is_corrected_unasked);
	tcase_add_test(keys, a_closed_call_asks_before_it_is_changed);
	tcase_add_test(keys, a_closed_call_is_changed_when_asked);
	tcase_add_test(keys, what_was_typed_into_a_closed_call_is_put_in_after_one_yes);
	tcase_add_test(keys, an_acceptance_taken_back_takes_its_total);
	suite_add_tcase(suite, keys);
	return suite;
}
