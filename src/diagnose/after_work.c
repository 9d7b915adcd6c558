/*
 * What became of the findings of the arrival.
 *
 * A finding is gone when the readings behind it were taken again and are good,
 * or when a motor runs that the fault would have stopped.  One that was not
 * measured again stays open, whatever else was read.
 */
#include "diagnose/after_work.h"

#include <math.h>

#include <padside/calc/electrical.h>

#include "diagnose/clues.h"
#include "diagnose/next_check.h"

/* As likely as this, a finding is still there. */
static const double still_from = 0.3;

/* The share of what supported a finding that has to be read again before it may be gone. */
static const double share_again = 0.6;

/* Whether the evidence supports the finding: what a motor does states no part by itself. */
static bool is_behind(const struct finding *finding, const struct evidence *evidence)
{
	bool of_motor = evidence->reading == READING_COMPRESSOR_STATE ||
	                evidence->reading == READING_FAN_STATE ||
	                evidence->reading == READING_BLOWER_STATE;

	return evidence->leans > 0 && !(of_motor && finding->basis == BASIS_MEASURED);
}

/* Whether the reading was taken after the work; one copied from the arrival was not. */
static bool taken_again(const struct visit *visit, enum reading reading)
{
	return visit_has(visit, STAGE_AS_LEFT, reading) && !visit_is_copy(visit, reading);
}

/* Whether anything that the figure is made of was taken after the work. */
static bool made_again(const struct visit *visit, enum figure figure)
{
	const struct figure_info *info = figure_info(figure);
	bool is_of_call = false;

	for (int i = 0; i < FIGURE_MOST_NEEDS; i++)
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES && info->needs[i][j] != READING_NONE; j++) {
			if (reading_info(info->needs[i][j])->scope != SCOPE_CALL)
				continue;
			is_of_call = true;
			if (taken_again(visit, info->needs[i][j]))
				return true;
		}
	return !is_of_call;
}

/* The evidence read again: its value after the work, in *value; false when it was not. */
static bool read_again(const struct assessment *assessment, const struct visit *visit,
                       const struct evidence *evidence, struct value *value)
{
	if (evidence->figure == FIGURE_NONE) {
		*value = *visit_value(visit, STAGE_AS_LEFT, evidence->reading);
		return taken_again(visit, evidence->reading);
	}
	const struct figure_value *left = &assessment->figures[STAGE_AS_LEFT].values[evidence->figure];
	*value = (struct value){ .state = VALUE_TAKEN, .number = left->value };
	return left->status == STATUS_OK && made_again(visit, evidence->figure);
}

/* Whether it still reads what it read, as far as the instruments can tell. */
static bool reads_the_same(const struct evidence *evidence, const struct value *value)
{
	if (evidence->over_limit || value->state == VALUE_OVER_LIMIT)
		return evidence->over_limit && value->state == VALUE_OVER_LIMIT;
	if (evidence->reading != READING_NONE &&
	    reading_info(evidence->reading)->kind == KIND_CHOICE)
		return (enum choice)(int)evidence->value == value->choice;
	return fabs(evidence->value - value->number) <= evidence->plus_minus;
}

/* What a motor that runs does not do. */
static bool is_stopped(enum state shown)
{
	static const enum state stopped[] = {
		STATE_CONDITION_DEAD, STATE_CONDITION_RUN_OPEN, STATE_CONDITION_INSIDE_OPEN,
		STATE_CONDITION_LOCKED, STATE_FAN_CONDITION_DEAD, STATE_FAN_CONDITION_FAILED,
		STATE_BLOWER_CONDITION_DEAD, STATE_BLOWER_CONDITION_FAILED,
	};

	for (size_t i = 0; i < sizeof stopped / sizeof *stopped; i++)
		if (stopped[i] == shown)
			return true;
	return false;
}

/* Whether the fault, in each state that it can be, keeps the motor from running. */
static bool stops(enum fault fault, enum motor motor)
{
	bool any = false;

	for (int i = 0; i < STATE_COUNT; i++) {
		const struct state_info *info = state_info((enum state)i);
		if (info->fault != fault && info->also != fault && info->within != fault)
			continue;
		if (!is_stopped(state_makes((enum state)i, motor)))
			return false;
		any = true;
	}
	return any;
}

/* Whether a motor that now runs cannot have the fault: it would not run. */
static bool is_cleared_by_running(const struct visit *visit, enum fault fault)
{
	static const struct {
		enum reading reading; /* what the motor does */
		enum choice runs;     /* the answer that clears */
	} motors[MOTOR_COUNT] = {
		[MOTOR_COMPRESSOR] = { READING_COMPRESSOR_STATE, CHOICE_COMPRESSOR_STATE_RUNS },
		[MOTOR_FAN] = { READING_FAN_STATE, CHOICE_MOTOR_STATE_RUNS },
		[MOTOR_BLOWER] = { READING_BLOWER_STATE, CHOICE_MOTOR_STATE_RUNS },
	};

	for (int m = 0; m < MOTOR_COUNT; m++)
		if (visit_choice(visit, STAGE_AS_LEFT, motors[m].reading) == motors[m].runs &&
		    stops(fault, (enum motor)m))
			return true;
	return false;
}

/*
 * Whether what keeps the unit off was measured again by the same kind of reading: what a
 * tester of high voltage showed, an ohmmeter does not clear, nor does a motor that runs.
 */
static bool is_danger_read_again(const struct visit *visit, enum fault fault)
{
	const struct value *found = visit_value(visit, STAGE_AS_FOUND, READING_INSULATION_TEST_VOLTS);
	const struct value *left = visit_value(visit, STAGE_AS_LEFT, READING_INSULATION_TEST_VOLTS);
	const double least = ELECTRICAL_INSULATION_LEAST_VOLTS;
	bool is_tester = found->state == VALUE_TAKEN && found->number >= least;
	enum reading reading = fault_info(fault)->stays_off_by;

	if (!taken_again(visit, reading))
		return false;
	/* Where the volts were not noted only a number proves a tester. */
	if (is_tester && left->state != VALUE_TAKEN)
		return visit_value(visit, STAGE_AS_LEFT, reading)->state == VALUE_TAKEN;
	return !is_tester || left->number >= least;
}

enum after_work after_work_of(const struct visit *visit, const struct assessment *assessment,
                              const struct finding *finding)
{
	const struct diagnosis *left = &assessment->diagnoses[STAGE_AS_LEFT];
	double all = 0, again = 0, strongest = 0;
	bool strongest_again = false, same = false;
	struct value value;

	for (int i = 0; i < left->finding_count; i++)
		if (left->findings[i].fault == finding->fault &&
		    left->findings[i].probability >= still_from)
			return AFTER_WORK_STILL_THERE;
	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		if (!is_behind(finding, evidence))
			continue;
		bool was_read = read_again(assessment, visit, evidence, &value);
		all += evidence->leans;
		again += was_read ? evidence->leans : 0;
		if (evidence->leans > strongest) {
			strongest = evidence->leans;
			strongest_again = was_read;
			same = was_read && reads_the_same(evidence, &value);
		}
	}
	if (same)
		return AFTER_WORK_STILL_THERE;
	if (finding_stays_off(finding))
		return is_danger_read_again(visit, finding->fault) ? AFTER_WORK_GONE
		                                                   : AFTER_WORK_NOT_TESTED;
	if (strongest_again || (all > 0 && again >= share_again * all &&
	                        finding->basis == BASIS_INFERRED))
		return AFTER_WORK_GONE;
	return is_cleared_by_running(visit, finding->fault) ? AFTER_WORK_GONE : AFTER_WORK_NOT_TESTED;
}

/* Whether all that supports a finding of the stage as left was copied from the arrival. */
static bool is_copied(const struct visit *visit, const struct finding *finding)
{
	bool any = false;

	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		if (!is_behind(finding, evidence))
			continue;
		if (evidence->figure == FIGURE_NONE ? taken_again(visit, evidence->reading)
		                                    : made_again(visit, evidence->figure))
			return false;
		any = true;
	}
	return any;
}

void after_work_drop_copied(const struct visit *visit, struct diagnosis *left)
{
	int kept = 0;

	for (int i = 0; i < left->finding_count; i++)
		if (!is_copied(visit, &left->findings[i]))
			left->findings[kept++] = left->findings[i];
	left->finding_count = kept;
}

/* ---- What was confirmed, and then read anew ---- */

static bool taken_since(const struct visit *visit, enum reading reading, wall_time since)
{
	return taken_again(visit, reading) && since != WALL_TIME_NONE &&
	       visit_value(visit, STAGE_AS_LEFT, reading)->taken_at > since;
}

/* Whether what shows the fault was read after the work and after that: its part, or the circuit. */
static bool was_tested_since(const struct visit *visit, enum fault fault, wall_time since)
{
	static const enum reading circuit[] = {
		READING_SUCTION_PRESSURE, READING_SUCTION_LINE_TEMP, READING_LIQUID_PRESSURE,
		READING_LIQUID_LINE_TEMP,
	};

	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (taken_since(visit, (enum reading)i, since) &&
		    next_check_settles((enum reading)i, fault))
			return true;
	for (size_t i = 0; i < sizeof circuit / sizeof *circuit; i++)
		if (!taken_since(visit, circuit[i], since))
			return false;
	return fault_info(fault)->family == FAMILY_REFRIGERANT;
}

static bool is_likely(const struct diagnosis *diagnosis, enum fault fault)
{
	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			return diagnosis->findings[i].probability >= still_from;
	return false;
}

void after_work_follow_confirmed(const struct call *call, struct assessment *assessment)
{
	struct diagnosis *found = &assessment->diagnoses[assessment->leading];

	for (int i = 0; i < found->finding_count; i++) {
		struct finding *finding = &found->findings[i];
		bool is_open = finding->is_judged && finding->verdict == JUDGEMENT_CONFIRMED &&
		               finding->after_work == AFTER_WORK_NONE &&
		               fault_info(finding->fault)->stays_off_by == READING_NONE;
		if (is_open && was_tested_since(&call->visit, finding->fault,
		                                call->judgements[finding->judgement].at) &&
		    !is_likely(&assessment->diagnoses[STAGE_AS_LEFT], finding->fault))
			finding->after_work = AFTER_WORK_GONE;
	}
}

/* ---- What is to be measured again ---- */

static const struct evidence *strongest_of(const struct finding *finding)
{
	const struct evidence *strongest = NULL;

	for (int i = 0; i < finding->evidence_count; i++)
		if (is_behind(finding, &finding->evidence[i]) &&
		    finding->evidence[i].leans > (strongest ? strongest->leans : 0))
			strongest = &finding->evidence[i];
	return strongest;
}

/* Of the readings that a figure takes one of, which to take again; READING_NONE where one was. */
static enum reading missing_one(const struct visit *visit, const enum reading *needs)
{
	enum reading missing = READING_NONE;

	for (int j = 0; j < FIGURE_MOST_ALTERNATIVES && needs[j] != READING_NONE; j++) {
		if (reading_info(needs[j])->scope == SCOPE_CALL ? taken_again(visit, needs[j])
		                                                : visit_has(visit, STAGE_AS_LEFT, needs[j]))
			return READING_NONE;
		if (reading_info(needs[j])->scope != SCOPE_CALL ||
		    !visit_applies(visit, STAGE_AS_LEFT, needs[j]))
			continue;
		/* That of the arrival, if one was taken then. */
		if (missing == READING_NONE || visit_has(visit, STAGE_AS_FOUND, needs[j]))
			missing = needs[j];
	}
	return missing;
}

/* The reading of the call to take again for a figure; READING_NONE when all were. */
static enum reading missing_of(const struct visit *visit, enum figure figure)
{
	const struct figure_info *info = figure_info(figure);
	enum reading missing = READING_NONE;

	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE &&
	                missing == READING_NONE; i++)
		missing = missing_one(visit, info->needs[i]);
	return missing;
}

static void put_first(struct diagnosis *diagnosis, const struct next_check *check)
{
	struct next_check *list = diagnosis->next_checks;
	int at = 0;

	while (at < diagnosis->next_check_count && list[at].reading != check->reading)
		at++;
	if (at == diagnosis->next_check_count) {
		if (at == MOST_NEXT_CHECKS)
			at--;
		else
			diagnosis->next_check_count++;
	}
	for (; at > 0; at--)
		list[at] = list[at - 1];
	list[0] = *check;
}

/* Whether the line leads of a compressor that pumps one way only may have been exchanged. */
static bool may_be_reversed(const struct visit *visit, const struct diagnosis *found)
{
	enum choice state = visit_choice(visit, STAGE_AS_LEFT, READING_COMPRESSOR_STATE);

	if (!visit_condition_holds(visit, STAGE_AS_LEFT, CONDITION_THREE_PHASE) ||
	    visit_condition_holds(visit, STAGE_AS_LEFT, CONDITION_RECIPROCATING) ||
	    (state != CHOICE_NONE && state != CHOICE_COMPRESSOR_STATE_RUNS))
		return false;
	for (int i = 0; i < found->finding_count; i++)
		if (fault_info(found->findings[i].fault)->moves_leads &&
		    found->findings[i].level == LEVEL_ACT)
			return true;
	return false;
}

/* Both pressures show it; a scroll that turns backwards makes no difference between them. */
static void ask_rotation(const struct visit *visit, struct assessment *assessment)
{
	static const enum reading last_to_first[] = { READING_LIQUID_PRESSURE,
	                                              READING_SUCTION_PRESSURE };

	if (!may_be_reversed(visit, &assessment->diagnoses[STAGE_AS_FOUND]))
		return;
	for (size_t i = 0; i < sizeof last_to_first / sizeof *last_to_first; i++)
		if (!taken_again(visit, last_to_first[i]))
			put_first(&assessment->diagnoses[STAGE_AS_LEFT], &(struct next_check){
				.reading = last_to_first[i], .gain = 1, .reason = CHECK_ROTATION });
}

void after_work_ask_again(const struct visit *visit, struct assessment *assessment)
{
	const struct diagnosis *found = &assessment->diagnoses[STAGE_AS_FOUND];

	ask_rotation(visit, assessment);
	/* From the last, so that the first finding stands first. */
	for (int i = found->finding_count - 1; i >= 0; i--) {
		const struct finding *finding = &found->findings[i];
		const struct evidence *strongest = strongest_of(finding);
		if (finding->after_work != AFTER_WORK_NOT_TESTED || finding->level != LEVEL_ACT ||
		    !strongest)
			continue;
		enum reading reading = finding_stays_off(finding) ? fault_info(finding->fault)->stays_off_by
			: strongest->figure == FIGURE_NONE ? strongest->reading
			                                   : missing_of(visit, strongest->figure);
		if (reading != READING_NONE)
			put_first(&assessment->diagnoses[STAGE_AS_LEFT], &(struct next_check){
				.reading = reading, .gain = 1, .reason = CHECK_PROVE,
				.between = { finding->fault, FAULT_NONE } });
	}
}
