/*
 * The table of requests.
 */
#include "tui/requests.h"

static const struct request_info requests[REQUEST_COUNT] = {
#define REQUEST(id, place, key, other, help) [REQUEST_##id] = { PLACE_##place, key, other, help },
#include "tui/requests.def"
#undef REQUEST
};

const struct request_info *request_info(enum request request)
{
	return &requests[request];
}

static bool is_key(struct key key, const char *name)
{
	struct key named;

	return *name && key_from_name(name, &named) && key_equal(key, named);
}

enum request request_from_key(struct key key, enum request_place place, bool on_call)
{
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++) {
		const struct request_info *info = &requests[i];
		bool here = info->place == PLACE_ANY || info->place == place ||
		            (on_call && info->place == PLACE_CALL);
		if (here && (is_key(key, info->key) || is_key(key, info->other)))
			return (enum request)i;
	}
	return REQUEST_NONE;
}
