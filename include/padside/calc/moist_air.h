#ifndef PADSIDE_MOIST_AIR_H
#define PADSIDE_MOIST_AIR_H

#include <padside/base/status.h>

/*
 * Moist air: everything from any two of dry bulb, wet bulb, dew point and
 * relative humidity, at a given pressure.
 *
 * Source: ASHRAE Handbook—Fundamentals (2017), chapter 1 "Psychrometrics",
 * IP units; the equation numbers stand beside the code.  Two choices that the
 * handbook leaves open follow the reference library psychrolib 2.5.0: the ice
 * and water equations of saturation meet at the triple point (32.018 °F), and
 * where both the ice and the water equation of the wet bulb have an answer,
 * the one that halving between dew point and dry bulb meets first is taken.
 *
 * Accuracy: within 0.001 °F and 0.001 % RH of psychrolib 2.5.0 over the whole
 * range below (tests/unit/test_moist_air.c); the ideal-gas equations
 * themselves are within about 0.7 % of the handbook's real-gas table 2.
 *
 * Every function here takes
 *   dry_bulb_f, wet_bulb_f, dew_point_f   °F, MOIST_AIR_LOWEST_F to _HIGHEST_F
 *   relative_humidity                     %, 0 to 100
 *   pressure_psia                         psia, 5 to 20 (10,000 ft is 10.1)
 * and returns
 *   NOT_A_NUMBER              an input is not finite
 *   OUT_OF_RANGE              an input or the answer is outside these ranges
 *   HUMIDITY_RANGE            relative humidity below 0 or above 100 %
 *   WET_BULB_ABOVE_DRY_BULB, DEW_POINT_ABOVE_DRY_BULB,
 *   DEW_POINT_ABOVE_WET_BULB  as they say
 *   WET_BULB_TOO_LOW          not even bone-dry air has so low a wet bulb
 * On failure every member of the result is NAN.
 */

#define MOIST_AIR_LOWEST_F (-100.0)
#define MOIST_AIR_HIGHEST_F 200.0
#define MOIST_AIR_SEA_LEVEL_PSIA 14.696 /* the standard atmosphere, same source */

struct moist_air {
	double dry_bulb_f;             /* °F */
	double wet_bulb_f;             /* thermodynamic wet bulb, °F */
	double dew_point_f;            /* °F; frost point below freezing */
	double relative_humidity;      /* % */
	double humidity_ratio;         /* lb of water per lb of dry air */
	double enthalpy_btu_lb;        /* Btu per lb of dry air, dry air at 0 °F being 0 */
	double specific_volume_ft3_lb; /* ft³ of moist air per lb of dry air */
	double density_lb_ft3;         /* lb of moist air per ft³ */
	double pressure_psia;          /* as given, psia */
};

enum status moist_air_from_wet_bulb(double dry_bulb_f, double wet_bulb_f,
                                    double pressure_psia, struct moist_air *air);

enum status moist_air_from_relative_humidity(double dry_bulb_f, double relative_humidity,
                                             double pressure_psia, struct moist_air *air);

enum status moist_air_from_dew_point(double dry_bulb_f, double dew_point_f,
                                     double pressure_psia, struct moist_air *air);

enum status moist_air_from_wet_bulb_and_relative_humidity(double wet_bulb_f,
                                                          double relative_humidity,
                                                          double pressure_psia,
                                                          struct moist_air *air);

enum status moist_air_from_wet_bulb_and_dew_point(double wet_bulb_f, double dew_point_f,
                                                  double pressure_psia, struct moist_air *air);

/* `relative_humidity` above 0 here: at 0 % every dry bulb would do. */
enum status moist_air_from_dew_point_and_relative_humidity(double dew_point_f,
                                                           double relative_humidity,
                                                           double pressure_psia,
                                                           struct moist_air *air);

/*
 * From dry bulb and humidity ratio (lb/lb, 0 to saturation); above saturation
 * by more than rounding OUT_OF_RANGE.
 */
enum status moist_air_from_humidity_ratio(double dry_bulb_f, double humidity_ratio,
                                          double pressure_psia, struct moist_air *air);

/* Pressure of saturated water vapour over ice or water, psia.  Equations 5 and 6. */
enum status moist_air_saturation_pressure(double temp_f, double *pressure_psia);

/*
 * The temperature (°F) at which saturated air has `enthalpy_btu_lb`: where a
 * coil's line of constant enthalpy meets the saturation curve.
 */
enum status moist_air_saturated_at_enthalpy(double enthalpy_btu_lb, double pressure_psia,
                                            double *temp_f);

#endif
