/*
 * The fields of the open call: texts, times and amounts, where they lie and as
 * they are shown.  How they are typed: session_typed.c.
 */
#include <assert.h>
#include <string.h>

#include <padside/app/trail_words.h>
#include <padside/model/call_parts.h>
#include <padside/model/money.h>

#include "app/session_parts.h"

struct field_row {
	struct field_info info; /* for front ends */
	size_t offset;          /* where it lies in struct call */
};

/* A text is as long as its member; a time or an amount is smaller than what is typed for it. */
#define MEMBER_SIZE(member) sizeof ((struct call *)0)->member
#define IS_TEXT(member) (MEMBER_SIZE(member) > sizeof(int64_t))

static const struct field_row fields[FIELD_COUNT] = {
#define FIELD(id, member, label_, help_) \
	[FIELD_##id] = { { .label = label_, .help = help_, .is_text = IS_TEXT(member), \
	                   .size = IS_TEXT(member) ? MEMBER_SIZE(member) : FIELD_SHOWN_SIZE }, \
	                 offsetof(struct call, member) },
#include <padside/app/fields.def>
#undef FIELD
};

/* The member of a field, and the part of the call that it belongs to. */
static const struct call_member *field_member(enum field field, enum call_part *part)
{
	for (*part = PART_CUSTOMER; *part <= PART_CALL; ++*part) {
		const struct call_part_info *info = call_part_info(*part);
		for (const struct call_member *member = info->members; member->key; member++)
			if (info->offset + member->offset == fields[field].offset)
				return member;
	}
	assert(false && "a field is a member of the call");
	return NULL;
}

/* Its exact text, and back; false when it does not take that. */
void session_format_field(const struct call *call, enum field field, char *exact, size_t size)
{
	enum call_part part;
	const struct call_member *member = field_member(field, &part);

	call_member_format(member, (const char *)call + call_part_info(part)->offset, exact, size);
}

bool session_parse_field(struct call *call, enum field field, const char *exact)
{
	enum call_part part;
	const struct call_member *member = field_member(field, &part);

	return call_member_parse(member, (char *)call + call_part_info(part)->offset, exact);
}

void session_field_words(enum field field, const char *exact, enum unit_system units, char *out,
                         size_t size)
{
	enum call_part part;
	const struct call_member *member = field_member(field, &part);

	*out = '\0';
	if (*exact)
		trail_words_value(call_part_info(part)->key, member->key, exact, units, out, size);
}

enum call_form session_field_form(enum field field)
{
	enum call_part part;

	return field_member(field, &part)->form;
}

const struct field_info *field_info(enum field field)
{
	return &fields[field].info;
}

/* A member as a person reads it: a time to the minute, an amount with its decimals. */
static void show_field(struct session *session, enum field field)
{
	const char *at = (const char *)&session->call + fields[field].offset;
	enum call_form form = session_field_form(field);
	char *shown = session->shown[field];

	*shown = '\0';
	if (form == FORM_TIME && *(const wall_time *)(const void *)at != WALL_TIME_NONE) {
		clock_format(*(const wall_time *)(const void *)at, shown, FIELD_SHOWN_SIZE);
		shown[10] = ' ';
		shown[16] = '\0';
	} else if (form == FORM_CENTS && *(const cents *)(const void *)at != 0) {
		money_format_plain(*(const cents *)(const void *)at, shown, FIELD_SHOWN_SIZE);
	}
}

void session_show_fields(struct session *session)
{
	for (int field = 0; field < FIELD_COUNT; field++)
		if (!fields[field].info.is_text)
			show_field(session, (enum field)field);
}

const char *session_field_doubt(const struct session *session, enum field field)
{
	const char *text = session_field(session, field);

	if (!*text)
		return NULL;
	if (field == FIELD_PHONE && !strpbrk(text, "0123456789"))
		return "there are no digits in it";
	return field == FIELD_EMAIL && !strchr(text, '@') ? "there is no @ in it" : NULL;
}

const char *session_field(const struct session *session, enum field field)
{
	if (!fields[field].info.is_text)
		return session->shown[field];
	return (const char *)&session->call + fields[field].offset;
}

/* Fields of the call stand on its first sheet, but those that are written with the report. */
enum step session_field_step(enum field field)
{
	switch (field) {
	case FIELD_SUMMARY:
	case FIELD_ACCEPTED_BY:
	case FIELD_PAYMENT_TERMS:
	case FIELD_OFFICE_NOTE:
		return STEP_SUMMARY;
	case FIELD_ACCEPTED_AT:
	case FIELD_ACCEPTED_TOTAL:
	case FIELD_CHECKLIST:
	case FIELD_BILLED_AT:
		return STEP_COUNT;
	default:
		return STEP_CALL;
	}
}
