/* Whose search words and nameplates are to be worked out again when the transaction ends. */
#include "store/trail.h"

#include <stdlib.h>

static void add(struct dirty *dirty, int64_t id)
{
	if (id == 0 || (dirty->count > 0 && dirty->ids[dirty->count - 1] == id))
		return;
	if (dirty->count == dirty->room) {
		size_t room = dirty->room ? dirty->room * 2 : 64;
		int64_t *ids = realloc(dirty->ids, room * sizeof *ids);
		if (!ids) {
			dirty->failed = true;
			return;
		}
		dirty->ids = ids;
		dirty->room = room;
	}
	dirty->ids[dirty->count++] = id;
}

void people_dirty_customer(struct store *store, int64_t customer)
{
	add(&store->dirty_customers, customer);
}

void people_dirty_system(struct store *store, int64_t system)
{
	add(&store->dirty_systems, system);
}
