/*
 * The sheet as it is drawn: its rows above, the figures in the margin.
 */
#include "tui/sheet_page.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/charging.h>
#include <padside/model/power.h>

#include "tui/cautions.h"
#include "tui/list.h"
#include "tui/margin.h"

enum {
	LABEL_COLUMN = 1, SHEET_COLUMNS = 75, WIDE_COLUMNS = 120, MARGIN_ROWS = 6,
	CALL_MARGIN_ROWS = 3, SHORT_ROWS = 19, TALL_ROWS = 32, TIME_COLUMNS = 6
};

/* Where the columns of the sheet stand. */
struct sheet_columns {
	int found, left; /* the cells as found and as left */
	int cell;        /* columns of a cell; the time follows */
};

static struct sheet_columns layout_of(const struct area *area)
{
	return area->columns >= SHEET_COLUMNS ? (struct sheet_columns){ 29, 52, 15 }
	                                      : (struct sheet_columns){ 21, 41, 12 };
}

static void draw_kept(struct canvas *canvas, struct area area, int row, int column, wall_time at)
{
	char hour[CLOCK_TEXT_SIZE];

	clock_format_hour(at, hour, sizeof hour);
	canvas_put(canvas, area, row, column, INK_KEPT, hour);
}

static void draw_field(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                       int index)
{
	struct form_place place = sheet_place(sheet, index, STAGE_AS_FOUND);
	struct sheet_columns layout = layout_of(&area);
	int width = area.columns - layout.found - 4;
	bool here = index == sheet->at;
	const struct session *session = workbook_session(workbook);
	enum field field = sheet->rows[index].field;
	bool is_plain = !form_find_held(workbook, &place) && !(here && form_is_writing(workbook));

	form_draw(workbook, &place, area, row, layout.found, width, here);
	if (is_plain && session_field_doubt(session, field)) {
		char shown[NOTE_SIZE + 2];
		snprintf(shown, sizeof shown, "%s ?", session_field(session, field));
		canvas_put_padded(workbook_canvas(workbook), area, row, layout.found, width,
		                  INK_QUESTION | (here ? STYLE_REVERSE : 0), shown);
	}
	if (here && form_is_writing(workbook))
		canvas_put(workbook_canvas(workbook), area, row, layout.found + width + 1, INK_REFUSED,
		           "…");
}

/* Before the value is written, not behind it. */
static void warn(struct workbook *workbook, enum stage stage, enum reading reading)
{
	const struct session *session = workbook_session(workbook);
	struct power power = power_of_call(session_call(session));
	char words[160];

	if (session_warns_untested(session, stage, reading)) {
		snprintf(words, sizeof words, "Windings to shell (%s) first, power off: the trip may be a "
		         "grounded winding.", workbook_step_key(STEP_WINDINGS));
		workbook_warn(workbook, words);
		return;
	}
	if (charging_belongs_to_found(session_call(session), stage, reading))
		workbook_hint(workbook,
		              "Nothing was done to the refrigerant yet: what it reads now is as found.");
	if (!session_warns_unsafe(session, reading))
		return;
	snprintf(words, sizeof words, "By the record: %s. Lock out, prove dead, discharge (%s).",
	         power_words(session_call(session), &power), workbook_step_key(STEP_SAFETY));
	workbook_warn(workbook, words);
}

static void draw_value(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                       int index, enum stage stage)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct session *session = workbook_session(workbook);
	enum reading reading = sheet->rows[index].reading;
	const struct value *value = visit_value(&session_call(session)->visit, stage, reading);
	struct form_place place = sheet_place(sheet, index, stage);
	struct sheet_columns layout = layout_of(&area);
	int column = stage == STAGE_AS_FOUND ? layout.found : layout.left;
	bool here = index == sheet->at && stage == sheet_stage(workbook, &sheet->rows[index]);
	/* What stands on the nameplate has one value, with the room of both. */
	int cell = reading_info(reading)->scope == SCOPE_CALL ? layout.cell
	           : layout.left + layout.cell - layout.found;
	bool writing = here && form_is_writing(workbook);
	bool held = form_find_held(workbook, &place) != NULL;
	char shown[VALUE_TEXT_SIZE + 16];

	/* A text that is not kept has no time: its sign stands there. */
	form_draw(workbook, &place, area, row, column, cell + (held && !writing ? TIME_COLUMNS : 0),
	          here);
	if (here && !writing && !held && value->state == VALUE_NOT_TAKEN)
		warn(workbook, stage, reading);
	if (writing)
		canvas_put(canvas, area, row, column + cell + 1, INK_UNKEPT, "…");
	if (writing || held)
		return;
	if (value->state == VALUE_NOT_TAKEN)
		return;
	reading_format(reading, value, session_units(session), VALUE_FORM_WITH_UNIT, shown,
	               sizeof shown);
	if (value->doubtful)
		snprintf(shown + strlen(shown), sizeof shown - strlen(shown), " ?");
	canvas_put_padded(canvas, area, row, column, cell,
	                  (value->doubtful ? INK_QUESTION : INK_FIELD) | (here ? STYLE_REVERSE : 0),
	                  shown);
	draw_kept(canvas, area, row, column + cell + 1, value->taken_at);
	if (charging_minutes_early(session_call(session), stage, reading) > 0)
		canvas_put(canvas, area, row, column + cell + 6, INK_QUESTION, "*");
}

static void draw_fold(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                      bool here)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char words[SHEET_FOLDED_SIZE + 32];

	snprintf(words, sizeof words, "… %d more, %s: %s", sheet->folded,
	         request_info(REQUEST_SHEET_OPEN)->key, sheet->folded_names);
	text_trim_broken_utf8(words);
	canvas_put_padded(canvas, area, row, LABEL_COLUMN, area.columns - LABEL_COLUMN - 1,
	                  INK_FAINT | (here ? STYLE_REVERSE : 0), words);
	if (here)
		workbook_hint(workbook, "%s or %s shows the rows that this call rarely needs.",
		              request_info(REQUEST_FOLD_SHOW)->key, request_info(REQUEST_SHEET_OPEN)->key);
}

/*
 * A label that has no room keeps its last word: "meter proved live, before" and
 * "…, after" are two rows.
 */
static void draw_label(struct canvas *canvas, struct area cell, int row, unsigned ink,
                       const char *label)
{
	const char *last = strrchr(label, ' ');
	int tail = last ? canvas_width_of(canvas, last) : 0;

	if (canvas_width_of(canvas, label) + LABEL_COLUMN <= cell.columns || !last ||
	    tail + LABEL_COLUMN >= cell.columns / 2) {
		canvas_put(canvas, cell, row, LABEL_COLUMN, ink, label);
		return;
	}
	canvas_put_padded(canvas, cell, row, LABEL_COLUMN, cell.columns - LABEL_COLUMN - tail, ink,
	                  label);
	canvas_put(canvas, cell, row, cell.columns - tail, ink, last);
}

static void draw_row(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                     int index)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct sheet_row *line = &sheet->rows[index];

	if (line->is_fold) {
		workbook_hot(workbook, area, row, 0, area.columns, 2 * index);
		draw_fold(workbook, sheet, area, row, index == sheet->at);
		return;
	}
	const char *label = line->is_field ? field_info(line->field)->label
	                                   : reading_info(line->reading)->label;
	bool core = !line->is_field && reading_info(line->reading)->need == NEED_CORE;
	unsigned ink = index == sheet->at ? INK_STRONG : core || line->is_field ? INK_PLAIN : INK_FAINT;

	draw_label(canvas, area_columns(area, 0, layout_of(&area).found - 1), row, ink, label);
	workbook_hot(workbook, area, row, 0, layout_of(&area).left - 1, 2 * index);
	workbook_hot(workbook, area, row, layout_of(&area).left, area.columns - layout_of(&area).left,
	             2 * index + 1);
	if (line->is_field) {
		draw_field(workbook, sheet, area, row, index);
		return;
	}
	draw_value(workbook, sheet, area, row, index, STAGE_AS_FOUND);
	if (!sheet_is_single(line))
		draw_value(workbook, sheet, area, row, index, STAGE_AS_LEFT);
}

static void draw_heading(struct workbook *workbook, struct sheet *sheet, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct step_info *info = step_info(sheet->step);
	/* The columns are named where the sheet begins with them, or the cursor is on them. */
	bool two = !sheet_is_single(&sheet->rows[0]) || !sheet_is_single(&sheet->rows[sheet->at]);

	int column = canvas_put(canvas, area, 0, LABEL_COLUMN, INK_TITLE, info->label);
	if (!two) {
		canvas_format(canvas, area, 0, column, INK_FAINT, " — %s", info->purpose);
		return;
	}
	struct sheet_columns layout = layout_of(&area);
	/* "kPa" alone could be absolute. */
	if (sheet->step == STEP_REFRIGERANT && session_units(workbook_session(workbook)) == UNITS_SI)
		canvas_put(canvas, area_columns(area, 0, layout.found - 1), 0, column, INK_FAINT,
		           ", kPa gauge");
	canvas_put(canvas, area, 0, layout.found, workbook_stage(workbook) == STAGE_AS_FOUND
	           ? INK_STRONG : INK_FAINT, stage_words(STAGE_AS_FOUND));
	canvas_put(canvas, area, 0, layout.left, workbook_stage(workbook) == STAGE_AS_LEFT
	           ? INK_STRONG : INK_FAINT, stage_words(STAGE_AS_LEFT));
}

static void draw_rows(struct workbook *workbook, struct sheet *sheet, struct area area)
{
	if (sheet->at < sheet->top)
		sheet->top = sheet->at;
	if (sheet->at >= sheet->top + area.rows)
		sheet->top = sheet->at - area.rows + 1;
	if (sheet->top + area.rows > sheet->count)
		sheet->top = sheet->count > area.rows ? sheet->count - area.rows : 0;
	for (int i = 0; i < area.rows && sheet->top + i < sheet->count; i++)
		draw_row(workbook, sheet, area, i, sheet->top + i);
	list_draw_more(workbook_canvas(workbook), area, 0, sheet->count, sheet->top);
}

/* Of which column the figures are; answers the rows that it took of the margin. */
static int draw_margin_head(struct canvas *canvas, struct area rule, struct area margin, bool wide,
                            const char *words)
{
	if (wide)
		canvas_format(canvas, margin, 0, 1, INK_FAINT, "figures %s", words);
	else
		canvas_format(canvas, rule, 0, rule.columns - 20, INK_FAINT, " figures %s ", words);
	return wide;
}

/* With the room the folded rows may stand there: the cursor stays on its row. */
static void find_room(struct workbook *workbook, struct sheet *sheet, int room)
{
	const struct sheet_row at = sheet->rows[sheet->at];

	if (room == sheet->room)
		return;
	sheet->room = room;
	sheet_gather(workbook, sheet);
	if (sheet_find_row(sheet, &at) >= 0)
		sheet->at = sheet_find_row(sheet, &at);
}

void sheet_draw(struct workbook *workbook, struct sheet *sheet, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	bool wide = area.columns >= WIDE_COLUMNS;
	struct area page = wide ? area_columns(area, 0, SHEET_COLUMNS) : area;

	sheet_gather(workbook, sheet);
	int most = area.rows >= TALL_ROWS ? 8 : area.rows >= SHORT_ROWS ? 3 : 2;
	int used = 1 + cautions_draw(workbook, area_rows(page, 1, page.rows - 1), most);
	int room = page.rows - used;
	/* Who and where say little in the margin; readings say much. */
	int below = sheet->step <= STEP_SYSTEM ? CALL_MARGIN_ROWS : MARGIN_ROWS;
	find_room(workbook, sheet, wide ? room : room - below);
	draw_heading(workbook, sheet, page);
	int rows = wide || sheet->count < room - below ? sheet->count : room - below;
	if (rows > room)
		rows = room;
	draw_rows(workbook, sheet, area_rows(page, used, rows));
	const struct sheet_row *row = &sheet->rows[sheet->at];
	workbook_set_here(workbook, row->is_field || row->is_fold ? READING_NONE : row->reading);
	struct area margin = wide ? area_columns(area, SHEET_COLUMNS + 2,
	                                         area.columns - SHEET_COLUMNS - 2)
	                          : area_rows(area, used + rows + 1, area.rows - used - rows - 1);
	if (wide)
		canvas_rule_down(canvas, area, 0, SHEET_COLUMNS, area.rows, INK_RULE);
	else
		canvas_rule(canvas, area, used + rows, 0, area.columns, INK_RULE);
	if (!sheet_is_single(row) && sheet->step > STEP_SYSTEM) {
		int head = draw_margin_head(canvas, area_rows(area, used + rows, 1), margin, wide,
		                            stage_words(sheet_stage(workbook, row)));
		margin = area_rows(margin, head, margin.rows - head);
	}
	struct margin_last last = { sheet->has_last ? &sheet->last : NULL, sheet->last_at };
	margin_draw(workbook_session(workbook), canvas, margin, sheet->step, sheet_stage(workbook, row),
	            row->is_field ? READING_NONE : row->reading, workbook_margin(workbook), &last);
}
