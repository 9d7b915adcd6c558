#ifndef PADSIDE_QUANTITIES_H
#define PADSIDE_QUANTITIES_H

#include <stddef.h>

#include <padside/base/units.h>

/*
 * Quantities inside sentences.  A table writes them typed, by the ids of units.def: "Over {225 F}",
 * "{10 to 30 F_DIFF} over outdoors", "{350 to 450 CFM/TON}", "{6 LB 8 OZ}"; whoever shows the
 * sentence writes them in the reader's units.  In SI a number has as many digits as it was written
 * with, two at least.
 */

enum { QUANTITIES_SIZE = 800 }; /* holds the longest help, meaning or advice */

/* The sentence in the reader's units: "Over 225 °F", "Over 107 °C"; cut at a whole character. */
void quantities_write(const char *sentence, enum unit_system units, char *out, size_t size);

/* As above for a reader who is not known, as in the manual: "Over 225 °F (107 °C)". */
void quantities_write_both(const char *sentence, char *out, size_t size);

#endif
