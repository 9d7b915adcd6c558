#ifndef PADSIDE_FAULTS_H
#define PADSIDE_FAULTS_H

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

/*
 * What a fault of the refrigerant circuit or of the air moves, as differences
 * from a healthy machine in the same weather.
 */
enum moved {
	MOVED_SUCTION,    /* suction saturation temperature, °F */
	MOVED_SUPERHEAT,  /* °F; superheat itself stops at 0 */
	MOVED_CONDENSER,  /* condensing temperature, °F */
	MOVED_SUBCOOLING, /* °F; subcooling itself stops at 0 */
	MOVED_CAPACITY,   /* total capacity at the same airflow, % */
	MOVED_AIRFLOW,    /* indoor airflow, 100 × natural logarithm, about % */
	MOVED_DISCHARGE,  /* discharge temperature beyond what pressures and superheat tell, °F */
	MOVED_AMPS,       /* current beyond what the pressures tell, % */
	MOVED_DRIER,      /* temperature drop over the liquid-line drier, °F */
	MOVED_COUNT
};

/*
 * By how much, for a fault of severity 1: one that costs or shifts a machine
 * clearly, 20 % of its capacity or charge or so (each row says what it is).
 * Smaller and larger faults move in proportion; where a valve or a flooded
 * condenser holds the line at first, `late` is added for each unit of
 * severity beyond FAULT_KNEE.
 */
struct movements {
	double early[MOVED_COUNT]; /* per unit of severity, from the start */
	double late[MOVED_COUNT];  /* more, per unit beyond the knee */
	/* Superheat a unit on machines that do not flood, where sources differ; 0: they agree. */
	double mild_superheat;
};

#define FAULT_KNEE 0.6

enum { FAULT_MOST_CAUSES = 6 };

struct fault_info {
	const char *key;          /* stable id in files */
	enum fault_family family; /* where it belongs */
	const char *label;        /* plain words, at most 36 columns */
	const char *meaning;      /* what it means, to somebody who is no technician; one sentence */
	double prior;             /* share of calls with a complaint that have it */
	const char *advice;       /* what to do, in the order a careful technician works */
	const char *caution;      /* what can hurt while doing it; "" for none */
	/* Of an effect, what usually brings it about, first to look for first; FAULT_NONE ends. */
	enum fault causes[FAULT_MOST_CAUSES];
	struct movements orifice; /* with a fixed orifice or capillary; all 0: moves nothing */
	struct movements valve;   /* with a TXV or EXV */
};

const struct fault_info *fault_info(enum fault fault);
enum fault fault_from_key(const char *key);

#endif
