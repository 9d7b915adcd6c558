/*
 * The paper as one HTML page: no scripts, nothing loaded from elsewhere,
 * drawings inline.  It prints on Letter and on A4, reads well aloud (headings
 * in order, headers with their scope, every drawing with its words), and says
 * nothing by colour alone.
 */
#include "report/writer.h"

#include <math.h>
#include <string.h>

#include <padside/clock.h>
#include <padside/number.h>

#include "report/page_style.h"

/* Sizes of the drawings in their own units. */
enum {
	RULER_WIDTH = 200, RULER_HEIGHT = 16, RULER_EDGE = 8,
	TREND_WIDTH = 640, TREND_HEIGHT = 150, TREND_LEFT = 60, TREND_RIGHT = 16,
	TREND_TOP = 16, TREND_BOTTOM = 30
};

/* What counts as a short value among pairs. */
enum { BRIEF_COLUMNS = 20 };

static void mark(struct pen *pen, const char *string)
{
	text_add(pen->text, string);
}

/* Text from the document: nothing in it is markup. */
static void add(struct pen *pen, const char *string)
{
	for (; *string; string++) {
		switch (*string) {
		case '&': mark(pen, "&amp;"); break;
		case '<': mark(pen, "&lt;"); break;
		case '>': mark(pen, "&gt;"); break;
		case '"': mark(pen, "&quot;"); break;
		case '\'': mark(pen, "&#39;"); break;
		default: text_add_char(pen->text, *string);
		}
	}
}

/* An element of one line with text from the document. */
static void element(struct pen *pen, const char *open, const char *string, const char *close)
{
	mark(pen, open);
	add(pen, string);
	mark(pen, close);
}

static const char *title_of(const struct document *document)
{
	for (size_t i = 0; i < document->block_count; i++)
		if (document->blocks[i].kind == BLOCK_HEADING && document->blocks[i].level == 1)
			return document->blocks[i].text;
	return "";
}

static void begin(struct pen *pen, const struct document *document)
{
	mark(pen, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
	     "<meta http-equiv=\"Content-Security-Policy\" "
	     "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
	     "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
	element(pen, "<title>", title_of(document), "</title>\n");
	mark(pen, "<style>\n");
	for (const char *const *rule = page_style; *rule; rule++)
		mark(pen, *rule);
	mark(pen, "</style>\n</head>\n<body>\n<main>\n");
}

static void end(struct pen *pen)
{
	mark(pen, pen->is_open ? "</section>\n" : "");
	mark(pen, "</main>\n</body>\n</html>\n");
}

static void write_letterhead(struct pen *pen, const struct block *block)
{
	mark(pen, "<header>\n");
	for (size_t i = 0; i < block->row_count; i++)
		element(pen, i == 0 ? "<p class=\"company\">" : "<p>", block->rows[i].cells[0], "</p>\n");
	mark(pen, "</header>\n");
}

static void write_heading(struct pen *pen, const struct block *block)
{
	if (block->level == 2) {
		mark(pen, pen->is_open ? "</section>\n" : "");
		text_add_format(pen->text, "<section aria-labelledby=\"s%d\">\n<h2 id=\"s%d\">",
		                pen->serial + 1, pen->serial + 1);
		pen->serial++;
		pen->is_open = true;
		element(pen, "", block->text, "</h2>\n");
	} else {
		element(pen, block->level == 1 ? "<h1>" : "<h3>", block->text,
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

	element(pen, open[block->tone] ? open[block->tone] : "<p>", block->text, "</p>\n");
}

static void add_items(struct pen *pen, const struct block *block)
{
	mark(pen, "<ul>\n");
	for (size_t i = 0; i < block->row_count; i++)
		element(pen, "<li>", block->rows[i].cells[0], "</li>\n");
	mark(pen, "</ul>\n");
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
	mark(pen, is_brief(block) ? "<dl class=\"brief\">\n" : "<dl>\n");
	for (size_t i = 0; i < block->row_count; i++) {
		element(pen, "<div><dt>", block->rows[i].cells[0], "</dt>");
		element(pen, "<dd>", block->rows[i].cells[1], "</dd></div>\n");
	}
	mark(pen, "</dl>\n");
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
	add(pen, block->text);
	if (*block->label)
		element(pen, "<span class=\"sure\">: ", block->label, "</span>");
	element(pen, " <span class=\"tag\">", writer_tone_word(block->tone), "</span>");
	text_add_format(pen->text, "</h%d>\n", level);
	if (block->row_count > 0)
		add_items(pen, block);
	mark(pen, "</div>\n");
}

/* ---- Tables ---- */

static void add_table_row(struct pen *pen, const struct block *block, const struct row *row)
{
	mark(pen, "<tr>");
	for (int i = 0; i < block->column_count; i++) {
		if (i == 0)
			element(pen, "<th scope=\"row\">", row->cells[i], "</th>");
		else
			element(pen, block->columns[i].is_number ? "<td class=\"n\">" : "<td>",
			        row->cells[i], "</td>");
	}
	mark(pen, "</tr>\n");
}

static void add_rows(struct pen *pen, const struct block *block, bool totals)
{
	const char *part = totals ? "tfoot" : "tbody";
	bool open = false;

	for (size_t i = 0; i < block->row_count; i++) {
		if (block->rows[i].is_total != totals)
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
	mark(pen, "<table>\n");
	element(pen, "<caption class=\"aloud\">", block->text, "</caption>\n");
	mark(pen, "<thead><tr>");
	for (int i = 0; i < block->column_count; i++)
		element(pen, block->columns[i].is_number ? "<th scope=\"col\" class=\"n\">"
		                                         : "<th scope=\"col\">",
		        block->columns[i].header, "</th>");
	mark(pen, "</tr></thead>\n");
	add_rows(pen, block, false);
	add_rows(pen, block, true);
	mark(pen, "</table>\n");
}

static void add_value(struct pen *pen, const struct measure *measure, int stage)
{
	struct text value;

	text_init(&value);
	writer_add_value(&value, measure, stage, false);
	add(pen, text_get(&value));
	text_done(&value);
}

/* The verdict; anything but good stands out, by weight and not only by colour. */
static void add_verdict(struct pen *pen, const char *verdict)
{
	if (*verdict)
		element(pen, strcmp(verdict, "good") == 0 ? "<span class=\"good\">" : "<strong>", verdict,
		        strcmp(verdict, "good") == 0 ? "</span>" : "</strong>");
}

static void add_reading(struct pen *pen, const struct block *block, const struct measure *measure,
                        bool has_expected)
{
	element(pen, "<tr><th scope=\"row\">", measure->label, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		if (!document_has_stage(block, stage))
			continue;
		mark(pen, "<td class=\"n\">");
		add_value(pen, measure, stage);
		mark(pen, *measure->stages[stage].verdict ? " " : "");
		add_verdict(pen, measure->stages[stage].verdict);
		mark(pen, "</td>");
	}
	if (has_expected)
		element(pen, "<td class=\"n\">", writer_expected(measure), "</td>");
	mark(pen, "</tr>\n");
}

static void write_readings(struct pen *pen, const struct block *block)
{
	bool has_expected = writer_has_expected(block);

	mark(pen, "<table class=\"readings\">\n");
	element(pen, "<caption class=\"aloud\">", block->text, "</caption>\n");
	element(pen, "<thead><tr><th scope=\"col\">", block->text, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
		if (document_has_stage(block, stage))
			element(pen, "<th scope=\"col\" class=\"n\">", document_stage_words[stage], "</th>");
	mark(pen, has_expected ? "<th scope=\"col\" class=\"n\">expected</th>" : "");
	mark(pen, "</tr></thead>\n<tbody>\n");
	for (size_t i = 0; i < block->measure_count; i++)
		add_reading(pen, block, &block->measures[i], has_expected);
	mark(pen, "</tbody>\n</table>\n");
}

/* ---- Rulers ---- */

/* A coordinate of a drawing, with one decimal. */
static void coordinate(struct pen *pen, const char *name, double value)
{
	char number[NUMBER_SIZE];

	number_format(value, 1, number, sizeof number);
	text_add_format(pen->text, " %s=\"%s\"", name, number);
}

static double ruler_x(const struct band *band, double value)
{
	double share = (value - band->scale_low) / (band->scale_high - band->scale_low);

	return RULER_EDGE + fmax(0, fmin(1, share)) * (RULER_WIDTH - 2 * RULER_EDGE);
}

/* The words of a drawing, for those who cannot see it. */
static void add_drawing_words(struct pen *pen, const char *title, const char *words)
{
	pen->serial++;
	text_add_format(pen->text, " role=\"img\" aria-labelledby=\"g%d d%d\">", pen->serial,
	                pen->serial);
	text_add_format(pen->text, "<title id=\"g%d\">", pen->serial);
	add(pen, title);
	text_add_format(pen->text, "</title><desc id=\"d%d\">", pen->serial);
	add(pen, words);
	mark(pen, "</desc>");
}

static void add_stretch(struct pen *pen, const struct band *band)
{
	double from = ruler_x(band, isfinite(band->low) ? band->low : band->scale_low);
	double to = ruler_x(band, isfinite(band->high) ? band->high : band->scale_high);

	mark(pen, "<rect class=\"stretch\" y=\"4\" height=\"8\"");
	coordinate(pen, "x", from);
	coordinate(pen, "width", fmax(to - from, 2));
	mark(pen, "/>");
}

/* The mark: a diamond where the reading stands, an arrow where that is off the ruler. */
static void add_mark(struct pen *pen, const struct band *band, bool is_left)
{
	double x = ruler_x(band, band->value);
	const char *shape = band->value < band->scale_low ? "M-6 0 5 -6V6Z"
		: band->value > band->scale_high ? "M6 0-5 -6V6Z" : "M0 -6 6 0 0 6-6 0Z";
	char number[NUMBER_SIZE];

	mark(pen, "<line class=\"spread\" y1=\"8\" y2=\"8\"");
	coordinate(pen, "x1", ruler_x(band, band->value - band->plus_minus));
	coordinate(pen, "x2", ruler_x(band, band->value + band->plus_minus));
	number_format(x, 1, number, sizeof number);
	text_add_format(pen->text, "/><path class=\"%s\" transform=\"translate(%s 8)\" d=\"%s\"/>",
	                is_left ? "left" : "found", number, shape);
}

/* Whether both stages are held to the same stretch, so that one ruler serves them. */
static bool shares_ruler(const struct measure *measure)
{
	const struct measured *found = &measure->stages[0];
	const struct measured *left = &measure->stages[DOCUMENT_STAGES - 1];

	return !found->has_band || !left->has_band || strcmp(found->expected, left->expected) == 0;
}

/* "as found 21.0 °F, high; as left 9.9 °F, good; expected 3 to 13". */
static void describe_ruler(const struct measure *measure, struct text *words)
{
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		if (!*measure->stages[stage].shown)
			continue;
		text_add_format(words, "%s%s ", words->length ? "; " : "", document_stage_words[stage]);
		writer_add_value(words, measure, stage, false);
		text_add_format(words, ", %s", measure->stages[stage].verdict);
	}
	text_add_format(words, "; expected %s", writer_expected(measure));
}

/* One line of a ruler, `down` from the top, for the stages from `first` to `last`. */
static void add_ruler_line(struct pen *pen, const struct measure *measure, int first, int last,
                           int down)
{
	const struct band *band = measure->stages[last].has_band ? &measure->stages[last].band
	                                                         : &measure->stages[first].band;

	text_add_format(pen->text, "<g transform=\"translate(0 %d)\">"
	                "<path class=\"rule\" d=\"M%d 3v10m0-5H%dm0-5v10\"/>",
	                down, RULER_EDGE, RULER_WIDTH - RULER_EDGE);
	add_stretch(pen, band);
	for (int stage = first; stage <= last; stage++)
		if (measure->stages[stage].has_band)
			add_mark(pen, &measure->stages[stage].band, stage == DOCUMENT_STAGES - 1);
	mark(pen, "</g>");
}

static void add_ruler(struct pen *pen, const struct measure *measure)
{
	const int last = DOCUMENT_STAGES - 1;
	bool shared = shares_ruler(measure);
	struct text words;

	text_init(&words);
	describe_ruler(measure, &words);
	text_add_format(pen->text, "<svg class=\"ruler\" viewBox=\"0 0 %d %d\"", RULER_WIDTH,
	                RULER_HEIGHT * (shared ? 1 : 2));
	add_drawing_words(pen, measure->label, text_get(&words));
	if (shared) {
		add_ruler_line(pen, measure, 0, last, 0);
	} else {
		add_ruler_line(pen, measure, 0, 0, 0);
		add_ruler_line(pen, measure, last, last, RULER_HEIGHT);
	}
	mark(pen, "</svg>");
	text_done(&words);
}

static void add_ruler_row(struct pen *pen, const struct measure *measure)
{
	element(pen, "<tr><th scope=\"row\">", measure->label, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		mark(pen, "<td class=\"n\">");
		add_value(pen, measure, stage);
		mark(pen, "</td><td>");
		add_verdict(pen, measure->stages[stage].verdict);
		mark(pen, "</td>");
	}
	mark(pen, "<td class=\"drawn\">");
	if (measure->stages[0].has_band || measure->stages[DOCUMENT_STAGES - 1].has_band)
		add_ruler(pen, measure);
	mark(pen, "</td><td>");
	if (!shares_ruler(measure))
		element(pen, "", measure->stages[0].expected, "<br>");
	add(pen, writer_expected(measure));
	if (*measure->note)
		element(pen, "<small>", measure->note, "</small>");
	mark(pen, "</td></tr>\n");
}

static void write_rulers(struct pen *pen, const struct block *block)
{
	mark(pen, "<table class=\"rulers\">\n");
	element(pen, "<caption class=\"aloud\">", block->text,
	        "</caption>\n<thead><tr><th scope=\"col\">");
	add(pen, block->text);
	mark(pen, "</th>");
	for (int stage = 0; stage < DOCUMENT_STAGES; stage++) {
		element(pen, "<th scope=\"colgroup\" colspan=\"2\" class=\"stage\">",
		        document_stage_words[stage], stage == 0
		        ? " <svg class=\"key\" viewBox=\"0 0 16 16\" aria-hidden=\"true\">"
		          "<path class=\"found\" d=\"M8 2 14 8 8 14 2 8Z\"/></svg></th>"
		        : " <svg class=\"key\" viewBox=\"0 0 16 16\" aria-hidden=\"true\">"
		          "<path class=\"left\" d=\"M8 2 14 8 8 14 2 8Z\"/></svg></th>");
	}
	mark(pen, "<th scope=\"col\">on its ruler</th><th scope=\"col\">expected</th></tr></thead>\n"
	     "<tbody>\n");
	for (size_t i = 0; i < block->measure_count; i++)
		add_ruler_row(pen, &block->measures[i]);
	mark(pen, "</tbody>\n</table>\n");
}

/* ---- Trends ---- */

/* The frame of a trend: what its edges stand for. */
struct frame {
	double low, high;      /* values at the bottom and at the top */
	wall_time first, last; /* times at the left and at the right */
};

static void widen(struct frame *frame, double value)
{
	frame->low = fmin(frame->low, value);
	frame->high = fmax(frame->high, value);
}

/* False when there is nothing to draw. */
static bool frame_of(const struct trend *trend, struct frame *frame)
{
	bool any = false;

	*frame = (struct frame){ .low = INFINITY, .high = -INFINITY };
	for (int i = 0; i < trend->count; i++) {
		const struct plot_point *point = &trend->points[i];
		if (!isfinite(point->value))
			continue;
		widen(frame, point->value);
		frame->first = !any || point->at < frame->first ? point->at : frame->first;
		frame->last = !any || point->at > frame->last ? point->at : frame->last;
		any = true;
	}
	if (any && trend->has_limit)
		widen(frame, trend->limit);
	if (any && !(frame->low < frame->high)) {
		frame->low -= 1;
		frame->high += 1;
	}
	return any;
}

static double trend_y(const struct frame *frame, double value)
{
	double share = (value - frame->low) / (frame->high - frame->low);

	return TREND_HEIGHT - TREND_BOTTOM - share * (TREND_HEIGHT - TREND_TOP - TREND_BOTTOM);
}

static double trend_x(const struct frame *frame, wall_time at)
{
	double span = (double)(frame->last - frame->first);
	double share = span > 0 ? (double)(at - frame->first) / span : 0.5;

	return TREND_LEFT + share * (TREND_WIDTH - TREND_LEFT - TREND_RIGHT);
}

static void add_label(struct pen *pen, double x, double y, const char *anchor, const char *words)
{
	text_add_format(pen->text, "<text text-anchor=\"%s\"", anchor);
	coordinate(pen, "x", x);
	coordinate(pen, "y", y);
	element(pen, ">", words, "</text>");
}

static void add_scale(struct pen *pen, const struct frame *frame)
{
	char words[NUMBER_SIZE];
	double right = TREND_WIDTH - TREND_RIGHT, bottom = TREND_HEIGHT - TREND_BOTTOM;

	text_add_format(pen->text, "<path class=\"rule\" d=\"M%d %dV%dH%d\"/>", TREND_LEFT - 6,
	                TREND_TOP - 6, TREND_HEIGHT - TREND_BOTTOM + 6, TREND_WIDTH - TREND_RIGHT + 6);
	number_format(frame->low, 1, words, sizeof words);
	add_label(pen, TREND_LEFT - 10, bottom + 4, "end", words);
	number_format(frame->high, 1, words, sizeof words);
	add_label(pen, TREND_LEFT - 10, TREND_TOP + 4, "end", words);
	clock_format_date(frame->first, words, sizeof words);
	add_label(pen, TREND_LEFT, TREND_HEIGHT - 4, "start", words);
	if (frame->last > frame->first) {
		clock_format_date(frame->last, words, sizeof words);
		add_label(pen, right, TREND_HEIGHT - 4, "end", words);
	}
}

static void add_points(struct pen *pen, const struct trend *trend, const struct frame *frame)
{
	char x[NUMBER_SIZE], y[NUMBER_SIZE];

	mark(pen, "<polyline class=\"course\" points=\"");
	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		number_format(trend_x(frame, trend->points[i].at), 1, x, sizeof x);
		number_format(trend_y(frame, trend->points[i].value), 1, y, sizeof y);
		text_add_format(pen->text, "%s,%s ", x, y);
	}
	mark(pen, "\"/>");
	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		mark(pen, "<circle class=\"left\" r=\"3.5\"");
		coordinate(pen, "cx", trend_x(frame, trend->points[i].at));
		coordinate(pen, "cy", trend_y(frame, trend->points[i].value));
		mark(pen, "/>");
	}
}

/* Every point in words: "2024-05-02: 44.1; 2025-05-09: 43.2". */
static void describe_points(const struct trend *trend, struct text *words)
{
	char value[NUMBER_SIZE], date[CLOCK_TEXT_SIZE];

	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		clock_format_date(trend->points[i].at, date, sizeof date);
		number_format_exact(trend->points[i].value, value, sizeof value);
		text_add_format(words, "%s%s: %s", words->length ? "; " : "", date, value);
	}
	if (trend->has_limit) {
		number_format_exact(trend->limit, value, sizeof value);
		text_add_format(words, "; %s %s", *trend->limit_name ? trend->limit_name : "limit", value);
	}
}

static void add_trend_drawing(struct pen *pen, const struct trend *trend,
                              const struct frame *frame)
{
	struct text words;

	text_init(&words);
	describe_points(trend, &words);
	text_add_format(pen->text, "<svg class=\"trend\" viewBox=\"0 0 %d %d\"", TREND_WIDTH,
	                TREND_HEIGHT);
	add_drawing_words(pen, trend->label, text_get(&words));
	add_scale(pen, frame);
	if (trend->has_limit) {
		double y = trend_y(frame, trend->limit);
		mark(pen, "<line class=\"limit\"");
		coordinate(pen, "x1", TREND_LEFT);
		coordinate(pen, "y1", y);
		coordinate(pen, "x2", TREND_WIDTH - TREND_RIGHT);
		coordinate(pen, "y2", y);
		mark(pen, "/>");
		add_label(pen, TREND_WIDTH - TREND_RIGHT, y > TREND_TOP + 10 ? y - 4 : y + 12, "end",
		          trend->limit_name);
	}
	add_points(pen, trend, frame);
	mark(pen, "</svg>\n");
	text_done(&words);
}

static void write_trend(struct pen *pen, const struct block *block)
{
	const struct trend *trend = &block->trend;
	struct frame frame;

	mark(pen, "<figure>\n");
	if (frame_of(trend, &frame))
		add_trend_drawing(pen, trend, &frame);
	element(pen, "<figcaption><strong>", trend->label, "</strong>");
	if (*trend->unit)
		element(pen, ", ", trend->unit, "");
	if (*trend->words)
		element(pen, ": ", trend->words, "");
	mark(pen, "</figcaption>\n</figure>\n");
}

const struct writer writer_html = {
	.key = "html",
	.ending = "html",
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
	},
	.end = end,
};
