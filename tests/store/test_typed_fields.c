/* The fields of a call as they are typed: times, amounts, texts, and what is odd about them. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/session.h>
#include <padside/app/settings.h>
#include <padside/base/text.h>

Suite *typed_fields_suite(void);

static struct store *store;
static struct session *session;
static struct error error;
static wall_time now;

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

static void set_up(void)
{
	ck_assert(clock_parse("2026-07-14T08:05:40", &now));
	assert_ok(store_open("", STORE_MEMORY, &test_clock, &store, &error));
	assert_ok(session_new(store, &test_clock, UNITS_US, &session, &error));
	assert_ok(session_start(session, NULL, NULL, NULL, &error));
}

static void tear_down(void)
{
	session_free(session);
	store_close(store);
}

static void assert_typed(enum field field, const char *typed, const char *shown)
{
	ck_assert_msg(session_type_field(session, field, typed, &error) == STATUS_OK, "\"%s\": %s", typed,
	              error.text);
	ck_assert_str_eq(session_field(session, field), shown);
	/* The book has it too. */
	struct uid call = session_call(session)->uid;
	assert_ok(session_open(session, call.text, &error));
	ck_assert_str_eq(session_field(session, field), shown);
}

static void assert_refused(enum field field, const char *typed, enum status status,
                           const char *says)
{
	char before[NOTE_SIZE];

	text_copy(before, sizeof before, session_field(session, field));
	ck_assert_msg(session_type_field(session, field, typed, &error) == status, "\"%s\"", typed);
	ck_assert_str_eq(error.text, says);
	ck_assert_str_eq(session_field(session, field), before);
}

START_TEST(a_time_is_a_date_an_hour_of_today_or_now)
{
	static const struct {
		const char *typed, *shown;
	} rows[] = {
		{ "now", "2026-07-14 08:05" }, { "NOW", "2026-07-14 08:05" },
		{ "9:30", "2026-07-14 09:30" }, { "09:30", "2026-07-14 09:30" },
		{ "0:00", "2026-07-14 00:00" }, { "23:59", "2026-07-14 23:59" },
		{ "11:15:30", "2026-07-14 11:15" }, { "2026-06-03 09:30", "2026-06-03 09:30" },
		{ "2026-06-03T21:05", "2026-06-03 21:05" }, { "2026-06-03", "2026-06-03 00:00" }, { "", "" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		assert_typed(FIELD_ARRIVED_AT, rows[i].typed, rows[i].shown);
	assert_typed(FIELD_PLANNED_AT, "now", "2026-07-14 08:05");
	ck_assert_int_eq(session_call(session)->planned_at, now);
}
END_TEST

START_TEST(what_is_no_time_is_refused)
{
	static const char *const typed[] = {
		"soon", "930", "9:3", "24:00", "9:60", "2026-02-30", "9", ":30", "1:", "nowadays",
	};

	assert_ok(session_type_field(session, FIELD_LEFT_AT, "10:00", &error));
	for (size_t i = 0; i < sizeof typed / sizeof *typed; i++)
		assert_refused(FIELD_LEFT_AT, typed[i], STATUS_BAD_INPUT,
		               "left takes a time such as 9:30 or 2026-06-03 09:30, or now");
}
END_TEST

START_TEST(an_amount_is_read_as_people_write_it)
{
	static const struct {
		const char *typed, *shown;
		cents kept;
	} rows[] = {
		{ "350", "350.00", 35000 }, { "350.5", "350.50", 35050 }, { "$1,234.56", "1234.56", 123456 },
		{ "0.01", "0.01", 1 }, { "0", "", 0 }, { "0.01", "0.01", 1 }, { "", "", 0 },
		{ "10000000", "10000000.00", 1000000000 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		assert_typed(FIELD_AUTHORISED_AMOUNT, rows[i].typed, rows[i].shown);
		ck_assert_int_eq(session_call(session)->authorised_amount, rows[i].kept);
	}
	assert_refused(FIELD_AUTHORISED_AMOUNT, "-1", STATUS_BAD_INPUT,
	               "authorised up to takes an amount such as 350.00");
	assert_refused(FIELD_AUTHORISED_AMOUNT, "much", STATUS_BAD_INPUT,
	               "authorised up to takes an amount such as 350.00");
	assert_refused(FIELD_AUTHORISED_AMOUNT, "10000000.01", STATUS_OUT_OF_RANGE,
	               "authorised up to takes no such value");
}
END_TEST

/* Of every text as much as its member holds, to the byte. */
START_TEST(a_text_is_as_long_as_its_place)
{
	char typed[NOTE_SIZE + 2], says[120];

	for (int i = 0; i < FIELD_COUNT; i++) {
		const struct field_info *info = field_info((enum field)i);
		if (!info->is_text)
			continue;
		memset(typed, 'a', sizeof typed);
		typed[info->size - 1] = '\0';
		assert_typed((enum field)i, typed, typed);
		typed[info->size - 1] = 'a';
		typed[info->size] = '\0';
		snprintf(says, sizeof says, "%s takes at most %zu characters; shorten it", info->label,
		         info->size - 1);
		assert_refused((enum field)i, typed, STATUS_OUT_OF_RANGE, says);
	}
}
END_TEST

START_TEST(control_characters_become_spaces)
{
	assert_typed(FIELD_COMPLAINT, "a\tb\nc\x01" "d\x1f" "e\x7f" "f g~\xc3\xa9",
	             "a b c d e f g~\xc3\xa9");
}
END_TEST

/* A slip of a key takes no customer's name away; every other text may be emptied. */
START_TEST(a_customer_keeps_a_name)
{
	assert_typed(FIELD_CUSTOMER_NAME, "", "");
	assert_typed(FIELD_CUSTOMER_NAME, "   ", "   ");
	assert_typed(FIELD_CUSTOMER_NAME, "Mara Quill", "Mara Quill");
	assert_refused(FIELD_CUSTOMER_NAME, "", STATUS_REFUSED,
	               "customer stays Mara Quill; type another name over it");
	assert_refused(FIELD_CUSTOMER_NAME, "  ", STATUS_REFUSED,
	               "customer stays Mara Quill; type another name over it");
	assert_typed(FIELD_CUSTOMER_NAME, " M. Quill", " M. Quill");
	assert_typed(FIELD_ADDRESS, "9 Elm Row", "9 Elm Row");
	assert_typed(FIELD_ADDRESS, "", "");
}
END_TEST

START_TEST(what_is_typed_again_is_no_change)
{
	char what[SESSION_UNDONE_SIZE];

	assert_ok(session_type_field(session, FIELD_COMPLAINT, "warm", &error));
	assert_ok(session_type_field(session, FIELD_COMPLAINT, "warm", &error));
	assert_ok(session_undo(session, what, sizeof what, &error));
	ck_assert_str_eq(session_field(session, FIELD_COMPLAINT), "");
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118", &error));
	now += 60;
	assert_ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "118.0", &error));
	const struct value *value = visit_value(&session_call(session)->visit, STAGE_AS_FOUND,
	                                        READING_SUCTION_PRESSURE);
	ck_assert_int_eq(value->taken_at, now - 60);
	assert_ok(session_undo(session, what, sizeof what, &error));
	ck_assert(session_undo(session, what, sizeof what, &error) == STATUS_NOT_FOUND);
}
END_TEST

static void assert_doubt(enum field field, const char *typed, const char *doubt)
{
	assert_ok(session_type_field(session, field, typed, &error));
	const char *got = session_field_doubt(session, field);
	if (doubt) {
		ck_assert_msg(got != NULL, "\"%s\" is not doubted", typed);
		ck_assert_str_eq(got, doubt);
	} else {
		ck_assert_msg(got == NULL, "\"%s\": %s", typed, got);
	}
}

START_TEST(a_phone_without_digits_and_a_mail_without_its_sign_are_doubted)
{
	assert_doubt(FIELD_PHONE, "", NULL);
	assert_doubt(FIELD_PHONE, "ask the son", "there are no digits in it");
	assert_doubt(FIELD_PHONE, "555-0114", NULL);
	assert_doubt(FIELD_PHONE, "0", NULL);
	assert_doubt(FIELD_PHONE, "9", NULL);
	assert_doubt(FIELD_EMAIL, "", NULL);
	assert_doubt(FIELD_EMAIL, "mara.example.com", "there is no @ in it");
	assert_doubt(FIELD_EMAIL, "mara@example.com", NULL);
	assert_doubt(FIELD_COMPLAINT, "no cooling", NULL);
}
END_TEST

START_TEST(the_technician_is_whom_the_settings_name_else_the_calls)
{
	char who[NAME_SIZE];

	session_technician(session, who, sizeof who);
	ck_assert_str_eq(who, "");
	assert_ok(session_type_field(session, FIELD_TECHNICIAN, "Bo Lind", &error));
	session_technician(session, who, sizeof who);
	ck_assert_str_eq(who, "Bo Lind");
	assert_ok(setting_put(store, SETTING_TECHNICIAN, "Ada Berg", &error));
	session_technician(session, who, sizeof who);
	ck_assert_str_eq(who, "Ada Berg");
}
END_TEST

Suite *typed_fields_suite(void)
{
	Suite *suite = suite_create("typed_fields");
	TCase *tests = tcase_create("typed_fields");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_time_is_a_date_an_hour_of_today_or_now);
	tcase_add_test(tests, what_is_no_time_is_refused);
	tcase_add_test(tests, an_amount_is_read_as_people_write_it);
	tcase_add_test(tests, a_text_is_as_long_as_its_place);
	tcase_add_test(tests, control_characters_become_spaces);
	tcase_add_test(tests, a_customer_keeps_a_name);
	tcase_add_test(tests, what_is_typed_again_is_no_change);
	tcase_add_test(tests, a_phone_without_digits_and_a_mail_without_its_sign_are_doubted);
	tcase_add_test(tests, the_technician_is_whom_the_settings_name_else_the_calls);
	suite_add_tcase(suite, tests);
	return suite;
}
