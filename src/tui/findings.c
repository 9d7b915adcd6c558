/*
 * Findings: what is wrong, most probable first, why, and what to measure next.
 */
#include "tui/findings_page.h"

#include <string.h>

#include <padside/base/text.h>
#include <padside/report/wording.h>

/* What was left, unless only what was found is still open. */
static enum stage stage_of_open(struct workbook *workbook)
{
	enum stage newest = session_stage(workbook_session(workbook));
	enum stage other = newest == STAGE_AS_LEFT ? STAGE_AS_FOUND : STAGE_AS_LEFT;

	return findings_open(workbook, newest) == 0 && findings_open(workbook, other) > 0 ? other
	                                                                                  : newest;
}

static void enter(struct workbook *workbook, void *state)
{
	struct findings *findings = state;

	if (findings->list.rows == 0)
		list_init(&findings->list, false);
	workbook_set_stage(workbook, stage_of_open(workbook));
	list_set_count(&findings->list, findings_count(workbook));
}

/* ---- Keys ---- */

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
	const struct judgement *before = findings_judgement(workbook, finding->fault);
	struct judgement judgement;

	call_element_init(LIST_JUDGEMENTS, &judgement);
	if (before)
		judgement = *before;
	/* The reason for one verdict is none for another. */
	judgement.why[0] = '\0';
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

/* What is judged goes to another place of the list; the cursor goes along. */
static void follow_finding(struct workbook *workbook, struct findings *findings, enum fault fault)
{
	int count = findings_count(workbook);
	struct findings_line line;

	list_set_count(&findings->list, count);
	for (int i = 0; i < count; i++) {
		findings_at(workbook, i, &line);
		if (line.finding && line.finding->fault == fault)
			list_choose(&findings->list, i);
	}
}

/* Under the cursor is no finding. */
static void say_nothing_to_judge(struct workbook *workbook, const struct findings *findings)
{
	struct findings_line line;

	if (list_chosen(&findings->list) < 0) {
		workbook_say(workbook, INK_REFUSED, "There is no finding here to judge. %s goes to the "
		             "next reading", request_info(REQUEST_NEXT_CHECK)->key);
		return;
	}
	findings_at(workbook, list_chosen(&findings->list), &line);
	workbook_say(workbook, INK_REFUSED,
	             "%s is noted, not a finding: there is nothing to confirm or to rule out",
	             line.noted.label);
}

/*
 * Says what was judged.  What keeps the unit off is ruled out by a reason
 * alone: it is asked for at once.
 */
static void say_judged(struct workbook *workbook, struct findings *findings,
                       const struct finding *finding, enum judgement_verdict verdict)
{
	const char *label = fault_info(finding->fault)->label;

	if (verdict == JUDGEMENT_RULED_OUT && finding_stays_off(finding)) {
		findings->on_why = true;
		workbook_say(workbook, INK_WATCH,
		             "%s: ruled out once you write why, in three words or more", label);
		return;
	}
	workbook_say(workbook, INK_KEPT, "%s: %s by you. %s writes why.", label,
	             findings_verdict(verdict), request_info(REQUEST_FINDING_WHY)->key);
}

/* The same verdict again takes it back. */
static void judge(struct workbook *workbook, struct findings *findings,
                  enum judgement_verdict verdict)
{
	const struct finding *finding = findings_chosen(workbook, findings);
	struct error error;

	if (!finding) {
		say_nothing_to_judge(workbook, findings);
		return;
	}
	/* The findings are worked out anew behind the change. */
	const struct finding judged = *finding;
	const char *label = fault_info(judged.fault)->label;
	const struct judgement *before = findings_judgement(workbook, judged.fault);
	bool is_same = before && before->verdict == verdict;
	if (!is_same && verdict == JUDGEMENT_WATCH && finding_stays_off(&judged)) {
		workbook_say(workbook, INK_REFUSED, "%s: watching is not enough: the unit stays off",
		             label);
		return;
	}
	enum status status = is_same ? take_back(workbook, before, &error)
	                             : put_judgement(workbook, &judged, verdict, &error);
	follow_finding(workbook, findings, judged.fault);
	if (status != STATUS_OK)
		workbook_refuse(workbook, &error);
	else if (is_same)
		workbook_say(workbook, INK_KEPT, "%s: judgement taken back", label);
	else
		say_judged(workbook, findings, &judged, verdict);
}

/* ---- Why ---- */

static void open_why(struct workbook *workbook, struct findings *findings)
{
	struct form_place place;

	findings->on_why = findings_why(workbook, findings, &place);
	if (!findings_chosen(workbook, findings))
		say_nothing_to_judge(workbook, findings);
	else if (!findings->on_why)
		workbook_say(workbook, INK_REFUSED,
		             "judge the finding first: %s confirms it, %s rules it out, %s watches it",
		             request_info(REQUEST_FINDING_CONFIRM)->key,
		             request_info(REQUEST_FINDING_RULE_OUT)->key,
		             request_info(REQUEST_FINDING_WATCH)->key);
}

/* Keys while the grounds are written. */
static bool press_why(struct workbook *workbook, struct findings *findings, enum request request,
                      struct key key)
{
	struct form_place place;

	if (!findings_why(workbook, findings, &place)) {
		findings->on_why = false;
		return false;
	}
	enum form_answer answer = form_press(workbook, &place, request, key);
	if (answer == FORM_NEXT || answer == FORM_IGNORED)
		findings->on_why = !form_keep(workbook, &place);
	return answer != FORM_IGNORED;
}

static void leave(struct workbook *workbook, void *state)
{
	struct findings *findings = state;
	struct form_place place;

	if (findings->on_why && findings_why(workbook, findings, &place))
		form_keep(workbook, &place);
	findings->on_why = false;
}

static void show_stage(struct workbook *workbook, struct findings *findings, enum stage stage)
{
	workbook_set_stage(workbook, stage);
	list_set_count(&findings->list, findings_count(workbook));
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct findings *findings = state;
	int chosen = list_chosen(&findings->list);

	if (findings->on_why) {
		if (press_why(workbook, findings, request, key))
			return true;
		/* Out of the field the key is the page's. */
		request = request_from_key(PLACE_FINDINGS, key);
	}
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
		list_choose(&findings->list, findings_count(workbook) - 1);
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

/* On the page the letters are commands; in the field of the reason they are written. */
static enum request_place where(const void *state)
{
	return ((const struct findings *)state)->on_why ? PLACE_FIELD : PLACE_FINDINGS;
}

static enum request_place inner(struct workbook *workbook, void *state)
{
	struct findings *findings = state;
	struct form_place place;

	return findings->on_why && findings_why(workbook, findings, &place)
	       ? form_where(workbook, &place) : PLACE_COUNT;
}

static void click(struct workbook *workbook, void *state, int which)
{
	struct findings *findings = state;

	leave(workbook, state);
	list_choose(&findings->list, which);
}

const struct screen screen_findings = {
	.place = PLACE_FINDINGS, .state_size = sizeof(struct findings), .where = where, .inner = inner,
	.enter = enter, .draw = findings_draw, .press = press, .leave = leave, .click = click,
};
