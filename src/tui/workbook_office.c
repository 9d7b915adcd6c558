/*
 * The office from the workbook: met by a key, or by itself when there is
 * something to send; one quiet line says how the book stands.
 */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

#include "tui/workbook_parts.h"

/* Seconds between two meetings when there is something to send, and when there is not. */
enum { SOON = 5 * 60, LATER = 15 * 60 };
enum { LOOK_MS = 200 };

static bool read_office(const struct workbook *workbook, struct session_office *office)
{
	struct error ignored;

	return session_office(workbook->session, office, &ignored) == STATUS_OK && office->is_named;
}

static wall_time next_meeting(struct workbook *workbook)
{
	struct session_office office;

	if (!workbook->program || !read_office(workbook, &office))
		return WALL_TIME_NONE;
	return workbook->tried_at + (office.waiting > 0 ? SOON : LATER);
}

void workbook_set_program(struct workbook *workbook, const char *program)
{
	struct session_office office;

	workbook->program = program;
	workbook->meet_at = read_office(workbook, &office) ? session_now(workbook->session)
	                                                   : WALL_TIME_NONE;
}

static bool begin(struct workbook *workbook, bool is_asked)
{
	workbook->is_asked = is_asked;
	workbook->has_failed = false;
	workbook->tried_at = session_now(workbook->session);
	return meeting_begin(&workbook->meeting, workbook->program, session_path(workbook->session));
}

void workbook_meet(struct workbook *workbook)
{
	struct session_office office;

	if (!read_office(workbook, &office) && !office.is_built)
		workbook_say(workbook, INK_REFUSED, "This padside was built without libpq and cannot meet "
		             "an office; build it again with libpq installed.");
	else if (!office.is_named)
		workbook_say(workbook, INK_REFUSED, "No office is named. Set it once: padside settings "
		             "sync=postgresql://ROLE@HOST/FIRM");
	else if (workbook->meeting.process != 0)
		workbook_say(workbook, INK_MARGIN, "Meeting the office.");
	else if (!workbook->program || !begin(workbook, true))
		workbook_say(workbook, INK_REFUSED,
		             "The office cannot be met from here: run padside sync.");
	else
		workbook_say(workbook, INK_MARGIN, "Meeting the office; keep working.");
}

/* What was asked for is told; what came by itself stands in the quiet line only. */
static void end(struct workbook *workbook, bool is_met)
{
	workbook->has_failed = !is_met;
	workbook->meet_at = next_meeting(workbook);
	if (!workbook->is_asked)
		return;
	workbook_say(workbook, is_met ? INK_KEPT : INK_REFUSED, "%s%s", is_met ? "The office was met: "
	             : "The office was not met: ", workbook->meeting.said);
}

void workbook_look_office(struct workbook *workbook)
{
	enum meeting_state state = meeting_look(&workbook->meeting);

	if (state == MEETING_MET || state == MEETING_FAILED)
		end(workbook, state == MEETING_MET);
	if (state != MEETING_NONE || workbook->meet_at == WALL_TIME_NONE ||
	    session_now(workbook->session) < workbook->meet_at)
		return;
	workbook->meet_at = WALL_TIME_NONE;
	if (!begin(workbook, false))
		end(workbook, false);
}

int workbook_office_wait(const struct workbook *workbook)
{
	if (workbook->meeting.process != 0)
		return LOOK_MS;
	if (workbook->meet_at == WALL_TIME_NONE)
		return -1;
	wall_time left = workbook->meet_at - session_now(workbook->session);
	return left > 0 ? (int)left * 1000 : 0;
}

/* "17:40" of today, else the day. */
static void format_when(const struct workbook *workbook, wall_time time, char *out, size_t size)
{
	char today[CLOCK_TEXT_SIZE], day[CLOCK_TEXT_SIZE];

	clock_format_date(session_now(workbook->session), today, sizeof today);
	clock_format_date(time, day, sizeof day);
	if (strcmp(today, day) == 0)
		clock_format_hour(time, out, size);
	else
		text_copy(out, size, day);
}

void workbook_office_words(const struct workbook *workbook, char *out, size_t size)
{
	char when[CLOCK_TEXT_SIZE] = "", sent[64] = "all sent";
	struct session_office office;

	text_copy(out, size, "");
	if (!read_office(workbook, &office))
		return;
	if (office.waiting > 0)
		snprintf(sent, sizeof sent, "%" PRId64 " change%s to send", office.waiting,
		         office.waiting == 1 ? "" : "s");
	if (workbook->meeting.process != 0) {
		snprintf(out, size, "%s; meeting the office", sent);
		return;
	}
	format_when(workbook, workbook->has_failed ? workbook->tried_at : office.met_at, when,
	            sizeof when);
	if (workbook->has_failed)
		snprintf(out, size, "%s; office not reached %s", sent, when);
	else if (office.met_at == WALL_TIME_NONE)
		snprintf(out, size, "%s; office never met", sent);
	else
		snprintf(out, size, "%s; last met %s", sent, when);
}
