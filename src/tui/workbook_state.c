/*
 * What the workbook remembers, and what the pages ask of it and tell it.  Nothing
 * in here knows a page: they are reached through their table alone.
 */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

#include "tui/workbook_parts.h"

/* ---- What is in sight ---- */

const struct screen *workbook_screen(const struct workbook *workbook)
{
	return workbook->screens[workbook->screen];
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

bool workbook_is_on_call(const struct workbook *workbook)
{
	return session_call(workbook->session) != NULL && workbook->screen != SCREEN_BOOK;
}

bool workbook_has_frame(const struct workbook *workbook)
{
	return workbook_is_on_call(workbook) && workbook->screen != SCREEN_HELP &&
	       workbook->screen != SCREEN_GO;
}

bool workbook_has_timer(const struct workbook *workbook)
{
	const struct call *call = session_call(workbook->session);

	return workbook->timer != TIMER_OFF && call &&
	       strcmp(call->uid.text, workbook->timer_call.text) == 0;
}

/* ---- What the pages ask ---- */

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

const char *workbook_step_key(enum step step)
{
	return request_info((enum request)(REQUEST_STEP_1 + (int)step))->key;
}

enum stage workbook_stage(const struct workbook *workbook)
{
	return workbook->stage;
}

void workbook_set_stage(struct workbook *workbook, enum stage stage)
{
	workbook->stage = stage;
}

struct margin_view *workbook_margin(struct workbook *workbook)
{
	return &workbook->margin;
}

enum request_place workbook_place_before(const struct workbook *workbook)
{
	return workbook->help_place;
}

void workbook_set_here(struct workbook *workbook, enum reading reading)
{
	workbook->here = reading;
}

/* Of the sheet only: the other pages have no reading under their cursor. */
enum reading workbook_here(const struct workbook *workbook)
{
	bool is_sheet = workbook->screen == SCREEN_SHEET ||
	                (workbook->screen == SCREEN_HELP &&
	                 workbook->before[SCREEN_HELP] == SCREEN_SHEET);

	return is_sheet ? workbook->here : READING_NONE;
}

enum reading workbook_take_target(struct workbook *workbook)
{
	enum reading target = workbook->target;

	workbook->target = READING_NONE;
	return target;
}

enum field workbook_take_target_field(struct workbook *workbook)
{
	enum field target = workbook->target_field;

	workbook->target_field = FIELD_COUNT;
	return target;
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

bool workbook_is_sure(struct workbook *workbook, enum request request)
{
	bool is_sure = workbook->warned == request;

	workbook->warned = is_sure ? REQUEST_NONE : request;
	return is_sure;
}

/* ---- What they tell ---- */

static void write_words(char *out, size_t size, const char *format, va_list arguments)
{
	vsnprintf(out, size, format, arguments);
	text_trim_broken_utf8(out);
}

void workbook_say(struct workbook *workbook, unsigned style, const char *format, ...)
{
	va_list arguments;

	va_start(arguments, format);
	write_words(workbook->message, sizeof workbook->message, format, arguments);
	va_end(arguments);
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
	write_words(workbook->hint, sizeof workbook->hint, format, arguments);
	va_end(arguments);
	workbook->hint_style = INK_FAINT;
}

void workbook_warn(struct workbook *workbook, const char *words)
{
	workbook_hint(workbook, "%s", words);
	workbook->hint_style = INK_CAUTION;
}

void workbook_hot(struct workbook *workbook, struct area area, int row, int column, int width,
                  int which)
{
	if (workbook->hot_count == WORKBOOK_MOST_HOT || row < 0 || row >= area.rows)
		return;
	workbook->hot[workbook->hot_count++] = (struct hot){
		.row = area.row + row, .column = area.column + column, .width = width, .which = which,
	};
}
