/*
 * What was typed into a field and is not in the book: where it stands.
 */
#include "tui/form.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

/* The place's name in what the session holds. */
static struct session_pending name_of(const struct form_place *place)
{
	const struct form_line *line = form_line_at(place);
	struct session_pending name = { .which = line->which };

	if (line->is_field) {
		name.is_field = true;
		name.field = (enum field)line->which;
	} else if (line->is_measured) {
		name.stage = place->stage;
		name.reading = (enum reading)line->which;
	} else {
		name.is_line = true;
		text_copy(name.what, sizeof name.what, place->kind->name ? place->kind->name : "");
		text_copy(name.label, sizeof name.label, line->label);
		if (place->uid)
			name.uid = *place->uid;
	}
	return name;
}

static bool is_in_list(const struct call *call, enum call_list list, const struct uid *uid)
{
	return call_list_find(call, list, uid) < call_list_count(call, list);
}

/* Of an element that is not in its list: `label` NULL for any line of it. */
static const struct session_pending *find_fresh(const struct workbook *workbook,
                                                const struct form_place *place, const char *label)
{
	const struct session *session = workbook_session((struct workbook *)workbook);
	const struct call *call = session_call(session);

	for (size_t i = 0; i < session_pending_count(session); i++) {
		const struct session_pending *held = session_pending_at(session, i);
		if (held->is_line && strcmp(held->call.text, call->uid.text) == 0 &&
		    strcmp(held->what, place->kind->name) == 0 &&
		    (!label || strcmp(held->label, label) == 0) &&
		    !is_in_list(call, place->kind->list, &held->uid))
			return held;
	}
	return NULL;
}

static bool is_fresh(const struct form_place *place)
{
	return place->is_fresh && place->kind->name && place->kind->home == FORM_HOME_LIST;
}

const struct session_pending *form_find_held(const struct workbook *workbook,
                                             const struct form_place *place)
{
	const struct session *session = workbook_session((struct workbook *)workbook);
	const struct session_pending name = name_of(place);
	const struct session_pending *held = session_call(session)
	                                         ? session_pending_find(session, &name)
	                                         : NULL;

	/* An empty line takes in what an empty line could not keep, also in an earlier run. */
	if (!held && is_fresh(place))
		held = find_fresh(workbook, place, form_line_at(place)->label);
	return held;
}

bool form_held(const struct workbook *workbook, const struct form_place *place,
               struct session_pending *held)
{
	const struct session_pending *found = form_find_held(workbook, place);

	*held = found ? *found : name_of(place);
	if (found || !is_fresh(place))
		return found != NULL;
	/* What is typed into one empty line belongs together. */
	const struct session_pending *other = find_fresh(workbook, place, NULL);
	if (other)
		held->uid = other->uid;
	else if (uid_is_none(&held->uid))
		held->uid = uid_new();
	return false;
}

/* ---- In sight ---- */

/* What stood there before: it goes on counting. */
static void read_counting(struct workbook *workbook, const struct form_place *place, char *out,
                          size_t size)
{
	char present[FORM_TEXT_SIZE];

	form_get(place, workbook_session(workbook), present, sizeof present);
	text_copy(out, size, present);
}

void form_add_counting(struct workbook *workbook, const struct form_place *place,
                       struct text *words)
{
	char counting[48];

	read_counting(workbook, place, counting, sizeof counting);
	if (*counting)
		text_add_format(words, "; \"%s\" still counts", counting);
}

void form_draw_held(struct workbook *workbook, const struct form_place *place, struct area cell,
                    bool here)
{
	enum { LEAST_TEXT = 4 };
	struct canvas *canvas = workbook_canvas(workbook);
	const struct session_pending *held = form_find_held(workbook, place);
	bool waits = !held->refused && !held->recovered;
	unsigned style = (waits ? INK_UNKEPT : INK_REFUSED) | (here ? STYLE_REVERSE : 0);
	char counting[48], words[80];
	int written = canvas_width_of(canvas, held->text);
	int least = written < LEAST_TEXT ? written : LEAST_TEXT;

	read_counting(workbook, place, counting, sizeof counting);
	snprintf(words, sizeof words, " ! %s%s%s%s", waits ? "waits" : "not kept",
	         *counting ? ", " : "", counting, *counting ? " counts" : "");
	if (written + canvas_width_of(canvas, words) > cell.columns)
		snprintf(words, sizeof words, " ! %s", waits ? "waits" : "not kept");
	if (least + canvas_width_of(canvas, words) > cell.columns)
		snprintf(words, sizeof words, " !");
	int room = cell.columns - canvas_width_of(canvas, words);
	int text = written < room ? written : room > 0 ? room : 0;
	canvas_put_padded(canvas, cell, 0, 0, text, style, held->text);
	canvas_put_padded(canvas, cell, 0, text, cell.columns - text, style, words);
}
