/*
 * What is to be measured next: the cause of a fault that is sure, what tells two
 * explanations apart, and nothing that cannot be read as the unit stands.  Common
 * practice of the trade; where a makers' procedure is followed it is named.
 */
#include <check.h>
#include <stdio.h>

#include "support/judged.h"

Suite *next_checks_suite(void);

static struct judged judged;

static int place_of(enum reading reading)
{
	for (int i = 0; i < judged.diagnosis.next_check_count; i++)
		if (judged.diagnosis.next_checks[i].reading == reading)
			return i;
	return -1;
}

/* A fault that is sure, the reading that shows its cause, and where that stands. */
static const struct {
	const char *readings;
	enum fault fault;
	enum reading reading;
	int at_most; /* place in the list */
} sure[] = {
	{ "low_pressure_switch=open, compressor_state=silent", FAULT_LOW_PRESSURE_SWITCH_OPEN,
	  READING_STANDING_PRESSURE, 0 },
	{ "low_pressure_switch=open, compressor_state=silent", FAULT_LOW_PRESSURE_SWITCH_OPEN,
	  READING_COIL_CONDITION, 2 },
	{ "low_pressure_switch=open, compressor_state=silent", FAULT_LOW_PRESSURE_SWITCH_OPEN,
	  READING_FILTER_CONDITION, 2 },
	{ "float_switch=open, compressor_state=silent", FAULT_FLOAT_SWITCH_OPEN,
	  READING_DRAIN_CONDITION, 0 },
	{ "float_switch=open, compressor_state=silent", FAULT_FLOAT_SWITCH_OPEN,
	  READING_COIL_CONDITION, 1 },
	{ "high_pressure_switch=open, compressor_state=silent", FAULT_HIGH_PRESSURE_SWITCH_OPEN,
	  READING_CONDENSER_CONDITION, 0 },
	{ "high_pressure_switch=open, compressor_state=silent", FAULT_HIGH_PRESSURE_SWITCH_OPEN,
	  READING_FAN_STATE, 1 },
	{ "coil_condition=iced, compressor_state=runs", FAULT_EVAPORATOR_ICED,
	  READING_FILTER_CONDITION, 0 },
	{ "coil_condition=iced, compressor_state=runs", FAULT_EVAPORATOR_ICED, READING_BLOWER_STATE, 1 },
	{ "control_fuse=open, compressor_state=silent", FAULT_CONTROL_FUSE_OPEN,
	  READING_CONTACTOR_COIL_RESISTANCE, 0 },
	{ "line_voltage=0, compressor_state=silent", FAULT_NO_LINE_POWER,
	  READING_COMPRESSOR_GROUND_RESISTANCE, 0 },
	{ "line_voltage=0, compressor_state=silent", FAULT_NO_LINE_POWER,
	  READING_FAN_GROUND_RESISTANCE, 1 },
	{ "compressor_ground_resistance=0.01, breaker_tripped=yes, compressor_state=silent",
	  FAULT_WINDING_GROUNDED, READING_TERMINAL_CONDITION, 0 },
	{ "compressor_motor=psc, compressor_capacitor_rated=45, compressor_capacitance=5, "
	  "compressor_state=hums", FAULT_COMPRESSOR_CAPACITOR_FAILED,
	  READING_COMPRESSOR_GROUND_RESISTANCE, 0 },
	{ "fan_winding_resistance=OL, fan_state=silent, compressor_state=runs", FAULT_FAN_MOTOR_FAILED,
	  READING_FAN_CAPACITANCE, 0 },
	{ "filter_condition=blocked, compressor_state=runs", FAULT_FILTER_BLOCKED,
	  READING_COIL_CONDITION, 0 },
};

START_TEST(a_sure_fault_asks_for_its_cause)
{
	judge(&judged, STAGE_AS_FOUND, sure[_i].readings);
	int at = place_of(sure[_i].reading);
	ck_assert_msg(at >= 0 && at <= sure[_i].at_most, "%s: %s at %d", sure[_i].readings,
	              reading_info(sure[_i].reading)->key, at);
	const struct next_check *check = &judged.diagnosis.next_checks[at];
	ck_assert_int_eq(check->reason, CHECK_CAUSE);
	ck_assert_int_eq(check->between[0], sure[_i].fault);
	ck_assert_double_eq(check->gain, 1);
	/* What was read is not asked for again. */
	if (reading_info(sure[_i].reading)->kind == KIND_NUMBER) {
		char typed[64];
		snprintf(typed, sizeof typed, "%s=%g", reading_info(sure[_i].reading)->key,
		         reading_info(sure[_i].reading)->plausible.high);
		judge_more(&judged, STAGE_AS_FOUND, typed);
		ck_assert_int_lt(place_of(sure[_i].reading), 0);
	}
}
END_TEST

#define HEAD "refrigerant=R-410A, metering=txv, compressor_state=runs, fan_state=runs, " \
	"condenser_condition=clean, outdoor_db=95, return_db=78, return_wb=65, supply_db=58, " \
	"suction_pressure=126, suction_line_temp=54, liquid_line_temp=100"

/*
 * Air in the circuit and too much refrigerant look alike at the gauges; a temperature in the middle
 * of the condenser, or the pressure at rest, shows the gas (makers' and trade procedures).
 */
START_TEST(gas_and_overcharge_are_told_apart)
{
	judge(&judged, STAGE_AS_FOUND, HEAD ", liquid_pressure=470");
	ck_assert_double_gt(judged_probability(&judged, FAULT_NONCONDENSABLES), 0.1);
	ck_assert_double_gt(judged_probability(&judged, FAULT_OVERCHARGE), 0.1);
	ck_assert_int_ge(place_of(READING_CONDENSER_BEND_TEMP), 0);
	ck_assert_int_le(place_of(READING_CONDENSER_BEND_TEMP), 1);
	const struct next_check *check = &judged.diagnosis.next_checks[place_of(READING_CONDENSER_BEND_TEMP)];
	ck_assert_int_eq(check->reason, CHECK_TELL_APART);
	ck_assert_int_eq(check->between[0], FAULT_NONCONDENSABLES);
	ck_assert_int_eq(check->between[1], FAULT_OVERCHARGE);
	ck_assert_double_eq(check->gain, 1);
	/* Not before the head was read, nor behind a filter that is blocked. */
	judge(&judged, STAGE_AS_FOUND, HEAD);
	ck_assert(place_of(READING_CONDENSER_BEND_TEMP) < 0 ||
	          judged.diagnosis.next_checks[place_of(READING_CONDENSER_BEND_TEMP)].gain < 1);
	judge(&judged, STAGE_AS_FOUND, HEAD ", liquid_pressure=470, filter_condition=blocked");
	ck_assert(place_of(READING_CONDENSER_BEND_TEMP) < 0 ||
	          judged.diagnosis.next_checks[place_of(READING_CONDENSER_BEND_TEMP)].gain < 1);
	/* At the head of a sound unit nothing is open. */
	judge(&judged, STAGE_AS_FOUND, HEAD ", liquid_pressure=365");
	ck_assert(place_of(READING_CONDENSER_BEND_TEMP) < 0 ||
	          judged.diagnosis.next_checks[place_of(READING_CONDENSER_BEND_TEMP)].gain < 1);
}
END_TEST

/* From one explanation in ten to nine in ten both are open, and no further. */
START_TEST(what_is_open_is_told_apart)
{
	int open = 0, closed = 0;

	for (double psig = 360; psig < 520; psig += 0.5) {
		char readings[400];
		snprintf(readings, sizeof readings, HEAD ", liquid_pressure=%.1f", psig);
		judge(&judged, STAGE_AS_FOUND, readings);
		double gas = judged_probability(&judged, FAULT_NONCONDENSABLES);
		double over = judged_probability(&judged, FAULT_OVERCHARGE);
		bool both = gas >= 0.1 && gas <= 0.9 && over >= 0.1 && over <= 0.9;
		int at = place_of(READING_CONDENSER_BEND_TEMP);
		bool asked = at >= 0 && judged.diagnosis.next_checks[at].gain == 1;
		ck_assert_msg(asked == both, "%.1f psig: %g and %g", psig, gas, over);
		open += both;
		closed += !both;
	}
	ck_assert_int_gt(open, 0);
	ck_assert_int_gt(closed, 0);
}
END_TEST

/* What takes a load, or a start, is not asked of a unit that does neither. */
static const struct {
	const char *readings;
	enum reading reading;
} impossible[] = {
	{ "compressor_state=silent, contactor_condition=pitted", READING_CONTACTOR_DROP },
	{ "compressor_state=silent", READING_LINE_VOLTAGE_STARTING },
	{ "compressor_state=silent", READING_SHELL_TEMP },
	{ "common_run_resistance=0.9", READING_SHELL_TEMP },
	{ "compressor_state=runs, return_rh=50", READING_RETURN_WB },
};

START_TEST(what_cannot_be_read_is_not_asked_for)
{
	judge(&judged, STAGE_AS_FOUND, impossible[_i].readings);
	ck_assert_int_lt(place_of(impossible[_i].reading), 0);
}
END_TEST

START_TEST(the_best_stands_first_and_each_once)
{
	static const char *const calls[] = {
		"", "compressor_state=silent", "compressor_state=hums", "compressor_state=runs",
		HEAD ", liquid_pressure=470", "line_voltage=0, compressor_state=silent",
	};

	for (size_t i = 0; i < sizeof calls / sizeof *calls; i++) {
		judge(&judged, STAGE_AS_FOUND, calls[i]);
		ck_assert_int_gt(judged.diagnosis.next_check_count, 0);
		for (int j = 0; j < judged.diagnosis.next_check_count; j++) {
			const struct next_check *check = &judged.diagnosis.next_checks[j];
			ck_assert_int_eq(place_of(check->reading), j);
			ck_assert(!visit_has(&judged.visit, STAGE_AS_FOUND, check->reading));
			ck_assert_double_gt(check->gain, 0);
			ck_assert(j == 0 || check->gain <= check[-1].gain);
		}
	}
}
END_TEST

Suite *next_checks_suite(void)
{
	Suite *suite = suite_create("next checks");
	TCase *tests = tcase_create("next checks");

	tcase_add_loop_test(tests, a_sure_fault_asks_for_its_cause, 0,
	                    (int)(sizeof sure / sizeof *sure));
	tcase_add_test(tests, gas_and_overcharge_are_told_apart);
	tcase_add_test(tests, what_is_open_is_told_apart);
	tcase_add_loop_test(tests, what_cannot_be_read_is_not_asked_for, 0,
	                    (int)(sizeof impossible / sizeof *impossible));
	tcase_add_test(tests, the_best_stands_first_and_each_once);
	suite_add_tcase(suite, tests);
	return suite;
}
