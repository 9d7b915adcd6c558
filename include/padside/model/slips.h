#ifndef PADSIDE_SLIPS_H
#define PADSIDE_SLIPS_H

#include <stdbool.h>
#include <stddef.h>

#include <padside/base/units.h>
#include <padside/model/visit.h>

/*
 * Values that fit badly beside another of the call: a likely slip of the
 * decimal point, or of the unit, or a breaker that is larger than allowed.  They
 * are kept and asked about; what is kept is what was typed.
 */

/* The question for a value as typed; false, leaving *out alone, where there is none. */
bool slip_question(const struct visit *visit, enum stage stage, enum reading reading,
                   enum unit_system units, char *out, size_t size);

#endif
