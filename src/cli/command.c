/*
 * Words of the command line against tables of options.
 *
 * A letter stands for one option name in every command, so that -j is --json
 * wherever --json is known.
 */
#include "cli/command.h"

#include <langinfo.h>
#include <stdarg.h>
#include <string.h>

#include <padside/base/glyph.h>
#include <padside/tui/tui.h>

enum {
	MOST_GLOBAL = 6,
	SENTENCE_SIZE = 1024, /* of a complaint, which needs no memory to be made */
};

/* The short form of an option's name. */
static const struct letter {
	char letter;      /* behind one dash */
	const char *name; /* the same behind two */
} letters[] = {
	{ 'b', "book" }, { 'u', "units" }, { 'h', "help" }, { 'V', "version" },
	{ 'j', "json" }, { 'f', "format" }, { 'o', "output" }, { 'c', "customer" },
	{ 's', "since" }, { 'l', "list" },
};

static char letter_of(const char *name)
{
	for (size_t i = 0; i < sizeof letters / sizeof *letters; i++)
		if (strcmp(letters[i].name, name) == 0)
			return letters[i].letter;
	return '\0';
}

/* The global options write into `cli`, so that their table is made for it. */
static void fill_global(struct cli *cli, struct option_row rows[MOST_GLOBAL])
{
	rows[0] = (struct option_row){ "book", "FILE", "the book to use", NULL, &cli->book };
	rows[1] = (struct option_row){ "units", "us|si", "units shown and typed", NULL,
	                               &cli->unit_word };
	rows[2] = (struct option_row){ "theme", "auto|light|dark|mono", "colours of the workbook", NULL,
	                               &cli->theme_word };
	rows[3] = (struct option_row){ "help", NULL, "this text", &cli->wants_help, NULL };
	rows[4] = (struct option_row){ "version", NULL, "the program's version",
	                               &cli->wants_version, NULL };
	rows[5] = (struct option_row){ .name = NULL };
}

static const struct option_row *find_row(const struct option_row *rows, const char *name,
                                         size_t length)
{
	for (; rows && rows->name; rows++)
		if (strlen(rows->name) == length && strncmp(rows->name, name, length) == 0)
			return rows;
	return NULL;
}

/* A word that is an option, not a value such as "-", "-4" or "-0.5 C". */
static bool is_option(const char *word)
{
	return word[0] == '-' && word[1] != '\0' && !strchr("0123456789.,", word[1]);
}

/* How an option was typed: its name, and where its value would begin in the same word. */
struct typed_option {
	const char *name;  /* not ended */
	size_t length;     /* of the name */
	const char *value; /* behind "=" or the letter; NULL when nothing stands there */
};

/* Takes a word apart; an unknown letter keeps itself as the name. */
static struct typed_option take_apart(const char *word)
{
	struct typed_option typed = { .name = word + 2 };

	if (word[1] == '-') {
		typed.length = strcspn(typed.name, "=");
		if (typed.name[typed.length] == '=')
			typed.value = typed.name + typed.length + 1;
		return typed;
	}
	typed = (struct typed_option){ .name = word + 1, .length = 1 };
	for (size_t i = 0; i < sizeof letters / sizeof *letters; i++)
		if (letters[i].letter == word[1])
			typed = (struct typed_option){ letters[i].name, strlen(letters[i].name), NULL };
	if (word[2] != '\0')
		typed.value = word + 2 + (word[2] == '=');
	return typed;
}

/* The value of the option at words[*at], in the same word or the next; false: it has none. */
static bool take_value(const struct cli *cli, const struct option_row *row,
                       const struct typed_option *typed, int count, char **words, int *at)
{
	if (typed->value) {
		*row->text = typed->value;
		return true;
	}
	if (*at + 1 < count && !is_option(words[*at + 1])) {
		*row->text = words[++*at];
		return true;
	}
	command_misuse(cli, "--%s needs a value: --%s %s", row->name, row->name, row->value);
	return false;
}

/*
 * Takes the option at words[*at]; steps over a value behind it.  Returns
 * false when it is none of the table's.
 */
static bool take_option(const struct cli *cli, const struct option_row *own,
                        const struct option_row *global, int count, char **words, int *at)
{
	struct typed_option typed = take_apart(words[*at]);
	const struct option_row *row = find_row(own, typed.name, typed.length);

	if (!row)
		row = find_row(global, typed.name, typed.length);
	if (!row) {
		command_misuse(cli, "there is no option %s", words[*at]);
		return false;
	}
	if (!row->flag)
		return take_value(cli, row, &typed, count, words, at);
	*row->flag = true;
	if (!typed.value)
		return true;
	command_misuse(cli, "--%s takes no value", row->name);
	return false;
}

static bool take_theme(struct cli *cli)
{
	enum tui_theme theme;

	if (!cli->theme_word || tui_theme_from_key(cli->theme_word, &theme))
		return true;
	command_misuse(cli, "--theme takes auto, light, dark or mono, not \"%s\"", cli->theme_word);
	return false;
}

static bool take_units(struct cli *cli)
{
	if (!cli->unit_word)
		return true;
	cli->units = strcmp(cli->unit_word, "si") == 0 ? UNITS_SI : UNITS_US;
	if (cli->units == UNITS_SI || strcmp(cli->unit_word, "us") == 0)
		return true;
	command_misuse(cli, "--units takes us or si, not \"%s\"", cli->unit_word);
	return false;
}

int command_leading(int count, char **words)
{
	struct cli cli;
	struct option_row global[MOST_GLOBAL];
	int at = 1;

	fill_global(&cli, global);
	while (at < count && is_option(words[at])) {
		struct typed_option typed = take_apart(words[at]);
		const struct option_row *row = find_row(global, typed.name, typed.length);
		bool value_is_next = row && !row->flag && !typed.value && at + 1 < count &&
		                     !is_option(words[at + 1]);
		at += value_is_next ? 2 : 1;
	}
	return at;
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
		if (!is_option(words[at]))
			words[kept++] = words[at];
		else if (!take_option(cli, own, global, *count, words, &at))
			return false;
	}
	for (; at < *count; at++)
		words[kept++] = words[at];
	*count = kept;
	return take_units(cli) && take_theme(cli);
}

static const char *const output_words[] = {
	[OUTPUT_TEXT] = "text", [OUTPUT_JSON] = "json", [OUTPUT_CSV] = "csv",
};

/* Whether `word` is one of "text|json". */
static bool is_among(const char *word, const char *accepted)
{
	size_t length = strlen(word);

	for (const char *at = accepted; *at; at += strcspn(at, "|"), at += *at == '|')
		if (strcspn(at, "|") == length && strncmp(at, word, length) == 0)
			return true;
	return false;
}

bool command_output(const struct cli *cli, const struct output_choice *choice,
                    const char *accepted, enum output *output)
{
	const char *word = choice->word;
	int named = (word != NULL) + choice->json + choice->csv;

	if (named > 1) {
		command_misuse(cli, "name one format only");
		return false;
	}
	if (choice->json || choice->csv)
		word = output_words[choice->json ? OUTPUT_JSON : OUTPUT_CSV];
	for (size_t i = 0; i < sizeof output_words / sizeof *output_words; i++) {
		bool is_default = !word && strncmp(accepted, output_words[i], strlen(output_words[i])) == 0;
		if (!is_default &&
		    (!word || strcmp(word, output_words[i]) != 0 || !is_among(word, accepted)))
			continue;
		*output = (enum output)i;
		return true;
	}
	command_misuse(cli, "--format takes one of %s, not \"%s\"", accepted, word);
	return false;
}

static void print_rows(const struct option_row *rows, FILE *file)
{
	for (; rows && rows->name; rows++) {
		char head[48], letter = letter_of(rows->name);
		snprintf(head, sizeof head, "%c%c%c --%s%s%s", letter ? '-' : ' ', letter ? letter : ' ',
		         letter ? ',' : ' ', rows->name, rows->value ? " " : "",
		         rows->value ? rows->value : "");
		/* Two spaces at least end what is typed: manual and completion go by them. */
		fprintf(file, "  %-29s  %s\n", head, rows->help);
	}
}

bool command_is_plain(void)
{
	return strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
}

void command_usage(const struct cli *cli, const struct option_row *own, FILE *file)
{
	const struct command *command = cli->command;
	struct cli unused;
	struct option_row global[MOST_GLOBAL];

	fill_global(&unused, global);
	fprintf(file, "usage: padside %s%s%s%s\n%s.\n\n", command->name,
	        *command->arguments ? " " : "", command->arguments,
	        own && own->name ? " [option…]" : "", command->summary);
	print_rows(own, file);
	print_rows(global, file);
}

/*
 * Writes a complaint.  What it quotes may come from anywhere: it must not steer
 * the terminal.  Without memory to tell characters apart only ASCII is shown.
 */
static void complain(char *sentence)
{
	struct text shown;

	text_trim_broken_utf8(sentence);
	text_init(&shown);
	glyph_add_string(&shown, sentence, false);
	if (shown.failed)
		for (char *at = sentence; *at; at++)
			*at = *at >= 0x20 && *at < 0x7f ? *at : '?';
	fprintf(stderr, "padside: %s\n", shown.failed ? sentence : text_get(&shown));
	text_done(&shown);
}

int command_fail(const char *format, ...)
{
	char sentence[SENTENCE_SIZE];
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(sentence, sizeof sentence, format, arguments);
	va_end(arguments);
	complain(sentence);
	return EXIT_FAILED;
}

int command_misuse(const struct cli *cli, const char *format, ...)
{
	char sentence[SENTENCE_SIZE], what[SENTENCE_SIZE - 64];
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(what, sizeof what, format, arguments);
	va_end(arguments);
	text_trim_broken_utf8(what);
	snprintf(sentence, sizeof sentence, "%s; see padside %s%s--help", what,
	         cli->command ? cli->command->name : "", cli->command ? " " : "");
	complain(sentence);
	return EXIT_USAGE;
}

int command_report(const struct error *error)
{
	return command_fail("%s", error->text);
}
