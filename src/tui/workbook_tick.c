/*
 * What changes without a key: another program writes in the book, and what
 * could not be kept is tried again.
 */
#include "tui/workbook_parts.h"

/*
 * Milliseconds between two tries, and between two looks where no one tells us that files changed.
 */
enum { RETRY_MS = 1000, LOOK_MS = 2000 };

/* Looks after something was written, each later than the one before: a drive may be slow. */
enum { FIRST_LOOK_MS = 25, LAST_LOOK_MS = 1600 };

/* ---- Another program ---- */

/* The pages of a call look at the session anew; lists of the book too. */
static void show_anew(struct workbook *workbook)
{
	const struct screen *screen = workbook_screen(workbook);

	if (screen->enter)
		screen->enter(workbook, workbook_state(workbook));
}

void workbook_look(struct workbook *workbook)
{
	struct error error;
	bool changed = false;

	if (workbook->screen == SCREEN_BOOK) {
		if (session_other_wrote(workbook->session))
			show_anew(workbook);
		return;
	}
	if (session_refresh(workbook->session, &changed, &error) != STATUS_OK) {
		workbook_refuse(workbook, &error);
		return;
	}
	if (!changed)
		return;
	workbook_say(workbook, INK_QUESTION, "Another program changed this call; the page shows what "
	             "is in the book now.");
	if (workbook_has_frame(workbook))
		show_anew(workbook);
}

/* ---- Trying again ---- */

static void retry(struct workbook *workbook)
{
	struct session *session = workbook->session;
	size_t before = session_pending_count(session);
	const char *label = NULL;
	struct error error;

	enum status status = session_retry(session, &error);
	if (status == STATUS_OK || !session_may_keep_later(status))
		form_retry(workbook, &label);
	if (session_pending_count(session) >= before)
		return;
	if (workbook_has_frame(workbook))
		show_anew(workbook);
	if (session_is_waiting(session))
		return;
	if (label)
		workbook_say(workbook, INK_KEPT, "Kept now: %s", label);
	else
		workbook_say(workbook, INK_KEPT, "Kept now.");
}

void workbook_note_writing(struct workbook *workbook)
{
	workbook->look_ms = FIRST_LOOK_MS / 2;
}

void workbook_tick(struct workbook *workbook)
{
	struct error error;

	if (workbook->look_ms > 0)
		workbook->look_ms = workbook->look_ms < LAST_LOOK_MS ? 2 * workbook->look_ms : 0;

	workbook_look(workbook);
	workbook_look_office(workbook);
	if (session_is_waiting(workbook->session))
		retry(workbook);
	if (session_is_spool_due(workbook->session) &&
	    session_spool(workbook->session, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
}

void workbook_set_watched(struct workbook *workbook)
{
	workbook->is_watched = true;
}

static int sooner(int a, int b)
{
	return a < 0 || (b >= 0 && b < a) ? b : a;
}

int workbook_wait(const struct workbook *workbook)
{
	const struct call *call = session_call(workbook->session);
	/* What the charge log waits for counts down on the page. */
	bool counts_down = workbook_is_on_call(workbook) && call->charge_count > 0;
	int wait = workbook->timer != TIMER_OFF ? 1000 : counts_down ? 10000 : -1;

	if (!workbook->is_watched)
		wait = sooner(wait, LOOK_MS);
	if (workbook->look_ms > 0)
		wait = sooner(wait, workbook->look_ms);
	if (session_is_waiting(workbook->session))
		wait = sooner(wait, RETRY_MS);
	wait = sooner(wait, workbook_office_wait(workbook));
	/* Drawn first, then written into the file. */
	return session_is_spool_due(workbook->session) ? 0 : wait;
}
