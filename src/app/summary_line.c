/*
 * One line each of what was found and what was done.
 */
#include <padside/app/summary_line.h>

#include <string.h>

#include <padside/base/text.h>
#include <padside/diagnose/past.h>
#include <padside/model/money.h>
#include <padside/model/tightness.h>
#include <padside/report/noted.h>
#include <padside/report/told.h>

/*
 * What is less likely than not was not found; it may be something to watch, unless all that speaks
 * for it is within its range.
 */
static bool is_found(const struct call *call, const struct assessment *assessment,
                     const struct finding *finding)
{
	if (finding->level == LEVEL_ACT)
		return finding->basis == BASIS_MEASURED || finding->probability >= 0.5;
	return !told_is_idle(call, assessment, STAGE_AS_FOUND, finding);
}

/* What the technician listed is watched, whatever the program makes of it. */
static enum level level_of(const struct call *call, const struct finding *finding)
{
	bool is_listed = finding->level == LEVEL_NOTE && told_is_listed(call, finding->fault);

	return is_listed ? LEVEL_WATCH : finding->level;
}

/* Only likely as found, and gone when it was read again. */
static bool is_put_right(const struct call *call, const struct finding *finding)
{
	return finding->after_work == AFTER_WORK_GONE && finding->level == LEVEL_WATCH &&
	       finding->probability >= 0.5 && !told_is_listed(call, finding->fault);
}

static void add_findings(struct text *text, const struct call *call,
                         const struct assessment *assessment, enum level level, const char *before)
{
	const struct diagnosis *diagnosis = &assessment->diagnoses[STAGE_AS_FOUND];

	for (int i = 0; i < diagnosis->finding_count; i++)
		if (level_of(call, &diagnosis->findings[i]) == level &&
		    !is_put_right(call, &diagnosis->findings[i]) &&
		    is_found(call, assessment, &diagnosis->findings[i]))
			text_add_format(text, "%s%s", text->length ? "; " : before,
			                fault_info(diagnosis->findings[i].fault)->label);
}

/* What was only likely, and is good after the work, is watched no more. */
static void add_put_right(struct text *text, const struct call *call,
                          const struct assessment *assessment)
{
	const struct diagnosis *diagnosis = &assessment->diagnoses[STAGE_AS_FOUND];

	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		if (is_put_right(call, finding) && is_found(call, assessment, finding))
			text_add_format(text, "%s%s, good after the work", text->length ? "; " : "",
			                fault_info(finding->fault)->label);
	}
}

/* A leak that was found is written down, not measured. */
static void add_leak(struct text *text, const struct call *call)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		if (!visit_leak_found(&call->visit, (enum stage)stage))
			continue;
		text_add_format(text, "%sleak at %s", text->length ? "; " : "",
		                visit_value(&call->visit, (enum stage)stage, READING_LEAK_PLACE)->text);
		return;
	}
}

/* A test that did not hold was found too, and asks for work. */
static void add_tests(struct text *text, const struct call *call)
{
	struct tightness_told tightness;

	tightness_work_out(call, &tightness);
	if (tightness.nitrogen == NITROGEN_LEAKING)
		text_add_format(text, "%spressure test not held", text->length ? "; " : "");
	if (tightness_vacuum_did_not_hold(&tightness))
		text_add_format(text, "%svacuum not held", text->length ? "; " : "");
}

void summary_line_found(const struct call *call, const struct assessment *assessment, char *line,
                        size_t size)
{
	const struct diagnosis *found = &assessment->diagnoses[STAGE_AS_FOUND];
	struct text text;

	text_init(&text);
	add_findings(&text, call, assessment, LEVEL_ACT, "");
	if (text.length == 0)
		add_put_right(&text, call, assessment);
	add_leak(&text, call);
	add_tests(&text, call);
	if (text.length == 0)
		add_findings(&text, call, assessment, LEVEL_WATCH, "to watch: ");
	/* Of a unit that was only read after the work, that is what was found. */
	const struct diagnosis *left = &assessment->diagnoses[STAGE_AS_LEFT];
	bool is_only_left = found->finding_count == 0 && !found->is_seen_cooling &&
	                    left->is_seen_cooling;
	bool is_seen = found->is_seen_cooling || left->is_seen_cooling;
	if (text.length == 0 && is_seen && (is_only_left ? left : found)->healthy > 0.5 &&
	    found->contradiction_count == 0 && !noted_any(&call->visit, assessment))
		text_add(&text, "in order");
	text_copy(line, size, text_get(&text));
	text_done(&text);
}

/* What makes another unit of it: the unit's past ends there, so it is never cut. */
static bool is_refit(const struct work_line *line)
{
	return line->kind == WORK_PART && !line->no_charge && past_parts_are_refit(line->description);
}

static bool is_material(const struct work_line *line)
{
	return (line->kind == WORK_PART || line->kind == WORK_REFRIGERANT) && !line->no_charge &&
	       !is_refit(line);
}

static bool is_labour(const struct work_line *line)
{
	return line->kind == WORK_LABOUR;
}

static void add_lines(const struct call *call, bool (*is_wanted)(const struct work_line *line),
                      struct text *text)
{
	char words[LINE_SIZE + MONEY_SIZE];

	for (size_t i = 0; i < call->work_count; i++) {
		if (!is_wanted(&call->work[i]))
			continue;
		money_line_words(&call->work[i], words, sizeof words);
		text_add_format(text, "%s%s", text->length ? "; " : "", words);
	}
}

/* What does not fit is left out from a whole line on, else from a whole word on. */
static void copy_whole(const char *words, char *line, size_t size)
{
	static const char more[] = "…";

	text_copy(line, size, words);
	if (strlen(words) < size)
		return;
	line[size - sizeof more] = '\0';
	text_trim_broken_utf8(line);
	char *semicolon = strrchr(line, ';'), *space = strrchr(line, ' ');
	char *end = semicolon ? semicolon + 2 : space ? space : line + strlen(line);
	text_copy(end, size - (size_t)(end - line), more);
}

void summary_line_done(const struct call *call, char *line, size_t size)
{
	struct text text;

	text_init(&text);
	add_lines(call, is_refit, &text);
	/* A part alone does not say what was done, and the line may be cut. */
	add_lines(call, is_labour, &text);
	add_lines(call, is_material, &text);
	if (text.length == 0 && call->work_count > 0)
		text_add(&text, call->work[0].description);
	copy_whole(text_get(&text), line, size);
	text_done(&text);
}

enum status summary_line_keep(struct store *store, const struct call *call, struct error *error)
{
	struct assessment assessment;
	char found[LINE_SIZE], done[LINE_SIZE];

	assessment_make(&(struct assessment_input){ .call = call }, &assessment);
	summary_line_found(call, &assessment, found, sizeof found);
	summary_line_done(call, done, sizeof done);
	return store_call_save_lines(store, &call->uid, found, done, error);
}
