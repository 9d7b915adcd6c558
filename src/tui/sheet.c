/*
 * The sheet: the readings of a step, written like in a notebook.
 *
 * Typing writes in the field under the cursor; going on keeps it.  What is
 * refused stays in the field until it is mended or dropped.
 */
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

#include "tui/cautions.h"
#include "tui/edit.h"
#include "tui/margin.h"
#include "tui/workbook.h"

enum {
	MOST_ROWS = 64, LABEL_COLUMN = 1, FOUND_COLUMN = 29, LEFT_COLUMN = 52, CELL_COLUMNS = 15,
	SHEET_COLUMNS = 75, WIDE_COLUMNS = 120, MARGIN_ROWS = 6, NARROW_CAUTION_ROWS = 3, TALL_ROWS = 32
};

/* One line of the sheet: a text of the call, or a reading. */
struct row {
	bool is_field;        /* a text */
	enum field field;     /* which */
	enum reading reading; /* READING_NONE for texts */
};

/* What was typed into a field, refused, and left there to be mended. */
struct refusal {
	struct row row;       /* where */
	enum stage stage;     /* in which column */
	char text[NOTE_SIZE]; /* as typed */
};

enum { MOST_REFUSALS = 12 };

struct sheet {
	struct row rows[MOST_ROWS]; /* of the step, as they apply to this machine */
	int count;                  /* of them */
	int at;                     /* the row under the cursor */
	int top;                    /* the first in sight */
	bool writing;               /* something is being written there */
	bool refused;               /* and what was written was refused */
	struct edit edit;           /* what is being written */
	enum step step;             /* whose rows these are */
	struct refusal refusals[MOST_REFUSALS]; /* left on the call, oldest first */
	int refusal_count;          /* of them */
	char call[UID_SIZE];        /* on which they were typed */
};

/* The texts and the weather that stand on the first sheet besides its own readings. */
static const enum field call_fields[] = {
	FIELD_CUSTOMER_NAME, FIELD_PHONE, FIELD_EMAIL, FIELD_ADDRESS, FIELD_SYSTEM_NAME, FIELD_COMPLAINT,
};
static const enum reading call_readings[] = { READING_ALTITUDE, READING_OUTDOOR_DB };

/* ---- Rows ---- */

static void add_field(struct sheet *sheet, enum field field)
{
	sheet->rows[sheet->count++] = (struct row){ .is_field = true, .field = field };
}

static void add_reading(struct sheet *sheet, enum reading reading)
{
	if (sheet->count < MOST_ROWS)
		sheet->rows[sheet->count++] = (struct row){ .reading = reading };
}

static void gather_rows(struct workbook *workbook, struct sheet *sheet)
{
	const struct visit *visit = &session_call(workbook_session(workbook))->visit;
	enum step step = workbook_step(workbook);

	sheet->count = 0;
	if (step == STEP_CALL) {
		for (size_t i = 0; i < sizeof call_fields / sizeof *call_fields; i++)
			add_field(sheet, call_fields[i]);
		for (size_t i = 0; i < sizeof call_readings / sizeof *call_readings; i++)
			add_reading(sheet, call_readings[i]);
	}
	for (int i = READING_NONE + 1; step != STEP_CALL && i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		/* What was taken stays in sight even where it does not apply any more. */
		bool shown = visit_applies(visit, STAGE_AS_FOUND, reading) ||
		             visit_has(visit, STAGE_AS_FOUND, reading) ||
		             visit_has(visit, STAGE_AS_LEFT, reading);
		if (reading_info(reading)->step == step && shown)
			add_reading(sheet, reading);
	}
	if (sheet->at >= sheet->count)
		sheet->at = sheet->count - 1;
}

/* A row with one column only: texts, safety, the nameplate, the site. */
static bool is_single(const struct row *row)
{
	return row->is_field || reading_info(row->reading)->scope != SCOPE_CALL ||
	       reading_info(row->reading)->step == STEP_SAFETY;
}

static enum stage stage_of(struct workbook *workbook, const struct row *row)
{
	return is_single(row) ? STAGE_AS_FOUND : workbook_stage(workbook);
}

static void enter(struct workbook *workbook, void *state)
{
	struct sheet *sheet = state;

	if (sheet->step != workbook_step(workbook)) {
		sheet->at = sheet->top = 0;
		sheet->step = workbook_step(workbook);
	}
	const char *call = session_call(workbook_session(workbook))->uid.text;
	if (strcmp(sheet->call, call) != 0) {
		sheet->refusal_count = 0;
		text_copy(sheet->call, sizeof sheet->call, call);
	}
	sheet->writing = false;
	gather_rows(workbook, sheet);
}

/* ---- What was refused ---- */

static struct refusal *find_refusal(struct sheet *sheet, const struct row *row, enum stage stage)
{
	for (int i = 0; i < sheet->refusal_count; i++) {
		struct refusal *refusal = &sheet->refusals[i];
		if (refusal->row.is_field == row->is_field && refusal->row.field == row->field &&
		    refusal->row.reading == row->reading && refusal->stage == stage)
			return refusal;
	}
	return NULL;
}

static void drop_refusal(struct sheet *sheet, struct refusal *refusal)
{
	if (!refusal)
		return;
	int after = sheet->refusal_count - (int)(refusal - sheet->refusals) - 1;
	memmove(refusal, refusal + 1, (size_t)after * sizeof *refusal);
	sheet->refusal_count--;
}

/* Leaves what is being written in its field, refused. */
static void leave_refused(struct workbook *workbook, struct sheet *sheet)
{
	const struct row *row = &sheet->rows[sheet->at];
	enum stage stage = stage_of(workbook, row);

	drop_refusal(sheet, find_refusal(sheet, row, stage));
	if (sheet->refusal_count == MOST_REFUSALS)
		drop_refusal(sheet, &sheet->refusals[0]);
	struct refusal *refusal = &sheet->refusals[sheet->refusal_count++];
	*refusal = (struct refusal){ .row = *row, .stage = stage };
	text_copy(refusal->text, sizeof refusal->text, edit_get(&sheet->edit));
	sheet->writing = false;
}

/* ---- Keeping ---- */

static void say_kept(struct workbook *workbook, const struct row *row, bool was_unsafe)
{
	const struct session *session = workbook_session(workbook);
	enum stage stage = stage_of(workbook, row);
	char question[160];

	if (row->is_field)
		return;
	const struct value *value = visit_value(&session_call(session)->visit, stage, row->reading);
	reading_doubt(row->reading, session_units(session), question, sizeof question);
	if (was_unsafe && value->state != VALUE_NOT_TAKEN)
		workbook_say(workbook, INK_CAUTION, "Kept. But lock-out, dead meter test and discharge are not "
		             "recorded on this call: stop, make it safe (F4). Noted on the call.");
	else if (value->doubtful)
		workbook_say(workbook, INK_QUESTION, "Kept, but %s", question);
}

/* Keeps what is being written; false when it was refused and stays. */
static bool keep(struct workbook *workbook, struct sheet *sheet)
{
	struct session *session = workbook_session(workbook);
	const struct row row = sheet->rows[sheet->at];
	struct error error;

	if (!sheet->writing)
		return true;
	bool unsafe = !row.is_field && session_warns_unsafe(session, row.reading);
	enum status status = row.is_field
		? session_type_field(session, row.field, edit_get(&sheet->edit), &error)
		: session_type(session, stage_of(workbook, &row), row.reading, edit_get(&sheet->edit), &error);
	sheet->refused = status != STATUS_OK;
	if (sheet->refused)
		return workbook_refuse(workbook, &error);
	sheet->writing = false;
	drop_refusal(sheet, find_refusal(sheet, &row, stage_of(workbook, &row)));
	say_kept(workbook, &row, unsafe);
	gather_rows(workbook, sheet);
	return true;
}

/* Nobody is held on a page: what is refused stays in its field. */
static bool leave(struct workbook *workbook, void *state)
{
	if (!keep(workbook, state))
		leave_refused(workbook, state);
	return true;
}

/* ---- Keys ---- */

static void begin(struct workbook *workbook, struct sheet *sheet, bool with_present)
{
	const struct session *session = workbook_session(workbook);
	const struct row *row = &sheet->rows[sheet->at];
	char present[NOTE_SIZE] = "";

	sheet->writing = true;
	sheet->refused = false;
	edit_init(&sheet->edit, row->is_field ? field_info(row->field)->size - 1 : VALUE_TEXT_SIZE - 1);
	if (!with_present)
		return;
	const struct refusal *refusal = find_refusal(sheet, row, stage_of(workbook, row));
	if (refusal)
		text_copy(present, sizeof present, refusal->text);
	else if (row->is_field)
		text_copy(present, sizeof present, session_field(session, row->field));
	else
		reading_format(row->reading, visit_value(&session_call(session)->visit,
		               stage_of(workbook, row), row->reading), session_units(session),
		               VALUE_FORM_SHEET, present, sizeof present);
	edit_set(&sheet->edit, present);
}

/* Goes to another row; what is refused holds the cursor once, so that it is seen. */
static void move(struct workbook *workbook, struct sheet *sheet, int by)
{
	bool seen = sheet->refused;

	if (!keep(workbook, sheet)) {
		if (!seen)
			return;
		leave_refused(workbook, sheet);
	}
	int to = sheet->at + by;
	if (to >= 0 && to < sheet->count)
		sheet->at = to;
}

/* The next of a field's words: yes/no, or the choices in turn. */
static void next_word(struct workbook *workbook, struct sheet *sheet)
{
	struct session *session = workbook_session(workbook);
	const struct row *row = &sheet->rows[sheet->at];
	const struct reading_info *info = reading_info(row->reading);
	const struct value *value = visit_value(&session_call(session)->visit,
	                                        stage_of(workbook, row), row->reading);
	struct error error;
	const char *word = value->state == VALUE_TAKEN && value->number != 0 ? "no" : "yes";

	if (info->kind == KIND_CHOICE) {
		int first = (int)choice_first(info->choices);
		int next = value->state == VALUE_TAKEN ? (int)value->choice - first + 1 : 0;
		word = choice_key((enum choice)(first + next % choice_count(info->choices)));
	}
	if (session_type(session, stage_of(workbook, row), row->reading, word, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	gather_rows(workbook, sheet);
}

static void empty(struct workbook *workbook, struct sheet *sheet)
{
	begin(workbook, sheet, false);
	keep(workbook, sheet);
	workbook_say(workbook, INK_KEPT, "not taken; Ctrl+/ brings it back");
}

static bool press_writing(struct workbook *workbook, struct sheet *sheet, struct key key)
{
	if (key.press == PRESS_ESCAPE) {
		sheet->writing = sheet->refused = false;
		return true;
	}
	enum edit_answer answer = edit_key(&sheet->edit, key);
	if (answer == EDIT_CHANGED)
		sheet->refused = false;
	if (answer == EDIT_FULL)
		workbook_say(workbook, INK_REFUSED, "that is as long as this field takes");
	return answer != EDIT_IGNORED;
}

static bool has_words(const struct row *row)
{
	enum reading_kind kind = row->is_field ? KIND_TEXT : reading_info(row->reading)->kind;

	return kind == KIND_CHOICE || kind == KIND_YES_NO;
}

static bool press_moving(struct workbook *workbook, struct sheet *sheet, struct key key)
{
	switch (key.press) {
	case PRESS_UP:
	case PRESS_BACK_TAB:
		move(workbook, sheet, -1);
		return true;
	case PRESS_DOWN:
	case PRESS_TAB:
	case PRESS_ENTER:
		move(workbook, sheet, 1);
		return true;
	case PRESS_INSERT:
		begin(workbook, sheet, true);
		return true;
	case PRESS_LEFT:
	case PRESS_RIGHT:
		workbook_set_stage(workbook, key.press == PRESS_LEFT ? STAGE_AS_FOUND : STAGE_AS_LEFT);
		return true;
	case PRESS_HOME:
		move(workbook, sheet, -sheet->at);
		return true;
	case PRESS_END:
		move(workbook, sheet, sheet->count - 1 - sheet->at);
		return true;
	case PRESS_DELETE:
		empty(workbook, sheet);
		return true;
	case PRESS_ESCAPE:
		drop_refusal(sheet, find_refusal(sheet, &sheet->rows[sheet->at],
		                                 stage_of(workbook, &sheet->rows[sheet->at])));
		return true;
	default:
		return false;
	}
}

static bool press(struct workbook *workbook, void *state, struct key key)
{
	struct sheet *sheet = state;

	gather_rows(workbook, sheet);
	if (sheet->writing && press_writing(workbook, sheet, key))
		return true;
	if (!sheet->writing && key.press == PRESS_CHARACTER) {
		if (key.character == ' ' && has_words(&sheet->rows[sheet->at])) {
			next_word(workbook, sheet);
			return true;
		}
		begin(workbook, sheet, false);
		return press_writing(workbook, sheet, key);
	}
	if (!sheet->writing && key.press == PRESS_BACKSPACE) {
		begin(workbook, sheet, true);
		return press_writing(workbook, sheet, key);
	}
	return press_moving(workbook, sheet, key);
}

/* ---- Drawing ---- */

static void draw_kept(struct canvas *canvas, struct area area, int row, int column, wall_time at)
{
	char hour[CLOCK_TEXT_SIZE];

	clock_format_hour(at, hour, sizeof hour);
	canvas_put(canvas, area, row, column, INK_KEPT, hour);
}

static void draw_writing(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                         int column, int width)
{
	edit_draw(&sheet->edit, workbook_canvas(workbook), area, row, column, width,
	          sheet->refused ? INK_REFUSED : INK_FIELD_ACTIVE);
}

static void draw_refusal(struct canvas *canvas, struct area area, int row, int column, int width,
                         unsigned mark, const struct refusal *refusal)
{
	canvas_put_padded(canvas, area, row, column, width, INK_REFUSED | mark, refusal->text);
	canvas_put(canvas, area, row, column + width + 1, INK_REFUSED, "no");
}

static void draw_field(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                       int index)
{
	const char *text = session_field(workbook_session(workbook), sheet->rows[index].field);
	int width = area.columns - FOUND_COLUMN - 4;
	bool here = index == sheet->at;
	const struct refusal *refusal = find_refusal(sheet, &sheet->rows[index], STAGE_AS_FOUND);

	if (here && sheet->writing)
		draw_writing(workbook, sheet, area, row, FOUND_COLUMN, width);
	else if (refusal)
		draw_refusal(workbook_canvas(workbook), area, row, FOUND_COLUMN, width,
		             here ? STYLE_REVERSE : 0, refusal);
	else
		canvas_put_padded(workbook_canvas(workbook), area, row, FOUND_COLUMN, width,
		                  (*text ? INK_FIELD : INK_FIELD_EMPTY) | (here ? STYLE_REVERSE : 0),
		                  *text ? text : "·······");
}

static void draw_value(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                       int index, enum stage stage)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct session *session = workbook_session(workbook);
	enum reading reading = sheet->rows[index].reading;
	const struct value *value = visit_value(&session_call(session)->visit, stage, reading);
	int column = stage == STAGE_AS_FOUND ? FOUND_COLUMN : LEFT_COLUMN;
	bool here = index == sheet->at && stage == stage_of(workbook, &sheet->rows[index]);
	unsigned mark = here ? STYLE_REVERSE : 0;
	char shown[VALUE_TEXT_SIZE + 16];

	reading_format(reading, value, session_units(session), VALUE_FORM_WITH_UNIT, shown, sizeof shown);
	const struct refusal *refusal = find_refusal(sheet, &sheet->rows[index], stage);
	if (refusal && !(here && sheet->writing)) {
		draw_refusal(canvas, area, row, column, CELL_COLUMNS, mark, refusal);
		return;
	}
	if (here && sheet->writing)
		draw_writing(workbook, sheet, area, row, column, CELL_COLUMNS);
	else if (value->state == VALUE_NOT_TAKEN)
		canvas_put_padded(canvas, area, row, column, CELL_COLUMNS, INK_FIELD_EMPTY | mark, "·····");
	else
		canvas_format(canvas, area_columns(area, 0, column + CELL_COLUMNS), row, column,
		              (value->doubtful ? INK_QUESTION : INK_FIELD) | mark, "%s%s", shown,
		              value->doubtful ? " ?" : "");
	if (!(here && sheet->writing) && value->state != VALUE_NOT_TAKEN)
		draw_kept(canvas, area, row, column + CELL_COLUMNS + 1, value->taken_at);
	else if (here && sheet->writing)
		canvas_put(canvas, area, row, column + CELL_COLUMNS + 1, INK_UNKEPT,
		           sheet->refused ? "no" : "…");
}

static void draw_row(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                     int index)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct row *line = &sheet->rows[index];
	const char *label = line->is_field ? field_info(line->field)->label
	                                   : reading_info(line->reading)->label;
	bool core = !line->is_field && reading_info(line->reading)->need == NEED_CORE;
	unsigned ink = index == sheet->at ? INK_STRONG : core || line->is_field ? INK_PLAIN : INK_FAINT;

	canvas_put(canvas, area, row, LABEL_COLUMN, ink, label);
	if (line->is_field) {
		draw_field(workbook, sheet, area, row, index);
		return;
	}
	draw_value(workbook, sheet, area, row, index, STAGE_AS_FOUND);
	if (!is_single(line))
		draw_value(workbook, sheet, area, row, index, STAGE_AS_LEFT);
}

static void draw_heading(struct workbook *workbook, struct sheet *sheet, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct step_info *info = step_info(sheet->step);
	bool two = sheet->count > 0 && !is_single(&sheet->rows[sheet->count - 1]) &&
	           sheet->step != STEP_CALL;

	int column = canvas_put(canvas, area, 0, LABEL_COLUMN, INK_TITLE, info->label);
	if (!two) {
		canvas_format(canvas, area, 0, column, INK_FAINT, " — %s", info->purpose);
		return;
	}
	canvas_put(canvas, area, 0, FOUND_COLUMN, workbook_stage(workbook) == STAGE_AS_FOUND
	           ? INK_STRONG : INK_FAINT, "as found");
	canvas_put(canvas, area, 0, LEFT_COLUMN, workbook_stage(workbook) == STAGE_AS_LEFT
	           ? INK_STRONG : INK_FAINT, "as left");
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
	if (sheet->top > 0)
		canvas_put(workbook_canvas(workbook), area, 0, 0, INK_KEY, "↑");
	if (sheet->top + area.rows < sheet->count)
		canvas_put(workbook_canvas(workbook), area, area.rows - 1, 0, INK_KEY, "↓");
}

static void hint(struct workbook *workbook, struct sheet *sheet)
{
	const struct row *row = &sheet->rows[sheet->at];
	struct text words;

	if (find_refusal(sheet, row, stage_of(workbook, row)) && !sheet->writing) {
		workbook_hint(workbook, "This was refused and is not kept: Ins mends it, Esc drops it.");
		return;
	}
	if (row->is_field) {
		workbook_hint(workbook, "%s", field_info(row->field)->help);
		return;
	}
	const struct reading_info *info = reading_info(row->reading);
	text_init(&words);
	for (int i = 0; i < choice_count(info->choices) && info->kind == KIND_CHOICE; i++)
		text_add_format(&words, "%s%s", i ? ", " : " Space or: ",
		                choice_label((enum choice)((int)choice_first(info->choices) + i)));
	if (info->kind == KIND_YES_NO)
		text_add(&words, " Space: yes, no.");
	workbook_hint(workbook, "%s%s", info->help, text_get(&words));
	text_done(&words);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct sheet *sheet = state;
	struct canvas *canvas = workbook_canvas(workbook);
	bool wide = area.columns >= WIDE_COLUMNS;
	struct area page = wide ? area_columns(area, 0, SHEET_COLUMNS) : area;

	gather_rows(workbook, sheet);
	draw_heading(workbook, sheet, page);
	int most = area.rows >= TALL_ROWS ? 8 : NARROW_CAUTION_ROWS;
	int used = 1 + cautions_draw(workbook, area_rows(page, 1, page.rows - 1), most);
	int room = page.rows - used;
	int rows = wide || sheet->count < room - MARGIN_ROWS ? sheet->count : room - MARGIN_ROWS;
	if (rows > room)
		rows = room;
	draw_rows(workbook, sheet, area_rows(page, used, rows));
	const struct row *row = &sheet->rows[sheet->at];
	struct area margin = wide ? area_columns(area, SHEET_COLUMNS + 2, area.columns - SHEET_COLUMNS - 2)
	                          : area_rows(area, used + rows + 1, area.rows - used - rows - 1);
	if (wide)
		canvas_rule_down(canvas, area, 0, SHEET_COLUMNS, area.rows, INK_RULE);
	else
		canvas_rule(canvas, area, used + rows, 0, area.columns, INK_RULE);
	margin_draw(workbook_session(workbook), canvas, margin, sheet->step, stage_of(workbook, row),
	            row->is_field ? READING_NONE : row->reading);
	hint(workbook, sheet);
}

const struct screen screen_sheet = {
	.place = PLACE_SHEET, .state_size = sizeof(struct sheet),
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
