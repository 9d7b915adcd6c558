/*
 * The lines of the page of findings: what asks for something first, then what
 * is noted beside the findings, then what is less likely; and what the technician
 * says of a finding.
 */
#include "tui/findings_page.h"

#include <string.h>

#include <padside/base/text.h>

const struct diagnosis *findings_shown(struct workbook *workbook)
{
	return session_diagnosis(workbook_session(workbook), workbook_stage(workbook));
}

static int count_noted(struct workbook *workbook)
{
	struct noted noted;
	int count = 0;

	for (int i = 0; i < NOTED_ROWS; i++)
		count += session_noted(workbook_session(workbook), i, &noted);
	return count;
}

/* Behind the last finding that asks for something. */
static int first_noted(const struct diagnosis *diagnosis)
{
	int first = diagnosis->finding_count;

	while (first > 0 && diagnosis->findings[first - 1].level == LEVEL_NOTE)
		first--;
	return first;
}

int findings_count(struct workbook *workbook)
{
	return findings_shown(workbook)->finding_count + count_noted(workbook);
}

/* The noted row that stands `index` rows behind the first. */
static void find_noted(struct workbook *workbook, int index, struct noted *noted)
{
	for (int i = 0; i < NOTED_ROWS; i++)
		if (session_noted(workbook_session(workbook), i, noted) && index-- == 0)
			return;
}

void findings_at(struct workbook *workbook, int index, struct findings_line *line)
{
	const struct diagnosis *diagnosis = findings_shown(workbook);
	int first = first_noted(diagnosis), behind = first + count_noted(workbook);

	line->finding = NULL;
	if (index < first)
		line->finding = &diagnosis->findings[index];
	else if (index >= behind)
		line->finding = &diagnosis->findings[index - (behind - first)];
	else
		find_noted(workbook, index - first, &line->noted);
}

const struct finding *findings_chosen(struct workbook *workbook, const struct findings *findings)
{
	int chosen = list_chosen(&findings->list);
	struct findings_line line = { .finding = NULL };

	/* A new reading may have taken away the line that was chosen. */
	if (chosen >= 0 && chosen < findings_count(workbook))
		findings_at(workbook, chosen, &line);
	return line.finding;
}

/* As found those that the work did not clear. */
int findings_open(struct workbook *workbook, enum stage stage)
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

const struct judgement *findings_judgement(struct workbook *workbook, enum fault fault)
{
	const struct call *call = session_call(workbook_session(workbook));

	for (size_t i = 0; i < call_list_count(call, LIST_JUDGEMENTS); i++) {
		const struct judgement *judgement = call_list_at(call, LIST_JUDGEMENTS, i);
		if (strcmp(judgement->fault, fault_info(fault)->key) == 0)
			return judgement;
	}
	return NULL;
}

static const char *const verdict_words[JUDGEMENT_VERDICT_COUNT] = {
	[JUDGEMENT_CONFIRMED] = "confirmed", [JUDGEMENT_RULED_OUT] = "ruled out",
	[JUDGEMENT_WATCH] = "watched",
};

const char *findings_verdict(enum judgement_verdict verdict)
{
	return verdict_words[verdict];
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
	{ .label = "why", .help = "what you saw or measured; the office reads it, "
	                          "the customer does not",
	  .limit = LINE_SIZE - 1, .short_texts = SHORT_OWN,
	  .get = get_why, .set = set_why },
};

static const struct form_kind why_kind = {
	.name = "judgement", .home = FORM_HOME_LIST, .list = LIST_JUDGEMENTS,
	.lines = why_lines, .count = 1, .size = sizeof(struct judgement), .keep = keep_why,
};

bool findings_why(struct workbook *workbook, const struct findings *findings,
                  struct form_place *place)
{
	const struct finding *finding = findings_chosen(workbook, findings);
	const struct judgement *judgement = finding ? findings_judgement(workbook, finding->fault)
	                                            : NULL;

	if (!judgement)
		return false;
	*place = (struct form_place){ .kind = &why_kind, .element = judgement, .uid = &judgement->uid };
	return true;
}
