/*
 * What of the findings is worth telling.
 */
#include <padside/report/told.h>

const double told_likely_from = 0.60;

bool told_is_listed(const struct call *call, enum fault fault)
{
	for (size_t i = 0; i < call->watch_count; i++)
		if (*call->watch[i].fault && fault_from_key(call->watch[i].fault) == fault)
			return true;
	return false;
}

static enum band_verdict verdict_of(const struct visit *visit, enum stage stage,
                                    const struct figure_set *set, const struct evidence *evidence)
{
	struct expectation expected = evidence->figure != FIGURE_NONE
		? figure_expect(visit, stage, set, evidence->figure)
		: reading_expect(visit, stage, evidence->reading);

	if (!expected.known || evidence->over_limit)
		return BAND_UNKNOWN;
	return expectation_judge(&expected, evidence->value, evidence->plus_minus);
}

static bool is_all_in_range(const struct visit *visit, enum stage stage,
                            const struct figure_set *set, const struct finding *finding)
{
	bool any = false;

	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		bool is_seen = evidence->figure == FIGURE_NONE &&
		               reading_info(evidence->reading)->kind == KIND_CHOICE;
		if (evidence->leans <= 0)
			continue;
		enum band_verdict verdict = is_seen ? BAND_UNKNOWN
		                                    : verdict_of(visit, stage, set, evidence);
		if (is_seen || (verdict != BAND_INSIDE && verdict != BAND_UNKNOWN))
			return false;
		any = any || verdict == BAND_INSIDE;
	}
	return any;
}

bool told_is_idle(const struct call *call, const struct assessment *assessment, enum stage stage,
                  const struct finding *finding)
{
	if (finding->is_judged || finding->basis == BASIS_MEASURED ||
	    finding->probability >= told_likely_from || told_is_listed(call, finding->fault))
		return false;
	return is_all_in_range(&call->visit, stage, &assessment->figures[stage], finding);
}

bool told_is_gauged(const struct call *call, const struct assessment *assessment, enum stage stage,
                    const struct finding *finding)
{
	const struct figure_set *set = &assessment->figures[stage];
	bool any = false;

	for (int i = 0; i < finding->evidence_count; i++) {
		const struct evidence *evidence = &finding->evidence[i];
		enum band_verdict verdict = verdict_of(&call->visit, stage, set, evidence);
		if (evidence->leans < 0 || verdict == BAND_INSIDE || verdict == BAND_AMBIGUOUS)
			return false;
		any = any || verdict == BAND_LOW || verdict == BAND_HIGH;
	}
	return any;
}

bool told_is_near(const struct call *call, const struct assessment *assessment, enum stage stage,
                  const struct finding *finding)
{
	const struct figure_set *set = &assessment->figures[stage];

	for (int i = 0; i < finding->evidence_count; i++)
		if (verdict_of(&call->visit, stage, set, &finding->evidence[i]) == BAND_AMBIGUOUS)
			return true;
	return false;
}

bool told_is_within(const struct call *call, const struct assessment *assessment, enum stage stage,
                    const struct finding *finding)
{
	const struct figure_set *set = &assessment->figures[stage];
	bool any = false;

	for (int i = 0; i < finding->evidence_count; i++) {
		enum band_verdict verdict = verdict_of(&call->visit, stage, set, &finding->evidence[i]);
		if (verdict == BAND_LOW || verdict == BAND_HIGH)
			return false;
		any = any || verdict == BAND_INSIDE || verdict == BAND_AMBIGUOUS;
	}
	return any;
}
