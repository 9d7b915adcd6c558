/*
 * Limits of every reading: what stands at a limit is taken, what is beyond it
 * is refused or marked, and no sound machine is ever refused.
 */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/catalog/catalog.h>

Suite *limits_suite(void);

static bool is_number(const struct reading_info *info)
{
	return info->kind == KIND_NUMBER || info->kind == KIND_RESISTANCE;
}

/* A hair more than `number`, further from the middle of the range. */
static double beyond(double number, double step)
{
	return number + step * fmax(fabs(number), 1) * 1e-6;
}

START_TEST(a_limit_itself_is_taken_and_what_is_beyond_is_not)
{
	const struct reading_info *info = reading_info((enum reading)_i);
	enum reading reading = (enum reading)_i;
	struct error error;
	struct value value;

	if (!is_number(info))
		return;
	ck_assert(reading_from_number(reading, info->hard.low, UNITS_US, &value, &error) == STATUS_OK);
	ck_assert_double_eq(value.number, info->hard.low);
	ck_assert(reading_from_number(reading, info->hard.high, UNITS_US, &value, &error) == STATUS_OK);
	ck_assert(reading_from_number(reading, beyond(info->hard.low, -1), UNITS_US, &value, &error) ==
	          STATUS_OUT_OF_RANGE);
	ck_assert_ptr_nonnull(strstr(error.text, info->label));
	ck_assert(reading_from_number(reading, beyond(info->hard.high, 1), UNITS_US, &value, &error) ==
	          STATUS_OUT_OF_RANGE);
}
END_TEST

START_TEST(an_unlikely_value_is_marked_and_a_likely_one_is_not)
{
	const struct reading_info *info = reading_info((enum reading)_i);
	enum reading reading = (enum reading)_i;
	struct error error;
	struct value value;

	if (!is_number(info))
		return;
	ck_assert(reading_from_number(reading, info->plausible.low, UNITS_US, &value, &error) ==
	          STATUS_OK && !value.doubtful);
	ck_assert(reading_from_number(reading, info->plausible.high, UNITS_US, &value, &error) ==
	          STATUS_OK && !value.doubtful);
	if (info->plausible.low > info->hard.low)
		ck_assert(reading_from_number(reading, beyond(info->plausible.low, -1), UNITS_US, &value,
		                              &error) == STATUS_OK && value.doubtful);
	if (info->plausible.high < info->hard.high)
		ck_assert(reading_from_number(reading, beyond(info->plausible.high, 1), UNITS_US, &value,
		                              &error) == STATUS_OK && value.doubtful);
}
END_TEST

/*
 * A sound machine on an ordinary day and on the hardest that a table knows:
 * ratings of AHRI 210/240 (95 °F outdoors, 80/67 °F indoors), pressures of
 * R-410A by CoolProp, resistances and currents of the published procedures.
 * Common practice where no source is named.
 */
static const struct {
	const char *key;
	double usual, hardest;
} sound[] = {
	{ "suction_pressure", 118, 20 }, { "liquid_pressure", 365, 560 }, { "outdoor_db", 95, 125 },
	{ "return_db", 80, 95 }, { "return_wb", 67, 76 }, { "supply_db", 58, 42 },
	{ "suction_line_temp", 52, 85 }, { "liquid_line_temp", 100, 130 },
	{ "discharge_line_temp", 170, 225 }, { "line_voltage", 240, 197 }, { "control_voltage", 26, 20 },
	{ "common_run_resistance", 0.5, 0.33 }, { "common_start_resistance", 3, 4 },
	{ "compressor_capacitance", 45, 80 }, { "fan_capacitance", 5, 7.5 },
	{ "nominal_capacity", 3, 5 }, { "compressor_rla", 16.7, 32 }, { "compressor_lra", 82, 180 },
	{ "fan_motor_fla", 1.3, 0.5 }, { "return_static", -0.2, -0.5 }, { "supply_static", 0.25, 0.6 },
	{ "airflow", 1200, 2000 }, { "altitude", 600, 7000 }, { "factory_charge", 96, 280 },
	{ "seer", 14, 26 }, { "target_subcooling", 10, 18 },
};

START_TEST(a_sound_machine_is_never_asked_twice)
{
	enum reading reading = reading_from_key(sound[_i].key);
	double numbers[] = { sound[_i].usual, sound[_i].hardest };
	struct error error;
	struct value value;

	ck_assert_msg(reading != READING_NONE, "%s", sound[_i].key);
	for (int i = 0; i < 2; i++) {
		ck_assert_msg(reading_from_number(reading, numbers[i], UNITS_US, &value, &error) == STATUS_OK,
		              "%s", error.text);
		ck_assert_msg(!value.doubtful, "%s %g is marked as unlikely", sound[_i].key, numbers[i]);
	}
}
END_TEST

/* A zero too many or a point forgotten is what plausible limits are for (common practice). */
static const struct {
	const char *key;
	double slip;
} slips[] = {
	{ "outdoor_db", 950 }, { "return_db", 8 }, { "return_wb", 670 }, { "line_voltage", 24 },
	{ "control_voltage", 260 }, { "compressor_capacitance", 450 }, { "nominal_capacity", 36 },
	{ "seer", 140 }, { "compressor_rla", 1670 }, { "fan_motor_fla", 130 }, { "supply_static", 25 },
	{ "factory_charge", 9600 },
};

START_TEST(a_slip_of_the_finger_is_noticed)
{
	enum reading reading = reading_from_key(slips[_i].key);
	struct value value = { .doubtful = false };
	struct error error;

	ck_assert_int_ne(reading, READING_NONE);
	ck_assert_msg(reading_from_number(reading, slips[_i].slip, UNITS_US, &value, &error) !=
	              STATUS_OK || value.doubtful, "%s %g is taken as it is", slips[_i].key,
	              slips[_i].slip);
}
END_TEST

/*
 * Every number that can be read: what sound and faulty units of 1 to 25 tons show on warm
 * days, which is taken as it is, and what is a slip of the finger, another unit or a meter
 * on the wrong range, which is asked about or refused.  Common practice; windings and
 * insulation after the makers' tables named in test_electrical.c and test_measured.c,
 * pressures of R-22, R-410A, R-32 and R-454B by CoolProp, volts of 115 to 480 V supplies.
 */
static const struct {
	const char *key;
	double seen_low, seen_high; /* taken as it is */
	double odd_low, odd_high;   /* asked about or refused; NAN: nothing is too little */
} spans[] = {
	/* The site and the nameplate. */
	{ "altitude", -200, 9300, -1000, 12000 },
	{ "factory_charge", 30, 600, 10, 3000 },
	{ "target_subcooling", 4, 18, 1, 35 },
	{ "target_approach", 3, 18, 1, 35 },
	{ "target_superheat_chart", 5, 43, 1, 55 },
	{ "nominal_capacity", 1, 25, 0.5, 36 },
	{ "rated_voltage", 115, 480, 100, 600 },
	{ "voltage_low", 103, 432, 85, 600 },
	{ "voltage_high", 127, 528, 100, 700 },
	{ "compressor_rla", 2.5, 110, 0.9, 180 },
	{ "compressor_lra", 11, 650, 5, 1700 },
	{ "branch_circuit_selection_current", 2.5, 130, 0.9, 180 },
	{ "fan_motor_fla", 0.4, 9, 0.1, 14 },
	{ "min_circuit_ampacity", 6, 180, 2, 300 },
	{ "max_overcurrent", 10, 300, 6, 600 },
	{ "breaker_installed", 15, 300, 10, 600 },
	{ "manufacture_year", 1985, 2026, 1968, 2062 },
	{ "seer", 8, 26, 5, 140 },
	{ "seer2", 11.2, 26, 8, 134 },
	{ "compressor_capacitor_rated", 15, 100, 4.5, 450 },
	{ "fan_capacitor_rated", 2, 20, 0.75, 50 },
	{ "capacitor_tolerance", 5, 10, 2, 15 },
	{ "capacitor_volts_rated", 250, 500, 125, 600 },
	{ "insulation_floor", 0.1, 100, 0.05, 500 },
	{ "run_winding_rated", 0.13, 8, 0.05, 40 },
	{ "start_winding_rated", 0.5, 30, 0.1, 160 },
	{ "blower_motor_fla", 0.7, 14, 0.2, 28 },
	{ "blower_capacitor_rated", 3, 30, 0.75, 50 },
	{ "static_limit", 0.2, 1.2, 0.08, 5 },
	{ "heat_output", 20000, 200000, 4000, 800000 },
	{ "line_set_length", 10, 150, 3, 300 },
	{ "liquid_line_od", 0.25, 1.125, 0.19, 1.6 },
	{ "suction_line_od", 0.5, 2.125, 0.375, 3.1 },
	{ "precharged_length", 15, 100, 5, 160 },
	{ "charge_per_length", 0.16, 1.3, 0.05, 3 },
	/* Volts, microfarads, ohms, megohms. */
	{ "transformer_primary", 108, 252, 24, 480 },
	{ "transformer_secondary", 21, 29, 2.4, 120 },
	{ "line_voltage", 197, 253, 24, 600 },
	{ "line_voltage_ab", 187, 506, 24, 600 },
	{ "line_voltage_bc", 187, 506, 24, 600 },
	{ "line_voltage_ca", 187, 506, 24, 600 },
	{ "line_voltage_starting", 168, 480, 24, 600 },
	{ "control_voltage", 20, 28, 2.4, 120 },
	{ "load_side_voltage", 187, 506, 24, 600 },
	{ "contactor_drop", 0, 2, NAN, 24 },
	{ "compressor_capacitor_volts", 250, 440, 100, 600 },
	{ "contactor_coil_resistance", 8, 100, 1, 1000 },
	{ "compressor_capacitance", 0.1, 110, NAN, 450 },
	{ "fan_capacitance", 0.1, 22, NAN, 55 },
	{ "blower_capacitance", 0.1, 33, NAN, 75 },
	{ "blower_volts", 0, 250, NAN, 480 },
	{ "shell_temp", 40, 280, -20, 350 },
	{ "winding_temp", 40, 240, -20, 300 },
	{ "common_run_resistance", 0.36, 10, 0.02, 400 },
	{ "common_start_resistance", 1.05, 30, 0.02, 400 },
	{ "start_run_resistance", 1.4, 40, 0.02, 400 },
	{ "winding_ab", 0.13, 20, 0.02, 400 },
	{ "winding_bc", 0.13, 20, 0.02, 400 },
	{ "winding_ca", 0.13, 20, 0.02, 400 },
	{ "terminal_12", 0.36, 40, 0.02, 400 },
	{ "terminal_23", 0.36, 40, 0.02, 400 },
	{ "terminal_31", 0.36, 40, 0.02, 400 },
	{ "compressor_ground_resistance", 0, 10000, NAN, 50000 },
	{ "insulation_test_volts", 9, 1000, 1.5, 2500 },
	{ "fan_winding_resistance", 4, 200, 0.2, 2000 },
	{ "fan_ground_resistance", 0, 10000, NAN, 50000 },
	/* Amps and power. */
	{ "common_amps", 0, 140, NAN, 250 },
	{ "run_amps", 0, 140, NAN, 250 },
	{ "start_amps", 0, 30, NAN, 80 },
	{ "amps_a", 0, 280, NAN, 500 },
	{ "amps_b", 0, 280, NAN, 500 },
	{ "amps_c", 0, 280, NAN, 500 },
	{ "starting_amps", 11, 650, 0.5, 1700 },
	{ "starting_seconds", 0, 20, NAN, 60 },
	{ "fan_amps", 0, 9, NAN, 15 },
	{ "blower_amps", 0, 14, NAN, 30 },
	{ "crankcase_heater_amps", 0.1, 0.6, NAN, 4 },
	{ "power_factor", 0.6, 1, 0.3, 1.1 },
	{ "unit_power", 0.3, 50, 0.05, 150 },
	{ "capacity_percent", 20, 115, 5, 160 },
	/* The circuit and the air. */
	{ "outdoor_db", 55, 120, 20, 150 },
	{ "standing_pressure", 40, 350, 5, 600 },
	{ "standing_temp", 45, 120, 0, 160 },
	{ "running_minutes", 0, 120, NAN, 600 },
	{ "suction_pressure", 20, 200, 5, 400 },
	{ "suction_line_temp", 32, 90, 0, 140 },
	{ "liquid_pressure", 80, 610, 30, 800 },
	{ "liquid_line_temp", 55, 140, 20, 200 },
	{ "discharge_line_temp", 110, 250, 60, 320 },
	{ "condenser_leaving_db", 65, 140, 25, 180 },
	{ "condenser_bend_temp", 55, 145, 20, 200 },
	{ "drier_in_temp", 55, 140, 20, 200 },
	{ "drier_out_temp", 40, 140, 10, 200 },
	{ "reversing_valve_in_temp", 32, 90, 0, 150 },
	{ "reversing_valve_out_temp", 32, 100, 0, 160 },
	{ "return_db", 62, 90, 25, 110 },
	{ "return_wb", 50, 76, 20, 95 },
	{ "return_rh", 20, 80, 5, 99 },
	{ "supply_db", 42, 75, 10, 110 },
	{ "supply_wb", 40, 70, 10, 95 },
	{ "supply_rh", 50, 100, 20, 101 },
	{ "return_static", -1, 0.2, -2, 2 },
	{ "supply_static", 0, 1, -1, 2 },
	{ "filter_drop", 0.02, 0.5, -0.2, 1.2 },
	{ "coil_drop", 0.05, 0.6, -0.2, 1.2 },
	{ "airflow", 350, 8000, 100, 14000 },
	{ "heat_rise", 20, 80, 5, 110 },
	{ "measured_capacity", 9000, 240000, 3000, 600000 },
};

static bool is_asked_about(enum reading reading, double number)
{
	struct value value = { .doubtful = false };
	struct error error;

	return reading_from_number(reading, number, UNITS_US, &value, &error) != STATUS_OK ||
	       value.doubtful;
}

START_TEST(what_units_show_is_taken_and_what_none_shows_is_asked_about)
{
	enum reading reading = reading_from_key(spans[_i].key);

	ck_assert_msg(reading != READING_NONE, "%s", spans[_i].key);
	ck_assert_msg(!is_asked_about(reading, spans[_i].seen_low), "%s %g", spans[_i].key,
	              spans[_i].seen_low);
	ck_assert_msg(!is_asked_about(reading, spans[_i].seen_high), "%s %g", spans[_i].key,
	              spans[_i].seen_high);
	ck_assert_msg(isnan(spans[_i].odd_low) || is_asked_about(reading, spans[_i].odd_low), "%s %g",
	              spans[_i].key, spans[_i].odd_low);
	ck_assert_msg(is_asked_about(reading, spans[_i].odd_high), "%s %g", spans[_i].key,
	              spans[_i].odd_high);
}
END_TEST

START_TEST(every_number_has_its_span)
{
	for (int r = READING_NONE + 1; r < READING_COUNT; r++) {
		size_t i = 0;
		if (!is_number(reading_info((enum reading)r)))
			continue;
		while (i < sizeof spans / sizeof *spans && reading_from_key(spans[i].key) != (enum reading)r)
			i++;
		ck_assert_msg(i < sizeof spans / sizeof *spans, "%s", reading_info((enum reading)r)->key);
	}
}
END_TEST

START_TEST(keys_of_nothing_are_nothing)
{
	ck_assert_int_eq(reading_from_key("no_such_reading"), READING_NONE);
	ck_assert_int_eq(reading_from_key(""), READING_NONE);
	ck_assert_int_eq(figure_from_key("no_such_figure"), FIGURE_NONE);
}
END_TEST

Suite *limits_suite(void)
{
	Suite *suite = suite_create("limits");
	TCase *tests = tcase_create("limits");

	tcase_add_loop_test(tests, a_limit_itself_is_taken_and_what_is_beyond_is_not, 1, READING_COUNT);
	tcase_add_loop_test(tests, an_unlikely_value_is_marked_and_a_likely_one_is_not, 1,
	                    READING_COUNT);
	tcase_add_loop_test(tests, a_sound_machine_is_never_asked_twice, 0,
	                    sizeof sound / sizeof *sound);
	tcase_add_loop_test(tests, a_slip_of_the_finger_is_noticed, 0, sizeof slips / sizeof *slips);
	tcase_add_loop_test(tests, what_units_show_is_taken_and_what_none_shows_is_asked_about, 0,
	                    (int)(sizeof spans / sizeof *spans));
	tcase_add_test(tests, every_number_has_its_span);
	tcase_add_test(tests, keys_of_nothing_are_nothing);
	suite_add_tcase(suite, tests);
	return suite;
}
