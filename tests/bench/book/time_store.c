/*
 * time_store PADSIDE SMALL LARGE ONE OTHER SCRATCH: what the book itself costs.
 *
 * SMALL and LARGE are books of make_book; what is measured on both is printed
 * with its growth from one to the other.  OTHER is another truck's book, which
 * is merged into a copy of ONE in the folder SCRATCH.
 *
 * Processor time where work is counted, time on the wall where waiting is.
 * Where there is a peer (SQLite's own check, one query for the same answer,
 * plain copying of the same rows) it runs here as well, and the ratio to it is
 * what is printed.
 */
#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <padside/app/session.h>
#include <padside/base/text.h>

enum { TRIES = 9, MANY_CALLS = 4000, PATH_ROOM = 1024 };

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

/* ---- The books ---- */

static struct store *open_book(const char *path)
{
	struct store *store;

	ok(store_open(path, STORE_CREATE, &clock_of_machine, &store, &error));
	return store;
}

static sqlite3 *connect(const char *path)
{
	sqlite3 *db;

	if (sqlite3_open(path, &db) != SQLITE_OK) {
		fprintf(stderr, "time_store: %s cannot be opened\n", path);
		exit(EXIT_FAILURE);
	}
	return db;
}

static void run(sqlite3 *db, const char *sql)
{
	if (sqlite3_exec(db, sql, NULL, NULL, NULL) != SQLITE_OK) {
		fprintf(stderr, "time_store: %s: %s\n", sqlite3_errmsg(db), sql);
		exit(EXIT_FAILURE);
	}
}

/* The text that a query answers first. */
static void ask(const char *path, const char *sql, char *answer, size_t size)
{
	sqlite3 *db = connect(path);
	sqlite3_stmt *row;

	if (sqlite3_prepare_v2(db, sql, -1, &row, NULL) != SQLITE_OK || sqlite3_step(row) != SQLITE_ROW) {
		fprintf(stderr, "time_store: no answer to %s\n", sql);
		exit(EXIT_FAILURE);
	}
	text_copy(answer, size, (const char *)sqlite3_column_text(row, 0));
	sqlite3_finalize(row);
	sqlite3_close(db);
}

#define BUSIEST \
	"(SELECT customer FROM call GROUP BY customer ORDER BY count(*) DESC LIMIT 1)"

/* The newest call of the unit that has most of them, which is the busiest customer's. */
static void busiest_call(const char *path, char uid[UID_SIZE])
{
	ask(path, "SELECT uid FROM call WHERE system = (SELECT system FROM call GROUP BY system "
	    "ORDER BY count(*) DESC LIMIT 1) ORDER BY opened_at DESC LIMIT 1", uid, UID_SIZE);
}

/* ---- Measured on a small and on a large book ---- */

static const char *padside; /* the program */

static double open_while_locked(const char *path)
{
	struct store *store = open_book(path);
	double times[TRIES];
	char uid[UID_SIZE];
	struct session *session;

	busiest_call(path, uid);
	ok(session_new(store, &clock_of_machine, UNITS_US, &session, &error));
	sqlite3 *db = connect(path);
	run(db, "BEGIN IMMEDIATE");
	for (int i = 0; i < TRIES; i++) {
		double began = wall();
		ok(session_open(session, uid, &error));
		session_leave(session);
		times[i] = wall() - began;
	}
	run(db, "ROLLBACK");
	sqlite3_close(db);
	session_free(session);
	store_close(store);
	return 1e3 * median(times);
}

static double keep(const char *path, bool is_text)
{
	struct store *store = open_book(path);
	double times[TRIES];
	char uid[UID_SIZE], typed[32];
	struct session *session;

	busiest_call(path, uid);
	ok(session_new(store, &clock_of_machine, UNITS_US, &session, &error));
	ok(session_open(session, uid, &error));
	for (int i = 0; i < TRIES; i++) {
		snprintf(typed, sizeof typed, is_text ? "told so %d" : "%d", 100 + i);
		double began = cpu();
		ok(is_text ? session_type_field(session, FIELD_SUMMARY, typed, &error)
		           : session_type(session, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, typed, &error));
		times[i] = cpu() - began;
	}
	session_free(session);
	store_close(store);
	return 1e3 * median(times);
}

static double keep_text(const char *path)
{
	return keep(path, true);
}

static double keep_reading(const char *path)
{
	return keep(path, false);
}

/* Runs the program, its output to nowhere; what it used. */
static struct rusage run_program(const char *path, const char *command, const char *option,
                                 const char *value)
{
	struct rusage used;
	pid_t child = fork();
	int how;

	if (child == 0) {
		int nowhere = open("/dev/null", O_WRONLY);
		dup2(nowhere, STDOUT_FILENO);
		execl(padside, padside, "--book", path, command, option, value, (char *)NULL);
		_exit(127);
	}
	if (child < 0 || wait4(child, &how, 0, &used) < 0 || !WIFEXITED(how) || WEXITSTATUS(how) != 0) {
		fprintf(stderr, "time_store: padside %s failed\n", command);
		exit(EXIT_FAILURE);
	}
	return used;
}

/* From starting the program to its first line. */
static double first_line(const char *path)
{
	double times[TRIES];
	char command[PATH_ROOM], line[256];

	snprintf(command, sizeof command, "'%s' --book '%s' calls", padside, path);
	for (int i = 0; i < TRIES; i++) {
		double began = wall();
		FILE *lines = popen(command, "r");
		if (!lines || !fgets(line, sizeof line, lines))
			exit(EXIT_FAILURE);
		times[i] = wall() - began;
		pclose(lines);
	}
	return 1e3 * median(times);
}

static double memory_of_calls(const char *path)
{
	return (double)run_program(path, "calls", NULL, NULL).ru_maxrss / 1024;
}

static double history_of_customer(const char *path)
{
	double times[TRIES];
	char name[NAME_SIZE];

	ask(path, "SELECT name FROM customer WHERE id = " BUSIEST, name, sizeof name);
	for (int i = 0; i < TRIES; i++) {
		struct rusage used = run_program(path, "history", "--customer", name);
		times[i] = (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
		           (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec) / 1e6;
	}
	return 1e3 * median(times);
}

static double kilobytes_a_call(const char *path)
{
	char calls[32];
	struct stat file;

	ask(path, "SELECT count(*) FROM call", calls, sizeof calls);
	return stat(path, &file) == 0 ? (double)file.st_size / 1000 / strtod(calls, NULL) : 0;
}

static double verify(const char *path)
{
	struct store_flaw *flaws;
	size_t wrong;
	sqlite3 *db = connect(path);
	double began = cpu();

	run(db, "PRAGMA integrity_check; PRAGMA foreign_key_check");
	double peer = cpu() - began;
	sqlite3_close(db);
	struct store *store = open_book(path);
	began = cpu();
	ok(store_verify(store, 0, &flaws, &wrong, &error));
	double took = cpu() - began;
	store_close(store);
	free(flaws);
	if (wrong)
		printf("%zu sentences: the book is not sound\n", wrong);
	return took / peer;
}

/* The sums by unit and by what the call says of the refrigerant. */
static const char ledger_query[] =
	"SELECT call.system, (SELECT new FROM entry WHERE thing = call.id AND field = (SELECT id FROM "
	"field WHERE name = 'system.refrigerant') ORDER BY stamp DESC, book DESC LIMIT 1), "
	"total(added), total(recovered), count(*) FROM charge_entry "
	"JOIN call ON call.id = charge_entry.call GROUP BY 1, 2";

static double ledger(const char *path)
{
	double ours[TRIES], peer[TRIES];
	struct ledger_line *lines;
	size_t count;
	sqlite3 *db = connect(path);
	struct store *store = open_book(path);

	for (int i = 0; i < TRIES; i++) {
		double began = cpu();
		run(db, ledger_query);
		peer[i] = cpu() - began;
		began = cpu();
		ok(store_ledger(store, LEDGER_BY_SYSTEM, &lines, &count, &error));
		ours[i] = cpu() - began;
		free(lines);
	}
	store_close(store);
	sqlite3_close(db);
	return median(ours) / median(peer);
}

static const struct {
	const char *what;                    /* is measured */
	double (*measure)(const char *path); /* on a book */
	double wanted;                       /* at most; 0: only told */
	const char *unit;                    /* "x": against the peer */
} rows[] = {
	{ "the busiest unit's call opened, another writing", open_while_locked, 20, "ms" },
	{ "a header text kept, of the busiest unit's call", keep_text, 0.6, "ms" },
	{ "a reading kept, with its findings", keep_reading, 0, "ms" },
	{ "padside calls: started to its first line", first_line, 5, "ms" },
	{ "padside calls: memory", memory_of_calls, 0, "MB" },
	{ "padside history of the busiest customer", history_of_customer, 30, "ms" },
	{ "the book, a call", kilobytes_a_call, 15, "kB" },
	{ "verify / integrity check and foreign keys", verify, 2.5, "x" },
	{ "ledger by unit / one query for its sums", ledger, 2, "x" },
};

static void print_row(const char *what, double small, double large, double wanted,
                      const char *unit)
{
	printf("%-52s %8.2f %8.2f %-2s", what, small, large, unit);
	if (wanted > 0)
		printf(" %8g", wanted);
	else
		printf(" %8s", "");
	printf(" %8.2f\n", large / small);
}

static void print_once(const char *what, double value, double wanted, const char *unit)
{
	printf("%-52s %8s %8.2f %-2s %8g\n", what, "", value, unit, wanted);
}

/* ---- Merging, against plain copying of the same rows ---- */

static void copy_file(const char *from, const char *to)
{
	char command[2 * PATH_ROOM];

	snprintf(command, sizeof command, "rm -f '%s'* && cp '%s' '%s'", to, from, to);
	if (system(command) != 0)
		exit(EXIT_FAILURE);
}

/* Copies a table of the other book: ids are moved behind those that are here. */
static void copy_table(sqlite3 *db, const char *table, const char *behind)
{
	struct text sql;
	sqlite3_stmt *row;

	text_init(&sql);
	text_add_format(&sql, "SELECT group_concat(iif(name IN ('call', 'customer', 'site', 'system', "
	                "'thing', 'found_as', 'id'), name || ' + %s', '\"' || name || '\"'), ', ') "
	                "FROM pragma_table_info('%s')", behind, table);
	if (sqlite3_prepare_v2(db, text_get(&sql), -1, &row, NULL) != SQLITE_OK ||
	    sqlite3_step(row) != SQLITE_ROW)
		exit(EXIT_FAILURE);
	text_clear(&sql);
	text_add_format(&sql, "INSERT INTO main.%s SELECT %s FROM theirs.%s", table,
	                (const char *)sqlite3_column_text(row, 0), table);
	sqlite3_finalize(row);
	run(db, text_get(&sql));
	text_done(&sql);
}

static double copy_rows(const char *path, const char *other)
{
	static const char *const tables[] = {
		"thing", "entry", "customer", "site", "system", "call", "customer_site", "charge_entry",
		"work_line", "offer", "watch_item", "judgement", "tightness", "cylinder",
	};
	char behind[32], sql[PATH_ROOM];

	ask(path, "SELECT max(id) FROM thing", behind, sizeof behind);
	sqlite3 *db = connect(path);
	snprintf(sql, sizeof sql, "PRAGMA synchronous = FULL; PRAGMA temp_store = MEMORY; "
	         "ATTACH '%s' AS theirs; BEGIN", other);
	double began = cpu();
	run(db, sql);
	for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
		copy_table(db, tables[i], behind);
	snprintf(sql, sizeof sql, "INSERT INTO main.customer_search (rowid, words) SELECT rowid + %s, words "
	         "FROM theirs.customer_search; COMMIT", behind);
	run(db, sql);
	sqlite3_close(db);
	return cpu() - began;
}

static void time_merge(const char *one, const char *other, const char *folder)
{
	char target[PATH_ROOM];
	struct merge_report came;

	snprintf(target, sizeof target, "%s/merged.db", folder);
	copy_file(one, target);
	double peer = copy_rows(target, other);
	copy_file(one, target);
	struct store *store = open_book(target);
	double began = cpu();
	ok(store_merge(store, other, &came, &error));
	double whole = cpu() - began;
	printf("a book merged into another: %d calls, %d changes, %.2f s; rows copied %.2f s\n",
	       came.calls, came.changes, whole, peer);
	print_once("  merge / copying the rows of trail and tables", whole / peer, 2, "x");
	began = cpu();
	ok(store_merge(store, other, &came, &error));
	print_once("  merged again with nothing new", cpu() - began, 0.5, "s");
	store_close(store);
	unlink(target);
}

/* ---- Many calls of one customer ---- */

static double record_many(const char *folder, int count)
{
	struct uid customer = uid_new();
	char path[PATH_ROOM];

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
	if (count != 7) {
		fprintf(stderr, "usage: time_store PADSIDE SMALL LARGE ONE OTHER SCRATCH\n");
		return EXIT_FAILURE;
	}
	padside = words[1];
	printf("%-52s %8s %8s %2s %8s %8s\n", "", "small", "large", "", "at most", "growth");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		print_row(rows[i].what, rows[i].measure(words[2]), rows[i].measure(words[3]), rows[i].wanted,
		          rows[i].unit);
	time_merge(words[4], words[5], words[6]);
	double half = record_many(words[6], MANY_CALLS / 2), whole = record_many(words[6], MANY_CALLS);
	print_once("4,000 calls of one customer recorded", whole, 2.5, "s");
	print_once("  against 2,000 of them (linear: 2)", whole / half, 2.2, "x");
	return EXIT_SUCCESS;
}
