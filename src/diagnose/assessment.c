/*
 * Both stages of a call, figures and diagnosis.
 */
#include <padside/diagnose/assessment.h>

#include <math.h>

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

static void compare_with_before(const struct visit *visit, enum stage stage,
                                struct diagnosis *diagnosis)
{
	struct visit earlier = *visit;
	struct figure_set set;
	struct diagnosis before;

	if (!forget_recent(&earlier, stage))
		return;
	figures_evaluate(&earlier, stage, &set);
	diagnose(&earlier, stage, &set, &before);
	for (int i = 0; i < diagnosis->finding_count; i++) {
		struct finding *finding = &diagnosis->findings[i];
		finding->probability_before = 0;
		for (int k = 0; k < before.finding_count; k++)
			if (before.findings[k].fault == finding->fault)
				finding->probability_before = before.findings[k].probability;
	}
}

/* ---- Both stages ---- */

/* Whether anything was read; the safety answers belong to no stage. */
static bool has_readings(const struct visit *visit, enum stage stage)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct reading_info *info = reading_info((enum reading)i);
		if (info->scope == SCOPE_CALL && info->step != STEP_SAFETY &&
		    visit_has(visit, stage, (enum reading)i))
			return true;
	}
	return false;
}

void assessment_make(const struct assessment_input *input, struct assessment *assessment)
{
	const struct visit *visit = input->visit;

	for (int i = 0; i < STAGE_COUNT; i++) {
		enum stage stage = (enum stage)i;
		figures_evaluate(visit, stage, &assessment->figures[i]);
		diagnose(visit, stage, &assessment->figures[i], &assessment->diagnoses[i]);
		if (input->with_before)
			compare_with_before(visit, stage, &assessment->diagnoses[i]);
		assessment->was_read[i] = has_readings(visit, stage);
	}
	assessment->leading = assessment->was_read[STAGE_AS_LEFT] &&
	                      !assessment->was_read[STAGE_AS_FOUND] ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}
