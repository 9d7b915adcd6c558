#ifndef DIAGNOSE_EXPECTED_H
#define DIAGNOSE_EXPECTED_H

#include "diagnose/clues.h"

/*
 * What a healthy machine of this kind shows in today's weather and load, and
 * how far sound machines differ from one another.
 */

/* Air that the machine works in, °F. */
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
	double tons;               /* nominal capacity; NAN unknown */
	double condenser_f;        /* condensing over outdoor at 95 °F, by SEER */
	double condenser_spread_f; /* wide when the SEER is unknown */
	double subcooling_f;       /* its target */
	double subcooling_spread_f; /* wide when it is not on the nameplate */
	double superheat_f;        /* from the unit's own chart; NAN: by the table */
	double pressure_psia;      /* of the site's air */
};

/* A healthy machine in some weather. */
struct healthy {
	double suction_f;    /* suction saturation temperature */
	double superheat_f;  /* may be negative: a flooded orifice machine reads 0 */
	double condensing_f; /* condensing temperature */
	double subcooling_f; /* at the liquid line */
	double split_f;      /* temperature split at 400 cfm a ton */
	double enthalpy_drop; /* return less supply enthalpy at 400 cfm a ton, Btu/lb */
};

/* The weather of a stage's readings. */
void expected_weather(const struct view *view, struct weather_known *weather);

/* The machine; `has_valve` decides where the metering device is not known. */
void expected_machine(const struct view *view, bool has_valve, struct machine *machine);

/* What it shows when it is healthy. */
void expected_healthy(const struct machine *machine, const struct weather *weather,
                      struct healthy *healthy);

/* Discharge line temperature from saturation temperatures and superheat, °F. */
double expected_discharge_f(const struct machine *machine, double suction_f, double condensing_f,
                            double superheat_f);

/* How that changes with each, °F per °F. */
struct discharge_slopes {
	double by_condensing, by_suction, by_superheat;
};
struct discharge_slopes expected_discharge_slopes(const struct machine *machine);

#endif
