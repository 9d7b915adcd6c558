/*
 * What the tightness log shows.
 */
#include <padside/model/tightness.h>

#include <math.h>
#include <string.h>

#include <padside/calc/tightness.h>

enum { MOST_POINTS = 64 };

static const double atmosphere_psi = 14.7;

/* About room temperature, °R: what a degree is a share of. */
static const double usual_rankine = 530;

/* More than a cloud or an evening does, °F. */
static const double weather_f = 25;

static double minutes_between(const struct tightness_entry *a, const struct tightness_entry *b)
{
	return (double)(b->at - a->at) / 60;
}

static const struct value *value_of(const struct tightness_entry *entry)
{
	return entry->kind == TIGHTNESS_NITROGEN ? &entry->pressure
	     : entry->kind == TIGHTNESS_VACUUM ? &entry->microns : &entry->amount;
}

bool tightness_was_read(const struct tightness_entry *entry)
{
	return value_of(entry)->state == VALUE_TAKEN;
}

static bool is_of(const struct tightness_entry *entry, enum tightness_kind kind)
{
	return entry->kind == kind && tightness_was_read(entry) && entry->at != WALL_TIME_NONE;
}

/* ---- Nitrogen ---- */

static bool is_corrected(const struct tightness_entry *a, const struct tightness_entry *b)
{
	return a->temperature.state == VALUE_TAKEN && b->temperature.state == VALUE_TAKEN;
}

/* The temperature of a look; one that was not written was as at the other. */
static double temperature_of(const struct tightness_entry *entry, bool corrected)
{
	const double usual_f = 70;

	return corrected ? entry->temperature.number : usual_f;
}

double nitrogen_plus_minus(const struct tightness_entry *from, const struct tightness_entry *to)
{
	struct accuracy gauge = instrument_accuracy(INSTRUMENT_HIGH_SIDE_GAUGE);
	struct accuracy thermometer = instrument_accuracy(INSTRUMENT_PIPE_THERMOMETER);
	double own = M_SQRT2 * gauge.absolute;
	double shared = gauge.percent / 100 * fabs(from->pressure.number - to->pressure.number);
	double heat = M_SQRT2 * thermometer.absolute * (from->pressure.number + atmosphere_psi) /
	              usual_rankine;

	return hypot(own + shared, heat);
}

static double by_weather_psi(const struct tightness_entry *entry)
{
	return weather_f / usual_rankine * (entry->pressure.number + atmosphere_psi);
}

/* What was lost between two looks, and what calc/tightness.h says of it. */
static double lost_between(const struct tightness_entry *from, const struct tightness_entry *to,
                           double least_minutes, enum tightness *result)
{
	bool corrected = is_corrected(from, to);
	struct nitrogen_test test = {
		.start_psig = from->pressure.number, .start_f = temperature_of(from, corrected),
		.end_psig = to->pressure.number, .end_f = temperature_of(to, corrected),
		.minutes = minutes_between(from, to), .plus_minus_psi = nitrogen_plus_minus(from, to),
	};
	double lost;

	tightness_judge_nitrogen(&test, least_minutes, &lost, result);
	return lost;
}

/* Whether gas was put in between two looks. */
static bool is_filled(const struct tightness_entry *before, const struct tightness_entry *entry)
{
	enum tightness result;

	return -lost_between(before, entry, 0, &result) >
	       by_weather_psi(before) + nitrogen_plus_minus(before, entry);
}

static bool is_flammable(const struct call *call)
{
	return visit_condition_holds(&call->visit, STAGE_AS_FOUND, CONDITION_FLAMMABLE);
}

static enum nitrogen_state nitrogen_state(const struct tightness_told *told, enum tightness result,
                                          const struct tightness_entry *first)
{
	if (result == TIGHTNESS_TIGHT)
		return NITROGEN_HELD;
	if (result != TIGHTNESS_LEAKING)
		return NITROGEN_WAITING;
	bool may_be_weather = !told->is_corrected &&
	                      told->lost_psi - told->lost_plus_minus <= by_weather_psi(first);
	return may_be_weather ? NITROGEN_UNCLEAR : NITROGEN_LEAKING;
}

static void work_out_nitrogen(const struct call *call, size_t count,
                              struct tightness_told *tightness)
{
	const struct tightness_entry *first = NULL, *last = NULL;

	for (size_t i = 0; i < count; i++) {
		const struct tightness_entry *entry = &call->tightness[i];
		if (!is_of(entry, TIGHTNESS_NITROGEN))
			continue;
		if (!first || is_filled(last, entry))
			first = entry;
		last = entry;
	}
	if (!first || first == last)
		return;
	enum tightness result;
	tightness->has_nitrogen = true;
	tightness->is_corrected = is_corrected(first, last);
	tightness->nitrogen_least = (int)(is_flammable(call) ? TIGHTNESS_NITROGEN_A2L_MINUTES
	                                                     : TIGHTNESS_NITROGEN_MINUTES);
	tightness->lost_psi = lost_between(first, last, tightness->nitrogen_least, &result);
	tightness->lost_plus_minus = nitrogen_plus_minus(first, last);
	tightness->nitrogen_minutes = (int)minutes_between(first, last);
	tightness->nitrogen = nitrogen_state(tightness, result, first);
}

/* ---- Vacuum ---- */

static enum vacuum_state vacuum_state(const struct vacuum_point *points, size_t count)
{
	enum tightness result;

	tightness_judge_vacuum(points, count, &result);
	switch (result) {
	case TIGHTNESS_TIGHT:
		return VACUUM_HELD;
	case TIGHTNESS_MOIST:
		return VACUUM_MOIST;
	case TIGHTNESS_LEAKING:
		return VACUUM_LEAKING;
	default:
		return count == 1 || points[count - 1].microns <= TIGHTNESS_MICRONS ? VACUUM_WAITING
		                                                                    : VACUUM_UNCLEAR;
	}
}

static void work_out_vacuum(const struct call *call, size_t count, struct tightness_told *tightness)
{
	struct vacuum_point points[MOST_POINTS];
	const struct tightness_entry *lowest = NULL, *last = NULL;
	size_t seen = 0;

	for (size_t i = 0; i < count; i++) {
		const struct tightness_entry *entry = &call->tightness[i];
		if (!is_of(entry, TIGHTNESS_VACUUM))
			continue;
		if (!lowest || entry->microns.number <= lowest->microns.number) {
			lowest = entry;
			seen = 0;
		}
		last = entry;
		/* Of more looks than there is room for the last one counts. */
		seen = seen < MOST_POINTS ? seen + 1 : seen;
		points[seen - 1] = (struct vacuum_point){ .microns = entry->microns.number,
			.minutes = minutes_between(lowest, entry) };
	}
	if (!lowest)
		return;
	tightness->lowest = lowest->microns.number;
	tightness->newest = last->microns.number;
	tightness->vacuum_minutes = (int)minutes_between(lowest, last);
	tightness->vacuum = vacuum_state(points, seen);
}

/* ---- The log ---- */

static void work_out(const struct call *call, size_t count, struct tightness_told *tightness)
{
	*tightness = (struct tightness_told){ .vacuum = VACUUM_NONE };
	work_out_nitrogen(call, count, tightness);
	work_out_vacuum(call, count, tightness);
}

void tightness_work_out(const struct call *call, struct tightness_told *tightness)
{
	work_out(call, call->tightness_count, tightness);
}

void tightness_work_out_to(const struct call *call, size_t last, struct tightness_told *tightness)
{
	work_out(call, last + 1, tightness);
}

bool tightness_is_evacuated_before(const struct call *call, const struct tightness_entry *entry)
{
	struct tightness_told tightness;
	size_t before = 0;

	while (before < call->tightness_count &&
	       strcmp(call->tightness[before].uid.text, entry->uid.text) != 0)
		before++;
	work_out(call, before, &tightness);
	return tightness.vacuum == VACUUM_HELD;
}

bool tightness_ends_test(const struct call *call, size_t entry)
{
	const struct tightness_entry *this = &call->tightness[entry];

	if (!is_of(this, this->kind))
		return false;
	for (size_t i = entry + 1; i < call->tightness_count; i++) {
		const struct tightness_entry *next = &call->tightness[i];
		if (is_of(next, this->kind))
			return this->kind == TIGHTNESS_NITROGEN ? is_filled(this, next)
			     : this->kind == TIGHTNESS_VACUUM && next->microns.number < this->microns.number;
	}
	return true;
}

bool tightness_vacuum_did_not_hold(const struct tightness_told *tightness)
{
	return tightness->vacuum == VACUUM_MOIST || tightness->vacuum == VACUUM_LEAKING ||
	       tightness->vacuum == VACUUM_UNCLEAR;
}

bool tightness_did_not_hold(const struct tightness_told *tightness)
{
	return tightness->nitrogen == NITROGEN_LEAKING || tightness_vacuum_did_not_hold(tightness);
}
