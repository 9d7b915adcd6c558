/*
 * A customer's page: where they are, what they have, what happened, what is
 * still open.
 */
#include <padside/app/history.h>

#include <stdlib.h>
#include <string.h>

#include <padside/base/gather.h>
#include <padside/base/text.h>


static enum status check_memory(enum status status, const struct gather *gather,
                                struct error *error)
{
	if (status == STATUS_OK && gather->failed)
		return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	return status;
}

/* What the book says of the customer, as far as the caller left it out. */
static void complete_customer(struct customer_page *page)
{
	if (!page->customer.name[0] && page->system_count > 0)
		page->customer = page->systems[0].customer;
	else if (!page->customer.name[0] && page->visit_count > 0)
		text_copy(page->customer.name, sizeof page->customer.name, page->visits[0].customer);
}

static enum status load_visits(struct store *store, struct customer_page *page,
                               struct error *error)
{
	struct call_filter filter = { .since = WALL_TIME_NONE, .customer = page->customer.uid,
		.limit = PAGE_MOST_VISITS };
	struct gather gather = { .size = sizeof *page->visits };
	struct store_listing listing;
	struct call_line line;

	store_calls_open(store, &filter, &listing);
	while (store_calls_next(&listing, &line) && gather_add(&gather, &line))
		continue;
	enum status status = store_listing_close(&listing, error);
	page->visits = gather.items;
	page->visit_count = gather.count;
	return check_memory(status, &gather, error);
}

static bool gather_watch(struct gather *gather, const struct watch_item *items, size_t count,
                         size_t system)
{
	for (size_t i = 0; i < count; i++) {
		struct page_watch entry = { .item = items[i], .system = system };
		gather_add(gather, &entry);
	}
	return !gather->failed;
}

static enum status load_watch(struct store *store, struct customer_page *page,
                              struct error *error)
{
	struct gather watch = { .size = sizeof *page->watch };
	enum status status = STATUS_OK;

	for (size_t i = 0; i < page->system_count && status == STATUS_OK; i++) {
		struct watch_item *items;
		size_t count;
		if (*system_taken_out(&page->systems[i]))
			continue;
		status = store_open_watch_items(store, &page->systems[i].system.uid, NULL, WALL_TIME_NONE,
		                                &items, &count, error);
		if (!gather_watch(&watch, items, count, i))
			status = check_memory(status, &watch, error);
		free(items);
	}
	page->watch = watch.items;
	page->watch_count = watch.count;
	return status;
}

/* Work on a unit that is gone is not to be had any more: the offer says so. */
static void mark_gone(const struct customer_page *page, struct past_offer *past)
{
	for (size_t i = 0; i < page->system_count; i++)
		if (strcmp(page->systems[i].system.uid.text, past->system.text) == 0)
			text_copy(past->unit_out, sizeof past->unit_out, system_taken_out(&page->systems[i]));
}

static enum status load_offered(struct store *store, struct customer_page *page,
                                struct error *error)
{
	const struct uid any_system = { .text = "" };
	enum status status = store_offers_left(store, &page->customer.uid, &any_system, NULL,
	                                       &page->offered, &page->offered_count, error);

	for (size_t i = 0; i < page->offered_count; i++)
		mark_gone(page, &page->offered[i]);
	return status;
}

static void add_part(struct text *text, const char *part)
{
	if (*part)
		text_add_format(text, "%s%s", text->length ? ", " : "", part);
}

void customer_page_init(struct customer_page *page)
{
	memset(page, 0, sizeof *page);
}

void customer_page_done(struct customer_page *page)
{
	free(page->systems);
	free(page->visits);
	free(page->watch);
	free(page->offered);
	customer_page_init(page);
}

enum status customer_page_load(struct store *store, const struct customer *customer,
                               struct customer_page *page, struct error *error)
{
	struct customer who = *customer;

	customer_page_done(page);
	page->customer = who;
	enum status status = store_customer_systems(store, &page->customer.uid, &page->systems,
	                                            &page->system_count, error);
	if (status == STATUS_OK)
		status = load_visits(store, page, error);
	if (status == STATUS_OK)
		status = load_watch(store, page, error);
	if (status == STATUS_OK)
		status = load_offered(store, page, error);
	if (status != STATUS_OK)
		customer_page_done(page);
	else
		complete_customer(page);
	return status;
}

/* A unit ages until it is taken out. */
static wall_time last_day(const struct system_line *line, wall_time now)
{
	wall_time out;

	return clock_parse(system_taken_out(line), &out) ? out : now;
}

void system_describe(const struct system_line *line, wall_time now, enum unit_system units,
                     char *out, size_t size)
{
	static const enum reading readings[] = {
		READING_NOMINAL_CAPACITY, READING_REFRIGERANT, READING_METERING,
	};
	const struct value *year = system_reading(line, READING_MANUFACTURE_YEAR);
	struct text text;

	text_init(&text);
	/* A line that is cut still says it. */
	if (*system_taken_out(line))
		text_add_format(&text, "taken out on %s", system_taken_out(line));
	for (size_t i = 0; i < sizeof readings / sizeof *readings; i++) {
		char part[VALUE_TEXT_SIZE];
		reading_format(readings[i], system_reading(line, readings[i]), units, VALUE_FORM_WITH_UNIT,
		               part, sizeof part);
		add_part(&text, part);
	}
	if (year->state == VALUE_TAKEN) {
		int age = clock_year(last_day(line, now)) - (int)year->number;
		add_part(&text, "made");
		text_add_format(&text, " %d", (int)year->number);
		if (age >= 0)
			text_add_format(&text, " (%d year%s)", age, age == 1 ? "" : "s");
	}
	text_copy(out, size, text_get(&text));
	text_done(&text);
}
