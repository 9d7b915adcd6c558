/*
 * Quantities inside sentences, in the reader's units.  Factors: NIST SP 811 (2008), appendix B,
 * worked out beside each row.
 */
#include <check.h>

#include <padside/base/quantities.h>

Suite *quantities_suite(void);

static const struct {
	const char *typed, *us, *si;
} rows[] = {
	{ "No quantity.", "No quantity.", "No quantity." },
	{ "Over {225 F} oil suffers.", "Over 225 °F oil suffers.", "Over 107 °C oil suffers." },
	/* 3/1.8, 10/1.8 and 30/1.8 K: a difference has no offset. */
	{ "{3 F_DIFF} colder", "3 °F colder", "1.7 K colder" },
	{ "{10 to 30 F_DIFF} over", "10 to 30 °F over", "6 to 17 K over" },
	{ "Between {60 and 115 F}.", "Between 60 and 115 °F.", "Between 16 and 46 °C." },
	/* An inch of water is 249.09 Pa, an inch 25.4 mm. */
	{ "{0.10 to 0.25 IN_WC}", "0.10 to 0.25 in. w.c.", "25 to 62 Pa" },
	{ "Usually {0.25 IN_WC}. More", "Usually 0.25 in. w.c. More", "Usually 62 Pa. More" },
	{ "{6 IN} away", "6 in. away", "150 mm away" },
	/* 1 cfm is 0.47195 L/s, 1 ton 3.5169 kW, 1 lb 0.45359 kg. */
	{ "{350 to 450 CFM/TON}", "350 to 450 cfm a ton", "47 to 60 L/s a kW" },
	{ "{2 to 4 LB/TON}", "2 to 4 lb a ton", "0.26 to 0.52 kg a kW" },
	{ "{1 KW/TON}", "1 kW a ton", "0.28 kW a kW" },
	{ "{2 TON}", "2 ton", "7.0 kW" },
	/* 6.5 lb. */
	{ "like {6 LB 8 OZ}.", "like 6 lb 8 oz.", "like 2.9 kg." },
	{ "{47.7 LB}", "47.7 lb", "22 kg" },
	{ "{24 VOLT}, {500 VOLT}", "24 V, 500 V", "24 V, 500 V" },
	{ "{-40 F}", "-40 °F", "-40 °C" },
	{ "{0 F_DIFF}", "0 °F", "0.0 K" },
};

START_TEST(a_sentence_is_in_the_reader_s_units)
{
	char out[QUANTITIES_SIZE];

	quantities_write(rows[_i].typed, UNITS_US, out, sizeof out);
	ck_assert_str_eq(out, rows[_i].us);
	quantities_write(rows[_i].typed, UNITS_SI, out, sizeof out);
	ck_assert_str_eq(out, rows[_i].si);
}
END_TEST

START_TEST(for_an_unknown_reader_both_stand)
{
	char out[QUANTITIES_SIZE];

	quantities_write_both("Over {225 F}: {24 VOLT}.", out, sizeof out);
	ck_assert_str_eq(out, "Over 225 °F (107 °C): 24 V.");
	quantities_write_both("{350 to 450 CFM/TON}", out, sizeof out);
	ck_assert_str_eq(out, "350 to 450 cfm a ton (47 to 60 L/s a kW)");
}
END_TEST

START_TEST(a_long_sentence_is_cut_at_a_whole_character)
{
	char out[8];

	quantities_write("123456°", UNITS_US, out, sizeof out);
	ck_assert_str_eq(out, "123456");
}
END_TEST

Suite *quantities_suite(void)
{
	Suite *suite = suite_create("quantities");
	TCase *tcase = tcase_create("quantities");

	tcase_add_loop_test(tcase, a_sentence_is_in_the_reader_s_units, 0,
	                    (int)(sizeof rows / sizeof *rows));
	tcase_add_test(tcase, for_an_unknown_reader_both_stand);
	tcase_add_test(tcase, a_long_sentence_is_cut_at_a_whole_character);
	suite_add_tcase(suite, tcase);
	return suite;
}
