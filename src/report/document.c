/*
 * The neutral document: blocks in order, and every string kept in one chain
 * that is freed with it.  A caller adds from top to bottom and looks at
 * `failed` once, at the end.
 */
#include <padside/report/document.h>

#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/glyph.h>

#include "report/writer.h"

struct document_kept {
	struct document_kept *next; /* kept before it */
	char string[];              /* what is kept */
};

const char *const document_stage_words[DOCUMENT_STAGES] = { "as found", "as left" };

/* Makes room for one more element at the end of a list and clears it; NULL: no memory. */
static void *grow(struct document *document, void *list, size_t count, size_t size)
{
	char *bigger = NULL;

	if (!document->failed && count < SIZE_MAX / size - 1)
		bigger = realloc(list, (count + 1) * size);
	if (bigger)
		memset(bigger + count * size, 0, size);
	else
		document->failed = true;
	return bigger;
}

/* Opens a block; NULL when there is no memory. */
static struct block *open_block(struct document *document, enum block_kind kind, const char *text)
{
	const char *kept = document_keep(document, text);
	struct block *blocks = grow(document, document->blocks, document->block_count, sizeof *blocks);

	if (!blocks)
		return NULL;
	document->blocks = blocks;
	struct block *block = &blocks[document->block_count++];
	block->kind = kind;
	block->text = kept;
	block->label = "";
	return block;
}

/* The block opened last, which the caller must have opened. */
static struct block *last_block(struct document *document)
{
	assert(document->failed || document->block_count > 0);
	return document->failed ? NULL : &document->blocks[document->block_count - 1];
}

void document_init(struct document *document)
{
	*document = (struct document){ .title = "", .whose = "", .number = "" };
}

void document_done(struct document *document)
{
	for (size_t i = 0; i < document->block_count; i++) {
		free(document->blocks[i].rows);
		free(document->blocks[i].measures);
		free(document->blocks[i].trend.points);
	}
	free(document->blocks);
	while (document->kept) {
		struct document_kept *next = document->kept->next;
		free(document->kept);
		document->kept = next;
	}
	document_init(document);
}

const char *document_keep(struct document *document, const char *string)
{
	struct text safe;
	const char *result = "";

	if (document->failed || !string || *string == '\0')
		return "";
	text_init(&safe);
	glyph_add_string(&safe, string, false);
	struct document_kept *kept = safe.failed ? NULL : malloc(sizeof *kept + safe.length + 1);
	if (kept) {
		memcpy(kept->string, text_get(&safe), safe.length + 1);
		kept->next = document->kept;
		document->kept = kept;
		result = kept->string;
	} else {
		document->failed = true;
	}
	text_done(&safe);
	return result;
}

const char *document_format(struct document *document, const char *format, ...)
{
	struct text text;
	va_list arguments;

	text_init(&text);
	va_start(arguments, format);
	text_add_format_list(&text, format, arguments);
	va_end(arguments);
	document->failed = document->failed || text.failed;
	const char *kept = document_keep(document, text_get(&text));
	text_done(&text);
	return kept;
}

void document_name(struct document *document, const char *title, const char *whose,
                   const char *number)
{
	document->title = document_keep(document, title);
	document->whose = document_keep(document, whose);
	document->number = document_keep(document, number);
}

void document_heading(struct document *document, int level, const char *text)
{
	struct block *block = open_block(document, BLOCK_HEADING, text);

	assert(level >= 1 && level <= 3);
	if (block)
		block->level = level;
}

void document_paragraph(struct document *document, enum tone tone, const char *text)
{
	struct text line;

	text_init(&line);
	while (*text) {
		size_t length = strcspn(text, "\n");
		text_clear(&line);
		text_add_bytes(&line, text, length);
		document->failed = document->failed || line.failed;
		struct block *block = length > 0
			? open_block(document, BLOCK_PARAGRAPH, text_get(&line)) : NULL;
		if (block)
			block->tone = tone;
		text += length + (text[length] == '\n');
	}
	text_done(&line);
}

/* Opens a block of rows with unnamed columns. */
static struct block *open_rows(struct document *document, enum block_kind kind, const char *text,
                               int columns)
{
	struct block *block = open_block(document, kind, text);

	if (!block)
		return NULL;
	block->column_count = columns;
	for (int i = 0; i < columns; i++)
		block->columns[i] = (struct column){ .header = "", .unit = "" };
	return block;
}

void document_letterhead(struct document *document)
{
	open_rows(document, BLOCK_LETTERHEAD, "", 1);
}

void document_list(struct document *document)
{
	open_rows(document, BLOCK_LIST, "", 1);
}

void document_pairs(struct document *document)
{
	open_rows(document, BLOCK_PAIRS, "", 2);
}

void document_signature(struct document *document)
{
	open_rows(document, BLOCK_SIGNATURE, "", 1);
}

void document_finding(struct document *document, enum tone tone, const char *title,
                      const char *label)
{
	const char *kept = document_keep(document, label);
	struct block *block = open_rows(document, BLOCK_FINDING, title, 1);

	if (block) {
		block->tone = tone;
		block->label = kept;
	}
}

void document_table(struct document *document, const char *caption, const struct column *columns)
{
	struct block *block = open_block(document, BLOCK_TABLE, caption);
	int count = 0;

	for (; block && columns[count].header; count++) {
		assert(count < DOCUMENT_MOST_COLUMNS);
		block->columns[count] = columns[count];
		block->columns[count].header = document_keep(document, columns[count].header);
		block->columns[count].unit = columns[count].unit
			? document_keep(document, columns[count].unit) : "";
	}
	if (block)
		block->column_count = count;
}

void document_readings(struct document *document, const char *caption)
{
	open_block(document, BLOCK_READINGS, caption);
}

void document_rulers(struct document *document, const char *caption)
{
	open_block(document, BLOCK_RULERS, caption);
}

void document_item(struct document *document, const char *text)
{
	document_row(document, &text, ROW_PLAIN);
}

void document_pair(struct document *document, const char *name, const char *value)
{
	document_row(document, (const char *const[]){ name, value }, ROW_PLAIN);
}

void document_row(struct document *document, const char *const *cells, enum row_weight weight)
{
	struct block *block = last_block(document);

	if (!block)
		return;
	struct row *rows = grow(document, block->rows, block->row_count, sizeof *rows);
	if (!rows)
		return;
	block->rows = rows;
	struct row *row = &rows[block->row_count++];
	row->weight = weight;
	for (int i = 0; i < DOCUMENT_MOST_COLUMNS; i++)
		row->cells[i] = i < block->column_count ? document_keep(document, cells[i]) : "";
}

void document_measure(struct document *document, const struct measure *measure)
{
	struct block *block = last_block(document);

	if (!block)
		return;
	struct measure *measures = grow(document, block->measures, block->measure_count,
	                                sizeof *measures);
	if (!measures)
		return;
	block->measures = measures;
	struct measure *copy = &measures[block->measure_count++];
	*copy = *measure;
	copy->label = document_keep(document, measure->label);
	copy->unit = document_keep(document, measure->unit);
	copy->note = document_keep(document, measure->note);
	for (int i = 0; i < DOCUMENT_STAGES; i++) {
		struct measured *stage = &copy->stages[i];
		stage->shown = document_keep(document, stage->shown);
		stage->plus_minus = document_keep(document, stage->plus_minus);
		stage->at_most = document_keep(document, stage->at_most);
		stage->expected = document_keep(document, stage->expected);
		stage->verdict = document_keep(document, stage->verdict);
		stage->when = document_keep(document, stage->when);
	}
}

void document_trend(struct document *document, const struct trend *trend)
{
	struct block *block = open_block(document, BLOCK_TREND, "");

	if (!block || trend->count <= 0)
		return;
	size_t size = (size_t)trend->count * sizeof *trend->points;
	struct plot_point *points = malloc(size);
	if (!points) {
		document->failed = true;
		return;
	}
	memcpy(points, trend->points, size);
	block->trend = *trend;
	block->trend.points = points;
	block->trend.label = block->text = document_keep(document, trend->label);
	block->trend.unit = document_keep(document, trend->unit);
	block->trend.words = document_keep(document, trend->words);
	block->trend.limit_name = document_keep(document, trend->limit_name);
}

bool document_has_stage(const struct block *block, int stage)
{
	for (size_t i = 0; i < block->measure_count; i++)
		if (*block->measures[i].stages[stage].shown)
			return true;
	return false;
}
