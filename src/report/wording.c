/*
 * Facts into words.
 */
#include <padside/report/wording.h>

#include <math.h>
#include <stdio.h>

#include <padside/base/text.h>

/* ---- Values ---- */

/* A figure or a reading, with its unit: a number, a word, OL. */
static void format_value(enum figure figure, enum reading reading, double number, bool over_limit,
                         enum unit_system units, char *out, size_t size)
{
	if (figure != FIGURE_NONE) {
		figure_format(figure, number, units, VALUE_FORM_WITH_UNIT, out, size);
		return;
	}
	struct value value = { .state = over_limit ? VALUE_OVER_LIMIT : VALUE_TAKEN,
	                       .number = number, .taken_at = WALL_TIME_NONE };
	if (reading_info(reading)->kind == KIND_CHOICE)
		value.choice = (enum choice)(int)number;
	reading_format(reading, &value, units, VALUE_FORM_WITH_UNIT, out, size);
}

static const char *label_of(enum figure figure, enum reading reading)
{
	return figure != FIGURE_NONE ? figure_info(figure)->label : reading_info(reading)->label;
}

/* ---- Evidence ---- */

void wording_evidence(const struct evidence *evidence, enum unit_system units, char *out,
                      size_t size)
{
	char value[VALUE_TEXT_SIZE], expected[VALUE_TEXT_SIZE];
	const char *label = label_of(evidence->figure, evidence->reading);

	format_value(evidence->figure, evidence->reading, evidence->over_limit ? 0 : evidence->value,
	             evidence->over_limit, units, value, sizeof value);
	if (evidence->has_expected && !isnan(evidence->expected)) {
		format_value(evidence->figure, evidence->reading, evidence->expected, false, units, expected,
		             sizeof expected);
		snprintf(out, size, "%s: %s, about %s expected", label, value, expected);
	} else {
		snprintf(out, size, "%s: %s", label, value);
	}
	text_trim_broken_utf8(out);
}

const char *wording_strength(double leans)
{
	static const struct {
		double from;       /* from which it holds */
		const char *words; /* what it is called */
	} rows[] = {
		{ 1.0, "strong evidence for it" }, { 0.3, "evidence for it" },
		{ 0.1, "weak evidence for it" }, { -0.1, "neutral" }, { -0.3, "weak evidence against it" },
		{ -1.0, "evidence against it" },
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (leans >= rows[i].from)
			return rows[i].words;
	return "strong evidence against it";
}

/* ---- Contradictions ---- */

void wording_contradiction(const struct contradiction *contradiction, enum unit_system units,
                           char *out, size_t size)
{
	static const char *const rows[CONTRADICTION_COUNT] = {
#define CONTRADICTION(id, words, ...) [CONTRADICTION_##id] = words,
#include <padside/diagnose/contradictions.def>
#undef CONTRADICTION
	};
	char value[VALUE_TEXT_SIZE];
	struct text text;

	text_init(&text);
	text_add(&text, rows[contradiction->id]);
	for (int i = 0; i < contradiction->quoted_count; i++) {
		const struct quoted *quoted = &contradiction->quoted[i];
		format_value(quoted->figure, quoted->reading, quoted->value, false, units, value,
		             sizeof value);
		text_add_format(&text, "%s%s %s", i == 0 ? " (" : ", ",
		                label_of(quoted->figure, quoted->reading), value);
	}
	if (contradiction->quoted_count > 0)
		text_add_char(&text, ')');
	text_copy(out, size, text_get(&text));
	text_done(&text);
}

/* ---- Next checks ---- */

static const char *explanation(enum fault fault)
{
	return fault == FAULT_NONE ? "a sound unit" : fault_info(fault)->label;
}

/* What the row of a reading says; "" where it has none. */
static const char *row_words(enum reading reading)
{
	static const struct {
		enum reading reading; /* what is taken */
		const char *words;    /* what it answers */
	} rows[] = {
#define PART_CHECK(reading_, variable, tells, minutes, power_off, why) { READING_##reading_, why },
#define CIRCUIT_CHECK(...)
#include <padside/diagnose/next_checks.def>
#undef PART_CHECK
#undef CIRCUIT_CHECK
	};

	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (rows[i].reading == reading)
			return rows[i].words;
	return "";
}

void wording_next_check(const struct next_check *check, char *out, size_t size)
{
	if (!check->tells_apart)
		snprintf(out, size, "%s", row_words(check->reading));
	else if (check->between[0] == check->between[1])
		snprintf(out, size, "whether the circuit is sound");
	else
		snprintf(out, size, "%s or %s", explanation(check->between[0]),
		         explanation(check->between[1]));
	text_trim_broken_utf8(out);
}
