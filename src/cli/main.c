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
	puts("usage: padside [--book FILE] [--units us|si] [--theme auto|light|dark|mono]\n"
	     "                                                    the workbook, full screen\n"
	     "       padside COMMAND [option…]\n"
	     "       padside help COMMAND                         one command and its options\n");
	for (const struct command *command = commands; command->name; command++)
		printf("  %-8s %s%*s %s\n", command->name, command->arguments,
		       ARGUMENT_COLUMNS - text_columns(command->arguments), "", command->summary);
	puts("\nEvery option has a long form (--book FILE, --book=FILE); the common ones also "
	     "a letter (-b FILE).\n"
	     "Readings, figures and faults: man padside-readings.");
}

/* padside help, padside help COMMAND. */
static int help(struct cli *cli, int count, char **words)
{
	char flag[] = "--help";
	char *asked[] = { flag, NULL };

	if (count == 0)
		return print_help(), EXIT_DONE;
	const struct command *command = command_find(words[0]);
	if (!command || count > 1)
		return command_misuse(cli, "help takes the name of one command, or nothing");
	cli->command = command;
	return command->run(cli, 1, asked);
}

/* Runs what the words ask for; returns the exit status. */
static int run(int argc, char **argv)
{
	struct cli cli = { .program = argv[0] };
	int leading = command_leading(argc, argv);
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
	if (strcmp(argv[leading], "help") == 0)
		return help(&cli, argc - leading - 1, argv + leading + 1);
	const struct command *command = command_find(argv[leading]);
	if (!command)
		return command_misuse(&cli, "there is no command \"%s\"", argv[leading]);
	cli.command = command;
	int status = command->run(&cli, argc - leading - 1, argv + leading + 1);
	if (status == EXIT_DONE && text_times_short() > 0)
		return command_fail("memory ran out and the output is not whole; close other programs, "
		                    "then run it again");
	return status;
}

/* The commands write numbers by LC_NUMERIC, which stays "C"; only characters are local. */
int main(int argc, char **argv)
{
	setlocale(LC_CTYPE, "");
	int status = run(argc, argv);
	if (fflush(stdout) != 0 || ferror(stdout))
		return command_fail("the output could not be written in full; check the free "
		                    "space, then run it again");
	return status;
}
