/* History: points, limits and drift over the visits; what changed between two. */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/history.h>
#include <padside/app/unit_past.h>

Suite *history_suite(void);

enum { MOST = 8 };

/* Visits in memory, oldest first, on one machine. */
struct book {
	struct visit visits[MOST];
	struct history_visit list[MOST];
	size_t count;
};

static struct visit *add_visit(struct book *book, const char *date)
{
	struct visit *visit = &book->visits[book->count];

	visit_init(visit);
	book->list[book->count].visit = visit;
	ck_assert(clock_parse(date, &book->list[book->count].opened_at));
	book->count++;
	return visit;
}

static void type(struct visit *visit, enum stage stage, enum reading reading, const char *typed)
{
	struct value value;
	struct error error;

	ck_assert_msg(reading_parse(reading, typed, UNITS_US, &value, &error) == STATUS_OK, "%s",
	              error.text);
	visit_set(visit, stage, reading, &value);
}

/* A visit that read the run capacitor of 45 uF. */
static struct visit *add_capacitor(struct book *book, const char *date, const char *found)
{
	struct visit *visit = add_visit(book, date);

	type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITOR_RATED, "45");
	type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITANCE, found);
	return visit;
}

static wall_time day(const char *date)
{
	wall_time time = 0;

	ck_assert(clock_parse(date, &time));
	return time;
}

static void follow(const struct book *book, enum series series, const char *today,
                   struct history_series *result)
{
	ck_assert(history_follow(book->list, book->count, series, UNITS_US, day(today), result));
}

START_TEST(every_row_is_whole)
{
	for (int i = SERIES_NONE + 1; i < SERIES_COUNT; i++) {
		const struct series_info *info = series_info((enum series)i);
		ck_assert(info->key && *info->key && info->label && *info->label);
		ck_assert_int_le((int)strlen(info->label), 26);
		ck_assert_msg((info->figure != FIGURE_NONE) != (info->reading != READING_NONE), "%s",
		              info->key);
		ck_assert_msg(info->bad_below || info->bad_above, "%s", info->key);
		ck_assert(info->minus == FIGURE_NONE || info->limits.low < info->limits.high);
		for (int j = i + 1; j < SERIES_COUNT; j++)
			ck_assert_str_ne(info->key, series_info((enum series)j)->key);
	}
}
END_TEST

/* 45 uF: -1.1 %, -4.4 %, -7.8 % at three springs: -3.3 % a year, -6 % in the spring of 2026. */
START_TEST(a_drifting_capacitor_is_told_with_its_date)
{
	struct book book = { .count = 0 };
	struct history_series series;

	add_capacitor(&book, "2023-05-10", "46.6");
	add_capacitor(&book, "2024-05-12", "45.1");
	add_capacitor(&book, "2025-05-08", "43.6");
	follow(&book, SERIES_RUN_CAPACITOR, "2025-05-08", &series);
	ck_assert_uint_eq(series.count, 3);
	ck_assert(series.has_low && series.has_high);
	ck_assert_double_eq_tol(series.low, -6, 1e-9);
	ck_assert_int_eq(series.drift.claim, DRIFT_CLAIMED);
	ck_assert_str_eq(series.sentence,
	                 "falling 3.3 % a year; below -6 % around March 2026 (a rough date); 3 visits");
	ck_assert_str_eq(series.key, "run_capacitor");
	/* A year later, nobody came: it is told as probable. */
	follow(&book, SERIES_RUN_CAPACITOR, "2026-08-01", &series);
	ck_assert_ptr_nonnull(strstr(series.sentence, "; probably below -6 % since around March 2026 (a rough date), by "
	                         "the line through 3 visits"));
}
END_TEST

START_TEST(a_limit_behind_is_told_as_past)
{
	struct book book = { .count = 0 };
	struct history_series series;

	add_capacitor(&book, "2023-05-10", "44");
	add_capacitor(&book, "2024-05-12", "42");
	add_capacitor(&book, "2025-05-08", "40");
	follow(&book, SERIES_RUN_CAPACITOR, "2025-05-08", &series);
	ck_assert(series.crossing.is_past);
	ck_assert_str_eq(series.sentence,
	                 "falling 4.5 % a year; probably below -6 % since around March 2024, by the "
	                 "line through 3 visits");
}
END_TEST

START_TEST(two_visits_or_meters_claim_nothing)
{
	struct book book = { .count = 0 };
	struct history_series series;

	add_capacitor(&book, "2023-05-10", "45");
	add_capacitor(&book, "2024-05-12", "42");
	follow(&book, SERIES_RUN_CAPACITOR, "2024-05-12", &series);
	ck_assert_str_eq(series.sentence, "too few for a trend; 2 visits");
	ck_assert(!series.crossing.expected);
	book.count = 1;
	add_capacitor(&book, "2024-05-12", "44.6");
	add_capacitor(&book, "2025-05-12", "44.3");
	follow(&book, SERIES_RUN_CAPACITOR, "2025-05-12", &series);
	ck_assert_str_eq(series.sentence, "no clear trend; 3 visits");
}
END_TEST

START_TEST(a_new_part_begins_a_new_trend)
{
	struct book book = { .count = 0 };
	struct history_series series;

	add_capacitor(&book, "2022-05-10", "44");
	add_capacitor(&book, "2023-05-12", "42");
	struct visit *visit = add_capacitor(&book, "2024-05-08", "40");
	type(visit, STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE, "45.2");
	add_capacitor(&book, "2025-05-08", "45");
	follow(&book, SERIES_RUN_CAPACITOR, "2025-05-08", &series);
	ck_assert_uint_eq(series.count, 5);
	ck_assert(series.points[3].restarts);
	ck_assert_int_eq(series.points[3].stage, STAGE_AS_LEFT);
	ck_assert_uint_eq(series.drift.count, 2);
	ck_assert_int_eq(series.drift.claim, DRIFT_TOO_FEW);
	ck_assert_str_eq(series.sentence,
	                 "too few for a trend; 2 visits since the work of May 2024");
}
END_TEST

/* Measured again after the work and the same: the visit still counts once. */
START_TEST(a_visit_counts_once)
{
	struct book book = { .count = 0 };
	struct history_series series;
	static const char *const dates[] = { "2023-05-10", "2024-05-12" };

	for (int i = 0; i < 2; i++) {
		struct visit *visit = add_capacitor(&book, dates[i], i ? "40" : "45");
		type(visit, STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE, i ? "40.1" : "45.1");
	}
	follow(&book, SERIES_RUN_CAPACITOR, "2024-05-12", &series);
	ck_assert_uint_eq(series.count, 4);
	ck_assert_uint_eq(series.drift.count, 2);
	ck_assert_int_eq(series.drift.claim, DRIFT_TOO_FEW);
}
END_TEST

/* Insulation falls by shares: 400, 200, 100, 50 megohm; OL is no number and no point. */
START_TEST(insulation_halves_every_year)
{
	static const char *const dates[] = {
		"2021-06-01", "2022-06-01", "2023-06-01", "2024-06-01", "2025-06-01" };
	static const char *const values[] = { "OL", "400", "200", "100", "50" };
	struct book book = { .count = 0 };
	struct history_series series;

	for (int i = 0; i < 5; i++) {
		struct visit *visit = add_visit(&book, dates[i]);
		type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, values[i]);
		type(visit, STAGE_AS_FOUND, READING_SHELL_TEMP, "104");
	}
	follow(&book, SERIES_INSULATION, "2025-06-01", &series);
	ck_assert_uint_eq(series.count, 4);
	ck_assert_int_eq(series.drift.claim, DRIFT_CLAIMED);
	ck_assert(series.has_low && !series.has_high);
	/* log2(50/20) = 1.32 years on. */
	ck_assert_ptr_nonnull(strstr(series.sentence, "falling by 50 % a year, at the newest temperature; below 20 MΩ around "
	                             "September 2026"));
}
END_TEST

/* 20 MΩ is a usual limit and said to be; a maker's floor wins: log2(50 / 0.5) = 6.64 years on. */
START_TEST(the_limit_of_insulation_is_the_units_own)
{
	static const char *const dates[] = { "2022-06-01", "2023-06-01", "2024-06-01", "2025-06-01" };
	static const char *const values[] = { "400", "200", "100", "50" };
	struct book book = { .count = 0 };
	struct history_series series;

	for (int i = 0; i < 4; i++) {
		struct visit *visit = add_visit(&book, dates[i]);
		type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, values[i]);
		type(visit, STAGE_AS_FOUND, READING_SHELL_TEMP, "104");
	}
	follow(&book, SERIES_INSULATION, "2025-06-01", &series);
	ck_assert_double_eq_tol(series.low, 20, 1e-9);
	ck_assert(series.is_assumed);
	struct visit *last = add_visit(&book, "2025-06-02");
	type(last, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, "50");
	type(last, STAGE_AS_FOUND, READING_SHELL_TEMP, "104");
	type(last, STAGE_AS_FOUND, READING_INSULATION_FLOOR, "0.5");
	follow(&book, SERIES_INSULATION, "2025-06-02", &series);
	ck_assert_double_eq_tol(series.low, 0.5, 1e-9);
	ck_assert(!series.is_assumed);
	ck_assert_ptr_nonnull(strstr(series.sentence, "below 0.5 MΩ around "));
}
END_TEST

START_TEST(sentences_are_in_the_units_asked_for)
{
	struct book book = { .count = 0 };
	struct history_series series;
	static const char *const dates[] = { "2022-06-01", "2023-06-01", "2024-06-01", "2025-06-01" };
	static const char *const liquid[] = { "95", "88", "81", "74" };

	/* R-410A at 365 psig condenses near 110.6 °F: subcooling from 15 °F up to 36 °F. */
	for (int i = 0; i < 4; i++) {
		struct visit *visit = add_visit(&book, dates[i]);
		type(visit, STAGE_AS_FOUND, READING_REFRIGERANT, "R-410A");
		type(visit, STAGE_AS_FOUND, READING_METERING, "txv");
		type(visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "365");
		type(visit, STAGE_AS_FOUND, READING_LIQUID_LINE_TEMP, liquid[i]);
	}
	follow(&book, SERIES_SUBCOOLING, "2025-06-01", &series);
	ck_assert_double_eq_tol(series.points[3].value - series.points[0].value, 21, 0.01);
	ck_assert_ptr_nonnull(strstr(series.sentence, "rising 7 °F a year; probably above 3 °F since "));
	ck_assert(history_follow(book.list, book.count, SERIES_SUBCOOLING, UNITS_SI, day("2025-06-01"),
	                         &series));
	ck_assert_ptr_nonnull(strstr(series.sentence, "rising 3.9 K a year; probably above 1.7 K since "));
}
END_TEST

/* Amps of one sound compressor on a mild, a warm and a hot day: the weather's, not the motor's. */
START_TEST(amps_that_follow_the_weather_are_no_trend)
{
	static const char *const outdoor[] = { "70", "84", "99" }, *const amps[] = { "9.1", "10.5", "12.1" };
	static const char *const days[] = { "2023-05-10", "2024-06-12", "2025-07-08" };
	struct book book = { .count = 0 };
	struct history_series series;

	for (int i = 0; i < 3; i++) {
		struct visit *visit = add_visit(&book, days[i]);
		type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_RLA, "14.1");
		type(visit, STAGE_AS_FOUND, READING_OUTDOOR_DB, outdoor[i]);
		type(visit, STAGE_AS_FOUND, READING_COMMON_AMPS, amps[i]);
	}
	follow(&book, SERIES_COMPRESSOR_AMPS, "2025-07-08", &series);
	ck_assert_uint_eq(series.count, 3);
	ck_assert_int_ne(series.drift.claim, DRIFT_CLAIMED);
}
END_TEST

/* On like days the same rise is one. */
START_TEST(amps_that_rise_on_like_days_are_a_trend)
{
	static const char *const amps[] = { "9.1", "10.5", "12.1", "13.5" };
	static const char *const days[] = { "2022-07-10", "2023-07-12", "2024-07-08", "2025-07-09" };
	struct book book = { .count = 0 };
	struct history_series series;

	for (int i = 0; i < 4; i++) {
		struct visit *visit = add_visit(&book, days[i]);
		type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_RLA, "14.1");
		type(visit, STAGE_AS_FOUND, READING_OUTDOOR_DB, "95");
		type(visit, STAGE_AS_FOUND, READING_COMMON_AMPS, amps[i]);
	}
	follow(&book, SERIES_COMPRESSOR_AMPS, "2025-07-08", &series);
	ck_assert_int_eq(series.drift.claim, DRIFT_CLAIMED);
	ck_assert_ptr_nonnull(strstr(series.sentence, "at the newest outdoor temperature"));
}
END_TEST

/* At which temperature a value is compared is said: where the newest was not read, the usual one. */
START_TEST(drift_says_at_which_temperature_it_is)
{
	static const char *const dates[] = { "2022-06-01", "2023-06-01", "2024-06-01", "2025-06-01" };
	static const char *const megohm[] = { "8000", "1100", "160", "22" };
	struct book book = { .count = 0 };
	struct history_series series;

	for (int i = 0; i < 4; i++) {
		struct visit *visit = add_visit(&book, dates[i]);
		type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, megohm[i]);
	}
	follow(&book, SERIES_INSULATION, "2025-06-01", &series);
	ck_assert_int_eq(series.drift.claim, DRIFT_CLAIMED);
	ck_assert_ptr_nonnull(strstr(series.sentence, "at the usual temperature"));
}
END_TEST

/* 900, 350 and 120 megohms at 60, 85 and 112 °F are one value at 40 °C (halving each 10 °C). */
START_TEST(insulation_that_follows_the_temperature_is_no_trend)
{
	static const char *const shell[] = { "60", "85", "112" }, *const megohm[] = { "900", "350", "120" };
	static const char *const days[] = { "2023-04-10", "2024-06-12", "2025-07-08" };
	static const enum reading places[] = { READING_SHELL_TEMP, READING_WINDING_TEMP, READING_OUTDOOR_DB };
	struct book book = { .count = 0 };
	struct history_series series;

	for (int i = 0; i < 3; i++) {
		struct visit *visit = add_visit(&book, days[i]);
		type(visit, STAGE_AS_FOUND, places[_i], shell[i]);
		type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, megohm[i]);
	}
	follow(&book, SERIES_INSULATION, "2025-07-08", &series);
	ck_assert_uint_eq(series.count, 3);
	ck_assert_int_ne(series.drift.claim, DRIFT_CLAIMED);
}
END_TEST

/*
 * Half of it lost each year at 40 °C, and read at 60, 85, 112 and 95 °F (15.6, 29.4, 44.4,
 * 35 °C): the rate is that of the values at 40 °C, 400, 200, 100 and 50 MΩ, halved
 * for each 10 °C more (IEEE 43's older correction).
 */
START_TEST(insulation_falls_as_it_does_at_40_celsius)
{
	static const char *const shell[] = { "60", "85", "112", "95" };
	static const char *const megohm[] = { "2177", "416", "73.5", "70.7" };
	static const char *const days[] = { "2022-06-01", "2023-06-01", "2024-06-01", "2025-06-01" };
	struct book book = { .count = 0 };
	struct history_series series;

	for (int i = 0; i < 4; i++) {
		struct visit *visit = add_visit(&book, days[i]);
		type(visit, STAGE_AS_FOUND, READING_WINDING_TEMP, shell[i]);
		type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, megohm[i]);
		ck_assert_double_eq_tol(figure_evaluate(visit, STAGE_AS_FOUND, FIGURE_INSULATION_AT_40C).value,
		                        400.0 / (1 << i), 0.02 * 400.0 / (1 << i));
	}
	follow(&book, SERIES_INSULATION, "2025-06-01", &series);
	ck_assert_int_eq(series.drift.claim, DRIFT_CLAIMED);
	ck_assert_ptr_nonnull(strstr(series.sentence, "falling by 50 % a year, at the newest temperature"));
}
END_TEST

/* The rating changed: another can, whatever its deviation. */
START_TEST(a_capacitor_of_another_rating_begins_a_new_trend)
{
	struct book book = { .count = 0 };
	struct history_series series;

	add_capacitor(&book, "2023-05-10", "46.6");
	add_capacitor(&book, "2024-05-12", "45.1");
	struct visit *visit = add_capacitor(&book, "2025-05-08", "53");
	type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_CAPACITOR_RATED, "55");
	follow(&book, SERIES_RUN_CAPACITOR, "2025-05-08", &series);
	ck_assert(series.points[2].restarts);
	ck_assert_int_eq(series.drift.claim, DRIFT_TOO_FEW);
}
END_TEST

/* It came back by itself: somebody replaced it in between. */
START_TEST(a_capacitor_that_came_back_is_another_one)
{
	struct book book = { .count = 0 };
	struct history_series series;

	add_capacitor(&book, "2023-05-10", "42.5");
	add_capacitor(&book, "2024-05-12", "45.6");
	follow(&book, SERIES_RUN_CAPACITOR, "2025-05-08", &series);
	ck_assert(series.points[1].restarts);
}
END_TEST

START_TEST(what_was_never_read_has_no_series)
{
	struct book book = { .count = 0 };
	struct history_series series;

	ck_assert(!history_follow(NULL, 0, SERIES_RUN_CAPACITOR, UNITS_US, 0, &series));
	add_visit(&book, "2023-05-10");
	ck_assert(!history_follow(book.list, 1, SERIES_RUN_CAPACITOR, UNITS_US, 0, &series));
	ck_assert(!history_plot_figure(book.list, 1, FIGURE_SUPERHEAT, &series));
	ck_assert(!history_plot_reading(book.list, 1, READING_FAN_AMPS, &series));
	type(&book.visits[0], STAGE_AS_LEFT, READING_FAN_AMPS, "1.2");
	ck_assert(history_plot_reading(book.list, 1, READING_FAN_AMPS, &series));
	ck_assert_str_eq(series.key, "fan_amps");
	ck_assert_int_eq(series.points[0].stage, STAGE_AS_LEFT);
}
END_TEST

static const struct history_change *find_change(const struct history_change *changes,
                                                size_t count, enum figure figure,
                                                enum reading reading)
{
	for (size_t i = 0; i < count; i++)
		if (changes[i].figure == figure && changes[i].reading == reading)
			return &changes[i];
	return NULL;
}

START_TEST(as_found_is_compared_with_as_left)
{
	struct history_change changes[HISTORY_MOST_CHANGES];
	struct book book = { .count = 0 };
	struct visit *visit = add_capacitor(&book, "2025-05-10", "27");

	type(visit, STAGE_AS_LEFT, READING_COMPRESSOR_CAPACITANCE, "45.2");
	type(visit, STAGE_AS_FOUND, READING_CONTACTOR_CONDITION, "pitted");
	type(visit, STAGE_AS_LEFT, READING_CONTACTOR_CONDITION, "clean");
	type(visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE, "240");
	type(visit, STAGE_AS_LEFT, READING_LINE_VOLTAGE, "241");
	type(visit, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE, "OL");
	type(visit, STAGE_AS_LEFT, READING_COMPRESSOR_GROUND_RESISTANCE, "OL");
	type(visit, STAGE_AS_FOUND, READING_FAN_AMPS, "1.5");
	size_t count = history_compare(visit, STAGE_AS_FOUND, visit, STAGE_AS_LEFT, changes);

	const struct history_change *change = find_change(
		changes, count, FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, READING_NONE);
	ck_assert_ptr_nonnull(change);
	ck_assert_double_eq_tol(change->change, 100 * (45.2 - 27) / 45, 1e-9);
	ck_assert(change->is_real);
	change = find_change(changes, count, FIGURE_NONE, READING_CONTACTOR_CONDITION);
	ck_assert(change && change->is_real && isnan(change->change));
	change = find_change(changes, count, FIGURE_NONE, READING_LINE_VOLTAGE);
	ck_assert(change && !change->is_real);
	ck_assert_double_eq_tol(change->change, 1, 1e-9);
	change = find_change(changes, count, FIGURE_NONE, READING_COMPRESSOR_GROUND_RESISTANCE);
	ck_assert(change && !change->is_real);
	ck_assert_ptr_null(find_change(changes, count, FIGURE_NONE, READING_FAN_AMPS));
	/* The nameplate is the same in both and not a change. */
	ck_assert_ptr_null(find_change(changes, count, FIGURE_NONE, READING_COMPRESSOR_CAPACITOR_RATED));
}
END_TEST

/* What was read last on a machine, in US units. */
static void read_last(struct system_line *line, enum reading reading, const char *typed)
{
	struct error error;

	for (int i = 0; i < SYSTEM_READING_COUNT; i++)
		if (system_readings[i] == reading)
			ck_assert_int_eq(reading_parse(reading, typed, UNITS_US, &line->readings[i], &error),
			                 STATUS_OK);
}

START_TEST(a_machine_is_described_in_a_few_words)
{
	struct system_line line = { .call_count = 1 };
	char out[120];

	system_describe(&line, day("2026-06-03"), UNITS_US, out, sizeof out);
	ck_assert_str_eq(out, "");
	read_last(&line, READING_MANUFACTURE_YEAR, "2011");
	system_describe(&line, day("2026-06-03"), UNITS_US, out, sizeof out);
	ck_assert_str_eq(out, "made 2011 (15 years)");
	read_last(&line, READING_NOMINAL_CAPACITY, "3");
	read_last(&line, READING_REFRIGERANT, "R-410A");
	read_last(&line, READING_METERING, "fixed orifice");
	system_describe(&line, day("2026-06-03"), UNITS_US, out, sizeof out);
	ck_assert_str_eq(out, "3.0 ton, R-410A, fixed orifice, made 2011 (15 years)");
}
END_TEST

/* ---- What a unit's past says ---- */

static char past_lines[UNIT_PAST_LINES][UNIT_PAST_SIZE];

static void write_past(const struct history *history)
{
	unit_past_write(history, UNITS_US, past_lines);
}

START_TEST(a_past_counts_its_visits)
{
	static struct past_call visits[3];
	struct history history = { .visits = visits };

	write_past(&history);
	ck_assert_str_eq(past_lines[0], "Not visited yet.");
	visits[0].opened_at = day("2026-07-09");
	visits[1].opened_at = day("2025-06-10");
	visits[2].opened_at = day("2023-05-16");
	history.visit_count = 1;
	write_past(&history);
	ck_assert_str_eq(past_lines[0], "One visit, 2026-07-09.");
	history.visit_count = 2;
	write_past(&history);
	ck_assert_str_eq(past_lines[0], "2 visits since 2025-06-10, the last 2026-07-09.");
	history.visit_count = 3;
	snprintf(visits[0].found_line, sizeof visits[0].found_line, "run capacitor failed");
	write_past(&history);
	ck_assert_str_eq(past_lines[0], "3 visits since 2023-05-16, the last 2026-07-09: run capacitor failed.");
	snprintf(visits[0].done_line, sizeof visits[0].done_line, "replaced");
	write_past(&history);
	ck_assert_str_eq(past_lines[0], "3 visits since 2023-05-16, the last 2026-07-09: run capacitor "
	                 "failed; done: replaced.");
}
END_TEST

START_TEST(a_past_says_what_drifts_and_how_much_more)
{
	static struct history_series series[5];
	static struct past_call visits[3];
	struct history history = { .series = series, .visits = visits, .visit_count = 2 };

	write_past(&history);
	ck_assert_str_eq(past_lines[1], "Too few visits to see a trend.");
	history.visit_count = 3;
	write_past(&history);
	ck_assert_str_eq(past_lines[1], "No reading drifts beyond what meters and weather explain.");
	for (int i = 0; i < 5; i++) {
		series[i].series = SERIES_RUN_CAPACITOR;
		series[i].drift.claim = DRIFT_NOT_CLEAR;
		series[i].label = "can";
		snprintf(series[i].sentence, sizeof series[i].sentence, "drift %d", i);
	}
	/* What is followed and claims nothing, and what is only plotted, is left out. */
	series[0].drift.claim = DRIFT_CLAIMED;
	series[0].series = SERIES_NONE;
	series[2].drift.claim = DRIFT_CLAIMED;
	history.series_count = 5;
	write_past(&history);
	ck_assert_str_eq(past_lines[1], "can: drift 2");
	series[3].drift.claim = DRIFT_CLAIMED;
	write_past(&history);
	ck_assert_str_eq(past_lines[1], "can: drift 2. 1 more drifts.");
	series[4].drift.claim = DRIFT_CLAIMED;
	write_past(&history);
	ck_assert_str_eq(past_lines[1], "can: drift 2. 2 more drift.");
}
END_TEST

START_TEST(a_past_says_what_is_open)
{
	struct watch_item watch[2] = { { .text = "fan amps" }, { .text = "drain" } };
	struct past_offer offered[3] = {
		{ .offer = { .title = "Replace the coil", .decision = DECISION_DECLINED } },
		{ .offer = { .title = "Seal the ducts", .decision = DECISION_DECLINED } },
		{ .offer = { .title = "New motor" } },
	};
	struct made_up_line made_up[2] = { { .made_up_oz = 8 }, { .made_up_oz = 4 } };
	struct history history = { .watch = watch, .offered = offered, .made_up = made_up };

	write_past(&history);
	ck_assert_str_eq(past_lines[2],
	                 "Nothing is watched, nothing was declined, no refrigerant was added.");
	history.watch_count = 1;
	write_past(&history);
	ck_assert_str_eq(past_lines[2], "Watch: fan amps.");
	history.watch_count = 2;
	history.offered_count = 1;
	write_past(&history);
	ck_assert_str_eq(past_lines[2], "Watch: fan amps, and more. Declined: Replace the coil.");
	history.watch_count = 0;
	history.offered_count = 2;
	history.made_up_count = 2;
	write_past(&history);
	ck_assert_str_eq(past_lines[2], "Declined: Replace the coil, and more. Refrigerant added over the "
	                 "years: 12.0 oz.");
	/* Who took another option declined nothing; who thinks about it is asked again. */
	history.made_up_count = 0;
	history.offered_count = 3;
	offered[1].is_other_taken = true;
	write_past(&history);
	ck_assert_str_eq(past_lines[2], "Declined: Replace the coil. Not chosen: Seal the ducts. "
	                 "Not decided yet: New motor.");
}
END_TEST

/* A title that was typed as a sentence keeps one full stop. */
START_TEST(a_past_ends_its_sentences_once)
{
	struct watch_item watch[] = { { .text = "Listen to the fan. " } };
	struct past_offer offered[] = {
		{ .offer = { .title = "Replace the compressor.", .decision = DECISION_DECLINED } },
	};
	struct history history = { .watch = watch, .watch_count = 1, .offered = offered,
	                           .offered_count = 1 };

	write_past(&history);
	ck_assert_str_eq(past_lines[2], "Watch: Listen to the fan. Declined: Replace the compressor.");
}
END_TEST

Suite *history_suite(void)
{
	Suite *suite = suite_create("history");
	TCase *drift = tcase_create("drift");
	TCase *compare = tcase_create("compare");

	tcase_add_test(drift, every_row_is_whole);
	tcase_add_test(drift, a_drifting_capacitor_is_told_with_its_date);
	tcase_add_test(drift, a_limit_behind_is_told_as_past);
	tcase_add_test(drift, two_visits_or_meters_claim_nothing);
	tcase_add_test(drift, a_new_part_begins_a_new_trend);
	tcase_add_test(drift, a_visit_counts_once);
	tcase_add_test(drift, insulation_halves_every_year);
	tcase_add_test(drift, the_limit_of_insulation_is_the_units_own);
	tcase_add_test(drift, insulation_falls_as_it_does_at_40_celsius);
	tcase_add_test(drift, sentences_are_in_the_units_asked_for);
	tcase_add_test(drift, amps_that_follow_the_weather_are_no_trend);
	tcase_add_test(drift, amps_that_rise_on_like_days_are_a_trend);
	tcase_add_loop_test(drift, insulation_that_follows_the_temperature_is_no_trend, 0, 3);
	tcase_add_test(drift, a_capacitor_of_another_rating_begins_a_new_trend);
	tcase_add_test(drift, a_capacitor_that_came_back_is_another_one);
	tcase_add_test(drift, what_was_never_read_has_no_series);
	tcase_add_test(compare, as_found_is_compared_with_as_left);
	tcase_add_test(compare, a_machine_is_described_in_a_few_words);
	tcase_add_test(compare, a_past_counts_its_visits);
	tcase_add_test(compare, a_past_says_what_drifts_and_how_much_more);
	tcase_add_test(compare, a_past_says_what_is_open);
	tcase_add_test(compare, a_past_ends_its_sentences_once);
	tcase_add_test(compare, drift_says_at_which_temperature_it_is);
	suite_add_tcase(suite, drift);
	suite_add_tcase(suite, compare);
	return suite;
}
