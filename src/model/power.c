/*
 * The power of the unit, followed through the readings of a call.
 *
 * Every reading that was taken is a piece of evidence with a time: it shows
 * that the unit runs, that there is power, or nothing.  The latest piece
 * stands against the earliest of the safety answers.  A piece that only
 * shows power does not end what runs.
 */
#include <padside/model/power.h>

#include <stddef.h>

/*
 * All of these, answered yes, make a unit safe to put a meter to; what it is without that answer.
 */
static const struct {
	enum reading reading;
	enum power_state without;
} made_safe[] = {
	{ READING_DISCONNECT_LOCKED, POWER_STATE_UNPROVED },
	{ READING_INDOOR_LOCKED, POWER_STATE_OUTDOOR },
	{ READING_METER_PROVED_BEFORE, POWER_STATE_UNPROVED },
	{ READING_POWER_OFF_VERIFIED, POWER_STATE_UNPROVED },
	{ READING_METER_PROVED_AFTER, POWER_STATE_UNPROVED },
	{ READING_CAPACITOR_DISCHARGED, POWER_STATE_UNPROVED },
	{ READING_TERMINAL_COVER_CHECKED, POWER_STATE_UNPROVED },
};

static const char *const words[POWER_STATE_COUNT] = {
	[POWER_STATE_UNKNOWN] = "not recorded as safe",
	[POWER_STATE_UNPROVED] = "locked out, not proved safe",
	[POWER_STATE_NO_VOLTAGE] = "no voltage, not proved safe",
	[POWER_STATE_LEFT_OFF] = "left off, locked",
	[POWER_STATE_OUTDOOR] = "outdoor locked; indoor may be live",
	[POWER_STATE_SAFE] = "made safe",
	[POWER_STATE_ON] = "power on",
	[POWER_STATE_RUNNING] = "running",
};

/*
 * A current beside a motor that is silent: a heater, or the meter. There is power, and it stands.
 */
static bool is_of_silent_motor(const struct visit *visit, enum stage stage, enum reading reading)
{
	enum reading motor = reading_info(reading)->motor;
	enum choice state = motor == READING_NONE ? CHOICE_NONE : visit_choice(visit, stage, motor);

	return state == CHOICE_COMPRESSOR_STATE_SILENT || state == CHOICE_MOTOR_STATE_SILENT;
}

/* What one reading shows, as a state; POWER_STATE_UNKNOWN for nothing. */
static enum power_state state_shown(const struct visit *visit, enum stage stage,
                                    enum reading reading)
{
	const struct reading_info *info = reading_info(reading);
	const struct value *value = visit_value(visit, stage, reading);

	if (value->state != VALUE_TAKEN || info->power < POWER_NEEDED_ON)
		return POWER_STATE_UNKNOWN;
	switch (value->choice) {
	case CHOICE_COMPRESSOR_STATE_RUNS:
	case CHOICE_COMPRESSOR_STATE_CYCLES:
	case CHOICE_MOTOR_STATE_RUNS:
		return POWER_STATE_RUNNING;
	case CHOICE_COMPRESSOR_STATE_SILENT:
	case CHOICE_MOTOR_STATE_SILENT:
		return POWER_STATE_UNKNOWN;
	default:
		break;
	}
	/* 0 V is no power, and no proof that there is none: the meter was not proved beside it. */
	if (info->unit == UNIT_VOLT && value->number <= 0)
		return POWER_STATE_NO_VOLTAGE;
	if (info->power != POWER_NEEDED_RUNNING || is_of_silent_motor(visit, stage, reading))
		return POWER_STATE_ON;
	bool of_circuit = info->step == STEP_REFRIGERANT || info->step == STEP_AIR;
	if (of_circuit && !visit_circuit_ran(visit, stage))
		return POWER_STATE_UNKNOWN;
	if (reading == READING_RUNNING_MINUTES && value->number <= 0)
		return POWER_STATE_UNKNOWN;
	/* 0 psig can stand at a running unit, 0 A cannot. */
	return value->number > 0 || of_circuit ? POWER_STATE_RUNNING : POWER_STATE_ON;
}

/* Whether `at` is after `than`, or may be: unknown times are the latest of all. */
static bool is_later(wall_time at, wall_time than)
{
	return at == WALL_TIME_NONE || (than != WALL_TIME_NONE && at > than);
}

/* Takes a piece of evidence where it is the latest, or as late and shows more. */
static void take(struct power *power, enum power_state state, wall_time at, enum reading reading)
{
	bool first = power->state == POWER_STATE_UNKNOWN;

	if (state == POWER_STATE_UNKNOWN)
		return;
	if (first || is_later(at, power->since) || (at == power->since && state > power->state))
		*power = (struct power){ .state = state, .since = at, .shown_by = reading };
}

static bool is_of_blower(enum reading reading)
{
	return reading != READING_NONE && reading_info(reading)->motor == READING_BLOWER_STATE;
}

/* What a piece of evidence has to show and whose it has to be. */
struct wanted {
	enum power_state least; /* it shows at least that */
	bool without_blower;    /* it is not the blower's */
};

static struct power latest_shown(const struct visit *visit, struct wanted wanted)
{
	struct power power = { .state = POWER_STATE_UNKNOWN, .since = WALL_TIME_NONE };

	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
			enum power_state state = state_shown(visit, (enum stage)stage, (enum reading)i);
			if (state >= wanted.least && !(wanted.without_blower && is_of_blower((enum reading)i)))
				take(&power, state,
				     visit_value(visit, (enum stage)stage, (enum reading)i)->taken_at,
				     (enum reading)i);
		}
	return power;
}

/* Whether the unit was locked out after that. */
static bool was_locked_since(const struct visit *visit, wall_time since)
{
	static const enum reading locks[] = { READING_DISCONNECT_LOCKED, READING_LEFT_LOCKED };

	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (size_t i = 0; i < sizeof locks / sizeof *locks; i++)
			if (since != WALL_TIME_NONE && visit_is_yes(visit, (enum stage)stage, locks[i]) &&
			    visit_value(visit, (enum stage)stage, locks[i])->taken_at > since)
				return true;
	return false;
}

/* Whether it was seen to stand after that: locked out, no voltage, a compressor that is silent. */
static bool stood_since(const struct visit *visit, wall_time since)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		if (visit_choice(visit, (enum stage)stage, READING_COMPRESSOR_STATE) ==
		    CHOICE_COMPRESSOR_STATE_SILENT &&
		    visit_value(visit, (enum stage)stage, READING_COMPRESSOR_STATE)->taken_at > since)
			return true;
		for (int i = READING_NONE + 1; i < READING_COUNT; i++)
			if (state_shown(visit, (enum stage)stage, (enum reading)i) == POWER_STATE_NO_VOLTAGE &&
			    visit_value(visit, (enum stage)stage, (enum reading)i)->taken_at > since)
				return true;
	}
	return was_locked_since(visit, since);
}

/* The latest evidence; a reading that only needs power, volts or the blower's, ends no running. */
static struct power keep_running(const struct visit *visit, struct power latest,
                                 struct power running)
{
	const struct reading_info *info = latest.shown_by == READING_NONE
	                                  ? NULL : reading_info(latest.shown_by);

	if (latest.state != POWER_STATE_ON || running.state != POWER_STATE_RUNNING || !info ||
	    info->power != POWER_NEEDED_ON || info->kind == KIND_CHOICE ||
	    stood_since(visit, running.since))
		return latest;
	running.since = latest.since;
	return running;
}

static bool is_of_supply(enum reading reading)
{
	const struct reading_info *info = reading_info(reading);

	return info->unit == UNIT_VOLT && info->power == POWER_NEEDED_ON && !info->at_zero;
}

/* The value of the two stages that was read last; of one moment or none the one with volts. */
static const struct value *last_value(const struct visit *visit, enum reading reading)
{
	const struct value *last = visit_value(visit, STAGE_AS_FOUND, reading);
	const struct value *left = visit_value(visit, STAGE_AS_LEFT, reading);

	if (left->state != VALUE_TAKEN || last->state != VALUE_TAKEN)
		return left->state == VALUE_TAKEN ? left : last;
	bool is_later_left = is_later(left->taken_at, last->taken_at) ||
	                     (left->taken_at == last->taken_at && left->number > 0);
	return is_later_left ? left : last;
}

/* Whether a part of the supply that was read last with volts was not locked out since. */
static bool supply_is_live(const struct visit *visit)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct value *value = last_value(visit, (enum reading)i);
		if (is_of_supply((enum reading)i) && value->state == VALUE_TAKEN && value->number > 0 &&
		    !was_locked_since(visit, value->taken_at))
			return true;
	}
	return false;
}

/* Whether the supply itself read 0 V after that. */
static bool supply_died_since(const struct visit *visit, wall_time since)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct value *value = last_value(visit, (enum reading)i);
		if (is_of_supply((enum reading)i) && value->state == VALUE_TAKEN && value->number <= 0 &&
		    value->taken_at > since)
			return true;
	}
	return false;
}

/*
 * The latest evidence; 0 V is no dead supply while a part of the supply is live, nor behind it
 * (load side, coil) while power was seen and neither a lock-out nor 0 V of the supply followed.
 */
static struct power keep_supply(const struct visit *visit, struct power latest, struct power seen)
{
	if (latest.state != POWER_STATE_NO_VOLTAGE)
		return latest;
	bool was_seen = seen.state >= POWER_STATE_ON && !is_of_supply(latest.shown_by) &&
	                !was_locked_since(visit, seen.since) && !supply_died_since(visit, seen.since);
	if (was_seen || supply_is_live(visit))
		latest.state = POWER_STATE_ON;
	return latest;
}

static struct power latest_evidence(const struct visit *visit)
{
	struct power latest = latest_shown(visit, (struct wanted){ .least = POWER_STATE_UNKNOWN });
	struct power running = latest_shown(visit, (struct wanted){ .least = POWER_STATE_RUNNING });

	latest = keep_supply(visit, latest,
	                     latest_shown(visit, (struct wanted){ .least = POWER_STATE_ON }));
	return keep_running(visit, latest, running);
}

/* The later yes of the two stages to a safety question; false when there is none. */
static bool find_yes(const struct visit *visit, enum reading reading, wall_time *at)
{
	bool found = false;

	*at = WALL_TIME_NONE;
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct value *value = visit_value(visit, (enum stage)stage, reading);
		if (value->state != VALUE_TAKEN)
			continue;
		/* A no is the last word unless a yes came after it. */
		if (!found || value->taken_at > *at) {
			found = value->number != 0;
			*at = value->taken_at;
		}
	}
	return found;
}

/* Whether an answer stands against the evidence: it came after the power. */
static bool stands(wall_time answered, const struct power *evidence)
{
	return evidence->state == POWER_STATE_UNKNOWN ||
	       (evidence->since != WALL_TIME_NONE && answered > evidence->since);
}

/* Whether it was left off, locked and tagged, and no sign of power came after that. */
static bool is_left_locked(const struct visit *visit, const struct power *evidence, wall_time *at)
{
	return find_yes(visit, READING_LEFT_LOCKED, at) && stands(*at, evidence);
}

/* The state, from the latest evidence of power and the safety answers. */
static struct power decide(const struct visit *visit, struct power evidence)
{
	struct power safe = { .state = POWER_STATE_SAFE, .since = WALL_TIME_NONE };
	wall_time at, left;

	for (size_t i = 0; i < sizeof made_safe / sizeof *made_safe; i++) {
		enum reading reading = made_safe[i].reading;
		if (!visit_applies(visit, STAGE_AS_FOUND, reading))
			continue;
		if (!find_yes(visit, reading, &at) || !stands(at, &evidence)) {
			safe.state = made_safe[i].without < safe.state ? made_safe[i].without : safe.state;
			continue;
		}
		if (at > safe.since) {
			safe.since = at;
			safe.shown_by = reading;
		}
	}
	if (safe.state >= POWER_STATE_OUTDOOR)
		return safe;
	bool is_locked = find_yes(visit, READING_DISCONNECT_LOCKED, &at) && stands(at, &evidence);
	/* Locked out after that, it was begun anew. */
	if (is_left_locked(visit, &evidence, &left) && (!is_locked || left >= at))
		return (struct power){
			.state = POWER_STATE_LEFT_OFF, .since = left, .shown_by = READING_LEFT_LOCKED,
		};
	if (!is_locked)
		return evidence;
	return (struct power){
		.state = POWER_STATE_UNPROVED, .since = at, .shown_by = READING_DISCONNECT_LOCKED,
	};
}

struct power power_of_visit(const struct visit *visit)
{
	return decide(visit, latest_evidence(visit));
}

/* Whether a log entry was read on a running unit. */
static bool shows_running(const struct charge_entry *entry)
{
	return entry->values[CHARGE_SUCTION_PRESSURE].state == VALUE_TAKEN ||
	       entry->values[CHARGE_LIQUID_PRESSURE].state == VALUE_TAKEN;
}

/* Takes a sign of power where it is the first after `after`. */
static void take_first(struct power *power, enum power_state state, wall_time at,
                       enum reading reading, wall_time after)
{
	bool counts = state >= POWER_STATE_ON && at != WALL_TIME_NONE && at > after;

	if (counts && (power->state == POWER_STATE_UNKNOWN || at < power->since))
		*power = (struct power){ .state = state, .since = at, .shown_by = reading };
}

/* The latest of the six answers; WALL_TIME_NONE when the disconnect was never locked out. */
static wall_time last_answer(const struct visit *visit)
{
	wall_time last, at;

	if (!find_yes(visit, READING_DISCONNECT_LOCKED, &last))
		return WALL_TIME_NONE;
	for (size_t i = 0; i < sizeof made_safe / sizeof *made_safe; i++)
		if (find_yes(visit, made_safe[i].reading, &at) && at > last)
			last = at;
	return last;
}

struct power power_came_back(const struct call *call)
{
	struct power power = { .state = POWER_STATE_UNKNOWN, .since = WALL_TIME_NONE };
	wall_time after = last_answer(&call->visit);

	if (after == WALL_TIME_NONE)
		return power;
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++)
			take_first(&power, state_shown(&call->visit, (enum stage)stage, (enum reading)i),
			           visit_value(&call->visit, (enum stage)stage, (enum reading)i)->taken_at,
			           (enum reading)i, after);
	for (size_t i = 0; i < call->charge_count; i++)
		take_first(&power,
		           shows_running(&call->charge[i]) ? POWER_STATE_RUNNING : POWER_STATE_UNKNOWN,
		           call->charge[i].at, READING_NONE, after);
	return power;
}

/* The latest one asked for, the charge log's running pressures with it. */
static struct power latest_of_call(const struct call *call, struct wanted wanted)
{
	struct power power = latest_shown(&call->visit, wanted);

	for (size_t i = 0; i < call->charge_count; i++)
		if (shows_running(&call->charge[i]))
			take(&power, POWER_STATE_RUNNING, call->charge[i].at, READING_NONE);
	return power;
}

static struct power evidence_of_call(const struct call *call)
{
	struct power latest = latest_of_call(call, (struct wanted){ .least = POWER_STATE_UNKNOWN });
	struct power running = latest_of_call(call, (struct wanted){ .least = POWER_STATE_RUNNING });

	latest = keep_supply(&call->visit, latest,
	                     latest_of_call(call, (struct wanted){ .least = POWER_STATE_ON }));
	return keep_running(&call->visit, latest, running);
}

struct power power_of_call(const struct call *call)
{
	return decide(&call->visit, evidence_of_call(call));
}

bool power_was_left_locked(const struct call *call, wall_time *at)
{
	return find_yes(&call->visit, READING_LEFT_LOCKED, at);
}

bool power_left_locked(const struct call *call)
{
	struct power evidence = evidence_of_call(call);
	wall_time at;

	return is_left_locked(&call->visit, &evidence, &at);
}

bool power_is_off(enum power_state state)
{
	return state == POWER_STATE_UNPROVED || state == POWER_STATE_OUTDOOR ||
	       state == POWER_STATE_SAFE;
}

bool power_is_safe_for(const struct power *power, enum reading reading)
{
	return power->state == POWER_STATE_SAFE ||
	       (power->state == POWER_STATE_OUTDOOR && !is_of_blower(reading));
}

bool power_warns(const struct call *call, enum reading reading)
{
	if (reading_info(reading)->power != POWER_NEEDED_OFF)
		return false;
	struct power power = power_of_call(call);
	if (power_is_safe_for(&power, reading))
		return false;
	return call->unsafe_at == WALL_TIME_NONE ||
	       (power.state >= POWER_STATE_ON && power.since > call->unsafe_at);
}

/* When an answer was first yes and stood before `by`; false: it was not. */
static bool was_yes(const struct visit *visit, enum reading reading, wall_time by, wall_time *at)
{
	bool found = false;

	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct value *value = visit_value(visit, (enum stage)stage, reading);
		if (value->state != VALUE_TAKEN || value->number == 0 || value->taken_at > by ||
		    (found && value->taken_at <= *at))
			continue;
		found = true;
		*at = value->taken_at;
	}
	return found;
}

bool power_was_unsafe(const struct call *call, enum stage stage, enum reading reading)
{
	const struct visit *visit = &call->visit;
	const struct value *value = visit_value(visit, stage, reading);
	wall_time safe = WALL_TIME_NONE, at = WALL_TIME_NONE;

	if (reading_info(reading)->power != POWER_NEEDED_OFF || value->state == VALUE_NOT_TAKEN ||
	    value->taken_at == WALL_TIME_NONE ||
	    (stage == STAGE_AS_LEFT && visit_is_copy(visit, reading)))
		return false;
	for (size_t i = 0; i < sizeof made_safe / sizeof *made_safe; i++) {
		/* Earlier programs asked once for every supply: who was not asked is not accused. */
		if (made_safe[i].without == POWER_STATE_OUTDOOR)
			continue;
		if (!was_yes(visit, made_safe[i].reading, value->taken_at, &at))
			return true;
		if (at > safe)
			safe = at;
	}
	for (int seen = 0; seen < STAGE_COUNT; seen++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
			wall_time when = visit_value(visit, (enum stage)seen, (enum reading)i)->taken_at;
			if (state_shown(visit, (enum stage)seen, (enum reading)i) >= POWER_STATE_ON &&
			    when > safe && when < value->taken_at)
				return true;
		}
	return false;
}

/* Whether the blower is all that was seen to run since the unit was locked out, if it was. */
static bool is_blower_alone(const struct call *call)
{
	struct power other = latest_of_call(call, (struct wanted){ .least = POWER_STATE_RUNNING,
	                                                           .without_blower = true });

	return other.state == POWER_STATE_UNKNOWN || was_locked_since(&call->visit, other.since);
}

/* Whether the power is on by a reading of 0 V, which left the supply live. */
static bool is_shown_at_zero(const struct visit *visit, const struct power *power)
{
	for (int stage = 0; stage < STAGE_COUNT && power->shown_by != READING_NONE; stage++)
		if (visit_value(visit, (enum stage)stage, power->shown_by)->taken_at == power->since &&
		    state_shown(visit, (enum stage)stage, power->shown_by) == POWER_STATE_NO_VOLTAGE)
			return true;
	return false;
}

const char *power_words(const struct call *call, const struct power *power)
{
	if (power->state == POWER_STATE_ON && is_shown_at_zero(&call->visit, power)) {
		const char *at_zero = reading_info(power->shown_by)->at_zero;
		return at_zero ? at_zero : words[POWER_STATE_ON];
	}
	if (power->state >= POWER_STATE_ON && is_of_blower(power->shown_by) && is_blower_alone(call))
		return "indoor blower runs";
	return words[power->state];
}
