/*
 * The refrigerant ledger: totals of the charge logs.
 */
#include "store/book.h"

/* What each kind of line is called by; the rest of the query is the same. */
#define LEDGER(key, words) \
	"SELECT " key " AS name, " words ", coalesce(word, '') AS refrigerant, total(added), " \
	"total(recovered), count(*) FROM charge_entry JOIN call ON call.id = charge_entry.call " \
	"JOIN system ON system.id = call.system JOIN customer ON customer.id = call.customer " \
	"LEFT JOIN call_reading ON call_reading.call = call.id AND stage = 'system' " \
	"AND key = 'refrigerant' GROUP BY 1, 3 ORDER BY 1, 3"

static const char *const ledgers[] = {
	[LEDGER_BY_SYSTEM] = LEDGER("system.uid",
		"max(customer.name || iif(system.name = '', '', ', ' || system.name))"),
	[LEDGER_BY_YEAR] = LEDGER("substr(coalesce(at, opened_at), 1, 4)",
		"max(substr(coalesce(at, opened_at), 1, 4))"),
	[LEDGER_BY_CYLINDER] = LEDGER("cylinder", "max(cylinder)"),
};

enum status store_ledger(struct store *store, enum ledger_by by, store_ledger_fn *each,
                         void *context, struct error *error)
{
	sqlite3_stmt *row = book_query(store, ledgers[by], "");

	while (book_next(store, row)) {
		struct ledger_line line = {
			.added_oz = sqlite3_column_double(row, 3),
			.recovered_oz = sqlite3_column_double(row, 4),
			.entries = sqlite3_column_int(row, 5),
		};
		row_copy(row, 0, line.key, sizeof line.key);
		row_copy(row, 1, line.words, sizeof line.words);
		row_copy(row, 2, line.refrigerant, sizeof line.refrigerant);
		if (!each(&line, context)) {
			book_stop(row);
			break;
		}
	}
	return book_outcome(store, error);
}
