/*
 * Quantities inside sentences: a number or two, a unit of units.def, and what it is counted by.
 */
#include <padside/base/quantities.h>

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>

enum { WORD_SIZE = 16 };

/* "10 to 30 F_DIFF", "350 to 450 CFM/TON", "6 LB 8 OZ". */
struct typed_quantity {
	char low[WORD_SIZE];     /* as written */
	char between[WORD_SIZE]; /* "to", "and"; "" for one number */
	char high[WORD_SIZE];    /* as written; "" for one number */
	enum unit unit;          /* of the numbers */
	enum unit per;           /* one of which they are counted by; UNIT_NONE: none */
	char rest[WORD_SIZE];    /* the number of a smaller unit that is added; "" none */
	enum unit smaller;       /* that unit */
};

static enum unit unit_of_id(const char *id)
{
	static const char *const ids[UNIT_COUNT] = {
#define UNIT(id_, ...) [UNIT_##id_] = #id_,
#include <padside/base/units.def>
#undef UNIT
	};

	for (int i = 1; i < UNIT_COUNT; i++)
		if (strcmp(ids[i], id) == 0)
			return (enum unit)i;
	assert(false && "a quantity names a unit of units.def");
	return UNIT_NONE;
}

/* The next word up to a space, a stroke or the closing brace. */
static const char *take_word(const char *at, char word[WORD_SIZE])
{
	at += strspn(at, " /");
	size_t length = strcspn(at, " /}");

	assert(length > 0 && length < WORD_SIZE);
	memcpy(word, at, length);
	word[length] = '\0';
	return at + length;
}

/* Reads behind the opening brace; returns what follows the closing one. */
static const char *read_quantity(const char *at, struct typed_quantity *quantity)
{
	char word[WORD_SIZE];

	*quantity = (struct typed_quantity){ .unit = UNIT_NONE };
	at = take_word(take_word(at, quantity->low), word);
	if (islower((unsigned char)word[0])) {
		memcpy(quantity->between, word, sizeof word);
		at = take_word(take_word(at, quantity->high), word);
	}
	quantity->unit = unit_of_id(word);
	if (*at == '/') {
		at = take_word(at, word);
		quantity->per = unit_of_id(word);
	} else if (*at == ' ') {
		at = take_word(take_word(at, quantity->rest), word);
		quantity->smaller = unit_of_id(word);
	}
	assert(*at == '}');
	return at + 1;
}

static int count_digits(const char *number)
{
	int count = 0;

	for (; *number; number++)
		count += isdigit((unsigned char)*number) != 0;
	return count;
}

/* Decimals so that `value` has that many digits, none behind the point from 10 on. */
static int decimals_for(double value, int digits)
{
	int magnitude = value > 0 ? (int)floor(log10(value)) : 0;
	int decimals = digits - 1 - magnitude;

	return value >= 10 && decimals > 0 ? 0 : decimals;
}

/* With negative decimals rounded before the point: 152 to one less is 150. */
static void write_rounded(double value, int decimals, char *out, size_t size)
{
	double step = decimals < 0 ? pow(10, -decimals) : 0;

	number_format(step > 0 ? round(value / step) * step : value, decimals < 0 ? 0 : decimals, out,
	              size);
}

static double in_si(const struct typed_quantity *quantity, const char *number)
{
	enum unit si = unit_shown(quantity->unit, UNITS_SI);
	double value = strtod(number, NULL);

	if (*quantity->rest)
		value += unit_convert(strtod(quantity->rest, NULL), quantity->smaller, quantity->unit);
	value = unit_convert(value, quantity->unit, si);
	if (quantity->per != UNIT_NONE)
		value /= unit_convert(1, quantity->per, unit_shown(quantity->per, UNITS_SI));
	return value;
}

static void add_unit(const struct typed_quantity *quantity, enum unit_system units,
                     struct text *text)
{
	text_add_format(text, " %s", unit_symbol(unit_shown(quantity->unit, units), false));
	if (quantity->per != UNIT_NONE)
		text_add_format(text, " a %s", unit_symbol(unit_shown(quantity->per, units), false));
}

static void add_in_us(const struct typed_quantity *quantity, struct text *text)
{
	text_add(text, quantity->low);
	if (*quantity->high)
		text_add_format(text, " %s %s", quantity->between, quantity->high);
	add_unit(quantity, UNITS_US, text);
	if (*quantity->rest)
		text_add_format(text, " %s %s", quantity->rest, unit_symbol(quantity->smaller, false));
}

static void add_in_si(const struct typed_quantity *quantity, struct text *text)
{
	const char *high = *quantity->high ? quantity->high : quantity->low;
	char number[NUMBER_SIZE];
	double from = in_si(quantity, quantity->low), to = in_si(quantity, high);
	int digits = (int)fmax(2, fmax(count_digits(quantity->low) + count_digits(quantity->rest),
	                               count_digits(high)));
	int decimals = decimals_for(fmax(fabs(from), fabs(to)), digits);

	write_rounded(from, decimals, number, sizeof number);
	text_add(text, number);
	if (*quantity->high) {
		write_rounded(to, decimals, number, sizeof number);
		text_add_format(text, " %s %s", quantity->between, number);
	}
	add_unit(quantity, UNITS_SI, text);
}

static bool has_one_unit(const struct typed_quantity *quantity)
{
	return unit_shown(quantity->unit, UNITS_SI) == quantity->unit &&
	       unit_shown(quantity->per, UNITS_SI) == quantity->per;
}

static void write_all(const char *sentence, bool in_us, bool in_si_too, char *out, size_t size)
{
	struct typed_quantity quantity;
	struct text text;

	text_init(&text);
	while (*sentence) {
		size_t plain = strcspn(sentence, "{");
		text_add_format(&text, "%.*s", (int)plain, sentence);
		sentence += plain;
		if (!*sentence)
			break;
		sentence = read_quantity(sentence + 1, &quantity);
		bool with_si = in_si_too && !(in_us && has_one_unit(&quantity));
		if (in_us)
			add_in_us(&quantity, &text);
		text_add(&text, in_us && with_si ? " (" : "");
		if (with_si)
			add_in_si(&quantity, &text);
		text_add(&text, in_us && with_si ? ")" : "");
		/* The full stop of "in." ends the sentence too. */
		if (*sentence == '.' && text.length > 0 && text_get(&text)[text.length - 1] == '.')
			sentence++;
	}
	text_copy(out, size, text_get(&text));
	text_done(&text);
}

void quantities_write(const char *sentence, enum unit_system units, char *out, size_t size)
{
	write_all(sentence, units == UNITS_US, units == UNITS_SI, out, size);
}

void quantities_write_both(const char *sentence, char *out, size_t size)
{
	write_all(sentence, true, true, out, size);
}
