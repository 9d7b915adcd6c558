/*
 * What was seen and what caused it is not known yet.
 */
#include "report/paper_parts.h"

#include <padside/report/wording.h>

const char *paper_code(const struct paper *paper)
{
	const struct visit *visit = &paper->call->visit;
	enum stage stage = visit_has(visit, STAGE_AS_LEFT, READING_BOARD_CODE) ? STAGE_AS_LEFT
	                                                                       : STAGE_AS_FOUND;

	return visit_shows_code(visit, stage) ? visit_value(visit, stage, READING_BOARD_CODE)->text
	                                      : "";
}

/* Whether what is wrong is told for sure; that electronics keep a unit off says not why. */
static bool is_cause_found(const struct paper *paper)
{
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];

	for (int i = 0; i < found->finding_count; i++) {
		const struct finding *finding = &found->findings[i];
		if (finding->level == LEVEL_ACT && finding->fault != FAULT_ELECTRONICS_HOLD_OFF &&
		    paper_is_told(paper, STAGE_AS_FOUND, finding) && paper_is_sure(paper, finding))
			return true;
	}
	return false;
}

/* Whether the finding of the code is told, which quotes it. */
static bool is_code_told(const struct paper *paper)
{
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];

	for (int i = 0; i < found->finding_count; i++)
		if (found->findings[i].fault == FAULT_ELECTRONICS_HOLD_OFF &&
		    paper_is_told(paper, STAGE_AS_FOUND, &found->findings[i]))
			return true;
	return false;
}

/* For the office it is noted with what the maker's table is for. */
static bool tell_code(const struct paper *paper)
{
	const char *code = paper_code(paper);
	bool is_of_arrival = paper_has_readings(paper, STAGE_AS_LEFT) &&
	                     !visit_has(&paper->call->visit, STAGE_AS_LEFT, READING_BOARD_CODE);

	if (!*code || paper->for_office || is_code_told(paper))
		return false;
	document_paragraph(paper->document, TONE_WATCH, document_format(paper->document,
		"%s fault code %s.%s", is_of_arrival ? "When we came the unit showed" : "The unit shows",
		code, is_cause_found(paper) ? "" : " The cause is not found yet."));
	return true;
}

/* A breaker that tripped for a cause that is still to be found. */
static bool tell_trip(const struct paper *paper)
{
	if (!visit_is_yes(&paper->call->visit, STAGE_AS_FOUND, READING_BREAKER_TRIPPED) ||
	    diagnosis_explains_trip(&paper->input->assessment->diagnoses[STAGE_AS_FOUND]))
		return false;
	document_paragraph(paper->document, TONE_ACT, "The breaker had tripped. The cause is not found "
	                   "yet.");
	return true;
}

bool paper_tell_open(const struct paper *paper)
{
	bool tripped = tell_trip(paper), shows_code = tell_code(paper);

	return tripped || shows_code;
}

/* Whether the unit stood when it was found. */
static bool was_silent(const struct paper *paper)
{
	return visit_choice(&paper->call->visit, STAGE_AS_FOUND, READING_COMPRESSOR_STATE) ==
	       CHOICE_COMPRESSOR_STATE_SILENT;
}

const char *paper_words_of_none(const struct paper *paper)
{
	const double sound_from = 0.5;
	const struct diagnosis *found = &paper->input->assessment->diagnoses[STAGE_AS_FOUND];

	if (!paper_has_readings(paper, STAGE_AS_FOUND))
		return "No readings were taken on arrival.";
	if (was_silent(paper))
		return "The unit did not run when we came. We have not found the cause yet; more has to be "
		       "measured.";
	if (found->finding_count > 0 && found->healthy < sound_from)
		return "We have not found the cause yet; more has to be measured.";
	return found->is_seen_cooling
		? "The readings taken point to no fault."
		: "The readings taken point to no fault. They do not show how well the unit cools.";
}

/* Whether the compressor was seen not to run after the work. */
static bool is_stopped_as_left(const struct visit *visit)
{
	enum choice state = visit_choice(visit, STAGE_AS_LEFT, READING_COMPRESSOR_STATE);

	return state != CHOICE_NONE && state != CHOICE_COMPRESSOR_STATE_RUNS;
}

/* Whether leads were moved and nobody looked yet which way the compressor turns. */
static bool is_rotation_open(const struct diagnosis *left)
{
	for (int i = 0; i < left->next_check_count; i++)
		if (left->next_checks[i].reason == CHECK_ROTATION)
			return true;
	return false;
}

const char *paper_words_of_doubt(const struct paper *paper)
{
	const struct diagnosis *left = &paper->input->assessment->diagnoses[STAGE_AS_LEFT];
	/* What was found is gone: the unit was never in doubt beyond that. */
	bool is_proved = paper_is_something_cured(paper) && !is_rotation_open(left) &&
	                 !is_stopped_as_left(&paper->call->visit);

	if (left->contradiction_count > 0)
		return "The readings after the work do not agree; we must measure again.";
	if (*wording_unexplained(left))
		return "The readings after the work fit no one fault; we must measure again.";
	return diagnosis_is_sound(left) || is_proved
		? "" : "After the work too little was measured to call the unit sound.";
}
