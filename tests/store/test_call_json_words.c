/* A call as JSON: each refusal in full, exact decimals, the whole document as it is written. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/base/text.h>

Suite *call_json_words_suite(void);

static struct json_reader *reader;
static struct call call;
static struct earlier earlier;
static struct error error;

static void set_up(void)
{
	reader = json_reader_new();
	ck_assert_ptr_nonnull(reader);
	call_init(&call);
}

static void tear_down(void)
{
	json_reader_free(reader);
	call_done(&call);
}

static enum status read_call(const char *document)
{
	return call_json_read_earlier(reader, document, strlen(document), &call, &earlier, &error);
}

static void assert_taken(const char *document)
{
	ck_assert_msg(read_call(document) == STATUS_OK, "%s: %s", document, error.text);
}

static const struct {
	const char *document;
	enum status status;
	const char *says;
} refusals[] = {
	{ "{\"work\": [{\"description\": 7}]}", STATUS_BAD_INPUT,
	  "work[0].description: a text in quotes is expected" },
	{ "{\"work\": [{\"uid\": 7}]}", STATUS_BAD_INPUT,
	  "work[0].uid: an id is expected, a UUID in small letters" },
	{ "{\"work\": [{\"uid\": \"01890A5D-AC96-774B-BCCE-B302099A8057\"}]}", STATUS_BAD_INPUT,
	  "work[0].uid: an id is expected, a UUID in small letters" },
	{ "{\"call\": {\"opened_at\": 7}}", STATUS_BAD_INPUT,
	  "call.opened_at: a local time is expected, like \"2026-06-03T09:12\"" },
	{ "{\"work\": [{\"unit_price\": true}]}", STATUS_BAD_INPUT,
	  "work[0].unit_price: an amount like 12.50 is expected, at most two decimals" },
	{ "{\"work\": [{\"unit_price\": \"12,50\"}]}", STATUS_BAD_INPUT,
	  "work[0].unit_price: an amount like 12.50 is expected, at most two decimals" },
	{ "{\"work\": [{\"unit_price\": \"\"}]}", STATUS_BAD_INPUT,
	  "work[0].unit_price: an amount like 12.50 is expected, at most two decimals" },
	{ "{\"work\": [{\"unit_price\": \".5\"}]}", STATUS_BAD_INPUT,
	  "work[0].unit_price: an amount like 12.50 is expected, at most two decimals" },
	{ "{\"work\": [{\"unit_price\": \"--5\"}]}", STATUS_BAD_INPUT,
	  "work[0].unit_price: an amount like 12.50 is expected, at most two decimals" },
	{ "{\"work\": [{\"unit_price\": 10000000.01}]}", STATUS_OUT_OF_RANGE,
	  "work[0].unit_price: it takes -10000000 to 10000000" },
	{ "{\"work\": [{\"unit_price\": -10000000.01}]}", STATUS_OUT_OF_RANGE,
	  "work[0].unit_price: it takes -10000000 to 10000000" },
	{ "{\"work\": [{\"quantity\": 0.0005}]}", STATUS_BAD_INPUT,
	  "work[0].quantity: a quantity is expected, at most three decimals" },
	{ "{\"work\": [{\"quantity\": -0.001}]}", STATUS_OUT_OF_RANGE,
	  "work[0].quantity: it takes 0 to 1000000" },
	{ "{\"billing\": {\"discount\": \"5 %\"}}", STATUS_BAD_INPUT,
	  "billing.discount: a percentage is expected, at most three decimals" },
	{ "{\"billing\": {\"discount\": 100.001}}", STATUS_OUT_OF_RANGE,
	  "billing.discount: it takes 0 to 100" },
	{ "{\"billing\": {\"cooling_hours\": \"1200\"}}", STATUS_BAD_INPUT,
	  "billing.cooling_hours: a number is expected" },
	{ "{\"billing\": {\"cooling_hours\": 8784.5}}", STATUS_OUT_OF_RANGE,
	  "billing.cooling_hours: it takes 0 to 8784" },
	{ "{\"billing\": {\"energy_rate\": 1e999}}", STATUS_OUT_OF_RANGE,
	  "billing.energy_rate: it takes 0 to 1000" },
	{ "{\"charge_log\": [{\"added\": true}]}", STATUS_BAD_INPUT,
	  "charge_log[0].added: a number in oz is expected, or a text with its unit" },
	{ "{\"charge_log\": [{\"added\": \"much\"}]}", STATUS_BAD_INPUT,
	  "charge_log[0].added: a number in oz is expected, or a text with its unit" },
	{ "{\"charge_log\": [{\"added\": \"190 lb\"}]}", STATUS_OUT_OF_RANGE,
	  "charge_log[0].added: it takes 0 to 3000" },
	{ "{\"work\": [{\"no_charge\": \"yes\"}]}", STATUS_BAD_INPUT,
	  "work[0].no_charge: true or false is expected" },
	{ "{\"work\": [{\"kind\": 1}]}", STATUS_BAD_INPUT,
	  "work[0].kind: labour, part, refrigerant or fee is expected" },
	{ "{\"choices\": [{\"decision\": \"maybe\"}]}", STATUS_BAD_INPUT,
	  "choices[0].decision: none, accepted or declined is expected" },
	{ "{\"choices\": [{\"decision\": 1}]}", STATUS_BAD_INPUT,
	  "choices[0].decision: none, accepted or declined is expected" },
	{ "{\"judgement\": [{\"verdict\": 1}]}", STATUS_BAD_INPUT,
	  "judgement[0].verdict: confirmed, ruled_out or watch is expected" },
	{ "{\"tightness\": [{\"kind\": 1}]}", STATUS_BAD_INPUT,
	  "tightness[0].kind: nitrogen, vacuum or weigh_in is expected" },
	{ "{\"cylinder\": [{\"refrigerant\": 32}]}", STATUS_BAD_INPUT,
	  "cylinder[0].refrigerant: a refrigerant is expected, like \"R-410A\"" },
	{ "{\"as_found\": {\"suction_pressure\": false}}", STATUS_BAD_INPUT,
	  "as_found.suction_pressure: true and false are only for yes and no" },
	{ "{\"as_found\": {\"breaker_tripped\": \"maybe\"}}", STATUS_NOT_A_NUMBER,
	  "as_found.breaker_tripped: breaker found tripped takes yes or no" },
	{ "{\"as_left\": {\"refrigerant\": \"R-32\"}}", STATUS_BAD_INPUT,
	  "as_left.refrigerant: it belongs into system" },
	{ "{\"system\": {\"suction_pressure\": 118}}", STATUS_BAD_INPUT,
	  "system.suction_pressure: it belongs into as_found or as_left" },
	{ "{\"work\": [{\"suction_pressure\": 118}]}", STATUS_BAD_INPUT,
	  "work[0].suction_pressure: there is no such member" },
	{ "{\"customer\": {\"uid\": null, \"age\": 7}}", STATUS_BAD_INPUT,
	  "customer.age: there is no such member" },
	{ "{\"billing\": {\"uid\": null}}", STATUS_BAD_INPUT, "billing.uid: there is no such member" },
	{ "{\"billing\": {\"tax\": {\"gift\": 1}}}", STATUS_BAD_INPUT,
	  "billing.tax.gift: there is no such member" },
	{ "{\"billing\": {\"tax\": {\"part\": {}}}}", STATUS_BAD_INPUT,
	  "billing.tax.part: a single value is expected, no object or list" },
	{ "{\"billing\": {\"deposit\": {}}}", STATUS_BAD_INPUT,
	  "billing.deposit: a single value is expected, no object or list" },
	{ "{\"billing\": {\"gift\": {}}}", STATUS_BAD_INPUT, "billing.gift: there is no such member" },
	{ "{\"billing\": {\"deposit\": []}}", STATUS_BAD_INPUT,
	  "billing.deposit: a single value is expected, no list" },
	{ "{\"work\": [{\"quantity\": []}]}", STATUS_BAD_INPUT,
	  "work[0].quantity: a single value is expected, no object or list" },
	{ "{\"customer\": []}", STATUS_BAD_INPUT, "customer: an object { } is expected" },
	{ "{\"work\": {}}", STATUS_BAD_INPUT, "work: a list [ ] is expected" },
	{ "{\"work\": [[]]}", STATUS_BAD_INPUT, "work[0]: an object { } is expected" },
	{ "{\"taken_at\": {\"work\": {}}}", STATUS_BAD_INPUT, "taken_at.work: there is no such member" },
	{ "{\"taken_at\": {\"as_found\": {\"suction_pressure\": 7}}}", STATUS_BAD_INPUT,
	  "taken_at.as_found.suction_pressure: a local time is expected, like \"2026-06-03T09:12\"" },
	{ "{\"taken_at\": {\"system\": {\"suction_pressure\": \"2026-06-03\"}}}", STATUS_BAD_INPUT,
	  "taken_at.system.suction_pressure: there is no such member" },
	{ "{\"taken_at\": {\"as_found\": []}}", STATUS_BAD_INPUT,
	  "taken_at.as_found: a single value is expected, no list" },
	{ "7", STATUS_BAD_INPUT, "a call is an object { }" },
	{ "{\"earlier\": {}}", STATUS_BAD_INPUT, "earlier: a list [ ] is expected" },
	{ "{\"earlier\": [7]}", STATUS_BAD_INPUT, "earlier[0]: an object { } is expected" },
	{ "{\"earlier\": [{}, {\"opened_at\": 7}]}", STATUS_BAD_INPUT,
	  "earlier[1].opened_at: a local time is expected, like \"2026-06-03T09:12\"" },
	{ "{\"earlier\": [{\"refit\": 1}]}", STATUS_BAD_INPUT,
	  "earlier[0].refit: true or false is expected" },
	{ "{\"earlier\": [{\"as_found\": 1}]}", STATUS_BAD_INPUT,
	  "earlier[0].as_found: an object { } is expected" },
	{ "{\"earlier\": [{\"work\": []}]}", STATUS_BAD_INPUT,
	  "earlier[0].work: there is no such member" },
	{ "{\"earlier\": [{\"as_left\": {\"altitude\": 600}}]}", STATUS_BAD_INPUT,
	  "earlier[0].as_left.altitude: there is no such member" },
	{ "{\"earlier\": [{\"as_left\": {\"suction_pressure\": []}}]}", STATUS_BAD_INPUT,
	  "earlier[0].as_left.suction_pressure: a single value is expected, no object or list" },
	{ "{\"earlier\": [{\"as_left\": {\"suction_pressure\": 6000}}]}", STATUS_OUT_OF_RANGE,
	  "earlier[0].as_left.suction_pressure: suction pressure takes -14.6 to 600 psig" },
};

START_TEST(each_refusal_is_told_in_full)
{
	for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
		ck_assert_msg(read_call(refusals[i].document) == refusals[i].status, "%s: %s",
		              refusals[i].document, error.text);
		ck_assert_str_eq(error.text, refusals[i].says);
	}
}
END_TEST

/* A thousand lines are more than a call has; the thousand-and-first is refused. */
START_TEST(a_list_of_very_many_lines_ends)
{
	struct text document;

	text_init(&document);
	text_add(&document, "{\"work\": [{}");
	for (int i = 1; i < 1000; i++)
		text_add(&document, ", {}");
	size_t length = document.length;
	text_add(&document, "]}");
	assert_taken(text_get(&document));
	ck_assert_uint_eq(call.work_count, 1000);
	document.length = length;
	text_add(&document, ", {}]}");
	ck_assert(read_call(text_get(&document)) == STATUS_BAD_INPUT);
	ck_assert_str_eq(error.text, "work[1000]: more lines than a call has");
	ck_assert_uint_eq(call.work_count, 0);
	text_done(&document);
}
END_TEST

/* What is null was not said. */
START_TEST(null_is_nothing)
{
	assert_taken("{\"customer\": null, \"work\": null, \"earlier\": null, "
	             "\"billing\": {\"deposit\": null, \"tax\": {\"part\": null}}, "
	             "\"charge_log\": [{\"added\": null, \"suction_pressure\": null, "
	             "\"uid\": null}], \"as_found\": {\"suction_pressure\": null}}");
	ck_assert_uint_eq(call.charge_count, 1);
	ck_assert_int_eq(call.billing.deposit, 0);
	ck_assert_int_eq(earlier.count, 0);
	ck_assert(!visit_has(&call.visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
}
END_TEST

/* Reads a price, a quantity and a percentage and gives them back as they are written. */
static void assert_decimals(const char *price, const char *quantity, const char *percent,
                            const char *written)
{
	char document[200];
	struct text text;

	snprintf(document, sizeof document, "{\"work\": [{\"quantity\": %s, \"unit_price\": %s}], "
	         "\"billing\": {\"discount\": %s}}", quantity, price, percent);
	assert_taken(document);
	text_init(&text);
	call_json_write(&call, &text);
	ck_assert_msg(strstr(text_get(&text), written) != NULL, "%s: %s", written, text_get(&text));
	text_done(&text);
}

#define LINE(quantity, price) \
	"\"kind\": \"labour\", \"description\": \"\", \"quantity\": " quantity \
	", \"unit_price\": \"" price "\"}"

START_TEST(decimals_are_exact_both_ways)
{
	assert_decimals("0.01", "0.001", "0.001", LINE("0.001", "0.01"));
	assert_decimals("-0.01", "0.01", "0.01", LINE("0.01", "-0.01"));
	assert_decimals("-1.5", "0.1", "0.1", LINE("0.1", "-1.50"));
	assert_decimals("1", "1", "1", LINE("1", "1.00"));
	assert_decimals("0", "0", "0", LINE("0", "0.00"));
	assert_decimals("\"10000000\"", "1000000", "100", LINE("1000000", "10000000.00"));
	assert_decimals("-10000000.00", "999999.999", "99.999", LINE("999999.999", "-10000000.00"));
	assert_decimals("\"000000000012\"", "10.10", "7.25", LINE("10.1", "12.00"));
	assert_decimals("\"12.\"", "10.010", "8.875", LINE("10.01", "12.00"));
	assert_decimals("5", "5", "8.875", "\"discount\": 8.875");
	assert_decimals("5", "5", "0.01", "\"discount\": 0.01");
	assert_decimals("5", "5", "100", "\"discount\": 100}");
}
END_TEST

/* ---- The whole document ---- */

static const char whole[] =
	"{\"customer\": {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8001\", \"name\": \"Ada\", "
	"\"phone\": \"555-0100\"},\n"
	" \"site\": {\"address\": \"12 Oak Street\", \"altitude\": 600},\n"
	" \"system\": {\"name\": \"upstairs\", \"model\": \"X\", \"refrigerant\": \"R-22\", "
	"\"manufacture_year\": 2009},\n"
	" \"call\": {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8002\", \"opened_at\": "
	"\"2026-06-03T09:12:00\"},\n"
	" \"as_found\": {\"breaker_tripped\": true, \"contactor_pulled_in\": false, "
	"\"common_run_resistance\": \"OL\", \"suction_pressure\": 58.25},\n"
	" \"as_left\": {\"suction_pressure\": 70},\n"
	" \"charge_log\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8012\", \"at\": \"2026-06-03T10:20:00\", "
	"\"recovered\": 1, \"cylinder\": \"C-7\"},\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8011\", \"at\": \"2026-06-03T10:40:00\", "
	"\"added\": 3.5, \"suction_pressure\": 61}],\n"
	" \"work\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8013\", \"kind\": \"part\", "
	"\"description\": \"run capacitor\", \"quantity\": 1, \"unit_price\": \"12.50\", "
	"\"no_charge\": true}],\n"
	" \"choices\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8016\", \"title\": \"new unit\", "
	"\"price_low\": \"4800.00\", \"price_high\": \"0.00\", \"seer\": 16.5},\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8017\", \"title\": \"wait\", \"price_low\": "
	"\"0.00\", \"price_high\": \"0.00\", \"decision\": \"declined\"}],\n"
	" \"watch\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8018\", \"text\": \"fan draws 1.5 A\"}],\n"
	" \"judgement\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8019\", \"fault\": \"undercharge\", "
	"\"verdict\": \"ruled_out\"}],\n"
	" \"tightness\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8014\", \"kind\": \"vacuum\", \"microns\": "
	"320},\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8015\", \"kind\": \"nitrogen\", "
	"\"temperature\": 0}],\n"
	" \"cylinder\": [\n"
	"  {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a801a\", \"name\": \"C-7\", \"refrigerant\": "
	"\"R-22\", \"tare\": 17.5}],\n"
	" \"billing\": {\"tax\": {\"part\": 8.875}, \"deposit\": \"20.00\", \"energy_rate\": "
	"14.5},\n"
	" \"taken_at\": {\"site\": {\"altitude\": \"2026-06-03T09:00:00\"}, \"system\": {}, "
	"\"as_found\": {\"suction_pressure\": \"2026-06-03T09:40:30\"}, \"as_left\": {}}}\n";

START_TEST(a_whole_call_is_written_as_it_is_documented)
{
	struct text text;

	assert_taken(
		"{\"customer\": {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8001\", \"name\": \"Ada\", "
		"\"phone\": \"555-0100\"},"
		"\"site\": {\"address\": \"12 Oak Street\", \"altitude\": 600},"
		"\"system\": {\"name\": \"upstairs\", \"refrigerant\": \"R-22\", \"manufacture_year\": 2009, "
		"\"model\": \"X\"},"
		"\"call\": {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8002\", "
		"\"opened_at\": \"2026-06-03T09:12\"},"
		"\"as_found\": {\"suction_pressure\": 58.25, \"common_run_resistance\": \"OL\", "
		"\"breaker_tripped\": true, \"contactor_pulled_in\": false},"
		"\"as_left\": {\"suction_pressure\": 70},"
		"\"charge_log\": [{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8011\", "
		"\"at\": \"2026-06-03T10:40\", \"added\": 3.5, \"suction_pressure\": 61},"
		"{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8012\", "
		"\"at\": \"2026-06-03T10:20\", \"recovered\": 1, \"cylinder\": \"C-7\"}],"
		"\"work\": [{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8013\", "
		"\"kind\": \"part\", \"description\": \"run capacitor\", \"quantity\": 1, "
		"\"unit_price\": 12.5, \"no_charge\": true}],"
		"\"choices\": [{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8016\", "
		"\"title\": \"new unit\", \"price_low\": 4800, \"seer\": 16.5, "
		"\"decision\": \"none\"}, {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8017\", "
		"\"title\": \"wait\", \"decision\": \"declined\"}],"
		"\"watch\": [{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8018\", "
		"\"text\": \"fan draws 1.5 A\"}],"
		"\"judgement\": [{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8019\", "
		"\"fault\": \"undercharge\", \"verdict\": \"ruled_out\"}],"
		"\"tightness\": [{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8014\", "
		"\"kind\": \"vacuum\", \"microns\": 320}, {\"uid\": \"01890a5d-ac96-774b-bcce-b302099a8015\", "
		"\"kind\": \"nitrogen\", "
		"\"temperature\": 0}],"
		"\"cylinder\": [{\"uid\": \"01890a5d-ac96-774b-bcce-b302099a801a\", "
		"\"name\": \"C-7\", \"refrigerant\": \"R-22\", \"tare\": 17.5}],"
		"\"billing\": {\"tax\": {\"part\": 8.875}, \"deposit\": 20, \"energy_rate\": 14.5},"
		"\"taken_at\": {\"as_found\": {\"suction_pressure\": \"2026-06-03T09:40:30\", "
		"\"suction_line_temp\": \"2026-06-03T09:41\"}, \"site\": {\"altitude\": \"2026-06-03T09:00\"}}}");
	text_init(&text);
	call_json_write(&call, &text);
	ck_assert_str_eq(text_get(&text), whole);
	text_done(&text);
}
END_TEST

static const char nothing[] =
	"{\"customer\": {\"name\": \"\"},\n"
	" \"site\": {},\n"
	" \"system\": {},\n"
	" \"call\": {},\n"
	" \"as_found\": {},\n"
	" \"as_left\": {},\n"
	" \"charge_log\": [],\n"
	" \"work\": [],\n"
	" \"choices\": [],\n"
	" \"watch\": [],\n"
	" \"judgement\": [],\n"
	" \"tightness\": [],\n"
	" \"cylinder\": [],\n"
	" \"billing\": {\"tax\": {}},\n"
	" \"taken_at\": {\"site\": {}, \"system\": {}, \"as_found\": {}, \"as_left\": {}}}\n";

START_TEST(an_empty_call_has_every_section)
{
	struct text text;

	text_init(&text);
	call_json_write(&call, &text);
	ck_assert_str_eq(text_get(&text), nothing);
	text_done(&text);
}
END_TEST

/* ---- Earlier visits ---- */

static double suction_at(int visit, enum stage stage)
{
	return visit_value(&earlier.visits[visit], stage, READING_SUCTION_PRESSURE)->number;
}

START_TEST(earlier_visits_are_read_with_their_columns)
{
	wall_time first;

	assert_taken("{\"earlier\": [{\"opened_at\": \"2025-06-03\", "
	             "\"as_found\": {\"suction_pressure\": 60}, "
	             "\"as_left\": {\"suction_pressure\": 70}}, {\"refit\": true, \"as_left\": null, "
	             "\"as_found\": {\"suction_pressure\": 61, \"breaker_tripped\": true}}, "
	             "{\"refit\": false}, {\"refit\": null}], "
	             "\"as_found\": {\"suction_pressure\": 62}}");
	ck_assert_int_eq(earlier.count, 4);
	ck_assert(clock_parse("2025-06-03", &first));
	ck_assert_int_eq(earlier.opened_at[0], first);
	ck_assert_int_eq(earlier.opened_at[1], WALL_TIME_NONE);
	ck_assert_double_eq(suction_at(0, STAGE_AS_FOUND), 60);
	ck_assert_double_eq(suction_at(0, STAGE_AS_LEFT), 70);
	ck_assert_double_eq(suction_at(1, STAGE_AS_FOUND), 61);
	ck_assert(!visit_has(&earlier.visits[1], STAGE_AS_LEFT, READING_SUCTION_PRESSURE));
	ck_assert(!visit_has(&earlier.visits[2], STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	for (int i = 0; i < 4; i++)
		ck_assert_int_eq(earlier.refit[i], i == 1);
	/* Behind the earlier visits the call itself goes on. */
	ck_assert_double_eq(visit_value(&call.visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE)->number,
	                    62);
}
END_TEST

START_TEST(of_many_earlier_visits_the_last_are_kept)
{
	struct text document;

	text_init(&document);
	text_add(&document, "{\"earlier\": [");
	for (int i = 0; i < MOST_PAST_VISITS + 2; i++)
		text_add_format(&document, "%s{\"opened_at\": \"2025-06-%02d\", \"refit\": %s, "
		                "\"as_found\": {\"suction_pressure\": %d}}", i == 0 ? "" : ", ", i + 1,
		                i % 2 ? "true" : "false", 60 + i);
	text_add(&document, "]}");
	assert_taken(text_get(&document));
	ck_assert_int_eq(earlier.count, MOST_PAST_VISITS);
	for (int i = 0; i < MOST_PAST_VISITS; i++) {
		char day[24];
		wall_time at;
		snprintf(day, sizeof day, "2025-06-%02d", i + 3);
		ck_assert(clock_parse(day, &at));
		ck_assert_int_eq(earlier.opened_at[i], at);
		ck_assert_int_eq(earlier.refit[i], (i + 2) % 2);
		ck_assert_double_eq(suction_at(i, STAGE_AS_FOUND), 62 + i);
	}
	text_done(&document);
}
END_TEST

Suite *call_json_words_suite(void)
{
	Suite *suite = suite_create("call_json_words");
	TCase *tests = tcase_create("call_json_words");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, each_refusal_is_told_in_full);
	tcase_add_test(tests, a_list_of_very_many_lines_ends);
	tcase_add_test(tests, null_is_nothing);
	tcase_add_test(tests, decimals_are_exact_both_ways);
	tcase_add_test(tests, a_whole_call_is_written_as_it_is_documented);
	tcase_add_test(tests, an_empty_call_has_every_section);
	tcase_add_test(tests, earlier_visits_are_read_with_their_columns);
	tcase_add_test(tests, of_many_earlier_visits_the_last_are_kept);
	suite_add_tcase(suite, tests);
	return suite;
}
