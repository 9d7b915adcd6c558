/*
 * The margin: the program's arithmetic beside the technician's readings.
 *
 * A figure belongs to the step of the first reading it needs that is read on
 * the call; a reading with a fixed expected stretch is drawn like a figure.
 */
#include "tui/local.h"
#include "tui/margin.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>
#include <padside/calc/refrigerant.h>
#include <padside/base/text.h>
#include <padside/model/checklist.h>
#include <padside/app/trail_words.h>
#include <padside/report/wording.h>

#include "tui/requests.h"
#include "tui/ruler.h"

enum {
	WIDE_ROW = 70, ROOMY_ROW = 84, LABEL_COLUMNS = 24, VALUE_COLUMNS = 16, RULER_COLUMNS = 15,
	SHORT_RULER_COLUMNS = 12
};

/* One line of the margin: a value, and the stretch where it belongs. */
struct margin_line {
	const char *label;   /* what it is */
	char value[128];     /* as written, with plus/minus and unit */
	struct band band;    /* in the unit shown; stretch NAN when nothing is expected */
	int decimals;        /* of the band's words */
	const char *assumed; /* what the value takes for granted; "" nothing */
	const char *caution; /* what it leaves out; "" nothing */
};

/* ---- Which figures ---- */

static enum step step_of(const struct figure_info *info)
{
	enum step last = STEP_SYSTEM;

	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES && info->needs[i][j] != READING_NONE; j++) {
			const struct reading_info *reading = reading_info(info->needs[i][j]);
			if (reading->scope == SCOPE_CALL && reading->step > last)
				last = reading->step;
		}
	return last;
}

enum step margin_step(enum figure figure)
{
	return step_of(figure_info(figure));
}

void margin_scroll(struct margin_view *view, int direction)
{
	int by = view->shown > 1 ? view->shown - 1 : 1;
	int top = view->top + direction * by;

	view->top = top < 0 || top >= view->count ? direction < 0 ? 0 : view->top : top;
}

void margin_pin(struct margin_view *view)
{
	view->pinned = view->pinned != FIGURE_NONE ? FIGURE_NONE : view->first;
	view->top = 0;
}

/* Whether any reading of this call that the figure needs was taken. */
static bool is_begun(const struct visit *visit, enum stage stage, const struct figure_info *info)
{
	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES && info->needs[i][j] != READING_NONE; j++)
			if (reading_info(info->needs[i][j])->scope == SCOPE_CALL &&
			    visit_has(visit, stage, info->needs[i][j]))
				return true;
	return false;
}

/* ---- Lines ---- */

static void fill_band(struct margin_line *line, const struct expectation *expectation,
                      enum unit unit, enum unit shown, double value, double plus_minus)
{
	line->band = (struct band){
		.has_value = true, .value = unit_convert(value, unit, shown),
		.plus_minus = unit_convert_spread(plus_minus, unit, shown), .low = NAN, .high = NAN,
		.is_assumed = expectation->is_assumed,
	};
	if (expectation->known) {
		line->band.low = unit_convert(expectation->low, unit, shown);
		line->band.high = unit_convert(expectation->high, unit, shown);
	}
	band_fit(&line->band);
}

static void fill_figure(const struct session *session, enum stage stage, enum figure figure,
                        struct margin_line *line)
{
	const struct figure_info *info = figure_info(figure);
	const struct figure_set *set = session_figures(session, stage);
	const struct figure_value *value = &set->values[figure];
	enum unit_system units = session_units(session);
	enum unit shown = unit_shown(info->unit, units);
	struct expectation expectation = figure_expect(&session_call(session)->visit, stage, set,
	                                               figure);
	char number[64], spread[NUMBER_SIZE];

	if (info->is_word)
		expectation.known = false;
	line->label = figure_name(&session_call(session)->visit, stage, figure);
	line->assumed = figure_assumed(&session_call(session)->visit, stage, figure);
	line->caution = figure_caution(&session_call(session)->visit, stage, figure);
	line->decimals = unit_decimals_shown(info->decimals, info->unit, units);
	fill_band(line, &expectation, info->unit, shown, value->value, value->plus_minus);
	figure_format(figure, value->value, units, VALUE_FORM_SHEET, number, sizeof number);
	figure_format_spread(figure, value->plus_minus, units, spread, sizeof spread);
	bool exact = value->plus_minus == 0 || strspn(spread, "0.") == strlen(spread);
	snprintf(line->value, sizeof line->value, "%s%s%s%s%s", number, exact ? "" : " ±",
	         exact ? "" : spread, shown == UNIT_NONE ? "" : " ", unit_symbol(shown, false));
}

/* A reading with a fixed expected stretch; false for all others. */
static bool fill_reading(const struct session *session, enum stage stage, enum reading reading,
                         struct margin_line *line)
{
	const struct reading_info *info = reading_info(reading);
	const struct visit *visit = &session_call(session)->visit;
	enum unit_system units = session_units(session);
	struct expectation expectation = reading_expect(visit, stage, reading);
	double number;

	if (!expectation.known || visit_number(visit, stage, reading, &number) != STATUS_OK)
		return false;
	line->label = info->label;
	line->assumed = "";
	line->caution = "";
	line->decimals = unit_decimals_shown(info->decimals, info->unit, units);
	fill_band(line, &expectation, info->unit, unit_shown(info->unit, units), number,
	          reading_accuracy(reading, number));
	reading_format(reading, visit_value(visit, stage, reading), units, VALUE_FORM_WITH_UNIT,
	               line->value, sizeof line->value);
	return true;
}

/* Draws a line in one row, or in two where the area is narrow; returns the rows. */
static int draw_line(struct canvas *canvas, struct area area, int row,
                     const struct margin_line *line)
{
	bool wide = area.columns >= WIDE_ROW;
	int column = canvas_put_padded(canvas, area, row, 1, LABEL_COLUMNS, INK_MARGIN, line->label);

	if (*line->caution) {
		canvas_put(canvas, area, row, column, INK_STRONG, line->value);
		return 1 + canvas_wrap(canvas, area, row + 1, 3, INK_WATCH, line->caution);
	}
	if (wide) {
		/* A long value moves what stands behind it: it is never cut. */
		int end = canvas_put(canvas, area, row, column, INK_STRONG, line->value) + 1;
		end = end < column + VALUE_COLUMNS ? column + VALUE_COLUMNS : end;
		if (*line->assumed)
			canvas_format(canvas, area, row, end, INK_MARGIN, " %s assumed", line->assumed);
		if (!isnan(line->band.low))
			ruler_draw_with_words(canvas, area, row, end,
			                      area.columns < ROOMY_ROW ? SHORT_RULER_COLUMNS : RULER_COLUMNS,
			                      &line->band, line->decimals);
		return 1;
	}
	canvas_put(canvas, area, row, column, INK_STRONG, line->value);
	if (*line->assumed) {
		canvas_format(canvas, area, row + 1, 3, INK_MARGIN, "%s assumed", line->assumed);
		return 2;
	}
	if (isnan(line->band.low))
		return 1;
	ruler_draw_with_words(canvas, area, row + 1, 3, RULER_COLUMNS + 3, &line->band, line->decimals);
	return 2;
}

int margin_draw_figure(const struct session *session, struct canvas *canvas, struct area area,
                       int row, enum stage stage, enum figure figure)
{
	struct margin_line line;

	fill_figure(session, stage, figure, &line);
	return draw_line(canvas, area, row, &line);
}

/* Why a figure that was begun has no value: one line, or more on a narrow page. */
static int draw_gap(const struct session *session, struct canvas *canvas, struct area area, int row,
                    enum stage stage, enum figure figure)
{
	const struct figure_value *value = &session_figures(session, stage)->values[figure];
	bool missing = value->status == STATUS_MISSING || value->status == STATUS_NOT_APPLICABLE;
	char why[200];

	figure_explain(value, why, sizeof why);
	int column = canvas_put_padded(canvas, area, row, 1, LABEL_COLUMNS, INK_FAINT,
	                               figure_info(figure)->label);
	unsigned ink = missing ? INK_FAINT : INK_WATCH;
	if (column + 2 + canvas_width_of(canvas, why) > area.columns)
		return 1 + canvas_wrap(canvas, area, row + 1, 3, ink, why);
	/* A long label would run into it. */
	column = canvas_put(canvas, area, row, column, ink, "– ");
	canvas_put(canvas, area, row, column, ink, why);
	return 1;
}

static int draw_figure(const struct session *session, struct canvas *canvas, struct area area,
                       int row, enum stage stage, enum figure figure)
{
	if (session_figures(session, stage)->values[figure].status == STATUS_OK)
		return margin_draw_figure(session, canvas, area, row, stage, figure);
	return draw_gap(session, canvas, area, row, stage, figure);
}

/* ---- In which order ---- */

/* What the margin can show, the most telling first: lines are few at 24 rows. */
enum rank {
	RANK_PINNED,  /* stays on top */
	RANK_ACTIVE,  /* of this step, and worked out from the field under the cursor */
	RANK_OFF,     /* of this step, and not where it is expected */
	RANK_WITHIN,  /* of this step, and where it is expected */
	RANK_PLAIN,   /* of this step, nothing expected of it */
	RANK_ELSEWHERE, /* of another step, worked out from the field under the cursor */
	RANK_GAP,     /* begun, and something is missing */
	RANK_NOT      /* not here */
};

/* One figure or reading that is shown. */
struct ranked {
	enum figure figure;   /* FIGURE_NONE: a reading */
	enum reading reading; /* READING_NONE: a figure */
	enum rank rank;       /* lower stands higher */
};

enum { MOST_ENTRIES = FIGURE_COUNT + READING_COUNT };

static enum rank rank_verdict(enum band_verdict verdict)
{
	return verdict == BAND_UNKNOWN ? RANK_PLAIN : verdict == BAND_INSIDE ? RANK_WITHIN : RANK_OFF;
}

static enum rank rank_figure(const struct session *session, enum figure figure, enum step step,
                             enum stage stage, enum reading active)
{
	const struct visit *visit = &session_call(session)->visit;
	const struct figure_info *info = figure_info(figure);
	const struct figure_set *set = session_figures(session, stage);
	const struct figure_value *value = &set->values[figure];
	bool from_active = active != READING_NONE && reading_info(active)->scope == SCOPE_CALL &&
	                   figure_takes(figure, active);
	bool here = step_of(info) == step;

	/* How much to move is told by the advice on the charge, with its whole interval. */
	if (figure == FIGURE_CHARGE_TO_MOVE || !is_begun(visit, stage, info) || (!here && !from_active))
		return RANK_NOT;
	if (value->status != STATUS_OK)
		return here ? RANK_GAP : RANK_NOT;
	if (!here)
		return RANK_ELSEWHERE;
	struct expectation expectation = figure_expect(visit, stage, set, figure);
	return from_active ? RANK_ACTIVE
		: rank_verdict(expectation_judge(&expectation, value->value, value->plus_minus));
}

static enum rank rank_reading(const struct session *session, enum reading reading, enum step step,
                              enum stage stage, enum reading active)
{
	const struct visit *visit = &session_call(session)->visit;
	struct expectation expectation = reading_expect(visit, stage, reading);
	double number;

	if (reading_info(reading)->step != step || !expectation.known ||
	    visit_number(visit, stage, reading, &number) != STATUS_OK)
		return RANK_NOT;
	return reading == active ? RANK_ACTIVE
		: rank_verdict(expectation_judge(&expectation, number, reading_accuracy(reading, number)));
}

static int gather_entries(const struct session *session, enum step step, enum stage stage,
                          enum reading active, enum figure pinned, struct ranked *entries)
{
	int count = 0;

	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		enum rank rank = (enum figure)i == pinned ? RANK_PINNED
		               : rank_figure(session, (enum figure)i, step, stage, active);
		if (rank != RANK_NOT)
			entries[count++] = (struct ranked){ .figure = (enum figure)i, .rank = rank };
	}
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum rank rank = rank_reading(session, (enum reading)i, step, stage, active);
		if (rank != RANK_NOT)
			entries[count++] = (struct ranked){ .reading = (enum reading)i, .rank = rank };
	}
	return count;
}

/* Puts the entries into the order of their ranks; within a rank the order stays. */
static void sort_entries(struct ranked *entries, int count)
{
	for (int i = 1; i < count; i++) {
		struct ranked entry = entries[i];
		int at = i;
		for (; at > 0 && entries[at - 1].rank > entry.rank; at--)
			entries[at] = entries[at - 1];
		entries[at] = entry;
	}
}

static int draw_entry(const struct session *session, struct canvas *canvas, struct area area,
                      int row, enum stage stage, const struct ranked *entry)
{
	struct margin_line line;

	if (entry->reading == READING_NONE)
		return draw_figure(session, canvas, area, row, stage, entry->figure);
	return fill_reading(session, stage, entry->reading, &line) ? draw_line(canvas, area, row, &line)
	                                                           : 0;
}

/* Rows that an entry takes: a narrow one with a band takes two. */
static int rows_of(const struct session *session, struct canvas *canvas, struct area area,
                   enum stage stage, const struct ranked *entry)
{
	/* Drawn where nothing is seen: the drawing alone knows. */
	return draw_entry(session, canvas, area_rows(area, 0, 0), 0, stage, entry);
}

/* "3 more figures: Alt+. · back: Alt+,": what each key shows, where it shows anything. */
static void draw_more(struct canvas *canvas, struct area area, int row, int before, int behind)
{
	int column = 1;

	if (behind > 0)
		column = canvas_format(canvas, area, row, column, INK_FAINT, "%d more figure%s: %s%s",
		                       behind, behind == 1 ? "" : "s",
		                       request_info(REQUEST_FIGURES_ON)->key, before > 0 ? " · " : "");
	if (before > 0)
		canvas_format(canvas, area, row, column, INK_FAINT, "back: %s",
		              request_info(REQUEST_FIGURES_BACK)->key);
}

static int draw_entries(const struct session *session, struct canvas *canvas, struct area area,
                        int row, enum step step, enum stage stage, enum reading active,
                        struct margin_view *view)
{
	struct ranked entries[MOST_ENTRIES];
	int count = gather_entries(session, step, stage, active, view->pinned, entries);
	int i = view->top < count ? view->top : 0;

	sort_entries(entries, count);
	view->count = count;
	view->top = i;
	view->first = count > 0 ? entries[i].figure : FIGURE_NONE;
	/* The pinned one stays in sight while the others scroll. */
	if (i > 0 && entries[0].rank == RANK_PINNED && row < area.rows)
		row += draw_entry(session, canvas, area, row, stage, &entries[0]);
	int begun = i, needed = row;
	for (int k = i; k < count; k++)
		needed += rows_of(session, canvas, area, stage, &entries[k]);
	/* The keys that show more have a row of their own, which no figure is drawn over. */
	bool is_all = begun == 0 && needed <= area.rows;
	struct area body = is_all ? area : area_rows(area, 0, area.rows - 1);
	for (; i < count && row < body.rows; i++) {
		int rows = rows_of(session, canvas, area, stage, &entries[i]);
		if (row + rows > body.rows && i > begun)
			break;
		row += draw_entry(session, canvas, body, row, stage, &entries[i]);
	}
	row = row < body.rows ? row : body.rows;
	view->shown = i - begun;
	if (!is_all)
		draw_more(canvas, area, row, begun, count - i);
	return row + (i < count || begun > 0);
}

/* ---- What stands there besides figures ---- */

/* "2 questions: suction pressure as found, …": what was changed in two books. */
static int draw_questions(const struct session *session, struct canvas *canvas, struct area area,
                          int row)
{
	size_t count = session_question_count(session);
	char label[TRAIL_LABEL_SIZE];
	struct text words;

	if (count == 0)
		return row;
	text_init(&words);
	text_add_format(&words, "%zu question%s: ", count, count == 1 ? "" : "s");
	for (size_t i = 0; i < count && i < 2; i++) {
		const struct store_question *question = session_question_at(session, i);
		trail_words_field(question->what, question->field, label, sizeof label);
		text_add_format(&words, "%s%s", i ? ", " : "", label);
	}
	text_add_format(&words, "%s changed in two books. %s shows both values.", count > 2 ? " …" : "",
	                request_info(REQUEST_QUESTIONS)->key);
	row += canvas_wrap(canvas, area, row, 1, INK_QUESTION, text_get(&words));
	text_done(&words);
	return row;
}

static int draw_open_items(const struct session *session, struct canvas *canvas, struct area area,
                           int row)
{
	size_t count = session_open_items(session);
	char date[CLOCK_TEXT_SIZE], closed[CLOCK_TEXT_SIZE];
	char words[LINE_SIZE + 2 * CLOCK_TEXT_SIZE + 30];
	bool is_open = false;

	for (size_t i = 0; i < count && row < area.rows; i++) {
		const struct watch_item *item = session_open_item(session, i);
		local_date(item->noted_at, date, sizeof date);
		local_date(item->closed_at, closed, sizeof closed);
		is_open |= !*closed;
		snprintf(words, sizeof words, "watch, since %s%s%s: %s", date, *closed ? ", closed " : "",
		         closed, item->text);
		row += canvas_wrap(canvas, area, row, 1, INK_WATCH, words);
	}
	if (is_open && row < area.rows)
		canvas_format(canvas, area, row++, 1, INK_FAINT, "%s: the first one was dealt with",
		              request_info(REQUEST_WATCH_DONE)->key);
	return row;
}

/* How far the tune-up list is; where it is, on a call that sounds like one. */
static int draw_checklist(const struct session *session, struct canvas *canvas, struct area area,
                          int row)
{
	static const char *const words[] = { "check", "tune", "maintenance", "inspect" };
	const struct call *call = session_call(session);
	const char *key = request_info(REQUEST_CHECKLIST)->key;
	struct checklist list;
	bool sounds_so = false;

	if (checklist_of_call(call, &list)) {
		int missing = checklist_missing(&list, call);
		canvas_format(canvas, area, row, 1, missing > 0 ? INK_WATCH : INK_GOOD,
		              missing > 0 ? "%s: %d of %d missing. %s" : "%s: complete", list.name, missing,
		              list.count, key);
		return row + 1;
	}
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		sounds_so = sounds_so || text_contains_ignoring_case(call->complaint, words[i]);
	if (sounds_so)
		canvas_format(canvas, area, row, 1, INK_MARGIN, "%s: the tune-up list of this visit", key);
	return row + sounds_so;
}

static int draw_refrigerant(const struct session *session, struct canvas *canvas, struct area area,
                            int row)
{
	enum choice choice = visit_choice(&session_call(session)->visit, STAGE_AS_FOUND,
	                                  READING_REFRIGERANT);
	enum refrigerant refrigerant;

	if (choice == CHOICE_NONE || !refrigerant_from_name(choice_key(choice), &refrigerant))
		return row;
	canvas_format(canvas, area, row++, 1,
	              refrigerant_is_flammable(refrigerant) ? INK_CAUTION : INK_MARGIN,
	              "%s: %s, safety class %s%s", refrigerant_name(refrigerant),
	              refrigerant_composition(refrigerant),
	              safety_class_name(refrigerant_safety_class(refrigerant)),
	              refrigerant_is_flammable(refrigerant) ? ", flammable" : "");
	return row;
}

/* Minutes until the readings that were taken too early can be taken again; NAN: there are none. */
static double minutes_to_settle(const struct session *session, enum stage stage)
{
	const struct call *call = session_call(session);
	double most = NAN;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		double early = charging_minutes_early(call, stage, (enum reading)i);
		wall_time at = visit_value(&call->visit, stage, (enum reading)i)->taken_at;
		if (early > 0)
			most = fmax(most, early - (double)(session_now(session) - at) / 60);
	}
	return most;
}

/* Before the figures, which mean little then: they could push it out of sight. */
static int draw_unsettled(const struct session *session, struct canvas *canvas, struct area area,
                          int row, enum stage stage, bool *is_said)
{
	double minutes = minutes_to_settle(session, stage);
	struct charging charging;
	char words[WORDING_SIZE];

	session_charging(session, &charging);
	bool waits = charging.possible && charging.advice.verdict == CHARGE_WAIT &&
	             stage == session_stage(session);
	*is_said = waits || !isnan(minutes);
	if (!isnan(minutes) && minutes > 0)
		snprintf(words, sizeof words, "* not settled: read again in %.0f min", ceil(minutes));
	else if (!isnan(minutes))
		snprintf(words, sizeof words, "* was not settled: read again");
	else if (waits)
		wording_charging(&charging, session_units(session), words, sizeof words);
	return *is_said ? row + canvas_wrap(canvas, area, row, 1, INK_QUESTION, words) : row;
}

static int draw_charging(const struct session *session, struct canvas *canvas, struct area area,
                         int row)
{
	struct charging charging;
	char words[WORDING_SIZE];

	session_charging(session, &charging);
	if (!charging.possible || row >= area.rows)
		return row;
	wording_charging(&charging, session_units(session), words, sizeof words);
	return row + canvas_wrap(canvas, area, row, 1, INK_MARGIN, words);
}

/* "last visit, 2026-05-03: 45.1 µF" for the reading under the cursor. */
static int draw_last(const struct session *session, struct canvas *canvas, struct area area,
                     int row, enum reading active, const struct margin_last *last)
{
	char shown[STAGE_COUNT][VALUE_TEXT_SIZE + 16] = { "" }, date[CLOCK_TEXT_SIZE];
	const char *found = shown[STAGE_AS_FOUND], *left = shown[STAGE_AS_LEFT];

	/* What was made safe then says nothing of today. */
	if (!last->visit || active == READING_NONE || reading_info(active)->scope != SCOPE_CALL ||
	    reading_info(active)->step == STEP_SAFETY)
		return row;
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		reading_format(active, visit_value(last->visit, (enum stage)stage, active),
		               session_units(session), VALUE_FORM_WITH_UNIT, shown[stage],
		               sizeof shown[stage]);
	if (!*found && !*left)
		return row;
	local_date(last->at, date, sizeof date);
	canvas_format(canvas, area, row, 1, INK_STRONG, "last visit, %s: %s%s%s%s", date, found,
	              *found && *left ? ", " : "", *left ? "as left " : "", left);
	return row + 1;
}

/* Whether a watch item names the reading, or a figure that is worked out from it. */
static bool is_about(const struct watch_item *item, enum reading reading)
{
	if (text_contains_ignoring_case(item->text, reading_info(reading)->label))
		return true;
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT && reading_info(reading)->scope == SCOPE_CALL;
	     i++)
		if (figure_takes((enum figure)i, reading) &&
		    text_contains_ignoring_case(item->text, figure_info((enum figure)i)->label))
			return true;
	return false;
}

/* Open watch items that are about the reading under the cursor. */
static int draw_watched(const struct session *session, struct canvas *canvas, struct area area,
                        int row, enum reading active)
{
	for (size_t i = 0; active != READING_NONE && i < session_open_items(session); i++) {
		const struct watch_item *item = session_open_item(session, i);
		char words[LINE_SIZE + 16];
		if (!is_about(item, active))
			continue;
		snprintf(words, sizeof words, "watch: %s", item->text);
		row += canvas_wrap(canvas, area, row, 1, INK_WATCH, words);
	}
	return row;
}

void margin_draw(const struct session *session, struct canvas *canvas, struct area area,
                 enum step step, enum stage stage, enum reading active, struct margin_view *view,
                 const struct margin_last *last)
{
	bool is_unsettled = false;
	int row = 0;

	if (step == STEP_CALL) {
		row = draw_questions(session, canvas, area, row);
		row = draw_open_items(session, canvas, area, row);
		row = draw_checklist(session, canvas, area, row);
	} else
		row = draw_watched(session, canvas, area, row, active);
	if (step == STEP_REFRIGERANT)
		row = draw_unsettled(session, canvas, area, row, stage, &is_unsettled);
	row = draw_last(session, canvas, area, row, active, last);
	if (step == STEP_SYSTEM)
		row = draw_refrigerant(session, canvas, area, row);
	row = draw_entries(session, canvas, area, row, step, stage, active, view);
	if (step == STEP_REFRIGERANT && !is_unsettled)
		row = draw_charging(session, canvas, area, row);
	if (row == 0)
		canvas_put(canvas, area, 0, 1, INK_FAINT, "What the readings mean will stand here.");
}
