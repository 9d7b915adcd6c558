/* Barometric pressure and gauge pressures: barometer.h has the formula's source. */
#include <padside/calc/barometer.h>

#include <math.h>

enum status barometric_pressure_psia(double altitude_ft, double *pressure_psia)
{
	*pressure_psia = NAN;
	if (isnan(altitude_ft))
		return STATUS_NOT_A_NUMBER;
	if (altitude_ft < -1500.0 || altitude_ft > 15000.0)
		return STATUS_OUT_OF_RANGE;
	*pressure_psia = 14.696 * pow(1.0 - 6.8754e-6 * altitude_ft, 5.2559);
	return STATUS_OK;
}

enum status absolute_pressure_psia(double pressure_psig, double altitude_ft,
                                   double *pressure_psia)
{
	double barometer_psia;
	enum status status = barometric_pressure_psia(altitude_ft, &barometer_psia);

	*pressure_psia = NAN;
	if (status != STATUS_OK)
		return status;
	if (isnan(pressure_psig))
		return STATUS_NOT_A_NUMBER;
	if (pressure_psig + barometer_psia <= 0.0)
		return STATUS_NOT_POSITIVE;
	*pressure_psia = pressure_psig + barometer_psia;
	return STATUS_OK;
}

enum status gauge_pressure_psig(double pressure_psia, double altitude_ft, double *pressure_psig)
{
	double barometer_psia;
	enum status status = barometric_pressure_psia(altitude_ft, &barometer_psia);

	*pressure_psig = NAN;
	if (status != STATUS_OK)
		return status;
	if (isnan(pressure_psia))
		return STATUS_NOT_A_NUMBER;
	if (pressure_psia <= 0.0)
		return STATUS_NOT_POSITIVE;
	*pressure_psig = pressure_psia - barometer_psia;
	return STATUS_OK;
}
