/*
 * The page of findings drawn: the lines, and of the chosen one what is careful,
 * what to do and why.
 */
#include "tui/findings_page.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/quantities.h>
#include <padside/base/text.h>
#include <padside/report/wording.h>

#include "tui/local.h"

enum { LIST_ROWS = 6, BAR_COLUMNS = 10, WIDE_COLUMNS = 120 };

static const unsigned level_inks[] = {
	[LEVEL_NOTE] = INK_FAINT, [LEVEL_WATCH] = INK_WATCH, [LEVEL_ACT] = INK_BAD,
};

static void draw_bar(struct canvas *canvas, struct area area, int row, int column, unsigned style,
                     double share)
{
	int filled = (int)(share * BAR_COLUMNS + 0.5);

	for (int i = 0; i < BAR_COLUMNS; i++)
		canvas_put(canvas, area, row, column + i, style, i < filled ? "█" : "·");
}

static void draw_finding(struct canvas *canvas, struct area area, int row, unsigned style,
                         const struct finding *finding, const struct judgement *judgement)
{
	const struct fault_info *info = fault_info(finding->fault);
	unsigned attributes = style & ~(unsigned)STYLE_INK;

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	/* What is measured is no guess and has no percentage. */
	if (finding->basis == BASIS_MEASURED) {
		canvas_put(canvas, area, row, 1, style, wording_basis(finding));
	/* No reading shows it: the technician alone says so. */
	} else if (finding->is_judged && finding->evidence_count == 0) {
		canvas_put(canvas, area, row, 1, style, "judged");
	} else {
		draw_bar(canvas, area, row, 1, style, finding->probability);
		canvas_format(canvas, area, row, 12, style, "%3.0f %%", 100 * finding->probability);
	}
	canvas_put(canvas, area, row, 19, level_inks[finding->level] | attributes,
	           level_key(finding->level));
	canvas_put(canvas, area, row, 26, style, info->label);
	if (judgement && finding->is_judged && finding->after_work == AFTER_WORK_GONE) {
		canvas_format(canvas, area, row, 64, INK_GOOD | attributes, "%s, gone",
		              findings_verdict(judgement->verdict));
		return;
	}
	if (judgement) {
		canvas_put(canvas, area, row, 64, (finding->is_judged ? INK_KEPT : INK_WATCH) | attributes,
		           finding->is_judged ? findings_verdict(judgement->verdict) : "say why");
		return;
	}
	/* "gone", "still there", "not tested again": what became of it after the work. */
	const char *after = wording_after_work(finding);
	if (*after && finding->level != LEVEL_NOTE) {
		canvas_format(canvas, area, row, 64,
		              (finding->after_work == AFTER_WORK_GONE ? INK_GOOD : INK_WATCH) | attributes,
		              "%.*s", (int)strcspn(after, ","), after);
		return;
	}
	if (finding->basis == BASIS_MEASURED)
		return;
	if (finding->probability_before < 0.01 && finding->probability >= 0.02)
		canvas_put(canvas, area, row, 64, INK_MARGIN | attributes, "new");
	else if (fabs(finding->probability_before - finding->probability) >= 0.01)
		canvas_format(canvas, area, row, 64, INK_MARGIN | attributes, "was %.0f %%",
		              100 * finding->probability_before);
}

/* What is noted was read: it has no percentage either. */
static void draw_noted(struct canvas *canvas, struct area area, int row, unsigned style,
                       const struct noted *noted)
{
	unsigned attributes = style & ~(unsigned)STYLE_INK;

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	canvas_put(canvas, area, row, 1, style, "noted");
	canvas_put(canvas, area, row, 19, level_inks[noted->level] | attributes,
	           level_key(noted->level));
	canvas_format(canvas, area, row, 26, style, "%s: %s", noted->label, noted->value);
}

static int draw_evidence(struct canvas *canvas, struct area area, int row,
                         const struct finding *finding, enum unit_system units)
{
	char words[WORDING_SIZE], line[WORDING_SIZE + 32];

	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		const char *side = wording_side(evidence->leans);
		canvas_format(canvas, area, row, 1, strcmp(side, "for") == 0 ? INK_STRONG : INK_FAINT,
		              "%-7s", side);
		wording_evidence(evidence, units, words, sizeof words);
		text_copy(line, sizeof line, words);
		if (strcmp(side, "neither") != 0)
			snprintf(line, sizeof line, "%s (%s)", words, wording_strength(evidence->leans));
		row += canvas_wrap(canvas, area, row, 10, INK_MARGIN, line);
	}
	return row;
}

static int draw_paragraph(struct canvas *canvas, struct area area, int row, unsigned style,
                          const char *head, const char *words)
{
	if (!*words || row >= area.rows)
		return row;
	canvas_put(canvas, area, row, 1, INK_STRONG, head);
	return row + canvas_wrap(canvas, area, row, 10, style, words);
}

static int draw_detail(struct canvas *canvas, struct area area, int row,
                       const struct findings_line *line, enum unit_system units)
{
	const struct finding *finding = line->finding;
	const char *caution = finding ? fault_info(finding->fault)->caution : line->noted.caution;
	char to_do[QUANTITIES_SIZE];

	if (finding)
		wording_to_do(finding, units, to_do, sizeof to_do);
	row = draw_paragraph(canvas, area, row, INK_CAUTION, "careful", caution);
	row = draw_paragraph(canvas, area, row, INK_PLAIN, "do", finding ? to_do : line->noted.office);
	return finding ? draw_evidence(canvas, area, row, finding, units) : row;
}

/* A mark where the page has no room for the rest. */
static void mark_cut(struct canvas *canvas, struct area area, int rows)
{
	if (rows > area.rows && area.rows > 0)
		canvas_put_right(canvas, area, area.rows - 1, area.columns - 2, 2, INK_KEY, " …");
}

/* "09:31", or with the day where that is another one than today. */
static void write_when(const struct session *session, wall_time at, char *out, size_t size)
{
	char hour[CLOCK_TEXT_SIZE], day[CLOCK_TEXT_SIZE], today[CLOCK_TEXT_SIZE];

	clock_format_hour(at, hour, sizeof hour);
	local_date(at, day, sizeof day);
	local_date(session_now(session), today, sizeof today);
	snprintf(out, size, "%s%s%s", strcmp(day, today) == 0 ? "" : day,
	         strcmp(day, today) == 0 ? "" : " ", hour);
}

/* "judged: confirmed 09:31, Ann Reyes", with the field while it is written. */
static int draw_judgement(struct workbook *workbook, struct findings *findings, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	struct form_place place;
	char when[2 * CLOCK_TEXT_SIZE], words[NAME_SIZE + 2 * CLOCK_TEXT_SIZE + 64];

	if (!findings_why(workbook, findings, &place))
		return 0;
	const struct judgement *judgement = place.element;
	write_when(workbook_session(workbook), judgement->at, when, sizeof when);
	const char *stands = findings_chosen(workbook, findings)->is_judged ? ""
	                   : *judgement->why ? "; too short: write 3 words why"
	                                     : "; it counts until you say why";
	snprintf(words, sizeof words, "%s %s, %s%s%s", findings_verdict(judgement->verdict), when,
	         *judgement->by ? "by " : "no technician named", judgement->by, stands);
	canvas_put(canvas, area, 0, 1, INK_STRONG, "judged");
	canvas_put(canvas, area, 0, 10, INK_KEPT, words);
	if (findings->on_why || *judgement->why || form_find_held(workbook, &place)) {
		canvas_put(canvas, area, 1, 1, findings->on_why ? INK_STRONG : INK_FAINT, "why");
		form_draw(workbook, &place, area, 1, 10, area.columns - 11, findings->on_why);
		return 2;
	}
	return 1;
}

static int draw_next_checks(struct canvas *canvas, struct area area, int row,
                            const struct diagnosis *diagnosis)
{
	char why[WORDING_SIZE];

	if (diagnosis->next_check_count == 0 || row >= area.rows)
		return row;
	canvas_put(canvas, area, row, 1, INK_TITLE, "Measure next");
	row++;
	for (int i = 0; i < diagnosis->next_check_count && row < area.rows; i++) {
		const struct next_check *check = &diagnosis->next_checks[i];
		const char *label = reading_info(check->reading)->label;
		int column = canvas_format(canvas, area, row, 1, INK_STRONG, "%d %s  ", i + 1, label);
		wording_next_check(check, why, sizeof why);
		if (canvas_width_of(canvas, why) > area.columns - column)
			row += 1 + canvas_wrap(canvas, area, row + 1, 3, INK_MARGIN, why);
		else
			canvas_put(canvas, area, row++, column, INK_MARGIN, why);
	}
	return row;
}

static int draw_contradictions(struct canvas *canvas, struct area area, int row,
                               const struct diagnosis *diagnosis, enum unit_system units)
{
	char words[WORDING_SIZE];

	for (int i = 0; i < diagnosis->contradiction_count && row < area.rows; i++) {
		wording_contradiction(&diagnosis->contradictions[i], units, words, sizeof words);
		row += canvas_wrap(canvas, area, row, 1, INK_WATCH, words);
	}
	return row;
}

static const char *no_finding(const struct diagnosis *diagnosis)
{
	return diagnosis_is_sound(diagnosis)
	       ? "No reading points to a fault."
	       : "Too few readings yet to find a fault or to call the unit sound.";
}

static void draw_line(struct workbook *workbook, struct area area, int row, unsigned style,
                      int index)
{
	struct canvas *canvas = workbook_canvas(workbook);
	struct findings_line line;

	findings_at(workbook, index, &line);
	if (line.finding)
		draw_finding(canvas, area, row, style, line.finding,
		             findings_judgement(workbook, line.finding->fault));
	else
		draw_noted(canvas, area, row, style, &line.noted);
}

static void draw_list(struct workbook *workbook, struct findings *findings, struct area area)
{
	const struct diagnosis *diagnosis = findings_shown(workbook);
	struct canvas *canvas = workbook_canvas(workbook);
	struct area lines = list_layout(&findings->list, canvas, area);

	for (int i = findings->list.top; i < list_end(&findings->list); i++) {
		workbook_hot(workbook, lines, i - findings->list.top, 0, lines.columns, i);
		draw_line(workbook, lines, i - findings->list.top,
		          list_style(&findings->list, i, INK_PLAIN), i);
	}
	if (findings_count(workbook) == 0)
		canvas_wrap(canvas, area, 0, 1, INK_FAINT, no_finding(diagnosis));
}

/* Which stage is shown, and what the other one has that is open. */
static void draw_heading(struct workbook *workbook, struct area area)
{
	enum stage stage = workbook_stage(workbook);
	enum stage other = stage == STAGE_AS_LEFT ? STAGE_AS_FOUND : STAGE_AS_LEFT;
	enum request turn = stage == STAGE_AS_LEFT ? REQUEST_FINDING_FOUND : REQUEST_FINDING_LEFT;
	struct canvas *canvas = workbook_canvas(workbook);
	int open = findings_open(workbook, other);
	int column = canvas_format(canvas, area, 0, 1, INK_TITLE, "Findings, %s", stage_words(stage));

	if (open > 0)
		canvas_format(canvas, area, 0, column + 3, INK_WATCH, "%s: %d open, %s shows %s",
		              stage_words(other), open, request_info(turn)->key, open == 1 ? "it" : "them");
}

void findings_draw(struct workbook *workbook, void *state, struct area area)
{
	struct findings *findings = state;
	struct canvas *canvas = workbook_canvas(workbook);
	const struct diagnosis *diagnosis = findings_shown(workbook);
	bool wide = area.columns >= WIDE_COLUMNS;
	int count = findings_count(workbook);

	list_set_count(&findings->list, count);
	draw_heading(workbook, area);
	int rows = count == 0 ? canvas_wrap_count(canvas, area.columns - 1, no_finding(diagnosis))
	         : count < LIST_ROWS || area.rows >= 30 ? count : LIST_ROWS;
	draw_list(workbook, findings, area_rows(area, 1, rows));
	int row = 1 + rows + 1;
	struct area below = area_rows(area, row, area.rows - row);
	/* What to measure next keeps a row of its own, whatever the finding says. */
	int kept = wide || diagnosis->next_check_count == 0 || below.rows < 6 ? 0 : 2;
	struct area left = wide ? area_columns(below, 0, below.columns * 3 / 5)
	                        : area_rows(below, 0, below.rows - kept);
	enum unit_system units = session_units(workbook_session(workbook));
	int used = draw_judgement(workbook, findings, left);
	if (count > 0) {
		struct findings_line line;
		findings_at(workbook, list_chosen(&findings->list), &line);
		used = draw_detail(canvas, left, used, &line, units);
	}
	mark_cut(canvas, left, used);
	used = used > left.rows ? left.rows : used;
	struct area right = wide ? area_columns(below, left.columns + 2,
	                                        below.columns - left.columns - 2)
	                         : below;
	used = draw_contradictions(canvas, right, wide ? 0 : used, diagnosis, units);
	draw_next_checks(canvas, right, used, diagnosis);
}
