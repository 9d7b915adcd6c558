/* Readings in memory: stages, conditions, progress, the lists of a call. */
#include <check.h>
#include <stdio.h>
#include <math.h>

#include <padside/model/call.h>
#include <padside/model/power.h>

#include "support/calls.h"

Suite *visit_suite(void);

static void put(struct visit *visit, enum stage stage, enum reading reading, const char *text)
{
	struct value value;
	struct error error;

	ck_assert(reading_parse(reading, text, UNITS_US, &value, &error) == STATUS_OK);
	visit_set(visit, stage, reading, &value);
}

START_TEST(not_taken_is_neither_zero_nor_nan)
{
	struct visit visit;
	double number;

	visit_init(&visit);
	ck_assert(visit_number(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, &number) == STATUS_MISSING);
	ck_assert(isnan(number));
	put(&visit, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, "OL");
	ck_assert(visit_number(&visit, STAGE_AS_FOUND, READING_COMMON_RUN_RESISTANCE, &number) ==
	          STATUS_OVER_LIMIT);
	ck_assert(!visit_has(&visit, STAGE_AS_LEFT, READING_COMMON_RUN_RESISTANCE));
}
END_TEST

START_TEST(the_nameplate_is_the_same_in_both_stages)
{
	struct visit visit;

	visit_init(&visit);
	put(&visit, STAGE_AS_LEFT, READING_REFRIGERANT, "R-22");
	ck_assert_int_eq(visit_choice(&visit, STAGE_AS_FOUND, READING_REFRIGERANT),
	                 CHOICE_REFRIGERANT_R22);
}
END_TEST

/* What is the same to the second, the number and the letter was copied from the arrival. */
START_TEST(a_copy_is_the_same_to_the_letter)
{
	static const struct {
		const char *found, *left;
		int seconds;
		bool is_copy;
	} rows[] = {
		{ "flare nut, liquid line", "flare nut, liquid line", 0, true },
		{ "flare nut, liquid line", "flare nut, suction line", 0, false },
		{ "flare nut, liquid line", "flare nut, liquid line", 1, false },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct visit visit;
		struct value value;
		struct error error;
		visit_init(&visit);
		for (int stage = 0; stage < STAGE_COUNT; stage++) {
			ck_assert(reading_parse(READING_LEAK_PLACE, stage ? rows[i].left : rows[i].found, UNITS_US,
			                        &value, &error) == STATUS_OK);
			value.taken_at = 1000 + stage * rows[i].seconds;
			visit_set(&visit, (enum stage)stage, READING_LEAK_PLACE, &value);
		}
		ck_assert_int_eq(visit_is_copy(&visit, READING_LEAK_PLACE), rows[i].is_copy);
	}
}
END_TEST

/* A visit leaves open what is open still, or was closed on a later day than it ended on. */
START_TEST(a_visit_leaves_open_what_was_closed_on_a_later_day)
{
	static const struct {
		const char *left, *ended, *closed;
		bool is_open;
	} rows[] = {
		{ "", "", "", true }, { "", "", "2026-06-03T12:00", false },
		{ "", "2026-06-03T11:00", "", true }, { "2026-06-03T11:00", "", "", true },
		{ "2026-06-03T11:00", "", "2026-06-03T10:59", false },
		{ "2026-06-03T11:00", "", "2026-06-03T17:00", false },
		{ "2026-06-03T11:00", "", "2026-06-04T07:00", true },
		{ "", "2026-06-03T11:00", "2026-06-04T07:00", true },
		{ "2026-06-03T11:00", "2026-06-05T11:00", "2026-06-04T07:00", true },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct watch_item item = { .closed_at = WALL_TIME_NONE };
		struct call call;
		call_init(&call);
		ck_assert(!*rows[i].left || clock_parse(rows[i].left, &call.left_at));
		ck_assert(!*rows[i].ended || clock_parse(rows[i].ended, &call.closed_at));
		ck_assert(!*rows[i].closed || clock_parse(rows[i].closed, &item.closed_at));
		ck_assert_msg(call_leaves_open(&call, &item) == rows[i].is_open, "row %zu", i);
	}
}
END_TEST

/* An option is taken where one that has a price was accepted. */
START_TEST(an_option_is_taken_when_it_was_accepted)
{
	static const struct {
		enum decision decision;
		cents price;
		bool is_taken;
	} rows[] = {
		{ DECISION_NONE, 10000, false }, { DECISION_DECLINED, 10000, false },
		{ DECISION_ACCEPTED, 0, false }, { DECISION_ACCEPTED, 10000, true },
	};
	struct call call;

	call_init(&call);
	ck_assert(!call_takes_an_option(&call));
	struct offer *offer = call_list_add(&call, LIST_OFFERS);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		offer->decision = rows[i].decision;
		offer->price_low = offer->price_high = rows[i].price;
		ck_assert_int_eq(call_takes_an_option(&call), rows[i].is_taken);
	}
	call_done(&call);
}
END_TEST

START_TEST(rows_apply_to_the_machine_they_are_for)
{
	struct visit visit;

	visit_init(&visit);
	ck_assert(visit_applies(&visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE));
	ck_assert(!visit_applies(&visit, STAGE_AS_FOUND, READING_AMPS_A));
	put(&visit, STAGE_AS_FOUND, READING_COMPRESSOR_MOTOR, "three");
	ck_assert(!visit_applies(&visit, STAGE_AS_FOUND, READING_LINE_VOLTAGE));
	ck_assert(visit_applies(&visit, STAGE_AS_FOUND, READING_AMPS_A));
	put(&visit, STAGE_AS_FOUND, READING_REFRIGERANT, "R-32");
	ck_assert(visit_applies(&visit, STAGE_AS_FOUND, READING_FLAMMABLE_REFRIGERANT_PRECAUTIONS));
}
END_TEST

/* Nothing that this kind of unit has not; a condition may look at two readings. */
START_TEST(what_a_kind_does_not_have_is_not_in_the_way)
{
	static const struct { const char *kind, *motor; enum reading reading; bool applies; } cases[] = {
		{ "", "", READING_CONTROL_VOLTAGE, true },
		{ "", "", READING_TERMINAL_12, false },
		{ "", "", READING_REVERSING_VALVE_IN_TEMP, false },
		{ "", "psc", READING_COMMON_RUN_RESISTANCE, true },
		{ "", "psc", READING_WINDING_AB, false },
		{ "", "three_phase", READING_COMMON_RUN_RESISTANCE, false },
		{ "", "three_phase", READING_WINDING_AB, true },
		{ "", "three_phase", READING_CONTROL_VOLTAGE, true },
		{ "", "inverter", READING_WINDING_AB, true },
		{ "", "inverter", READING_CONTROL_VOLTAGE, false },
		{ "", "inverter", READING_CONTACTOR_CONDITION, false },
		{ "", "inverter", READING_FAN_CAPACITANCE, false },
		{ "", "inverter", READING_CAPACITY_PERCENT, true },
		{ "", "psc", READING_CAPACITY_PERCENT, false },
		{ "ductless", "psc", READING_CONTROL_VOLTAGE, false },
		{ "ductless", "inverter", READING_TRANSFORMER_SECONDARY, false },
		{ "ductless", "inverter", READING_SUPPLY_STATIC, false },
		{ "ductless", "inverter", READING_CHARGE_PER_LENGTH, true },
		{ "package_cooling", "psc", READING_LINE_SET_LENGTH, false },
		{ "package_heat_pump", "psc", READING_REVERSING_VALVE_IN_TEMP, true },
		{ "split_cooling", "psc", READING_REVERSING_VALVE_IN_TEMP, false },
	};

	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct visit visit;
		visit_init(&visit);
		put(&visit, STAGE_AS_FOUND, READING_SYSTEM_KIND, cases[i].kind);
		put(&visit, STAGE_AS_FOUND, READING_COMPRESSOR_MOTOR, cases[i].motor);
		ck_assert_msg(visit_applies(&visit, STAGE_AS_FOUND, cases[i].reading) == cases[i].applies,
		              "%s on %s %s", reading_info(cases[i].reading)->key, cases[i].kind, cases[i].motor);
	}
}
END_TEST

START_TEST(unmarked_terminals_are_asked_for)
{
	struct visit visit;

	visit_init(&visit);
	put(&visit, STAGE_AS_FOUND, READING_TERMINALS_UNMARKED, "no");
	ck_assert(!visit_applies(&visit, STAGE_AS_FOUND, READING_TERMINAL_12));
	put(&visit, STAGE_AS_FOUND, READING_TERMINALS_UNMARKED, "yes");
	ck_assert(visit_applies(&visit, STAGE_AS_FOUND, READING_TERMINAL_12));
	put(&visit, STAGE_AS_FOUND, READING_COMPRESSOR_MOTOR, "three_phase");
	ck_assert(!visit_applies(&visit, STAGE_AS_FOUND, READING_TERMINAL_12));
}
END_TEST

START_TEST(a_step_is_complete_when_its_core_is_taken)
{
	struct visit visit;

	visit_init(&visit);
	ck_assert_int_eq(visit_step_progress(&visit, STEP_SAFETY), PROGRESS_UNTOUCHED);
	for (int i = READING_DISCONNECT_LOCKED; i <= READING_PROTECTIVE_EQUIPMENT_ON; i++) {
		put(&visit, STAGE_AS_FOUND, (enum reading)i, "yes");
		ck_assert_int_eq(visit_step_progress(&visit, STEP_SAFETY),
		                 i < READING_PROTECTIVE_EQUIPMENT_ON ? PROGRESS_BEGUN : PROGRESS_COMPLETE);
	}
	ck_assert_int_eq(power_of_visit(&visit).state, POWER_STATE_SAFE);
	put(&visit, STAGE_AS_FOUND, READING_REFRIGERANT, "R-454B");
	ck_assert_int_eq(visit_step_progress(&visit, STEP_SAFETY), PROGRESS_BEGUN);
}
END_TEST

START_TEST(a_dead_compressor_is_told_from_one_that_was_started_later)
{
	struct visit visit;

	visit_init(&visit);
	ck_assert(visit_circuit_ran(&visit, STAGE_AS_FOUND));
	put(&visit, STAGE_AS_FOUND, READING_COMPRESSOR_STATE, "hums");
	ck_assert(!visit_circuit_ran(&visit, STAGE_AS_FOUND));
	put(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "200");
	put(&visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "205");
	ck_assert(!visit_circuit_ran(&visit, STAGE_AS_FOUND));
	put(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "105");
	put(&visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "320");
	ck_assert(visit_circuit_ran(&visit, STAGE_AS_FOUND));
	/* It ran from 1.4 times the suction on, both absolute: 114.7 psia times 1.4 is 145.9 psig. */
	put(&visit, STAGE_AS_FOUND, READING_SUCTION_PRESSURE, "100");
	put(&visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "145");
	ck_assert(!visit_circuit_ran(&visit, STAGE_AS_FOUND));
	put(&visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "147");
	ck_assert(visit_circuit_ran(&visit, STAGE_AS_FOUND));
	put(&visit, STAGE_AS_FOUND, READING_COMPRESSOR_STATE, "silent");
	put(&visit, STAGE_AS_FOUND, READING_LIQUID_PRESSURE, "140");
	ck_assert(!visit_circuit_ran(&visit, STAGE_AS_FOUND));
}
END_TEST

START_TEST(lists_grow_and_shrink)
{
	struct call call;

	call_init(&call);
	for (int i = 0; i < 5; i++)
		call_add_work(&call)->unit_price = i;
	call_list_remove(&call, LIST_WORK, 1);
	ck_assert_uint_eq(call.work_count, 4);
	ck_assert_int_eq(call.work[1].unit_price, 2);
	ck_assert_int_eq(call.work[3].unit_price, 4);
	ck_assert_ptr_nonnull(call_add_charge(&call));
	ck_assert_ptr_nonnull(call_add_offer(&call));
	ck_assert_ptr_nonnull(call_add_watch(&call));
	call_done(&call);
	ck_assert_uint_eq(call.work_count, 0);
}
END_TEST

/* "none found" is an answer, and was taken for a leak that was found. */
START_TEST(a_leak_is_found_where_a_place_is_named)
{
	static const struct {
		const char *place;
		bool is_named;
	} rows[] = {
		{ "flare at the liquid valve", true }, { "north wall, union", true }, { "no. 2 flare", true },
		{ "noted at the coil", true },         { "none found", false },       { "None.", false },
		{ "no leak", false },                  { "not found", false },        { "Nothing", false },
		{ "none, soap and detector", false },  { "- ", false },               { "", false },
	};
	struct visit visit;
	struct value value = { .state = VALUE_TAKEN };

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_msg(leak_is_named(rows[i].place) == rows[i].is_named, "\"%s\"", rows[i].place);
		visit_init(&visit);
		ck_assert(!visit_leak_found(&visit, STAGE_AS_LEFT));
		snprintf(value.text, sizeof value.text, "%s", rows[i].place);
		visit_set(&visit, STAGE_AS_LEFT, READING_LEAK_PLACE, &value);
		ck_assert(visit_leak_found(&visit, STAGE_AS_LEFT) == rows[i].is_named);
		ck_assert(!visit_leak_found(&visit, STAGE_AS_FOUND));
	}
}
END_TEST

Suite *visit_suite(void)
{
	Suite *suite = suite_create("visit");
	TCase *tests = tcase_create("visit");

	tcase_add_test(tests, not_taken_is_neither_zero_nor_nan);
	tcase_add_test(tests, the_nameplate_is_the_same_in_both_stages);
	tcase_add_test(tests, a_copy_is_the_same_to_the_letter);
	tcase_add_test(tests, a_visit_leaves_open_what_was_closed_on_a_later_day);
	tcase_add_test(tests, an_option_is_taken_when_it_was_accepted);
	tcase_add_test(tests, rows_apply_to_the_machine_they_are_for);
	tcase_add_test(tests, what_a_kind_does_not_have_is_not_in_the_way);
	tcase_add_test(tests, unmarked_terminals_are_asked_for);
	tcase_add_test(tests, a_step_is_complete_when_its_core_is_taken);
	tcase_add_test(tests, a_dead_compressor_is_told_from_one_that_was_started_later);
	tcase_add_test(tests, a_leak_is_found_where_a_place_is_named);
	tcase_add_test(tests, lists_grow_and_shrink);
	suite_add_tcase(suite, tests);
	return suite;
}
