/*
 * What the tightness log shows.
 */
#include <padside/model/tightness.h>

#include <padside/model/nitrogen.h>

enum { HOLD_MINUTES = 15, MOST_MICRONS = 500 };

static int minutes_between(const struct tightness_entry *a, const struct tightness_entry *b)
{
	return (int)((b->at - a->at) / 60);
}

static bool is_of(const struct tightness_entry *entry, enum tightness_kind kind,
                  const struct value *value)
{
	return entry->kind == kind && value->state == VALUE_TAKEN && entry->at != WALL_TIME_NONE;
}

static void work_out_nitrogen(const struct call *call, struct tightness *tightness)
{
	const struct tightness_entry *first = NULL, *last = NULL;

	for (size_t i = 0; i < call->tightness_count; i++) {
		const struct tightness_entry *entry = &call->tightness[i];
		if (!is_of(entry, TIGHTNESS_NITROGEN, &entry->pressure))
			continue;
		if (!first)
			first = entry;
		last = entry;
	}
	if (!first || first == last)
		return;
	double expected = first->pressure.number;
	tightness->is_corrected = first->temperature.state == VALUE_TAKEN &&
	                          last->temperature.state == VALUE_TAKEN;
	if (tightness->is_corrected)
		expected = (first->pressure.number + 14.7) * (last->temperature.number + 459.67) /
		           (first->temperature.number + 459.67) - 14.7;
	tightness->has_nitrogen = true;
	tightness->lost_psi = expected - last->pressure.number;
	tightness->lost_plus_minus = nitrogen_plus_minus(first, last);
	tightness->nitrogen_minutes = minutes_between(first, last);
}

/* Microns a minute between two readings; 0 where no time passed. */
static double rate(const struct tightness_entry *a, const struct tightness_entry *b)
{
	double minutes = (double)(b->at - a->at) / 60;

	return minutes > 0 ? (b->microns.number - a->microns.number) / minutes : 0;
}

static void work_out_vacuum(const struct call *call, struct tightness *tightness)
{
	const struct tightness_entry *lowest = NULL, *second = NULL, *before = NULL, *last = NULL;

	for (size_t i = 0; i < call->tightness_count; i++) {
		const struct tightness_entry *entry = &call->tightness[i];
		if (!is_of(entry, TIGHTNESS_VACUUM, &entry->microns))
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
	if (tightness->newest <= MOST_MICRONS)
		tightness->vacuum = tightness->vacuum_minutes >= HOLD_MINUTES ? VACUUM_HELD : VACUUM_WAITING;
	else if (last == lowest || second == last)
		tightness->vacuum = last == lowest ? VACUUM_WAITING : VACUUM_UNCLEAR;
	else
		tightness->vacuum = rate(before, last) < 0.5 * rate(lowest, second) ? VACUUM_MOIST
		                                                                    : VACUUM_LEAKING;
}

void tightness_work_out(const struct call *call, struct tightness *tightness)
{
	*tightness = (struct tightness){ .vacuum = VACUUM_NONE };
	work_out_nitrogen(call, tightness);
	work_out_vacuum(call, tightness);
}
