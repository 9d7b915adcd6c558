/*
 * What keys ask for on every page.
 */
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/checklist.h>

#include "tui/workbook_parts.h"

static void toggle_timer(struct workbook *workbook)
{
	bool was_on = workbook_has_timer(workbook);

	workbook->timer = was_on ? TIMER_OFF : session_steady(workbook->session);
	workbook->timer_call = session_call(workbook->session)->uid;
	workbook_say(workbook, INK_MARGIN,
	             was_on ? "settle timer stopped"
	                    : "settle timer started: readings "
	                      "count after 15 minutes of steady running (RA3.2)");
}

static void undo(struct workbook *workbook)
{
	char what[SESSION_UNDONE_SIZE];
	struct error error;

	if (session_undo(workbook->session, what, sizeof what, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "taken back: %s", what);
	else if (error.status == STATUS_NOT_FOUND)
		workbook_say(workbook, INK_REFUSED, "%s; %s lists all changes", error.text,
		             request_info(REQUEST_CHANGES)->key);
	else
		workbook_refuse(workbook, &error);
}

static void redo(struct workbook *workbook)
{
	char what[SESSION_UNDONE_SIZE];
	struct error error;

	if (session_redo(workbook->session, what, sizeof what, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "made again: %s", what);
	else
		workbook_refuse(workbook, &error);
}

/* Goes to the reading that would decide most; false when none would. */
static bool go_to_next_check(struct workbook *workbook)
{
	const struct diagnosis *diagnosis = session_diagnosis(workbook->session,
	                                                      session_stage(workbook->session));

	workbook->following = FOLLOWING_NONE;
	if (diagnosis->next_check_count == 0)
		return false;
	workbook->following = FOLLOWING_CHECK;
	workbook->stage = session_stage(workbook->session);
	workbook_go_reading(workbook, diagnosis->next_checks[0].reading);
	return true;
}

static void show_next_check(struct workbook *workbook)
{
	if (!go_to_next_check(workbook))
		workbook_say(workbook, INK_MARGIN, "no further reading would decide between the "
		             "explanations");
}

void workbook_go_item(struct workbook *workbook, enum reading reading)
{
	workbook->following = FOLLOWING_LIST;
	workbook->followed = reading;
	workbook->stage = STAGE_AS_FOUND;
	workbook_go_reading(workbook, reading);
}

/* What the list misses behind the item that was gone to; behind the last one its page. */
static void go_to_next_item(struct workbook *workbook)
{
	const struct call *call = session_call(workbook->session);
	struct checklist list;
	int i = 0;

	checklist_of_call(call, &list);
	while (i < list.count && list.items[i].reading != workbook->followed)
		i++;
	for (i++; i < list.count; i++)
		if (list.items[i].reading != READING_NONE &&
		    checklist_judge(&list.items[i], call) == CHECKLIST_MISSING) {
			workbook_go_item(workbook, list.items[i].reading);
			return;
		}
	workbook_go(workbook, SCREEN_CHECKLIST);
}

bool workbook_follow(struct workbook *workbook)
{
	if (workbook->following == FOLLOWING_LIST)
		go_to_next_item(workbook);
	return workbook->following == FOLLOWING_LIST ||
	       (workbook->following == FOLLOWING_CHECK && go_to_next_check(workbook));
}

/* Whoever leaves the call that he took along leaves it where it is. */
static void drop_call(struct workbook *workbook)
{
	const struct record *taken = &workbook->taken;
	const struct call *open = session_call(workbook->session);

	/*
	 * From a customer's page one leaves no call: what came along from the book goes back there too.
	 */
	if (open && taken->kind == RECORD_CALL && strcmp(taken->uid.text, open->uid.text) == 0)
		record_drop(workbook);
}

static void go_to_book(struct workbook *workbook)
{
	drop_call(workbook);
	workbook_go(workbook, SCREEN_BOOK);
	session_leave(workbook->session);
}

/* The first open item in the call step's margin was dealt with. */
static void close_watch_item(struct workbook *workbook)
{
	size_t count = session_open_items(workbook->session), first = 0;
	char text[LINE_SIZE];
	struct error error;

	while (first < count &&
	       session_open_item(workbook->session, first)->closed_at != WALL_TIME_NONE)
		first++;
	if (first == count) {
		workbook_say(workbook, INK_REFUSED, "no watch item of an earlier visit is open on this "
		             "unit");
		return;
	}
	text_copy(text, sizeof text, session_open_item(workbook->session, first)->text);
	if (session_close_item(workbook->session, first, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "dealt with: %s. %s takes it back.", text,
		             request_info(REQUEST_UNDO)->key);
	else
		workbook_refuse(workbook, &error);
}

static void show_history(struct workbook *workbook)
{
	workbook_set_system(workbook, &session_call(workbook->session)->system.uid);
	workbook_go(workbook, SCREEN_HISTORY);
}

/*
 * Whether what is not kept is still to be seen before the call is left; asked
 * again it is left.  The session holds it: it stands there when the call is
 * opened again.
 */
static bool holds_back(struct workbook *workbook, enum request request)
{
	const struct session_pending *held;

	workbook_leave_screen(workbook);
	held = workbook_unkept(workbook, 0);
	if (!held || held->recovered || workbook->warned == request)
		return false;
	workbook->warned = request;
	struct text words;
	text_init(&words);
	if (workbook_unkept(workbook, 1))
		workbook_tell_unkept(workbook, &words);
	else
		text_add_format(&words, "Not kept: %s \"%s\"", session_pending_label(held), held->text);
	workbook_say(workbook, INK_REFUSED, "%s. %s again leaves the call; what was typed is still "
	             "there when you come back.", text_get(&words), request_info(request)->key);
	text_done(&words);
	return true;
}

static void quit(struct workbook *workbook)
{
	if (!holds_back(workbook, REQUEST_QUIT))
		workbook->over = true;
}

void workbook_end_now(struct workbook *workbook)
{
	workbook_leave_screen(workbook);
	workbook->over = true;
}

void workbook_turn_step(struct workbook *workbook, int step)
{
	if (step >= 0 && step < STEP_COUNT)
		workbook_go_step(workbook, (enum step)step);
}

static void change_units(struct workbook *workbook)
{
	session_set_units(workbook->session, session_units(workbook->session) == UNITS_US
	                  ? UNITS_SI : UNITS_US);
}

/* ---- The table ---- */

static void leave_call(struct workbook *workbook)
{
	if (!holds_back(workbook, REQUEST_BOOK))
		go_to_book(workbook);
}

static void ask_help(struct workbook *workbook)
{
	workbook_go_help(workbook, workbook_where(workbook));
}

static void ask_redraw(struct workbook *workbook)
{
	workbook->redraw = true;
}

static void ask_pin(struct workbook *workbook)
{
	margin_pin(&workbook->margin);
}

static void scroll_figures(struct workbook *workbook, int by)
{
	margin_scroll(&workbook->margin, by);
}

static void go_by(struct workbook *workbook, int by)
{
	workbook_turn_step(workbook, (int)workbook->step + by);
}

static void go_screen(struct workbook *workbook, int screen)
{
	workbook_go(workbook, (enum screen_id)screen);
}

/* What each request does: `act`, or `act_on` with its number. */
static const struct {
	void (*act)(struct workbook *workbook);
	void (*act_on)(struct workbook *workbook, int number);
	int number;
} acts[REQUEST_COUNT] = {
	[REQUEST_HELP] = { .act = ask_help },
	[REQUEST_BOOK] = { .act = leave_call },
	[REQUEST_GO] = { .act_on = go_screen, .number = SCREEN_GO },
	[REQUEST_MEET] = { .act = workbook_meet },
	[REQUEST_UNITS] = { .act = change_units },
	[REQUEST_REDRAW] = { .act = ask_redraw },
	[REQUEST_QUIT] = { .act = quit },
	[REQUEST_UNDO] = { .act = undo },
	[REQUEST_NEXT_CHECK] = { .act = show_next_check },
	[REQUEST_TIMER] = { .act = toggle_timer },
	[REQUEST_HISTORY] = { .act = show_history },
	[REQUEST_COMPARE] = { .act_on = go_screen, .number = SCREEN_COMPARE },
	[REQUEST_REDO] = { .act = redo },
	[REQUEST_CHANGES] = { .act_on = go_screen, .number = SCREEN_CHANGES },
	[REQUEST_QUESTIONS] = { .act_on = go_screen, .number = SCREEN_QUESTIONS },
	[REQUEST_TIGHTNESS] = { .act_on = go_screen, .number = SCREEN_TIGHTNESS },
	[REQUEST_RECORD_REMOVED] = { .act_on = go_screen, .number = SCREEN_REMOVED },
	[REQUEST_CYLINDERS] = { .act_on = go_screen, .number = SCREEN_CYLINDERS },
	[REQUEST_CHECKLIST] = { .act_on = go_screen, .number = SCREEN_CHECKLIST },
	[REQUEST_WATCH_DONE] = { .act = close_watch_item },
	[REQUEST_FIGURES_ON] = { .act_on = scroll_figures, .number = 1 },
	[REQUEST_FIGURES_BACK] = { .act_on = scroll_figures, .number = -1 },
	[REQUEST_PIN] = { .act = ask_pin },
	[REQUEST_STEP_BEFORE] = { .act_on = go_by, .number = -1 },
	[REQUEST_STEP_AFTER] = { .act_on = go_by, .number = 1 },
	[REQUEST_STEP_1] = { .act_on = workbook_turn_step, .number = 0 },
	[REQUEST_STEP_2] = { .act_on = workbook_turn_step, .number = 1 },
	[REQUEST_STEP_3] = { .act_on = workbook_turn_step, .number = 2 },
	[REQUEST_STEP_4] = { .act_on = workbook_turn_step, .number = 3 },
	[REQUEST_STEP_5] = { .act_on = workbook_turn_step, .number = 4 },
	[REQUEST_STEP_6] = { .act_on = workbook_turn_step, .number = 5 },
	[REQUEST_STEP_7] = { .act_on = workbook_turn_step, .number = 6 },
	[REQUEST_STEP_8] = { .act_on = workbook_turn_step, .number = 7 },
	[REQUEST_STEP_9] = { .act_on = workbook_turn_step, .number = 8 },
	[REQUEST_STEP_10] = { .act_on = workbook_turn_step, .number = 9 },
	[REQUEST_STEP_11] = { .act_on = workbook_turn_step, .number = 10 },
	[REQUEST_STEP_12] = { .act_on = workbook_turn_step, .number = 11 },
};

bool workbook_carry_out(struct workbook *workbook, enum request request)
{
	if (request >= REQUEST_COUNT || (!acts[request].act && !acts[request].act_on))
		return false;
	if (acts[request].act)
		acts[request].act(workbook);
	else
		acts[request].act_on(workbook, acts[request].number);
	return true;
}

void workbook_ask(struct workbook *workbook, enum request request)
{
	workbook_go_back(workbook);
	workbook_carry_out(workbook, request);
}
