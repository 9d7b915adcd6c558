/*
 * The work on one call: beginning and end, how far it is, money, earlier
 * visits.  How a change is made: session_state.c.
 */
#include <padside/app/session.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/summary_line.h>
#include <padside/app/settings.h>
#include <padside/base/text.h>
#include <padside/model/call_parts.h>
#include <padside/model/money.h>
#include <padside/model/power.h>

#include "app/session_parts.h"

/* How long a key may wait for another program that writes. */
enum { PATIENCE_MS = 15 };

/* ---- Beginning and end ---- */

enum status session_new(struct store *store, const struct clock *clock, enum unit_system units,
                        struct session **session, struct error *error)
{
	struct session *made = calloc(1, sizeof *made);

	if (!made)
		return error_set(error, STATUS_NO_MEMORY, "there is no memory left; close other programs");
	made->store = store;
	made->clock = *clock;
	made->units = units;
	call_init(&made->call);
	call_init(&made->draft);
	session_read_spool(made);
	/* Who types does not wait for another program: what cannot be kept is tried again. */
	store_set_patience(store, PATIENCE_MS);
	*session = made;
	return STATUS_OK;
}

void session_free(struct session *session)
{
	if (!session)
		return;
	session_leave(session);
	free(session->pending);
	free(session->ours);
	free(session);
}

/* ---- What it means ---- */

const struct figure_set *session_figures(const struct session *session, enum stage stage)
{
	return &session->assessment.figures[stage];
}

const struct diagnosis *session_diagnosis(const struct session *session, enum stage stage)
{
	return &session->assessment.diagnoses[stage];
}

bool session_noted(const struct session *session, int which, struct noted *noted)
{
	return noted_row(&session->call.visit, &session->assessment, which, session_units(session),
	                 noted);
}

/* When a stage's newest reading was kept; the safety answers belong to neither. */
static wall_time newest_reading(const struct session *session, enum stage stage)
{
	wall_time newest = WALL_TIME_NONE;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct reading_info *info = reading_info((enum reading)i);
		const struct value *value = visit_value(&session->call.visit, stage, (enum reading)i);
		if (info->scope == SCOPE_CALL && info->step != STEP_SAFETY &&
		    value->state != VALUE_NOT_TAKEN && value->taken_at > newest)
			newest = value->taken_at;
	}
	return newest;
}

enum stage session_stage(const struct session *session)
{
	wall_time found = newest_reading(session, STAGE_AS_FOUND);
	wall_time left = newest_reading(session, STAGE_AS_LEFT);

	if (!session->assessment.was_read[STAGE_AS_LEFT])
		return STAGE_AS_FOUND;
	/* Without times what was left came later. */
	return found == WALL_TIME_NONE || left == WALL_TIME_NONE || left >= found ? STAGE_AS_LEFT
	                                                                           : STAGE_AS_FOUND;
}

static enum progress of_two(bool begun, bool complete)
{
	return complete ? PROGRESS_COMPLETE : begun ? PROGRESS_BEGUN : PROGRESS_UNTOUCHED;
}

static bool any_decided(const struct call *call)
{
	for (size_t i = 0; i < call->offer_count; i++)
		if (call->offers[i].decision != DECISION_NONE)
			return true;
	return false;
}

/* Whether there is work, and every line of it says what it is and what it costs. */
static bool is_work_whole(const struct call *call)
{
	for (size_t i = 0; i < call->work_count; i++)
		if (!*call->work[i].description ||
		    (call->work[i].unit_price == 0 && !call->work[i].no_charge))
			return false;
	return call->work_count > 0;
}

static enum progress progress_of(const struct session *session, enum step step)
{
	const struct call *call = &session->call;
	const struct diagnosis *found = &session->assessment.diagnoses[STAGE_AS_FOUND];

	switch (step) {
	case STEP_CALL:
		return of_two(*call->customer.name || *call->site.address || *call->complaint,
		              *call->customer.name && *call->site.address && *call->complaint);
	/* A tick that says safe while there is power again could kill. */
	case STEP_SAFETY:
		return of_two(visit_step_progress(&call->visit, step) != PROGRESS_UNTOUCHED,
		              visit_step_progress(&call->visit, step) == PROGRESS_COMPLETE &&
		              power_of_call(call).state == POWER_STATE_SAFE);
	case STEP_FINDINGS:
		return of_two(found->finding_count > 0, found->finding_count > 0 &&
		              found->findings[0].probability >= 0.8);
	case STEP_CHOICES:
		return of_two(call->offer_count > 0, any_decided(call));
	case STEP_WORK:
		return of_two(call->work_count > 0 || call->charge_count > 0, is_work_whole(call));
	case STEP_SUMMARY:
		return of_two(*call->summary, call->closed_at != WALL_TIME_NONE);
	default:
		return visit_step_progress(&call->visit, step);
	}
}

/* Whether a text of that sheet of the open call is not kept. */
static bool has_unkept(const struct session *session, enum step step)
{
	for (size_t i = 0; i < session->pending_count; i++) {
		const struct session_pending *held = &session->pending[i];
		if (held->is_line || strcmp(held->call.text, session->call.uid.text) != 0)
			continue;
		if (step == (held->is_field ? session_field_step(held->field)
		                            : reading_info(held->reading)->step))
			return true;
	}
	return false;
}

enum progress session_progress(const struct session *session, enum step step)
{
	enum progress progress = progress_of(session, step);

	/* A tick over a text that is not in the book would say that it is. */
	return progress == PROGRESS_COMPLETE && has_unkept(session, step) ? PROGRESS_BEGUN : progress;
}

/* ---- The call ---- */

/*
 * Another call comes in the place of the open one, once the book gave it: until then that one
 * stays.
 */
static enum status change_to(struct session *session, struct call *next, enum status status,
                             struct error *error)
{
	if (status != STATUS_OK) {
		call_done(next);
		return status;
	}
	session_leave(session);
	session->call = *next;
	return session_enter(session, error);
}

enum status session_start(struct session *session, const struct uid *customer,
                          const struct uid *site, const struct uid *system, struct error *error)
{
	struct call next;

	call_init(&next);
	if (customer)
		next.customer.uid = *customer;
	if (site)
		next.site.uid = *site;
	if (system)
		next.system.uid = *system;
	next.opened_at = session_now(session);
	enum status status = settings_start_call(session->store, &next, error);
	next.visit.cooling_hours = next.billing.cooling_hours;
	if (status == STATUS_OK)
		status = store_call_create(session->store, &next, error);
	return change_to(session, &next, status, error);
}

enum status session_open(struct session *session, const char *uid, struct error *error)
{
	struct call next;

	call_init(&next);
	return change_to(session, &next, store_call_load(session->store, uid, &next, error), error);
}

const struct call *session_call(const struct session *session)
{
	return session->is_open ? &session->call : NULL;
}

enum status session_close_call(struct session *session, bool closed, struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	session->draft.closed_at = closed ? session_now(session) : WALL_TIME_NONE;
	return session_end(session, store_call_change(session->store, &session->call, &session->draft,
	                                              error), error);
}

/* ---- Money and charge ---- */

enum status session_keep_billing(struct session *session, const struct billing *billing,
                                 struct error *error)
{
	enum status status = session_begin(session, error);

	if (status != STATUS_OK)
		return status;
	session->draft.billing = *billing;
	session->draft.visit.cooling_hours = billing->cooling_hours;
	return session_end(session, store_call_change(session->store, &session->call, &session->draft,
	                                              error), error);
}

enum status session_put_billing(struct session *session, const struct billing *given,
                                struct error *error)
{
	const struct billing base = session->call.billing;
	struct billing billing = *given;
	enum status status = session_refresh(session, NULL, error);

	if (status != STATUS_OK)
		return status;
	const struct billing before = session->call.billing;
	session_follow_part(PART_BILLING, &base, &before, &billing);
	session_follow_part(PART_TAX, &base, &before, &billing);
	status = session_keep_billing(session, &billing, error);
	if (status == STATUS_OK) {
		struct change *change = session_push_change(session);
		*change = (struct change){ .kind = CHANGE_BILLING };
		change->before.element.billing = before;
		change->after.element.billing = session->call.billing;
	}
	return status;
}

enum paper_lack session_report_lacks(const struct session *session)
{
	return paper_lacks(&session->call, &session->assessment);
}

void session_charging(const struct session *session, struct charging *charging)
{
	assessment_charging(&session->call, &session->assessment, session_stage(session), charging);
}

/* ---- Earlier visits ---- */

size_t session_open_items(const struct session *session)
{
	return session->item_count;
}

const struct watch_item *session_open_item(const struct session *session, size_t index)
{
	return &session->items[index];
}

enum status session_shut_item(struct session *session, const struct uid *item,
                              struct error *error)
{
	enum status status = store_watch_close(session->store, item, session_now(session), error);

	return status == STATUS_OK ? session_load_items(session, error) : status;
}

enum status session_close_item(struct session *session, size_t index, struct error *error)
{
	struct change change = { .kind = CHANGE_ITEM };

	change.before.element.watch = session->items[index];
	const struct uid item = session->items[index].uid;
	enum status status = session_shut_item(session, &item, error);
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
}

enum status session_reopen_item(struct session *session, const struct uid *item,
                                struct error *error)
{
	enum status status = store_watch_close(session->store, item, WALL_TIME_NONE, error);

	return status == STATUS_OK ? session_load_items(session, error) : status;
}
