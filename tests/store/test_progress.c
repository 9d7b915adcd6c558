/* How far a call is, which stage is spoken of, what is warned of, and what needs no typing. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/session.h>
#include <padside/app/session_same.h>
#include <padside/base/text.h>

Suite *progress_suite(void);

static struct store *store;
static struct session *session;
static struct error error;
static wall_time now;

static wall_time tell_time(void *context)
{
	(void)context;
	return now;
}

static const struct clock test_clock = { .now = tell_time };

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void set_up(void)
{
	ck_assert(clock_parse("2026-07-14T08:05", &now));
	assert_ok(store_open("", STORE_MEMORY, &test_clock, &store, &error));
	assert_ok(session_new(store, &test_clock, UNITS_US, &session, &error));
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
}

static void tear_down(void)
{
	session_free(session);
	store_close(store);
}

static void type(enum stage stage, enum reading reading, const char *typed)
{
	assert_ok(session_type(session, stage, reading, typed, &error));
}

static void found(enum reading reading, const char *typed)
{
	type(STAGE_AS_FOUND, reading, typed);
}

static void left(enum reading reading, const char *typed)
{
	type(STAGE_AS_LEFT, reading, typed);
}

static void field(enum field which, const char *typed)
{
	assert_ok(session_type_field(session, which, typed, &error));
}

static void assert_progress(enum step step, enum progress progress)
{
	ck_assert_int_eq(session_progress(session, step), progress);
}

START_TEST(a_new_call_is_untouched)
{
	for (int step = 0; step < STEP_COUNT; step++)
		assert_progress((enum step)step, PROGRESS_UNTOUCHED);
}
END_TEST

START_TEST(the_first_sheet_is_done_with_who_where_and_what)
{
	static const enum field fields[] = { FIELD_CUSTOMER_NAME, FIELD_ADDRESS, FIELD_COMPLAINT };

	for (int i = 0; i < 3; i++) {
		assert_ok(session_start(session, NULL, NULL, NULL, &error));
		for (int j = 0; j < 3; j++) {
			assert_progress(STEP_CALL, j == 0 ? PROGRESS_UNTOUCHED : PROGRESS_BEGUN);
			field(fields[(i + j) % 3], "words");
		}
		assert_progress(STEP_CALL, PROGRESS_COMPLETE);
	}
	/* The rest of that sheet begins nothing. */
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
	field(FIELD_PHONE, "555-0114");
	assert_progress(STEP_CALL, PROGRESS_UNTOUCHED);
}
END_TEST

START_TEST(options_are_done_when_one_is_decided)
{
	struct offer offer = { .title = "New coil", .decided_at = WALL_TIME_NONE };

	for (int i = 0; i < 3; i++) {
		offer.decision = i < 2 ? DECISION_NONE : DECISION_DECLINED;
		assert_ok(session_put_offer(session, &offer, &error));
		assert_progress(STEP_CHOICES, i < 2 ? PROGRESS_BEGUN : PROGRESS_COMPLETE);
	}
}
END_TEST

START_TEST(work_begins_with_a_line_or_an_entry_of_the_charge_log)
{
	struct charge_entry entry = { .at = now, .added_oz = 4 };
	struct work_line line = { .description = "Run capacitor", .quantity = 1000, .unit_price = 3450 };

	assert_ok(session_put_charge(session, &entry, &error));
	assert_progress(STEP_WORK, PROGRESS_BEGUN);
	assert_ok(session_put_work(session, &line, &error));
	assert_progress(STEP_WORK, PROGRESS_COMPLETE);
	line.unit_price = 0;
	assert_ok(session_put_work(session, &line, &error));
	assert_progress(STEP_WORK, PROGRESS_BEGUN);
	line = session_call(session)->work[1];
	line.no_charge = true;
	assert_ok(session_put_work(session, &line, &error));
	assert_progress(STEP_WORK, PROGRESS_COMPLETE);
	line.description[0] = '\0';
	assert_ok(session_put_work(session, &line, &error));
	assert_progress(STEP_WORK, PROGRESS_BEGUN);
}
END_TEST

START_TEST(the_report_begins_with_its_words_and_is_done_when_closed)
{
	field(FIELD_SUMMARY, "All is well.");
	assert_progress(STEP_SUMMARY, PROGRESS_BEGUN);
	assert_ok(session_close_call(session, true, &error));
	assert_progress(STEP_SUMMARY, PROGRESS_COMPLETE);
	ck_assert_int_eq(session_call(session)->closed_at, now);
	assert_ok(session_close_call(session, false, &error));
	assert_progress(STEP_SUMMARY, PROGRESS_BEGUN);
	ck_assert_int_eq(session_call(session)->closed_at, WALL_TIME_NONE);
}
END_TEST

static void hold(struct session_pending held)
{
	text_copy(held.text, sizeof held.text, "held");
	assert_ok(session_hold(session, &held, &error));
}

/* A tick over a text that is not in the book would say that it is. */
START_TEST(a_sheet_with_a_text_that_is_not_kept_is_not_done)
{
	field(FIELD_CUSTOMER_NAME, "Mara Quill");
	field(FIELD_ADDRESS, "9 Elm Row");
	field(FIELD_COMPLAINT, "no cooling");
	assert_progress(STEP_CALL, PROGRESS_COMPLETE);
	/* Of another sheet, another call, and a place that only the front end knows. */
	hold((struct session_pending){ .is_field = true, .field = FIELD_SUMMARY });
	hold((struct session_pending){ .reading = READING_SUCTION_PRESSURE });
	hold((struct session_pending){ .is_field = true, .field = FIELD_PHONE,
	                               .call = { "01890a5d-ac96-774b-bcce-b302099a8001" } });
	hold((struct session_pending){ .is_line = true, .what = "work", .is_field = true,
	                               .field = FIELD_PHONE });
	assert_progress(STEP_CALL, PROGRESS_COMPLETE);
	hold((struct session_pending){ .is_field = true, .field = FIELD_PHONE });
	assert_progress(STEP_CALL, PROGRESS_BEGUN);
	session_pending_drop_place(session, &(struct session_pending){ .is_field = true,
	                                                               .field = FIELD_PHONE });
	assert_progress(STEP_CALL, PROGRESS_COMPLETE);
	/* A site's reading stands on the first sheet. */
	hold((struct session_pending){ .reading = READING_ALTITUDE });
	assert_progress(STEP_CALL, PROGRESS_BEGUN);
}
END_TEST

/* ---- The stage ---- */

START_TEST(what_was_read_last_is_spoken_of)
{
	ck_assert_int_eq(session_stage(session), STAGE_AS_FOUND);
	found(READING_SUCTION_PRESSURE, "118");
	ck_assert_int_eq(session_stage(session), STAGE_AS_FOUND);
	now += 60;
	left(READING_SUCTION_PRESSURE, "121");
	ck_assert_int_eq(session_stage(session), STAGE_AS_LEFT);
	now += 60;
	found(READING_LIQUID_PRESSURE, "300");
	ck_assert_int_eq(session_stage(session), STAGE_AS_FOUND);
	/* At the same minute what was left counts. */
	left(READING_LIQUID_PRESSURE, "300");
	ck_assert_int_eq(session_stage(session), STAGE_AS_LEFT);
	/* The unit, the site and the safety answers belong to neither. */
	now += 60;
	found(READING_ALTITUDE, "600");
	found(READING_LEFT_LOCKED, "yes");
	ck_assert_int_eq(session_stage(session), STAGE_AS_LEFT);
}
END_TEST

/* ---- Warnings ---- */

/* A breaker that tripped asks for a test to the shell before the compressor is started. */
START_TEST(a_start_without_a_test_to_the_shell_is_warned_of)
{
	ck_assert(!session_warns_untested(session, STAGE_AS_LEFT, READING_COMPRESSOR_STATE));
	found(READING_BREAKER_TRIPPED, "yes");
	ck_assert(session_warns_untested(session, STAGE_AS_LEFT, READING_COMPRESSOR_STATE));
	ck_assert(!session_warns_untested(session, STAGE_AS_FOUND, READING_COMPRESSOR_STATE));
	ck_assert(!session_warns_untested(session, STAGE_AS_LEFT, READING_SUCTION_PRESSURE));
	left(READING_COMPRESSOR_GROUND_RESISTANCE, "500");
	ck_assert(!session_warns_untested(session, STAGE_AS_LEFT, READING_COMPRESSOR_STATE));
	left(READING_COMPRESSOR_GROUND_RESISTANCE, "");
	ck_assert(session_warns_untested(session, STAGE_AS_LEFT, READING_COMPRESSOR_STATE));
	found(READING_COMPRESSOR_GROUND_RESISTANCE, "500");
	ck_assert(!session_warns_untested(session, STAGE_AS_LEFT, READING_COMPRESSOR_STATE));
	found(READING_COMPRESSOR_GROUND_RESISTANCE, "");
	left(READING_COMPRESSOR_STATE, "running");
	ck_assert(!session_warns_untested(session, STAGE_AS_LEFT, READING_COMPRESSOR_STATE));
}
END_TEST

/* ---- What needs no typing ---- */

static void log_entry(int minutes, double suction, double liquid)
{
	struct charge_entry entry = { .at = now + 60 * minutes };

	if (suction > 0)
		entry.values[CHARGE_SUCTION_PRESSURE] =
			(struct value){ .state = VALUE_TAKEN, .number = suction, .taken_at = entry.at };
	if (liquid > 0)
		entry.values[CHARGE_LIQUID_PRESSURE] =
			(struct value){ .state = VALUE_TAKEN, .number = liquid, .taken_at = entry.at };
	assert_ok(session_put_charge(session, &entry, &error));
}

static void assert_same(enum reading reading, enum same_source source, double number)
{
	const struct value *value;

	ck_assert_int_eq(session_same(session, reading, &value), source);
	if (source == SAME_NOTHING)
		ck_assert_ptr_null(value);
	else
		ck_assert_double_eq(value->number, number);
}

START_TEST(the_same_as_before_is_what_was_read_last)
{
	assert_same(READING_SUCTION_PRESSURE, SAME_NOTHING, 0);
	ck_assert_int_eq(session_take_same(session, READING_SUCTION_PRESSURE, &error), STATUS_MISSING);
	ck_assert_str_eq(error.text, "suction pressure was not read as found: there is nothing to take");
	found(READING_SUCTION_PRESSURE, "118");
	assert_same(READING_SUCTION_PRESSURE, SAME_AS_FOUND, 118);
	log_entry(-10, 100, 0);
	assert_same(READING_SUCTION_PRESSURE, SAME_AS_FOUND, 118);
	log_entry(0, 120, 0);
	assert_same(READING_SUCTION_PRESSURE, SAME_CHARGE_LOG, 120);
	log_entry(10, 125, 0);
	log_entry(20, 0, 310);
	assert_same(READING_SUCTION_PRESSURE, SAME_CHARGE_LOG, 125);
	assert_same(READING_LIQUID_PRESSURE, SAME_CHARGE_LOG, 310);
	assert_ok(session_take_same(session, READING_SUCTION_PRESSURE, &error));
	ck_assert_double_eq(visit_value(&session_call(session)->visit, STAGE_AS_LEFT,
	                                READING_SUCTION_PRESSURE)->number, 125);
}
END_TEST

/* Not a digit is lost, whatever the units are. */
START_TEST(what_is_taken_over_is_exact)
{
	static const struct {
		enum reading reading;
		const char *typed;
	} rows[] = {
		{ READING_SUCTION_LINE_TEMP, "52.123456" }, { READING_COMMON_RUN_RESISTANCE, "OL" },
		{ READING_COMPRESSOR_STATE, "running" }, { READING_SUPPLY_DB, "-4" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		session_set_units(session, UNITS_US);
		found(rows[i].reading, rows[i].typed);
		session_set_units(session, UNITS_SI);
		assert_ok(session_take_same(session, rows[i].reading, &error));
		const struct value *before = visit_value(&session_call(session)->visit, STAGE_AS_FOUND,
		                                         rows[i].reading);
		const struct value *after = visit_value(&session_call(session)->visit, STAGE_AS_LEFT,
		                                        rows[i].reading);
		ck_assert_int_eq(after->state, before->state);
		ck_assert_int_eq(after->choice, before->choice);
		ck_assert_double_eq(after->number, before->number);
	}
}
END_TEST

START_TEST(a_whole_sheet_is_taken_over_but_what_is_held)
{
	const struct session_pending held = { .stage = STAGE_AS_LEFT, .reading = READING_LIQUID_PRESSURE,
	                                      .text = "31O" };
	int count, kept_back;

	assert_ok(session_take_all_same(session, STEP_REFRIGERANT, &count, &kept_back, &error));
	ck_assert_int_eq(count, 0);
	ck_assert_int_eq(kept_back, 0);
	found(READING_SUCTION_PRESSURE, "118");
	found(READING_LIQUID_PRESSURE, "300");
	found(READING_SUCTION_LINE_TEMP, "52");
	found(READING_SUPPLY_DB, "58");
	left(READING_SUCTION_LINE_TEMP, "50");
	assert_ok(session_hold(session, &held, &error));
	log_entry(10, 125, 0);
	assert_ok(session_take_all_same(session, STEP_REFRIGERANT, &count, &kept_back, &error));
	ck_assert_int_eq(count, 1);
	ck_assert_int_eq(kept_back, 1);
	const struct visit *visit = &session_call(session)->visit;
	const struct value *suction = visit_value(visit, STAGE_AS_LEFT, READING_SUCTION_PRESSURE);
	ck_assert_double_eq(suction->number, 125);
	ck_assert_int_eq(suction->taken_at, now + 600);
	ck_assert(!visit_has(visit, STAGE_AS_LEFT, READING_LIQUID_PRESSURE));
	ck_assert(!visit_has(visit, STAGE_AS_LEFT, READING_SUPPLY_DB));
	ck_assert_double_eq(visit_value(visit, STAGE_AS_LEFT, READING_SUCTION_LINE_TEMP)->number, 50);
}
END_TEST

START_TEST(an_entry_of_the_charge_log_takes_what_was_read_last)
{
	struct charge_entry entry = { .at = now };

	ck_assert_int_eq(session_fill_charge(session, &entry), 0);
	found(READING_SUCTION_PRESSURE, "118");
	found(READING_LIQUID_PRESSURE, "300");
	left(READING_SUCTION_PRESSURE, "121");
	entry.values[CHARGE_LIQUID_PRESSURE] = (struct value){ .state = VALUE_TAKEN, .number = 290 };
	ck_assert_int_eq(session_fill_charge(session, &entry), 1);
	ck_assert_double_eq(entry.values[CHARGE_SUCTION_PRESSURE].number, 121);
	ck_assert_double_eq(entry.values[CHARGE_LIQUID_PRESSURE].number, 290);
	entry.values[CHARGE_LIQUID_PRESSURE].state = VALUE_NOT_TAKEN;
	ck_assert_int_eq(session_fill_charge(session, &entry), 1);
	ck_assert_double_eq(entry.values[CHARGE_LIQUID_PRESSURE].number, 300);
}
END_TEST

/* ---- The bill of the refrigerant ---- */

START_TEST(refrigerant_is_billed_by_the_price_list_and_once)
{
	struct price_item items[] = {
		{ .code = "P1", .description = "Filter for R-32", .kind = WORK_PART, .unit_price = 900 },
		{ .code = "R32", .description = "R-32 by the ounce", .kind = WORK_REFRIGERANT,
		  .unit_price = 250 },
	};
	struct charge_entry entry = { .at = now, .added_oz = 4.5 };
	struct work_line line;

	ck_assert_int_eq(session_bill_refrigerant(session, &line, &error), STATUS_MISSING);
	ck_assert_str_eq(error.text, "the charge log has no refrigerant added, and none is weighed in; "
	                 "write it there first");
	assert_ok(session_put_charge(session, &entry, &error));
	assert_ok(session_bill_refrigerant(session, &line, &error));
	ck_assert_str_eq(line.description, "Refrigerant, ounces");
	ck_assert_int_eq(line.quantity, 4500);
	ck_assert_int_eq(line.unit_price, 0);
	assert_ok(session_remove_work(session, 0, &error));
	found(READING_REFRIGERANT, "R-32");
	assert_ok(session_bill_refrigerant(session, &line, &error));
	ck_assert_str_eq(line.description, "Refrigerant R-32, ounces");
	assert_ok(session_remove_work(session, 0, &error));
	assert_ok(store_prices_replace(store, items, 2, &error));
	assert_ok(session_bill_refrigerant(session, &line, &error));
	ck_assert_str_eq(line.description, "R-32 by the ounce");
	ck_assert_int_eq(line.unit_price, 250);
	ck_assert_int_eq(line.kind, WORK_REFRIGERANT);
	/* More was added: the same line, with what somebody made of its price. */
	line = session_call(session)->work[0];
	line.unit_price = 300;
	assert_ok(session_put_work(session, &line, &error));
	entry.added_oz = 2;
	assert_ok(session_put_charge(session, &entry, &error));
	assert_ok(session_bill_refrigerant(session, &line, &error));
	ck_assert_uint_eq(session_call(session)->work_count, 1);
	ck_assert_int_eq(session_call(session)->work[0].quantity, 6500);
	ck_assert_int_eq(session_call(session)->work[0].unit_price, 300);
}
END_TEST

/* The amount was in ounces whatever the price was for: a price for a pound counted sixteen times. */
START_TEST(refrigerant_is_counted_in_the_unit_of_its_price)
{
	static const struct {
		const char *priced, *described;
		thousandths quantity; /* of 8 oz: half a pound, 226.8 g (NIST SP 811), as a scale shows them */
	} rows[] = {
		{ "Refrigerant R-32, ounces", "Refrigerant R-32, ounces", 8000 },
		{ "Refrigerant R-32, pound", "Refrigerant R-32, pound", 500 },
		{ "Refrigerant R-32, kg", "Refrigerant R-32, kg", 227 },
		{ "R-32 by the ounce", "R-32 by the ounce", 8000 },
		{ "", "Refrigerant R-32, grams", 227000 },
		{ "R-32", "R-32", 227000 },
	};
	struct charge_entry entry = { .at = now, .added_oz = 8 };
	struct price_item item = { .code = "R32", .kind = WORK_REFRIGERANT, .unit_price = 250 };
	struct work_line line;

	found(READING_REFRIGERANT, "R-32");
	assert_ok(session_put_charge(session, &entry, &error));
	session_set_units(session, UNITS_SI);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		snprintf(item.description, sizeof item.description, "%s", rows[i].priced);
		assert_ok(store_prices_replace(store, &item, *rows[i].priced ? 1 : 0, &error));
		assert_ok(session_bill_refrigerant(session, &line, &error));
		ck_assert_str_eq(line.description, rows[i].described);
		ck_assert_msg(line.quantity == rows[i].quantity, "%s: %ld", rows[i].priced,
		              (long)line.quantity);
		assert_ok(session_remove_work(session, 0, &error));
	}
	session_set_units(session, UNITS_US);
}
END_TEST

/* Ounces first and grams then were two lines of one refrigerant. */
START_TEST(refrigerant_is_billed_once_in_either_unit)
{
	struct charge_entry entry = { .at = now, .added_oz = 8 };
	struct work_line line;

	assert_ok(session_put_charge(session, &entry, &error));
	assert_ok(session_bill_refrigerant(session, &line, &error));
	session_set_units(session, UNITS_SI);
	assert_ok(session_bill_refrigerant(session, &line, &error));
	session_set_units(session, UNITS_US);
	ck_assert_uint_eq(session_call(session)->work_count, 1);
	ck_assert_str_eq(session_call(session)->work[0].description, "Refrigerant, ounces");
	ck_assert_int_eq(session_call(session)->work[0].quantity, 8000);
}
END_TEST

/* ---- Moving a value ---- */

START_TEST(a_value_that_cannot_move_stays)
{
	found(READING_SUCTION_PRESSURE, "118");
	found(READING_LIQUID_PRESSURE, "300");
	ck_assert_int_eq(session_move_value(session, STAGE_AS_LEFT, READING_SUCTION_PRESSURE,
	                                    STAGE_AS_LEFT, READING_LIQUID_PRESSURE, &error),
	                 STATUS_NOT_FOUND);
	ck_assert_str_eq(error.text, "suction pressure has no value here; nothing was moved");
	ck_assert_int_eq(session_move_value(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE,
	                                    STAGE_AS_FOUND, READING_LIQUID_PRESSURE, &error),
	                 STATUS_EXISTS);
	ck_assert_str_eq(error.text, "liquid pressure has a value there already; nothing was moved; take "
	                 "that out first");
	ck_assert_int_eq(session_move_value(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE,
	                                    STAGE_AS_FOUND, READING_SUPPLY_DB, &error), STATUS_REFUSED);
	ck_assert_str_eq(error.text, "supply dry bulb does not take a value of suction pressure; nothing "
	                 "was moved");
	wall_time taken_at = now;
	now += 600;
	assert_ok(session_move_value(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, STAGE_AS_LEFT,
	                             READING_LIQUID_PRESSURE, &error));
	const struct value *value = visit_value(&session_call(session)->visit, STAGE_AS_LEFT,
	                                        READING_LIQUID_PRESSURE);
	ck_assert_double_eq(value->number, 118);
	ck_assert_int_eq(value->taken_at, taken_at);
}
END_TEST

Suite *progress_suite(void)
{
	Suite *suite = suite_create("progress");
	TCase *tests = tcase_create("progress");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_new_call_is_untouched);
	tcase_add_test(tests, the_first_sheet_is_done_with_who_where_and_what);
	tcase_add_test(tests, options_are_done_when_one_is_decided);
	tcase_add_test(tests, work_begins_with_a_line_or_an_entry_of_the_charge_log);
	tcase_add_test(tests, the_report_begins_with_its_words_and_is_done_when_closed);
	tcase_add_test(tests, a_sheet_with_a_text_that_is_not_kept_is_not_done);
	tcase_add_test(tests, what_was_read_last_is_spoken_of);
	tcase_add_test(tests, a_start_without_a_test_to_the_shell_is_warned_of);
	tcase_add_test(tests, the_same_as_before_is_what_was_read_last);
	tcase_add_test(tests, what_is_taken_over_is_exact);
	tcase_add_test(tests, a_whole_sheet_is_taken_over_but_what_is_held);
	tcase_add_test(tests, an_entry_of_the_charge_log_takes_what_was_read_last);
	tcase_add_test(tests, refrigerant_is_billed_by_the_price_list_and_once);
	tcase_add_test(tests, refrigerant_is_counted_in_the_unit_of_its_price);
	tcase_add_test(tests, refrigerant_is_billed_once_in_either_unit);
	tcase_add_test(tests, a_value_that_cannot_move_stays);
	suite_add_tcase(suite, tests);
	return suite;
}
