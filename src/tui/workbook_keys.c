/*
 * Where a key goes: to the screen in sight, or to what works on every page.
 */
#include "tui/workbook_parts.h"

/* A click on a step of the route, or on what the screen has named. */
static void click(struct workbook *workbook, struct key key)
{
	const struct screen *screen = workbook_screen(workbook);

	for (int i = workbook->hot_count - 1; i >= 0; i--) {
		const struct hot *hot = &workbook->hot[i];
		if (hot->row != key.row || key.column < hot->column || key.column >= hot->column + hot->width)
			continue;
		if (hot->which < 0)
			workbook_turn_step(workbook, -1 - hot->which);
		else if (screen->click)
			screen->click(workbook, workbook_state(workbook), hot->which);
		return;
	}
}

/* The wheel is three times Up or Down, as the place has them. */
static enum request wheel(struct workbook *workbook, enum press press)
{
	enum request done = REQUEST_NONE;

	for (int i = 0; i < 3; i++)
		done = workbook_press(workbook, key_press(press));
	return done;
}

enum request workbook_press(struct workbook *workbook, struct key key)
{
	const struct screen *screen = workbook_screen(workbook);

	workbook->message[0] = '\0';
	workbook_look(workbook);
	if (key.press == PRESS_CLICK) {
		workbook->closed = CLOSED_QUIET;
		click(workbook, key);
		return REQUEST_NONE;
	}
	if (key.press == PRESS_WHEEL_UP || key.press == PRESS_WHEEL_DOWN)
		return wheel(workbook, key.press == PRESS_WHEEL_UP ? PRESS_UP : PRESS_DOWN);
	if (key.press == PRESS_CLOSE) {
		workbook_end_now(workbook);
		return REQUEST_NONE;
	}
	enum request request = request_from_key(workbook_where(workbook), key);
	/* Whoever moves away goes another way; typing and Enter go on. */
	if (request != REQUEST_TYPE && request != REQUEST_NONE && request_info(request)->place != PLACE_FIELD)
		workbook->following = FOLLOWING_NONE;
	if (request != workbook->warned)
		workbook->warned = REQUEST_NONE;
	if (closed_takes_key(workbook, request, key))
		return request == REQUEST_NONE ? REQUEST_TYPE : request;
	bool is_done = screen->press(workbook, workbook_state(workbook), request, key);
	bool is_for_call = request < REQUEST_COUNT && request_info(request)->place == PLACE_CALL;
	if (!is_done && (!is_for_call || workbook_is_on_call(workbook)))
		is_done = workbook_carry_out(workbook, request);
	/* Whoever wants a new call writes its customer next: not over the one of this call. */
	if (!is_done && workbook_is_on_call(workbook) && request_from_key(PLACE_BOOK, key) == REQUEST_BOOK_NEW)
		workbook_say(workbook, INK_REFUSED, "a new call is begun in the book: %s leaves this one first",
		             request_info(REQUEST_BOOK)->key);
	/* What only the text under the cursor knows is asked for nowhere on the page. */
	return !is_done ? REQUEST_NONE : request == REQUEST_NONE ? REQUEST_TYPE : request;
}

bool workbook_is_sure(struct workbook *workbook, enum request request)
{
	bool is_sure = workbook->warned == request;

	workbook->warned = is_sure ? REQUEST_NONE : request;
	return is_sure;
}

bool workbook_take_redraw(struct workbook *workbook)
{
	bool redraw = workbook->redraw;

	workbook->redraw = false;
	return redraw;
}
