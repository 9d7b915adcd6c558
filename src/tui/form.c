/*
 * Lines that are written like the sheet's.
 *
 * A change is made in a copy of the element and the copy is kept, so that
 * what is refused, by the line or by the book, leaves everything as it was.
 */
#include "tui/form.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include <padside/model/money.h>
#include <padside/base/number.h>
#include <padside/base/text.h>

/* The most that one amount may be: a billion, far below where sums could overflow. */
static const cents most_money = 100000000000;

/* Room for a copy of any element that the screens have. */
union copy {
	struct charge_entry charge;
	struct work_line work;
	struct offer offer;
	struct billing billing;
	char bytes[NOTE_SIZE];
};

const struct form_line *form_line_at(const struct form_place *place)
{
	return &place->kind->lines[place->line];
}

void form_get(const struct form_place *place, struct session *session, char *out, size_t size)
{
	const struct form_line *line = form_line_at(place);

	out[0] = '\0';
	if (!place->is_fresh)
		line->get(line, place->element, session, out, size);
}

/* ---- Keeping ---- */

bool form_put(struct workbook *workbook, const struct form_place *place, const char *typed)
{
	struct session *session = workbook_session(workbook);
	const struct form_line *line = form_line_at(place);
	char present[FORM_TEXT_SIZE];
	union copy copy;
	struct error error;

	assert(place->kind->size <= sizeof copy);
	form_get(place, session, present, sizeof present);
	if (strcmp(present, typed) == 0)
		return true;
	memcpy(&copy, place->element, place->kind->size);
	enum status status = line->set(line, &copy, typed, session, &error);
	if (status == STATUS_OK)
		status = place->kind->keep(session, &copy, place->context, &error);
	return status == STATUS_OK || workbook_refuse(workbook, &error);
}

bool form_keep(struct workbook *workbook, struct form *form, const struct form_place *place)
{
	if (!form->writing)
		return true;
	form->refused = !form_put(workbook, place, edit_get(&form->edit));
	form->writing = form->refused;
	return !form->refused;
}

/* ---- Keys ---- */

static void begin(struct workbook *workbook, struct form *form, const struct form_place *place,
                  bool with_present)
{
	char present[FORM_TEXT_SIZE];

	form->writing = true;
	form->refused = false;
	edit_init(&form->edit, form_line_at(place)->limit);
	if (!with_present)
		return;
	form_get(place, workbook_session(workbook), present, sizeof present);
	edit_set(&form->edit, present);
}

static void next_word(struct workbook *workbook, const struct form_place *place)
{
	const struct form_line *line = form_line_at(place);
	char present[FORM_TEXT_SIZE];
	int next = 0;

	form_get(place, workbook_session(workbook), present, sizeof present);
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++)
		if (strcmp(line->words[i], present) == 0)
			next = i + 1;
	if (next == FORM_MOST_WORDS || !line->words[next])
		next = 0;
	form_put(workbook, place, line->words[next]);
}

static enum form_answer press_writing(struct workbook *workbook, struct form *form,
                                      const struct form_place *place, struct key key)
{
	if (key.press == PRESS_ESCAPE) {
		form->writing = false;
		return FORM_TAKEN;
	}
	if (key.press == PRESS_ENTER)
		return form_keep(workbook, form, place) ? FORM_NEXT : FORM_TAKEN;
	enum edit_answer answer = edit_key(&form->edit, key);
	if (answer == EDIT_CHANGED)
		form->refused = false;
	if (answer == EDIT_FULL)
		workbook_say(workbook, INK_REFUSED, "that is as long as this line takes");
	return answer == EDIT_IGNORED ? FORM_IGNORED : FORM_TAKEN;
}

enum form_answer form_press(struct workbook *workbook, struct form *form,
                            const struct form_place *place, struct key key)
{
	if (form->writing)
		return press_writing(workbook, form, place, key);
	switch (key.press) {
	case PRESS_CHARACTER:
		if (key.character == ' ' && !key.pasted && form_line_at(place)->words[0]) {
			next_word(workbook, place);
			return FORM_TAKEN;
		}
		begin(workbook, form, place, false);
		return press_writing(workbook, form, place, key);
	case PRESS_BACKSPACE:
		begin(workbook, form, place, true);
		return press_writing(workbook, form, place, key);
	case PRESS_INSERT:
		begin(workbook, form, place, true);
		return FORM_TAKEN;
	case PRESS_ENTER:
		return FORM_NEXT;
	case PRESS_DELETE:
		form_put(workbook, place, "");
		return FORM_TAKEN;
	default:
		return FORM_IGNORED;
	}
}

/* ---- Drawing ---- */

void form_hint(struct workbook *workbook, const struct form_line *line)
{
	struct text words;

	text_init(&words);
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++)
		text_add_format(&words, "%s%s", i ? ", " : " Space or: ", line->words[i]);
	workbook_hint(workbook, "%s: %s%s", line->label, line->help, text_get(&words));
	text_done(&words);
}

void form_draw(struct workbook *workbook, struct form *form, const struct form_place *place,
               struct area area, int row, int column, int width, bool here)
{
	static const char dots[] = "·······";
	struct canvas *canvas = workbook_canvas(workbook);
	const struct form_line *line = form_line_at(place);
	char text[FORM_TEXT_SIZE];

	if (here)
		form_hint(workbook, line);
	if (here && form->writing) {
		edit_draw(&form->edit, canvas, area, row, column, width,
		          form->refused ? INK_REFUSED : INK_FIELD_ACTIVE);
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

/* ---- Readers ---- */

enum status form_read_text(const struct form_line *line, const char *typed, char *text,
                           size_t size, struct error *error)
{
	if (strlen(typed) >= size)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes at most %zu characters; shorten it",
		                 line->label, size - 1);
	text_copy(text, size, typed);
	for (char *at = text; *at; at++)
		if ((unsigned char)*at < 0x20 || *at == 0x7f)
			*at = ' ';
	return STATUS_OK;
}

enum status form_read_money(const struct form_line *line, const char *typed, cents *amount,
                            struct error *error)
{
	cents read = 0;

	if (*typed && money_parse(typed, &read) != STATUS_OK)
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type an amount like 12.50 or 1,200",
		                 line->label);
	if (read < -most_money || read > most_money)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: that is too much money for one line",
		                 line->label);
	*amount = read;
	return STATUS_OK;
}

enum status form_read_number(const struct form_line *line, const char *typed, double least,
                             double most, double *number, struct error *error)
{
	double read = 0;
	const char *rest = "";
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	if (*typed && (!number_parse(typed, &read, &rest) || *rest))
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type a number like 12 or 7.5",
		                 line->label);
	if (*typed && (read < least || read > most)) {
		number_format_exact(least, low, sizeof low);
		number_format_exact(most, high, sizeof high);
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: %s to %s is possible", line->label, low,
		                 high);
	}
	*number = read;
	return STATUS_OK;
}

enum status form_read_word(const struct form_line *line, const char *typed, int *word,
                           struct error *error)
{
	char start[32];
	struct text all;

	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++) {
		text_copy(start, sizeof start, line->words[i]);
		if (strlen(typed) < strlen(start))
			start[strlen(typed)] = '\0';
		if (text_equal_ignoring_case(start, typed)) {
			*word = i;
			return STATUS_OK;
		}
	}
	text_init(&all);
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++)
		text_add_format(&all, "%s%s", i ? ", " : "", line->words[i]);
	enum status status = error_set(error, STATUS_NOT_FOUND, "%s: one of %s, or the start of it",
	                               line->label,
	                               text_get(&all));
	text_done(&all);
	return status;
}
