#ifndef PADSIDE_TABLES_H
#define PADSIDE_TABLES_H

#include <stdbool.h>

#include <padside/base/error.h>
#include <padside/base/text.h>
#include <padside/base/units.h>
#include <padside/model/call.h>
#include <padside/store/store.h>

/*
 * Calls as rows for a spreadsheet or for accounting, in CSV (RFC 4180): always
 * the same columns, numbers without unit or grouping, days and times as ISO 8601
 * has them.
 *
 * Readings: one row each, of arrival, after the work, the unit and the site.
 * `number` is the value in `unit`; what is no number stands in `word`.
 *
 * Lines: one row for each line of the work, and one for a deposit.  `list` is
 * quantity × unit_price; `amount` is list − discount; `total` is amount + tax.
 * Discount and tax are the line's part of what the report prints for its kind
 * (money_shares()), so that the totals of a call add up to its balance.  A line
 * without charge keeps its price and is taken off by 100 %.  `unit` is that of
 * money_line_unit(), `currency` the code of ISO 4217.
 */
enum table { TABLE_READINGS, TABLE_LINES, TABLE_COUNT };

/* "readings", "lines": what `export --table` takes. */
bool table_from_key(const char *key, enum table *table);

/* How rows are written. */
struct table_look {
	enum unit_system units; /* of numbers */
	const char *currency;   /* code of ISO 4217: "USD" */
};

/* Appends the line of column names. */
void table_add_head(enum table table, struct text *text);

/* Appends the rows of a call.  Fails with STATUS_MONEY_TOO_LARGE, naming the call. */
enum status table_add_call(enum table table, const struct call *call,
                           const struct table_look *look, struct text *text, struct error *error);

/*
 * Appends column names and the rows of every call that was opened between
 * `since` and `until` (either may be WALL_TIME_NONE), oldest first.
 */
enum status table_add_period(enum table table, struct store *store, wall_time since,
                             wall_time until, const struct table_look *look, struct text *text,
                             struct error *error);

#endif
