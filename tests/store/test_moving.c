/* Calls that move, records that are one, what was made by mistake; and what is refused, in whose words. */
#include <check.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/store/store.h>

#include "support/books.h"
#include "support/calls.h"
#include "support/listed.h"

Suite *moving_suite(void);

static struct store *store;
static struct error error;
static struct call ada, bob;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void assert_refused(enum status status, enum status wanted, const char *words)
{
	ck_assert_int_eq(status, wanted);
	ck_assert_int_eq(error.status, wanted);
	ck_assert_msg(strcmp(error.text, words) == 0, "%s", error.text);
}

/* What the book says where an id is nobody's. */
static void assert_not_found(enum status status)
{
	char words[200];

	snprintf(words, sizeof words, "the book %s: it has no such entry; nothing was changed; check the id",
	         books_paths[0]);
	assert_refused(status, STATUS_NOT_FOUND, words);
}

static void record(struct call *call, const char *name, const char *phone, const char *opened)
{
	call_init(call);
	snprintf(call->customer.name, sizeof call->customer.name, "%s", name);
	snprintf(call->customer.phone, sizeof call->customer.phone, "%s", phone);
	snprintf(call->site.address, sizeof call->site.address, "%s's house", name);
	snprintf(call->system.name, sizeof call->system.name, "%s's unit", name);
	snprintf(call->complaint, sizeof call->complaint, "%s complains", name);
	ck_assert(clock_parse(opened, &call->opened_at));
	assert_ok(store_call_record(store, call, &error));
}

static void set_up(void)
{
	books_set_up();
	books_open(1);
	store = books[0];
	record(&ada, "Ada", "", "2026-06-01T08:00");
	record(&bob, "Bob", "555-0102", "2026-06-02T08:00");
}

static void tear_down(void)
{
	listed_sound(store, "in the end");
	call_done(&ada);
	call_done(&bob);
	books_close();
	books_tear_down();
}

/* Whose, where and which unit the call of that id is. */
static void assert_call(const struct uid *uid, const char *customer, const char *address,
                        const char *unit)
{
	struct call call;

	call_init(&call);
	assert_ok(store_call_load(store, uid->text, &call, &error));
	ck_assert_str_eq(call.customer.name, customer);
	ck_assert_str_eq(call.site.address, address);
	ck_assert_str_eq(call.system.name, unit);
	call_done(&call);
}

static int found(const char *text)
{
	return listed_customers(store, text, NULL);
}

static const char *removed(enum store_kind kind)
{
	static struct text text;
	struct store_removed *list;
	size_t count;

	if (!text.bytes)
		text_init(&text);
	text_clear(&text);
	assert_ok(store_removed(store, kind, &list, &count, &error));
	for (size_t i = 0; i < count; i++) {
		char when[CLOCK_TEXT_SIZE] = "-";
		if (list[i].opened_at != WALL_TIME_NONE)
			clock_format(list[i].opened_at, when, sizeof when);
		ck_assert(uid_is_valid(list[i].uid.text));
		text_add_format(&text, "%s|%s|%s;", list[i].words, list[i].customer, when);
	}
	free(list);
	return text_get(&text);
}

/* ---- Moving a call ---- */

START_TEST(a_unit_brings_its_site_and_its_customer)
{
	assert_ok(store_call_move(store, &ada.uid, NULL, NULL, &bob.system.uid, &error));
	assert_call(&ada.uid, "Bob", "Bob's house", "Bob's unit");
	/* Nobody refers to Ada any more. */
	ck_assert_str_eq(removed(STORE_CUSTOMER), "Ada||-;");
	ck_assert_str_eq(removed(STORE_SITE), "Ada's house||-;");
	ck_assert_str_eq(removed(STORE_SYSTEM), "Ada's unit||-;");
	ck_assert_int_eq(found("ada"), 0);
	/* Back again, she is somebody. */
	assert_ok(store_call_move(store, &ada.uid, NULL, NULL, &ada.system.uid, &error));
	assert_call(&ada.uid, "Ada", "Ada's house", "Ada's unit");
	ck_assert_str_eq(removed(STORE_CUSTOMER), "");
	ck_assert_str_eq(removed(STORE_SITE), "");
	ck_assert_str_eq(removed(STORE_SYSTEM), "");
	ck_assert_int_eq(found("ada"), 1);
}
END_TEST

START_TEST(a_site_brings_its_customer_and_leaves_the_unit)
{
	assert_ok(store_call_move(store, &ada.uid, NULL, &bob.site.uid, NULL, &error));
	assert_call(&ada.uid, "Bob", "Bob's house", "Ada's unit");
	/* The unit stands at her house still. */
	ck_assert_str_eq(removed(STORE_CUSTOMER), "");
	ck_assert_str_eq(removed(STORE_SITE), "");
}
END_TEST

START_TEST(a_customer_alone_changes_nothing_else)
{
	assert_ok(store_call_move(store, &ada.uid, &bob.customer.uid, NULL, NULL, &error));
	assert_call(&ada.uid, "Bob", "Ada's house", "Ada's unit");
	ck_assert_int_eq(found("ada's house"), 2);
	assert_ok(store_call_move(store, &ada.uid, &ada.customer.uid, NULL, NULL, &error));
	ck_assert_int_eq(found("ada's house"), 1);
	assert_ok(store_call_move(store, &ada.uid, &ada.customer.uid, &bob.site.uid, &ada.system.uid, &error));
	assert_call(&ada.uid, "Ada", "Bob's house", "Ada's unit");
	ck_assert_int_eq(found("bob's house"), 2);
}
END_TEST

START_TEST(a_call_moves_only_to_what_there_is_of_that_kind)
{
	struct uid nobody = uid_new();

	assert_not_found(store_call_move(store, &nobody, &bob.customer.uid, NULL, NULL, &error));
	assert_not_found(store_call_move(store, &ada.uid, &nobody, NULL, NULL, &error));
	assert_not_found(store_call_move(store, &ada.uid, &bob.site.uid, NULL, NULL, &error));
	assert_not_found(store_call_move(store, &ada.uid, NULL, &bob.system.uid, NULL, &error));
	assert_not_found(store_call_move(store, &ada.uid, NULL, NULL, &bob.customer.uid, &error));
	assert_call(&ada.uid, "Ada", "Ada's house", "Ada's unit");
	ck_assert_str_eq(removed(STORE_CUSTOMER), "");
}
END_TEST

/* When a call began decides who is found first. */
START_TEST(who_was_visited_last_follows_when_a_call_began)
{
	struct call after = ada;
	struct customer_line last;

	ck_assert_int_eq(listed_customers(store, "", &last), 2);
	ck_assert_str_eq(last.customer.name, "Ada");
	ck_assert(clock_parse("2026-06-03T08:00", &after.opened_at));
	assert_ok(store_call_change(store, &ada, &after, &error));
	ck_assert_int_eq(listed_customers(store, "", &last), 2);
	ck_assert_str_eq(last.customer.name, "Bob");
	ck_assert_int_eq(found("ada"), 1);
	assert_ok(store_take_out(store, &ada.uid, &error));
	ck_assert_int_eq(listed_customers(store, "", &last), 2);
	ck_assert_str_eq(last.customer.name, "Ada");
	ck_assert_int_eq(last.last_call, WALL_TIME_NONE);
}
END_TEST

START_TEST(a_bill_is_the_header_and_the_work)
{
	struct work_line line = { .uid = uid_new(), .kind = WORK_PART, .quantity = 1000, .unit_price = 4200 };
	struct watch_item item = { .uid = uid_new(), .noted_at = books_now, .closed_at = WALL_TIME_NONE };
	struct uid nobody = uid_new();
	struct call after = ada, back;
	struct value value;

	assert_ok(store_list_put(store, &ada.uid, LIST_WORK, &line, &error));
	assert_ok(store_list_put(store, &ada.uid, LIST_WATCH, &item, &error));
	assert_ok(reading_parse(READING_OUTDOOR_DB, "95", UNITS_US, &value, &error));
	assert_ok(store_value_set(store, &ada.uid, STAGE_AS_FOUND, READING_OUTDOOR_DB, &value, &error));
	after.billing.deposit = 1000;
	assert_ok(store_call_change(store, &ada, &after, &error));
	call_init(&back);
	assert_ok(store_call_load_bill(store, &ada.uid, &back, &error));
	ck_assert_str_eq(back.customer.name, "Ada");
	ck_assert_str_eq(back.uid.text, ada.uid.text);
	ck_assert_int_eq(back.billing.deposit, 1000);
	ck_assert_uint_eq(back.work_count, 1);
	ck_assert_int_eq(back.work[0].unit_price, 4200);
	ck_assert_uint_eq(back.watch_count, 0);
	ck_assert(!visit_has(&back.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB));
	call_done(&back);
	call_init(&back);
	assert_not_found(store_call_load_bill(store, &nobody, &back, &error));
	call_done(&back);
}
END_TEST

/* ---- Joining ---- */

static void assert_no_join(enum store_kind kind, const struct uid *from, const struct uid *into)
{
	assert_refused(store_join(store, kind, from, into, &error), STATUS_REFUSED,
	               "these two cannot be joined; nothing was changed");
}

START_TEST(only_two_of_one_kind_are_joined)
{
	struct uid nobody = uid_new();

	assert_no_join(STORE_CALL, &ada.uid, &bob.uid);
	assert_no_join(STORE_CUSTOMER, &ada.uid, &bob.uid);
	assert_no_join(STORE_CUSTOMER, &ada.site.uid, &bob.site.uid);
	assert_no_join(STORE_SITE, &ada.customer.uid, &bob.site.uid);
	assert_no_join(STORE_SITE, &ada.site.uid, &bob.customer.uid);
	assert_no_join(STORE_SYSTEM, &ada.site.uid, &bob.site.uid);
	assert_no_join(STORE_CUSTOMER, &ada.customer.uid, &ada.customer.uid);
	assert_not_found(store_join(store, STORE_CUSTOMER, &nobody, &bob.customer.uid, &error));
	assert_not_found(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &nobody, &error));
	assert_not_found(store_part_again(store, &nobody, &error));
	assert_call(&ada.uid, "Ada", "Ada's house", "Ada's unit");
}
END_TEST

/* Each kind by itself: what referred to the one refers to the other, until they are parted. */
START_TEST(each_kind_is_joined_and_parted_again)
{
	assert_ok(store_join(store, STORE_SYSTEM, &ada.system.uid, &bob.system.uid, &error));
	assert_call(&ada.uid, "Ada", "Ada's house", "Bob's unit");
	assert_ok(store_join(store, STORE_SITE, &ada.site.uid, &bob.site.uid, &error));
	assert_call(&ada.uid, "Ada", "Bob's house", "Bob's unit");
	assert_ok(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &bob.customer.uid, &error));
	assert_call(&ada.uid, "Bob", "Bob's house", "Bob's unit");
	ck_assert_int_eq(found(""), 1);
	listed_sound(store, "joined");
	assert_no_join(STORE_CUSTOMER, &bob.customer.uid, &ada.customer.uid);
	assert_ok(store_part_again(store, &ada.customer.uid, &error));
	assert_call(&ada.uid, "Ada", "Bob's house", "Bob's unit");
	assert_ok(store_part_again(store, &ada.site.uid, &error));
	assert_ok(store_part_again(store, &ada.system.uid, &error));
	assert_call(&ada.uid, "Ada", "Ada's house", "Ada's unit");
	ck_assert_int_eq(found(""), 2);
}
END_TEST

/* Of the customer of a call as the book has it. */
static struct customer customer_of(const struct call *call)
{
	struct call back;

	call_init(&back);
	assert_ok(store_call_load(store, call->uid.text, &back, &error));
	const struct customer customer = back.customer;
	call_done(&back);
	return customer;
}

/* Who was joined by mistake is a stranger: his mail is no one else's when both are parted. */
START_TEST(what_a_join_filled_in_goes_when_they_part)
{
	struct call after = ada, changed = bob;

	snprintf(after.customer.email, sizeof after.customer.email, "ada@example.com");
	assert_ok(store_call_change(store, &ada, &after, &error));
	assert_ok(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &bob.customer.uid, &error));
	ck_assert_str_eq(customer_of(&bob).email, "ada@example.com");
	assert_ok(store_part_again(store, &ada.customer.uid, &error));
	ck_assert_str_eq(customer_of(&bob).email, "");
	ck_assert_str_eq(customer_of(&bob).phone, "555-0102");
	ck_assert_str_eq(customer_of(&ada).email, "ada@example.com");
	listed_sound(store, "parted");
	/* What Bob had himself before, the same words too, is his; what was typed since as well. */
	snprintf(changed.customer.email, sizeof changed.customer.email, "ada@example.com");
	assert_ok(store_call_change(store, &bob, &changed, &error));
	assert_ok(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &bob.customer.uid, &error));
	assert_ok(store_part_again(store, &ada.customer.uid, &error));
	ck_assert_str_eq(customer_of(&bob).email, "ada@example.com");
	assert_ok(store_call_change(store, &changed, &bob, &error));
	assert_ok(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &bob.customer.uid, &error));
	after = bob;
	snprintf(after.customer.email, sizeof after.customer.email, "ada@example.com");
	snprintf(changed.customer.email, sizeof changed.customer.email, "bob@example.com");
	assert_ok(store_call_change(store, &after, &changed, &error));
	assert_ok(store_part_again(store, &ada.customer.uid, &error));
	ck_assert_str_eq(customer_of(&bob).email, "bob@example.com");
	listed_sound(store, "parted again");
}
END_TEST

/* What the other says stays; what it does not say is filled in. */
START_TEST(a_join_fills_in_what_is_not_said)
{
	struct call after = ada, back;

	snprintf(after.customer.phone, sizeof after.customer.phone, "555-0101");
	snprintf(after.customer.email, sizeof after.customer.email, "ada@example.com");
	assert_ok(store_call_change(store, &ada, &after, &error));
	assert_ok(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &bob.customer.uid, &error));
	call_init(&back);
	assert_ok(store_call_load(store, ada.uid.text, &back, &error));
	ck_assert_str_eq(back.customer.name, "Bob");
	ck_assert_str_eq(back.customer.phone, "555-0102");
	ck_assert_str_eq(back.customer.email, "ada@example.com");
	call_done(&back);
}
END_TEST

/* Ada into Bob, Bob into Carol: all three are Carol; a circle is refused. */
START_TEST(joins_follow_each_other)
{
	struct call carol;

	record(&carol, "Carol", "", "2026-06-03T08:00");
	assert_ok(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &bob.customer.uid, &error));
	assert_ok(store_join(store, STORE_CUSTOMER, &bob.customer.uid, &carol.customer.uid, &error));
	assert_call(&ada.uid, "Carol", "Ada's house", "Ada's unit");
	assert_call(&bob.uid, "Carol", "Bob's house", "Bob's unit");
	assert_no_join(STORE_CUSTOMER, &carol.customer.uid, &ada.customer.uid);
	/* Another one than before. */
	assert_ok(store_join(store, STORE_CUSTOMER, &ada.customer.uid, &carol.customer.uid, &error));
	assert_ok(store_part_again(store, &bob.customer.uid, &error));
	assert_call(&ada.uid, "Carol", "Ada's house", "Ada's unit");
	assert_call(&bob.uid, "Bob", "Bob's house", "Bob's unit");
	call_done(&carol);
}
END_TEST

/* ---- Taking out ---- */

START_TEST(what_has_calls_is_not_taken_out_and_says_what_it_is)
{
	struct uid nobody = uid_new();

	assert_refused(store_take_out(store, &ada.customer.uid, &error), STATUS_REFUSED,
	               "there are calls of this customer; nothing was taken out; move them first, or join it "
	               "with the right one");
	assert_refused(store_take_out(store, &ada.site.uid, &error), STATUS_REFUSED,
	               "there are calls of this site; nothing was taken out; move them first, or join it with "
	               "the right one");
	assert_refused(store_take_out(store, &ada.system.uid, &error), STATUS_REFUSED,
	               "there are calls of this unit; nothing was taken out; move them first, or join it with "
	               "the right one");
	assert_not_found(store_take_out(store, &nobody, &error));
	assert_not_found(store_bring_back(store, &nobody, &error));
	for (int kind = STORE_CUSTOMER; kind <= STORE_CALL; kind++)
		ck_assert_str_eq(removed((enum store_kind)kind), "");
}
END_TEST

START_TEST(what_was_taken_out_says_what_it_was_and_comes_back)
{
	struct call back;

	call_init(&back);
	assert_ok(store_take_out(store, &ada.uid, &error));
	ck_assert_int_eq(store_call_load(store, ada.uid.text, &back, &error), STATUS_NOT_FOUND);
	assert_ok(store_take_out(store, &ada.system.uid, &error));
	assert_ok(store_take_out(store, &ada.site.uid, &error));
	ck_assert_int_eq(found("ada"), 1);
	assert_ok(store_take_out(store, &ada.customer.uid, &error));
	ck_assert_int_eq(found("ada"), 0);
	ck_assert_str_eq(removed(STORE_CALL), "Ada complains|Ada|2026-06-01T08:00:00;");
	ck_assert_str_eq(removed(STORE_SYSTEM), "Ada's unit||-;");
	ck_assert_str_eq(removed(STORE_SITE), "Ada's house||-;");
	ck_assert_str_eq(removed(STORE_CUSTOMER), "Ada||-;");
	listed_sound(store, "all taken out");
	/* The last made stands first. */
	assert_ok(store_take_out(store, &bob.uid, &error));
	ck_assert_str_eq(removed(STORE_CALL), "Bob complains|Bob|2026-06-02T08:00:00;"
	                 "Ada complains|Ada|2026-06-01T08:00:00;");
	assert_ok(store_bring_back(store, &ada.customer.uid, &error));
	assert_ok(store_bring_back(store, &ada.site.uid, &error));
	assert_ok(store_bring_back(store, &ada.system.uid, &error));
	assert_ok(store_bring_back(store, &ada.uid, &error));
	ck_assert_str_eq(removed(STORE_CALL), "Bob complains|Bob|2026-06-02T08:00:00;");
	assert_call(&ada.uid, "Ada", "Ada's house", "Ada's unit");
	ck_assert_int_eq(found("ada"), 1);
}
END_TEST

/* ---- Ids that are somebody else's ---- */

/* A mended bug: it said that the book has the call already. */
START_TEST(an_id_of_something_else_is_no_customer)
{
	struct call call;
	char words[200];

	call_init(&call);
	call.customer.uid = ada.site.uid;
	snprintf(words, sizeof words, "the id %s belongs to something else; nothing was stored",
	         ada.site.uid.text);
	assert_refused(store_call_record(store, &call, &error), STATUS_EXISTS, words);
	call_init(&call);
	call.uid = ada.uid;
	snprintf(words, sizeof words, "the book has the call %s already; nothing was stored", ada.uid.text);
	assert_refused(store_call_record(store, &call, &error), STATUS_EXISTS, words);
	ck_assert_int_eq(found(""), 2);
}
END_TEST

START_TEST(a_line_belongs_to_one_list_of_one_call)
{
	struct work_line line = { .uid = uid_new(), .kind = WORK_PART, .quantity = 1000 };
	struct watch_item item = { .uid = line.uid, .noted_at = books_now, .closed_at = WALL_TIME_NONE };
	struct uid nobody = uid_new();
	char words[200];

	assert_not_found(store_list_put(store, &nobody, LIST_WORK, &line, &error));
	assert_ok(store_list_put(store, &ada.uid, LIST_WORK, &line, &error));
	snprintf(words, sizeof words, "the book has the line %s already, in another place; nothing was stored",
	         line.uid.text);
	assert_refused(store_list_put(store, &bob.uid, LIST_WORK, &line, &error), STATUS_EXISTS, words);
	assert_refused(store_list_put(store, &ada.uid, LIST_WATCH, &item, &error), STATUS_EXISTS, words);
	assert_not_found(store_list_remove(store, LIST_WATCH, &line.uid, &error));
	assert_not_found(store_list_remove(store, LIST_WORK, &nobody, &error));
	assert_not_found(store_watch_close(store, &line.uid, books_now, &error));
	assert_not_found(store_watch_close(store, &nobody, books_now, &error));
	/* A line that came twice in one call is refused with the call. */
	struct call call;
	call_init(&call);
	*call_add_work(&call) = line;
	snprintf(words, sizeof words, "the book has the line %s already; nothing was stored", line.uid.text);
	assert_refused(store_call_record(store, &call, &error), STATUS_EXISTS, words);
	call_done(&call);
	ck_assert_int_eq(found(""), 2);
}
END_TEST

START_TEST(readings_and_lines_for_lists_are_of_calls_alone)
{
	struct uid nobody = uid_new();
	struct value value;
	char found_line[LINE_SIZE] = "before", done_line[LINE_SIZE] = "before";
	bool stand = true;

	assert_ok(reading_parse(READING_OUTDOOR_DB, "95", UNITS_US, &value, &error));
	assert_not_found(store_value_set(store, &nobody, STAGE_AS_FOUND, READING_OUTDOOR_DB, &value, &error));
	assert_not_found(store_value_set(store, &ada.site.uid, STAGE_AS_FOUND, READING_OUTDOOR_DB, &value,
	                                 &error));
	assert_not_found(store_call_save_lines(store, &nobody, "found", "done", &error));
	assert_ok(store_call_lines(store, &nobody, found_line, sizeof found_line, done_line, sizeof done_line,
	                           &stand, &error));
	ck_assert(!stand);
	assert_ok(store_call_save_lines(store, &ada.uid, "found", "done", &error));
	assert_ok(store_call_lines(store, &ada.uid, found_line, sizeof found_line, done_line, sizeof done_line,
	                           &stand, &error));
	ck_assert(stand);
	ck_assert_str_eq(found_line, "found");
	ck_assert_str_eq(done_line, "done");
}
END_TEST

/* ---- Turning a field ---- */

START_TEST(a_field_is_turned_only_from_what_stands_there)
{
	struct uid nobody = uid_new();
	struct call back;
	struct value value;

	assert_ok(reading_parse(READING_OUTDOOR_DB, "95", UNITS_US, &value, &error));
	value.taken_at = books_now;
	assert_ok(store_value_set(store, &ada.uid, STAGE_AS_FOUND, READING_OUTDOOR_DB, &value, &error));
	books_now += 600;
	value.number = 96;
	value.taken_at = books_now;
	assert_ok(store_value_set(store, &ada.uid, STAGE_AS_FOUND, READING_OUTDOOR_DB, &value, &error));
	books_now += 600;
	assert_refused(store_field_turn(store, &ada.uid, "as_found.outdoor_db", "95", "94", &error), STATUS_REFUSED,
	               "this field was changed again since; nothing was taken back");
	assert_not_found(store_field_turn(store, &nobody, "complaint", "", "x", &error));
	assert_not_found(store_field_turn(store, &ada.uid, "no such field", "", "x", &error));
	assert_ok(store_field_turn(store, &ada.uid, "as_found.outdoor_db", "96", "95", &error));
	call_init(&back);
	assert_ok(store_call_load(store, ada.uid.text, &back, &error));
	const struct value *now = visit_value(&back.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB);
	ck_assert_double_eq(now->number, 95);
	/* When it was taken the first time. */
	ck_assert_int_eq(now->taken_at, books_now - 1200);
	/* What never stood there was taken now; nothing has no time. */
	assert_ok(store_field_turn(store, &ada.uid, "as_found.outdoor_db", "95", "90", &error));
	assert_ok(store_call_load(store, ada.uid.text, &back, &error));
	ck_assert_int_eq(visit_value(&back.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB)->taken_at, books_now);
	assert_ok(store_field_turn(store, &ada.uid, "as_found.outdoor_db", "90", "", &error));
	assert_ok(store_call_load(store, ada.uid.text, &back, &error));
	ck_assert(!visit_has(&back.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB));
	ck_assert_int_eq(visit_value(&back.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB)->taken_at, WALL_TIME_NONE);
	/* A text has no time of its own, a blank becomes a text. */
	assert_ok(store_field_turn(store, &ada.uid, "complaint", "Ada complains", "", &error));
	assert_ok(store_field_turn(store, &ada.uid, "complaint", "", "again", &error));
	assert_ok(store_call_load(store, ada.uid.text, &back, &error));
	ck_assert_str_eq(back.complaint, "again");
	call_done(&back);
}
END_TEST

/* ---- The trail of a call ---- */

static void add_entry(struct text *text, const struct store_entry *entry)
{
	char when[CLOCK_TEXT_SIZE];

	clock_format(entry->at, when, sizeof when);
	text_add_format(text, "%s %s: %s -> %s by %s at %s\n", entry->what, entry->field, entry->before,
	                entry->after, entry->by, when);
}

START_TEST(the_trail_of_a_call_says_who_changed_what_and_when)
{
	static const char wanted[] =
		"work removed:  -> 1 by Ann at 2026-06-03T09:20:00\n"
		"work unit_price: 1000 -> 1500 by Ann at 2026-06-03T09:20:00\n"
		"system name: Ada's unit -> roof by Ann at 2026-06-03T09:20:00\n"
		"customer phone:  -> 555-0101 by Ann at 2026-06-03T09:20:00\n"
		"work unit_price:  -> 1000 by  at 2026-06-03T09:10:00\n"
		"work quantity:  -> 1000 by  at 2026-06-03T09:10:00\n"
		"work description:  -> capacitor by  at 2026-06-03T09:10:00\n"
		"work kind:  -> part by  at 2026-06-03T09:10:00\n"
		"call opened_at:  -> 2026-06-01T08:00:00 by  at 2026-06-03T09:00:00\n"
		"call complaint:  -> Ada complains by  at 2026-06-03T09:00:00\n";
	struct work_line line = { .uid = uid_new(), .kind = WORK_PART, .quantity = 1000, .unit_price = 1000,
	                          .description = "capacitor" };
	struct call after = ada;
	struct store_entry *list;
	struct text text;
	size_t count;

	books_now += 600;
	assert_ok(store_list_put(store, &ada.uid, LIST_WORK, &line, &error));
	books_now += 600;
	assert_ok(store_setting_set(store, "technician", "Ann", &error));
	snprintf(after.customer.phone, sizeof after.customer.phone, "555-0101");
	snprintf(after.system.name, sizeof after.system.name, "roof");
	assert_ok(store_call_change(store, &ada, &after, &error));
	line.unit_price = 1500;
	assert_ok(store_list_put(store, &ada.uid, LIST_WORK, &line, &error));
	assert_ok(store_list_remove(store, LIST_WORK, &line.uid, &error));
	text_init(&text);
	assert_ok(store_call_trail(store, &ada.uid, &list, &count, &error));
	for (size_t i = 0; i < count; i++) {
		add_entry(&text, &list[i]);
		ck_assert(i == 0 || list[i].stamp < list[i - 1].stamp);
		ck_assert_int_gt(list[i].book, 0);
	}
	ck_assert_str_eq(text_get(&text), wanted);
	free(list);
	text_done(&text);
	/* Of what is no call there is no trail to show. */
	struct uid nobody = uid_new();
	assert_not_found(store_call_trail(store, &nobody, &list, &count, &error));
	ck_assert_ptr_null(list);
	ck_assert_uint_eq(count, 0);
}
END_TEST

/* More changes than the list has room for at first, and more than that twice. */
START_TEST(a_long_trail_is_whole)
{
	struct value value;

	assert_ok(reading_parse(READING_OUTDOOR_DB, "60", UNITS_US, &value, &error));
	assert_ok(store_begin(store, &error));
	for (int i = 0; i < 150; i++) {
		value.number = 60 + i % 50;
		value.taken_at = books_now + i;
		assert_ok(store_value_set(store, &ada.uid, STAGE_AS_FOUND, READING_OUTDOOR_DB, &value, &error));
	}
	assert_ok(store_end(store, STATUS_OK, &error));
	ck_assert_int_eq(listed_changes(store, &ada.uid), 150);
}
END_TEST

Suite *moving_suite(void)
{
	Suite *suite = suite_create("moving");
	TCase *tests = tcase_create("moving");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_unit_brings_its_site_and_its_customer);
	tcase_add_test(tests, a_site_brings_its_customer_and_leaves_the_unit);
	tcase_add_test(tests, a_customer_alone_changes_nothing_else);
	tcase_add_test(tests, a_call_moves_only_to_what_there_is_of_that_kind);
	tcase_add_test(tests, who_was_visited_last_follows_when_a_call_began);
	tcase_add_test(tests, a_bill_is_the_header_and_the_work);
	tcase_add_test(tests, only_two_of_one_kind_are_joined);
	tcase_add_test(tests, each_kind_is_joined_and_parted_again);
	tcase_add_test(tests, a_join_fills_in_what_is_not_said);
	tcase_add_test(tests, what_a_join_filled_in_goes_when_they_part);
	tcase_add_test(tests, joins_follow_each_other);
	tcase_add_test(tests, what_has_calls_is_not_taken_out_and_says_what_it_is);
	tcase_add_test(tests, what_was_taken_out_says_what_it_was_and_comes_back);
	tcase_add_test(tests, an_id_of_something_else_is_no_customer);
	tcase_add_test(tests, a_line_belongs_to_one_list_of_one_call);
	tcase_add_test(tests, readings_and_lines_for_lists_are_of_calls_alone);
	tcase_add_test(tests, a_field_is_turned_only_from_what_stands_there);
	tcase_add_test(tests, the_trail_of_a_call_says_who_changed_what_and_when);
	tcase_add_test(tests, a_long_trail_is_whole);
	suite_add_tcase(suite, tests);
	return suite;
}
