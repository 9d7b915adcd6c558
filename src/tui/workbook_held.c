/*
 * What was typed on the open call and is not kept: where it stands, told before
 * the call is closed or its report written.
 */
#include <string.h>

#include <padside/base/text.h>

#include "tui/workbook_parts.h"

const struct session_pending *workbook_unkept(const struct workbook *workbook, int i)
{
	const struct session *session = workbook->session;
	const struct call *call = session_call(session);

	for (size_t at = 0; call && at < session_pending_count(session); at++) {
		const struct session_pending *held = session_pending_at(session, at);
		if (strcmp(held->call.text, call->uid.text) == 0 && i-- == 0)
			return held;
	}
	return NULL;
}

/* The page of a kind of line (form.h), by the key that goes there. */
static const struct {
	const char *what;  /* the kind */
	enum request page; /* asked for */
} pages[] = {
	{ "judgement", REQUEST_STEP_9 },   { "option", REQUEST_STEP_10 },
	{ "season", REQUEST_STEP_10 },
	{ "charge", REQUEST_STEP_11 },     { "work", REQUEST_STEP_11 },    { "money", REQUEST_STEP_11 },
	{ "report", REQUEST_STEP_12 },     { "tightness", REQUEST_TIGHTNESS },
	{ "cylinder", REQUEST_CYLINDERS },
};

enum request workbook_unkept_page(const struct session_pending *held)
{
	enum step step = held->is_field ? session_field_step(held->field)
	                 : held->is_line ? STEP_COUNT : reading_info(held->reading)->step;

	if (step < STEP_COUNT)
		return (enum request)(REQUEST_STEP_1 + (int)step);
	for (size_t i = 0; i < sizeof pages / sizeof *pages; i++)
		if (strcmp(pages[i].what, held->what) == 0)
			return pages[i].page;
	return REQUEST_STEP_1;
}

bool workbook_tell_unkept(const struct workbook *workbook, struct text *words)
{
	const struct session_pending *held;
	bool is_on[REQUEST_COUNT] = { false };
	int count = 0;

	for (; (held = workbook_unkept(workbook, count)); count++)
		is_on[workbook_unkept_page(held)] = true;
	if (count == 0)
		return false;
	text_add_format(words, "%d text%s not kept: ", count, count == 1 ? " is" : "s are");
	for (int i = 0, told = 0; i < REQUEST_COUNT; i++)
		if (is_on[i])
			text_add_format(words, "%s%s", told++ ? ", " : "", request_info((enum request)i)->key);
	return true;
}

bool workbook_tell_waiting(const struct workbook *workbook, struct text *words)
{
	const struct session_pending *held, *first = NULL;
	int count = 0;

	for (int i = 0; (held = workbook_unkept(workbook, i)); i++)
		if (!held->refused && !held->recovered) {
			first = first ? first : held;
			count++;
		}
	if (!first)
		return false;
	text_add_format(words, "Not kept yet: %s \"%s\"", session_pending_label(first), first->text);
	if (count > 1)
		text_add_format(words, " and %d more", count - 1);
	text_add_format(words, ". It is tried again automatically: %s", first->why);
	return true;
}
