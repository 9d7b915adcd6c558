/* Questions of `figure` as JSON, and their answers. */
#include <check.h>
#include <string.h>

#include <padside/app/result_json.h>
#include <padside/base/text.h>

Suite *result_json_suite(void);

static struct json_reader *reader;
static struct visit visit;
static enum figure figure;
static struct error error;

static void set_up(void)
{
	reader = json_reader_new();
	ck_assert_ptr_nonnull(reader);
}

static void tear_down(void)
{
	json_reader_free(reader);
}

static enum status ask(const char *question)
{
	return result_json_read_figure(reader, question, strlen(question), &figure, &visit, &error);
}

static void assert_answer(const char *question, const char *answer)
{
	struct text text;

	ck_assert_msg(ask(question) == STATUS_OK, "%s", error.text);
	struct figure_value value = figure_evaluate(&visit, STAGE_AS_FOUND, figure);
	text_init(&text);
	result_json_write_figure(&visit, figure, &value, &text);
	ck_assert_str_eq(text_get(&text), answer);
	text_done(&text);
}

static const struct {
	const char *question, *answer;
} answers[] = {
	/* 52 °F less the dew point of R-410A at 118 psig, 39.84 °F (CoolProp). */
	{ "{\"figure\": \"superheat\", \"readings\": {\"refrigerant\": \"R-410A\", "
	  "\"suction_pressure\": 118, \"suction_line_temp\": 52}}",
	  "{\"figure\": \"superheat\", \"value\": 12.1571183, \"unit\": \"°F\", "
	  "\"plus_minus\": 1.204474091}" },
	{ "{\"readings\": {\"return_db\": \"24 °C\", \"supply_db\": 55}, "
	  "\"figure\": \"temperature_split\"}",
	  "{\"figure\": \"temperature_split\", \"value\": 20.2, \"unit\": \"°F\", "
	  "\"plus_minus\": 1.414213562}" },
	/* The usual target of a TXV is common practice. */
	{ "{\"figure\": \"target_subcooling\", \"readings\": {\"metering\": \"txv\"}}",
	  "{\"figure\": \"target_subcooling\", \"value\": 10, \"unit\": \"°F\", "
	  "\"plus_minus\": 0, \"assumed\": \"usual target\"}" },
	{ "{\"figure\": \"target_subcooling\", \"readings\": {\"metering\": \"txv\", "
	  "\"target_subcooling\": 8}}",
	  "{\"figure\": \"target_subcooling\", \"value\": 8, \"unit\": \"°F\", \"plus_minus\": 0}" },
	{ "{\"figure\": \"insulation_grade\", \"readings\": {\"compressor_ground_resistance\": 500}}",
	  "{\"figure\": \"insulation_grade\", \"value\": \"good\", \"unit\": \"\", "
	  "\"plus_minus\": 0}" },
	{ "{\"figure\": \"superheat\"}",
	  "{\"figure\": \"superheat\", \"value\": null, \"why\": \"refrigerant was not taken\"}" },
	{ "{\"figure\": \"superheat\", \"readings\": {}}",
	  "{\"figure\": \"superheat\", \"value\": null, \"why\": \"refrigerant was not taken\"}" },
	{ "{\"figure\": \"superheat\", \"readings\": {\"refrigerant\": \"R-410A\", "
	  "\"suction_pressure\": 118, \"suction_line_temp\": null}}",
	  "{\"figure\": \"superheat\", \"value\": null, "
	  "\"why\": \"suction line temperature was not taken\"}" },
};

START_TEST(a_question_is_answered)
{
	for (size_t i = 0; i < sizeof answers / sizeof *answers; i++)
		assert_answer(answers[i].question, answers[i].answer);
}
END_TEST

START_TEST(yes_no_and_what_is_not_taken_are_readings_too)
{
	ck_assert_msg(ask("{\"figure\": \"superheat\", \"readings\": {\"breaker_tripped\": true, "
	                  "\"contactor_pulled_in\": false, \"suction_pressure\": 118}}") == STATUS_OK,
	              "%s", error.text);
	ck_assert(visit_is_yes(&visit, STAGE_AS_FOUND, READING_BREAKER_TRIPPED));
	ck_assert(visit_has(&visit, STAGE_AS_FOUND, READING_CONTACTOR_PULLED_IN));
	ck_assert(!visit_is_yes(&visit, STAGE_AS_FOUND, READING_CONTACTOR_PULLED_IN));
	ck_assert(visit_has(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
	/* The next question begins with nothing. */
	ck_assert(ask("{\"figure\": \"subcooling\"}") == STATUS_OK);
	ck_assert_int_eq(figure, FIGURE_SUBCOOLING);
	ck_assert(!visit_has(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE));
}
END_TEST

START_TEST(a_question_that_is_none_is_refused_with_its_place)
{
	static const struct {
		const char *question, *says;
	} rows[] = {
		{ "{}", "figure: there is no such figure; see padside figure --list" },
		{ "{\"figure\": \"heat\"}",
		  "figure: there is no such figure; see padside figure --list" },
		{ "{\"figure\": 7}", "figure: a question has \"figure\" and \"readings\"" },
		{ "{\"colour\": \"superheat\"}", "colour: a question has \"figure\" and \"readings\"" },
		{ "{\"figure\": \"superheat\", \"readings\": 7}",
		  "readings: a question has \"figure\" and \"readings\"" },
		{ "{\"figure\": {\"suction_pressure\": 118}}",
		  "figure: a question has \"figure\" and \"readings\"" },
		{ "{\"readings\": {\"suction_presure\": 118}}",
		  "readings.suction_presure: there is no such reading" },
		{ "{\"readings\": {\"suction_pressure\": [118]}}",
		  "readings.suction_pressure: takes a number or a text" },
		{ "{\"readings\": {\"suction_pressure\": {\"a\": 1}}}",
		  "readings.suction_pressure: takes a number or a text" },
		{ "{\"readings\": {\"suction_pressure\": 6000}}",
		  "readings.suction_pressure: suction pressure takes -14.6 to 600 psig" },
		{ "{\"readings\": {\"suction_pressure\": true}}",
		  "readings.suction_pressure: \"yes\" is not a number; suction pressure takes a number in "
		  "psig" },
		{ "{\"readings\": {\"suction_pressure\": false}}",
		  "readings.suction_pressure: \"no\" is not a number; suction pressure takes a number in "
		  "psig" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_msg(ask(rows[i].question) != STATUS_OK, "%s", rows[i].question);
		ck_assert_str_eq(error.text, rows[i].says);
	}
}
END_TEST

START_TEST(an_error_is_one_line)
{
	struct text text;

	error_set(&error, STATUS_BAD_INPUT, "line 3: \"a\" is none");
	text_init(&text);
	result_json_write_error(&error, &text);
	ck_assert_str_eq(text_get(&text), "{\"error\": \"line 3: \\\"a\\\" is none\"}");
	text_done(&text);
}
END_TEST

Suite *result_json_suite(void)
{
	Suite *suite = suite_create("result_json");
	TCase *tests = tcase_create("result_json");

	tcase_add_checked_fixture(tests, set_up, tear_down);
	tcase_add_test(tests, a_question_is_answered);
	tcase_add_test(tests, yes_no_and_what_is_not_taken_are_readings_too);
	tcase_add_test(tests, a_question_that_is_none_is_refused_with_its_place);
	tcase_add_test(tests, an_error_is_one_line);
	suite_add_tcase(suite, tests);
	return suite;
}
