/*
 * The diagnosis: readings to clues, clues to beliefs, beliefs to findings.
 *
 *   clues.c       what each reading says about one part of the machine
 *   network.c     the state of every part, all clues together
 *   expected.c    what a healthy machine shows in today's weather
 *   circuit.c     which fault of the circuit or the air explains the rest
 *   findings.c    probabilities, levels, evidence in words
 *   contradictions.c, next_check.c
 */
#include <padside/diagnose/diagnose.h>

#include <math.h>
#include <string.h>

#include "diagnose/circuit.h"
#include "diagnose/contradictions.h"
#include "diagnose/findings.h"
#include "diagnose/network.h"
#include "diagnose/next_check.h"

/* Readings entered within this many seconds of the last one moved the ranking. */
enum { RECENT_SECONDS = 60 };

static const char *const level_keys[] = {
	[LEVEL_NOTE] = "note", [LEVEL_WATCH] = "watch", [LEVEL_ACT] = "act",
};

const char *level_key(enum level level)
{
	return level_keys[level];
}

static void judge(const struct visit *visit, enum stage stage, const struct figure_set *set,
                  struct diagnosis *diagnosis)
{
	struct view view = { .visit = visit, .stage = stage, .set = set };
	bool sound_again = stage == STAGE_AS_LEFT;
	struct beliefs beliefs;
	struct circuit circuit;
	struct clues clues;

	memset(diagnosis, 0, sizeof *diagnosis);
	clues_collect(&view, &clues);
	network_judge(&view, &clues, sound_again, &beliefs);
	circuit_judge(&view, sound_again, &circuit);
	findings_write(&view, &clues, &beliefs, &circuit, diagnosis);
	contradictions_find(&view, diagnosis);
	next_check_choose(&view, &beliefs, &circuit, diagnosis);
}

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
	judge(&earlier, stage, &set, &before);
	for (int i = 0; i < diagnosis->finding_count; i++) {
		struct finding *finding = &diagnosis->findings[i];
		finding->probability_before = 0;
		for (int k = 0; k < before.finding_count; k++)
			if (before.findings[k].fault == finding->fault)
				finding->probability_before = before.findings[k].probability;
	}
}

void diagnose(const struct visit *visit, enum stage stage, const struct figure_set *set,
              struct diagnosis *diagnosis)
{
	judge(visit, stage, set, diagnosis);
	compare_with_before(visit, stage, diagnosis);
}
