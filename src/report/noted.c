/*
 * What is noted beside the findings: readings and figures that no fault is
 * worked out from, with what to do about them.
 */
#include <padside/report/noted.h>

#include <stdio.h>

#include <padside/base/quantities.h>
#include <padside/base/text.h>

/* When a row is told. */
enum noted_when {
	WHEN_TAKEN, /* whatever it says */
	WHEN_CODE,  /* where a code is shown */
	WHEN_LOW,   /* below what is expected */
	WHEN_HIGH,  /* above it, and not so far that it cannot be */
	WHEN_OVER   /* above another reading, `limit` */
};

/* The catalogue says of a reading what it tells; of a figure its row does. */
struct noted_row {
	enum reading reading;  /* READING_NONE: a figure */
	enum figure figure;    /* FIGURE_NONE: a reading */
	enum noted_when when;  /* it is told */
	enum reading limit;    /* of WHEN_OVER */
	enum level level;      /* how far it asks for work */
	const char *advice;    /* what to do; NULL: what the catalogue says the reading tells */
	const char *caution;   /* for who touches it; "" none */
	const char *customer;  /* in plain words; "" nothing for the customer */
};

static const char replace_can[] =
	"Check the rating on the can and that the other section is disconnected; a can over its "
	"tolerance is replaced";

static const struct noted_row rows[NOTED_ROWS] = {
	{ .reading = READING_BREAKER_INSTALLED, .when = WHEN_OVER, .limit = READING_MAX_OVERCURRENT,
	  .level = LEVEL_ACT,
	  .advice = "It is larger than the nameplate allows and may open too late (NEC 440.22). A "
	            "licensed electrician fits one that is allowed; local code comes first",
	  .caution = "", .customer = "The breaker or fuse of this unit is larger than its nameplate "
	                             "allows and may open too late. Have a licensed electrician fit "
	                             "one that is allowed; local code comes first." },
	{ .reading = READING_OIL_CONDITION, .when = WHEN_TAKEN, .level = LEVEL_WATCH, .customer = "",
	  .caution = "Burnt oil is acid: gloves and glasses, and keep it off the skin." },
	{ .reading = READING_BOARD_CODE, .when = WHEN_CODE, .level = LEVEL_WATCH, .caution = "",
	  .customer = "" },
	{ .reading = READING_CRANKCASE_HEATER_AMPS, .when = WHEN_LOW, .level = LEVEL_WATCH,
	  .caution = "", .customer = "" },
	{ .figure = FIGURE_COMPRESSOR_CAPACITOR_DEVIATION, .when = WHEN_HIGH, .level = LEVEL_WATCH,
	  .advice = replace_can,
	  .caution = "", .customer = "The compressor's capacitor is over its rating: have it "
	                             "checked and replaced." },
	{ .figure = FIGURE_FAN_CAPACITOR_DEVIATION, .when = WHEN_HIGH, .level = LEVEL_WATCH,
	  .advice = replace_can,
	  .caution = "", .customer = "The outdoor fan's capacitor is over its rating: have it checked "
	                             "and replaced." },
	{ .figure = FIGURE_BLOWER_CAPACITOR_DEVIATION, .when = WHEN_HIGH, .level = LEVEL_WATCH,
	  .advice = replace_can,
	  .caution = "", .customer = "The indoor blower's capacitor is over its rating: have it "
	                             "checked and replaced." },
};

/* Above this share of its rating a capacitor cannot be: that is said as a contradiction. */
static const double cannot_be_percent = 30;

static enum stage stage_of_reading(const struct visit *visit, enum reading reading)
{
	return visit_has(visit, STAGE_AS_LEFT, reading) ? STAGE_AS_LEFT : STAGE_AS_FOUND;
}

static bool is_over_limit(const struct visit *visit, const struct noted_row *row, enum stage stage)
{
	double number, limit;

	return visit_number(visit, stage, row->reading, &number) == STATUS_OK &&
	       visit_number(visit, stage, row->limit, &limit) == STATUS_OK && number > limit;
}

static bool is_told_reading(const struct visit *visit, const struct noted_row *row,
                            enum stage stage)
{
	struct expectation expected = reading_expect(visit, stage, row->reading);
	double number;

	if (!visit_has(visit, stage, row->reading) || !visit_applies(visit, stage, row->reading))
		return false;
	if (row->when == WHEN_TAKEN)
		return true;
	if (row->when == WHEN_CODE)
		return visit_shows_code(visit, stage);
	if (row->when == WHEN_OVER)
		return is_over_limit(visit, row, stage);
	return expected.known && visit_number(visit, stage, row->reading, &number) == STATUS_OK &&
	       expectation_judge(&expected, number, reading_accuracy(row->reading, number)) == BAND_LOW;
}

static bool is_told_figure(const struct visit *visit, const struct noted_row *row, enum stage stage,
                           const struct figure_set *set)
{
	const struct figure_value *value = &set->values[row->figure];
	struct expectation expected = figure_expect(visit, stage, set, row->figure);

	return value->status == STATUS_OK && value->value <= cannot_be_percent && expected.known &&
	       expectation_judge(&expected, value->value, value->plus_minus) == BAND_HIGH;
}

static void say(const struct noted_row *row, const char *label, const char *value,
                enum unit_system units, struct noted *noted)
{
	char advice[QUANTITIES_SIZE];
	struct text text;

	quantities_write(row->advice ? row->advice : reading_info(row->reading)->tells, units, advice,
	                 sizeof advice);
	text_init(&text);
	text_add_format(&text, "%s: %s. %s%s", label, value, advice, row->advice ? "." : "");
	text_copy(noted->office, sizeof noted->office, text_get(&text));
	text_done(&text);
	if (noted->office[0] >= 'a' && noted->office[0] <= 'z')
		noted->office[0] = (char)(noted->office[0] - 'a' + 'A');
	noted->label = label;
	text_copy(noted->value, sizeof noted->value, value);
	noted->level = row->level;
	noted->is_beyond = row->when != WHEN_TAKEN && row->when != WHEN_CODE;
	noted->caution = row->caution;
	noted->customer = row->customer;
}

bool noted_row(const struct visit *visit, const struct assessment *assessment, int which,
               enum unit_system units, struct noted *noted)
{
	const struct noted_row *row = &rows[which];
	const struct figure_set *left = &assessment->figures[STAGE_AS_LEFT];
	char value[VALUE_TEXT_SIZE];

	if (row->reading != READING_NONE) {
		enum stage stage = stage_of_reading(visit, row->reading);
		if (!is_told_reading(visit, row, stage))
			return false;
		reading_format(row->reading, visit_value(visit, stage, row->reading), units,
		               VALUE_FORM_WITH_UNIT, value, sizeof value);
		say(row, reading_info(row->reading)->label, value, units, noted);
		return true;
	}
	enum stage stage = left->values[row->figure].status == STATUS_OK ? STAGE_AS_LEFT
	                                                                 : STAGE_AS_FOUND;
	const struct figure_set *set = &assessment->figures[stage];
	if (!is_told_figure(visit, row, stage, set))
		return false;
	figure_format(row->figure, set->values[row->figure].value, units, VALUE_FORM_WITH_UNIT, value,
	              sizeof value);
	say(row, figure_info(row->figure)->label, value, units, noted);
	return true;
}

bool noted_any(const struct visit *visit, const struct assessment *assessment)
{
	struct noted noted;

	for (int i = 0; i < NOTED_ROWS; i++)
		if (noted_row(visit, assessment, i, UNITS_US, &noted))
			return true;
	return false;
}
