/*
 * Words of the command line against tables of options.
 */
#include "cli/command.h"

#include <stdarg.h>
#include <string.h>

#include <padside/base/glyph.h>

enum { MOST_GLOBAL = 5 };

/* The global options write into `cli`, so that their table is made for it. */
static void fill_global(struct cli *cli, struct option_row rows[MOST_GLOBAL])
{
	rows[0] = (struct option_row){ "book", "FILE", "the book to use", NULL, &cli->book };
	rows[1] = (struct option_row){ "units", "us|si", "units shown and typed", NULL,
	                               &cli->unit_word };
	rows[2] = (struct option_row){ "help", NULL, "this text", &cli->wants_help, NULL };
	rows[3] = (struct option_row){ "version", NULL, "the program's version",
	                               &cli->wants_version, NULL };
	rows[4] = (struct option_row){ .name = NULL };
}

static const struct option_row *find_row(const struct option_row *rows, const char *name,
                                         size_t length)
{
	for (; rows && rows->name; rows++)
		if (strlen(rows->name) == length && strncmp(rows->name, name, length) == 0)
			return rows;
	return NULL;
}

/*
 * Takes the option at words[*at]; steps over a value behind it.  Returns
 * false when it is none of the table's.
 */
static bool take_option(const struct option_row *own, const struct option_row *global,
                        int count, char **words, int *at)
{
	const char *name = words[*at] + 2;
	size_t length = strcspn(name, "=");
	const struct option_row *row = find_row(own, name, length);

	if (!row)
		row = find_row(global, name, length);
	if (!row) {
		command_fail(EXIT_USAGE, "there is no option --%.*s", (int)length, name);
		return false;
	}
	if (row->flag) {
		*row->flag = true;
		if (name[length] != '=')
			return true;
		command_fail(EXIT_USAGE, "--%s takes no value", row->name);
		return false;
	}
	if (name[length] == '=') {
		*row->text = name + length + 1;
		return true;
	}
	if (*at + 1 >= count) {
		command_fail(EXIT_USAGE, "--%s needs a value: %s", row->name, row->value);
		return false;
	}
	*row->text = words[++*at];
	return true;
}

static bool take_units(struct cli *cli)
{
	if (!cli->unit_word)
		return true;
	cli->units = strcmp(cli->unit_word, "si") == 0 ? UNITS_SI : UNITS_US;
	if (cli->units == UNITS_SI || strcmp(cli->unit_word, "us") == 0)
		return true;
	command_fail(EXIT_USAGE, "--units takes us or si, not \"%s\"", cli->unit_word);
	return false;
}

bool command_parse(struct cli *cli, const struct option_row *own, int *count, char **words)
{
	struct option_row global[MOST_GLOBAL];
	int kept = 0, at = 0;

	fill_global(cli, global);
	for (; at < *count; at++) {
		if (strcmp(words[at], "--") == 0) {
			at++;
			break;
		}
		if (strncmp(words[at], "--", 2) != 0)
			words[kept++] = words[at];
		else if (!take_option(own, global, *count, words, &at))
			return false;
	}
	for (; at < *count; at++)
		words[kept++] = words[at];
	*count = kept;
	return take_units(cli);
}

static void print_rows(const struct option_row *rows, FILE *file)
{
	for (; rows && rows->name; rows++) {
		char head[40];
		snprintf(head, sizeof head, "--%s%s%s", rows->name, rows->value ? " " : "",
		         rows->value ? rows->value : "");
		fprintf(file, "  %-28s %s\n", head, rows->help);
	}
}

void command_usage(const struct command *command, const struct option_row *own, FILE *file)
{
	struct cli cli;
	struct option_row global[MOST_GLOBAL];

	fill_global(&cli, global);
	fprintf(file, "usage: padside %s%s%s%s\n%s.\n\n", command->name,
	        *command->arguments ? " " : "", command->arguments,
	        own && own->name ? " [option…]" : "", command->summary);
	print_rows(own, file);
	print_rows(global, file);
}

/* What a sentence quotes may come from anywhere: it must not steer the terminal. */
int command_fail(int status, const char *format, ...)
{
	struct text sentence, shown;
	va_list arguments;

	text_init(&sentence);
	text_init(&shown);
	va_start(arguments, format);
	text_add_format_list(&sentence, format, arguments);
	va_end(arguments);
	glyph_add_string(&shown, text_get(&sentence), false);
	fprintf(stderr, "padside: %s\n", text_get(&shown));
	text_done(&shown);
	text_done(&sentence);
	return status;
}

int command_report(const struct error *error)
{
	return command_fail(EXIT_FAILED, "%s", error->text);
}
