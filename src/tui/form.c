/*
 * The one field editor.
 *
 * A change is made in a copy of the element and the copy is kept, so that
 * what is refused, by the line or by the book, leaves everything as it was.
 */
#include "tui/form.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/short_texts.h>
#include <padside/base/text.h>

/* Room for a copy of any element that the screens have. */
union copy {
	struct charge_entry charge;
	struct work_line work;
	struct offer offer;
	struct billing billing;
	struct judgement judgement;
	struct tightness_entry tightness;
	struct cylinder cylinder;
	char bytes[NOTE_SIZE];
};

/* A text that was typed into a field and refused. */
struct refusal {
	const struct form_kind *kind; /* where: of which kind of element */
	struct uid uid;               /* of which one; none where there is only one */
	char label[64];               /* of the line */
	int which;                    /* of several alike */
	char text[FORM_TEXT_SIZE];    /* as typed */
	char why[sizeof((struct error *)0)->text]; /* the sentence */
};

enum { MOST_REFUSALS = 12 };

struct form {
	bool writing;     /* something is being written under the cursor */
	struct edit edit; /* that */
	struct refusal refusals[MOST_REFUSALS]; /* left in their fields, oldest first */
	int refusal_count;                      /* of them */
};

struct form *form_new(void)
{
	return calloc(1, sizeof(struct form));
}

void form_free(struct form *form)
{
	free(form);
}

void form_clear(struct workbook *workbook)
{
	struct form *form = workbook_form(workbook);

	form->writing = false;
	form->refusal_count = 0;
}

void form_drop(struct workbook *workbook)
{
	workbook_form(workbook)->writing = false;
}

bool form_is_writing(const struct workbook *workbook)
{
	return workbook_form(workbook)->writing;
}

const char *form_text(const struct workbook *workbook)
{
	return edit_get(&workbook_form(workbook)->edit);
}

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

/* ---- What was refused ---- */

static bool is_of(const struct refusal *refusal, const struct form_place *place)
{
	const struct form_line *line = form_line_at(place);

	return refusal->kind == place->kind && refusal->which == line->which &&
	       strcmp(refusal->label, line->label) == 0 &&
	       strcmp(refusal->uid.text, place->uid ? place->uid->text : "") == 0;
}

static struct refusal *find_refusal(const struct form *form, const struct form_place *place)
{
	for (int i = 0; i < form->refusal_count; i++)
		if (is_of(&form->refusals[i], place))
			return (struct refusal *)&form->refusals[i];
	return NULL;
}

static void drop_refusal(struct form *form, struct refusal *refusal)
{
	if (!refusal)
		return;
	int after = form->refusal_count - (int)(refusal - form->refusals) - 1;
	memmove(refusal, refusal + 1, (size_t)after * sizeof *refusal);
	form->refusal_count--;
}

/* Leaves what was written in its field, refused. */
static void add_refusal(struct form *form, const struct form_place *place, const char *why)
{
	drop_refusal(form, find_refusal(form, place));
	if (form->refusal_count == MOST_REFUSALS)
		drop_refusal(form, &form->refusals[0]);
	struct refusal *refusal = &form->refusals[form->refusal_count++];
	*refusal = (struct refusal){ .kind = place->kind, .which = form_line_at(place)->which };
	if (place->uid)
		refusal->uid = *place->uid;
	text_copy(refusal->label, sizeof refusal->label, form_line_at(place)->label);
	text_copy(refusal->text, sizeof refusal->text, edit_get(&form->edit));
	text_copy(refusal->why, sizeof refusal->why, why);
}

bool form_refused(const struct workbook *workbook, int i, const char **label, const char **text)
{
	const struct form *form = workbook_form(workbook);

	if (i >= form->refusal_count)
		return false;
	*label = form->refusals[i].label;
	*text = form->refusals[i].text;
	return true;
}

/* ---- Keeping ---- */

static enum status put(struct workbook *workbook, const struct form_place *place,
                       const char *typed, struct error *error)
{
	struct session *session = workbook_session(workbook);
	const struct form_line *line = form_line_at(place);
	char present[FORM_TEXT_SIZE], whole[FORM_TEXT_SIZE];
	union copy copy;

	if (line->is_prose && short_texts_expand(typed, whole, line->limit + 1 < sizeof whole
	                                         ? line->limit + 1 : sizeof whole))
		typed = whole;
	assert(place->kind->size <= sizeof copy);
	form_get(place, session, present, sizeof present);
	if (!line->is_measured && strcmp(present, typed) == 0)
		return STATUS_OK;
	memcpy(&copy, place->element, place->kind->size);
	enum status status = line->set(line, &copy, typed, session, error);
	if (status == STATUS_OK && place->kind->keep)
		status = place->kind->keep(session, &copy, place->context, error);
	if (status == STATUS_OK && place->kind->kept)
		place->kind->kept(workbook, line, &copy, place->context);
	return status;
}

/*
 * The place as it can be named after a value was kept: the call that its id
 * stood in may be another one then.
 */
static struct form_place named_place(const struct form_place *place, struct uid *uid)
{
	struct form_place named = *place;

	if (place->uid) {
		*uid = *place->uid;
		named.uid = uid;
	}
	return named;
}

bool form_put(struct workbook *workbook, const struct form_place *place, const char *typed)
{
	struct uid uid;
	const struct form_place named = named_place(place, &uid);
	struct error error;

	if (put(workbook, place, typed, &error) != STATUS_OK)
		return workbook_refuse(workbook, &error);
	drop_refusal(workbook_form(workbook), find_refusal(workbook_form(workbook), &named));
	return true;
}

bool form_keep(struct workbook *workbook, const struct form_place *place)
{
	struct form *form = workbook_form(workbook);
	struct uid uid;
	struct error error;

	/* What was kept already may have replaced the call that the place stood in. */
	if (!form->writing)
		return true;
	const struct form_place named = named_place(place, &uid);
	form->writing = false;
	if (put(workbook, place, edit_get(&form->edit), &error) == STATUS_OK) {
		drop_refusal(form, find_refusal(form, &named));
		return true;
	}
	add_refusal(form, &named, error.text);
	return workbook_refuse(workbook, &error);
}

/* ---- Keys ---- */

/* What an edit key begins with: the refused text, else what is kept. */
static void begin(struct workbook *workbook, const struct form_place *place, bool with_present)
{
	struct form *form = workbook_form(workbook);
	const struct refusal *refusal = find_refusal(form, place);
	char present[FORM_TEXT_SIZE];

	form->writing = true;
	edit_init(&form->edit, form_line_at(place)->limit);
	if (!with_present)
		return;
	form_get(place, workbook_session(workbook), present, sizeof present);
	edit_set(&form->edit, refusal ? refusal->text : present);
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

static enum form_answer press_writing(struct workbook *workbook, const struct form_place *place,
                                      struct key key)
{
	struct form *form = workbook_form(workbook);
	enum request request = request_from_key(PLACE_WRITING, key);

	if (request == REQUEST_WRITE_DROP) {
		form->writing = false;
		drop_refusal(form, find_refusal(form, place));
		return FORM_TAKEN;
	}
	if (request == REQUEST_WRITE_KEEP)
		return form_keep(workbook, place) ? FORM_NEXT : FORM_TAKEN;
	enum edit_answer answer = edit_key(&form->edit, key);
	if (answer == EDIT_FULL)
		workbook_say(workbook, INK_REFUSED, "that is as long as this field takes");
	return answer == EDIT_IGNORED ? FORM_IGNORED : FORM_TAKEN;
}

/* The keys that only a refused text has; false for all others. */
static bool press_refused(struct workbook *workbook, const struct form_place *place,
                          struct key key)
{
	struct form *form = workbook_form(workbook);
	struct refusal *refusal = find_refusal(form, place);

	if (!refusal)
		return false;
	switch (request_from_key(PLACE_REFUSED, key)) {
	case REQUEST_REFUSED_EDIT:
		begin(workbook, place, true);
		press_writing(workbook, place, key);
		return true;
	case REQUEST_REFUSED_DROP:
		drop_refusal(form, refusal);
		return true;
	default:
		return false;
	}
}

enum form_answer form_press(struct workbook *workbook, const struct form_place *place,
                            enum request request, struct key key)
{
	if (form_is_writing(workbook))
		return press_writing(workbook, place, key);
	if (press_refused(workbook, place, key))
		return FORM_TAKEN;
	switch (request) {
	case REQUEST_FIELD_WORD:
		if (form_line_at(place)->words[0]) {
			next_word(workbook, place);
			return FORM_TAKEN;
		}
		begin(workbook, place, false);
		return press_writing(workbook, place, key);
	case REQUEST_TYPE:
		begin(workbook, place, false);
		return press_writing(workbook, place, key);
	case REQUEST_FIELD_EDIT:
		begin(workbook, place, true);
		press_writing(workbook, place, key);
		return FORM_TAKEN;
	case REQUEST_FIELD_NEXT:
		return FORM_NEXT;
	case REQUEST_FIELD_EMPTY:
		form_put(workbook, place, "");
		return FORM_TAKEN;
	default:
		return FORM_IGNORED;
	}
}

/* ---- Drawing ---- */

/* The first few, so that one knows that there are some. */
static void add_short_texts(struct text *words)
{
	enum { SHOWN = 8 };
	const char *letters, *text;

	for (size_t i = 0; i < SHOWN && short_texts_at(i, &letters, &text); i++)
		text_add_format(words, "%s%s", i ? ", " : " Short texts: ", letters);
	text_add(words, words->length ? " …" : "");
}

void form_hint(struct workbook *workbook, const struct form_place *place)
{
	const struct form_line *line = form_line_at(place);
	const struct form *form = workbook_form(workbook);
	const struct refusal *refusal = find_refusal(form, place);
	struct text words;

	workbook_show_keys(workbook, form->writing ? PLACE_WRITING : refusal ? PLACE_REFUSED
	                                                                     : PLACE_COUNT);
	if (refusal && !form->writing) {
		workbook_hint(workbook, "Not kept: %s", refusal->why);
		return;
	}
	text_init(&words);
	for (int i = 0; i < FORM_MOST_WORDS && line->words[i]; i++)
		text_add_format(&words, "%s%s", i ? ", " : " Space or: ", line->words[i]);
	if (line->is_prose && !form->writing)
		add_short_texts(&words);
	workbook_hint(workbook, "%s%s", line->help, text_get(&words));
	text_done(&words);
}

const char *form_mark(const struct workbook *workbook, const struct form_place *place, bool here)
{
	const struct form *form = workbook_form(workbook);

	return here && form->writing ? "…" : find_refusal(form, place) ? "no" : "";
}

void form_draw(struct workbook *workbook, const struct form_place *place, struct area area,
               int row, int column, int width, bool here)
{
	static const char dots[] = "·······";
	struct canvas *canvas = workbook_canvas(workbook);
	const struct form_line *line = form_line_at(place);
	struct form *form = workbook_form(workbook);
	const struct refusal *refusal = find_refusal(form, place);
	char text[FORM_TEXT_SIZE];

	if (here)
		form_hint(workbook, place);
	if (here && form->writing) {
		edit_draw(&form->edit, canvas, area, row, column, width, INK_FIELD_ACTIVE);
		return;
	}
	if (refusal)
		text_copy(text, sizeof text, refusal->text);
	else
		form_get(place, workbook_session(workbook), text, sizeof text);
	unsigned style = (refusal ? INK_REFUSED : *text ? INK_FIELD : INK_FIELD_EMPTY) |
	                 (here ? STYLE_REVERSE : 0);
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
	if (!wraps || (here && form->writing) || find_refusal(form, place)) {
		form_draw(workbook, place, cell, 0, 0, cell.columns, here);
		return;
	}
	if (here)
		form_hint(workbook, place);
	if (canvas_wrap(canvas, cell, 0, 0, INK_FIELD | (here ? STYLE_REVERSE : 0), text) > cell.rows)
		canvas_put(canvas, cell, cell.rows - 1, cell.columns - 1, INK_FIELD, "…");
}
