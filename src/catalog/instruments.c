/*
 * The table of instruments, and how far the technician's own may be off.
 *
 * What was set is the program's one piece of global state here: it belongs to
 * the person who holds the meters, not to a call, and is set once at the start.
 */
#include <padside/catalog/catalog.h>

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/number.h>

static const struct instrument_info instruments[INSTRUMENT_COUNT] = {
#define INSTRUMENT(id, key, label, unit, absolute, percent) \
	[INSTRUMENT_##id] = { key, label, UNIT_##unit, { absolute, percent } },
#include <padside/catalog/instruments.def>
#undef INSTRUMENT
};

static struct accuracy own[INSTRUMENT_COUNT];
static bool is_own[INSTRUMENT_COUNT];

const struct instrument_info *instrument_info(enum instrument instrument)
{
	assert(instrument > INSTRUMENT_NONE && instrument < INSTRUMENT_COUNT);
	return &instruments[instrument];
}

enum instrument instrument_from_key(const char *key)
{
	for (int i = INSTRUMENT_NONE + 1; i < INSTRUMENT_COUNT; i++)
		if (strcmp(instruments[i].key, key) == 0)
			return (enum instrument)i;
	return INSTRUMENT_NONE;
}

struct accuracy instrument_accuracy(enum instrument instrument)
{
	return is_own[instrument] ? own[instrument] : instrument_info(instrument)->accuracy;
}

enum status instrument_set_accuracy(enum instrument instrument, struct accuracy accuracy)
{
	assert(instrument > INSTRUMENT_NONE && instrument < INSTRUMENT_COUNT);
	if (!isfinite(accuracy.absolute) || !isfinite(accuracy.percent))
		return STATUS_NOT_A_NUMBER;
	if (accuracy.absolute < 0 || accuracy.percent < 0)
		return STATUS_NEGATIVE;
	own[instrument] = accuracy;
	is_own[instrument] = true;
	return STATUS_OK;
}

void instruments_reset(void)
{
	memset(is_own, 0, sizeof is_own);
}

/* One term of an accuracy: a number with % or with the unit; *rest behind it. */
static bool take_term(enum unit unit, const char *typed, struct accuracy *accuracy,
                      const char **rest)
{
	double number;
	char symbol[24];

	if (!number_parse(typed, &number, rest))
		return false;
	size_t length = strcspn(*rest, "+");
	while (length > 0 && (*rest)[length - 1] == ' ')
		length--;
	snprintf(symbol, sizeof symbol, "%.*s", (int)length, *rest);
	*rest += strcspn(*rest, "+");
	if (strcmp(symbol, "%") == 0) {
		accuracy->percent += number;
		return true;
	}
	enum unit typed_unit = unit;
	if (*symbol && !unit_from_text(symbol, unit, &typed_unit))
		return false;
	accuracy->absolute += unit_convert_spread(number, typed_unit, unit);
	return true;
}

enum status accuracy_parse(enum instrument instrument, const char *typed, struct accuracy *accuracy,
                           struct error *error)
{
	const struct instrument_info *info = instrument_info(instrument);
	struct accuracy result = { 0, 0 };
	char usual[64];
	bool more = true;

	while (more) {
		const char *rest;
		if (!take_term(info->unit, typed, &result, &rest)) {
			accuracy_format(instrument, info->accuracy, usual, sizeof usual);
			return error_set(error, STATUS_NOT_A_NUMBER,
			                 "\"%.30s\" is no accuracy of a %s; it is given as %s", typed,
			                 info->label, usual);
		}
		more = *rest == '+';
		typed = rest + more;
	}
	if (result.absolute < 0 || result.percent < 0)
		return error_set(error, STATUS_NEGATIVE, "an accuracy is not below 0; nothing was changed");
	*accuracy = result;
	return STATUS_OK;
}

void accuracy_format(enum instrument instrument, struct accuracy accuracy, char *out, size_t size)
{
	const char *symbol = unit_symbol(instrument_info(instrument)->unit, false);
	char absolute[NUMBER_SIZE], percent[NUMBER_SIZE];

	number_format_exact(accuracy.absolute, absolute, sizeof absolute);
	number_format_exact(accuracy.percent, percent, sizeof percent);
	if (accuracy.percent == 0)
		snprintf(out, size, "%s%s%s", absolute, *symbol ? " " : "", symbol);
	else if (accuracy.absolute == 0)
		snprintf(out, size, "%s %%", percent);
	else
		snprintf(out, size, "%s%s%s + %s %%", absolute, *symbol ? " " : "", symbol, percent);
}
