/*
 * Saturation properties of refrigerants.
 *
 * Each line (dew, bubble, liquid density) is a short Chebyshev series in
 * s = sqrt(1 - T/Tc), the variable of Wagner's vapour-pressure equations: in
 * it the curves are smooth up to the critical point, so that ten terms are
 * enough everywhere.  The generator proves each series monotone, which is why
 * the inverse may trust Newton's method on it: there is one solution, and the
 * straight line of ln p over 1/T starts close to it.
 */
#include <padside/refrigerant.h>

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stddef.h>
#include <string.h>

enum { CURVE_TERMS = 10, NEWTON_STEPS = 20 };

struct curves {
	double critical_k;           /* critical temperature */
	double s_lowest;             /* s at the lowest temperature of the range: x = -1 */
	double s_highest;            /* s at the highest: x = +1 */
	double dew[CURVE_TERMS];     /* ln psia over x */
	double bubble[CURVE_TERMS];  /* ln psia over x */
	double density[CURVE_TERMS]; /* lb/ft³ over x */
};

static const struct curves curves[REFRIGERANT_COUNT] = {
#define CURVES(id, ...) [REFRIGERANT_##id] = { __VA_ARGS__ },
#include "calc/refrigerant_curves.def"
#undef CURVES
};

static const struct {
	const char *name;               /* ASHRAE Standard 34 */
	enum safety_class safety_class; /* ASHRAE Standard 34 */
	const char *composition;        /* substance, or parts and shares */
} identities[REFRIGERANT_COUNT] = {
#define REFRIGERANT(id, name, class, composition) \
	[REFRIGERANT_##id] = { name, SAFETY_CLASS_##class, composition },
#include "calc/refrigerants.def"
#undef REFRIGERANT
};

static const double lowest_f = -40.0;
static const double below_critical_f = 5.0;

/* Of ln p, about 1e-6 °F: a rounded pressure of an end still leads to that end. */
static const double end_slack = 1e-8;

static double kelvin_from_f(double temp_f)
{
	return (temp_f + 459.67) / 1.8;
}

static double f_from_kelvin(double temp_k)
{
	return temp_k * 1.8 - 459.67;
}

static const struct curves *curves_of(enum refrigerant refrigerant)
{
	assert((unsigned)refrigerant < REFRIGERANT_COUNT);
	return &curves[refrigerant];
}

/* Keeps x on the curve: the ends of the table are rounded numbers. */
static double x_clamped(double x)
{
	return fmin(fmax(x, -1.0), 1.0);
}

static double x_from_kelvin(const struct curves *of, double temp_k)
{
	double s = sqrt(1.0 - temp_k / of->critical_k);

	return x_clamped(2.0 * (s - of->s_lowest) / (of->s_highest - of->s_lowest) - 1.0);
}

static double kelvin_from_x(const struct curves *of, double x)
{
	double s = of->s_lowest + 0.5 * (x + 1.0) * (of->s_highest - of->s_lowest);

	return of->critical_k * (1.0 - s * s);
}

/* Clenshaw's recurrence for the series and its slope at x. */
static double series_value(const double *series, double x, double *slope)
{
	double b1 = 0.0, b2 = 0.0;
	double d1 = 0.0, d2 = 0.0;

	for (size_t i = CURVE_TERMS - 1; i > 0; i--) {
		double d = 2.0 * x * d1 - d2 + 2.0 * b1;
		double b = 2.0 * x * b1 - b2 + series[i];

		d2 = d1;
		d1 = d;
		b2 = b1;
		b1 = b;
	}
	*slope = x * d1 - d2 + b1;
	return x * b1 - b2 + series[0];
}

/* The series at x = -1 and x = +1, where every Chebyshev polynomial is ±1. */
static void series_ends(const double *series, double *lowest, double *highest)
{
	double even = 0.0, odd = 0.0;

	for (size_t i = 0; i < CURVE_TERMS; i += 2) {
		even += series[i];
		odd += series[i + 1];
	}
	*lowest = even - odd;
	*highest = even + odd;
}

static enum status value_at(enum refrigerant refrigerant, const double *series, double temp_f,
                            double *value)
{
	double slope;

	*value = NAN;
	if (isnan(temp_f))
		return STATUS_NOT_A_NUMBER;
	if (temp_f < lowest_f || temp_f > refrigerant_highest_temp_f(refrigerant))
		return STATUS_OUT_OF_RANGE;
	*value = series_value(series, x_from_kelvin(curves_of(refrigerant), kelvin_from_f(temp_f)),
	                      &slope);
	return STATUS_OK;
}

static enum status pressure_at(enum refrigerant refrigerant, const double *series, double temp_f,
                               double *pressure_psia)
{
	double ln_psia;
	enum status status = value_at(refrigerant, series, temp_f, &ln_psia);

	*pressure_psia = exp(ln_psia);
	return status;
}

/* Where ln p would lie if it were a straight line over 1/T between the ends. */
static double first_guess(const struct curves *of, double share)
{
	double lowest = 1.0 / kelvin_from_x(of, -1.0);
	double highest = 1.0 / kelvin_from_x(of, 1.0);

	return x_from_kelvin(of, 1.0 / (lowest + share * (highest - lowest)));
}

static enum status temp_at(enum refrigerant refrigerant, const double *series,
                           double pressure_psia, double *temp_f)
{
	const struct curves *of = curves_of(refrigerant);
	double lowest, highest;

	*temp_f = NAN;
	if (isnan(pressure_psia))
		return STATUS_NOT_A_NUMBER;
	if (pressure_psia <= 0.0)
		return STATUS_NOT_POSITIVE;
	double ln_psia = log(pressure_psia);
	series_ends(series, &lowest, &highest);
	if (ln_psia < lowest - end_slack || ln_psia > highest + end_slack)
		return STATUS_OUT_OF_RANGE;

	double x = first_guess(of, (ln_psia - lowest) / (highest - lowest));
	for (int i = 0; i < NEWTON_STEPS; i++) {
		double slope;
		double before = x;

		x = x_clamped(x - (series_value(series, x, &slope) - ln_psia) / slope);
		if (fabs(x - before) < 1e-9) { /* quadratic: the next would be below rounding */
			*temp_f = fmin(fmax(f_from_kelvin(kelvin_from_x(of, x)), lowest_f),
			               refrigerant_highest_temp_f(refrigerant));
			return STATUS_OK;
		}
	}
	return STATUS_NO_CONVERGENCE;
}

const char *refrigerant_name(enum refrigerant refrigerant)
{
	assert((unsigned)refrigerant < REFRIGERANT_COUNT);
	return identities[refrigerant].name;
}

/* Letters and digits alone, in lower case, without the prefix: "410a". */
static void bare_name(const char *name, char *bare, size_t size)
{
	static const char *const prefixes[] = { "hcfc", "hfc", "hfo", "hc", "r" };
	size_t length = 0;

	for (; *name != '\0' && length + 1 < size; name++)
		if (strchr(" -_", *name) == NULL)
			bare[length++] = (char)tolower((unsigned char)*name);
	/* A name too long to be one is made to match nothing. */
	bare[*name == '\0' ? length : 0] = '\0';
	for (size_t i = 0; i < sizeof prefixes / sizeof *prefixes; i++) {
		size_t prefix = strlen(prefixes[i]);

		if (strncmp(bare, prefixes[i], prefix) == 0) {
			memmove(bare, bare + prefix, strlen(bare + prefix) + 1);
			return;
		}
	}
}

bool refrigerant_from_name(const char *name, enum refrigerant *refrigerant)
{
	char wanted[24], have[24];

	bare_name(name, wanted, sizeof wanted);
	for (int i = 0; i < REFRIGERANT_COUNT; i++) {
		bare_name(identities[i].name, have, sizeof have);
		if (strcmp(wanted, have) == 0) {
			*refrigerant = (enum refrigerant)i;
			return true;
		}
	}
	return false;
}

const char *refrigerant_composition(enum refrigerant refrigerant)
{
	assert((unsigned)refrigerant < REFRIGERANT_COUNT);
	return identities[refrigerant].composition;
}

enum safety_class refrigerant_safety_class(enum refrigerant refrigerant)
{
	assert((unsigned)refrigerant < REFRIGERANT_COUNT);
	return identities[refrigerant].safety_class;
}

const char *safety_class_name(enum safety_class safety_class)
{
	static const char *const names[] = {
		[SAFETY_CLASS_A1] = "A1",
		[SAFETY_CLASS_A2L] = "A2L",
		[SAFETY_CLASS_A3] = "A3",
	};

	assert((unsigned)safety_class < sizeof names / sizeof *names);
	return names[safety_class];
}

bool refrigerant_is_flammable(enum refrigerant refrigerant)
{
	return refrigerant_safety_class(refrigerant) != SAFETY_CLASS_A1;
}

double refrigerant_critical_temp_f(enum refrigerant refrigerant)
{
	return f_from_kelvin(curves_of(refrigerant)->critical_k);
}

double refrigerant_lowest_temp_f(enum refrigerant refrigerant)
{
	assert((unsigned)refrigerant < REFRIGERANT_COUNT);
	return lowest_f;
}

double refrigerant_highest_temp_f(enum refrigerant refrigerant)
{
	return refrigerant_critical_temp_f(refrigerant) - below_critical_f;
}

enum status refrigerant_dew_pressure(enum refrigerant refrigerant, double temp_f,
                                     double *pressure_psia)
{
	return pressure_at(refrigerant, curves_of(refrigerant)->dew, temp_f, pressure_psia);
}

enum status refrigerant_bubble_pressure(enum refrigerant refrigerant, double temp_f,
                                        double *pressure_psia)
{
	return pressure_at(refrigerant, curves_of(refrigerant)->bubble, temp_f, pressure_psia);
}

enum status refrigerant_dew_temp(enum refrigerant refrigerant, double pressure_psia,
                                 double *temp_f)
{
	return temp_at(refrigerant, curves_of(refrigerant)->dew, pressure_psia, temp_f);
}

enum status refrigerant_bubble_temp(enum refrigerant refrigerant, double pressure_psia,
                                    double *temp_f)
{
	return temp_at(refrigerant, curves_of(refrigerant)->bubble, pressure_psia, temp_f);
}

enum status refrigerant_liquid_density(enum refrigerant refrigerant, double temp_f,
                                       double *density_lb_ft3)
{
	return value_at(refrigerant, curves_of(refrigerant)->density, temp_f, density_lb_ft3);
}
