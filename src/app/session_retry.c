/* What could not be kept is tried again, as if it were typed once more. */
#include <padside/base/text.h>

#include "app/session_parts.h"

static enum status try_again(struct session *session, const struct session_pending *pending,
                             struct error *error)
{
	return pending->is_field
		? session_type_field(session, pending->field, pending->text, error)
		: session_type(session, pending->stage, pending->reading, pending->text, error);
}

enum status session_retry(struct session *session, struct error *error)
{
	enum status first = STATUS_OK;
	size_t at = 0;

	while (at < session->pending_count) {
		const struct session_pending pending = session->pending[at];
		if (pending.is_line || !session_is_to_try(session, &pending)) {
			at++;
			continue;
		}
		enum status status = try_again(session, &pending, error);
		/* One that waits makes all wait; one that is refused now stays to be corrected. */
		if (status != STATUS_OK && session_may_keep_later(status))
			return status;
		if (status != STATUS_OK) {
			first = status;
			text_copy(session->pending[at].why, sizeof pending.why, error->text);
			session->pending[at++].refused = true;
		} else if (at < session->pending_count &&
		           session_is_same_place(&session->pending[at], &pending)) {
			session_pending_drop(session, at);
		}
	}
	return first;
}
