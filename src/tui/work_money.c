/*
 * The money on the page of the work.
 */
#include "tui/work_page.h"

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
	int column = canvas_put(canvas, area, 0, 1, INK_TITLE, "Money");

	if (count == 0)
		canvas_put(canvas, area, 0, column + 3, INK_BAD, "these amounts are too large to add up");
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

	return count > WORK_MONEY_ROWS ? count : WORK_MONEY_ROWS;
}
