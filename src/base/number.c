/*
 * Reading and writing numbers.
 *
 * strtod() and printf() follow LC_NUMERIC, which the program never sets, so
 * that a point is a point in every file.
 */
#include <padside/base/number.h>

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Powers of ten that are exact as doubles. */
static const double tens[] = {
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
};

static size_t count_digits(const char *at)
{
	size_t count = 0;

	while (isdigit((unsigned char)at[count]))
		count++;
	return count;
}

/*
 * Whether the comma at `at` separates thousands: three digits, then no digit,
 * and before it what can be thousands, which a lone zero is not.
 */
static bool is_thousands_comma(const char *at, const char *before)
{
	return *at == ',' && count_digits(at + 1) == 3 && *before != '0';
}

/*
 * Copies a plain decimal into `digits` with commas resolved; returns the
 * characters of `at` that it took, 0 when there is no digit.
 */
static size_t take_decimal(const char *at, char *digits, size_t size)
{
	size_t used = 0, written = 0, seen = 0, group = 0;
	bool fraction = false;

	for (; written + 1 < size; used++) {
		char c = at[used];
		if (isdigit((unsigned char)c)) {
			seen++;
			group++;
			digits[written++] = c;
		} else if (!fraction && group > 0 && group <= 3 && is_thousands_comma(at + used, digits)) {
			group = 0;
		} else if (!fraction && (c == '.' || (c == ',' && count_digits(at + used + 1) > 0))) {
			fraction = true;
			digits[written++] = '.';
		} else {
			break;
		}
	}
	digits[written] = '\0';
	return seen ? used : 0;
}

/* A fraction "n/d" at `at`: its value, and the characters it took (0: none). */
static size_t take_fraction(const char *at, double *value)
{
	size_t top = count_digits(at);

	if (top == 0 || top > 4 || at[top] != '/')
		return 0;
	size_t bottom = count_digits(at + top + 1);
	if (bottom == 0 || bottom > 4)
		return 0;
	double denominator = strtod(at + top + 1, NULL);
	if (denominator <= 0)
		return 0;
	*value = strtod(at, NULL) / denominator;
	return top + 1 + bottom;
}

/* Exponent ("e3", "E-2") behind a decimal; JSON and exact numbers have it. */
static size_t take_exponent(const char *at, char *digits, size_t size)
{
	size_t sign = (at[0] == 'e' || at[0] == 'E') && (at[1] == '-' || at[1] == '+');
	size_t count = at[0] == 'e' || at[0] == 'E' ? count_digits(at + 1 + sign) : 0;

	if (count == 0 || count > 3 || 2 + sign + count > size)
		return 0;
	memcpy(digits, at, 1 + sign + count);
	digits[1 + sign + count] = '\0';
	return 1 + sign + count;
}

/* The " 1/8" or "-1/8" behind the 1 of "1 1/8": a part of one, not 1 and 45/5. */
static size_t take_part(const char *at, double *fraction)
{
	double part = 0;
	size_t gap = strspn(at, " -");
	size_t used = gap == 1 ? take_fraction(at + gap, &part) : 0;

	if (used == 0 || part >= 1)
		return 0;
	*fraction = part;
	return gap + used;
}

static bool parse(const char *typed, bool with_fractions, double *value, const char **rest)
{
	char digits[64];
	const char *at = typed + strspn(typed, " \t");
	bool negative = *at == '-';
	double fraction = 0;

	at += *at == '-' || *at == '+';
	double number = 0;
	size_t used = with_fractions ? take_fraction(at, &fraction) : 0;
	if (used == 0) {
		used = take_decimal(at, digits, sizeof digits - 8);
		if (used == 0)
			return false;
		at += used;
		used = take_exponent(at, digits + strlen(digits), 8);
		number = strtod(digits, NULL);
		used += take_part(at + used, &fraction);
	}
	at += used;
	number += fraction;
	if (!isfinite(number))
		return false;
	/* "-0" is zero, as number_format_exact() writes it. */
	*value = negative && number > 0 ? -number : number;
	*rest = at + strspn(at, " \t");
	return true;
}

bool number_parse(const char *typed, double *value, const char **rest)
{
	return parse(typed, false, value, rest);
}

bool number_parse_inches(const char *typed, double *value, const char **rest)
{
	return parse(typed, true, value, rest);
}

void number_format(double value, int decimals, char *out, size_t size)
{
	assert(decimals >= 0 && decimals <= 9);
	double scale = tens[decimals];
	double rounded = fabs(value) < 1e15 / scale ? round(value * scale) / scale : value;

	/* Adding 0 turns a negative zero into zero. */
	snprintf(out, size, "%.*f", decimals, rounded + 0.0);
}

/*
 * A decimal of up to 15 digits is a whole number over a power of ten; both are exact as doubles,
 * so that the quotient is rounded once, as strtod() rounds it (Clinger 1990).  That is four times
 * as quick, and a history reads tens of thousands.
 */
static bool parse_short(const char *text, double *value)
{
	const char *at = text + (*text == '-'), *point = NULL;
	int64_t whole = 0;
	int count = 0;

	for (; isdigit((unsigned char)*at) || (*at == '.' && !point); at++) {
		if (*at == '.')
			point = at;
		else if (++count <= 15)
			whole = 10 * whole + (*at - '0');
	}
	if (*at || count == 0 || count > 15)
		return false;
	double size = (double)whole / tens[point ? at - point - 1 : 0];
	*value = *text == '-' ? -size : size;
	return true;
}

bool number_parse_exact(const char *text, double *value)
{
	char *end;

	if (parse_short(text, value))
		return true;
	double number = strtod(text, &end);
	if (*end || end == text || !isfinite(number))
		return false;
	*value = number;
	return true;
}

void number_format_exact(double value, char *out, size_t size)
{
	assert(isfinite(value));
	for (int digits = 15; digits <= 17; digits++) {
		snprintf(out, size, "%.*g", digits, value + 0.0);
		if (strtod(out, NULL) == value)
			return;
	}
}
