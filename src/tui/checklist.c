/*
 * The tune-up list of the visit: what is done and what is missing.  Where none
 * was chosen yet, or on demand, the lists to choose from.
 */
#include <stdio.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/app/settings.h>
#include <padside/base/text.h>
#include <padside/model/checklist.h>

#include "tui/list.h"
#include "tui/workbook.h"

enum { MOST_LISTS = 40, LABEL_COLUMNS = 44 };

struct checklist_page {
	struct list list;               /* on the items, or on the lists to choose from */
	bool is_choosing;               /* on the lists */
	struct checklist items;         /* of the call's list */
	char own[SETTING_SIZE];         /* the firm's lists, cut by NUL */
	const char *lists[MOST_LISTS];  /* to choose from: the firm's, then the built-in ones */
	int list_count;                 /* of them */
};

static const struct call *call_of(struct workbook *workbook)
{
	return session_call(workbook_session(workbook));
}

/* ---- The lists ---- */

static void add_list(struct checklist_page *page, const char *line)
{
	if (*line && page->list_count < MOST_LISTS)
		page->lists[page->list_count++] = line;
}

static void gather_lists(struct workbook *workbook, struct checklist_page *page)
{
	struct error error;

	page->list_count = 0;
	if (session_own_checklists(workbook_session(workbook), page->own, sizeof page->own, &error) !=
	    STATUS_OK) {
		workbook_refuse(workbook, &error);
		text_copy(page->own, sizeof page->own, "");
	}
	for (char *at = page->own; *at;) {
		char *line = at;
		at += strcspn(at, "\n");
		if (*at)
			*at++ = '\0';
		add_list(page, line);
	}
	for (int i = 0; i < checklist_built_in_count(); i++)
		add_list(page, checklist_built_in(i));
}

/* The first item that is missing. */
static int first_missing(const struct checklist_page *page, const struct call *call)
{
	for (int i = 0; i < page->items.count; i++)
		if (checklist_judge(&page->items.items[i], call) == CHECKLIST_MISSING)
			return i;
	return 0;
}

/* Shows the items of the call's list, or the lists where it has none. */
static void show(struct workbook *workbook, struct checklist_page *page, bool is_choosing)
{
	bool has_list = checklist_of_call(call_of(workbook), &page->items);

	page->is_choosing = is_choosing || !has_list;
	list_init(&page->list, false);
	/* Behind the lists stands the row that takes the list away. */
	list_set_count(&page->list,
	               page->is_choosing ? page->list_count + has_list : page->items.count);
	if (!page->is_choosing)
		list_choose(&page->list, first_missing(page, call_of(workbook)));
}

/* Undo may have given or taken the list away. */
static void follow_call(struct workbook *workbook, struct checklist_page *page)
{
	struct checklist now;

	checklist_of_call(call_of(workbook), &now);
	if (!page->is_choosing && strcmp(now.name, page->items.name) != 0)
		show(workbook, page, false);
}

static void enter(struct workbook *workbook, void *state)
{
	struct checklist_page *page = state;

	gather_lists(workbook, page);
	show(workbook, page, false);
}

/* ---- Keys ---- */

/* A list that cannot be read stays where it is: on a call nothing would come of it. */
static void choose(struct workbook *workbook, struct checklist_page *page)
{
	int chosen = list_chosen(&page->list);
	const char *line = chosen < page->list_count ? page->lists[chosen] : "";
	struct checklist list;
	struct error error;
	enum status status = *line ? checklist_parse(line, &list, &error) : STATUS_OK;

	if (status == STATUS_OK)
		status = session_type_field(workbook_session(workbook), FIELD_CHECKLIST, line, &error);
	if (status == STATUS_OK)
		show(workbook, page, false);
	else
		workbook_refuse(workbook, &error);
}

/* A task is done when the work has a line of its words: ticked it is written there. */
static void tick(struct workbook *workbook, struct checklist_page *page, const char *task)
{
	struct session *session = workbook_session(workbook);
	size_t at = checklist_find_work(call_of(workbook), task);
	struct work_line line;
	struct error error;
	enum status status;

	if (at < call_of(workbook)->work_count) {
		status = session_remove(session, LIST_WORK, at, &error);
	} else {
		call_element_init(LIST_WORK, &line);
		text_copy(line.description, sizeof line.description, task);
		status = session_put(session, LIST_WORK, &line, &error);
	}
	if (status != STATUS_OK)
		workbook_refuse(workbook, &error);
	else
		list_choose(&page->list, list_chosen(&page->list) + 1);
}

static void take(struct workbook *workbook, struct checklist_page *page)
{
	const struct checklist_item *item = &page->items.items[list_chosen(&page->list)];

	if (page->is_choosing)
		choose(workbook, page);
	else if (item->reading != READING_NONE)
		workbook_go_item(workbook, item->reading);
	else
		tick(workbook, page, item->task);
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct checklist_page *page = state;

	follow_call(workbook, page);
	switch (request) {
	case REQUEST_CHECKLIST_TURN:
		show(workbook, page, !page->is_choosing);
		return true;
	case REQUEST_CHECKLIST_TICK:
	case REQUEST_LIST_PICK:
		take(workbook, page);
		return true;
	case REQUEST_CHECKLIST_BACK:
		workbook_go_back(workbook);
		return true;
	default:
		return list_key(&page->list, key) != LIST_IGNORED;
	}
}

/* ---- Drawing ---- */

static void draw_choice(struct canvas *canvas, struct area area, int row, unsigned style,
                        const struct checklist_page *page, int at)
{
	struct checklist list;
	struct error error;

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	if (at == page->list_count) {
		canvas_put(canvas, area, row, 1, style, "no list for this visit");
		return;
	}
	/* A list of the firm's that another program wrote may be one that this one cannot read. */
	if (checklist_parse(page->lists[at], &list, &error) == STATUS_OK) {
		int column = canvas_put_padded(canvas, area, row, 1, LABEL_COLUMNS, style, list.name);
		canvas_format(canvas, area, row, column + 1, style, "%d items", list.count);
	} else {
		canvas_put(canvas, area, row, 1, style, page->lists[at]);
	}
}

/* What was read: as left where it was read so, else as found. */
static void format_read(struct workbook *workbook, enum reading reading, char *out, size_t size)
{
	const struct visit *visit = &call_of(workbook)->visit;
	enum stage stage = visit_has(visit, STAGE_AS_LEFT, reading) ? STAGE_AS_LEFT : STAGE_AS_FOUND;

	reading_format(reading, visit_value(visit, stage, reading),
	               session_units(workbook_session(workbook)), VALUE_FORM_WITH_UNIT, out, size);
}

static void draw_item(struct workbook *workbook, struct area area, int row, unsigned style,
                      const struct checklist_item *item)
{
	static const struct {
		const char *mark, *words; /* before the item; behind a task */
		unsigned ink;             /* of the item */
	} states[] = {
		[CHECKLIST_MISSING] = { "·", "", INK_STRONG },
		[CHECKLIST_DONE] = { "✓", "done", INK_PLAIN },
		[CHECKLIST_IDLE] = { "–", "", INK_FAINT },
	};
	struct canvas *canvas = workbook_canvas(workbook);
	enum checklist_state state = checklist_judge(item, call_of(workbook));
	unsigned ink = style == INK_SELECTED ? style : states[state].ink;
	char words[VALUE_TEXT_SIZE];

	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	text_copy(words, sizeof words,
	          state == CHECKLIST_IDLE ? "not of this unit" : states[state].words);
	if (state == CHECKLIST_DONE && item->reading != READING_NONE)
		format_read(workbook, item->reading, words, sizeof words);
	canvas_put(canvas, area, row, 1, style == INK_SELECTED ? style : (unsigned)INK_KEPT,
	           states[state].mark);
	int column = canvas_put_padded(canvas, area, row, 3, LABEL_COLUMNS, ink,
	                               checklist_item_label(item));
	canvas_put(canvas, area, row, column + 1, ink, words);
}

static void draw_head(struct workbook *workbook, const struct checklist_page *page,
                      struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);

	if (page->is_choosing) {
		canvas_put(canvas, area, 0, 1, INK_TITLE, "Tune-up lists");
		workbook_hint(workbook,
		              "%s takes this list. Lists of your own: padside settings checklists=…",
		              request_info(REQUEST_LIST_PICK)->key);
		return;
	}
	int missing = checklist_missing(&page->items, call_of(workbook));
	int column = canvas_put(canvas, area, 0, 1, INK_TITLE, page->items.name);
	if (missing > 0)
		canvas_format(canvas, area, 0, column + 2, INK_WATCH, "%d of %d missing", missing,
		              page->items.count);
	else
		canvas_put(canvas, area, 0, column + 2, INK_GOOD, "complete");
	workbook_hint(workbook,
	              "✓ done: a line of the work. · missing: on the office "
	              "report. – not of this unit.");
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct checklist_page *page = state;
	struct canvas *canvas = workbook_canvas(workbook);

	follow_call(workbook, page);
	draw_head(workbook, page, area);
	struct area lines = list_layout(&page->list, canvas, area_rows(area, 1, area.rows - 1));
	for (int i = page->list.top; i < list_end(&page->list); i++) {
		unsigned style = list_style(&page->list, i, INK_PLAIN);
		int row = i - page->list.top;
		if (page->is_choosing)
			draw_choice(canvas, lines, row, style, page, i);
		else
			draw_item(workbook, lines, row, style, &page->items.items[i]);
		workbook_hot(workbook, lines, row, 0, lines.columns, i);
	}
}

static void click(struct workbook *workbook, void *state, int which)
{
	(void)workbook;
	list_choose(&((struct checklist_page *)state)->list, which);
}

const struct screen screen_checklist = {
	.place = PLACE_CHECKLIST, .state_size = sizeof(struct checklist_page),
	.enter = enter, .draw = draw, .press = press, .click = click,
};
