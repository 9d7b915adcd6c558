/*
 * Electrical figures against published worked examples, standards and
 * physics; common practice is marked so.
 */
#include <check.h>
#include <math.h>

#include <padside/calc/electrical.h>

Suite *electrical_suite(void);

/*
 * Terminals named by trade textbooks' rule: largest reading is start–run, the
 * third terminal common, the smaller reading from common run.
 */
static const struct {
	double ohm_12, ohm_23, ohm_31;
	enum status status;
	int common, run, start;
} unmarked[] = {
	{ 3.5, 0.5, 3.0, STATUS_OK, 3, 2, 1 }, /* 3.0/0.5 Ω of a published procedure */
	{ 0.5, 3.0, 3.5, STATUS_OK, 2, 1, 3 },
	{ 3.0, 3.5, 0.5, STATUS_OK, 1, 3, 2 },
	{ 0.33, 4.33, 4.0, STATUS_OK, 1, 2, 3 }, /* 4.0/0.33 Ω of the same */
	{ 1.75, 0.5, 1.25, STATUS_OK, 3, 2, 1 }, /* 1.25/0.5 Ω of the same */
	{ 1.2, 1.2, 1.2, STATUS_WINDINGS_ALIKE, 0, 0, 0 },
	{ 1.2, 1.25, 1.22, STATUS_WINDINGS_ALIKE, 0, 0, 0 },
	{ 1.20, 1.15, 0.05, STATUS_TERMINALS_TOO_CLOSE, 0, 0, 0 },
	{ 3.0, 1.5, 1.5, STATUS_TERMINALS_TOO_CLOSE, 0, 0, 0 },
	{ 5.5, 0.5, 3.0, STATUS_WINDINGS_DO_NOT_ADD, 0, 0, 0 },
	{ INFINITY, 0.5, INFINITY, STATUS_OVER_LIMIT, 0, 0, 0 },
	{ -3.5, 0.5, 3.0, STATUS_NEGATIVE, 0, 0, 0 },
	{ NAN, 0.5, 3.0, STATUS_NOT_A_NUMBER, 0, 0, 0 },
};

START_TEST(terminals_are_named)
{
	struct terminals terminals = { 9, 9, 9 };

	ck_assert_int_eq(electrical_identify_terminals(unmarked[_i].ohm_12, unmarked[_i].ohm_23,
	                 unmarked[_i].ohm_31, &terminals), unmarked[_i].status);
	ck_assert_int_eq(terminals.common, unmarked[_i].common);
	ck_assert_int_eq(terminals.run, unmarked[_i].run);
	ck_assert_int_eq(terminals.start, unmarked[_i].start);
}
END_TEST

START_TEST(windings_add_up)
{
	double out, allowed;

	ck_assert_int_eq(electrical_winding_sum_error(0.5, 3.0, 3.6, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 0.1, 1e-12);
	ck_assert_int_eq(electrical_winding_sum_allowed(3.6, &allowed), STATUS_OK);
	ck_assert_double_eq_tol(allowed, 0.372, 1e-12); /* 2 % + 0.3 Ω of meter and leads */
	ck_assert_int_eq(electrical_winding_sum_error(INFINITY, 4, INFINITY, &out),
	                 STATUS_OVER_LIMIT);
	ck_assert(isnan(out));
}
END_TEST

/*
 * Sound reciprocating compressors: Danfoss NTZ selection guideline
 * FRCC.PC.002.A5, p. 10, 60 Hz and 50 Hz, 20 °C.  The last row is a partly
 * shorted winding of a published service procedure.
 */
static const struct {
	double start, run, ratio;
	int is_usual;
} ratios[] = {
	{ 4.16, 1.32, 3.2, 1 }, { 2.01, 0.94, 2.1, 1 }, { 1.84, 0.45, 4.1, 1 }, { 1.73, 0.36, 4.8, 1 },
	{ 3.95, 1.62, 2.4, 1 }, { 3.19, 1.05, 3.0, 1 }, { 4.0, 0.33, 12.1, 0 },
};

START_TEST(start_run_ratio_of_sound_motors_is_usual)
{
	double ratio;

	ck_assert_int_eq(electrical_start_run_ratio(ratios[_i].start, ratios[_i].run, &ratio),
	                 STATUS_OK);
	ck_assert_double_eq_tol(ratio, ratios[_i].ratio, 0.06);
	ck_assert_int_eq(ratio >= ELECTRICAL_START_RUN_LOW && ratio <= ELECTRICAL_START_RUN_HIGH,
	                 ratios[_i].is_usual);
}
END_TEST

/* What reads nothing is 100 % below its rating, and draws no share of it. */
START_TEST(nothing_is_a_reading_too)
{
	double out;

	ck_assert_int_eq(electrical_voltage_deviation(0, 230, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, -100, 1e-12);
	ck_assert_int_eq(electrical_capacitance_deviation(0, 45, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, -100, 1e-12);
	ck_assert_int_eq(electrical_voltage_deviation(230, 0, &out), STATUS_NOT_POSITIVE);
	ck_assert(isnan(out));
	ck_assert_int_eq(electrical_voltage_deviation(-1, 230, &out), STATUS_NEGATIVE);
}
END_TEST

/* Nothing is a share of no ohms at all. */
START_TEST(a_ratio_to_no_resistance_is_refused)
{
	double ratio = 1;

	ck_assert_int_eq(electrical_start_run_ratio(3, 0, &ratio), STATUS_NOT_POSITIVE);
	ck_assert(isnan(ratio));
	ck_assert_int_eq(electrical_start_run_ratio(0, 3, &ratio), STATUS_OK);
	ck_assert_double_eq(ratio, 0);
}
END_TEST

/* Physics: copper gains 0.393 % per °C at 20 °C (IEC 60028), so 39.3 % from 20 to 120 °C. */
START_TEST(copper_warms)
{
	double ohm;

	ck_assert_int_eq(electrical_resistance_at(1, 68, 248, &ohm), STATUS_OK);
	ck_assert_double_eq_tol(ohm, 1.393, 0.0005);
	ck_assert_int_eq(electrical_resistance_at(ohm, 248, 68, &ohm), STATUS_OK);
	ck_assert_double_eq_tol(ohm, 1, 1e-12);
	/* From -58 to 392 °F, both ends with it, on either side. */
	ck_assert_int_eq(electrical_resistance_at(1, 40, 68, &ohm), STATUS_OK);
	ck_assert_double_lt(ohm, 1.07);
	ck_assert_int_eq(electrical_resistance_at(1, -58, 392, &ohm), STATUS_OK);
	ck_assert_int_eq(electrical_resistance_at(1, 392, -58, &ohm), STATUS_OK);
	ck_assert_int_eq(electrical_resistance_at(1, -58.1, 68, &ohm), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(electrical_resistance_at(1, 68, 392.1, &ohm), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(electrical_resistance_at(1, 68, -500, &ohm), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(electrical_resistance_at(INFINITY, 68, 77, &ohm), STATUS_OVER_LIMIT);
	ck_assert(isnan(ohm));
}
END_TEST

/*
 * Emerson AE4-1294, p. 1: floor of 0.5 MΩ, a maker's own wins; one low reading
 * condemns nothing.  20 MΩ, and what an ohmmeter proves: common practice.
 */
static const struct {
	double megohm, floor, volts;
	enum insulation grade;
} insulation[] = {
	{ 0, 0.5, 500, INSULATION_BELOW_FLOOR }, { 0.49, 0.5, 500, INSULATION_BELOW_FLOOR },
	{ 0.5, 0.5, 500, INSULATION_WATCH }, { 0.6, 0.5, 500, INSULATION_WATCH }, { 5, 0.5, 500, INSULATION_WATCH },
	{ 19.9, 0.5, 500, INSULATION_WATCH }, { 20, 0.5, 500, INSULATION_GOOD },
	{ INFINITY, 0.5, 500, INSULATION_GOOD },
	{ 0.6, 1, 500, INSULATION_BELOW_FLOOR }, { 0.2, 0.1, 500, INSULATION_WATCH },
	{ INFINITY, 0.5, 9, INSULATION_NOT_PROVED }, { 30, 0.5, 9, INSULATION_NOT_PROVED },
	{ 0.1, 0.5, 9, INSULATION_BELOW_FLOOR }, { 30, 0.5, 100, INSULATION_GOOD },
	{ 30, 0.5, 99, INSULATION_NOT_PROVED },
};

START_TEST(insulation_is_graded_by_the_makers_floor)
{
	enum insulation grade;

	ck_assert_int_eq(electrical_insulation_grade(insulation[_i].megohm, insulation[_i].floor,
	                                             insulation[_i].volts, &grade), STATUS_OK);
	ck_assert_int_eq(grade, insulation[_i].grade);
}
END_TEST

START_TEST(insulation_refuses_what_is_no_reading)
{
	enum insulation grade;

	ck_assert_int_eq(electrical_insulation_grade(NAN, 0.5, 500, &grade), STATUS_NOT_A_NUMBER);
	ck_assert_int_eq(grade, INSULATION_COUNT);
	ck_assert_int_eq(electrical_insulation_grade(-1, 0.5, 500, &grade), STATUS_NEGATIVE);
	ck_assert_int_eq(electrical_insulation_grade(5, 0, 500, &grade), STATUS_NOT_POSITIVE);
}
END_TEST

/* The older correction of IEEE 43, as a table: x0.25 at 20 °C, 0.354, 0.5, 2, 4, 8 at 70 °C. */
static const struct {
	double celsius, factor;
} corrections[] = {
	{ 20, 0.25 }, { 25, 0.354 }, { 30, 0.5 }, { 40, 1 }, { 50, 2 }, { 60, 4 }, { 70, 8 },
};

START_TEST(insulation_halves_for_ten_degrees)
{
	double out;

	ck_assert_int_eq(electrical_insulation_at_40c(100, corrections[_i].celsius * 1.8 + 32, &out),
	                 STATUS_OK);
	ck_assert_double_eq_tol(out, 100 * corrections[_i].factor, 0.05);
	ck_assert_int_eq(electrical_insulation_at_40c(INFINITY, 80, &out), STATUS_OVER_LIMIT);
	ck_assert_int_eq(electrical_insulation_at_40c(1, -100, &out), STATUS_OUT_OF_RANGE);
}
END_TEST

START_TEST(capacitors)
{
	double out;

	ck_assert_int_eq(electrical_capacitance_deviation(27, 45, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, -40, 1e-12);
	/* The trade's rule: µF = 2652.6 A/V at 60 Hz (physics). */
	ck_assert_int_eq(electrical_capacitance_under_load(1, 1, 60, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 2652.6, 0.05);
	ck_assert_int_eq(electrical_capacitance_under_load(4.3, 330, 60, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 2652.6 * 4.3 / 330, 0.01);
	ck_assert_int_eq(electrical_capacitance_under_load(1, 1, 50, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 3183.1, 0.05);
	ck_assert_int_eq(electrical_capacitance_under_load(4.3, 0, 60, &out), STATUS_NOT_POSITIVE);
	ck_assert(isnan(out));
	ck_assert_int_eq(electrical_capacitance_under_load(4.3, 330, 400, &out),
	                 STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(electrical_capacitance_deviation(27, 0, &out), STATUS_NOT_POSITIVE);
	ck_assert(isnan(out));
}
END_TEST

START_TEST(supply_voltage)
{
	double out;

	ck_assert_int_eq(electrical_voltage_deviation(207, 230, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, -10, 1e-12);
	ck_assert_int_eq(electrical_starting_sag(240, 204, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 15, 1e-12);
	ck_assert_int_eq(electrical_starting_sag(0, 204, &out), STATUS_NOT_POSITIVE);
	ck_assert(isnan(out));
}
END_TEST

/* Worked examples: of the standard, second-hand, and of SymCom 201-575, p. 5. */
START_TEST(unbalance_of_the_published_examples)
{
	double percent;

	ck_assert_int_eq(electrical_unbalance(460, 467, 450, &percent), STATUS_OK);
	ck_assert_double_eq_tol(percent, 1.96, 0.005);
	ck_assert_int_eq(electrical_unbalance(203, 210, 212, &percent), STATUS_OK);
	ck_assert_double_eq_tol(percent, 2.5, 0.07);
	/* By hand: a lost phase, 26, 26, 0 A: mean 17.33, the farthest 17.33 from it. */
	ck_assert_int_eq(electrical_unbalance(26, 26, 0, &percent), STATUS_OK);
	ck_assert_double_eq_tol(percent, 100, 1e-9);
	ck_assert_int_eq(electrical_unbalance(0, 0, 0, &percent), STATUS_NOT_POSITIVE);
	ck_assert(isnan(percent));
	ck_assert_int_eq(electrical_unbalance(230, -1, 230, &percent), STATUS_NEGATIVE);
}
END_TEST

/* A published reading of the curve of NEMA MG 1-14.36 (engineeringtoolbox.com, d_648). */
static const struct {
	double percent, factor;
} deratings[] = {
	{ 0, 1 }, { 0.5, 1 }, { 1.5, 0.97 }, { 2, 0.95 }, { 2.5, 0.93 }, { 3, 0.89 }, { 3.5, 0.85 },
	{ 4, 0.82 }, { 4.5, 0.78 }, { 5, 0.76 },
	/* Between two points of the curve, halfway. */
	{ 0.25, 1 }, { 0.75, 0.9925 }, { 1.25, 0.9775 }, { 1.75, 0.96 }, { 2.25, 0.94 }, { 2.75, 0.91 },
	{ 3.25, 0.87 }, { 3.75, 0.835 }, { 4.25, 0.8 }, { 4.75, 0.77 },
};

START_TEST(derating_follows_the_curve)
{
	double factor;

	ck_assert_int_eq(electrical_unbalance_derating(deratings[_i].percent, &factor), STATUS_OK);
	ck_assert_double_eq_tol(factor, deratings[_i].factor, 1e-12);
}
END_TEST

START_TEST(over_five_percent_unbalance_does_not_run)
{
	double factor;

	ck_assert_int_eq(electrical_unbalance_derating(5.01, &factor), STATUS_UNBALANCE_TOO_HIGH);
	ck_assert(isnan(factor));
	ck_assert_int_eq(electrical_unbalance_derating(-1, &factor), STATUS_NEGATIVE);
}
END_TEST

START_TEST(currents)
{
	double out, low, high;

	/* 4.8 A run and 4.3 A start go with 6.5 A common (reading set: common practice). */
	ck_assert_int_eq(electrical_common_amps(4.8, 4.3, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 6.5, 0.06);
	ck_assert_int_eq(electrical_share(1.5, 1.3, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 115.4, 0.05);
	ck_assert_int_eq(electrical_share(1.5, 0, &out), STATUS_NOT_POSITIVE);
	ck_assert(isnan(out));
	ck_assert_int_eq(electrical_locked_rotor_expected(14, &low, &high), STATUS_OK);
	ck_assert_double_eq(low, 70); /* 5 to 6 RLA: common practice */
	ck_assert_double_eq(high, 84);
	ck_assert_int_eq(electrical_common_amps(-1, 2, &out), STATUS_NEGATIVE);
	/* A lead without current is measured, too. */
	ck_assert_int_eq(electrical_common_amps(0, 4.3, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 4.3, 1e-12);
}
END_TEST

/*
 * NEC Article 440 by hand: 18 A compressor and 1.3 A fan want 23.8 A wire and
 * at most 32.8 A, hence a 30 A device; 42 A if it will not start.
 */
START_TEST(circuits)
{
	struct branch_circuit circuit;

	ck_assert_int_eq(electrical_circuit(18, 1.3, &circuit), STATUS_OK);
	ck_assert_double_eq_tol(circuit.ampacity, 23.8, 1e-9);
	ck_assert_double_eq_tol(circuit.overcurrent, 32.8, 1e-9);
	ck_assert_double_eq_tol(circuit.overcurrent_if_tripping, 41.8, 1e-9);
	ck_assert_double_eq(circuit.device, 30);
	ck_assert_int_eq(electrical_circuit(4, 0, &circuit), STATUS_OK);
	ck_assert_double_eq(circuit.device, 15); /* 440.22(A): never below 15 A */
	ck_assert_int_eq(electrical_circuit(0, 1.3, &circuit), STATUS_NOT_POSITIVE);
	ck_assert(isnan(circuit.ampacity) && isnan(circuit.device));
}
END_TEST

/* NEC 240.6(A), standard ratings up to 400 A: a compressor alone gets the size not above 1.75 x. */
START_TEST(every_standard_size_of_a_device_is_given)
{
	static const double sizes[] = { 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125,
		150, 175, 200, 225, 250, 300, 350, 400 };
	enum { SIZES = sizeof sizes / sizeof *sizes };

	for (int i = 0; i < SIZES; i++) {
		struct branch_circuit circuit;
		ck_assert_int_eq(electrical_circuit(sizes[i] / 3.5, sizes[i] / 2, &circuit), STATUS_OK);
		ck_assert_double_eq(circuit.device, sizes[i]);
		if (i == 0)
			continue;
		ck_assert_int_eq(electrical_circuit((sizes[i] - 0.1) / 1.75, 0, &circuit), STATUS_OK);
		ck_assert_double_eq(circuit.device, sizes[i - 1]);
	}
	struct branch_circuit circuit;
	ck_assert_int_eq(electrical_circuit(400.1 / 1.75, 0, &circuit), STATUS_OUT_OF_RANGE);
	ck_assert(isnan(circuit.device));
}
END_TEST

START_TEST(power_and_efficiency)
{
	double out;

	ck_assert_int_eq(electrical_power(240, 12, 0.9, false, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 2.592, 1e-12);
	ck_assert_int_eq(electrical_power(460, 10, 0.85, true, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 6.772, 0.001);
	ck_assert_int_eq(electrical_power(240, 12, 1.1, false, &out), STATUS_OUT_OF_RANGE);
	ck_assert_int_eq(electrical_eer(36000, 3.6, &out), STATUS_OK);
	ck_assert_double_eq_tol(out, 10, 1e-12);
	ck_assert_int_eq(electrical_eer(36000, 0, &out), STATUS_NOT_POSITIVE);
	ck_assert(isnan(out));
}
END_TEST

Suite *electrical_suite(void)
{
	Suite *suite = suite_create("electrical");
	TCase *tests = tcase_create("electrical");

	tcase_add_loop_test(tests, terminals_are_named, 0, sizeof unmarked / sizeof *unmarked);
	tcase_add_test(tests, windings_add_up);
	tcase_add_test(tests, nothing_is_a_reading_too);
	tcase_add_test(tests, a_ratio_to_no_resistance_is_refused);
	tcase_add_loop_test(tests, start_run_ratio_of_sound_motors_is_usual, 0,
	                    sizeof ratios / sizeof *ratios);
	tcase_add_test(tests, copper_warms);
	tcase_add_loop_test(tests, insulation_is_graded_by_the_makers_floor, 0,
	                    sizeof insulation / sizeof *insulation);
	tcase_add_loop_test(tests, insulation_halves_for_ten_degrees, 0,
	                    sizeof corrections / sizeof *corrections);
	tcase_add_test(tests, insulation_refuses_what_is_no_reading);
	tcase_add_test(tests, capacitors);
	tcase_add_test(tests, supply_voltage);
	tcase_add_test(tests, unbalance_of_the_published_examples);
	tcase_add_loop_test(tests, derating_follows_the_curve, 0,
	                    sizeof deratings / sizeof *deratings);
	tcase_add_test(tests, over_five_percent_unbalance_does_not_run);
	tcase_add_test(tests, currents);
	tcase_add_test(tests, circuits);
	tcase_add_test(tests, every_standard_size_of_a_device_is_given);
	tcase_add_test(tests, power_and_efficiency);
	suite_add_tcase(suite, tests);
	return suite;
}
