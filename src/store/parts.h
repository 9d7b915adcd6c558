#ifndef STORE_PARTS_H
#define STORE_PARTS_H

#include <padside/model/call_parts.h>

#include "store/book.h"

/* The parts of a call, as calls.c puts them together. */

/*
 * When a row counts as changed: `now`, or a second after its last change where
 * the clock was put back since (or has not moved), so that of two versions of
 * a row the later one can always be told.
 */
#define CHANGED_AT(table, now) \
	"iif(" table ".changed_at < " now ", " now ", " \
	"strftime('%Y-%m-%dT%H:%M:%S', " table ".changed_at, '+1 second'))"

/* The files of a book: folders and rights (place.c). */
enum status place_make_folders(const char *path, struct error *error);
enum status place_make_file(const char *path, bool *made, struct error *error);
void place_restrict(const char *path);
bool place_is_no_file(const char *path); /* a folder, a device: there, but nothing to keep a book in */

/* People and machines (people.c). */
struct people_ids {
	int64_t customer, site, system; /* rows of this book */
};

/* What a known system or site says about where it is and whose. */
enum status people_complete(struct store *store, struct call *call, struct error *error);

/* Makes them where they are not there, else fills blanks in (or overwrites). */
enum status people_put(struct store *store, const struct call *call, bool overwrite,
                       struct people_ids *ids, struct error *error);

/* Writes again what a customer is found by. */
enum status people_refresh_search(struct store *store, int64_t customer, struct error *error);

/* Takes out people and machines of a call that no call refers to any more. */
enum status people_forget_unused(struct store *store, const struct people_ids *ids,
                                 struct error *error);

/* Readings (values.c). */
const char *value_stage_word(enum stage stage, enum reading reading);

/* Fills *value from state, number, word, taken_at in columns `first` and on. */
bool value_from_row(sqlite3_stmt *row, int first, enum reading reading, struct value *value);

/* Fills *value from a number of the book; false when the reading takes none. */
bool value_from_number(enum reading reading, double number, struct value *value);

enum status values_load(struct store *store, int64_t call, struct visit *visit,
                        struct error *error);
enum status values_load_nameplate(struct store *store, int64_t call, struct visit *visit,
                                  struct error *error);
enum status values_insert(struct store *store, int64_t call, const struct visit *visit,
                          struct error *error);

/* Lists (lists.c). */
enum status lists_load(struct store *store, int64_t id, struct call *call, struct error *error);
enum status lists_insert(struct store *store, int64_t id, const struct call *call,
                         struct error *error);

/* Binds a member's exact text, or what stands for an empty one; reads it back. */
void member_bind(sqlite3_stmt *row, int parameter, const struct call_member *member,
                 const void *part);
void member_from_row(sqlite3_stmt *row, int column, const struct call_member *member, void *part);

/* All members of a part, in their order, from column `first` and on. */
void members_from_row(sqlite3_stmt *row, int first, enum call_part part, void *target);

/* The columns that members_from_row() expects of an offer and a watch item. */
#define OFFER_COLUMNS \
	"title, price_low, price_high, years_low, years_high, seer, decision, decided_by, decided_at, " \
	"note"
#define WATCH_COLUMNS "fault, text, noted_at, watch_item.closed_at"

/* Calls (calls.c): the row of a uid that must be whole. */
enum status call_find_id(struct store *store, const struct uid *uid, int64_t *id,
                         struct error *error);

#endif
