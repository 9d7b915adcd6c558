/*
 * padside sync and padside office: meeting the firm's server.
 */
#include "cli/commands.h"

#include <inttypes.h>
#include <signal.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include <padside/app/merge.h>
#include <padside/app/session.h>
#include <padside/app/settings.h>

#include "cli/book.h"

/* Set by Ctrl+C: the meeting stops after the batch that is running. */
static volatile sig_atomic_t is_stopped;

static void stop(int number)
{
	(void)number;
	is_stopped = 1;
}

/*
 * The first Ctrl+C stops between two batches; a second one ends the program, which loses nothing
 * either.
 */
static void watch_for_stop(void)
{
	struct sigaction action = { .sa_handler = stop, .sa_flags = (int)(SA_RESETHAND | SA_RESTART) };

	sigemptyset(&action.sa_mask);
	sigaction(SIGINT, &action, NULL);
	sigaction(SIGTERM, &action, NULL);
}

/* One line on a terminal, written over as the work goes on. */
struct steps {
	const char *what;       /* what is being done */
	struct timespec since;  /* when that began */
	bool shown;             /* something stands on the line */
};

static double seconds_since(const struct timespec *since)
{
	struct timespec now;

	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)(now.tv_sec - since->tv_sec) + 1e-9 * (double)(now.tv_nsec - since->tv_nsec);
}

static bool show_step(const char *what, int64_t done, int64_t all, void *context)
{
	struct steps *steps = context;

	if (steps->what != what) {
		steps->what = what;
		clock_gettime(CLOCK_MONOTONIC, &steps->since);
	}
	double gone = seconds_since(&steps->since);
	if (isatty(STDERR_FILENO)) {
		fprintf(stderr, "\r%s %" PRId64 " of %" PRId64 " changes", what, done, all);
		if (gone > 1 && done > 0 && all > done)
			fprintf(stderr, ", about %.0f s left", gone * (double)(all - done) / (double)done);
		fputs("\033[K", stderr);
		steps->shown = true;
	}
	return !is_stopped;
}

static void end_steps(const struct steps *steps)
{
	if (steps->shown)
		fputc('\n', stderr);
}

static void print_report(const struct sync_report *report)
{
	int customers = report->merge.customers, calls = report->merge.calls;

	printf("sent %" PRId64 " change%s, fetched %" PRId64 "; new here: %d customer%s, %d call%s\n",
	       report->sent, report->sent == 1 ? "" : "s", report->fetched, customers,
	       customers == 1 ? "" : "s", calls, calls == 1 ? "" : "s");
	if (report->took_new_id)
		puts("This book was put back from an older copy. Both histories were kept; it has "
		     "a new id from now on.");
}

/* The address from the words, else from the settings. */
static enum status find_address(struct store *store, int count, char **words, char *address,
                                size_t size, struct error *error)
{
	if (count == 1) {
		snprintf(address, size, "%s", words[0]);
		return STATUS_OK;
	}
	enum status status = setting_get(store, SETTING_SYNC, address, size, error);
	if (status == STATUS_OK && !*address)
		return error_set(error, STATUS_NOT_FOUND, "no office is named; give it as padside sync "
		                 "ADDRESS, or set it once with padside settings sync=ADDRESS");
	return status;
}

int command_sync(struct cli *cli, int count, char **words)
{
	const char *firm = NULL;
	const struct option_row rows[] = {
		{ "firm", "NAME", "the firm's schema; the database's name when not given", NULL, &firm },
		{ .name = NULL },
	};
	struct steps steps = { .what = NULL };
	struct sync_report report;
	struct store *store;
	struct error error;
	char address[SETTING_SIZE];

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count > 1)
		return command_misuse(cli, "sync takes one address, or none where the settings name it");
	if (book_open(cli, STORE_CREATE, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = find_address(store, count, words, address, sizeof address, &error);
	if (status == STATUS_OK) {
		watch_for_stop();
		status = merge_office(store, address, firm, show_step, &steps, &report, &error);
		end_steps(&steps);
	}
	store_close(store);
	if (status != STATUS_OK)
		return command_report(&error);
	print_report(&report);
	return EXIT_DONE;
}

static int init_office(const char *address, const char *firm)
{
	struct error error;
	int applied = 0;

	if (store_office_init(address, firm, &applied, &error) != STATUS_OK)
		return command_report(&error);
	if (applied == 0)
		puts("the office is up to date");
	else
		printf("%d migrations applied\n", applied);
	return EXIT_DONE;
}

/*
 * Notes calls as billed now, those that are not yet; the trucks see it when they meet the office.
 */
static int note_billed(struct cli *cli, int count, char **calls)
{
	struct session *session = NULL;
	struct store *store;
	struct error error;

	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = session_new(store, &clock_of_machine, cli->units, &session, &error);
	for (int i = 0; i < count && status == STATUS_OK; i++) {
		status = session_open(session, calls[i], &error);
		if (status != STATUS_OK)
			break;
		bool is_new = !*session_field(session, FIELD_BILLED_AT);
		if (is_new)
			status = session_type_field(session, FIELD_BILLED_AT, "now", &error);
		if (status == STATUS_OK)
			printf("%s billed %s\n", session_call(session)->uid.text,
			       session_field(session, FIELD_BILLED_AT));
	}
	session_free(session);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}

int command_office(struct cli *cli, int count, char **words)
{
	const char *firm = NULL;
	const struct option_row rows[] = {
		{ "firm", "NAME", "the firm's schema; the database's name when not given", NULL, &firm },
		{ .name = NULL },
	};

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count == 2 && strcmp(words[0], "init") == 0)
		return init_office(words[1], firm);
	if (count >= 2 && strcmp(words[0], "billed") == 0)
		return note_billed(cli, count - 1, words + 1);
	return command_misuse(cli,
	                      "office takes init and the address of the server, or billed and calls");
}
