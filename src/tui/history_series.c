/*
 * Readings over time: a list of everything that was ever read or worked out,
 * and the plot of the chosen one with the band at its right edge.
 */
#include "tui/history_page.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/plot.h>
#include <padside/base/text.h>

#include "tui/local.h"
#include "tui/ruler.h"

enum {
	LIST_COLUMNS = 58, LABEL_COLUMNS = 30, FIELD_ROWS_LEAST = 5, FIELD_ROWS_USUAL = 8,
	FIELD_ROWS_MOST = 16, BELOW_PLOT_ROWS = 3, SERIES_ROWS_LEAST = 4
};

/* ---- Numbers ---- */

/* A value of a series as shown, with its unit. */
static void format_value(const struct history_screen *screen, const struct history_series *series,
                         double value, char *out, size_t size)
{
	enum unit unit = unit_shown(series->unit, screen->units);
	const char *symbol = unit_symbol(unit, false);
	char number[NUMBER_SIZE];

	number_format(unit_convert(value, series->unit, unit),
	              unit_decimals_shown(series->decimals, series->unit, screen->units), number,
	              sizeof number);
	snprintf(out, size, "%s%s%s", number, *symbol ? " " : "", symbol);
}

/* What is expected of the last point: the limits of what is followed, else the figure's own. */
static struct expectation find_expected(const struct history *history,
                                        const struct history_series *series)
{
	const struct history_point *last = &series->points[series->count - 1];
	const struct visit *visit = &history->visits[history->visit_count - 1 - last->visit].visit;

	if (series->series != SERIES_NONE)
		return (struct expectation){
			.known = series->has_low || series->has_high, .is_assumed = series->is_assumed,
			.low = series->has_low ? series->low : -INFINITY,
			.high = series->has_high ? series->high : INFINITY,
		};
	if (series->figure == FIGURE_NONE)
		return reading_expect(visit, last->stage, series->reading);
	return figure_expect(visit, last->stage, NULL, series->figure);
}

/* The last value against what is expected, in the unit shown. */
static struct band last_band(const struct history_screen *screen,
                             const struct history_series *series)
{
	const struct history_point *last = &series->points[series->count - 1];
	enum unit unit = unit_shown(series->unit, screen->units);
	struct expectation expected = find_expected(&screen->history, series);

	return (struct band){
		.has_value = true, .value = unit_convert(last->value, series->unit, unit),
		.plus_minus = unit_convert_spread(last->plus_minus, series->unit, unit),
		.low = expected.known ? unit_convert(expected.low, series->unit, unit) : NAN,
		.high = expected.known ? unit_convert(expected.high, series->unit, unit) : NAN,
		.is_assumed = expected.is_assumed,
	};
}

/* ---- Readings over time ---- */

static const char *word_of_trend(const struct history_series *series)
{
	if (series->series == SERIES_NONE || series->drift.claim != DRIFT_CLAIMED)
		return "";
	return series->drift.slope > 0 ? "rising" : "falling";
}

static void draw_series_line(const struct history_screen *screen, struct canvas *canvas,
                             struct area area, int index)
{
	const struct history_series *series = &screen->history.series[index];
	int row = index - screen->series.top;
	unsigned ink = series->series != SERIES_NONE ? INK_PLAIN : INK_FAINT;
	unsigned style = list_style(&screen->series, index, ink);
	const char *trend = word_of_trend(series);
	char value[2 * NUMBER_SIZE];

	format_value(screen, series, series->points[series->count - 1].value, value, sizeof value);
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	canvas_put_padded(canvas, area, row, 1, LABEL_COLUMNS, style, series->label);
	canvas_put_right(canvas, area, row, LABEL_COLUMNS + 1, HISTORY_VALUE_COLUMNS, style, value);
	canvas_put(canvas, area, row, LABEL_COLUMNS + HISTORY_VALUE_COLUMNS + 2,
	           list_style(&screen->series, index, INK_WATCH), trend);
}

static void draw_series_list(struct history_screen *screen, struct canvas *canvas,
                             struct area area)
{
	struct area lines = list_layout(&screen->series, canvas, area);

	for (int i = screen->series.top; i < list_end(&screen->series); i++)
		draw_series_line(screen, canvas, lines, i);
}

/* The line that the plot shows: the limit that it heads for, else the nearer end of the stretch. */
static void choose_limit(const struct history_series *series, const struct band *band,
                         struct plot *plot)
{
	bool is_rising = series->drift.slope > 0;
	bool has_low = isfinite(band->low), has_high = isfinite(band->high);
	bool is_nearer_high = fabs(band->high - band->value) < fabs(band->value - band->low);
	bool wants_high = series->drift.claim == DRIFT_CLAIMED && series->series != SERIES_NONE
	                  ? is_rising : is_nearer_high;

	plot->has_limit = has_low || has_high;
	plot->limit = (wants_high && has_high) || !has_low ? band->high : band->low;
	plot->limit_name = "limit";
}

static void put_lines(struct canvas *canvas, struct area area, int row, const char *lines)
{
	while (*lines) {
		char line[4 * PLOT_COLUMNS_MOST];
		size_t length = strcspn(lines, "\n");
		snprintf(line, sizeof line, "%.*s", (int)length, lines);
		canvas_put(canvas, area, row++, 0, INK_MARGIN, line);
		lines += length + (lines[length] == '\n');
	}
}

/* Draws the plot in field_rows + 2 rows, the band standing at its right edge. */
static void draw_plot(const struct history_screen *screen, struct canvas *canvas,
                      struct area area, int field_rows, const struct history_series *series,
                      struct band band)
{
	struct plot_point points[2 * HISTORY_MOST_VISITS];
	enum unit unit = unit_shown(series->unit, screen->units);
	const char *symbol = unit_symbol(unit, false);
	struct plot plot = { .points = points, .count = (int)series->count, .rows = field_rows + 1,
		.columns = area.columns - 3, .plain = canvas_is_plain(canvas) };
	struct text text;

	for (size_t i = 0; i < series->count; i++)
		points[i] = (struct plot_point){ .at = series->points[i].at,
			.value = unit_convert(series->points[i].value, series->unit, unit) };
	choose_limit(series, &band, &plot);
	canvas_format(canvas, area, 0, 1, INK_TITLE, "%s%s%s", series->label, *symbol ? ", " : "",
	              symbol);
	text_init(&text);
	plot_draw(&plot, &text);
	put_lines(canvas, area, 1, text_get(&text));
	text_done(&text);
	if (plot.has_limit && plot_find_scale(&plot, &band.scale_low, &band.scale_high))
		ruler_draw_upright(canvas, area, 0, area.columns - 2, field_rows + 2, &band);
}

/* "2026-06-03 as left: 8.5 ±1.4 °F, expected 8 ±5: good". */
static void draw_last(const struct history_screen *screen, struct canvas *canvas,
                      struct area area, int row, const struct history_series *series,
                      const struct band *band)
{
	const struct history_point *last = &series->points[series->count - 1];
	int decimals = unit_decimals_shown(series->decimals, series->unit, screen->units);
	const char *symbol = unit_symbol(unit_shown(series->unit, screen->units), false);
	char value[NUMBER_SIZE], spread[NUMBER_SIZE], date[CLOCK_TEXT_SIZE];
	struct text words;

	text_init(&words);
	local_date(last->at, date, sizeof date);
	number_format(band->value, decimals, value, sizeof value);
	number_format(band->plus_minus, decimals, spread, sizeof spread);
	bool is_exact = strspn(spread, "0.") == strlen(spread);
	band_add_words(band, decimals, canvas_is_plain(canvas), &words);
	int column = canvas_format(canvas, area, row, 1, INK_PLAIN, "%s %s: ", date,
	                           stage_words(last->stage));
	column = canvas_format(canvas, area, row, column, INK_STRONG, "%s%s%s%s%s", value,
	                       is_exact ? "" : " ±", is_exact ? "" : spread, *symbol ? " " : "",
	                       symbol);
	if (words.length > 0)
		canvas_format(canvas, area, row, column, ruler_ink(band_judge(band)), "  %s",
		              text_get(&words));
	text_done(&words);
}

static int draw_sentence(struct canvas *canvas, struct area area, int row,
                         const struct history_series *series)
{
	bool is_followed = series->series != SERIES_NONE;
	bool is_claimed = is_followed && series->drift.claim == DRIFT_CLAIMED;

	return row + canvas_wrap(canvas, area, row, 1, is_claimed ? INK_WATCH : INK_FAINT, is_followed
	                         ? series->sentence : "no trend is worked out for this one");
}

/* Every point with its number: what the plot cannot say. */
static void draw_points(const struct history_screen *screen, struct canvas *canvas,
                        struct area area, int row, const struct history_series *series)
{
	char value[2 * NUMBER_SIZE], date[CLOCK_TEXT_SIZE];

	for (size_t i = series->count; i-- > 0 && row < area.rows; row++) {
		const struct history_point *point = &series->points[i];
		local_date(point->at, date, sizeof date);
		format_value(screen, series, point->value, value, sizeof value);
		canvas_format(canvas, area, row, 1, INK_FAINT, "%s %s", date, stage_words(point->stage));
		canvas_put_right(canvas, area, row, 22, HISTORY_VALUE_COLUMNS, INK_PLAIN, value);
		if (point->restarts)
			canvas_put(canvas, area, row, 24 + HISTORY_VALUE_COLUMNS, INK_FAINT,
			           "changed by the work");
	}
}

static void draw_chosen_series(const struct history_screen *screen, struct canvas *canvas,
                               struct area area, int field_rows)
{
	const struct history_series *series = &screen->history.series[list_chosen(&screen->series)];
	struct band band = last_band(screen, series);
	int row = field_rows + 2;

	draw_plot(screen, canvas, area, field_rows, series, band);
	draw_last(screen, canvas, area, row++, series, &band);
	row = draw_sentence(canvas, area, row, series);
	draw_points(screen, canvas, area, row + 1, series);
}

void history_draw_series(struct workbook *workbook, struct history_screen *screen,
                        struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int plot_rows = 2 + BELOW_PLOT_ROWS;

	if (screen->history.series_count == 0) {
		canvas_put(canvas, area, 0, 1, INK_FAINT, "Nothing was read on this unit yet.");
		return;
	}
	if (area.columns >= HISTORY_WIDE_COLUMNS) {
		draw_series_list(screen, canvas, area_columns(area, 0, LIST_COLUMNS));
		canvas_rule_down(canvas, area, 0, LIST_COLUMNS, area.rows, INK_RULE);
		draw_chosen_series(screen, canvas,
		                   area_columns(area, LIST_COLUMNS + 1, area.columns - LIST_COLUMNS - 1),
		                   history_hold(area.rows - plot_rows - 6, FIELD_ROWS_LEAST,
		                                FIELD_ROWS_MOST));
		return;
	}
	int field = history_hold(area.rows - plot_rows - SERIES_ROWS_LEAST, FIELD_ROWS_LEAST,
	                         FIELD_ROWS_USUAL);
	int list_rows = area.rows - plot_rows - field;
	draw_series_list(screen, canvas, area_rows(area, 0, list_rows));
	draw_chosen_series(screen, canvas, area_rows(area, list_rows, area.rows - list_rows), field);
}
