/*
 * What a figure takes for granted: one rule a figure, in a table.
 *
 * A usual value stands in for one that nobody measured or read from the plate.
 * The figure is worked out all the same, and says so wherever it is shown.
 */
#include <padside/model/figures.h>

/* Looks at the readings of a stage; "" where nothing was taken for granted. */
typedef const char *(*rule)(const struct visit *visit, enum stage stage);

static bool has_airflow(const struct visit *visit, enum stage stage)
{
	return figure_evaluate(visit, stage, FIGURE_AIRFLOW_ESTIMATE).status == STATUS_OK;
}

static const char *assumed_target(const struct visit *visit, enum stage stage)
{
	return visit_has(visit, stage, READING_TARGET_SUBCOOLING) ? "" : "usual target";
}

static const char *assumed_charge(const struct visit *visit, enum stage stage)
{
	bool has_target = !metering_is_valve(visit_choice(visit, stage, READING_METERING)) ||
	                  visit_has(visit, stage, READING_TARGET_SUBCOOLING);
	bool has_charge = visit_has(visit, stage, READING_FACTORY_CHARGE);

	if (has_charge)
		return has_target ? "" : "usual target";
	return has_target ? "usual charge for the capacity" : "usual target and charge";
}

static const char *assumed_blower(const struct visit *visit, enum stage stage)
{
	bool is_measured = visit_has(visit, stage, READING_BLOWER_AMPS) &&
	                   visit_has(visit, stage, READING_TRANSFORMER_PRIMARY);

	return is_measured ? "usual power factor" : "usual blower power for the airflow";
}

static const char *assumed_input(const struct visit *visit, enum stage stage)
{
	bool has_outdoor = visit_has(visit, stage, READING_UNIT_POWER) ||
	                   visit_has(visit, stage, READING_POWER_FACTOR);
	bool has_blower = visit_has(visit, stage, READING_BLOWER_AMPS) &&
	                  visit_has(visit, stage, READING_TRANSFORMER_PRIMARY);

	if (has_outdoor)
		return has_blower ? "usual power factor of the blower" : "usual blower power";
	return has_blower ? "usual power factor" : "usual power factor and blower power";
}

static const char *assumed_locked_rotor(const struct visit *visit, enum stage stage)
{
	return visit_has(visit, stage, READING_COMPRESSOR_LRA) ? "" : "usual LRA for the RLA";
}

static const char *assumed_split(const struct visit *visit, enum stage stage)
{
	bool has_capacity = visit_has(visit, stage, READING_NOMINAL_CAPACITY);

	/* With the usual airflow for it the capacity cancels. */
	if (!has_airflow(visit, stage))
		return "usual airflow";
	return has_capacity ? "" : "usual capacity";
}

static const char *assumed_hours(const struct visit *visit, enum stage stage)
{
	(void)stage;
	return visit->cooling_hours > 0 ? "" : "usual cooling hours";
}

static const rule rules[FIGURE_COUNT] = {
	[FIGURE_TARGET_SUBCOOLING] = assumed_target,
	[FIGURE_CHARGE_TO_MOVE] = assumed_charge,
	[FIGURE_BLOWER_POWER] = assumed_blower,
	[FIGURE_EER] = assumed_input,
	[FIGURE_START_CURRENT_SHARE_OF_LRA] = assumed_locked_rotor,
	[FIGURE_EXPECTED_TEMPERATURE_SPLIT] = assumed_split,
	[FIGURE_SEASONAL_ENERGY] = assumed_hours,
};

const char *figure_assumed(const struct visit *visit, enum stage stage, enum figure figure)
{
	return rules[figure] ? rules[figure](visit, stage) : "";
}
