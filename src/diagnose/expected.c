/*
 * The healthy machine.
 *
 * Capacity, split and supply enthalpy come from the DX coil (padside/calc/coil.h).
 * Evaporating temperature follows from two balances: the coil gives up heat
 * in proportion to (wet bulb - evaporating temperature), and the compressor
 * pumps about 1.8 % more a degree warmer; a degree of wet bulb then moves the
 * evaporator by 22 / (22 + 10) of itself.  A dry coil works on the dry bulb
 * as if on a wet bulb that is 0.47 of the way from the coil to it.
 */
#include "diagnose/expected.h"

#include <math.h>

#include <padside/calc/barometer.h>
#include <padside/calc/coil.h>
#include <padside/calc/moist_air.h>

#include "diagnose/density.h"

/*
 * Evaporating temperature at the rated point, 80/67 °F in, 95 °F out: 35 under
 * return at 400 cfm a ton, 40 at 350 (common practice); few ducts give more
 * than about 390.
 */
static const double rated_suction_f = 44.3;

/*
 * Discharge over condensing temperature: at a lift of 70 °F and 10 °F
 * superheat, more a degree of lift and of superheat.  Fitted to CoolProp
 * 8.0.0 over 30–50 °F evaporating, 95–125 °F condensing, 5–30 °F superheat:
 * isentropic efficiency 0.70, 8 % of the work lost from shell and line,
 * 6 °F gained in the suction line; fit within 3 °F.  R-454B between its parts.
 */
struct discharge {
	enum choice refrigerant;
	double at_70, by_lift, by_superheat;
};

static const struct discharge discharges[] = {
	{ CHOICE_REFRIGERANT_R22,    64.4, 0.66, 1.08 },
	{ CHOICE_REFRIGERANT_R410A,  59.2, 0.60, 1.09 },
	{ CHOICE_REFRIGERANT_R32,    90.1, 1.08, 1.22 },
	{ CHOICE_REFRIGERANT_R454B,  70.0, 0.78, 1.13 },
	{ CHOICE_REFRIGERANT_R134A,  35.7, 0.24, 1.01 },
	{ CHOICE_REFRIGERANT_R407C,  49.6, 0.45, 1.04 },
	{ CHOICE_REFRIGERANT_R404A,  32.3, 0.21, 0.96 },
	{ CHOICE_REFRIGERANT_R507A,  31.5, 0.20, 0.96 },
	{ CHOICE_REFRIGERANT_R290,   34.7, 0.22, 0.98 },
	{ CHOICE_REFRIGERANT_R1234YF, 20.1, 0.04, 0.97 },
};

static const struct discharge *discharge_of(enum choice refrigerant)
{
	for (size_t i = 0; i < sizeof discharges / sizeof *discharges; i++)
		if (discharges[i].refrigerant == refrigerant)
			return &discharges[i];
	return &discharges[1];
}

static double clamp(double x, double low, double high)
{
	return fmin(fmax(x, low), high);
}

/* A weather reading, or what is usual where it was not taken. */
static bool take(double number, double spread, double usual, double usual_spread,
                 double *value, double *known)
{
	bool taken = !isnan(number);

	*value = taken ? number : usual;
	*known = taken ? fmax(spread, 0.3) : usual_spread;
	return taken;
}

void expected_weather(const struct view *view, struct weather_known *weather)
{
	const struct figure_value *wet = &view->set->values[FIGURE_RETURN_WB];
	double outdoor = view_number(view, READING_OUTDOOR_DB);
	double back = view_number(view, READING_RETURN_DB);

	weather->taken[0] = take(outdoor, density_sd(reading_accuracy(READING_OUTDOOR_DB, 90)), 88, 9,
	                         &weather->value.outdoor_f, &weather->spread.outdoor_f);
	weather->taken[1] = take(back, density_sd(reading_accuracy(READING_RETURN_DB, 75)), 76, 3.5,
	                         &weather->value.return_f, &weather->spread.return_f);
	/* About half saturated is usual in a house that is cooled. */
	weather->taken[2] = take(wet->status == STATUS_OK ? wet->value : NAN,
	                         density_sd(wet->plus_minus), weather->value.return_f - 13, 3.5,
	                         &weather->value.wet_bulb_f, &weather->spread.wet_bulb_f);
}

void expected_machine(const struct view *view, bool has_valve, struct machine *machine)
{
	double seer = view_number(view, READING_SEER);
	double target = view_number(view, READING_TARGET_SUBCOOLING);
	double altitude = view_number(view, READING_ALTITUDE);
	bool no_seer = isnan(seer) ||
	               coil_condenser_over_outdoor(seer, &machine->condenser_f) != STATUS_OK;

	machine->has_valve = has_valve;
	machine->refrigerant = view_choice(view, READING_REFRIGERANT);
	machine->tons = view_number(view, READING_NOMINAL_CAPACITY);
	if (no_seer)
		machine->condenser_f = 21;
	/* Efficient machines differ most: large coils, or slow fans and staged compressors. */
	machine->condenser_spread_f = no_seer ? 5 : seer >= 16 ? 4.5 : 3.2;
	bool stated = has_valve && !isnan(target);
	machine->subcooling_f = stated ? target : 10;
	machine->subcooling_spread_f = stated ? 1.6 : has_valve ? 2.3 : 3.2;
	machine->superheat_f = view_number(view, READING_TARGET_SUPERHEAT_CHART);
	if (isnan(altitude) ||
	    barometric_pressure_psia(altitude, &machine->pressure_psia) != STATUS_OK)
		machine->pressure_psia = MOIST_AIR_SEA_LEVEL_PSIA;
}

/* The wet bulb that the coil works on; on a dry coil the dry bulb counts. */
static double working_wet_bulb(const struct weather *weather)
{
	double dry = rated_suction_f - 1 + 0.47 * (weather->return_f - rated_suction_f + 1);
	double over = weather->wet_bulb_f - dry;

	/* The greater of the two, rounded where they meet. */
	return dry + 0.5 * (over + sqrt(over * over + 4));
}

/*
 * Superheat of a correctly charged orifice machine: (3 wb - 80 - db) / 2, the
 * usual cross-check of the charging table, which also runs on below zero: how
 * far the machine is from showing any superheat at all.
 */
static double orifice_superheat(const struct machine *machine, const struct weather *weather)
{
	double table;
	double rule = (3 * weather->wet_bulb_f - 80 - weather->outdoor_f) / 2;

	if (!isnan(machine->superheat_f))
		return machine->superheat_f;
	if (coil_target_superheat(weather->outdoor_f, weather->wet_bulb_f, &table) == STATUS_OK)
		return table;
	return clamp(rule, -25, 50);
}

static void expect_air(const struct machine *machine, const struct weather *weather,
                       struct healthy *healthy)
{
	struct coil_conditions conditions = {
		.capacity_ton = 1, .airflow_cfm = COIL_CFM_PER_TON,
		.sensible_ratio = COIL_SENSIBLE_RATIO,
		.outdoor_f = clamp(weather->outdoor_f, COIL_OUTDOOR_LOW_F, COIL_OUTDOOR_HIGH_F),
	};
	struct coil_expectation expected;
	double wet = clamp(weather->wet_bulb_f, COIL_WET_BULB_LOW_F, COIL_WET_BULB_HIGH_F);

	if (moist_air_from_wet_bulb(fmax(weather->return_f, wet), wet, machine->pressure_psia,
	                            &conditions.entering) == STATUS_OK &&
	    coil_expect(&conditions, &expected) == STATUS_OK) {
		healthy->split_f = expected.split_f;
		healthy->enthalpy_drop = conditions.entering.enthalpy_btu_lb -
		                         expected.supply.enthalpy_btu_lb;
		return;
	}
	/* Outside what the coil model covers: the usual, by rule of thumb. */
	healthy->split_f = clamp(19 + 0.5 * (weather->return_f - 78) - 0.9 * (wet - 65), 10, 28);
	healthy->enthalpy_drop = 6.7;
}

void expected_healthy(const struct machine *machine, const struct weather *weather,
                      struct healthy *healthy)
{
	double wet = working_wet_bulb(weather) - 67, hot = weather->outdoor_f - 95;

	healthy->suction_f = rated_suction_f + 0.68 * wet + (machine->has_valve ? 0.1 : 0.18) * hot;
	/* The condenser's difference follows the heat it sheds. */
	healthy->condensing_f = weather->outdoor_f +
	                        machine->condenser_f * clamp(1 + 0.012 * wet - 0.003 * hot, 0.6, 1.3);
	healthy->superheat_f = machine->has_valve ? 10 : orifice_superheat(machine, weather);
	healthy->subcooling_f = machine->subcooling_f;
	expect_air(machine, weather, healthy);
}

double expected_discharge_f(const struct machine *machine, double suction_f, double condensing_f,
                            double superheat_f)
{
	const struct discharge *row = discharge_of(machine->refrigerant);

	return condensing_f + row->at_70 + row->by_lift * (condensing_f - suction_f - 70) +
	       row->by_superheat * (superheat_f - 10);
}

struct discharge_slopes expected_discharge_slopes(const struct machine *machine)
{
	const struct discharge *row = discharge_of(machine->refrigerant);

	return (struct discharge_slopes){
		.by_condensing = 1 + row->by_lift, .by_suction = -row->by_lift,
		.by_superheat = row->by_superheat,
	};
}
