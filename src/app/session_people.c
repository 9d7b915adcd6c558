/*
 * Whose call it is, and which unit it is about: moving a call, joining two
 * records of one customer, taking out what was made by mistake.
 */
#include "app/session_parts.h"

/* Reads the open call again: what it refers to may be another now. */
static enum status read_again(struct session *session, struct error *error)
{
	session->version = -1;
	return session_refresh(session, NULL, error);
}

static enum status move(struct session *session, const struct uid *customer,
                        const struct uid *site, const struct uid *system, struct error *error)
{
	enum status status = store_call_move(session->store, &session->call.uid, customer, site, system,
	                                     error);

	return status == STATUS_OK ? read_again(session, error) : status;
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
	if (status == STATUS_OK)
		*session_push_change(session) = change;
	return status;
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

	return status == STATUS_OK ? read_again(session, error) : status;
}

enum status session_take_out(struct session *session, const struct uid *uid, struct error *error)
{
	return store_take_out(session->store, uid, error);
}

enum status session_bring_back(struct session *session, const struct uid *uid,
                               struct error *error)
{
	return store_bring_back(session->store, uid, error);
}
