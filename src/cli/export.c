/*
 * padside show and padside export: one call as a report or as data, or the
 * calls of a period as rows.
 */
#include "cli/commands.h"

#include <string.h>

#include <padside/app/papers.h>
#include <padside/app/tables.h>

#include "cli/book.h"

/* A byte-order mark, by which some spreadsheets know UTF-8. */
static const char byte_order_mark[] = "\xef\xbb\xbf";

/* What is exported, and where to. */
struct export_order {
	const char *call;           /* its id or the beginning of it; NULL: a period */
	wall_time since, until;     /* of the period; WALL_TIME_NONE: without end */
	bool is_table;              /* rows, not a report */
	enum table table;           /* which rows */
	struct paper_choice choice; /* of the report */
	const char *path;           /* NULL or "-": standard output */
	bool force;                 /* replace the file there */
	bool mark;                  /* begin with a byte-order mark */
};

static enum status write_call(struct store *store, const struct export_order *order,
                              struct text *out, struct error *error)
{
	struct call call;

	call_init(&call);
	enum status status = store_call_load(store, order->call, &call, error);
	if (status == STATUS_OK && order->is_table) {
		struct table_look look = { .units = order->choice.units };
		char currency[16];
		status = papers_currency_code(store, currency, sizeof currency, error);
		look.currency = currency;
		table_add_head(order->table, out);
		if (status == STATUS_OK)
			status = table_add_call(order->table, &call, &look, out, error);
	} else if (status == STATUS_OK) {
		status = papers_write(store, &call, &order->choice, out, error);
	}
	call_done(&call);
	return status;
}

static enum status write_period(struct store *store, const struct export_order *order,
                                struct text *out, struct error *error)
{
	struct table_look look = { .units = order->choice.units };
	char currency[16];
	enum status status = papers_currency_code(store, currency, sizeof currency, error);

	look.currency = currency;
	return status != STATUS_OK ? status
		: table_add_period(order->table, store, order->since, order->until, &look, out, error);
}

static enum status write_order(struct cli *cli, const struct export_order *order, struct text *out,
                               struct error *error)
{
	struct store *store;
	enum status status = book_open(cli, STORE_EXISTING, &store, error);

	if (status != STATUS_OK)
		return status;
	if (order->mark)
		text_add(out, byte_order_mark);
	status = order->call ? write_call(store, order, out, error)
	                     : write_period(store, order, out, error);
	store_close(store);
	return status;
}

static enum status save(const char *path, const struct text *paper, bool force,
                        struct error *error)
{
	struct error why;
	enum status status = papers_save(path, paper, force, &why);

	if (status == STATUS_EXISTS)
		return error_set(error, status, "%s; give another name, or --force to replace it",
		                 why.text);
	if (status != STATUS_OK)
		*error = why;
	return status;
}

/*
 * A customer who is told to call must find a number: the one who exports is told that there is
 * none.
 */
static void note_phone(struct cli *cli, const struct export_order *order)
{
	struct store *store;
	struct error error;
	bool has_phone = true;

	if (order->is_table || order->choice.format == PAPER_JSON ||
	    order->choice.reader != PAPER_CUSTOMER)
		return;
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return;
	if (papers_has_phone(store, &has_phone, &error) == STATUS_OK && !has_phone)
		fputs("note: the company setting has no phone number, so the report does "
		      "not say whom to call\n",
		      stderr);
	store_close(store);
}

/* Whether it is printed, and not saved in a file. */
static bool is_printed(const struct export_order *order)
{
	return !order->path || strcmp(order->path, "-") == 0;
}

/* Prints what was ordered, or saves it where a file was named. */
static int deliver(struct cli *cli, struct export_order *order)
{
	struct text out;
	struct error error;

	/* A terminal may have ASCII only; a file is read elsewhere. */
	if (is_printed(order) && order->choice.format == PAPER_TEXT && command_is_plain())
		order->choice.plain = true;
	text_init(&out);
	enum status status = write_order(cli, order, &out, &error);
	if (status == STATUS_OK && !is_printed(order))
		status = save(order->path, &out, order->force, &error);
	else if (status == STATUS_OK)
		fwrite(text_get(&out), 1, out.length, stdout);
	text_done(&out);
	if (status != STATUS_OK)
		return command_report(&error);
	note_phone(cli, order);
	return EXIT_DONE;
}

int command_show(struct cli *cli, int count, char **words)
{
	struct export_order order = { .choice = { .format = PAPER_TEXT, .reader = PAPER_OFFICE } };

	if (!command_parse(cli, NULL, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, NULL, stdout), EXIT_DONE;
	if (count != 1)
		return command_misuse(cli, "show takes one call: its id, or the beginning of it");
	order.call = words[0];
	order.choice.units = cli->units;
	return deliver(cli, &order);
}

/* What was typed behind the options of export; NULL: not given. */
struct typed {
	const char *format, *reader, *table, *since, *until;
};

/* A day of a period; as its end a bare date is the whole day. */
static bool read_day(const char *typed, bool is_end, wall_time *time)
{
	enum { DATE_LENGTH = 10, DAY = 24 * 60 * 60 };

	if (!clock_parse(typed, time))
		return false;
	if (is_end && strlen(typed) == DATE_LENGTH)
		*time += DAY - 1;
	return true;
}

/*
 * Fills in one of the words that are chosen from a list; false, having said why, when it is none.
 */
static bool read_words(struct cli *cli, const struct typed *typed, struct export_order *order)
{
	const char *format = typed->format ? typed->format : order->is_table ? "csv" : "text";

	if (typed->table && strcmp(typed->table, "report") != 0 &&
	    !table_from_key(typed->table, &order->table))
		return command_misuse(cli, "--table takes report, readings or lines, not \"%s\"",
		                      typed->table), false;
	if (!paper_format_from_key(format, &order->choice.format))
		return command_misuse(cli,
		                      "--format takes text, markdown, html, csv, pdf or json, not \"%s\"",
		                      format),
		       false;
	if (typed->reader && !paper_reader_from_key(typed->reader, &order->choice.reader))
		return command_misuse(cli, "--for takes customer or office, not \"%s\"", typed->reader),
		       false;
	if (typed->since && !read_day(typed->since, false, &order->since))
		return command_misuse(cli, "--since takes a date such as 2026-06-03, not \"%s\"",
		                      typed->since), false;
	if (typed->until && !read_day(typed->until, true, &order->until))
		return command_misuse(cli, "--until takes a date such as 2026-06-30, not \"%s\"",
		                      typed->until), false;
	return true;
}

/* What fits together; false, having said why. */
static bool check_order(struct cli *cli, const struct typed *typed,
                        const struct export_order *order)
{
	bool is_period = typed->since || typed->until;

	if (order->call ? is_period : !is_period)
		return command_misuse(cli,
		                      "export takes one call (its id, or the beginning of it) or a period "
		                      "(--since, --until)"),
		       false;
	if (is_period && !order->is_table)
		return command_misuse(cli, "a period is exported as --table lines or --table readings"),
		       false;
	if (order->is_table && order->choice.format != PAPER_CSV)
		return command_misuse(cli,
		                      "--table readings and --table lines are written as --format csv"),
		       false;
	if (order->mark && order->choice.format != PAPER_CSV)
		return command_misuse(cli, "--bom is for --format csv"), false;
	return true;
}

/* Fills in an order from what was typed; false, having said why, when that is not possible. */
static bool take_order(struct cli *cli, const struct typed *typed, struct export_order *order)
{
	bool is_report = typed->table ? strcmp(typed->table, "report") == 0 : order->call != NULL;

	order->is_table = !is_report;
	order->table = TABLE_LINES;
	if (!read_words(cli, typed, order) || !check_order(cli, typed, order))
		return false;
	order->choice.units = cli->units;
	order->choice.on_sheets = order->choice.format == PAPER_TEXT;
	/* Data is whole unless it was said that it is for the customer. */
	if (order->choice.format == PAPER_JSON && !typed->reader)
		order->choice.reader = PAPER_OFFICE;
	return true;
}

int command_export(struct cli *cli, int count, char **words)
{
	struct export_order order = { .since = WALL_TIME_NONE, .until = WALL_TIME_NONE };
	struct typed typed = { .format = NULL };
	const struct option_row rows[] = {
		{ "format", "text|markdown|html|csv|pdf|json", "how it is written", NULL, &typed.format },
		{ "for", "customer|office", "plain words (the default), or everything; json has everything "
		                            "unless it is for the customer", NULL, &typed.reader },
		{ "table", "report|readings|lines",
		  "csv of the report (as it stands), of readings (one a row) or of lines (of the "
		  "bill, for accounting)", NULL, &typed.table },
		{ "since", "DATE", "instead of CALL: every call from that day on, as a table", NULL,
		  &typed.since },
		{ "until", "DATE", "up to and with that day", NULL, &typed.until },
		{ "bom", NULL, "begin csv with a byte-order mark", &order.mark, NULL },
		{ "output", "FILE", "the file to write; - or none: standard output", NULL, &order.path },
		{ "force", NULL, "replace the file if it is there", &order.force, NULL },
		{ "plain", NULL, "ASCII only where the format can", &order.choice.plain, NULL },
		{ .name = NULL },
	};

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count > 1)
		return command_misuse(cli, "export takes one call: its id, or the beginning of it");
	order.call = count == 1 ? words[0] : NULL;
	return take_order(cli, &typed, &order) ? deliver(cli, &order) : EXIT_USAGE;
}
