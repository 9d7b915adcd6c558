/*
 * Writing JSON.
 */
#include <padside/base/json_text.h>

#include <math.h>

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

void json_add_string(struct text *text, const char *string)
{
	unsigned character;

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

void json_add_rounded(struct text *text, double number)
{
	if (isfinite(number))
		text_add_format(text, "%.10g", number + 0.0);
	else
		text_add(text, "null");
}

void json_add_name(struct text *text, const char *name, bool *first)
{
	if (!*first)
		text_add(text, ", ");
	*first = false;
	if (name) {
		json_add_string(text, name);
		text_add(text, ": ");
	}
}
