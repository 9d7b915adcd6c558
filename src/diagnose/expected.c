/*
 * Weather and nameplate as the circuit's table takes them.
 */
#include "diagnose/expected.h"

#include <math.h>

#include "diagnose/density.h"

/*
 * Condensing over outdoor at 95 °F by SEER: 13 SEER class splits 10 to 16 °F,
 * heat pumps 15 to 16, packages 14 to 21 (makers' tables of printed
 * pressures); older units by the trade's rule.  The table's units are drawn
 * about the same line.
 */
static const struct {
	double seer, condenser_f;
} by_seer[] = { { 8, 28 }, { 10, 24.5 }, { 13, 18.5 }, { 16, 15 }, { 18, 13 } };

/* Where no nameplate tells. */
static const double usual_condenser_f = 19.5, usual_condenser_spread_f = 4;
static const double usual_subcooling_f = 10.5, usual_subcooling_spread_f = 1.8;
static const double usual_altitude_ft = 700;

/* Evaporating temperature at the rated point less 1 °F, where a dry coil's line starts. */
static const double coil_f = 43.3;

/*
 * Discharge over condensing temperature: at a lift of 70 °F and 10 °F
 * superheat, more a degree of lift and of superheat.  Fitted to CoolProp
 * 8.0.0 over 30–50 °F evaporating, 95–125 °F condensing, 5–30 °F superheat:
 * isentropic efficiency 0.70, 8 % of the work lost from shell and line,
 * 6 °F gained in the suction line; fit within 3 °F.  R-454B as CoolProp mixes it.
 */
static const struct discharge discharges[] = {
	{ CHOICE_REFRIGERANT_R22,    64.4, 0.66, 1.08 },
	{ CHOICE_REFRIGERANT_R410A,  59.2, 0.60, 1.09 },
	{ CHOICE_REFRIGERANT_R32,    90.1, 1.08, 1.22 },
	{ CHOICE_REFRIGERANT_R454B,  73.1, 0.75, 1.12 },
	{ CHOICE_REFRIGERANT_R134A,  35.7, 0.24, 1.01 },
	{ CHOICE_REFRIGERANT_R407C,  49.6, 0.45, 1.04 },
	{ CHOICE_REFRIGERANT_R404A,  32.3, 0.21, 0.96 },
	{ CHOICE_REFRIGERANT_R507A,  31.5, 0.20, 0.96 },
	{ CHOICE_REFRIGERANT_R290,   34.7, 0.22, 0.98 },
	{ CHOICE_REFRIGERANT_R1234YF, 20.1, 0.04, 0.97 },
};

const struct discharge *expected_discharge(enum choice refrigerant)
{
	for (size_t i = 0; i < sizeof discharges / sizeof *discharges; i++)
		if (discharges[i].refrigerant == refrigerant)
			return &discharges[i];
	return &discharges[1];
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

static double condenser_of(double seer)
{
	enum { POINTS = sizeof by_seer / sizeof *by_seer };
	int i = 1;

	seer = fmin(fmax(seer, by_seer[0].seer), by_seer[POINTS - 1].seer);
	while (i < POINTS - 1 && seer > by_seer[i].seer)
		i++;
	double part = (seer - by_seer[i - 1].seer) / (by_seer[i].seer - by_seer[i - 1].seer);
	return by_seer[i - 1].condenser_f +
	       part * (by_seer[i].condenser_f - by_seer[i - 1].condenser_f);
}

void expected_machine(const struct view *view, bool has_valve, struct machine *machine)
{
	double seer = view_number(view, READING_SEER);
	double target = view_number(view, READING_TARGET_SUBCOOLING);
	double altitude = view_number(view, READING_ALTITUDE);

	machine->has_valve = has_valve;
	machine->refrigerant = view_choice(view, READING_REFRIGERANT);
	machine->condenser_f = isnan(seer) ? usual_condenser_f : condenser_of(seer);
	machine->condenser_spread_f = isnan(seer) ? usual_condenser_spread_f : 0;
	machine->subcooling_f = isnan(target) ? usual_subcooling_f : target;
	machine->subcooling_spread_f = isnan(target) ? usual_subcooling_spread_f : 0;
	machine->approach_f = view_number(view, READING_TARGET_APPROACH);
	machine->superheat_f = view_number(view, READING_TARGET_SUPERHEAT_CHART);
	machine->altitude_ft = isnan(altitude) ? usual_altitude_ft : altitude;
}

double expected_working_wet_bulb(const struct weather *weather)
{
	double dry = coil_f + 0.47 * (weather->return_f - coil_f);
	double over = weather->wet_bulb_f - dry;

	/* The greater of the two, rounded where they meet. */
	return dry + 0.5 * (over + sqrt(over * over + 4));
}
