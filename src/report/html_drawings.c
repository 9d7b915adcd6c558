/*
 * The drawings of the HTML report, as SVG: rulers and trends.  Each carries its
 * words, for those who cannot see it; marks differ by shape, not by colour.
 */
#include "report/html.h"

#include <math.h>
#include <string.h>

#include <padside/base/clock.h>
#include <padside/base/number.h>

#include "report/scale.h"

/* Sizes of the drawings in their own units. */
enum {
	RULER_WIDTH = 200, RULER_HEIGHT = 16, RULER_EDGE = 8,
	TREND_WIDTH = 640, TREND_HEIGHT = 190, TREND_LEFT = 60, TREND_RIGHT = 16,
	TREND_TOP = 16, TREND_BOTTOM = 34
};

/* ---- Rulers ---- */

/* A coordinate of a drawing, with one decimal. */
static void coordinate(struct pen *pen, const char *name, double value)
{
	char number[NUMBER_SIZE];

	number_format(value, 1, number, sizeof number);
	text_add_format(pen->text, " %s=\"%s\"", name, number);
}

static double ruler_x(const struct band *band, double value)
{
	double share = (value - band->scale_low) / (band->scale_high - band->scale_low);

	return RULER_EDGE + fmax(0, fmin(1, share)) * (RULER_WIDTH - 2 * RULER_EDGE);
}

/* The words of a drawing, for those who cannot see it. */
static void add_drawing_words(struct pen *pen, const char *title, const char *words)
{
	pen->serial++;
	text_add_format(pen->text, " role=\"img\" aria-labelledby=\"g%d d%d\">", pen->serial,
	                pen->serial);
	text_add_format(pen->text, "<title id=\"g%d\">", pen->serial);
	html_add(pen, title);
	text_add_format(pen->text, "</title><desc id=\"d%d\">", pen->serial);
	html_add(pen, words);
	html_mark(pen, "</desc>");
}

static void add_stretch(struct pen *pen, const struct band *band)
{
	double from = ruler_x(band, isfinite(band->low) ? band->low : band->scale_low);
	double to = ruler_x(band, isfinite(band->high) ? band->high : band->scale_high);

	html_mark(pen, "<rect class=\"stretch\" y=\"4\" height=\"8\"");
	coordinate(pen, "x", from);
	coordinate(pen, "width", fmax(to - from, 2));
	html_mark(pen, "/>");
}

/* The mark: a diamond where the reading stands, an arrow where that is off the ruler. */
static void add_mark(struct pen *pen, const struct band *band, bool is_left)
{
	double x = ruler_x(band, band->value);
	const char *shape = band->value < band->scale_low ? "M-6 0 5 -6V6Z"
		: band->value > band->scale_high ? "M6 0-5 -6V6Z" : "M0 -6 6 0 0 6-6 0Z";
	char number[NUMBER_SIZE];

	html_mark(pen, "<line class=\"spread\" y1=\"8\" y2=\"8\"");
	coordinate(pen, "x1", ruler_x(band, band->value - band->plus_minus));
	coordinate(pen, "x2", ruler_x(band, band->value + band->plus_minus));
	number_format(x, 1, number, sizeof number);
	text_add_format(pen->text, "/><path class=\"%s\" transform=\"translate(%s 8)\" d=\"%s\"/>",
	                is_left ? "left" : "found", number, shape);
}

bool html_shares_ruler(const struct measure *measure)
{
	const struct measured *found = &measure->stages[0];
	const struct measured *left = &measure->stages[DOCUMENT_STAGES - 1];

	return !found->has_band || !left->has_band || strcmp(found->expected, left->expected) == 0;
}

/* "as found 21.0 °F, high; as left 9.9 °F, good; expected: 3 to 13". */
static void describe_ruler(const struct measure *measure, struct text *words)
{
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		if (!*measure->stages[stage].shown)
			continue;
		text_add_format(words, "%s%s ", words->length ? "; " : "", document_stage_words[stage]);
		writer_add_value(words, measure, stage, false);
		text_add_format(words, ", %s", measure->stages[stage].verdict);
	}
	text_add_format(words, "; expected: %s", writer_expected(measure));
}

/* One line of a ruler, `down` from the top, for the stages from `first` to `last`. */
static void add_ruler_line(struct pen *pen, const struct measure *measure, int first, int last,
                           int down)
{
	const struct band *band = measure->stages[last].has_band ? &measure->stages[last].band
	                                                         : &measure->stages[first].band;

	text_add_format(pen->text, "<g transform=\"translate(0 %d)\">"
	                "<path class=\"rule\" d=\"M%d 3v10m0-5H%dm0-5v10\"/>",
	                down, RULER_EDGE, RULER_WIDTH - RULER_EDGE);
	add_stretch(pen, band);
	for (int stage = first; stage <= last; stage++)
		if (measure->stages[stage].has_band)
			add_mark(pen, &measure->stages[stage].band, stage == DOCUMENT_STAGES - 1);
	html_mark(pen, "</g>");
}

void html_add_ruler(struct pen *pen, const struct measure *measure)
{
	const int last = DOCUMENT_STAGES - 1;
	bool shared = html_shares_ruler(measure);
	struct text words;

	text_init(&words);
	describe_ruler(measure, &words);
	text_add_format(pen->text, "<svg class=\"ruler\" viewBox=\"0 0 %d %d\"", RULER_WIDTH,
	                RULER_HEIGHT * (shared ? 1 : 2));
	add_drawing_words(pen, measure->label, text_get(&words));
	if (shared) {
		add_ruler_line(pen, measure, 0, last, 0);
	} else {
		add_ruler_line(pen, measure, 0, 0, 0);
		add_ruler_line(pen, measure, last, last, RULER_HEIGHT);
	}
	html_mark(pen, "</svg>");
	text_done(&words);
}

/* ---- Trends ---- */

static double trend_y(const struct scale *scale, double value)
{
	double share = (value - scale->low) / (scale->high - scale->low);

	return TREND_HEIGHT - TREND_BOTTOM - share * (TREND_HEIGHT - TREND_TOP - TREND_BOTTOM);
}

static double trend_x(const struct scale *scale, wall_time at)
{
	double span = (double)(scale->last - scale->first);
	double share = span > 0 ? (double)(at - scale->first) / span : 0.5;

	return TREND_LEFT + share * (TREND_WIDTH - TREND_LEFT - TREND_RIGHT);
}

static void add_label(struct pen *pen, double x, double y, const char *anchor, const char *words)
{
	text_add_format(pen->text, "<text text-anchor=\"%s\"", anchor);
	coordinate(pen, "x", x);
	coordinate(pen, "y", y);
	html_element(pen, ">", words, "</text>");
}

/* Lines at round values, each with its number; the days of the first and the last point. */
static void add_scale(struct pen *pen, const struct scale *scale)
{
	char words[NUMBER_SIZE];
	double right = TREND_WIDTH - TREND_RIGHT;
	int steps = (int)lround((scale->high - scale->low) / scale->step);

	for (int i = 0; i <= steps; i++) {
		double value = scale->low + i * scale->step, y = trend_y(scale, value);
		html_mark(pen, "<line class=\"grid\"");
		coordinate(pen, "x1", TREND_LEFT);
		coordinate(pen, "x2", right);
		coordinate(pen, "y1", y);
		coordinate(pen, "y2", y);
		html_mark(pen, "/>");
		number_format(value, scale->decimals, words, sizeof words);
		add_label(pen, TREND_LEFT - 8, y + 5, "end", words);
	}
	clock_format_date(scale->first, words, sizeof words);
	add_label(pen, scale->last > scale->first ? TREND_LEFT : trend_x(scale, scale->first),
	          TREND_HEIGHT - 4, scale->last > scale->first ? "start" : "middle", words);
	if (scale->last > scale->first) {
		clock_format_date(scale->last, words, sizeof words);
		add_label(pen, right, TREND_HEIGHT - 4, "end", words);
	}
}

static void add_points(struct pen *pen, const struct trend *trend, const struct scale *scale)
{
	char x[NUMBER_SIZE], y[NUMBER_SIZE];

	html_mark(pen, "<polyline class=\"course\" points=\"");
	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		number_format(trend_x(scale, trend->points[i].at), 1, x, sizeof x);
		number_format(trend_y(scale, trend->points[i].value), 1, y, sizeof y);
		text_add_format(pen->text, "%s,%s ", x, y);
	}
	html_mark(pen, "\"/>");
	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		html_mark(pen, "<circle class=\"left\" r=\"3.5\"");
		coordinate(pen, "cx", trend_x(scale, trend->points[i].at));
		coordinate(pen, "cy", trend_y(scale, trend->points[i].value));
		html_mark(pen, "/>");
	}
}

/* Every point in words: "2024-05-02: 44.1; 2025-05-09: 43.2". */
static void describe_points(const struct trend *trend, struct text *words)
{
	char value[NUMBER_SIZE], date[CLOCK_TEXT_SIZE];

	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		clock_format_date(trend->points[i].at, date, sizeof date);
		number_format_exact(trend->points[i].value, value, sizeof value);
		text_add_format(words, "%s%s: %s", words->length ? "; " : "", date, value);
	}
	if (trend->has_limit) {
		number_format_exact(trend->limit, value, sizeof value);
		text_add_format(words, "; %s %s", *trend->limit_name ? trend->limit_name : "limit", value);
	}
}

/* At which end of the limit its name stands: where the values are farther from it. */
static bool limit_is_free_at_end(const struct trend *trend)
{
	double first = trend->points[0].value, last = trend->points[trend->count - 1].value;

	return fabs(last - trend->limit) > fabs(first - trend->limit);
}

void html_add_trend(struct pen *pen, const struct trend *trend)
{
	struct scale scale;
	struct text words;

	if (!scale_of_trend(trend, &scale))
		return;
	text_init(&words);
	describe_points(trend, &words);
	text_add_format(pen->text, "<svg class=\"trend\" viewBox=\"0 0 %d %d\"", TREND_WIDTH,
	                TREND_HEIGHT);
	add_drawing_words(pen, trend->label, text_get(&words));
	add_scale(pen, &scale);
	if (trend->has_limit) {
		double y = trend_y(&scale, trend->limit);
		html_mark(pen, "<line class=\"limit\"");
		coordinate(pen, "x1", TREND_LEFT);
		coordinate(pen, "y1", y);
		coordinate(pen, "x2", TREND_WIDTH - TREND_RIGHT);
		coordinate(pen, "y2", y);
		html_mark(pen, "/>");
		bool at_end = limit_is_free_at_end(trend);
		add_label(pen, at_end ? TREND_WIDTH - TREND_RIGHT : TREND_LEFT + 4,
		          y > TREND_TOP + 10 ? y - 4 : y + 12, at_end ? "end" : "start",
		          trend->limit_name);
	}
	add_points(pen, trend, &scale);
	html_mark(pen, "</svg>\n");
	text_done(&words);
}
