/* What is set once for a truck: what each setting takes, and what a new call starts with. */
#include <check.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <padside/app/settings.h>
#include <padside/base/text.h>

#include "support/scratch.h"

Suite *settings_suite(void);

static struct store *store;
static struct error error;

static void set_up(void)
{
	ck_assert(store_open("", STORE_MEMORY, &clock_of_machine, &store, &error) == STATUS_OK);
}

static void tear_down(void)
{
	instruments_reset();
	store_close(store);
}

static const char *kept(enum setting setting)
{
	static char value[SETTING_SIZE];

	ck_assert(setting_get(store, setting, value, sizeof value, &error) == STATUS_OK);
	return value;
}

static void put(enum setting setting, const char *typed)
{
	ck_assert_msg(setting_put(store, setting, typed, &error) == STATUS_OK, "%s", error.text);
}

static void assert_kept(enum setting setting, const char *typed, const char *value)
{
	put(setting, typed);
	ck_assert_str_eq(kept(setting), value);
}

static void assert_refused(enum setting setting, const char *typed, enum status status,
                           const char *says)
{
	char before[SETTING_SIZE];

	text_copy(before, sizeof before, kept(setting));
	ck_assert_msg(setting_put(store, setting, typed, &error) == status, "%s=%s", setting_key(setting),
	              typed);
	ck_assert_str_eq(error.text, says);
	ck_assert_str_eq(kept(setting), before);
}

START_TEST(every_setting_is_found_by_its_key_and_says_what_it_is)
{
	for (int i = 0; i < SETTING_COUNT; i++) {
		ck_assert_int_eq(setting_from_key(setting_key((enum setting)i)), i);
		ck_assert_str_ne(setting_help((enum setting)i), "");
		/* Any can be emptied again, and is empty in a new book. */
		ck_assert_str_eq(kept((enum setting)i), "");
		assert_kept((enum setting)i, "", "");
	}
	ck_assert_int_eq(setting_from_key("colour"), SETTING_COUNT);
	ck_assert_int_eq(setting_from_key(""), SETTING_COUNT);
	ck_assert_str_eq(setting_key(SETTING_COMPANY), "company");
	ck_assert_str_eq(setting_help(SETTING_CERTIFICATION),
	                 "refrigerant certification for the report; a new call starts with it");
}
END_TEST

START_TEST(a_number_is_taken_to_its_limit)
{
	static const enum setting taxes[] = {
		SETTING_TAX_LABOUR, SETTING_TAX_PART, SETTING_TAX_REFRIGERANT, SETTING_TAX_FEE,
	};
	char says[160];

	for (int i = 0; i < 4; i++) {
		assert_kept(taxes[i], "0", "0");
		assert_kept(taxes[i], "100", "100");
		assert_kept(taxes[i], "8.875", "8.875");
		assert_kept(taxes[i], "7 %", "7 %");
		snprintf(says, sizeof says, "%s takes 0 to 100 %%, not \"100.001\"; nothing was changed",
		         setting_key(taxes[i]));
		assert_refused(taxes[i], "100.001", STATUS_OUT_OF_RANGE, says);
		snprintf(says, sizeof says, "%s takes a percentage such as 8.875, at most three decimals, not "
		         "\"8.8755\"; nothing was changed", setting_key(taxes[i]));
		assert_refused(taxes[i], "8.8755", STATUS_BAD_INPUT, says);
	}
	assert_kept(SETTING_COOLING_HOURS, "0", "0");
	assert_kept(SETTING_COOLING_HOURS, "8784", "8784");
	assert_refused(SETTING_COOLING_HOURS, "8784.5", STATUS_OUT_OF_RANGE,
	               "cooling_hours takes 0 to 8784, not \"8784.5\"; nothing was changed");
	assert_refused(SETTING_COOLING_HOURS, "-0.5", STATUS_OUT_OF_RANGE,
	               "cooling_hours takes 0 to 8784, not \"-0.5\"; nothing was changed");
	assert_refused(SETTING_COOLING_HOURS, "1200 h", STATUS_BAD_INPUT,
	               "cooling_hours takes a number, not \"1200 h\"; nothing was changed");
	assert_kept(SETTING_ENERGY_RATE, "1000", "1000");
	assert_refused(SETTING_ENERGY_RATE, "1000.1", STATUS_OUT_OF_RANGE,
	               "energy_rate takes 0 to 1000, not \"1000.1\"; nothing was changed");
	assert_refused(SETTING_ENERGY_RATE, "cheap", STATUS_BAD_INPUT,
	               "energy_rate takes a number, not \"cheap\"; nothing was changed");
}
END_TEST

START_TEST(a_text_is_as_long_as_its_place)
{
	static const struct {
		enum setting setting;
		size_t size; /* with its NUL */
	} rows[] = {
		{ SETTING_COMPANY, 512 }, { SETTING_TECHNICIAN, NAME_SIZE },
		{ SETTING_LICENCE, NUMBER_TEXT_SIZE },
		{ SETTING_CERTIFICATION, NUMBER_TEXT_SIZE }, { SETTING_PAYMENT_TERMS, LINE_SIZE },
		{ SETTING_CURRENCY, 16 }, { SETTING_WARRANTY, 512 }, { SETTING_TERMS, 512 },
		{ SETTING_SYNC, 512 },
	};
	char typed[SETTING_SIZE + 1], says[120];

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		memset(typed, 'a', sizeof typed);
		typed[rows[i].size - 1] = '\0';
		assert_kept(rows[i].setting, typed, typed);
		typed[rows[i].size - 1] = 'a';
		typed[rows[i].size] = '\0';
		snprintf(says, sizeof says, "%s takes at most %zu characters; nothing was changed",
		         setting_key(rows[i].setting), rows[i].size - 1);
		assert_refused(rows[i].setting, typed, STATUS_OUT_OF_RANGE, says);
	}
}
END_TEST

START_TEST(a_choice_takes_its_words_alone)
{
	static const struct {
		enum setting setting;
		const char *words[4], *choice;
	} rows[] = {
		{ SETTING_PAPER_SIZE, { "letter", "a4" }, "letter or a4" },
		{ SETTING_THEME, { "auto", "light", "dark", "mono" }, "auto, light, dark or mono" },
		{ SETTING_CARRY, { "all", "own" }, "all or own" },
	};
	char says[120];

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		for (int word = 0; word < 4 && rows[i].words[word]; word++)
			assert_kept(rows[i].setting, rows[i].words[word], rows[i].words[word]);
		snprintf(says, sizeof says, "%s takes %s, not \"A4\"; nothing was changed",
		         setting_key(rows[i].setting), rows[i].choice);
		assert_refused(rows[i].setting, "A4", STATUS_BAD_INPUT, says);
	}
	/* Other texts take any word. */
	assert_kept(SETTING_CURRENCY, "A4", "A4");
}
END_TEST

/* ISO 4217: three capital letters. */
START_TEST(a_currency_code_has_three_capital_letters)
{
	static const char *const refused[] = { "EU", "EURO", "eur", "EUr", "E1R", "EUR " };
	char says[120];

	assert_kept(SETTING_CURRENCY_CODE, "EUR", "EUR");
	assert_kept(SETTING_CURRENCY_CODE, "AZM", "AZM");
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
		snprintf(says, sizeof says, "currency_code takes three capital letters such as USD, not \"%s\"; "
		         "nothing was changed", refused[i]);
		assert_refused(SETTING_CURRENCY_CODE, refused[i], STATUS_BAD_INPUT, says);
	}
}
END_TEST

START_TEST(lines_are_typed_with_a_backslash_and_n)
{
	assert_kept(SETTING_COMPANY, "Larkmere\\n12 Mill Lane\nx\\y\\", "Larkmere\n12 Mill Lane\nx\\y\\");
	assert_kept(SETTING_COMPANY, "a\tb\x01" "c\x1f" "d\x7f" "e f", "a b c d e f");
}
END_TEST

START_TEST(meters_are_a_list_of_instruments)
{
	assert_kept(SETTING_METERS, "voltmeter 0.3 V + 0.5 %; clamp_meter 1.5 %",
	            "voltmeter 0.3 V + 0.5 %; clamp_meter 1.5 %");
	assert_kept(SETTING_METERS, " ;voltmeter 1 V;;", " ;voltmeter 1 V;;");
	assert_refused(SETTING_METERS, "voltmeter 1 V; crystal_ball 1 %", STATUS_BAD_INPUT,
	               "there is no instrument \"crystal_ball\"; the manual, padside-readings, "
	               "lists them; nothing was changed");
}
END_TEST

/* What is set counts for every value of that instrument from then on. */
START_TEST(meters_are_as_good_as_they_are_set)
{
	double usual = reading_accuracy(READING_LINE_VOLTAGE, 240);

	put(SETTING_METERS, "clamp_meter 50 %; voltmeter 3 V");
	ck_assert_double_eq_tol(reading_accuracy(READING_LINE_VOLTAGE, 240), usual, 1e-9);
	ck_assert(settings_use_meters(store, &error) == STATUS_OK);
	ck_assert_double_eq_tol(reading_accuracy(READING_LINE_VOLTAGE, 240), 3, 1e-9);
	put(SETTING_METERS, "");
	ck_assert(settings_use_meters(store, &error) == STATUS_OK);
	ck_assert_double_eq_tol(reading_accuracy(READING_LINE_VOLTAGE, 240), usual, 1e-9);
	/* A list of another program's time may name what is gone. */
	ck_assert(store_setting_set(store, "meters", "voltmeter 3 V; crystal_ball 1 %", &error) ==
	          STATUS_OK);
	ck_assert(settings_use_meters(store, &error) == STATUS_OK);
	ck_assert_double_eq_tol(reading_accuracy(READING_LINE_VOLTAGE, 240), 3, 1e-9);
}
END_TEST

/* ---- The picture of the head ---- */

static char folder[SCRATCH_SIZE];
static char path[96];

static void write_picture(const char *start, size_t length, size_t whole)
{
	FILE *file = fopen(path, "wb");

	ck_assert_ptr_nonnull(file);
	ck_assert_uint_eq(fwrite(start, 1, length, file), length);
	for (size_t i = length; i < whole; i++)
		putc(0, file);
	fclose(file);
}

static void assert_no_logo(const char *why)
{
	char says[200];

	snprintf(says, sizeof says, "%s cannot be the logo: %s; nothing was changed", path, why);
	assert_refused(SETTING_LOGO, path, STATUS_BAD_INPUT, says);
}

/* PNG: ISO/IEC 15948, 5.2; JPEG: ISO/IEC 10918-1, B.1.1.3. */
START_TEST(a_logo_is_a_png_or_jpeg_of_at_most_a_megabyte)
{
	static const char png[] = "\x89PNG\r\n\x1a\n", jpeg[] = "\xff\xd8\xff";
	static const char none[] = "it is neither a PNG nor a JPEG picture";
	enum { PNG = 8, JPEG = 3, MEGABYTE = 1024 * 1024 };
	char bytes[PNG];

	scratch_make(folder);
	snprintf(path, sizeof path, "%s/logo", folder);
	assert_no_logo("No such file or directory");
	write_picture(png, PNG, MEGABYTE);
	assert_kept(SETTING_LOGO, path, path);
	write_picture(jpeg, JPEG, JPEG + 1);
	assert_kept(SETTING_LOGO, path, path);
	write_picture(png, PNG, MEGABYTE + 1);
	assert_no_logo("it is larger than 1 MB");
	write_picture(png, PNG, PNG);
	assert_no_logo(none);
	write_picture(jpeg, JPEG, JPEG);
	assert_no_logo(none);
	for (int i = 0; i < PNG; i++) {
		memcpy(bytes, png, PNG);
		bytes[i]++;
		write_picture(bytes, PNG, 100);
		assert_no_logo(none);
	}
	for (int i = 0; i < JPEG; i++) {
		memcpy(bytes, jpeg, JPEG);
		bytes[i]--;
		write_picture(bytes, JPEG, 100);
		assert_no_logo(none);
	}
	unlink(path);
	scratch_remove(folder);
}
END_TEST

START_TEST(a_logo_is_named_by_its_whole_path)
{
	char typed[600];

	assert_refused(SETTING_LOGO, "logo.png", STATUS_BAD_INPUT,
	               "logo.png: give the whole path of the logo, from / on; nothing was changed");
	memset(typed, 'a', sizeof typed);
	typed[0] = '/';
	typed[512] = '\0';
	assert_refused(SETTING_LOGO, typed, STATUS_OUT_OF_RANGE,
	               "the path of the logo is longer than 511 characters; nothing was changed");
	typed[511] = '\0';
	ck_assert_int_eq(setting_put(store, SETTING_LOGO, typed, &error), STATUS_BAD_INPUT);
}
END_TEST

START_TEST(own_checklists_are_lines_that_a_call_can_hold)
{
	char typed[NOTE_SIZE + 40], says[200];

	assert_kept(SETTING_CHECKLISTS, "Autumn: outdoor_db; Gutter cleared\\n\\nSpring: supply_db",
	            "Autumn: outdoor_db; Gutter cleared\n\nSpring: supply_db");
	ck_assert_int_ne(setting_put(store, SETTING_CHECKLISTS, "Autumn: outdoor_db\\nno list", &error),
	                 STATUS_OK);
	ck_assert_str_eq(kept(SETTING_CHECKLISTS),
	                 "Autumn: outdoor_db; Gutter cleared\n\nSpring: supply_db");
	memset(typed, 'a', sizeof typed);
	memcpy(typed, "Autumn: ", strlen("Autumn: "));
	typed[NOTE_SIZE] = '\0';
	snprintf(says, sizeof says, "the checklist \"%.40s…\" has more than %d characters; nothing was "
	         "changed", typed, NOTE_SIZE - 1);
	assert_refused(SETTING_CHECKLISTS, typed, STATUS_OUT_OF_RANGE, says);
}
END_TEST

START_TEST(a_new_call_starts_with_what_is_set)
{
	struct call call;

	put(SETTING_TECHNICIAN, "Ada Berg");
	put(SETTING_LICENCE, "0417");
	put(SETTING_CERTIFICATION, "U-20731");
	put(SETTING_PAYMENT_TERMS, "Within 14 days");
	put(SETTING_TAX_LABOUR, "1");
	put(SETTING_TAX_PART, "2.25 %");
	put(SETTING_TAX_REFRIGERANT, "3.125");
	put(SETTING_TAX_FEE, "4");
	put(SETTING_COOLING_HOURS, "1200");
	put(SETTING_ENERGY_RATE, "14.5");
	call_init(&call);
	ck_assert(settings_start_call(store, &call, &error) == STATUS_OK);
	ck_assert_str_eq(call.technician, "Ada Berg");
	ck_assert_str_eq(call.licence, "0417");
	ck_assert_str_eq(call.certification, "U-20731");
	ck_assert_str_eq(call.payment_terms, "Within 14 days");
	ck_assert_int_eq(call.billing.tax[WORK_LABOUR], 1000);
	ck_assert_int_eq(call.billing.tax[WORK_PART], 2250);
	ck_assert_int_eq(call.billing.tax[WORK_REFRIGERANT], 3125);
	ck_assert_int_eq(call.billing.tax[WORK_FEE], 4000);
	ck_assert_double_eq(call.billing.cooling_hours, 1200);
	ck_assert_double_eq(call.billing.energy_rate, 14.5);
	call_done(&call);
}
END_TEST

/* A book that another program wrote in: what is no number counts as not set. */
START_TEST(what_is_no_number_in_the_book_is_none)
{
	struct call call;

	ck_assert(store_setting_set(store, "tax_part", "lots", &error) == STATUS_OK);
	ck_assert(store_setting_set(store, "cooling_hours", "1200 h", &error) == STATUS_OK);
	call_init(&call);
	ck_assert(settings_start_call(store, &call, &error) == STATUS_OK);
	for (int kind = 0; kind < WORK_KIND_COUNT; kind++)
		ck_assert_int_eq(call.billing.tax[kind], 0);
	ck_assert_double_eq(call.billing.cooling_hours, 0);
	ck_assert_double_eq(call.billing.energy_rate, 0);
	ck_assert_str_eq(call.technician, "");
	call_done(&call);
}
END_TEST

Suite *settings_suite(void)
{
	Suite *suite = suite_create("settings");
	TCase *tests = tcase_create("settings");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, every_setting_is_found_by_its_key_and_says_what_it_is);
	tcase_add_test(tests, a_number_is_taken_to_its_limit);
	tcase_add_test(tests, a_text_is_as_long_as_its_place);
	tcase_add_test(tests, a_choice_takes_its_words_alone);
	tcase_add_test(tests, a_currency_code_has_three_capital_letters);
	tcase_add_test(tests, lines_are_typed_with_a_backslash_and_n);
	tcase_add_test(tests, meters_are_a_list_of_instruments);
	tcase_add_test(tests, meters_are_as_good_as_they_are_set);
	tcase_add_test(tests, a_logo_is_a_png_or_jpeg_of_at_most_a_megabyte);
	tcase_add_test(tests, a_logo_is_named_by_its_whole_path);
	tcase_add_test(tests, own_checklists_are_lines_that_a_call_can_hold);
	tcase_add_test(tests, a_new_call_starts_with_what_is_set);
	tcase_add_test(tests, what_is_no_number_in_the_book_is_none);
	suite_add_tcase(suite, tests);
	return suite;
}
