/*
 * The table of commands.
 */
#include "cli/commands.h"

#include <string.h>

const struct command commands[] = {
	{ "calls", "", "Lists the calls of the book, newest first", command_calls },
	{ "record", "FILE|-", "Stores calls from JSON, all or nothing, and prints their ids",
	  command_record },
	{ "figure", "NAME key=value…|-", "Works out one figure from readings", command_figure },
	{ "history", "", "Shows a customer's visits and machines, what drifts, what changed",
	  command_history },
	{ "prices", "[FILE]", "Replaces the price list by a CSV file, or prints it as one", command_prices },
	{ .name = NULL },
};

const struct command *command_find(const char *name)
{
	for (const struct command *command = commands; command->name; command++)
		if (strcmp(command->name, name) == 0)
			return command;
	return NULL;
}
