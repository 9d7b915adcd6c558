/*
 * time_store BOOK SCRATCH: what the book itself costs, on the book of
 * time_book; SCRATCH is a folder for copies.
 *
 * Processor time where work is counted, time on the wall where waiting is.
 * Where there is a peer (SQLite's own check, one query of the same rows, plain
 * copying of rows) it runs here as well, and the ratio is printed.
 */
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <padside/app/history.h>
#include <padside/app/ledger.h>
#include <padside/app/session.h>

enum { TRIES = 9, MANY_CALLS = 4000 };

static struct error error;

static void ok(enum status status)
{
	if (status != STATUS_OK) {
		fprintf(stderr, "time_store: %s\n", error.text);
		exit(EXIT_FAILURE);
	}
}

static double seconds(clockid_t clock)
{
	struct timespec now;

	clock_gettime(clock, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static double cpu(void)
{
	return seconds(CLOCK_PROCESS_CPUTIME_ID);
}

static double wall(void)
{
	return seconds(CLOCK_MONOTONIC);
}

static int compare(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

static double median(double *times)
{
	qsort(times, TRIES, sizeof *times, compare);
	return times[TRIES / 2];
}

static void report(const char *what, double took, double wanted, const char *unit)
{
	double scale = strcmp(unit, "ms") == 0 ? 1e3 : 1;

	printf("%-58s %9.2f %-3s wanted: at most %g\n", what, took * scale, unit, wanted);
}

static struct store *open_book(const char *path)
{
	struct store *store;

	ok(store_open(path, STORE_CREATE, &clock_of_machine, &store, &error));
	return store;
}

/* The newest call, and whose it is. */
static bool first_line(const struct call_line *line, void *context)
{
	*(struct call_line *)context = *line;
	return false;
}

static struct call_line newest(struct store *store)
{
	const struct call_filter filter = { .since = WALL_TIME_NONE, .limit = 1 };
	struct call_line line;

	ok(store_find_calls(store, &filter, first_line, &line, &error));
	return line;
}

static sqlite3 *connect(const char *path)
{
	sqlite3 *db;

	if (sqlite3_open(path, &db) != SQLITE_OK)
		exit(EXIT_FAILURE);
	return db;
}

static void time_locked(struct store *store, const char *path, const struct call_line *line)
{
	double times[TRIES];
	struct session *session;
	sqlite3 *db = connect(path);

	ok(session_new(store, &clock_of_machine, UNITS_US, &session, &error));
	sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL);
	for (int i = 0; i < TRIES; i++) {
		double began = wall();
		ok(session_open(session, line->uid.text, &error));
		session_leave(session);
		times[i] = wall() - began;
	}
	sqlite3_exec(db, "ROLLBACK", NULL, NULL, NULL);
	sqlite3_close(db);
	session_free(session);
	report("open and leave a call while another program writes", median(times), 20, "ms");
}

/* The customer with the most calls of the book. */
static void busiest(const char *path, char uid[UID_SIZE])
{
	sqlite3 *db = connect(path);
	sqlite3_stmt *row;

	sqlite3_prepare_v2(db, "SELECT uid FROM call WHERE customer = (SELECT customer FROM call GROUP BY "
	                   "customer ORDER BY count(*) DESC LIMIT 1) LIMIT 1", -1, &row, NULL);
	sqlite3_step(row);
	snprintf(uid, UID_SIZE, "%s", (const char *)sqlite3_column_text(row, 0));
	sqlite3_finalize(row);
	sqlite3_close(db);
}

static void time_keys(struct store *store, const char *path)
{
	double texts[TRIES], readings[TRIES];
	struct session *session;
	char uid[UID_SIZE], typed[32];

	busiest(path, uid);
	ok(session_new(store, &clock_of_machine, UNITS_US, &session, &error));
	ok(session_open(session, uid, &error));
	for (int i = 0; i < TRIES; i++) {
		snprintf(typed, sizeof typed, "told so %d", i);
		double began = cpu();
		ok(session_type_field(session, FIELD_SUMMARY, typed, &error));
		texts[i] = cpu() - began;
		snprintf(typed, sizeof typed, "%d", 100 + i);
		began = cpu();
		ok(session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, typed, &error));
		readings[i] = cpu() - began;
	}
	session_free(session);
	report("a header text kept, customer with most calls, with findings", median(texts), 0.6, "ms");
	report("a reading kept, with its findings", median(readings), 1, "ms");
}

static void time_listing(struct store *store)
{
	const struct call_filter filter = { .since = WALL_TIME_NONE };
	double times[TRIES];
	struct call_line line;

	for (int i = 0; i < TRIES; i++) {
		double began = cpu();
		ok(store_find_calls(store, &filter, first_line, &line, &error));
		times[i] = cpu() - began;
	}
	report("the first line of all calls", median(times), 5, "ms");
}

static bool count_sentence(const char *sentence, void *context)
{
	(void)sentence;
	++*(int *)context;
	return true;
}

static void time_verify(struct store *store, const char *path)
{
	int wrong = 0;
	sqlite3 *db = connect(path);
	double began = cpu();

	sqlite3_exec(db, "PRAGMA integrity_check; PRAGMA foreign_key_check", NULL, NULL, NULL);
	double peer = cpu() - began;
	sqlite3_close(db);
	began = cpu();
	ok(store_verify(store, count_sentence, &wrong, &error));
	report("verify, against integrity check and foreign keys", (cpu() - began) / peer, 2.5, "x");
	if (wrong)
		printf("%d sentences: the book is not sound\n", wrong);
}

static bool any_line(const struct ledger_line *line, void *context)
{
	(void)line;
	(void)context;
	return true;
}

static void time_ledger(struct store *store, const char *path)
{
	static const char query[] =
		"SELECT system, total(added), total(recovered) FROM charge_entry "
		"JOIN call ON call.id = charge_entry.call GROUP BY 1";
	sqlite3 *db = connect(path);
	double began = cpu();

	sqlite3_exec(db, query, NULL, NULL, NULL);
	double peer = cpu() - began;
	sqlite3_close(db);
	began = cpu();
	ok(store_ledger(store, LEDGER_BY_SYSTEM, any_line, NULL, &error));
	report("ledger by unit, against one query", (cpu() - began) / peer, 2, "x");
}

static void time_merge(const char *path, const char *folder)
{
	char target[512];
	struct merge_report came;

	snprintf(target, sizeof target, "%s/merged.db", folder);
	unlink(target);
	struct store *store = open_book(target);
	double began = cpu();
	ok(store_merge(store, path, &came, &error));
	double whole = cpu() - began;
	printf("%-58s %9.2f s   (%d calls)\n", "a whole book merged into an empty one", whole, came.calls);
	began = cpu();
	ok(store_merge(store, path, &came, &error));
	report("merged again with nothing new", cpu() - began, 0.5, "s");
	store_close(store);
	unlink(target);
}

static double record_many(const char *folder, int count)
{
	struct uid customer = uid_new();
	char path[512];

	snprintf(path, sizeof path, "%s/many.db", folder);
	unlink(path);
	struct store *store = open_book(path);
	double began = cpu();
	ok(store_begin(store, &error));
	for (int i = 0; i < count; i++) {
		struct call call;
		call_init(&call);
		call.customer.uid = customer;
		snprintf(call.customer.name, sizeof call.customer.name, "One");
		call.opened_at = 1700000000 + i * 3600;
		for (int j = READING_NONE + 1; j < READING_COUNT; j += 5) {
			struct value value;
			if (reading_parse((enum reading)j, "1", UNITS_US, &value, &error) == STATUS_OK)
				visit_set(&call.visit, STAGE_AS_FOUND, (enum reading)j, &value);
		}
		ok(store_call_record(store, &call, &error));
		call_done(&call);
	}
	ok(store_end(store, STATUS_OK, &error));
	double took = cpu() - began;
	store_close(store);
	unlink(path);
	return took;
}

int main(int count, char **words)
{
	if (count != 3) {
		fprintf(stderr, "usage: time_store BOOK SCRATCH\n");
		return EXIT_FAILURE;
	}
	struct store *store = open_book(words[1]);
	struct call_line line = newest(store);
	time_locked(store, words[1], &line);
	time_keys(store, words[1]);
	time_listing(store);
	time_ledger(store, words[1]);
	time_verify(store, words[1]);
	time_merge(words[1], words[2]);
	double half = record_many(words[2], MANY_CALLS / 2), whole = record_many(words[2], MANY_CALLS);
	report("4,000 calls of one customer stored", whole, 2.5, "s");
	report("  against 2,000 of them (linear: 2)", whole / half, 2.2, "x");
	store_close(store);
	return EXIT_SUCCESS;
}
