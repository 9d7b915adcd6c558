#ifndef PADSIDE_FIGURES_H
#define PADSIDE_FIGURES_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/band.h>
#include <padside/model/visit.h>

/*
 * Figures: what the readings mean.  The one place where readings meet the
 * calculations (src/model/figures.c); recomputed whenever asked, never stored.
 * No allocation.
 */

struct figure_value {
	enum status status; /* STATUS_OK, or why it was not evaluated */
	enum reading blame; /* the reading that is missing or over limit; READING_NONE */
	double value;       /* canonical unit; NAN unless STATUS_OK */
	double plus_minus;  /* 95 %: from the instruments' accuracy, for charge_to_move
	                       also from how units differ; 0 where exact */
};

struct figure_set {
	struct figure_value values[FIGURE_COUNT]; /* by figure */
};

/*
 * Whether the circuit's figures say anything: STATUS_ON_ICE while the coil is
 * iced, STATUS_AT_REST while the compressor stands, else STATUS_OK.
 */
enum status figure_void(const struct visit *visit, enum stage stage);

/*
 * Whether to tell why a figure has no value: its readings say nothing on ice or
 * at rest, or the superheat was read and its target lacks a reading.
 */
bool figure_is_awaited(const struct figure_set *set, enum figure figure);

/* Works out one figure from the readings of a stage. */
struct figure_value figure_evaluate(const struct visit *visit, enum stage stage,
                                    enum figure figure);

/* Works out those asked for; the others are as if they could not be. */
void figures_evaluate_some(const struct visit *visit, enum stage stage,
                           const bool wanted[FIGURE_COUNT], struct figure_set *set);

/* Works out all of them. */
void figures_evaluate(const struct visit *visit, enum stage stage, struct figure_set *set);

/*
 * What a figure takes for granted because nobody measured or read it, as a noun:
 * "usual target", "usual airflow"; "" when it stands on readings alone.  The
 * figure has to be evaluated.  Static.
 */
const char *figure_assumed(const struct visit *visit, enum stage stage, enum figure figure);

/*
 * The figure's name for these readings: its label, or a narrower one where what was not measured
 * is still in it ("static of ducts and coil").  At most 24 columns.  Static.
 */
const char *figure_name(const struct visit *visit, enum stage stage, enum figure figure);

/*
 * What the value leaves out that somebody could be hurt by, as a clause; "" nothing.  It stands
 * wherever the value does.  The figure has to be evaluated.  Static.
 */
const char *figure_caution(const struct visit *visit, enum stage stage, enum figure figure);

/*
 * Why a figure was not evaluated, as a clause without full stop, e.g.
 * "suction pressure was not taken"; "" when it was.
 */
void figure_explain(const struct figure_value *value, char *out, size_t size);

/* Where a sound unit's figure or reading lies today. */
struct expectation {
	bool known;         /* there is one for this unit and weather */
	bool is_assumed;    /* it stands on a usual value where the unit's own was not read */
	double low, high;   /* canonical unit; -INFINITY, INFINITY where it is open */
	const char *source; /* a few words without units: "maker's target, …"; static */
};

/*
 * What is expected of a figure; `set` holds the figures of that stage, or is NULL: then the few
 * that the expectation looks at are worked out, which is less than all.
 */
struct expectation figure_expect(const struct visit *visit, enum stage stage,
                                 const struct figure_set *set, enum figure figure);

/* What is expected of a reading where the catalogue fixes it. */
struct expectation reading_expect(const struct visit *visit, enum stage stage,
                                  enum reading reading);

/* How a value stands to an expectation, its uncertainty considered. */
enum band_verdict expectation_judge(const struct expectation *expectation, double value,
                                    double plus_minus);

#endif
