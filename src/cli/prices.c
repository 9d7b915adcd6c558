/*
 * padside prices: the price list, in from CSV and out as the same CSV.
 */
#include "cli/commands.h"

#include <stdlib.h>

#include <padside/base/csv.h>
#include <padside/model/money.h>
#include <padside/app/prices.h>

#include "cli/book.h"

static void add_item(struct text *text, const struct price_item *item)
{
	char price[MONEY_SIZE];
	bool first = true;

	money_format_plain(item->unit_price, price, sizeof price);
	csv_add_field(text, work_kind_key(item->kind), &first);
	csv_add_field(text, item->code, &first);
	csv_add_field(text, item->description, &first);
	csv_add_field(text, price, &first);
	csv_end_record(text);
}

static enum status print_list(struct store *store, const char *find, struct error *error)
{
	struct price_item *items;
	size_t count;
	struct text text;

	text_init(&text);
	text_add(&text, "kind,code,description,unit_price\r\n");
	enum status status = store_prices_find(store, find ? find : "", 0, &items, &count, error);
	for (size_t i = 0; i < count; i++)
		add_item(&text, &items[i]);
	free(items);
	if (status == STATUS_OK)
		fwrite(text_get(&text), 1, text.length, stdout);
	text_done(&text);
	return status;
}

static enum status import(struct store *store, const char *path, struct error *error)
{
	size_t count;
	enum status status = prices_import(store, path, &count, error);

	if (status == STATUS_OK)
		printf("%zu prices\n", count);
	return status;
}

int command_prices(struct cli *cli, int count, char **words)
{
	const char *find = NULL;
	const struct option_row rows[] = {
		{ "find", "TEXT", "only those with every word of it in code or description", NULL, &find },
		{ .name = NULL },
	};
	struct store *store;
	struct error error;

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count > 1 || (count == 1 && find))
		return command_misuse(cli, "prices takes one file, or none to print the list");
	if (book_open(cli, count ? STORE_CREATE : STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = count ? import(store, words[0], &error) :
	                             print_list(store, find, &error);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
