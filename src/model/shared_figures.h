#ifndef MODEL_SHARED_FIGURES_H
#define MODEL_SHARED_FIGURES_H

#include <padside/calc/moist_air.h>

#include "model/inputs.h"

/* What figures of more than one subject need. */

/* Return air; needs dry bulb and wet bulb or humidity. */
enum status air_of_return(const struct inputs *inputs, struct moist_air *air);

/* Outdoor unit power, kW: as read, or from volts and amps of compressor and fan. */
enum status power_of_unit(const struct inputs *inputs, double *kilowatt);

#endif
