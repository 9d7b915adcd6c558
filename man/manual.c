/*
 * Writes the manual page, padside.1, from the tables that drive the program:
 * commands and their options, keys, readings, figures, faults, cautions.  What the
 * tables say is said nowhere else, so that a new row reaches the manual by
 * `make man`, and a test tells when that was forgotten.
 *
 * Options are read from what `padside COMMAND --help` prints, which is made
 * of the same tables that parse them.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <padside/catalog/catalog.h>
#include <padside/catalog/faults.h>

#include "cli/commands.h"
#include "tui/requests.h"

enum { LINE_BYTES = 512 };

/* ---- What no table says, in the page's own notation ---- */

static const char *const opening[] = {
	".SH NAME",
	"padside - workbook for one cooling service call",
	".SH SYNOPSIS",
	".B padside",
	"[\\fIoption\\fR]...",
	".br",
	".B padside",
	".I command",
	"[\\fIoption\\fR]... [\\fIargument\\fR]...",
	".SH DESCRIPTION",
	"padside is a full-screen workbook for one service call on a residential or "
	"light-commercial cooling system. The technician steps through the call; every reading is in "
	"the book the moment it is entered; the program works out what the readings mean, ranks what "
	"is wrong, says what to measure next, and prints the summary that goes with the invoice.",
	NULL,
};

static const char *const closing[] = {
	".SH EXIT STATUS",
	".TP",
	".B 0",
	"Done.",
	".TP",
	".B 1",
	"The work could not be done; a sentence on standard error says why and what to do. "
	"A figure that is not evaluated ends so too.",
	".TP",
	".B 2",
	"Wrong usage.",
	".PP",
	"Nothing but the result goes to standard output.",
	".SH FILES",
	".TP",
	".I $XDG_DATA_HOME/padside/book.db",
	"The book, an SQLite database, unless \\fB--book\\fR names another. Without XDG_DATA_HOME it "
	"lies in ~/.local/share. Book, backups and exports can be read by their owner only.",
	".SH EXAMPLES",
	".EX",
	"padside figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=52",
	"padside figure subcooling refrigerant=R-22 'liquid_pressure=15 bar' 'liquid_line_temp=34 C'",
	"padside calls --customer quarry --since 2026-01-01",
	"padside export CALL --format json | padside --book other.db record -",
	".EE",
	NULL,
};

/* ---- Words into the page's notation ---- */

static void put_words(const char *words)
{
	if (*words == '.' || *words == '\'')
		fputs("\\&", stdout);
	for (; *words; words++) {
		if (*words == '\\')
			fputs("\\e", stdout);
		else if (*words == '-')
			fputs("\\-", stdout);
		else
			putchar(*words);
	}
}

static void put_line(const char *words)
{
	put_words(words);
	putchar('\n');
}

/* Adds the full stop that the tables' clauses leave to whoever prints them. */
static void put_sentence(const char *clause)
{
	size_t length = strlen(clause);

	put_words(clause);
	puts(length && clause[length - 1] == '.' ? "" : ".");
}

static void put_heading(const char *macro, const char *words)
{
	printf("%s \"", macro);
	put_words(words);
	puts("\"");
}

/* A paragraph with a bold tag and what follows it in plain. */
static void put_tag(const char *bold, const char *plain)
{
	fputs(".TP\n\\fB", stdout);
	put_words(bold);
	fputs("\\fR", stdout);
	if (*plain) {
		putchar(' ');
		put_words(plain);
	}
	putchar('\n');
}

/* Rows that carry their own notation; only dashes need care. */
static void put_notation(const char *const *rows)
{
	for (; *rows; rows++) {
		for (const char *at = *rows; *at; at++) {
			if (*at == '-' && **rows != '.')
				putchar('\\');
			putchar(*at);
		}
		putchar('\n');
	}
}

/* ---- Commands ---- */

/* A line of --help, "  -n, --name VALUE    what it does", as a tagged paragraph. */
static void put_option(char *line)
{
	char *name = line + strspn(line, " ");
	char *help = strstr(name, "  ");

	if (!help)
		return;
	*help++ = '\0';
	help += strspn(help, " ");
	put_tag(name, "");
	put_line(help);
}

static bool is_in(const char *line, FILE *file)
{
	char other[LINE_BYTES];

	rewind(file);
	while (fgets(other, sizeof other, file))
		if (strcmp(other, line) == 0)
			return true;
	return false;
}

/* The options of a help text, except those that stand in `known` already. */
static void put_options(FILE *help, FILE *known)
{
	char line[LINE_BYTES];

	rewind(help);
	while (fgets(line, sizeof line, help)) {
		if (strncmp(line, "  ", 2) != 0 || !strstr(line, "--") || (known && is_in(line, known)))
			continue;
		line[strcspn(line, "\n")] = '\0';
		put_option(line);
	}
}

static FILE *open_scratch(void)
{
	FILE *file = tmpfile();

	if (!file) {
		perror("manual");
		exit(EXIT_FAILURE);
	}
	return file;
}

/* What the command prints for --help, in a file of its own. */
static FILE *take_help(const struct command *command)
{
	struct cli cli = { .book = NULL };
	char word[] = "--help";
	char *words[] = { word, NULL };
	FILE *file = open_scratch();

	fflush(stdout);
	int saved = dup(STDOUT_FILENO);
	if (saved < 0 || dup2(fileno(file), STDOUT_FILENO) < 0) {
		perror("manual");
		exit(EXIT_FAILURE);
	}
	command->run(&cli, 1, words);
	fflush(stdout);
	dup2(saved, STDOUT_FILENO);
	close(saved);
	return file;
}

static void put_commands(FILE *global)
{
	put_heading(".SH", "COMMANDS");
	put_line("Without a command the workbook opens, full screen.");
	for (const struct command *command = commands; command->name; command++) {
		char head[LINE_BYTES];
		FILE *help = take_help(command);
		snprintf(head, sizeof head, "padside %s", command->name);
		put_tag(head, command->arguments);
		put_sentence(command->summary);
		puts(".RS");
		put_options(help, global);
		puts(".RE");
		fclose(help);
	}
}

/* ---- Keys ---- */

/* Where a key asks for something, as a heading, in the order of the page. */
static const struct {
	enum request_place place; /* of requests.def */
	const char *words;        /* the heading */
} places[] = {
	{ PLACE_ANY, "Everywhere" },
	{ PLACE_BOOK, "In the book" },
	{ PLACE_CALL, "On a call" },
	{ PLACE_SHEET, "On a sheet" },
	{ PLACE_FINDINGS, "On the findings" },
	{ PLACE_CHOICES, "On the choices" },
	{ PLACE_WORK, "On the work done" },
	{ PLACE_PAPER, "On the paper" },
	{ PLACE_CUSTOMER, "On a customer's page" },
	{ PLACE_HISTORY, "On the history" },
};

static void put_keys_of(enum request_place place, const char *words)
{
	bool begun = false;

	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++) {
		const struct request_info *info = request_info((enum request)i);
		if (info->place != place || !*info->key)
			continue;
		if (!begun)
			put_heading(".SS", words);
		begun = true;
		char keys[LINE_BYTES];
		snprintf(keys, sizeof keys, "%s%s%s", info->key, *info->other ? ", " : "", info->other);
		put_tag(keys, "");
		put_sentence(info->help);
	}
}

static void put_keys(void)
{
	put_heading(".SH", "KEYS");
	for (size_t i = 0; i < sizeof places / sizeof *places; i++)
		put_keys_of(places[i].place, places[i].words);
}

/* ---- The catalogue ---- */

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
	put_words(low);
	fputs(" to ", stdout);
	put_sentence(high);
}

static void put_choices(enum choice_list list)
{
	fputs("One of", stdout);
	for (int i = 0; i < choice_count(list); i++) {
		fputs(i ? ", " : " ", stdout);
		put_words(choice_key((enum choice)((int)choice_first(list) + i)));
	}
	puts(".");
}

static void put_reading(enum reading reading)
{
	const struct reading_info *info = reading_info(reading);
	char unit[LINE_BYTES];

	write_unit(info->unit, unit, sizeof unit);
	put_tag(info->key, unit);
	put_line(info->help);
	if (info->kind == KIND_CHOICE)
		put_choices(info->choices);
	if (info->kind == KIND_YES_NO)
		put_line("Yes or no.");
	if (info->kind == KIND_RESISTANCE)
		put_line("A number or OL, over limit.");
	if (info->condition != CONDITION_NONE) {
		fputs("Only ", stdout);
		put_sentence(condition_words(info->condition));
	}
	put_range("Refused outside", info->unit, &info->hard);
	put_range("Questioned outside", info->unit, &info->plausible);
}

static void put_readings_of(enum step step)
{
	bool begun = false;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		if (reading_info((enum reading)i)->step != step)
			continue;
		if (!begun)
			put_heading(".SS", step_info(step)->label);
		begun = true;
		put_reading((enum reading)i);
	}
}

static void put_readings(void)
{
	put_heading(".SH", "READINGS");
	put_line("The keys of readings in JSON and on the command line, with the unit of a bare number; "
	         "a unit behind the number wins.");
	for (int step = 0; step < STEP_COUNT; step++)
		put_readings_of((enum step)step);
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
}

static void put_figures(void)
{
	put_heading(".SH", "FIGURES");
	put_line("What is worked out. A figure whose readings are missing is not evaluated: "
	         "never a pass, never 0.");
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		const struct figure_info *info = figure_info((enum figure)i);
		char unit[LINE_BYTES];
		write_unit(info->unit, unit, sizeof unit);
		put_tag(info->key, unit);
		put_needs(info);
		fputs("Formula: ", stdout);
		put_sentence(info->formula);
		fputs("Source: ", stdout);
		put_sentence(info->source);
	}
}

static void put_faults(void)
{
	put_heading(".SH", "FAULTS");
	put_line("The ids of findings.");
	for (int i = FAULT_NONE + 1; i < FAULT_COUNT; i++) {
		const struct fault_info *info = fault_info((enum fault)i);
		put_tag(info->key, "");
		put_sentence(info->label);
	}
}

static void put_cautions(void)
{
	put_heading(".SH", "CAUTIONS");
	put_line("These stand on the steps where the work is done. The local code, the licence and the "
	         "equipment's own instructions come first: padside advises, it does not authorise.");
	for (int step = 0; step < STEP_COUNT; step++) {
		enum condition condition;
		const char *caution;
		for (int i = 0; (caution = step_caution((enum step)step, i, &condition)) != NULL; i++) {
			if (i == 0)
				put_heading(".SS", step_info((enum step)step)->label);
			puts(".IP \\(bu 2");
			put_line(caution);
		}
	}
}

int main(void)
{
	FILE *global = open_scratch();

	command_usage(&commands[0], NULL, global);
	puts(".\\\" Written by man/manual.c from the program's tables: do not edit, run `make man`.");
	puts(".TH PADSIDE 1 \"\" \"padside " PADSIDE_VERSION "\" \"User Commands\"");
	put_notation(opening);
	put_commands(global);
	put_heading(".SH", "OPTIONS OF EVERY COMMAND");
	put_options(global, NULL);
	put_keys();
	put_readings();
	put_figures();
	put_faults();
	put_cautions();
	put_notation(closing);
	fclose(global);
	return ferror(stdout) ? EXIT_FAILURE : EXIT_SUCCESS;
}
