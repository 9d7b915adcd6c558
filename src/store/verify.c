/*
 * A full check of a book: the file, its references, and what only we know:
 * that every value is one that the catalogue has, and that the trail of
 * changes ends at what is there.
 */
#include "store/parts.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

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

static enum status check_references(struct check *check, struct error *error)
{
	sqlite3_stmt *row = book_query(check->store, "PRAGMA foreign_key_check", "");

	while (book_next(check->store, row))
		say(check, "A row of %s (%s) refers to a %s that is not there", row_text(row, 0),
		    row_text(row, 1), row_text(row, 2));
	return book_outcome(check->store, error);
}

static enum status check_search(struct check *check, struct error *error)
{
	static const char sql[] =
		"SELECT count(*) FROM customer WHERE found_as NOT IN (SELECT rowid FROM customer_search)";
	sqlite3_stmt *row = book_query(check->store, sql, "");

	while (book_next(check->store, row))
		if (sqlite3_column_int(row, 0) > 0)
			say(check, "%d customers cannot be found by their names", sqlite3_column_int(row, 0));
	return book_outcome(check->store, error);
}

/* What the trail of a call ends at, by stage and reading; exact text, "" for nothing. */
struct ends {
	char value[STAGE_COUNT][READING_COUNT][VALUE_TEXT_SIZE];
};

static enum stage stage_of(const char *word)
{
	return strcmp(word, stage_key(STAGE_AS_LEFT)) == 0 ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}

static enum status read_ends(struct store *store, int64_t call, struct ends *ends,
                             struct error *error)
{
	static const char sql[] =
		"SELECT stage, key, new_value FROM reading_change WHERE call = ?1 ORDER BY changed_at, uid";
	sqlite3_stmt *row = book_query(store, sql, "i", call);

	memset(ends, 0, sizeof *ends);
	while (book_next(store, row)) {
		enum reading reading = reading_from_key(row_text(row, 1));
		row_copy(row, 2, ends->value[stage_of(row_text(row, 0))][reading], VALUE_TEXT_SIZE);
	}
	return book_outcome(store, error);
}

/* One row (stage, key, state, number, word, taken_at) of a call; takes its end off the trail's. */
static void check_value(struct check *check, const char *uid, sqlite3_stmt *row,
                        struct ends *ends)
{
	const char *stage = row_text(row, 0), *key = row_text(row, 1);
	enum reading reading = reading_from_key(key);
	struct value value, again;
	struct error ignored;
	char text[VALUE_TEXT_SIZE];

	if (reading == READING_NONE) {
		say(check, "Call %s has a reading \"%s\" that this program does not know", uid, key);
		return;
	}
	if (strcmp(stage, value_stage_word(stage_of(stage), reading)) != 0)
		say(check, "Call %s has %s in %s, where it does not belong", uid, key, stage);
	if (!value_from_row(row, 2, reading, &value)) {
		say(check, "Call %s has a value of %s that is none", uid, key);
		return;
	}
	reading_format_exact(reading, &value, text, sizeof text);
	if (reading_info(reading)->unit != UNIT_NONE && value.state == VALUE_TAKEN &&
	    reading_from_number(reading, value.number, UNITS_US, &again, &ignored) != STATUS_OK)
		say(check, "Call %s has %s = %s, outside its limits", uid, key, text);
	char *end = ends->value[stage_of(stage)][reading];
	if (strcmp(end, text) != 0)
		say(check, "Call %s has %s = %s in %s, but its trail of changes ends at \"%s\"", uid, key,
		    text, stage, end);
	*end = '\0';
}

static void check_left_over(struct check *check, const char *uid, const struct ends *ends)
{
	for (int i = 0; i < STAGE_COUNT * READING_COUNT; i++) {
		const char *end = ends->value[i / READING_COUNT][i % READING_COUNT];
		if (i % READING_COUNT != READING_NONE && *end)
			say(check, "Call %s has lost %s = %s, at which its trail of changes ends", uid,
			    reading_info((enum reading)(i % READING_COUNT))->key, end);
	}
}

static enum status check_call(struct check *check, int64_t call, const char *uid,
                              struct error *error)
{
	static const char sql[] =
		"SELECT stage, key, state, number, word, taken_at FROM call_reading WHERE call = ?1";
	struct ends ends;
	enum status status = read_ends(check->store, call, &ends, error);

	if (status != STATUS_OK)
		return status;
	sqlite3_stmt *row = book_query(check->store, sql, "i", call);
	while (book_next(check->store, row))
		check_value(check, uid, row, &ends);
	check_left_over(check, uid, &ends);
	return book_outcome(check->store, error);
}

static enum status check_calls(struct check *check, struct error *error)
{
	sqlite3_stmt *row = book_query(check->store, "SELECT id, uid FROM call", "");

	while (book_next(check->store, row)) {
		struct uid uid = row_uid(row, 1);
		enum status status = check_call(check, sqlite3_column_int64(row, 0), uid.text, error);
		if (status != STATUS_OK || check->stopped) {
			book_stop(row);
			return status;
		}
	}
	return book_outcome(check->store, error);
}

enum status store_verify(struct store *store, store_sentence_fn *each, void *context,
                         struct error *error)
{
	static enum status (*const checks[])(struct check *, struct error *) = {
		check_file, check_references, check_search, check_calls,
	};
	struct check check = { .store = store, .each = each, .context = context };
	enum status status = STATUS_OK;

	for (size_t i = 0; i < sizeof checks / sizeof *checks && status == STATUS_OK; i++)
		if (!check.stopped)
			status = checks[i](&check, error);
	/* A damage so deep that SQLite cannot go on is what was asked for. */
	if (status == STATUS_DAMAGED) {
		say(&check, "The file is damaged so that it cannot be read to its end");
		status = STATUS_OK;
	}
	return status;
}
