/*
 * The charge log as the calculations of padside/calc/charge.h take it.
 */
#include <padside/model/charging.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/model/figures.h>
#include <padside/model/moved.h>
#include <padside/model/tightness.h>

enum { MOST_STEPS = 64 };

/* Common practice: outside this stretch, or over this static, airflow comes first. */
static const double lowest_cfm_per_ton = 325, highest_cfm_per_ton = 500;
static const double highest_static = 0.9;

/* Of water on the coil. */
static const double freezing_f = 32;

/* As much of the nameplate's charge at once fills an empty circuit. */
static const double filling_share = 0.7;

/* False when what was read of the air says that the charge must wait. */
static bool is_airflow_sound(const struct visit *visit, enum stage stage)
{
	struct figure_value airflow = figure_evaluate(visit, stage, FIGURE_AIRFLOW_ESTIMATE);
	struct figure_value pressure = figure_evaluate(visit, stage, FIGURE_TOTAL_EXTERNAL_STATIC);
	double tons;

	if (visit_choice(visit, stage, READING_FILTER_CONDITION) == CHOICE_FILTER_BLOCKED)
		return false;
	if (pressure.status == STATUS_OK && pressure.value - pressure.plus_minus > highest_static)
		return false;
	if (airflow.status != STATUS_OK ||
	    visit_number(visit, stage, READING_NOMINAL_CAPACITY, &tons) != STATUS_OK)
		return true;
	return airflow.value + airflow.plus_minus > lowest_cfm_per_ton * tons &&
	       airflow.value - airflow.plus_minus < highest_cfm_per_ton * tons;
}

static struct charge_machine describe_machine(const struct visit *visit, enum stage stage)
{
	struct charge_machine machine = {
		.mode = metering_is_valve(visit_choice(visit, stage, READING_METERING))
			? CHARGE_BY_SUBCOOLING : CHARGE_BY_SUPERHEAT,
		.airflow_sound = is_airflow_sound(visit, stage),
	};

	visit_number(visit, stage, READING_FACTORY_CHARGE, &machine.factory_charge_oz);
	if (visit_number(visit, stage, READING_NOMINAL_CAPACITY, &machine.capacity_ton) != STATUS_OK)
		machine.capacity_ton = 3; /* only used when the charge is unknown too */
	return machine;
}

/* What the readings of a stage say of the charge, as one line of the log. */
static struct charge_step read_step(const struct visit *visit, enum stage stage,
                                    enum charge_mode mode)
{
	bool by_superheat = mode == CHARGE_BY_SUPERHEAT;
	struct figure_value now = figure_evaluate(visit, stage,
	                                          by_superheat ? FIGURE_SUPERHEAT : FIGURE_SUBCOOLING);
	struct figure_value target = figure_evaluate(visit, stage, by_superheat
	                                             ? FIGURE_TARGET_SUPERHEAT
	                                             : FIGURE_TARGET_SUBCOOLING);

	/* What it is off by is as uncertain as both together. */
	return (struct charge_step){
		.response_f = now.value, .plus_minus_f = hypot(now.plus_minus, target.plus_minus),
		.target_f = target.value,
	};
}

/* The same for an entry: its readings laid over those of the stage. */
static struct charge_step read_entry(const struct call *call, enum stage stage,
                                     const struct charge_entry *entry, enum charge_mode mode)
{
	struct visit visit;

	charging_visit(call, stage, entry, &visit);
	bool was_read = entry->values[CHARGE_SUCTION_PRESSURE].state != VALUE_NOT_TAKEN ||
	                entry->values[CHARGE_LIQUID_PRESSURE].state != VALUE_NOT_TAKEN;
	struct charge_step step = read_step(&visit, stage, mode);
	if (!was_read)
		step.response_f = NAN;
	step.added_oz = entry->added_oz - entry->recovered_oz;
	return step;
}

/* When the reading that charging goes by was taken in a stage. */
static wall_time stage_time(const struct visit *visit, enum stage stage, enum charge_mode mode)
{
	enum reading reading = mode == CHARGE_BY_SUPERHEAT ? READING_SUCTION_LINE_TEMP
	                                                   : READING_LIQUID_LINE_TEMP;

	return visit_value(visit, stage, reading)->taken_at;
}

/* Minutes from one time to another; below 0 where it is before. */
static double minutes_between(wall_time from, wall_time to)
{
	return (double)(to - from) / 60;
}

/* What is left until it ran long enough, minutes; unknown: the whole of it. */
static double until_steady(const struct visit *visit, enum stage stage)
{
	double minutes;

	return visit_number(visit, stage, READING_RUNNING_MINUTES, &minutes) == STATUS_OK
	       ? fmax(CHARGE_WAIT_MINUTES - minutes, 0) : CHARGE_WAIT_MINUTES;
}

/* Whether a line of the charge log fills an empty circuit by weight, be it in both logs. */
static bool fills(const struct call *call, const struct charge_entry *entry)
{
	double charge_oz;

	for (size_t i = 0; i < call->tightness_count; i++) {
		const struct tightness_entry *other = &call->tightness[i];
		if (other->kind == TIGHTNESS_WEIGH_IN && other->amount.state == VALUE_TAKEN &&
		    moved_is_alike(entry->added_oz, other->amount.number))
			return true;
	}
	return visit_number(&call->visit, STAGE_AS_FOUND, READING_FACTORY_CHARGE, &charge_oz) ==
	       STATUS_OK && entry->added_oz >= filling_share * charge_oz;
}

/* The filling of a circuit as a step: nothing is read at it, and the wait begins. */
static const struct charge_step filling = { .response_f = NAN, .target_f = NAN };

/*
 * When the circuit was last filled by weight: what was read and moved before is of another charge.
 */
static wall_time last_filling(const struct call *call)
{
	wall_time last = WALL_TIME_NONE;

	for (size_t i = 0; i < call->tightness_count; i++)
		if (call->tightness[i].kind == TIGHTNESS_WEIGH_IN && call->tightness[i].at > last)
			last = call->tightness[i].at;
	for (size_t i = 0; i < call->charge_count; i++)
		if (call->charge[i].at > last && fills(call, &call->charge[i]))
			last = call->charge[i].at;
	return last;
}

/* The log, then the readings of the stage where they are newer; returns how many. */
static size_t gather_steps(const struct call *call, enum stage stage, enum charge_mode mode,
                           struct charge_step *steps)
{
	size_t skipped = call->charge_count >= MOST_STEPS ? call->charge_count - MOST_STEPS + 1 : 0;
	size_t count = 0;
	wall_time filled = last_filling(call), start = filled, last = filled;

	if (filled != WALL_TIME_NONE)
		steps[count++] = filling;
	for (size_t i = skipped; i < call->charge_count; i++) {
		const struct charge_entry *entry = &call->charge[i];
		if (entry->at == WALL_TIME_NONE || (last != WALL_TIME_NONE && entry->at < last) ||
		    (filled != WALL_TIME_NONE && entry->at <= filled) || fills(call, entry))
			continue;
		if (start == WALL_TIME_NONE)
			start = entry->at;
		last = entry->at;
		steps[count] = read_entry(call, stage, entry, mode);
		steps[count++].minutes = minutes_between(start, entry->at);
	}
	struct charge_step now = read_step(&call->visit, stage, mode);
	wall_time at = stage_time(&call->visit, stage, mode);
	if (isnan(now.response_f) || (last != WALL_TIME_NONE && at <= last))
		return count;
	now.minutes = start == WALL_TIME_NONE || at == WALL_TIME_NONE ? 0 : minutes_between(start, at);
	/* Long enough after the last entry the technician's word that it ran steadily counts. */
	bool long_enough = count == 0 || now.minutes - steps[count - 1].minutes >= CHARGE_WAIT_MINUTES;
	if (long_enough && until_steady(&call->visit, stage) <= 0) {
		steps[count] = now;
		steps[count++].minutes -= CHARGE_SETTLED_MINUTES;
	}
	steps[count++] = now;
	return count;
}

void charging_visit(const struct call *call, enum stage stage, const struct charge_entry *entry,
                    struct visit *visit)
{
	*visit = call->visit;
	for (int i = 0; i < CHARGE_READING_COUNT; i++)
		if (entry->values[i].state != VALUE_NOT_TAKEN)
			visit_set(visit, stage, charge_reading_id((enum charge_reading)i), &entry->values[i]);
}

/* How long the unit had run at a time; NAN where it is not known. */
static double minutes_run(const struct visit *visit, enum stage stage, wall_time at)
{
	const struct value *written = visit_value(visit, stage, READING_RUNNING_MINUTES);
	const struct value *seen = visit_value(visit, stage, READING_COMPRESSOR_STATE);

	if (written->state == VALUE_TAKEN && written->taken_at != WALL_TIME_NONE)
		return written->number + minutes_between(written->taken_at, at);
	/* One that stood as found was started after the work. */
	if (stage != STAGE_AS_LEFT || seen->choice != CHOICE_COMPRESSOR_STATE_RUNS ||
	    seen->taken_at == WALL_TIME_NONE || at < seen->taken_at ||
	    !visit_has(visit, STAGE_AS_FOUND, READING_COMPRESSOR_STATE) ||
	    visit_choice(visit, STAGE_AS_FOUND, READING_COMPRESSOR_STATE) ==
	        CHOICE_COMPRESSOR_STATE_RUNS)
		return NAN;
	return minutes_between(seen->taken_at, at);
}

/* An iced coil takes an hour and more to thaw (common practice); who looked again knows better. */
static double minutes_iced(const struct visit *visit, enum stage stage, wall_time at)
{
	const double thawing = 60;
	const struct value *iced = visit_value(visit, STAGE_AS_FOUND, READING_COIL_CONDITION);

	if (stage != STAGE_AS_LEFT || iced->state != VALUE_TAKEN || iced->choice != CHOICE_COIL_ICED ||
	    iced->taken_at == WALL_TIME_NONE || visit_has(visit, STAGE_AS_LEFT, READING_COIL_CONDITION))
		return 0;
	return fmax(thawing + CHARGE_WAIT_MINUTES - minutes_between(iced->taken_at, at), 0);
}

double charging_minutes_early(const struct call *call, enum stage stage, enum reading reading)
{
	wall_time at = visit_value(&call->visit, stage, reading)->taken_at;
	double early;

	if (!visit_has(&call->visit, stage, reading) || at == WALL_TIME_NONE ||
	    !reading_is_of_circuit(reading))
		return 0;
	early = minutes_iced(&call->visit, stage, at);
	double run = minutes_run(&call->visit, stage, at);
	if (!isnan(run))
		early = fmax(early, CHARGE_WAIT_MINUTES - run);
	for (size_t i = 0; i < call->charge_count; i++) {
		const struct charge_entry *entry = &call->charge[i];
		bool moved = entry->added_oz > 0 || entry->recovered_oz > 0;
		if (moved && entry->at != WALL_TIME_NONE && entry->at <= at)
			early = fmax(early, CHARGE_WAIT_MINUTES - minutes_between(entry->at, at));
	}
	return early;
}

static bool is_refrigerant_worked_on(const struct call *call)
{
	for (size_t i = 0; i < call->charge_count; i++)
		if (call->charge[i].added_oz > 0 || call->charge[i].recovered_oz > 0)
			return true;
	for (size_t i = 0; i < call->work_count; i++)
		if (call->work[i].kind == WORK_REFRIGERANT)
			return true;
	return call->tightness_count > 0;
}

bool charging_belongs_to_found(const struct call *call, enum stage stage, enum reading reading)
{
	if (stage != STAGE_AS_LEFT || !reading_is_of_circuit(reading) || is_refrigerant_worked_on(call))
		return false;
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_is_of_circuit((enum reading)i) &&
		    visit_has(&call->visit, STAGE_AS_FOUND, (enum reading)i))
			return false;
	return true;
}

/* When refrigerant was moved last, or the circuit stood open to nitrogen or a pump. */
static wall_time last_moved(const struct call *call)
{
	wall_time last = WALL_TIME_NONE;

	for (size_t i = 0; i < call->charge_count; i++) {
		const struct charge_entry *entry = &call->charge[i];
		if ((entry->added_oz > 0 || entry->recovered_oz > 0) && entry->at > last)
			last = entry->at;
	}
	for (size_t i = 0; i < call->tightness_count; i++)
		if (call->tightness[i].at > last)
			last = call->tightness[i].at;
	return last;
}

/* Whether the charge shows in it: what is read of the running circuit, and the air it cools. */
static bool is_of_charge(enum reading reading)
{
	return reading_is_of_circuit(reading) || reading == READING_SUPPLY_DB ||
	       reading == READING_SUPPLY_WB || reading == READING_SUPPLY_RH;
}

/* Whether it was read as left before that; a reading without a time accuses nobody. */
static bool is_outdated(const struct call *call, enum reading reading, wall_time moved)
{
	wall_time at = visit_value(&call->visit, STAGE_AS_LEFT, reading)->taken_at;

	return moved != WALL_TIME_NONE && is_of_charge(reading) &&
	       visit_has(&call->visit, STAGE_AS_LEFT, reading) && at != WALL_TIME_NONE && at <= moved;
}

bool charging_drop_outdated(struct call *call)
{
	static const struct value nothing = { .taken_at = WALL_TIME_NONE };
	wall_time moved = last_moved(call);
	bool any = false;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		if (!is_outdated(call, (enum reading)i, moved))
			continue;
		visit_set(&call->visit, STAGE_AS_LEFT, (enum reading)i, &nothing);
		any = true;
	}
	return any;
}

/* Whether anything was read of the running circuit as left, at all or since that. */
static bool is_circuit_read(const struct call *call, bool since)
{
	wall_time moved = last_moved(call);

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		if (reading_is_of_circuit(reading) && visit_has(&call->visit, STAGE_AS_LEFT, reading) &&
		    !visit_is_copy(&call->visit, reading) && !(since && is_outdated(call, reading, moved)))
			return true;
	}
	return false;
}

bool charging_is_read_since(const struct call *call)
{
	return is_circuit_read(call, true);
}

bool charging_is_outdated(const struct call *call)
{
	return is_circuit_read(call, false) && !charging_is_read_since(call);
}

/* On an inverter superheat and subcooling move with the speed. */
static bool is_weighed_in(const struct call *call, enum stage stage)
{
	return visit_choice(&call->visit, stage, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER;
}

/*
 * A coil below freezing ices in time, and readings on ice are void.  Who saw
 * the coil knows better.
 */
static bool may_be_iced(const struct visit *visit, enum stage stage)
{
	struct figure_value coil = figure_evaluate(visit, stage, FIGURE_SUCTION_SATURATION_TEMP);

	return coil.status == STATUS_OK && coil.value + coil.plus_minus < freezing_f &&
	       visit_choice(visit, stage, READING_COIL_CONDITION) == CHOICE_NONE;
}

/* Why there is no target: by the readings of the last entry of the log, or of the stage. */
static enum status target_status(const struct call *call, enum stage stage, enum charge_mode mode)
{
	struct visit visit = call->visit;

	if (call->charge_count > 0)
		charging_visit(call, stage, &call->charge[call->charge_count - 1], &visit);
	enum figure target = mode == CHARGE_BY_SUPERHEAT ? FIGURE_TARGET_SUPERHEAT
	                                                 : FIGURE_TARGET_SUBCOOLING;
	return figure_evaluate(&visit, stage, target).status;
}

/*
 * Charge is lacking and was not all taken out on this call: gas alone leaks away again, until a
 * test has held (common practice).  A line of the work is words: it proves no repair.  Before the
 * charge can be judged (CHARGE_WAIT) a leak that was found is all that is known.
 */
static enum charging_leak leak_of(const struct call *call, enum charge_verdict verdict)
{
	struct tightness_told tightness;
	struct moved moved;

	moved_work_out(call, &moved);
	tightness_work_out(call, &tightness);
	if ((verdict != CHARGE_ADD && verdict != CHARGE_WAIT) ||
	    moved.recovered_oz > moved.added_oz ||
	    tightness.nitrogen == NITROGEN_HELD || tightness.vacuum == VACUUM_HELD)
		return CHARGING_LEAK_NONE;
	if (visit_leak_found(&call->visit, STAGE_AS_FOUND) ||
	    visit_leak_found(&call->visit, STAGE_AS_LEFT))
		return CHARGING_LEAK_FOUND;
	if (verdict == CHARGE_WAIT)
		return CHARGING_LEAK_NONE;
	return last_filling(call) != WALL_TIME_NONE ? CHARGING_LEAK_UNPROVED : CHARGING_LEAK_OPEN;
}

/* Whether anything that charging goes by was read in the stage, or in the log. */
static bool was_read(const struct call *call, enum stage stage, enum charge_mode mode)
{
	for (size_t i = 0; i < call->charge_count; i++)
		if (call->charge[i].values[CHARGE_SUCTION_PRESSURE].state != VALUE_NOT_TAKEN ||
		    call->charge[i].values[CHARGE_LIQUID_PRESSURE].state != VALUE_NOT_TAKEN)
			return true;
	return visit_has(&call->visit, stage, mode == CHARGE_BY_SUPERHEAT ? READING_SUCTION_LINE_TEMP
	                                                                  : READING_LIQUID_LINE_TEMP);
}

void charging_work_out(const struct call *call, enum stage stage, struct charging *charging)
{
	struct charge_step steps[MOST_STEPS + 2];
	struct charge_machine machine = describe_machine(&call->visit, stage);
	size_t count = gather_steps(call, stage, machine.mode, steps);

	*charging = (struct charging){ .mode = machine.mode, .now_f = NAN, .target_f = NAN };
	if (count > 0) {
		charging->now_f = steps[count - 1].response_f;
		charging->target_f = steps[count - 1].target_f;
	}
	/* The filling alone: what was read before it is of another charge. */
	if (count == 1 && last_filling(call) != WALL_TIME_NONE && isnan(steps[0].response_f)) {
		count = 0;
		charging->filled_since = was_read(call, stage, machine.mode);
	}
	if (charging->filled_since)
		charging->advice = (struct charge_advice){ .verdict = CHARGE_WAIT,
		                                           .wait_minutes = CHARGE_WAIT_MINUTES };
	enum status status = charging->filled_since ? STATUS_OK : count == 0 ? STATUS_LOG_EMPTY
		: isnan(charging->target_f) ? target_status(call, stage, machine.mode)
		: charge_advise(&machine, steps, count, &charging->advice);
	if (status == STATUS_OK && charging->advice.verdict == CHARGE_WAIT &&
	    visit_has(&call->visit, stage, READING_RUNNING_MINUTES))
		charging->advice.wait_minutes = fmax(charging->advice.wait_minutes,
		                                     until_steady(&call->visit, stage));
	enum status no_use = figure_void(&call->visit, stage);
	if (no_use != STATUS_OK)
		status = no_use;
	if (is_weighed_in(call, stage))
		status = STATUS_NOT_APPLICABLE;
	charging->may_be_iced = may_be_iced(&call->visit, stage);
	charging->leak = leak_of(call, status == STATUS_OK ? charging->advice.verdict : CHARGE_WAIT);
	charging->possible = status == STATUS_OK;
	charging->status = status;
}
