/*
 * The workbook: the page around the screens.
 *
 *	customer · address · machine                      made safe 09:31
 *	·call ~plate ✓safe …                               the route
 *	   the screen
 *	a sentence: what happened, or help for the field
 *	so far: the leading suspicion, and what to measure next
 */
#include "tui/workbook.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/base/text.h>

#include "tui/form.h"
#include "tui/frame.h"
#include "tui/margin.h"

/* Under the page: two rows for a sentence and one for keys, or one and two. */
enum { MESSAGE_SIZE = 400, SETTLE_SECONDS = 15 * 60, BELOW_ROWS = 3 };

/* Cells that can be clicked. */
struct hot {
	int row, column, width; /* where */
	int which;              /* what it is to the screen */
};

enum { MOST_HOT = 256 };

struct workbook {
	struct session *session;         /* not owned */
	struct canvas *canvas;           /* owned */
	void *states[SCREEN_COUNT];      /* what each screen remembers; owned */
	enum screen_id screen;           /* in sight */
	enum screen_id before[SCREEN_COUNT]; /* where each was come to from */
	enum step step;                  /* of the call */
	enum stage stage;                /* whose column is written */
	struct uid customer;             /* whose page */
	struct uid system;               /* whose history */
	char message[MESSAGE_SIZE];      /* said until the next key; "" for none */
	unsigned message_style;          /* its ink */
	char hint[MESSAGE_SIZE];         /* drawn where nothing is said */
	wall_time timer;                 /* when the settle timer was started; WALL_TIME_NONE off */
	struct form *form;               /* what is being written; owned */
	enum request_place keys;         /* shown first on the line of keys; PLACE_COUNT: none */
	enum request done;               /* what the last key did */
	enum reading target;             /* the sheet is entered for it; READING_NONE */
	struct margin_view margin;       /* which figures are in sight */
	enum request_place help_place;   /* whose keys the help tells first */
	bool following;                  /* Enter goes on to the next check */
	struct hot hot[MOST_HOT];        /* of the frame drawn last */
	int hot_count;                   /* of them */
	bool redraw;                     /* the terminal is to be drawn from scratch */
	enum request warned;             /* of what is refused, when this was asked for; NONE */
	bool over;                       /* the program is asked to end */
};

static const struct screen *const screens[SCREEN_COUNT] = {
	[SCREEN_BOOK] = &screen_book, [SCREEN_SHEET] = &screen_sheet,
	[SCREEN_FINDINGS] = &screen_findings, [SCREEN_HELP] = &screen_help,
	[SCREEN_CHOICES] = &screen_choices, [SCREEN_WORK] = &screen_work, [SCREEN_PAPER] = &screen_paper,
	[SCREEN_TIGHTNESS] = &screen_tightness, [SCREEN_COMPARE] = &screen_compare, [SCREEN_GO] = &screen_go, [SCREEN_CUSTOMER] = &screen_customer, [SCREEN_HISTORY] = &screen_history,
};

/* The screen that shows a step; the rest are sheets. */
static const enum screen_id step_screens[STEP_COUNT] = {
	[STEP_CALL] = SCREEN_SHEET, [STEP_SYSTEM] = SCREEN_SHEET, [STEP_SAFETY] = SCREEN_SHEET,
	[STEP_ELECTRICAL] = SCREEN_SHEET, [STEP_WINDINGS] = SCREEN_SHEET, [STEP_AMPS] = SCREEN_SHEET,
	[STEP_REFRIGERANT] = SCREEN_SHEET, [STEP_AIR] = SCREEN_SHEET,
	[STEP_FINDINGS] = SCREEN_FINDINGS, [STEP_CHOICES] = SCREEN_CHOICES,
	[STEP_WORK] = SCREEN_WORK, [STEP_SUMMARY] = SCREEN_PAPER,
};

struct workbook *workbook_new(struct session *session, int rows, int columns, bool plain)
{
	struct workbook *workbook = calloc(1, sizeof *workbook);
	bool whole = workbook != NULL;

	if (!workbook)
		return NULL;
	workbook->session = session;
	workbook->timer = WALL_TIME_NONE;
	workbook->canvas = canvas_new(rows, columns, plain);
	workbook->form = form_new();
	for (int i = 0; i < SCREEN_COUNT; i++) {
		workbook->states[i] = calloc(1, screens[i]->state_size + 1);
		whole = whole && workbook->states[i];
	}
	if (!whole || !workbook->canvas || !workbook->form) {
		workbook_free(workbook);
		return NULL;
	}
	workbook->screen = session_call(session) ? SCREEN_SHEET : SCREEN_BOOK;
	for (int i = 0; i < SCREEN_COUNT; i++)
		workbook->before[i] = workbook->screen;
	if (screens[workbook->screen]->enter)
		screens[workbook->screen]->enter(workbook, workbook->states[workbook->screen]);
	return workbook;
}

void workbook_free(struct workbook *workbook)
{
	if (!workbook)
		return;
	for (int i = 0; i < SCREEN_COUNT; i++) {
		if (workbook->states[i] && screens[i]->done)
			screens[i]->done(workbook->states[i]);
		free(workbook->states[i]);
	}
	form_free(workbook->form);
	canvas_free(workbook->canvas);
	free(workbook);
}

/* ---- Drawing ---- */

static bool is_on_call(const struct workbook *workbook)
{
	return session_call(workbook->session) != NULL && workbook->screen != SCREEN_BOOK;
}

/* Whether the route and the so-far line belong to the page in sight. */
static bool has_frame(const struct workbook *workbook)
{
	return is_on_call(workbook) && workbook->screen != SCREEN_HELP &&
	       workbook->screen != SCREEN_GO;
}

static void draw_timer(struct workbook *workbook, struct area area)
{
	if (workbook->timer == WALL_TIME_NONE)
		return;
	wall_time gone = session_now(workbook->session) - workbook->timer;
	canvas_format(workbook->canvas, area, 0, area.columns - 16,
	              gone >= SETTLE_SECONDS ? INK_GOOD : INK_MARGIN, " settle %2d:%02d%s ",
	              (int)(gone / 60), (int)(gone % 60), gone >= SETTLE_SECONDS ? " done" : "");
}

/* The place whose keys work now. */
static enum request_place where(const struct workbook *workbook)
{
	const struct screen *screen = screens[workbook->screen];

	return screen->where ? screen->where(workbook->states[workbook->screen]) : screen->place;
}

/*
 * What is said, or help for the field; then the keys, in the rows that it
 * leaves free.  A long sentence is never cut: it stands over the page's end.
 */
static void draw_below(struct workbook *workbook, struct area area)
{
	bool said = *workbook->message != '\0';
	const char *text = said ? workbook->message : workbook->hint;
	struct canvas *canvas = workbook->canvas;
	int rows = canvas_wrap_count(canvas, area.columns - 1, text);
	int more = rows > area.rows - 1 ? rows - (area.rows - 1) : 0;

	if (more > area.row)
		more = area.row;
	struct area taller = { area.row - more, area.column, area.rows + more, area.columns };
	if (more > 0)
		canvas_fill(canvas, area_rows(taller, 0, more), INK_PLAIN, ' ');
	canvas_wrap(canvas, area_rows(taller, 0, taller.rows - 1), 0, 1,
	            said ? workbook->message_style : INK_FAINT, text);
	rows = rows < 1 ? 1 : rows;
	frame_draw_keys(canvas, area_rows(taller, rows, taller.rows - rows), workbook->keys,
	                where(workbook), is_on_call(workbook));
}

void workbook_hot(struct workbook *workbook, struct area area, int row, int column, int width,
                  int which)
{
	if (workbook->hot_count == MOST_HOT || row < 0 || row >= area.rows)
		return;
	workbook->hot[workbook->hot_count++] = (struct hot){
		.row = area.row + row, .column = area.column + column, .width = width, .which = which,
	};
}

/* Says what the window is too small for; the keys go on working. */
static void draw_too_small(struct canvas *canvas)
{
	struct area whole = canvas_area(canvas);
	char words[160];

	snprintf(words, sizeof words, "This window is %d by %d. padside needs %d by %d: make it larger. "
	         "Everything is kept.", whole.columns, whole.rows, WORKBOOK_LEAST_COLUMNS,
	         WORKBOOK_LEAST_ROWS);
	canvas_clear(canvas);
	canvas_wrap(canvas, whole, 0, 0, INK_STRONG, words);
}

const struct canvas *workbook_draw(struct workbook *workbook)
{
	struct canvas *canvas = workbook->canvas;
	void *state = workbook->states[workbook->screen];

	canvas_clear(canvas);
	workbook->hot_count = 0;
	workbook->hint[0] = '\0';
	workbook->keys = PLACE_COUNT;
	struct area whole = canvas_area(canvas);
	int above = 1, below = BELOW_ROWS;
	if (has_frame(workbook)) {
		int route = frame_route_rows(whole.rows, whole.columns);
		frame_draw_title(workbook->session, canvas, area_rows(whole, 0, 1), workbook->step);
		frame_draw_route(workbook->session, canvas, area_rows(whole, 1, route), workbook->step,
		                 workbook);
		frame_draw_so_far(workbook->session, canvas, area_rows(whole, whole.rows - 1, 1));
		above = 1 + route;
		below = BELOW_ROWS + 1;
	} else {
		canvas_put_padded(canvas, whole, 0, 0, whole.columns, INK_TITLE | STYLE_REVERSE, " padside");
	}
	draw_timer(workbook, area_rows(whole, 0, 1));
	screens[workbook->screen]->draw(workbook, state,
	                                area_rows(whole, above, whole.rows - above - below));
	draw_below(workbook, area_part(whole, whole.rows - below, 0, BELOW_ROWS, whole.columns));
	if (whole.rows < WORKBOOK_LEAST_ROWS || whole.columns < WORKBOOK_LEAST_COLUMNS)
		draw_too_small(canvas);
	return canvas;
}

/* ---- Keys ---- */

static void toggle_timer(struct workbook *workbook)
{
	bool was_on = workbook->timer != WALL_TIME_NONE;

	workbook->timer = was_on ? WALL_TIME_NONE : session_now(workbook->session);
	workbook_say(workbook, INK_MARGIN, was_on ? "settle timer stopped" : "settle timer started: readings "
	             "count after 15 minutes of steady running (RA3.2)");
}

static void undo(struct workbook *workbook)
{
	char what[NAME_SIZE];
	struct error error;

	if (session_undo(workbook->session, what, sizeof what, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "taken back: %s", what);
	else
		workbook_refuse(workbook, &error);
}

/* Goes to the reading that would decide most; false when none would. */
static bool go_to_next_check(struct workbook *workbook)
{
	const struct diagnosis *diagnosis = session_diagnosis(workbook->session,
	                                                      session_stage(workbook->session));

	workbook->following = diagnosis->next_check_count > 0;
	if (!workbook->following)
		return false;
	workbook->stage = session_stage(workbook->session);
	workbook_go_reading(workbook, diagnosis->next_checks[0].reading);
	return true;
}

static void show_next_check(struct workbook *workbook)
{
	if (!go_to_next_check(workbook))
		workbook_say(workbook, INK_MARGIN, "no reading that is left would tell the explanations apart");
}

bool workbook_follow(struct workbook *workbook)
{
	return workbook->following && go_to_next_check(workbook);
}

static void go_to_book(struct workbook *workbook)
{
	workbook_go(workbook, SCREEN_BOOK);
	session_leave(workbook->session);
}

/* The item on top of the call step's margin was dealt with. */
static void close_watch_item(struct workbook *workbook)
{
	char text[LINE_SIZE];
	struct error error;

	if (session_open_items(workbook->session) == 0) {
		workbook_say(workbook, INK_REFUSED, "no watch item of an earlier visit is open on this "
		             "machine");
		return;
	}
	text_copy(text, sizeof text, session_open_item(workbook->session, 0)->text);
	if (session_close_item(workbook->session, 0, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "dealt with: %s. Ctrl+/ takes it back.", text);
	else
		workbook_refuse(workbook, &error);
}

static void show_history(struct workbook *workbook)
{
	workbook_set_system(workbook, &session_call(workbook->session)->system.uid);
	workbook_go(workbook, SCREEN_HISTORY);
}

static void leave_screen(struct workbook *workbook)
{
	const struct screen *screen = screens[workbook->screen];

	if (screen->leave)
		screen->leave(workbook, workbook->states[workbook->screen]);
}

/*
 * What was refused and is about to be left behind goes to the office note of
 * its call, which is never on the customer's report: nothing typed is lost.
 */
static void save_refused(struct workbook *workbook)
{
	const char *label, *refused;
	struct error error;
	struct text note;

	if (!session_call(workbook->session) || !form_refused(workbook, 0, &label, &refused))
		return;
	text_init(&note);
	text_add(&note, session_field(workbook->session, FIELD_OFFICE_NOTE));
	for (int i = 0; form_refused(workbook, i, &label, &refused); i++)
		text_add_format(&note, "%sNot kept: %s \"%s\".", note.length ? " " : "", label, refused);
	if (session_type_field(workbook->session, FIELD_OFFICE_NOTE, text_get(&note), &error) == STATUS_OK)
		form_clear(workbook);
	text_done(&note);
}

/* Whether a refused text is still to be seen before the call is left; asked again it is left. */
static bool holds_back(struct workbook *workbook, enum request request)
{
	const char *label, *refused;

	leave_screen(workbook);
	if (!session_call(workbook->session) || workbook->warned == request ||
	    !form_refused(workbook, 0, &label, &refused)) {
		save_refused(workbook);
		return false;
	}
	workbook->warned = request;
	workbook_say(workbook, INK_REFUSED, "Not kept: %s \"%s\". %s again leaves the call and writes it into "
	             "the office note.", label, refused, request_info(request)->key);
	return true;
}

static void quit(struct workbook *workbook)
{
	if (!holds_back(workbook, REQUEST_QUIT))
		workbook->over = true;
}

/* The terminal is gone, or the system ends us: there is nobody to ask. */
static void end_now(struct workbook *workbook)
{
	leave_screen(workbook);
	save_refused(workbook);
	workbook->over = true;
}

static void go_step(struct workbook *workbook, int step)
{
	if (step >= 0 && step < STEP_COUNT)
		workbook_go_step(workbook, (enum step)step);
}

static void change_units(struct workbook *workbook)
{
	session_set_units(workbook->session, session_units(workbook->session) == UNITS_US
	                  ? UNITS_SI : UNITS_US);
}

/* What keys ask for wherever one is; false for what only a screen can do. */
static bool carry_out(struct workbook *workbook, enum request request)
{
	if (request >= REQUEST_STEP_1 && request <= REQUEST_STEP_12) {
		go_step(workbook, (int)(request - REQUEST_STEP_1));
		return true;
	}
	switch (request) {
	case REQUEST_HELP:
		workbook_go_help(workbook, where(workbook));
		return true;
	case REQUEST_GO:
		workbook_go(workbook, SCREEN_GO);
		return true;
	case REQUEST_FIGURES_ON:
	case REQUEST_FIGURES_BACK:
		margin_scroll(&workbook->margin, request == REQUEST_FIGURES_ON ? 1 : -1);
		return true;
	case REQUEST_PIN:
		margin_pin(&workbook->margin);
		return true;
	case REQUEST_UNDO:
		undo(workbook);
		return true;
	case REQUEST_UNITS:
		change_units(workbook);
		return true;
	case REQUEST_NEXT_CHECK:
		show_next_check(workbook);
		return true;
	case REQUEST_TIMER:
		toggle_timer(workbook);
		return true;
	case REQUEST_BOOK:
		if (!holds_back(workbook, REQUEST_BOOK))
			go_to_book(workbook);
		return true;
	case REQUEST_HISTORY:
		show_history(workbook);
		return true;
	case REQUEST_COMPARE:
		workbook_go(workbook, SCREEN_COMPARE);
		return true;
	case REQUEST_TIGHTNESS:
		workbook_go(workbook, SCREEN_TIGHTNESS);
		return true;
	case REQUEST_WATCH_DONE:
		close_watch_item(workbook);
		return true;
	case REQUEST_REDRAW:
		workbook->redraw = true;
		return true;
	case REQUEST_QUIT:
		quit(workbook);
		return true;
	case REQUEST_STEP_BEFORE:
		go_step(workbook, (int)workbook->step - 1);
		return true;
	case REQUEST_STEP_AFTER:
		go_step(workbook, (int)workbook->step + 1);
		return true;
	default:
		return false;
	}
}

/* A click on a step of the route, or on what the screen has named. */
static void click(struct workbook *workbook, struct key key)
{
	const struct screen *screen = screens[workbook->screen];

	for (int i = workbook->hot_count - 1; i >= 0; i--) {
		const struct hot *hot = &workbook->hot[i];
		if (hot->row != key.row || key.column < hot->column || key.column >= hot->column + hot->width)
			continue;
		if (hot->which < 0)
			go_step(workbook, -1 - hot->which);
		else if (screen->click)
			screen->click(workbook, workbook->states[workbook->screen], hot->which);
		return;
	}
}

/* The wheel is three times Up or Down, as the place has them. */
static void wheel(struct workbook *workbook, enum press press)
{
	for (int i = 0; i < 3; i++)
		workbook_press(workbook, key_press(press));
}

void workbook_press(struct workbook *workbook, struct key key)
{
	const struct screen *screen = screens[workbook->screen];

	workbook->message[0] = '\0';
	workbook->done = REQUEST_NONE;
	if (key.press == PRESS_CLICK) {
		click(workbook, key);
		return;
	}
	if (key.press == PRESS_WHEEL_UP || key.press == PRESS_WHEEL_DOWN) {
		wheel(workbook, key.press == PRESS_WHEEL_UP ? PRESS_UP : PRESS_DOWN);
		return;
	}
	if (key.press == PRESS_CLOSE) {
		end_now(workbook);
		return;
	}
	enum request request = request_from_key(where(workbook), key);
	/* Whoever moves away goes another way; typing and Enter go on. */
	workbook->following = workbook->following && (request == REQUEST_TYPE || request == REQUEST_NONE ||
	                      request_info(request)->place == PLACE_FIELD);
	if (request != workbook->warned)
		workbook->warned = REQUEST_NONE;
	bool is_done = screen->press(workbook, workbook->states[workbook->screen], request, key);
	bool is_for_call = request < REQUEST_COUNT && request_info(request)->place == PLACE_CALL;
	if (!is_done && (!is_for_call || is_on_call(workbook)))
		is_done = carry_out(workbook, request);
	/* What only the text under the cursor knows is asked for nowhere on the page. */
	workbook->done = !is_done ? REQUEST_NONE : request == REQUEST_NONE ? REQUEST_TYPE : request;
}

enum request workbook_done(const struct workbook *workbook)
{
	return workbook->done;
}

bool workbook_take_redraw(struct workbook *workbook)
{
	bool redraw = workbook->redraw;

	workbook->redraw = false;
	return redraw;
}

void workbook_resize(struct workbook *workbook, int rows, int columns)
{
	canvas_resize(workbook->canvas, rows, columns);
}

bool workbook_is_over(const struct workbook *workbook)
{
	return workbook->over;
}

int workbook_wait(const struct workbook *workbook)
{
	/* What the charge log waits for counts down on the page. */
	bool counts_down = is_on_call(workbook) && session_call(workbook->session)->charge_count > 0;

	return workbook->timer != WALL_TIME_NONE ? 1000 : counts_down ? 10000 : -1;
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

void workbook_set_stage(struct workbook *workbook, enum stage stage)
{
	workbook->stage = stage;
}

static void enter(struct workbook *workbook, enum screen_id screen)
{
	workbook->screen = screen;
	if (screens[screen]->enter)
		screens[screen]->enter(workbook, workbook->states[screen]);
}

void workbook_go(struct workbook *workbook, enum screen_id screen)
{
	leave_screen(workbook);
	/* Help can be asked for twice; one goes back to where it was asked for first. */
	if (workbook->screen != screen)
		workbook->before[screen] = workbook->screen;
	enter(workbook, screen);
}

void workbook_go_step(struct workbook *workbook, enum step step)
{
	leave_screen(workbook);
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

void workbook_go_back(struct workbook *workbook)
{
	leave_screen(workbook);
	enter(workbook, workbook->before[workbook->screen]);
}

enum request_place workbook_place_before(const struct workbook *workbook)
{
	return workbook->help_place;
}

void workbook_go_help(struct workbook *workbook, enum request_place place)
{
	if (workbook->screen != SCREEN_HELP)
		workbook->help_place = place;
	workbook_go(workbook, SCREEN_HELP);
}

void workbook_go_figure(struct workbook *workbook, enum figure figure)
{
	workbook->margin.pinned = figure;
	workbook_go_step(workbook, margin_step(figure));
}

void workbook_ask(struct workbook *workbook, enum request request)
{
	workbook_go_back(workbook);
	carry_out(workbook, request);
}

struct margin_view *workbook_margin(struct workbook *workbook)
{
	return &workbook->margin;
}

/* Another call is on the desk: its first step, its first column. */
static void show_call(struct workbook *workbook)
{
	form_clear(workbook);
	workbook->stage = STAGE_AS_FOUND;
	workbook_go_step(workbook, STEP_CALL);
}

void workbook_open_call(struct workbook *workbook, const struct uid *call)
{
	struct error error;

	leave_screen(workbook);
	if (session_open(workbook->session, call->text, &error) == STATUS_OK)
		show_call(workbook);
	else
		workbook_refuse(workbook, &error);
}

void workbook_start_call(struct workbook *workbook, const struct uid *customer,
                         const struct uid *site, const struct uid *system)
{
	struct error error;

	leave_screen(workbook);
	if (session_start(workbook->session, customer, site, system, &error) == STATUS_OK)
		show_call(workbook);
	else
		workbook_refuse(workbook, &error);
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

void workbook_show_keys(struct workbook *workbook, enum request_place place)
{
	workbook->keys = place;
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
}
