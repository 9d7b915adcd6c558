/*
 * The tables on the page of the work, and the work itself with the price list
 * that is searched while a description is typed.
 */
#include "tui/work_page.h"

#include <padside/model/money.h>

#include "tui/list.h"

/* ---- Tables ---- */

static const struct work_slot work_slots[] = {
	{ WORK_COLUMN_KIND, "kind", 11 }, { WORK_COLUMN_DESCRIPTION, "what", 0 },
	{ WORK_COLUMN_QUANTITY, "quantity", 8 }, { WORK_COLUMN_PRICE, "each", 9 },
	{ WORK_COLUMN_CHARGED, "", 7 },
};
/* The same on a narrow page: the words have the room. */
static const struct work_slot narrow_slots[] = {
	{ WORK_COLUMN_KIND, "kind", 7 }, { WORK_COLUMN_DESCRIPTION, "what", 0 },
	{ WORK_COLUMN_QUANTITY, "qty", 6 }, { WORK_COLUMN_PRICE, "each", 8 },
	{ WORK_COLUMN_CHARGED, "", 7 },
};
enum { WORK_SLOTS = sizeof work_slots / sizeof *work_slots };

static const struct work_slot *slots_for(const struct area *area)
{
	return area->columns < WORK_ROOMY_COLUMNS ? narrow_slots : work_slots;
}

static int width_of(const struct work_slot *slot, const struct area *area)
{
	const struct work_slot *slots = slots_for(area);
	int fixed = 1;

	if (slot->width)
		return slot->width;
	for (int i = 0; i < WORK_SLOTS; i++)
		fixed += slots[i].width + 1;
	return area->columns - fixed - WORK_AMOUNT_COLUMNS - 1;
}

int work_draw_title(struct workbook *workbook, const struct work *work, enum work_part part,
                    struct area area, const char *title)
{
	unsigned mark = work->part == part ? STYLE_REVERSE : 0;

	return canvas_put(workbook_canvas(workbook), area, 0, 1, INK_TITLE | mark, title);
}

/* Where a table ends: superheat stands behind the charge log's, also on a narrow page. */
static int table_end(enum work_part part, struct area area)
{
	return area.columns - (area.columns < WORK_ROOMY_COLUMNS && part == PART_CHARGE ? 7 : 0);
}

/* How many columns behind the first are left out, so that the one under the cursor is in sight. */
static int left_out(const struct work *work, enum work_part part, struct area area,
                    const struct work_slot *slots, int count)
{
	int room = table_end(part, area) + 1, out = 0, end = 1;

	if (work->part != part)
		return 0;
	for (int i = 0; i < count; i++) {
		end += width_of(&slots[i], &area) + 1;
		while (i > 0 && end > room && out < i - 1)
			end -= width_of(&slots[++out], &area) + 1;
		if (slots[i].field == work->column[part])
			return out;
	}
	return 0;
}

/* Whether a column of a table stands on the page. */
static bool is_shown(enum work_part part, int i, int out, int end, struct area area)
{
	return (i == 0 || i > out) && end <= table_end(part, area);
}

bool work_is_here(const struct work *work, enum work_part part, int row, int field)
{
	return work->part == part && work->row[part] == row && work->column[part] == field;
}

/* Draws one line of a table and returns the column behind it. */
int work_draw_slots(struct workbook *workbook, struct work *work, enum work_part part,
                      struct area area, int at, int row, const struct work_slot *slots, int count)
{
	int column = 1, out = left_out(work, part, area, slots, count);

	for (int i = 0; i < count; i++) {
		struct form_place place = work_place(workbook, work, part, row, slots[i].field);
		int width = width_of(&slots[i], &area);
		if (!is_shown(part, i, out, column + width, area))
			continue;
		form_draw(workbook, &place, area, at, column, width,
		          work_is_here(work, part, row, slots[i].field));
		column += width + 1;
	}
	return column;
}

void work_draw_heads(struct workbook *workbook, const struct work *work, enum work_part part,
                     struct area area, int at, const struct work_slot *slots, int count)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct form_kind *kind = part == PART_CHARGE ? &work_charge_kind : &work_line_kind;
	int column = 1, out = left_out(work, part, area, slots, count);

	for (int i = 0; i < count; i++) {
		int width = width_of(&slots[i], &area);
		if (!is_shown(part, i, out, column + width, area))
			continue;
		if (kind->lines[slots[i].field].is_number)
			canvas_put_right(canvas, area, at, column, width, INK_FAINT, slots[i].head);
		else
			canvas_put_padded(canvas, area, at, column, width, INK_FAINT, slots[i].head);
		column += width + 1;
	}
	if (part == PART_WORK)
		canvas_put_right(canvas, area, at, column, WORK_AMOUNT_COLUMNS, INK_FAINT, "amount");
}

/* What stands before a line: kept, being written, refused. */
void work_draw_mark(struct workbook *workbook, const struct work *work, enum work_part part,
                      struct area area, int at, int row)
{
	struct canvas *canvas = workbook_canvas(workbook);
	bool is_fresh = row >= work_rows(workbook, part) - 1, is_refused = false;
	bool writing = form_is_writing(workbook) && work->part == part && work->row[part] == row;

	for (int i = 0; i < work_place(workbook, work, part, row, 0).kind->count; i++) {
		struct form_place place = work_place(workbook, work, part, row, i);
		is_refused = is_refused || form_find_held(workbook, &place);
	}
	if (writing || is_refused)
		canvas_put(canvas, area, at, 0, INK_UNKEPT, writing ? "…" : "!");
	else
		canvas_put(canvas, area, at, 0, is_fresh ? INK_FAINT : INK_KEPT, is_fresh ? "+" : "✓");
}

/* The first line in sight of a table of `rows` lines. */
int work_first(struct workbook *workbook, const struct work *work, enum work_part part,
                          int rows)
{
	int count = work_rows(workbook, part), row = work->row[part];
	int first = work->part == part ? row - rows + 1 : count - 1 - rows;

	if (first + rows > count)
		first = count - rows;
	return first > 0 ? first : 0;
}

/* A text that has no column: a line of its own below the table. */
void work_draw_note(struct workbook *workbook, struct work *work, enum work_part part,
                      struct area area, int at, int field)
{
	int row = work->row[part];
	struct form_place place = work_place(workbook, work, part, row, field);
	struct canvas *canvas = workbook_canvas(workbook);
	bool here = work_is_here(work, part, row, field);
	int column = canvas_put(canvas, area, at, 1, here ? INK_STRONG : INK_FAINT,
	                        form_line_at(&place)->label) + 1;

	form_draw(workbook, &place, area, at, column, area.columns - column - 1, here);
}

/* ---- Work ---- */

static void draw_amount(struct workbook *workbook, struct area area, int at, int column, int row)
{
	const struct call *call = work_call(workbook);
	cents amount;
	char shown[MONEY_SIZE];

	if (row >= (int)call->work_count)
		return;
	bool whole = money_line_amount(&call->work[row], &amount) == STATUS_OK;
	money_format(call->work[row].no_charge ? 0 : amount, shown, sizeof shown);
	canvas_put_right(workbook_canvas(workbook), area, at, column, WORK_AMOUNT_COLUMNS,
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
		canvas_put_padded(canvas, area, i, 17, area.columns - 17 - WORK_AMOUNT_COLUMNS - 4, style,
		                  item->description);
		money_format(item->unit_price, price, sizeof price);
		canvas_put_right(canvas, area, i, area.columns - WORK_AMOUNT_COLUMNS - 3,
		                 WORK_AMOUNT_COLUMNS, style, price);
	}
}

void work_draw_lines(struct workbook *workbook, struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct work_slot *slots = slots_for(&area);
	bool active = work->part == PART_WORK;
	int rows = area.rows - 1 - (active ? 1 + work->pick_count : 0);
	int first = work_first(workbook, work, PART_WORK, rows), at = 1;

	work_draw_heads(workbook, work, PART_WORK, area, 0, slots, WORK_SLOTS);
	canvas_fill(canvas, area_part(area, 0, 1, 1, slots[0].width), INK_PLAIN, ' ');
	work_draw_title(workbook, work, PART_WORK, area, "Work");
	list_draw_more(canvas, area_rows(area, at, rows), area.columns - 1,
	               work_rows(workbook, PART_WORK), first);
	for (int row = first; row < work_rows(workbook, PART_WORK) && row < first + rows; row++, at++) {
		work_draw_mark(workbook, work, PART_WORK, area, at, row);
		int column = work_draw_slots(workbook, work, PART_WORK, area, at, row, slots, WORK_SLOTS);
		draw_amount(workbook, area, at, column, row);
	}
	if (active) {
		draw_picks(workbook, work, area_rows(area, at, work->pick_count));
		work_draw_note(workbook, work, PART_WORK, area, at + work->pick_count, WORK_COLUMN_NOTE);
	}
}
