#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include <stdbool.h>
#include <stdio.h>

#include <padside/base/error.h>
#include <padside/base/units.h>

/*
 * The commands of the command line: one row each in commands.c, one file each
 * beside it.  Options are tables too, so that parsing, usage and completion
 * say the same thing.
 */

/* Exit statuses of the program. */
enum { EXIT_DONE = 0, EXIT_FAILED = 1, EXIT_USAGE = 2 };

/* What the global options say. */
struct cli {
	const char *book;         /* path of the book; NULL: the default place */
	const char *unit_word;    /* "us" or "si" as typed; NULL: not said */
	enum unit_system units;   /* from unit_word */
	bool wants_help;          /* --help */
	bool wants_version;       /* --version */
};

/* One option of a command: a flag, or one that takes a value. */
struct option_row {
	const char *name;   /* without the dashes; NULL ends a table */
	const char *value;  /* what the value is called in the usage; NULL for a flag */
	const char *help;   /* one line */
	bool *flag;         /* set when the flag is given; NULL for a value */
	const char **text;  /* set to the value (borrowed from argv) */
};

struct command {
	const char *name;      /* as typed */
	const char *arguments; /* for the usage, e.g. "CALL" */
	const char *summary;   /* one line */
	/*
	 * Runs with the words behind the command's name; returns the exit
	 * status.  Results go to stdout, everything else to stderr.
	 */
	int (*run)(struct cli *cli, int count, char **words);
};

/* The table; ended by a row without name. */
extern const struct command commands[];

const struct command *command_find(const char *name);

/*
 * Takes options out of `words` by `own` and the global table and moves the
 * other words to the front; *count becomes their number.  Returns false,
 * having said why on stderr, when the words are wrong.
 */
bool command_parse(struct cli *cli, const struct option_row *own, int *count, char **words);

/* Prints how a command is called, with its options. */
void command_usage(const struct command *command, const struct option_row *own, FILE *file);

/* Says a sentence on stderr behind the program's name; returns `status`. */
int command_fail(int status, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* The same for an error that a lower layer reported: exit status 1. */
int command_report(const struct error *error);

#endif
