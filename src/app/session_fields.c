/*
 * The fields of the open call: texts, times and amounts, as they are typed and
 * shown.
 */
#include <assert.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
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

static bool parse_field(struct call *call, enum field field, const char *exact)
{
	enum call_part part;
	const struct call_member *member = field_member(field, &part);

	return call_member_parse(member, (char *)call + call_part_info(part)->offset, exact);
}

static enum call_form form_of(enum field field)
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
	enum call_form form = form_of(field);
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

const char *session_field(const struct session *session, enum field field)
{
	if (!fields[field].info.is_text)
		return session->shown[field];
	return (const char *)&session->call + fields[field].offset;
}

enum status session_keep_field(struct session *session, enum field field, const char *exact,
                               struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	if (!parse_field(&session->draft, field, exact))
		status = error_set(error, STATUS_OUT_OF_RANGE, "%s takes no such value; nothing was changed",
		                   fields[field].info.label);
	if (status == STATUS_OK)
		status = store_call_change(session->store, &session->call, &session->draft, error);
	return session_end(session, status, error);
}

/* What was typed for a text, control characters as spaces. */
static enum status read_text(enum field field, const char *typed, char *exact, size_t size,
                             struct error *error)
{
	size_t most = fields[field].info.size;

	if (strlen(typed) >= most || !text_copy(exact, size, typed))
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes at most %zu characters; shorten it",
		                 fields[field].info.label, most - 1);
	for (char *at = exact; *at; at++)
		if ((unsigned char)*at < 0x20 || *at == 0x7f)
			*at = ' ';
	return STATUS_OK;
}

/* "now", a whole date and time, or an hour of today. */
static enum status read_time(const struct session *session, enum field field, const char *typed,
                             char *exact, size_t size, struct error *error)
{
	char date[CLOCK_TEXT_SIZE], whole[CLOCK_TEXT_SIZE * 2];
	wall_time time = WALL_TIME_NONE;
	bool is_short = strlen(typed) >= 4 && typed[1] == ':';

	clock_format_date(session_now(session), date, sizeof date);
	snprintf(whole, sizeof whole, "%.10sT%s%.24s", date, is_short ? "0" : "", typed);
	if (text_equal_ignoring_case(typed, "now"))
		time = session_now(session);
	else if (*typed && !clock_parse(typed, &time) && !clock_parse(whole, &time))
		return error_set(error, STATUS_BAD_INPUT, "%s takes a time such as 9:30 or 2026-06-03 09:30, or "
		                 "now; nothing was changed", fields[field].info.label);
	clock_format(time, exact, size);
	return STATUS_OK;
}

static enum status read_amount(enum field field, const char *typed, char *exact, size_t size,
                               struct error *error)
{
	cents amount = 0;

	if (*typed && (money_parse(typed, &amount) != STATUS_OK || amount < 0))
		return error_set(error, STATUS_BAD_INPUT, "%s takes an amount such as 350.00; nothing was "
		                 "changed", fields[field].info.label);
	snprintf(exact, size, "%" PRId64, amount);
	if (amount == 0)
		*exact = '\0';
	return STATUS_OK;
}

static enum status read_typed(const struct session *session, enum field field, const char *typed,
                              char *exact, size_t size, struct error *error)
{
	switch (form_of(field)) {
	case FORM_TIME:
		return read_time(session, field, typed, exact, size, error);
	case FORM_CENTS:
		return read_amount(field, typed, exact, size, error);
	default:
		return read_text(field, typed, exact, size, error);
	}
}

static enum status type(struct session *session, enum field field, const char *typed,
                        struct error *error)
{
	struct change change = { .kind = CHANGE_FIELD, .field = field };
	char exact[MEMBER_TEXT_SIZE];
	enum status status = read_typed(session, field, typed, exact, sizeof exact, error);

	/* Whether it is the same, the book says, not what was here a while ago. */
	if (status == STATUS_OK)
		status = session_refresh(session, NULL, error);
	if (status != STATUS_OK)
		return status;
	session_format_field(&session->call, field, change.before.text, sizeof change.before.text);
	if (strcmp(change.before.text, exact) == 0)
		return STATUS_OK;
	text_copy(change.after.text, sizeof change.after.text, exact);
	status = session_keep_field(session, field, exact, error);
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
}

enum status session_type_field(struct session *session, enum field field, const char *typed,
                               struct error *error)
{
	const struct session_pending place = { .is_field = true, .field = field };
	enum status status = type(session, field, typed, error);

	return session_note_outcome(session, &place, typed, status, error);
}
