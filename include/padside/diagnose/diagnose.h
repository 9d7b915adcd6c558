#ifndef PADSIDE_DIAGNOSE_H
#define PADSIDE_DIAGNOSE_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/catalog/faults.h>
#include <padside/model/figures.h>

/*
 * What is wrong, why, and what to measure next.  Pure: a visit in, findings
 * out; no allocation, no I/O, the same answer every time.
 */

/* How far a finding asks for something to be done. */
enum level {
	LEVEL_NOTE,  /* worth a line */
	LEVEL_WATCH, /* works today, look again */
	LEVEL_ACT    /* do something about it */
};

/* "note", "watch", "act". */
const char *level_key(enum level level);

enum { MOST_FINDINGS = 12, MOST_EVIDENCE = 8, MOST_NEXT_CHECKS = 3, MOST_CONTRADICTIONS = 4 };

/* One piece of evidence: a figure or a reading, its value and what it says. */
struct evidence {
	enum figure figure;   /* FIGURE_NONE when it is a reading */
	enum reading reading; /* READING_NONE when it is a figure */
	bool over_limit;      /* the reading showed OL: value is NAN */
	double value;         /* canonical unit, for choices the enum choice, yes 1, no 0 */
	double plus_minus;    /* 95 % of the instruments */
	bool has_expected;    /* `expected` is known */
	double expected;      /* of a healthy machine in this weather */
	double leans;         /* log10 of the likelihood ratio: + for the fault, - against it */
	char words[128];      /* "superheat 21.0 °F where 8.0 °F is expected: speaks for it" */
};

struct finding {
	enum fault fault;      /* what */
	double probability;    /* 0 to 1 */
	double probability_before; /* the same without the readings of the last minute; NAN unknown */
	enum level level;      /* what it asks for */
	bool is_symptom_masked; /* a stopped machine hides what would tell */
	struct evidence evidence[MOST_EVIDENCE]; /* strongest first */
	int evidence_count;    /* of them */
};

struct next_check {
	enum reading reading; /* what to take */
	double gain;          /* expected information, bits a minute of work */
	char why[120];        /* one clause */
};

struct diagnosis {
	struct finding findings[MOST_FINDINGS]; /* most probable first */
	int finding_count;
	double healthy;       /* probability that nothing judged asks for action; 0: nothing judged */
	double unexplained;   /* probability that nothing known explains the readings */
	struct next_check next_checks[MOST_NEXT_CHECKS]; /* best first */
	int next_check_count;
	char contradictions[MOST_CONTRADICTIONS][160]; /* readings that cannot both be right */
	int contradiction_count;
};

/* Judges the readings of a stage; `set` holds the figures of that stage. */
void diagnose(const struct visit *visit, enum stage stage, const struct figure_set *set,
              struct diagnosis *diagnosis);

#endif
