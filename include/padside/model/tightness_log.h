#ifndef PADSIDE_TIGHTNESS_LOG_H
#define PADSIDE_TIGHTNESS_LOG_H

#include <stdbool.h>

#include <padside/calc/tightness.h>
#include <padside/model/call.h>

/*
 * What the tightness log of a call shows: binds its entries to the
 * calculations of padside/calc/tightness.h.  Facts in canonical units.
 */

struct tightness_shown {
	bool has_nitrogen;        /* at least two pressures were written down */
	enum tightness nitrogen;  /* tight, leaking or undecided */
	double drop_psi;          /* lost from the highest to the last, temperature taken out */
	double drop_plus_minus;   /* of it, 95 % */
	bool is_corrected;        /* both had their temperature; else they were taken as alike */
	double nitrogen_minutes;  /* between the two */
	double nitrogen_least;    /* minutes that it should last: longer with a flammable refrigerant */

	bool has_vacuum;          /* microns were written down */
	enum tightness vacuum;    /* tight, moist, leaking or undecided, from the lowest reading on */
	double microns;           /* the last reading */
	double vacuum_minutes;    /* from the lowest to the last */

	double weighed_oz;        /* all that was weighed in; 0 none */
};

/* Works out what the log shows.  NAN where there is nothing. */
void tightness_log_show(const struct call *call, struct tightness_shown *shown);

/*
 * Pounds that still go into a cylinder of the call; NAN, with the reason
 * returned, when its refrigerant, water capacity, tare or weight is not known.
 */
enum status cylinder_room(const struct cylinder *cylinder, double *room_lb);

#endif
