#ifndef PADSIDE_STATUS_H
#define PADSIDE_STATUS_H

/*
 * Every way in which work can fail, as one table of name and sentence
 * (include/padside/base/status.def).  Calculations return nothing else; the layers that
 * talk to files and people wrap a status in a `struct error` (error.h).
 */

enum status {
#define STATUS(id, sentence) STATUS_##id,
#include <padside/base/status.def>
#undef STATUS
	STATUS_COUNT
};

/*
 * A plain sentence without a final full stop that a technician can act on,
 * e.g. "the wet bulb is above the dry bulb; check both thermometers".
 * Never NULL; the text is static.  STATUS_OK gives "done".
 */
const char *status_sentence(enum status status);

#endif
