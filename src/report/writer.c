/*
 * What several writers share.
 */
#include "report/writer.h"

#include <padside/base/glyph.h>

static const char *const tone_words[TONE_COUNT] = {
	[TONE_PLAIN] = "", [TONE_LEAD] = "", [TONE_SMALL] = "", [TONE_CAUTION] = "Caution",
	[TONE_NOTE] = "for information",
	[TONE_WATCH] = "to be looked at again",
	[TONE_ACT] = "needs doing",
	[TONE_GONE] = "good again after the work",
};

const char writer_typed_marks[] = "◆: this unit. ◇: how far the meters may be off (95 %).";

const char *writer_tone_word(enum tone tone)
{
	return tone_words[tone];
}

void writer_add_value(struct text *text, const struct measure *measure, int stage, bool plain)
{
	const struct measured *measured = &measure->stages[stage];

	glyph_add_string(text, measured->shown, plain);
	if (*measured->at_most) {
		glyph_add_string(text, ", at most ", plain);
		glyph_add_string(text, measured->at_most, plain);
	} else if (*measured->plus_minus) {
		glyph_add_string(text, " ±", plain);
		glyph_add_string(text, measured->plus_minus, plain);
	}
	/* Words, and a meter's OL, carry no unit. */
	if (*measure->unit && measured->is_number) {
		text_add_char(text, ' ');
		glyph_add_string(text, measure->unit, plain);
	}
}

bool writer_has_expected(const struct block *block)
{
	for (size_t i = 0; i < block->measure_count; i++)
		for (int stage = 0; stage < DOCUMENT_STAGES; stage++)
			if (*block->measures[i].stages[stage].expected)
				return true;
	return false;
}

const char *writer_expected(const struct measure *measure)
{
	const struct measured *left = &measure->stages[DOCUMENT_STAGES - 1];

	return *left->expected ? left->expected : measure->stages[0].expected;
}
