/*
 * Long texts.  Wrapped anew on every draw: a paper of some hundred lines costs
 * microseconds, and nothing can be stale after a resize.
 */
#include "tui/pager.h"

#include <padside/base/wrap.h>

#include "tui/list.h"

static void hold_top(struct pager *pager)
{
	if (pager->top > pager->lines - pager->rows)
		pager->top = pager->lines - pager->rows;
	if (pager->top < 0)
		pager->top = 0;
}

void pager_open(struct pager *pager, const char *text)
{
	*pager = (struct pager){ .text = text, .rows = 1 };
}

bool pager_key(struct pager *pager, struct key key)
{
	int page = pager->rows > 1 ? pager->rows - 1 : 1;

	switch (key.press) {
	case PRESS_UP:
		pager->top--;
		break;
	case PRESS_DOWN:
		pager->top++;
		break;
	case PRESS_PAGE_UP:
		pager->top -= page;
		break;
	case PRESS_CHARACTER:
		if (key.character != ' ' || key.pasted)
			return false;
		pager->top += page;
		break;
	case PRESS_PAGE_DOWN:
		pager->top += page;
		break;
	case PRESS_HOME:
		pager->top = 0;
		break;
	case PRESS_END:
		pager->top = pager->lines;
		break;
	default:
		return false;
	}
	hold_top(pager);
	return true;
}

void pager_draw(struct pager *pager, struct canvas *canvas, struct area area, unsigned style)
{
	pager->rows = area.rows > 0 ? area.rows : 1;
	pager->lines = canvas_wrap_count(canvas, area.columns, pager->text);
	if (pager->lines > pager->rows && area.columns >= 2) {
		struct area lane = area_columns(area, area.columns - 1, 1);
		area = area_columns(area, 0, area.columns - 1);
		pager->lines = canvas_wrap_count(canvas, area.columns, pager->text);
		hold_top(pager);
		list_draw_position(canvas, lane, pager->lines, pager->top, pager->rows);
	}
	hold_top(pager);
	canvas_wrap(canvas, area, -pager->top, 0, style, pager->text);
}
