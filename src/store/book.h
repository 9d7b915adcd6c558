#ifndef STORE_BOOK_H
#define STORE_BOOK_H

#include <sqlite3.h>

#include <padside/store/store.h>

/* What the files of the store share: the open book and how SQL is run on it. */

enum { STATEMENT_SLOTS = 256 };


/* A statement that was prepared once, found again by the address of its SQL. */
struct kept_statement {
	const char *sql;         /* a string constant of the program */
	sqlite3_stmt *statement; /* ready to be run */
};

struct field_meaning;
struct gather;
struct text;
struct incoming;
struct shape;

/* Statements that are made from the shapes of things when they are first needed. */
enum made {
	MADE_HEADER,                               /* loads a call without its lists */
	MADE_WATCH,                                /* what earlier calls left behind */
	MADE_LEFT, MADE_LEFT_OF_SYSTEM,    /* likewise */
	MADE_LISTS,                                /* loads a list, by which */
	MADE_COUNT = MADE_LISTS + CALL_LIST_COUNT,
};

/* What was learnt about the fields of this book. */
struct fields {
	bool learnt;                                /* the table was read */
	struct field_meaning *list;                 /* by id; owned */
	size_t count;                               /* places in it */
	int of_reading[STAGE_COUNT][READING_COUNT]; /* ids; 0: the book does not have it yet */
	int of_mark[3];                             /* likewise, by enum mark */
	bool has_unread;                            /* a newer program wrote something (unread.c) */
	bool has_removed;                           /* something was taken out */
};

/* Where the trail of this book ends, while a transaction writes. */
/* What a transaction adds to the digest of a book. */
struct added {
	int64_t book; /* whose entries came */
	int64_t sum;  /* of their checksums */
};

struct trail {
	bool is_begun;                /* the rest is read */
	int64_t book, number, stamp;  /* this book; its last number; the greatest stamp of all */
	char technician[NAME_SIZE];   /* who works */
	bool is_named;                /* the two below are of this transaction */
	char named[NAME_SIZE];        /* the technician of the last entry */
	int64_t named_id;             /* of them in this book */
	struct added *added;          /* not in the table `book` yet; owned */
	size_t added_count;           /* of them */
};

/* Ids that a transaction touched. */
struct dirty {
	int64_t *ids;       /* owned */
	size_t count, room; /* of them */
	bool failed;        /* memory ran out */
};

struct store {
	sqlite3 *db;                                  /* the connection */
	struct clock clock;                           /* tells the time of changes */
	char *path;                                   /* for messages; owned */
	char *uri;                                    /* with which the file was opened; owned */
	bool read_only;                               /* nothing can be written */
	int depth;                                    /* transactions begun and not ended */
	enum status outcome;                          /* of the running transaction so far */
	int code;                                     /* SQLite's answer to the last statement */
	int lost;                                     /* why the transaction cannot be kept; 0 */
	struct kept_statement kept[STATEMENT_SLOTS];  /* hashed by address */
	struct shape *shapes;                         /* of things, by kind (shape.c); owned */
	int kinds;                                    /* how many kinds of thing this program knows */
	int64_t version;                              /* of the file when last looked at */
	struct fields fields;                         /* names of fields (fields.c) */
	struct trail trail;                           /* where this book's trail ends (trail.c) */
	struct dirty dirty_customers;                 /* to be found by something else (touched.c) */
	struct dirty dirty_systems;                   /* whose nameplate may be another */
	struct incoming *incoming;                    /* entries being taken (incoming.c); NULL: none */
	char *made[MADE_COUNT];                       /* statements made from the shapes; owned */
};

/* Reports a SQLite code on `path`: its status and one sentence. */
enum status book_refuse(const char *path, int code, struct error *error);

/* Reports a status on this book in one sentence. */
enum status book_error(const struct store *store, enum status status, struct error *error);

/*
 * Starts a statement.  `sql` stays where it is as long as the book is open (NULL: it could not be
 * made); `forms` names what follows:
 * i int64_t, s text, n text or NULL (as NULL), m wall_time as seconds (none as NULL).
 * Never fails at once: book_next() and book_outcome() tell.
 */
sqlite3_stmt *book_query(struct store *store, const char *sql, const char *forms, ...);

/* Takes a statement over, that store->made has from now on; NULL where it had no memory. */
const char *book_keep_sql(struct store *store, enum made made, struct text *sql);

/* Steps to the next row; false at the end or on failure, when it is reset. */
bool book_next(struct store *store, sqlite3_stmt *row);

/* Ends a query before its last row. */
void book_stop(sqlite3_stmt *row);

/* How the last query went. */
enum status book_outcome(struct store *store, struct error *error);

/* Runs a statement that answers nothing. */
enum status book_run(struct store *store, struct error *error, const char *sql,
                     const char *forms, ...);

/* Runs several statements that take no values. */
enum status book_script(struct store *store, const char *sql, struct error *error);

/* The id that `sql` (with one text) answers; STATUS_NOT_FOUND when it answers none. */
enum status book_find_id(struct store *store, const char *sql, const char *text, int64_t *id,
                         struct error *error);


/*
 * The end of a listing: what was gathered goes to the caller, or nothing and the reason why not.
 * `row` is where it stopped; `status` how the last row went.
 */
enum status book_hand_over(struct store *store, sqlite3_stmt *row, enum status status,
                           struct gather *gather, void *list, size_t *count,
                           struct error *error);

/* Columns of a row: text ("" for NULL), a time, a uid. */
const char *row_text(sqlite3_stmt *row, int column);
void row_copy(sqlite3_stmt *row, int column, char *out, size_t size);
wall_time row_time(sqlite3_stmt *row, int column);
struct uid row_uid(sqlite3_stmt *row, int column);

/* Sees whether another program wrote since the last look; what was learnt of the book goes then. */
enum status book_look(struct store *store, struct error *error);

/*
 * Lets SQLite hold more of the book in memory while a great deal is written, and gives it back
 * afterwards.  Outside a transaction.
 */
void book_hold_much(struct store *store, bool much);

/* Now, by the book's clock. */
wall_time book_now(const struct store *store);

#endif
