/*
 * Tightness: pressure tests, vacuum, refrigerant weighed in; and the cylinders
 * that were used.
 */
#include "report/paper_parts.h"

#include <padside/base/number.h>
#include <padside/calc/tightness.h>
#include <padside/model/moved.h>
#include <padside/model/tightness.h>
#include <padside/model/cylinder.h>
#include <padside/report/wording.h>

static const char *const kind_words[TIGHTNESS_KIND_COUNT] = {
	[TIGHTNESS_NITROGEN] = "nitrogen", [TIGHTNESS_VACUUM] = "vacuum",
	[TIGHTNESS_WEIGH_IN] = "weighed in",
};

/* A value in a unit of the reader's; "" where none was taken. */
static const char *taken(const struct paper *paper, const struct value *value, enum unit unit,
                         int decimals)
{
	enum unit shown = unit_shown(unit, paper->input->units);
	char out[NUMBER_SIZE];

	if (value->state != VALUE_TAKEN)
		return "";
	number_format(unit_convert(value->number, unit, shown),
	              unit_decimals_shown(decimals, unit, paper->input->units), out, sizeof out);
	return document_format(paper->document, "%s %s", out, unit_symbol(shown, false));
}

/* Vacuum is read in microns everywhere. */
static const char *microns(const struct paper *paper, const struct value *value)
{
	char out[NUMBER_SIZE];

	if (value->state != VALUE_TAKEN)
		return "";
	number_format(value->number, 0, out, sizeof out);
	return document_format(paper->document, "%s microns", out);
}

/* Beside the last look of a test: how the test came out. */
static const char *result(const struct paper *paper, size_t entry)
{
	struct tightness_told tightness;

	if (!tightness_ends_test(paper->call, entry))
		return "";
	tightness_work_out_to(paper->call, entry, &tightness);
	switch (paper->call->tightness[entry].kind) {
	case TIGHTNESS_NITROGEN:
		return wording_nitrogen_result(tightness.nitrogen);
	case TIGHTNESS_VACUUM:
		return wording_vacuum_result(tightness.vacuum);
	default:
		return "";
	}
}

static const char *result_and_note(const struct paper *paper, size_t entry)
{
	struct text words;

	text_init(&words);
	paper_join(&words, "; ", result(paper, entry));
	paper_join(&words, "; ", paper->call->tightness[entry].note);
	paper_join_cylinder(&words, paper->call->tightness[entry].cylinder);
	const char *kept = document_keep(paper->document, text_get(&words));
	text_done(&words);
	return kept;
}

/* The last test of each kind, with its numbers. */
static void tell_results(const struct paper *paper)
{
	struct tightness_told tightness;
	char words[WORDING_SIZE];

	tightness_work_out(paper->call, &tightness);
	wording_nitrogen(&tightness, paper->input->units, words, sizeof words);
	if (*words)
		document_paragraph(paper->document, TONE_PLAIN,
		                   document_format(paper->document, "%s.", paper_capital(paper, words)));
	wording_vacuum(&tightness, words, sizeof words);
	if (*words)
		document_paragraph(paper->document, TONE_PLAIN,
		                   document_format(paper->document, "%s.", paper_capital(paper, words)));
}

/*
 * Whether the circuit was empty on this call and was filled: by weight, or after all was recovered.
 */
static bool was_filled(const struct paper *paper)
{
	static const double most_of_it = 0.5;

	double factory_oz;
	struct moved moved;

	for (size_t i = 0; i < paper->call->tightness_count; i++)
		if (paper->call->tightness[i].kind == TIGHTNESS_WEIGH_IN)
			return true;
	moved_work_out(paper->call, &moved);
	return visit_number(&paper->call->visit, STAGE_AS_FOUND, READING_FACTORY_CHARGE, &factory_oz) ==
	       STATUS_OK && moved.recovered_oz > most_of_it * factory_oz &&
	       moved.added_oz > most_of_it * factory_oz;
}

/* What was filled is tested and evacuated first: where no log has it, the office asks. */
static void tell_what_is_not_on_record(const struct paper *paper)
{
	struct tightness_told tightness;

	tightness_work_out(paper->call, &tightness);
	bool no_nitrogen = tightness.nitrogen == NITROGEN_NONE;
	bool no_vacuum = tightness.vacuum == VACUUM_NONE;
	if (!was_filled(paper) || (!no_nitrogen && !no_vacuum))
		return;
	document_paragraph(paper->document, TONE_CAUTION,
		document_format(paper->document,
		                "The circuit was filled on this call, and no result of %s is on record.",
		                no_nitrogen && no_vacuum ? "a pressure test or a vacuum"
		                : no_nitrogen ? "a pressure test" : "a vacuum"));
}

/* More than the unit holds: what the technician was asked at the log stands for the office too. */
static void tell_over_full(const struct paper *paper)
{
	char words[WORDING_SIZE];

	wording_over_full(paper->call, paper->input->units, words, sizeof words);
	if (*words)
		document_paragraph(paper->document, TONE_ACT,
		                   document_format(paper->document, "Charge: %s.", words));
}

static void add_log(const struct paper *paper)
{
	static const struct column columns[] = {
		{ .header = "time" }, { .header = "test", .is_value = true },
		{ .header = "pressure", .is_number = true }, { .header = "temperature", .is_number = true },
		{ .header = "vacuum", .is_number = true }, { .header = "weighed in", .is_number = true },
		{ .header = "result and note" }, { .header = NULL },
	};

	if (paper->call->tightness_count == 0)
		return;
	document_heading(paper->document, 2, "Tightness and vacuum");
	document_table(paper->document, "Tightness and vacuum", columns);
	for (size_t i = 0; i < paper->call->tightness_count; i++) {
		const struct tightness_entry *entry = &paper->call->tightness[i];
		document_row(paper->document, (const char *const[]){
			paper_moment(paper, entry->at), kind_words[entry->kind],
			taken(paper, &entry->pressure, UNIT_PSIG, 1),
			taken(paper, &entry->temperature, UNIT_F, 1),
			microns(paper, &entry->microns),
			taken(paper, &entry->amount, UNIT_OZ, 1), result_and_note(paper, i) }, ROW_PLAIN);
	}
	tell_results(paper);
}

/* Pounds as the scale shows them, or kilograms. */
static const char *pounds(const struct paper *paper, double lb)
{
	static const double kg_per_lb = 0.45359237; /* exact by definition */

	bool si = paper->input->units == UNITS_SI;
	char out[NUMBER_SIZE];

	if (!(lb > 0))
		return "";
	number_format(si ? lb * kg_per_lb : lb, 2, out, sizeof out);
	return document_format(paper->document, "%s %s", out, si ? "kg" : "lb");
}

/* What still goes in; what it is over full by. */
static const char *room(const struct paper *paper, const struct cylinder *cylinder)
{
	double lb;

	if (cylinder_room(cylinder, &lb) != STATUS_OK)
		return "";
	return lb >= 0 ? pounds(paper, lb)
		: document_format(paper->document, "over by %s", pounds(paper, -lb));
}

/* The day of the pressure test; whether its five years were over on this visit. */
static const char *tested(const struct paper *paper, const struct cylinder *cylinder)
{
	bool is_past = cylinder->test_date != WALL_TIME_NONE &&
	               !tightness_cylinder_in_date(cylinder->test_date, paper->call->opened_at);

	return document_format(paper->document, "%s%s", paper_day(paper, cylinder->test_date),
	                       is_past ? ", past" : "");
}

static void add_cylinders(const struct paper *paper)
{
	static const struct column columns[] = {
		{ .header = "cylinder" }, { .header = "refrigerant", .is_value = true },
		{ .header = "water capacity", .is_number = true }, { .header = "tare", .is_number = true },
		{ .header = "weight", .is_number = true }, { .header = "room", .is_number = true },
		{ .header = "tested" }, { .header = "where the gas went" }, { .header = NULL },
	};

	if (paper->call->cylinder_count == 0)
		return;
	document_heading(paper->document, 2, "Cylinders");
	document_table(paper->document, "Cylinders", columns);
	for (size_t i = 0; i < paper->call->cylinder_count; i++) {
		const struct cylinder *cylinder = &paper->call->cylinders[i];
		document_row(paper->document, (const char *const[]){
			cylinder->name, choice_label(cylinder->refrigerant),
			pounds(paper, cylinder->water_capacity_lb), pounds(paper, cylinder->tare_lb),
			pounds(paper, cylinder->weight_lb), room(paper, cylinder), tested(paper, cylinder),
			cylinder->went_to },
			ROW_PLAIN);
	}
}

void paper_add_tightness(const struct paper *paper)
{
	add_log(paper);
	tell_what_is_not_on_record(paper);
	tell_over_full(paper);
	add_cylinders(paper);
}

void paper_tell_tightness(const struct paper *paper)
{
	static const char *const sentences[TIGHTNESS_KIND_COUNT] = {
		[TIGHTNESS_NITROGEN] = "Pressure test of the refrigerant circuit with nitrogen",
		[TIGHTNESS_VACUUM] = "Evacuation of the refrigerant circuit with a vacuum pump",
		[TIGHTNESS_WEIGH_IN] = "Refrigerant weighed in",
	};
	bool done[TIGHTNESS_KIND_COUNT] = { false };
	struct tightness_told tightness;
	bool open = false;

	tightness_work_out(paper->call, &tightness);
	const char *const results[TIGHTNESS_KIND_COUNT] = {
		[TIGHTNESS_NITROGEN] = wording_nitrogen_result(tightness.nitrogen),
		[TIGHTNESS_VACUUM] = wording_vacuum_result(tightness.vacuum), [TIGHTNESS_WEIGH_IN] = "",
	};
	for (size_t i = 0; i < paper->call->tightness_count; i++)
		if (tightness_was_read(&paper->call->tightness[i]))
			done[paper->call->tightness[i].kind] = true;
	for (int kind = 0; kind < TIGHTNESS_KIND_COUNT; kind++) {
		if (!done[kind])
			continue;
		if (!open)
			document_list(paper->document);
		open = true;
		document_item(paper->document, !*results[kind] ? sentences[kind] :
		              document_format(paper->document, "%s: %s", sentences[kind], results[kind]));
	}
}

bool paper_is_not_tight(const struct paper *paper)
{
	struct tightness_told tightness;

	tightness_work_out(paper->call, &tightness);
	return tightness_did_not_hold(&tightness);
}

void paper_warn_of_leak(const struct paper *paper)
{
	struct tightness_told tightness;

	tightness_work_out(paper->call, &tightness);
	if (tightness.nitrogen == NITROGEN_LEAKING)
		document_paragraph(paper->document, TONE_ACT,
			"Pressure test NOT held: the circuit leaks. The leak must be found and repaired "
			"before the unit is charged.");
	if (tightness_vacuum_did_not_hold(&tightness))
		document_paragraph(paper->document, TONE_ACT,
			tightness.vacuum == VACUUM_LEAKING
			? "Vacuum NOT held: the circuit leaks. The leak must be found and repaired before the "
			  "unit is charged."
			: tightness.vacuum == VACUUM_MOIST
			? "Vacuum NOT held: there is moisture in the circuit. It must be dried before the unit "
			  "is charged."
			: "Vacuum NOT held: the circuit leaks or is wet. We must find out which before the "
			  "unit is charged.");
}
