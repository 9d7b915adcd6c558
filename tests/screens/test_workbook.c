/*
 * The workbook without a terminal: one whole call by keys, step by step, and
 * what the pages look like on the way (golden files at 80×24 and 120×40).
 *
 * The call is an invented one of the kind a technician has in July: a 3-ton
 * split with a fixed orifice hums and trips; its run capacitor is weak; behind
 * that the charge is low.
 */
#include <check.h>
#include <string.h>

#include "support/desk.h"

Suite *workbook_suite(void);

/* ---- A whole call ---- */

static void take_the_call(struct desk *desk)
{
	desk_keys(desk, "Ctrl+N 'Mara Quill' Enter '555-0142' Enter Enter "
	                "'8 Orchard Row, Larkmere' Enter Enter "
	                "'Hums and trips since last night.' Enter");
	desk_write(desk, "altitude", "600");
	desk_write(desk, "outdoor", "88");
}

static void read_the_plate(struct desk *desk)
{
	desk_keys(desk, "F3");
	desk_write(desk, "refrigerant", "R-410A");
	desk_write(desk, "metering", "fix");
	desk_write(desk, "compressor motor", "psc");
	desk_write(desk, "nominal capacity", "3");
	desk_write(desk, "SEER", "13");
	desk_write(desk, "factory charge", "98");
	desk_write(desk, "rated voltage", "230");
	desk_write(desk, "compressor RLA", "14.1");
	desk_write(desk, "compressor LRA", "77");
	desk_write(desk, "run capacitor", "45");
	desk_keys(desk, "Home");
}

static void make_it_safe(struct desk *desk)
{
	desk_keys(desk, "F4 Home Space Space Space Space Space Space");
}

static void check_the_supply(struct desk *desk)
{
	desk_wait(desk, 5);
	desk_keys(desk, "F5");
	desk_write(desk, "line voltage", "238");
	desk_write(desk, "control voltage", "26.4");
	desk_write(desk, "run capacitor", "27uF");
}

static void check_the_windings(struct desk *desk)
{
	desk_keys(desk, "F6");
	desk_write(desk, "common – run", "0.8");
	desk_write(desk, "common – start", "3.1");
	desk_write(desk, "start – run", "3.9");
	desk_write(desk, "windings to shell", "OL");
}

static void read_the_currents(struct desk *desk)
{
	desk_keys(desk, "F7");
	desk_write(desk, "compressor", "hums");
	desk_write(desk, "starting amps", "76");
}

static void read_the_circuit(struct desk *desk)
{
	desk_wait(desk, 40);
	desk_keys(desk, "F9");
	desk_write(desk, "return dry", "77");
	desk_write(desk, "return wet", "63");
	desk_write(desk, "supply dry", "64");
	desk_keys(desk, "F8");
	desk_write(desk, "suction pressure", "102");
	desk_write(desk, "suction line", "53.3");
	desk_write(desk, "liquid pressure", "318");
	desk_write(desk, "liquid line", "98");
}

static void see_the_air(struct desk *desk)
{
	desk_keys(desk, "F9");
}

static void see_the_findings(struct desk *desk)
{
	desk_keys(desk, "F10");
}

static void give_choices(struct desk *desk)
{
	desk_keys(desk,
	          "F11 'Replace the outdoor fan motor with its capacitor' Enter '385' Enter '420' "
	                "Enter '8' Enter '12' Enter Ctrl+N 'New 3-ton system' Enter '8,700' Enter '9900' "
	                "Enter '14' Enter '18' Enter '16' Enter 'd' Enter 'Mara Quill' Enter "
	                "'Wants to wait a year.' Enter '1000' Enter '14.5' Enter");
}

static void do_the_work(struct desk *desk)
{
	desk_keys(desk, "F12 '3' Enter Enter 'N-0431' Enter '102' Enter '53.3' Enter '318' Enter "
	                "'98' Enter Tab");
	desk_keys(desk, "'capacitor 45' Down Enter '1' Enter Tab Tab Ctrl+N");
	desk_wait(desk, 12);
	desk_keys(desk, "'2.5' Enter Enter 'N-0431' Enter '117' Enter '52' Enter Tab");
	desk_keys(desk, "Ctrl+N 'Labour, one' Down Enter '1.5' Enter");
	desk_keys(desk,
	          "Ctrl+N Left 'part' Enter 'Air filter' Enter '1' Enter '9' Enter Space Enter 'on us' Enter");
	desk_keys(desk, "Tab Down '100' Enter Down '7.25' Enter Tab Tab");
}

/* An id is another one every time: the report shows the firm's number instead. */
static void see_the_paper(struct desk *desk)
{
	struct error error;

	ck_assert(session_type_field(desk->session, FIELD_JOB_NUMBER, "J-2041", &error) == STATUS_OK);
	desk_keys(desk, "Ctrl+P 'The run capacitor had failed and was replaced.' Enter");
}

static void ask_for_help(struct desk *desk)
{
	desk_keys(desk, "F1");
}

static void go_back_to_the_book(struct desk *desk)
{
	desk_keys(desk, "Esc Ctrl+B");
}

static void open_the_empty_book(struct desk *desk)
{
	(void)desk;
}

static const struct {
	void (*act)(struct desk *desk); /* what is pressed */
	const char *name;               /* of the golden files */
} steps[] = {
	{ open_the_empty_book, "book-empty" }, { take_the_call, "call" }, { read_the_plate, "plate" },
	{ make_it_safe, "safe" }, { check_the_supply, "supply" }, { check_the_windings, "windings" },
	{ read_the_currents, "currents" }, { read_the_circuit, "circuit" }, { see_the_air, "air" },
	{ see_the_findings, "findings" }, { give_choices, "choices" }, { do_the_work, "work" },
	{ see_the_paper, "paper" }, { ask_for_help, "help" }, { go_back_to_the_book, "book" },
};
enum { STEP_TESTS = sizeof steps / sizeof *steps };

static void play(struct desk *desk, int until)
{
	desk_open(desk);
	for (int i = 0; i <= until; i++)
		steps[i].act(desk);
}

/* One rule, whatever stands there: Space says yes and goes on.  The line of keys tells it. */
START_TEST(space_answers_every_yes_or_no_alike)
{
	struct desk desk;

	desk_open_on_call(&desk);
	desk_keys(&desk, "F4");
	ck_assert(desk_shows(&desk, "Space yes  n no"));
	desk_keys(&desk, "Space 'n' Enter Home Space Space");
	const struct visit *visit = &desk_call(&desk)->visit;
	ck_assert(visit_is_yes(visit, STAGE_AS_FOUND, READING_DISCONNECT_LOCKED));
	ck_assert(visit_is_yes(visit, STAGE_AS_FOUND, READING_METER_PROVED_BEFORE));
	ck_assert(!visit_has(visit, STAGE_AS_FOUND, READING_POWER_OFF_VERIFIED));
	desk_keys(&desk, "F8");
	ck_assert(desk_shows(&desk, "Space next word"));
	desk_keys(&desk, "Space Space");
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_CONDENSER_CONDITION),
	                 CHOICE_CONDENSER_DIRTY);
	desk_close(&desk);
}
END_TEST

START_TEST(the_pages_of_a_whole_call)
{
	struct desk desk;

	play(&desk, _i);
	desk_look(&desk, steps[_i].name, strcmp(steps[_i].name, "findings") == 0);
	desk_close(&desk);
}
END_TEST

START_TEST(the_whole_call_is_in_the_book)
{
	struct desk desk;
	struct error error = { .text = "" };
	double number;

	play(&desk, STEP_TESTS - 1);
	ck_assert_ptr_null(session_call(desk.session));
	desk_keys(&desk, "Enter");
	const struct call *call = desk_call(&desk);
	ck_assert_str_eq(call->customer.name, "Mara Quill");
	ck_assert_int_eq(visit_number(&call->visit, STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE,
	                              &number),
	                 STATUS_OK);
	ck_assert_double_eq(number, 27);
	ck_assert_uint_eq(call->offer_count, 2);
	ck_assert_int_eq(call->offers[0].price_high, 42000);
	ck_assert_int_eq(call->offers[1].decision, DECISION_DECLINED);
	ck_assert_str_eq(call->offers[1].decided_by, "Mara Quill");
	ck_assert_uint_eq(call->charge_count, 2);
	ck_assert_double_eq(call->charge[1].added_oz, 2.5);
	ck_assert_uint_eq(call->work_count, 3);
	ck_assert_str_eq(call->work[0].description, "Run capacitor 45 µF, 440 V");
	ck_assert_int_eq(call->work[0].unit_price, 3450);
	ck_assert(call->work[2].no_charge);
	ck_assert_int_eq(call->billing.deposit, 10000);
	ck_assert_str_eq(call->summary, "The run capacitor had failed and was replaced.");
	(void)error;
	desk_close(&desk);
}
END_TEST

/* ---- Typing ---- */

static struct desk desk;

static void on_a_call(void)
{
	desk_open(&desk);
	desk_keys(&desk, "Ctrl+N");
}

static void put_away(void)
{
	desk_close(&desk);
}

static const struct value *found(enum reading reading)
{
	return visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND, reading);
}

START_TEST(what_is_refused_stays_and_can_be_mended)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "1188");
	ck_assert(desk_shows(&desk, "1188"));
	ck_assert(desk_shows(&desk, "-14.6 to 600 psig"));
	ck_assert_int_eq(found(READING_SUCTION_PRESSURE)->state, VALUE_NOT_TAKEN);
	desk_keys(&desk, "F9 F8");
	ck_assert(desk_shows(&desk, "1188"));
	desk_go(&desk, "suction pressure");
	desk_keys(&desk, "Backspace Enter");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	ck_assert(!desk_shows(&desk, "1188"));
}
END_TEST

START_TEST(escape_drops_what_is_written_and_keeps_what_was)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_keys(&desk, "Up '9' Esc Down");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
}
END_TEST

START_TEST(a_doubtful_value_is_kept_with_a_question)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "outdoor", "140");
	ck_assert(found(READING_OUTDOOR_DB)->doubtful);
	ck_assert(desk_shows(&desk, "140.0 °F ?"));
	ck_assert(desk_shows(&desk, "Kept, but"));
}
END_TEST

START_TEST(a_slip_of_the_decimal_point_is_asked_about)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "compressor motor", "psc");
	desk_write(&desk, "run capacitor", "45");
	desk_write(&desk, "factory charge", "6");
	ck_assert(desk_shows(&desk, "a charge of 6"));
	desk_keys(&desk, "F5");
	desk_write(&desk, "run capacitor", "4.1");
	ck_assert(desk_shows(&desk, "tenth"));
	ck_assert_double_eq(found(READING_COMPRESSOR_CAPACITANCE)->number, 4.1);
	desk_write(&desk, "run capacitor", "41");
	ck_assert(!desk_shows(&desk, "tenth"));
}
END_TEST

/* "no" is no answer to what a compressor does. */
START_TEST(no_is_not_silent)
{
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "no");
	ck_assert(desk_shows(&desk, "is none of runs, hums, silent, cycles"));
	ck_assert_int_eq(found(READING_COMPRESSOR_STATE)->state, VALUE_NOT_TAKEN);
}
END_TEST

START_TEST(superheat_of_an_iced_coil_is_marked)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_write(&desk, "metering", "fixed");
	desk_keys(&desk, "F9");
	desk_write(&desk, "indoor coil", "iced");
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "75");
	desk_write(&desk, "suction line", "25");
	ck_assert(desk_shows(&desk, "the coil is iced: thaw it, then measure again"));
}
END_TEST

START_TEST(a_change_is_taken_back)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_write(&desk, "suction pressure", "119");
	desk_keys(&desk, "Ctrl+_");
	ck_assert_double_eq(found(READING_SUCTION_PRESSURE)->number, 118);
	ck_assert(desk_shows(&desk, "taken back: suction pressure"));
	desk_keys(&desk, "Ctrl+_");
	ck_assert_int_eq(found(READING_SUCTION_PRESSURE)->state, VALUE_NOT_TAKEN);
}
END_TEST

START_TEST(si_is_shown_and_typed)
{
	desk_keys(&desk, "F8 Ctrl+T");
	desk_write(&desk, "suction line", "10");
	ck_assert_double_eq_tol(found(READING_SUCTION_LINE_TEMP)->number, 50, 1e-9);
	desk_write(&desk, "suction pressure", "118 psig");
	ck_assert(desk_shows(&desk, "kPa"));
	desk_keys(&desk, "Ctrl+T");
	ck_assert(desk_shows(&desk, "118.0 psig"));
	desk_look(&desk, "refrigerant-units", true);
}
END_TEST

START_TEST(resistances_before_made_safe_are_warned_of_once)
{
	desk_keys(&desk, "F6");
	desk_write(&desk, "common", "0.8");
	ck_assert(desk_shows(&desk, "Kept. But by the record"));
	ck_assert_int_ne(desk_call(&desk)->unsafe_at, WALL_TIME_NONE);
	desk_keys(&desk, "'3.1' Enter");
	ck_assert(!desk_shows(&desk, "Kept. But by the record"));
}
END_TEST

/* ---- Help and the size ---- */

START_TEST(help_tells_the_reading_under_the_cursor)
{
	desk_keys(&desk, "F8");
	desk_go(&desk, "drier outlet");
	desk_keys(&desk, "F1");
	ck_assert(desk_shows(&desk, "Pipe just after the drier."));
	ck_assert(desk_shows(&desk, "As before it. Colder: it flashes in the drier"));
	desk_keys(&desk, "Esc F10 F1");
	ck_assert(!desk_shows(&desk, "Pipe just after the drier."));
}
END_TEST

/* A tick that says safe ends with the power that comes back (common practice: prove dead again). */
START_TEST(the_safe_step_has_no_tick_once_there_is_power)
{
	static const char *const safe[] = {
		"disconnect locked out", "meter proved live, before", "power proved off",
		"meter proved live, after", "capacitors discharged", "terminal cover checked",
		"protective equipment on",
	};

	desk_keys(&desk, "F4");
	for (size_t i = 0; i < sizeof safe / sizeof *safe; i++) {
		desk_go(&desk, safe[i]);
		desk_keys(&desk, "'yes' Enter");
	}
	ck_assert(desk_shows(&desk, "F4✓safe"));
	desk.now++;
	desk_keys(&desk, "F5");
	desk_go(&desk, "line voltage");
	desk_keys(&desk, "'240' Enter");
	ck_assert(desk_shows(&desk, "F4~safe"));
}
END_TEST

/* Cautions that had no room on the sheet end in "all: F1": they stand at its top. */
START_TEST(help_has_every_caution_of_the_step_at_its_top)
{
	desk_keys(&desk, "F5");
	ck_assert(!desk_shows(&desk, "never bridge it"));
	desk_keys(&desk, "F1");
	ck_assert(desk_shows(&desk, "never bridge it"));
}
END_TEST

START_TEST(help_goes_back_to_where_it_was_asked_for)
{
	desk_keys(&desk, "F8 F1 F1 Esc");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_REFRIGERANT);
	ck_assert(desk_shows(&desk, "suction pressure"));
}
END_TEST

/* Every screen at every small size, without a crash and without a cell out of place. */
START_TEST(every_screen_fits_every_size)
{
	for (int step = 0; step < STEP_COUNT; step++) {
		workbook_go_step(desk.workbook, (enum step)step);
		for (int size = 1; size < 30; size++) {
			workbook_resize(desk.workbook, size, 2 * size + step);
			ck_assert_int_eq(canvas_rows(workbook_draw(desk.workbook)), size);
			workbook_resize(desk.workbook, 30 - size, size);
			ck_assert_int_eq(canvas_columns(workbook_draw(desk.workbook)), size);
		}
	}
}
END_TEST

/* Three dots are wider than the one character that they stand for. */
START_TEST(what_leads_to_all_cautions_is_never_cut)
{
	desk_keys(&desk, "F8");
	ck_assert(desk_shows(&desk, "… all: F1"));
	workbook_free(desk.workbook);
	desk.workbook = workbook_new(desk.session, 24, 80, true);
	ck_assert_ptr_nonnull(desk.workbook);
	desk_keys(&desk, "F8");
	ck_assert(desk_shows(&desk, "... all: F1"));
}
END_TEST

/* A clock that is set, by hand or by the network, is no quarter of an hour of steady running. */
START_TEST(the_settle_timer_does_not_follow_a_clock_that_is_set)
{
	desk_keys(&desk, "F8 Ctrl+S");
	desk_wait(&desk, 14);
	desk.now += 3600;
	ck_assert(desk_shows(&desk, "settle 14:00"));
	ck_assert(!desk_shows(&desk, "settle 14:00 done"));
	desk.now -= 7200;
	desk_wait(&desk, 1);
	ck_assert(desk_shows(&desk, "settle 15:00 done"));
}
END_TEST

/* It stood over the power state, and on the calls of other units. */
START_TEST(the_settle_timer_hides_no_power_state_and_is_of_its_own_call)
{
	desk_keys(&desk, "F4 Home Space Space Space Space Space Space");
	desk_wait(&desk, 1);
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "238");
	desk_keys(&desk, "Ctrl+S");
	ck_assert(desk_shows(&desk, "settle"));
	ck_assert(desk_shows(&desk, " power on "));
	desk_keys(&desk, "Ctrl+B Ctrl+N 'Ben Oak' Enter");
	ck_assert(desk_shows(&desk, "Ben Oak"));
	ck_assert(!desk_shows(&desk, "settle"));
}
END_TEST

/* A lockout of the last visit beside today's could be read as done. */
START_TEST(the_last_visit_says_nothing_of_what_is_safe_today)
{
	desk_keys(&desk, "F4 Home Space Space Space Space Space Space F5");
	desk_write(&desk, "line voltage", "238");
	desk_wait(&desk, 60 * 24);
	struct uid system = session_call(desk.session)->system.uid;
	struct error error;
	ck_assert(session_start(desk.session, NULL, NULL, &system, &error) == STATUS_OK);
	desk_keys(&desk, "F5 Home Down Down Down Down Down Down Down");
	ck_assert(desk_shows(&desk, "last visit"));
	desk_keys(&desk, "F4 Home");
	ck_assert(!desk_shows(&desk, "last visit"));
}
END_TEST

/* Little was read, and it was called sound; what is unlikely stood in the line below every page. */
START_TEST(little_that_was_read_calls_no_unit_sound)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "238");
	ck_assert(desk_shows(&desk, "so far: too little is known yet"));
	desk_keys(&desk, "F10");
	ck_assert(desk_shows(&desk, "Too few readings yet to find a fault or to call the unit sound."));
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_write(&desk, "metering", "txv");
	desk_write(&desk, "nominal capacity", "3");
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "runs");
	desk_keys(&desk, "F9");
	desk_write(&desk, "return dry", "78");
	desk_write(&desk, "return wet", "65");
	desk_write(&desk, "supply dry", "58");
	desk_keys(&desk, "F8");
	desk_write(&desk, "outdoor", "85");
	desk_write(&desk, "suction pressure", "122");
	desk_write(&desk, "suction line", "53");
	desk_write(&desk, "liquid pressure", "316");
	desk_write(&desk, "liquid line", "90");
	ck_assert(desk_shows(&desk, "so far: no fault found"));
}
END_TEST

Suite *workbook_suite(void)
{
	Suite *suite = suite_create("workbook");
	TCase *call = tcase_create("whole call");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(call, 60);
	tcase_add_loop_test(call, the_pages_of_a_whole_call, 0, STEP_TESTS);
	tcase_add_test(call, the_whole_call_is_in_the_book);
	suite_add_tcase(suite, call);
	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, on_a_call, put_away);
	tcase_add_test(keys, space_answers_every_yes_or_no_alike);
	tcase_add_test(keys, what_is_refused_stays_and_can_be_mended);
	tcase_add_test(keys, escape_drops_what_is_written_and_keeps_what_was);
	tcase_add_test(keys, a_doubtful_value_is_kept_with_a_question);
	tcase_add_test(keys, a_slip_of_the_decimal_point_is_asked_about);
	tcase_add_test(keys, no_is_not_silent);
	tcase_add_test(keys, superheat_of_an_iced_coil_is_marked);
	tcase_add_test(keys, a_change_is_taken_back);
	tcase_add_test(keys, what_leads_to_all_cautions_is_never_cut);
	tcase_add_test(keys, the_settle_timer_does_not_follow_a_clock_that_is_set);
	tcase_add_test(keys, the_settle_timer_hides_no_power_state_and_is_of_its_own_call);
	tcase_add_test(keys, the_last_visit_says_nothing_of_what_is_safe_today);
	tcase_add_test(keys, little_that_was_read_calls_no_unit_sound);
	tcase_add_test(keys, si_is_shown_and_typed);
	tcase_add_test(keys, resistances_before_made_safe_are_warned_of_once);
	tcase_add_test(keys, help_tells_the_reading_under_the_cursor);
	tcase_add_test(keys, the_safe_step_has_no_tick_once_there_is_power);
	tcase_add_test(keys, help_has_every_caution_of_the_step_at_its_top);
	tcase_add_test(keys, help_goes_back_to_where_it_was_asked_for);
	tcase_add_test(keys, every_screen_fits_every_size);
	suite_add_tcase(suite, keys);
	return suite;
}
