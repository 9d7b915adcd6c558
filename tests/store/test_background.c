/* What a report knows besides its call: the head, the currency, what is open, for whom it is. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/papers.h>
#include <padside/app/settings.h>
#include <padside/base/text.h>

#include "support/scratch.h"

Suite *background_suite(void);

enum { MOST_LISTED = 6, DAY = 86400 };

static struct store *store;
static struct call call;
static struct error error;
static wall_time opened_at;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

static void create(struct call *made, int days, const char *complaint)
{
	call_init(made);
	made->customer.uid = call.customer.uid;
	made->site.uid = call.site.uid;
	made->system.uid = call.system.uid;
	made->opened_at = opened_at + DAY * days;
	text_copy(made->complaint, sizeof made->complaint, complaint);
	assert_ok(store_call_create(store, made, &error));
}

static void set_up(void)
{
	ck_assert(clock_parse("2026-07-14T08:05", &opened_at));
	assert_ok(store_open("", STORE_MEMORY, &clock_of_machine, &store, &error));
	call_init(&call);
	call.opened_at = opened_at;
	text_copy(call.customer.name, sizeof call.customer.name, "Mara Quill");
	assert_ok(store_call_create(store, &call, &error));
}

static void tear_down(void)
{
	call_done(&call);
	store_close(store);
}

static const char *paper(enum paper_format format, enum paper_reader reader)
{
	static char bytes[65536];
	struct paper_choice choice = { .format = format, .reader = reader };
	struct text text;

	text_init(&text);
	assert_ok(papers_write(store, &call, &choice, &text, &error));
	text_copy(bytes, sizeof bytes, text_get(&text));
	text_done(&text);
	return bytes;
}

static int count(const char *words, const char *bytes)
{
	int found = 0;

	for (const char *at = bytes; (at = strstr(at, words)); at += strlen(words))
		found++;
	return found;
}

START_TEST(formats_have_their_names_and_endings)
{
	static const struct {
		enum paper_format format;
		const char *key, *ending;
	} rows[] = {
		{ PAPER_TEXT, "text", "txt" }, { PAPER_MARKDOWN, "markdown", "md" },
		{ PAPER_HTML, "html", "html" }, { PAPER_CSV, "csv", "csv" }, { PAPER_PDF, "pdf", "pdf" },
		{ PAPER_JSON, "json", "json" },
	};
	enum paper_format format;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_str_eq(paper_format_key(rows[i].format), rows[i].key);
		ck_assert_str_eq(paper_format_ending(rows[i].format), rows[i].ending);
		ck_assert(paper_format_from_key(rows[i].key, &format));
		ck_assert_int_eq(format, rows[i].format);
	}
	ck_assert(!paper_format_from_key("txt", &format));
	ck_assert(!paper_format_from_key("", &format));
}
END_TEST

/* ISO 4217 of the signs; a word of one's own stands for itself. */
START_TEST(a_currency_has_its_sign_and_its_code)
{
	static const struct {
		const char *currency, *code, *shown_sign, *shown_code;
	} rows[] = {
		{ "", "", "$", "USD" }, { "$", "", "$", "USD" }, { "€", "", "€", "EUR" },
		{ "£", "", "£", "GBP" }, { "kr", "", "kr", "kr" }, { "kr", "SEK", "kr", "SEK" },
		{ "", "CAD", "$", "CAD" },
	};
	char shown[SETTING_SIZE];

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		assert_ok(setting_put(store, SETTING_CURRENCY, rows[i].currency, &error));
		assert_ok(setting_put(store, SETTING_CURRENCY_CODE, rows[i].code, &error));
		assert_ok(papers_currency(store, shown, sizeof shown, &error));
		ck_assert_str_eq(shown, rows[i].shown_sign);
		assert_ok(papers_currency_code(store, shown, sizeof shown, &error));
		ck_assert_str_eq(shown, rows[i].shown_code);
	}
}
END_TEST

static void assert_phone(const char *company, bool wanted)
{
	bool has_phone = !wanted;

	assert_ok(setting_put(store, SETTING_COMPANY, company, &error));
	assert_ok(papers_has_phone(store, &has_phone, &error));
	ck_assert_msg(has_phone == wanted, "%s", company);
}

START_TEST(a_phone_is_a_line_of_the_head)
{
	assert_phone("", false);
	assert_phone("Larkmere Cooling", false);
	assert_phone("Larkmere Cooling\n12 Mill Lane", false);
	assert_phone("Larkmere Cooling\n12 Mill Lane\n555-0100", true);
	assert_phone("Larkmere Cooling\n1\n2\n3\n4\n555-0100", true);
	/* The head has six lines. */
	assert_phone("Larkmere Cooling\n1\n2\n3\n4\n5\n555-0100", false);
}
END_TEST

START_TEST(what_was_set_is_on_the_report)
{
	assert_ok(setting_put(store, SETTING_COMPANY, "Larkmere Cooling\n12 Mill Lane", &error));
	assert_ok(setting_put(store, SETTING_WARRANTY, "Parts hold a year.", &error));
	assert_ok(setting_put(store, SETTING_TERMS, "Prices hold a month.", &error));
	const char *bytes = paper(PAPER_MARKDOWN, PAPER_CUSTOMER);
	ck_assert_int_eq(count("Larkmere Cooling", bytes), 1);
	ck_assert_int_eq(count("12 Mill Lane", bytes), 1);
	ck_assert_int_eq(count("Parts hold a year.", bytes), 1);
	ck_assert_int_eq(count("Prices hold a month.", bytes), 1);
	assert_ok(setting_put(store, SETTING_PAPER_SIZE, "letter", &error));
	ck_assert_int_eq(count("A4", paper(PAPER_HTML, PAPER_CUSTOMER)), 0);
	assert_ok(setting_put(store, SETTING_PAPER_SIZE, "a4", &error));
	ck_assert_int_gt(count("A4", paper(PAPER_HTML, PAPER_CUSTOMER)), 0);
}
END_TEST

/* Of earlier visits, watch items and what was declined the six newest. */
START_TEST(of_what_is_earlier_the_newest_six_are_told)
{
	struct call earlier;
	char words[32];

	for (int i = 1; i <= MOST_LISTED + 2; i++) {
		snprintf(words, sizeof words, "earlier no. %d", i);
		create(&earlier, -i, words);
		struct watch_item item = { .uid = uid_new(), .noted_at = earlier.opened_at,
		                           .closed_at = WALL_TIME_NONE };
		struct offer offer = { .uid = uid_new(), .decision = DECISION_DECLINED,
		                       .decided_at = earlier.opened_at };
		snprintf(item.text, sizeof item.text, "watched no. %d", i);
		snprintf(offer.title, sizeof offer.title, "declined no. %d", i);
		assert_ok(store_list_put(store, &earlier.uid, LIST_WATCH, &item, &error));
		assert_ok(store_list_put(store, &earlier.uid, LIST_OFFERS, &offer, &error));
		assert_ok(store_call_save_lines(store, &earlier.uid, words, "", &error));
		call_done(&earlier);
	}
	const char *bytes = paper(PAPER_MARKDOWN, PAPER_OFFICE);
	static const char *const kinds[] = { "watched", "declined", "earlier" };
	for (size_t kind = 0; kind < 3; kind++)
		for (int i = 1; i <= MOST_LISTED + 2; i++) {
			snprintf(words, sizeof words, "%s no. %d", kinds[kind], i);
			ck_assert_msg((count(words, bytes) > 0) == (i <= MOST_LISTED), "%s\n%s", words, bytes);
		}
}
END_TEST

/* What was noted and declined at that very minute counts, a second later it does not. */
START_TEST(what_came_after_the_call_began_is_not_told)
{
	struct call other;

	create(&other, -1, "another visit");
	for (int i = 0; i < 2; i++) {
		struct watch_item item = { .uid = uid_new(), .noted_at = opened_at + i,
		                           .closed_at = WALL_TIME_NONE };
		struct offer offer = { .uid = uid_new(), .decision = DECISION_DECLINED,
		                       .decided_at = opened_at + i };
		snprintf(item.text, sizeof item.text, "watched %d s later", i);
		snprintf(offer.title, sizeof offer.title, "declined %d s later", i);
		assert_ok(store_list_put(store, &other.uid, LIST_WATCH, &item, &error));
		assert_ok(store_list_put(store, &other.uid, LIST_OFFERS, &offer, &error));
	}
	const char *bytes = paper(PAPER_MARKDOWN, PAPER_OFFICE);
	ck_assert_int_gt(count("watched 0 s later", bytes), 0);
	ck_assert_int_gt(count("declined 0 s later", bytes), 0);
	ck_assert_int_eq(count("watched 1 s later", bytes), 0);
	ck_assert_int_eq(count("declined 1 s later", bytes), 0);
	call_done(&other);
}
END_TEST

/* A visit that was planned for later begins then: what another one noted and offered meanwhile is told. */
START_TEST(what_came_before_a_planned_visit_began_is_told)
{
	struct call other;

	call.planned_at = opened_at + 3 * DAY;
	create(&other, 1, "another visit");
	struct watch_item item = { .uid = uid_new(), .noted_at = opened_at + DAY, .closed_at = WALL_TIME_NONE,
	                           .text = "watched meanwhile" };
	struct offer offer = { .uid = uid_new(), .decision = DECISION_DECLINED, .decided_at = opened_at + DAY,
	                       .title = "declined meanwhile" };
	assert_ok(store_list_put(store, &other.uid, LIST_WATCH, &item, &error));
	assert_ok(store_list_put(store, &other.uid, LIST_OFFERS, &offer, &error));
	const char *bytes = paper(PAPER_MARKDOWN, PAPER_OFFICE);
	ck_assert_int_gt(count("watched meanwhile", bytes), 0);
	ck_assert_int_gt(count("declined meanwhile", bytes), 0);
	call_done(&other);
}
END_TEST

/* A visit so many years before the call that read the run capacitor of 45 µF. */
static void read_capacitor(struct call *visited, const char *measured)
{
	static const enum reading readings[] = {
		READING_COMPRESSOR_CAPACITOR_RATED, READING_COMPRESSOR_CAPACITANCE,
	};
	const char *typed[] = { "45", measured };

	for (int i = 0; i < 2; i++) {
		struct value value;
		assert_ok(reading_parse(readings[i], typed[i], UNITS_US, &value, &error));
		visit_set(&visited->visit, STAGE_AS_FOUND, readings[i], &value);
	}
}

static void add_capacitor(int years, const char *measured)
{
	struct call earlier;

	call_init(&earlier);
	earlier.customer.uid = call.customer.uid;
	earlier.site.uid = call.site.uid;
	earlier.system.uid = call.system.uid;
	earlier.opened_at = opened_at - (wall_time)years * 365 * DAY;
	read_capacitor(&earlier, measured);
	assert_ok(store_call_record(store, &earlier, &error));
	call_done(&earlier);
}

/* Three visits show a trend, this one among them; two do not. */
START_TEST(what_drifts_over_three_visits_is_told)
{
	static const char trend[] = "**run capacitor deviation**, %: falling 3.3 % a year; below "
		"-6 % around May 2027";

	read_capacitor(&call, "43.6");
	ck_assert_int_eq(count("falling", paper(PAPER_MARKDOWN, PAPER_OFFICE)), 0);
	add_capacitor(1, "45.1");
	ck_assert_int_eq(count("falling", paper(PAPER_MARKDOWN, PAPER_OFFICE)), 0);
	add_capacitor(2, "46.6");
	const char *bytes = paper(PAPER_MARKDOWN, PAPER_OFFICE);
	ck_assert_int_eq(count(trend, bytes), 1);
	ck_assert_int_eq(count("3 visits", bytes), 1);
}
END_TEST

/* ---- The customer's data ---- */

static void add_readings(void)
{
	static const enum reading readings[] = {
		READING_NOMINAL_CAPACITY, READING_REFRIGERANT, READING_METERING, READING_MANUFACTURE_YEAR,
		READING_MODEL, READING_SERIAL, READING_SUCTION_PRESSURE, READING_RATED_VOLTAGE,
	};
	static const char *const typed[] = { "3", "R-32", "txv", "2015", "M-1", "S-2", "118", "230" };

	for (size_t i = 0; i < sizeof readings / sizeof *readings; i++) {
		struct value value;
		assert_ok(reading_parse(readings[i], typed[i], UNITS_US, &value, &error));
		visit_set(&call.visit, STAGE_AS_FOUND, readings[i], &value);
	}
}

static void add_lines(void)
{
	struct work_line *line = call_list_add(&call, LIST_WORK);
	text_copy(line->description, sizeof line->description, "Run capacitor");
	text_copy(line->note, sizeof line->note, "from the van");
	struct watch_item *open = call_list_add(&call, LIST_WATCH);
	text_copy(open->text, sizeof open->text, "open thing");
	struct watch_item *shut = call_list_add(&call, LIST_WATCH);
	text_copy(shut->text, sizeof shut->text, "shut thing");
	shut->closed_at = opened_at;
	shut = call_list_add(&call, LIST_WATCH);
	text_copy(shut->text, sizeof shut->text, "another shut thing");
	shut->closed_at = opened_at;
	struct offer *offer = call_list_add(&call, LIST_OFFERS);
	text_copy(offer->title, sizeof offer->title, "new coil");
	call_list_add(&call, LIST_CHARGE);
	call_list_add(&call, LIST_JUDGEMENTS);
	call_list_add(&call, LIST_TIGHTNESS);
	call_list_add(&call, LIST_CYLINDERS);
}

static const char customers_data[] =
	"{\"customer\": {\"name\": \"Mara Quill\"},\n"
	" \"site\": {},\n"
	" \"system\": {\"model\": \"M-1\", \"serial\": \"S-2\", \"refrigerant\": \"R-32\", "
	"\"metering\": \"txv\", \"nominal_capacity\": 3, \"manufacture_year\": 2015},\n"
	" \"call\": {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8001\", \"opened_at\": "
	"\"2026-07-14T08:05:00\"},\n"
	" \"as_found\": {},\n"
	" \"as_left\": {},\n"
	" \"charge_log\": [],\n"
	" \"work\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8100\", \"kind\": \"labour\", "
	"\"description\": \"Run capacitor\", \"quantity\": 1, \"unit_price\": \"0.00\"}],\n"
	" \"choices\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8200\", \"title\": \"new coil\", "
	"\"price_low\": \"0.00\", \"price_high\": \"0.00\"}],\n"
	" \"watch\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8300\", \"text\": \"open thing\"}],\n"
	" \"judgement\": [],\n"
	" \"tightness\": [],\n"
	" \"cylinder\": [],\n"
	" \"billing\": {\"tax\": {}},\n"
	" \"taken_at\": {\"site\": {}, \"system\": {}, \"as_found\": {}, \"as_left\": {}}}\n";

START_TEST(the_customers_data_says_what_the_report_says)
{
	struct text shown;

	add_readings();
	add_lines();
	text_copy(call.office_note, sizeof call.office_note, "slow payer");
	text_copy(call.access_note, sizeof call.access_note, "gate 4711");
	text_copy(call.checklist, sizeof call.checklist, "Autumn: outdoor_db");
	call.planned_at = call.billed_at = call.unsafe_at = opened_at;
	text_copy(call.uid.text, sizeof call.uid.text, "01890a5d-ac96-774b-bcce-b302099a8001");
	for (int list = 0; list < CALL_LIST_COUNT; list++)
		for (size_t i = 0; i < call_list_count(&call, (enum call_list)list); i++)
			snprintf(((struct uid *)call_list_at(&call, (enum call_list)list, i))->text, UID_SIZE,
			         "01890a5d-ac96-774b-bcce-b302099a8%u%02u", (unsigned)list % 10, (unsigned)(i % 100));
	text_init(&shown);
	text_add(&shown, paper(PAPER_JSON, PAPER_CUSTOMER));
	ck_assert_str_eq(text_get(&shown), customers_data);
	text_done(&shown);
	/* The call itself has all of it still. */
	ck_assert_str_eq(call.work[0].note, "from the van");
	const char *whole = paper(PAPER_JSON, PAPER_OFFICE);
	ck_assert_int_eq(count("slow payer", whole), 1);
	ck_assert_int_eq(count("another shut thing", whole), 1);
	ck_assert_int_eq(count("suction_pressure\": 118", whole), 1);
}
END_TEST

/* ---- Saving ---- */

START_TEST(what_cannot_be_written_is_told_in_full)
{
	char folder[SCRATCH_SIZE], path[96], says[200];
	struct text text;

	scratch_make(folder);
	snprintf(path, sizeof path, "%s/report.txt", folder);
	text_init(&text);
	text_add(&text, "words\n");
	ck_assert_int_eq(papers_save("", &text, false, &error), STATUS_BAD_INPUT);
	ck_assert_str_eq(error.text, "no file is named; nothing was written");
	assert_ok(papers_save(path, &text, false, &error));
	ck_assert_int_eq(papers_save(path, &text, false, &error), STATUS_EXISTS);
	snprintf(says, sizeof says, "%s is there already and was left alone", path);
	ck_assert_str_eq(error.text, says);
	ck_assert_int_eq(papers_save(folder, &text, true, &error), STATUS_IO);
	snprintf(says, sizeof says, "%s is not a file that can be replaced; it was left as it was; "
	         "give another name", folder);
	ck_assert_str_eq(error.text, says);
	assert_ok(papers_save(path, &text, true, &error));
	text_done(&text);
	scratch_remove(folder);
}
END_TEST

Suite *background_suite(void)
{
	Suite *suite = suite_create("background");
	TCase *tests = tcase_create("background");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, formats_have_their_names_and_endings);
	tcase_add_test(tests, a_currency_has_its_sign_and_its_code);
	tcase_add_test(tests, a_phone_is_a_line_of_the_head);
	tcase_add_test(tests, what_was_set_is_on_the_report);
	tcase_add_test(tests, of_what_is_earlier_the_newest_six_are_told);
	tcase_add_test(tests, what_came_after_the_call_began_is_not_told);
	tcase_add_test(tests, what_came_before_a_planned_visit_began_is_told);
	tcase_add_test(tests, what_drifts_over_three_visits_is_told);
	tcase_add_test(tests, the_customers_data_says_what_the_report_says);
	tcase_add_test(tests, what_cannot_be_written_is_told_in_full);
	suite_add_tcase(suite, tests);
	return suite;
}
