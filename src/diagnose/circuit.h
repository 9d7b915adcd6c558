#ifndef DIAGNOSE_CIRCUIT_H
#define DIAGNOSE_CIRCUIT_H

#include "diagnose/clues.h"
#include "diagnose/expected.h"

/*
 * The refrigerant circuit and the air over it: which fault, or pair of
 * faults, or none, explains the readings taken on a running machine.
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
	SEEN_ENTHALPY,     /* enthalpy drop of the air, % off the expected */
	SEEN_DRIER,        /* drop over the drier, °F */
	SEEN_OUTDOOR, SEEN_RETURN, SEEN_WET_BULB,
	SEEN_COUNT
};

enum { MOST_HYPOTHESES = 240, SHOWN_COUNT = 10 };

/* One explanation: up to two faults, each with a severity, on one kind of machine. */
struct hypothesis {
	enum fault first, second;  /* FAULT_NONE: healthy; first == FAULT_COUNT: something unknown */
	double severity[2];        /* of each */
	bool mild;                 /* the first moves superheat the milder way */
	int kind;                  /* which of the machines below */
	double prior;              /* before any reading, severity and kind included */
	double posterior;          /* probability; all sum to 1 */
	double shown_mean[SHOWN_COUNT];     /* what each shown figure would be */
	double shown_sd[SHOWN_COUNT];       /* one standard deviation of it */
};

/* What one kind of machine brings to every explanation. */
struct scene {
	double by_weather[SEEN_COUNT][3]; /* how the readings move with the weather, one sd each */
	double variance[MOVED_COUNT];     /* how machines differ */
};

struct circuit {
	struct weather_known weather;  /* in which it was read */
	struct machine machines[2];    /* as an orifice and as a valve machine */
	struct healthy healthy[2];     /* what each would show, healthy */
	struct scene scenes[2];        /* how widely each would show it */
	double share[2];               /* probability of each, from the nameplate */
	double spread_scale;           /* above 1 where readings were taken too early */
	double value[SEEN_COUNT];      /* what was seen */
	double sd[SEEN_COUNT];         /* of the instrument */
	bool taken[SEEN_COUNT];        /* whether it was */
	int taken_count;               /* of the first ten */
	int rows[SEEN_COUNT];          /* which they are */
	int row_of[SEEN_COUNT];        /* and where each stands among them */
	bool ran;                      /* the machine ran, and its fan with it */
	struct clues air_clues;        /* filter, static, blower: about low airflow, states no/yes */
	struct hypothesis list[MOST_HYPOTHESES]; /* every explanation */
	int count;                     /* of them */
	double fault[FAULT_COUNT];     /* probability of each fault */
	double prior[FAULT_COUNT];     /* the same before any reading */
	double severity[FAULT_COUNT];  /* expected severity where the fault is there */
	double sound;                  /* probability that no fault is there */
	double unknown;                /* probability that nothing here explains the readings */
};

void circuit_judge(const struct view *view, bool sound_again, struct circuit *circuit);

/* The evidence for or against a fault; returns how many were written. */
int circuit_evidence(const struct view *view, const struct circuit *circuit, enum fault fault,
                     struct evidence *evidence, int most);

/*
 * Bits that each thing not taken so far is expected to tell about which fault
 * it is, SEEN_COUNT of them; 0 for what was taken, and for all when the machine
 * did not run.
 */
void circuit_gains(const struct circuit *circuit, double *gains);

#endif
