/*
 * What is asked about beside another value.  Common practice: a run capacitor at a tenth of its
 * mark is mostly a slip of the decimal point; residential units hold 2 to 4 lb a ton.
 */
#include <check.h>
#include <string.h>

#include <padside/model/slips.h>

#include "support/judged.h"

Suite *slips_suite(void);

static const struct {
	const char *readings; /* what stands on the call */
	enum reading typed;   /* and which of it was typed now */
	const char *asked;    /* words of the question; NULL: none */
} rows[] = {
	{ "compressor_capacitor_rated=45, compressor_capacitance=4.1", READING_COMPRESSOR_CAPACITANCE,
	  "4.1 µF is about a tenth of the 45.0 µF" },
	{ "compressor_capacitor_rated=4.5, compressor_capacitance=44", READING_COMPRESSOR_CAPACITOR_RATED,
	  "ten times the" },
	{ "compressor_capacitor_rated=45, compressor_capacitance=27", READING_COMPRESSOR_CAPACITANCE, NULL },
	{ "compressor_capacitor_rated=45, compressor_capacitance=0.4", READING_COMPRESSOR_CAPACITANCE, NULL },
	{ "compressor_capacitance=4.1", READING_COMPRESSOR_CAPACITANCE, NULL },
	{ "fan_capacitor_rated=5, fan_capacitance=49", READING_FAN_CAPACITANCE, "ten times the" },
	{ "compressor_rla=14.1, common_amps=118", READING_COMMON_AMPS, "ten times the" },
	{ "compressor_rla=14.1, common_amps=70", READING_COMMON_AMPS, NULL },
	{ "nominal_capacity=3, factory_charge=6", READING_FACTORY_CHARGE, "Pounds are typed as" },
	{ "nominal_capacity=3, factory_charge=6", READING_NOMINAL_CAPACITY, "Pounds are typed as" },
	{ "factory_charge=6", READING_FACTORY_CHARGE, "Pounds are typed as" },
	{ "nominal_capacity=3, factory_charge=104", READING_FACTORY_CHARGE, NULL },
	{ "nominal_capacity=3, factory_charge=640", READING_FACTORY_CHARGE, "Pounds are typed as" },
};

START_TEST(a_likely_slip_is_asked_about)
{
	static struct judged judged;
	char question[200] = "";

	judge(&judged, STAGE_AS_FOUND, rows[_i].readings);
	bool asks = slip_question(&judged.visit, STAGE_AS_FOUND, rows[_i].typed, UNITS_US, question,
	                          sizeof question);
	ck_assert_msg(asks == (rows[_i].asked != NULL), "%s: \"%s\"", rows[_i].readings, question);
	if (asks)
		ck_assert_msg(strstr(question, rows[_i].asked), "%s: \"%s\"", rows[_i].readings, question);
}
END_TEST

/* A can is marked 45/5; it was kept as 9.0 µF. */
START_TEST(two_values_are_no_fraction)
{
	struct error error = { .text = "" };
	struct value value;

	ck_assert_int_eq(reading_parse(READING_COMPRESSOR_CAPACITOR_RATED, "45/5", UNITS_US, &value,
	                               &error), STATUS_NOT_A_NUMBER);
	ck_assert(strstr(error.text, "is two values; type that of run capacitor, rated here"));
	ck_assert_int_eq(reading_parse(READING_RETURN_DB, "76/64", UNITS_US, &value, &error),
	                 STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(reading_parse(READING_LIQUID_LINE_OD, "3/8", UNITS_US, &value, &error),
	                 STATUS_OK);
}
END_TEST

Suite *slips_suite(void)
{
	Suite *suite = suite_create("slips");
	TCase *asked = tcase_create("asked");

	tcase_add_loop_test(asked, a_likely_slip_is_asked_about, 0, (int)(sizeof rows / sizeof *rows));
	tcase_add_test(asked, two_values_are_no_fraction);
	suite_add_tcase(suite, asked);
	return suite;
}
