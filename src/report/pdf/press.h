#ifndef REPORT_PDF_PRESS_H
#define REPORT_PDF_PRESS_H

#include <pango/pangocairo.h>

#include <padside/report/document.h>

/*
 * The sheets of a PDF: where the next thing goes, text in the few styles that
 * the report has, and the foot.  Lengths are points, y grows downwards.
 */

enum pdf_style {
	PDF_PLAIN, PDF_STRONG, PDF_LEAD, PDF_SMALL, PDF_TITLE, PDF_HEADING, PDF_PART, PDF_COMPANY,
	PDF_STYLE_COUNT
};

enum pdf_colour { PDF_INK, PDF_SOFT, PDF_ACCENT, PDF_LINE, PDF_PALE, PDF_ACT, PDF_WATCH, PDF_GOOD,
	PDF_STRETCH, PDF_WHITE };

struct pdf_press {
	const struct document *document; /* what is printed; borrowed */
	cairo_t *cairo;                  /* where to */
	PangoLayout *layout;             /* used again for every text */
	double y;                        /* where the next thing goes */
	double width, height;            /* of a sheet */
	double right, bottom;            /* where its margins begin */
	int page;                        /* from 1 */
	int pages;                       /* of all; 0 while they are counted */
};

/* Where the other margins end. */
extern const double pdf_left, pdf_top;

/* Sets the sizes of a sheet: Letter or A4 (ISO 216). */
void press_size(struct pdf_press *press, bool is_a4);

void press_begin(struct pdf_press *press);
/* Ends the last sheet. */
void press_end(struct pdf_press *press);

/* Goes to the next sheet when less than `height` is left on this one. */
void press_need(struct pdf_press *press, double height);

void press_colour(struct pdf_press *press, enum pdf_colour colour);

/* Sizes of a text that is at most `width` wide; any may be NULL. */
void press_measure(struct pdf_press *press, enum pdf_style style, const char *text, double width,
                   double *used, double *height);

/* Puts a text at a place, wrapped to `width`, to the right of it if asked; returns its height. */
double press_put(struct pdf_press *press, enum pdf_style style, enum pdf_colour colour,
                 const char *text, double x, double y, double width, bool to_the_right);

/* Running text at y, over as many sheets as it takes; goes on below it. */
void press_text(struct pdf_press *press, enum pdf_style style, enum pdf_colour colour,
                const char *text, double indent);

void press_line(struct pdf_press *press, enum pdf_colour colour, double thick, double x1, double y1,
                double x2, double y2);
void press_box(struct pdf_press *press, enum pdf_colour colour, double x, double y, double width,
               double height);

/* table.c: tables, readings and rulers. */
void pdf_table(struct pdf_press *press, const struct block *block);
void pdf_readings(struct pdf_press *press, const struct block *block);
void pdf_rulers(struct pdf_press *press, const struct block *block);

/* drawings.c */
/* A ruler between two edges, around `y`; one below the other where the stages differ. */
void pdf_ruler(struct pdf_press *press, const struct measure *measure, double x, double y,
               double width);
void pdf_trend(struct pdf_press *press, const struct block *block);

#endif
