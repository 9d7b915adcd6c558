/*
 * Both stages of a call, figures and diagnosis.
 */
#include <padside/diagnose/assessment.h>

#include <string.h>

#include <padside/model/charging.h>

#include "diagnose/after_work.h"
#include "diagnose/before_charging.h"
#include "diagnose/judgements.h"

/* Readings entered within this many seconds of the last one moved the ranking. */
enum { RECENT_SECONDS = 60 };

/* ---- Before the last minute ---- */

/* When the last reading of the stage was entered; WALL_TIME_NONE unknown. */
static wall_time last_entry(const struct visit *visit, enum stage stage)
{
	wall_time last = WALL_TIME_NONE;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct value *value = visit_value(visit, stage, (enum reading)i);
		if (value->state != VALUE_NOT_TAKEN && value->taken_at != WALL_TIME_NONE &&
		    (last == WALL_TIME_NONE || value->taken_at > last))
			last = value->taken_at;
	}
	return last;
}

/* Takes away what was entered in the last minute; false when that is nothing or all. */
static bool forget_recent(struct visit *visit, enum stage stage)
{
	static const struct value nothing = { .taken_at = WALL_TIME_NONE };
	wall_time last = last_entry(visit, stage);
	bool forgot = false;

	for (int i = READING_NONE + 1; last != WALL_TIME_NONE && i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		const struct value *value = visit_value(visit, stage, reading);
		if (reading_info(reading)->scope != SCOPE_CALL || value->state == VALUE_NOT_TAKEN ||
		    value->taken_at == WALL_TIME_NONE || last - value->taken_at >= RECENT_SECONDS)
			continue;
		visit_set(visit, stage, reading, &nothing);
		forgot = true;
	}
	return forgot;
}

/* Whether anything was read of the refrigerant: without it the air alone guesses at its faults. */
static bool is_circuit_read(const struct visit *visit, enum stage stage)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_is_of_circuit((enum reading)i) && visit_has(visit, stage, (enum reading)i))
			return true;
	return false;
}

static void compare_with_before(const struct visit *visit, const struct past *past,
                                enum stage stage, struct diagnosis *diagnosis)
{
	struct visit earlier = *visit;
	struct figure_set set;
	struct diagnosis before;

	if (!forget_recent(&earlier, stage))
		return;
	figures_evaluate(&earlier, stage, &set);
	diagnose(&earlier, stage, &set, past, &before);
	bool was_read = is_circuit_read(&earlier, stage);
	for (int i = 0; i < diagnosis->finding_count; i++) {
		struct finding *finding = &diagnosis->findings[i];
		bool is_new = !was_read && fault_info(finding->fault)->family == FAMILY_REFRIGERANT;
		finding->probability_before = 0;
		for (int k = 0; k < before.finding_count; k++)
			if (before.findings[k].fault == finding->fault && !is_new)
				finding->probability_before = before.findings[k].probability;
	}
}

/* ---- Both stages ---- */

/* Whether anything was read; the safety answers belong to no stage, and a copy is no reading. */
static bool has_readings(const struct visit *visit, enum stage stage)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct reading_info *info = reading_info((enum reading)i);
		if (info->scope == SCOPE_CALL && info->step != STEP_SAFETY &&
		    visit_has(visit, stage, (enum reading)i) &&
		    !(stage == STAGE_AS_LEFT && visit_is_copy(visit, (enum reading)i)))
			return true;
	}
	return false;
}

/* Whether the work of this call made another circuit of the unit. */
static bool is_refitted(const struct call *call)
{
	for (size_t i = 0; i < call->work_count; i++)
		if (call->work[i].kind == WORK_PART && past_parts_are_refit(call->work[i].description))
			return true;
	return false;
}

/* What the unit's past says about a stage: nothing about what a refit left. */
static const struct past *past_of(const struct assessment_input *input, enum stage stage)
{
	return stage == STAGE_AS_LEFT && is_refitted(input->call) ? NULL : input->past;
}

/* An explanation of little chance was never found: nothing of it is gone after the work. */
static void drop_cures(struct diagnosis *found)
{
	for (int i = 0; i < found->finding_count; i++) {
		struct finding *finding = &found->findings[i];
		if (finding->level == LEVEL_NOTE && finding->basis == BASIS_INFERRED && !finding->is_judged)
			finding->after_work = AFTER_WORK_NONE;
	}
}

/* The figures and the diagnosis of a stage; `current` is without what is of an earlier charge. */
static void judge_stage(const struct assessment_input *current, enum stage stage,
                        struct assessment *assessment)
{
	const struct visit *visit = &current->call->visit;
	const struct past *past = past_of(current, stage);
	struct diagnosis *diagnosis = &assessment->diagnoses[stage];

	figures_evaluate(visit, stage, &assessment->figures[stage]);
	/* Nothing was done yet: no time is spent on what the work left. */
	if (stage == STAGE_AS_LEFT && !assessment->was_read[stage]) {
		memset(diagnosis, 0, sizeof *diagnosis);
		return;
	}
	diagnose(visit, stage, &assessment->figures[stage], past, diagnosis);
	if (stage == STAGE_AS_LEFT)
		after_work_drop_copied(visit, diagnosis);
	if (current->with_before)
		compare_with_before(visit, past, stage, diagnosis);
}

/* What became of the findings of the arrival, and what is to be measured for it. */
static void follow_work(const struct assessment_input *current, struct assessment *assessment)
{
	before_charging_follow(current, assessment);
	after_work_follow_confirmed(current->call, assessment);
	after_work_ask_again(&current->call->visit, assessment);
}

void assessment_make(const struct assessment_input *input, struct assessment *assessment)
{
	struct diagnosis *found = &assessment->diagnoses[STAGE_AS_FOUND];
	struct assessment_input current = *input;
	struct call call = *input->call;

	current.call = &call;
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		assessment->was_read[stage] = has_readings(&input->call->visit, (enum stage)stage);
	/* Where nothing was read as found, the readings as left stand for it. */
	bool is_outdated = assessment->was_read[STAGE_AS_FOUND] && charging_drop_outdated(&call);
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		judge_stage(&current, (enum stage)stage, assessment);
	bool is_left = assessment->was_read[STAGE_AS_LEFT];
	assessment->leading = is_left && !assessment->was_read[STAGE_AS_FOUND] ? STAGE_AS_LEFT
	                                                                       : STAGE_AS_FOUND;
	if (is_left)
		before_charging_add(input, assessment);
	for (int i = 0; is_left && i < found->finding_count; i++)
		found->findings[i].after_work = after_work_of(&call.visit, assessment, &found->findings[i]);
	for (int i = 0; i < STAGE_COUNT; i++)
		judgements_follow(input->call, i == (int)assessment->leading, &assessment->diagnoses[i]);
	drop_cures(found);
	if (is_left)
		follow_work(&current, assessment);
	/* They are shown as they were read. */
	if (is_outdated)
		figures_evaluate(&input->call->visit, STAGE_AS_LEFT, &assessment->figures[STAGE_AS_LEFT]);
}

/* ---- The charge ---- */

/* What shifts superheat and subcooling: the charge cannot be judged before it is repaired. */
static const enum fault before_charge[] = {
	FAULT_EVAPORATOR_ICED, FAULT_FILTER_BLOCKED, FAULT_EVAPORATOR_DIRTY, FAULT_LOW_INDOOR_AIRFLOW,
	FAULT_HIGH_INDOOR_AIRFLOW, FAULT_LOW_OUTDOOR_AIRFLOW, FAULT_BLOWER_MOTOR_FAILED,
	FAULT_FAN_MOTOR_FAILED, FAULT_NONCONDENSABLES, FAULT_LIQUID_RESTRICTION,
};

static bool comes_before_charge(const struct finding *finding)
{
	for (size_t i = 0; i < sizeof before_charge / sizeof *before_charge; i++)
		if (before_charge[i] == finding->fault)
			return finding->level == LEVEL_ACT;
	return false;
}

void assessment_charging(const struct call *call, const struct assessment *assessment,
                         enum stage stage, struct charging *charging)
{
	const struct diagnosis *diagnosis = &assessment->diagnoses[stage];

	charging_work_out(call, stage, charging);
	for (int i = 0; charging->possible && i < diagnosis->finding_count; i++)
		if (comes_before_charge(&diagnosis->findings[i])) {
			charging->first = diagnosis->findings[i].fault;
			charging->advice.verdict = CHARGE_FIX_AIRFLOW;
			return;
		}
}
