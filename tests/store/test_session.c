/* The work on a call without a screen: kept at once, judged at once, taken back. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/session.h>
#include <padside/app/settings.h>

#include "app/past_visits.h"

Suite *session_suite(void);

static struct store *store;
static struct session *session;
static struct error error;
static wall_time now;

static wall_time tell_time(void *context)
{
	(void)context;
	return now;
}

static void setup(void)
{
	struct clock clock = { .now = tell_time };

	ck_assert(clock_parse("2026-07-14T08:05", &now));
	ck_assert_msg(store_open("", STORE_MEMORY, &clock, &store, &error) == STATUS_OK, "%s", error.text);
	ck_assert(session_new(store, &clock, UNITS_US, &session, &error) == STATUS_OK);
	ck_assert_msg(session_start(session, NULL, NULL, NULL, &error) == STATUS_OK, "%s", error.text);
}

static void teardown(void)
{
	session_free(session);
	store_close(store);
}

static void type(enum stage stage, enum reading reading, const char *typed)
{
	ck_assert_msg(session_type(session, stage, reading, typed, &error) == STATUS_OK, "%s", error.text);
}

static bool finds(enum stage stage, enum fault fault, double least)
{
	const struct diagnosis *diagnosis = session_diagnosis(session, stage);

	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			return diagnosis->findings[i].probability >= least;
	return false;
}

START_TEST(what_is_typed_is_in_the_book)
{
	struct uid uid = session_call(session)->uid;

	type(STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	ck_assert(session_type_field(session, FIELD_CUSTOMER_NAME, "Mara Quill", &error) == STATUS_OK);
	session_leave(session);
	ck_assert_ptr_null(session_call(session));
	ck_assert(session_open(session, uid.text, &error) == STATUS_OK);
	const struct value *value = visit_value(&session_call(session)->visit, STAGE_AS_FOUND,
	                                        READING_SUCTION_PRESSURE);
	ck_assert_double_eq(value->number, 118);
	ck_assert_int_eq(value->taken_at, now);
	ck_assert_str_eq(session_field(session, FIELD_CUSTOMER_NAME), "Mara Quill");
}
END_TEST

START_TEST(what_is_refused_changes_nothing)
{
	type(STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	ck_assert(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "9999", &error) !=
	          STATUS_OK);
	ck_assert_ptr_nonnull(strstr(error.text, "-14.6 to 600 psig"));
	ck_assert_double_eq(visit_value(&session_call(session)->visit, STAGE_AS_FOUND,
	                                READING_SUCTION_PRESSURE)->number, 118);
}
END_TEST

START_TEST(changes_are_taken_back_one_by_one)
{
	char what[64];

	type(STAGE_AS_FOUND, READING_LINE_VOLTAGE, "230");
	type(STAGE_AS_FOUND, READING_LINE_VOLTAGE, "203");
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_OK);
	ck_assert_str_eq(what, "line voltage as found (supply): now 230.0 V, was 203.0 V");
	ck_assert_double_eq(visit_value(&session_call(session)->visit, STAGE_AS_FOUND,
	                                READING_LINE_VOLTAGE)->number, 230);
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_OK);
	ck_assert(!visit_has(&session_call(session)->visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE));
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_NOT_FOUND);
}
END_TEST

START_TEST(unsafe_readings_warn_once_and_are_recorded)
{
	ck_assert(!session_warns_unsafe(session, READING_LINE_VOLTAGE));
	ck_assert(session_warns_unsafe(session, READING_COMMON_RUN_RESISTANCE));
	type(STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "0.8");
	ck_assert(!session_warns_unsafe(session, READING_COMMON_START_RESISTANCE));
	ck_assert_int_eq(session_call(session)->unsafe_at, now);
}
END_TEST

/* Typed again to correct it, nothing was measured: common practice. */
START_TEST(a_corrected_resistance_is_no_unsafe_one)
{
	for (int i = READING_DISCONNECT_LOCKED; i <= READING_PROTECTIVE_EQUIPMENT_ON; i++)
		type(STAGE_AS_FOUND, (enum reading)i, "y");
	now += 60;
	type(STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE, "72");
	now += 60;
	type(STAGE_AS_FOUND, READING_LINE_VOLTAGE, "238");
	now += 60;
	type(STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE, "27");
	ck_assert_int_eq(session_call(session)->unsafe_at, WALL_TIME_NONE);
	type(STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "0.8");
	ck_assert_int_eq(session_call(session)->unsafe_at, now);
}
END_TEST

START_TEST(a_safe_machine_does_not_warn)
{
	for (int i = READING_DISCONNECT_LOCKED; i <= READING_PROTECTIVE_EQUIPMENT_ON; i++)
		type(STAGE_AS_FOUND, (enum reading)i, "y");
	ck_assert(!session_warns_unsafe(session, READING_COMMON_RUN_RESISTANCE));
	ck_assert_int_eq(session_progress(session, STEP_SAFETY), PROGRESS_COMPLETE);
}
END_TEST

/* A call that came without times stood as found although it was left. */
START_TEST(without_times_what_was_left_came_later)
{
	struct value volts = { .state = VALUE_TAKEN, .number = 238, .taken_at = WALL_TIME_NONE };
	struct call call;

	call_init(&call);
	text_copy(call.customer.name, sizeof call.customer.name, "Ada Lind");
	call.opened_at = now;
	visit_set(&call.visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE, &volts);
	visit_set(&call.visit, STAGE_AS_LEFT, READING_LINE_VOLTAGE, &volts);
	ck_assert(store_call_record(store, &call, &error) == STATUS_OK);
	ck_assert(session_open(session, call.uid.text, &error) == STATUS_OK);
	ck_assert_int_eq(session_stage(session), STAGE_AS_LEFT);
	call_done(&call);
}
END_TEST

/* A line without words or a price was ticked as done. */
START_TEST(work_is_complete_when_every_line_has_words_and_a_price)
{
	struct work_line line = { .kind = WORK_PART, .quantity = 1000 };

	ck_assert_int_eq(session_progress(session, STEP_WORK), PROGRESS_UNTOUCHED);
	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	ck_assert_int_eq(session_progress(session, STEP_WORK), PROGRESS_BEGUN);
	line = session_call(session)->work[0];
	text_copy(line.description, sizeof line.description, "Run capacitor 45/5");
	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	ck_assert_int_eq(session_progress(session, STEP_WORK), PROGRESS_BEGUN);
	line.unit_price = 8500;
	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	ck_assert_int_eq(session_progress(session, STEP_WORK), PROGRESS_COMPLETE);
	line.unit_price = 0;
	line.no_charge = true;
	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	ck_assert_int_eq(session_progress(session, STEP_WORK), PROGRESS_COMPLETE);
}
END_TEST

START_TEST(a_failed_capacitor_is_found_as_it_is_typed)
{
	type(STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITOR_RATED, "45");
	type(STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE, "27");
	ck_assert(finds(STAGE_AS_FOUND, FAULT_COMPRESSOR_CAPACITOR_FAILED, 0.5));
	type(STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE, "45.2");
	ck_assert(!finds(STAGE_AS_FOUND, FAULT_COMPRESSOR_CAPACITOR_FAILED, 0.2));
}
END_TEST

START_TEST(the_next_call_on_a_system_knows_the_machine)
{
	struct uid system;
	struct watch_item item = { .noted_at = now, .closed_at = WALL_TIME_NONE, .text = "fan amps" };

	type(STAGE_AS_FOUND, READING_REFRIGERANT, "410a");
	type(STAGE_AS_FOUND, READING_COMPRESSOR_RLA, "14.1");
	ck_assert(session_type_field(session, FIELD_CUSTOMER_NAME, "Mara Quill", &error) == STATUS_OK);
	ck_assert(session_put_watch(session, &item, &error) == STATUS_OK);
	system = session_call(session)->system.uid;
	now += 86400;
	ck_assert_msg(session_start(session, NULL, NULL, &system, &error) == STATUS_OK, "%s", error.text);
	ck_assert_int_eq(visit_choice(&session_call(session)->visit, STAGE_AS_FOUND, READING_REFRIGERANT),
	                 CHOICE_REFRIGERANT_R410A);
	ck_assert_str_eq(session_field(session, FIELD_CUSTOMER_NAME), "Mara Quill");
	ck_assert_uint_eq(session_open_items(session), 1);
	ck_assert(session_close_item(session, 0, &error) == STATUS_OK);
	ck_assert_uint_eq(session_open_items(session), 0);
}
END_TEST

/* Words typed for a customer who has other calls are that customer's, and go nowhere else. */
START_TEST(a_call_that_moves_takes_no_words_of_another_customer_with_it)
{
	ck_assert(session_type_field(session, FIELD_CUSTOMER_NAME, "Grace", &error) == STATUS_OK);
	struct uid grace = session_call(session)->customer.uid;
	struct uid unit_of_grace = session_call(session)->system.uid;
	ck_assert(session_start(session, NULL, NULL, NULL, &error) == STATUS_OK);
	ck_assert(session_type_field(session, FIELD_CUSTOMER_NAME, "Ada", &error) == STATUS_OK);
	ck_assert(session_type_field(session, FIELD_PHONE, "555-0199", &error) == STATUS_OK);
	struct uid unit_of_ada = session_call(session)->system.uid;
	ck_assert(session_start(session, NULL, NULL, &unit_of_ada, &error) == STATUS_OK);
	struct uid second = session_call(session)->uid;
	ck_assert_str_eq(session_field(session, FIELD_CUSTOMER_NAME), "Ada");
	ck_assert_msg(session_move_visit(session, &second, &grace, &unit_of_grace, &error) == STATUS_OK,
	              "%s", error.text);
	ck_assert_str_eq(session_field(session, FIELD_CUSTOMER_NAME), "Grace");
	ck_assert_str_eq(session_field(session, FIELD_PHONE), "");
	ck_assert_str_eq(session_field(session, FIELD_OFFICE_NOTE), "");
}
END_TEST

START_TEST(a_new_call_starts_with_the_settings)
{
	ck_assert(setting_put(store, SETTING_TAX_PART, "8.875 %", &error) == STATUS_OK);
	ck_assert(setting_put(store, SETTING_ENERGY_RATE, "14.5", &error) == STATUS_OK);
	ck_assert(setting_put(store, SETTING_TECHNICIAN, "Robin Vale", &error) == STATUS_OK);
	ck_assert(setting_put(store, SETTING_TAX_FEE, "lots", &error) != STATUS_OK);
	ck_assert_ptr_nonnull(strstr(error.text, "tax_fee takes a percentage"));
	ck_assert(session_start(session, NULL, NULL, NULL, &error) == STATUS_OK);
	ck_assert_int_eq(session_call(session)->billing.tax[WORK_PART], 8875);
	ck_assert_int_eq(session_call(session)->billing.tax[WORK_FEE], 0);
	ck_assert_double_eq(session_call(session)->billing.energy_rate, 14.5);
	ck_assert_str_eq(session_call(session)->technician, "Robin Vale");
}
END_TEST

START_TEST(lists_are_kept_and_changed_by_their_id)
{
	struct work_line line = { .kind = WORK_PART, .quantity = 1000, .unit_price = 18500,
	                          .description = "run capacitor 45 µF" };

	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	line = session_call(session)->work[0];
	line.unit_price = 17500;
	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	ck_assert_uint_eq(session_call(session)->work_count, 1);
	ck_assert_int_eq(session_call(session)->work[0].unit_price, 17500);
	ck_assert(session_remove_work(session, 0, &error) == STATUS_OK);
	ck_assert_uint_eq(session_call(session)->work_count, 0);
}
END_TEST

/* Offers, work lines and entries come back like readings do, also those taken out. */
START_TEST(changes_of_lists_are_taken_back)
{
	struct offer offer = { .title = "new fan motor", .price_low = 38500, .decided_at = WALL_TIME_NONE };
	const struct call *call = session_call(session);
	char what[64];

	ck_assert(session_put_offer(session, &offer, &error) == STATUS_OK);
	offer = call->offers[0];
	offer.price_low = 42000;
	ck_assert(session_put_offer(session, &offer, &error) == STATUS_OK);
	ck_assert(session_remove_offer(session, 0, &error) == STATUS_OK);
	ck_assert_uint_eq(call->offer_count, 0);
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_OK);
	ck_assert_str_eq(what, "an option, new fan motor (options): there again");
	ck_assert_uint_eq(call->offer_count, 1);
	ck_assert_int_eq(call->offers[0].price_low, 42000);
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_OK);
	ck_assert_int_eq(call->offers[0].price_low, 38500);
	struct uid uid = call->uid;
	session_leave(session);
	ck_assert(session_open(session, uid.text, &error) == STATUS_OK);
	ck_assert_int_eq(session_call(session)->offers[0].price_low, 38500);
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_NOT_FOUND);
}
END_TEST

START_TEST(an_addition_and_the_billing_are_taken_back)
{
	struct work_line line = { .description = "capacitor", .quantity = 1000, .unit_price = 3450 };
	struct billing billing = session_call(session)->billing;
	char what[64];

	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	billing.deposit = 5000;
	ck_assert(session_put_billing(session, &billing, &error) == STATUS_OK);
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_OK);
	ck_assert_int_eq(session_call(session)->billing.deposit, 0);
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_OK);
	ck_assert_uint_eq(session_call(session)->work_count, 0);
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_NOT_FOUND);
}
END_TEST

/* The charge log is read in time order, in memory as after loading. */
START_TEST(the_charge_log_stays_in_time_order)
{
	struct charge_entry entry = { .at = now, .added_oz = 1 };
	static const int minutes[] = { 30, 10, 20 };

	for (size_t i = 0; i < 3; i++) {
		entry.uid = (struct uid){ .text = "" };
		entry.at = now + 60 * minutes[i];
		entry.added_oz = minutes[i];
		ck_assert(session_put_charge(session, &entry, &error) == STATUS_OK);
	}
	for (size_t i = 0; i < 3; i++)
		ck_assert_double_eq(session_call(session)->charge[i].added_oz, 10.0 * (double)(i + 1));
}
END_TEST

/* Types a sound unit's readings. */
static void read_unit(void)
{
	type(STAGE_AS_FOUND, READING_OUTDOOR_DB, "95");
	type(STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "130");
	type(STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "390");
	type(STAGE_AS_FOUND, READING_COMPRESSOR_STATE, "runs");
}

/* The next day on the same unit. */
static int next_visit(void)
{
	struct uid system = session_call(session)->system.uid;
	struct past past;

	session_leave(session);
	now += 24 * 60 * 60;
	ck_assert_msg(session_start(session, NULL, NULL, &system, &error) == STATUS_OK, "%s", error.text);
	ck_assert(past_visits_load(store, session_call(session), &past, &error) == STATUS_OK);
	return past.count;
}

START_TEST(the_past_of_a_unit_ends_with_another_metering_device_or_compressor)
{
	struct work_line line = { .kind = WORK_PART, .quantity = 1000, .unit_price = 90000,
	                          .description = "Compressor, scroll, 3 ton" };
	struct past past;

	type(STAGE_AS_FOUND, READING_REFRIGERANT, "R-410A");
	type(STAGE_AS_FOUND, READING_METERING, "fixed_orifice");
	read_unit();
	ck_assert_int_eq(next_visit(), 1);
	read_unit();
	ck_assert_int_eq(next_visit(), 2);
	/* The nameplate of today says that it is another machine inside. */
	type(STAGE_AS_FOUND, READING_METERING, "txv");
	ck_assert(past_visits_load(store, session_call(session), &past, &error) == STATUS_OK);
	ck_assert_int_eq(past.count, 0);
	read_unit();
	ck_assert_int_eq(next_visit(), 1);
	/* A compressor billed: what was found is of the old one, what was left of the new. */
	read_unit();
	ck_assert(session_put_work(session, &line, &error) == STATUS_OK);
	ck_assert_int_eq(next_visit(), 0);
	read_unit();
	ck_assert_int_eq(next_visit(), 1);
}
END_TEST

Suite *session_suite(void)
{
	Suite *suite = suite_create("session");
	TCase *tests = tcase_create("session");

	tcase_add_checked_fixture(tests, setup, teardown);
	tcase_add_test(tests, what_is_typed_is_in_the_book);
	tcase_add_test(tests, what_is_refused_changes_nothing);
	tcase_add_test(tests, changes_are_taken_back_one_by_one);
	tcase_add_test(tests, unsafe_readings_warn_once_and_are_recorded);
	tcase_add_test(tests, a_corrected_resistance_is_no_unsafe_one);
	tcase_add_test(tests, a_safe_machine_does_not_warn);
	tcase_add_test(tests, without_times_what_was_left_came_later);
	tcase_add_test(tests, work_is_complete_when_every_line_has_words_and_a_price);
	tcase_add_test(tests, a_failed_capacitor_is_found_as_it_is_typed);
	tcase_add_test(tests, the_next_call_on_a_system_knows_the_machine);
	tcase_add_test(tests, a_call_that_moves_takes_no_words_of_another_customer_with_it);
	tcase_add_test(tests, a_new_call_starts_with_the_settings);
	tcase_add_test(tests, lists_are_kept_and_changed_by_their_id);
	tcase_add_test(tests, changes_of_lists_are_taken_back);
	tcase_add_test(tests, an_addition_and_the_billing_are_taken_back);
	tcase_add_test(tests, the_charge_log_stays_in_time_order);
	tcase_add_test(tests, the_past_of_a_unit_ends_with_another_metering_device_or_compressor);
	suite_add_tcase(suite, tests);
	return suite;
}
