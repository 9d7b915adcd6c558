/*
 * What was done, and what can be done.
 */
#include "report/paper_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/model/money.h>
#include <padside/model/moved.h>
#include <padside/base/number.h>

/* ---- Work done ---- */

static void add_charge_total(const struct paper *paper, const struct moved *moved)
{
	const char *refrigerant = choice_label(visit_choice(&paper->call->visit, STAGE_AS_FOUND,
	                                                    READING_REFRIGERANT));
	document_paragraph(paper->document, TONE_PLAIN,
		document_format(paper->document, "Refrigerant%s%s: %s added, %s recovered.",
		                *refrigerant ? " " : "", refrigerant,
		                moved->added_oz > 0 ? paper_mass(paper, moved->added_oz) : "none",
		                moved->recovered_oz > 0 ? paper_mass(paper, moved->recovered_oz) : "none"));
}

/* The readings of an entry in one line, the note, the cylinder. */
static const char *charge_words(const struct paper *paper, const struct charge_entry *entry)
{
	char out[VALUE_TEXT_SIZE + 32];
	struct text line;

	text_init(&line);
	for (int i = 0; i < CHARGE_READING_COUNT; i++) {
		enum reading reading = charge_reading_id((enum charge_reading)i);
		if (entry->values[i].state == VALUE_NOT_TAKEN)
			continue;
		reading_format(reading, &entry->values[i], paper->input->units, VALUE_FORM_WITH_UNIT,
		               out, sizeof out);
		paper_join(&line, ", ", reading_info(reading)->label);
		text_add_format(&line, " %s", out);
	}
	paper_join(&line, "; ", entry->note);
	paper_join_cylinder(&line, entry->cylinder);
	const char *words = document_keep(paper->document, text_get(&line));
	text_done(&line);
	return words;
}

static const char *weighed_words(const struct paper *paper, const struct tightness_entry *entry)
{
	struct text line;

	text_init(&line);
	text_add(&line, "weighed in");
	paper_join_cylinder(&line, entry->cylinder);
	const char *words = document_keep(paper->document, text_get(&line));
	text_done(&line);
	return words;
}

/*
 * What was weighed in from one time on and before another, and stands in no line of the charge log.
 */
static void add_weigh_ins(const struct paper *paper, wall_time from, wall_time to)
{
	char hour[CLOCK_TEXT_SIZE];

	for (size_t i = 0; i < paper->call->tightness_count; i++) {
		const struct tightness_entry *entry = &paper->call->tightness[i];
		if (!moved_is_weigh_in(paper->call, entry) || entry->at < from || entry->at >= to)
			continue;
		clock_format_hour(entry->at, hour, sizeof hour);
		document_row(paper->document,
		             (const char *const[]){ hour, paper_mass(paper, entry->amount.number), "",
		                                    weighed_words(paper, entry) },
		             ROW_PLAIN);
	}
}

/* What may be one filling, noted twice and not alike: the office can ask. */
static void tell_doubtful(const struct paper *paper)
{
	for (size_t i = 0; i < paper->call->tightness_count; i++)
		if (moved_is_doubtful(paper->call, &paper->call->tightness[i]))
			document_paragraph(paper->document, TONE_WATCH, document_format(paper->document,
				"%s weighed in may be one filling with what the charge log has: both are counted.",
				paper_mass(paper, paper->call->tightness[i].amount.number)));
}

static void add_charge_log(const struct paper *paper)
{
	static const struct column columns[] = {
		{ .header = "time" }, { .header = "added", .is_number = true },
		{ .header = "recovered", .is_number = true }, { .header = "readings and notes" },
		{ .header = NULL },
	};
	char hour[CLOCK_TEXT_SIZE];
	struct moved moved;
	wall_time told = WALL_TIME_NONE;

	moved_work_out(paper->call, &moved);
	if (paper->call->charge_count == 0 && !(moved.added_oz > 0))
		return;
	add_charge_total(paper, &moved);
	if (!paper->for_office)
		return;
	document_table(paper->document, "Refrigerant moved", columns);
	for (size_t i = 0; i < paper->call->charge_count; i++) {
		const struct charge_entry *entry = &paper->call->charge[i];
		if (entry->at > told) {
			add_weigh_ins(paper, told, entry->at);
			told = entry->at;
		}
		clock_format_hour(entry->at, hour, sizeof hour);
		document_row(paper->document,
		             (const char *const[]){ hour, paper_mass(paper, entry->added_oz),
		                                    paper_mass(paper, entry->recovered_oz),
		                                    charge_words(paper, entry) },
		             ROW_PLAIN);
	}
	add_weigh_ins(paper, told, INT64_MAX);
	tell_doubtful(paper);
}

static void add_work_item(const struct paper *paper, const struct work_line *line)
{
	char words[LINE_SIZE + MONEY_SIZE];
	struct text item;

	text_init(&item);
	money_line_words(line, words, sizeof words);
	text_add(&item, words);
	if (paper->for_office && *line->note)
		text_add_format(&item, " (note: %s)", line->note);
	document_item(paper->document, text_get(&item));
	text_done(&item);
}

bool paper_has_work(const struct paper *paper)
{
	const struct call *call = paper->call;

	return call->work_count > 0 || call->charge_count > 0 || call->tightness_count > 0 ||
	       paper_was_read(paper);
}

void paper_add_work(const struct paper *paper)
{
	const struct call *call = paper->call;

	document_heading(paper->document, 2, "What we did");
	/* Who signs for the work reads all of it: a fee may be for work too. */
	for (size_t i = 0; i < call->work_count; i++) {
		if (i == 0)
			document_list(paper->document);
		add_work_item(paper, &call->work[i]);
	}
	bool none = !paper_lists_work(paper);
	if (none && paper_is_something_cured(paper))
		document_paragraph(paper->document, TONE_PLAIN, paper->for_office
			? "The unit was worked on and is measured again. No line says what was done."
			: "The unit was inspected, worked on and measured again.");
	else if (none && paper_was_read(paper))
		document_paragraph(paper->document, TONE_PLAIN,
			"The unit was inspected and measured. No repair was noted.");
	else if (none && call->work_count == 0)
		document_paragraph(paper->document, TONE_PLAIN, "No work was done on this call.");
	if (!paper->for_office)
		paper_tell_tightness(paper);
	add_charge_log(paper);
}

/* ---- Options ---- */

static const char *about_range(const struct paper *paper, cents low, cents high)
{
	const char *least = paper_money_about(paper, low), *most = paper_money_about(paper, high);

	return strcmp(least, most) == 0 ? least
	                                : document_format(paper->document, "%s to %s", least, most);
}

/* Prices without cents are written without them; none typed is none said. */
static const char *price_range(const struct paper *paper, const struct offer *offer)
{
	if (offer->price_high == 0)
		return "not said";
	if (offer->price_low % 100 == 0 && offer->price_high % 100 == 0)
		return about_range(paper, offer->price_low, offer->price_high);
	if (offer->price_low == offer->price_high)
		return paper_money(paper, offer->price_low);
	return document_format(paper->document, "%s to %s", paper_money(paper, offer->price_low),
	                       paper_money(paper, offer->price_high));
}

static const char *count_of_years(const struct paper *paper, const char *number)
{
	return document_format(paper->document, "%s year%s", number,
	                       strcmp(number, "1") == 0 ? "" : "s");
}

static const char *years(const struct paper *paper, const struct offer *offer)
{
	char low[NUMBER_SIZE], high[NUMBER_SIZE];

	if (!(offer->years_low > 0) && !(offer->years_high > 0))
		return "not said";
	number_format_exact(offer->years_low, low, sizeof low);
	number_format_exact(offer->years_high, high, sizeof high);
	if (offer->years_low == offer->years_high || !(offer->years_low > 0))
		return count_of_years(paper, high);
	if (!(offer->years_high > 0))
		return count_of_years(paper, low);
	return document_format(paper->document, "%s to %s years", low, high);
}

static struct offer_cost cost_of(const struct paper *paper, const struct offer *offer)
{
	struct offer_cost cost;

	/* What is too large is left out: the cost is all 0 then. */
	(void)money_option_cost(paper->call, offer, &cost);
	return cost;
}

/* Energy is shown where the options differ in it. */
static bool energy_differs(const struct paper *paper)
{
	const struct call *call = paper->call;
	struct offer_cost first = { .has_energy = false };

	for (size_t i = 0; i < call->offer_count; i++) {
		struct offer_cost cost = cost_of(paper, &call->offers[i]);
		if (first.has_energy && cost.has_energy && first.energy != cost.energy)
			return true;
		if (!first.has_energy)
			first = cost;
	}
	return false;
}

const char *paper_offer_title(const struct paper *paper, const struct offer *offer)
{
	static const char of_customer[] = "The customer decided ";
	const char *title = offer->title;
	size_t told = sizeof of_customer - 1;
	bool is_told = !paper->for_office && strncmp(title, of_customer, told) == 0;
	size_t length = strlen(title);

	while (length > 0 && strchr(". ", title[length - 1]))
		length--;
	return is_told
		? document_format(paper->document, "You decided %.*s", (int)(length - told), title + told)
		: document_format(paper->document, "%.*s", (int)length, title);
}

static void add_offer_row(const struct paper *paper, const struct offer *offer, bool energy)
{
	struct offer_cost cost = cost_of(paper, offer);
	const char *cells[DOCUMENT_MOST_COLUMNS] = {
		paper_offer_title(paper, offer), price_range(paper, offer),
		years(paper, offer),
		cost.has_years ? about_range(paper, cost.year_low, cost.year_high) : "",
	};

	if (energy) {
		cells[4] = cost.has_energy ? paper_money_about(paper, cost.energy) : "";
		cells[5] = cost.has_energy && cost.has_years
			? about_range(paper, cost.both_low, cost.both_high) : "";
	}
	document_row(paper->document, cells, ROW_PLAIN);
}

/* For the office "SEER 14, ": the option's own, else the unit's. */
static const char *seer_words(const struct paper *paper, const struct offer *offer)
{
	char words[NUMBER_SIZE];
	const struct visit *visit = &paper->call->visit;
	double seer = offer->seer;

	if (!paper->for_office ||
	    (!(seer > 0) && visit_number(visit, STAGE_AS_FOUND, READING_SEER, &seer) != STATUS_OK))
		return "";
	number_format_exact(seer, words, sizeof words);
	return document_format(paper->document, "SEER %s, ", words);
}

/*
 * "Energy: 900 hours of cooling a year at 15 cents a kWh. New system: 2.250 kW, 2025 kWh.":
 * what the energy a year is worked out from.
 */
static const char *energy_words(const struct paper *paper)
{
	const struct call *call = paper->call;
	char hours[NUMBER_SIZE], rate[NUMBER_SIZE], kw[NUMBER_SIZE], kwh[NUMBER_SIZE];
	struct text words;
	const char *mark = " ";

	number_format_exact(call->billing.cooling_hours, hours, sizeof hours);
	number_format_exact(call->billing.energy_rate, rate, sizeof rate);
	text_init(&words);
	text_add_format(&words, "Energy: %s hours of cooling a year at %s cents a kWh.", hours, rate);
	for (size_t i = 0; i < call->offer_count; i++) {
		struct offer_cost cost = cost_of(paper, &call->offers[i]);
		if (!cost.has_energy)
			continue;
		number_format(cost.kwh / call->billing.cooling_hours, 3, kw, sizeof kw);
		number_format(cost.kwh, 0, kwh, sizeof kwh);
		text_add_format(&words, "%s%s: %s%s kW, %s kWh", mark,
		                paper_offer_title(paper, &call->offers[i]),
		                seer_words(paper, &call->offers[i]), kw, kwh);
		mark = "; ";
	}
	const char *kept = document_format(paper->document, "%s.", text_get(&words));
	text_done(&words);
	return kept;
}

/* What became of it; work that is on the bill is not said to be open. */
static const char *outcome_of(const struct paper *paper, const struct offer *offer,
                              bool is_other_taken)
{
	return money_offer_is_billed(paper->call, offer)
	       ? "no decision noted; its work is on the bill" : offer_outcome(offer, is_other_taken);
}

/* "New system: accepted by Ada Example on 3 June 2026 – …". */
static const char *decision_words(const struct paper *paper, const struct offer *offer,
                                  bool is_other_taken)
{
	const char *day = paper_day(paper, offer->decided_at);
	struct text words;

	text_init(&words);
	text_add_format(&words, "%s: %s", paper_offer_title(paper, offer),
	                outcome_of(paper, offer, is_other_taken));
	if (offer->decision != DECISION_NONE && *offer->decided_by)
		text_add_format(&words, " by %s", offer->decided_by);
	if (offer->decision != DECISION_NONE && *day)
		text_add_format(&words, " on %s", day);
	if (*offer->note)
		text_add_format(&words, " – %s", offer->note);
	const char *kept = document_keep(paper->document, text_get(&words));
	text_done(&words);
	return kept;
}

/* What was accepted, and what is still open; what was declined has its own place. */
static void add_decisions(const struct paper *paper)
{
	bool open = false;

	for (size_t i = 0; i < paper->call->offer_count; i++) {
		const struct offer *offer = &paper->call->offers[i];
		if (offer->decision == DECISION_DECLINED)
			continue;
		if (!open)
			document_list(paper->document);
		open = true;
		document_item(paper->document,
		              decision_words(paper, offer, call_takes_an_option(paper->call)));
	}
}

void paper_add_options(const struct paper *paper)
{
	static const struct column with_energy[] = {
		{ .header = "option" }, { .header = "price", .is_number = true, .is_value = true },
		{ .header = "may last" }, { .header = "cost a year", .is_number = true },
		{ .header = "energy", .is_number = true },
		{ .header = "both a year", .is_number = true }, { .header = NULL },
	};
	struct column columns[5];
	bool energy = energy_differs(paper);

	if (paper->call->offer_count == 0)
		return;
	memcpy(columns, with_energy, sizeof columns);
	columns[4] = (struct column){ .header = NULL };
	document_heading(paper->document, 2, paper->for_office ? "Options" : "Your options");
	document_table(paper->document, "Options side by side", energy ? with_energy : columns);
	for (size_t i = 0; i < paper->call->offer_count; i++)
		add_offer_row(paper, &paper->call->offers[i], energy);
	add_decisions(paper);
	document_paragraph(paper->document, TONE_SMALL,
		energy ? document_format(paper->document,
		                         "Cost a year: the price over the years it may last. "
		                         "%s Both are estimates, not promises.", energy_words(paper))
		       : "Cost a year: the price over the years it may last; an estimate, not a promise.");
}

/* What a customer who declined work should know, behind what is still open. */
static const char safety_notice[] =
	"%sWork that is not done can let the unit fail, use more energy or become unsafe.%s";

/*
 * When to switch it off, where the findings do not tell it: for what runs on, and for a leak alone.
 */
static const char switch_off[] =
	" If it smells burnt, smokes, sparks, leaks water or trips its breaker, switch it off, "
	"leave it off and %s.";

static const char switch_off_for_leak[] = " Switch it off if ice forms or it no longer cools.";

/*
 * Whether what was declined is told with the notice: where work that needs doing is left, or
 * nothing was read to say so.  Who took another option is told only when that was done and did
 * not cure it.
 */
static bool is_warned(const struct paper *paper)
{
	if (paper_is_taken_out(paper))
		return false;
	if (call_takes_an_option(paper->call))
		return paper_has_readings(paper, STAGE_AS_LEFT) && paper_leaves_work(paper);
	return !paper_was_read(paper) || paper_leaves_work(paper) || *paper_open_names(paper);
}

static const char *declined_heading(const struct paper *paper)
{
	return paper->for_office ? "Offered and not taken"
	       : call_takes_an_option(paper->call) ? "What you did not choose" : "What you declined";
}

/* One that was not decided on says when it was offered. */
static const char *past_words(const struct paper *paper, const struct past_offer *past)
{
	const char *words = decision_words(paper, &past->offer, past->is_other_taken);

	return past->offer.decision != DECISION_NONE
		? words
		: document_format(paper->document, "%s (offered %s)", words,
			                     paper_day(paper, past->offered_at));
}

static void open_declined(const struct paper *paper, bool *open)
{
	if (!*open) {
		document_heading(paper->document, 2, declined_heading(paper));
		document_list(paper->document);
	}
	*open = true;
}

/* What is still open has a heading of its own: not all of it was offered, nor declined. */
static void warn_of_open(const struct paper *paper)
{
	const char *names = paper_open_names(paper);
	bool is_leak_alone = strcmp(names, paper_leak) == 0;

	if (*names)
		document_heading(paper->document, 2, "Still open");
	document_paragraph(paper->document, TONE_CAUTION,
		document_format(paper->document, safety_notice, *names
		                ? document_format(paper->document, "%s. ",
		                                  paper_capital(paper, names)) : "",
		                paper_tells_use(paper) ? "" : is_leak_alone ? switch_off_for_leak :
		                document_format(paper->document, switch_off,
		                                paper_call_us(paper, "", "have it looked at"))));
}

/* What was declined on this call; for the office also what was not taken at earlier ones. */
void paper_add_declined(const struct paper *paper)
{
	const struct paper_input *input = paper->input;
	bool open = false;

	for (size_t i = 0; i < paper->call->offer_count; i++) {
		const struct offer *offer = &paper->call->offers[i];
		if (offer->decision != DECISION_DECLINED)
			continue;
		open_declined(paper, &open);
		document_item(paper->document,
		              decision_words(paper, offer, call_takes_an_option(paper->call)));
	}
	for (size_t i = 0; paper->for_office && i < input->offered_count; i++) {
		open_declined(paper, &open);
		document_item(paper->document, past_words(paper, &input->offered[i]));
	}
	if (open && !paper->for_office && is_warned(paper))
		warn_of_open(paper);
}
