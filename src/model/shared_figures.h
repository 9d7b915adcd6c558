#ifndef MODEL_SHARED_FIGURES_H
#define MODEL_SHARED_FIGURES_H

#include <padside/calc/moist_air.h>

#include "model/inputs.h"

/* What figures of more than one subject need. */

/* Return air; needs dry bulb and wet bulb or humidity. */
enum status air_of_return(const struct inputs *inputs, struct moist_air *air);

/* Outdoor unit power, kW: as read, or from volts and amps of compressor and fan. */
enum status power_of_unit(const struct inputs *inputs, double *kilowatt);

/*
 * The whole plus/minus, 95 %, of `ounces` of charge_to_move: in, what the
 * instruments make of it, oz; out, with how units differ.
 */
enum status charge_to_move_spread(const struct inputs *inputs, double ounces, double *plus_minus);

#endif
