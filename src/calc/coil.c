/*
 * The healthy unit, after the single-speed DX coil of the EnergyPlus
 * Engineering Reference.
 *
 * The coil is taken as a surface at one temperature, the apparatus dew point,
 * that part of the air meets and part bypasses.  The rated sensible ratio
 * tells the rated bypass factor; the flow of air changes it; the curves give
 * the capacity; together they give the surface and so the supply air.
 *
 * Everything is per pound of dry air; a unit's size enters only through
 * its flow per ton.
 */
#include <padside/calc/coil.h>

#include <math.h>
#include <stddef.h>

#define BTU_PER_TON 12000.0
#define RATED_DRY_BULB_F 80.0
#define RATED_WET_BULB_F 67.0
#define PASSES 60
#define CLOSE_F 1e-6
#define CLOSE_SHARE 1e-8

enum { OUTDOORS = 16, WET_BULBS = 14 };

#define OUTDOOR_FROM_F 40.0
#define OUTDOOR_STEP_F 5.0
#define WET_BULB_FROM_F 50.0
#define WET_BULB_STEP_F 2.0

/* Target superheat, °F; rows 40–115 °F outdoors, columns 50–76 °F wet bulb; 0 is a dash. */
static const signed char superheats[OUTDOORS][WET_BULBS] = {
	{ 15, 18, 20, 23, 26, 29, 32, 34, 38, 41, 43, 46, 48, 51 },
	{ 13, 16, 18, 21, 24, 27, 30, 33, 36, 39, 41, 44, 46, 49 },
	{ 11, 14, 16, 19, 22, 25, 28, 31, 34, 37, 39, 42, 44, 47 },
	{  9, 12, 14, 17, 20, 23, 27, 30, 33, 36, 38, 40, 42, 44 },
	{  7, 10, 12, 15, 18, 21, 24, 27, 30, 33, 35, 38, 40, 43 },
	{  0,  6, 10, 13, 16, 19, 21, 24, 27, 30, 33, 36, 38, 41 },
	{  0,  0,  7, 10, 13, 16, 19, 21, 24, 27, 30, 33, 36, 39 },
	{  0,  0,  0,  6,  9, 12, 15, 18, 21, 24, 28, 31, 34, 37 },
	{  0,  0,  0,  0,  5,  8, 12, 15, 18, 21, 25, 28, 31, 35 },
	{  0,  0,  0,  0,  0,  0,  8, 11, 15, 19, 22, 26, 30, 33 },
	{  0,  0,  0,  0,  0,  0,  5,  9, 13, 16, 20, 24, 27, 31 },
	{  0,  0,  0,  0,  0,  0,  0,  6, 10, 14, 18, 22, 25, 29 },
	{  0,  0,  0,  0,  0,  0,  0,  0,  8, 12, 16, 21, 24, 28 },
	{  0,  0,  0,  0,  0,  0,  0,  0,  5,  9, 13, 17, 22, 26 },
	{  0,  0,  0,  0,  0,  0,  0,  0,  0,  6, 11, 15, 20, 25 },
	{  0,  0,  0,  0,  0,  0,  0,  0,  0,  0,  8, 14, 18, 24 },
};

static double celsius(double temp_f)
{
	return (temp_f - 32) / 1.8;
}

/* The default capacity curves; x and y in °C as published. */
static double capacity_curve(double wet_bulb_f, double outdoor_f, double flow_share)
{
	double x = celsius(wet_bulb_f), y = celsius(outdoor_f);

	return (0.942587793 + 0.009543347 * x + 0.00068377 * x * x - 0.011042676 * y
	        + 0.000005249 * y * y - 0.00000972 * x * y) * (0.8 + 0.2 * flow_share);
}

static double energy_curve(double wet_bulb_f, double outdoor_f, double flow_share)
{
	double x = celsius(wet_bulb_f), y = celsius(outdoor_f);

	return (0.342414409 + 0.034885008 * x - 0.0006237 * x * x + 0.004977216 * y
	        + 0.000437951 * y * y - 0.000728028 * x * y)
	       * (1.1552 - 0.1808 * flow_share + 0.0256 * flow_share * flow_share);
}

static enum status check_weather(double wet_bulb_f, double outdoor_f)
{
	if (!isfinite(wet_bulb_f) || !isfinite(outdoor_f))
		return STATUS_NOT_A_NUMBER;
	if (wet_bulb_f < COIL_WET_BULB_LOW_F || wet_bulb_f > COIL_WET_BULB_HIGH_F
	    || outdoor_f < COIL_OUTDOOR_LOW_F || outdoor_f > COIL_OUTDOOR_HIGH_F)
		return STATUS_WEATHER_RANGE;
	return STATUS_OK;
}

static enum status check_flow(double flow_share)
{
	if (!isfinite(flow_share))
		return STATUS_NOT_A_NUMBER;
	return flow_share < 0.4 || flow_share > 1.5 ? STATUS_AIRFLOW_RANGE : STATUS_OK;
}

static enum status share(double (*curve)(double, double, double), double wet_bulb_f,
                         double outdoor_f, double flow_share, double *out)
{
	enum status status = check_weather(wet_bulb_f, outdoor_f);

	if (!status)
		status = check_flow(flow_share);
	*out = status ? NAN : curve(wet_bulb_f, outdoor_f, flow_share);
	return status;
}

enum status coil_capacity_share(double wet_bulb_f, double outdoor_f, double flow_share,
                                double *out)
{
	return share(capacity_curve, wet_bulb_f, outdoor_f, flow_share, out);
}

enum status coil_energy_share(double wet_bulb_f, double outdoor_f, double flow_share,
                              double *out)
{
	return share(energy_curve, wet_bulb_f, outdoor_f, flow_share, out);
}

/* Enthalpy that air of one dry bulb has with the water of another. */
static double enthalpy_with(double dry_bulb_f, double humidity_ratio)
{
	return 0.240 * dry_bulb_f + humidity_ratio * (1061 + 0.444 * dry_bulb_f);
}

/* Share of the cooling from `entering` towards the saturated `surface` that is sensible. */
static double sensible_share(const struct moist_air *entering, const struct moist_air *surface)
{
	double dried = enthalpy_with(entering->dry_bulb_f, surface->humidity_ratio);

	return fmin((dried - surface->enthalpy_btu_lb)
	            / (entering->enthalpy_btu_lb - surface->enthalpy_btu_lb), 1);
}

/* A coil as rated, whatever its size. */
struct rating {
	double flow_per_ton; /* dry air, lb/h per ton */
	double exponent;     /* bypass factor = exp(-exponent / flow share) */
};

/* What rate() gives for COIL_SENSIBLE_RATIO: that is asked thousands of times. */
static const struct rating usual_rating = { 1732.9264666028648, 2.011679988901244 };

/*
 * Finds the surface at which `entering` loses just the rated sensible share, between
 * 45 °F and one that does not dry at all, the dew point.  By the chord between both; an end that
 * stays counts half the next time (Illinois method), or the other would only creep.
 */
static enum status find_surface(const struct moist_air *entering, double sensible_ratio,
                                struct moist_air *surface)
{
	double low = 45, high = entering->dew_point_f, above = 1 - sensible_ratio, below, off;
	enum status status = moist_air_from_relative_humidity(low, 100, MOIST_AIR_SEA_LEVEL_PSIA,
	                                                      surface);

	below = off = sensible_share(entering, surface) - sensible_ratio;
	for (int pass = 0; pass < PASSES && status == STATUS_OK && fabs(off) > CLOSE_SHARE; pass++) {
		double middle = (low * above - high * below) / (above - below), before = off;

		status = moist_air_from_relative_humidity(middle, 100, MOIST_AIR_SEA_LEVEL_PSIA, surface);
		off = sensible_share(entering, surface) - sensible_ratio;
		if (off > 0) {
			high = middle;
			above = off;
			below *= before > 0 ? 0.5 : 1;
		} else {
			low = middle;
			below = off;
			above *= before > 0 ? 1 : 0.5;
		}
	}
	return status;
}

/* The bypass factor that lets the rated capacity out over the surface of the rated air. */
static enum status rate(double sensible_ratio, struct rating *rating)
{
	struct moist_air entering, surface;
	double drop, bypass;
	enum status status = moist_air_from_wet_bulb(RATED_DRY_BULB_F, RATED_WET_BULB_F,
	                                             MOIST_AIR_SEA_LEVEL_PSIA, &entering);

	if (status)
		return status;
	if (!(sensible_ratio >= 0.65 && sensible_ratio <= 0.79))
		return STATUS_NO_LATENT_ROOM;
	status = find_surface(&entering, sensible_ratio, &surface);
	if (status)
		return status;
	rating->flow_per_ton = COIL_CFM_PER_TON * 60 / entering.specific_volume_ft3_lb;
	drop = BTU_PER_TON / rating->flow_per_ton;
	bypass = 1 - drop / (entering.enthalpy_btu_lb - surface.enthalpy_btu_lb);
	if (bypass <= 0)
		return STATUS_NO_LATENT_ROOM;
	rating->exponent = -log(bypass);
	return STATUS_OK;
}

/* The coil at work on some air: what stays the same while the air is varied. */
struct working_coil {
	struct rating rating;  /* the coil */
	double outdoor_f;      /* weather */
	double flow_share;     /* of the rated mass flow */
	double bypass;         /* at that flow */
};

/* Cools `entering`: the enthalpy it loses, Btu/lb, and the surface. */
static enum status cool(const struct working_coil *work, const struct moist_air *entering,
                        double *drop, struct moist_air *surface)
{
	double surface_f;
	enum status status;

	*drop = BTU_PER_TON * capacity_curve(entering->wet_bulb_f, work->outdoor_f, work->flow_share)
	        / (work->rating.flow_per_ton * work->flow_share);
	status = moist_air_saturated_at_enthalpy(entering->enthalpy_btu_lb
	                                         - *drop / (1 - work->bypass),
	                                         entering->pressure_psia, &surface_f);
	if (status)
		return status;
	return moist_air_from_relative_humidity(surface_f, 100, entering->pressure_psia, surface);
}

/*
 * The wet bulb, above that of `entering`, at which the coil just begins to
 * sweat: there the surface holds as much water as the air.
 */
static enum status sweat(const struct working_coil *work, const struct moist_air *entering,
                         struct moist_air *sweating, double *drop, struct moist_air *surface)
{
	double low = entering->wet_bulb_f, high = entering->dry_bulb_f;

	for (int pass = 0; pass < PASSES && high - low > CLOSE_F; pass++) {
		double middle = (low + high) / 2;
		enum status status = moist_air_from_wet_bulb(entering->dry_bulb_f, middle,
		                                             entering->pressure_psia, sweating);

		if (!status)
			status = cool(work, sweating, drop, surface);
		if (status)
			return status;
		if (surface->humidity_ratio > sweating->humidity_ratio)
			low = middle;
		else
			high = middle;
	}
	return STATUS_OK;
}

/* The air that leaves when `entering` loses `drop`, `sensible` of it as temperature. */
static enum status leave(const struct moist_air *entering, double drop, double sensible,
                         struct moist_air *supply)
{
	double enthalpy = entering->enthalpy_btu_lb - drop;
	double ratio = entering->humidity_ratio
	               - (1 - sensible) * drop / (1061 + 0.444 * entering->dry_bulb_f);
	double dry_bulb_f = (enthalpy - 1061 * ratio) / (0.240 + 0.444 * ratio);
	struct moist_air saturated;
	enum status status = moist_air_from_relative_humidity(dry_bulb_f, 100,
	                                                      entering->pressure_psia, &saturated);

	if (status)
		return status;
	return moist_air_from_humidity_ratio(dry_bulb_f, fmin(ratio, saturated.humidity_ratio),
	                                     entering->pressure_psia, supply);
}

/* Prepares the work from the conditions. */
static enum status begin(const struct coil_conditions *conditions, struct working_coil *work)
{
	enum status status = STATUS_OK;

	if (!isfinite(conditions->capacity_ton) || !isfinite(conditions->airflow_cfm)
	    || !isfinite(conditions->outdoor_f) || !isfinite(conditions->sensible_ratio)
	    || !isfinite(conditions->entering.specific_volume_ft3_lb))
		return STATUS_NOT_A_NUMBER;
	if (conditions->capacity_ton <= 0 || conditions->airflow_cfm <= 0)
		return STATUS_NOT_POSITIVE;
	work->rating = usual_rating;
	if (conditions->sensible_ratio != COIL_SENSIBLE_RATIO)
		status = rate(conditions->sensible_ratio, &work->rating);
	if (status)
		return status;
	work->outdoor_f = conditions->outdoor_f;
	work->flow_share = conditions->airflow_cfm * 60 / conditions->entering.specific_volume_ft3_lb
	                   / (work->rating.flow_per_ton * conditions->capacity_ton);
	work->bypass = exp(-work->rating.exponent / work->flow_share);
	return check_flow(work->flow_share);
}

static enum status expect(const struct coil_conditions *conditions,
                          struct coil_expectation *expected)
{
	const struct moist_air *entering = &conditions->entering;
	struct moist_air surface, sweating = *entering;
	struct working_coil work;
	double drop, sensible, flow;
	enum status status = begin(conditions, &work);

	if (!status)
		status = cool(&work, entering, &drop, &surface);
	if (status)
		return status;
	expected->is_dry = surface.humidity_ratio >= entering->humidity_ratio;
	if (expected->is_dry)
		status = sweat(&work, entering, &sweating, &drop, &surface);
	if (!status)
		status = check_weather(sweating.wet_bulb_f, work.outdoor_f);
	if (status)
		return status;
	sensible = expected->is_dry ? 1 : sensible_share(entering, &surface);
	flow = work.rating.flow_per_ton * work.flow_share * conditions->capacity_ton;
	expected->capacity_btu_h = drop * flow;
	expected->sensible_btu_h = sensible * drop * flow;
	expected->sensible_ratio = sensible;
	expected->energy_share = energy_curve(sweating.wet_bulb_f, work.outdoor_f, work.flow_share);
	expected->apparatus_dew_point_f = surface.dry_bulb_f;
	expected->bypass_factor = work.bypass;
	status = leave(entering, drop, sensible, &expected->supply);
	expected->split_f = entering->dry_bulb_f - expected->supply.dry_bulb_f;
	return status;
}

enum status coil_expect(const struct coil_conditions *conditions,
                        struct coil_expectation *expected)
{
	enum status status = expect(conditions, expected);

	if (status)
		*expected = (struct coil_expectation){
			NAN, NAN, NAN, NAN, NAN, NAN, NAN, false,
			{ NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN },
		};
	return status;
}

/* Splits a place on a scale into the step below it and the way on to the next, 0 to 1. */
static int step_below(double place, double from, double step, int count, double *way)
{
	double steps = (place - from) / step;
	int below = (int)fmin(floor(steps), count - 2);

	*way = steps - below;
	return below;
}

enum status coil_target_superheat(double outdoor_f, double wet_bulb_f, double *superheat_f)
{
	double down, right, sum = 0;
	int row, column;

	*superheat_f = NAN;
	if (!isfinite(outdoor_f) || !isfinite(wet_bulb_f))
		return STATUS_NOT_A_NUMBER;
	if (outdoor_f < OUTDOOR_FROM_F || outdoor_f > OUTDOOR_FROM_F + OUTDOOR_STEP_F * (OUTDOORS - 1)
	    || wet_bulb_f < WET_BULB_FROM_F
	    || wet_bulb_f > WET_BULB_FROM_F + WET_BULB_STEP_F * (WET_BULBS - 1))
		return STATUS_OUT_OF_RANGE;
	row = step_below(outdoor_f, OUTDOOR_FROM_F, OUTDOOR_STEP_F, OUTDOORS, &down);
	column = step_below(wet_bulb_f, WET_BULB_FROM_F, WET_BULB_STEP_F, WET_BULBS, &right);
	for (int corner = 0; corner < 4; corner++) {
		int lower = corner / 2, righter = corner % 2;
		double weight = (lower ? down : 1 - down) * (righter ? right : 1 - right);
		int entry = superheats[row + lower][column + righter];

		if (weight > 0 && entry == 0)
			return STATUS_TABLE_DASH;
		sum += weight * entry;
	}
	*superheat_f = sum;
	return STATUS_OK;
}

enum status coil_condenser_over_outdoor(double seer, double *difference_f)
{
	*difference_f = NAN;
	if (!isfinite(seer))
		return STATUS_NOT_A_NUMBER;
	if (seer < 4 || seer > 40)
		return STATUS_OUT_OF_RANGE;
	*difference_f = seer < 10 ? 30 : seer < 12.5 ? 25 : seer < 16 ? 20 : 15;
	return STATUS_OK;
}

enum status coil_evaporator_under_return(double cfm_per_ton, double *difference_f)
{
	*difference_f = NAN;
	if (!isfinite(cfm_per_ton))
		return STATUS_NOT_A_NUMBER;
	if (cfm_per_ton < 300 || cfm_per_ton > 450)
		return STATUS_OUT_OF_RANGE;
	*difference_f = 35 + (400 - cfm_per_ton) / 10;
	return STATUS_OK;
}
