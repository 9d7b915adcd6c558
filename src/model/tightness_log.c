/*
 * The tightness log of a call.
 *
 * Nitrogen is judged from the highest pressure that was written down to the
 * last, a vacuum from its lowest reading on: that is when the bottle, or the
 * pump, was closed off.
 */
#include <padside/model/tightness_log.h>

#include <math.h>

#include <padside/calc/refrigerant.h>
#include <padside/model/nitrogen.h>

enum { MOST_POINTS = 64 };

/* The gas's temperature when it was not written down: only alike or not matters. */
static const double usual_f = 70;

static bool is_of(const struct tightness_entry *entry, enum tightness_kind kind)
{
	const struct value *value = kind == TIGHTNESS_VACUUM ? &entry->microns : &entry->pressure;

	return entry->kind == kind && value->state == VALUE_TAKEN && entry->at != WALL_TIME_NONE;
}

static double minutes_between(const struct tightness_entry *from, const struct tightness_entry *to)
{
	return (double)(to->at - from->at) / 60;
}

static bool is_flammable(const struct call *call)
{
	enum refrigerant refrigerant;
	const char *name = choice_key(visit_choice(&call->visit, STAGE_AS_FOUND, READING_REFRIGERANT));

	return refrigerant_from_name(name, &refrigerant) && refrigerant_is_flammable(refrigerant);
}

static void show_nitrogen(const struct call *call, struct tightness_shown *shown)
{
	const struct tightness_entry *from = NULL, *to = NULL;

	for (size_t i = 0; i < call->tightness_count; i++) {
		const struct tightness_entry *entry = &call->tightness[i];
		if (!is_of(entry, TIGHTNESS_NITROGEN))
			continue;
		if (!from || entry->pressure.number > from->pressure.number)
			from = entry;
		to = entry;
	}
	if (!from || from == to)
		return;
	shown->is_corrected = from->temperature.state == VALUE_TAKEN &&
	                      to->temperature.state == VALUE_TAKEN;
	shown->nitrogen_minutes = minutes_between(from, to);
	shown->drop_plus_minus = nitrogen_plus_minus(from, to);
	struct nitrogen_test test = {
		.start_psig = from->pressure.number, .end_psig = to->pressure.number,
		.start_f = shown->is_corrected ? from->temperature.number : usual_f,
		.end_f = shown->is_corrected ? to->temperature.number : usual_f,
		.minutes = shown->nitrogen_minutes, .plus_minus_psi = shown->drop_plus_minus,
	};
	shown->has_nitrogen = tightness_judge_nitrogen(&test, shown->nitrogen_least, &shown->drop_psi,
	                                               &shown->nitrogen) == STATUS_OK;
}

static void show_vacuum(const struct call *call, struct tightness_shown *shown)
{
	struct vacuum_point points[MOST_POINTS];
	const struct tightness_entry *lowest = NULL, *last = NULL;
	size_t count = 0;

	for (size_t i = 0; i < call->tightness_count; i++) {
		const struct tightness_entry *entry = &call->tightness[i];
		if (!is_of(entry, TIGHTNESS_VACUUM))
			continue;
		if (!lowest || entry->microns.number <= lowest->microns.number) {
			lowest = entry;
			count = 0;
		}
		if (count < MOST_POINTS)
			points[count++] = (struct vacuum_point){ minutes_between(lowest, entry),
			                                         entry->microns.number };
		last = entry;
	}
	if (!last)
		return;
	shown->microns = last->microns.number;
	shown->vacuum_minutes = minutes_between(lowest, last);
	shown->has_vacuum = tightness_judge_vacuum(points, count, &shown->vacuum) == STATUS_OK;
}

void tightness_log_show(const struct call *call, struct tightness_shown *shown)
{
	*shown = (struct tightness_shown){
		.drop_psi = NAN, .drop_plus_minus = NAN, .nitrogen_minutes = NAN,
		.nitrogen_least = is_flammable(call) ? TIGHTNESS_NITROGEN_A2L_MINUTES
		                                     : TIGHTNESS_NITROGEN_MINUTES,
		.microns = NAN, .vacuum_minutes = NAN,
	};
	show_nitrogen(call, shown);
	show_vacuum(call, shown);
	for (size_t i = 0; i < call->tightness_count; i++)
		if (call->tightness[i].kind == TIGHTNESS_WEIGH_IN &&
		    call->tightness[i].amount.state == VALUE_TAKEN)
			shown->weighed_oz += call->tightness[i].amount.number;
}

enum status cylinder_room(const struct cylinder *cylinder, double *room_lb)
{
	enum refrigerant refrigerant;

	*room_lb = NAN;
	if (cylinder->refrigerant == CHOICE_NONE || cylinder->water_capacity_lb <= 0 ||
	    cylinder->tare_lb <= 0 || cylinder->weight_lb <= 0)
		return STATUS_MISSING;
	if (!refrigerant_from_name(choice_key(cylinder->refrigerant), &refrigerant))
		return STATUS_NOT_APPLICABLE;
	return tightness_cylinder_room(refrigerant, cylinder->water_capacity_lb, cylinder->tare_lb,
	                               cylinder->weight_lb, room_lb);
}
