/*
 * Findings: what is wrong, most probable first, why, and what to measure next.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/report/wording.h>

#include "tui/list.h"
#include "tui/workbook.h"

enum { LIST_ROWS = 6, BAR_COLUMNS = 10, WIDE_COLUMNS = 120 };

struct findings {
	struct list list; /* of the findings of the stage */
};

static const unsigned level_inks[] = {
	[LEVEL_NOTE] = INK_FAINT, [LEVEL_WATCH] = INK_WATCH, [LEVEL_ACT] = INK_BAD,
};

static const struct diagnosis *shown(struct workbook *workbook)
{
	return session_diagnosis(workbook_session(workbook), workbook_stage(workbook));
}

static void enter(struct workbook *workbook, void *state)
{
	struct findings *findings = state;

	if (findings->list.rows == 0)
		list_init(&findings->list, false);
	workbook_set_stage(workbook, session_stage(workbook_session(workbook)));
	list_set_count(&findings->list, shown(workbook)->finding_count);
}

/* ---- Keys ---- */

/* Notes a finding as something to look at next time. */
static void watch(struct workbook *workbook, const struct finding *finding)
{
	struct session *session = workbook_session(workbook);
	const struct fault_info *info = fault_info(finding->fault);
	struct watch_item item = { .noted_at = session_now(session), .closed_at = WALL_TIME_NONE };
	char why[WORDING_SIZE] = "";
	struct text words;
	struct error error;

	if (finding->evidence_count > 0)
		wording_evidence(&finding->evidence[0], session_units(session), why, sizeof why);
	text_copy(item.fault, sizeof item.fault, info->key);
	text_init(&words);
	text_add_format(&words, "%s%s%s", info->label, *why ? "; " : "", why);
	text_copy(item.text, sizeof item.text, text_get(&words));
	text_done(&words);
	if (session_put_watch(session, &item, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	else
		workbook_say(workbook, INK_KEPT, "noted for the next visit: %s", info->label);
}

static void show_stage(struct workbook *workbook, struct findings *findings, enum stage stage)
{
	workbook_set_stage(workbook, stage);
	list_set_count(&findings->list, shown(workbook)->finding_count);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct findings *findings = state;
	const struct diagnosis *diagnosis = shown(workbook);
	int chosen = list_chosen(&findings->list);

	(void)key;
	switch (request) {
	case REQUEST_FINDING_FOUND:
		show_stage(workbook, findings, STAGE_AS_FOUND);
		return true;
	case REQUEST_FINDING_LEFT:
		show_stage(workbook, findings, STAGE_AS_LEFT);
		return true;
	case REQUEST_FINDING_UP:
		list_choose(&findings->list, chosen - 1);
		return true;
	case REQUEST_FINDING_DOWN:
		list_choose(&findings->list, chosen + 1);
		return true;
	case REQUEST_FINDING_FIRST:
		list_choose(&findings->list, 0);
		return true;
	case REQUEST_FINDING_LAST:
		list_choose(&findings->list, diagnosis->finding_count - 1);
		return true;
	case REQUEST_FINDING_WATCH:
		if (chosen >= 0)
			watch(workbook, &diagnosis->findings[chosen]);
		return true;
	default:
		return false;
	}
}

/* ---- Drawing ---- */

static void draw_bar(struct canvas *canvas, struct area area, int row, int column, unsigned style,
                     double share)
{
	int filled = (int)(share * BAR_COLUMNS + 0.5);

	for (int i = 0; i < BAR_COLUMNS; i++)
		canvas_put(canvas, area, row, column + i, style, i < filled ? "█" : "·");
}

static void draw_finding(struct canvas *canvas, struct area area, int row, unsigned style,
                         const struct finding *finding)
{
	const struct fault_info *info = fault_info(finding->fault);
	unsigned attributes = style & ~(unsigned)STYLE_INK;

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	draw_bar(canvas, area, row, 1, style, finding->probability);
	canvas_format(canvas, area, row, 12, style, "%3.0f %%", 100 * finding->probability);
	canvas_put(canvas, area, row, 19, level_inks[finding->level] | attributes,
	           level_key(finding->level));
	canvas_put(canvas, area, row, 26, style, info->label);
	if (finding->probability_before < 0.01 && finding->probability >= 0.02)
		canvas_put(canvas, area, row, 64, INK_MARGIN | attributes, "new");
	else if (fabs(finding->probability_before - finding->probability) >= 0.01)
		canvas_format(canvas, area, row, 64, INK_MARGIN | attributes, "was %.0f %%",
		              100 * finding->probability_before);
}

static int draw_evidence(struct canvas *canvas, struct area area, int row,
                         const struct finding *finding, enum unit_system units)
{
	char words[WORDING_SIZE], line[WORDING_SIZE + 32];

	for (int i = 0; i < finding->evidence_count && row < area.rows; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		canvas_put(canvas, area, row, 1, evidence->leans >= 0 ? INK_STRONG : INK_FAINT,
		           evidence->leans >= 0 ? "for    " : "against");
		wording_evidence(evidence, units, words, sizeof words);
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

static int draw_detail(struct canvas *canvas, struct area area, const struct finding *finding,
                       enum unit_system units)
{
	const struct fault_info *info = fault_info(finding->fault);
	int row = draw_evidence(canvas, area, 0, finding, units);

	row = draw_paragraph(canvas, area, row, INK_PLAIN, "do", info->advice);
	return draw_paragraph(canvas, area, row, INK_CAUTION, "careful", info->caution);
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

static void draw_list(struct workbook *workbook, struct findings *findings, struct area area)
{
	const struct diagnosis *diagnosis = shown(workbook);
	struct canvas *canvas = workbook_canvas(workbook);
	struct area lines = list_layout(&findings->list, canvas, area);

	for (int i = findings->list.top; i < list_end(&findings->list); i++)
		draw_finding(canvas, lines, i - findings->list.top,
		             list_style(&findings->list, i, INK_PLAIN), &diagnosis->findings[i]);
	if (diagnosis->finding_count == 0)
		canvas_put(canvas, area, 0, 1, INK_FAINT, diagnosis->healthy > 0.8
		           ? "Nothing that was read points to a fault."
		           : "Too little was read to say anything yet.");
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct findings *findings = state;
	struct canvas *canvas = workbook_canvas(workbook);
	const struct diagnosis *diagnosis = shown(workbook);
	bool wide = area.columns >= WIDE_COLUMNS;
	int count = diagnosis->finding_count;

	list_set_count(&findings->list, count);
	canvas_format(canvas, area, 0, 1, INK_TITLE, "Findings, %s",
	              workbook_stage(workbook) == STAGE_AS_FOUND ? "as found" : "as left");
	int rows = count < LIST_ROWS || area.rows >= 30 ? count : LIST_ROWS;
	draw_list(workbook, findings, area_rows(area, 1, rows > 0 ? rows : 1));
	int row = 1 + (rows > 0 ? rows : 1) + 1;
	struct area below = area_rows(area, row, area.rows - row);
	struct area left = wide ? area_columns(below, 0, below.columns * 3 / 5) : below;
	enum unit_system units = session_units(workbook_session(workbook));
	int used = count > 0 ? draw_detail(canvas, left, &diagnosis->findings[list_chosen(&findings->list)],
	                                   units) : 0;
	struct area right = wide ? area_columns(below, left.columns + 2, below.columns - left.columns - 2)
	                         : below;
	used = draw_contradictions(canvas, right, wide ? 0 : used, diagnosis, units);
	draw_next_checks(canvas, right, used, diagnosis);
}

const struct screen screen_findings = {
	.place = PLACE_FINDINGS, .state_size = sizeof(struct findings),
	.enter = enter, .draw = draw, .press = press,
};
