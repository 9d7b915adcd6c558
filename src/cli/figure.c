/*
 * padside figure: one calculation, from words or from JSON lines.
 */
#include "cli/commands.h"

#include <string.h>

#include <padside/app/result_json.h>
#include <padside/model/figures.h>
#include <padside/base/json.h>
#include <padside/base/json_text.h>
#include <padside/base/number.h>
#include <padside/base/text.h>

#include "cli/input.h"

/* What the options say. */
struct figure_options {
	bool list; /* --list */
	bool json; /* --json */
};

static void list_readings(struct text *text, const enum reading *group, int most)
{
	for (int i = 0; i < most && group[i] != READING_NONE; i++)
		text_add_format(text, "%s%s", i ? " or " : "", reading_info(group[i])->key);
}

static void list_figure(enum figure figure)
{
	const struct figure_info *info = figure_info(figure);
	struct text needs;

	text_init(&needs);
	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++) {
		text_add(&needs, i ? ", " : "");
		list_readings(&needs, info->needs[i], FIGURE_MOST_ALTERNATIVES);
	}
	printf("%s%s%s%s\n    needs   %s\n", info->key, info->unit == UNIT_NONE ? "" : " (",
	       unit_symbol(info->unit, false), info->unit == UNIT_NONE ? "" : ")", text_get(&needs));
	text_clear(&needs);
	for (int i = 0; i < FIGURE_MOST_USES && info->uses[i] != READING_NONE; i++)
		text_add_format(&needs, "%s%s", i ? ", " : "", reading_info(info->uses[i])->key);
	if (needs.length)
		printf("    uses    %s\n", text_get(&needs));
	printf("    formula %s\n    source  %s\n", info->formula, info->source);
	text_done(&needs);
}

static int list_figures(void)
{
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		list_figure((enum figure)i);
	return EXIT_DONE;
}

static void add_keys(struct text *text, const enum reading *readings, int most)
{
	text_add_char(text, '[');
	for (int i = 0; i < most && readings[i] != READING_NONE; i++) {
		text_add(text, i ? "," : "");
		json_add_string(text, reading_info(readings[i])->key);
	}
	text_add_char(text, ']');
}

static void add_member(struct text *text, const char *name, const char *value, bool *first)
{
	json_add_name(text, name, first);
	json_add_string(text, value);
}

/* One object a figure: "needs" holds groups, of each of which one reading must be there. */
static void list_figure_json(enum figure figure, struct text *text)
{
	const struct figure_info *info = figure_info(figure);
	bool first = true;

	text_clear(text);
	text_add_char(text, '{');
	add_member(text, "figure", info->key, &first);
	add_member(text, "label", info->label, &first);
	add_member(text, "unit", unit_symbol(info->unit, false), &first);
	json_add_name(text, "needs", &first);
	text_add_char(text, '[');
	for (int i = 0; i < FIGURE_MOST_NEEDS && info->needs[i][0] != READING_NONE; i++) {
		text_add(text, i ? "," : "");
		add_keys(text, info->needs[i], FIGURE_MOST_ALTERNATIVES);
	}
	text_add_char(text, ']');
	json_add_name(text, "uses", &first);
	add_keys(text, info->uses, FIGURE_MOST_USES);
	add_member(text, "formula", info->formula, &first);
	add_member(text, "source", info->source, &first);
	text_add_char(text, '}');
	puts(text_get(text));
}

static int list_figures_json(void)
{
	struct text text;

	text_init(&text);
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		list_figure_json((enum figure)i, &text);
	text_done(&text);
	return EXIT_DONE;
}

/* Sets a reading from "key=value". */
static enum status take_pair(struct visit *visit, const char *pair, enum unit_system units,
                             struct error *error)
{
	char key[48];
	size_t length = strcspn(pair, "=");
	struct value value;

	if (pair[length] != '=' || length >= sizeof key)
		return error_set(error, STATUS_NOT_FOUND, "\"%.60s\" is not key=value", pair);
	memcpy(key, pair, length);
	key[length] = '\0';
	enum reading reading = reading_from_key(key);
	if (reading == READING_NONE)
		return error_set(error, STATUS_NOT_FOUND, "there is no reading called \"%s\"", key);
	enum status status = reading_parse(reading, pair + length + 1, units, &value, error);
	if (status == STATUS_OK)
		visit_set(visit, STAGE_AS_FOUND, reading, &value);
	return status;
}

static int print_text(const struct visit *visit, enum figure figure,
                      const struct figure_value *value, enum unit_system units)
{
	const struct figure_info *info = figure_info(figure);
	char shown[64], spread[NUMBER_SIZE], why[160];

	if (value->status != STATUS_OK) {
		figure_explain(value, why, sizeof why);
		return command_fail("%s not evaluated: %s", info->key, why);
	}
	figure_format(figure, value->value, units, VALUE_FORM_WITH_UNIT, shown, sizeof shown);
	figure_format_spread(figure, value->plus_minus, units, spread, sizeof spread);
	const char *assumed = figure_assumed(visit, STAGE_AS_FOUND, figure);
	const char *caution = figure_caution(visit, STAGE_AS_FOUND, figure);
	printf("%s %s%s%s%s%s%s%s\n", info->key, shown, value->plus_minus > 0 ? " ±" : "",
	       value->plus_minus > 0 ? spread : "", *assumed ? ", assumed: " : "", assumed,
	       *caution ? ": " : "", caution);
	return EXIT_DONE;
}

static int print_json(const struct visit *visit, enum figure figure,
                      const struct figure_value *value)
{
	struct text text;

	text_init(&text);
	result_json_write_figure(visit, figure, value, &text);
	puts(text_get(&text));
	text_done(&text);
	return value->status == STATUS_OK ? EXIT_DONE : EXIT_FAILED;
}

static int evaluate_words(struct cli *cli, const struct figure_options *options, int count,
                          char **words)
{
	struct visit visit;
	struct error error;
	enum figure figure = figure_from_key(words[0]);

	if (figure == FIGURE_NONE)
		return command_misuse(cli, "there is no figure \"%s\"; padside figure --list has them all",
		                      words[0]);
	visit_init(&visit);
	for (int i = 1; i < count; i++)
		if (take_pair(&visit, words[i], cli->units, &error) != STATUS_OK)
			return command_report(&error);
	struct figure_value value = figure_evaluate(&visit, STAGE_AS_FOUND, figure);
	return options->json ? print_json(&visit, figure, &value)
	                     : print_text(&visit, figure, &value, cli->units);
}

/* One answer for one line of JSON; a bad line is answered with its error. */
static void answer_line(struct json_reader *reader, const struct text *line)
{
	struct visit visit;
	struct error error;
	enum figure figure;

	if (result_json_read_figure(reader, text_get(line), line->length, &figure, &visit, &error) !=
	    STATUS_OK) {
		struct text text;
		text_init(&text);
		result_json_write_error(&error, &text);
		puts(text_get(&text));
		text_done(&text);
		return;
	}
	struct figure_value value = figure_evaluate(&visit, STAGE_AS_FOUND, figure);
	print_json(&visit, figure, &value);
}

static int evaluate_lines(void)
{
	struct input input;
	struct text line;
	struct error error;
	struct json_reader *reader = json_reader_new();
	enum status status = input_open(&input, "-", &error);

	text_init(&line);
	if (!reader)
		status = error_set(&error, STATUS_NO_MEMORY,
		                   "there is no memory left; close other programs");
	while (status == STATUS_OK) {
		status = input_next(&input, &line, &error);
		if (status == STATUS_OK)
			answer_line(reader, &line);
	}
	json_reader_free(reader);
	text_done(&line);
	return status == STATUS_NOT_FOUND ? EXIT_DONE : command_report(&error);
}

int command_figure(struct cli *cli, int count, char **words)
{
	struct figure_options options = { .list = false };
	struct output_choice choice = { .word = NULL };
	enum output output;
	const struct option_row rows[] = {
		{ "list", NULL, "every figure: what it needs, its formula, its source", &options.list,
		  NULL },
		{ "format", "text|json", "text, or a JSON object", NULL, &choice.word },
		{ "json", NULL, "the same as --format json", &choice.json, NULL },
		{ .name = NULL },
	};

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (!command_output(cli, &choice, "text|json", &output))
		return EXIT_USAGE;
	options.json = output == OUTPUT_JSON;
	if (options.list)
		return options.json ? list_figures_json() : list_figures();
	if (count == 0)
		return command_misuse(cli, "name a figure; padside figure --list has them all");
	if (strcmp(words[0], "-") != 0)
		return evaluate_words(cli, &options, count, words);
	return count == 1 ? evaluate_lines()
		: command_misuse(cli, "figure - takes its readings from standard input alone");
}
