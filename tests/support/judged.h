#ifndef SUPPORT_JUDGED_H
#define SUPPORT_JUDGED_H

#include <padside/diagnose/assessment.h>

/* A call written in a line or two, judged. */
struct judged {
	struct visit visit;           /* its readings */
	struct assessment assessment; /* what they mean, both stages */
	struct figure_set set;        /* figures of the stage judged last */
	struct diagnosis diagnosis;   /* and its diagnosis */
};

/*
 * Judges "key=value, key=value, …" in US units, e.g. "metering=txv,
 * compressor_state=silent".  Fails the test on a key or value that the
 * catalogue refuses.
 */
void judge(struct judged *judged, enum stage stage, const char *readings);

/* Adds readings to a call and judges again. */
void judge_more(struct judged *judged, enum stage stage, const char *readings);

/* The finding; NULL when it is not listed. */
const struct finding *judged_finding(const struct judged *judged, enum fault fault);

/* Its probability; 0 when it is not listed. */
double judged_probability(const struct judged *judged, enum fault fault);

/* The first finding's fault; FAULT_NONE when there is none. */
enum fault judged_first(const struct judged *judged);

/* How a figure or reading leans in a finding; NAN when it is not among the evidence. */
double judged_lean(const struct judged *judged, enum fault fault, enum figure figure,
                   enum reading reading);

/* Readings of a running R-410A circuit, by what the gauges mean.  NAN: not taken. */
struct circuit_case {
	double outdoor, return_db, return_wb; /* °F */
	double suction, superheat;            /* saturation, °F; °F */
	double condensing, subcooling;        /* saturation, °F; °F */
	double split;                         /* °F */
};

/* Judges such a circuit; `system` as above ("metering=txv, seer=14, …"). */
void judge_circuit(struct judged *judged, const char *system, const struct circuit_case *given);

#endif
