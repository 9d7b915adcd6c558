/*
 * Figures of the air: its state, how much of it moves, what it gives up.
 */
#include <math.h>

#include <padside/barometer.h>
#include <padside/coil.h>

#include "model/inputs.h"
#include "model/shared_figures.h"

/* When the tonnage is not known the split hardly depends on it: any will do. */
static const double usual_tons = 3;

static enum status site_pressure(const struct inputs *inputs, double *psia)
{
	return barometric_pressure_psia(inputs_number_or(inputs, READING_ALTITUDE, 0), psia);
}

/* Air from its dry bulb and its wet bulb, or else its humidity. */
static enum status find_air(const struct inputs *inputs, enum reading dry_bulb, enum reading wet_bulb,
                            enum reading humidity, struct moist_air *air)
{
	double psia;
	enum status status = site_pressure(inputs, &psia);

	if (status != STATUS_OK)
		return status;
	if (!inputs_has(inputs, dry_bulb))
		return STATUS_MISSING;
	if (inputs_has(inputs, wet_bulb))
		return moist_air_from_wet_bulb(inputs->numbers[dry_bulb], inputs->numbers[wet_bulb], psia, air);
	return moist_air_from_relative_humidity(inputs->numbers[dry_bulb], inputs->numbers[humidity], psia,
	                                        air);
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

/* Air through the coil, cfm: as measured, or the usual flow for the tonnage. */
static double coil_airflow(const struct inputs *inputs, double tons)
{
	return inputs_number_or(inputs, READING_AIRFLOW, COIL_CFM_PER_TON * tons);
}

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
		*value = expected.split_f;
	return status;
}
