/*
 * Help: the keys, from their table, and every caution of the step.
 */
#include <padside/base/text.h>

#include "tui/pager.h"
#include "tui/workbook.h"

struct help {
	struct text text;   /* the whole page */
	struct pager pager; /* on it */
};

/* The order in which the page tells of the keys. */
static const struct {
	enum request_place place; /* where they are pressed */
	const char *title;        /* above them */
} places[] = {
	{ PLACE_ANY, "Keys everywhere" },
	{ PLACE_CALL, "On a call" },
	{ PLACE_SHEET, "On a sheet of readings" },
	{ PLACE_FINDINGS, "On the findings" },
	{ PLACE_CHOICES, "On the choices" },
	{ PLACE_WORK, "On the work done" },
	{ PLACE_PAPER, "On the paper" },
	{ PLACE_BOOK, "In the book" },
	{ PLACE_CUSTOMER, "On a customer's page" },
	{ PLACE_HISTORY, "On a machine's history" },
};

static void add_keys(struct text *text, enum request_place place)
{
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++) {
		const struct request_info *info = request_info((enum request)i);
		if (info->place != place)
			continue;
		text_add_format(text, "  %s%s%s", info->key, *info->other ? ", " : "", info->other);
		int used = text_columns(info->key) + (*info->other ? 2 : 0) + text_columns(info->other);
		text_pad(text, ' ', 20 - used);
		text_add_format(text, "%s\n", info->help);
	}
}

/* Where help was asked for comes first. */
static void add_places(struct text *text, enum request_place here)
{
	for (int first = 1; first >= 0; first--)
		for (size_t i = 0; i < sizeof places / sizeof *places; i++)
			if ((places[i].place == here) == (first == 1)) {
				text_add_format(text, "%s%s\n", text->length > 0 ? "\n" : "", places[i].title);
				add_keys(text, places[i].place);
			}
}

static void add_cautions(struct text *text, const struct visit *visit)
{
	enum condition condition;
	const char *caution;

	for (int step = 0; step < STEP_COUNT; step++)
		for (int i = 0; (caution = step_caution((enum step)step, i, &condition)) != NULL; i++)
			if (!visit || visit_condition_holds(visit, STAGE_AS_FOUND, condition))
				text_add_format(text, "  %s: %s\n", step_info((enum step)step)->label, caution);
}

static void enter(struct workbook *workbook, void *state)
{
	struct help *help = state;
	const struct call *call = session_call(workbook_session(workbook));

	text_clear(&help->text);
	add_places(&help->text, workbook_place_before(workbook));
	text_add(&help->text, "\nWhat may be typed\n"
	         "  A number, with a unit behind it if you like: 118, 4.1 bar, 12 C, 230v, 7/8, 1-1/8.\n"
	         "  OL on a resistance: over limit, an open circuit. The start of a word: fix, TXV, y, n.\n"
	         "  An empty field is a reading not taken; it is never zero.\n"
	         "  The time beside a value says when it was kept. There is no key to save.\n"
	         "  Marks on the route: · untouched, ~ begun, ✓ complete for this machine.\n"
	         "  A ? behind a value: outside of what is usual; check the meter.\n"
	         "\nCautions\n");
	add_cautions(&help->text, call ? &call->visit : NULL);
	text_add(&help->text, "  The equipment's own instructions, the local code and your licence come first: "
	         "this book advises, it does not authorise.\n");
	pager_open(&help->pager, text_get(&help->text));
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct help *help = state;

	pager_draw(&help->pager, workbook_canvas(workbook), area_part(area, 0, 1, area.rows, area.columns - 2),
	           INK_PLAIN);
	workbook_hint(workbook, "Esc goes back. Up, Down, PgUp, PgDn read on.");
}

static bool press(struct workbook *workbook, void *state, struct key key)
{
	struct help *help = state;

	if (pager_key(&help->pager, key))
		return true;
	if (key.press != PRESS_ESCAPE && key.press != PRESS_ENTER)
		return false;
	workbook_go_back(workbook);
	return true;
}

static void done(void *state)
{
	text_done(&((struct help *)state)->text);
}

const struct screen screen_help = {
	.place = PLACE_ANY, .state_size = sizeof(struct help),
	.enter = enter, .draw = draw, .press = press, .done = done,
};
