#ifndef PADSIDE_UNITS_H
#define PADSIDE_UNITS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Units of measure: the table of include/padside/base/units.def and what can be done with
 * it.  Every reading and figure has one canonical unit in which it is stored
 * and worked out; other units exist only at the edges.
 */

enum unit {
#define UNIT(id, ...) UNIT_##id,
#include <padside/base/units.def>
#undef UNIT
	UNIT_COUNT
};

/* In which units values are shown and typed. */
enum unit_system {
	UNITS_US, /* the canonical units */
	UNITS_SI, /* °C, K, kPa, g, m, mm, L/s, kW */
	UNIT_SYSTEM_COUNT
};

/* The unit in which a value with canonical unit `unit` is shown in `system`. */
enum unit unit_shown(enum unit unit, enum unit_system system);

/* "°F", "psig", …; "" for UNIT_NONE.  `plain` asks for ASCII.  Static text. */
const char *unit_symbol(enum unit unit, bool plain);

/*
 * Converts between two units of one quantity; exact factors of NIST SP 811.
 * The units must be of one quantity (asserted).
 */
double unit_convert(double value, enum unit from, enum unit to);

/* As above for a plus/minus: scaled, without the offset of the scales. */
double unit_convert_spread(double spread, enum unit from, enum unit to);

/*
 * Decimals with which to show, in `system`, a value that has `decimals` in
 * its canonical unit `unit`.  Never below 0.
 */
int unit_decimals_shown(int decimals, enum unit unit, enum unit_system system);

/*
 * Finds the unit that `typed` (no spaces around it) names among those of the
 * quantity of `canonical`.  Returns false when there is none.
 */
bool unit_from_text(const char *typed, enum unit canonical, enum unit *unit);

/* A list such as "psig, bar, kPa, MPa": what may be typed behind a value. */
void unit_list_accepted(enum unit canonical, char *list, size_t size);

#endif
