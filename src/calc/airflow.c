/*
 * Heat balances on moving air, per pound of dry air.
 */
#include <padside/calc/airflow.h>

#include <math.h>

#define BTU_H_PER_KW 3412.1416331 /* NIST SP 811 */

/* Of a quantity of heat or flow: finite and not below zero. */
static enum status check(double value)
{
	if (!isfinite(value))
		return STATUS_NOT_A_NUMBER;
	return value < 0 ? STATUS_NEGATIVE : STATUS_OK;
}

/* A state that failed has NAN everywhere. */
static enum status check_air(const struct moist_air *air)
{
	return isfinite(air->specific_volume_ft3_lb) && isfinite(air->humidity_ratio)
	       ? STATUS_OK : STATUS_NOT_A_NUMBER;
}

/* Heat given up by a pound of dry air, Btu, on the way between two states. */
static enum status heat_given_up(const struct moist_air *entering,
                                 const struct moist_air *leaving, double *btu_lb)
{
	enum status status = check_air(entering);

	if (!status)
		status = check_air(leaving);
	*btu_lb = status ? NAN : entering->enthalpy_btu_lb - leaving->enthalpy_btu_lb;
	return status;
}

enum status airflow_heat_factor(const struct moist_air *air, double *btu_h_cfm_f)
{
	enum status status = check_air(air);

	*btu_h_cfm_f = status ? NAN : 60 / air->specific_volume_ft3_lb
	                              * (0.240 + 0.444 * air->humidity_ratio);
	return status;
}

enum status airflow_sensible_heat(double cfm, const struct moist_air *air, double difference_f,
                                  double *btu_h)
{
	double factor;
	enum status status = airflow_heat_factor(air, &factor);

	*btu_h = NAN;
	if (!status)
		status = check(cfm);
	if (!status && !isfinite(difference_f))
		status = STATUS_NOT_A_NUMBER;
	if (!status)
		*btu_h = factor * cfm * difference_f;
	return status;
}

enum status airflow_total_heat(double cfm, const struct moist_air *entering,
                               const struct moist_air *leaving, double *btu_h)
{
	double btu_lb;
	enum status status = heat_given_up(entering, leaving, &btu_lb);

	*btu_h = NAN;
	if (!status)
		status = check(cfm);
	if (!status)
		*btu_h = 60 * cfm / entering->specific_volume_ft3_lb * btu_lb;
	return status;
}

enum status airflow_sensible_ratio(const struct moist_air *entering,
                                   const struct moist_air *leaving, double *ratio)
{
	double btu_lb;
	enum status status = heat_given_up(entering, leaving, &btu_lb);

	*ratio = NAN;
	if (!status && btu_lb <= 0)
		status = STATUS_NOT_POSITIVE;
	/* As if the air were dried first and cooled after: what cooling takes is sensible. */
	if (!status)
		*ratio = (0.240 + 0.444 * leaving->humidity_ratio)
		         * (entering->dry_bulb_f - leaving->dry_bulb_f) / btu_lb;
	return status;
}

enum status airflow_from_heat_rise(double heat_output_btu_h, double rise_f,
                                   const struct moist_air *entering, double *cfm)
{
	double factor;
	enum status status = airflow_heat_factor(entering, &factor);

	*cfm = NAN;
	if (!status)
		status = check(heat_output_btu_h);
	if (!status && !isfinite(rise_f))
		status = STATUS_NOT_A_NUMBER;
	if (!status && rise_f <= 0)
		status = STATUS_NOT_POSITIVE;
	if (!status)
		*cfm = heat_output_btu_h / (factor * rise_f);
	return status;
}

enum status airflow_from_capacity(double capacity_btu_h, const struct moist_air *entering,
                                  const struct moist_air *leaving, double *cfm)
{
	double btu_lb;
	enum status status = heat_given_up(entering, leaving, &btu_lb);

	*cfm = NAN;
	if (!status)
		status = check(capacity_btu_h);
	if (!status && btu_lb <= 0)
		status = STATUS_NOT_POSITIVE;
	if (!status)
		*cfm = capacity_btu_h * entering->specific_volume_ft3_lb / (60 * btu_lb);
	return status;
}

enum status airflow_heat_output_gas(double input_btu_h, double efficiency_percent,
                                    double *btu_h)
{
	enum status status = check(input_btu_h);

	*btu_h = NAN;
	if (!status)
		status = check(efficiency_percent);
	if (!status && efficiency_percent > 100)
		status = STATUS_OUT_OF_RANGE;
	if (!status)
		*btu_h = input_btu_h * efficiency_percent / 100;
	return status;
}

enum status airflow_heat_output_electric(double kilowatt, double *btu_h)
{
	enum status status = check(kilowatt);

	*btu_h = status ? NAN : kilowatt * BTU_H_PER_KW;
	return status;
}

enum status airflow_total_static(double supply_in_wc, double return_in_wc, double *in_wc)
{
	*in_wc = NAN;
	if (!isfinite(supply_in_wc) || !isfinite(return_in_wc))
		return STATUS_NOT_A_NUMBER;
	*in_wc = fabs(supply_in_wc) + fabs(return_in_wc);
	return STATUS_OK;
}
