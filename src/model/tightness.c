/*
 * What the tightness log shows.
 */
#include <padside/model/tightness.h>

#include <padside/calc/tightness.h>
#include <padside/model/nitrogen.h>

static const double atmosphere_psi = 14.7;
static const double rankine_f = 459.67;

/* Of the absolute pressure: what 25 °F, more than a cloud or an evening does, change it by. */
static const double weather_share = 25.0 / 530;

static int minutes_between(const struct tightness_entry *a, const struct tightness_entry *b)
{
	return (int)((b->at - a->at) / 60);
}

static const struct value *value_of(const struct tightness_entry *entry)
{
	return entry->kind == TIGHTNESS_NITROGEN ? &entry->pressure
	     : entry->kind == TIGHTNESS_VACUUM ? &entry->microns : &entry->amount;
}

static bool is_of(const struct tightness_entry *entry, enum tightness_kind kind)
{
	return entry->kind == kind && value_of(entry)->state == VALUE_TAKEN &&
	       entry->at != WALL_TIME_NONE;
}

/* ---- Nitrogen ---- */

static bool is_corrected(const struct tightness_entry *a, const struct tightness_entry *b)
{
	return a->temperature.state == VALUE_TAKEN && b->temperature.state == VALUE_TAKEN;
}

/* The pressure of one look at the temperature of another, where both have theirs. */
static double expected_psig(const struct tightness_entry *from, const struct tightness_entry *to)
{
	if (!is_corrected(from, to))
		return from->pressure.number;
	return (from->pressure.number + atmosphere_psi) * (to->temperature.number + rankine_f) /
	       (from->temperature.number + rankine_f) - atmosphere_psi;
}

static double by_weather_psi(const struct tightness_entry *entry)
{
	return weather_share * (entry->pressure.number + atmosphere_psi);
}

/* Whether gas was put in between two looks. */
static bool is_filled(const struct tightness_entry *before, const struct tightness_entry *entry)
{
	return entry->pressure.number - expected_psig(before, entry) >
	       by_weather_psi(before) + nitrogen_plus_minus(before, entry);
}

static bool is_flammable(const struct call *call)
{
	return visit_condition_holds(&call->visit, STAGE_AS_FOUND, CONDITION_FLAMMABLE);
}

static enum nitrogen_state judge_nitrogen(const struct tightness_told *tightness,
                                          const struct tightness_entry *first)
{
	double lost = tightness->lost_psi - tightness->lost_plus_minus;

	if (lost > 0 && !tightness->is_corrected && lost <= by_weather_psi(first))
		return NITROGEN_UNCLEAR;
	if (lost > 0)
		return NITROGEN_LEAKING;
	return tightness->nitrogen_minutes >= tightness->nitrogen_least ? NITROGEN_HELD
	                                                                : NITROGEN_WAITING;
}

static void work_out_nitrogen(const struct call *call, size_t count, struct tightness_told *tightness)
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
	tightness->has_nitrogen = true;
	tightness->is_corrected = is_corrected(first, last);
	tightness->lost_psi = expected_psig(first, last) - last->pressure.number;
	tightness->lost_plus_minus = nitrogen_plus_minus(first, last);
	tightness->nitrogen_minutes = minutes_between(first, last);
	tightness->nitrogen_least = (int)(is_flammable(call) ? TIGHTNESS_NITROGEN_A2L_MINUTES
	                                                     : TIGHTNESS_NITROGEN_MINUTES);
	tightness->nitrogen = judge_nitrogen(tightness, first);
}

/* ---- Vacuum ---- */

/* Microns a minute between two readings; 0 where no time passed. */
static double rate(const struct tightness_entry *a, const struct tightness_entry *b)
{
	double minutes = (double)(b->at - a->at) / 60;

	return minutes > 0 ? (b->microns.number - a->microns.number) / minutes : 0;
}

static void work_out_vacuum(const struct call *call, size_t count, struct tightness_told *tightness)
{
	const struct tightness_entry *lowest = NULL, *second = NULL, *before = NULL, *last = NULL;

	for (size_t i = 0; i < count; i++) {
		const struct tightness_entry *entry = &call->tightness[i];
		if (!is_of(entry, TIGHTNESS_VACUUM))
			continue;
		if (!lowest || entry->microns.number <= lowest->microns.number) {
			lowest = last = entry;
			second = before = NULL;
			continue;
		}
		if (!second)
			second = entry;
		before = last;
		last = entry;
	}
	if (!lowest)
		return;
	tightness->lowest = lowest->microns.number;
	tightness->newest = last->microns.number;
	tightness->vacuum_minutes = minutes_between(lowest, last);
	if (tightness->newest <= TIGHTNESS_MICRONS)
		tightness->vacuum = tightness->vacuum_minutes >= TIGHTNESS_VACUUM_MINUTES ? VACUUM_HELD
		                                                                          : VACUUM_WAITING;
	else if (last == lowest || second == last)
		tightness->vacuum = last == lowest ? VACUUM_WAITING : VACUUM_UNCLEAR;
	else
		tightness->vacuum = rate(before, last) < 0.5 * rate(lowest, second) ? VACUUM_MOIST
		                                                                    : VACUUM_LEAKING;
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
