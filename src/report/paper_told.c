/*
 * Which findings a reader is told, and how surely.
 *
 * The office reads all of them.  The customer reads what the technician says,
 * what was measured, and what is at least possible while something that was
 * read is not as it should be.
 */
#include "report/paper_parts.h"

#include <padside/base/text.h>
#include <padside/report/told.h>

/* The customer reads what is at least possible, is told as a fact what is very likely. */
static const double least_shown = 0.30, sure_from = 0.80;

bool paper_lists_work(const struct paper *paper)
{
	const struct call *call = paper->call;

	/* A fee is asked for coming too. */
	for (size_t i = 0; i < call->work_count; i++)
		if (call->work[i].kind != WORK_FEE)
			return true;
	return call->charge_count > 0 || call->tightness_count > 0;
}

bool paper_is_taken_out(const struct paper *paper)
{
	return visit_has(&paper->call->visit, STAGE_AS_FOUND, READING_TAKEN_OUT);
}

bool paper_is_to_be_replaced(const struct paper *paper)
{
	const struct call *call = paper->call;
	double seer;

	if (visit_number(&call->visit, STAGE_AS_FOUND, READING_SEER, &seer) != STATUS_OK)
		return false;
	for (size_t i = 0; i < call->offer_count; i++)
		if (call->offers[i].decision == DECISION_ACCEPTED && call->offers[i].seer > seer)
			return true;
	return false;
}

/* Whether the technician speaks for it, or a reading by itself. */
static bool is_stated(const struct paper *paper, const struct finding *finding)
{
	return finding->is_judged || finding->basis == BASIS_MEASURED ||
	       told_is_listed(paper->call, finding->fault);
}

bool paper_is_told(const struct paper *paper, enum stage stage, const struct finding *finding)
{
	if (finding->is_judged && finding->verdict == JUDGEMENT_RULED_OUT)
		return false;
	if (is_stated(paper, finding))
		return true;
	bool is_idle = !paper->for_office &&
	               told_is_idle(paper->call, paper->input->assessment, stage, finding);
	return finding->probability >= least_shown && !is_idle;
}

enum level paper_level(const struct paper *paper, const struct finding *finding)
{
	bool is_listed = finding->level == LEVEL_NOTE && told_is_listed(paper->call, finding->fault);

	return is_listed ? LEVEL_WATCH : finding->level;
}

bool paper_is_put_off(const struct paper *paper, const struct finding *finding)
{
	return told_is_listed(paper->call, finding->fault) ||
	       (finding->is_judged && finding->verdict == JUDGEMENT_WATCH);
}

bool paper_is_watched(const struct paper *paper, const struct finding *finding)
{
	/* What was worked on and not measured again may be done. */
	bool may_be_done = finding->after_work != AFTER_WORK_STILL_THERE && paper_lists_work(paper);

	return finding->after_work != AFTER_WORK_GONE && paper_level(paper, finding) == LEVEL_WATCH &&
	       (paper_is_put_off(paper, finding) ||
	        (fault_info(finding->fault)->due && !may_be_done));
}

bool paper_is_sure(const struct paper *paper, const struct finding *finding)
{
	return is_stated(paper, finding) || finding->probability >= sure_from;
}

/* Whether the words that the fault is told in, or what it means, name that. */
static bool is_named(enum fault fault, const char *part)
{
	const struct fault_info *info = fault_info(fault);

	return text_contains_ignoring_case(info->label, part) ||
	       text_contains_ignoring_case(info->meaning, part) ||
	       (info->plain && text_contains_ignoring_case(info->plain, part));
}

/*
 * Whether an option is for a fault: it names a part that the fault names too, or the whole
 * unit.  A motor or a compressor is often said beside its part: then the part counts.
 */
static bool is_answer(const char *title, enum fault fault)
{
	static const char *const parts[] = {
		"capacitor", "contactor", "leak", "charge", "refrigerant", "filter", "coil", "drain",
		"valve", "fuse", "transformer", "thermostat", "board", "duct", "wire", "fan", "blower",
	};
	static const char *const beside[] = { "motor", "compressor" };
	static const char *const whole[] = { "system", "unit", "split", "-ton", "repair" };
	bool names_part = false;

	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		bool is_there = text_contains_ignoring_case(title, parts[i]);
		if (is_there && is_named(fault, parts[i]))
			return true;
		names_part = names_part || is_there;
	}
	for (size_t i = 0; i < sizeof beside / sizeof *beside && !names_part; i++)
		if (text_contains_ignoring_case(title, beside[i]))
			return is_named(fault, beside[i]);
	for (size_t i = 0; i < sizeof whole / sizeof *whole && !names_part; i++)
		if (text_contains_ignoring_case(title, whole[i]))
			return true;
	return false;
}

bool paper_is_offered(const struct paper *paper, enum fault fault)
{
	for (size_t i = 0; i < paper->call->offer_count; i++)
		if (is_answer(paper->call->offers[i].title, fault))
			return true;
	return false;
}

bool paper_is_something_cured(const struct paper *paper)
{
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];

	for (int i = 0; i < found->finding_count; i++)
		if (found->findings[i].after_work == AFTER_WORK_GONE &&
		    paper_is_told(paper, STAGE_AS_FOUND, &found->findings[i]))
			return true;
	return false;
}
