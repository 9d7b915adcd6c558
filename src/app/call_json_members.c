/*
 * One member or one reading of a call's document, both ways: each form of
 * member knows how it is read and written.
 */
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/json_text.h>
#include <padside/base/number.h>

#include "app/call_sections.h"

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

enum status call_json_refuse(const struct json_item *item, const char *why, struct error *error)
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
		return call_json_refuse(item, "a text in quotes is expected", error);
	if (strlen(item->text) >= member->size)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: it takes at most %zu bytes", item->path,
		                 member->size - 1);
	text_copy(field, member->size, item->text);
	return STATUS_OK;
}

enum status call_json_read_uid(const struct json_item *item, struct uid *uid, struct error *error)
{
	if (item->type == JSON_NULL)
		return STATUS_OK;
	if (item->type != JSON_STRING || !uid_is_valid(item->text))
		return call_json_refuse(item, "an id is expected, a UUID in small letters", error);
	text_copy(uid->text, sizeof uid->text, item->text);
	return STATUS_OK;
}

static enum status read_time(const struct call_member *member, const struct json_item *item,
                             void *field, struct error *error)
{
	(void)member;
	if (item->type != JSON_STRING || !clock_parse(item->text, field))
		return call_json_refuse(item, "a local time is expected, like \"2026-06-03T09:12\"", error);
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
		return call_json_refuse(item, wanted, error);
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
		return call_json_refuse(item, "a number is expected", error);
	else if (item->type != JSON_STRING || !number_parse(item->text, &read, &rest) ||
	         (*rest && !unit_from_text(rest, member->unit, &unit)))
		return error_set(error, STATUS_BAD_INPUT,
		                 "%s: a number in %s is expected, or a text with its unit", item->path,
		                 unit_symbol(member->unit, false));
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
		return call_json_refuse(item, "true or false is expected", error);
	*(bool *)field = item->type == JSON_TRUE;
	return STATUS_OK;
}

/* A word of a list; `words` says which there are. */
static enum status read_word(const struct json_item *item, bool known, const char *words,
                             struct error *error)
{
	return known ? STATUS_OK : call_json_refuse(item, words, error);
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
		return call_json_refuse(item, "a refrigerant is expected, like \"R-410A\"", error);
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

struct json_form {
	/* Reads a member that is not null into its field. */
	enum status (*read)(const struct call_member *member, const struct json_item *item,
	                    void *field, struct error *error);
	/* Writes the field, of which `exact` is the exact text. */
	void (*write)(const void *field, const char *exact, struct text *text);
};

static const struct json_form forms[CALL_FORM_COUNT] = {
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

enum status call_json_read_member(const struct call_member *member, void *target,
                                  const struct json_item *item, struct error *error)
{
	if (item->type == JSON_NULL)
		return STATUS_OK;
	return forms[member->form].read(member, item, (char *)target + member->offset, error);
}

void call_json_write_member(const struct call_member *member, const void *source,
                            const char *exact, struct text *text)
{
	forms[member->form].write((const char *)source + member->offset, exact, text);
}

/* ---- Readings and times ---- */

/* A reading's error, with the path of its member before it. */
static enum status with_path(const struct json_item *item, const struct error *why,
                             struct error *error)
{
	return error_set(error, why->status, "%s: %s", item->path, why->text);
}

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
			return call_json_refuse(item, kind == KIND_YES_NO ? "true or false is expected"
			                                        : "a text in quotes is expected", error);
		if (!isfinite(number))
			return call_json_refuse(item, "this number is too large", error);
		status = reading_from_number(reading, number + 0.0, UNITS_US, value, &why);
	} else if (item->type == JSON_STRING) {
		status = reading_parse(reading, item->text, UNITS_US, value, &why);
	} else if (kind == KIND_YES_NO) {
		*value = (struct value){
			.state = VALUE_TAKEN, .number = item->type == JSON_TRUE, .taken_at = WALL_TIME_NONE,
		};
		return STATUS_OK;
	} else {
		return call_json_refuse(item, "true and false are only for yes and no", error);
	}
	return status == STATUS_OK ? status : with_path(item, &why, error);
}

enum status call_json_read_time(const struct json_item *item, wall_time *time, struct error *error)
{
	static const struct call_member member = { .form = FORM_TIME };

	return call_json_read_member(&member, time, item, error);
}

void call_json_write_value(enum reading reading, const struct value *value, struct text *text)
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

void call_json_write_time(wall_time time, struct text *text)
{
	char exact[CLOCK_TEXT_SIZE];

	clock_format(time, exact, sizeof exact);
	json_add_string(text, exact);
}
