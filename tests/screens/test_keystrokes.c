/*
 * How many keys a call takes: whole calls typed by keys, each held to its
 * number, with a few keys left for a row that a sheet may gain.  Before rows
 * were folded, values taken over and texts shortened, the content of the first
 * took 591 keys, that of the full drain pan 283 and that of the heat pump's
 * check 325.  The first is held to 60 % of that, these two to less than half.
 */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include <padside/app/settings.h>
#include <padside/model/checklist.h>

#include "support/desk.h"

Suite *keystrokes_suite(void);

static struct desk desk;

static void keys(const char *script)
{
	desk_keys(&desk, script);
}

static void down(const char *label, const char *text)
{
	desk_down(&desk, label, text);
}

static double as_left(enum reading reading)
{
	double number = 0;

	ck_assert(visit_number(&desk_call(&desk)->visit, STAGE_AS_LEFT, reading, &number) == STATUS_OK);
	return number;
}

/* Prints the number and holds it. */
static void hold(const char *what, int most)
{
	printf("keys for %s: %d\n", what, desk.pressed);
	ck_assert_msg(desk.pressed <= most, "%s took %d keys, more than %d", what, desk.pressed, most);
}

/* A run capacitor that failed; behind it the charge is low. */
START_TEST(a_failed_capacitor_with_recharge)
{
	desk_open(&desk);
	keys("Ctrl+N 'Mara Quill' Enter '555-0142' Enter Enter '8 Orchard Row, Larkmere' Enter Enter "
	     "'hum' Enter '88' Enter 'h' Enter Enter Enter '600' Enter");
	keys("F3");
	down("refrigerant", "r-41");
	keys("'98' Enter 'f' Enter 'ps' Enter");
	down("nominal capacity", "3");
	keys("'230' Enter '14.1' Enter '77' Enter");
	down("SEER", "13");
	down("run capacitor", "45");
	keys("F4 Space Space Space Space Space Space F5");
	down("line voltage", "238");
	down("control voltage", "26.4");
	down("run capacitor", "27");
	keys("F6 '.8' Enter '3.1' Enter '3.9' Enter 'ol' Enter F7");
	down("starting amps", "76");
	keys("F9");
	down("return dry", "77");
	keys("'63' Enter '64' Enter");
	keys("F8");
	down("suction pressure", "102");
	keys("'53.3' Enter '318' Enter '98' Enter");
	keys("F11 'capo' Enter '185' Enter");
	down("the customer", "a");
	keys("Ctrl+N 'sys' Enter '8700' Enter '9900' Enter '14' Enter '18' Enter '16' Enter 'd' Enter");
	keys("F12 '3' Enter Enter 'N-0431' Enter = ");
	desk_wait(&desk, 12);
	keys("Ctrl+N '2.5' Enter Enter 'N-0431' Enter '117' Enter '52' Enter '330' Enter '97' Enter");
	keys("Tab 'cap-45' Enter Ctrl+N 'hour' Enter '1.5' Enter Alt+b");
	keys("F5 Right");
	down("run capacitor", "45.2");
	keys("Ctrl+F F7 'r' Enter");
	down("common current", "12.6");
	down("starting amps", "68");
	keys("F8 Ctrl+F F9");
	down("supply dry", "58");
	keys("Ctrl+F Ctrl+P 'cap chg' Enter Down Down Down Down Space");
	ck_assert_double_eq(as_left(READING_SUCTION_PRESSURE), 117);
	ck_assert_double_eq(as_left(READING_SUPPLY_DB), 58);
	ck_assert_double_eq(as_left(READING_LINE_VOLTAGE), 238);
	ck_assert_str_eq(desk_call(&desk)->complaint, "The outdoor unit hums and does not start.");
	ck_assert_uint_eq(desk_call(&desk)->work_count, 3);
	ck_assert_int_eq(desk_call(&desk)->work[2].quantity, 5500);
	ck_assert_int_eq(desk_call(&desk)->work[2].unit_price, 240);
	ck_assert_int_eq(desk_call(&desk)->offers[1].decision, DECISION_DECLINED);
	ck_assert_int_ne(desk_call(&desk)->closed_at, WALL_TIME_NONE);
	hold("a failed capacitor with recharge", 350);
	desk_close(&desk);
}
END_TEST

/* Water in the pan opens the float switch: nothing outside is called. */
START_TEST(a_full_drain_pan)
{
	desk_open(&desk);
	keys("Ctrl+N 'Ada Wynn' Enter '5550171' Enter Enter '3 Mill Lane' Enter Enter 'wet nc' Enter "
	     "'91' Enter 's' Enter 's' Enter 's' Enter F3");
	down("refrigerant", "r-41");
	keys("F5");
	down("call for cooling", "y");
	down("float switch", "o");
	keys("F9");
	down("condensate drain", "b");
	keys("F10 c F11 'drn' Enter '145' Enter");
	down("the customer", "a");
	keys("F12 Tab 'hou' Enter Ctrl+N 'Drain cleared' Enter Enter '60' Enter F5 Right");
	down("float switch", "c");
	keys("F7 'r' Enter 'r' Enter 'r' Enter F9");
	down("condensate drain", "f");
	keys("Ctrl+P 'drn' Enter");
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_LEFT, READING_FLOAT_SWITCH),
	                 CHOICE_SWITCH_CLOSED);
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_LEFT, READING_DRAIN_CONDITION),
	                 CHOICE_DRAIN_FLOWS);
	ck_assert(visit_has(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_CALL_FOR_COOLING));
	ck_assert_int_eq(desk_call(&desk)->work[1].quantity, 1000);
	ck_assert_int_eq(desk_call(&desk)->work[1].unit_price, 6000);
	hold("a full drain pan", 141);
	desk_close(&desk);
}
END_TEST

/* The breaker trips; the compressor's windings go to the shell. */
START_TEST(a_grounded_compressor)
{
	desk_open(&desk);
	keys("Ctrl+N 'Ben Roe' Enter '5550188' Enter Enter '9 Hill Rd' Enter Enter 'trip' Enter '95' Enter "
	     "'s' Enter F3 'AC36' Enter 'S123' Enter");
	down("refrigerant", "r-41");
	down("compressor motor", "ps");
	down("nominal capacity", "3");
	keys("'230' Enter '14.1' Enter F4 Space Space Space Space Space Space F5");
	down("breaker found tripped", "y");
	down("line voltage", "241");
	keys("F6");
	down("common – run", "0.9");
	keys("'2.9' Enter '3.8' Enter");
	down("windings to shell", "0.01");
	keys("F10 c Enter 'measured twice, leads off' Enter F11 'cmpo' Enter '2400' Enter Down '2' Enter '8' Enter");
	keys("Ctrl+N 'sys' Enter '8700' Enter '9900' Enter '14' Enter '18' Enter");
	keys("F12 Tab 'call' Enter '1' Enter Ctrl+P 'cmp' Enter");
	ck_assert_uint_eq(desk_call(&desk)->offer_count, 2);
	ck_assert_uint_eq(call_list_count(desk_call(&desk), LIST_JUDGEMENTS), 1);
	hold("a grounded compressor", 200);
	desk_close(&desk);
}
END_TEST

/* Ice on the coil: a blocked filter; thaw first. */
START_TEST(an_iced_coil)
{
	desk_open(&desk);
	keys("Ctrl+N 'Cy Park' Enter '5550190' Enter Enter '12 Bay St' Enter Enter 'warm ice' Enter '88' Enter "
	     "'r' Enter 'r' Enter 'r' Enter F3");
	down("refrigerant", "r-41");
	down("metering", "t");
	keys("F9 'b' Enter 'i' Enter 'f' Enter '76' Enter '63' Enter '71' Enter");
	keys("F10 c F11 'filt' Enter '45' Enter");
	down("the customer", "a");
	keys("F12 Tab 'filt-16251' Enter '1' Enter Ctrl+N 'hour' Enter '1.5' Enter F9 Home Right");
	keys("'cle' Enter 'cle' Enter = = = '57' Enter F8");
	down("suction pressure", "120");
	keys("'54' Enter '330' Enter '94' Enter Ctrl+P 'filt ok' Enter");
	ck_assert_double_eq(as_left(READING_SUPPLY_DB), 57);
	ck_assert_double_eq(as_left(READING_RETURN_DB), 76);
	hold("an iced coil", 168);
	desk_close(&desk);
}
END_TEST

/* Nothing is wrong: a firm's own list of a heat pump's spring check leads from field to field. */
START_TEST(a_heat_pumps_spring_check)
{
	static const char list[] = "Heat pump: outdoor_db; compressor_state; fan_state; blower_state; "
		"model; serial; system_kind; refrigerant; factory_charge; metering; compressor_motor; "
		"nominal_capacity; rated_voltage; compressor_rla; compressor_capacitor_rated; "
		"disconnect_locked; meter_proved_before; power_off_verified; meter_proved_after; "
		"capacitor_discharged; terminal_cover_checked; line_voltage; control_voltage; "
		"contactor_condition; compressor_capacitance; terminal_condition; "
		"compressor_ground_resistance; common_amps; fan_amps; condenser_condition; "
		"suction_pressure; suction_line_temp; liquid_pressure; liquid_line_temp; filter_condition; "
		"coil_condition; drain_condition; return_db; return_wb; supply_db; spring";
	struct error error = { .text = "" };

	desk_open(&desk);
	ck_assert_msg(setting_put(desk.store, SETTING_CHECKLISTS, list, &error) == STATUS_OK, "%s",
	              error.text);
	keys("Ctrl+N 'Dot Lind' Enter '5550133' Enter Enter '4 Elm Ct' Enter Enter 'tune' Enter "
	     "Alt+l Enter Enter '78' Enter 'r' Enter 'r' Enter 'r' Enter 'HP24' Enter 'H77' Enter "
	     "Space Space Enter 'r-41' Enter '104' Enter 't' Enter 'ps' Enter '2' Enter '230' Enter "
	     "'10.4' Enter '35' Enter Space Space Space Space Space Space "
	     "'239' Enter '26' Enter 'c' Enter '34.6' Enter 's' Enter 'ol' Enter '8.9' Enter '1.1' Enter "
	     "'c' Enter '128' Enter '56' Enter '290' Enter '86' Enter 'c' Enter 'c' Enter 'f' Enter "
	     "'75' Enter '62' Enter '56' Enter Enter Ctrl+P 'ok' Enter Down Down Down Down Space");
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_DRAIN_CONDITION),
	                 CHOICE_DRAIN_FLOWS);
	ck_assert_int_eq(visit_choice(&desk_call(&desk)->visit, STAGE_AS_FOUND, READING_SYSTEM_KIND),
	                 CHOICE_SYSTEM_KIND_SPLIT_HEAT_PUMP);
	ck_assert_str_eq(desk_call(&desk)->work[0].description, "spring");
	ck_assert_int_ne(desk_call(&desk)->closed_at, WALL_TIME_NONE);
	struct checklist items;
	ck_assert(checklist_of_call(desk_call(&desk), &items));
	ck_assert_int_eq(checklist_missing(&items, desk_call(&desk)), 0);
	hold("a heat pump's spring check", 162);
	desk_close(&desk);
}
END_TEST

/* The book knows customer, address and nameplate; only what is new is typed. */
START_TEST(a_returning_customer)
{
	struct error error;

	desk_open(&desk);
	keys("Ctrl+N 'Eve Stone' Enter '5550147' Enter F3");
	down("refrigerant", "r-41");
	const struct uid unit = desk_call(&desk)->system.uid;
	keys("Ctrl+B");
	desk_wait(&desk, 24 * 60);
	ck_assert(session_start(desk.session, NULL, NULL, &unit, &error) == STATUS_OK);
	session_leave(desk.session);
	desk.pressed = 0;
	keys("Tab 'stone' Enter Ctrl+N");
	down("complaint", "fan");
	keys("'90' Enter 'r' Enter 's' Enter F5");
	down("fan capacitor", "1.2");
	keys("F10 F11 'fano' Enter '385' Enter '420' Enter");
	down("the customer", "a");
	keys("F12 Tab 'fan-1/6' Enter '1' Enter Ctrl+N 'hour' Enter '1.5' Enter F7 Right Down 'r' Enter");
	keys("Ctrl+P 'ok' Enter");
	ck_assert_str_eq(desk_call(&desk)->customer.name, "Eve Stone");
	ck_assert_str_eq(desk_call(&desk)->complaint, "The outdoor fan does not turn.");
	hold("a returning customer", 90);
	desk_close(&desk);
}
END_TEST

Suite *keystrokes_suite(void)
{
	Suite *suite = suite_create("keystrokes");
	TCase *calls = tcase_create("calls");

	tcase_set_timeout(calls, 60);
	tcase_add_test(calls, a_failed_capacitor_with_recharge);
	tcase_add_test(calls, a_full_drain_pan);
	tcase_add_test(calls, a_grounded_compressor);
	tcase_add_test(calls, an_iced_coil);
	tcase_add_test(calls, a_heat_pumps_spring_check);
	tcase_add_test(calls, a_returning_customer);
	suite_add_tcase(suite, calls);
	return suite;
}
