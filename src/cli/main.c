/*
 * The program: the workbook, or one command.
 */
#include <locale.h>
#include <string.h>

#include "cli/commands.h"

static void print_help(void)
{
	puts("usage: padside [--book FILE] [--units us|si]          the workbook, full screen\n"
	     "       padside COMMAND [option…]\n");
	for (const struct command *command = commands; command->name; command++)
		printf("  %-8s %-20s %s\n", command->name, command->arguments, command->summary);
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

/* The commands write numbers by LC_NUMERIC, which stays "C"; only characters are local. */
int main(int argc, char **argv)
{
	struct cli cli = { .book = NULL };
	int leading = count_leading(argc, argv);
	int count = leading - 1;

	setlocale(LC_CTYPE, "");
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
