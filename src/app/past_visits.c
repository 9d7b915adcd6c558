/*
 * The unit's own past, from the book.
 */
#include "app/past_visits.h"

#include <stdlib.h>
#include <string.h>

#include <padside/base/gather.h>


/* What is gathered for which call. */
struct gathering {
	const struct call *call; /* whose unit */
	struct gather visits;    /* struct past_call, newest first */
};

static bool take_visit(const struct past_call *visit, void *context)
{
	struct gathering *gathering = context;
	const struct call *call = gathering->call;

	if (strcmp(visit->call.text, call->uid.text) == 0 || visit->opened_at > call->opened_at)
		return true;
	return gather_add(&gathering->visits, visit);
}

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
	struct gathering gathering = {
		.call = call, .visits = { .size = sizeof(struct past_call), .most = MOST_PAST_VISITS },
	};

	memset(past, 0, sizeof *past);
	enum status status = store_past_calls(store, &call->system.uid, take_visit, &gathering, error);
	if (status == STATUS_OK && gathering.visits.failed)
		status = error_set(error, STATUS_NO_MEMORY, "there is no memory left; close other programs");
	add_visits(gathering.visits.items, status == STATUS_OK ? gathering.visits.count : 0, call, past);
	free(gathering.visits.items);
	return status;
}
