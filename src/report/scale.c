/*
 * Round numbers for the edges and the lines of a drawn trend.
 */
#include "report/scale.h"

#include <math.h>

enum { MOST_STEPS = 5 };

/* Makes the edges round numbers, with two to five steps between them. */
static void round_edges(struct scale *scale)
{
	static const double sizes[] = { 1, 2, 5, 10 };
	double span = scale->high - scale->low, power = pow(10, floor(log10(span / MOST_STEPS)));

	scale->step = power;
	for (int i = 0; i < 4 && span / scale->step > MOST_STEPS - 1; i++)
		scale->step = sizes[i] * power;
	scale->low = floor(scale->low / scale->step) * scale->step;
	scale->high = ceil(scale->high / scale->step) * scale->step;
	scale->decimals = (int)fmax(0, -floor(log10(scale->step) + 1e-9));
}

static void widen(struct scale *scale, double value)
{
	scale->low = fmin(scale->low, value);
	scale->high = fmax(scale->high, value);
}

bool scale_of_trend(const struct trend *trend, struct scale *scale)
{
	bool any = false;

	*scale = (struct scale){ .low = INFINITY, .high = -INFINITY };
	for (int i = 0; i < trend->count; i++) {
		const struct plot_point *point = &trend->points[i];
		if (!isfinite(point->value))
			continue;
		widen(scale, point->value);
		scale->first = !any || point->at < scale->first ? point->at : scale->first;
		scale->last = !any || point->at > scale->last ? point->at : scale->last;
		any = true;
	}
	if (any && trend->has_limit)
		widen(scale, trend->limit);
	if (any && !(scale->low < scale->high)) {
		scale->low -= 1;
		scale->high += 1;
	}
	if (!any || !isfinite(scale->high - scale->low))
		return false;
	round_edges(scale);
	return true;
}
