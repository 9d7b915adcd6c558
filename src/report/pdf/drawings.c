/*
 * Rulers and trends of the PDF.
 */
#include "report/pdf/press.h"

#include <math.h>
#include <string.h>

#include <padside/base/clock.h>
#include <padside/base/number.h>

#include "report/scale.h"

static const double edge = 5, trend_height = 96, trend_left = 44;

/* ---- Rulers ---- */

static double band_x(const struct band *band, double value, double x, double width)
{
	double share = (value - band->scale_low) / (band->scale_high - band->scale_low);

	return x + edge + fmax(0, fmin(1, share)) * (width - 2 * edge);
}

static void put_mark(struct pdf_press *press, double x, double y, bool filled)
{
	const double size = 3.4;

	cairo_move_to(press->cairo, x, y - size);
	cairo_line_to(press->cairo, x + size, y);
	cairo_line_to(press->cairo, x, y + size);
	cairo_line_to(press->cairo, x - size, y);
	cairo_close_path(press->cairo);
	press_colour(press, filled ? PDF_INK : PDF_WHITE);
	cairo_fill_preserve(press->cairo);
	press_colour(press, PDF_INK);
	cairo_set_line_width(press->cairo, 0.9);
	cairo_stroke(press->cairo);
}

static void put_ruler_line(struct pdf_press *press, const struct band *band, double x, double y,
                           double width)
{
	double low = band_x(band, isfinite(band->low) ? band->low : band->scale_low, x, width);
	double high = band_x(band, isfinite(band->high) ? band->high : band->scale_high, x, width);

	press_box(press, PDF_STRETCH, low, y - 2.4, fmax(high - low, 1), 4.8);
	press_line(press, PDF_SOFT, 0.7, x + edge, y, x + width - edge, y);
	press_line(press, PDF_SOFT, 0.7, x + edge, y - 3, x + edge, y + 3);
	press_line(press, PDF_SOFT, 0.7, x + width - edge, y - 3, x + width - edge, y + 3);
}

void pdf_ruler(struct pdf_press *press, const struct measure *measure, double x, double y,
               double width)
{
	const struct measured *found = &measure->stages[0];
	const struct measured *left = &measure->stages[DOCUMENT_STAGES - 1];
	bool shared = !found->has_band || !left->has_band ||
	              strcmp(found->expected, left->expected) == 0;
	double apart = shared ? 0 : 4.6;

	if (!shared)
		put_ruler_line(press, &found->band, x, y - apart, width);
	put_ruler_line(press, left->has_band ? &left->band : &found->band, x, y + apart, width);
	if (found->has_band)
		put_mark(press, band_x(&found->band, found->band.value, x, width), y - apart, false);
	if (left->has_band)
		put_mark(press, band_x(&left->band, left->band.value, x, width), y + apart, true);
}

/* ---- Trends ---- */

/* Where a trend stands on the sheet. */
struct plot_area {
	const struct scale *scale; /* what its edges stand for */
	double top, right;         /* of the drawing */
};

static double plot_y(const struct plot_area *area, double value)
{
	double share = (value - area->scale->low) / (area->scale->high - area->scale->low);

	return area->top + (1 - share) * trend_height;
}

static double plot_x(const struct plot_area *area, wall_time at)
{
	double span = (double)(area->scale->last - area->scale->first);
	double share = span > 0 ? (double)(at - area->scale->first) / span : 0.5;

	return pdf_left + trend_left + share * (area->right - pdf_left - trend_left - 8);
}

static void put_grid(struct pdf_press *press, const struct plot_area *area)
{
	const struct scale *scale = area->scale;
	char words[NUMBER_SIZE];
	int steps = (int)lround((scale->high - scale->low) / scale->step);

	for (int i = 0; i <= steps; i++) {
		double value = scale->low + i * scale->step, y = plot_y(area, value);
		press_line(press, PDF_LINE, 0.5, pdf_left + trend_left, y, press->right, y);
		number_format(value, scale->decimals, words, sizeof words);
		press_put(press, PDF_SMALL, PDF_SOFT, words, pdf_left, y - 6, trend_left - 6, true);
	}
	clock_format_date(scale->first, words, sizeof words);
	press_put(press, PDF_SMALL, PDF_SOFT, words, pdf_left + trend_left,
	          area->top + trend_height + 2, 120, false);
	clock_format_date(scale->last, words, sizeof words);
	press_put(press, PDF_SMALL, PDF_SOFT, words, press->right - 120, area->top + trend_height + 2,
	          120, true);
}

static void put_course(struct pdf_press *press, const struct plot_area *area,
                       const struct trend *trend)
{
	press_colour(press, PDF_INK);
	cairo_set_line_width(press->cairo, 1.1);
	cairo_new_path(press->cairo);
	for (int i = 0; i < trend->count; i++)
		if (isfinite(trend->points[i].value))
			cairo_line_to(press->cairo, plot_x(area, trend->points[i].at),
			              plot_y(area, trend->points[i].value));
	cairo_stroke(press->cairo);
	for (int i = 0; i < trend->count; i++) {
		if (!isfinite(trend->points[i].value))
			continue;
		cairo_new_path(press->cairo);
		cairo_arc(press->cairo, plot_x(area, trend->points[i].at),
		          plot_y(area, trend->points[i].value), 2.2, 0, 2 * G_PI);
		cairo_fill(press->cairo);
	}
}

static void put_limit(struct pdf_press *press, const struct plot_area *area,
                      const struct trend *trend)
{
	const double dashes[] = { 4, 3 };
	double y = plot_y(area, trend->limit);

	cairo_set_dash(press->cairo, dashes, 2, 0);
	press_line(press, PDF_ACT, 0.9, pdf_left + trend_left, y, press->right, y);
	cairo_set_dash(press->cairo, NULL, 0, 0);
	press_put(press, PDF_SMALL, PDF_ACT, trend->limit_name, press->right - 160,
	          y > area->top + 14 ? y - 12 : y + 2, 158, true);
}

void pdf_trend(struct pdf_press *press, const struct block *block)
{
	const struct trend *trend = &block->trend;
	struct scale scale;
	struct text words;

	text_init(&words);
	text_add(&words, trend->label);
	if (*trend->unit)
		text_add_format(&words, ", %s", trend->unit);
	if (*trend->words)
		text_add_format(&words, ": %s", trend->words);
	press_need(press, trend_height + 45);
	press_text(press, PDF_SMALL, PDF_INK, text_get(&words), 0);
	text_done(&words);
	if (!scale_of_trend(trend, &scale))
		return;
	struct plot_area area = { .scale = &scale, .top = press->y + 8, .right = press->right };
	put_grid(press, &area);
	if (trend->has_limit)
		put_limit(press, &area, trend);
	put_course(press, &area, trend);
	press->y = area.top + trend_height + 20;
}

