/*
 * The history of a machine, on two leaves.
 *
 * Readings over time: a list of everything that was ever read or worked out,
 * the plot of the chosen one with the band at its right edge, and what drifts.
 * Visits: two of them compared, or one as found with as left.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/history.h>
#include <padside/base/number.h>
#include <padside/base/plot.h>
#include <padside/base/text.h>

#include "tui/list.h"
#include "tui/local.h"
#include "tui/ruler.h"
#include "tui/workbook.h"

enum {
	WIDE_COLUMNS = 110, LIST_COLUMNS = 58, LABEL_COLUMNS = 30, VALUE_COLUMNS = 16,
	HEAD_ROWS = 2, FIELD_ROWS_LEAST = 5, FIELD_ROWS_USUAL = 8, FIELD_ROWS_MOST = 16,
	BELOW_PLOT_ROWS = 3, SERIES_ROWS_LEAST = 4, VISIT_ROWS = 6,
	CHANGE_LABEL_COLUMNS = 30, CHANGE_COLUMNS = 17, VERDICT_COLUMNS = 16,
};

enum { NO_MARK = -1 };

struct history_screen {
	struct history history;      /* as loaded when the screen came into sight */
	enum unit_system units;      /* of its sentences */
	struct uid shown;            /* whose history was drawn last */
	bool on_visits;              /* the leaf of the visits is in sight */
	struct list series;          /* on history.series */
	struct list visits;          /* on history.visits, newest first */
	int mark;                    /* the visit to compare with; NO_MARK */
	enum stage stage;            /* of the earlier of two visits */
	struct history_change changes[HISTORY_MOST_CHANGES]; /* between the two, real ones first */
	int change_count;            /* of them */
	int change_top;              /* first in sight */
	int change_rows;             /* in sight at once, as drawn last */
};

/* The two sides of a comparison. */
struct sides {
	const struct store_visit *before, *after; /* the same, or two visits in time order */
	enum stage before_stage, after_stage;     /* of each */
};

/* ---- Loading ---- */

static void load(struct workbook *workbook, struct history_screen *screen)
{
	struct session *session = workbook_session(workbook);
	struct error error;

	screen->units = session_units(session);
	if (history_load(session_store(session), workbook_system(workbook), screen->units,
	                 session_now(session), &screen->history, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	list_set_count(&screen->series, (int)screen->history.series_count);
	list_set_count(&screen->visits, (int)screen->history.visit_count);
}

/* What drifts is what one comes here for. */
static int find_drifting(const struct history *history)
{
	for (size_t i = 0; i < history->series_count; i++)
		if (history->series[i].series != SERIES_NONE &&
		    history->series[i].drift.claim == DRIFT_CLAIMED)
			return (int)i;
	return 0;
}

static bool has_sides(const struct history_screen *screen)
{
	return screen->history.visit_count > 0;
}

static struct sides sides_of(const struct history_screen *screen)
{
	const struct store_visit *visits = screen->history.visits;
	int chosen = list_chosen(&screen->visits), mark = screen->mark;

	if (mark == NO_MARK || mark == chosen)
		return (struct sides){ &visits[chosen], &visits[chosen], STAGE_AS_FOUND, STAGE_AS_LEFT };
	/* The newest visit is the first. */
	int older = mark > chosen ? mark : chosen, newer = mark > chosen ? chosen : mark;
	return (struct sides){ &visits[older], &visits[newer], screen->stage, STAGE_AS_FOUND };
}

/* Moves what really changed to the front; both parts keep their order. */
static void put_real_first(struct history_change *changes, int count)
{
	int front = 0;

	for (int i = 0; i < count; i++) {
		if (!changes[i].is_real)
			continue;
		struct history_change real = changes[i];
		memmove(&changes[front + 1], &changes[front], (size_t)(i - front) * sizeof *changes);
		changes[front++] = real;
	}
}

/* Whether the machine itself was read in that stage; the nameplate alone compares nothing. */
static bool was_read(const struct visit *visit, enum stage stage)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->scope == SCOPE_CALL &&
		    visit_has(visit, stage, (enum reading)i))
			return true;
	return false;
}

static void compare(struct history_screen *screen)
{
	screen->change_count = screen->change_top = 0;
	if (!has_sides(screen))
		return;
	struct sides sides = sides_of(screen);
	if (!was_read(&sides.before->visit, sides.before_stage) ||
	    !was_read(&sides.after->visit, sides.after_stage))
		return;
	screen->change_count = (int)history_compare(&sides.before->visit, sides.before_stage,
	                                            &sides.after->visit, sides.after_stage,
	                                            screen->changes);
	put_real_first(screen->changes, screen->change_count);
}

static void enter(struct workbook *workbook, void *state)
{
	struct history_screen *screen = state;
	bool is_same = strcmp(screen->shown.text, workbook_system(workbook)->text) == 0;

	if (!is_same) {
		list_init(&screen->series, false);
		list_init(&screen->visits, false);
		screen->on_visits = false;
		screen->stage = STAGE_AS_FOUND;
		screen->shown = *workbook_system(workbook);
	}
	screen->mark = NO_MARK;
	load(workbook, screen);
	if (!is_same)
		list_choose(&screen->series, find_drifting(&screen->history));
	compare(screen);
}

/* ---- Keys ---- */

static void read_on(struct history_screen *screen, int by)
{
	int last = screen->change_count - screen->change_rows;
	int top = screen->change_top + by;

	screen->change_top = top > last ? last : top;
	if (screen->change_top < 0)
		screen->change_top = 0;
}

static void open_visit(struct workbook *workbook, const struct history_screen *screen)
{
	if (has_sides(screen))
		workbook_open_call(workbook, &screen->history.visits[list_chosen(&screen->visits)].call);
}

static bool press_visits(struct workbook *workbook, struct history_screen *screen, struct key key)
{
	int page = screen->change_rows > 1 ? screen->change_rows - 1 : 1;
	int chosen = list_chosen(&screen->visits);

	if (key.press == PRESS_PAGE_UP || key.press == PRESS_PAGE_DOWN) {
		read_on(screen, key.press == PRESS_PAGE_UP ? -page : page);
		return true;
	}
	if (key.press == PRESS_LEFT || key.press == PRESS_RIGHT) {
		screen->stage = key.press == PRESS_LEFT ? STAGE_AS_FOUND : STAGE_AS_LEFT;
	} else if (key_equal(key, key_character(' '))) {
		screen->mark = screen->mark == chosen ? NO_MARK : chosen;
	} else {
		enum list_answer answer = list_key(&screen->visits, key);
		if (answer == LIST_PICKED)
			open_visit(workbook, screen);
		if (answer != LIST_MOVED)
			return answer == LIST_PICKED;
	}
	compare(screen);
	return true;
}

static bool press(struct workbook *workbook, void *state, struct key key)
{
	struct history_screen *screen = state;

	if (key.press == PRESS_ESCAPE) {
		workbook_go_back(workbook);
		return true;
	}
	if (key.press == PRESS_TAB) {
		screen->on_visits = !screen->on_visits;
		return true;
	}
	return screen->on_visits ? press_visits(workbook, screen, key)
	                         : list_key(&screen->series, key) != LIST_IGNORED;
}

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

/* What is expected of it at the last visit, in the canonical unit. */
static void find_expected(const struct history *history, const struct history_series *series,
                          double *low, double *high)
{
	const struct history_point *last = &series->points[series->count - 1];
	const struct visit *visit = &history->visits[history->visit_count - 1 - last->visit].visit;
	struct expectation expected;
	struct figure_set set;

	*low = *high = NAN;
	if (series->series != SERIES_NONE) {
		if (series->has_low || series->has_high) {
			*low = series->has_low ? series->low : -INFINITY;
			*high = series->has_high ? series->high : INFINITY;
		}
		return;
	}
	if (series->figure != FIGURE_NONE) {
		figures_evaluate(visit, last->stage, &set);
		expected = figure_expect(visit, last->stage, &set, series->figure);
	} else {
		expected = reading_expect(visit, last->stage, series->reading);
	}
	if (expected.known) {
		*low = expected.low;
		*high = expected.high;
	}
}

/* The last value against what is expected, in the unit shown. */
static struct band last_band(const struct history_screen *screen,
                             const struct history_series *series)
{
	const struct history_point *last = &series->points[series->count - 1];
	enum unit unit = unit_shown(series->unit, screen->units);
	double low, high;

	find_expected(&screen->history, series, &low, &high);
	return (struct band){
		.has_value = true, .value = unit_convert(last->value, series->unit, unit),
		.plus_minus = unit_convert_spread(last->plus_minus, series->unit, unit),
		.low = unit_convert(low, series->unit, unit),
		.high = unit_convert(high, series->unit, unit),
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
	canvas_put_right(canvas, area, row, LABEL_COLUMNS + 1, VALUE_COLUMNS, style, value);
	canvas_put(canvas, area, row, LABEL_COLUMNS + VALUE_COLUMNS + 2,
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

static const char *stage_words(enum stage stage)
{
	return stage == STAGE_AS_FOUND ? "as found" : "as left";
}

/* "2026-06-03 as left: 8.5 ±1.4 °F, wants 8 ±5: good". */
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
		canvas_put_right(canvas, area, row, 22, VALUE_COLUMNS, INK_PLAIN, value);
		if (point->restarts)
			canvas_put(canvas, area, row, 24 + VALUE_COLUMNS, INK_FAINT, "changed by the work");
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

static int hold(int value, int least, int most)
{
	return value < least ? least : value > most ? most : value;
}

static void draw_series(struct workbook *workbook, struct history_screen *screen,
                        struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int plot_rows = 2 + BELOW_PLOT_ROWS;

	if (screen->history.series_count == 0) {
		canvas_put(canvas, area, 0, 1, INK_FAINT, "Nothing was read on this machine yet.");
		return;
	}
	if (area.columns >= WIDE_COLUMNS) {
		draw_series_list(screen, canvas, area_columns(area, 0, LIST_COLUMNS));
		canvas_rule_down(canvas, area, 0, LIST_COLUMNS, area.rows, INK_RULE);
		draw_chosen_series(screen, canvas,
		                   area_columns(area, LIST_COLUMNS + 1, area.columns - LIST_COLUMNS - 1),
		                   hold(area.rows - plot_rows - 6, FIELD_ROWS_LEAST, FIELD_ROWS_MOST));
		return;
	}
	int field = hold(area.rows - plot_rows - SERIES_ROWS_LEAST, FIELD_ROWS_LEAST, FIELD_ROWS_USUAL);
	int list_rows = area.rows - plot_rows - field;
	draw_series_list(screen, canvas, area_rows(area, 0, list_rows));
	draw_chosen_series(screen, canvas, area_rows(area, list_rows, area.rows - list_rows), field);
}

/* ---- Visits compared ---- */

static void draw_visit(const struct history_screen *screen, struct canvas *canvas,
                       struct area area, int index)
{
	const struct store_visit *visit = &screen->history.visits[index];
	unsigned style = list_style(&screen->visits, index, INK_PLAIN);
	int row = index - screen->visits.top;
	char date[CLOCK_TEXT_SIZE];

	local_date(visit->opened_at, date, sizeof date);
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	canvas_put(canvas, area, row, 1, style, index == screen->mark ? "●" : "");
	int column = canvas_put(canvas, area, row, 3, style, date) + 2;
	if (visit->closed_at == WALL_TIME_NONE)
		column = canvas_put(canvas, area, row, column, style, "open") + 2;
	canvas_format(canvas, area, row, column, style, "%s%s%s", visit->found_line,
	              *visit->found_line && *visit->done_line ? "; done: " : "", visit->done_line);
}

static void format_side(const struct history_screen *screen, const struct history_change *change,
                        const struct value *value, char *out, size_t size)
{
	if (change->figure != FIGURE_NONE)
		figure_format(change->figure, value->number, screen->units, VALUE_FORM_WITH_UNIT, out,
		              size);
	else
		reading_format(change->reading, value, screen->units, VALUE_FORM_WITH_UNIT, out, size);
}

static const char *verdict_of(const struct history_change *change)
{
	if (change->is_real)
		return "changed";
	return isnan(change->change) || change->change == 0 ? "the same" : "within meters";
}

/* "-8.4, the meters ±2.0", in a wide table. */
static void draw_extent(const struct history_screen *screen, struct canvas *canvas,
                        struct area area, int row, int column, const struct history_change *change)
{
	enum unit unit = change->figure != FIGURE_NONE ? figure_info(change->figure)->unit
	                                               : reading_info(change->reading)->unit;
	int decimals = change->figure != FIGURE_NONE ? figure_info(change->figure)->decimals
	                                             : reading_info(change->reading)->decimals;
	enum unit shown = unit_shown(unit, screen->units);
	char by[NUMBER_SIZE], meters[NUMBER_SIZE];

	if (isnan(change->change) || change->change == 0)
		return;
	decimals = unit_decimals_shown(decimals, unit, screen->units);
	number_format(unit_convert_spread(fabs(change->change), unit, shown), decimals, by, sizeof by);
	number_format(unit_convert_spread(change->plus_minus, unit, shown), decimals, meters,
	              sizeof meters);
	canvas_format(canvas, area, row, column, INK_FAINT, "%s%s, the meters ±%s",
	              change->change < 0 ? "-" : "+", by, meters);
}

static void draw_change(const struct history_screen *screen, struct canvas *canvas,
                        struct area area, int row, const struct history_change *change)
{
	const char *label = change->figure != FIGURE_NONE ? figure_info(change->figure)->label
	                                                  : reading_info(change->reading)->label;
	unsigned ink = change->is_real ? INK_STRONG : INK_FAINT;
	char before[VALUE_TEXT_SIZE], after[VALUE_TEXT_SIZE];

	format_side(screen, change, &change->before, before, sizeof before);
	format_side(screen, change, &change->after, after, sizeof after);
	int column = 1;
	column = canvas_put_padded(canvas, area, row, column, CHANGE_LABEL_COLUMNS, ink, label);
	column = canvas_put_padded(canvas, area, row, column, CHANGE_COLUMNS - 1, ink, before) + 1;
	column = canvas_put_padded(canvas, area, row, column, CHANGE_COLUMNS - 1, ink, after) + 1;
	canvas_put(canvas, area, row, column, ink, verdict_of(change));
	if (area.columns >= WIDE_COLUMNS)
		draw_extent(screen, canvas, area, row, column + VERDICT_COLUMNS, change);
}

static void draw_change_heading(const struct history_screen *screen, struct canvas *canvas,
                                struct area area)
{
	struct sides sides = sides_of(screen);
	bool is_one = sides.before == sides.after;
	char before[CLOCK_TEXT_SIZE], after[CLOCK_TEXT_SIZE];
	int column = 1 + CHANGE_LABEL_COLUMNS;

	local_date(sides.before->opened_at, before, sizeof before);
	local_date(sides.after->opened_at, after, sizeof after);
	canvas_put(canvas, area, 0, 1, INK_TITLE, is_one ? "One visit" : "Two visits");
	canvas_put(canvas, area, 0, column, INK_TITLE, before);
	canvas_put(canvas, area, 0, column + CHANGE_COLUMNS, INK_TITLE, is_one ? "" : after);
	canvas_put(canvas, area, 1, column, INK_FAINT, stage_words(sides.before_stage));
	canvas_put(canvas, area, 1, column + CHANGE_COLUMNS, INK_FAINT, stage_words(sides.after_stage));
}

static void draw_changes(struct history_screen *screen, struct canvas *canvas, struct area area)
{
	draw_change_heading(screen, canvas, area_rows(area, 0, 2));
	struct area rows = area_rows(area, 2, area.rows - 2);
	screen->change_rows = rows.rows;
	read_on(screen, 0);
	if (screen->change_count == 0)
		canvas_put(canvas, rows, 0, 1, INK_FAINT, "Nothing was read in both.");
	if (screen->change_count > rows.rows)
		list_draw_position(canvas, area_columns(rows, rows.columns - 1, 1), screen->change_count,
		                   screen->change_top, rows.rows);
	for (int i = 0; i < rows.rows && screen->change_top + i < screen->change_count; i++)
		draw_change(screen, canvas, area_columns(rows, 0, rows.columns - 2), i,
		            &screen->changes[screen->change_top + i]);
}

static void draw_visits(struct workbook *workbook, struct history_screen *screen,
                        struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int count = (int)screen->history.visit_count;

	if (!has_sides(screen)) {
		canvas_put(canvas, area, 0, 1, INK_FAINT, "This machine was not visited yet.");
		return;
	}
	int rows = hold(count, 1, area.rows >= 30 ? 2 * VISIT_ROWS : VISIT_ROWS);
	struct area lines = list_layout(&screen->visits, canvas, area_rows(area, 0, rows));
	for (int i = screen->visits.top; i < list_end(&screen->visits); i++)
		draw_visit(screen, canvas, lines, i);
	draw_changes(screen, canvas, area_rows(area, rows + 1, area.rows - rows - 1));
}

/* ---- Both leaves ---- */

static void draw_head(struct workbook *workbook, const struct history_screen *screen,
                      struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct system_line *line = &screen->history.system;
	char words[4 * VALUE_TEXT_SIZE];

	system_describe(&line->nameplate, session_now(workbook_session(workbook)), screen->units, words,
	                sizeof words);
	int column = canvas_format(canvas, area, 0, 1, INK_TITLE, "%s%s%s", line->customer.name,
	                           *line->system.name ? ", " : "", line->system.name);
	canvas_format(canvas, area, 0, column, INK_PLAIN, "%s%s", *words ? ": " : "", words);
	column = canvas_put(canvas, area, 1, 1, screen->on_visits ? INK_FAINT : INK_STRONG,
	                    "Readings over time") + 3;
	column = canvas_put(canvas, area, 1, column, screen->on_visits ? INK_STRONG : INK_FAINT,
	                    "Visits compared") + 3;
	canvas_put(canvas, area, 1, column, INK_FAINT, "Tab: the other");
}

static void hint(struct workbook *workbook, const struct history_screen *screen)
{
	if (!screen->on_visits)
		workbook_hint(workbook, "Up, Down: another reading or figure. Tab: visits compared. "
		              "Esc goes back.");
	else if (screen->mark == NO_MARK)
		workbook_hint(workbook, "Space marks a visit, to compare the others with it. PgUp, PgDn "
		              "read on. Enter opens the call. Esc goes back.");
	else
		workbook_hint(workbook, "Up, Down: the other visit. Left, Right: the earlier one as found, "
		              "as left. PgUp, PgDn read on. Space takes the mark away.");
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct history_screen *screen = state;
	struct area below = area_rows(area, HEAD_ROWS, area.rows - HEAD_ROWS);

	/* The sentences are written in one system of units. */
	if (screen->units != session_units(workbook_session(workbook)))
		load(workbook, screen);
	draw_head(workbook, screen, area);
	if (screen->on_visits)
		draw_visits(workbook, screen, below);
	else
		draw_series(workbook, screen, below);
	hint(workbook, screen);
}

static void done(void *state)
{
	history_done(&((struct history_screen *)state)->history);
}

const struct screen screen_history = {
	.place = PLACE_HISTORY, .state_size = sizeof(struct history_screen),
	.enter = enter, .draw = draw, .press = press, .done = done,
};
