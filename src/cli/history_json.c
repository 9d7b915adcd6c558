/*
 * The pages of `padside history` as JSON: one object a line, canonical units,
 * dates as everywhere else in files.
 */
#include "cli/history_pages.h"

#include <math.h>

#include <padside/base/json_text.h>
#include <padside/app/ledger.h>
#include <padside/model/money.h>

static void add_string(struct text *text, const char *name, const char *value, bool *first)
{
	json_add_name(text, name, first);
	json_add_string(text, value);
}

/* A number; null where it is none, as in JSON. */
static void add_number(struct text *text, const char *name, double value, bool *first)
{
	json_add_name(text, name, first);
	json_add_number(text, value);
}

static void add_flag(struct text *text, const char *name, bool value, bool *first)
{
	json_add_name(text, name, first);
	text_add(text, value ? "true" : "false");
}

static void add_time(struct text *text, const char *name, wall_time time, bool *first)
{
	char when[CLOCK_TEXT_SIZE];

	json_add_name(text, name, first);
	if (time == WALL_TIME_NONE) {
		text_add(text, "null");
		return;
	}
	clock_format(time, when, sizeof when);
	json_add_string(text, when);
}

static void add_date(struct text *text, const char *name, double day, bool *first)
{
	char date[CLOCK_TEXT_SIZE];
	/* A date that the calendar of files does not reach is none. */
	bool is_date = day > -25567 && day < 376200;

	json_add_name(text, name, first);
	if (!is_date) {
		text_add(text, "null");
		return;
	}
	clock_format_date(history_time_of(day), date, sizeof date);
	json_add_string(text, date);
}

static void add_watch(struct text *text, const struct watch_item *item, const char *system,
                      bool *first)
{
	bool inner = true;

	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	add_string(text, "system_id", system, &inner);
	add_string(text, "fault", item->fault, &inner);
	add_string(text, "text", item->text, &inner);
	add_time(text, "noted_at", item->noted_at, &inner);
	text_add_char(text, '}');
}

static void add_offer(struct text *text, const struct past_offer *past, bool *first)
{
	const struct offer *offer = &past->offer;
	char low[MONEY_SIZE], high[MONEY_SIZE];
	bool inner = true;

	money_format_plain(offer->price_low, low, sizeof low);
	money_format_plain(offer->price_high, high, sizeof high);
	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	add_string(text, "title", offer->title, &inner);
	add_string(text, "price_low", low, &inner);
	add_string(text, "price_high", high, &inner);
	add_string(text, "decision", offer_outcome(offer, past->is_other_taken), &inner);
	add_time(text, "offered_at", past->offered_at, &inner);
	add_string(text, "decided_by", offer->decided_by, &inner);
	add_time(text, "decided_at", offer->decided_at, &inner);
	add_string(text, "note", offer->note, &inner);
	if (*past->unit_out)
		add_string(text, "unit_taken_out", past->unit_out, &inner);
	text_add_char(text, '}');
}

/* Those that were decided on, or those that were not. */
static void add_some(struct text *text, const char *name, const struct past_offer *offers,
                     size_t count, bool are_decided, bool *first)
{
	bool outer = true;

	json_add_name(text, name, first);
	text_add_char(text, '[');
	for (size_t i = 0; i < count; i++)
		if ((offers[i].offer.decision != DECISION_NONE) == are_decided)
			add_offer(text, &offers[i], &outer);
	text_add_char(text, ']');
}

static void add_offered(struct text *text, const struct past_offer *offers, size_t count,
                        bool *first)
{
	add_some(text, "declined", offers, count, true, first);
	add_some(text, "undecided", offers, count, false, first);
}

static void add_point(struct text *text, const struct history *history,
                      const struct history_point *point, bool *first)
{
	const struct past_call *visit = &history->visits[history->visit_count - 1 - point->visit];
	bool inner = true;

	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	add_string(text, "call", visit->call.text, &inner);
	add_time(text, "at", point->at, &inner);
	add_string(text, "stage", stage_key(point->stage), &inner);
	add_number(text, "value", point->value, &inner);
	add_number(text, "plus_minus", point->plus_minus, &inner);
	add_flag(text, "restarts", point->restarts, &inner);
	text_add_char(text, '}');
}

/* Slopes of a series that moves by ratios are of its logarithm: told as shares a year. */
static double per_year(const struct history_series *series, double slope)
{
	double a_year = slope * 365.25;

	return series_info(series->series)->is_ratio ? expm1(a_year) : a_year;
}

static void add_drift(struct text *text, const struct history_series *series, bool *first)
{
	const struct drift *drift = &series->drift;
	const struct drift_crossing *crossing = &series->crossing;
	bool inner = true;

	json_add_name(text, "drift", first);
	text_add_char(text, '{');
	add_flag(text, "claimed", drift->claim == DRIFT_CLAIMED, &inner);
	add_number(text, "visits", (double)drift->count, &inner);
	add_flag(text, "by_ratio", series_info(series->series)->is_ratio, &inner);
	add_number(text, "per_year", per_year(series, drift->slope), &inner);
	add_number(text, "per_year_low", per_year(series, drift->slope_low), &inner);
	add_number(text, "per_year_high", per_year(series, drift->slope_high), &inner);
	add_flag(text, "crossed", crossing->is_past, &inner);
	add_date(text, "crosses", crossing->expected ? crossing->day : NAN, &inner);
	add_date(text, "earliest", crossing->expected ? crossing->earliest : NAN, &inner);
	add_date(text, "latest", crossing->expected ? crossing->latest : NAN, &inner);
	add_string(text, "sentence", series->sentence, &inner);
	text_add_char(text, '}');
}

static void add_series(struct text *text, const struct history *history,
                       const struct history_series *series, bool *first)
{
	bool inner = true, outer = true;

	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	add_string(text, "key", series->key, &inner);
	add_string(text, "label", series->label, &inner);
	add_string(text, "unit", unit_symbol(series->unit, false), &inner);
	add_number(text, "low", series->low, &inner);
	add_number(text, "high", series->high, &inner);
	json_add_name(text, "points", &inner);
	text_add_char(text, '[');
	for (size_t i = 0; i < series->count; i++)
		add_point(text, history, &series->points[i], &outer);
	text_add_char(text, ']');
	if (series->series != SERIES_NONE)
		add_drift(text, series, &inner);
	text_add_char(text, '}');
}

static void add_visits(struct text *text, const struct history *history, bool *first)
{
	bool outer = true;

	json_add_name(text, "visits", first);
	text_add_char(text, '[');
	for (size_t i = 0; i < history->visit_count; i++) {
		const struct past_call *visit = &history->visits[i];
		bool inner = true;
		json_add_name(text, NULL, &outer);
		text_add_char(text, '{');
		add_string(text, "id", visit->call.text, &inner);
		add_time(text, "opened_at", visit->opened_at, &inner);
		add_time(text, "closed_at", visit->closed_at, &inner);
		add_string(text, "found", visit->found_line, &inner);
		add_string(text, "done", visit->done_line, &inner);
		text_add_char(text, '}');
	}
	text_add_char(text, ']');
}

static void add_made_up(struct text *text, const struct history *history, bool *first)
{
	bool outer = true;

	json_add_name(text, "made_up", first);
	text_add_char(text, '[');
	for (size_t i = 0; i < history->made_up_count; i++) {
		const struct made_up_line *line = &history->made_up[i];
		bool inner = true;
		json_add_name(text, NULL, &outer);
		text_add_char(text, '{');
		add_number(text, "year", line->year, &inner);
		add_number(text, "made_up", line->made_up_oz, &inner);
		add_number(text, "share", ledger_share(line), &inner);
		add_flag(text, "leak_found", line->leak_found, &inner);
		add_flag(text, "after_repair", line->after_repair, &inner);
		text_add_char(text, '}');
	}
	text_add_char(text, ']');
}

static void add_system(struct text *text, const struct history *history)
{
	const struct system_line *system = &history->system;
	bool first = true, outer = true;

	text_add_char(text, '{');
	add_string(text, "id", system->system.uid.text, &first);
	add_string(text, "name", system->system.name, &first);
	add_string(text, "address", system->site.address, &first);
	add_string(text, "customer", system->customer.name, &first);
	add_string(text, "customer_id", system->customer.uid.text, &first);
	if (*system_taken_out(system))
		add_string(text, "taken_out", system_taken_out(system), &first);
	add_visits(text, history, &first);
	json_add_name(text, "watch", &first);
	text_add_char(text, '[');
	for (size_t i = 0; i < history->watch_count; i++)
		add_watch(text, &history->watch[i], system->system.uid.text, &outer);
	text_add_char(text, ']');
	add_offered(text, history->offered, history->offered_count, &first);
	add_made_up(text, history, &first);
	json_add_name(text, "series", &first);
	text_add_char(text, '[');
	outer = true;
	for (size_t i = 0; i < history->series_count; i++)
		add_series(text, history, &history->series[i], &outer);
	text_add(text, "]}");
}

static void add_calls(struct text *text, const struct customer_page *page, bool *first)
{
	bool outer = true;

	json_add_name(text, "visits", first);
	text_add_char(text, '[');
	for (size_t i = 0; i < page->visit_count; i++) {
		const struct call_line *call = &page->visits[i];
		bool inner = true;
		json_add_name(text, NULL, &outer);
		text_add_char(text, '{');
		add_string(text, "id", call->uid.text, &inner);
		add_string(text, "system_id", call->system_uid.text, &inner);
		add_time(text, "opened_at", call->opened_at, &inner);
		add_time(text, "closed_at", call->closed_at, &inner);
		add_string(text, "complaint", call->complaint, &inner);
		add_string(text, "found", call->found_line, &inner);
		add_string(text, "done", call->done_line, &inner);
		text_add_char(text, '}');
	}
	text_add_char(text, ']');
}

void page_json_customer(const struct customer_page *page, struct text *text)
{
	bool first = true, outer = true;

	text_add_char(text, '{');
	add_string(text, "id", page->customer.uid.text, &first);
	add_string(text, "name", page->customer.name, &first);
	add_string(text, "phone", page->customer.phone, &first);
	add_string(text, "email", page->customer.email, &first);
	add_calls(text, page, &first);
	json_add_name(text, "watch", &first);
	text_add_char(text, '[');
	for (size_t i = 0; i < page->watch_count; i++)
		add_watch(text, &page->watch[i].item, page->systems[page->watch[i].system].system.uid.text,
		          &outer);
	text_add_char(text, ']');
	add_offered(text, page->offered, page->offered_count, &first);
	json_add_name(text, "systems", &first);
	text_add_char(text, '[');
}

void page_json_machine(const struct history *history, bool is_first, struct text *text)
{
	json_add_name(text, NULL, &is_first);
	add_system(text, history);
}

void page_json_customer_end(struct text *text)
{
	text_add(text, "]}\n");
}

void page_json_system(const struct history *history, struct text *text)
{
	add_system(text, history);
	text_add_char(text, '\n');
}

/* A number, "OL", or a choice's word. */
static void add_value(struct text *text, const char *name, const struct value *value, bool *first)
{
	if (value->state == VALUE_OVER_LIMIT)
		add_string(text, name, "OL", first);
	else if (value->choice != CHOICE_NONE)
		add_string(text, name, choice_key(value->choice), first);
	else
		add_number(text, name, value->number, first);
}

static void add_side(struct text *text, const char *name, const struct call *call,
                     enum stage stage, bool *first)
{
	bool inner = true;

	json_add_name(text, name, first);
	text_add_char(text, '{');
	add_string(text, "call", call->uid.text, &inner);
	add_time(text, "at", call->opened_at, &inner);
	add_string(text, "stage", stage_key(stage), &inner);
	text_add_char(text, '}');
}

static void add_change(struct text *text, const struct history_change *change, bool *first)
{
	bool is_figure = change->figure != FIGURE_NONE, inner = true;
	const char *key = is_figure ? figure_info(change->figure)->key :
	                              reading_info(change->reading)->key;

	json_add_name(text, NULL, first);
	text_add_char(text, '{');
	add_string(text, is_figure ? "figure" : "reading", key, &inner);
	add_value(text, "before", &change->before, &inner);
	add_value(text, "after", &change->after, &inner);
	add_number(text, "change", change->change, &inner);
	add_number(text, "plus_minus", change->plus_minus, &inner);
	add_flag(text, "real", change->is_real, &inner);
	text_add_char(text, '}');
}

void page_json_changes(const struct compared *compared, struct text *text)
{
	bool first = true, outer = true;

	text_add_char(text, '{');
	add_side(text, "before", compared->before, compared->before_stage, &first);
	add_side(text, "after", compared->after, compared->after_stage, &first);
	json_add_name(text, "changes", &first);
	text_add_char(text, '[');
	for (size_t i = 0; i < compared->count; i++)
		add_change(text, &compared->changes[i], &outer);
	text_add(text, "]}\n");
}
