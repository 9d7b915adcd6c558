/*
 * The answer of `assess` as JSON.
 */
#include <padside/app/result_json.h>

#include <math.h>

#include <padside/base/json_text.h>
#include <padside/base/quantities.h>

#include <padside/report/wording.h>

#include "app/result_json_parts.h"

/* {"low", "high", "source", "assumed"}: what is expected; null where it is open. */
static void add_expectation(const struct expectation *expectation, struct text *text)
{
	bool first = true;

	text_add_char(text, '{');
	result_json_add_number(text, "low", expectation->low, &first);
	result_json_add_number(text, "high", expectation->high, &first);
	result_json_add_text(text, "source", expectation->source, &first);
	json_add_name(text, "assumed", &first);
	text_add(text, expectation->is_assumed ? "true" : "false");
	text_add_char(text, '}');
}

/* What a value has beside it where something is expected of it. */
static void add_judged(const struct expectation *expectation, double value, double plus_minus,
                       struct text *text, bool *first)
{
	enum band_verdict verdict = expectation_judge(expectation, value, plus_minus);

	if (!expectation->known)
		return;
	json_add_name(text, "expected", first);
	add_expectation(expectation, text);
	if (verdict != BAND_UNKNOWN)
		result_json_add_text(text, "verdict", band_verdict_word(verdict), first);
}

static void add_figure(const struct visit *visit, enum stage stage, const struct figure_set *set,
                       enum figure figure, struct text *text)
{
	const struct figure_value *value = &set->values[figure];
	bool first = true;

	text_add_char(text, '{');
	result_json_add_value(figure, value, text, &first);
	result_json_add_words(visit, stage, figure, text, &first);
	if (!figure_info(figure)->is_word) {
		struct expectation expectation = figure_expect(visit, stage, set, figure);
		add_judged(&expectation, value->value, value->plus_minus, text, &first);
	}
	text_add_char(text, '}');
}

static void add_figures(const struct visit *visit, enum stage stage, const struct figure_set *set,
                        struct text *text)
{
	bool first = true;

	text_add_char(text, '{');
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		if (set->values[i].status != STATUS_OK)
			continue;
		json_add_name(text, figure_info((enum figure)i)->key, &first);
		add_figure(visit, stage, set, (enum figure)i, text);
	}
	text_add_char(text, '}');
}

/* The readings of which something is expected: {"value", "unit", "plus_minus", …}. */
static void add_readings(const struct visit *visit, enum stage stage, struct text *text)
{
	bool first = true;
	double number;

	text_add_char(text, '{');
	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct reading_info *info = reading_info((enum reading)i);
		struct expectation expectation = reading_expect(visit, stage, (enum reading)i);
		bool first_member = true;
		if (!expectation.known || visit_number(visit, stage, (enum reading)i, &number) != STATUS_OK)
			continue;
		double plus_minus = reading_accuracy((enum reading)i, number);
		json_add_name(text, info->key, &first);
		text_add_char(text, '{');
		result_json_add_number(text, "value", number, &first_member);
		result_json_add_text(text, "unit", unit_symbol(info->unit, false), &first_member);
		result_json_add_number(text, "plus_minus", plus_minus, &first_member);
		add_judged(&expectation, number, plus_minus, text, &first_member);
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
	result_json_add_number(text, "expected", evidence->has_expected ? evidence->expected : NAN,
	                       &first);
	result_json_add_text(text, "unit", unit_symbol(unit, false), &first);
	result_json_add_number(text, "leans", evidence->leans, &first);
	wording_evidence(evidence, units, words, sizeof words);
	result_json_add_text(text, "words", words, &first);
	text_add_char(text, '}');
}

/* {"verdict", "why", "by", "at"}: what the technician decided. */
static void add_judgement(const struct judgement *judgement, struct text *text)
{
	char at[CLOCK_TEXT_SIZE];
	bool first = true;

	clock_format(judgement->at, at, sizeof at);
	text_add_char(text, '{');
	result_json_add_text(text, "verdict", judgement_verdict_key(judgement->verdict), &first);
	result_json_add_text(text, "why", judgement->why, &first);
	result_json_add_text(text, "by", judgement->by, &first);
	result_json_add_text(text, "at", at, &first);
	text_add_char(text, '}');
}

static void add_finding(const struct finding *finding, const struct call *call,
                        enum unit_system units, struct text *text)
{
	char advice[QUANTITIES_SIZE];
	const struct fault_info *info = fault_info(finding->fault);
	bool first = true, first_evidence = true;

	text_add_char(text, '{');
	result_json_add_text(text, "id", info->key, &first);
	result_json_add_text(text, "family", fault_family_key(info->family), &first);
	result_json_add_text(text, "label", info->label, &first);
	result_json_add_text(text, "basis", basis_key(finding->basis), &first);
	result_json_add_number(text, "probability", finding->probability, &first);
	result_json_add_text(text, "level", level_key(finding->level), &first);
	if (finding->after_work != AFTER_WORK_NONE)
		result_json_add_text(text, "after_work", after_work_key(finding->after_work), &first);
	if (finding->is_judged) {
		json_add_name(text, "judged", &first);
		add_judgement(&call->judgements[finding->judgement], text);
	}
	json_add_name(text, "evidence", &first);
	text_add_char(text, '[');
	for (int i = 0; i < finding->evidence_count; i++) {
		json_add_name(text, NULL, &first_evidence);
		add_evidence(&finding->evidence[i], units, text);
	}
	text_add_char(text, ']');
	quantities_write(info->advice, units, advice, sizeof advice);
	result_json_add_text(text, "advice", advice, &first);
	result_json_add_text(text, "caution", info->caution, &first);
	text_add_char(text, '}');
}

static void add_findings(const struct diagnosis *diagnosis, const struct call *call,
                         enum unit_system units, struct text *text)
{
	bool first = true;

	text_add_char(text, '[');
	for (int i = 0; i < diagnosis->finding_count; i++) {
		json_add_name(text, NULL, &first);
		add_finding(&diagnosis->findings[i], call, units, text);
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

/* {"superheat": "the coil is iced: …"}: what one would look for, and why it is not told. */
static void add_withheld(const struct figure_set *set, struct text *text)
{
	bool first = true;
	char why[160];

	text_add_char(text, '{');
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		if (figure_is_awaited(set, (enum figure)i)) {
			figure_explain(&set->values[i], why, sizeof why);
			result_json_add_text(text, figure_info((enum figure)i)->key, why, &first);
		}
	text_add_char(text, '}');
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

/* {"value", "plus_minus", "unit", "measured", "agrees"}: one reading under an explanation. */
static void add_predicted(const struct predicted *predicted, struct text *text)
{
	bool first = true;

	text_add_char(text, '{');
	result_json_add_number(text, "value", predicted->value, &first);
	result_json_add_number(text, "plus_minus", predicted->plus_minus, &first);
	result_json_add_text(text, "unit", unit_symbol(reading_info(predicted->reading)->unit, false),
	                     &first);
	result_json_add_number(text, "measured", predicted->measured, &first);
	json_add_name(text, "agrees", &first);
	text_add(text, predicted->agrees ? "true" : "false");
	text_add_char(text, '}');
}

/* {"faults", "probability", "readings"}: one explanation of the circuit. */
static void add_prediction(const struct prediction *prediction, struct text *text)
{
	bool first = true, first_fault = true, first_reading = true;
	enum fault faults[] = { prediction->first, prediction->second };

	text_add_char(text, '{');
	json_add_name(text, "faults", &first);
	text_add_char(text, '[');
	for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
		if (faults[i] != FAULT_NONE) {
			json_add_name(text, NULL, &first_fault);
			json_add_string(text, fault_info(faults[i])->key);
		}
	text_add_char(text, ']');
	result_json_add_number(text, "probability", prediction->probability, &first);
	json_add_name(text, "readings", &first);
	text_add_char(text, '{');
	for (int i = 0; i < prediction->count; i++) {
		json_add_name(text, reading_info(prediction->list[i].reading)->key, &first_reading);
		add_predicted(&prediction->list[i], text);
	}
	text_add(text, "}}");
}

static void add_predictions(const struct predictions *predictions, struct text *text)
{
	bool first = true;

	text_add_char(text, '[');
	for (int i = 0; i < predictions->count; i++) {
		json_add_name(text, NULL, &first);
		add_prediction(&predictions->list[i], text);
	}
	text_add_char(text, ']');
}

/* ["condensing over ambient 9.0 °F above this unit's own, 2 visits"]. */
static void add_own(const struct diagnosis *diagnosis, enum unit_system units, struct text *text)
{
	char words[WORDING_SIZE];
	bool first = true;

	text_add_char(text, '[');
	for (int i = 0; i < diagnosis->own_count; i++) {
		wording_own(&diagnosis->own[i], units, words, sizeof words);
		json_add_name(text, NULL, &first);
		json_add_string(text, words);
	}
	text_add_char(text, ']');
}

/* The members of one stage; `first` as in json_add_name(). */
static void add_stage(const struct assessment *assessment, const struct call *call,
                      enum stage stage, enum unit_system units, struct text *text, bool *first)
{
	const struct figure_set *set = &assessment->figures[stage];
	const struct diagnosis *diagnosis = &assessment->diagnoses[stage];

	json_add_name(text, "figures", first);
	add_figures(&call->visit, stage, set, text);
	json_add_name(text, "readings", first);
	add_readings(&call->visit, stage, text);
	json_add_name(text, "findings", first);
	add_findings(diagnosis, call, units, text);
	result_json_add_number(text, "healthy", diagnosis->healthy, first);
	result_json_add_number(text, "unexplained", diagnosis->unexplained, first);
	json_add_name(text, "predictions", first);
	add_predictions(&diagnosis->predictions, text);
	json_add_name(text, "own_past", first);
	add_own(diagnosis, units, text);
	json_add_name(text, "contradictions", first);
	add_contradictions(diagnosis, units, text);
	json_add_name(text, "next_checks", first);
	add_next_checks(diagnosis, text);
	json_add_name(text, "not_evaluated", first);
	add_not_evaluated(set, text);
	json_add_name(text, "withheld", first);
	add_withheld(set, text);
}

void result_json_write_assessment(const struct assessment *assessment, const struct call *call,
                                  enum unit_system units, struct text *text)
{
	bool first = true, first_left = true;

	text_add_char(text, '{');
	add_stage(assessment, call, assessment->leading, units, text, &first);
	if (assessment->was_read[STAGE_AS_LEFT] && assessment->leading == STAGE_AS_FOUND) {
		json_add_name(text, "as_left", &first);
		text_add_char(text, '{');
		add_stage(assessment, call, STAGE_AS_LEFT, units, text, &first_left);
		text_add_char(text, '}');
	}
	text_add_char(text, '}');
}
