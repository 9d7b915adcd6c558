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

enum { MOST_TESTS = 3 };

struct condition_row {
	const char *words;                       /* completes "only …" */
	bool any;                                /* one test is enough */
	struct condition_test tests[MOST_TESTS]; /* READING_NONE ends */
};

static const struct condition_row conditions[CONDITION_COUNT] = {
	[CONDITION_NONE] = { "always", false, { { READING_NONE, true, { CHOICE_NONE } } } },
#define CONDITION(id, words, ...) [CONDITION_##id] = { words, false, { __VA_ARGS__ } },
#define CONDITION_ANY(id, words, ...) [CONDITION_##id] = { words, true, { __VA_ARGS__ } },
#include <padside/catalog/conditions.def>
#undef CONDITION_ANY
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

const struct condition_test *condition_test(enum condition condition, int index)
{
	if (index >= MOST_TESTS || conditions[condition].tests[index].reading == READING_NONE)
		return NULL;
	return &conditions[condition].tests[index];
}

bool condition_is_any(enum condition condition)
{
	return conditions[condition].any;
}

bool condition_test_accepts(const struct condition_test *test, enum choice choice)
{
	for (int i = 0; i < CONDITION_MOST_CHOICES && test->choices[i] != CHOICE_NONE; i++)
		if (test->choices[i] == choice)
			return true;
	return false;
}

const char *condition_words(enum condition condition)
{
	return conditions[condition].words;
}
