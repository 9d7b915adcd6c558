/*
 * The work on one call.
 *
 * Every change goes the same way: check, keep it in the book, put it in
 * memory, work everything out again.  So memory never holds what the book
 * does not.
 */
#include <padside/session.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/lines.h>
#include <padside/text.h>

/* One change that can be taken back. */
struct change {
	bool is_field;            /* a text, not a reading */
	enum field field;         /* which text */
	enum stage stage;         /* of the reading */
	enum reading reading;     /* which reading */
	struct value value;       /* the reading before */
	char text[NOTE_SIZE];     /* the text before */
};

enum { MOST_CHANGES = 64 };

struct session {
	struct store *store;                       /* the book; not owned */
	struct clock clock;                        /* where the time comes from */
	enum unit_system units;                    /* typed and shown */
	bool is_open;                              /* `call` holds an open call */
	struct call call;                          /* as the book has it */
	struct figure_set figures[STAGE_COUNT];    /* of its readings */
	struct diagnosis diagnoses[STAGE_COUNT];   /* of its readings */
	struct change changes[MOST_CHANGES];       /* newest last, a ring */
	size_t change_first, change_count;         /* where it starts, how many */
	struct watch_item *items;                  /* open items of earlier calls; owned */
	size_t item_count;                         /* of them */
	char found_line[LINE_SIZE];                /* as last saved with the call */
	char done_line[LINE_SIZE];                 /* likewise */
};

struct field_row {
	struct field_info info; /* for front ends */
	size_t offset;          /* where it lies in struct call */
};

static const struct field_row fields[FIELD_COUNT] = {
#define FIELD(id, member, label_, help_) \
	[FIELD_##id] = { { .label = label_, .help = help_, \
	                   .size = sizeof ((struct call *)0)->member }, \
	                 offsetof(struct call, member) },
#include "app/fields.def"
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
static void keep_lines(struct session *session)
{
	char found[LINE_SIZE], done[LINE_SIZE];
	struct error ignored;

	lines_describe_found(session->diagnoses, found, sizeof found);
	lines_describe_done(&session->call, done, sizeof done);
	if (strcmp(found, session->found_line) == 0 && strcmp(done, session->done_line) == 0)
		return;
	if (store_call_save_lines(session->store, &session->call.uid, found, done, &ignored) == STATUS_OK) {
		text_copy(session->found_line, sizeof session->found_line, found);
		text_copy(session->done_line, sizeof session->done_line, done);
	}
}

static void work_out(struct session *session)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		figures_evaluate(&session->call.visit, (enum stage)stage, &session->figures[stage]);
		diagnose(&session->call.visit, (enum stage)stage, &session->figures[stage],
		         &session->diagnoses[stage]);
	}
	keep_lines(session);
}

const struct figure_set *session_figures(const struct session *session, enum stage stage)
{
	return &session->figures[stage];
}

const struct diagnosis *session_diagnosis(const struct session *session, enum stage stage)
{
	return &session->diagnoses[stage];
}

enum stage session_stage(const struct session *session)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->scope == SCOPE_CALL &&
		    visit_has(&session->call.visit, STAGE_AS_LEFT, (enum reading)i))
			return STAGE_AS_LEFT;
	return STAGE_AS_FOUND;
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
	const struct diagnosis *found = &session->diagnoses[STAGE_AS_FOUND];

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

static bool collect_item(const struct watch_item *item, const struct uid *call, void *context)
{
	struct session *session = context;

	/* What was noted on this very call stands in its own list. */
	if (strcmp(call->text, session->call.uid.text) == 0)
		return true;
	struct watch_item *list = realloc(session->items, (session->item_count + 1) * sizeof *list);
	if (!list)
		return false;
	session->items = list;
	list[session->item_count++] = *item;
	return true;
}

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
	enum status status = store_call_create(session->store, &session->call, error);
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

static struct change *push_change(struct session *session)
{
	if (session->change_count == MOST_CHANGES) {
		session->change_first = (session->change_first + 1) % MOST_CHANGES;
		session->change_count--;
	}
	size_t at = (session->change_first + session->change_count++) % MOST_CHANGES;
	return &session->changes[at];
}

/* ---- Texts ---- */

const struct field_info *field_info(enum field field)
{
	return &fields[field].info;
}

static char *field_text(struct session *session, enum field field)
{
	return (char *)&session->call + fields[field].offset;
}

const char *session_field(const struct session *session, enum field field)
{
	return (const char *)&session->call + fields[field].offset;
}

/* Puts a text that fits into the call and the book; leaves both as they were on failure. */
static enum status keep_field(struct session *session, enum field field, const char *text,
                              struct error *error)
{
	char before[NOTE_SIZE];
	char *target = field_text(session, field);

	text_copy(before, sizeof before, target);
	text_copy(target, fields[field].info.size, text);
	enum status status = store_call_save_header(session->store, &session->call, error);
	if (status != STATUS_OK)
		text_copy(target, fields[field].info.size, before);
	return status;
}

enum status session_type_field(struct session *session, enum field field, const char *typed,
                               struct error *error)
{
	char clean[NOTE_SIZE], before[NOTE_SIZE];
	const struct field_info *info = &fields[field].info;

	if (strlen(typed) >= info->size || !text_copy(clean, sizeof clean, typed))
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes at most %zu characters; shorten it",
		                 info->label, info->size - 1);
	for (char *at = clean; *at; at++)
		if ((unsigned char)*at < 0x20 || *at == 0x7f)
			*at = ' ';
	text_copy(before, sizeof before, session_field(session, field));
	if (strcmp(before, clean) == 0)
		return STATUS_OK;
	enum status status = keep_field(session, field, clean, error);
	if (status != STATUS_OK)
		return status;
	struct change *change = push_change(session);
	*change = (struct change){ .is_field = true, .field = field };
	text_copy(change->text, sizeof change->text, before);
	return STATUS_OK;
}

/* ---- Readings ---- */

bool session_warns_unsafe(const struct session *session, enum reading reading)
{
	return reading_info(reading)->step == STEP_WINDINGS &&
	       reading_info(reading)->kind == KIND_RESISTANCE &&
	       session->call.unsafe_at == WALL_TIME_NONE && !visit_is_made_safe(&session->call.visit);
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

enum status session_type(struct session *session, enum stage stage, enum reading reading,
                         const char *typed, struct error *error)
{
	struct value value;
	struct value before = *visit_value(&session->call.visit, stage, reading);
	enum status status = reading_parse(reading, typed, session->units, &value, error);

	if (status != STATUS_OK)
		return status;
	if (is_same_value(&before, &value))
		return STATUS_OK;
	if (value.state != VALUE_NOT_TAKEN) {
		value.taken_at = session_now(session);
		if (session_warns_unsafe(session, reading))
			status = keep_unsafe(session, error);
	}
	if (status == STATUS_OK)
		status = keep_value(session, stage, reading, &value, error);
	if (status == STATUS_OK)
		*push_change(session) = (struct change){ .stage = stage, .reading = reading, .value = before };
	return status;
}

enum status session_undo(struct session *session, char *what, size_t size, struct error *error)
{
	if (session->change_count == 0)
		return error_set(error, STATUS_NOT_FOUND, "there is nothing to take back on this call");
	size_t at = (session->change_first + session->change_count - 1) % MOST_CHANGES;
	const struct change *change = &session->changes[at];
	enum status status;

	if (change->is_field) {
		status = keep_field(session, change->field, change->text, error);
		snprintf(what, size, "%s", fields[change->field].info.label);
	} else {
		status = keep_value(session, change->stage, change->reading, &change->value, error);
		snprintf(what, size, "%s", reading_info(change->reading)->label);
	}
	if (status == STATUS_OK)
		session->change_count--;
	return status;
}

/* ---- Lists ---- */

/*
 * Where the element with that uid stands in a list of elements that begin
 * with their uid: its index, or `count` when it is new.  Gives a new one its uid.
 */
static size_t place_of(struct uid *uid, const void *list, size_t count, size_t size)
{
	size_t at = 0;

	if (uid_is_none(uid))
		*uid = uid_new();
	while (at < count && strcmp(((const struct uid *)list)->text, uid->text) != 0) {
		list = (const char *)list + size;
		at++;
	}
	return at;
}

static enum status report_no_memory(struct error *error)
{
	return error_set(error, STATUS_NO_MEMORY, "it is kept in the book, but there is no memory left "
	                 "to show it; close other programs and open the call again");
}

enum status session_put_charge(struct session *session, const struct charge_entry *element,
                               struct error *error)
{
	struct call *call = &session->call;
	struct charge_entry kept = *element;
	size_t at = place_of(&kept.uid, call->charge, call->charge_count, sizeof kept);
	enum status status = store_charge_put(session->store, &call->uid, &kept, error);

	if (status != STATUS_OK)
		return status;
	if (at == call->charge_count && !call_add_charge(call))
		return report_no_memory(error);
	call->charge[at] = kept;
	keep_lines(session);
	return STATUS_OK;
}

enum status session_put_work(struct session *session, const struct work_line *element,
                               struct error *error)
{
	struct call *call = &session->call;
	struct work_line kept = *element;
	size_t at = place_of(&kept.uid, call->work, call->work_count, sizeof kept);
	enum status status = store_work_put(session->store, &call->uid, &kept, error);

	if (status != STATUS_OK)
		return status;
	if (at == call->work_count && !call_add_work(call))
		return report_no_memory(error);
	call->work[at] = kept;
	keep_lines(session);
	return STATUS_OK;
}

enum status session_put_offer(struct session *session, const struct offer *element,
                               struct error *error)
{
	struct call *call = &session->call;
	struct offer kept = *element;
	size_t at = place_of(&kept.uid, call->offers, call->offer_count, sizeof kept);
	enum status status = store_offer_put(session->store, &call->uid, &kept, error);

	if (status != STATUS_OK)
		return status;
	if (at == call->offer_count && !call_add_offer(call))
		return report_no_memory(error);
	call->offers[at] = kept;
	keep_lines(session);
	return STATUS_OK;
}

enum status session_put_watch(struct session *session, const struct watch_item *element,
                               struct error *error)
{
	struct call *call = &session->call;
	struct watch_item kept = *element;
	size_t at = place_of(&kept.uid, call->watch, call->watch_count, sizeof kept);
	enum status status = store_watch_put(session->store, &call->uid, &kept, error);

	if (status != STATUS_OK)
		return status;
	if (at == call->watch_count && !call_add_watch(call))
		return report_no_memory(error);
	call->watch[at] = kept;
	keep_lines(session);
	return STATUS_OK;
}

enum status session_remove_charge(struct session *session, size_t index, struct error *error)
{
	enum status status = store_charge_remove(session->store, &session->call.charge[index].uid, error);

	if (status == STATUS_OK)
		call_remove_charge(&session->call, index);
	keep_lines(session);
	return status;
}

enum status session_remove_work(struct session *session, size_t index, struct error *error)
{
	enum status status = store_work_remove(session->store, &session->call.work[index].uid, error);

	if (status == STATUS_OK)
		call_remove_work(&session->call, index);
	keep_lines(session);
	return status;
}

enum status session_remove_offer(struct session *session, size_t index, struct error *error)
{
	enum status status = store_offer_remove(session->store, &session->call.offers[index].uid, error);

	if (status == STATUS_OK)
		call_remove_offer(&session->call, index);
	keep_lines(session);
	return status;
}

enum status session_remove_watch(struct session *session, size_t index, struct error *error)
{
	enum status status = store_watch_remove(session->store, &session->call.watch[index].uid, error);

	if (status == STATUS_OK)
		call_remove_watch(&session->call, index);
	keep_lines(session);
	return status;
}

enum status session_put_billing(struct session *session, const struct billing *billing,
                                struct error *error)
{
	struct billing before = session->call.billing;

	session->call.billing = *billing;
	enum status status = store_call_save_header(session->store, &session->call, error);
	if (status != STATUS_OK)
		session->call.billing = before;
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
	memmove(item, item + 1, (session->item_count - index - 1) * sizeof *item);
	session->item_count--;
	return STATUS_OK;
}
