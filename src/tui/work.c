/*
 * Work done: the charge log, the lines of the work, and the money, on one page.
 *
 * Each part is a table whose last line is always empty: writing in it makes a
 * new one.  Where the page is short the part under the cursor has the room.
 */
#include "tui/work_page.h"

#include <string.h>

#include <padside/app/session_same.h>
#include <padside/base/text.h>
#include <padside/model/money.h>

#include "tui/cautions.h"
#include "tui/closed.h"

enum { CAUTION_ROWS = 2, LEAST_ROWS = 3 };

/* ---- Where one is ---- */

static int columns_of(enum work_part part)
{
	return part == PART_CHARGE ? CHARGE_COLUMN_COUNT : part == PART_WORK ? WORK_COLUMN_COUNT : 1;
}

/*
 * Where one begins to write: the time is now unless one goes to it, and the
 * price list brings the kind.
 */
static int first_column(enum work_part part)
{
	return part == PART_CHARGE ? CHARGE_COLUMN_ADDED
	     : part == PART_WORK ? WORK_COLUMN_DESCRIPTION : 0;
}

static struct form_place place_here(struct workbook *workbook, const struct work *work)
{
	return work_place(workbook, work, work->part, work->row[work->part], work->column[work->part]);
}

/* After a change from outside: the cursor stays on something. */
static void hold(struct workbook *workbook, struct work *work)
{
	for (int part = 0; part < PART_COUNT; part++)
		if (work->row[part] >= work_rows(workbook, (enum work_part)part))
			work->row[part] = work_rows(workbook, (enum work_part)part) - 1;
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

	work->pick_count = 0;
	work->picked = -1;
	renew_blank(work);
	if (session_currency(session, work->currency, sizeof work->currency, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	/* On another call one goes on with the next line of each part. */
	if (strcmp(work->call.text, work_call(workbook)->uid.text) != 0) {
		work->call = work_call(workbook)->uid;
		work->part = PART_CHARGE;
		for (int part = 0; part < PART_COUNT; part++)
			work->column[part] = first_column((enum work_part)part);
		for (int part = 0; part < PART_MONEY; part++)
			work->row[part] = work_rows(workbook, (enum work_part)part) - 1;
		work->row[PART_MONEY] = 0;
	}
	hold(workbook, work);
}

/* ---- Keeping ---- */

/* The charge log is in time order: the cursor follows the entry that was written in. */
static void follow_charge(struct workbook *workbook, struct work *work, const struct uid *uid)
{
	const struct call *call = work_call(workbook);

	for (size_t i = 0; i < call->charge_count; i++)
		if (strcmp(call->charge[i].uid.text, uid->text) == 0)
			work->row[PART_CHARGE] = (int)i;
	if (call->charge_count > 0 && strcmp(uid->text, work->blank_charge.uid.text) == 0 &&
	    work->row[PART_CHARGE] < (int)call->charge_count)
		renew_blank(work);
}

/* Keeps what is being written; false when it was refused, which holds the cursor once. */
static bool keep(struct workbook *workbook, struct work *work)
{
	hold(workbook, work);
	struct form_place place = place_here(workbook, work);
	struct uid uid = { .text = "" };
	if (work->part == PART_CHARGE)
		uid = *place.uid;
	work->pick_count = 0;
	bool is_kept = form_keep(workbook, &place);
	if (work->part == PART_CHARGE)
		follow_charge(workbook, work, &uid);
	return is_kept;
}

static void leave(struct workbook *workbook, void *state)
{
	keep(workbook, state);
}

/* ---- The price list ---- */

static bool is_on_description(const struct work *work)
{
	return work->part == PART_WORK && work->column[PART_WORK] == WORK_COLUMN_DESCRIPTION;
}

/* Looks in the price list for what is being written. */
static void look(struct workbook *workbook, struct work *work)
{
	struct error error;

	work->pick_count = 0;
	work->picked = -1;
	if (!form_is_writing(workbook) || !is_on_description(work) || !*form_text(workbook))
		return;
	if (session_find_prices(workbook_session(workbook), form_text(workbook), work->picks,
	                        WORK_MOST_PICKS, &work->pick_count, &error) != STATUS_OK)
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
	form_drop(workbook);
	work->pick_count = 0;
	work->column[PART_WORK] = WORK_COLUMN_QUANTITY;
}

/* Takes the picked price; false where none is picked. */
static bool take_price(struct workbook *workbook, struct work *work)
{
	/* A code typed whole needs no picking. */
	for (int i = 0; i < work->pick_count && work->picked < 0; i++)
		if (text_equal_ignoring_case(work->picks[i].code, form_text(workbook)))
			work->picked = i;
	if (work->picked >= 0)
		take_pick(workbook, work);
	return work->picked >= 0;
}

/* ---- Keys ---- */

static void go_part(struct workbook *workbook, struct work *work, int by)
{
	if (keep(workbook, work))
		work->part = (enum work_part)(((int)work->part + PART_COUNT + by) % PART_COUNT);
}

/* Up and down also lead from part to part: it is one page. */
static void move_row(struct workbook *workbook, struct work *work, int by)
{
	if (!keep(workbook, work))
		return;
	int row = work->row[work->part] + by;
	if (row >= 0 && row < work_rows(workbook, work->part)) {
		work->row[work->part] = row;
	} else if (by < 0 && work->part > 0) {
		work->part--;
		work->row[work->part] = work_rows(workbook, work->part) - 1;
	} else if (by > 0 && work->part + 1 < PART_COUNT) {
		work->part++;
		work->row[work->part] = 0;
	}
}

static void move_column(struct workbook *workbook, struct work *work, int by)
{
	if (!keep(workbook, work))
		return;
	if (work->part == PART_MONEY) {
		int row = work->row[PART_MONEY] + by * WORK_MONEY_ROWS;
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
	work->column[work->part] = first_column(work->part);
	if (work->row[work->part] + 1 < work_rows(workbook, work->part))
		work->row[work->part]++;
}

static void take_out(struct workbook *workbook, struct work *work)
{
	struct session *session = workbook_session(workbook);
	struct form_place place = place_here(workbook, work);
	size_t row = (size_t)work->row[work->part];
	struct error error;

	if (work->part == PART_MONEY || place.is_fresh)
		return;
	enum status status = work->part == PART_CHARGE ? session_remove_charge(session, row, &error)
	                                               : session_remove_work(session, row, &error);
	if (status == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "the line was taken out; %s brings it back",
		             request_info(REQUEST_UNDO)->key);
	else
		workbook_refuse(workbook, &error);
}

static void go_to_new(struct workbook *workbook, struct work *work)
{
	if (work->part == PART_MONEY || !keep(workbook, work))
		return;
	work->row[work->part] = work_rows(workbook, work->part) - 1;
	work->column[work->part] = first_column(work->part);
}

static void go_to_column(struct workbook *workbook, struct work *work, int column)
{
	if (keep(workbook, work))
		work->column[work->part] = column;
}

/* The empty readings of the entry as the sheet has them. */
static void fill_charge(struct workbook *workbook, struct work *work)
{
	struct session *session = workbook_session(workbook);
	struct form_place place = place_here(workbook, work);
	struct charge_entry entry = *(const struct charge_entry *)place.element;
	struct error error;

	int count = session_fill_charge(session, &entry);
	if (count == 0)
		workbook_say(workbook, INK_REFUSED,
		             "the sheet has nothing for the empty readings of this line");
	else if (place.kind->keep(session, &entry, NULL, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	else
		workbook_say(workbook, INK_KEPT, "%d readings as the sheet has them", count);
	follow_charge(workbook, work, &entry.uid);
}

/* WORK_SAME is for the readings of the charge log; everywhere else it is typed. */
static bool fills_charge(struct workbook *workbook, const struct work *work)
{
	int column = work->column[PART_CHARGE];

	return work->part == PART_CHARGE && !form_is_writing(workbook) &&
	       column != CHARGE_COLUMN_NOTE && column != CHARGE_COLUMN_CYLINDER;
}

static void bill_refrigerant(struct workbook *workbook, struct work *work)
{
	char words[LINE_SIZE + MONEY_SIZE];
	enum unit unit = unit_shown(UNIT_OZ, session_units(workbook_session(workbook)));
	struct work_line line;
	struct error error;

	if (!keep(workbook, work))
		return;
	if (session_bill_refrigerant(workbook_session(workbook), &line, &error) != STATUS_OK) {
		workbook_refuse(workbook, &error);
		return;
	}
	money_line_words(&line, words, sizeof words);
	if (!money_weight_unit(&line, &unit))
		workbook_say(workbook, INK_QUESTION,
		             "On the bill: %s %s. The price list names no unit for it: "
		             "is the price for one %s?",
		             words, unit_symbol(unit, false), unit_symbol(unit, false));
	else if (line.unit_price == 0)
		workbook_say(workbook, INK_QUESTION, "On the bill: %s, without a price. The price "
		             "list has none for it", words);
	else
		workbook_say(workbook, INK_KEPT, "On the bill: %s", words);
}

static enum request_place inner(struct workbook *workbook, void *state)
{
	struct work *work = state;

	hold(workbook, work);
	struct form_place place = place_here(workbook, work);
	return form_is_writing(workbook) && work->pick_count > 0 ? PLACE_PRICES
	                                                         : form_where(workbook, &place);
}

/* The keys of the field under the cursor. */
static bool press_field(struct workbook *workbook, struct work *work, enum request request,
                        struct key key)
{
	struct form_place place = place_here(workbook, work);
	struct uid uid = { .text = "" };

	if (work->part == PART_CHARGE)
		uid = *place.uid;
	enum form_answer answer = form_press(workbook, &place, request, key);
	if (answer != FORM_IGNORED && work->part == PART_CHARGE && !form_is_writing(workbook))
		follow_charge(workbook, work, &uid);
	if (answer == FORM_NEXT)
		go_on(workbook, work);
	if (answer != FORM_IGNORED)
		look(workbook, work);
	return answer != FORM_IGNORED;
}

/* The keys of the price list: a place of its own below the description that is written. */
static bool press_price(struct workbook *workbook, struct work *work, enum request request,
                        struct key key)
{
	switch (request) {
	case REQUEST_PRICE_DOWN:
		work->picked += work->picked + 1 < work->pick_count;
		return true;
	case REQUEST_PRICE_UP:
		work->picked -= work->picked >= 0;
		return true;
	case REQUEST_PRICE_TAKE:
		return take_price(workbook, work) || press_field(workbook, work, REQUEST_WRITE_KEEP, key);
	default:
		return press_field(workbook, work, request, key);
	}
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct work *work = state;

	switch (request) {
	case REQUEST_WORK_BILL:
		bill_refrigerant(workbook, work);
		return true;
	case REQUEST_WORK_NEXT:
	case REQUEST_WORK_BEFORE:
		go_part(workbook, work, request == REQUEST_WORK_NEXT ? 1 : -1);
		return true;
	case REQUEST_WORK_UP:
	case REQUEST_WORK_DOWN:
		move_row(workbook, work, request == REQUEST_WORK_DOWN ? 1 : -1);
		return true;
	case REQUEST_WORK_LEFT:
	case REQUEST_WORK_RIGHT:
		move_column(workbook, work, request == REQUEST_WORK_RIGHT ? 1 : -1);
		return true;
	case REQUEST_WORK_FIRST:
	case REQUEST_WORK_LAST:
		go_to_column(workbook, work,
		             request == REQUEST_WORK_FIRST ? 0 : columns_of(work->part) - 1);
		return true;
	case REQUEST_WORK_NEW:
		go_to_new(workbook, work);
		return true;
	case REQUEST_WORK_OUT:
		take_out(workbook, work);
		return true;
	case REQUEST_WORK_SAME:
		if (!fills_charge(workbook, work))
			return press_field(workbook, work, REQUEST_TYPE, key);
		if (closed_may_change(workbook))
			fill_charge(workbook, work);
		return true;
	default:
		return press_price(workbook, work, request, key);
	}
}

/* ---- Drawing ---- */

/* Rows for each part: all of them where there is room, else the active one first. */
static void share_out(struct workbook *workbook, const struct work *work, int room, int *rows)
{
	bool active[PART_COUNT] = { false };

	active[work->part] = true;
	const int wanted[PART_COUNT] = {
		[PART_CHARGE] = 2 + work_rows(workbook, PART_CHARGE) + (active[PART_CHARGE] ? 3 : 0) + 1,
		[PART_WORK] = 1 + work_rows(workbook,
		                            PART_WORK) + (active[PART_WORK] ? 1 + work->pick_count : 0) + 1,
		[PART_MONEY] = 1 + work_money_rows(workbook),
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
	/* On a narrow page the sums have the rows of the cautions while one is among them. */
	bool is_money = work->part == PART_MONEY && area.columns < WORK_ROOMY_COLUMNS;
	int used = is_money ? 0 : cautions_draw(workbook, area, area.rows > 30 ? 4 : CAUTION_ROWS);
	share_out(workbook, work, area.rows - used, rows);
	work_draw_charge(workbook, work, area_rows(area, used, rows[PART_CHARGE] - 1));
	used += rows[PART_CHARGE];
	work_draw_lines(workbook, work, area_rows(area, used, rows[PART_WORK] - 1));
	used += rows[PART_WORK];
	work_draw_money(workbook, work, area_rows(area, used, rows[PART_MONEY]));
}

const struct screen screen_work = {
	.place = PLACE_WORK, .state_size = sizeof(struct work), .inner = inner,
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
