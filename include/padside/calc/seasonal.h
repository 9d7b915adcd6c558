#ifndef PADSIDE_SEASONAL_H
#define PADSIDE_SEASONAL_H

#include <padside/base/status.h>

#define SEASONAL_SEER2_SHARE 0.95 /* SEER2 of a ducted system over its SEER */

/*
 * Energy of a cooling season, kWh = tons · 12000 · full-load hours / (SEER · 1000).
 *   capacity_ton     nominal, above 0
 *   full_load_hours  a year, 0 or more: depends on the place; the user's figure
 *   seer             Btu/Wh, above 0: falls with age and faults; the user's figure
 * SEER is that of the older test: SEER2 / SEASONAL_SEER2_SHARE on a ducted
 * system, SEER2 itself on a ductless one (RESNET addendum 71f, second-hand).
 * Source: definition of SEER, AHRI 210/240.
 * Failures: NOT_A_NUMBER, NEGATIVE, NOT_POSITIVE; *kilowatt_hours is NAN then.
 */
enum status seasonal_energy(double capacity_ton, double full_load_hours, double seer,
                            double *kilowatt_hours);

#endif
