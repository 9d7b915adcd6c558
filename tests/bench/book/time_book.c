/*
 * time_book BOOK SMALLER: what a technician waits for, in a large book.
 *
 * The workbook without a terminal: a key pressed and everything drawn again,
 * in processor time, each the fastest of three.  The reference is the same in a smaller book with
 * a tenth of the calls (make_book), measured in the same run:
 * the ratio says how waiting grows with the book, and may grow no faster than
 * the logarithm of the number of calls.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <padside/app/session.h>

#include "tui/workbook.h"

enum { ROWS = 40, COLUMNS = 120, TRIES = 3, MOST_SAMPLES = 4096, MOST_PICKED = 60 };

/* A book with a workbook on it. */
struct bench {
	struct store *store;       /* the book */
	struct session *session;   /* on it */
	struct workbook *workbook; /* on that */
};

struct samples {
	double seconds[MOST_SAMPLES]; /* each the fastest of TRIES */
	int count;                    /* of them */
};

/* Who and which machines are opened. */
struct picked {
	struct uid customers[MOST_PICKED]; /* newest in the book */
	struct uid systems[MOST_PICKED];   /* of the newest calls */
	int customer_count, system_count;  /* of them */
};

/* What is typed, a key at a time: rare and common, parts and beginnings, and what is not there. */
static const char *const typed[] = {
	"ada ashbury", "whitworth", "otis", "street", "12 elm", "555-0", "hill", "quill thornwick", "04-1",
	"77", "zx", "nobody at all", "lane", "row 7", "ximena pemnell",
};

static double seconds_now(void)
{
	struct timespec now;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void die(const char *what)
{
	fprintf(stderr, "time_book: %s\n", what);
	exit(EXIT_FAILURE);
}

static void open_bench(const char *path, struct bench *bench)
{
	struct error error;

	if (store_open(path, STORE_READ_ONLY, &clock_of_machine, &bench->store, &error) != STATUS_OK ||
	    session_new(bench->store, &clock_of_machine, UNITS_US, &bench->session, &error) != STATUS_OK)
		die(error.text);
	bench->workbook = workbook_new(bench->session, ROWS, COLUMNS, false);
	if (!bench->workbook)
		die("no memory");
}

static void close_bench(struct bench *bench)
{
	workbook_free(bench->workbook);
	session_free(bench->session);
	store_close(bench->store);
}

static void add_sample(struct samples *samples, double seconds)
{
	if (samples->count < MOST_SAMPLES)
		samples->seconds[samples->count++] = seconds;
}

/* ---- Searching as one types ---- */

static void press(struct bench *bench, struct key key)
{
	workbook_press(bench->workbook, key);
	workbook_draw(bench->workbook);
}

/* Types the key, and takes it back and types it again, for the fastest of some. */
static void time_key(struct bench *bench, struct key key, struct samples *samples)
{
	double best = 1e9;

	for (int i = 0; i < TRIES; i++) {
		if (i > 0)
			press(bench, key_press(PRESS_BACKSPACE));
		double began = seconds_now();
		press(bench, key);
		double took = seconds_now() - began;
		best = took < best ? took : best;
	}
	add_sample(samples, best);
}

static void time_typing(struct bench *bench, struct samples *samples)
{
	for (size_t i = 0; i < sizeof typed / sizeof *typed; i++) {
		for (const char *at = typed[i]; *at; at++)
			time_key(bench, key_character((unsigned char)*at), samples);
		for (const char *at = typed[i]; *at; at++)
			press(bench, key_press(PRESS_BACKSPACE));
	}
}

static void time_search(struct bench *bench, struct samples *calls, struct samples *customers)
{
	time_typing(bench, calls);
	press(bench, key_press(PRESS_TAB));
	time_typing(bench, customers);
	press(bench, key_press(PRESS_TAB));
}

/* ---- Pages ---- */

static void pick(struct bench *bench, struct picked *picked)
{
	struct call_filter filter = { .since = WALL_TIME_NONE, .limit = MOST_PICKED };
	struct store_listing listing;
	struct call_line line;
	struct error error;

	memset(picked, 0, sizeof *picked);
	store_calls_open(bench->store, &filter, &listing);
	while (store_calls_next(&listing, &line)) {
		picked->customers[picked->customer_count++] = line.customer_uid;
		picked->systems[picked->system_count++] = line.system_uid;
	}
	if (store_listing_close(&listing, &error) != STATUS_OK)
		die(error.text);
}

/* Goes to a screen and draws it, the fastest of some; then back. */
static void time_screen(struct bench *bench, enum screen_id screen, struct samples *samples)
{
	double best = 1e9;

	for (int i = 0; i < TRIES; i++) {
		double began = seconds_now();
		workbook_go(bench->workbook, screen);
		workbook_draw(bench->workbook);
		double took = seconds_now() - began;
		best = took < best ? took : best;
		press(bench, key_press(PRESS_ESCAPE));
	}
	add_sample(samples, best);
}

static void time_pages(struct bench *bench, struct samples *customers, struct samples *systems)
{
	struct picked picked;

	pick(bench, &picked);
	for (int i = 0; i < picked.customer_count; i++) {
		workbook_set_customer(bench->workbook, &picked.customers[i]);
		time_screen(bench, SCREEN_CUSTOMER, customers);
	}
	for (int i = 0; i < picked.system_count; i++) {
		workbook_set_system(bench->workbook, &picked.systems[i]);
		time_screen(bench, SCREEN_HISTORY, systems);
	}
}

/* ---- Report ---- */

static int compare_seconds(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;

	return (x > y) - (x < y);
}

static double at_share(struct samples *samples, double share)
{
	if (samples->count == 0)
		die("nothing was measured");
	qsort(samples->seconds, (size_t)samples->count, sizeof *samples->seconds, compare_seconds);
	return samples->seconds[(int)(share * (samples->count - 1))];
}

static void report(const char *what, double wanted_ms, struct samples *large, struct samples *small)
{
	double median = at_share(large, 0.5), late = at_share(large, 0.99);

	printf("%-36s %6.2f ms %6.2f ms %7g ms %8.2f %8.2f\n", what, 1e3 * median, 1e3 * late, wanted_ms,
	       median / at_share(small, 0.5), late / at_share(small, 0.99));
}

enum { SEARCH_CALLS, SEARCH_CUSTOMERS, PAGE_CUSTOMER, PAGE_HISTORY, KIND_COUNT };

static void measure(struct bench *bench, struct samples kinds[KIND_COUNT])
{
	time_search(bench, &kinds[SEARCH_CALLS], &kinds[SEARCH_CUSTOMERS]);
	time_pages(bench, &kinds[PAGE_CUSTOMER], &kinds[PAGE_HISTORY]);
}

int main(int count, char **words)
{
	static const struct {
		const char *name; /* what is pressed */
		double wanted_ms; /* the 99th percentile at most */
	} kinds[KIND_COUNT] = {
		{ "a key of a search for calls", 3 }, { "a key of a search for customers", 3 },
		{ "opening a customer's page", 20 }, { "opening a machine's history", 20 },
	};
	static struct samples large_samples[KIND_COUNT], small_samples[KIND_COUNT];
	struct bench large, small;

	if (count != 3)
		die("usage: time_book BOOK SMALLER");
	open_bench(words[1], &large);
	open_bench(words[2], &small);
	measure(&small, small_samples);
	measure(&large, large_samples);
	printf("%-36s %9s %9s %10s %17s\n", "", "", "99th per-", "it may be", "growth from the small book");
	printf("%-36s %9s %9s %10s %8s %8s\n", "key pressed to page drawn", "median", "centile", "at most",
	       "median", "99th");
	for (int i = 0; i < KIND_COUNT; i++)
		report(kinds[i].name, kinds[i].wanted_ms, &large_samples[i], &small_samples[i]);
	close_bench(&large);
	close_bench(&small);
	return EXIT_SUCCESS;
}
