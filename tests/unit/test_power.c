/*
 * The power state, from sequences of what was written down and when.  The
 * rules are those of lock-out and proving dead: US 29 CFR 1910.333(b) (a
 * circuit is live until it is proved dead, and again when power may have come
 * back); the details are common practice.
 */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/model/power.h>

#include "support/calls.h"

Suite *power_suite(void);

static struct call call;
static wall_time now;

static void start(void)
{
	call_init(&call);
	now = 1000;
}

static void finish(void)
{
	call_done(&call);
}

/* A minute later `typed` is written down. */
static void write_in(enum stage stage, enum reading reading, const char *typed)
{
	struct value value;
	struct error error;

	ck_assert_msg(reading_parse(reading, typed, UNITS_US, &value, &error) == STATUS_OK, "%s", error.text);
	now += 60;
	value.taken_at = now;
	visit_set(&call.visit, stage, reading, &value);
}

static void found(enum reading reading, const char *typed)
{
	write_in(STAGE_AS_FOUND, reading, typed);
}

static void make_safe(void)
{
	for (int i = READING_DISCONNECT_LOCKED; i <= READING_TERMINAL_COVER_CHECKED; i++)
		found((enum reading)i, "yes");
}

static enum power_state state(void)
{
	return power_of_call(&call).state;
}

/*
 * "made safe" stood over a split whose indoor unit was still fed.  29 CFR 1910.333(b)(2)(ii)(A): the
 * equipment to be worked on is disconnected from all energy sources.
 */
START_TEST(a_split_is_made_safe_by_both_of_its_supplies)
{
	static const char *const splits[] = { "split_cooling", "split_heat_pump" };
	struct power power;

	for (int i = 0; i < 2; i++) {
		finish();
		start();
		found(READING_SYSTEM_KIND, splits[i]);
		make_safe();
		found(READING_INDOOR_LOCKED, "");
		power = power_of_call(&call);
		ck_assert_str_eq(power_words(&call, &power), "outdoor locked; indoor may be live");
		ck_assert(power_is_off(power.state));
		/* What is outdoors was proved dead; what is indoors was not. */
		ck_assert(!power_warns(&call, READING_COMPRESSOR_GROUND_RESISTANCE));
		ck_assert(power_warns(&call, READING_BLOWER_CAPACITANCE));
		found(READING_INDOOR_LOCKED, "no");
		ck_assert_int_eq(state(), POWER_STATE_OUTDOOR);
		found(READING_INDOOR_LOCKED, "yes");
		ck_assert_int_eq(state(), POWER_STATE_SAFE);
		ck_assert(!power_warns(&call, READING_BLOWER_CAPACITANCE));
		/* Power seen since: both are answered anew. */
		found(READING_CONTROL_VOLTAGE, "26");
		ck_assert_int_eq(state(), POWER_STATE_ON);
		make_safe();
		found(READING_DISCONNECT_LOCKED, "no");
		ck_assert_int_ne(state(), POWER_STATE_SAFE);
		ck_assert_int_ne(state(), POWER_STATE_OUTDOOR);
	}
}
END_TEST

START_TEST(one_supply_is_one_answer)
{
	static const char *const others[] = { "package_cooling", "package_heat_pump", "ductless", "" };

	for (int i = 0; i < 4; i++) {
		finish();
		start();
		found(READING_SYSTEM_KIND, others[i]);
		make_safe();
		found(READING_INDOOR_LOCKED, "");
		ck_assert_int_eq(state(), POWER_STATE_SAFE);
		ck_assert(!power_warns(&call, READING_BLOWER_CAPACITANCE));
	}
	ck_assert(!power_is_off(POWER_STATE_NO_VOLTAGE) && !power_is_off(POWER_STATE_UNKNOWN) &&
	          !power_is_off(POWER_STATE_LEFT_OFF) && !power_is_off(POWER_STATE_ON) &&
	          !power_is_off(POWER_STATE_RUNNING));
}
END_TEST

/* The record of an earlier program, which asked once for every supply, accuses nobody. */
START_TEST(the_indoor_supply_makes_no_reading_unsafe)
{
	found(READING_SYSTEM_KIND, "split_cooling");
	make_safe();
	found(READING_INDOOR_LOCKED, "");
	found(READING_COMPRESSOR_GROUND_RESISTANCE, "500");
	ck_assert(!power_was_unsafe(&call, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE));
}
END_TEST

START_TEST(nothing_written_is_nothing_known)
{
	struct power power = power_of_call(&call);

	ck_assert_int_eq(power.state, POWER_STATE_UNKNOWN);
	ck_assert_str_eq(power_words(&call, &power), "not recorded as safe");
	found(READING_RETURN_DB, "75");
	ck_assert_int_eq(state(), POWER_STATE_UNKNOWN);
}
END_TEST

/* A blower that runs beside a silent outdoor unit was told as a unit that runs. */
START_TEST(a_blower_alone_is_no_running_unit)
{
	struct power power;

	found(READING_COMPRESSOR_STATE, "silent");
	found(READING_FAN_STATE, "silent");
	found(READING_BLOWER_STATE, "runs");
	power = power_of_call(&call);
	ck_assert_int_eq(power.state, POWER_STATE_RUNNING);
	ck_assert_str_eq(power_words(&call, &power), "indoor blower runs");
	found(READING_FAN_STATE, "runs");
	power = power_of_call(&call);
	ck_assert_str_eq(power_words(&call, &power), "running");
	found(READING_BLOWER_STATE, "runs");
	power = power_of_call(&call);
	ck_assert_str_eq(power_words(&call, &power), "running");
}
END_TEST

/* The last record decides: a header that says "running" over a locked unit was read at the door. */
START_TEST(left_off_and_locked_is_the_last_word_until_power_is_seen)
{
	wall_time at;

	found(READING_COMPRESSOR_STATE, "runs");
	found(READING_LEFT_LOCKED, "yes");
	ck_assert_int_eq(state(), POWER_STATE_LEFT_OFF);
	/* It proves nothing to who puts a meter to it. */
	ck_assert(power_warns(&call, READING_COMPRESSOR_GROUND_RESISTANCE));
	ck_assert(power_left_locked(&call));
	found(READING_COMPRESSOR_STATE, "runs");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	ck_assert(!power_left_locked(&call));
	ck_assert(power_was_left_locked(&call, &at));
}
END_TEST

/* A static pressure after running pressures turned "running" into "power on". */
START_TEST(a_reading_that_only_needs_power_does_not_end_running)
{
	struct power power;

	found(READING_SUCTION_PRESSURE, "118");
	found(READING_RETURN_STATIC, "-0.3");
	power = power_of_call(&call);
	ck_assert_str_eq(power_words(&call, &power), "running");
	/* Safe is only who locks out after that one too. */
	ck_assert_int_eq(power.since, now);
	found(READING_LINE_VOLTAGE, "238");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	/* No volts and a lock end it. */
	found(READING_LINE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
	found(READING_CONTROL_VOLTAGE, "26");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_LIQUID_PRESSURE, "330");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	make_safe();
	found(READING_LINE_VOLTAGE, "238");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	/* A volt that is left over is no dead supply. */
	make_safe();
	found(READING_LINE_VOLTAGE, "0.6");
	ck_assert_int_eq(state(), POWER_STATE_ON);
}
END_TEST

START_TEST(a_compressor_that_stands_and_no_current_end_running)
{
	found(READING_SUCTION_PRESSURE, "118");
	write_in(STAGE_AS_LEFT, READING_COMPRESSOR_STATE, "silent");
	found(READING_LINE_VOLTAGE, "238");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	write_in(STAGE_AS_LEFT, READING_COMPRESSOR_STATE, "");
	found(READING_COMMON_AMPS, "0");
	ck_assert_int_eq(state(), POWER_STATE_ON);
}
END_TEST

/* Behind a lock-out of the outdoor unit the blower made it "running", for what ran before it. */
START_TEST(a_blower_behind_a_lock_out_is_the_blower_alone)
{
	struct power power;

	found(READING_COMPRESSOR_STATE, "runs");
	make_safe();
	found(READING_BLOWER_AMPS, "3.1");
	power = power_of_call(&call);
	ck_assert_str_eq(power_words(&call, &power), "indoor blower runs");
	ck_assert(power_warns(&call, READING_BLOWER_CAPACITANCE));
	make_safe();
	found(READING_SUPPLY_STATIC, "0.2");
	power = power_of_call(&call);
	ck_assert_str_eq(power_words(&call, &power), "indoor blower runs");
	ck_assert_int_eq(power.state, POWER_STATE_ON);
}
END_TEST

/* The blower of a split with ducts has a disconnect of its own: it was not all left off. */
START_TEST(a_blower_of_its_own_supply_opens_a_lock_too)
{
	found(READING_SYSTEM_KIND, "split_cooling");
	found(READING_LEFT_LOCKED, "yes");
	found(READING_BLOWER_AMPS, "3.1");
	ck_assert(!power_left_locked(&call));
	ck_assert_int_ne(state(), POWER_STATE_LEFT_OFF);
	found(READING_SYSTEM_KIND, "package_cooling");
	ck_assert(!power_left_locked(&call));
	found(READING_SYSTEM_KIND, "");
	ck_assert(!power_left_locked(&call));
	found(READING_SYSTEM_KIND, "split_heat_pump");
	found(READING_FAN_AMPS, "1.1");
	ck_assert(!power_left_locked(&call));
}
END_TEST

static bool was_unsafe(enum reading reading)
{
	return power_was_unsafe(&call, STAGE_AS_FOUND, reading);
}

START_TEST(only_what_was_read_before_the_checks_was_unsafe)
{
	found(READING_COMPRESSOR_CAPACITANCE, "45");
	make_safe();
	found(READING_COMMON_RUN_RESISTANCE, "0.8");
	ck_assert(was_unsafe(READING_COMPRESSOR_CAPACITANCE));
	ck_assert(!was_unsafe(READING_COMMON_RUN_RESISTANCE));
	/* Power came back: what follows is not covered by the old answers. */
	found(READING_LINE_VOLTAGE, "238");
	found(READING_COMMON_START_RESISTANCE, "3.1");
	ck_assert(was_unsafe(READING_COMMON_START_RESISTANCE));
	ck_assert(!was_unsafe(READING_COMMON_RUN_RESISTANCE));
	/* Made safe again, the first readings stay as they were. */
	for (int i = READING_DISCONNECT_LOCKED; i <= READING_TERMINAL_COVER_CHECKED; i++)
		write_in(STAGE_AS_LEFT, (enum reading)i, "yes");
	found(READING_START_RUN_RESISTANCE, "3.9");
	ck_assert(!was_unsafe(READING_START_RUN_RESISTANCE));
	ck_assert(!was_unsafe(READING_COMMON_RUN_RESISTANCE));
	ck_assert(!was_unsafe(READING_LINE_VOLTAGE));
}
END_TEST

/* One that is no or missing leaves what follows unsafe, whichever of the six it is. */
START_TEST(a_reading_after_five_answers_was_unsafe)
{
	for (int i = READING_DISCONNECT_LOCKED; i <= READING_TERMINAL_COVER_CHECKED; i++) {
		if (i == READING_INDOOR_LOCKED)
			continue;
		make_safe();
		found((enum reading)i, "no");
		found(READING_COMMON_RUN_RESISTANCE, "0.8");
		ck_assert(was_unsafe(READING_COMMON_RUN_RESISTANCE));
		found((enum reading)i, "");
		found(READING_COMMON_RUN_RESISTANCE, "0.8");
		ck_assert(was_unsafe(READING_COMMON_RUN_RESISTANCE));
		found((enum reading)i, "yes");
		found(READING_COMMON_RUN_RESISTANCE, "0.8");
		ck_assert(!was_unsafe(READING_COMMON_RUN_RESISTANCE));
	}
}
END_TEST

START_TEST(six_answers_make_safe)
{
	make_safe();
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
	ck_assert_int_eq(power_of_call(&call).since, now);
	ck_assert(!power_warns(&call, READING_COMMON_RUN_RESISTANCE));
}
END_TEST

START_TEST(five_answers_do_not)
{
	make_safe();
	found(READING_METER_PROVED_AFTER, "");
	ck_assert_int_eq(state(), POWER_STATE_UNPROVED);
	found(READING_METER_PROVED_AFTER, "no");
	ck_assert_int_eq(state(), POWER_STATE_UNPROVED);
	ck_assert(power_warns(&call, READING_COMMON_RUN_RESISTANCE));
}
END_TEST

START_TEST(volts_end_safety_at_once)
{
	make_safe();
	found(READING_LINE_VOLTAGE, "238");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	ck_assert_int_eq(power_of_call(&call).since, now);
	ck_assert_int_eq(power_of_call(&call).shown_by, READING_LINE_VOLTAGE);
	ck_assert(power_warns(&call, READING_COMMON_RUN_RESISTANCE));
	ck_assert(!power_warns(&call, READING_LINE_VOLTAGE));
}
END_TEST

START_TEST(amps_and_pressures_are_a_running_unit)
{
	make_safe();
	found(READING_COMMON_AMPS, "12.5");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	make_safe();
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
	found(READING_SUCTION_PRESSURE, "118");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
}
END_TEST

START_TEST(no_amps_is_power_without_running)
{
	make_safe();
	found(READING_COMMON_AMPS, "0");
	ck_assert_int_eq(state(), POWER_STATE_ON);
}
END_TEST

START_TEST(safe_again_takes_all_six_anew)
{
	make_safe();
	found(READING_LINE_VOLTAGE, "238");
	found(READING_DISCONNECT_LOCKED, "yes");
	ck_assert_int_eq(state(), POWER_STATE_UNPROVED);
	found(READING_METER_PROVED_BEFORE, "yes");
	found(READING_POWER_OFF_VERIFIED, "yes");
	found(READING_METER_PROVED_AFTER, "yes");
	found(READING_CAPACITOR_DISCHARGED, "yes");
	ck_assert_int_eq(state(), POWER_STATE_UNPROVED);
	found(READING_TERMINAL_COVER_CHECKED, "yes");
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
}
END_TEST

START_TEST(a_later_no_takes_the_safety_away)
{
	make_safe();
	found(READING_POWER_OFF_VERIFIED, "no");
	ck_assert_int_eq(state(), POWER_STATE_UNPROVED);
	make_safe();
	found(READING_DISCONNECT_LOCKED, "no");
	ck_assert_int_eq(state(), POWER_STATE_UNKNOWN);
}
END_TEST

START_TEST(the_compressor_tells_running_from_humming_and_rest)
{
	make_safe();
	found(READING_COMPRESSOR_STATE, "silent");
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
	found(READING_COMPRESSOR_STATE, "hums");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_COMPRESSOR_STATE, "runs");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	make_safe();
	found(READING_FAN_STATE, "runs");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
}
END_TEST

/* The title told "power on" at a dead unit; 0 V without a proved meter is not safe either. */
START_TEST(no_voltage_is_neither_power_nor_safe)
{
	struct power power;

	found(READING_LINE_VOLTAGE, "0.0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
	power = power_of_call(&call);
	ck_assert_str_eq(power_words(&call, &power), "no voltage, not proved safe");
	ck_assert(power_warns(&call, READING_COMPRESSOR_CAPACITANCE));
	make_safe();
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
	found(READING_LINE_VOLTAGE, "0.0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
	/* It is no sign of power, which would accuse what is read behind it. */
	ck_assert_int_eq(power_came_back(&call).state, POWER_STATE_UNKNOWN);
	found(READING_COMPRESSOR_CAPACITANCE, "45");
	ck_assert(!was_unsafe(READING_COMPRESSOR_CAPACITANCE));
	found(READING_LINE_VOLTAGE, "238");
	ck_assert_int_eq(state(), POWER_STATE_ON);
}
END_TEST

/*
 * "No voltage" stood over a unit whose load side read 0 V with 240 V on the line side.  Voltage behind an open
 * contact, or at a coil, proves nothing about the supply (29 CFR 1910.333(b)(2)(iv): all of it is tested).
 */
START_TEST(no_voltage_behind_the_contactor_is_no_dead_supply)
{
	struct power power;

	found(READING_COMPRESSOR_MOTOR, "psc");
	found(READING_LINE_VOLTAGE, "240");
	found(READING_CONTACTOR_PULLED_IN, "yes");
	found(READING_LOAD_SIDE_VOLTAGE, "0");
	power = power_of_call(&call);
	ck_assert_int_eq(power.state, POWER_STATE_ON);
	ck_assert_str_eq(power_words(&call, &power), "power on (load side reads 0)");
	ck_assert_int_eq(power.since, now);
	found(READING_CONTROL_VOLTAGE, "0");
	power = power_of_call(&call);
	ck_assert_str_eq(power_words(&call, &power), "power on (coil reads 0)");
	/* As left the supply reads 0: that of before is no more. */
	write_in(STAGE_AS_LEFT, READING_LINE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
	write_in(STAGE_AS_LEFT, READING_LOAD_SIDE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
}
END_TEST

/* Some tenths are not nothing: what feeds them is still there. */
START_TEST(tenths_of_a_volt_are_no_dead_supply)
{
	found(READING_LINE_VOLTAGE, "0.8");
	found(READING_LOAD_SIDE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_LINE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
	/* What was read last counts, in whatever column. */
	write_in(STAGE_AS_LEFT, READING_LINE_VOLTAGE, "240");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_LINE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
}
END_TEST

START_TEST(a_lock_out_ends_the_voltage_that_was_read_before_it)
{
	found(READING_LINE_VOLTAGE, "240");
	found(READING_DISCONNECT_LOCKED, "yes");
	found(READING_LOAD_SIDE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
}
END_TEST

START_TEST(what_ran_is_not_dead_by_a_load_side_alone)
{
	found(READING_COMPRESSOR_STATE, "runs");
	found(READING_LOAD_SIDE_VOLTAGE, "0");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_COMPRESSOR_STATE, "");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
}
END_TEST

/* A lost phase: the pairs with it may read 0, the third one is live. */
START_TEST(one_pair_of_phases_at_zero_is_no_dead_supply)
{
	struct power power;

	found(READING_COMPRESSOR_MOTOR, "three_phase");
	found(READING_LINE_VOLTAGE_AB, "208");
	found(READING_LINE_VOLTAGE_BC, "0");
	found(READING_LINE_VOLTAGE_CA, "0");
	power = power_of_call(&call);
	ck_assert_int_eq(power.state, POWER_STATE_ON);
	ck_assert_str_eq(power_words(&call, &power), "power on");
	found(READING_LINE_VOLTAGE_AB, "0");
	ck_assert_int_eq(state(), POWER_STATE_NO_VOLTAGE);
}
END_TEST

/* The report told "left off, locked" of a unit whose blower ran after that; the header did not. */
START_TEST(a_later_sign_of_power_ends_left_off_for_header_and_reports)
{
	static const char *const kinds[] = { "split_cooling", "split_heat_pump", "package_cooling", "" };

	for (int i = 0; i < 4; i++) {
		finish();
		start();
		found(READING_SYSTEM_KIND, kinds[i]);
		found(READING_LEFT_LOCKED, "yes");
		ck_assert(power_left_locked(&call));
		write_in(STAGE_AS_LEFT, READING_BLOWER_STATE, "runs");
		ck_assert_int_eq(state(), POWER_STATE_RUNNING);
		ck_assert(!power_left_locked(&call));
		found(READING_LEFT_LOCKED, "yes");
		ck_assert(power_left_locked(&call));
		ck_assert_int_eq(state(), POWER_STATE_LEFT_OFF);
	}
}
END_TEST

/* A leg of three phases was not known as the compressor's current. */
START_TEST(a_current_in_a_leg_beside_a_silent_compressor_does_not_run_it)
{
	found(READING_COMPRESSOR_STATE, "silent");
	found(READING_AMPS_B, "0.9");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_COMPRESSOR_STATE, "runs");
	found(READING_AMPS_B, "9");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
}
END_TEST

/* Beside "silent" 0.9 A made it "running": a crankcase heater draws as much (common practice). */
START_TEST(a_current_beside_a_silent_motor_does_not_run_it)
{
	found(READING_COMPRESSOR_STATE, "silent");
	found(READING_COMMON_AMPS, "0.9");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_FAN_AMPS, "1.1");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	found(READING_FAN_STATE, "silent");
	ck_assert_int_eq(state(), POWER_STATE_ON);
	found(READING_COMPRESSOR_STATE, "runs");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
}
END_TEST

START_TEST(pressures_at_rest_show_no_power)
{
	found(READING_COMPRESSOR_STATE, "silent");
	make_safe();
	found(READING_SUCTION_PRESSURE, "198");
	found(READING_LIQUID_PRESSURE, "199");
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
	found(READING_STANDING_PRESSURE, "199");
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
	/* So far apart they do not stand: it ran. */
	found(READING_SUCTION_PRESSURE, "110");
	found(READING_LIQUID_PRESSURE, "330");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
}
END_TEST

START_TEST(what_is_read_dead_leaves_it_safe)
{
	make_safe();
	found(READING_COMMON_RUN_RESISTANCE, "0.8");
	found(READING_COMPRESSOR_CAPACITANCE, "44");
	found(READING_CONTACTOR_CONDITION, "pitted");
	found(READING_OUTDOOR_DB, "91");
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
}
END_TEST

START_TEST(readings_as_left_count_too)
{
	make_safe();
	write_in(STAGE_AS_LEFT, READING_COMMON_AMPS, "11");
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	for (int i = READING_DISCONNECT_LOCKED; i <= READING_TERMINAL_COVER_CHECKED; i++)
		write_in(STAGE_AS_LEFT, (enum reading)i, "yes");
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
}
END_TEST

START_TEST(the_charge_log_is_a_running_unit)
{
	make_safe();
	struct charge_entry *entry = call_add_charge(&call);
	entry->at = now + 60;
	entry->added_oz = 4;
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
	entry->values[CHARGE_SUCTION_PRESSURE] = (struct value){ .state = VALUE_TAKEN, .number = 118 };
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	ck_assert_int_eq(power_of_visit(&call.visit).state, POWER_STATE_SAFE);
}
END_TEST

/* Of two that show the same at one moment the one that stands first is named. */
START_TEST(of_one_moment_the_first_is_named)
{
	found(READING_SUCTION_PRESSURE, "118");
	now -= 60;
	found(READING_COMMON_AMPS, "12");
	found(READING_LIQUID_PRESSURE, "365");
	visit_set(&call.visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE,
	          &(struct value){ .state = VALUE_NOT_TAKEN });
	ck_assert_int_eq(state(), POWER_STATE_RUNNING);
	ck_assert_int_eq(power_of_call(&call).shown_by, READING_COMMON_AMPS);
	/* A later one takes its place. */
	found(READING_SUCTION_PRESSURE, "117");
	ck_assert_int_eq(power_of_call(&call).shown_by, READING_SUCTION_PRESSURE);
}
END_TEST

START_TEST(of_one_moment_or_none_the_power_came_later)
{
	make_safe();
	found(READING_LINE_VOLTAGE, "238");
	struct value value = *visit_value(&call.visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE);
	value.taken_at = visit_value(&call.visit, STAGE_AS_FOUND, READING_TERMINAL_COVER_CHECKED)->taken_at;
	visit_set(&call.visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE, &value);
	ck_assert_int_eq(state(), POWER_STATE_ON);
	value.taken_at = WALL_TIME_NONE;
	visit_set(&call.visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE, &value);
	make_safe();
	ck_assert_int_eq(state(), POWER_STATE_ON);
}
END_TEST

START_TEST(measuring_before_safety_is_forgotten_once_safe)
{
	found(READING_LINE_VOLTAGE, "238");
	found(READING_COMPRESSOR_STATE, "hums");
	make_safe();
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
}
END_TEST

START_TEST(a_reading_taken_back_is_no_evidence)
{
	make_safe();
	found(READING_LINE_VOLTAGE, "238");
	found(READING_LINE_VOLTAGE, "");
	ck_assert_int_eq(state(), POWER_STATE_SAFE);
}
END_TEST

START_TEST(resistances_warn_once_for_each_time_the_power_was_on)
{
	ck_assert(power_warns(&call, READING_COMMON_RUN_RESISTANCE));
	call.unsafe_at = now;
	ck_assert(!power_warns(&call, READING_COMMON_START_RESISTANCE));
	found(READING_LINE_VOLTAGE, "238");
	ck_assert(power_warns(&call, READING_COMMON_START_RESISTANCE));
	ck_assert(power_warns(&call, READING_COMPRESSOR_CAPACITANCE));
	call.unsafe_at = now;
	ck_assert(!power_warns(&call, READING_START_RUN_RESISTANCE));
	make_safe();
	found(READING_COMMON_AMPS, "12");
	ck_assert(power_warns(&call, READING_START_RUN_RESISTANCE));
}
END_TEST

/* Whatever the order of a whole call: at each running reading it is not safe. */
START_TEST(it_is_never_safe_while_it_runs)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct reading_info *info = reading_info((enum reading)i);
		if (info->power < POWER_NEEDED_ON || info->kind != KIND_NUMBER)
			continue;
		make_safe();
		ck_assert_int_eq(state(), POWER_STATE_SAFE);
		char typed[40];
		snprintf(typed, sizeof typed, "%g", info->plausible.high);
		found((enum reading)i, typed);
		ck_assert_msg(state() >= POWER_STATE_ON, "%s", info->key);
		found((enum reading)i, "");
	}
}
END_TEST

/* When power came back is told by the first sign after the last of the six answers. */
START_TEST(power_came_back_with_the_first_sign_after_the_answers)
{
	found(READING_LINE_VOLTAGE, "240");
	ck_assert_int_eq(power_came_back(&call).state, POWER_STATE_UNKNOWN);
	make_safe();
	wall_time safe = now;
	ck_assert_int_eq(power_came_back(&call).state, POWER_STATE_UNKNOWN);
	/* In the same moment as the last answer: it was read before. */
	now -= 60;
	found(READING_CONTROL_VOLTAGE, "27");
	ck_assert_int_eq(power_came_back(&call).state, POWER_STATE_UNKNOWN);
	now = safe + 600;
	found(READING_COMMON_AMPS, "11");
	wall_time running = now;
	struct power power = power_came_back(&call);
	ck_assert_int_eq(power.state, POWER_STATE_RUNNING);
	ck_assert_int_eq(power.since, running);
	ck_assert_int_eq(power.shown_by, READING_COMMON_AMPS);
	/* A log entry without a pressure shows nothing; one with it, and earlier, is the first. */
	struct charge_entry *entry = call_add_charge(&call);
	entry->at = safe + 300;
	ck_assert_int_eq(power_came_back(&call).since, running);
	entry->values[CHARGE_SUCTION_PRESSURE].state = VALUE_TAKEN;
	ck_assert_int_eq(power_came_back(&call).since, safe + 300);
	/* Of several entries each is looked at: the last that shows it says since when it runs. */
	struct charge_entry *last = call_add_charge(&call);
	last->at = safe + 900;
	last->values[CHARGE_SUCTION_PRESSURE].state = VALUE_TAKEN;
	ck_assert_int_eq(power_of_call(&call).state, POWER_STATE_RUNNING);
	ck_assert_int_eq(power_of_call(&call).since, safe + 900);
	/* And the first of them when power came back. */
	for (int minutes = 4; minutes >= 2; minutes -= 2) {
		entry = call_add_charge(&call);
		entry->at = safe + 60 * minutes;
		entry->values[CHARGE_SUCTION_PRESSURE].state = VALUE_TAKEN;
		ck_assert_int_eq(power_came_back(&call).since, safe + 60 * minutes);
	}
}
END_TEST

Suite *power_suite(void)
{
	Suite *suite = suite_create("power");
	TCase *tests = tcase_create("power");

	tcase_add_checked_fixture(tests, start, finish);
	tcase_add_test(tests, a_split_is_made_safe_by_both_of_its_supplies);
	tcase_add_test(tests, one_supply_is_one_answer);
	tcase_add_test(tests, the_indoor_supply_makes_no_reading_unsafe);
	tcase_add_test(tests, nothing_written_is_nothing_known);
	tcase_add_test(tests, a_blower_alone_is_no_running_unit);
	tcase_add_test(tests, left_off_and_locked_is_the_last_word_until_power_is_seen);
	tcase_add_test(tests, a_reading_that_only_needs_power_does_not_end_running);
	tcase_add_test(tests, a_compressor_that_stands_and_no_current_end_running);
	tcase_add_test(tests, a_blower_behind_a_lock_out_is_the_blower_alone);
	tcase_add_test(tests, a_blower_of_its_own_supply_opens_a_lock_too);
	tcase_add_test(tests, only_what_was_read_before_the_checks_was_unsafe);
	tcase_add_test(tests, a_reading_after_five_answers_was_unsafe);
	tcase_add_test(tests, six_answers_make_safe);
	tcase_add_test(tests, five_answers_do_not);
	tcase_add_test(tests, volts_end_safety_at_once);
	tcase_add_test(tests, amps_and_pressures_are_a_running_unit);
	tcase_add_test(tests, no_amps_is_power_without_running);
	tcase_add_test(tests, safe_again_takes_all_six_anew);
	tcase_add_test(tests, a_later_no_takes_the_safety_away);
	tcase_add_test(tests, the_compressor_tells_running_from_humming_and_rest);
	tcase_add_test(tests, no_voltage_is_neither_power_nor_safe);
	tcase_add_test(tests, no_voltage_behind_the_contactor_is_no_dead_supply);
	tcase_add_test(tests, tenths_of_a_volt_are_no_dead_supply);
	tcase_add_test(tests, a_lock_out_ends_the_voltage_that_was_read_before_it);
	tcase_add_test(tests, what_ran_is_not_dead_by_a_load_side_alone);
	tcase_add_test(tests, one_pair_of_phases_at_zero_is_no_dead_supply);
	tcase_add_test(tests, a_later_sign_of_power_ends_left_off_for_header_and_reports);
	tcase_add_test(tests, a_current_beside_a_silent_motor_does_not_run_it);
	tcase_add_test(tests, a_current_in_a_leg_beside_a_silent_compressor_does_not_run_it);
	tcase_add_test(tests, pressures_at_rest_show_no_power);
	tcase_add_test(tests, what_is_read_dead_leaves_it_safe);
	tcase_add_test(tests, readings_as_left_count_too);
	tcase_add_test(tests, the_charge_log_is_a_running_unit);
	tcase_add_test(tests, of_one_moment_the_first_is_named);
	tcase_add_test(tests, of_one_moment_or_none_the_power_came_later);
	tcase_add_test(tests, measuring_before_safety_is_forgotten_once_safe);
	tcase_add_test(tests, a_reading_taken_back_is_no_evidence);
	tcase_add_test(tests, resistances_warn_once_for_each_time_the_power_was_on);
	tcase_add_test(tests, it_is_never_safe_while_it_runs);
	tcase_add_test(tests, power_came_back_with_the_first_sign_after_the_answers);
	suite_add_tcase(suite, tests);
	return suite;
}
