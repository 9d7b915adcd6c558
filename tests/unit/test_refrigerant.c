/*
 * Refrigerants against vectors of the reference library, published values, and
 * themselves: order, monotony, there and back.
 */
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/calc/refrigerant.h>

Suite *refrigerant_suite(void);

/* The limits that the figures are held to. */
static const double pressure_limit = 1e-3; /* relative */
static const double temp_limit_f = 0.05;
static const double density_limit = 3e-3; /* relative */

static const double psi_per_kpa = 0.14503773773;
static const double lb_ft3_per_kg_m3 = 0.062427960576;

static double dew_pressure(enum refrigerant refrigerant, double temp_f)
{
	double pressure_psia;

	ck_assert_int_eq(refrigerant_dew_pressure(refrigerant, temp_f, &pressure_psia), STATUS_OK);
	return pressure_psia;
}

static double bubble_pressure(enum refrigerant refrigerant, double temp_f)
{
	double pressure_psia;

	ck_assert_int_eq(refrigerant_bubble_pressure(refrigerant, temp_f, &pressure_psia),
	                 STATUS_OK);
	return pressure_psia;
}

static double dew_temp(enum refrigerant refrigerant, double pressure_psia)
{
	double temp_f;

	ck_assert_int_eq(refrigerant_dew_temp(refrigerant, pressure_psia, &temp_f), STATUS_OK);
	return temp_f;
}

static double bubble_temp(enum refrigerant refrigerant, double pressure_psia)
{
	double temp_f;

	ck_assert_int_eq(refrigerant_bubble_temp(refrigerant, pressure_psia, &temp_f), STATUS_OK);
	return temp_f;
}

static double liquid_density(enum refrigerant refrigerant, double temp_f)
{
	double density_lb_ft3;

	ck_assert_int_eq(refrigerant_liquid_density(refrigerant, temp_f, &density_lb_ft3),
	                 STATUS_OK);
	return density_lb_ft3;
}

static void assert_relative(double value, double expected, double limit)
{
	ck_assert_double_eq_tol(value / expected, 1.0, limit);
}

/* The i-th of `count` temperatures from one end of the range to the other. */
static double grid_temp(enum refrigerant refrigerant, int i, int count)
{
	double lowest = refrigerant_lowest_temp_f(refrigerant);
	double highest = refrigerant_highest_temp_f(refrigerant);

	return i == count - 1 ? highest : lowest + (highest - lowest) * i / (count - 1);
}

/* CoolProp's values; the file names its version and date. */
START_TEST(agrees_with_the_reference_library)
{
	FILE *file = fopen("tests/reference/vectors/refrigerant.csv", "r");
	char line[160], name[16];
	int rows = 0;

	ck_assert_ptr_nonnull(file);
	while (fgets(line, sizeof line, file) != NULL) {
		double temp_f, dew_psia, bubble_psia, density_lb_ft3;
		enum refrigerant refrigerant;

		if (sscanf(line, "%15[^,],%lf,%lf,%lf,%lf", name, &temp_f, &dew_psia, &bubble_psia,
		           &density_lb_ft3) != 5)
			continue;
		rows++;
		ck_assert(refrigerant_from_name(name, &refrigerant));
		assert_relative(dew_pressure(refrigerant, temp_f), dew_psia, pressure_limit);
		assert_relative(bubble_pressure(refrigerant, temp_f), bubble_psia, pressure_limit);
		assert_relative(liquid_density(refrigerant, temp_f), density_lb_ft3, density_limit);
		ck_assert_double_eq_tol(dew_temp(refrigerant, dew_psia), temp_f, temp_limit_f);
		ck_assert_double_eq_tol(bubble_temp(refrigerant, bubble_psia), temp_f, temp_limit_f);
	}
	fclose(file);
	ck_assert_int_eq(rows, 19 * REFRIGERANT_COUNT);
}
END_TEST

/*
 * Saturation at 0 and 25 °C of NIST Chemistry WebBook (SRD 69), Thermophysical
 * Properties of Fluid Systems: from memory.
 */
START_TEST(agrees_with_published_tables)
{
	static const struct {
		enum refrigerant refrigerant;
		double temp_c, pressure_kpa, density_kg_m3;
	} rows[] = {
		{ REFRIGERANT_R22, 0, 497.99, 1281.5 },   { REFRIGERANT_R22, 25, 1043.9, 1190.7 },
		{ REFRIGERANT_R134A, 0, 292.80, 1294.8 }, { REFRIGERANT_R134A, 25, 665.4, 1206.7 },
		{ REFRIGERANT_R290, 0, 474.5, 528.6 },    { REFRIGERANT_R290, 25, 952.1, 492.4 },
		{ REFRIGERANT_R32, 0, 813.1, 1055.3 },    { REFRIGERANT_R32, 25, 1689.6, 961.0 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double temp_f = rows[i].temp_c * 1.8 + 32.0;

		assert_relative(dew_pressure(rows[i].refrigerant, temp_f),
		                rows[i].pressure_kpa * psi_per_kpa, 2e-3);
		assert_relative(liquid_density(rows[i].refrigerant, temp_f),
		                rows[i].density_kg_m3 * lb_ft3_per_kg_m3, 3e-3);
	}
}
END_TEST

/*
 * The trade's pressure-temperature charts, psig at sea level: dew at 40 °F,
 * bubble at 100 °F.  Common practice, from memory; charts differ by 1 psi or so.
 */
START_TEST(agrees_with_the_pocket_chart)
{
	static const struct {
		enum refrigerant refrigerant;
		double dew_40_psig, bubble_100_psig;
	} rows[] = {
		{ REFRIGERANT_R22, 68.5, 195.9 },  { REFRIGERANT_R410A, 118, 317 },
		{ REFRIGERANT_R134A, 35.0, 124 },  { REFRIGERANT_R404A, 85, 237 },
		{ REFRIGERANT_R407C, 63, 223 },    { REFRIGERANT_R32, 121, 325 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		ck_assert_double_eq_tol(dew_pressure(rows[i].refrigerant, 40) - 14.696,
		                        rows[i].dew_40_psig, 1.5);
		ck_assert_double_eq_tol(bubble_pressure(rows[i].refrigerant, 100) - 14.696,
		                        rows[i].bubble_100_psig, 3.0);
	}
}
END_TEST

/*
 * Critical temperatures and normal boiling points (14.696 psia, dew) as ASHRAE
 * Fundamentals, chapter "Refrigerants", gives them, °C: from memory.
 */
START_TEST(agrees_with_published_single_points)
{
	static const struct {
		enum refrigerant refrigerant;
		double critical_c;
	} critical[] = {
		{ REFRIGERANT_R22, 96.15 },   { REFRIGERANT_R410A, 71.36 }, { REFRIGERANT_R32, 78.11 },
		{ REFRIGERANT_R134A, 101.06 }, { REFRIGERANT_R407C, 86.03 }, { REFRIGERANT_R404A, 72.12 },
		{ REFRIGERANT_R507A, 70.62 }, { REFRIGERANT_R290, 96.74 },  { REFRIGERANT_R1234YF, 94.7 },
		/* Makers give 77 to 78.1 °C for R-454B; the mixing model of 2023 gives 78.3. */
		{ REFRIGERANT_R454B, 78.1 },
	};

	for (size_t i = 0; i < sizeof critical / sizeof *critical; i++)
		ck_assert_double_eq_tol(
			(refrigerant_critical_temp_f(critical[i].refrigerant) - 32.0) / 1.8,
			critical[i].critical_c, 0.25);
	ck_assert_double_eq_tol(dew_temp(REFRIGERANT_R134A, 14.696), -26.07 * 1.8 + 32.0, 0.1);
	ck_assert_double_eq_tol(dew_temp(REFRIGERANT_R1234YF, 14.696), -29.5 * 1.8 + 32.0, 0.3);
}
END_TEST

/* Up with temperature; no dew above bubble; density down; there and back. */
START_TEST(curves_are_sound_everywhere)
{
	enum { POINTS = 4001 };
	enum refrigerant refrigerant = (enum refrigerant)_i;
	double before_dew = 0.0, before_bubble = 0.0, before_density = INFINITY;

	for (int i = 0; i < POINTS; i++) {
		double temp_f = grid_temp(refrigerant, i, POINTS);
		double dew = dew_pressure(refrigerant, temp_f);
		double bubble = bubble_pressure(refrigerant, temp_f);
		double density = liquid_density(refrigerant, temp_f);

		ck_assert_double_gt(dew, before_dew);
		ck_assert_double_gt(bubble, before_bubble);
		ck_assert_double_lt(density, before_density);
		ck_assert_double_ge(bubble, dew);
		ck_assert_double_eq_tol(dew_temp(refrigerant, dew), temp_f, 1e-6);
		ck_assert_double_eq_tol(bubble_temp(refrigerant, bubble), temp_f, 1e-6);
		assert_relative(dew_pressure(refrigerant, dew_temp(refrigerant, dew)), dew, 1e-6);
		before_dew = dew;
		before_bubble = bubble;
		before_density = density;
	}
}
END_TEST

/* Zeotropes glide by what is published (from memory), pure ones not at all. */
START_TEST(glide_is_that_of_the_blend)
{
	static const struct {
		enum refrigerant refrigerant;
		double lowest_f, highest_f;
	} rows[] = {
		{ REFRIGERANT_R22, 0, 0 },        { REFRIGERANT_R410A, 0.05, 0.4 },
		{ REFRIGERANT_R32, 0, 0 },        { REFRIGERANT_R454B, 1, 3.5 },
		{ REFRIGERANT_R134A, 0, 0 },      { REFRIGERANT_R407C, 8, 13 },
		{ REFRIGERANT_R404A, 0.4, 1.5 },  { REFRIGERANT_R507A, 0, 0.1 },
		{ REFRIGERANT_R290, 0, 0 },       { REFRIGERANT_R1234YF, 0, 0 },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double pressure_psia = dew_pressure(rows[i].refrigerant, 40);
		double glide_f = 40 - bubble_temp(rows[i].refrigerant, pressure_psia);

		ck_assert_double_ge(glide_f, rows[i].lowest_f - 1e-6);
		ck_assert_double_le(glide_f, rows[i].highest_f + 1e-6);
	}
}
END_TEST

typedef enum status (*property)(enum refrigerant, double, double *);

static void assert_refused(property work_out, enum refrigerant refrigerant, double argument,
                           enum status status)
{
	double result = 0.0;

	ck_assert_int_eq(work_out(refrigerant, argument, &result), status);
	ck_assert(isnan(result));
}

START_TEST(nothing_is_extrapolated)
{
	static const property by_temp[] = {
		refrigerant_dew_pressure, refrigerant_bubble_pressure, refrigerant_liquid_density
	};
	enum refrigerant refrigerant = (enum refrigerant)_i;
	double highest_f = refrigerant_highest_temp_f(refrigerant);

	ck_assert_double_eq_tol(highest_f, refrigerant_critical_temp_f(refrigerant) - 5.0, 1e-9);
	ck_assert_double_eq(refrigerant_lowest_temp_f(refrigerant), -40.0);
	for (size_t i = 0; i < sizeof by_temp / sizeof *by_temp; i++) {
		assert_refused(by_temp[i], refrigerant, -40.001, STATUS_OUT_OF_RANGE);
		assert_refused(by_temp[i], refrigerant, highest_f + 0.001, STATUS_OUT_OF_RANGE);
		assert_refused(by_temp[i], refrigerant, INFINITY, STATUS_OUT_OF_RANGE);
		assert_refused(by_temp[i], refrigerant, -INFINITY, STATUS_OUT_OF_RANGE);
		assert_refused(by_temp[i], refrigerant, NAN, STATUS_NOT_A_NUMBER);
	}
}
END_TEST

START_TEST(no_pressure_beyond_the_curve_has_a_temperature)
{
	enum refrigerant refrigerant = (enum refrigerant)_i;
	double highest_f = refrigerant_highest_temp_f(refrigerant);
	const struct {
		property temp;
		double lowest_psia, highest_psia;
	} lines[] = {
		{ refrigerant_dew_temp, dew_pressure(refrigerant, -40),
		  dew_pressure(refrigerant, highest_f) },
		{ refrigerant_bubble_temp, bubble_pressure(refrigerant, -40),
		  bubble_pressure(refrigerant, highest_f) },
	};

	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
		assert_refused(lines[i].temp, refrigerant, lines[i].lowest_psia * 0.99999,
		               STATUS_OUT_OF_RANGE);
		assert_refused(lines[i].temp, refrigerant, lines[i].highest_psia * 1.00001,
		               STATUS_OUT_OF_RANGE);
		assert_refused(lines[i].temp, refrigerant, INFINITY, STATUS_OUT_OF_RANGE);
		assert_refused(lines[i].temp, refrigerant, 0.0, STATUS_NOT_POSITIVE);
		assert_refused(lines[i].temp, refrigerant, -3.0, STATUS_NOT_POSITIVE);
		/* A deep vacuum is a pressure, far below every curve. */
		assert_refused(lines[i].temp, refrigerant, 0.01, STATUS_OUT_OF_RANGE);
		assert_refused(lines[i].temp, refrigerant, NAN, STATUS_NOT_A_NUMBER);
	}
}
END_TEST

START_TEST(names_are_found_as_people_write_them)
{
	static const struct {
		const char *typed;
		enum refrigerant refrigerant;
	} rows[] = {
		{ "R-410A", REFRIGERANT_R410A },     { "r-410a", REFRIGERANT_R410A },
		{ "410A", REFRIGERANT_R410A },       { " R 410 a ", REFRIGERANT_R410A },
		{ "HCFC-22", REFRIGERANT_R22 },      { "22", REFRIGERANT_R22 },
		{ "HFC-134A", REFRIGERANT_R134A },   { "R1234YF", REFRIGERANT_R1234YF },
		{ "hfo 1234yf", REFRIGERANT_R1234YF }, { "hc290", REFRIGERANT_R290 },
	};
	static const char *const unknown[] = {
		"", "R", "-", "R-4", "410", "R-407", "R-407A", "R-410AA", "RR-22", "2 2 0",
		"R-410A and a long note behind it that is no name", "R-22\xc2\xa0",
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		enum refrigerant refrigerant = REFRIGERANT_COUNT;

		ck_assert_msg(refrigerant_from_name(rows[i].typed, &refrigerant), "%s", rows[i].typed);
		ck_assert_int_eq(refrigerant, rows[i].refrigerant);
	}
	for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++) {
		enum refrigerant refrigerant = REFRIGERANT_COUNT;

		ck_assert_msg(!refrigerant_from_name(unknown[i], &refrigerant), "%s", unknown[i]);
		ck_assert_int_eq(refrigerant, REFRIGERANT_COUNT);
	}
	for (int i = 0; i < REFRIGERANT_COUNT; i++) {
		enum refrigerant refrigerant = REFRIGERANT_COUNT;

		ck_assert(refrigerant_from_name(refrigerant_name((enum refrigerant)i), &refrigerant));
		ck_assert_int_eq((int)refrigerant, i);
	}
}
END_TEST

/* ASHRAE Standard 34: classes and compositions, as the trade notes list them. */
START_TEST(classes_are_those_of_the_standard)
{
	static const struct {
		enum refrigerant refrigerant;
		const char *safety_class;
		const char *part;
	} rows[] = {
		{ REFRIGERANT_R22, "A1", "chlorodifluoromethane" },
		{ REFRIGERANT_R410A, "A1", "50/50 %" },
		{ REFRIGERANT_R32, "A2L", "difluoromethane" },
		{ REFRIGERANT_R454B, "A2L", "68.9/31.1 %" },
		{ REFRIGERANT_R134A, "A1", "tetrafluoroethane" },
		{ REFRIGERANT_R407C, "A1", "23/25/52 %" },
		{ REFRIGERANT_R404A, "A1", "44/52/4 %" },
		{ REFRIGERANT_R507A, "A1", "50/50 %" },
		{ REFRIGERANT_R290, "A3", "propane" },
		{ REFRIGERANT_R1234YF, "A2L", "tetrafluoropropene" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		enum refrigerant refrigerant = rows[i].refrigerant;
		enum safety_class safety_class = refrigerant_safety_class(refrigerant);

		ck_assert_str_eq(safety_class_name(safety_class), rows[i].safety_class);
		ck_assert_int_eq(refrigerant_is_flammable(refrigerant),
		                 strcmp(rows[i].safety_class, "A1") != 0);
		ck_assert_ptr_nonnull(strstr(refrigerant_composition(refrigerant), rows[i].part));
	}
}
END_TEST

Suite *refrigerant_suite(void)
{
	Suite *suite = suite_create("refrigerant");
	TCase *tcase = tcase_create("refrigerant");

	tcase_add_test(tcase, agrees_with_the_reference_library);
	tcase_add_test(tcase, agrees_with_published_tables);
	tcase_add_test(tcase, agrees_with_the_pocket_chart);
	tcase_add_test(tcase, agrees_with_published_single_points);
	tcase_add_loop_test(tcase, curves_are_sound_everywhere, 0, REFRIGERANT_COUNT);
	tcase_add_test(tcase, glide_is_that_of_the_blend);
	tcase_add_loop_test(tcase, nothing_is_extrapolated, 0, REFRIGERANT_COUNT);
	tcase_add_loop_test(tcase, no_pressure_beyond_the_curve_has_a_temperature, 0,
	                    REFRIGERANT_COUNT);
	tcase_add_test(tcase, names_are_found_as_people_write_them);
	tcase_add_test(tcase, classes_are_those_of_the_standard);
	suite_add_tcase(suite, tcase);
	return suite;
}
