/* Each row of what is followed, over five springs that rise and five that fall. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/history.h>
#include <padside/base/text.h>

Suite *series_suite(void);

enum { SPRINGS = 5 };

/* What is read each spring: at first, and by how much it moves from one to the next. */
static const struct {
	enum reading reading;
	double first, step;
} readings[] = {
	{ READING_COMPRESSOR_CAPACITOR_RATED, 45, 0 }, { READING_COMPRESSOR_CAPACITANCE, 45, 0.9 },
	{ READING_FAN_CAPACITOR_RATED, 5, 0 }, { READING_FAN_CAPACITANCE, 5, 0.08 },
	{ READING_START_AMPS, 6, 0.1 }, { READING_COMPRESSOR_CAPACITOR_VOLTS, 350, 0 },
	{ READING_COMMON_AMPS, 14, 0.6 }, { READING_COMPRESSOR_RLA, 17, 0 },
	{ READING_FAN_AMPS, 1.2, 0.06 }, { READING_FAN_MOTOR_FLA, 1.3, 0 },
	{ READING_BLOWER_AMPS, 3.5, 0.2 }, { READING_BLOWER_MOTOR_FLA, 4, 0 },
	{ READING_COMPRESSOR_GROUND_RESISTANCE, 500, 110 }, { READING_WINDING_TEMP, 88, 0 },
	{ READING_CONTACTOR_DROP, 0.2, 0.05 }, { READING_LINE_VOLTAGE, 240, 3 },
	{ READING_LINE_VOLTAGE_STARTING, 225, 0.5 }, { READING_RATED_VOLTAGE, 240, 0 },
	{ READING_LINE_VOLTAGE_AB, 240, 2 }, { READING_LINE_VOLTAGE_BC, 240, 0 },
	{ READING_LINE_VOLTAGE_CA, 241, 0 }, { READING_SUCTION_PRESSURE, 118, 2 },
	{ READING_SUCTION_LINE_TEMP, 55, 3 }, { READING_LIQUID_PRESSURE, 320, 12 },
	{ READING_LIQUID_LINE_TEMP, 95, 0 }, { READING_TARGET_SUBCOOLING, 10, 0 },
	{ READING_RETURN_DB, 75, 0 }, { READING_RETURN_WB, 63, 0 }, { READING_SUPPLY_DB, 55, 1.5 },
	{ READING_RETURN_STATIC, -0.2, 0 }, { READING_SUPPLY_STATIC, 0.2, 0.05 },
	{ READING_COIL_DROP, 0.2, 0.04 }, { READING_DRIER_IN_TEMP, 95, 0.5 },
	{ READING_DRIER_OUT_TEMP, 94, 0 },
};

static const double outdoor[SPRINGS] = { 80, 92, 85, 95, 88 };

static struct visit visits[SPRINGS];
static struct history_visit list[SPRINGS];

static void put(struct visit *visit, enum reading reading, double number)
{
	struct value value;
	struct error error;

	ck_assert_msg(reading_from_number(reading, number, UNITS_US, &value, &error) == STATUS_OK, "%s",
	              error.text);
	visit_set(visit, STAGE_AS_FOUND, reading, &value);
}

/* Every spring but the second read the outdoor air; no reading lies quite on its line. */
static void make_visits(double direction)
{
	static const double off_line[SPRINGS] = { 0, 0.08, -0.06, 0.05, 0 };

	for (int i = 0; i < SPRINGS; i++) {
		struct value refrigerant = { .state = VALUE_TAKEN, .choice = CHOICE_REFRIGERANT_R410A };
		struct value metering = { .state = VALUE_TAKEN, .choice = CHOICE_METERING_FIXED_ORIFICE };
		char date[16];
		visit_init(&visits[i]);
		snprintf(date, sizeof date, "%d-05-%02d", 2021 + i, 1 + 3 * i);
		ck_assert(clock_parse(date, &list[i].opened_at));
		list[i].visit = &visits[i];
		for (size_t j = 0; j < sizeof readings / sizeof *readings; j++)
			put(&visits[i], readings[j].reading,
			    readings[j].first + direction * (i + off_line[i]) * readings[j].step);
		if (i != 1)
			put(&visits[i], READING_OUTDOOR_DB, outdoor[i]);
		visit_set(&visits[i], STAGE_AS_FOUND, READING_REFRIGERANT, &refrigerant);
		visit_set(&visits[i], STAGE_AS_FOUND, READING_METERING, &metering);
	}
}

/* A name, its limits, by how much it moves in a year and how sure that is, and the sentence. */
static void add_row(enum series which, struct text *lines)
{
	static struct history_series series;
	wall_time today;

	ck_assert(clock_parse("2025-06-01", &today));
	if (!history_follow(list, SPRINGS, which, UNITS_US, today, &series)) {
		text_add_format(lines, "%s: not read\n", series_info(which)->key);
		return;
	}
	text_add_format(lines, "%s (%s), %.3f to %.3f%s: %.4f, %.4f to %.4f a year\n  %s\n", series.key,
	                series.label, series.low, series.high, series.is_assumed ? ", assumed" : "",
	                365.2425 * series.drift.slope, 365.2425 * series.drift.slope_low,
	                365.2425 * series.drift.slope_high, series.sentence);
}

static void add_all(double direction, struct text *lines)
{
	make_visits(direction);
	for (int i = SERIES_NONE + 1; i < SERIES_COUNT; i++)
		add_row((enum series)i, lines);
}

static const char rising[] =
	"run_capacitor (run capacitor deviation), -6.000 to 6.000, assumed: 1.9681, 1.1139 to 2.8224 "
	"a year\n"
	"  rising 2 % a year; probably above 6 % since around May 2024 (by July 2025 at the latest), "
	"by the line through 5 visits\n"
	"fan_capacitor (fan capacitor deviation), -6.000 to 6.000, assumed: 1.5745, 0.1999 to 2.9491 "
	"a year\n"
	"  no trend that the meters could not explain; 5 visits\n"
	"capacitance_under_load (capacitance under load), 42.300 to 47.700, assumed: 0.7458, 0.1435 "
	"to 1.3481 a year\n"
	"  no trend that the meters could not explain; 5 visits\n"
	"compressor_amps (compressor share of RLA), nan to 100.000: 1.7749, -1.4076 to 4.9574 a "
	"year\n"
	"  no clear trend; 5 visits\n"
	"fan_amps (fan share of FLA), nan to 105.000: 4.5418, 2.1519 to 6.9318 a year\n"
	"  rising 4.5 % a year; probably above 105 % since around February 2024 (by July 2025 at the "
	"latest), by the line through 5 visits\n"
	"blower_amps (blower share of FLA), nan to 105.000: 4.9203, 2.6554 to 7.1852 a year\n"
	"  rising 4.9 % a year; probably above 105 % since around November 2024 (by June 2026 at the "
	"latest), by the line through 5 visits\n"
	"insulation (windings to shell), 20.000 to nan, assumed: 0.1526, 0.0842 to 0.2210 a year\n"
	"  rising by 16 % a year, at the newest temperature; 5 visits\n"
	"contactor_drop (contactor voltage drop), nan to 0.500, assumed: 0.0492, 0.0338 to 0.0646 a "
	"year\n"
	"  rising 0.049 V a year; above 0.5 V around May 2027 (April 2026 to May 2029); 5 visits\n"
	"starting_sag (starting sag), nan to 12.000: 0.9079, -0.1671 to 1.9829 a year\n"
	"  no clear trend; 5 visits\n"
	"voltage (voltage deviation), -10.000 to 10.000: 1.2301, 0.1519 to 2.3083 a year\n"
	"  no trend that the meters could not explain; 5 visits\n"
	"voltage_unbalance (voltage unbalance), nan to 1.000: 0.4916, 0.3474 to 0.6359 a year\n"
	"  rising 0.49 % a year; probably above 1 % since around April 2023, by the line through 5 "
	"visits\n"
	"superheat_over_target (superheat over target), -5.000 to 5.000: 3.4857, 0.2753 to 6.6961 a "
	"year\n"
	"  rising 3.5 °F a year; probably above 5 °F since around April 2022, by the line through 3 "
	"visits\n"
	"subcooling_over_target (subcooling over target), -3.000 to 3.000: 2.4712, 1.6644 to 3.2781 "
	"a year\n"
	"  rising 2.5 °F a year; probably above 3 °F since around June 2024, by the line through 5 "
	"visits\n"
	"condenser_over_outdoor (condensing over ambient), nan to 30.000, assumed: 0.2388, -6.2382 "
	"to 6.7157 a year\n"
	"  no clear trend; 4 visits\n"
	"evaporator_under_return (evaporator temp. diff.), nan to 40.000, assumed: -0.8465, -2.2332 "
	"to 0.5401 a year\n"
	"  no clear trend; 5 visits\n"
	"split_over_expected (split over expected), -4.000 to 4.000: -1.3005, -2.2864 to -0.3145 a "
	"year\n"
	"  no trend that the meters could not explain; 4 visits\n"
	"external_static (total external static), nan to 0.500, assumed: 0.0492, 0.0286 to 0.0698 a "
	"year\n"
	"  rising 0.049 in. w.c. a year; probably above 0.5 in. w.c. since around May 2023, by the "
	"line through 5 visits\n"
	"coil_drop (coil pressure drop), nan to 0.350: 0.0394, 0.0251 to 0.0536 a year\n"
	"  rising 0.039 in. w.c. a year; probably above 0.35 in. w.c. since around February 2025 (by "
	"May 2026 at the latest), by the line through 5 visits\n"
	"drier_drop (drier temperature drop), nan to 3.000: 0.4920, 0.1810 to 0.8030 a year\n"
	"  rising 0.49 °F a year; probably above 3 °F since around May 2025 (by March 2029 at the "
	"latest), by the line through 5 visits\n";

START_TEST(what_rises_is_told_row_by_row)
{
	struct text lines;

	text_init(&lines);
	add_all(1, &lines);
	ck_assert_str_eq(text_get(&lines), rising);
	text_done(&lines);
}
END_TEST

static const char falling[] =
	"run_capacitor (run capacitor deviation), -6.000 to 6.000, assumed: -1.9681, -2.7679 to "
	"-1.1683 a year\n"
	"  falling 2 % a year; probably below -6 % since around May 2024 (by June 2025 at the "
	"latest), by the line through 5 visits\n"
	"fan_capacitor (fan capacitor deviation), -6.000 to 6.000, assumed: -1.5745, -2.9055 to "
	"-0.2435 a year\n"
	"  no trend that the meters could not explain; 5 visits\n"
	"capacitance_under_load (capacitance under load), 42.300 to 47.700, assumed: -0.7458, "
	"-1.3249 to -0.1667 a year\n"
	"  no trend that the meters could not explain; 5 visits\n"
	"compressor_amps (compressor share of RLA), nan to 100.000: -5.1236, -8.2832 to -1.9640 a "
	"year\n"
	"  falling 5.1 % a year, at the newest outdoor temperature; 5 visits\n"
	"fan_amps (fan share of FLA), nan to 105.000: -4.5418, -6.8283 to -2.2554 a year\n"
	"  falling 4.5 % a year; 5 visits\n"
	"blower_amps (blower share of FLA), nan to 105.000: -4.9203, -7.1234 to -2.7173 a year\n"
	"  falling 4.9 % a year; 5 visits\n"
	"insulation (windings to shell), 20.000 to nan, assumed: -0.4711, -1.0010 to -0.2693 a year\n"
	"  falling by 38 % a year, at the newest temperature; below 20 MΩ around August 2028 "
	"(October 2025 to July 2032); 5 visits\n"
	"contactor_drop (contactor voltage drop), nan to 0.500, assumed: -0.0492, -0.0642 to -0.0342 "
	"a year\n"
	"  falling 0.049 V a year; 5 visits\n"
	"starting_sag (starting sag), nan to 12.000: -1.0001, -2.1057 to 0.1055 a year\n"
	"  no clear trend; 5 visits\n"
	"voltage (voltage deviation), -10.000 to 10.000: -1.2301, -2.3018 to -0.1584 a year\n"
	"  no trend that the meters could not explain; 5 visits\n"
	"voltage_unbalance (voltage unbalance), nan to 1.000: 0.5281, 0.3835 to 0.6727 a year\n"
	"  rising 0.53 % a year; probably above 1 % since around October 2022, by the line through 5 "
	"visits\n"
	"superheat_over_target (superheat over target), -5.000 to 5.000: -0.7184, -4.2501 to 2.8133 "
	"a year\n"
	"  no clear trend; 3 visits\n"
	"subcooling_over_target (subcooling over target), -3.000 to 3.000: -2.7542, -3.5604 to "
	"-1.9479 a year\n"
	"  falling 2.8 °F a year; probably below -3 °F since around September 2020, by the line "
	"through 5 visits\n"
	"condenser_over_outdoor (condensing over ambient), nan to 30.000, assumed: -4.9139, -11.8011 "
	"to 1.9734 a year\n"
	"  no clear trend; 4 visits\n"
	"evaporator_under_return (evaporator temp. diff.), nan to 40.000, assumed: 0.8866, -0.5004 "
	"to 2.2735 a year\n"
	"  no clear trend; 5 visits\n"
	"split_over_expected (split over expected), -4.000 to 4.000: 1.6376, 0.6364 to 2.6389 a "
	"year\n"
	"  rising 1.6 °F a year; probably above 4 °F since around January 2024, by the line through 4 "
	"visits\n"
	"external_static (total external static), nan to 0.500, assumed: -0.0492, -0.0698 to -0.0286 "
	"a year\n"
	"  falling 0.049 in. w.c. a year; 5 visits\n"
	"coil_drop (coil pressure drop), nan to 0.350: -0.0394, -0.0533 to -0.0255 a year\n"
	"  falling 0.039 in. w.c. a year; 5 visits\n"
	"drier_drop (drier temperature drop), nan to 3.000: -0.4920, -0.8030 to -0.1810 a year\n"
	"  falling 0.49 °F a year; 5 visits\n";

START_TEST(what_falls_is_told_row_by_row)
{
	struct text lines;

	text_init(&lines);
	add_all(-1, &lines);
	ck_assert_str_eq(text_get(&lines), falling);
	text_done(&lines);
}
END_TEST

Suite *series_suite(void)
{
	Suite *suite = suite_create("series");
	TCase *tests = tcase_create("series");

	tcase_add_test(tests, what_rises_is_told_row_by_row);
	tcase_add_test(tests, what_falls_is_told_row_by_row);
	suite_add_tcase(suite, tests);
	return suite;
}
