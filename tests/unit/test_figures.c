/* Figures bound to readings: worked values, missing readings, plus/minus. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/model/figures.h>

Suite *figures_suite(void);

struct pair {
	enum reading reading;
	const char *typed;
};

enum { MOST_PAIRS = 11 };

/* One figure, the readings it is worked out from, and what it should be. */
static const struct worked {
	enum figure figure;
	struct pair readings[MOST_PAIRS];
	double value, tolerance;
} worked[] = {
	/* CoolProp 8.0.0: R-410A dew point at 118 + 14.696 psia is 39.84 °F. */
	{ FIGURE_SUPERHEAT, { { READING_REFRIGERANT, "R-410A" }, { READING_SUCTION_PRESSURE, "118" },
	  { READING_SUCTION_LINE_TEMP, "52" } }, 12.16, 0.02 },
	/* ASHRAE Fundamentals 2017, chapter 30, R-22: 68.51 psig saturates at 40 °F, sea level. */
	{ FIGURE_SUCTION_SATURATION_TEMP, { { READING_REFRIGERANT, "R-22" },
	  { READING_SUCTION_PRESSURE, "68.5" } }, 40, 0.1 },
	/* The charging table: 85 °F and 62 °F give 8 °F exactly. */
	{ FIGURE_TARGET_SUPERHEAT, { { READING_OUTDOOR_DB, "85" }, { READING_RETURN_WB, "62" } }, 8, 1e-9 },
	/* The unit's own chart wins over the table. */
	{ FIGURE_TARGET_SUPERHEAT, { { READING_OUTDOOR_DB, "85" }, { READING_RETURN_WB, "62" },
	  { READING_TARGET_SUPERHEAT_CHART, "14" } }, 14, 1e-9 },
	/* 100 (27 - 45) / 45. */
	{ FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, { { READING_COMPRESSOR_CAPACITANCE, "27" },
	  { READING_COMPRESSOR_CAPACITOR_RATED, "45" } }, -40, 1e-9 },
	/* 2652.6 A/V at 60 Hz: 4.5 A across 265 V is 45 µF. */
	{ FIGURE_CAPACITANCE_UNDER_LOAD, { { READING_START_AMPS, "4.5" },
	  { READING_COMPRESSOR_CAPACITOR_VOLTS, "265" } }, 45.04, 0.05 },
	/* Common practice: 4.8 A run and 4.3 A start go with 6.5 A common. */
	{ FIGURE_COMMON_AMPS_EXPECTED, { { READING_RUN_AMPS, "4.8" }, { READING_START_AMPS, "4.3" } },
	  6.44, 0.06 },
	/* NEMA MG 1-14.36: 230, 220, 225 V deviate 2.22 % from their mean of 225. */
	{ FIGURE_VOLTAGE_UNBALANCE, { { READING_LINE_VOLTAGE_AB, "230" },
	  { READING_LINE_VOLTAGE_BC, "220" }, { READING_LINE_VOLTAGE_CA, "225" } }, 2.222, 0.001 },
	{ FIGURE_WINDING_SUM_ERROR, { { READING_COMMON_RUN_RESISTANCE, "0.5" },
	  { READING_COMMON_START_RESISTANCE, "3.0" }, { READING_START_RUN_RESISTANCE, "3.6" } }, 0.1, 1e-9 },
	{ FIGURE_COMMON_TERMINAL, { { READING_TERMINAL_12, "3.5" }, { READING_TERMINAL_23, "3.0" },
	  { READING_TERMINAL_31, "0.5" } }, 3, 1e-9 },
	{ FIGURE_RUN_TERMINAL, { { READING_TERMINAL_12, "3.5" }, { READING_TERMINAL_23, "3.0" },
	  { READING_TERMINAL_31, "0.5" } }, 1, 1e-9 },
	/* An OL proves insulation only on a tester: 2 is good, 3 is not proved. */
	{ FIGURE_INSULATION_GRADE, { { READING_COMPRESSOR_GROUND_RESISTANCE, "OL" },
	  { READING_INSULATION_TEST_VOLTS, "500" } }, 2, 1e-9 },
	{ FIGURE_INSULATION_GRADE, { { READING_COMPRESSOR_GROUND_RESISTANCE, "OL" },
	  { READING_INSULATION_TEST_VOLTS, "9" } }, 3, 1e-9 },
	{ FIGURE_INSULATION_GRADE, { { READING_COMPRESSOR_GROUND_RESISTANCE, "OL" } }, 3, 1e-9 },
	/* Emerson AE4-1294, p. 1: 0.6 MOhm is over the floor of 0.5; the maker's own wins. */
	{ FIGURE_INSULATION_GRADE, { { READING_COMPRESSOR_GROUND_RESISTANCE, "0.6" } }, 1, 1e-9 },
	{ FIGURE_INSULATION_GRADE, { { READING_COMPRESSOR_GROUND_RESISTANCE, "0.6" },
	  { READING_INSULATION_FLOOR, "1" } }, 0, 1e-9 },
	/* The older correction of IEEE 43: x0.25 at 20 °C (68 °F); the winding's own temperature first. */
	{ FIGURE_INSULATION_AT_40C, { { READING_COMPRESSOR_GROUND_RESISTANCE, "100" },
	  { READING_SHELL_TEMP, "68" } }, 25, 1e-9 },
	{ FIGURE_INSULATION_AT_40C, { { READING_COMPRESSOR_GROUND_RESISTANCE, "100" },
	  { READING_SHELL_TEMP, "68" }, { READING_WINDING_TEMP, "86" } }, 50, 1e-9 },
	/* By hand: a lost phase does not hide behind the mean: 100 x 26 / 20. */
	{ FIGURE_RLA_SHARE, { { READING_COMPRESSOR_RLA, "20" }, { READING_AMPS_A, "26" },
	  { READING_AMPS_B, "26" }, { READING_AMPS_C, "0.2" } }, 130, 1e-9 },
	/* By hand: mean 17.4, the farthest is 17.2 away. */
	{ FIGURE_CURRENT_UNBALANCE, { { READING_AMPS_A, "26" }, { READING_AMPS_B, "26" },
	  { READING_AMPS_C, "0.2" } }, 98.85, 0.01 },
	/* By hand: 0.80 of total static of which a blocked filter takes 0.45. */
	{ FIGURE_DUCT_STATIC, { { READING_RETURN_STATIC, "-0.55" }, { READING_SUPPLY_STATIC, "0.25" },
	  { READING_FILTER_DROP, "0.45" } }, 0.35, 1e-9 },
	/* By hand: 1,200 cfm at 365 W per 1,000; 115 V x 4 A x 0.9. */
	{ FIGURE_BLOWER_POWER, { { READING_AIRFLOW, "1200" } }, 0.438, 1e-9 },
	{ FIGURE_BLOWER_POWER, { { READING_AIRFLOW, "1200" }, { READING_BLOWER_AMPS, "4" },
	  { READING_TRANSFORMER_PRIMARY, "115" } }, 0.414, 1e-9 },
	/* By hand: 39,816 Btu/h over 3.3 kW outdoors and 0.438 kW of blower. */
	{ FIGURE_EER, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" },
	  { READING_UNIT_POWER, "3.3" } }, 10.65, 0.01 },
	/* Armstrong 4SHP16LT, p. 16: the approach is liquid line minus outdoor air. */
	{ FIGURE_LIQUID_APPROACH, { { READING_LIQUID_LINE_TEMP, "103" }, { READING_OUTDOOR_DB, "95" } },
	  8, 1e-9 },
	/* ASHRAE Fundamentals 2017, chapter 30, R-22: 168.4 psig saturates at 90 °F, sea level. */
	{ FIGURE_STANDING_EXCESS, { { READING_REFRIGERANT, "R-22" }, { READING_STANDING_PRESSURE, "168.4" },
	  { READING_STANDING_TEMP, "85" } }, 5, 0.1 },
	/* CoolProp 8.0.0: R-410A bubble point at 318 + 14.696 psia is 99.8 °F. */
	{ FIGURE_CONDENSER_BEND_DIFFERENCE, { { READING_REFRIGERANT, "R-410A" },
	  { READING_LIQUID_PRESSURE, "318" }, { READING_CONDENSER_BEND_TEMP, "94" } }, 5.8, 0.1 },
	{ FIGURE_REVERSING_VALVE_DIFFERENCE, { { READING_REVERSING_VALVE_IN_TEMP, "50" },
	  { READING_REVERSING_VALVE_OUT_TEMP, "55.5" } }, 5.5, 1e-9 },
	{ FIGURE_INSULATION_GRADE, { { READING_COMPRESSOR_GROUND_RESISTANCE, "0.4" } }, 0, 1e-9 },
	/* psychrolib 2.5.0, GetTWetBulbFromRelHum(80, 0.5, 14.696) = 66.66 °F. */
	{ FIGURE_RETURN_WB, { { READING_RETURN_DB, "80" }, { READING_RETURN_RH, "50" } }, 66.66, 0.01 },
	/* 60,000 / (1.08 x 50) = 1,111 cfm of standard air; the house air is a little lighter. */
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_HEAT_RISE, "50" }, { READING_HEAT_OUTPUT, "60000" } },
	  1111, 20 },
	/*
	 * By hand at 70 °F and 40 % (0.3633 psia of saturation, ASHRAE): W = 0.621945 x 0.14531 / 14.5507
	 * = 0.006211, v = 0.370486 x 529.67 x 1.00999 / 14.696 = 13.486, so 60 x 0.24276 / 13.486 = 1.0800.
	 */
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_HEAT_RISE, "50" }, { READING_HEAT_OUTPUT, "60000" } },
	  1111.08, 0.05 },
	/* The same balance the other way round: 39,816 Btu/h over these enthalpies is 1,200 cfm. */
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_MEASURED_CAPACITY, "39816" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" } }, 1200, 1 },
	/* A heat rise without its output, or the other way round, tells no airflow. */
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_HEAT_RISE, "50" }, { READING_MEASURED_CAPACITY, "39816" },
	  { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" },
	  { READING_SUPPLY_WB, "56" } }, 1200, 1 },
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_HEAT_OUTPUT, "60000" }, { READING_MEASURED_CAPACITY, "39816" },
	  { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" },
	  { READING_SUPPLY_WB, "56" } }, 1200, 1 },
	/* 60 cfm / v x dh; psychrolib 2.5.0 enthalpies of 80/67 and 58/56 °F, 31.447 and 23.788 Btu/lb, v 13.849. */
	{ FIGURE_TOTAL_CAPACITY, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" } },
	  39816, 20 },
	{ FIGURE_TOTAL_EXTERNAL_STATIC, { { READING_RETURN_STATIC, "-0.30" },
	  { READING_SUPPLY_STATIC, "0.25" } }, 0.55, 1e-9 },
	/* Definition of SEER: 3 x 12,000 x 1,000 / (14 x 1,000). */
	{ FIGURE_SEASONAL_ENERGY, { { READING_NOMINAL_CAPACITY, "3" }, { READING_SEER, "14" } },
	  2571.43, 0.01 },
	/* A published reading of NEMA MG 1-14.36: 0.95 at 2 %; 229.5, 220.5, 225 V are 2 % unbalanced. */
	{ FIGURE_UNBALANCE_DERATING, { { READING_LINE_VOLTAGE_AB, "229.5" },
	  { READING_LINE_VOLTAGE_BC, "220.5" }, { READING_LINE_VOLTAGE_CA, "225" } }, 95, 0.01 },
	/* NEC 440.33: 1.25 x 14.1 + 1.3 A. */
	{ FIGURE_CIRCUIT_AMPACITY_NEEDED, { { READING_COMPRESSOR_RLA, "14.1" },
	  { READING_FAN_MOTOR_FLA, "1.3" } }, 18.925, 1e-9 },
	/* NEC 440.4(B): the nameplate counts the blower of a package; 1.25 x 25 + 2.4 + 7.5 A and more. */
	{ FIGURE_CIRCUIT_AMPACITY_NEEDED, { { READING_COMPRESSOR_RLA, "25" },
	  { READING_FAN_MOTOR_FLA, "2.4" }, { READING_MIN_CIRCUIT_AMPACITY, "43" } }, 43, 1e-9 },
	{ FIGURE_CIRCUIT_AMPACITY_NEEDED, { { READING_MIN_CIRCUIT_AMPACITY, "22.2" } }, 22.2, 1e-9 },
	/* Physics: copper, 1.20 ohm at 125 °F (51.67 °C) is 1.088 ohm at 25 °C. */
	{ FIGURE_RUN_WINDING_CORRECTED, { { READING_COMMON_RUN_RESISTANCE, "1.2" },
	  { READING_WINDING_TEMP, "125" } }, 1.0882, 0.0005 },
	/* Definition of SEER, with SEER2 brought to SEER (RESNET 71f): 3 x 12,000 x 1,000 x 0.95 / 13,300. */
	{ FIGURE_SEASONAL_ENERGY, { { READING_NOMINAL_CAPACITY, "3" }, { READING_SEER2, "13.3" } },
	  2571.43, 0.01 },
	{ FIGURE_SEASONAL_ENERGY, { { READING_NOMINAL_CAPACITY, "3" }, { READING_SEER2, "14" },
	  { READING_SYSTEM_KIND, "ductless" } }, 2571.43, 0.01 },
	/* By hand: 98 oz and 25 ft more than the 15 ft that it covers, at 0.60 oz/ft. */
	{ FIGURE_CHARGE_BY_WEIGHT, { { READING_FACTORY_CHARGE, "6 lb 2 oz" },
	  { READING_LINE_SET_LENGTH, "40" }, { READING_PRECHARGED_LENGTH, "15" },
	  { READING_CHARGE_PER_LENGTH, "0.6" } }, 113, 1e-9 },
	/* By hand: mean 0.88, the farthest 0.08 away. */
	{ FIGURE_WINDING_UNBALANCE, { { READING_WINDING_AB, "0.92" }, { READING_WINDING_BC, "0.92" },
	  { READING_WINDING_CA, "0.80" } }, 9.09, 0.01 },
	/* ASHRAE Fundamentals 2017, chapter 30, R-22: 90 °F at 168.4 psig, 40 °F at 68.5 psig. */
	{ FIGURE_LIQUID_SATURATION_TEMP, { { READING_REFRIGERANT, "R-22" },
	  { READING_LIQUID_PRESSURE, "168.4" } }, 90, 0.1 },
	{ FIGURE_SUBCOOLING, { { READING_REFRIGERANT, "R-22" }, { READING_LIQUID_PRESSURE, "168.4" },
	  { READING_LIQUID_LINE_TEMP, "82" } }, 8, 0.1 },
	{ FIGURE_CONDENSER_OVER_OUTDOOR, { { READING_REFRIGERANT, "R-22" },
	  { READING_LIQUID_PRESSURE, "168.4" }, { READING_OUTDOOR_DB, "70" } }, 20, 0.1 },
	{ FIGURE_EVAPORATOR_UNDER_RETURN, { { READING_REFRIGERANT, "R-22" },
	  { READING_SUCTION_PRESSURE, "68.5" }, { READING_RETURN_DB, "75" } }, 35, 0.1 },
	/* The nameplate's; 10 °F are usual where it has none: common practice. */
	{ FIGURE_TARGET_SUBCOOLING, { { READING_METERING, "txv" }, { READING_TARGET_SUBCOOLING, "8" } }, 8,
	  1e-9 },
	{ FIGURE_TARGET_SUBCOOLING, { { READING_METERING, "exv" } }, 10, 1e-9 },
	/* Differences of two thermometers, by hand. */
	{ FIGURE_CONDENSER_AIR_RISE, { { READING_CONDENSER_LEAVING_DB, "113" }, { READING_OUTDOOR_DB, "95" } },
	  18, 1e-9 },
	{ FIGURE_DRIER_DROP, { { READING_DRIER_IN_TEMP, "100" }, { READING_DRIER_OUT_TEMP, "96.5" } }, 3.5,
	  1e-9 },
	/* psychrolib 2.5.0 at 80/67 °F and 58/56 °F, 14.696 psia, 1,200 cfm. */
	{ FIGURE_RETURN_RH, { { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" } }, 51.10, 0.02 },
	{ FIGURE_RETURN_DEW_POINT, { { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" } }, 60.32, 0.01 },
	{ FIGURE_SUPPLY_ENTHALPY, { { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" } },
	  23.788, 0.002 },
	{ FIGURE_SENSIBLE_CAPACITY, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" } }, 28017, 20 },
	{ FIGURE_SENSIBLE_RATIO, { { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" },
	  { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" } }, 0.7023, 0.0015 },
	{ FIGURE_RETURN_ENTHALPY, { { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" } },
	  31.447, 0.002 },
	{ FIGURE_TEMPERATURE_SPLIT, { { READING_RETURN_DB, "80" }, { READING_SUPPLY_DB, "58" } }, 22, 1e-9 },
	/* (318 + 14.696) / (118 + 14.696), absolute, sea level. */
	{ FIGURE_COMPRESSION_RATIO, { { READING_SUCTION_PRESSURE, "118" },
	  { READING_LIQUID_PRESSURE, "318" } }, 2.5072, 0.0001 },
	/* Shares, by hand. */
	{ FIGURE_FAN_CAPACITOR_DEVIATION, { { READING_FAN_CAPACITANCE, "4.5" },
	  { READING_FAN_CAPACITOR_RATED, "5" } }, -10, 1e-9 },
	{ FIGURE_BLOWER_CAPACITOR_DEVIATION, { { READING_BLOWER_CAPACITANCE, "10.4" },
	  { READING_BLOWER_CAPACITOR_RATED, "10" } }, 4, 1e-9 },
	{ FIGURE_VOLTAGE_DEVIATION, { { READING_LINE_VOLTAGE, "241.5" }, { READING_RATED_VOLTAGE, "230" } }, 5,
	  1e-9 },
	{ FIGURE_VOLTAGE_DEVIATION, { { READING_LINE_VOLTAGE_AB, "230" }, { READING_LINE_VOLTAGE_BC, "220" },
	  { READING_LINE_VOLTAGE_CA, "225" }, { READING_RATED_VOLTAGE, "230" } }, -2.1739, 0.0001 },
	/* What was read during the start is no fourth phase. */
	{ FIGURE_VOLTAGE_DEVIATION, { { READING_LINE_VOLTAGE_AB, "230" }, { READING_LINE_VOLTAGE_BC, "220" },
	  { READING_LINE_VOLTAGE_CA, "225" }, { READING_LINE_VOLTAGE_STARTING, "190" },
	  { READING_RATED_VOLTAGE, "230" } }, -2.1739, 0.0001 },
	{ FIGURE_RLA_SHARE, { { READING_AMPS_A, "7" }, { READING_AMPS_B, "7" }, { READING_AMPS_C, "10.5" },
	  { READING_STARTING_AMPS, "70" }, { READING_COMPRESSOR_RLA, "14" } }, 75, 1e-9 },
	{ FIGURE_STARTING_SAG, { { READING_LINE_VOLTAGE, "230" }, { READING_LINE_VOLTAGE_STARTING, "207" } },
	  10, 1e-9 },
	{ FIGURE_FAN_FLA_SHARE, { { READING_FAN_AMPS, "1.17" }, { READING_FAN_MOTOR_FLA, "1.3" } }, 90, 1e-9 },
	{ FIGURE_BLOWER_FLA_SHARE, { { READING_BLOWER_AMPS, "3" }, { READING_BLOWER_MOTOR_FLA, "4" } }, 75,
	  1e-9 },
	{ FIGURE_RLA_SHARE, { { READING_COMMON_AMPS, "10.5" }, { READING_COMPRESSOR_RLA, "14" } }, 75, 1e-9 },
	/* Of three phases the one that draws most, whichever it is. */
	{ FIGURE_RLA_SHARE, { { READING_AMPS_A, "10.5" }, { READING_AMPS_B, "7" }, { READING_AMPS_C, "7" },
	  { READING_COMPRESSOR_RLA, "14" } }, 75, 1e-9 },
	{ FIGURE_RLA_SHARE, { { READING_AMPS_A, "7" }, { READING_AMPS_B, "10.5" }, { READING_AMPS_C, "7" },
	  { READING_COMPRESSOR_RLA, "14" } }, 75, 1e-9 },
	{ FIGURE_RLA_SHARE, { { READING_AMPS_A, "7" }, { READING_AMPS_B, "7" }, { READING_AMPS_C, "10.5" },
	  { READING_COMPRESSOR_RLA, "14" } }, 75, 1e-9 },
	{ FIGURE_START_RUN_RATIO, { { READING_COMMON_START_RESISTANCE, "3.3" },
	  { READING_COMMON_RUN_RESISTANCE, "1.1" } }, 3, 1e-9 },
	{ FIGURE_START_TERMINAL, { { READING_TERMINAL_12, "3.5" }, { READING_TERMINAL_23, "3.0" },
	  { READING_TERMINAL_31, "0.5" } }, 2, 1e-9 },
	/* Physics: copper, as the run winding above: x 0.90683. */
	{ FIGURE_START_WINDING_CORRECTED, { { READING_COMMON_START_RESISTANCE, "3.6" },
	  { READING_WINDING_TEMP, "125" } }, 3.2646, 0.0015 },
	/* ASTM B280: bore 0.311 in.; CoolProp 8.0.0: R-410A at 100 °F, 61.76 lb/ft3; 50 ft. */
	{ FIGURE_LINE_SET_LIQUID, { { READING_REFRIGERANT, "R-410A" }, { READING_LINE_SET_LENGTH, "50" },
	  { READING_LIQUID_LINE_OD, "0.375" }, { READING_LIQUID_LINE_TEMP, "100" } }, 26.06, 0.1 },
	/* Where the unit's power was not read: volts x amps x 0.9, by hand; 39,816 Btu/h as above. */
	{ FIGURE_EER, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" },
	  { READING_LINE_VOLTAGE, "230" }, { READING_COMMON_AMPS, "12" }, { READING_FAN_AMPS, "1" } },
	  39816 / (2691 + 438.0), 0.01 },
	{ FIGURE_EER, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" },
	  { READING_LINE_VOLTAGE, "230" }, { READING_COMMON_AMPS, "12" } }, 39816 / (2484 + 438.0), 0.01 },
	{ FIGURE_EER, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" },
	  { READING_LINE_VOLTAGE, "230" }, { READING_COMMON_AMPS, "12" }, { READING_POWER_FACTOR, "0.95" } },
	  39816 / (2622 + 438.0), 0.01 },
	/* Three phases: x the root of 3. */
	{ FIGURE_EER, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_RETURN_WB, "67" }, { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" },
	  { READING_COMPRESSOR_MOTOR, "three" }, { READING_LINE_VOLTAGE_AB, "230" },
	  { READING_AMPS_A, "9" } }, 39816 / (3226.8 + 438.0), 0.01 },
	/* Two of three phases: the mean of what was read. */
	{ FIGURE_VOLTAGE_DEVIATION, { { READING_LINE_VOLTAGE_AB, "230" }, { READING_LINE_VOLTAGE_CA, "220" },
	  { READING_RATED_VOLTAGE, "230" } }, -2.1739, 0.0001 },
	/* 5,000 ft, 12.23 psia (US Standard Atmosphere); CoolProp 8.0.0: the dew point is 38.75 °F. */
	{ FIGURE_SUPERHEAT, { { READING_REFRIGERANT, "R-410A" }, { READING_SUCTION_PRESSURE, "118" },
	  { READING_SUCTION_LINE_TEMP, "52" }, { READING_ALTITUDE, "5000" } }, 13.25, 0.05 },
	{ FIGURE_COMPRESSION_RATIO, { { READING_SUCTION_PRESSURE, "118" },
	  { READING_LIQUID_PRESSURE, "318" }, { READING_ALTITUDE, "5000" } }, 2.5358, 0.0005 },
	/* A unit at rest has the same pressure everywhere. */
	{ FIGURE_COMPRESSION_RATIO, { { READING_SUCTION_PRESSURE, "150" },
	  { READING_LIQUID_PRESSURE, "150" } }, 1, 1e-9 },
	/* What was read counts before what could be worked out. */
	{ FIGURE_RETURN_WB, { { READING_RETURN_WB, "64.5" } }, 64.5, 1e-9 },
	{ FIGURE_RETURN_RH, { { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" },
	  { READING_RETURN_RH, "48" } }, 48, 1e-9 },
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_AIRFLOW, "980" }, { READING_HEAT_RISE, "50" },
	  { READING_HEAT_OUTPUT, "60000" } }, 980, 1e-9 },
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_HEAT_RISE, "50" }, { READING_HEAT_OUTPUT, "60000" },
	  { READING_MEASURED_CAPACITY, "39816" }, { READING_RETURN_DB, "80" }, { READING_RETURN_WB, "67" },
	  { READING_SUPPLY_DB, "58" }, { READING_SUPPLY_WB, "56" } }, 1140, 30 },
	/* 0.83 of the factor at 5,000 ft (common practice tables): 60,000 / (1.08 x 0.83 x 50). */
	{ FIGURE_AIRFLOW_ESTIMATE, { { READING_HEAT_RISE, "50" }, { READING_HEAT_OUTPUT, "60000" },
	  { READING_ALTITUDE, "5000" } }, 1338, 25 },
	/* 1.08 x 1,200 x 22, where the humidity was not read. */
	{ FIGURE_SENSIBLE_CAPACITY, { { READING_AIRFLOW, "1200" }, { READING_RETURN_DB, "80" },
	  { READING_SUPPLY_DB, "58" } }, 28512, 300 },
	/* By hand: filter and coil take their drops from 0.80. */
	{ FIGURE_DUCT_STATIC, { { READING_RETURN_STATIC, "-0.55" }, { READING_SUPPLY_STATIC, "0.25" },
	  { READING_FILTER_DROP, "0.20" }, { READING_COIL_DROP, "0.35" } }, 0.25, 1e-9 },
	/* Where a drop was not measured the ducts are told with it. */
	{ FIGURE_DUCT_STATIC, { { READING_RETURN_STATIC, "-0.55" }, { READING_SUPPLY_STATIC, "0.25" },
	  { READING_COIL_DROP, "0.35" } }, 0.45, 1e-9 },
	{ FIGURE_DUCT_STATIC, { { READING_RETURN_STATIC, "-0.55" }, { READING_SUPPLY_STATIC, "0.25" },
	  { READING_FILTER_DROP, "0.20" } }, 0.6, 1e-9 },
	/* An orifice has a subcooling on some nameplates. */
	{ FIGURE_TARGET_SUBCOOLING, { { READING_METERING, "fixed" }, { READING_TARGET_SUBCOOLING, "8" } },
	  8, 1e-9 },
	/* SEER is as on the label, whatever SEER2 says. */
	{ FIGURE_SEASONAL_ENERGY, { { READING_NOMINAL_CAPACITY, "3" }, { READING_SEER, "14" },
	  { READING_SEER2, "20" } }, 2571.43, 0.01 },
	/* Physics: copper, of three windings alike. */
	{ FIGURE_RUN_WINDING_CORRECTED, { { READING_COMPRESSOR_MOTOR, "three" }, { READING_WINDING_AB, "1.2" },
	  { READING_WINDING_TEMP, "125" } }, 1.0882, 0.0005 },
	/* Of three windings no run winding is asked for, whatever stands there from another motor. */
	{ FIGURE_RUN_WINDING_CORRECTED, { { READING_COMPRESSOR_MOTOR, "three" }, { READING_WINDING_AB, "1.2" },
	  { READING_COMMON_RUN_RESISTANCE, "9" }, { READING_WINDING_TEMP, "125" } }, 1.0882, 0.0005 },
	/* The nameplate's own LRA, by hand. */
	{ FIGURE_START_CURRENT_SHARE_OF_LRA, { { READING_STARTING_AMPS, "73" },
	  { READING_COMPRESSOR_RLA, "14" }, { READING_COMPRESSOR_LRA, "146" } }, 50, 1e-9 },
	/* 365 W for 1,000 cfm where the volts of the blower were not read. */
	{ FIGURE_BLOWER_POWER, { { READING_AIRFLOW, "1200" }, { READING_BLOWER_AMPS, "4" } }, 0.438, 1e-9 },
	/* 5.5 RLA when the nameplate has no LRA: common practice. */
	{ FIGURE_START_CURRENT_SHARE_OF_LRA, { { READING_STARTING_AMPS, "77" },
	  { READING_COMPRESSOR_RLA, "14" } }, 100, 1e-9 },
};

static void put(struct visit *visit, const struct pair *pair)
{
	struct value value;
	struct error error;

	ck_assert_msg(reading_parse(pair->reading, pair->typed, UNITS_US, &value, &error) == STATUS_OK,
	              "%s", error.text);
	visit_set(visit, STAGE_AS_FOUND, pair->reading, &value);
}

static struct figure_value evaluate(enum figure figure, const struct pair *pairs)
{
	struct visit visit;

	visit_init(&visit);
	for (int i = 0; i < MOST_PAIRS && pairs[i].reading != READING_NONE; i++)
		put(&visit, &pairs[i]);
	return figure_evaluate(&visit, STAGE_AS_FOUND, figure);
}

/* Two have tests of their own below: what machines and weather make of them is no one number. */
START_TEST(every_figure_has_its_worked_example)
{
	bool has_one[FIGURE_COUNT] = { false };

	for (size_t i = 0; i < sizeof worked / sizeof *worked; i++)
		has_one[worked[i].figure] = true;
	has_one[FIGURE_EXPECTED_TEMPERATURE_SPLIT] = has_one[FIGURE_CHARGE_TO_MOVE] = true;
	ck_assert_msg(has_one[_i], "%s", figure_info((enum figure)_i)->key);
}
END_TEST

START_TEST(figures_are_what_the_sources_say)
{
	struct figure_value value = evaluate(worked[_i].figure, worked[_i].readings);

	ck_assert_msg(value.status == STATUS_OK, "%s", status_sentence(value.status));
	ck_assert_double_eq_tol(value.value, worked[_i].value, worked[_i].tolerance);
}
END_TEST

START_TEST(a_missing_reading_is_named)
{
	const struct pair pairs[MOST_PAIRS] = {
		{ READING_REFRIGERANT, "R-22" }, { READING_SUCTION_PRESSURE, "68" },
	};
	struct figure_value value = evaluate(FIGURE_SUPERHEAT, pairs);
	char why[160];

	ck_assert_int_eq(value.status, STATUS_MISSING);
	ck_assert(isnan(value.value));
	figure_explain(&value, why, sizeof why);
	ck_assert_str_eq(why, "suction line temperature was not taken");
}
END_TEST

/* Readings that cannot be worked with: not evaluated, with the reason. */
static const struct {
	enum figure figure;
	struct pair readings[MOST_PAIRS];
	const char *why;
} refused[] = {
	{ FIGURE_RETURN_ENTHALPY, { { READING_RETURN_DB, "70" }, { READING_RETURN_WB, "75" } },
	  "wet bulb is above the dry bulb" },
	{ FIGURE_COMPRESSION_RATIO, { { READING_SUCTION_PRESSURE, "200" },
	  { READING_LIQUID_PRESSURE, "150" } }, "suction pressure is above liquid pressure" },
	{ FIGURE_WINDING_SUM_ERROR, { { READING_COMMON_RUN_RESISTANCE, "OL" },
	  { READING_COMMON_START_RESISTANCE, "3" }, { READING_START_RUN_RESISTANCE, "OL" } },
	  "common – run is over limit" },
	{ FIGURE_SUPERHEAT, { { READING_REFRIGERANT, "R-22" }, { READING_SUCTION_PRESSURE, "151" },
	  { READING_LIQUID_PRESSURE, "150" }, { READING_SUCTION_LINE_TEMP, "90" } },
	  "suction pressure is above liquid pressure" },
	{ FIGURE_SUBCOOLING, { { READING_REFRIGERANT, "R-22" }, { READING_SUCTION_PRESSURE, "151" },
	  { READING_LIQUID_PRESSURE, "150" }, { READING_LIQUID_LINE_TEMP, "80" } },
	  "suction pressure is above liquid pressure" },
	{ FIGURE_START_RUN_RATIO, { { READING_COMPRESSOR_MOTOR, "three" },
	  { READING_COMMON_RUN_RESISTANCE, "1" }, { READING_COMMON_START_RESISTANCE, "1" } },
	  "does not apply" },
	{ FIGURE_TARGET_SUPERHEAT, { { READING_OUTDOOR_DB, "110" }, { READING_RETURN_WB, "60" } },
	  "weigh the charge in" },
	{ FIGURE_TARGET_SUPERHEAT, { { READING_METERING, "txv" }, { READING_OUTDOOR_DB, "95" },
	  { READING_RETURN_WB, "67" } }, "valve holds the superheat" },
	/* At 10,000 ft the barometer is 10.1 psia: -12 psig is beyond a full vacuum. */
	{ FIGURE_SUCTION_SATURATION_TEMP, { { READING_REFRIGERANT, "R-22" },
	  { READING_SUCTION_PRESSURE, "-12" }, { READING_ALTITUDE, "10000" } }, "above zero" },
	{ FIGURE_WINDING_SUM_ERROR, { { READING_COMPRESSOR_MOTOR, "three" },
	  { READING_COMMON_RUN_RESISTANCE, "1" }, { READING_COMMON_START_RESISTANCE, "1" },
	  { READING_START_RUN_RESISTANCE, "1" } }, "does not apply" },
	{ FIGURE_STARTING_SAG, { { READING_LINE_VOLTAGE, "200" },
	  { READING_LINE_VOLTAGE_STARTING, "220.2" } }, "contradict" },
};

/* A tenth above the line is the most that a start may read: it is still a number. */
START_TEST(a_line_that_swings_by_a_tenth_is_a_number)
{
	const struct pair pairs[MOST_PAIRS] = {
		{ READING_LINE_VOLTAGE, "200" }, { READING_LINE_VOLTAGE_STARTING, "220" },
	};
	struct figure_value value = evaluate(FIGURE_STARTING_SAG, pairs);

	ck_assert_int_eq(value.status, STATUS_OK);
	ck_assert_double_eq_tol(value.value, -10, 1e-9);
}
END_TEST

START_TEST(what_cannot_be_worked_out_says_why)
{
	struct figure_value value = evaluate(refused[_i].figure, refused[_i].readings);
	char why[200];

	ck_assert_int_ne(value.status, STATUS_OK);
	ck_assert(isnan(value.value));
	figure_explain(&value, why, sizeof why);
	ck_assert_msg(strstr(why, refused[_i].why) != NULL, "%s", why);
}
END_TEST

START_TEST(uncertainty_comes_from_the_meters)
{
	const struct pair pairs[MOST_PAIRS] = {
		{ READING_RETURN_DB, "78" }, { READING_SUPPLY_DB, "58" },
	};
	struct figure_value value = evaluate(FIGURE_TEMPERATURE_SPLIT, pairs);

	/* Two thermometers of ±1 °F: the root of the sum of squares. */
	ck_assert_double_eq_tol(value.plus_minus, sqrt(2), 1e-9);
}
END_TEST

START_TEST(cooling_hours_are_those_of_the_call)
{
	static const struct pair pairs[] = {
		{ READING_NOMINAL_CAPACITY, "3" }, { READING_SEER, "14" },
	};
	struct visit visit;

	visit_init(&visit);
	put(&visit, &pairs[0]);
	put(&visit, &pairs[1]);
	visit.cooling_hours = 2000;
	/* Definition of SEER: 3 x 12,000 x 2,000 / (14 x 1,000). */
	ck_assert_double_eq_tol(figure_evaluate(&visit, STAGE_AS_FOUND, FIGURE_SEASONAL_ENERGY).value,
	                        5142.86, 0.01);
}
END_TEST

/* On an inverter superheat moves with the speed: nothing is said of the charge. */
START_TEST(an_inverter_is_charged_by_weight)
{
	const struct pair pairs[MOST_PAIRS] = {
		{ READING_REFRIGERANT, "R-410A" }, { READING_METERING, "txv" },
		{ READING_FACTORY_CHARGE, "100" }, { READING_LIQUID_PRESSURE, "318" },
		{ READING_LIQUID_LINE_TEMP, "98" }, { READING_COMPRESSOR_MOTOR, "inverter" },
	};

	ck_assert_int_eq(evaluate(FIGURE_CHARGE_TO_MOVE, pairs).status, STATUS_NOT_APPLICABLE);
}
END_TEST

/* Of 20 machines 19 answer with half to twice the usual: the ± cannot be less than the total. */
START_TEST(the_charge_to_move_holds_how_machines_differ)
{
	const struct pair pairs[MOST_PAIRS] = {
		{ READING_REFRIGERANT, "R-410A" }, { READING_METERING, "txv" },
		{ READING_FACTORY_CHARGE, "100" }, { READING_LIQUID_PRESSURE, "318" },
		{ READING_LIQUID_LINE_TEMP, "98" },
	};
	struct figure_value value = evaluate(FIGURE_CHARGE_TO_MOVE, pairs);

	ck_assert_int_eq(value.status, STATUS_OK);
	/* Subcooling 1.8 on an assumed 10 °F: 8.2 °F at 0.5 °F for 1 % of 100 oz. */
	ck_assert_double_eq_tol(value.value, 16.4, 0.3);
	ck_assert(value.plus_minus > value.value && value.plus_minus < 2 * value.value);
}
END_TEST

/* On an iced coil nothing of the running circuit is worked out (common practice). */
START_TEST(the_running_circuit_says_nothing_on_ice)
{
	static const enum figure circuit[] = {
		FIGURE_SUPERHEAT, FIGURE_SUBCOOLING, FIGURE_CONDENSER_OVER_OUTDOOR, FIGURE_CHARGE_TO_MOVE,
		FIGURE_TEMPERATURE_SPLIT,
	};

	for (int is_iced = 0; is_iced < 2; is_iced++)
		for (size_t i = 0; i < sizeof circuit / sizeof *circuit; i++) {
			struct pair pairs[MOST_PAIRS] = {
				{ READING_REFRIGERANT, "R-410A" }, { READING_METERING, "txv" },
				{ READING_FACTORY_CHARGE, "100" }, { READING_LIQUID_PRESSURE, "318" },
				{ READING_LIQUID_LINE_TEMP, "98" }, { READING_SUCTION_PRESSURE, "118" },
				{ READING_SUCTION_LINE_TEMP, "56" }, { READING_OUTDOOR_DB, "88" },
				{ READING_RETURN_DB, "76" }, { READING_SUPPLY_DB, "57" },
			};
			if (is_iced)
				pairs[10] = (struct pair){ READING_COIL_CONDITION, "iced" };
			struct figure_value value = evaluate(circuit[i], pairs);
			ck_assert_msg((value.status == STATUS_OK) == !is_iced, "%s: %d",
			              figure_info(circuit[i])->key, value.status);
		}
}
END_TEST

/* What a figure takes: the first and the last of its readings, and none that it does not name. */
START_TEST(a_figure_takes_what_it_is_made_of)
{
	ck_assert(figure_takes(FIGURE_SUPERHEAT, READING_SUCTION_PRESSURE));
	ck_assert(figure_takes(FIGURE_SUPERHEAT, READING_SUCTION_LINE_TEMP));
	ck_assert(figure_takes(FIGURE_SUPERHEAT, READING_REFRIGERANT));
	ck_assert(figure_takes(FIGURE_TARGET_SUPERHEAT, READING_OUTDOOR_DB));
	/* What is only taken into account counts too. */
	ck_assert(figure_takes(FIGURE_SUPERHEAT, READING_ALTITUDE));
	ck_assert(figure_takes(FIGURE_DUCT_STATIC, READING_FILTER_DROP));
	ck_assert(!figure_takes(FIGURE_SUPERHEAT, READING_LINE_VOLTAGE));
	ck_assert(!figure_takes(FIGURE_SUPERHEAT, READING_LIQUID_LINE_TEMP));
	ck_assert(!figure_takes(FIGURE_SUPERHEAT, READING_OUTDOOR_DB));
	ck_assert(!figure_takes(FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, READING_SUCTION_PRESSURE));
}
END_TEST

START_TEST(all_figures_of_an_empty_visit_are_missing)
{
	struct visit visit;
	struct figure_set set;

	visit_init(&visit);
	figures_evaluate(&visit, STAGE_AS_LEFT, &set);
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		ck_assert_int_eq(set.values[i].status, STATUS_MISSING);
}
END_TEST

/* Two rows of one page must not expect two splits. */
START_TEST(the_expected_split_is_the_middle_of_what_is_expected)
{
	const struct pair pairs[] = {
		{ READING_RETURN_DB, "80" }, { READING_RETURN_RH, "50" }, { READING_OUTDOOR_DB, "95" },
	};
	struct visit visit;
	struct figure_set set;

	visit_init(&visit);
	for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
		put(&visit, &pairs[i]);
	figures_evaluate(&visit, STAGE_AS_FOUND, &set);
	struct expectation expected = figure_expect(&visit, STAGE_AS_FOUND, &set,
	                                            FIGURE_TEMPERATURE_SPLIT);
	ck_assert(expected.known);
	ck_assert_double_eq_tol((expected.low + expected.high) / 2,
	                        set.values[FIGURE_EXPECTED_TEMPERATURE_SPLIT].value, 1e-9);
	/* What was in range before: 5 °F under the curves of the coil to 3 °F over them. */
	ck_assert_double_eq_tol(expected.high - expected.low, 8, 1e-9);
}
END_TEST

START_TEST(a_split_is_expected_from_weather_not_from_habit)
{
	const struct pair pairs[MOST_PAIRS] = {
		{ READING_RETURN_DB, "80" }, { READING_RETURN_RH, "50" }, { READING_OUTDOOR_DB, "95" },
	};
	struct figure_value value = evaluate(FIGURE_EXPECTED_TEMPERATURE_SPLIT, pairs);

	/* Common practice: 16 to 22 °F at 75 to 80 °F return and about 50 % humidity. */
	ck_assert_int_eq(value.status, STATUS_OK);
	ck_assert(value.value > 16 && value.value < 22);
}
END_TEST

Suite *figures_suite(void)
{
	Suite *suite = suite_create("figures");
	TCase *tests = tcase_create("figures");

	tcase_add_loop_test(tests, every_figure_has_its_worked_example, FIGURE_NONE + 1, FIGURE_COUNT);
	tcase_add_loop_test(tests, figures_are_what_the_sources_say, 0, sizeof worked / sizeof *worked);
	tcase_add_test(tests, a_line_that_swings_by_a_tenth_is_a_number);
	tcase_add_loop_test(tests, what_cannot_be_worked_out_says_why, 0, sizeof refused / sizeof *refused);
	tcase_add_test(tests, a_missing_reading_is_named);
	tcase_add_test(tests, uncertainty_comes_from_the_meters);
	tcase_add_test(tests, cooling_hours_are_those_of_the_call);
	tcase_add_test(tests, an_inverter_is_charged_by_weight);
	tcase_add_test(tests, the_charge_to_move_holds_how_machines_differ);
	tcase_add_test(tests, the_running_circuit_says_nothing_on_ice);
	tcase_add_test(tests, a_figure_takes_what_it_is_made_of);
	tcase_add_test(tests, all_figures_of_an_empty_visit_are_missing);
	tcase_add_test(tests, the_expected_split_is_the_middle_of_what_is_expected);
	tcase_add_test(tests, a_split_is_expected_from_weather_not_from_habit);
	suite_add_tcase(suite, tests);
	return suite;
}
