/*
 * The workbook and the table of its screens, which no other file knows.  What it
 * remembers is in workbook_state.c, how one goes from screen to screen in
 * workbook_go.c.  The page around them is drawn in workbook_draw.c; keys come in
 * through workbook_keys.c, and what they ask for on every page is done in
 * workbook_ask.c.
 */
#include "tui/workbook.h"

#include <stdalign.h>
#include <stddef.h>
#include <stdlib.h>

#include "tui/workbook_parts.h"

static const struct screen *const screens[SCREEN_COUNT] = {
	[SCREEN_BOOK] = &screen_book, [SCREEN_SHEET] = &screen_sheet,
	[SCREEN_FINDINGS] = &screen_findings, [SCREEN_HELP] = &screen_help,
	[SCREEN_CHOICES] = &screen_choices, [SCREEN_WORK] = &screen_work,
	[SCREEN_PAPER] = &screen_paper,
	[SCREEN_PREDICTIONS] = &screen_predictions, [SCREEN_CHECKLIST] = &screen_checklist,
	[SCREEN_CYLINDERS] = &screen_cylinders, [SCREEN_REMOVED] = &screen_removed,
	[SCREEN_TIGHTNESS] = &screen_tightness,
	[SCREEN_COMPARE] = &screen_compare, [SCREEN_GO] = &screen_go,
	[SCREEN_QUESTIONS] = &screen_questions, [SCREEN_CHANGES] = &screen_changes,
	[SCREEN_CUSTOMER] = &screen_customer, [SCREEN_HISTORY] = &screen_history,
};

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
	workbook->screens = screens;
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

void workbook_resize(struct workbook *workbook, int rows, int columns)
{
	canvas_resize(workbook->canvas, rows, columns);
}

bool workbook_is_over(const struct workbook *workbook)
{
	return workbook->over;
}
