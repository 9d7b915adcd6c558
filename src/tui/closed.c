/*
 * The question before a closed call is changed.
 *
 * Fields ask when they begin to be written (form.c); what changes a call with
 * one key is listed here.  Whole words may come before anybody looks: only an
 * Enter that follows the question at once is an answer.
 */
#include "tui/closed.h"

#include <string.h>

#include "tui/workbook_parts.h"

static const enum request changing[] = {
	REQUEST_SHEET_ALL_SAME, REQUEST_SHEET_CARRY, REQUEST_FINDING_CONFIRM, REQUEST_FINDING_RULE_OUT,
	REQUEST_FINDING_WATCH, REQUEST_CHOICES_OUT, REQUEST_WORK_BILL, REQUEST_WORK_OUT,
	REQUEST_TIGHT_OUT, REQUEST_CYLINDER_OUT, REQUEST_CHECKLIST_TICK, REQUEST_CHANGE_TAKE_BACK,
	REQUEST_WATCH_DONE,
};

static bool is_changing(enum request request)
{
	for (size_t i = 0; i < sizeof changing / sizeof *changing; i++)
		if (changing[i] == request)
			return true;
	return false;
}

static void ask(struct workbook *workbook, enum closed_question question)
{
	workbook->closed = question;
	workbook_say(workbook, INK_QUESTION, "This call is closed. Enter: change it anyway; Esc: leave it.");
}

bool closed_may_change(struct workbook *workbook)
{
	const struct call *call = session_call(workbook->session);

	if (!call || call->closed_at == WALL_TIME_NONE ||
	    strcmp(workbook->changed.text, call->uid.text) == 0)
		return true;
	ask(workbook, CLOSED_ASKED);
	return false;
}

/* The key behind the question; false where it is for the page after all. */
static bool take_answer(struct workbook *workbook, enum request request, struct key key)
{
	enum closed_question question = workbook->closed;

	workbook->closed = CLOSED_QUIET;
	if (key.press == PRESS_ENTER && question == CLOSED_TYPED) {
		ask(workbook, CLOSED_ASKED);
		return true;
	}
	if (key.press == PRESS_ENTER) {
		workbook->changed = session_call(workbook->session)->uid;
		workbook_say(workbook, INK_MARGIN, "this call is changed now: type it again");
		return true;
	}
	if (request == REQUEST_TYPE)
		ask(workbook, CLOSED_TYPED);
	return request == REQUEST_TYPE || key.press == PRESS_ESCAPE;
}

bool closed_takes_key(struct workbook *workbook, enum request request, struct key key)
{
	if (!session_call(workbook->session))
		return false;
	if (workbook->closed != CLOSED_QUIET && take_answer(workbook, request, key))
		return true;
	return workbook_is_on_call(workbook) && is_changing(request) && !closed_may_change(workbook);
}
