/*
 * The technician's word over the program's: what was judged follows it.
 */
#include "diagnose/judgements.h"

#include <math.h>
#include <string.h>

#include "diagnose/next_check.h"

/* What is left after something was ruled out is no certainty, and from here worth watching. */
static const double most_after_ruling_out = 0.9, watch_after_ruling_out = 0.3;

/* The last judgement of a fault; its place in the list, or -1. */
static long judgement_of(const struct call *call, enum fault fault)
{
	for (size_t i = call->judgement_count; i > 0; i--)
		if (strcmp(call->judgements[i - 1].fault, fault_info(fault)->key) == 0)
			return (long)i - 1;
	return -1;
}

static bool is_judged(const struct finding *finding, enum judgement_verdict verdict)
{
	return finding->is_judged && finding->verdict == verdict;
}

/* Whether words say why: a letter or a word alone is a slip of the hand. */
static bool is_sentence(const char *words)
{
	const int least_words = 3;
	int count = 0;

	for (bool in_word = false; *words; words++) {
		count += !in_word && *words != ' ';
		in_word = *words != ' ';
	}
	return count >= least_words;
}

/*
 * What was measured and keeps the unit off is not taken away by a key: it is
 * confirmed, or ruled out with a sentence why.
 */
static bool counts(const struct judgement *judgement, const struct finding *finding)
{
	return !finding_stays_off(finding) || judgement->verdict == JUDGEMENT_CONFIRMED ||
	       (judgement->verdict == JUDGEMENT_RULED_OUT && is_sentence(judgement->why));
}

static void follow_judgement(const struct call *call, struct finding *finding)
{
	static const enum level levels[JUDGEMENT_VERDICT_COUNT] = {
		[JUDGEMENT_CONFIRMED] = LEVEL_ACT, [JUDGEMENT_RULED_OUT] = LEVEL_NOTE,
		[JUDGEMENT_WATCH] = LEVEL_WATCH,
	};
	long at = judgement_of(call, finding->fault);

	if (at < 0 || !counts(&call->judgements[at], finding))
		return;
	finding->is_judged = true;
	finding->judgement = (size_t)at;
	finding->verdict = call->judgements[at].verdict;
	finding->level = levels[finding->verdict];
}

static bool is_listed(const struct diagnosis *diagnosis, enum fault fault)
{
	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			return true;
	return false;
}

/* Adds what was confirmed or is to be watched though no reading shows it. */
static void add_judged(const struct call *call, struct diagnosis *diagnosis)
{
	for (size_t i = 0; i < call->judgement_count; i++) {
		const struct judgement *judgement = &call->judgements[i];
		enum fault fault = fault_from_key(judgement->fault);
		if (fault == FAULT_NONE || is_listed(diagnosis, fault) ||
		    judgement_of(call, fault) != (long)i || judgement->verdict == JUDGEMENT_RULED_OUT)
			continue;
		/* The least likely makes room: what the technician says is never left out. */
		int at = diagnosis->finding_count < MOST_FINDINGS ? diagnosis->finding_count++
		                                                   : MOST_FINDINGS - 1;
		diagnosis->findings[at] = (struct finding){ .fault = fault, .probability_before = NAN };
	}
}

/* Confirmed first, ruled out last; the order between is kept. */
static int place_of(const struct finding *finding)
{
	return is_judged(finding, JUDGEMENT_CONFIRMED) ? 0
		: is_judged(finding, JUDGEMENT_RULED_OUT) ? 2 : 1;
}

static void put_in_order(struct diagnosis *diagnosis)
{
	struct finding *list = diagnosis->findings;

	for (int i = 1; i < diagnosis->finding_count; i++)
		for (int at = i; at > 0 && place_of(&list[at - 1]) > place_of(&list[at]); at--) {
			struct finding lower = list[at - 1];
			list[at - 1] = list[at];
			list[at] = lower;
		}
}

static bool is_ruled_out(const struct diagnosis *diagnosis, enum fault fault)
{
	for (int i = 0; i < diagnosis->finding_count; i++)
		if (diagnosis->findings[i].fault == fault)
			return is_judged(&diagnosis->findings[i], JUDGEMENT_RULED_OUT);
	return false;
}

/*
 * Explanations of the same readings: of the refrigerant circuit with its air, or of what is
 * electrical.
 */
static bool is_alternative(const struct finding *finding, const struct finding *to)
{
	bool is_electrical = fault_info(finding->fault)->family == FAMILY_ELECTRICAL;

	return finding != to && finding->basis == BASIS_INFERRED && !finding->is_judged &&
	       is_electrical == (fault_info(to->fault)->family == FAMILY_ELECTRICAL);
}

/*
 * What was ruled out leaves its share to the other explanations of the same
 * readings, each by its own.  None is acted on for that alone: it is watched,
 * and measured next.
 */
static void raise_alternatives(struct diagnosis *diagnosis, const struct finding *out)
{
	double others = 0;

	for (int i = 0; i < diagnosis->finding_count; i++)
		if (is_alternative(&diagnosis->findings[i], out))
			others += diagnosis->findings[i].probability;
	double left = fmax(1 - out->probability, others + diagnosis->healthy);
	for (int i = 0; left > 0 && i < diagnosis->finding_count; i++) {
		struct finding *finding = &diagnosis->findings[i];
		if (!is_alternative(finding, out))
			continue;
		finding->probability = fmin(finding->probability / left, most_after_ruling_out);
		if (finding->level == LEVEL_NOTE && finding->probability >= watch_after_ruling_out)
			finding->level = LEVEL_WATCH;
	}
	diagnosis->healthy = left > 0 ? fmin(diagnosis->healthy / left, most_after_ruling_out) : 0;
}

static void follow_ruling_out(struct diagnosis *diagnosis)
{
	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		if (is_judged(finding, JUDGEMENT_RULED_OUT) && finding->basis == BASIS_INFERRED)
			raise_alternatives(diagnosis, finding);
	}
}

/* The cause of what was ruled out is not looked for. */
static void drop_causes(struct diagnosis *diagnosis)
{
	int kept = 0;

	for (int i = 0; i < diagnosis->next_check_count; i++) {
		const struct next_check *check = &diagnosis->next_checks[i];
		if (check->reason != CHECK_CAUSE || !is_ruled_out(diagnosis, check->between[0]))
			diagnosis->next_checks[kept++] = *check;
	}
	diagnosis->next_check_count = kept;
}

void judgements_follow(const struct call *call, bool all, struct diagnosis *diagnosis)
{
	if (call->judgement_count == 0)
		return;
	if (all)
		add_judged(call, diagnosis);
	for (int i = 0; i < diagnosis->finding_count; i++) {
		follow_judgement(call, &diagnosis->findings[i]);
		if (!is_judged(&diagnosis->findings[i], JUDGEMENT_CONFIRMED))
			continue;
		diagnosis->healthy = 0;
		next_check_settle(&call->visit, diagnosis->findings[i].fault, diagnosis);
	}
	follow_ruling_out(diagnosis);
	put_in_order(diagnosis);
	drop_causes(diagnosis);
}
