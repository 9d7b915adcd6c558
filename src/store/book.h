#ifndef STORE_BOOK_H
#define STORE_BOOK_H

#include <sqlite3.h>

#include <padside/store/store.h>

/* What the files of the store share: the open book and how SQL is run on it. */

enum { STATEMENT_SLOTS = 256 };

/* The statements of each list of a call (lists.c). */
enum list_statement {
	LIST_INSERT, LIST_CHANGE, LIST_SELECT, LIST_REMEMBER, LIST_REMOVE, LIST_STATEMENT_COUNT
};

/* A statement that was prepared once, found again by the address of its SQL. */
struct kept_statement {
	const char *sql;         /* a string constant of the program */
	sqlite3_stmt *statement; /* ready to be run */
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
	struct kept_statement kept[STATEMENT_SLOTS];  /* hashed by address */
	char *list_sql[CALL_LIST_COUNT][LIST_STATEMENT_COUNT]; /* made when first needed; owned */
};

/* Reports a SQLite code on `path`: its status and one sentence. */
enum status book_refuse(const char *path, int code, struct error *error);

/* Reports a status on this book in one sentence. */
enum status book_error(const struct store *store, enum status status, struct error *error);

/*
 * Starts a statement.  `sql` stays where it is as long as the book is open; `forms` names what follows:
 * i int64_t, d double, s text, n text or NULL (as NULL), t wall_time (none as
 * NULL).  Never fails at once: book_next() and book_outcome() tell.
 */
sqlite3_stmt *book_query(struct store *store, const char *sql, const char *forms, ...);

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


/* Columns of a row: text ("" for NULL), a time, a uid. */
const char *row_text(sqlite3_stmt *row, int column);
void row_copy(sqlite3_stmt *row, int column, char *out, size_t size);
wall_time row_time(sqlite3_stmt *row, int column);
struct uid row_uid(sqlite3_stmt *row, int column);

/* Now, by the book's clock. */
wall_time book_now(const struct store *store);

#endif
