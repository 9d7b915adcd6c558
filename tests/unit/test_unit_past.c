/* What a unit's past says in three lines. */
#include <check.h>
#include <string.h>

#include <padside/app/unit_past.h>
#include <padside/base/text.h>

Suite *unit_past_suite(void);

static struct history history;
static struct past_call visits[3];
static struct history_series series[5];
static struct watch_item watch[2];
static struct past_offer offered[2];
static struct made_up_line made_up[2];
static char lines[UNIT_PAST_LINES][UNIT_PAST_SIZE];

static void set_up(void)
{
	history = (struct history){
		.visits = visits, .series = series, .watch = watch, .offered = offered, .made_up = made_up,
	};
	ck_assert(clock_parse("2026-07-09T10:00", &visits[0].opened_at));
	ck_assert(clock_parse("2025-06-01T10:00", &visits[1].opened_at));
	ck_assert(clock_parse("2023-05-16T10:00", &visits[2].opened_at));
	text_copy(visits[0].found_line, sizeof visits[0].found_line, "run capacitor failed");
	text_copy(visits[0].done_line, sizeof visits[0].done_line, "Run capacitor");
	text_copy(visits[1].found_line, sizeof visits[1].found_line, "in order");
	text_copy(watch[0].text, sizeof watch[0].text, "Fan draws 1.5 A.");
	text_copy(watch[1].text, sizeof watch[1].text, "Pad is sinking");
	offered[0].offer.decision = DECISION_DECLINED;
	text_copy(offered[0].offer.title, sizeof offered[0].offer.title, "Replace the coil. ");
	offered[1].offer.decision = DECISION_DECLINED;
	text_copy(offered[1].offer.title, sizeof offered[1].offer.title, "New unit");
	made_up[0].made_up_oz = 20;
	made_up[1].made_up_oz = 12;
}

static void assert_line(int line, const char *says)
{
	unit_past_write(&history, UNITS_US, lines);
	ck_assert_str_eq(lines[line], says);
}

static void add_series(enum series which, enum drift_claim claim, const char *label,
                       const char *sentence)
{
	struct history_series *one = &series[history.series_count++];

	memset(one, 0, sizeof *one);
	one->series = which;
	one->label = label;
	one->drift.claim = claim;
	text_copy(one->sentence, sizeof one->sentence, sentence);
}

START_TEST(visits_are_counted_and_the_last_is_told)
{
	assert_line(0, "Not visited yet.");
	history.visit_count = 1;
	assert_line(0, "One visit, 2026-07-09: run capacitor failed; done: Run capacitor.");
	history.visit_count = 2;
	assert_line(0, "2 visits since 2025-06-01, the last 2026-07-09: run capacitor failed; "
	            "done: Run capacitor.");
	history.visit_count = 3;
	visits[0].done_line[0] = '\0';
	assert_line(0, "3 visits since 2023-05-16, the last 2026-07-09: run capacitor failed.");
	visits[0].found_line[0] = '\0';
	assert_line(0, "3 visits since 2023-05-16, the last 2026-07-09.");
	text_copy(visits[0].done_line, sizeof visits[0].done_line, "Run capacitor");
	assert_line(0, "3 visits since 2023-05-16, the last 2026-07-09; done: Run capacitor.");
}
END_TEST

START_TEST(the_first_drift_is_told_and_the_others_are_counted)
{
	history.visit_count = 2;
	assert_line(1, "Too few visits to see a trend.");
	history.visit_count = 3;
	assert_line(1, "No reading drifts beyond what meters and weather explain.");
	add_series(SERIES_NONE, DRIFT_CLAIMED, "suction pressure", "falls");
	add_series((enum series)1, DRIFT_NOT_CLEAR, "superheat", "rises");
	assert_line(1, "No reading drifts beyond what meters and weather explain.");
	add_series((enum series)1, DRIFT_CLAIMED, "superheat", "rises 1 K a year");
	assert_line(1, "superheat: rises 1 K a year");
	add_series((enum series)2, DRIFT_CLAIMED, "run capacitor", "falls");
	assert_line(1, "superheat: rises 1 K a year. 1 more drifts.");
	add_series((enum series)3, DRIFT_CLAIMED, "fan amps", "rise");
	assert_line(1, "superheat: rises 1 K a year. 2 more drift.");
}
END_TEST

START_TEST(what_is_open_is_told_with_what_was_added)
{
	assert_line(2, "Nothing is watched, nothing was declined, no refrigerant was added.");
	history.watch_count = 1;
	assert_line(2, "Watch: Fan draws 1.5 A.");
	history.watch_count = 2;
	assert_line(2, "Watch: Fan draws 1.5 A, and more.");
	text_copy(watch[0].text, sizeof watch[0].text, ".");
	assert_line(2, "Watch: , and more.");
	text_copy(watch[0].text, sizeof watch[0].text, "Fan draws 1.5 A.");
	history.offered_count = 1;
	assert_line(2, "Watch: Fan draws 1.5 A, and more. Declined: Replace the coil.");
	history.offered_count = 2;
	history.watch_count = 0;
	assert_line(2, "Declined: Replace the coil, and more.");
	history.made_up_count = 1;
	assert_line(2, "Declined: Replace the coil, and more. Refrigerant added over the years: 20.0 oz.");
	history.offered_count = 0;
	history.made_up_count = 2;
	assert_line(2, "Refrigerant added over the years: 32.0 oz.");
	unit_past_write(&history, UNITS_SI, lines);
	ck_assert_str_eq(lines[2], "Refrigerant added over the years: 907 g.");
	made_up[0].made_up_oz = made_up[1].made_up_oz = 0;
	assert_line(2, "Nothing is watched, nothing was declined, no refrigerant was added.");
}
END_TEST

Suite *unit_past_suite(void)
{
	Suite *suite = suite_create("unit_past");
	TCase *tests = tcase_create("unit_past");

	tcase_add_checked_fixture(tests, set_up, NULL);
	tcase_add_test(tests, visits_are_counted_and_the_last_is_told);
	tcase_add_test(tests, the_first_drift_is_told_and_the_others_are_counted);
	tcase_add_test(tests, what_is_open_is_told_with_what_was_added);
	suite_add_tcase(suite, tests);
	return suite;
}
