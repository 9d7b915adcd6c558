#ifndef PADSIDE_REFRIGERANT_H
#define PADSIDE_REFRIGERANT_H

#include <stdbool.h>

#include <padside/base/status.h>

/*
 * Refrigerants: what they are, and their saturation properties.
 *
 * Source of the properties: CoolProp 8.0.0 (Bell et al. 2014), tabulated by
 * tests/reference/generate_refrigerants.py.
 *   R-134a, R-290, R-1234yf   its equations of state
 *   R-410A, R-407C, R-404A, R-507A        its pseudo-pure fluids (Lemmon 2003)
 *   R-454B                                its mixture of R-32 and R-1234yf,
 *       68.9/31.1 % by mass, mixing model of Bell 2023.  CoolProp's own search
 *       for the dew and bubble point fails at 134 to 137 °F, 144 to 149 °F and
 *       from 160 °F up, so the generator solves the phase equilibrium itself on
 *       CoolProp's equation of state; where CoolProp answers, the two agree to
 *       1e-11.
 *
 * Range: -40 °F to 5 °F below the critical temperature, for every property.
 * Outside it the answer is STATUS_OUT_OF_RANGE and NAN, never an extrapolation.
 *
 * Accuracy against that source, everywhere in the range: pressure within
 * 0.001 %, temperature within 0.001 °F, density within 0.02 %.  A temperature
 * from a pressure inverts the same curve that gives the pressure: there and
 * back differ by less than 2e-7 °F.
 *
 * Failures: STATUS_NOT_A_NUMBER, STATUS_OUT_OF_RANGE, and STATUS_NOT_POSITIVE
 * for an absolute pressure of 0 or below.
 */

enum refrigerant {
#define REFRIGERANT(id, ...) REFRIGERANT_##id,
#include <padside/calc/refrigerants.def>
#undef REFRIGERANT
	REFRIGERANT_COUNT
};

/* Safety classes of ASHRAE Standard 34. */
enum safety_class {
	SAFETY_CLASS_A1,  /* lower toxicity, no flame propagation */
	SAFETY_CLASS_A2L, /* lower toxicity, mildly flammable: burns slowly */
	SAFETY_CLASS_A3   /* lower toxicity, highly flammable */
};

/* "R-410A": the name of ASHRAE Standard 34.  Static text. */
const char *refrigerant_name(enum refrigerant refrigerant);

/*
 * Finds the refrigerant that is meant by "R-410A", "r410a", "410A", "HFC 410a":
 * letters of either case, spaces and dashes anywhere, the prefix optional.
 * The letters behind the number are not optional: R-407C is not R-407A.
 * Returns false, touching nothing, when there is none.
 */
bool refrigerant_from_name(const char *name, enum refrigerant *refrigerant);

/* "R-32/R-125, 50/50 % by mass", or the substance of a pure one.  Static text. */
const char *refrigerant_composition(enum refrigerant refrigerant);

enum safety_class refrigerant_safety_class(enum refrigerant refrigerant);

/* "A1", "A2L", "A3".  Static text. */
const char *safety_class_name(enum safety_class safety_class);

/* Whether it can burn: every class but A1. */
bool refrigerant_is_flammable(enum refrigerant refrigerant);

/* Critical temperature, and the ends of the range above.  °F. */
double refrigerant_critical_temp_f(enum refrigerant refrigerant);
double refrigerant_lowest_temp_f(enum refrigerant refrigerant);
double refrigerant_highest_temp_f(enum refrigerant refrigerant);

/*
 * Pressure, psia, at which the vapour begins to condense (dew) or the liquid
 * begins to boil (bubble) at `temp_f`, °F in the range above.
 */
enum status refrigerant_dew_pressure(enum refrigerant refrigerant, double temp_f,
                                     double *pressure_psia);
enum status refrigerant_bubble_pressure(enum refrigerant refrigerant, double temp_f,
                                        double *pressure_psia);

/*
 * The inverse: temperature, °F, of the dew or bubble line at `pressure_psia`,
 * an absolute pressure that the line reaches in the range above.
 */
enum status refrigerant_dew_temp(enum refrigerant refrigerant, double pressure_psia,
                                 double *temp_f);
enum status refrigerant_bubble_temp(enum refrigerant refrigerant, double pressure_psia,
                                    double *temp_f);

/* Density of the saturated liquid, lb/ft³, at `temp_f`, °F in the range above. */
enum status refrigerant_liquid_density(enum refrigerant refrigerant, double temp_f,
                                       double *density_lb_ft3);

#endif
