#ifndef CLI_BOOK_H
#define CLI_BOOK_H

#include <padside/store/store.h>

#include "cli/command.h"

/*
 * Opens the book that the global options name, or the default one:
 * $XDG_DATA_HOME/padside/book.db, ~/.local/share/padside/book.db.
 */
enum status book_open(const struct cli *cli, enum store_mode mode, struct store **store,
                      struct error *error);

#endif
