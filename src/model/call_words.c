/* The words of a call's lists that are kept and written: kinds, decisions, judgements. */
#include <padside/model/call.h>

#include <string.h>

static const char *const work_kinds[WORK_KIND_COUNT] = {
	[WORK_LABOUR] = "labour", [WORK_PART] = "part",
	[WORK_REFRIGERANT] = "refrigerant", [WORK_FEE] = "fee",
};

static const char *const decisions[] = {
	[DECISION_NONE] = "none", [DECISION_ACCEPTED] = "accepted", [DECISION_DECLINED] = "declined",
};

static const char *const verdicts[JUDGEMENT_VERDICT_COUNT] = {
	[JUDGEMENT_CONFIRMED] = "confirmed", [JUDGEMENT_RULED_OUT] = "ruled_out",
	[JUDGEMENT_WATCH] = "watch",
};

static const char *const tightness_kinds[TIGHTNESS_KIND_COUNT] = {
	[TIGHTNESS_NITROGEN] = "nitrogen", [TIGHTNESS_VACUUM] = "vacuum",
	[TIGHTNESS_WEIGH_IN] = "weigh_in",
};

/* The index of a word in a list of words; -1 when it is none of them. */
static int find_word(const char *const *words, int count, const char *key)
{
	for (int i = 0; i < count; i++)
		if (strcmp(words[i], key) == 0)
			return i;
	return -1;
}

const char *work_kind_key(enum work_kind kind)
{
	return work_kinds[kind];
}

bool work_kind_from_key(const char *key, enum work_kind *kind)
{
	int found = find_word(work_kinds, WORK_KIND_COUNT, key);

	if (found >= 0)
		*kind = (enum work_kind)found;
	return found >= 0;
}

const char *decision_key(enum decision decision)
{
	return decisions[decision];
}

const char *offer_outcome(const struct offer *offer, bool is_other_taken)
{
	if (offer->decision == DECISION_NONE)
		return "not decided yet";
	return offer->decision == DECISION_DECLINED && is_other_taken ? "not chosen"
	                                                              : decision_key(offer->decision);
}

bool decision_from_key(const char *key, enum decision *decision)
{
	int found = find_word(decisions, DECISION_DECLINED + 1, key);

	if (found >= 0)
		*decision = (enum decision)found;
	return found >= 0;
}

const char *judgement_verdict_key(enum judgement_verdict verdict)
{
	return verdicts[verdict];
}

bool judgement_verdict_from_key(const char *key, enum judgement_verdict *verdict)
{
	int found = find_word(verdicts, JUDGEMENT_VERDICT_COUNT, key);

	if (found >= 0)
		*verdict = (enum judgement_verdict)found;
	return found >= 0;
}

const char *tightness_kind_key(enum tightness_kind kind)
{
	return tightness_kinds[kind];
}

bool tightness_kind_from_key(const char *key, enum tightness_kind *kind)
{
	int found = find_word(tightness_kinds, TIGHTNESS_KIND_COUNT, key);

	if (found >= 0)
		*kind = (enum tightness_kind)found;
	return found >= 0;
}
