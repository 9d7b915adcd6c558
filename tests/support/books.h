#ifndef SUPPORT_BOOKS_H
#define SUPPORT_BOOKS_H

#include <stdint.h>

#include <padside/store/store.h>

/*
 * Several books that are written in at random, apart from each other, and
 * compared: for the tests of merging and of meeting the office.
 */

enum { BOOKS_MOST = 5, BOOKS_MOST_CALLS = 8, BOOKS_PATH_SIZE = 96, BOOKS_THAT_MEET = 3 };

extern struct store *books[BOOKS_MOST];                     /* open */
extern char books_paths[BOOKS_MOST][BOOKS_PATH_SIZE];       /* their files */
extern wall_time books_now;                                 /* what their clocks show */
extern struct uid books_calls[BOOKS_MOST_CALLS];            /* the calls made so far */
extern int books_call_count;                                /* of them */
extern const struct clock books_clock;                      /* theirs */

/* Makes and removes the folder of the books. */
void books_set_up(void);
void books_tear_down(void);

/* Opens new, empty books, each with no id yet; and closes them. */
void books_open(int count);
void books_close(void);

/* Begins a history; what follows is the same for the same number. */
void books_begin(uint64_t history);

/* A random number below a limit. */
unsigned books_draw(unsigned below);

/* One random change in a book: a new call, a reading, a header, a line. */
void books_change(int book);

/* All open books hold the same content and the same trail, and each is sound. */
void books_assert_same(void);

/* The calls that `book` has are as `other` has them; answers how many. */
int books_assert_carried(int book, int other);

/* Takes what book `from` has into book `into`. */
struct merge_report books_merged(int into, int from);

/* Book `to` goes on as a copy of the file of `from`, under its id. */
void books_copy_file(int from, int to);

/*
 * A random history of BOOKS_THAT_MEET books, with copies of files by hand or without: when all have
 * met they are the same, and once more is nothing.  Opens and closes them.
 */
void books_live(uint64_t history, bool with_copies);

#endif
