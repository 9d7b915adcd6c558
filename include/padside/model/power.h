#ifndef PADSIDE_POWER_H
#define PADSIDE_POWER_H

#include <stdbool.h>

#include <padside/model/call.h>

/*
 * The power of the unit, as far as the answers and the readings show it: made
 * safe → power on for measuring → running → made safe again.  Nothing is
 * stored: the state follows from what was written down and when.
 *
 * The rules, each on the side of caution:
 * - Made safe are six answers, all yes: locked out, meter proved before and
 *   after, power proved off, capacitors discharged, terminal cover checked.  A split
 *   with ducts has a second supply: until that is locked out too, only what is outdoors is safe.
 * - A reading that is only there with the power on (`power` of its row) ends
 *   it at once.  To be safe again all are answered anew.
 * - A reading that only needs power (volts, a static pressure) does not end "running": a
 *   lock-out, 0 V, a compressor that is silent or draws nothing do.
 * - Of two times that are equal or unknown, the power came later.
 * - Left off, locked and tagged is no proof either: it warns before a meter is put to it.
 * - 0 V at a live reading is no power, and no proof of none: it is not safe.
 * - 0 V on the load side or at a coil, or at one pair of phases, is power while the supply was
 *   last read live and was not locked out since.
 * - A current beside a motor that is silent shows power, not a unit that runs.
 * - What was read at rest shows no power: pressures and pipe temperatures
 *   beside a compressor that is silent or hums, a motor that is silent.
 */

enum power_state {
	POWER_STATE_UNKNOWN,  /* nothing was recorded */
	POWER_STATE_UNPROVED, /* locked out, but not all of it was proved since */
	POWER_STATE_NO_VOLTAGE, /* 0 V was measured last, which proves nothing */
	POWER_STATE_LEFT_OFF, /* left off, locked and tagged, and no power since */
	POWER_STATE_OUTDOOR,  /* the six, but not of a split's indoor unit */
	POWER_STATE_SAFE,     /* all of it, and no power since */
	POWER_STATE_ON,       /* power on, nothing seen to run */
	POWER_STATE_RUNNING,  /* the unit, or a part of it, runs */
	POWER_STATE_COUNT
};

struct power {
	enum power_state state; /* now */
	wall_time since;        /* when it began; WALL_TIME_NONE unknown */
	enum reading shown_by;  /* the reading that showed it; READING_NONE: the charge log, or none */
};

/* What the readings alone show. */
struct power power_of_visit(const struct visit *visit);

/* The same with the charge log, whose pressures are those of a running unit. */
struct power power_of_call(const struct call *call);

/*
 * The first sign of power after the latest of the six answers: the state it shows, when,
 * and by which reading.  POWER_STATE_UNKNOWN when there is none, or nothing was locked out.
 */
struct power power_came_back(const struct call *call);

/*
 * Whether it is on record that the unit was left off, locked and tagged, and no power was seen
 * since, be it the indoor blower's.
 */
bool power_left_locked(const struct call *call);

/* Whether it is on record, and when; power may have been seen since. */
bool power_was_left_locked(const struct call *call, wall_time *at);

/*
 * Whether the unit is off and locked out, be it proved or not, and be the indoor unit of a split
 * live.
 */
bool power_is_off(enum power_state state);

/* Whether what a reading is taken at was made safe: the outdoor unit, or all of it. */
bool power_is_safe_for(const struct power *power, enum reading reading);

/*
 * Whether to warn before `reading` is written down: it is taken with the
 * power off, the unit is not recorded as safe, and that was not yet noted
 * (call.unsafe_at) since the power came on.
 */
bool power_warns(const struct call *call, enum reading reading);

/*
 * Whether a reading that is taken with the power off was taken while the unit was not recorded
 * as safe: not all six were answered by then, or power was seen in between.  A reading without
 * a time accuses nobody, nor does a copy: as found it was read.
 */
bool power_was_unsafe(const struct call *call, enum stage stage, enum reading reading);

/* The state in words, and what runs where that is the indoor blower alone.  Static. */
const char *power_words(const struct call *call, const struct power *power);

#endif
