/*
 * padside record: calls in JSON into the book, all or nothing.
 */
#include "cli/commands.h"

#include <stdlib.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/app/summary_line.h>
#include <padside/base/text.h>

#include "cli/book.h"
#include "cli/input.h"

/* Reads and stores one call; appends its id to `ids`. */
static enum status record_one(struct store *store, struct json_reader *reader,
                              const struct text *document, struct call *call, struct text *ids,
                              struct error *error)
{
	enum status status = call_json_read(reader, text_get(document), document->length,
	                                        CALL_JSON_RECORD, call, error);

	if (status == STATUS_OK)
		status = store_call_record(store, call, error);
	if (status == STATUS_OK)
		status = summary_line_keep(store, call, error);
	if (status == STATUS_OK)
		text_add_format(ids, "%s\n", call->uid.text);
	return status;
}

/* What all sentences end with, for those that do not say it already. */
static const char *nothing_stored(const struct error *why)
{
	return strstr(why->text, "nothing was stored") ? "" : "; nothing was stored";
}

/* Every document of the input; an error says which one it was. */
static enum status record_all(struct store *store, struct json_reader *reader,
                              struct input *input, struct text *ids, struct error *error)
{
	struct text document;
	struct call call;
	struct error why;
	int number = 0;
	enum status status;

	text_init(&document);
	call_init(&call);
	while ((status = input_next(input, &document, &why)) == STATUS_OK) {
		number++;
		status = record_one(store, reader, &document, &call, ids, &why);
		if (status != STATUS_OK)
			break;
	}
	call_done(&call);
	text_done(&document);
	if (status == STATUS_NOT_FOUND && number == 0)
		return error_set(error, STATUS_BAD_INPUT, "there is no call in it; nothing was stored");
	if (status == STATUS_NOT_FOUND)
		return STATUS_OK;
	if (number > 1)
		return error_set(error, status, "call %d: %s%s", number, why.text, nothing_stored(&why));
	return error_set(error, status, "%s%s", why.text, nothing_stored(&why));
}

static enum status record_into(struct store *store, const char *path, struct text *ids,
                               struct error *error)
{
	struct input input;
	struct json_reader *reader = json_reader_new();
	enum status status = !reader
		? error_set(error, STATUS_NO_MEMORY, "there is no memory left; close other programs")
		: input_open(&input, path, error);

	if (status == STATUS_OK) {
		status = store_begin(store, error);
		if (status == STATUS_OK)
			status = store_end(store, record_all(store, reader, &input, ids, error), error);
		input_close(&input);
	}
	json_reader_free(reader);
	return status;
}

static int print_schema(void)
{
	struct text text;

	text_init(&text);
	call_json_write_schema(&text);
	fputs(text_get(&text), stdout);
	text_done(&text);
	return EXIT_DONE;
}

int command_record(struct cli *cli, int count, char **words)
{
	bool schema = false;
	const struct option_row rows[] = {
		{ "schema", NULL, "print the JSON Schema of a call; nothing is stored", &schema, NULL },
		{ .name = NULL },
	};
	struct store *store;
	struct text ids;
	struct error error;

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (schema)
		return print_schema();
	if (count != 1)
		return command_misuse(cli, "record takes one file, or - for standard input");
	if (book_open(cli, STORE_CREATE, &store, &error) != STATUS_OK)
		return command_report(&error);
	text_init(&ids);
	enum status status = record_into(store, words[0], &ids, &error);
	store_close(store);
	if (status == STATUS_OK)
		fputs(text_get(&ids), stdout);
	text_done(&ids);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
