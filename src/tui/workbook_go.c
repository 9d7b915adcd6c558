/*
 * How one goes from one page to another, and from one call to another.
 */
#include <string.h>

#include "tui/workbook_parts.h"

/* The screen that shows a step; the rest are sheets. */
static const enum screen_id step_screens[STEP_COUNT] = {
	[STEP_CALL] = SCREEN_SHEET, [STEP_SYSTEM] = SCREEN_SHEET, [STEP_SAFETY] = SCREEN_SHEET,
	[STEP_ELECTRICAL] = SCREEN_SHEET, [STEP_WINDINGS] = SCREEN_SHEET, [STEP_AMPS] = SCREEN_SHEET,
	[STEP_REFRIGERANT] = SCREEN_SHEET, [STEP_AIR] = SCREEN_SHEET,
	[STEP_FINDINGS] = SCREEN_FINDINGS, [STEP_CHOICES] = SCREEN_CHOICES,
	[STEP_WORK] = SCREEN_WORK, [STEP_SUMMARY] = SCREEN_PAPER,
};

void workbook_leave_screen(struct workbook *workbook)
{
	const struct screen *screen = workbook_screen(workbook);

	if (screen->leave)
		screen->leave(workbook, workbook_state(workbook));
}

static void enter(struct workbook *workbook, enum screen_id screen)
{
	workbook->screen = screen;
	if (workbook->screens[screen]->enter)
		workbook->screens[screen]->enter(workbook, workbook->states[screen]);
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

void workbook_go_field(struct workbook *workbook, enum field field)
{
	workbook->target_field = field;
	workbook_go_step(workbook, session_field_step(field));
}

void workbook_go_back(struct workbook *workbook)
{
	workbook_leave_screen(workbook);
	enter(workbook, workbook->before[workbook->screen]);
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
	workbook_say(workbook, INK_MARGIN, "%s is pinned: it is first on every sheet; %s unpins it",
	             figure_info(figure)->label, request_info(REQUEST_PIN)->key);
}

/* ---- Another call ---- */

/* Another call is on the desk: its first step, its first column. */
static void show_call(struct workbook *workbook)
{
	form_clear(workbook);
	workbook->closed = CLOSED_QUIET;
	memset(workbook->allowed, 0, sizeof workbook->allowed);
	workbook->stage = STAGE_AS_FOUND;
	workbook_go_step(workbook, STEP_CALL);
}

/*
 * The call that was open stays open.  Where it could not be read any more, the list of calls is
 * left.
 */
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
