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

struct command;

/* What the global options say. */
struct cli {
	const char *program;           /* as it was called */
	const struct command *command; /* that runs; NULL: the workbook */
	const char *book;              /* path of the book; NULL: the default place */
	const char *unit_word;         /* "us" or "si" as typed; NULL: not said */
	enum unit_system units;        /* from unit_word */
	const char *theme_word;        /* "auto", "light", "dark", "mono" as typed; NULL: as set */
	bool wants_help;               /* --help */
	bool wants_version;            /* --version */
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
 * Where the command stands among the program's words: the first word that is
 * neither an option nor the value of a global one; `count` when there is none.
 */
int command_leading(int count, char **words);

/*
 * Takes options out of `words` by `own` and the global table and moves the
 * other words to the front; *count becomes their number.  Returns false,
 * having said why on stderr, when the words are wrong.
 */
bool command_parse(struct cli *cli, const struct option_row *own, int *count, char **words);

/* How a command prints what it found. */
enum output { OUTPUT_TEXT, OUTPUT_JSON, OUTPUT_CSV };

/* What was said of it: --format WORD, or --json or --csv for short. */
struct output_choice {
	const char *word; /* NULL: not said */
	bool json, csv;   /* the short flags */
};

/*
 * The output that was asked for, of those in `accepted` ("text|json"); the
 * first of them when nothing was said.  Returns false, having said why on
 * stderr, when it is none of them or two were named.
 */
bool command_output(const struct cli *cli, const struct output_choice *choice,
                    const char *accepted, enum output *output);

/* Whether the locale has only ASCII, and text that is printed keeps to it. */
bool command_is_plain(void);

/* Prints how the command that runs is called, with its options. */
void command_usage(const struct cli *cli, const struct option_row *own, FILE *file);

/* Says a sentence on stderr behind the program's name; returns EXIT_FAILED. */
int command_fail(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* The same for words that are wrong, and where to look them up; returns EXIT_USAGE. */
int command_misuse(const struct cli *cli, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* command_fail() with the sentence of a lower layer. */
int command_report(const struct error *error);

#endif
