/*
 * What was taken out of the book, to be brought back.
 */
#include <stdlib.h>

#include <padside/app/session_find.h>
#include <padside/base/text.h>

#include "tui/list.h"
#include "tui/local.h"
#include "tui/workbook.h"

enum { MOST_ROWS = 400, KIND_COLUMNS = 10, DATE_COLUMNS = 12, NAME_COLUMNS = 26 };

/* One thing that was taken out. */
struct removed_row {
	enum store_kind kind;      /* what it is */
	struct store_removed what; /* and which */
};

struct removed_page {
	struct list list;                   /* on the rows */
	struct removed_row rows[MOST_ROWS]; /* calls first, then those without one */
	int count;                          /* of them */
};

static const char *const kind_words[] = {
	[STORE_CUSTOMER] = "customer", [STORE_SITE] = "address", [STORE_SYSTEM] = "unit",
	[STORE_CALL] = "call",
};

static void gather(struct workbook *workbook, struct removed_page *page)
{
	static const enum store_kind order[] = { STORE_CALL, STORE_CUSTOMER, STORE_SITE, STORE_SYSTEM };

	page->count = 0;
	for (size_t k = 0; k < sizeof order / sizeof *order; k++) {
		struct store_removed *list;
		struct error error;
		size_t count;
		if (session_removed(workbook_session(workbook), order[k], &list, &count, &error) !=
		    STATUS_OK)
			workbook_refuse(workbook, &error);
		for (size_t i = 0; i < count && page->count < MOST_ROWS; i++)
			page->rows[page->count++] = (struct removed_row){ order[k], list[i] };
		free(list);
	}
	list_set_count(&page->list, page->count);
}

static void enter(struct workbook *workbook, void *state)
{
	struct removed_page *page = state;

	list_init(&page->list, false);
	gather(workbook, page);
}

static void bring_back(struct workbook *workbook, struct removed_page *page)
{
	int chosen = list_chosen(&page->list);
	struct error error;

	if (chosen < 0)
		return;
	const struct removed_row row = page->rows[chosen];
	if (session_bring_back(workbook_session(workbook), &row.what.uid, &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "brought back: the %s %s", kind_words[row.kind],
		             row.kind == STORE_CALL ? row.what.customer : row.what.words);
	else
		workbook_refuse(workbook, &error);
	gather(workbook, page);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct removed_page *page = state;

	switch (request) {
	case REQUEST_REMOVED_BACK:
		workbook_go_back(workbook);
		return true;
	case REQUEST_REMOVED_BRING:
		bring_back(workbook, page);
		return true;
	default:
		return list_key(&page->list, key) != LIST_IGNORED;
	}
}

static void draw_row(struct canvas *canvas, struct area area, int row, unsigned style,
                     const struct removed_row *line)
{
	char date[CLOCK_TEXT_SIZE] = "";

	if (line->what.opened_at != WALL_TIME_NONE)
		local_date(line->what.opened_at, date, sizeof date);
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	int column = canvas_put_padded(canvas, area, row, 1, KIND_COLUMNS, style,
	                               kind_words[line->kind]);
	column = canvas_put_padded(canvas, area, row, column, DATE_COLUMNS, style, date);
	if (line->kind == STORE_CALL)
		column = canvas_put_padded(canvas, area, row, column, NAME_COLUMNS, style,
		                           line->what.customer) +
		         1;
	canvas_put(canvas, area, row, column, style,
	           *line->what.words ? line->what.words : "no name yet");
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct removed_page *page = state;
	struct canvas *canvas = workbook_canvas(workbook);

	canvas_put(canvas, area, 0, 1, INK_TITLE, "Taken out of the book");
	struct area lines = list_layout(&page->list, canvas, area_rows(area, 2, area.rows - 2));
	for (int i = page->list.top; i < list_end(&page->list); i++) {
		draw_row(canvas, lines, i - page->list.top, list_style(&page->list, i, INK_PLAIN),
		         &page->rows[i]);
		workbook_hot(workbook, lines, i - page->list.top, 0, lines.columns, i);
	}
	if (page->count == 0)
		canvas_put(canvas, area, 2, 1, INK_FAINT, "Nothing was taken out.");
	workbook_hint(workbook, "%s brings it back, as it was.",
	              request_info(REQUEST_REMOVED_BRING)->key);
}

static void click(struct workbook *workbook, void *state, int which)
{
	(void)workbook;
	list_choose(&((struct removed_page *)state)->list, which);
}

const struct screen screen_removed = {
	.place = PLACE_REMOVED, .state_size = sizeof(struct removed_page),
	.enter = enter, .draw = draw, .press = press, .click = click,
};
