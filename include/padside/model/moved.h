#ifndef PADSIDE_MOVED_H
#define PADSIDE_MOVED_H

#include <stdbool.h>

#include <padside/model/call.h>

/*
 * Refrigerant that was put in and taken out on a call.
 *
 * A filling may stand in the charge log, in the tightness log as a weigh-in, or
 * in both: what stands in both counts once.  It does where lines of the charge log,
 * one behind another, come to the same, or where such weigh-ins come to a line of the
 * charge log, or where all lines of both do.  The same is what a scale that
 * rounds shows: within an ounce and within 15 %, common practice.  The ledger of
 * the book has the same rule (src/store/ledger.c).
 */

struct moved {
	double added_oz;     /* put in, weigh-ins with it */
	double recovered_oz; /* taken out */
};

/* The sums of a call. */
void moved_work_out(const struct call *call, struct moved *moved);

/*
 * Whether what was put in, less what was taken out, is a tenth and more above what the unit
 * holds (common practice: a scale and a line set are not off by so much).  *full_oz is that: by
 * the nameplate and its line set, or, *by_plate, by the nameplate alone; NAN where neither is
 * known.
 */
bool moved_is_over_full(const struct call *call, double *full_oz, bool *by_plate);

/* Whether ounces that one log has are what a scale shows of an amount of the other. */
bool moved_is_alike(double ounces, double amount);

/* Whether a line of the tightness log is a weigh-in that the charge log does not have. */
bool moved_is_weigh_in(const struct call *call, const struct tightness_entry *entry);

/* Whether such a weigh-in is within a tenth of what the charge log has: it may be one with it. */
bool moved_is_doubtful(const struct call *call, const struct tightness_entry *entry);

#endif
