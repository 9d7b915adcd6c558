/*
 * Plots in text.
 *
 * The drawing is a raster of dots, 2 × 4 to the cell; braille shows the dots,
 * plain characters show one sign for a cell.  A visit is a heavy blob of 2 × 2
 * dots, the way between two visits every other dot, so that the line never
 * looks like more readings than there were.
 */
#include <padside/base/plot.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <padside/base/glyph.h>
#include <padside/base/number.h>

enum {
	GLYPH_AXIS = 0x2502,  /* │ */
	GLYPH_TICK = 0x2524,  /* ┤ */
	GLYPH_LIMIT = 0x2504, /* ┄ */
	BRAILLE = 0x2800,
	LABEL_MOST = 9, /* columns of a label of the axis */
	DOT_COLUMNS = 2 * PLOT_COLUMNS_MOST,
	DOT_ROWS = 4 * PLOT_ROWS_MOST,
};

/* What is at a dot. */
enum { DOT_NONE, DOT_LINE, DOT_POINT };

struct raster {
	double low, high;   /* values of the bottom and the top edge */
	double step;        /* between two labels of the axis */
	int decimals;       /* of the labels */
	int label_columns;  /* room for the labels and the axis */
	int rows, columns;  /* size of the field in cells */
	wall_time from, to; /* times of the left and the right edge */
	uint8_t dots[DOT_ROWS][DOT_COLUMNS]; /* what is drawn */
};

/* Times that clock.h can write: the years 1900 to 2999. */
static const wall_time first_time = -2208988800;
static const wall_time last_time = 32503679999;

static bool is_drawn(const struct plot_point *point)
{
	return isfinite(point->value) && point->at >= first_time && point->at <= last_time;
}

static int hold(int value, int least, int most)
{
	return value < least ? least : value > most ? most : value;
}

/* Finds the range of times and values; false when there is nothing to draw. */
static bool find_range(const struct plot *plot, struct raster *raster)
{
	bool found = false;

	for (int i = 0; i < plot->count; i++) {
		const struct plot_point *point = &plot->points[i];
		if (!is_drawn(point))
			continue;
		if (!found) {
			raster->from = raster->to = point->at;
			raster->low = raster->high = point->value;
		}
		found = true;
		raster->from = point->at < raster->from ? point->at : raster->from;
		raster->to = point->at > raster->to ? point->at : raster->to;
		raster->low = fmin(raster->low, point->value);
		raster->high = fmax(raster->high, point->value);
	}
	if (found && plot->has_limit && isfinite(plot->limit)) {
		raster->low = fmin(raster->low, plot->limit);
		raster->high = fmax(raster->high, plot->limit);
	}
	return found;
}

/* The smallest of 1, 2, 5 × 10^n that is not below `least`. */
static double round_step(double least)
{
	double power = pow(10, floor(log10(least)));

	if (power >= least)
		return power;
	if (2 * power >= least)
		return 2 * power;
	return 5 * power >= least ? 5 * power : 10 * power;
}

/* Rounds the range out to whole steps, so that the labels are round. */
static void choose_scale(struct raster *raster)
{
	double span = raster->high - raster->low;
	double size = fmax(fabs(raster->low), fabs(raster->high));
	int labels = raster->rows / 3 < 1 ? 1 : raster->rows / 3;

	if (!(span > size * 1e-6)) {
		span = size > 0 ? size * 0.1 : 1;
		raster->low -= span / 2;
		raster->high += span / 2;
	}
	raster->step = round_step(span / labels);
	raster->low = floor(raster->low / raster->step) * raster->step;
	raster->high = ceil(raster->high / raster->step) * raster->step;
	raster->decimals = hold(-(int)floor(log10(raster->step) + 1e-9), 0, 9);
}

/* A label never gets wider than LABEL_MOST, at the cost of its decimals. */
static void write_label(const struct raster *raster, double value, char *label, size_t size)
{
	for (int decimals = raster->decimals; decimals >= 0; decimals--) {
		number_format(value, decimals, label, size);
		if (strlen(label) <= LABEL_MOST)
			return;
	}
	text_copy(label, size, value < 0 ? "-much" : "much");
}

static void measure_labels(struct raster *raster)
{
	char label[NUMBER_SIZE];

	write_label(raster, raster->low, label, sizeof label);
	size_t widest = strlen(label);
	write_label(raster, raster->high, label, sizeof label);
	widest = strlen(label) > widest ? strlen(label) : widest;
	raster->label_columns = (int)widest + 2;
}

/* The dot that a value, a time falls on; row 0 is at the top. */
static int dot_row(const struct raster *raster, double value)
{
	double share = (raster->high - value) / (raster->high - raster->low);

	return hold((int)lround(share * (4 * raster->rows - 1)), 0, 4 * raster->rows - 1);
}

static int dot_column(const struct raster *raster, wall_time at)
{
	int last = 2 * raster->columns - 2;

	if (raster->to <= raster->from)
		return last / 2;
	double share = ((double)at - (double)raster->from) /
	               ((double)raster->to - (double)raster->from);
	return hold((int)lround(share * last), 0, last);
}

static void set_dot(struct raster *raster, int row, int column, uint8_t what)
{
	if (row < 0 || row >= 4 * raster->rows || column < 0 || column >= 2 * raster->columns)
		return;
	if (raster->dots[row][column] < what)
		raster->dots[row][column] = what;
}

static void draw_point(struct raster *raster, const struct plot_point *point)
{
	int row = dot_row(raster, point->value), column = dot_column(raster, point->at);

	row = hold(row, 0, 4 * raster->rows - 2);
	for (int i = 0; i < 4; i++)
		set_dot(raster, row + i / 2, column + i % 2, DOT_POINT);
}

static void draw_way(struct raster *raster, const struct plot_point *a,
                     const struct plot_point *b)
{
	int from_row = dot_row(raster, a->value), from_column = dot_column(raster, a->at);
	int rows = dot_row(raster, b->value) - from_row;
	int columns = dot_column(raster, b->at) - from_column;
	int steps = (int)fmax(fabs((double)rows), fabs((double)columns));

	for (int i = 0; i <= steps; i += 2)
		set_dot(raster, from_row + (int)lround((double)rows * i / steps),
		        from_column + (int)lround((double)columns * i / steps), DOT_LINE);
}

/* The point that comes next after `after` in time; NULL behind the last. */
static const struct plot_point *next_point(const struct plot *plot,
                                           const struct plot_point *after)
{
	const struct plot_point *best = NULL;

	for (int i = 0; i < plot->count; i++) {
		const struct plot_point *point = &plot->points[i];
		if (!is_drawn(point))
			continue;
		bool later = !after || point->at > after->at || (point->at == after->at && point > after);
		if (later && (!best || point->at < best->at))
			best = point;
	}
	return best;
}

static void draw_points(const struct plot *plot, struct raster *raster)
{
	const struct plot_point *last = NULL, *point;

	for (point = next_point(plot, NULL); point; point = next_point(plot, point)) {
		draw_point(raster, point);
		if (last)
			draw_way(raster, last, point);
		last = point;
	}
}

/* One cell of the field; 0 when it is empty. */
static unsigned cell_glyph(const struct raster *raster, int row, int column, bool plain)
{
	static const uint8_t bits[4][2] = {
		{ 0x01, 0x08 }, { 0x02, 0x10 }, { 0x04, 0x20 }, { 0x40, 0x80 },
	};
	unsigned braille = 0;
	int most = DOT_NONE;

	for (int y = 0; y < 4; y++)
		for (int x = 0; x < 2; x++) {
			int dot = raster->dots[4 * row + y][2 * column + x];
			braille |= dot ? bits[y][x] : 0U;
			most = dot > most ? dot : most;
		}
	if (plain)
		return most == DOT_POINT ? 'o' : most == DOT_LINE ? '.' : 0;
	return braille ? BRAILLE + braille : 0;
}

/* The label of the axis at this row: blanks where there is none. */
static void add_axis(const struct raster *raster, int row, bool plain, struct text *text)
{
	int count = (int)lround((raster->high - raster->low) / raster->step);
	char label[NUMBER_SIZE] = "";

	for (int i = 0; i <= count; i++) {
		double value = raster->low + i * raster->step;
		if (dot_row(raster, value) / 4 == row)
			write_label(raster, value, label, sizeof label);
	}
	text_pad(text, ' ', raster->label_columns - 2 - (int)strlen(label));
	text_add(text, label);
	text_add_char(text, ' ');
	glyph_add(text, *label ? GLYPH_TICK : GLYPH_AXIS, plain);
}

static void add_row(const struct plot *plot, const struct raster *raster, int row,
                    struct text *text)
{
	bool limit = plot->has_limit && isfinite(plot->limit) &&
	             dot_row(raster, plot->limit) / 4 == row;
	int blanks = 0;

	add_axis(raster, row, plot->plain, text);
	for (int column = 0; column < raster->columns; column++) {
		unsigned glyph = cell_glyph(raster, row, column, plot->plain);
		if (!glyph && limit)
			glyph = GLYPH_LIMIT;
		if (!glyph) {
			blanks++;
			continue;
		}
		text_pad(text, ' ', blanks);
		blanks = 0;
		glyph_add(text, glyph, plot->plain);
	}
	if (limit && plot->limit_name) {
		text_add_char(text, ' ');
		glyph_add_string(text, plot->limit_name, plot->plain);
	}
	text_add_char(text, '\n');
}

static void add_dates(const struct raster *raster, struct text *text)
{
	char from[CLOCK_TEXT_SIZE], to[CLOCK_TEXT_SIZE];

	clock_format_date(raster->from, from, sizeof from);
	clock_format_date(raster->to, to, sizeof to);
	int between = raster->columns - (int)strlen(from) - (int)strlen(to);
	text_pad(text, ' ', raster->label_columns);
	if (between < 1 || strcmp(from, to) == 0) {
		text_pad(text, ' ', (raster->columns - (int)strlen(to)) / 2);
		text_add_format(text, "%s\n", to);
		return;
	}
	text_add(text, from);
	text_pad(text, ' ', between);
	text_add_format(text, "%s\n", to);
}

/* The field's rows and scale; false when there is nothing to draw. */
static bool begin(const struct plot *plot, struct raster *raster)
{
	memset(raster, 0, sizeof *raster);
	if (!find_range(plot, raster))
		return false;
	raster->rows = hold(plot->rows, PLOT_ROWS_LEAST, PLOT_ROWS_MOST) - 1;
	choose_scale(raster);
	return true;
}

bool plot_find_scale(const struct plot *plot, double *bottom, double *top)
{
	struct raster raster;

	if (!begin(plot, &raster))
		return false;
	/* Half a dot beyond the middles of the outermost ones. */
	double half_dot = (raster.high - raster.low) / (4 * raster.rows - 1) / 2;
	*bottom = raster.low - half_dot;
	*top = raster.high + half_dot;
	return true;
}

bool plot_draw(const struct plot *plot, struct text *text)
{
	struct raster raster;

	if (!begin(plot, &raster))
		return false;
	measure_labels(&raster);
	int columns = hold(plot->columns, PLOT_COLUMNS_LEAST, PLOT_COLUMNS_MOST);
	int name = 0;
	if (plot->has_limit && plot->limit_name)
		name = 1 + glyph_string_columns(plot->limit_name, plot->plain);
	raster.columns = hold(columns - raster.label_columns - name, 4, columns);
	draw_points(plot, &raster);
	for (int row = 0; row < raster.rows; row++)
		add_row(plot, &raster, row, text);
	add_dates(&raster, text);
	return true;
}
