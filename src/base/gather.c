/*
 * Arrays that grow.
 */
#include <padside/base/gather.h>

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { FEW = 64 };

void *gather_more(struct gather *gather)
{
	if (gather->count == gather->capacity) {
		/* Where there are few, there is room for all of them at once. */
		size_t first = gather->most > 0 && gather->most <= FEW ? gather->most : 8;
		size_t capacity = gather->capacity ? 2 * gather->capacity : first;
		void *items = capacity > SIZE_MAX / gather->size ? NULL :
		              realloc(gather->items, capacity * gather->size);
		if (!items) {
			gather->failed = true;
			return NULL;
		}
		gather->items = items;
		gather->capacity = capacity;
	}
	return (char *)gather->items + gather->count++ * gather->size;
}

bool gather_add(struct gather *gather, const void *item)
{
	void *place = gather_more(gather);

	if (!place)
		return false;
	memcpy(place, item, gather->size);
	return gather->most == 0 || gather->count < gather->most;
}
