/* The demo book: its machines' histories and its customers' pages say what its stories are. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/diagnose/diagnose.h>
#include <padside/model/power.h>
#include <padside/app/history.h>
#include <padside/app/ledger.h>
#include <padside/app/unit_past.h>

#include "support/demo.h"

Suite *demo_suite(void);

static struct store *store;
static struct history history;
static struct customer_page page;

static void set_up(void)
{
	store = demo_open();
	history_init(&history);
	customer_page_init(&page);
}

static void tear_down(void)
{
	history_done(&history);
	customer_page_done(&page);
	store_close(store);
}

static void load_history(const char *customer, const char *system)
{
	struct customer who = demo_customer(store, customer);
	struct uid uid = demo_system(store, &who, system)->system.uid;
	struct error error = { .text = "" };
	wall_time today = 0;

	ck_assert(clock_parse("2026-07-10", &today));
	ck_assert_msg(history_load(store, &uid, HISTORY_EVERYTHING, UNITS_US, today, &history, &error) == STATUS_OK, "%s",
	              error.text);
}

static void load_page(const char *customer)
{
	struct customer who = demo_customer(store, customer);
	struct error error = { .text = "" };

	ck_assert_msg(customer_page_load(store, &who, &page, &error) == STATUS_OK, "%s", error.text);
}

static const struct history_series *series_of(enum series series)
{
	for (size_t i = 0; i < history.series_count; i++)
		if (history.series[i].series == series)
			return &history.series[i];
	ck_abort_msg("no such series");
	return NULL;
}

START_TEST(a_capacitor_on_its_way_is_foretold)
{
	load_history("Abara", "");
	ck_assert_uint_eq(history.visit_count, 4);
	ck_assert_str_eq(series_of(SERIES_RUN_CAPACITOR)->sentence,
	                 "falling 1.9 % a year; below -6 % around November 2026 (any time now, by "
	                 "February 2030); 4 visits");
	ck_assert_uint_eq(history.watch_count, 1);
	ck_assert_uint_eq(history.offered_count, 1);
}
END_TEST

START_TEST(a_replaced_capacitor_has_a_new_trend)
{
	load_history("Fennimore", "");
	const struct history_series *series = series_of(SERIES_RUN_CAPACITOR);
	ck_assert_uint_eq(series->count, 6);
	ck_assert(series->points[4].restarts);
	ck_assert_int_eq(series->drift.claim, DRIFT_TOO_FEW);
	/* The watch item of the year before was closed with it. */
	ck_assert_uint_eq(history.watch_count, 0);
	ck_assert_int_gt((int)(history.visits[0].opened_at - history.visits[4].opened_at), 0);
}
END_TEST

START_TEST(insulation_of_the_rooftop_is_foretold)
{
	load_history("Library", "rooftop, reading room");
	ck_assert_ptr_nonnull(strstr(series_of(SERIES_INSULATION)->sentence,
	                             "falling by 48 % a year, at the newest temperature; "
	                             "below 20 MΩ around"));
	ck_assert_int_ne(series_of(SERIES_VOLTAGE_UNBALANCE)->drift.claim, DRIFT_CLAIMED);
}
END_TEST

START_TEST(the_story_call_changed_what_it_says)
{
	struct history_change changes[HISTORY_MOST_CHANGES];
	bool capacitor = false, superheat = false, fan = false;

	load_history("Oduya", "house");
	const struct visit *visit = &history.visits[0].visit;
	size_t count = history_compare(visit, STAGE_AS_FOUND, visit, STAGE_AS_LEFT, changes);
	for (size_t i = 0; i < count; i++) {
		capacitor |= changes[i].figure == FIGURE_COMPRESSOR_CAPACITOR_DEVIATION && changes[i].is_real;
		superheat |= changes[i].figure == FIGURE_SUPERHEAT && changes[i].is_real &&
		             fabs(changes[i].before.number - 21) < 0.5 &&
		             fabs(changes[i].after.number - 8.5) < 0.5;
		fan |= changes[i].figure == FIGURE_FAN_FLA_SHARE && !changes[i].is_real;
	}
	ck_assert(capacitor && superheat && fan);
	ck_assert_ptr_nonnull(strstr(series_of(SERIES_FAN_AMPS)->sentence, "probably above 105 % since"));
	ck_assert_uint_eq(history.watch_count, 2);
}
END_TEST

/* No machine of the demo has a followed value that drifts, but those that the stories tell of. */
static void count_claims(const struct system_line *line, int *claims)
{
	struct error error = { .text = "" };

	ck_assert_msg(history_load(store, &line->system.uid, HISTORY_EVERYTHING, UNITS_US, 0, &history, &error) ==
	              STATUS_OK, "%s", error.text);
	for (size_t i = 0; i < history.series_count; i++)
		*claims += history.series[i].series != SERIES_NONE &&
		           history.series[i].drift.claim == DRIFT_CLAIMED;
}

static void count_claims_of(const struct uid *customer, int *claims)
{
	struct error error = { .text = "" };
	struct system_line *systems;
	size_t count;

	ck_assert(store_customer_systems(store, customer, &systems, &count, &error) == STATUS_OK);
	for (size_t i = 0; i < count; i++)
		count_claims(&systems[i], claims);
	free(systems);
}

START_TEST(nothing_else_drifts)
{
	struct error error = { .text = "" };
	struct store_listing listing;
	struct customer_line line;
	int claims = 0;

	store_customers_open(store, "", 0, &listing);
	while (store_customers_next(&listing, &line))
		count_claims_of(&line.customer.uid, &claims);
	ck_assert(store_listing_close(&listing, &error) == STATUS_OK);
	ck_assert_int_eq(claims, 3);
}
END_TEST

START_TEST(declined_work_stands_on_the_page_until_it_is_accepted)
{
	load_page("Park-Hale");
	ck_assert_uint_eq(page.system_count, 1);
	ck_assert_uint_eq(page.visit_count, 5);
	ck_assert(page.visits[0].opened_at > page.visits[4].opened_at);
	/* What was declined in 2024 was accepted and done in 2025: it is left declined no more. */
	ck_assert_uint_eq(page.offered_count, 1);
	ck_assert_str_eq(page.offered[0].offer.title, "Replace the system");
	ck_assert_uint_eq(page.watch_count, 0);
}
END_TEST

START_TEST(what_is_not_decided_stands_on_the_page_with_the_office_s_note)
{
	load_page("Oduya");
	ck_assert_uint_eq(page.offered_count, 2);
	ck_assert_int_eq(page.offered[0].offer.decision, DECISION_NONE);
	ck_assert_str_eq(page.offered[0].offer.note, "Thinks about it until autumn.");
	ck_assert_str_eq(page.offered[0].office_note, "Call in October about the fan motor.");
	ck_assert_str_eq(offer_outcome(&page.offered[0].offer, false), "not decided yet");
	ck_assert_str_eq(offer_outcome(&page.offered[1].offer, page.offered[1].is_other_taken), "declined");
	/* Who took another option declined nothing. */
	load_page("Thistlewood");
	ck_assert_str_eq(page.offered[0].offer.title, "New compressor in the old unit (R-22)");
	ck_assert_str_eq(offer_outcome(&page.offered[0].offer, page.offered[0].is_other_taken), "not chosen");
}
END_TEST

START_TEST(a_page_has_every_machine)
{
	load_page("Thistlewood");
	ck_assert_uint_eq(page.system_count, 2);
	ck_assert_uint_eq(page.visit_count, 5);
	load_page("Castellan");
	ck_assert_uint_eq(page.system_count, 1);
	ck_assert_uint_eq(page.watch_count, 1);
	ck_assert_str_eq(page.watch[0].item.fault, "contactor_contacts_worn");
	ck_assert_uint_eq(page.watch[0].system, 0);
}
END_TEST

static const struct ledger_line *find_line(const struct ledger *ledger, enum ledger_by by,
                                           const char *key, const char *refrigerant)
{
	for (size_t i = 0; i < ledger->counts[by]; i++)
		if (strcmp(ledger->lines[by][i].key, key) == 0 &&
		    strcmp(ledger->lines[by][i].refrigerant, refrigerant) == 0)
			return &ledger->lines[by][i];
	ck_abort_msg("no line %s, %s", key, refrigerant);
	return NULL;
}

/* Added up by hand from demo/book.ndjson. */
START_TEST(the_ledger_adds_up_every_way)
{
	struct ledger ledger;
	struct error error = { .text = "" };

	ledger_init(&ledger);
	ck_assert_msg(ledger_load(store, &ledger, &error) == STATUS_OK, "%s", error.text);
	const struct ledger_line *line = find_line(&ledger, LEDGER_BY_YEAR, "2025", "R-410A");
	ck_assert_double_eq_tol(line->added_oz, 159 + 17, 1e-9);
	ck_assert_double_eq_tol(line->recovered_oz, 159, 1e-9);
	line = find_line(&ledger, LEDGER_BY_CYLINDER, "N-0417", "R-410A");
	ck_assert_double_eq_tol(line->added_oz, 9 + 11 + 14 + 17, 1e-9);
	line = find_line(&ledger, LEDGER_BY_YEAR, "2025", "R-22");
	ck_assert_double_eq_tol(line->recovered_oz, 58, 1e-9);
	for (int by = 0; by < LEDGER_KINDS; by++) {
		double net = 0;
		for (size_t i = 0; i < ledger.counts[by]; i++)
			net += ledger.lines[by][i].added_oz - ledger.lines[by][i].recovered_oz;
		ck_assert_double_eq_tol(net, 9 + 11 + 14 + 17 + 4 + 8.5 - 58 + 113 - 61, 1e-9);
	}
	ledger_done(&ledger);
}
END_TEST

/* Each story of the demo, and what its readings as found must lead to. */
static const struct {
	const char *customer, *system, *date;
	enum fault fault; /* FAULT_NONE: in order */
} stories[] = {
	{ "Oduya", "house", "2026-07-09", FAULT_COMPRESSOR_CAPACITOR_FAILED },
	{ "Oduya", "house", "2023-05-16", FAULT_NONE },
	{ "Park-Hale", "upstairs", "2025-06-10", FAULT_UNDERCHARGE },
	{ "Park-Hale", "upstairs", "2026-06-02", FAULT_NONE },
	{ "Castellan", "", "2025-08-12", FAULT_COMPRESSOR_LEAD_OPEN },
	{ "Castellan", "", "2024-05-07", FAULT_NONE },
	{ "Thistlewood", "old split", "2025-07-29", FAULT_LOCKED_ROTOR },
	{ "Thistlewood", "new split", "2026-05-26", FAULT_NONE },
	{ "Hollis", "shop front", "2024-08-06", FAULT_LOW_OUTDOOR_AIRFLOW },
	{ "Hollis", "shop front", "2026-05-28", FAULT_NONE },
	/* 58 MΩ is far above the floor: what falls from year to year is for the history to tell. */
	{ "Library", "rooftop, reading room", "2026-05-05", FAULT_CONTACTOR_CONTACTS_WORN },
	{ "Fennimore", "", "2025-05-06", FAULT_COMPRESSOR_CAPACITOR_WEAK },
	{ "Fennimore", "", "2022-04-26", FAULT_NONE },
};

static const struct visit *visit_on(const char *date)
{
	for (size_t i = 0; i < history.visit_count; i++) {
		char day[CLOCK_TEXT_SIZE];
		clock_format_date(history.visits[i].opened_at, day, sizeof day);
		if (strcmp(day, date) == 0)
			return &history.visits[i].visit;
	}
	ck_abort_msg("no visit on %s", date);
	return NULL;
}

START_TEST(a_story_is_diagnosed)
{
	struct figure_set set;
	struct diagnosis diagnosis;

	load_history(stories[_i].customer, stories[_i].system);
	const struct visit *visit = visit_on(stories[_i].date);
	figures_evaluate(visit, STAGE_AS_FOUND, &set);
	diagnose(visit, STAGE_AS_FOUND, &set, NULL, &diagnosis);
	bool is_found = diagnosis.finding_count > 0 && diagnosis.findings[0].probability > 0.5;
	ck_assert_int_eq(is_found ? diagnosis.findings[0].fault : FAULT_NONE, stories[_i].fault);
	ck_assert_int_eq(diagnosis.contradiction_count, 0);
}
END_TEST

/* The charge taken out and put back for the repair is not made up; a new machine's filling neither. */
START_TEST(what_a_leak_costs_is_told_by_the_year)
{
	static const double ounces[] = { 9, 11, 14, 17 };

	load_history("Park-Hale", "upstairs");
	ck_assert_uint_eq(history.made_up_count, 4);
	for (int i = 0; i < 4; i++) {
		ck_assert_int_eq(history.made_up[i].year, 2022 + i);
		ck_assert_double_eq_tol(history.made_up[i].made_up_oz, ounces[i], 1e-9);
		ck_assert_double_eq_tol(ledger_share(&history.made_up[i]), 100 * ounces[i] / 176, 1e-9);
	}
	load_history("Thistlewood", "new split");
	ck_assert_uint_eq(history.made_up_count, 0);
}
END_TEST

START_TEST(an_unknown_machine_is_not_found)
{
	struct error error = { .status = STATUS_OK };
	struct uid uid = { "01890a5d-ac96-774b-bcce-b302099a8057" };

	ck_assert_int_eq(history_load(store, &uid, HISTORY_EVERYTHING, UNITS_US, 0, &history, &error), STATUS_NOT_FOUND);
	ck_assert_int_eq(error.status, STATUS_NOT_FOUND);
	ck_assert_uint_eq(history.series_count, 0);
}
END_TEST

/* What is found first on the calls that never reach the gauges. */
START_TEST(calls_of_the_control_chain_are_found)
{
	static const struct {
		const char *customer, *found;
	} rows[] = {
		{ "Halvorsen", "condensate drain blocked or slow; float switch open: pan full" },
		{ "Dance Hall", "one phase of the supply lost" },
		{ "Oosterling", "air filter dirty or blocked; indoor coil iced" },
		{ "Nyland", "in order" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		load_page(rows[i].customer);
		ck_assert_str_eq(page.visits[0].found_line, rows[i].found);
	}
}
END_TEST

/* 8.5 oz is 241 g: 28.3495 g an ounce, NIST SP 811. */
START_TEST(a_units_past_is_in_the_readers_units)
{
	char lines[UNIT_PAST_LINES][UNIT_PAST_SIZE];

	load_history("Oduya", "house");
	unit_past_write(&history, UNITS_US, lines);
	ck_assert_ptr_nonnull(strstr(lines[2], "8.5 oz"));
	unit_past_write(&history, UNITS_SI, lines);
	ck_assert_ptr_nonnull(strstr(lines[2], "241 g"));
	ck_assert_ptr_null(strstr(lines[2], " oz"));
}
END_TEST

/* Its declined contactor stood as open beside the unit that took its place. */
START_TEST(nothing_is_open_on_a_unit_that_was_taken_out)
{
	char lines[UNIT_PAST_LINES][UNIT_PAST_SIZE];

	load_history("Thistlewood", "old split");
	unit_past_write(&history, UNITS_US, lines);
	ck_assert_str_eq(lines[2], "The unit was taken out on 2025-08-05.");
	ck_assert_str_eq(history.offered[0].unit_out, "2025-08-05");
	load_page("Thistlewood");
	ck_assert_uint_eq(page.offered_count, 2);
	ck_assert_str_eq(page.offered[0].unit_out, "2025-08-05");
	ck_assert_str_eq(page.offered[1].unit_out, "2025-08-05");
	load_page("Oduya");
	ck_assert_str_eq(page.offered[0].unit_out, "");
}
END_TEST

/* What the unit's power was, by what had been written down up to then. */
static enum power_state power_then(const struct call *call, wall_time now)
{
	struct call then;

	call_init(&then);
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
			const struct value *value = visit_value(&call->visit, (enum stage)stage, (enum reading)i);
			if (value->state == VALUE_TAKEN && value->taken_at <= now)
				visit_set(&then.visit, (enum stage)stage, (enum reading)i, value);
		}
	enum power_state state = power_of_visit(&then.visit).state;
	call_done(&then);
	return state;
}

/* Each reading that wants the power off stands under a lock-out, all six answers of it. */
static void hold_to_lockout(const struct call *call)
{
	const char *who = call->customer.name;

	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
			const struct value *value = visit_value(&call->visit, (enum stage)stage, (enum reading)i);
			const struct reading_info *info = reading_info((enum reading)i);
			if (value->state == VALUE_NOT_TAKEN || info->power != POWER_NEEDED_OFF)
				continue;
			ck_assert_msg(value->taken_at != WALL_TIME_NONE, "%s: %s has no time", who, info->key);
			ck_assert_msg(power_then(call, value->taken_at) == POWER_STATE_SAFE, "%s: %s was read live",
			              who, info->key);
		}
}

/* Each reading is one that the unit has: three windings alike have no common, start and run. */
static void hold_to_its_unit(const struct call *call)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++)
			ck_assert_msg(!visit_has(&call->visit, (enum stage)stage, (enum reading)i) ||
			              visit_applies(&call->visit, (enum stage)stage, (enum reading)i),
			              "%s: %s is not on this unit", call->customer.name,
			              reading_info((enum reading)i)->key);
}

/* Who says that a circuit was evacuated has the log of it. */
static void hold_to_its_log(const struct call *call)
{
	bool has_vacuum = false;

	for (size_t i = 0; i < call->tightness_count; i++)
		has_vacuum = has_vacuum || call->tightness[i].kind == TIGHTNESS_VACUUM;
	ck_assert_msg(!strstr(call->summary, "evacuated") || has_vacuum, "%s: no vacuum is on record",
	              call->customer.name);
}

static void hold_every_call(void (*hold)(const struct call *call))
{
	struct json_reader *reader = json_reader_new();
	FILE *file = fopen("demo/book.ndjson", "r");
	char *line = NULL;
	size_t size = 0;
	ssize_t length;
	int calls = 0;

	ck_assert_ptr_nonnull(file);
	for (; (length = getline(&line, &size, file)) > 0; calls++) {
		struct error error = { .text = "" };
		struct call call;
		call_init(&call);
		ck_assert(call_json_read(reader, line, (size_t)length, CALL_JSON_RECORD, &call, &error) ==
		          STATUS_OK);
		hold(&call);
		call_done(&call);
	}
	ck_assert_int_ge(calls, 36);
	free(line);
	fclose(file);
	json_reader_free(reader);
}

/*
 * The demo is what people copy.  US 29 CFR 1910.333(b): live until proved dead, and again
 * when power may have come back.
 */
START_TEST(nothing_of_the_demo_is_ohmed_live)
{
	hold_every_call(hold_to_lockout);
}
END_TEST

START_TEST(nothing_of_the_demo_is_read_where_it_is_not)
{
	hold_every_call(hold_to_its_unit);
}
END_TEST

/* Who is known by id alone is completed from the book, with one unit as with more. */
START_TEST(a_page_tells_the_customer_whole)
{
	struct customer known = demo_customer(store, "Abara"), who = { .uid = known.uid };
	struct error error = { .text = "" };

	ck_assert_msg(customer_page_load(store, &who, &page, &error) == STATUS_OK, "%s", error.text);
	ck_assert_uint_eq(page.system_count, 1);
	ck_assert_str_eq(page.customer.name, "Gwen Abara");
	ck_assert_str_eq(page.customer.phone, "555-0127");
	ck_assert_str_eq(page.customer.uid.text, known.uid.text);
}
END_TEST

START_TEST(what_the_demo_says_was_evacuated_has_its_log)
{
	hold_every_call(hold_to_its_log);
}
END_TEST

Suite *demo_suite(void)
{
	Suite *suite = suite_create("demo");
	TCase *tcase = tcase_create("demo");

	tcase_add_checked_fixture(tcase, set_up, tear_down);
	tcase_add_test(tcase, a_capacitor_on_its_way_is_foretold);
	tcase_add_test(tcase, a_replaced_capacitor_has_a_new_trend);
	tcase_add_test(tcase, insulation_of_the_rooftop_is_foretold);
	tcase_add_test(tcase, the_story_call_changed_what_it_says);
	tcase_add_test(tcase, nothing_else_drifts);
	tcase_add_test(tcase, nothing_of_the_demo_is_ohmed_live);
	tcase_add_test(tcase, nothing_of_the_demo_is_read_where_it_is_not);
	tcase_add_test(tcase, what_the_demo_says_was_evacuated_has_its_log);
	tcase_add_test(tcase, declined_work_stands_on_the_page_until_it_is_accepted);
	tcase_add_test(tcase, what_is_not_decided_stands_on_the_page_with_the_office_s_note);
	tcase_add_test(tcase, a_page_has_every_machine);
	tcase_add_test(tcase, the_ledger_adds_up_every_way);
	tcase_add_test(tcase, what_a_leak_costs_is_told_by_the_year);
	tcase_add_loop_test(tcase, a_story_is_diagnosed, 0, (int)(sizeof stories / sizeof *stories));
	tcase_add_test(tcase, an_unknown_machine_is_not_found);
	tcase_add_test(tcase, a_page_tells_the_customer_whole);
	tcase_add_test(tcase, a_units_past_is_in_the_readers_units);
	tcase_add_test(tcase, nothing_is_open_on_a_unit_that_was_taken_out);
	tcase_add_test(tcase, calls_of_the_control_chain_are_found);
	suite_add_tcase(suite, tcase);
	return suite;
}
