/*
 * The price list, and settings kept.  A few thousand rows at most, so
 * that looking at each of them is quick enough while one types.
 */
#include "store/parts.h"

#include <ctype.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/gather.h>
#include <padside/base/text.h>

#include "store/trail.h"

enum { SEARCH_WORDS = 4, SEARCH_WORD_SIZE = 48 };

enum status price_insert(struct store *store, const char *kind, const char *code,
                         const char *description, cents unit_price, struct error *error)
{
	static const char sql[] =
		"INSERT INTO price_item (kind, code, description, unit_price, sum) VALUES "
		"(?1, ?2, ?3, ?4, ?5)";

	return book_run(store, error, sql, "sssii", kind, code, description, unit_price,
	                price_sum(kind, code, description, unit_price));
}

int64_t price_sum(const char *kind, const char *code, const char *description, cents unit_price)
{
	char words[PRICE_CODE_SIZE + LINE_SIZE + 64];

	snprintf(words, sizeof words, "%s\n%s\n%" PRId64, kind, code, unit_price);
	return texts_sum(words, description);
}

enum status store_prices_replace(struct store *store, const struct price_item *items,
                                 size_t count, struct error *error)
{
	static const char clear[] = "DELETE FROM price_item";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	status = book_run(store, error, clear, "");
	for (size_t i = 0; i < count && status == STATUS_OK; i++) {
		status = price_insert(store, work_kind_key(items[i].kind), items[i].code,
		                      items[i].description, items[i].unit_price, error);
		if (status == STATUS_EXISTS)
			error_set(error, status, "the code \"%s\" is there twice; the old price list stays",
			          items[i].code);
	}
	return store_end(store, status, error);
}

/* The words of a search in small letters; those past the last are left out. */
static void split_words(const char *text, char words[SEARCH_WORDS][SEARCH_WORD_SIZE])
{
	for (int i = 0; i < SEARCH_WORDS; i++) {
		text += strspn(text, " \t");
		size_t length = strcspn(text, " \t");
		size_t kept = length < SEARCH_WORD_SIZE ? length : SEARCH_WORD_SIZE - 1;
		for (size_t j = 0; j < kept; j++)
			words[i][j] = (char)tolower((unsigned char)text[j]);
		words[i][kept] = '\0';
		text += length;
	}
}

enum status store_prices_find(struct store *store, const char *text, int limit,
                              struct price_item **list, size_t *count, struct error *error)
{
	/* instr() finds the empty text everywhere. */
	static const char sql[] =
		"SELECT kind, code, description, unit_price FROM price_item "
		"WHERE instr(lower(code || char(10) || description), ?1) > 0 "
		"AND instr(lower(code || char(10) || description), ?2) > 0 "
		"AND instr(lower(code || char(10) || description), ?3) > 0 "
		"AND instr(lower(code || char(10) || description), ?4) > 0 ORDER BY code LIMIT ?5";
	char words[SEARCH_WORDS][SEARCH_WORD_SIZE];
	struct gather items = { .size = sizeof **list };
	bool goes_on = true;

	split_words(text, words);
	sqlite3_stmt *row = book_query(store, sql, "ssssi", words[0], words[1], words[2], words[3],
	                               limit > 0 ? (int64_t)limit : (int64_t)-1);
	while (goes_on && book_next(store, row)) {
		struct price_item item = { .unit_price = sqlite3_column_int64(row, 3) };
		work_kind_from_key(row_text(row, 0), &item.kind);
		row_copy(row, 1, item.code, sizeof item.code);
		row_copy(row, 2, item.description, sizeof item.description);
		goes_on = gather_add(&items, &item);
	}
	return book_hand_over(store, row, STATUS_OK, &items, list, count, error);
}

enum status store_setting_set(struct store *store, const char *key, const char *value,
                              struct error *error)
{
	static const char sql[] =
		"INSERT OR REPLACE INTO setting (key, value, sum) VALUES (?1, ?2, ?3)";
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	return store_end(store, book_run(store, error, sql, "ssi", key, value,
	                                 texts_sum(key, value)), error);
}
