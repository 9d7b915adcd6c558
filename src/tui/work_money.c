/*
 * The money on the page of the work.
 */
#include "tui/work_page.h"

#include <stdio.h>

#include <padside/model/money.h>

enum { MOST_SUMS = 6, SUM_COLUMN = 54 };

/* One line of what it comes to. */
struct sum_line {
	const char *label; /* what */
	cents amount;      /* how much */
	bool is_shown;     /* not left out */
};

static int sum_up(struct workbook *workbook, struct sum_line *sums)
{
	struct money_total total;

	if (money_total(work_call(workbook), &total) != STATUS_OK)
		return 0;
	const struct sum_line all[MOST_SUMS] = {
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

/* ---- What was agreed ---- */

enum { MOST_WARNINGS = 2, WARNING_SIZE = 64 };

/* Where the total is not the one that was authorised, or accepted; how many lines say so. */
static int warn(struct workbook *workbook, const struct work *work,
                char warnings[MOST_WARNINGS][WARNING_SIZE])
{
	const struct call *call = work_call(workbook);
	struct money_excess excess;
	char amount[MONEY_SIZE];
	int count = 0;

	if (money_excess(call, &excess) != STATUS_OK)
		return 0;
	money_format_currency(call->authorised_amount, work->currency, amount, sizeof amount);
	if (excess.is_over && !excess.is_accepted)
		snprintf(warnings[count++], WARNING_SIZE, "over %.24s authorised: agree in writing",
		         amount);
	money_format_currency(call->accepted_total, work->currency, amount, sizeof amount);
	if (excess.is_changed)
		snprintf(warnings[count++], WARNING_SIZE, "was accepted at %.24s", amount);
	return count;
}

/* ---- The sums ---- */

/* Where the next words go in the rows of the sums. */
struct word_place {
	struct area area; /* the rows */
	int row, column;  /* in them */
	bool is_full;     /* nothing more has room */
};

/* Makes room for words; what has none in a row stands whole in the next one, or not at all. */
static bool make_room(struct canvas *canvas, struct word_place *at, int width, bool is_first)
{
	bool turns = !is_first && at->column + width + 3 > at->area.columns;

	if (at->is_full)
		return false;
	if (turns && at->row + 1 >= at->area.rows) {
		canvas_put(canvas, at->area, at->area.rows - 1, at->column, INK_KEY, " …");
		at->is_full = true;
		return false;
	}
	if (turns) {
		at->row++;
		at->column = 1;
	} else if (!is_first) {
		at->column = canvas_put(canvas, at->area, at->row, at->column, INK_FAINT, " · ");
	}
	return true;
}

static void put_sum(struct canvas *canvas, struct word_place *at, const struct sum_line *sum,
                    const char *currency, bool is_first)
{
	char shown[MONEY_SIZE], words[MONEY_SIZE + 32];

	money_format_currency(sum->amount, currency, shown, sizeof shown);
	snprintf(words, sizeof words, "%s ", sum->label);
	if (!make_room(canvas, at, canvas_width_of(canvas, words) + canvas_width_of(canvas, shown),
	               is_first))
		return;
	at->column = canvas_put(canvas, at->area, at->row, at->column, INK_FAINT, words);
	at->column = canvas_put(canvas, at->area, at->row, at->column,
	                        is_first ? INK_STRONG : INK_MARGIN, shown);
}

/*
 * "to pay $127.20 · work 120.00 · tax 7.20" from the first row on, with what was
 * agreed otherwise behind the first.
 */
static void draw_sums_in_line(struct workbook *workbook, const struct work *work, struct area area,
                              int column, const struct sum_line *sums, int count)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char warnings[MOST_WARNINGS][WARNING_SIZE];
	int warned = warn(workbook, work, warnings);
	struct word_place at = { .area = area, .column = column };

	/* What is to pay stands last in the table; here it must not fall off the end. */
	if (count > 0)
		put_sum(canvas, &at, &sums[count - 1], work->currency, true);
	for (int i = 0; i < warned; i++)
		if (make_room(canvas, &at, canvas_width_of(canvas, warnings[i]), false))
			at.column = canvas_put(canvas, area, at.row, at.column, INK_BAD, warnings[i]);
	for (int i = 0; i + 1 < count; i++)
		put_sum(canvas, &at, &sums[i], "", false);
}

/* On a roomy page they stand behind the title. */
static void draw_warnings(struct workbook *workbook, const struct work *work, struct area area,
                          int column)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char warnings[MOST_WARNINGS][WARNING_SIZE];
	int warned = warn(workbook, work, warnings);

	for (int i = 0; i < warned; i++)
		column = canvas_put(canvas, area, 0, column, INK_BAD, warnings[i]) + 3;
}

static void draw_sums(struct workbook *workbook, const struct work *work, struct area area,
                      const struct sum_line *sums, int count)
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
		struct form_place place = work_place(workbook, work, PART_MONEY, line, 0);
		bool here = work_is_here(work, PART_MONEY, line, 0);
		int row = line % WORK_MONEY_ROWS, column = line < WORK_MONEY_ROWS ? 1 : 26;
		int value = line < WORK_MONEY_ROWS ? 15 : 45;
		canvas_put(canvas, area, row, column, here ? INK_STRONG : INK_PLAIN,
		           form_line_at(&place)->label);
		form_draw(workbook, &place, area, row, value, line < WORK_MONEY_ROWS ? 9 : 7, here);
	}
}

void work_draw_money(struct workbook *workbook, struct work *work, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	struct sum_line sums[MOST_SUMS];
	int count = sum_up(workbook, sums);
	int column = work_draw_title(workbook, work, PART_MONEY, area, "Money");
	bool narrow = area.columns < WORK_ROOMY_COLUMNS;

	if (count == 0)
		canvas_put(canvas, area, 0, column + 3, INK_BAD, "these amounts are too large to add up");
	if (narrow && area.rows > WORK_MONEY_ROWS) {
		int above = area.rows - WORK_MONEY_ROWS;
		draw_sums_in_line(workbook, work, area_rows(area, 0, above), column + 3, sums, count);
		draw_money_lines(workbook, work, area_rows(area, above, WORK_MONEY_ROWS));
		return;
	}
	if (area.rows <= WORK_MONEY_ROWS || area.rows < count) {
		draw_sums_in_line(workbook, work, area, column + 3, sums, count);
		return;
	}
	bool is_free = area.rows > count;
	draw_warnings(workbook, work, is_free ? area : area_columns(area, 0, SUM_COLUMN - 1),
	              column + 3);
	draw_money_lines(workbook, work, area_rows(area, 1, WORK_MONEY_ROWS));
	draw_sums(workbook, work, area_rows(area, is_free ? 1 : 0, area.rows), sums, count);
}

int work_money_rows(struct workbook *workbook)
{
	struct sum_line sums[MOST_SUMS];
	int count = sum_up(workbook, sums);

	if (canvas_columns(workbook_canvas(workbook)) < WORK_ROOMY_COLUMNS)
		return WORK_MONEY_ROWS + 1;
	return count > WORK_MONEY_ROWS ? count : WORK_MONEY_ROWS;
}
