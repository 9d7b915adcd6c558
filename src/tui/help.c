/*
 * Help: the reading under the cursor and the cautions of its step, then the keys, from their table,
 * then every caution.
 */
#include <padside/base/quantities.h>
#include <padside/base/text.h>

#include "tui/form.h"
#include "tui/pager.h"
#include "tui/workbook.h"

struct help {
	struct text text;   /* the whole page */
	struct pager pager; /* on it */
};

static void add_line(struct text *text, enum request request)
{
	enum { KEYS_COLUMNS = 22 };
	size_t before = text->length;

	text_add(text, "  ");
	request_add_keys(request, true, ", ", text);
	text_pad(text, ' ', KEYS_COLUMNS - text_columns(text_get(text) + before));
	text_add_format(text, " \t%s\n", request_info(request)->help);
}

static void add_keys(struct text *text, enum request_place place)
{
	text_add_format(text, "%s%s\n", text->length > 0 ? "\n" : "", request_place_title(place));
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++)
		if (request_info((enum request)i)->place == place && request_begins_line((enum request)i))
			add_line(text, (enum request)i);
}

static bool is_around(enum request_place place, enum request_place here)
{
	while (here < PLACE_COUNT && here != place)
		here = request_place_around(here);
	return here == place;
}

/* Where help was asked for comes first, with the places around it; then the others. */
static void add_places(struct text *text, enum request_place here)
{
	for (enum request_place place = here; place < PLACE_COUNT; place = request_place_around(place))
		add_keys(text, place);
	for (int place = 0; place < PLACE_COUNT; place++)
		if (!is_around((enum request_place)place, here))
			add_keys(text, (enum request_place)place);
}

static void add_cautions_of(struct text *text, const struct visit *visit, enum step step)
{
	enum condition condition;
	const char *caution;

	for (int i = 0; (caution = step_caution(step, i, &condition)) != NULL; i++)
		if (!visit || visit_condition_holds(visit, STAGE_AS_FOUND, condition))
			text_add_format(text, "  %s\n", caution);
}

static void add_cautions(struct text *text, const struct visit *visit)
{
	enum condition condition;

	for (int step = 0; step < STEP_COUNT; step++) {
		if (!step_caution((enum step)step, 0, &condition))
			continue;
		text_add_format(text, "\nCautions: %s\n", step_info((enum step)step)->label);
		add_cautions_of(text, visit, (enum step)step);
	}
}

/* What had no room on the sheet. */
static void add_step(struct workbook *workbook, struct text *text, const struct visit *visit)
{
	enum step step = workbook_step(workbook);

	enum condition condition;

	if (!visit || !is_around(PLACE_SHEET, workbook_place_before(workbook)) ||
	    !step_caution(step, 0, &condition))
		return;
	text_add_format(text, "%sCautions: %s\n", text->length > 0 ? "\n" : "", step_info(step)->label);
	add_cautions_of(text, visit, step);
}

/*
 * The field under the cursor: how it is taken, what it may say; what a reading should be and tells.
 */
static void add_field(struct workbook *workbook, struct text *text)
{
	enum reading reading = workbook_here(workbook);
	char tells[QUANTITIES_SIZE];

	form_add_help(workbook, text);
	if (reading == READING_NONE || !reading_info(reading)->tells)
		return;
	quantities_write(reading_info(reading)->tells, session_units(workbook_session(workbook)), tells,
	                 sizeof tells);
	text_add_format(text, "  %s\n", tells);
}

static void enter(struct workbook *workbook, void *state)
{
	struct help *help = state;
	const struct call *call = session_call(workbook_session(workbook));
	const struct visit *visit = call ? &call->visit : NULL;

	text_clear(&help->text);
	add_field(workbook, &help->text);
	add_step(workbook, &help->text, visit);
	add_places(&help->text, workbook_place_before(workbook));
	text_add_format(&help->text,
	                "\nWhat may be typed\n"
	                "  A number, with a unit behind it if you like: 118, 4.1 bar, 12 C, "
	                "230v; of a pipe 7/8.\n"
	                "  Pressures of the circuit are gauge pressures: %s.\n",
	                session_units(workbook_session(workbook)) == UNITS_SI ? "kPa above the air's"
	                                                                      : "psig");
	text_add(&help->text,
	         "  OL on a resistance: over limit, an open circuit. "
	         "The start of a word: fix, TXV, y, n.\n"
	         "  An empty field is a reading not taken. It is never zero.\n"
	         "  The time beside a value is when it was kept. There is no key to save.\n"
	         "  \"! not kept\", or \"!\": refused, it does not count. Type it again, or edit it.\n"
	         "  Marks on the steps: · nothing yet, ~ begun, ✓ complete for this unit.\n"
	         "  A ? behind a value: unusual. Check the meter.\n"
	         "  A * behind a time: read before the unit had settled. Read it again.\n");
	add_cautions(&help->text, visit);
	text_add(&help->text,
	         "\n  The maker's instructions, the local code and your licence come first. "
	         "padside advises; it does not authorise.\n");
	pager_open(&help->pager, text_get(&help->text));
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct help *help = state;

	pager_draw(&help->pager, workbook_canvas(workbook),
	           area_part(area, 0, 1, area.rows, area.columns - 2), INK_PLAIN);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct help *help = state;

	switch (request) {
	case REQUEST_HELP_BACK:
		workbook_go_back(workbook);
		return true;
	default:
		return pager_key(&help->pager, key);
	}
}

static void done(void *state)
{
	text_done(&((struct help *)state)->text);
}

const struct screen screen_help = {
	.place = PLACE_HELP, .state_size = sizeof(struct help),
	.enter = enter, .draw = draw, .press = press, .done = done,
};
