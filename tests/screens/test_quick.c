/*
 * What spares keys and finds things: go to, the next reading, folded rows, the
 * same as found, short texts, what is questioned in the charge log.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <padside/app/short_texts.h>
#include <padside/model/power.h>

#include "support/demo.h"
#include "support/desk.h"
#include "support/scratch.h"

Suite *quick_suite(void);

static struct desk desk;

static void on_a_call(void)
{
	desk_open_on_call(&desk);
}

static void put_away(void)
{
	desk_close(&desk);
}

static const struct value *left(enum reading reading)
{
	return visit_value(&desk_call(&desk)->visit, STAGE_AS_LEFT, reading);
}

/* ---- A new call ---- */

/* The last call's row and column are not the next one's. */
START_TEST(a_new_call_begins_at_the_customer_as_found)
{
	desk_keys(&desk, "F8 Right Down Down Ctrl+B Ctrl+N 'Otto Brandt' Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Otto Brandt");
	ck_assert_int_eq(workbook_stage(desk.workbook), STAGE_AS_FOUND);
}
END_TEST

/* Planned calls stand first on the opening page, then open ones. */
START_TEST(a_planned_call_stands_first)
{
	desk_write(&desk, "planned for", "2026-07-15 09:30");
	desk_wait(&desk, 5);
	desk_keys(&desk, "Ctrl+B Ctrl+N 'Otto Brandt' Enter Ctrl+B");
	ck_assert(desk_shows(&desk, "2026-07-15  09:30 Mara Quill"));
	desk_keys(&desk, "Home Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Mara Quill");
}
END_TEST

/* ---- Folded rows ---- */

START_TEST(rows_hardly_needed_are_one_line_that_opens)
{
	desk_keys(&desk, "F8");
	ck_assert(!desk_shows(&desk, "drier inlet   "));
	desk_keys(&desk, "End");
	ck_assert(desk_shows(&desk, "more, Alt+m: "));
	desk_keys(&desk, "Enter");
	desk_go(&desk, "drier inlet");
	desk_keys(&desk, "Alt+m");
	ck_assert(!desk_shows(&desk, "drier inlet   "));
}
END_TEST

START_TEST(the_complaint_brings_its_rows_back)
{
	desk_go(&desk, "complaint");
	desk_keys(&desk, "'Breaker trips' Enter F3");
	desk_keys(&desk, "End");
	ck_assert(!desk_shows(&desk, "breaker or fuse fitted, "));
	desk_go(&desk, "breaker or fuse fitted");
}
END_TEST

START_TEST(what_was_read_is_never_folded)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "drier inlet", "99");
	desk_keys(&desk, "F9 F8 Home");
	desk_down(&desk, "drier inlet", "98");
	ck_assert_double_eq(visit_value(&desk_call(&desk)->visit, STAGE_AS_FOUND,
	                                READING_DRIER_IN_TEMP)->number, 98);
}
END_TEST

/* ---- Same as found ---- */

START_TEST(one_key_takes_the_value_as_found)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "237.4");
	desk_keys(&desk, "Up Right =");
	ck_assert_double_eq(left(READING_LINE_VOLTAGE)->number, 237.4);
	ck_assert_int_eq(left(READING_LINE_VOLTAGE)->taken_at, desk.now);
}
END_TEST

START_TEST(one_key_takes_the_whole_sheet_but_not_what_stands)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "237.4");
	desk_write(&desk, "control voltage", "26");
	desk_go(&desk, "line voltage");
	desk_keys(&desk, "Right '241' Enter Ctrl+F");
	ck_assert_double_eq(left(READING_LINE_VOLTAGE)->number, 241);
	ck_assert_double_eq(left(READING_CONTROL_VOLTAGE)->number, 26);
	ck_assert(desk_shows(&desk, "1 reading as left copied from as found"));
}
END_TEST

/* A copy was stamped as measured: the title told power on, the office an unsafe reading. */
START_TEST(a_copied_sheet_was_not_measured_again)
{
	const struct visit *visit = &desk_call(&desk)->visit;

	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "238");
	const wall_time live = desk.now;
	desk_wait(&desk, 5);
	desk_keys(&desk, "F4 Home Space Space Space Space Space Space F5");
	desk_write(&desk, "run capacitor", "27");
	desk_wait(&desk, 5);
	desk_keys(&desk, "Ctrl+F");
	ck_assert(desk_shows(&desk, "2 readings as left copied from as found, with the times there"));
	ck_assert_int_eq(left(READING_LINE_VOLTAGE)->taken_at, live);
	ck_assert(desk_shows(&desk, "made safe 08:10"));
	ck_assert(!power_was_unsafe(desk_call(&desk), STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE));
	/* Measured, and the same: that is of now. */
	desk_write(&desk, "line voltage", "238");
	ck_assert_int_eq(left(READING_LINE_VOLTAGE)->taken_at, desk.now);
	ck_assert(desk_shows(&desk, "power on 08:15"));
	ck_assert(visit_is_copy(visit, READING_COMPRESSOR_CAPACITANCE));
	ck_assert(!visit_is_copy(visit, READING_LINE_VOLTAGE));
	/* Only one that was really read in that state is told. */
	desk_keys(&desk, "Ctrl+_ Ctrl+_");
	ck_assert(!visit_has(visit, STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE));
	ck_assert(desk_shows(&desk, "made safe 08:10"));
	desk_write(&desk, "line voltage", "238");
	desk_wait(&desk, 1);
	desk_write(&desk, "run capacitor", "45");
	ck_assert(power_was_unsafe(desk_call(&desk), STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE));
}
END_TEST

/* "44.6" was lost under the copy. */
START_TEST(a_copied_sheet_leaves_a_refused_text_alone)
{
	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "238");
	desk_write(&desk, "control voltage", "26");
	desk_go(&desk, "control voltage");
	desk_keys(&desk, "Right '4x' Enter Down Ctrl+F");
	ck_assert(desk_shows(&desk, "1 reading as left copied"));
	ck_assert(desk_shows(&desk, "left alone: 1 text not kept"));
	ck_assert(desk_shows(&desk, "4x"));
	ck_assert(!visit_has(&desk_call(&desk)->visit, STAGE_AS_LEFT, READING_CONTROL_VOLTAGE));
}
END_TEST

START_TEST(made_safe_is_never_copied)
{
	desk_keys(&desk, "F4 Home Space Space Ctrl+F");
	ck_assert(desk_shows(&desk, "answered each time, never copied"));
	ck_assert(!visit_has(&desk_call(&desk)->visit, STAGE_AS_LEFT, READING_DISCONNECT_LOCKED));
}
END_TEST

START_TEST(nothing_to_take_is_said)
{
	desk_keys(&desk, "F5 Right =");
	ck_assert(desk_shows(&desk, "was not read as found"));
}
END_TEST

START_TEST(the_charge_log_takes_the_sheets_readings)
{
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_write(&desk, "liquid pressure", "340");
	desk_keys(&desk, "F12 '3' Enter =");
	const struct charge_entry *entry = &desk_call(&desk)->charge[0];
	ck_assert_double_eq(entry->values[CHARGE_SUCTION_PRESSURE].number, 118);
	ck_assert_double_eq(entry->values[CHARGE_LIQUID_PRESSURE].number, 340);
	ck_assert_int_eq(entry->values[CHARGE_RETURN_WB].state, VALUE_NOT_TAKEN);
}
END_TEST

/* ---- The charge log ---- */

/* "6", "119" and "358" became 00:06, 01:19 and 358 oz recovered, unasked. */
START_TEST(amounts_do_not_land_in_the_clock)
{
	desk_keys(&desk, "F12 '6' Enter");
	ck_assert_int_eq(desk_call(&desk)->charge[0].at, desk.now);
	ck_assert_double_eq(desk_call(&desk)->charge[0].added_oz, 6);
	desk_keys(&desk, "Home '119' Enter");
	ck_assert(desk_shows(&desk, "type a time like 10:35"));
	ck_assert_int_eq(desk_call(&desk)->charge[0].at, desk.now);
}
END_TEST

START_TEST(amounts_that_hardly_can_be_are_questioned)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "factory charge", "104");
	desk_keys(&desk, "F12 Right '358' Enter");
	ck_assert_double_eq(desk_call(&desk)->charge[0].recovered_oz, 358);
	ck_assert(desk_shows(&desk, "more was recovered than the unit can hold"));
	desk_keys(&desk, "Ctrl+N '200' Enter");
	ck_assert(desk_shows(&desk, "more was added than the nameplate"));
	desk_keys(&desk, "Ctrl+N '3' Enter Home '7:00' Enter");
	ck_assert(desk_shows(&desk, "the time is before this call began"));
}
END_TEST

START_TEST(a_usual_amount_is_not_questioned)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "factory charge", "104");
	desk_keys(&desk, "F12 '12' Enter");
	ck_assert(!desk_shows(&desk, "Kept, but"));
}
END_TEST

START_TEST(refrigerant_is_billed_by_one_key)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_keys(&desk, "F12 Alt+b");
	ck_assert(desk_shows(&desk, "no refrigerant added"));
	desk_keys(&desk, "'3' Enter Ctrl+N '2.5' Enter Alt+b");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_int_eq(desk_call(&desk)->work[0].kind, WORK_REFRIGERANT);
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 5500);
	ck_assert_int_eq(desk_call(&desk)->work[0].unit_price, 240);
	desk_keys(&desk, "Ctrl+N '1' Enter Alt+b");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 6500);
}
END_TEST

/* The call was written down after the arrival: a line of the log in between is of this call. */
START_TEST(the_charge_log_begins_with_the_arrival)
{
	desk_keys(&desk, "F2");
	desk_write(&desk, "arrived", "07:00");
	desk_keys(&desk, "F12 Left '07:30' Enter");
	ck_assert_uint_eq(desk_call(&desk)->charge_count, 1);
	ck_assert(!desk_shows(&desk, "before this call began"));
	desk_keys(&desk, "Ctrl+N Left '06:30' Enter");
	ck_assert(desk_shows(&desk, "before this call began"));
}
END_TEST

/* 132 oz weighed in and 4 added were billed as 4. */
START_TEST(what_was_weighed_in_is_billed_too)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_keys(&desk, "Alt+v 'w' Enter Enter '132' Enter F12 '4' Enter Alt+b");
	ck_assert(desk_shows(&desk, "added 136.0 oz"));
	ck_assert_uint_eq(desk_call(&desk)->work_count, 1);
	ck_assert_int_eq(desk_call(&desk)->work[0].quantity, 136000);
}
END_TEST

/* On the first sheet the two columns are named where the cursor is on them. */
START_TEST(the_first_sheet_names_its_columns)
{
	desk_keys(&desk, "F2");
	desk_go(&desk, "complaint");
	ck_assert(!desk_shows(&desk, "as found"));
	desk_go(&desk, "outdoor dry bulb");
	ck_assert(desk_shows(&desk, "as found               as left"));
}
END_TEST

/* ---- Short texts ---- */

START_TEST(short_texts_are_told_in_a_sentence_of_their_own)
{
	desk_keys(&desk, "Ctrl+P");
	desk_go(&desk, "in plain words");
	ck_assert(desk_shows(&desk, "begins with it. Short texts: cap"));
}
END_TEST

START_TEST(short_texts_are_written_out)
{
	desk_go(&desk, "complaint");
	desk_keys(&desk, "'hum trip' Enter");
	ck_assert_str_eq(desk_call(&desk)->complaint,
	                 "The outdoor unit hums and does not start. The breaker trips.");
	desk_go(&desk, "complaint");
	desk_keys(&desk, "'hum a bit' Enter");
	ck_assert_str_eq(desk_call(&desk)->complaint, "hum a bit");
}
END_TEST

/* "nc" is no cooling in the complaint; elsewhere it is what the technician typed. */
START_TEST(short_texts_stay_where_they_belong)
{
	desk_keys(&desk, "F12 Tab");
	ck_assert(desk_shows(&desk, "Short texts: capo") && !desk_shows(&desk, "nc, warm"));
	desk_keys(&desk, "'filt' Enter '1' Enter '5' Enter Enter 'nc' Enter");
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "Replaced the air filter.");
	ck_assert_str_eq(desk_call(&desk)->work[0].note, "nc");
	desk_keys(&desk, "Ctrl+P 'filt' Enter 'nc' Enter");
	ck_assert_str_eq(desk_call(&desk)->summary, "The air filter was replaced.");
	ck_assert_str_eq(desk_call(&desk)->office_note, "nc");
}
END_TEST

/* On the bill "Replace the run capacitor." reads as an order, of work that was done. */
START_TEST(short_texts_of_the_work_tell_what_was_done)
{
	const char *letters, *text;

	desk_keys(&desk, "F12 Tab 'capo' Enter");
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "Replaced the run capacitor.");
	for (size_t i = 0; short_texts_at(SHORT_WORK, i, &letters, &text); i++)
		ck_assert_msg(strncmp(text, "Replace ", 8) != 0 && strncmp(text, "Clear ", 6) != 0, "%s", text);
}
END_TEST

START_TEST(ones_own_short_texts_win)
{
	char folder[SCRATCH_SIZE], path[SCRATCH_SIZE + 64], out[64];

	scratch_make(folder);
	snprintf(path, sizeof path, "%s/padside", folder);
	ck_assert_int_eq(mkdir(path, 0700), 0);
	snprintf(path, sizeof path, "%s/padside/short-texts", folder);
	FILE *file = fopen(path, "w");
	ck_assert_ptr_nonnull(file);
	fputs("# mine\nhum = It hums.\nno line\n= nothing\nzz=  Two words.  \n", file);
	fclose(file);
	setenv("XDG_CONFIG_HOME", folder, 1);
	short_texts_read();
	ck_assert(short_texts_expand(SHORT_COMPLAINT, "HUM zz", out, sizeof out));
	ck_assert_str_eq(out, "It hums. Two words.");
	ck_assert(short_texts_expand(SHORT_COMPLAINT, "dead", out, sizeof out));
	ck_assert(!short_texts_expand(SHORT_COMPLAINT, "", out, sizeof out));
	ck_assert(!short_texts_expand(SHORT_COMPLAINT, "hum", out, 4));
	unsetenv("XDG_CONFIG_HOME");
	short_texts_read();
	scratch_remove(folder);
}
END_TEST

/* ---- Finding ---- */

START_TEST(a_few_letters_go_to_a_reading)
{
	desk_keys(&desk, "Ctrl+G 'suction pre' Enter '118' Enter");
	double number;
	ck_assert(visit_number(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE,
	                       &number) == STATUS_OK);
	ck_assert_double_eq(number, 118);
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_REFRIGERANT);
}
END_TEST

/* How the unit was left, and how it was locked for the work: people look for it by these words. */
START_TEST(what_was_left_off_is_found_by_those_words)
{
	static const struct {
		const char *typed, *label;
		enum reading reading;
	} rows[] = {
		{ "left off", "left off, locked, tagged", READING_LEFT_LOCKED },
		{ "locked and tagged", "left off, locked, tagged", READING_LEFT_LOCKED },
		{ "lockout", "disconnect locked out", READING_DISCONNECT_LOCKED },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char words[64];
		snprintf(words, sizeof words, "Ctrl+G '%s'", rows[i].typed);
		desk_keys(&desk, words);
		snprintf(words, sizeof words, " reading    %s", rows[i].label);
		ck_assert_msg(desk_shows(&desk, words), "%s", rows[i].typed);
		desk_keys(&desk, "Enter");
		ck_assert_int_eq(workbook_step(desk.workbook), STEP_SAFETY);
		desk_keys(&desk, "Space");
		ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, rows[i].reading));
		desk_keys(&desk, "Ctrl+_");
	}
}
END_TEST

/* A folded row is opened. */
/* "Nothing matches." of words that stand on the screen. */
START_TEST(words_of_the_screen_are_found)
{
	static const struct {
		const char *typed, *found;
	} words[] = {
		{ "technician", "field      technician" }, { "phone", "field      phone" },
		{ "job", "field      job number" },        { "discount", "step       Work done" },
		{ "quit", "Ctrl+Q" },                      { "undo", "Ctrl+_" },
		{ "pdf", "step       Report" },            { "company", "step       Report" },
		{ "amps", "step       Currents" },         { "plate", "step       The unit" },
		{ "note for", "field      note for the office" },
	};
	char keys[64];

	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		snprintf(keys, sizeof keys, "Ctrl+G '%s'", words[i].typed);
		desk_keys(&desk, keys);
		ck_assert_msg(desk_shows(&desk, words[i].found), "%s", words[i].typed);
		desk_keys(&desk, "Esc Esc");
	}
	/* Also where the field is folded away, and with the report. */
	desk_keys(&desk, "Ctrl+G 'technician' Enter 'Ada Wynn' Enter");
	ck_assert_str_eq(desk_call(&desk)->technician, "Ada Wynn");
	desk_keys(&desk, "Ctrl+G 'payment' Enter 'net 30' Enter");
	ck_assert_str_eq(desk_call(&desk)->payment_terms, "net 30");
}
END_TEST

/* At 80 by 24 the ways out of a page were cut, and "Left" stood there for two things. */
START_TEST(the_keys_tell_the_ways_out_of_a_page_and_each_key_once)
{
	static const char *const pages[] = { "F4", "F5", "F8", "F10" };

	for (size_t i = 0; i < sizeof pages / sizeof *pages; i++) {
		desk_keys(&desk, pages[i]);
		ck_assert_msg(desk_shows(&desk, "Ctrl+G go to  Ctrl+Q quit"), "%s", pages[i]);
	}
	desk_keys(&desk, "F7 '1.1' Enter");
	ck_assert(desk_shows(&desk, "Left edit  Esc drop"));
	ck_assert(!desk_shows(&desk, "Left Right as found"));
	desk_keys(&desk, "Esc Ctrl+B");
	ck_assert(desk_shows(&desk, "Ctrl+G go to  Ctrl+Q quit"));
	ck_assert(!desk_shows(&desk, "Ctrl+B book"));
}
END_TEST

/* At 60 by 20 "meter proved live, before" and "…, after" were one and the same. */
START_TEST(two_rows_have_two_labels_on_a_small_page)
{
	desk_keys(&desk, "F4");
	workbook_resize(desk.workbook, 20, 60);
	ck_assert(desk_shows(&desk, " before") && desk_shows(&desk, " after"));
}
END_TEST

START_TEST(a_full_field_tells_what_became_of_the_rest)
{
	char keys[400];

	snprintf(keys, sizeof keys, "'%0*d'", 150, 1);
	desk_keys(&desk, "F2");
	desk_go(&desk, "phone");
	desk_keys(&desk, keys);
	ck_assert(desk_shows(&desk, "the field is full: the rest was dropped"));
}
END_TEST

START_TEST(the_report_to_read_tells_as_what_it_will_be_written)
{
	desk_keys(&desk, "Ctrl+P");
	desk_write(&desk, "written as", "csv");
	desk_keys(&desk, "Tab");
	ck_assert(desk_shows(&desk, "The file will be csv."));
	ck_assert(!desk_shows(&desk, "As it will be written"));
}
END_TEST

/* "filter" and Enter went to the filter's size on the plate, and "clean" became a size. */
START_TEST(a_whole_name_goes_before_what_only_begins_so)
{
	desk_keys(&desk, "Ctrl+G 'filter' Enter 'clean' Enter");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_FILTER_CONDITION));
	ck_assert(!visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_FILTER_SIZE));
	/* However it is written; what only begins so comes behind it. */
	desk_keys(&desk, "Ctrl+G 'FILTER' Down Enter '16x25' Enter");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_FILTER_SIZE));
}
END_TEST

START_TEST(a_figure_gone_to_tells_that_it_is_pinned)
{
	desk_keys(&desk, "Ctrl+G 'temperature split' Enter");
	ck_assert(desk_shows(&desk, "is pinned: it is first on every sheet; Alt+p unpins it"));
}
END_TEST

START_TEST(a_few_letters_go_to_a_folded_reading)
{
	desk_keys(&desk, "Ctrl+G 'drier inl' Enter '99' Enter");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_DRIER_IN_TEMP));
}
END_TEST

START_TEST(a_few_letters_go_to_a_step_a_command_a_customer)
{
	demo_fill(desk.store);
	desk_keys(&desk, "Ctrl+G 'windings' Enter");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_WINDINGS);
	desk_keys(&desk, "Ctrl+G 'SI units' Enter");
	ck_assert_int_eq(session_units(desk.session), UNITS_SI);
	desk_keys(&desk, "Ctrl+G 'while you type' Enter");
	ck_assert(desk_shows(&desk, "delete the word before the cursor"));
	desk_keys(&desk, "Esc Ctrl+G 'xyzzy'");
	ck_assert(desk_shows(&desk, "Nothing matches"));
	desk_keys(&desk, "Esc");
}
END_TEST

START_TEST(a_figure_gone_to_is_pinned_on_every_sheet)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_keys(&desk, "F8");
	desk_write(&desk, "suction pressure", "118");
	desk_write(&desk, "suction line temp", "52");
	desk_keys(&desk, "F5");
	ck_assert(!desk_shows(&desk, "superheat"));
	desk_keys(&desk, "Ctrl+G 'superheat' Enter");
	desk_keys(&desk, "F5");
	ck_assert(desk_shows(&desk, "superheat"));
	desk_keys(&desk, "Alt+p");
	ck_assert(!desk_shows(&desk, "superheat"));
}
END_TEST

START_TEST(figures_scroll_and_say_how_many_more)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "refrigerant", "R-410A");
	desk_write(&desk, "metering", "fix");
	desk_keys(&desk, "F8");
	desk_write(&desk, "outdoor", "88");
	desk_write(&desk, "suction pressure", "118");
	desk_write(&desk, "suction line temp", "52");
	desk_write(&desk, "liquid pressure", "340");
	desk_write(&desk, "liquid line temp", "97");
	ck_assert(desk_shows(&desk, "more figure"));
	bool had = desk_shows(&desk, "compression ratio");
	for (int i = 0; i < 6 && !desk_shows(&desk, "compression ratio"); i++)
		desk_keys(&desk, "Alt+.");
	ck_assert(!had && desk_shows(&desk, "compression ratio"));
	for (int i = 0; i < 20; i++)
		desk_keys(&desk, "Alt+.");
	ck_assert(desk_shows(&desk, "back: Alt+,") && !desk_shows(&desk, "0 more"));
	for (int i = 0; i < 20; i++)
		desk_keys(&desk, "Alt+,");
	ck_assert(!desk_shows(&desk, "compression ratio") && !desk_shows(&desk, "back: "));
}
END_TEST

/* One key to the reading that decides most, Enter to the next one. */
START_TEST(the_next_reading_is_one_key_away)
{
	desk_keys(&desk, "F3");
	desk_write(&desk, "compressor motor", "psc");
	desk_keys(&desk, "F7");
	desk_write(&desk, "compressor", "hums");
	const struct diagnosis *diagnosis = session_diagnosis(desk.session, STAGE_AS_FOUND);
	ck_assert_int_gt(diagnosis->next_check_count, 0);
	enum reading first = diagnosis->next_checks[0].reading;
	desk_keys(&desk, "F2 Ctrl+R");
	ck_assert_int_eq(workbook_step(desk.workbook), reading_info(first)->step);
	desk_keys(&desk, reading_info(first)->kind == KIND_CHOICE ? "Space Enter" : "'238' Enter");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, first));
	diagnosis = session_diagnosis(desk.session, STAGE_AS_FOUND);
	ck_assert_int_gt(diagnosis->next_check_count, 0);
	ck_assert_int_eq(workbook_step(desk.workbook),
	                 reading_info(diagnosis->next_checks[0].reading)->step);
}
END_TEST

/* The last visit's value stands beside the field. */
START_TEST(the_last_visits_value_is_in_sight)
{
	struct error error;

	desk_keys(&desk, "F5");
	desk_write(&desk, "line voltage", "239");
	const struct uid customer = desk_call(&desk)->customer.uid, site = desk_call(&desk)->site.uid;
	const struct uid unit = desk_call(&desk)->system.uid;
	desk_wait(&desk, 24 * 60);
	ck_assert(session_start(desk.session, &customer, &site, &unit, &error) == STATUS_OK);
	desk_keys(&desk, "F2 F5");
	desk_go(&desk, "line voltage");
	ck_assert(desk_shows(&desk, "last visit, 2026-07-14: 239"));
}
END_TEST

/* ---- The mouse and the size ---- */

START_TEST(a_click_goes_to_a_step_and_a_field)
{
	desk_click(&desk, "supply");
	ck_assert_int_eq(workbook_step(desk.workbook), STEP_ELECTRICAL);
	desk_click(&desk, "line voltage");
	desk_keys(&desk, "'238' Enter");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE));
	desk_click(&desk, "as left");
	workbook_press(desk.workbook, key_click(200, 200));
}
END_TEST

/* What is being written is kept by a click elsewhere, or stays refused in its field. */
START_TEST(a_click_keeps_what_is_written)
{
	desk_keys(&desk, "F5");
	desk_go(&desk, "line voltage");
	desk_keys(&desk, "'238'");
	desk_click(&desk, "wind");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE));
}
END_TEST

START_TEST(the_wheel_moves)
{
	desk_keys(&desk, "F5 Home");
	workbook_press(desk.workbook, key_press(PRESS_WHEEL_DOWN));
	desk_keys(&desk, "Up Up Up");
	workbook_press(desk.workbook, key_press(PRESS_WHEEL_UP));
	desk_keys(&desk, "'y' Enter");
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_BREAKER_TRIPPED));
}
END_TEST

START_TEST(sixty_by_twenty_is_enough_and_less_is_said)
{
	desk_keys(&desk, "F8");
	workbook_resize(desk.workbook, 20, 60);
	ck_assert(desk_shows(&desk, "suction pressure"));
	ck_assert(desk_shows(&desk, "as left"));
	ck_assert(desk_shows(&desk, "F1 help"));
	ck_assert(!desk_shows(&desk, "This window is"));
	workbook_resize(desk.workbook, 19, 60);
	ck_assert(desk_shows(&desk, "This window is 60 by 19. padside needs 60 by 20"));
	desk_keys(&desk, "Down '118' Enter");
	workbook_resize(desk.workbook, 24, 59);
	ck_assert(desk_shows(&desk, "This window is 59 by 24"));
	workbook_resize(desk.workbook, 24, 80);
}
END_TEST

/* A sentence longer than its two rows takes more of them. */
START_TEST(a_hint_is_never_cut)
{
	char long_hint[400] = "";

	workbook_resize(desk.workbook, 24, 60);
	for (int i = 0; i < 30; i++)
		strcat(long_hint, "word words ");
	strcat(long_hint, "end.");
	workbook_say(desk.workbook, INK_REFUSED, "%s", long_hint);
	ck_assert(desk_shows(&desk, "end."));
	ck_assert(desk_shows(&desk, "F1 help"));
	workbook_resize(desk.workbook, 24, 80);
}
END_TEST

Suite *quick_suite(void)
{
	Suite *suite = suite_create("quick");
	TCase *keys = tcase_create("keys");

	tcase_set_timeout(keys, 60);
	tcase_add_checked_fixture(keys, on_a_call, put_away);
	tcase_add_test(keys, a_new_call_begins_at_the_customer_as_found);
	tcase_add_test(keys, a_planned_call_stands_first);
	tcase_add_test(keys, rows_hardly_needed_are_one_line_that_opens);
	tcase_add_test(keys, the_complaint_brings_its_rows_back);
	tcase_add_test(keys, what_was_read_is_never_folded);
	tcase_add_test(keys, one_key_takes_the_value_as_found);
	tcase_add_test(keys, one_key_takes_the_whole_sheet_but_not_what_stands);
	tcase_add_test(keys, a_copied_sheet_was_not_measured_again);
	tcase_add_test(keys, a_copied_sheet_leaves_a_refused_text_alone);
	tcase_add_test(keys, made_safe_is_never_copied);
	tcase_add_test(keys, nothing_to_take_is_said);
	tcase_add_test(keys, the_charge_log_takes_the_sheets_readings);
	tcase_add_test(keys, amounts_do_not_land_in_the_clock);
	tcase_add_test(keys, amounts_that_hardly_can_be_are_questioned);
	tcase_add_test(keys, a_usual_amount_is_not_questioned);
	tcase_add_test(keys, refrigerant_is_billed_by_one_key);
	tcase_add_test(keys, what_was_weighed_in_is_billed_too);
	tcase_add_test(keys, the_charge_log_begins_with_the_arrival);
	tcase_add_test(keys, short_texts_are_written_out);
	tcase_add_test(keys, short_texts_of_the_work_tell_what_was_done);
	tcase_add_test(keys, ones_own_short_texts_win);
	tcase_add_test(keys, short_texts_stay_where_they_belong);
	tcase_add_test(keys, a_few_letters_go_to_a_reading);
	tcase_add_test(keys, words_of_the_screen_are_found);
	tcase_add_test(keys, the_keys_tell_the_ways_out_of_a_page_and_each_key_once);
	tcase_add_test(keys, two_rows_have_two_labels_on_a_small_page);
	tcase_add_test(keys, a_full_field_tells_what_became_of_the_rest);
	tcase_add_test(keys, the_report_to_read_tells_as_what_it_will_be_written);
	tcase_add_test(keys, a_whole_name_goes_before_what_only_begins_so);
	tcase_add_test(keys, a_figure_gone_to_tells_that_it_is_pinned);
	tcase_add_test(keys, a_few_letters_go_to_a_folded_reading);
	tcase_add_test(keys, what_was_left_off_is_found_by_those_words);
	tcase_add_test(keys, a_few_letters_go_to_a_step_a_command_a_customer);
	tcase_add_test(keys, a_figure_gone_to_is_pinned_on_every_sheet);
	tcase_add_test(keys, figures_scroll_and_say_how_many_more);
	tcase_add_test(keys, the_first_sheet_names_its_columns);
	tcase_add_test(keys, short_texts_are_told_in_a_sentence_of_their_own);
	tcase_add_test(keys, the_next_reading_is_one_key_away);
	tcase_add_test(keys, the_last_visits_value_is_in_sight);
	tcase_add_test(keys, a_click_goes_to_a_step_and_a_field);
	tcase_add_test(keys, a_click_keeps_what_is_written);
	tcase_add_test(keys, the_wheel_moves);
	tcase_add_test(keys, sixty_by_twenty_is_enough_and_less_is_said);
	tcase_add_test(keys, a_hint_is_never_cut);
	suite_add_tcase(suite, keys);
	return suite;
}
