/*
 * Nitrogen, vacuum, weight.
 *
 * A vacuum that rises is judged by its shape: the slope over the last third of
 * the time against the slope over the first.  Air through a leak comes in at a
 * steady rate, however far the pressure has risen in these few thousand
 * microns; water boils off more and more slowly up to its vapour pressure.
 */
#include <padside/calc/tightness.h>

#include <math.h>
#include <string.h>

#define ATMOSPHERE_PSI 14.7
#define RANKINE_F 459.67
#define WATER_LB_FT3 62.243    /* 997.05 kg/m³ at 77 °F */
#define WATER_CAPACITY_F 77.0
#define LEAST_DECAY_MINUTES 10.0
#define LEAST_POINTS 3
#define STEADY_SHARE 0.6       /* of the first slope: at least this is a steady rise */
#define LEVEL_SHARE 0.3        /* at most this has levelled off */
#define TEST_YEARS 5

static bool is_temperature(double temp_f)
{
	return temp_f >= -60 && temp_f <= 250;
}

enum status tightness_pressure_at(double psig, double from_f, double to_f, double *at_psig)
{
	*at_psig = NAN;
	if (!isfinite(psig) || !isfinite(from_f) || !isfinite(to_f))
		return STATUS_NOT_A_NUMBER;
	if (!is_temperature(from_f) || !is_temperature(to_f))
		return STATUS_OUT_OF_RANGE;
	if (psig + ATMOSPHERE_PSI <= 0)
		return STATUS_NOT_POSITIVE;
	*at_psig = (psig + ATMOSPHERE_PSI) * (to_f + RANKINE_F) / (from_f + RANKINE_F) - ATMOSPHERE_PSI;
	return STATUS_OK;
}

enum status tightness_judge_nitrogen(const struct nitrogen_test *test, double least_minutes,
                                     double *drop_psi, enum tightness *tightness)
{
	double held;
	enum status status = tightness_pressure_at(test->start_psig, test->start_f, test->end_f, &held);

	*drop_psi = NAN;
	*tightness = TIGHTNESS_UNDECIDED;
	if (status)
		return status;
	if (!isfinite(test->end_psig) || !isfinite(test->minutes) || !isfinite(test->plus_minus_psi))
		return STATUS_NOT_A_NUMBER;
	if (test->minutes < 0 || test->plus_minus_psi < 0)
		return STATUS_NEGATIVE;
	*drop_psi = held - test->end_psig;
	if (*drop_psi > test->plus_minus_psi)
		*tightness = TIGHTNESS_LEAKING;
	else if (test->minutes >= least_minutes)
		*tightness = TIGHTNESS_TIGHT;
	return STATUS_OK;
}

static enum status check_points(const struct vacuum_point *points, size_t count)
{
	if (count == 0)
		return STATUS_LOG_EMPTY;
	for (size_t i = 0; i < count; i++) {
		if (!isfinite(points[i].minutes) || !isfinite(points[i].microns))
			return STATUS_NOT_A_NUMBER;
		if (points[i].microns <= 0)
			return STATUS_NOT_POSITIVE;
		if (i > 0 && points[i].minutes < points[i - 1].minutes)
			return STATUS_LOG_ORDER;
	}
	return STATUS_OK;
}

/* Microns at a time between two looks, straight between them. */
static double microns_at(const struct vacuum_point *points, size_t count, double minutes)
{
	size_t i = 1;

	while (i + 1 < count && points[i].minutes < minutes)
		i++;
	const struct vacuum_point *a = &points[i - 1], *b = &points[i];
	double width = b->minutes - a->minutes;
	double share = width > 0 ? (minutes - a->minutes) / width : 1;
	return a->microns + (b->microns - a->microns) * share;
}

/* The shape of a rise that went over the limit. */
static enum tightness judge_rise(const struct vacuum_point *points, size_t count)
{
	double start = points[0].minutes, third = (points[count - 1].minutes - start) / 3;
	double first = microns_at(points, count, start + third) - points[0].microns;
	double end = points[count - 1].microns;
	double last = end - microns_at(points, count, start + 2 * third);
	double doubt = TIGHTNESS_GAUGE_SHARE * end;

	if (end - points[0].microns <= doubt)
		/* Over the limit from the beginning and still: not pumped down, or wet. */
		return TIGHTNESS_UNDECIDED;
	if (last >= STEADY_SHARE * first)
		return TIGHTNESS_LEAKING;
	return last <= fmax(LEVEL_SHARE * first, doubt / 3) ? TIGHTNESS_MOIST : TIGHTNESS_UNDECIDED;
}

enum status tightness_judge_vacuum(const struct vacuum_point *points, size_t count,
                                   enum tightness *tightness)
{
	enum status status = check_points(points, count);

	*tightness = TIGHTNESS_UNDECIDED;
	if (status)
		return status;
	double minutes = points[count - 1].minutes - points[0].minutes, highest = 0;
	for (size_t i = 0; i < count; i++)
		highest = fmax(highest, points[i].microns);
	if (highest <= TIGHTNESS_MICRONS) {
		if (minutes >= TIGHTNESS_VACUUM_MINUTES)
			*tightness = TIGHTNESS_TIGHT;
	} else if (count >= LEAST_POINTS && minutes >= LEAST_DECAY_MINUTES) {
		*tightness = judge_rise(points, count);
	}
	return STATUS_OK;
}

enum status tightness_weigh_in(double factory_oz, double line_ft, double precharged_ft,
                               double oz_per_ft, double *total_oz)
{
	*total_oz = NAN;
	if (!isfinite(factory_oz) || !isfinite(line_ft) || !isfinite(precharged_ft) ||
	    !isfinite(oz_per_ft))
		return STATUS_NOT_A_NUMBER;
	if (line_ft < 0 || precharged_ft < 0 || oz_per_ft < 0)
		return STATUS_NEGATIVE;
	if (factory_oz <= 0)
		return STATUS_NOT_POSITIVE;
	*total_oz = factory_oz + fmax(line_ft - precharged_ft, 0) * oz_per_ft;
	return STATUS_OK;
}

enum status tightness_cylinder_allowed(enum refrigerant refrigerant, double water_capacity_lb,
                                       double *allowed_lb)
{
	double density;
	enum status status = refrigerant_liquid_density(refrigerant, WATER_CAPACITY_F, &density);

	*allowed_lb = NAN;
	if (!status && !isfinite(water_capacity_lb))
		status = STATUS_NOT_A_NUMBER;
	if (!status && water_capacity_lb <= 0)
		status = STATUS_NOT_POSITIVE;
	if (!status)
		*allowed_lb = TIGHTNESS_FILL_SHARE * water_capacity_lb * density / WATER_LB_FT3;
	return status;
}

enum status tightness_cylinder_room(enum refrigerant refrigerant, double water_capacity_lb,
                                    double tare_lb, double weight_lb, double *room_lb)
{
	double allowed;
	enum status status = tightness_cylinder_allowed(refrigerant, water_capacity_lb, &allowed);

	*room_lb = NAN;
	if (!status && (!isfinite(tare_lb) || !isfinite(weight_lb)))
		status = STATUS_NOT_A_NUMBER;
	if (!status && (tare_lb < 0 || weight_lb < 0))
		status = STATUS_NEGATIVE;
	if (!status)
		*room_lb = tare_lb + allowed - weight_lb;
	return status;
}

bool tightness_cylinder_in_date(wall_time tested, wall_time now)
{
	char test_day[CLOCK_TEXT_SIZE], today[CLOCK_TEXT_SIZE];

	if (tested == WALL_TIME_NONE || now == WALL_TIME_NONE)
		return false;
	clock_format_date(tested, test_day, sizeof test_day);
	clock_format_date(now, today, sizeof today);
	int years = clock_year(now) - clock_year(tested);
	/* "-06-03" behind the year compares as the day of the year. */
	return years < TEST_YEARS || (years == TEST_YEARS && strcmp(today + 4, test_day + 4) <= 0);
}
