#ifndef PADSIDE_CHARGING_H
#define PADSIDE_CHARGING_H

#include <stdbool.h>

#include <padside/base/status.h>
#include <padside/catalog/faults.h>
#include <padside/model/call.h>
#include <padside/calc/charge.h>

/*
 * Setting the charge: what the charge log of a call says about the next step,
 * as facts (padside/report/wording.h words them).  Binds the log and the nameplate
 * to the calculations of padside/calc/charge.h.
 */

/* What is on record of the leak where charge is lacking. */
enum charging_leak {
	CHARGING_LEAK_NONE,     /* nothing is lacking, or a test has held */
	CHARGING_LEAK_OPEN,     /* no place, no held test */
	CHARGING_LEAK_FOUND,    /* the place, but no held test */
	CHARGING_LEAK_UNPROVED  /* it was filled by weight on this call, without a held test */
};

struct charging {
	bool possible;               /* there is a target and a reading to go by */
	enum charge_mode mode;       /* superheat on an orifice, subcooling behind a valve */
	double now_f;                /* of the last readings, °F */
	double target_f;             /* what it should be, °F */
	struct charge_advice advice; /* when possible */
	enum status status;          /* STATUS_OK, or why it is not possible */
	enum fault first;            /* to be repaired before the charge is moved; FAULT_NONE */
	bool may_be_iced;            /* the coil is below freezing, and nobody looked at it */
	enum charging_leak leak;     /* where charge is lacking */
	bool filled_since;           /* the circuit was filled by weight after the last readings */
};

/* The readings of a stage as they stood at an entry of the log: its own laid over them. */
void charging_visit(const struct call *call, enum stage stage, const struct charge_entry *entry,
                    struct visit *visit);

/*
 * How many minutes too early a reading of the running circuit was taken: of the
 * 15 minutes of steady running (RA3.2), by the minutes that were written or from
 * when the compressor was seen to run again, of the wait after refrigerant was
 * moved, and as left of the thawing of a coil that was found iced.  0 where it
 * had settled, where nothing is known of it, and for every other reading.
 */
double charging_minutes_early(const struct call *call, enum stage stage, enum reading reading);

/*
 * Whether a reading of the circuit that is about to be written as left belongs to as found: no
 * work on the refrigerant is on record (moved, a test, a line billed), and nothing of the
 * running circuit stands as found.
 */
bool charging_belongs_to_found(const struct call *call, enum stage stage, enum reading reading);

/*
 * Takes from the readings as left what was read of the running circuit, and the supply air,
 * before refrigerant was moved last or the circuit was tested: it is of another charge.
 * Returns whether there was any.  A reading without a time stays.
 */
bool charging_drop_outdated(struct call *call);

/* Whether the running circuit was read as left since then. */
bool charging_is_read_since(const struct call *call);

/* Whether it was read as left, and all of that is of before. */
bool charging_is_outdated(const struct call *call);

/*
 * Works out the advice from the log and the readings of a stage.  `first` is
 * FAULT_NONE: assessment_charging() knows the findings.
 */
void charging_work_out(const struct call *call, enum stage stage, struct charging *charging);

#endif
