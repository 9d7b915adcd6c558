/*
 * A call as JSON, both ways by the same tables: a section of the document is
 * a row of `sections`, its members are those of the call's part, and each form
 * of member knows how it is read and written.  Readings come from the
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
#include <padside/model/call_parts.h>

#include "app/call_sections.h"

/* More lines than any call has; keeps hostile input from taking time. */
enum { LIST_MOST = 1000 };

/* ---- The sections of the document ---- */

#define READINGS(scope_, stage_) .has_readings = true, .scope = scope_, .stage = stage_
#define NO_PART .part = CALL_PART_COUNT

const struct section_row call_json_sections[SECTION_COUNT] = {
	[SECTION_CUSTOMER] = { "customer", PART_CUSTOMER, .has_uid = true },
	[SECTION_SITE] = { "site", PART_SITE, true, READINGS(SCOPE_SITE, STAGE_AS_FOUND) },
	[SECTION_SYSTEM] = { "system", PART_SYSTEM, true, READINGS(SCOPE_SYSTEM, STAGE_AS_FOUND) },
	[SECTION_CALL] = { "call", PART_CALL, .has_uid = true },
	[SECTION_AS_FOUND] = { "as_found", NO_PART, READINGS(SCOPE_CALL, STAGE_AS_FOUND) },
	[SECTION_AS_LEFT] = { "as_left", NO_PART, READINGS(SCOPE_CALL, STAGE_AS_LEFT) },
	[SECTION_CHARGE] = { "charge_log", PART_CHARGE, .has_uid = true },
	[SECTION_WORK] = { "work", PART_WORK, .has_uid = true },
	[SECTION_CHOICES] = { "choices", PART_OFFERS, .has_uid = true },
	[SECTION_WATCH] = { "watch", PART_WATCH, .has_uid = true },
	[SECTION_JUDGEMENT] = { "judgement", PART_JUDGEMENTS, .has_uid = true },
	[SECTION_TIGHTNESS] = { "tightness", PART_TIGHTNESS, .has_uid = true },
	[SECTION_CYLINDER] = { "cylinder", PART_CYLINDERS, .has_uid = true },
	[SECTION_BILLING] = { "billing", .part = PART_BILLING },
	[SECTION_TAKEN_AT] = { "taken_at", NO_PART },
};

static const struct section_row *const sections = call_json_sections;

/* The member of `billing` that is an object itself, and the one that every row with an id has. */
static const char tax_key[] = "tax";
static const char uid_key[] = "uid";

/* Visits before the call, beside its sections. */
static const char earlier_key[] = "earlier";

static bool is_list(enum section section)
{
	return sections[section].part != CALL_PART_COUNT &&
	       call_part_info(sections[section].part)->is_list;
}

static enum call_list list_of(enum section section)
{
	return call_part_info(sections[section].part)->list;
}

/* The index-th element of a section, or its struct itself (index 0); NULL past the end. */
static void *section_at(struct call *call, enum section section, size_t index)
{
	enum call_part part = sections[section].part;

	if (part == CALL_PART_COUNT)
		return index == 0 ? call : NULL;
	if (is_list(section))
		return call_list_at(call, list_of(section), index);
	return index == 0 ? (char *)call + call_part_info(part)->offset : NULL;
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

/* ---- Reading and writing one member ---- */

static enum status refuse(const struct json_item *item, const char *why, struct error *error)
{
	return error_set(error, STATUS_BAD_INPUT, "%s: %s", item->path, why);
}

static enum status refuse_outside(const struct call_member *member, const struct json_item *item,
                                  struct error *error)
{
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	number_format_exact(member->low, low, sizeof low);
	number_format_exact(member->high, high, sizeof high);
	return error_set(error, STATUS_OUT_OF_RANGE, "%s: it takes %s to %s", item->path, low,
	                 high);
}

static enum status read_text(const struct call_member *member, const struct json_item *item,
                             void *field, struct error *error)
{
	if (item->type != JSON_STRING)
		return refuse(item, "a text in quotes is expected", error);
	if (strlen(item->text) >= member->size)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: it takes at most %zu bytes", item->path,
		                 member->size - 1);
	text_copy(field, member->size, item->text);
	return STATUS_OK;
}

static enum status read_uid(const struct json_item *item, struct uid *uid, struct error *error)
{
	if (item->type == JSON_NULL)
		return STATUS_OK;
	if (item->type != JSON_STRING || !uid_is_valid(item->text))
		return refuse(item, "an id is expected, a UUID in small letters", error);
	text_copy(uid->text, sizeof uid->text, item->text);
	return STATUS_OK;
}

static enum status read_time(const struct call_member *member, const struct json_item *item,
                             void *field, struct error *error)
{
	(void)member;
	if (item->type != JSON_STRING || !clock_parse(item->text, field))
		return refuse(item, "a local time is expected, like \"2026-06-03T09:12\"", error);
	return STATUS_OK;
}

static enum status read_decimals(const struct call_member *member, const struct json_item *item,
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

static enum status read_cents(const struct call_member *member, const struct json_item *item,
                              void *field, struct error *error)
{
	return read_decimals(member, item, 2, "an amount like 12.50 is expected, at most two decimals",
	                     field, error);
}

static enum status read_quantity(const struct call_member *member, const struct json_item *item,
                                 void *field, struct error *error)
{
	return read_decimals(member, item, 3, "a quantity is expected, at most three decimals", field,
	                     error);
}

static enum status read_percent(const struct call_member *member, const struct json_item *item,
                                void *field, struct error *error)
{
	return read_decimals(member, item, 3, "a percentage is expected, at most three decimals", field,
	                     error);
}

/* A number in the member's unit, or a text that carries its own. */
static enum status read_number(const struct call_member *member, const struct json_item *item,
                               double *number, struct error *error)
{
	enum unit unit = member->unit;
	const char *rest = "";
	double read = 0;

	if (item->type == JSON_NUMBER)
		read = strtod(item->text, NULL);
	else if (member->unit == UNIT_NONE)
		return refuse(item, "a number is expected", error);
	else if (item->type != JSON_STRING || !number_parse(item->text, &read, &rest) ||
	         (*rest && !unit_from_text(rest, member->unit, &unit)))
		return error_set(error, STATUS_BAD_INPUT, "%s: a number in %s is expected, or a text with its unit",
		                 item->path, unit_symbol(member->unit, false));
	read = unit_convert(read, unit, member->unit);
	if (!(read >= member->low && read <= member->high))
		return refuse_outside(member, item, error);
	*number = read + 0.0;
	return STATUS_OK;
}

static enum status read_amount(const struct call_member *member, const struct json_item *item,
                               void *field, struct error *error)
{
	return read_number(member, item, field, error);
}

static enum status read_measured(const struct call_member *member, const struct json_item *item,
                                 void *field, struct error *error)
{
	struct value value = { .state = VALUE_TAKEN, .taken_at = WALL_TIME_NONE };
	enum status status = read_number(member, item, &value.number, error);

	if (status == STATUS_OK)
		*(struct value *)field = value;
	return status;
}

static enum status read_flag(const struct call_member *member, const struct json_item *item,
                             void *field, struct error *error)
{
	(void)member;
	if (item->type != JSON_TRUE && item->type != JSON_FALSE)
		return refuse(item, "true or false is expected", error);
	*(bool *)field = item->type == JSON_TRUE;
	return STATUS_OK;
}

/* A word of a list; `words` says which there are. */
static enum status read_word(const struct json_item *item, bool known, const char *words,
                             struct error *error)
{
	return known ? STATUS_OK : refuse(item, words, error);
}

static enum status read_work_kind(const struct call_member *member, const struct json_item *item,
                                  void *field, struct error *error)
{
	(void)member;
	return read_word(item, item->type == JSON_STRING && work_kind_from_key(item->text, field),
	                 "labour, part, refrigerant or fee is expected", error);
}

static enum status read_decision(const struct call_member *member, const struct json_item *item,
                                 void *field, struct error *error)
{
	(void)member;
	return read_word(item, item->type == JSON_STRING && decision_from_key(item->text, field),
	                 "none, accepted or declined is expected", error);
}

static enum status read_verdict(const struct call_member *member, const struct json_item *item,
                                void *field, struct error *error)
{
	(void)member;
	return read_word(item, item->type == JSON_STRING &&
	                 judgement_verdict_from_key(item->text, field),
	                 "confirmed, ruled_out or watch is expected", error);
}

static enum status read_tightness_kind(const struct call_member *member,
                                       const struct json_item *item, void *field,
                                       struct error *error)
{
	(void)member;
	return read_word(item, item->type == JSON_STRING && tightness_kind_from_key(item->text, field),
	                 "nitrogen, vacuum or weigh_in is expected", error);
}

static enum status read_refrigerant(const struct call_member *member,
                                    const struct json_item *item, void *field,
                                    struct error *error)
{
	struct error ignored;
	struct value value;

	(void)member;
	if (item->type != JSON_STRING ||
	    reading_parse(READING_REFRIGERANT, item->text, UNITS_US, &value, &ignored) != STATUS_OK)
		return refuse(item, "a refrigerant is expected, like \"R-410A\"", error);
	*(enum choice *)field = value.choice;
	return STATUS_OK;
}

static void write_string(const void *field, const char *exact, struct text *text)
{
	(void)field;
	json_add_string(text, exact);
}

static void write_cents(const void *field, const char *exact, struct text *text)
{
	(void)exact;
	text_add_char(text, '"');
	write_decimal(*(const cents *)field, 2, 2, text);
	text_add_char(text, '"');
}

static void write_quantity(const void *field, const char *exact, struct text *text)
{
	(void)exact;
	write_decimal(*(const thousandths *)field, 3, 0, text);
}

static void write_percent(const void *field, const char *exact, struct text *text)
{
	(void)exact;
	write_decimal(*(const millipercent *)field, 3, 0, text);
}

/* The exact text of a number is a JSON number; an empty one stands for 0. */
static void write_number(const void *field, const char *exact, struct text *text)
{
	(void)field;
	text_add(text, *exact ? exact : "0");
}

static void write_flag(const void *field, const char *exact, struct text *text)
{
	(void)exact;
	text_add(text, *(const bool *)field ? "true" : "false");
}

struct form_row {
	/* Reads a member that is not null into its field. */
	enum status (*read)(const struct call_member *member, const struct json_item *item,
	                    void *field, struct error *error);
	/* Writes the field, of which `exact` is the exact text. */
	void (*write)(const void *field, const char *exact, struct text *text);
};

static const struct form_row forms[CALL_FORM_COUNT] = {
	[FORM_TEXT] = { read_text, write_string },
	[FORM_TIME] = { read_time, write_string },
	[FORM_CENTS] = { read_cents, write_cents },
	[FORM_QUANTITY] = { read_quantity, write_quantity },
	[FORM_PERCENT] = { read_percent, write_percent },
	[FORM_AMOUNT] = { read_amount, write_number },
	[FORM_MEASURED] = { read_measured, write_number },
	[FORM_FLAG] = { read_flag, write_flag },
	[FORM_WORK_KIND] = { read_work_kind, write_string },
	[FORM_DECISION] = { read_decision, write_string },
	[FORM_VERDICT] = { read_verdict, write_string },
	[FORM_TIGHTNESS_KIND] = { read_tightness_kind, write_string },
	[FORM_REFRIGERANT] = { read_refrigerant, write_string },
};

/* ---- Reading: members and readings ---- */

/* How far the reading of a document is. */
struct intake {
	struct call *call;               /* being filled */
	enum section section;            /* at hand; SECTION_COUNT outside any */
	void *target;                    /* the struct that the members go to */
	const struct section_row *times; /* within taken_at: whose times */
	bool in_tax;                     /* within billing.tax */
	bool has_customer;               /* the document says whose call it is */
	struct earlier_intake past;      /* within "earlier"; its `earlier` NULL: not taken */
	bool in_earlier;                 /* there now */
};

static enum status refuse_unknown(const struct json_item *item, struct error *error)
{
	return refuse(item, "there is no such member", error);
}

static enum status take_member(const struct call_member *member, void *target,
                               const struct json_item *item, struct error *error)
{
	if (item->type == JSON_NULL)
		return STATUS_OK;
	return forms[member->form].read(member, item, (char *)target + member->offset, error);
}

/* A reading's error, with the path of its member before it. */
static enum status with_path(const struct json_item *item, const struct error *why,
                             struct error *error)
{
	return error_set(error, why->status, "%s: %s", item->path, why->text);
}

/* Reads a reading as numbers, words or what was typed. */
enum status call_json_read_value(enum reading reading, const struct json_item *item,
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
			return refuse(item, kind == KIND_YES_NO ? "true or false is expected"
			                                        : "a text in quotes is expected", error);
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
	const struct section_row *section = &sections[at->section];
	enum reading reading = reading_from_key(item->key);
	struct value value;

	if (reading == READING_NONE)
		return refuse_unknown(item, error);
	if (reading_info(reading)->scope != section->scope)
		return refuse(item, homes[reading_info(reading)->scope], error);
	enum status status = call_json_read_value(reading, item, &value, error);
	if (status != STATUS_OK)
		return status;
	/* taken_at may have come before it. */
	value.taken_at = visit_value(&at->call->visit, section->stage, reading)->taken_at;
	visit_set(&at->call->visit, section->stage, reading, &value);
	return STATUS_OK;
}

static enum status take_charge_reading(struct charge_entry *entry, const struct json_item *item,
                                       struct error *error)
{
	for (int i = 0; i < CHARGE_READING_COUNT; i++) {
		enum reading reading = charge_reading_id((enum charge_reading)i);
		if (strcmp(reading_info(reading)->key, item->key) == 0)
			return call_json_read_value(reading, item, &entry->values[i], error);
	}
	return refuse_unknown(item, error);
}

static enum status take_time(struct intake *at, const struct json_item *item,
                             struct error *error)
{
	static const struct call_member time = { .form = FORM_TIME };
	enum reading reading = reading_from_key(item->key);

	if (reading == READING_NONE || reading_info(reading)->scope != at->times->scope)
		return refuse_unknown(item, error);
	struct value value = *visit_value(&at->call->visit, at->times->stage, reading);
	enum status status = take_member(&time, &value.taken_at, item, error);
	visit_set(&at->call->visit, at->times->stage, reading, &value);
	return status;
}

/* The id lies at the start of each struct that has one. */
static enum status take_field(struct intake *at, const struct json_item *item,
                              struct error *error)
{
	const struct section_row *section = &sections[at->section];
	const struct call_member *member = section->part == CALL_PART_COUNT ? NULL
		: call_member_find(section->part, item->key);

	if (member)
		return take_member(member, at->target, item, error);
	if (section->has_uid && strcmp(item->key, uid_key) == 0)
		return read_uid(item, at->target, error);
	if (section->has_readings)
		return take_reading(at, item, error);
	if (section->part != CALL_PART_COUNT && call_part_info(section->part)->has_charge_readings)
		return take_charge_reading(at->target, item, error);
	return refuse_unknown(item, error);
}

enum status call_json_read_time(const struct json_item *item, wall_time *time, struct error *error)
{
	static const struct call_member member = { .form = FORM_TIME };

	return take_member(&member, time, item, error);
}

/* ---- Reading: the shape of the document ---- */

static enum status take_section(struct intake *at, const struct json_item *item,
                                struct error *error)
{
	int section = 0;

	if (at->past.earlier && strcmp(item->key, earlier_key) == 0) {
		at->in_earlier = item->type == JSON_ARRAY;
		return at->in_earlier || item->type == JSON_NULL ? STATUS_OK
			: refuse(item, "a list [ ] is expected", error);
	}
	while (section < SECTION_COUNT && strcmp(sections[section].key, item->key) != 0)
		section++;
	if (section == SECTION_COUNT)
		return refuse_unknown(item, error);
	if (item->type == JSON_NULL)
		return STATUS_OK;
	at->section = (enum section)section;
	if (item->type != (is_list(at->section) ? JSON_ARRAY : JSON_OBJECT))
		return refuse(item, is_list(at->section) ? "a list [ ] is expected"
		                                         : "an object { } is expected", error);
	at->target = is_list(at->section) ? NULL : section_at(at->call, at->section, 0);
	at->has_customer = at->has_customer || at->section == SECTION_CUSTOMER;
	return STATUS_OK;
}

static enum status take_element(struct intake *at, const struct json_item *item,
                                struct error *error)
{
	if (item->type != JSON_OBJECT)
		return refuse(item, "an object { } is expected", error);
	if (item->index >= LIST_MOST)
		return refuse(item, "more lines than a call has", error);
	at->target = call_list_add(at->call, list_of(at->section));
	if (!at->target)
		return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
	return STATUS_OK;
}

/* An object within a section: the taxes, or the times of a section's readings. */
static enum status take_inner(struct intake *at, const struct json_item *item,
                              struct error *error)
{
	enum call_part part = sections[at->section].part;

	if (at->section == SECTION_BILLING && strcmp(item->key, tax_key) == 0) {
		at->in_tax = true;
		return STATUS_OK;
	}
	for (int i = 0; i < SECTION_COUNT && at->section == SECTION_TAKEN_AT; i++)
		if (sections[i].has_readings && strcmp(sections[i].key, item->key) == 0) {
			at->times = &sections[i];
			return STATUS_OK;
		}
	if (!(part != CALL_PART_COUNT && call_member_find(part, item->key)) &&
	    reading_from_key(item->key) == READING_NONE)
		return refuse_unknown(item, error);
	return refuse(item, "a single value is expected, no object or list", error);
}

static enum status take_in_inner(struct intake *at, const struct json_item *item,
                                 struct error *error)
{
	if (item->type == JSON_OBJECT || item->type == JSON_ARRAY)
		return refuse(item, "a single value is expected, no object or list", error);
	if (at->times)
		return take_time(at, item, error);
	if (!at->in_tax)
		return take_field(at, item, error);
	const struct call_member *member = call_member_find(PART_TAX, item->key);
	return member ? take_member(member, at->target, item, error) : refuse_unknown(item, error);
}

static enum status take_item(const struct json_item *item, void *context, struct error *error)
{
	struct intake *at = context;

	if (at->in_earlier && item->depth > 1)
		return earlier_take(&at->past, item, error);
	if (item->type == JSON_END) {
		at->in_earlier = false;
		at->in_tax = false;
		at->times = NULL;
		return STATUS_OK;
	}
	if (item->depth == 0)
		return item->type == JSON_OBJECT ? STATUS_OK
			: error_set(error, STATUS_BAD_INPUT, "a call is an object { }");
	if (item->depth == 1)
		return take_section(at, item, error);
	if (item->depth > 2)
		return take_in_inner(at, item, error);
	if (is_list(at->section))
		return take_element(at, item, error);
	if (item->type == JSON_OBJECT || item->type == JSON_ARRAY)
		return item->type == JSON_OBJECT ? take_inner(at, item, error)
		                                 : refuse(item, "a single value is expected, no list", error);
	if (at->section == SECTION_TAKEN_AT ||
	    (at->section == SECTION_BILLING && strcmp(item->key, tax_key) == 0))
		return refuse(item, "an object { } is expected", error);
	return take_field(at, item, error);
}

/* ---- Reading: putting in order ---- */

/* Into time order where the list is kept so; equal ones stay as they came. */
static void sort_list(struct call *call, enum call_list list)
{
	for (size_t i = 1; i < call_list_count(call, list); i++)
		call_list_place(call, list, i);
}

static void finish(struct call *call)
{
	for (int i = 0; i < STAGE_COUNT * READING_COUNT; i++) {
		struct value *value = &call->visit.values[i / READING_COUNT][i % READING_COUNT];
		if (value->state == VALUE_NOT_TAKEN)
			value->taken_at = WALL_TIME_NONE;
	}
	call->visit.cooling_hours = call->billing.cooling_hours;
	for (int list = 0; list < CALL_LIST_COUNT; list++)
		sort_list(call, (enum call_list)list);
	for (size_t i = 0; i < call->charge_count; i++)
		for (int j = 0; j < CHARGE_READING_COUNT; j++)
			if (call->charge[i].values[j].state != VALUE_NOT_TAKEN)
				call->charge[i].values[j].taken_at = call->charge[i].at;
}

static enum status read_call(struct json_reader *reader, const char *text, size_t length,
                             struct intake *at, enum call_json_use use, struct error *error)
{
	call_done(at->call);
	enum status status = json_read(reader, text, length, take_item, at, error);
	if (status == STATUS_OK && use == CALL_JSON_RECORD && !at->has_customer)
		status = error_set(error, STATUS_BAD_INPUT,
		                   "customer: it must be there, a stored call is somebody's");
	if (status != STATUS_OK)
		call_done(at->call);
	else
		finish(at->call);
	return status;
}

enum status call_json_read(struct json_reader *reader, const char *text, size_t length,
                           enum call_json_use use, struct call *call, struct error *error)
{
	struct intake at = { .call = call, .section = SECTION_COUNT };

	return read_call(reader, text, length, &at, use, error);
}

enum status call_json_read_earlier(struct json_reader *reader, const char *text, size_t length,
                                   struct call *call, struct earlier *earlier,
                                   struct error *error)
{
	struct intake at = { .call = call, .section = SECTION_COUNT, .past = { .earlier = earlier } };

	earlier->count = 0;
	return read_call(reader, text, length, &at, CALL_JSON_ASSESS, error);
}

/* ---- Writing ---- */

static void write_members(enum call_part part, const void *source, struct text *text,
                          bool *first)
{
	char exact[MEMBER_TEXT_SIZE];

	for (const struct call_member *member = call_part_info(part)->members; member->key; member++) {
		call_member_format(member, source, exact, sizeof exact);
		bool is_empty = !*exact || (member->form == FORM_DECISION &&
		                            strcmp(exact, decision_key(DECISION_NONE)) == 0);
		if (is_empty && !member->always)
			continue;
		json_add_name(text, member->key, first);
		forms[member->form].write((const char *)source + member->offset, exact, text);
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

static void write_taken(wall_time time, struct text *text)
{
	char exact[CLOCK_TEXT_SIZE];

	clock_format(time, exact, sizeof exact);
	json_add_string(text, exact);
}

/* Writes a section's readings, or (times) when they were taken. */
static void write_readings(const struct section_row *section, const struct visit *visit, bool times,
                           struct text *text, bool *first)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		const struct value *value = visit_value(visit, section->stage, reading);
		if (reading_info(reading)->scope != section->scope || value->state == VALUE_NOT_TAKEN ||
		    (times && value->taken_at == WALL_TIME_NONE))
			continue;
		json_add_name(text, reading_info(reading)->key, first);
		if (times)
			write_taken(value->taken_at, text);
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
	for (int i = 0; i < SECTION_COUNT; i++) {
		bool first_time = true;
		if (!sections[i].has_readings)
			continue;
		json_add_name(text, sections[i].key, first);
		text_add_char(text, '{');
		write_readings(&sections[i], &call->visit, true, text, &first_time);
		text_add_char(text, '}');
	}
}

/* One object: a section, or an element of one that is a list. */
static void write_object(const struct call *call, enum section section, const void *source,
                         struct text *text)
{
	const struct section_row *row = &sections[section];
	bool first = true, first_tax = true;

	text_add_char(text, '{');
	if (section == SECTION_BILLING) {
		json_add_name(text, tax_key, &first);
		text_add_char(text, '{');
		write_members(PART_TAX, source, text, &first_tax);
		text_add_char(text, '}');
	}
	if (row->has_uid && !uid_is_none(source)) {
		json_add_name(text, uid_key, &first);
		json_add_string(text, ((const struct uid *)source)->text);
	}
	if (row->part != CALL_PART_COUNT)
		write_members(row->part, source, text, &first);
	if (section == SECTION_TAKEN_AT)
		write_taken_at(call, text, &first);
	else if (row->has_readings)
		write_readings(row, &call->visit, false, text, &first);
	else if (row->part != CALL_PART_COUNT && call_part_info(row->part)->has_charge_readings)
		write_charge_readings(source, text, &first);
	text_add_char(text, '}');
}

/* The same for a call that is only looked at. */
static const void *section_of(const struct call *call, enum section section, size_t index)
{
	return section_at((struct call *)(uintptr_t)call, section, index);
}

void call_json_write(const struct call *call, struct text *text)
{
	for (int i = 0; i < SECTION_COUNT; i++) {
		enum section section = (enum section)i;
		text_add_format(text, "%s\"%s\": ", i == 0 ? "{" : ",\n ", sections[i].key);
		if (!is_list(section)) {
			write_object(call, section, section_of(call, section, 0), text);
			continue;
		}
		text_add_char(text, '[');
		for (size_t j = 0; section_of(call, section, j); j++) {
			text_add(text, j == 0 ? "\n  " : ",\n  ");
			write_object(call, section, section_of(call, section, j), text);
		}
		text_add_char(text, ']');
	}
	text_add(text, "}\n");
}
