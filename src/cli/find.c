/*
 * padside find: customers of the book; and of the office, where the settings
 * name one, those that the book does not carry.
 */
#include "cli/commands.h"

#include <stdlib.h>
#include <string.h>

#include <padside/app/merge.h>
#include <padside/app/settings.h>
#include <padside/base/glyph.h>

#include "cli/book.h"

enum { MOST_FOUND = 50 };

/* What is printed, and what was found so far. */
struct found_lines {
	struct text line;    /* used again */
	int here, there;     /* customers of the book; of the office only */
	struct uid only;     /* the last of the office's */
};

/* Names and addresses are anybody's words: shown so that they cannot steer a terminal. */
static void print_customer(struct found_lines *finding, const struct uid *uid, const char *name,
                           const char *phone, const char *address, const char *end)
{
	const char *const words[] = { name, phone, address };

	text_clear(&finding->line);
	text_add(&finding->line, uid->text);
	for (int i = 0; i < 3; i++)
		if (*words[i]) {
			text_add(&finding->line, i ? ", " : "  ");
			glyph_add_string(&finding->line, words[i], false);
		}
	text_add(&finding->line, end);
	puts(text_get(&finding->line));
}

static enum status look_here(struct store *store, const char *text, struct found_lines *finding,
                             struct error *error)
{
	struct store_listing listing;
	struct customer_line line;

	store_customers_open(store, text, MOST_FOUND, &listing);
	while (store_customers_next(&listing, &line)) {
		finding->here++;
		print_customer(finding, &line.customer.uid, line.customer.name, line.customer.phone,
		               line.address, "");
	}
	return store_listing_close(&listing, error);
}

static void print_there(struct found_lines *finding, const struct office_customer *customer)
{
	if (customer->is_here)
		return;
	finding->there++;
	finding->only = customer->uid;
	print_customer(finding, &customer->uid, customer->name, customer->phone, customer->address,
	               "  (at the office)");
}

/* What the book has stands already: an office that does not answer is said, and is no failure. */
static void ask_office(struct store *store, const char *address, const char *firm,
                       const char *text, struct found_lines *finding)
{
	struct office_customer *customers;
	size_t count;
	struct error error;

	fflush(stdout);
	if (store_sync_find(store, address, firm, text, MOST_FOUND, &customers, &count, &error) !=
	    STATUS_OK)
		fprintf(stderr, "padside: the office was not asked: %s\n", error.text);
	for (size_t i = 0; i < count; i++)
		print_there(finding, &customers[i]);
	free(customers);
	if (finding->there > 0)
		printf("padside find --fetch ID brings one of the office's into this book, e.g. %s\n",
		       finding->only.text);
}

static enum status fetch(struct store *store, const char *address, const char *firm,
                         const char *typed, struct error *error)
{
	struct sync_report report;
	struct uid customer;

	if (!uid_is_valid(typed))
		return error_set(error, STATUS_BAD_INPUT,
		                 "--fetch takes the whole id of a customer, not \"%.60s\"; "
		                 "padside find TEXT shows it", typed);
	snprintf(customer.text, sizeof customer.text, "%s", typed);
	enum status status = merge_fetch(store, address, firm, &customer, &report, error);
	if (status == STATUS_OK)
		printf("fetched %d customer%s, %d call%s\n", report.merge.customers,
		       report.merge.customers == 1 ? "" : "s", report.merge.calls,
		       report.merge.calls == 1 ? "" : "s");
	return status;
}

static enum status find(struct store *store, const char *firm, const char *text,
                        const char *fetched, struct error *error)
{
	struct found_lines finding = { .here = 0 };
	char address[SETTING_SIZE];
	enum status status = setting_get(store, SETTING_SYNC, address, sizeof address, error);

	if (status != STATUS_OK)
		return status;
	if (fetched)
		return *address ? fetch(store, address, firm, fetched, error)
			: error_set(error, STATUS_NOT_FOUND, "no office is named; set it once with padside "
			            "settings sync=ADDRESS");
	text_init(&finding.line);
	status = look_here(store, text, &finding, error);
	if (status == STATUS_OK && *address)
		ask_office(store, address, firm, text, &finding);
	if (status == STATUS_OK && finding.here + finding.there == 0)
		printf("Nobody matches \"%s\".\n", text);
	text_done(&finding.line);
	return status;
}

int command_find_customers(struct cli *cli, int count, char **words)
{
	const char *firm = NULL, *fetched = NULL;
	const struct option_row rows[] = {
		{ "fetch", "ID", "bring a customer of the office into this book, with all their calls",
		  NULL, &fetched },
		{ "firm", "NAME", "the firm's schema; the database's name when not given", NULL, &firm },
		{ .name = NULL },
	};
	struct store *store;
	struct error error;

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count != (fetched ? 0 : 1))
		return command_misuse(cli, "find takes one text, or --fetch and an id");
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = find(store, firm, fetched ? "" : words[0], fetched, &error);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
