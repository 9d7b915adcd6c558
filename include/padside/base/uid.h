#ifndef PADSIDE_UID_H
#define PADSIDE_UID_H

#include <stdbool.h>

/*
 * Globally unique ids, made offline: UUID version 7 (RFC 9562, section 5.7),
 * lower-case text.  Those of one program sort in the order they were made,
 * those of several roughly so; an index over them grows at its end.
 */
enum { UID_SIZE = 37 };

struct uid {
	char text[UID_SIZE]; /* "01890a5d-ac96-774b-bcce-b302099a8057"; "" for none */
};

/* A new id.  Falls back on clock and process id if the system has no entropy. */
struct uid uid_new(void);

/* True when `text` has the form of a UUID (any version, lower case). */
bool uid_is_valid(const char *text);

/* True for the empty id. */
bool uid_is_none(const struct uid *uid);

#endif
