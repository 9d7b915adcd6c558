/*
 * What is expected of a sound machine: one rule a figure, in a table.
 *
 * These are the bands that the screen and the paper draw.  The diagnosis does
 * not use them: it weighs residuals instead of crossing lines.
 */
#include <padside/model/figures.h>

#include <math.h>

#include <padside/calc/coil.h>
#include <padside/calc/electrical.h>

/* What a rule looks at. */
struct view {
	const struct visit *visit;    /* the readings */
	enum stage stage;             /* of this stage */
	const struct figure_set *set; /* and their figures */
};

/* A fixed stretch, or a function where it depends on machine and weather. */
struct rule {
	double low, high;   /* canonical unit */
	const char *source; /* of the stretch */
	struct expectation (*function)(const struct view *view);
};

static struct expectation between(double low, double high, const char *source)
{
	return (struct expectation){ .known = true, .low = low, .high = high, .source = source };
}

static struct expectation unknown(void)
{
	return (struct expectation){ .known = false, .low = NAN, .high = NAN, .source = "" };
}

/* A reading's number, or `fallback` when it was not taken. */
static double number_or(const struct view *view, enum reading reading, double fallback)
{
	double number;

	return visit_number(view->visit, view->stage, reading, &number) == STATUS_OK ? number : fallback;
}

static bool has_valve(const struct view *view)
{
	enum choice metering = visit_choice(view->visit, view->stage, READING_METERING);

	return metering == CHOICE_METERING_TXV || metering == CHOICE_METERING_EXV;
}

static bool has_orifice(const struct view *view)
{
	enum choice metering = visit_choice(view->visit, view->stage, READING_METERING);

	return metering == CHOICE_METERING_FIXED_ORIFICE || metering == CHOICE_METERING_CAPILLARY;
}

static const struct figure_value *figure_of(const struct view *view, enum figure figure)
{
	return &view->set->values[figure];
}

static struct expectation expect_superheat(const struct view *view)
{
	const struct figure_value *target = figure_of(view, FIGURE_TARGET_SUPERHEAT);

	if (has_valve(view))
		return between(4, 25, "valve, tolerated by RA3.2");
	if (target->status == STATUS_OK)
		return between(fmax(target->value - 5, 0), target->value + 5, "target ±5 °F (RA3.2)");
	/* Where the table has a dash a sound orifice machine shows next to none. */
	if (has_orifice(view) && target->status == STATUS_TABLE_DASH)
		return between(0, 8, "no target in this weather: weigh the charge in");
	return unknown();
}

static struct expectation expect_subcooling(const struct view *view)
{
	const struct figure_value *target = figure_of(view, FIGURE_TARGET_SUBCOOLING);

	if (target->status == STATUS_OK)
		return between(target->value - 3, target->value + 3, "target ±3 °F (RA3.2)");
	if (has_orifice(view))
		return between(5, 18, "orifice, common practice");
	return unknown();
}

static struct expectation expect_condenser(const struct view *view)
{
	double seer = number_or(view, READING_SEER, NAN);
	double middle;

	if (isnan(seer) || coil_condenser_over_outdoor(seer, &middle) != STATUS_OK)
		return between(10, 30, "SEER unknown, common practice");
	return between(middle - 5, middle + 5, "by SEER, common practice");
}

/* Less air makes a colder coil; where the airflow is not known the usual one is meant. */
static struct expectation expect_evaporator(const struct view *view)
{
	const struct figure_value *airflow = figure_of(view, FIGURE_AIRFLOW_ESTIMATE);
	double tons = number_or(view, READING_NOMINAL_CAPACITY, NAN), middle;

	if (airflow->status == STATUS_OK &&
	    coil_evaporator_under_return(airflow->value / tons, &middle) == STATUS_OK)
		return between(middle - 5, middle + 5, "by airflow, common practice");
	return between(30, 40, "35 ±5 °F at 400 cfm/ton, common practice");
}

static struct expectation expect_split(const struct view *view)
{
	const struct figure_value *expected = figure_of(view, FIGURE_EXPECTED_TEMPERATURE_SPLIT);

	if (expected->status != STATUS_OK)
		return unknown();
	return between(expected->value - 3, expected->value + 3, "healthy coil in this weather ±3 °F");
}

static struct expectation expect_capacitor(const struct view *view)
{
	double tolerance = number_or(view, READING_CAPACITOR_TOLERANCE, 6);

	return between(-tolerance, tolerance, "tolerance on the can");
}

static struct expectation expect_winding_sum(const struct view *view)
{
	double sum = number_or(view, READING_START_RUN_RESISTANCE, NAN);
	double allowed;

	if (electrical_winding_sum_allowed(sum, &allowed) != STATUS_OK)
		return unknown();
	return between(-allowed, allowed, "2 % + 0.2 Ω, common practice");
}

static struct expectation expect_airflow(const struct view *view)
{
	double tons = number_or(view, READING_NOMINAL_CAPACITY, NAN);

	if (isnan(tons))
		return unknown();
	return between(350 * tons, 450 * tons, "350 to 450 cfm/ton, common practice");
}

/* A rating and a share of it to both sides. */
static struct expectation around_rated(const struct view *view, enum reading rated, double share,
                                       const char *source)
{
	double number = number_or(view, rated, NAN);

	return isnan(number) ? unknown() : between(number * (1 - share), number * (1 + share), source);
}

static struct expectation expect_loaded_capacitance(const struct view *view)
{
	return around_rated(view, READING_COMPRESSOR_CAPACITOR_RATED,
	                    number_or(view, READING_CAPACITOR_TOLERANCE, 6) / 100,
	                    "rating and its tolerance");
}

static struct expectation expect_run_winding(const struct view *view)
{
	return around_rated(view, READING_RUN_WINDING_RATED, 0.1, "maker's ±10 %, common practice");
}

static struct expectation expect_start_winding(const struct view *view)
{
	return around_rated(view, READING_START_WINDING_RATED, 0.1, "maker's ±10 %, common practice");
}

static struct expectation expect_ampacity(const struct view *view)
{
	double nameplate = number_or(view, READING_MIN_CIRCUIT_AMPACITY, NAN);

	return isnan(nameplate) ? unknown() : between(0, nameplate * 1.02, "nameplate");
}

static const struct rule rules[FIGURE_COUNT] = {
	[FIGURE_SUPERHEAT] = { .function = expect_superheat },
	[FIGURE_SUBCOOLING] = { .function = expect_subcooling },
	[FIGURE_CONDENSER_OVER_OUTDOOR] = { .function = expect_condenser },
	[FIGURE_EVAPORATOR_UNDER_RETURN] = { .function = expect_evaporator },
	[FIGURE_DRIER_DROP] = { .low = -1, .high = 3, .source = "common practice" },
	[FIGURE_TEMPERATURE_SPLIT] = { .function = expect_split },
	[FIGURE_TOTAL_EXTERNAL_STATIC] = {
		.low = 0, .high = 0.5, .source = "usual rating point, common practice" },
	[FIGURE_AIRFLOW_ESTIMATE] = { .function = expect_airflow },
	[FIGURE_COMPRESSOR_CAPACITOR_DEVIATION] = { .function = expect_capacitor },
	[FIGURE_FAN_CAPACITOR_DEVIATION] = { .function = expect_capacitor },
	[FIGURE_CAPACITANCE_UNDER_LOAD] = { .function = expect_loaded_capacitance },
	[FIGURE_VOLTAGE_DEVIATION] = { .low = -10, .high = 10, .source = "NEMA MG 1" },
	[FIGURE_VOLTAGE_UNBALANCE] = { .low = 0, .high = 1, .source = "NEMA MG 1-14.36" },
	[FIGURE_UNBALANCE_DERATING] = { .low = 98, .high = 100, .source = "NEMA MG 1-14.36" },
	[FIGURE_CIRCUIT_AMPACITY_NEEDED] = { .function = expect_ampacity },
	[FIGURE_STARTING_SAG] = { .low = 0, .high = 12, .source = "common practice" },
	[FIGURE_RLA_SHARE] = { .low = 45, .high = 100, .source = "50 to 90 % usual, common practice" },
	[FIGURE_FAN_FLA_SHARE] = { .low = 40, .high = 110, .source = "common practice" },
	[FIGURE_BLOWER_FLA_SHARE] = { .low = 40, .high = 110, .source = "common practice" },
	[FIGURE_WINDING_SUM_ERROR] = { .function = expect_winding_sum },
	[FIGURE_START_RUN_RATIO] = { .low = 3, .high = 6, .source = "usual; the maker's data wins" },
	[FIGURE_RUN_WINDING_CORRECTED] = { .function = expect_run_winding },
	[FIGURE_START_WINDING_CORRECTED] = { .function = expect_start_winding },
	[FIGURE_INSULATION_GRADE] = { .low = 3, .high = 3, .source = "over 100 MΩ, common practice" },
};

static const char *const verdict_words[] = {
	[VERDICT_NONE] = "", [VERDICT_GOOD] = "good",
	[VERDICT_PERHAPS_LOW] = "perhaps low", [VERDICT_PERHAPS_HIGH] = "perhaps high",
	[VERDICT_LOW] = "low", [VERDICT_HIGH] = "high",
};

struct expectation figure_expect(const struct visit *visit, enum stage stage,
                                 const struct figure_set *set, enum figure figure)
{
	struct view view = { .visit = visit, .stage = stage, .set = set };

	const struct rule *rule = &rules[figure];

	if (rule->function)
		return rule->function(&view);
	return rule->source ? between(rule->low, rule->high, rule->source) : unknown();
}

struct expectation reading_expect(const struct visit *visit, enum stage stage,
                                  enum reading reading)
{
	const struct range *range = &reading_info(reading)->expected;
	double run, start;

	if (range->low != range->high)
		return between(range->low, range->high, "common practice");
	/* The three currents of a capacitor motor check each other. */
	if (reading == READING_COMMON_AMPS &&
	    visit_number(visit, stage, READING_RUN_AMPS, &run) == STATUS_OK &&
	    visit_number(visit, stage, READING_START_AMPS, &start) == STATUS_OK) {
		double common = hypot(run, start);
		return between(common * 0.9, common * 1.1, "from run and start current");
	}
	return unknown();
}

enum verdict expectation_judge(const struct expectation *expectation, double value,
                               double plus_minus)
{
	if (!expectation->known || isnan(value))
		return VERDICT_NONE;
	if (value < expectation->low)
		return value + plus_minus < expectation->low ? VERDICT_LOW : VERDICT_PERHAPS_LOW;
	if (value > expectation->high)
		return value - plus_minus > expectation->high ? VERDICT_HIGH : VERDICT_PERHAPS_HIGH;
	return VERDICT_GOOD;
}

const char *verdict_word(enum verdict verdict)
{
	return verdict_words[verdict];
}
