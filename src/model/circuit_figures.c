/*
 * Figures of the refrigerant circuit.
 */
#include <math.h>

#include <padside/calc/barometer.h>
#include <padside/calc/charge.h>
#include <padside/calc/coil.h>
#include <padside/calc/refrigerant.h>
#include <padside/calc/tightness.h>

#include "model/inputs.h"
#include "model/shared_figures.h"

/* Common practice where the nameplate gives no subcooling. */
static const double usual_subcooling_f = 10;

/* Only used where the factory charge is known. */
static const double usual_tons = 3;

static enum status find_refrigerant(const struct inputs *inputs, enum refrigerant *refrigerant)
{
	bool found = refrigerant_from_name(choice_key(inputs->choices[READING_REFRIGERANT]),
	                                   refrigerant);

	return found ? STATUS_OK : STATUS_NOT_APPLICABLE;
}

static enum status absolute(const struct inputs *inputs, enum reading gauge, double *psia)
{
	return absolute_pressure_psia(inputs->numbers[gauge],
	                              inputs_number_or(inputs, READING_ALTITUDE, 0), psia);
}

/* A unit never pumps from the high side to the low one. */
static enum status check_order(const struct inputs *inputs)
{
	bool reversed = inputs_has(inputs, READING_SUCTION_PRESSURE) &&
	                inputs_has(inputs, READING_LIQUID_PRESSURE) &&
	                inputs->numbers[READING_SUCTION_PRESSURE] >
	                inputs->numbers[READING_LIQUID_PRESSURE];

	return reversed ? STATUS_SUCTION_ABOVE_DISCHARGE : STATUS_OK;
}

enum status evaluate_SUCTION_SATURATION_TEMP(const struct inputs *inputs, double *value)
{
	enum refrigerant refrigerant;
	double psia;
	enum status status = find_refrigerant(inputs, &refrigerant);

	if (status == STATUS_OK)
		status = absolute(inputs, READING_SUCTION_PRESSURE, &psia);
	return status == STATUS_OK ? refrigerant_dew_temp(refrigerant, psia, value) : status;
}

enum status evaluate_LIQUID_SATURATION_TEMP(const struct inputs *inputs, double *value)
{
	enum refrigerant refrigerant;
	double psia;
	enum status status = find_refrigerant(inputs, &refrigerant);

	if (status == STATUS_OK)
		status = absolute(inputs, READING_LIQUID_PRESSURE, &psia);
	return status == STATUS_OK ? refrigerant_bubble_temp(refrigerant, psia, value) : status;
}

enum status evaluate_SUPERHEAT(const struct inputs *inputs, double *value)
{
	double saturation;
	enum status status = check_order(inputs);

	if (status == STATUS_OK)
		status = evaluate_SUCTION_SATURATION_TEMP(inputs, &saturation);
	if (status == STATUS_OK)
		*value = inputs->numbers[READING_SUCTION_LINE_TEMP] - saturation;
	return status;
}

enum status evaluate_SUBCOOLING(const struct inputs *inputs, double *value)
{
	double saturation;
	enum status status = check_order(inputs);

	if (status == STATUS_OK)
		status = evaluate_LIQUID_SATURATION_TEMP(inputs, &saturation);
	if (status == STATUS_OK)
		*value = saturation - inputs->numbers[READING_LIQUID_LINE_TEMP];
	return status;
}

enum status evaluate_TARGET_SUPERHEAT(const struct inputs *inputs, double *value)
{
	double wet_bulb;

	if (metering_is_valve(inputs->choices[READING_METERING]))
		return STATUS_VALVE_SETS_SUPERHEAT;
	if (inputs_has(inputs, READING_TARGET_SUPERHEAT_CHART)) {
		*value = inputs->numbers[READING_TARGET_SUPERHEAT_CHART];
		return STATUS_OK;
	}
	enum status status = evaluate_RETURN_WB(inputs, &wet_bulb);
	if (status != STATUS_OK)
		return status;
	return coil_target_superheat(inputs->numbers[READING_OUTDOOR_DB], wet_bulb, value);
}

enum status evaluate_TARGET_SUBCOOLING(const struct inputs *inputs, double *value)
{
	if (!inputs_has(inputs, READING_TARGET_SUBCOOLING) &&
	    !metering_is_valve(inputs->choices[READING_METERING]))
		return STATUS_ORIFICE_SETS_SUPERHEAT;
	*value = inputs_number_or(inputs, READING_TARGET_SUBCOOLING, usual_subcooling_f);
	return STATUS_OK;
}

enum status evaluate_CONDENSER_OVER_OUTDOOR(const struct inputs *inputs, double *value)
{
	double saturation;
	enum status status = evaluate_LIQUID_SATURATION_TEMP(inputs, &saturation);

	if (status == STATUS_OK)
		*value = saturation - inputs->numbers[READING_OUTDOOR_DB];
	return status;
}

enum status evaluate_EVAPORATOR_UNDER_RETURN(const struct inputs *inputs, double *value)
{
	double saturation;
	enum status status = evaluate_SUCTION_SATURATION_TEMP(inputs, &saturation);

	if (status == STATUS_OK)
		*value = inputs->numbers[READING_RETURN_DB] - saturation;
	return status;
}

enum status evaluate_COMPRESSION_RATIO(const struct inputs *inputs, double *value)
{
	double suction, liquid;
	enum status status = check_order(inputs);

	if (status == STATUS_OK)
		status = absolute(inputs, READING_SUCTION_PRESSURE, &suction);
	if (status == STATUS_OK)
		status = absolute(inputs, READING_LIQUID_PRESSURE, &liquid);
	if (status == STATUS_OK)
		*value = liquid / suction;
	return status;
}

enum status evaluate_DRIER_DROP(const struct inputs *inputs, double *value)
{
	*value = inputs->numbers[READING_DRIER_IN_TEMP] - inputs->numbers[READING_DRIER_OUT_TEMP];
	return STATUS_OK;
}

/* Suction side of the reversing valve: what leaves it against what came in. */
enum status evaluate_REVERSING_VALVE_DIFFERENCE(const struct inputs *inputs, double *value)
{
	*value = inputs->numbers[READING_REVERSING_VALVE_OUT_TEMP] -
	         inputs->numbers[READING_REVERSING_VALVE_IN_TEMP];
	return STATUS_OK;
}

enum status evaluate_LIQUID_APPROACH(const struct inputs *inputs, double *value)
{
	*value = inputs->numbers[READING_LIQUID_LINE_TEMP] - inputs->numbers[READING_OUTDOOR_DB];
	return STATUS_OK;
}

enum status evaluate_CONDENSER_AIR_RISE(const struct inputs *inputs, double *value)
{
	*value = inputs->numbers[READING_CONDENSER_LEAVING_DB] - inputs->numbers[READING_OUTDOOR_DB];
	return STATUS_OK;
}

/* Blends at rest with liquid in the condenser stand at their bubble line. */
enum status evaluate_STANDING_EXCESS(const struct inputs *inputs, double *value)
{
	enum refrigerant refrigerant;
	double psia, saturation;
	enum status status = find_refrigerant(inputs, &refrigerant);

	if (status == STATUS_OK)
		status = absolute(inputs, READING_STANDING_PRESSURE, &psia);
	if (status == STATUS_OK)
		status = refrigerant_bubble_temp(refrigerant, psia, &saturation);
	if (status == STATUS_OK)
		*value = saturation - inputs->numbers[READING_STANDING_TEMP];
	return status;
}

enum status evaluate_CONDENSER_BEND_DIFFERENCE(const struct inputs *inputs, double *value)
{
	double saturation;
	enum status status = evaluate_LIQUID_SATURATION_TEMP(inputs, &saturation);

	if (status == STATUS_OK)
		*value = saturation - inputs->numbers[READING_CONDENSER_BEND_TEMP];
	return status;
}

static struct charge_machine machine_of(const struct inputs *inputs)
{
	return (struct charge_machine){
		.mode = metering_is_valve(inputs->choices[READING_METERING])
			? CHARGE_BY_SUBCOOLING : CHARGE_BY_SUPERHEAT,
		.factory_charge_oz = inputs->numbers[READING_FACTORY_CHARGE],
		.capacity_ton = inputs_number_or(inputs, READING_NOMINAL_CAPACITY, usual_tons),
		.airflow_sound = true,
	};
}

enum status evaluate_CHARGE_TO_MOVE(const struct inputs *inputs, double *value)
{
	bool by_subcooling = metering_is_valve(inputs->choices[READING_METERING]);
	struct charge_machine machine = machine_of(inputs);
	evaluate_function now = by_subcooling ? evaluate_SUBCOOLING : evaluate_SUPERHEAT;
	evaluate_function wanted = by_subcooling ? evaluate_TARGET_SUBCOOLING
	                                         : evaluate_TARGET_SUPERHEAT;
	double response, target;
	enum status status = now(inputs, &response);

	/* On an inverter the reading moves with the speed: it is charged by weight. */
	if (inputs->choices[READING_COMPRESSOR_MOTOR] == CHOICE_MOTOR_INVERTER)
		return STATUS_NOT_APPLICABLE;
	if (status == STATUS_OK)
		status = wanted(inputs, &target);
	return status == STATUS_OK ? charge_usual_move(&machine, response, target, value) : status;
}

enum status charge_to_move_spread(const struct inputs *inputs, double ounces, double *plus_minus)
{
	struct charge_machine machine = machine_of(inputs);
	double slope, spread, total;
	enum status status = charge_usual_answer(&machine, &slope, &spread);

	/*
	 * Ounces by the usual answer are degrees off the target; the range is the same on either side.
	 */
	return status != STATUS_OK ? status
		: charge_usual_range(&machine, ounces * slope, *plus_minus * fabs(slope), &total,
		                     plus_minus);
}

enum status evaluate_CHARGE_BY_WEIGHT(const struct inputs *inputs, double *value)
{
	return tightness_weigh_in(inputs->numbers[READING_FACTORY_CHARGE],
	                          inputs->numbers[READING_LINE_SET_LENGTH],
	                          inputs->numbers[READING_PRECHARGED_LENGTH],
	                          inputs->numbers[READING_CHARGE_PER_LENGTH], value);
}

enum status evaluate_LINE_SET_LIQUID(const struct inputs *inputs, double *value)
{
	enum refrigerant refrigerant;
	double density;
	enum status status = find_refrigerant(inputs, &refrigerant);

	if (status == STATUS_OK)
		status = refrigerant_liquid_density(refrigerant, inputs->numbers[READING_LIQUID_LINE_TEMP],
		                                    &density);
	if (status != STATUS_OK)
		return status;
	return charge_line_set_liquid(inputs->numbers[READING_LIQUID_LINE_OD],
	                              inputs->numbers[READING_LINE_SET_LENGTH], density, value);
}
