/*
 * Sheets and text of the PDF.
 */
#include "report/pdf/press.h"

#include <stdio.h>

const double pdf_left = 43, pdf_top = 36;

static const struct {
	const char *font; /* as pango describes it */
} styles[PDF_STYLE_COUNT] = {
	[PDF_PLAIN] = { "sans 9.4" }, [PDF_STRONG] = { "sans bold 9.4" }, [PDF_LEAD] = { "sans 10" },
	[PDF_SMALL] = { "sans 9" }, [PDF_TITLE] = { "sans bold 15.5" },
	[PDF_HEADING] = { "sans bold 10.6" }, [PDF_PART] = { "sans bold 9.6" },
	[PDF_COMPANY] = { "sans bold 13" },
};

/* What the office looks things up in is set smaller. */
static const double dense_share = 0.87;

static const double colours[][3] = {
	[PDF_INK] = { 0.11, 0.14, 0.15 }, [PDF_SOFT] = { 0.31, 0.36, 0.38 },
	[PDF_ACCENT] = { 0.04, 0.33, 0.39 }, [PDF_LINE] = { 0.80, 0.84, 0.85 },
	[PDF_PALE] = { 0.945, 0.96, 0.96 }, [PDF_ACT] = { 0.61, 0.14, 0.09 },
	[PDF_WATCH] = { 0.48, 0.29, 0.0 }, [PDF_GOOD] = { 0.12, 0.36, 0.20 },
	[PDF_STRETCH] = { 0.66, 0.75, 0.77 }, [PDF_WHITE] = { 1, 1, 1 },
};

void press_size(struct pdf_press *press, bool is_a4)
{
	press->width = is_a4 ? 595.28 : 612;
	press->height = is_a4 ? 841.89 : 792;
	press->right = press->width - pdf_left;
	press->bottom = press->height - 45;
}

void press_colour(struct pdf_press *press, enum pdf_colour colour)
{
	cairo_set_source_rgb(press->cairo, colours[colour][0], colours[colour][1], colours[colour][2]);
}

/* Sets the layout to a text in a style; width below 0 does not wrap. */
static void set_text(struct pdf_press *press, enum pdf_style style, const char *text, double width)
{
	PangoFontDescription *font = pango_font_description_from_string(styles[style].font);

	if (press->document->is_dense && style != PDF_TITLE && style != PDF_COMPANY)
		pango_font_description_set_size(font,
			(gint)(pango_font_description_get_size(font) * dense_share));
	pango_layout_set_font_description(press->layout, font);
	pango_font_description_free(font);
	pango_layout_set_width(press->layout, width < 0 ? -1 : (int)(width * PANGO_SCALE));
	pango_layout_set_wrap(press->layout, PANGO_WRAP_WORD_CHAR);
	pango_layout_set_alignment(press->layout, PANGO_ALIGN_LEFT);
	pango_layout_set_text(press->layout, text, -1);
}

void press_measure(struct pdf_press *press, enum pdf_style style, const char *text, double width,
                   double *used, double *height)
{
	int units_wide, units_high;

	set_text(press, style, text, width);
	pango_layout_get_size(press->layout, &units_wide, &units_high);
	if (used)
		*used = (double)units_wide / PANGO_SCALE;
	if (height)
		*height = *text ? (double)units_high / PANGO_SCALE : 0;
}

double press_put(struct pdf_press *press, enum pdf_style style, enum pdf_colour colour,
                 const char *text, double x, double y, double width, bool to_the_right)
{
	int units_high;

	if (!*text)
		return 0;
	set_text(press, style, text, width);
	if (to_the_right)
		pango_layout_set_alignment(press->layout, PANGO_ALIGN_RIGHT);
	press_colour(press, colour);
	cairo_move_to(press->cairo, x, y);
	pango_cairo_show_layout(press->cairo, press->layout);
	pango_layout_get_size(press->layout, NULL, &units_high);
	return (double)units_high / PANGO_SCALE;
}

void press_line(struct pdf_press *press, enum pdf_colour colour, double thick, double x1, double y1,
                double x2, double y2)
{
	press_colour(press, colour);
	cairo_set_line_width(press->cairo, thick);
	cairo_move_to(press->cairo, x1, y1);
	cairo_line_to(press->cairo, x2, y2);
	cairo_stroke(press->cairo);
}

void press_box(struct pdf_press *press, enum pdf_colour colour, double x, double y, double width,
               double height)
{
	press_colour(press, colour);
	cairo_rectangle(press->cairo, x, y, width, height);
	cairo_fill(press->cairo);
}

/* ---- Sheets ---- */

static void put_foot(struct pdf_press *press)
{
	char page[64];
	struct text right;

	snprintf(page, sizeof page, "page %d of %d", press->page, press->pages);
	text_init(&right);
	text_add(&right, press->document->number);
	text_add(&right, *press->document->number ? ", " : "");
	text_add(&right, page);
	double wide = (press->right - pdf_left) * 0.58;
	press_put(press, PDF_SMALL, PDF_SOFT, press->document->whose, pdf_left, press->bottom + 10,
	          wide, false);
	press_put(press, PDF_SMALL, PDF_SOFT, text_get(&right), pdf_left + wide, press->bottom + 10,
	          press->right - pdf_left - wide, true);
	text_done(&right);
}

void press_begin(struct pdf_press *press)
{
	press->page = 1;
	press->y = pdf_top;
}

void press_end(struct pdf_press *press)
{
	put_foot(press);
	cairo_show_page(press->cairo);
}

void press_need(struct pdf_press *press, double height)
{
	if (press->y + height <= press->bottom || press->y <= pdf_top)
		return;
	press_end(press);
	press->page++;
	press->y = pdf_top;
}

void press_text(struct pdf_press *press, enum pdf_style style, enum pdf_colour colour,
                const char *text, double indent)
{
	double width = press->right - pdf_left - indent;

	set_text(press, style, text, width);
	for (int i = 0; i < pango_layout_get_line_count(press->layout); i++) {
		PangoRectangle logical;
		/* A foot that was put in between has used the layout for itself. */
		set_text(press, style, text, width);
		PangoLayoutLine *line = pango_layout_get_line_readonly(press->layout, i);
		pango_layout_line_get_extents(line, NULL, &logical);
		double height = (double)logical.height / PANGO_SCALE;
		press_need(press, height);
		set_text(press, style, text, width);
		line = pango_layout_get_line_readonly(press->layout, i);
		press_colour(press, colour);
		cairo_move_to(press->cairo, pdf_left + indent,
		              press->y - (double)logical.y / PANGO_SCALE);
		pango_cairo_show_layout_line(press->cairo, line);
		press->y += height;
	}
}

