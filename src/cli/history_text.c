/*
 * The pages of `padside history` for people: 80 columns, newest visits last
 * in the table, so that time runs to the right as in the plots.
 */
#include "cli/history_pages.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/glyph.h>
#include <padside/app/ledger.h>
#include <padside/model/money.h>
#include <padside/base/number.h>
#include <padside/base/plot.h>
#include <padside/base/wrap.h>

enum { PAGE_COLUMNS = 80, LABEL_COLUMNS = 32, CELL_COLUMNS = 12, TABLE_VISITS = 4, PLOT_ROWS = 7 };

/* Appends one line, made safe for a terminal and wrapped under its first word. */
static void add_line(const struct page_style *style, struct text *text, int indent,
                     const char *format, ...) __attribute__((format(printf, 4, 5)));

static void add_line(const struct page_style *style, struct text *text, int indent,
                     const char *format, ...)
{
	struct text whole;
	struct wrap_line line;
	va_list arguments;
	int hang = indent;

	text_init(&whole);
	va_start(arguments, format);
	text_add_format_list(&whole, format, arguments);
	va_end(arguments);
	const char *rest = text_get(&whole);
	while (wrap_next(&rest, PAGE_COLUMNS - hang, style->plain, &line)) {
		struct text part;
		text_init(&part);
		text_add_bytes(&part, line.start, line.length);
		text_pad(text, ' ', hang);
		glyph_add_string(text, text_get(&part), style->plain);
		text_add_char(text, '\n');
		text_done(&part);
		hang = indent + 4;
	}
	text_done(&whole);
}

static void add_heading(const struct page_style *style, struct text *text, const char *heading)
{
	text_add_char(text, '\n');
	add_line(style, text, 0, "%s", heading);
}

static void add_cell(const struct page_style *style, struct text *text, const char *cell,
                     int columns)
{
	glyph_add_string(text, cell, style->plain);
	text_pad(text, ' ', columns - glyph_string_columns(cell, style->plain));
}

static void format_value(const struct page_style *style, enum unit canonical, int decimals,
                         double value, char *out, size_t size)
{
	enum unit unit = unit_shown(canonical, style->units);

	number_format(unit_convert(value, canonical, unit),
	              unit_decimals_shown(decimals, canonical, style->units), out, size);
}

/* ---- Watch items, what was offered, visits ---- */

static void add_watch(const struct page_style *style, const struct watch_item *item,
                      const char *system, struct text *text)
{
	char date[CLOCK_TEXT_SIZE];

	clock_format_date(item->noted_at, date, sizeof date);
	add_line(style, text, 2, "%s  %s%s%s%s", date, item->text, *system ? " (" : "", system,
	         *system ? ")" : "");
}

/*
 * "2026-07-09  New motor, 385.00 to 420.00: declined by Ada – Next spring."; behind it that the
 * unit was taken out since.
 */
static void add_offer(const struct page_style *style, const struct past_offer *past,
                      struct text *text)
{
	const struct offer *offer = &past->offer;
	bool is_decided = offer->decision != DECISION_NONE;
	bool is_range = offer->price_low != offer->price_high;
	char date[CLOCK_TEXT_SIZE], low[MONEY_SIZE], high[MONEY_SIZE];

	clock_format_date(is_decided ? offer->decided_at : past->offered_at, date, sizeof date);
	money_format(offer->price_low, low, sizeof low);
	money_format(offer->price_high, high, sizeof high);
	add_line(style, text, 2, "%s  %s, %s%s%s: %s%s%s%s%s%s%s%s", date, offer->title, low,
	         is_range ? " to " : "", is_range ? high : "",
	         offer_outcome(offer, past->is_other_taken),
	         is_decided && *offer->decided_by ? " by " : "", is_decided ? offer->decided_by : "",
	         *offer->note ? " – " : "", offer->note,
	         *past->unit_out ? " (the unit was taken out on " : "", past->unit_out,
	         *past->unit_out ? ")" : "");
	if (!is_decided && *past->office_note)
		add_line(style, text, 14, "office: %s", past->office_note);
}

static void add_offered(const struct page_style *style, const struct past_offer *offers,
                        size_t count, struct text *text)
{
	/* What nobody decided is still to be asked. */
	static const char *const headings[] = { "Offered and not taken", "Offered, not decided yet" };

	for (int open = 0; open < 2; open++) {
		bool is_headed = false;
		for (size_t i = 0; i < count; i++) {
			if ((offers[i].offer.decision == DECISION_NONE) != (open == 1))
				continue;
			if (!is_headed)
				add_heading(style, text, headings[open]);
			is_headed = true;
			add_offer(style, &offers[i], text);
		}
	}
}

static void add_visit(const struct page_style *style, wall_time at, wall_time closed_at,
                      const char *system, const char *found, const char *done, struct text *text)
{
	char date[CLOCK_TEXT_SIZE];

	clock_format_date(at, date, sizeof date);
	size_t length = strlen(found);
	bool needs_stop = length > 0 && !strchr(".?!", found[length - 1]);
	add_line(style, text, 2, "%s  %s%s%s%s%s%s%s%s", date, system, *system ? ": " : "",
	         closed_at == WALL_TIME_NONE ? "(open) " : "", found, *done && needs_stop ? "." : "",
	         *done && length > 0 ? " " : "", *done ? "Done: " : "", done);
}

void page_add_customer(const struct page_style *style, const struct customer_page *page,
                       struct text *text)
{
	const struct customer *who = &page->customer;

	add_line(style, text, 0, "%s%s%s%s%s", who->name, *who->phone ? ", " : "", who->phone,
	         *who->email ? ", " : "", who->email);
	if (page->watch_count)
		add_heading(style, text, "Watch");
	for (size_t i = 0; i < page->watch_count; i++)
		add_watch(style, &page->watch[i].item, page->systems[page->watch[i].system].system.name,
		          text);
	add_offered(style, page->offered, page->offered_count, text);
	add_heading(style, text, "Visits");
	for (size_t i = 0; i < page->visit_count; i++) {
		const struct call_line *call = &page->visits[i];
		const char *found = *call->found_line ? call->found_line : call->complaint;
		add_visit(style, call->opened_at, call->closed_at, call->system, found, call->done_line,
		          text);
	}
}

/* ---- A unit: the table ---- */

/* "-4.3", or "-4.3→-0.2" where the work changed it. */
static void format_cell(const struct page_style *style, const struct history_series *series,
                        size_t visit, char *out, size_t size)
{
	char value[NUMBER_SIZE];
	bool is_first = true;

	out[0] = '\0';
	for (size_t i = 0; i < series->count; i++) {
		const struct history_point *point = &series->points[i];
		if (point->visit != visit || (!is_first && !point->restarts))
			continue;
		format_value(style, series->unit, series->decimals, point->value, value, sizeof value);
		size_t used = strlen(out);
		snprintf(out + used, size - used, "%s%s", is_first ? "" : "→", value);
		is_first = false;
	}
}

static void add_row(const struct page_style *style, const struct history_series *series,
                    size_t first_visit, size_t visits, struct text *text)
{
	const char *symbol = unit_symbol(unit_shown(series->unit, style->units), false);
	char cell[2 * NUMBER_SIZE + 4];

	snprintf(cell, sizeof cell, "%s%s%s", series->label, *symbol ? ", " : "", symbol);
	add_cell(style, text, cell, LABEL_COLUMNS);
	for (size_t i = 0; i < visits; i++) {
		format_cell(style, series, first_visit + i, cell, sizeof cell);
		add_cell(style, text, cell, i + 1 < visits ? CELL_COLUMNS : 0);
	}
	text_add_char(text, '\n');
}

static bool is_shown(const struct page_style *style, const struct history_series *series)
{
	return series->series != SERIES_NONE || style->wants_all;
}

static void add_table(const struct page_style *style, const struct history *history,
                      struct text *text)
{
	size_t visits = history->visit_count < TABLE_VISITS ? history->visit_count : TABLE_VISITS;

	add_heading(style, text, "Readings, as found→as left");
	if (history->visit_count > visits)
		add_line(style, text, 0, "%zu earlier visit%s not shown.", history->visit_count - visits,
		         history->visit_count - visits == 1 ? " is" : "s are");
	text_pad(text, ' ', LABEL_COLUMNS);
	for (size_t i = visits; i-- > 0;) {
		char date[CLOCK_TEXT_SIZE];
		clock_format_date(history->visits[i].opened_at, date, sizeof date);
		add_cell(style, text, date, i > 0 ? CELL_COLUMNS : 0);
	}
	text_add_char(text, '\n');
	for (size_t i = 0; i < history->series_count; i++)
		if (is_shown(style, &history->series[i]))
			add_row(style, &history->series[i], history->visit_count - visits, visits, text);
}

/* ---- A unit: what drifts ---- */

/* The same without idle zeros: limits are round numbers. */
static void format_limit(const struct page_style *style, const struct history_series *series,
                         double limit, char *out, size_t size)
{
	format_value(style, series->unit, series->decimals, limit, out, size);
	if (!strchr(out, '.'))
		return;
	for (size_t end = strlen(out); out[end - 1] == '0'; end--)
		out[end - 1] = '\0';
	if (out[strlen(out) - 1] == '.')
		out[strlen(out) - 1] = '\0';
}

static void format_limits(const struct page_style *style, const struct history_series *series,
                          char *out, size_t size)
{
	char low[NUMBER_SIZE], high[NUMBER_SIZE];
	const char *symbol = unit_symbol(unit_shown(series->unit, style->units), false);
	const char *standing = series->is_assumed ? "assumed" : "expected";

	out[0] = '\0';
	if (series->has_low)
		format_limit(style, series, series->low, low, sizeof low);
	if (series->has_high)
		format_limit(style, series, series->high, high, sizeof high);
	if (series->has_low && series->has_high)
		snprintf(out, size, " (%s %s to %s %s)", standing, low, high, symbol);
	else if (series->has_low)
		snprintf(out, size, " (%s at least %s %s)", standing, low, symbol);
	else if (series->has_high)
		snprintf(out, size, " (%s at most %s %s)", standing, high, symbol);
}

static void add_plot(const struct page_style *style, const struct history_series *series,
                     struct text *text)
{
	struct plot_point points[2 * HISTORY_MOST_VISITS];
	enum unit unit = unit_shown(series->unit, style->units);
	bool is_rising = series->drift.slope > 0;
	struct plot plot = { .points = points, .count = (int)series->count, .rows = PLOT_ROWS,
		.columns = PAGE_COLUMNS, .plain = style->plain, .limit_name = "limit",
		.has_limit = is_rising ? series->has_high : series->has_low };

	for (size_t i = 0; i < series->count; i++)
		points[i] = (struct plot_point){ .at = series->points[i].at,
			.value = unit_convert(series->points[i].value, series->unit, unit) };
	if (plot.has_limit)
		plot.limit = unit_convert(is_rising ? series->high : series->low, series->unit, unit);
	plot_draw(&plot, text);
}

static void add_trend(const struct page_style *style, const struct history_series *series,
                      struct text *text)
{
	char limits[3 * NUMBER_SIZE];
	bool is_claimed = series->drift.claim == DRIFT_CLAIMED;

	format_limits(style, series, limits, sizeof limits);
	add_line(style, text, 2, "%s%s: %s", series->label, limits, series->sentence);
	if (is_claimed || (style->wants_plots && series->count > 1))
		add_plot(style, series, text);
}

static void add_trends(const struct page_style *style, const struct history *history,
                       struct text *text)
{
	add_heading(style, text, "Trends");
	for (int claimed = 1; claimed >= 0; claimed--)
		for (size_t i = 0; i < history->series_count; i++) {
			const struct history_series *series = &history->series[i];
			bool is_claimed = series->drift.claim == DRIFT_CLAIMED;
			if (series->series != SERIES_NONE && is_claimed == (claimed == 1))
				add_trend(style, series, text);
		}
}

static void add_made_up(const struct page_style *style, const struct history *history,
                        struct text *text)
{
	if (history->made_up_count == 0)
		return;
	add_heading(style, text, "Refrigerant made up");
	for (size_t i = 0; i < history->made_up_count; i++) {
		const struct made_up_line *line = &history->made_up[i];
		char amount[NUMBER_SIZE];
		const char *symbol = unit_symbol(unit_shown(UNIT_OZ, style->units), false);
		format_value(style, UNIT_OZ, 1, line->made_up_oz, amount, sizeof amount);
		const char *marks = ledger_marks(line), *mark = *marks ? "; " : "";
		double share = ledger_share(line);
		if (isnan(share))
			add_line(style, text, 2, "%d  %s %s%s%s", line->year, amount, symbol, mark, marks);
		else
			add_line(style, text, 2, "%d  %s %s, %.0f %% of the charge%s%s", line->year, amount,
			         symbol, share, mark, marks);
	}
}

/* What a customer's page has said already of all units: whose, watched, declined, visits. */
static void add_owner_and_visits(const struct page_style *style, const struct history *history,
                                 struct text *text)
{
	const struct customer *who = &history->system.customer;

	add_line(style, text, 0, "%s%s%s", who->name, *who->phone ? ", " : "", who->phone);
	if (history->watch_count)
		add_heading(style, text, "Watch");
	for (size_t i = 0; i < history->watch_count; i++)
		add_watch(style, &history->watch[i], "", text);
	add_offered(style, history->offered, history->offered_count, text);
	add_heading(style, text, "Visits");
	for (size_t i = 0; i < history->visit_count; i++) {
		const struct past_call *visit = &history->visits[i];
		add_visit(style, visit->opened_at, visit->closed_at, "", visit->found_line,
		          visit->done_line, text);
	}
}

void page_add_system(const struct page_style *style, const struct history *history,
                     bool with_owner, struct text *text)
{
	const struct system_line *system = &history->system;
	char words[VALUE_TEXT_SIZE * 4];

	system_describe(system, style->now, style->units, words, sizeof words);
	add_line(style, text, 0, "%s%s%s", *system->system.name ? system->system.name : "unit",
	         *system->site.address ? ", " : "", system->site.address);
	add_line(style, text, 0, "%s", words);
	add_line(style, text, 0, "id %s", system->system.uid.text);
	if (with_owner)
		add_owner_and_visits(style, history, text);
	if (!history->is_read) {
		add_line(style, text, 0, "Nothing was read on it yet.");
		return;
	}
	add_table(style, history, text);
	add_trends(style, history, text);
	add_made_up(style, history, text);
}

/* ---- What changed ---- */

static void format_either(const struct page_style *style, const struct history_change *change,
                          const struct value *value, char *out, size_t size)
{
	if (change->figure != FIGURE_NONE)
		figure_format(change->figure, value->number, style->units, VALUE_FORM_WITH_UNIT, out, size);
	else
		reading_format(change->reading, value, style->units, VALUE_FORM_WITH_UNIT, out, size);
}

static void add_change(const struct page_style *style, const struct history_change *change,
                       struct text *text)
{
	const struct figure_info *figure = change->figure ? figure_info(change->figure) : NULL;
	const struct reading_info *reading = figure ? NULL : reading_info(change->reading);
	char before[VALUE_TEXT_SIZE], after[VALUE_TEXT_SIZE];

	format_either(style, change, &change->before, before, sizeof before);
	format_either(style, change, &change->after, after, sizeof after);
	add_cell(style, text, figure ? figure->label : reading->label, 28);
	add_cell(style, text, before, 18);
	add_cell(style, text, after, 18);
	bool is_same = !change->is_real && (isnan(change->change) || change->change == 0);
	text_add(text, change->is_real ? "changed" : is_same ? "same" : "within meters");
	text_add_char(text, '\n');
}

void page_add_changes(const struct page_style *style, const struct compared *compared,
                      struct text *text)
{
	char before[CLOCK_TEXT_SIZE], after[CLOCK_TEXT_SIZE];

	clock_format_date(compared->before->opened_at, before, sizeof before);
	clock_format_date(compared->after->opened_at, after, sizeof after);
	add_line(style, text, 0, "%s %s against %s %s", before, stage_words(compared->before_stage),
	         after, stage_words(compared->after_stage));
	if (compared->count == 0)
		add_line(style, text, 0, "Nothing was read in both.");
	for (size_t i = 0; i < compared->count; i++)
		add_change(style, &compared->changes[i], text);
}
