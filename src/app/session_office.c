/*
 * How the book stands to the firm's office.
 */
#include <padside/app/settings.h>
#include <padside/store/sync.h>

#include "app/session_parts.h"

enum status session_office(struct session *session, struct session_office *office,
                           struct error *error)
{
	char address[SETTING_SIZE];
	struct sync_state state;
	enum status status = setting_get(session->store, SETTING_SYNC, address, sizeof address, error);

	*office = (struct session_office){ .is_built = sync_is_built(), .met_at = WALL_TIME_NONE };
	if (status != STATUS_OK || !*address || !office->is_built)
		return status;
	status = store_sync_state(session->store, &state, error);
	if (status != STATUS_OK)
		return status;
	office->is_named = true;
	office->waiting = state.waiting;
	office->met_at = state.met_at;
	return STATUS_OK;
}
