/*
 * The answer of `assess` as JSON.
 */
#include <padside/app/result_json.h>

#include <math.h>

#include <padside/base/json_text.h>

#include <padside/report/wording.h>

#include "app/result_json_parts.h"

static void add_figures(const struct figure_set *set, struct text *text)
{
	bool first = true;

	text_add_char(text, '{');
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		bool first_member = true;
		if (set->values[i].status != STATUS_OK)
			continue;
		json_add_name(text, figure_info((enum figure)i)->key, &first);
		text_add_char(text, '{');
		result_json_add_value((enum figure)i, &set->values[i], text, &first_member);
		text_add_char(text, '}');
	}
	text_add_char(text, '}');
}

/* The value of a piece of evidence: a number, a word, yes or no, OL. */
static void add_evidence_value(const struct evidence *evidence, struct text *text)
{
	enum reading_kind kind = evidence->reading == READING_NONE
		? KIND_NUMBER : reading_info(evidence->reading)->kind;
	const char *word = evidence->figure == FIGURE_NONE || isnan(evidence->value)
		? NULL : figure_word(evidence->figure, evidence->value);

	if (evidence->over_limit)
		json_add_string(text, "OL");
	else if (kind == KIND_CHOICE)
		json_add_string(text, choice_key((enum choice)evidence->value));
	else if (kind == KIND_YES_NO)
		json_add_string(text, evidence->value != 0 ? "yes" : "no");
	else if (word)
		json_add_string(text, word);
	else
		json_add_rounded(text, evidence->value);
}

static void add_evidence(const struct evidence *evidence, enum unit_system units,
                         struct text *text)
{
	char words[WORDING_SIZE];
	bool first = true;
	bool is_figure = evidence->figure != FIGURE_NONE;
	const char *key = is_figure ? figure_info(evidence->figure)->key
	                            : reading_info(evidence->reading)->key;
	enum unit unit = is_figure ? figure_info(evidence->figure)->unit
	                           : reading_info(evidence->reading)->unit;

	text_add_char(text, '{');
	result_json_add_text(text, "figure", key, &first);
	json_add_name(text, "value", &first);
	add_evidence_value(evidence, text);
	result_json_add_number(text, "expected", evidence->has_expected ? evidence->expected : NAN, &first);
	result_json_add_text(text, "unit", unit_symbol(unit, false), &first);
	result_json_add_number(text, "leans", evidence->leans, &first);
	wording_evidence(evidence, units, words, sizeof words);
	result_json_add_text(text, "words", words, &first);
	text_add_char(text, '}');
}

static void add_finding(const struct finding *finding, enum unit_system units, struct text *text)
{
	const struct fault_info *info = fault_info(finding->fault);
	bool first = true, first_evidence = true;

	text_add_char(text, '{');
	result_json_add_text(text, "id", info->key, &first);
	result_json_add_text(text, "family", fault_family_key(info->family), &first);
	result_json_add_text(text, "label", info->label, &first);
	result_json_add_text(text, "basis", basis_key(finding->basis), &first);
	result_json_add_number(text, "probability", finding->probability, &first);
	result_json_add_text(text, "level", level_key(finding->level), &first);
	json_add_name(text, "evidence", &first);
	text_add_char(text, '[');
	for (int i = 0; i < finding->evidence_count; i++) {
		json_add_name(text, NULL, &first_evidence);
		add_evidence(&finding->evidence[i], units, text);
	}
	text_add_char(text, ']');
	result_json_add_text(text, "advice", info->advice, &first);
	result_json_add_text(text, "caution", info->caution, &first);
	text_add_char(text, '}');
}

static void add_findings(const struct diagnosis *diagnosis, enum unit_system units,
                         struct text *text)
{
	bool first = true;

	text_add_char(text, '[');
	for (int i = 0; i < diagnosis->finding_count; i++) {
		json_add_name(text, NULL, &first);
		add_finding(&diagnosis->findings[i], units, text);
	}
	text_add_char(text, ']');
}

static void add_next_checks(const struct diagnosis *diagnosis, struct text *text)
{
	char why[WORDING_SIZE];
	bool first = true;

	text_add_char(text, '[');
	for (int i = 0; i < diagnosis->next_check_count; i++) {
		const struct next_check *check = &diagnosis->next_checks[i];
		bool first_member = true;
		json_add_name(text, NULL, &first);
		text_add_char(text, '{');
		result_json_add_text(text, "reading", reading_info(check->reading)->key, &first_member);
		wording_next_check(check, why, sizeof why);
		result_json_add_text(text, "why", why, &first_member);
		result_json_add_number(text, "gain", check->gain, &first_member);
		text_add_char(text, '}');
	}
	text_add_char(text, ']');
}

static void add_not_evaluated(const struct figure_set *set, struct text *text)
{
	bool first = true;

	text_add_char(text, '[');
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		if (set->values[i].status != STATUS_OK) {
			json_add_name(text, NULL, &first);
			json_add_string(text, figure_info((enum figure)i)->key);
		}
	text_add_char(text, ']');
}

static void add_contradictions(const struct diagnosis *diagnosis, enum unit_system units,
                               struct text *text)
{
	char words[WORDING_SIZE];
	bool first = true;

	text_add_char(text, '[');
	for (int i = 0; i < diagnosis->contradiction_count; i++) {
		wording_contradiction(&diagnosis->contradictions[i], units, words, sizeof words);
		json_add_name(text, NULL, &first);
		json_add_string(text, words);
	}
	text_add_char(text, ']');
}

void result_json_write_assessment(const struct assessment *assessment, enum unit_system units,
                                  struct text *text)
{
	const struct figure_set *set = &assessment->figures[assessment->leading];
	const struct diagnosis *diagnosis = &assessment->diagnoses[assessment->leading];
	bool first = true;

	text_add_char(text, '{');
	json_add_name(text, "figures", &first);
	add_figures(set, text);
	json_add_name(text, "findings", &first);
	add_findings(diagnosis, units, text);
	result_json_add_number(text, "healthy", diagnosis->healthy, &first);
	result_json_add_number(text, "unexplained", diagnosis->unexplained, &first);
	json_add_name(text, "contradictions", &first);
	add_contradictions(diagnosis, units, text);
	json_add_name(text, "next_checks", &first);
	add_next_checks(diagnosis, text);
	json_add_name(text, "not_evaluated", &first);
	add_not_evaluated(set, text);
	text_add_char(text, '}');
}
