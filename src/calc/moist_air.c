/*
 * Moist air after ASHRAE Fundamentals (2017), chapter 1, IP units.
 *
 * Every state is fixed by dry bulb, humidity ratio and pressure; each entry
 * point finds those and `fill` works out the rest.  Three answers need
 * iteration, each a Newton step kept inside a bracket: dew point from vapour
 * pressure (on the logarithm, which is nearly straight), wet bulb from
 * humidity ratio, and dry bulb from wet bulb and relative humidity.
 */
#include <padside/calc/moist_air.h>

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#define RANKINE_F 459.67     /* 0 °F in °R */
#define TRIPLE_POINT_F 32.018
#define FREEZING_F 32.0
#define WATER_TO_AIR 0.621945 /* ratio of molar masses, below equation 12 */
#define AIR_GAS_CONSTANT 53.350 /* ft·lbf/(lb·°R), equation 1 */
#define LEAST_HUMIDITY_RATIO 1e-7 /* drier air is taken as this dry, as psychrolib does */
#define LOWEST_SATURATION_F (-148.0) /* where equation 5 ends */
#define PASSES 40             /* a bracket halves at worst; far more than Newton needs */
#define CLOSE_F 1e-7          /* a step this small ends the search */

/* Water vapour at saturation: logarithm of the pressure, and its slope. */
struct saturation {
	double log_psia; /* ln of psia */
	double slope;    /* d ln(psia) / d°F */
};

/* Equation 5 over ice, 6 over water, and their derivatives. */
static struct saturation saturation_at(double temp_f)
{
	double t = temp_f + RANKINE_F;
	double log_t = log(t);

	if (temp_f <= TRIPLE_POINT_F)
		return (struct saturation){
			.log_psia = -1.0214165e4 / t - 4.8932428
			            + t * (-5.3765794e-3 + t * (1.9202377e-7
			            + t * (3.5575832e-10 - t * 9.0344688e-14)))
			            + 4.1635019 * log_t,
			.slope = 1.0214165e4 / (t * t) - 5.3765794e-3
			         + t * (2 * 1.9202377e-7 + t * (3 * 3.5575832e-10
			         - t * 4 * 9.0344688e-14)) + 4.1635019 / t,
		};
	return (struct saturation){
		.log_psia = -1.0440397e4 / t - 11.294650
		            + t * (-2.7022355e-2 + t * (1.2890360e-5 - t * 2.4780681e-9))
		            + 6.5459673 * log_t,
		.slope = 1.0440397e4 / (t * t) - 2.7022355e-2
		         + t * (2 * 1.2890360e-5 - t * 3 * 2.4780681e-9) + 6.5459673 / t,
	};
}

/* Equation 20: humidity ratio from the vapour's pressure. */
static double ratio_of_vapour(double vapour_psia, double pressure_psia)
{
	return fmax(WATER_TO_AIR * vapour_psia / (pressure_psia - vapour_psia),
	            LEAST_HUMIDITY_RATIO);
}

/* Equation 20 at saturation. */
static double saturated_ratio(double temp_f, double pressure_psia)
{
	return ratio_of_vapour(exp(saturation_at(temp_f).log_psia), pressure_psia);
}

/* Equation 20 the other way. */
static double vapour_of_ratio(double humidity_ratio, double pressure_psia)
{
	return pressure_psia * humidity_ratio / (WATER_TO_AIR + humidity_ratio);
}

/* Equation 30. */
static double enthalpy_of(double dry_bulb_f, double humidity_ratio)
{
	return 0.240 * dry_bulb_f + humidity_ratio * (1061 + 0.444 * dry_bulb_f);
}

/* Dew point from vapour pressure: equations 5 and 6 solved for temperature. */
static double dew_point_of(double vapour_psia)
{
	double wanted = log(vapour_psia);
	double temp_f = 50;

	for (int pass = 0; pass < PASSES; pass++) {
		struct saturation here = saturation_at(temp_f);
		double step = (wanted - here.log_psia) / here.slope;

		temp_f = fmax(temp_f + step, LOWEST_SATURATION_F);
		if (fabs(step) < CLOSE_F)
			break;
	}
	return temp_f;
}

/*
 * Equations 33 (water) and 35 (ice): the heat that air gives to the wick is
 * what the water needs to evaporate.  Written once for both:
 *
 *   ratio = ((latent - less*wb)*saturated - 0.24*(db - wb)) / (latent + 0.444*db - sensible*wb)
 */
struct wick {
	double latent;   /* Btu/lb to evaporate at 0 °F */
	double less;     /* its fall, Btu/lb per °F */
	double sensible; /* heat of the liquid or ice, Btu/lb per °F */
};

static const struct wick wet_wick = { 1093, 0.556, 1.0 };
static const struct wick icy_wick = { 1220, 0.04, 0.48 };

static const struct wick *wick_at(double wet_bulb_f)
{
	return wet_bulb_f >= FREEZING_F ? &wet_wick : &icy_wick;
}

/* Humidity ratio from dry and wet bulb, below zero where no air is so dry; and d/d wet bulb. */
static double ratio_of_wet_bulb(double dry_bulb_f, double wet_bulb_f, double pressure_psia,
                                double *slope)
{
	const struct wick *wick = wick_at(wet_bulb_f);
	struct saturation here = saturation_at(wet_bulb_f);
	double vapour = exp(here.log_psia);
	double saturated = WATER_TO_AIR * vapour / (pressure_psia - vapour);
	double saturated_slope = saturated * here.slope * pressure_psia / (pressure_psia - vapour);
	double latent = wick->latent - wick->less * wet_bulb_f;
	double below = wick->latent + 0.444 * dry_bulb_f - wick->sensible * wet_bulb_f;
	double ratio = (latent * saturated - 0.240 * (dry_bulb_f - wet_bulb_f)) / below;

	if (slope)
		*slope = (latent * saturated_slope - wick->less * saturated + 0.240
		          + ratio * wick->sensible) / below;
	return ratio;
}

/*
 * Wet bulb from humidity ratio, between the dew point and the dry bulb.  At
 * freezing the ratio jumps down as ice becomes water, so that near it there
 * may be two answers: halve until the bracket lies on one side of freezing
 * (see the header), and go on from there by Newton.
 */
static double wet_bulb_of(double dry_bulb_f, double dew_point_f, double humidity_ratio,
                          double pressure_psia)
{
	double low = dew_point_f, high = dry_bulb_f;
	double guess = (low + high) / 2;

	for (int pass = 0; pass < PASSES && high - low > CLOSE_F; pass++) {
		double slope;
		double error = ratio_of_wet_bulb(dry_bulb_f, guess, pressure_psia, &slope)
		               - humidity_ratio;
		double next = guess - error / slope;
		bool straddles;

		if (error > 0)
			high = guess;
		else
			low = guess;
		straddles = low < FREEZING_F && high >= FREEZING_F;
		if (straddles || next <= low || next >= high)
			next = (low + high) / 2;
		if (fabs(next - guess) < CLOSE_F && !straddles)
			return next;
		guess = next;
	}
	return guess;
}

static enum status refuse(enum status status, struct moist_air *air)
{
	*air = (struct moist_air){ NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN };
	return status;
}

/* Whether two inputs (°F or %) and the pressure can be used at all. */
static enum status check(double first, double second, double pressure_psia)
{
	if (!isfinite(first) || !isfinite(second) || !isfinite(pressure_psia))
		return STATUS_NOT_A_NUMBER;
	if (pressure_psia < 5 || pressure_psia > 20)
		return STATUS_OUT_OF_RANGE;
	return STATUS_OK;
}

static bool is_temp(double temp_f)
{
	return temp_f >= MOIST_AIR_LOWEST_F && temp_f <= MOIST_AIR_HIGHEST_F;
}

/* Whether water would boil: a saturated state needs its vapour well below the pressure. */
static bool is_boiling(double temp_f, double pressure_psia)
{
	return exp(saturation_at(temp_f).log_psia) > 0.9 * pressure_psia;
}

/* What is known beside the dry bulb and humidity ratio; NAN what is not. */
struct known {
	double wet_bulb_f;        /* °F */
	double dew_point_f;       /* °F */
	double relative_humidity; /* % */
	double saturated_psia;    /* vapour of saturated air at the dry bulb */
};

static const struct known nothing = { NAN, NAN, NAN, NAN };

/* Completes `air`; what was given comes back as it was given. */
static enum status fill(double dry_bulb_f, double humidity_ratio, double pressure_psia,
                        struct known known, struct moist_air *air)
{
	double saturated = isnan(known.saturated_psia) ? exp(saturation_at(dry_bulb_f).log_psia)
	                                               : known.saturated_psia;
	double ratio = fmax(humidity_ratio, LEAST_HUMIDITY_RATIO);
	double vapour = fmin(vapour_of_ratio(ratio, pressure_psia), saturated);
	double volume = AIR_GAS_CONSTANT * (dry_bulb_f + RANKINE_F) * (1 + 1.607858 * ratio)
	                / (144 * pressure_psia);
	double dew_point = known.dew_point_f;
	double wet_bulb = known.wet_bulb_f;

	if (!is_temp(dry_bulb_f))
		return refuse(STATUS_OUT_OF_RANGE, air);
	if (isnan(dew_point))
		dew_point = fmin(dew_point_of(vapour), dry_bulb_f);
	if (isnan(wet_bulb))
		wet_bulb = wet_bulb_of(dry_bulb_f, dew_point, ratio, pressure_psia);
	*air = (struct moist_air){
		.dry_bulb_f = dry_bulb_f,
		.wet_bulb_f = wet_bulb,
		.dew_point_f = dew_point,
		.relative_humidity = isnan(known.relative_humidity) ? 100 * vapour / saturated
		                                                    : known.relative_humidity,
		.humidity_ratio = ratio,
		.enthalpy_btu_lb = enthalpy_of(dry_bulb_f, ratio),
		.specific_volume_ft3_lb = volume, /* equation 26 */
		.density_lb_ft3 = (1 + ratio) / volume, /* equation 11 */
		.pressure_psia = pressure_psia,
	};
	return STATUS_OK;
}

enum status moist_air_from_wet_bulb(double dry_bulb_f, double wet_bulb_f,
                                    double pressure_psia, struct moist_air *air)
{
	enum status status = check(dry_bulb_f, wet_bulb_f, pressure_psia);
	struct known known = nothing;
	double ratio;

	if (status)
		return refuse(status, air);
	if (!is_temp(dry_bulb_f) || !is_temp(wet_bulb_f))
		return refuse(STATUS_OUT_OF_RANGE, air);
	if (wet_bulb_f > dry_bulb_f)
		return refuse(STATUS_WET_BULB_ABOVE_DRY_BULB, air);
	if (is_boiling(wet_bulb_f, pressure_psia))
		return refuse(STATUS_OUT_OF_RANGE, air);
	ratio = ratio_of_wet_bulb(dry_bulb_f, wet_bulb_f, pressure_psia, NULL);
	if (ratio < 0)
		return refuse(STATUS_WET_BULB_TOO_LOW, air);
	known.wet_bulb_f = wet_bulb_f;
	return fill(dry_bulb_f, ratio, pressure_psia, known, air);
}

enum status moist_air_from_relative_humidity(double dry_bulb_f, double relative_humidity,
                                             double pressure_psia, struct moist_air *air)
{
	enum status status = check(dry_bulb_f, relative_humidity, pressure_psia);
	struct known known = nothing;
	double vapour;

	if (status)
		return refuse(status, air);
	if (relative_humidity < 0 || relative_humidity > 100)
		return refuse(STATUS_HUMIDITY_RANGE, air);
	if (!is_temp(dry_bulb_f))
		return refuse(STATUS_OUT_OF_RANGE, air);
	known.saturated_psia = exp(saturation_at(dry_bulb_f).log_psia);
	vapour = relative_humidity / 100 * known.saturated_psia;
	if (vapour > 0.9 * pressure_psia)
		return refuse(STATUS_OUT_OF_RANGE, air);
	known.relative_humidity = relative_humidity;
	/* Saturated air needs no search. */
	if (relative_humidity >= 100)
		known.wet_bulb_f = known.dew_point_f = dry_bulb_f;
	return fill(dry_bulb_f, ratio_of_vapour(vapour, pressure_psia), pressure_psia, known, air);
}

enum status moist_air_from_dew_point(double dry_bulb_f, double dew_point_f,
                                     double pressure_psia, struct moist_air *air)
{
	enum status status = check(dry_bulb_f, dew_point_f, pressure_psia);
	struct known known = nothing;
	double vapour;

	if (status)
		return refuse(status, air);
	if (!is_temp(dry_bulb_f) || !is_temp(dew_point_f))
		return refuse(STATUS_OUT_OF_RANGE, air);
	if (dew_point_f > dry_bulb_f)
		return refuse(STATUS_DEW_POINT_ABOVE_DRY_BULB, air);
	if (is_boiling(dew_point_f, pressure_psia))
		return refuse(STATUS_OUT_OF_RANGE, air);
	vapour = exp(saturation_at(dew_point_f).log_psia);
	known.dew_point_f = dew_point_f;
	return fill(dry_bulb_f, ratio_of_vapour(vapour, pressure_psia), pressure_psia, known, air);
}

/*
 * With a wet bulb given, its equation is linear in the dry bulb: the humidity
 * ratio falls straight, while that of a given relative humidity rises.  The
 * difference, cleared of fractions, has one zero between the wet bulb and the
 * dry bulb of bone-dry air.
 */
static double dry_bulb_of(double wet_bulb_f, double humidity, double pressure_psia)
{
	const struct wick *wick = wick_at(wet_bulb_f);
	double saturated = saturated_ratio(wet_bulb_f, pressure_psia);
	double latent = wick->latent - wick->less * wet_bulb_f;
	double low = wet_bulb_f, high = wet_bulb_f + latent * saturated / 0.240;
	double guess = high - humidity * (high - low);

	for (int pass = 0; pass < PASSES && high - low > CLOSE_F; pass++) {
		struct saturation here = saturation_at(guess);
		double below = wick->latent + 0.444 * guess - wick->sensible * wet_bulb_f;
		double ratio = (latent * saturated - 0.240 * (guess - wet_bulb_f)) / below;
		double ratio_slope = -(0.240 + 0.444 * ratio) / below;
		double vapour = humidity * exp(here.log_psia);
		double error = ratio * pressure_psia - vapour * (ratio + WATER_TO_AIR);
		double slope = ratio_slope * (pressure_psia - vapour)
		               - vapour * here.slope * (ratio + WATER_TO_AIR);
		double next = guess - error / slope;

		if (error > 0)
			low = guess;
		else
			high = guess;
		if (!(next > low && next < high))
			next = (low + high) / 2;
		if (fabs(next - guess) < CLOSE_F)
			return next;
		guess = next;
	}
	return guess;
}

enum status moist_air_from_wet_bulb_and_relative_humidity(double wet_bulb_f,
                                                          double relative_humidity,
                                                          double pressure_psia,
                                                          struct moist_air *air)
{
	enum status status = check(wet_bulb_f, relative_humidity, pressure_psia);
	struct known known = nothing;
	double dry_bulb_f, ratio;

	if (status)
		return refuse(status, air);
	if (relative_humidity < 0 || relative_humidity > 100)
		return refuse(STATUS_HUMIDITY_RANGE, air);
	if (!is_temp(wet_bulb_f) || is_boiling(wet_bulb_f, pressure_psia))
		return refuse(STATUS_OUT_OF_RANGE, air);
	dry_bulb_f = dry_bulb_of(wet_bulb_f, relative_humidity / 100, pressure_psia);
	ratio = ratio_of_wet_bulb(dry_bulb_f, wet_bulb_f, pressure_psia, NULL);
	known.wet_bulb_f = wet_bulb_f;
	known.relative_humidity = relative_humidity;
	return fill(dry_bulb_f, ratio, pressure_psia, known, air);
}

enum status moist_air_from_wet_bulb_and_dew_point(double wet_bulb_f, double dew_point_f,
                                                  double pressure_psia, struct moist_air *air)
{
	enum status status = check(wet_bulb_f, dew_point_f, pressure_psia);
	const struct wick *wick = wick_at(wet_bulb_f);
	struct known known = nothing;
	double ratio, saturated, dry_bulb_f;

	if (status)
		return refuse(status, air);
	if (!is_temp(wet_bulb_f) || !is_temp(dew_point_f)
	    || is_boiling(wet_bulb_f, pressure_psia))
		return refuse(STATUS_OUT_OF_RANGE, air);
	if (dew_point_f > wet_bulb_f)
		return refuse(STATUS_DEW_POINT_ABOVE_WET_BULB, air);
	ratio = ratio_of_vapour(exp(saturation_at(dew_point_f).log_psia), pressure_psia);
	saturated = saturated_ratio(wet_bulb_f, pressure_psia);
	/* The wick's equation solved for the dry bulb. */
	dry_bulb_f = ((wick->latent - wick->less * wet_bulb_f) * saturated + 0.240 * wet_bulb_f
	              - ratio * (wick->latent - wick->sensible * wet_bulb_f))
	             / (0.240 + 0.444 * ratio);
	known.wet_bulb_f = wet_bulb_f;
	known.dew_point_f = dew_point_f;
	return fill(fmax(dry_bulb_f, wet_bulb_f), ratio, pressure_psia, known, air);
}

enum status moist_air_from_dew_point_and_relative_humidity(double dew_point_f,
                                                           double relative_humidity,
                                                           double pressure_psia,
                                                           struct moist_air *air)
{
	enum status status = check(dew_point_f, relative_humidity, pressure_psia);
	struct known known = nothing;
	double vapour, dry_bulb_f;

	if (status)
		return refuse(status, air);
	if (relative_humidity <= 0 || relative_humidity > 100)
		return refuse(STATUS_HUMIDITY_RANGE, air);
	if (!is_temp(dew_point_f) || is_boiling(dew_point_f, pressure_psia))
		return refuse(STATUS_OUT_OF_RANGE, air);
	vapour = exp(saturation_at(dew_point_f).log_psia);
	dry_bulb_f = fmax(dew_point_of(vapour / (relative_humidity / 100)), dew_point_f);
	known.dew_point_f = dew_point_f;
	known.relative_humidity = relative_humidity;
	return fill(dry_bulb_f, ratio_of_vapour(vapour, pressure_psia), pressure_psia, known, air);
}

enum status moist_air_from_humidity_ratio(double dry_bulb_f, double humidity_ratio,
                                          double pressure_psia, struct moist_air *air)
{
	enum status status = check(dry_bulb_f, humidity_ratio, pressure_psia);
	struct known known = nothing;
	double vapour;

	if (status)
		return refuse(status, air);
	if (!is_temp(dry_bulb_f) || humidity_ratio < 0)
		return refuse(STATUS_OUT_OF_RANGE, air);
	vapour = vapour_of_ratio(humidity_ratio, pressure_psia);
	known.saturated_psia = exp(saturation_at(dry_bulb_f).log_psia);
	if (vapour > known.saturated_psia * (1 + 1e-9) || vapour > 0.9 * pressure_psia)
		return refuse(STATUS_OUT_OF_RANGE, air);
	return fill(dry_bulb_f, humidity_ratio, pressure_psia, known, air);
}

enum status moist_air_saturation_pressure(double temp_f, double *pressure_psia)
{
	*pressure_psia = NAN;
	if (!isfinite(temp_f))
		return STATUS_NOT_A_NUMBER;
	if (!is_temp(temp_f))
		return STATUS_OUT_OF_RANGE;
	*pressure_psia = exp(saturation_at(temp_f).log_psia);
	return STATUS_OK;
}

enum status moist_air_saturated_at_enthalpy(double enthalpy_btu_lb, double pressure_psia,
                                            double *temp_f)
{
	enum status status = check(enthalpy_btu_lb, 0, pressure_psia);
	double low = MOIST_AIR_LOWEST_F, high = 140;
	double guess = 50;

	*temp_f = NAN;
	if (status)
		return status;
	for (int pass = 0; pass < PASSES; pass++) {
		struct saturation here = saturation_at(guess);
		double vapour = exp(here.log_psia);
		double ratio = ratio_of_vapour(vapour, pressure_psia);
		double ratio_slope = ratio * here.slope * pressure_psia / (pressure_psia - vapour);
		double error = enthalpy_of(guess, ratio) - enthalpy_btu_lb;
		double next = guess - error / (0.240 + 0.444 * ratio
		                               + ratio_slope * (1061 + 0.444 * guess));

		if (error > 0)
			high = guess;
		else
			low = guess;
		if (next <= low || next >= high)
			next = (low + high) / 2;
		if (fabs(next - guess) < CLOSE_F) {
			if (next > 139.99 || next < MOIST_AIR_LOWEST_F + 0.01)
				return STATUS_OUT_OF_RANGE;
			*temp_f = next;
			return STATUS_OK;
		}
		guess = next;
	}
	return STATUS_NO_CONVERGENCE;
}
