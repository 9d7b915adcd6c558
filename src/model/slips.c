/*
 * Likely slips: a reading at a tenth or at ten times its rating, a charge that
 * fits no unit of that capacity, a winding above the other two together; a breaker
 * that is larger than allowed, and an insulation test at more volts than the motor bears.
 */
#include <padside/model/slips.h>

#include <math.h>

/* What is measured, what it is rated at, and between which shares of that it usually lies. */
static const struct {
	enum reading measured, rated;
	double low, high;
} ratings[] = {
	{ READING_COMPRESSOR_CAPACITANCE, READING_COMPRESSOR_CAPACITOR_RATED, 0.7, 1.15 },
	{ READING_FAN_CAPACITANCE, READING_FAN_CAPACITOR_RATED, 0.7, 1.15 },
	{ READING_BLOWER_CAPACITANCE, READING_BLOWER_CAPACITOR_RATED, 0.7, 1.15 },
	{ READING_COMMON_AMPS, READING_COMPRESSOR_RLA, 0.8, 1.1 },
	{ READING_FAN_AMPS, READING_FAN_MOTOR_FLA, 0.6, 1.1 },
	{ READING_BLOWER_AMPS, READING_BLOWER_MOTOR_FLA, 0.6, 1.1 },
};

/* The windings of three phases, pair by pair. */
enum { PAIRS = 3 };
static const enum reading pairs[PAIRS] = {
	READING_WINDING_AB, READING_WINDING_BC, READING_WINDING_CA,
};

/* Units hold 2 to 4 lb a ton (common practice); outside these a unit of weight was mixed up. */
static const double least_oz_per_ton = 12, most_oz_per_ton = 130;
/* Without a capacity: only the smallest ductless units hold less (common practice). */
static const double least_oz = 24;

static bool number_of(const struct visit *visit, enum stage stage, enum reading reading,
                      double *number)
{
	return visit_number(visit, stage, reading, number) == STATUS_OK;
}

static bool find_charge(const struct visit *visit, struct slip *slip)
{
	double charge, tons;

	if (!number_of(visit, STAGE_AS_FOUND, READING_FACTORY_CHARGE, &charge))
		return false;
	bool has_tons = number_of(visit, STAGE_AS_FOUND, READING_NOMINAL_CAPACITY, &tons);
	if (has_tons ? charge >= least_oz_per_ton * tons && charge <= most_oz_per_ton * tons
	             : charge >= least_oz)
		return false;
	*slip = (struct slip){ SLIP_CHARGE, READING_FACTORY_CHARGE, READING_NONE };
	return true;
}

static bool find_rating(const struct visit *visit, enum stage stage, size_t row, struct slip *slip)
{
	double number, rated;

	if (!number_of(visit, stage, ratings[row].measured, &number) ||
	    !number_of(visit, stage, ratings[row].rated, &rated))
		return false;
	double share = number / rated;
	bool is_tenth = 10 * share >= ratings[row].low && 10 * share <= ratings[row].high;
	bool is_tenfold = share / 10 >= ratings[row].low && share / 10 <= ratings[row].high;
	if (!is_tenth && !is_tenfold)
		return false;
	*slip = (struct slip){ is_tenth ? SLIP_TENTH : SLIP_TENFOLD, ratings[row].measured,
	                       ratings[row].rated };
	return true;
}

/* The largest that the nameplate allows is the limit (NEC 440.22). */
static bool find_breaker(const struct visit *visit, struct slip *slip)
{
	double fitted, allowed;

	if (!number_of(visit, STAGE_AS_FOUND, READING_BREAKER_INSTALLED, &fitted) ||
	    !number_of(visit, STAGE_AS_FOUND, READING_MAX_OVERCURRENT, &allowed) || fitted <= allowed)
		return false;
	*slip = (struct slip){ SLIP_BREAKER, READING_BREAKER_INSTALLED, READING_MAX_OVERCURRENT };
	return true;
}

/*
 * 500 V suits motors of 208 to 600 V (a chiller maker); over about twice the rated voltage the test
 * itself may harm a scroll's insulation (a trade school's page on megohm tests).
 */
static bool find_test_volts(const struct visit *visit, enum stage stage, struct slip *slip)
{
	const double usual = 500, above_usual = 1.05, least_rated = 208;
	double volts, rated;

	if (!number_of(visit, STAGE_AS_FOUND, READING_RATED_VOLTAGE, &rated))
		rated = least_rated;
	if (!number_of(visit, stage, READING_INSULATION_TEST_VOLTS, &volts) ||
	    volts <= above_usual * usual || volts <= 2 * rated)
		return false;
	*slip = (struct slip){ SLIP_TEST_VOLTS, READING_INSULATION_TEST_VOLTS, READING_NONE };
	return true;
}

/*
 * In star and in delta one pair of three windings reads at most the sum of the other two (physics).
 */
static bool find_windings(const struct visit *visit, enum stage stage, struct slip *slip)
{
	double ohms[PAIRS], sum = 0, plus_minus = 0;
	int most = 0;

	for (int i = 0; i < PAIRS; i++) {
		if (!number_of(visit, stage, pairs[i], &ohms[i]) || !isfinite(ohms[i]))
			return false;
		sum += ohms[i];
		plus_minus += reading_accuracy(pairs[i], ohms[i]);
		most = ohms[i] > ohms[most] ? i : most;
	}
	if (ohms[most] <= sum - ohms[most] + plus_minus)
		return false;
	*slip = (struct slip){ SLIP_WINDINGS, pairs[most], READING_NONE };
	return true;
}

static bool is_pair(enum reading reading)
{
	for (int i = 0; i < PAIRS; i++)
		if (pairs[i] == reading)
			return true;
	return false;
}

bool slip_find(const struct visit *visit, enum stage stage, enum reading reading, struct slip *slip)
{
	if (reading == READING_FACTORY_CHARGE || reading == READING_NOMINAL_CAPACITY)
		return find_charge(visit, slip);
	if (reading == READING_BREAKER_INSTALLED || reading == READING_MAX_OVERCURRENT)
		return find_breaker(visit, slip);
	if (reading == READING_INSULATION_TEST_VOLTS || reading == READING_RATED_VOLTAGE)
		return find_test_volts(visit, stage, slip);
	if (is_pair(reading))
		return find_windings(visit, stage, slip);
	for (size_t i = 0; i < sizeof ratings / sizeof *ratings; i++)
		if (ratings[i].measured == reading || ratings[i].rated == reading)
			return find_rating(visit, stage, i, slip);
	return false;
}
