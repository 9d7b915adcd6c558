/*
 * The money on the page of the work.
 */
#include "tui/work_page.h"

#include <stdio.h>

#include <padside/model/money.h>

enum { MOST_SUMS = 6, SUM_COLUMN = 54 };

/* One line of what it comes to. */
struct sum {
	const char *label; /* what */
	cents amount;      /* how much */
	bool is_shown;     /* not left out */
};

static int sum_up(struct workbook *workbook, struct sum *sums)
{
	struct money_total total;

	if (money_total(work_call(workbook), &total) != STATUS_OK)
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

/*
 * "to pay $127.20 · work 120.00 · tax 7.20" from the first row on; a sum that
 * has no room in a row stands whole in the next one, or not at all.
 */
static void draw_sums_in_line(struct workbook *workbook, const struct work *work, struct area area,
                              int column, const struct sum *sums, int count)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char shown[MONEY_SIZE], words[MONEY_SIZE + 32];
	int row = 0;

	for (int i = 0; i < count; i++) {
		/* What is to pay stands last in the table; here it must not fall off the end. */
		const struct sum *sum = &sums[(i + count - 1) % count];
		money_format_currency(sum->amount, i == 0 ? work->currency : "", shown, sizeof shown);
		snprintf(words, sizeof words, "%s ", sum->label);
		int width = canvas_width_of(canvas, words) + canvas_width_of(canvas, shown) + 3;
		bool turns = i > 0 && column + width > area.columns;
		if (turns && ++row >= area.rows) {
			canvas_put(canvas, area, area.rows - 1, column, INK_KEY, " …");
			return;
		}
		if (turns)
			column = 1;
		else if (i > 0)
			column = canvas_put(canvas, area, row, column, INK_FAINT, " · ");
		column = canvas_put(canvas, area, row, column, INK_FAINT, words);
		column = canvas_put(canvas, area, row, column, i == 0 ? INK_STRONG : INK_MARGIN, shown);
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
	struct sum sums[MOST_SUMS];
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
	draw_money_lines(workbook, work, area_rows(area, 1, WORK_MONEY_ROWS));
	draw_sums(workbook, work, area_rows(area, area.rows > count ? 1 : 0, area.rows), sums, count);
}

int work_money_rows(struct workbook *workbook)
{
	struct sum sums[MOST_SUMS];
	int count = sum_up(workbook, sums);

	if (canvas_columns(workbook_canvas(workbook)) < WORK_ROOMY_COLUMNS)
		return WORK_MONEY_ROWS + 1;
	return count > WORK_MONEY_ROWS ? count : WORK_MONEY_ROWS;
}
