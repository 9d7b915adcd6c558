/*
 * When a reading or a caution applies, over every choice of what is asked: kinds of motors, units
 * and metering as the trade has them (common practice); flammability of refrigerants by ASHRAE 34.
 */
#include <check.h>
#include <string.h>

#include <padside/catalog/catalog.h>

Suite *conditions_suite(void);

#define DUCTED "split_cooling split_heat_pump package_cooling package_heat_pump"

static const struct {
	enum condition condition;
	int index;            /* of the test */
	const char *reading;  /* what is asked */
	const char *accepted; /* keys of choices */
	bool when_unknown;
} expected[] = {
	{ CONDITION_SINGLE_PHASE, 0, "compressor_motor", "psc csr inverter", true },
	{ CONDITION_THREE_PHASE, 0, "compressor_motor", "three_phase", false },
	{ CONDITION_CAPACITOR_RUN, 0, "compressor_motor", "psc csr", true },
	{ CONDITION_THREE_WINDINGS, 0, "compressor_motor", "three_phase inverter", false },
	{ CONDITION_LINE_STARTED, 0, "compressor_motor", "psc csr three_phase", true },
	{ CONDITION_INVERTER, 0, "compressor_motor", "inverter", false },
	{ CONDITION_CONTACTOR, 0, "compressor_motor", "psc csr three_phase", true },
	{ CONDITION_CONTACTOR, 1, "system_kind", DUCTED, true },
	{ CONDITION_SINGLE_PHASE_CONTACTOR, 0, "compressor_motor", "psc csr", true },
	{ CONDITION_SINGLE_PHASE_CONTACTOR, 1, "system_kind", DUCTED, true },
	{ CONDITION_UNMARKED_TERMINALS, 0, "compressor_motor", "psc csr", true },
	{ CONDITION_UNMARKED_TERMINALS, 1, "terminals_unmarked", "yes", false },
	{ CONDITION_BLOWER_CAPACITOR, 0, "blower_motor_type", "psc", true },
	{ CONDITION_BLOWER_CAPACITOR, 1, "system_kind", DUCTED, true },
	{ CONDITION_BLOWER_MODULE, 0, "blower_motor_type", "constant_torque constant_airflow", false },
	{ CONDITION_CRANKCASE_HEATER, 0, "crankcase_heater_fitted", "yes", false },
	{ CONDITION_HEAT_PUMP, 0, "system_kind", "split_heat_pump package_heat_pump", false },
	{ CONDITION_SPLIT, 0, "system_kind", "split_cooling split_heat_pump ductless", true },
	{ CONDITION_DUCTED, 0, "system_kind", DUCTED, true },
	{ CONDITION_ELECTRONICS, 0, "compressor_motor", "inverter", false },
	{ CONDITION_ELECTRONICS, 1, "system_kind", "ductless", false },
	{ CONDITION_RECIPROCATING, 0, "compressor_kind", "reciprocating", false },
	{ CONDITION_ONE_SUPPLY, 0, "system_kind", "package_cooling package_heat_pump ductless", false },
	{ CONDITION_TWO_SUPPLIES, 0, "system_kind", "split_cooling split_heat_pump", false },
	{ CONDITION_VALVE, 0, "metering", "txv exv", true },
	{ CONDITION_ORIFICE, 0, "metering", "fixed_orifice capillary", true },
	/* ASHRAE 34: A2L and A3; A1 are R-22, R-134a, R-404A, R-407C, R-410A, R-507A. */
	{ CONDITION_FLAMMABLE, 0, "refrigerant", "R-32 R-454B R-1234yf R-290", false },
	{ CONDITION_DAMAGED_TERMINALS, 0, "terminal_condition", "corroded burnt broken", false },
	{ CONDITION_ICED, 0, "coil_condition", "iced", false },
	{ CONDITION_REFRIGERANT_UNKNOWN, 0, "refrigerant", "", true },
	/* ASHRAE 34: the 400 and 500 series are blends. */
	{ CONDITION_BLEND, 0, "refrigerant", "R-410A R-454B R-407C R-404A R-507A", false },
	{ CONDITION_BLEND_WITH_GLIDE, 0, "refrigerant", "R-407C", false },
};

/* Whether the key is one of the words. */
static bool is_word_of(const char *words, const char *key)
{
	size_t length = strlen(key);

	for (const char *at = words; (at = strstr(at, key)) != NULL; at += length)
		if ((at == words || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0'))
			return true;
	return false;
}

START_TEST(a_condition_accepts_what_its_words_say)
{
	const struct condition_test *test = condition_test(expected[_i].condition, expected[_i].index);
	enum reading reading = reading_from_key(expected[_i].reading);

	ck_assert_ptr_nonnull(test);
	ck_assert_int_eq(test->reading, reading);
	ck_assert_int_eq(test->when_unknown, expected[_i].when_unknown);
	bool is_yes_no = reading_info(reading)->kind == KIND_YES_NO;
	enum choice_list list = is_yes_no ? CHOICES_ANSWER : reading_info(reading)->choices;
	int first = (int)choice_first(list);
	for (int choice = CHOICE_NONE + 1; choice < CHOICE_COUNT; choice++) {
		bool is_asked = choice >= first && choice < first + choice_count(list);
		bool wanted = is_asked && is_word_of(expected[_i].accepted, choice_key((enum choice)choice));
		ck_assert_msg(condition_test_accepts(test, (enum choice)choice) == wanted, "%s: %s",
		              condition_words(expected[_i].condition), choice_key((enum choice)choice));
	}
}
END_TEST

START_TEST(no_condition_asks_anything_else)
{
	int tests = 0;

	for (int condition = CONDITION_NONE + 1; condition < CONDITION_COUNT; condition++)
		for (int i = 0; condition_test((enum condition)condition, i) != NULL; i++)
			tests++;
	ck_assert_int_eq(tests, (int)(sizeof expected / sizeof *expected));
}
END_TEST

Suite *conditions_suite(void)
{
	Suite *suite = suite_create("conditions");
	TCase *tests = tcase_create("conditions");

	tcase_add_loop_test(tests, a_condition_accepts_what_its_words_say, 0,
	                    sizeof expected / sizeof *expected);
	tcase_add_test(tests, no_condition_asks_anything_else);
	suite_add_tcase(suite, tests);
	return suite;
}
