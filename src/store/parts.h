#ifndef STORE_PARTS_H
#define STORE_PARTS_H

#include <padside/model/call_parts.h>

#include "store/book.h"

struct thing;

/* The files of a book: folders and rights (place.c). */
enum status place_make_folders(const char *path, struct error *error);
void place_restrict(const char *path);
/* A folder, a device: there, but nothing to keep a book in. */
bool place_is_no_file(const char *path);

/* People and units (people.c). */

/* What a known system or site says about where it is and whose. */
enum status people_complete(struct store *store, struct call *call, struct error *error);

/* Brings up to date what customers are found by, for all that was touched. */
enum status people_finish(struct store *store, struct error *error);

/* How many customers are not found by what is theirs. */
enum status people_check(struct store *store, int *wrong, struct error *error);

/* Takes out the people and units of a call that no call refers to any more. */
enum status people_forget_unused(struct store *store, const struct call *call,
                                 struct error *error);

/* Readings as text (value_text.c), and in the book (values.c). */
const char *value_stage_word(enum stage stage, enum reading reading);

/* Fills *value from exact text ("OL", a number, a word); false and a sentence when it is none. */
bool value_from_text(enum reading reading, const char *text, struct value *value,
                     struct error *error);

/* Whether values of the reading are numbers. */
bool value_is_number(enum reading reading);

/* Whether a number is within the limits of the catalogue. */
bool value_is_within(enum reading reading, const struct value *value);

enum status values_load(struct store *store, int64_t call, struct visit *visit,
                        struct error *error);
enum status values_load_nameplate(struct store *store, int64_t call, struct visit *visit,
                                  struct error *error);

/* One reading of system or site alone. */
enum status values_load_one(struct store *store, int64_t call, enum reading reading,
                            struct value *value, struct error *error);

enum status values_insert(struct store *store, const struct thing *call, const struct visit *visit,
                          struct error *error);

/* Lists (lists.c): a new line; position 0: behind the last. */
enum status line_insert(struct store *store, enum call_list list, int64_t call, int64_t position,
                        const void *line, struct error *error);
enum status list_load(struct store *store, int64_t id, enum call_list list, struct call *call,
                      struct error *error);
enum status lists_load(struct store *store, int64_t id, struct call *call, struct error *error);

/* The row of a call whose uid must be whole (lists.c). */
enum status call_find_id(struct store *store, const struct uid *uid, int64_t *id,
                         struct error *error);

/* The checksum of a call's two lines that are to be worked out again. */
enum { STALE_SUM = -1 };

/* What a call's two lines said counts no more: empty until worked out again (lists.c). */
enum status call_lines_spoil(struct store *store, int64_t call, struct error *error);

/* The price list (prices.c): a row with its checksum, and that. */
enum status price_insert(struct store *store, const char *kind, const char *code,
                         const char *description, cents unit_price, struct error *error);
int64_t price_sum(const char *kind, const char *code, const char *description, cents unit_price);

/*
 * Whether the book does not carry the whole firm: of other books it has what the office chose
 * (settings.c), and the setting that says so.
 */
extern const char sync_partial_key[];
enum status sync_is_partial(struct store *store, bool *is_partial, struct error *error);

/* Copies the book to a new file (backup.c); as another book, or as it is. */
enum status book_copy(struct store *store, const char *path, bool is_another_book,
                      struct error *error);

/*
 * Turns the tables of before the trail into one (convert.c); within the migration of that number.
 */
enum { TRAIL_MIGRATION = 5 };
enum status convert_to_trail(struct store *store, struct error *error);

#endif
