#ifndef PADSIDE_VISIT_H
#define PADSIDE_VISIT_H

#include <stdbool.h>

#include <padside/catalog/catalog.h>

/*
 * The readings of one call in memory, by stage and reading.  Plain data, no
 * allocation: copy it freely.
 */

enum stage {
	STAGE_AS_FOUND, /* before anything was changed */
	STAGE_AS_LEFT,  /* after the work */
	STAGE_COUNT
};

struct visit {
	/* Readings of the system and the site are in STAGE_AS_FOUND only. */
	struct value values[STAGE_COUNT][READING_COUNT];
	double cooling_hours; /* full-load hours a year of the place, as the call's billing has
	                         them; 0 not said */
};

/* "as_found" or "as_left": stable words of the stages. */
const char *stage_key(enum stage stage);

/* "as found" or "as left": for people. */
const char *stage_words(enum stage stage);

/* Whether the text of a leak's place names one: "none found", "no leak" and "" do not. */
bool leak_is_named(const char *place);

/* Whether a place of a leak was written down in the stage. */
bool visit_leak_found(const struct visit *visit, enum stage stage);

/* Makes every reading "not taken". */
void visit_init(struct visit *visit);

/*
 * The value of a reading in a stage; for the system's and the site's readings
 * the stage does not matter.  Never NULL.
 */
const struct value *visit_value(const struct visit *visit, enum stage stage, enum reading reading);

/* Sets it, with the same rule. */
void visit_set(struct visit *visit, enum stage stage, enum reading reading,
               const struct value *value);

/* Whether the reading was taken (OL counts as taken). */
bool visit_has(const struct visit *visit, enum stage stage, enum reading reading);

/* Whether as left of a reading is as found, copied with its time: it was not measured again. */
bool visit_is_copy(const struct visit *visit, enum reading reading);

/*
 * The number of a reading, in its canonical unit (yes 1, no 0).  Fails with
 * STATUS_MISSING or STATUS_OVER_LIMIT, *number NAN.
 */
enum status visit_number(const struct visit *visit, enum stage stage, enum reading reading,
                         double *number);

/* The choice of a reading; CHOICE_NONE when it was not taken. */
enum choice visit_choice(const struct visit *visit, enum stage stage, enum reading reading);

/* Whether a choice of metering device is a valve (TXV or EXV); false when it was not taken. */
bool metering_is_valve(enum choice metering);

/* Whether it is answered yes. */
bool visit_is_yes(const struct visit *visit, enum stage stage, enum reading reading);

/* Whether a condition holds, as far as the stage tells. */
bool visit_condition_holds(const struct visit *visit, enum stage stage, enum condition condition);

/* Whether a reading applies to this unit. */
bool visit_applies(const struct visit *visit, enum stage stage, enum reading reading);

/* How far a step is. */
enum progress { PROGRESS_UNTOUCHED, PROGRESS_BEGUN, PROGRESS_COMPLETE };

/*
 * From the readings of the step: untouched when none is taken in either
 * stage, complete when every core reading that applies is taken in one.
 * A step without readings is untouched here; the session knows better.
 */
enum progress visit_step_progress(const struct visit *visit, enum step step);

/* How the suction and the liquid pressure of a stage stand to each other. */
enum pressures {
	PRESSURES_UNKNOWN,  /* one was not read */
	PRESSURES_CROSSED,  /* suction above liquid */
	PRESSURES_TOGETHER, /* as in a circuit at rest, or one that is not pumped */
	PRESSURES_APART     /* further than any circuit at rest: common practice, 1.4 times absolute */
};

enum pressures visit_pressures(const struct visit *visit, enum stage stage);

/*
 * Whether the readings of the refrigerant step were taken on a running
 * unit: the compressor was not said to be silent or humming, or the two
 * pressures are so far apart that it must have run since.
 */
bool visit_circuit_ran(const struct visit *visit, enum stage stage);

/* Whether the board shows a fault code: not where a word for none ("none", "off") was written. */
bool visit_shows_code(const struct visit *visit, enum stage stage);

#endif
