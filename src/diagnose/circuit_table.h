#ifndef DIAGNOSE_CIRCUIT_TABLE_H
#define DIAGNOSE_CIRCUIT_TABLE_H

#include <padside/catalog/faults.h>

/*
 * What the circuit's readings are, healthy and with each fault: numbers from
 * a first-principles model of many units (tests/bench/diagnose, make
 * circuit-table).  Nothing in it was set by hand.
 */

/* The coordinates in which units are compared; °F unless said. */
enum coordinate {
	COORDINATE_SUCTION,    /* suction saturation temperature */
	COORDINATE_SUPERHEAT,  /* at the outdoor unit; below zero where liquid comes back */
	COORDINATE_CONDENSING, /* condensing temperature (bubble) over outdoor */
	COORDINATE_SUBCOOLING, /* at the liquid line */
	COORDINATE_DISCHARGE,  /* discharge line beyond what the cycle makes of the others */
	COORDINATE_SPLIT,      /* return less supply */
	COORDINATE_AMPS,       /* 100 × ln of the share of RLA */
	COORDINATE_AIRFLOW,    /* 100 × ln of the share of 400 cfm a ton */
	COORDINATE_ENTHALPY,   /* enthalpy drop of the air, Btu/lb */
	COORDINATE_DRIER,      /* drop over the drier */
	COORDINATE_BEND,       /* return bend less the middle of condensing at the gauge */
	COORDINATE_STANDING,   /* standing saturation less standing temperature */
	COORDINATE_LEAVING,    /* condenser leaving less outdoor */
	COORDINATE_COUNT
};

enum {
	CIRCUIT_KINDS = 2,     /* 0: orifice and capillary, 1: TXV and EXV */
	CIRCUIT_FEATURES = 10, /* what means hang on, see circuit_features() */
	SHIFT_FEATURES = 4,    /* the first of them: what a fault's shift hangs on */
	CIRCUIT_CLASSES = 31,  /* none, and ten ways to fail at three severities */
	LOWER_COUNT = COORDINATE_COUNT * (COORDINATE_COUNT + 1) / 2 /* lower half by row */
};

/* Refrigerants that differ from the mean of all. */
enum circuit_refrigerant {
	CIRCUIT_R410A, CIRCUIT_R22, CIRCUIT_R454B, CIRCUIT_R32, CIRCUIT_R407C, CIRCUIT_REFRIGERANTS
};

/* Healthy units of one kind of metering. */
struct circuit_norm {
	double base[COORDINATE_COUNT][CIRCUIT_FEATURES]; /* mean = sum over features */
	double offsets[CIRCUIT_REFRIGERANTS][COORDINATE_COUNT]; /* more, by refrigerant */
	double own[LOWER_COUNT]; /* covariance that a unit takes along from visit to visit */
};

/* Units with one fault at one severity; the first row is healthy. */
struct circuit_class {
	enum fault fault;      /* FAULT_NONE: healthy */
	int level;             /* 0 light, 1 middling, 2 severe: thirds of the range */
	double share;           /* of the fault's calls */
	double capacity_loss;   /* mean share of capacity that it costs */
	double efficiency_loss; /* mean share of efficiency */
	double shift[COORDINATE_COUNT][SHIFT_FEATURES]; /* of the mean, from healthy */
	double covariance[LOWER_COUNT]; /* over units, faults and severities of the class */
};

extern const struct circuit_norm circuit_norms[CIRCUIT_KINDS];
extern const struct circuit_class circuit_classes[CIRCUIT_KINDS][CIRCUIT_CLASSES];

#endif
