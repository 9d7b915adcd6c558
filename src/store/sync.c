/*
 * Meeting the firm's office: entries that are lacking here come, those that are
 * lacking there go.
 *
 * What comes is checked and folded as in a merge (take.c).  The server numbers
 * entries in the order in which they came (seq); this book notes up to where it
 * has read, in the settings, in the transaction that takes what was read.
 */
#include "store/office.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/gather.h>
#include <padside/base/text.h>

#include "store/parts.h"
#include "store/take.h"

/* Of the last meeting: this book, its last entry that was sent, the time. */
static const char met_key[] = "office met";

enum status store_sync_state(struct store *store, struct sync_state *state, struct error *error)
{
	int64_t own, number, book = 0, sent = 0, at;
	char text[80], *end;
	enum status status = trail_own(store, &own, &number, error);

	*state = (struct sync_state){ .waiting = 0, .met_at = WALL_TIME_NONE };
	if (status == STATUS_OK)
		status = store_setting_get(store, met_key, text, sizeof text, error);
	if (status != STATUS_OK)
		return status;
	if (*text) {
		book = (int64_t)strtoll(text, &end, 10);
		sent = (int64_t)strtoll(end, &end, 10);
		at = (int64_t)strtoll(end, NULL, 10);
		state->met_at = at;
	}
	/* A copy of a book goes on under an id of its own: nothing of that was sent. */
	state->waiting = number - (book == own ? sent : 0);
	return STATUS_OK;
}

#ifdef HAVE_LIBPQ

#include "store/libpq.h"

/* Entries in one transaction: who writes in the book meanwhile waits for one at most. */
enum { BATCH = 2000, SEEN_KEY_SIZE = 64, COLUMN_COUNT = 13 };

struct sync_run {
	struct store *store;           /* this book */
	struct office office;          /* the server */
	struct sync_report *report;    /* what was done */
	sync_step_fn *step;            /* told of it; may be NULL */
	void *context;                 /* for it */
	const struct uid *asked;       /* a customer to fetch; NULL: none */
	char seen_key[SEEN_KEY_SIZE];  /* under which the settings note how far this server was read */
	char begun_key[SEEN_KEY_SIZE]; /* and of what is carried, up to where and how far it came */
	char carrier_key[SEEN_KEY_SIZE]; /* and the id under which the server knows what is carried */
	char legacy_key[SEEN_KEY_SIZE]; /* and how many entries of before the trail it was given */
	int64_t own, number;           /* this book; its last entry here */
	int64_t last;                  /* its last entry there */
	int64_t seen, newest;          /* read up to; the newest there */
	int64_t start;                 /* `seen` when it began */
	int64_t cursor;                /* entries up to there came already, in this fetching */
	bool is_own;                   /* only what the book carries is fetched */
	bool apart;                    /* the server has other entries under this book's numbers */
};

static enum status tell(const struct sync_run *meeting, const char *what, int64_t done, int64_t all,
                        struct error *error)
{
	if (!meeting->step || meeting->step(what, done, all > done ? all : done, meeting->context))
		return STATUS_OK;
	return error_set(error, STATUS_STOPPED, "stopped; what was done until then is kept; the next "
	                 "meeting goes on from there");
}

static int64_t whole(const char *text)
{
	return (int64_t)strtoll(text, NULL, 10);
}

/* ---- Saying hello ---- */

/* One row of whole numbers and texts; the caller clears *result. */
static enum status ask(struct sync_run *meeting, const char *sql, int columns, PGresult **result,
                       struct error *error)
{
	*result = pq.exec(meeting->office.connection, sql);
	if (pq.resultStatus(*result) == PGRES_TUPLES_OK && pq.ntuples(*result) == 1 &&
	    pq.nfields(*result) == columns)
		return STATUS_OK;
	return office_refuse(&meeting->office, "the office did not answer as expected", error);
}

static enum status note_number(struct store *store, const char *key, int64_t value,
                               struct error *error)
{
	char text[24];

	snprintf(text, sizeof text, "%" PRId64, value);
	return store_setting_set(store, key, text, error);
}

static enum status noted_number(struct store *store, const char *key, int64_t *value,
                                struct error *error)
{
	char text[24];
	enum status status = store_setting_get(store, key, text, sizeof text, error);

	*value = status == STATUS_OK ? whole(text) : 0;
	return status;
}

/* Which server this is, and how far it is; a book that wrote something says whose it is. */
static enum status say_hello(struct sync_run *meeting, struct error *error)
{
	const char *firm = meeting->office.firm;
	char sql[200];
	PGresult *result;

	if (meeting->own)
		snprintf(sql, sizeof sql, "SELECT * FROM %s.meet(%" PRId64 ")", firm, meeting->own);
	else
		snprintf(sql, sizeof sql, "SELECT id, 0, (SELECT coalesce(max(seq), 0) FROM %s.entry) "
		         "FROM %s.office", firm, firm);
	enum status status = ask(meeting, sql, 3, &result, error);
	if (status == STATUS_OK) {
		snprintf(meeting->seen_key, sizeof meeting->seen_key, "office %.36s seen",
		         pq.getvalue(result, 0, 0));
		snprintf(meeting->begun_key, sizeof meeting->begun_key, "office %.36s begun",
		         pq.getvalue(result, 0, 0));
		snprintf(meeting->carrier_key, sizeof meeting->carrier_key, "office %.36s carrier",
		         pq.getvalue(result, 0, 0));
		snprintf(meeting->legacy_key, sizeof meeting->legacy_key, "office %.36s old entries",
		         pq.getvalue(result, 0, 0));
		meeting->last = whole(pq.getvalue(result, 0, 1));
		meeting->newest = whole(pq.getvalue(result, 0, 2));
		status = noted_number(meeting->store, meeting->seen_key, &meeting->seen, error);
		meeting->start = meeting->cursor = meeting->seen;
	}
	pq.clear(result);
	return status;
}

/*
 * Whether both have the same entry under the last number that both have.  A
 * book that was put back from an old copy and written in again has not.
 */
static enum status look_apart(struct sync_run *meeting, struct error *error)
{
	static const char ours[] = "SELECT total(sum) FROM entry WHERE book = ?1 AND number = ?2";
	int64_t number = meeting->last < meeting->number ? meeting->last : meeting->number;
	char sql[200];
	PGresult *result;
	int64_t sum = 0;

	if (number == 0)
		return STATUS_OK;
	sqlite3_stmt *row = book_query(meeting->store, ours, "ii", meeting->own, number);
	if (book_next(meeting->store, row)) {
		sum = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	enum status status = book_outcome(meeting->store, error);
	if (status != STATUS_OK)
		return status;
	snprintf(sql, sizeof sql,
	         "SELECT coalesce(sum(sum), 0)::bigint FROM %s.entry WHERE book = %" PRId64
	         " AND number = %" PRId64,
	         meeting->office.firm, meeting->own, number);
	status = ask(meeting, sql, 1, &result, error);
	if (status == STATUS_OK)
		meeting->apart = whole(pq.getvalue(result, 0, 0)) != sum;
	pq.clear(result);
	return status;
}

/* ---- COPY's text form ---- */

/* A field as COPY has it: \N for nothing, backslash, tab and line ends escaped. */
static void add_field(struct text *text, const char *value, bool is_last)
{
	static const char plain[] = "\\\t\n\r", escaped[] = "\\tnr";

	if (!value)
		text_add(text, "\\N");
	for (; value && *value; value++) {
		const char *at = strchr(plain, *value);
		if (at)
			text_add_format(text, "\\%c", escaped[at - plain]);
		else
			text_add_char(text, *value);
	}
	text_add_char(text, is_last ? '\n' : '\t');
}

static void add_whole(struct text *text, int64_t value)
{
	text_add_format(text, "%" PRId64 "\t", value);
}

/* Undoes the escapes of a field in place. */
static void unescape(char *field)
{
	static const char plain[] = "\t\n\r\b\f\v", escaped[] = "tnrbfv";
	char *to = field;

	for (; *field; field++) {
		if (*field == '\\' && field[1]) {
			const char *at = strchr(escaped, *++field);
			*to++ = at ? plain[at - escaped] : *field;
		} else {
			*to++ = *field;
		}
	}
	*to = '\0';
}

/* Splits a line of COPY into its fields; NULL for nothing.  false: not that many. */
static bool split_line(char *line, char *fields[COLUMN_COUNT])
{
	int count = 0;

	line[strcspn(line, "\n")] = '\0';
	for (char *at = line; at; count++) {
		char *end = strchr(at, '\t');
		if (count == COLUMN_COUNT)
			return false;
		if (end)
			*end++ = '\0';
		fields[count] = strcmp(at, "\\N") == 0 ? NULL : at;
		if (fields[count])
			unescape(fields[count]);
		at = end;
	}
	return count == COLUMN_COUNT;
}

/* ---- Fetching ---- */

enum came { CAME_SEQ, CAME_BOOK, CAME_NUMBER, CAME_STAMP, CAME_KIND, CAME_THING, CAME_CALL,
	CAME_FIELD, CAME_TECHNICIAN, CAME_OLD, CAME_NEW, CAME_AT, CAME_SUM };

/* Lines that came and are not in the book yet. */
struct batch {
	char **lines;             /* libpq's; owned */
	struct arrival *arrivals; /* what they say; borrows from the lines; owned */
	size_t count;             /* of both */
	int64_t up_to;            /* the last one's place on the server */
};

static enum status batch_make(const struct sync_run *meeting, struct batch *batch,
                              struct error *error)
{
	*batch = (struct batch){ .count = 0 };
	batch->lines = calloc(BATCH, sizeof *batch->lines);
	batch->arrivals = calloc(BATCH, sizeof *batch->arrivals);
	return batch->lines && batch->arrivals ? STATUS_OK
	                                       : book_error(meeting->store, STATUS_NO_MEMORY, error);
}

static void batch_empty(struct batch *batch)
{
	for (size_t i = 0; i < batch->count; i++)
		pq.freemem(batch->lines[i]);
	batch->count = 0;
}

static void batch_done(struct batch *batch)
{
	batch_empty(batch);
	free(batch->lines);
	free(batch->arrivals);
}

/* Reads a line of the server; its texts stay in the line.  false: it is none. */
static bool read_line(char *line, struct batch *batch)
{
	char *fields[COLUMN_COUNT];

	if (!split_line(line, fields))
		return false;
	for (int i = 0; i < COLUMN_COUNT; i++)
		if (!fields[i] && i != CAME_CALL && i != CAME_OLD && i != CAME_NEW && i != CAME_AT)
			return false;
	batch->up_to = whole(fields[CAME_SEQ]);
	batch->arrivals[batch->count] = (struct arrival){
		.thing = fields[CAME_THING], .call = fields[CAME_CALL],
		.kind = (int)whole(fields[CAME_KIND]), .field = fields[CAME_FIELD],
		.sum = (uint32_t)whole(fields[CAME_SUM]),
		.entry = {
			.stamp = whole(fields[CAME_STAMP]), .book = whole(fields[CAME_BOOK]),
			.number = whole(fields[CAME_NUMBER]), .technician = fields[CAME_TECHNICIAN],
			.old = fields[CAME_OLD], .new = fields[CAME_NEW],
			.at = fields[CAME_AT] ? whole(fields[CAME_AT]) : WALL_TIME_NONE,
		},
	};
	return true;
}

/* The next lines of the COPY that runs, as many as a batch holds; *is_last: there are no more. */
static enum status read_batch(struct sync_run *meeting, struct batch *batch, bool *is_last,
                              struct error *error)
{
	PGconn *connection = meeting->office.connection;
	int length = 1;

	batch_empty(batch);
	while (batch->count < BATCH &&
	       (length = pq.getCopyData(connection, &batch->lines[batch->count], 0)) > 0) {
		bool is_entry = read_line(batch->lines[batch->count], batch);
		batch->count++;
		if (!is_entry)
			return error_set(error, STATUS_DAMAGED, "the office sent an entry that cannot be read; "
			                 "it was not stored; tell the office");
	}
	*is_last = length <= 0;
	if (!*is_last)
		return STATUS_OK;
	PGresult *result = pq.getResult(connection);
	enum status status = length == -1 && pq.resultStatus(result) == PGRES_COMMAND_OK
		? STATUS_OK : office_refuse(&meeting->office, "the connection broke while fetching", error);
	pq.clear(result);
	while ((result = pq.getResult(connection)) != NULL)
		pq.clear(result);
	return status;
}

/*
 * How far it came.  Entries of what is carried come from all over the trail:
 * then the place where this began counts as read only when all of them are here.
 */
static enum status note_progress(struct sync_run *meeting, int64_t up_to, bool is_last,
                                 struct error *error)
{
	char text[48] = "";

	if (meeting->is_own && !is_last)
		snprintf(text, sizeof text, "%" PRId64 " %" PRId64, meeting->newest, up_to);
	enum status status = meeting->is_own
		? store_setting_set(meeting->store, meeting->begun_key, text, error) : STATUS_OK;
	return status == STATUS_OK && (is_last || !meeting->is_own)
		? note_number(meeting->store, meeting->seen_key, up_to, error) : status;
}

/* Takes a batch, and notes it as read in the same moment. */
static enum status take_batch(struct sync_run *meeting, struct batch *batch, bool is_last,
                              struct error *error)
{
	int64_t up_to = is_last ? meeting->newest : batch->up_to, taken = 0;
	struct merge_report report = meeting->report->merge;
	enum status status = store_begin(meeting->store, error);

	if (status != STATUS_OK)
		return status;
	status = take_arrivals(meeting->store, batch->arrivals, batch->count, &report, &taken, error);
	if (status == STATUS_OK)
		status = note_progress(meeting, up_to, is_last, error);
	status = store_end(meeting->store, status, error);
	if (status != STATUS_OK)
		return status;
	meeting->cursor = up_to;
	if (is_last)
		meeting->seen = up_to;
	meeting->report->fetched += taken;
	meeting->report->merge = report;
	return tell(meeting, "fetched", meeting->report->fetched, meeting->newest - meeting->start,
	            error);
}

static enum status begin_fetching(struct sync_run *meeting, struct error *error)
{
	const char *firm = meeting->office.firm;
	struct text sql;

	text_init(&sql);
	text_add(&sql, "COPY (SELECT seq, book, number, stamp, kind, thing, call, field, technician, "
	         "old, new, at, sum FROM ");
	if (meeting->is_own)
		text_add_format(&sql, "%s.lacking(%" PRId64 ", %" PRId64 ", %" PRId64 ")", firm,
		                meeting->own, meeting->seen, meeting->newest);
	else
		text_add_format(&sql, "%s.entry", firm);
	text_add_format(&sql, " WHERE seq > %" PRId64 " AND seq <= %" PRId64,
	                meeting->is_own && meeting->cursor == meeting->seen ? (int64_t)0
	                                                                    : meeting->cursor,
	                meeting->newest);
	/* What this book wrote itself is here already. */
	if (!meeting->apart)
		text_add_format(&sql, " AND (book <> %" PRId64 " OR number > %" PRId64 ")", meeting->own,
		                meeting->number);
	text_add(&sql, " ORDER BY seq) TO STDOUT");
	PGresult *result = pq.exec(meeting->office.connection, text_get(&sql));
	enum status status = pq.resultStatus(result) == PGRES_COPY_OUT
		? STATUS_OK : office_refuse(&meeting->office, "the office's entries cannot be read", error);
	pq.clear(result);
	text_done(&sql);
	return status;
}

/* All that lies between the cursor and the newest. */
static enum status fetch_up_to_newest(struct sync_run *meeting, struct error *error)
{
	struct batch batch;
	bool is_last = false;
	enum status status = batch_make(meeting, &batch, error);

	if (status == STATUS_OK)
		status = begin_fetching(meeting, error);
	while (status == STATUS_OK && !is_last) {
		status = read_batch(meeting, &batch, &is_last, error);
		if (status == STATUS_OK)
			status = take_batch(meeting, &batch, is_last, error);
	}
	batch_done(&batch);
	return status;
}

/* Everything that all books have; also what a book that carried its own has passed by. */
static enum status fetch_all(struct sync_run *meeting, struct error *error)
{
	bool is_partial;
	enum status status = sync_is_partial(meeting->store, &is_partial, error);

	if (is_partial)
		meeting->seen = meeting->start = meeting->cursor = 0;
	if (status == STATUS_OK && meeting->seen < meeting->newest)
		status = fetch_up_to_newest(meeting, error);
	return status == STATUS_OK && is_partial
		? store_setting_set(meeting->store, sync_partial_key, "", error) : status;
}

/* ---- Carrying one's own ---- */

/* What a meeting that was broken off had begun to fetch. */
static enum status finish_begun(struct sync_run *meeting, struct error *error)
{
	char text[48], *end;
	int64_t newest = meeting->newest;
	enum status status = store_setting_get(meeting->store, meeting->begun_key, text, sizeof text,
	                                       error);

	if (status != STATUS_OK || !*text)
		return status;
	meeting->newest = (int64_t)strtoll(text, &end, 10);
	meeting->cursor = (int64_t)strtoll(end, NULL, 10);
	status = fetch_up_to_newest(meeting, error);
	meeting->newest = newest;
	return status;
}

/* Runs a function of the server with whole numbers and two texts; the answer is its number. */
static enum status call_server(struct sync_run *meeting, const char *sql, const char *technician,
                               const char *asked, int64_t *answer, struct error *error)
{
	const char *const values[] = { technician, asked };
	PGresult *result = pq.execParams(meeting->office.connection, sql, technician ? 2 : 0, NULL,
	                                 values, NULL, NULL, 0);
	enum status status = pq.resultStatus(result) == PGRES_TUPLES_OK
	                         ? STATUS_OK
	                         : office_refuse(&meeting->office,
	                                         "the office did not answer as expected", error);

	if (status == STATUS_OK && answer)
		*answer = whole(pq.getvalue(result, 0, 0));
	pq.clear(result);
	return status;
}

/* Tells the server what this book carries, as far as that is new. */
static enum status say_what_is_carried(struct sync_run *meeting, struct error *error)
{
	char sql[240], technician[NAME_SIZE];
	int64_t carrier = 0;
	enum status status = noted_number(meeting->store, meeting->carrier_key, &carrier, error);

	if (status == STATUS_OK)
		status = store_setting_get(meeting->store, "technician", technician, sizeof technician,
		                           error);
	snprintf(sql, sizeof sql, "SELECT %s.mark()", meeting->office.firm);
	if (status == STATUS_OK)
		status = call_server(meeting, sql, NULL, NULL, &meeting->newest, error);
	snprintf(sql, sizeof sql, "SELECT %s.carry(%" PRId64 ", %" PRId64 ", %" PRId64 ", %" PRId64
	         ", %" PRId64 ", $1, $2)", meeting->office.firm, meeting->own, carrier,
	         carrier == meeting->own ? meeting->seen : 0, meeting->seen, meeting->newest);
	if (status == STATUS_OK)
		status = call_server(meeting, sql, technician, meeting->asked ? meeting->asked->text : "",
		                     NULL, error);
	return status == STATUS_OK
		? note_number(meeting->store, meeting->carrier_key, meeting->own, error)
		: status;
}

/* A book that nobody wrote in has no id yet, under which the server could know it. */
static enum status make_own_id(struct sync_run *meeting, struct error *error)
{
	enum status status = store_begin(meeting->store, error);

	if (status != STATUS_OK)
		return status;
	status = store_end(meeting->store, trail_begin(meeting->store, error), error);
	if (status == STATUS_OK)
		status = trail_own(meeting->store, &meeting->own, &meeting->number, error);
	return status == STATUS_OK ? say_hello(meeting, error) : status;
}

static enum status fetch_own(struct sync_run *meeting, struct error *error)
{
	enum status status = meeting->own ? STATUS_OK : make_own_id(meeting, error);

	if (status == STATUS_OK)
		status = store_setting_set(meeting->store, sync_partial_key, "1", error);
	if (status == STATUS_OK)
		status = finish_begun(meeting, error);
	if (status == STATUS_OK)
		status = say_what_is_carried(meeting, error);
	meeting->cursor = meeting->seen;
	return status == STATUS_OK ? fetch_up_to_newest(meeting, error) : status;
}

static enum status fetch(struct sync_run *meeting, struct error *error)
{
	char carry[16];
	enum status status = store_setting_get(meeting->store, "carry", carry, sizeof carry, error);

	if (status != STATUS_OK)
		return status;
	meeting->is_own = strcmp(carry, "own") == 0;
	return meeting->is_own ? fetch_own(meeting, error) : fetch_all(meeting, error);
}

/* ---- Sending ---- */

#define SENT_COLUMNS \
	"SELECT entry.book, entry.number, entry.stamp, thing.kind, thing.uid, parent.uid, " \
	"field.name, technician.name, entry.old, entry.new, entry.at, entry.sum FROM entry " \
	"JOIN thing ON thing.id = entry.thing LEFT JOIN thing AS parent ON parent.id = thing.call " \
	"JOIN field ON field.id = entry.field JOIN technician ON technician.id = entry.technician "

static void add_row(struct text *text, sqlite3_stmt *row)
{
	for (int i = 0; i < 4; i++)
		add_whole(text, sqlite3_column_int64(row, i));
	for (int i = 4; i < 12; i++)
		add_field(text, (const char *)sqlite3_column_text(row, i), i == 11);
}

/* Up to BATCH rows from where `row` stands, as lines; *last is the number of the last. */
static enum status gather(struct sync_run *meeting, sqlite3_stmt *row, struct text *lines,
                          int64_t *count, int64_t *last, struct error *error)
{
	text_clear(lines);
	*count = 0;
	while (*count < BATCH && book_next(meeting->store, row)) {
		add_row(lines, row);
		*last = sqlite3_column_int64(row, 1);
		++*count;
	}
	if (*count == BATCH)
		book_stop(row);
	return lines->failed ? book_error(meeting->store, STATUS_NO_MEMORY, error)
	                     : book_outcome(meeting->store, error);
}

/* Gives lines to the server, which takes those that it does not have, in one transaction. */
static enum status give(struct sync_run *meeting, const struct text *lines, struct error *error)
{
	static const char broke[] = "the connection broke while sending";
	struct office *office = &meeting->office;
	char sql[120];
	PGresult *result;
	enum status status = office_run(office, "BEGIN; CREATE TEMPORARY TABLE brought (book bigint, "
		"number bigint, stamp bigint, kind smallint, thing text, call text, field text, "
		"technician text, old text, new text, at bigint, sum bigint) ON COMMIT DROP", broke, error);

	if (status != STATUS_OK)
		return status;
	result = pq.exec(office->connection, "COPY pg_temp.brought FROM STDIN");
	bool ready = pq.resultStatus(result) == PGRES_COPY_IN;
	pq.clear(result);
	ready = ready && pq.putCopyData(office->connection, text_get(lines), (int)lines->length) == 1 &&
	        pq.putCopyEnd(office->connection, NULL) == 1;
	result = ready ? pq.getResult(office->connection) : NULL;
	ready = ready && pq.resultStatus(result) == PGRES_COMMAND_OK;
	pq.clear(result);
	while ((result = pq.getResult(office->connection)) != NULL)
		pq.clear(result);
	if (!ready)
		return office_refuse(office, broke, error);
	snprintf(sql, sizeof sql, "SELECT %s.take()", office->firm);
	status = ask(meeting, sql, 1, &result, error);
	if (status == STATUS_OK)
		meeting->report->sent += whole(pq.getvalue(result, 0, 0));
	pq.clear(result);
	return status == STATUS_OK ? office_run(office, "COMMIT", broke, error) : status;
}

/* Sends what `sql` answers for a book and the numbers behind `after`. */
static enum status send_from(struct sync_run *meeting, const char *sql, int64_t book, int64_t after,
                             struct error *error)
{
	struct text lines;
	int64_t count = BATCH, from = after;
	enum status status = STATUS_OK;

	text_init(&lines);
	while (status == STATUS_OK && count == BATCH) {
		sqlite3_stmt *row = book_query(meeting->store, sql, "ii", book, after);
		status = gather(meeting, row, &lines, &count, &after, error);
		if (status == STATUS_OK && count > 0)
			status = give(meeting, &lines, error);
		if (status == STATUS_OK && count > 0)
			status = tell(meeting, "sent", meeting->report->sent, meeting->number - from, error);
	}
	text_done(&lines);
	return status;
}

static enum status send_own(struct sync_run *meeting, struct error *error)
{
	static const char sql[] = SENT_COLUMNS "WHERE entry.book = ?1 AND number > ?2 ORDER BY number";

	return send_from(meeting, sql, meeting->own, meeting->apart ? 0 : meeting->last, error);
}

/* What was written before there was a trail has no book of its own: sent once, whole. */
static enum status send_legacy(struct sync_run *meeting, struct error *error)
{
	static const char counted[] = "SELECT count(*) FROM entry WHERE book = 0";
	static const char sql[] = SENT_COLUMNS
		"WHERE entry.book = ?1 AND ?2 IS NOT NULL ORDER BY number";
	int64_t count = 0, sent = 0;
	struct text lines;
	sqlite3_stmt *row = book_query(meeting->store, counted, "");

	if (book_next(meeting->store, row)) {
		count = sqlite3_column_int64(row, 0);
		book_stop(row);
	}
	enum status status = book_outcome(meeting->store, error);
	if (status == STATUS_OK)
		status = noted_number(meeting->store, meeting->legacy_key, &sent, error);
	if (status != STATUS_OK || sent == count)
		return status;
	text_init(&lines);
	row = book_query(meeting->store, sql, "ii", (int64_t)0, (int64_t)0);
	for (int64_t some = BATCH; status == STATUS_OK && some == BATCH; text_clear(&lines)) {
		for (some = 0; some < BATCH && book_next(meeting->store, row); some++)
			add_row(&lines, row);
		if (lines.failed)
			status = book_error(meeting->store, STATUS_NO_MEMORY, error);
		else if (some > 0)
			status = give(meeting, &lines, error);
	}
	book_stop(row);
	text_done(&lines);
	return status == STATUS_OK ? note_number(meeting->store, meeting->legacy_key, count, error)
	                           : status;
}

/* The next change of this book is written under a new id: its old one is in use twice. */
static enum status take_new_id(struct sync_run *meeting, struct error *error)
{
	static const char sql[] = "DELETE FROM own";
	enum status status = store_begin(meeting->store, error);

	if (status != STATUS_OK)
		return status;
	meeting->report->took_new_id = true;
	return store_end(meeting->store, book_run(meeting->store, error, sql, ""), error);
}

/* ---- The whole ---- */

/* What came may be this book's first reason to write: that it knows of it. */
static enum status look_at_own(struct sync_run *meeting, struct error *error)
{
	int64_t before = meeting->own;
	enum status status = trail_own(meeting->store, &meeting->own, &meeting->number, error);

	return status == STATUS_OK && !before && meeting->own ? say_hello(meeting, error) : status;
}

/* Up to which of its own changes this book has given to the office, and when. */
static enum status note_met(struct sync_run *meeting, struct error *error)
{
	char text[80];

	snprintf(text, sizeof text, "%" PRId64 " %" PRId64 " %" PRId64, meeting->own, meeting->number,
	         book_now(meeting->store));
	return store_setting_set(meeting->store, met_key, text, error);
}

static enum status meet(struct sync_run *meeting, struct error *error)
{
	enum status status = trail_own(meeting->store, &meeting->own, &meeting->number, error);

	if (status == STATUS_OK)
		status = say_hello(meeting, error);
	if (status == STATUS_OK)
		status = look_apart(meeting, error);
	if (status == STATUS_OK)
		status = fetch(meeting, error);
	if (status == STATUS_OK)
		status = look_at_own(meeting, error);
	if (status == STATUS_OK)
		status = send_legacy(meeting, error);
	if (status == STATUS_OK && meeting->own)
		status = send_own(meeting, error);
	if (status == STATUS_OK && meeting->apart)
		status = take_new_id(meeting, error);
	return status == STATUS_OK ? note_met(meeting, error) : status;
}

enum status store_sync_fetch(struct store *store, const char *address, const char *firm,
                             const struct uid *customer, sync_step_fn *step, void *context,
                             struct sync_report *report, struct error *error)
{
	struct sync_run meeting = { .store = store, .report = report, .step = step, .context = context,
	                           .asked = customer };

	memset(report, 0, sizeof *report);
	enum status status = office_open(&meeting.office, address, firm, error);
	if (status == STATUS_OK)
		status = meet(&meeting, error);
	office_close(&meeting.office);
	return status;
}

/* ---- Finding there ---- */

/* The words of a text as an array of PostgreSQL's: {"one","other"}. */
static void add_words(struct text *array, const char *text)
{
	const char *join = "{";

	while (*(text += strspn(text, " \t"))) {
		size_t length = strcspn(text, " \t");
		text_add(array, join);
		text_add_char(array, '"');
		for (size_t i = 0; i < length; i++) {
			if (text[i] == '"' || text[i] == '\\')
				text_add_char(array, '\\');
			text_add_char(array, text[i]);
		}
		text_add_char(array, '"');
		text += length;
		join = ",";
	}
	text_add(array, *join == '{' ? "{}" : "}");
}

static void give_customer(struct store *store, const PGresult *result, int row,
                          struct office_customer *customer)
{
	struct thing thing;
	struct error ignored;

	*customer = (struct office_customer){ .calls = (int)whole(pq.getvalue(result, row, 4)) };
	text_copy(customer->uid.text, sizeof customer->uid.text, pq.getvalue(result, row, 0));
	text_copy(customer->name, sizeof customer->name, pq.getvalue(result, row, 1));
	text_copy(customer->phone, sizeof customer->phone, pq.getvalue(result, row, 2));
	text_copy(customer->address, sizeof customer->address, pq.getvalue(result, row, 3));
	customer->is_here = thing_find(store, &customer->uid, &thing, &ignored) == STATUS_OK;
}

static enum status ask_for_customers(struct store *store, struct office *office, const char *text,
                                     int limit, struct gather *customers, struct error *error)
{
	struct text words;
	char sql[160];

	text_init(&words);
	add_words(&words, text);
	snprintf(sql, sizeof sql, "SELECT * FROM %s.find_customers($1, %d)", office->firm, limit);
	const char *const values[] = { text_get(&words) };
	PGresult *result = pq.execParams(office->connection, sql, 1, NULL, values, NULL, NULL, 0);
	enum status status = pq.resultStatus(result) == PGRES_TUPLES_OK
		? STATUS_OK : office_refuse(office, "the office did not answer as expected", error);
	for (int i = 0; status == STATUS_OK && i < pq.ntuples(result); i++) {
		struct office_customer customer;
		give_customer(store, result, i, &customer);
		gather_add(customers, &customer);
	}
	pq.clear(result);
	text_done(&words);
	return status;
}

enum status store_sync_find(struct store *store, const char *address, const char *firm,
                            const char *text, int limit, struct office_customer **list,
                            size_t *count, struct error *error)
{
	struct gather customers = { .size = sizeof **list };
	struct office office;
	enum status status = office_open(&office, address, firm, error);

	if (status == STATUS_OK)
		status = ask_for_customers(store, &office, text, limit, &customers, error);
	office_close(&office);
	/* `status` has said how it went, not the last statement. */
	store->code = SQLITE_OK;
	return book_hand_over(store, NULL, status, &customers, list, count, error);
}

#else

enum status store_sync_fetch(struct store *store, const char *address, const char *firm,
                             const struct uid *customer, sync_step_fn *step, void *context,
                             struct sync_report *report, struct error *error)
{
	(void)store;
	(void)address;
	(void)firm;
	(void)customer;
	(void)step;
	(void)context;
	memset(report, 0, sizeof *report);
	return office_not_built(error);
}

enum status store_sync_find(struct store *store, const char *address, const char *firm,
                            const char *text, int limit, struct office_customer **list,
                            size_t *count, struct error *error)
{
	(void)store;
	(void)address;
	(void)firm;
	(void)text;
	(void)limit;
	*list = NULL;
	*count = 0;
	return office_not_built(error);
}

#endif

enum status store_sync(struct store *store, const char *address, const char *firm,
                       sync_step_fn *step, void *context, struct sync_report *report,
                       struct error *error)
{
	return store_sync_fetch(store, address, firm, NULL, step, context, report, error);
}
