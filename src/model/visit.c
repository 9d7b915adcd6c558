/*
 * The readings of a call.
 */
#include <padside/model/visit.h>

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include <padside/base/text.h>

static const char *const stage_keys[STAGE_COUNT] = {
	[STAGE_AS_FOUND] = "as_found", [STAGE_AS_LEFT] = "as_left",
};

static const char *const words_of_stages[STAGE_COUNT] = {
	[STAGE_AS_FOUND] = "as found", [STAGE_AS_LEFT] = "as left",
};

/* Absolute pressures further apart than this do not stand in a unit at rest. */
static const double running_pressure_ratio = 1.4;

const char *stage_key(enum stage stage)
{
	return stage_keys[stage];
}

const char *stage_words(enum stage stage)
{
	return words_of_stages[stage];
}

static enum stage home_of(enum stage stage, enum reading reading)
{
	return reading_info(reading)->scope == SCOPE_CALL ? stage : STAGE_AS_FOUND;
}

void visit_init(struct visit *visit)
{
	static_assert(VALUE_NOT_TAKEN == 0 && CHOICE_NONE == 0, "what is empty is all zeros");
	memset(visit, 0, sizeof *visit);
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = 0; i < READING_COUNT; i++)
			visit->values[stage][i].taken_at = WALL_TIME_NONE;
}

const struct value *visit_value(const struct visit *visit, enum stage stage, enum reading reading)
{
	return &visit->values[home_of(stage, reading)][reading];
}

void visit_set(struct visit *visit, enum stage stage, enum reading reading,
               const struct value *value)
{
	visit->values[home_of(stage, reading)][reading] = *value;
}

bool visit_has(const struct visit *visit, enum stage stage, enum reading reading)
{
	return visit_value(visit, stage, reading)->state != VALUE_NOT_TAKEN;
}

bool visit_is_copy(const struct visit *visit, enum reading reading)
{
	const struct value *found = visit_value(visit, STAGE_AS_FOUND, reading);
	const struct value *left = visit_value(visit, STAGE_AS_LEFT, reading);

	return left != found && left->state != VALUE_NOT_TAKEN && left->state == found->state &&
	       left->taken_at != WALL_TIME_NONE && left->taken_at == found->taken_at &&
	       left->choice == found->choice && strcmp(left->text, found->text) == 0 &&
	       !(left->number < found->number || left->number > found->number);
}

enum status visit_number(const struct visit *visit, enum stage stage, enum reading reading,
                         double *number)
{
	const struct value *value = visit_value(visit, stage, reading);

	*number = NAN;
	if (value->state == VALUE_NOT_TAKEN)
		return STATUS_MISSING;
	if (value->state == VALUE_OVER_LIMIT)
		return STATUS_OVER_LIMIT;
	*number = value->number;
	return STATUS_OK;
}

enum choice visit_choice(const struct visit *visit, enum stage stage, enum reading reading)
{
	const struct value *value = visit_value(visit, stage, reading);

	return value->state == VALUE_TAKEN ? value->choice : CHOICE_NONE;
}

bool metering_is_valve(enum choice metering)
{
	return metering == CHOICE_METERING_TXV || metering == CHOICE_METERING_EXV;
}

bool visit_is_yes(const struct visit *visit, enum stage stage, enum reading reading)
{
	const struct value *value = visit_value(visit, stage, reading);

	return value->state == VALUE_TAKEN && value->number != 0;
}

/* A choice, or yes and no as one; CHOICE_NONE when it was not taken. */
static enum choice answer_of(const struct visit *visit, enum stage stage, enum reading reading)
{
	const struct value *value = visit_value(visit, stage, reading);

	if (value->state != VALUE_TAKEN || reading_info(reading)->kind != KIND_YES_NO)
		return visit_choice(visit, stage, reading);
	return value->number != 0 ? CHOICE_ANSWER_YES : CHOICE_ANSWER_NO;
}

bool visit_condition_holds(const struct visit *visit, enum stage stage, enum condition condition)
{
	const struct condition_test *test;
	bool any = condition_is_any(condition);

	for (int i = 0; (test = condition_test(condition, i)) != NULL; i++) {
		enum choice choice = answer_of(visit, stage, test->reading);
		bool holds = choice == CHOICE_NONE ? test->when_unknown
		                                   : condition_test_accepts(test, choice);
		if (holds == any)
			return any;
	}
	return !any;
}

bool visit_applies(const struct visit *visit, enum stage stage, enum reading reading)
{
	return visit_condition_holds(visit, stage, reading_info(reading)->condition);
}

enum progress visit_step_progress(const struct visit *visit, enum step step)
{
	bool any = false, missing = false;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		if (reading_info(reading)->step != step)
			continue;
		bool taken = visit_has(visit, STAGE_AS_FOUND, reading) ||
		             visit_has(visit, STAGE_AS_LEFT, reading);
		any = any || taken;
		if (!taken && reading_info(reading)->need == NEED_CORE &&
		    visit_applies(visit, STAGE_AS_FOUND, reading))
			missing = true;
	}
	if (!any)
		return PROGRESS_UNTOUCHED;
	return missing ? PROGRESS_BEGUN : PROGRESS_COMPLETE;
}

bool visit_shows_code(const struct visit *visit, enum stage stage)
{
	static const char *const words_for_none[] = {
		"none", "no", "nothing", "ok", "off", "on", "normal", "steady", "green", "dark", "blank",
		"-",
	};
	const struct value *code = visit_value(visit, stage, READING_BOARD_CODE);

	if (code->state != VALUE_TAKEN)
		return false;
	size_t length = strcspn(code->text, " ,.;");
	for (size_t i = 0; i < sizeof words_for_none / sizeof *words_for_none; i++)
		if (strlen(words_for_none[i]) == length &&
		    strncasecmp(code->text, words_for_none[i], length) == 0)
			return false;
	return length > 0;
}

enum pressures visit_pressures(const struct visit *visit, enum stage stage)
{
	/* Near enough here at any altitude: the ratio only tells rest from running. */
	const double barometer = 14.7;
	double suction, liquid;

	if (visit_number(visit, stage, READING_SUCTION_PRESSURE, &suction) != STATUS_OK ||
	    visit_number(visit, stage, READING_LIQUID_PRESSURE, &liquid) != STATUS_OK)
		return PRESSURES_UNKNOWN;
	if (liquid < suction)
		return PRESSURES_CROSSED;
	return liquid + barometer > running_pressure_ratio * (suction + barometer) ? PRESSURES_APART
	                                                                           : PRESSURES_TOGETHER;
}

bool visit_circuit_ran(const struct visit *visit, enum stage stage)
{
	enum choice state = visit_choice(visit, stage, READING_COMPRESSOR_STATE);

	return (state != CHOICE_COMPRESSOR_STATE_HUMS && state != CHOICE_COMPRESSOR_STATE_SILENT) ||
	       visit_pressures(visit, stage) == PRESSURES_APART;
}

bool leak_is_named(const char *place)
{
	static const char *const none[] = { "no", "none", "not", "nothing" };
	char first[16];

	place += strspn(place, " -");
	size_t length = strcspn(place, " ,;:");
	/* "None." ends a sentence, "no. 2 flare" has a number. */
	if (length > 0 && place[length - 1] == '.' && place[length] == '\0')
		length--;
	if (length == 0 || length >= sizeof first)
		return length > 0;
	snprintf(first, sizeof first, "%.*s", (int)length, place);
	for (size_t i = 0; i < sizeof none / sizeof *none; i++)
		if (text_equal_ignoring_case(first, none[i]))
			return false;
	return true;
}

bool visit_leak_found(const struct visit *visit, enum stage stage)
{
	const struct value *value = visit_value(visit, stage, READING_LEAK_PLACE);

	return value->state == VALUE_TAKEN && leak_is_named(value->text);
}
