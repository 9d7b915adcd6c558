/*
 * Refrigerant that was put in and taken out on a call.
 */
#include <padside/model/moved.h>

#include <math.h>

#include <padside/model/figures.h>

static bool is_weighed(const struct tightness_entry *entry)
{
	return entry->kind == TIGHTNESS_WEIGH_IN && entry->amount.state == VALUE_TAKEN &&
	       entry->amount.number > 0;
}

/* How far two notes of one amount lie apart: an ounce of rounding, little of a small amount. */
static double rounding(double ounces)
{
	return fmax(0.05, fmin(1.05, 0.15 * ounces));
}

bool moved_is_alike(double ounces, double amount)
{
	return fabs(ounces - amount) < rounding(amount);
}

/* Whether it may be the same, noted less well. */
static bool is_near(double ounces, double amount)
{
	return fabs(ounces - amount) < 0.1 * amount;
}

/* Whether lines of the charge log that stand one behind another come to the amount. */
static bool is_run_of_charge(const struct call *call, double amount,
                             bool (*is_same)(double, double))
{
	for (size_t first = 0; first < call->charge_count; first++) {
		double sum = 0;
		for (size_t last = first; last < call->charge_count; last++) {
			sum += call->charge[last].added_oz;
			if (is_same(sum, amount))
				return true;
		}
	}
	return false;
}

static bool is_line_of_charge(const struct call *call, double ounces)
{
	for (size_t i = 0; i < call->charge_count; i++)
		if (moved_is_alike(ounces, call->charge[i].added_oz))
			return true;
	return false;
}

/* Whether weigh-ins one behind another, this one with them, come to a line of the charge log. */
static bool is_part_of_line(const struct call *call, const struct tightness_entry *entry)
{
	for (const struct tightness_entry *first = call->tightness; first <= entry; first++) {
		double sum = 0;
		for (const struct tightness_entry *last = first;
		     last < call->tightness + call->tightness_count; last++) {
			sum += is_weighed(last) ? last->amount.number : 0;
			if (last >= entry && is_line_of_charge(call, sum))
				return true;
		}
	}
	return false;
}

/* Whether all lines of both logs come to the same. */
static bool are_sums_alike(const struct call *call)
{
	double added = 0, weighed = 0;

	for (size_t i = 0; i < call->charge_count; i++)
		added += call->charge[i].added_oz;
	for (size_t i = 0; i < call->tightness_count; i++)
		weighed += is_weighed(&call->tightness[i]) ? call->tightness[i].amount.number : 0;
	return moved_is_alike(added, weighed);
}

bool moved_is_weigh_in(const struct call *call, const struct tightness_entry *entry)
{
	return is_weighed(entry) && !is_run_of_charge(call, entry->amount.number, moved_is_alike) &&
	       !is_part_of_line(call, entry) && !are_sums_alike(call);
}

bool moved_is_doubtful(const struct call *call, const struct tightness_entry *entry)
{
	return moved_is_weigh_in(call, entry) && is_run_of_charge(call, entry->amount.number, is_near);
}

void moved_work_out(const struct call *call, struct moved *moved)
{
	*moved = (struct moved){ .added_oz = 0 };
	for (size_t i = 0; i < call->charge_count; i++) {
		moved->added_oz += call->charge[i].added_oz;
		moved->recovered_oz += call->charge[i].recovered_oz;
	}
	for (size_t i = 0; i < call->tightness_count; i++)
		if (moved_is_weigh_in(call, &call->tightness[i]))
			moved->added_oz += call->tightness[i].amount.number;
}

bool moved_is_over_full(const struct call *call, double *full_oz, bool *by_plate)
{
	const double allowed = 1.1;
	struct figure_value by_lines = figure_evaluate(&call->visit, STAGE_AS_FOUND,
	                                               FIGURE_CHARGE_BY_WEIGHT);
	struct moved moved;

	*full_oz = by_lines.value;
	*by_plate = by_lines.status != STATUS_OK;
	if (*by_plate && visit_number(&call->visit, STAGE_AS_FOUND, READING_FACTORY_CHARGE,
	                              full_oz) != STATUS_OK)
		return false;
	moved_work_out(call, &moved);
	return moved.added_oz > allowed * *full_oz + moved.recovered_oz;
}
