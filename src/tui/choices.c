/*
 * Choices: what the customer can have done, side by side, and what it costs.
 *
 * Each column is a choice, the last one always empty: writing in it makes a
 * new one.  Below stands what each costs a year, in words for the customer.
 */
#include <stdio.h>
#include <string.h>

#include <padside/model/money.h>
#include <padside/app/papers.h>
#include <padside/base/text.h>

#include "tui/form.h"
#include "tui/local.h"

enum {
	LABEL_COLUMN = 1, FIRST_COLUMN = 20, LEAST_WIDTH = 19, MOST_WIDTH = 34, LONG_ROWS = 2,
	MOST_EARLIER = 6, NUMBER_LIMIT = 24, RANGE_SIZE = 128
};

/* The lines of a choice, then those of the season below all choices. */
enum {
	LINE_TITLE, LINE_PRICE_LOW, LINE_PRICE_HIGH, LINE_YEARS_LOW, LINE_YEARS_HIGH, LINE_SEER,
	LINE_DECISION, LINE_DECIDED_BY, LINE_NOTE, LINE_COUNT,
	LINE_HOURS = LINE_COUNT, LINE_RATE, ALL_LINES
};

struct choices {
	struct form form;                    /* what is being written */
	int line;                            /* under the cursor */
	int chosen;                          /* the choice under it; the number of them: a new one */
	int first;                           /* the first one in sight */
	char currency[16];                   /* of the book */
	struct offer earlier[MOST_EARLIER];  /* declined on earlier calls, newest first */
	int earlier_count;                   /* of them */
	struct uid call;                     /* whose choices these are */
};

static const struct offer blank_offer = { .decided_at = WALL_TIME_NONE };

/* ---- The lines of a choice ---- */

static char *text_of(struct offer *offer, int line, size_t *size)
{
	*size = line == LINE_DECIDED_BY ? sizeof offer->decided_by : sizeof offer->title;
	return line == LINE_TITLE ? offer->title : line == LINE_NOTE ? offer->note : offer->decided_by;
}

static void get_text(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	struct offer offer = *(const struct offer *)element;
	size_t most;

	(void)session;
	text_copy(out, size, text_of(&offer, line->which, &most));
}

static enum status set_text(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	size_t most;
	char *text = text_of(element, line->which, &most);

	(void)session;
	return form_read_text(line, typed, text, most, error);
}

static void get_price(const struct form_line *line, const void *element, struct session *session,
                      char *out, size_t size)
{
	const struct offer *offer = element;
	cents price = line->which == LINE_PRICE_LOW ? offer->price_low : offer->price_high;

	(void)session;
	out[0] = '\0';
	if (price != 0)
		money_format(price, out, size);
}

/* The highest follows the lowest up, and the lowest the highest down. */
static enum status set_price(const struct form_line *line, void *element, const char *typed,
                             struct session *session, struct error *error)
{
	struct offer *offer = element;
	cents price;
	enum status status = form_read_money(line, typed, &price, error);

	(void)session;
	if (status != STATUS_OK)
		return status;
	if (price < 0)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: a price is not below 0", line->label);
	if (line->which == LINE_PRICE_LOW) {
		bool was_fixed = offer->price_low == offer->price_high;
		offer->price_high = was_fixed || offer->price_high < price ? price : offer->price_high;
		offer->price_low = price;
	} else {
		if (offer->price_low == 0 || offer->price_low > price)
			offer->price_low = price;
		offer->price_high = price;
	}
	return STATUS_OK;
}

static double *number_of(struct offer *offer, int line)
{
	return line == LINE_SEER ? &offer->seer : line == LINE_YEARS_LOW ? &offer->years_low
	                                                                 : &offer->years_high;
}

static void get_number(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	struct offer offer = *(const struct offer *)element;
	double number = *number_of(&offer, line->which);

	(void)session;
	out[0] = '\0';
	if (number > 0)
		snprintf(out, size, "%.4g", number);
}

static enum status set_number(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	struct offer *offer = element;
	double *target = number_of(offer, line->which), before = *target;
	bool was_fixed = !(offer->years_low < offer->years_high);
	enum status status = form_read_number(line, typed, 0.1, 100, target, error);

	(void)session;
	if (status != STATUS_OK)
		return status;
	if (line->which == LINE_YEARS_LOW && (was_fixed || offer->years_high < offer->years_low))
		offer->years_high = offer->years_low;
	if (line->which == LINE_YEARS_HIGH && *typed && offer->years_high < offer->years_low) {
		*target = before;
		return error_set(error, STATUS_OUT_OF_RANGE,
		                 "%s: it lasts no shorter than the shortest time",
		                 line->label);
	}
	return STATUS_OK;
}

static void get_decision(const struct form_line *line, const void *element,
                         struct session *session, char *out, size_t size)
{
	(void)session;
	text_copy(out, size, line->words[((const struct offer *)element)->decision]);
}

static enum status set_decision(const struct form_line *line, void *element, const char *typed,
                                struct session *session, struct error *error)
{
	struct offer *offer = element;
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	if (status != STATUS_OK)
		return status;
	offer->decision = (enum decision)word;
	offer->decided_at = word == DECISION_NONE ? WALL_TIME_NONE : session_now(session);
	if (word != DECISION_NONE && !*offer->decided_by)
		text_copy(offer->decided_by, sizeof offer->decided_by,
		          session_field(session, FIELD_CUSTOMER_NAME));
	return STATUS_OK;
}

static enum status keep_offer(struct session *session, const void *element, void *context,
                              struct error *error)
{
	(void)context;
	return session_put_offer(session, element, error);
}

static const struct form_line offer_lines[LINE_COUNT] = {
	[LINE_TITLE] = { .label = "what is done",
	                 .help = "in the customer's words, as the paper says it",
	                 .limit = LINE_SIZE - 1, .which = LINE_TITLE, .get = get_text, .set = set_text },
	[LINE_PRICE_LOW] = { .label = "price from", .help = "the price, or the lowest it may come to",
	                     .limit = NUMBER_LIMIT, .which = LINE_PRICE_LOW, .get = get_price,
	                     .set = set_price },
	[LINE_PRICE_HIGH] = { .label = "price to",
	                      .help = "the highest it may come to; the same when fixed",
	                      .limit = NUMBER_LIMIT, .which = LINE_PRICE_HIGH, .get = get_price,
	                      .set = set_price },
	[LINE_YEARS_LOW] = { .label = "lasts from, years", .help = "how long it may last, at least",
	                     .limit = NUMBER_LIMIT, .which = LINE_YEARS_LOW, .get = get_number,
	                     .set = set_number },
	[LINE_YEARS_HIGH] = { .label = "lasts to, years", .help = "how long it may last, at most",
	                      .limit = NUMBER_LIMIT, .which = LINE_YEARS_HIGH, .get = get_number,
	                      .set = set_number },
	[LINE_SEER] = { .label = "SEER",
	                .help = "of the machine under this choice; empty: as it is now",
	                .limit = NUMBER_LIMIT, .which = LINE_SEER, .get = get_number, .set = set_number },
	[LINE_DECISION] = { .label = "the customer",
	                    .help = "what the customer said, kept with the time.",
	                    .words = { "undecided", "accepted", "declined" }, .limit = NUMBER_LIMIT,
	                    .which = LINE_DECISION, .get = get_decision, .set = set_decision },
	[LINE_DECIDED_BY] = { .label = "said by", .help = "who said it", .limit = NAME_SIZE - 1,
	                      .which = LINE_DECIDED_BY, .get = get_text, .set = set_text },
	[LINE_NOTE] = { .label = "note", .help = "what was said with it; printed on the paper",
	                .limit = LINE_SIZE - 1, .which = LINE_NOTE, .get = get_text, .set = set_text },
};

static const struct form_kind offer_kind = {
	.lines = offer_lines, .count = LINE_COUNT, .size = sizeof(struct offer), .keep = keep_offer,
};

/* ---- The season ---- */

static double *season_of(struct billing *billing, int line)
{
	return line == LINE_HOURS ? &billing->cooling_hours : &billing->energy_rate;
}

static void get_season(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	struct billing billing = *(const struct billing *)element;
	double number = *season_of(&billing, line->which);

	(void)session;
	out[0] = '\0';
	if (number > 0)
		snprintf(out, size, "%.6g", number);
}

static enum status set_season(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	(void)session;
	return form_read_number(line, typed, 0.1, 8784, season_of(element, line->which), error);
}

static enum status keep_billing(struct session *session, const void *element, void *context,
                                struct error *error)
{
	(void)context;
	return session_put_billing(session, element, error);
}

static const struct form_line season_lines[] = {
	{ .label = "cooling hours a year",
	  .help = "full-load hours a year at this place: the local figure",
	  .limit = NUMBER_LIMIT, .which = LINE_HOURS, .get = get_season, .set = set_season },
	{ .label = "cents a kWh", .help = "what electricity costs here, cents for a kilowatt-hour",
	  .limit = NUMBER_LIMIT, .which = LINE_RATE, .get = get_season, .set = set_season },
};

static const struct form_kind season_kind = {
	.lines = season_lines, .count = 2, .size = sizeof(struct billing), .keep = keep_billing,
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

	if (line >= LINE_COUNT)
		return (struct form_place){ .kind = &season_kind, .element = &call->billing,
		                            .line = line - LINE_COUNT };
	return (struct form_place){ .kind = &offer_kind, .is_fresh = is_fresh, .line = line,
	                            .element = is_fresh ? &blank_offer : &call->offers[chosen] };
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

static bool take_earlier(const struct offer *offer, const struct uid *call, void *context)
{
	struct workbook *workbook = ((void **)context)[0];
	struct choices *choices = ((void **)context)[1];

	if (strcmp(call->text, session_call(workbook_session(workbook))->uid.text) != 0)
		choices->earlier[choices->earlier_count++] = *offer;
	return choices->earlier_count < MOST_EARLIER;
}

static void enter(struct workbook *workbook, void *state)
{
	struct choices *choices = state;
	struct session *session = workbook_session(workbook);
	const struct call *call = session_call(session);
	void *context[] = { workbook, choices };
	struct error error;

	choices->form.writing = false;
	choices->earlier_count = 0;
	enum status status = papers_currency(session_store(session), choices->currency,
	                                     sizeof choices->currency, &error);
	if (status == STATUS_OK)
		status = store_declined_offers(session_store(session), &call->customer.uid, &call->system.uid,
		                               take_earlier, context, &error);
	if (status != STATUS_OK)
		workbook_refuse(workbook, &error);
	if (strcmp(choices->call.text, call->uid.text) != 0) {
		choices->call = call->uid;
		choices->line = choices->chosen = choices->first = 0;
	}
	hold(workbook, choices);
}

static bool leave(struct workbook *workbook, void *state)
{
	struct choices *choices = state;
	struct form_place place = place_here(workbook, choices);

	return form_keep(workbook, &choices->form, &place);
}

/* ---- Keys ---- */

static void move(struct workbook *workbook, struct choices *choices, int lines, int columns)
{
	int line = choices->line + lines, chosen = choices->chosen + columns;

	if (!leave(workbook, choices))
		return;
	/* The two lines of the season stand beside each other, not in columns. */
	if (columns && choices->line >= LINE_COUNT) {
		line = choices->line + columns;
		chosen = choices->chosen;
		if (line < LINE_COUNT)
			return;
	}
	if (line >= 0 && line < ALL_LINES)
		choices->line = line;
	if (chosen >= 0 && chosen <= count_of(workbook))
		choices->chosen = chosen;
}

static void take_out(struct workbook *workbook, struct choices *choices)
{
	struct error error;

	choices->form.writing = false;
	if (choices->chosen >= count_of(workbook))
		return;
	if (session_remove_offer(workbook_session(workbook), (size_t)choices->chosen,
	                         &error) == STATUS_OK)
		workbook_say(workbook, INK_KEPT, "choice %d was taken out; Ctrl+/ brings it back",
		             choices->chosen + 1);
	else
		workbook_refuse(workbook, &error);
}

static bool press_moving(struct workbook *workbook, struct choices *choices, struct key key)
{
	switch (key.press) {
	case PRESS_UP:
	case PRESS_BACK_TAB:
		move(workbook, choices, -1, 0);
		return true;
	case PRESS_DOWN:
	case PRESS_TAB:
		move(workbook, choices, 1, 0);
		return true;
	case PRESS_LEFT:
	case PRESS_RIGHT:
		move(workbook, choices, 0, key.press == PRESS_LEFT ? -1 : 1);
		return true;
	case PRESS_HOME:
	case PRESS_END:
		move(workbook, choices, (key.press == PRESS_HOME ? 0 : LINE_NOTE) - choices->line, 0);
		return true;
	default:
		return false;
	}
}

static bool press(struct workbook *workbook, void *state, struct key key)
{
	struct choices *choices = state;

	hold(workbook, choices);
	struct form_place place = place_here(workbook, choices);
	switch (request_from_key(key, PLACE_CHOICES, false)) {
	case REQUEST_CHOICES_NEW:
		if (leave(workbook, choices)) {
			choices->chosen = count_of(workbook);
			choices->line = LINE_TITLE;
		}
		return true;
	case REQUEST_CHOICES_OUT:
		take_out(workbook, choices);
		return true;
	default:
		break;
	}
	switch (form_press(workbook, &choices->form, &place, key)) {
	case FORM_NEXT:
		move(workbook, choices, 1, 0);
		return true;
	case FORM_TAKEN:
		return true;
	default:
		return press_moving(workbook, choices, key);
	}
}

/* ---- What a choice costs, in words ---- */

static struct offer_cost cost_of(struct workbook *workbook, const struct offer *offer)
{
	const struct call *call = session_call(workbook_session(workbook));
	double tons = 0, seer = 0;
	struct offer_cost cost;

	if (visit_number(&call->visit, STAGE_AS_FOUND, READING_NOMINAL_CAPACITY, &tons) != STATUS_OK)
		tons = 0;
	if (visit_number(&call->visit, STAGE_AS_FOUND, READING_SEER, &seer) != STATUS_OK)
		seer = 0;
	if (money_offer_cost(offer, &call->billing, tons, seer, &cost) != STATUS_OK)
		cost = (struct offer_cost){ .has_years = false };
	return cost;
}

/* Estimates are told without cents. */
static cents about(cents amount)
{
	return (amount + 50) / 100 * 100;
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

/* "Replace the fan motor: $385 to $420. Over 8 to 12 years that is …": for the customer. */
static void write_sentence(struct workbook *workbook, const struct choices *choices,
                           const struct offer *offer, struct text *text)
{
	struct offer_cost cost = cost_of(workbook, offer);
	char range[RANGE_SIZE];

	write_range(choices, offer->price_low, offer->price_high, range, sizeof range);
	text_add_format(text, "%s: %s.", *offer->title ? offer->title : "This choice", range);
	if (cost.has_years) {
		write_range(choices, about(cost.year_low), about(cost.year_high), range, sizeof range);
		text_add(text, offer->years_low < offer->years_high ? " Over " : " Over its ");
		if (offer->years_low < offer->years_high)
			text_add_format(text, "%.4g to ", offer->years_low);
		text_add_format(text, "%.4g years that is %s a year", offer->years_high, range);
	}
	if (cost.has_years && cost.has_energy) {
		write_range(choices, about(cost.year_low + cost.energy),
		            about(cost.year_high + cost.energy), range,
		            sizeof range);
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

static bool is_long(int line)
{
	return line == LINE_TITLE || line == LINE_NOTE;
}

/* A long text wraps in its column; while it is written it has the whole width. */
static void draw_long(struct workbook *workbook, struct choices *choices,
                      const struct form_place *place, struct area cell, struct area row, bool here)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char text[LINE_SIZE];

	if (here && choices->form.writing) {
		canvas_fill(canvas, row, INK_PLAIN, ' ');
		form_draw(workbook, &choices->form, place, row, 0, FIRST_COLUMN,
		          row.columns - FIRST_COLUMN - 1,
		          true);
		return;
	}
	form_get(place, workbook_session(workbook), text, sizeof text);
	if (!*text || canvas_width_of(canvas, text) <= cell.columns) {
		form_draw(workbook, &choices->form, place, cell, 0, 0, cell.columns, here);
		return;
	}
	if (here)
		form_hint(workbook, form_line_at(place));
	if (canvas_wrap(canvas, cell, 0, 0, INK_FIELD | (here ? STYLE_REVERSE : 0), text) > cell.rows)
		canvas_put(canvas, cell, cell.rows - 1, cell.columns - 1, INK_FIELD, "…");
}

static void draw_lines(struct workbook *workbook, struct choices *choices, struct area area,
                       int in_sight, int width)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int row = 0;

	for (int line = 0; line < LINE_COUNT; line++) {
		int rows = is_long(line) ? LONG_ROWS : 1;
		canvas_put(canvas, area, row, LABEL_COLUMN, line == choices->line ? INK_STRONG : INK_PLAIN,
		           offer_lines[line].label);
		/* The one being written comes last, over what stands beside it. */
		for (int pass = 0; pass < 2; pass++)
			for (int i = 0; i < in_sight; i++) {
				int chosen = choices->first + i, column = FIRST_COLUMN + i * (width + 1);
				bool here = chosen == choices->chosen && line == choices->line;
				struct form_place place = place_at(workbook, chosen, line);
				struct area cell = area_part(area, row, column, rows, width);
				if (here != (pass == 1))
					continue;
				if (is_long(line))
					draw_long(workbook, choices, &place, cell, area_rows(area, row, 1), here);
				else
					form_draw(workbook, &choices->form, &place, cell, 0, 0, width, here);
			}
		row += rows;
	}
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
			write_range(choices, about(cost.year_low), about(cost.year_high), range, sizeof range);
			canvas_put(canvas, cell, 0, 0, INK_MARGIN, range);
		}
		if (cost.has_energy) {
			write_range(choices, about(cost.energy), about(cost.energy), range, sizeof range);
			canvas_put(canvas, cell, 1, 0, INK_MARGIN, range);
		}
		if (cost.has_years && cost.has_energy) {
			write_range(choices, about(cost.year_low + cost.energy),
			            about(cost.year_high + cost.energy), range, sizeof range);
			canvas_put(canvas, cell, 2, 0, INK_STRONG, range);
		}
	}
}

static void draw_season(struct workbook *workbook, struct choices *choices, struct area area)
{
	struct canvas *canvas = workbook_canvas(workbook);
	int column = LABEL_COLUMN;

	for (int line = LINE_HOURS; line < ALL_LINES; line++) {
		struct form_place place = place_at(workbook, 0, line);
		bool here = line == choices->line;
		column = canvas_put(canvas, area, 0, column, here ? INK_STRONG : INK_PLAIN,
		                    form_line_at(&place)->label) + 1;
		form_draw(workbook, &choices->form, &place, area, 0, column, 8, here);
		column += 8 + 3;
	}
}

static int draw_earlier(struct workbook *workbook, const struct choices *choices, struct area area,
                        int row)
{
	struct canvas *canvas = workbook_canvas(workbook);
	char date[CLOCK_TEXT_SIZE];

	for (int i = 0; i < choices->earlier_count && row < area.rows; i++) {
		const struct offer *offer = &choices->earlier[i];
		local_date(offer->decided_at, date, sizeof date);
		canvas_format(canvas, area, row++, LABEL_COLUMN, INK_WATCH, "declined earlier%s%s: %s%s%s",
		              *date ? ", " : "", date, offer->title, *offer->note ? " — " : "", offer->note);
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

	canvas_put(canvas, area, 0, LABEL_COLUMN, INK_TITLE, "Choices");
	for (int i = 0; i < in_sight; i++) {
		int chosen = choices->first + i;
		unsigned style = chosen == choices->chosen ? INK_STRONG : INK_FAINT;
		struct area cell = area_part(area, 0, FIRST_COLUMN + i * (width + 1), 1, width);
		int column = chosen == count ? canvas_put(canvas, cell, 0, 0, style, "a new one")
		                             : canvas_format(canvas, cell, 0, 0, style, "%d", chosen + 1);
		if (chosen < count)
			canvas_put(canvas, cell, 0, column + 1, INK_KEPT, "✓");
		if (chosen == choices->chosen && choices->form.writing)
			canvas_put(canvas, cell, 0, column + 3, INK_UNKEPT, choices->form.refused ? "no" : "…");
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
	int lines = LINE_COUNT + 2 * (LONG_ROWS - 1);
	draw_heading(workbook, choices, area, in_sight, width);
	draw_lines(workbook, choices, area_rows(area, 1, lines), in_sight, width);
	canvas_rule(workbook_canvas(workbook), area, 1 + lines, 0, area.columns, INK_RULE);
	draw_costs(workbook, choices, area_rows(area, 2 + lines, 3), in_sight, width);
	draw_season(workbook, choices, area_rows(area, 5 + lines, 1));
	draw_below(workbook, choices, area_rows(area, 6 + lines, area.rows - 6 - lines));
}

const struct screen screen_choices = {
	.place = PLACE_CHOICES, .state_size = sizeof(struct choices),
	.enter = enter, .draw = draw, .press = press, .leave = leave,
};
