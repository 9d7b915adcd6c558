/*
 * Answers of `figure` as JSON, and the questions it takes.
 */
#include <padside/app/result_json.h>

#include <math.h>
#include <string.h>

#include <padside/base/json_text.h>

#include "app/result_json_parts.h"

void result_json_add_text(struct text *text, const char *name, const char *value, bool *first)
{
	json_add_name(text, name, first);
	json_add_string(text, value);
}

void result_json_add_number(struct text *text, const char *name, double value, bool *first)
{
	json_add_name(text, name, first);
	json_add_rounded(text, value);
}

void result_json_add_value(enum figure figure, const struct figure_value *value, struct text *text,
                       bool *first)
{
	const char *word = figure_word(figure, value->value);

	if (word)
		result_json_add_text(text, "value", word, first);
	else
		result_json_add_number(text, "value", value->value, first);
	result_json_add_text(text, "unit", unit_symbol(figure_info(figure)->unit, false), first);
	result_json_add_number(text, "plus_minus", value->plus_minus, first);
}

void result_json_add_words(const struct visit *visit, enum stage stage, enum figure figure,
                             struct text *text, bool *first)
{
	const char *assumed = figure_assumed(visit, stage, figure);

	const char *caution = figure_caution(visit, stage, figure);
	const char *name = figure_name(visit, stage, figure);

	if (name != figure_info(figure)->label)
		result_json_add_text(text, "name", name, first);
	if (*assumed)
		result_json_add_text(text, "assumed", assumed, first);
	if (*caution)
		result_json_add_text(text, "caution", caution, first);
}

void result_json_write_figure(const struct visit *visit, enum figure figure,
                              const struct figure_value *value, struct text *text)
{
	bool first = true;
	char why[160];

	text_add_char(text, '{');
	result_json_add_text(text, "figure", figure_info(figure)->key, &first);
	if (value->status == STATUS_OK) {
		result_json_add_value(figure, value, text, &first);
		result_json_add_words(visit, STAGE_AS_FOUND, figure, text, &first);
	} else {
		figure_explain(value, why, sizeof why);
		result_json_add_number(text, "value", NAN, &first);
		result_json_add_text(text, "why", why, &first);
	}
	text_add_char(text, '}');
}

void result_json_write_error(const struct error *error, struct text *text)
{
	bool first = true;

	text_add_char(text, '{');
	result_json_add_text(text, "error", error->text, &first);
	text_add_char(text, '}');
}

/* What is read of a question so far. */
struct question {
	enum figure *figure; /* result */
	struct visit *visit; /* result */
};

static enum status take_reading(struct question *question, const struct json_item *item,
                                struct error *error)
{
	enum reading reading = reading_from_key(item->key);
	struct value value;
	struct error why;
	const char *typed = item->type == JSON_TRUE    ? "yes"
	                    : item->type == JSON_FALSE ? "no"
	                                               : item->text;

	if (reading == READING_NONE)
		return error_set(error, STATUS_BAD_INPUT, "%s: there is no such reading", item->path);
	if (item->type == JSON_OBJECT || item->type == JSON_ARRAY)
		return error_set(error, STATUS_BAD_INPUT, "%s: takes a number or a text", item->path);
	if (reading_parse(reading, typed, UNITS_US, &value, &why) != STATUS_OK)
		return error_set(error, why.status, "%s: %s", item->path, why.text);
	visit_set(question->visit, STAGE_AS_FOUND, reading, &value);
	return STATUS_OK;
}

static enum status take_question(const struct json_item *item, void *context, struct error *error)
{
	struct question *question = context;

	if (item->type == JSON_END || item->depth == 0)
		return STATUS_OK;
	if (item->depth == 2)
		return take_reading(question, item, error);
	if (item->type == JSON_OBJECT && strcmp(item->key, "readings") == 0)
		return STATUS_OK;
	if (item->type != JSON_STRING || strcmp(item->key, "figure") != 0)
		return error_set(error, STATUS_BAD_INPUT, "%s: a question has \"figure\" and \"readings\"",
		                 item->path);
	*question->figure = figure_from_key(item->text);
	return STATUS_OK;
}

enum status result_json_read_figure(struct json_reader *reader, const char *json, size_t length,
                                enum figure *figure, struct visit *visit, struct error *error)
{
	struct question question = { .figure = figure, .visit = visit };

	*figure = FIGURE_NONE;
	visit_init(visit);
	enum status status = json_read(reader, json, length, take_question, &question, error);
	if (status == STATUS_OK && *figure == FIGURE_NONE)
		return error_set(error, STATUS_BAD_INPUT, "figure: there is no such figure; "
		                 "see padside figure --list");
	return status;
}
