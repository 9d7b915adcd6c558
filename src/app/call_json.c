/*
 * A call as JSON, both ways by the same tables: a part of the document is a
 * row of `parts`, a member a row of its part's table, and each form of member
 * knows how to be read, written and left out.  Readings come from the
 * catalogue.
 */
#include <padside/app/call_json.h>

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/json_text.h>
#include <padside/base/number.h>

/* More lines than any call has; keeps hostile input from taking time. */
enum { LIST_MOST = 1000 };

/* ---- Tables ---- */

enum form {
	FORM_TEXT, FORM_UID, FORM_TIME, FORM_CENTS, FORM_QUANTITY, FORM_PERCENT, FORM_OUNCES,
	FORM_NUMBER, FORM_FLAG, FORM_WORK_KIND, FORM_DECISION, FORM_COUNT
};

struct member {
	const char *key;  /* in the document */
	enum form form;   /* how it is read and written */
	size_t offset;    /* within the part's struct */
	size_t size;      /* of a text, with its NUL */
	double low, high; /* of a number, in the units of the document */
	bool always;      /* written even when it is empty */
};

#define AT(type, field) .offset = offsetof(struct type, field)
#define TEXT_AT(type, field) \
	.form = FORM_TEXT, AT(type, field), .size = sizeof ((struct type *)0)->field

static const struct member customer_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(customer, uid) },
	{ .key = "name", TEXT_AT(customer, name), .always = true },
	{ .key = "phone", TEXT_AT(customer, phone) },
	{ .key = "email", TEXT_AT(customer, email) },
	{ .key = NULL },
};

static const struct member site_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(site, uid) },
	{ .key = "address", TEXT_AT(site, address) },
	{ .key = NULL },
};

static const struct member system_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(system, uid) },
	{ .key = "name", TEXT_AT(system, name) },
	{ .key = NULL },
};

static const struct member call_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(call, uid) },
	{ .key = "complaint", TEXT_AT(call, complaint) },
	{ .key = "summary", TEXT_AT(call, summary) },
	{ .key = "office_note", TEXT_AT(call, office_note) },
	{ .key = "opened_at", .form = FORM_TIME, AT(call, opened_at) },
	{ .key = "closed_at", .form = FORM_TIME, AT(call, closed_at) },
	{ .key = "unsafe_at", .form = FORM_TIME, AT(call, unsafe_at) },
	{ .key = NULL },
};

static const struct member no_members[] = { { .key = NULL } };

static const struct member charge_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(charge_entry, uid) },
	{ .key = "at", .form = FORM_TIME, AT(charge_entry, at) },
	{ .key = "added", .form = FORM_OUNCES, AT(charge_entry, added_oz), .high = 3000 },
	{ .key = "recovered", .form = FORM_OUNCES, AT(charge_entry, recovered_oz), .high = 3000 },
	{ .key = "cylinder", TEXT_AT(charge_entry, cylinder) },
	{ .key = "note", TEXT_AT(charge_entry, note) },
	{ .key = NULL },
};

static const struct member work_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(work_line, uid) },
	{ .key = "kind", .form = FORM_WORK_KIND, AT(work_line, kind), .always = true },
	{ .key = "description", TEXT_AT(work_line, description), .always = true },
	{ .key = "quantity", .form = FORM_QUANTITY, AT(work_line, quantity), .high = 1e6, .always = true },
	{ .key = "unit_price", .form = FORM_CENTS, AT(work_line, unit_price), .low = -1e7, .high = 1e7,
	  .always = true },
	{ .key = "no_charge", .form = FORM_FLAG, AT(work_line, no_charge) },
	{ .key = "note", TEXT_AT(work_line, note) },
	{ .key = NULL },
};

static const struct member choice_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(offer, uid) },
	{ .key = "title", TEXT_AT(offer, title), .always = true },
	{ .key = "price_low", .form = FORM_CENTS, AT(offer, price_low), .high = 1e7, .always = true },
	{ .key = "price_high", .form = FORM_CENTS, AT(offer, price_high), .high = 1e7, .always = true },
	{ .key = "years_low", .form = FORM_NUMBER, AT(offer, years_low), .high = 100 },
	{ .key = "years_high", .form = FORM_NUMBER, AT(offer, years_high), .high = 100 },
	{ .key = "seer", .form = FORM_NUMBER, AT(offer, seer), .high = 60 },
	{ .key = "decision", .form = FORM_DECISION, AT(offer, decision) },
	{ .key = "decided_by", TEXT_AT(offer, decided_by) },
	{ .key = "decided_at", .form = FORM_TIME, AT(offer, decided_at) },
	{ .key = "note", TEXT_AT(offer, note) },
	{ .key = NULL },
};

static const struct member watch_members[] = {
	{ .key = "uid", .form = FORM_UID, AT(watch_item, uid) },
	{ .key = "fault", TEXT_AT(watch_item, fault) },
	{ .key = "text", TEXT_AT(watch_item, text), .always = true },
	{ .key = "noted_at", .form = FORM_TIME, AT(watch_item, noted_at) },
	{ .key = "closed_at", .form = FORM_TIME, AT(watch_item, closed_at) },
	{ .key = NULL },
};

static const struct member billing_members[] = {
	{ .key = "discount", .form = FORM_PERCENT, AT(billing, discount),
	  .high = BILLING_MOST_PERCENT },
	{ .key = "deposit", .form = FORM_CENTS, AT(billing, deposit), .high = 1e7 },
	{ .key = "cooling_hours", .form = FORM_NUMBER, AT(billing, cooling_hours), .high = BILLING_MOST_HOURS },
	{ .key = "energy_rate", .form = FORM_NUMBER, AT(billing, energy_rate),
	  .high = BILLING_MOST_ENERGY_RATE },
	{ .key = NULL },
};

static const struct member tax_members[] = {
	{ .key = "labour", .form = FORM_PERCENT, AT(billing, tax[WORK_LABOUR]),
	  .high = BILLING_MOST_PERCENT },
	{ .key = "part", .form = FORM_PERCENT, AT(billing, tax[WORK_PART]),
	  .high = BILLING_MOST_PERCENT },
	{ .key = "refrigerant", .form = FORM_PERCENT, AT(billing, tax[WORK_REFRIGERANT]),
	  .high = BILLING_MOST_PERCENT },
	{ .key = "fee", .form = FORM_PERCENT, AT(billing, tax[WORK_FEE]),
	  .high = BILLING_MOST_PERCENT },
	{ .key = NULL },
};

enum part {
	PART_CUSTOMER, PART_SITE, PART_SYSTEM, PART_CALL, PART_AS_FOUND, PART_AS_LEFT, PART_CHARGE,
	PART_WORK, PART_CHOICES, PART_WATCH, PART_BILLING, PART_TAKEN_AT, PART_COUNT
};

enum readings { READINGS_NONE, READINGS_OF_SCOPE, READINGS_OF_CHARGE };

struct part_row {
	const char *key;              /* in the document */
	bool is_list;                 /* an array of objects */
	const struct member *members; /* of the object, or of each */
	enum readings readings;       /* which readings stand beside the members */
	enum scope scope;             /* of those */
	enum stage stage;             /* of those */
};

static const struct part_row parts[PART_COUNT] = {
	[PART_CUSTOMER] = { .key = "customer", .members = customer_members },
	[PART_SITE] = {
		.key = "site", .members = site_members,
		.readings = READINGS_OF_SCOPE, .scope = SCOPE_SITE,
	},
	[PART_SYSTEM] = {
		.key = "system", .members = system_members,
		.readings = READINGS_OF_SCOPE, .scope = SCOPE_SYSTEM,
	},
	[PART_CALL] = { .key = "call", .members = call_members },
	[PART_AS_FOUND] = {
		.key = "as_found", .members = no_members,
		.readings = READINGS_OF_SCOPE, .scope = SCOPE_CALL, .stage = STAGE_AS_FOUND,
	},
	[PART_AS_LEFT] = {
		.key = "as_left", .members = no_members,
		.readings = READINGS_OF_SCOPE, .scope = SCOPE_CALL, .stage = STAGE_AS_LEFT,
	},
	[PART_CHARGE] = {
		.key = "charge_log", .is_list = true, .members = charge_members,
		.readings = READINGS_OF_CHARGE,
	},
	[PART_WORK] = { .key = "work", .is_list = true, .members = work_members },
	[PART_CHOICES] = { .key = "choices", .is_list = true, .members = choice_members },
	[PART_WATCH] = { .key = "watch", .is_list = true, .members = watch_members },
	[PART_BILLING] = { .key = "billing", .members = billing_members },
	[PART_TAKEN_AT] = { .key = "taken_at", .members = no_members },
};

/* The member of `billing` that is an object itself. */
static const char tax_key[] = "tax";

/* The index-th element of a part, or the part itself (index 0); NULL past the end. */
static void *part_at(struct call *call, enum part part, size_t index)
{
	switch (part) {
	case PART_CUSTOMER:
		return index == 0 ? &call->customer : NULL;
	case PART_SITE:
		return index == 0 ? &call->site : NULL;
	case PART_SYSTEM:
		return index == 0 ? &call->system : NULL;
	case PART_BILLING:
		return index == 0 ? &call->billing : NULL;
	case PART_CHARGE:
		return index < call->charge_count ? &call->charge[index] : NULL;
	case PART_WORK:
		return index < call->work_count ? &call->work[index] : NULL;
	case PART_CHOICES:
		return index < call->offer_count ? &call->offers[index] : NULL;
	case PART_WATCH:
		return index < call->watch_count ? &call->watch[index] : NULL;
	default:
		return index == 0 ? call : NULL;
	}
}

static void *add_element(struct call *call, enum part part)
{
	switch (part) {
	case PART_CHARGE:
		return call_add_charge(call);
	case PART_WORK:
		return call_add_work(call);
	case PART_CHOICES:
		return call_add_offer(call);
	default:
		return call_add_watch(call);
	}
}

/* ---- Exact decimals ---- */

/*
 * Reads "-12.5" as a whole number of 10^-decimals; more digits than that, or
 * more than 12 before the point, are refused, as a double would have to round.
 */
static bool read_decimal(const char *text, int decimals, int64_t *value)
{
	bool negative = *text == '-';
	int64_t number = 0;
	int before = 0, after = 0;

	for (text += negative; *text >= '0' && *text <= '9'; text++, before++)
		number = before < 12 ? number * 10 + (*text - '0') : number;
	if (*text == '.')
		for (text++; *text >= '0' && *text <= '9'; text++, after++)
			number = after < decimals ? number * 10 + (*text - '0') : number;
	if (*text || before == 0 || before > 12 || after > decimals)
		return false;
	for (; after < decimals; after++)
		number *= 10;
	*value = negative ? -number : number;
	return true;
}

/* Writes it back; zeros at the end only as far as `keep` decimals. */
static void write_decimal(int64_t value, int decimals, int keep, struct text *text)
{
	int64_t scale = 1;
	uint64_t size = value < 0 ? (uint64_t)0 - (uint64_t)value : (uint64_t)value;

	for (int i = 0; i < decimals; i++)
		scale *= 10;
	uint64_t fraction = size % (uint64_t)scale;
	text_add_format(text, "%s%" PRIu64, value < 0 ? "-" : "", size / (uint64_t)scale);
	while (decimals > keep && fraction % 10 == 0) {
		fraction /= 10;
		decimals--;
	}
	if (decimals > 0)
		text_add_format(text, ".%0*" PRIu64, decimals, fraction);
}

/* ---- Forms ---- */

struct form_row {
	/* Reads a member that is not null into its field. */
	enum status (*read)(const struct member *member, const struct json_item *item, void *field,
	                    struct error *error);
	/* Writes the field. */
	void (*write)(const void *field, struct text *text);
	/* Whether it may be left out. */
	bool (*is_empty)(const void *field);
};

static enum status refuse(const struct json_item *item, const char *why, struct error *error)
{
	return error_set(error, STATUS_BAD_INPUT, "%s: %s", item->path, why);
}

static enum status refuse_outside(const struct member *member, const struct json_item *item,
                                  struct error *error)
{
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	number_format_exact(member->low, low, sizeof low);
	number_format_exact(member->high, high, sizeof high);
	return error_set(error, STATUS_OUT_OF_RANGE, "%s: it takes %s to %s", item->path, low,
	                 high);
}

static enum status read_text(const struct member *member, const struct json_item *item,
                             void *field, struct error *error)
{
	if (item->type != JSON_STRING)
		return refuse(item, "a text in quotes is wanted", error);
	if (strlen(item->text) >= member->size)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: it takes at most %zu bytes", item->path, member->size - 1);
	text_copy(field, member->size, item->text);
	return STATUS_OK;
}

static void write_text(const void *field, struct text *text)
{
	json_add_string(text, field);
}

static bool is_empty_text(const void *field)
{
	return *(const char *)field == '\0';
}

static enum status read_uid(const struct member *member, const struct json_item *item,
                            void *field, struct error *error)
{
	struct uid *uid = field;

	(void)member;
	if (item->type != JSON_STRING || !uid_is_valid(item->text))
		return refuse(item, "an id is wanted, a UUID in small letters", error);
	text_copy(uid->text, sizeof uid->text, item->text);
	return STATUS_OK;
}

static void write_uid(const void *field, struct text *text)
{
	json_add_string(text, ((const struct uid *)field)->text);
}

static bool is_empty_uid(const void *field)
{
	return uid_is_none(field);
}

static enum status read_time(const struct member *member, const struct json_item *item,
                             void *field, struct error *error)
{
	(void)member;
	if (item->type != JSON_STRING || !clock_parse(item->text, field))
		return refuse(item, "a local time is wanted, like \"2026-06-03T09:12\"", error);
	return STATUS_OK;
}

static void write_time(const void *field, struct text *text)
{
	char time[CLOCK_TEXT_SIZE];

	clock_format(*(const wall_time *)field, time, sizeof time);
	json_add_string(text, time);
}

static bool is_empty_time(const void *field)
{
	return *(const wall_time *)field == WALL_TIME_NONE;
}

static enum status read_decimals(const struct member *member, const struct json_item *item,
                                 int decimals, const char *wanted, void *field,
                                 struct error *error)
{
	int64_t value;
	double scale = pow(10, decimals);

	if ((item->type != JSON_STRING && item->type != JSON_NUMBER) ||
	    !read_decimal(item->text, decimals, &value))
		return refuse(item, wanted, error);
	if ((double)value < member->low * scale || (double)value > member->high * scale)
		return refuse_outside(member, item, error);
	*(int64_t *)field = value;
	return STATUS_OK;
}

static enum status read_cents(const struct member *member, const struct json_item *item,
                              void *field, struct error *error)
{
	return read_decimals(member, item, 2, "an amount like 12.50 is wanted, at most two decimals",
	                     field, error);
}

static void write_cents(const void *field, struct text *text)
{
	text_add_char(text, '"');
	write_decimal(*(const cents *)field, 2, 2, text);
	text_add_char(text, '"');
}

static enum status read_quantity(const struct member *member, const struct json_item *item,
                                 void *field, struct error *error)
{
	return read_decimals(member, item, 3, "a quantity is wanted, at most three decimals", field,
	                     error);
}

static void write_quantity(const void *field, struct text *text)
{
	write_decimal(*(const thousandths *)field, 3, 0, text);
}

static enum status read_percent(const struct member *member, const struct json_item *item,
                                void *field, struct error *error)
{
	return read_decimals(member, item, 3, "a percentage is wanted, at most three decimals", field,
	                     error);
}

static void write_percent(const void *field, struct text *text)
{
	write_decimal(*(const millipercent *)field, 3, 0, text);
}

static bool is_zero_integer(const void *field)
{
	return *(const int64_t *)field == 0;
}

static enum status keep_double(const struct member *member, const struct json_item *item,
                               double number, void *field, struct error *error)
{
	if (!(number >= member->low && number <= member->high))
		return refuse_outside(member, item, error);
	*(double *)field = number + 0.0;
	return STATUS_OK;
}

static enum status read_number(const struct member *member, const struct json_item *item,
                               void *field, struct error *error)
{
	if (item->type != JSON_NUMBER)
		return refuse(item, "a number is wanted", error);
	return keep_double(member, item, strtod(item->text, NULL), field, error);
}

static enum status read_ounces(const struct member *member, const struct json_item *item,
                               void *field, struct error *error)
{
	enum unit unit = UNIT_OZ;
	const char *rest = "";
	double number;

	if (item->type == JSON_NUMBER)
		return read_number(member, item, field, error);
	if (item->type != JSON_STRING || !number_parse(item->text, &number, &rest) ||
	    (*rest && !unit_from_text(rest, UNIT_OZ, &unit)))
		return refuse(item, "ounces are wanted, or a text like \"1.5 lb\"", error);
	return keep_double(member, item, unit_convert(number, unit, UNIT_OZ), field, error);
}

static void write_number(const void *field, struct text *text)
{
	json_add_number(text, *(const double *)field);
}

static bool is_zero_number(const void *field)
{
	return *(const double *)field == 0;
}

static enum status read_flag(const struct member *member, const struct json_item *item,
                             void *field, struct error *error)
{
	(void)member;
	if (item->type != JSON_TRUE && item->type != JSON_FALSE)
		return refuse(item, "true or false is wanted", error);
	*(bool *)field = item->type == JSON_TRUE;
	return STATUS_OK;
}

static void write_flag(const void *field, struct text *text)
{
	text_add(text, *(const bool *)field ? "true" : "false");
}

static bool is_false(const void *field)
{
	return !*(const bool *)field;
}

static enum status read_work_kind(const struct member *member, const struct json_item *item,
                                  void *field, struct error *error)
{
	(void)member;
	if (item->type != JSON_STRING || !work_kind_from_key(item->text, field))
		return refuse(item, "labour, part, refrigerant or fee is wanted", error);
	return STATUS_OK;
}

static void write_work_kind(const void *field, struct text *text)
{
	json_add_string(text, work_kind_key(*(const enum work_kind *)field));
}

static bool is_never_empty(const void *field)
{
	(void)field;
	return false;
}

static enum status read_decision(const struct member *member, const struct json_item *item,
                                 void *field, struct error *error)
{
	(void)member;
	if (item->type != JSON_STRING || !decision_from_key(item->text, field))
		return refuse(item, "none, accepted or declined is wanted", error);
	return STATUS_OK;
}

static void write_decision(const void *field, struct text *text)
{
	json_add_string(text, decision_key(*(const enum decision *)field));
}

static bool is_undecided(const void *field)
{
	return *(const enum decision *)field == DECISION_NONE;
}

static const struct form_row forms[FORM_COUNT] = {
	[FORM_TEXT] = { read_text, write_text, is_empty_text },
	[FORM_UID] = { read_uid, write_uid, is_empty_uid },
	[FORM_TIME] = { read_time, write_time, is_empty_time },
	[FORM_CENTS] = { read_cents, write_cents, is_zero_integer },
	[FORM_QUANTITY] = { read_quantity, write_quantity, is_never_empty },
	[FORM_PERCENT] = { read_percent, write_percent, is_zero_integer },
	[FORM_OUNCES] = { read_ounces, write_number, is_zero_number },
	[FORM_NUMBER] = { read_number, write_number, is_zero_number },
	[FORM_FLAG] = { read_flag, write_flag, is_false },
	[FORM_WORK_KIND] = { read_work_kind, write_work_kind, is_never_empty },
	[FORM_DECISION] = { read_decision, write_decision, is_undecided },
};

/* ---- Reading: members and readings ---- */

/* How far the reading of a document is. */
struct intake {
	struct call *call;            /* being filled */
	enum part part;               /* the part at hand; PART_COUNT outside any */
	void *target;                 /* the struct that the members go to */
	const struct part_row *times; /* within taken_at: whose times */
	bool in_tax;                  /* within billing.tax */
	bool has_customer;            /* the document says whose call it is */
};

static enum status refuse_unknown(const struct json_item *item, struct error *error)
{
	return refuse(item, "there is no such member", error);
}

static enum status take_member(const struct member *member, void *target,
                               const struct json_item *item, struct error *error)
{
	if (item->type == JSON_NULL)
		return STATUS_OK;
	return forms[member->form].read(member, item, (char *)target + member->offset, error);
}

static const struct member *find_member(const struct member *members, const char *key)
{
	for (; members->key; members++)
		if (strcmp(members->key, key) == 0)
			return members;
	return NULL;
}

/* A reading's error, with the path of its member before it. */
static enum status with_path(const struct json_item *item, const struct error *why,
                             struct error *error)
{
	return error_set(error, why->status, "%s: %s", item->path, why->text);
}

/* Reads a reading as numbers, words or what was typed. */
static enum status read_value(enum reading reading, const struct json_item *item,
                              struct value *value, struct error *error)
{
	enum reading_kind kind = reading_info(reading)->kind;
	struct error why = { .text = "" };
	enum status status;

	*value = (struct value){ .taken_at = WALL_TIME_NONE };
	if (item->type == JSON_NULL)
		return STATUS_OK;
	if (item->type == JSON_NUMBER) {
		double number = strtod(item->text, NULL);
		if (kind != KIND_NUMBER && kind != KIND_RESISTANCE)
			return refuse(item, kind == KIND_YES_NO ? "true or false is wanted"
			                                        : "a text in quotes is wanted", error);
		if (!isfinite(number))
			return refuse(item, "this number is too large", error);
		status = reading_from_number(reading, number + 0.0, UNITS_US, value, &why);
	} else if (item->type == JSON_STRING) {
		status = reading_parse(reading, item->text, UNITS_US, value, &why);
	} else if (kind == KIND_YES_NO) {
		*value = (struct value){
			.state = VALUE_TAKEN, .number = item->type == JSON_TRUE, .taken_at = WALL_TIME_NONE,
		};
		return STATUS_OK;
	} else {
		return refuse(item, "true and false are only for yes and no", error);
	}
	return status == STATUS_OK ? status : with_path(item, &why, error);
}

static enum status take_reading(struct intake *at, const struct json_item *item,
                                struct error *error)
{
	static const char *const homes[] = {
		[SCOPE_CALL] = "it belongs into as_found or as_left",
		[SCOPE_SYSTEM] = "it belongs into system", [SCOPE_SITE] = "it belongs into site",
	};
	const struct part_row *part = &parts[at->part];
	enum reading reading = reading_from_key(item->key);
	struct value value;

	if (reading == READING_NONE)
		return refuse_unknown(item, error);
	if (reading_info(reading)->scope != part->scope)
		return refuse(item, homes[reading_info(reading)->scope], error);
	enum status status = read_value(reading, item, &value, error);
	if (status != STATUS_OK)
		return status;
	/* taken_at may have come before it. */
	value.taken_at = visit_value(&at->call->visit, part->stage, reading)->taken_at;
	visit_set(&at->call->visit, part->stage, reading, &value);
	return STATUS_OK;
}

static enum status take_charge_reading(struct charge_entry *entry, const struct json_item *item,
                                       struct error *error)
{
	for (int i = 0; i < CHARGE_READING_COUNT; i++) {
		enum reading reading = charge_reading_id((enum charge_reading)i);
		if (strcmp(reading_info(reading)->key, item->key) == 0)
			return read_value(reading, item, &entry->values[i], error);
	}
	return refuse_unknown(item, error);
}

static enum status take_time(struct intake *at, const struct json_item *item,
                             struct error *error)
{
	static const struct member time = { .form = FORM_TIME };
	enum reading reading = reading_from_key(item->key);

	if (reading == READING_NONE || reading_info(reading)->scope != at->times->scope)
		return refuse_unknown(item, error);
	struct value value = *visit_value(&at->call->visit, at->times->stage, reading);
	enum status status = take_member(&time, &value.taken_at, item, error);
	visit_set(&at->call->visit, at->times->stage, reading, &value);
	return status;
}

static enum status take_field(struct intake *at, const struct json_item *item,
                              struct error *error)
{
	const struct member *member = find_member(parts[at->part].members, item->key);

	if (member)
		return take_member(member, at->target, item, error);
	if (parts[at->part].readings == READINGS_OF_SCOPE)
		return take_reading(at, item, error);
	if (parts[at->part].readings == READINGS_OF_CHARGE)
		return take_charge_reading(at->target, item, error);
	return refuse_unknown(item, error);
}

/* ---- Reading: the shape of the document ---- */

static enum status take_part(struct intake *at, const struct json_item *item,
                             struct error *error)
{
	int part = 0;

	while (part < PART_COUNT && strcmp(parts[part].key, item->key) != 0)
		part++;
	if (part == PART_COUNT)
		return refuse_unknown(item, error);
	if (item->type == JSON_NULL)
		return STATUS_OK;
	if (item->type != (parts[part].is_list ? JSON_ARRAY : JSON_OBJECT))
		return refuse(item, parts[part].is_list ? "a list [ ] is wanted" : "an object { } is wanted",
		              error);
	at->part = (enum part)part;
	at->target = part_at(at->call, at->part, 0);
	at->has_customer = at->has_customer || at->part == PART_CUSTOMER;
	return STATUS_OK;
}

static enum status take_element(struct intake *at, const struct json_item *item,
                                struct error *error)
{
	if (item->type != JSON_OBJECT)
		return refuse(item, "an object { } is wanted", error);
	if (item->index >= LIST_MOST)
		return refuse(item, "more lines than a call has", error);
	at->target = add_element(at->call, at->part);
	if (!at->target)
		return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	return STATUS_OK;
}

/* An object within a part: the taxes, or the times of a part's readings. */
static enum status take_inner(struct intake *at, const struct json_item *item,
                              struct error *error)
{
	if (at->part == PART_BILLING && strcmp(item->key, tax_key) == 0) {
		at->in_tax = true;
		return STATUS_OK;
	}
	for (int i = 0; i < PART_COUNT && at->part == PART_TAKEN_AT; i++)
		if (parts[i].readings == READINGS_OF_SCOPE && strcmp(parts[i].key, item->key) == 0) {
			at->times = &parts[i];
			return STATUS_OK;
		}
	if (!find_member(parts[at->part].members, item->key) && reading_from_key(item->key) == READING_NONE)
		return refuse_unknown(item, error);
	return refuse(item, "a single value is wanted, no object or list", error);
}

static enum status take_in_inner(struct intake *at, const struct json_item *item,
                                 struct error *error)
{
	if (item->type == JSON_OBJECT || item->type == JSON_ARRAY)
		return refuse(item, "a single value is wanted, no object or list", error);
	if (at->times)
		return take_time(at, item, error);
	if (!at->in_tax)
		return take_field(at, item, error);
	const struct member *member = find_member(tax_members, item->key);
	return member ? take_member(member, at->target, item, error) : refuse_unknown(item, error);
}

static enum status take_item(const struct json_item *item, void *context, struct error *error)
{
	struct intake *at = context;

	if (item->type == JSON_END) {
		at->in_tax = false;
		at->times = NULL;
		return STATUS_OK;
	}
	if (item->depth == 0)
		return item->type == JSON_OBJECT ? STATUS_OK
			: error_set(error, STATUS_BAD_INPUT, "a call is an object { }");
	if (item->depth == 1)
		return take_part(at, item, error);
	if (item->depth > 2)
		return take_in_inner(at, item, error);
	if (parts[at->part].is_list)
		return take_element(at, item, error);
	if (item->type == JSON_OBJECT || item->type == JSON_ARRAY)
		return item->type == JSON_OBJECT ? take_inner(at, item, error)
		                                 : refuse(item, "a single value is wanted, no list", error);
	if (at->part == PART_TAKEN_AT || (at->part == PART_BILLING && strcmp(item->key, tax_key) == 0))
		return refuse(item, "an object { } is wanted", error);
	return take_field(at, item, error);
}

/* ---- Reading: putting in order ---- */

static bool is_later(wall_time a, wall_time b)
{
	if (a == WALL_TIME_NONE || b == WALL_TIME_NONE)
		return a == WALL_TIME_NONE && b != WALL_TIME_NONE;
	return a > b;
}

/* Into time order, those without a time last; equal ones stay as they came. */
static void sort_charge(struct call *call)
{
	for (size_t i = 1; i < call->charge_count; i++) {
		struct charge_entry entry = call->charge[i];
		size_t at = i;
		for (; at > 0 && is_later(call->charge[at - 1].at, entry.at); at--)
			call->charge[at] = call->charge[at - 1];
		call->charge[at] = entry;
	}
}

static void finish(struct call *call)
{
	for (int i = 0; i < STAGE_COUNT * READING_COUNT; i++) {
		struct value *value = &call->visit.values[i / READING_COUNT][i % READING_COUNT];
		if (value->state == VALUE_NOT_TAKEN)
			value->taken_at = WALL_TIME_NONE;
	}
	sort_charge(call);
	for (size_t i = 0; i < call->charge_count; i++)
		for (int j = 0; j < CHARGE_READING_COUNT; j++)
			if (call->charge[i].values[j].state != VALUE_NOT_TAKEN)
				call->charge[i].values[j].taken_at = call->charge[i].at;
}

enum status call_json_read(struct json_reader *reader, const char *text, size_t length,
                               enum call_json_use use, struct call *call, struct error *error)
{
	struct intake at = { .call = call, .part = PART_COUNT };

	call_done(call);
	enum status status = json_read(reader, text, length, take_item, &at, error);
	if (status == STATUS_OK && use == CALL_JSON_RECORD && !at.has_customer)
		status = error_set(error, STATUS_BAD_INPUT,
		                   "customer: it must be there, a stored call is somebody's");
	if (status != STATUS_OK)
		call_done(call);
	else
		finish(call);
	return status;
}

/* ---- Writing ---- */

static void write_members(const struct member *members, const void *source, struct text *text,
                          bool *first)
{
	for (; members->key; members++) {
		const void *field = (const char *)source + members->offset;
		const struct form_row *form = &forms[members->form];
		if (!members->always && form->is_empty(field))
			continue;
		json_add_name(text, members->key, first);
		form->write(field, text);
	}
}

static void write_value(enum reading reading, const struct value *value, struct text *text)
{
	enum reading_kind kind = reading_info(reading)->kind;

	if (value->state == VALUE_OVER_LIMIT)
		json_add_string(text, "OL");
	else if (kind == KIND_YES_NO)
		text_add(text, value->number != 0 ? "true" : "false");
	else if (kind == KIND_CHOICE)
		json_add_string(text, choice_key(value->choice));
	else if (kind == KIND_TEXT || kind == KIND_DATE)
		json_add_string(text, value->text);
	else
		json_add_number(text, value->number);
}

/* Writes a part's readings, or (times) when they were taken. */
static void write_readings(const struct part_row *part, const struct visit *visit, bool times,
                           struct text *text, bool *first)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		const struct value *value = visit_value(visit, part->stage, reading);
		if (reading_info(reading)->scope != part->scope || value->state == VALUE_NOT_TAKEN ||
		    (times && value->taken_at == WALL_TIME_NONE))
			continue;
		json_add_name(text, reading_info(reading)->key, first);
		if (times)
			write_time(&value->taken_at, text);
		else
			write_value(reading, value, text);
	}
}

static void write_charge_readings(const struct charge_entry *entry, struct text *text,
                                  bool *first)
{
	for (int i = 0; i < CHARGE_READING_COUNT; i++) {
		enum reading reading = charge_reading_id((enum charge_reading)i);
		if (entry->values[i].state == VALUE_NOT_TAKEN)
			continue;
		json_add_name(text, reading_info(reading)->key, first);
		write_value(reading, &entry->values[i], text);
	}
}

static void write_taken_at(const struct call *call, struct text *text, bool *first)
{
	for (int i = 0; i < PART_COUNT; i++) {
		bool first_time = true;
		if (parts[i].readings != READINGS_OF_SCOPE)
			continue;
		json_add_name(text, parts[i].key, first);
		text_add_char(text, '{');
		write_readings(&parts[i], &call->visit, true, text, &first_time);
		text_add_char(text, '}');
	}
}

/* One object: a part, or an element of one that is a list. */
static void write_object(const struct call *call, enum part part, const void *source,
                         struct text *text)
{
	bool first = true, first_tax = true;

	text_add_char(text, '{');
	if (part == PART_BILLING) {
		json_add_name(text, tax_key, &first);
		text_add_char(text, '{');
		write_members(tax_members, source, text, &first_tax);
		text_add_char(text, '}');
	}
	write_members(parts[part].members, source, text, &first);
	if (part == PART_TAKEN_AT)
		write_taken_at(call, text, &first);
	else if (parts[part].readings == READINGS_OF_SCOPE)
		write_readings(&parts[part], &call->visit, false, text, &first);
	else if (parts[part].readings == READINGS_OF_CHARGE)
		write_charge_readings(source, text, &first);
	text_add_char(text, '}');
}

/* The same for a call that is only looked at. */
static const void *part_of(const struct call *call, enum part part, size_t index)
{
	return part_at((struct call *)(uintptr_t)call, part, index);
}

void call_json_write(const struct call *call, struct text *text)
{
	for (int i = 0; i < PART_COUNT; i++) {
		enum part part = (enum part)i;
		text_add_format(text, "%s\"%s\": ", i == 0 ? "{" : ",\n ", parts[i].key);
		if (!parts[i].is_list) {
			write_object(call, part, part_of(call, part, 0), text);
			continue;
		}
		text_add_char(text, '[');
		for (size_t j = 0; part_of(call, part, j); j++) {
			text_add(text, j == 0 ? "\n  " : ",\n  ");
			write_object(call, part, part_of(call, part, j), text);
		}
		text_add_char(text, ']');
	}
	text_add(text, "}\n");
}
