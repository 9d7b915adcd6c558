/*
 * The table of instruments.
 */
#include <padside/catalog/catalog.h>

#include <assert.h>
#include <string.h>

static const struct instrument_info instruments[INSTRUMENT_COUNT] = {
#define INSTRUMENT(id, key, label, unit, absolute, percent) \
	[INSTRUMENT_##id] = { key, label, UNIT_##unit, { absolute, percent } },
#include <padside/catalog/instruments.def>
#undef INSTRUMENT
};

const struct instrument_info *instrument_info(enum instrument instrument)
{
	assert(instrument > INSTRUMENT_NONE && instrument < INSTRUMENT_COUNT);
	return &instruments[instrument];
}

enum instrument instrument_from_key(const char *key)
{
	for (int i = INSTRUMENT_NONE + 1; i < INSTRUMENT_COUNT; i++)
		if (strcmp(instruments[i].key, key) == 0)
			return (enum instrument)i;
	return INSTRUMENT_NONE;
}
