/* Settings read from the book.  How they are kept: prices.c. */
#include "store/parts.h"

#include <padside/base/text.h>

enum status store_setting_get(struct store *store, const char *key, char *value, size_t size,
                              struct error *error)
{
	static const char sql[] = "SELECT value FROM setting WHERE key = ?1";
	sqlite3_stmt *row = book_query(store, sql, "s", key);

	text_copy(value, size, "");
	if (book_next(store, row)) {
		row_copy(row, 0, value, size);
		book_stop(row);
	}
	return book_outcome(store, error);
}

/* Set while the book has of other books only what it carries. */
const char sync_partial_key[] = "office partial";

enum status sync_is_partial(struct store *store, bool *is_partial, struct error *error)
{
	char text[4];
	enum status status = store_setting_get(store, sync_partial_key, text, sizeof text, error);

	*is_partial = status == STATUS_OK && *text;
	return status;
}
