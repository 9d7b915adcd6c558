#ifndef PADSIDE_SEASONAL_H
#define PADSIDE_SEASONAL_H

#include <padside/base/status.h>

/*
 * Energy of a cooling season, kWh = tons · 12000 · full-load hours / (SEER · 1000).
 *   capacity_ton     nominal, above 0
 *   full_load_hours  a year, 0 or more: depends on the place; the user's figure
 *   seer             Btu/Wh, above 0: falls with age and faults; the user's figure
 * Source: definition of SEER, AHRI 210/240.
 * Failures: NOT_A_NUMBER, NEGATIVE, NOT_POSITIVE; *kilowatt_hours is NAN then.
 */
enum status seasonal_energy(double capacity_ton, double full_load_hours, double seer,
                            double *kilowatt_hours);

#endif
