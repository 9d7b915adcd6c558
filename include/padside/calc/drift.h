#ifndef PADSIDE_DRIFT_H
#define PADSIDE_DRIFT_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/status.h>

/*
 * Drift: whether a value measured at several visits really moves, how fast,
 * and when it is expected to cross a limit.
 *
 * The slope is Theil's median of all slopes between two points, so that one
 * bad reading does not make or hide a trend.  Its interval comes from the
 * accuracy of the meters as long as that explains the scatter around the
 * line; where it does not, from Kendall's rank statistic as Sen uses it.  Three or
 * four points cannot show whether it does: there it is Student's, from the
 * scatter and the meters' accuracy together.
 *
 * Sources: H. Theil, "A rank-invariant method of linear and polynomial
 * regression analysis", Proc. Kon. Ned. Akad. v. Wetensch. A 53 (1950);
 * P. K. Sen, "Estimates of the regression coefficient based on Kendall's
 * tau", J. Am. Stat. Assoc. 63 (1968) 1379-1389; M. G. Kendall, Rank
 * Correlation Methods (variance of S); R. T. Birge, Phys. Rev. 40 (1932) 207.
 */

enum {
	DRIFT_FEWEST_POINTS = 3, /* no trend is claimed from fewer visits */
	DRIFT_MOST_POINTS = 64   /* of a longer series the last ones count */
};

struct drift_point {
	double day;        /* days since any fixed day, not falling along the series */
	double value;      /* in any unit */
	double plus_minus; /* 95 % of the meters, same unit; 0 or more */
};

/* Whether a trend is claimed, and if not, why not. */
enum drift_claim {
	DRIFT_CLAIMED,       /* it moves */
	DRIFT_TOO_FEW,       /* fewer than DRIFT_FEWEST_POINTS, or all on one day */
	DRIFT_NOT_CLEAR,     /* the slope's 95 % interval holds zero */
	DRIFT_WITHIN_METERS  /* the first and last reading being off could explain it all */
};

struct drift {
	enum drift_claim claim;    /* whether it moves */
	size_t count;              /* points taken into account */
	double slope;              /* per day */
	double slope_low;          /* 95 % interval of it */
	double slope_high;         /* upper end */
	double first_day;          /* of the points taken into account */
	double last_day;           /* of them */
	double centre_day;         /* mean of the days: where the line is known best */
	double centre;             /* the line's value there */
	double centre_plus_minus;  /* 95 % of that */
	double change;             /* along the line from the first to the last day */
	double meters_explain;     /* change that wrong first and last readings could feign */
	bool scatter_is_meters;    /* the meters' accuracy explains the scatter */
};

/*
 * Fits a trend to `count` points.  With fewer than two days only `claim`,
 * `count` are meaningful and the rest is NAN.  Accuracy: the interval covers
 * the true slope in at least 95 % of series whose errors are normal with the
 * stated plus/minus.  Fails with STATUS_NOT_A_NUMBER (a value is not finite),
 * STATUS_OUT_OF_RANGE (a negative plus/minus, or days that fall).
 */
enum status drift_fit(const struct drift_point *points, size_t count, struct drift *drift);

/* The line's value on a day; NAN when there is no line. */
double drift_value_at(const struct drift *drift, double day);

/* On which side of its limit a value is bad. */
enum drift_side { DRIFT_BAD_BELOW, DRIFT_BAD_ABOVE };

struct drift_crossing {
	bool expected;      /* a claimed trend heads for the limit or has passed it */
	bool is_past;       /* the line is beyond the limit on the last day */
	double day;         /* most likely */
	double earliest;    /* 95 %, of level and slope together; -INFINITY: no telling */
	double latest;      /* the same */
};

/* When the line crosses `limit`; `expected` is false without a claimed trend. */
struct drift_crossing drift_crosses(const struct drift *drift, double limit,
                                    enum drift_side side);

#endif
