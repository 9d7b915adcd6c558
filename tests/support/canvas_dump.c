/*
 * What stands on a canvas, as text.
 */
#include "support/canvas_dump.h"

static const char ink_letters[INK_COUNT] = {
#define INK(id, letter, ...) [INK_##id] = letter,
#include "tui/ink.def"
#undef INK
};

/* Takes blanks off the end of the text and ends the line. */
static void end_line(struct text *text)
{
	while (text->length > 0 && text->bytes[text->length - 1] == ' ')
		text->bytes[--text->length] = '\0';
	text_add_char(text, '\n');
}

void canvas_dump(const struct canvas *canvas, struct text *text)
{
	for (int row = 0; row < canvas_rows(canvas); row++) {
		const struct canvas_cell *cell = canvas_at(canvas, row, 0);
		for (int column = 0; column < canvas_columns(canvas); column++, cell++) {
			if (cell->width > 0)
				text_add_character(text, cell->character);
			if (cell->mark)
				text_add_character(text, cell->mark);
		}
		end_line(text);
	}
}

static char ink_letter(const struct canvas_cell *cell)
{
	unsigned ink = cell->style & STYLE_INK;
	bool reversed = cell->style & STYLE_REVERSE;
	char letter = ink < INK_COUNT ? ink_letters[ink] : '?';

	if (ink == INK_PLAIN && cell->character == ' ' && !reversed)
		return ' ';
	if (!reversed)
		return letter;
	return letter == '.' ? '#' : (char)(letter - 'a' + 'A');
}

static char underline_letter(const struct canvas_cell *cell)
{
	return cell->style & STYLE_UNDERLINE ? '_' : ' ';
}

static void dump_map(const struct canvas *canvas, struct text *text,
                     char (*letter)(const struct canvas_cell *))
{
	for (int row = 0; row < canvas_rows(canvas); row++) {
		const struct canvas_cell *cell = canvas_at(canvas, row, 0);
		for (int column = 0; column < canvas_columns(canvas); column++, cell++)
			text_add_char(text, letter(cell));
		end_line(text);
	}
}

void canvas_dump_ink(const struct canvas *canvas, struct text *text)
{
	size_t count = (size_t)canvas_rows(canvas) * (size_t)canvas_columns(canvas);
	struct canvas_cursor cursor = canvas_get_cursor(canvas);
	bool underlined = false;

	dump_map(canvas, text, ink_letter);
	for (size_t i = 0; i < count; i++)
		underlined |= (canvas_at(canvas, 0, 0)[i].style & STYLE_UNDERLINE) != 0;
	if (underlined) {
		text_add(text, "underlined:\n");
		dump_map(canvas, text, underline_letter);
	}
	if (cursor.visible)
		text_add_format(text, "cursor: row %d, column %d\n", cursor.row,
		                cursor.column);
	else
		text_add(text, "cursor: none\n");
}
