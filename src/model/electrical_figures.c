/*
 * Figures of the supply, the windings, the capacitors and the currents.
 */
#include <math.h>

#include <padside/calc/electrical.h>

#include "model/inputs.h"
#include "model/shared_figures.h"

/* Utility frequency of the units this is for. */
static const double line_hertz = 60;

/* Makers state winding resistances at 25 °C. */
static const double rated_winding_f = 77;

static bool is_three_phase(const struct inputs *inputs)
{
	return inputs->choices[READING_COMPRESSOR_MOTOR] == CHOICE_MOTOR_THREE_PHASE;
}

/* Three windings that are alike have none to start with. */
static bool has_start_winding(const struct inputs *inputs)
{
	enum choice motor = inputs->choices[READING_COMPRESSOR_MOTOR];

	return motor != CHOICE_MOTOR_THREE_PHASE && motor != CHOICE_MOTOR_INVERTER;
}

/* A single-phase reading, or the mean of those of three phases that were taken. */
static double phase_mean(const struct inputs *inputs, enum reading single, enum reading first)
{
	double sum = 0;
	int count = 0;

	if (inputs_has(inputs, single))
		return inputs->numbers[single];
	/* The three phases stand together in the catalogue. */
	for (int i = 0; i < 3; i++)
		if (inputs_has(inputs, (enum reading)((int)first + i))) {
			sum += inputs->numbers[(int)first + i];
			count++;
		}
	return count ? sum / count : NAN;
}

/* A single-phase reading, or the highest of those of three phases. */
static double phase_highest(const struct inputs *inputs, enum reading single, enum reading first)
{
	double highest = NAN;

	if (inputs_has(inputs, single))
		return inputs->numbers[single];
	for (int i = 0; i < 3; i++)
		highest = fmax(highest, inputs->numbers[(int)first + i]);
	return highest;
}

static double line_volts(const struct inputs *inputs)
{
	return phase_mean(inputs, READING_LINE_VOLTAGE, READING_LINE_VOLTAGE_AB);
}

static double compressor_amps(const struct inputs *inputs)
{
	return phase_mean(inputs, READING_COMMON_AMPS, READING_AMPS_A);
}

enum status evaluate_COMPRESSOR_CAPACITOR_DEVIATION(const struct inputs *inputs, double *value)
{
	return electrical_capacitance_deviation(inputs->numbers[READING_COMPRESSOR_CAPACITANCE],
	                                        inputs->numbers[READING_COMPRESSOR_CAPACITOR_RATED],
	                                        value);
}

enum status evaluate_FAN_CAPACITOR_DEVIATION(const struct inputs *inputs, double *value)
{
	return electrical_capacitance_deviation(inputs->numbers[READING_FAN_CAPACITANCE],
	                                        inputs->numbers[READING_FAN_CAPACITOR_RATED], value);
}

enum status evaluate_BLOWER_CAPACITOR_DEVIATION(const struct inputs *inputs, double *value)
{
	return electrical_capacitance_deviation(inputs->numbers[READING_BLOWER_CAPACITANCE],
	                                        inputs->numbers[READING_BLOWER_CAPACITOR_RATED], value);
}

enum status evaluate_CAPACITANCE_UNDER_LOAD(const struct inputs *inputs, double *value)
{
	return electrical_capacitance_under_load(inputs->numbers[READING_START_AMPS],
	                                         inputs->numbers[READING_COMPRESSOR_CAPACITOR_VOLTS],
	                                         line_hertz, value);
}

enum status evaluate_VOLTAGE_DEVIATION(const struct inputs *inputs, double *value)
{
	return electrical_voltage_deviation(line_volts(inputs), inputs->numbers[READING_RATED_VOLTAGE],
	                                    value);
}

enum status evaluate_VOLTAGE_UNBALANCE(const struct inputs *inputs, double *value)
{
	return electrical_unbalance(inputs->numbers[READING_LINE_VOLTAGE_AB],
	                            inputs->numbers[READING_LINE_VOLTAGE_BC],
	                            inputs->numbers[READING_LINE_VOLTAGE_CA], value);
}

enum status evaluate_CURRENT_UNBALANCE(const struct inputs *inputs, double *value)
{
	return electrical_unbalance(inputs->numbers[READING_AMPS_A], inputs->numbers[READING_AMPS_B],
	                            inputs->numbers[READING_AMPS_C], value);
}

enum status evaluate_WINDING_UNBALANCE(const struct inputs *inputs, double *value)
{
	return electrical_unbalance(inputs->numbers[READING_WINDING_AB],
	                            inputs->numbers[READING_WINDING_BC],
	                            inputs->numbers[READING_WINDING_CA], value);
}

enum status evaluate_UNBALANCE_DERATING(const struct inputs *inputs, double *value)
{
	double unbalance;
	enum status status = evaluate_VOLTAGE_UNBALANCE(inputs, &unbalance);

	if (status == STATUS_OK)
		status = electrical_unbalance_derating(unbalance, value);
	*value *= 100;
	return status;
}

enum status evaluate_CIRCUIT_AMPACITY_NEEDED(const struct inputs *inputs, double *value)
{
	struct branch_circuit circuit;

	/* It counts all that the unit has: blower and heater of a package too. */
	if (inputs_has(inputs, READING_MIN_CIRCUIT_AMPACITY)) {
		*value = inputs->numbers[READING_MIN_CIRCUIT_AMPACITY];
		return STATUS_OK;
	}
	enum status status = electrical_circuit(inputs->numbers[READING_COMPRESSOR_RLA],
	                                        inputs->numbers[READING_FAN_MOTOR_FLA], &circuit);

	*value = circuit.ampacity;
	return status;
}

/* A start that raises the line by more than its own swings cannot be: one of the two is a slip. */
enum status evaluate_STARTING_SAG(const struct inputs *inputs, double *value)
{
	const double least = -10;
	enum status status = electrical_starting_sag(line_volts(inputs),
	                                             inputs->numbers[READING_LINE_VOLTAGE_STARTING],
	                                             value);

	return status == STATUS_OK && *value < least ? STATUS_CONTRADICTION : status;
}

enum status evaluate_RLA_SHARE(const struct inputs *inputs, double *value)
{
	/* The winding in the highest leg is the one that burns. */
	return electrical_share(phase_highest(inputs, READING_COMMON_AMPS, READING_AMPS_A),
	                        inputs->numbers[READING_COMPRESSOR_RLA], value);
}

enum status evaluate_FAN_FLA_SHARE(const struct inputs *inputs, double *value)
{
	return electrical_share(inputs->numbers[READING_FAN_AMPS],
	                        inputs->numbers[READING_FAN_MOTOR_FLA], value);
}

enum status evaluate_BLOWER_FLA_SHARE(const struct inputs *inputs, double *value)
{
	return electrical_share(inputs->numbers[READING_BLOWER_AMPS],
	                        inputs->numbers[READING_BLOWER_MOTOR_FLA], value);
}

enum status evaluate_START_CURRENT_SHARE_OF_LRA(const struct inputs *inputs, double *value)
{
	double low = inputs->numbers[READING_COMPRESSOR_LRA], high = low;
	enum status status = STATUS_OK;

	if (!inputs_has(inputs, READING_COMPRESSOR_LRA))
		status = electrical_locked_rotor_expected(inputs->numbers[READING_COMPRESSOR_RLA],
		                                          &low, &high);
	if (status == STATUS_OK)
		status = electrical_share(inputs->numbers[READING_STARTING_AMPS], (low + high) / 2, value);
	return status;
}

enum status evaluate_COMMON_AMPS_EXPECTED(const struct inputs *inputs, double *value)
{
	return electrical_common_amps(inputs->numbers[READING_RUN_AMPS],
	                              inputs->numbers[READING_START_AMPS], value);
}

enum status evaluate_WINDING_SUM_ERROR(const struct inputs *inputs, double *value)
{
	if (!has_start_winding(inputs))
		return STATUS_NOT_APPLICABLE;
	return electrical_winding_sum_error(inputs->numbers[READING_COMMON_RUN_RESISTANCE],
	                                    inputs->numbers[READING_COMMON_START_RESISTANCE],
	                                    inputs->numbers[READING_START_RUN_RESISTANCE], value);
}

enum status evaluate_START_RUN_RATIO(const struct inputs *inputs, double *value)
{
	if (!has_start_winding(inputs))
		return STATUS_NOT_APPLICABLE;
	return electrical_start_run_ratio(inputs->numbers[READING_COMMON_START_RESISTANCE],
	                                  inputs->numbers[READING_COMMON_RUN_RESISTANCE], value);
}

enum status evaluate_RUN_WINDING_CORRECTED(const struct inputs *inputs, double *value)
{
	enum reading winding = has_start_winding(inputs) &&
	                               inputs_has(inputs, READING_COMMON_RUN_RESISTANCE)
	                           ? READING_COMMON_RUN_RESISTANCE
	                           : READING_WINDING_AB;

	if (!inputs_has(inputs, winding))
		return STATUS_NOT_APPLICABLE;
	return electrical_resistance_at(inputs->numbers[winding], inputs->numbers[READING_WINDING_TEMP],
	                                rated_winding_f, value);
}

enum status evaluate_START_WINDING_CORRECTED(const struct inputs *inputs, double *value)
{
	if (!has_start_winding(inputs))
		return STATUS_NOT_APPLICABLE;
	return electrical_resistance_at(inputs->numbers[READING_COMMON_START_RESISTANCE],
	                                inputs->numbers[READING_WINDING_TEMP], rated_winding_f, value);
}

static enum status identify(const struct inputs *inputs, struct terminals *terminals)
{
	return electrical_identify_terminals(inputs->numbers[READING_TERMINAL_12],
	                                     inputs->numbers[READING_TERMINAL_23],
	                                     inputs->numbers[READING_TERMINAL_31], terminals);
}

enum status evaluate_COMMON_TERMINAL(const struct inputs *inputs, double *value)
{
	struct terminals terminals;
	enum status status = identify(inputs, &terminals);

	*value = terminals.common;
	return status;
}

enum status evaluate_RUN_TERMINAL(const struct inputs *inputs, double *value)
{
	struct terminals terminals;
	enum status status = identify(inputs, &terminals);

	*value = terminals.run;
	return status;
}

enum status evaluate_START_TERMINAL(const struct inputs *inputs, double *value)
{
	struct terminals terminals;
	enum status status = identify(inputs, &terminals);

	*value = terminals.start;
	return status;
}

/* Volts of the tester: where they were not noted only a number proves one. */
static double insulation_volts(const struct inputs *inputs, bool over_limit)
{
	const double usual_tester = 500;

	return inputs_number_or(inputs, READING_INSULATION_TEST_VOLTS, over_limit ? 0 : usual_tester);
}

/* The least that is allowed where the maker's is not typed. */
static double usual_insulation_floor(const struct inputs *inputs)
{
	return inputs->choices[READING_COMPRESSOR_MOTOR] == CHOICE_MOTOR_INVERTER
		? ELECTRICAL_INSULATION_FLOOR_INVERTER : ELECTRICAL_INSULATION_FLOOR;
}

enum status evaluate_INSULATION_GRADE(const struct inputs *inputs, double *value)
{
	bool over = inputs->states[READING_COMPRESSOR_GROUND_RESISTANCE] == VALUE_OVER_LIMIT;
	double megohm = over ? INFINITY : inputs->numbers[READING_COMPRESSOR_GROUND_RESISTANCE];
	enum insulation grade;
	enum status status = electrical_insulation_grade(
		megohm, inputs_number_or(inputs, READING_INSULATION_FLOOR, usual_insulation_floor(inputs)),
		insulation_volts(inputs, over), &grade);

	*value = (double)grade;
	return status;
}

enum status evaluate_INSULATION_AT_40C(const struct inputs *inputs, double *value)
{
	double temp = inputs_number_or(inputs, READING_WINDING_TEMP,
	                               inputs->numbers[READING_SHELL_TEMP]);

	return electrical_insulation_at_40c(inputs->numbers[READING_COMPRESSOR_GROUND_RESISTANCE], temp,
	                                    value);
}

enum status power_of_unit(const struct inputs *inputs, double *kilowatt)
{
	if (inputs_has(inputs, READING_UNIT_POWER)) {
		*kilowatt = inputs->numbers[READING_UNIT_POWER];
		return STATUS_OK;
	}
	double amps = compressor_amps(inputs) + inputs_number_or(inputs, READING_FAN_AMPS, 0);
	double factor = inputs_number_or(inputs, READING_POWER_FACTOR, ELECTRICAL_POWER_FACTOR);

	return electrical_power(line_volts(inputs), amps, factor, is_three_phase(inputs), kilowatt);
}
