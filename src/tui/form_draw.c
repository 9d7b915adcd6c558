/*
 * The field editor drawn: a line, and what is said of it below the page.
 */
#include "tui/form_parts.h"

#include <ctype.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/quantities.h>
#include <padside/base/text.h>

/*
 * A hint is one row, so that both rows of keys stand below it: as many whole
 * sentences and words as it holds.  "…" stands for the rest, which F1 tells.
 */
struct hint {
	const struct canvas *canvas; /* measures */
	int columns;                 /* of the row */
	struct text text;            /* so far */
	bool is_cut;                 /* the rest has no room */
};

/* Whether there is room, and where more follows for the mark of a cut too. */
static bool has_room(const struct hint *hint, const char *before, const char *words, bool more)
{
	return canvas_width_of(hint->canvas, text_get(&hint->text)) +
	       canvas_width_of(hint->canvas, before) + canvas_width_of(hint->canvas, words) +
	       (more ? 2 : 0) <= hint->columns;
}

/* The rest has no room: marked where the mark has some. */
static void cut(struct hint *hint)
{
	text_add(&hint->text, has_room(hint, " ", "…", false) ? " …" : "");
	hint->is_cut = true;
}

/* Behind the last sentence that begins at `words`: "in. w.c." ends none. */
static size_t sentence_length(const char *words)
{
	const char *at = words;

	while ((at = strstr(at, ". ")) && !isupper((unsigned char)at[2]))
		at++;
	return at ? (size_t)(at - words) + 1 : strlen(words);
}

/* The help of some lines is a sentence, of others a few words: here all are sentences. */
static void add_help(struct hint *hint, const char *typed, enum unit_system units)
{
	char written[QUANTITIES_SIZE];
	const char *help = written;

	quantities_write(typed, units, written, sizeof written);
	char sentence[FORM_TEXT_SIZE];

	for (bool is_first = true; *help; is_first = false) {
		size_t length = sentence_length(help);
		snprintf(sentence, sizeof sentence, "%.*s%s", (int)length, help,
		         help[length - 1] == '.' ? "" : ".");
		sentence[0] = (char)toupper((unsigned char)sentence[0]);
		if (!is_first && !has_room(hint, " ", sentence, help[length] != '\0')) {
			cut(hint);
			return;
		}
		text_add_format(&hint->text, "%s%s", is_first ? "" : " ", sentence);
		help += length + strspn(help + length, " ");
	}
}

/* One word of a list that `head` begins. */
static void add_word(struct hint *hint, bool is_first, const char *head, const char *word)
{
	char before[32];

	snprintf(before, sizeof before, "%s%s", is_first ? hint->text.length ? " " : "" : ", ",
	         is_first ? head : "");
	if (!has_room(hint, before, word, true)) {
		cut(hint);
		return;
	}
	text_add_format(&hint->text, "%s%s", before, word);
}

static void add_words(struct hint *hint, const struct form_line *line)
{
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i] && !hint->is_cut; i++)
		add_word(hint, i == 0, "One of ", line->words[i]);
}

static void add_short_texts(struct hint *hint, enum short_place place)
{
	const char *letters, *text;

	for (size_t i = 0; !hint->is_cut && short_texts_at(place, i, &letters, &text); i++)
		add_word(hint, i == 0, "Short texts: ", letters);
}

static void hint_held(struct workbook *workbook, const struct form_place *place,
                      const struct session_pending *held)
{
	struct text words;

	text_init(&words);
	if (held->recovered)
		text_add_format(&words,
		                "Not kept when the program ended. %s edits it, %s then "
		                "keeps it; %s drops it", request_info(REQUEST_REFUSED_EDIT)->key,
		                request_info(REQUEST_WRITE_KEEP)->key,
		                request_info(REQUEST_REFUSED_DROP)->key);
	else
		text_add_format(&words, "%s: %s",
		                held->refused ? "Not kept" : "Not kept yet, it is tried again", held->why);
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
	struct form *form = workbook_form(workbook);
	const struct session_pending *held = form_find_held(workbook, place);
	struct hint hint = { .canvas = workbook_canvas(workbook),
	                     .columns = canvas_columns(workbook_canvas(workbook)) - 1 };

	form->hinted = line;
	if (held && !form->writing) {
		hint_held(workbook, place, held);
		return;
	}
	text_init(&hint.text);
	add_help(&hint, line->help, session_units(workbook_session(workbook)));
	if (!has_words_told(line))
		add_words(&hint, line);
	if (line->short_texts && !form->writing)
		add_short_texts(&hint, line->short_texts);
	workbook_hint(workbook, "%s", text_get(&hint.text));
	text_done(&hint.text);
}

void form_begin_page(struct workbook *workbook)
{
	workbook_form(workbook)->hinted = NULL;
}

void form_add_help(struct workbook *workbook, struct text *text)
{
	const struct form_line *line = workbook_form(workbook)->hinted;
	struct hint whole = { .canvas = workbook_canvas(workbook), .columns = INT_MAX };
	const char *letters, *sentence;

	if (!line)
		return;
	text_init(&whole.text);
	add_help(&whole, line->help, session_units(workbook_session(workbook)));
	text_add_format(text, "%s\n  %s\n", line->label, text_get(&whole.text));
	text_done(&whole.text);
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++)
		text_add_format(text, "%s%s", i ? ", " : "  One of ", line->words[i]);
	text_add(text, line->words[0] ? ".\n" : "");
	for (size_t i = 0;
	     line->short_texts && short_texts_at(line->short_texts, i, &letters, &sentence); i++)
		text_add_format(text, "  %s: %s\n", letters, sentence);
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
	canvas_wrap(canvas, cell, 0, 0, INK_FIELD | (here ? STYLE_REVERSE : 0), text);
}
