#ifndef PADSIDE_TEXT_H
#define PADSIDE_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/*
 * A growing string buffer, and the few UTF-8 helpers that the program needs.
 *
 * A failed allocation sets `failed` and every later append does nothing, so
 * that a long piece of writing is checked once, at its end.
 */
struct text {
	char *bytes;     /* NUL-terminated once anything was appended; owned */
	size_t length;   /* bytes before the NUL */
	size_t capacity; /* bytes allocated */
	bool failed;     /* memory ran out: the content is cut short */
};

/* Makes an empty buffer; allocates nothing. */
void text_init(struct text *text);

/* Frees the buffer and leaves it empty and usable. */
void text_done(struct text *text);

/* Empties the buffer, keeping its memory and clearing `failed`. */
void text_clear(struct text *text);

/*
 * How often memory ran out for any buffer since the program began.  Who asks
 * before a piece of work and after it knows whether one of the many small
 * buffers in between was cut short, though none of them can be asked any more.
 */
unsigned long text_times_short(void);

/* The content, "" when empty.  Borrowed until the next change. */
const char *text_get(const struct text *text);

/* Append a string, `length` bytes, one Unicode character, printf output. */
void text_add(struct text *text, const char *string);
void text_add_bytes(struct text *text, const char *bytes, size_t length);
void text_add_char(struct text *text, char byte);
void text_add_format(struct text *text, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
void text_add_format_list(struct text *text, const char *format, va_list arguments)
	__attribute__((format(printf, 2, 0)));

/* Append `count` copies of a byte (count may be 0 or negative: nothing). */
void text_pad(struct text *text, char byte, int count);

/*
 * Copies `source` into `target` of `size` bytes (> 0), cutting at a whole
 * character when it does not fit.  Returns false when it was cut.
 */
bool text_copy(char *target, size_t size, const char *source);

/* Removes an incomplete UTF-8 sequence at the end of `string`. */
void text_trim_broken_utf8(char *string);

/*
 * Decodes the character at *cursor and steps over it.  A broken sequence
 * gives U+FFFD and steps one byte.  Returns 0 at the end, without stepping.
 */
unsigned text_next_character(const char **cursor);

/* Appends the UTF-8 form of `character` to a buffer. */
void text_add_character(struct text *text, unsigned character);

/*
 * Columns that `string` takes on a terminal: wide characters 2, combining
 * and control characters 0.  Independent of the locale.
 */
int text_columns(const char *string);

/* The columns of one character, as above: 0, 1 or 2. */
int text_character_columns(unsigned character);

/* True when the two strings are equal, ASCII letters compared without case. */
bool text_equal_ignoring_case(const char *a, const char *b);

/*
 * Whether `part` stands somewhere in `text`; ASCII letters' case does not matter; "" always does.
 */
bool text_contains_ignoring_case(const char *text, const char *part);

#endif
