/*
 * A customer's page: where they are, what stands there, what is still open,
 * what they did not take, every visit.
 *
 * One list from top to bottom; the cursor stands on what a key can do
 * something with and passes over the rest.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/model/money.h>
#include <padside/base/text.h>

#include "tui/list.h"
#include "tui/local.h"
#include "tui/records.h"
#include "tui/workbook.h"

enum { WIDE_COLUMNS = 100, DATE_COLUMN = 3, WORDS_COLUMN = 15 };

enum row_kind {
	ROW_BLANK,
	ROW_HEADING,  /* `heading` */
	ROW_SITE,     /* of the unit at `index` */
	ROW_SYSTEM,   /* the unit at `index` */
	ROW_WATCH,    /* the open item at `index` */
	ROW_OFFERED, /* what was offered and not taken, at `index` */
	ROW_VISIT,    /* what was found on the visit at `index` */
	ROW_DONE,     /* and what was done */
};

struct page_row {
	enum row_kind kind;  /* what it shows */
	size_t index;        /* of which one */
	const char *heading; /* static; NULL when it is none */
};

struct customer_screen {
	struct customer_page page; /* as loaded when the screen came into sight */
	struct page_row *rows;     /* of the list; owned */
	struct list list;          /* on them */
	struct uid shown;          /* whose page was drawn last */
};

/* ---- Rows ---- */

static void add_row(struct customer_screen *screen, enum row_kind kind, size_t index,
                    const char *heading)
{
	screen->rows[screen->list.count++] = (struct page_row){ kind, index, heading };
}

static void add_heading(struct customer_screen *screen, const char *heading)
{
	if (screen->list.count > 0)
		add_row(screen, ROW_BLANK, 0, NULL);
	add_row(screen, ROW_HEADING, 0, heading);
}

static void add_part(struct customer_screen *screen, const char *heading, enum row_kind kind,
                     size_t count)
{
	if (count > 0)
		add_heading(screen, heading);
	for (size_t i = 0; i < count; i++)
		add_row(screen, kind, i, NULL);
}

static void add_systems(struct customer_screen *screen)
{
	const struct system_line *systems = screen->page.systems;

	if (screen->page.system_count > 0)
		add_heading(screen, "Addresses and units");
	for (size_t i = 0; i < screen->page.system_count; i++) {
		if (i == 0 || strcmp(systems[i].site.uid.text, systems[i - 1].site.uid.text) != 0)
			add_row(screen, ROW_SITE, i, NULL);
		add_row(screen, ROW_SYSTEM, i, NULL);
	}
}

static bool build_rows(struct customer_screen *screen)
{
	const struct customer_page *page = &screen->page;
	enum { MOST_HEADINGS = 8 };
	size_t most = MOST_HEADINGS + 2 * page->system_count + page->watch_count +
	              page->offered_count + 2 * page->visit_count;

	free(screen->rows);
	screen->list.count = 0;
	screen->rows = calloc(most, sizeof *screen->rows);
	if (!screen->rows)
		return false;
	add_systems(screen);
	add_part(screen, "Watch", ROW_WATCH, page->watch_count);
	add_part(screen, "Offered and not taken", ROW_OFFERED, page->offered_count);
	if (page->visit_count > 0)
		add_heading(screen, page->visit_count < PAGE_MOST_VISITS ? "Visits"
		            : "Visits, the newest 200");
	for (size_t i = 0; i < page->visit_count; i++) {
		add_row(screen, ROW_VISIT, i, NULL);
		if (*page->visits[i].done_line)
			add_row(screen, ROW_DONE, i, NULL);
	}
	return true;
}

static bool is_pickable(const struct page_row *row)
{
	return row->kind != ROW_BLANK && row->kind != ROW_HEADING && row->kind != ROW_DONE;
}

/* Goes on from the chosen row in a direction until it can be picked, else back. */
static void skip_to_pickable(struct customer_screen *screen, int direction)
{
	int at = list_chosen(&screen->list);

	for (int turn = 0; turn < 2; turn++, direction = -direction)
		for (int i = at; i >= 0 && i < screen->list.count; i += direction)
			if (is_pickable(&screen->rows[i])) {
				list_choose(&screen->list, i);
				/* The heading above the first one comes into sight with it. */
				if (turn == 1 && direction > 0)
					screen->list.top = 0;
				return;
			}
}

/* What one comes to the page for most: the unit. */
static void choose_first_system(struct customer_screen *screen)
{
	int at = 0;

	while (at < screen->list.count && screen->rows[at].kind != ROW_SYSTEM)
		at++;
	screen->list.top = 0;
	list_choose(&screen->list, at < screen->list.count ? at : 0);
}

static void enter(struct workbook *workbook, void *state)
{
	struct customer_screen *screen = state;
	const struct uid *who = workbook_customer(workbook);
	struct error error = { .text = "no memory is left to show the page; close other programs" };

	if (screen->list.rows == 0)
		list_init(&screen->list, false);
	enum status status = session_customer_page(workbook_session(workbook), who, &screen->page,
	                                           &error);
	if (!build_rows(screen) || status != STATUS_OK)
		workbook_refuse(workbook, &error);
	if (strcmp(screen->shown.text, who->text) != 0)
		choose_first_system(screen);
	screen->shown = *who;
	list_set_count(&screen->list, screen->list.count);
	skip_to_pickable(screen, 1);
}

/* ---- Keys ---- */

/* The row under the cursor; NULL when there is none. */
static const struct page_row *chosen_row(const struct customer_screen *screen)
{
	int at = list_chosen(&screen->list);

	return at >= 0 && is_pickable(&screen->rows[at]) ? &screen->rows[at] : NULL;
}

/* The unit that a row is about; NULL where it is about none. */
static const struct uid *system_of(const struct customer_screen *screen, const struct page_row *row)
{
	switch (row->kind) {
	case ROW_SYSTEM:
		return &screen->page.systems[row->index].system.uid;
	case ROW_WATCH:
		return &screen->page.systems[screen->page.watch[row->index].system].system.uid;
	case ROW_VISIT:
		return &screen->page.visits[row->index].system_uid;
	default:
		return NULL;
	}
}

/* What a unit is called here: its name, else its nameplate, else its address. */
static void write_unit(struct workbook *workbook, const struct system_line *line, char *words,
                       size_t size)
{
	const struct session *session = workbook_session(workbook);
	char plate[4 * VALUE_TEXT_SIZE];

	system_describe(line, session_now(session), session_units(session), plate, sizeof plate);
	text_copy(words, size, *line->system.name ? line->system.name : *plate ? plate
	          : *line->site.address ? line->site.address : "without a name");
}

static struct record visit_record(const struct call_line *line)
{
	struct record record = { .kind = RECORD_CALL, .uid = line->uid };

	local_date(line->opened_at, record.words, sizeof record.words);
	return record;
}

/* The record that a row shows; of RECORD_NONE where it shows none. */
static struct record record_of(struct workbook *workbook, const struct customer_screen *screen,
                               const struct page_row *row)
{
	struct record record = { .kind = RECORD_NONE };

	if (row && row->kind == ROW_VISIT)
		return visit_record(&screen->page.visits[row->index]);
	if (!row || (row->kind != ROW_SYSTEM && row->kind != ROW_SITE))
		return record;
	const struct system_line *line = &screen->page.systems[row->index];
	if (row->kind == ROW_SYSTEM) {
		record = (struct record){ .kind = RECORD_SYSTEM, .uid = line->system.uid };
		write_unit(workbook, line, record.words, sizeof record.words);
	} else {
		record = (struct record){ .kind = RECORD_SITE, .uid = line->site.uid };
		text_copy(record.words, sizeof record.words, line->site.address);
	}
	return record;
}

/* Where what was taken along goes: a page without units is the customer. */
static struct record target_of(struct workbook *workbook, const struct customer_screen *screen,
                               const struct page_row *row)
{
	struct record record = record_of(workbook, screen, row);

	if (screen->page.system_count == 0) {
		record = (struct record){ .kind = RECORD_CUSTOMER, .uid = screen->page.customer.uid };
		text_copy(record.words, sizeof record.words, screen->page.customer.name);
	}
	return record;
}

static void show_history(struct workbook *workbook, const struct customer_screen *screen,
                         const struct page_row *row)
{
	const struct uid *system = row ? system_of(screen, row) : NULL;

	if (!system) {
		workbook_say(workbook, INK_REFUSED,
		             "put the cursor on a unit or on one of its visits first");
		return;
	}
	workbook_set_system(workbook, system);
	workbook_go(workbook, SCREEN_HISTORY);
}

static void start_call(struct workbook *workbook, const struct customer_screen *screen,
                       const struct page_row *row)
{
	const struct uid *system = row ? system_of(screen, row) : NULL;

	if (system)
		workbook_start_call(workbook, NULL, NULL, system);
	else if (row && row->kind == ROW_SITE)
		workbook_start_call(workbook, &screen->page.customer.uid,
		                    &screen->page.systems[row->index].site.uid, NULL);
	else
		workbook_say(workbook, INK_REFUSED,
		             "put the cursor on a unit, or on an address "
		             "for another unit there");
}

static void open_row(struct workbook *workbook, const struct customer_screen *screen,
                     const struct page_row *row)
{
	if (row->kind == ROW_VISIT)
		workbook_open_call(workbook, &screen->page.visits[row->index].uid);
	else if (system_of(screen, row))
		show_history(workbook, screen, row);
}

static void put_down(struct workbook *workbook, struct customer_screen *screen,
                     const struct page_row *row)
{
	const struct record onto = target_of(workbook, screen, row);

	if (record_put(workbook, &onto))
		enter(workbook, screen);
}

static bool press_list(struct workbook *workbook, struct customer_screen *screen,
                       const struct page_row *row, struct key key)
{
	int before = screen->list.chosen;

	switch (list_key(&screen->list, key)) {
	case LIST_PICKED:
		if (record_is_taken(workbook))
			put_down(workbook, screen, row);
		else if (row)
			open_row(workbook, screen, row);
		return true;
	case LIST_MOVED:
		skip_to_pickable(screen, screen->list.chosen < before ? -1 : 1);
		return true;
	default:
		return false;
	}
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct customer_screen *screen = state;
	const struct page_row *row = chosen_row(screen);
	const struct record record = record_of(workbook, screen, row);

	switch (request) {
	case REQUEST_RECORD_TAKE:
		record_take(workbook, &record);
		return true;
	case REQUEST_RECORD_OUT:
		if (record_take_out(workbook, &record, request))
			enter(workbook, screen);
		return true;
	case REQUEST_RECORD_PART:
		if (record_part(workbook))
			enter(workbook, screen);
		return true;
	case REQUEST_CUSTOMER_BACK:
		record_drop(workbook);
		workbook_go_back(workbook);
		return true;
	case REQUEST_CUSTOMER_NEW:
		start_call(workbook, screen, row);
		return true;
	case REQUEST_CUSTOMER_PLACE:
		workbook_start_call(workbook, &screen->page.customer.uid, NULL, NULL);
		return true;
	case REQUEST_CUSTOMER_HISTORY:
		show_history(workbook, screen, row);
		return true;
	default:
		return press_list(workbook, screen, row, key);
	}
}

/* ---- Drawing ---- */

static int draw_date(struct canvas *canvas, struct area area, int row, unsigned style, wall_time at)
{
	char date[CLOCK_TEXT_SIZE];

	local_date(at, date, sizeof date);
	canvas_put(canvas, area, row, DATE_COLUMN, style, date);
	return WORDS_COLUMN;
}

static void draw_system(struct workbook *workbook, struct area area, int row, unsigned style,
                        const struct system_line *line)
{
	const struct session *session = workbook_session(workbook);
	struct canvas *canvas = workbook_canvas(workbook);
	char words[4 * VALUE_TEXT_SIZE], last[CLOCK_TEXT_SIZE], visits[64];
	bool wide = area.columns >= WIDE_COLUMNS;

	system_describe(line, session_now(session), session_units(session), words,
	                sizeof words);
	local_date(line->last_call, last, sizeof last);
	snprintf(visits, sizeof visits, "%d visit%s%s%s", line->call_count,
	         line->call_count == 1 ? "" : "s", wide ? ", last " : "", wide ? last : "");
	int right = area.columns - canvas_width_of(canvas, visits) - 1;
	struct area left = area_columns(area, 0, right - 1);
	int column = canvas_put(canvas, left, row, DATE_COLUMN, style, line->system.name);
	column = canvas_put(canvas, left, row, column, style, *line->system.name && *words ? ": " : "");
	canvas_put(canvas, left, row, column, style, *words ? words
	           : *line->system.name ? "" : "unit without a nameplate yet");
	canvas_put(canvas, area, row, right, style, visits);
}

static void draw_offered(struct canvas *canvas, struct area area, int row, unsigned style,
                         const struct past_offer *past)
{
	const struct offer *offer = &past->offer;
	bool is_decided = offer->decision != DECISION_NONE;
	bool is_range = offer->price_low != offer->price_high;
	char low[MONEY_SIZE], high[MONEY_SIZE];
	int column = draw_date(canvas, area, row, style,
	                       is_decided ? offer->decided_at : past->offered_at);

	money_format(offer->price_low, low, sizeof low);
	money_format(offer->price_high, high, sizeof high);
	/* What became of it, and of its unit, comes first, where nothing cuts it off. */
	canvas_format(canvas, area, row, column, style, "%s%s%s%s: %s, %s%s%s",
	              *past->unit_out ? "unit taken out; " : "",
	              offer_outcome(offer, past->is_other_taken),
	              is_decided && *offer->decided_by ? " by " : "",
	              is_decided ? offer->decided_by : "",
	              offer->title, low, is_range ? " to " : "", is_range ? high : "");
}

static void draw_watch(struct canvas *canvas, struct area area, int row, unsigned style,
                       const struct customer_page *page, const struct page_watch *watch)
{
	const char *name = page->systems[watch->system].system.name;
	int column = draw_date(canvas, area, row, style, watch->item.noted_at);

	canvas_format(canvas, area, row, column, style, "%s%s%s", name, *name ? ": " : "",
	              watch->item.text);
}

static void draw_visit(struct canvas *canvas, struct area area, int row, unsigned style,
                       const struct customer_page *page, const struct call_line *line)
{
	int column = draw_date(canvas, area, row, style, line->opened_at);
	bool several = page->system_count > 1 && *line->system;
	const char *found = *line->found_line ? line->found_line : line->complaint;

	if (line->closed_at == WALL_TIME_NONE)
		column = canvas_put(canvas, area, row, column, style == INK_SELECTED ? style : INK_WATCH,
		                    "open") + 2;
	canvas_format(canvas, area, row, column, style, "%s%s%s", several ? line->system : "",
	              several ? ": " : "", *found ? found : "nothing written yet");
}

static unsigned row_style(const struct customer_screen *screen, int index)
{
	static const unsigned inks[] = {
		[ROW_HEADING] = INK_TITLE, [ROW_SITE] = INK_STRONG, [ROW_WATCH] = INK_WATCH,
		[ROW_DONE] = INK_FAINT,
	};
	enum row_kind kind = screen->rows[index].kind;
	unsigned ink = (size_t)kind < sizeof inks / sizeof *inks ? inks[kind] : (unsigned)INK_PLAIN;

	return list_style(&screen->list, index, ink);
}

static void draw_row(struct workbook *workbook, const struct customer_screen *screen,
                     struct area area, int index)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct customer_page *page = &screen->page;
	const struct page_row *row = &screen->rows[index];
	unsigned style = row_style(screen, index);
	int at = index - screen->list.top;

	canvas_fill(canvas, area_rows(area, at, 1), style, ' ');
	switch (row->kind) {
	case ROW_BLANK:
		break;
	case ROW_HEADING:
		canvas_put(canvas, area, at, 1, style, row->heading);
		break;
	case ROW_SITE:
		canvas_put(canvas, area, at, 1, style, *page->systems[row->index].site.address
		           ? page->systems[row->index].site.address : "no address yet");
		break;
	case ROW_SYSTEM:
		draw_system(workbook, area, at, style, &page->systems[row->index]);
		break;
	case ROW_WATCH:
		draw_watch(canvas, area, at, style, page, &page->watch[row->index]);
		break;
	case ROW_OFFERED:
		draw_offered(canvas, area, at, style, &page->offered[row->index]);
		break;
	case ROW_VISIT:
		draw_visit(canvas, area, at, style, page, &page->visits[row->index]);
		break;
	case ROW_DONE:
		canvas_format(canvas, area, at, WORDS_COLUMN, style, "done: %s",
		              page->visits[row->index].done_line);
		break;
	}
}

static void draw_head(struct canvas *canvas, struct area area, const struct customer *who)
{
	int column = canvas_put(canvas, area, 0, 1, INK_TITLE, *who->name ? who->name : "no name yet");

	canvas_format(canvas, area, 0, column, INK_PLAIN, "%s%s%s%s", *who->phone ? ", " : "",
	              who->phone, *who->email ? ", " : "", who->email);
}

static const char *key_of(enum request request)
{
	return request == REQUEST_NONE ? "" : request_info(request)->key;
}

static void hint(struct workbook *workbook, const struct customer_screen *screen)
{
	static const struct {
		enum request first, second;  /* whose key stands before the words; NONE: no key */
		const char *words, *further; /* "shows its history." */
	} hints[] = {
		[ROW_SITE] = { REQUEST_CUSTOMER_NEW, REQUEST_NONE,
		               " begins a call for another unit at this address.", "" },
		[ROW_SYSTEM] = { REQUEST_CUSTOMER_NEW, REQUEST_LIST_PICK,
		                 " begins a new call for this unit. ",
		                 " shows its history." },
		[ROW_WATCH] = { REQUEST_CUSTOMER_NEW, REQUEST_NONE,
		                " begins a call for that unit. The watch item stands on its first page.",
		                "" },
		[ROW_OFFERED] = { REQUEST_NONE, REQUEST_NONE,
		                  "Offered and not taken. The next report says so.", "" },
		[ROW_VISIT] = { REQUEST_LIST_PICK, REQUEST_CUSTOMER_NEW, " opens this call. ",
		                " begins a new one for the same unit." },
	};
	const struct page_row *row = chosen_row(screen);

	if (row)
		workbook_hint(workbook, "%s%s%s%s", key_of(hints[row->kind].first), hints[row->kind].words,
		              key_of(hints[row->kind].second), hints[row->kind].further);
	record_hint(workbook);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct customer_screen *screen = state;
	struct canvas *canvas = workbook_canvas(workbook);

	draw_head(canvas, area, &screen->page.customer);
	struct area lines = list_layout(&screen->list, canvas, area_rows(area, 2, area.rows - 2));
	for (int i = screen->list.top; i < list_end(&screen->list); i++) {
		draw_row(workbook, screen, lines, i);
		workbook_hot(workbook, lines, i - screen->list.top, 0, lines.columns, i);
	}
	hint(workbook, screen);
}

/* The first click chooses, the second opens. */
static void click(struct workbook *workbook, void *state, int which)
{
	struct customer_screen *screen = state;
	bool is_chosen = which == list_chosen(&screen->list);

	if (which >= screen->list.count || !is_pickable(&screen->rows[which]))
		return;
	list_choose(&screen->list, which);
	if (is_chosen)
		open_row(workbook, screen, &screen->rows[which]);
}

static void done(void *state)
{
	struct customer_screen *screen = state;

	customer_page_done(&screen->page);
	free(screen->rows);
}

const struct screen screen_customer = {
	.place = PLACE_CUSTOMER, .state_size = sizeof(struct customer_screen),
	.enter = enter, .draw = draw, .press = press, .click = click, .done = done,
};
