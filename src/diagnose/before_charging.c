/*
 * The charge of a unit that did not run on arrival: it is read for the first
 * time after the repair, set, and read again.  What it was before stands in the
 * charge log alone, in its first line with pressures.
 */
#include "diagnose/before_charging.h"

#include <padside/model/moved.h>

/* As likely as this, by the readings as left, the charge is not right yet. */
static const double still_from = 0.3;

/* Read again since, or of no line of the log: they tell of another charge. */
static const enum reading later[] = {
	READING_DISCHARGE_LINE_TEMP, READING_CONDENSER_LEAVING_DB, READING_CONDENSER_BEND_TEMP,
	READING_DRIER_IN_TEMP, READING_DRIER_OUT_TEMP, READING_COMMON_AMPS, READING_AMPS_A,
	READING_AMPS_B, READING_AMPS_C, READING_SUPPLY_DB, READING_SUPPLY_WB, READING_SUPPLY_RH,
	READING_SUCTION_PRESSURE, READING_SUCTION_LINE_TEMP, READING_LIQUID_PRESSURE,
	READING_LIQUID_LINE_TEMP,
};

static bool has_pressure(const struct charge_entry *entry)
{
	return entry->values[CHARGE_SUCTION_PRESSURE].state != VALUE_NOT_TAKEN ||
	       entry->values[CHARGE_LIQUID_PRESSURE].state != VALUE_NOT_TAKEN;
}

/* The first line with pressures, if nothing was moved by then; NULL: there is none. */
static const struct charge_entry *first_of(const struct call *call)
{
	for (size_t i = 0; i < call->charge_count; i++) {
		const struct charge_entry *entry = &call->charge[i];
		/* A line's readings stood just before what it moved. */
		if (has_pressure(entry))
			return entry;
		if (entry->added_oz > 0 || entry->recovered_oz > 0)
			return NULL;
	}
	return NULL;
}

/* Whether the charge was moved as the fault asks for, by both logs. */
static bool was_moved(const struct call *call, enum fault fault)
{
	struct moved moved;

	moved_work_out(call, &moved);
	return fault == FAULT_UNDERCHARGE ? moved.added_oz > moved.recovered_oz
	     : fault == FAULT_OVERCHARGE && moved.recovered_oz > moved.added_oz;
}

static bool is_found(const struct diagnosis *diagnosis, enum fault fault)
{
	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			return true;
	return false;
}

/* The readings as left, as they stood at the line. */
static void read_line(const struct call *call, const struct charge_entry *entry,
                      struct visit *visit)
{
	static const struct value nothing = { .taken_at = WALL_TIME_NONE };
	struct call bare = *call;

	for (size_t i = 0; i < sizeof later / sizeof *later; i++)
		visit_set(&bare.visit, STAGE_AS_LEFT, later[i], &nothing);
	charging_visit(&bare, STAGE_AS_LEFT, entry, visit);
}

void before_charging_add(const struct assessment_input *input, struct assessment *assessment)
{
	struct diagnosis *found = &assessment->diagnoses[STAGE_AS_FOUND], before;
	const struct charge_entry *entry = first_of(input->call);
	struct figure_set set;
	struct visit visit;

	if (!entry)
		return;
	read_line(input->call, entry, &visit);
	figures_evaluate(&visit, STAGE_AS_LEFT, &set);
	diagnose(&visit, STAGE_AS_LEFT, &set, input->past, &before);
	for (int i = 0; i < before.finding_count && found->finding_count < MOST_FINDINGS; i++) {
		const struct finding *finding = &before.findings[i];
		if (finding->level == LEVEL_ACT && was_moved(input->call, finding->fault) &&
		    !is_found(found, finding->fault))
			found->findings[found->finding_count++] = *finding;
	}
}

/* Whether what the charge is judged by was read after the work. */
static bool was_read_again(const struct visit *visit, const struct assessment *assessment)
{
	bool is_valve = metering_is_valve(visit_choice(visit, STAGE_AS_LEFT, READING_METERING));
	enum figure figure = is_valve ? FIGURE_SUBCOOLING : FIGURE_SUPERHEAT;

	return assessment->figures[STAGE_AS_LEFT].values[figure].status == STATUS_OK &&
	       !visit_is_copy(visit, is_valve ? READING_LIQUID_LINE_TEMP : READING_SUCTION_LINE_TEMP);
}

void before_charging_follow(const struct assessment_input *input, struct assessment *assessment)
{
	struct diagnosis *leading = &assessment->diagnoses[assessment->leading];

	if (!was_read_again(&input->call->visit, assessment))
		return;
	for (int i = 0; i < leading->finding_count; i++) {
		struct finding *finding = &leading->findings[i];
		if (finding->is_judged && finding->verdict == JUDGEMENT_CONFIRMED &&
		    finding->after_work == AFTER_WORK_NONE && finding->probability < still_from &&
		    was_moved(input->call, finding->fault))
			finding->after_work = AFTER_WORK_GONE;
	}
}
