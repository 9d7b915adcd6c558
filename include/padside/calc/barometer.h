#ifndef PADSIDE_BAROMETER_H
#define PADSIDE_BAROMETER_H

#include <padside/base/status.h>

/*
 * Barometric pressure from altitude, and gauge pressures with it.
 *
 * Source: ASHRAE Handbook, Fundamentals, chapter "Psychrometrics", pressure of
 * the standard atmosphere: p = 14.696 (1 - 6.8754e-6 altitude_ft)^5.2559.  Weather
 * moves the true barometer by about 0.3 psi around it.
 */

/*
 * Barometric pressure, psia, at `altitude_ft`, feet above sea level, -1,500 to
 * 15,000.  Fails with STATUS_OUT_OF_RANGE or STATUS_NOT_A_NUMBER, and NAN.
 */
enum status barometric_pressure_psia(double altitude_ft, double *pressure_psia);

/*
 * Absolute pressure, psia, of a gauge reading, psig, at `altitude_ft` as above.
 * Also fails with STATUS_NOT_POSITIVE for a gauge reading of a full vacuum or
 * beyond.
 */
enum status absolute_pressure_psia(double pressure_psig, double altitude_ft,
                                   double *pressure_psia);

/*
 * The inverse: gauge pressure, psig, of an absolute pressure above 0, psia.
 * Fails likewise.
 */
enum status gauge_pressure_psig(double pressure_psia, double altitude_ft, double *pressure_psig);

#endif
