/*
 * The table of faults.
 */
#include <padside/catalog/faults.h>

#include <assert.h>
#include <string.h>

static const struct fault_info faults[FAULT_COUNT] = {
#define FAULT(id, key_, ...) [FAULT_##id] = { .key = key_, __VA_ARGS__ },
#include <padside/catalog/faults.def>
#undef FAULT
};

static const char *const families[] = {
	[FAMILY_REFRIGERANT] = "refrigerant", [FAMILY_AIR] = "air", [FAMILY_ELECTRICAL] = "electrical",
};

const char *fault_family_key(enum fault_family family)
{
	return families[family];
}

const struct fault_info *fault_info(enum fault fault)
{
	assert(fault > FAULT_NONE && fault < FAULT_COUNT);
	return &faults[fault];
}

enum fault fault_from_key(const char *key)
{
	for (int i = FAULT_NONE + 1; i < FAULT_COUNT; i++)
		if (strcmp(faults[i].key, key) == 0)
			return (enum fault)i;
	return FAULT_NONE;
}
