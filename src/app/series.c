/*
 * One reading or figure over the visits: its points, its limits, its drift.
 *
 * A visit gives a point as found and one as left.  Drift is about what the
 * unit does by itself, so that it is counted from the last time that the
 * work changed the value (a new capacitor, refrigerant added), and every
 * visit counts once: as found, because nobody had touched it yet.  Like is
 * compared with like: what weather explains is taken out first.
 */
#include <padside/app/history.h>

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

static const struct series_info rows[SERIES_COUNT] = {
#define SERIES(id, key_, ...) [SERIES_##id] = { .key = key_, __VA_ARGS__ },
#include <padside/app/series.def>
#undef SERIES
};

static const double seconds_a_day = 86400;
static const double days_a_year = 365.25;

/* A crossing further away than this is not worth a date. */
static const double farthest_days = 10 * 365.25;

/* Factor from a standard deviation to a 95 % plus/minus. */
static const double deviations_95 = 1.96;

struct series_value {
	bool is_known;     /* taken and worked out */
	double value;      /* canonical unit */
	double plus_minus; /* of the meters */
};

static struct series_value measure_figure(const struct history_visit *visit, enum stage stage,
                                          enum figure figure)
{
	struct figure_value value = visit->figures ? visit->figures[stage].values[figure] :
	                            figure_evaluate(visit->visit, stage, figure);

	return (struct series_value){ .is_known = value.status == STATUS_OK, .value = value.value,
		.plus_minus = value.plus_minus };
}

/* Nothing read as left: whatever the nameplate alone gives was said as found. */
static bool is_empty(const struct visit *visit, enum stage stage)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->scope == SCOPE_CALL &&
		    visit_has(visit, stage, (enum reading)i))
			return false;
	return true;
}

static struct series_value measure(const struct history_visit *visit, enum stage stage,
                                   const struct history_series *series, enum figure minus)
{
	struct series_value result = { .is_known = false };

	if (series->figure == FIGURE_NONE) {
		result.is_known = visit_number(visit->visit, stage, series->reading, &result.value) ==
		                  STATUS_OK;
		if (result.is_known)
			result.plus_minus = reading_accuracy(series->reading, result.value);
		return result;
	}
	result = measure_figure(visit, stage, series->figure);
	if (minus != FIGURE_NONE && result.is_known) {
		struct series_value target = measure_figure(visit, stage, minus);
		result.is_known = target.is_known;
		result.value -= target.value;
		result.plus_minus = hypot(result.plus_minus, target.plus_minus);
	}
	return result;
}

/* Whether the visit found another part than the point before it was measured on. */
static bool is_other_part(const struct history_visit *visits, size_t visit, enum reading part,
                          const struct history_point *before, const struct series_value *now)
{
	double rated, rated_before;

	if (part == READING_NONE || !before)
		return false;
	bool known = visit_number(visits[visit].visit, STAGE_AS_FOUND, part, &rated) == STATUS_OK &&
	             visit_number(visits[before->visit].visit, STAGE_AS_FOUND, part, &rated_before) ==
	             STATUS_OK;
	/* Capacitors age downwards: what comes back by itself was replaced in between. */
	return (known && rated != rated_before) ||
	       now->value - before->value > hypot(now->plus_minus, before->plus_minus);
}

static void add_points(const struct history_visit *visits, size_t count, enum figure minus,
                       enum reading part, struct history_series *series)
{
	for (size_t i = 0; i < count; i++) {
		const struct history_point *found = NULL;
		const struct history_point *before = series->count ? &series->points[series->count - 1]
		                                                   : NULL;
		for (int stage = 0; stage < STAGE_COUNT; stage++) {
			struct series_value m = measure(&visits[i], (enum stage)stage, series, minus);
			if (!m.is_known || (found && is_empty(visits[i].visit, (enum stage)stage)))
				continue;
			struct history_point *point = &series->points[series->count++];
			*point = (struct history_point){ .at = visits[i].opened_at, .stage = (enum stage)stage,
				.visit = i, .value = m.value, .plus_minus = m.plus_minus };
			point->restarts = found ? fabs(m.value - found->value) >
			                          hypot(m.plus_minus, found->plus_minus)
			                        : is_other_part(visits, i, part, before, &m);
			found = point;
		}
	}
}

static void find_limits(const struct history_visit *visits, const struct series_info *info,
                        struct history_series *series)
{
	const struct history_point *last = &series->points[series->count - 1];
	const struct visit *visit = visits[last->visit].visit;
	struct expectation expected = { .known = true, .low = info->limits.low,
		.high = info->limits.high, .is_assumed = info->is_usual };
	double own;

	if (info->limits.low == info->limits.high)
		expected = series->figure != FIGURE_NONE ?
		           figure_expect(visit, last->stage, NULL, series->figure) :
		           reading_expect(visit, last->stage, series->reading);
	if (info->own_low != READING_NONE &&
	    visit_number(visit, STAGE_AS_FOUND, info->own_low, &own) == STATUS_OK) {
		expected.low = own;
		expected.is_assumed = false;
	}
	series->is_assumed = expected.is_assumed;
	series->has_low = info->bad_below && expected.known;
	series->has_high = info->bad_above && expected.known;
	series->low = series->has_low ? expected.low : NAN;
	series->high = series->has_high ? expected.high : NAN;
}

/*
 * What explains a part of the value, as read in the stage; false, and the usual, where it was not.
 */
static bool find_weather(const struct visit *visit, enum stage stage,
                         const struct series_info *info, double *weather)
{
	for (size_t i = 0; i < sizeof info->weather / sizeof *info->weather; i++)
		if (info->weather[i] != READING_NONE &&
		    visit_number(visit, stage, info->weather[i], weather) == STATUS_OK)
			return true;
	*weather = info->usual;
	return false;
}

/*
 * Brings the points to the weather of the last one.  How much a unit of
 * weather explains is not known exactly: the further a visit was from the
 * others' weather, the wider it counts.
 */
static void take_weather_out(const struct series_info *info, const double *weather,
                             const bool *is_read, size_t count, struct drift_point *points)
{
	double mean = 0;

	if (!info->taken_out || count == 0)
		return;
	for (size_t i = 0; i < count; i++)
		mean += weather[i] / (double)count;
	for (size_t i = 0; i < count; i++) {
		double away = info->per_weather_sd * (weather[i] - mean);
		double unread = is_read[i] ? 0 : info->per_weather * info->usual_sd;
		points[i].value -= info->per_weather * (weather[i] - weather[count - 1]);
		points[i].plus_minus = hypot(points[i].plus_minus, deviations_95 * hypot(away, unread));
	}
}

/* One point a visit since the work last changed the value; returns how many. */
static size_t points_of_drift(const struct history_visit *visits, const struct series_info *info,
                              struct history_series *series, struct drift_point *points)
{
	double weather[2 * HISTORY_MOST_VISITS];
	bool is_read[2 * HISTORY_MOST_VISITS];
	size_t start = 0, found = 0;

	for (size_t i = 0; i < series->count; i++)
		if (series->points[i].restarts)
			start = i;
	for (size_t i = start; i < series->count; i++) {
		const struct history_point *point = &series->points[i];
		bool is_same_visit = i > start && point->visit == series->points[i - 1].visit;
		if (is_same_visit || (info->is_ratio && point->value <= 0))
			continue;
		double share = info->is_ratio ? point->value : 1;
		is_read[found] = find_weather(visits[point->visit].visit, point->stage, info,
		                              &weather[found]);
		points[found++] = (struct drift_point){
			.day = history_day_of(point->at),
			.value = info->is_ratio ? log(point->value) : point->value,
			.plus_minus = hypot(point->plus_minus / share, deviations_95 * info->scatter) };
	}
	take_weather_out(info, weather, is_read, found, points);
	series->is_at_usual = found > 0 && !is_read[found - 1];
	return found;
}

static void find_drift(const struct history_visit *visits, const struct series_info *info,
                       struct history_series *series)
{
	struct drift_point points[2 * HISTORY_MOST_VISITS];
	size_t count = points_of_drift(visits, info, series, points);

	/* A book with its visits out of order is refused here and has no trend. */
	if (drift_fit(points, count, &series->drift) != STATUS_OK)
		return;
	bool is_rising = series->drift.slope > 0;
	if (is_rising ? !series->has_high : !series->has_low)
		return;
	double limit = is_rising ? series->high : series->low;
	series->crossing = drift_crosses(&series->drift, info->is_ratio ? log(limit) : limit,
	                                 is_rising ? DRIFT_BAD_ABOVE : DRIFT_BAD_BELOW);
}

/* A number with unit and without idle zeros: "-6 %", "0.35 in. w.c.". */
static void add_number(struct text *text, double value, const struct history_series *series,
                       enum unit_system units, bool is_spread)
{
	char digits[NUMBER_SIZE];
	enum unit unit = unit_shown(series->unit, units);
	double shown = is_spread ? unit_convert_spread(value, series->unit, unit) :
	                           unit_convert(value, series->unit, unit);
	int decimals = unit_decimals_shown(series->decimals, series->unit, units);

	/* A rate is told to two digits, however small the unit. */
	while (is_spread && decimals < 6 && fabs(shown) * pow(10, decimals) < 10)
		decimals++;
	number_format(shown, decimals, digits, sizeof digits);
	if (strchr(digits, '.')) {
		for (size_t end = strlen(digits); digits[end - 1] == '0'; end--)
			digits[end - 1] = '\0';
		if (digits[strlen(digits) - 1] == '.')
			digits[strlen(digits) - 1] = '\0';
	}
	const char *symbol = unit_symbol(unit, false);
	text_add_format(text, "%s%s%s", digits, *symbol ? " " : "", symbol);
}

static void add_rate(struct text *text, const struct series_info *info,
                     const struct history_series *series, enum unit_system units)
{
	double rate = series->drift.slope * days_a_year;

	text_add(text, rate < 0 ? "falling " : "rising ");
	if (info->is_ratio)
		text_add_format(text, "by %.0f %%", fabs(expm1(rate)) * 100);
	else
		add_number(text, fabs(rate), series, units, true);
	text_add(text, " a year");
	if (info->taken_out)
		text_add_format(text, ", at the %s %s", series->is_at_usual ? "usual" : "newest",
		                info->taken_out);
}

/* How sure the date is: " (June 2025 to September 2028)". */
static void add_range(struct text *text, const struct history_series *series, wall_time now)
{
	const struct drift_crossing *crossing = &series->crossing;
	char first[CLOCK_TEXT_SIZE] = "", last[CLOCK_TEXT_SIZE] = "";
	bool is_open = crossing->latest > series->drift.last_day + farthest_days;

	if (crossing->earliest > history_day_of(now))
		clock_format_month(history_time_of(crossing->earliest), first, sizeof first);
	if (!is_open)
		clock_format_month(history_time_of(crossing->latest), last, sizeof last);
	if (*first && *last && strcmp(first, last) != 0)
		text_add_format(text, " (%s to %s)", first, last);
	else if (*first && is_open)
		text_add_format(text, " (not before %s)", first);
	else if (!*first && *last)
		text_add_format(text, " (any time now, by %s)", last);
	else if (!*first)
		text_add(text, " (a rough date)");
}

/* Whether the newest reading is beyond the limit that it heads for, whatever the meters are off. */
static bool is_read_beyond(const struct history_series *series)
{
	const struct history_point *newest = &series->points[series->count - 1];

	return series->drift.slope > 0 ? newest->value - newest->plus_minus > series->high
	                               : newest->value + newest->plus_minus < series->low;
}

/*
 * Of a date that lies behind, on the line: by when at the latest, where that is still to come; what
 * was read beyond the limit is beyond it today.
 */
static void add_latest(struct text *text, const struct history_series *series, wall_time now)
{
	const struct drift_crossing *crossing = &series->crossing;
	char last[CLOCK_TEXT_SIZE];

	if (is_read_beyond(series))
		return;
	if (crossing->latest > series->drift.last_day + farthest_days) {
		text_add(text, " (a rough date)");
	} else if (crossing->latest > history_day_of(now)) {
		clock_format_month(history_time_of(crossing->latest), last, sizeof last);
		text_add_format(text, " (by %s at the latest)", last);
	}
}

static void add_crossing(struct text *text, const struct history_series *series,
                         enum unit_system units, wall_time now)
{
	const struct drift_crossing *crossing = &series->crossing;
	char month[CLOCK_TEXT_SIZE];
	bool is_rising = series->drift.slope > 0;

	if (crossing->day > series->drift.last_day + farthest_days) {
		text_add(text, "; its limit is not near");
		return;
	}
	bool is_due = crossing->day <= history_day_of(now);
	clock_format_month(history_time_of(crossing->day), month, sizeof month);
	text_add(text, is_due ? "; probably " : "; ");
	text_add(text, is_rising ? "above " : "below ");
	add_number(text, is_rising ? series->high : series->low, series, units, false);
	text_add_format(text, "%s around %s", is_due ? " since" : "", month);
	if (is_due)
		add_latest(text, series, now);
	else
		add_range(text, series, now);
}

/* Whether a crossing is told that nobody has seen: the day lies behind, on the line. */
static bool is_crossed_by_the_line(const struct history_series *series, wall_time now)
{
	return series->drift.claim == DRIFT_CLAIMED && series->crossing.expected &&
	       series->crossing.day <= history_day_of(now);
}

/* How many visits speak, and since when if not since the first. */
static void add_visits(struct text *text, const struct history_series *series, wall_time now)
{
	const struct history_point *restart = NULL;
	char month[CLOCK_TEXT_SIZE];

	for (size_t i = 0; i < series->count; i++)
		if (series->points[i].restarts)
			restart = &series->points[i];
	bool is_one = series->drift.count == 1;
	text_add_format(text, "%s%zu visit%s",
	                is_crossed_by_the_line(series, now) ? ", by the line through " : "; ",
	                series->drift.count, is_one ? "" : "s");
	if (!restart)
		return;
	clock_format_month(restart->at, month, sizeof month);
	text_add_format(text, " since the work of %s", month);
}

static void write_sentence(const struct series_info *info, enum unit_system units, wall_time now,
                           struct history_series *series)
{
	struct text text;

	text_init(&text);
	switch (series->drift.claim) {
	case DRIFT_CLAIMED:
		add_rate(&text, info, series, units);
		if (series->crossing.expected)
			add_crossing(&text, series, units, now);
		break;
	case DRIFT_TOO_FEW:
		text_add(&text, "too few for a trend");
		break;
	case DRIFT_NOT_CLEAR:
		text_add(&text, "no clear trend");
		break;
	case DRIFT_WITHIN_METERS:
		text_add(&text, "no trend that the meters could not explain");
		break;
	}
	add_visits(&text, series, now);
	text_copy(series->sentence, sizeof series->sentence, text_get(&text));
	text_done(&text);
}

/* The points of a series; false when there are none. */
static bool begin(const struct history_visit **visits, size_t *count, enum figure figure,
                  enum figure minus, enum reading reading, enum reading part,
                  struct history_series *result)
{
	if (*count > HISTORY_MOST_VISITS) {
		*visits += *count - HISTORY_MOST_VISITS;
		*count = HISTORY_MOST_VISITS;
	}
	memset(result, 0, sizeof *result);
	result->figure = figure;
	result->reading = reading;
	result->low = result->high = NAN;
	if (figure != FIGURE_NONE) {
		const struct figure_info *info = figure_info(figure);
		result->key = info->key;
		result->label = info->label;
		result->unit = info->unit;
		result->decimals = info->decimals;
	} else {
		const struct reading_info *info = reading_info(reading);
		result->key = info->key;
		result->label = info->label;
		result->unit = info->unit;
		result->decimals = info->decimals;
	}
	add_points(*visits, *count, minus, part, result);
	return result->count > 0;
}

const struct series_info *series_info(enum series series)
{
	assert(series > SERIES_NONE && series < SERIES_COUNT);
	return &rows[series];
}

double history_day_of(wall_time time)
{
	return (double)time / seconds_a_day;
}

wall_time history_time_of(double day)
{
	/* Far beyond any calendar, and only there, a double would not fit. */
	if (!(fabs(day) < 1e9))
		return WALL_TIME_NONE;
	return (wall_time)floor(day * seconds_a_day);
}

bool history_follow(const struct history_visit *visits, size_t count, enum series series,
                    enum unit_system units, wall_time now, struct history_series *result)
{
	const struct series_info *info = series_info(series);

	if (!begin(&visits, &count, info->figure, info->minus, info->reading, info->part, result))
		return false;
	result->series = series;
	result->key = info->key;
	result->label = info->label;
	find_limits(visits, info, result);
	find_drift(visits, info, result);
	write_sentence(info, units, now, result);
	return true;
}

bool history_plot_figure(const struct history_visit *visits, size_t count, enum figure figure,
                         struct history_series *result)
{
	return begin(&visits, &count, figure, FIGURE_NONE, READING_NONE, READING_NONE, result);
}

bool history_plot_reading(const struct history_visit *visits, size_t count, enum reading reading,
                          struct history_series *result)
{
	return begin(&visits, &count, FIGURE_NONE, FIGURE_NONE, reading, READING_NONE, result);
}
