#ifndef PADSIDE_NITROGEN_H
#define PADSIDE_NITROGEN_H

#include <padside/model/call.h>

/*
 * ± of what is lost between two nitrogen readings, psi, 95 %: two pressures on one
 * gauge, and what two thermometers make of it at constant volume.
 */
double nitrogen_plus_minus(const struct tightness_entry *from, const struct tightness_entry *to);

#endif
