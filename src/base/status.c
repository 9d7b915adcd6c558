/*
 * The sentences of the status table.
 */
#include <padside/base/status.h>

static const char *const sentences[STATUS_COUNT] = {
#define STATUS(id, sentence) [STATUS_##id] = sentence,
#include <padside/base/status.def>
#undef STATUS
};

const char *status_sentence(enum status status)
{
	if ((int)status < 0 || status >= STATUS_COUNT)
		return "an unknown failure; please report it";
	return sentences[status];
}
