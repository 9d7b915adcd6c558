/*
 * Whose call it is, and which unit it is about: moving a call, joining two
 * records of one customer, taking out what was made by mistake.
 */
#include <stdlib.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/app/settings.h>
#include <padside/app/summary_line.h>
#include <padside/base/text.h>

#include "app/past_visits.h"
#include "app/session_parts.h"

static enum status move(struct session *session, const struct uid *customer,
                        const struct uid *site, const struct uid *system, struct error *error)
{
	enum status status = store_call_move(session->store, &session->call.uid, customer, site, system,
	                                     error);

	return status == STATUS_OK ? session_read_again(session, error) : status;
}

enum status session_move_call(struct session *session, const struct uid *customer,
                              const struct uid *system, struct error *error)
{
	struct change change = { .kind = CHANGE_MOVED };
	enum status status = session_refresh(session, NULL, error);

	if (status != STATUS_OK)
		return status;
	change.before.people[0] = session->call.customer.uid;
	change.before.people[1] = session->call.site.uid;
	change.before.people[2] = session->call.system.uid;
	status = move(session, customer, NULL, system, error);
	change.after.people[0] = session->call.customer.uid;
	change.after.people[1] = session->call.site.uid;
	change.after.people[2] = session->call.system.uid;
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
}

void session_technician(const struct session *session, char *out, size_t size)
{
	struct error ignored;

	if (setting_get(session->store, SETTING_TECHNICIAN, out, size, &ignored) != STATUS_OK || !*out)
		text_copy(out, size, session_field(session, FIELD_TECHNICIAN));
}

/* ---- What was typed for a customer whom the book knew already ---- */

static const enum field person_fields[] = {
	FIELD_CUSTOMER_NAME, FIELD_PHONE, FIELD_EMAIL, FIELD_ADDRESS, FIELD_SYSTEM_NAME,
};
enum { PERSON_FIELDS = sizeof person_fields / sizeof *person_fields };

/* Whether the customer of the open call has no other one: then it was made for this call. */
static bool is_made_for_call(struct session *session)
{
	struct customer_page page = { .visit_count = 0 };
	struct error error;

	if (session_customer_page(session, &session->call.customer.uid, &page, &error) != STATUS_OK)
		return false;
	bool is_alone = page.visit_count <= 1;
	customer_page_done(&page);
	return is_alone;
}

/* Fills what the record does not say, and adds to the note what it says otherwise. */
static enum status keep_typed(struct session *session, enum field field, const char *typed,
                              struct text *note, struct error *error)
{
	const char *now = session_field(session, field);

	if (!*typed || text_equal_ignoring_case(typed, now) ||
	    (field == FIELD_PHONE && session_is_same_number(typed, now)))
		return STATUS_OK;
	if (!*now)
		return session_type_field(session, field, typed, error);
	text_add_format(note, "%sTyped on this call: %s %s.", note->length ? " " : "",
	                field_info(field)->label, typed);
	return STATUS_OK;
}

static enum status keep_all_typed(struct session *session, char typed[PERSON_FIELDS][ADDRESS_SIZE],
                                  struct error *error)
{
	enum status status = STATUS_OK;
	struct text note;

	text_init(&note);
	text_add(&note, session_field(session, FIELD_OFFICE_NOTE));
	for (int i = 0; i < PERSON_FIELDS && status == STATUS_OK; i++)
		status = keep_typed(session, person_fields[i], typed[i], &note, error);
	if (status == STATUS_OK)
		status = session_type_field(session, FIELD_OFFICE_NOTE, text_get(&note), error);
	text_done(&note);
	return status;
}

enum status session_move_visit(struct session *session, const struct uid *call,
                               const struct uid *customer, const struct uid *system,
                               struct error *error)
{
	char typed[PERSON_FIELDS][ADDRESS_SIZE] = { "" };

	if (!session_call(session) || strcmp(session->call.uid.text, call->text) != 0)
		return store_call_move(session->store, call, customer, NULL, system, error);
	bool is_fresh = is_made_for_call(session);
	for (int i = 0; i < PERSON_FIELDS && is_fresh; i++)
		text_copy(typed[i], sizeof typed[i], session_field(session, person_fields[i]));
	enum status status = session_move_call(session, customer, system, error);
	return status == STATUS_OK && is_fresh ? keep_all_typed(session, typed, error) : status;
}

enum status session_find_whose(struct session *session, const struct uid *call,
                               struct session_whose *whose, struct error *error)
{
	struct call *loaded = calloc(1, sizeof *loaded);

	if (!loaded)
		return error_set(error, STATUS_NO_MEMORY,
		                 "there is no memory left; nothing was moved; "
		                 "close other programs");
	call_init(loaded);
	enum status status = store_call_load(session->store, call->text, loaded, error);
	*whose = (struct session_whose){
		.call = loaded->uid, .customer = loaded->customer.uid, .site = loaded->site.uid,
		.system = loaded->system.uid, .is_closed = loaded->closed_at != WALL_TIME_NONE,
	};
	call_done(loaded);
	free(loaded);
	return status;
}

enum status session_move_back(struct session *session, const struct session_whose *whose,
                              struct error *error)
{
	enum status status = store_call_move(session->store, &whose->call, &whose->customer,
	                                     &whose->site, &whose->system, error);

	return status == STATUS_OK ? session_read_again(session, error) : status;
}

enum status session_undo_move(struct session *session, const struct change *change,
                              struct error *error)
{
	return move(session, &change->before.people[0], &change->before.people[1],
	            &change->before.people[2], error);
}

enum status session_join(struct session *session, enum store_kind kind, const struct uid *from,
                         const struct uid *into, struct error *error)
{
	enum status status = store_join(session->store, kind, from, into, error);

	return status == STATUS_OK ? session_read_again(session, error) : status;
}

enum status session_part_again(struct session *session, const struct uid *uid,
                               struct error *error)
{
	enum status status = store_part_again(session->store, uid, error);

	return status == STATUS_OK ? session_read_again(session, error) : status;
}

enum status session_take_out(struct session *session, const struct uid *uid, struct error *error)
{
	return store_take_out(session->store, uid, error);
}

/*
 * The two lines for lists of a call that stands in the tables anew: they are in no trail.  Where
 * that fails they are worked out when the call is opened and changed next.
 */
static void write_lines(struct session *session, const struct uid *uid)
{
	struct summing {
		struct call call;
		struct past past;
		struct assessment assessment;
	} *work = calloc(1, sizeof *work);
	char found[LINE_SIZE], done[LINE_SIZE];
	struct error ignored;

	if (!work)
		return;
	call_init(&work->call);
	if (store_call_load(session->store, uid->text, &work->call, &ignored) == STATUS_OK &&
	    past_visits_load(session->store, &work->call, &work->past, &ignored) == STATUS_OK) {
		assessment_make(&(struct assessment_input){ .call = &work->call, .past = &work->past,
		                                            .with_before = true }, &work->assessment);
		summary_line_found(&work->call, &work->assessment, found, sizeof found);
		summary_line_done(&work->call, done, sizeof done);
		store_call_save_lines(session->store, uid, found, done, &ignored);
	}
	call_done(&work->call);
	free(work);
}

enum status session_bring_back(struct session *session, const struct uid *uid,
                               struct error *error)
{
	enum status status = store_bring_back(session->store, uid, error);

	if (status == STATUS_OK)
		write_lines(session, uid);
	return status;
}
