/*
 * Electrical figures: short formulas, so that most of this file is about
 * refusing what has no answer.
 */
#include <padside/calc/electrical.h>

#include <math.h>
#include <stddef.h>

#define METER_SHARE 0.02  /* of the reading: a multimeter's error on ohms */
#define METER_OHM 0.3     /* and its floor: contacts, and one lead resistance not subtracted */
#define CONTACT_OHM 0.1   /* how far contacts alone set two readings apart */
#define COPPER_C 234.5    /* °C below zero at which copper would have no resistance */
#define SQRT_3 1.7320508075688772
#define TWO_PI 6.283185307179586

struct point {
	double x, y; /* unbalance %, share of rating */
};

static const struct point derating[] = {
	{ 0, 1 }, { 0.5, 1 }, { 1, 0.985 }, { 1.5, 0.97 }, { 2, 0.95 }, { 2.5, 0.93 }, { 3, 0.89 },
	{ 3.5, 0.85 }, { 4, 0.82 }, { 4.5, 0.78 }, { 5, 0.76 },
};

/* NEC 240.6(A), up to what a unit of this size can need. */
static const double device_sizes[] = {
	15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250,
	300, 350, 400,
};

/* Of `value`: finite, and above zero or at least not below it. */
static enum status check(double value, bool may_be_zero)
{
	if (!isfinite(value))
		return STATUS_NOT_A_NUMBER;
	if (value < 0)
		return STATUS_NEGATIVE;
	return value > 0 || may_be_zero ? STATUS_OK : STATUS_NOT_POSITIVE;
}

/* Of two values, the second of which divides. */
static enum status check_quotient(double value, double divisor)
{
	enum status status = check(value, true);

	return status ? status : check(divisor, false);
}

static enum status check_ohm(double ohm)
{
	return isinf(ohm) && ohm > 0 ? STATUS_OVER_LIMIT : check(ohm, true);
}

static enum status check_three_ohm(double a, double b, double c)
{
	enum status status = check_ohm(a);

	if (!status)
		status = check_ohm(b);
	return status ? status : check_ohm(c);
}

static enum status deviation(double value, double rated, double *percent)
{
	enum status status = check_quotient(value, rated);

	*percent = status ? NAN : 100 * (value - rated) / rated;
	return status;
}

enum status electrical_winding_sum_error(double common_run_ohm, double common_start_ohm,
                                         double start_run_ohm, double *error_ohm)
{
	enum status status = check_three_ohm(common_run_ohm, common_start_ohm, start_run_ohm);

	*error_ohm = status ? NAN : start_run_ohm - (common_run_ohm + common_start_ohm);
	return status;
}

enum status electrical_winding_sum_allowed(double start_run_ohm, double *allowed_ohm)
{
	enum status status = check_ohm(start_run_ohm);

	*allowed_ohm = status ? NAN : METER_SHARE * start_run_ohm + METER_OHM;
	return status;
}

/* Whether `more` is above `less` beyond what the contacts can do. */
static bool is_above(double more, double less)
{
	return more - less > METER_SHARE * more + CONTACT_OHM;
}

enum status electrical_identify_terminals(double ohm_12, double ohm_23, double ohm_31,
                                          struct terminals *terminals)
{
	const double ohms[] = { ohm_12, ohm_23, ohm_31 };
	static const int opposite[] = { 3, 1, 2 }; /* the terminal a reading leaves out */
	enum status status = check_three_ohm(ohm_12, ohm_23, ohm_31);
	size_t largest = 0, smallest = 0, middle;
	double allowed;

	*terminals = (struct terminals){ 0, 0, 0 };
	if (status)
		return status;
	for (size_t i = 1; i < 3; i++) {
		if (ohms[i] > ohms[largest])
			largest = i;
		if (ohms[i] <= ohms[smallest])
			smallest = i;
	}
	if (!is_above(ohms[largest], ohms[smallest]))
		return STATUS_WINDINGS_ALIKE;
	middle = 3 - largest - smallest;
	if (!is_above(ohms[largest], ohms[middle]) || !is_above(ohms[middle], ohms[smallest]))
		return STATUS_TERMINALS_TOO_CLOSE;
	electrical_winding_sum_allowed(ohms[largest], &allowed);
	if (fabs(ohms[largest] - ohms[middle] - ohms[smallest]) > allowed)
		return STATUS_WINDINGS_DO_NOT_ADD;
	/* The smallest reading (common–run) leaves out start, the middle one run. */
	*terminals = (struct terminals){
		.common = opposite[largest],
		.run = opposite[middle],
		.start = opposite[smallest],
	};
	return STATUS_OK;
}

enum status electrical_start_run_ratio(double common_start_ohm, double common_run_ohm,
                                       double *ratio)
{
	enum status status = check_ohm(common_start_ohm);

	*ratio = NAN;
	if (!status)
		status = check_ohm(common_run_ohm);
	if (!status)
		status = check(common_run_ohm, false);
	if (!status)
		*ratio = common_start_ohm / common_run_ohm;
	return status;
}

enum status electrical_resistance_at(double ohm, double read_f, double at_f, double *out_ohm)
{
	enum status status = check_ohm(ohm);

	*out_ohm = NAN;
	if (status)
		return status;
	if (!isfinite(read_f) || !isfinite(at_f))
		return STATUS_NOT_A_NUMBER;
	if (fmin(read_f, at_f) < -58 || fmax(read_f, at_f) > 392)
		return STATUS_OUT_OF_RANGE;
	*out_ohm = ohm * (COPPER_C + (at_f - 32) / 1.8) / (COPPER_C + (read_f - 32) / 1.8);
	return STATUS_OK;
}

enum status electrical_insulation_grade(double megohm, double floor_megohm, double test_volts,
                                        enum insulation *grade)
{
	enum status status = check_ohm(megohm);

	*grade = INSULATION_COUNT;
	if (status && status != STATUS_OVER_LIMIT)
		return status;
	status = check(floor_megohm, false);
	if (status || isnan(test_volts))
		return status ? status : STATUS_NOT_A_NUMBER;
	if (megohm < floor_megohm)
		*grade = INSULATION_BELOW_FLOOR;
	else if (megohm < ELECTRICAL_INSULATION_WATCH)
		*grade = INSULATION_WATCH;
	else
		*grade = test_volts < ELECTRICAL_INSULATION_LEAST_VOLTS ? INSULATION_NOT_PROVED
		                                                        : INSULATION_GOOD;
	return STATUS_OK;
}

enum status electrical_insulation_at_40c(double megohm, double read_f, double *megohm_40c)
{
	enum status status = check_ohm(megohm);

	*megohm_40c = NAN;
	if (status)
		return status;
	if (!isfinite(read_f))
		return STATUS_NOT_A_NUMBER;
	if (read_f < -58 || read_f > 392)
		return STATUS_OUT_OF_RANGE;
	*megohm_40c = megohm * exp2(((read_f - 32) / 1.8 - 40) / 10);
	return STATUS_OK;
}

enum status electrical_capacitance_deviation(double measured_uf, double rated_uf,
                                             double *percent)
{
	return deviation(measured_uf, rated_uf, percent);
}

enum status electrical_capacitance_under_load(double amps, double volts, double hertz,
                                              double *microfarad)
{
	enum status status = check_quotient(amps, volts);

	*microfarad = NAN;
	if (!status)
		status = check(hertz, false);
	if (!status && (hertz < 40 || hertz > 70))
		status = STATUS_OUT_OF_RANGE;
	if (!status)
		*microfarad = 1e6 * amps / (TWO_PI * hertz * volts);
	return status;
}

enum status electrical_voltage_deviation(double volts, double rated_volts, double *percent)
{
	return deviation(volts, rated_volts, percent);
}

enum status electrical_unbalance(double a, double b, double c, double *percent)
{
	const double phases[] = { a, b, c };
	double mean = (a + b + c) / 3, farthest = 0;

	*percent = NAN;
	for (size_t i = 0; i < 3; i++) {
		enum status status = check(phases[i], true);
		if (status)
			return status;
		farthest = fmax(farthest, fabs(phases[i] - mean));
	}
	if (mean <= 0)
		return STATUS_NOT_POSITIVE;
	*percent = 100 * farthest / mean;
	return STATUS_OK;
}

enum status electrical_unbalance_derating(double unbalance_percent, double *factor)
{
	enum status status = check(unbalance_percent, true);

	*factor = NAN;
	if (status)
		return status;
	for (size_t i = 1; i < sizeof derating / sizeof *derating; i++) {
		const struct point *a = &derating[i - 1], *b = &derating[i];
		if (unbalance_percent <= b->x) {
			*factor = a->y + (b->y - a->y) * (unbalance_percent - a->x) / (b->x - a->x);
			return STATUS_OK;
		}
	}
	return STATUS_UNBALANCE_TOO_HIGH;
}

enum status electrical_starting_sag(double volts, double volts_starting, double *percent)
{
	enum status status = deviation(volts_starting, volts, percent);

	*percent = -*percent;
	return status;
}

enum status electrical_share(double amps, double rated_amps, double *percent)
{
	enum status status = check_quotient(amps, rated_amps);

	*percent = status ? NAN : 100 * amps / rated_amps;
	return status;
}

enum status electrical_locked_rotor_expected(double rla_amps, double *low, double *high)
{
	enum status status = check(rla_amps, false);

	*low = status ? NAN : 5 * rla_amps;
	*high = status ? NAN : 6 * rla_amps;
	return status;
}

enum status electrical_common_amps(double run_amps, double start_amps, double *common_amps)
{
	enum status status = check(run_amps, true);

	if (!status)
		status = check(start_amps, true);
	*common_amps = status ? NAN : hypot(run_amps, start_amps);
	return status;
}

enum status electrical_circuit(double largest_amps, double other_amps,
                               struct branch_circuit *circuit)
{
	enum status status = check(other_amps, true);
	double rule = 1.75 * largest_amps + other_amps;

	if (!status)
		status = check(largest_amps, false);
	if (!status && rule > device_sizes[sizeof device_sizes / sizeof *device_sizes - 1])
		status = STATUS_OUT_OF_RANGE;
	if (status) {
		*circuit = (struct branch_circuit){ NAN, NAN, NAN, NAN };
		return status;
	}
	*circuit = (struct branch_circuit){
		.ampacity = 1.25 * largest_amps + other_amps,
		.overcurrent = rule,
		.overcurrent_if_tripping = 2.25 * largest_amps + other_amps,
		.device = device_sizes[0],
	};
	for (size_t i = 1; i < sizeof device_sizes / sizeof *device_sizes; i++)
		if (device_sizes[i] <= rule)
			circuit->device = device_sizes[i];
	return STATUS_OK;
}

enum status electrical_power(double volts, double amps, double power_factor,
                             bool is_three_phase, double *kilowatt)
{
	enum status status = check_quotient(amps, volts);

	*kilowatt = NAN;
	if (!status)
		status = check(power_factor, false);
	if (!status && power_factor > 1)
		status = STATUS_OUT_OF_RANGE;
	if (!status)
		*kilowatt = volts * amps * power_factor * (is_three_phase ? SQRT_3 : 1) / 1000;
	return status;
}

enum status electrical_eer(double capacity_btu_h, double kilowatt, double *eer)
{
	enum status status = check_quotient(capacity_btu_h, kilowatt);

	*eer = status ? NAN : capacity_btu_h / (1000 * kilowatt);
	return status;
}
