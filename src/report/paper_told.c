/*
 * Which findings a reader is told, and how surely.
 *
 * The office reads all of them.  The customer reads what the technician says,
 * what was measured, and what is at least possible while something that was
 * read is not as it should be.
 */
#include "report/paper_parts.h"

#include <string.h>

#include <padside/model/moved.h>

/* The customer reads what is at least possible, is told as a fact what is very likely. */
static const double least_shown = 0.30, likely_from = 0.60, sure_from = 0.80;

static bool is_ruled_out(const struct finding *finding)
{
	return finding->is_judged && finding->verdict == JUDGEMENT_RULED_OUT;
}

bool paper_is_noted(const struct paper *paper, enum fault fault)
{
	const struct call *call = paper->call;

	for (size_t i = 0; i < call->watch_count; i++)
		if (*call->watch[i].fault && fault_from_key(call->watch[i].fault) == fault)
			return true;
	return false;
}

/* Whether the technician speaks for it, or a reading by itself. */
static bool is_stated(const struct paper *paper, const struct finding *finding)
{
	return finding->is_judged || finding->basis == BASIS_MEASURED ||
	       paper_is_noted(paper, finding->fault);
}

static enum band_verdict verdict_of(const struct paper *paper, enum stage stage,
                                    const struct evidence *evidence)
{
	const struct visit *visit = &paper->call->visit;
	struct expectation expected = evidence->figure != FIGURE_NONE
		? figure_expect(visit, stage, &paper->input->assessment->figures[stage], evidence->figure)
		: reading_expect(visit, stage, evidence->reading);

	if (!expected.known || evidence->over_limit)
		return BAND_UNKNOWN;
	return expectation_judge(&expected, evidence->value, evidence->plus_minus);
}

/*
 * Whether all that speaks for a finding and can be judged is within its range.  What was seen,
 * a contact or a filter, has no range and counts as what it is.
 */
static bool is_all_in_range(const struct paper *paper, enum stage stage,
                            const struct finding *finding)
{
	bool any = false;

	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		bool is_seen = evidence->figure == FIGURE_NONE &&
		               reading_info(evidence->reading)->kind == KIND_CHOICE;
		if (evidence->leans <= 0)
			continue;
		enum band_verdict verdict = is_seen ? BAND_UNKNOWN : verdict_of(paper, stage, evidence);
		if (is_seen || (verdict != BAND_INSIDE && verdict != BAND_UNKNOWN))
			return false;
		any = any || verdict == BAND_INSIDE;
	}
	return any;
}

bool paper_is_told(const struct paper *paper, enum stage stage, const struct finding *finding)
{
	if (is_ruled_out(finding))
		return false;
	if (is_stated(paper, finding) || finding->probability >= likely_from)
		return true;
	return finding->probability >= least_shown &&
	       (paper->for_office || !is_all_in_range(paper, stage, finding));
}

bool paper_is_sure(const struct paper *paper, const struct finding *finding)
{
	struct moved moved;

	if (is_stated(paper, finding) || finding->probability >= sure_from)
		return true;
	/* Refrigerant that was added, and cured it, was lacking. */
	moved_work_out(paper->call, &moved);
	return finding->fault == FAULT_UNDERCHARGE && finding->after_work == AFTER_WORK_GONE &&
	       moved.added_oz > 0;
}
