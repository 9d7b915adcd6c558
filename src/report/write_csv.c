/*
 * The report as CSV (RFC 4180): one line an item, always the same columns, so
 * that a spreadsheet can sort and filter it.
 *
 * csv_add_field() sees to it that no field is a formula.
 */
#include "report/writer.h"

#include <math.h>
#include <string.h>

#include <padside/base/clock.h>
#include <padside/base/csv.h>
#include <padside/base/glyph.h>
#include <padside/base/number.h>

/* The columns of a line. */
struct csv_line {
	const char *item;       /* what */
	const char *stage;      /* as found, as left */
	const char *value;      /* number or words */
	const char *unit;       /* of the value */
	const char *plus_minus; /* of the value */
	const char *expected;   /* of a sound unit */
	const char *words;      /* everything else */
	const char *time;       /* when */
};

/* Made safe for the eye first, so that what is guarded is what is written. */
static void add_field(struct pen *pen, const char *field, bool *first)
{
	struct text shown;

	text_init(&shown);
	glyph_add_string(&shown, field + strspn(field, " "), pen->plain);
	csv_add_field(pen->text, text_get(&shown), first);
	text_done(&shown);
}

static void add_line(struct pen *pen, const struct csv_line *line)
{
	const char *const fields[] = {
		line->item, line->stage, line->value, line->unit, line->plus_minus,
		line->expected, line->words, line->time,
	};
	const size_t count = sizeof fields / sizeof *fields;
	struct text section;
	bool first = true;

	text_init(&section);
	text_add(&section, pen->section ? pen->section : "");
	if (pen->part)
		text_add_format(&section, ": %s", pen->part);
	add_field(pen, text_get(&section), &first);
	for (size_t i = 0; i < count; i++)
		add_field(pen, fields[i] ? fields[i] : "", &first);
	csv_end_record(pen->text);
	text_done(&section);
}

static void begin(struct pen *pen)
{
	text_add(pen->text, "section,item,stage,value,unit,plus_minus,expected,words,time\r\n");
}

static void write_letterhead(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++)
		add_line(pen, &(struct csv_line){ .item = "from", .value = block->rows[i].cells[0] });
}

static void write_heading(struct pen *pen, const struct block *block)
{
	if (block->level < 3)
		pen->section = block->text;
	pen->part = block->level == 3 ? block->text : NULL;
}

static void write_paragraph(struct pen *pen, const struct block *block)
{
	add_line(pen, &(struct csv_line){ .item = writer_tone_word(block->tone),
	                                  .words = block->text });
}

static void write_list(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++)
		add_line(pen, &(struct csv_line){ .words = block->rows[i].cells[0] });
}

static void write_pairs(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++)
		add_line(pen, &(struct csv_line){ .item = block->rows[i].cells[0],
		                                  .value = block->rows[i].cells[1] });
}

/* A line to sign on has nothing to tell a spreadsheet. */
static void write_nothing(struct pen *pen, const struct block *block)
{
	(void)pen, (void)block;
}

static void write_finding(struct pen *pen, const struct block *block)
{
	struct text words;

	text_init(&words);
	text_add(&words, writer_tone_word(block->tone));
	for (size_t i = 0; i < block->row_count; i++)
		text_add_format(&words, "; %s", block->rows[i].cells[0]);
	add_line(pen, &(struct csv_line){ .item = block->text, .value = block->label,
	                                  .words = text_get(&words) });
	text_done(&words);
}

/* A number without the commas that group it. */
static void add_ungrouped(struct text *text, const char *number)
{
	for (; *number; number++)
		if (*number != ',')
			text_add_char(text, *number);
}

static void add_table_row(struct pen *pen, const struct block *block, const struct row *row)
{
	struct csv_line line = { .item = row->cells[0] };
	struct text words, value;

	text_init(&words);
	text_init(&value);
	for (int i = 1; i < block->column_count; i++) {
		const struct column *column = &block->columns[i];
		if (column->is_value && column->is_number)
			add_ungrouped(&value, row->cells[i]);
		else if (column->is_value)
			text_add(&value, row->cells[i]);
		else if (*row->cells[i])
			text_add_format(&words, "%s%s: %s", words.length ? "; " : "", column->header,
			                row->cells[i]);
		if (column->is_value && *row->cells[i])
			line.unit = column->unit;
	}
	line.value = text_get(&value);
	line.words = text_get(&words);
	add_line(pen, &line);
	text_done(&words);
	text_done(&value);
}

static void write_table(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++)
		add_table_row(pen, block, &block->rows[i]);
}

static void write_measures(struct pen *pen, const struct block *block)
{
	for (size_t i = 0; i < block->measure_count; i++)
		for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
			const struct measure *measure = &block->measures[i];
			const struct measured *measured = &measure->stages[stage];
			if (!*measured->shown)
				continue;
			add_line(pen, &(struct csv_line){
				.item = measure->label, .stage = document_stage_words[stage],
				.value = measured->shown, .unit = measured->is_number ? measure->unit : "",
				.plus_minus = measured->plus_minus, .expected = measured->expected,
				.words = measured->verdict, .time = measured->when,
			});
		}
}

static void write_trend(struct pen *pen, const struct block *block)
{
	const struct trend *trend = &block->trend;
	char value[NUMBER_SIZE], limit[NUMBER_SIZE] = "", date[CLOCK_TEXT_SIZE];

	if (trend->has_limit)
		number_format_exact(trend->limit, limit, sizeof limit);
	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		number_format_exact(trend->points[i].value, value, sizeof value);
		clock_format_date(trend->points[i].at, date, sizeof date);
		add_line(pen, &(struct csv_line){
			.item = trend->label, .value = value, .unit = trend->unit, .expected = limit,
			.words = i + 1 == trend->count ? trend->words : "", .time = date,
		});
	}
}

const struct writer writer_csv = {
	.begin = begin,
	.blocks = {
		[BLOCK_LETTERHEAD] = write_letterhead,
		[BLOCK_HEADING] = write_heading,
		[BLOCK_PARAGRAPH] = write_paragraph,
		[BLOCK_LIST] = write_list,
		[BLOCK_PAIRS] = write_pairs,
		[BLOCK_TABLE] = write_table,
		[BLOCK_FINDING] = write_finding,
		[BLOCK_READINGS] = write_measures,
		[BLOCK_RULERS] = write_measures,
		[BLOCK_TREND] = write_trend,
		[BLOCK_SIGNATURE] = write_nothing,
	},
};
