/* A call as JSON: whole round trips, exact money, refusals with their path. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/store/store.h>

Suite *call_json_suite(void);

static struct json_reader *reader;
static struct call call;
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

static enum status read_call(const char *document, enum call_json_use use)
{
	return call_json_read(reader, document, strlen(document), use, &call, &error);
}

static void assert_taken(const char *document)
{
	ck_assert_msg(read_call(document, CALL_JSON_ASSESS) == STATUS_OK, "%s: %s", document, error.text);
}

static void assert_refused(const char *document, const char *says)
{
	ck_assert_msg(read_call(document, CALL_JSON_ASSESS) != STATUS_OK, "%s", document);
	ck_assert_msg(strstr(error.text, says) != NULL, "%s: %s", document, error.text);
	ck_assert_uint_eq(call.work_count, 0);
	ck_assert(!visit_has(&call.visit, STAGE_AS_FOUND, READING_OUTDOOR_DB));
}

/* The example of the design page, every section of it. */
static const char example[] =
	"{\"customer\": {\"name\": \"Ada O'Neil\", \"phone\": \"555-0100\", \"email\": \"\"},\n"
	" \"site\": {\"address\": \"12 Oak Street\", \"altitude\": 600},\n"
	" \"system\": {\"refrigerant\": \"R-22\", \"metering\": \"fixed_orifice\", \"nominal_capacity\": 2.5},\n"
	" \"call\": {\"complaint\": \"no cooling\", \"opened_at\": \"2026-06-03T09:12\"},\n"
	" \"as_found\": {\"suction_pressure\": 58, \"common_run_resistance\": \"OL\",\n"
	"              \"suction_line_temp\": \"4.5 °C\", \"breaker_tripped\": true},\n"
	" \"as_left\": {\"suction_pressure\": null},\n"
	" \"charge_log\": [{\"at\": \"2026-06-03T10:40\", \"recovered\": 3.0, \"suction_pressure\": 61},\n"
	"                {\"at\": \"2026-06-03T10:20\", \"added\": \"1 lb\", \"cylinder\": \"C-7\"}],\n"
	" \"work\": [{\"kind\": \"part\", \"description\": \"run capacitor\", \"quantity\": 1, \"unit_price\": \"12.50\"}],\n"
	" \"choices\": [{\"title\": \"new machine\", \"price_low\": 4800, \"price_high\": \"5600.00\", \"years_low\": 12,\n"
	"              \"years_high\": 15, \"seer\": 16, \"decision\": \"declined\", \"decided_by\": \"Ada\",\n"
	"              \"decided_at\": \"2026-06-03T11:00\"}],\n"
	" \"watch\": [{\"fault\": \"fan_motor_overloaded\", \"text\": \"fan draws 1.5 A\", \"noted_at\": \"2026-06-03T11:05\"}],\n"
	" \"billing\": {\"tax\": {\"part\": 8.25}, \"discount\": 5, \"deposit\": \"20.00\", \"energy_rate\": 14.5},\n"
	" \"taken_at\": {\"as_found\": {\"suction_pressure\": \"2026-06-03T09:40\"}}}";

START_TEST(the_documented_input_is_read)
{
	double number;

	ck_assert_msg(read_call(example, CALL_JSON_RECORD) == STATUS_OK, "%s", error.text);
	ck_assert_str_eq(call.customer.name, "Ada O'Neil");
	ck_assert(visit_number(&call.visit, STAGE_AS_FOUND, READING_ALTITUDE, &number) == STATUS_OK);
	ck_assert_double_eq(number, 600);
	ck_assert_int_eq(visit_choice(&call.visit, STAGE_AS_FOUND, READING_REFRIGERANT),
	                 CHOICE_REFRIGERANT_R22);
	ck_assert(visit_number(&call.visit, STAGE_AS_FOUND, READING_SUCTION_LINE_TEMP, &number) == STATUS_OK);
	ck_assert_double_eq_tol(number, 40.1, 1e-9);
	ck_assert_int_eq(visit_value(&call.visit, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE)->state,
	                 VALUE_OVER_LIMIT);
	ck_assert(visit_is_yes(&call.visit, STAGE_AS_FOUND, READING_BREAKER_TRIPPED));
	ck_assert(!visit_has(&call.visit, STAGE_AS_LEFT, READING_SUCTION_PRESSURE));
	ck_assert_uint_eq(call.charge_count, 2);
	ck_assert_double_eq(call.charge[0].added_oz, 16);
	ck_assert_str_eq(call.charge[0].cylinder, "C-7");
	ck_assert_double_eq(call.charge[1].values[CHARGE_SUCTION_PRESSURE].number, 61);
	ck_assert_int_eq(call.work[0].unit_price, 1250);
	ck_assert_int_eq(call.offers[0].price_low, 480000);
	ck_assert_int_eq(call.offers[0].decision, DECISION_DECLINED);
	ck_assert_int_eq(call.billing.tax[WORK_PART], 8250);
	ck_assert_int_eq(call.billing.discount, 5000);
	ck_assert(visit_value(&call.visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE)->taken_at !=
	          WALL_TIME_NONE);
}
END_TEST

START_TEST(what_cannot_be_read_is_refused_with_its_path)
{
	static const struct {
		const char *document, *says;
	} rows[] = {
		{ "[]", "a call is an object" },
		{ "{\"colour\": 1}", "colour: there is no such member" },
		{ "{\"as_found\": {\"suction_presure\": 58}}", "as_found.suction_presure: there is no such" },
		{ "{\"as_found\": {\"suction_pressure\": 6000}}", "as_found.suction_pressure: suction pressure takes" },
		{ "{\"as_found\": {\"suction_pressure\": \"high\"}}", "as_found.suction_pressure: \"high\" is not a number" },
		{ "{\"as_found\": {\"suction_pressure\": true}}", "as_found.suction_pressure: true and false" },
		{ "{\"as_found\": {\"suction_pressure\": [1]}}", "as_found.suction_pressure: a single value" },
		{ "{\"as_found\": {\"suction_pressure\": {\"a\": 1}}}", "as_found.suction_pressure: a single value" },
		{ "{\"as_found\": {\"suction_pressure\": 1e999}}", "as_found.suction_pressure: this number is too large" },
		{ "{\"as_found\": {\"breaker_tripped\": 1}}", "as_found.breaker_tripped: true or false" },
		{ "{\"as_found\": {\"altitude\": 600}}", "as_found.altitude: it belongs into site" },
		{ "{\"site\": {\"refrigerant\": \"R-22\"}}", "site.refrigerant: it belongs into system" },
		{ "{\"system\": {\"refrigerant\": \"R-9\"}}", "system.refrigerant: \"R-9\" is none of" },
		{ "{\"system\": {\"refrigerant\": 22}}", "system.refrigerant: a text in quotes" },
		{ "{\"charge_log\": {}}", "charge_log: a list" },
		{ "{\"charge_log\": [1]}", "charge_log[0]: an object" },
		{ "{\"charge_log\": [{}, {\"added\": -1}]}", "charge_log[1].added: it takes 0 to 3000" },
		{ "{\"charge_log\": [{\"added\": \"2 psi\"}]}", "charge_log[0].added: a number in oz" },
		{ "{\"charge_log\": [{\"superheat\": 2}]}", "charge_log[0].superheat: there is no such" },
		{ "{\"work\": [{\"kind\": \"gift\"}]}", "work[0].kind: labour, part" },
		{ "{\"work\": [{\"unit_price\": \"12.505\"}]}", "work[0].unit_price: an amount" },
		{ "{\"work\": [{\"unit_price\": 1e2}]}", "work[0].unit_price: an amount" },
		{ "{\"work\": [{\"unit_price\": \"99999999999999999999\"}]}", "work[0].unit_price: an amount" },
		{ "{\"work\": [{\"no_charge\": 1}]}", "work[0].no_charge: true or false" },
		{ "{\"call\": {\"opened_at\": \"2026-02-30\"}}", "call.opened_at: a local time" },
		{ "{\"call\": {\"uid\": \"7\"}}", "call.uid: an id" },
		{ "{\"customer\": {\"name\": 7}}", "customer.name: a text" },
		{ "{\"customer\": 7}", "customer: an object" },
		{ "{\"billing\": {\"tax\": {\"part\": 101}}}", "billing.tax.part: it takes 0 to 100" },
		{ "{\"billing\": {\"tax\": 3}}", "billing.tax: an object" },
		{ "{\"taken_at\": {\"as_found\": {\"altitude\": \"2026-06-03\"}}}", "taken_at.as_found.altitude: there is" },
		{ "{\"taken_at\": {\"as_found\": 3}}", "taken_at.as_found: an object" },
		{ "{\"as_found\": {\"outdoor_db\": 95, \"outdoor_db\": 96}}", "as_found.outdoor_db: this member is given twice" },
		{ "{\"as_found\": {\"outdoor_db\": 95", "as_found: it ends" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		assert_refused(rows[i].document, rows[i].says);
}
END_TEST

START_TEST(a_text_that_does_not_fit_is_refused_not_cut)
{
	char document[256], name[NAME_SIZE + 1];

	memset(name, 'a', sizeof name);
	name[NAME_SIZE - 1] = '\0';
	snprintf(document, sizeof document, "{\"customer\": {\"name\": \"%s\"}}", name);
	assert_taken(document);
	ck_assert_str_eq(call.customer.name, name);
	name[NAME_SIZE - 1] = 'a';
	name[NAME_SIZE] = '\0';
	snprintf(document, sizeof document, "{\"customer\": {\"name\": \"%s\"}}", name);
	assert_refused(document, "customer.name: it takes at most 95 bytes");
}
END_TEST

START_TEST(a_stored_call_is_somebodys)
{
	ck_assert(read_call("{}", CALL_JSON_ASSESS) == STATUS_OK);
	ck_assert(read_call("{}", CALL_JSON_RECORD) == STATUS_BAD_INPUT);
	ck_assert_ptr_nonnull(strstr(error.text, "customer: "));
}
END_TEST

START_TEST(money_is_exact)
{
	static const struct {
		const char *written;
		cents value;
	} rows[] = {
		{ "0.1", 10 }, { "\"0.10\"", 10 }, { "19.99", 1999 }, { "\"1234567.89\"", 123456789 },
		{ "-5", -500 }, { "\"-0.01\"", -1 }, { "0.29", 29 }, { "4.35", 435 }, { "7", 700 },
	};
	char document[128];

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		snprintf(document, sizeof document, "{\"work\": [{\"unit_price\": %s}]}", rows[i].written);
		assert_taken(document);
		ck_assert_int_eq(call.work[0].unit_price, rows[i].value);
	}
	assert_taken("{\"work\": [{\"quantity\": 0.125}], \"billing\": {\"discount\": \"7.25\"}}");
	ck_assert_int_eq(call.work[0].quantity, 125);
	ck_assert_int_eq(call.billing.discount, 7250);
}
END_TEST

/* ---- Round trips through a book ---- */

/* Stores `call` in a new book, loads it again, and appends it as JSON. */
static void store_and_write(struct text *out)
{
	struct store *store;
	struct call back;

	ck_assert(store_open("", STORE_MEMORY, &clock_of_machine, &store, &error) == STATUS_OK);
	ck_assert_msg(store_call_record(store, &call, &error) == STATUS_OK, "%s", error.text);
	call_init(&back);
	ck_assert_msg(store_call_load(store, call.uid.text, &back, &error) == STATUS_OK, "%s", error.text);
	call_json_write(&back, out);
	ck_assert(!out->failed);
	call_done(&back);
	store_close(store);
}

static void assert_same_after_another_book(const char *document)
{
	struct text first, second;

	text_init(&first);
	text_init(&second);
	ck_assert_msg(read_call(document, CALL_JSON_RECORD) == STATUS_OK, "%s", error.text);
	store_and_write(&first);
	ck_assert_msg(read_call(text_get(&first), CALL_JSON_RECORD) == STATUS_OK, "%s\n%s", error.text,
	              text_get(&first));
	store_and_write(&second);
	ck_assert_str_eq(text_get(&first), text_get(&second));
	text_done(&first);
	text_done(&second);
}

START_TEST(a_call_goes_from_book_to_book_byte_for_byte)
{
	assert_same_after_another_book(example);
}
END_TEST

START_TEST(hostile_text_goes_from_book_to_book_byte_for_byte)
{
	assert_same_after_another_book(
		"{\"customer\": {\"name\": \"'; DROP TABLE call; --\", \"phone\": \"\\\"\\\\\\u001b[31m\\t\\n\"},\n"
		" \"call\": {\"complaint\": \"\\ud83d\\udd27 =1+1 <b>&amp;</b> \\u202e\"},\n"
		" \"system\": {\"serial\": \"\\\"x\\\" '; --\"}}");
}
END_TEST

static enum stage stage_for(enum reading reading)
{
	return reading_info(reading)->scope == SCOPE_CALL ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}

static struct value sample(enum reading reading)
{
	const struct reading_info *info = reading_info(reading);
	struct value value;

	if (info->kind == KIND_CHOICE)
		ck_assert(reading_parse(reading, choice_label(choice_first(info->choices)), UNITS_US, &value,
		                        &error) == STATUS_OK);
	else if (info->kind == KIND_DATE)
		ck_assert(reading_parse(reading, "2031-06-30", UNITS_US, &value, &error) == STATUS_OK);
	else if (info->kind == KIND_YES_NO || info->kind == KIND_TEXT)
		ck_assert(reading_parse(reading, "no", UNITS_US, &value, &error) == STATUS_OK);
	else
		ck_assert(reading_from_number(reading, info->hard.low + (info->hard.high - info->hard.low) / 7,
		                              UNITS_US, &value, &error) == STATUS_OK);
	ck_assert(clock_parse("2026-06-03T09:40:01", &value.taken_at));
	return value;
}

/* Every row of the catalogue: parse, store, load, write, parse again. */
START_TEST(every_reading_goes_from_book_to_book)
{
	struct text out;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		struct value value = sample((enum reading)i);
		visit_set(&call.visit, stage_for((enum reading)i), (enum reading)i, &value);
	}
	text_init(&out);
	store_and_write(&out);
	ck_assert_msg(read_call(text_get(&out), CALL_JSON_RECORD) == STATUS_OK, "%s", error.text);
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		const struct value value = sample(reading);
		const struct value *back = visit_value(&call.visit, stage_for(reading), reading);
		ck_assert_int_eq(back->state, value.state);
		ck_assert_double_eq(back->number, value.number);
		ck_assert_int_eq(back->choice, value.choice);
		ck_assert_str_eq(back->text, value.text);
		ck_assert_int_eq(back->taken_at, value.taken_at);
	}
	text_done(&out);
}
END_TEST

Suite *call_json_suite(void)
{
	Suite *suite = suite_create("call_json");
	TCase *tests = tcase_create("call_json");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, the_documented_input_is_read);
	tcase_add_test(tests, what_cannot_be_read_is_refused_with_its_path);
	tcase_add_test(tests, a_text_that_does_not_fit_is_refused_not_cut);
	tcase_add_test(tests, a_stored_call_is_somebodys);
	tcase_add_test(tests, money_is_exact);
	tcase_add_test(tests, a_call_goes_from_book_to_book_byte_for_byte);
	tcase_add_test(tests, hostile_text_goes_from_book_to_book_byte_for_byte);
	tcase_add_test(tests, every_reading_goes_from_book_to_book);
	suite_add_tcase(suite, tests);
	return suite;
}
