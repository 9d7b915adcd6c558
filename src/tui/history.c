/*
 * The history of a unit, on two leaves.
 *
 * Readings over time: a list of everything that was ever read or worked out,
 * the plot of the chosen one with the band at its right edge, and what drifts.
 * Visits: two of them compared, or one as found with as left.
 */
#include "tui/history_page.h"

#include <string.h>

#include <padside/app/unit_past.h>

enum { HEAD_ROWS = 2, PAST_ROWS = 26 };

/* ---- Loading ---- */

static void load(struct workbook *workbook, struct history_screen *screen)
{
	struct session *session = workbook_session(workbook);
	struct error error;

	screen->units = session_units(session);
	if (session_history(session, workbook_system(workbook), &screen->history, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	list_set_count(&screen->series, (int)screen->history.series_count);
	list_set_count(&screen->visits, (int)screen->history.visit_count);
}

/* What drifts is what one comes here for. */
static int find_drifting(const struct history *history)
{
	for (size_t i = 0; i < history->series_count; i++)
		if (history->series[i].series != SERIES_NONE &&
		    history->series[i].drift.claim == DRIFT_CLAIMED)
			return (int)i;
	return 0;
}

/* Moves what really changed to the front; both parts keep their order. */
static void put_real_first(struct history_change *changes, int count)
{
	int front = 0;

	for (int i = 0; i < count; i++) {
		if (!changes[i].is_real)
			continue;
		struct history_change real = changes[i];
		memmove(&changes[front + 1], &changes[front], (size_t)(i - front) * sizeof *changes);
		changes[front++] = real;
	}
}

/* Whether the unit itself was read in that stage; the nameplate alone compares nothing. */
static bool was_read(const struct visit *visit, enum stage stage)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->scope == SCOPE_CALL &&
		    visit_has(visit, stage, (enum reading)i))
			return true;
	return false;
}

static void compare(struct history_screen *screen)
{
	screen->change_count = screen->change_top = 0;
	if (!history_has_sides(screen))
		return;
	struct sides sides = history_sides(screen);
	if (!was_read(&sides.before->visit, sides.before_stage) ||
	    !was_read(&sides.after->visit, sides.after_stage))
		return;
	screen->change_count = (int)history_compare(&sides.before->visit, sides.before_stage,
	                                            &sides.after->visit, sides.after_stage,
	                                            screen->changes);
	put_real_first(screen->changes, screen->change_count);
}

static bool was_visit_read(const struct past_call *visit)
{
	return was_read(&visit->visit, STAGE_AS_FOUND) || was_read(&visit->visit, STAGE_AS_LEFT);
}

/*
 * Begins with the newest visit on which something was read; where that was
 * read in one stage only, compared with the one read before it.
 */
static void choose_read(struct history_screen *screen)
{
	const struct history *history = &screen->history;
	size_t chosen = 0;

	while (chosen < history->visit_count && !was_visit_read(&history->visits[chosen]))
		chosen++;
	if (chosen == history->visit_count)
		return;
	list_choose(&screen->visits, (int)chosen);
	const struct visit *visit = &history->visits[chosen].visit;
	bool has_both = was_read(visit, STAGE_AS_FOUND) && was_read(visit, STAGE_AS_LEFT);
	for (size_t i = chosen + 1; i < history->visit_count && !has_both; i++)
		if (was_read(&history->visits[i].visit, STAGE_AS_FOUND)) {
			screen->mark = (int)i;
			return;
		}
}

static void enter(struct workbook *workbook, void *state)
{
	struct history_screen *screen = state;
	bool is_same = strcmp(screen->shown.text, workbook_system(workbook)->text) == 0;

	if (!is_same) {
		list_init(&screen->series, false);
		list_init(&screen->visits, false);
		screen->on_visits = false;
		screen->stage = STAGE_AS_FOUND;
		screen->shown = *workbook_system(workbook);
	}
	screen->mark = HISTORY_NO_MARK;
	load(workbook, screen);
	if (!is_same) {
		list_choose(&screen->series, find_drifting(&screen->history));
		choose_read(screen);
	}
	compare(screen);
}

/* ---- Keys ---- */

static void open_visit(struct workbook *workbook, const struct history_screen *screen)
{
	if (history_has_sides(screen))
		workbook_open_call(workbook, &screen->history.visits[list_chosen(&screen->visits)].call);
}

static void mark(struct history_screen *screen)
{
	int chosen = list_chosen(&screen->visits);

	screen->mark = screen->mark == chosen ? HISTORY_NO_MARK : chosen;
	compare(screen);
}

static void show_stage(struct history_screen *screen, enum stage stage)
{
	screen->stage = stage;
	compare(screen);
}

static bool press_list(struct workbook *workbook, struct history_screen *screen, struct key key)
{
	enum list_answer answer = list_key(screen->on_visits ? &screen->visits : &screen->series, key);

	if (answer == LIST_PICKED && screen->on_visits)
		open_visit(workbook, screen);
	else if (answer == LIST_MOVED && screen->on_visits)
		compare(screen);
	return answer != LIST_IGNORED;
}

/* The keys of the visits do nothing on the other leaf. */
static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct history_screen *screen = state;
	int page = screen->change_rows > 1 ? screen->change_rows - 1 : 1;

	switch (request) {
	case REQUEST_HISTORY_BACK:
		workbook_go_back(workbook);
		return true;
	case REQUEST_HISTORY_TURN:
		screen->on_visits = !screen->on_visits;
		return true;
	case REQUEST_HISTORY_MARK:
		mark(screen);
		return true;
	case REQUEST_HISTORY_FOUND:
		show_stage(screen, STAGE_AS_FOUND);
		return true;
	case REQUEST_HISTORY_LEFT:
		show_stage(screen, STAGE_AS_LEFT);
		return true;
	case REQUEST_HISTORY_READ_BACK:
	case REQUEST_HISTORY_READ_ON:
		/* On the other leaf the pages are those of its list. */
		if (!screen->on_visits)
			return press_list(workbook, screen, key);
		history_read_on(screen, request == REQUEST_HISTORY_READ_ON ? page : -page);
		return true;
	default:
		return press_list(workbook, screen, key);
	}
}

/* ---- Drawing ---- */

static void draw_head(struct workbook *workbook, const struct history_screen *screen,
                      struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct system_line *line = &screen->history.system;
	char words[4 * VALUE_TEXT_SIZE];

	system_describe(line, session_now(workbook_session(workbook)), screen->units, words,
	                sizeof words);
	int column = canvas_format(canvas, area, 0, 1, INK_TITLE, "%s%s%s", line->customer.name,
	                           *line->system.name ? ", " : "", line->system.name);
	canvas_format(canvas, area, 0, column, INK_PLAIN, "%s%s", *words ? ": " : "", words);
	column = canvas_put(canvas, area, 1, 1, screen->on_visits ? INK_FAINT : INK_STRONG,
	                    "Readings over time") + 3;
	column = canvas_put(canvas, area, 1, column, screen->on_visits ? INK_STRONG : INK_FAINT,
	                    "Visits compared") + 3;
	canvas_format(canvas, area, 1, column, INK_FAINT, "%s: the other",
	              request_info(REQUEST_HISTORY_TURN)->key);
}

/* What the past says, in three lines. */
static void draw_past(struct canvas *canvas, struct area area, const struct history *history,
                      enum unit_system units)
{
	char lines[UNIT_PAST_LINES][UNIT_PAST_SIZE];

	unit_past_write(history, units, lines);
	for (int i = 0; i < UNIT_PAST_LINES; i++)
		canvas_put(canvas, area, i, 1, i == 1 ? INK_MARGIN : INK_PLAIN, lines[i]);
}

static void hint(struct workbook *workbook, const struct history_screen *screen)
{
	if (!screen->on_visits)
		return;
	const char *mark_key = request_info(REQUEST_HISTORY_MARK)->key;
	if (screen->mark == HISTORY_NO_MARK)
		workbook_hint(workbook, "%s marks a visit. The others are then compared with it.",
		              mark_key);
	else
		workbook_hint(workbook, "%s, %s: the visit to compare. %s takes the mark away.",
		              request_info(REQUEST_LIST_UP)->key, request_info(REQUEST_LIST_DOWN)->key,
		              mark_key);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct history_screen *screen = state;
	/* Visits have lines of their own; a short page has room for one of both. */
	int past = screen->on_visits && area.rows < PAST_ROWS ? 0 : UNIT_PAST_LINES;
	struct area below = area_rows(area, HEAD_ROWS + past, area.rows - HEAD_ROWS - past);

	/* The sentences are written in one system of units. */
	if (screen->units != session_units(workbook_session(workbook)))
		load(workbook, screen);
	draw_head(workbook, screen, area);
	if (past > 0)
		draw_past(workbook_canvas(workbook), area_rows(area, HEAD_ROWS, past), &screen->history,
		          screen->units);
	if (screen->on_visits)
		history_draw_visits(workbook, screen, below);
	else
		history_draw_series(workbook, screen, below);
	hint(workbook, screen);
}

static void done(void *state)
{
	history_done(&((struct history_screen *)state)->history);
}

const struct screen screen_history = {
	.place = PLACE_HISTORY, .state_size = sizeof(struct history_screen),
	.enter = enter, .draw = draw, .press = press, .done = done,
};
