/*
 * padside history: a customer's visits and units, what drifts, what
 * changed between two visits.
 */
#include "cli/commands.h"

#include <string.h>

#include <padside/app/history.h>

#include "cli/book.h"
#include "cli/history_pages.h"

/* What is asked for. */
struct history_order {
	const char *customer;    /* part of a name, phone or address */
	const char *system;      /* id of a unit */
	const char *compare;     /* id of a call */
	const char *with;        /* id of a second call */
	bool json;               /* objects instead of pages */
	struct page_style style; /* of the pages */
};

/* A listing of customers while it prints them. */
struct printing {
	const struct history_order *request; /* what is asked for */
	struct store *store;           /* the book */
	struct text *text;             /* what is printed */
	size_t count;                  /* customers printed */
	struct error *error;           /* why it failed */
};

/* Which series are loaded; `least` where not all are asked for. */
static enum history_extent extent_of(const struct history_order *request, enum history_extent least)
{
	return request->json || request->style.wants_all ? HISTORY_EVERYTHING : least;
}

static void add_head(const struct printing *printing, const struct customer_page *page)
{
	if (printing->request->json) {
		page_json_customer(page, printing->text);
		return;
	}
	text_add(printing->text, printing->count > 0 ? "\n\n" : "");
	page_add_customer(&printing->request->style, page, printing->text);
}

/* One unit at a time is in memory: a customer may have hundreds. */
static enum status add_machine(const struct printing *printing, const struct system_line *system,
                               bool is_first)
{
	const struct page_style *style = &printing->request->style;
	struct history history;

	history_init(&history);
	enum status status = history_load_of(printing->store, system,
	                                     extent_of(printing->request, HISTORY_SERIES), style->units,
	                                     style->now, &history, printing->error);
	if (status == STATUS_OK && printing->request->json) {
		page_json_machine(&history, is_first, printing->text);
	} else if (status == STATUS_OK) {
		text_add_char(printing->text, '\n');
		page_add_system(style, &history, false, printing->text);
	}
	history_done(&history);
	return status;
}

static enum status add_customer(const struct printing *printing, const struct customer *customer)
{
	struct customer_page page;

	customer_page_init(&page);
	enum status status = customer_page_load(printing->store, customer, &page, printing->error);
	if (status == STATUS_OK)
		add_head(printing, &page);
	for (size_t i = 0; i < page.system_count && status == STATUS_OK; i++)
		status = add_machine(printing, &page.systems[i], i == 0);
	if (printing->request->json)
		page_json_customer_end(printing->text);
	customer_page_done(&page);
	return status;
}

static enum status print_customer(struct printing *printing, const struct customer *customer)
{
	text_clear(printing->text);
	enum status status = add_customer(printing, customer);
	if (status == STATUS_OK)
		fwrite(text_get(printing->text), 1, printing->text->length, stdout);
	printing->count++;
	return status;
}

static enum status run_customers(const struct history_order *request, struct store *store,
                                 struct text *text, struct error *error)
{
	struct printing printing = { .request = request, .store = store, .text = text,
		.error = error };
	struct store_listing listing;
	struct customer_line line;
	struct error ignored;
	enum status status = STATUS_OK;

	store_customers_open(store, request->customer, 0, &listing);
	while (status == STATUS_OK && store_customers_next(&listing, &line))
		status = print_customer(&printing, &line.customer);
	enum status closed = store_listing_close(&listing, status == STATUS_OK ? error : &ignored);
	status = status == STATUS_OK ? closed : status;
	text_clear(text);
	if (status == STATUS_OK && printing.count == 0)
		return error_set(error, STATUS_NOT_FOUND, "no customer has \"%s\" in name, phone, address "
		                 "or serial; type less of it", request->customer);
	return status;
}

static enum status run_system(const struct history_order *request, struct store *store,
                              struct text *text, struct error *error)
{
	struct history history;
	struct uid uid;

	text_copy(uid.text, sizeof uid.text, request->system);
	history_init(&history);
	enum status status = history_load(store, &uid, extent_of(request, HISTORY_FOLLOWED),
	                                  request->style.units, request->style.now, &history, error);
	if (status == STATUS_OK && request->json)
		page_json_system(&history, text);
	else if (status == STATUS_OK)
		page_add_system(&request->style, &history, true, text);
	history_done(&history);
	return status;
}

static enum status run_compare(const struct history_order *request, struct store *store,
                               struct text *text, struct error *error)
{
	static struct history_change changes[HISTORY_MOST_CHANGES];
	struct call first, second;
	struct compared compared = { .before = &first, .after = request->with ? &second : &first,
		.after_stage = request->with ? STAGE_AS_FOUND : STAGE_AS_LEFT, .changes = changes };

	call_init(&first);
	call_init(&second);
	enum status status = store_call_load(store, request->compare, &first, error);
	if (status == STATUS_OK && request->with)
		status = store_call_load(store, request->with, &second, error);
	if (status == STATUS_OK) {
		compared.count = history_compare(&first.visit, compared.before_stage,
		                                 &compared.after->visit, compared.after_stage, changes);
		if (request->json)
			page_json_changes(&compared, text);
		else
			page_add_changes(&request->style, &compared, text);
	}
	call_done(&first);
	call_done(&second);
	return status;
}

static bool is_request_whole(const struct history_order *request)
{
	int asked = (request->customer != NULL) + (request->system != NULL) +
	            (request->compare != NULL);

	return asked == 1 && (!request->customer || *request->customer) &&
	       (!request->with || request->compare);
}

static enum status run(const struct history_order *request, struct store *store,
                       struct error *error)
{
	struct text text;

	text_init(&text);
	enum status status = request->customer ? run_customers(request, store, &text, error) :
	                     request->system ? run_system(request, store, &text, error) :
	                                       run_compare(request, store, &text, error);
	if (status == STATUS_OK)
		fwrite(text_get(&text), 1, text.length, stdout);
	text_done(&text);
	return status;
}

int command_history(struct cli *cli, int count, char **words)
{
	struct history_order request = { .json = false };
	struct output_choice choice = { .word = NULL };
	enum output output;
	const struct option_row rows[] = {
		{ "customer", "TEXT", "any part of name, phone, address, serial", NULL, &request.customer },
		{ "system", "ID", "one unit, by its id", NULL, &request.system },
		{ "compare", "CALL", "a visit as found against as left", NULL, &request.compare },
		{ "with", "CALL", "a second visit: both as found", NULL, &request.with },
		{ "all", NULL, "every reading and figure, not only those followed",
		  &request.style.wants_all, NULL },
		{ "plots", NULL, "a plot of everything followed", &request.style.wants_plots, NULL },
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
	if (count != 0 || !is_request_whole(&request))
		return command_misuse(cli, "history takes one of --customer TEXT, --system ID or "
		                    "--compare CALL");
	if (!command_output(cli, &choice, "text|json", &output))
		return EXIT_USAGE;
	request.json = output == OUTPUT_JSON;
	request.style.units = cli->units;
	request.style.now = clock_now(&clock_of_machine);
	request.style.plain = command_is_plain();
	if (book_open(cli, STORE_EXISTING, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = run(&request, store, &error);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
