/*
 * Contradictions: what physics does not allow, beyond the instruments' error.
 *
 * They say "check the meter", not "this part is bad", and stand beside the
 * findings.  Each rule is a row: two quantities, the one that must not exceed
 * the other, and by how much readings may be off.
 */
#include "diagnose/contradictions.h"

#include <math.h>
#include <stdio.h>

#include <padside/base/text.h>

/* When a rule holds. */
enum when { WHEN_ALWAYS, WHEN_RUNNING, WHEN_STANDING };

/* A figure, a reading or, when both are none, `fixed`. */
struct quantity {
	enum figure figure;
	enum reading reading;
	double fixed;
};

/* `low` must not lie above `high` by more than the error of both and `slack`. */
struct rule {
	enum when when;
	struct quantity low, high;
	double slack;      /* canonical unit */
	const char *words; /* both values behind it */
};

#define OF_FIGURE(id) { .figure = FIGURE_##id }
#define OF_READING(id) { .reading = READING_##id }
#define OF(number) { .fixed = number }

static const struct rule rules[] = {
	{ WHEN_RUNNING, OF(0), OF_FIGURE(SUPERHEAT), 1,
	  "superheat below zero cannot be: check clamp, gauge and the refrigerant chosen" },
	{ WHEN_RUNNING, OF(0), OF_FIGURE(SUBCOOLING), 1,
	  "subcooling below zero cannot be: check clamp, gauge and the refrigerant chosen" },
	{ WHEN_RUNNING, OF_READING(SUPPLY_DB), OF_READING(RETURN_DB), 0,
	  "supply air warmer than return while the compressor runs: check both thermometers" },
	{ WHEN_RUNNING, OF_READING(SUCTION_PRESSURE), OF_READING(LIQUID_PRESSURE), 0,
	  "suction pressure above liquid pressure on a running machine: check the hoses" },
	{ WHEN_RUNNING, OF_READING(OUTDOOR_DB), OF_FIGURE(LIQUID_SATURATION_TEMP), 2,
	  "condensing below outdoor temperature: check liquid gauge, refrigerant, outdoor reading" },
	{ WHEN_RUNNING, OF_READING(OUTDOOR_DB), OF_READING(LIQUID_LINE_TEMP), 4,
	  "liquid line colder than the air that cools it: check the clamp and outdoor reading" },
	{ WHEN_RUNNING, OF_FIGURE(SUCTION_SATURATION_TEMP), OF_READING(RETURN_DB), 0,
	  "suction saturation above return air: check suction gauge and the refrigerant chosen" },
	{ WHEN_RUNNING, OF_READING(SUCTION_LINE_TEMP), OF_READING(DISCHARGE_LINE_TEMP), 0,
	  "suction line hotter than discharge line: check which pipe the clamp is on" },
	{ WHEN_ALWAYS, OF_READING(RETURN_WB), OF_READING(RETURN_DB), 0,
	  "return wet bulb above dry bulb: wet the sock, take both again" },
	{ WHEN_ALWAYS, OF_READING(SUPPLY_WB), OF_READING(SUPPLY_DB), 0,
	  "supply wet bulb above dry bulb: wet the sock, take both again" },
	{ WHEN_STANDING, OF_READING(COMMON_AMPS), OF(0.5), 0,
	  "current in common of a silent compressor: look and clamp again" },
	{ WHEN_RUNNING, OF(0.5), OF_READING(COMMON_AMPS), 0,
	  "no current in common of a running compressor: check clamp and lead" },
};

#undef OF_FIGURE
#undef OF_READING
#undef OF

static bool holds(const struct view *view, enum when when)
{
	enum choice state = view_choice(view, READING_COMPRESSOR_STATE);

	switch (when) {
	case WHEN_RUNNING:
		return (state == CHOICE_NONE || state == CHOICE_COMPRESSOR_STATE_RUNS) &&
		       visit_circuit_ran(view->visit, view->stage);
	case WHEN_STANDING:
		return state == CHOICE_COMPRESSOR_STATE_SILENT;
	default:
		return true;
	}
}

/* The number and its error; written with its unit into `words`. */
static double measure(const struct view *view, const struct quantity *quantity, double *error,
                      char *words, size_t size)
{
	double number = quantity->fixed;

	*error = 0;
	*words = '\0';
	if (quantity->figure != FIGURE_NONE) {
		number = view_figure(view, quantity->figure);
		*error = view->set->values[quantity->figure].plus_minus;
		if (!isnan(number))
			figure_format(quantity->figure, number, UNITS_US, VALUE_FORM_WITH_UNIT, words, size);
	} else if (quantity->reading != READING_NONE) {
		const struct value *value = visit_value(view->visit, view->stage, quantity->reading);
		number = view_number(view, quantity->reading);
		*error = isnan(number) ? 0 : reading_accuracy(quantity->reading, number);
		reading_format(quantity->reading, value, UNITS_US, VALUE_FORM_WITH_UNIT, words, size);
	}
	return number;
}

static bool is_broken(const struct view *view, const struct rule *rule, char *words, size_t size)
{
	char low_words[40], high_words[40];
	double low_error, high_error;
	double low = measure(view, &rule->low, &low_error, low_words, sizeof low_words);
	double high = measure(view, &rule->high, &high_error, high_words, sizeof high_words);

	if (isnan(low) || isnan(high) || !holds(view, rule->when) ||
	    low - high <= hypot(low_error, high_error) + rule->slack)
		return false;
	bool both = *low_words && *high_words;
	snprintf(words, size, "%s (%s%s%s)", rule->words, low_words, both ? " and " : "", high_words);
	text_trim_broken_utf8(words);
	return true;
}

void contradictions_find(const struct view *view, struct diagnosis *diagnosis)
{
	diagnosis->contradiction_count = 0;
	for (size_t i = 0; i < sizeof rules / sizeof *rules; i++) {
		int at = diagnosis->contradiction_count;
		if (at == MOST_CONTRADICTIONS)
			return;
		if (is_broken(view, &rules[i], diagnosis->contradictions[at],
		              sizeof diagnosis->contradictions[at]))
			diagnosis->contradiction_count++;
	}
}
