/*
 * Rows that most calls do not need.
 */
#include "tui/fold.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

enum fold_when { FOLD_NEVER, FOLD_ALWAYS, FOLD_RUNS };

static const struct {
	enum fold_when when; /* it is folded */
	const char *words;   /* of the complaint that bring it back */
} folds[READING_COUNT] = {
#define FOLD(reading, when, words) [READING_##reading] = { FOLD_##when, words },
#include "tui/fold.def"
#undef FOLD
};

/* Whether the compressor is known to run or to hum. */
static bool is_called(const struct visit *visit)
{
	enum choice state = visit_choice(visit, STAGE_AS_FOUND, READING_COMPRESSOR_STATE);

	return state == CHOICE_COMPRESSOR_STATE_RUNS || state == CHOICE_COMPRESSOR_STATE_HUMS;
}

/* Whether one of the words between bars ("|trip|fuse|") stands in the text. */
static bool has_word(const char *text, const char *words)
{
	char word[32];

	while (*words == '|' && words[1]) {
		size_t size = strcspn(++words, "|");
		snprintf(word, sizeof word, "%.*s", (int)size, words);
		if (size > 0 && text_contains_ignoring_case(text, word))
			return true;
		words += size;
	}
	return false;
}

static bool is_asked_for(const struct session *session, enum reading reading)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		const struct diagnosis *diagnosis = session_diagnosis(session, (enum stage)stage);
		for (int i = 0; i < diagnosis->next_check_count; i++)
			if (diagnosis->next_checks[i].reading == reading)
				return true;
	}
	return false;
}

bool fold_hides(const struct session *session, enum reading reading)
{
	const struct call *call = session_call(session);
	const struct visit *visit = &call->visit;

	if (folds[reading].when == FOLD_NEVER || visit_has(visit, STAGE_AS_FOUND, reading) ||
	    visit_has(visit, STAGE_AS_LEFT, reading))
		return false;
	if (folds[reading].when == FOLD_RUNS && !is_called(visit))
		return false;
	return !has_word(call->complaint, folds[reading].words) && !is_asked_for(session, reading);
}
