/*
 * Long texts.  Wrapped anew on every draw: a paper of some hundred lines costs
 * microseconds, and nothing can be stale after a resize.
 */
#include "tui/pager.h"

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>
#include <padside/base/wrap.h>

#include "tui/list.h"
#include "tui/requests.h"

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

	switch (request_from_key(PLACE_PAGER, key)) {
	case REQUEST_PAGER_UP:
		pager->top--;
		break;
	case REQUEST_PAGER_DOWN:
		pager->top++;
		break;
	case REQUEST_PAGER_PAGE_UP:
		pager->top -= page;
		break;
	case REQUEST_PAGER_PAGE_DOWN:
		pager->top += page;
		break;
	case REQUEST_PAGER_FIRST:
		pager->top = 0;
		break;
	case REQUEST_PAGER_LAST:
		pager->top = pager->lines;
		break;
	default:
		return false;
	}
	hold_top(pager);
	return true;
}

/*
 * Draws one line of the text from `row` on and returns how many rows it takes.  What follows its
 * first words hangs below itself: behind a tab, or behind the spaces that it begins with.
 */
static int draw_line(struct canvas *canvas, struct area area, int row, unsigned style,
                     const char *line)
{
	size_t first = strcspn(line, "\t");
	size_t hang = line[first] == '\t' ? first : strspn(line, " ");
	const char *rest = line + hang + (line[hang] == '\t');
	char words[128];

	snprintf(words, sizeof words, "%.*s", (int)hang, line);
	text_trim_broken_utf8(words);
	canvas_put(canvas, area, row, 0, style, words);
	int rows = canvas_wrap(canvas, area, row, text_columns(words), style, rest);
	return rows > 0 ? rows : 1;
}

/* The same for every line; without rows in the area it only counts. */
static int draw_wrapped(const struct pager *pager, struct canvas *canvas, struct area area, int row,
                        unsigned style)
{
	struct text line;
	int rows = 0;

	text_init(&line);
	for (const char *at = pager->text; *at;) {
		size_t length = strcspn(at, "\n");
		text_clear(&line);
		text_add_bytes(&line, at, length);
		rows += draw_line(canvas, area, row + rows, style, text_get(&line));
		at += length + (at[length] == '\n');
	}
	text_done(&line);
	return rows;
}

static int count_lines(const struct pager *pager, struct canvas *canvas, struct area area)
{
	int lines = 0;

	if (!pager->is_set)
		return draw_wrapped(pager, canvas, area_rows(area, 0, 0), 0, 0);
	for (const char *at = pager->text; *at; at++)
		lines += *at == '\n';
	return lines;
}

static void draw_set(const struct pager *pager, struct canvas *canvas, struct area area,
                     unsigned style)
{
	char line[512];
	int row = -pager->top;

	for (const char *at = pager->text; *at && row < area.rows; row++) {
		size_t length = strcspn(at, "\n");
		if (row >= 0) {
			snprintf(line, sizeof line, "%.*s",
			         (int)(length < sizeof line ? length : sizeof line - 1), at);
			text_trim_broken_utf8(line);
			canvas_put(canvas, area, row, 0, style, line);
		}
		at += length + (at[length] == '\n');
	}
}

void pager_draw(struct pager *pager, struct canvas *canvas, struct area area, unsigned style)
{
	const struct area whole = area;

	pager->rows = area.rows > 0 ? area.rows : 1;
	pager->lines = count_lines(pager, canvas, area);
	bool has_more = pager->lines > pager->rows && area.columns >= 2;
	/* Set lines are as wide as a page: the mark stands over their last column. */
	if (has_more && !pager->is_set) {
		area = area_columns(area, 0, area.columns - 1);
		pager->lines = count_lines(pager, canvas, area);
	}
	hold_top(pager);
	if (pager->is_set)
		draw_set(pager, canvas, area, style);
	else
		draw_wrapped(pager, canvas, area, -pager->top, style);
	if (has_more)
		list_draw_position(canvas, area_columns(whole, whole.columns - 1, 1), pager->lines,
		                   pager->top, pager->rows);
}
