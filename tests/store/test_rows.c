/* Calls as rows: which calls of a period, in which order, and what a row says. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/tables.h>
#include <padside/base/text.h>

Suite *rows_suite(void);

static struct store *store;
static struct error error;
static wall_time noon;

static void assert_ok(enum status status)
{
	ck_assert_msg(status == STATUS_OK, "%s", error.text);
}

/* Three calls, a second apart around noon. */
static void set_up(void)
{
	ck_assert(clock_parse("2026-07-14T12:00", &noon));
	assert_ok(store_open("", STORE_MEMORY, &clock_of_machine, &store, &error));
	for (int i = -1; i <= 1; i++) {
		struct call call;
		call_init(&call);
		call.opened_at = noon + i;
		snprintf(call.job_number, sizeof call.job_number, "J%d", i + 2);
		struct work_line *line = call_list_add(&call, LIST_WORK);
		text_copy(line->description, sizeof line->description, "Run capacitor");
		line->unit_price = 100;
		assert_ok(store_call_record(store, &call, &error));
		call_done(&call);
	}
}

static void tear_down(void)
{
	store_close(store);
}

static void assert_period(wall_time since, wall_time until, const char *numbers)
{
	const struct table_look look = { .units = UNITS_US, .currency = "USD" };
	char found[32] = "";
	struct text text;

	text_init(&text);
	assert_ok(table_add_period(TABLE_LINES, store, since, until, &look, &text, &error));
	ck_assert_int_eq(strncmp(text_get(&text), "call_number,", strlen("call_number,")), 0);
	for (const char *at = text_get(&text); (at = strstr(at, "\nJ")); at++)
		strncat(found, at + 1, 2);
	ck_assert_str_eq(found, numbers);
	text_done(&text);
}

START_TEST(a_period_has_its_first_and_its_last_second)
{
	assert_period(WALL_TIME_NONE, WALL_TIME_NONE, "J1J2J3");
	assert_period(noon, WALL_TIME_NONE, "J2J3");
	assert_period(noon + 1, WALL_TIME_NONE, "J3");
	assert_period(noon + 2, WALL_TIME_NONE, "");
	assert_period(WALL_TIME_NONE, noon, "J1J2");
	assert_period(WALL_TIME_NONE, noon - 1, "J1");
	assert_period(WALL_TIME_NONE, noon - 2, "");
	assert_period(noon, noon, "J2");
}
END_TEST

START_TEST(a_table_is_found_by_its_name)
{
	enum table table = TABLE_LINES;

	ck_assert(table_from_key("readings", &table));
	ck_assert_int_eq(table, TABLE_READINGS);
	ck_assert(table_from_key("lines", &table));
	ck_assert_int_eq(table, TABLE_LINES);
	ck_assert(!table_from_key("report", &table));
	ck_assert(!table_from_key("", &table));
}
END_TEST

static void assert_rows(enum table table, const struct call *call, enum unit_system units,
                        const char *rows)
{
	const struct table_look look = { .units = units, .currency = "CAD" };
	struct text text;

	text_init(&text);
	assert_ok(table_add_call(table, call, &look, &text, &error));
	ck_assert_str_eq(text_get(&text), rows);
	text_done(&text);
}

#define CALL "01890a5d-ac96,01890a5d-ac96-774b-bcce-b302099a8001,2026-07-14," \
	"01890a5d-ac96-774b-bcce-b302099a8002,\"Quill, Mara\",9 Elm Row,"
#define UNIT "01890a5d-ac96-774b-bcce-b302099a8003,upstairs,"

static void begin(struct call *call)
{
	call_init(call);
	text_copy(call->uid.text, UID_SIZE, "01890a5d-ac96-774b-bcce-b302099a8001");
	text_copy(call->customer.uid.text, UID_SIZE, "01890a5d-ac96-774b-bcce-b302099a8002");
	text_copy(call->system.uid.text, UID_SIZE, "01890a5d-ac96-774b-bcce-b302099a8003");
	text_copy(call->customer.name, sizeof call->customer.name, "Quill, Mara");
	text_copy(call->site.address, sizeof call->site.address, "9 Elm Row");
	text_copy(call->system.name, sizeof call->system.name, "upstairs");
	call->opened_at = noon;
}

static void add_work(struct call *call, enum work_kind kind, const char *what, thousandths quantity,
                     cents price, bool no_charge)
{
	struct work_line *line = call_list_add(call, LIST_WORK);

	line->kind = kind;
	text_copy(line->description, sizeof line->description, what);
	line->quantity = quantity;
	line->unit_price = price;
	line->no_charge = no_charge;
}

/* 10 % off, 8.875 % on parts: 2 at 46.50 are 93.00, less 9.30, and 7.43 of tax. */
START_TEST(each_line_of_the_bill_adds_up)
{
	struct call call;

	begin(&call);
	text_copy(call.technician, sizeof call.technician, "Ada Berg");
	call.billing.tax[WORK_PART] = 8875;
	call.billing.discount = 10000;
	call.billing.deposit = 5000;
	call.billed_at = noon + 60;
	add_work(&call, WORK_PART, "Run capacitor", 2000, 4650, false);
	add_work(&call, WORK_PART, "Air filter", 1000, 900, true);
	add_work(&call, WORK_LABOUR, "Fit it", 500, 11000, false);
	add_work(&call, WORK_LABOUR, "Looked at the pad", 1000, 0, false);
	assert_rows(TABLE_LINES, &call, UNITS_US,
		CALL "Ada Berg,part,Run capacitor,2,each,46.50,93.00,10,9.30,83.70,part,8.875,7.43,91.13,"
		"CAD,2026-07-14T12:01:00\r\n"
		CALL "Ada Berg,part,Air filter,1,each,9.00,9.00,100,9.00,0.00,part,8.875,0.00,0.00,"
		"CAD,2026-07-14T12:01:00\r\n"
		CALL "Ada Berg,labour,Fit it,0.5,hour,110.00,55.00,10,5.50,49.50,labour,0,0.00,49.50,"
		"CAD,2026-07-14T12:01:00\r\n"
		CALL "Ada Berg,labour,Looked at the pad,,,0.00,0.00,10,0.00,0.00,labour,0,0.00,0.00,"
		"CAD,2026-07-14T12:01:00\r\n"
		CALL "Ada Berg,deposit,\"Deposit, already paid\",1,each,-50.00,-50.00,0,0.00,-50.00,,0,0.00,"
		"-50.00,CAD,2026-07-14T12:01:00\r\n");
	call_done(&call);
}
END_TEST

static void put(struct call *call, enum stage stage, enum reading reading, const char *typed)
{
	struct value value;

	assert_ok(reading_parse(reading, typed, UNITS_US, &value, &error));
	visit_set(&call->visit, stage, reading, &value);
}

START_TEST(each_reading_is_a_row_with_its_place)
{
	struct value doubtful = { .state = VALUE_TAKEN, .number = 121, .doubtful = true };
	struct call call;

	begin(&call);
	doubtful.taken_at = noon + 60;
	put(&call, STAGE_AS_FOUND, READING_ALTITUDE, "600");
	put(&call, STAGE_AS_FOUND, READING_REFRIGERANT, "R-32");
	put(&call, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118");
	put(&call, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "OL");
	put(&call, STAGE_AS_FOUND, READING_BREAKER_TRIPPED, "yes");
	visit_set(&call.visit, STAGE_AS_LEFT, READING_SUCTION_PRESSURE, &doubtful);
	assert_rows(TABLE_READINGS, &call, UNITS_US,
		CALL UNIT "site,altitude,altitude,600,,ft,,\r\n"
		CALL UNIT "system,refrigerant,refrigerant,,R-32,,,\r\n"
		CALL UNIT "as_found,breaker_tripped,breaker found tripped,,yes,,,\r\n"
		CALL UNIT "as_found,common_run_resistance,common – run,,OL,Ω,,\r\n"
		CALL UNIT "as_found,suction_pressure,suction pressure,118,,psig,,\r\n"
		CALL UNIT "as_left,suction_pressure,suction pressure,121,,psig,2026-07-14T12:01:00,yes\r\n");
	call_done(&call);
	begin(&call);
	text_copy(call.job_number, sizeof call.job_number, "J-77");
	call.opened_at = WALL_TIME_NONE;
	put(&call, STAGE_AS_LEFT, READING_SUCTION_PRESSURE, "118");
	assert_rows(TABLE_READINGS, &call, UNITS_SI,
		"J-77,01890a5d-ac96-774b-bcce-b302099a8001,,01890a5d-ac96-774b-bcce-b302099a8002,"
		"\"Quill, Mara\",9 Elm Row," UNIT "as_left,suction_pressure,suction pressure,813.6,,kPa,,\r\n");
	call_done(&call);
}
END_TEST

START_TEST(what_cannot_be_added_up_is_told)
{
	const struct table_look look = { .units = UNITS_US, .currency = "USD" };
	struct call call;
	struct text text;

	begin(&call);
	add_work(&call, WORK_PART, "Much", INT64_C(9000000000000000), INT64_C(9000000000000000), false);
	text_init(&text);
	ck_assert_int_ne(table_add_call(TABLE_LINES, &call, &look, &text, &error), STATUS_OK);
	ck_assert_ptr_nonnull(strstr(error.text, "call 01890a5d-ac96-774b-bcce-b302099a8001 cannot be "
	                             "added up: "));
	ck_assert_ptr_nonnull(strstr(error.text, "; nothing was written"));
	text_done(&text);
	call_done(&call);
}
END_TEST

Suite *rows_suite(void)
{
	Suite *suite = suite_create("rows");
	TCase *tests = tcase_create("rows");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_period_has_its_first_and_its_last_second);
	tcase_add_test(tests, a_table_is_found_by_its_name);
	tcase_add_test(tests, each_line_of_the_bill_adds_up);
	tcase_add_test(tests, each_reading_is_a_row_with_its_place);
	tcase_add_test(tests, what_cannot_be_added_up_is_told);
	suite_add_tcase(suite, tests);
	return suite;
}
