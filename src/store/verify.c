/*
 * A full check of a book: the file; that every entry of the trail is as it was
 * written, and one that its field takes; that none is missing; that the tables
 * are what the trail comes to; that customers are found by what is theirs.
 */
#include "store/parts.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/gather.h>
#include <padside/base/text.h>

#include "store/trail.h"

struct verification {
	struct store *store; /* being checked */
	struct gather flaws; /* what is wrong */
	bool stopped;        /* enough was found, or memory ran out */
	bool has_gaps;       /* of other books only what is carried is here */
};

static void say(struct verification *check, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

static void say(struct verification *check, const char *format, ...)
{
	struct store_flaw flaw;
	va_list arguments;

	if (check->stopped)
		return;
	va_start(arguments, format);
	vsnprintf(flaw.sentence, sizeof flaw.sentence, format, arguments);
	va_end(arguments);
	check->stopped = !gather_add(&check->flaws, &flaw);
}

static const char words_are_damaged[] = "The search list of customers is damaged";

/*
 * From 3.44 on SQLite looks at its index of words here too, by what this connection remembers
 * of it, and takes what another program changed for damage: check_words() looks anew.
 */
static void say_of_file(struct verification *check, const char *sentence)
{
	if (!strstr(sentence, "customer_search"))
		say(check, "The file is damaged: %s", sentence);
	else if (check->store->read_only)
		say(check, "%s", words_are_damaged);
}

static enum status check_file(struct verification *check, struct error *error)
{
	sqlite3_stmt *row = book_query(check->store, "PRAGMA integrity_check(50)", "");

	while (book_next(check->store, row))
		if (strcmp(row_text(row, 0), "ok") != 0)
			say_of_file(check, row_text(row, 0));
	return book_outcome(check->store, error);
}

/* SQLite's own index of words; needs a book that may be written. */
static enum status check_words(struct verification *check, struct error *error)
{
	static const char sql[] =
		"INSERT INTO customer_search (customer_search) VALUES ('integrity-check')";
	struct error why;

	if (check->store->read_only)
		return STATUS_OK;
	enum status status = book_run(check->store, &why, sql, "");
	if (status == STATUS_DAMAGED)
		say(check, "%s", words_are_damaged);
	else if (status != STATUS_OK && status != STATUS_BUSY)
		*error = why;
	return status == STATUS_DAMAGED || status == STATUS_BUSY ? STATUS_OK : status;
}

static enum status check_search(struct verification *check, struct error *error)
{
	int wrong = 0;
	enum status status = people_check(check->store, &wrong, error);

	if (wrong > 0)
		say(check, "%d customers are missing from the search list, or wrong in it", wrong);
	return status;
}

/* ---- The trail ---- */

/* Two texts and the sum that belongs to them. */
static enum status check_sums(struct verification *check, const char *sql, const char *what,
                              struct error *error)
{
	sqlite3_stmt *row = book_query(check->store, sql, "");

	while (book_next(check->store, row))
		if (sqlite3_column_int64(row, 3) != STALE_SUM &&
		    sqlite3_column_int64(row, 3) != texts_sum(row_text(row, 1), row_text(row, 2)))
			say(check, "%s %.60s is not as it was written: its checksum differs", what,
			    row_text(row, 0));
	return book_outcome(check->store, error);
}

static enum status check_caches(struct verification *check, struct error *error)
{
	static const char lines[] = "SELECT uid, found_line, done_line, lines_sum FROM call "
		"WHERE found_line <> '' OR done_line <> '' OR lines_sum <> 0";
	static const char settings[] = "SELECT key, key, value, sum FROM setting";
	static const char prices[] = "SELECT kind, code, description, unit_price, sum FROM price_item";
	enum status status = check_sums(check, lines, "The line of call", error);

	if (status == STATUS_OK)
		status = check_sums(check, settings, "The setting", error);
	if (status != STATUS_OK)
		return status;
	sqlite3_stmt *row = book_query(check->store, prices, "");
	while (book_next(check->store, row))
		if (price_sum(row_text(row, 0), row_text(row, 1), row_text(row, 2),
		              sqlite3_column_int64(row, 3)) != sqlite3_column_int64(row, 4))
			say(check, "The price %.60s is not as it was written: its checksum differs",
			    row_text(row, 1));
	return book_outcome(check->store, error);
}

static void say_text(struct verification *check, struct text *wrong)
{
	if (wrong->length > 0)
		say(check, "%s", text_get(wrong));
	text_clear(wrong);
}

/* What the entries of one book come to. */
struct told {
	int64_t book;         /* which */
	int64_t last, latest; /* the greatest number and stamp */
	int64_t count;        /* of entries */
	int64_t digest;       /* the sum of their checksums */
};

/* One walk along the trail, thing by thing. */
struct walk {
	struct checker *checker;   /* looks at values; owned */
	struct fold *fold;         /* the entries of the thing; owned */
	struct text wrong;         /* what is said of them */
	sqlite3_stmt *things;      /* in the order of the trail */
	bool is_there;             /* `thing` is what its id says, the trail is at it */
	struct thing thing;        /* at which the trail is, or the next one */
	int64_t at;                /* id of the thing whose entries come; 0: none yet */
	struct named named;        /* of the last entry */
	struct told *told;         /* by book; owned */
	size_t told_count, told_at; /* of them; the one of the last entry */
	struct fold_tables tables; /* what is known of the tables */
};

/* Counts an entry to its book; most are of the same one as the entry before. */
static enum status tell(struct verification *check, struct walk *walk, const struct entry *entry,
                        uint32_t sum, struct error *error)
{
	if (walk->told_count == 0 || walk->told[walk->told_at].book != entry->book)
		for (walk->told_at = 0; walk->told_at < walk->told_count; walk->told_at++)
			if (walk->told[walk->told_at].book == entry->book)
				break;
	if (walk->told_at == walk->told_count) {
		struct told *more = realloc(walk->told, (walk->told_count + 1) * sizeof *more);
		if (!more)
			return book_error(check->store, STATUS_NO_MEMORY, error);
		walk->told = more;
		walk->told[walk->told_count++] = (struct told){ .book = entry->book };
	}
	struct told *told = &walk->told[walk->told_at];
	told->count++;
	told->digest += (int32_t)sum;
	told->last = entry->number > told->last ? entry->number : told->last;
	told->latest = entry->stamp > told->latest ? entry->stamp : told->latest;
	return STATUS_OK;
}

/* All entries of a thing came: its row in the tables is what they come to. */
static enum status end_thing(struct verification *check, struct walk *walk, struct error *error)
{
	enum status status = STATUS_OK;

	if (walk->at && walk->is_there)
		status = fold_compare(check->store, &walk->thing, walk->fold, &walk->tables, &walk->wrong,
		                      error);
	say_text(check, &walk->wrong);
	fold_clear(walk->fold);
	return status;
}

/* Goes on to the thing of that id; both come in the order of ids. */
static enum status begin_thing(struct verification *check, struct walk *walk, int64_t id,
                               struct error *error)
{
	while (walk->thing.id < id && book_next(check->store, walk->things))
		thing_read(check->store, walk->things, &walk->thing);
	walk->at = id;
	walk->is_there = walk->thing.id == id;
	if (!walk->is_there)
		say(check, "The trail has changes of something that is not there");
	return book_outcome(check->store, error);
}

static enum status check_entry(struct verification *check, struct walk *walk, sqlite3_stmt *row,
                               struct error *error)
{
	struct entry entry;
	uint32_t sum;
	enum status status = STATUS_OK;

	entry_read(check->store, row, &walk->named, &entry, &sum);
	if (!walk->named.known && check->store->code != SQLITE_OK)
		return book_outcome(check->store, error);
	if (!walk->named.known)
		say(check, "A change names a technician who is not in the book");
	if (walk->at != entry.thing) {
		status = end_thing(check, walk, error);
		if (status == STATUS_OK)
			status = begin_thing(check, walk, entry.thing, error);
	}
	if (status == STATUS_OK)
		status = tell(check, walk, &entry, sum, error);
	if (status != STATUS_OK || !walk->is_there)
		return status;
	checker_look(walk->checker, check->store, &walk->thing, &entry, sum, &walk->wrong);
	say_text(check, &walk->wrong);
	return fold_add(walk->fold, &entry) ? STATUS_OK
	                                    : book_error(check->store, STATUS_NO_MEMORY, error);
}

static enum status check_entries(struct verification *check, struct walk *walk, struct error *error)
{
	static const char things[] = THING_COLUMNS " ORDER BY thing.id";
	static const char entries[] = ENTRY_COLUMNS "ORDER BY thing, field, " TRAIL_ORDER;
	enum status status = fold_look(check->store, &walk->tables, error);

	if (status != STATUS_OK)
		return status;
	walk->things = book_query(check->store, things, "");
	sqlite3_stmt *row = book_query(check->store, entries, "");
	while (status == STATUS_OK && !check->stopped && book_next(check->store, row))
		status = check_entry(check, walk, row, error);
	book_stop(row);
	if (status == STATUS_OK)
		status = book_outcome(check->store, error);
	if (status == STATUS_OK)
		status = end_thing(check, walk, error);
	book_stop(walk->things);
	return status;
}

/* How many different numbers there are; asked where a copied book was written in twice. */
static int64_t count_numbers(struct store *store, int64_t book)
{
	static const char sql[] = "SELECT count(DISTINCT number) FROM entry WHERE book = ?1";
	sqlite3_stmt *row = book_query(store, sql, "i", book);
	int64_t count = -1;

	if (book_next(store, row)) {
		count = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	return count;
}

static void check_book(struct verification *check, const struct told *told)
{
	static const char sql[] = "SELECT number, stamp, digest FROM book WHERE id = ?1";
	sqlite3_stmt *row = book_query(check->store, sql, "i", told->book);

	if (!book_next(check->store, row)) {
		say(check, "%lld changes name a book that is not in the list", (long long)told->count);
		return;
	}
	if (sqlite3_column_int64(row, 0) != (told->book == 0 ? 0 : told->last) ||
	    sqlite3_column_int64(row, 1) != told->latest)
		say(check, "The book %012llx does not end where its changes end",
		    (unsigned long long)told->book);
	else if (told->book != 0 && told->count != told->last && !check->has_gaps &&
	         count_numbers(check->store, told->book) != told->last)
		say(check, "Of the %lld changes made in the book %012llx, %lld are there",
		    (long long)told->last, (unsigned long long)told->book, (long long)told->count);
	else if (sqlite3_column_int64(row, 2) != told->digest)
		say(check, "The changes made in the book %012llx are not those that it counted",
		    (unsigned long long)told->book);
	book_stop(row);
}

/* Each book's entries are all here, and end where the book says. */
static enum status check_numbers(struct verification *check, const struct walk *walk,
                                 struct error *error)
{
	/* A book that only carries what others wrote has an id and wrote nothing yet. */
	static const char count[] = "SELECT count(*) FROM book WHERE id <> 0 AND number <> 0 OR id = 0";
	static const char own[] = "SELECT own.book, own.sum, book.id FROM own LEFT JOIN book "
		"ON book.id = own.book";

	for (size_t i = 0; i < walk->told_count; i++)
		check_book(check, &walk->told[i]);
	sqlite3_stmt *row = book_query(check->store, count, "");
	while (book_next(check->store, row))
		if (sqlite3_column_int64(row, 0) > (int64_t)walk->told_count)
			say(check, "The changes of %lld books are missing",
			    (long long)sqlite3_column_int64(row, 0) - (long long)walk->told_count);
	row = check->store->code == SQLITE_OK ? book_query(check->store, own, "") : NULL;
	while (book_next(check->store, row))
		if (sqlite3_column_type(row, 2) == SQLITE_NULL ||
		    book_sum(sqlite3_column_int64(row, 0)) != sqlite3_column_int64(row, 1))
			say(check, "The id of this book is not as it was written");
	return book_outcome(check->store, error);
}

/* What stands in the tables without a trail. */
static enum status check_rows(struct verification *check, const struct walk *walk,
                              struct error *error)
{
	static const char *const counts[THING_KIND_COUNT] = {
#define COUNT(table) "SELECT count(*) FROM " table
		[THING_CUSTOMER] = COUNT("customer"), [THING_SITE] = COUNT("site"),
		[THING_SYSTEM] = COUNT("system"), [THING_CALL] = COUNT("call"),
		[THING_LISTS + LIST_CHARGE] = COUNT("charge_entry"),
		[THING_LISTS + LIST_WORK] = COUNT("work_line"),
		[THING_LISTS + LIST_OFFERS] = COUNT("offer"),
		[THING_LISTS + LIST_WATCH] = COUNT("watch_item"),
		[THING_LISTS + LIST_JUDGEMENTS] = COUNT("judgement"),
		[THING_LISTS + LIST_TIGHTNESS] = COUNT("tightness"),
		[THING_LISTS + LIST_CYLINDERS] = COUNT("cylinder"),
#undef COUNT
	};
	enum status status = STATUS_OK;

	for (int kind = THING_CUSTOMER; kind < THING_KIND_COUNT && status == STATUS_OK; kind++) {
		sqlite3_stmt *row = book_query(check->store, counts[kind], "");
		while (book_next(check->store, row))
			if (sqlite3_column_int64(row, 0) > walk->tables.rows[kind])
				say(check, "%lld rows of %s have no trail",
				    (long long)(sqlite3_column_int64(row, 0) - walk->tables.rows[kind]),
				    check->store->shapes[kind].table);
		status = book_outcome(check->store, error);
	}
	return status;
}

static enum status check_trail(struct verification *check, struct error *error)
{
	struct walk walk = { .checker = checker_new(), .fold = fold_new() };
	enum status status = walk.checker && walk.fold
		? STATUS_OK : book_error(check->store, STATUS_NO_MEMORY, error);

	text_init(&walk.wrong);
	if (status == STATUS_OK)
		status = check_entries(check, &walk, error);
	/* Who stops before the end has not seen all that the rest is compared with. */
	if (status == STATUS_OK && !check->stopped)
		status = check_numbers(check, &walk, error);
	if (status == STATUS_OK && !check->stopped)
		status = check_rows(check, &walk, error);
	text_done(&walk.wrong);
	free(walk.told);
	fold_free(walk.fold);
	checker_free(walk.checker);
	return status;
}

/* Whether fields are said to be numbers that are, for tools that look into the book. */
static enum status check_fields(struct verification *check, struct error *error)
{
	static const char sql[] = "SELECT id, name, is_number FROM field";
	sqlite3_stmt *row = book_query(check->store, sql, "");

	while (book_next(check->store, row)) {
		const struct field_meaning *meaning = field_meaning(check->store,
		                                                    sqlite3_column_int(row, 0));
		bool is_number = meaning && meaning->reading != READING_NONE
			? value_is_number(meaning->reading)
			: field_is_charge_reading(check->store, sqlite3_column_int(row, 0));
		if (sqlite3_column_int(row, 2) != (int)is_number)
			say(check, "The field %.60s is not as it was written", row_text(row, 1));
	}
	return book_outcome(check->store, error);
}

typedef enum status check_fn(struct verification *check, struct error *error);

static enum status run_checks(struct verification *check, check_fn *const *checks, size_t count,
                              struct error *error)
{
	enum status status = STATUS_OK;

	for (size_t i = 0; i < count && status == STATUS_OK && !check->stopped; i++)
		status = checks[i](check, error);
	return status;
}

static enum status run_all_checks(struct verification *check, struct error *error)
{
	static check_fn *const before[] = { check_file, check_words };
	/* In one transaction: the book as it is at one moment, and no lock for each question. */
	static check_fn *const inside[] = {
		check_trail, check_fields, check_search, check_caches,
	};
	static const char begin[] = "BEGIN", end[] = "COMMIT";
	struct store *store = check->store;
	struct error ignored;
	enum status status = book_look(store, error);

	if (status == STATUS_OK)
		status = sync_is_partial(store, &check->has_gaps, error);
	if (status == STATUS_OK)
		status = run_checks(check, before, sizeof before / sizeof *before, error);
	if (status == STATUS_OK)
		status = book_run(store, error, begin, "");
	if (status == STATUS_OK) {
		status = run_checks(check, inside, sizeof inside / sizeof *inside, error);
		book_run(store, &ignored, end, "");
	}
	/* A damage so deep that SQLite cannot go on is what was asked for. */
	if (status == STATUS_DAMAGED) {
		say(check, "The file is damaged and cannot be read to its end");
		status = STATUS_OK;
	}
	return status;
}

enum status store_verify(struct store *store, int limit, struct store_flaw **list, size_t *count,
                         struct error *error)
{
	struct verification check = {
		.store = store,
		.flaws = { .size = sizeof **list, .most = limit > 0 ? (size_t)limit : 0 },
	};
	enum status status = run_all_checks(&check, error);

	/* `status` has said how it went, not the last statement. */
	store->code = SQLITE_OK;
	return book_hand_over(store, NULL, status, &check.flaws, list, count, error);
}
