/* The tables of figures and faults, and what is expected of a sound machine. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/catalog/faults.h>
#include <padside/model/figures.h>
#include <padside/base/text.h>

START_TEST(the_evaporator_is_expected_colder_with_less_air)
{
	struct visit visit;
	struct figure_set set = { 0 };
	struct value value;
	struct error error;

	visit_init(&visit);
	ck_assert(reading_parse(READING_NOMINAL_CAPACITY, "3", UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&visit, STAGE_AS_FOUND, READING_NOMINAL_CAPACITY, &value);
	set.values[FIGURE_AIRFLOW_ESTIMATE].status = STATUS_MISSING;
	struct expectation wanted = figure_expect(&visit, STAGE_AS_FOUND, &set,
	                                          FIGURE_EVAPORATOR_UNDER_RETURN);
	/* Common practice: 35 ±5 °F at 400 cfm a ton, 40 ±5 at 350. */
	ck_assert(wanted.low == 30 && wanted.high == 40);
	set.values[FIGURE_AIRFLOW_ESTIMATE] = (struct figure_value){ .status = STATUS_OK, .value = 1050 };
	wanted = figure_expect(&visit, STAGE_AS_FOUND, &set, FIGURE_EVAPORATOR_UNDER_RETURN);
	ck_assert_double_eq_tol(wanted.low, 35, 1e-9);
	ck_assert_double_eq_tol(wanted.high, 45, 1e-9);
}
END_TEST

Suite *tables_suite(void);

/* What is expected of a figure when these readings were taken. */
struct typed {
	enum reading reading;
	const char *text;
};

static const struct {
	const char *why;
	enum figure figure;
	struct typed readings[4];
	bool known;
	double low, high;
} expectations[] = {
	/* California Title 24 RA3.2 speaks of the maker's target; 10 °F assumed are no more than usual. */
	{ "maker's subcooling", FIGURE_SUBCOOLING, { { READING_METERING, "txv" },
	  { READING_TARGET_SUBCOOLING, "12" } }, true, 9, 15 },
	{ "assumed subcooling", FIGURE_SUBCOOLING, { { READING_METERING, "txv" } }, true, 4, 16 },
	{ "inverter without speed", FIGURE_SUBCOOLING, { { READING_METERING, "exv" },
	  { READING_COMPRESSOR_MOTOR, "inverter" } }, false, 0, 0 },
	{ "inverter at full speed, maker's target", FIGURE_SUBCOOLING, { { READING_METERING, "exv" },
	  { READING_COMPRESSOR_MOTOR, "inverter" }, { READING_TARGET_SUBCOOLING, "8" },
	  { READING_CAPACITY_PERCENT, "100" } }, true, 5, 11 },
	{ "superheat of an inverter", FIGURE_SUPERHEAT, { { READING_METERING, "txv" },
	  { READING_COMPRESSOR_MOTOR, "inverter" } }, false, 0, 0 },
	/* Lennox XC13 506636-01, p. 28: 10 to 16 °F on nine sizes of the 13 SEER class. */
	{ "13 SEER condenser", FIGURE_CONDENSER_OVER_OUTDOOR, { { READING_SEER, "13" } }, true, 10, 25 },
	{ "13.4 SEER2 is 14.1 SEER", FIGURE_CONDENSER_OVER_OUTDOOR, { { READING_SEER2, "13.4" } },
	  true, 10, 25 },
	/* Danfoss NTZ FRCC.PC.002.A5, p. 10: 2.1 to 4.8; scroll and rotary are not judged. */
	{ "ratio of a reciprocating", FIGURE_START_RUN_RATIO,
	  { { READING_COMPRESSOR_KIND, "reciprocating" } }, true, 2, 6 },
	{ "ratio of a scroll", FIGURE_START_RUN_RATIO, { { READING_COMPRESSOR_KIND, "scroll" } },
	  false, 0, 0 },
	{ "ratio of a rotary", FIGURE_START_RUN_RATIO, { { READING_COMPRESSOR_KIND, "rotary" } },
	  false, 0, 0 },
	{ "ratio, kind not known", FIGURE_START_RUN_RATIO, { { READING_NONE, NULL } }, false, 0, 0 },
	/* Armstrong 4SHP16LT, p. 16: printed approach ±1 °F. */
	{ "maker's approach", FIGURE_LIQUID_APPROACH, { { READING_TARGET_APPROACH, "8" } }, true, 7, 9 },
	{ "no approach given", FIGURE_LIQUID_APPROACH, { { READING_NONE, NULL } }, false, 0, 0 },
	/* A blower on a board draws what it needs: little is no fault: common practice. */
	{ "PSC blower", FIGURE_BLOWER_FLA_SHARE, { { READING_BLOWER_MOTOR_TYPE, "psc" } }, true, 40, 105 },
	{ "constant airflow", FIGURE_BLOWER_FLA_SHARE,
	  { { READING_BLOWER_MOTOR_TYPE, "constant_airflow" } }, true, -INFINITY, 105 },
	{ "current unbalance", FIGURE_CURRENT_UNBALANCE, { { READING_NONE, NULL } }, true,
	  -INFINITY, 10 },
};

START_TEST(expectations_are_what_the_sources_say)
{
	struct visit visit;
	struct figure_set set;
	struct value value;
	struct error error;

	visit_init(&visit);
	for (int i = 0; i < 4 && expectations[_i].readings[i].reading != READING_NONE; i++) {
		const struct typed *typed = &expectations[_i].readings[i];
		ck_assert(reading_parse(typed->reading, typed->text, UNITS_US, &value, &error) == STATUS_OK);
		visit_set(&visit, STAGE_AS_FOUND, typed->reading, &value);
	}
	figures_evaluate(&visit, STAGE_AS_FOUND, &set);
	struct expectation wanted = figure_expect(&visit, STAGE_AS_FOUND, &set, expectations[_i].figure);
	ck_assert_msg(wanted.known == expectations[_i].known, "%s", expectations[_i].why);
	if (wanted.known) {
		ck_assert_msg((wanted.low == expectations[_i].low ||
		               fabs(wanted.low - expectations[_i].low) < 1e-9) &&
		              fabs(wanted.high - expectations[_i].high) < 1e-9, "%s: %g to %g",
		              expectations[_i].why, wanted.low, wanted.high);
		ck_assert(*wanted.source);
	}
}
END_TEST

/* A silent compressor draws nothing: 0.0 A beside old run and start amps is no "good". */
START_TEST(common_amps_of_a_silent_compressor_are_not_judged)
{
	static const struct typed typed[] = { { READING_RUN_AMPS, "12" }, { READING_START_AMPS, "5" } };
	struct visit visit;
	struct value value;
	struct error error;

	visit_init(&visit);
	for (int i = 0; i < 2; i++) {
		ck_assert(reading_parse(typed[i].reading, typed[i].text, UNITS_US, &value, &error) == STATUS_OK);
		visit_set(&visit, STAGE_AS_FOUND, typed[i].reading, &value);
	}
	ck_assert(reading_expect(&visit, STAGE_AS_FOUND, READING_COMMON_AMPS).known);
	ck_assert(reading_parse(READING_COMPRESSOR_STATE, "silent", UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&visit, STAGE_AS_FOUND, READING_COMPRESSOR_STATE, &value);
	ck_assert(!reading_expect(&visit, STAGE_AS_FOUND, READING_COMMON_AMPS).known);
}
END_TEST

START_TEST(every_figure_row_is_whole)
{
	const struct figure_info *info = figure_info((enum figure)_i);

	ck_assert_int_eq(figure_from_key(info->key), _i);
	ck_assert_int_le(text_columns(info->label), 23);
	/* What it is called without a reading says so of one that it uses. */
	for (int i = 0; i < FIGURE_MOST_PARTS && info->parts[i].lacking != READING_NONE; i++) {
		ck_assert(figure_takes((enum figure)_i, info->parts[i].lacking));
		ck_assert_str_ne(info->parts[i].name, info->label);
		ck_assert_int_le(text_columns(info->parts[i].name), 24);
	}
	if (info->caution.lacking != READING_NONE) {
		ck_assert(figure_takes((enum figure)_i, info->caution.lacking));
		ck_assert_int_gt(text_columns(info->caution.words), 0);
	}
	ck_assert(info->needs[0][0] != READING_NONE);
	ck_assert(info->formula && *info->formula && info->source && *info->source);
}
END_TEST

/*
 * Digits say how closely a thing is known: a digit behind the point where the usual
 * meters of the trade show one (their data sheets), and none that they do not show.
 */
static const struct {
	enum unit unit;
	int least, most;
} digits[] = {
	{ UNIT_F, 0, 1 }, { UNIT_F_DIFF, 1, 1 }, { UNIT_PSIG, 1, 1 }, { UNIT_PERCENT, 0, 1 },
	{ UNIT_VOLT, 0, 2 }, { UNIT_AMP, 0, 2 }, { UNIT_OHM, 1, 2 }, { UNIT_MEGOHM, 1, 2 },
	{ UNIT_MICROFARAD, 1, 1 }, { UNIT_IN_WC, 2, 2 }, { UNIT_CFM, 0, 0 }, { UNIT_BTUH, 0, 0 },
	{ UNIT_BTU_LB, 2, 2 }, { UNIT_KW, 2, 2 }, { UNIT_BTU_WH, 1, 1 }, { UNIT_KWH, 0, 0 },
	{ UNIT_OZ, 0, 1 }, { UNIT_TON, 1, 1 }, { UNIT_FT, 0, 0 }, { UNIT_IN, 3, 3 },
	{ UNIT_OZ_FT, 2, 2 }, { UNIT_SECOND, 1, 1 }, { UNIT_MINUTE, 0, 0 },
};

static void check_digits(const char *key, enum unit unit, int decimals)
{
	for (size_t i = 0; i < sizeof digits / sizeof *digits; i++)
		if (digits[i].unit == unit)
			ck_assert_msg(decimals >= digits[i].least && decimals <= digits[i].most,
			              "%s is shown with %d digits", key, decimals);
}

START_TEST(no_more_digits_than_the_meters_show)
{
	for (int f = 0; f < FIGURE_COUNT; f++)
		if (f != FIGURE_NONE)
			check_digits(figure_info((enum figure)f)->key, figure_info((enum figure)f)->unit,
			             figure_info((enum figure)f)->decimals);
	for (int r = READING_NONE + 1; r < READING_COUNT; r++)
		if (reading_info((enum reading)r)->kind == KIND_NUMBER)
			check_digits(reading_info((enum reading)r)->key, reading_info((enum reading)r)->unit,
			             reading_info((enum reading)r)->decimals);
}
END_TEST

/* NIST SP 811: 1.8 °F are 1 K, 32 °F is 0 °C, 1 Btu/lb is 2.326 kJ/kg.  A spread has no zero. */
START_TEST(a_figure_and_its_spread_are_in_the_readers_units)
{
	static const struct {
		enum figure figure;
		double value, spread;
		const char *us, *us_spread, *si, *si_spread;
	} rows[] = {
		{ FIGURE_SUPERHEAT, 18, 1.8, "18.0 °F", "1.8", "10.0 K", "1.0" },
		{ FIGURE_SUCTION_SATURATION_TEMP, 50, 0.9, "50.0 °F", "0.9", "10.0 °C", "0.5" },
		{ FIGURE_RLA_SHARE, 75, 2, "75 %", "2", "75 %", "2" },
		/* Below 1 MΩ a leak to the shell keeps three digits. */
		{ FIGURE_INSULATION_AT_40C, 0.0123, 0.1, "0.012 MΩ", "0.1", "0.012 MΩ", "0.1" },
		{ FIGURE_INSULATION_AT_40C, 1, 0.1, "1.0 MΩ", "0.1", "1.0 MΩ", "0.1" },
	};
	char out[40];

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		figure_format(rows[i].figure, rows[i].value, UNITS_US, VALUE_FORM_WITH_UNIT, out, sizeof out);
		ck_assert_str_eq(out, rows[i].us);
		figure_format_spread(rows[i].figure, rows[i].spread, UNITS_US, out, sizeof out);
		ck_assert_str_eq(out, rows[i].us_spread);
		figure_format(rows[i].figure, rows[i].value, UNITS_SI, VALUE_FORM_WITH_UNIT, out, sizeof out);
		ck_assert_str_eq(out, rows[i].si);
		figure_format_spread(rows[i].figure, rows[i].spread, UNITS_SI, out, sizeof out);
		ck_assert_str_eq(out, rows[i].si_spread);
		/* On the sheet the unit stands in its own column. */
		figure_format(rows[i].figure, rows[i].value, UNITS_US, VALUE_FORM_SHEET, out, sizeof out);
		ck_assert_uint_eq(strlen(out), strcspn(rows[i].us, " "));
	}
	figure_format(FIGURE_SUPERHEAT, 18, UNITS_US, VALUE_FORM_PLAIN, out, sizeof out);
	ck_assert_str_eq(out, "18.0 F");
}
END_TEST

/* A step has a name, one word for a narrow bar, and what it is for. */
START_TEST(every_step_row_is_whole)
{
	const struct step_info *info = step_info((enum step)_i);

	ck_assert_int_le(text_columns(info->label), 18);
	ck_assert(info->label[0] >= 'A' && info->label[0] <= 'Z');
	ck_assert_int_le(text_columns(info->brief), 8);
	ck_assert_ptr_null(strchr(info->brief, ' '));
	ck_assert(info->key[0] >= 'a' && info->key[0] <= 'z' && !strchr(info->key, ' '));
	ck_assert_int_gt(text_columns(info->purpose), 18);
	ck_assert_ptr_nonnull(strchr(info->purpose, ' '));
	for (int i = 0; i < _i; i++) {
		ck_assert_str_ne(info->key, step_info((enum step)i)->key);
		ck_assert_str_ne(info->brief, step_info((enum step)i)->brief);
	}
}
END_TEST

START_TEST(every_fault_row_is_whole)
{
	const struct fault_info *info = fault_info((enum fault)_i);

	ck_assert_int_eq(fault_from_key(info->key), _i);
	ck_assert_int_le(text_columns(info->label), 36);
	ck_assert(info->prior > 0 && info->prior < 0.5);
	ck_assert(info->advice[strlen(info->advice) - 1] == '.');
	ck_assert(info->meaning[strlen(info->meaning) - 1] == '.');
	ck_assert_ptr_nonnull(info->caution);
}
END_TEST

/*
 * Of more than 4,000 systems in California 34 % had too little and 28 % too much refrigerant (Home
 * Energy Magazine, May/June 2002); on a call with a complaint too little is the likelier still.  The
 * rest is common practice: run capacitors fail most of all electrical parts, motors and
 * contactors often, windings, phases and welded contacts seldom.  What is more seldom than 1 in
 * 500 would never be believed, and no single fault is behind every fifth call.
 */
static const struct {
	enum fault fault;
	double least, most;
} shares[] = {
	{ FAULT_UNDERCHARGE, 0.10, 0.20 }, { FAULT_OVERCHARGE, 0.04, 0.12 },
	{ FAULT_LIQUID_RESTRICTION, 0.02, 0.06 }, { FAULT_METERING_OVERFEED, 0.01, 0.04 },
	{ FAULT_NONCONDENSABLES, 0.01, 0.04 }, { FAULT_COMPRESSOR_INEFFICIENT, 0.02, 0.06 },
	{ FAULT_REVERSING_VALVE_LEAKING, 0.002, 0.015 }, { FAULT_LOW_INDOOR_AIRFLOW, 0.06, 0.15 },
	{ FAULT_LOW_OUTDOOR_AIRFLOW, 0.05, 0.12 }, { FAULT_FILTER_BLOCKED, 0.04, 0.10 },
	{ FAULT_HIGH_STATIC_PRESSURE, 0.02, 0.06 }, { FAULT_EVAPORATOR_DIRTY, 0.02, 0.05 },
	{ FAULT_EVAPORATOR_ICED, 0.01, 0.04 }, { FAULT_DRAIN_BLOCKED, 0.02, 0.05 },
	{ FAULT_COMPRESSOR_CAPACITOR_FAILED, 0.08, 0.15 }, { FAULT_COMPRESSOR_CAPACITOR_WEAK, 0.04, 0.08 },
	{ FAULT_FAN_CAPACITOR_FAILED, 0.03, 0.06 }, { FAULT_FAN_MOTOR_FAILED, 0.03, 0.06 },
	{ FAULT_NO_CALL_FOR_COOLING, 0.03, 0.06 }, { FAULT_NO_CONTROL_VOLTAGE, 0.03, 0.06 },
	{ FAULT_CONTROL_FUSE_OPEN, 0.02, 0.05 }, { FAULT_FLOAT_SWITCH_OPEN, 0.02, 0.05 },
	{ FAULT_CONTACTOR_CONTACTS_WORN, 0.02, 0.05 }, { FAULT_CONTACTOR_WELDED, 0.004, 0.015 },
	{ FAULT_OVERLOAD_OPEN, 0.02, 0.05 }, { FAULT_WINDING_GROUNDED, 0.008, 0.02 },
	{ FAULT_WINDING_OPEN_RUN, 0.002, 0.01 }, { FAULT_WINDING_OPEN_START, 0.002, 0.01 },
	{ FAULT_WINDING_OPEN_COMMON, 0.002, 0.01 }, { FAULT_WINDING_OPEN_PHASE, 0.002, 0.01 },
	{ FAULT_WINDING_SHORTED, 0.004, 0.015 }, { FAULT_HIGH_LINE_VOLTAGE, 0.002, 0.01 },
	{ FAULT_VOLTAGE_UNBALANCE, 0.002, 0.01 }, { FAULT_ROTATION_REVERSED, 0.002, 0.01 },
};

START_TEST(a_fault_is_as_frequent_as_is_known)
{
	double prior = fault_info(shares[_i].fault)->prior;

	ck_assert_msg(prior >= shares[_i].least && prior <= shares[_i].most, "%s: %g",
	              fault_info(shares[_i].fault)->key, prior);
}
END_TEST

START_TEST(no_fault_is_unheard_of_or_behind_every_call)
{
	double whole = 0, electrical = 0;

	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++) {
		const struct fault_info *info = fault_info((enum fault)f);
		ck_assert_msg(info->prior >= 0.002 && info->prior < 0.2, "%s", info->key);
		whole += info->prior;
		if (info->family != FAMILY_ELECTRICAL)
			continue;
		electrical += info->prior;
		ck_assert_double_le(info->prior, fault_info(FAULT_COMPRESSOR_CAPACITOR_FAILED)->prior);
	}
	/* About every second call is electrical; effects are counted beside their causes. */
	ck_assert_double_gt(electrical / whole, 0.45);
	ck_assert_double_lt(electrical / whole, 0.65);
}
END_TEST

static bool is_among(const enum fault *faults, size_t count, enum fault fault)
{
	for (size_t i = 0; i < count; i++)
		if (faults[i] == fault)
			return true;
	return false;
}

/* Common practice: a short, a ground, a motor that cannot turn, and a bad connection that heats the breaker. */
START_TEST(what_trips_a_breaker_draws_too_much)
{
	static const enum fault faults[] = {
		FAULT_SUPPLY_CONNECTION_BAD, FAULT_COMPRESSOR_CAPACITOR_FAILED, FAULT_WINDING_SHORTED,
		FAULT_WINDING_GROUNDED, FAULT_LOCKED_ROTOR, FAULT_FAN_MOTOR_GROUNDED,
	};

	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++)
		ck_assert_msg(fault_info((enum fault)f)->trips_breaker ==
		              is_among(faults, sizeof faults / sizeof *faults, (enum fault)f), "%s",
		              fault_info((enum fault)f)->key);
}
END_TEST

/* Two line leads that are exchanged turn a three-phase scroll backwards: its turn is proved after this work. */
START_TEST(whose_repair_moves_line_leads)
{
	static const enum fault faults[] = {
		FAULT_VOLTAGE_UNBALANCE, FAULT_SUPPLY_CONNECTION_BAD, FAULT_PHASE_LOST,
		FAULT_ROTATION_REVERSED, FAULT_CONTACTOR_COIL_OPEN, FAULT_CONTACTOR_STUCK_OPEN,
		FAULT_CONTACTOR_POLE_OPEN, FAULT_CONTACTOR_CONTACTS_WORN, FAULT_COMPRESSOR_LEAD_OPEN,
	};

	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++)
		ck_assert_msg(fault_info((enum fault)f)->moves_leads ==
		              is_among(faults, sizeof faults / sizeof *faults, (enum fault)f), "%s",
		              fault_info((enum fault)f)->key);
}
END_TEST

/* Below its floor a motor stays off until the same shell reads good again (makers' floors: trade practice). */
START_TEST(what_must_stay_off_names_its_shell)
{
	static const struct {
		enum fault fault;
		enum reading shell;
	} rows[] = {
		{ FAULT_WINDING_GROUNDED, READING_COMPRESSOR_GROUND_RESISTANCE },
		{ FAULT_INSULATION_BELOW_FLOOR, READING_COMPRESSOR_GROUND_RESISTANCE },
		{ FAULT_INVERTER_BELOW_FLOOR, READING_COMPRESSOR_GROUND_RESISTANCE },
		{ FAULT_FAN_MOTOR_GROUNDED, READING_FAN_GROUND_RESISTANCE },
	};
	int seen = 0;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		ck_assert_int_eq(fault_info(rows[i].fault)->stays_off_by, rows[i].shell);
	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++)
		seen += fault_info((enum fault)f)->stays_off_by != READING_NONE;
	ck_assert_int_eq(seen, sizeof rows / sizeof *rows);
}
END_TEST

/*
 * Common practice.  Off: it can burn, flood or destroy the compressor.  Cool: it may ice, and ice ends it.
 * Use: it cools, and only wears faster.
 */
START_TEST(what_may_run_until_it_is_repaired)
{
	static const enum fault use[] = {
		FAULT_OVERCHARGE, FAULT_NONCONDENSABLES, FAULT_LOW_OUTDOOR_AIRFLOW,
		FAULT_CONTACTOR_CONTACTS_WORN, FAULT_COMPRESSOR_CAPACITOR_WEAK, FAULT_FAN_CAPACITOR_WEAK,
		FAULT_INSULATION_WEAK, FAULT_COMPRESSOR_TIGHT, FAULT_FAN_MOTOR_OVERLOADED,
		FAULT_BLOWER_MOTOR_OVERLOADED,
	};
	static const enum fault cool[] = {
		FAULT_UNDERCHARGE, FAULT_LIQUID_RESTRICTION, FAULT_LOW_INDOOR_AIRFLOW,
		FAULT_FILTER_BLOCKED, FAULT_EVAPORATOR_DIRTY, FAULT_BLOWER_CAPACITOR_WEAK,
	};
	static const enum fault off[] = {
		FAULT_BLOWER_CALL_LOST,
		FAULT_EVAPORATOR_ICED, FAULT_DRAIN_BLOCKED, FAULT_HIGH_LINE_VOLTAGE,
		FAULT_SUPPLY_CONNECTION_BAD, FAULT_PHASE_LOST,
		FAULT_CONTACTOR_WELDED, FAULT_COMPRESSOR_CAPACITOR_FAILED, FAULT_FAN_CAPACITOR_FAILED,
		FAULT_BLOWER_CAPACITOR_FAILED, FAULT_WINDING_OPEN_RUN, FAULT_WINDING_OPEN_START,
		FAULT_WINDING_OPEN_COMMON, FAULT_WINDING_OPEN_PHASE, FAULT_WINDING_SHORTED,
		FAULT_COMPRESSOR_LEAD_OPEN, FAULT_LOCKED_ROTOR, FAULT_FAN_MOTOR_FAILED,
		FAULT_BLOWER_MOTOR_FAILED, FAULT_ECM_MODULE_FAILED, FAULT_BLOWER_FEED_OPEN,
	};

	for (int f = FAULT_NONE + 1; f < FAULT_COUNT; f++) {
		enum fault fault = (enum fault)f;
		enum meanwhile wanted = is_among(use, sizeof use / sizeof *use, fault) ? MEANWHILE_USE :
		                        is_among(cool, sizeof cool / sizeof *cool, fault) ? MEANWHILE_COOL :
		                        is_among(off, sizeof off / sizeof *off, fault) ? MEANWHILE_OFF :
		                        fault == FAULT_ROTATION_REVERSED ? MEANWHILE_STOP :
		                        MEANWHILE_UNSAID;
		ck_assert_msg(fault_info(fault)->meanwhile == wanted, "%s", fault_info(fault)->key);
	}
}
END_TEST

START_TEST(causes_of_a_fault_are_other_faults)
{
	const struct fault_info *info = fault_info((enum fault)_i);

	for (int i = 0; i < FAULT_MOST_CAUSES && info->causes[i] != FAULT_NONE; i++) {
		ck_assert_int_ne(info->causes[i], _i);
		/* Nothing is brought about by what it brings about. */
		const enum fault *back = fault_info(info->causes[i])->causes;
		for (int k = 0; k < FAULT_MOST_CAUSES; k++)
			ck_assert_int_ne(back[k], _i);
	}
}
END_TEST

/* Common practice: a switch that opened is reset by waiting; bridging it removes the protection. */
START_TEST(safety_switches_are_never_bridged)
{
	static const enum fault opened[] = {
		FAULT_FLOAT_SWITCH_OPEN, FAULT_HIGH_PRESSURE_SWITCH_OPEN, FAULT_LOW_PRESSURE_SWITCH_OPEN,
		FAULT_OVERLOAD_OPEN,
	};
	const struct fault_info *info = fault_info(opened[_i]);

	ck_assert_ptr_nonnull(strstr(info->caution, "Never bridge"));
	if (opened[_i] != FAULT_OVERLOAD_OPEN)
		ck_assert_int_ne(info->causes[0], FAULT_NONE);
}
END_TEST

START_TEST(grades_are_words)
{
	char out[32];

	ck_assert_str_eq(figure_word(FIGURE_INSULATION_GRADE, 0), "below floor");
	ck_assert_ptr_null(figure_word(FIGURE_SUPERHEAT, 3));
	figure_format(FIGURE_SUPERHEAT, 21, UNITS_US, VALUE_FORM_WITH_UNIT, out, sizeof out);
	ck_assert_str_eq(out, "21.0 °F");
	figure_format(FIGURE_SUPERHEAT, 18, UNITS_SI, VALUE_FORM_WITH_UNIT, out, sizeof out);
	ck_assert_str_eq(out, "10.0 K");
}
END_TEST

START_TEST(a_verdict_never_claims_more_than_the_meter)
{
	struct expectation wanted = { .known = true, .low = 3, .high = 13, .source = "" };

	ck_assert_int_eq(expectation_judge(&wanted, 8, 1.4), BAND_INSIDE);
	ck_assert_int_eq(expectation_judge(&wanted, 14, 1.4), BAND_AMBIGUOUS);
	ck_assert_int_eq(expectation_judge(&wanted, 21, 1.4), BAND_HIGH);
	ck_assert_int_eq(expectation_judge(&wanted, 2, 1.4), BAND_AMBIGUOUS);
	ck_assert_int_eq(expectation_judge(&wanted, NAN, 1.4), BAND_UNKNOWN);
}
END_TEST

START_TEST(a_capacitor_is_held_to_the_tolerance_on_its_can)
{
	struct visit visit;
	struct figure_set set = { 0 };
	struct value value;
	struct error error;

	visit_init(&visit);
	struct expectation wanted = figure_expect(&visit, STAGE_AS_FOUND, &set,
	                                          FIGURE_COMPRESSOR_CAPACITOR_DEVIATION);
	/* 6 % when the can does not say: common practice. */
	ck_assert(wanted.known && wanted.low == -6 && wanted.high == 6);
	ck_assert(reading_parse(READING_CAPACITOR_TOLERANCE, "5", UNITS_US, &value, &error) == STATUS_OK);
	visit_set(&visit, STAGE_AS_FOUND, READING_CAPACITOR_TOLERANCE, &value);
	wanted = figure_expect(&visit, STAGE_AS_FOUND, &set, FIGURE_COMPRESSOR_CAPACITOR_DEVIATION);
	ck_assert(wanted.low == -5);
}
END_TEST

Suite *tables_suite(void)
{
	Suite *suite = suite_create("tables");
	TCase *tests = tcase_create("tables");

	tcase_add_loop_test(tests, every_figure_row_is_whole, 1, FIGURE_COUNT);
	tcase_add_test(tests, a_figure_and_its_spread_are_in_the_readers_units);
	tcase_add_test(tests, no_more_digits_than_the_meters_show);
	tcase_add_loop_test(tests, every_step_row_is_whole, 0, STEP_COUNT);
	tcase_add_loop_test(tests, every_fault_row_is_whole, 1, FAULT_COUNT);
	tcase_add_loop_test(tests, a_fault_is_as_frequent_as_is_known, 0,
	                    (int)(sizeof shares / sizeof *shares));
	tcase_add_test(tests, no_fault_is_unheard_of_or_behind_every_call);
	tcase_add_test(tests, what_trips_a_breaker_draws_too_much);
	tcase_add_test(tests, whose_repair_moves_line_leads);
	tcase_add_test(tests, what_must_stay_off_names_its_shell);
	tcase_add_test(tests, what_may_run_until_it_is_repaired);
	tcase_add_loop_test(tests, causes_of_a_fault_are_other_faults, 1, FAULT_COUNT);
	tcase_add_loop_test(tests, safety_switches_are_never_bridged, 0, 4);
	tcase_add_loop_test(tests, expectations_are_what_the_sources_say, 0,
	                    sizeof expectations / sizeof *expectations);
	tcase_add_test(tests, common_amps_of_a_silent_compressor_are_not_judged);
	tcase_add_test(tests, grades_are_words);
	tcase_add_test(tests, a_verdict_never_claims_more_than_the_meter);
	tcase_add_test(tests, the_evaporator_is_expected_colder_with_less_air);
	tcase_add_test(tests, a_capacitor_is_held_to_the_tolerance_on_its_can);
	suite_add_tcase(suite, tests);
	return suite;
}
