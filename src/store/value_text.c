/* A reading's value as the book keeps it: exact text, and back. */
#include "store/parts.h"

#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

static const char site_stage[] = "site";
static const char system_stage[] = "system";
static const char over_limit[] = "OL";

const char *value_stage_word(enum stage stage, enum reading reading)
{
	switch (reading_info(reading)->scope) {
	case SCOPE_SITE:
		return site_stage;
	case SCOPE_SYSTEM:
		return system_stage;
	default:
		return stage_key(stage);
	}
}

static enum choice choice_from_word(enum choice_list list, const char *word)
{
	int first = (int)choice_first(list), end = first + choice_count(list);

	for (int i = first; i < end; i++)
		if (strcmp(choice_key((enum choice)i), word) == 0)
			return (enum choice)i;
	return CHOICE_NONE;
}

/* The words that the book has for yes and no. */
static const char *const answers[] = { "no", "yes" };

static bool fill_from_word(enum reading reading, const char *word, struct value *value)
{
	switch (reading_info(reading)->kind) {
	case KIND_CHOICE:
		value->choice = choice_from_word(reading_info(reading)->choices, word);
		return value->choice != CHOICE_NONE;
	case KIND_YES_NO:
		value->number = strcmp(word, answers[1]) == 0;
		return value->number != 0 || strcmp(word, answers[0]) == 0;
	case KIND_DATE:
	case KIND_TEXT:
		return text_copy(value->text, sizeof value->text, word);
	default:
		return false;
	}
}

bool value_is_number(enum reading reading)
{
	enum reading_kind kind = reading_info(reading)->kind;

	return kind == KIND_NUMBER || kind == KIND_RESISTANCE;
}

bool value_is_within(enum reading reading, const struct value *value)
{
	struct error ignored;
	struct value again;

	if (!value_is_number(reading) || value->state != VALUE_TAKEN)
		return true;
	return reading_from_number(reading, value->number, UNITS_US, &again, &ignored) == STATUS_OK;
}

static bool fill_from_number(enum reading reading, const char *text, struct value *value)
{
	struct error ignored;
	double number;

	if (!number_parse_exact(text, &number))
		return false;
	/* Limits may have become narrower since; what was kept stays, as doubtful. */
	if (reading_from_number(reading, number, UNITS_US, value, &ignored) != STATUS_OK) {
		value->number = number;
		value->doubtful = true;
	}
	return true;
}

bool value_from_text(enum reading reading, const char *text, struct value *value,
                     struct error *error)
{
	enum reading_kind kind = reading_info(reading)->kind;
	struct value result = { .state = VALUE_TAKEN, .taken_at = WALL_TIME_NONE };
	bool known;

	if (kind == KIND_RESISTANCE && strcmp(text, over_limit) == 0) {
		result.state = VALUE_OVER_LIMIT;
		known = true;
	} else if (kind == KIND_NUMBER || kind == KIND_RESISTANCE) {
		known = fill_from_number(reading, text, &result);
	} else {
		known = fill_from_word(reading, text, &result);
	}
	if (known)
		*value = result;
	else
		error_set(error, STATUS_BAD_INPUT, "%s has a value that cannot be read",
		          reading_info(reading)->key);
	return known;
}
