/*
 * Steps, their cautions, and the conditions under which rows apply.
 */
#include <padside/catalog/catalog.h>

#include <assert.h>

static const struct step_info steps[STEP_COUNT] = {
#define STEP(id, key, label, brief, purpose) [STEP_##id] = { key, label, brief, purpose },
#include <padside/catalog/steps.def>
#undef STEP
};

struct caution_row {
	enum step step;           /* where it stands */
	enum condition condition; /* when */
	const char *text;         /* one or two sentences */
};

static const struct caution_row cautions[] = {
#define CAUTION(step, condition, text) { STEP_##step, CONDITION_##condition, text },
#include <padside/catalog/cautions.def>
#undef CAUTION
};

enum { MOST_CHOICES = 6 };

struct condition_row {
	enum reading reading;              /* what it looks at */
	bool when_unknown;                 /* the answer when that is not taken */
	const char *words;                 /* completes "only …" */
	enum choice choices[MOST_CHOICES]; /* holds for these; CHOICE_NONE ends */
};

static const struct condition_row conditions[CONDITION_COUNT] = {
	[CONDITION_NONE] = { READING_NONE, true, "always", { CHOICE_NONE } },
#define CONDITION(id, reading, unknown, words, ...) \
	[CONDITION_##id] = { READING_##reading, unknown, words, { __VA_ARGS__ } },
#include <padside/catalog/conditions.def>
#undef CONDITION
};

const struct step_info *step_info(enum step step)
{
	assert(step < STEP_COUNT);
	return &steps[step];
}

const char *step_caution(enum step step, int index, enum condition *condition)
{
	for (size_t i = 0; i < sizeof cautions / sizeof *cautions; i++)
		if (cautions[i].step == step && index-- == 0) {
			*condition = cautions[i].condition;
			return cautions[i].text;
		}
	return NULL;
}

enum reading condition_reading(enum condition condition)
{
	return conditions[condition].reading;
}

bool condition_when_unknown(enum condition condition)
{
	return conditions[condition].when_unknown;
}

const char *condition_words(enum condition condition)
{
	return conditions[condition].words;
}

bool condition_holds_for(enum condition condition, enum choice choice)
{
	const struct condition_row *row = &conditions[condition];

	for (int i = 0; i < MOST_CHOICES && row->choices[i] != CHOICE_NONE; i++)
		if (row->choices[i] == choice)
			return true;
	return condition == CONDITION_NONE;
}
