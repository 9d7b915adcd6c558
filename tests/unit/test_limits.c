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
	tcase_add_test(tests, keys_of_nothing_are_nothing);
	suite_add_tcase(suite, tests);
	return suite;
}
