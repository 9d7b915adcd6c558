/*
 * The band.
 *
 * Everything is worked out in half cells: the expected stretch can begin and
 * end in the middle of a cell (▐ █ ▌), the mark takes the cell it falls into.
 */
#include <padside/base/band.h>

#include <math.h>

#include <padside/base/glyph.h>
#include <padside/base/number.h>

enum {
	GLYPH_LEFT_END = 0x251c,   /* ├ */
	GLYPH_RIGHT_END = 0x2524,  /* ┤ */
	GLYPH_RULE = 0x2500,       /* ─ */
	GLYPH_FULL = 0x2588,       /* █ */
	GLYPH_LEFT_HALF = 0x258c,  /* ▌ */
	GLYPH_RIGHT_HALF = 0x2590, /* ▐ */
	GLYPH_MARK = 0x25c6,       /* ◆ */
	GLYPH_SPREAD = 0x25c7,     /* ◇ */
	GLYPH_BELOW = 0x25c0,      /* ◀ */
	GLYPH_ABOVE = 0x25b6,      /* ▶ */
};

/* How far the scale goes beyond the expected stretch, and at most, in its widths. */
static const double margin_always = 0.75;
static const double margin_most = 4;

static bool has_value(const struct band *band)
{
	return band->has_value && isfinite(band->value);
}

static bool has_expected(const struct band *band)
{
	return band->low <= band->high && (isfinite(band->low) || isfinite(band->high));
}

static double plus_minus(const struct band *band)
{
	return isfinite(band->plus_minus) && band->plus_minus > 0 ? band->plus_minus : 0;
}

/* The width that counts as one stretch, also for an open or an empty one. */
static double stretch_width(const struct band *band, double edge)
{
	double width = band->high - band->low;

	if (has_expected(band) && isfinite(width) && width > 0)
		return width;
	width = fmax(fabs(edge) / 4, 2 * plus_minus(band));
	return width > 0 ? width : 1;
}

void band_fit(struct band *band)
{
	double value = has_value(band) ? band->value : 0;
	double low = value, high = value;

	if (has_expected(band)) {
		low = isfinite(band->low) ? band->low : band->high;
		high = isfinite(band->high) ? band->high : band->low;
	}
	double width = stretch_width(band, low);
	band->scale_low = low - margin_always * width;
	band->scale_high = high + margin_always * width;
	if (!has_value(band) || value < low - margin_most * width || value > high + margin_most * width)
		return;
	double room = fmin(plus_minus(band), width) + width / 4;
	band->scale_low = fmin(band->scale_low, value - room);
	band->scale_high = fmax(band->scale_high, value + room);
}

/* The band with a usable scale. */
static struct band fitted(const struct band *band)
{
	struct band copy = *band;

	if (!isfinite(copy.scale_low) || !isfinite(copy.scale_high) ||
	    !(copy.scale_low < copy.scale_high))
		band_fit(&copy);
	return copy;
}

/* Where `value` stands, in cells from the left end of the inner ruler. */
static double position(const struct band *band, double value, int inner)
{
	double span = band->scale_high - band->scale_low;

	return span > 0 ? (value - band->scale_low) / span * inner : inner / 2.0;
}

static void draw_expected(const struct band *band, int inner, struct band_cell *cells)
{
	static const unsigned shapes[] = {
		GLYPH_RULE, GLYPH_LEFT_HALF, GLYPH_RIGHT_HALF, GLYPH_FULL,
	};
	double first = fmax(2 * position(band, band->low, inner), 0);
	double last = fmin(2 * position(band, band->high, inner), 2 * inner);

	if (!(first < last) && !(first <= last && first < 2 * inner))
		return;
	/* Too narrow to cover the middle of any half cell: take the one it is in. */
	if (ceil(first - 0.5) + 0.5 > last) {
		first = fmin(floor(first), 2 * inner - 1);
		last = first + 1;
	}
	for (int i = 0; i < inner; i++) {
		double left = 2 * i + 0.5, right = left + 1;
		int shape = (left >= first && left <= last) + 2 * (right >= first && right <= last);
		if (shape)
			cells[i] = (struct band_cell){ shapes[shape], BAND_EXPECTED };
	}
}

static void draw_mark(const struct band *band, int width, struct band_cell *cells)
{
	int inner = width - 2;
	double at = position(band, band->value, inner);
	double spread = position(band, band->value + plus_minus(band), inner) - at;

	if (band->value < band->scale_low) {
		cells[0] = (struct band_cell){ GLYPH_BELOW, BAND_BEYOND };
		return;
	}
	if (band->value > band->scale_high) {
		cells[width - 1] = (struct band_cell){ GLYPH_ABOVE, BAND_BEYOND };
		return;
	}
	int mark = (int)fmin(floor(at), inner - 1);
	for (int i = 0; i < inner; i++)
		if (fabs(i + 0.5 - at) <= spread)
			cells[i + 1] = (struct band_cell){ GLYPH_SPREAD, BAND_SPREAD };
	cells[mark + 1] = (struct band_cell){ GLYPH_MARK, BAND_MARK };
}

int band_cells(const struct band *band, int width, struct band_cell *cells)
{
	struct band scaled = fitted(band);

	if (width < BAND_WIDTH_LEAST)
		width = BAND_WIDTH_LEAST;
	if (width > BAND_WIDTH_MOST)
		width = BAND_WIDTH_MOST;
	for (int i = 0; i < width; i++)
		cells[i] = (struct band_cell){ GLYPH_RULE, BAND_RULE };
	cells[0].character = GLYPH_LEFT_END;
	cells[width - 1].character = GLYPH_RIGHT_END;
	if (has_expected(&scaled))
		draw_expected(&scaled, width - 2, cells + 1);
	if (has_value(&scaled))
		draw_mark(&scaled, width, cells);
	return width;
}

void band_draw(const struct band *band, int width, bool plain, struct text *text)
{
	struct band_cell cells[BAND_WIDTH_MOST];

	width = band_cells(band, width, cells);
	for (int i = 0; i < width; i++)
		glyph_add(text, cells[i].character, plain);
}

enum band_verdict band_judge(const struct band *band)
{
	if (!has_value(band) || !has_expected(band))
		return BAND_UNKNOWN;
	double least = band->value - plus_minus(band), most = band->value + plus_minus(band);
	if (most < band->low)
		return BAND_LOW;
	if (least > band->high)
		return BAND_HIGH;
	return least < band->low || most > band->high ? BAND_AMBIGUOUS : BAND_INSIDE;
}

const char *band_verdict_word(enum band_verdict verdict)
{
	static const char *const words[] = {
		[BAND_UNKNOWN] = "",
		[BAND_INSIDE] = "good",
		[BAND_AMBIGUOUS] = "ambiguous",
		[BAND_LOW] = "low",
		[BAND_HIGH] = "high",
	};

	return words[verdict];
}

/* The decimals, at most `most`, that `value` needs; one more where they do not hold it. */
static int decimals_needed(double value, int most)
{
	for (int decimals = 0; decimals <= most; decimals++) {
		double scaled = value * pow(10, decimals);
		if (fabs(scaled - round(scaled)) < 1e-6)
			return decimals;
	}
	return most + 1;
}

/* With no more decimals than it needs: an expected 8 is no 8.0. */
static void add_number(struct text *text, double value, int decimals)
{
	char number[NUMBER_SIZE];
	int needed = decimals_needed(value, decimals);

	number_format(value, needed < decimals ? needed : decimals, number, sizeof number);
	text_add(text, number);
}

/* "8 ±5" where that is no less round than its ends, else "45 to 100". */
static void add_stretch(const struct band *band, int decimals, bool plain, struct text *text)
{
	double middle = (band->low + band->high) / 2, half = (band->high - band->low) / 2;
	int low = decimals_needed(band->low, decimals), high = decimals_needed(band->high, decimals);
	bool round_middle = decimals_needed(middle, decimals) <= (low > high ? low : high);

	add_number(text, round_middle ? middle : band->low, decimals);
	glyph_add_string(text, round_middle ? " ±" : " to ", plain);
	add_number(text, round_middle ? half : band->high, decimals);
}

void band_add_words(const struct band *band, int decimals, bool plain, struct text *text)
{
	enum band_verdict verdict = band_judge(band);

	if (!has_expected(band))
		return;
	text_add(text, band->is_assumed ? "assumed " : "expected ");
	if (!isfinite(band->high)) {
		text_add(text, "at least ");
		add_number(text, band->low, decimals);
	} else if (!isfinite(band->low)) {
		text_add(text, "at most ");
		add_number(text, band->high, decimals);
	} else {
		add_stretch(band, decimals, plain, text);
	}
	if (verdict != BAND_UNKNOWN)
		text_add_format(text, ": %s", band_verdict_word(verdict));
}
