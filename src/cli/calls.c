/*
 * padside calls: the calls of the book, newest first.
 */
#include "cli/commands.h"

#include <padside/base/glyph.h>
#include <padside/base/json_text.h>
#include <padside/base/text.h>
#include <padside/model/money.h>

#include "cli/book.h"

static void add_member(struct text *text, const char *name, const char *value, bool *first)
{
	json_add_name(text, name, first);
	json_add_string(text, value);
}

/* What the call comes to, worked out from its lines. */
static enum status add_total(struct store *store, const struct uid *uid, struct text *line,
                             bool *first, struct error *error)
{
	struct money_total total;
	struct call call;

	call_init(&call);
	enum status status = store_call_load_bill(store, uid, &call, error);
	if (status == STATUS_OK && money_total(&call, &total) == STATUS_OK) {
		char amount[MONEY_SIZE];
		money_format_plain(total.total, amount, sizeof amount);
		json_add_name(line, "total", first);
		text_add(line, amount);
	}
	call_done(&call);
	return status;
}

static enum status print_json(struct store *store, struct text *line,
                              const struct call_line *call, struct error *error)
{
	char time[CLOCK_TEXT_SIZE];
	bool first = true;

	text_add_char(line, '{');
	add_member(line, "id", call->uid.text, &first);
	clock_format(call->opened_at, time, sizeof time);
	add_member(line, "opened_at", time, &first);
	json_add_name(line, "open", &first);
	text_add(line, call->closed_at == WALL_TIME_NONE ? "true" : "false");
	add_member(line, "customer", call->customer, &first);
	add_member(line, "address", call->address, &first);
	add_member(line, "system", call->system, &first);
	add_member(line, "system_id", call->system_uid.text, &first);
	add_member(line, "complaint", call->complaint, &first);
	add_member(line, "found", call->found_line, &first);
	add_member(line, "done", call->done_line, &first);
	enum status status = add_total(store, &call->uid, line, &first, error);
	text_add_char(line, '}');
	if (status == STATUS_OK)
		puts(text_get(line));
	return status;
}

/* Names and complaints are anybody's words: shown so that they cannot steer a terminal. */
static void print_text(struct text *line, const struct call_line *call)
{
	char date[CLOCK_TEXT_SIZE], hour[CLOCK_TEXT_SIZE];

	clock_format_date(call->opened_at, date, sizeof date);
	clock_format_hour(call->opened_at, hour, sizeof hour);
	text_add_format(line, "%s  %s %s  %s", call->uid.text, date, hour,
	                call->closed_at == WALL_TIME_NONE ? "(open) " : "");
	glyph_add_string(line, call->customer, false);
	text_add(line, *call->address ? ", " : "");
	glyph_add_string(line, call->address, false);
	if (*call->found_line || *call->complaint) {
		text_add(line, *call->found_line ? "\n    found: " : "\n    complaint: ");
		glyph_add_string(line, *call->found_line ? call->found_line : call->complaint, false);
	}
	puts(text_get(line));
}

static enum status print_calls(struct store *store, const struct call_filter *filter, bool json,
                               struct error *error)
{
	struct store_listing listing;
	struct call_line call;
	struct text line;
	struct error ignored;
	enum status status = STATUS_OK;

	text_init(&line);
	store_calls_open(store, filter, &listing);
	while (status == STATUS_OK && store_calls_next(&listing, &call)) {
		text_clear(&line);
		if (json)
			status = print_json(store, &line, &call, error);
		else
			print_text(&line, &call);
	}
	enum status closed = store_listing_close(&listing, status == STATUS_OK ? error : &ignored);
	text_done(&line);
	return status == STATUS_OK ? closed : status;
}

int command_calls(struct cli *cli, int count, char **words)
{
	struct output_choice choice = { .word = NULL };
	enum output output;
	struct call_filter filter = { .since = WALL_TIME_NONE };
	const char *since = NULL;
	const struct option_row rows[] = {
		{ "customer", "TEXT", "any part of name, phone, address, serial", NULL, &filter.text },
		{ "since", "DATE", "opened on that day (2026-06-03) or later", NULL, &since },
		{ "open", NULL, "only calls that are not closed", &filter.open_only, NULL },
		{ "format", "text|json", "text, or one JSON object a line", NULL, &choice.word },
		{ "json", NULL, "the same as --format json", &choice.json, NULL },
		{ .name = NULL },
	};
	struct store *store;
	struct error error;

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count != 0)
		return command_misuse(cli, "calls takes options only");
	if (!command_output(cli, &choice, "text|json", &output))
		return EXIT_USAGE;
	if (since && !clock_parse(since, &filter.since))
		return command_misuse(cli, "--since takes a date such as 2026-06-03, not \"%s\"", since);
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = print_calls(store, &filter, output == OUTPUT_JSON, &error);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
