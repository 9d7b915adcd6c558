/*
 * padside(1): commands and their options, files, environment.  Options are
 * read from what `padside COMMAND --help` prints, which is made of the same
 * tables that parse them.
 */
#include "pages.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/commands.h"
#include "notation.h"

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
	"light-commercial cooling system. The technician steps through the call. Every reading is in "
	"the book the moment it is entered. The program works out what the readings mean, ranks what "
	"is wrong, names the next reading to take, and writes the service report.",
	".PP",
	"The keys of the workbook are in \\fBpadside-keys\\fR(7), readings, figures and faults in "
	"\\fBpadside-readings\\fR(7), the JSON of a call in \\fBpadside-json\\fR(5).",
	NULL,
};

static const char *const closing[] = {
	".SH MONEY",
	"Amounts are whole cents. A line is its quantity times its unit price. The lines of a kind "
	"(labour, parts, refrigerant, fees) make a subtotal; the discount is taken of the subtotal, "
	"and the tax of the subtotal less its discount. Each of these is rounded to the cent once, "
	"half a cent up (a credit likewise, away from zero); sums are not rounded again. The report "
	"prints every subtotal with the discount and the tax taken of it, so that each sum can be "
	"added again from the page. A line that is given free is printed with its worth, charged at 0 "
	"and not taxed. Rates go from 0 to 100 % and have at most three decimals. In a file that gives "
	"discount and tax line by line, the parts of a kind's lines add up to what the report prints "
	"for that kind. There a line without charge keeps its price and is taken off by 100 %. The "
	"unit of a quantity is what the description names behind its last comma (ounces, pounds, an "
	"hour, feet); else hour for labour, each for parts and fees, and none for refrigerant. The "
	"currency is a code of ISO 4217.",
	".SH EXIT STATUS",
	".TP",
	".B 0",
	"Done.",
	".TP",
	".B 1",
	"The work could not be done. A sentence on standard error says why and what to do. "
	"A figure that is not evaluated ends this way too.",
	".TP",
	".B 2",
	"Wrong usage.",
	".PP",
	"Nothing but the result goes to standard output.",
	".SH ENVIRONMENT",
	".TP",
	".B XDG_DATA_HOME",
	"Where the book is kept; ~/.local/share when it is not set.",
	".TP",
	".B LC_ALL, LC_CTYPE, LANG",
	"The character set. Without UTF-8 everything is shown in ASCII.",
	".TP",
	".B LC_TIME",
	"How the workbook writes dates. Files and lists always have 2026-06-03.",
	".TP",
	".B TERM",
	"The terminal; it must be able to move its cursor.",
	".TP",
	".B NO_COLOR",
	"When set, the workbook uses no colours.",
	".SH FILES",
	".TP",
	".I $XDG_DATA_HOME/padside/book.db",
	"The book, an SQLite database, unless \\fB--book\\fR names another. Only its owner can read "
	"the book, backups and exports.",
	".SH EXAMPLES",
	"A figure, in the units at hand:",
	".PP",
	".EX",
	"padside figure superheat refrigerant=R-410A suction_pressure=118 suction_line_temp=52",
	"padside figure subcooling refrigerant=R-22 'liquid_pressure=15 bar' 'liquid_line_temp=34 C'",
	".EE",
	".PP",
	"The calls of one customer this year, and the report of one of them:",
	".PP",
	".EX",
	"padside calls --customer quarry --since 2026-01-01",
	"padside export CALL --format html --output report.html",
	".EE",
	".PP",
	"A call into another book:",
	".PP",
	".EX",
	"padside export CALL --for office --format json | padside --book other.db record -",
	".EE",
	".SH SEE ALSO",
	"\\fBpadside-keys\\fR(7), \\fBpadside-readings\\fR(7), \\fBpadside-json\\fR(5)",
	NULL,
};

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
	notation_tag(name, "");
	notation_line(help);
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

/* The options of a help text; indented, and without those in `known`, where that is given. */
static void put_options(FILE *help, FILE *known)
{
	char line[LINE_BYTES];
	bool begun = false;

	rewind(help);
	while (fgets(line, sizeof line, help)) {
		if (strncmp(line, "  ", 2) != 0 || !strstr(line, "--") || (known && is_in(line, known)))
			continue;
		if (known && !begun)
			puts(".RS");
		begun = true;
		line[strcspn(line, "\n")] = '\0';
		put_option(line);
	}
	if (known && begun)
		puts(".RE");
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
	struct cli cli = { .command = command };
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
	notation_heading(".SH", "COMMANDS");
	notation_line("Without a command the workbook opens, full screen.");
	for (const struct command *command = commands; command->name; command++) {
		char head[LINE_BYTES];
		FILE *help = take_help(command);
		snprintf(head, sizeof head, "padside %s", command->name);
		notation_tag(head, command->arguments);
		notation_sentence(command->summary);
		put_options(help, global);
		fclose(help);
	}
}

void page_program(void)
{
	const struct cli first = { .command = &commands[0] };
	FILE *global = open_scratch();

	command_usage(&first, NULL, global);
	notation_title("PADSIDE", 1, "User Commands");
	notation_rows(opening);
	put_commands(global);
	notation_heading(".SH", "OPTIONS OF EVERY COMMAND");
	put_options(global, NULL);
	notation_rows(closing);
	fclose(global);
}
