/*
 * Tables of the PDF: columns as wide as they need, the widest giving way, and
 * the names of the columns again on every sheet.
 */
#include "report/pdf/press.h"

#include <math.h>
#include <string.h>

#include "report/writer.h"

enum { GRID_MOST = DOCUMENT_MOST_COLUMNS + 2 };

static const double gap = 9, ruler_width = 108, narrowest = 44;

/* Above and below the words of a row. */
static double padding_of(const struct pdf_press *press)
{
	return press->document->is_tight ? 0.9 : 1.6;
}

/* A table on its way to the sheet. */
struct grid {
	const char *caption;          /* of a small table: its first head; NULL: columns have heads */
	int count;                    /* of columns */
	const char *heads[GRID_MOST]; /* of columns */
	bool to_the_right[GRID_MOST]; /* numbers */
	double widths[GRID_MOST];     /* of columns */
	int ruler;                    /* the column of the rulers; -1 for none */
};

/* One row of it. */
struct grid_row {
	const char *cells[GRID_MOST]; /* what stands there */
	enum row_weight weight;       /* how it is set */
	bool is_last;                 /* of the table */
	const struct measure *ruler;  /* drawn in the ruler's column; NULL for none */
};

static enum pdf_style style_of(const struct grid_row *row)
{
	return row->weight == ROW_TOTAL && row->is_last ? PDF_STRONG : PDF_PLAIN;
}

/* Lets the columns be as wide as their widest cell needs. */
static void widen(struct pdf_press *press, struct grid *grid, enum pdf_style style,
                  const char *const *cells)
{
	for (int i = 0; i < grid->count; i++) {
		double used;
		if (i == grid->ruler)
			continue;
		press_measure(press, style, cells[i], -1, &used, NULL);
		grid->widths[i] = fmax(grid->widths[i], ceil(used) + 1);
	}
}

/* Narrows the widest columns until the row fits, or gives the first one what is left. */
static void fit(const struct pdf_press *press, struct grid *grid)
{
	double room = press->right - pdf_left - gap * (grid->count - 1);

	for (int i = 0; i < grid->count; i++)
		room -= grid->widths[i];
	if (room > 0)
		grid->widths[0] += room;
	while (room < 0) {
		int widest = 0;
		for (int i = 1; i < grid->count; i++)
			if (i != grid->ruler && grid->widths[i] > grid->widths[widest])
				widest = i;
		double step = fmin(-room, 6);
		if (grid->widths[widest] - step < narrowest)
			return;
		grid->widths[widest] -= step;
		room += step;
	}
}

static double row_height(struct pdf_press *press, const struct grid *grid, enum pdf_style style,
                         const char *const *cells)
{
	double highest = 0;

	for (int i = 0; i < grid->count; i++) {
		double height = 0;
		if (i != grid->ruler)
			press_measure(press, style, cells[i], grid->widths[i], NULL, &height);
		highest = fmax(highest, height);
	}
	return highest + 2 * padding_of(press);
}

static void put_cells(struct pdf_press *press, const struct grid *grid, enum pdf_style style,
                      enum pdf_colour colour, const char *const *cells)
{
	double x = pdf_left;

	for (int i = 0; i < grid->count; i++) {
		if (i != grid->ruler)
			press_put(press, style, colour, cells[i], x, press->y + padding_of(press),
			          grid->widths[i], grid->to_the_right[i]);
		x += grid->widths[i] + gap;
	}
}

static void put_heads(struct pdf_press *press, const struct grid *grid)
{
	double height = row_height(press, grid, PDF_SMALL, grid->heads);

	put_cells(press, grid, PDF_SMALL, PDF_SOFT, grid->heads);
	press->y += height;
	press_line(press, PDF_SOFT, 0.7, pdf_left, press->y, press->right, press->y);
}

static double ruler_x(const struct grid *grid)
{
	double x = pdf_left;

	for (int i = 0; i < grid->ruler; i++)
		x += grid->widths[i] + gap;
	return x;
}

static void put_row(struct pdf_press *press, const struct grid *grid, const struct grid_row *row)
{
	enum pdf_style style = style_of(row);
	double height = row_height(press, grid, style, row->cells);
	int page = press->page;

	press_need(press, height);
	if (press->page != page)
		put_heads(press, grid);
	if (row->weight == ROW_SUBTOTAL)
		press_box(press, PDF_PALE, pdf_left, press->y, press->right - pdf_left, height);
	put_cells(press, grid, style, row->weight == ROW_SUBTOTAL ? PDF_SOFT : PDF_INK, row->cells);
	if (row->ruler)
		pdf_ruler(press, row->ruler, ruler_x(grid), press->y + height / 2, ruler_width);
	press->y += height;
	if (row->weight != ROW_TOTAL)
		press_line(press, PDF_LINE, 0.5, pdf_left, press->y, press->right, press->y);
}

/* ---- Tables ---- */

void pdf_table(struct pdf_press *press, const struct block *block)
{
	struct grid grid = { .count = block->column_count, .ruler = -1 };

	for (int i = 0; i < block->column_count; i++) {
		grid.heads[i] = block->columns[i].header;
		grid.to_the_right[i] = block->columns[i].is_number;
	}
	widen(press, &grid, PDF_SMALL, grid.heads);
	for (size_t i = 0; i < block->row_count; i++)
		widen(press, &grid, PDF_STRONG, block->rows[i].cells);
	fit(press, &grid);
	press_need(press, 45);
	put_heads(press, &grid);
	for (size_t i = 0; i < block->row_count; i++) {
		struct grid_row row = { .weight = block->rows[i].weight,
		                        .is_last = i + 1 == block->row_count };
		memcpy(row.cells, block->rows[i].cells, (size_t)grid.count * sizeof *row.cells);
		put_row(press, &grid, &row);
	}
	press->y += 4;
}

/* ---- Measures ---- */

/* Strings made for one row of measures. */
struct measure_words {
	struct text stages[DOCUMENT_STAGES]; /* value and verdict */
	struct text expected;                /* both where they differ */
};

static void words_init(struct measure_words *words)
{
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		text_init(&words->stages[stage]);
	text_init(&words->expected);
}

static void words_done(struct measure_words *words)
{
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		text_done(&words->stages[stage]);
	text_done(&words->expected);
}

static void words_fill(struct measure_words *words, const struct measure *measure)
{
	const char *found = measure->stages[0].expected, *expected = writer_expected(measure);

	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		text_clear(&words->stages[stage]);
		writer_add_value(&words->stages[stage], measure, stage, false);
		if (*measure->stages[stage].verdict)
			text_add_format(&words->stages[stage], " %s", measure->stages[stage].verdict);
	}
	text_clear(&words->expected);
	if (*found && strcmp(found, expected) != 0)
		text_add_format(&words->expected, "%s\n", found);
	text_add(&words->expected, expected);
	if (*measure->note)
		text_add_format(&words->expected, "\n%s", measure->note);
}

/* The cells of a measure: label, the stages that were read, a ruler, what is expected. */
static void fill_cells(const struct block *block, const struct measure *measure,
                       const struct measure_words *words, const struct grid *grid,
                       const char **cells)
{
	int at = 0;

	cells[at++] = measure->label;
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (document_has_stage(block, stage))
			cells[at++] = text_get(&words->stages[stage]);
	if (grid->ruler >= 0)
		cells[at++] = "";
	if (at < grid->count)
		cells[at] = text_get(&words->expected);
}

static void make_grid(const struct block *block, bool with_rulers, struct grid *grid)
{
	/* Which mark on a ruler is which. */
	static const char *const marked[DOCUMENT_STAGES] = { "as found ◇", "as left ◆" };

	*grid = (struct grid){ .ruler = -1 };
	grid->heads[grid->count++] = block->text;
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (document_has_stage(block, stage)) {
			grid->to_the_right[grid->count] = true;
			grid->heads[grid->count++] = with_rulers ? marked[stage] : document_stage_words[stage];
		}
	if (with_rulers) {
		grid->ruler = grid->count;
		grid->widths[grid->count] = ruler_width;
		grid->heads[grid->count++] = "";
	}
	if (with_rulers || writer_has_expected(block))
		grid->heads[grid->count++] = "expected";
}

static void put_measures(struct pdf_press *press, const struct block *block, bool with_rulers)
{
	const char *cells[GRID_MOST];
	struct measure_words words;
	struct grid grid;

	make_grid(block, with_rulers, &grid);
	words_init(&words);
	widen(press, &grid, PDF_SMALL, grid.heads);
	for (size_t i = 0; i < block->measure_count; i++) {
		words_fill(&words, &block->measures[i]);
		fill_cells(block, &block->measures[i], &words, &grid, cells);
		widen(press, &grid, PDF_PLAIN, cells);
	}
	fit(press, &grid);
	press_need(press, 45);
	put_heads(press, &grid);
	for (size_t i = 0; i < block->measure_count; i++) {
		const struct measure *measure = &block->measures[i];
		bool has_band = measure->stages[0].has_band || measure->stages[1].has_band;
		struct grid_row row = { .ruler = with_rulers && has_band ? measure : NULL };
		words_fill(&words, measure);
		fill_cells(block, measure, &words, &grid, row.cells);
		put_row(press, &grid, &row);
	}
	words_done(&words);
	press->y += 5;
}

void pdf_readings(struct pdf_press *press, const struct block *block)
{
	put_measures(press, block, false);
}

void pdf_rulers(struct pdf_press *press, const struct block *block)
{
	put_measures(press, block, true);
}

