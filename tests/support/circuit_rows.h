#ifndef TESTS_CIRCUIT_ROWS_H
#define TESTS_CIRCUIT_ROWS_H

#include "diagnose/circuit.h"

/* What the table of the circuit (circuit_table.c) holds of one fault. */

/*
 * How far a fault at a severity (0 light to 2 severe) moves a coordinate from
 * healthy at 95 °F outdoors, 80/67 °F return.  NAN: the circuit does not show it.
 */
double circuit_shift(enum fault fault, bool has_valve, int level, enum coordinate coordinate);

/* The share of capacity that it costs; NAN likewise. */
double circuit_capacity_loss(enum fault fault, bool has_valve, int level);

#endif
