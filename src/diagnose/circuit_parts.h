#ifndef DIAGNOSE_CIRCUIT_PARTS_H
#define DIAGNOSE_CIRCUIT_PARTS_H

#include "diagnose/circuit.h"
#include "diagnose/gauss.h"

/* What the files that judge the circuit (circuit*.c) share. */

/* How many of the things seen belong to the circuit; the weather comes behind them. */
enum { CIRCUIT_SEEN = SEEN_OUTDOOR };

/* Reads the machine, the weather and everything seen; `circuit` is emptied first. */
void circuit_see(const struct view *view, struct circuit *circuit);

/* How a fault moves a machine with a valve, or with an orifice. */
const struct movements *circuit_movements(enum fault fault, bool has_valve);

/* Fills circuit->scenes[kind]. */
void circuit_set_scene(struct circuit *circuit, int kind);

/*
 * Mean and covariance of the `n` things in `rows` under one explanation; the
 * means of all are in `mean`, the lower half of the covariance by row.
 */
void circuit_explain(const struct circuit *circuit, const struct hypothesis *hypothesis,
                     const int *rows, int n, double *mean,
                     double covariance[GAUSS_SIZE][GAUSS_SIZE]);

/* Keeps what the shown figures would be, from that of circuit->rows. */
void circuit_keep_shown(const struct circuit *circuit, const double *mean,
                        double covariance[GAUSS_SIZE][GAUSS_SIZE],
                        struct hypothesis *hypothesis);

/* Whether the explanation names the fault. */
bool hypothesis_has(const struct hypothesis *hypothesis, enum fault fault);

#endif
