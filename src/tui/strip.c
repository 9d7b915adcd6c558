/*
 * The choice strip.
 */
#include "tui/strip.h"

#include <padside/base/text.h>

static unsigned lower(unsigned letter)
{
	return letter >= 'A' && letter <= 'Z' ? letter - 'A' + 'a' : letter;
}

static bool is_letter_or_digit(unsigned character)
{
	character = lower(character);
	return (character >= 'a' && character <= 'z') || (character >= '0' && character <= '9');
}

static bool is_taken(const struct strip *strip, int before, unsigned letter)
{
	for (int i = 0; i < before; i++)
		if (strip->letters[i] == letter)
			return true;
	return false;
}

/* The first character of `candidates` that is still free; 0 for none. */
static unsigned find_free(const struct strip *strip, int index, const char *candidates)
{
	unsigned character;

	while ((character = text_next_character(&candidates)) != 0)
		if (is_letter_or_digit(character) && !is_taken(strip, index, lower(character)))
			return lower(character);
	return 0;
}

void strip_init(struct strip *strip, const char *const *labels, int count, int chosen)
{
	*strip = (struct strip){ .labels = labels, .chosen = chosen };
	strip->count = count < 0 ? 0 : count > STRIP_MOST ? STRIP_MOST : count;
	if (chosen < 0 || chosen >= strip->count)
		strip->chosen = STRIP_NONE;
	for (int i = 0; i < strip->count; i++) {
		strip->letters[i] = find_free(strip, i, labels[i]);
		if (!strip->letters[i])
			strip->letters[i] = find_free(strip, i, "123456789abcdefghijklmnopqrstuvwxyz");
	}
}

static enum strip_answer choose(struct strip *strip, int index)
{
	bool same = strip->chosen == index;

	strip->chosen = index;
	return same ? STRIP_SAME : STRIP_CHANGED;
}

static enum strip_answer choose_letter(struct strip *strip, unsigned letter)
{
	for (int i = 0; i < strip->count; i++)
		if (strip->letters[i] == lower(letter))
			return choose(strip, i);
	return STRIP_IGNORED;
}

enum strip_answer strip_key(struct strip *strip, struct key key)
{
	int count = strip->count;

	if (count == 0)
		return STRIP_IGNORED;
	switch (key.press) {
	case PRESS_CHARACTER:
		return key.pasted ? STRIP_IGNORED : choose_letter(strip, key.character);
	case PRESS_RIGHT:
		return choose(strip, (strip->chosen + 1) % count);
	case PRESS_LEFT:
		return choose(strip, (strip->chosen <= 0 ? count : strip->chosen) - 1);
	case PRESS_DELETE:
	case PRESS_BACKSPACE:
		return choose(strip, STRIP_NONE);
	default:
		return STRIP_IGNORED;
	}
}

/* Where the label's letter stands in it; the label's end when it is not in it. */
static const char *find_letter(const struct strip *strip, int index)
{
	const char *at = strip->labels[index];

	while (*at && lower((unsigned char)*at) != strip->letters[index])
		at++;
	return at;
}

/* A letter that is not in the label stands before it, with a blank. */
static int label_columns(const struct strip *strip, int index, const struct canvas *canvas)
{
	int columns = canvas_width_of(canvas, strip->labels[index]);

	return *find_letter(strip, index) ? columns : columns + 2;
}

/* Draws one label with its letter underlined; returns the column behind it. */
static int draw_label(const struct strip *strip, int index, struct canvas *canvas,
                      struct area area, int row, int column, unsigned style)
{
	const char *label = strip->labels[index];
	const char *letter = find_letter(strip, index);
	char key[2] = { (char)strip->letters[index], '\0' };

	if (*letter == '\0') {
		column = canvas_put(canvas, area, row, column, style | STYLE_UNDERLINE, key);
		return canvas_format(canvas, area, row, column, style, " %s", label);
	}
	key[0] = *letter;
	column = canvas_format(canvas, area, row, column, style, "%.*s", (int)(letter - label),
	                       label);
	column = canvas_put(canvas, area, row, column, style | STYLE_UNDERLINE, key);
	return canvas_put(canvas, area, row, column, style, letter + 1);
}

int strip_draw(const struct strip *strip, struct canvas *canvas, struct area area, int row,
               int column, unsigned style)
{
	int at = column, used = 1;

	for (int i = 0; i < strip->count; i++) {
		bool chosen = i == strip->chosen;
		int width = label_columns(strip, i, canvas) + 2;
		if (at > column && at + width > area.columns) {
			at = column;
			used++;
		}
		unsigned ink = chosen ? style | STYLE_REVERSE : style;
		at = canvas_put(canvas, area, row + used - 1, at, ink, chosen ? "(" : " ");
		at = draw_label(strip, i, canvas, area, row + used - 1, at, ink);
		at = canvas_put(canvas, area, row + used - 1, at, ink, chosen ? ")" : " ");
	}
	return used;
}
