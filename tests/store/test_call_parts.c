/* The members of a call: exact text and back, through JSON, the book, the session and a merge. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/app/session.h>
#include <padside/model/call_parts.h>

#include "support/scratch.h"

Suite *call_parts_suite(void);

static struct error error;
static wall_time now;

static wall_time test_now(void *context)
{
	(void)context;
	return now;
}

static const struct clock test_clock = { .now = test_now };

static void set_up(void)
{
	ck_assert(clock_parse("2026-06-03T09:12", &now));
}

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

/* A call with every new member and list set. */
static const char document[] =
	"{\"customer\": {\"name\": \"Ada\"},\n"
	" \"call\": {\"planned_at\": \"2026-06-04T13:00\", \"access_note\": \"gate code 4711\",\n"
	"  \"job_number\": \"J-77\", \"technician\": \"Bo Lind\", \"licence\": \"L-1\",\n"
	"  \"certification\": \"U-9\", \"arrived_at\": \"2026-06-04T13:04\",\n"
	"  \"left_at\": \"2026-06-04T15:30\", \"authorised_by\": \"Ada\",\n"
	"  \"authorised_at\": \"2026-06-04T13:30\", \"authorised_amount\": \"450.05\",\n"
	"  \"accepted_by\": \"Ada N.\", \"accepted_at\": \"2026-06-04T15:20\",\n"
	"  \"accepted_total\": \"95.00\",\n"
	"  \"payment_terms\": \"14 days\", \"billed_at\": \"2026-06-05\"},\n"
	" \"judgement\": [{\"fault\": \"undercharge\", \"verdict\": \"ruled_out\", \"why\": \"weighed in\",\n"
	"  \"by\": \"Bo\", \"at\": \"2026-06-04T14:00\"}],\n"
	" \"tightness\": [{\"kind\": \"vacuum\", \"at\": \"2026-06-04T14:40\", \"microns\": 320},\n"
	"  {\"kind\": \"nitrogen\", \"at\": \"2026-06-04T14:10\", \"pressure\": \"10 bar\", \"temperature\": 0},\n"
	"  {\"kind\": \"weigh_in\", \"at\": \"2026-06-04T15:00\", \"amount\": 96, \"cylinder\": \"N-5\"}],\n"
	" \"cylinder\": [{\"name\": \"C-7\", \"refrigerant\": \"R-410A\", \"water_capacity\": 47.7,\n"
	"  \"tare\": 17.5, \"weight\": \"15 kg\", \"test_date\": \"2024-05-01\"}]}";

static void read_document(struct call *call)
{
	struct json_reader *reader = json_reader_new();

	call_init(call);
	assert_ok(call_json_read(reader, document, strlen(document), CALL_JSON_RECORD, call, &error));
	json_reader_free(reader);
}

START_TEST(a_call_of_every_member_is_read_from_json)
{
	struct call call;

	read_document(&call);
	ck_assert_str_eq(call.access_note, "gate code 4711");
	ck_assert_int_eq(call.authorised_amount, 45005);
	ck_assert_int_eq(call.accepted_total, 9500);
	ck_assert_int_eq(call.judgements[0].verdict, JUDGEMENT_RULED_OUT);
	/* The log is kept by time; 10 bar are 145.04 psi (NIST SP 811). */
	ck_assert_int_eq(call.tightness[0].kind, TIGHTNESS_NITROGEN);
	ck_assert_double_eq_tol(call.tightness[0].pressure.number, 145.0377, 1e-4);
	/* Zero degrees were measured; the microns were not. */
	ck_assert_int_eq(call.tightness[0].temperature.state, VALUE_TAKEN);
	ck_assert_int_eq(call.tightness[0].microns.state, VALUE_NOT_TAKEN);
	ck_assert_double_eq(call.tightness[1].microns.number, 320);
	ck_assert_str_eq(call.tightness[2].cylinder, "N-5");
	ck_assert_int_eq(call.cylinders[0].refrigerant, CHOICE_REFRIGERANT_R410A);
	ck_assert_double_eq_tol(call.cylinders[0].weight_lb, 33.069, 1e-3);
	call_done(&call);
}
END_TEST

START_TEST(members_outside_their_limits_are_refused)
{
	static const struct {
		const char *document, *says;
	} rows[] = {
		{ "{\"call\": {\"planned_at\": \"soon\"}}", "call.planned_at: a local time" },
		{ "{\"call\": {\"authorised_amount\": -1}}", "call.authorised_amount: it takes 0" },
		{ "{\"judgement\": [{\"verdict\": \"maybe\"}]}", "judgement[0].verdict: confirmed, ruled_out" },
		/* Up to twelve digits are read, and then too much; more are no amount at all. */
		{ "{\"billing\": {\"deposit\": \"123456789012\"}}", "billing.deposit: it takes 0 to 10000000" },
		{ "{\"billing\": {\"deposit\": \"1234567890123\"}}", "billing.deposit: an amount like 12.50" },
		{ "{\"tightness\": [{\"kind\": \"air\"}]}", "tightness[0].kind: nitrogen, vacuum" },
		{ "{\"tightness\": [{\"pressure\": 4000}]}", "tightness[0].pressure: it takes -14.7 to 1000" },
		{ "{\"tightness\": [{\"microns\": \"300 psi\"}]}", "tightness[0].microns: a number is expected" },
		{ "{\"cylinder\": [{\"refrigerant\": \"R-9\"}]}", "cylinder[0].refrigerant: a refrigerant" },
		{ "{\"cylinder\": [{\"tare\": \"2 psi\"}]}", "cylinder[0].tare: a number in lb" },
	};
	struct json_reader *reader = json_reader_new();
	struct call call;

	call_init(&call);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert(call_json_read(reader, rows[i].document, strlen(rows[i].document), CALL_JSON_ASSESS,
		                         &call, &error) != STATUS_OK);
		ck_assert_msg(strstr(error.text, rows[i].says) != NULL, "%s: %s", rows[i].document, error.text);
	}
	json_reader_free(reader);
}
END_TEST

static void write_call(struct store *store, const struct uid *uid, struct text *out)
{
	struct call back;

	call_init(&back);
	assert_ok(store_call_load(store, uid->text, &back, &error));
	text_init(out);
	call_json_write(&back, out);
	call_done(&back);
}

/* What names a line stands in JSON even when it is empty: a reader need not ask for it. */
START_TEST(the_customers_name_is_always_written)
{
	struct call call;
	struct text text;

	call_init(&call);
	text_init(&text);
	call_json_write(&call, &text);
	ck_assert_msg(strstr(text_get(&text), "\"customer\": {\"name\": \"\"}") != NULL, "%s", text_get(&text));
	text_done(&text);
	call_done(&call);
}
END_TEST

START_TEST(what_names_a_line_is_always_written)
{
	static const struct {
		enum call_list list;
		const char *member;
	} rows[] = {
		{ LIST_CYLINDERS, "\"name\": \"\"" }, { LIST_TIGHTNESS, "\"kind\": \"" },
		{ LIST_WORK, "\"description\": \"\"" }, { LIST_WORK, "\"kind\": \"" },
		{ LIST_WORK, "\"quantity\": 1" }, { LIST_WORK, "\"unit_price\": \"0.00\"" },
		{ LIST_OFFERS, "\"title\": \"\"" }, { LIST_OFFERS, "\"price_low\": \"0.00\"" },
		{ LIST_OFFERS, "\"price_high\": \"0.00\"" }, { LIST_WATCH, "\"text\": \"\"" },
		{ LIST_JUDGEMENTS, "\"fault\": \"\"" }, { LIST_JUDGEMENTS, "\"verdict\": \"" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct call call;
		struct text text;
		call_init(&call);
		text_init(&text);
		ck_assert_ptr_nonnull(call_list_add(&call, rows[i].list));
		call_json_write(&call, &text);
		ck_assert_msg(strstr(text_get(&text), rows[i].member) != NULL, "%s: %s", rows[i].member,
		              text_get(&text));
		text_done(&text);
		call_done(&call);
	}
}
END_TEST

START_TEST(a_call_of_every_member_goes_through_book_and_merge)
{
	char folder[SCRATCH_SIZE], paths[2][96];
	struct store *books[2];
	struct merge_report report;
	struct text straight, here, there;
	struct call call;

	scratch_make(folder);
	for (int i = 0; i < 2; i++) {
		snprintf(paths[i], sizeof paths[i], "%s/%d.db", folder, i);
		assert_ok(store_open(paths[i], STORE_CREATE, &test_clock, &books[i], &error));
	}
	read_document(&call);
	assert_ok(store_call_record(books[0], &call, &error));
	text_init(&straight);
	call_json_write(&call, &straight);
	write_call(books[0], &call.uid, &here);
	ck_assert_str_eq(text_get(&straight), text_get(&here));
	assert_ok(store_merge(books[1], paths[0], &report, &error));
	write_call(books[1], &call.uid, &there);
	ck_assert_str_eq(text_get(&here), text_get(&there));
	text_done(&straight);
	text_done(&here);
	text_done(&there);
	call_done(&call);
	for (int i = 0; i < 2; i++)
		store_close(books[i]);
	scratch_remove(folder);
}
END_TEST

/* Sets every member to something, as exact text, and reads it back from a struct made anew. */
START_TEST(every_member_comes_back_from_its_exact_text)
{
	static const char *const samples[CALL_FORM_COUNT] = {
		[FORM_TEXT] = "ab", [FORM_TIME] = "2026-06-03T09:12:30", [FORM_CENTS] = "1205",
		[FORM_QUANTITY] = "1500", [FORM_PERCENT] = "725", [FORM_AMOUNT] = "12.5",
		[FORM_MEASURED] = "0", [FORM_FLAG] = "1", [FORM_WORK_KIND] = "fee",
		[FORM_DECISION] = "declined", [FORM_VERDICT] = "watch", [FORM_TIGHTNESS_KIND] = "weigh_in",
		[FORM_REFRIGERANT] = "R-32",
	};
	static struct call call;

	call_init(&call);
	for (int list = 0; list < CALL_LIST_COUNT; list++)
		ck_assert_ptr_nonnull(call_list_add(&call, (enum call_list)list));
	for (int i = 0; i < CALL_PART_COUNT; i++) {
		const struct call_part_info *part = call_part_info((enum call_part)i);
		char *at = part->is_list ? call_list_at(&call, part->list, 0) : (char *)&call + part->offset;
		for (const struct call_member *member = part->members; member->key; member++) {
			char text[MEMBER_TEXT_SIZE];
			ck_assert_ptr_eq(call_member_find((enum call_part)i, member->key), member);
			ck_assert_msg(call_member_parse(member, at, samples[member->form]), "%s", member->key);
			call_member_format(member, at, text, sizeof text);
			ck_assert_str_eq(text, samples[member->form]);
			ck_assert(call_member_parse(member, at, ""));
		}
	}
	call_done(&call);
}
END_TEST

/* What is no text of the member, or beyond its limits, is refused, and what stood there stays. */
/*
 * How little and how much a member takes, as the manual says: the last that is taken and the first
 * that is not, as exact texts (money in cents, quantities and percentages in thousandths).
 */
static const struct {
	enum call_part part;
	const char *key, *least, *below, *most, *above;
} limits[] = {
	{ PART_CALL, "authorised_amount", "0", "-1", "1000000000", "1000000001" },
	{ PART_CALL, "accepted_total", "0", "-1", "1000000000", "1000000001" },
	{ PART_BILLING, "discount", "0", "-1", "100000", "100001" },
	{ PART_BILLING, "deposit", "0", "-1", "1000000000", "1000000001" },
	{ PART_BILLING, "cooling_hours", "0", "-0.1", "8784", "8784.1" },
	{ PART_BILLING, "energy_rate", "0", "-0.1", "1000", "1000.1" },
	{ PART_TAX, "labour", "0", "-1", "100000", "100001" },
	{ PART_TAX, "part", "0", "-1", "100000", "100001" },
	{ PART_TAX, "refrigerant", "0", "-1", "100000", "100001" },
	{ PART_TAX, "fee", "0", "-1", "100000", "100001" },
	{ PART_CHARGE, "added", "0", "-0.1", "3000", "3000.1" },
	{ PART_CHARGE, "recovered", "0", "-0.1", "3000", "3000.1" },
	{ PART_WORK, "quantity", "0", "-1", "1000000000", "1000000001" },
	{ PART_WORK, "unit_price", "-1000000000", "-1000000001", "1000000000", "1000000001" },
	{ PART_OFFERS, "price_low", "0", "-1", "1000000000", "1000000001" },
	{ PART_OFFERS, "price_high", "0", "-1", "1000000000", "1000000001" },
	{ PART_OFFERS, "years_low", "0", "-0.1", "100", "100.1" },
	{ PART_OFFERS, "years_high", "0", "-0.1", "100", "100.1" },
	{ PART_OFFERS, "seer", "0", "-0.1", "60", "60.1" },
	{ PART_TIGHTNESS, "pressure", "-14.7", "-14.8", "1000", "1000.1" },
	{ PART_TIGHTNESS, "temperature", "-60", "-60.1", "200", "200.1" },
	{ PART_TIGHTNESS, "microns", "0", "-1", "800000", "800001" },
	{ PART_CYLINDERS, "water_capacity", "0", "-0.1", "3000", "3000.1" },
	{ PART_CYLINDERS, "tare", "0", "-0.1", "3000", "3000.1" },
	{ PART_CYLINDERS, "weight", "0", "-0.1", "3000", "3000.1" },
};

START_TEST(a_member_takes_as_much_as_the_manual_says)
{
	static struct call call;
	const struct call_part_info *part = call_part_info(limits[_i].part);
	const struct call_member *member = call_member_find(limits[_i].part, limits[_i].key);

	call_init(&call);
	char *at = part->is_list ? call_list_add(&call, part->list) : (char *)&call + part->offset;
	ck_assert_ptr_nonnull(member);
	ck_assert(call_member_parse(member, at, limits[_i].least));
	ck_assert(!call_member_parse(member, at, limits[_i].below));
	ck_assert(call_member_parse(member, at, limits[_i].most));
	ck_assert(!call_member_parse(member, at, limits[_i].above));
	call_done(&call);
}
END_TEST

START_TEST(a_text_that_is_none_of_a_member_changes_nothing)
{
	static const struct {
		const char *sound, *bad[4];
	} rows[CALL_FORM_COUNT] = {
		[FORM_TIME] = { "2026-06-03T09:12:30", { "x", "2026-13-40", "2026-06-03T09:12:30x" } },
		[FORM_CENTS] = { "1205", { "x", "12.05", "12x", "999999999999999999" } },
		[FORM_QUANTITY] = { "1500", { "x", "1.5", "-1", "999999999999999999" } },
		[FORM_PERCENT] = { "725", { "x", "7.25", "-1", "999999999999999999" } },
		[FORM_AMOUNT] = { "12.5", { "x", "12.5x", "nan", "1e300" } },
		[FORM_MEASURED] = { "1", { "x", "1x", "nan", "1e300" } },
		[FORM_FLAG] = { "1", { "x", "2", "yes", "10" } },
		[FORM_WORK_KIND] = { "fee", { "x", "fees", "none", "accepted" } },
		[FORM_DECISION] = { "declined", { "x", "declined ", "confirmed", "labour" } },
		[FORM_VERDICT] = { "watch", { "x", "watched", "nitrogen", "declined" } },
		[FORM_TIGHTNESS_KIND] = { "weigh_in", { "x", "weigh" } },
		[FORM_REFRIGERANT] = { "R-32", { "x", "R-3" } },
	};
	static struct call call;

	call_init(&call);
	for (int list = 0; list < CALL_LIST_COUNT; list++)
		ck_assert_ptr_nonnull(call_list_add(&call, (enum call_list)list));
	for (int i = 0; i < CALL_PART_COUNT; i++) {
		const struct call_part_info *part = call_part_info((enum call_part)i);
		char *at = part->is_list ? call_list_at(&call, part->list, 0) : (char *)&call + part->offset;
		for (const struct call_member *member = part->members; member->key; member++) {
			char before[MEMBER_TEXT_SIZE], after[MEMBER_TEXT_SIZE];
			if (!rows[member->form].sound)
				continue;
			ck_assert(call_member_parse(member, at, rows[member->form].sound));
			call_member_format(member, at, before, sizeof before);
			for (int k = 0; k < 4 && rows[member->form].bad[k]; k++) {
				ck_assert_msg(!call_member_parse(member, at, rows[member->form].bad[k]), "%s takes %s",
				              member->key, rows[member->form].bad[k]);
				call_member_format(member, at, after, sizeof after);
				ck_assert_msg(strcmp(before, after) == 0, "%s is %s after %s was refused", member->key,
				              after, rows[member->form].bad[k]);
			}
		}
	}
	call_done(&call);
}
END_TEST

START_TEST(a_copy_has_lists_of_its_own)
{
	struct call call, copy;

	read_document(&call);
	ck_assert(call_copy(&call, &copy));
	call.cylinders[0].tare_lb = 1;
	call_list_remove(&call, LIST_JUDGEMENTS, 0);
	ck_assert_double_eq(copy.cylinders[0].tare_lb, 17.5);
	ck_assert_uint_eq(copy.judgement_count, 1);
	ck_assert_ptr_null(copy.work);
	call_done(&call);
	call_done(&copy);
}
END_TEST

static void type(struct session *session, enum field field, const char *typed, const char *shown)
{
	assert_ok(session_type_field(session, field, typed, &error));
	ck_assert_str_eq(session_field(session, field), shown);
}

START_TEST(times_and_amounts_are_typed_as_people_write_them)
{
	struct store *store;
	struct session *session;
	struct uid uid;
	char what[64];

	assert_ok(store_open("", STORE_MEMORY, &test_clock, &store, &error));
	assert_ok(session_new(store, &test_clock, UNITS_US, &session, &error));
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
	type(session, FIELD_ARRIVED_AT, "now", "2026-06-03 09:12");
	type(session, FIELD_ARRIVED_AT, "9:05", "2026-06-03 09:05");
	type(session, FIELD_LEFT_AT, "11:45", "2026-06-03 11:45");
	type(session, FIELD_PLANNED_AT, "2026-06-08 13:00", "2026-06-08 13:00");
	type(session, FIELD_AUTHORISED_AMOUNT, "$1,250.5", "1250.50");
	type(session, FIELD_LEFT_AT, "", "");
	ck_assert(session_type_field(session, FIELD_LEFT_AT, "noon", &error) == STATUS_BAD_INPUT);
	ck_assert_ptr_nonnull(strstr(error.text, "left takes a time such as 9:30"));
	ck_assert(session_type_field(session, FIELD_AUTHORISED_AMOUNT, "-3", &error) == STATUS_BAD_INPUT);
	ck_assert_str_eq(session_field(session, FIELD_AUTHORISED_AMOUNT), "1250.50");
	assert_ok(session_undo(session, what, sizeof what, &error));
	ck_assert_str_eq(session_field(session, FIELD_LEFT_AT), "2026-06-03 11:45");
	uid = session_call(session)->uid;
	assert_ok(session_open(session, uid.text, &error));
	ck_assert_str_eq(session_field(session, FIELD_LEFT_AT), "2026-06-03 11:45");
	ck_assert_str_eq(session_field(session, FIELD_AUTHORISED_AMOUNT), "1250.50");
	session_free(session);
	store_close(store);
}
END_TEST

START_TEST(what_the_book_could_not_give_back_is_refused)
{
	struct work_line line = { .kind = WORK_PART, .quantity = INT64_C(2000000000000), .unit_price = 1 };
	struct cylinder cylinder = { .test_date = WALL_TIME_NONE, .tare_lb = -1 };
	struct store *store;
	struct session *session;

	assert_ok(store_open("", STORE_MEMORY, &test_clock, &store, &error));
	assert_ok(session_new(store, &test_clock, UNITS_US, &session, &error));
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
	ck_assert(session_put(session, LIST_WORK, &line, &error) == STATUS_OUT_OF_RANGE);
	ck_assert(session_put(session, LIST_CYLINDERS, &cylinder, &error) == STATUS_OUT_OF_RANGE);
	ck_assert_ptr_nonnull(strstr(error.text, "a cylinder: the tare"));
	ck_assert_uint_eq(session_call(session)->work_count, 0);
	ck_assert_uint_eq(session_call(session)->cylinder_count, 0);
	session_free(session);
	store_close(store);
}
END_TEST

Suite *call_parts_suite(void)
{
	Suite *suite = suite_create("call_parts");
	TCase *tests = tcase_create("call_parts");

	tcase_add_checked_fixture(tests, set_up, NULL);
	tcase_add_test(tests, a_call_of_every_member_is_read_from_json);
	tcase_add_test(tests, members_outside_their_limits_are_refused);
	tcase_add_test(tests, the_customers_name_is_always_written);
	tcase_add_test(tests, what_names_a_line_is_always_written);
	tcase_add_test(tests, a_call_of_every_member_goes_through_book_and_merge);
	tcase_add_test(tests, every_member_comes_back_from_its_exact_text);
	tcase_add_loop_test(tests, a_member_takes_as_much_as_the_manual_says, 0,
	                    sizeof limits / sizeof *limits);
	tcase_add_test(tests, a_text_that_is_none_of_a_member_changes_nothing);
	tcase_add_test(tests, a_copy_has_lists_of_its_own);
	tcase_add_test(tests, times_and_amounts_are_typed_as_people_write_them);
	tcase_add_test(tests, what_the_book_could_not_give_back_is_refused);
	suite_add_tcase(suite, tests);
	return suite;
}
