/* Every page in the technician's units: none shows a unit of the other system. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/desk.h"

Suite *units_shown_suite(void);

static struct desk desk;

static void open_desk(void)
{
	desk_open(&desk);
}

static void close_desk(void)
{
	desk_close(&desk);
}

static const struct {
	const char *key, *typed; /* in US units */
} readings[] = {
	{ "refrigerant", "R-410A" }, { "metering", "fixed_orifice" }, { "nominal_capacity", "3" },
	{ "seer", "13" }, { "factory_charge", "104" }, { "line_set_length", "40" },
	{ "liquid_line_od", "3/8" }, { "suction_line_od", "3/4" }, { "altitude", "1200" },
	{ "compressor_motor", "psc" }, { "rated_voltage", "230" }, { "compressor_rla", "14.1" },
	{ "line_voltage", "236" }, { "compressor_state", "runs" }, { "fan_state", "runs" },
	{ "outdoor_db", "88" }, { "suction_pressure", "108.5" }, { "suction_line_temp", "76" },
	{ "liquid_pressure", "340" }, { "liquid_line_temp", "101" }, { "discharge_line_temp", "178" },
	{ "drier_in_temp", "101" }, { "drier_out_temp", "96" }, { "running_minutes", "20" },
	{ "return_db", "78" }, { "return_wb", "63" }, { "supply_db", "63.5" }, { "supply_wb", "58" },
	{ "return_static", "-0.35" }, { "supply_static", "0.28" }, { "airflow", "1180" },
	{ "winding_temp", "95" }, { "shell_temp", "120" },
};

static void type_all(void)
{
	struct error error;

	desk_keys(&desk, "Ctrl+N 'Mara Quill' Enter");
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (size_t i = 0; i < sizeof readings / sizeof *readings; i++) {
			enum reading reading = reading_from_key(readings[i].key);
			ck_assert_msg(reading != READING_NONE, "%s", readings[i].key);
			ck_assert_msg(session_type(desk.session, (enum stage)stage, reading, readings[i].typed,
			                           &error) == STATUS_OK, "%s: %s", readings[i].key, error.text);
		}
}

/* What only the one system writes. */
static const char *const foreign[UNIT_SYSTEM_COUNT][8] = {
	[UNITS_US] = { "°C", "kPa", " L/s", "kJ/kg", " mm", " K " },
	[UNITS_SI] = { "°F", "psig", "in. w.c.", " cfm", "Btu", " oz", ".0 ton" },
};

START_TEST(no_page_shows_a_unit_of_the_other_system)
{
	enum unit_system units = (enum unit_system)_i;
	char key[16];

	type_all();
	session_set_units(desk.session, units);
	for (int page = 1; page <= STEP_COUNT; page++) {
		snprintf(key, sizeof key, "F%d", page);
		desk_keys(&desk, key);
		/* The help of the first rows of the windings names its limit in both units. */
		desk_keys(&desk, "Down Down");
		for (size_t i = 0; i < 8 && foreign[units][i]; i++)
			ck_assert_msg(!desk_shows(&desk, foreign[units][i]), "%s shows \"%s\"", key,
			              foreign[units][i]);
	}
}
END_TEST

START_TEST(every_page_shows_its_own_units)
{
	static const char *const own[UNIT_SYSTEM_COUNT] = { "psig", "kPa" };

	type_all();
	session_set_units(desk.session, (enum unit_system)_i);
	desk_keys(&desk, "F8");
	ck_assert(desk_shows(&desk, own[_i]));
}
END_TEST

Suite *units_shown_suite(void)
{
	Suite *suite = suite_create("units shown");
	TCase *tcase = tcase_create("units shown");

	tcase_add_checked_fixture(tcase, open_desk, close_desk);
	tcase_set_timeout(tcase, 60);
	tcase_add_loop_test(tcase, no_page_shows_a_unit_of_the_other_system, 0, UNIT_SYSTEM_COUNT);
	tcase_add_loop_test(tcase, every_page_shows_its_own_units, 0, UNIT_SYSTEM_COUNT);
	suite_add_tcase(suite, tcase);
	return suite;
}
