/*
 * padside without a command: the workbook.
 */
#include "cli/commands.h"

#include <padside/app/session.h>
#include <padside/app/settings.h>
#include <padside/tui/tui.h>

#include "cli/book.h"

/* The theme as asked for on the command line, else as set in the book. */
static enum status choose_theme(const struct cli *cli, struct store *store, enum tui_theme *theme,
                                struct error *error)
{
	char word[SETTING_SIZE] = "";

	*theme = TUI_THEME_AUTO;
	if (cli->theme_word) {
		tui_theme_from_key(cli->theme_word, theme);
		return STATUS_OK;
	}
	enum status status = setting_get(store, SETTING_THEME, word, sizeof word, error);
	tui_theme_from_key(word, theme);
	return status;
}

int command_workbook(struct cli *cli)
{
	struct store *store;
	struct session *session = NULL;
	enum tui_theme theme;
	struct error error;

	/* Where it cannot run it makes no book either. */
	if (tui_check(&error) != STATUS_OK || book_open(cli, STORE_CREATE, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = choose_theme(cli, store, &theme, &error);
	if (status == STATUS_OK)
		status = session_new(store, &clock_of_machine, cli->units, &session, &error);
	if (status == STATUS_OK)
		status = tui_run(session, theme, cli->program, &error);
	session_free(session);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
