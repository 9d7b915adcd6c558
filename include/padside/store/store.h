#ifndef PADSIDE_STORE_H
#define PADSIDE_STORE_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/model/call.h>
#include <padside/base/clock.h>
#include <padside/base/error.h>

/*
 * The book: calls kept in one SQLite file (schema/ says how).
 *
 * What a function here has stored is on the drive when it returns STATUS_OK;
 * when it returns anything else nothing was changed, and the error says what
 * happened, what was kept and what to do.  Several programs may use one book;
 * a `struct store` belongs to one thread.
 */
struct store;

enum store_mode {
	STORE_CREATE,    /* made, with its folders, when it is not there; read and written */
	STORE_EXISTING,  /* must be there; read and written, or read where it must not be written */
	STORE_READ_ONLY, /* must be there; never written */
	STORE_MEMORY     /* an empty book that is gone when closed; the path is ignored */
};

/*
 * Opens a book and brings its schema up to date.  Refuses a book from a newer
 * program and a file that is no book.  The book's files are 0600, folders
 * made for it 0700.  `clock` tells the time of changes; it is copied.
 */
enum status store_open(const char *path, enum store_mode mode, const struct clock *clock,
                       struct store **store, struct error *error);

/* Closes it; NULL is allowed. */
void store_close(struct store *store);

/* Where it lies; "" for a book in memory.  Borrowed. */
const char *store_path(const struct store *store);

/*
 * How long to wait for another program that writes before STATUS_BUSY, in
 * milliseconds; 3000 at first.  Reading never waits.
 */
void store_set_patience(struct store *store, int milliseconds);

/*
 * A number that is another after another program wrote in the book; what this
 * program writes does not change it.
 */
enum status store_version(struct store *store, int64_t *version, struct error *error);

/*
 * All or nothing over several of the functions below.  Between begin and end
 * they only become lasting with store_end(status = STATUS_OK); any other
 * status, or a failure in between, undoes them all.  store_end() returns the
 * status that counts.
 */
enum status store_begin(struct store *store, struct error *error);
enum status store_end(struct store *store, enum status status, struct error *error);

/* ---- Calls ---- */

/*
 * Stores a new call as `call` has it, and reads it back into `call`.  Where
 * it has no uid, it gets one; where it has no opening time, now.  A customer,
 * site or system that the book knows by its uid is that one: what the book
 * knows of it stays, only blanks are filled in.  A known system brings its
 * site, its customer, its nameplate and the site's readings of the latest
 * call.  STATUS_EXISTS when the book has a call with that uid.
 */
enum status store_call_create(struct store *store, struct call *call, struct error *error);

/*
 * The same for a call from a file: nothing is filled in from earlier calls,
 * and `call` only gains the uids and the opening time.
 */
enum status store_call_record(struct store *store, struct call *call, struct error *error);

/*
 * Loads the call whose uid is or begins with `uid` into `call`, which must
 * have been initialised.  STATUS_NOT_FOUND, STATUS_AMBIGUOUS.
 */
enum status store_call_load(struct store *store, const char *uid, struct call *call,
                            struct error *error);

/* Loads of a call what it comes to: its header and its work lines; `call` likewise. */
enum status store_call_load_bill(struct store *store, const struct uid *uid, struct call *call,
                                 struct error *error);

/*
 * Writes what is another in `after` than in `before`, of all that is not a
 * reading and not in a list: texts, times, billing, the people.  What is the
 * same in both is left as the book has it, whoever changed it meanwhile.  A
 * customer, site or system with another uid is made where the book does not
 * have it; those that no call refers to any more are taken out.
 */
enum status store_call_change(struct store *store, const struct call *before,
                              const struct call *after, struct error *error);

/*
 * Saves one line each of what was found and done, for lists.  A cache: who
 * saves a call works them out again.
 */
enum status store_call_save_lines(struct store *store, const struct uid *call,
                                  const char *found_line, const char *done_line,
                                  struct error *error);

/* Those two lines as they stand; *stand: they are, and need not be worked out again. */
enum status store_call_lines(struct store *store, const struct uid *call, char *found_line,
                             size_t found_size, char *done_line, size_t done_size, bool *stand,
                             struct error *error);

/*
 * Calls whose lines are to be worked out again after a merge, newest first, at
 * most `limit`; the list is the caller's (free).
 */
enum status store_stale_calls(struct store *store, int limit, struct uid **calls, size_t *count,
                              struct error *error);

/*
 * Sets one reading of a call, or takes it away (VALUE_NOT_TAKEN), and writes
 * down the change.  One small transaction.
 */
enum status store_value_set(struct store *store, const struct uid *call, enum stage stage,
                            enum reading reading, const struct value *value, struct error *error);

/*
 * Puts a line into a list of a stored call: changes the one with its uid, or
 * adds it at the end.  `line` is an element of that list.
 */
enum status store_list_put(struct store *store, const struct uid *call, enum call_list list,
                           const void *line, struct error *error);

/* Takes a line out of its call; STATUS_NOT_FOUND when it is not there. */
enum status store_list_remove(struct store *store, enum call_list list, const struct uid *uid,
                              struct error *error);

/* Says that a watch item is dealt with (WALL_TIME_NONE opens it again). */
enum status store_watch_close(struct store *store, const struct uid *item, wall_time closed_at,
                              struct error *error);

/* ---- Moving, joining, taking out ---- */

enum store_kind { STORE_CUSTOMER, STORE_SITE, STORE_SYSTEM, STORE_CALL };

/*
 * Gives a call another customer, site or system, each of which may be NULL; a
 * system brings its site and its customer.  Those that no call refers to any
 * more are taken out.
 */
enum status store_call_move(struct store *store, const struct uid *call,
                            const struct uid *customer, const struct uid *site,
                            const struct uid *system, struct error *error);

/*
 * Joins two records of one: all that refers to `from` refers to `into` from
 * now on, also what other books bring later.  What `into` does not say is
 * filled in.  STATUS_REFUSED where they are not of this kind.
 */
enum status store_join(struct store *store, enum store_kind kind, const struct uid *from,
                       const struct uid *into, struct error *error);

/* Takes a joining back, and with it what was filled in and not changed since. */
enum status store_part_again(struct store *store, const struct uid *uid, struct error *error);

/*
 * Takes out a call, or a customer, site or system without calls
 * (STATUS_REFUSED: it has some); brings it back as it was.
 */
enum status store_take_out(struct store *store, const struct uid *uid, struct error *error);
enum status store_bring_back(struct store *store, const struct uid *uid, struct error *error);

/* Something that was taken out. */
struct store_removed {
	struct uid uid;           /* which */
	char words[LINE_SIZE];    /* complaint of a call, name or address of the others */
	char customer[NAME_SIZE]; /* of a call */
	wall_time opened_at;      /* of a call; else WALL_TIME_NONE */
};

/*
 * What was taken out and can be brought back, the last made first; the list is the caller's (free).
 */
enum status store_removed(struct store *store, enum store_kind kind, struct store_removed **list,
                          size_t *count, struct error *error);

/* ---- What two books changed ---- */

/* One of the values that were written. */
struct store_value {
	char text[NOTE_SIZE]; /* exact text, canonical unit; "" nothing */
	char by[NAME_SIZE];   /* by whom; "" not said */
	wall_time at;         /* when it was written */
};

/*
 * A field that two books changed without knowing of each other.  The value
 * that counts is the later one; the other one is kept in the trail.
 */
struct store_question {
	struct uid thing;        /* the call, its customer, site or system, or a line */
	struct uid call;         /* of a call and of a line; else none */
	char what[16];           /* what that is: "call", "work", … */
	char field[64];          /* key of a member, or "as_found.suction_pressure" */
	bool is_removal;         /* one took the line out, the other changed it */
	bool is_out;             /* of those: it is out now */
	struct store_value now;  /* what counts */
	struct store_value other; /* what the other book has written; empty for removals */
};

/*
 * The open questions of a call and of whom and what it is about, or (NULL) of
 * the whole book; the list is the caller's (free).
 */
enum status store_questions(struct store *store, const struct uid *call,
                            struct store_question **questions, size_t *count,
                            struct error *error);

/*
 * Answers one: the value that counts now stays, or the other one counts (of a
 * removal: it stays as it is, or is turned round).  Any later change of the
 * field answers it as well.
 */
enum status store_question_answer(struct store *store, const struct store_question *question,
                                  bool keep_now, struct error *error);

/* ---- The trail of a call ---- */

/* One change of one field. */
struct store_entry {
	struct uid thing;       /* the call, one of its lines, its customer, site or system */
	char what[16];          /* what that is: "call", "work", … */
	char field[64];         /* key of a member, "as_found.suction_pressure", "removed" */
	int64_t stamp, book;    /* by which it is ordered: newest is greatest */
	char before[NOTE_SIZE]; /* exact text, canonical unit; "" nothing */
	char after[NOTE_SIZE];  /* likewise */
	char by[NAME_SIZE];     /* by whom; "" not said */
	wall_time at;           /* when it was written */
};

/*
 * What was changed of a call and its lines, and since it began of whom and what
 * it is about; newest first; the list is the caller's (free).
 */
enum status store_call_trail(struct store *store, const struct uid *call,
                             struct store_entry **list, size_t *count, struct error *error);

/*
 * Writes `to` into a field of a thing, where `from` stands there now; a reading
 * keeps the time at which it was taken.  STATUS_REFUSED: something else stands
 * there.
 */
enum status store_field_turn(struct store *store, const struct uid *thing, const char *field,
                             const char *from, const char *to, struct error *error);

/* ---- Finding ---- */

/*
 * A listing that may be as long as the book: walked a line at a time, so that
 * the first is there at once and none is held.
 *
 *	store_calls_open(store, &filter, &listing);
 *	while (store_calls_next(&listing, &line))
 *		...
 *	status = store_listing_close(&listing, error);
 *
 * Opening never fails at once: closing, at the end or before it, tells how it
 * went.  One listing of calls and one of customers may be open at a time.
 */
struct store_listing {
	struct store *store;       /* the book */
	void *row;                 /* where the listing stands; the store's own */
	const struct call_filter *filter; /* of calls; the caller's */
	int part;                  /* of a listing in parts: the next one */
	int left;                  /* lines still to hand over; no limit: below 0 */
};

/* Ends a listing; what was read until then counts only where this is STATUS_OK. */
enum status store_listing_close(struct store_listing *listing, struct error *error);

struct call_line {
	struct uid uid;                 /* of the call */
	struct uid customer_uid;        /* whose */
	struct uid system_uid;          /* which unit */
	wall_time opened_at;            /* when it began */
	wall_time closed_at;            /* WALL_TIME_NONE while open */
	wall_time planned_at;           /* when it is planned for; WALL_TIME_NONE: not planned */
	char customer[NAME_SIZE];       /* name */
	char address[ADDRESS_SIZE];     /* of the site */
	char system[NAME_SIZE];         /* name of the unit */
	char complaint[COMPLAINT_SIZE]; /* in the customer's words */
	char found_line[LINE_SIZE];     /* what was found, in one line */
	char done_line[LINE_SIZE];      /* what was done, in one line */
};

struct call_filter {
	const char *text;              /* part of name, phone, address, serial…; NULL or "": any */
	wall_time since;               /* opened then or later; WALL_TIME_NONE: any */
	bool open_only;                /* not closed yet */
	bool by_state;                 /* planned first, then open, then past; where no text, customer
	                                  or system is asked for */
	struct uid customer;           /* of this customer; none: any */
	struct uid system;             /* of this unit; none: any */
	const struct call_line *after; /* go on below this line; NULL: from the newest */
	int limit;                     /* at most so many; 0: all */
};

/*
 * Calls, newest first; of system, customer and text the first one given
 * counts.  `filter` stays until the listing is closed.
 */
void store_calls_open(struct store *store, const struct call_filter *filter,
                      struct store_listing *listing);

/* The next one; false at the end or on failure. */
bool store_calls_next(struct store_listing *listing, struct call_line *line);

struct customer_line {
	struct customer customer;   /* who */
	char address[ADDRESS_SIZE]; /* of their first site */
	int site_count;             /* sites of theirs */
	wall_time last_call;        /* newest call; WALL_TIME_NONE: none */
};

/*
 * Customers of whom every word of `text` is a part of the name, phone, mail,
 * an address, a model or a serial; whoever was visited last first.  A word of
 * two letters is looked for where a word begins, a text of one or two letters
 * where one of these begins; one letter beside other words is left out.
 * Empty text: everybody.  At most `limit` (0: all).
 */
void store_customers_open(struct store *store, const char *text, int limit,
                          struct store_listing *listing);

/* The next one; false at the end or on failure. */
bool store_customers_next(struct store_listing *listing, struct customer_line *line);

/* The readings by which a system is told from another, and whether it is still there. */
enum { SYSTEM_READING_COUNT = 5 };
extern const enum reading system_readings[SYSTEM_READING_COUNT];

struct system_line {
	struct system system;     /* which */
	struct site site;         /* where */
	struct customer customer; /* whose */
	struct value readings[SYSTEM_READING_COUNT]; /* the latest call's, of system_readings */
	wall_time last_call;      /* WALL_TIME_NONE: none */
	int call_count;           /* calls on it */
};

/* One of its readings; `reading` must be one of system_readings (asserted). */
const struct value *system_reading(const struct system_line *line, enum reading reading);

/* The day on which the unit was taken out for good, as "2026-05-06"; "" for one that is there. */
const char *system_taken_out(const struct system_line *line);

/*
 * The systems of a customer at all sites, site by site; the list is the caller's (free).  One
 * system.
 */
enum status store_customer_systems(struct store *store, const struct uid *customer,
                                   struct system_line **list, size_t *count,
                                   struct error *error);
enum status store_system_load(struct store *store, const struct uid *system,
                              struct system_line *line, struct error *error);

/* An earlier call on a system, with its readings. */
struct past_call {
	struct uid call;            /* the call */
	wall_time opened_at;        /* when it began */
	wall_time closed_at;        /* WALL_TIME_NONE while open */
	char found_line[LINE_SIZE]; /* what was found */
	char done_line[LINE_SIZE];  /* what was done */
	struct visit visit;         /* every reading */
};

/*
 * The calls on a system, newest first, at most `limit` (0: all).  Before a call
 * (NULL: of all) means those that began no later, without itself.  The list is
 * the caller's (free).
 */
enum status store_past_calls(struct store *store, const struct uid *system,
                             const struct call *before, int limit, struct past_call **list,
                             size_t *count, struct error *error);

/*
 * Watch items of a system that were noted by `at` and not closed by then (WALL_TIME_NONE: that are
 * open), newest call first, without those of the call `except` (NULL: of all); the list is the
 * caller's (free).
 */
enum status store_open_watch_items(struct store *store, const struct uid *system,
                                   const struct uid *except, wall_time at,
                                   struct watch_item **list, size_t *count, struct error *error);

/*
 * What a customer was offered and did not take, newest call first, likewise: declined and not
 * accepted since, or not decided on and not offered again since; `system` none: for all their
 * units.
 */
enum status store_offers_left(struct store *store, const struct uid *customer,
                              const struct uid *system, const struct uid *except,
                              struct past_offer **list, size_t *count, struct error *error);

/* ---- Refrigerant ledger ---- */

enum ledger_by { LEDGER_BY_SYSTEM, LEDGER_BY_YEAR, LEDGER_BY_CYLINDER };

struct ledger_line {
	char key[UID_SIZE];                /* system uid, year, or cylinder label */
	char words[NAME_SIZE + NAME_SIZE]; /* customer and system; else the key again */
	char refrigerant[16];              /* choice key; "" not said */
	double added_oz;                   /* total put in */
	double recovered_oz;               /* total taken out */
	int entries;                       /* charge-log entries in it */
};

/*
 * Totals of the charge logs, one line for each key and refrigerant, by key;
 * entries without a time count on their call's day.  The list is the caller's (free).
 */
enum status store_ledger(struct store *store, enum ledger_by by, struct ledger_line **list,
                         size_t *count, struct error *error);

/* One movement of refrigerant: an entry of a charge log, or a filling of a log of tightness. */
struct moved_line {
	wall_time at;                      /* of the entry; else when its call began */
	char call[UID_SIZE];               /* its call */
	char number[NAME_SIZE];            /* the firm's own number of the call; "" none */
	char words[NAME_SIZE + NAME_SIZE]; /* customer and system */
	char refrigerant[16];              /* choice key; "" not said */
	char technician[NAME_SIZE];        /* of the call */
	char cylinder[NAME_SIZE];          /* "" not said */
	double added_oz;                   /* put into the unit */
	double recovered_oz;               /* taken out of it */
};

/* Every movement of the book, oldest first; the list is the caller's (free). */
enum status store_moves(struct store *store, struct moved_line **list, size_t *count,
                        struct error *error);

/* What was made up in a unit in a year: what a leak costs. */
struct made_up_line {
	struct uid system;                 /* which unit */
	char words[NAME_SIZE + NAME_SIZE]; /* customer and system */
	char refrigerant[16];              /* choice key; "" not said */
	int year;                          /* of the calls */
	double charge_oz;                  /* its factory charge; 0 not said */
	double line_ft, precharged_ft;     /* of its line set; below 0 not said */
	double oz_per_ft;                  /* what the maker adds for it; below 0 not said */
	double made_up_oz;                 /* put in beyond what the same call took out */
	bool leak_found;                   /* a place of a leak was noted on one of the calls */
	bool after_repair;                 /* the circuit was tested or evacuated on one of them */
};

/*
 * One line for each unit and year in which refrigerant was made up, by
 * customer and year; `system` none: of all units.  Calls up to the year in
 * which a unit was made are left out: that is its first filling.  The list is
 * the caller's (free).
 */
enum status store_made_up(struct store *store, const struct uid *system,
                          struct made_up_line **list, size_t *count, struct error *error);

/* ---- Price list and settings ---- */

enum { PRICE_CODE_SIZE = 32 };

struct price_item {
	enum work_kind kind;         /* which tax applies */
	char code[PRICE_CODE_SIZE];  /* unique; case does not matter */
	char description[LINE_SIZE]; /* what the customer reads */
	cents unit_price;            /* per one */
};

/* Replaces the price list; STATUS_EXISTS when a code is there twice. */
enum status store_prices_replace(struct store *store, const struct price_item *items,
                                 size_t count, struct error *error);

/*
 * Items of which every word of `text` is a part of code or description, by code, at most `limit`
 * (0: all); the list is the caller's (free).
 */
enum status store_prices_find(struct store *store, const char *text, int limit,
                              struct price_item **list, size_t *count, struct error *error);

/* A setting; "" when it was never set. */
enum status store_setting_get(struct store *store, const char *key, char *value, size_t size,
                              struct error *error);
enum status store_setting_set(struct store *store, const char *key, const char *value,
                              struct error *error);

/* ---- Whole books ---- */

struct merge_report {
	int customers, sites, systems, calls; /* new ones */
	int readings;                         /* brought in or changed */
	int lines;                            /* of lists and headers, brought in or changed */
	int removed;                          /* lines that the other book took out */
	int changes;                          /* entries of the trail that were taken */
};

/*
 * Takes the changes of another book that this one does not have, and works out
 * what they come to: of each field the later change counts, and both stay in
 * the trail.  What two books changed without knowing of each other is a
 * question (store_questions).  Each change is checked before it is taken, as
 * store_verify() would; if one is none, nothing is taken.  All or nothing;
 * twice is once; whichever book takes from which, both come to the same.
 */
enum status store_merge(struct store *store, const char *other, struct merge_report *report,
                        struct error *error);

/* Writes a consistent copy of the book, 0600; STATUS_EXISTS when the file is there. */
enum status store_backup(struct store *store, const char *path, struct error *error);

/* Something that is wrong with a book. */
struct store_flaw {
	char sentence[320]; /* what */
};

/*
 * Checks the file, its references, and that every value is one that the
 * catalogue knows.  Lists what is wrong, at most `limit` of it (0: all); none:
 * it is sound.  Fails only where it could not check.  The list is the caller's
 * (free).
 */
enum status store_verify(struct store *store, int limit, struct store_flaw **list, size_t *count,
                         struct error *error);

#endif
