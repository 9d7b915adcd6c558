/*
 * Moving, joining, taking out.
 */
#include "tui/records.h"

#include <string.h>

#include <padside/base/text.h>

#include "tui/workbook_parts.h"

static const char *const kind_words[] = {
	[RECORD_NONE] = "", [RECORD_CALL] = "the call", [RECORD_CUSTOMER] = "the customer",
	[RECORD_SITE] = "the address", [RECORD_SYSTEM] = "the unit",
};

static const enum store_kind store_kinds[] = {
	[RECORD_CALL] = STORE_CALL, [RECORD_CUSTOMER] = STORE_CUSTOMER, [RECORD_SITE] = STORE_SITE,
	[RECORD_SYSTEM] = STORE_SYSTEM,
};

/* ---- Taking along ---- */

bool record_is_taken(const struct workbook *workbook)
{
	return workbook->taken.kind != RECORD_NONE;
}

bool record_joins(const struct workbook *workbook, enum record_kind kind)
{
	return workbook->taken.kind == kind;
}

bool record_drop(struct workbook *workbook)
{
	if (!record_is_taken(workbook))
		return false;
	workbook->taken.kind = RECORD_NONE;
	workbook_say(workbook, INK_MARGIN, "left where it is");
	return true;
}

void record_take(struct workbook *workbook, const struct record *record)
{
	if (record_drop(workbook))
		return;
	if (record->kind == RECORD_NONE) {
		workbook_say(workbook, INK_REFUSED,
		             "put the cursor on a visit, a unit or an address first");
	} else {
		workbook->taken = *record;
	}
}

void record_hint(struct workbook *workbook)
{
	const struct record *taken = &workbook->taken;

	if (taken->kind == RECORD_CALL)
		workbook_hint(workbook, "Picked up: %s %s. %s on a unit moves it there. %s drops it.",
		              kind_words[taken->kind], taken->words, request_info(REQUEST_LIST_PICK)->key,
		              request_info(REQUEST_RECORD_TAKE)->key);
	else if (taken->kind != RECORD_NONE)
		workbook_hint(workbook, "Picked up: %s %s. %s on the right one joins both. %s drops it.",
		              kind_words[taken->kind], taken->words, request_info(REQUEST_LIST_PICK)->key,
		              request_info(REQUEST_RECORD_TAKE)->key);
}

/* ---- Putting down ---- */

static bool is_open_call(const struct workbook *workbook, const struct uid *call)
{
	const struct call *open = session_call(workbook->session);

	return open && strcmp(open->uid.text, call->text) == 0;
}

static bool move_call(struct workbook *workbook, const struct record *onto)
{
	const struct uid call = workbook->taken.uid;
	bool is_open = is_open_call(workbook, &call);
	struct session_whose before;
	struct error error;

	if (session_find_whose(workbook->session, &call, &before, &error) != STATUS_OK)
		return workbook_refuse(workbook, &error);
	if (before.is_closed && !workbook_is_sure(workbook, REQUEST_LIST_PICK)) {
		workbook_say(workbook, INK_QUESTION, "This call is closed. %s again moves it to %s %s; any "
		             "other key leaves it.", request_info(REQUEST_LIST_PICK)->key,
		             kind_words[onto->kind], onto->words);
		return false;
	}
	if (session_move_visit(workbook->session, &call,
	                       onto->kind == RECORD_CUSTOMER ? &onto->uid : NULL,
	                       onto->kind == RECORD_SYSTEM ? &onto->uid : NULL, &error) != STATUS_OK)
		return workbook_refuse(workbook, &error);
	workbook->joined = workbook->taken;
	workbook->moved = before;
	workbook->taken.kind = RECORD_NONE;
	if (is_open)
		workbook_go_step(workbook, STEP_CALL);
	workbook_say(workbook, INK_KEPT, "the call now belongs to %s %s%s. %s takes it back.",
	             kind_words[onto->kind], onto->words,
	             is_open ? "; what was typed moved with it" : "",
	             is_open ? request_info(REQUEST_UNDO)->key
	             : request_info(REQUEST_RECORD_PART)->key);
	return !is_open;
}

static bool join(struct workbook *workbook, const struct record *onto)
{
	const struct record from = workbook->taken;
	struct error error;

	if (!workbook_is_sure(workbook, REQUEST_LIST_PICK)) {
		workbook_say(workbook, INK_QUESTION, "Join %s into %s? Everything of the first then "
		             "belongs to the second. %s again joins them; any other key leaves them.",
		             from.words, onto->words,
		             request_info(REQUEST_LIST_PICK)->key);
		return false;
	}
	if (session_join(workbook->session, store_kinds[from.kind], &from.uid, &onto->uid, &error) !=
	    STATUS_OK)
		return workbook_refuse(workbook, &error);
	workbook->joined = from;
	workbook->taken.kind = RECORD_NONE;
	workbook_say(workbook, INK_KEPT, "joined: all of %s now belongs to %s. %s takes it back.",
	             from.words, onto->words, request_info(REQUEST_RECORD_PART)->key);
	return true;
}

bool record_put(struct workbook *workbook, const struct record *onto)
{
	const struct record *taken = &workbook->taken;

	if (taken->kind == RECORD_CALL &&
	    (onto->kind == RECORD_SYSTEM || onto->kind == RECORD_CUSTOMER))
		return move_call(workbook, onto);
	if (taken->kind == onto->kind && strcmp(taken->uid.text, onto->uid.text) != 0 &&
	    taken->kind != RECORD_CALL)
		return join(workbook, onto);
	workbook_say(workbook, INK_REFUSED, "%s %s cannot go there; put the cursor on %s",
	             kind_words[taken->kind], taken->words,
	             taken->kind == RECORD_CALL ? "a unit" : "another one of its kind");
	return false;
}

bool record_part(struct workbook *workbook)
{
	struct error error;

	bool is_call = workbook->joined.kind == RECORD_CALL;

	if (workbook->joined.kind == RECORD_NONE) {
		workbook_say(workbook, INK_REFUSED,
		             "nothing was joined or moved since the program was started");
		return false;
	}
	enum status status = is_call
		? session_move_back(workbook->session, &workbook->moved, &error)
		: session_part_again(workbook->session, &workbook->joined.uid, &error);
	if (status != STATUS_OK)
		return workbook_refuse(workbook, &error);
	if (is_call)
		workbook_say(workbook, INK_KEPT, "the call is back where it was");
	else
		workbook_say(workbook, INK_KEPT, "%s is separate again", workbook->joined.words);
	workbook->joined.kind = RECORD_NONE;
	return true;
}

/* ---- Taking out ---- */

bool record_take_out(struct workbook *workbook, const struct record *record, enum request request)
{
	struct error error;

	if (record->kind == RECORD_NONE) {
		workbook_say(workbook, INK_REFUSED, "put the cursor on what was made by mistake first");
		return false;
	}
	if (!workbook_is_sure(workbook, request)) {
		workbook_say(workbook, INK_QUESTION,
		             "Take %s %s out? %s again takes it out; it can be brought "
		             "back. Any other key leaves it.",
		             kind_words[record->kind], record->words, request_info(request)->key);
		return false;
	}
	bool is_open = is_open_call(workbook, &record->uid);
	if (session_take_out(workbook->session, &record->uid, &error) != STATUS_OK)
		return workbook_refuse(workbook, &error);
	/* What is out goes nowhere. */
	if (strcmp(workbook->taken.uid.text, record->uid.text) == 0)
		workbook->taken.kind = RECORD_NONE;
	if (is_open) {
		workbook_go(workbook, SCREEN_BOOK);
		session_leave(workbook->session);
	}
	workbook_say(workbook, INK_KEPT,
	             "taken out: %s %s. %s lists what was taken out and brings it back.",
	             kind_words[record->kind], record->words,
	             request_info(REQUEST_RECORD_REMOVED)->key);
	return !is_open;
}
