/*
 * The field editor drawn: a line, and what is said of it below the page.
 */
#include "tui/form_parts.h"

#include <ctype.h>
#include <string.h>

/* The first few, so that one knows that there are some. */
static void add_short_texts(enum short_place place, struct text *words)
{
	enum { SHOWN = 8 };
	const char *letters, *text;

	for (size_t i = 0; i < SHOWN && short_texts_at(place, i, &letters, &text); i++)
		text_add_format(words, "%s%s", i ? ", " : "Short texts: ", letters);
	text_add(words, short_texts_at(place, SHOWN, &letters, &text) ? " …" : "");
}

static void hint_held(struct workbook *workbook, const struct form_place *place,
                      const struct session_pending *held)
{
	struct text words;

	text_init(&words);
	if (held->recovered)
		text_add(&words, "Not kept when the program ended. Left edits it, Enter then keeps it; Esc drops it");
	else
		text_add_format(&words, "%s: %s", held->refused ? "Not kept" : "Not kept yet, it is tried again",
		                held->why);
	form_add_counting(workbook, place, &words);
	workbook_hint(workbook, "%s%s", text_get(&words), held->recovered ? "." : "");
	text_done(&words);
}

/* Whether the help of a line, or the row of keys, names all the words that it may say. */
static bool has_words_told(const struct form_line *line)
{
	if (form_words_place(line) == PLACE_YES_NO)
		return true;
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++)
		if (!strstr(line->help, line->words[i]))
			return false;
	return true;
}

void form_hint(struct workbook *workbook, const struct form_place *place)
{
	const struct form_line *line = form_line_at(place);
	const struct form *form = workbook_form(workbook);
	const struct session_pending *held = form_find_held(workbook, place);
	struct text words;

	workbook_show_keys(workbook, form->writing ? PLACE_WRITING : held ? PLACE_REFUSED
	                                                                  : form_words_place(line));
	if (held && !form->writing) {
		hint_held(workbook, place, held);
		return;
	}
	text_init(&words);
	bool is_told = has_words_told(line);
	for (int i = 0; !is_told && i < FORM_MOST_WORDS && line->words[i]; i++)
		text_add_format(&words, "%s%s", i ? ", " : "One of ", line->words[i]);
	if (line->short_texts && !form->writing)
		add_short_texts(line->short_texts, &words);
	/* The help of some lines is a sentence, of others a few words: here all are sentences. */
	size_t length = strlen(line->help);
	bool is_ended = length == 0 || line->help[length - 1] == '.';
	char first[] = { (char)toupper((unsigned char)line->help[0]), '\0' };
	workbook_hint(workbook, "%s%s%s%s%s", first, length ? line->help + 1 : "", is_ended ? "" : ".",
	              words.length ? " " : "", text_get(&words));
	text_done(&words);
}

void form_draw(struct workbook *workbook, const struct form_place *place, struct area area,
               int row, int column, int width, bool here)
{
	static const char dots[] = "·······";
	struct canvas *canvas = workbook_canvas(workbook);
	const struct form_line *line = form_line_at(place);
	struct form *form = workbook_form(workbook);
	char text[FORM_TEXT_SIZE];

	if (here)
		form_hint(workbook, place);
	if (here && form->writing) {
		edit_draw(&form->edit, canvas, area, row, column, width, INK_FIELD_ACTIVE);
		return;
	}
	if (form_find_held(workbook, place)) {
		form_draw_held(workbook, place, area_part(area, row, column, 1, width), here);
		return;
	}
	form_get(place, workbook_session(workbook), text, sizeof text);
	unsigned style = (*text ? INK_FIELD : INK_FIELD_EMPTY) | (here ? STYLE_REVERSE : 0);
	/* A dot is two bytes long. */
	const char *empty = width < 7 ? dots + 2 * (7 - (width > 0 ? width : 0)) : dots;
	if (line->is_number && canvas_width_of(canvas, text) <= width)
		canvas_put_right(canvas, area, row, column, width, style, *text ? text : empty);
	else
		canvas_put_padded(canvas, area, row, column, width, style, *text ? text : empty);
}

void form_draw_long(struct workbook *workbook, const struct form_place *place, struct area cell,
                    bool here)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct form *form = workbook_form(workbook);
	char text[FORM_TEXT_SIZE];

	form_get(place, workbook_session(workbook), text, sizeof text);
	bool wraps = canvas_width_of(canvas, text) > cell.columns && cell.rows > 1;
	if (!wraps || (here && form->writing) || form_find_held(workbook, place)) {
		form_draw(workbook, place, cell, 0, 0, cell.columns, here);
		return;
	}
	if (here)
		form_hint(workbook, place);
	if (canvas_wrap(canvas, cell, 0, 0, INK_FIELD | (here ? STYLE_REVERSE : 0), text) > cell.rows)
		canvas_put(canvas, cell, cell.rows - 1, cell.columns - 1, INK_FIELD, "…");
}
