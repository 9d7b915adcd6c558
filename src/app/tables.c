/*
 * Calls as rows of readings or of lines for accounting.
 */
#include <padside/app/tables.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/gather.h>
#include <padside/base/csv.h>
#include <padside/base/number.h>
#include <padside/catalog/catalog.h>
#include <padside/model/money.h>

/* Every row begins with whose it is. */
#define CALL_COLUMNS "call_number,call_id,date,customer_id,customer,address"

enum {
	CALL_NUMBER_LENGTH = 13, /* characters of an id that the report prints as the call's number */
	ALL_OF_IT = 100000       /* 100 %, in thousandths of a per cent */
};

static const struct {
	const char *key, *columns;
} tables[TABLE_COUNT] = {
	[TABLE_READINGS] = { "readings", CALL_COLUMNS ",unit_id,unit_name,stage,reading,label,number,"
	                     "word,unit,taken_at,in_doubt" },
	[TABLE_LINES] = { "lines", CALL_COLUMNS ",technician,kind,description,quantity,unit,"
	                  "unit_price,list,discount_percent,discount,amount,tax_class,tax_percent,tax,"
	                  "total,currency,billed_at" },
};

bool table_from_key(const char *key, enum table *table)
{
	for (int i = 0; i < TABLE_COUNT; i++)
		if (strcmp(tables[i].key, key) == 0) {
			*table = (enum table)i;
			return true;
		}
	return false;
}

void table_add_head(enum table table, struct text *text)
{
	text_add(text, tables[table].columns);
	csv_end_record(text);
}

static void add_time(struct text *text, wall_time time, bool *first)
{
	char out[CLOCK_TEXT_SIZE] = "";

	if (time != WALL_TIME_NONE)
		clock_format(time, out, sizeof out);
	csv_add_field(text, out, first);
}

/* The fields of CALL_COLUMNS. */
static void add_call_fields(struct text *text, const struct call *call, bool *first)
{
	char number[NUMBER_TEXT_SIZE], date[CLOCK_TEXT_SIZE] = "";

	snprintf(number, sizeof number, "%.*s",
	         *call->job_number ? (int)sizeof number - 1 : CALL_NUMBER_LENGTH,
	         *call->job_number ? call->job_number : call->uid.text);
	if (call->opened_at != WALL_TIME_NONE)
		clock_format_date(call->opened_at, date, sizeof date);
	csv_add_field(text, number, first);
	csv_add_field(text, call->uid.text, first);
	csv_add_field(text, date, first);
	csv_add_field(text, call->customer.uid.text, first);
	csv_add_field(text, call->customer.name, first);
	csv_add_field(text, call->site.address, first);
}

/* ---- Readings ---- */

/* Where a reading belongs, as the book and JSON call it. */
static const char *place_word(const struct reading_info *info, enum stage stage)
{
	return info->scope == SCOPE_SYSTEM ? "system"
	       : info->scope == SCOPE_SITE ? "site" : stage_key(stage);
}

/* A number in the unit that is shown; exact where that is the unit it is stored in. */
static void format_number(const struct reading_info *info, double value, enum unit_system units,
                          char *out, size_t size)
{
	enum unit shown = unit_shown(info->unit, units);

	if (shown == info->unit)
		number_format_exact(value, out, size);
	else
		number_format(unit_convert(value, info->unit, shown),
		              unit_decimals_shown(info->decimals, info->unit, units) + 1, out, size);
}

static void add_reading(struct text *text, const struct call *call, enum stage stage,
                        enum reading reading, enum unit_system units)
{
	const struct reading_info *info = reading_info(reading);
	const struct value *value = visit_value(&call->visit, stage, reading);
	bool measures = info->kind == KIND_NUMBER || info->kind == KIND_RESISTANCE;
	bool is_number = measures && value->state == VALUE_TAKEN;
	char number[NUMBER_SIZE] = "", word[VALUE_TEXT_SIZE + NUMBER_SIZE] = "";
	bool first = true;

	if (is_number)
		format_number(info, value->number, units, number, sizeof number);
	else
		reading_format(reading, value, units, VALUE_FORM_SHEET, word, sizeof word);
	add_call_fields(text, call, &first);
	csv_add_field(text, call->system.uid.text, &first);
	csv_add_field(text, call->system.name, &first);
	csv_add_field(text, place_word(info, stage), &first);
	csv_add_field(text, info->key, &first);
	csv_add_field(text, info->label, &first);
	csv_add_field(text, number, &first);
	csv_add_field(text, word, &first);
	csv_add_field(text, measures ? reading_unit_symbol(reading, units, false) : "", &first);
	add_time(text, value->taken_at, &first);
	csv_add_field(text, value->doubtful ? "yes" : "", &first);
	csv_end_record(text);
}

static void add_readings(struct text *text, const struct call *call, enum unit_system units)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int reading = 1; reading < READING_COUNT; reading++) {
			bool of_call = reading_info((enum reading)reading)->scope == SCOPE_CALL;
			/* Unit and site have one value, whatever the stage. */
			if ((of_call || stage == STAGE_AS_FOUND) &&
			    visit_has(&call->visit, (enum stage)stage, (enum reading)reading))
				add_reading(text, call, (enum stage)stage, (enum reading)reading, units);
		}
}

/* ---- Lines ---- */

static void add_cents(struct text *text, cents amount, bool *first)
{
	char out[MONEY_SIZE];

	money_format_plain(amount, out, sizeof out);
	csv_add_field(text, out, first);
}

static void add_percent(struct text *text, millipercent percent, bool *first)
{
	char out[MONEY_SIZE];

	money_format_percent(percent, out, sizeof out);
	csv_add_field(text, out, first);
}

/* What a row of the lines tells behind whose it is. */
struct line_cells {
	const char *kind, *description, *unit, *tax_class;
	thousandths quantity;
	cents unit_price, discount, tax, list;
	millipercent discount_percent, tax_percent;
};

static void add_entry(struct text *text, const struct call *call, const struct line_cells *entry,
                      const struct table_look *look)
{
	/* One of what has no price is a line that only says what was done. */
	const thousandths one = 1000;
	bool is_sold = entry->unit_price != 0 || entry->quantity != one;
	char quantity[MONEY_SIZE] = "";
	bool first = true;

	if (is_sold)
		money_format_quantity(entry->quantity, quantity, sizeof quantity);
	add_call_fields(text, call, &first);
	csv_add_field(text, call->technician, &first);
	csv_add_field(text, entry->kind, &first);
	csv_add_field(text, entry->description, &first);
	csv_add_field(text, quantity, &first);
	csv_add_field(text, is_sold ? entry->unit : "", &first);
	add_cents(text, entry->unit_price, &first);
	add_cents(text, entry->list, &first);
	add_percent(text, entry->discount_percent, &first);
	add_cents(text, entry->discount, &first);
	add_cents(text, entry->list - entry->discount, &first);
	csv_add_field(text, entry->tax_class, &first);
	add_percent(text, entry->tax_percent, &first);
	add_cents(text, entry->tax, &first);
	add_cents(text, entry->list - entry->discount + entry->tax, &first);
	csv_add_field(text, look->currency, &first);
	add_time(text, call->billed_at, &first);
	csv_end_record(text);
}

static void add_lines(struct text *text, const struct call *call, const struct money_share *shares,
                      const struct table_look *look)
{
	for (size_t i = 0; i < call->work_count; i++) {
		const struct work_line *line = &call->work[i];
		const char *kind = work_kind_key(line->kind);
		cents list = shares[i].amount, discount = shares[i].discount;
		int stem;
		/* What is given away stands at its price, all of it taken off. */
		if (line->no_charge && money_line_amount(line, &list) == STATUS_OK)
			discount = list;
		add_entry(text, call, &(struct line_cells){
			.kind = kind, .description = line->description, .tax_class = kind,
			.unit = money_line_unit(line, &stem),
			.quantity = line->quantity, .unit_price = line->unit_price,
			.list = list, .discount = discount, .tax = shares[i].tax,
			.discount_percent = line->no_charge ? ALL_OF_IT : call->billing.discount,
			.tax_percent = call->billing.tax[line->kind],
		}, look);
	}
	if (call->billing.deposit != 0)
		add_entry(text, call, &(struct line_cells){
			.kind = "deposit", .description = "Deposit, already paid", .unit = "each",
			.tax_class = "",
			.quantity = 1000, .unit_price = -call->billing.deposit,
			.list = -call->billing.deposit,
		}, look);
}

static enum status add_work(struct text *text, const struct call *call,
                            const struct table_look *look, struct error *error)
{
	struct money_share *shares = calloc(call->work_count + 1, sizeof *shares);
	struct money_total total;

	if (!shares)
		return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	enum status status = money_total(call, &total);
	if (status == STATUS_OK)
		status = money_shares(call, shares);
	if (status == STATUS_OK)
		add_lines(text, call, shares, look);
	else
		error_set(error, status, "call %s cannot be added up: %s; nothing was written",
		          call->uid.text, status_sentence(status));
	free(shares);
	return status;
}

enum status table_add_call(enum table table, const struct call *call,
                           const struct table_look *look, struct text *text, struct error *error)
{
	if (table == TABLE_LINES)
		return add_work(text, call, look, error);
	add_readings(text, call, look->units);
	return STATUS_OK;
}

/* ---- A period ---- */

/* The calls opened from `since` to `until`, newest first; WALL_TIME_NONE: any. */
static enum status gather_period(struct store *store, wall_time since, wall_time until,
                                 struct gather *calls, struct error *error)
{
	struct call_filter filter = { .since = since };
	struct store_listing listing;
	struct call_line line;

	store_calls_open(store, &filter, &listing);
	while (!calls->failed && store_calls_next(&listing, &line))
		if (until == WALL_TIME_NONE || line.opened_at <= until)
			gather_add(calls, &line.uid);
	return store_listing_close(&listing, error);
}

static enum status add_stored_call(enum table table, struct store *store, const struct uid *uid,
                                   const struct table_look *look, struct text *text,
                                   struct error *error)
{
	struct call call;

	call_init(&call);
	enum status status = store_call_load(store, uid->text, &call, error);
	if (status == STATUS_OK)
		status = table_add_call(table, &call, look, text, error);
	call_done(&call);
	return status;
}

enum status table_add_period(enum table table, struct store *store, wall_time since,
                             wall_time until, const struct table_look *look, struct text *text,
                             struct error *error)
{
	struct gather calls = { .size = sizeof(struct uid) };
	enum status status = gather_period(store, since, until, &calls, error);
	const struct uid *uids = calls.items;

	table_add_head(table, text);
	for (size_t i = calls.count; i > 0 && status == STATUS_OK; i--)
		status = add_stored_call(table, store, &uids[i - 1], look, text, error);
	if (status == STATUS_OK && (calls.failed || text->failed))
		status = error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	free(calls.items);
	return status;
}
