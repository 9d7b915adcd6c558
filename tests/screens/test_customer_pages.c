/* The customer's page and the history of a machine, on the demo book. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/plot.h>

#include "app/past_visits.h"
#include "support/desk.h"
#include "support/golden.h"

Suite *customer_pages_suite(void);

static struct desk desk;

static void set_up(void)
{
	desk_open_demo(&desk);
}

static void tear_down(void)
{
	desk_close(&desk);
}

static void open_customer(const char *text)
{
	char script[64];

	snprintf(script, sizeof script, "Tab '%s' Enter", text);
	desk_keys(&desk, script);
}

static void check_shows(const char *words)
{
	ck_assert_msg(desk_shows(&desk, words), "\"%s\" is not on the page", words);
}

static void check_hides(const char *words)
{
	ck_assert_msg(!desk_shows(&desk, words), "\"%s\" is on the page", words);
}

/* Presses one key after another, the page drawn before each as a terminal would. */
static void press(const char *names)
{
	char name[KEY_NAME_SIZE];

	for (; *names; names += strspn(names, " ")) {
		size_t length = strcspn(names, " ");
		snprintf(name, sizeof name, "%.*s", (int)length, names);
		workbook_draw(desk.workbook);
		desk_keys(&desk, name);
		names += length;
	}
}

/* ---- The customer's page ---- */

START_TEST(a_page_for_one_machine)
{
	open_customer("oduya");
	golden_check("customer-page", workbook_draw(desk.workbook));
}
END_TEST

START_TEST(a_wide_page_for_two_machines)
{
	workbook_resize(desk.workbook, 40, 120);
	open_customer("thistlewood");
	golden_check("customer-page-wide", workbook_draw(desk.workbook));
}
END_TEST

START_TEST(a_new_call_on_a_machine_brings_its_nameplate)
{
	open_customer("oduya");
	press("Ctrl+N");
	const struct call *call = session_call(desk.session);
	ck_assert_ptr_nonnull(call);
	ck_assert_str_eq(call->customer.name, "Maren Oduya");
	ck_assert_str_eq(call->system.name, "house");
	ck_assert_int_eq(visit_choice(&call->visit, STAGE_AS_FOUND, READING_REFRIGERANT),
	                 CHOICE_REFRIGERANT_R410A);
	ck_assert(!visit_has(&call->visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	check_shows("watch, since 2026-07-09: Outdoor fan 1.5 A on a 1.3 A motor");
}
END_TEST

START_TEST(a_new_machine_at_a_site)
{
	open_customer("oduya");
	press("Up Ctrl+N");
	const struct call *call = session_call(desk.session);
	ck_assert_ptr_nonnull(call);
	ck_assert_str_eq(call->customer.name, "Maren Oduya");
	ck_assert_str_eq(call->site.address, "14 Cedar Loop, Larkmere");
	ck_assert_str_eq(call->system.name, "");
	ck_assert(!visit_has(&call->visit, STAGE_AS_FOUND, READING_REFRIGERANT));
	press("Ctrl+B Enter");
	check_shows("Maren Oduya");
}
END_TEST

START_TEST(a_visit_opens_its_call)
{
	open_customer("oduya");
	press("End Up Up Enter");
	const struct call *call = session_call(desk.session);
	char date[CLOCK_TEXT_SIZE];
	ck_assert_ptr_nonnull(call);
	clock_format_date(call->opened_at, date, sizeof date);
	ck_assert_str_eq(date, "2026-07-09");
}
END_TEST

START_TEST(escape_leads_back_the_way_one_came)
{
	open_customer("oduya");
	press("Ctrl+O");
	check_shows("Readings over time");
	press("F1");
	check_shows("On a unit's history");
	press("Esc");
	check_shows("Readings over time");
	press("Esc");
	check_shows("Offered and not taken");
	press("Esc");
	check_shows("find: oduya");
}
END_TEST

START_TEST(nothing_to_begin_on_declined_work)
{
	open_customer("oduya");
	press("Down Down Down Ctrl+N");
	ck_assert_ptr_null(session_call(desk.session));
	check_shows("put the cursor on a unit, or on an address");
}
END_TEST

START_TEST(a_customer_who_is_gone_leaves_an_empty_page)
{
	struct uid nobody = uid_new();

	workbook_set_customer(desk.workbook, &nobody);
	workbook_go(desk.workbook, SCREEN_CUSTOMER);
	press("Down Up PgDn End Home Enter Ctrl+N Ctrl+O");
	check_shows("no name yet");
	press("Esc");
	check_shows("Calls");
}
END_TEST

/* ---- Watch items ---- */

/* What was noted in 2026 stood on the page of the visit of 2023, as if it had been open then. */
START_TEST(an_earlier_visit_shows_what_was_open_on_its_day)
{
	open_customer("oduya");
	press("End Enter");
	ck_assert_str_eq(desk_call(&desk)->uid.text, "018823c9-ae80-74bc-ba6c-b3eba4eefd27");
	ck_assert_uint_eq(session_open_items(desk.session), 0);
	check_hides("watch, since");
}
END_TEST

/* Noted on the visit before and closed a year after: told as the report tells it. */
START_TEST(what_was_closed_since_stays_on_the_page_of_its_day)
{
	open_customer("park-hale");
	press("End Up Up Enter");
	ck_assert_str_eq(desk_call(&desk)->uid.text, "018fbe92-2580-7529-b304-1b18a61d3d8a");
	check_shows("watch, since 2023-06-01, closed 2025-06-10: Slow leak");
	check_hides("the first one was dealt with");
	press("Alt+d");
	check_shows("This call is closed.");
	press("Enter");
	check_shows("no watch item of an earlier visit is open");
}
END_TEST

/* The day on which a call was planned is not the day of the visit. */
START_TEST(a_planned_visit_shows_what_was_noted_since_it_was_planned)
{
	static const struct { const char *planned, *arrived; size_t open; } rows[] = {
		{ "", "", 0 }, { "2026-07-20T09:00", "", 2 }, { "2026-07-20T09:00", "2026-07-08T09:00", 0 },
		{ "", "2026-07-20T09:00", 2 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct watch_item *items;
		struct error error;
		size_t count;
		struct call call;
		call_init(&call);
		ck_assert(store_call_load(desk.store, "018823c9-ae80-74bc-ba6c-b3eba4eefd27", &call, &error) ==
		          STATUS_OK);
		call.left_at = call.closed_at = call.arrived_at = call.planned_at = WALL_TIME_NONE;
		ck_assert(!*rows[i].planned || clock_parse(rows[i].planned, &call.planned_at));
		ck_assert(!*rows[i].arrived || clock_parse(rows[i].arrived, &call.arrived_at));
		ck_assert(past_watch_load(desk.store, &call, &items, &count, &error) == STATUS_OK);
		ck_assert_uint_eq(count, rows[i].open);
		free(items);
		call_done(&call);
	}
}
END_TEST

START_TEST(a_watch_item_is_dealt_with_and_taken_back)
{
	open_customer("oduya");
	press("Ctrl+N");
	ck_assert_uint_eq(session_open_items(desk.session), 2);
	press("Alt+d");
	ck_assert_uint_eq(session_open_items(desk.session), 1);
	check_shows("dealt with: Outdoor fan 1.5 A on a 1.3 A motor");
	check_hides("watch, since 2026-07-09: Outdoor fan");
	press("Ctrl+_");
	ck_assert_uint_eq(session_open_items(desk.session), 2);
	check_shows("watch, since 2026-07-09: Outdoor fan");
	press("Alt+d Alt+d Alt+d");
	check_shows("no watch item of an earlier visit is open");
	/* The book knows it as well. */
	press("Ctrl+B");
	press("Enter");
	check_shows("Addresses and units");
	check_hides("Outdoor fan 1.5 A");
}
END_TEST

/* ---- The history ---- */

START_TEST(a_history_begins_with_what_drifts)
{
	open_customer("abara");
	press("Ctrl+O");
	golden_check("history", workbook_draw(desk.workbook));
}
END_TEST

START_TEST(a_wide_history)
{
	workbook_resize(desk.workbook, 40, 120);
	open_customer("oduya");
	press("Ctrl+O Home");
	golden_check("history-wide", workbook_draw(desk.workbook));
}
END_TEST

START_TEST(a_history_in_plain_characters)
{
	workbook_free(desk.workbook);
	desk.workbook = workbook_new(desk.session, 24, 80, true);
	open_customer("library");
	press("Ctrl+O");
	golden_check("history-plain", workbook_draw(desk.workbook));
}
END_TEST

START_TEST(as_found_beside_as_left)
{
	open_customer("oduya");
	press("Ctrl+O Tab");
	golden_check("history-visits", workbook_draw(desk.workbook));
	press("PgDn PgDn PgDn PgDn PgDn PgDn");
	check_shows("within meters");
}
END_TEST

START_TEST(two_visits_compared)
{
	workbook_resize(desk.workbook, 40, 120);
	open_customer("oduya");
	press("Ctrl+O Tab Space Down Down");
	golden_check("history-two-visits", workbook_draw(desk.workbook));
	/* Nothing was read as left on the first visit, and the nameplate alone says nothing. */
	press("Right");
	check_shows("Nothing was read in both.");
	press("Left Space Space");
	check_shows("One visit");
}
END_TEST

START_TEST(a_history_speaks_the_units_that_are_shown)
{
	open_customer("oduya");
	press("Ctrl+O End Home");
	workbook_resize(desk.workbook, 40, 120);
	check_shows("41.4 °F");
	press("Ctrl+T");
	check_hides("41.4 °F");
	check_shows("5.2 °C");
}
END_TEST

START_TEST(a_history_is_one_key_away_on_a_call)
{
	open_customer("oduya");
	press("Ctrl+N Ctrl+O");
	check_shows("Readings over time");
	check_shows("so far:");
	press("Esc");
	check_shows("complaint");
}
END_TEST

START_TEST(a_machine_that_was_never_read)
{
	press("Ctrl+N Ctrl+O");
	check_shows("Nothing was read on this unit yet.");
	press("Tab");
	check_shows("Nothing was read in both.");
	press("Space Enter");
	ck_assert_ptr_nonnull(session_call(desk.session));
}
END_TEST

START_TEST(any_size_draws_something)
{
	static const char *const keys[] = { "Tab", "Down", "PgDn", "Space", "End" };

	open_customer("oduya");
	press("Ctrl+O");
	for (int rows = 1; rows <= 45; rows += 4)
		for (int columns = 1; columns <= 130; columns += 9) {
			workbook_resize(desk.workbook, rows, columns);
			press(keys[(rows + columns) % 5]);
		}
	press("Esc");
	for (int rows = 1; rows <= 45; rows += 4)
		for (int columns = 1; columns <= 130; columns += 9) {
			workbook_resize(desk.workbook, rows, columns);
			press(keys[1 + (rows + columns) % 2]);
		}
	workbook_resize(desk.workbook, 24, 80);
	check_shows("Maren Oduya");
}
END_TEST

/* The band beside a plot: the mark's row is the row of the plot's dot. */
START_TEST(the_scale_of_a_plot)
{
	wall_time at = 0;
	ck_assert(clock_parse("2026-07-10", &at));
	struct plot_point points[] = { { at, 93 }, { at + 86400, 115 } };
	struct plot plot = { .points = points, .count = 2, .rows = 9, .columns = 70,
		.has_limit = true, .limit = 110 };
	double bottom = NAN, top = NAN;

	ck_assert(plot_find_scale(&plot, &bottom, &top));
	ck_assert(bottom < 80 && bottom > 79);
	ck_assert(top > 120 && top < 121);
	plot.count = 0;
	ck_assert(!plot_find_scale(&plot, &bottom, &top));
}
END_TEST

Suite *customer_pages_suite(void)
{
	Suite *suite = suite_create("customer_pages");
	TCase *customer = tcase_create("customer"), *history = tcase_create("history");

	tcase_add_checked_fixture(customer, set_up, tear_down);
	tcase_add_test(customer, a_page_for_one_machine);
	tcase_add_test(customer, a_wide_page_for_two_machines);
	tcase_add_test(customer, a_new_call_on_a_machine_brings_its_nameplate);
	tcase_add_test(customer, a_new_machine_at_a_site);
	tcase_add_test(customer, a_visit_opens_its_call);
	tcase_add_test(customer, escape_leads_back_the_way_one_came);
	tcase_add_test(customer, nothing_to_begin_on_declined_work);
	tcase_add_test(customer, a_customer_who_is_gone_leaves_an_empty_page);
	tcase_add_test(customer, an_earlier_visit_shows_what_was_open_on_its_day);
	tcase_add_test(customer, what_was_closed_since_stays_on_the_page_of_its_day);
	tcase_add_test(customer, a_planned_visit_shows_what_was_noted_since_it_was_planned);
	tcase_add_test(customer, a_watch_item_is_dealt_with_and_taken_back);
	suite_add_tcase(suite, customer);
	tcase_add_checked_fixture(history, set_up, tear_down);
	tcase_add_test(history, a_history_begins_with_what_drifts);
	tcase_add_test(history, a_wide_history);
	tcase_add_test(history, a_history_in_plain_characters);
	tcase_add_test(history, as_found_beside_as_left);
	tcase_add_test(history, two_visits_compared);
	tcase_add_test(history, a_history_speaks_the_units_that_are_shown);
	tcase_add_test(history, a_history_is_one_key_away_on_a_call);
	tcase_add_test(history, a_machine_that_was_never_read);
	tcase_add_test(history, any_size_draws_something);
	tcase_add_test(history, the_scale_of_a_plot);
	suite_add_tcase(suite, history);
	return suite;
}
