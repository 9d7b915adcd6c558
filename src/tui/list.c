/*
 * Lists to pick from.
 */
#include "tui/list.h"

#include <stdint.h>

#include "tui/requests.h"

enum {
	GLYPH_TRACK = 0x2502, /* │ */
	GLYPH_THUMB = 0x2588, /* █ */
};

static int hold(int value, int least, int most)
{
	return value > most ? (most < least ? least : most) : value < least ? least : value;
}

/* Moves the view as little as brings the chosen line into sight. */
static void follow_chosen(struct list *list)
{
	int rows = list->rows > 0 ? list->rows : 1;

	list->chosen = hold(list->chosen, 0, list->count - 1);
	if (list->top > list->chosen)
		list->top = list->chosen;
	if (list->chosen - list->top >= rows)
		list->top = list->chosen - rows + 1;
	list->top = hold(list->top, 0, list->count - rows);
}

void list_init(struct list *list, bool filters)
{
	*list = (struct list){ .rows = 1, .filters = filters };
	edit_init(&list->filter, LIST_FILTER_LIMIT);
}

void list_set_count(struct list *list, int count)
{
	list->count = count > 0 ? count : 0;
	follow_chosen(list);
}

void list_choose(struct list *list, int index)
{
	list->chosen = index;
	follow_chosen(list);
}

int list_chosen(const struct list *list)
{
	return list->count > 0 ? list->chosen : -1;
}

const char *list_filter(const struct list *list)
{
	return edit_get(&list->filter);
}

void list_clear_filter(struct list *list)
{
	edit_init(&list->filter, LIST_FILTER_LIMIT);
	list->chosen = list->top = 0;
}

static enum list_answer filter_key(struct list *list, struct key key)
{
	if (!list->filters)
		return LIST_IGNORED;
	switch (edit_key(&list->filter, key)) {
	case EDIT_CHANGED:
		/* Another question, another answer: begin at its best line. */
		list->chosen = list->top = 0;
		return LIST_FILTERED;
	case EDIT_MOVED:
	case EDIT_FULL:
		return LIST_MOVED;
	case EDIT_IGNORED:
		break;
	}
	return LIST_IGNORED;
}

/* Moves on by so many lines, held to those there are. */
static enum list_answer move(struct list *list, int64_t by)
{
	int64_t target = (int64_t)list->chosen + by;

	list_choose(list, target < 0 ? 0 : target < list->count ? (int)target : list->count);
	return LIST_MOVED;
}

enum list_answer list_key(struct list *list, struct key key)
{
	enum request request = request_from_key(PLACE_LIST, key);
	int page = list->rows > 1 ? list->rows - 1 : 1;
	bool edits_filter = list->filters && *list_filter(list);

	switch (request) {
	case REQUEST_LIST_UP:
		return move(list, -1);
	case REQUEST_LIST_DOWN:
		return move(list, 1);
	case REQUEST_LIST_PAGE_UP:
		return move(list, -page);
	case REQUEST_LIST_PAGE_DOWN:
		return move(list, page);
	case REQUEST_LIST_FIRST:
	case REQUEST_LIST_LAST:
		if (edits_filter)
			return filter_key(list, key);
		return move(list, request == REQUEST_LIST_FIRST ? -list->count : list->count);
	case REQUEST_LIST_PICK:
		return list->count > 0 ? LIST_PICKED : LIST_MOVED;
	default:
		return filter_key(list, key);
	}
}

struct area list_layout(struct list *list, struct canvas *canvas, struct area area)
{
	list->rows = area.rows > 0 ? area.rows : 1;
	follow_chosen(list);
	if (list->count <= list->rows || area.columns < 2)
		return area;
	list_draw_position(canvas, area_columns(area, area.columns - 1, 1), list->count, list->top,
	                   list->rows);
	return area_columns(area, 0, area.columns - 1);
}

int list_end(const struct list *list)
{
	return list->count - list->top < list->rows ? list->count : list->top + list->rows;
}

unsigned list_style(const struct list *list, int index, unsigned style)
{
	return index == list->chosen ? (unsigned)INK_SELECTED : style;
}

void list_draw_position(struct canvas *canvas, struct area area, int count, int top, int rows)
{
	if (count <= 0 || area.rows <= 0)
		return;
	int64_t height = area.rows;
	int size = hold((int)((height * rows + count / 2) / count), 1, area.rows);
	int hidden = count - rows;
	int at = hidden > 0 ? (int)((height - size) * top / hidden) : 0;
	canvas_fill(canvas, area_columns(area, 0, 1), INK_RULE, GLYPH_TRACK);
	canvas_fill(canvas, area_part(area, at, 0, size, 1), INK_RULE, GLYPH_THUMB);
}

void list_draw_more(struct canvas *canvas, struct area area, int column, int count, int top)
{
	if (area.rows > 0 && top > 0)
		canvas_put(canvas, area, 0, column, INK_KEY, "↑");
	if (area.rows > 0 && top + area.rows < count)
		canvas_put(canvas, area, area.rows - 1, column, INK_KEY, "↓");
}
