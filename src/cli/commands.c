/*
 * The table of commands.
 */
#include "cli/commands.h"

#include <string.h>

const struct command commands[] = {
	{ "calls", "", "Lists the calls of the book, newest first", command_calls },
	{ "find", "TEXT", "Lists customers of the book, and those that only the office has",
	  command_find_customers },
	{ "show", "CALL", "Prints one call with everything that the office needs", command_show },
	{ "export", "[CALL]", "Writes the report of one call, or the rows of a period",
	  command_export },
	{ "record", "FILE|-", "Stores calls from JSON, all or nothing, and prints their ids",
	  command_record },
	{ "assess", "FILE|-", "Works out figures and findings from JSON without storing",
	  command_assess },
	{ "figure", "NAME key=value…|-", "Works out one figure from readings", command_figure },
	{ "history", "", "Shows a customer's visits and units, what drifts, what changed",
	  command_history },
	{ "ledger", "", "Adds up the refrigerant that was put in and taken out", command_ledger },
	{ "prices", "[FILE]", "Replaces the price list by a CSV file, or prints it as one",
	  command_prices },
	{ "settings", "[KEY|KEY=VALUE…]", "Shows or sets the report's head and terms, and what a new "
	                                  "call starts with",
	  command_settings },
	{ "sync", "[ADDRESS]", "Meets the firm's office: fetches what is lacking here, sends "
	                       "what is lacking there",
	  command_sync },
	{ "office", "init ADDRESS|billed CALL…",
	  "Lays out the firm's schema on a PostgreSQL server; notes calls as billed", command_office },
	{ "merge", "BOOK", "Brings in another truck's calls, without loss or duplicates",
	  command_merge },
	{ "backup", "FILE", "Writes a consistent copy of the book", command_backup },
	{ "verify", "", "Checks the whole book", command_verify },
	{ .name = NULL },
};

const struct command *command_find(const char *name)
{
	for (const struct command *command = commands; command->name; command++)
		if (strcmp(command->name, name) == 0)
			return command;
	return NULL;
}
