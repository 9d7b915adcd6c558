/*
 * The program: the workbook, or one command.
 */
#include <locale.h>
#include <string.h>

#include <padside/base/text.h>

#include "cli/commands.h"

enum { ARGUMENT_COLUMNS = 20 };

static void print_help(void)
{
	puts("usage: padside [--book FILE] [--units us|si]          the workbook, full screen\n"
	     "       padside COMMAND [option…]\n");
	for (const struct command *command = commands; command->name; command++)
		printf("  %-8s %s%*s %s\n", command->name, command->arguments,
		       ARGUMENT_COLUMNS - text_columns(command->arguments), "", command->summary);
	puts("\nMore on a command: padside COMMAND --help");
}

/* Options before the first word that is no option belong to the program. */
static int count_leading(int count, char **words)
{
	int at = 1;

	while (at < count && strncmp(words[at], "--", 2) == 0) {
		bool takes_value = strcmp(words[at], "--book") == 0 || strcmp(words[at], "--units") == 0;
		at += takes_value ? 2 : 1;
	}
	return at < count ? at : count;
}

/* Runs what the words ask for; returns the exit status. */
static int run(int argc, char **argv)
{
	struct cli cli = { .book = NULL };
	int leading = count_leading(argc, argv);
	int count = leading - 1;

	if (!command_parse(&cli, NULL, &count, argv + 1))
		return EXIT_USAGE;
	if (cli.wants_version) {
		puts("padside " PADSIDE_VERSION);
		return EXIT_DONE;
	}
	if (leading >= argc && !cli.wants_help)
		return command_workbook(&cli);
	if (leading >= argc) {
		print_help();
		return EXIT_DONE;
	}
	const struct command *command = command_find(argv[leading]);
	if (!command)
		return command_fail(EXIT_USAGE, "there is no command \"%s\"; see padside --help", argv[leading]);
	return command->run(&cli, argc - leading - 1, argv + leading + 1);
}

/* The commands write numbers by LC_NUMERIC, which stays "C"; only characters are local. */
int main(int argc, char **argv)
{
	setlocale(LC_CTYPE, "");
	int status = run(argc, argv);
	if (fflush(stdout) != 0 || ferror(stdout))
		return command_fail(EXIT_FAILED, "the answer could not be written in full: is the disk full?");
	return status;
}
