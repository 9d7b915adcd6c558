/*
 * A page of one list of the call: see log_page.h.
 */
#include "tui/log_page.h"

#include <stdio.h>
#include <string.h>

#include "tui/list.h"

/* ---- Where one is ---- */

static const struct call *call_of(struct workbook *workbook)
{
	return session_call(workbook_session(workbook));
}

static int kept_rows(struct workbook *workbook, const struct log_kind *kind)
{
	return (int)call_list_count(call_of(workbook), kind->form->list);
}

static struct form_place place_at(struct workbook *workbook, const struct log_kind *kind,
                                  const struct log_page *page, int row, int column)
{
	const void *element = call_list_at(call_of(workbook), kind->form->list, (size_t)row);
	bool is_fresh = !element;

	if (is_fresh)
		element = &page->blank;
	return (struct form_place){ .kind = kind->form, .element = element, .uid = element,
	                            .is_fresh = is_fresh, .line = column };
}

static void renew_blank(struct workbook *workbook, const struct log_kind *kind,
                        struct log_page *page)
{
	call_element_init(kind->form->list, &page->blank);
	page->blank.uid = uid_new();
	kind->begin(call_of(workbook), &page->blank);
}

/* The list may have changed: from elsewhere, by what was taken out, by what had to wait. */
static void hold(struct workbook *workbook, const struct log_kind *kind, struct log_page *page)
{
	int kept = kept_rows(workbook, kind);

	if (page->row > kept)
		page->row = kept;
	if (call_list_find(call_of(workbook), kind->form->list, &page->blank.uid) < (size_t)kept)
		renew_blank(workbook, kind, page);
}

/* A log is in time order: the cursor follows the line that was written in. */
static void follow(struct workbook *workbook, const struct log_kind *kind, struct log_page *page,
                   const struct uid *uid)
{
	size_t at = call_list_find(call_of(workbook), kind->form->list, uid);

	if (at < (size_t)kept_rows(workbook, kind))
		page->row = (int)at;
	hold(workbook, kind, page);
}

static void go_to_new(struct workbook *workbook, const struct log_kind *kind, struct log_page *page)
{
	page->row = kept_rows(workbook, kind);
	page->column = 0;
}

void log_page_enter(struct workbook *workbook, const struct log_kind *kind, struct log_page *page)
{
	renew_blank(workbook, kind, page);
	if (strcmp(page->call.text, call_of(workbook)->uid.text) != 0) {
		page->call = call_of(workbook)->uid;
		go_to_new(workbook, kind, page);
	}
	hold(workbook, kind, page);
}

/* ---- Keys ---- */

static bool keep(struct workbook *workbook, const struct log_kind *kind, struct log_page *page)
{
	struct form_place place = place_at(workbook, kind, page, page->row, page->column);
	struct uid uid = *place.uid;
	bool is_kept = form_keep(workbook, &place);

	follow(workbook, kind, page, &uid);
	return is_kept;
}

void log_page_leave(struct workbook *workbook, const struct log_kind *kind, struct log_page *page)
{
	hold(workbook, kind, page);
	keep(workbook, kind, page);
}

static void move(struct workbook *workbook, const struct log_kind *kind, struct log_page *page,
                 int rows, int columns)
{
	if (!keep(workbook, kind, page))
		return;
	int row = page->row + rows, column = page->column + columns;
	if (row >= 0 && row <= kept_rows(workbook, kind))
		page->row = row;
	if (column >= 0 && column < kind->form->count)
		page->column = column;
}

/* Behind Enter: the next field that the line has, and behind the last one a new line. */
static void go_on(struct workbook *workbook, const struct log_kind *kind, struct log_page *page)
{
	const void *element = place_at(workbook, kind, page, page->row, page->column).element;

	for (int column = page->column + 1; column < kind->form->count; column++)
		if (!kind->has || kind->has(element, column)) {
			page->column = column;
			return;
		}
	go_to_new(workbook, kind, page);
}

static void take_out(struct workbook *workbook, const struct log_kind *kind, struct log_page *page)
{
	struct error error;

	if (page->row >= kept_rows(workbook, kind))
		return;
	if (session_remove(workbook_session(workbook), kind->form->list, (size_t)page->row, &error) ==
	    STATUS_OK)
		workbook_say(workbook, INK_KEPT, "the %s was taken out; %s brings it back", kind->a_line,
		             request_info(REQUEST_UNDO)->key);
	else
		workbook_refuse(workbook, &error);
}

enum request_place log_page_inner(struct workbook *workbook, const struct log_kind *kind,
                                  struct log_page *page)
{
	hold(workbook, kind, page);
	struct form_place place = place_at(workbook, kind, page, page->row, page->column);
	return form_where(workbook, &place);
}

static bool press_field(struct workbook *workbook, const struct log_kind *kind,
                        struct log_page *page, enum request request, struct key key)
{
	struct form_place place = place_at(workbook, kind, page, page->row, page->column);
	struct uid uid = *place.uid;
	enum form_answer answer = form_press(workbook, &place, request, key);

	if (answer != FORM_IGNORED && !form_is_writing(workbook))
		follow(workbook, kind, page, &uid);
	if (answer == FORM_NEXT)
		go_on(workbook, kind, page);
	return answer != FORM_IGNORED;
}

bool log_page_press(struct workbook *workbook, const struct log_kind *kind, struct log_page *page,
                    enum request request, struct key key)
{
	switch (request) {
	case REQUEST_LOG_UP:
		move(workbook, kind, page, -1, 0);
		return true;
	case REQUEST_LOG_DOWN:
		move(workbook, kind, page, 1, 0);
		return true;
	case REQUEST_LOG_LEFT:
		move(workbook, kind, page, 0, -1);
		return true;
	case REQUEST_LOG_RIGHT:
		move(workbook, kind, page, 0, 1);
		return true;
	case REQUEST_LOG_NEW:
		if (keep(workbook, kind, page))
			go_to_new(workbook, kind, page);
		return true;
	case REQUEST_LOG_OUT:
		take_out(workbook, kind, page);
		return true;
	case REQUEST_LOG_BACK:
		workbook_go_back(workbook);
		return true;
	default:
		return press_field(workbook, kind, page, request, key);
	}
}

/* ---- Drawing ---- */

static void draw_row(struct workbook *workbook, const struct log_kind *kind,
                     const struct log_page *page, struct area area, int at, int row)
{
	struct canvas *canvas = workbook_canvas(workbook);
	bool is_kept = row < kept_rows(workbook, kind);
	int column = 1;

	canvas_put(canvas, area, at, 0, is_kept ? INK_KEPT : INK_FAINT, is_kept ? "✓" : "+");
	for (int i = 0; i < kind->form->count - 1; i++) {
		struct form_place place = place_at(workbook, kind, page, row, i);
		form_draw(workbook, &place, area, at, column, kind->columns[i].width,
		          row == page->row && i == page->column);
		column += kind->columns[i].width + 1;
	}
	if (is_kept && kind->behind)
		canvas_put(canvas, area, at, column + 1, INK_FAINT,
		           kind->behind(call_list_at(call_of(workbook), kind->form->list, (size_t)row)));
}

/* "WC lb": over numbers at the right end, as they stand, with the unit that they are in. */
static void draw_column_head(struct workbook *workbook, const struct log_column *column,
                             bool is_number, struct area area, int at, int where)
{
	enum unit_system units = session_units(workbook_session(workbook));
	struct canvas *canvas = workbook_canvas(workbook);
	/* What is weighed in pounds is weighed in kilograms, never in grams. */
	enum unit shown = column->unit == UNIT_LB && units == UNITS_SI
	                      ? UNIT_KG
	                      : unit_shown(column->unit, units);
	char head[64];

	snprintf(head, sizeof head, "%s%s%s", column->head, column->unit == UNIT_NONE ? "" : " ",
	         column->unit == UNIT_NONE ? "" : unit_symbol(shown, canvas_is_plain(canvas)));
	if (is_number)
		canvas_put_right(canvas, area, at, where, column->width, INK_FAINT, head);
	else
		canvas_put(canvas, area, at, where, INK_FAINT, head);
}

static void draw_head(struct workbook *workbook, const struct log_kind *kind, struct area area,
                      int at)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int column = 1;

	canvas_put(canvas, area, 0, 1, INK_TITLE, kind->title);
	canvas_wrap(canvas, area_rows(area, 1, 2), 0, 1, INK_CAUTION, kind->caution);
	for (int i = 0; i < kind->form->count - 1; i++) {
		draw_column_head(workbook, &kind->columns[i], kind->form->lines[i].is_number, area, at,
		                 column);
		column += kind->columns[i].width + 1;
	}
}

/* The last field, and what it all comes to. */
static void draw_foot(struct workbook *workbook, const struct log_kind *kind,
                      const struct log_page *page, struct area area)
{
	int last = kind->form->count - 1, column = 3 + (int)strlen(kind->last);
	struct form_place place = place_at(workbook, kind, page, page->row, last);

	canvas_put(workbook_canvas(workbook), area, 0, 1, INK_FAINT, kind->last);
	form_draw(workbook, &place, area, 0, column, area.columns - column - 1, page->column == last);
	kind->draw_words(workbook, place.element, area_rows(area, 1, area.rows - 1));
}

void log_page_draw(struct workbook *workbook, const struct log_kind *kind, struct log_page *page,
                   struct area area)
{
	enum { HEAD_ROWS = 4 };
	int room = area.rows - HEAD_ROWS - kind->foot;

	hold(workbook, kind, page);
	draw_head(workbook, kind, area, HEAD_ROWS - 1);
	if (page->row < page->top)
		page->top = page->row;
	if (room > 0 && page->row >= page->top + room)
		page->top = page->row - room + 1;
	for (int i = 0; i < room && page->top + i <= kept_rows(workbook, kind); i++)
		draw_row(workbook, kind, page, area, HEAD_ROWS + i, page->top + i);
	list_draw_more(workbook_canvas(workbook), area_rows(area, HEAD_ROWS, room), area.columns - 1,
	               kept_rows(workbook, kind) + 1, page->top);
	draw_foot(workbook, kind, page, area_rows(area, area.rows - kind->foot, kind->foot));
}
