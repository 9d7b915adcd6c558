/*
 * A call as JSON, both ways by the same tables: a section of the document is
 * a row of `sections`, its members are those of the call's part
 * (call_json_members.c), and readings come from the catalogue.
 */
#include <padside/app/call_json.h>

#include <stdlib.h>
#include <string.h>

#include <padside/base/json_text.h>
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
	return call_json_refuse(item, "there is no such member", error);
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
		return call_json_refuse(item, homes[reading_info(reading)->scope], error);
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
	enum status status = call_json_read_member(&time, &value.taken_at, item, error);
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
		return call_json_read_member(member, at->target, item, error);
	if (section->has_uid && strcmp(item->key, uid_key) == 0)
		return call_json_read_uid(item, at->target, error);
	if (section->has_readings)
		return take_reading(at, item, error);
	if (section->part != CALL_PART_COUNT && call_part_info(section->part)->has_charge_readings)
		return take_charge_reading(at->target, item, error);
	return refuse_unknown(item, error);
}

/* ---- Reading: the shape of the document ---- */

static enum status take_section(struct intake *at, const struct json_item *item,
                                struct error *error)
{
	int section = 0;

	if (at->past.earlier && strcmp(item->key, earlier_key) == 0) {
		at->in_earlier = item->type == JSON_ARRAY;
		return at->in_earlier || item->type == JSON_NULL ? STATUS_OK
			: call_json_refuse(item, "a list [ ] is expected", error);
	}
	while (section < SECTION_COUNT && strcmp(sections[section].key, item->key) != 0)
		section++;
	if (section == SECTION_COUNT)
		return refuse_unknown(item, error);
	if (item->type == JSON_NULL)
		return STATUS_OK;
	at->section = (enum section)section;
	if (item->type != (is_list(at->section) ? JSON_ARRAY : JSON_OBJECT))
		return call_json_refuse(item, is_list(at->section) ? "a list [ ] is expected"
		                                         : "an object { } is expected", error);
	at->target = is_list(at->section) ? NULL : section_at(at->call, at->section, 0);
	at->has_customer = at->has_customer || at->section == SECTION_CUSTOMER;
	return STATUS_OK;
}

static enum status take_element(struct intake *at, const struct json_item *item,
                                struct error *error)
{
	if (item->type != JSON_OBJECT)
		return call_json_refuse(item, "an object { } is expected", error);
	if (item->index >= LIST_MOST)
		return call_json_refuse(item, "more lines than a call has", error);
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
	return call_json_refuse(item, "a single value is expected, no object or list", error);
}

static enum status take_in_inner(struct intake *at, const struct json_item *item,
                                 struct error *error)
{
	if (item->type == JSON_OBJECT || item->type == JSON_ARRAY)
		return call_json_refuse(item, "a single value is expected, no object or list", error);
	if (at->times)
		return take_time(at, item, error);
	if (!at->in_tax)
		return take_field(at, item, error);
	const struct call_member *member = call_member_find(PART_TAX, item->key);
	return member ? call_json_read_member(member, at->target, item, error)
	              : refuse_unknown(item, error);
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
		return item->type == JSON_OBJECT
			? take_inner(at, item, error)
			: call_json_refuse(item, "a single value is expected, no list", error);
	if (at->section == SECTION_TAKEN_AT ||
	    (at->section == SECTION_BILLING && strcmp(item->key, tax_key) == 0))
		return call_json_refuse(item, "an object { } is expected", error);
	return take_field(at, item, error);
}

/* ---- Reading: putting in order ---- */

static void finish(struct call *call)
{
	for (int i = 0; i < STAGE_COUNT * READING_COUNT; i++) {
		struct value *value = &call->visit.values[i / READING_COUNT][i % READING_COUNT];
		if (value->state == VALUE_NOT_TAKEN)
			value->taken_at = WALL_TIME_NONE;
	}
	call->visit.cooling_hours = call->billing.cooling_hours;
	for (int list = 0; list < CALL_LIST_COUNT; list++)
		call_list_sort(call, (enum call_list)list);
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
		                   "customer: it must be there, a stored call needs a customer");
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
		call_json_write_member(member, source, exact, text);
	}
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
			call_json_write_time(value->taken_at, text);
		else
			call_json_write_value(reading, value, text);
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
		call_json_write_value(reading, &entry->values[i], text);
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
