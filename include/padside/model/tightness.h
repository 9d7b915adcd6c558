#ifndef PADSIDE_MODEL_TIGHTNESS_H
#define PADSIDE_MODEL_TIGHTNESS_H

#include <stdbool.h>

#include <padside/model/call.h>

/*
 * What the tightness log shows.  Facts only; pure.
 *
 * Nitrogen: the pressure that the first reading would have at the temperature
 * of the last one, P2 = (P1 + 14.7) T2 / T1 - 14.7 in psig and °R (gas law at
 * constant volume); what is below it was lost.
 *
 * Vacuum: from the lowest reading on.  At or below 500 microns 15 minutes later
 * it held (makers' installation instructions); a rise that levels off is
 * moisture, a steady one is a leak (the same sources).
 */

enum vacuum_state {
	VACUUM_NONE,    /* nothing to go by */
	VACUUM_WAITING, /* not 15 minutes since the lowest reading */
	VACUUM_HELD,    /* at or below 500 microns after 15 minutes */
	VACUUM_MOIST,   /* rises, and levels off */
	VACUUM_LEAKING, /* rises steadily */
	VACUUM_UNCLEAR  /* above 500 microns, with too few readings to tell moisture from a leak */
};

struct tightness {
	bool has_nitrogen;       /* two pressures */
	double lost_psi;         /* below the expected pressure; negative: above it */
	double lost_plus_minus;  /* of gauge and thermometers, 95 % */
	int nitrogen_minutes;    /* between the two */
	bool is_corrected;       /* for the temperature; false: one was not written */
	enum vacuum_state vacuum; /* what the vacuum shows */
	double lowest, newest;   /* microns */
	int vacuum_minutes;      /* from the lowest to the newest */
};

void tightness_work_out(const struct call *call, struct tightness *tightness);

#endif
