/*
 * The unit's own past, from the book.
 */
#include "app/past_visits.h"

#include <stdlib.h>
#include <string.h>

/* `visits` newest first; a refit on one, or since, ends what was before it. */
static void add_visits(const struct past_call *visits, size_t count, const struct call *call,
                       struct past *past)
{
	for (size_t i = count; i > 0; i--) {
		const struct past_call *visit = &visits[i - 1];
		enum stage stage = past_stage(&visit->visit);
		bool changed = past_parts_are_refit(visit->done_line);
		if (changed || (i < count && past_is_refit(&visits[i].visit, &visit->visit)))
			past_end(past);
		/* What was found is then of the old unit. */
		if (!changed || stage == STAGE_AS_LEFT)
			past_add(past, &visit->visit, stage, strcmp(visit->found_line, "in order") == 0);
	}
	if (count > 0 && past_is_refit(&visits[0].visit, &call->visit))
		past_end(past);
}

enum status past_visits_load(struct store *store, const struct call *call, struct past *past,
                           struct error *error)
{
	struct past_call *visits;
	size_t count;
	enum status status = store_past_calls(store, &call->system.uid, call, MOST_PAST_VISITS, &visits,
	                                      &count, error);

	memset(past, 0, sizeof *past);
	add_visits(visits, count, call, past);
	free(visits);
	return status;
}

wall_time past_visit_began(const struct call *call)
{
	if (call->arrived_at != WALL_TIME_NONE)
		return call->arrived_at;
	return call->planned_at != WALL_TIME_NONE && call->planned_at > call->opened_at
	       ? call->planned_at : call->opened_at;
}

enum status past_watch_load(struct store *store, const struct call *call, struct watch_item **items,
                            size_t *count, struct error *error)
{
	/* What was noted on this very call stands in its own list. */
	enum status status = store_open_watch_items(store, &call->system.uid, &call->uid,
	                                            past_visit_began(call), items, count, error);
	size_t kept = 0;

	for (size_t i = 0; status == STATUS_OK && i < *count; i++)
		if (call_leaves_open(call, &(*items)[i]))
			(*items)[kept++] = (*items)[i];
	if (status == STATUS_OK)
		*count = kept;
	return status;
}
