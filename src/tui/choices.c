/*
 * Options: what the customer can have done, side by side, and what it costs.
 *
 * Each column is an option, the last one always empty: writing in it makes a
 * new one.  Below stands what each costs a year, in words for the customer.
 */
#include <stdio.h>
#include <string.h>

#include <padside/model/money.h>
#include <padside/app/session_find.h>
#include <padside/base/text.h>

#include "tui/choice_lines.h"
#include "tui/local.h"

enum {
	LABEL_COLUMN = 1, FIRST_COLUMN = 20, LEAST_WIDTH = 19, MOST_WIDTH = 34, LONG_ROWS = 2,
	SHORT_PAGE = 19, MOST_EARLIER = 6, RANGE_SIZE = 128
};

struct choices {
	int line;                            /* under the cursor */
	int chosen;                          /* the choice under it; the number of them: a new one */
	int first;                           /* the first one in sight */
	char currency[16];                   /* of the book */
	struct past_offer earlier[MOST_EARLIER]; /* not taken on earlier calls, newest first */
	int earlier_count;                   /* of them */
	struct uid call;                     /* whose choices these are */
};

/* ---- Where one is ---- */

static int count_of(struct workbook *workbook)
{
	return (int)session_call(workbook_session(workbook))->offer_count;
}

static struct form_place place_at(struct workbook *workbook, int chosen, int line)
{
	const struct call *call = session_call(workbook_session(workbook));
	bool is_fresh = chosen >= (int)call->offer_count;

	if (line >= OPTION_COUNT)
		return (struct form_place){ .kind = &choice_season_kind, .element = &call->billing,
		                            .line = line - OPTION_COUNT };
	return (struct form_place){ .kind = &choice_offer_kind, .is_fresh = is_fresh, .line = line,
	                            .element = is_fresh ? &choice_blank : &call->offers[chosen],
	                            .uid = is_fresh ? NULL : &call->offers[chosen].uid };
}

static struct form_place place_here(struct workbook *workbook, const struct choices *choices)
{
	return place_at(workbook, choices->chosen, choices->line);
}

/* After a change from outside: the cursor stays on something. */
static void hold(struct workbook *workbook, struct choices *choices)
{
	if (choices->chosen > count_of(workbook))
		choices->chosen = count_of(workbook);
}

static void enter(struct workbook *workbook, void *state)
{
	struct choices *choices = state;
	struct session *session = workbook_session(workbook);
	const struct call *call = session_call(session);
	struct error error;

	enum status status = session_currency(session, choices->currency, sizeof choices->currency,
	                                      &error);
	if (status == STATUS_OK)
		status = session_find_offered(session, choices->earlier, MOST_EARLIER,
		                              &choices->earlier_count, &error);
	if (status != STATUS_OK)
		workbook_refuse(workbook, &error);
	if (strcmp(choices->call.text, call->uid.text) != 0) {
		choices->call = call->uid;
		choices->line = choices->chosen = choices->first = 0;
	}
	hold(workbook, choices);
}

static void leave(struct workbook *workbook, void *state)
{
	struct form_place place = place_here(workbook, state);

	form_keep(workbook, &place);
}

/* ---- Keys ---- */

static void move(struct workbook *workbook, struct choices *choices, int lines, int columns)
{
	struct form_place place = place_here(workbook, choices);
	int line = choices->line + lines, chosen = choices->chosen + columns;

	if (!form_keep(workbook, &place))
		return;
	/* The two lines of the season stand beside each other, not in columns. */
	if (columns && choices->line >= OPTION_COUNT) {
		line = choices->line + columns;
		chosen = choices->chosen;
		if (line < OPTION_COUNT)
			return;
	}
	if (line >= 0 && line < OPTION_ALL)
		choices->line = line;
	if (chosen >= 0 && chosen <= count_of(workbook))
		choices->chosen = chosen;
}

static void take_out(struct workbook *workbook, struct choices *choices)
{
	struct error error;

	if (choices->chosen >= count_of(workbook))
		return;
	if (session_remove_offer(workbook_session(workbook), (size_t)choices->chosen,
	                         &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "option %d was taken out; %s brings it back",
		             choices->chosen + 1, request_info(REQUEST_UNDO)->key);
	else
		workbook_refuse(workbook, &error);
}

static void go_to_new(struct workbook *workbook, struct choices *choices)
{
	struct form_place place = place_here(workbook, choices);

	if (!form_keep(workbook, &place))
		return;
	choices->chosen = count_of(workbook);
	choices->line = OPTION_TITLE;
}

static enum request_place inner(struct workbook *workbook, void *state)
{
	hold(workbook, state);
	struct form_place place = place_here(workbook, state);
	return form_where(workbook, &place);
}

static bool press_on_line(struct workbook *workbook, struct choices *choices, enum request request,
                       struct key key)
{
	struct form_place place = place_here(workbook, choices);
	enum form_answer answer = form_press(workbook, &place, request, key);

	if (answer == FORM_NEXT)
		move(workbook, choices, 1, 0);
	return answer != FORM_IGNORED;
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	struct choices *choices = state;

	switch (request) {
	case REQUEST_CHOICES_UP:
		move(workbook, choices, -1, 0);
		return true;
	case REQUEST_CHOICES_DOWN:
		move(workbook, choices, 1, 0);
		return true;
	case REQUEST_CHOICES_BEFORE:
		move(workbook, choices, 0, -1);
		return true;
	case REQUEST_CHOICES_AFTER:
		move(workbook, choices, 0, 1);
		return true;
	case REQUEST_CHOICES_FIRST:
		move(workbook, choices, -choices->line, 0);
		return true;
	case REQUEST_CHOICES_LAST:
		move(workbook, choices, OPTION_ALL - 1 - choices->line, 0);
		return true;
	case REQUEST_CHOICES_NEW:
		go_to_new(workbook, choices);
		return true;
	case REQUEST_CHOICES_OUT:
		take_out(workbook, choices);
		return true;
	default:
		return press_on_line(workbook, choices, request, key);
	}
}

/* ---- What an option costs, in words ---- */

static struct offer_cost cost_of(struct workbook *workbook, const struct offer *offer)
{
	struct offer_cost cost;

	/* What is too large is left out: the cost is all 0 then. */
	(void)money_option_cost(session_call(workbook_session(workbook)), offer, &cost);
	return cost;
}

/* "$32 to $53", "$373"; whole amounts without ".00". */
static void write_range(const struct choices *choices, cents low, cents high, char *out,
                        size_t size)
{
	char ends[2][MONEY_SIZE];

	money_format_currency(low, choices->currency, ends[0], sizeof ends[0]);
	money_format_currency(high, choices->currency, ends[1], sizeof ends[1]);
	for (int i = 0; i < 2 && low % 100 == 0 && high % 100 == 0; i++) {
		char *cut = strstr(ends[i], ".00");
		if (cut)
			memmove(cut, cut + 3, strlen(cut + 3) + 1);
	}
	if (low == high)
		snprintf(out, size, "%s", ends[0]);
	else
		snprintf(out, size, "%s to %s", ends[0], ends[1]);
}

/* The same of an estimate, which is told without cents. */
static void write_about(const struct choices *choices, cents low, cents high, char *out,
                        size_t size)
{
	write_range(choices, money_whole(low), money_whole(high), out, size);
}

/* "Replace the fan motor: $385 to $420. Over 8 to 12 years that is …": for the customer. */
static void write_sentence(struct workbook *workbook, const struct choices *choices,
                           const struct offer *offer, struct text *text)
{
	struct offer_cost cost = cost_of(workbook, offer);
	char range[RANGE_SIZE];

	const char *title = *offer->title ? offer->title : "This option";
	size_t length = strlen(title);

	while (length > 1 && strchr(". ", title[length - 1]))
		length--;
	text_add_bytes(text, title, length);
	if (offer->price_high == 0) {
		text_add(text, ": no price typed.");
		return;
	}
	write_range(choices, offer->price_low, offer->price_high, range, sizeof range);
	text_add_format(text, ": %s.", range);
	if (cost.has_years) {
		write_about(choices, cost.year_low, cost.year_high, range, sizeof range);
		text_add(text, offer->years_low < offer->years_high ? " Over " : " Over its ");
		if (offer->years_low < offer->years_high)
			text_add_format(text, "%.4g to ", offer->years_low);
		text_add_format(text, "%.4g years that is %s a year", offer->years_high, range);
	}
	if (cost.has_years && cost.has_energy) {
		write_range(choices, cost.both_low, cost.both_high, range, sizeof range);
		text_add_format(text, ", %s with electricity", range);
	}
	text_add(text, cost.has_years ? ". An estimate." : "");
}

/* ---- Drawing ---- */

/* Columns of one choice, and how many are in sight at once. */
static int column_width(const struct area *area, int count, int *in_sight)
{
	int room = area->columns - FIRST_COLUMN;
	int most = room / (LEAST_WIDTH + 1) > 0 ? room / (LEAST_WIDTH + 1) : 1;

	*in_sight = count < most ? count : most;
	int width = room / *in_sight - 1;
	return width > MOST_WIDTH ? MOST_WIDTH : width;
}

/* Rows of a line; on a short page the note is cut, so that there is room below. */
static int rows_of(int line, bool is_short)
{
	return line == OPTION_TITLE || (line == OPTION_NOTE && !is_short) ? LONG_ROWS : 1;
}

/* A long text wraps in its column; while it is written it has the whole width. */
static void draw_long(struct workbook *workbook, const struct form_place *place, struct area cell,
                      struct area row, bool here)
{
	if (!here || !form_is_writing(workbook)) {
		form_draw_long(workbook, place, cell, here);
		return;
	}
	canvas_fill(workbook_canvas(workbook), row, INK_PLAIN, ' ');
	form_draw(workbook, place, row, 0, FIRST_COLUMN, row.columns - FIRST_COLUMN - 1, true);
}

/* Returns the rows used. */
static int draw_lines(struct workbook *workbook, struct choices *choices, struct area area,
                      int in_sight, int width, bool is_short)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int row = 0;

	for (int line = 0; line < OPTION_COUNT; line++) {
		int rows = rows_of(line, is_short);
		canvas_put(canvas, area, row, LABEL_COLUMN, line == choices->line ? INK_STRONG : INK_PLAIN,
		           choice_offer_kind.lines[line].label);
		/* The one being written comes last, over what stands beside it. */
		for (int pass = 0; pass < 2; pass++)
			for (int i = 0; i < in_sight; i++) {
				int chosen = choices->first + i, column = FIRST_COLUMN + i * (width + 1);
				bool here = chosen == choices->chosen && line == choices->line;
				struct form_place place = place_at(workbook, chosen, line);
				struct area cell = area_part(area, row, column, rows, width);
				if (here != (pass == 1))
					continue;
				if (rows > 1)
					draw_long(workbook, &place, cell, area_rows(area, row, 1), here);
				else
					form_draw(workbook, &place, cell, 0, 0, width, here);
			}
		row += rows;
	}
	return row;
}

static const char *const cost_labels[] = { "costs a year", "electricity a year",
                                           "together a year" };

static void draw_costs(struct workbook *workbook, struct choices *choices, struct area area,
                       int in_sight, int width)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct call *call = session_call(workbook_session(workbook));

	for (int i = 0; i < 3; i++)
		canvas_put(canvas, area, i, LABEL_COLUMN, INK_MARGIN, cost_labels[i]);
	for (int i = 0; i < in_sight && choices->first + i < count_of(workbook); i++) {
		struct offer_cost cost = cost_of(workbook, &call->offers[choices->first + i]);
		struct area cell = area_part(area, 0, FIRST_COLUMN + i * (width + 1), 3, width);
		char range[RANGE_SIZE];
		if (cost.has_years) {
			write_about(choices, cost.year_low, cost.year_high, range, sizeof range);
			canvas_put(canvas, cell, 0, 0, INK_MARGIN, range);
		}
		if (cost.has_energy) {
			write_about(choices, cost.energy, cost.energy, range, sizeof range);
			canvas_put(canvas, cell, 1, 0, INK_MARGIN, range);
		}
		if (cost.has_years && cost.has_energy) {
			write_range(choices, cost.both_low, cost.both_high, range, sizeof range);
			canvas_put(canvas, cell, 2, 0, INK_STRONG, range);
		}
	}
}

static void draw_season(struct workbook *workbook, struct choices *choices, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int column = LABEL_COLUMN;

	for (int line = OPTION_HOURS; line < OPTION_ALL; line++) {
		struct form_place place = place_at(workbook, 0, line);
		bool here = line == choices->line;
		column = canvas_put(canvas, area, 0, column, here ? INK_STRONG : INK_PLAIN,
		                    form_line_at(&place)->label) + 1;
		form_draw(workbook, &place, area, 0, column, 8, here);
		column += 8 + 3;
	}
}

static int draw_earlier(struct workbook *workbook, const struct choices *choices, struct area area,
                        int row)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char date[CLOCK_TEXT_SIZE];

	for (int i = 0; i < choices->earlier_count && row < area.rows; i++) {
		const struct past_offer *past = &choices->earlier[i];
		const struct offer *offer = &past->offer;
		bool is_decided = offer->decision != DECISION_NONE;
		local_date(is_decided ? offer->decided_at : past->offered_at, date, sizeof date);
		canvas_format(canvas, area, row++, LABEL_COLUMN, INK_WATCH, "%s%s%s%s: %s%s%s",
		              is_decided ? offer_outcome(offer, past->is_other_taken) : "offered",
		              " earlier", *date ? ", " : "", date, offer->title, *offer->note ? " — " : "",
		              offer->note);
	}
	return row;
}

static void draw_below(struct workbook *workbook, struct choices *choices, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	const struct call *call = session_call(workbook_session(workbook));
	struct text sentence;
	int row = 0;

	text_init(&sentence);
	if (choices->chosen < count_of(workbook))
		write_sentence(workbook, choices, &call->offers[choices->chosen], &sentence);
	if (sentence.length > 0)
		row = canvas_wrap(canvas, area, 0, LABEL_COLUMN, INK_PLAIN, text_get(&sentence));
	draw_earlier(workbook, choices, area, row);
	text_done(&sentence);
}

static void draw_heading(struct workbook *workbook, const struct choices *choices, struct area area,
                         int in_sight, int width)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int count = count_of(workbook);

	canvas_put(canvas, area, 0, LABEL_COLUMN, INK_TITLE, "Options");
	for (int i = 0; i < in_sight; i++) {
		int chosen = choices->first + i;
		unsigned style = chosen == choices->chosen ? INK_STRONG : INK_FAINT;
		struct area cell = area_part(area, 0, FIRST_COLUMN + i * (width + 1), 1, width);
		if (chosen == count)
			canvas_put(canvas, cell, 0, 0, style, "a new one");
		else
			canvas_format(canvas, cell, 0, 0, style, "%d", chosen + 1);
	}
	if (choices->first > 0)
		canvas_put(canvas, area, 0, FIRST_COLUMN - 2, INK_KEY, "←");
	if (choices->first + in_sight <= count)
		canvas_put(canvas, area, 0, area.columns - 1, INK_KEY, "→");
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct choices *choices = state;
	int in_sight;

	hold(workbook, choices);
	int width = column_width(&area, count_of(workbook) + 1, &in_sight);
	if (choices->chosen < choices->first)
		choices->first = choices->chosen;
	if (choices->chosen >= choices->first + in_sight)
		choices->first = choices->chosen - in_sight + 1;
	if (choices->first + in_sight > count_of(workbook) + 1)
		choices->first = count_of(workbook) + 1 - in_sight;
	bool is_short = area.rows < SHORT_PAGE;
	draw_heading(workbook, choices, area, in_sight, width);
	int row = 1 + draw_lines(workbook, choices, area_rows(area, 1, area.rows - 1), in_sight, width,
	                         is_short);
	if (!is_short)
		canvas_rule(workbook_canvas(workbook), area, row++, 0, area.columns, INK_RULE);
	draw_costs(workbook, choices, area_rows(area, row, 3), in_sight, width);
	draw_season(workbook, choices, area_rows(area, row + 3, 1));
	draw_below(workbook, choices, area_rows(area, row + 4, area.rows - row - 4));
}

const struct screen screen_choices = {
	.place = PLACE_CHOICES, .state_size = sizeof(struct choices), .inner = inner,
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
