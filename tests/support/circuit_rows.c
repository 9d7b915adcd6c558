/* Rows of the circuit's table. */
#include "support/circuit_rows.h"

#include <math.h>

#include "diagnose/circuit_parts.h"

static const struct circuit_class *find_class(enum fault fault, int kind, int level)
{
	for (int c = 1; c < CIRCUIT_CLASSES; c++)
		if (circuit_classes[kind][c].fault == fault && circuit_classes[kind][c].level == level)
			return &circuit_classes[kind][c];
	return NULL;
}

double circuit_shift(enum fault fault, bool has_valve, int level, enum coordinate coordinate)
{
	static const struct weather rated = { 95, 80, 67 };
	const struct circuit_class *class = find_class(fault, has_valve ? 1 : 0, level);
	struct machine machine = { .condenser_f = 17.5, .subcooling_f = 10 };
	double features[CIRCUIT_FEATURES], shift = 0;

	if (!class)
		return NAN;
	circuit_features(&machine, &rated, has_valve ? 1 : 0, features);
	for (int f = 0; f < SHIFT_FEATURES; f++)
		shift += class->shift[coordinate][f] * features[f];
	return shift;
}

double circuit_capacity_loss(enum fault fault, bool has_valve, int level)
{
	const struct circuit_class *class = find_class(fault, has_valve ? 1 : 0, level);

	return class ? class->capacity_loss : NAN;
}
