#ifndef TUI_FOLD_H
#define TUI_FOLD_H

#include <padside/app/session.h>

/*
 * Whether a row of a sheet is folded away on this call: what the complaint and
 * the unit make unlikely to be needed (fold.def).
 */
bool fold_hides(const struct session *session, enum reading reading);

#endif
