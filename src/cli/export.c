/*
 * padside show and padside export: one call as a report or as data.
 */
#include "cli/commands.h"

#include <string.h>

#include <padside/app/papers.h>

#include "cli/book.h"

/* Loads the call and appends its paper. */
static enum status write_call(struct cli *cli, const char *uid, const struct paper_choice *choice,
                              struct text *out, struct error *error)
{
	struct store *store;
	struct call call;
	enum status status = book_open(cli, STORE_EXISTING, &store, error);

	if (status != STATUS_OK)
		return status;
	call_init(&call);
	status = store_call_load(store, uid, &call, error);
	if (status == STATUS_OK)
		status = papers_write(store, &call, choice, out, error);
	call_done(&call);
	store_close(store);
	return status;
}

static enum status save(const char *path, const struct text *paper, bool force,
                        struct error *error)
{
	struct error why;
	enum status status = papers_save(path, paper, force, &why);

	if (status == STATUS_EXISTS)
		return error_set(error, status, "%s; give another name, or --force to replace it", why.text);
	if (status != STATUS_OK)
		*error = why;
	return status;
}

/* Prints the paper, or saves it where a file was named. */
static int deliver(struct cli *cli, const char *uid, const struct paper_choice *choice,
                   const char *path, bool force)
{
	struct text paper;
	struct error error;

	text_init(&paper);
	enum status status = write_call(cli, uid, choice, &paper, &error);
	if (status == STATUS_OK && path && strcmp(path, "-") != 0)
		status = save(path, &paper, force, &error);
	else if (status == STATUS_OK)
		fwrite(text_get(&paper), 1, paper.length, stdout);
	text_done(&paper);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}

int command_show(struct cli *cli, int count, char **words)
{
	struct paper_choice choice = { .format = PAPER_TEXT, .reader = PAPER_OFFICE };

	if (!command_parse(cli, NULL, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(command_find("show"), NULL, stdout), EXIT_DONE;
	if (count != 1)
		return command_misuse(cli, "show takes one call: its id, or the beginning of it");
	choice.units = cli->units;
	return deliver(cli, words[0], &choice, NULL, false);
}

int command_export(struct cli *cli, int count, char **words)
{
	struct paper_choice choice = { .format = PAPER_TEXT };
	const char *format = "text", *reader = NULL, *path = NULL;
	bool force = false;
	const struct option_row rows[] = {
		{ "format", "FORMAT", "text, markdown, html, csv or json", NULL, &format },
		{ "for", "READER", "customer (plain words) or office (everything); customer when not said, but json has "
		  "everything then", NULL, &reader },
		{ "output", "FILE", "where to; - or nothing: standard output", NULL, &path },
		{ "force", NULL, "replace the file if it is there", &force, NULL },
		{ "plain", NULL, "ASCII only where the format can", &choice.plain, NULL },
		{ .name = NULL },
	};

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(command_find("export"), rows, stdout), EXIT_DONE;
	if (count != 1)
		return command_misuse(cli, "export takes one call: its id, or the beginning of it");
	if (!paper_format_from_key(format, &choice.format))
		return command_misuse(cli, "--format takes text, markdown, html, csv or json, not \"%s\"",
		                    format);
	if (reader && !paper_reader_from_key(reader, &choice.reader))
		return command_misuse(cli, "--for takes customer or office, not \"%s\"", reader);
	choice.units = cli->units;
	choice.on_sheets = choice.format == PAPER_TEXT;
	/* Data is whole unless it was said that it is for the customer. */
	if (choice.format == PAPER_JSON && !reader)
		choice.reader = PAPER_OFFICE;
	return deliver(cli, words[0], &choice, path, force);
}
