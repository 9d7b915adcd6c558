/*
 * padside merge, backup and verify: whole books.
 */
#include "cli/commands.h"

#include <padside/app/merge.h>

#include "cli/book.h"

/* Takes the words of a command that has only its arguments; < 0: go on. */
static int take_words(struct cli *cli, const char *name, int wanted, int count, char **words)
{
	if (!command_parse(cli, NULL, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(command_find(name), NULL, stdout), EXIT_DONE;
	if (count != wanted)
		return command_misuse(cli, "%s takes %s", name,
		                      wanted ? "one file" : "no words");
	return -1;
}

int command_merge(struct cli *cli, int count, char **words)
{
	struct merge_report report;
	struct store *store;
	struct error error;
	int done = take_words(cli, "merge", 1, count, words);

	if (done >= 0)
		return done;
	if (book_open(cli, STORE_CREATE, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = merge_book(store, words[0], &report, &error);
	store_close(store);
	if (status != STATUS_OK)
		return command_report(&error);
	printf("new: %d customers, %d sites, %d systems, %d calls; brought in or changed: %d readings, "
	       "%d lines\n", report.customers, report.sites, report.systems, report.calls,
	       report.readings, report.lines);
	return EXIT_DONE;
}

int command_backup(struct cli *cli, int count, char **words)
{
	struct store *store;
	struct error error;
	int done = take_words(cli, "backup", 1, count, words);

	if (done >= 0)
		return done;
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = store_backup(store, words[0], &error);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}

static bool print_sentence(const char *sentence, void *context)
{
	int *wrong = context;

	++*wrong;
	puts(sentence);
	return true;
}

int command_verify(struct cli *cli, int count, char **words)
{
	struct store *store;
	struct error error;
	int wrong = 0;
	int done = take_words(cli, "verify", 0, count, words);

	if (done >= 0)
		return done;
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = store_verify(store, print_sentence, &wrong, &error);
	store_close(store);
	if (status != STATUS_OK)
		return command_report(&error);
	if (wrong == 0)
		puts("the book is sound");
	return wrong == 0 ? EXIT_DONE : EXIT_FAILED;
}
