/*
 * The workbook: which screen is in sight, how one goes from one to another, and
 * what the screens ask of it.  The page around them is drawn in
 * workbook_draw.c; keys come in through workbook_keys.c, and what they ask for
 * on every page is done in workbook_ask.c.
 */
#include "tui/workbook.h"

#include <stdalign.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "tui/workbook_parts.h"

static const struct screen *const screens[SCREEN_COUNT] = {
	[SCREEN_BOOK] = &screen_book, [SCREEN_SHEET] = &screen_sheet,
	[SCREEN_FINDINGS] = &screen_findings, [SCREEN_HELP] = &screen_help,
	[SCREEN_CHOICES] = &screen_choices, [SCREEN_WORK] = &screen_work, [SCREEN_PAPER] = &screen_paper,
	[SCREEN_PREDICTIONS] = &screen_predictions, [SCREEN_CHECKLIST] = &screen_checklist,
	[SCREEN_CYLINDERS] = &screen_cylinders, [SCREEN_REMOVED] = &screen_removed, [SCREEN_TIGHTNESS] = &screen_tightness,
	[SCREEN_COMPARE] = &screen_compare, [SCREEN_GO] = &screen_go,
	[SCREEN_QUESTIONS] = &screen_questions, [SCREEN_CHANGES] = &screen_changes,
	[SCREEN_CUSTOMER] = &screen_customer, [SCREEN_HISTORY] = &screen_history,
};

/* The screen that shows a step; the rest are sheets. */
static const enum screen_id step_screens[STEP_COUNT] = {
	[STEP_CALL] = SCREEN_SHEET, [STEP_SYSTEM] = SCREEN_SHEET, [STEP_SAFETY] = SCREEN_SHEET,
	[STEP_ELECTRICAL] = SCREEN_SHEET, [STEP_WINDINGS] = SCREEN_SHEET, [STEP_AMPS] = SCREEN_SHEET,
	[STEP_REFRIGERANT] = SCREEN_SHEET, [STEP_AIR] = SCREEN_SHEET,
	[STEP_FINDINGS] = SCREEN_FINDINGS, [STEP_CHOICES] = SCREEN_CHOICES,
	[STEP_WORK] = SCREEN_WORK, [STEP_SUMMARY] = SCREEN_PAPER,
};

const struct screen *workbook_screen(const struct workbook *workbook)
{
	return screens[workbook->screen];
}

void *workbook_state(const struct workbook *workbook)
{
	return workbook->states[workbook->screen];
}

enum request_place workbook_where(const struct workbook *workbook)
{
	const struct screen *screen = workbook_screen(workbook);

	return screen->where ? screen->where(workbook_state(workbook)) : screen->place;
}

enum request_place workbook_inner(struct workbook *workbook)
{
	const struct screen *screen = workbook_screen(workbook);

	if (workbook->closed != CLOSED_QUIET)
		return PLACE_ASKED;
	return screen->inner ? screen->inner(workbook, workbook_state(workbook)) : PLACE_COUNT;
}

/*
 * What the screens remember, in one piece: so large that the system hands out its pages as they
 * are first written, and a screen that nobody looked at costs no memory.
 */
static bool make_states(struct workbook *workbook)
{
	size_t starts[SCREEN_COUNT], size = 0;

	for (int i = 0; i < SCREEN_COUNT; i++) {
		starts[i] = size;
		size += (screens[i]->state_size / alignof(max_align_t) + 1) * alignof(max_align_t);
	}
	char *states = calloc(1, size);
	for (int i = 0; states && i < SCREEN_COUNT; i++)
		workbook->states[i] = states + starts[i];
	return states != NULL;
}

struct workbook *workbook_new(struct session *session, int rows, int columns, bool plain)
{
	struct workbook *workbook = calloc(1, sizeof *workbook);

	if (!workbook)
		return NULL;
	workbook->session = session;
	workbook->timer = TIMER_OFF;
	workbook->target_field = FIELD_COUNT;
	workbook->meet_at = WALL_TIME_NONE;
	workbook->canvas = canvas_new(rows, columns, plain);
	workbook->form = form_new();
	if (!make_states(workbook) || !workbook->canvas || !workbook->form) {
		workbook_free(workbook);
		return NULL;
	}
	workbook->screen = session_call(session) ? SCREEN_SHEET : SCREEN_BOOK;
	for (int i = 0; i < SCREEN_COUNT; i++)
		workbook->before[i] = workbook->screen;
	if (workbook_screen(workbook)->enter)
		workbook_screen(workbook)->enter(workbook, workbook_state(workbook));
	workbook_go_unkept(workbook);
	return workbook;
}

void workbook_free(struct workbook *workbook)
{
	if (!workbook)
		return;
	for (int i = 0; i < SCREEN_COUNT; i++)
		if (workbook->states[i] && screens[i]->done)
			screens[i]->done(workbook->states[i]);
	free(workbook->states[0]);
	meeting_stop(&workbook->meeting);
	form_free(workbook->form);
	canvas_free(workbook->canvas);
	free(workbook);
}
bool workbook_is_on_call(const struct workbook *workbook)
{
	return session_call(workbook->session) != NULL && workbook->screen != SCREEN_BOOK;
}

void workbook_resize(struct workbook *workbook, int rows, int columns)
{
	canvas_resize(workbook->canvas, rows, columns);
}

bool workbook_is_over(const struct workbook *workbook)
{
	return workbook->over;
}

/* ---- For the screens ---- */

struct session *workbook_session(struct workbook *workbook)
{
	return workbook->session;
}

struct form *workbook_form(const struct workbook *workbook)
{
	return workbook->form;
}

struct canvas *workbook_canvas(struct workbook *workbook)
{
	return workbook->canvas;
}

enum step workbook_step(const struct workbook *workbook)
{
	return workbook->step;
}

enum stage workbook_stage(const struct workbook *workbook)
{
	return workbook->stage;
}

const char *workbook_step_key(enum step step)
{
	return request_info((enum request)(REQUEST_STEP_1 + (int)step))->key;
}

void workbook_set_stage(struct workbook *workbook, enum stage stage)
{
	workbook->stage = stage;
}

void workbook_leave_screen(struct workbook *workbook)
{
	const struct screen *screen = workbook_screen(workbook);

	if (screen->leave)
		screen->leave(workbook, workbook_state(workbook));
}
static void enter(struct workbook *workbook, enum screen_id screen)
{
	workbook->screen = screen;
	if (screens[screen]->enter)
		screens[screen]->enter(workbook, workbook->states[screen]);
}

void workbook_go(struct workbook *workbook, enum screen_id screen)
{
	workbook_leave_screen(workbook);
	/* Help can be asked for twice; one goes back to where it was asked for first. */
	if (workbook->screen != screen)
		workbook->before[screen] = workbook->screen;
	enter(workbook, screen);
}

void workbook_go_step(struct workbook *workbook, enum step step)
{
	workbook_leave_screen(workbook);
	workbook->step = step;
	workbook->margin.top = 0;
	enter(workbook, step_screens[step]);
}

void workbook_go_reading(struct workbook *workbook, enum reading reading)
{
	workbook->target = reading;
	workbook_go_step(workbook, reading_info(reading)->step);
}

enum reading workbook_take_target(struct workbook *workbook)
{
	enum reading target = workbook->target;

	workbook->target = READING_NONE;
	return target;
}

void workbook_go_field(struct workbook *workbook, enum field field)
{
	workbook->target_field = field;
	workbook_go_step(workbook, session_field_step(field));
}

enum field workbook_take_target_field(struct workbook *workbook)
{
	enum field target = workbook->target_field;

	workbook->target_field = FIELD_COUNT;
	return target;
}

void workbook_go_back(struct workbook *workbook)
{
	workbook_leave_screen(workbook);
	enter(workbook, workbook->before[workbook->screen]);
}

enum request_place workbook_place_before(const struct workbook *workbook)
{
	return workbook->help_place;
}

void workbook_go_help(struct workbook *workbook, enum request_place place)
{
	if (workbook->screen != SCREEN_HELP) {
		workbook->help_place = place;
		/* The field that is helped with is the one that the page hints at. */
		workbook_draw(workbook);
	}
	workbook_go(workbook, SCREEN_HELP);
}

void workbook_go_figure(struct workbook *workbook, enum figure figure)
{
	workbook->margin.pinned = figure;
	workbook_go_step(workbook, margin_step(figure));
	workbook_say(workbook, INK_MARGIN, "%s is pinned: it stands first on every sheet; %s lets it go",
	             figure_info(figure)->label, request_info(REQUEST_PIN)->key);
}

void workbook_ask(struct workbook *workbook, enum request request)
{
	workbook_go_back(workbook);
	workbook_carry_out(workbook, request);
}

void workbook_set_here(struct workbook *workbook, enum reading reading)
{
	workbook->here = reading;
}

/* Of the sheet only: the other pages have no reading under their cursor. */
enum reading workbook_here(const struct workbook *workbook)
{
	bool is_sheet = workbook->screen == SCREEN_SHEET ||
	                (workbook->screen == SCREEN_HELP && workbook->before[SCREEN_HELP] == SCREEN_SHEET);

	return is_sheet ? workbook->here : READING_NONE;
}

struct margin_view *workbook_margin(struct workbook *workbook)
{
	return &workbook->margin;
}

/* Another call is on the desk: its first step, its first column. */
static void show_call(struct workbook *workbook)
{
	form_clear(workbook);
	workbook->closed = CLOSED_QUIET;
	memset(workbook->allowed, 0, sizeof workbook->allowed);
	workbook->stage = STAGE_AS_FOUND;
	workbook_go_step(workbook, STEP_CALL);
}

/* The call that was open stays open.  Where it could not be read any more, the list of calls is left. */
static void stay(struct workbook *workbook, const struct error *error)
{
	if (!session_call(workbook->session))
		enter(workbook, SCREEN_BOOK);
	workbook_refuse(workbook, error);
}

void workbook_open_call(struct workbook *workbook, const struct uid *call)
{
	struct error error;

	workbook_leave_screen(workbook);
	if (session_open(workbook->session, call->text, &error) == STATUS_OK)
		show_call(workbook);
	else
		stay(workbook, &error);
}

void workbook_start_call(struct workbook *workbook, const struct uid *customer,
                         const struct uid *site, const struct uid *system)
{
	struct error error;

	workbook_leave_screen(workbook);
	if (session_start(workbook->session, customer, site, system, &error) == STATUS_OK)
		show_call(workbook);
	else
		stay(workbook, &error);
}

void workbook_set_customer(struct workbook *workbook, const struct uid *customer)
{
	workbook->customer = *customer;
}

const struct uid *workbook_customer(const struct workbook *workbook)
{
	return &workbook->customer;
}

void workbook_set_system(struct workbook *workbook, const struct uid *system)
{
	workbook->system = *system;
}

const struct uid *workbook_system(const struct workbook *workbook)
{
	return &workbook->system;
}

void workbook_say(struct workbook *workbook, unsigned style, const char *format, ...)
{
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(workbook->message, sizeof workbook->message, format, arguments);
	va_end(arguments);
	text_trim_broken_utf8(workbook->message);
	workbook->message_style = style;
}

bool workbook_refuse(struct workbook *workbook, const struct error *error)
{
	workbook_say(workbook, INK_REFUSED, "%s", error->text);
	return false;
}

void workbook_hint(struct workbook *workbook, const char *format, ...)
{
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(workbook->hint, sizeof workbook->hint, format, arguments);
	va_end(arguments);
	text_trim_broken_utf8(workbook->hint);
	workbook->hint_style = INK_FAINT;
}

void workbook_warn(struct workbook *workbook, const char *words)
{
	workbook_hint(workbook, "%s", words);
	workbook->hint_style = INK_CAUTION;
}
