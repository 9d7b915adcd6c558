/*
 * The diagnosis: readings to clues, clues to beliefs, beliefs to findings.
 *
 *   clues.c       what each reading says about one part of the unit
 *   network.c     the state of every part, all clues together
 *   expected.c    what a healthy unit shows in today's weather
 *   circuit.c     which fault of the circuit or the air explains the rest
 *   findings.c    probabilities, levels, evidence
 *   contradictions.c, next_check.c
 *   assessment.c  both stages of a call
 */
#include <padside/diagnose/diagnose.h>

#include <math.h>
#include <string.h>

#include "diagnose/circuit.h"
#include "diagnose/contradictions.h"
#include "diagnose/findings.h"
#include "diagnose/network.h"
#include "diagnose/next_check.h"

static const char *const level_keys[] = {
	[LEVEL_NOTE] = "note", [LEVEL_WATCH] = "watch", [LEVEL_ACT] = "act",
};

const char *level_key(enum level level)
{
	return level_keys[level];
}

static const char *const basis_keys[] = {
	[BASIS_INFERRED] = "inferred", [BASIS_MEASURED] = "measured",
};

const char *basis_key(enum basis basis)
{
	return basis_keys[basis];
}

static const char *const after_work_keys[] = {
	[AFTER_WORK_NONE] = "", [AFTER_WORK_GONE] = "gone",
	[AFTER_WORK_STILL_THERE] = "still_there", [AFTER_WORK_NOT_TESTED] = "not_tested",
};

const char *after_work_key(enum after_work after_work)
{
	return after_work_keys[after_work];
}

/* What differs from the unit's own past beyond what visits differ by. */
static void keep_own(const struct circuit *circuit, struct diagnosis *diagnosis)
{
	for (int i = 0; i < circuit->own_count && diagnosis->own_count < MOST_OWN; i++)
		if (fabs(circuit->own[i].difference) > circuit->own[i].plus_minus)
			diagnosis->own[diagnosis->own_count++] = circuit->own[i];
}

/* Whether it was measured how the running unit cools. */
static bool is_seen_cooling(const struct view *view)
{
	static const enum figure figures[] = {
		FIGURE_TEMPERATURE_SPLIT, FIGURE_SUPERHEAT, FIGURE_SUBCOOLING,
		FIGURE_EVAPORATOR_UNDER_RETURN,
	};

	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
		if (view->set->values[figures[i]].status == STATUS_OK)
			return true;
	return false;
}

/* Whether the evidence is one of the contradicting values, or is worked out from one. */
static bool stands_on(const struct evidence *evidence, const struct quoted *quoted)
{
	if (quoted->figure != FIGURE_NONE)
		return evidence->figure == quoted->figure;
	return evidence->figure == FIGURE_NONE ? evidence->reading == quoted->reading
	                                       : figure_takes(evidence->figure, quoted->reading);
}

/* Whether what speaks for the finding stands on the contradiction. */
static bool is_of(const struct finding *finding, const struct contradiction *contradiction)
{
	for (int i = 0; i < finding->evidence_count; i++)
		for (int j = 0; finding->evidence[i].leans > 0 && j < contradiction->quoted_count; j++)
			if (stands_on(&finding->evidence[i], &contradiction->quoted[j]))
				return true;
	return false;
}

/* What rests on readings that cannot all be right is read again before it is acted on. */
static void hold_contradicted(struct diagnosis *diagnosis)
{
	for (int c = 0; c < diagnosis->contradiction_count; c++) {
		if (diagnosis->contradictions[c].may_be_right)
			continue;
		for (int i = 0; i < diagnosis->finding_count; i++) {
			struct finding *finding = &diagnosis->findings[i];
			if (finding->basis == BASIS_INFERRED && finding->level == LEVEL_ACT &&
			    is_of(finding, &diagnosis->contradictions[c]))
				finding->level = LEVEL_WATCH;
		}
	}
}

bool diagnosis_is_sound(const struct diagnosis *diagnosis)
{
	return diagnosis->is_seen_cooling && diagnosis->healthy > 0.5;
}

bool diagnosis_explains_trip(const struct diagnosis *diagnosis)
{
	for (int i = 0; i < diagnosis->finding_count; i++)
		if (fault_info(diagnosis->findings[i].fault)->trips_breaker &&
		    diagnosis->findings[i].level == LEVEL_ACT)
			return true;
	return false;
}

void diagnose(const struct visit *visit, enum stage stage, const struct figure_set *set,
              const struct past *past, struct diagnosis *diagnosis)
{
	struct view view = { .visit = visit, .stage = stage, .set = set };
	bool sound_again = stage == STAGE_AS_LEFT;
	struct beliefs beliefs;
	struct circuit circuit;
	struct clues clues;

	memset(diagnosis, 0, sizeof *diagnosis);
	clues_collect(&view, &clues);
	network_judge(&view, &clues, sound_again, &beliefs);
	circuit_judge(&view, past, sound_again, &circuit);
	findings_write(&view, &clues, &beliefs, &circuit, diagnosis);
	contradictions_find(&view, diagnosis);
	hold_contradicted(diagnosis);
	next_check_choose(&view, &beliefs, &circuit, diagnosis);
	next_check_again(&view, diagnosis);
	next_check_before_reset(&view, diagnosis);
	circuit_predict(&view, &circuit, &diagnosis->predictions);
	keep_own(&circuit, diagnosis);
	diagnosis->is_seen_cooling = is_seen_cooling(&view);
}
