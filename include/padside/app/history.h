#ifndef PADSIDE_HISTORY_H
#define PADSIDE_HISTORY_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/calc/drift.h>
#include <padside/base/error.h>
#include <padside/model/figures.h>
#include <padside/store/store.h>

/*
 * The history of a unit and of a customer, worked out from the book each
 * time it is asked for: readings and figures over the visits, what drifts and
 * when it is expected to cross its limit, what changed between two visits.
 */

/* ---- What is followed over the years (include/padside/app/series.def) ---- */

enum series {
	SERIES_NONE, /* a plain reading or figure: plotted, no drift is told */
#define SERIES(id, ...) SERIES_##id,
#include <padside/app/series.def>
#undef SERIES
	SERIES_COUNT
};

struct series_info {
	const char *key;      /* stable name in files */
	const char *label;    /* at most 26 columns */
	enum figure figure;   /* the figure followed; FIGURE_NONE: a reading */
	enum figure minus;    /* its target, taken away from it; FIGURE_NONE */
	enum reading reading; /* the reading followed; READING_NONE: a figure */
	bool is_ratio;        /* moves by shares of itself, as insulation does */
	bool bad_below;       /* its lower limit counts */
	bool bad_above;       /* its upper limit counts */
	struct range limits;  /* low == high: what is expected at the last visit */
	bool is_usual;        /* `limits` are usual ones that no standard and no maker gives */
	enum reading own_low; /* the unit's own lower limit, instead where it was read; READING_NONE */
	double scatter;       /* usual spread of a sound unit from visit to visit, as a
	                         standard deviation in the unit: weather, not the meters */
	enum reading part;    /* the rating of the part that is followed: another rating, or a
	                         value that came back by itself, is another part; READING_NONE */
	enum reading weather[3]; /* what explains a part of it: the first that was read */
	double per_weather;   /* by how much it moves for one unit of that; is_ratio: its logarithm */
	double per_weather_sd; /* how far units differ in that */
	double usual, usual_sd; /* what is taken where it was not read, and one standard deviation */
	const char *taken_out; /* what that is, in words */
};

/* The row of a series; `series` must be a real one (asserted). */
const struct series_info *series_info(enum series series);

/* ---- A unit ---- */

enum { HISTORY_MOST_VISITS = 64, HISTORY_SENTENCE_SIZE = 240 };

struct history_point {
	wall_time at;      /* the day of the visit */
	enum stage stage;  /* as found or as left */
	size_t visit;      /* index of the visit in its history, oldest 0 */
	double value;      /* canonical unit */
	double plus_minus; /* 95 % of the meters */
	bool restarts;     /* the work changed it: drift is counted from here */
};

struct history_series {
	enum series series;      /* which followed one; SERIES_NONE */
	enum figure figure;      /* the figure, or FIGURE_NONE */
	enum reading reading;    /* the reading, or READING_NONE */
	const char *key;         /* stable name; static */
	const char *label;       /* for people; static */
	enum unit unit;          /* canonical */
	int decimals;            /* shown in it */
	struct history_point points[2 * HISTORY_MOST_VISITS]; /* by time */
	size_t count;            /* of points; at least 1 */
	bool has_low, has_high;  /* whether there are limits */
	double low, high;        /* them, from the row or expected at the last visit */
	bool is_at_usual;        /* the newest weather was not read: the drift is at the usual one */
	bool is_assumed;         /* they stand on a usual value that nobody read */
	struct drift drift;      /* over the visits since it was last changed by work; for
	                            is_ratio of the natural logarithm */
	struct drift_crossing crossing; /* of the limit that it heads for; days as in day_of */
	char sentence[HISTORY_SENTENCE_SIZE]; /* the drift in words; "" for plain ones */
};

/* The days in which drift is counted: since 1970-01-01.  WALL_TIME_NONE for no such day. */
double history_day_of(wall_time time);
wall_time history_time_of(double day);

struct history_visit {
	wall_time opened_at;             /* when */
	const struct visit *visit;       /* its readings; borrowed */
	const struct figure_set *figures; /* STAGE_COUNT of them, worked out; NULL: when needed */
};

/*
 * Builds one series from visits in time order (the last HISTORY_MOST_VISITS
 * count).  Returns false when it has no point at all.  `now` decides whether
 * a crossing is told as past.
 */
bool history_follow(const struct history_visit *visits, size_t count, enum series series,
                    enum unit_system units, wall_time now, struct history_series *result);

/* The same for any figure or number reading, without limits of its own. */
bool history_plot_figure(const struct history_visit *visits, size_t count, enum figure figure,
                         struct history_series *result);
bool history_plot_reading(const struct history_visit *visits, size_t count, enum reading reading,
                          struct history_series *result);

struct history {
	struct system_line system;       /* which unit, whose */
	struct past_call *visits;      /* newest first; owned */
	size_t visit_count;              /* at most HISTORY_MOST_VISITS */
	struct history_series *series;   /* followed ones first, then the plain ones; owned */
	size_t series_count;             /* of them */
	bool is_read;                    /* something was read on one of the visits */
	struct watch_item *watch;        /* still open, newest first; owned */
	size_t watch_count;              /* of them */
	struct past_offer *offered;      /* and not taken, newest first; owned */
	size_t offered_count;            /* of them */
	struct made_up_line *made_up;    /* refrigerant made up, by year; owned */
	size_t made_up_count;            /* of them */
};

/* Makes it empty; frees it. */
void history_init(struct history *history);
void history_done(struct history *history);

/* Which series a history has, and what else. */
enum history_extent {
	HISTORY_SERIES,    /* the followed ones; beside a customer's page, which has what is watched
	                      and declined: that stays empty */
	HISTORY_FOLLOWED,  /* the followed ones, and what is watched and declined */
	HISTORY_EVERYTHING /* each figure and each reading too */
};

/*
 * The history of a unit.  Sentences are in `units`.  On failure it is
 * empty and the error is the store's, or STATUS_NO_MEMORY.
 */
enum status history_load(struct store *store, const struct uid *system,
                         enum history_extent extent, enum unit_system units,
                         wall_time now, struct history *history, struct error *error);

/* The same of a unit that was looked up already. */
enum status history_load_of(struct store *store, const struct system_line *system,
                            enum history_extent extent, enum unit_system units,
                            wall_time now, struct history *history, struct error *error);

/* ---- What changed ---- */

struct history_change {
	enum figure figure;   /* the figure, or FIGURE_NONE */
	enum reading reading; /* the reading, or READING_NONE */
	struct value before;  /* number, OL or choice of a reading; a figure's number */
	struct value after;   /* the same later */
	double change;        /* after - before; NAN unless both are numbers */
	double plus_minus;    /* 95 % of that, from the meters; NAN likewise */
	bool is_real;         /* more than the meters could explain, or another word */
};

enum { HISTORY_MOST_CHANGES = FIGURE_COUNT + READING_COUNT };

/*
 * Compares what was read and worked out in two stages of any two visits (or
 * of one): all figures and readings that both have, figures first.  Fills up
 * to HISTORY_MOST_CHANGES and returns how many.
 */
size_t history_compare(const struct visit *before, enum stage before_stage,
                       const struct visit *after, enum stage after_stage,
                       struct history_change *changes);

/* ---- A customer ---- */

struct page_watch {
	struct watch_item item; /* still open */
	size_t system;          /* index of its unit on the page */
};

struct customer_page {
	struct customer customer;      /* who */
	struct system_line *systems;   /* their units, site by site; owned */
	size_t system_count;           /* of them */
	struct call_line *visits;      /* newest first, at most PAGE_MOST_VISITS; owned */
	size_t visit_count;            /* of them */
	struct page_watch *watch;      /* open watch items; owned */
	size_t watch_count;            /* of them */
	struct past_offer *offered;    /* and not taken, newest first; owned */
	size_t offered_count;          /* of them */
};

enum { PAGE_MOST_VISITS = 200 };

/* Makes it empty; frees it. */
void customer_page_init(struct customer_page *page);
void customer_page_done(struct customer_page *page);

/* Everything of a customer's page; of `customer` the uid is enough.  On failure it is empty. */
enum status customer_page_load(struct store *store, const struct customer *customer,
                               struct customer_page *page, struct error *error);

/*
 * Age, refrigerant and metering of a unit in a few words: "taken out on 2026-05-06, 3.0 ton,
 * R-410A, fixed orifice, made 2011 (15 years)"; "" when nothing is known.
 */
void system_describe(const struct system_line *line, wall_time now, enum unit_system units,
                     char *out, size_t size);

#endif
