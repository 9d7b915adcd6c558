/*
 * Findings: what is wrong, most probable first, why, and what to measure next.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/report/wording.h>

#include "tui/form.h"
#include "tui/list.h"
#include "tui/local.h"

enum { LIST_ROWS = 6, BAR_COLUMNS = 10, WIDE_COLUMNS = 120 };

struct findings {
	struct list list; /* of the findings of the stage */
	bool on_why;      /* the grounds of a judgement are written */
};

static const unsigned level_inks[] = {
	[LEVEL_NOTE] = INK_FAINT, [LEVEL_WATCH] = INK_WATCH, [LEVEL_ACT] = INK_BAD,
};

static const struct diagnosis *shown(struct workbook *workbook)
{
	return session_diagnosis(workbook_session(workbook), workbook_stage(workbook));
}

/* Findings of a stage that still ask for something: as found those that the work did not clear. */
static int count_open(struct workbook *workbook, enum stage stage)
{
	const struct diagnosis *diagnosis = session_diagnosis(workbook_session(workbook), stage);
	int count = 0;

	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		bool is_out = finding->is_judged && finding->verdict == JUDGEMENT_RULED_OUT;
		count += finding->level != LEVEL_NOTE && !is_out && finding->after_work != AFTER_WORK_GONE;
	}
	return count;
}

/* What was left, unless only what was found is still open. */
static enum stage stage_of_open(struct workbook *workbook)
{
	enum stage newest = session_stage(workbook_session(workbook));
	enum stage other = newest == STAGE_AS_LEFT ? STAGE_AS_FOUND : STAGE_AS_LEFT;

	return count_open(workbook, newest) == 0 && count_open(workbook, other) > 0 ? other : newest;
}

static void enter(struct workbook *workbook, void *state)
{
	struct findings *findings = state;

	if (findings->list.rows == 0)
		list_init(&findings->list, false);
	workbook_set_stage(workbook, stage_of_open(workbook));
	list_set_count(&findings->list, shown(workbook)->finding_count);
}

/* ---- Keys ---- */

/* What the technician decided about a fault on this call; NULL: nothing. */
static const struct judgement *find_judgement(struct workbook *workbook, enum fault fault)
{
	const struct call *call = session_call(workbook_session(workbook));

	for (size_t i = 0; i < call_list_count(call, LIST_JUDGEMENTS); i++) {
		const struct judgement *judgement = call_list_at(call, LIST_JUDGEMENTS, i);
		if (strcmp(judgement->fault, fault_info(fault)->key) == 0)
			return judgement;
	}
	return NULL;
}

/* The watch item of a fault that this call noted; the count when there is none. */
static size_t find_watch(const struct call *call, const char *fault)
{
	size_t i = 0;

	while (i < call->watch_count && strcmp(call->watch[i].fault, fault) != 0)
		i++;
	return i;
}

/* What is watched stands on the next visit's page: one item a fault, however often it is noted. */
static enum status note_watch(struct workbook *workbook, const struct finding *finding,
                              struct error *error)
{
	struct session *session = workbook_session(workbook);
	const struct fault_info *info = fault_info(finding->fault);
	struct watch_item item = { .noted_at = session_now(session), .closed_at = WALL_TIME_NONE };
	char why[WORDING_SIZE] = "";
	struct text words;

	if (find_watch(session_call(session), info->key) < session_call(session)->watch_count)
		return STATUS_OK;
	if (finding->evidence_count > 0)
		wording_evidence(&finding->evidence[0], session_units(session), why, sizeof why);
	text_copy(item.fault, sizeof item.fault, info->key);
	text_init(&words);
	text_add_format(&words, "%s%s%s", info->label, *why ? "; " : "", why);
	text_copy(item.text, sizeof item.text, text_get(&words));
	text_done(&words);
	return session_put_watch(session, &item, error);
}

static enum status drop_watch(struct workbook *workbook, const char *fault, struct error *error)
{
	struct session *session = workbook_session(workbook);
	size_t at = find_watch(session_call(session), fault);

	return at < session_call(session)->watch_count ? session_remove_watch(session, at, error)
	                                               : STATUS_OK;
}

static enum status take_back(struct workbook *workbook, const struct judgement *judgement,
                             struct error *error)
{
	struct session *session = workbook_session(workbook);
	struct judgement gone = *judgement;
	size_t at = call_list_find(session_call(session), LIST_JUDGEMENTS, &gone.uid);

	enum status status = session_remove(session, LIST_JUDGEMENTS, at, error);
	return status == STATUS_OK && gone.verdict == JUDGEMENT_WATCH
	       ? drop_watch(workbook, gone.fault, error) : status;
}

static enum status put_judgement(struct workbook *workbook, const struct finding *finding,
                                 enum judgement_verdict verdict, struct error *error)
{
	struct session *session = workbook_session(workbook);
	const struct judgement *before = find_judgement(workbook, finding->fault);
	struct judgement judgement;

	call_element_init(LIST_JUDGEMENTS, &judgement);
	if (before)
		judgement = *before;
	bool was_watched = before && before->verdict == JUDGEMENT_WATCH;
	text_copy(judgement.fault, sizeof judgement.fault, fault_info(finding->fault)->key);
	session_technician(session, judgement.by, sizeof judgement.by);
	judgement.verdict = verdict;
	judgement.at = session_now(session);
	enum status status = session_put(session, LIST_JUDGEMENTS, &judgement, error);
	if (status == STATUS_OK && verdict == JUDGEMENT_WATCH)
		status = note_watch(workbook, finding, error);
	else if (status == STATUS_OK && was_watched)
		status = drop_watch(workbook, judgement.fault, error);
	return status;
}

static const char *const verdict_words[JUDGEMENT_VERDICT_COUNT] = {
	[JUDGEMENT_CONFIRMED] = "confirmed", [JUDGEMENT_RULED_OUT] = "ruled out",
	[JUDGEMENT_WATCH] = "watched",
};

/* What is judged goes to another place of the list; the cursor goes along. */
static void follow_finding(struct workbook *workbook, struct findings *findings, enum fault fault)
{
	const struct diagnosis *diagnosis = shown(workbook);

	list_set_count(&findings->list, diagnosis->finding_count);
	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			list_choose(&findings->list, i);
}

/* The same verdict again takes it back. */
static void judge(struct workbook *workbook, struct findings *findings,
                  enum judgement_verdict verdict)
{
	const struct diagnosis *diagnosis = shown(workbook);
	int chosen = list_chosen(&findings->list);
	struct error error;

	if (chosen < 0) {
		workbook_say(workbook, INK_REFUSED, "there is no finding to judge yet");
		return;
	}
	const struct finding *finding = &diagnosis->findings[chosen];
	enum fault fault = finding->fault;
	const char *label = fault_info(fault)->label;
	const struct judgement *before = find_judgement(workbook, fault);
	bool is_same = before && before->verdict == verdict;
	enum status status = is_same ? take_back(workbook, before, &error)
	                             : put_judgement(workbook, finding, verdict, &error);
	follow_finding(workbook, findings, fault);
	if (status != STATUS_OK)
		workbook_refuse(workbook, &error);
	else if (is_same)
		workbook_say(workbook, INK_KEPT, "%s: judgement taken back", label);
	else
		workbook_say(workbook, INK_KEPT, "%s: %s by you. Enter writes why.", label,
		             verdict_words[verdict]);
}

/* ---- Why ---- */

static void get_why(const struct form_line *line, const void *element, struct session *session,
                    char *out, size_t size)
{
	(void)line, (void)session;
	text_copy(out, size, ((const struct judgement *)element)->why);
}

static enum status set_why(const struct form_line *line, void *element, const char *typed,
                           struct session *session, struct error *error)
{
	(void)session;
	return form_read_text(line, typed, ((struct judgement *)element)->why, LINE_SIZE, error);
}

static enum status keep_why(struct session *session, const void *element, void *context,
                            struct error *error)
{
	(void)context;
	return session_put(session, LIST_JUDGEMENTS, element, error);
}

static const struct form_line why_lines[] = {
	{ .label = "why", .help = "what you saw or measured", .limit = LINE_SIZE - 1, .short_texts = SHORT_OWN,
	  .get = get_why, .set = set_why },
};

static const struct form_kind why_kind = {
	.name = "judgement", .home = FORM_HOME_LIST, .list = LIST_JUDGEMENTS,
	.lines = why_lines, .count = 1, .size = sizeof(struct judgement), .keep = keep_why,
};

/* The field for the grounds of the judgement under the cursor; false where none was given. */
static bool why_place(struct workbook *workbook, const struct findings *findings,
                      struct form_place *place)
{
	int chosen = list_chosen(&findings->list);
	const struct judgement *judgement = chosen < 0 ? NULL
		: find_judgement(workbook, shown(workbook)->findings[chosen].fault);

	if (!judgement)
		return false;
	*place = (struct form_place){ .kind = &why_kind, .element = judgement, .uid = &judgement->uid };
	return true;
}

static void open_why(struct workbook *workbook, struct findings *findings)
{
	struct form_place place;

	findings->on_why = why_place(workbook, findings, &place);
	if (!findings->on_why && shown(workbook)->finding_count == 0)
		workbook_say(workbook, INK_REFUSED, "There is no finding to judge here. Ctrl+R goes to the reading "
		             "that would tell most");
	else if (!findings->on_why)
		workbook_say(workbook, INK_REFUSED, "judge the finding first: c confirms it, x rules it out, w "
		             "watches it");
}

/* Keys while the grounds are written. */
static bool press_why(struct workbook *workbook, struct findings *findings, enum request request,
                      struct key key)
{
	struct form_place place;

	if (!why_place(workbook, findings, &place)) {
		findings->on_why = false;
		return false;
	}
	/* On the page the letters are commands; in the field they are written. */
	if (key.press == PRESS_CHARACTER)
		request = REQUEST_TYPE;
	else if (request == REQUEST_FINDING_WHY)
		request = REQUEST_FIELD_NEXT;
	enum form_answer answer = form_press(workbook, &place, request, key);
	if (answer == FORM_NEXT || answer == FORM_IGNORED)
		findings->on_why = !form_keep(workbook, &place);
	return answer != FORM_IGNORED;
}

static void leave(struct workbook *workbook, void *state)
{
	struct findings *findings = state;
	struct form_place place;

	if (findings->on_why && why_place(workbook, findings, &place))
		form_keep(workbook, &place);
	findings->on_why = false;
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

	if (findings->on_why && press_why(workbook, findings, request, key))
		return true;
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
	case REQUEST_FINDING_CONFIRM:
		judge(workbook, findings, JUDGEMENT_CONFIRMED);
		return true;
	case REQUEST_FINDING_RULE_OUT:
		judge(workbook, findings, JUDGEMENT_RULED_OUT);
		return true;
	case REQUEST_FINDING_WATCH:
		judge(workbook, findings, JUDGEMENT_WATCH);
		return true;
	case REQUEST_FINDING_WHY:
		open_why(workbook, findings);
		return true;
	case REQUEST_FINDING_PREDICTED:
		workbook_go(workbook, SCREEN_PREDICTIONS);
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
                         const struct finding *finding, const struct judgement *judgement)
{
	const struct fault_info *info = fault_info(finding->fault);
	unsigned attributes = style & ~(unsigned)STYLE_INK;

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	/* What is measured is no guess and has no percentage. */
	if (finding->basis == BASIS_MEASURED) {
		canvas_put(canvas, area, row, 1, style, "measured");
	} else {
		draw_bar(canvas, area, row, 1, style, finding->probability);
		canvas_format(canvas, area, row, 12, style, "%3.0f %%", 100 * finding->probability);
	}
	canvas_put(canvas, area, row, 19, level_inks[finding->level] | attributes,
	           level_key(finding->level));
	canvas_put(canvas, area, row, 26, style, info->label);
	if (judgement) {
		canvas_put(canvas, area, row, 64, INK_KEPT | attributes, verdict_words[judgement->verdict]);
		return;
	}
	/* "gone", "still there", "not tested again": what became of it after the work. */
	const char *after = wording_after_work(finding->after_work);
	if (*after && finding->level != LEVEL_NOTE) {
		canvas_format(canvas, area, row, 64, (finding->after_work == AFTER_WORK_GONE ? INK_GOOD : INK_WATCH) |
		              attributes, "%.*s", (int)strcspn(after, ","), after);
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

static int draw_evidence(struct canvas *canvas, struct area area, int row,
                         const struct finding *finding, enum unit_system units)
{
	char words[WORDING_SIZE], line[WORDING_SIZE + 32];

	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		const char *side = wording_side(evidence->leans);
		canvas_format(canvas, area, row, 1, strcmp(side, "for") == 0 ? INK_STRONG : INK_FAINT, "%-7s",
		              side);
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
                       const struct finding *finding, enum unit_system units)
{
	const struct fault_info *info = fault_info(finding->fault);

	row = draw_paragraph(canvas, area, row, INK_CAUTION, "careful", info->caution);
	row = draw_paragraph(canvas, area, row, INK_PLAIN, "do", wording_to_do(finding));
	return draw_evidence(canvas, area, row, finding, units);
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

	if (!why_place(workbook, findings, &place))
		return 0;
	const struct judgement *judgement = place.element;
	write_when(workbook_session(workbook), judgement->at, when, sizeof when);
	snprintf(words, sizeof words, "%s %s, %s%s", verdict_words[judgement->verdict], when,
	         *judgement->by ? "by " : "no technician named", judgement->by);
	canvas_put(canvas, area, 0, 1, INK_STRONG, "judged");
	canvas_put(canvas, area, 0, 10, INK_KEPT, words);
	if (findings->on_why || *judgement->why || *form_mark(workbook, &place, false)) {
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
	       ? "Nothing that was read points to a fault."
	       : "Too little was read yet to find a fault, or to call the unit sound.";
}

static void draw_list(struct workbook *workbook, struct findings *findings, struct area area)
{
	const struct diagnosis *diagnosis = shown(workbook);
	struct canvas *canvas = workbook_canvas(workbook);
	struct area lines = list_layout(&findings->list, canvas, area);

	for (int i = findings->list.top; i < list_end(&findings->list); i++) {
		workbook_hot(workbook, lines, i - findings->list.top, 0, lines.columns, i);
		draw_finding(canvas, lines, i - findings->list.top,
		             list_style(&findings->list, i, INK_PLAIN), &diagnosis->findings[i],
		             find_judgement(workbook, diagnosis->findings[i].fault));
	}
	if (diagnosis->finding_count == 0)
		canvas_wrap(canvas, area, 0, 1, INK_FAINT, no_finding(diagnosis));
}

/* Which stage is shown, and what the other one has that is open. */
static void draw_heading(struct workbook *workbook, struct area area)
{
	enum stage stage = workbook_stage(workbook);
	enum stage other = stage == STAGE_AS_LEFT ? STAGE_AS_FOUND : STAGE_AS_LEFT;
	enum request turn = stage == STAGE_AS_LEFT ? REQUEST_FINDING_FOUND : REQUEST_FINDING_LEFT;
	struct canvas *canvas = workbook_canvas(workbook);
	int open = count_open(workbook, other);
	int column = canvas_format(canvas, area, 0, 1, INK_TITLE, "Findings, %s", stage_words(stage));

	if (open > 0)
		canvas_format(canvas, area, 0, column + 3, INK_WATCH, "%s: %d open, %s shows %s",
		              stage_words(other), open, request_info(turn)->key, open == 1 ? "it" : "them");
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct findings *findings = state;
	struct canvas *canvas = workbook_canvas(workbook);
	const struct diagnosis *diagnosis = shown(workbook);
	bool wide = area.columns >= WIDE_COLUMNS;
	int count = diagnosis->finding_count;

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
	if (count > 0)
		used = draw_detail(canvas, left, used, &diagnosis->findings[list_chosen(&findings->list)], units);
	mark_cut(canvas, left, used);
	used = used > left.rows ? left.rows : used;
	struct area right = wide ? area_columns(below, left.columns + 2, below.columns - left.columns - 2)
	                         : below;
	used = draw_contradictions(canvas, right, wide ? 0 : used, diagnosis, units);
	draw_next_checks(canvas, right, used, diagnosis);
}

static void click(struct workbook *workbook, void *state, int which)
{
	struct findings *findings = state;

	leave(workbook, state);
	list_choose(&findings->list, which);
}

const struct screen screen_findings = {
	.place = PLACE_FINDINGS, .state_size = sizeof(struct findings),
	.enter = enter, .draw = draw, .press = press, .leave = leave, .click = click,
};
