/*
 * The workbook's page: what stands around the screens.
 *
 *	customer · address · unit                      made safe 09:31
 *	·call ~plate ✓safe …                               the route
 *	   the screen
 *	a sentence: what happened, or help for the field
 *	so far: the leading suspicion, and what to measure next
 */
#include <stdio.h>
#include <string.h>

#include "tui/form.h"
#include "tui/frame.h"
#include "tui/workbook_parts.h"

/* Under the page: two rows for a sentence and one for keys, or one and two. */
enum { SETTLE_SECONDS = 15 * 60, BELOW_ROWS = 3 };

/* The time since it was started, up to the column where the power state stands. */
static void draw_timer(struct workbook *workbook, struct area area, int end)
{
	if (!workbook_has_timer(workbook))
		return;
	int64_t gone = session_steady(workbook->session) - workbook->timer;
	bool done = gone >= SETTLE_SECONDS;
	char words[32];

	snprintf(words, sizeof words, " settle %2d:%02d%s ", (int)(gone / 60), (int)(gone % 60),
	         done ? " done" : "");
	canvas_put(workbook->canvas, area, 0, end - (int)strlen(words),
	           done ? INK_GOOD : INK_MARGIN, words);
}

/*
 * What is said, or help for the field; then the keys, in the rows that it
 * leaves free.  A long sentence is never cut: it stands over the page's end.
 */
static void draw_below(struct workbook *workbook, struct area area)
{
	bool said = *workbook->message != '\0';
	const char *text = said ? workbook->message : workbook->hint;
	unsigned style = said ? workbook->message_style : workbook->hint_style;
	struct text waiting;
	struct canvas *canvas = workbook->canvas;

	text_init(&waiting);
	if (!said && workbook_tell_waiting(workbook, &waiting)) {
		text = text_get(&waiting);
		style = INK_UNKEPT;
	}
	int rows = canvas_wrap_count(canvas, area.columns - 1, text);
	int more = rows > area.rows - 1 ? rows - (area.rows - 1) : 0;

	if (more > area.row)
		more = area.row;
	struct area taller = { area.row - more, area.column, area.rows + more, area.columns };
	if (more > 0)
		canvas_fill(canvas, area_rows(taller, 0, more), INK_PLAIN, ' ');
	canvas_wrap(canvas, area_rows(taller, 0, taller.rows - 1), 0, 1, style, text);
	text_done(&waiting);
	rows = rows < 1 ? 1 : rows;
	frame_draw_keys(canvas, area_rows(taller, rows, taller.rows - rows), workbook_inner(workbook),
	                workbook_where(workbook), workbook_is_on_call(workbook));
}

/* Says what the window is too small for; the keys go on working. */
static void draw_too_small(struct canvas *canvas)
{
	struct area whole = canvas_area(canvas);
	char words[160];

	snprintf(words, sizeof words,
	         "This window is %d by %d. padside needs %d by %d: make it larger. Everything is kept.",
	         whole.columns, whole.rows, WORKBOOK_LEAST_COLUMNS, WORKBOOK_LEAST_ROWS);
	canvas_clear(canvas);
	canvas_wrap(canvas, whole, 0, 0, INK_STRONG, words);
}

const struct canvas *workbook_draw(struct workbook *workbook)
{
	struct canvas *canvas = workbook->canvas;
	void *state = workbook_state(workbook);

	canvas_clear(canvas);
	workbook->hot_count = 0;
	workbook->hint[0] = '\0';
	form_begin_page(workbook);
	struct area whole = canvas_area(canvas);
	int above = 1, below = BELOW_ROWS;
	/* The power state stands on every page of a call, in the help too. */
	int end = workbook_is_on_call(workbook)
	        ? frame_draw_title(workbook->session, canvas, area_rows(whole, 0, 1)) : whole.columns;
	if (workbook_has_frame(workbook)) {
		int route = frame_route_rows(whole.rows, whole.columns);
		draw_timer(workbook, area_rows(whole, 0, 1), end);
		frame_draw_route(workbook->session, canvas, area_rows(whole, 1, route), workbook->step,
		                 workbook);
		frame_draw_so_far(workbook->session, canvas, area_rows(whole, whole.rows - 1, 1));
		above = 1 + route;
		below = BELOW_ROWS + 1;
	} else if (!workbook_is_on_call(workbook)) {
		canvas_put_padded(canvas, whole, 0, 0, whole.columns, INK_TITLE | STYLE_REVERSE,
		                  " padside");
	}
	workbook_screen(workbook)->draw(workbook, state,
	                                area_rows(whole, above, whole.rows - above - below));
	draw_below(workbook, area_part(whole, whole.rows - below, 0, BELOW_ROWS, whole.columns));
	if (whole.rows < WORKBOOK_LEAST_ROWS || whole.columns < WORKBOOK_LEAST_COLUMNS)
		draw_too_small(canvas);
	return canvas;
}
