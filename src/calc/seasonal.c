/*
 * A season's energy.
 */
#include <padside/calc/seasonal.h>

#include <math.h>

enum status seasonal_energy(double capacity_ton, double full_load_hours, double seer,
                            double *kilowatt_hours)
{
	*kilowatt_hours = NAN;
	if (!isfinite(capacity_ton) || !isfinite(full_load_hours) || !isfinite(seer))
		return STATUS_NOT_A_NUMBER;
	if (full_load_hours < 0)
		return STATUS_NEGATIVE;
	if (capacity_ton <= 0 || seer <= 0)
		return STATUS_NOT_POSITIVE;
	*kilowatt_hours = capacity_ton * 12000 * full_load_hours / (seer * 1000);
	return STATUS_OK;
}
