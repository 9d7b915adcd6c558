/*
 * Writing JSON.
 */
#include <padside/base/json_text.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

#include <padside/base/number.h>

/* How many bytes from the start can be written as they are. */
static size_t count_plain(const char *string)
{
	size_t count = 0;

	while (string[count] >= 0x20 && string[count] < 0x7f && string[count] != '"' &&
	       string[count] != '\\')
		count++;
	return count;
}

/*
 * Appends the string between quotes, and what follows it, in one step: false, with nothing
 * added, where it is long or holds what has to be written otherwise.  Names are like that.
 */
static bool add_short_plain(struct text *text, const char *string, const char *behind)
{
	char bytes[48];
	size_t plain = count_plain(string), after = strlen(behind);

	if (string[plain] || plain + after + 2 > sizeof bytes)
		return false;
	bytes[0] = '"';
	memcpy(bytes + 1, string, plain);
	bytes[plain + 1] = '"';
	for (size_t i = 0; i < after; i++)
		bytes[plain + 2 + i] = behind[i];
	text_add_bytes(text, bytes, plain + after + 2);
	return true;
}

void json_add_string(struct text *text, const char *string)
{
	unsigned character;

	if (add_short_plain(text, string, ""))
		return;
	text_add_char(text, '"');
	for (;;) {
		size_t plain = count_plain(string);
		text_add_bytes(text, string, plain);
		string += plain;
		if ((character = text_next_character(&string)) == 0)
			break;
		if (character == '"' || character == '\\')
			text_add_format(text, "\\%c", (int)character);
		else if (character == '\n')
			text_add(text, "\\n");
		else if (character == '\t')
			text_add(text, "\\t");
		else if (character < 0x20 || character == 0x7f)
			text_add_format(text, "\\u%04x", character);
		else
			text_add_character(text, character);
	}
	text_add_char(text, '"');
}

void json_add_number(struct text *text, double number)
{
	char digits[NUMBER_SIZE];

	if (!isfinite(number)) {
		text_add(text, "null");
		return;
	}
	number_format_exact(number, digits, sizeof digits);
	text_add(text, digits);
}

/* Appends digits × 10^-places, without trailing zeros behind the point. */
static void add_decimal(struct text *text, bool negative, uint64_t digits, int places)
{
	char out[24];
	size_t at = sizeof out;

	for (; places > 0 && digits % 10 == 0; places--)
		digits /= 10;
	for (int place = 0; digits > 0 || place <= places; place++, digits /= 10) {
		if (place == places && places > 0)
			out[--at] = '.';
		out[--at] = (char)('0' + digits % 10);
	}
	if (negative)
		out[--at] = '-';
	text_add_bytes(text, out + at, sizeof out - at);
}

/*
 * What "%.10g" writes, several times as fast; false, with nothing written, where
 * that has an exponent, or where the digits behind the tenth stand so near to a
 * half that only exact arithmetic rounds them rightly.
 */
static bool add_ten_digits(struct text *text, double number)
{
	static const double tens[] = {
		1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12
	};
	double size = fabs(number);
	int places = 9;

	if (!(size >= 1e-3 && size < 1e9))
		return false;
	while (size >= tens[10 - places])
		places--;
	while (places < 12 && size * tens[places] < 1e9)
		places++;
	double whole = floor(size * tens[places]), rest = size * tens[places] - whole;
	if (fabs(rest - 0.5) < 1e-3 || whole + 1 >= 1e10)
		return false;
	add_decimal(text, number < 0, (uint64_t)whole + (rest > 0.5), places);
	return true;
}

void json_add_rounded(struct text *text, double number)
{
	if (!isfinite(number))
		text_add(text, "null");
	else if (!add_ten_digits(text, number))
		text_add_format(text, "%.10g", number + 0.0);
}

void json_add_name(struct text *text, const char *name, bool *first)
{
	if (!*first)
		text_add(text, ", ");
	*first = false;
	if (name && !add_short_plain(text, name, ": ")) {
		json_add_string(text, name);
		text_add(text, ": ");
	}
}
