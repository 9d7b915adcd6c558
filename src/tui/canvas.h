#ifndef TUI_CANVAS_H
#define TUI_CANVAS_H

#include <stdbool.h>
#include <stdint.h>

#include <padside/base/text.h>

/*
 * The page that a screen draws on: a grid of character cells without any
 * terminal behind it.  Tests dump it as text; curses.c copies it to the
 * terminal and writes only what changed.
 *
 * A style is an ink — a meaning, never a colour — plus attributes:
 *
 *	canvas_put(canvas, area, 0, 2, INK_STRONG | STYLE_REVERSE, "superheat");
 *
 * All drawing is relative to an area and clipped to it; text that does not
 * fit ends in "…" at the area's edge.  Nothing drawn can reach the terminal
 * as a control character (glyph.h).
 */

enum ink {
#define INK(id, ...) INK_##id,
#include "tui/ink.def"
#undef INK
	INK_COUNT
};

enum {
	STYLE_REVERSE = 0x40,
	STYLE_UNDERLINE = 0x80,
	STYLE_INK = 0x3f, /* the bits that hold the ink */
};

/* A rectangle of cells; empty when rows or columns is not above zero. */
struct area {
	int row, column;   /* its upper left cell, counted from 0 */
	int rows, columns; /* its size */
};

struct canvas_cell {
	uint32_t character; /* 0 in the right half of a wide character */
	uint16_t mark;      /* one combining mark on it; 0 for none */
	uint8_t style;      /* ink and attributes */
	uint8_t width;      /* columns of the character: 1, 2, or 0 in a right half */
};

struct canvas_cursor {
	int row, column; /* where it stands */
	bool visible;    /* or nowhere */
};

struct canvas;

/*
 * A blank canvas; sizes are held to 1…1000.  `plain` draws ASCII stand-ins for
 * everything else.  NULL when memory ran out.
 */
struct canvas *canvas_new(int rows, int columns, bool plain);
void canvas_free(struct canvas *canvas);

/* Changes the size and blanks it.  False, and the old size, without memory. */
bool canvas_resize(struct canvas *canvas, int rows, int columns);

/* Blank cells in INK_PLAIN everywhere, no cursor. */
void canvas_clear(struct canvas *canvas);

int canvas_rows(const struct canvas *canvas);
int canvas_columns(const struct canvas *canvas);
/* From now on draws by stand-ins what a text console has no glyphs for, and all else as it is. */
void canvas_use_console(struct canvas *canvas);
bool canvas_is_plain(const struct canvas *canvas);

/* The whole of it. */
struct area canvas_area(const struct canvas *canvas);

/* One cell, which must be inside (asserted); the cells of a row follow it. */
const struct canvas_cell *canvas_at(const struct canvas *canvas, int row, int column);

/* Parts of an area, never reaching outside of it. */
struct area area_part(struct area area, int row, int column, int rows, int columns);
struct area area_rows(struct area area, int row, int rows);
struct area area_columns(struct area area, int column, int columns);

/* Columns that `string` takes on this canvas. */
int canvas_width_of(const struct canvas *canvas, const char *string);

/*
 * Writes `string` in one row and returns the column behind it (at most the
 * area's width), so that pieces in different inks can follow each other.
 */
int canvas_put(struct canvas *canvas, struct area area, int row, int column,
               unsigned style, const char *string);
int canvas_format(struct canvas *canvas, struct area area, int row, int column,
                  unsigned style, const char *format, ...)
	__attribute__((format(printf, 6, 7)));

/*
 * As canvas_put, in exactly `width` columns: padded with blanks in the same
 * style, cut when longer.  _right puts the text against the right end.
 */
int canvas_put_padded(struct canvas *canvas, struct area area, int row, int column,
                      int width, unsigned style, const char *string);
int canvas_put_right(struct canvas *canvas, struct area area, int row, int column,
                     int width, unsigned style, const char *string);

/*
 * Wraps `string` into lines from `row` on, each beginning at `column`, and
 * returns how many lines it needs, also those that had no room.  Where more has no room
 * below, the last line ends in "…".
 */
int canvas_wrap(struct canvas *canvas, struct area area, int row, int column,
                unsigned style, const char *string);

/* The number of lines that canvas_wrap would need in `columns` columns. */
int canvas_wrap_count(const struct canvas *canvas, int columns, const char *string);

/* Every cell of the area becomes `character` (one column wide). */
void canvas_fill(struct canvas *canvas, struct area area, unsigned style, unsigned character);

/* A horizontal line of `width` cells; a vertical one of `height`. */
void canvas_rule(struct canvas *canvas, struct area area, int row, int column, int width,
                 unsigned style);
void canvas_rule_down(struct canvas *canvas, struct area area, int row, int column, int height,
                      unsigned style);

/* Shows the terminal's cursor there, unless that is outside the area. */
void canvas_set_cursor(struct canvas *canvas, struct area area, int row, int column);
struct canvas_cursor canvas_get_cursor(const struct canvas *canvas);

#endif
