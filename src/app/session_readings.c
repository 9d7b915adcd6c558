/*
 * The readings of the open call: typed, moved, taken over from as found.
 */
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/model/power.h>

#include "app/session_parts.h"

bool session_warns_unsafe(const struct session *session, enum reading reading)
{
	return power_warns(&session->call, reading);
}

/* Whether what was found asked for a test of the windings to the shell. */
static bool is_shell_asked_for(const struct session *session)
{
	const struct diagnosis *found = session_diagnosis(session, STAGE_AS_FOUND);

	for (int i = 0; i < found->finding_count; i++)
		if (found->findings[i].fault == FAULT_WINDING_GROUNDED &&
		    found->findings[i].level >= LEVEL_WATCH)
			return true;
	for (int i = 0; i < found->next_check_count; i++)
		if (found->next_checks[i].reading == READING_COMPRESSOR_GROUND_RESISTANCE)
			return true;
	return visit_is_yes(&session->call.visit, STAGE_AS_FOUND, READING_BREAKER_TRIPPED);
}

bool session_warns_untested(const struct session *session, enum stage stage,
                            enum reading reading)
{
	const struct visit *visit = &session->call.visit;

	return stage == STAGE_AS_LEFT && reading == READING_COMPRESSOR_STATE &&
	       !visit_has(visit, STAGE_AS_LEFT, reading) &&
	       !visit_has(visit, STAGE_AS_FOUND, READING_COMPRESSOR_GROUND_RESISTANCE) &&
	       !visit_has(visit, STAGE_AS_LEFT, READING_COMPRESSOR_GROUND_RESISTANCE) &&
	       is_shell_asked_for(session);
}

/* Within a change: sets a reading in the book and on the draft. */
static enum status set_value(struct session *session, enum stage stage, enum reading reading,
                             const struct value *value, struct error *error)
{
	enum status status = store_value_set(session->store, &session->draft.uid, stage, reading, value,
	                                     error);

	if (status == STATUS_OK)
		visit_set(&session->draft.visit, stage, reading, value);
	return status;
}

enum status session_keep_value(struct session *session, enum stage stage, enum reading reading,
                               const struct value *value, struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	return session_end(session, set_value(session, stage, reading, value, error), error);
}

/* Records, once, that resistances were read before the unit was made safe. */
static enum status note_unsafe(struct session *session, enum reading reading, struct error *error)
{
	if (!power_warns(&session->draft, reading))
		return STATUS_OK;
	session->draft.unsafe_at = session_now(session);
	return store_call_change(session->store, &session->call, &session->draft, error);
}

static enum status keep_typed(struct session *session, enum stage stage, enum reading reading,
                              const struct value *value, struct error *error)
{
	/* A value that is only corrected was not measured again. */
	bool is_correction = visit_has(&session->call.visit, stage, reading);
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	if (value->state != VALUE_NOT_TAKEN && !is_correction)
		status = note_unsafe(session, reading, error);
	if (status == STATUS_OK)
		status = set_value(session, stage, reading, value, error);
	return session_end(session, status, error);
}

static void push(struct session *session, enum stage stage, enum reading reading,
                 const struct value *before, bool with_next)
{
	*session_push_change(session) = (struct change){
		.kind = CHANGE_READING, .stage = stage, .reading = reading, .with_next = with_next,
		.before.value = *before,
		.after.value = *visit_value(&session->call.visit, stage, reading),
	};
}

static enum status type(struct session *session, enum stage stage, enum reading reading,
                        const char *typed, struct error *error)
{
	struct value value;
	enum status status = reading_parse(reading, typed, session->units, &value, error);

	if (status != STATUS_OK)
		return status;
	/* Whether it is the same, the book says, not what was here a while ago. */
	status = session_refresh(session, NULL, error);
	if (status != STATUS_OK)
		return status;
	struct value before = *visit_value(&session->call.visit, stage, reading);
	/*
	 * A safety answer given again is a new one, and so is a copy that is measured: their time
	 * counts.
	 */
	if (session_is_same_value(&before, &value) && reading_info(reading)->step != STEP_SAFETY &&
	    !(stage == STAGE_AS_LEFT && visit_is_copy(&session->call.visit, reading)))
		return STATUS_OK;
	if (value.state != VALUE_NOT_TAKEN)
		value.taken_at = session_now(session);
	status = keep_typed(session, stage, reading, &value, error);
	if (status == STATUS_OK)
		push(session, stage, reading, &before, false);
	return status;
}

enum status session_type(struct session *session, enum stage stage, enum reading reading,
                         const char *typed, struct error *error)
{
	const struct session_pending place = { .stage = stage, .reading = reading };
	enum status status = type(session, stage, reading, typed, error);

	return session_note_outcome(session, &place, typed, status, error);
}

/* ---- Several at once ---- */

/* The same value as one of another reading; false when that takes no such value. */
static bool convert(enum reading from, enum reading to, const struct value *value,
                    struct value *out)
{
	const struct reading_info *one = reading_info(from), *other = reading_info(to);
	struct error ignored;
	char exact[VALUE_TEXT_SIZE];

	if (value->state == VALUE_NOT_TAKEN || one->unit != other->unit)
		return false;
	reading_format_exact(from, value, exact, sizeof exact);
	if (reading_parse(to, exact, UNITS_US, out, &ignored) != STATUS_OK)
		return false;
	out->taken_at = value->taken_at;
	return true;
}

enum status session_move_value(struct session *session, enum stage stage, enum reading reading,
                               enum stage to_stage, enum reading to, struct error *error)
{
	const struct value nothing = { .taken_at = WALL_TIME_NONE };
	struct value value;
	enum status status = session_refresh(session, NULL, error);

	if (status != STATUS_OK)
		return status;
	struct value from_before = *visit_value(&session->call.visit, stage, reading);
	struct value to_before = *visit_value(&session->call.visit, to_stage, to);
	if (from_before.state == VALUE_NOT_TAKEN)
		return error_set(error, STATUS_NOT_FOUND, "%s has no value here; nothing was moved",
		                 reading_info(reading)->label);
	if (to_before.state != VALUE_NOT_TAKEN)
		return error_set(error, STATUS_EXISTS,
		                 "%s has a value there already; nothing was moved; take that out first",
		                 reading_info(to)->label);
	if (!convert(reading, to, &from_before, &value))
		return error_set(error, STATUS_REFUSED, "%s does not take a value of %s; nothing was moved",
		                 reading_info(to)->label, reading_info(reading)->label);
	status = session_begin(session, error);
	if (status != STATUS_OK)
		return status;
	status = set_value(session, to_stage, to, &value, error);
	if (status == STATUS_OK)
		status = set_value(session, stage, reading, &nothing, error);
	status = session_end(session, status, error);
	if (status == STATUS_OK) {
		push(session, stage, reading, &from_before, false);
		push(session, to_stage, to, &to_before, true);
	}
	return status;
}

static enum status fill(struct session *session, const enum reading *readings,
                        const struct value *values, int count, struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	for (int i = 0; i < count && status == STATUS_OK; i++)
		status = set_value(session, STAGE_AS_LEFT, readings[i], &values[i], error);
	return session_end(session, status, error);
}

enum status session_fill_left(struct session *session, const enum reading *readings,
                              const struct value *values, int count, struct error *error)
{
	const struct value nothing = { .taken_at = WALL_TIME_NONE };
	enum status status = fill(session, readings, values, count, error);

	/* More than can be taken back is taken back one by one. */
	for (int i = 0; i < count && status == STATUS_OK; i++)
		push(session, STAGE_AS_LEFT, readings[i], &nothing, i > 0 && count < MOST_CHANGES);
	return status;
}
