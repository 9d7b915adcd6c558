#ifndef PADSIDE_THEME_H
#define PADSIDE_THEME_H

#include <stdbool.h>

/* What the workbook is drawn for. */
enum tui_theme {
	TUI_THEME_AUTO,  /* the terminal's ground is not known: legible on both */
	TUI_THEME_LIGHT, /* a light ground */
	TUI_THEME_DARK,  /* a dark one */
	TUI_THEME_MONO,  /* no colours */
	TUI_THEME_COUNT
};

/* "auto", "light", "dark", "mono". */
bool tui_theme_from_key(const char *key, enum tui_theme *theme);

#endif
