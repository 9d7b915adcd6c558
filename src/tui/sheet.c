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

#include "tui/closed.h"
#include "tui/records.h"
#include "tui/sheet_page.h"

static struct form_place place_here(struct workbook *workbook, struct sheet *sheet)
{
	return sheet_place(sheet, sheet->at, sheet_stage(workbook, &sheet->rows[sheet->at]));
}

/* Puts the cursor on a row that was gone to; a folded one is opened. */
static void go_to_row(struct workbook *workbook, struct sheet *sheet, const struct sheet_row *row)
{
	for (int turn = 0; turn < 2; turn++) {
		if (sheet_find_row(sheet, row) >= 0) {
			sheet->at = sheet_find_row(sheet, row);
			return;
		}
		sheet->is_open = true;
		sheet_gather(workbook, sheet);
	}
}

static void go_to_target(struct workbook *workbook, struct sheet *sheet)
{
	enum reading reading = workbook_take_target(workbook);
	enum field field = workbook_take_target_field(workbook);

	if (reading != READING_NONE)
		go_to_row(workbook, sheet, &(struct sheet_row){ .reading = reading });
	if (field < FIELD_COUNT)
		go_to_row(workbook, sheet, &(struct sheet_row){ .is_field = true, .field = field });
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
	sheet_gather(workbook, sheet);
	go_to_target(workbook, sheet);
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
	if (sheet_find_row(sheet, row) >= 0)
		sheet->at = sheet_find_row(sheet, row);
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
	char left_alone[64] = "";
	int count, held;

	enum status status = session_take_all_same(workbook_session(workbook), sheet->step, &count,
	                                           &held, &error);
	if (held > 0)
		snprintf(left_alone, sizeof left_alone, "; left alone: %d text%s not kept", held,
		         held == 1 ? "" : "s");
	if (status != STATUS_OK)
		workbook_refuse(workbook, &error);
	else if (sheet->step == STEP_SAFETY)
		workbook_say(workbook, INK_REFUSED,
		             "what makes the unit safe is answered each time, never copied");
	else if (count == 0)
		workbook_say(workbook, INK_REFUSED, "every reading of this sheet has a value as left "
		             "already, or none as found%s", left_alone);
	else
		workbook_say(workbook, INK_KEPT,
		             "%d reading%s as left copied from as found, with the times there: "
		             "check each, type what you measure%s",
		             count, count == 1 ? "" : "s", left_alone);
	workbook_set_stage(workbook, STAGE_AS_LEFT);
}

/* A name or number that the book knows already: says so. */
static void offer_known(struct workbook *workbook)
{
	struct customer_line known;

	if (session_find_known(workbook_session(workbook), &known))
		workbook_say(workbook, INK_QUESTION,
		             "The book knows %s, %s, %s. %s opens their page: %s on a "
		             "unit takes this call there.",
		             known.customer.name, known.customer.phone, known.address,
		             request_info(REQUEST_SHEET_KNOWN)->key, request_info(REQUEST_LIST_PICK)->key);
}

static void open_known(struct workbook *workbook)
{
	struct customer_line known;

	if (!session_find_known(workbook_session(workbook), &known)) {
		workbook_say(workbook, INK_REFUSED,
		             "no other customer of the book has this name or number");
		return;
	}
	const char *who = session_call(workbook_session(workbook))->customer.name;
	struct record record = { .kind = RECORD_CALL,
	                         .uid = session_call(workbook_session(workbook))->uid };
	text_copy(record.words, sizeof record.words, *who ? who : "without a name");
	if (!record_is_taken(workbook))
		record_take(workbook, &record);
	workbook_set_customer(workbook, &known.customer.uid);
	workbook_go(workbook, SCREEN_CUSTOMER);
}

/* ---- A value in the wrong place ---- */

static void take_value(struct workbook *workbook, struct sheet *sheet, enum reading reading,
                       enum stage stage)
{
	const struct visit *visit = &session_call(workbook_session(workbook))->visit;

	if (!visit_has(visit, stage, reading)) {
		workbook_say(workbook, INK_REFUSED, "there is nothing here to move; put the cursor on a "
		             "value");
		return;
	}
	sheet->carried = reading;
	sheet->carried_from = stage;
	workbook_say(workbook, INK_MARGIN, "%s is picked up: %s again where it belongs, on any sheet "
	             "or in the other column", reading_info(reading)->label,
	             request_info(REQUEST_SHEET_CARRY)->key);
}

static void put_value(struct workbook *workbook, struct sheet *sheet, enum reading reading,
                      enum stage stage)
{
	enum reading from = sheet->carried;
	struct error error;

	sheet->carried = READING_NONE;
	if (from == reading && sheet->carried_from == stage)
		workbook_say(workbook, INK_MARGIN, "left where it is");
	else if (session_move_value(workbook_session(workbook), sheet->carried_from, from, stage,
	                            reading, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	else if (from == reading)
		workbook_say(workbook, INK_KEPT, "%s: moved from %s to %s; %s takes it back",
		             reading_info(from)->label, stage_words(sheet->carried_from),
		             stage_words(stage), request_info(REQUEST_UNDO)->key);
	else
		workbook_say(workbook, INK_KEPT, "moved from %s to %s; %s takes it back",
		             reading_info(from)->label, reading_info(reading)->label,
		             request_info(REQUEST_UNDO)->key);
}

static void carry_value(struct workbook *workbook, struct sheet *sheet)
{
	const struct sheet_row *row = &sheet->rows[sheet->at];

	if (row->is_field || row->is_fold)
		workbook_say(workbook, INK_REFUSED,
		             "a text stays in its field, only a reading can be moved: "
		             "write the text again where it belongs");
	else if (sheet->carried == READING_NONE)
		take_value(workbook, sheet, row->reading, sheet_stage(workbook, row));
	else
		put_value(workbook, sheet, row->reading, sheet_stage(workbook, row));
}

static void open_fold(struct workbook *workbook, struct sheet *sheet)
{
	sheet->is_open = !sheet->is_open;
	sheet_gather(workbook, sheet);
}

/* What may be said behind a value depends on how the unit stood before it. */
static void note_before(struct workbook *workbook, struct sheet *sheet)
{
	const struct sheet_row *row = &sheet->rows[sheet->at];
	const struct session *session = workbook_session(workbook);
	const enum stage stage = sheet_stage(workbook, row);

	bool is_read = !row->is_field && !row->is_fold;
	sheet->was_unsafe = is_read && session_warns_unsafe(session, row->reading);
	sheet->was_untested = is_read && session_warns_untested(session, stage, row->reading);
	sheet->was_corrected = is_read && visit_has(&session_call(session)->visit, stage, row->reading);
}

/* Whether the key for the same as found takes a value on this row instead of being typed. */
static bool takes_same(struct workbook *workbook, const struct sheet *sheet)
{
	return !sheet_is_single(&sheet->rows[sheet->at]) && workbook_stage(workbook) == STAGE_AS_LEFT &&
	       !form_is_writing(workbook);
}

/* The keys of the field under the cursor; the line of the folded rows has none. */
static bool press_row(struct workbook *workbook, struct sheet *sheet, enum request request,
                      struct key key)
{
	const struct sheet_row row = sheet->rows[sheet->at];
	struct form_place place = place_here(workbook, sheet);

	if (row.is_fold)
		return false;
	enum form_answer answer = form_press(workbook, &place, request, key);
	sheet_gather(workbook, sheet);
	if (answer == FORM_NEXT && row.is_field &&
	    (row.field == FIELD_CUSTOMER_NAME || row.field == FIELD_PHONE))
		offer_known(workbook);
	if (answer == FORM_NEXT && !workbook_follow(workbook))
		move_on(workbook, sheet, &row);
	return answer != FORM_IGNORED;
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct sheet *sheet = state;

	note_before(workbook, sheet);
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
	case REQUEST_SHEET_CARRY:
		carry_value(workbook, sheet);
		return true;
	case REQUEST_SHEET_OPEN:
	case REQUEST_FOLD_SHOW:
		open_fold(workbook, sheet);
		return true;
	case REQUEST_SHEET_SAME:
		if (!takes_same(workbook, sheet))
			return press_row(workbook, sheet, REQUEST_TYPE, key);
		if (closed_may_change(workbook))
			take_same(workbook, sheet);
		return true;
	default:
		return press_row(workbook, sheet, request, key);
	}
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	sheet_draw(workbook, state, area);
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

/* A row with one value has no other column to go to. */
static enum request_place where(const void *state)
{
	const struct sheet *sheet = state;
	const struct sheet_row *row = &sheet->rows[sheet->at];

	return row->is_fold ? PLACE_FOLD : sheet_is_single(row) ? PLACE_SHEET : PLACE_COLUMNS;
}

static enum request_place inner(struct workbook *workbook, void *state)
{
	struct sheet *sheet = state;

	/* What was written since may have brought rows, or folded them. */
	sheet_gather(workbook, sheet);
	struct form_place place = place_here(workbook, sheet);
	return sheet->rows[sheet->at].is_fold ? PLACE_COUNT : form_where(workbook, &place);
}

const struct screen screen_sheet = {
	.place = PLACE_SHEET, .state_size = sizeof(struct sheet), .where = where, .inner = inner,
	.enter = enter, .draw = draw, .press = press, .leave = leave, .click = click,
};
