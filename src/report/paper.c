/*
 * The report: its parts in the order in which they are read.
 *
 * The customer reads in plain words what was told, found and done, what it
 * costs, what to watch and what was decided; the office reads the same and
 * everything behind it.
 */
#include <padside/report/paper.h>

#include <stdio.h>
#include <string.h>

#include <padside/model/power.h>

#include "report/paper_parts.h"

/* Of an id: the time at which it was made, which the office finds the call by. */
enum { CALL_NUMBER_LENGTH = 13 };

/* ---- Head ---- */

static void add_letterhead(const struct paper *paper)
{
	if (paper->input->company_count == 0)
		return;
	document_letterhead(paper->document);
	for (size_t i = 0; i < paper->input->company_count; i++)
		document_item(paper->document, paper->input->company[i]);
}

/* A pair, unless there is nothing to say. */
static void add_pair(const struct paper *paper, const char *name, const char *value)
{
	if (*value)
		document_pair(paper->document, name, value);
}

/* "taken out on 6 May 2025"; "" for a unit that is still there. */
static const char *end_of_unit(const struct paper *paper)
{
	wall_time day;

	if (!paper_is_taken_out(paper) ||
	    !clock_parse(visit_value(&paper->call->visit, STAGE_AS_FOUND, READING_TAKEN_OUT)->text,
	                 &day))
		return "";
	return document_format(paper->document, "taken out on %s", paper_day(paper, day));
}

/* "upstairs: 3.0 ton, R-410A, fixed orifice". */
static const char *unit_words(const struct paper *paper)
{
	static const enum reading told[] = {
		READING_NOMINAL_CAPACITY, READING_REFRIGERANT, READING_METERING,
	};
	const struct visit *visit = &paper->call->visit;
	char out[VALUE_TEXT_SIZE + 32];
	struct text words;

	text_init(&words);
	for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
		reading_format(told[i], visit_value(visit, STAGE_AS_FOUND, told[i]), paper->input->units,
		               VALUE_FORM_WITH_UNIT, out, sizeof out);
		paper_join(&words, ", ", out);
	}
	paper_join(&words, ", ", end_of_unit(paper));
	const char *name = paper->call->system.name;
	const char *kept = document_format(paper->document, "%s%s%s", name,
	                                   *name && words.length > 0 ? ": " : "", text_get(&words));
	text_done(&words);
	return kept;
}

static const char *age_words(const struct paper *paper)
{
	double made;

	if (visit_number(&paper->call->visit, STAGE_AS_FOUND, READING_MANUFACTURE_YEAR, &made) !=
	    STATUS_OK)
		return "";
	int year = (int)made;
	if (paper->call->opened_at == WALL_TIME_NONE || clock_year(paper->call->opened_at) <= year)
		return document_format(paper->document, "made in %d", year);
	int age = clock_year(paper->call->opened_at) - year;
	return document_format(paper->document, "made in %d, %d year%s old", year, age,
	                       age == 1 ? "" : "s");
}

static const char *nameplate_words(const struct paper *paper)
{
	const struct visit *visit = &paper->call->visit;
	const struct value *model = visit_value(visit, STAGE_AS_FOUND, READING_MODEL);
	const struct value *serial = visit_value(visit, STAGE_AS_FOUND, READING_SERIAL);
	struct text words;

	text_init(&words);
	paper_join(&words, ", ", age_words(paper));
	if (model->state == VALUE_TAKEN)
		paper_join(&words, ", ", document_format(paper->document, "model %s", model->text));
	if (serial->state == VALUE_TAKEN)
		paper_join(&words, ", ", document_format(paper->document, "serial %s", serial->text));
	const char *kept = document_keep(paper->document, text_get(&words));
	text_done(&words);
	return kept;
}

/* "3 June 2026, 09:12 to 11:40"; a visit that ends on another day says which. */
static const char *visit_words(const struct paper *paper)
{
	const struct call *call = paper->call;
	wall_time from = call->arrived_at != WALL_TIME_NONE ? call->arrived_at : call->opened_at;
	wall_time to = call->left_at != WALL_TIME_NONE ? call->left_at : call->closed_at;
	char hour[CLOCK_TEXT_SIZE];

	if (from == WALL_TIME_NONE)
		return "";
	if (to == WALL_TIME_NONE)
		return paper_moment(paper, from);
	if (strcmp(paper_day(paper, from), paper_day(paper, to)) != 0)
		return document_format(paper->document, "%s to %s", paper_moment(paper, from),
		                       paper_moment(paper, to));
	clock_format_hour(to, hour, sizeof hour);
	return document_format(paper->document, "%s to %s", paper_moment(paper, from), hour);
}

/* "Robin Vale, licence 4411, certification U-20731". */
static const char *technician_words(const struct paper *paper)
{
	const struct call *call = paper->call;
	struct text words;

	text_init(&words);
	paper_join(&words, ", ", call->technician);
	if (*call->licence)
		paper_join(&words, ", ", document_format(paper->document, "licence %s", call->licence));
	if (*call->certification)
		paper_join(&words, ", ", document_format(paper->document, "certification %s",
		                                         call->certification));
	else if (paper->for_office && call->charge_count > 0)
		paper_join(&words, ", ", "certification for refrigerant not set");
	const char *kept = document_keep(paper->document, text_get(&words));
	text_done(&words);
	return kept;
}

/* The firm's own number, or what `padside show` finds the call by: the beginning of its id. */
static const char *number_words(const struct paper *paper)
{
	if (*paper->call->job_number)
		return paper->call->job_number;
	return *paper->call->uid.text
		? document_format(paper->document, "%.*s", CALL_NUMBER_LENGTH, paper->call->uid.text) : "";
}

/* What the report is called, and what stands at the foot of every sheet. */
static void name_document(const struct paper *paper)
{
	const struct call *call = paper->call;
	const char *number = number_words(paper), *day = paper_day(paper, call->opened_at);
	struct text title, whose;

	text_init(&title);
	text_init(&whose);
	text_add(&title, paper->for_office ? "Office report" : "Service report");
	if (*call->customer.name)
		text_add_format(&title, " for %s", call->customer.name);
	paper_join(&title, ", ", day);
	paper_join(&whose, ", ", call->customer.name);
	paper_join(&whose, ", ", call->site.address);
	document_name(paper->document, text_get(&title), text_get(&whose),
	              *number ? document_format(paper->document, "call %s", number) : "");
	paper->document->is_dense = paper->for_office;
	paper->document->is_a4 = paper->input->is_a4;
	paper->document->logo = paper->input->logo;
	text_done(&title);
	text_done(&whose);
}

static void add_office_head(const struct paper *paper)
{
	const struct call *call = paper->call;

	add_pair(paper, "Planned for", paper_moment(paper, call->planned_at));
	add_pair(paper, "Access", call->access_note);
	add_pair(paper, "Billed", paper_moment(paper, call->billed_at));
	add_pair(paper, "Call id", call->uid.text);
	add_pair(paper, "Customer id", call->customer.uid.text);
	add_pair(paper, "Site id", call->site.uid.text);
	add_pair(paper, "Unit id", call->system.uid.text);
}

static void add_head(const struct paper *paper)
{
	const struct call *call = paper->call;
	struct text reach;

	name_document(paper);
	document_heading(paper->document, 1, paper->for_office ? "Office report" : "Service report");
	document_pairs(paper->document);
	text_init(&reach);
	paper_join(&reach, ", ", call->customer.name);
	paper_join(&reach, ", ", call->customer.phone);
	paper_join(&reach, ", ", call->customer.email);
	add_pair(paper, "Customer", text_get(&reach));
	text_done(&reach);
	add_pair(paper, "Address", call->site.address);
	add_pair(paper, "Visit", visit_words(paper));
	add_pair(paper, "Technician", technician_words(paper));
	add_pair(paper, "Unit", unit_words(paper));
	add_pair(paper, "Nameplate", nameplate_words(paper));
	add_pair(paper, "Call number", number_words(paper));
	if (paper->for_office)
		add_office_head(paper);
}

static void add_complaint(const struct paper *paper)
{
	if (!*paper->call->complaint)
		return;
	document_heading(paper->document, 2, paper->for_office ? "Complaint" : "What you told us");
	document_paragraph(paper->document, TONE_PLAIN, paper->call->complaint);
}

/* ---- Next time, and before ---- */

/* What is watched: as it was noted; for the customer without the arithmetic behind a finding. */
static const char *watch_words(const struct paper *paper, const struct watch_item *item)
{
	enum fault fault = fault_from_key(item->fault);

	if (paper->for_office || fault == FAULT_NONE)
		return item->text;
	const struct fault_info *info = fault_info(fault);
	bool is_made_of_it = strncmp(item->text, info->label, strlen(info->label)) == 0;
	return !is_made_of_it ? item->text
	                      : document_format(paper->document, "%s. %s",
	                                        paper_capital(paper, paper_fault(paper, fault)),
	                                        paper_meaning(paper, fault));
}

/* " (noted 30 April 2024)"; not when it was closed: the report tells what held on its day. */
static const char *day_of(const struct paper *paper, const struct watch_item *item)
{
	const char *noted = paper_day(paper, item->noted_at);
	bool is_of_this_visit = strcmp(noted, paper_day(paper, paper->call->opened_at)) == 0;

	/* The customer has read of which day the report is. */
	return *noted && (paper->for_office || !is_of_this_visit)
		? document_format(paper->document, " (noted %s)", noted) : "";
}

/* What was open when this visit was over, whatever became of it since. */
static void add_watch(const struct paper *paper)
{
	const struct paper_input *input = paper->input;
	bool open = false;

	for (size_t i = 0; i < paper->call->watch_count + input->watch_count; i++) {
		const struct watch_item *item = i < paper->call->watch_count
			? &paper->call->watch[i] : &input->watch[i - paper->call->watch_count];
		if (!call_leaves_open(paper->call, item))
			continue;
		if (!open) {
			document_heading(paper->document, 2,
			                 paper->for_office ? "What to watch" : "What we will look at again");
			document_list(paper->document);
		}
		open = true;
		document_item(paper->document,
		              document_format(paper->document, "%s%s", watch_words(paper, item),
		                              day_of(paper, item)));
	}
}

static void add_past(const struct paper *paper)
{
	static const struct column columns[] = {
		{ .header = "date" }, { .header = "found", .is_value = true }, { .header = "done" },
		{ .header = NULL },
	};
	const struct paper_input *input = paper->input;

	if (input->visit_count == 0 && input->trend_count == 0)
		return;
	document_heading(paper->document, 2, "Earlier visits");
	if (input->visit_count > 0)
		document_table(paper->document, "Earlier visits", columns);
	for (size_t i = 0; i < input->visit_count; i++) {
		const struct paper_visit *visit = &input->visits[i];
		document_row(paper->document,
		             (const char *const[]){ paper_day(paper, visit->at), visit->found,
		                                    visit->done }, ROW_PLAIN);
	}
	for (size_t i = 0; i < input->trend_count; i++)
		document_trend(paper->document, &input->trends[i]);
}

/* The state in which the unit was left, as far as it was written down. */
static void add_power(const struct paper *paper)
{
	struct power power = power_of_call(paper->call);
	char hour[CLOCK_TEXT_SIZE];

	if (power.state == POWER_STATE_UNKNOWN)
		return;
	clock_format_hour(power.since, hour, sizeof hour);
	document_paragraph(paper->document, TONE_PLAIN,
		document_format(paper->document, "Power as last recorded: %s%s%s.",
		                power_words(paper->call, &power), *hour ? ", at " : "", hour));
}

/* ---- The end ---- */

static void add_office(const struct paper *paper)
{
	if (*paper->call->office_note) {
		document_heading(paper->document, 2, "Office note");
		document_paragraph(paper->document, TONE_PLAIN, paper->call->office_note);
	}
	paper_add_next_checks(paper);
	paper_add_nameplate(paper);
	paper_add_not_evaluated(paper);
}

static const char have_it_looked_at[] = "have the unit looked at";

static void add_cautions(const struct paper *paper)
{
	bool lacks_phone = !paper->for_office &&
	                   !*paper_phone(paper->input->company, paper->input->company_count);

	/* Who has it repaired or replaced has had it looked at. */
	bool is_switched_off = !paper_is_left_off(paper) && paper_is_switched_off(paper);

	/* There are no covers to keep closed any more, and no breaker that trips. */
	if (paper_is_taken_out(paper))
		return;
	document_heading(paper->document, 2, "Please note");
	document_paragraph(paper->document, TONE_CAUTION,
		document_format(paper->document,
			"Keep the covers of the unit closed. There is dangerous voltage behind them, even with "
			"the power off. %s%s%s.%s",
			paper_is_left_off(paper) ? "The unit was left off: leave it off"
			: is_switched_off
				? "The unit is switched off. Do not switch it on until it is repaired or replaced"
			: paper_stays_off_for(paper) != FAULT_NONE ? "Leave the unit off"
			: visit_is_yes(&paper->call->visit, STAGE_AS_FOUND, READING_BREAKER_TRIPPED)
				? "If a breaker trips again, leave it off" : "If a breaker trips, leave it off",
			is_switched_off ? "" : " and ",
			is_switched_off ? "" : paper_call_us(paper, "", have_it_looked_at),
			lacks_phone ? " Our telephone: ______________________" : ""));
	if (visit_condition_holds(&paper->call->visit, STAGE_AS_FOUND, CONDITION_FLAMMABLE))
		document_paragraph(paper->document, TONE_CAUTION,
			document_format(paper->document,
				"This unit holds a flammable refrigerant. Keep flames and sparks away from it. If "
				"it leaks indoors, open the windows, leave and %s.",
				paper_call_us(paper, " from outside", "call for help from outside")));
	document_paragraph(paper->document, TONE_SMALL,
		"Readings are of this visit and its weather. Local codes and the maker's nameplate, chart "
		"and instructions come before anything in this report.");
}

typedef void paper_part(const struct paper *paper);

/* What each reader finds, in the order in which it is read. */
static paper_part *const customer_parts[] = {
	add_letterhead, add_head, add_complaint, paper_add_findings, paper_tell_meanwhile,
	paper_add_work,
	paper_add_measured, add_watch, paper_add_options, paper_add_declined, paper_add_money,
	paper_add_agreement, add_cautions, NULL,
};
static paper_part *const office_parts[] = {
	add_letterhead, add_head, add_complaint, paper_add_findings, paper_add_work,
	paper_add_checklist, paper_add_tightness, paper_add_rulers, add_watch, paper_add_options,
	paper_add_declined, paper_add_money,
	paper_add_agreement, paper_add_readings, paper_add_safety, add_power, add_past, add_office,
	add_cautions, NULL,
};

void paper_build(const struct paper_input *input, enum paper_reader reader,
                 struct document *document)
{
	struct paper paper = {
		.input = input, .call = input->call, .reader = reader,
		.for_office = reader == PAPER_OFFICE, .document = document,
	};

	for (paper_part *const *part = paper.for_office ? office_parts : customer_parts; *part; part++)
		(*part)(&paper);
}
