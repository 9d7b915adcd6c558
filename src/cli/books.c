/*
 * padside merge, backup and verify: whole books.
 */
#include "cli/commands.h"

#include <stdlib.h>

#include <padside/app/merge.h>
#include <padside/app/trail_words.h>
#include <padside/tui/tui.h>

#include "cli/book.h"

/* Takes the words of a command that has only its arguments; < 0: go on. */
static int take_words(struct cli *cli, const char *name, int wanted, int count, char **words)
{
	if (!command_parse(cli, NULL, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, NULL, stdout), EXIT_DONE;
	if (count != wanted)
		return command_misuse(cli, "%s takes %s", name,
		                      wanted ? "one file" : "no words");
	return -1;
}

/* "question: Mara Quill, suction pressure as found: 118 psig (Ada, …) counts, 112 psig (Bo, …)". */
static void print_question(struct cli *cli, struct store *store,
                           const struct store_question *question)
{
	char label[TRAIL_LABEL_SIZE], value[NOTE_SIZE], at[CLOCK_TEXT_SIZE];
	const struct store_value *values[] = { &question->now, &question->other };
	struct error ignored;
	struct call call;

	call_init(&call);
	if (!uid_is_none(&question->call) &&
	    store_call_load(store, question->call.text, &call, &ignored) == STATUS_OK)
		printf("question: %s, call %.13s: ", call.customer.name, call.uid.text);
	else
		printf("question: ");
	call_done(&call);
	trail_words_field(question->what, question->field, label, sizeof label);
	printf("%s:", label);
	for (int i = 0; i < 2 && !question->is_removal; i++) {
		trail_words_value(question->what, question->field, values[i]->text, cli->units, value,
		                  sizeof value);
		clock_format(values[i]->at, at, sizeof at);
		printf(" %s (%s%s%.16s) %s", value, values[i]->by, *values[i]->by ? ", " : "", at,
		       i == 0 ? "counts, not" : "");
	}
	puts(question->is_removal ? question->is_out ? " it is out" : " it stays" : "");
}

/* What is open in the whole book, this merge's and earlier ones'. */
static enum status print_questions(struct cli *cli, struct store *store, struct error *error)
{
	struct store_question *questions;
	size_t count;
	enum status status = store_questions(store, NULL, &questions, &count, error);

	for (size_t i = 0; i < count && status == STATUS_OK; i++)
		print_question(cli, store, &questions[i]);
	if (count > 0)
		printf("%zu question%s: open the call in the workbook, %s, and choose\n", count,
		       count == 1 ? "" : "s", tui_questions_key());
	free(questions);
	return status;
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
	if (status != STATUS_OK) {
		store_close(store);
		return command_report(&error);
	}
	printf("new: %d customers, %d sites, %d systems, %d calls; brought in or changed: %d readings, "
	       "%d lines\n", report.customers, report.sites, report.systems, report.calls,
	       report.readings, report.lines);
	status = print_questions(cli, store, &error);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
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

int command_verify(struct cli *cli, int count, char **words)
{
	enum { MOST_FLAWS = 1000 };
	struct store *store;
	struct store_flaw *flaws;
	size_t flaw_count;
	struct error error;
	int done = take_words(cli, "verify", 0, count, words);

	if (done >= 0)
		return done;
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = store_verify(store, MOST_FLAWS, &flaws, &flaw_count, &error);
	store_close(store);
	if (status != STATUS_OK)
		return command_report(&error);
	for (size_t i = 0; i < flaw_count; i++)
		puts(flaws[i].sentence);
	if (flaw_count == MOST_FLAWS)
		printf("These are the first %d; the check stopped there\n", MOST_FLAWS);
	free(flaws);
	if (flaw_count == 0)
		puts("the book is sound");
	return flaw_count == 0 ? EXIT_DONE : EXIT_FAILED;
}
