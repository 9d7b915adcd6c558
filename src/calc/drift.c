/*
 * Trend of a short, unevenly spaced, noisy series.
 *
 * A technician comes once or twice a year, so that three or four points are
 * the normal case.  Ranks alone cannot say anything at 95 % before the fifth
 * point; the accuracy of the meters can, because it is known beforehand.  So
 * the meters' accuracy gives the interval, and the scatter is asked first
 * whether it agrees: when the readings stray further from the line than the
 * meters would let them (weather, another hand, a loose clamp), the ranks
 * decide.  Before the fifth point neither ranks nor so few residuals can tell
 * scatter from meters: there the interval is Student's, with the meters'
 * promise counting as half an observation of the scatter.
 *
 * The second hurdle is the plain one that a technician would put up: could
 * the first reading have been high and the last one low by what the meters
 * are allowed, and nothing have moved at all?  It also keeps the chance of a
 * false alarm small over all the visits of a unit's life, each of which is
 * a new look at the series.
 */
#include <padside/calc/drift.h>

#include <math.h>

/* Normal quantile of a two-sided 95 % interval. */
static const double z95 = 1.959963984540054;

/* One-sided 95 % normal quantile, for the test of the scatter. */
static const double z95_one_sided = 1.6448536269514722;

/* Variances relative to least squares: the median of slopes (3/pi, Sen 1968)
 * with some room for few points, and the median of a level (2/pi). */
static const double slope_efficiency = 0.86;
static const double level_efficiency = 0.6366;

/* The weight of the meters' promise, in observations, before the fifth point. */
static const double promise_weight = 0.5;

/* Two-sided 95 % quantiles of Student's t at 1.5 and 2.5 degrees of freedom: of 3 and 4 points. */
static const double student_of_three = 6.0167, student_of_four = 3.5747;

enum { FEW_POINTS = 4 };

enum { MOST_SLOPES = DRIFT_MOST_POINTS * (DRIFT_MOST_POINTS - 1) / 2 };

/*
 * Smallest first, by ever smaller gaps (Shell 1959; gaps of Ciura 2001).  A customer's page fits
 * hundreds of lines of up to two thousand slopes: a comparison that is called costs thrice this.
 */
static void sort(double *values, size_t count)
{
	static const size_t gaps[] = { 701, 301, 132, 57, 23, 10, 4, 1 };

	for (size_t i = 0; i < sizeof gaps / sizeof *gaps; i++)
		for (size_t end = gaps[i]; end < count; end++) {
			double moved = values[end];
			size_t at = end;
			for (; at >= gaps[i] && values[at - gaps[i]] > moved; at -= gaps[i])
				values[at] = values[at - gaps[i]];
			values[at] = moved;
		}
}

static double median_of_sorted(const double *sorted, size_t count)
{
	return (sorted[(count - 1) / 2] + sorted[count / 2]) / 2;
}

/* All slopes between two different days, sorted; returns how many. */
static size_t slopes_between(const struct drift_point *points, size_t count, double *slopes)
{
	size_t found = 0;

	for (size_t i = 0; i < count; i++)
		for (size_t j = i + 1; j < count; j++)
			if (points[j].day > points[i].day)
				slopes[found++] = (points[j].value - points[i].value) /
				                  (points[j].day - points[i].day);
	sort(slopes, found);
	return found;
}

/* Theil's line: the median slope, and the median level at the centre day. */
static void fit_line(const struct drift_point *points, size_t count, const double *slopes,
                     size_t slope_count, struct drift *drift)
{
	double levels[DRIFT_MOST_POINTS];

	drift->slope = median_of_sorted(slopes, slope_count);
	drift->centre_day = 0;
	for (size_t i = 0; i < count; i++)
		drift->centre_day += points[i].day / (double)count;
	for (size_t i = 0; i < count; i++)
		levels[i] = points[i].value - drift->slope * (points[i].day - drift->centre_day);
	sort(levels, count);
	drift->centre = median_of_sorted(levels, count);
}

/* The meters' part: 95 % half-widths of slope and level by propagation of error. */
static double meters_slope_plus_minus(const struct drift_point *points, size_t count,
                                      struct drift *drift)
{
	double spread = 0, variance = 0, level_variance = 0;

	for (size_t i = 0; i < count; i++) {
		double arm = points[i].day - drift->centre_day;
		double squared = points[i].plus_minus * points[i].plus_minus;
		spread += arm * arm;
		variance += arm * arm * squared;
		level_variance += squared / (double)(count * count);
	}
	drift->centre_plus_minus = sqrt(level_variance / level_efficiency);
	return sqrt(variance / slope_efficiency) / spread;
}

/* The squares of what the readings stray from the line, in units of the meters' deviation. */
static double chi_squared(const struct drift_point *points, size_t count,
                          const struct drift *drift)
{
	double sum = 0;

	for (size_t i = 0; i < count; i++) {
		double residual = points[i].value - drift_value_at(drift, points[i].day);
		double deviation = points[i].plus_minus / z95;
		double rounding = 1e-12 * (fabs(points[i].value) + 1);
		if (fabs(residual) > rounding)
			sum += deviation > 0 ? residual * residual / (deviation * deviation) : INFINITY;
	}
	return sum;
}

/*
 * How much the readings stray beyond what the meters promise: the square root
 * of chi-squared over its freedom, 1 while chi-squared stays below its 95 %
 * point (Wilson and Hilferty 1931).  An interval is widened by this ratio
 * (R. T. Birge, Phys. Rev. 40 (1932) 207).
 */
static double scatter_ratio(size_t count, double sum)
{
	double freedom = (double)count - 2;

	if (count <= 2)
		return 1;
	double part = 2 / (9 * freedom);
	double limit = freedom * pow(1 - part + z95_one_sided * sqrt(part), 3);
	return sum <= limit ? 1 : sqrt(sum / freedom);
}

/*
 * Sen's distribution-free interval from the ordered slopes, by the normal
 * approximation of Kendall's S to the nearest rank, which is the exact one up
 * to ten points.  Returns false up to the fourth point, where ranks can say
 * nothing at 95 %.
 */
static bool widen_by_ranks(size_t count, const double *slopes, size_t slope_count,
                           struct drift *drift)
{
	double n = (double)count;
	double reach = z95 * sqrt(n * (n - 1) * (2 * n + 5) / 18);
	double below = round(((double)slope_count - reach) / 2);

	if (below < 1)
		return false;
	drift->slope_low = fmin(drift->slope_low, slopes[(size_t)below - 1]);
	drift->slope_high = fmax(drift->slope_high, slopes[slope_count - (size_t)below]);
	return true;
}

/*
 * Three or four points: the factor on the meters' interval.  The scatter is
 * estimated from the residuals and the meters' promise together.
 */
static double few_points_ratio(size_t count, double sum)
{
	double freedom = promise_weight + (double)count - 2;
	double student = count == 3 ? student_of_three : student_of_four;

	return student / z95 * sqrt((promise_weight + sum) / freedom);
}

/* The slope's 95 % interval; see the top of this file. */
static void find_interval(const struct drift_point *points, size_t count, const double *slopes,
                          size_t slope_count, struct drift *drift)
{
	double plus_minus = meters_slope_plus_minus(points, count, drift);
	double sum = chi_squared(points, count, drift);
	bool is_few = count > 2 && count <= FEW_POINTS;
	double ratio = is_few ? fmax(1, few_points_ratio(count, sum)) : scatter_ratio(count, sum);

	drift->scatter_is_meters = scatter_ratio(count, sum) <= 1;
	drift->slope_low = drift->slope - plus_minus;
	drift->slope_high = drift->slope + plus_minus;
	if (!is_few && (drift->scatter_is_meters ||
	                widen_by_ranks(count, slopes, slope_count, drift)))
		return;
	if (is_few)
		drift->centre_plus_minus *= ratio;
	plus_minus = plus_minus > 0 || sum == 0 ? plus_minus * ratio : INFINITY;
	drift->slope_low = drift->slope - plus_minus;
	drift->slope_high = drift->slope + plus_minus;
}

static enum drift_claim judge(const struct drift *drift)
{
	if (drift->count < DRIFT_FEWEST_POINTS)
		return DRIFT_TOO_FEW;
	if (drift->slope_low <= 0 && drift->slope_high >= 0)
		return DRIFT_NOT_CLEAR;
	if (fabs(drift->change) <= drift->meters_explain)
		return DRIFT_WITHIN_METERS;
	return DRIFT_CLAIMED;
}

static enum status check_points(const struct drift_point *points, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (!isfinite(points[i].day) || !isfinite(points[i].value) ||
		    !isfinite(points[i].plus_minus))
			return STATUS_NOT_A_NUMBER;
		if (points[i].plus_minus < 0 || (i > 0 && points[i].day < points[i - 1].day))
			return STATUS_OUT_OF_RANGE;
	}
	return STATUS_OK;
}

/* A rising line with its limit above: days from its centre at which its band meets the limit. */
struct rising_line {
	double slope;            /* above 0 */
	double away;             /* from the centre's level to the limit */
	double level_plus_minus; /* 95 % of the level */
};

/*
 * slope u + sqrt(level^2 + (spread u)^2) = away, and with the root taken off:
 * slope and level at the centre are independent, so their errors add by
 * squares (Fieller 1954, for this case).  Both are roots of one quadratic.
 */
static double root_of_band(const struct rising_line *line, double spread)
{
	double level = line->level_plus_minus;

	return sqrt(fmax(0, spread * spread * line->away * line->away +
	                    level * level * (line->slope * line->slope - spread * spread)));
}

static double earliest_arm(const struct rising_line *line, double spread)
{
	double level = line->level_plus_minus, root = root_of_band(line, spread);

	if (spread < line->slope)
		return (line->slope * line->away - root) /
		       (line->slope * line->slope - spread * spread);
	if (line->away > level)
		return (line->away * line->away - level * level) / (line->slope * line->away + root);
	return -INFINITY;
}

/* A claimed slope's interval excludes 0, so that `spread` stays below the slope. */
static double latest_arm(const struct rising_line *line, double spread)
{
	return (line->slope * line->away + root_of_band(line, spread)) /
	       (line->slope * line->slope - spread * spread);
}

enum status drift_fit(const struct drift_point *points, size_t count, struct drift *drift)
{
	double slopes[MOST_SLOPES];

	*drift = (struct drift){ .claim = DRIFT_TOO_FEW, .slope = NAN, .slope_low = NAN,
		.slope_high = NAN, .first_day = NAN, .last_day = NAN, .centre_day = NAN,
		.centre = NAN, .centre_plus_minus = NAN, .change = NAN, .meters_explain = NAN };
	enum status status = check_points(points, count);
	if (status != STATUS_OK)
		return status;
	if (count > DRIFT_MOST_POINTS) {
		points += count - DRIFT_MOST_POINTS;
		count = DRIFT_MOST_POINTS;
	}
	drift->count = count;
	size_t slope_count = slopes_between(points, count, slopes);
	if (slope_count == 0)
		return STATUS_OK;
	fit_line(points, count, slopes, slope_count, drift);
	find_interval(points, count, slopes, slope_count, drift);
	drift->first_day = points[0].day;
	drift->last_day = points[count - 1].day;
	drift->change = drift->slope * (drift->last_day - drift->first_day);
	drift->meters_explain = points[0].plus_minus + points[count - 1].plus_minus;
	drift->claim = judge(drift);
	return STATUS_OK;
}

double drift_value_at(const struct drift *drift, double day)
{
	return drift->centre + drift->slope * (day - drift->centre_day);
}

struct drift_crossing drift_crosses(const struct drift *drift, double limit,
                                    enum drift_side side)
{
	struct drift_crossing crossing = { .day = NAN, .earliest = NAN, .latest = NAN };

	if (drift->claim != DRIFT_CLAIMED)
		return crossing;
	/* Mirrored where needed, so that the bad side is always above. */
	double sign = side == DRIFT_BAD_ABOVE ? 1 : -1;
	double slope = sign * drift->slope;
	if (slope <= 0)
		return crossing;
	double low = fmin(sign * drift->slope_low, sign * drift->slope_high);
	double high = fmax(sign * drift->slope_low, sign * drift->slope_high);
	struct rising_line line = { .slope = slope, .away = sign * (limit - drift->centre),
		.level_plus_minus = drift->centre_plus_minus };

	crossing.expected = true;
	crossing.day = drift->centre_day + line.away / slope;
	crossing.earliest = drift->centre_day + earliest_arm(&line, high - slope);
	crossing.latest = drift->centre_day + latest_arm(&line, slope - low);
	crossing.is_past = sign * drift_value_at(drift, drift->last_day) >= sign * limit;
	return crossing;
}
