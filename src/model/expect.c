/*
 * What is expected of a sound unit: one rule a figure, in a table.
 *
 * These are the bands that the screen and the paper draw.  The diagnosis does
 * not use them: it weighs residuals instead of crossing lines.
 */
#include <padside/model/figures.h>

#include <math.h>

#include <padside/calc/coil.h>
#include <padside/calc/electrical.h>
#include <padside/calc/seasonal.h>

/* What a rule looks at. */
struct rule_view {
	const struct visit *visit;    /* the readings */
	enum stage stage;             /* of this stage */
	const struct figure_set *set; /* and their figures; NULL: worked out when looked at */
};

/* A fixed stretch, or a function where it depends on unit and weather. */
struct expectation_rule {
	double low, high;   /* canonical unit */
	const char *source; /* of the stretch */
	struct expectation (*function)(const struct rule_view *view);
};

static struct expectation between(double low, double high, const char *source)
{
	return (struct expectation){ .known = true, .low = low, .high = high, .source = source };
}

/* A stretch with one limit: the other end is where physics ends. */
static struct expectation at_most(double high, const char *source)
{
	return between(-INFINITY, high, source);
}

/* A stretch that stands on a usual value, since nobody read the unit's own. */
static struct expectation assumed(double low, double high, const char *source)
{
	struct expectation expectation = between(low, high, source);

	expectation.is_assumed = true;
	return expectation;
}

static struct expectation unknown(void)
{
	return (struct expectation){ .known = false, .low = NAN, .high = NAN, .source = "" };
}

/* A reading's number, or `fallback` when it was not taken. */
static double number_or(const struct rule_view *view, enum reading reading, double fallback)
{
	double number;

	return visit_number(view->visit, view->stage, reading, &number) == STATUS_OK ? number
	                                                                             : fallback;
}

static enum choice choice_of(const struct rule_view *view, enum reading reading)
{
	return visit_choice(view->visit, view->stage, reading);
}

static bool has_orifice(const struct rule_view *view)
{
	enum choice metering = choice_of(view, READING_METERING);

	return metering == CHOICE_METERING_FIXED_ORIFICE || metering == CHOICE_METERING_CAPILLARY;
}

static struct figure_value figure_of(const struct rule_view *view, enum figure figure)
{
	return view->set ? view->set->values[figure]
	                 : figure_evaluate(view->visit, view->stage, figure);
}

/*
 * On an inverter pressures, amps and temperatures move with the speed: only a
 * maker's value holds, and only near full speed.
 */
static bool moves_with_speed(const struct rule_view *view)
{
	return choice_of(view, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER;
}

static bool is_at_full_speed(const struct rule_view *view)
{
	const double nearly_full = 90;

	return number_or(view, READING_CAPACITY_PERCENT, 0) >= nearly_full;
}

static struct expectation expect_superheat(const struct rule_view *view)
{
	struct figure_value target = figure_of(view, FIGURE_TARGET_SUPERHEAT);

	if (moves_with_speed(view))
		return unknown();
	if (metering_is_valve(choice_of(view, READING_METERING)))
		return between(4, 25, "behind a valve, California Title 24 RA3.2");
	if (target.status == STATUS_OK)
		return between(fmax(target.value - 5, 0), target.value + 5,
		               "around the target, California Title 24 RA3.2");
	return unknown();
}

/* RA3.2's ±3 °F holds around a maker's target; without one nothing but the usual is known. */
static struct expectation expect_subcooling(const struct rule_view *view)
{
	double target = number_or(view, READING_TARGET_SUBCOOLING, NAN);

	if (moves_with_speed(view) && (isnan(target) || !is_at_full_speed(view)))
		return unknown();
	if (!isnan(target))
		return between(target - 3, target + 3,
		               "around the maker's target, California Title 24 RA3.2");
	if (metering_is_valve(choice_of(view, READING_METERING)))
		return assumed(4, 16, "no maker's target read: usual subcooling, common practice");
	if (has_orifice(view))
		return assumed(5, 18, "no maker's target read: usual with an orifice, common practice");
	return unknown();
}

/* SEER as on the label; SEER2 brought to it (ducted 0.95, ductless 1: RESNET 71f). */
static double seer_of(const struct rule_view *view)
{
	double seer2 = number_or(view, READING_SEER2, NAN);
	bool ductless = choice_of(view, READING_SYSTEM_KIND) == CHOICE_SYSTEM_KIND_DUCTLESS;

	return number_or(view, READING_SEER, ductless ? seer2 : seer2 / SEASONAL_SEER2_SHARE);
}

static struct expectation expect_condenser(const struct rule_view *view)
{
	double seer = seer_of(view), middle;

	if (moves_with_speed(view))
		return unknown();
	if (isnan(seer) || coil_condenser_over_outdoor(seer, &middle) != STATUS_OK)
		return assumed(10, 30, "SEER not read, common practice");
	return between(middle - COIL_CONDENSER_BELOW_F, middle + COIL_CONDENSER_ABOVE_F,
	               "trade rule by SEER; makers' printed pressures lie within");
}

static struct expectation expect_air_rise(const struct rule_view *view)
{
	double seer = seer_of(view);

	if (isnan(seer) || moves_with_speed(view))
		return unknown();
	return seer < 12 ? between(20, 30, "by SEER, common practice")
	     : seer < 16 ? between(15, 20, "by SEER, common practice")
	                 : between(8, 15, "by SEER, common practice");
}

static struct expectation expect_approach(const struct rule_view *view)
{
	double target = number_or(view, READING_TARGET_APPROACH, NAN);

	if (isnan(target) || (moves_with_speed(view) && !is_at_full_speed(view)))
		return unknown();
	return between(target - 1, target + 1, "around the maker's target, Armstrong 4SHP16LT, p. 16");
}

/* Less air makes a colder coil; where the airflow is not known the usual one is meant. */
static struct expectation expect_evaporator(const struct rule_view *view)
{
	struct figure_value airflow = figure_of(view, FIGURE_AIRFLOW_ESTIMATE);
	double tons = number_or(view, READING_NOMINAL_CAPACITY, NAN), middle;

	if (moves_with_speed(view))
		return unknown();
	if (airflow.status == STATUS_OK &&
	    coil_evaporator_under_return(airflow.value / tons, &middle) == STATUS_OK)
		return between(middle - 5, middle + 5, "by airflow, common practice");
	return assumed(30, 40, "airflow not known: at the usual one, common practice");
}

/* What sound units of today's weather differ by from the expected split: common practice. */
static struct expectation expect_split(const struct rule_view *view)
{
	struct figure_value expected = figure_of(view, FIGURE_EXPECTED_TEMPERATURE_SPLIT);

	if (expected.status != STATUS_OK || moves_with_speed(view))
		return unknown();
	struct expectation split = between(expected.value - 4, expected.value + 4,
	                                   "sound coil in this weather, published DX coil "
	                                   "curves; lower end by target-split tables");
	split.is_assumed = *figure_assumed(view->visit, view->stage,
	                                   FIGURE_EXPECTED_TEMPERATURE_SPLIT) != '\0';
	return split;
}

/* Usual marking of run capacitors, %. */
static const double usual_tolerance = 6;

static struct expectation expect_capacitor(const struct rule_view *view)
{
	double tolerance = number_or(view, READING_CAPACITOR_TOLERANCE, NAN);

	return isnan(tolerance)
		? assumed(-usual_tolerance, usual_tolerance, "±6 % usual, tolerance of the can not read")
		: between(-tolerance, tolerance, "tolerance on the can");
}

/* The tolerance on the plate is the outdoor unit's cans'. */
static struct expectation expect_blower_capacitor(const struct rule_view *view)
{
	(void)view;
	return assumed(-usual_tolerance, usual_tolerance, "±6 % usual, common practice");
}

static struct expectation expect_winding_sum(const struct rule_view *view)
{
	double sum = number_or(view, READING_START_RUN_RESISTANCE, NAN);
	double allowed;

	if (electrical_winding_sum_allowed(sum, &allowed) != STATUS_OK)
		return unknown();
	return between(-allowed, allowed, "2 % + 0.3 Ω for meter and leads");
}

static struct expectation expect_airflow(const struct rule_view *view)
{
	double tons = number_or(view, READING_NOMINAL_CAPACITY, NAN);

	if (isnan(tons))
		return unknown();
	return between(350 * tons, 450 * tons, "usual airflow for the capacity, common practice");
}

/* A rating and a share of it to both sides. */
static struct expectation around_rated(const struct rule_view *view, enum reading rated,
                                       double share, const char *source)
{
	double number = number_or(view, rated, NAN);

	return isnan(number) ? unknown() : between(number * (1 - share), number * (1 + share), source);
}

static struct expectation expect_loaded_capacitance(const struct rule_view *view)
{
	double tolerance = number_or(view, READING_CAPACITOR_TOLERANCE, usual_tolerance);
	struct expectation expectation = around_rated(view, READING_COMPRESSOR_CAPACITOR_RATED,
	                                              tolerance / 100, "rating and its tolerance");

	expectation.is_assumed = expectation.known &&
	                         !visit_has(view->visit, view->stage, READING_CAPACITOR_TOLERANCE);
	return expectation;
}

static struct expectation expect_run_winding(const struct rule_view *view)
{
	return around_rated(view, READING_RUN_WINDING_RATED, 0.1, "maker's ±10 %, common practice");
}

static struct expectation expect_start_winding(const struct rule_view *view)
{
	return around_rated(view, READING_START_WINDING_RATED, 0.1, "maker's ±10 %, common practice");
}

/*
 * Of a start winding against its run winding: known for reciprocating
 * compressors only.
 */
static struct expectation expect_start_run_ratio(const struct rule_view *view)
{
	struct figure_value ratio = figure_of(view, FIGURE_START_RUN_RATIO);

	if (choice_of(view, READING_COMPRESSOR_KIND) != CHOICE_COMPRESSOR_KIND_RECIPROCATING)
		return unknown();
	return between(ELECTRICAL_START_RUN_LOW, ELECTRICAL_START_RUN_HIGH,
	               ratio.status == STATUS_OK && ratio.value < 1
	               ? "reciprocating; below 1 run and start may be exchanged"
	               : "reciprocating compressors, a maker's table");
}

/* Little current is a sign on a PSC motor; a motor on a board loads itself as it needs. */
static struct expectation expect_blower_share(const struct rule_view *view)
{
	enum choice motor = choice_of(view, READING_BLOWER_MOTOR_TYPE);

	if (motor == CHOICE_BLOWER_MOTOR_PSC)
		return between(40, 105, "PSC motor: rating and 5 % for the voltage, common practice");
	return at_most(105, "rating and 5 % for the voltage, common practice");
}

/* The range of the nameplate or the compressor's sheet, as a share of the rating. */
static struct expectation expect_voltage(const struct rule_view *view)
{
	double rated = number_or(view, READING_RATED_VOLTAGE, NAN);
	double low = number_or(view, READING_VOLTAGE_LOW, NAN);
	double high = number_or(view, READING_VOLTAGE_HIGH, NAN);
	bool is_makers = !isnan(low) || !isnan(high);

	return between(isnan(low) ? -10 : 100 * (low / rated - 1),
	               isnan(high) ? 10 : 100 * (high / rated - 1),
	               is_makers ? "maker's voltage range" : "NEMA MG 1, second-hand");
}

static struct expectation expect_static(const struct rule_view *view)
{
	double limit = number_or(view, READING_STATIC_LIMIT, NAN);

	return isnan(limit) ? assumed(-INFINITY, 0.5, "usual rating point, common practice")
	                    : at_most(limit, "maker's limit");
}

/* With a coil or a filter still in it, the limit of the ducts does not fit. */
static struct expectation expect_ducts(const struct rule_view *view)
{
	if (!visit_has(view->visit, view->stage, READING_COIL_DROP) ||
	    !visit_has(view->visit, view->stage, READING_FILTER_DROP))
		return unknown();
	return at_most(0.3, "40 % of a usual total, common practice");
}

static struct expectation expect_rla_share(const struct rule_view *view)
{
	if (moves_with_speed(view))
		return unknown();
	return between(45, 100, "50 to 90 % usual, common practice");
}

static struct expectation expect_insulation(const struct rule_view *view)
{
	struct figure_value grade = figure_of(view, FIGURE_INSULATION_GRADE);

	if (grade.status != STATUS_OK || grade.value >= INSULATION_NOT_PROVED)
		return unknown();
	bool below = grade.value <= INSULATION_BELOW_FLOOR;
	/* What is below the floor is run no more, not even to warm it. */
	if (visit_has(view->visit, view->stage, READING_INSULATION_FLOOR))
		return between(INSULATION_GOOD, INSULATION_GOOD,
		               below ? "maker's floor: below it, do not energise"
		                     : "maker's floor; under 20 MΩ as read: run warm, test again");
	if (visit_choice(view->visit, view->stage, READING_COMPRESSOR_MOTOR) == CHOICE_MOTOR_INVERTER)
		return assumed(INSULATION_GOOD, INSULATION_GOOD, below
			? "inverter's floor 0.1 MΩ, service sheet AVZC18: below it, do not energise"
			: "inverter's floor 0.1 MΩ, service sheet AVZC18; under 20 MΩ as read: "
			  "run warm, test again");
	return assumed(INSULATION_GOOD, INSULATION_GOOD, below
	               ? "floor 0.5 MΩ, Emerson AE4-1294: below it, do not energise"
	               : "floor 0.5 MΩ, Emerson AE4-1294; under 20 MΩ as read: run warm, test again");
}

static const struct expectation_rule rules[FIGURE_COUNT] = {
	[FIGURE_SUPERHEAT] = { .function = expect_superheat },
	[FIGURE_SUBCOOLING] = { .function = expect_subcooling },
	[FIGURE_CONDENSER_OVER_OUTDOOR] = { .function = expect_condenser },
	[FIGURE_CONDENSER_AIR_RISE] = { .function = expect_air_rise },
	[FIGURE_LIQUID_APPROACH] = { .function = expect_approach },
	[FIGURE_CONDENSER_BEND_DIFFERENCE] = { .low = -3, .high = 3, .source = "common practice" },
	[FIGURE_STANDING_EXCESS] = { .low = -2, .high = 2,
	                             .source = "instruments' error, common practice" },
	[FIGURE_REVERSING_VALVE_DIFFERENCE] = { .low = -1, .high = 3, .source = "common practice" },
	[FIGURE_EVAPORATOR_UNDER_RETURN] = { .function = expect_evaporator },
	[FIGURE_DRIER_DROP] = { .low = -1, .high = 3, .source = "common practice" },
	[FIGURE_TEMPERATURE_SPLIT] = { .function = expect_split },
	[FIGURE_TOTAL_EXTERNAL_STATIC] = { .function = expect_static },
	[FIGURE_DUCT_STATIC] = { .function = expect_ducts },
	[FIGURE_AIRFLOW_ESTIMATE] = { .function = expect_airflow },
	[FIGURE_COMPRESSOR_CAPACITOR_DEVIATION] = { .function = expect_capacitor },
	[FIGURE_FAN_CAPACITOR_DEVIATION] = { .function = expect_capacitor },
	[FIGURE_BLOWER_CAPACITOR_DEVIATION] = { .function = expect_blower_capacitor },
	[FIGURE_CAPACITANCE_UNDER_LOAD] = { .function = expect_loaded_capacitance },
	[FIGURE_VOLTAGE_DEVIATION] = { .function = expect_voltage },
	[FIGURE_VOLTAGE_UNBALANCE] = {
		.low = -INFINITY, .high = 1, .source = "NEMA MG 1, second-hand; unit makers allow 2 %" },
	[FIGURE_UNBALANCE_DERATING] = { .low = 98.5, .high = INFINITY,
	                                .source = "at 1 % unbalance or less" },
	[FIGURE_STARTING_SAG] = { .low = -INFINITY, .high = 12,
	                          .source = "10 to 15 %, common practice" },
	[FIGURE_RLA_SHARE] = { .function = expect_rla_share },
	[FIGURE_CURRENT_UNBALANCE] = { .low = -INFINITY, .high = 10, .source = "RSES, second-hand" },
	[FIGURE_FAN_FLA_SHARE] = {
		.low = 40, .high = 105, .source = "rating and 5 % for the voltage, common practice" },
	[FIGURE_BLOWER_FLA_SHARE] = { .function = expect_blower_share },
	[FIGURE_WINDING_SUM_ERROR] = { .function = expect_winding_sum },
	[FIGURE_START_RUN_RATIO] = { .function = expect_start_run_ratio },
	[FIGURE_WINDING_UNBALANCE] = { .low = -INFINITY, .high = 5, .source = "common practice" },
	[FIGURE_RUN_WINDING_CORRECTED] = { .function = expect_run_winding },
	[FIGURE_START_WINDING_CORRECTED] = { .function = expect_start_winding },
	[FIGURE_INSULATION_GRADE] = { .function = expect_insulation },
};

struct expectation figure_expect(const struct visit *visit, enum stage stage,
                                 const struct figure_set *set, enum figure figure)
{
	struct rule_view view = { .visit = visit, .stage = stage, .set = set };

	const struct expectation_rule *rule = &rules[figure];

	if (rule->function)
		return rule->function(&view);
	return rule->source ? between(rule->low, rule->high, rule->source) : unknown();
}

/* What the three currents of a running capacitor motor make of one another. */
static struct expectation expect_common_amps(const struct rule_view *view)
{
	enum choice state = choice_of(view, READING_COMPRESSOR_STATE);
	double common = hypot(number_or(view, READING_RUN_AMPS, NAN),
	                      number_or(view, READING_START_AMPS, NAN));

	if (isnan(common) || common <= 0 || state == CHOICE_COMPRESSOR_STATE_SILENT ||
	    state == CHOICE_COMPRESSOR_STATE_HUMS)
		return unknown();
	return between(common * 0.9, common * 1.1, "from run and start current, physics");
}

struct expectation reading_expect(const struct visit *visit, enum stage stage,
                                  enum reading reading)
{
	const struct range *range = &reading_info(reading)->expected;
	struct rule_view view = { .visit = visit, .stage = stage };

	if (range->low != range->high)
		return between(range->low, range->high, "common practice");
	return reading == READING_COMMON_AMPS ? expect_common_amps(&view) : unknown();
}

enum band_verdict expectation_judge(const struct expectation *expectation, double value,
                                    double plus_minus)
{
	struct band band = {
		.value = value, .has_value = !isnan(value), .plus_minus = plus_minus,
		.low = expectation->low, .high = expectation->high, .is_assumed = expectation->is_assumed,
	};

	return expectation->known ? band_judge(&band) : BAND_UNKNOWN;
}
