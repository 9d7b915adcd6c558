/*
 * padside without a command: the workbook.
 */
#include "cli/commands.h"

#include <padside/app/session.h>
#include <padside/tui/tui.h>

#include "cli/book.h"

int command_workbook(struct cli *cli)
{
	struct store *store;
	struct session *session = NULL;
	struct error error;

	if (book_open(cli, STORE_CREATE, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = session_new(store, &clock_of_machine, cli->units, &session, &error);
	if (status == STATUS_OK)
		status = tui_run(session, &error);
	session_free(session);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
