#ifndef APP_PAST_VISITS_H
#define APP_PAST_VISITS_H

#include <padside/diagnose/past.h>
#include <padside/model/call.h>
#include <padside/store/store.h>

/*
 * The past of the call's unit: its last visits in the book before the call.
 * Empty for a unit that nobody has seen yet.
 */
enum status past_visits_load(struct store *store, const struct call *call, struct past *past,
                           struct error *error);

#endif
