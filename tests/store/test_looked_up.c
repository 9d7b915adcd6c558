/* What a front end looks up: calls, customers, prices, who is known already, the last visit. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/session.h>
#include <padside/app/session_find.h>
#include <padside/app/settings.h>
#include <padside/base/text.h>

#include "app/session_parts.h"

Suite *looked_up_suite(void);

enum { PEOPLE = 3 };

static const char *const names[PEOPLE] = { "Mara Quill", "Ada Berg", "Mara Lind" };
static const char *const phones[PEOPLE] = { "(555) 010-4711", "555-0199", "555 010 0815" };

static struct store *store;
static struct session *session;
static struct error error;
static wall_time now;
static struct uid calls[PEOPLE];

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

static void type_field(enum field field, const char *typed)
{
	assert_ok(session_type_field(session, field, typed, &error));
}

static void set_up(void)
{
	ck_assert(clock_parse("2026-07-14T08:05", &now));
	assert_ok(store_open("", STORE_MEMORY, &test_clock, &store, &error));
	assert_ok(session_new(store, &test_clock, UNITS_US, &session, &error));
	for (int i = 0; i < PEOPLE; i++) {
		assert_ok(session_start(session, NULL, NULL, NULL, &error));
		type_field(FIELD_CUSTOMER_NAME, names[i]);
		type_field(FIELD_PHONE, phones[i]);
		calls[i] = session_call(session)->uid;
		now += 3600;
	}
}

static void tear_down(void)
{
	session_free(session);
	store_close(store);
}

START_TEST(as_many_calls_and_customers_are_found_as_have_room)
{
	struct call_line found[PEOPLE + 1];
	struct customer_line people[PEOPLE + 1];
	int count;

	for (int most = 1; most <= PEOPLE + 1; most++) {
		int wanted = most < PEOPLE ? most : PEOPLE;
		assert_ok(session_find_calls(session, "", found, most, &count, &error));
		ck_assert_int_eq(count, wanted);
		assert_ok(session_find_customers(session, "", people, most, &count, &error));
		ck_assert_int_eq(count, wanted);
	}
	assert_ok(session_find_calls(session, "mara", found, PEOPLE, &count, &error));
	ck_assert_int_eq(count, 2);
	assert_ok(session_find_customers(session, "mara quill", people, PEOPLE, &count, &error));
	ck_assert_int_eq(count, 1);
	ck_assert_str_eq(people[0].customer.name, "Mara Quill");
	assert_ok(session_find_customers(session, "nobody", people, PEOPLE, &count, &error));
	ck_assert_int_eq(count, 0);
}
END_TEST

START_TEST(as_many_prices_are_found_as_have_room)
{
	struct price_item items[] = {
		{ .code = "A1", .description = "Refrigerant R-32", .kind = WORK_REFRIGERANT, .unit_price = 250 },
		{ .code = "A2", .description = "Run capacitor", .kind = WORK_PART, .unit_price = 3850 },
		{ .code = "A3", .description = "Start capacitor", .kind = WORK_PART, .unit_price = 4100 },
	};
	struct price_item found[3];
	int count;

	assert_ok(session_find_prices(session, "", found, 3, &count, &error));
	ck_assert_int_eq(count, 0);
	assert_ok(store_prices_replace(store, items, 3, &error));
	for (int most = 1; most <= 3; most++) {
		assert_ok(session_find_prices(session, "a", found, most, &count, &error));
		ck_assert_int_eq(count, most);
		ck_assert_str_eq(found[most - 1].code, items[most - 1].code);
		ck_assert_int_eq(found[most - 1].unit_price, items[most - 1].unit_price);
	}
	assert_ok(session_find_prices(session, "capacitor", found, 3, &count, &error));
	ck_assert_int_eq(count, 2);
}
END_TEST

/* A number has seven digits at least; how it is written does not count. */
START_TEST(two_numbers_are_one_by_their_digits)
{
	static const struct {
		const char *a, *b;
		bool same;
	} rows[] = {
		{ "555-0199", "555 01 99", true }, { "(555) 010-4711", "5550104711", true },
		{ "5550199", "5550198", false }, { "5550199", "55501990", false },
		{ "555019", "555019", false }, { "", "", false }, { "5550199", "", false },
		{ "", "5550199", false }, { "ext. 5550199", "5550199", true },
		{ "0000000", "000-0000", true }, { "9999999", "999 9999", true },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		ck_assert_msg(session_is_same_number(rows[i].a, rows[i].b) == rows[i].same, "%s, %s", rows[i].a,
		              rows[i].b);
}
END_TEST

static void assert_known(const char *name)
{
	struct customer_line known;
	bool is_known = session_find_known(session, &known);

	ck_assert_int_eq(is_known, name != NULL);
	if (name)
		ck_assert_str_eq(known.customer.name, name);
}

START_TEST(another_customer_of_that_name_or_number_is_known)
{
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
	assert_known(NULL);
	type_field(FIELD_PHONE, "ask the son, 4711");
	assert_known(NULL);
	type_field(FIELD_PHONE, "5550104711");
	assert_known("Mara Quill");
	type_field(FIELD_PHONE, "555 010 4712");
	assert_known(NULL);
	type_field(FIELD_CUSTOMER_NAME, "Mara");
	assert_known(NULL);
	type_field(FIELD_CUSTOMER_NAME, "ada berg");
	assert_known("Ada Berg");
	/* The number says more than the name. */
	type_field(FIELD_PHONE, "5550100815");
	assert_known("Mara Lind");
	/* Nobody is another one to themselves. */
	assert_ok(session_open(session, calls[0].text, &error));
	assert_known(NULL);
}
END_TEST

START_TEST(the_last_visit_of_the_unit_is_the_one_before_this)
{
	struct uid unit, customer, site;
	struct visit visit;
	wall_time at = 0;

	assert_ok(session_open(session, calls[0].text, &error));
	ck_assert(session_last_visit(session, &visit, &at, &error) == STATUS_NOT_FOUND);
	ck_assert_str_eq(error.text, "this unit was not visited before");
	customer = session_call(session)->customer.uid;
	site = session_call(session)->site.uid;
	unit = session_call(session)->system.uid;
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118", &error));
	wall_time first = session_call(session)->opened_at;
	assert_ok(session_start(session, &customer, &site, &unit, &error));
	assert_ok(session_last_visit(session, &visit, &at, &error));
	ck_assert_int_eq(at, first);
	ck_assert_double_eq(visit_value(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE)->number, 118);
	wall_time second = session_call(session)->opened_at;
	now += 3600;
	assert_ok(session_start(session, &customer, &site, &unit, &error));
	assert_ok(session_last_visit(session, &visit, &at, &error));
	ck_assert_int_eq(at, second);
	ck_assert(!visit_has(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
}
END_TEST

START_TEST(what_was_declined_on_earlier_calls_is_found)
{
	struct offer offer = { .title = "New coil", .decision = DECISION_DECLINED, .decided_at = now };
	struct past_offer found[2];
	int count;

	assert_ok(session_open(session, calls[0].text, &error));
	assert_ok(session_put_offer(session, &offer, &error));
	/* On the call itself they stand in its own list. */
	assert_ok(session_find_offered(session, found, 2, &count, &error));
	ck_assert_int_eq(count, 0);
	const struct uid customer = session_call(session)->customer.uid;
	const struct uid unit = session_call(session)->system.uid;
	now += 86400;
	assert_ok(session_start(session, &customer, NULL, &unit, &error));
	text_copy(offer.title, sizeof offer.title, "New unit");
	offer.decided_at = now;
	assert_ok(session_put_offer(session, &offer, &error));
	now += 86400;
	assert_ok(session_start(session, &customer, NULL, &unit, &error));
	assert_ok(session_find_offered(session, found, 2, &count, &error));
	ck_assert_int_eq(count, 2);
	ck_assert_str_eq(found[1].offer.title, "New coil");
	ck_assert_str_eq(found[0].offer.title, "New unit");
	assert_ok(session_find_offered(session, found, 1, &count, &error));
	ck_assert_int_eq(count, 1);
	ck_assert_str_eq(found[0].offer.title, "New unit");
}
END_TEST

START_TEST(settings_and_what_was_taken_out_are_asked_through_the_session)
{
	struct store_removed *removed;
	char value[SETTING_SIZE];
	size_t count;

	assert_ok(session_currency(session, value, sizeof value, &error));
	ck_assert_str_eq(value, "$");
	assert_ok(setting_put(store, SETTING_CURRENCY, "EUR", &error));
	assert_ok(session_currency(session, value, sizeof value, &error));
	ck_assert_str_eq(value, "EUR");
	assert_ok(setting_put(store, SETTING_CHECKLISTS, "Autumn: outdoor_db", &error));
	assert_ok(session_own_checklists(session, value, sizeof value, &error));
	ck_assert_str_eq(value, "Autumn: outdoor_db");
	assert_ok(session_removed(session, STORE_CALL, &removed, &count, &error));
	ck_assert_uint_eq(count, 0);
	free(removed);
	session_leave(session);
	assert_ok(session_take_out(session, &calls[1], &error));
	assert_ok(session_removed(session, STORE_CALL, &removed, &count, &error));
	ck_assert_uint_eq(count, 1);
	ck_assert_str_eq(removed[0].uid.text, calls[1].text);
	free(removed);
	assert_ok(session_bring_back(session, &calls[1], &error));
	assert_ok(session_open(session, calls[1].text, &error));
}
END_TEST

static void assert_whose(int call, const char *customer, const char *system, bool is_closed)
{
	struct session_whose whose;

	assert_ok(session_find_whose(session, &calls[call], &whose, &error));
	ck_assert_str_eq(whose.call.text, calls[call].text);
	ck_assert_str_eq(whose.customer.text, customer);
	ck_assert_str_eq(whose.system.text, system);
	ck_assert_int_eq(whose.is_closed, is_closed);
}

START_TEST(a_call_that_is_not_open_moves_and_goes_back)
{
	struct session_whose before;
	struct uid customer, unit;

	assert_ok(session_find_whose(session, &calls[1], &before, &error));
	assert_ok(session_open(session, calls[0].text, &error));
	customer = session_call(session)->customer.uid;
	unit = session_call(session)->system.uid;
	assert_ok(session_close_call(session, true, &error));
	ck_assert_int_eq(session_call(session)->closed_at, now);
	assert_whose(0, customer.text, unit.text, true);
	assert_ok(session_close_call(session, false, &error));
	assert_whose(0, customer.text, unit.text, false);
	assert_ok(session_move_visit(session, &calls[1], NULL, &unit, &error));
	assert_whose(1, customer.text, unit.text, false);
	assert_ok(session_move_back(session, &before, &error));
	assert_whose(1, before.customer.text, before.system.text, false);
	const struct uid nobody = { .text = "01890a5d-ac96-774b-bcce-b302099a8057" };
	ck_assert_int_ne(session_find_whose(session, &nobody, &before, &error), STATUS_OK);
	ck_assert_int_ne(session_move_visit(session, &nobody, NULL, &unit, &error), STATUS_OK);
}
END_TEST

/* What was typed for a customer whom the book knew: what is new is kept, what differs is noted. */
START_TEST(what_was_typed_before_a_call_moved_is_kept)
{
	struct uid customer, unit;

	assert_ok(session_open(session, calls[1].text, &error));
	customer = session_call(session)->customer.uid;
	unit = session_call(session)->system.uid;
	type_field(FIELD_ADDRESS, "9 Elm Row");
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
	struct uid fresh = session_call(session)->uid;
	type_field(FIELD_CUSTOMER_NAME, "ADA BERG");
	type_field(FIELD_PHONE, "555 01 99");
	type_field(FIELD_EMAIL, "ada@example.com");
	type_field(FIELD_ADDRESS, "12 Oak Street");
	type_field(FIELD_SYSTEM_NAME, "upstairs");
	type_field(FIELD_OFFICE_NOTE, "Key at the shop.");
	assert_ok(session_move_visit(session, &fresh, &customer, &unit, &error));
	ck_assert_str_eq(session_field(session, FIELD_CUSTOMER_NAME), "Ada Berg");
	ck_assert_str_eq(session_field(session, FIELD_PHONE), "555-0199");
	ck_assert_str_eq(session_field(session, FIELD_EMAIL), "ada@example.com");
	ck_assert_str_eq(session_field(session, FIELD_ADDRESS), "9 Elm Row");
	ck_assert_str_eq(session_field(session, FIELD_SYSTEM_NAME), "upstairs");
	ck_assert_str_eq(session_field(session, FIELD_OFFICE_NOTE),
	                 "Key at the shop. Typed on this call: address 12 Oak Street.");
}
END_TEST

/* How many changes the office lacks; where none is named, nothing is said to wait. */
START_TEST(an_office_is_named_by_the_settings)
{
	struct session_office office = { .is_named = true, .waiting = 7, .met_at = now };

	assert_ok(session_office(session, &office, &error));
	ck_assert(!office.is_named);
	ck_assert_int_eq(office.waiting, 0);
	ck_assert_int_eq(office.met_at, WALL_TIME_NONE);
	assert_ok(setting_put(store, SETTING_SYNC, "postgresql://truck@office/firm", &error));
	assert_ok(session_office(session, &office, &error));
	ck_assert_int_eq(office.is_named, office.is_built);
	ck_assert_int_eq(office.met_at, WALL_TIME_NONE);
	int64_t waiting = office.waiting;
	ck_assert_int_eq(waiting > 0, office.is_built);
	type_field(FIELD_COMPLAINT, "no cooling");
	assert_ok(session_office(session, &office, &error));
	ck_assert_int_eq(office.waiting > waiting, office.is_built);
}
END_TEST

Suite *looked_up_suite(void)
{
	Suite *suite = suite_create("looked_up");
	TCase *tests = tcase_create("looked_up");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, as_many_calls_and_customers_are_found_as_have_room);
	tcase_add_test(tests, as_many_prices_are_found_as_have_room);
	tcase_add_test(tests, two_numbers_are_one_by_their_digits);
	tcase_add_test(tests, another_customer_of_that_name_or_number_is_known);
	tcase_add_test(tests, the_last_visit_of_the_unit_is_the_one_before_this);
	tcase_add_test(tests, what_was_declined_on_earlier_calls_is_found);
	tcase_add_test(tests, settings_and_what_was_taken_out_are_asked_through_the_session);
	tcase_add_test(tests, a_call_that_is_not_open_moves_and_goes_back);
	tcase_add_test(tests, what_was_typed_before_a_call_moved_is_kept);
	tcase_add_test(tests, an_office_is_named_by_the_settings);
	suite_add_tcase(suite, tests);
	return suite;
}
