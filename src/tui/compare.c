/*
 * As found, as left and the last visit side by side: what is still out of
 * place first, then what changed most.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/base/number.h>
#include <padside/base/text.h>

#include "tui/list.h"
#include "tui/local.h"
#include "tui/workbook.h"

/* The three that stand beside each other. */
enum side { SIDE_LAST, SIDE_FOUND, SIDE_LEFT, SIDE_COUNT };

enum { MOST_LINES = FIGURE_COUNT + READING_COUNT, LABEL_COLUMNS = 25, CELL_COLUMNS = 11 };

/* One reading or figure. */
struct compare_line {
	enum figure figure;              /* FIGURE_NONE: a reading */
	enum reading reading;            /* READING_NONE: a figure */
	struct value values[SIDE_COUNT]; /* a figure's as a number */
	double plus_minus;               /* 95 % of the meters, of the newest */
	enum band_verdict verdict;            /* of the newest */
	double change;                   /* from the one before to the newest; NAN where none */
	double weight;                   /* what stands first */
};

struct compare {
	struct list list;               /* on the lines */
	struct compare_line lines[MOST_LINES];  /* in the order shown */
	int count;                      /* of them */
	struct visit last;              /* the visit before */
	wall_time last_at;              /* when it was */
	bool has_last;                  /* there was one */
};

/* ---- Gathering ---- */

/* The newest column that has a value, and the one before it; SIDE_COUNT for none. */
static void find_ends(const struct compare_line *line, enum side *newest, enum side *before)
{
	*newest = *before = SIDE_COUNT;
	for (int i = SIDE_COUNT - 1; i >= 0; i--) {
		if (line->values[i].state == VALUE_NOT_TAKEN)
			continue;
		if (*newest == SIDE_COUNT)
			*newest = (enum side)i;
		else if (*before == SIDE_COUNT)
			*before = (enum side)i;
	}
}

static bool is_out(enum band_verdict verdict)
{
	return verdict == BAND_LOW || verdict == BAND_HIGH;
}

/* What is out of place weighs most, then how far it changed in units of the meters. */
static void weigh(struct compare_line *line)
{
	enum side newest, before;

	find_ends(line, &newest, &before);
	line->change = NAN;
	if (before < SIDE_COUNT && line->values[newest].state == VALUE_TAKEN &&
	    line->values[before].state == VALUE_TAKEN && line->values[newest].choice == CHOICE_NONE)
		line->change = line->values[newest].number - line->values[before].number;
	double step = line->plus_minus > 0 ? line->plus_minus : 1;
	line->weight = (is_out(line->verdict) ? 1e6 : 0) +
	               (isnan(line->change) ? 0 : fmin(fabs(line->change) / step, 1e5));
}

static struct value number_of(const struct figure_set *set, enum figure figure)
{
	struct value value = { .state = VALUE_NOT_TAKEN };

	if (set->values[figure].status == STATUS_OK) {
		value.state = VALUE_TAKEN;
		value.number = set->values[figure].value;
	}
	return value;
}

/* Two of the three at least: one alone compares nothing. */
static void add(struct compare *compare, struct compare_line *line)
{
	enum side newest, before;

	find_ends(line, &newest, &before);
	if (before == SIDE_COUNT || newest == SIDE_LAST)
		return;
	weigh(line);
	compare->lines[compare->count++] = *line;
}

static enum stage stage_of(enum side column)
{
	return column == SIDE_LEFT ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}

/* The stage of the last visit that counts: as left where it was read so. */
static enum stage last_stage(const struct visit *last, enum reading reading)
{
	return visit_has(last, STAGE_AS_LEFT, reading) ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}

/* Whether any reading of the visit goes into it: the nameplate's own figures never change. */
static bool is_of_visit(const struct figure_info *info)
{
	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES && info->needs[i][j] != READING_NONE; j++)
			if (reading_info(info->needs[i][j])->scope == SCOPE_CALL)
				return true;
	return false;
}

static void add_figures(const struct session *session, struct compare *compare)
{
	const struct visit *visit = &session_call(session)->visit;
	static struct figure_set last[STAGE_COUNT];

	for (int stage = 0; stage < STAGE_COUNT && compare->has_last; stage++)
		figures_evaluate(&compare->last, (enum stage)stage, &last[stage]);
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		struct compare_line line = { .figure = (enum figure)i };
		enum side newest, before;
		line.values[SIDE_FOUND] = number_of(session_figures(session, STAGE_AS_FOUND), line.figure);
		line.values[SIDE_LEFT] = number_of(session_figures(session, STAGE_AS_LEFT), line.figure);
		for (int stage = 0; stage < STAGE_COUNT && compare->has_last; stage++)
			if (last[stage].values[i].status == STATUS_OK)
				line.values[SIDE_LAST] = number_of(&last[stage], line.figure);
		find_ends(&line, &newest, &before);
		if (figure_info(line.figure)->is_word || !is_of_visit(figure_info(line.figure)) ||
		    newest == SIDE_COUNT || newest == SIDE_LAST)
			continue;
		const struct figure_set *set = session_figures(session, stage_of(newest));
		struct expectation expectation = figure_expect(visit, stage_of(newest), set, line.figure);
		line.plus_minus = set->values[i].plus_minus;
		line.verdict = expectation_judge(&expectation, set->values[i].value, line.plus_minus);
		add(compare, &line);
	}
}

static void add_readings(const struct session *session, struct compare *compare)
{
	const struct visit *visit = &session_call(session)->visit;
	double number;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		struct compare_line line = { .reading = (enum reading)i };
		enum side newest, before;
		if (reading_info(line.reading)->scope != SCOPE_CALL ||
		    reading_info(line.reading)->step == STEP_SAFETY ||
		    reading_info(line.reading)->kind == KIND_TEXT)
			continue;
		line.values[SIDE_FOUND] = *visit_value(visit, STAGE_AS_FOUND, line.reading);
		line.values[SIDE_LEFT] = *visit_value(visit, STAGE_AS_LEFT, line.reading);
		if (compare->has_last)
			line.values[SIDE_LAST] = *visit_value(&compare->last,
			                                        last_stage(&compare->last, line.reading),
			                                        line.reading);
		find_ends(&line, &newest, &before);
		if (newest < SIDE_COUNT && newest != SIDE_LAST &&
		    visit_number(visit, stage_of(newest), line.reading, &number) == STATUS_OK) {
			struct expectation expectation = reading_expect(visit, stage_of(newest), line.reading);
			line.plus_minus = reading_accuracy(line.reading, number);
			line.verdict = expectation_judge(&expectation, number, line.plus_minus);
		}
		add(compare, &line);
	}
}

/* Worst first; what weighs the same stays in its order. */
static void sort(struct compare *compare)
{
	for (int i = 1; i < compare->count; i++) {
		struct compare_line line = compare->lines[i];
		int at = i;
		for (; at > 0 && compare->lines[at - 1].weight < line.weight; at--)
			compare->lines[at] = compare->lines[at - 1];
		compare->lines[at] = line;
	}
}

static void enter(struct workbook *workbook, void *state)
{
	struct compare *compare = state;
	struct session *session = workbook_session(workbook);
	struct error error;

	list_init(&compare->list, false);
	compare->count = 0;
	compare->has_last = session_last_visit(session, &compare->last, &compare->last_at, &error) ==
	                    STATUS_OK;
	add_figures(session, compare);
	add_readings(session, compare);
	sort(compare);
	list_set_count(&compare->list, compare->count);
}

/* ---- Keys ---- */

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct compare *compare = state;
	int chosen = list_chosen(&compare->list);

	switch (request) {
	case REQUEST_COMPARE_BACK:
		workbook_go_back(workbook);
		return true;
	case REQUEST_LIST_PICK:
		if (chosen >= 0 && compare->lines[chosen].reading != READING_NONE)
			workbook_go_reading(workbook, compare->lines[chosen].reading);
		else if (chosen >= 0)
			workbook_go_figure(workbook, compare->lines[chosen].figure);
		return true;
	default:
		return list_key(&compare->list, key) != LIST_IGNORED;
	}
}

/* ---- Drawing ---- */

static void format_as(const struct session *session, const struct compare_line *line,
                      const struct value *value, enum value_form form, char *out, size_t size)
{
	text_copy(out, size, "");
	if (value->state == VALUE_NOT_TAKEN)
		return;
	if (line->figure != FIGURE_NONE)
		figure_format(line->figure, value->number, session_units(session), form, out, size);
	else
		reading_format(line->reading, value, session_units(session), form, out, size);
}

/* With its unit, where that has room behind the number. */
static void format_cell(const struct session *session, const struct compare_line *line,
                        const struct value *value, char *out, size_t size)
{
	format_as(session, line, value, VALUE_FORM_WITH_UNIT, out, size);
	if (text_columns(out) > CELL_COLUMNS)
		format_as(session, line, value, VALUE_FORM_SHEET, out, size);
}

/* "↓ 8.4", "=": direction and size, "=" within the meters. */
static void draw_change(const struct session *session, struct canvas *canvas, struct area area,
                        int row, int column, unsigned style, const struct compare_line *line)
{
	bool is_figure = line->figure != FIGURE_NONE;
	enum unit unit = is_figure ? figure_info(line->figure)->unit
	                           : reading_info(line->reading)->unit;
	int decimals = is_figure ? figure_info(line->figure)->decimals
	                         : reading_info(line->reading)->decimals;
	enum unit shown = unit_shown(unit, session_units(session));
	char by[NUMBER_SIZE];

	if (isnan(line->change))
		return;
	if (fabs(line->change) <= line->plus_minus) {
		canvas_put(canvas, area, row, column, style, "=");
		return;
	}
	number_format(unit_convert_spread(fabs(line->change), unit, shown),
	              unit_decimals_shown(decimals, unit, session_units(session)), by, sizeof by);
	canvas_format(canvas, area, row, column, style, "%s %s", line->change > 0 ? "↑" : "↓", by);
}

static void draw_line(const struct session *session, struct canvas *canvas, struct area area,
                      int row, unsigned style, const struct compare_line *line)
{
	const char *label = line->figure != FIGURE_NONE ? figure_info(line->figure)->label
	                                                : reading_info(line->reading)->label;
	bool is_chosen = style == INK_SELECTED;
	char shown[VALUE_TEXT_SIZE + 16];
	int column = 1;

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	column = canvas_put_padded(canvas, area, row, column, LABEL_COLUMNS, style, label);
	for (int i = 0; i < SIDE_COUNT; i++) {
		format_cell(session, line, &line->values[i], shown, sizeof shown);
		canvas_put_padded(canvas, area, row, column, CELL_COLUMNS, style, shown);
		column += CELL_COLUMNS + 1;
	}
	draw_change(session, canvas, area, row, column, is_chosen ? style : (unsigned)INK_MARGIN, line);
	column += 9;
	canvas_put(canvas, area, row, column,
	           is_chosen ? style : is_out(line->verdict) ? (unsigned)INK_BAD
	           : line->verdict == BAND_INSIDE ? (unsigned)INK_GOOD : (unsigned)INK_FAINT,
	           band_verdict_word(line->verdict));
}

static void draw_heads(struct canvas *canvas, struct area area, const struct compare *compare)
{
	static const char *const heads[SIDE_COUNT] = { "last visit", "as found", "as left" };
	char date[CLOCK_TEXT_SIZE];
	int column = 1 + LABEL_COLUMNS;

	canvas_put(canvas, area, 0, 1, INK_TITLE, "Compared");
	for (int i = 0; i < SIDE_COUNT; i++, column += CELL_COLUMNS + 1)
		canvas_put(canvas, area, 0, column, INK_STRONG, heads[i]);
	canvas_put(canvas, area, 0, column, INK_STRONG, "change");
	if (compare->has_last) {
		local_date(compare->last_at, date, sizeof date);
		canvas_put(canvas, area, 1, 1 + LABEL_COLUMNS, INK_FAINT, date);
	}
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct compare *compare = state;
	struct canvas *canvas = workbook_canvas(workbook);

	draw_heads(canvas, area, compare);
	struct area lines = list_layout(&compare->list, canvas, area_rows(area, 2, area.rows - 2));
	for (int i = compare->list.top; i < list_end(&compare->list); i++) {
		draw_line(workbook_session(workbook), canvas, lines, i - compare->list.top,
		          list_style(&compare->list, i, INK_PLAIN), &compare->lines[i]);
		workbook_hot(workbook, lines, i - compare->list.top, 0, lines.columns, i);
	}
	if (compare->count == 0)
		canvas_put(canvas, area, 2, 1, INK_FAINT,
		           "Nothing was read twice yet: as found and as left, or on an earlier visit.");
	workbook_hint(workbook,
	              "Worst first. = means no change beyond the meters. %s goes to the reading.",
	              request_info(REQUEST_LIST_PICK)->key);
}

static void click(struct workbook *workbook, void *state, int which)
{
	(void)workbook;
	list_choose(&((struct compare *)state)->list, which);
}

const struct screen screen_compare = {
	.place = PLACE_COMPARE, .state_size = sizeof(struct compare),
	.enter = enter, .draw = draw, .press = press, .click = click,
};
