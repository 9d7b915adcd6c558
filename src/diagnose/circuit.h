#ifndef DIAGNOSE_CIRCUIT_H
#define DIAGNOSE_CIRCUIT_H

#include <padside/diagnose/past.h>
#include <padside/diagnose/predictions.h>

#include "diagnose/circuit_table.h"
#include "diagnose/clues.h"
#include "diagnose/expected.h"

/*
 * The refrigerant circuit and the air over it: which fault, or pair of
 * faults, or none, explains the readings taken on a running unit.
 */

/* What can be seen of the circuit; the last three are the weather itself. */
enum seen {
	SEEN_SUCTION,      /* suction saturation temperature, °F: the suction gauge */
	SEEN_SUCTION_LINE, /* °F */
	SEEN_LIQUID,       /* condensing temperature, °F: the liquid gauge */
	SEEN_LIQUID_LINE,  /* °F */
	SEEN_DISCHARGE,    /* °F */
	SEEN_SUPPLY,       /* supply dry bulb, °F */
	SEEN_AMPS,         /* 100 × ln of the share of RLA */
	SEEN_AIRFLOW,      /* 100 × ln of the share of 400 cfm a ton */
	SEEN_ENTHALPY,     /* enthalpy drop of the air, Btu/lb */
	SEEN_DRIER,        /* drop over the drier, °F */
	SEEN_BEND,         /* return bend of the condenser, °F, less half of the glide */
	SEEN_STANDING,     /* standing saturation less standing temperature, °F */
	SEEN_LEAVING,      /* air leaving the condenser, °F */
	SEEN_OUTDOOR, SEEN_RETURN, SEEN_WET_BULB,
	SEEN_COUNT
};

enum { MOST_HYPOTHESES = 320, SHOWN_COUNT = 13, WAY_COUNT = 5 };

/* One explanation: up to two faults, each at a severity, on one kind of unit. */
struct hypothesis {
	enum fault first, second;  /* FAULT_NONE: healthy; first == FAULT_COUNT: something unknown */
	int row[2];                /* of circuit_classes; 0 where there is none */
	int kind;                  /* which of the units below */
	double prior;              /* before any reading, severity and kind included */
	double posterior;          /* probability; all sum to 1 */
	double shown_mean[SHOWN_COUNT];     /* what each shown figure would be */
	double shown_sd[SHOWN_COUNT];       /* one standard deviation of it */
};

/* What one kind of unit shows today, healthy, and how widely. */
struct scene {
	double features[CIRCUIT_FEATURES]; /* of today's weather and this nameplate */
	double mean[COORDINATE_COUNT];     /* healthy */
	double ways[COORDINATE_COUNT][WAY_COUNT]; /* one sd of what weather and plate leave open */
	double shift[CIRCUIT_CLASSES][COORDINATE_COUNT]; /* of each class, from healthy */
	double covariance[CIRCUIT_CLASSES][LOWER_COUNT]; /* of each class, doubt of the model with it */
};

struct circuit {
	struct weather_known weather;  /* in which it was read */
	struct machine machines[2];    /* as an orifice and as a valve unit */
	double share[2];               /* probability of each, from the nameplate */
	double spread_scale;           /* above 1 where readings were taken too early */
	double value[SEEN_COUNT];      /* what was seen */
	double sd[SEEN_COUNT];         /* of the instrument */
	bool taken[SEEN_COUNT];        /* whether it was */
	int taken_count;               /* of the circuit's own */
	int rows[SEEN_COUNT];          /* which they are; the suction line last */
	int row_of[SEEN_COUNT];        /* and where each stands among them */
	bool ran;                      /* the unit ran, and its fan with it */
	struct clues air_clues;        /* filter, static, blower: about low airflow, states no/yes */
	int past_visits;               /* earlier visits of this unit that count */
	double past_share;             /* how far they are believed */
	struct own_difference own[SHOWN_COUNT]; /* how today stands to them */
	int own_count;                 /* of them */
	int count;                     /* explanations in the list below */
	double fault[FAULT_COUNT];     /* probability of each fault */
	double prior[FAULT_COUNT];     /* the same before any reading */
	double cost[FAULT_COUNT];      /* share of capacity or efficiency it is expected to cost */
	double sound;                  /* probability that no fault is there */
	double unknown;                /* probability that nothing here explains the readings */
	/* Large, and so written only as far as they are used: */
	struct scene scenes[2];        /* what each kind of unit that it can be would show */
	struct hypothesis list[MOST_HYPOTHESES]; /* every explanation */
};

/*
 * Judges the circuit; `past` holds this unit's earlier visits, NULL or empty
 * when there are none.
 */
void circuit_judge(const struct view *view, const struct past *past, bool sound_again,
                   struct circuit *circuit);

/* The evidence for or against a fault; returns how many were written. */
int circuit_evidence(const struct view *view, const struct circuit *circuit, enum fault fault,
                     struct evidence *evidence, int most);

/*
 * What each thing not taken so far is expected to be worth, SEEN_COUNT of
 * them: by how much it would lower the expected cost of doing the wrong thing
 * (1: a wrong repair), and a little for what it tells beyond that.  0 for what
 * was taken, where nothing would change, and for all when the unit did not run.
 */
void circuit_gains(const struct circuit *circuit, double *gains);

/* What the leading explanations predict for each reading that was taken. */
void circuit_predict(const struct view *view, const struct circuit *circuit,
                     struct predictions *predictions);

#endif
