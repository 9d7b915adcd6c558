/*
 * padside assess: figures and findings of calls in JSON, stored nowhere.
 */
#include "cli/commands.h"

#include <string.h>

#include <padside/app/result_json.h>
#include <padside/app/call_json.h>
#include <padside/base/number.h>

#include "cli/input.h"

/* What is used again for every call. */
struct assessment {
	struct json_reader *reader;  /* of the input */
	struct call call;            /* as read */
	struct figure_set figures;   /* of its leading stage */
	struct diagnosis diagnosis;  /* of the same */
	struct text answer;          /* as written */
	bool json;                   /* --json, or more than one call */
	bool failed;                 /* one call could not be read */
	enum unit_system units;      /* of the text answer */
};

/* The stage to judge: as found unless only as left was read. */
static enum stage judged_stage(const struct visit *visit)
{
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (reading_info((enum reading)i)->scope == SCOPE_CALL &&
		    visit_has(visit, STAGE_AS_FOUND, (enum reading)i))
			return STAGE_AS_FOUND;
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (visit_has(visit, STAGE_AS_LEFT, (enum reading)i))
			return STAGE_AS_LEFT;
	return STAGE_AS_FOUND;
}

static void print_figures(const struct assessment *assessment)
{
	char shown[64], spread[NUMBER_SIZE];

	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		const struct figure_value *value = &assessment->figures.values[i];
		if (value->status != STATUS_OK)
			continue;
		figure_format((enum figure)i, value->value, assessment->units, VALUE_FORM_WITH_UNIT, shown,
		              sizeof shown);
		figure_format_spread((enum figure)i, value->plus_minus, assessment->units, spread,
		                     sizeof spread);
		printf("  %-26s %s%s%s\n", figure_info((enum figure)i)->label, shown,
		       value->plus_minus > 0 ? " ±" : "", value->plus_minus > 0 ? spread : "");
	}
}

static void print_findings(const struct diagnosis *diagnosis)
{
	for (int i = 0; i < diagnosis->finding_count; i++) {
		const struct finding *finding = &diagnosis->findings[i];
		printf("  %3.0f %%  %-5s  %s\n", 100 * finding->probability, level_key(finding->level),
		       fault_info(finding->fault)->label);
		for (int j = 0; j < finding->evidence_count; j++)
			printf("                - %s\n", finding->evidence[j].words);
	}
	if (diagnosis->finding_count == 0)
		printf("  nothing that the readings point to\n");
	for (int i = 0; i < diagnosis->contradiction_count; i++)
		printf("  cannot both be right: %s\n", diagnosis->contradictions[i]);
}

static void print_answer(const struct assessment *assessment)
{
	const struct diagnosis *diagnosis = &assessment->diagnosis;

	puts("What the readings mean");
	print_figures(assessment);
	puts("What is wrong, most probable first");
	print_findings(diagnosis);
	if (diagnosis->next_check_count > 0)
		puts("What would tell most next");
	for (int i = 0; i < diagnosis->next_check_count; i++)
		printf("  %s: %s\n", reading_info(diagnosis->next_checks[i].reading)->label,
		       diagnosis->next_checks[i].why);
}

static void answer(struct assessment *assessment)
{
	enum stage stage = judged_stage(&assessment->call.visit);

	figures_evaluate(&assessment->call.visit, stage, &assessment->figures);
	diagnose(&assessment->call.visit, stage, &assessment->figures, &assessment->diagnosis);
	if (!assessment->json) {
		print_answer(assessment);
		return;
	}
	text_clear(&assessment->answer);
	result_json_write_assessment(&assessment->figures, &assessment->diagnosis, &assessment->answer);
	puts(text_get(&assessment->answer));
}

/* A call that cannot be read is answered with its error, in its place. */
static void answer_error(struct assessment *assessment, const struct error *error)
{
	assessment->failed = true;
	if (!assessment->json) {
		command_report(error);
		return;
	}
	text_clear(&assessment->answer);
	result_json_write_error(error, &assessment->answer);
	puts(text_get(&assessment->answer));
}

static enum status answer_all(struct assessment *assessment, struct input *input,
                              struct error *error)
{
	struct text document;
	enum status status;
	bool any = false;

	text_init(&document);
	while ((status = input_next(input, &document, error)) != STATUS_NOT_FOUND) {
		any = true;
		if (status == STATUS_IO || status == STATUS_NO_MEMORY)
			break;
		if (!assessment->json)
			assessment->json = input_has_more(input);
		if (status == STATUS_OK)
			status = call_json_read(assessment->reader, text_get(&document), document.length,
			                            CALL_JSON_ASSESS, &assessment->call, error);
		if (status == STATUS_OK)
			answer(assessment);
		else
			answer_error(assessment, error);
	}
	text_done(&document);
	if (!any && status == STATUS_NOT_FOUND)
		return error_set(error, STATUS_BAD_INPUT, "there is no call in it");
	return status == STATUS_NOT_FOUND ? STATUS_OK : status;
}

int command_assess(struct cli *cli, int count, char **words)
{
	static struct assessment assessment; /* too large for a stack to be taken for granted */
	struct output_choice choice = { .word = NULL };
	enum output output;
	const struct option_row rows[] = {
		{ "format", "text|json", "text, or one JSON object a line", NULL, &choice.word },
		{ "json", NULL, "the same as --format json", &choice.json, NULL },
		{ .name = NULL },
	};
	struct input input;
	struct error error;

	if (!command_parse(cli, rows, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(command_find("assess"), rows, stdout), EXIT_DONE;
	if (count != 1)
		return command_misuse(cli, "assess takes one file, or - for standard input");
	if (!command_output(cli, &choice, "text|json", &output))
		return EXIT_USAGE;
	assessment.json = output == OUTPUT_JSON;
	assessment.units = cli->units;
	assessment.reader = json_reader_new();
	call_init(&assessment.call);
	text_init(&assessment.answer);
	enum status status = !assessment.reader
		? error_set(&error, STATUS_NO_MEMORY, "there is no memory left; close other programs")
		: input_open(&input, words[0], &error);
	if (status == STATUS_OK) {
		status = answer_all(&assessment, &input, &error);
		input_close(&input);
	}
	call_done(&assessment.call);
	text_done(&assessment.answer);
	json_reader_free(assessment.reader);
	if (status != STATUS_OK)
		return command_report(&error);
	return assessment.failed ? EXIT_FAILED : EXIT_DONE;
}
