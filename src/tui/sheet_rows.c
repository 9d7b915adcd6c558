/*
 * The rows of the sheet: which a step has on this call, and how each is
 * written.
 */
#include "tui/sheet_page.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/report/wording.h>

#include "tui/fold.h"

/* The texts and the weather that stand on the first sheet besides its own readings. */
static const enum field call_fields[] = {
	FIELD_CUSTOMER_NAME, FIELD_PHONE, FIELD_EMAIL, FIELD_ADDRESS, FIELD_SYSTEM_NAME,
	FIELD_COMPLAINT,
};
/* What the day and the people need; shown once there is something in it, or on demand. */
static const enum field day_fields[] = {
	FIELD_ACCESS_NOTE, FIELD_ARRIVED_AT, FIELD_AUTHORISED_BY, FIELD_AUTHORISED_AMOUNT,
	FIELD_AUTHORISED_AT, FIELD_TECHNICIAN, FIELD_LICENCE, FIELD_CERTIFICATION, FIELD_JOB_NUMBER,
	FIELD_PLANNED_AT,
};
static const enum reading call_readings[] = {
	READING_OUTDOOR_DB, READING_COMPRESSOR_STATE, READING_FAN_STATE, READING_BLOWER_STATE,
	READING_ALTITUDE,
};

/* ---- What is said ---- */

static void say_kept(struct workbook *workbook, const struct form_line *line, const void *element,
                     void *context)
{
	const struct session *session = workbook_session(workbook);
	const struct sheet *sheet = context;
	enum reading reading = (enum reading)line->which;
	char question[160], asked[WORDING_SIZE];
	struct slip slip;

	const char *doubt = line->is_field ? session_field_doubt(session, (enum field)line->which)
	                                   : NULL;

	if (doubt)
		workbook_say(workbook, INK_QUESTION, "Kept, but %s: is it what you meant?", doubt);
	if (!line->is_measured)
		return;
	const struct visit *visit = &session_call(session)->visit;
	enum stage stage = ((const struct sheet_column *)element)->stage;
	const struct value *value = visit_value(visit, stage, reading);
	reading_doubt(reading, session_units(session), question, sizeof question);
	bool is_slip = slip_find(visit, stage, reading, &slip);
	if (is_slip)
		wording_slip(visit, stage, &slip, session_units(session), asked, sizeof asked);
	if (value->state == VALUE_NOT_TAKEN)
		workbook_say(workbook, INK_KEPT, "not taken; %s brings it back",
		             request_info(REQUEST_UNDO)->key);
	else if (sheet->was_unsafe && !sheet->was_corrected)
		workbook_say(workbook, INK_CAUTION, "Kept. But by the record the unit is not safe now: "
		             "stop, lock out, prove dead, discharge (%s). Noted on the call.%s%s",
		             workbook_step_key(STEP_SAFETY), is_slip ? " And " : "", is_slip ? asked : "");
	else if (sheet->was_untested && value->choice != CHOICE_COMPRESSOR_STATE_SILENT)
		workbook_say(workbook, INK_CAUTION,
		             "Kept. But the windings were not tested to the shell (%s) "
		             "before power came back. If a winding is grounded the shell can be live: "
		             "off, lock out, test.", workbook_step_key(STEP_WINDINGS));
	else if (is_slip)
		workbook_say(workbook, INK_QUESTION, "Kept, but %s", asked);
	else if (sheet->was_unsafe && sheet->was_corrected)
		workbook_say(workbook, INK_QUESTION,
		             "Kept as a correction. To measure it again: stop, lock out, "
		             "prove dead, discharge first (%s).", workbook_step_key(STEP_SAFETY));
	else if (value->doubtful)
		workbook_say(workbook, INK_QUESTION, "Kept, but %s", question);
}

/* ---- Rows ---- */

static void get_nothing(const struct form_line *line, const void *element,
                        struct session *session, char *out, size_t size)
{
	(void)line, (void)element, (void)session;
	text_copy(out, size, "");
}

static void get_reading(const struct form_line *line, const void *element, struct session *session,
                        char *out, size_t size)
{
	const struct sheet_column *column = element;
	enum reading reading = (enum reading)line->which;

	reading_format(reading, visit_value(&session_call(session)->visit, column->stage, reading),
	               session_units(session), VALUE_FORM_SHEET, out, size);
}

static enum status set_reading(const struct form_line *line, void *element, const char *typed,
                               struct session *session, struct error *error)
{
	const struct sheet_column *column = element;

	return session_type(session, column->stage, (enum reading)line->which, typed, error);
}

static void add_field(struct sheet *sheet, enum field field)
{
	sheet->lines[sheet->count] = (struct form_line){
		.label = field_info(field)->label, .help = field_info(field)->help,
		.limit = field_info(field)->size - 1, .is_field = true, .which = (int)field,
		.short_texts = field == FIELD_COMPLAINT ? SHORT_COMPLAINT
		               : field == FIELD_ACCESS_NOTE ? SHORT_OWN : SHORT_NONE,
		.get = form_get_field, .set = form_set_field,
	};
	sheet->rows[sheet->count++] = (struct sheet_row){ .is_field = true, .field = field };
}

static void add_words(struct form_line *line, const struct reading_info *info)
{
	int count = info->kind == KIND_CHOICE ? choice_count(info->choices) : 0;

	for (int i = 0; i < count && i < FORM_MOST_WORDS; i++)
		line->words[i] = choice_label((enum choice)((int)choice_first(info->choices) + i));
	if (info->kind == KIND_YES_NO) {
		line->words[0] = "yes";
		line->words[1] = "no";
	}
}

static void add_reading(struct sheet *sheet, enum reading reading)
{
	const struct reading_info *info = reading_info(reading);

	if (sheet->count == SHEET_MOST_ROWS)
		return;
	struct form_line *line = &sheet->lines[sheet->count];
	*line = (struct form_line){
		.label = info->label, .help = info->help, .limit = VALUE_TEXT_SIZE - 1,
		.which = (int)reading, .is_measured = true, .get = get_reading, .set = set_reading,
	};
	add_words(line, info);
	sheet->rows[sheet->count++] = (struct sheet_row){ .reading = reading };
}

/* The words for what is folded: as many labels as have room. */
static void add_folded(struct sheet *sheet, const char *label)
{
	size_t length = strlen(sheet->folded_names);

	sheet->folded++;
	snprintf(sheet->folded_names + length, sizeof sheet->folded_names - length, "%s%s",
	         length ? ", " : "", label);
	text_trim_broken_utf8(sheet->folded_names);
}

/* The readings of a step, as they apply to this unit. */
static void add_step(const struct session *session, struct sheet *sheet, enum step step, bool all)
{
	const struct visit *visit = &session_call(session)->visit;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		enum reading reading = (enum reading)i;
		/* What was taken stays in sight even where it does not apply any more. */
		bool shown = visit_applies(visit, STAGE_AS_FOUND, reading) ||
		             visit_has(visit, STAGE_AS_FOUND, reading) ||
		             visit_has(visit, STAGE_AS_LEFT, reading);
		if (reading_info(reading)->step != step || !shown)
			continue;
		if (!all && fold_hides(session, reading))
			add_folded(sheet, reading_info(reading)->label);
		else
			add_reading(sheet, reading);
	}
}

static void add_day(const struct session *session, struct sheet *sheet, bool all)
{
	for (size_t i = 0; i < sizeof day_fields / sizeof *day_fields; i++)
		if (all || *session_field(session, day_fields[i]))
			add_field(sheet, day_fields[i]);
		else
			add_folded(sheet, field_info(day_fields[i])->label);
}

static void gather(struct workbook *workbook, struct sheet *sheet, bool all)
{
	enum step step = workbook_step(workbook);

	sheet->count = sheet->folded = 0;
	sheet->folded_names[0] = '\0';
	if (step == STEP_CALL) {
		for (size_t i = 0; i < sizeof call_fields / sizeof *call_fields; i++)
			add_field(sheet, call_fields[i]);
		for (size_t i = 0; i < sizeof call_readings / sizeof *call_readings; i++)
			add_reading(sheet, call_readings[i]);
		add_day(workbook_session(workbook), sheet, all);
	} else {
		add_step(workbook_session(workbook), sheet, step, all);
	}
	if (sheet->folded > 0 && sheet->count < SHEET_MOST_ROWS) {
		sheet->lines[sheet->count] = (struct form_line){ .label = "", .get = get_nothing };
		sheet->rows[sheet->count++] = (struct sheet_row){ .is_fold = true };
	}
}

static bool is_same(const struct sheet_row *one, const struct sheet_row *other)
{
	return one->is_fold == other->is_fold && one->is_field == other->is_field &&
	       one->field == other->field && one->reading == other->reading;
}

int sheet_find_row(const struct sheet *sheet, const struct sheet_row *row)
{
	int at = 0;

	while (at < sheet->count && !is_same(&sheet->rows[at], row))
		at++;
	return at < sheet->count ? at : -1;
}

void sheet_gather(struct workbook *workbook, struct sheet *sheet)
{
	bool writing = sheet->count > 0 && form_is_writing(workbook);
	struct sheet_row row = sheet->rows[writing ? sheet->at : 0];

	gather(workbook, sheet, sheet->is_open);
	/* Nothing is folded where all of it has room. */
	if (sheet->folded > 0 && sheet->count - 1 + sheet->folded <= sheet->room)
		gather(workbook, sheet, true);
	/* What is being written in stays under the cursor, however small the page becomes. */
	if (writing && sheet_find_row(sheet, &row) < 0) {
		sheet->is_open = true;
		gather(workbook, sheet, true);
	}
	if (writing && sheet_find_row(sheet, &row) >= 0)
		sheet->at = sheet_find_row(sheet, &row);
	if (sheet->at >= sheet->count)
		sheet->at = sheet->count - 1;
	sheet->kind = (struct form_kind){ .lines = sheet->lines, .count = sheet->count,
	                                  .size = sizeof(struct sheet_column), .kept = say_kept };
}

bool sheet_is_single(const struct sheet_row *row)
{
	return row->is_field || row->is_fold || reading_info(row->reading)->scope != SCOPE_CALL ||
	       reading_info(row->reading)->step == STEP_SAFETY;
}

enum stage sheet_stage(struct workbook *workbook, const struct sheet_row *row)
{
	return sheet_is_single(row) ? STAGE_AS_FOUND : workbook_stage(workbook);
}

struct form_place sheet_place(struct sheet *sheet, int at, enum stage stage)
{
	static const struct sheet_column columns[STAGE_COUNT] = {
		[STAGE_AS_FOUND] = { STAGE_AS_FOUND }, [STAGE_AS_LEFT] = { STAGE_AS_LEFT },
	};

	return (struct form_place){ .kind = &sheet->kind, .element = &columns[stage],
	                            .line = at, .stage = stage, .context = sheet };
}
