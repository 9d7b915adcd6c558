/*
 * Work done: the charge log, the lines of the work, and the money, on one page.
 *
 * Each part is a table whose last line is always empty: writing in it makes a
 * new one.  Where the page is short the part under the cursor has the room.
 */
#include "tui/work.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/model/money.h>
#include <padside/base/number.h>
#include <padside/app/papers.h>
#include <padside/base/text.h>

#include "tui/cautions.h"

enum {
	MOST_PICKS = 5, MOST_SUMS = 6, AMOUNT_COLUMNS = 10, WIDE_COLUMNS = 110, SUM_COLUMN = 54,
	CAUTION_ROWS = 2, LEAST_ROWS = 3, MONEY_ROWS = (MONEY_LINE_COUNT + 1) / 2
};

enum part { PART_CHARGE, PART_WORK, PART_MONEY, PART_COUNT };

struct work {
	struct form form;                     /* what is being written */
	enum part part;                       /* under the cursor */
	int row[PART_COUNT];                  /* in each part: the line; the number of them: a new one */
	int column[PART_COUNT];               /* and the column */
	struct charge_entry blank_charge;     /* what the new entry begins as, with its uid */
	struct price_item picks[MOST_PICKS];  /* found for the description being written */
	int pick_count;                       /* of them */
	int picked;                           /* the chosen one; -1: none, the text is taken as typed */
	char currency[16];                    /* of the book */
	struct uid call;                      /* whose page that is */
};

/* ---- Where one is ---- */

static const struct call *call_of(struct workbook *workbook)
{
	return session_call(workbook_session(workbook));
}

/* Lines of a part, the empty one included. */
static int rows_of(struct workbook *workbook, enum part part)
{
	const struct call *call = call_of(workbook);

	return part == PART_CHARGE ? (int)call->charge_count + 1
	     : part == PART_WORK ? (int)call->work_count + 1 : MONEY_LINE_COUNT;
}

static int columns_of(enum part part)
{
	return part == PART_CHARGE ? CHARGE_COLUMN_COUNT : part == PART_WORK ? WORK_COLUMN_COUNT : 1;
}

static struct form_place place_at(struct workbook *workbook, const struct work *work,
                                  enum part part, int row, int column)
{
	const struct call *call = call_of(workbook);
	bool is_fresh = part != PART_MONEY && row >= rows_of(workbook, part) - 1;

	if (part == PART_CHARGE)
		return (struct form_place){ .kind = &work_charge_kind, .line = column, .is_fresh = is_fresh,
			.element = is_fresh ? &work->blank_charge : &call->charge[row] };
	if (part == PART_WORK)
		return (struct form_place){ .kind = &work_line_kind, .line = column, .is_fresh = is_fresh,
			.element = is_fresh ? &work_blank_line : &call->work[row] };
	return (struct form_place){ .kind = &work_money_kind, .element = &call->billing, .line = row };
}

static struct form_place place_here(struct workbook *workbook, const struct work *work)
{
	return place_at(workbook, work, work->part, work->row[work->part], work->column[work->part]);
}

/* After a change from outside: the cursor stays on something. */
static void hold(struct workbook *workbook, struct work *work)
{
	for (int part = 0; part < PART_COUNT; part++)
		if (work->row[part] >= rows_of(workbook, (enum part)part))
			work->row[part] = rows_of(workbook, (enum part)part) - 1;
}

static void renew_blank(struct work *work)
{
	work->blank_charge = work_blank_charge;
	work->blank_charge.uid = uid_new();
}

static void enter(struct workbook *workbook, void *state)
{
	struct work *work = state;
	struct session *session = workbook_session(workbook);
	struct error error;

	work->form.writing = false;
	work->pick_count = 0;
	work->picked = -1;
	renew_blank(work);
	if (papers_currency(session_store(session), work->currency, sizeof work->currency, &error) !=
	    STATUS_OK)
		workbook_refuse(workbook, &error);
	/* On another call one goes on with the next line of each part. */
	if (strcmp(work->call.text, call_of(workbook)->uid.text) != 0) {
		work->call = call_of(workbook)->uid;
		work->part = PART_CHARGE;
		memset(work->column, 0, sizeof work->column);
		for (int part = 0; part < PART_MONEY; part++)
			work->row[part] = rows_of(workbook, (enum part)part) - 1;
		work->row[PART_MONEY] = 0;
	}
	hold(workbook, work);
}

/* ---- Keeping ---- */

/* The charge log is in time order: the cursor follows the entry that was written in. */
static void follow_charge(struct workbook *workbook, struct work *work, const struct uid *uid)
{
	const struct call *call = call_of(workbook);

	for (size_t i = 0; i < call->charge_count; i++)
		if (strcmp(call->charge[i].uid.text, uid->text) == 0)
			work->row[PART_CHARGE] = (int)i;
	if (call->charge_count > 0 && strcmp(uid->text, work->blank_charge.uid.text) == 0 &&
	    work->row[PART_CHARGE] < (int)call->charge_count)
		renew_blank(work);
}

static bool leave(struct workbook *workbook, void *state)
{
	struct work *work = state;

	hold(workbook, work);
	struct form_place place = place_here(workbook, work);
	struct uid uid = { .text = "" };
	if (work->part == PART_CHARGE)
		uid = ((const struct charge_entry *)place.element)->uid;
	work->pick_count = 0;
	if (!form_keep(workbook, &work->form, &place))
		return false;
	if (work->part == PART_CHARGE)
		follow_charge(workbook, work, &uid);
	return true;
}

/* ---- The price list ---- */

static bool take_price(const struct price_item *item, void *context)
{
	struct work *work = context;

	work->picks[work->pick_count++] = *item;
	return work->pick_count < MOST_PICKS;
}

static bool is_describing(const struct work *work)
{
	return work->form.writing && work->part == PART_WORK &&
	       work->column[PART_WORK] == WORK_COLUMN_DESCRIPTION;
}

/* Looks in the price list for what is being written. */
static void look(struct workbook *workbook, struct work *work)
{
	const char *typed = edit_get(&work->form.edit);
	struct error error;

	work->pick_count = 0;
	work->picked = -1;
	if (!is_describing(work) || !*typed)
		return;
	if (store_prices_find(session_store(workbook_session(workbook)), typed, MOST_PICKS, take_price,
	                      work, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
}

/* Takes the picked price: kind, words and price at once. */
static void take_pick(struct workbook *workbook, struct work *work)
{
	const struct price_item *item = &work->picks[work->picked];
	struct form_place place = place_here(workbook, work);
	struct work_line line = *(const struct work_line *)place.element;
	struct error error;

	line.kind = item->kind;
	line.unit_price = item->unit_price;
	text_copy(line.description, sizeof line.description, item->description);
	if (session_put_work(workbook_session(workbook), &line, &error) != STATUS_OK) {
		workbook_refuse(workbook, &error);
		return;
	}
	work->form.writing = false;
	work->pick_count = 0;
	work->column[PART_WORK] = WORK_COLUMN_QUANTITY;
}

/* Down and Up go through what was found, Enter takes it; false for all other keys. */
static bool press_picking(struct workbook *workbook, struct work *work, struct key key)
{
	if (!is_describing(work) || work->pick_count == 0)
		return false;
	if (key.press == PRESS_DOWN && work->picked + 1 < work->pick_count) {
		work->picked++;
		return true;
	}
	if (key.press == PRESS_UP && work->picked >= 0) {
		work->picked--;
		return true;
	}
	if (key.press == PRESS_ENTER && work->picked >= 0) {
		take_pick(workbook, work);
		return true;
	}
	return key.press == PRESS_DOWN;
}

/* ---- Keys ---- */

static void go_part(struct workbook *workbook, struct work *work, int by)
{
	if (leave(workbook, work))
		work->part = (enum part)(((int)work->part + PART_COUNT + by) % PART_COUNT);
}

/* Up and down also lead from part to part: it is one page. */
static void move_row(struct workbook *workbook, struct work *work, int by)
{
	if (!leave(workbook, work))
		return;
	int row = work->row[work->part] + by;
	if (row >= 0 && row < rows_of(workbook, work->part)) {
		work->row[work->part] = row;
	} else if (by < 0 && work->part > 0) {
		work->part--;
		work->row[work->part] = rows_of(workbook, work->part) - 1;
	} else if (by > 0 && work->part + 1 < PART_COUNT) {
		work->part++;
		work->row[work->part] = 0;
	}
}

static void move_column(struct workbook *workbook, struct work *work, int by)
{
	if (!leave(workbook, work))
		return;
	if (work->part == PART_MONEY) {
		int row = work->row[PART_MONEY] + by * MONEY_ROWS;
		if (row >= 0 && row < MONEY_LINE_COUNT)
			work->row[PART_MONEY] = row;
		return;
	}
	int column = work->column[work->part] + by;
	if (column >= 0 && column < columns_of(work->part))
		work->column[work->part] = column;
}

/* Behind Enter: the next column, and behind the last one the next line. */
static void go_on(struct workbook *workbook, struct work *work)
{
	if (work->column[work->part] + 1 < columns_of(work->part)) {
		work->column[work->part]++;
		return;
	}
	work->column[work->part] = 0;
	if (work->row[work->part] + 1 < rows_of(workbook, work->part))
		work->row[work->part]++;
}

static void take_out(struct workbook *workbook, struct work *work)
{
	struct session *session = workbook_session(workbook);
	struct form_place place = place_here(workbook, work);
	size_t row = (size_t)work->row[work->part];
	struct error error;

	work->form.writing = false;
	if (work->part == PART_MONEY || place.is_fresh)
		return;
	enum status status = work->part == PART_CHARGE ? session_remove_charge(session, row, &error)
	                                               : session_remove_work(session, row, &error);
	if (status == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "the line was taken out; Ctrl+/ brings it back");
	else
		workbook_refuse(workbook, &error);
}

static void go_to_new(struct workbook *workbook, struct work *work)
{
	if (work->part == PART_MONEY || !leave(workbook, work))
		return;
	work->row[work->part] = rows_of(workbook, work->part) - 1;
	work->column[work->part] = 0;
}

static bool press_moving(struct workbook *workbook, struct work *work, struct key key)
{
	switch (key.press) {
	case PRESS_TAB:
	case PRESS_BACK_TAB:
		go_part(workbook, work, key.press == PRESS_TAB ? 1 : -1);
		return true;
	case PRESS_UP:
	case PRESS_DOWN:
		move_row(workbook, work, key.press == PRESS_UP ? -1 : 1);
		return true;
	case PRESS_LEFT:
	case PRESS_RIGHT:
		move_column(workbook, work, key.press == PRESS_LEFT ? -1 : 1);
		return true;
	case PRESS_HOME:
	case PRESS_END:
		if (leave(workbook, work))
			work->column[work->part] = key.press == PRESS_HOME ? 0 : columns_of(work->part) - 1;
		return true;
	default:
		return false;
	}
}

static bool press_line(struct workbook *workbook, struct work *work, struct key key)
{
	struct form_place place = place_here(workbook, work);
	struct uid uid = { .text = "" };

	if (work->part == PART_CHARGE)
		uid = ((const struct charge_entry *)place.element)->uid;
	enum form_answer answer = form_press(workbook, &work->form, &place, key);
	if (answer != FORM_IGNORED && work->part == PART_CHARGE && !work->form.writing)
		follow_charge(workbook, work, &uid);
	if (answer == FORM_NEXT)
		go_on(workbook, work);
	if (answer != FORM_IGNORED)
		look(workbook, work);
	return answer != FORM_IGNORED || press_moving(workbook, work, key);
}

static bool press(struct workbook *workbook, void *state, struct key key)
{
	struct work *work = state;

	hold(workbook, work);
	if (press_picking(workbook, work, key))
		return true;
	switch (request_from_key(key, PLACE_WORK, false)) {
	case REQUEST_WORK_NEW:
		go_to_new(workbook, work);
		return true;
	case REQUEST_WORK_OUT:
		take_out(workbook, work);
		return true;
	default:
		return press_line(workbook, work, key);
	}
}

/* ---- Drawing: tables ---- */

/* Where a column of a table stands. */
struct slot {
	int field;        /* which line of the form; -1: the program's own arithmetic */
	const char *head; /* above it */
	int width;        /* columns; 0: what is left */
};

static const struct slot charge_slots[] = {
	{ CHARGE_COLUMN_AT, "time", 5 }, { CHARGE_COLUMN_ADDED, "added", 6 },
	{ CHARGE_COLUMN_RECOVERED, "recov.", 6 }, { CHARGE_COLUMN_CYLINDER, "cylinder", 8 },
	{ CHARGE_COLUMN_READINGS + CHARGE_SUCTION_PRESSURE, "suction", 7 },
	{ CHARGE_COLUMN_READINGS + CHARGE_SUCTION_LINE_TEMP, "line", 6 },
	{ CHARGE_COLUMN_READINGS + CHARGE_LIQUID_PRESSURE, "liquid", 7 },
	{ CHARGE_COLUMN_READINGS + CHARGE_LIQUID_LINE_TEMP, "line", 6 },
	{ CHARGE_COLUMN_READINGS + CHARGE_OUTDOOR_DB, "outdoor", 7 },
	{ CHARGE_COLUMN_READINGS + CHARGE_RETURN_WB, "wet b.", 6 },
};
enum { CHARGE_SLOTS = sizeof charge_slots / sizeof *charge_slots };

static const struct slot work_slots[] = {
	{ WORK_COLUMN_KIND, "kind", 11 }, { WORK_COLUMN_DESCRIPTION, "what", 0 },
	{ WORK_COLUMN_QUANTITY, "quantity", 8 }, { WORK_COLUMN_PRICE, "each", 9 },
	{ WORK_COLUMN_CHARGED, "", 7 },
};
enum { WORK_SLOTS = sizeof work_slots / sizeof *work_slots };

static int width_of(const struct slot *slot, const struct area *area)
{
	int fixed = 1;

	if (slot->width)
		return slot->width;
	for (int i = 0; i < WORK_SLOTS; i++)
		fixed += work_slots[i].width + 1;
	return area->columns - fixed - AMOUNT_COLUMNS - 1;
}

static bool is_here(const struct work *work, enum part part, int row, int field)
{
	return work->part == part && work->row[part] == row && work->column[part] == field;
}

/* Draws one line of a table and returns the column behind it. */
static int draw_slots(struct workbook *workbook, struct work *work, enum part part,
                      struct area area, int at, int row, const struct slot *slots, int count)
{
	int column = 1;

	for (int i = 0; i < count; i++) {
		struct form_place place = place_at(workbook, work, part, row, slots[i].field);
		int width = width_of(&slots[i], &area);
		form_draw(workbook, &work->form, &place, area, at, column, width,
		          is_here(work, part, row, slots[i].field));
		column += width + 1;
	}
	return column;
}

static void draw_heads(struct workbook *workbook, enum part part, struct area area, int at,
                       const struct slot *slots, int count)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct form_kind *kind = part == PART_CHARGE ? &work_charge_kind : &work_line_kind;
	int column = 1;

	for (int i = 0; i < count; i++) {
		int width = width_of(&slots[i], &area);
		if (kind->lines[slots[i].field].is_number)
			canvas_put_right(canvas, area, at, column, width, INK_FAINT, slots[i].head);
		else
			canvas_put_padded(canvas, area, at, column, width, INK_FAINT, slots[i].head);
		column += width + 1;
	}
	if (part == PART_WORK)
		canvas_put_right(canvas, area, at, column, AMOUNT_COLUMNS, INK_FAINT, "amount");
}

/* What stands before a line: kept, being written, refused. */
static void draw_mark(struct workbook *workbook, const struct work *work, enum part part,
                      struct area area, int at, int row)
{
	struct canvas *canvas = workbook_canvas(workbook);
	bool is_fresh = row >= rows_of(workbook, part) - 1;
	bool writing = work->form.writing && work->part == part && work->row[part] == row;

	if (writing)
		canvas_put(canvas, area, at, 0, INK_UNKEPT, work->form.refused ? "!" : "…");
	else
		canvas_put(canvas, area, at, 0, is_fresh ? INK_FAINT : INK_KEPT, is_fresh ? "+" : "✓");
}

/* The first line in sight of a table of `rows` lines. */
static int first_in_sight(struct workbook *workbook, const struct work *work, enum part part,
                          int rows)
{
	int count = rows_of(workbook, part), row = work->row[part];
	int first = work->part == part ? row - rows + 1 : count - 1 - rows;

	if (first + rows > count)
		first = count - rows;
	return first > 0 ? first : 0;
}

/* A text that has no column: a line of its own below the table. */
static void draw_note(struct workbook *workbook, struct work *work, enum part part,
                      struct area area, int at, int field)
{
	int row = work->row[part];
	struct form_place place = place_at(workbook, work, part, row, field);
	struct canvas *canvas = workbook_canvas(workbook);
	bool here = is_here(work, part, row, field);
	int column = canvas_put(canvas, area, at, 1, here ? INK_STRONG : INK_FAINT,
	                        form_line_at(&place)->label) + 1;

	form_draw(workbook, &work->form, &place, area, at, column, area.columns - column - 1, here);
}

/* ---- Drawing: charge log ---- */

static void draw_figure(struct workbook *workbook, const struct charge_entry *entry,
                        struct area area, int at, int column, int width, enum figure figure)
{
	struct session *session = workbook_session(workbook);
	enum stage stage = session_stage(session);
	bool by_suction = figure == FIGURE_SUPERHEAT;
	struct visit visit;
	char shown[64];

	if (entry->values[by_suction ? CHARGE_SUCTION_PRESSURE : CHARGE_LIQUID_PRESSURE].state ==
	    VALUE_NOT_TAKEN)
		return;
	charging_visit(call_of(workbook), stage, entry, &visit);
	struct figure_value value = figure_evaluate(&visit, stage, figure);
	if (value.status != STATUS_OK)
		return;
	figure_format(figure, value.value, session_units(session), VALUE_FORM_SHEET, shown,
	              sizeof shown);
	canvas_put_right(workbook_canvas(workbook), area, at, column, width, INK_MARGIN, shown);
}

/* Superheat on an orifice, subcooling behind a valve; a wide page has both. */
static void draw_figures(struct workbook *workbook, const struct charge_entry *entry,
                         struct area area, int at, int column)
{
	struct canvas *canvas = workbook_canvas(workbook);
	struct charging charging;

	session_charging(workbook_session(workbook), &charging);
	bool by_superheat = charging.mode == CHARGE_BY_SUPERHEAT;
	if (area.columns >= WIDE_COLUMNS) {
		if (!entry) {
			canvas_put_right(canvas, area, at, column, 10, INK_MARGIN, "superheat");
			canvas_put_right(canvas, area, at, column + 11, 11, INK_MARGIN, "subcooling");
			return;
		}
		draw_figure(workbook, entry, area, at, column, 10, FIGURE_SUPERHEAT);
		draw_figure(workbook, entry, area, at, column + 11, 11, FIGURE_SUBCOOLING);
	} else if (!entry) {
		canvas_put_right(canvas, area, at, column, 5, INK_MARGIN, by_superheat ? "sh" : "sc");
	} else {
		draw_figure(workbook, entry, area, at, column, 5,
		            by_superheat ? FIGURE_SUPERHEAT : FIGURE_SUBCOOLING);
	}
}

static int charge_columns(void)
{
	int column = 1;

	for (int i = 0; i < CHARGE_SLOTS; i++)
		column += charge_slots[i].width + 1;
	return column;
}

/* "added 8.5 oz in all" behind the heading. */
static void draw_moved(struct workbook *workbook, struct area area, int column)
{
	const struct call *call = call_of(workbook);
	enum unit_system units = session_units(workbook_session(workbook));
	enum unit shown = unit_shown(UNIT_OZ, units);
	int decimals = unit_decimals_shown(1, UNIT_OZ, units);
	double added = 0, recovered = 0;
	char in[NUMBER_SIZE], out[NUMBER_SIZE];

	for (size_t i = 0; i < call->charge_count; i++) {
		added += call->charge[i].added_oz;
		recovered += call->charge[i].recovered_oz;
	}
	number_format(unit_convert(added, UNIT_OZ, shown), decimals, in, sizeof in);
	number_format(unit_convert(recovered, UNIT_OZ, shown), decimals, out, sizeof out);
	canvas_format(workbook_canvas(workbook), area, 0, column, INK_MARGIN,
	              "   added %s %s, recovered %s %s in all", in, unit_symbol(shown, false), out,
	              unit_symbol(shown, false));
}

static void draw_charge(struct workbook *workbook, struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct call *call = call_of(workbook);
	struct charging charging;
	int column = canvas_put(canvas, area, 0, 1, INK_TITLE, "Charge log");

	draw_moved(workbook, area, column);
	session_charging(workbook_session(workbook), &charging);
	int advice = canvas_wrap_count(canvas, area.columns - 2, charging.words);
	bool active = work->part == PART_CHARGE;
	int rows = area.rows - 1 - (active ? 1 + 1 + advice : 1);
	draw_heads(workbook, PART_CHARGE, area, 1, charge_slots, CHARGE_SLOTS);
	draw_figures(workbook, NULL, area, 1, charge_columns());
	int first = first_in_sight(workbook, work, PART_CHARGE, rows), at = 2;
	for (int row = first; row < rows_of(workbook, PART_CHARGE) && row < first + rows; row++, at++) {
		draw_mark(workbook, work, PART_CHARGE, area, at, row);
		draw_slots(workbook, work, PART_CHARGE, area, at, row, charge_slots, CHARGE_SLOTS);
		if (row < (int)call->charge_count)
			draw_figures(workbook, &call->charge[row], area, at, charge_columns());
	}
	if (active) {
		draw_note(workbook, work, PART_CHARGE, area, at++, CHARGE_COLUMN_NOTE);
		canvas_wrap(canvas, area_rows(area, at, area.rows - at), 0, 1, INK_MARGIN, charging.words);
	}
}

/* ---- Drawing: work ---- */

static void draw_amount(struct workbook *workbook, struct area area, int at, int column, int row)
{
	const struct call *call = call_of(workbook);
	cents amount;
	char shown[MONEY_SIZE];

	if (row >= (int)call->work_count)
		return;
	bool whole = money_line_amount(&call->work[row], &amount) == STATUS_OK;
	money_format(call->work[row].no_charge ? 0 : amount, shown, sizeof shown);
	canvas_put_right(workbook_canvas(workbook), area, at, column, AMOUNT_COLUMNS,
	                 whole ? INK_MARGIN : INK_BAD, whole ? shown : "too large");
}

static void draw_picks(struct workbook *workbook, const struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char price[MONEY_SIZE];

	for (int i = 0; i < work->pick_count && i < area.rows; i++) {
		const struct price_item *item = &work->picks[i];
		unsigned style = i == work->picked ? INK_SELECTED : INK_MARGIN;
		canvas_fill(canvas, area_part(area, i, 3, 1, area.columns - 5), style, ' ');
		canvas_put_padded(canvas, area, i, 4, 12, style, item->code);
		canvas_put_padded(canvas, area, i, 17, area.columns - 17 - AMOUNT_COLUMNS - 4, style,
		                  item->description);
		money_format(item->unit_price, price, sizeof price);
		canvas_put_right(canvas, area, i, area.columns - AMOUNT_COLUMNS - 3, AMOUNT_COLUMNS, style,
		                 price);
	}
}

static void draw_work(struct workbook *workbook, struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	bool active = work->part == PART_WORK;
	int rows = area.rows - 1 - (active ? 1 + work->pick_count : 0);
	int first = first_in_sight(workbook, work, PART_WORK, rows), at = 1;

	draw_heads(workbook, PART_WORK, area, 0, work_slots, WORK_SLOTS);
	canvas_put_padded(canvas, area, 0, 1, work_slots[0].width, INK_TITLE, "Work");
	for (int row = first; row < rows_of(workbook, PART_WORK) && row < first + rows; row++, at++) {
		draw_mark(workbook, work, PART_WORK, area, at, row);
		int column = draw_slots(workbook, work, PART_WORK, area, at, row, work_slots, WORK_SLOTS);
		draw_amount(workbook, area, at, column, row);
	}
	if (active) {
		draw_picks(workbook, work, area_rows(area, at, work->pick_count));
		draw_note(workbook, work, PART_WORK, area, at + work->pick_count, WORK_COLUMN_NOTE);
	}
}

/* ---- Drawing: money ---- */

/* One line of what it comes to. */
struct sum {
	const char *label; /* what */
	cents amount;      /* how much */
	bool is_shown;     /* not left out */
};

static int sum_up(struct workbook *workbook, struct sum *sums)
{
	struct money_total total;

	if (money_total(call_of(workbook), &total) != STATUS_OK)
		return 0;
	const struct sum all[MOST_SUMS] = {
		{ "work", total.list, true }, { "discount", -total.discount, total.discount != 0 },
		{ "given free", total.given, total.given != 0 },
		{ "tax", total.tax, true },
		{ "paid already", -total.deposit, total.deposit != 0 }, { "to pay", total.balance, true },
	};
	int count = 0;
	for (int i = 0; i < MOST_SUMS; i++)
		if (all[i].is_shown)
			sums[count++] = all[i];
	return count;
}

/* "to pay $127.20 · work 120.00 · tax 7.20" in one line. */
static void draw_sums_in_line(struct workbook *workbook, const struct work *work, struct area area,
                              int column, const struct sum *sums, int count)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char shown[MONEY_SIZE];

	for (int i = 0; i < count; i++) {
		/* What is to pay stands last in the table; here it must not fall off the end. */
		const struct sum *sum = &sums[(i + count - 1) % count];
		money_format_currency(sum->amount, i == 0 ? work->currency : "", shown, sizeof shown);
		column = canvas_format(canvas, area, 0, column, INK_FAINT, "%s%s ", i ? " · " : "",
		                       sum->label);
		column = canvas_put(canvas, area, 0, column, i == 0 ? INK_STRONG : INK_MARGIN, shown);
	}
}

static void draw_sums(struct workbook *workbook, const struct work *work, struct area area,
                      const struct sum *sums, int count)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char shown[MONEY_SIZE];

	for (int i = 0; i < count; i++) {
		bool last = i + 1 == count;
		money_format_currency(sums[i].amount, last ? work->currency : "", shown, sizeof shown);
		canvas_put(canvas, area, i, SUM_COLUMN, last ? INK_STRONG : INK_FAINT, sums[i].label);
		canvas_put_right(canvas, area, i, SUM_COLUMN + 13, 12, last ? INK_STRONG : INK_MARGIN,
		                 shown);
	}
}

static void draw_money_lines(struct workbook *workbook, struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);

	for (int line = 0; line < MONEY_LINE_COUNT; line++) {
		struct form_place place = place_at(workbook, work, PART_MONEY, line, 0);
		bool here = is_here(work, PART_MONEY, line, 0);
		int row = line % MONEY_ROWS, column = line < MONEY_ROWS ? 1 : 26;
		int value = line < MONEY_ROWS ? 15 : 45;
		canvas_put(canvas, area, row, column, here ? INK_STRONG : INK_PLAIN,
		           form_line_at(&place)->label);
		form_draw(workbook, &work->form, &place, area, row, value, line < MONEY_ROWS ? 9 : 7, here);
	}
}

static void draw_money(struct workbook *workbook, struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	struct sum sums[MOST_SUMS];
	int count = sum_up(workbook, sums);
	int column = canvas_put(canvas, area, 0, 1, INK_TITLE, "Money");

	if (count == 0)
		canvas_put(canvas, area, 0, column + 3, INK_BAD, "these amounts are too large to add up");
	if (area.rows <= MONEY_ROWS || area.rows < count) {
		draw_sums_in_line(workbook, work, area, column + 3, sums, count);
		return;
	}
	draw_money_lines(workbook, work, area_rows(area, 1, MONEY_ROWS));
	draw_sums(workbook, work, area_rows(area, area.rows > count ? 1 : 0, area.rows), sums, count);
}

/* ---- Drawing: the page ---- */

/* Rows for each part: all of them where there is room, else the active one first. */
static void share_out(struct workbook *workbook, const struct work *work, int room, int *rows)
{
	bool active[PART_COUNT] = { false };
	struct sum sums[MOST_SUMS];
	int sum_rows = sum_up(workbook, sums);

	active[work->part] = true;
	const int wanted[PART_COUNT] = {
		[PART_CHARGE] = 2 + rows_of(workbook, PART_CHARGE) + (active[PART_CHARGE] ? 3 : 0) + 1,
		[PART_WORK] = 1 + rows_of(workbook,
		                          PART_WORK) + (active[PART_WORK] ? 1 + work->pick_count : 0) + 1,
		[PART_MONEY] = 1 + (sum_rows > MONEY_ROWS ? sum_rows : MONEY_ROWS),
	};
	for (int i = 0; i < PART_COUNT; i++) {
		rows[i] = i == PART_MONEY ? 1 : wanted[i] < LEAST_ROWS + 1 ? wanted[i] : LEAST_ROWS + 1;
		room -= rows[i];
	}
	for (int pass = 0; pass < 2; pass++)
		for (int i = 0; i < PART_COUNT; i++) {
			int more = wanted[i] - rows[i] < room ? wanted[i] - rows[i] : room;
			bool now = (pass == 0) == active[i];
			/* The money is drawn as lines or as one: half of them would hide what is to pay. */
			if (!now || more <= 0 || (i == PART_MONEY && !active[i] && rows[i] + more < wanted[i]))
				continue;
			rows[i] += more;
			room -= more;
		}
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct work *work = state;
	int rows[PART_COUNT];

	hold(workbook, work);
	int used = cautions_draw(workbook, area, area.rows > 30 ? 4 : CAUTION_ROWS);
	share_out(workbook, work, area.rows - used, rows);
	draw_charge(workbook, work, area_rows(area, used, rows[PART_CHARGE] - 1));
	used += rows[PART_CHARGE];
	draw_work(workbook, work, area_rows(area, used, rows[PART_WORK] - 1));
	used += rows[PART_WORK];
	draw_money(workbook, work, area_rows(area, used, rows[PART_MONEY]));
}

const struct screen screen_work = {
	.place = PLACE_WORK, .state_size = sizeof(struct work),
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
