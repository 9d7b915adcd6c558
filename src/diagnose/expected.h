#ifndef DIAGNOSE_EXPECTED_H
#define DIAGNOSE_EXPECTED_H

#include "diagnose/clues.h"

/*
 * The weather that a unit works in and what its nameplate says: what the
 * table of the circuit (circuit_table.h) is entered with.
 */

/* Air that the unit works in, °F. */
struct weather {
	double outdoor_f;  /* dry bulb at the condenser */
	double return_f;   /* dry bulb */
	double wet_bulb_f; /* return wet bulb */
};

/* The same with one standard deviation of what is not known about it. */
struct weather_known {
	struct weather value;  /* as read, or the usual where it was not taken */
	struct weather spread; /* instrument, or how widely it varies between calls */
	bool taken[3];         /* outdoor, return, wet bulb */
};

/* What the nameplate says. */
struct machine {
	bool has_valve;            /* TXV or EXV, else orifice or capillary */
	enum choice refrigerant;   /* CHOICE_NONE unknown */
	double condenser_f;        /* condensing over outdoor at 95 °F, by SEER */
	double condenser_spread_f; /* of that line, where the SEER is not known; else 0 */
	double subcooling_f;       /* its target */
	double subcooling_spread_f; /* where it is not on the nameplate; else 0 */
	double approach_f;         /* liquid line over outdoor, the maker's; NAN: not stated */
	double superheat_f;        /* from the unit's own chart; NAN: by the table */
	double altitude_ft;        /* of the site, or the usual */
};

/* The weather of a stage's readings. */
void expected_weather(const struct view *view, struct weather_known *weather);

/* The unit; `has_valve` decides where the metering device is not known. */
void expected_machine(const struct view *view, bool has_valve, struct machine *machine);

/*
 * The wet bulb that the coil works on, °F; on a dry coil, which works on the
 * dry bulb as if on a wet bulb 0.47 of the way from the coil to it, that one.
 */
double expected_working_wet_bulb(const struct weather *weather);

/*
 * Discharge line temperature, °F, of the usual cycle:
 * condensing + at_70 + by_lift (condensing - suction - 70) + by_superheat (superheat - 10).
 */
struct discharge {
	enum choice refrigerant;
	double at_70, by_lift, by_superheat;
};
const struct discharge *expected_discharge(enum choice refrigerant);

#endif
