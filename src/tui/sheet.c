/*
 * The sheet: the readings of a step, written like in a notebook.
 *
 * Typing writes in the field under the cursor; going on keeps it (form.h).
 */
#include <stdio.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/app/session_same.h>
#include <padside/base/text.h>

#include "tui/cautions.h"
#include "tui/fold.h"
#include "tui/form.h"
#include "tui/margin.h"

enum {
	MOST_ROWS = 64, LABEL_COLUMN = 1, SHEET_COLUMNS = 75, WIDE_COLUMNS = 120, MARGIN_ROWS = 6, FOLDED_SIZE = 160, CALL_MARGIN_ROWS = 3,
	SHORT_ROWS = 19, TALL_ROWS = 32
};

/* Where the columns of the sheet stand. */
struct layout {
	int found, left; /* the cells as found and as left */
	int cell;        /* columns of a cell; the time follows */
};

static struct layout layout_of(const struct area *area)
{
	return area->columns >= SHEET_COLUMNS ? (struct layout){ 29, 52, 15 }
	                                      : (struct layout){ 21, 41, 12 };
}

/* One line of the sheet: a text of the call, a reading, or the rows that are folded away. */
struct sheet_row {
	bool is_field;        /* a text */
	bool is_fold;         /* the line that opens the folded rows */
	enum field field;     /* which text */
	enum reading reading; /* READING_NONE for texts */
};

/* The element that a row of the sheet writes in: a column of the call. */
struct sheet_column {
	enum stage stage; /* as found, as left */
};

struct sheet {
	struct sheet_row rows[MOST_ROWS];        /* of the step, as they apply to this unit */
	struct form_line lines[MOST_ROWS]; /* how each is written */
	struct form_kind kind;             /* of them */
	int count;                         /* of both */
	int at;                            /* the row under the cursor */
	int top;                           /* the first in sight */
	enum step step;                    /* whose rows these are */
	char call[UID_SIZE];               /* on which call */
	bool was_unsafe;                   /* the value being kept deserves the safety warning */
	struct visit last;                 /* the visit before this call */
	wall_time last_at;                 /* when it was */
	bool has_last;                     /* there was one */
	bool is_open;                      /* nothing is folded away */
	int folded;                        /* rows that are */
	char folded_names[FOLDED_SIZE];    /* "breaker or fuse fitted, SEER2, …" */
};

/* The texts and the weather that stand on the first sheet besides its own readings. */
static const enum field call_fields[] = {
	FIELD_CUSTOMER_NAME, FIELD_PHONE, FIELD_EMAIL, FIELD_ADDRESS, FIELD_SYSTEM_NAME, FIELD_COMPLAINT,
};
/* What the day and the people need; shown once there is something in it, or on demand. */
static const enum field day_fields[] = {
	FIELD_ACCESS_NOTE, FIELD_ARRIVED_AT, FIELD_AUTHORISED_BY, FIELD_AUTHORISED_AMOUNT,
	FIELD_AUTHORISED_AT, FIELD_TECHNICIAN, FIELD_LICENCE, FIELD_CERTIFICATION, FIELD_JOB_NUMBER,
	FIELD_PLANNED_AT,
};
static const enum reading call_readings[] = {
	READING_OUTDOOR_DB, READING_COMPRESSOR_STATE, READING_FAN_STATE, READING_BLOWER_STATE,
	READING_ALTITUDE,
};

/* ---- What is said ---- */

static void say_kept(struct workbook *workbook, const struct form_line *line, const void *element,
                     void *context)
{
	const struct session *session = workbook_session(workbook);
	const struct sheet *sheet = context;
	enum reading reading = (enum reading)line->which;
	char question[160];

	if (!line->is_measured)
		return;
	const struct value *value = visit_value(&session_call(session)->visit,
	                                        ((const struct sheet_column *)element)->stage, reading);
	reading_doubt(reading, session_units(session), question, sizeof question);
	if (value->state == VALUE_NOT_TAKEN)
		workbook_say(workbook, INK_KEPT, "not taken; Ctrl+/ brings it back");
	else if (sheet->was_unsafe)
		workbook_say(workbook, INK_CAUTION, "Kept. But by what is written the unit is not safe now: "
		             "stop, lock out, prove dead, discharge (F4). Noted on the call.");
	else if (value->doubtful)
		workbook_say(workbook, INK_QUESTION, "Kept, but %s", question);
}

/* ---- Rows ---- */

static void get_field(const struct form_line *line, const void *element, struct session *session,
                      char *out, size_t size)
{
	(void)element;
	text_copy(out, size, session_field(session, (enum field)line->which));
}

static enum status set_field(const struct form_line *line, void *element, const char *typed,
                             struct session *session, struct error *error)
{
	(void)element;
	return session_type_field(session, (enum field)line->which, typed, error);
}

static void get_nothing(const struct form_line *line, const void *element,
                        struct session *session, char *out, size_t size)
{
	(void)line, (void)element, (void)session;
	text_copy(out, size, "");
}

static void get_reading(const struct form_line *line, const void *element, struct session *session,
                        char *out, size_t size)
{
	const struct sheet_column *column = element;
	enum reading reading = (enum reading)line->which;

	reading_format(reading, visit_value(&session_call(session)->visit, column->stage, reading),
	               session_units(session), VALUE_FORM_SHEET, out, size);
}

static enum status set_reading(const struct form_line *line, void *element, const char *typed,
                               struct session *session, struct error *error)
{
	const struct sheet_column *column = element;

	return session_type(session, column->stage, (enum reading)line->which, typed, error);
}

static void add_field(struct sheet *sheet, enum field field)
{
	sheet->lines[sheet->count] = (struct form_line){
		.label = field_info(field)->label, .help = field_info(field)->help,
		.limit = field_info(field)->size - 1, .which = (int)field,
		.is_prose = field == FIELD_COMPLAINT || field == FIELD_ACCESS_NOTE, .get = get_field, .set = set_field,
	};
	sheet->rows[sheet->count++] = (struct sheet_row){ .is_field = true, .field = field };
}

static void add_words(struct form_line *line, const struct reading_info *info)
{
	int count = info->kind == KIND_CHOICE ? choice_count(info->choices) : 0;

	for (int i = 0; i < count && i < FORM_MOST_WORDS; i++)
		line->words[i] = choice_label((enum choice)((int)choice_first(info->choices) + i));
	if (info->kind == KIND_YES_NO) {
		line->words[0] = "yes";
		line->words[1] = "no";
	}
}

static void add_reading(struct sheet *sheet, enum reading reading)
{
	const struct reading_info *info = reading_info(reading);

	if (sheet->count == MOST_ROWS)
		return;
	struct form_line *line = &sheet->lines[sheet->count];
	*line = (struct form_line){
		.label = info->label, .help = info->help, .limit = VALUE_TEXT_SIZE - 1,
		.which = (int)reading, .is_measured = true, .get = get_reading, .set = set_reading,
	};
	add_words(line, info);
	sheet->rows[sheet->count++] = (struct sheet_row){ .reading = reading };
}

/* The words for what is folded: as many labels as have room. */
static void add_folded(struct sheet *sheet, const char *label)
{
	size_t length = strlen(sheet->folded_names);

	sheet->folded++;
	snprintf(sheet->folded_names + length, sizeof sheet->folded_names - length, "%s%s",
	         length ? ", " : "", label);
	text_trim_broken_utf8(sheet->folded_names);
}

/* The readings of a step, as they apply to this unit. */
static void add_step(const struct session *session, struct sheet *sheet, enum step step)
{
	const struct visit *visit = &session_call(session)->visit;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		/* What was taken stays in sight even where it does not apply any more. */
		bool shown = visit_applies(visit, STAGE_AS_FOUND, reading) ||
		             visit_has(visit, STAGE_AS_FOUND, reading) ||
		             visit_has(visit, STAGE_AS_LEFT, reading);
		if (reading_info(reading)->step != step || !shown)
			continue;
		if (!sheet->is_open && fold_hides(session, reading))
			add_folded(sheet, reading_info(reading)->label);
		else
			add_reading(sheet, reading);
	}
}

static void add_day(const struct session *session, struct sheet *sheet)
{
	for (size_t i = 0; i < sizeof day_fields / sizeof *day_fields; i++)
		if (sheet->is_open || *session_field(session, day_fields[i]))
			add_field(sheet, day_fields[i]);
		else
			add_folded(sheet, field_info(day_fields[i])->label);
}

static void gather_rows(struct workbook *workbook, struct sheet *sheet)
{
	enum step step = workbook_step(workbook);

	sheet->count = sheet->folded = 0;
	sheet->folded_names[0] = '\0';
	if (step == STEP_CALL) {
		for (size_t i = 0; i < sizeof call_fields / sizeof *call_fields; i++)
			add_field(sheet, call_fields[i]);
		for (size_t i = 0; i < sizeof call_readings / sizeof *call_readings; i++)
			add_reading(sheet, call_readings[i]);
		add_day(workbook_session(workbook), sheet);
	} else {
		add_step(workbook_session(workbook), sheet, step);
	}
	if (sheet->folded > 0 && sheet->count < MOST_ROWS) {
		sheet->lines[sheet->count] = (struct form_line){ .label = "", .get = get_nothing };
		sheet->rows[sheet->count++] = (struct sheet_row){ .is_fold = true };
	}
	if (sheet->at >= sheet->count)
		sheet->at = sheet->count - 1;
	sheet->kind = (struct form_kind){ .lines = sheet->lines, .count = sheet->count,
	                                  .size = sizeof(struct sheet_column), .kept = say_kept };
}

/* A row with one column only: texts, safety, the nameplate, the site. */
static bool is_single(const struct sheet_row *row)
{
	return row->is_field || row->is_fold || reading_info(row->reading)->scope != SCOPE_CALL ||
	       reading_info(row->reading)->step == STEP_SAFETY;
}

static enum stage stage_of(struct workbook *workbook, const struct sheet_row *row)
{
	return is_single(row) ? STAGE_AS_FOUND : workbook_stage(workbook);
}

static struct form_place place_at(struct sheet *sheet, int at, enum stage stage)
{
	/* Refused texts are told apart by their column and, where lines come and go, by their line. */
	static const struct sheet_column columns[STAGE_COUNT] = {
		[STAGE_AS_FOUND] = { STAGE_AS_FOUND }, [STAGE_AS_LEFT] = { STAGE_AS_LEFT },
	};
	static const struct uid names[STAGE_COUNT] = {
		[STAGE_AS_FOUND] = { "as found" }, [STAGE_AS_LEFT] = { "as left" },
	};

	return (struct form_place){ .kind = &sheet->kind, .element = &columns[stage],
	                            .uid = &names[stage], .line = at, .context = sheet };
}

static struct form_place place_here(struct workbook *workbook, struct sheet *sheet)
{
	return place_at(sheet, sheet->at, stage_of(workbook, &sheet->rows[sheet->at]));
}

/* Puts the cursor on the row of a reading, in the column that is being read. */
static void go_to_reading(struct workbook *workbook, struct sheet *sheet, enum reading reading)
{
	if (reading == READING_NONE)
		return;
	for (int turn = 0; turn < 2; turn++) {
		for (int i = 0; i < sheet->count; i++)
			if (!sheet->rows[i].is_field && sheet->rows[i].reading == reading) {
				sheet->at = i;
				return;
			}
		sheet->is_open = true;
		gather_rows(workbook, sheet);
	}
}

static void enter(struct workbook *workbook, void *state)
{
	struct sheet *sheet = state;
	const char *call = session_call(workbook_session(workbook))->uid.text;

	if (strcmp(sheet->call, call) != 0) {
		struct error error;
		sheet->has_last = session_last_visit(workbook_session(workbook), &sheet->last,
		                                     &sheet->last_at, &error) == STATUS_OK;
	}
	if (sheet->step != workbook_step(workbook) || strcmp(sheet->call, call) != 0) {
		sheet->at = sheet->top = 0;
		sheet->is_open = false;
		sheet->step = workbook_step(workbook);
		text_copy(sheet->call, sizeof sheet->call, call);
	}
	gather_rows(workbook, sheet);
	go_to_reading(workbook, sheet, workbook_take_target(workbook));
}

/* Nobody is held on a page: what is refused stays in its field. */
static void leave(struct workbook *workbook, void *state)
{
	struct form_place place = place_here(workbook, state);

	form_keep(workbook, &place);
}

/* ---- Keys ---- */

/* Goes to another row, unless what was written is refused: that is to be seen once. */
static void move(struct workbook *workbook, struct sheet *sheet, int by)
{
	struct form_place place = place_here(workbook, sheet);
	int to = sheet->at + by;

	if (form_keep(workbook, &place) && to >= 0 && to < sheet->count)
		sheet->at = to;
}

/* Behind Enter: the row below the one that was kept, wherever that stands now. */
static void move_on(struct workbook *workbook, struct sheet *sheet, const struct sheet_row *row)
{
	for (int i = 0; i < sheet->count; i++)
		if (sheet->rows[i].is_field == row->is_field && sheet->rows[i].field == row->field &&
		    sheet->rows[i].reading == row->reading && !sheet->rows[i].is_fold)
			sheet->at = i;
	move(workbook, sheet, 1);
}

static void go_to_stage(struct workbook *workbook, struct sheet *sheet, enum stage stage)
{
	struct form_place place = place_here(workbook, sheet);

	if (form_keep(workbook, &place))
		workbook_set_stage(workbook, stage);
}

static void take_same(struct workbook *workbook, struct sheet *sheet)
{
	struct session *session = workbook_session(workbook);
	const struct sheet_row *row = &sheet->rows[sheet->at];
	const struct value *value;
	struct error error;

	enum same_source source = session_same(session, row->reading, &value);
	if (session_take_same(session, row->reading, &error) != STATUS_OK) {
		workbook_refuse(workbook, &error);
		return;
	}
	workbook_say(workbook, INK_KEPT, source == SAME_CHARGE_LOG ? "as the charge log has it"
	             : "the same as found");
	move(workbook, sheet, 1);
}

static void take_all_same(struct workbook *workbook, struct sheet *sheet)
{
	struct error error;
	int count;

	if (session_take_all_same(workbook_session(workbook), sheet->step, &count, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	else if (count == 0)
		workbook_say(workbook, INK_REFUSED, "every reading of this sheet stands as left already, or was "
		             "not read as found");
	else
		workbook_say(workbook, INK_KEPT, "%d readings as left the same as found: check each, change "
		             "what changed", count);
	workbook_set_stage(workbook, STAGE_AS_LEFT);
}

/* A name or number that the book knows already: says so. */
static void offer_known(struct workbook *workbook)
{
	struct customer_line known;

	if (session_find_known(workbook_session(workbook), &known))
		workbook_say(workbook, INK_QUESTION, "The book knows %s, %s, %s. %s opens their page; Ctrl+N there "
		             "starts the call for their unit.", known.customer.name, known.customer.phone,
		             known.address, request_info(REQUEST_SHEET_KNOWN)->key);
}

static void open_known(struct workbook *workbook)
{
	struct customer_line known;

	if (!session_find_known(workbook_session(workbook), &known)) {
		workbook_say(workbook, INK_REFUSED, "no other customer of the book has this name or number");
		return;
	}
	workbook_set_customer(workbook, &known.customer.uid);
	workbook_go(workbook, SCREEN_CUSTOMER);
}

static void open_fold(struct workbook *workbook, struct sheet *sheet)
{
	sheet->is_open = !sheet->is_open;
	gather_rows(workbook, sheet);
}

static bool press_moving(struct workbook *workbook, struct sheet *sheet, enum request request)
{
	switch (request) {
	case REQUEST_SHEET_UP:
		move(workbook, sheet, -1);
		return true;
	case REQUEST_SHEET_DOWN:
		move(workbook, sheet, 1);
		return true;
	case REQUEST_SHEET_FIRST:
		move(workbook, sheet, -sheet->at);
		return true;
	case REQUEST_SHEET_LAST:
		move(workbook, sheet, sheet->count - 1 - sheet->at);
		return true;
	case REQUEST_SHEET_FOUND:
		go_to_stage(workbook, sheet, STAGE_AS_FOUND);
		return true;
	case REQUEST_SHEET_LEFT:
		go_to_stage(workbook, sheet, STAGE_AS_LEFT);
		return true;
	case REQUEST_SHEET_ALL_SAME:
		take_all_same(workbook, sheet);
		return true;
	case REQUEST_SHEET_KNOWN:
		open_known(workbook);
		return true;
	case REQUEST_SHEET_OPEN:
		open_fold(workbook, sheet);
		return true;
	default:
		return false;
	}
}

/* Whether "=" on this row takes a value instead of being typed. */
static bool takes_same(struct workbook *workbook, const struct sheet *sheet)
{
	return !is_single(&sheet->rows[sheet->at]) && workbook_stage(workbook) == STAGE_AS_LEFT &&
	       !form_is_writing(workbook);
}

static bool is_empty_yes_no(struct workbook *workbook, const struct sheet_row *row)
{
	return !row->is_field && reading_info(row->reading)->kind == KIND_YES_NO &&
	       !visit_has(&session_call(workbook_session(workbook))->visit, stage_of(workbook, row),
	                  row->reading);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct sheet *sheet = state;

	gather_rows(workbook, sheet);
	const struct sheet_row row = sheet->rows[sheet->at];
	struct form_place place = place_here(workbook, sheet);
	if (request == REQUEST_SHEET_SAME && takes_same(workbook, sheet)) {
		take_same(workbook, sheet);
		return true;
	}
	if (row.is_fold) {
		if (request == REQUEST_FIELD_NEXT)
			open_fold(workbook, sheet);
		return request == REQUEST_FIELD_NEXT || press_moving(workbook, sheet, request);
	}
	sheet->was_unsafe = !row.is_field &&
	                    session_warns_unsafe(workbook_session(workbook), row.reading);
	/* An empty yes or no: Space says yes and goes on, since most are yes. */
	bool is_yes = request == REQUEST_FIELD_WORD && is_empty_yes_no(workbook, &row) &&
	              !form_is_writing(workbook);
	enum form_answer answer = form_press(workbook, &place,
	                                     request == REQUEST_SHEET_SAME ? REQUEST_TYPE : request, key);
	gather_rows(workbook, sheet);
	if (answer == FORM_NEXT && row.is_field &&
	    (row.field == FIELD_CUSTOMER_NAME || row.field == FIELD_PHONE))
		offer_known(workbook);
	if (is_yes && answer == FORM_TAKEN)
		answer = FORM_NEXT;
	if (answer == FORM_NEXT && !workbook_follow(workbook))
		move_on(workbook, sheet, &row);
	return answer != FORM_IGNORED || press_moving(workbook, sheet, request);
}

/* ---- Drawing ---- */

static void draw_kept(struct canvas *canvas, struct area area, int row, int column, wall_time at)
{
	char hour[CLOCK_TEXT_SIZE];

	clock_format_hour(at, hour, sizeof hour);
	canvas_put(canvas, area, row, column, INK_KEPT, hour);
}

static void draw_field(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                       int index)
{
	struct form_place place = place_at(sheet, index, STAGE_AS_FOUND);
	struct layout layout = layout_of(&area);
	int width = area.columns - layout.found - 4;
	bool here = index == sheet->at;

	form_draw(workbook, &place, area, row, layout.found, width, here);
	canvas_put(workbook_canvas(workbook), area, row, layout.found + width + 1, INK_REFUSED,
	           form_mark(workbook, &place, here));
}

static void draw_value(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                       int index, enum stage stage)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct session *session = workbook_session(workbook);
	enum reading reading = sheet->rows[index].reading;
	const struct value *value = visit_value(&session_call(session)->visit, stage, reading);
	struct form_place place = place_at(sheet, index, stage);
	struct layout layout = layout_of(&area);
	int column = stage == STAGE_AS_FOUND ? layout.found : layout.left;
	bool here = index == sheet->at && stage == stage_of(workbook, &sheet->rows[index]);
	const char *mark = form_mark(workbook, &place, here);
	char shown[VALUE_TEXT_SIZE + 16];

	form_draw(workbook, &place, area, row, column, layout.cell, here);
	if (*mark) {
		canvas_put(canvas, area, row, column + layout.cell + 1, INK_UNKEPT, mark);
		return;
	}
	if (value->state == VALUE_NOT_TAKEN)
		return;
	reading_format(reading, value, session_units(session), VALUE_FORM_WITH_UNIT, shown, sizeof shown);
	if (value->doubtful)
		snprintf(shown + strlen(shown), sizeof shown - strlen(shown), " ?");
	canvas_put_padded(canvas, area, row, column, layout.cell,
	                  (value->doubtful ? INK_QUESTION : INK_FIELD) | (here ? STYLE_REVERSE : 0),
	                  shown);
	draw_kept(canvas, area, row, column + layout.cell + 1, value->taken_at);
}

static void draw_fold(struct workbook *workbook, struct sheet *sheet, struct area area, int row,
                      bool here)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char words[FOLDED_SIZE + 32];

	snprintf(words, sizeof words, "… %d more: %s", sheet->folded, sheet->folded_names);
	text_trim_broken_utf8(words);
	canvas_put_padded(canvas, area, row, LABEL_COLUMN, area.columns - LABEL_COLUMN - 1,
	                  INK_FAINT | (here ? STYLE_REVERSE : 0), words);
	if (here)
		workbook_hint(workbook, "Enter shows the rows that this call hardly needs.");
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

	canvas_put(canvas, area_columns(area, 0, layout_of(&area).found - 1), row, LABEL_COLUMN, ink,
	           label);
	workbook_hot(workbook, area, row, 0, layout_of(&area).left - 1, 2 * index);
	workbook_hot(workbook, area, row, layout_of(&area).left, area.columns - layout_of(&area).left,
	             2 * index + 1);
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
	bool two = sheet->count > 0 && !is_single(&sheet->rows[0]) && sheet->step != STEP_CALL;

	int column = canvas_put(canvas, area, 0, LABEL_COLUMN, INK_TITLE, info->label);
	if (!two) {
		canvas_format(canvas, area, 0, column, INK_FAINT, " — %s", info->purpose);
		return;
	}
	struct layout layout = layout_of(&area);
	canvas_put(canvas, area, 0, layout.found, workbook_stage(workbook) == STAGE_AS_FOUND
	           ? INK_STRONG : INK_FAINT, "as found");
	canvas_put(canvas, area, 0, layout.left, workbook_stage(workbook) == STAGE_AS_LEFT
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

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct sheet *sheet = state;
	struct canvas *canvas = workbook_canvas(workbook);
	bool wide = area.columns >= WIDE_COLUMNS;
	struct area page = wide ? area_columns(area, 0, SHEET_COLUMNS) : area;

	gather_rows(workbook, sheet);
	draw_heading(workbook, sheet, page);
	int most = area.rows >= TALL_ROWS ? 8 : area.rows >= SHORT_ROWS ? 3 : 2;
	int used = 1 + cautions_draw(workbook, area_rows(page, 1, page.rows - 1), most);
	int room = page.rows - used;
	/* Who and where say little in the margin; readings say much. */
	int below = sheet->step <= STEP_SYSTEM ? CALL_MARGIN_ROWS : MARGIN_ROWS;
	int rows = wide || sheet->count < room - below ? sheet->count : room - below;
	if (rows > room)
		rows = room;
	draw_rows(workbook, sheet, area_rows(page, used, rows));
	const struct sheet_row *row = &sheet->rows[sheet->at];
	struct area margin = wide ? area_columns(area, SHEET_COLUMNS + 2, area.columns - SHEET_COLUMNS - 2)
	                          : area_rows(area, used + rows + 1, area.rows - used - rows - 1);
	if (wide)
		canvas_rule_down(canvas, area, 0, SHEET_COLUMNS, area.rows, INK_RULE);
	else
		canvas_rule(canvas, area, used + rows, 0, area.columns, INK_RULE);
	struct margin_last last = { sheet->has_last ? &sheet->last : NULL, sheet->last_at };
	margin_draw(workbook_session(workbook), canvas, margin, sheet->step, stage_of(workbook, row),
	            row->is_field ? READING_NONE : row->reading, workbook_margin(workbook), &last);
}

/* A click goes to the field; on the line of the folded rows it opens them. */
static void click(struct workbook *workbook, void *state, int which)
{
	struct sheet *sheet = state;
	struct form_place place = place_here(workbook, sheet);

	if (!form_keep(workbook, &place) || which / 2 >= sheet->count)
		return;
	sheet->at = which / 2;
	if (sheet->rows[sheet->at].is_fold)
		open_fold(workbook, sheet);
	else
		workbook_set_stage(workbook, which % 2 ? STAGE_AS_LEFT : STAGE_AS_FOUND);
}

const struct screen screen_sheet = {
	.place = PLACE_SHEET, .state_size = sizeof(struct sheet),
	.enter = enter, .draw = draw, .press = press, .leave = leave, .click = click,
};
