/*
 * The work on one call.
 *
 * Every change goes the same way: check, keep it in the book, put it in
 * memory, work everything out again.  So memory never holds what the book
 * does not.
 */
#include <padside/app/session.h>

#include <assert.h>
#include <inttypes.h>
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
	*session = made;
	return STATUS_OK;
}

void session_free(struct session *session)
{
	if (!session)
		return;
	session_leave(session);
	free(session);
}

struct store *session_store(const struct session *session)
{
	return session->store;
}

enum unit_system session_units(const struct session *session)
{
	return session->units;
}

void session_set_units(struct session *session, enum unit_system units)
{
	session->units = units;
}

wall_time session_now(const struct session *session)
{
	return clock_now(&session->clock);
}

/* ---- What it means ---- */

/*
 * Keeps the two lines for lists.  They can be worked out again at any time, so
 * that a failure here takes nothing from what was kept.
 */
void session_keep_lines(struct session *session)
{
	char found[LINE_SIZE], done[LINE_SIZE];
	struct error ignored;

	summary_line_found(&session->assessment, found, sizeof found);
	summary_line_done(&session->call, done, sizeof done);
	if (strcmp(found, session->found_line) == 0 && strcmp(done, session->done_line) == 0)
		return;
	if (store_call_save_lines(session->store, &session->call.uid, found, done, &ignored) == STATUS_OK) {
		text_copy(session->found_line, sizeof session->found_line, found);
		text_copy(session->done_line, sizeof session->done_line, done);
	}
}

static void work_out(struct session *session)
{
	struct assessment_input input = { .visit = &session->call.visit, .with_before = true };

	assessment_make(&input, &session->assessment);
	session_keep_lines(session);
}

const struct figure_set *session_figures(const struct session *session, enum stage stage)
{
	return &session->assessment.figures[stage];
}

const struct diagnosis *session_diagnosis(const struct session *session, enum stage stage)
{
	return &session->assessment.diagnoses[stage];
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

	return left != WALL_TIME_NONE && left >= found ? STAGE_AS_LEFT : STAGE_AS_FOUND;
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

enum progress session_progress(const struct session *session, enum step step)
{
	const struct call *call = &session->call;
	const struct diagnosis *found = &session->assessment.diagnoses[STAGE_AS_FOUND];

	switch (step) {
	case STEP_CALL:
		return of_two(*call->customer.name || *call->site.address || *call->complaint,
		              *call->customer.name && *call->site.address && *call->complaint);
	case STEP_FINDINGS:
		return of_two(found->finding_count > 0, found->finding_count > 0 &&
		              found->findings[0].probability >= 0.8);
	case STEP_CHOICES:
		return of_two(call->offer_count > 0, any_decided(call));
	case STEP_WORK:
		return of_two(call->work_count > 0 || call->charge_count > 0, call->work_count > 0);
	case STEP_SUMMARY:
		return of_two(*call->summary, call->closed_at != WALL_TIME_NONE);
	default:
		return visit_step_progress(&call->visit, step);
	}
}

/* ---- The call ---- */

static bool add_item(struct session *session, const struct watch_item *item)
{
	struct watch_item *list = realloc(session->items, (session->item_count + 1) * sizeof *list);

	if (!list)
		return false;
	session->items = list;
	list[session->item_count++] = *item;
	return true;
}

static bool collect_item(const struct watch_item *item, const struct uid *call, void *context)
{
	struct session *session = context;

	/* What was noted on this very call stands in its own list. */
	if (strcmp(call->text, session->call.uid.text) == 0)
		return true;
	return add_item(session, item);
}

static void show_field(struct session *session, enum field field);

/* Takes over a loaded call. */
static enum status enter(struct session *session, struct error *error)
{
	enum status status = store_open_watch_items(session->store, &session->call.system.uid,
	                                            collect_item, session, error);

	if (status != STATUS_OK) {
		session_leave(session);
		return status;
	}
	session->is_open = true;
	for (int field = 0; field < FIELD_COUNT; field++)
		show_field(session, (enum field)field);
	work_out(session);
	return STATUS_OK;
}

enum status session_start(struct session *session, const struct uid *customer,
                          const struct uid *site, const struct uid *system, struct error *error)
{
	session_leave(session);
	if (customer)
		session->call.customer.uid = *customer;
	if (site)
		session->call.site.uid = *site;
	if (system)
		session->call.system.uid = *system;
	session->call.opened_at = session_now(session);
	enum status status = settings_start_call(session->store, &session->call, error);
	if (status == STATUS_OK)
		status = store_call_create(session->store, &session->call, error);
	if (status != STATUS_OK) {
		session_leave(session);
		return status;
	}
	return enter(session, error);
}

enum status session_open(struct session *session, const char *uid, struct error *error)
{
	session_leave(session);
	enum status status = store_call_load(session->store, uid, &session->call, error);
	if (status != STATUS_OK) {
		session_leave(session);
		return status;
	}
	return enter(session, error);
}

void session_leave(struct session *session)
{
	call_done(&session->call);
	free(session->items);
	session->items = NULL;
	session->item_count = 0;
	session->change_count = 0;
	session->found_line[0] = session->done_line[0] = '\0';
	session->is_open = false;
}

const struct call *session_call(const struct session *session)
{
	return session->is_open ? &session->call : NULL;
}

enum status session_close_call(struct session *session, bool closed, struct error *error)
{
	wall_time before = session->call.closed_at;

	session->call.closed_at = closed ? session_now(session) : WALL_TIME_NONE;
	enum status status = store_call_save_header(session->store, &session->call, error);
	if (status != STATUS_OK)
		session->call.closed_at = before;
	return status;
}

/* ---- Undo ---- */

struct change *session_push_change(struct session *session)
{
	if (session->change_count == MOST_CHANGES) {
		session->change_first = (session->change_first + 1) % MOST_CHANGES;
		session->change_count--;
	}
	size_t at = (session->change_first + session->change_count++) % MOST_CHANGES;
	return &session->changes[at];
}

/* ---- Fields ---- */

/* The member of a field, and the part of the call that it belongs to. */
static const struct call_member *field_member(enum field field, enum call_part *part)
{
	for (*part = PART_CUSTOMER; *part <= PART_CALL; ++*part) {
		const struct call_part_info *info = call_part_info(*part);
		for (const struct call_member *member = info->members; member->key; member++)
			if (info->offset + member->offset == fields[field].offset)
				return member;
	}
	assert(!"a field is a member of the call");
	return NULL;
}

/* Its exact text, and back; false when it does not take that. */
static void format_field(const struct call *call, enum field field, char *exact, size_t size)
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

const char *session_field(const struct session *session, enum field field)
{
	if (!fields[field].info.is_text)
		return session->shown[field];
	return (const char *)&session->call + fields[field].offset;
}

/* Puts an exact text into the call and the book; leaves both as they were on failure. */
static enum status keep_field(struct session *session, enum field field, const char *exact,
                              struct error *error)
{
	char before[MEMBER_TEXT_SIZE];

	format_field(&session->call, field, before, sizeof before);
	if (!parse_field(&session->call, field, exact))
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes no such value; nothing was changed",
		                 fields[field].info.label);
	enum status status = store_call_save_header(session->store, &session->call, error);
	if (status != STATUS_OK)
		parse_field(&session->call, field, before);
	show_field(session, field);
	return status;
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

enum status session_type_field(struct session *session, enum field field, const char *typed,
                               struct error *error)
{
	char exact[MEMBER_TEXT_SIZE], before[MEMBER_TEXT_SIZE];
	enum status status;

	if (form_of(field) == FORM_TIME)
		status = read_time(session, field, typed, exact, sizeof exact, error);
	else if (form_of(field) == FORM_CENTS)
		status = read_amount(field, typed, exact, sizeof exact, error);
	else
		status = read_text(field, typed, exact, sizeof exact, error);
	if (status != STATUS_OK)
		return status;
	format_field(&session->call, field, before, sizeof before);
	if (strcmp(before, exact) == 0)
		return STATUS_OK;
	status = keep_field(session, field, exact, error);
	if (status != STATUS_OK)
		return status;
	struct change *change = session_push_change(session);
	*change = (struct change){ .kind = CHANGE_FIELD, .field = field };
	text_copy(change->before.text, sizeof change->before.text, before);
	return STATUS_OK;
}

/* ---- Readings ---- */

bool session_warns_unsafe(const struct session *session, enum reading reading)
{
	return power_warns(&session->call, reading);
}

static enum status keep_value(struct session *session, enum stage stage, enum reading reading,
                              const struct value *value, struct error *error)
{
	enum status status = store_value_set(session->store, &session->call.uid, stage, reading, value,
	                                     error);

	if (status == STATUS_OK) {
		visit_set(&session->call.visit, stage, reading, value);
		work_out(session);
	}
	return status;
}

/* Records, once, that resistances were read before the machine was made safe. */
static enum status keep_unsafe(struct session *session, struct error *error)
{
	session->call.unsafe_at = session_now(session);
	enum status status = store_call_save_header(session->store, &session->call, error);
	if (status != STATUS_OK)
		session->call.unsafe_at = WALL_TIME_NONE;
	return status;
}

static bool is_same_value(const struct value *a, const struct value *b)
{
	return a->state == b->state && a->choice == b->choice && strcmp(a->text, b->text) == 0 &&
	       (a->state != VALUE_TAKEN || !(a->number < b->number || a->number > b->number));
}

/* What was wrong, and that it is not in the book. */
static enum status say_not_kept(struct error *error)
{
	size_t length = strlen(error->text);

	snprintf(error->text + length, sizeof error->text - length, "; not kept, mend it");
	text_trim_broken_utf8(error->text);
	return error->status;
}

enum status session_type(struct session *session, enum stage stage, enum reading reading,
                         const char *typed, struct error *error)
{
	struct value value;
	struct value before = *visit_value(&session->call.visit, stage, reading);
	enum status status = reading_parse(reading, typed, session->units, &value, error);

	if (status != STATUS_OK)
		return say_not_kept(error);
	/* A safety answer given again is a new one: its time counts. */
	if (is_same_value(&before, &value) && reading_info(reading)->step != STEP_SAFETY)
		return STATUS_OK;
	if (value.state != VALUE_NOT_TAKEN) {
		value.taken_at = session_now(session);
		if (session_warns_unsafe(session, reading))
			status = keep_unsafe(session, error);
	}
	if (status == STATUS_OK)
		status = keep_value(session, stage, reading, &value, error);
	if (status == STATUS_OK)
		*session_push_change(session) = (struct change){
			.kind = CHANGE_READING, .stage = stage, .reading = reading, .before.value = before };
	return status;
}

static enum status keep_billing(struct session *session, const struct billing *billing,
                                struct error *error)
{
	struct billing before = session->call.billing;

	session->call.billing = *billing;
	enum status status = store_call_save_header(session->store, &session->call, error);
	if (status != STATUS_OK)
		session->call.billing = before;
	return status;
}

/* Opens an item of an earlier call again; it stands last then. */
static enum status reopen_item(struct session *session, const struct watch_item *item,
                               struct error *error)
{
	enum status status = store_watch_close(session->store, &item->uid, WALL_TIME_NONE, error);

	if (status == STATUS_OK && !add_item(session, item))
		return error_set(error, STATUS_NO_MEMORY, "it is open again in the book, but there is no memory "
		                 "left to show it; close other programs and open the call again");
	return status;
}

static enum status undo(struct session *session, const struct change *change, char *what,
                        size_t size, struct error *error)
{
	switch (change->kind) {
	case CHANGE_FIELD:
		text_copy(what, size, fields[change->field].info.label);
		return keep_field(session, change->field, change->before.text, error);
	case CHANGE_READING:
		snprintf(what, size, "%s", reading_info(change->reading)->label);
		return keep_value(session, change->stage, change->reading, &change->before.value, error);
	case CHANGE_BILLING:
		snprintf(what, size, "discount, taxes, deposit");
		return keep_billing(session, &change->before.element.billing, error);
	case CHANGE_ITEM:
		snprintf(what, size, "%s", change->before.element.watch.text);
		return reopen_item(session, &change->before.element.watch, error);
	default:
		return session_undo_list(session, change, what, size, error);
	}
}

enum status session_undo(struct session *session, char *what, size_t size, struct error *error)
{
	if (session->change_count == 0)
		return error_set(error, STATUS_NOT_FOUND, "there is nothing to take back on this call");
	size_t at = (session->change_first + session->change_count - 1) % MOST_CHANGES;
	/* Taking it back may rewrite the ring. */
	const struct change change = session->changes[at];
	enum status status = undo(session, &change, what, size, error);
	if (status == STATUS_OK)
		session->change_count--;
	return status;
}

/* ---- Money and charge ---- */

enum status session_put_billing(struct session *session, const struct billing *billing,
                                struct error *error)
{
	struct billing before = session->call.billing;
	enum status status = keep_billing(session, billing, error);

	if (status == STATUS_OK) {
		struct change *change = session_push_change(session);
		*change = (struct change){ .kind = CHANGE_BILLING };
		change->before.element.billing = before;
	}
	return status;
}

void session_charging(const struct session *session, struct charging *charging)
{
	charging_work_out(&session->call, session_stage(session), charging);
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

enum status session_close_item(struct session *session, size_t index, struct error *error)
{
	struct watch_item *item = &session->items[index];
	enum status status = store_watch_close(session->store, &item->uid, session_now(session), error);

	if (status != STATUS_OK)
		return status;
	struct change *change = session_push_change(session);
	*change = (struct change){ .kind = CHANGE_ITEM };
	change->before.element.watch = *item;
	memmove(item, item + 1, (session->item_count - index - 1) * sizeof *item);
	session->item_count--;
	return STATUS_OK;
}
