/*
 * The workbook on the terminal: draw, wait for a key, take it.
 */
#include <padside/tui/tui.h>

#include <string.h>
#include <unistd.h>

#include <padside/app/short_texts.h>
#include <padside/base/beside.h>

#include "tui/curses.h"
#include "tui/workbook.h"

static struct workbook *open_workbook(struct session *session)
{
	int rows, columns;

	curses_size(&rows, &columns);
	struct workbook *workbook = workbook_new(session, rows, columns, curses_is_plain());
	if (workbook && curses_is_console())
		canvas_use_console(workbook_canvas(workbook));
	return workbook;
}

static void run(struct workbook *workbook)
{
	while (!workbook_is_over(workbook)) {
		if (workbook_take_redraw(workbook))
			curses_redraw();
		/* A paste is seen when it is there. */
		if (!curses_is_pasting())
			curses_show(workbook_draw(workbook));
		struct key key = curses_read_key(workbook_wait(workbook));
		/* What the window and the book tell comes the same way and is no key. */
		if (key.press == PRESS_RESIZE) {
			int rows, columns;
			curses_size(&rows, &columns);
			workbook_resize(workbook, rows, columns);
		} else if (key.press == PRESS_CHANGED) {
			workbook_note_writing(workbook);
			workbook_tick(workbook);
		} else if (key.press == PRESS_NOTHING) {
			workbook_tick(workbook);
		} else {
			workbook_press(workbook, key);
		}
	}
}

bool tui_theme_from_key(const char *key, enum tui_theme *theme)
{
	static const char *const keys[TUI_THEME_COUNT] = {
		[TUI_THEME_AUTO] = "auto", [TUI_THEME_LIGHT] = "light", [TUI_THEME_DARK] = "dark",
		[TUI_THEME_MONO] = "mono",
	};

	for (int i = 0; i < TUI_THEME_COUNT; i++)
		if (strcmp(keys[i], key) == 0) {
			*theme = (enum tui_theme)i;
			return true;
		}
	return false;
}

enum status tui_check(struct error *error)
{
	return curses_check(error);
}

const char *tui_questions_key(void)
{
	return request_info(REQUEST_QUESTIONS)->key;
}

enum status tui_run(struct session *session, enum tui_theme theme, const char *program,
                    struct error *error)
{
	enum status status = curses_open(theme, error);

	if (status != STATUS_OK)
		return status;
	struct workbook *workbook = open_workbook(session);
	int watch = beside_watch(session_path(session));
	curses_watch(watch);
	if (workbook && watch >= 0)
		workbook_set_watched(workbook);
	if (workbook) {
		workbook_set_program(workbook, program);
		short_texts_read();
		run(workbook);
	}
	curses_close();
	if (watch >= 0)
		close(watch);
	if (!workbook)
		return error_set(error, STATUS_NO_MEMORY,
		                 "there is no memory left for the screen; nothing was "
		                 "lost; close other programs and start again");
	workbook_free(workbook);
	/* What is held goes into its file, whatever ended the program. */
	return session_is_spool_due(session) ? session_spool(session, error) : STATUS_OK;
}
