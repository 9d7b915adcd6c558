/*
 * The report: what is told to the customer, how it looks, and where it goes.
 *
 * The lines above are written like everywhere; below them the report stands as
 * it would be written as text.
 */
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/base/text.h>

#include "tui/form.h"
#include "tui/local.h"
#include "tui/pager.h"

enum { LABEL_COLUMN = 1, VALUE_COLUMN = 21, NAME_LIMIT = 200, WORD_LIMIT = 24, TALL_ROWS = 30 };

enum {
	LINE_SUMMARY, LINE_OFFICE_NOTE, LINE_READER, LINE_FORMAT, LINE_FILE, LINE_CALL, LINE_ACCEPTED,
	LINE_TERMS, LINE_COUNT
};

/* What is asked for. */
struct paper_order {
	enum paper_reader reader;    /* for whom */
	enum paper_format format;    /* in which form */
	char file[NAME_LIMIT + 1];   /* into which file */
};

struct paper_page {
	int line;                    /* under the cursor; LINE_COUNT: the report is read */
	struct paper_order order;          /* as chosen */
	struct uid call;             /* whose file name that is */
	char refused[NAME_LIMIT + 1]; /* a file that is there already: asked again it is replaced */
	struct text text;            /* the report as text */
	struct pager pager;          /* on it */
	bool is_stale;               /* something changed since it was written out */
	enum unit_system units;      /* in which it was written out */
	int columns;                 /* how wide */
};

/* ---- The file ---- */

/*
 * "padside-2026-07-14-quill.txt": the day and the customer's last name; what is for the
 * office says so, that it is not handed to the customer.
 */
static void name_file(const struct call *call, struct paper_order *order)
{
	char date[CLOCK_TEXT_SIZE], name[32] = "";
	const char *last = strrchr(call->customer.name, ' ');
	size_t length = 0;

	clock_format_date(call->opened_at, date, sizeof date);
	for (const char *at = last ? last + 1 : call->customer.name; *at; at++)
		if (isalnum((unsigned char)*at) && length + 1 < sizeof name)
			name[length++] = (char)tolower((unsigned char)*at);
	name[length] = '\0';
	snprintf(order->file, sizeof order->file, "padside-%s-%s%s.%s", date, *name ? name : "call",
	         order->reader == PAPER_OFFICE ? "-office" : "", paper_format_ending(order->format));
}

/* ---- The lines ---- */

static void get_reader(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	(void)line, (void)session;
	text_copy(out, size, paper_reader_key(((const struct paper_order *)element)->reader));
}

/* The file is named for whom it is, where its name is still the usual one. */
static enum status set_reader(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	struct paper_order *order = element, usual = *order;
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	if (status != STATUS_OK)
		return status;
	name_file(session_call(session), &usual);
	order->reader = (enum paper_reader)word;
	if (strcmp(order->file, usual.file) == 0)
		name_file(session_call(session), order);
	return STATUS_OK;
}

static void get_format(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	(void)line, (void)session;
	text_copy(out, size, paper_format_key(((const struct paper_order *)element)->format));
}

/* The file's ending goes with the format, where it is still the usual one. */
static enum status set_format(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	struct paper_order *order = element;
	const char *old = paper_format_ending(order->format);
	size_t length = strlen(order->file), ending = strlen(old);
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	(void)session;
	if (status != STATUS_OK)
		return status;
	order->format = (enum paper_format)word;
	const char *fresh = paper_format_ending(order->format);
	if (length > ending && strcmp(order->file + length - ending, old) == 0 &&
	    length - ending + strlen(fresh) < sizeof order->file)
		text_copy(order->file + length - ending, sizeof order->file - (length - ending), fresh);
	return STATUS_OK;
}

static void get_file(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	(void)line, (void)session;
	text_copy(out, size, ((const struct paper_order *)element)->file);
}

static enum status set_file(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	struct paper_order *order = element;

	(void)session;
	if (!*typed)
		return error_set(error, STATUS_NOT_FOUND, "the report needs a file name");
	return form_read_text(line, typed, order->file, sizeof order->file, error);
}

static void get_call(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	(void)element;
	text_copy(out, size, line->words[session_call(session)->closed_at != WALL_TIME_NONE]);
}

static enum status set_call(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	(void)element;
	return status == STATUS_OK ? session_close_call(session, word == 1, error) : status;
}

/* What the order is, is nothing for the book. */
static enum status keep_order(struct session *session, const void *element, void *context,
                              struct error *error)
{
	struct paper_page *page = context;

	(void)session, (void)error;
	memcpy(&page->order, element, sizeof page->order);
	return STATUS_OK;
}

/* What is not kept is neither on the report nor in the closed call: that is said with both. */
static void say_done(struct workbook *workbook, const char *what, const char *path)
{
	struct text unkept;

	text_init(&unkept);
	bool is_whole = !workbook_tell_unkept(workbook, &unkept);
	workbook_say(workbook, is_whole ? INK_KEPT : INK_QUESTION, "%s%s%s%s", what, path,
	             is_whole ? "" : ". Without what stands refused: ", text_get(&unkept));
	text_done(&unkept);
}

static void tell_closed(struct workbook *workbook, const struct form_line *line,
                        const void *element, void *context)
{
	(void)element, (void)context;
	if (line->set == set_call &&
	    session_call(workbook_session(workbook))->closed_at != WALL_TIME_NONE)
		say_done(workbook, "closed", "");
}

static const struct form_line lines[LINE_COUNT] = {
	[LINE_SUMMARY] = { .short_texts = SHORT_DONE, .label = "in plain words",
	                   .help = "what you tell the customer; the report begins with it",
	                   .limit = NOTE_SIZE - 1, .is_field = true, .which = FIELD_SUMMARY,
	                   .get = form_get_field, .set = form_set_field },
	[LINE_ACCEPTED] = { .label = "accepted by",
	                    .help = "who accepts the finished work, with the time; or a "
	                            "line to sign on paper",
	                    .limit = NAME_SIZE - 1, .is_field = true, .which = FIELD_ACCEPTED_BY,
	                    .get = form_get_field, .set = form_set_field },
	[LINE_TERMS] = { .label = "payment terms", .help = "as printed on the report",
	                 .short_texts = SHORT_OWN, .limit = LINE_SIZE - 1, .is_field = true,
	                 .which = FIELD_PAYMENT_TERMS, .get = form_get_field, .set = form_set_field },
	[LINE_OFFICE_NOTE] = { .short_texts = SHORT_OWN, .label = "note for the office",
	                       .help = "never on the customer's report",
	                       .limit = NOTE_SIZE - 1, .is_field = true, .which = FIELD_OFFICE_NOTE,
	                       .get = form_get_field, .set = form_set_field },
	[LINE_READER] = { .label = "report for",
	                  .help = "the customer: plain words; the office: everything.",
	                  .words = { "customer", "office" }, .limit = WORD_LIMIT,
	                  .get = get_reader, .set = set_reader },
	[LINE_FORMAT] = { .label = "written as",
	                  .help = "HTML prints best; JSON is the whole call, for another "
	                  "book.", .words = { "text", "markdown", "html", "csv", "pdf", "json" },
	                  .limit = WORD_LIMIT, .get = get_format, .set = set_format },
	[LINE_FILE] = { .label = "into the file",
	                .help = "the report is written there; type another name or folder",
	                .limit = NAME_LIMIT, .get = get_file, .set = set_file },
	[LINE_CALL] = { .label = "this call is",
	                .help = "closed once the work is finished; it can be opened again.",
	                .words = { "open", "closed" }, .limit = WORD_LIMIT,
	                .get = get_call, .set = set_call },
};

static const struct form_kind page_kind = {
	.name = "report",
	.lines = lines, .count = LINE_COUNT, .size = sizeof(struct paper_order), .keep = keep_order,
	.kept = tell_closed,
};

static struct form_place place_at(struct paper_page *page, int line)
{
	return (struct form_place){ .kind = &page_kind, .element = &page->order, .line = line,
	                            .context = page };
}

/* ---- The paper ---- */

static enum status write_paper(struct workbook *workbook, const struct paper_page *page,
                               enum paper_format format, int columns, struct text *text,
                               struct error *error)
{
	struct session *session = workbook_session(workbook);
	struct paper_choice choice = {
		.format = format, .reader = page->order.reader, .columns = columns,
		.plain = format == PAPER_TEXT && canvas_is_plain(workbook_canvas(workbook)),
	};

	return session_write_paper(session, &choice, text, error);
}

/* As wide as a page, or as there is room for beside the bar. */
static int preview_columns(const struct area *area)
{
	int room = area->columns - 1;

	return room < DOCUMENT_TEXT_COLUMNS ? room : DOCUMENT_TEXT_COLUMNS;
}

/* Writes the paper out for reading, where something changed. */
static void refresh(struct workbook *workbook, struct paper_page *page, int columns)
{
	struct error error;
	enum unit_system units = session_units(workbook_session(workbook));

	if (!page->is_stale && page->units == units && page->columns == columns)
		return;
	page->is_stale = false;
	page->units = units;
	page->columns = columns;
	text_clear(&page->text);
	if (write_paper(workbook, page, PAPER_TEXT, columns, &page->text, &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	/* What changed above leaves the reader where he was. */
	page->pager.text = text_get(&page->text);
}

static void enter(struct workbook *workbook, void *state)
{
	struct paper_page *page = state;
	const struct call *call = session_call(workbook_session(workbook));

	if (strcmp(page->call.text, call->uid.text) != 0) {
		page->call = call->uid;
		page->line = 0;
		pager_open(&page->pager, "");
		page->pager.is_set = true;
		page->order = (struct paper_order){ .reader = PAPER_CUSTOMER, .format = PAPER_TEXT };
		name_file(call, &page->order);
	}
	const enum field field = workbook_take_target_field(workbook);
	for (int i = 0; i < LINE_COUNT; i++)
		if (lines[i].is_field && lines[i].which == (int)field)
			page->line = i;
	page->is_stale = true;
	page->refused[0] = '\0';
}

/* Keeps what is being written; false when it was refused, which holds the cursor once. */
static bool keep(struct workbook *workbook, struct paper_page *page)
{
	struct form_place place = place_at(page, page->line < LINE_COUNT ? page->line : LINE_FILE);

	return form_keep(workbook, &place);
}

static void leave(struct workbook *workbook, void *state)
{
	keep(workbook, state);
}

static void say_written(struct workbook *workbook, const char *path)
{
	char *whole = realpath(path, NULL);

	say_done(workbook, "written: ", whole ? whole : path);
	free(whole);
}

/* Writes the file; one that is there is only replaced when that is asked for again. */
static void save(struct workbook *workbook, struct paper_page *page)
{
	bool again = strcmp(page->refused, page->order.file) == 0;
	struct text text;
	struct error error;

	text_init(&text);
	enum status status = write_paper(workbook, page, page->order.format, 0, &text, &error);
	if (status == STATUS_OK)
		status = papers_save(page->order.file, &text, again, &error);
	page->refused[0] = '\0';
	if (status == STATUS_OK) {
		say_written(workbook, page->order.file);
	} else if (status == STATUS_EXISTS) {
		text_copy(page->refused, sizeof page->refused, page->order.file);
		workbook_say(workbook, INK_REFUSED, "%s. %s again replaces it; or give another name.",
		             error.text, request_info(REQUEST_FILE_WRITE)->key);
	} else {
		workbook_refuse(workbook, &error);
	}
	text_done(&text);
}

/* ---- Keys ---- */

static void move(struct workbook *workbook, struct paper_page *page, int by)
{
	int to = page->line + by;

	if (keep(workbook, page) && to >= 0 && to <= LINE_COUNT)
		page->line = to;
}

static enum request_place where(const void *state)
{
	int line = ((const struct paper_page *)state)->line;

	return line == LINE_COUNT ? PLACE_REPORT : line == LINE_FILE ? PLACE_FILE : PLACE_PAPER;
}

static enum request_place inner(struct workbook *workbook, void *state)
{
	struct paper_page *page = state;
	struct form_place place = place_at(page, page->line < LINE_COUNT ? page->line : LINE_FILE);

	return page->line < LINE_COUNT ? form_where(workbook, &place) : PLACE_COUNT;
}

/* The keys of what is under the cursor: a line, or below them the report. */
static bool press_on_line(struct workbook *workbook, struct paper_page *page, enum request request,
                       struct key key)
{
	if (page->line == LINE_COUNT)
		return pager_key(&page->pager, key);
	struct form_place place = place_at(page, page->line);
	enum form_answer answer = form_press(workbook, &place, request, key);
	/* A new name stays under the cursor: the next key writes. */
	if (answer == FORM_NEXT && page->line != LINE_FILE)
		move(workbook, page, 1);
	return answer != FORM_IGNORED;
}

static bool carry_out(struct workbook *workbook, struct paper_page *page, enum request request,
                      struct key key)
{
	struct form_place file = place_at(page, LINE_FILE);

	switch (request) {
	case REQUEST_PAPER_UP:
		move(workbook, page, -1);
		return true;
	case REQUEST_PAPER_DOWN:
		move(workbook, page, 1);
		return true;
	case REQUEST_PAPER_TURN:
		move(workbook, page, LINE_COUNT - page->line);
		return true;
	case REQUEST_PAPER_FIRST:
		move(workbook, page, -page->line);
		return true;
	case REQUEST_PAPER_LAST:
		move(workbook, page, LINE_COUNT - 1 - page->line);
		return true;
	case REQUEST_FILE_WRITE:
		if (!form_find_held(workbook, &file))
			save(workbook, page);
		return true;
	case REQUEST_REPORT_BACK:
		page->line = LINE_FILE;
		return true;
	case REQUEST_PAGER_UP:
		/* Above the report's first line are the lines of the page. */
		if (page->pager.top > 0)
			return pager_key(&page->pager, key);
		move(workbook, page, -1);
		return true;
	default:
		return press_on_line(workbook, page, request, key);
	}
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct paper_page *page = state;
	bool is_reading = page->line == LINE_COUNT;
	bool taken = carry_out(workbook, page, request, key);

	/* A key for the workbook may change the call too: it may take something back. */
	page->is_stale = page->is_stale || !taken || !is_reading;
	return taken;
}

/* ---- Drawing ---- */

static void draw_line(struct workbook *workbook, struct paper_page *page, struct area area, int row,
                      int rows, int line)
{
	struct form_place place = place_at(page, line);
	struct area cell = area_part(area, row, VALUE_COLUMN, rows, area.columns - VALUE_COLUMN - 1);
	bool here = line == page->line;

	canvas_put(workbook_canvas(workbook), area, row, LABEL_COLUMN, here ? INK_STRONG : INK_PLAIN,
	           lines[line].label);
	form_draw_long(workbook, &place, cell, here);
}

/* When the call was closed stands beside its line. */
static void draw_closed(struct workbook *workbook, struct area area, int row)
{
	wall_time at = session_call(workbook_session(workbook))->closed_at;
	char date[CLOCK_TEXT_SIZE], hour[CLOCK_TEXT_SIZE];

	if (at == WALL_TIME_NONE)
		return;
	local_date(at, date, sizeof date);
	clock_format_hour(at, hour, sizeof hour);
	canvas_format(workbook_canvas(workbook), area, row, VALUE_COLUMN + 8, INK_KEPT, "%s %s", date,
	              hour);
}

/* What is still to be written down; returns the row behind it. */
static int draw_lack(struct workbook *workbook, struct area area, int row)
{
	static const struct {
		const char *words; /* what is lacking; NULL: nothing */
		enum step step;    /* where it is written */
	} lacks[] = {
		[PAPER_LACKS_LOCK] = { "The unit must stay off: was it left off, locked and tagged?",
		                       STEP_SAFETY },
		[PAPER_LACKS_LOCK_AGAIN] = { "Locked, but power was seen after that: how was it left?",
		                             STEP_SAFETY },
		[PAPER_LACKS_TRUTH] = { "Your summary says all is in order, but a finding is still open:",
		                        STEP_FINDINGS },
		[PAPER_LACKS_WORK] = { "Repaired by the readings, but no line says what was done:",
		                       STEP_WORK },
		[PAPER_LACKS_LEAK] = { "Charge was low or was added: where was the leak, or none found?",
		                       STEP_REFRIGERANT },
		[PAPER_LACKS_FILLING] = { "Weigh-in and charge log differ a little: one filling, or two?",
		                          STEP_REFRIGERANT },
		[PAPER_LACKS_DECISION] = { "An option has no decision, and its work is on the bill:",
		                           STEP_CHOICES },
		[PAPER_LACKS_BILL] = { "Options were accepted for more than the work is billed at:",
		                       STEP_WORK },
		[PAPER_LACKS_PRICE] = { "A line of the work has no price and is not marked free:",
		                        STEP_WORK },
	};
	enum paper_lack lack = session_report_lacks(workbook_session(workbook));

	if (lack == PAPER_LACKS_NOTHING)
		return row;
	canvas_format(workbook_canvas(workbook), area, row, LABEL_COLUMN, INK_WATCH, "%s %s",
	              lacks[lack].words, workbook_step_key(lacks[lack].step));
	return row + 1;
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct paper_page *page = state;
	bool is_reading = page->line == LINE_COUNT;
	int row = 0, long_rows = area.rows >= TALL_ROWS ? 3 : 1;

	refresh(workbook, page, preview_columns(&area));
	for (int line = 0; line < LINE_COUNT; line++) {
		int rows = line == LINE_SUMMARY || line == LINE_OFFICE_NOTE ? long_rows : 1;
		draw_line(workbook, page, area, row, rows, line);
		if (line == LINE_CALL && !(form_is_writing(workbook) && page->line == LINE_CALL))
			draw_closed(workbook, area, row);
		row += rows;
	}
	canvas_rule(workbook_canvas(workbook), area, row, 0, area.columns, INK_RULE);
	row = draw_lack(workbook, area, row + 1);
	pager_draw(&page->pager, workbook_canvas(workbook), area_rows(area, row, area.rows - row),
	           is_reading ? INK_PLAIN : INK_MARGIN);
	if (is_reading)
		workbook_hint(workbook, "%s%s. %s, then %s on \"%s\", writes it.",
		              page->order.format == PAPER_TEXT ? "As it will be written"
		                                               : "The file will be ",
		              page->order.format == PAPER_TEXT ? "" : paper_format_key(page->order.format),
		              request_info(REQUEST_REPORT_BACK)->key, request_info(REQUEST_FILE_WRITE)->key,
		              lines[LINE_FILE].label);
}

static void done(void *state)
{
	text_done(&((struct paper_page *)state)->text);
}

const struct screen screen_paper = {
	.place = PLACE_PAPER, .state_size = sizeof(struct paper_page), .where = where, .inner = inner,
	.enter = enter, .draw = draw, .press = press, .leave = leave, .done = done,
};
