/*
 * What a unit's past says.
 */
#include <padside/app/unit_past.h>

#include <stdio.h>
#include <string.h>

#include <padside/base/text.h>

static void finish(struct text *text, char line[UNIT_PAST_SIZE])
{
	text_copy(line, UNIT_PAST_SIZE, text_get(text));
	text_done(text);
}

/* Begins another sentence behind what stands there. */
static void add_space(struct text *text)
{
	if (text->length > 0)
		text_add_char(text, ' ');
}

/* "3 visits since 2023-05-16. The last one, 2026-07-09: run capacitor failed; done: …" */
static void write_visits(const struct history *history, char line[UNIT_PAST_SIZE])
{
	char first[CLOCK_TEXT_SIZE], last[CLOCK_TEXT_SIZE];
	struct text text;

	text_init(&text);
	if (history->visit_count == 0) {
		text_add(&text, "Not visited yet.");
		finish(&text, line);
		return;
	}
	const struct past_call *newest = &history->visits[0];
	clock_format_date(history->visits[history->visit_count - 1].opened_at, first, sizeof first);
	clock_format_date(newest->opened_at, last, sizeof last);
	if (history->visit_count == 1)
		text_add_format(&text, "One visit, %s", last);
	else
		text_add_format(&text, "%zu visits since %s, the last %s", history->visit_count, first,
		                last);
	if (*newest->found_line)
		text_add_format(&text, ": %s", newest->found_line);
	if (*newest->done_line)
		text_add_format(&text, "; done: %s", newest->done_line);
	text_add(&text, ".");
	finish(&text, line);
}

/* The first readings that drift beyond what the meters explain. */
static void write_drift(const struct history *history, char line[UNIT_PAST_SIZE])
{
	struct text text;
	int more = 0;

	text_init(&text);
	for (size_t i = 0; i < history->series_count; i++) {
		const struct history_series *series = &history->series[i];
		if (series->series == SERIES_NONE || series->drift.claim != DRIFT_CLAIMED)
			continue;
		if (text.length == 0)
			text_add_format(&text, "%s: %s", series->label, series->sentence);
		else
			more++;
	}
	if (more > 0)
		text_add_format(&text, ". %d more drift%s.", more, more == 1 ? "s" : "");
	if (text.length == 0)
		text_add(&text, history->visit_count < 3 ? "Too few visits to see a trend."
		         : "No reading drifts beyond what meters and weather explain.");
	finish(&text, line);
}

/* "Declined: Replace the coil, and more.", whether or not the words end in a full stop. */
static void add_first(struct text *text, const char *head, const char *words, size_t count)
{
	size_t length = strlen(words);

	while (length > 0 && strchr(". ", words[length - 1]))
		length--;
	text_add_format(text, "%s: %.*s%s.", head, (int)length, words, count > 1 ? ", and more" : "");
}

/* What was offered and came to that. */
static void add_outcome(struct text *text, const struct history *history, const char *outcome,
                        const char *head)
{
	const struct past_offer *first = NULL;
	size_t count = 0;

	for (size_t i = 0; i < history->offered_count; i++) {
		const struct past_offer *past = &history->offered[i];
		if (*past->unit_out ||
		    strcmp(offer_outcome(&past->offer, past->is_other_taken), outcome) != 0)
			continue;
		if (count++ == 0)
			first = past;
	}
	if (!first)
		return;
	add_space(text);
	add_first(text, head, first->offer.title, count);
}

/* What is watched, offered and not taken, and how much refrigerant it took. */
static void write_open(const struct history *history, enum unit_system units,
                       char line[UNIT_PAST_SIZE])
{
	struct text text;
	struct value added = { .state = VALUE_TAKEN };
	char weight[40];

	text_init(&text);
	if (*system_taken_out(&history->system))
		text_add_format(&text, "The unit was taken out on %s.", system_taken_out(&history->system));
	for (size_t i = 0; i < history->made_up_count; i++)
		added.number += history->made_up[i].made_up_oz;
	reading_format(READING_FACTORY_CHARGE, &added, units, VALUE_FORM_WITH_UNIT, weight,
	               sizeof weight);
	if (history->watch_count > 0)
		add_first(&text, "Watch", history->watch[0].text, history->watch_count);
	add_outcome(&text, history, "declined", "Declined");
	add_outcome(&text, history, "not chosen", "Not chosen");
	add_outcome(&text, history, "not decided yet", "Not decided yet");
	if (added.number > 0) {
		add_space(&text);
		text_add_format(&text, "Refrigerant added over the years: %s.", weight);
	}
	if (text.length == 0)
		text_add(&text, "Nothing is watched, nothing was declined, no refrigerant was added.");
	finish(&text, line);
}

void unit_past_write(const struct history *history, enum unit_system units,
                     char lines[UNIT_PAST_LINES][UNIT_PAST_SIZE])
{
	write_visits(history, lines[0]);
	write_drift(history, lines[1]);
	write_open(history, units, lines[2]);
}
