#ifndef PADSIDE_FAULTS_H
#define PADSIDE_FAULTS_H

#include <padside/catalog/catalog.h>

/*
 * What can be wrong: the table of include/padside/catalog/faults.def.  A fault is one row.
 */

enum fault {
	FAULT_NONE,
#define FAULT(id, ...) FAULT_##id,
#include <padside/catalog/faults.def>
#undef FAULT
	FAULT_COUNT
};

enum fault_family { FAMILY_REFRIGERANT, FAMILY_AIR, FAMILY_ELECTRICAL };

/* "refrigerant", "air", "electrical". */
const char *fault_family_key(enum fault_family family);

/* Whether the unit may be used until the fault is done away with; common practice. */
enum meanwhile {
	MEANWHILE_UNSAID, /* its meaning says it, or nothing runs anyway */
	MEANWHILE_USE,    /* yes; a smell, a hum or a tripped breaker ends it */
	MEANWHILE_COOL,   /* yes; ice ends it */
	MEANWHILE_OFF,    /* no */
	MEANWHILE_STOP,   /* no, as soon as it is likely: to run it does the harm */
	MEANWHILE_COUNT
};

enum { FAULT_MOST_CAUSES = 6 };

struct fault_info {
	const char *key;          /* stable id in files */
	enum fault_family family; /* where it belongs */
	const char *label;        /* plain words, at most 36 columns */
	const char *plain;        /* the same for the customer, where that takes other words; NULL */
	const char *meaning;      /* what it means, to somebody who is no technician; one sentence */
	const char *within;       /* the meaning while its gauges are in their limits; NULL: the same */
	const char *near;         /* the same where meters cannot tell the side; set with `within` */
	enum meanwhile meanwhile; /* whether the unit may be used until then */
	double prior;             /* share of calls with a complaint that have it */
	const char *due;          /* when it is to be repaired that is only watched; NULL: not said */
	const char *advice;       /* what to do, in the order a careful technician works */
	const char *caution;      /* what can hurt while doing it; "" for none */
	enum reading stays_off_by; /* the reading by which the unit must stay off; READING_NONE: none */
	bool trips_breaker;       /* it draws what trips a breaker: common practice */
	bool moves_leads;         /* its repair moves line leads: rotation is proved after it */
	/* Of an effect, what usually brings it about, first to look for first; FAULT_NONE ends. */
	enum fault causes[FAULT_MOST_CAUSES];
};

const struct fault_info *fault_info(enum fault fault);
enum fault fault_from_key(const char *key);

#endif
