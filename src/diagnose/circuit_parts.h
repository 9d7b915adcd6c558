#ifndef DIAGNOSE_CIRCUIT_PARTS_H
#define DIAGNOSE_CIRCUIT_PARTS_H

#include "diagnose/circuit.h"
#include "diagnose/gauss.h"

/* What the files that judge the circuit (circuit*.c) share. */

enum {
	CIRCUIT_SEEN = SEEN_OUTDOOR, /* things seen that are the circuit's; the weather comes behind */
	ROW_SUPERHEAT = SEEN_COUNT,  /* superheat itself, below zero too: no reading, see circuit.c */
};

/* Reads the unit, the weather and everything seen; `circuit` is emptied first. */
void circuit_see(const struct view *view, struct circuit *circuit);

/* Fills circuit->scenes[kind]. */
void circuit_set_scene(struct circuit *circuit, int kind);

/* Takes the approach that the maker states, if one is, into circuit->scenes[kind]. */
void circuit_learn_target(struct circuit *circuit, int kind);

/* Takes the unit's own past into circuit->scenes[kind]. */
void circuit_learn(struct circuit *circuit, const struct past *past, int kind);

/* The mean of each coordinate under an explanation. */
void circuit_place(const struct circuit *circuit, const struct hypothesis *hypothesis,
                   double *coordinates);

/* A reading as a sum: constant + air + factor × coordinate + … */
struct row_sum {
	int count;         /* of the terms */
	int coordinate[4]; /* which */
	double factor[4];  /* times */
	double air[3];     /* times outdoor, return and wet bulb temperature */
	double constant;   /* plus */
};

enum { OUTLINE_LOWER = GAUSS_SIZE * (GAUSS_SIZE + 1) / 2 };

/* A coordinate that two rows have in common, and the product of its factors. */
struct common {
	int row, other; /* places among the rows, other <= row */
	int coordinate; /* which */
	double factor;  /* of its variance in theirs */
};

/* Some rows on one kind of unit: what all explanations share, worked out once. */
struct outline {
	int kind;                      /* of the unit */
	int rows[GAUSS_SIZE];          /* which; a seen or ROW_SUPERHEAT */
	int count;                     /* of them */
	struct row_sum sums[GAUSS_SIZE];   /* what each is */
	struct common common[OUTLINE_LOWER]; /* what any two of them share */
	int common_count;              /* of that */
	double fixed[OUTLINE_LOWER];   /* covariance of weather, nameplate and instruments */
	double of_class[CIRCUIT_CLASSES][OUTLINE_LOWER]; /* and of the units of each class */
	bool has_class[CIRCUIT_CLASSES];                 /* worked out when it is first asked for */
};

void circuit_outline(const struct circuit *circuit, int kind, const int *rows, int n,
                     struct outline *outline);

/*
 * Mean and covariance of the rows under one explanation on that kind of unit;
 * the means are in `mean` by row, the lower half of the covariance by place.
 */
void circuit_explain(const struct circuit *circuit, struct outline *outline,
                     const struct hypothesis *hypothesis, double *mean,
                     double covariance[GAUSS_SIZE][GAUSS_SIZE]);

/* The same from the coordinates' own mean and covariance, in any weather. */
struct outlook_source {
	const double *mean;                  /* of the coordinates */
	const double *covariance;             /* of them */
	const double (*ways)[WAY_COUNT];     /* of weather and nameplate, one sd of each */
	const double *sd;                    /* of the instruments, SEEN_COUNT */
	const struct weather *weather;       /* in which it is read */
	const struct machine *machine;       /* which cycle the discharge follows */
};
void circuit_project(const struct outlook_source *source, const struct weather *spread,
                     const int *rows, int n, double *mean,
                     double covariance[GAUSS_SIZE][GAUSS_SIZE]);

/* The covariance of a row (a seen or ROW_SUPERHEAT) with every coordinate. */
void circuit_across(const struct machine *machine, int row, const double *covariance,
                    double *across);

/* What the healthy unit's coordinates hang on in some weather, and their mean. */
void circuit_features(const struct machine *machine, const struct weather *weather, int kind,
                      double *features);
void circuit_norm_mean(const struct machine *machine, int kind, const double *features,
                       double *mean);

/* How they move with one sd of what is not known of weather and nameplate. */
void circuit_set_ways(const struct machine *machine, const struct weather_known *weather, int kind,
                      const double *mean, double ways[COORDINATE_COUNT][WAY_COUNT]);

/* How widely the model itself is in doubt about a coordinate, one sd. */
extern const double circuit_doubt[COORDINATE_COUNT];

/* Keeps what the shown figures would be, from that of circuit->rows. */
void circuit_keep_shown(const struct circuit *circuit, const double *mean,
                        double covariance[GAUSS_SIZE][GAUSS_SIZE],
                        struct hypothesis *hypothesis);

/* What a thing seen would be as it is typed: psig, amps, cfm; NAN where that cannot be said. */
double circuit_as_typed(const struct view *view, int seen, double value);

/* Half the glide of a blend at the liquid pressure, °F; 0 of others, and where it is not known. */
double circuit_half_glide(const struct view *view);

/* Writes circuit->own: how the shown figures stand to this unit's past. */
void circuit_compare_own(struct circuit *circuit);

/* Whether the explanation names the fault. */
bool hypothesis_has(const struct hypothesis *hypothesis, enum fault fault);

#endif
