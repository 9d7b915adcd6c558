/*
 * The question before a closed call is changed, or whose its readings are, or of
 * which refrigerant its charge log.
 *
 * Fields ask when they begin to be written (form.c); what changes a call with
 * one key is listed here.  What is typed on behind the question waits with the
 * key that asked: after a yes all of it is pressed again, so that no text is lost.
 * The name of the next customer may come before anybody looks: there only a yes
 * that follows the question at once is an answer.
 */
#include "tui/closed.h"

#include <string.h>

#include "tui/workbook_parts.h"

static const enum request changing[] = {
	REQUEST_SHEET_ALL_SAME, REQUEST_SHEET_CARRY, REQUEST_FINDING_CONFIRM, REQUEST_FINDING_RULE_OUT,
	REQUEST_FINDING_WATCH, REQUEST_CHOICES_OUT, REQUEST_WORK_BILL, REQUEST_WORK_OUT,
	REQUEST_LOG_OUT, REQUEST_CHECKLIST_TICK, REQUEST_CHANGE_TAKE_BACK,
	REQUEST_WATCH_DONE,
};

static bool is_changing(enum request request)
{
	for (size_t i = 0; i < sizeof changing / sizeof *changing; i++)
		if (changing[i] == request)
			return true;
	return false;
}

static bool is_closed(const struct call *call)
{
	return call->closed_at != WALL_TIME_NONE;
}

static bool has_readings(const struct call *call)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->scope == SCOPE_CALL &&
		    (visit_has(&call->visit, STAGE_AS_FOUND, (enum reading)i) ||
		     visit_has(&call->visit, STAGE_AS_LEFT, (enum reading)i)))
			return true;
	return false;
}

static bool was_refrigerant_moved(const struct call *call)
{
	for (size_t i = 0; i < call->charge_count; i++)
		if (call->charge[i].added_oz > 0 || call->charge[i].recovered_oz > 0)
			return true;
	return false;
}

static const struct {
	bool (*is_asked)(const struct call *call); /* of this call */
	const char *words;                         /* what it is about */
	const char *yes;                           /* what a yes does */
	const char *answer;                        /* behind a yes */
	bool is_for_eyes;                          /* a yes behind a text is no answer */
} questions[CLOSED_ABOUT_COUNT] = {
	[CLOSED_ABOUT_CALL] = { is_closed, "This call is closed.", "change it anyway",
	                        "this call is changed now", false },
	[CLOSED_ABOUT_NAME] = { has_readings, "The readings of this call are of this customer.",
	                        "correct it", "name and address are changed now", true },
	[CLOSED_ABOUT_REFRIGERANT] = { was_refrigerant_moved, "The charge log is of this refrigerant.",
	                               "correct it", "the refrigerant is changed now", false },
};

static void ask(struct workbook *workbook, enum closed_about about, enum closed_question question)
{
	workbook->closed = question;
	workbook->asked_about = about;
	workbook_say(workbook, INK_QUESTION, "%s %s: %s; %s: leave it.", questions[about].words,
	             request_info(REQUEST_ASKED_YES)->key, questions[about].yes,
	             request_info(REQUEST_ASKED_NO)->key);
}

bool closed_may(struct workbook *workbook, enum closed_about about)
{
	const struct call *call = session_call(workbook->session);

	if (!call || !questions[about].is_asked(call) ||
	    strcmp(workbook->allowed[about].text, call->uid.text) == 0)
		return true;
	ask(workbook, about, CLOSED_ASKED);
	return false;
}

bool closed_may_change(struct workbook *workbook)
{
	return closed_may(workbook, CLOSED_ABOUT_CALL);
}

/*
 * Presses again what waited; behind the first key only what goes into a text.  A
 * text that was typed on is kept; who stopped at the question goes on typing behind the first key.
 */
static void press_again(struct workbook *workbook, closed_press_fn *press)
{
	struct key keys[CLOSED_MOST_KEYS];
	int count = workbook->asked_key_count;

	memcpy(keys, workbook->asked_keys, (size_t)count * sizeof *keys);
	for (int i = 0; i < count; i++)
		if (i == 0 || form_is_writing(workbook) || workbook->closed != CLOSED_QUIET)
			press(workbook, keys[i]);
	if (form_is_writing(workbook) && count > 1)
		press(workbook, request_key(REQUEST_WRITE_KEEP));
}

static void change_anyway(struct workbook *workbook, closed_press_fn *press)
{
	enum closed_about about = workbook->asked_about;

	workbook->allowed[about] = session_call(workbook->session)->uid;
	press_again(workbook, press);
	if (form_is_writing(workbook))
		workbook_say(workbook, INK_MARGIN, "type on; %s keeps it",
		             request_info(REQUEST_WRITE_KEEP)->key);
	else if (!*workbook->message)
		workbook_say(workbook, INK_KEPT, "%s; %s takes it back", questions[about].answer,
		             request_info(REQUEST_UNDO)->key);
}

static void wait_with(struct workbook *workbook, struct key key)
{
	if (workbook->asked_key_count < CLOSED_MOST_KEYS)
		workbook->asked_keys[workbook->asked_key_count++] = key;
}

enum request closed_answer(struct workbook *workbook, struct key key, closed_press_fn *press)
{
	enum closed_question question = workbook->closed;
	enum closed_about about = workbook->asked_about;

	if (question == CLOSED_QUIET || !session_call(workbook->session))
		return REQUEST_NONE;
	workbook->closed = CLOSED_QUIET;
	switch (request_from_key(PLACE_ASKED, key)) {
	case REQUEST_ASKED_YES:
		if (question == CLOSED_TYPED && questions[about].is_for_eyes)
			ask(workbook, about, CLOSED_ASKED);
		else
			change_anyway(workbook, press);
		return REQUEST_ASKED_YES;
	case REQUEST_ASKED_NO:
		return REQUEST_ASKED_NO;
	default:
		break;
	}
	enum request request = request_from_key(workbook_where(workbook), key);
	if (request != REQUEST_TYPE && request != REQUEST_FIELD_EDIT)
		return REQUEST_NONE;
	wait_with(workbook, key);
	ask(workbook, about, CLOSED_TYPED);
	return REQUEST_TYPE;
}

bool closed_asks(struct workbook *workbook, enum request request, struct key key)
{
	workbook->asked_key_count = 0;
	wait_with(workbook, key);
	return workbook_is_on_call(workbook) && is_changing(request) && !closed_may_change(workbook);
}
