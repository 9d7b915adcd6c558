/*
 * The report as one HTML page: no scripts, nothing loaded from elsewhere,
 * drawings inline.  It prints on Letter and on A4, with whose it is and the
 * page at the foot of every sheet; on a phone a wide table becomes one card a
 * row, each cell with its column's name; it reads well aloud (headings
 * in order, headers with their scope, every drawing with its words), and says
 * nothing by colour alone.
 */
#include "report/html.h"

#include <string.h>

#include "report/page_style.h"

/* What counts as a short value. */
enum { BRIEF_COLUMNS = 20 };

/* Whose it is and the page, at the foot of every printed sheet (CSS Paged Media, margin boxes). */
static void add_sheet_foot(struct pen *pen)
{
	html_mark(pen, pen->document->is_a4 ? "@page { size: A4; } " : "");
	html_mark(pen, "@page { @bottom-left { content: ");
	html_add_css_string(pen, pen->document->whose);
	html_mark(pen, "; } @bottom-right { content: ");
	html_add_css_string(pen, pen->document->number);
	html_mark(pen, *pen->document->number ? " \", page \"" : " \"page \"");
	html_mark(pen, " counter(page) \" of \" counter(pages); } }\n");
}

static void begin(struct pen *pen)
{
	html_mark(pen, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
	          "<meta http-equiv=\"Content-Security-Policy\" "
	          "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">\n"
	          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
	html_element(pen, "<title>", pen->document->title, "</title>\n");
	html_mark(pen, "<style>\n");
	for (const char *const *rule = page_style; *rule; rule++)
		html_mark(pen, *rule);
	add_sheet_foot(pen);
	html_mark(pen, "</style>\n</head>\n");
	html_mark(pen, pen->document->is_dense ? "<body class=\"dense\">\n<main>\n"
	                                       : "<body>\n<main>\n");
}

static void end(struct pen *pen)
{
	html_mark(pen, pen->is_open ? "</section>\n" : "");
	html_mark(pen, "</main>\n</body>\n</html>\n");
}

static void write_letterhead(struct pen *pen, const struct block *block)
{
	const struct picture *logo = &pen->document->logo;

	html_mark(pen, "<header>\n");
	if (logo->bytes) {
		html_mark(pen, logo->is_jpeg ? "<img alt=\"\" src=\"data:image/jpeg;base64,"
		                             : "<img alt=\"\" src=\"data:image/png;base64,");
		html_add_base64(pen, logo->bytes, logo->length);
		html_mark(pen, "\">\n");
	}
	for (size_t i = 0; i < block->row_count; i++)
		html_element(pen, i == 0 ? "<p class=\"company\">" : "<p>", block->rows[i].cells[0],
		             "</p>\n");
	html_mark(pen, "</header>\n");
}

static void write_heading(struct pen *pen, const struct block *block)
{
	if (block->level == 2) {
		html_mark(pen, pen->is_open ? "</section>\n" : "");
		text_add_format(pen->text, "<section aria-labelledby=\"s%d\">\n<h2 id=\"s%d\">",
		                pen->serial + 1, pen->serial + 1);
		pen->serial++;
		pen->is_open = true;
		html_element(pen, "", block->text, "</h2>\n");
	} else {
		html_element(pen, block->level == 1 ? "<h1>" : "<h3>", block->text,
		             block->level == 1 ? "</h1>\n" : "</h3>\n");
	}
	pen->part = block->level == 3 ? block->text : NULL;
}

static void write_paragraph(struct pen *pen, const struct block *block)
{
	static const char *const open[TONE_COUNT] = {
		[TONE_LEAD] = "<p class=\"lead\">", [TONE_SMALL] = "<p class=\"small\">",
		[TONE_CAUTION] = "<p class=\"caution\"><strong>Caution:</strong> ",
	};

	html_element(pen, open[block->tone] ? open[block->tone] : "<p>", block->text, "</p>\n");
}

static void add_items(struct pen *pen, const struct block *block)
{
	html_mark(pen, "<ul>\n");
	for (size_t i = 0; i < block->row_count; i++)
		html_element(pen, "<li>", block->rows[i].cells[0], "</li>\n");
	html_mark(pen, "</ul>\n");
}

/* Whether all values are short, so that pairs can stand side by side. */
static bool is_brief(const struct block *block)
{
	for (size_t i = 0; i < block->row_count; i++)
		if (text_columns(block->rows[i].cells[1]) > BRIEF_COLUMNS)
			return false;
	return true;
}

static void write_pairs(struct pen *pen, const struct block *block)
{
	html_mark(pen, is_brief(block) ? "<dl class=\"brief\">\n" : "<dl>\n");
	for (size_t i = 0; i < block->row_count; i++) {
		html_element(pen, "<div><dt>", block->rows[i].cells[0], "</dt>");
		html_element(pen, "<dd>", block->rows[i].cells[1], "</dd></div>\n");
	}
	html_mark(pen, "</dl>\n");
}

static void write_signature(struct pen *pen, const struct block *block)
{
	html_mark(pen, "<div class=\"sign\">\n");
	for (size_t i = 0; i < block->row_count; i++)
		html_element(pen, "<p>", block->rows[i].cells[0], "</p>\n");
	html_mark(pen, "</div>\n");
}

static void write_finding(struct pen *pen, const struct block *block)
{
	static const char *const classes[TONE_COUNT] = {
		[TONE_NOTE] = "note", [TONE_WATCH] = "watch", [TONE_ACT] = "act",
		[TONE_GONE] = "gone",
	};
	/* Under "After the work" it is one level down. */
	int level = pen->part ? 4 : 3;

	text_add_format(pen->text, "<div class=\"finding %s\">\n<h%d>",
	                classes[block->tone] ? classes[block->tone] : "note", level);
	html_add(pen, block->text);
	if (*block->label)
		html_element(pen, "<span class=\"sure\">: ", block->label, "</span>");
	html_element(pen, " <span class=\"tag\">", writer_tone_word(block->tone), "</span>");
	text_add_format(pen->text, "</h%d>\n", level);
	if (block->row_count == 1)
		html_element(pen, "<p>", block->rows[0].cells[0], "</p>\n");
	else if (block->row_count > 1)
		add_items(pen, block);
	html_mark(pen, "</div>\n");
}

/* ---- Tables ---- */

/* More columns than a phone has room for. */
static bool is_wide(const struct block *block)
{
	return block->column_count > 4;
}

/* Opens a cell that a phone shows behind its column's name. */
static void open_cell(struct pen *pen, const char *classes, const char *name)
{
	text_add_format(pen->text, *classes ? "<td class=\"%s\"" : "<td", classes);
	if (*name)
		html_element(pen, " data-name=\"", name, "\"");
	html_mark(pen, ">");
}

static void add_table_row(struct pen *pen, const struct block *block, const struct row *row)
{
	html_mark(pen, row->weight == ROW_SUBTOTAL ? "<tr class=\"subtotal\">" : "<tr>");
	html_element(pen, "<th scope=\"row\">", row->cells[0], "</th>");
	for (int i = 1; i < block->column_count; i++) {
		bool brief = text_columns(row->cells[i]) <= BRIEF_COLUMNS;
		open_cell(pen, block->columns[i].is_number ? "n" : brief ? "brief" : "",
		          is_wide(block) && *row->cells[i] ? block->columns[i].header : "");
		html_element(pen, "", row->cells[i], "</td>");
	}
	html_mark(pen, "</tr>\n");
}

static void add_rows(struct pen *pen, const struct block *block, bool totals)
{
	const char *part = totals ? "tfoot" : "tbody";
	bool open = false;

	for (size_t i = 0; i < block->row_count; i++) {
		if ((block->rows[i].weight == ROW_TOTAL) != totals)
			continue;
		if (!open)
			text_add_format(pen->text, "<%s>\n", part);
		open = true;
		add_table_row(pen, block, &block->rows[i]);
	}
	if (open)
		text_add_format(pen->text, "</%s>\n", part);
}

static void write_table(struct pen *pen, const struct block *block)
{
	html_mark(pen, is_wide(block) ? "<table class=\"cards\">\n" : "<table>\n");
	html_element(pen, "<caption class=\"aloud\">", block->text, "</caption>\n");
	html_mark(pen, "<thead><tr>");
	for (int i = 0; i < block->column_count; i++)
		html_element(pen, block->columns[i].is_number ? "<th scope=\"col\" class=\"n\">"
		                                              : "<th scope=\"col\">",
		             block->columns[i].header, "</th>");
	html_mark(pen, "</tr></thead>\n");
	add_rows(pen, block, false);
	add_rows(pen, block, true);
	html_mark(pen, "</table>\n");
}

static void add_value(struct pen *pen, const struct measure *measure, int stage)
{
	struct text value;

	text_init(&value);
	writer_add_value(&value, measure, stage, false);
	html_add(pen, text_get(&value));
	text_done(&value);
}

/* The verdict; anything but good stands out, by weight and not only by colour. */
static void add_verdict(struct pen *pen, const char *verdict)
{
	bool good = strcmp(verdict, "good") == 0;

	if (*verdict)
		html_element(pen, good ? "<span class=\"good\">" : "<strong>", verdict,
		             good ? "</span>" : "</strong>");
}

static void add_reading(struct pen *pen, const struct block *block, const struct measure *measure,
                        bool has_expected)
{
	html_element(pen, "<tr><th scope=\"row\">", measure->label, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		if (!document_has_stage(block, stage))
			continue;
		html_mark(pen, "<td class=\"n\">");
		add_value(pen, measure, stage);
		html_mark(pen, *measure->stages[stage].verdict ? " " : "");
		add_verdict(pen, measure->stages[stage].verdict);
		html_mark(pen, "</td>");
	}
	if (has_expected)
		html_element(pen, "<td class=\"n\">", writer_expected(measure), "</td>");
	html_mark(pen, "</tr>\n");
}

static void write_readings(struct pen *pen, const struct block *block)
{
	bool has_expected = writer_has_expected(block);

	html_mark(pen, "<table class=\"readings\">\n");
	html_element(pen, "<caption class=\"aloud\">", block->text, "</caption>\n");
	html_element(pen, "<thead><tr><th scope=\"col\">", block->text, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (document_has_stage(block, stage))
			html_element(pen, "<th scope=\"col\" class=\"n\">", document_stage_words[stage],
			             "</th>");
	html_mark(pen, has_expected ? "<th scope=\"col\" class=\"n\">expected</th>" : "");
	html_mark(pen, "</tr></thead>\n<tbody>\n");
	for (size_t i = 0; i < block->measure_count; i++)
		add_reading(pen, block, &block->measures[i], has_expected);
	html_mark(pen, "</tbody>\n</table>\n");
}

/* ---- Drawings ---- */

static void add_ruler_row(struct pen *pen, const struct measure *measure)
{
	html_element(pen, "<tr><th scope=\"row\">", measure->label, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		const struct measured *measured = &measure->stages[stage];
		open_cell(pen, "n", *measured->shown ? document_stage_words[stage] : "");
		add_value(pen, measure, stage);
		html_mark(pen, *measured->verdict ? "</td><td class=\"verdict\">" : "</td><td>");
		add_verdict(pen, measured->verdict);
		html_mark(pen, "</td>");
	}
	html_mark(pen, "<td class=\"drawn\">");
	if (measure->stages[0].has_band || measure->stages[DOCUMENT_STAGES - 1].has_band)
		html_add_ruler(pen, measure);
	html_mark(pen, "</td>");
	open_cell(pen, "", *writer_expected(measure) ? "expected" : "");
	if (!html_shares_ruler(measure))
		html_element(pen, "", measure->stages[0].expected, "<br>");
	html_add(pen, writer_expected(measure));
	if (*measure->note)
		html_element(pen, "<small>", measure->note, "</small>");
	html_mark(pen, "</td></tr>\n");
}

static void write_rulers(struct pen *pen, const struct block *block)
{
	html_mark(pen,
	          "<p class=\"small\">Hollow mark: as found. Filled mark: as left. The line through "
	          "a mark: how far the meters may be off (95 %).</p>\n");
	html_mark(pen, "<table class=\"rulers cards\">\n");
	html_element(pen, "<caption class=\"aloud\">", block->text,
	             "</caption>\n<thead><tr><th scope=\"col\">");
	html_add(pen, block->text);
	html_mark(pen, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		html_element(pen, "<th scope=\"colgroup\" colspan=\"2\" class=\"stage\">",
		             document_stage_words[stage], stage == 0
		             ? " <svg class=\"key\" viewBox=\"0 0 16 16\" aria-hidden=\"true\">"
		               "<path class=\"found\" d=\"M8 2 14 8 8 14 2 8Z\"/></svg></th>"
		             : " <svg class=\"key\" viewBox=\"0 0 16 16\" aria-hidden=\"true\">"
		               "<path class=\"left\" d=\"M8 2 14 8 8 14 2 8Z\"/></svg></th>");
	}
	html_mark(pen, "<th scope=\"col\">on its bar</th><th scope=\"col\">expected</th></tr>"
	          "</thead>\n<tbody>\n");
	for (size_t i = 0; i < block->measure_count; i++)
		add_ruler_row(pen, &block->measures[i]);
	html_mark(pen, "</tbody>\n</table>\n");
}

static void write_trend(struct pen *pen, const struct block *block)
{
	const struct trend *trend = &block->trend;

	html_mark(pen, "<figure>\n");
	html_add_trend(pen, trend);
	html_element(pen, "<figcaption><strong>", trend->label, "</strong>");
	if (*trend->unit)
		html_element(pen, ", ", trend->unit, "");
	if (*trend->words)
		html_element(pen, ": ", trend->words, "");
	html_mark(pen, "</figcaption>\n</figure>\n");
}

const struct writer writer_html = {
	.begin = begin,
	.blocks = {
		[BLOCK_LETTERHEAD] = write_letterhead,
		[BLOCK_HEADING] = write_heading,
		[BLOCK_PARAGRAPH] = write_paragraph,
		[BLOCK_LIST] = add_items,
		[BLOCK_PAIRS] = write_pairs,
		[BLOCK_TABLE] = write_table,
		[BLOCK_FINDING] = write_finding,
		[BLOCK_READINGS] = write_readings,
		[BLOCK_RULERS] = write_rulers,
		[BLOCK_TREND] = write_trend,
		[BLOCK_SIGNATURE] = write_signature,
	},
	.end = end,
};
