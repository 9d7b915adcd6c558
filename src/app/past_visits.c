/*
 * The unit's own past, from the book.
 */
#include "app/past_visits.h"

#include <stdlib.h>
#include <string.h>

#include "app/gather.h"

/* What is gathered for which call. */
struct gathering {
	const struct call *call; /* whose unit */
	struct gather visits;    /* struct store_visit, newest first */
};

static bool take_visit(const struct store_visit *visit, void *context)
{
	struct gathering *gathering = context;
	const struct call *call = gathering->call;

	if (strcmp(visit->call.text, call->uid.text) == 0 || visit->opened_at > call->opened_at)
		return true;
	return gather_add(&gathering->visits, visit);
}

enum status past_visits_load(struct store *store, const struct call *call, struct past *past,
                           struct error *error)
{
	struct gathering gathering = {
		.call = call, .visits = { .size = sizeof(struct store_visit), .most = MOST_PAST_VISITS },
	};

	memset(past, 0, sizeof *past);
	enum status status = store_system_visits(store, &call->system.uid, take_visit, &gathering, error);
	if (status == STATUS_OK && gathering.visits.failed)
		status = error_set(error, STATUS_NO_MEMORY, "there is no memory left; close other programs");
	const struct store_visit *visits = gathering.visits.items;
	for (size_t i = status == STATUS_OK ? gathering.visits.count : 0; i > 0; i--) {
		const struct store_visit *visit = &visits[i - 1];
		bool was_in_order = strcmp(visit->found_line, "in order") == 0;
		past_add(past, &visit->visit, past_stage(&visit->visit), was_in_order);
	}
	free(gathering.visits.items);
	return status;
}
