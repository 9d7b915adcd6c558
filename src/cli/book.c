/*
 * Where the book lies.
 */
#include "cli/book.h"

#include <errno.h>
#include <stdlib.h>
#include <unistd.h>

#include <padside/app/settings.h>
#include <padside/base/text.h>

static enum status find_default(struct text *path, struct error *error)
{
	const char *data = getenv("XDG_DATA_HOME");
	const char *home = getenv("HOME");

	if (data && data[0] == '/')
		text_add_format(path, "%s/padside/book.db", data);
	else if (home && *home)
		text_add_format(path, "%s/.local/share/padside/book.db", home);
	else
		return error_set(error, STATUS_NOT_FOUND,
		                 "there is no home folder to keep the book in; name one with --book FILE");
	return STATUS_OK;
}

enum status book_open(const struct cli *cli, enum store_mode mode, struct store **store,
                      struct error *error)
{
	struct text path;
	enum status status = STATUS_OK;

	text_init(&path);
	if (cli->book)
		text_add(&path, cli->book);
	else
		status = find_default(&path, error);
	/* Only looking makes nothing: a name mistyped must not leave an empty book behind. */
	bool is_missing = path.length > 0 && access(text_get(&path), F_OK) != 0 && errno == ENOENT;
	if (status == STATUS_OK && mode == STORE_EXISTING && is_missing)
		status = error_set(error, STATUS_NOT_FOUND, "there is no book yet at %s; the workbook or "
		                   "padside record makes one", text_get(&path));
	if (status == STATUS_OK)
		status = store_open(text_get(&path), mode, &clock_of_machine, store, error);
	if (status == STATUS_OK && settings_use_meters(*store, error) != STATUS_OK) {
		store_close(*store);
		status = error->status;
	}
	text_done(&path);
	return status;
}
