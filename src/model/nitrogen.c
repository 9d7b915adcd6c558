/*
 * What gauge and thermometers leave open of a pressure test.
 */
#include <padside/model/nitrogen.h>

#include <math.h>

double nitrogen_plus_minus(const struct tightness_entry *from, const struct tightness_entry *to)
{
	const double atmosphere = 14.7, rankine = 530;
	struct accuracy gauge = instrument_accuracy(INSTRUMENT_HIGH_SIDE_GAUGE);
	struct accuracy thermometer = instrument_accuracy(INSTRUMENT_PIPE_THERMOMETER);
	double own = M_SQRT2 * gauge.absolute;
	double shared = gauge.percent / 100 * fabs(from->pressure.number - to->pressure.number);
	double heat = M_SQRT2 * thermometer.absolute * (from->pressure.number + atmosphere) / rankine;

	return hypot(own + shared, heat);
}
