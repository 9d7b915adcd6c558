/*
 * Earlier visits of a unit as they are kept for today's: what was seen, and how far it is believed.
 */
#include "diagnose/circuit_parts.h"

#include <math.h>
#include <string.h>

#include <padside/model/figures.h>

/* How far a visit is believed that somebody judged sound, and the least and most of others. */
static const double judged_share = 0.95, least_share = 0.1, most_share = 0.95;

/*
 * Odds of a sound unit beside the readings' own: nobody noted a fault, and, more
 * than that, the work was over and the unit was left so.
 */
static const double nothing_noted = 3, left_so = 15;

static void keep_seen(const struct circuit *circuit, struct past_visit *visit)
{
	const struct weather_known *weather = &circuit->weather;

	memcpy(visit->value, circuit->value, sizeof circuit->value);
	memcpy(visit->sd, circuit->sd, sizeof circuit->sd);
	memcpy(visit->taken, circuit->taken, sizeof circuit->taken);
	visit->air[0] = weather->value.outdoor_f;
	visit->air[1] = weather->value.return_f;
	visit->air[2] = weather->value.wet_bulb_f;
	visit->air_sd[0] = weather->spread.outdoor_f;
	visit->air_sd[1] = weather->spread.return_f;
	visit->air_sd[2] = weather->spread.wet_bulb_f;
}

_Static_assert((int)PAST_SEEN_MOST >= (int)SEEN_COUNT, "a past visit holds everything seen");

bool past_add(struct past *past, const struct visit *visit, enum stage stage, bool judged_sound)
{
	struct figure_set set;
	struct view view = { .visit = visit, .stage = stage, .set = &set };
	struct past_visit added = { .sound = judged_share };
	struct circuit circuit;

	figures_evaluate(visit, stage, &set);
	circuit_judge(&view, NULL, stage == STAGE_AS_LEFT, &circuit);
	if (!circuit.ran || circuit.taken_count == 0)
		return false;
	keep_seen(&circuit, &added);
	added.refrigerant = circuit.machines[0].refrigerant;
	if (!judged_sound) {
		double odds = (stage == STAGE_AS_LEFT ? left_so : nothing_noted) * circuit.sound /
		              fmax(1 - circuit.sound, 1e-9);
		added.sound = fmin(fmax(odds / (1 + odds), least_share), most_share);
	}
	if (past->count == MOST_PAST_VISITS)
		memmove(&past->visits[0], &past->visits[1], (size_t)--past->count * sizeof *past->visits);
	past->visits[past->count++] = added;
	return true;
}

enum stage past_stage(const struct visit *visit)
{
	bool left = visit_has(visit, STAGE_AS_LEFT, READING_SUCTION_PRESSURE) ||
	            visit_has(visit, STAGE_AS_LEFT, READING_LIQUID_PRESSURE);

	return left && visit_circuit_ran(visit, STAGE_AS_LEFT) ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}

void past_end(struct past *past)
{
	past->count = 0;
}
