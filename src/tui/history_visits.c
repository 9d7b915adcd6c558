/*
 * Visits: two of them compared, or one as found with as left.
 */
#include "tui/history_page.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>

#include "tui/local.h"

enum { VISIT_ROWS = 6, CHANGE_LABEL_COLUMNS = 30, CHANGE_COLUMNS = 17, VERDICT_COLUMNS = 16 };

static void draw_visit(const struct history_screen *screen, struct canvas *canvas,
                       struct area area, int index)
{
	const struct past_call *visit = &screen->history.visits[index];
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
	if (area.columns >= HISTORY_WIDE_COLUMNS)
		draw_extent(screen, canvas, area, row, column + VERDICT_COLUMNS, change);
}

static void draw_change_heading(const struct history_screen *screen, struct canvas *canvas,
                                struct area area)
{
	struct sides sides = history_sides(screen);
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
	history_read_on(screen, 0);
	if (screen->change_count == 0)
		canvas_put(canvas, rows, 0, 1, INK_FAINT, "Nothing was read in both.");
	if (screen->change_count > rows.rows)
		list_draw_position(canvas, area_columns(rows, rows.columns - 1, 1), screen->change_count,
		                   screen->change_top, rows.rows);
	for (int i = 0; i < rows.rows && screen->change_top + i < screen->change_count; i++)
		draw_change(screen, canvas, area_columns(rows, 0, rows.columns - 2), i,
		            &screen->changes[screen->change_top + i]);
}

void history_draw_visits(struct workbook *workbook, struct history_screen *screen,
                        struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int count = (int)screen->history.visit_count;

	if (!history_has_sides(screen)) {
		canvas_put(canvas, area, 0, 1, INK_FAINT, "This unit was not visited yet.");
		return;
	}
	int rows = history_hold(count, 1, area.rows >= 30 ? 2 * VISIT_ROWS : VISIT_ROWS);
	struct area lines = list_layout(&screen->visits, canvas, area_rows(area, 0, rows));
	for (int i = screen->visits.top; i < list_end(&screen->visits); i++)
		draw_visit(screen, canvas, lines, i);
	draw_changes(screen, canvas, area_rows(area, rows + 1, area.rows - rows - 1));
}
