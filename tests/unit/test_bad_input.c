/*
 * Every calculation, on every combination of awkward inputs: it must come back,
 * and its outputs are numbers exactly when it says OK, NAN otherwise.
 */
#include <check.h>
#include <math.h>
#include <string.h>

#include <padside/calc/airflow.h>
#include <padside/calc/charge.h>
#include <padside/calc/coil.h>
#include <padside/calc/electrical.h>
#include <padside/calc/moist_air.h>
#include <padside/calc/seasonal.h>

Suite *bad_input_suite(void);

static const double awkward[] = {
	NAN, INFINITY, -INFINITY, -1e6, -60, -1, 0, 1e-3, 0.5, 1, 5, 14.696, 32, 54, 67, 80, 95, 130,
	200, 400, 1e6,
};

enum { AWKWARD = sizeof awkward / sizeof *awkward, MOST_INPUTS = 4, MOST_OUTPUTS = 9 };

/* A calculation on an array: inputs in, outputs out. */
struct calculation {
	const char *name;
	int inputs, outputs;
	enum status (*function)(const double *in, double *out);
};

static enum status spread_air(enum status status, const struct moist_air *air, double *out)
{
	const double members[] = {
		air->dry_bulb_f, air->wet_bulb_f, air->dew_point_f, air->relative_humidity,
		air->humidity_ratio, air->enthalpy_btu_lb, air->specific_volume_ft3_lb,
		air->density_lb_ft3, air->pressure_psia,
	};

	for (int i = 0; i < MOST_OUTPUTS; i++)
		out[i] = members[i];
	return status;
}

#define AIR(name) \
	static enum status run_##name(const double *in, double *out) \
	{ \
		struct moist_air air; \
		return spread_air(moist_air_##name(in[0], in[1], in[2], &air), &air, out); \
	}
AIR(from_wet_bulb)
AIR(from_relative_humidity)
AIR(from_dew_point)
AIR(from_wet_bulb_and_relative_humidity)
AIR(from_wet_bulb_and_dew_point)
AIR(from_dew_point_and_relative_humidity)
AIR(from_humidity_ratio)

#define RUN(name, call) \
	static enum status run_##name(const double *in, double *out) { return call; }
RUN(saturated_at, moist_air_saturated_at_enthalpy(in[0], in[1], out))
RUN(saturation, moist_air_saturation_pressure(in[0], out))
RUN(superheat, coil_target_superheat(in[0], in[1], out))
RUN(capacity_share, coil_capacity_share(in[0], in[1], in[2], out))
RUN(condenser, coil_condenser_over_outdoor(in[0], out))
RUN(evaporator, coil_evaporator_under_return(in[0], out))
RUN(sum_error, electrical_winding_sum_error(in[0], in[1], in[2], out))
RUN(sum_allowed, electrical_winding_sum_allowed(in[0], out))
RUN(ratio, electrical_start_run_ratio(in[0], in[1], out))
RUN(resistance, electrical_resistance_at(in[0], in[1], in[2], out))
RUN(insulation, electrical_insulation_at_40c(in[0], in[1], out))
RUN(capacitance, electrical_capacitance_deviation(in[0], in[1], out))
RUN(under_load, electrical_capacitance_under_load(in[0], in[1], in[2], out))
RUN(unbalance, electrical_unbalance(in[0], in[1], in[2], out))
RUN(derating, electrical_unbalance_derating(in[0], out))
RUN(sag, electrical_starting_sag(in[0], in[1], out))
RUN(part, electrical_share(in[0], in[1], out))
RUN(locked, electrical_locked_rotor_expected(in[0], &out[0], &out[1]))
RUN(common, electrical_common_amps(in[0], in[1], out))
RUN(power, electrical_power(in[0], in[1], in[2], true, out))
RUN(eer, electrical_eer(in[0], in[1], out))
RUN(gas, airflow_heat_output_gas(in[0], in[1], out))
RUN(electric, airflow_heat_output_electric(in[0], out))
RUN(total_static, airflow_total_static(in[0], in[1], out))
RUN(season, seasonal_energy(in[0], in[1], in[2], out))
RUN(line_set, charge_line_set_liquid(in[0], in[1], in[2], out))

static enum status run_circuit(const double *in, double *out)
{
	struct branch_circuit circuit;
	enum status status = electrical_circuit(in[0], in[1], &circuit);

	out[0] = circuit.ampacity;
	out[1] = circuit.overcurrent;
	out[2] = circuit.overcurrent_if_tripping;
	out[3] = circuit.device;
	return status;
}

static enum status run_rise(const double *in, double *out)
{
	struct moist_air air;

	moist_air_from_relative_humidity(in[2], 50, 14.696, &air);
	return airflow_from_heat_rise(in[0], in[1], &air, out);
}

static enum status run_coil(const double *in, double *out)
{
	struct coil_conditions conditions = {
		.capacity_ton = 3, .airflow_cfm = 3 * in[3], .sensible_ratio = 0.75, .outdoor_f = in[2],
	};
	struct coil_expectation expected;
	enum status status;

	moist_air_from_wet_bulb(in[0], in[1], 14.696, &conditions.entering);
	status = coil_expect(&conditions, &expected);
	out[0] = expected.capacity_btu_h;
	out[1] = expected.split_f;
	out[2] = expected.supply.wet_bulb_f;
	out[3] = expected.apparatus_dew_point_f;
	return status;
}

static enum status run_charge(const double *in, double *out)
{
	struct charge_machine machine = { CHARGE_BY_SUPERHEAT, in[3], 3, true };
	const struct charge_step log[] = {
		{ 0, 0, in[0], in[1], in[2] }, { 6, 0, in[0], in[1], in[2] },
	};
	struct charge_advice advice;
	enum status status = charge_advise(&machine, log, 2, &advice);

	out[0] = advice.move_oz;
	out[1] = advice.total_oz;
	out[2] = advice.after_low_f;
	out[3] = advice.wait_minutes;
	return status;
}

static const struct calculation calculations[] = {
	{ "air from wet bulb", 3, 9, run_from_wet_bulb },
	{ "air from humidity", 3, 9, run_from_relative_humidity },
	{ "air from dew point", 3, 9, run_from_dew_point },
	{ "air from wet bulb and humidity", 3, 9, run_from_wet_bulb_and_relative_humidity },
	{ "air from wet bulb and dew point", 3, 9, run_from_wet_bulb_and_dew_point },
	{ "air from dew point and humidity", 3, 9, run_from_dew_point_and_relative_humidity },
	{ "air from humidity ratio", 3, 9, run_from_humidity_ratio },
	{ "saturated at an enthalpy", 2, 1, run_saturated_at },
	{ "saturation pressure", 1, 1, run_saturation },
	{ "target superheat", 2, 1, run_superheat },
	{ "capacity share", 3, 1, run_capacity_share },
	{ "condenser", 1, 1, run_condenser },
	{ "evaporator", 1, 1, run_evaporator },
	{ "winding sum", 3, 1, run_sum_error },
	{ "winding sum allowed", 1, 1, run_sum_allowed },
	{ "start to run", 2, 1, run_ratio },
	{ "resistance warmed", 3, 1, run_resistance },
	{ "insulation at 40 C", 2, 1, run_insulation },
	{ "capacitance", 2, 1, run_capacitance },
	{ "capacitance under load", 3, 1, run_under_load },
	{ "unbalance", 3, 1, run_unbalance },
	{ "derating", 1, 1, run_derating },
	{ "sag", 2, 1, run_sag },
	{ "share", 2, 1, run_part },
	{ "locked rotor", 1, 2, run_locked },
	{ "common amps", 2, 1, run_common },
	{ "circuit", 2, 4, run_circuit },
	{ "power", 3, 1, run_power },
	{ "efficiency", 2, 1, run_eer },
	{ "gas heat", 2, 1, run_gas },
	{ "electric heat", 1, 1, run_electric },
	{ "total static", 2, 1, run_total_static },
	{ "airflow from rise", 3, 1, run_rise },
	{ "season", 3, 1, run_season },
	{ "line set", 3, 1, run_line_set },
	{ "coil", 4, 4, run_coil },
	{ "charge", 4, 4, run_charge },
};

static int power_of(int base, int exponent)
{
	int result = 1;

	while (exponent-- > 0)
		result *= base;
	return result;
}

START_TEST(outputs_are_numbers_exactly_when_all_is_well)
{
	const struct calculation *calculation = &calculations[_i];
	int combinations = power_of(AWKWARD, calculation->inputs), good = 0;

	for (int c = 0; c < combinations; c++) {
		double in[MOST_INPUTS], out[MOST_OUTPUTS];
		enum status status;

		for (int i = 0, rest = c; i < calculation->inputs; i++, rest /= AWKWARD)
			in[i] = awkward[rest % AWKWARD];
		for (int i = 0; i < MOST_OUTPUTS; i++)
			out[i] = 7;
		status = calculation->function(in, out);
		good += status == STATUS_OK;
		for (int i = 0; i < calculation->outputs; i++)
			if (status == STATUS_OK ? !isfinite(out[i]) : !isnan(out[i]))
				ck_abort_msg("%s, combination %d, output %d: %g (%s)", calculation->name,
				             c, i, out[i], status_sentence(status));
	}
	ck_assert_int_gt(good, 0);
	ck_assert_int_lt(good, combinations);
}
END_TEST

/* Where an input's range ends, as its header says: the last that is good, and what is just outside. */
static const struct {
	const char *name;
	double in[MOST_INPUTS];
	int input;
	double inside, outside;
	enum status status; /* outside */
} ends[] = {
	/* Pressure of the air, 5 to 20 psia; temperatures -100 to 200 °F; humidity 0 to 100 %. */
	{ "air from wet bulb", { 60, 50, 14.7 }, 2, 5, 4.999, STATUS_OUT_OF_RANGE },
	{ "air from wet bulb", { 60, 50, 14.7 }, 2, 20, 20.001, STATUS_OUT_OF_RANGE },
	{ "air from wet bulb", { 60, 50, 14.7 }, 1, 60, 60.001, STATUS_WET_BULB_ABOVE_DRY_BULB },
	{ "air from humidity", { 80, 50, 14.7 }, 1, 0, -0.001, STATUS_HUMIDITY_RANGE },
	{ "air from humidity", { 80, 50, 14.7 }, 1, 100, 100.001, STATUS_HUMIDITY_RANGE },
	{ "air from humidity", { 80, 1, 14.7 }, 0, -100, -100.001, STATUS_OUT_OF_RANGE },
	/* Water boils at 11.538 psia at 200 °F (CoolProp 8.0.0): nine tenths of 6 psia are 46.80 % of that. */
	{ "air from humidity", { 200, 40, 6 }, 1, 46.7, 46.9, STATUS_OUT_OF_RANGE },
	{ "air from humidity", { 80, 1, 14.7 }, 0, 200, 200.001, STATUS_OUT_OF_RANGE },
	{ "air from dew point", { 80, 60, 14.7 }, 1, 80, 80.001, STATUS_DEW_POINT_ABOVE_DRY_BULB },
	{ "air from dew point", { 80, 60, 14.7 }, 1, -100, -100.001, STATUS_OUT_OF_RANGE },
	{ "air from wet bulb and humidity", { 60, 50, 14.7 }, 1, 0, -0.001, STATUS_HUMIDITY_RANGE },
	{ "air from wet bulb and humidity", { 60, 50, 14.7 }, 1, 100, 100.001, STATUS_HUMIDITY_RANGE },
	{ "air from wet bulb and humidity", { 60, 50, 14.7 }, 0, -100, -100.001, STATUS_OUT_OF_RANGE },
	{ "air from wet bulb and dew point", { 60, 50, 14.7 }, 1, 60, 60.001, STATUS_DEW_POINT_ABOVE_WET_BULB },
	{ "air from wet bulb and dew point", { 60, 50, 14.7 }, 1, -100, -100.001, STATUS_OUT_OF_RANGE },
	{ "air from wet bulb and dew point", { 60, -100, 14.7 }, 0, -100, -100.001, STATUS_OUT_OF_RANGE },
	{ "air from dew point and humidity", { 60, 50, 14.7 }, 1, 100, 100.001, STATUS_HUMIDITY_RANGE },
	{ "air from dew point and humidity", { 0, 50, 14.7 }, 1, 1, 0, STATUS_HUMIDITY_RANGE },
	{ "air from dew point and humidity", { 60, 50, 14.7 }, 0, -100, -100.001, STATUS_OUT_OF_RANGE },
	{ "air from humidity ratio", { 80, 0.01, 14.7 }, 1, 0, -1e-9, STATUS_OUT_OF_RANGE },
	{ "air from humidity ratio", { 80, 0, 14.7 }, 0, 200, 200.001, STATUS_OUT_OF_RANGE },
	{ "saturation pressure", { 60 }, 0, -100, -100.001, STATUS_OUT_OF_RANGE },
	{ "saturation pressure", { 60 }, 0, 200, 200.001, STATUS_OUT_OF_RANGE },
	/* The printed table of superheat: 40 to 115 °F outdoors, 50 to 76 °F wet bulb. */
	{ "target superheat", { 85, 56 }, 0, 40, 39.999, STATUS_OUT_OF_RANGE },
	{ "target superheat", { 85, 76 }, 0, 115, 115.001, STATUS_OUT_OF_RANGE },
	{ "target superheat", { 60, 64 }, 1, 50, 49.999, STATUS_OUT_OF_RANGE },
	{ "target superheat", { 85, 64 }, 1, 76, 76.001, STATUS_OUT_OF_RANGE },
	{ "capacity share", { 67, 95, 1 }, 2, 0.4, 0.3999, STATUS_AIRFLOW_RANGE },
	{ "capacity share", { 67, 95, 1 }, 2, 1.5, 1.5001, STATUS_AIRFLOW_RANGE },
	{ "capacity share", { 67, 95, 1 }, 0, COIL_WET_BULB_LOW_F, COIL_WET_BULB_LOW_F - 0.001, STATUS_WEATHER_RANGE },
	{ "capacity share", { 67, 95, 1 }, 0, COIL_WET_BULB_HIGH_F, COIL_WET_BULB_HIGH_F + 0.001, STATUS_WEATHER_RANGE },
	{ "capacity share", { 67, 95, 1 }, 1, COIL_OUTDOOR_LOW_F, COIL_OUTDOOR_LOW_F - 0.001, STATUS_WEATHER_RANGE },
	{ "capacity share", { 67, 95, 1 }, 1, COIL_OUTDOOR_HIGH_F, COIL_OUTDOOR_HIGH_F + 0.001, STATUS_WEATHER_RANGE },
	{ "condenser", { 14 }, 0, 4, 3.999, STATUS_OUT_OF_RANGE },
	{ "condenser", { 14 }, 0, 40, 40.001, STATUS_OUT_OF_RANGE },
	{ "evaporator", { 400 }, 0, 300, 299.999, STATUS_OUT_OF_RANGE },
	{ "evaporator", { 400 }, 0, 450, 450.001, STATUS_OUT_OF_RANGE },
	{ "insulation at 40 C", { 50, 70 }, 1, -58, -58.001, STATUS_OUT_OF_RANGE },
	{ "insulation at 40 C", { 50, 70 }, 1, 392, 392.001, STATUS_OUT_OF_RANGE },
	{ "insulation at 40 C", { 50, 70 }, 0, 0, -0.001, STATUS_NEGATIVE },
	{ "capacitance under load", { 3, 300, 60 }, 2, 40, 39.999, STATUS_OUT_OF_RANGE },
	{ "capacitance under load", { 3, 300, 60 }, 2, 70, 70.001, STATUS_OUT_OF_RANGE },
	{ "capacitance under load", { 3, 300, 60 }, 0, 0, -0.001, STATUS_NEGATIVE },
	{ "capacitance under load", { 3, 300, 60 }, 1, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "locked rotor", { 14 }, 0, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "common amps", { 10, 3 }, 0, 0, -0.001, STATUS_NEGATIVE },
	{ "common amps", { 10, 3 }, 1, 0, -0.001, STATUS_NEGATIVE },
	{ "capacitance", { 45, 45 }, 0, 0, -0.001, STATUS_NEGATIVE },
	{ "capacitance", { 45, 45 }, 1, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "share", { 45, 45 }, 1, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "start to run", { 2, 1 }, 1, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "derating", { 2 }, 0, 5, 5.001, STATUS_UNBALANCE_TOO_HIGH },
	{ "derating", { 2 }, 0, 0, -0.001, STATUS_NEGATIVE },
	{ "power", { 240, 12, 0.9 }, 2, 1, 1.001, STATUS_OUT_OF_RANGE },
	{ "power", { 240, 12, 0.9 }, 2, 0.001, 0, STATUS_NOT_POSITIVE },
	/* 1.75 times the largest motor: up to the largest device of NEC 240.6(A) that is looked up, 400 A. */
	{ "circuit", { 14, 50 }, 0, 200, 200.01, STATUS_OUT_OF_RANGE },
	{ "circuit", { 14, 1 }, 1, 0, -0.001, STATUS_NEGATIVE },
	{ "circuit", { 14, 1 }, 0, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "gas heat", { 80000, 80 }, 1, 100, 100.001, STATUS_OUT_OF_RANGE },
	{ "gas heat", { 80000, 80 }, 0, 0, -0.001, STATUS_NEGATIVE },
	{ "airflow from rise", { 30000, 40, 70 }, 1, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "season", { 3, 1000, 14 }, 0, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "season", { 3, 1000, 14 }, 1, 0, -0.001, STATUS_NEGATIVE },
	{ "season", { 3, 1000, 14 }, 2, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "line set", { 0.375, 25, 68 }, 1, 0, -0.001, STATUS_NEGATIVE },
	{ "line set", { 0.375, 25, 68 }, 2, 0.001, 0, STATUS_NOT_POSITIVE },
	{ "charge", { 20, 1, 8, 94 }, 1, 0, -0.001, STATUS_NEGATIVE },
	{ "charge", { 20, 1, 8, 94 }, 3, 0.001, 0, STATUS_NOT_POSITIVE },
};

START_TEST(a_range_ends_where_it_is_said_to)
{
	double in[MOST_INPUTS], out[MOST_OUTPUTS];
	const struct calculation *calculation = calculations;

	while (strcmp(calculation->name, ends[_i].name) != 0)
		calculation++;
	memcpy(in, ends[_i].in, sizeof in);
	in[ends[_i].input] = ends[_i].inside;
	enum status status = calculation->function(in, out);
	ck_assert_msg(status == STATUS_OK, "%s, %g: %s", ends[_i].name, ends[_i].inside, status_sentence(status));
	in[ends[_i].input] = ends[_i].outside;
	status = calculation->function(in, out);
	ck_assert_msg(status == ends[_i].status, "%s, %g: %s", ends[_i].name, ends[_i].outside,
	              status_sentence(status));
}
END_TEST

Suite *bad_input_suite(void)
{
	Suite *suite = suite_create("bad_input");
	TCase *tests = tcase_create("bad_input");

	tcase_add_loop_test(tests, outputs_are_numbers_exactly_when_all_is_well, 0,
	                    sizeof calculations / sizeof *calculations);
	tcase_add_loop_test(tests, a_range_ends_where_it_is_said_to, 0, sizeof ends / sizeof *ends);
	suite_add_tcase(suite, tests);
	return suite;
}
