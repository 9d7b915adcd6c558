/*
 * The lines around the steps of a call: title, route, so far.
 */
#include "tui/frame.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/power.h>
#include <padside/model/tightness.h>

static const struct {
	const char *mark; /* before the step's name */
	unsigned style;   /* of both */
} marks[] = {
	[PROGRESS_UNTOUCHED] = { "·", INK_FAINT },
	[PROGRESS_BEGUN] = { "~", INK_PLAIN },
	[PROGRESS_COMPLETE] = { "✓", INK_GOOD },
};

/* Adds " · word" or "word". */
static void add_part(struct text *text, const char *word)
{
	if (*word)
		text_add_format(text, "%s%s", text->length ? " · " : "", word);
}

static void describe_machine(const struct visit *visit, enum unit_system units, struct text *text)
{
	static const enum reading parts[] = {
		READING_NOMINAL_CAPACITY, READING_REFRIGERANT, READING_METERING,
	};
	char shown[VALUE_TEXT_SIZE];

	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		reading_format(parts[i], visit_value(visit, STAGE_AS_FOUND, parts[i]), units,
		               VALUE_FORM_WITH_UNIT, shown, sizeof shown);
		add_part(text, shown);
	}
}

int frame_draw_title(const struct session *session, struct canvas *canvas, struct area area)
{
	const struct call *call = session_call(session);
	char safe[64] = "", hour[CLOCK_TEXT_SIZE];
	struct text title;

	text_init(&title);
	add_part(&title, call->customer.name[0] ? call->customer.name : "new customer");
	add_part(&title, call->site.address);
	describe_machine(&call->visit, session_units(session), &title);
	struct power power = power_of_call(call);
	bool made_safe = power.state == POWER_STATE_SAFE;
	clock_format_hour(power.since, hour, sizeof hour);
	snprintf(safe, sizeof safe, " %s%s%s ", power_words(call, &power), *hour ? " " : "", hour);
	int width = canvas_width_of(canvas, safe);
	canvas_fill(canvas, area, INK_TITLE | STYLE_REVERSE, ' ');
	canvas_put(canvas, area_columns(area, 0, area.columns - width - 1), 0, 1,
	           INK_TITLE | STYLE_REVERSE, text_get(&title));
	canvas_put(canvas, area, 0, area.columns - width,
	           made_safe ? INK_GOOD | STYLE_REVERSE : INK_CAUTION | STYLE_REVERSE, safe);
	text_done(&title);
	return area.columns - width;
}

enum { ROOMY_ROUTE = 108, SHORT_PAGE = 24, ROUTE_TURN = 6, ROUTE_COLUMNS = 13 };

int frame_route_rows(int rows, int columns)
{
	return columns >= ROOMY_ROUTE || rows < SHORT_PAGE ? 1 : 2;
}

/* "F2" for the first step, then "3", "4": the row has no room for every F. */
static const char *step_key(int step, bool is_short)
{
	const char *key = workbook_step_key((enum step)step);

	return is_short && step > 0 && key[0] == 'F' ? key + 1 : key;
}

static int draw_step(const struct session *session, struct canvas *canvas, struct area area,
                     int row, int column, int i, enum step step, bool named)
{
	enum progress progress = session_progress(session, (enum step)i);
	unsigned mark = i == (int)step ? STYLE_REVERSE : 0;

	column = canvas_put(canvas, area, row, column, INK_KEY, step_key(i, !named));
	column = canvas_put(canvas, area, row, column, marks[progress].style | mark,
	                    marks[progress].mark);
	return named ? canvas_put(canvas, area, row, column, marks[progress].style | mark,
	                          step_info((enum step)i)->brief) : column;
}

void frame_draw_route(const struct session *session, struct canvas *canvas, struct area area,
                      enum step step, struct workbook *clicked)
{
	int column = 0;

	for (int i = 0; i < STEP_COUNT; i++) {
		bool is_short = area.columns < ROOMY_ROUTE && area.rows < 2;
		int row = area.rows > 1 ? i / ROUTE_TURN : 0;
		if (area.rows > 1)
			column = i % ROUTE_TURN * ROUTE_COLUMNS;
		int begin = column;
		column = draw_step(session, canvas, area, row, column, i, step,
		                   !is_short || i == (int)step) + 1;
		workbook_hot(clicked, area, row, begin, column - 1 - begin, -1 - i);
	}
}

/* ---- Keys ---- */

/* Where the next key goes on the rows of keys. */
struct key_line {
	struct canvas *canvas; /* drawn on */
	struct area area;      /* the rows */
	int row, column;       /* the next cell */
};

static bool put_key(struct key_line *line, enum request request)
{
	const struct request_info *info = request_info(request);
	struct text keys;

	text_init(&keys);
	request_add_keys(request, false, " ", &keys);
	int width = canvas_width_of(line->canvas, text_get(&keys)) + 1 +
	            canvas_width_of(line->canvas, info->word);
	if (line->column > 1 && line->column + width > line->area.columns) {
		line->row++;
		line->column = 1;
	}
	bool fits = line->row < line->area.rows;
	if (fits) {
		int column = canvas_put(line->canvas, line->area, line->row, line->column, INK_KEY,
		                        text_get(&keys));
		canvas_put(line->canvas, line->area, line->row, column + 1, INK_FAINT, info->word);
		line->column += width + 2;
	}
	text_done(&keys);
	return fits;
}

/* The ways out of every page: they stand before what a call has besides, which may be cut. */
static const enum request ways_out[] = { REQUEST_GO, REQUEST_QUIT };

static bool is_way_out(int request)
{
	return request == REQUEST_HELP || request == (int)ways_out[0] || request == (int)ways_out[1];
}

/* Whether the place that stands first has the row's key for itself. */
static bool is_taken(enum request request, enum request_place first)
{
	enum request taken = request_from_key(first, request_key(request));

	return taken != REQUEST_NONE && taken != REQUEST_TYPE && taken != request;
}

/* The keys of a place that work where one is: a place may take a key for itself. */
static bool put_keys_of(struct key_line *line, enum request_place place, enum request_place here,
                        enum request_place first)
{
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++)
		if (request_info((enum request)i)->place == place && *request_info((enum request)i)->word &&
		    !is_way_out(i) && request_works((enum request)i, here) &&
		    !is_taken((enum request)i, first) && !put_key(line, (enum request)i))
			return false;
	return true;
}

void frame_draw_keys(struct canvas *canvas, struct area area, enum request_place first,
                     enum request_place place, bool on_call)
{
	struct key_line line = { .canvas = canvas, .area = area, .column = 1 };
	bool has_room = put_key(&line, REQUEST_HELP);

	for (enum request_place at = first; at < PLACE_COUNT && has_room;
	     at = request_place_around(at)) {
		has_room = put_keys_of(&line, at, first, PLACE_COUNT);
		/* What is typed goes into the text: the keys of a resting field wait. */
		has_room = has_room && at != PLACE_WRITING;
	}
	for (enum request_place at = place; at < PLACE_COUNT && has_room;
	     at = request_place_around(at)) {
		if (at == PLACE_CALL)
			has_room = put_key(&line, ways_out[0]) && put_key(&line, ways_out[1]);
		/* In the book nothing leads back to it. */
		if (has_room && (at == PLACE_ANY ? place != PLACE_BOOK : at != PLACE_CALL || on_call))
			has_room = put_keys_of(&line, at, place, first);
	}
}

/* ---- So far ---- */

/* A test that did not hold; returns how many. */
static int add_tests(const struct session *session, struct text *text)
{
	struct tightness_told tightness;

	tightness_work_out(session_call(session), &tightness);
	bool leaks = tightness.nitrogen == NITROGEN_LEAKING;
	bool rose = tightness_vacuum_did_not_hold(&tightness);
	if (leaks)
		text_add(text, "pressure test NOT held");
	if (rose)
		text_add_format(text, "%svacuum NOT held", leaks ? ", " : "");
	return leaks + rose;
}

/* "noted: oil, board fault code": where nothing else is to be said. */
static int add_noted(const struct session *session, int most, struct text *text)
{
	struct noted noted;
	int shown = 0;

	for (int i = 0; i < NOTED_ROWS && shown < most; i++)
		if (session_noted(session, i, &noted))
			text_add_format(text, "%s%s", shown++ ? ", " : "noted: ", noted.label);
	return shown;
}

/* "run capacitor failed 94 %": at most so many of the leading findings. */
static void add_suspicions(const struct session *session, int most, struct text *text)
{
	const struct diagnosis *diagnosis = session_diagnosis(session, session_stage(session));
	int shown = add_tests(session, text);

	for (int i = 0; i < diagnosis->finding_count && shown < most; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		/* What is unlikely is no suspicion. */
		if (!finding->is_judged &&
		    (finding->level == LEVEL_NOTE || (i > 0 && finding->probability < 0.3)))
			continue;
		if (finding->is_judged && finding->verdict == JUDGEMENT_RULED_OUT)
			continue;
		text_add_format(text, "%s%s", shown ? ", " : "", fault_info(finding->fault)->label);
		if (!finding->is_judged && finding->basis == BASIS_INFERRED)
			text_add_format(text, " %.0f %%", 100 * finding->probability);
		shown++;
	}
	if (diagnosis->contradiction_count > 0)
		text_add_format(text, "%sreadings contradict each other", shown ? "; " : "");
	else if (diagnosis->unexplained > 0.5)
		text_add(text, shown ? "; the other readings fit no one fault"
		                     : "cannot tell: the readings fit no one fault");
	else if (shown == 0 && add_noted(session, most, text) == 0)
		text_add(text, diagnosis_is_sound(diagnosis) ? "no fault found"
		                                             : "too little is known yet");
}

void frame_draw_so_far(const struct session *session, struct canvas *canvas, struct area area)
{
	enum stage stage = session_stage(session);
	const struct diagnosis *diagnosis = session_diagnosis(session, stage);
	const char *head = stage == STAGE_AS_LEFT ? "as left: " : "so far: ";
	struct text text, next;

	text_init(&text);
	text_init(&next);
	add_suspicions(session, 2, &text);
	if (diagnosis->next_check_count > 0)
		text_add_format(&next, " · measure next: %s",
		                reading_info(diagnosis->next_checks[0].reading)->label);
	/* What to read next is worth more than a second suspicion. */
	if (canvas_width_of(canvas, head) + canvas_width_of(canvas, text_get(&text)) +
	    canvas_width_of(canvas, text_get(&next)) >= area.columns) {
		text_clear(&text);
		add_suspicions(session, 1, &text);
	}
	canvas_fill(canvas, area, INK_PLAIN | STYLE_REVERSE, ' ');
	int column = canvas_put(canvas, area, 0, 1, INK_PLAIN | STYLE_REVERSE, head);
	column = canvas_put(canvas, area, 0, column, INK_STRONG | STYLE_REVERSE, text_get(&text));
	canvas_put(canvas, area, 0, column, INK_PLAIN | STYLE_REVERSE, text_get(&next));
	text_done(&text);
	text_done(&next);
}
