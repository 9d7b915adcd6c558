/*
 * The tightness log: nitrogen pressure over time, vacuum over time, refrigerant
 * weighed in.
 */
#include <ctype.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/calc/tightness.h>
#include <padside/model/tightness.h>
#include <padside/report/wording.h>

#include "tui/log_page.h"

enum { NUMBER_LIMIT = 24 };

enum {
	LINE_KIND, LINE_AT, LINE_PRESSURE, LINE_TEMPERATURE, LINE_MICRONS, LINE_AMOUNT, LINE_CYLINDER,
	LINE_NOTE, LINE_COUNT
};

/* ---- Lines ---- */

static void get_kind(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	(void)session;
	text_copy(out, size, line->words[((const struct tightness_entry *)element)->kind]);
}

static enum status set_kind(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	(void)session;
	if (status == STATUS_OK)
		((struct tightness_entry *)element)->kind = (enum tightness_kind)word;
	return status;
}

static void get_at(const struct form_line *line, const void *element, struct session *session,
                   char *out, size_t size)
{
	(void)line, (void)session;
	form_write_time(((const struct tightness_entry *)element)->at, out, size);
}

static enum status set_at(const struct form_line *line, void *element, const char *typed,
                          struct session *session, struct error *error)
{
	return form_read_time(line, typed, session_now(session),
	                      &((struct tightness_entry *)element)->at, error);
}

/* What each measured line holds, in which unit, and how far it can be. */
static const struct measured_line {
	size_t offset;
	enum unit unit;
	int decimals;
	struct range possible; /* in that unit; outside: refused */
	const char *example;   /* told where no number was typed */
} measures[LINE_COUNT] = {
	[LINE_PRESSURE] = { offsetof(struct tightness_entry, pressure), UNIT_PSIG, 1,
	                    { -14.7, 1000 }, "a pressure like {150 PSIG}" },
	[LINE_TEMPERATURE] = { offsetof(struct tightness_entry, temperature), UNIT_F, 1,
	                       { -60, 200 }, "a temperature like {75 F}" },
	[LINE_MICRONS] = { offsetof(struct tightness_entry, microns), UNIT_NONE, 0,
	                   { 0, 800000 }, "microns as a number like 480" },
	[LINE_AMOUNT] = { offsetof(struct tightness_entry, amount), UNIT_OZ, 1,
	                  { 0, 3000 }, "an amount like {96 OZ}" },
};

static void get_measured(const struct form_line *line, const void *element,
                         struct session *session, char *out, size_t size)
{
	const struct measured_line *measure = &measures[line->which];
	struct value value;

	memcpy(&value, (const char *)element + measure->offset, sizeof value);
	out[0] = '\0';
	if (value.state == VALUE_TAKEN)
		form_write_measure(value.number, measure->unit, measure->decimals, session, out, size);
}

static enum status set_measured(const struct form_line *line, void *element, const char *typed,
                                struct session *session, struct error *error)
{
	const struct measured_line *measure = &measures[line->which];
	struct value value = { .state = VALUE_NOT_TAKEN, .taken_at = WALL_TIME_NONE };
	double number = 0;

	if (*typed && !form_read_measure(typed, measure->unit, session, &number))
		return form_refuse_number(line, measure->example, session, error);
	if (*typed && (number < measure->possible.low || number > measure->possible.high))
		return form_refuse_range(line, measure->possible, measure->unit, session, error);
	if (*typed) {
		value.state = VALUE_TAKEN;
		value.number = number;
		value.taken_at = session_now(session);
	}
	memcpy((char *)element + measure->offset, &value, sizeof value);
	return STATUS_OK;
}

static char *text_of(struct tightness_entry *entry, int which, size_t *size)
{
	*size = which == LINE_CYLINDER ? sizeof entry->cylinder : sizeof entry->note;
	return which == LINE_CYLINDER ? entry->cylinder : entry->note;
}

static void get_text(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	struct tightness_entry entry = *(const struct tightness_entry *)element;
	size_t most;

	(void)session;
	text_copy(out, size, text_of(&entry, line->which, &most));
}

static enum status set_text(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	size_t most;
	char *text = text_of(element, line->which, &most);

	(void)session;
	return form_read_text(line, typed, text, most, error);
}

/* An entry without a time is of now. */
static enum status keep_entry(struct session *session, const void *element, void *context,
                              struct error *error)
{
	struct tightness_entry entry = *(const struct tightness_entry *)element;

	(void)context;
	if (entry.at == WALL_TIME_NONE)
		entry.at = session_now(session);
	return session_put(session, LIST_TIGHTNESS, &entry, error);
}

/* Which kind of line each measured field is of. */
static bool has(const void *element, int line)
{
	enum tightness_kind kind = ((const struct tightness_entry *)element)->kind;

	switch (line) {
	case LINE_PRESSURE:
	case LINE_TEMPERATURE:
		return kind == TIGHTNESS_NITROGEN;
	case LINE_MICRONS:
		return kind == TIGHTNESS_VACUUM;
	case LINE_AMOUNT:
	case LINE_CYLINDER:
		return kind == TIGHTNESS_WEIGH_IN;
	default:
		return true;
	}
}

/* A number in a field that the kind of line does not have. */
static void question_field(struct workbook *workbook, const struct form_line *line,
                           const struct tightness_entry *entry)
{
	static const char *const kinds[TIGHTNESS_KIND_COUNT] = {
		[TIGHTNESS_NITROGEN] = "nitrogen", [TIGHTNESS_VACUUM] = "a vacuum",
		[TIGHTNESS_WEIGH_IN] = "a weigh-in",
	};
	char typed[NUMBER_LIMIT + 1];

	line->get(line, entry, workbook_session(workbook), typed, sizeof typed);
	if (*typed)
		workbook_say(workbook, INK_QUESTION, "Kept, but %s takes no %s: does it belong in another "
		             "field?",
		             kinds[entry->kind], line->which == LINE_AMOUNT ? "amount" : line->label);
}

static void question_amount(struct workbook *workbook, const struct tightness_entry *entry)
{
	const struct session *session = workbook_session(workbook);
	const struct call *call = session_call(session);
	char words[WORDING_SIZE];

	wording_over_full(call, session_units(session), words, sizeof words);
	if (*words) {
		workbook_say(workbook, INK_CAUTION, "Kept, but %s.", words);
	} else if (!tightness_is_evacuated_before(call, entry)) {
		workbook_say(workbook, INK_QUESTION,
		             "Kept, but no vacuum is on record that held before charging.");
	}
}

/* Kept, but asked about: of another field, more than a low side bears, charged without a vacuum. */
static void question_entry(struct workbook *workbook, const struct form_line *line,
                           const void *element, void *context)
{
	const struct tightness_entry *entry = element;

	(void)context;
	if (!has(entry, line->which))
		question_field(workbook, line, entry);
	else if (line->which == LINE_PRESSURE && entry->pressure.state == VALUE_TAKEN &&
	         entry->pressure.number > TIGHTNESS_LOW_SIDE_PSIG)
		workbook_say(workbook, INK_QUESTION,
		             "Kept, but above most low-side test pressures: read the "
		             "nameplate before you go on.");
	else if (line->which == LINE_AMOUNT && entry->amount.state == VALUE_TAKEN)
		question_amount(workbook, entry);
}

#define MEASURED(label_, help_, line) \
	{ .label = label_, .help = help_, .limit = NUMBER_LIMIT, .is_number = true, .which = line, \
	  .get = get_measured, .set = set_measured }

static const struct form_line lines[LINE_COUNT] = {
	[LINE_KIND] = { .label = "what", .help = "what was tested, or a weighed charge.",
	                .words = { "nitrogen", "vacuum", "weigh-in" }, .limit = NUMBER_LIMIT,
	                .which = LINE_KIND, .get = get_kind, .set = set_kind },
	[LINE_AT] = { .label = "time", .help = "10:35, or now; the first thing typed in "
	                                       "a line sets it to now",
	              .limit = NUMBER_LIMIT, .which = LINE_AT, .get = get_at, .set = set_at },
	[LINE_PRESSURE] = MEASURED("pressure",
	                           "dry nitrogen through a regulator, never above the low-side "
	                           "test pressure of the nameplate", LINE_PRESSURE),
	[LINE_TEMPERATURE] = MEASURED("temperature",
	                              "of the gas: at the pipe, or outdoors; pressure is "
	                              "corrected for it", LINE_TEMPERATURE),
	[LINE_MICRONS] = MEASURED("microns", "by an electronic gauge at the system, pump valved off",
	                          LINE_MICRONS),
	[LINE_AMOUNT] = MEASURED("weighed in", "by the scale", LINE_AMOUNT),
	[LINE_CYLINDER] = { .label = "cylinder", .help = "its label, for the refrigerant ledger",
	                    .limit = CYLINDER_SIZE - 1, .which = LINE_CYLINDER, .get = get_text,
	                    .set = set_text },
	[LINE_NOTE] = { .label = "note", .help = "what was done in between", .short_texts = SHORT_OWN,
	                .limit = LINE_SIZE - 1, .which = LINE_NOTE, .get = get_text, .set = set_text },
};

static const struct form_kind entry_kind = {
	.name = "tightness", .home = FORM_HOME_LIST, .list = LIST_TIGHTNESS,
	.lines = lines, .count = LINE_COUNT, .size = sizeof(struct tightness_entry), .keep = keep_entry,
	.kept = question_entry,
};

/* The kind goes on from line to line: pressure after pressure, vacuum after vacuum. */
static void begin(const struct call *call, void *element)
{
	if (call->tightness_count > 0)
		((struct tightness_entry *)element)->kind = call->tightness[call->tightness_count - 1].kind;
}

static const char *note_of(const void *element)
{
	return ((const struct tightness_entry *)element)->note;
}

/* ---- Words ---- */

/* One kind's words as a sentence. */
static void add_sentence(struct text *text, char *words)
{
	if (*words)
		text_add_format(text, "%s%c%s.", text->length ? " " : "", toupper((unsigned char)words[0]),
		                words + 1);
}

static void draw_words(struct workbook *workbook, const void *element, struct area area)
{
	const struct session *session = workbook_session(workbook);
	struct tightness_told tightness;
	char words[WORDING_SIZE];
	struct text text;

	(void)element;
	text_init(&text);
	tightness_work_out(session_call(session), &tightness);
	wording_nitrogen(&tightness, session_units(session), words, sizeof words);
	add_sentence(&text, words);
	wording_vacuum(&tightness, words, sizeof words);
	add_sentence(&text, words);
	canvas_wrap(workbook_canvas(workbook), area, 0, 1,
	            tightness_did_not_hold(&tightness) ? INK_BAD : INK_MARGIN, text_get(&text));
	text_done(&text);
}

/* ---- The page ---- */

static const struct log_kind tightness_log = {
	.form = &entry_kind, .title = "Tightness and vacuum", .last = "note", .foot = 5,
	.columns = {
		[LINE_KIND] = { .head = "what", .width = 9 }, [LINE_AT] = { .head = "time", .width = 6 },
		[LINE_PRESSURE] = { "press.", 11, UNIT_PSIG }, [LINE_TEMPERATURE] = { "temp.", 8, UNIT_F },
		[LINE_MICRONS] = { .head = "microns", .width = 8 },
		[LINE_AMOUNT] = { "weigh-in", 11, UNIT_OZ },
		[LINE_CYLINDER] = { .head = "cylinder", .width = 8 },
	},
	.caution = "Dry nitrogen through a regulator only, never oxygen or air. No power and no "
	           "insulation test on a compressor in vacuum.",
	.a_line = "line",
	.begin = begin, .has = has, .behind = note_of, .draw_words = draw_words,
};

static void enter(struct workbook *workbook, void *state)
{
	log_page_enter(workbook, &tightness_log, state);
}

static enum request_place inner(struct workbook *workbook, void *state)
{
	return log_page_inner(workbook, &tightness_log, state);
}

static void leave(struct workbook *workbook, void *state)
{
	log_page_leave(workbook, &tightness_log, state);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	return log_page_press(workbook, &tightness_log, state, request, key);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	log_page_draw(workbook, &tightness_log, state, area);
}

const struct screen screen_tightness = {
	.place = PLACE_LOG, .state_size = sizeof(struct log_page), .inner = inner,
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
