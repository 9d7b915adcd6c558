/*
 * The cylinders of the call: which, how much more goes in, whether its pressure
 * test is in date, and where the gas that was recovered into it went.  The
 * last line is always empty: writing in it makes a new one.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/text.h>
#include <padside/calc/tightness.h>
#include <padside/model/tightness_log.h>

#include "tui/form.h"
#include "tui/list.h"

enum { NUMBER_LIMIT = 24, DAY_SIZE = 11 };

enum {
	LINE_NAME, LINE_REFRIGERANT, LINE_CAPACITY, LINE_TARE, LINE_WEIGHT, LINE_TESTED, LINE_WENT,
	LINE_COUNT
};

struct cylinders_page {
	int row, column;       /* under the cursor; the row behind the last is a new one */
	int top;               /* the first row in sight */
	struct cylinder blank; /* what the new one begins as, with its uid */
	struct uid call;       /* whose page that is */
};

/* ---- Lines ---- */

static void get_text(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	const struct cylinder *cylinder = element;

	(void)session;
	text_copy(out, size, line->which == LINE_NAME ? cylinder->name : cylinder->went_to);
}

static enum status set_text(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	struct cylinder *cylinder = element;

	(void)session;
	return line->which == LINE_NAME
		? form_read_text(line, typed, cylinder->name, sizeof cylinder->name, error)
		: form_read_text(line, typed, cylinder->went_to, sizeof cylinder->went_to, error);
}

static void get_refrigerant(const struct form_line *line, const void *element,
                            struct session *session, char *out, size_t size)
{
	enum choice refrigerant = ((const struct cylinder *)element)->refrigerant;

	(void)line, (void)session;
	text_copy(out, size, refrigerant == CHOICE_NONE ? "" : choice_label(refrigerant));
}

static enum status set_refrigerant(const struct form_line *line, void *element, const char *typed,
                                   struct session *session, struct error *error)
{
	struct value value;
	enum status status = reading_parse(READING_REFRIGERANT, typed, session_units(session), &value,
	                                   error);

	(void)line;
	if (status == STATUS_OK)
		((struct cylinder *)element)->refrigerant = value.state == VALUE_TAKEN ? value.choice
		                                                                       : CHOICE_NONE;
	return status;
}

/* The scale and the stamp are in pounds, or in kilograms: never in grams. */
static enum unit weight_unit(const struct session *session)
{
	return session_units(session) == UNITS_SI ? UNIT_KG : UNIT_LB;
}

static const size_t weights[LINE_COUNT] = {
	[LINE_CAPACITY] = offsetof(struct cylinder, water_capacity_lb),
	[LINE_TARE] = offsetof(struct cylinder, tare_lb),
	[LINE_WEIGHT] = offsetof(struct cylinder, weight_lb),
};

static void get_weight(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	double pounds;

	memcpy(&pounds, (const char *)element + weights[line->which], sizeof pounds);
	out[0] = '\0';
	if (pounds > 0)
		number_format(unit_convert(pounds, UNIT_LB, weight_unit(session)), 1, out, size);
}

static enum status set_weight(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	enum { MOST_POUNDS = 3000 };
	enum unit unit = weight_unit(session);
	const char *rest = "";
	double number = 0;

	if (*typed && (!number_parse(typed, &number, &rest) ||
	               (*rest && !unit_from_text(rest, UNIT_LB, &unit))))
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type a weight like 47.7 or 21.6 kg",
		                 line->label);
	number = unit_convert(number, unit, UNIT_LB);
	if (number < 0 || number > MOST_POUNDS)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: 0 to %d lb is possible", line->label,
		                 MOST_POUNDS);
	memcpy((char *)element + weights[line->which], &number, sizeof number);
	return STATUS_OK;
}

static void get_tested(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	char day[CLOCK_TEXT_SIZE];

	(void)line, (void)session;
	clock_format_date(((const struct cylinder *)element)->test_date, day, sizeof day);
	text_copy(out, size, day);
}

/* "2024-05-17", or as it is stamped, the month and the year: "05/24", "2024-05". */
static enum status set_tested(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	char day[32];
	int month, year, used = 0;
	wall_time at = WALL_TIME_NONE;

	(void)session;
	if (sscanf(typed, "%2d/%2d%n", &month, &year, &used) == 2 && !typed[used])
		snprintf(day, sizeof day, "20%02d-%02d-01", year % 100, month % 100);
	else if (strlen(typed) == sizeof "2024-05" - 1)
		snprintf(day, sizeof day, "%s-01", typed);
	else
		text_copy(day, sizeof day, typed);
	if (*typed && !clock_parse(day, &at))
		return error_set(error, STATUS_BAD_INPUT, "%s: type the month as it is stamped, 05/24, or a day "
		                 "like 2024-05-17", line->label);
	((struct cylinder *)element)->test_date = at;
	return STATUS_OK;
}

static enum status keep_cylinder(struct session *session, const void *element, void *context,
                                 struct error *error)
{
	(void)context;
	return session_put(session, LIST_CYLINDERS, element, error);
}

#define WEIGHT(label_, help_, line) \
	{ .label = label_, .help = help_, .limit = NUMBER_LIMIT, .is_number = true, .which = line, \
	  .get = get_weight, .set = set_weight }

static const struct form_line lines[LINE_COUNT] = {
	[LINE_NAME] = { .label = "cylinder", .help = "its label, as in the charge log",
	                .limit = CYLINDER_SIZE - 1, .which = LINE_NAME, .get = get_text, .set = set_text },
	[LINE_REFRIGERANT] = { .label = "holds", .help = "one refrigerant a cylinder, never two; a flammable "
	                       "one in a cylinder made for it", .limit = NUMBER_LIMIT,
	                       .which = LINE_REFRIGERANT, .get = get_refrigerant, .set = set_refrigerant },
	[LINE_CAPACITY] = WEIGHT("water capacity", "WC, as stamped on the collar", LINE_CAPACITY),
	[LINE_TARE] = WEIGHT("tare", "TW, the empty weight as stamped on the collar", LINE_TARE),
	[LINE_WEIGHT] = WEIGHT("weight", "of the cylinder on the scale now", LINE_WEIGHT),
	[LINE_TESTED] = { .label = "tested", .help = "the last pressure test, as stamped: 05/24. It counts "
	                  "five years", .limit = NUMBER_LIMIT, .which = LINE_TESTED, .get = get_tested,
	                  .set = set_tested },
	[LINE_WENT] = { .label = "gas went to", .help = "back into this unit, to the reclaimer, kept for the "
	                "same owner", .is_prose = true, .limit = LINE_SIZE - 1, .which = LINE_WENT,
	                .get = get_text, .set = set_text },
};

static const struct form_kind cylinder_kind = {
	.name = "cylinder", .home = FORM_HOME_LIST, .list = LIST_CYLINDERS,
	.lines = lines, .count = LINE_COUNT, .size = sizeof(struct cylinder), .keep = keep_cylinder,
};

/* ---- Where one is ---- */

static const struct call *call_of(struct workbook *workbook)
{
	return session_call(workbook_session(workbook));
}

static int rows_of(struct workbook *workbook)
{
	return (int)call_of(workbook)->cylinder_count + 1;
}

static const struct cylinder *cylinder_at(struct workbook *workbook,
                                          const struct cylinders_page *page, int row)
{
	const struct call *call = call_of(workbook);

	return row < (int)call->cylinder_count ? &call->cylinders[row] : &page->blank;
}

static struct form_place place_at(struct workbook *workbook, const struct cylinders_page *page,
                                  int row, int column)
{
	const struct cylinder *cylinder = cylinder_at(workbook, page, row);

	return (struct form_place){ .kind = &cylinder_kind, .element = cylinder, .uid = &cylinder->uid,
	                            .is_fresh = cylinder == &page->blank, .line = column };
}

/* A new cylinder is for what is in the unit. */
static void renew_blank(struct workbook *workbook, struct cylinders_page *page)
{
	call_element_init(LIST_CYLINDERS, &page->blank);
	page->blank.uid = uid_new();
	page->blank.refrigerant = visit_choice(&call_of(workbook)->visit, STAGE_AS_FOUND,
	                                       READING_REFRIGERANT);
}

static void hold(struct workbook *workbook, struct cylinders_page *page)
{
	if (page->row >= rows_of(workbook))
		page->row = rows_of(workbook) - 1;
	if (call_list_find(call_of(workbook), LIST_CYLINDERS, &page->blank.uid) <
	    call_of(workbook)->cylinder_count)
		renew_blank(workbook, page);
}

static void enter(struct workbook *workbook, void *state)
{
	struct cylinders_page *page = state;

	renew_blank(workbook, page);
	if (strcmp(page->call.text, call_of(workbook)->uid.text) != 0) {
		page->call = call_of(workbook)->uid;
		page->row = rows_of(workbook) - 1;
		page->column = LINE_NAME;
	}
	hold(workbook, page);
}

/* ---- Keys ---- */

static bool keep(struct workbook *workbook, struct cylinders_page *page)
{
	struct form_place place = place_at(workbook, page, page->row, page->column);
	bool is_kept = form_keep(workbook, &place);

	hold(workbook, page);
	return is_kept;
}

static void leave(struct workbook *workbook, void *state)
{
	hold(workbook, state);
	keep(workbook, state);
}

static void move(struct workbook *workbook, struct cylinders_page *page, int rows, int columns)
{
	if (!keep(workbook, page))
		return;
	int row = page->row + rows, column = page->column + columns;
	if (row >= 0 && row < rows_of(workbook))
		page->row = row;
	if (column >= 0 && column < LINE_COUNT)
		page->column = column;
}

/* Behind Enter: the next column, and behind the last one the next line. */
static void go_on(struct workbook *workbook, struct cylinders_page *page)
{
	if (page->column + 1 < LINE_COUNT) {
		page->column++;
		return;
	}
	page->column = LINE_NAME;
	page->row = rows_of(workbook) - 1;
}

static void take_out(struct workbook *workbook, struct cylinders_page *page)
{
	struct error error;

	if (page->row >= rows_of(workbook) - 1)
		return;
	if (session_remove(workbook_session(workbook), LIST_CYLINDERS, (size_t)page->row, &error) ==
	    STATUS_OK)
		workbook_say(workbook, INK_KEPT, "the cylinder was taken out; Ctrl+/ brings it back");
	else
		workbook_refuse(workbook, &error);
}

static bool press_page(struct workbook *workbook, struct cylinders_page *page, enum request request)
{
	switch (request) {
	case REQUEST_CYLINDER_UP:
		move(workbook, page, -1, 0);
		return true;
	case REQUEST_CYLINDER_DOWN:
		move(workbook, page, 1, 0);
		return true;
	case REQUEST_CYLINDER_LEFT:
		move(workbook, page, 0, -1);
		return true;
	case REQUEST_CYLINDER_RIGHT:
		move(workbook, page, 0, 1);
		return true;
	case REQUEST_CYLINDER_NEW:
		if (keep(workbook, page)) {
			page->row = rows_of(workbook) - 1;
			page->column = LINE_NAME;
		}
		return true;
	case REQUEST_CYLINDER_OUT:
		take_out(workbook, page);
		return true;
	case REQUEST_CYLINDER_BACK:
		workbook_go_back(workbook);
		return true;
	default:
		return false;
	}
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct cylinders_page *page = state;

	hold(workbook, page);
	struct form_place place = place_at(workbook, page, page->row, page->column);
	enum form_answer answer = form_press(workbook, &place, request, key);
	if (answer != FORM_IGNORED && !form_is_writing(workbook))
		hold(workbook, page);
	if (answer == FORM_NEXT)
		go_on(workbook, page);
	return answer != FORM_IGNORED || press_page(workbook, page, request);
}

/* ---- Drawing ---- */

static const struct {
	const char *head; /* above the column */
	int width;        /* of it; where the gas went has a line of its own */
} columns[] = {
	[LINE_NAME] = { "cylinder", 12 }, [LINE_REFRIGERANT] = { "holds", 9 },
	[LINE_CAPACITY] = { "WC", 8 }, [LINE_TARE] = { "tare", 8 }, [LINE_WEIGHT] = { "weight", 8 },
	[LINE_TESTED] = { "tested", DAY_SIZE },
};
enum { DRAWN = sizeof columns / sizeof *columns };

static void draw_row(struct workbook *workbook, struct cylinders_page *page, struct area area, int at,
                     int row)
{
	bool is_kept = row < rows_of(workbook) - 1;
	int column = 1;

	canvas_put(workbook_canvas(workbook), area, at, 0, is_kept ? INK_KEPT : INK_FAINT,
	           is_kept ? "✓" : "+");
	for (int i = 0; i < DRAWN; i++) {
		struct form_place place = place_at(workbook, page, row, i);
		form_draw(workbook, &place, area, at, column, columns[i].width,
		          row == page->row && i == page->column);
		column += columns[i].width + 1;
	}
}

static void add_weight(const struct session *session, double pounds, struct text *text)
{
	char number[NUMBER_SIZE];
	enum unit unit = weight_unit(session);

	number_format(unit_convert(pounds, UNIT_LB, unit), 1, number, sizeof number);
	text_add_format(text, "%s %s", number, unit_symbol(unit, false));
}

/* "It may weigh 56.8 lb: 12.4 lb more go in." or that it is over full. */
static void add_room(const struct session *session, const struct cylinder *cylinder,
                     struct text *text)
{
	double room;

	if (cylinder_room(cylinder, &room) != STATUS_OK) {
		text_add(text, "How much goes in: write refrigerant, WC, tare and weight. ");
		return;
	}
	text_add(text, "At most ");
	add_weight(session, cylinder->weight_lb + room, text);
	text_add_format(text, " on the scale: 80 %% of the water capacity times the liquid's density at %s. ",
	                session_units(session) == UNITS_SI ? "25 °C" : "77 °F");
	if (room < 0)
		text_add(text, "It is over full by ");
	add_weight(session, fabs(room), text);
	text_add(text, room < 0 ? ": take some out now. " : " more may go in. ");
}

/* What the charge log of the call has of it. */
static void add_moved(const struct session *session, const struct cylinder *cylinder,
                      struct text *text)
{
	const double oz_per_lb = 16;
	const struct call *call = session_call(session);
	double in = 0, out = 0;

	for (size_t i = 0; *cylinder->name && i < call->charge_count; i++)
		if (text_equal_ignoring_case(call->charge[i].cylinder, cylinder->name)) {
			in += call->charge[i].recovered_oz;
			out += call->charge[i].added_oz;
		}
	if (!(in > 0) && !(out > 0))
		return;
	text_add(text, "On this call ");
	add_weight(session, in / oz_per_lb, text);
	text_add(text, " went in, ");
	add_weight(session, out / oz_per_lb, text);
	text_add(text, " came out. ");
}

/* What is wrong with it stands first, in red. */
static int draw_warning(struct workbook *workbook, struct area area, int row,
                        const struct cylinder *cylinder)
{
	const struct session *session = workbook_session(workbook);

	if (cylinder->test_date == WALL_TIME_NONE ||
	    tightness_cylinder_in_date(cylinder->test_date, session_now(session)))
		return row;
	return row + canvas_wrap(workbook_canvas(workbook), area, row, 1, INK_CAUTION, "Its pressure test is "
	                         "more than five years old: do not fill it, have it tested.");
}

static void draw_words(struct workbook *workbook, const struct cylinders_page *page,
                       struct area area)
{
	const struct session *session = workbook_session(workbook);
	const struct cylinder *cylinder = cylinder_at(workbook, page, page->row);
	int row = draw_warning(workbook, area, 0, cylinder);
	struct text text;

	text_init(&text);
	add_room(session, cylinder, &text);
	add_moved(session, cylinder, &text);
	canvas_wrap(workbook_canvas(workbook), area, row, 1, INK_MARGIN, text_get(&text));
	text_done(&text);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct cylinders_page *page = state;
	struct canvas *canvas = workbook_canvas(workbook);
	enum { HEAD_ROWS = 4, FOOT_ROWS = 6 };
	int room = area.rows - HEAD_ROWS - FOOT_ROWS, column = 1;

	hold(workbook, page);
	canvas_put(canvas, area, 0, 1, INK_TITLE, "Cylinders");
	canvas_wrap(canvas, area_rows(area, 1, 2), 0, 1, INK_CAUTION, "Fill by weight, never past the limit: "
	            "an over-full cylinder bursts when it warms. Gloves and goggles.");
	for (int i = 0; i < DRAWN; i++) {
		canvas_put(canvas, area, HEAD_ROWS - 1, column, INK_FAINT, columns[i].head);
		column += columns[i].width + 1;
	}
	if (page->row < page->top)
		page->top = page->row;
	if (room > 0 && page->row >= page->top + room)
		page->top = page->row - room + 1;
	for (int i = 0; i < room && page->top + i < rows_of(workbook); i++)
		draw_row(workbook, page, area, HEAD_ROWS + i, page->top + i);
	int foot = area.rows - FOOT_ROWS;
	struct form_place went = place_at(workbook, page, page->row, LINE_WENT);
	canvas_put(canvas, area, foot, 1, INK_FAINT, "gas went to");
	form_draw(workbook, &went, area, foot, 13, area.columns - 14, page->column == LINE_WENT);
	draw_words(workbook, page, area_rows(area, foot + 1, FOOT_ROWS - 1));
}

const struct screen screen_cylinders = {
	.place = PLACE_CYLINDERS, .state_size = sizeof(struct cylinders_page),
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
