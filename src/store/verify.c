/*
 * A full check of a book: the file; that every entry of the trail is as it was
 * written, and one that its field takes; that none is missing; that the tables
 * are what the trail comes to; that customers are found by what is theirs.
 */
#include "store/parts.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

#include "store/trail.h"

struct check {
	struct store *store;     /* being checked */
	store_sentence_fn *each; /* who hears */
	void *context;           /* theirs */
	bool stopped;            /* they have heard enough */
};

static void say(struct check *check, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

static void say(struct check *check, const char *format, ...)
{
	char sentence[320];
	va_list arguments;

	if (check->stopped)
		return;
	va_start(arguments, format);
	vsnprintf(sentence, sizeof sentence, format, arguments);
	va_end(arguments);
	check->stopped = !check->each(sentence, check->context);
}

static enum status check_file(struct check *check, struct error *error)
{
	sqlite3_stmt *row = book_query(check->store, "PRAGMA integrity_check(50)", "");

	while (book_next(check->store, row))
		if (strcmp(row_text(row, 0), "ok") != 0)
			say(check, "The file is damaged: %s", row_text(row, 0));
	return book_outcome(check->store, error);
}

/* Bits of SQLite's own index of words; needs a book that may be written. */
static enum status check_words(struct check *check, struct error *error)
{
	static const char sql[] =
		"INSERT INTO customer_search (customer_search) VALUES ('integrity-check')";
	struct error why;

	if (check->store->read_only)
		return STATUS_OK;
	enum status status = book_run(check->store, &why, sql, "");
	if (status == STATUS_DAMAGED)
		say(check, "The words by which customers are found are damaged");
	else if (status != STATUS_OK && status != STATUS_BUSY)
		*error = why;
	return status == STATUS_DAMAGED || status == STATUS_BUSY ? STATUS_OK : status;
}

static enum status check_search(struct check *check, struct error *error)
{
	int wrong = 0;
	enum status status = people_check(check->store, &wrong, error);

	if (wrong > 0)
		say(check, "%d customers cannot be found by what is theirs", wrong);
	return status;
}

/* ---- The trail ---- */

/* Two texts and the sum that belongs to them. */
static enum status check_sums(struct check *check, const char *sql, const char *what,
                              struct error *error)
{
	sqlite3_stmt *row = book_query(check->store, sql, "");

	while (book_next(check->store, row))
		if (sqlite3_column_int64(row, 3) != STALE_SUM &&
		    sqlite3_column_int64(row, 3) != texts_sum(row_text(row, 1), row_text(row, 2)))
			say(check, "%s %.60s is not as it was written: its checksum is another", what, row_text(row, 0));
	return book_outcome(check->store, error);
}

static enum status check_caches(struct check *check, struct error *error)
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
			say(check, "The price %.60s is not as it was written: its checksum is another",
			    row_text(row, 1));
	return book_outcome(check->store, error);
}

static void say_text(struct check *check, struct text *wrong)
{
	if (wrong->length > 0)
		say(check, "%s", text_get(wrong));
	text_clear(wrong);
}

/* The thing of the next entries: its row in the tables is what they come to. */
static enum status check_thing(struct check *check, int64_t id, struct thing *thing,
                               const struct fold_tables *tables, struct text *wrong,
                               struct error *error)
{
	struct error why;
	enum status status = thing_load(check->store, id, thing, &why);

	if (status == STATUS_NOT_FOUND) {
		say(check, "The trail has changes of something that is not there");
		*thing = (struct thing){ .id = id };
		return STATUS_OK;
	}
	if (status == STATUS_OK)
		status = fold_compare(check->store, thing, tables, wrong, &why);
	if (status != STATUS_OK)
		*error = why;
	say_text(check, wrong);
	return status;
}

/* The technician of an entry; most are of the same one as the entry before. */
struct named {
	int64_t id;           /* of whom */
	bool known;           /* the book names them */
	char name[NAME_SIZE]; /* how */
};

static void name_technician(struct check *check, int64_t id, struct named *named)
{
	static const char sql[] = "SELECT name FROM technician WHERE id = ?1";

	if (named->known && named->id == id)
		return;
	sqlite3_stmt *row = book_query(check->store, sql, "i", id);
	*named = (struct named){ .id = id, .known = book_next(check->store, row) };
	if (named->known)
		row_copy(row, 0, named->name, sizeof named->name);
	else
		say(check, "A change is of a technician who is not named");
	book_stop(row);
}

static void entry_from_row(sqlite3_stmt *row, const struct named *named, struct entry *entry)
{
	*entry = (struct entry){
		.thing = sqlite3_column_int64(row, 0), .field = sqlite3_column_int(row, 1),
		.stamp = sqlite3_column_int64(row, 2), .book = sqlite3_column_int64(row, 9),
		.number = sqlite3_column_int64(row, 3), .technician = named->name,
		.old = (const char *)sqlite3_column_text(row, 5),
		.new = (const char *)sqlite3_column_text(row, 6), .at = WALL_TIME_NONE,
	};
	if (sqlite3_column_type(row, 7) != SQLITE_NULL)
		entry->at = sqlite3_column_int64(row, 7);
}

static enum status check_entries(struct check *check, struct checker *checker, struct text *wrong,
                                 struct error *error)
{
	static const char sql[] =
		"SELECT thing, field, stamp, number, technician, old, new, at, sum, book FROM entry "
		"ORDER BY thing, field, stamp, book";
	struct thing thing = { .id = 0 };
	struct named named = { .known = false };
	struct fold_tables tables;
	struct entry entry;
	enum status status = fold_look(check->store, &tables, error);
	sqlite3_stmt *row = book_query(check->store, sql, "");

	while (status == STATUS_OK && !check->stopped && book_next(check->store, row)) {
		name_technician(check, sqlite3_column_int64(row, 4), &named);
		entry_from_row(row, &named, &entry);
		if (thing.id != entry.thing)
			status = check_thing(check, entry.thing, &thing, &tables, wrong, error);
		if (status == STATUS_OK && thing.uid.text[0])
			checker_look(checker, check->store, &thing, &entry, (uint32_t)sqlite3_column_int64(row, 8),
			             wrong);
		say_text(check, wrong);
	}
	book_stop(row);
	return status == STATUS_OK ? book_outcome(check->store, error) : status;
}

static enum status check_trail(struct check *check, struct error *error)
{
	struct checker *checker = checker_new();
	struct text wrong;

	if (!checker)
		return book_error(check->store, STATUS_NO_MEMORY, error);
	text_init(&wrong);
	enum status status = check_entries(check, checker, &wrong, error);
	text_done(&wrong);
	checker_free(checker);
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

static void check_book(struct check *check, sqlite3_stmt *row)
{
	int64_t book = sqlite3_column_int64(row, 0), last = sqlite3_column_int64(row, 1);
	int64_t count = sqlite3_column_int64(row, 3);

	if (sqlite3_column_type(row, 4) == SQLITE_NULL)
		say(check, "%lld changes are of a book that is not named", (long long)count);
	else if (sqlite3_column_int64(row, 4) != (book == 0 ? 0 : last) ||
	         sqlite3_column_int64(row, 5) != sqlite3_column_int64(row, 2))
		say(check, "The book %012llx does not end where its changes end", (unsigned long long)book);
	else if (book != 0 && count != last && count_numbers(check->store, book) != last)
		say(check, "Of the %lld changes made in the book %012llx, %lld are there", (long long)last,
		    (unsigned long long)book, (long long)count);
}

/* Each book's entries are all here, and end where the book says. */
static enum status check_numbers(struct check *check, struct error *error)
{
	static const char sql[] =
		"SELECT entries.book, entries.last, entries.latest, entries.count, book.number, book.stamp "
		"FROM (SELECT book, max(number) AS last, max(stamp) AS latest, count(*) AS count FROM entry "
		"GROUP BY book) AS entries LEFT JOIN book ON book.id = entries.book";
	static const char empty[] =
		"SELECT count(*) FROM book WHERE NOT EXISTS (SELECT 1 FROM entry WHERE entry.book = book.id)";
	static const char own[] = "SELECT own.book, own.sum, book.id FROM own LEFT JOIN book "
		"ON book.id = own.book";
	sqlite3_stmt *row = book_query(check->store, sql, "");

	while (book_next(check->store, row))
		check_book(check, row);
	row = check->store->code == SQLITE_OK ? book_query(check->store, empty, "") : NULL;
	while (book_next(check->store, row))
		if (sqlite3_column_int(row, 0) > 0)
			say(check, "The changes of %d books are not there", sqlite3_column_int(row, 0));
	row = check->store->code == SQLITE_OK ? book_query(check->store, own, "") : NULL;
	while (book_next(check->store, row))
		if (sqlite3_column_type(row, 2) == SQLITE_NULL ||
		    book_sum(sqlite3_column_int64(row, 0)) != sqlite3_column_int64(row, 1))
			say(check, "The id of this book is not as it was written");
	return book_outcome(check->store, error);
}

/* Whether fields are said to be numbers that are, for tools that look into the book. */
static enum status check_fields(struct check *check, struct error *error)
{
	static const char sql[] = "SELECT id, name, is_number FROM field";
	sqlite3_stmt *row = book_query(check->store, sql, "");

	while (book_next(check->store, row)) {
		const struct field_meaning *meaning = field_meaning(check->store, sqlite3_column_int(row, 0));
		bool is_number = meaning && meaning->reading != READING_NONE
			? value_is_number(meaning->reading)
			: field_is_charge_reading(check->store, sqlite3_column_int(row, 0));
		if (sqlite3_column_int(row, 2) != (int)is_number)
			say(check, "The field %.60s is not as it was written", row_text(row, 1));
	}
	return book_outcome(check->store, error);
}

/* What stands in the tables without a trail. */
static enum status check_rows(struct check *check, struct error *error)
{
	struct text sql;
	enum status status = STATUS_OK;

	for (int kind = THING_CUSTOMER; kind < THING_KIND_COUNT && status == STATUS_OK; kind++) {
		const char *same = kind_is_line((enum thing_kind)kind) ? "call" : "uid";
		sqlite3_stmt *row = NULL;
		text_init(&sql);
		text_add_format(&sql, "SELECT count(*) FROM %s AS t WHERE NOT EXISTS (SELECT 1 FROM thing "
		                "WHERE thing.id = t.id AND thing.kind = %d AND thing.%s = t.%s) OR NOT EXISTS "
		                "(SELECT 1 FROM entry WHERE entry.thing = t.id)",
		                check->store->shapes[kind].table, kind, same, same);
		int code = sqlite3_prepare_v2(check->store->db, text_get(&sql), -1, &row, NULL);
		if (code == SQLITE_OK && (code = sqlite3_step(row)) == SQLITE_ROW &&
		    sqlite3_column_int(row, 0) > 0)
			say(check, "%d rows of %s have no trail", sqlite3_column_int(row, 0),
			    check->store->shapes[kind].table);
		if (code != SQLITE_ROW)
			status = book_refuse(check->store->path, code, error);
		sqlite3_finalize(row);
		text_done(&sql);
	}
	return status;
}

typedef enum status check_fn(struct check *check, struct error *error);

static enum status run_checks(struct check *check, check_fn *const *checks, size_t count,
                              struct error *error)
{
	enum status status = STATUS_OK;

	for (size_t i = 0; i < count && status == STATUS_OK && !check->stopped; i++)
		status = checks[i](check, error);
	return status;
}

enum status store_verify(struct store *store, store_sentence_fn *each, void *context,
                         struct error *error)
{
	static check_fn *const before[] = { check_file, check_words };
	/* In one transaction: the book as it is at one moment, and no lock for each question. */
	static check_fn *const inside[] = {
		check_trail, check_numbers, check_fields, check_rows, check_search, check_caches,
	};
	static const char begin[] = "BEGIN", end[] = "COMMIT";
	struct check check = { .store = store, .each = each, .context = context };
	struct error ignored;
	enum status status = book_look(store, error);

	if (status == STATUS_OK)
		status = run_checks(&check, before, sizeof before / sizeof *before, error);
	if (status == STATUS_OK)
		status = book_run(store, error, begin, "");
	if (status == STATUS_OK) {
		status = run_checks(&check, inside, sizeof inside / sizeof *inside, error);
		book_run(store, &ignored, end, "");
	}
	/* A damage so deep that SQLite cannot go on is what was asked for. */
	if (status == STATUS_DAMAGED) {
		say(&check, "The file is damaged so that it cannot be read to its end");
		status = STATUS_OK;
	}
	return status;
}
