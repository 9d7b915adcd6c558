/*
 * padside-readings(7): readings, figures, faults and cautions, from the catalogue.
 */
#include "pages.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <padside/base/quantities.h>
#include <padside/catalog/catalog.h>
#include <padside/catalog/faults.h>
#include <padside/model/checklist.h>

#include "notation.h"

enum { LINE_BYTES = 512 };

/* "(psig)", "" without unit. */
static void write_unit(enum unit unit, char *out, size_t size)
{
	snprintf(out, size, unit == UNIT_NONE ? "%s" : "(%s)", unit_symbol(unit, false));
}

static void put_range(const char *words, enum unit unit, const struct range *range)
{
	char low[LINE_BYTES], high[LINE_BYTES];

	if (range->low >= range->high)
		return;
	snprintf(low, sizeof low, "%.10g", range->low);
	snprintf(high, sizeof high, "%.10g%s%s", range->high, unit == UNIT_NONE ? "" : " ",
	         unit_symbol(unit, false));
	printf("%s ", words);
	if (isinf(range->low)) {
		fputs("at most ", stdout);
	} else {
		notation_words(low);
		fputs(" to ", stdout);
	}
	notation_sentence(high);
}

/* "Shown to 0.01 psig." */
static void put_step(int decimals, enum unit unit)
{
	char step[LINE_BYTES];

	snprintf(step, sizeof step, "%.*f%s%s", decimals, decimals > 0 ? pow(10, -decimals) : 1,
	         unit == UNIT_NONE ? "" : " ", unit_symbol(unit, false));
	fputs("Shown to ", stdout);
	notation_sentence(step);
}

static void put_choices(enum choice_list list)
{
	fputs("One of", stdout);
	for (int i = 0; i < choice_count(list); i++) {
		fputs(i ? ", " : " ", stdout);
		notation_words(choice_key((enum choice)((int)choice_first(list) + i)));
	}
	puts(".");
}

/* The reader's units are not known. */
static void put_words(const char *sentence)
{
	char words[QUANTITIES_SIZE];

	quantities_write_both(sentence, words, sizeof words);
	notation_line(words);
}

static void put_reading(enum reading reading)
{
	const struct reading_info *info = reading_info(reading);
	char unit[LINE_BYTES];

	write_unit(info->unit, unit, sizeof unit);
	notation_tag(info->key, unit);
	put_words(info->help);
	if (info->tells)
		put_words(info->tells);
	if (info->kind == KIND_CHOICE)
		put_choices(info->choices);
	if (info->kind == KIND_YES_NO)
		notation_line("Yes or no.");
	if (info->kind == KIND_RESISTANCE)
		notation_line("A number or OL, over limit.");
	if (info->condition != CONDITION_NONE) {
		fputs("Only ", stdout);
		notation_sentence(condition_words(info->condition));
	}
	if (info->kind == KIND_DATE)
		notation_line("A day, as 2031-06-30.");
	if (info->instrument != INSTRUMENT_NONE) {
		fputs("Taken with: ", stdout);
		notation_sentence(instrument_info(info->instrument)->key);
	}
	put_range("Refused outside", info->unit, &info->hard);
	put_range("Questioned outside", info->unit, &info->plausible);
	put_range("A sound unit reads", info->unit, &info->expected);
	if (info->kind == KIND_NUMBER)
		put_step(info->decimals, info->unit);
}

static void put_readings_of(enum step step)
{
	bool begun = false;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		if (reading_info((enum reading)i)->step != step)
			continue;
		if (!begun)
			notation_heading(".SS", step_info(step)->label);
		begun = true;
		put_reading((enum reading)i);
	}
}

static void put_readings(void)
{
	notation_heading(".SH", "READINGS");
	notation_line("The keys of readings in JSON and on the command line, with the unit of a bare "
	              "number; a unit behind the number wins.");
	for (int step = 0; step < STEP_COUNT; step++)
		put_readings_of((enum step)step);
}

static void put_instruments(void)
{
	notation_heading(".SH", "INSTRUMENTS");
	notation_line("How far each instrument may be off: the reading lies within this in 95 of 100 "
	              "cases. These are usual field instruments in good order (common practice). "
	              "Every plus/minus that padside shows is worked out from them and is a 95 % one "
	              "too. What is given in percent lies the same way in all readings of one "
	              "instrument, so it cancels in a difference or an unbalance; the rest is each "
	              "reading's own. The plus/minus of charge_to_move also holds that units respond "
	              "to a charge differently. Set your own with padside settings 'meters=voltmeter "
	              "0.3 V + 0.5 %; clamp_meter 1.5 %'.");
	for (int i = INSTRUMENT_NONE + 1; i < INSTRUMENT_COUNT; i++) {
		const struct instrument_info *info = instrument_info((enum instrument)i);
		char accuracy[LINE_BYTES];
		accuracy_format((enum instrument)i, info->accuracy, accuracy, sizeof accuracy);
		notation_tag(info->key, "");
		notation_words(info->label);
		notation_words(": ");
		notation_line(accuracy);
	}
}

static void put_checklists(void)
{
	struct checklist list;
	struct error error;

	notation_heading(".SH", "TUNE-UP LISTS");
	notation_line("What a visit of a kind takes: readings by their keys, and tasks, which are "
	              "done when the work has a line of those words. The list is chosen on the call "
	              "(Alt+l) or comes with it (call.checklist in JSON: the whole line, or the name "
	              "of one of these). What is missing stands on the office report. A firm's own "
	              "lists have the same form, one a line: padside settings 'checklists=Autumn "
	              "check: outdoor_db; supply_db; Gutter cleared'.");
	for (int i = 0; i < checklist_built_in_count(); i++) {
		if (checklist_parse(checklist_built_in(i), &list, &error) != STATUS_OK)
			continue;
		notation_tag(list.name, "");
		notation_line(strchr(checklist_built_in(i), ':') + 2);
	}
}

static void put_needs(const struct figure_info *info)
{
	fputs("Needs ", stdout);
	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++) {
		fputs(i ? ", " : "", stdout);
		for (int j = 0; j < FIGURE_MOST_ALTERNATIVES && info->needs[i][j] != READING_NONE; j++)
			printf("%s%s", j ? " or " : "", reading_info(info->needs[i][j])->key);
	}
	puts(".");
	for (int i = 0; i < FIGURE_MOST_USES && info->uses[i] != READING_NONE; i++)
		printf("%s%s", i ? ", " : "Uses what was read of ", reading_info(info->uses[i])->key);
	if (info->uses[0] != READING_NONE)
		puts(".");
}

static void put_figures(void)
{
	notation_heading(".SH", "FIGURES");
	notation_line("What is worked out. A figure whose readings are missing is not evaluated: "
	         "never a pass, never 0.");
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		const struct figure_info *info = figure_info((enum figure)i);
		char unit[LINE_BYTES];
		write_unit(info->unit, unit, sizeof unit);
		notation_tag(info->key, unit);
		put_needs(info);
		if (!info->is_word)
			put_step(info->decimals, info->unit);
		fputs("Formula: ", stdout);
		notation_sentence(info->formula);
		fputs("Source: ", stdout);
		notation_sentence(info->source);
	}
}

static void put_faults(void)
{
	notation_heading(".SH", "FAULTS");
	notation_line("The ids of findings, and on how many calls with a complaint each is there "
	              "before anything is read: a usual share, that readings soon outweigh (charge "
	              "and airflow after Home Energy Magazine, May/June 2002; the rest common "
	              "practice).");
	for (int i = FAULT_NONE + 1; i < FAULT_COUNT; i++) {
		const struct fault_info *info = fault_info((enum fault)i);
		notation_tag(info->key, "");
		notation_sentence(info->label);
		printf("On %.10g of 1000 calls.\n", info->prior * 1000);
		for (int j = 0; j < FAULT_MOST_CAUSES && info->causes[j] != FAULT_NONE; j++)
			printf("%s%s", j ? ", " : "Look first for ", fault_info(info->causes[j])->key);
		if (info->causes[0] != FAULT_NONE)
			puts(".");
	}
}

/* What it takes to make a reading that is proposed next, and what for. */
static const struct {
	enum reading reading; /* what to take */
	double minutes;       /* NAN: on the row of the part or the circuit */
	double tells;         /* NAN: worked out on the call */
	bool power_off;       /* the unit has to be made safe first */
	const char *why;      /* NULL: one of the circuit's */
} next_checks[] = {
#define PART_CHECK(reading, variable, tells, minutes, power_off, why) \
	{ READING_##reading, minutes, tells, power_off, why },
#define CIRCUIT_CHECK(reading, seen, minutes) { READING_##reading, minutes, NAN, false, NULL },
#define DECIDING_CHECK(fault, other, reading)
#define CAUSE_CHECK(fault, reading, why) { READING_##reading, NAN, NAN, false, why },
#include <padside/diagnose/next_checks.def>
#undef PART_CHECK
#undef CIRCUIT_CHECK
#undef DECIDING_CHECK
#undef CAUSE_CHECK
};

static void put_next_checks(void)
{
	notation_heading(".SH", "NEXT CHECKS");
	notation_line("What padside proposes to take next is what saves the most wrong acts for the "
	              "minutes that it takes. Minutes, and on how many of 100 units a reading "
	              "settles the state of its part, are common practice; what a reading of the "
	              "circuit is worth is worked out on the call.");
	for (size_t i = 0; i < sizeof next_checks / sizeof *next_checks; i++) {
		notation_tag(reading_info(next_checks[i].reading)->key, "");
		notation_sentence(next_checks[i].why ? next_checks[i].why : "what is wrong in the circuit");
		if (isfinite(next_checks[i].minutes))
			printf("Takes %.10g minute%s%s.\n", next_checks[i].minutes,
			       next_checks[i].minutes == 1 ? "" : "s",
			       next_checks[i].power_off ? ", with the unit made safe" : "");
		if (isfinite(next_checks[i].tells))
			printf("Settles its part on %.10g of 100 units.\n", 100 * next_checks[i].tells);
	}
}

static void put_cautions(void)
{
	notation_heading(".SH", "CAUTIONS");
	notation_line("These stand on the steps where the work is done. The local code, the licence "
	              "and the equipment's own instructions come first: padside advises, it does not "
	              "authorise.");
	for (int step = 0; step < STEP_COUNT; step++) {
		enum condition condition;
		const char *caution;
		for (int i = 0; (caution = step_caution((enum step)step, i, &condition)) != NULL; i++) {
			if (i == 0)
				notation_heading(".SS", step_info((enum step)step)->label);
			puts(".IP \\(bu 2");
			notation_line(caution);
		}
	}
}

void page_readings(void)
{
	notation_title("PADSIDE-READINGS", 7, "padside");
	notation_heading(".SH", "NAME");
	notation_line("padside-readings - readings, figures and faults of padside");
	put_readings();
	put_instruments();
	put_checklists();
	put_figures();
	put_faults();
	put_next_checks();
	put_cautions();
	notation_heading(".SH", "SEE ALSO");
	notation_line("padside(1), padside-json(5)");
}
