#ifndef STORE_TRAIL_H
#define STORE_TRAIL_H

#include <padside/model/call_parts.h>

#include <padside/base/text.h>

#include "store/book.h"

/*
 * The trail of changes, and the tables as its fold (schema/0005_the_trail.sql).
 *
 * A thing (customer, site, system, call, line of a list) has columns, each one
 * a field of the trail: shape.c has the tables.  trail.c writes entries and
 * reads which one counts; fold.c works out a thing's row of the tables.
 */

/* ---- Shapes (shape.c) ---- */

/* Numbers as in the table `thing`; a list is THING_LISTS + its number. */
enum thing_kind {
	THING_BOOK, THING_CUSTOMER, THING_SITE, THING_SYSTEM, THING_CALL, THING_LISTS,
	THING_KIND_COUNT = THING_LISTS + CALL_LIST_COUNT,
	THING_NEWER = THING_KIND_COUNT /* of a kind that only a newer program knows */
};

enum { MOST_COLUMNS = 36, FIELD_NAME_SIZE = 64 };

enum column_kind {
	COLUMN_MEMBER,    /* of a part of the call */
	COLUMN_REFERENCE, /* the uid of another thing; its id in the table */
	COLUMN_READING,   /* of a line of the charge log */
	COLUMN_POSITION   /* of a line in its list */
};

struct shape_column {
	char name[FIELD_NAME_SIZE];       /* of the field and of the column */
	enum column_kind kind;            /* what it holds */
	const struct call_member *member; /* COLUMN_MEMBER */
	enum thing_kind refers;           /* COLUMN_REFERENCE: to what */
	enum reading reading;             /* COLUMN_READING */
	size_t offset;                    /* of the part, the uid, the value: see shape_format() */
	int field;                        /* id of the field in this book; 0: not known yet */
};

struct shape {
	const char *table;                    /* its table; NULL: none (books) */
	struct shape_column columns[MOST_COLUMNS];  /* in the order of the statements */
	int count;                            /* of them */
	char *put, *get;                      /* statements over all columns; owned by the store */
	char *lines;                          /* of a list: ids of a call's, also of those taken out */
};

/* Fields that every thing may have, besides its columns. */
enum mark { MARK_REMOVED, MARK_JOINED, MARK_MET, MARK_COUNT };

/* Makes the shapes; false: no memory. */
bool shapes_make(struct shape shapes[THING_KIND_COUNT]);
void shapes_free(struct shape shapes[THING_KIND_COUNT]);

/* The statements of one shape, from its columns; false: no memory. */
bool shape_make_statements(struct shape *shape, enum thing_kind kind);
void shape_free_statements(struct shape *shape);

/* Whether things of this kind are lines of a list. */
bool kind_is_line(enum thing_kind kind);

/* What a thing is called in sentences: "call", "work", … */
const char *thing_word(enum thing_kind kind);

/*
 * A column as exact text ("" for nothing) from where it lies in memory:
 * `base` is the line of a list, or the whole `struct call` for the others.
 */
void shape_format(const struct shape_column *column, const void *base, char *text, size_t size);

/* Puts it back; false when it is none. */
bool shape_parse(const struct shape_column *column, void *base, const char *text);

/* Adds the columns of members and readings to a SELECT, each behind a comma. */
void shape_add_columns(const struct shape *shape, struct text *sql);

/* Reads those from a row, from column `first` on; answers the column behind them. */
int shape_read(const struct shape *shape, sqlite3_stmt *row, int first, void *base);

/* What stands in the column of the table for nothing; NULL: NULL. */
const char *shape_empty(const struct shape_column *column);

/* ---- Names of fields (fields.c) ---- */

/* What a field of this book means. */
struct field_meaning {
	char name[FIELD_NAME_SIZE]; /* its name; "" there is no such field */
	enum reading reading;       /* of a call; READING_NONE */
	enum stage stage;           /* of it */
	enum mark mark;             /* MARK_COUNT: none */
	uint32_t seed;              /* checksum of the name */
	signed char columns[THING_KIND_COUNT]; /* by kind, which of its columns; -1: none */
};

/* Id of a field by name; made where it is not there (only while writing). */
enum status field_find(struct store *store, const char *name, bool is_number, bool make, int *id,
                       struct error *error);
/* The same, made where it is not there; by its name it is known whether it is a number. */
enum status field_of_name(struct store *store, const char *name, int *id, struct error *error);

/* Puts right what the book says of a field that a newer program made. */
enum status field_update(struct store *store, int id, struct error *error);
enum status field_of_column(struct store *store, enum thing_kind kind, int column, bool make,
                            int *id, struct error *error);
enum status field_of_reading(struct store *store, enum stage stage, enum reading reading,
                             bool make, int *id, struct error *error);
enum status field_of_mark(struct store *store, enum mark mark, bool make, int *id,
                          struct error *error);

/* What a field means; NULL when the book does not have it. */
const struct field_meaning *field_meaning(struct store *store, int id);

/* The column of a kind that a field is; -1 when it is none. */
int field_column(struct store *store, enum thing_kind kind, int id);

/* Whether a field is a reading of a line of the charge log. */
bool field_is_charge_reading(struct store *store, int id);

/* Forgets all that was learnt: after a failure, and when another program wrote. */
void fields_forget(struct store *store);

/* Learns whether anything was taken out, and whether a newer program wrote what is unread here. */
enum status fields_learn_removed(struct store *store, struct error *error);
enum status fields_learn_unread(struct store *store, struct error *error);

/* ---- Things and entries (trail.c) ---- */

struct thing {
	int64_t id;           /* in this book */
	enum thing_kind kind; /* what it is; THING_NEWER: not known here */
	int number;           /* of the kind, as it is written */
	int64_t call;         /* of a line: its call; else 0 */
	struct uid uid;       /* everywhere */
	uint32_t seed;        /* checksum of kind, uid and call */
};

/* One entry, as it lies in the book and as it travels. */
struct entry {
	int64_t thing;          /* id */
	int field;              /* id */
	int64_t stamp;          /* see the schema */
	int64_t book, number;   /* where it was written, and as which */
	const char *technician; /* name; "" not said */
	const char *old;        /* NULL: nothing */
	const char *new;        /* NULL: nothing */
	wall_time at;           /* WALL_TIME_NONE */
};

/* The thing with that uid or id; STATUS_NOT_FOUND. */
enum status thing_find(struct store *store, const struct uid *uid, struct thing *thing,
                       struct error *error);
enum status thing_load(struct store *store, int64_t id, struct thing *thing, struct error *error);

/* What this program knows of a kind by its number. */
enum thing_kind kind_of_number(const struct store *store, int64_t number);

/* What thing_read() expects of a row. */
#define THING_COLUMNS \
	"SELECT thing.id, thing.uid, thing.kind, thing.call, parent.uid FROM thing " \
	"LEFT JOIN thing AS parent ON parent.id = thing.call"
void thing_read(const struct store *store, sqlite3_stmt *row, struct thing *thing);

/* Makes a thing that is not there yet; `kind` is the number of its kind. */
enum status thing_make(struct store *store, int kind, const struct uid *uid,
                       int64_t call, struct thing *thing, struct error *error);

/* The same thing as in another book; `call` is the id of its call here. */
enum status thing_copy(struct store *store, const struct thing *theirs, int64_t call,
                       struct thing *thing, struct error *error);

/* The checksum of a thing and of an entry of it (checksums.c); names instead of ids. */
uint32_t thing_seed(int kind, const char *uid, const char *call_uid);
uint32_t name_seed(const char *name);
uint32_t entry_sum(uint32_t thing, uint32_t field, const struct entry *entry);

/*
 * Writes what came into a field as one entry of this book, with the next
 * stamp.  `old` is what was there.  Inside a transaction.
 */
enum status trail_write(struct store *store, const struct thing *thing, int field,
                        const char *old, const char *new, wall_time at, struct error *error);

/* The value of a field that counts; "" for nothing. */
enum status trail_get(struct store *store, int64_t thing, int field, char *text, size_t size,
                      struct error *error);

/* The checksum of two texts that belong together, as the tables hold it. */
int64_t texts_sum(const char *one, const char *other);

/* The checksum of the id of this book. */
int64_t book_sum(int64_t book);

/* The same where it is another value than the one that counts; *changed says whether. */
enum status trail_set(struct store *store, const struct thing *thing, int field, const char *new,
                      wall_time at, bool *changed, struct error *error);

/* Stores an entry as it is, of any book. */
enum status trail_insert(struct store *store, const struct entry *entry, uint32_t sum,
                         struct error *error);

/* The same where the book may have it already; *is_new: it had not. */
enum status trail_take(struct store *store, const struct entry *entry, uint32_t sum,
                       bool *is_new, struct error *error);

/* Notes that entries of `book` up to there are here. */
enum status trail_note(struct store *store, int64_t book, int64_t number, int64_t stamp,
                       struct error *error);

/* An entry with that checksum is stored just now: its book's digest follows with trail_sum_up(). */
enum status trail_add_up(struct store *store, int64_t book, uint32_t sum, struct error *error);

/* Brings the digests in the table `book` up to what was stored. */
enum status trail_sum_up(struct store *store, struct error *error);

/* The id of this book and its last number; 0 and 0 while nothing was written in it. */
enum status trail_own(struct store *store, int64_t *book, int64_t *number, struct error *error);

/* Reads where this book's trail ends, and gives a book its id that has none; in a transaction. */
enum status trail_begin(struct store *store, struct error *error);

/* What is written at the end of a transaction: the digests, the book's last number and stamp. */
enum status trail_finish(struct store *store, struct error *error);

/* Whether the author of entry (book, number, stamp) knew the other one when writing it. */
bool trail_knew(struct store *store, int64_t book, int64_t number, int64_t stamp,
                int64_t other_book, int64_t other_number, int64_t other_stamp);

/* Id of a technician by name; made where it is not there. */
enum status technician_find(struct store *store, const char *name, int64_t *id,
                            struct error *error);

/* The same within a transaction, where most entries are of whom the entry before was. */
enum status trail_technician(struct store *store, const char *name, int64_t *id,
                             struct error *error);

/* The name of a technician; most entries are of the same one as the entry before. */
struct named {
	int64_t id;           /* of whom */
	bool known;           /* the book names them */
	char name[NAME_SIZE]; /* how */
};

/* Looks it up where it is another one; false: the book does not name them. */
bool technician_name(struct store *store, int64_t id, struct named *named);

/*
 * The order of a field's entries, the last of which counts.  Numbers and checksums decide where
 * a book that was put back from an old copy used a stamp again.
 */
#define TRAIL_ORDER "stamp, book, number, sum"
#define TRAIL_LATEST "stamp DESC, book DESC, number DESC, sum DESC"

/* An entry from a row, and its checksum; it borrows from the row and from `named`. */
#define ENTRY_COLUMNS \
	"SELECT thing, field, stamp, number, technician, old, new, at, sum, book FROM entry "
void entry_read(struct store *store, sqlite3_stmt *row, struct named *named, struct entry *entry,
                uint32_t *sum);

/* ---- Entries of another book (incoming.c) ---- */

/* Tells the next entry, with the ids of this book; *at_end: there was none. */
typedef enum status trail_next_fn(void *context, struct entry *entry, uint32_t *sum, bool *at_end,
                                  struct error *error);

/* Stores all that `next` tells as they are, of any book; inside a transaction. */
enum status incoming_take(struct store *store, trail_next_fn *next, void *context,
                          struct error *error);

/* Makes the table of them known to a connection; SQLite's answer. */
int incoming_make(struct store *store);

/* ---- The fold (fold.c) ---- */

/*
 * Works out the row of a thing from its entries, and what follows from it:
 * who is found by what, what was taken out, joined, is in question.
 * `*changed` (may be NULL) says whether the row is another one than before.
 */
enum status fold_thing(struct store *store, const struct thing *thing, bool *changed,
                       struct error *error);

/*
 * The same from entries that were read already, for whoever reads those of many
 * things: fold_add() takes them in the order of field, stamp and book, and
 * fold_clear() goes on to the next thing.
 */
struct fold;

struct fold *fold_new(void); /* NULL: no memory */
void fold_free(struct fold *fold);
void fold_clear(struct fold *fold);
bool fold_add(struct fold *fold, const struct entry *entry); /* false: no memory */
enum status fold_write(struct store *store, const struct thing *thing, struct fold *fold,
                       bool *changed, struct error *error);

/* Resolves joins: the id of the thing that stands for this one. */
enum status fold_resolve(struct store *store, int64_t thing, int64_t *other,
                         struct error *error);

/* Whether a thing was taken out. */
bool fold_is_gone(struct store *store, int64_t thing);

/* What is known of the tables while the things of a book are compared with them. */
struct fold_tables {
	bool has_questions, has_joined; /* an empty one need not be asked for each thing */
	int64_t rows[THING_KIND_COUNT]; /* found so far, by kind */
};

enum status fold_look(struct store *store, struct fold_tables *tables, struct error *error);

/* Adds to `wrong` where the tables are not what a thing's entries come to. */
enum status fold_compare(struct store *store, const struct thing *thing, struct fold *fold,
                         struct fold_tables *tables, struct text *wrong, struct error *error);

/* ---- Looking at entries (checker.c) ---- */

struct checker;

struct checker *checker_new(void);
void checker_free(struct checker *checker);

/*
 * Adds to `wrong` where an entry of this store, of which the book has `sum`, is
 * not as it was written or has no place in the trail.  Whether this program
 * can read it: a newer one may have written another kind of thing, field or value.
 */
bool checker_look(struct checker *checker, struct store *store, const struct thing *thing,
                  const struct entry *entry, uint32_t sum, struct text *wrong);

/* ---- What a newer program wrote (unread.c) ---- */

/* Puts an entry of this book down as one that this program cannot read. */
enum status unread_note(struct store *store, const struct entry *entry, struct error *error);

/* Works out what this program can read and the one before could not; when a book is opened. */
enum status unread_look_again(struct store *store, struct error *error);

/* ---- What merging and meeting share (merge.c) ---- */

/* A line that was taken out before there was a trail stays out; `theirs` may be NULL. */
enum status merge_keep_out(struct store *ours, struct store *theirs, const struct thing *thing,
                           struct error *error);

/* Writes that from here on this book knows the entries of another up to `number`. */
enum status merge_met(struct store *ours, int64_t book, int64_t number, struct error *error);

/* Counts a thing that was folded; `changed` and `was_gone` say how it was before. */
void merge_count(struct store *ours, const struct thing *thing, bool is_new, bool was_gone,
                 bool changed, struct merge_report *report);

/* ---- Finding (touched.c, people.c) ---- */

/* Says that what a customer is found by may be another at the end of the transaction. */
void people_dirty_customer(struct store *store, int64_t customer);
void people_dirty_system(struct store *store, int64_t system);

#endif
