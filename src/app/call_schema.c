/*
 * The JSON Schema of a call, written from the tables by which a call is read
 * and written, so that it cannot say anything else than they do.
 */
#include <padside/app/call_json.h>

#include <padside/base/json_text.h>
#include <padside/base/quantities.h>

#include "app/call_sections.h"

static void add_string(struct text *text, const char *name, const char *value, bool *first)
{
	json_add_name(text, name, first);
	json_add_string(text, value);
}

static void add_number(struct text *text, const char *name, double value, bool *first)
{
	json_add_name(text, name, first);
	json_add_number(text, value);
}

/* Appends a member whose value is JSON already. */
static void add_json(struct text *text, const char *name, const char *json, bool *first)
{
	json_add_name(text, name, first);
	text_add(text, json);
}

/* Begins a property on a line of its own. */
static void add_property(struct text *text, const char *name, bool *first)
{
	bool alone = true;

	text_add(text, *first ? "\n    " : ",\n    ");
	json_add_name(text, name, &alone);
	*first = false;
}

/* ---- Readings ---- */

static void add_choices(struct text *text, enum choice_list list, bool *first)
{
	json_add_name(text, "enum", first);
	text_add_char(text, '[');
	for (int i = 0; i < choice_count(list); i++) {
		json_add_string(text, choice_key((enum choice)((int)choice_first(list) + i)));
		text_add(text, ", ");
	}
	text_add(text, "null]");
}

static void add_number_kind(struct text *text, const struct reading_info *info, bool *first)
{
	add_json(text, "type", "[\"number\", \"string\", \"null\"]", first);
	add_number(text, "minimum", info->hard.low, first);
	add_number(text, "maximum", info->hard.high, first);
	if (info->unit != UNIT_NONE)
		add_string(text, "$comment", unit_symbol(info->unit, false), first);
	if (info->kind == KIND_RESISTANCE)
		add_json(text, "examples", "[\"OL\"]", first);
}

static void add_reading(struct text *text, enum reading reading, bool *outer)
{
	const struct reading_info *info = reading_info(reading);
	char help[QUANTITIES_SIZE];
	bool first = true;

	add_property(text, info->key, outer);
	text_add_char(text, '{');
	add_string(text, "title", info->label, &first);
	quantities_write_both(info->help, help, sizeof help);
	add_string(text, "description", help, &first);
	switch (info->kind) {
	case KIND_NUMBER:
	case KIND_RESISTANCE:
		add_number_kind(text, info, &first);
		break;
	case KIND_CHOICE:
		add_choices(text, info->choices, &first);
		break;
	case KIND_YES_NO:
		add_json(text, "enum", "[true, false, \"yes\", \"no\", null]", &first);
		break;
	case KIND_TEXT:
		add_json(text, "type", "[\"string\", \"null\"]", &first);
		add_number(text, "maxLength", VALUE_TEXT_SIZE - 1, &first);
		break;
	case KIND_DATE:
		add_json(text, "type", "[\"string\", \"null\"]", &first);
		break;
	}
	text_add_char(text, '}');
}

static const char time_schema[] = "{\"$ref\": \"#/$defs/time\"}";

static void add_readings(struct text *text, const struct section_row *section, bool times,
                         bool *outer)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		if (reading_info((enum reading)i)->scope != section->scope)
			continue;
		if (!times) {
			add_reading(text, (enum reading)i, outer);
			continue;
		}
		add_property(text, reading_info((enum reading)i)->key, outer);
		text_add(text, time_schema);
	}
}

/* ---- Members ---- */

static const char *work_kind_word(int index)
{
	return work_kind_key((enum work_kind)index);
}

static const char *decision_word(int index)
{
	return decision_key((enum decision)index);
}

static const char *judgement_word(int index)
{
	return judgement_verdict_key((enum judgement_verdict)index);
}

static const char *tightness_word(int index)
{
	return tightness_kind_key((enum tightness_kind)index);
}

static const char *refrigerant_word(int index)
{
	return choice_key((enum choice)((int)choice_first(CHOICES_REFRIGERANT) + index));
}

static const char number_type[] = "[\"number\", \"string\", \"null\"]";

/* How a form is written down: a type, a definition, or one of some words. */
static const struct {
	const char *type;               /* JSON of its "type" */
	const char *definition;         /* else where it is defined */
	const char *(*word)(int index); /* else its words */
	int words;                      /* how many; 0: as many as there are refrigerants */
} forms[CALL_FORM_COUNT] = {
	[FORM_TEXT] = { .type = "[\"string\", \"null\"]" },
	[FORM_TIME] = { .definition = "#/$defs/time" },
	[FORM_CENTS] = { .definition = "#/$defs/money" },
	[FORM_QUANTITY] = { .type = number_type },
	[FORM_PERCENT] = { .type = number_type },
	[FORM_AMOUNT] = { .type = number_type },
	[FORM_MEASURED] = { .type = number_type },
	[FORM_FLAG] = { .type = "[\"boolean\", \"null\"]" },
	[FORM_WORK_KIND] = { .word = work_kind_word, .words = WORK_KIND_COUNT },
	[FORM_DECISION] = { .word = decision_word, .words = DECISION_DECLINED + 1 },
	[FORM_VERDICT] = { .word = judgement_word, .words = JUDGEMENT_VERDICT_COUNT },
	[FORM_TIGHTNESS_KIND] = { .word = tightness_word, .words = TIGHTNESS_KIND_COUNT },
	[FORM_REFRIGERANT] = { .word = refrigerant_word },
};

/* "enum": the words and null. */
static void add_words(struct text *text, const char *(*word)(int index), int count, bool *first)
{
	json_add_name(text, "enum", first);
	text_add_char(text, '[');
	for (int i = 0; i < count; i++) {
		json_add_string(text, word(i));
		text_add(text, ", ");
	}
	text_add(text, "null]");
}

static void add_member(struct text *text, const struct call_member *member, bool *outer)
{
	bool first = true;

	add_property(text, member->key, outer);
	text_add_char(text, '{');
	if (forms[member->form].type)
		add_json(text, "type", forms[member->form].type, &first);
	else if (forms[member->form].definition)
		add_string(text, "$ref", forms[member->form].definition, &first);
	else
		add_words(text, forms[member->form].word, forms[member->form].words > 0 ?
		          forms[member->form].words : choice_count(CHOICES_REFRIGERANT), &first);
	if (member->form == FORM_TEXT)
		add_number(text, "maxLength", (double)member->size - 1, &first);
	if (member->low < member->high) {
		add_number(text, "minimum", member->low, &first);
		add_number(text, "maximum", member->high, &first);
	}
	if (member->unit != UNIT_NONE)
		add_string(text, "$comment", unit_symbol(member->unit, false), &first);
	text_add_char(text, '}');
}

static void add_members(struct text *text, enum call_part part, bool *first)
{
	for (const struct call_member *member = call_part_info(part)->members; member->key; member++)
		add_member(text, member, first);
}

/* ---- Sections ---- */

static const char open_object[] =
	"{\"type\": \"object\", \"additionalProperties\": false, \"properties\": {";

static void add_charge_readings(struct text *text, bool *first)
{
	for (int i = 0; i < CHARGE_READING_COUNT; i++)
		add_reading(text, charge_reading_id((enum charge_reading)i), first);
}

/* When each reading was taken: an object for each section that has readings. */
static void add_times(struct text *text, bool *first)
{
	for (int i = 0; i < SECTION_COUNT; i++) {
		bool inner = true;
		if (!call_json_sections[i].has_readings)
			continue;
		add_property(text, call_json_sections[i].key, first);
		text_add(text, open_object);
		add_readings(text, &call_json_sections[i], true, &inner);
		text_add(text, "}}");
	}
}

static void add_properties(struct text *text, const struct section_row *section, bool *first)
{
	if (section->has_uid) {
		add_property(text, "uid", first);
		text_add(text, "{\"$ref\": \"#/$defs/uid\"}");
	}
	if (section->part == PART_BILLING) {
		bool inner = true;
		add_property(text, "tax", first);
		text_add(text, open_object);
		add_members(text, PART_TAX, &inner);
		text_add(text, "}}");
	}
	if (section->part == CALL_PART_COUNT && !section->has_readings)
		add_times(text, first);
	else if (section->part != CALL_PART_COUNT)
		add_members(text, section->part, first);
	if (section->has_readings)
		add_readings(text, section, false, first);
	if (section->part != CALL_PART_COUNT && call_part_info(section->part)->has_charge_readings)
		add_charge_readings(text, first);
}

static void add_section(struct text *text, const struct section_row *section, bool *outer)
{
	bool is_list = section->part != CALL_PART_COUNT && call_part_info(section->part)->is_list;
	bool first = true;

	add_property(text, section->key, outer);
	text_add(text, is_list ? "{\"type\": \"array\", \"items\": " : "");
	text_add(text, open_object);
	add_properties(text, section, &first);
	text_add(text, is_list ? "}}}" : "}}");
}

/* What `assess` takes beside the call. */
static void add_earlier(struct text *text, bool *first)
{
	add_property(text, "earlier", first);
	text_add(text,
	         "{\"type\": [\"array\", \"null\"], \"description\": \"Earlier visits of the same "
	         "unit, oldest first. For assess only; record refuses it.\", \"items\": ");
	text_add(text, open_object);
	text_add(text,
	         "\n    \"opened_at\": {\"$ref\": \"#/$defs/time\"},\n    \"refit\": {\"type\": "
	         "[\"boolean\", \"null\"], \"description\": \"compressor, coil, "
	         "refrigerant or metering device was changed on this visit\"},"
	         "\n    \"as_found\": {\"$ref\": \"#/properties/as_found\"},\n    \"as_left\": "
	         "{\"$ref\": \"#/properties/as_left\"}}}}");
}

#define NUMBER_SCHEMA "{\"type\": \"number\"}"
#define SHARE_SCHEMA "{\"type\": \"number\", \"minimum\": 0, \"maximum\": 1}"
#define TEXT_SCHEMA "{\"type\": \"string\"}"
#define TEXTS_SCHEMA "{\"type\": \"array\", \"items\": " TEXT_SCHEMA "}"

/* What `assess` answers for a call that it could read. */
static const char answer_schema[] =
	"{\"type\": \"object\", \"description\": \"What assess --json answers to a call that it could "
	"read; as_left has the same members.\",\n"
	"   \"required\": [\"figures\", \"findings\", \"healthy\", \"unexplained\", \"predictions\", "
	"\"own_past\", \"contradictions\", \"next_checks\", \"not_evaluated\"],\n"
	"   \"properties\": {\n"
	"    \"figures\": {\"type\": \"object\", \"additionalProperties\": {\"type\": \"object\"}},\n"
	"    \"findings\": {\"type\": \"array\", \"items\": {\"type\": \"object\", \"required\": "
	"[\"id\", \"label\", \"basis\", \"probability\", \"level\", \"evidence\"], \"properties\": "
	"{\"probability\": "
	SHARE_SCHEMA "}}},\n"
	"    \"healthy\": " SHARE_SCHEMA ",\n"
	"    \"unexplained\": " SHARE_SCHEMA ",\n"
	"    \"predictions\": {\"type\": \"array\", \"description\": \"what each leading explanation "
	"of the circuit says the readings should be; no faults: a sound unit\", \"items\": {\"type\": "
	"\"object\", \"additionalProperties\": false, \"required\": [\"faults\", \"probability\", "
	"\"readings\"], \"properties\": {\n"
	"     \"faults\": " TEXTS_SCHEMA ", \"probability\": " SHARE_SCHEMA ",\n"
	"     \"readings\": {\"type\": \"object\", \"additionalProperties\": {\"type\": \"object\", "
	"\"additionalProperties\": false, \"required\": [\"value\", \"plus_minus\", \"measured\", "
	"\"agrees\"], \"properties\": {\"value\": " NUMBER_SCHEMA ", \"plus_minus\": " NUMBER_SCHEMA
	", \"unit\": " TEXT_SCHEMA ", \"measured\": " NUMBER_SCHEMA ", \"agrees\": {\"type\": "
	"\"boolean\"}}}}}}},\n"
	"    \"own_past\": " TEXTS_SCHEMA ",\n"
	"    \"contradictions\": " TEXTS_SCHEMA ",\n"
	"    \"next_checks\": {\"type\": \"array\", \"items\": {\"type\": \"object\", \"required\": "
	"[\"reading\", \"why\", \"gain\"]}},\n"
	"    \"not_evaluated\": " TEXTS_SCHEMA ",\n"
	"    \"as_left\": {\"$ref\": \"#/$defs/answer\"}}}";

void call_json_write_schema(struct text *text)
{
	bool first = true;

	text_add(text,
	         "{\"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n"
	         " \"title\": \"A service call of padside\",\n"
	         " \"description\": \"What record and assess take and export --for office --format "
	         "json writes. A bare number is in the unit of its $comment; a string may carry "
	         "another unit. A choice is also taken by its label or an unambiguous beginning.\",\n"
	         " \"$defs\": {\n"
	         "  \"uid\": {\"type\": [\"string\", \"null\"], \"pattern\": "
	         "\"^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$\"},\n"
	         "  \"time\": {\"type\": [\"string\", \"null\"], \"pattern\": "
	         "\"^[0-9]{4}-[0-9]{2}-[0-9]{2}([T ][0-9]{2}:[0-9]{2}(:[0-9]{2})?)?$\"},\n"
	         "  \"money\": {\"type\": [\"number\", \"string\", \"null\"], \"pattern\": "
	         "\"^-?[0-9]{1,12}([.][0-9]{0,2})?$\"},\n"
	         "  \"answer\": ");
	text_add(text, answer_schema);
	text_add(text, "},\n \"type\": \"object\", \"additionalProperties\": false, \"properties\": {");
	for (int i = 0; i < SECTION_COUNT; i++)
		add_section(text, &call_json_sections[i], &first);
	add_earlier(text, &first);
	text_add(text, "}}\n");
}
