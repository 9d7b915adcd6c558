/* Every row of the catalogue, and typing as technicians type. */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/catalog/catalog.h>
#include <padside/base/quantities.h>
#include <padside/base/text.h>

Suite *catalog_suite(void);

static struct value typed(enum reading reading, const char *text)
{
	struct value value = { .state = VALUE_NOT_TAKEN };
	struct error error = { .text = "" };

	enum status status = reading_parse(reading, text, UNITS_US, &value, &error);
	ck_assert_msg(status == STATUS_OK, "%s \"%s\": %s", reading_info(reading)->key, text, error.text);
	return value;
}

static void assert_refused(enum reading reading, const char *text, const char *wanted)
{
	struct value value = { .state = VALUE_TAKEN, .number = 7 };
	struct error error = { .text = "" };

	ck_assert(reading_parse(reading, text, UNITS_US, &value, &error) != STATUS_OK);
	ck_assert_msg(strstr(error.text, wanted) != NULL, "%s", error.text);
	ck_assert_double_eq(value.number, 7);
}

START_TEST(every_row_is_whole)
{
	const struct reading_info *info = reading_info((enum reading)_i);

	ck_assert_int_eq(reading_from_key(info->key), _i);
	ck_assert_int_le(text_columns(info->label), 26);
	ck_assert(info->help[strlen(info->help) - 1] == '.');
	bool number = info->kind == KIND_NUMBER || info->kind == KIND_RESISTANCE;
	ck_assert(number == (info->hard.low < info->hard.high));
	ck_assert(number == (info->plausible.low < info->plausible.high));
	if (number)
		ck_assert(info->hard.low <= info->plausible.low && info->plausible.high <= info->hard.high);
	ck_assert((info->kind == KIND_CHOICE) == (info->choices != CHOICES_NONE));
}
END_TEST

/* How it is taken, what it should be, what it tells: enough words for each, and few enough to read. */
START_TEST(every_reading_of_a_call_says_what_it_tells)
{
	const struct reading_info *info = reading_info((enum reading)_i);
	enum { FEWEST = 40, MOST = 160 };
	char tells[QUANTITIES_SIZE];

	ck_assert(strlen(info->help) >= 20 || info->scope != SCOPE_CALL);
	if (info->scope != SCOPE_CALL || info->step == STEP_SAFETY) {
		ck_assert_ptr_null(info->tells);
		return;
	}
	ck_assert_msg(info->tells != NULL, "%s", info->key);
	for (int units = 0; units < UNIT_SYSTEM_COUNT; units++) {
		quantities_write(info->tells, (enum unit_system)units, tells, sizeof tells);
		ck_assert_msg(text_columns(tells) >= FEWEST && text_columns(tells) <= MOST, "%s: %d",
		              info->key, text_columns(tells));
	}
	ck_assert_msg(info->tells[strlen(info->tells) - 1] == '.', "%s", info->key);
	ck_assert_msg(strcmp(info->tells, info->help) != 0, "%s", info->key);
}
END_TEST

/* What a table says is put into the reader's units: it names a unit only where that is typed. */
START_TEST(what_a_reading_says_is_in_either_system)
{
	static const char *const units[] = { "°F", "°C", "cfm", "L/s", "w.c.", " lb", " oz", "psi" };
	const struct reading_info *info = reading_info((enum reading)_i);
	char both[QUANTITIES_SIZE], us[QUANTITIES_SIZE], si[QUANTITIES_SIZE];

	const char *texts[] = { info->help, info->tells ? info->tells : "" };
	for (size_t i = 0; i < 2; i++) {
		for (size_t unit = 0; unit < sizeof units / sizeof *units; unit++)
			ck_assert_msg(!strstr(texts[i], units[unit]), "%s", texts[i]);
		quantities_write_both(texts[i], both, sizeof both);
		quantities_write(texts[i], UNITS_US, us, sizeof us);
		quantities_write(texts[i], UNITS_SI, si, sizeof si);
		ck_assert((strcmp(us, si) == 0) == (strcmp(us, both) == 0));
	}
}
END_TEST

/* parse -> exact text -> parse gives the same value to the last bit. */
START_TEST(every_row_round_trips)
{
	const struct reading_info *info = reading_info((enum reading)_i);
	enum reading reading = (enum reading)_i;
	struct error error;
	struct value value, back;
	char text[VALUE_TEXT_SIZE];

	if (info->kind == KIND_CHOICE)
		value = typed(reading, choice_label(choice_first(info->choices)));
	else if (info->kind == KIND_YES_NO)
		value = typed(reading, "y");
	else if (info->kind == KIND_TEXT)
		value = typed(reading, "AB-12/x");
	else if (info->kind == KIND_DATE)
		value = typed(reading, "2031-06-30");
	else
		ck_assert(reading_from_number(reading, info->plausible.low + (info->plausible.high -
		          info->plausible.low) / 3, UNITS_US, &value, &error) == STATUS_OK);
	reading_format_exact(reading, &value, text, sizeof text);
	back = typed(reading, text);
	ck_assert_int_eq(back.state, VALUE_TAKEN);
	ck_assert_double_eq(back.number, value.number);
	ck_assert_int_eq(back.choice, value.choice);
	ck_assert_str_eq(back.text, value.text);
	/* What the sheet shows in either system of units can be typed back. */
	for (int system = UNITS_US; system < UNIT_SYSTEM_COUNT; system++) {
		reading_format(reading, &value, (enum unit_system)system, VALUE_FORM_WITH_UNIT, text, sizeof text);
		ck_assert_msg(reading_parse(reading, text, (enum unit_system)system, &back, &error) == STATUS_OK,
		              "%s: %s", text, error.text);
	}
	if (info->kind == KIND_RESISTANCE)
		ck_assert_int_eq(typed(reading, "OL").state, VALUE_OVER_LIMIT);
	ck_assert_int_eq(typed(reading, "  ").state, VALUE_NOT_TAKEN);
}
END_TEST

START_TEST(shorthand_is_understood)
{
	ck_assert_double_eq_tol(typed(READING_SUCTION_PRESSURE, "4.1 bar").number, 59.4655, 1e-3);
	ck_assert_double_eq_tol(typed(READING_OUTDOOR_DB, "12 C").number, 53.6, 1e-9);
	ck_assert_double_eq_tol(typed(READING_SUCTION_LINE_TEMP, "4.5 °C").number, 40.1, 1e-9);
	ck_assert_double_eq(typed(READING_LINE_VOLTAGE, "230v").number, 230);
	ck_assert_double_eq(typed(READING_SUCTION_LINE_OD, "7/8").number, 0.875);
	ck_assert_double_eq(typed(READING_SUCTION_LINE_OD, "1 1/8\"").number, 1.125);
	ck_assert_double_eq(typed(READING_FACTORY_CHARGE, "6 lb").number, 96);
	ck_assert_int_eq(typed(READING_COMMON_RUN_RESISTANCE, "ol").state, VALUE_OVER_LIMIT);
	ck_assert_int_eq(typed(READING_COMMON_RUN_RESISTANCE, "O.L").state, VALUE_OVER_LIMIT);
	ck_assert_double_eq_tol(typed(READING_COMPRESSOR_GROUND_RESISTANCE, "500k").number, 0.5, 1e-12);
	ck_assert_double_eq(typed(READING_COMMON_RUN_RESISTANCE, "2M").number, 2e6);
	ck_assert_int_eq(typed(READING_REFRIGERANT, "410a").choice, CHOICE_REFRIGERANT_R410A);
	ck_assert_int_eq(typed(READING_REFRIGERANT, "r22").choice, CHOICE_REFRIGERANT_R22);
	ck_assert_int_eq(typed(READING_METERING, "fix").choice, CHOICE_METERING_FIXED_ORIFICE);
	ck_assert_int_eq(typed(READING_METERING, "t").choice, CHOICE_METERING_TXV);
	ck_assert_double_eq(typed(READING_DISCONNECT_LOCKED, "Y").number, 1);
	ck_assert_double_eq(typed(READING_DISCONNECT_LOCKED, "no").number, 0);
}
END_TEST

/* Weights as the nameplate gives them. */
START_TEST(pounds_and_ounces_are_one_weight)
{
	ck_assert_double_eq(typed(READING_FACTORY_CHARGE, "6 lb 8 oz").number, 104);
	ck_assert_double_eq(typed(READING_FACTORY_CHARGE, "6lb8oz").number, 104);
	ck_assert_double_eq(typed(READING_FACTORY_CHARGE, "6 LB 8.5 OZ").number, 104.5);
	ck_assert_double_eq(typed(READING_FACTORY_CHARGE, "6.5 lb").number, 104);
	ck_assert_double_eq_tol(typed(READING_FACTORY_CHARGE, "2 kg 948 g").number, 103.988, 1e-3);
	assert_refused(READING_FACTORY_CHARGE, "8 oz 6 lb", "not a unit of factory charge");
	assert_refused(READING_FACTORY_CHARGE, "6 lb 8", "not a unit of factory charge");
	assert_refused(READING_FACTORY_CHARGE, "6 poundsandpoundsandpoundsandpoundsandpounds 8 oz",
	               "not a unit of factory charge");
	assert_refused(READING_OUTDOOR_DB, "5 C 4 F", "not a unit of outdoor dry bulb");
}
END_TEST

START_TEST(trade_words_are_taken_for_choices)
{
	ck_assert_int_eq(typed(READING_METERING, "piston").choice, CHOICE_METERING_FIXED_ORIFICE);
	ck_assert_int_eq(typed(READING_METERING, "orifice").choice, CHOICE_METERING_FIXED_ORIFICE);
	ck_assert_int_eq(typed(READING_METERING, "exp valve").choice, CHOICE_METERING_TXV);
	ck_assert_int_eq(typed(READING_METERING, "expansion").choice, CHOICE_METERING_TXV);
	ck_assert_int_eq(typed(READING_METERING, "TEV").choice, CHOICE_METERING_TXV);
	ck_assert_int_eq(typed(READING_METERING, "ex").choice, CHOICE_METERING_EXV);
	ck_assert_int_eq(typed(READING_METERING, "cap").choice, CHOICE_METERING_CAPILLARY);
	ck_assert_int_eq(typed(READING_SYSTEM_KIND, "heat pump").choice,
	                 CHOICE_SYSTEM_KIND_SPLIT_HEAT_PUMP);
	ck_assert_int_eq(typed(READING_SYSTEM_KIND, "mini split").choice, CHOICE_SYSTEM_KIND_DUCTLESS);
	ck_assert_int_eq(typed(READING_CONTROL_FUSE, "blown").choice, CHOICE_FUSE_OPEN);
	ck_assert_int_eq(typed(READING_COIL_CONDITION, "frozen").choice, CHOICE_COIL_ICED);
	assert_refused(READING_SYSTEM_KIND, "split", "begins several: split (cooling only), split heat pump; type more");
	/* Both kinds of motor with a module are called so in the trade: which it is decides how it is called. */
	assert_refused(READING_BLOWER_MOTOR_TYPE, "ecm",
	               "\"ecm\" may be each of these: constant torque, constant airflow; type which");
	/* A beginning of another name of it is enough to be offered. */
	assert_refused(READING_BLOWER_MOTOR_TYPE, "ec",
	               "\"ec\" may be each of these: constant torque, constant airflow; type which");
}
END_TEST

/* 12 kΩ read as 0.01 MΩ hides a dead short behind a rounded number. */
START_TEST(a_small_resistance_keeps_its_digits)
{
	static const struct { enum reading reading; const char *typed, *with_unit, *sheet; } cases[] = {
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "12k", "12.0 kΩ", "0.0120" },
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "0.012", "12.0 kΩ", "0.0120" },
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "450 k", "450 kΩ", "0.450" },
		/* Each unit from its own size on. */
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "1 k", "1.00 kΩ", "0.00100" },
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "1.1 k", "1.10 kΩ", "0.00110" },
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "80 ohm", "80.0 Ω", "0.0000800" },
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "20", "20.00 MΩ", "20.00" },
		{ READING_COMPRESSOR_GROUND_RESISTANCE, "0", "0.00 MΩ", "0.00" },
		{ READING_COMMON_RUN_RESISTANCE, "1.1", "1.10 Ω", "1.10" },
		{ READING_COMMON_RUN_RESISTANCE, "12k", "12.0 kΩ", "12000.00" },
		{ READING_COMMON_RUN_RESISTANCE, "2M", "2.00 MΩ", "2000000.00" },
	};
	char shown[64];

	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct value value = typed(cases[i].reading, cases[i].typed);
		reading_format(cases[i].reading, &value, UNITS_US, VALUE_FORM_WITH_UNIT, shown, sizeof shown);
		ck_assert_str_eq(shown, cases[i].with_unit);
		reading_format(cases[i].reading, &value, UNITS_US, VALUE_FORM_SHEET, shown, sizeof shown);
		ck_assert_str_eq(shown, cases[i].sheet);
	}
}
END_TEST

/* A can says 45/5 and a sling 76/64: two values, one for each place.  A pipe of 3/8 in. is one. */
START_TEST(two_values_are_asked_apart)
{
	assert_refused(READING_COMPRESSOR_CAPACITOR_RATED, "45/5", "is two values");
	assert_refused(READING_COMPRESSOR_CAPACITOR_RATED, "45/15", "is two values");
	assert_refused(READING_COMPRESSOR_CAPACITANCE, "44/2 uF", "is two values");
	assert_refused(READING_RETURN_DB, "76/64", "is two values");
	assert_refused(READING_RETURN_DB, "76/64 F", "return dry bulb");
	ck_assert_double_eq_tol(typed(READING_LIQUID_LINE_OD, "3/8").number, 0.375, 1e-12);
	ck_assert_double_eq_tol(typed(READING_SUCTION_LINE_OD, "1 1/8").number, 1.125, 1e-12);
	ck_assert_double_eq_tol(typed(READING_SUCTION_LINE_OD, "5/5").number, 1, 1e-12);
	assert_refused(READING_FAN_CAPACITOR_RATED, "5/1", "is two values");
	/* Something else behind a stroke is no second value. */
	assert_refused(READING_RETURN_DB, "76/", "is not a unit");
	assert_refused(READING_RETURN_DB, "76/x", "is not a unit");
}
END_TEST

START_TEST(a_warranty_day_is_a_day)
{
	ck_assert_str_eq(typed(READING_WARRANTY_UNTIL, "2031-06-30").text, "2031-06-30");
	assert_refused(READING_WARRANTY_UNTIL, "next year", "a day as 2031-06-30");
	assert_refused(READING_WARRANTY_UNTIL, "2031-02-30", "a day as 2031-06-30");
}
END_TEST

START_TEST(every_instrument_row_is_whole)
{
	const struct instrument_info *info = instrument_info((enum instrument)_i);
	bool used = false;

	ck_assert_int_eq(instrument_from_key(info->key), _i);
	ck_assert(*info->label && info->accuracy.absolute >= 0 && info->accuracy.percent >= 0);
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->instrument == (enum instrument)_i) {
			enum unit unit = reading_info((enum reading)i)->unit;
			used = true;
			ck_assert(unit == info->unit || (unit == UNIT_F && info->unit == UNIT_F_DIFF));
		}
	ck_assert_msg(used, "%s", info->key);
}
END_TEST

/*
 * What data sheets of field instruments promise at a usual reading, from memory: multimeters 0.5 to
 * 1 % and 3 digits, clamps 2 % and 5, capacitance 2 to 3 % and 5; insulation 3 to 5 % and 5;
 * manifolds 0.5 to 1 % of 150 or 500 psi; thermistors and pipe clamps 0.5 to 2 °F, spots of
 * infrared 2 % or 4 °F; hygrometers 2 to 3.5 %; manometers 1 to 2 % and a digit of 0.01 in.; hoods and
 * grids 3 to 7 % and 7 to 25 cfm.
 */
static const struct {
	enum instrument instrument;
	double reading, least, most; /* usual reading; the ± of it */
} sheets[] = {
	{ INSTRUMENT_VOLTMETER, 240, 1.5, 4 }, { INSTRUMENT_VOLTMETER_24, 25, 0.2, 0.8 },
	{ INSTRUMENT_VOLTMETER_LOW, 0.5, 0.01, 0.04 }, { INSTRUMENT_VOLTMETER_HOLD, 200, 3, 8 },
	{ INSTRUMENT_OHMMETER, 4, 0.08, 0.3 }, { INSTRUMENT_INSULATION_TESTER, 10, 0.3, 0.8 },
	{ INSTRUMENT_CAPACITANCE_METER, 45, 0.9, 1.9 }, { INSTRUMENT_CAPACITANCE_METER_LOW, 5, 0.1, 0.3 },
	{ INSTRUMENT_CLAMP_METER, 40, 0.6, 1.3 }, { INSTRUMENT_CLAMP_METER_LOW, 10, 0.15, 0.4 },
	{ INSTRUMENT_CLAMP_METER_PEAK, 80, 2, 6 }, { INSTRUMENT_STOPWATCH, 5, 0.2, 0.5 },
	{ INSTRUMENT_WATCH, 20, 0.5, 1.5 }, { INSTRUMENT_POWER_METER, 3, 0.05, 0.12 },
	{ INSTRUMENT_POWER_FACTOR_METER, 0.9, 0.02, 0.04 }, { INSTRUMENT_LOW_SIDE_GAUGE, 120, 0.75, 2 },
	{ INSTRUMENT_HIGH_SIDE_GAUGE, 350, 2.5, 6 }, { INSTRUMENT_PIPE_THERMOMETER, 50, 0.8, 2 },
	{ INSTRUMENT_PIPE_THERMOMETER_PAIR, 50, 0.3, 0.9 },
	{ INSTRUMENT_SURFACE_THERMOMETER, 170, 1.5, 4 }, { INSTRUMENT_INFRARED_THERMOMETER, 100, 2, 5 },
	{ INSTRUMENT_AIR_THERMOMETER, 75, 0.5, 1.5 }, { INSTRUMENT_AIR_THERMOMETER_PAIR, 20, 0.9, 2 },
	{ INSTRUMENT_WET_BULB_THERMOMETER, 63, 0.8, 2 }, { INSTRUMENT_HYGROMETER, 50, 2, 3.5 },
	{ INSTRUMENT_MANOMETER, 0.5, 0.012, 0.03 }, { INSTRUMENT_FLOW_HOOD, 1200, 45, 100 },
	{ INSTRUMENT_CAPACITY_BY_OTHER_METHOD, 36000, 2500, 5400 },
};

START_TEST(an_instrument_is_as_good_as_its_data_sheet)
{
	struct accuracy accuracy = instrument_info(sheets[_i].instrument)->accuracy;
	double plus_minus = accuracy.absolute + accuracy.percent / 100 * sheets[_i].reading;

	ck_assert_msg(plus_minus >= sheets[_i].least && plus_minus <= sheets[_i].most, "%s: %g",
	              instrument_info(sheets[_i].instrument)->key, plus_minus);
}
END_TEST

START_TEST(every_instrument_has_its_data_sheet)
{
	for (int i = INSTRUMENT_NONE + 1; i < INSTRUMENT_COUNT; i++) {
		size_t at = 0;
		while (at < sizeof sheets / sizeof *sheets && sheets[at].instrument != (enum instrument)i)
			at++;
		ck_assert_msg(at < sizeof sheets / sizeof *sheets, "%s", instrument_info((enum instrument)i)->key);
	}
}
END_TEST

/* One's own meters: the ± of a reading follows, and goes back. */
START_TEST(an_instrument_is_as_good_as_it_is_set)
{
	struct accuracy accuracy = { 0, 0 };
	struct error error;
	char text[64];

	ck_assert_double_eq_tol(reading_accuracy(READING_LINE_VOLTAGE, 240), 2.9, 1e-9);
	ck_assert(accuracy_parse(INSTRUMENT_VOLTMETER, "0.3 V + 0.5 %", &accuracy, &error) == STATUS_OK);
	ck_assert(instrument_set_accuracy(INSTRUMENT_VOLTMETER, accuracy) == STATUS_OK);
	ck_assert_double_eq_tol(reading_accuracy(READING_LINE_VOLTAGE, 240), 1.5, 1e-9);
	ck_assert_double_eq_tol(reading_accuracy(READING_COMMON_AMPS, 10), 0.3, 1e-9);
	accuracy_format(INSTRUMENT_VOLTMETER, accuracy, text, sizeof text);
	ck_assert_str_eq(text, "0.3 V + 0.5 %");
	instruments_reset();
	ck_assert_double_eq_tol(reading_accuracy(READING_LINE_VOLTAGE, 240), 2.9, 1e-9);
	ck_assert(accuracy_parse(INSTRUMENT_PIPE_THERMOMETER, "0.5 C", &accuracy, &error) == STATUS_OK);
	ck_assert_double_eq_tol(accuracy.absolute, 0.9, 1e-9);
	ck_assert(accuracy_parse(INSTRUMENT_CLAMP_METER, "1.5%", &accuracy, &error) == STATUS_OK);
	ck_assert(accuracy.absolute < 1e-12 && accuracy.percent > 1.49);
	ck_assert(accuracy_parse(INSTRUMENT_CLAMP_METER, "good", &accuracy, &error) != STATUS_OK);
	ck_assert_ptr_nonnull(strstr(error.text, "given as 0.1 A + 2 %"));
	ck_assert(accuracy_parse(INSTRUMENT_CLAMP_METER, "-1", &accuracy, &error) != STATUS_OK);
	ck_assert(instrument_set_accuracy(INSTRUMENT_CLAMP_METER, (struct accuracy){ -1, 0 }) ==
	          STATUS_NEGATIVE);
}
END_TEST

/* As data sheets write it: either term first, alone, with or without spaces. */
START_TEST(an_accuracy_is_read_as_data_sheets_write_it)
{
	static const struct {
		const char *typed;
		double absolute, percent;
	} rows[] = {
		{ "0.3 V + 0.5 %", 0.3, 0.5 }, { "0.5 % + 0.3 V", 0.3, 0.5 }, { "0.3V+0.5%", 0.3, 0.5 },
		{ "0.3", 0.3, 0 }, { "0.5 %", 0, 0.5 }, { "0.3 V ", 0.3, 0 }, { "0.5 % ", 0, 0.5 },
		{ "300 mV", 0.3, 0 }, { "0.1 V + 0.2 V + 1 % + 1 %", 0.3, 2 },
	};
	static const char *const refused[] = { "", "+", "0.3 V +", "%", "0.3 A", "0.3 x", "0.5 %%" };
	struct accuracy accuracy;
	struct error error;

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_msg(accuracy_parse(INSTRUMENT_VOLTMETER, rows[i].typed, &accuracy, &error) ==
		              STATUS_OK, "\"%s\": %s", rows[i].typed, error.text);
		ck_assert_double_eq_tol(accuracy.absolute, rows[i].absolute, 1e-9);
		ck_assert_double_eq_tol(accuracy.percent, rows[i].percent, 1e-9);
	}
	for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
		accuracy = (struct accuracy){ 7, 8 };
		ck_assert_msg(accuracy_parse(INSTRUMENT_VOLTMETER, refused[i], &accuracy, &error) != STATUS_OK,
		              "\"%s\"", refused[i]);
		ck_assert_double_eq(accuracy.absolute, 7);
		ck_assert_double_eq(accuracy.percent, 8);
	}
}
END_TEST

START_TEST(what_cannot_be_kept_is_refused_with_its_limit)
{
	assert_refused(READING_SUCTION_PRESSURE, "6000", "-14.6 to 600 psig");
	assert_refused(READING_SUCTION_PRESSURE, "OL", "takes a number in psig");
	assert_refused(READING_SUCTION_PRESSURE, "12 F", "not a unit of suction pressure");
	assert_refused(READING_OUTDOOR_DB, "eighty", "is not a number");
	assert_refused(READING_METERING, "c4", "none of fixed orifice");
	assert_refused(READING_REFRIGERANT, "R", "begins several: R-22");
	assert_refused(READING_REFRIGERANT, "R-4", "begins several: R-410A, R-454B, R-407C, R-404A; type");
	assert_refused(READING_BREAKER_TRIPPED, "maybe", "yes or no");
	assert_refused(READING_MODEL, "0123456789 123456789 123456789 123456789 123456789 123456789 1234",
	               "takes at most 63 characters");
}
END_TEST

START_TEST(an_unlikely_reading_is_kept_and_marked)
{
	struct value value = typed(READING_SUCTION_PRESSURE, "5");
	char question[120];

	ck_assert(value.doubtful);
	ck_assert(!typed(READING_SUCTION_PRESSURE, "118").doubtful);
	reading_doubt(READING_SUCTION_PRESSURE, UNITS_US, question, sizeof question);
	ck_assert_str_eq(question, "usually 15 to 300 psig: is the meter right?");
	/* A year has no unit, and no blank for one. */
	reading_doubt(READING_MANUFACTURE_YEAR, UNITS_US, question, sizeof question);
	ck_assert_ptr_nonnull(strstr(question, "2030: is what is typed right?"));
}
END_TEST

/* 105 V between two phases was put down to the meter, beside the finding that a leg is lost. */
START_TEST(few_volts_between_phases_ask_for_a_lost_leg_too)
{
	static const enum reading pairs[] = {
		READING_LINE_VOLTAGE_AB, READING_LINE_VOLTAGE_BC, READING_LINE_VOLTAGE_CA,
	};
	char question[120];

	for (int i = 0; i < 3; i++) {
		reading_doubt(pairs[i], UNITS_US, question, sizeof question);
		ck_assert_str_eq(question, "usually 180 to 520 V: is the meter right, or is a leg lost?");
	}
}
END_TEST

/* A single-phase load that is connected reads about 0 across with one pole open, and 120 V to ground. */
START_TEST(the_load_side_warns_that_each_side_may_be_live)
{
	ck_assert_ptr_nonnull(strstr(reading_info(READING_LOAD_SIDE_VOLTAGE)->help,
		"0 or half: a pole or leg is open; each side may be live to ground."));
}
END_TEST

START_TEST(si_is_typed_and_shown)
{
	struct value value;
	struct error error;
	char shown[64];

	ck_assert(reading_parse(READING_OUTDOOR_DB, "35", UNITS_SI, &value, &error) == STATUS_OK);
	ck_assert_double_eq_tol(value.number, 95, 1e-9);
	reading_format(READING_OUTDOOR_DB, &value, UNITS_SI, VALUE_FORM_WITH_UNIT, shown, sizeof shown);
	ck_assert_str_eq(shown, "35.0 °C");
	ck_assert(reading_parse(READING_SUCTION_PRESSURE, "814 kPa", UNITS_SI, &value, &error) == STATUS_OK);
	reading_format(READING_SUCTION_PRESSURE, &value, UNITS_SI, VALUE_FORM_PLAIN, shown, sizeof shown);
	ck_assert_str_eq(shown, "814 kPa");
}
END_TEST

START_TEST(cautions_stand_where_leads_are_touched)
{
	enum condition condition;

	ck_assert_ptr_nonnull(strstr(step_caution(STEP_WINDINGS, 1, &condition), "blow out"));
	for (int i = 0; i < 99; i++)
		if (!step_caution(STEP_REFRIGERANT, i, &condition)) {
			ck_assert_int_eq(i, 6);
			break;
		} else if (condition == CONDITION_FLAMMABLE) {
			const struct condition_test *test = condition_test(condition, 0);
			ck_assert(condition_test_accepts(test, CHOICE_REFRIGERANT_R454B));
			ck_assert(!condition_test_accepts(test, CHOICE_REFRIGERANT_R410A));
			ck_assert_ptr_null(condition_test(condition, 1));
		}
}
END_TEST

/* The usual cautions of makers' manuals, each where the work is. */
static const struct {
	enum step step;
	const char *words;
} usual[] = {
	{ STEP_WORK, "nitrogen through a regulator" }, { STEP_WORK, "Never oxygen, compressed air" },
	{ STEP_WORK, "Before any torch: recover" }, { STEP_WORK, "toxic gas in a flame" },
	{ STEP_WINDINGS, "in a vacuum: no power and no insulation test" },
	{ STEP_WORK, "no power to the compressor and no insulation test" },
	{ STEP_REFRIGERANT, "Never pump a scroll into a vacuum" },
	{ STEP_REFRIGERANT, "Never charge a flammable refrigerant into a unit not made for it" },
	{ STEP_REFRIGERANT, "not known: treat it as flammable" },
	{ STEP_REFRIGERANT, "do not top up without the maker's word" },
	{ STEP_ELECTRICAL, "live only where a measurement needs it" },
	{ STEP_ELECTRICAL, "break one line only" }, { STEP_ELECTRICAL, "never bridge it" },
	{ STEP_WINDINGS, "Take U, V, W off the drive" }, { STEP_WINDINGS, "Prove all three phases" }, { STEP_SAFETY, "DC bus stays dangerous" },
	{ STEP_SAFETY, "licence and the local code" },
	/* Common practice. */
	{ STEP_AIR, "melting ice can overflow the pan" },
	{ STEP_SAFETY, "leak sensor and its fan are off: keep the room aired" },
};

/* A unit without a contactor is not told of its poles (construction). */
START_TEST(poles_of_a_contactor_are_told_where_there_is_one)
{
	enum condition condition = CONDITION_NONE;
	const char *text;

	for (int i = 0; (text = step_caution(STEP_ELECTRICAL, i, &condition)) != NULL; i++)
		if (strstr(text, "break one line only"))
			break;
	ck_assert_ptr_nonnull(text);
	ck_assert_int_eq(condition, CONDITION_SINGLE_PHASE_CONTACTOR);
}
END_TEST

START_TEST(usual_cautions_stand_where_the_work_is)
{
	enum condition condition;
	const char *text;

	for (int i = 0; (text = step_caution(usual[_i].step, i, &condition)) != NULL; i++)
		if (strstr(text, usual[_i].words))
			return;
	ck_abort_msg("no caution says \"%s\"", usual[_i].words);
}
END_TEST

/* Found by random typing: a line end alone was kept as a text of one space. */
START_TEST(control_characters_alone_are_not_taken)
{
	ck_assert_int_eq(typed(READING_MODEL, "\n").state, VALUE_NOT_TAKEN);
	ck_assert_int_eq(typed(READING_SUCTION_PRESSURE, " \r\n\x7f").state, VALUE_NOT_TAKEN);
	struct value value = typed(READING_MODEL, "\033 A\n1 \n");
	ck_assert_str_eq(value.text, "A 1");
}
END_TEST

Suite *catalog_suite(void)
{
	Suite *suite = suite_create("catalog");
	TCase *tests = tcase_create("catalog");

	tcase_add_loop_test(tests, every_row_is_whole, 1, READING_COUNT);
	tcase_add_loop_test(tests, every_reading_of_a_call_says_what_it_tells, 1, READING_COUNT);
	tcase_add_loop_test(tests, what_a_reading_says_is_in_either_system, 1, READING_COUNT);
	tcase_add_loop_test(tests, every_row_round_trips, 1, READING_COUNT);
	tcase_add_test(tests, control_characters_alone_are_not_taken);
	tcase_add_loop_test(tests, every_instrument_row_is_whole, 1, INSTRUMENT_COUNT);
	tcase_add_test(tests, pounds_and_ounces_are_one_weight);
	tcase_add_test(tests, trade_words_are_taken_for_choices);
	tcase_add_test(tests, a_small_resistance_keeps_its_digits);
	tcase_add_test(tests, two_values_are_asked_apart);
	tcase_add_test(tests, a_warranty_day_is_a_day);
	tcase_add_loop_test(tests, an_instrument_is_as_good_as_its_data_sheet, 0,
	                    (int)(sizeof sheets / sizeof *sheets));
	tcase_add_test(tests, every_instrument_has_its_data_sheet);
	tcase_add_test(tests, an_instrument_is_as_good_as_it_is_set);
	tcase_add_test(tests, shorthand_is_understood);
	tcase_add_test(tests, an_accuracy_is_read_as_data_sheets_write_it);
	tcase_add_test(tests, what_cannot_be_kept_is_refused_with_its_limit);
	tcase_add_test(tests, an_unlikely_reading_is_kept_and_marked);
	tcase_add_test(tests, few_volts_between_phases_ask_for_a_lost_leg_too);
	tcase_add_test(tests, the_load_side_warns_that_each_side_may_be_live);
	tcase_add_test(tests, si_is_typed_and_shown);
	tcase_add_test(tests, cautions_stand_where_leads_are_touched);
	tcase_add_test(tests, poles_of_a_contactor_are_told_where_there_is_one);
	tcase_add_loop_test(tests, usual_cautions_stand_where_the_work_is, 0,
	                    sizeof usual / sizeof *usual);
	suite_add_tcase(suite, tests);
	return suite;
}
