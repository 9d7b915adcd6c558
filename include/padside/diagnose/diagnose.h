#ifndef PADSIDE_DIAGNOSE_H
#define PADSIDE_DIAGNOSE_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/catalog/faults.h>
#include <padside/model/call.h>
#include <padside/diagnose/past.h>
#include <padside/diagnose/predictions.h>
#include <padside/model/figures.h>

/*
 * What is wrong, why, and what to measure next.  Pure: a visit in, findings
 * out; no allocation, no I/O, the same answer every time.  Facts only, in
 * canonical units: padside/report/wording.h puts them into words.
 */

/* How far a finding asks for something to be done. */
enum level {
	LEVEL_NOTE,  /* worth a line */
	LEVEL_WATCH, /* works today, look again */
	LEVEL_ACT    /* do something about it */
};

/* "note", "watch", "act". */
const char *level_key(enum level level);

/* Whether a reading states a finding by itself, or it is concluded from several. */
enum basis { BASIS_INFERRED, BASIS_MEASURED };

/* "inferred", "measured". */
const char *basis_key(enum basis basis);

enum { MOST_FINDINGS = 12, MOST_EVIDENCE = 8, MOST_NEXT_CHECKS = 3, MOST_CONTRADICTIONS = 4,
       MOST_QUOTED = 3, MOST_OWN = 4 };

/* One piece of evidence: a figure or a reading, its value and what it says. */
struct evidence {
	enum figure figure;   /* FIGURE_NONE when it is a reading */
	enum reading reading; /* READING_NONE when it is a figure */
	bool over_limit;      /* the reading showed OL: value is NAN */
	double value;         /* canonical unit, for choices the enum choice, yes 1, no 0 */
	double plus_minus;    /* 95 % of the instruments */
	bool has_expected;    /* `expected` is known */
	double expected;      /* of a healthy unit in this weather */
	double leans;         /* log10 of the likelihood ratio: + for the fault, - against it */
};

/* What became of a finding of the arrival, by the readings taken after the work. */
enum after_work {
	AFTER_WORK_NONE,        /* nothing was read after the work, or the finding is of that stage */
	AFTER_WORK_GONE,        /* the readings behind it were taken again and are good */
	AFTER_WORK_STILL_THERE, /* they were taken again and still show it */
	AFTER_WORK_NOT_TESTED   /* they were not taken again */
};

/* "gone", "still_there", "not_tested"; "" for AFTER_WORK_NONE. */
const char *after_work_key(enum after_work after_work);

struct finding {
	enum fault fault;      /* what */
	enum basis basis;      /* measured: no guess, and no percentage to be told */
	double probability;    /* 0 to 1; of what is measured only its place: 1 to act on, else 0.49 */
	double probability_before; /* without the readings of the last minute; 0 also where nothing was
	                              read of the refrigerant then; NAN unknown */
	enum level level;      /* what it asks for */
	enum after_work after_work; /* set by assessment_make() */
	bool is_judged;        /* the technician has decided: `verdict`, and the level follows it */
	enum judgement_verdict verdict; /* what was decided */
	size_t judgement;      /* which of the call's judgements */
	bool is_symptom_masked; /* the unit did not run: its readings say nothing about this */
	struct evidence evidence[MOST_EVIDENCE]; /* strongest first */
	int evidence_count;    /* of them */
};

/* Whether it was measured and the unit must stay off for it. */
bool finding_stays_off(const struct finding *finding);

/* Why a reading is worth taking next. */
enum check_reason {
	CHECK_PART,       /* the row of next_checks.def says what it answers */
	CHECK_TELL_APART, /* the explanations `between` */
	CHECK_CAUSE,      /* between[0] is found: what brought it about, by its row */
	CHECK_PROVE,      /* whether between[0], found on arrival, is repaired */
	CHECK_ROTATION,   /* the line leads were worked on: whether it turns the right way */
	CHECK_BEFORE_RESET, /* the breaker tripped: no winding is grounded, before it is reset */
	CHECK_AGAIN       /* taken, and cannot be right beside the others: before all else */
};

/* A reading worth taking next, and what for. */
struct next_check {
	enum reading reading;     /* what to take */
	double gain;              /* expected cost of doing the wrong thing that it saves, a minute */
	enum check_reason reason; /* why */
	enum fault between[2];    /* the faults that the reason is about; FAULT_NONE: a sound unit */
};

/* What readings can contradict: the rows of contradictions.def. */
enum contradiction_id {
#define CONTRADICTION(id, ...) CONTRADICTION_##id,
#include <padside/diagnose/contradictions.def>
#undef CONTRADICTION
	CONTRADICTION_COUNT
};

/* A value that a contradiction names. */
struct quoted {
	enum figure figure;   /* FIGURE_NONE when it is a reading */
	enum reading reading; /* READING_NONE when it is a figure */
	double value;         /* canonical unit */
};

/* Readings that cannot all be right. */
struct contradiction {
	enum contradiction_id id;        /* which row */
	bool may_be_right;               /* the values; what was seen of the unit is written again */
	struct quoted quoted[MOST_QUOTED]; /* the values that contradict each other */
	int quoted_count;                /* of them */
};

struct diagnosis {
	struct finding findings[MOST_FINDINGS]; /* most probable first */
	int finding_count;
	double healthy;       /* probability that nothing judged asks for action; 0: nothing judged */
	double unexplained;   /* probability that nothing known explains the readings */
	bool is_seen_cooling; /* it was measured how the running unit cools: less calls no unit sound */
	struct next_check next_checks[MOST_NEXT_CHECKS]; /* best first */
	int next_check_count;
	struct contradiction contradictions[MOST_CONTRADICTIONS]; /* most surprising first */
	int contradiction_count; /* of them */
	struct predictions predictions; /* what the leading explanations of the circuit predict */
	struct own_difference own[MOST_OWN]; /* how today stands to this unit's own past */
	int own_count;        /* of them */
};

/*
 * Whether the readings call the unit sound: it was measured how it cools, and nothing
 * else is likely.  Where it is false and nothing was found, too little was read.
 */
bool diagnosis_is_sound(const struct diagnosis *diagnosis);

/* Whether a finding to act on explains a breaker that tripped: .trips_breaker of its row. */
bool diagnosis_explains_trip(const struct diagnosis *diagnosis);

/*
 * Judges the readings of a stage; `set` holds the figures of that stage, `past`
 * the unit's earlier visits (NULL or empty: none is known).  Every
 * probability_before is NAN: assessment_make() fills it.
 */
void diagnose(const struct visit *visit, enum stage stage, const struct figure_set *set,
              const struct past *past, struct diagnosis *diagnosis);

#endif
