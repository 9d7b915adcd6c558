/*
 * The parts of a call and their members, each a row; and how each form of
 * member becomes exact text and comes back.
 */
#include <padside/model/call_parts.h>

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

/* ---- Tables ---- */

#define AT(type, field) .offset = offsetof(struct type, field)
#define TEXT_AT(type, field) \
	.form = FORM_TEXT, AT(type, field), .size = sizeof ((struct type *)0)->field

static const struct call_member customer_members[] = {
	{ .key = "name", TEXT_AT(customer, name), .always = true },
	{ .key = "phone", TEXT_AT(customer, phone) },
	{ .key = "email", TEXT_AT(customer, email) },
	{ .key = NULL },
};

static const struct call_member site_members[] = {
	{ .key = "address", TEXT_AT(site, address) },
	{ .key = NULL },
};

static const struct call_member system_members[] = {
	{ .key = "name", TEXT_AT(system, name) },
	{ .key = NULL },
};

static const struct call_member call_members[] = {
	{ .key = "complaint", TEXT_AT(call, complaint) },
	{ .key = "summary", TEXT_AT(call, summary) },
	{ .key = "office_note", TEXT_AT(call, office_note) },
	{ .key = "opened_at", .label = "begun", .form = FORM_TIME, AT(call, opened_at) },
	{ .key = "closed_at", .label = "closed", .form = FORM_TIME, AT(call, closed_at) },
	{ .key = "unsafe_at", .label = "read while not safe", .form = FORM_TIME, AT(call, unsafe_at) },
	{ .key = "planned_at", .form = FORM_TIME, AT(call, planned_at) },
	{ .key = "access_note", TEXT_AT(call, access_note) },
	{ .key = "job_number", TEXT_AT(call, job_number) },
	{ .key = "technician", TEXT_AT(call, technician) },
	{ .key = "licence", TEXT_AT(call, licence) },
	{ .key = "certification", TEXT_AT(call, certification) },
	{ .key = "arrived_at", .form = FORM_TIME, AT(call, arrived_at) },
	{ .key = "left_at", .form = FORM_TIME, AT(call, left_at) },
	{ .key = "authorised_by", TEXT_AT(call, authorised_by) },
	{ .key = "authorised_at", .form = FORM_TIME, AT(call, authorised_at) },
	{ .key = "authorised_amount", .form = FORM_CENTS, AT(call, authorised_amount), .high = 1e7 },
	{ .key = "accepted_by", TEXT_AT(call, accepted_by) },
	{ .key = "accepted_at", .form = FORM_TIME, AT(call, accepted_at) },
	{ .key = "accepted_total", .form = FORM_CENTS, AT(call, accepted_total), .high = 1e7 },
	{ .key = "payment_terms", TEXT_AT(call, payment_terms) },
	{ .key = "billed_at", .label = "billed", .form = FORM_TIME, AT(call, billed_at) },
	{ .key = "checklist", TEXT_AT(call, checklist) },
	{ .key = NULL },
};

static const struct call_member billing_members[] = {
	{ .key = "discount", .form = FORM_PERCENT, AT(billing, discount),
	  .high = BILLING_MOST_PERCENT },
	{ .key = "deposit", .form = FORM_CENTS, AT(billing, deposit), .high = 1e7 },
	{ .key = "cooling_hours", .label = "cooling hours a year",
	  .form = FORM_AMOUNT, AT(billing, cooling_hours),
	  .high = BILLING_MOST_HOURS },
	{ .key = "energy_rate", .label = "cents a kWh", .form = FORM_AMOUNT, AT(billing, energy_rate),
	  .high = BILLING_MOST_ENERGY_RATE },
	{ .key = NULL },
};

static const struct call_member tax_members[] = {
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

#define OUNCES_AT(type, field) \
	.form = FORM_AMOUNT, AT(type, field), .unit = UNIT_OZ, .high = 3000
#define POUNDS_AT(type, field) \
	.form = FORM_AMOUNT, AT(type, field), .unit = UNIT_LB, .high = 3000

static const struct call_member charge_members[] = {
	{ .key = "at", .label = "time", .form = FORM_TIME, AT(charge_entry, at) },
	{ .key = "added", OUNCES_AT(charge_entry, added_oz) },
	{ .key = "recovered", OUNCES_AT(charge_entry, recovered_oz) },
	{ .key = "cylinder", TEXT_AT(charge_entry, cylinder) },
	{ .key = "note", TEXT_AT(charge_entry, note) },
	{ .key = NULL },
};

static const struct call_member work_members[] = {
	{ .key = "kind", .form = FORM_WORK_KIND, AT(work_line, kind), .always = true },
	{ .key = "description", .label = "what", TEXT_AT(work_line, description), .always = true },
	{ .key = "quantity",
	  .form = FORM_QUANTITY, AT(work_line, quantity), .high = 1e6, .always = true },
	{ .key = "unit_price", .label = "each",
	  .form = FORM_CENTS, AT(work_line, unit_price), .low = -1e7, .high = 1e7,
	  .always = true },
	{ .key = "no_charge", .label = "free", .form = FORM_FLAG, AT(work_line, no_charge) },
	{ .key = "note", TEXT_AT(work_line, note) },
	{ .key = NULL },
};

static const struct call_member offer_members[] = {
	{ .key = "title", .label = "what is done", TEXT_AT(offer, title), .always = true },
	{ .key = "price_low", .label = "price from",
	  .form = FORM_CENTS, AT(offer, price_low), .high = 1e7, .always = true },
	{ .key = "price_high", .label = "price to",
	  .form = FORM_CENTS, AT(offer, price_high), .high = 1e7, .always = true },
	{ .key = "years_low", .label = "lasts from, years",
	  .form = FORM_AMOUNT, AT(offer, years_low), .high = 100 },
	{ .key = "years_high", .label = "lasts to, years",
	  .form = FORM_AMOUNT, AT(offer, years_high), .high = 100 },
	{ .key = "seer", .label = "SEER", .form = FORM_AMOUNT, AT(offer, seer), .high = 60 },
	{ .key = "decision", .form = FORM_DECISION, AT(offer, decision) },
	{ .key = "decided_by", .label = "said by", TEXT_AT(offer, decided_by) },
	{ .key = "decided_at", .label = "said at", .form = FORM_TIME, AT(offer, decided_at) },
	{ .key = "note", TEXT_AT(offer, note) },
	{ .key = NULL },
};

static const struct call_member watch_members[] = {
	{ .key = "fault", TEXT_AT(watch_item, fault) },
	{ .key = "text", TEXT_AT(watch_item, text), .always = true },
	{ .key = "noted_at", .label = "noted", .form = FORM_TIME, AT(watch_item, noted_at) },
	{ .key = "closed_at", .label = "dealt with", .form = FORM_TIME, AT(watch_item, closed_at) },
	{ .key = NULL },
};

static const struct call_member judgement_members[] = {
	{ .key = "fault", TEXT_AT(judgement, fault), .always = true },
	{ .key = "verdict", .form = FORM_VERDICT, AT(judgement, verdict), .always = true },
	{ .key = "why", TEXT_AT(judgement, why) },
	{ .key = "by", TEXT_AT(judgement, by) },
	{ .key = "at", .label = "time", .form = FORM_TIME, AT(judgement, at) },
	{ .key = NULL },
};

#define MEASURED_AT(type, field, unit_) .form = FORM_MEASURED, AT(type, field), .unit = UNIT_##unit_

static const struct call_member tightness_members[] = {
	{ .key = "kind", .label = "what",
	  .form = FORM_TIGHTNESS_KIND, AT(tightness_entry, kind), .always = true },
	{ .key = "at", .label = "time", .form = FORM_TIME, AT(tightness_entry, at) },
	{ .key = "pressure", MEASURED_AT(tightness_entry, pressure, PSIG), .low = -14.7, .high = 1000 },
	{ .key = "temperature", MEASURED_AT(tightness_entry, temperature, F), .low = -60, .high = 200 },
	{ .key = "microns", MEASURED_AT(tightness_entry, microns, NONE), .high = 800000 },
	{ .key = "amount", .label = "weighed in",
	  MEASURED_AT(tightness_entry, amount, OZ), .high = 3000 },
	{ .key = "cylinder", TEXT_AT(tightness_entry, cylinder) },
	{ .key = "note", TEXT_AT(tightness_entry, note) },
	{ .key = NULL },
};

static const struct call_member cylinder_members[] = {
	{ .key = "name", .label = "label", TEXT_AT(cylinder, name), .always = true },
	{ .key = "refrigerant", .label = "holds", .form = FORM_REFRIGERANT, AT(cylinder, refrigerant) },
	{ .key = "water_capacity", .label = "water capacity",
	  POUNDS_AT(cylinder, water_capacity_lb) },
	{ .key = "tare", POUNDS_AT(cylinder, tare_lb) },
	{ .key = "weight", POUNDS_AT(cylinder, weight_lb) },
	{ .key = "test_date", .label = "tested", .form = FORM_TIME, AT(cylinder, test_date) },
	{ .key = "went_to", .label = "gas went to", TEXT_AT(cylinder, went_to) },
	{ .key = NULL },
};

#define PLACE(member) .offset = offsetof(struct call, member)
#define LIST(id) .is_list = true, .list = LIST_##id

static const struct call_part_info parts[CALL_PART_COUNT] = {
	[PART_CUSTOMER] = { "customer", "the customer", customer_members, PLACE(customer) },
	[PART_SITE] = { "site", "the address", site_members, PLACE(site) },
	[PART_SYSTEM] = { "system", "the unit", system_members, PLACE(system) },
	[PART_CALL] = { "call", "the call", .members = call_members },
	[PART_BILLING] = { "billing", "discount, deposit, energy", billing_members, PLACE(billing) },
	[PART_TAX] = { "tax", "the taxes", tax_members, PLACE(billing) },
	[PART_CHARGE] = { "charge_log", "a line of the charge log", charge_members, LIST(CHARGE),
	                  .has_charge_readings = true },
	[PART_WORK] = { "work", "a line of the work", work_members, LIST(WORK) },
	[PART_OFFERS] = { "choices", "an option", offer_members, LIST(OFFERS) },
	[PART_WATCH] = { "watch", "a watch item", watch_members, LIST(WATCH) },
	[PART_JUDGEMENTS] = { "judgement", "a judgement", judgement_members, LIST(JUDGEMENTS) },
	[PART_TIGHTNESS] = { "tightness", "a line of the tightness log", tightness_members,
	                     LIST(TIGHTNESS) },
	[PART_CYLINDERS] = { "cylinder", "a cylinder", cylinder_members, LIST(CYLINDERS) },
};

/* ---- Forms as text ---- */

/* A form: how it is written as text ("" when empty) and read back from a text that is not empty. */
struct text_form {
	void (*format)(const struct call_member *member, const void *field, char *text, size_t size);
	bool (*parse)(const struct call_member *member, void *field, const char *text);
	void (*clear)(const struct call_member *member, void *field);
};

static void format_text(const struct call_member *member, const void *field, char *text,
                        size_t size)
{
	(void)member;
	text_copy(text, size, field);
}

static bool parse_text(const struct call_member *member, void *field, const char *text)
{
	if (strlen(text) >= member->size)
		return false;
	memmove(field, text, strlen(text) + 1);
	return true;
}

static void clear_text(const struct call_member *member, void *field)
{
	memset(field, 0, member->size);
}

static void format_time(const struct call_member *member, const void *field, char *text,
                        size_t size)
{
	(void)member;
	clock_format(*(const wall_time *)field, text, size);
}

static bool parse_time(const struct call_member *member, void *field, const char *text)
{
	(void)member;
	return clock_parse(text, field);
}

static void clear_time(const struct call_member *member, void *field)
{
	(void)member;
	*(wall_time *)field = WALL_TIME_NONE;
}

static void format_whole(const struct call_member *member, const void *field, char *text,
                         size_t size)
{
	int64_t value = *(const int64_t *)field;

	(void)member;
	if (value == 0)
		text_copy(text, size, "");
	else
		snprintf(text, size, "%" PRId64, value);
}

static bool parse_whole_of(const struct call_member *member, void *field, const char *text,
                           double scale)
{
	char *end;
	int64_t value = strtoll(text, &end, 10);

	if (*end || end == text || (double)value < member->low * scale ||
	    (double)value > member->high * scale)
		return false;
	*(int64_t *)field = value;
	return true;
}

static bool parse_hundredths(const struct call_member *member, void *field, const char *text)
{
	return parse_whole_of(member, field, text, 100);
}

static bool parse_thousandths(const struct call_member *member, void *field, const char *text)
{
	return parse_whole_of(member, field, text, 1000);
}

static void clear_whole(const struct call_member *member, void *field)
{
	(void)member;
	*(int64_t *)field = 0;
}

static void format_double(double number, char *text, size_t size)
{
	if (isfinite(number))
		number_format_exact(number, text, size);
	else
		text_copy(text, size, "");
}

/* A whole text that is a number within the member's limits. */
static bool parse_double(const struct call_member *member, const char *text, double *number)
{
	char *end;
	double value = strtod(text, &end);

	if (*end || end == text || !(value >= member->low && value <= member->high))
		return false;
	*number = value + 0.0;
	return true;
}

static void format_amount(const struct call_member *member, const void *field, char *text,
                          size_t size)
{
	double number = *(const double *)field;

	(void)member;
	if (number > 0 || number < 0)
		format_double(number, text, size);
	else
		text_copy(text, size, "");
}

static bool parse_amount(const struct call_member *member, void *field, const char *text)
{
	return parse_double(member, text, field);
}

static void clear_amount(const struct call_member *member, void *field)
{
	(void)member;
	*(double *)field = 0;
}

static void format_measured(const struct call_member *member, const void *field, char *text,
                            size_t size)
{
	const struct value *value = field;

	(void)member;
	if (value->state == VALUE_TAKEN)
		format_double(value->number, text, size);
	else
		text_copy(text, size, "");
}

static bool parse_measured(const struct call_member *member, void *field, const char *text)
{
	double number;

	if (!parse_double(member, text, &number))
		return false;
	*(struct value *)field = (struct value){
		.state = VALUE_TAKEN, .number = number, .taken_at = WALL_TIME_NONE,
	};
	return true;
}

static void clear_measured(const struct call_member *member, void *field)
{
	(void)member;
	*(struct value *)field = (struct value){ .taken_at = WALL_TIME_NONE };
}

static void format_flag(const struct call_member *member, const void *field, char *text,
                        size_t size)
{
	(void)member;
	text_copy(text, size, *(const bool *)field ? "1" : "");
}

static bool parse_flag(const struct call_member *member, void *field, const char *text)
{
	bool is_set = strcmp(text, "1") == 0;

	(void)member;
	if (!is_set && strcmp(text, "0") != 0)
		return false;
	*(bool *)field = is_set;
	return true;
}

static void clear_flag(const struct call_member *member, void *field)
{
	(void)member;
	*(bool *)field = false;
}

#define WORD_FORM(name, type) \
	static void format_##name(const struct call_member *member, const void *field, char *text, \
	                          size_t size) \
	{ \
		(void)member; \
		text_copy(text, size, name##_key(*(const enum type *)field)); \
	} \
	static bool parse_##name(const struct call_member *member, void *field, const char *text) \
	{ \
		(void)member; \
		return name##_from_key(text, field); \
	} \
	static void clear_##name(const struct call_member *member, void *field) \
	{ \
		(void)member; \
		*(enum type *)field = (enum type)0; \
	}

WORD_FORM(work_kind, work_kind)
WORD_FORM(decision, decision)
WORD_FORM(judgement_verdict, judgement_verdict)
WORD_FORM(tightness_kind, tightness_kind)

static void format_refrigerant(const struct call_member *member, const void *field, char *text,
                               size_t size)
{
	enum choice choice = *(const enum choice *)field;

	(void)member;
	text_copy(text, size, choice == CHOICE_NONE ? "" : choice_key(choice));
}

static bool parse_refrigerant(const struct call_member *member, void *field, const char *text)
{
	(void)member;
	for (int i = 0; i < choice_count(CHOICES_REFRIGERANT); i++) {
		enum choice choice = (enum choice)((int)choice_first(CHOICES_REFRIGERANT) + i);
		if (strcmp(choice_key(choice), text) == 0) {
			*(enum choice *)field = choice;
			return true;
		}
	}
	return false;
}

static void clear_refrigerant(const struct call_member *member, void *field)
{
	(void)member;
	*(enum choice *)field = CHOICE_NONE;
}

static const struct text_form forms[CALL_FORM_COUNT] = {
	[FORM_TEXT] = { format_text, parse_text, clear_text },
	[FORM_TIME] = { format_time, parse_time, clear_time },
	[FORM_CENTS] = { format_whole, parse_hundredths, clear_whole },
	[FORM_QUANTITY] = { format_whole, parse_thousandths, clear_whole },
	[FORM_PERCENT] = { format_whole, parse_thousandths, clear_whole },
	[FORM_AMOUNT] = { format_amount, parse_amount, clear_amount },
	[FORM_MEASURED] = { format_measured, parse_measured, clear_measured },
	[FORM_FLAG] = { format_flag, parse_flag, clear_flag },
	[FORM_WORK_KIND] = { format_work_kind, parse_work_kind, clear_work_kind },
	[FORM_DECISION] = { format_decision, parse_decision, clear_decision },
	[FORM_VERDICT] = { format_judgement_verdict, parse_judgement_verdict, clear_judgement_verdict },
	[FORM_TIGHTNESS_KIND] = { format_tightness_kind, parse_tightness_kind, clear_tightness_kind },
	[FORM_REFRIGERANT] = { format_refrigerant, parse_refrigerant, clear_refrigerant },
};

/* ---- Public ---- */

const struct call_part_info *call_part_info(enum call_part part)
{
	return &parts[part];
}

enum call_part call_part_of_list(enum call_list list)
{
	return (enum call_part)((int)PART_CHARGE + (int)list);
}

const struct call_member *call_member_find(enum call_part part, const char *key)
{
	for (const struct call_member *member = parts[part].members; member->key; member++)
		if (strcmp(member->key, key) == 0)
			return member;
	return NULL;
}

void call_member_format(const struct call_member *member, const void *part, char *text,
                        size_t size)
{
	forms[member->form].format(member, (const char *)part + member->offset, text, size);
}

bool call_member_parse(const struct call_member *member, void *part, const char *text)
{
	void *field = (char *)part + member->offset;

	if (*text)
		return forms[member->form].parse(member, field, text);
	forms[member->form].clear(member, field);
	return true;
}
