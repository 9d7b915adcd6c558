/*
 * What a change was of, in words: where it stands, what stands there now, and
 * what stood there before.  Whoever takes something back may look at another page.
 */
#include <string.h>

#include <padside/app/trail_words.h>
#include <padside/base/text.h>
#include <padside/model/call_parts.h>

#include "app/session_parts.h"

/* The step whose page has a list. */
static const enum step list_steps[CALL_LIST_COUNT] = {
	[LIST_CHARGE] = STEP_WORK, [LIST_WORK] = STEP_WORK, [LIST_OFFERS] = STEP_CHOICES,
	[LIST_WATCH] = STEP_FINDINGS, [LIST_JUDGEMENTS] = STEP_FINDINGS,
	[LIST_TIGHTNESS] = STEP_REFRIGERANT,
	[LIST_CYLINDERS] = STEP_REFRIGERANT,
};

/* How much of a text stands inside a sentence: its own full stop would end that. */
static int without_stop(const char *text)
{
	int length = (int)strlen(text);

	return length > 1 && text[length - 1] == '.' ? length - 1 : length;
}

/* " (air): now 58.0 °F, was 55.0 °F" */
static void add_values(enum step step, const char *now, const char *was, struct text *words)
{
	enum { SHOWN = 40 };
	char cut[2][SHOWN];

	text_copy(cut[0], SHOWN, *now ? now : "empty");
	text_copy(cut[1], SHOWN, *was ? was : "empty");
	if (step < STEP_COUNT)
		text_add_format(words, " (%s)", step_info(step)->brief);
	text_add_format(words, ": now %s, was %s", cut[0], cut[1]);
}

static void tell_reading(const struct session *session, const struct change *change,
                         struct text *words)
{
	const struct reading_info *info = reading_info(change->reading);
	char now[VALUE_TEXT_SIZE], was[VALUE_TEXT_SIZE];

	reading_format(change->reading, &change->before.value, session->units, VALUE_FORM_WITH_UNIT,
	               now, sizeof now);
	reading_format(change->reading, &change->after.value, session->units, VALUE_FORM_WITH_UNIT, was,
	               sizeof was);
	/* The safety answers have one column. */
	bool has_columns = info->scope == SCOPE_CALL && info->step != STEP_SAFETY;
	text_add_format(words, "%s%s%s", info->label, has_columns ? " " : "",
	                has_columns ? stage_words(change->stage) : "");
	add_values(info->step, now, was, words);
}

/* A time to the minute, an amount with its decimals: as its page shows it. */
static void tell_field(const struct session *session, const struct change *change,
                       struct text *words)
{
	const char *exact[] = { change->before.text, change->after.text };
	char shown[2][LINE_SIZE];

	for (int i = 0; i < 2; i++)
		session_field_words(change->field, exact[i], session->units, shown[i], LINE_SIZE);
	text_add(words, field_info(change->field)->label);
	add_values(session_field_step(change->field), shown[0], shown[1], words);
}

/* What a line of a list is called: the first of its texts that says something. */
static void add_name(enum call_list list, const void *element, struct text *words)
{
	const struct call_part_info *info = call_part_info(call_part_of_list(list));
	char exact[MEMBER_TEXT_SIZE], name[LINE_SIZE];

	for (const struct call_member *member = info->members; member->key; member++) {
		call_member_format(member, element, exact, sizeof exact);
		if (member->form != FORM_TEXT || !*exact)
			continue;
		trail_words_value(info->key, member->key, exact, UNITS_US, name, sizeof name);
		text_add_format(words, ", %.*s", without_stop(name), name);
		return;
	}
}

/* The first field in which two elements differ. */
static void add_difference(const struct session *session, const struct change *change,
                           struct text *words)
{
	const struct call_part_info *info = call_part_info(call_part_of_list(change->list));
	char now[MEMBER_TEXT_SIZE], was[MEMBER_TEXT_SIZE], shown[2][LINE_SIZE];

	for (const struct call_member *member = info->members; member->key; member++) {
		call_member_format(member, &change->before.element, now, sizeof now);
		call_member_format(member, &change->after.element, was, sizeof was);
		if (strcmp(now, was) == 0)
			continue;
		trail_words_value(info->key, member->key, now, session->units, shown[0], LINE_SIZE);
		trail_words_value(info->key, member->key, was, session->units, shown[1], LINE_SIZE);
		text_add_format(words, ", %s", member->label ? member->label : member->key);
		add_values(list_steps[change->list], *now ? shown[0] : "", *was ? shown[1] : "", words);
		return;
	}
	text_add_format(words, " (%s)", step_info(list_steps[change->list])->brief);
}

static void tell_list(const struct session *session, const struct change *change,
                      struct text *words)
{
	const union element *element = change->kind == CHANGE_LIST_ADD ? &change->after.element
	                                                               : &change->before.element;
	const char *place = step_info(list_steps[change->list])->brief;

	text_add(words, call_part_info(call_part_of_list(change->list))->word);
	add_name(change->list, element, words);
	if (change->kind == CHANGE_LIST_PUT)
		add_difference(session, change, words);
	else
		text_add_format(words, " (%s): %s", place,
		                change->kind == CHANGE_LIST_ADD ? "taken out" : "there again");
}

void session_tell_undone(const struct session *session, const struct change *change, char *what,
                         size_t size)
{
	struct text words;

	text_init(&words);
	switch (change->kind) {
	case CHANGE_READING:
		tell_reading(session, change, &words);
		break;
	case CHANGE_FIELD:
		tell_field(session, change, &words);
		break;
	case CHANGE_BILLING:
		text_add_format(&words, "discount, taxes, deposit (%s)", step_info(STEP_WORK)->brief);
		break;
	case CHANGE_ITEM:
		text_add_format(&words, "%s (%s)", change->before.element.watch.text,
		                step_info(STEP_CALL)->brief);
		break;
	case CHANGE_ENTRY:
		text_add(&words, change->words);
		break;
	case CHANGE_ACCEPTED:
		text_add(&words, field_info(FIELD_ACCEPTED_BY)->label);
		add_values(STEP_SUMMARY, change->before.acceptance.by, change->after.acceptance.by, &words);
		break;
	case CHANGE_MOVED:
		text_add(&words, "the call's customer and unit");
		break;
	default:
		tell_list(session, change, &words);
		break;
	}
	text_copy(what, size, text_get(&words));
	text_done(&words);
}
