/*
 * The cylinders of the call: which, how much more goes in, whether its pressure
 * test is in date, and where the gas that was recovered into it went.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/base/quantities.h>
#include <padside/base/text.h>
#include <padside/calc/tightness.h>
#include <padside/model/moved.h>
#include <padside/model/cylinder.h>

#include "tui/log_page.h"

enum { NUMBER_LIMIT = 24, DAY_COLUMNS = 10 };

enum {
	LINE_NAME, LINE_REFRIGERANT, LINE_CAPACITY, LINE_TARE, LINE_WEIGHT, LINE_TESTED, LINE_WENT,
	LINE_COUNT
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
	return unit_shown(UNIT_LB, session_units(session));
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
		return form_refuse_number(line, "a weight like {47.7 LB}", session, error);
	number = unit_convert(number, unit, UNIT_LB);
	if (number < 0 || number > MOST_POUNDS)
		return form_refuse_range(line, (struct range){ 0, MOST_POUNDS }, UNIT_LB, session, error);
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
		return error_set(error, STATUS_BAD_INPUT,
		                 "%s: type the month as it is stamped, 05/24, or a day like 2024-05-17",
		                 line->label);
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
	                .limit = CYLINDER_SIZE - 1, .which = LINE_NAME, .get = get_text,
	                .set = set_text },
	[LINE_REFRIGERANT] = { .label = "holds",
	                       .help = "one refrigerant a cylinder, never two; a flammable "
	                       "one in a cylinder made for it", .limit = NUMBER_LIMIT,
	                       .which = LINE_REFRIGERANT, .get = get_refrigerant,
	                       .set = set_refrigerant },
	[LINE_CAPACITY] = WEIGHT("water capacity", "WC, as stamped on the collar", LINE_CAPACITY),
	[LINE_TARE] = WEIGHT("tare", "TW, the empty weight as stamped on the collar", LINE_TARE),
	[LINE_WEIGHT] = WEIGHT("weight", "of the cylinder on the scale now", LINE_WEIGHT),
	[LINE_TESTED] = { .label = "tested",
	                  .help = "the last pressure test, as stamped: 05/24. It counts five years",
	                  .limit = NUMBER_LIMIT, .which = LINE_TESTED, .get = get_tested,
	                  .set = set_tested },
	[LINE_WENT] = { .label = "where the gas went", .help = "Back into this unit, to the reclaimer, "
	                "kept for the same owner", .short_texts = SHORT_OWN, .limit = LINE_SIZE - 1,
	                .which = LINE_WENT, .get = get_text, .set = set_text },
};

static const struct form_kind cylinder_kind = {
	.name = "cylinder", .home = FORM_HOME_LIST, .list = LIST_CYLINDERS,
	.lines = lines, .count = LINE_COUNT, .size = sizeof(struct cylinder), .keep = keep_cylinder,
};

/* A new cylinder is for what is in the unit. */
static void begin(const struct call *call, void *element)
{
	((struct cylinder *)element)->refrigerant = visit_choice(&call->visit, STAGE_AS_FOUND,
	                                                         READING_REFRIGERANT);
}

/* ---- Words ---- */

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
	char words[QUANTITIES_SIZE];
	double room;

	if (cylinder_room(cylinder, &room) != STATUS_OK) {
		text_add(text, "How much goes in: write refrigerant, WC, tare and weight. ");
		return;
	}
	text_add(text, "At most ");
	add_weight(session, cylinder->weight_lb + room, text);
	quantities_write(" on the scale: 80 % of the water capacity times the "
	                 "liquid's density at {77 F}. ",
	                 session_units(session), words, sizeof words);
	text_add(text, words);
	if (room < 0)
		text_add(text, "It is over full by ");
	add_weight(session, fabs(room), text);
	text_add(text, room < 0 ? ": take some out now. " : " more may go in. ");
}

/* What the two logs of the call have of it. */
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
	for (size_t i = 0; *cylinder->name && i < call->tightness_count; i++)
		if (text_equal_ignoring_case(call->tightness[i].cylinder, cylinder->name) &&
		    moved_is_weigh_in(call, &call->tightness[i]))
			out += call->tightness[i].amount.number;
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
	return row + canvas_wrap(workbook_canvas(workbook), area, row, 1, INK_CAUTION,
	                         "Its pressure test is more than five years old: do not "
	                         "fill it, have it tested.");
}

static void draw_words(struct workbook *workbook, const void *element, struct area area)
{
	const struct session *session = workbook_session(workbook);
	const struct cylinder *cylinder = element;
	int row = draw_warning(workbook, area, 0, cylinder);
	struct text text;

	text_init(&text);
	add_room(session, cylinder, &text);
	add_moved(session, cylinder, &text);
	canvas_wrap(workbook_canvas(workbook), area, row, 1, INK_MARGIN, text_get(&text));
	text_done(&text);
}

/* ---- The page ---- */

static const struct log_kind cylinders = {
	.form = &cylinder_kind, .title = "Cylinders", .last = "where the gas went", .foot = 6,
	.columns = {
		[LINE_NAME] = { .head = "cylinder", .width = 10 },
		[LINE_REFRIGERANT] = { .head = "holds", .width = 8 },
		[LINE_CAPACITY] = { "WC", 8, UNIT_LB }, [LINE_TARE] = { "tare", 8, UNIT_LB },
		[LINE_WEIGHT] = { "weight", 9, UNIT_LB },
		[LINE_TESTED] = { .head = "tested", .width = DAY_COLUMNS },
	},
	.caution = "Fill by weight, never past the limit: an over-full cylinder bursts when it warms. "
	           "Gloves and goggles.",
	.a_line = "cylinder",
	.begin = begin, .draw_words = draw_words,
};

static void enter(struct workbook *workbook, void *state)
{
	log_page_enter(workbook, &cylinders, state);
}

static enum request_place inner(struct workbook *workbook, void *state)
{
	return log_page_inner(workbook, &cylinders, state);
}

static void leave(struct workbook *workbook, void *state)
{
	log_page_leave(workbook, &cylinders, state);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	return log_page_press(workbook, &cylinders, state, request, key);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	log_page_draw(workbook, &cylinders, state, area);
}

const struct screen screen_cylinders = {
	.place = PLACE_LOG, .state_size = sizeof(struct log_page), .inner = inner,
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
