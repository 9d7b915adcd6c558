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

/* When the visit of a call began: it arrived, else was begun or planned, whichever is later. */
wall_time past_visit_began(const struct call *call);

/*
 * What other calls on the unit had noted to watch when this visit began and it left open: of a
 * call that goes on, what is open.  The list is the caller's (free).
 */
enum status past_watch_load(struct store *store, const struct call *call, struct watch_item **items,
                            size_t *count, struct error *error);

#endif
