#ifndef PADSIDE_DIAGNOSE_PREDICTIONS_H
#define PADSIDE_DIAGNOSE_PREDICTIONS_H

#include <stdbool.h>

#include <padside/catalog/catalog.h>
#include <padside/catalog/faults.h>

/*
 * What the leading explanations of the circuit say each reading should be, to
 * be laid beside what it is.
 */

enum { MOST_PREDICTIONS = 4, MOST_PREDICTED = 13 };

/* One reading under one explanation. */
struct predicted {
	enum reading reading; /* as it is typed */
	double measured;      /* what was read, canonical unit */
	double value;         /* what the explanation predicts for it */
	double plus_minus;    /* 95 % of that, the instrument's error within */
	bool agrees;          /* the reading lies inside */
};

/* One explanation. */
struct prediction {
	enum fault first, second; /* both FAULT_NONE: a sound unit; second: the other of a pair */
	double probability;       /* of it, all severities together */
	struct predicted list[MOST_PREDICTED]; /* in the order of the sheet */
	int count;                /* of them */
};

struct predictions {
	struct prediction list[MOST_PREDICTIONS]; /* most probable first */
	int count; /* of them; 0: the circuit was not read on a running unit */
};

#endif
