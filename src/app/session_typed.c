/*
 * The fields of the open call as they are typed: read, kept, and a change that
 * can be taken back.
 */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/money.h>

#include "app/session_parts.h"

enum status session_keep_field(struct session *session, enum field field, const char *exact,
                               struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	if (!session_parse_field(&session->draft, field, exact))
		status = error_set(error, STATUS_OUT_OF_RANGE, "%s takes no such value",
		                   field_info(field)->label);
	if (status == STATUS_OK)
		status = store_call_change(session->store, &session->call, &session->draft, error);
	return session_end(session, status, error);
}

/* What was typed for a text, control characters as spaces. */
static enum status read_text(enum field field, const char *typed, char *exact, size_t size,
                             struct error *error)
{
	size_t most = field_info(field)->size;

	if (strlen(typed) >= most || !text_copy(exact, size, typed))
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes at most %zu characters; shorten it",
		                 field_info(field)->label, most - 1);
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
		return error_set(error, STATUS_BAD_INPUT,
		                 "%s takes a time such as 9:30 or 2026-06-03 09:30, or now",
		                 field_info(field)->label);
	clock_format(time, exact, size);
	return STATUS_OK;
}

static enum status read_amount(enum field field, const char *typed, char *exact, size_t size,
                               struct error *error)
{
	cents amount = 0;

	if (*typed && (money_parse(typed, &amount) != STATUS_OK || amount < 0))
		return error_set(error, STATUS_BAD_INPUT, "%s takes an amount such as 350.00",
		                 field_info(field)->label);
	snprintf(exact, size, "%" PRId64, amount);
	if (amount == 0)
		*exact = '\0';
	return STATUS_OK;
}

static enum status read_typed(const struct session *session, enum field field, const char *typed,
                              char *exact, size_t size, struct error *error)
{
	switch (session_field_form(field)) {
	case FORM_TIME:
		return read_time(session, field, typed, exact, size, error);
	case FORM_CENTS:
		return read_amount(field, typed, exact, size, error);
	default:
		return read_text(field, typed, exact, size, error);
	}
}

/* A customer who had a name has one on: a slip of a key is no new one. */
static bool is_name_lost(enum field field, const char *before, const char *typed)
{
	return field == FIELD_CUSTOMER_NAME && *before && typed[strspn(typed, " ")] == '\0';
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
	if (is_name_lost(field, change.before.text, exact))
		return error_set(error, STATUS_REFUSED, "%s stays %s; type another name over it",
		                 field_info(field)->label, change.before.text);
	if (field == FIELD_ACCEPTED_BY)
		return session_accept(session, exact, error);
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
