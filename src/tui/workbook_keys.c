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
		if (hot->row != key.row || key.column < hot->column ||
		    key.column >= hot->column + hot->width)
			continue;
		if (hot->which < 0)
			workbook_turn_step(workbook, -1 - hot->which);
		else if (screen->click)
			screen->click(workbook, workbook_state(workbook), hot->which);
		return;
	}
}

/* The wheel is three times the key that goes up or down in a list, as the place has it. */
static enum request wheel(struct workbook *workbook, enum request request)
{
	enum request done = REQUEST_NONE;

	for (int i = 0; i < 3; i++)
		done = workbook_press(workbook, request_key(request));
	return done;
}

/*
 * What the key asks for: what lies before the page has it first, then the page.  What is
 * typed into a text is for that alone.
 */
static enum request request_here(struct workbook *workbook, struct key key)
{
	enum request request = request_from_key(workbook_inner(workbook), key);

	if (request == REQUEST_NONE || (request == REQUEST_TYPE && !form_is_writing(workbook)))
		request = request_from_key(workbook_where(workbook), key);
	return request;
}

/* Whoever moves away goes another way; typing and going on go on. */
static bool goes_on(enum request request)
{
	enum request_place place = request < REQUEST_COUNT ? request_info(request)->place : PLACE_FIELD;

	return request == REQUEST_NONE || place == PLACE_FIELD || place == PLACE_WORDS ||
	       place == PLACE_YES_NO || place == PLACE_REFUSED || place == PLACE_WRITING;
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
		return wheel(workbook, key.press == PRESS_WHEEL_UP ? REQUEST_LIST_UP : REQUEST_LIST_DOWN);
	if (key.press == PRESS_CLOSE) {
		workbook_end_now(workbook);
		return REQUEST_NONE;
	}
	enum request answer = closed_answer(workbook, key, workbook_press);
	if (answer != REQUEST_NONE)
		return answer;
	enum request request = request_here(workbook, key);
	if (!goes_on(request))
		workbook->following = FOLLOWING_NONE;
	if (request != workbook->warned)
		workbook->warned = REQUEST_NONE;
	if (closed_asks(workbook, request, key))
		return request;
	bool is_done = screen->press(workbook, workbook_state(workbook), request, key);
	bool is_for_call = request < REQUEST_COUNT && request_info(request)->place == PLACE_CALL;
	if (!is_done && (!is_for_call || workbook_is_on_call(workbook)))
		is_done = workbook_carry_out(workbook, request);
	/* Whoever asks for a new call writes its customer next: not over the one of this call. */
	if (!is_done && workbook_is_on_call(workbook) &&
	    request_from_key(PLACE_BOOK, key) == REQUEST_BOOK_NEW)
		workbook_say(workbook, INK_REFUSED, "a new call starts from the book: %s goes there",
		             request_info(REQUEST_BOOK)->key);
	/* What only the text under the cursor knows is asked for nowhere on the page. */
	return !is_done ? REQUEST_NONE : request == REQUEST_NONE ? REQUEST_TYPE : request;
}

bool workbook_take_redraw(struct workbook *workbook)
{
	bool redraw = workbook->redraw;

	workbook->redraw = false;
	return redraw;
}
