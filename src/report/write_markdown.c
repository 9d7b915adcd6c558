/*
 * The report as Markdown (CommonMark, with tables as GitHub, GitLab and pandoc
 * read them).  Whatever Markdown would read as a mark is escaped, so that a
 * name stays a name.
 */
#include "report/writer.h"

#include <string.h>

#include <padside/base/glyph.h>

enum { RULER_WIDTH = 21, TREND_ROWS = 9, TREND_COLUMNS = 76, SIGNATURE_WIDTH = 40 };

/* Adds a string with everything that Markdown or HTML would read as a mark escaped. */
static void add(struct pen *pen, const char *string)
{
	struct text shown;

	text_init(&shown);
	glyph_add_string(&shown, string, pen->plain);
	for (const char *at = text_get(&shown); *at; at++) {
		if (*at == '<')
			text_add(pen->text, "&lt;");
		else if (*at == '&')
			text_add(pen->text, "&amp;");
		else if (strchr("\\`*_{}[]>#|~!", *at))
			text_add_format(pen->text, "\\%c", *at);
		else
			text_add_char(pen->text, *at);
	}
	text_done(&shown);
}

/* The same at the start of a line, where "1." or "-" would begin a list, "=" a heading. */
static void add_first(struct pen *pen, const char *string)
{
	string += strspn(string, " ");
	size_t digits = strspn(string, "0123456789");
	char mark_at = string[digits];

	text_add_bytes(pen->text, string, digits);
	if (mark_at && strchr(digits > 0 ? ".)" : "+-=", mark_at))
		text_add_char(pen->text, '\\');
	add(pen, string + digits);
}

/* Words of our own, with their marks. */
static void mark(struct pen *pen, const char *string)
{
	text_add(pen->text, string);
}

static void write_letterhead(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++) {
		mark(pen, i == 0 ? "**" : "");
		add_first(pen, block->rows[i].cells[0]);
		mark(pen, i == 0 ? "**" : "");
		mark(pen, i + 1 < block->row_count ? "\\\n" : "\n\n");
	}
}

static void write_heading(struct pen *pen, const struct block *block)
{
	text_pad(pen->text, '#', block->level);
	mark(pen, " ");
	add(pen, block->text);
	mark(pen, "\n\n");
}

static void write_paragraph(struct pen *pen, const struct block *block)
{
	static const char *const before[TONE_COUNT] = {
		[TONE_LEAD] = "**", [TONE_CAUTION] = "> **Caution:** ",
	};
	static const char *const after[TONE_COUNT] = { [TONE_LEAD] = "**" };

	mark(pen, before[block->tone] ? before[block->tone] : "");
	add_first(pen, block->text);
	mark(pen, after[block->tone] ? after[block->tone] : "");
	mark(pen, "\n\n");
}

static void write_list(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++) {
		mark(pen, "- ");
		add_first(pen, block->rows[i].cells[0]);
		mark(pen, "\n");
	}
	mark(pen, "\n");
}

static void write_pairs(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++) {
		mark(pen, "- **");
		add(pen, block->rows[i].cells[0]);
		mark(pen, ":** ");
		add(pen, block->rows[i].cells[1]);
		mark(pen, "\n");
	}
	mark(pen, "\n");
}

static void write_signature(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++) {
		add_first(pen, block->rows[i].cells[0]);
		mark(pen, ": ");
		for (int column = 0; column < SIGNATURE_WIDTH; column++)
			mark(pen, "\\_");
		mark(pen, "\n\n");
	}
}

static void write_finding(struct pen *pen, const struct block *block)
{
	mark(pen, "- **");
	add(pen, block->text);
	mark(pen, "**");
	if (*block->label) {
		mark(pen, ": ");
		add(pen, block->label);
	}
	text_add_format(pen->text, " (%s)\n", writer_tone_word(block->tone));
	for (size_t i = 0; i < block->row_count; i++) {
		mark(pen, "  - ");
		add_first(pen, block->rows[i].cells[0]);
		mark(pen, "\n");
	}
	mark(pen, "\n");
}

/* The line below a table's headers. */
static void add_alignment(struct pen *pen, bool is_number)
{
	mark(pen, is_number ? " ---: |" : " --- |");
}

static void add_cells(struct pen *pen, const struct block *block, const struct row *row)
{
	mark(pen, "|");
	for (int i = 0; i < block->column_count; i++) {
		const char *cell = row ? row->cells[i] : block->columns[i].header;
		bool strong = row && row->weight == ROW_TOTAL && *cell;
		mark(pen, strong ? " **" : " ");
		add(pen, cell);
		mark(pen, strong ? "** |" : " |");
	}
	mark(pen, "\n");
}

static void write_table(struct pen *pen, const struct block *block)
{
	add_cells(pen, block, NULL);
	mark(pen, "|");
	for (int i = 0; i < block->column_count; i++)
		add_alignment(pen, block->columns[i].is_number);
	mark(pen, "\n");
	for (size_t i = 0; i < block->row_count; i++)
		add_cells(pen, block, &block->rows[i]);
	mark(pen, "\n");
}

static void add_value(struct pen *pen, const struct measure *measure, int stage)
{
	struct text value;

	text_init(&value);
	writer_add_value(&value, measure, stage, pen->plain);
	add(pen, text_get(&value));
	text_done(&value);
}

static void write_readings(struct pen *pen, const struct block *block)
{
	bool expected = writer_has_expected(block);

	mark(pen, "| ");
	add(pen, block->text);
	mark(pen, " |");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (document_has_stage(block, stage))
			text_add_format(pen->text, " %s |", document_stage_words[stage]);
	mark(pen, expected ? " expected |\n|" : "\n|");
	add_alignment(pen, false);
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (document_has_stage(block, stage))
			add_alignment(pen, true);
	mark(pen, expected ? " --- |\n" : "\n");
	for (size_t i = 0; i < block->measure_count; i++) {
		const struct measure *measure = &block->measures[i];
		mark(pen, "| ");
		add(pen, measure->label);
		mark(pen, " |");
		for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
			if (!document_has_stage(block, stage))
				continue;
			mark(pen, " ");
			add_value(pen, measure, stage);
			text_add_format(pen->text, *measure->stages[stage].verdict ? " %s |" : "%s |",
			                measure->stages[stage].verdict);
		}
		if (expected) {
			mark(pen, " ");
			add(pen, writer_expected(measure));
			mark(pen, " |");
		}
		mark(pen, "\n");
	}
	mark(pen, "\n");
}

/* A ruler as code; the bar at a plain one's ends would close the table's cell. */
static void add_drawn(struct pen *pen, const struct band *band)
{
	struct text ruler;

	text_init(&ruler);
	band_draw(band, RULER_WIDTH, pen->plain, &ruler);
	mark(pen, "`");
	for (const char *at = text_get(&ruler); *at; at++) {
		if (*at == '|')
			mark(pen, "\\");
		text_add_char(pen->text, *at);
	}
	mark(pen, "`");
	text_done(&ruler);
}

static void add_ruler_row(struct pen *pen, const struct measure *measure, int stage)
{
	const struct measured *measured = &measure->stages[stage];

	mark(pen, "| ");
	add(pen, measure->label);
	text_add_format(pen->text, " | %s | ", document_stage_words[stage]);
	add_value(pen, measure, stage);
	mark(pen, " | ");
	if (measured->has_band)
		add_drawn(pen, &measured->band);
	mark(pen, " | ");
	add(pen, measured->expected);
	mark(pen, " | ");
	add(pen, measured->verdict);
	mark(pen, " |\n");
}

static void write_rulers(struct pen *pen, const struct block *block)
{
	add(pen, writer_typed_marks);
	mark(pen, "\n\n");
	mark(pen, "| ");
	add(pen, block->text);
	mark(pen, " | when | value | bar | expected | |\n| --- | --- | ---: | --- | --- | --- |\n");
	for (size_t i = 0; i < block->measure_count; i++)
		for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
			if (*block->measures[i].stages[stage].shown)
				add_ruler_row(pen, &block->measures[i], stage);
	mark(pen, "\n");
	for (size_t i = 0; i < block->measure_count; i++) {
		if (!*block->measures[i].note)
			continue;
		mark(pen, "- ");
		add(pen, block->measures[i].label);
		mark(pen, ": ");
		add(pen, block->measures[i].note);
		mark(pen, i + 1 < block->measure_count ? "\n" : "\n\n");
	}
}

static void write_trend(struct pen *pen, const struct block *block)
{
	const struct trend *trend = &block->trend;
	struct plot plot = {
		.points = trend->points, .count = trend->count, .has_limit = trend->has_limit,
		.limit = trend->limit, .limit_name = trend->limit_name, .rows = TREND_ROWS,
		.columns = TREND_COLUMNS, .plain = pen->plain,
	};

	mark(pen, "**");
	add(pen, trend->label);
	mark(pen, "**");
	if (*trend->unit) {
		mark(pen, ", ");
		add(pen, trend->unit);
	}
	if (*trend->words) {
		mark(pen, ": ");
		add(pen, trend->words);
	}
	mark(pen, "\n\n```\n");
	plot_draw(&plot, pen->text);
	mark(pen, "```\n\n");
}

const struct writer writer_markdown = {
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
