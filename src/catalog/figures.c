/*
 * The table of figures.
 */
#include <padside/catalog/catalog.h>

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

static const struct figure_info figures[FIGURE_COUNT] = {
#define FIGURE(id, key_, ...) [FIGURE_##id] = { .key = key_, __VA_ARGS__ },
#include <padside/catalog/figures.def>
#undef FIGURE
};

static const char *const insulation_words[] = { "below floor", "watch", "good", "not proved" };

const struct figure_info *figure_info(enum figure figure)
{
	assert(figure > FIGURE_NONE && figure < FIGURE_COUNT);
	return &figures[figure];
}

enum figure figure_from_key(const char *key)
{
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		if (strcmp(figures[i].key, key) == 0)
			return (enum figure)i;
	return FIGURE_NONE;
}

bool figure_takes(enum figure figure, enum reading reading)
{
	const struct figure_info *info = figure_info(figure);

	for (int i = 0; i < FIGURE_MOST_NEEDS; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES; j++)
			if (info->needs[i][j] == reading)
				return true;
	for (int i = 0; i < FIGURE_MOST_USES; i++)
		if (info->uses[i] == reading)
			return true;
	return false;
}

const char *figure_word(enum figure figure, double value)
{
	if (!figure_info(figure)->is_word)
		return NULL;
	int grade = (int)value;
	assert(grade >= 0 && grade < (int)(sizeof insulation_words / sizeof *insulation_words));
	return insulation_words[grade];
}

void figure_format(enum figure figure, double value, enum unit_system system,
                   enum value_form form, char *out, size_t size)
{
	const struct figure_info *info = figure_info(figure);
	enum unit unit = unit_shown(info->unit, system);
	const char *symbol = unit_symbol(unit, form == VALUE_FORM_PLAIN);
	char digits[NUMBER_SIZE];

	if (info->is_word) {
		text_copy(out, size, figure_word(figure, value));
		return;
	}
	/* A leak to the shell of less than 1 MΩ would read as none at all. */
	int decimals = info->unit == UNIT_MEGOHM && value < 1
	               ? 3 : unit_decimals_shown(info->decimals, info->unit, system);
	number_format(unit_convert(value, info->unit, unit), decimals, digits, sizeof digits);
	bool with_unit = form != VALUE_FORM_SHEET && *symbol;
	snprintf(out, size, "%s%s%s", digits, with_unit ? " " : "", with_unit ? symbol : "");
}

void figure_format_spread(enum figure figure, double plus_minus, enum unit_system system,
                          char *out, size_t size)
{
	const struct figure_info *info = figure_info(figure);
	enum unit unit = unit_shown(info->unit, system);

	number_format(unit_convert_spread(plus_minus, info->unit, unit),
	              unit_decimals_shown(info->decimals, info->unit, system), out, size);
}
