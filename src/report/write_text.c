/*
 * The report as text, 80 columns: readable on any screen, in any mail, from
 * any printer.  Plain, it is ASCII.
 */
#include "report/writer.h"

#include <string.h>

#include <padside/base/glyph.h>
#include <padside/base/wrap.h>

enum {
	STAGE_COLUMNS = 20, INDENT = 2, GAP = 2, WIDEST_WORD = 16,
	STAGE_WIDTH = 10, VALUE_WIDTH = 14, RULER_WIDTH = 21, TREND_ROWS = 9,
	SIGNATURE_WIDTH = 40
};

/* How wide the text is: as a page, unless it stands in a window. */
static int paper_columns(const struct pen *pen)
{
	return pen->document->columns > 0 ? pen->document->columns : DOCUMENT_TEXT_COLUMNS;
}

static void add(struct pen *pen, const char *string)
{
	glyph_add_string(pen->text, string, pen->plain);
}

static void end_line(struct pen *pen)
{
	struct text *text = pen->text;

	/* No line ends in spaces. */
	while (text->length > 0 && text->bytes[text->length - 1] == ' ')
		text->bytes[--text->length] = '\0';
	text_add_char(text, '\n');
}

static int columns_of(const struct pen *pen, const char *string)
{
	return glyph_string_columns(string, pen->plain);
}

/* Adds a wrapped line's piece and returns its columns. */
static int add_piece(struct pen *pen, const struct wrap_line *line)
{
	struct text piece;

	text_init(&piece);
	text_add_bytes(&piece, line->start, line->length);
	int columns = columns_of(pen, text_get(&piece));
	add(pen, text_get(&piece));
	text_done(&piece);
	return columns;
}

/* Running text behind `lead`, the following lines set in by `indent`. */
static void add_wrapped(struct pen *pen, const char *lead, int indent, const char *string)
{
	const char *rest = string;
	struct wrap_line line;
	bool first = true;

	while (wrap_next(&rest, paper_columns(pen) - indent, pen->plain, &line)) {
		if (first) {
			add(pen, lead);
			text_pad(pen->text, ' ', indent - columns_of(pen, lead));
		} else {
			text_pad(pen->text, ' ', indent);
		}
		add_piece(pen, &line);
		end_line(pen);
		first = false;
	}
}

static void add_rule(struct pen *pen, const char *shape, int columns)
{
	for (int i = 0; i < columns; i++)
		add(pen, shape);
	end_line(pen);
}

/* An empty line, unless the paper has just begun or a heading stands above. */
static void add_gap(struct pen *pen)
{
	if (pen->text->length > 0 && !pen->is_close)
		end_line(pen);
	pen->is_close = false;
}

/* The same within a section, where there is room for it. */
static void add_space(struct pen *pen)
{
	if (pen->document->is_tight)
		pen->is_close = false;
	else
		add_gap(pen);
}

static void write_letterhead(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++)
		add_wrapped(pen, "", 0, block->rows[i].cells[0]);
}

static void write_heading(struct pen *pen, const struct block *block)
{
	if (block->level == 3) {
		add_space(pen);
		pen->is_close = true;
		add_wrapped(pen, "", INDENT, block->text);
		return;
	}
	add_gap(pen);
	pen->is_close = true;
	add_wrapped(pen, "", 0, block->text);
	if (!pen->document->is_tight)
		add_rule(pen, block->level == 1 ? "═" : "─",
	         block->level == 1 ? paper_columns(pen) : columns_of(pen, block->text));
}

static void write_paragraph(struct pen *pen, const struct block *block)
{
	const char *lead = block->tone == TONE_CAUTION ? "  ! " : "  ";

	add_space(pen);
	add_wrapped(pen, lead, columns_of(pen, lead), block->text);
}

/* Fills up to `column`, counted from the length that the text had before. */
static void fill_to(struct pen *pen, size_t start, int column)
{
	int used = columns_of(pen, text_get(pen->text) + start);

	text_pad(pen->text, ' ', used < column ? column - used : 1);
}

/* Whether an item fits beside another one. */
static bool is_short_item(const struct pen *pen, const struct block *block, size_t item)
{
	return columns_of(pen, block->rows[item].cells[0]) <= paper_columns(pen) / 2 - 2 * INDENT - 1;
}

/* Where there is little room, short items stand two in a line. */
static void write_list(struct pen *pen, const struct block *block)
{
	add_space(pen);
	for (size_t i = 0; i < block->row_count; i++) {
		bool is_pair = pen->document->is_tight && i + 1 < block->row_count &&
		               is_short_item(pen, block, i) && is_short_item(pen, block, i + 1);
		size_t start = pen->text->length;
		add_wrapped(pen, "  - ", INDENT + 2, block->rows[i].cells[0]);
		if (!is_pair || pen->text->length == start)
			continue;
		pen->text->bytes[--pen->text->length] = '\0';
		fill_to(pen, start, paper_columns(pen) / 2);
		add(pen, "- ");
		add(pen, block->rows[++i].cells[0]);
		end_line(pen);
	}
}

static void write_pairs(struct pen *pen, const struct block *block)
{
	int width = 0;

	add_space(pen);
	for (size_t i = 0; i < block->row_count; i++) {
		int columns = columns_of(pen, block->rows[i].cells[0]);
		width = columns > width ? columns : width;
	}
	width = width > paper_columns(pen) / 2 ? paper_columns(pen) / 2 : width;
	for (size_t i = 0; i < block->row_count; i++) {
		struct text lead;
		text_init(&lead);
		text_add_format(&lead, "  %s", block->rows[i].cells[0]);
		add_wrapped(pen, text_get(&lead), INDENT + width + GAP, block->rows[i].cells[1]);
		text_done(&lead);
	}
}

/* Lines to write on side by side, what each is for below it. */
static void write_signature_tight(struct pen *pen, const struct block *block)
{
	int width = (paper_columns(pen) - INDENT) / (int)block->row_count - GAP;

	end_line(pen);
	for (size_t i = 0; i < block->row_count; i++) {
		text_pad(pen->text, ' ', i == 0 ? INDENT : GAP);
		text_pad(pen->text, '_', width);
	}
	end_line(pen);
	for (size_t i = 0; i < block->row_count; i++) {
		const char *words = block->rows[i].cells[0];
		text_pad(pen->text, ' ', i == 0 ? INDENT : GAP);
		add(pen, words);
		text_pad(pen->text, ' ', width - columns_of(pen, words));
	}
	end_line(pen);
}

static void write_signature(struct pen *pen, const struct block *block)
{
	if (pen->document->is_tight && block->row_count > 0) {
		write_signature_tight(pen, block);
		return;
	}
	for (size_t i = 0; i < block->row_count; i++) {
		add_space(pen);
		end_line(pen);
		text_pad(pen->text, ' ', INDENT);
		text_pad(pen->text, '_', SIGNATURE_WIDTH);
		end_line(pen);
		add_wrapped(pen, "", INDENT, block->rows[i].cells[0]);
	}
}

static void write_finding(struct pen *pen, const struct block *block)
{
	struct text title;

	add_space(pen);
	text_init(&title);
	text_add(&title, block->text);
	if (*block->label)
		text_add_format(&title, ": %s", block->label);
	text_add_format(&title, " (%s)", writer_tone_word(block->tone));
	add_wrapped(pen, block->tone == TONE_ACT ? "  ! " : "  * ", INDENT + 2, text_get(&title));
	for (size_t i = 0; i < block->row_count; i++)
		add_wrapped(pen, "    ", INDENT + 2, block->rows[i].cells[0]);
	text_done(&title);
}

/* Columns of the longest word, which is never broken while there is another way. */
static int longest_word(const struct pen *pen, const char *string)
{
	int longest = 0;
	struct text word;

	text_init(&word);
	while (*string) {
		size_t length = strcspn(string, " ");
		text_clear(&word);
		text_add_bytes(&word, string, length);
		int columns = columns_of(pen, text_get(&word));
		longest = columns > longest ? columns : longest;
		string += length + (string[length] == ' ');
	}
	text_done(&word);
	return longest;
}

/* What a column would like to have, its header whole or wrapped, and what it needs at least. */
static void measure_column(const struct pen *pen, const struct block *block, int column,
                           bool whole_header, int *wanted, int *least)
{
	*least = longest_word(pen, block->columns[column].header);
	*wanted = whole_header ? columns_of(pen, block->columns[column].header) : *least;
	for (size_t row = 0; row < block->row_count; row++) {
		int columns = columns_of(pen, block->rows[row].cells[column]);
		int word = longest_word(pen, block->rows[row].cells[column]);
		*wanted = columns > *wanted ? columns : *wanted;
		*least = word > *least ? word : *least;
	}
	*least = *least > WIDEST_WORD ? WIDEST_WORD : *least;
}

/* Measures all columns; returns the columns of the whole row. */
static int measure_columns(const struct pen *pen, const struct block *block, bool whole_headers,
                           int *wanted, int *least)
{
	int total = INDENT + GAP * (block->column_count - 1);

	for (int i = 0; i < block->column_count; i++) {
		measure_column(pen, block, i, whole_headers, &wanted[i], &least[i]);
		total += wanted[i];
	}
	return total;
}

/* Widths of the columns so that a row fits the paper: headers wrap first, then the widest. */
static void fit_columns(const struct pen *pen, const struct block *block, int *widths)
{
	int least[DOCUMENT_MOST_COLUMNS];

	if (measure_columns(pen, block, true, widths, least) <= paper_columns(pen))
		return;
	for (int total = measure_columns(pen, block, false, widths, least); total > paper_columns(pen);
	     total--) {
		int widest = -1;
		for (int i = 0; i < block->column_count; i++)
			if (widths[i] > least[i] && (widest < 0 || widths[i] > widths[widest]))
				widest = i;
		if (widest < 0)
			return;
		widths[widest]--;
	}
}

/* One row, as many lines high as its highest cell. */
static void add_row(struct pen *pen, const struct block *block, const int *widths,
                    const char *const *cells)
{
	const char *rest[DOCUMENT_MOST_COLUMNS];
	bool more = true;

	memcpy(rest, cells, (size_t)block->column_count * sizeof *rest);
	while (more) {
		more = false;
		text_pad(pen->text, ' ', INDENT);
		for (int i = 0; i < block->column_count; i++) {
			struct wrap_line line = { .start = "" };
			int width = widths[i];
			if (wrap_next(&rest[i], width, pen->plain, &line) && block->columns[i].is_number) {
				struct text piece;
				text_init(&piece);
				text_add_bytes(&piece, line.start, line.length);
				text_pad(pen->text, ' ', width - columns_of(pen, text_get(&piece)));
				text_done(&piece);
				add_piece(pen, &line);
			} else {
				width -= add_piece(pen, &line);
				text_pad(pen->text, ' ', width);
			}
			if (i + 1 < block->column_count)
				text_pad(pen->text, ' ', GAP);
			more = more || *rest[i];
		}
		end_line(pen);
	}
}

static void add_row_rule(struct pen *pen, const struct block *block, const int *widths)
{
	int total = GAP * (block->column_count - 1);

	for (int i = 0; i < block->column_count; i++)
		total += widths[i];
	text_pad(pen->text, ' ', INDENT);
	add_rule(pen, "─", total);
}

/*
 * Whether the first column would be so narrow that its words stand better in a line of their own;
 * the others have all the room then.
 */
static bool takes_titles(const struct pen *pen, const struct block *block, int *widths)
{
	int least[DOCUMENT_MOST_COLUMNS], wanted[DOCUMENT_MOST_COLUMNS];
	int header = columns_of(pen, block->columns[0].header);
	int total = measure_columns(pen, block, false, wanted, least) - wanted[0] + header;

	if (!pen->document->is_tight || widths[0] > WIDEST_WORD || widths[0] >= wanted[0] ||
	    total > paper_columns(pen))
		return false;
	memcpy(widths, wanted, (size_t)block->column_count * sizeof *widths);
	widths[0] = header;
	return true;
}

static void add_titled_row(struct pen *pen, const struct block *block, const int *widths,
                           const char *const *cells)
{
	const char *rest[DOCUMENT_MOST_COLUMNS] = { "" };

	add_wrapped(pen, "", INDENT, cells[0]);
	for (int i = 1; i < block->column_count; i++)
		rest[i] = cells[i];
	add_row(pen, block, widths, rest);
}

/* A sum of one line says what that line says. */
static bool is_sum_of_one(const struct block *block, size_t row)
{
	bool is_alone = row < 2 || block->rows[row - 2].weight != ROW_PLAIN;

	return is_alone && block->rows[row].weight == ROW_SUBTOTAL;
}

static void write_table(struct pen *pen, const struct block *block)
{
	const char *headers[DOCUMENT_MOST_COLUMNS];
	int widths[DOCUMENT_MOST_COLUMNS];
	bool in_totals = false;

	add_space(pen);
	fit_columns(pen, block, widths);
	bool has_titles = takes_titles(pen, block, widths);
	for (int i = 0; i < block->column_count; i++)
		headers[i] = block->columns[i].header;
	add_row(pen, block, widths, headers);
	if (!pen->document->is_tight)
		add_row_rule(pen, block, widths);
	for (size_t i = 0; i < block->row_count; i++) {
		bool total = block->rows[i].weight == ROW_TOTAL;
		if (pen->document->is_tight && is_sum_of_one(block, i))
			continue;
		if (total && !in_totals && !pen->document->is_tight)
			add_row_rule(pen, block, widths);
		in_totals = total;
		if (has_titles)
			add_titled_row(pen, block, widths, block->rows[i].cells);
		else
			add_row(pen, block, widths, block->rows[i].cells);
	}
}

/* The value of a measure and how it stands, as one cell. */
static void add_cell(struct pen *pen, const struct measure *measure, int stage)
{
	writer_add_value(pen->text, measure, stage, pen->plain);
	if (*measure->stages[stage].verdict) {
		add(pen, " ");
		add(pen, measure->stages[stage].verdict);
	}
}

/* What is expected, in its column; moved left, or below, where the paper ends before it does. */
static void add_expected(struct pen *pen, size_t start, int column, const char *words)
{
	int columns = columns_of(pen, words);

	if (column + columns > paper_columns(pen))
		column = paper_columns(pen) - columns;
	if (columns_of(pen, text_get(pen->text) + start) >= column) {
		end_line(pen);
		start = pen->text->length;
	}
	fill_to(pen, start, column);
	add(pen, words);
}

/* The longest text that stands in the column of a stage. */
enum { LONGEST_IN_COLUMN = 24 };

/* A text that somebody typed and that no column holds. */
static bool is_long(const struct pen *pen, const struct measure *measure)
{
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (*measure->stages[stage].shown && !measure->stages[stage].is_number &&
		    columns_of(pen, measure->stages[stage].shown) > LONGEST_IN_COLUMN)
			return true;
	return false;
}

/* Each stage of it in lines of its own, told which where the table has both. */
static void write_long(struct pen *pen, const struct measure *measure, int indent, bool both)
{
	struct text lead, words;
	bool first = true;

	text_init(&lead);
	text_init(&words);
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		if (!*measure->stages[stage].shown)
			continue;
		text_clear(&lead);
		text_clear(&words);
		text_pad(&lead, ' ', INDENT);
		text_add(&lead, first ? measure->label : "");
		text_add_format(&words, "%s%s%s", both ? document_stage_words[stage] : "", both ? ": " : "",
		                measure->stages[stage].shown);
		add_wrapped(pen, text_get(&lead), indent, text_get(&words));
		first = false;
	}
	text_done(&lead);
	text_done(&words);
}

/* As wide as the values of a stage are, so that what stands beside them keeps its column. */
static int stage_columns(const struct pen *pen, const struct block *block)
{
	int columns = STAGE_COLUMNS;
	struct text value;

	text_init(&value);
	for (size_t i = 0; i < block->measure_count; i++)
		for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
			if (is_long(pen, &block->measures[i]))
				continue;
			text_clear(&value);
			writer_add_value(&value, &block->measures[i], stage, pen->plain);
			int needed = columns_of(pen, text_get(&value)) + 1;
			columns = needed > columns ? needed : columns;
		}
	text_done(&value);
	return columns;
}

static void write_readings(struct pen *pen, const struct block *block)
{
	bool has[DOCUMENT_STAGES] = { document_has_stage(block, 0), document_has_stage(block, 1) };
	bool expected = writer_has_expected(block);
	const int label_end = 29, stage_width = stage_columns(pen, block);

	add_space(pen);
	for (size_t i = 0; i <= block->measure_count; i++) {
		const struct measure *measure = i > 0 ? &block->measures[i - 1] : NULL;
		size_t start = pen->text->length;
		int column = label_end;
		if (measure && is_long(pen, measure)) {
			write_long(pen, measure, label_end, has[0] && has[1]);
			continue;
		}
		text_pad(pen->text, ' ', INDENT);
		add(pen, measure ? measure->label : block->text);
		for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
			if (!has[stage])
				continue;
			fill_to(pen, start, column);
			if (measure)
				add_cell(pen, measure, stage);
			else
				add(pen, document_stage_words[stage]);
			column += stage_width;
		}
		if (expected)
			add_expected(pen, start, column, measure ? writer_expected(measure) : "expected");
		end_line(pen);
	}
}

/* Ends a line with words that may go on below where they began. */
static void add_behind(struct pen *pen, size_t start, const char *words)
{
	int column = columns_of(pen, text_get(pen->text) + start) + GAP;
	struct wrap_line line;

	for (int row = 0; wrap_next(&words, paper_columns(pen) - column, pen->plain, &line); row++) {
		if (row > 0)
			end_line(pen);
		text_pad(pen->text, ' ', row > 0 ? column : GAP);
		add_piece(pen, &line);
	}
	end_line(pen);
}

static void add_ruler(struct pen *pen, const struct measure *measure, int stage,
                      const char *words_before)
{
	const struct measured *measured = &measure->stages[stage];
	size_t start = pen->text->length;
	struct text value, words;

	text_pad(pen->text, ' ', INDENT + 2);
	add(pen, words_before);
	text_init(&value);
	writer_add_value(&value, measure, stage, pen->plain);
	fill_to(pen, start, INDENT + 2 + STAGE_WIDTH + VALUE_WIDTH -
	                    columns_of(pen, text_get(&value)));
	text_add(pen->text, text_get(&value));
	text_done(&value);
	fill_to(pen, start, INDENT + 2 + STAGE_WIDTH + VALUE_WIDTH + GAP);
	if (measured->has_band)
		band_draw(&measured->band, RULER_WIDTH, pen->plain, pen->text);
	else
		text_pad(pen->text, ' ', RULER_WIDTH);
	text_init(&words);
	if (*measured->expected)
		text_add_format(&words, "%s%s", measured->band.is_assumed ? "" : "expected ",
		                measured->expected);
	if (*measured->verdict)
		text_add_format(&words, "%s%s", words.length ? ": " : "", measured->verdict);
	add_behind(pen, start, text_get(&words));
	text_done(&words);
}

static bool is_good(const struct measure *measure)
{
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (*measure->stages[stage].shown && strcmp(measure->stages[stage].verdict, "good") != 0)
			return false;
	return true;
}

/* Whether it reads the same as found and as left. */
static bool is_unchanged(const struct measure *measure)
{
	const struct measured *found = &measure->stages[0];
	const struct measured *left = &measure->stages[DOCUMENT_STAGES - 1];

	return *found->shown && strcmp(found->shown, left->shown) == 0 &&
	       strcmp(found->verdict, left->verdict) == 0 &&
	       strcmp(found->expected, left->expected) == 0;
}

/* "fan capacitor, from its rating: as found -2.0 %, expected -6 to 6: good"; what stayed once. */
static void add_without_ruler(struct pen *pen, const struct measure *measure)
{
	bool once = is_unchanged(measure);
	const char *mark = ": ";
	struct text words;

	text_init(&words);
	text_add(&words, measure->label);
	for (int stage = 0; stage < (once ? 1 : DOCUMENT_STAGES); stage++) {
		if (!*measure->stages[stage].shown)
			continue;
		text_add_format(&words, "%s%s%s", mark, once ? "" : document_stage_words[stage],
		                once ? "" : " ");
		writer_add_value(&words, measure, stage, pen->plain);
		mark = ", ";
	}
	const char *expected = writer_expected(measure);
	bool is_assumed = measure->stages[0].band.is_assumed;
	if (*expected)
		text_add_format(&words, ", %s%s", is_assumed ? "" : "expected ", expected);
	text_add(&words, ": good");
	add_wrapped(pen, "", INDENT, text_get(&words));
	text_done(&words);
}

static void write_rulers(struct pen *pen, const struct block *block)
{
	add_space(pen);
	add_wrapped(pen, "  ", INDENT, writer_typed_marks);
	add_space(pen);
	for (size_t i = 0; i < block->measure_count; i++) {
		const struct measure *measure = &block->measures[i];
		if (pen->document->is_tight && is_good(measure)) {
			add_without_ruler(pen, measure);
			continue;
		}
		add_wrapped(pen, "", INDENT, measure->label);
		if (pen->document->is_tight && is_unchanged(measure)) {
			add_ruler(pen, measure, 0, "both times");
			continue;
		}
		for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
			if (*measure->stages[stage].shown)
				add_ruler(pen, measure, stage, document_stage_words[stage]);
		if (*measure->note)
			add_wrapped(pen, "    ", INDENT + 2, measure->note);
	}
}

static void write_trend(struct pen *pen, const struct block *block)
{
	const struct trend *trend = &block->trend;
	struct plot plot = {
		.points = trend->points, .count = trend->count, .has_limit = trend->has_limit,
		.limit = trend->limit, .limit_name = trend->limit_name, .rows = TREND_ROWS,
		.columns = paper_columns(pen) - INDENT, .plain = pen->plain,
	};
	struct text drawing, title;

	add_space(pen);
	text_init(&drawing);
	text_init(&title);
	text_add(&title, trend->label);
	if (*trend->unit)
		text_add_format(&title, ", %s", trend->unit);
	if (*trend->words)
		text_add_format(&title, ": %s", trend->words);
	add_wrapped(pen, "", INDENT, text_get(&title));
	plot_draw(&plot, &drawing);
	for (const char *at = text_get(&drawing); *at;) {
		size_t length = strcspn(at, "\n");
		text_pad(pen->text, ' ', INDENT);
		text_add_bytes(pen->text, at, length);
		end_line(pen);
		at += length + (at[length] == '\n');
	}
	text_done(&drawing);
	text_done(&title);
}

const struct writer writer_text = {
	.blocks = {
		[BLOCK_LETTERHEAD] = write_letterhead,
		[BLOCK_HEADING] = write_heading,
		[BLOCK_PARAGRAPH] = write_paragraph,
		[BLOCK_LIST] = write_list,
		[BLOCK_PAIRS] = write_pairs,
		[BLOCK_TABLE] = write_table,
		[BLOCK_FINDING] = write_finding,
		[BLOCK_READINGS] = write_readings,
		[BLOCK_RULERS] = write_rulers,
		[BLOCK_TREND] = write_trend,
		[BLOCK_SIGNATURE] = write_signature,
	},
};
