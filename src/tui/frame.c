/*
 * The lines around the steps of a call: title, route, so far.
 */
#include "tui/frame.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

#include "tui/requests.h"

static const struct {
	const char *mark; /* before the step's name */
	unsigned style;   /* of both */
} marks[] = {
	[PROGRESS_UNTOUCHED] = { "·", INK_FAINT },
	[PROGRESS_BEGUN] = { "~", INK_PLAIN },
	[PROGRESS_COMPLETE] = { "✓", INK_GOOD },
};

/* Steps on which leads are touched: the safety mark stands there in full. */
static bool touches_leads(enum step step)
{
	return step == STEP_ELECTRICAL || step == STEP_WINDINGS || step == STEP_AMPS ||
	       step == STEP_SAFETY;
}

/* When the last of the safety answers was given. */
static wall_time time_made_safe(const struct visit *visit)
{
	wall_time last = WALL_TIME_NONE;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->step == STEP_SAFETY) {
			wall_time at = visit_value(visit, STAGE_AS_FOUND, (enum reading)i)->taken_at;
			last = at > last ? at : last;
		}
	return last;
}

/* Adds " · word" or "word". */
static void add_part(struct text *text, const char *word)
{
	if (*word)
		text_add_format(text, "%s%s", text->length ? " · " : "", word);
}

static void describe_machine(const struct visit *visit, struct text *text)
{
	static const enum reading parts[] = {
		READING_NOMINAL_CAPACITY, READING_REFRIGERANT, READING_METERING,
	};
	char shown[VALUE_TEXT_SIZE];

	for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
		reading_format(parts[i], visit_value(visit, STAGE_AS_FOUND, parts[i]), UNITS_US,
		               VALUE_FORM_WITH_UNIT, shown, sizeof shown);
		add_part(text, shown);
	}
}

void frame_draw_title(const struct session *session, struct canvas *canvas, struct area area,
                      enum step step)
{
	const struct call *call = session_call(session);
	char safe[64] = "", hour[CLOCK_TEXT_SIZE];
	struct text title;

	text_init(&title);
	add_part(&title, call->customer.name[0] ? call->customer.name : "new customer");
	add_part(&title, call->site.address);
	describe_machine(&call->visit, &title);
	bool made_safe = visit_is_made_safe(&call->visit);
	clock_format_hour(time_made_safe(&call->visit), hour, sizeof hour);
	if (made_safe || touches_leads(step))
		snprintf(safe, sizeof safe, made_safe ? " made safe %s " : " not recorded as safe ", hour);
	int width = canvas_width_of(canvas, safe);
	canvas_fill(canvas, area, INK_TITLE | STYLE_REVERSE, ' ');
	canvas_put(canvas, area_columns(area, 0, area.columns - width - 1), 0, 1,
	           INK_TITLE | STYLE_REVERSE, text_get(&title));
	canvas_put(canvas, area, 0, area.columns - width,
	           made_safe ? INK_GOOD | STYLE_REVERSE : INK_CAUTION | STYLE_REVERSE, safe);
	text_done(&title);
}

void frame_draw_route(const struct session *session, struct canvas *canvas, struct area area,
                      enum step step)
{
	bool roomy = area.columns >= 120;
	int column = 0;

	for (int i = 0; i < STEP_COUNT; i++) {
		enum progress progress = session_progress(session, (enum step)i);
		unsigned style = marks[progress].style | (i == (int)step ? STYLE_REVERSE : 0);
		const char *key = request_info((enum request)(REQUEST_STEP_1 + i))->key;
		if (roomy)
			column = canvas_format(canvas, area, 0, column, INK_KEY, "%s", key);
		column = canvas_format(canvas, area, 0, column, style, "%s%s", marks[progress].mark,
		                       step_info((enum step)i)->brief) + 1;
	}
}

/* "run capacitor failed 94 %": at most so many of the leading findings. */
static void add_suspicions(const struct diagnosis *diagnosis, int most, struct text *text)
{
	int shown = 0;

	for (int i = 0; i < diagnosis->finding_count && shown < most; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		/* A few per cent are no suspicion. */
		if (finding->probability < (i > 0 ? 0.3 : 0.1))
			break;
		text_add_format(text, "%s%s %.0f %%", shown ? ", " : "", fault_info(finding->fault)->label,
		                100 * finding->probability);
		shown++;
	}
	if (diagnosis->contradiction_count > 0)
		text_add_format(text, "%sreadings contradict each other", shown ? "; " : "");
	else if (shown == 0)
		text_add(text, diagnosis->healthy > 0.8 ? "nothing points to a fault" : "too little is known yet");
}

void frame_draw_so_far(const struct session *session, struct canvas *canvas, struct area area)
{
	enum stage stage = session_stage(session);
	const struct diagnosis *diagnosis = session_diagnosis(session, stage);
	const char *head = stage == STAGE_AS_LEFT ? "as left: " : "so far: ";
	struct text text, next;

	text_init(&text);
	text_init(&next);
	add_suspicions(diagnosis, 2, &text);
	if (diagnosis->next_check_count > 0)
		text_add_format(&next, " · would tell most: %s",
		                reading_info(diagnosis->next_checks[0].reading)->label);
	/* What to read next is worth more than a second suspicion. */
	if (canvas_width_of(canvas, head) + canvas_width_of(canvas, text_get(&text)) +
	    canvas_width_of(canvas, text_get(&next)) >= area.columns) {
		text_clear(&text);
		add_suspicions(diagnosis, 1, &text);
	}
	canvas_fill(canvas, area, INK_PLAIN | STYLE_REVERSE, ' ');
	int column = canvas_put(canvas, area, 0, 1, INK_PLAIN | STYLE_REVERSE, head);
	column = canvas_put(canvas, area, 0, column, INK_STRONG | STYLE_REVERSE, text_get(&text));
	canvas_put(canvas, area, 0, column, INK_PLAIN | STYLE_REVERSE, text_get(&next));
	text_done(&text);
	text_done(&next);
}
