/*
 * How many keys a call takes: whole calls typed by keys, each held to its
 * number.  The content of the first was typed with 591 keys before rows were
 * folded, values taken over and texts shortened.
 */
#include <check.h>
#include <stdio.h>
#include <string.h>

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
	hold("a failed capacitor with recharge", 338);
	desk_close(&desk);
}
END_TEST

Suite *keystrokes_suite(void)
{
	Suite *suite = suite_create("keystrokes");
	TCase *calls = tcase_create("calls");

	tcase_set_timeout(calls, 60);
	tcase_add_test(calls, a_failed_capacitor_with_recharge);
	suite_add_tcase(suite, calls);
	return suite;
}
