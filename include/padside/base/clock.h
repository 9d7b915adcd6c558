#ifndef PADSIDE_CLOCK_H
#define PADSIDE_CLOCK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * Wall-clock time.
 *
 * Times in the book are what the clock on the wall of the truck showed:
 * seconds since 1970-01-01 00:00 counted in local civil time, written as
 * ISO 8601 without a zone ("2026-06-03T09:12:00").  That is what the paper
 * needs, it sorts as text, and it is the same on every machine that reads
 * the book.
 */
typedef int64_t wall_time; /* seconds; WALL_TIME_NONE when there is none */

#define WALL_TIME_NONE INT64_MIN

/* Large enough for every form that clock_format_… writes. */
enum { CLOCK_TEXT_SIZE = 32 };

/* Where the program takes its time from; tests put their own here. */
struct clock {
	wall_time (*now)(void *context); /* the time now */
	int64_t (*steady)(void *context); /* seconds from anywhere, never set back; NULL: as `now` */
	void *context;                   /* handed to `now` */
};

/* The machine's clock in its own time zone. */
extern const struct clock clock_of_machine;

wall_time clock_now(const struct clock *clock);

/* Seconds for measuring how long something took, whatever is done to the clock on the wall. */
int64_t clock_steady(const struct clock *clock);

/*
 * Milliseconds since 1970-01-01 in universal time, for putting changes of
 * several machines in order; and the time on the wall here at such a moment.
 * A clock of one's own (tests) is taken to stand in universal time.
 */
int64_t clock_utc_milliseconds(const struct clock *clock);
wall_time clock_wall_of(const struct clock *clock, int64_t milliseconds);

/*
 * Reads "2026-06-03", "2026-06-03T09:12", "2026-06-03 09:12:30"; years 1900
 * to 2999; a zone is refused.  Returns false on anything else.
 */
bool clock_parse(const char *typed, wall_time *time);

/* "2026-06-03T09:12:30"; "" for WALL_TIME_NONE. */
void clock_format(wall_time time, char *out, size_t size);

/* "2026-06-03", and "09:12". */
void clock_format_date(wall_time time, char *out, size_t size);
void clock_format_hour(wall_time time, char *out, size_t size);

/* "June 2026", for sentences; "" for WALL_TIME_NONE. */
void clock_format_month(wall_time time, char *out, size_t size);

/* The calendar year of a time. */
int clock_year(wall_time time);

#endif
