#ifndef PADSIDE_COIL_H
#define PADSIDE_COIL_H

#include <stdbool.h>

#include <padside/calc/moist_air.h>
#include <padside/base/status.h>

/*
 * The healthy unit: what a sound cooling coil does in today's weather and
 * load, and the targets of a sound charge.
 *
 * Source: EnergyPlus Engineering Reference, "Coil:Cooling:DX:SingleSpeed" (curves,
 * bypass factor, apparatus dew point, dry coil), with the default curves of
 * its example files.  Rated at 80/67 °F return, 95 °F outdoors, 400 cfm per
 * ton at sea level.  Capacity is what the room gets: the blower's heat counts
 * against it, as in nameplate tons.
 */

/* Weather for which the curves stand (55–75 °F, 64–115 °F) and 5 °F of margin. */
#define COIL_WET_BULB_LOW_F 50.0
#define COIL_WET_BULB_HIGH_F 80.0
#define COIL_OUTDOOR_LOW_F 59.0
#define COIL_OUTDOOR_HIGH_F 120.0

#define COIL_CFM_PER_TON 400.0

/* Rated share of the capacity that cools rather than dries: usual for a split system [practice]. */
#define COIL_SENSIBLE_RATIO 0.75

/*
 * Capacity and energy input ratio as shares of the rated ones.
 *   wet_bulb_f  on the coil, °F; outdoor_f, °F: within the ranges above
 *   flow_share  mass flow of air / rated mass flow, 0.4 to 1.5
 * Failures: NOT_A_NUMBER, WEATHER_RANGE, AIRFLOW_RANGE.
 */
enum status coil_capacity_share(double wet_bulb_f, double outdoor_f, double flow_share,
                                double *share);
enum status coil_energy_share(double wet_bulb_f, double outdoor_f, double flow_share,
                              double *share);

/* The unit and what it works on. */
struct coil_conditions {
	double capacity_ton;     /* nominal, tons, above 0 */
	double airflow_cfm;      /* ft³/min of return air; 160 to 600 a ton at sea level */
	double sensible_ratio;   /* rated, 0.65 to 0.79: COIL_SENSIBLE_RATIO when unknown */
	double outdoor_f;        /* dry bulb at the condenser, °F */
	struct moist_air entering; /* return air; carries the site's pressure */
};

/* What it then does. */
struct coil_expectation {
	double capacity_btu_h;   /* total */
	double sensible_btu_h;   /* of that, what shows on the thermometer */
	double sensible_ratio;   /* their quotient; 1 on a dry coil */
	double energy_share;     /* energy input ratio / rated one */
	double apparatus_dew_point_f; /* the coil's effective surface, °F */
	double bypass_factor;    /* share of the air that passes as if untouched */
	double split_f;          /* return less supply dry bulb, °F */
	bool is_dry;             /* the surface is above the return dew point: nothing condenses */
	struct moist_air supply; /* air leaving */
};

/*
 * Works out `expected`.  On a dry coil the capacity is that of the wet bulb
 * at which the coil would just begin to sweat, as in the source, and only
 * that wet bulb has to lie in the curves' range.
 * Accuracy: follows the source within 0.06 °F; real units differ from the
 * default curves by a few % of capacity, 1 to 2 °F of split.
 * Failures: NOT_A_NUMBER, NOT_POSITIVE, AIRFLOW_RANGE, WEATHER_RANGE,
 * NO_LATENT_ROOM, those of moist_air.h; every number NAN then.
 */
enum status coil_expect(const struct coil_conditions *conditions,
                        struct coil_expectation *expected);

/*
 * Target superheat of a fixed orifice, °F, from outdoor dry bulb (40–115 °F)
 * and return wet bulb (50–76 °F): bilinear in the table of an equipment
 * maker's installation instructions (Lennox 14ACX, "Superheat values",
 * p. 26).  No target below 5 °F (California Title 24 RA3.2).
 * Failures: NOT_A_NUMBER; OUT_OF_RANGE outside the table; TABLE_DASH where it
 * has a dash.
 */
enum status coil_target_superheat(double outdoor_f, double wet_bulb_f, double *superheat_f);

/*
 * Condensing temperature over outdoor dry bulb, °F: 30 below SEER 10, 25 below
 * 12.5, 20 below 16, else 15 (seer 4 to 40).  A rule of the trade, an upper
 * guide: makers' printed pressures at 95 °F give 10 to 16 for splits of the 13
 * SEER class and 14 to 21 for packages (Lennox XC13 506636-01 p. 28, TSA*H4
 * 506083-01 p. 18, LRP14AC p. 23).  So it stands 10 below to 5 above.
 */
#define COIL_CONDENSER_BELOW_F 10.0
#define COIL_CONDENSER_ABOVE_F 5.0
enum status coil_condenser_over_outdoor(double seer, double *difference_f);

/*
 * Return dry bulb over suction saturation, °F ± 5: 35 at 400 cfm per ton, 40
 * at 350, straight between and beyond from 300 to 450.  Common practice.
 */
enum status coil_evaporator_under_return(double cfm_per_ton, double *difference_f);

#endif
