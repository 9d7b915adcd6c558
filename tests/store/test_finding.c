/* Finding: each list whole, to its limits, by every way that leads to it. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/store/store.h>

#include "support/books.h"
#include "support/calls.h"

Suite *finding_suite(void);

static struct store *store;
static struct error error;
static struct text seen;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void set_up(void)
{
	books_set_up();
	books_open(1);
	store = books[0];
	text_init(&seen);
}

static void tear_down(void)
{
	text_done(&seen);
	books_close();
	books_tear_down();
}

static void assert_seen(const char *wanted, const char *when)
{
	ck_assert_msg(strcmp(text_get(&seen), wanted) == 0, "%s: \"%s\" instead of \"%s\"", when,
	              text_get(&seen), wanted);
	text_clear(&seen);
}

static wall_time time_of(const char *text)
{
	wall_time time = WALL_TIME_NONE;

	ck_assert_msg(!*text || clock_parse(text, &time), "%s", text);
	return time;
}

static void add_time(wall_time time)
{
	char text[CLOCK_TEXT_SIZE] = "-";

	if (time != WALL_TIME_NONE)
		clock_format(time, text, sizeof text);
	text_add_format(&seen, " %s", text);
}

static void set(const struct uid *call, enum reading reading, const char *typed)
{
	struct value value;

	assert_ok(reading_parse(reading, typed, UNITS_US, &value, &error));
	value.taken_at = books_now;
	assert_ok(store_value_set(store, call, STAGE_AS_FOUND, reading, &value, &error));
}

/* ---- Calls ---- */

/* A call that differs from every other in all that a list shows. */
static void record(struct call *call, const char *name, const char *opened, const char *closed)
{
	call_init(call);
	snprintf(call->customer.name, sizeof call->customer.name, "%s Elm", name);
	snprintf(call->site.address, sizeof call->site.address, "%s Street", name);
	snprintf(call->system.name, sizeof call->system.name, "%s unit", name);
	snprintf(call->complaint, sizeof call->complaint, "%s complains", name);
	call->opened_at = time_of(opened);
	call->closed_at = time_of(closed);
	assert_ok(store_call_record(store, call, &error));
}

static void record_again(struct call *call, const struct call *on, const char *opened,
                         const char *closed)
{
	call_init(call);
	call->system.uid = on->system.uid;
	snprintf(call->complaint, sizeof call->complaint, "again");
	call->opened_at = time_of(opened);
	call->closed_at = time_of(closed);
	assert_ok(store_call_record(store, call, &error));
}

static void list_calls(const struct call_filter *filter, const char *what)
{
	struct store_listing listing;
	struct call_line line;

	store_calls_open(store, filter, &listing);
	while (store_calls_next(&listing, &line)) {
		if (*what == 'w') {
			text_add_format(&seen, "%s|%s|%s|%s|%s|%s|", line.customer, line.address, line.system,
			                line.complaint, line.found_line, line.done_line);
			add_time(line.opened_at);
			add_time(line.closed_at);
			add_time(line.planned_at);
			text_add_format(&seen, "|%s %s %s", line.uid.text, line.customer_uid.text,
			                line.system_uid.text);
		} else {
			text_add_format(&seen, "%.3s", line.customer);
			add_time(line.opened_at);
		}
		text_add(&seen, ";");
	}
	assert_ok(store_listing_close(&listing, &error));
}

/* Each way to a call has a statement of its own, and all show the same of it. */
START_TEST(every_way_to_a_call_shows_all_of_its_line)
{
	struct call call, other;
	char wanted[512];

	record(&other, "Bob", "2026-06-01T08:00:00", "2026-06-01T09:00:00");
	record(&call, "Ada", "2026-06-02T08:00:00", "");
	struct call after = call;
	after.planned_at = time_of("2026-06-03T10:30:00");
	assert_ok(store_call_change(store, &call, &after, &error));
	assert_ok(store_call_save_lines(store, &call.uid, "weak capacitor", "capacitor replaced", &error));
	const struct call_filter ways[] = {
		{ .since = WALL_TIME_NONE, .limit = 1 }, { .since = call.opened_at },
		{ .since = WALL_TIME_NONE, .open_only = true }, { .since = WALL_TIME_NONE, .open_only = true, .limit = 9 },
		{ .since = WALL_TIME_NONE, .text = "ada" }, { .since = WALL_TIME_NONE, .text = "ada", .limit = 3 },
		{ .since = WALL_TIME_NONE, .customer = call.customer.uid },
		{ .since = WALL_TIME_NONE, .system = call.system.uid },
		{ .since = WALL_TIME_NONE, .by_state = true, .limit = 1 },
		{ .since = WALL_TIME_NONE, .by_state = true, .open_only = true },
	};
	snprintf(wanted, sizeof wanted, "Ada Elm|Ada Street|Ada unit|Ada complains|weak capacitor|"
	         "capacitor replaced| 2026-06-02T08:00:00 - 2026-06-03T10:30:00|%s %s %s;", call.uid.text,
	         call.customer.uid.text, call.system.uid.text);
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		char way[16];
		snprintf(way, sizeof way, "way %zu", i);
		list_calls(&ways[i], "whole");
		assert_seen(wanted, way);
	}
	call_done(&call);
	call_done(&other);
}
END_TEST

/* Of a closed call that is in no plan, the third part of the opening page. */
START_TEST(a_closed_call_shows_when_it_was_closed)
{
	struct call call;
	char wanted[512];

	record(&call, "Bob", "2026-06-01T08:00:00", "2026-06-01T09:15:00");
	const struct call_filter ways[] = {
		{ .since = WALL_TIME_NONE, .by_state = true }, { .since = WALL_TIME_NONE, .text = "bob elm", .limit = 1 },
	};
	snprintf(wanted, sizeof wanted, "Bob Elm|Bob Street|Bob unit|Bob complains||| 2026-06-01T08:00:00 "
	         "2026-06-01T09:15:00 -|%s %s %s;", call.uid.text, call.customer.uid.text, call.system.uid.text);
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		list_calls(&ways[i], "whole");
		assert_seen(wanted, "closed");
	}
	call_done(&call);
}
END_TEST

/* Five calls of Ada on one unit, every second of them closed, and one of Bob. */
static void five_calls(struct call calls[6])
{
	static const char *const days[] = {
		"2026-06-01T08:00:00", "2026-06-02T08:00:00", "2026-06-03T08:00:00", "2026-06-04T08:00:00",
		"2026-06-05T08:00:00",
	};

	record(&calls[0], "Ada", days[0], "");
	for (int i = 1; i < 5; i++)
		record_again(&calls[i], &calls[0], days[i], i % 2 ? days[i] : "");
	record(&calls[5], "Bob", "2026-06-02T12:00:00", "");
}

static void five_done(struct call calls[6])
{
	for (int i = 0; i < 6; i++)
		call_done(&calls[i]);
}

/* A limit of one, of fewer than there are, of as many, of more; none. */
START_TEST(a_list_of_calls_keeps_to_its_limit_and_no_less)
{
	struct call calls[6];

	five_calls(calls);
	const struct {
		struct call_filter filter;
		int count;
	} rows[] = {
		{ { .since = WALL_TIME_NONE }, 6 }, { { .since = WALL_TIME_NONE, .open_only = true }, 4 },
		{ { .since = WALL_TIME_NONE, .text = "ada" }, 5 }, { { .since = WALL_TIME_NONE, .text = "elm" }, 6 },
		{ { .since = WALL_TIME_NONE, .text = "elm", .open_only = true }, 4 },
		{ { .since = WALL_TIME_NONE, .customer = calls[0].customer.uid }, 5 },
		{ { .since = WALL_TIME_NONE, .customer = calls[0].customer.uid, .open_only = true }, 3 },
		{ { .since = WALL_TIME_NONE, .system = calls[0].system.uid }, 5 },
		{ { .since = WALL_TIME_NONE, .system = calls[0].system.uid, .open_only = true }, 3 },
		{ { .since = WALL_TIME_NONE, .by_state = true }, 6 },
		{ { .since = WALL_TIME_NONE, .by_state = true, .open_only = true }, 4 },
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int limit = -1; limit <= 7; limit++) {
			struct call_filter filter = rows[i].filter;
			struct store_listing listing;
			struct call_line line;
			int count = 0, wanted = limit > 0 && limit < rows[i].count ? limit : rows[i].count;
			filter.limit = limit;
			store_calls_open(store, &filter, &listing);
			while (store_calls_next(&listing, &line))
				count++;
			assert_ok(store_listing_close(&listing, &error));
			ck_assert_msg(count == wanted, "row %zu, limit %d: %d", i, limit, count);
		}
	five_done(calls);
}
END_TEST

START_TEST(a_call_of_the_very_second_asked_for_is_listed)
{
	struct call calls[6];

	five_calls(calls);
	const struct call_filter ways[] = {
		{ .limit = 0 }, { .limit = 9 }, { .text = "ada" }, { .text = "ada", .limit = 9 },
		{ .customer = calls[0].customer.uid }, { .system = calls[0].system.uid }, { .by_state = true },
	};
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		struct call_filter filter = ways[i];
		filter.since = calls[4].opened_at;
		list_calls(&filter, "short");
		assert_seen("Ada 2026-06-05T08:00:00;", "since then");
		filter.since++;
		list_calls(&filter, "short");
		assert_seen("", "since a second later");
	}
	five_done(calls);
}
END_TEST

START_TEST(a_list_goes_on_below_any_of_its_lines)
{
	struct call calls[6];

	five_calls(calls);
	const struct call_filter ways[] = {
		{ .since = WALL_TIME_NONE, .text = "ada" }, { .since = WALL_TIME_NONE, .text = "ada", .limit = 2 },
		{ .since = WALL_TIME_NONE, .customer = calls[0].customer.uid },
		{ .since = WALL_TIME_NONE, .system = calls[0].system.uid, .limit = 2 },
	};
	struct call_line last = { .uid = calls[3].uid, .opened_at = calls[3].opened_at };
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		struct call_filter filter = ways[i];
		filter.after = &last;
		list_calls(&filter, "short");
		assert_seen(filter.limit ? "Ada 2026-06-03T08:00:00;Ada 2026-06-02T08:00:00;"
		            : "Ada 2026-06-03T08:00:00;Ada 2026-06-02T08:00:00;Ada 2026-06-01T08:00:00;", "below");
	}
	/* By state there is no going on: the list is that of times then. */
	struct call_filter filter = { .since = WALL_TIME_NONE, .by_state = true, .after = &last, .limit = 2 };
	list_calls(&filter, "short");
	assert_seen("Ada 2026-06-03T08:00:00;Bob 2026-06-02T12:00:00;", "below, by state");
	five_done(calls);
}
END_TEST

/* Of a unit, a customer and a text the first one counts; by state only where none is given. */
START_TEST(the_first_that_is_asked_for_counts)
{
	struct call calls[6];

	five_calls(calls);
	struct call_filter filter = { .since = WALL_TIME_NONE, .system = calls[5].system.uid,
	                              .customer = calls[0].customer.uid, .text = "ada", .by_state = true };
	list_calls(&filter, "short");
	assert_seen("Bob 2026-06-02T12:00:00;", "a unit");
	filter.system = (struct uid){ .text = "" };
	filter.text = "bob";
	filter.limit = 1;
	list_calls(&filter, "short");
	assert_seen("Ada 2026-06-05T08:00:00;", "a customer");
	filter.customer = (struct uid){ .text = "" };
	filter.text = "ada";
	list_calls(&filter, "short");
	assert_seen("Ada 2026-06-05T08:00:00;", "a text");
	five_done(calls);
}
END_TEST

/* A planned call that was begun stands among the open ones. */
START_TEST(what_is_planned_for_one_minute_stands_in_one_order)
{
	struct call_filter filter = { .since = WALL_TIME_NONE, .by_state = true };
	static const struct {
		const char *name, *opened, *planned, *arrived;
	} rows[] = {
		{ "Two", "2026-06-01T08:00:00", "2026-06-09T08:00:00", "" },
		{ "Begun", "2026-06-01T09:00:00", "2026-06-08T08:00:00", "2026-06-08T08:05:00" },
		{ "One", "2026-06-01T10:00:00", "2026-06-07T08:00:00", "" },
	};
	struct call call;

	for (size_t i = 0; i < 3; i++) {
		call_init(&call);
		snprintf(call.customer.name, sizeof call.customer.name, "%s", rows[i].name);
		call.opened_at = time_of(rows[i].opened);
		call.planned_at = time_of(rows[i].planned);
		call.arrived_at = time_of(rows[i].arrived);
		assert_ok(store_call_record(store, &call, &error));
		call_done(&call);
	}
	list_calls(&filter, "short");
	assert_seen("One 2026-06-01T10:00:00;Two 2026-06-01T08:00:00;Beg 2026-06-01T09:00:00;", "by state");
}
END_TEST

/* ---- What was typed ---- */

static void list_customers(const char *text, int limit)
{
	struct store_listing listing;
	struct customer_line line;

	store_customers_open(store, text, limit, &listing);
	while (store_customers_next(&listing, &line))
		text_add_format(&seen, "%s;", line.customer.name);
	assert_ok(store_listing_close(&listing, &error));
}

static void new_customer(const char *name, const char *phone, const char *email, const char *address)
{
	struct call call;

	call_init(&call);
	snprintf(call.customer.name, sizeof call.customer.name, "%s", name);
	snprintf(call.customer.phone, sizeof call.customer.phone, "%s", phone);
	snprintf(call.customer.email, sizeof call.customer.email, "%s", email);
	snprintf(call.site.address, sizeof call.site.address, "%s", address);
	books_now += 60;
	assert_ok(store_call_create(store, &call, &error));
	call_done(&call);
}

/* One, two and three letters; where a field and where a word begins; digits with signs and without. */
START_TEST(what_is_typed_is_understood_letter_by_letter)
{
	static const struct {
		const char *typed, *names;
	} rows[] = {
		{ "z", "Zoe Ymir;" }, { "y", "" }, { "zo", "Zoe Ymir;" }, { "ym", "" }, { "oe", "" },
		{ "zoe", "Zoe Ymir;" }, { "oe ", "" }, { "\tzo\t", "Zoe Ymir;" }, { "zoe ym", "Zoe Ymir;" },
		{ "zoe mi", "" }, { "zoe y", "Zoe Ymir;" }, { "zoe q", "Zoe Ymir;" }, { "zoe\tymir", "Zoe Ymir;" },
		{ "ym zoe", "Zoe Ymir;" }, { "mi zoe", "" }, { "e y", "Zoe Ymir;" }, { "z y", "" },
		{ "Ö", "Öl Åke;" }, { "öl", "Öl Åke;" }, { "åk", "" }, { "l å", "Öl Åke;" }, { "öl åk", "Öl Åke;" },
		{ "öl åke", "Öl Åke;" }, { "xx öl åke", "" },
		{ "555-12", "Zoe Ymir;" }, { "(555)12", "Zoe Ymir;" }, { "555.1/2+3", "Zoe Ymir;" }, { "555123", "Zoe Ymir;" },
		{ "5-5", "" }, { "5-55", "Zoe Ymir;" }, { "12-3", "Zoe Ymir;" }, { "1-2", "" }, { "21-3", "" },
		{ "9-8-7", "Öl Åke;" }, { "9 8 7", "Öl Åke;" }, { "987", "Öl Åke;" }, { "0000", "" },
		{ "98 77", "Öl Åke;" }, { "00-98", "" }, { "zoe@", "Zoe Ymir;" }, { "@exam", "Zoe Ymir;" },
		{ "12 elm", "Zoe Ymir;" }, { "elm 12", "Zoe Ymir;" }, { "elm 13", "" },
	};

	new_customer("Zoe Ymir", "5551234", "zoe@example.com", "12 Elm Row");
	new_customer("Öl Åke", "98 77 66", "", "Ro 7");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		list_customers(rows[i].typed, 0);
		assert_seen(rows[i].names, rows[i].typed);
	}
}
END_TEST

/* As long as a field of the screen takes, and all of it short words: nothing is cut in the middle. */
START_TEST(a_very_long_search_is_no_error)
{
	char typed[400] = "zoe";

	new_customer("Zoe Ymir", "555-1234", "", "12 Elm Row");
	for (int i = 0; i < 130; i++)
		snprintf(typed + strlen(typed), sizeof typed - strlen(typed), " ym");
	list_customers(typed, 0);
	assert_seen("Zoe Ymir;", "many short words");
	/* Its digits alone are looked for only where there is room beside its words. */
	snprintf(typed, sizeof typed, "123");
	for (int i = 0; i < 130; i++)
		snprintf(typed + strlen(typed), sizeof typed - strlen(typed), " 12");
	list_customers(typed, 0);
	assert_seen("Zoe Ymir;", "many short numbers");
	memset(typed, '"', sizeof typed - 1);
	typed[sizeof typed - 1] = '\0';
	list_customers(typed, 0);
	assert_seen("", "many quotes");
	memset(typed, '5', sizeof typed - 1);
	typed[3] = '-';
	list_customers(typed, 0);
	assert_seen("", "many digits");
}
END_TEST

/* ---- Customers ---- */

START_TEST(a_line_of_a_customer_says_all_of_them)
{
	struct call first, second;
	struct store_listing listing;
	struct customer_line line;

	call_init(&first);
	snprintf(first.customer.name, sizeof first.customer.name, "Ada");
	snprintf(first.customer.phone, sizeof first.customer.phone, "555-0100");
	snprintf(first.customer.email, sizeof first.customer.email, "ada@example.com");
	snprintf(first.site.address, sizeof first.site.address, "1 First Street");
	first.opened_at = time_of("2026-06-02T08:00:00");
	assert_ok(store_call_record(store, &first, &error));
	call_init(&second);
	second.customer = first.customer;
	snprintf(second.site.address, sizeof second.site.address, "2 Second Street");
	second.opened_at = time_of("2026-06-04T08:00:00");
	assert_ok(store_call_record(store, &second, &error));
	static const char *const typed[] = { "", "ada", "second", "555-01" };
	for (int i = 0; i < 4; i++) {
		store_customers_open(store, typed[i], 0, &listing);
		ck_assert_msg(store_customers_next(&listing, &line), "%s", typed[i]);
		ck_assert_str_eq(line.customer.uid.text, first.customer.uid.text);
		ck_assert_str_eq(line.customer.name, "Ada");
		ck_assert_str_eq(line.customer.phone, "555-0100");
		ck_assert_str_eq(line.customer.email, "ada@example.com");
		ck_assert_str_eq(line.address, "1 First Street");
		ck_assert_int_eq(line.site_count, 2);
		ck_assert_int_eq(line.last_call, second.opened_at);
		ck_assert(!store_customers_next(&listing, &line));
		assert_ok(store_listing_close(&listing, &error));
	}
	call_done(&first);
	call_done(&second);
}
END_TEST

static void assert_sites(const struct uid *customer, const char *address, int count)
{
	struct store_listing listing;
	struct customer_line line;

	store_customers_open(store, "", 0, &listing);
	do
		ck_assert(store_customers_next(&listing, &line));
	while (strcmp(line.customer.uid.text, customer->text) != 0);
	assert_ok(store_listing_close(&listing, &error));
	ck_assert_str_eq(line.address, address);
	ck_assert_int_eq(line.site_count, count);
}

/* A mended bug: the address of a site that was taken out stood in the list. */
START_TEST(a_site_that_was_taken_out_or_joined_is_no_address_of_theirs)
{
	struct call first, second;

	record(&first, "Ada", "2026-06-01T08:00:00", "");
	call_init(&second);
	second.customer.uid = first.customer.uid;
	snprintf(second.site.address, sizeof second.site.address, "2 Second Street");
	assert_ok(store_call_record(store, &second, &error));
	assert_sites(&first.customer.uid, "Ada Street", 2);
	assert_ok(store_join(store, STORE_SITE, &first.site.uid, &second.site.uid, &error));
	assert_sites(&first.customer.uid, "2 Second Street", 1);
	assert_ok(store_part_again(store, &first.site.uid, &error));
	assert_ok(store_call_move(store, &first.uid, NULL, &second.site.uid, NULL, &error));
	assert_ok(store_take_out(store, &first.site.uid, &error));
	assert_sites(&first.customer.uid, "2 Second Street", 1);
	assert_ok(store_bring_back(store, &first.site.uid, &error));
	assert_sites(&first.customer.uid, "Ada Street", 2);
	call_done(&first);
	call_done(&second);
}
END_TEST

START_TEST(a_list_of_customers_keeps_to_its_limit)
{
	static const char *const wanted[] = { "c;b;a;", "c;", "c;b;", "c;b;a;", "c;b;a;" };

	new_customer("a", "555-1", "", "1 Elm Row");
	new_customer("b", "555-2", "", "2 Elm Row");
	new_customer("c", "555-3", "", "3 Elm Row");
	for (int limit = 0; limit < 5; limit++) {
		list_customers("", limit);
		assert_seen(wanted[limit], "everybody");
		list_customers("elm row", limit);
		assert_seen(wanted[limit], "by address");
	}
	list_customers(NULL, -1);
	assert_seen("c;b;a;", "nothing typed");
}
END_TEST

/* The nameplate by which a unit is found is the newest call's that has one. */
START_TEST(a_unit_is_found_by_its_newest_plate)
{
	struct call first, second;

	record(&first, "Ada", "2026-06-01T08:00:00", "");
	set(&first.uid, READING_MODEL, "MOD-111");
	set(&first.uid, READING_SERIAL, "SER-111");
	record_again(&second, &first, "2026-06-02T08:00:00", "");
	list_customers("mod-111", 0);
	list_customers("ser-111", 0);
	assert_seen("Ada Elm;Ada Elm;", "the first plate");
	set(&second.uid, READING_MODEL, "MOD-222");
	list_customers("mod-222", 0);
	list_customers("ser-111", 0);
	assert_seen("Ada Elm;Ada Elm;", "a new model, the serial of before");
	list_customers("mod-111", 0);
	assert_seen("", "the model of before");
	set(&second.uid, READING_MODEL, "");
	list_customers("mod-111", 0);
	assert_seen("Ada Elm;", "taken away again");
	/* The older call's does not count while the newer one has its own. */
	set(&second.uid, READING_SERIAL, "SER-222");
	set(&first.uid, READING_SERIAL, "SER-333");
	list_customers("ser-222", 0);
	list_customers("ser-333", 0);
	assert_seen("Ada Elm;", "an older call");
	call_done(&first);
	call_done(&second);
}
END_TEST

/* ---- Units ---- */

static void add_system(const struct system_line *line)
{
	text_add_format(&seen, "%s|%s|%s|%s|%s", line->system.name, line->site.address,
	                line->customer.name, line->customer.phone, line->customer.email);
	add_time(line->last_call);
	text_add_format(&seen, " %d", line->call_count);
	for (int i = 0; i < SYSTEM_READING_COUNT; i++) {
		char text[VALUE_TEXT_SIZE] = "-";
		if (line->readings[i].state == VALUE_TAKEN)
			reading_format_exact(system_readings[i], &line->readings[i], text, sizeof text);
		text_add_format(&seen, " %s", text);
	}
	text_add(&seen, ";");
}

static void list_systems(const struct uid *customer)
{
	struct system_line *list;
	size_t count;

	assert_ok(store_customer_systems(store, customer, &list, &count, &error));
	for (size_t i = 0; i < count; i++)
		add_system(&list[i]);
	free(list);
}

START_TEST(units_stand_site_by_site_with_their_plates)
{
	static const char roof[] = "roof|1 First Street|Ada|555-0100|a@b.example 2026-06-02T08:00:00 2 "
		"3.5 R-410A txv 2014 -;";
	static const char cellar[] = "cellar|1 First Street|Ada|555-0100|a@b.example 2026-06-03T08:00:00 1 "
		"- - - - -;";
	struct call roof_call, again, cellar_call, other;
	struct system_line line;
	char wanted[400];

	call_init(&roof_call);
	snprintf(roof_call.customer.name, sizeof roof_call.customer.name, "Ada");
	snprintf(roof_call.customer.phone, sizeof roof_call.customer.phone, "555-0100");
	snprintf(roof_call.customer.email, sizeof roof_call.customer.email, "a@b.example");
	snprintf(roof_call.site.address, sizeof roof_call.site.address, "1 First Street");
	snprintf(roof_call.system.name, sizeof roof_call.system.name, "roof");
	roof_call.opened_at = time_of("2026-06-01T08:00:00");
	assert_ok(store_call_record(store, &roof_call, &error));
	record(&other, "Bob", "2026-06-01T08:00:00", "");
	call_init(&cellar_call);
	cellar_call.site.uid = roof_call.site.uid;
	snprintf(cellar_call.system.name, sizeof cellar_call.system.name, "cellar");
	cellar_call.opened_at = time_of("2026-06-03T08:00:00");
	assert_ok(store_call_record(store, &cellar_call, &error));
	record_again(&again, &roof_call, "2026-06-02T08:00:00", "");
	set(&again.uid, READING_NOMINAL_CAPACITY, "3.5");
	set(&again.uid, READING_REFRIGERANT, "R-410A");
	set(&again.uid, READING_METERING, "TXV");
	set(&again.uid, READING_MANUFACTURE_YEAR, "2014");
	snprintf(wanted, sizeof wanted, "%s%s", roof, cellar);
	list_systems(&roof_call.customer.uid);
	assert_seen(wanted, "both");
	assert_ok(store_system_load(store, &roof_call.system.uid, &line, &error));
	add_system(&line);
	assert_seen(roof, "one");
	ck_assert_str_eq(line.system.uid.text, roof_call.system.uid.text);
	ck_assert_str_eq(line.site.uid.text, roof_call.site.uid.text);
	ck_assert_str_eq(line.customer.uid.text, roof_call.customer.uid.text);
	for (int i = 0; i < SYSTEM_READING_COUNT; i++)
		ck_assert_ptr_eq(system_reading(&line, system_readings[i]), &line.readings[i]);
	/* What was joined, or taken out, is not among them. */
	assert_ok(store_join(store, STORE_SYSTEM, &cellar_call.system.uid, &roof_call.system.uid, &error));
	list_systems(&roof_call.customer.uid);
	assert_seen("roof|1 First Street|Ada|555-0100|a@b.example 2026-06-03T08:00:00 3 - - - - -;", "joined");
	list_systems(&cellar_call.uid);
	assert_seen("", "nobody's");
	ck_assert_int_eq(store_system_load(store, &roof_call.uid, &line, &error), STATUS_NOT_FOUND);
	ck_assert_ptr_nonnull(strstr(error.text, "it has no such entry; nothing was changed; check the id"));
	call_done(&roof_call);
	call_done(&again);
	call_done(&cellar_call);
	call_done(&other);
}
END_TEST

/* ---- The past of a unit ---- */

static void list_past(const struct uid *system, const struct call *before, int limit)
{
	struct past_call *list;
	size_t count;

	assert_ok(store_past_calls(store, system, before, limit, &list, &count, &error));
	for (size_t i = 0; i < count; i++) {
		double number = 0;
		visit_number(&list[i].visit, STAGE_AS_FOUND, READING_OUTDOOR_DB, &number);
		text_add_format(&seen, "%s|%s", list[i].found_line, list[i].done_line);
		add_time(list[i].opened_at);
		add_time(list[i].closed_at);
		text_add_format(&seen, " %g;", number);
	}
	free(list);
}

START_TEST(earlier_calls_say_what_was_found_done_and_read)
{
	static const char newest[] = "found 3|done 3 2026-06-02T08:00:00 2026-06-02T09:00:00 93;";
	static const char middle[] = "found 2|done 2 2026-06-02T08:00:00 2026-06-02T09:00:00 92;";
	static const char first[] = "found 1|done 1 2026-06-01T08:00:00 - 91;";
	struct call calls[3], other;
	char wanted[300];

	record(&calls[0], "Ada", "2026-06-01T08:00:00", "");
	record_again(&calls[1], &calls[0], "2026-06-02T08:00:00", "2026-06-02T09:00:00");
	record_again(&calls[2], &calls[0], "2026-06-02T08:00:00", "2026-06-02T09:00:00");
	record(&other, "Bob", "2026-06-01T08:00:00", "");
	for (int i = 0; i < 3; i++) {
		char found[32], done[32], typed[16];
		snprintf(found, sizeof found, "found %d", i + 1);
		snprintf(done, sizeof done, "done %d", i + 1);
		snprintf(typed, sizeof typed, "%d", 91 + i);
		set(&calls[i].uid, READING_OUTDOOR_DB, typed);
		assert_ok(store_call_save_lines(store, &calls[i].uid, found, done, &error));
	}
	snprintf(wanted, sizeof wanted, "%s%s%s", newest, middle, first);
	for (int limit = -1; limit <= 4; limit++) {
		if (limit == 1 || limit == 2)
			continue;
		list_past(&calls[0].system.uid, NULL, limit);
		assert_seen(wanted, "all");
	}
	list_past(&calls[0].system.uid, NULL, 1);
	assert_seen(newest, "one");
	snprintf(wanted, sizeof wanted, "%s%s", newest, middle);
	list_past(&calls[0].system.uid, NULL, 2);
	assert_seen(wanted, "two");
	/* Who began in the same minute was before; the call itself was not. */
	snprintf(wanted, sizeof wanted, "%s%s", newest, first);
	list_past(&calls[0].system.uid, &calls[1], 0);
	assert_seen(wanted, "before the second");
	list_past(&calls[0].system.uid, &calls[0], 0);
	assert_seen("", "before the first");
	for (int i = 0; i < 3; i++)
		call_done(&calls[i]);
	call_done(&other);
}
END_TEST

/* ---- What earlier calls left behind ---- */

static void watch(const struct uid *call, const char *text)
{
	struct watch_item item = { .uid = uid_new(), .noted_at = books_now, .closed_at = WALL_TIME_NONE,
	                           .fault = "undercharge" };

	snprintf(item.text, sizeof item.text, "%s", text);
	assert_ok(store_list_put(store, call, LIST_WATCH, &item, &error));
}

static void list_watch(const struct uid *system, const struct uid *except)
{
	struct watch_item *list;
	size_t count;

	assert_ok(store_open_watch_items(store, system, except, WALL_TIME_NONE, &list, &count, &error));
	for (size_t i = 0; i < count; i++) {
		ck_assert_str_eq(list[i].fault, "undercharge");
		ck_assert_int_eq(list[i].noted_at, books_now);
		ck_assert_int_eq(list[i].closed_at, WALL_TIME_NONE);
		ck_assert(uid_is_valid(list[i].uid.text));
		text_add_format(&seen, "%s;", list[i].text);
	}
	free(list);
}

START_TEST(what_is_to_watch_stands_newest_call_first)
{
	struct call old, new, other;

	record(&old, "Ada", "2026-06-01T08:00:00", "");
	record_again(&new, &old, "2026-06-02T08:00:00", "");
	record(&other, "Bob", "2026-06-03T08:00:00", "");
	watch(&old.uid, "old one");
	watch(&new.uid, "new one");
	watch(&old.uid, "old two");
	watch(&new.uid, "new two");
	watch(&other.uid, "another unit's");
	list_watch(&old.system.uid, NULL);
	assert_seen("new one;new two;old one;old two;", "all");
	list_watch(&old.system.uid, &new.uid);
	assert_seen("old one;old two;", "but the new call's");
	list_watch(&old.system.uid, &old.uid);
	assert_seen("new one;new two;", "but the old call's");
	call_done(&old);
	call_done(&new);
	call_done(&other);
}
END_TEST

static void offer(const struct uid *call, const char *title, enum decision decision, const char *at)
{
	struct offer item = { .uid = uid_new(), .price_low = 10000, .price_high = 12000,
	                      .decision = decision, .decided_at = time_of(at) };

	snprintf(item.title, sizeof item.title, "%s", title);
	assert_ok(store_list_put(store, call, LIST_OFFERS, &item, &error));
}

static void list_declined(const struct call *call, bool of_system, const struct uid *except)
{
	static const struct uid none;
	struct past_offer *list;
	size_t count;

	assert_ok(store_offers_left(store, &call->customer.uid, of_system ? &call->system.uid : &none, except,
	                                &list, &count, &error));
	for (size_t i = 0; i < count; i++) {
		ck_assert_int_eq(list[i].offer.price_low, 10000);
		ck_assert_int_eq(list[i].offer.price_high, 12000);
		ck_assert_int_ne(list[i].offer.decision, DECISION_ACCEPTED);
		text_add_format(&seen, "%s%s;", list[i].offer.title,
		                list[i].offer.decision == DECISION_NONE ? "?" : list[i].is_other_taken ? "-" : "");
	}
	free(list);
}

/* Accepted at the time of declining, or later, on the same unit: it is declined no more. */
START_TEST(what_was_accepted_since_is_declined_no_more)
{
	struct call old, new, other_unit, other;

	record(&old, "Ada", "2026-06-01T08:00:00", "");
	record_again(&new, &old, "2026-06-02T08:00:00", "");
	call_init(&other_unit);
	other_unit.site.uid = old.site.uid;
	other_unit.opened_at = time_of("2026-06-03T08:00:00");
	assert_ok(store_call_record(store, &other_unit, &error));
	record(&other, "Bob", "2026-06-03T08:00:00", "");
	offer(&old.uid, "never again asked", DECISION_DECLINED, "");
	offer(&old.uid, "taken later", DECISION_DECLINED, "2026-06-01T09:00:00");
	offer(&old.uid, "taken at once", DECISION_DECLINED, "2026-06-02T08:00:00");
	offer(&old.uid, "taken before", DECISION_DECLINED, "2026-06-02T08:00:01");
	offer(&old.uid, "taken of another unit", DECISION_DECLINED, "");
	offer(&old.uid, "asked again", DECISION_DECLINED, "");
	offer(&old.uid, "accepted", DECISION_ACCEPTED, "");
	offer(&old.uid, "not decided", DECISION_NONE, "");
	offer(&new.uid, "taken later", DECISION_ACCEPTED, "2026-06-02T09:00:00");
	/* Without a time of its own: when the call began. */
	offer(&new.uid, "taken at once", DECISION_ACCEPTED, "");
	offer(&new.uid, "taken before", DECISION_ACCEPTED, "");
	offer(&new.uid, "asked again", DECISION_NONE, "");
	offer(&new.uid, "of the new call", DECISION_DECLINED, "");
	offer(&other_unit.uid, "taken of another unit", DECISION_ACCEPTED, "");
	offer(&other_unit.uid, "of another unit", DECISION_DECLINED, "");
	offer(&other.uid, "somebody else's", DECISION_DECLINED, "");
	offer(&other.uid, "never again asked", DECISION_ACCEPTED, "");
	list_declined(&old, true, NULL);
	assert_seen("asked again?;of the new call-;never again asked-;taken before-;taken of another unit-;"
	            "asked again-;not decided?;", "the unit");
	list_declined(&old, true, &new.uid);
	assert_seen("never again asked-;taken before-;taken of another unit-;asked again-;not decided?;",
	            "but the new call's");
	list_declined(&old, false, NULL);
	assert_seen("of another unit-;asked again?;of the new call-;never again asked-;taken before-;"
	            "taken of another unit-;asked again-;not decided?;", "all units");
	list_declined(&old, false, &old.uid);
	assert_seen("of another unit-;asked again?;of the new call-;", "but the old call's");
	list_declined(&other, true, NULL);
	assert_seen("somebody else's-;", "another customer");
	call_done(&old);
	call_done(&new);
	call_done(&other_unit);
	call_done(&other);
}
END_TEST

/* ---- Prices ---- */

static void list_prices(const char *text, int limit)
{
	struct price_item *list;
	size_t count;

	assert_ok(store_prices_find(store, text, limit, &list, &count, &error));
	for (size_t i = 0; i < count; i++)
		text_add_format(&seen, "%s %s %s %lld;", work_kind_key(list[i].kind), list[i].code,
		                list[i].description, (long long)list[i].unit_price);
	free(list);
}

START_TEST(prices_are_found_by_every_word_and_by_code_in_order)
{
	static const struct price_item items[] = {
		{ WORK_REFRIGERANT, "R-410A", "refrigerant, ounce", 255 },
		{ WORK_PART, "CAP-45", "Run capacitor 45 µF", 3850 },
		{ WORK_LABOUR, "HR", "hour of labour", 9500 },
		{ WORK_FEE, "VISIT", "call-out fee", 12000 },
		{ WORK_PART, "CAP-5", "Run capacitor 5 µF", 1850 },
	};
	static const char all[] = "part CAP-45 Run capacitor 45 µF 3850;part CAP-5 Run capacitor 5 µF 1850;"
		"labour HR hour of labour 9500;refrigerant R-410A refrigerant, ounce 255;"
		"fee VISIT call-out fee 12000;";

	assert_ok(store_prices_replace(store, items, 5, &error));
	for (int limit = -1; limit < 7; limit++) {
		if (limit >= 1 && limit < 5)
			continue;
		list_prices("", limit);
		assert_seen(all, "all");
	}
	list_prices("", 2);
	assert_seen("part CAP-45 Run capacitor 45 µF 3850;part CAP-5 Run capacitor 5 µF 1850;", "two");
	list_prices(" RUN\tcap ", 0);
	assert_seen("part CAP-45 Run capacitor 45 µF 3850;part CAP-5 Run capacitor 5 µF 1850;", "two words");
	list_prices("run cap µf 45", 0);
	assert_seen("part CAP-45 Run capacitor 45 µF 3850;", "four words");
	/* Past four, words are left out. */
	list_prices("run cap µf 45 nothing", 0);
	assert_seen("part CAP-45 Run capacitor 45 µF 3850;", "five words");
	list_prices("nothing cap µf 45", 0);
	list_prices("run nothing µf 45", 0);
	list_prices("run cap nothing 45", 0);
	list_prices("run cap µf nothing", 0);
	/* A word ends neither in the code nor at the line end behind it. */
	list_prices("45run", 0);
	assert_seen("", "what is not there");
	list_prices("capacitor-that-has-more-letters-than-a-word-may-have-here", 0);
	assert_seen("", "a long word");
	/* Of a word 47 letters count. */
	static const struct price_item longest = { WORK_PART, "L",
		"abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyz", 1 };
	assert_ok(store_prices_replace(store, &longest, 1, &error));
	list_prices("abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuXXXXXX", 0);
	ck_assert_uint_gt(seen.length, 0);
	text_clear(&seen);
	list_prices("abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstXXXXXXX", 0);
	assert_seen("", "the 47th is another");
	assert_ok(store_prices_replace(store, items, 1, &error));
	list_prices("", 0);
	assert_seen("refrigerant R-410A refrigerant, ounce 255;", "replaced");
	ck_assert_int_eq(store_prices_replace(store, (struct price_item[]){ items[1], items[2], items[1] }, 3,
	                                      &error), STATUS_EXISTS);
	ck_assert_str_eq(error.text, "the code \"CAP-45\" is there twice; the old price list stays");
	list_prices("", 0);
	assert_seen("refrigerant R-410A refrigerant, ounce 255;", "the old list");
}
END_TEST

Suite *finding_suite(void)
{
	Suite *suite = suite_create("finding");
	TCase *tests = tcase_create("finding");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, every_way_to_a_call_shows_all_of_its_line);
	tcase_add_test(tests, a_closed_call_shows_when_it_was_closed);
	tcase_add_test(tests, a_list_of_calls_keeps_to_its_limit_and_no_less);
	tcase_add_test(tests, a_call_of_the_very_second_asked_for_is_listed);
	tcase_add_test(tests, a_list_goes_on_below_any_of_its_lines);
	tcase_add_test(tests, the_first_that_is_asked_for_counts);
	tcase_add_test(tests, what_is_planned_for_one_minute_stands_in_one_order);
	tcase_add_test(tests, what_is_typed_is_understood_letter_by_letter);
	tcase_add_test(tests, a_very_long_search_is_no_error);
	tcase_add_test(tests, a_line_of_a_customer_says_all_of_them);
	tcase_add_test(tests, a_site_that_was_taken_out_or_joined_is_no_address_of_theirs);
	tcase_add_test(tests, a_list_of_customers_keeps_to_its_limit);
	tcase_add_test(tests, a_unit_is_found_by_its_newest_plate);
	tcase_add_test(tests, units_stand_site_by_site_with_their_plates);
	tcase_add_test(tests, earlier_calls_say_what_was_found_done_and_read);
	tcase_add_test(tests, what_is_to_watch_stands_newest_call_first);
	tcase_add_test(tests, what_was_accepted_since_is_declined_no_more);
	tcase_add_test(tests, prices_are_found_by_every_word_and_by_code_in_order);
	suite_add_tcase(suite, tests);
	return suite;
}
