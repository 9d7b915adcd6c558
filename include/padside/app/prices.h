#ifndef PADSIDE_PRICES_H
#define PADSIDE_PRICES_H

#include <stddef.h>

#include <padside/base/error.h>
#include <padside/store/store.h>

/*
 * The price list from a CSV file (RFC 4180), as a spreadsheet saves it.
 *
 * The first line names the columns, in any order: kind, code, description,
 * unit_price; capitals do not matter and further columns are ignored.  Kind
 * is labour, part, refrigerant or fee.  A price is an amount as money_parse()
 * reads it, never below zero.  A code stands once.  One bad
 * line refuses the file with the line's number; nothing is stored then.
 */

struct price_list {
	struct price_item *items; /* in the file's order; owned */
	size_t count;             /* of them */
};

void price_list_init(struct price_list *list);
void price_list_done(struct price_list *list);

/*
 * Reads a price list from `length` bytes into an empty list.  On failure
 * (STATUS_BAD_INPUT, STATUS_EXISTS, STATUS_NO_MEMORY) the list stays empty.
 */
enum status prices_parse(const char *bytes, size_t length, struct price_list *list,
                         struct error *error);

/*
 * Reads the file (up to 16 MB) and replaces the book's price list by it, all
 * or nothing; tells how many items it has.
 */
enum status prices_import(struct store *store, const char *path, size_t *count,
                          struct error *error);

#endif
