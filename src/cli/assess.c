/*
 * padside assess: figures and findings of calls in JSON, stored nowhere.
 */
#include "cli/commands.h"

#include <string.h>

#include <padside/app/result_json.h>
#include <padside/app/call_json.h>
#include <padside/base/number.h>
#include <padside/report/noted.h>
#include <padside/report/wording.h>

#include "cli/input.h"

/* What is used again for every call. */
struct answering {
	struct json_reader *reader;  /* of the input */
	struct call call;            /* as read */
	struct earlier earlier;      /* visits of the same unit, as read */
	struct past past;            /* made of them */
	struct assessment assessment; /* of its readings */
	struct text answer;          /* as written */
	bool json;                   /* --json, or more than one call */
	bool failed;                 /* one call could not be read */
	enum unit_system units;      /* of the text answer */
};

/* ", ambiguous", where something is expected of the figure. */
static void print_verdict(const struct answering *answering, enum stage stage, enum figure figure)
{
	const struct figure_set *set = &answering->assessment.figures[stage];
	const struct figure_value *value = &set->values[figure];
	struct expectation expectation = figure_expect(&answering->call.visit, stage, set, figure);

	if (!figure_info(figure)->is_word && expectation.known)
		printf(", %s%s", band_verdict_word(expectation_judge(&expectation, value->value,
		                                                     value->plus_minus)),
		       expectation.is_assumed ? " by an assumed limit" : "");
}

static void print_figures(const struct answering *answering)
{
	enum stage stage = answering->assessment.leading;
	const struct figure_set *set = &answering->assessment.figures[stage];
	char shown[64], spread[NUMBER_SIZE], why[160];

	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		const struct figure_value *value = &set->values[i];
		if (figure_is_awaited(set, (enum figure)i)) {
			figure_explain(value, why, sizeof why);
			printf("  %-26s %s\n", figure_info((enum figure)i)->label, why);
		}
		if (value->status != STATUS_OK)
			continue;
		figure_format((enum figure)i, value->value, answering->units, VALUE_FORM_WITH_UNIT, shown,
		              sizeof shown);
		figure_format_spread((enum figure)i, value->plus_minus, answering->units, spread,
		                     sizeof spread);
		const char *assumed = figure_assumed(&answering->call.visit, stage, (enum figure)i);
		const char *caution = figure_caution(&answering->call.visit, stage, (enum figure)i);
		printf("  %-26s %s%s%s%s%s%s%s",
		       figure_name(&answering->call.visit, stage, (enum figure)i), shown,
		       value->plus_minus > 0 ? " ±" : "", value->plus_minus > 0 ? spread : "",
		       *assumed ? ", assumed: " : "", assumed, *caution ? ": " : "", caution);
		print_verdict(answering, stage, (enum figure)i);
		putchar('\n');
	}
}

/* "98 %", or that it was measured or judged: that is no guess. */
static void print_heading(const struct finding *finding, const struct call *call)
{
	char standing[WORDING_SIZE], percent[16];
	const char *after_work = finding->level == LEVEL_NOTE ? "" : wording_after_work(finding);

	wording_standing(finding, call, true, standing, sizeof standing);
	snprintf(percent, sizeof percent, "%3.0f %%", 100 * finding->probability);
	printf("  %5s  %-5s  %s", *standing ? "" : percent, level_key(finding->level),
	       fault_info(finding->fault)->label);
	if (*standing)
		printf(", %s", standing);
	if (*after_work)
		printf("; after the work: %s", after_work);
	putchar('\n');
}

static void print_finding(const struct finding *finding, const struct call *call,
                          enum unit_system units)
{
	char words[WORDING_SIZE];

	print_heading(finding, call);
	for (int i = 0; i < finding->evidence_count; i++) {
		wording_evidence(&finding->evidence[i], units, words, sizeof words);
		printf("                - %s (%s)\n", words, wording_strength(finding->evidence[i].leans));
	}
}

static void print_findings(const struct answering *answering, const struct diagnosis *diagnosis)
{
	const struct call *call = &answering->call;
	enum unit_system units = answering->units;
	char words[WORDING_SIZE];

	for (int i = 0; i < diagnosis->finding_count; i++)
		print_finding(&diagnosis->findings[i], call, units);
	if (*wording_unexplained(diagnosis))
		printf("  %s\n", wording_unexplained(diagnosis));
	else if (diagnosis->finding_count == 0 && !noted_any(&call->visit, &answering->assessment))
		printf("  the readings point to no fault\n");
	for (int i = 0; i < diagnosis->own_count; i++) {
		wording_own(&diagnosis->own[i], units, words, sizeof words);
		printf("  %s\n", words);
	}
	for (int i = 0; i < diagnosis->contradiction_count; i++) {
		wording_contradiction(&diagnosis->contradictions[i], units, words, sizeof words);
		printf("  cannot all be right: %s\n", words);
	}
}

/* What no finding is drawn from and asks for something all the same. */
static void print_noted(const struct answering *answering)
{
	struct noted noted;

	for (int i = 0; i < NOTED_ROWS; i++)
		if (noted_row(&answering->call.visit, &answering->assessment, i, answering->units, &noted))
			printf("  %s%s%s\n", noted.office, *noted.caution ? " " : "", noted.caution);
}

static void print_next_checks(const struct diagnosis *diagnosis)
{
	char why[WORDING_SIZE];

	if (diagnosis->next_check_count > 0)
		puts("What to measure next");
	for (int i = 0; i < diagnosis->next_check_count; i++) {
		wording_next_check(&diagnosis->next_checks[i], why, sizeof why);
		printf("  %s: %s\n", reading_info(diagnosis->next_checks[i].reading)->label, why);
	}
}

static void print_answer(const struct answering *answering)
{
	const struct assessment *assessment = &answering->assessment;
	const struct diagnosis *diagnosis = &assessment->diagnoses[assessment->leading];
	const struct diagnosis *left = &assessment->diagnoses[STAGE_AS_LEFT];

	puts("What the readings mean");
	print_figures(answering);
	puts("What is wrong, most probable first");
	print_findings(answering, diagnosis);
	print_noted(answering);
	if (assessment->was_read[STAGE_AS_LEFT] && diagnosis != left) {
		puts("After the work");
		print_findings(answering, left);
		print_next_checks(left);
		return;
	}
	print_next_checks(diagnosis);
}

/* A call that cannot be answered is answered with its error, in its place. */
static void answer_error(struct answering *answering, const struct error *error)
{
	answering->failed = true;
	text_clear(&answering->answer);
	if (answering->json)
		result_json_write_error(error, &answering->answer);
	if (answering->json && !answering->answer.failed)
		puts(text_get(&answering->answer));
	else
		command_report(error);
}

static void answer(struct answering *answering)
{
	struct error error;

	earlier_past(&answering->earlier, &answering->call, &answering->past);
	assessment_make(&(struct assessment_input){ .call = &answering->call,
	                                            .past = &answering->past }, &answering->assessment);
	if (!answering->json) {
		print_answer(answering);
		return;
	}
	text_clear(&answering->answer);
	result_json_write_assessment(&answering->assessment, &answering->call, answering->units,
	                             &answering->answer);
	if (answering->answer.failed) {
		error_set(&error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
		answer_error(answering, &error);
		return;
	}
	puts(text_get(&answering->answer));
}

static enum status answer_all(struct answering *answering, struct input *input,
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
		if (!answering->json)
			answering->json = input_has_more(input);
		if (status == STATUS_OK)
			status = call_json_read_earlier(answering->reader, text_get(&document), document.length,
		                                &answering->call, &answering->earlier, error);
		if (status == STATUS_OK)
			answer(answering);
		else
			answer_error(answering, error);
	}
	text_done(&document);
	if (!any && status == STATUS_NOT_FOUND)
		return error_set(error, STATUS_BAD_INPUT, "there is no call in it");
	return status == STATUS_NOT_FOUND ? STATUS_OK : status;
}

int command_assess(struct cli *cli, int count, char **words)
{
	static struct answering answering; /* too large for a stack to be taken for granted */
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
		return command_usage(cli, rows, stdout), EXIT_DONE;
	if (count != 1)
		return command_misuse(cli, "assess takes one file, or - for standard input");
	if (!command_output(cli, &choice, "text|json", &output))
		return EXIT_USAGE;
	answering.json = output == OUTPUT_JSON;
	answering.units = cli->units;
	answering.reader = json_reader_new();
	call_init(&answering.call);
	text_init(&answering.answer);
	enum status status = !answering.reader
		? error_set(&error, STATUS_NO_MEMORY, "there is no memory left; close other programs")
		: input_open(&input, words[0], &error);
	if (status == STATUS_OK) {
		status = answer_all(&answering, &input, &error);
		input_close(&input);
	}
	call_done(&answering.call);
	text_done(&answering.answer);
	json_reader_free(answering.reader);
	if (status != STATUS_OK)
		return command_report(&error);
	return answering.failed ? EXIT_FAILED : EXIT_DONE;
}
