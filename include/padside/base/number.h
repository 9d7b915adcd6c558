#ifndef PADSIDE_NUMBER_H
#define PADSIDE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Numbers as people type and read them.  Independent of the locale: the
 * decimal sign is a point in every file; typing also takes a comma.
 */

/* Large enough for every number written by this module. */
enum { NUMBER_SIZE = 40 };

/*
 * Reads a number at the start of `typed`: decimal ("12", "-3.5", ".5",
 * "3,5") or mixed with a common fraction ("1 1/8", "1-1/8"), with thousands
 * separated by commas ("1,200", "12,000").  A single comma followed by exactly
 * three digits separates thousands, but behind a lone zero; any other single
 * comma is a decimal comma.  "120/240" is 120 and what follows: with a stroke
 * people write two values.  Sets *rest to what follows, spaces skipped.
 * Returns false, touching nothing, when there is no finite number there.
 */
bool number_parse(const char *typed, double *value, const char **rest);

/* As above for what is measured in fractions of an inch: "7/8" is a number too. */
bool number_parse_inches(const char *typed, double *value, const char **rest);

/* Writes `value` rounded half away from zero to `decimals` (0 to 9); never "-0". */
void number_format(double value, int decimals, char *out, size_t size);

/*
 * Writes `value` with as few digits as read back to the same double, in the
 * form of JSON numbers.  The value must be finite (asserted).
 */
void number_format_exact(double value, char *out, size_t size);

/*
 * Reads what that wrote, to the same double.  Returns false, touching nothing, when all of
 * `text` is not one finite number.
 */
bool number_parse_exact(const char *text, double *value);

#endif
