/*
 * Saturation properties of refrigerants.
 *
 * Each curve is cut into cells of equal width in temperature, with the value
 * and the slope at their borders; between them runs the cubic that has both
 * (Hermite's).  The generator proves that every cubic rises (density: falls)
 * over the whole of its cell, so that a pressure has one temperature.
 *
 * For the way back each cell has a polynomial that inverts its cubic to 2e-7 °F,
 * found by a table over the front bits of the pressure.  These few
 * multiplications are run thousands of times for one diagnosis; hence no
 * logarithm, no exponential, no division and no search.
 */
#include <padside/calc/refrigerant.h>

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

enum { CELLS = 64, BACK_TERMS = 5, OCTAVE_BITS = 5, MOST_PARTS = 224 };

struct node {
	double value; /* of the curve at the border of a cell */
	double slope; /* what it would gain over a whole cell at its slope there */
};

struct density {
	struct node nodes[CELLS + 1]; /* lb/ft³ over temperature */
};

struct saturation_line {
	struct node nodes[CELLS + 1];    /* psia over temperature */
	double back[CELLS][BACK_TERMS];  /* place in a cell: coefficients of rise, rise², … */
	unsigned first_part;             /* octave part of the lowest pressure */
	unsigned char start[MOST_PARTS]; /* the cell in which each part begins */
};

struct curves {
	double highest_f;              /* end of the range */
	double cells_per_f;            /* CELLS over the range of temperature */
	double f_per_cell;             /* its inverse */
	const struct saturation_line *dew;        /* pressure at which vapour condenses */
	const struct saturation_line *bubble;     /* pressure at which liquid boils */
	const struct density *density; /* of the saturated liquid */
};

#define LOWEST_F (-40.0)
#define BELOW_CRITICAL_F 5.0

#define LINE(id, ...) static const struct saturation_line line_##id = { __VA_ARGS__ };
#define DENSITY(id, ...) static const struct density density_##id = { __VA_ARGS__ };
#define CURVES(id, critical_f, dew_line, bubble_line)
#include "calc/refrigerant_curves.def"
#undef LINE
#undef DENSITY
#undef CURVES

static const struct curves curves[REFRIGERANT_COUNT] = {
#define LINE(id, ...)
#define DENSITY(id, ...)
#define CURVES(id, critical_f, dew_line, bubble_line) \
	[REFRIGERANT_##id] = { \
		.highest_f = (critical_f) - BELOW_CRITICAL_F, \
		.cells_per_f = CELLS / ((critical_f) - BELOW_CRITICAL_F - LOWEST_F), \
		.f_per_cell = ((critical_f) - BELOW_CRITICAL_F - LOWEST_F) / CELLS, \
		.dew = &line_##dew_line, \
		.bubble = &line_##bubble_line, \
		.density = &density_##id, \
	},
#include "calc/refrigerant_curves.def"
#undef LINE
#undef DENSITY
#undef CURVES
};

/* Share of a pressure, about 1e-6 °F: a rounded pressure of an end still leads to that end. */
static const double end_slack = 1e-8;

static const struct {
	const char *name;               /* ASHRAE Standard 34 */
	enum safety_class safety_class; /* ASHRAE Standard 34 */
	const char *composition;        /* substance, or parts and shares */
} identities[REFRIGERANT_COUNT] = {
#define REFRIGERANT(id, name, class, composition) \
	[REFRIGERANT_##id] = { name, SAFETY_CLASS_##class, composition },
#include <padside/calc/refrigerants.def>
#undef REFRIGERANT
};

static const struct curves *curves_of(enum refrigerant refrigerant)
{
	assert((unsigned)refrigerant < REFRIGERANT_COUNT);
	return &curves[refrigerant];
}

/* The cubic of a cell at `t` from 0 to 1, as its rise above the first node. */
static inline double cell_rise(const struct node *cell, double t)
{
	double rise = cell[1].value - cell[0].value;
	double square = 3.0 * rise - 2.0 * cell[0].slope - cell[1].slope;
	double cube = cell[0].slope + cell[1].slope - 2.0 * rise;

	return t * (cell[0].slope + t * (square + t * cube));
}

static inline enum status value_at(const struct curves *of, const struct node *nodes,
                                   double temp_f, double *value)
{
	if (!(temp_f >= LOWEST_F && temp_f <= of->highest_f)) {
		*value = NAN;
		return isnan(temp_f) ? STATUS_NOT_A_NUMBER : STATUS_OUT_OF_RANGE;
	}
	double x = (temp_f - LOWEST_F) * of->cells_per_f;
	int last = CELLS - 1;
	int i = (int)x < last ? (int)x : last;
	*value = nodes[i].value + cell_rise(nodes + i, x - i);
	return STATUS_OK;
}

/* What a pressure beyond the curve gives: a refusal, or an end that rounding missed. */
static enum status temp_at_end(const struct curves *of, const struct saturation_line *line,
                               double pressure_psia, double *temp_f)
{
	*temp_f = NAN;
	if (isnan(pressure_psia))
		return STATUS_NOT_A_NUMBER;
	if (pressure_psia <= 0.0)
		return STATUS_NOT_POSITIVE;
	if (fabs(pressure_psia / line->nodes[0].value - 1.0) < end_slack)
		*temp_f = LOWEST_F;
	else if (fabs(pressure_psia / line->nodes[CELLS].value - 1.0) < end_slack)
		*temp_f = of->highest_f;
	else
		return STATUS_OUT_OF_RANGE;
	return STATUS_OK;
}

/*
 * Counts pressures in steps of 1/32 of each octave: exponent and first five
 * bits of the fraction, which stand at the front of an IEC 60559 double.
 */
static inline unsigned octave_part(double pressure_psia)
{
	uint64_t bits;

	memcpy(&bits, &pressure_psia, sizeof bits);
	return (unsigned)(bits >> (52 - OCTAVE_BITS));
}

/* Where in a cell, from 0 to 1, the cubic has risen by `rise`. */
static inline double cell_place(const double *back, double rise)
{
	double square = rise * rise;

	return rise * (back[0] + back[1] * rise
	               + square * (back[2] + back[3] * rise + square * back[4]));
}

static inline enum status temp_at(const struct curves *of, const struct saturation_line *line,
                                  double pressure_psia, double *temp_f)
{
	if (!(pressure_psia > line->nodes[0].value && pressure_psia < line->nodes[CELLS].value))
		return temp_at_end(of, line, pressure_psia, temp_f);
	/* A step of an octave is narrower than a cell: at most one border lies in it. */
	int i = line->start[octave_part(pressure_psia) - line->first_part];
	i += pressure_psia >= line->nodes[i + 1].value;
	double place = cell_place(line->back[i], pressure_psia - line->nodes[i].value);
	double found_f = LOWEST_F + (i + place) * of->f_per_cell;
	*temp_f = found_f < of->highest_f ? found_f : of->highest_f;
	return STATUS_OK;
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

	/* Nearly always it is written as here. */
	for (int i = 0; i < REFRIGERANT_COUNT; i++)
		if (strcmp(identities[i].name, name) == 0) {
			*refrigerant = (enum refrigerant)i;
			return true;
		}
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
	return curves_of(refrigerant)->highest_f + BELOW_CRITICAL_F;
}

double refrigerant_lowest_temp_f(enum refrigerant refrigerant)
{
	assert((unsigned)refrigerant < REFRIGERANT_COUNT);
	return LOWEST_F;
}

double refrigerant_highest_temp_f(enum refrigerant refrigerant)
{
	return curves_of(refrigerant)->highest_f;
}

enum status refrigerant_dew_pressure(enum refrigerant refrigerant, double temp_f,
                                     double *pressure_psia)
{
	const struct curves *of = curves_of(refrigerant);

	return value_at(of, of->dew->nodes, temp_f, pressure_psia);
}

enum status refrigerant_bubble_pressure(enum refrigerant refrigerant, double temp_f,
                                        double *pressure_psia)
{
	const struct curves *of = curves_of(refrigerant);

	return value_at(of, of->bubble->nodes, temp_f, pressure_psia);
}

enum status refrigerant_dew_temp(enum refrigerant refrigerant, double pressure_psia,
                                 double *temp_f)
{
	const struct curves *of = curves_of(refrigerant);

	return temp_at(of, of->dew, pressure_psia, temp_f);
}

enum status refrigerant_bubble_temp(enum refrigerant refrigerant, double pressure_psia,
                                    double *temp_f)
{
	const struct curves *of = curves_of(refrigerant);

	return temp_at(of, of->bubble, pressure_psia, temp_f);
}

enum status refrigerant_liquid_density(enum refrigerant refrigerant, double temp_f,
                                       double *density_lb_ft3)
{
	const struct curves *of = curves_of(refrigerant);

	return value_at(of, of->density->nodes, temp_f, density_lb_ft3);
}
