/*
 * The book: find a call or a customer as one types, or begin a new call.
 *
 * Planned calls stand first, then those that are still open, so that the
 * truck's own work is one Enter away after a restart.
 */
#include <padside/app/session_find.h>
#include <padside/base/text.h>

#include "tui/list.h"
#include "tui/local.h"
#include "tui/records.h"
#include "tui/workbook.h"

enum { MOST_LINES = 100 };

struct book {
	struct list list;                    /* and the text looked for */
	bool by_customer;                    /* customers instead of calls */
	struct call_line calls[MOST_LINES];  /* found, newest first */
	struct customer_line customers[MOST_LINES]; /* found */
	int count;                           /* of either */
};

static void look(struct workbook *workbook, struct book *book)
{
	struct session *session = workbook_session(workbook);
	const char *text = list_filter(&book->list);
	struct error error;

	enum status status = book->by_customer
		? session_find_customers(session, text, book->customers, MOST_LINES, &book->count, &error)
		: session_find_calls(session, text, book->calls, MOST_LINES, &book->count, &error);
	if (status != STATUS_OK)
		workbook_refuse(workbook, &error);
	list_set_count(&book->list, book->count);
}

static void enter(struct workbook *workbook, void *state)
{
	struct book *book = state;

	if (book->list.rows == 0)
		list_init(&book->list, true);
	look(workbook, book);
}

/* ---- Keys ---- */

/* The record under the cursor; of RECORD_NONE where there is none. */
static struct record chosen_record(const struct book *book)
{
	int chosen = list_chosen(&book->list);
	struct record record = { .kind = RECORD_NONE };

	if (chosen < 0)
		return record;
	record.kind = book->by_customer ? RECORD_CUSTOMER : RECORD_CALL;
	record.uid = book->by_customer ? book->customers[chosen].customer.uid : book->calls[chosen].uid;
	text_copy(record.words, sizeof record.words, book->by_customer
	          ? book->customers[chosen].customer.name : book->calls[chosen].customer);
	return record;
}

static void put_down(struct workbook *workbook, struct book *book)
{
	const struct record onto = chosen_record(book);

	if (record_put(workbook, &onto))
		look(workbook, book);
}

static void pick(struct workbook *workbook, struct book *book)
{
	int chosen = list_chosen(&book->list);

	if (chosen < 0)
		return;
	if (book->by_customer && record_joins(workbook, RECORD_CUSTOMER)) {
		put_down(workbook, book);
	} else if (book->by_customer) {
		workbook_set_customer(workbook, &book->customers[chosen].customer.uid);
		workbook_go(workbook, SCREEN_CUSTOMER);
	} else {
		workbook_open_call(workbook, &book->calls[chosen].uid);
	}
}

static void turn(struct workbook *workbook, struct book *book)
{
	book->by_customer = !book->by_customer;
	list_choose(&book->list, 0);
	look(workbook, book);
}

static bool press_list(struct workbook *workbook, struct book *book, struct key key)
{
	switch (list_key(&book->list, key)) {
	case LIST_PICKED:
		pick(workbook, book);
		return true;
	case LIST_FILTERED:
		look(workbook, book);
		return true;
	case LIST_MOVED:
		return true;
	default:
		return false;
	}
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct book *book = state;
	const struct record record = chosen_record(book);

	switch (request) {
	case REQUEST_BOOK_NEW:
		workbook_start_call(workbook, NULL, NULL, NULL);
		return true;
	case REQUEST_BOOK_TURN:
		turn(workbook, book);
		return true;
	case REQUEST_BOOK_CLEAR:
		if (!record_drop(workbook)) {
			list_clear_filter(&book->list);
			look(workbook, book);
		}
		return true;
	case REQUEST_RECORD_TAKE:
		record_take(workbook, &record);
		return true;
	case REQUEST_RECORD_OUT:
		if (record_take_out(workbook, &record, request))
			look(workbook, book);
		return true;
	case REQUEST_RECORD_PART:
		if (record_part(workbook))
			look(workbook, book);
		return true;
	default:
		return press_list(workbook, book, key);
	}
}

/* ---- Drawing ---- */

static void draw_call(struct canvas *canvas, struct area area, int row, unsigned style,
                      const struct call_line *line)
{
	char date[CLOCK_TEXT_SIZE], hour[CLOCK_TEXT_SIZE];
	bool open = line->closed_at == WALL_TIME_NONE;
	const char *what = *line->found_line ? line->found_line : line->complaint;

	/* Planned and not arrived yet: the day is the planned one, with the hour. */
	bool planned = open && line->planned_at != WALL_TIME_NONE;
	local_date(planned ? line->planned_at : line->opened_at, date, sizeof date);
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	canvas_put(canvas, area, row, 1, style, date);
	text_copy(hour, sizeof hour, open ? "open" : "");
	if (planned)
		clock_format_hour(line->planned_at, hour, sizeof hour);
	canvas_put(canvas, area, row, 13, style == INK_SELECTED ? style : INK_WATCH, hour);
	canvas_put_padded(canvas, area, row, 19, 26, style,
	                  *line->customer ? line->customer : "no name yet");
	canvas_put(canvas, area, row, 46, style, what);
}

static void draw_customer(struct canvas *canvas, struct area area, int row, unsigned style,
                          const struct customer_line *line)
{
	char date[CLOCK_TEXT_SIZE];

	local_date(line->last_call, date, sizeof date);
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	canvas_put_padded(canvas, area, row, 1, 28, style, line->customer.name);
	canvas_put_padded(canvas, area, row, 30, 16, style, line->customer.phone);
	canvas_put_padded(canvas, area, row, 47, area.columns - 60, style, line->address);
	canvas_put(canvas, area, row, area.columns - 12, style, date);
}

/* At the right end of the heading. */
static void draw_office(struct workbook *workbook, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char words[LINE_SIZE];

	workbook_office_words(workbook, words, sizeof words);
	canvas_put(canvas, area, 0, area.columns - canvas_width_of(canvas, words) - 1, INK_FAINT,
	           words);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct book *book = state;
	struct canvas *canvas = workbook_canvas(workbook);

	canvas_put(canvas, area, 0, 1, INK_TITLE, book->by_customer ? "Customers" : "Calls");
	draw_office(workbook, area);
	int column = canvas_put(canvas, area, 1, 1, INK_FAINT, "find: ");
	edit_draw(&book->list.filter, canvas, area, 1, column, area.columns - column - 2,
	          INK_FIELD_ACTIVE);
	struct area lines = list_layout(&book->list, canvas, area_rows(area, 3, area.rows - 3));
	for (int i = book->list.top; i < list_end(&book->list); i++) {
		unsigned style = list_style(&book->list, i, INK_PLAIN);
		workbook_hot(workbook, lines, i - book->list.top, 0, lines.columns, i);
		if (book->by_customer)
			draw_customer(canvas, lines, i - book->list.top, style, &book->customers[i]);
		else
			draw_call(canvas, lines, i - book->list.top, style, &book->calls[i]);
	}
	if (book->count == 0)
		canvas_format(canvas, area, 3, 1, INK_FAINT, *list_filter(&book->list)
		              ? "nothing matches in name, phone, address or serial"
		              : "the book is empty: %s begins the first call",
		              request_info(REQUEST_BOOK_NEW)->key);
	if (*list_filter(&book->list))
		workbook_hint(workbook, "Only what matches is listed. %s lists all again.",
		              request_info(REQUEST_BOOK_CLEAR)->key);
	else
		workbook_hint(workbook, "Type any part of a name, phone number, address or serial number.");
	record_hint(workbook);
}

/* The first click chooses, the second opens. */
static void click(struct workbook *workbook, void *state, int which)
{
	struct book *book = state;

	if (which == list_chosen(&book->list))
		pick(workbook, book);
	else
		list_choose(&book->list, which);
}

const struct screen screen_book = {
	.place = PLACE_BOOK, .state_size = sizeof(struct book),
	.enter = enter, .draw = draw, .press = press, .click = click,
};
