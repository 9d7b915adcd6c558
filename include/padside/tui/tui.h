#ifndef PADSIDE_TUI_H
#define PADSIDE_TUI_H

#include <padside/base/error.h>
#include <padside/app/session.h>
#include <padside/tui/theme.h>

/* Whether the workbook can run here; STATUS_NO_TERMINAL, and why, where it cannot. */
enum status tui_check(struct error *error);

/* The key that shows the questions of a merge on a call, as the help writes it. */
const char *tui_questions_key(void);

/*
 * The full-screen workbook.  main() has called setlocale(LC_CTYPE, "").
 * Runs until the technician or the system ends it; STATUS_NO_TERMINAL where
 * there is none.
 */
enum status tui_run(struct session *session, enum tui_theme theme, const char *program,
                    struct error *error);

#endif
