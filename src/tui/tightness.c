/*
 * The tightness log: nitrogen pressure over time, vacuum over time, refrigerant
 * weighed in.  The last line is always empty: writing in it makes a new one.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/tightness.h>

#include "tui/form.h"
#include "tui/list.h"

enum { NUMBER_LIMIT = 24 };

enum {
	LINE_KIND, LINE_AT, LINE_PRESSURE, LINE_TEMPERATURE, LINE_MICRONS, LINE_AMOUNT, LINE_NOTE,
	LINE_COUNT
};

struct tightness_page {
	int row, column;              /* under the cursor; the row behind the last is a new one */
	int top;                      /* the first row in sight */
	struct tightness_entry blank; /* what the new one begins as, with its uid */
	struct uid call;              /* whose page that is */
};

/* ---- Lines ---- */

static void get_kind(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	(void)session;
	text_copy(out, size, line->words[((const struct tightness_entry *)element)->kind]);
}

static enum status set_kind(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	(void)session;
	if (status == STATUS_OK)
		((struct tightness_entry *)element)->kind = (enum tightness_kind)word;
	return status;
}

static void get_at(const struct form_line *line, const void *element, struct session *session,
                   char *out, size_t size)
{
	(void)line, (void)session;
	form_write_time(((const struct tightness_entry *)element)->at, out, size);
}

static enum status set_at(const struct form_line *line, void *element, const char *typed,
                          struct session *session, struct error *error)
{
	return form_read_time(line, typed, session_now(session), &((struct tightness_entry *)element)->at,
	                      error);
}

/* What each measured line holds, in which unit, and how far it can be. */
static const struct measure {
	size_t offset;
	enum unit unit;
	int decimals;
	double low, high;
} measures[LINE_COUNT] = {
	[LINE_PRESSURE] = { offsetof(struct tightness_entry, pressure), UNIT_PSIG, 1, -14.7, 1000 },
	[LINE_TEMPERATURE] = { offsetof(struct tightness_entry, temperature), UNIT_F, 1, -60, 200 },
	[LINE_MICRONS] = { offsetof(struct tightness_entry, microns), UNIT_NONE, 0, 0, 800000 },
	[LINE_AMOUNT] = { offsetof(struct tightness_entry, amount), UNIT_OZ, 1, 0, 3000 },
};

static void get_measured(const struct form_line *line, const void *element,
                         struct session *session, char *out, size_t size)
{
	const struct measure *measure = &measures[line->which];
	struct value value;

	memcpy(&value, (const char *)element + measure->offset, sizeof value);
	out[0] = '\0';
	if (value.state == VALUE_TAKEN)
		form_write_measure(value.number, measure->unit, measure->decimals, session, out, size);
}

static enum status set_measured(const struct form_line *line, void *element, const char *typed,
                                struct session *session, struct error *error)
{
	const struct measure *measure = &measures[line->which];
	struct value value = { .state = VALUE_NOT_TAKEN, .taken_at = WALL_TIME_NONE };
	double number = 0;

	if (*typed && !form_read_measure(typed, measure->unit, session, &number))
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type a number like 150 or 480", line->label);
	if (*typed && (number < measure->low || number > measure->high))
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: %.0f to %.0f %s is possible", line->label,
		                 measure->low, measure->high, unit_symbol(measure->unit, false));
	if (*typed) {
		value.state = VALUE_TAKEN;
		value.number = number;
		value.taken_at = session_now(session);
	}
	memcpy((char *)element + measure->offset, &value, sizeof value);
	return STATUS_OK;
}

static void get_note(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	(void)line, (void)session;
	text_copy(out, size, ((const struct tightness_entry *)element)->note);
}

static enum status set_note(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	(void)session;
	return form_read_text(line, typed, ((struct tightness_entry *)element)->note, LINE_SIZE, error);
}

/* An entry without a time is of now. */
static enum status keep_entry(struct session *session, const void *element, void *context,
                              struct error *error)
{
	struct tightness_entry entry = *(const struct tightness_entry *)element;

	(void)context;
	if (entry.at == WALL_TIME_NONE)
		entry.at = session_now(session);
	return session_put(session, LIST_TIGHTNESS, &entry, error);
}

#define MEASURED(label_, help_, line) \
	{ .label = label_, .help = help_, .limit = NUMBER_LIMIT, .is_number = true, .which = line, \
	  .get = get_measured, .set = set_measured }

static const struct form_line lines[LINE_COUNT] = {
	[LINE_KIND] = { .label = "what", .help = "nitrogen test, vacuum, or charge weighed in.",
	                .words = { "nitrogen", "vacuum", "weigh-in" }, .limit = NUMBER_LIMIT,
	                .which = LINE_KIND, .get = get_kind, .set = set_kind },
	[LINE_AT] = { .label = "time", .help = "10:35, or now; the first thing typed in a line sets it to now",
	              .limit = NUMBER_LIMIT, .which = LINE_AT, .get = get_at, .set = set_at },
	[LINE_PRESSURE] = MEASURED("pressure", "dry nitrogen through a regulator, never above the low-side "
	                           "test pressure of the nameplate", LINE_PRESSURE),
	[LINE_TEMPERATURE] = MEASURED("temperature", "of the gas: at the pipe, or outdoors; pressure is "
	                              "corrected for it", LINE_TEMPERATURE),
	[LINE_MICRONS] = MEASURED("microns", "by an electronic gauge at the system, pump valved off",
	                          LINE_MICRONS),
	[LINE_AMOUNT] = MEASURED("weighed in", "by the scale", LINE_AMOUNT),
	[LINE_NOTE] = { .label = "note", .help = "what was done in between", .is_prose = true,
	                .limit = LINE_SIZE - 1, .which = LINE_NOTE, .get = get_note, .set = set_note },
};

static const struct form_kind entry_kind = {
	.name = "tightness", .home = FORM_HOME_LIST, .list = LIST_TIGHTNESS,
	.lines = lines, .count = LINE_COUNT, .size = sizeof(struct tightness_entry), .keep = keep_entry,
};

/* ---- Where one is ---- */

static const struct call *call_of(struct workbook *workbook)
{
	return session_call(workbook_session(workbook));
}

static int rows_of(struct workbook *workbook)
{
	return (int)call_of(workbook)->tightness_count + 1;
}

static struct form_place place_at(struct workbook *workbook, const struct tightness_page *page,
                                  int row, int column)
{
	const struct call *call = call_of(workbook);
	bool is_fresh = row >= (int)call->tightness_count;
	const struct tightness_entry *entry = is_fresh ? &page->blank : &call->tightness[row];

	return (struct form_place){ .kind = &entry_kind, .element = entry, .uid = &entry->uid,
	                            .is_fresh = is_fresh, .line = column };
}

static void hold(struct workbook *workbook, struct tightness_page *page)
{
	if (page->row >= rows_of(workbook))
		page->row = rows_of(workbook) - 1;
}

/* The kind goes on from line to line: pressure after pressure, vacuum after vacuum. */
static void renew_blank(struct workbook *workbook, struct tightness_page *page)
{
	const struct call *call = call_of(workbook);

	call_element_init(LIST_TIGHTNESS, &page->blank);
	page->blank.uid = uid_new();
	if (call->tightness_count > 0)
		page->blank.kind = call->tightness[call->tightness_count - 1].kind;
}

/* The log is in time order: the cursor follows the entry that was written in. */
static void follow(struct workbook *workbook, struct tightness_page *page, const struct uid *uid)
{
	const struct call *call = call_of(workbook);
	size_t at = call_list_find(call, LIST_TIGHTNESS, uid);

	if (at < call->tightness_count)
		page->row = (int)at;
	if (call_list_find(call, LIST_TIGHTNESS, &page->blank.uid) < call->tightness_count)
		renew_blank(workbook, page);
}

static void enter(struct workbook *workbook, void *state)
{
	struct tightness_page *page = state;

	renew_blank(workbook, page);
	if (strcmp(page->call.text, call_of(workbook)->uid.text) != 0) {
		page->call = call_of(workbook)->uid;
		page->row = rows_of(workbook) - 1;
		page->column = LINE_KIND;
	}
	hold(workbook, page);
}

/* ---- Keys ---- */

static bool keep(struct workbook *workbook, struct tightness_page *page)
{
	struct form_place place = place_at(workbook, page, page->row, page->column);
	struct uid uid = *place.uid;
	bool is_kept = form_keep(workbook, &place);

	follow(workbook, page, &uid);
	return is_kept;
}

static void leave(struct workbook *workbook, void *state)
{
	hold(workbook, state);
	keep(workbook, state);
}

static void move(struct workbook *workbook, struct tightness_page *page, int rows, int columns)
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
static void go_on(struct workbook *workbook, struct tightness_page *page)
{
	if (page->column + 1 < LINE_COUNT) {
		page->column++;
		return;
	}
	page->column = LINE_KIND;
	page->row = rows_of(workbook) - 1;
}

static void take_out(struct workbook *workbook, struct tightness_page *page)
{
	struct error error;

	if (page->row >= rows_of(workbook) - 1)
		return;
	if (session_remove(workbook_session(workbook), LIST_TIGHTNESS, (size_t)page->row, &error) ==
	    STATUS_OK)
		workbook_say(workbook, INK_KEPT, "the line was taken out; Ctrl+/ brings it back");
	else
		workbook_refuse(workbook, &error);
}

static bool press_page(struct workbook *workbook, struct tightness_page *page, enum request request)
{
	switch (request) {
	case REQUEST_TIGHT_UP:
		move(workbook, page, -1, 0);
		return true;
	case REQUEST_TIGHT_DOWN:
		move(workbook, page, 1, 0);
		return true;
	case REQUEST_TIGHT_LEFT:
		move(workbook, page, 0, -1);
		return true;
	case REQUEST_TIGHT_RIGHT:
		move(workbook, page, 0, 1);
		return true;
	case REQUEST_TIGHT_NEW:
		if (keep(workbook, page)) {
			page->row = rows_of(workbook) - 1;
			page->column = LINE_KIND;
		}
		return true;
	case REQUEST_TIGHT_OUT:
		take_out(workbook, page);
		return true;
	case REQUEST_TIGHT_BACK:
		workbook_go_back(workbook);
		return true;
	default:
		return false;
	}
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct tightness_page *page = state;

	hold(workbook, page);
	struct form_place place = place_at(workbook, page, page->row, page->column);
	struct uid uid = *place.uid;
	enum form_answer answer = form_press(workbook, &place, request, key);
	if (answer != FORM_IGNORED && !form_is_writing(workbook))
		follow(workbook, page, &uid);
	if (answer == FORM_NEXT)
		go_on(workbook, page);
	return answer != FORM_IGNORED || press_page(workbook, page, request);
}

/* ---- Drawing ---- */

static const struct {
	const char *head; /* above the column */
	int width;        /* of it; the note has a line of its own */
} columns[] = {
	[LINE_KIND] = { "what", 9 }, [LINE_AT] = { "time", 6 }, [LINE_PRESSURE] = { "pressure", 9 },
	[LINE_TEMPERATURE] = { "temp.", 7 }, [LINE_MICRONS] = { "microns", 8 },
	[LINE_AMOUNT] = { "weighed in", 10 },
};
enum { DRAWN = sizeof columns / sizeof *columns };

static void draw_row(struct workbook *workbook, struct tightness_page *page, struct area area, int at,
                     int row)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int column = 1;

	canvas_put(canvas, area, at, 0, row < rows_of(workbook) - 1 ? INK_KEPT : INK_FAINT,
	           row < rows_of(workbook) - 1 ? "✓" : "+");
	for (int i = 0; i < DRAWN; i++) {
		struct form_place place = place_at(workbook, page, row, i);
		form_draw(workbook, &place, area, at, column, columns[i].width,
		          row == page->row && i == page->column);
		column += columns[i].width + 1;
	}
	if (row < rows_of(workbook) - 1)
		canvas_put(canvas, area, at, column + 1, INK_FAINT, call_of(workbook)->tightness[row].note);
}

/* "fell 0.8 psi in 20 min, corrected for temperature". */
static void add_nitrogen(const struct session *session, const struct tightness *tightness,
                         struct text *text)
{
	enum unit shown = unit_shown(UNIT_PSIG, session_units(session));
	double by = unit_convert_spread(fabs(tightness->lost_psi), UNIT_PSIG, shown);

	text_add_format(text, "Nitrogen: %s %.1f %s in %d min%s. ", tightness->lost_psi >= 0 ? "down" : "up",
	                by, shown == UNIT_PSIG ? "psi" : unit_symbol(shown, false),
	                tightness->nitrogen_minutes,
	                tightness->is_corrected ? ", corrected for temperature"
	                : "; write both temperatures, the pressure follows them");
}

static const char *const vacuum_words[] = {
	[VACUUM_NONE] = "", [VACUUM_WAITING] = "Read again 15 min after the lowest reading, pump valved off.",
	[VACUUM_HELD] = "It held: at or below 500 microns.",
	[VACUUM_MOIST] = "The rise levels off: moisture. Break with dry nitrogen and pump again.",
	[VACUUM_LEAKING] = "The rise is steady: a leak. Find it before charging.",
	[VACUUM_UNCLEAR] = ("It rose above 500 microns. Read again: a steady rise is a leak; levelling off "
	                    "is moisture."),
};

static void draw_words(struct workbook *workbook, struct area area)
{
	const struct session *session = workbook_session(workbook);
	struct tightness tightness;
	struct text text;

	text_init(&text);
	tightness_work_out(session_call(session), &tightness);
	if (tightness.has_nitrogen)
		add_nitrogen(session, &tightness, &text);
	if (tightness.vacuum != VACUUM_NONE)
		text_add_format(&text, "Vacuum: lowest %.0f microns, %.0f after %d min. %s", tightness.lowest,
		                tightness.newest, tightness.vacuum_minutes, vacuum_words[tightness.vacuum]);
	canvas_wrap(workbook_canvas(workbook), area, 0, 1, INK_MARGIN, text_get(&text));
	text_done(&text);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct tightness_page *page = state;
	struct canvas *canvas = workbook_canvas(workbook);
	enum { HEAD_ROWS = 4, FOOT_ROWS = 5 };
	int room = area.rows - HEAD_ROWS - FOOT_ROWS, column = 1;

	hold(workbook, page);
	canvas_put(canvas, area, 0, 1, INK_TITLE, "Tightness and vacuum");
	canvas_wrap(canvas, area_rows(area, 1, 2), 0, 1, INK_CAUTION, "Dry nitrogen through a regulator only, "
	            "never oxygen or air. No power and no insulation test on a compressor in vacuum.");
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
	struct form_place note = place_at(workbook, page, page->row, LINE_NOTE);
	canvas_put(canvas, area, area.rows - FOOT_ROWS, 1, INK_FAINT, "note");
	form_draw(workbook, &note, area, area.rows - FOOT_ROWS, 7, area.columns - 8,
	          page->column == LINE_NOTE);
	draw_words(workbook, area_rows(area, area.rows - FOOT_ROWS + 1, FOOT_ROWS - 1));
}

const struct screen screen_tightness = {
	.place = PLACE_TIGHTNESS, .state_size = sizeof(struct tightness_page),
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
