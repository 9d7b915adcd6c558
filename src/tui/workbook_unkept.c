/*
 * What an earlier run could not keep is gone to when the program starts.
 */
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/base/text.h>

#include "tui/workbook_parts.h"

static void go_to(struct workbook *workbook, const struct session_pending *held)
{
	if (held->is_line || held->is_field) {
		workbook_carry_out(workbook, workbook_unkept_page(held));
		return;
	}
	workbook->stage = held->stage;
	workbook_go_reading(workbook, held->reading);
}

/* The call that was begun last: there one was cut off, if anywhere. */
static void find_newest(struct session *session, struct call_line *newest)
{
	enum { LOOKED_AT = 12 };
	static struct call_line lines[LOOKED_AT];
	struct error error;
	int count;

	*newest = (struct call_line){ .uid = { .text = "" } };
	if (session_find_calls(session, "", lines, LOOKED_AT, &count, &error) != STATUS_OK)
		return;
	for (int i = 0; i < count; i++)
		if (uid_is_none(&newest->uid) || lines[i].opened_at > newest->opened_at)
			*newest = lines[i];
}

/* What was held last of a call; NULL for nothing. */
static const struct session_pending *last_of(const struct session *session, const struct uid *call)
{
	const struct session_pending *held = NULL;

	for (size_t i = 0; i < session_pending_count(session); i++)
		if (strcmp(session_pending_at(session, i)->call.text, call->text) == 0)
			held = session_pending_at(session, i);
	return held;
}

/* One begins where one begins every day; what stands elsewhere is told. */
static void tell_earlier(struct workbook *workbook)
{
	size_t count = session_pending_count(workbook->session);
	const struct session_pending *held = session_pending_at(workbook->session, count - 1);

	workbook_say(workbook, INK_UNKEPT,
	             "%zu text%s of an earlier call %s not kept, as %s \"%s\": open the "
	             "call and its page to see %s.",
	             count, count == 1 ? "" : "s", count == 1 ? "is" : "are",
	             session_pending_label(held), held->text, count == 1 ? "it" : "them");
}

void workbook_go_unkept(struct workbook *workbook)
{
	struct session *session = workbook->session;
	struct call_line newest;
	struct error error;
	struct text words;

	if (session_pending_count(session) == 0)
		return;
	find_newest(session, &newest);
	const struct uid call = session_call(session) ? session_call(session)->uid : newest.uid;
	const struct session_pending *held = last_of(session, &call);
	if (!held) {
		tell_earlier(workbook);
		return;
	}
	const struct session_pending last = *held;
	if (!session_call(session) && session_open(session, call.text, &error) == STATUS_OK)
		go_to(workbook, &last);
	text_init(&words);
	bool has_more = workbook_unkept(workbook, 1) && workbook_tell_unkept(workbook, &words);
	workbook_say(workbook, INK_UNKEPT,
	             "Not kept when the program ended: %s \"%s\". %s edits it, %s "
	             "then keeps it, %s drops it.%s%s%s",
	             session_pending_label(&last), last.text, request_info(REQUEST_REFUSED_EDIT)->key,
	             request_info(REQUEST_WRITE_KEEP)->key, request_info(REQUEST_REFUSED_DROP)->key,
	             has_more ? " In all " : "", text_get(&words), has_more ? "." : "");
	text_done(&words);
}
