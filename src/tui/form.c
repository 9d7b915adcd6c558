/*
 * The one field editor.
 *
 * A change is made in a copy of the element and the copy is kept, so that
 * what is refused, by the line or by the book, leaves everything as it was.
 */
#include "tui/form_parts.h"

#include "tui/closed.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

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
	workbook_form(workbook)->writing = false;
}

void form_drop(struct workbook *workbook)
{
	workbook_form(workbook)->writing = false;
}

const char *form_text(const struct workbook *workbook)
{
	return edit_get(&workbook_form(workbook)->edit);
}

/* ---- What is not kept ---- */

/* Remembers of which kind the lines are that have to wait. */
static void note_kind(struct form *form, const struct form_kind *kind)
{
	for (int i = 0; i < form->kind_count; i++)
		if (form->kinds[i] == kind)
			return;
	if (form->kind_count < MOST_KINDS)
		form->kinds[form->kind_count++] = kind;
}

/* Leaves what was typed in its field: refused, or to be tried again. */
static void hold(struct workbook *workbook, const struct form_kind *kind,
                 struct session_pending *held, const char *typed, struct error *error)
{
	const struct error why = *error;

	held->refused = !session_may_keep_later(why.status) || kind->home == FORM_HOME_NONE;
	/* Fields and readings that have to wait are held by the session. */
	if (!held->is_line && session_may_keep_later(why.status))
		return;
	held->recovered = false;
	text_copy(held->text, sizeof held->text, typed);
	text_copy(held->why, sizeof held->why, why.text);
	if (session_hold(workbook_session(workbook), held, error) == STATUS_OK && !held->refused) {
		note_kind(workbook_form(workbook), kind);
		error_set(error, why.status, "not kept yet, it is tried again: %s", why.text);
	}
}

/* ---- Keeping ---- */

/* Spaces are a slip of the thumb, not a text. */
static bool is_blank(const char *typed)
{
	return typed[strspn(typed, " ")] == '\0';
}

static enum status put(struct workbook *workbook, const struct form_place *place,
                       const char *typed, struct error *error)
{
	struct session *session = workbook_session(workbook);
	const struct form_line *line = form_line_at(place);
	char present[FORM_TEXT_SIZE], whole[FORM_TEXT_SIZE];
	union copy copy;

	if (line->short_texts && short_texts_expand(line->short_texts, typed, whole,
	                                            line->limit + 1 < sizeof whole ? line->limit + 1
	                                                                           : sizeof whole))
		typed = whole;
	assert(place->kind->size <= sizeof copy);
	form_get(place, session, present, sizeof present);
	if (!line->is_measured && strcmp(present, typed) == 0)
		return STATUS_OK;
	if (*present && *typed && is_blank(typed))
		return error_set(error, STATUS_REFUSED,
		                 "%s stays %s; type another over it, or empty it with %s", line->label,
		                 present, request_info(REQUEST_FIELD_EMPTY)->key);
	memcpy(&copy, place->element, place->kind->size);
	enum status status = line->set(line, &copy, typed, session, error);
	if (status == STATUS_OK && place->kind->keep)
		status = place->kind->keep(session, &copy, place->context, error);
	if (status == STATUS_OK && place->kind->kept)
		place->kind->kept(workbook, line, &copy, place->context);
	return status;
}

/*
 * Keeps what was typed; where it fails, what has to wait is held, and what is
 * refused where `holds_refused`.  The place is named before: the call that it
 * stands in may be another one behind.
 */
static bool keep(struct workbook *workbook, const struct form_place *place, const char *typed,
                 bool holds_refused)
{
	const struct form_kind *kind = place->kind;
	struct session_pending held;
	struct error error;

	form_held(workbook, place, &held);
	if (put(workbook, place, typed, &error) == STATUS_OK) {
		session_pending_drop_place(workbook_session(workbook), &held);
		return true;
	}
	/* What only has to wait is nothing to stay for: one goes on. */
	bool waits = session_may_keep_later(error.status) &&
	             (!held.is_line || kind->home != FORM_HOME_NONE);
	/* An empty text is nothing to correct: what was kept stays in sight. */
	bool is_held = (holds_refused && !is_blank(typed)) || waits;
	struct text words;
	if (is_held)
		hold(workbook, kind, &held, typed, &error);
	text_init(&words);
	text_add_format(&words, "%s%s", waits ? "" : "Not kept: ", error.text);
	if (is_held && !waits)
		form_add_counting(workbook, place, &words);
	workbook_say(workbook, waits ? INK_UNKEPT : INK_REFUSED, "%s", text_get(&words));
	text_done(&words);
	return waits;
}

bool form_put(struct workbook *workbook, const struct form_place *place, const char *typed)
{
	return keep(workbook, place, typed, false);
}

bool form_keep(struct workbook *workbook, const struct form_place *place)
{
	struct form *form = workbook_form(workbook);
	char typed[FORM_TEXT_SIZE];

	/* What was kept already may have replaced the call that the place stood in. */
	if (!form->writing)
		return true;
	form->writing = false;
	text_copy(typed, sizeof typed, edit_get(&form->edit));
	return keep(workbook, place, typed, true);
}

/* ---- Trying again ---- */

static const struct form_kind *find_kind(const struct form *form, const char *name)
{
	for (int i = 0; i < form->kind_count; i++)
		if (strcmp(form->kinds[i]->name, name) == 0)
			return form->kinds[i];
	return NULL;
}

static int find_line(const struct form_kind *kind, const struct session_pending *held)
{
	for (int i = 0; i < kind->count; i++)
		if (kind->lines[i].which == held->which && strcmp(kind->lines[i].label, held->label) == 0)
			return i;
	return -1;
}

/* The element as the book has it now; of a list, a new one where it has none. */
static void find_element(struct session *session, const struct form_kind *kind,
                         const struct uid *uid, union copy *element)
{
	const struct call *call = session_call(session);
	const void *there = kind->home == FORM_HOME_BILLING ? &call->billing
		: call_list_at(call, kind->list, call_list_find(call, kind->list, uid));

	if (there) {
		memcpy(element, there, kind->size);
		return;
	}
	call_element_init(kind->list, element);
	memcpy(element, uid, sizeof *uid);
}

/* False when it has to wait on. */
static bool retry(struct workbook *workbook, const struct form_kind *kind,
                  const struct session_pending *given)
{
	struct session *session = workbook_session(workbook);
	struct session_pending held = *given;
	union copy element;
	struct error error;
	struct form_place place = { .kind = kind, .element = &element, .uid = &held.uid,
	                            .line = find_line(kind, &held) };

	find_element(session, kind, &held.uid, &element);
	if (place.line < 0)
		return false;
	enum status status = put(workbook, &place, held.text, &error);
	if (status == STATUS_OK) {
		session_pending_drop_place(session, &held);
		return true;
	}
	if (!session_may_keep_later(status))
		hold(workbook, kind, &held, held.text, &error);
	return false;
}

void form_retry(struct workbook *workbook, const char **label)
{
	struct session *session = workbook_session(workbook);
	const struct form *form = workbook_form(workbook);

	*label = NULL;
	for (size_t i = 0; i < session_pending_count(session);) {
		const struct session_pending *held = session_pending_at(session, i);
		const struct form_kind *kind = held->is_line && !held->recovered && !held->refused &&
			strcmp(held->call.text, session_call(session)->uid.text) == 0
			? find_kind(form, held->what) : NULL;
		const int line = kind ? find_line(kind, held) : -1;
		if (line < 0 || !retry(workbook, kind, held)) {
			i++;
			continue;
		}
		*label = kind->lines[line].label;
	}
}

/* ---- Keys ---- */

/* What an edit key begins with: the refused text, else what is kept. */
static void begin(struct workbook *workbook, const struct form_place *place, bool with_present)
{
	struct form *form = workbook_form(workbook);
	const struct session_pending *held = form_find_held(workbook, place);
	char present[FORM_TEXT_SIZE];

	form->writing = true;
	edit_init(&form->edit, form_line_at(place)->limit);
	if (!with_present)
		return;
	form_get(place, workbook_session(workbook), present, sizeof present);
	edit_set(&form->edit, held ? held->text : present);
}

enum request_place form_words_place(const struct form_line *line)
{
	bool is_yes_no = line->words[0] && strcmp(line->words[0], "yes") == 0;

	return !line->words[0] || line->is_said ? PLACE_COUNT : is_yes_no ? PLACE_YES_NO : PLACE_WORDS;
}

enum request_place form_where(const struct workbook *workbook, const struct form_place *place)
{
	return form_is_writing(workbook) ? PLACE_WRITING
	     : form_find_held(workbook, place) ? PLACE_REFUSED : form_words_place(form_line_at(place));
}

/* A thumb on the key of the next word is no answer of a customer. */
static bool is_slip(const struct form_line *line, struct key key)
{
	return line->is_said && request_from_key(PLACE_WORDS, key) == REQUEST_WORD_NEXT;
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

static void drop_held(struct workbook *workbook, const struct form_place *place)
{
	struct session_pending held;

	if (form_held(workbook, place, &held))
		session_pending_drop_place(workbook_session(workbook), &held);
}

/* The text's own keys. */
static enum form_answer edit_text(struct workbook *workbook, struct key key)
{
	enum edit_answer answer = edit_key(&workbook_form(workbook)->edit, key);

	if (answer == EDIT_FULL)
		workbook_say(workbook, INK_REFUSED, "the field is full: the rest was dropped");
	return answer == EDIT_IGNORED ? FORM_IGNORED : FORM_TAKEN;
}

/* Begins to write, and the key is the first one in the text. */
static enum form_answer begin_with(struct workbook *workbook, const struct form_place *place,
                                   bool with_present, struct key key)
{
	begin(workbook, place, with_present);
	edit_text(workbook, key);
	return FORM_TAKEN;
}

static enum form_answer press_writing(struct workbook *workbook, const struct form_place *place,
                                      enum request request, struct key key)
{
	switch (request) {
	case REQUEST_WRITE_DROP:
		form_drop(workbook);
		drop_held(workbook, place);
		return FORM_TAKEN;
	case REQUEST_WRITE_KEEP:
		return form_keep(workbook, place) ? FORM_NEXT : FORM_TAKEN;
	default:
		return edit_text(workbook, key);
	}
}

/* Whether it begins a change of the call, which a closed one is asked about. */
static bool is_change(const struct form_place *place, enum request request)
{
	const struct form_line *line = form_line_at(place);
	bool is_kept = line->is_field || line->is_measured || place->kind->home != FORM_HOME_NONE;

	return is_kept && (request == REQUEST_TYPE || request == REQUEST_FIELD_EDIT ||
	                   request == REQUEST_FIELD_EMPTY || request == REQUEST_REFUSED_EDIT ||
	                   request == REQUEST_WORD_NEXT || request == REQUEST_ANSWER_YES ||
	                   request == REQUEST_ANSWER_NO);
}

/*
 * False where a question stands before the change: a name is typed over by who took this
 * page for a new call, or the refrigerant is of what was moved.
 */
static bool may_replace(struct workbook *workbook, const struct form_place *place,
                        enum request request)
{
	const struct form_line *line = form_line_at(place);
	bool is_name = line->is_field &&
	               (line->which == FIELD_CUSTOMER_NAME || line->which == FIELD_ADDRESS);
	char present[FORM_TEXT_SIZE];

	form_get(place, workbook_session(workbook), present, sizeof present);
	if (*present && is_name && (request == REQUEST_TYPE || request == REQUEST_FIELD_EMPTY))
		return closed_may(workbook, CLOSED_ABOUT_NAME);
	if (*present && line->is_measured && line->which == READING_REFRIGERANT)
		return closed_may(workbook, CLOSED_ABOUT_REFRIGERANT);
	return true;
}

enum form_answer form_press(struct workbook *workbook, const struct form_place *place,
                            enum request request, struct key key)
{
	if (form_is_writing(workbook))
		return press_writing(workbook, place, request, key);
	if (is_change(place, request) &&
	    (!closed_may_change(workbook) || !may_replace(workbook, place, request)))
		return FORM_TAKEN;
	if (request == REQUEST_TYPE && is_slip(form_line_at(place), key)) {
		workbook_say(workbook, INK_REFUSED, "%s: type the word, or its first letter",
		             form_line_at(place)->label);
		return FORM_TAKEN;
	}
	switch (request) {
	case REQUEST_REFUSED_EDIT:
	case REQUEST_FIELD_EDIT:
		return begin_with(workbook, place, true, key);
	case REQUEST_REFUSED_DROP:
		drop_held(workbook, place);
		return FORM_TAKEN;
	case REQUEST_WORD_NEXT:
		next_word(workbook, place);
		return FORM_TAKEN;
	case REQUEST_ANSWER_YES:
		return form_put(workbook, place, form_line_at(place)->words[0]) ? FORM_NEXT : FORM_TAKEN;
	case REQUEST_ANSWER_NO:
	case REQUEST_TYPE:
		return begin_with(workbook, place, false, key);
	case REQUEST_FIELD_NEXT:
		return FORM_NEXT;
	case REQUEST_FIELD_EMPTY:
		form_put(workbook, place, "");
		return FORM_TAKEN;
	default:
		return FORM_IGNORED;
	}
}
