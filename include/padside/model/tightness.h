#ifndef PADSIDE_MODEL_TIGHTNESS_H
#define PADSIDE_MODEL_TIGHTNESS_H

#include <stdbool.h>

#include <padside/model/call.h>

/*
 * What the tightness log shows: its tests, judged by padside/calc/tightness.h.
 * Facts only; pure.
 *
 * Nitrogen is judged from the first pressure of a test to its last, a vacuum from
 * its lowest reading on.
 *
 * A pressure that rises by more than 25 °F would do it was put in: a new test
 * begins there.  A loss within that is no leak while a temperature is missing.
 */

enum nitrogen_state {
	NITROGEN_NONE,    /* nothing to go by */
	NITROGEN_WAITING, /* nothing lost, and not for long enough */
	NITROGEN_HELD,    /* nothing lost beyond the ±, for the whole time */
	NITROGEN_UNCLEAR, /* lost; a temperature that was not written could be why */
	NITROGEN_LEAKING  /* lost more than its ± */
};

enum vacuum_state {
	VACUUM_NONE,    /* nothing to go by */
	VACUUM_WAITING, /* not over 500 microns, and not for 15 minutes */
	VACUUM_HELD,    /* at or below 500 microns after 15 minutes */
	VACUUM_MOIST,   /* rises, and levels off */
	VACUUM_LEAKING, /* rises steadily */
	VACUUM_UNCLEAR  /* above 500 microns; too few looks, too soon, or between leak and moisture */
};

struct tightness_told {
	bool has_nitrogen;       /* two pressures of one test */
	enum nitrogen_state nitrogen; /* what they show */
	double lost_psi;         /* below the expected pressure; negative: above it */
	double lost_plus_minus;  /* of gauge and thermometers, 95 % */
	int nitrogen_minutes;    /* between the two */
	int nitrogen_least;      /* minutes that it should last: longer with a flammable refrigerant */
	bool is_corrected;       /* for the temperature; false: one was not written */
	enum vacuum_state vacuum; /* what the vacuum shows */
	double lowest, newest;   /* microns */
	int vacuum_minutes;      /* from the lowest to the newest */
};

/*
 * ± of what is lost between two nitrogen readings, psi, 95 %: two pressures on one
 * gauge, and what two thermometers make of it at constant volume.
 */
double nitrogen_plus_minus(const struct tightness_entry *from, const struct tightness_entry *to);

/* What the whole log shows: of each kind its last test. */
void tightness_work_out(const struct call *call, struct tightness_told *tightness);

/* What it shows up to and with entry `last` of the log. */
void tightness_work_out_to(const struct call *call, size_t last, struct tightness_told *tightness);

/* Whether the last vacuum that was read before an entry of the log held. */
bool tightness_is_evacuated_before(const struct call *call, const struct tightness_entry *entry);

/* Whether a line has what its kind is of: a pressure, a vacuum, an amount. */
bool tightness_was_read(const struct tightness_entry *entry);

/*
 * Whether an entry is the last one of its test: none of its kind, or of a new test, is behind it.
 */
bool tightness_ends_test(const struct call *call, size_t entry);

/* Whether the last vacuum rose over its limit. */
bool tightness_vacuum_did_not_hold(const struct tightness_told *tightness);

/* Whether the last pressure test, or the last vacuum, did not hold. */
bool tightness_did_not_hold(const struct tightness_told *tightness);

#endif
