/*
 * The string buffer and UTF-8.
 *
 * Widths come from a generated table and not from wcwidth(), so that a drawn
 * screen and a paper are the same in every locale, and so that the golden
 * files of the tests are too.
 */
#include <padside/base/text.h>

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static unsigned long times_short;

unsigned long text_times_short(void)
{
	return times_short;
}

static bool cut_short(struct text *text)
{
	text->failed = true;
	times_short++;
	return false;
}

static bool text_reserve(struct text *text, size_t more)
{
	/* Nearly always there is room. */
	if (more < text->capacity - text->length && !text->failed)
		return true;
	if (text->failed)
		return false;
	if (more > SIZE_MAX / 4 - text->length)
		return cut_short(text);
	size_t need = text->length + more + 1;
	if (need <= text->capacity)
		return true;
	size_t capacity = text->capacity < 64 ? 64 : text->capacity;
	while (capacity < need)
		capacity *= 2;
	char *bytes = realloc(text->bytes, capacity);
	if (!bytes)
		return cut_short(text);
	text->bytes = bytes;
	text->capacity = capacity;
	return true;
}

void text_init(struct text *text)
{
	*text = (struct text){ .bytes = NULL };
}

void text_done(struct text *text)
{
	free(text->bytes);
	text_init(text);
}

void text_clear(struct text *text)
{
	text->length = 0;
	text->failed = false;
	if (text->bytes)
		text->bytes[0] = '\0';
}

const char *text_get(const struct text *text)
{
	return text->bytes ? text->bytes : "";
}

void text_add(struct text *text, const char *string)
{
	text_add_bytes(text, string, strlen(string));
}

void text_add_bytes(struct text *text, const char *bytes, size_t length)
{
	if (!text_reserve(text, length))
		return;
	memcpy(text->bytes + text->length, bytes, length);
	text->length += length;
	text->bytes[text->length] = '\0';
}

void text_add_char(struct text *text, char byte)
{
	if (!text_reserve(text, 1))
		return;
	text->bytes[text->length++] = byte;
	text->bytes[text->length] = '\0';
}

void text_add_format(struct text *text, const char *format, ...)
{
	va_list arguments;

	va_start(arguments, format);
	text_add_format_list(text, format, arguments);
	va_end(arguments);
}

void text_add_format_list(struct text *text, const char *format, va_list arguments)
{
	char most[128]; /* enough for nearly all, which are then formatted once */
	va_list again;

	va_copy(again, arguments);
	int length = vsnprintf(most, sizeof most, format, arguments);
	if (length >= 0 && (size_t)length < sizeof most) {
		text_add_bytes(text, most, (size_t)length);
	} else if (length >= 0 && text_reserve(text, (size_t)length)) {
		vsnprintf(text->bytes + text->length, (size_t)length + 1, format, again);
		text->length += (size_t)length;
	}
	va_end(again);
}

void text_pad(struct text *text, char byte, int count)
{
	for (int i = 0; i < count; i++)
		text_add_char(text, byte);
}

bool text_copy(char *target, size_t size, const char *source)
{
	size_t length = strlen(source);
	bool whole = length < size;

	if (!whole)
		length = size - 1;
	memmove(target, source, length);
	target[length] = '\0';
	if (!whole)
		text_trim_broken_utf8(target);
	return whole;
}

/* The length of the UTF-8 sequence that starts with `lead`; 0 for none. */
static int sequence_length(unsigned char lead)
{
	if (lead < 0x80)
		return 1;
	if (lead >= 0xc2 && lead <= 0xdf)
		return 2;
	if (lead >= 0xe0 && lead <= 0xef)
		return 3;
	if (lead >= 0xf0 && lead <= 0xf4)
		return 4;
	return 0;
}

void text_trim_broken_utf8(char *string)
{
	size_t length = strlen(string);
	size_t start = length;

	while (start > 0 && length - start < 4) {
		start--;
		if (((unsigned char)string[start] & 0xc0) != 0x80)
			break;
	}
	if (start < length) {
		size_t need = (size_t)sequence_length((unsigned char)string[start]);
		if (need != length - start)
			string[start] = '\0';
	}
}

unsigned text_next_character(const char **cursor)
{
	static const unsigned char lead_mask[] = { 0, 0x7f, 0x1f, 0x0f, 0x07 };
	static const unsigned smallest[] = { 0, 0, 0x80, 0x800, 0x10000 };
	const unsigned char *at = (const unsigned char *)*cursor;

	if (*at == '\0')
		return 0;
	int length = sequence_length(*at);
	unsigned character = length ? *at & lead_mask[length] : 0;
	for (int i = 1; i < length; i++) {
		if ((at[i] & 0xc0) != 0x80)
			length = 0;
		else
			character = character << 6 | (at[i] & 0x3f);
	}
	if (length == 0 || character < smallest[length] || character > 0x10ffff ||
	    (character >= 0xd800 && character <= 0xdfff)) {
		*cursor += 1;
		return 0xfffd;
	}
	*cursor += length;
	return character;
}

void text_add_character(struct text *text, unsigned character)
{
	char bytes[4];
	size_t length;

	if (character < 0x80) {
		bytes[0] = (char)character;
		length = 1;
	} else if (character < 0x800) {
		bytes[0] = (char)(0xc0 | character >> 6);
		bytes[1] = (char)(0x80 | (character & 0x3f));
		length = 2;
	} else if (character < 0x10000) {
		bytes[0] = (char)(0xe0 | character >> 12);
		bytes[1] = (char)(0x80 | (character >> 6 & 0x3f));
		bytes[2] = (char)(0x80 | (character & 0x3f));
		length = 3;
	} else {
		bytes[0] = (char)(0xf0 | (character >> 18 & 0x07));
		bytes[1] = (char)(0x80 | (character >> 12 & 0x3f));
		bytes[2] = (char)(0x80 | (character >> 6 & 0x3f));
		bytes[3] = (char)(0x80 | (character & 0x3f));
		length = 4;
	}
	text_add_bytes(text, bytes, length);
}

/* What does not take one column; ascending. */
static const struct width_range {
	unsigned first, last; /* inclusive */
	int columns;          /* 0 or 2 */
} stretches[] = {
#define COLUMNS(first, last, columns) { first, last, columns },
#include "base/characters.def"
};

/* Searches the table by halves: this runs for every drawn cell. */
int text_character_columns(unsigned character)
{
	size_t low = 0, high = sizeof stretches / sizeof *stretches;

	if (character < 0x20 || (character >= 0x7f && character < 0xa0))
		return 0;
	if (character < stretches[0].first)
		return 1;
	while (low < high) {
		size_t middle = (low + high) / 2;
		if (character < stretches[middle].first)
			high = middle;
		else if (character > stretches[middle].last)
			low = middle + 1;
		else
			return stretches[middle].columns;
	}
	return 1;
}

int text_columns(const char *string)
{
	int columns = 0;
	unsigned character;

	while ((character = text_next_character(&string)) != 0)
		columns += text_character_columns(character);
	return columns;
}

static char lower(char letter)
{
	return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

bool text_equal_ignoring_case(const char *a, const char *b)
{
	for (; *a && *b; a++, b++)
		if (lower(*a) != lower(*b))
			return false;
	return *a == *b;
}

bool text_contains_ignoring_case(const char *text, const char *part)
{
	size_t length = strlen(part);

	for (size_t left = strlen(text); left >= length; text++, left--) {
		size_t same = 0;
		while (same < length && lower(text[same]) == lower(part[same]))
			same++;
		if (same == length)
			return true;
		if (left == 0)
			break;
	}
	return false;
}
