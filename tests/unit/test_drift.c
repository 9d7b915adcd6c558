/* Drift: the robust trend, its honesty and its promptness. */
#include <check.h>
#include <math.h>
#include <stdint.h>

#include <padside/calc/drift.h>

Suite *drift_suite(void);

/* A fixed-seed generator (SplitMix64) and normal deviates from it (Box and Muller 1958). */
static uint64_t next_bits(uint64_t *seed)
{
	uint64_t z = (*seed += 0x9e3779b97f4a7c15u);

	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
	z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
	return z ^ (z >> 31);
}

static double next_uniform(uint64_t *seed)
{
	return ((double)(next_bits(seed) >> 11) + 0.5) / 9007199254740992.0;
}

static double next_normal(uint64_t *seed)
{
	double radius = sqrt(-2 * log(next_uniform(seed)));

	return radius * cos(6.283185307179586 * next_uniform(seed));
}

enum { MOST_VISITS = 16 };

/* Visits about half a year apart, a value that moves by `step` a visit, and noise. */
static void make_series(struct drift_point *points, int count, double start, double step,
                        double deviation, double plus_minus, uint64_t *seed)
{
	for (int i = 0; i < count; i++) {
		double day = 182.6 * i + 50 * (next_uniform(seed) - 0.5);
		points[i] = (struct drift_point){ .day = day, .plus_minus = plus_minus,
			.value = start + step * day / 182.6 + deviation * next_normal(seed) };
	}
}

/* scipy 1.17.1, stats.theilslopes(y, x, 0.95), on the same eight points. */
START_TEST(slope_and_rank_interval_agree_with_reference)
{
	static const double days[] = { 0, 182, 371, 540, 731, 912, 1100, 1280 };
	static const double values[] = { -0.4, -1.3, -0.9, -2.6, -2.1, -9.0, -3.9, -4.2 };
	struct drift_point points[8];
	struct drift drift;

	/* No accuracy stated: nothing but the ranks can speak. */
	for (int i = 0; i < 8; i++)
		points[i] = (struct drift_point){ .day = days[i], .value = values[i] };
	ck_assert_int_eq(drift_fit(points, 8, &drift), STATUS_OK);
	ck_assert(!drift.scatter_is_meters);
	ck_assert_double_eq_tol(drift.slope, -0.0032575757575757577, 1e-12);
	ck_assert_double_eq_tol(drift.slope_low, -0.009429824561403509, 1e-12);
	ck_assert_double_eq_tol(drift.slope_high, -0.0014571948998178506, 1e-12);
	ck_assert_int_eq(drift.claim, DRIFT_CLAIMED);
}
END_TEST

START_TEST(one_bad_reading_hardly_moves_the_slope)
{
	struct drift_point points[7];
	struct drift drift;

	for (int i = 0; i < 7; i++)
		points[i] = (struct drift_point){ .day = 365.0 * i, .value = -1.0 * i, .plus_minus = 0.5 };
	points[3].value = 40;
	ck_assert_int_eq(drift_fit(points, 7, &drift), STATUS_OK);
	ck_assert_double_eq_tol(drift.slope * 365, -1, 0.01);
	ck_assert(!drift.scatter_is_meters);
	ck_assert_int_eq(drift.claim, DRIFT_CLAIMED);
}
END_TEST

START_TEST(two_visits_are_never_a_trend)
{
	const struct drift_point points[] = { { 0, 0, 0.1 }, { 365, -50, 0.1 }, { 365, -50, 0.1 } };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, 2, &drift), STATUS_OK);
	ck_assert_int_eq(drift.claim, DRIFT_TOO_FEW);
	ck_assert(!drift_crosses(&drift, -6, DRIFT_BAD_BELOW).expected);
	/* Two readings stray from no line. */
	ck_assert(drift.scatter_is_meters);
	ck_assert_int_eq(drift_fit(points + 1, 2, &drift), STATUS_OK);
	ck_assert_int_eq(drift.claim, DRIFT_TOO_FEW);
	ck_assert(isnan(drift.slope));
	ck_assert(isnan(drift_value_at(&drift, 0)));
	ck_assert_int_eq(drift_fit(points, 0, &drift), STATUS_OK);
	ck_assert_int_eq(drift.claim, DRIFT_TOO_FEW);
}
END_TEST

/* Three readings with one freedom: a chi-squared of 100 and more is beyond its 95 % point of 3.84. */
START_TEST(three_visits_may_stray_beyond_the_meters)
{
	const struct drift_point points[] = { { 0, 0, 0.5 }, { 365, 10, 0.5 }, { 730, 0, 0.5 } };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OK);
	ck_assert(!drift.scatter_is_meters);
	ck_assert_int_ne(drift.claim, DRIFT_CLAIMED);
}
END_TEST

/* Without an accuracy three readings on a line are a trend, and any scatter ends it. */
START_TEST(three_visits_without_an_accuracy)
{
	struct drift_point points[] = { { 0, 0, 0 }, { 365, 1, 0 }, { 730, 2, 0 } };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OK);
	ck_assert_int_eq(drift.claim, DRIFT_CLAIMED);
	ck_assert_double_eq_tol(drift.slope_low, 1 / 365.0, 1e-12);
	ck_assert_double_eq_tol(drift.slope_high, 1 / 365.0, 1e-12);
	/* Large values have larger errors of rounding: they are no scatter. */
	for (int i = 0; i < 3; i++)
		points[i].value = 4321.1 + 0.1 * i;
	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OK);
	ck_assert_int_eq(drift.claim, DRIFT_CLAIMED);
	points[0].value = 0;
	points[1].value = 1.5;
	points[2].value = 2;
	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OK);
	ck_assert_int_eq(drift.claim, DRIFT_NOT_CLEAR);
	ck_assert(drift.slope_low < 0 && drift.slope_high > 0);
}
END_TEST

START_TEST(meters_that_could_explain_it_silence_it)
{
	/* A clear line of -4 in all, with meters of plus/minus 2.5 at either end. */
	struct drift_point points[] = { { 0, 0, 2.5 }, { 365, -2, 2.5 }, { 730, -4, 2.5 } };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OK);
	ck_assert_int_ne(drift.claim, DRIFT_CLAIMED);
	for (int i = 0; i < 3; i++)
		points[i].plus_minus = 1;
	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OK);
	ck_assert_int_eq(drift.claim, DRIFT_CLAIMED);
	ck_assert_double_eq_tol(drift.change, -4, 1e-9);
}
END_TEST

/* Each number of visits by itself, and at any time over a machine's life. */
START_TEST(no_false_alarm_above_five_per_cent)
{
	const int series = 2000;
	int alarms[MOST_VISITS + 1] = { 0 }, ever = 0;
	uint64_t seed = 20260603;

	for (int run = 0; run < series; run++) {
		struct drift_point points[MOST_VISITS];
		struct drift drift;
		bool alarmed = false;
		make_series(points, MOST_VISITS, -1, 0, 1.0, 1.96, &seed);
		for (int visits = 3; visits <= MOST_VISITS; visits++) {
			ck_assert_int_eq(drift_fit(points, (size_t)visits, &drift), STATUS_OK);
			alarms[visits] += drift.claim == DRIFT_CLAIMED;
			alarmed |= drift.claim == DRIFT_CLAIMED;
		}
		ever += alarmed;
	}
	for (int visits = 3; visits <= MOST_VISITS; visits++)
		ck_assert_msg(alarms[visits] <= series / 20, "%d of %d at %d visits", alarms[visits],
		              series, visits);
	ck_assert_msg(ever <= series / 20, "%d of %d series at any time", ever, series);
}
END_TEST

/* The scatter is twice what the meters allow: weather, another hand. */
START_TEST(scatter_beyond_the_meters_is_no_trend)
{
	const int series = 2000;
	uint64_t seed = 7;

	for (int visits = 3; visits <= MOST_VISITS; visits++) {
		int alarms = 0;
		for (int run = 0; run < series; run++) {
			struct drift_point points[MOST_VISITS];
			struct drift drift;
			make_series(points, visits, 0, 0, 2.0, 1.96, &seed);
			ck_assert_int_eq(drift_fit(points, (size_t)visits, &drift), STATUS_OK);
			alarms += drift.claim == DRIFT_CLAIMED;
		}
		ck_assert_msg(alarms <= series / 10, "%d of %d at %d visits", alarms, series, visits);
	}
}
END_TEST

/*
 * Three and four visits, scatter from the meters' own to three times that: the
 * interval stays honest and few still series are called moving.
 */
static const double scatters[] = { 1, 1.5, 2, 3 };

START_TEST(few_visits_with_scatter_stay_honest)
{
	const int series = 8000;
	uint64_t seed = 20261125 + (uint64_t)_i;

	for (int visits = 3; visits <= 4; visits++) {
		int covered = 0, alarms = 0;
		for (int run = 0; run < series; run++) {
			struct drift_point points[MOST_VISITS];
			struct drift drift;
			make_series(points, visits, 0, 0, scatters[_i], 1.96, &seed);
			ck_assert_int_eq(drift_fit(points, (size_t)visits, &drift), STATUS_OK);
			covered += drift.slope_low <= 0 && drift.slope_high >= 0;
			alarms += drift.claim == DRIFT_CLAIMED;
		}
		ck_assert_msg(covered >= series * 0.93, "%d of %d covered at %d visits", covered, series,
		              visits);
		ck_assert_msg(alarms <= series * 0.05, "%d of %d false at %d visits", alarms, series, visits);
	}
}
END_TEST

START_TEST(interval_covers_the_true_slope)
{
	const int series = 8000;
	uint64_t seed = 99;

	for (int visits = 3; visits <= 12; visits++) {
		int covered = 0;
		for (int run = 0; run < series; run++) {
			struct drift_point points[MOST_VISITS];
			struct drift drift;
			make_series(points, visits, 3, -0.8, 1.0, 1.96, &seed);
			ck_assert_int_eq(drift_fit(points, (size_t)visits, &drift), STATUS_OK);
			double slope = -0.8 / 182.6;
			covered += drift.slope_low <= slope && slope <= drift.slope_high;
		}
		ck_assert_msg(covered >= series * 0.948, "%d of %d at %d visits", covered, series, visits);
	}
}
END_TEST

/*
 * A run capacitor that loses so much a visit, read with a meter of +-2 %:
 * by the second visit after the true value passed -6 % the trend is claimed.
 */
static const double steps[] = { -1.5, -2, -3 };

START_TEST(found_within_two_visits_of_crossing)
{
	const int series = 1000;
	int found = 0, at_limit = 0;
	uint64_t seed = 4242 + (uint64_t)_i;
	int crossing_visit = (int)ceil(6 / -steps[_i]);
	int visits = crossing_visit + 1 + 2;

	for (int run = 0; run < series; run++) {
		struct drift_point points[MOST_VISITS];
		struct drift drift;
		make_series(points, visits, 0, steps[_i], 1.0, 1.96, &seed);
		ck_assert_int_eq(drift_fit(points, (size_t)visits, &drift), STATUS_OK);
		found += drift.claim == DRIFT_CLAIMED;
		struct drift_crossing crossing = drift_crosses(&drift, -6, DRIFT_BAD_BELOW);
		double truth = 182.6 * 6 / -steps[_i];
		at_limit += crossing.expected && crossing.earliest <= truth && truth <= crossing.latest;
	}
	ck_assert_msg(found >= series * 0.95, "%d of %d found", found, series);
	ck_assert_msg(at_limit >= found * 0.95, "%d of %d dated right", at_limit, found);
}
END_TEST

START_TEST(crossing_has_a_date_and_a_range)
{
	const struct drift_point points[] = {
		{ 0, -1, 0.5 }, { 365, -2, 0.5 }, { 730, -3, 0.5 }, { 1095, -4, 0.5 } };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, 4, &drift), STATUS_OK);
	struct drift_crossing below = drift_crosses(&drift, -6, DRIFT_BAD_BELOW);
	ck_assert(below.expected && !below.is_past);
	ck_assert_double_eq_tol(below.day, 1825, 1e-6);
	ck_assert(below.earliest < 1825 && below.earliest > 1095);
	ck_assert(below.latest > 1825 && below.latest < 4000);
	ck_assert(!drift_crosses(&drift, 6, DRIFT_BAD_ABOVE).expected);
	struct drift_crossing past = drift_crosses(&drift, -3.5, DRIFT_BAD_BELOW);
	ck_assert(past.expected && past.is_past);
	ck_assert_double_eq_tol(past.day, 912.5, 1e-6);
	ck_assert(past.earliest <= past.day && past.day <= past.latest);
}
END_TEST

START_TEST(rising_towards_a_ceiling_mirrors_falling)
{
	struct drift_point points[] = {
		{ 0, 1, 0.5 }, { 365, 2, 0.5 }, { 730, 3, 0.5 }, { 1095, 4, 0.5 } };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, 4, &drift), STATUS_OK);
	struct drift_crossing above = drift_crosses(&drift, 6, DRIFT_BAD_ABOVE);
	for (int i = 0; i < 4; i++)
		points[i].value = -points[i].value;
	ck_assert_int_eq(drift_fit(points, 4, &drift), STATUS_OK);
	struct drift_crossing below = drift_crosses(&drift, -6, DRIFT_BAD_BELOW);
	ck_assert(above.expected && below.expected);
	ck_assert_double_eq_tol(above.day, below.day, 1e-9);
	ck_assert_double_eq_tol(above.earliest, below.earliest, 1e-9);
	ck_assert_double_eq_tol(above.latest, below.latest, 1e-9);
}
END_TEST

/*
 * Five meters that differ, on a line: propagation of error through the slope and the level
 * (JCGM 100:2008, 5.1.2), with the efficiency of medians beside means (Sen 1968; 2/pi).
 */
START_TEST(meters_alone_give_the_interval_by_propagation)
{
	const double plus_minus[] = { 1, 2, 1.5, 0.5, 3 };
	struct drift_point points[5];
	struct drift drift;
	double arms = 0, slopes = 0, levels = 0;

	for (int i = 0; i < 5; i++) {
		double arm = 100.0 * (i - 2);
		points[i] = (struct drift_point){ 100 * i, 7 + 0.5 * i, plus_minus[i] };
		arms += arm * arm;
		slopes += arm * arm * plus_minus[i] * plus_minus[i];
		levels += plus_minus[i] * plus_minus[i];
	}
	ck_assert_int_eq(drift_fit(points, 5, &drift), STATUS_OK);
	double half = sqrt(slopes) / arms / sqrt(0.86);
	ck_assert_double_eq_tol(drift.slope_high - 0.005, half, 1e-9);
	ck_assert_double_eq_tol(0.005 - drift.slope_low, half, 1e-9);
	ck_assert_double_eq_tol(drift.centre_plus_minus, sqrt(levels) / 5 / sqrt(2 / 3.14159265), 1e-4);
	ck_assert_double_eq_tol(drift.centre, 8, 1e-9);
	ck_assert_double_eq_tol(drift.centre_day, 200, 1e-9);
	/* The first may have been high by 1, the last low by 3. */
	ck_assert_double_eq_tol(drift.meters_explain, 4, 1e-12);
	ck_assert(drift.scatter_is_meters);
}
END_TEST

/*
 * Three and four visits with one outlier: Student's t with half a degree of freedom more than the
 * residuals have (0.975 quantiles at 1.5 and 2.5 by numerical integration: 6.0167, 3.5747).
 */
START_TEST(few_visits_have_the_interval_of_student)
{
	struct drift_point three[] = { { 0, 0, 1.96 }, { 100, 3, 1.96 }, { 200, 0, 1.96 } };
	struct drift_point four[] = { { 0, 0, 1.96 }, { 100, 3, 1.96 }, { 200, 3, 1.96 }, { 300, 0, 1.96 } };
	struct drift drift;

	/* The line is flat at 0: one reading is off by three deviations. */
	ck_assert_int_eq(drift_fit(three, 3, &drift), STATUS_OK);
	double meters = 1.96 * sqrt(20000) / 20000 / sqrt(0.86);
	ck_assert_double_eq_tol(drift.slope, 0, 1e-12);
	ck_assert_double_eq_tol(drift.slope_high, meters * 6.0167 / 1.96 * sqrt(9.5 / 1.5), 1e-5);
	ck_assert_double_eq_tol(drift.slope_low, -drift.slope_high, 1e-12);
	/* Flat at 1.5: all four are off by one and a half. */
	ck_assert_int_eq(drift_fit(four, 4, &drift), STATUS_OK);
	meters = 1.96 * sqrt(50000) / 50000 / sqrt(0.86);
	ck_assert_double_eq_tol(drift.slope_high, meters * 3.5747 / 1.96 * sqrt(9.5 / 2.5), 1e-5);
	/* The level is as unsure as the slope. */
	ck_assert_double_eq_tol(drift.centre_plus_minus,
	                        1.96 / 2 / sqrt(0.6366) * 3.5747 / 1.96 * sqrt(9.5 / 2.5), 1e-3);
}
END_TEST

/* 95 % points of chi-squared (NIST/SEMATECH e-Handbook, table 1.3.6.7.4), by degrees of freedom. */
static const struct {
	int freedom;
	double point;
} chi_squared[] = { { 3, 7.815 }, { 4, 9.488 }, { 6, 12.592 }, { 10, 18.307 }, { 14, 23.685 } };

/* Readings one unit above and below a flat line in turn; the meters' deviation makes the sum. */
START_TEST(scatter_is_told_from_meters_at_the_tables_point)
{
	int count = chi_squared[_i].freedom + 2;

	for (int above = 0; above <= 1; above++) {
		double sum = chi_squared[_i].point * (above ? 1.015 : 0.985);
		struct drift_point points[16];
		struct drift drift;
		for (int i = 0; i < count; i++)
			points[i] = (struct drift_point){ 100 * i, i == 1 ? sqrt(sum) : 0, 1.959964 };
		ck_assert_int_eq(drift_fit(points, (size_t)count, &drift), STATUS_OK);
		ck_assert_double_eq_tol(drift.slope, 0, 1e-12);
		ck_assert_msg(drift.scatter_is_meters == !above, "%d degrees, sum %g", count - 2, sum);
	}
}
END_TEST

/*
 * Fieller (1954): at the earliest and the latest day the band of slope and level, their errors
 * added as squares, just meets the limit.
 */
START_TEST(the_band_meets_the_limit_on_the_earliest_and_latest_day)
{
	const struct drift_point points[] = {
		{ 0, 1, 0.1 }, { 300, 2.1, 0.1 }, { 730, 3, 0.1 }, { 1095, 4, 0.1 }, { 1400, 5.1, 0.1 },
		{ 1500, 7.5, 0.1 }, { 1800, 8.8, 0.1 } };
	static const double limits[] = { 4, 6, 11, 40 };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, sizeof points / sizeof *points, &drift), STATUS_OK);
	/* The two arms differ, or nothing would tell them apart. */
	ck_assert(fabs(drift.slope_high + drift.slope_low - 2 * drift.slope) > 1e-4);
	for (size_t i = 0; i < sizeof limits / sizeof *limits; i++) {
		struct drift_crossing crossing = drift_crosses(&drift, limits[i], DRIFT_BAD_ABOVE);
		double early = crossing.earliest - drift.centre_day, late = crossing.latest - drift.centre_day;
		double up = drift.slope_high - drift.slope, down = drift.slope - drift.slope_low;
		ck_assert(crossing.earliest < crossing.day && crossing.day < crossing.latest);
		ck_assert_double_eq_tol(drift_value_at(&drift, crossing.day), limits[i], 1e-9);
		ck_assert_double_eq_tol(drift_value_at(&drift, crossing.earliest) +
		                        hypot(drift.centre_plus_minus, up * early), limits[i], 1e-9);
		ck_assert_double_eq_tol(drift_value_at(&drift, crossing.latest) -
		                        hypot(drift.centre_plus_minus, down * late), limits[i], 1e-9);
	}
}
END_TEST

/* As many pairs of visits rise faster than the line as slower: what a median is. */
START_TEST(the_slope_of_many_visits_is_the_median_of_all_pairs)
{
	struct drift_point points[DRIFT_MOST_POINTS];
	struct drift drift;
	uint64_t seed = 11;

	for (int count = 2; count <= DRIFT_MOST_POINTS; count++) {
		int steeper = 0;
		make_series(points, count, 45, -0.3, 2, 0.5, &seed);
		ck_assert_int_eq(drift_fit(points, (size_t)count, &drift), STATUS_OK);
		for (int i = 0; i < count; i++)
			for (int j = i + 1; j < count; j++) {
				double slope = (points[j].value - points[i].value) / (points[j].day - points[i].day);
				steeper += (slope > drift.slope) - (slope < drift.slope);
			}
		ck_assert_int_eq(steeper, 0);
	}
}
END_TEST

START_TEST(long_series_are_bounded)
{
	struct drift_point points[200];
	struct drift drift;

	for (int i = 0; i < 200; i++)
		points[i] = (struct drift_point){ .day = i, .value = i < 136 ? 0 : i, .plus_minus = 0.1 };
	ck_assert_int_eq(drift_fit(points, 200, &drift), STATUS_OK);
	ck_assert_uint_eq(drift.count, DRIFT_MOST_POINTS);
	ck_assert_double_eq_tol(drift.slope, 1, 1e-12);
	ck_assert_double_eq(drift.first_day, 136);
}
END_TEST

START_TEST(bad_points_are_refused)
{
	struct drift_point points[] = { { 0, 1, 1 }, { 1, 2, 1 }, { 2, NAN, 1 } };
	struct drift drift;

	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_NOT_A_NUMBER);
	ck_assert(isnan(drift.slope));
	points[2] = (struct drift_point){ 2, 3, -1 };
	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OUT_OF_RANGE);
	points[2] = (struct drift_point){ 0.5, 3, 1 };
	ck_assert_int_eq(drift_fit(points, 3, &drift), STATUS_OUT_OF_RANGE);
	ck_assert_int_ne(drift.claim, DRIFT_CLAIMED);
}
END_TEST

Suite *drift_suite(void)
{
	Suite *suite = suite_create("drift");
	TCase *rules = tcase_create("rules");
	TCase *honesty = tcase_create("honesty");

	tcase_add_test(rules, slope_and_rank_interval_agree_with_reference);
	tcase_add_test(rules, one_bad_reading_hardly_moves_the_slope);
	tcase_add_test(rules, two_visits_are_never_a_trend);
	tcase_add_test(rules, three_visits_without_an_accuracy);
	tcase_add_test(rules, three_visits_may_stray_beyond_the_meters);
	tcase_add_test(rules, meters_that_could_explain_it_silence_it);
	tcase_add_test(rules, crossing_has_a_date_and_a_range);
	tcase_add_test(rules, rising_towards_a_ceiling_mirrors_falling);
	tcase_add_test(rules, meters_alone_give_the_interval_by_propagation);
	tcase_add_test(rules, few_visits_have_the_interval_of_student);
	tcase_add_loop_test(rules, scatter_is_told_from_meters_at_the_tables_point, 0,
	                    sizeof chi_squared / sizeof *chi_squared);
	tcase_add_test(rules, the_band_meets_the_limit_on_the_earliest_and_latest_day);
	tcase_add_test(rules, the_slope_of_many_visits_is_the_median_of_all_pairs);
	tcase_add_test(rules, long_series_are_bounded);
	tcase_add_test(rules, bad_points_are_refused);
	tcase_add_test(honesty, no_false_alarm_above_five_per_cent);
	tcase_add_test(honesty, scatter_beyond_the_meters_is_no_trend);
	tcase_add_loop_test(honesty, few_visits_with_scatter_stay_honest, 0,
	                    sizeof scatters / sizeof *scatters);
	tcase_add_test(honesty, interval_covers_the_true_slope);
	tcase_add_loop_test(honesty, found_within_two_visits_of_crossing, 0,
	                    (int)(sizeof steps / sizeof *steps));
	suite_add_tcase(suite, rules);
	suite_add_tcase(suite, honesty);
	return suite;
}
