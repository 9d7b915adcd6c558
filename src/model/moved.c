/*
 * Refrigerant that was put in and taken out on a call.
 */
#include <padside/model/moved.h>

#include <math.h>

/* Two amounts that a scale shows alike. */
static const double alike_oz = 0.05;

static bool is_weighed(const struct tightness_entry *entry)
{
	return entry->kind == TIGHTNESS_WEIGH_IN && entry->amount.state == VALUE_TAKEN &&
	       entry->amount.number > 0;
}

bool moved_is_weigh_in(const struct call *call, const struct tightness_entry *entry)
{
	double added = 0, weighed = 0;

	if (!is_weighed(entry))
		return false;
	for (size_t i = 0; i < call->charge_count; i++) {
		if (fabs(call->charge[i].added_oz - entry->amount.number) < alike_oz)
			return false;
		added += call->charge[i].added_oz;
	}
	for (size_t i = 0; i < call->tightness_count; i++)
		if (is_weighed(&call->tightness[i]))
			weighed += call->tightness[i].amount.number;
	return fabs(added - weighed) >= alike_oz;
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
