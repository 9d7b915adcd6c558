/*
 * What the two reports must and must not say: the statements of
 * tests/statements/reports.txt, each from what is typed to what is read.
 */
#include <check.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/diagnose/assessment.h>
#include <padside/report/paper.h>

Suite *reports_suite(void);

enum { LINE_BYTES = 1024, MOST_STATEMENTS = 300, FEWEST_STATEMENTS = 25 };

static const char path[] = "tests/statements/reports.txt";

/* The reports of a statement's call, once it is known. */
struct reports {
	struct text json;                       /* of the call */
	enum unit_system units;                 /* of the reports */
	bool are_built;                         /* the texts below are there */
	struct text texts[PAPER_READER_COUNT];  /* lines joined */
};

static void reports_init(struct reports *reports)
{
	*reports = (struct reports){ .units = UNITS_US };
	text_init(&reports->json);
	for (int reader = 0; reader < PAPER_READER_COUNT; reader++)
		text_init(&reports->texts[reader]);
}

static void reports_done(struct reports *reports)
{
	text_done(&reports->json);
	for (int reader = 0; reader < PAPER_READER_COUNT; reader++)
		text_done(&reports->texts[reader]);
}

/* Joins lines and runs of spaces with one space, so that wrapping hides nothing. */
static void join_lines(const char *written, struct text *joined)
{
	bool gap = false;

	for (; *written; written++) {
		bool space = isspace((unsigned char)*written);
		if (!space && gap)
			text_add_char(joined, ' ');
		if (!space)
			text_add_char(joined, *written);
		gap = space;
	}
}

static void build_one(const struct paper_input *input, enum paper_reader reader,
                      struct text *joined)
{
	struct document document;
	struct text written;

	document_init(&document);
	text_init(&written);
	paper_build(input, reader, &document);
	document_write(&document, DOCUMENT_TEXT, false, &written);
	ck_assert(!document.failed && !written.failed);
	join_lines(text_get(&written), joined);
	text_done(&written);
	document_done(&document);
}

static void build(struct reports *reports, const char *title)
{
	struct json_reader *reader = json_reader_new();
	struct assessment assessment;
	struct error error;
	struct call call;

	ck_assert_ptr_nonnull(reader);
	call_init(&call);
	ck_assert_msg(call_json_read(reader, text_get(&reports->json), reports->json.length,
	                             CALL_JSON_ASSESS, &call, &error) == STATUS_OK, "%s: %s", title,
	              error.text);
	assessment_make(&(struct assessment_input){ .call = &call }, &assessment);
	struct paper_input input = { .call = &call, .assessment = &assessment, .units = reports->units,
	                             .currency = "$" };
	for (int i = 0; i < PAPER_READER_COUNT; i++)
		build_one(&input, (enum paper_reader)i, &reports->texts[i]);
	reports->are_built = true;
	call_done(&call);
	json_reader_free(reader);
}

/* "customer + TEXT": holds a report to a line; false when it is no such line. */
static bool hold(struct reports *reports, const char *line, const char *title)
{
	for (int i = 0; i < PAPER_READER_COUNT; i++) {
		const char *key = paper_reader_key((enum paper_reader)i);
		size_t length = strlen(key);
		if (strncmp(line, key, length) != 0 || line[length] != ' ')
			continue;
		char sign = line[length + 1];
		const char *wanted = line + length + 3;
		ck_assert_msg((sign == '+' || sign == '-') && *wanted, "%s: %s", title, line);
		if (!reports->are_built)
			build(reports, title);
		bool found = strstr(text_get(&reports->texts[i]), wanted) != NULL;
		ck_assert_msg(found == (sign == '+'), "%s\n  the %s's report %s: %s\n%.3000s", title, key,
		              found ? "says" : "does not say", wanted, text_get(&reports->texts[i]));
		return true;
	}
	return false;
}

/* Holds the reports to the statement with that number. */
static void try_statement(int number)
{
	FILE *file = fopen(path, "r");
	char line[LINE_BYTES], title[LINE_BYTES] = "";
	struct reports reports;
	int at = -1, held = 0;

	ck_assert_msg(file != NULL, "%s", path);
	reports_init(&reports);
	while (fgets(line, sizeof line, file)) {
		ck_assert_msg(strchr(line, '\n') != NULL, "too long: %s", line);
		line[strcspn(line, "\n")] = '\0';
		if (*line == '=') {
			at++;
			snprintf(title, sizeof title, "%s", line);
		} else if (at != number || !*line || *line == '#') {
			continue;
		} else if (*line == '{' || *line == ' ') {
			text_add(&reports.json, line);
		} else if (strcmp(line, "units si") == 0) {
			reports.units = UNITS_SI;
		} else {
			ck_assert_msg(hold(&reports, line, title), "not understood: %s", line);
			held++;
		}
	}
	fclose(file);
	reports_done(&reports);
	ck_assert_msg(held > 0, "statement %d: nothing is asked of it", number);
}

START_TEST(what_the_reports_must_and_must_not_say)
{
	try_statement(_i);
}
END_TEST

START_TEST(there_are_enough_statements_and_none_is_left_out)
{
	FILE *file = fopen(path, "r");
	char line[LINE_BYTES];
	int count = 0;

	ck_assert_ptr_nonnull(file);
	while (fgets(line, sizeof line, file))
		count += *line == '=';
	fclose(file);
	ck_assert_int_ge(count, FEWEST_STATEMENTS);
	ck_assert_int_le(count, MOST_STATEMENTS);
}
END_TEST

Suite *reports_suite(void)
{
	Suite *suite = suite_create("reports");
	TCase *tests = tcase_create("statements");
	FILE *file = fopen(path, "r");
	char line[LINE_BYTES];
	int count = 0;

	while (file && fgets(line, sizeof line, file))
		count += *line == '=';
	if (file)
		fclose(file);
	tcase_add_loop_test(tests, what_the_reports_must_and_must_not_say, 0, count);
	tcase_add_test(tests, there_are_enough_statements_and_none_is_left_out);
	suite_add_tcase(suite, tests);
	return suite;
}
