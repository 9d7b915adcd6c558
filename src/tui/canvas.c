/*
 * The canvas.
 *
 * Every text goes through put_character(), which is the one place that knows
 * about clipping, wide characters and ASCII stand-ins.  A wide character
 * owns two cells; when either is overwritten the other becomes a blank, so
 * that no row can ever be longer or shorter than its cells.
 */
#include "tui/canvas.h"

#include <assert.h>
#include <limits.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/glyph.h>
#include <padside/base/wrap.h>

enum { SIZE_LIMIT = 1000, CUT_MARK = 0x2026, CUT_MARK_PLAIN = '>' };

struct canvas {
	int rows, columns;           /* the size */
	bool plain;                  /* ASCII only */
	bool console;                /* without what the fonts of a text console lack */
	struct canvas_cursor cursor; /* where the terminal's cursor is to be */
	struct canvas_cell *cells;   /* rows × columns; owned */
};

/* Where a piece of text may go: one row, from `first` up to `end`. */
struct lane {
	int row;        /* on the canvas */
	int first, end; /* columns on the canvas that may be written: [first, end) */
	int64_t origin; /* the canvas column of the area's column 0 */
};

static int clamp(int64_t value, int low, int high)
{
	return value < low ? low : value > high ? high : (int)value;
}

static struct canvas_cell *cell_at(struct canvas *canvas, int row, int column)
{
	return &canvas->cells[(size_t)row * (size_t)canvas->columns + (size_t)column];
}

static struct canvas_cell blank_cell(unsigned style)
{
	return (struct canvas_cell){ .character = ' ', .style = (uint8_t)style, .width = 1 };
}

/* The part of `area` that is on the canvas. */
static struct area on_canvas(const struct canvas *canvas, struct area area)
{
	int top = clamp(area.row, 0, canvas->rows);
	int left = clamp(area.column, 0, canvas->columns);
	int bottom = clamp((int64_t)area.row + area.rows, top, canvas->rows);
	int right = clamp((int64_t)area.column + area.columns, left, canvas->columns);

	return (struct area){ top, left, bottom - top, right - left };
}

/* False when that row of the area cannot be seen. */
static bool find_lane(const struct canvas *canvas, struct area area, int row, struct lane *lane)
{
	struct area seen = on_canvas(canvas, area);
	int64_t at = (int64_t)area.row + row;

	if (row < 0 || at < seen.row || at >= (int64_t)seen.row + seen.rows || seen.columns <= 0)
		return false;
	*lane = (struct lane){ (int)at, seen.column, seen.column + seen.columns, area.column };
	return true;
}

/* Before a cell is overwritten: the other half of a wide character goes blank. */
static void release_cell(struct canvas *canvas, int row, int column)
{
	struct canvas_cell *cell = cell_at(canvas, row, column);

	if (cell->width == 0 && column > 0)
		cell[-1] = blank_cell(cell[-1].style);
	if (cell->width == 2 && column + 1 < canvas->columns)
		cell[1] = blank_cell(cell[1].style);
}

static void set_cell(struct canvas *canvas, int row, int column, struct canvas_cell cell)
{
	struct canvas_cell *target = cell_at(canvas, row, column);

	/* Only wide characters have another half. */
	if (target->width != 1)
		release_cell(canvas, row, column);
	*target = cell;
}

/* Puts a combining mark on the character before `column`. */
static void put_mark(struct canvas *canvas, const struct lane *lane, int64_t column, unsigned mark)
{
	if (column <= lane->first || column > lane->end || mark > UINT16_MAX)
		return;
	struct canvas_cell *cell = cell_at(canvas, lane->row, (int)column - 1);
	if (cell->width == 0)
		cell--;
	if (cell->mark == 0)
		cell->mark = (uint16_t)mark;
}

/* Writes one safe character at a canvas column; returns the column behind it. */
static int64_t put_character(struct canvas *canvas, const struct lane *lane, int64_t column,
                             unsigned style, unsigned character)
{
	int width = character < 0x7f ? 1 : text_character_columns(character);

	if (width == 0) {
		put_mark(canvas, lane, column, character);
		return column;
	}
	if (column >= lane->first && column + width <= lane->end) {
		set_cell(canvas, lane->row, (int)column, (struct canvas_cell){
			.character = character, .style = (uint8_t)style, .width = (uint8_t)width });
		if (width == 2)
			set_cell(canvas, lane->row, (int)column + 1, (struct canvas_cell){
				.style = (uint8_t)style });
	} else {
		/* Half of a wide character at an edge shows as a blank. */
		for (int64_t c = column; c < column + width; c++)
			if (c >= lane->first && c < lane->end)
				set_cell(canvas, lane->row, (int)c, blank_cell(style));
	}
	return column + width;
}

/*
 * What none or few of the fonts have that a text console can load (512 glyphs
 * at most; the kernel's and Debian's were read): ticks, half blocks, diamonds,
 * the dots of plots, and omega outside of Greek.
 */
static bool is_rare(unsigned character)
{
	static const unsigned rare[] = { 0x3a9, 0x2581, 0x2584, 0x2580, 0x258c, 0x2590, 0x25b8, 0x25be,
	                                 0x25c6, 0x25c7, 0x25cb, 0x25d0, 0x26a0, 0x2713, 0x2717 };

	for (size_t i = 0; i < sizeof rare / sizeof *rare; i++)
		if (rare[i] == character)
			return true;
	return character >= 0x2800 && character <= 0x28ff;
}

/* What is drawn in the place of a character; NULL: itself. */
static const char *stand_in(const struct canvas *canvas, unsigned character)
{
	return canvas->plain || (canvas->console && is_rare(character)) ? glyph_plain(character) : NULL;
}

static int columns_of(const struct canvas *canvas, unsigned character)
{
	const char *other = stand_in(canvas, character);

	return other ? (int)strlen(other) : glyph_columns(character, false);
}

/* As put_character for any character, by its stand-in where it has one. */
static int64_t put_any(struct canvas *canvas, const struct lane *lane, int64_t column,
                       unsigned style, unsigned character)
{
	const char *ascii = stand_in(canvas, character);

	if (!ascii)
		return put_character(canvas, lane, column, style, glyph_shown(character));
	for (; *ascii; ascii++)
		column = put_character(canvas, lane, column, style, (unsigned char)*ascii);
	return column;
}

/*
 * Writes the `length` bytes at `string` from a canvas column on, cut with a
 * mark at `limit`; returns the column behind.
 */
static int64_t put_cut(struct canvas *canvas, const struct lane *lane, int64_t column,
                       int64_t limit, unsigned style, const char *string, size_t length)
{
	const char *end = string + length;
	int64_t needed = 0;

	for (const char *at = string; at < end && column + needed <= limit;)
		needed += columns_of(canvas, text_next_character(&at));
	bool cut = column + needed > limit;
	int64_t room = cut ? limit - 1 : limit;
	while (string < end) {
		unsigned character = text_next_character(&string);
		if (cut && column + columns_of(canvas, character) > room)
			break;
		column = put_any(canvas, lane, column, style, character);
	}
	if (cut && column < limit)
		column = put_character(canvas, lane, column, style,
		                       canvas->plain ? CUT_MARK_PLAIN : CUT_MARK);
	return column;
}

/* Behind the last line that has room: more has none. */
static void put_goes_on(struct canvas *canvas, const struct lane *lane, int64_t end, unsigned style)
{
	if (end < lane->end - 1)
		end = put_character(canvas, lane, end, style, ' ');
	put_character(canvas, lane, end < lane->end ? end : lane->end - 1, style,
	              canvas->plain ? CUT_MARK_PLAIN : CUT_MARK);
}

static int64_t put_blanks(struct canvas *canvas, const struct lane *lane, int64_t from,
                          int64_t to, unsigned style)
{
	int64_t begin = from < lane->first ? lane->first : from;
	int64_t end = to > lane->end ? lane->end : to;

	for (int64_t column = begin; column < end; column++)
		set_cell(canvas, lane->row, (int)column, blank_cell(style));
	return to;
}

/* Where to stop writing `width` columns that begin at `start`. */
static int64_t lane_limit(const struct lane *lane, int64_t start, int width)
{
	int64_t limit = start + (width > 0 ? width : 0);

	return limit < lane->end ? limit : lane->end;
}

struct canvas *canvas_new(int rows, int columns, bool plain)
{
	struct canvas *canvas = calloc(1, sizeof *canvas);

	if (!canvas)
		return NULL;
	canvas->plain = plain;
	if (!canvas_resize(canvas, rows, columns)) {
		free(canvas);
		return NULL;
	}
	return canvas;
}

void canvas_free(struct canvas *canvas)
{
	if (canvas)
		free(canvas->cells);
	free(canvas);
}

bool canvas_resize(struct canvas *canvas, int rows, int columns)
{
	rows = clamp(rows, 1, SIZE_LIMIT);
	columns = clamp(columns, 1, SIZE_LIMIT);
	struct canvas_cell *cells = calloc((size_t)rows * (size_t)columns, sizeof *cells);
	if (!cells)
		return false;
	free(canvas->cells);
	canvas->cells = cells;
	canvas->rows = rows;
	canvas->columns = columns;
	canvas_clear(canvas);
	return true;
}

void canvas_clear(struct canvas *canvas)
{
	size_t count = (size_t)canvas->rows * (size_t)canvas->columns;

	for (size_t i = 0; i < count; i++)
		canvas->cells[i] = blank_cell(INK_PLAIN);
	canvas->cursor = (struct canvas_cursor){ .visible = false };
}

int canvas_rows(const struct canvas *canvas)
{
	return canvas->rows;
}

int canvas_columns(const struct canvas *canvas)
{
	return canvas->columns;
}

void canvas_use_console(struct canvas *canvas)
{
	canvas->console = true;
}

bool canvas_is_plain(const struct canvas *canvas)
{
	return canvas->plain;
}

struct area canvas_area(const struct canvas *canvas)
{
	return (struct area){ 0, 0, canvas->rows, canvas->columns };
}

const struct canvas_cell *canvas_at(const struct canvas *canvas, int row, int column)
{
	assert(row >= 0 && row < canvas->rows && column >= 0 && column < canvas->columns);
	return &canvas->cells[(size_t)row * (size_t)canvas->columns + (size_t)column];
}

struct area area_part(struct area area, int row, int column, int rows, int columns)
{
	int64_t height = area.rows > 0 ? area.rows : 0;
	int64_t width = area.columns > 0 ? area.columns : 0;
	int top = clamp(row, 0, (int)height);
	int left = clamp(column, 0, (int)width);
	int bottom = clamp((int64_t)row + rows, top, (int)height);
	int right = clamp((int64_t)column + columns, left, (int)width);

	return (struct area){
		.row = clamp((int64_t)area.row + top, INT_MIN, INT_MAX),
		.column = clamp((int64_t)area.column + left, INT_MIN, INT_MAX),
		.rows = bottom - top,
		.columns = right - left,
	};
}

struct area area_rows(struct area area, int row, int rows)
{
	return area_part(area, row, 0, rows, area.columns);
}

struct area area_columns(struct area area, int column, int columns)
{
	return area_part(area, 0, column, area.rows, columns);
}

int canvas_width_of(const struct canvas *canvas, const char *string)
{
	int columns = 0;
	unsigned character;

	while ((character = text_next_character(&string)) != 0)
		columns += columns_of(canvas, character);
	return columns;
}

int canvas_put(struct canvas *canvas, struct area area, int row, int column,
               unsigned style, const char *string)
{
	struct lane lane;

	if (!find_lane(canvas, area, row, &lane))
		return column;
	int64_t start = lane.origin + column;
	if (start >= lane.end)
		return column;
	int64_t end = put_cut(canvas, &lane, start, lane.end, style, string, strlen(string));
	return (int)(end - lane.origin);
}

int canvas_format(struct canvas *canvas, struct area area, int row, int column,
                  unsigned style, const char *format, ...)
{
	char line[1024];
	va_list arguments;

	va_start(arguments, format);
	int length = vsnprintf(line, sizeof line, format, arguments);
	va_end(arguments);
	if (length < 0)
		return column;
	if ((size_t)length >= sizeof line)
		text_trim_broken_utf8(line);
	return canvas_put(canvas, area, row, column, style, line);
}

int canvas_put_padded(struct canvas *canvas, struct area area, int row, int column,
                      int width, unsigned style, const char *string)
{
	struct lane lane;

	if (!find_lane(canvas, area, row, &lane))
		return column;
	int64_t start = lane.origin + column;
	int64_t limit = lane_limit(&lane, start, width);
	if (start >= limit)
		return column;
	int64_t end = put_cut(canvas, &lane, start, limit, style, string, strlen(string));
	return (int)(put_blanks(canvas, &lane, end, limit, style) - lane.origin);
}

int canvas_put_right(struct canvas *canvas, struct area area, int row, int column,
                     int width, unsigned style, const char *string)
{
	struct lane lane;

	if (!find_lane(canvas, area, row, &lane))
		return column;
	int64_t start = lane.origin + column;
	int64_t limit = lane_limit(&lane, start, width);
	if (start >= limit)
		return column;
	int64_t text_start = limit - canvas_width_of(canvas, string);
	if (text_start > start)
		start = put_blanks(canvas, &lane, start, text_start, style);
	int64_t end = put_cut(canvas, &lane, start, limit, style, string, strlen(string));
	return (int)(put_blanks(canvas, &lane, end, limit, style) - lane.origin);
}

int canvas_wrap(struct canvas *canvas, struct area area, int row, int column,
                unsigned style, const char *string)
{
	int64_t width = (int64_t)area.columns - column;
	int columns = clamp(width, 1, SIZE_LIMIT);
	struct wrap_line line;
	struct lane lane, below;
	int count = 0;

	while (wrap_next(&string, columns, canvas->plain, &line)) {
		int64_t at = (int64_t)row + count++;
		if (width <= 0 || at >= INT_MAX || !find_lane(canvas, area, (int)at, &lane) ||
		    lane.origin + column >= lane.end)
			continue;
		int64_t end = put_cut(canvas, &lane, lane.origin + column, lane.end, style, line.start,
		                      line.length);
		if (*string && !find_lane(canvas, area, (int)at + 1, &below))
			put_goes_on(canvas, &lane, end, style);
	}
	return count;
}

int canvas_wrap_count(const struct canvas *canvas, int columns, const char *string)
{
	return wrap_count(string, columns > 0 ? columns : 1, canvas->plain);
}

void canvas_fill(struct canvas *canvas, struct area area, unsigned style, unsigned character)
{
	struct area seen = on_canvas(canvas, area);
	struct canvas_cell cell = blank_cell(style);

	const char *ascii = stand_in(canvas, character);

	cell.character = ascii ? (unsigned char)ascii[0] : glyph_shown(character);
	if (text_character_columns(cell.character) != 1)
		cell.character = ' ';
	for (int row = seen.row; row < seen.row + seen.rows; row++)
		for (int column = seen.column; column < seen.column + seen.columns; column++)
			set_cell(canvas, row, column, cell);
}

void canvas_rule(struct canvas *canvas, struct area area, int row, int column, int width,
                 unsigned style)
{
	canvas_fill(canvas, area_part(area, row, column, 1, width), style, 0x2500);
}

void canvas_rule_down(struct canvas *canvas, struct area area, int row, int column, int height,
                      unsigned style)
{
	canvas_fill(canvas, area_part(area, row, column, height, 1), style, 0x2502);
}

void canvas_set_cursor(struct canvas *canvas, struct area area, int row, int column)
{
	struct lane lane;
	bool seen = find_lane(canvas, area, row, &lane);
	int64_t at = (int64_t)area.column + column;

	if (seen && at >= lane.first && at < lane.end)
		canvas->cursor = (struct canvas_cursor){ lane.row, (int)at, true };
	else
		canvas->cursor = (struct canvas_cursor){ .visible = false };
}

struct canvas_cursor canvas_get_cursor(const struct canvas *canvas)
{
	return canvas->cursor;
}
