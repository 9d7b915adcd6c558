#ifndef TUI_CURSES_H
#define TUI_CURSES_H

#include <stdbool.h>

#include <padside/base/error.h>
#include <padside/tui/theme.h>

#include "tui/canvas.h"
#include "tui/key.h"

/*
 * The terminal: shows a canvas, reads keys.  The only part that knows curses.
 * The caller has called setlocale(LC_CTYPE, "") before (not LC_ALL: numbers are
 * written with a point whatever the locale).
 *
 * While it is open, SIGTERM, SIGHUP and a vanished terminal arrive as
 * PRESS_CLOSE, a changed window as PRESS_RESIZE; Ctrl+Z suspends and comes
 * back.  Ctrl+C and Ctrl+S are ordinary keys.
 */

/* Whether there is a terminal that can be drawn on; says why not. */
enum status curses_check(struct error *error);

/*
 * Takes the terminal.  Fails, leaving it alone, where curses_check() does, and
 * without memory.
 */
enum status curses_open(enum tui_theme theme, struct error *error);

/* Gives the terminal back as it was.  Harmless when it is not open. */
void curses_close(void);

/* True when the terminal shows ASCII only: make the canvas `plain`. */
bool curses_is_plain(void);

/* True on a text console, whose fonts have few glyphs: canvas_use_console(). */
bool curses_is_console(void);

/* The size of the terminal in cells. */
void curses_size(int *rows, int *columns);

/* Shows the canvas and its cursor, writing only what has changed. */
void curses_show(const struct canvas *canvas);

/* The next curses_show writes everything: for a screen that got garbled. */
void curses_redraw(void);

/* Waiting for a key ends, with PRESS_CHANGED, also when this can be read; -1: no more. */
void curses_watch(int file);

/* Whether the keys that were read last are a paste whose end has not come yet. */
bool curses_is_pasting(void);

/*
 * Waits for a key, up to `timeout_ms` milliseconds (below 0: for ever), and
 * returns it, or PRESS_NOTHING.
 */
struct key curses_read_key(int timeout_ms);

#endif
