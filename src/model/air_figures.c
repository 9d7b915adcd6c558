/*
 * Figures of the air: its state, how much of it moves, what it gives up.
 */
#include <math.h>

#include <padside/calc/airflow.h>
#include <padside/calc/barometer.h>
#include <padside/calc/coil.h>
#include <padside/calc/electrical.h>
#include <padside/calc/seasonal.h>

#include "model/inputs.h"
#include "model/shared_figures.h"

/* When the tonnage is not known the split hardly depends on it: any will do. */
static const double usual_tons = 3;

/* Air of a usual house, for a heater's balance: it hardly depends on it. */
static const double usual_room_f = 70, usual_room_rh = 40;

/* Full-load hours a year when nobody said: suits the middle South of the US only. */
static const double usual_cooling_hours = 1000;

static enum status site_pressure(const struct inputs *inputs, double *psia)
{
	return barometric_pressure_psia(inputs_number_or(inputs, READING_ALTITUDE, 0), psia);
}

/* Air from its dry bulb and its wet bulb, or else its humidity. */
static enum status find_air(const struct inputs *inputs, enum reading dry_bulb,
                            enum reading wet_bulb, enum reading humidity, struct moist_air *air)
{
	double psia;
	enum status status = site_pressure(inputs, &psia);

	if (status != STATUS_OK)
		return status;
	if (!inputs_has(inputs, dry_bulb))
		return STATUS_MISSING;
	if (inputs_has(inputs, wet_bulb))
		return moist_air_from_wet_bulb(inputs->numbers[dry_bulb], inputs->numbers[wet_bulb], psia,
		                               air);
	return moist_air_from_relative_humidity(inputs->numbers[dry_bulb], inputs->numbers[humidity],
	                                        psia, air);
}

enum status air_of_return(const struct inputs *inputs, struct moist_air *air)
{
	return find_air(inputs, READING_RETURN_DB, READING_RETURN_WB, READING_RETURN_RH, air);
}

static enum status air_of_supply(const struct inputs *inputs, struct moist_air *air)
{
	return find_air(inputs, READING_SUPPLY_DB, READING_SUPPLY_WB, READING_SUPPLY_RH, air);
}

enum status evaluate_RETURN_WB(const struct inputs *inputs, double *value)
{
	struct moist_air air;

	if (inputs_has(inputs, READING_RETURN_WB) && !inputs_has(inputs, READING_RETURN_DB)) {
		*value = inputs->numbers[READING_RETURN_WB];
		return STATUS_OK;
	}
	enum status status = air_of_return(inputs, &air);
	*value = air.wet_bulb_f;
	return status;
}

enum status evaluate_RETURN_RH(const struct inputs *inputs, double *value)
{
	struct moist_air air;

	if (inputs_has(inputs, READING_RETURN_RH)) {
		*value = inputs->numbers[READING_RETURN_RH];
		return STATUS_OK;
	}
	enum status status = air_of_return(inputs, &air);
	*value = air.relative_humidity;
	return status;
}

enum status evaluate_RETURN_DEW_POINT(const struct inputs *inputs, double *value)
{
	struct moist_air air;
	enum status status = air_of_return(inputs, &air);

	*value = air.dew_point_f;
	return status;
}

enum status evaluate_RETURN_ENTHALPY(const struct inputs *inputs, double *value)
{
	struct moist_air air;
	enum status status = air_of_return(inputs, &air);

	*value = air.enthalpy_btu_lb;
	return status;
}

enum status evaluate_SUPPLY_ENTHALPY(const struct inputs *inputs, double *value)
{
	struct moist_air air;
	enum status status = air_of_supply(inputs, &air);

	*value = air.enthalpy_btu_lb;
	return status;
}

enum status evaluate_TEMPERATURE_SPLIT(const struct inputs *inputs, double *value)
{
	*value = inputs->numbers[READING_RETURN_DB] - inputs->numbers[READING_SUPPLY_DB];
	return STATUS_OK;
}

/* Return air where it was read, else the air of a usual house. */
static enum status air_to_heater(const struct inputs *inputs, struct moist_air *air)
{
	double psia;
	enum status status = air_of_return(inputs, air);

	if (status != STATUS_MISSING && status != STATUS_NOT_A_NUMBER)
		return status;
	status = site_pressure(inputs, &psia);
	return status == STATUS_OK
		? moist_air_from_relative_humidity(usual_room_f, usual_room_rh, psia, air) : status;
}

static enum status airflow_by_heat(const struct inputs *inputs, double *cfm)
{
	struct moist_air air;
	enum status status = air_to_heater(inputs, &air);

	return status != STATUS_OK ? status
		: airflow_from_heat_rise(inputs_number_or(inputs, READING_HEAT_OUTPUT, NAN),
		                         inputs_number_or(inputs, READING_HEAT_RISE, NAN), &air, cfm);
}

static enum status airflow_by_capacity(const struct inputs *inputs, double *cfm)
{
	struct moist_air entering, leaving;
	enum status status = air_of_return(inputs, &entering);

	if (status == STATUS_OK)
		status = air_of_supply(inputs, &leaving);
	return status != STATUS_OK ? status
	                           : airflow_from_capacity(inputs->numbers[READING_MEASURED_CAPACITY],
	                                                   &entering, &leaving, cfm);
}

/* Airflow as measured, else from the heat rise, else from a capacity known otherwise. */
static enum status find_airflow(const struct inputs *inputs, double *cfm)
{
	if (inputs_has(inputs, READING_AIRFLOW)) {
		*cfm = inputs->numbers[READING_AIRFLOW];
		return STATUS_OK;
	}
	if (inputs_has(inputs, READING_HEAT_RISE) && inputs_has(inputs, READING_HEAT_OUTPUT))
		return airflow_by_heat(inputs, cfm);
	return inputs_has(inputs, READING_MEASURED_CAPACITY) ? airflow_by_capacity(inputs, cfm)
	                                                     : STATUS_MISSING;
}

enum status evaluate_AIRFLOW_ESTIMATE(const struct inputs *inputs, double *value)
{
	return find_airflow(inputs, value);
}

/* Airflow, and the air before and after the coil. */
static enum status find_coil(const struct inputs *inputs, double *cfm, struct moist_air *entering,
                             struct moist_air *leaving)
{
	enum status status = find_airflow(inputs, cfm);

	if (status == STATUS_OK)
		status = air_of_return(inputs, entering);
	return status == STATUS_OK ? air_of_supply(inputs, leaving) : status;
}

enum status evaluate_TOTAL_CAPACITY(const struct inputs *inputs, double *value)
{
	struct moist_air entering, leaving;
	double cfm;
	enum status status = find_coil(inputs, &cfm, &entering, &leaving);

	return status == STATUS_OK ? airflow_total_heat(cfm, &entering, &leaving, value) : status;
}

enum status evaluate_SENSIBLE_CAPACITY(const struct inputs *inputs, double *value)
{
	struct moist_air air;
	double cfm;
	enum status status = find_airflow(inputs, &cfm);

	if (status == STATUS_OK)
		status = air_to_heater(inputs, &air);
	if (status != STATUS_OK)
		return status;
	return airflow_sensible_heat(cfm, &air, inputs->numbers[READING_RETURN_DB] -
	                             inputs->numbers[READING_SUPPLY_DB], value);
}

enum status evaluate_SENSIBLE_RATIO(const struct inputs *inputs, double *value)
{
	struct moist_air entering, leaving;
	enum status status = air_of_return(inputs, &entering);

	if (status == STATUS_OK)
		status = air_of_supply(inputs, &leaving);
	return status == STATUS_OK ? airflow_sensible_ratio(&entering, &leaving, value) : status;
}

/*
 * Power of the blower: amps and volts of the indoor unit where both were
 * measured, else the default of ratings without a blower.
 */
enum status evaluate_BLOWER_POWER(const struct inputs *inputs, double *value)
{
	double cfm;

	if (inputs_has(inputs, READING_BLOWER_AMPS) && inputs_has(inputs, READING_TRANSFORMER_PRIMARY))
		return electrical_power(inputs->numbers[READING_TRANSFORMER_PRIMARY],
		                        inputs->numbers[READING_BLOWER_AMPS], ELECTRICAL_POWER_FACTOR,
		                        false, value);
	enum status status = find_airflow(inputs, &cfm);
	if (status == STATUS_OK)
		*value = AIRFLOW_BLOWER_KW_PER_CFM * cfm;
	return status;
}

enum status evaluate_EER(const struct inputs *inputs, double *value)
{
	double capacity, kilowatt, blower_kilowatt;
	enum status status = evaluate_TOTAL_CAPACITY(inputs, &capacity);

	if (status == STATUS_OK)
		status = power_of_unit(inputs, &kilowatt);
	if (status == STATUS_OK)
		status = evaluate_BLOWER_POWER(inputs, &blower_kilowatt);
	return status == STATUS_OK ? electrical_eer(capacity, kilowatt + blower_kilowatt, value)
	                           : status;
}

enum status evaluate_TOTAL_EXTERNAL_STATIC(const struct inputs *inputs, double *value)
{
	return airflow_total_static(inputs->numbers[READING_SUPPLY_STATIC],
	                            inputs->numbers[READING_RETURN_STATIC], value);
}

/* What filter and coil leave to the ducts. */
enum status evaluate_DUCT_STATIC(const struct inputs *inputs, double *value)
{
	double total;
	enum status status = evaluate_TOTAL_EXTERNAL_STATIC(inputs, &total);

	if (status == STATUS_OK)
		*value = total - fabs(inputs_number_or(inputs, READING_FILTER_DROP, 0)) -
		         fabs(inputs_number_or(inputs, READING_COIL_DROP, 0));
	return status;
}

/* SEER as on the label, or SEER2 brought to it. */
static double seer_of(const struct inputs *inputs)
{
	bool ductless = inputs->choices[READING_SYSTEM_KIND] == CHOICE_SYSTEM_KIND_DUCTLESS;
	double seer2 = inputs->numbers[READING_SEER2];

	return inputs_number_or(inputs, READING_SEER, ductless ? seer2 : seer2 / SEASONAL_SEER2_SHARE);
}

enum status evaluate_SEASONAL_ENERGY(const struct inputs *inputs, double *value)
{
	double hours = inputs->cooling_hours > 0 ? inputs->cooling_hours : usual_cooling_hours;

	return seasonal_energy(inputs->numbers[READING_NOMINAL_CAPACITY], hours, seer_of(inputs),
	                       value);
}

/* Air through the coil, cfm: as found out, or the usual flow for the tonnage. */
static double coil_airflow(const struct inputs *inputs, double tons)
{
	double cfm;

	return find_airflow(inputs, &cfm) == STATUS_OK ? cfm : COIL_CFM_PER_TON * tons;
}

/*
 * The curves give an upper middle: at 75 to 80 °F return and half humidity 20 to 22 °F, where the
 * trade looks for 16 to 22, and in drier air the target-split tables of duct testing (California
 * Title 24 RA3.2, from memory) are 1 to 3 °F below them.
 */
static const double below_the_curves_f = 1;

enum status evaluate_EXPECTED_TEMPERATURE_SPLIT(const struct inputs *inputs, double *value)
{
	double tons = inputs_number_or(inputs, READING_NOMINAL_CAPACITY, usual_tons);
	struct coil_conditions conditions = {
		.capacity_ton = tons, .airflow_cfm = coil_airflow(inputs, tons),
		.sensible_ratio = COIL_SENSIBLE_RATIO, .outdoor_f = inputs->numbers[READING_OUTDOOR_DB],
	};
	struct coil_expectation expected;
	enum status status = air_of_return(inputs, &conditions.entering);

	if (status == STATUS_OK)
		status = coil_expect(&conditions, &expected);
	if (status == STATUS_OK)
		*value = expected.split_f - below_the_curves_f;
	return status;
}
