#ifndef PADSIDE_AIRFLOW_H
#define PADSIDE_AIRFLOW_H

#include <padside/calc/moist_air.h>
#include <padside/base/status.h>

/*
 * How much air moves, and what heat it carries.
 *
 * Source: heat balances on moist air, ASHRAE Handbook—Fundamentals (2017),
 * chapter 1: the flow of dry air is 60 cfm / v, and a pound of it takes up
 * 0.240 + 0.444 W Btu per °F.  At sea level these are the trade's factors
 * 1.08 and 4.5; at altitude they follow the air.  `cfm` is what flows through
 * the place whose air is given, ft³/min.
 *
 * Every function returns, with its output NAN,
 *   NOT_A_NUMBER  an input is not finite
 *   NEGATIVE      a flow, output or capacity is below zero
 *   NOT_POSITIVE  a difference by which something is divided is not above zero
 */

/* Sensible heat of one cfm for each °F, Btu/h: 1.08 of standard air. */
enum status airflow_heat_factor(const struct moist_air *air, double *btu_h_cfm_f);

/* Sensible heat, Btu/h, of `cfm` of `air` cooled by `difference_f`; negative when it is warmed. */
enum status airflow_sensible_heat(double cfm, const struct moist_air *air, double difference_f,
                                  double *btu_h);

/*
 * Total heat, Btu/h, that `cfm` of `entering` air gives up on its way to
 * `leaving`; negative when it gains.
 */
enum status airflow_total_heat(double cfm, const struct moist_air *entering,
                               const struct moist_air *leaving, double *btu_h);

/*
 * Share of that heat which is sensible; the flow cancels.  Above 1 when the
 * air leaves with more water than it brought (a dry coil, and the meters).
 * NOT_POSITIVE when the air gains heat.
 */
enum status airflow_sensible_ratio(const struct moist_air *entering,
                                   const struct moist_air *leaving, double *ratio);

/* Flow from the rise (°F, above 0) that a heater of known output gives the air entering it, cfm. */
enum status airflow_from_heat_rise(double heat_output_btu_h, double rise_f,
                                   const struct moist_air *entering, double *cfm);

/* Flow from a capacity known otherwise, cfm; NOT_POSITIVE unless the air gives up heat. */
enum status airflow_from_capacity(double capacity_btu_h, const struct moist_air *entering,
                                  const struct moist_air *leaving, double *cfm);

/* Heat to the air, Btu/h: of gas burnt at an efficiency (%, 0 to 100, else OUT_OF_RANGE) … */
enum status airflow_heat_output_gas(double input_btu_h, double efficiency_percent,
                                    double *btu_h);
/* … and of electric heat, blower included if it is measured with it: 3412.14 Btu/h per kW. */
enum status airflow_heat_output_electric(double kilowatt, double *btu_h);

/*
 * Power of a blower that was not measured, kW for each cfm: 365 W per 1,000
 * cfm, the default of ratings without a blower (federal test procedure, 10 CFR
 * 430 subpart B appendix M; common practice: its text was not seen).
 */
#define AIRFLOW_BLOWER_KW_PER_CFM 0.000365

/*
 * Total external static, in. w.c.: the sizes of the supply's and the return's
 * added, however the signs were written.
 */
enum status airflow_total_static(double supply_in_wc, double return_in_wc, double *in_wc);

#endif
