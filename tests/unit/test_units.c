/*
 * Every row of units.def against its definition.  Factors are worked out here
 * from the exact definitions in NIST SP 811 (2008), appendix B: the pound is
 * 0.45359237 kg, the inch 0.0254 m, standard gravity 9.80665 m/s², the
 * International Table Btu 1055.05585262 J; a ton of refrigeration is 12,000
 * Btu/h.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/units.h>

Suite *units_suite(void);

#define POUND 0.45359237                          /* kg */
#define INCH 0.0254                               /* m */
#define FOOT (12 * INCH)                          /* m */
#define PSI (POUND * 9.80665 / (INCH * INCH))     /* Pa */
#define BTU 1055.05585262                         /* J */
#define BTU_H (BTU / 3600)                        /* W */
#define TON (12000 * BTU_H)                       /* W */
#define CFM (FOOT * FOOT * FOOT / 60)             /* m³/s */
#define IN_WC 249.08891                           /* Pa; "inch of water, conventional" */

/* What one of the unit is, in the unit that the quantity is kept in. */
static const struct {
	enum unit unit, kept;
	double one, zero; /* of 1 and of 0 */
} definitions[] = {
	{ UNIT_F, UNIT_F, 1, 0 },
	{ UNIT_C, UNIT_F, 33.8, 32 },
	{ UNIT_KELVIN, UNIT_F, -457.87, -459.67 },
	{ UNIT_F_DIFF, UNIT_F_DIFF, 1, 0 },
	{ UNIT_C_DIFF, UNIT_F_DIFF, 1.8, 0 },
	{ UNIT_PSIG, UNIT_PSIG, 1, 0 },
	{ UNIT_BAR, UNIT_PSIG, 1e5 / PSI, 0 },
	{ UNIT_KPA, UNIT_PSIG, 1e3 / PSI, 0 },
	{ UNIT_MPA, UNIT_PSIG, 1e6 / PSI, 0 },
	{ UNIT_IN_WC, UNIT_IN_WC, 1, 0 },
	{ UNIT_PA, UNIT_IN_WC, 1 / IN_WC, 0 },
	{ UNIT_TON, UNIT_TON, 1, 0 },
	{ UNIT_KW_COLD, UNIT_TON, 1000 / TON, 0 },
	{ UNIT_BTUH_COLD, UNIT_TON, 1 / 12000.0, 0 },
	{ UNIT_BTUH, UNIT_BTUH, 1, 0 },
	{ UNIT_KW_HEAT, UNIT_BTUH, 1000 / BTU_H, 0 },
	{ UNIT_MBH, UNIT_BTUH, 1000, 0 },
	{ UNIT_KW, UNIT_KW, 1, 0 },
	{ UNIT_WATT, UNIT_KW, 0.001, 0 },
	{ UNIT_OZ, UNIT_OZ, 1, 0 },
	{ UNIT_LB, UNIT_OZ, 16, 0 },
	{ UNIT_GRAM, UNIT_OZ, 16 / (1000 * POUND), 0 },
	{ UNIT_KG, UNIT_OZ, 16 / POUND, 0 },
	{ UNIT_FT, UNIT_FT, 1, 0 },
	{ UNIT_METER, UNIT_FT, 1 / FOOT, 0 },
	{ UNIT_OZ_FT, UNIT_OZ_FT, 1, 0 },
	{ UNIT_GRAM_M, UNIT_OZ_FT, 16 / (1000 * POUND) * FOOT, 0 },
	{ UNIT_IN, UNIT_IN, 1, 0 },
	{ UNIT_MM, UNIT_IN, 0.001 / INCH, 0 },
	{ UNIT_OHM, UNIT_OHM, 1, 0 },
	{ UNIT_KILOHM, UNIT_OHM, 1e3, 0 },
	{ UNIT_MEGOHM_AS_OHM, UNIT_OHM, 1e6, 0 },
	{ UNIT_MEGOHM, UNIT_MEGOHM, 1, 0 },
	{ UNIT_GIGOHM, UNIT_MEGOHM, 1e3, 0 },
	{ UNIT_KILOHM_AS_MEGOHM, UNIT_MEGOHM, 1e-3, 0 },
	{ UNIT_OHM_AS_MEGOHM, UNIT_MEGOHM, 1e-6, 0 },
	{ UNIT_VOLT, UNIT_VOLT, 1, 0 },
	{ UNIT_MILLIVOLT, UNIT_VOLT, 1e-3, 0 },
	{ UNIT_AMP, UNIT_AMP, 1, 0 },
	{ UNIT_MILLIAMP, UNIT_AMP, 1e-3, 0 },
	{ UNIT_MICROFARAD, UNIT_MICROFARAD, 1, 0 },
	{ UNIT_SECOND, UNIT_SECOND, 1, 0 },
	{ UNIT_MILLISECOND, UNIT_SECOND, 1e-3, 0 },
	{ UNIT_MINUTE, UNIT_MINUTE, 1, 0 },
	{ UNIT_HOUR, UNIT_MINUTE, 60, 0 },
	{ UNIT_CFM, UNIT_CFM, 1, 0 },
	{ UNIT_LITER_S, UNIT_CFM, 1e-3 / CFM, 0 },
	{ UNIT_M3_H, UNIT_CFM, 1 / 3600.0 / CFM, 0 },
	{ UNIT_PERCENT, UNIT_PERCENT, 1, 0 },
	{ UNIT_BTU_LB, UNIT_BTU_LB, 1, 0 },
	/* Dry air at 32 °F holds 7.686 Btu/lb in US tables and 0 kJ/kg in SI tables. */
	{ UNIT_KJ_KG, UNIT_BTU_LB, 7.686 + 1000 * POUND / BTU, 7.686 },
	{ UNIT_KWH, UNIT_KWH, 1, 0 },
	{ UNIT_BTU_WH, UNIT_BTU_WH, 1, 0 },
	{ UNIT_W_W, UNIT_BTU_WH, 1 / BTU_H, 0 },
};

START_TEST(each_unit_is_what_its_definition_says)
{
	enum unit unit = definitions[_i].unit, kept = definitions[_i].kept;
	double one = definitions[_i].one, zero = definitions[_i].zero;

	ck_assert_double_eq_tol(unit_convert(1, unit, kept), one, 1e-8 * fabs(one));
	ck_assert_double_eq_tol(unit_convert(0, unit, kept), zero, 1e-12);
	ck_assert_double_eq_tol(unit_convert(one, kept, unit), 1, 2e-8 * fmax(1, fabs(one)));
	/* A plus/minus knows no zero of a scale. */
	ck_assert_double_eq_tol(unit_convert_spread(2, unit, kept), 2 * (one - zero),
	                        1e-7 * fabs(one - zero));
}
END_TEST

START_TEST(every_unit_has_its_definition)
{
	bool has[UNIT_COUNT] = { [UNIT_NONE] = true };

	for (size_t i = 0; i < sizeof definitions / sizeof *definitions; i++)
		has[definitions[i].unit] = true;
	for (int i = 0; i < UNIT_COUNT; i++)
		ck_assert_msg(has[i], "%s has no definition here", unit_symbol((enum unit)i, true));
}
END_TEST

/* What technicians write behind a number: the reading's unit, the words, the unit meant. */
static const struct {
	enum unit kept;
	const char *words; /* each of them, separated by a bar */
	enum unit meant;
} spellings[] = {
	{ UNIT_F, "°F|F|f|degF|deg", UNIT_F },
	{ UNIT_F, "°C|C|c|degC", UNIT_C },
	{ UNIT_F, "K|k", UNIT_KELVIN },
	{ UNIT_F_DIFF, "°F|F|deg", UNIT_F_DIFF },
	{ UNIT_F_DIFF, "K|C|°C|degC", UNIT_C_DIFF },
	{ UNIT_PSIG, "psig|psi|lb|#|PSI", UNIT_PSIG },
	{ UNIT_PSIG, "bar|barg|Bar", UNIT_BAR },
	{ UNIT_PSIG, "kPa|kpa|kPag", UNIT_KPA },
	{ UNIT_PSIG, "MPa|MPag", UNIT_MPA },
	{ UNIT_IN_WC, "in. w.c.|in|inwc|iwc|in.wc|wc|inH2O|\"wc", UNIT_IN_WC },
	{ UNIT_IN_WC, "Pa|pa", UNIT_PA },
	{ UNIT_TON, "ton|tons|t|TR", UNIT_TON },
	{ UNIT_TON, "kW|kw", UNIT_KW_COLD },
	{ UNIT_TON, "Btu/h|btuh|BTU|btu/hr", UNIT_BTUH_COLD },
	{ UNIT_BTUH, "Btu/h|btuh|btu|btu/hr", UNIT_BTUH },
	{ UNIT_BTUH, "kW|kw", UNIT_KW_HEAT },
	{ UNIT_BTUH, "MBH|mbh|mbtuh|kBtuh", UNIT_MBH },
	{ UNIT_KW, "kW|kw", UNIT_KW },
	{ UNIT_KW, "W|w|watt|watts", UNIT_WATT },
	{ UNIT_OZ, "oz|ounce|ounces", UNIT_OZ },
	{ UNIT_OZ, "lb|lbs|pound|pounds|#", UNIT_LB },
	{ UNIT_OZ, "g|gram|grams", UNIT_GRAM },
	{ UNIT_OZ, "kg|kilo", UNIT_KG },
	{ UNIT_FT, "ft|feet|foot|'", UNIT_FT },
	{ UNIT_FT, "m|metre|meter", UNIT_METER },
	{ UNIT_OZ_FT, "oz/ft|oz/foot", UNIT_OZ_FT },
	{ UNIT_OZ_FT, "g/m", UNIT_GRAM_M },
	{ UNIT_IN, "in.|in|inch|inches|\"", UNIT_IN },
	{ UNIT_IN, "mm|MM", UNIT_MM },
	{ UNIT_OHM, "Ω|ohm|ohms|r", UNIT_OHM },
	{ UNIT_OHM, "kΩ|k|kohm|kohms", UNIT_KILOHM },
	{ UNIT_OHM, "MΩ|M|meg|megohm|Mohm", UNIT_MEGOHM_AS_OHM },
	{ UNIT_MEGOHM, "MΩ|M|meg|megohm", UNIT_MEGOHM },
	{ UNIT_MEGOHM, "GΩ|G|gig", UNIT_GIGOHM },
	{ UNIT_MEGOHM, "kΩ|k|kohms", UNIT_KILOHM_AS_MEGOHM },
	{ UNIT_MEGOHM, "Ω|ohm|ohms", UNIT_OHM_AS_MEGOHM },
	{ UNIT_VOLT, "V|v|volt|volts|vac|VAC", UNIT_VOLT },
	{ UNIT_VOLT, "mV|mv", UNIT_MILLIVOLT },
	{ UNIT_AMP, "A|a|amp|amps", UNIT_AMP },
	{ UNIT_AMP, "mA|ma", UNIT_MILLIAMP },
	{ UNIT_MICROFARAD, "µF|μF|uF|mfd|MFD|uf|mf|u", UNIT_MICROFARAD },
	{ UNIT_SECOND, "s|sec|secs|second|seconds", UNIT_SECOND },
	{ UNIT_SECOND, "ms|msec", UNIT_MILLISECOND },
	{ UNIT_MINUTE, "min|m|mins|minute|minutes", UNIT_MINUTE },
	{ UNIT_MINUTE, "h|hr|hrs|hour|hours", UNIT_HOUR },
	{ UNIT_CFM, "cfm|CFM|cu.ft/min|ft3/min", UNIT_CFM },
	{ UNIT_CFM, "L/s|l/s|lps", UNIT_LITER_S },
	{ UNIT_CFM, "m³/h|m3/h|m3h|cmh", UNIT_M3_H },
	{ UNIT_PERCENT, "%|pct|percent", UNIT_PERCENT },
	{ UNIT_BTU_LB, "Btu/lb", UNIT_BTU_LB },
	{ UNIT_BTU_LB, "kJ/kg", UNIT_KJ_KG },
	{ UNIT_KWH, "kWh", UNIT_KWH },
	{ UNIT_BTU_WH, "Btu/Wh", UNIT_BTU_WH },
	{ UNIT_BTU_WH, "W/W", UNIT_W_W },
};

START_TEST(each_unit_is_known_by_the_words_technicians_write)
{
	const char *at = spellings[_i].words;
	char word[24];

	for (; *at; at += strspn(at, "|")) {
		size_t length = strcspn(at, "|");
		enum unit unit = UNIT_COUNT;
		snprintf(word, sizeof word, "%.*s", (int)length, at);
		ck_assert_msg(unit_from_text(word, spellings[_i].kept, &unit), "%s", word);
		ck_assert_msg(unit == spellings[_i].meant, "%s is taken for %s", word,
		              unit_symbol(unit, true));
		at += length;
	}
}
END_TEST

/* What SI shows, with how many decimals where the US unit has two: enough, and no false ones. */
static const struct {
	enum unit us, si;
	int decimals;
} shown[] = {
	{ UNIT_F, UNIT_C, 2 }, { UNIT_F_DIFF, UNIT_C_DIFF, 2 }, { UNIT_PSIG, UNIT_KPA, 1 },
	{ UNIT_IN_WC, UNIT_PA, 1 }, { UNIT_TON, UNIT_KW_COLD, 3 }, { UNIT_BTUH, UNIT_KW_HEAT, 4 },
	{ UNIT_KW, UNIT_KW, 2 }, { UNIT_OZ, UNIT_GRAM, 1 }, { UNIT_LB, UNIT_KG, 2 }, { UNIT_FT, UNIT_METER, 3 },
	{ UNIT_OZ_FT, UNIT_GRAM_M, 1 }, { UNIT_IN, UNIT_MM, 0 }, { UNIT_OHM, UNIT_OHM, 2 },
	{ UNIT_MEGOHM, UNIT_MEGOHM, 2 }, { UNIT_VOLT, UNIT_VOLT, 2 }, { UNIT_AMP, UNIT_AMP, 2 },
	{ UNIT_MICROFARAD, UNIT_MICROFARAD, 2 }, { UNIT_SECOND, UNIT_SECOND, 2 },
	{ UNIT_MINUTE, UNIT_MINUTE, 2 }, { UNIT_CFM, UNIT_LITER_S, 2 },
	{ UNIT_PERCENT, UNIT_PERCENT, 2 }, { UNIT_BTU_LB, UNIT_KJ_KG, 2 }, { UNIT_KWH, UNIT_KWH, 2 },
	{ UNIT_BTU_WH, UNIT_W_W, 3 },
};

START_TEST(si_shows_the_metric_unit_with_fitting_decimals)
{
	enum unit us = shown[_i].us, si = shown[_i].si;

	ck_assert_int_eq(unit_shown(us, UNITS_US), us);
	ck_assert_int_eq(unit_shown(us, UNITS_SI), si);
	ck_assert_int_eq(unit_shown(si, UNITS_SI), si);
	ck_assert_int_eq(unit_decimals_shown(2, us, UNITS_US), 2);
	ck_assert_int_eq(unit_decimals_shown(2, us, UNITS_SI), shown[_i].decimals);
	ck_assert_int_eq(unit_decimals_shown(2, si, UNITS_SI), 2);
	ck_assert_int_eq(unit_decimals_shown(0, UNIT_IN, UNITS_SI), 0);
}
END_TEST

START_TEST(what_may_be_typed_is_listed)
{
	char list[80];

	unit_list_accepted(UNIT_PSIG, list, sizeof list);
	ck_assert_str_eq(list, "psig, bar, kPa, MPa");
	unit_list_accepted(UNIT_TON, list, sizeof list);
	ck_assert_str_eq(list, "ton, kW, Btu/h");
	ck_assert_str_eq(unit_symbol(UNIT_MEGOHM, false), "MΩ");
	ck_assert_str_eq(unit_symbol(UNIT_MEGOHM, true), "Mohm");
}
END_TEST

Suite *units_suite(void)
{
	Suite *suite = suite_create("units");
	TCase *tests = tcase_create("units");

	tcase_add_loop_test(tests, each_unit_is_what_its_definition_says, 0,
	                    sizeof definitions / sizeof *definitions);
	tcase_add_test(tests, every_unit_has_its_definition);
	tcase_add_loop_test(tests, each_unit_is_known_by_the_words_technicians_write, 0,
	                    sizeof spellings / sizeof *spellings);
	tcase_add_loop_test(tests, si_shows_the_metric_unit_with_fitting_decimals, 0,
	                    sizeof shown / sizeof *shown);
	tcase_add_test(tests, what_may_be_typed_is_listed);
	suite_add_tcase(suite, tests);
	return suite;
}
